"""The planner's page runs, claims every number of its text, and measures out nothing strong (laws)."""

import ast
import copy
import html
import re
from pathlib import Path

import nbformat
import numpy as np
import pytest
from helpers.workshop import BENCH, INPUTS, KEPT, POUR, REFUSED

from pcbchem.bench.plan.planning import Plan
from pcbchem.bench.plan.steps import tray
from pcbchem.common import tables
from pcbchem.lesson import trust as summary
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.plan_a_bath import words as outcome
from pcbchem.lesson.plan_a_bath.fields import planned
from pcbchem.page.widget import panel

PAGE = Path(__file__).parents[3] / "notebooks" / "00_plan_a_bath.ipynb"
VOLUME = re.compile(
    r"\d\s*(m[lL]|[lL]|litres?|mm|cm|cm²|cm3|fl\.? ?oz|drops?|spoons?|g|grams?)\b|\b(mL|litre|cm²)\b"
)
OTHERS = {
    "tray_width": 300,
    "tray_length": 200,
    "foil": 0.5,
    "acid": 31,
    "place": "GB",
    "bottles": 30,
    "air": 5,
}


@pytest.fixture(scope="module")
def stored():
    return nbformat.read(PAGE, as_version=4)


@pytest.fixture(scope="module")
def ran(ran_page):
    """The page as it is, after Run All Cells."""
    return ran_page(PAGE.name)


@pytest.fixture(scope="module")
def other(stored, run_page):
    """The page after Run All Cells with some of the planner's fields changed, and then a claim that is wrong."""
    page = copy.deepcopy(stored)
    planner = cell(page, "planner")
    assert planner.source.endswith("\nplan_a_bath.planner()")
    planner.source = planner.source.removesuffix("plan_a_bath.planner()") + (
        f"bath = plan_a_bath.planner()\nbath.redraw(**{OTHERS!r})\nbath"
    )
    right = cell(page, "claims-fields").source
    assert right.count("1000 * DEPTH") == 1
    return run_page(page, wrong=right.replace("1000 * DEPTH", "1200 * DEPTH"))


def cell(page, name):
    """A cell by its name."""
    return next(c for c in page.cells if c.id == name)


def spoken(cells):
    """Everything that a reader of these cells sees or hears, source and outputs, without the bytes of pictures."""
    found = []
    for given in cells:
        found.append(given.source)
        for output in given.get("outputs", []):
            found.append(output.get("text", ""))
            found += [
                text for kind, text in output.get("data", {}).items() if kind.startswith("text")
            ]
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", "\n".join(found))


def by_heading(page, heading):
    """Cells from a second-level heading to the next one; each stands at the head of its cell."""
    starts = [
        i
        for i, c in enumerate(page.cells)
        if c.cell_type == "markdown" and re.search(r"^## ", c.source, re.M)
    ]
    assert all(page.cells[i].source.startswith("## ") for i in starts), (
        "a heading in the middle of a cell"
    )
    first = next(i for i in starts if page.cells[i].source.startswith(f"## {heading}"))
    return page.cells[first : next((i for i in starts if i > first), None)]


def test_stored_without_outputs_and_in_short_cells(stored):
    for one in stored.cells:
        if one.cell_type == "code":
            assert not one.outputs and one.execution_count is None, one.id
            assert len(one.source.splitlines()) <= 15, one.id


def test_runs_without_an_error_or_a_warning(ran):
    outputs = [o for c in ran.cells for o in c.get("outputs", [])]
    assert len(outputs) >= 10
    for output in outputs:
        assert output.output_type != "error", output
        assert output.get("name") != "stderr", output


def test_law_undiluted_part_measures_nothing_out(ran):
    part = by_heading(ran, "Undiluted")
    text = spoken(part)
    assert "Do not mix" in part[0].source and "Do not mix: a curve to learn from" in text
    assert "share of foil" in text.lower()
    assert not VOLUME.search(text), VOLUME.search(text)
    assert "planned(" not in text, "a plan that is not refused knows its volumes"


def test_law_refused_part_measures_nothing_out(ran, refused):
    """Only how much bath there is for the copper: parts and mL per cm²."""
    part = by_heading(ran, "Refused")
    text = spoken(part)
    assert [c.cell_type for c in part] == ["markdown", "code", "code", "markdown"]
    assert "**Do not mix.**" in text
    assert "do not mix. A curve to learn from" in text and "mL per cm²" in text, (
        "the change that helps"
    )
    for words in (
        text,
        str(refused),
        refused.to_frame().to_string(),
        *outcome.words(refused, "Bath"),
    ):
        assert not POUR.search(words), POUR.search(words)
    assert (
        REFUSED["parts"] == (3, 1, 1)
        and REFUSED["mL_per_cm2"] == 0.83
        and refused.change is not None
    )


def test_volumes_are_recognised(mild):
    for words in ("pour 50 mL", "4 cm² of foil", "a litre", "25 ml"):
        assert VOLUME.search(words), words
    for words in (
        "pour 50 mL",
        "2.5 US fl oz",
        "25 ml",
        "three parts in 1 L",
        str(mild),
        mild.to_frame().to_string(),
    ):
        assert POUR.search(words), words
    assert not POUR.search("1.9 mL per cm² instead of 0.83; 0.82 g on 27 cm²")


def test_law_the_workshops_parts_do_not_know_the_readers_inputs(stored, ran, other):
    """Whatever the reader enters, everything below their own plan stays as it is; the refused one stays refused."""
    head = [c.id for c in ran.cells].index("part-from-here-on")
    theirs, usual = (cell(page, "planner") for page in (other, ran))
    assert spoken([theirs]).removeprefix(theirs.source) != spoken([usual]).removeprefix(
        usual.source
    ), "the reader's own plan is another"
    below = [
        (was, now)
        for was, now in zip(ran.cells[head:], other.cells[head:], strict=True)
        if was.get("outputs")
    ]
    assert len(below) >= 10
    for was, now in below:
        assert spoken([was]) == spoken([now]), was.id
    text = spoken(by_heading(other, "Refused"))
    assert "**Do not mix.**" in text and not POUR.search(text), POUR.search(text)
    code = "\n".join(c.source for c in stored.cells[head:] if c.cell_type == "code")
    names = {node.id for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Name)}
    assert "usual" in names and not names & {"planner", "bath"}


def output_of(ran, name):
    return spoken([cell(ran, name)])


def test_page_gives_its_verdicts_and_no_permission(ran):
    for name, words in {
        "planner": ">Mix it.</h3>",
        "refused": "**Do not mix.**",
        "mildest": "does it: ",
        "nearest": "does it.** ",
        "two-portions": "mix it",
        "topped-up": "mix it",
    }.items():
        assert words in output_of(ran, name), name
    first = ran.cells[0].source
    assert "**The verdict is no permission.** Its rules are common practice" in first
    assert "Your local rules come first" in first
    assert "**None of " in output_of(ran, "nearest") and "**None of " not in output_of(
        ran, "mildest"
    )
    text = spoken(ran.cells)
    for permission in ("is safe", "you may mix", "you can mix", "may be mixed", "is allowed"):
        assert permission not in text.lower(), permission


def test_no_sentence_permits_a_drain_or_a_closed_bottle(ran):
    """Each sentence, of a drain each clause, with such a word says no, never or nothing, or what comes of it."""
    said = re.split(r"(?<=[.:!?])\s|\n", spoken(ran.cells))
    clauses = [clause for sentence in said for clause in re.split(r"[,;]\s", sentence)]
    for word, least in (("drain", 1), ("bottle it", 0), ("closed", 2), ("close it", 2)):
        found = [
            sentence
            for sentence in (clauses if word == "drain" else said)
            if word in sentence.lower()
        ]
        assert len(found) >= least, word
        for sentence in found:
            assert re.search(r"\b(no|never|nothing|not|burst|rather than)\b", sentence.lower()), (
                sentence
            )


def test_cautions_stand_once_and_are_not_copied_by_hand(ran, stored, mild):
    prose = "\n".join(c.source for c in stored.cells if c.cell_type == "markdown")
    outputs = spoken([c for c in ran.cells if c.cell_type == "code"])
    plan = html.unescape(output_of(ran, "planner"))
    assert len(mild.cautions) > 20
    for caution in mild.cautions:
        assert plan.count(caution.words) == html.unescape(outputs).count(caution.words) == 1, (
            caution.topic
        )
        assert caution.words not in prose, caution.topic
    assert prose.index("> **Caution.**") < 500


def test_inputs_of_the_page_are_those_of_the_tests(stored):
    got = {}
    exec(cell(stored, "shop").source, got)
    assert got["shop"] == {**BENCH, "tray_mm": None} and got["usual"] == {**INPUTS, "tray_mm": None}
    assert "used = (50, 5.5, (1.1, 1.4), (0, 0.2))" in cell(stored, "topped-up").source
    assert KEPT == (50, 5.5, (1.1, 1.4), (0, 0.2))


def test_a_plan_can_be_opened_as_the_page_says(stored, mild, tmp_path, monkeypatch):
    """What the planner's button saves, opened in Python."""
    (again,) = re.findall(r"```python\n(.*?)```", cell(stored, "part-keep-your-plan").source, re.S)
    monkeypatch.chdir(tmp_path)
    made = planner.planner()
    panel.PANELS.pop(made.title)
    (tmp_path / "bath.json").write_text(made.file, encoding="utf-8")
    got = {}
    exec(again.replace("Plan.open", "plan = Plan.open"), got)
    assert isinstance(got["plan"], Plan) and not POUR.search(made.file)
    assert np.array_equal(got["plan"].run.time_to_clear, mild.run.time_to_clear)
    front = (Path(panel.__file__).parent / "panel.js").read_text(encoding="utf-8")
    said = cell(stored, "part-keep-your-plan").source
    for words in ("Save these inputs as a file", "Open a saved file", "bath.json"):
        assert words in front and words in said
    assert set(re.findall(r"\w+\.json", said)) == {"bath.json"}


def loo(fact, end):
    return float(tables.column("leave_one_out", end, fact=fact)[0])


def stretch(band):
    """Slow end over fast end [-]."""
    return float(band.high / band.low)


def test_a_wrong_claim_stops_the_page(other):
    (error,) = other.more["wrong"]
    assert error.output_type == "error" and "10 mm deep: 10 is not 12" in error.evalue


def test_words_in_the_prose_hold(mild, doubtful, refused):
    """Claims made in words rather than figures."""
    assert mild.bands["oxygen"].middle > 5, "many times the volume of the bath itself"
    assert doubtful.cautions == mild.cautions, "those for the workshop's bottles"
    spreads = [np.log(stretch(d)) for d in doubtful.doubts if d.name in ("peroxide", "model")]
    whole = np.log(stretch(doubtful.bands["time_to_clear"]))
    assert max(spreads) < whole < sum(spreads), "doubts do not simply add up"
    assert doubtful.doubts[0].name == "peroxide" and doubtful.doubts[-1].drop < 0.05 * whole, (
        "a small one hardly shows"
    )
    assert np.mean(refused.bands["time_to_clear"].values < 30) < 0.05, (
        "hardly one within half a minute"
    )
    assert refused.reasons[0].rule == "hot while etching", "not harmless"
    assert (
        len(refused.cautions) > len(mild.cautions)
        and refused.cautions[0].topic == "law: your bottle"
    )
    wide = planned(**{**INPUTS, "tray_mm": (300, 200)}).bands["standing_peak"]
    assert wide.high < planned(**{**INPUTS, "tray_mm": (80, 65)}).bands["standing_peak"].high, (
        "a wide tray"
    )
    less = {**INPUTS, "total_mL": 75}
    once, two = planned(**less), planned(**less, second=(50, 3))
    assert two.bands["time_to_clear"].middle > 1.1 * once.bands["time_to_clear"].middle, (
        "for a slower bath"
    )
    assert mild.bands["etching_peak"].high < two.bands["etching_peak"].high - 5, (
        "twice the bath cools far more"
    )
    gone, some = (planned(**INPUTS, kept=kept).bands for kept in (KEPT[:3], KEPT))
    for name, end in (("time_to_clear", -1), ("etching_peak", 1), ("standing_peak", 1)):
        assert end * some[name].middle > end * gone[name].middle, (
            "if some is left: quicker and warmer"
        )
    outcome = {row: words for row, words in summary.leave_one_out()["how it came out"].items()}
    edge, off = "agrees, at the edge", "the middle misses"
    assert [re.split("[(:]", w)[0].strip() for w in outcome.values()] == [
        "a miss",
        off,
        edge,
        off,
        edge,
        edge,
    ]
    assert loo("3 : 1 : 1", "middle") < 60 and 4.0 < loo("strong film", "middle") < 4.4, (
        "too fast; a little high"
    )
    for fact, edge in (("weak, 2.5 %", 1200), ("weak film", 0.35), ("ratio of the films", 11.4)):
        assert loo(fact, "middle") == pytest.approx(edge, rel=0.02), "at the edge of what was seen"
    counts = summary.statuses()["how many"]
    assert counts.idxmax() == "assumed" and counts.sum() == len(tables.read("parameters"))


def test_words_about_the_search_hold(ran, mild):
    """Least acid and peroxide, yet not the coolest: the usual bath is cooler, and holds more for the copper."""
    found = output_of(ran, "mildest")
    warmest = re.search(
        r"While etching they reach (\d+) to (\d+) °C".replace(" ", r"[ \u00a0]"), found
    )
    assert float(warmest[2]) > mild.bands["etching_peak"].high - 273.15 + 2, (
        "the usual bath stays cooler"
    )
    bath = re.search(r"([\d.]+) mL per cm²".replace(" ", r"[ \u00a0]"), found)
    assert float(bath[1]) * 27 < 150, "with more of both"


def test_the_first_screen_is_title_question_caution_and_panel(stored):
    """No code to be seen: every cell but the two searches is folded, and the panel comes straight after the title."""
    first, second = stored.cells[:2]
    assert (
        first.source.count("\n#") == 0
        and first.source.count("> **") == 2
        and second.id == "planner"
    )
    assert "Run All Cells" in first.source
    code = [c for c in stored.cells if c.cell_type == "code"]
    shown = [c.id for c in code if not c.metadata.get("jupyter", {}).get("source_hidden")]
    assert shown == ["mildest", "nearest"]
    prose = [c.source for c in stored.cells if c.cell_type == "markdown"]
    assert sum(len(words.split()) for words in prose) < 1900, "short"


AMOUNT = re.compile(r"\d\s*(mL|US fl oz)\b(?! per cm²)")
BEFORE = "Under 18 only with an adult who knows these chemicals; never alone."


def test_law_no_amount_stands_before_who_and_where(ran):
    """One output copied, one part printed: who, never alone, goggles, apron, air and the 45 °C come before the mL."""
    for name in ("mildest", "nearest"):
        said = output_of(ran, name)
        start = AMOUNT.search(said).start()
        for words in (
            BEFORE,
            "apron",
            "fume cupboard",
            "Pour only in the order shown",
            "At 45 °C take the board out.",
        ):
            assert said.index(words) < start, (name, words)
    part = by_heading(ran, "With a doubtful bottle")
    names = [one.id for one in part]
    assert BEFORE in output_of(ran, "doubtful") and not AMOUNT.search(output_of(ran, "doubtful"))
    assert AMOUNT.search(output_of(ran, "doubtful-figure")) and names.index(
        "doubtful"
    ) < names.index("doubtful-figure")
    refused = output_of(ran, "refused")
    assert (
        "Nobody mixes this" in refused and BEFORE not in refused and "cautions below" not in refused
    )


def test_a_used_bath_has_the_planners_conditions_word_for_word(stored):
    said = tray(planned(**INPUTS, kept=KEPT).inputs)
    conditions = said[said.index("Use again only") :].strip()
    for words in ("stood open for days", "is at room temperature", "shows no bubbles"):
        assert words in conditions
    prose = cell(stored, "portions-read").source
    assert conditions in prose and "may be used" not in prose


def test_words_are_explained_right_under_the_panel(stored):
    after = stored.cells[2].source
    for words in ("*plausible baths*", "*reserve*", "*resist*", "*offcut*"):
        assert words in after, words
    assert "(04_why_water_slows_it.ipynb)" in after


def test_every_choice_of_the_planner_is_explained(stored):
    """Words of the page and words of the fields are the same ones."""
    page = cell(stored, "fields").source.lower()
    for words in (
        "as labelled",
        *list(planner.SURE.values())[1:],
        "% by weight",
        "°baumé",
        "volumes",
        "% w/v",
        "great britain",
        "whose rules",
        "tray",
        "copper foil",
        "a used bath, topped up",
        "peroxide in two portions",
    ):
        assert words.lower() in page, words
    folded = [group.legend.lower() for group in planner.groups() if group.folded]
    assert all(legend in page for legend in folded[1:])
