"""The planner's form: lab units mean what SI means, and wrong entries are named (laws)."""

import numpy as np
import pytest
from helpers.workshop import BENCH, INPUTS, USED_CONTROLS

from pcbchem import Board, Foil, Tray
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.plan import files, search
from pcbchem.bench.plan.inputs import UsedBath
from pcbchem.bench.plan.planning import plan
from pcbchem.common.limits import InputError
from pcbchem.lesson.bath import leanest, planned
from pcbchem.lesson.form import fields
from pcbchem.lesson.form import table as form

BOARD = Board(width=0.075, height=0.060, bare=0.6, foil=Foil.ounces(1))
WANTED = {**BENCH, "acid": (10, "%"), "peroxide": (12, "%")}
STILL = {"agitation": "still", "facing": "down", "tray_mm": (120, 90), "bottles_C": 15, "air_C": 25}


@pytest.mark.parametrize(
    ("values", "entry"),
    [
        ({"acid": 12}, {"acid": (12, "%")}),
        (
            {"acid_sure": "between", "acid_low": 8, "acid_to": 11.5, "acid": 3},
            {"acid": (8, 11.5, "%")},
        ),
        ({"peroxide_sure": "between", "peroxide_low": 4}, {"peroxide": (4, 12, "%")}),
        ({"back": "bare"}, {"back": "bare"}),
        ({"back": "bare"}, {"back": " Bare"}),
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
        ({"used_bath": 50} | USED_CONTROLS, {"used_bath": (50, 5.5, (1.1, 1.4), (0, 0.2))}),
        ({"held_back": 50}, {"second": (50, 1.5)}),
    ],
)
def test_law_a_control_means_what_an_entry_means(inputs_of, values, entry):
    of_page = inputs_of(fields.plan_from, fields.STARTS | values)
    assert of_page == inputs_of(lambda entries: planned(**entries), INPUTS | entry)
    assert of_page != inputs_of(fields.plan_from, fields.STARTS)


@pytest.fixture
def inputs_of(mild, monkeypatch):
    """The inputs that something asks a plan for, as the text of their file; none is worked out."""
    asked = []
    monkeypatch.setattr(fields.plans, "planned", lambda inputs: asked.append(inputs) or mild)

    def text(ask, argument):
        ask(argument)
        return files.text_of(asked[-1])

    return text


def test_law_every_control_has_a_meaning(inputs_of):
    """Each changes the inputs, where it is shown."""
    usual = (
        fields.STARTS
        | USED_CONTROLS
        | {
            "acid_low": 8,
            "peroxide_low": 9,
            "used_bath": 50,
            "held_back": 20,
            "tray_width": 120,
            "tray_length": 90,
            "used_copper_to": 9,
            "used_acid_to": 3,
            "used_peroxide_to": 3,
        }
    )
    for controls in fields.CONTROLS.values():
        for control in controls:
            shown = usual
            # a field of one answer to a choice means nothing beside the other
            if getattr(control, "when", None):
                choice, (answer, *_) = control.when
                shown = usual | {choice: answer}
            first = inputs_of(fields.plan_from, shown)
            choices = getattr(control, "options", None) or [shown[control.name] + 1]
            changed = [
                inputs_of(fields.plan_from, shown | {control.name: choice}) for choice in choices
            ]
            assert any(text != first for text in changed), control.name


def test_law_a_field_that_is_not_shown_means_nothing(inputs_of):
    """What was written for a label is of no account between two strengths, and back."""
    for name in ("acid", "peroxide"):
        for sure, hidden in {"between": [name], "label": [f"{name}_low", f"{name}_to"]}.items():
            shown = fields.STARTS | {f"{name}_sure": sure}
            texts = {inputs_of(fields.plan_from, shown | {other: 1.5}) for other in hidden}
            assert texts == {inputs_of(fields.plan_from, shown)}, hidden


def test_law_a_measured_bottle_keeps_its_label_and_its_two_ends():
    """The plan is that of the two strengths; its label is the label's."""
    values = fields.STARTS | {"acid_sure": "between", "acid_low": 9.5, "acid_to": 10.2}
    between = fields.plan_from(values)
    measured = fields.plan_from(values | {"acid_sure": "measured", "acid": 12})
    acid = measured.inputs.acid
    assert (acid.low, acid.high, acid.label) == pytest.approx((0.095, 0.102, 0.12))
    assert between.inputs.acid.label is None
    times = [float(plan.bands["time_to_clear"].middle) for plan in (between, measured)]
    assert times[0] == times[1]


def test_law_a_covered_back_is_as_good_as_plastic(inputs_of):
    texts = {
        back: inputs_of(fields.plan_from, fields.STARTS | {"back": back})
        for back in ("plastic", "covered", "bare")
    }
    assert texts["plastic"] == texts["covered"] != texts["bare"]


def test_a_bare_back_takes_its_share_of_the_same_bath():
    """By hand: 27 cm² before and 45 behind take 150 mL, 2.08 mL for each cm²."""
    bare = planned(**INPUTS | {"back": "bare", "draws": 5})
    assert float(bare.inputs.board.copper_area) == pytest.approx(72e-4)
    assert bare.inputs.bath_per_area == pytest.approx(150e-6 / 72e-4)
    usual = planned(**INPUTS | {"draws": 5})
    ratio = bare.bands["reserve"].values / usual.bands["reserve"].values
    assert np.allclose(ratio, 27 / 72, rtol=1e-9)


@pytest.mark.parametrize(
    ("entries", "meant"),
    [
        ({}, {"volume": 150e-6, "place": "elsewhere"}),
        ({"total_mL": None, "mL_per_cm2": 4}, {"bath_per_area": 0.04, "place": "elsewhere"}),
        (
            {"used_bath": (50, 5.5, (1.1, 1.4)), "place": "US"},
            {
                "volume": 150e-6,
                "place": "US",
                "used_bath": UsedBath(0.5, 5.5 / 0.063546, (1100, 1400)),
            },
        ),  # Cu g/mol, IUPAC
        (
            {"used_bath": (50, 5.5, 1.2, (0, 0.2))},
            {
                "volume": 150e-6,
                "place": "elsewhere",
                "used_bath": UsedBath(0.5, 5.5 / 0.063546, 1200, (0, 200)),
            },
        ),
        (
            {"second": (40, 1.5), "seed": 3},
            {"volume": 150e-6, "place": "elsewhere", "second": (0.4, 90), "seed": 3},
        ),
        (STILL, {"volume": 150e-6, "place": "elsewhere", "T_bottles": 288.15}),
    ],
)
def test_law_fields_mean_what_the_package_means(entries, meant):
    """mL, percent, g/L, minutes and °C on the page are the same plan as SI in the package."""
    tray = (
        Tray("still", "down", 0.120 * 0.090, 298.15, perimeter=0.42)
        if entries is STILL
        else Tray("rocked", "up", T_air=293.15)
    )
    page = planned(**{**INPUTS, "draws": 20, **entries})
    script = plan(
        Bottle.labelled("HCl", 0.10),
        Bottle.labelled("H2O2", 0.12),
        (0, 1, 1),
        BOARD,
        tray,
        draws=20,
        **meant,
    )
    for name in ("time_to_clear", "etching_peak", "standing_peak", "reserve", "acid", "peroxide"):
        assert np.allclose(page.bands[name].values, script.bands[name].values, rtol=1e-9), name
    assert page.inputs.place == script.inputs.place and page.verdict == script.verdict


POINT = "use a point for decimals"
FORM = r'such as peroxide=\(12, "% by weight"\)'


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("parts", (0, 1), "parts = .* 2 items"),
        ("parts", (0, 0, 0), "parts = "),
        ("parts", (0, 1, 1, 5), POINT),
        ("total_mL", 0, "total_mL = "),
        ("total_mL", (150, 5), f"total_mL = .* one number; {POINT}"),
        ("total_mL", "150,5", f"total_mL = '150,5' is not a number: .*; {POINT}"),
        ("total_mL", 0.1, "total_mL: .* mL/cm²"),
        ("total_mL", None, "total_mL = None .* give one of the two"),
        ("acid", (9, 11, "percent"), "acid: notation = 'percent' is not known: .* such as acid="),
        ("acid", (11, 9, "% by weight"), f"acid: lowest = 11 .*{POINT}"),
        (
            "peroxide",
            12,
            f"peroxide = 12 has 1 item: it must be strength and notation, {FORM}, or lowest",
        ),
        (
            "acid",
            (10, 2, "%"),
            f"acid: lowest = 10 is impossible: it must be at most highest = 2; {POINT}",
        ),
        (
            "peroxide",
            (10, 2, 12, "% by weight"),
            f"peroxide = .* has 4 items: it must be strength and notation.*{POINT}",
        ),
        ("peroxide", (90, 95, "%"), "peroxide: value"),
        ("acid", (9, "x", "%"), "acid: highest"),
        ("peroxide", (95, "%"), "peroxide: value"),
        ("acid", ("x", "%"), "acid: strength"),
        ("peroxide", (12, 5), f"peroxide: notation = 5 is not known: .*{FORM}"),
        (
            "board_mm",
            (75, 5, 60),
            rf"board_mm = \(75, 5, 60\) has 3 items: it must be width, height.*{POINT}",
        ),
        ("board_mm", 75, "board_mm = 75 has 1 item"),
        ("board_mm", (0, 60), "board_mm = 0 .* 10 to 2000 mm"),
        (
            "board_mm",
            (7.5, 60),
            "board_mm = 7.5 .*; board_mm counts millimetres: is your board 7.5 mm wide",
        ),
        (
            "board_mm",
            (75, 6),
            "board_mm = 6 .*; board_mm counts millimetres: is your board 6 mm long",
        ),
        ("foil_oz", 0, "foil_oz = 0"),
        ("foil_oz", 35, "foil_oz = 35 .* 0 to 16 oz/ft²; 1 oz is about 35 µm"),
        ("tray_mm", (0, 60), "tray_mm = 0"),
        ("tray_mm", 50, "tray_mm = 50 "),
        (
            "tray_mm",
            (60, 40),
            "tray_mm: a tray of 60 × 40 mm .* a board of 75 × 60 mm does not lie in it",
        ),
        ("tray_mm", (200, 50), "tray_mm: a tray of 200 × 50 mm .* does not lie in it"),
        ("bare_percent", 120, "bare_percent = 120"),
        ("bottles_C", 68, "bottles_C = 68 .* 0 to 40 °C; .*: 68 °F is 20 °C"),
        ("bottles_C", -1, "bottles_C = -1 .* 0 to 40 °C"),
        ("air_C", 70, "air_C = 70 .* -10 to 45 °C; .*: 68 °F is 20 °C"),
        ("agitation", "stirred", "agitation = "),
        ("facing", 3, "facing = "),
        ("back", "copper", "back = .* choose from plastic, covered, bare"),
        ("back", 1, "back = "),
        ("place", 7, "place = "),
        (
            "place",
            "UK",
            'place = .UK. is not known: write "EU", "GB" .*Ireland ask locally.* "US" or "else.*" ',
        ),
        (
            "used_bath",
            50,
            "used_bath = 50 has 1 item: it must be percent of the bath, copper in g/L, "
            "acid in mol/L",
        ),
        ("used_bath", (0, 5, 1), "used_bath: percent of the bath = 0"),
        ("used_bath", (50, 500, 1), "used_bath: copper = 500 .* g/L"),
        ("used_bath", (50, 5, (1, 2, 3)), f"used_bath: acid = .* has 3 items.*{POINT}"),
        ("used_bath", (50, 5, 1, 9), "used_bath: peroxide = 9 .* 0 to 5 mol/L"),
        (
            "used_bath",
            (50, (30, 20), 1),
            r"used_bath: copper = \(30, 20\) g/L is impossible: the lowest must be "
            rf"at most .*{POINT}",
        ),
        ("used_bath", (50, 5, 1, 0, 1), f"used_bath = .* has 5 items.*{POINT}"),
        ("second", 50, "second = 50 has 1 item"),
        ("second", (95, 3), "second: percent held back = 95 .* 0 to 90 %"),
        ("second", (50, 0), "second: minutes = 0 .* 0.1 to 120 min"),
        ("second", (50, 240), "second: minutes = 240 "),
        ("draws", 0, "draws = 0"),
        ("seed", -1, "seed = -1"),
    ],
)
def test_impossible_inputs_are_named(field, value, message):
    """By the entry, in its unit; a decimal comma is suspected where one number has become two."""
    with pytest.raises(ValueError, match=message) as error:
        planned(**{**INPUTS, "draws": 5, field: value})
    assert str(error.value).startswith(field)
    assert (POINT in str(error.value)) == (POINT in message)


def test_inputs_at_their_limits_are_planned_by_the_bench_too():
    """The page's limits are no wider than the package's."""
    for field, ends in {"bottles_C": form.BOTTLES_C, "air_C": form.AIR_C}.items():
        for end in ends:
            assert planned(**{**INPUTS, "draws": 3, field: end}).inputs.draws == 3
    for held, wait in ((0, form.WAIT[0]), (90, form.WAIT[1])):
        planned(**{**INPUTS, "draws": 3, "second": (held, wait)})


def test_an_upright_board_needs_its_tank():
    with pytest.raises(
        ValueError, match=r"^tray_mm = None .* 'upright': give the tank's width and length"
    ):
        planned(**{**INPUTS, "draws": 5, "facing": "UPRIGHT"})
    with pytest.raises(
        ValueError, match=r"^tray_mm = None .* 'upright': give the tank's width and length"
    ):
        leanest(**{**WANTED, "facing": "upright"})
    made = planned(**{**INPUTS, "draws": 5, "facing": "UPRIGHT", "tray_mm": (80, 25)})
    assert made.inputs.tray.facing == "upright" and made.inputs.tray.open_area == pytest.approx(
        0.080 * 0.025
    )


def test_a_long_board_may_lie_across_its_tray():
    """Law: 104 mm lies in 100 × 80 mm along the diagonal of 128 mm."""
    assert (
        planned(**{**INPUTS, "draws": 3, "board_mm": (104, 20), "tray_mm": (100, 80)}).inputs.draws
        == 3
    )


def test_a_bath_that_is_none_is_refused_in_the_pages_units():
    tiny = {"board_mm": (10, 10), "bare_percent": 0.5, "draws": 3}
    for call, named, said in (
        (
            planned,
            {**INPUTS, "total_mL": 0.3, "tray_mm": (300, 200)},
            "total_mL: a bath 0.005 mm deep .* 600 cm²",
        ),
        (
            planned,
            {**INPUTS, **tiny, "total_mL": 0.05},
            "total_mL: a bath of 0.05 mL is .* above 0.1 mL",
        ),
        (leanest, {**WANTED, **tiny}, "board_mm: a bath of 0.017 mL is .* above 0.1 mL"),
        (
            leanest,
            {**WANTED, "board_mm": (12, 10), "tray_mm": (1900, 1900)},
            "tray_mm: a bath .* mm deep",
        ),
    ):
        with pytest.raises(ValueError, match=f"^{said}"):
            call(**named)


def test_more_copper_than_a_board_may_have_is_named_by_the_board():
    huge = {"board_mm": (2000, 2000), "bare_percent": 90, "back": "bare"}
    with pytest.raises(InputError, match=r"^board_mm: area = 7\.6 .* 0 to 4 m²"):
        planned(**INPUTS | huge)


def test_an_unknown_entry_is_named():
    with pytest.raises(InputError, match=r"^peroxyde is not a field: there are acid, peroxide, .*"):
        planned(**INPUTS, peroxyde=(12, "%"))
    with pytest.raises(InputError, match=r"^parts is not a field: there are acid, .*foil_oz"):
        leanest(**WANTED, parts=(0, 1, 1))


@pytest.mark.parametrize("name", ["acid", "peroxide", "parts", "board_mm", "bare_percent", "place"])
def test_a_missing_entry_is_named(name):
    without = {key: value for key, value in INPUTS.items() if key != name}
    with pytest.raises(InputError, match=f"^{name} is missing: give acid, peroxide, .*parts$"):
        planned(**without)


def test_a_search_needs_no_parts():
    with pytest.raises(InputError, match=r"^place is missing: give acid, peroxide, .*place$"):
        leanest(**{key: value for key, value in WANTED.items() if key != "place"})


def test_both_sizes_at_once_are_refused():
    with pytest.raises(
        ValueError, match=r"^total_mL = 150 with mL_per_cm2 = 4 is impossible: give one of the two"
    ):
        planned(**INPUTS, mL_per_cm2=4)


def test_what_was_not_checked_is_said_and_not_thrown():
    """Warnings are errors here: a label outside the range is a sentence in the plan."""
    strong = planned(**{**INPUTS, "draws": 5, "acid": (26, "°Bé")})
    assert any(warning.reader == "strength" for warning in strong.outside), strong.outside
    assert len(set(map(str, strong.outside))) == len(strong.outside)
    assert planned(**{**INPUTS, "draws": 5}).outside == ()


def test_law_the_search_gets_what_the_page_says(monkeypatch):
    """Minutes and °C become s and K; everything else is the same as for a plan."""
    got = {}
    monkeypatch.setattr(search, "leanest", lambda *given, **named: got.update(named, given=given))
    leanest(
        **{**WANTED, **STILL, "place": "gb"},
        minutes=(3, 8),
        hottest_C=40,
        share=0.5,
        most_mL=120,
        portions=2,
        seed=4,
        draws=9,
        progress=print,
    )
    acid, peroxide, board, tray = got.pop("given")
    assert (acid.label, peroxide.label) == pytest.approx(
        (0.10, 0.12)
    ) and board.area == pytest.approx(27e-4)
    assert (tray.agitation, tray.facing, tray.open_area) == ("still", "down", pytest.approx(0.0108))
    assert (
        tray.T_air == 298.15
        and got.pop("window") == (180, 480)
        and got.pop("hottest") == pytest.approx(313.15)
    )
    assert got.pop("volume") == pytest.approx(120e-6)
    assert got == {
        "place": "GB",
        "share": 0.5,
        "T_bottles": 288.15,
        "portions": 2,
        "seed": 4,
        "draws": 9,
        "progress": print,
    }


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("minutes", (8, 3), r"minutes = \(8, 3\) is impossible"),
        ("minutes", 5, "minutes = 5 has 1 item"),
        (
            "minutes",
            (3, 3),
            r"minutes = \(3, 3\) is impossible: the earliest must be below the latest",
        ),
        ("minutes", (0, 5), "minutes = 0"),
        ("minutes", (3, 300), "minutes = 300 .* 0.02 to 240 min"),
        ("hottest_C", 104, "hottest_C = 104 .* 0 to 100 °C; .*: 68 °F is 20 °C"),
        ("hottest_C", -5, "hottest_C = -5 "),
        ("bottles_C", 41, "bottles_C = 41"),
        ("acid", 10, "acid = 10 has 1 item"),
        ("board_mm", 75, "board_mm = 75"),
        ("place", "Mars", "place = "),
        ("portions", 3, "portions = 3"),
        ("share", 0.95, "share = 0.95 .* 0.5 to 0.9"),
        ("most_mL", 0, "most_mL = 0 .* 2.7 to 27000 mL"),
        ("most_mL", 1e6, "most_mL = 1e.06 .* 2.7 to 27000 mL"),
    ],
)
def test_impossible_wishes_are_named(field, value, message):
    with pytest.raises(ValueError, match=message) as error:
        leanest(**{**WANTED, "draws": 5, field: value})
    assert str(error.value).startswith(field)
