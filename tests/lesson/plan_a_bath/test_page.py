"""The planner's page: no permission, nothing strong measured out, words that hold (laws)."""

import ast
import html
import re
from pathlib import Path

import numpy as np
import pytest
from helpers.sentences import long_sentences
from helpers.workshop import BENCH, INPUTS, POUR, REFUSED, USED_BATH

from pcbchem.bench.plan.planning import Plan
from pcbchem.bench.plan.steps import pours
from pcbchem.common import tables
from pcbchem.lesson import trust
from pcbchem.lesson.bath import choices, fields, planned
from pcbchem.lesson.bath.plan_words import words
from pcbchem.page.widget import panel
from pcbchem.reaction.bath.plausible import FACTS
from pcbchem.reaction.bath.reported import reports

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
    """Only how much bath there is for the copper: parts and mL per cm²."""
    part = by_heading(page, "Refused")
    text = everything(part)
    assert [cell.kind for cell in part] == ["markdown", "code", "code", "markdown"]
    assert "**Do not mix this.**" in text and "do not mix. A curve to learn from" in text
    assert "mL per cm²" in text, "the change that helps"
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
    """Only the table of rules says a volume, as the limit that it is."""
    assert len(school_page.cells) == len(page.cells)
    for cell in school_page.cells:
        words = cell.words
        if cell.id == "rules":
            words = words.replace("above 1 L", "").replace("above 3 L", "")
        assert not POUR.search(words) and "mL" not in words, (cell.id, POUR.search(words))
    for name in ("planner", "doubtful-figure", "leanest", "nearest"):
        assert POUR.search(page.cell[name].words), name
    verdict = page.cell["planner"].value.head.partition("<h3")[2]
    assert verdict.partition("<p>")[0] in school_page.cell["planner"].value.head


def test_law_the_example_does_not_know_the_readers_inputs(page, mild, doubtful, refused):
    """The reader's bath was another when these cells ran: they show the workshop's all the same."""
    assert page.cell["doubtful-figure"].value.alt == words(doubtful, "With an old bottle")[1]
    assert page.cell["refused-figure"].value.alt == words(refused, "Too little bath")[1]
    assert np.array_equal(page.names["twice"].run.time_to_clear, mild.run.time_to_clear)
    first = [cell.id for cell in page.cells].index("part-from-here-on")
    code = "\n".join(cell.source for cell in page.cells[first:] if cell.kind == "code")
    names = {node.id for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Name)}
    assert "usual" in names and not names & {"plan_a_bath", "planner", "bath"}


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("planner", ">Mix it.</h3>"),
        ("refused", "**Do not mix this.**"),
        ("leanest", "does it: "),
        ("nearest", "does it.** "),
        ("nearest", "**None of "),
        ("two-portions", "mix it"),
        ("topped-up", "mix it"),
    ],
)
def test_page_gives_its_verdicts(page, cell, said):
    assert said in page.cell[cell].words
    assert "**None of " not in page.cell["leanest"].words


def test_law_page_gives_no_permission(page):
    first = page.cells[0].source
    assert "**The verdict is no permission.** Its rules are common practice or our own" in first
    assert "Your local rules come first" in first
    text = everything(page.cells).lower()
    for permission in PERMISSIONS[:-1]:
        assert permission not in text, permission


def test_law_no_sentence_permits_a_drain_or_a_closed_bottle(page):
    """Each sentence, of a drain each clause, with such a word says no, or what comes of it."""
    sentences = re.split(r"(?<=[.:!?])\s|\n", everything(page.cells))
    clauses = [clause for sentence in sentences for clause in re.split(r"[,;]\s", sentence)]
    for word, least in (("drain", 1), ("bottle it", 0), ("closed", 2), ("close it", 1)):
        parts = clauses if word == "drain" else sentences
        # drain acid is a bottle, not a drain
        about = [part.lower() for part in parts if re.search(f"{word}(?! acid)", part.lower())]
        assert len(about) >= least, word
        for part in about:
            assert re.search(r"\b(no|never|nothing|not|burst|rather than)\b", part), part


def test_law_cautions_stand_once_and_none_by_hand(page, mild):
    text = prose(page)
    panel_words = html.unescape(page.cell["planner"].words)
    outputs = html.unescape("\n".join(cell.words for cell in page.cells))
    assert len(mild.cautions) > 20
    for caution in mild.cautions:
        assert panel_words.count(caution.words) == outputs.count(caution.words) == 1, caution.topic
        assert caution.words not in text, caution.topic
    assert text.index("> **Caution.**") < 500


def test_law_no_amount_stands_before_who_and_where(page):
    """One output copied, one part printed: who, apron, air and the 45 °C come before the mL."""
    for name in ("leanest", "nearest"):
        said = page.cell[name].words
        start = POUR.search(said).start()
        for caution in (
            BEFORE,
            "apron",
            "Outdoors",
            "Pour only in the order shown",
            "At 45 °C lift the board out.",
        ):
            assert said.index(caution) < start, (name, caution)


def test_law_a_picture_with_amounts_stands_after_who_and_where(page):
    names = [cell.id for cell in by_heading(page, "With a doubtful bottle")]
    first, figure = page.cell["doubtful"].words, page.cell["doubtful-figure"].words
    assert names.index("doubtful") < names.index("doubtful-figure")
    assert BEFORE in first and not POUR.search(first) and POUR.search(figure)


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


def test_inputs_of_the_page_are_those_of_the_tests(page):
    assert page.names["shop"] == {**BENCH, "tray_mm": None, "school": False}
    assert page.names["usual"] == {**INPUTS, "tray_mm": None, "school": False}
    assert page.names["used"] == USED_BATH


def test_a_plan_can_be_opened_as_the_page_says(page, mild, tmp_path, monkeypatch):
    """What the planner's button saves, opened in Python."""
    text = page.cell["part-keep-your-plan"].source
    (code,) = re.findall(r"```python\n(.*?)```", text, re.S)
    monkeypatch.chdir(tmp_path)
    (planner,) = page.panels.values()
    (tmp_path / "bath.json").write_text(planner.file, encoding="utf-8")
    names = {}
    exec(code.replace("Plan.open", "plan = Plan.open"), names)
    assert isinstance(names["plan"], Plan) and not POUR.search(planner.file)
    assert np.array_equal(names["plan"].run.time_to_clear, mild.run.time_to_clear)
    assert set(re.findall(r"\w+\.json", text)) == {"bath.json"}


def test_the_page_names_the_buttons_and_the_file_of_the_panel(page):
    scripts = Path(panel.__file__).parent.glob("*.js")
    front = "\n".join(path.read_text(encoding="utf-8") for path in scripts)
    text = page.cell["part-keep-your-plan"].source
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


def test_prose_deeper_and_narrower_it_gets_hotter():
    wide = planned(**INPUTS | {"tray_mm": (300, 200)}).bands["standing_peak"]
    narrow = planned(**INPUTS | {"tray_mm": (80, 65)}).bands["standing_peak"]
    assert wide.high < narrow.high


def test_prose_two_portions_help_a_little(page, mild):
    once, two = (page.names[name].bands for name in ("once", "two"))
    assert two["time_to_clear"].middle > 1.05 * once["time_to_clear"].middle, "a slower bath"
    assert {reason.rule for reason in page.names["late"].reasons} >= {
        "second portion into a warm bath"
    }
    far = two["etching_peak"].high - mild.bands["etching_peak"].high
    assert far > 5, "twice the bath cools far more"


def test_prose_peroxide_left_in_a_used_bath_makes_it_hotter(page):
    some, gone = (page.names[name].bands for name in ("again", "gone"))
    assert some["time_to_clear"].middle < gone["time_to_clear"].middle
    for peak in ("etching_peak", "standing_peak"):
        assert some[peak].middle > gone[peak].middle


def test_prose_of_the_misses():
    facts = trust.leave_one_out().values()
    outcomes = [re.split("[(:]", fact["how it came out"])[0].strip() for fact in facts]
    edge, off = "agrees, at the edge", "the middle misses"
    assert outcomes == ["a miss", off, "the middle agrees", off, edge, edge]
    middles = [float(middle) for middle in tables.column("leave_one_out", "middle")]
    assert middles[1] < 60, "too fast"
    assert 4.0 < middles[3] < 4.4, "a little high"
    assert middles[4:] == pytest.approx([0.35, 11.4], rel=0.02), "two at the edge"


def test_prose_of_the_first_edition_beside():
    """The undiluted mixture and 3 : 1 : 1 are nearer now, the strong layer is worse."""
    facts = trust.leave_one_out().values()
    words = [fact["first edition"].partition(": ")[2] for fact in facts]
    assert (
        words == ["better now"] * 2 + ["inside both times", "worse now"] + ["inside both times"] * 2
    )


def test_prose_one_report_is_met_and_two_are_slower():
    bands = [report.band() for report in reports()]
    met = [report.is_met(band) for report, band in zip(reports(), bands, strict=True)]
    assert met == [True, False, False]
    for report, band in zip(reports()[1:], bands[1:], strict=True):
        assert band.low > report.high


def test_prose_nobody_chose_by_the_weak_layer():
    """Facts that choose have limits; that of the weak layer are open."""
    chosen = [fact.name for fact in FACTS]
    assert len(chosen) == 4 and not any(name.startswith("weak ") for name in chosen)


def test_prose_the_largest_group_is_guessed():
    counts = {status: row["how many"] for status, row in trust.statuses().items()}
    assert max(counts, key=counts.get) == "assumed"
    assert sum(counts.values()) == len(tables.read("parameters"))


def test_prose_the_leanest_keeps_the_hour_after_cool(page, mild):
    """The hour after decides: 1 in 10 of the usual baths exceeds 40 °C in it."""
    best = page.names["best"].plan
    assert best.bands["hour_peak"].high <= 313.15 < mild.bands["hour_peak"].high
    assert best.bands["etching_peak"].high <= 313.15, "while etching too"


# What stands where


def test_the_first_screen_is_title_caution_and_panel(page):
    """No code to be seen: the panel comes straight after the title."""
    first, second = page.cells[:2]
    assert "\n#" not in first.source and first.source.count("> **") == 2
    assert second.id == "planner" and "Run All Cells" in first.source


def test_every_cell_but_the_two_searches_is_folded(page):
    code = [cell for cell in page.cells if cell.kind == "code"]
    assert [cell.id for cell in code if not cell.folded] == ["leanest", "nearest"]


def test_the_page_is_short(page):
    """No longer than in its first edition, and no sentence longer than a breath."""
    assert len(prose(page).split()) < 1900
    assert long_sentences(prose(page)) == []


def test_law_the_first_screen_says_which_acid(page):
    """Battery and drain acid are sulfuric."""
    first = page.cells[0].source
    assert "The acid is **hydrochloric**" in first and "sulfuric: never with peroxide" in first
    for head in ("**mix it**", "**mix it, with care**", "**do not mix this**"):
        assert head in first, head


def test_law_no_number_says_how_much_peroxide_is_left(page):
    """How fast it decays is not known: only a test strip knows what is left."""
    text = prose(page)
    assert "It may still hold most of its peroxide after a day; only a test strip knows." in text
    assert not re.search(r"\d+ (to \d+ )?% of (its|the) peroxide (is|are|may be) left", text)
    code = "\n".join(cell.source for cell in page.cells if cell.kind == "code")
    assert "peroxide_left" not in code


def test_words_are_explained_right_under_the_panel(page):
    after = page.cells[2].source
    for word in ("*plausible baths*", "*reserve*", "*resist*", "*offcut*"):
        assert word in after, word
    assert "(04_why_water_slows_it.ipynb)" in after


def test_every_choice_of_the_planner_is_explained(page):
    """Words of the page and words of the fields are the same ones."""
    text = page.cell["fields"].source.lower()
    for word in (
        "as labelled",
        *list(choices.SURE.values())[1:],
        "% by weight",
        "°baumé",
        "volumes",
        "% w/v",
        "great britain",
        "whose rules",
        "tray",
        "the bath is",
        "10 to 30 tilts a minute",
        "a tilt a second and more",
        "copper foil",
        "a used bath, topped up",
        "peroxide in two portions",
    ):
        assert word.lower() in text, word
    assert all(heading.lower() in text for heading in fields.FOLDED[1:])
