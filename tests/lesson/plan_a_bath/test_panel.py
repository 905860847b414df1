"""The planner's panel says the plan, names what is wrong, keeps files; no amount if refused."""

import html
import json
import re
from pathlib import Path

import pytest
from helpers.amounts import amounts
from helpers.plan_pictures import words_in
from helpers.plans import is_shown
from helpers.workshop import INPUTS, POUR, USED_CONTROLS

from pcbchem.bench import plan as plans
from pcbchem.bench.hazards.caution import LAYERS, cautions, method_cautions
from pcbchem.bench.hazards.words import safety
from pcbchem.bench.plan import files
from pcbchem.bench.plan.words import does
from pcbchem.common.limits import InputError
from pcbchem.common.number_words import capitalised
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_picture import build
from pcbchem.lesson.bath.plan_words import words
from pcbchem.lesson.form import fields
from pcbchem.lesson.form.wishes import WISHES
from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.what_if import panel as what_if
from pcbchem.page.widget import panel
from pcbchem.page.widget.controls import PanelWords, all_controls

FIRST_EDITION = Path(__file__).parents[2] / "bench" / "plan" / "first_edition"
STRONG = {"acid": 31, "peroxide": 32.5, "water_parts": 3, "total": 22.4}
OTHERS = {
    "place": "GB",
    "peroxide_in": "volume strength",
    "peroxide": 40,
    "acid_sure": "between",
    "acid_low": 9,
    "acid_to": 11,
    "foil": 0.5,
    "air": 15,
    "bottles": 25,
    "agitation": "still",
    "facing": "down",
    "tray_width": 120,
    "tray_length": 90,
    "used_bath": 40,
    "held_back": 25,
    "held_until": 2,
}
TANK = {"facing": "upright", "tray_width": 90, "tray_length": 30}
HEADS = {
    "mix it": "Mix it.",
    "with care": "Mix it, with care:",
    "do not mix": "Do not mix this.",
}


@pytest.fixture(scope="module")
def shown():
    """The panel as a page drives it: its pictures take longest."""
    widget = planner.planner()
    yield widget
    panel.PANELS.pop(widget.title)


@pytest.fixture
def say(monkeypatch):
    """What the panel says with some values changed, without a picture."""
    monkeypatch.setattr(planner, "show", lambda drawing, plan, name: drawing)

    def said(**changed):
        return planner.say(None, **planner.starts() | changed)

    return said


def plan_with(**changed):
    return planner.plan_of(planner.starts() | changed)


def everything(said):
    """All that a panel says, as a reader sees it."""
    parts = " ".join((said.headline, said.readout, said.head, said.alt, said.notes, said.wrong))
    return html.unescape(re.sub(r"<[^>]+>", " ", parts))


def without_pictures(text):
    """Markup without the bytes of its pictures."""
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)


def drawn_title(widget):
    """What stands over the panel's picture."""
    return widget.drawings[widget.narrow].parts["head"].get_text()


# It shows the plan


def test_it_starts_with_the_workshops_bath(shown):
    usual = files.text_of(planned(**INPUTS).inputs)
    assert files.text_of(planner.plan_of(shown.values).inputs) == usual
    assert shown.file == usual and shown.receives == PLANNER_PAGE


def test_law_the_panel_shows_what_it_says(shown):
    said = shown.redraw(**fields.STARTS | STRONG)
    for name in ("headline", "readout", "head", "alt", "notes", "wrong"):
        assert getattr(shown, name) == getattr(said, name), name
    assert shown.png.startswith(b"\x89PNG")
    # when the board is clear, and the verdict, stand beside it: nothing is said twice
    assert drawn_title(shown).startswith("Curves to learn from.") and "clear" not in drawn_title(
        shown
    )


@pytest.mark.parametrize("changed", [{}, STRONG, {"peroxide": 30, "water_parts": 3}])
def test_law_what_is_said_is_the_plan(say, changed):
    """Verdict, sentence, head and notes hold the plan; the verdict and every caution once.

    Nobody stands at the tray of a refused bath, or has one afterwards.
    """
    said, plan = say(**changed), plan_with(**changed)
    name = planner.NAME if changed else planner.SHOP
    assert said.alt == words(plan, name)[1]
    course, text = does(plan).replace("**", ""), everything(said)
    # nobody reads a time before the reason of a refusal
    if plan.refused:
        assert said.readout.startswith(f"{capitalised(plan.reasons[0].words)}.")
        assert said.readout.endswith(f"And more reasons, below: {len(plan.reasons) - 1}.")
    else:
        assert said.readout == course
    assert course in text
    assert said.headline == HEADS[plan.verdict] and text.count(said.headline) == 1
    for reason in plan.reasons:
        assert reason.words[1:] in text and reason.source in text
    assert len(plan.cautions) > 20
    for caution in plan.cautions:
        assert text.count(caution.words) == is_shown(caution, plan), caution.topic
    for line in plan.law:
        assert line.words in everything(PanelWords("", "", head=said.head))
    assert "What you breathe: nobody has measured chlorine and mist." in said.head


def test_untouched_it_names_the_workshops_bath_first(say):
    """Before anything else of it is read: nobody may take it for their own."""
    said = say()
    head = everything(PanelWords("", "", said.head))
    first = "The workshop's bath, as this page starts: equal parts of acid 10 % and peroxide 12 %"
    assert head.strip().startswith(first) and "Not your inputs." in head
    assert head.index(first) < POUR.search(head).start()
    assert said.alt.startswith("The workshop's bath: clear in")
    assert "This bath" not in everything(said)


@pytest.mark.parametrize("changed", [{}, {"total": 151}, STRONG])
def test_law_what_stands_without_a_kernel_is_a_class_s_plan(shown, changed):
    """The workshop's, whatever was entered: its reader has other bottles by then."""
    shown.redraw(**fields.STARTS | changed)
    kept = shown.readout, drawn_title(shown)
    data = shown.still_forms()
    still = html.unescape(without_pictures(data["text/html"]))
    assert still.index("Mix it.") < still.index(planner.SCHOOL) < still.index("Under 18")
    assert "alt=\"The workshop's bath: clear in" in still
    for text in (still, html.unescape(data["text/plain"])):
        assert amounts(text) == [] and "This bath" not in text
    assert (shown.readout, drawn_title(shown)) == kept, "the page keeps what it shows"


@pytest.mark.parametrize("changed", [{"total": 151}, {"place": "GB"}, STRONG])
def test_only_the_starting_bath_is_called_the_workshops(say, changed):
    said = say(**changed)
    assert "workshop" not in everything(said) and said.alt.startswith("This bath: ")


def test_a_plan_is_worked_out_once(shown, monkeypatch):
    calls, plan_from = [], fields.plan_from
    planner.plan_once.cache_clear()
    monkeypatch.setattr(fields, "plan_from", lambda values: calls.append(1) or plan_from(values))
    shown.redraw(**fields.STARTS | {"total": 151})
    assert len(calls) == 1
    per_area = json.loads(shown.file)["inputs"]["bath_per_area_m"]
    assert per_area == pytest.approx(151e-6 / 27e-4)


# Cautions and refusals


@pytest.mark.parametrize("changed", [{"total": 151}, {"acid": 25, "water_parts": 3}, {}])
def test_law_the_safety_line_comes_before_any_amount(say, changed):
    """Nothing that is read before it measures anything out."""
    said = say(**changed)
    line = re.search("<strong>(.*?)</strong>", said.head)[1].replace("\u00a0", " ")
    for caution in ("Under 18", "goggles", "Outdoors", "order", "45 °C"):
        assert caution in line, caution
    assert line == safety(False)
    before = everything(PanelWords(said.readout, "", said.head, headline=said.headline))
    before = before.replace("\u00a0", " ")
    assert before.index("45 °C lift the board out") < POUR.search(before).start()


def test_law_all_cautions_before_a_bottle_is_opened_lead_the_notes(say):
    """Before anything else that the notes say of tray or amounts."""
    notes = everything(PanelWords("", "", notes=say().notes))
    first = [caution for caution in plan_with().cautions if caution.layer == 1]
    assert len(first) == 7
    last = max(notes.index(caution.words) for caution in first)
    assert last < notes.index(LAYERS[2])
    assert not POUR.search(notes[:last])


def unfolded(text):
    """Markup without what is folded away, in however many folds."""
    fold = re.compile(r"<details>(?:(?!<details>).)*?</details>", re.S)
    while fold.search(text):
        text = fold.sub("", text)
    return text


@pytest.mark.parametrize("changed", [{}, STRONG])
def test_law_only_what_is_looked_up_is_folded(say, changed):
    """First aid is read by somebody in a hurry: four layers stand open, the last one is folded."""
    said, plan = say(**changed), plan_with(**changed)
    open_words = everything(PanelWords("", "", notes=unfolded(said.notes)))
    layers = set()
    for caution in plan.cautions:
        if not is_shown(caution, plan):
            continue
        assert (caution.words in open_words) == (caution.layer < 5), caution.topic
        layers.add(caution.layer)
    assert layers == ({1, 4, 5} if plan.refused else {1, 2, 3, 4, 5})
    assert said.notes.count("<details>") == said.notes.count("</details>") > 1


def test_law_cautions_of_an_offcut_stand_where_it_is_offered(say):
    """Nobody etches an offcut in a bath that is refused."""
    mild, refused = (everything(said) for said in (say(), say(**STRONG)))
    assert "Etch an offcut first" in mild and "offcut" not in refused
    for caution in method_cautions("offcut"):
        assert caution.words in mild and caution.words not in refused, caution.topic


def test_law_layers_stand_in_the_order_of_the_bench(say):
    said = say()
    notes = said.notes
    places = [notes.index(f"<strong>{LAYERS[number]}</strong>") for number in (1, 2, 3, 4)]
    assert places == sorted(places)
    assert notes.index(f"<summary>{LAYERS[5]}") > places[-1]
    steps = [said.head.index(words) for words in ("Under 18", "<ol>", "Look first")]
    assert steps == sorted(steps), "see to, pour, look"


def test_cautions_are_those_of_the_bottles(say):
    plan = plan_with(**STRONG)
    assert plan.cautions == cautions(plan.inputs.acid, plan.inputs.peroxide, "elsewhere")
    weak = {caution.words for caution in plan_with().cautions}
    graded = [caution for caution in plan.cautions if caution.words not in weak]
    assert {caution.layer for caution in graded} >= {1, 5}, "graded by strength"


@pytest.mark.parametrize(
    ("place", "law"),
    [
        ("GB", r"Your acid of 31 % is above the 10 % .* in Great Britain .* Check the current"),
        (
            "elsewhere",
            r"Your acid of 31 %: ask locally; the strictest rule we know is at most 10 % .* Check",
        ),
        ("US", ""),
    ],
)
def test_law_what_one_may_hold_is_a_line_of_its_own(say, place, law):
    """Beside the verdict: it is no part of it, and what would help is still said."""
    strong = {"acid": 31, "water_parts": 3, "total": 200}
    said, plan = say(**strong, place=place), plan_with(**strong, place=place)
    head = everything(PanelWords("", "", head=said.head))
    assert bool(plan.law) == bool(law) and re.search(law, head)
    assert plan.verdict == plan_with(**strong, place="EU").verdict == "with care"
    assert "without a licence" not in " ".join(reason.words for reason in plan.reasons)


def test_a_refused_bath_is_nobodys(say):
    said, plan = say(**STRONG), plan_with(**STRONG)
    line = "Goggles, open air or a fume cupboard do not make it safe."
    assert said.headline == "Do not mix this."
    head = everything(PanelWords("", "", said.head)).strip()
    assert head.startswith(line) and head.index(line) < head.index(plan.reasons[0].words[1:])
    usual = "Under 18 only with an adult who knows these chemicals; never alone."
    assert usual not in everything(said) and usual in everything(say())
    assert line not in everything(say())


def test_a_bath_that_only_would_not_do_the_job_is_said_so(say):
    """Without peroxide nothing happens: that is no harm, and no amounts either."""
    said = everything(say(peroxide_parts=0))
    head = "This bath would not do the job, so no amounts are given."
    assert said.strip().startswith(head) and "Do not mix this" not in said


def test_cautions_of_a_refused_bath_are_for_the_bottles(say):
    said = say(**STRONG)
    assert "The cautions below are for the bottles alone." in said.head
    assert "For the bottles you hold" in said.notes
    opening = "Before you open a bottle"
    assert opening not in everything(said) and opening in everything(say())
    assert "Pour only in the order shown" not in everything(said)


@pytest.mark.parametrize(
    "changed",
    [
        STRONG,
        {"peroxide_parts": 0},
        {"peroxide": 3, "total": 12},
        STRONG | USED_CONTROLS | {"used_bath": 30},
        STRONG | {"held_back": 50},
    ],
)
def test_law_refused_has_no_amount(say, changed):
    """Head, sentence, alternative, notes, tables and file: parts and mL per cm², no amount."""
    said, plan = say(**changed), plan_with(**changed)
    assert plan.refused
    for text in (everything(said), planner.file_of(**fields.STARTS | changed)):
        assert not POUR.search(text), POUR.search(text)


def test_law_a_refused_panel_kept_without_a_kernel_has_no_amount(shown):
    """Nor its picture."""
    shown.redraw(**fields.STARTS | STRONG)
    still = without_pictures(shown.still_forms()["text/html"])
    assert not POUR.search(still) and not POUR.search(shown.file)
    for narrow in (False, True):
        drawing, _ = shown.picture_and_words(narrow)
        assert not POUR.search(words_in(drawing))


def test_an_amount_would_be_found(say):
    assert POUR.search(everything(say()))
    assert "mL per cm² of bare copper instead of" in say(**STRONG).head


# What is wrong with an input


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"total": 0}, r"Bath in all = 0 cannot be: it must be above 0 to 1e\+06 mL$"),
        ({"total": 0.2}, "Bath in all: mL per cm² .* cannot be: it must be 0.01 to 1000 mL/cm²$"),
        ({"acid": 46}, "Acid: value = 46 cannot be: it must be 0 to 45 in % by weight of HCl$"),
        ({"bare": 0}, "Bare copper = 0 cannot be: it must be above 0 to 100 %$"),
        (
            {"peroxide_sure": "between", "peroxide_low": 13},
            "Peroxide: lowest = 13 cannot be: it must be at most highest = 12$",
        ),
        ({"tray_width": 90}, "Tray: give both its width and its length, or leave both blank$"),
        (
            {"tray_width": 50, "tray_length": 50},
            "Tray: a tray of 50 × 50 mm cannot be: a board of 75 × 60 mm does not lie in it$",
        ),
        (
            {"facing": "upright"},
            "Tray: an upright board stands in a tank: give the tank's width and length$",
        ),
        (
            {"foil": 0},
            "Copper foil = 0 cannot be: it must be above 0 to 16 oz/ft²; 1 oz is about 35 µm$",
        ),
        (
            {"used_bath": 50} | USED_CONTROLS | {"used_acid": 3},
            r"A used bath: acid = \(3, 1.4\) mol/L cannot be: the lowest must be at most the high",
        ),
        (
            {"used_bath": 50} | USED_CONTROLS | {"used_acid_to": None, "used_peroxide": None},
            "A used bath: fill in what yours holds: its acid, at most; its peroxide, at least$",
        ),
        (
            {"water_parts": 0, "acid_parts": 0, "peroxide_parts": 0},
            r"Parts = \(0, 0, 0\) is nothing to pour: one of them must be above 0 to 1e\+06$",
        ),
    ],
)
def test_a_wrong_input_is_named_in_the_pages_words(say, changed, said):
    wrong = say(**changed)
    assert re.match(said, wrong.wrong), wrong.wrong
    assert not re.search(r"\w_\w", wrong.wrong), "no name of the program's own"
    assert not (wrong.head or wrong.notes or wrong.headline) and wrong.wrong in wrong.alt
    assert wrong.row is None and wrong.looks is None, "nothing to keep, no clock"


def test_the_first_of_several_wrong_inputs_is_named(say):
    """In the order in which a person meets them at the bench: board, tray, bath, bottles."""
    wrong = {"acid": 46, "total": 0, "foil": 0}
    for label, name in (("Copper foil", "foil"), ("Bath in all", "total"), ("Acid", "acid")):
        assert say(**wrong).wrong.startswith(label)
        del wrong[name]


def test_nothing_of_the_last_plan_stands_beside_a_wrong_input(shown):
    before = shown.redraw(**fields.STARTS)
    said = shown.redraw(**fields.STARTS | {"total": 0})
    assert shown.wrong == said.wrong and before.alt not in said.alt
    assert not (shown.headline or shown.head or shown.notes or shown.file)
    assert shown.row is None and shown.looks is None


def test_law_a_used_bath_is_not_planned_until_all_of_it_is_said(say):
    """Nobody else's leftovers: each of the six fields starts blank and is asked for by its name."""
    for name in USED_CONTROLS:
        control = fields.ROWS[name].control
        said = say(**{"used_bath": 50} | USED_CONTROLS | {name: None})
        assert control.start is None
        assert said.wrong == f"A used bath: fill in what yours holds: {control.label}"
    assert not say(**{"used_bath": 50} | USED_CONTROLS).wrong
    assert not say(**{"used_bath": 0} | USED_CONTROLS | {"used_acid": None}).wrong, (
        "not used: not asked for"
    )


def test_law_a_wrong_corner_is_said_in_the_pages_words(shown, mild, monkeypatch):
    """At each end of each control, and at corners by chance; others can be drawn: test_pages."""
    monkeypatch.setattr(plans, "planned", lambda inputs: mild)  # the checks of the fields alone
    wrong, right = [], 0
    for corner in shown.corners():
        try:
            right += bool(plan_with(**corner))
        except InputError as error:
            wrong.append(planner.page_words(error))
    planner.plan_once.cache_clear()
    assert len(wrong) > 10 and right > 30
    for said in wrong:
        assert said.split(":")[0].split(" =")[0] in fields.LABELS.values(), said
        assert not re.search(r"[a-z]_[a-zA-Z]|impossible|such as", said), said


def test_any_other_error_comes_out(monkeypatch):
    """Only what is wrong with an input is said; a fault of the program is let out."""
    monkeypatch.setattr(planner, "show", lambda *parts: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        planner.say(None, **fields.STARTS)
    monkeypatch.setattr(fields, "plan_from", lambda values: {}["planted"])
    with pytest.raises(KeyError, match="planted"):
        planner.say(None, **fields.STARTS | {"total": 177})


# Files


@pytest.mark.parametrize("changed", [{}, OTHERS | USED_CONTROLS, STRONG, TANK])
def test_law_what_is_saved_comes_back(changed):
    """Equal inputs, number by number, and values that can be read."""
    kept = planner.file_of(**fields.STARTS | changed)
    values, remark = planner.opened(kept)
    assert remark == "", "it is of today"
    again = planner.file_of(**values)
    assert json.loads(again)["inputs"] == json.loads(kept)["inputs"]
    for name, value in values.items():
        if not name.startswith("peroxide"):  # volumes come back as % by weight
            assert not isinstance(value, float) or value == round(value, 9), name


def test_a_file_opens_on_the_page(shown):
    shown.redraw(**fields.STARTS | TANK | {"total": 150})
    kept = shown.file
    shown.redraw(**fields.STARTS | {"total": 133})
    shown.opened, shown.asked = kept, shown.asked + 1
    assert shown.failure is None and not shown.error and shown.file == kept
    assert (shown.values["total"], shown.values["facing"]) == (150, "upright")


def test_law_a_file_of_the_first_edition_is_said_to_be_one(shown):
    """Above the verdict that was made anew; gone with the next change; not written back."""
    text = (FIRST_EDITION / "used_bath.json").read_text(encoding="utf-8")
    shown.opened, shown.asked = text, shown.asked + 1
    assert shown.failure is None and not shown.error
    remark = "This file is from the first edition: its verdict was made anew by today's rules."
    assert shown.remark == remark
    assert shown.headline == HEADS[planner.plan_of(shown.values).verdict]
    assert shown.values["used_bath"] == 40 and shown.values["place"] == "EU"
    assert files.inputs_from_text(shown.file).edition == 2
    shown.values, shown.asked = shown.values | {"air": 21}, shown.asked + 1
    assert not shown.remark and shown.headline


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("empty", "is not a plan of this package"),
        ("no JSON", "is not JSON that can be read"),
        ("edited", "was changed after it was saved"),
        ("draws", "draws = 3, seed = 0 have no field here"),
        ("parts", "have no field here, where each is at most 100"),
    ],
)
def test_a_foreign_file_is_refused_with_its_reason(shown, foreign, name, why):
    """And it changes nothing on the page."""
    values, picture = dict(shown.values), shown.png
    shown.opened, shown.asked = foreign[name], shown.asked + 1
    assert why in shown.error and "Traceback" not in shown.error and shown.failure is None
    assert shown.values == values and shown.png == picture


@pytest.fixture(scope="module")
def foreign():
    """Texts of files that the page cannot open."""
    usual = planned(**INPUTS, draws=3).inputs
    own = files.text_of(usual.replace(draws=200))
    return {
        "empty": "{}",
        "no JSON": "no JSON",
        "edited": own.replace('"elsewhere"', '"GB"'),
        "draws": files.text_of(usual),
        "parts": files.text_of(usual.replace(draws=200, parts=(101, 1, 1))),
    }


# Rows kept beside each other


def test_law_what_is_kept_of_a_plan_is_that_plan(say):
    """Its bottles and parts, no wish of a search, and nothing that was worked out."""
    row = say(total=151).row
    assert set(row) == set(fields.STARTS) and row["total"] == 151
    assert planner.plan_of(row) is plan_with(total=151)


def test_rows_are_counted_by_what_a_search_is_asked(say):
    rows = [say().row, say(**STRONG).row]
    wishes = {"window_from": 2, "window_to": 5, "hottest": 35}
    page, text, lost = planner.rows_beside(rows, planner.starts() | wishes)
    assert "clear in 2.0 to 5.0 min, 35 °C or colder" in page and lost == []
    assert "(mL)" in text and "wanted (of 100)" in text


def test_law_a_class_s_rows_hold_no_amount_whoever_kept_them(say):
    of_class = planner.say(build(), **planner.starts(school=True)).row
    rows = [say().row, of_class]
    page, text, lost = planner.rows_of_class(rows, planner.starts(school=True))
    assert lost == [] and amounts(without_pictures(page)) == [] and "mL" not in text
    page, text, _ = planner.rows_beside([of_class], planner.starts())
    assert "(mL)" not in text and amounts(without_pictures(page)) == [], "nor elsewhere"


# Fields


def test_fields_are_named_with_their_units(shown):
    # acid is a bottle's under one heading, and so many parts under another
    labels = [(group.legend, item.label) for group in planner.groups() for item in group.controls]
    assert len(set(labels)) == len(labels) > len(shown.controls)
    for control in shown.controls:
        assert len(control.label) <= 24, control.label
        strength = control.name.removesuffix("_to").removesuffix("_low") in fields.SUBSTANCES
        assert hasattr(control, "options") or control.unit or strength


def test_the_planner_takes_values_within_its_limits_only(shown):
    assert {c.high for c in shown.controls if c.name.endswith("_parts")} == {100}
    with pytest.raises(ValueError, match="water_parts"):
        shown.redraw(**fields.STARTS | {"water_parts": 101})


def test_what_is_rarely_used_is_folded():
    assert [group.folded for group in planner.groups()] == [False] * 3 + [True] * 4


# The way to the map


def test_law_the_map_gets_this_bench_and_stands_on_this_mixture():
    """Also where it is refused: the map shows the way out."""
    handed = planner.handed_to_map(**planner.starts() | STRONG)
    assert (handed["water"], handed["acid_of_rest"]) == (60, 50), "3 : 1 : 1"
    assert handed["per_cm2"] == pytest.approx(22.4 / 27, rel=1e-3)
    assert handed["acid"] == 31 and handed["board_width"] == 75 and "planner" in handed["why"]
    assert planner.handed_to_map(**planner.starts() | {"total": 0}) == {}


def test_law_the_map_knows_what_it_is_handed():
    """All that the two pages ask for alike, and its own three."""
    asked = {control.name for control in all_controls(what_if.groups())}
    handed = set(planner.handed_to_map(**planner.starts()))
    assert {
        "per_cm2",
        "water",
        "acid_of_rest",
        "acid",
        "peroxide_in",
        "foil",
        "air",
    } <= handed & asked
    assert not asked - handed - {"drawn"} - {field.name for field in WISHES}


def test_law_rows_of_a_class_are_told_apart_by_how_much_bath_they_are():
    """In times the workshop's, also those that were kept with an amount."""
    rows = [fields.STARTS, fields.STARTS | {"total": 45}]
    shown, _, _ = planner.rows_of_class(rows, {})
    assert "1: 1 × usual" in shown and "2: 0.3 × usual" in shown
    assert not POUR.search(re.sub(r"base64,[^\"]+", "", shown))
