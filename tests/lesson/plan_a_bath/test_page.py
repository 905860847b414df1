"""The planner's page: no permission, nothing strong measured out, words that hold (laws)."""

import ast
import html
import re
from pathlib import Path

import nbclient
import nbformat
import numpy as np
import pytest
from helpers.amounts import amounts, told_in
from helpers.sentences import long_sentences, words_in
from helpers.workshop import INPUTS, POUR, REFUSED, USED_BATH
from nbconvert import HTMLExporter

from pcbchem.bench.plan.planning import Plan, for_class
from pcbchem.bench.plan.steps import pours
from pcbchem.lesson import trust
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_words import words
from pcbchem.lesson.plan_a_bath import example
from pcbchem.page.widget import panel
from pcbchem.page.widget.panel import Panel

NOTEBOOK = Path(__file__).parents[3] / "notebooks" / "00_plan_a_bath.ipynb"
MOST_WORDS, MOST_TO_READ_IT = 1500, 180
"""Words of the page, and of the section right under its panel."""
STUFF = re.compile(
    r"\d\s*(m[lL]|[lL]|litres?|mm|cm|cm²|cm3|fl\.? ?oz|drops?|spoons?|g|grams?)\b"
    r"|\b(mL|litre|cm²)\b"
)
"""How much or how large anything is."""
BEFORE = "Under 18 only with an adult who knows these chemicals; never alone."
PERMISSIONS = ("is safe", "you may mix", "you can mix", "may be mixed", "is allowed", "may be used")


@pytest.fixture(scope="module")
def page(ran_page):
    """The page as it is, after Run All Cells."""
    return ran_page("00_plan_a_bath.ipynb")


@pytest.fixture(scope="module")
def school_page(ran_page):
    """The page as a teacher sets it for a class."""
    return ran_page("00_plan_a_bath.ipynb", school=True)


def everything(cells):
    """All that a reader of these cells sees or hears, source and outputs."""
    return "\n".join(f"{cell.source}\n{cell.words}" for cell in cells)


def prose(page):
    """The text of the page."""
    text = "\n".join(cell.source for cell in page.cells if cell.kind == "markdown")
    # what a copy without a kernel leaves out is marked, and read here as it stands
    return re.sub(r"</?span[^>]*>", "", text)


def by_heading(page, heading):
    """Cells from a second-level heading to the next one; each stands at the head of its cell."""
    starts = []
    for place, cell in enumerate(page.cells):
        if cell.kind == "markdown" and re.search(r"^## ", cell.source, re.M):
            assert cell.source.startswith("## "), "a heading in the middle of a cell"
            starts.append(place)
    first = next(i for i in starts if page.cells[i].source.startswith(f"## {heading}"))
    last = min((i for i in starts if i > first), default=None)
    return page.cells[first:last]


def test_law_undiluted_part_measures_nothing_out(page):
    part = by_heading(page, "Undiluted")
    text = everything(part)
    assert "Do not mix" in part[0].source and "Do not mix: a curve to learn from" in text
    assert "share of foil" in text.lower()
    assert not STUFF.search(text), STUFF.search(text)
    assert "planned(" not in text, "a plan that is not refused knows its volumes"


def test_law_refused_part_measures_nothing_out(page, refused):
    """Nor how much bath there is for the copper: parts alone."""
    part = by_heading(page, "Refused")
    text = everything(part)
    assert [cell.kind for cell in part] == ["markdown", "code", "code", "markdown"]
    assert "**Do not mix this.**" in text and "do not mix. A curve to learn from" in text
    assert "more of the same bath for the copper" in text, "the change that helps"
    assert not STUFF.search(re.sub(r"[\d.]+\u00a0?\s?cm²", "", part[0].source + part[-1].source))
    assert refused.change is not None
    assert (REFUSED["parts"], REFUSED["mL_per_cm2"]) == ((3, 1, 1), 0.83)
    table = refused.to_frame().to_string()
    for said in (text, str(refused), table, *words(refused, "Bath")):
        assert not POUR.search(said), POUR.search(said)


@pytest.mark.parametrize("said", ["pour 50 mL", "4 cm² of foil", "a litre", "25 ml"])
def test_stuff_is_recognised(said):
    assert STUFF.search(said)


@pytest.mark.parametrize("said", ["pour 50 mL", "2.5 US fl oz", "25 ml", "three parts in 1 L"])
def test_an_amount_to_pour_is_recognised(said):
    assert POUR.search(said)


def test_amounts_of_a_plan_are_recognised(mild):
    assert POUR.search(str(mild)) and POUR.search(mild.to_frame().to_string())
    assert not POUR.search("1.9 mL per cm² instead of 0.83; 0.82 g on 27 cm²")


def test_law_a_page_set_for_a_class_shows_no_amount(school_page, page):
    assert len(school_page.cells) == len(page.cells)
    for cell in school_page.cells:
        assert amounts(cell.words) == [] and "mL" not in cell.words, cell.id
    of_class, own = (each.cell["planner"].value for each in (school_page, page))
    assert of_class.headline == own.headline == "Mix it."
    assert of_class.readout == own.readout


# Whoever saves, prints or exports the page has other bottles by the time it is read


def still_of(cell):
    """What stands for a cell's output where there is no kernel."""
    if isinstance(cell.value, Panel):
        forms = cell.value.still_forms().values()
        return re.sub(r"base64,[A-Za-z0-9+/=]+", "", "\n".join(forms))
    return cell.words


OUTPUTS = [
    "planner",
    "doubtful-figure",
    "refused",
    "refused-figure",
    "two-portions",
    "topped-up",
    "undiluted-curve",
    "back",
]


@pytest.fixture(scope="module")
def saved_page():
    """The page run in a kernel and saved with all that a notebook keeps, its widgets' state too."""
    page = nbformat.read(NOTEBOOK, as_version=4)
    nbclient.NotebookClient(page, timeout=300, resources={"metadata": {"path": "."}}).execute()
    return page


def text_of_outputs(cell):
    """What a cell's outputs hold in words, of any media type."""
    bundles = [output["data"] for output in cell.outputs if "data" in output]
    texts = [str(value) for data in bundles for kind, value in data.items() if "image" not in kind]
    texts += [output.get("text", "") for output in cell.outputs]
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", "\n".join(texts))


@pytest.mark.parametrize("name", OUTPUTS)
def test_law_no_output_holds_an_amount(page, name):
    assert amounts(still_of(page.cell[name])) == []


def test_law_these_are_all_outputs(page):
    assert [cell.id for cell in page.cells if cell.kind == "code"] == OUTPUTS


def test_law_no_saved_output_holds_an_amount(saved_page):
    code = {cell.id: cell for cell in saved_page.cells if cell.cell_type == "code"}
    texts = {name: text_of_outputs(code[name]) for name in OUTPUTS}
    assert all(texts.values())
    assert {name: amounts(text) for name, text in texts.items() if amounts(text)} == {}


def test_law_the_saved_state_of_the_widgets_holds_no_amount(saved_page):
    (states,) = saved_page.metadata["widgets"].values()
    told, bytes_of = told_in(states["state"])
    assert "no amounts stand on a printed page" in told, "the planner is among them"
    assert amounts(told) == [] and bytes_of == []


def test_law_nbconvert_of_the_page_writes_no_amount(saved_page):
    """Its text, code and outputs; the state of its widgets, a script, has its own test."""
    text, _ = HTMLExporter(template_name="lab").from_notebook_node(saved_page)
    body = text[text.index("<body") :]
    plain = re.sub(r"<script.*?</script>|<style.*?</style>|base64,[\w+/=]+", "", body, flags=re.S)
    assert "What will this mixture do to my board?" in plain and "do not mix" in plain
    assert amounts(plain) == [] and "mL" not in plain


def test_law_a_planted_amount_is_seen():
    """In any text that an output keeps, printed or shown."""
    for output in (
        nbformat.v4.new_output("display_data", {"text/markdown": "pour 75 mL"}),
        nbformat.v4.new_output("stream", text="75 mL"),
    ):
        assert amounts(text_of_outputs(nbformat.v4.new_code_cell(outputs=[output])))


def test_law_the_code_of_the_page_holds_no_amount(page):
    """Nor any input from which one would follow: sizes stand in the package's examples."""
    code = "\n".join(cell.source for cell in page.cells if cell.kind == "code")
    assert not re.search(r"mL|per_cm2|\d{2}", code)
    text = prose(page)
    assert amounts(text.replace("17 g/L", "")) == [] and "mL" not in text and "cm²" not in text


def test_law_the_example_does_not_know_the_readers_inputs(page, mild, doubtful, refused):
    """The reader's bath was another when these cells ran: they show the workshop's all the same."""
    assert (
        page.cell["doubtful-figure"].value.alt
        == (words(for_class(doubtful), "With an old bottle")[1])
    )
    assert (
        page.cell["refused-figure"].value.alt == (words(for_class(refused), "Too little bath")[1])
    )
    times = example("all fresh").run.time_to_clear
    assert np.array_equal(times, mild.run.time_to_clear)
    first = [cell.id for cell in page.cells].index("part-with-a-doubtful-bottle")
    code = "\n".join(cell.source for cell in page.cells[first:] if cell.kind == "code")
    names = {node.id for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Name)}
    assert "example" in names and not names & {"planner", "SCHOOL"}


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("planner", "Mix it."),
        ("refused", "**Do not mix this.**"),
        ("two-portions", "mix it"),
        ("topped-up", "mix it"),
    ],
)
def test_page_gives_its_verdicts(page, cell, said):
    assert said in page.cell[cell].words


def test_law_page_gives_no_permission(page):
    first = page.cells[0].source
    assert "**The verdict is no permission.** Its rules are common practice or our own" in first
    assert "Your local rules come first" in first
    text = everything(page.cells).lower()
    for permission in PERMISSIONS[:-1]:
        assert permission not in text, permission


def test_law_cautions_stand_once_and_none_by_hand(page, mild):
    text = prose(page)
    panel_words = html.unescape(page.cell["planner"].words)
    outputs = html.unescape("\n".join(cell.words for cell in page.cells))
    assert len(mild.cautions) > 20
    for caution in mild.cautions:
        assert panel_words.count(caution.words) == outputs.count(caution.words) == 1, caution.topic
        assert caution.words not in text, caution.topic
    assert text.index("> **Caution.**") < 500


def test_nobody_is_named_where_nobody_may_mix(page):
    said = page.cell["refused"].words
    assert "Goggles, open air or a fume cupboard do not make it safe." in said
    assert BEFORE not in said and "cautions below" not in said


def test_a_used_bath_has_the_planners_conditions(page):
    conditions = pours(planned(**INPUTS, used_bath=USED_BATH)).split("\n")[0]
    for condition in (
        "stood open for days",
        "is at air temperature",
        "shows no bubbles",
        "test strip",
    ):
        assert condition in conditions
    text = page.cell["portions-read"].source
    assert conditions in text and PERMISSIONS[-1] not in text


def test_a_plan_can_be_opened_as_the_page_says(page, mild, tmp_path, monkeypatch):
    """What the planner's button saves, opened in Python."""
    text = page.cell["part-find-the-leanest"].source
    (code,) = re.findall(r"```python\n(.*?)```", text, re.S)
    opening = next(line for line in code.splitlines() if "Plan.open" in line)
    monkeypatch.chdir(tmp_path)
    (planner,) = page.panels.values()
    (tmp_path / "bath.json").write_text(planner.file, encoding="utf-8")
    names = {"Plan": Plan}
    exec(opening, names)
    assert isinstance(names["bath"], Plan) and not POUR.search(planner.file)
    assert np.array_equal(names["bath"].run.time_to_clear, mild.run.time_to_clear)
    assert set(re.findall(r"\w+\.json", text)) == {"bath.json"}


def test_what_the_page_imports_is_there(page):
    text = page.cell["part-find-the-leanest"].source
    lines = re.findall(r"^from pcbchem.*$", text, re.M)
    assert len(lines) == 3
    exec("\n".join(lines), {})


def test_the_page_names_the_buttons_and_the_file_of_the_panel(page):
    scripts = Path(panel.__file__).parent.glob("*.js")
    front = "\n".join(path.read_text(encoding="utf-8") for path in scripts)
    text = page.cell["part-find-the-leanest"].source
    for label in ("Save these inputs as a file", "Open a saved file"):
        assert label in front and label in text
    (planner,) = page.panels.values()
    assert planner.file_name == "bath.json" and "`bath.json`" in text


# Claims of the text in words rather than figures


def stretch(band):
    """Slow end over fast end [-]."""
    return float(band.high / band.low)


def test_prose_doubts_do_not_simply_add_up(doubtful):
    widths = [np.log(stretch(d)) for d in doubtful.doubts if d.name in ("peroxide", "model")]
    whole = np.log(stretch(doubtful.bands["time_to_clear"]))
    assert max(widths) < whole < sum(widths)
    assert doubtful.doubts[0].name == "peroxide", "the widest doubt rules"
    assert doubtful.doubts[-1].drop < 0.05 * whole, "a small one hardly shows"


def test_prose_of_the_workshops_bottles(mild, doubtful):
    assert mild.bands["oxygen"].middle > 5, "many times the volume of the bath itself"
    assert doubtful.cautions == mild.cautions, "those for the workshop's bottles"


def test_prose_of_the_refused_bath(mild, refused):
    fast = np.mean(refused.bands["time_to_clear"].values < 30)
    assert fast < 0.05, "hardly one within half a minute"
    assert refused.reasons[0].rule == "hot while etching", "not harmless"
    assert len(refused.cautions) > len(mild.cautions), "bottles with cautions of their own"
    assert len(refused.law) == 2 and not mild.law


def test_prose_two_portions_help_a_little(mild):
    names = ("all at once", "half of it after 1 min", "half of it after 3 min")
    once, two, late = (example(name) for name in names)
    once, two = once.bands, two.bands
    assert two["time_to_clear"].middle > 1.05 * once["time_to_clear"].middle, "a slower bath"
    assert {reason.rule for reason in late.reasons} >= {"second portion into a warm bath"}
    far = two["etching_peak"].high - mild.bands["etching_peak"].high
    assert far > 5, "twice the bath cools far more"


def test_prose_peroxide_left_in_a_used_bath_makes_it_hotter():
    half, none = "half of it used", "half of it used, no peroxide left in it"
    some, gone = example(half).bands, example(none).bands
    assert some["time_to_clear"].middle < gone["time_to_clear"].middle
    for peak in ("etching_peak", "standing_peak"):
        assert some[peak].middle > gone[peak].middle


def test_prose_of_what_is_told_and_untold(page):
    """The six facts as the page tells them, and the guesses."""
    outcomes = {fact: row["how it came out"] for fact, row in trust.leave_one_out().items()}
    missed = [fact for fact, words in outcomes.items() if "miss" in words]
    assert len(outcomes) == 6 and missed == ["undiluted", "3 : 1 : 1", "strong layer"]
    assert outcomes["undiluted"].startswith("a miss")
    assert sum("at the edge" in words for words in outcomes.values()) == 2
    counts = {status: row["how many"] for status, row in trust.statuses().items()}
    assert 2 * counts["assumed"] > sum(counts.values()), "more than half are guessed"
    text = page.cell["evidence"].source
    assert "Six observations" in text and "More than half of the model's numbers" in text


# What stands where


def test_the_first_screen_is_title_caution_and_panel(page):
    """No code to be seen: the panel comes straight after the title."""
    first, second = page.cells[:2]
    assert "\n#" not in first.source and first.source.count("> **") == 2
    assert second.id == "planner" and "Run All Cells" in first.source


def test_every_cell_of_code_is_folded(page):
    assert all(cell.folded for cell in page.cells if cell.kind == "code")


def test_law_the_page_is_short(page):
    """And no sentence is longer than a breath."""
    assert len(prose(page).split()) <= MOST_WORDS
    assert words_in(page.cell["reading"].source) <= MOST_TO_READ_IT
    text = re.sub(r"```.*?```", "", prose(page), flags=re.S)
    assert long_sentences(text) == []


def test_the_page_says_how_its_tray_is_moved(page):
    """And why the tray of the next page is not."""
    text = prose(page)
    assert "12 % peroxide, rocked." in text and "a still tray, so that no hand stirs" in text
    assert example("all fresh").inputs.tray.agitation == "rocked"


def test_law_the_first_screen_says_which_acid(page):
    """Battery and drain acid are sulfuric."""
    first = page.cells[0].source
    assert "The acid is **hydrochloric**" in first and "sulfuric: never with peroxide" in first
    for head in ("**mix it**", "**mix it, with care**", "**do not mix this**"):
        assert head in first, head


def test_law_no_number_says_how_much_peroxide_is_left(page):
    """How fast it decays is not known: only a test strip knows what is left."""
    text = prose(page)
    assert "The bath may still hold most of its peroxide after a day; only" in text
    assert not re.search(r"\d+ (to \d+ )?% of (its|the) peroxide (is|are|may be) left", text)
    code = "\n".join(cell.source for cell in page.cells if cell.kind == "code")
    assert "peroxide_left" not in code


def test_words_are_explained_right_under_the_panel(page):
    after = page.cells[2].source
    for word in ("*plausible baths*", "**Reserve.**", "*resist*", "*offcut*"):
        assert word in after, word


def test_the_page_leads_on(page):
    for name in ("04_why_water_slows_it.ipynb", "04b_how_sure_is_it.ipynb", "what_if.ipynb"):
        assert f"({name})" in prose(page), name
    assert page.cells[-1].value.link_words == "Back up to the planner"
