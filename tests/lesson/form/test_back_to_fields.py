"""Inputs of the package come back as values of the form, and mean the same again (laws)."""

import re

import numpy as np
import pytest
from helpers.workshop import INPUTS

from pcbchem import Board, Foil, Tray
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.plan import files
from pcbchem.bench.plan.inputs import Inputs, UsedBath
from pcbchem.lesson.bath import planned
from pcbchem.lesson.form import back_to_fields, fields


def numbers(text):
    """Every number in a file but its sum."""
    pairs = re.findall(r": (-?\d+\.?\d*(?:e-?\d+)?)|^\s+(-?\d+\.?\d*),?$", text, re.M)
    return [float(number) for pair in pairs for number in pair if number]


def some_inputs(rng, k):
    """SI inputs as a script makes them."""
    low, high = sorted(rng.uniform(0.02, 0.3, 2))
    foil = Foil(areal_mass=rng.uniform(0.1, 1))
    open_area, perimeter = ((None, None), (0.31, 2.3), (0.3100000123, 2.3))[k % 3]
    return Inputs(
        Bottle.labelled("HCl", rng.uniform(0.05, 0.3)),
        Bottle("H2O2", low, high),
        tuple(rng.uniform(0, 4, 3).round(1) + 0.1),
        Board(rng.uniform(0.02, 0.3), rng.uniform(0.02, 0.3), 0.5, foil, back=float(k % 2)),
        Tray("still", "up", open_area, rng.uniform(280, 300), perimeter),
        rng.uniform(0.01, 0.1),
        "elsewhere",
        rng.uniform(275, 310),
        UsedBath(0.3, (50, 60.5), rng.uniform(500, 900)) if k % 2 else None,
        (0.4, 75.0) if k % 4 == 1 else None,
    )


def test_law_inputs_come_back_as_values(monkeypatch):
    """In % by weight, mm, mL and °C they make the same inputs again, number by number."""
    again = []
    monkeypatch.setattr(fields.plans, "planned", lambda inputs: again.append(inputs) or 1 / 0)
    rng = np.random.default_rng(5)
    for k in range(40):
        inputs = some_inputs(rng, k)
        with pytest.raises(ZeroDivisionError):
            fields.plan_from(back_to_fields.values_of(inputs))
        pairs = zip(numbers(files.text_of(inputs)), numbers(files.text_of(again[-1])), strict=True)
        assert all(one == pytest.approx(two, rel=1e-12) for one, two in pairs)


def test_law_a_board_known_by_its_area_comes_back_as_a_square():
    inputs = planned(**INPUTS).inputs.replace(board=Board(area=25e-4))
    values = back_to_fields.values_of(inputs)
    assert (values["board_width"], values["board_height"]) == pytest.approx((50, 50))
    assert values["bare"] == 100 and values["total"] == pytest.approx(150 * 25 / 27)


def test_law_a_tray_of_known_area_has_room_for_its_board():
    """Trays that fit their board closely, in whole and broken mm: the area is kept."""
    rng = np.random.default_rng(3)
    for k in range(300):
        board = tuple(rng.integers(20, 300, 2) * 1.0)
        tray = (board[0] * rng.uniform(1.01, 1.3), board[1] * rng.uniform(1.01, 1.3))
        if k % 2:
            tray = tuple(np.ceil(tray))
        area = tray[0] * tray[1] * 1e-6
        wide, tall = back_to_fields.tray_sides(area, board)
        assert wide * tall * 1e-6 == pytest.approx(area, rel=1e-12)
        assert tall >= min(board) * (1 - 1e-12) and wide >= max(board) * (1 - 1e-12)


@pytest.mark.parametrize(("width", "length"), [(120, 90), (75.5, 60.25), (300, 20), (50, 50)])
def test_law_a_tray_comes_back_by_its_area_and_wall(width, length):
    sides = back_to_fields.sides_of(width * length * 1e-6, 2 * (width + length) * 1e-3)
    assert sides == pytest.approx((width, length), rel=1e-9)


def test_law_a_round_vessel_has_no_field():
    inputs = planned(**INPUTS).inputs
    tank = Tray("rocked", "up", 0.0079, perimeter=0.3151)
    with pytest.raises(ValueError, match=r"perimeter = 0.3151 m .* has no field here"):
        back_to_fields.values_of(inputs.replace(tray=tank))


def test_law_a_tank_for_an_upright_board_keeps_its_area():
    assert np.prod(back_to_fields.tray_sides(0.0025, (0, 0))) == pytest.approx(2500)


def test_law_a_measured_bottle_comes_back_with_its_label():
    """There and back: label and both strengths, on either bottle."""
    for name, measured in {
        "acid": Bottle("HCl", 0.05, 0.11, 0.10),
        "peroxide": Bottle("H2O2", 0.051, 0.069, 0.12),
    }.items():
        values = fields.STARTS | back_to_fields.write_bottle(name, measured)
        assert values[f"{name}_sure"] == "measured"
        again = getattr(fields.plan_from(values).inputs, name)
        assert (again.low, again.high, again.label) == pytest.approx(
            (measured.low, measured.high, measured.label)
        )


def test_a_back_comes_back_and_one_bare_in_part_is_refused():
    inputs = planned(**INPUTS).inputs
    for share, words in {0.0: "plastic", 1.0: "bare"}.items():
        board = Board(0.075, 0.06, 0.6, back=share)
        assert back_to_fields.values_of(inputs.replace(board=board))["back"] == words
    half = inputs.replace(board=Board(0.075, 0.06, 0.6, back=0.5))
    with pytest.raises(ValueError, match=r"^board: back = 0\.5 has no field here"):
        back_to_fields.values_of(half)


def test_two_strengths_come_back_in_fields_of_their_own():
    values = back_to_fields.write_bottle("acid", Bottle("HCl", 0.05, 0.11))
    assert values == {
        "acid_low": 5,
        "acid_to": 11,
        "acid_in": "% by weight",
        "acid_sure": "between",
    }


def test_more_parts_than_the_page_has_are_refused():
    inputs = planned(**INPUTS).inputs
    most = back_to_fields.values_of(inputs.replace(parts=(100, 1, 1)))
    assert most["water_parts"] == 100
    with pytest.raises(ValueError, match=r"parts = \(101.*\) have no field here"):
        back_to_fields.values_of(inputs.replace(parts=(101, 1, 1)))
