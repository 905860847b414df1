"""Laws of every page: it runs, its panels stand every corner, each number of its text is claimed.

The notebooks themselves run in a kernel, under nbval or in JupyterLab; here the same cells run once
in this process, where a warning is an error.
"""

import dataclasses
import functools
import html
import json
import re
from pathlib import Path
from types import SimpleNamespace

import nbformat
import pytest
from helpers.permissions import permissions
from helpers.workshop import POUR

from pcbchem.lesson import pages
from pcbchem.lesson.form import fields
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.what_if import maps
from pcbchem.page.claims import run_claims, unclaimed
from pcbchem.page.export.export import heading
from pcbchem.page.picture import Picture

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
CLAIMS = NOTEBOOKS / "claims"
PAGES = sorted(path.name for path in NOTEBOOKS.glob("*.ipynb"))
PANELS = {
    "00_plan_a_bath.ipynb": 1,
    "01_what_is_in_the_bottle.ipynb": 2,
    "02_acid_into_water.ipynb": 2,
    "03_where_the_copper_goes.ipynb": 3,
    "04_why_water_slows_it.ipynb": 3,
    "04b_how_sure_is_it.ipynb": 3,
    "05_warm_baths.ipynb": 2,
    "06_weak_peroxide.ipynb": 2,
    "07_when_to_lift_it_out.ipynb": 3,
    "08_test_an_offcut.ipynb": 2 + 3,
    "09_what_goes_into_the_air.ipynb": 2,
    "10_after_the_last_board.ipynb": 2,
    "11_developer_and_tin.ipynb": 2,
    "what_if.ipynb": 1,
}
"""How many panels each page shows."""
NO_POURS = re.compile(
    r"above [13] L\b|grams in 100 mL|1\u00a0L of (this|10\u00a0%) acid"
    # gas of a test for one's own bottle, and what it is counted by
    r"|1 mL of shop peroxide, 3 %, never stronger|\d+ mL (of gas|your bottle|the page)"
    r"|22\.414 L of gas|\b(20|1)\u00a0L of oxygen"
    # readings of a bottle that a question gives
    r"|took [\d.]+\u00a0mL of that|From 1\u00a0mL of that|[\d.]+\u00a0mL of oxygen"
    r"|is 24\u00a0L here|[\d.]+\u00a0mL ÷ 24\u00a0L/mol|mmol in 1\u00a0mL"
    # a label of volumes of oxygen
    r"|1\u00a0L of (it gives off [\d.]+\u00a0L of oxygen|this peroxide)"
    r"|gas is [\d.]+\u00a0L on such labels|[\d.]+\u00a0L ÷ [\d.]+\u00a0L/mol"
    # a spill to be thought of, and water alone to be weighed
    r"|100\s+mL of (it|that acid) spilt|10\s+mL spilt|water only.*150\s+mL in a flat dish"
    # what a board carries into clean water, and that water
    r"|carries [\d.]+\u00a0mL of used|dish of \d+\u00a0mL of clean|[\d.]+ = [\d.]+\u00a0mL, or "
    r"[\d.]+\u00a0L|"
    # a developer that stands unused, its strength by hand, and what a board carries into tin
    r"of lye \(NaOH\) into 120\smL of water|In 120\smL: 37|100\smL of tin bath"
    r"|g of lye in \d+\smL|÷ 1000 = [\d.]+\sL|both faces are [\d.]+\smL"
    r"|carries [\d.]+\smL of etching|fresh dish of \d+\smL"
    r"|clung to it is spread over \d+\smL|film of bath becomes \d+\smL"
)
"""Limits of rules, what a label means, the litre that a question weighs, gas, a spill and water:
nothing is poured into a bath."""
SHORT = "what_if.ipynb"
"""A page that is its panel and how to read it: it shows and says less than a lesson."""
FEW = 8
"""Plausible baths of a sweep: a corner that raises does so with any number of them."""


@pytest.fixture(scope="module", params=PAGES)
def page(request, ran_page):
    return ran_page(request.param)


@pytest.fixture
def few_baths(monkeypatch):
    """The planner with few plausible baths, so that eighty plans take seconds."""
    monkeypatch.setattr(fields, "plan_from", functools.partial(fields.plan_from, draws=FEW))
    monkeypatch.setattr(maps, "QUICK", FEW)
    monkeypatch.setattr(maps, "FULL", FEW)
    monkeypatch.setattr(maps, "STEPS", 10)
    planner.plan_once.cache_clear()
    yield
    planner.plan_once.cache_clear()


def prose(page):
    """All that a page's author has written for its reader: the text, the questions, the replies."""
    texts = [cell.source for cell in page.cells if cell.kind == "markdown"]
    for cell in page.cells:
        texts += written(cell.value)
    return unlinked("\n".join(texts).replace("\u00a0", " "))


def written(value):
    """What an author has written into what a cell shows: of a panel, what it notes afterwards."""
    if getattr(value, "prediction", None) is not None:
        notes = value.picture_and_words(False, predicted="-")[1].notes
        return [html.unescape(re.sub(r"<[^>]+>", "", notes))]
    texts = [getattr(value, name, "") for name in ("question", "told", "text")]
    for name in ("options", "reasons"):
        for choice in getattr(value, name, {}).values():
            # an answer may be its words alone
            texts += [getattr(choice, "words", choice), getattr(choice, "reply", "")]
    return texts


def unlinked(text):
    """A text without the addresses of its links."""
    return re.sub(r"\]\([^)]*\)", "]", text)


OWN_BENCH = "Your own bench"
"""How the titles of the panels begin that no class sees."""


def words_in(said):
    """List all texts of what a panel says, in whatever they stand."""
    if isinstance(said, str):
        return [said]
    if dataclasses.is_dataclass(said):
        said = vars(said)
    if isinstance(said, dict):
        said = [part for pair in said.items() for part in pair]
    if isinstance(said, list | tuple):
        return [words for part in said for words in words_in(part)]
    return []


def sweep(panel):
    """Draw and say a panel at every corner, at every eighth narrow too, with every prediction."""
    guesses = [None]
    if panel.prediction is not None:
        guesses = [None, "-", *panel.prediction.options]
    settings = [(corner, guesses[-1]) for corner in panel.corners()]
    settings += [({}, guess) for guess in guesses]
    for number, (corner, guess) in enumerate(settings):
        values = corner if panel.prediction is None else {**corner, "predicted": guess}
        for narrow in (False, True) if number % 8 == 0 else (False,):
            drawing, said = panel.picture_and_words(narrow, **values)
            assert said.readout and len(said.alt) > 60, corner
            assert permissions("\n\n".join(words_in(said))) == [], corner
            # pixels take longest: a picture that cannot be drawn cannot be laid out either
            assert number % 20 or drawing.png().startswith(b"\x89PNG")
    return len(settings)


def test_the_planner_is_a_page():
    assert pages.PLANNER_PAGE in PAGES


def test_law_notebooks_link_only_to_pages_that_are_there():
    for name in PAGES:
        text = (NOTEBOOKS / name).read_text(encoding="utf-8")
        assert set(re.findall(r"\((\d\w+\.ipynb)\)", text)) <= set(PAGES)


def test_law_a_page_shows_something(page):
    assert len([cell for cell in page.cells if cell.value is not None]) >= (
        2 if page.name == SHORT else 5
    )


def test_law_every_page_has_its_claims_and_makes_none(page):
    """A claim on a page would stand there for its readers, in grey."""
    assert sorted(path.stem for path in CLAIMS.glob("*.py")) == [Path(name).stem for name in PAGES]
    code = [cell.source for cell in page.cells if cell.kind == "code"]
    assert not any(re.search(r"\bclaims?\b", source) for source in code)


def test_law_every_panel_stands_every_corner_of_its_controls(page, few_baths):
    assert len(page.panels) == PANELS[page.name]
    for title, panel in page.panels.items():
        shown = [cell for cell in page.cells if cell.value is panel]
        assert len(shown) == 1, title
        assert sweep(panel) > 2, title


def test_law_a_page_loads_no_pandas(page):
    """It costs each reader of a class 20 MB or more; the tables of a page do without it."""
    assert "matplotlib" in page.libraries, "what a page imports while it runs is seen"
    assert "pandas" not in page.libraries


def test_law_an_error_at_one_corner_is_seen(ran_page, monkeypatch):
    """The planted fault: the last control of a panel raises at its far end."""
    panel = ran_page("04_why_water_slows_it.ipynb").panels["Water and time"]
    control, show = panel.controls[-1], panel.show

    def raising(drawing, **values):
        assert values[control.name] != control.ends[-1], "planted"
        return show(drawing, **values)

    monkeypatch.setattr(panel, "show", raising)
    with pytest.raises(AssertionError, match="planted"):
        sweep(panel)


def test_law_a_permission_at_one_corner_is_seen(ran_page, monkeypatch):
    """The planted fault: one note of a panel permits a drain."""
    panel = ran_page("04_why_water_slows_it.ipynb").panels["Water and time"]
    show = panel.show

    def permitting(drawing, **values):
        said = show(drawing, **values)
        under_fields = {panel.controls[-1].name: "Then it may go down the drain."}
        return dataclasses.replace(said, under_fields=under_fields)

    monkeypatch.setattr(panel, "show", permitting)
    with pytest.raises(AssertionError, match="a drain"):
        sweep(panel)


def test_law_no_page_permits_what_nobody_may_permit(page):
    """Nothing that it shows or says as it comes; `laws/test_permissions.py` reads files."""
    texts = [words for cell in page.cells for words in (cell.words, *written(cell.value))]
    assert [each for text in texts for each in permissions(text)] == []


def test_law_every_number_of_the_text_is_claimed(page, claimed_by):
    text, claimed = prose(page), [unlinked(phrase) for phrase in claimed_by(page.name)]
    assert len(claimed) > (10 if page.name == SHORT else 15)
    assert [phrase for phrase in claimed if phrase not in text] == []
    assert unclaimed(text, claimed) == []
    assert unclaimed(f"{text} in 7 min", claimed), "a new number must be noticed"


def test_law_a_wrong_claim_is_an_error(tmp_path):
    """The planted fault: what a phrase is held against is another number."""
    source = (CLAIMS / "00_plan_a_bath.py").read_text(encoding="utf-8")
    limit = 'LIMITS["second portion too early"]'
    assert source.count(limit) == 1
    file = tmp_path / "claims.py"
    file.write_text(source.replace(limit, f"1.2 * {limit}"), encoding="utf-8")
    with pytest.raises(AssertionError, match="for at least 60 s: 60 is not 72"):
        run_claims(file)


def test_law_what_waits_for_an_answer_is_text_too():
    """Answers, reasons, replies and what comes afterwards: a number there is claimed as well."""
    choice = SimpleNamespace(words="9 min", reply="No: 28 min.")
    question = SimpleNamespace(question="1?", options={"a": choice, "b": "4 min"}, told="5")
    assert " ".join(written(question)) == "1? 5  9 min No: 28 min. 4 min "
    assert written(SimpleNamespace(text="77, not 10")) == ["", "", "77, not 10"]
    assert not any(written(None))


def test_law_no_answer_is_stored(page):
    """What the page asks is computed: no cell holds a number that answers a question."""
    for cell in json.loads((NOTEBOOKS / page.name).read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            assert not cell["outputs"] and "answer" not in "".join(cell["source"]), cell["id"]


def everything(page):
    """All that its reader sees or hears, and what its panels hand to other pages."""
    texts = [cell.source for cell in page.cells if cell.kind == "markdown"]
    texts += [cell.words for cell in page.cells]
    return "\n".join([*texts, *(str(panel.handed) for panel in page.panels.values())])


@pytest.mark.parametrize("name", PAGES)
def test_law_where_the_variable_of_a_class_is_set_no_page_pours(name, ran_page):
    """It is run a second time for that, in the kernel of the first: every page can be."""
    at_first, of_class = ran_page(name), ran_page(name, school=True)
    # a class has no bench of its own
    lesson = {title for title in at_first.panels if not title.startswith(OWN_BENCH)}
    assert set(of_class.panels) == lesson, "all are made anew"
    assert not set(map(id, of_class.panels.values())) & set(map(id, at_first.panels.values()))
    text = NO_POURS.sub("", everything(of_class))
    found = POUR.search(text)
    assert not found, text[found.start() - 60 : found.end() + 20]
    assert not any(panel.links or panel.file for panel in of_class.panels.values())


def test_law_without_the_variable_the_planner_pours_and_others_lead_to_it(ran_page):
    """So the law of a class sees what it should."""
    assert POUR.search(NO_POURS.sub("", everything(ran_page(PAGES[0]))))
    lesson = ran_page("04_why_water_slows_it.ipynb")
    assert any(panel.links for panel in lesson.panels.values())


def test_law_a_page_is_called_by_its_heading():
    """An app shows it on the tab, and in its list of pages."""
    for name in PAGES:
        page = nbformat.read(NOTEBOOKS / name, as_version=4)
        assert page.metadata["title"] == heading(page, "none"), name


def test_law_how_to_run_a_page_is_marked():
    """Where all cells have run beforehand, as in an app, these words are hidden."""
    for name in PAGES:
        first = nbformat.read(NOTEBOOKS / name, as_version=4).cells[0].source
        assert re.search(r'<span class="[^"]*\bpcbchem-run\b[^"]*">Choose \*+Run\*+', first), name


def test_law_every_picture_of_a_page_has_its_words(page):
    pictures = [cell.value for cell in page.cells if isinstance(cell.value, Picture)]
    words = [picture.alt for picture in pictures]
    words += [panel.alt for panel in page.panels.values()]
    assert words and all(len(alt) > 60 for alt in words)
    for picture in pictures:
        shown = picture._repr_html_()
        assert shown.count("<img") == shown.count(' alt="') == 1
