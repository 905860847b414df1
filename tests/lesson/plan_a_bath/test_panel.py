"""The planner's panel: fields mean what `planned` means, wrong ones are named, files come back, refused has no amount.

Laws, each driven as the page drives the panel.
"""

import html
import json
import re

import numpy as np
import pytest
from helpers.workshop import INPUTS

from pcbchem import Board, Foil, Tray
from pcbchem.bench import plan as plans
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.hazards.caution import cautions
from pcbchem.bench.plan import files
from pcbchem.bench.plan.inputs import Inputs, Kept
from pcbchem.bench.plan.planning import Plan
from pcbchem.lesson.plan_a_bath import back_to_fields as refill
from pcbchem.lesson.plan_a_bath import fields
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.plan_a_bath import words as outcome
from pcbchem.page.widget import panel
from pcbchem.page.widget.controls import Said

AMOUNT = re.compile(
    r"\d\s*(m[lL]|[lL]|litres?|cm3|(US )?fl\.? ?oz|drops?|spoons?|cups?)\b(?! per cm²)|\(mL\)|total_mL"
)
STRONG = {"acid": 31, "peroxide": 32.5, "water_parts": 3, "total": 22.4}
OTHERS = {
    "place": "GB",
    "peroxide_in": "volume strength",
    "peroxide": 40,
    "acid_sure": "between",
    "acid": 9,
    "acid_to": 11,
    "foil": 0.5,
    "air": 15,
    "bottles": 25,
    "agitation": "still",
    "facing": "down",
    "tray_width": 120,
    "tray_length": 90,
    "kept": 40,
    "held_back": 25,
    "held_until": 2,
}
USED = {
    "kept_copper": 5.5,
    "kept_copper_to": 5.5,
    "kept_acid": 1.1,
    "kept_acid_to": 1.4,
    "kept_peroxide": 0,
    "kept_peroxide_to": 0.2,
}


@pytest.fixture(scope="module")
def shown():
    made = planner.planner()
    yield made
    panel.PANELS.pop(made.title)


def everything(said):
    """All that a panel says, as a reader sees it."""
    return html.unescape(
        re.sub(
            r"<[^>]+>", " ", " ".join((said.head, said.readout, said.alt, said.notes, said.wrong))
        )
    )


def test_it_starts_with_the_workshops_bath(shown):
    plan = planner.plan_of(shown.values)
    own = fields.planned(**INPUTS)
    assert (
        files.text_of(plan.inputs) == files.text_of(own.inputs)
        and shown.receives == "00_plan_a_bath.ipynb"
    )


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"acid": 12}, {"acid": (12, "%")}),
        ({"acid_sure": "between"}, {"acid": (10, 11, "%")}),
        ({"acid": 20, "acid_in": "degrees Baume"}, {"acid": (20, "°Bé")}),
        ({"peroxide": 40, "peroxide_in": "volume strength"}, {"peroxide": (40, "vol")}),
        ({"water_parts": 2, "acid_parts": 3, "peroxide_parts": 4}, {"parts": (2, 3, 4)}),
        ({"total": 200}, {"total_mL": 200}),
        ({"board_width": 80, "board_height": 50}, {"board_mm": (80, 50)}),
        ({"bare": 30}, {"bare_percent": 30}),
        ({"foil": 2}, {"foil_oz": 2}),
        ({"air": 5}, {"air_C": 5}),
        ({"bottles": 12}, {"bottles_C": 12}),
        ({"agitation": "bubbled"}, {"agitation": "bubbled"}),
        ({"place": "GB"}, {"place": "GB"}),
        (
            {"facing": "upright", "tray_width": 90, "tray_length": 30},
            {"facing": "upright", "tray_mm": (90, 30)},
        ),
        ({"kept": 50} | USED, {"kept": (50, 5.5, (1.1, 1.4), (0, 0.2))}),
        ({"held_back": 50}, {"second": (50, 3)}),
    ],
)
def test_law_a_field_means_what_planned_means(shown, changed, field):
    own = fields.planned(**INPUTS | field)
    assert files.text_of(planner.plan_of(shown.values | changed).inputs) == files.text_of(
        own.inputs
    )


def test_law_what_is_shown_is_the_plan(shown):
    """Head, sentence and notes hold the verdict, every reason and every caution, each caution once."""
    for changed in ({}, STRONG, {"peroxide": 30, "water_parts": 3}):
        said = shown.redraw(**{c.name: c.start for c in shown.controls} | changed)
        plan = planner.plan_of(shown.values)
        name, first = (
            (planner.NAME, "") if changed else ("The workshop's bath", "The workshop's bath. ")
        )
        readout, alt = outcome.words(plan, name)
        assert (said.readout, said.alt) == (first + readout, alt)
        text = everything(said)
        for reason in plan.reasons:
            assert reason.words[1:] in text and reason.source in text
        assert len(plan.cautions) > 20
        for caution in plan.cautions:
            assert text.count(caution.words) == 1, caution.topic
        assert (
            shown.head == said.head and shown.alt == said.alt and shown.png.startswith(b"\x89PNG")
        )
        verdict = {
            "mix it": "Mix it.",
            "with cares": "Mix it with these cares.",
            "do not mix": "Do not mix.",
        }
        assert f">{verdict[plan.verdict]}</h3>" in said.head


def test_only_the_starting_bath_is_called_the_workshops(shown):
    """Untouched, as an exported page keeps it: named before any go-ahead; after one field is changed nowhere."""
    usual = {c.name: c.start for c in shown.controls}
    shown.redraw(**usual)
    data = shown._repr_mimebundle_()[0]
    still, plain = (
        html.unescape(re.sub(r"base64,[A-Za-z0-9+/=]+", "", data[kind]))
        for kind in ("text/html", "text/plain")
    )
    first = "The workshop's bath, as this page starts: not your inputs."
    assert still.index(first) < min(still.index("Mix it."), AMOUNT.search(still).start())
    assert "alt=\"The workshop's bath: clear in" in still and "This bath" not in still + plain
    assert plain.index("The workshop's bath") < plain.index("Mix it.")
    assert drawn_title(shown).startswith("The workshop's bath: clear in")
    for changed in ({"total": 151}, {"place": "GB"}, STRONG):
        said = shown.redraw(**usual | changed)
        assert "workshop" not in everything(said) and drawn_title(shown).startswith(
            "This bath: "
        ), changed


def drawn_title(panel):
    """What stands over the panel's picture."""
    return panel.drawings[panel.narrow].parts["head"].get_text()


def test_a_refused_bath_is_nobodys_and_its_cautions_are_for_the_bottles(shown):
    usual = {c.name: c.start for c in shown.controls}
    said = shown.redraw(**usual | STRONG)
    text = everything(said)
    line = "Nobody mixes this: no adult, goggles, open air or fume cupboard makes it safe."
    assert re.match(r"\s*Do not mix\.\s*" + re.escape(line), text)
    assert (
        "The cautions below are for the bottles alone." in said.head
        and "For the bottles you hold" in said.notes
    )
    assert "Under 18 only with an adult who knows these chemicals; never alone." not in text, (
        "no one may"
    )
    opening = r"Before you open a bottle\s+\(as of"
    assert not re.search(opening, text) and "Pour only in the order shown" not in text
    mild = everything(shown.redraw(**usual))
    assert line not in mild and re.search(opening, mild)


def test_law_a_used_bath_starts_blank_and_is_not_planned_until_all_of_it_is_said(shown):
    """Nobody else's leftovers: each of the six fields left blank is asked for, by its own name."""
    usual = {c.name: c.start for c in shown.controls}
    held = {c.name: c for c in shown.controls if c.name.startswith("kept_")}
    assert set(held) == set(USED) and all(c.start is None for c in held.values())
    for name, control in held.items():
        said = shown.redraw(**usual | {"kept": 50} | USED | {name: None})
        assert (
            said.wrong == f"A used bath: fill in what yours holds: {control.label}"
            and not said.head
        ), name
        assert not shown.file and not said.notes
    assert not shown.redraw(**usual | {"kept": 50} | USED).wrong
    assert not shown.redraw(**usual | {"kept": 0} | USED).wrong, "not used: not asked for"


def test_a_page_takes_at_most_a_hundred_parts(shown):
    """More, from a file, has no field here: it is said, and nothing is clamped."""
    usual = {c.name: c.start for c in shown.controls}
    before = shown.redraw(**usual)
    assert {c.high for c in shown.controls if c.name.endswith("_parts")} == {100}
    many = fields.planned(**INPUTS | {"parts": (101, 1, 1)}).inputs
    shown.opened, shown.asked = files.text_of(many), shown.asked + 1
    assert re.match(r"parts = \(101.*\) have no field here, where each is at most 100", shown.error)
    assert shown.failure is None and shown.readout == before.readout and shown.values == usual
    with pytest.raises(ValueError, match="water_parts"):
        shown.redraw(**usual | {"water_parts": 101})
    assert (
        planner.values_of(fields.planned(**INPUTS | {"parts": (100, 1, 1)}).inputs)["water_parts"]
        == 100
    )


def test_cautions_come_before_any_amount(shown):
    said = shown.redraw(**{c.name: c.start for c in shown.controls})
    first = said.head.index("<strong>")
    line = said.head[first : said.head.index("</strong>")].replace("&nbsp;", " ")
    for word in ("Under 18", "goggles", "open air", "order", "45 °C"):
        assert word in line, word
    assert not AMOUNT.search(said.head), "the head measures nothing out"
    text = everything(Said("", "", notes=said.notes))
    first = [caution for caution in planner.plan_of(shown.values).cautions if caution.first]
    assert max(text.index(caution.words) for caution in first) < AMOUNT.search(text).start()
    folded = re.search(r"<summary>The other (\d+) cautions.*", said.notes, re.S)
    plan = planner.plan_of(shown.values)
    assert int(folded[1]) == sum(not c.first for c in plan.cautions)
    assert all(html.escape(c.words, quote=False) not in folded[0] for c in plan.cautions if c.first)


def test_law_refused_has_no_amount(shown):
    """Nowhere: head, sentence, text alternative, notes, tables, file hold parts and mL per cm², and no amount."""
    usual = {c.name: c.start for c in shown.controls}
    for changed in (
        STRONG,
        {"peroxide_parts": 0},
        {"peroxide": 3, "total": 12},
        STRONG | USED | {"kept": 30},
        STRONG | {"held_back": 50},
    ):
        said = shown.redraw(**usual | changed)
        assert planner.plan_of(shown.values).refused
        for text in (everything(said), shown.file, shown._repr_mimebundle_()[0]["text/html"]):
            text = re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)
            assert not AMOUNT.search(text), AMOUNT.search(text)
    assert "mL per cm² of bare copper instead of" in shown.redraw(**usual | STRONG).head
    assert AMOUNT.search(everything(shown.redraw(**usual))), "an amount would be found"


def test_a_plan_is_worked_out_once(shown, monkeypatch):
    calls = []
    own = fields.planned
    monkeypatch.setattr(fields, "planned", lambda **given: calls.append(given) or own(**given))
    shown.redraw(**{c.name: c.start for c in shown.controls} | {"total": 151})
    assert len(calls) == 1 and json.loads(shown.file)["inputs"]["bath_per_area_m"] == pytest.approx(
        151e-6 / 27e-4
    )


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"total": 0}, "Bath in all = 0 cannot be: it must be above 0 to"),
        ({"total": 0.2}, "Bath in all: "),
        ({"acid": 46}, "Acid: .* 0 to 45 in % by weight"),
        ({"bare": 0}, "Bare copper = 0 .* above 0 to 100 %"),
        (
            {"peroxide_sure": "between", "peroxide": 13},
            "Peroxide: lowest = 13 cannot be: it must be at most highest = 12$",
        ),
        ({"tray_width": 90}, "Tray: give both its width and its length, or leave both blank$"),
        (
            {"tray_width": 50, "tray_length": 50},
            "Tray: a tray of 50 × 50 mm cannot be: a board of 75 × 60 mm does not lie",
        ),
        (
            {"facing": "upright"},
            "Tray: an upright board stands in a tank: give the tank's width and length$",
        ),
        ({"foil": 0}, "Copper foil = 0"),
        (
            {"kept": 50} | USED | {"kept_acid": 3},
            "A used bath: acid = .* the lowest must be at most",
        ),
        (
            {"kept": 50} | USED | {"kept_acid_to": None, "kept_peroxide": None},
            "A used bath: fill in what yours holds: its acid, at most; its peroxide, at least$",
        ),
        ({"water_parts": 0, "acid_parts": 0, "peroxide_parts": 0}, "Parts = .* is nothing to pour"),
    ],
)
def test_a_wrong_input_is_named_in_the_pages_words(shown, changed, words):
    before = shown.redraw(**{c.name: c.start for c in shown.controls})
    said = shown.redraw(**{c.name: c.start for c in shown.controls} | changed)
    assert re.match(words, said.wrong), said.wrong
    assert not re.search(r"\w_\w", said.wrong), "no name of the program's own"
    assert shown.wrong == said.wrong and not said.head and not said.notes and not shown.file
    assert before.alt not in said.alt and said.wrong in said.alt


def test_any_other_error_comes_out(shown, monkeypatch):
    """Only what is wrong with an input is said; a fault of the program is let out, and shown by the panel."""
    monkeypatch.setattr(planner, "show", lambda *given: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        shown.redraw(**{c.name: c.start for c in shown.controls})
    monkeypatch.setattr(fields, "planned", lambda **given: {}["planted"])
    with pytest.raises(KeyError, match="planted"):
        shown.redraw(total=177)


@pytest.mark.parametrize(
    "changed",
    [{}, OTHERS | USED, STRONG, {"facing": "upright", "tray_width": 90, "tray_length": 30}],
)
def test_law_what_is_saved_comes_back(shown, changed):
    """The file of the page, opened again: equal inputs, number by number, and values that can be read."""
    usual = {c.name: c.start for c in shown.controls}
    shown.redraw(**usual | changed)
    kept, total = shown.file, shown.values["total"]
    shown.redraw(**usual | {"total": 133})
    shown.opened, shown.asked = kept, shown.asked + 1
    assert shown.failure is None and not shown.error and shown.values["total"] == total
    opened, saved = (json.loads(text)["inputs"] for text in (shown.file, kept))
    assert opened == saved
    assert all(
        isinstance(v, str) or v is None or v == round(v, 9)
        for name, v in shown.values.items()
        if not name.startswith("peroxide")
    ), shown.values


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("{}", "is not a plan of this package"),
        ("no JSON", "is not JSON that can be read"),
        ("edited", "was changed after it was saved"),
        ("draws", "draws = 60, seed = 0 have no field here"),
    ],
)
def test_a_foreign_file_is_refused_with_its_reason_and_changes_nothing(shown, text, why):
    shown.redraw(**{c.name: c.start for c in shown.controls})
    text = {
        "edited": shown.file.replace('"GB"', '"EU"').replace('"EU"', '"GB"'),
        "draws": files.text_of(fields.planned(**INPUTS, draws=60).inputs),
    }.get(text, text)
    before, picture = dict(shown.values), shown.png
    shown.opened, shown.asked = text, shown.asked + 1
    assert why in shown.error and shown.error.count("Traceback") == 0 and shown.failure is None
    assert shown.values == before and shown.png == picture


def test_law_inputs_of_the_package_come_back_as_fields():
    """SI inputs, as a script makes them: the same plan by fields in % by weight, mm, mL and °C."""
    rng = np.random.default_rng(5)
    for k in range(40):
        ends = sorted(rng.uniform(0.02, 0.3, 2))
        given = Inputs(
            Bottle.labelled("HCl", rng.uniform(0.05, 0.3)),
            Bottle("H2O2", *ends),
            tuple(rng.uniform(0, 4, 3).round(1) + 0.1),
            Board(
                rng.uniform(0.02, 0.3),
                rng.uniform(0.02, 0.3),
                0.5,
                Foil(areal_mass=rng.uniform(0.1, 1)),
            ),
            Tray("still", "up", (None, 0.31, 0.3100000123)[k % 3], rng.uniform(280, 300)),
            rng.uniform(0.01, 0.1),
            "elsewhere",
            rng.uniform(275, 310),
            Kept(0.3, (50, 60.5), rng.uniform(500, 900)) if k % 2 else None,
            (0.4, 75.0) if k % 4 == 1 else None,
        )
        asked = planner.asked_of(planner.values_of(given))
        bench = [
            asked[name]
            for name in (
                "board_mm",
                "bare_percent",
                "foil_oz",
                "agitation",
                "facing",
                "tray_mm",
                "air_C",
            )
        ]
        bottles = [
            fields.bottle(name, asked[name], s, given.T_bottles)
            for name, s in planner.SUBSTANCES.items()
        ]
        again = Inputs(
            *bottles,
            asked["parts"],
            *fields.laid_out(*bench),
            asked["total_mL"] * 1e-6 / float(given.board.area),
            "elsewhere",
            given.T_bottles,
            fields.topped_up(asked["kept"]) if asked["kept"] else None,
            given.second,
        )
        for one, two in zip(
            numbers(files.text_of(given)), numbers(files.text_of(again)), strict=True
        ):
            assert one == pytest.approx(two, rel=1e-12)


def test_law_a_tray_of_known_area_has_room_for_its_board():
    """Trays that fit their board closely, in whole and broken mm: the area is kept, and the board lies in it."""
    rng = np.random.default_rng(3)
    for k in range(300):
        board = tuple(rng.integers(20, 300, 2) * 1.0)
        tray = (board[0] * rng.uniform(1.01, 1.3), board[1] * rng.uniform(1.01, 1.3))
        tray = tuple(np.ceil(tray)) if k % 2 else tray
        area = tray[0] * tray[1] * 1e-6
        wide, tall = refill.tray_sides(area, board)
        assert wide * tall * 1e-6 == pytest.approx(area, rel=1e-12)
        assert tall >= min(board) * (1 - 1e-12) and wide >= max(board) * (1 - 1e-12)
    assert np.prod(refill.tray_sides(0.0025, (0, 0))) == pytest.approx(2500), (
        "a tank for an upright board"
    )


def numbers(text):
    """Every number in a file but its sum."""
    found = re.findall(r": (-?\d+\.?\d*(?:e-?\d+)?)|^\s+(-?\d+\.?\d*),?$", text, re.M)
    return [float(number) for pair in found for number in pair if number]


def test_a_label_with_a_doubt_of_its_own_is_refused():
    with pytest.raises(
        ValueError, match="HCl: a label of 10 % beside strengths of 5 to 11 % has no field here"
    ):
        refill.bottle(Bottle("HCl", 0.05, 0.11, 0.10))


def test_law_what_is_wrong_at_a_corner_is_said_in_the_pages_words(shown, mild, monkeypatch):
    """At each end of each control, and at corners by chance; that all others can be drawn is swept with the page."""
    monkeypatch.setattr(plans, "planned", lambda given: mild)  # the checks of the fields alone
    usual, wrong, right = {c.name: c.start for c in shown.controls}, [], 0
    shown.redraw(**usual)
    for corner in shown.corners():
        try:
            right += bool(fields.planned(**planner.asked_of(usual | corner)))
        except ValueError as error:
            wrong.append(planner.in_page_words(str(error)))
    assert len(wrong) > 10 and right > 30
    for words in wrong:
        assert words.split(":")[0].split(" =")[0] in planner.SAID.values(), words
        assert not re.search(r"[a-z]_[a-zA-Z]|impossible|such as", words), words


def test_every_control_is_asked_for(shown):
    """No control without a meaning: each changes what is planned, where it is shown."""
    usual = (
        {c.name: c.start for c in shown.controls}
        | {
            "acid_sure": "between",
            "peroxide_sure": "between",
            "peroxide": 10,
            "kept": 50,
            "held_back": 20,
            "tray_width": 120,
            "tray_length": 90,
        }
        | USED
    )
    base = planner.asked_of(usual)
    for control in shown.controls:
        options = list(getattr(control, "options", ())) or [usual[control.name] + 1]
        assert any(
            planner.asked_of(usual | {control.name: option}) != base for option in options
        ), control.name


def test_fields_are_named_with_their_units(shown):
    assert len({c.label for c in shown.controls}) == len(shown.controls), "no two of one name"
    units = {c.name: getattr(c, "unit", "") for c in shown.controls}
    assert (
        units["total"] == "mL"
        and units["air"] == "°C"
        and units["board_width"] == "mm"
        and units["foil"] == "oz"
    )
    for control in shown.controls:
        assert (
            hasattr(control, "options")
            or control.unit
            or control.name.removesuffix("_to") in ("acid", "peroxide")
        )
        assert len(control.label) <= 24, control.label


def test_cautions_are_those_of_the_bottles(shown):
    shown.redraw(**{c.name: c.start for c in shown.controls} | STRONG)
    plan: Plan = planner.plan_of(shown.values)
    assert plan.cautions == cautions(plan.inputs.acid, plan.inputs.peroxide, "EU")
    assert "law: your bottle" in shown.notes
