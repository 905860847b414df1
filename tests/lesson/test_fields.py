"""The planner's fields: lab units and words mean what the package's own calls mean, wrong ones are named (laws)."""

import numpy as np
import pytest
from workshop import BENCH, INPUTS

from pcbchem import Board, Foil, Tray
from pcbchem.bench import search
from pcbchem.bench.inputs import Bottle, Kept
from pcbchem.bench.plan import plan
from pcbchem.lesson import fields
from pcbchem.lesson.fields import mildest, planned

BOARD = Board(width=0.075, height=0.060, bare=0.6, foil=Foil.ounces(1))
STILL = {"agitation": "still", "facing": "down", "tray_mm": (120, 90), "bottles_C": 15, "air_C": 25}


@pytest.mark.parametrize(("asked", "meant"), [
    ({}, {"volume": 150e-6, "place": "EU"}),
    ({"total_mL": None, "mL_per_cm2": 4}, {"bath_per_area": 0.04, "place": "EU"}),
    ({"kept": (50, 5.5, (1.1, 1.4)), "place": "elsewhere"},
     {"volume": 150e-6, "place": "elsewhere", "kept": Kept(0.5, 5.5 / 0.063546, (1100, 1400))}),  # Cu g/mol, IUPAC
    ({"second": (40, 1.5), "seed": 3}, {"volume": 150e-6, "place": "EU", "second": (0.4, 90), "seed": 3}),
    (STILL, {"volume": 150e-6, "place": "EU", "T_bottles": 288.15})])
def test_law_fields_mean_what_the_package_means(asked, meant):
    """Millilitres, percent, g/L, minutes and °C on the page are the same plan as SI in the package's own call."""
    tray = Tray("still", "down", 0.120 * 0.090, 298.15) if asked is STILL else Tray("rocked", "up", T_air=293.15)
    shown = planned(**{**INPUTS, "draws": 20, **asked})
    own = plan(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), BOARD, tray, draws=20, **meant)
    for name in ("time_to_clear", "etching_peak", "standing_peak", "reserve", "acid", "peroxide"):
        assert np.allclose(shown.bands[name].values, own.bands[name].values, rtol=1e-9), name
    assert shown.inputs.place == own.inputs.place and shown.verdict == own.verdict


def test_a_label_keeps_its_figure_and_two_ends_have_none():
    """Doubt of a label: acid within 1 % by weight, peroxide at 85 to 100 % of it (common practice, no source)."""
    made = [planned(**{**INPUTS, "draws": 5, "peroxide": given}).inputs.peroxide
            for given in ((12, "%"), (10.2, 12, "%"), (12, 12, "%"))]
    assert [(b.low, b.high) for b in made] == [pytest.approx(ends) for ends in ((0.102, 0.12),) * 2 + ((0.12, 0.12),)]
    assert made[0].label == pytest.approx(0.12) and made[1].label is None and made[2].label is None
    acid = planned(**{**INPUTS, "draws": 5}).inputs.acid
    assert (acid.low, acid.high) == pytest.approx((0.09, 0.11))


@pytest.mark.parametrize(("field", "written", "meant"), [
    ("peroxide", (8.5, 10, "vol"), (8.5, 10, "volume strength")), ("acid", (9, 11, "%"), (9, 11, "% by weight")),
    ("peroxide", [10, "Volume"], (10, "volume strength")), ("agitation", "Rocked", "rocked"),
    ("acid", (19.8, 20.2, "°Bé"), (19.8, 20.2, "degrees Baume")), ("facing", "UPRIGHT", "upright"),
    ("acid", (20, "degrees Baumé"), (20, "degrees Baume")), ("place", "eu", "EU"), ("place", "Great Britain", "GB")])
def test_inputs_as_people_write_them(field, written, meant):
    first, second = (planned(**{**INPUTS, "draws": 5, field: value}) for value in (written, meant))
    assert np.array_equal(first.run.time_to_clear, second.run.time_to_clear)
    assert first.inputs.place == second.inputs.place


@pytest.mark.parametrize(("field", "value", "message"), [
    ("parts", (0, 1), "parts = "), ("parts", (0, 0, 0), "parts = "), ("parts", (0, 1, 1, 5), "use a point"),
    ("total_mL", 0, "total_mL = "), ("total_mL", (150, 5), "total_mL = .* one number; use a point for decimals"),
    ("total_mL", 0.1, "total_mL: .* 0.01 to 1000 mL/cm²"), ("total_mL", None, "total_mL = None .* give one of the two"),
    ("acid", (9, 11, "percent"), "acid: notation"), ("acid", (11, 9, "% by weight"), "acid: lowest = 11 .* point"),
    ("acid", 10, "acid = 10 has 1 item: it must be strength, notation, or lowest, highest, notation; use a point"),
    ("acid", (10, 2, "%"), "acid: lowest = 10 is impossible: it must be at most highest = 2; use a point for decimals"),
    ("peroxide", (10, 2, 12, "% by weight"), r"peroxide = \(10, 2, 12, '% by weight'\) has 4 items: it must be streng"),
    ("peroxide", (90, 95, "%"), "peroxide: value"), ("acid", (9, "x", "%"), "acid: highest"),
    ("peroxide", (95, "%"), "peroxide: value"), ("acid", ("x", "%"), "acid: strength"), ("acid", (9, 8), "acid: notat"),
    ("board_mm", (75, 5, 60), r"board_mm = \(75, 5, 60\) has 3 items: it must be width, height; use a point"),
    ("board_mm", 75, "board_mm = 75 has 1 item"), ("board_mm", (0, 60), "board_mm = 0"), ("foil_oz", 0, "foil_oz = 0"),
    ("tray_mm", (0, 60), "tray_mm = 0"), ("tray_mm", (50, 50), "tray_mm: board area"), ("tray_mm", 50, "tray_mm = 50 "),
    ("bare_percent", 120, "bare_percent = 120"), ("bottles_C", 300, "bottles_C = 300"), ("air_C", 300, "air_C = 300"),
    ("agitation", "shaken", "agitation = "), ("facing", 3, "facing = "), ("place", "Mars", "place = "),
    ("place", 7, "place = "), ("kept", 50, "kept = 50 has 1 item: it must be percent of the bath, copper in g/L, acid"),
    ("kept", (0, 5, 1), "kept: percent of the bath = 0"), ("kept", (50, 500, 1), "kept: copper = 500 .* g/L"),
    ("kept", (50, 5, (1, 2, 3)), "kept: acid = .* has 3 items"), ("kept", (50, (6, 5), 1), "kept: copper = "),
    ("second", 50, "second = 50 has 1 item"), ("second", (150, 3), "second: percent held back = 150"),
    ("second", (50, 0), "second: minutes = 0"), ("draws", 0, "draws = 0"), ("seed", -1, "seed = -1")])
def test_impossible_inputs_are_named(field, value, message):
    with pytest.raises(ValueError, match=message) as told:
        planned(**{**INPUTS, "draws": 5, field: value})
    assert str(told.value).startswith(field)


def test_both_sizes_at_once_are_refused():
    with pytest.raises(ValueError, match=r"^total_mL = 150 with mL_per_cm2 = 4 is impossible: give one of the two"):
        planned(**INPUTS, mL_per_cm2=4)


def test_what_was_not_checked_is_said_and_not_thrown():
    """Warnings are errors here: a label outside the range is a sentence in the plan."""
    strong = planned(**{**INPUTS, "draws": 5, "acid": (26, "°Bé")})
    assert any(words.startswith("strength") for words in strong.outside), strong.outside
    assert len(set(strong.outside)) == len(strong.outside)
    assert planned(**{**INPUTS, "draws": 5}).outside == ()


WANTED = {**BENCH, "acid": (10, "%"), "peroxide": (12, "%")}


def test_law_the_search_gets_what_the_page_says(monkeypatch):
    """Minutes and °C become s and K; everything else is the same as for a plan."""
    got = {}
    monkeypatch.setattr(search, "mildest", lambda *given, **named: got.update(named, given=given))
    mildest(**{**WANTED, **STILL, "place": "gb"}, minutes=(3, 8), hottest_C=40, portions=2, seed=4, draws=9,
            progress=print)
    acid, peroxide, board, tray = got.pop("given")
    assert (acid.label, peroxide.label) == pytest.approx((0.10, 0.12)) and board.area == pytest.approx(27e-4)
    assert (tray.agitation, tray.facing, tray.open_area) == ("still", "down", pytest.approx(0.0108))
    assert tray.T_air == 298.15 and got.pop("window") == (180, 480) and got.pop("hottest") == pytest.approx(313.15)
    assert got == {"place": "GB", "T_bottles": 288.15, "portions": 2, "seed": 4, "draws": 9, "progress": print}


@pytest.mark.parametrize(("field", "value", "message"), [
    ("minutes", (8, 3), r"minutes = \(8, 3\) is impossible"), ("minutes", 5, "minutes = 5 has 1 item"),
    ("minutes", (0, 5), "minutes = 0"), ("hottest_C", 400, "hottest_C = 400"), ("acid", 10, "acid = 10 has 1 item"),
    ("board_mm", 75, "board_mm = 75"), ("place", "Mars", "place = "), ("portions", 3, "portions = 3")])
def test_impossible_wishes_are_named(field, value, message):
    with pytest.raises(ValueError, match=message) as told:
        mildest(**{**WANTED, "draws": 5, field: value})
    assert str(told.value).startswith(field)


def test_every_written_word_is_one_of_the_package():
    assert set(fields.WRITTEN.values()) <= set(fields.NOTATIONS) and set(fields.WHERE.values()) == set(fields.PLACES)
