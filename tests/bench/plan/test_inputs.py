"""What a plan cannot start from is refused by name, value and limits; the rest is as it was said.

Laws, except where another kind is said.
"""

import re
import warnings
from functools import partial

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pcbchem import Board, Foil, RangeWarning, Tray
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.plan.inputs import MOST_USED, Inputs, UsedBath, ratio, used_bath_solution
from pcbchem.bench.plan.planning import plan
from pcbchem.common.arrays import as_draws
from pcbchem.common.limits import InputError

ACID, PEROXIDE = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
BOARD = Board(area=27e-4)
MILD = dict(
    acid=ACID,
    peroxide=PEROXIDE,
    parts=(1, 1, 1),
    board=BOARD,
    tray=Tray(),
    bath_per_area=0.05,
    place="EU",
)
POURED = {name: value for name, value in MILD.items() if name != "bath_per_area"}


def inputs(**changed):
    return Inputs(**{**MILD, **changed})


def planned(**changes):
    return plan(**{**MILD, **changes})


def by_volume(volume, **changes):
    return plan(**{**POURED, "volume": volume, **changes})


IMPOSSIBLE = [  # what is tried, and the words that the message must hold: name, value, limits
    (partial(Bottle, "NaOH", 0.1, 0.2), ("substance", "'NaOH'", "HCl, H2O2")),
    (partial(Bottle, None, 0.1, 0.2), ("substance", "None", "HCl, H2O2")),
    (partial(Bottle, ["HCl"], 0.1, 0.2), ("substance", "['HCl']", "HCl, H2O2")),
    (partial(Bottle, "HCl", -0.01, 0.2), ("low", "-0.01", "0 to 0.45")),
    (partial(Bottle, "HCl", 10, 12), ("low", "10", "0 to 0.45 kg/kg")),
    (partial(Bottle, "HCl", 0.1, 0.46), ("high", "0.46", "0 to 0.45")),
    (partial(Bottle, "H2O2", 0.1, 0.71), ("high", "0.71", "0 to 0.7")),
    (partial(Bottle, "H2O2", 0.2, 0.1), ("low", "0.2", "at most high = 0.1")),
    (partial(Bottle, "H2O2", np.nan, 0.1), ("low", "nan", "0 to 0.7")),
    (partial(Bottle, "H2O2", 0.1, np.inf), ("high", "inf", "0 to 0.7")),
    (partial(Bottle, "H2O2", 0.1, 0.12, label=12), ("label", "12", "0 to 0.7")),
    (partial(Bottle, "H2O2", "0.1", 0.12), ("low", "'0.1'", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", None, 0.12), ("low", "None", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", True, 0.12), ("low", "True", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", np.False_, 0.12), ("low", "np.False_", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", [0.1, 0.2], 0.3), ("low", "[0.1, 0.2]", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", [0.1, [0.2]], 0.3), ("low", "[0.1, [0.2]]", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", 0.1, as_draws([0.2, 0.3])), ("high", "0.2", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", 0.1, 1 + 2j), ("high", "(1+2j)", "one number, 0 to 0.7")),
    (partial(Bottle, "H2O2", 0.1, 10**400), ("high", "1000", "0 to 0.7")),
    (partial(Bottle.labelled, "HCl", 0.46), ("strength", "0.46", "0 to 0.45")),
    (partial(Bottle.labelled, "HCl", -0.1), ("strength", "-0.1", "0 to 0.45")),
    (partial(Bottle.labelled, "H2O2", 12), ("strength", "12", "0 to 0.7")),
    (partial(Bottle.labelled, "bleach", 0.05), ("substance", "'bleach'", "HCl, H2O2")),
    (partial(UsedBath, 0, 300, 1500), ("share", "0", "above 0 to 1")),
    (partial(UsedBath, 1.01, 300, 1500), ("share", "1.01", "above 0 to 1")),
    (partial(UsedBath, 80, 300, 1500), ("share", "80", "above 0 to 1")),
    (partial(UsedBath, "all", 300, 1500), ("share", "'all'", "above 0 to 1")),
    (partial(UsedBath, 0.5, 3001, 1500), ("copper", "3001", "0 to 3000 mol/m³")),
    (partial(UsedBath, 0.5, -1, 1500), ("copper", "-1", "0 to 3000 mol/m³")),
    (partial(UsedBath, 0.5, 300, (1500, 8001)), ("acid", "8001", "0 to 8000 mol/m³")),
    (partial(UsedBath, 0.5, 300, (1500, 1400)), ("acid", "(1500, 1400)", "at most the highest")),
    (
        partial(UsedBath, 0.5, 300, (1400, 1500, 1600)),
        ("acid", "(1400, 1500, 1600)", "(lowest, highest), 0 to 8000"),
    ),
    (partial(UsedBath, 0.5, 300, ()), ("acid", "()", "(lowest, highest), 0 to 8000")),
    (partial(UsedBath, 0.5, 300, np.array([1.0, 2.0])), ("acid", "[1., 2.]", "0 to 8000")),
    (partial(UsedBath, 0.5, None, 1500), ("copper", "None", "0 to 3000")),
    (partial(UsedBath, 0.5, 300, 1500, np.inf), ("peroxide", "inf", "0 to 5000")),
    (partial(ratio, (1, 1)), ("parts", "(1, 1)", "three numbers", "0 to 1e+06")),
    (partial(ratio, "3:1:1"), ("parts", "'3:1:1'", "three numbers", "0 to 1e+06")),
    (partial(ratio, 3), ("parts", "3", "three numbers", "0 to 1e+06")),
    (partial(ratio, {3: 1, 1: 1, 2: 1}), ("parts", "{3", "three numbers", "0 to 1e+06")),
    (partial(ratio, (1, 1, -1)), ("parts: peroxide", "-1", "0 to 1e+06")),
    (partial(ratio, (np.nan, 1, 1)), ("parts: water", "nan", "0 to 1e+06")),
    (partial(ratio, (1, 1e7, 1)), ("parts: acid", "1e+07", "0 to 1e+06")),
    (partial(ratio, (1, "1", 1)), ("parts: acid", "'1'", "0 to 1e+06")),
    (partial(ratio, (1, None, 1)), ("parts: acid", "None", "0 to 1e+06")),
    (partial(ratio, np.ones((3, 2))), ("parts: water", "[1., 1.]", "0 to 1e+06")),
    (partial(ratio, (0, 0, 0)), ("parts", "(0, 0, 0)", "above 0 to 1e+06")),
    (partial(ratio, (1e6, 0.5, 1)), ("parts", "0.5", "0 to 1e+06")),
    (partial(ratio, (1, 5e-324, 1)), ("parts", "4.94066e-324", "0 to 1e+06")),
    (partial(inputs, acid=PEROXIDE), ("acid", "'H2O2'", "Bottle of HCl")),
    (partial(inputs, acid=0.1), ("acid", "0.1", "Bottle of HCl")),
    (partial(inputs, peroxide=None), ("peroxide", "None", "Bottle of H2O2")),
    (partial(inputs, board=27e-4), ("board", "0.0027", "Board")),
    (partial(inputs, board=Board(area=[1e-3, 2e-3])), ("board: area", "(2,)", "one board")),
    (
        partial(inputs, board=Board(area=1e-3, foil=Foil([0.1, 0.2]))),
        ("board: foil", "(2,)", "one board"),
    ),
    (partial(inputs, tray=Tray(T_air=[290, 300])), ("tray: T_air", "(2,)", "one tray")),
    (partial(inputs, tray=Tray(open_area=[0.01])), ("tray: open_area", "(1,)", "one tray")),
    (partial(inputs, tray="rocked"), ("tray", "'rocked'", "Tray")),
    (
        partial(inputs, tray=Tray(open_area=1e-3)),
        ("board area", "0.0027", "0 to open_area = 0.001"),
    ),
    (partial(inputs, parts=None), ("parts", "None", "three numbers")),
    (partial(inputs, bath_per_area=0), ("bath_per_area", "0", "0.0001 to 10 m³/m²")),
    (partial(inputs, bath_per_area=10.1), ("bath_per_area", "10.1", "0.0001 to 10 m³/m²")),
    (partial(inputs, bath_per_area=np.nan), ("bath_per_area", "nan", "0.0001 to 10 m³/m²")),
    (partial(inputs, place="Mars"), ("place", "'Mars'", "EU, GB, elsewhere")),
    (partial(inputs, place=None), ("place", "None", "EU, GB, elsewhere")),
    (partial(inputs, T_bottles=20), ("T_bottles", "20", "273.15 to 313.15 K")),
    (partial(inputs, T_bottles=401), ("T_bottles", "401", "273.15 to 313.15 K")),
    (partial(inputs, T_bottles=273.14), ("T_bottles", "273.14", "273.15 to 313.15 K")),
    (partial(inputs, T_bottles=313.16), ("T_bottles", "313.16", "273.15 to 313.15 K")),
    (partial(planned, T_bottles=250.0), ("T_bottles", "250", "273.15 to 313.15 K")),
    (partial(inputs, T_bottles=[290, 300]), ("T_bottles", "[290, 300]", "273.15 to 313.15 K")),
    (partial(inputs, used_bath=0.5), ("used_bath", "0.5", "UsedBath(share, copper, acid)")),
    (
        partial(inputs, used_bath={"share": 0.5}),
        ("used_bath", "{'share': 0.5}", "UsedBath(share, copper, acid)"),
    ),
    (partial(inputs, second=0.5), ("second", "0.5", "0 to 0.9", "5 to 7200 s")),
    (partial(inputs, second=(0.5,)), ("second", "(0.5,)", "0 to 0.9", "5 to 7200 s")),
    (partial(inputs, second=(1.1, 60)), ("second: share", "1.1", "0 to 0.9")),
    (partial(inputs, second=(0.91, 60)), ("second: share", "0.91", "0 to 0.9")),
    (partial(inputs, second=(-0.1, 60)), ("second: share", "-0.1", "0 to 0.9")),
    (partial(inputs, second=(0.0, 4.9)), ("second: time", "4.9", "5 to 7200 s")),
    (partial(inputs, second=(0.5, 4.9)), ("second: time", "4.9", "5 to 7200 s")),
    (partial(inputs, second=(0.5, 7201)), ("second: time", "7201", "5 to 7200 s")),
    (partial(inputs, second=(0.5, 0)), ("second: time", "0", "5 to 7200 s")),
    (partial(inputs, second=(0.5, 14401)), ("second: time", "14401", "5 to 7200 s")),
    (partial(inputs, second=(0.5, "soon")), ("second: time", "'soon'", "5 to 7200 s")),
    (partial(inputs, draws=0), ("draws", "0", "1 to 400")),
    (partial(inputs, draws=401), ("draws", "401", "1 to 400")),
    (partial(inputs, draws=20.0), ("draws", "20.0", "1 to 400")),
    (partial(inputs, draws=True), ("draws", "True", "1 to 400")),
    (partial(inputs, seed=-1), ("seed", "-1", "0 to 9007199254740992")),
    (partial(inputs, seed=2**53 + 1), ("seed", "9007199254740993", "0 to 9007199254740992")),
    (partial(inputs, seed=None), ("seed", "None", "0 to 9007199254740992")),
    (partial(inputs().replace, T_bottles=21), ("T_bottles", "21", "273.15 to 313.15 K")),
    (partial(inputs().replace, parts=(0, 0, 0)), ("parts", "(0, 0, 0)", "above 0")),
    (partial(plan, **POURED), ("volume", "None", "bath_per_area", "one of the two")),
    (
        partial(by_volume, 150e-6, bath_per_area=0.05),
        ("volume", "0.00015", "0.05", "one of the two"),
    ),
    (partial(by_volume, 150), ("volume", "150", "2.7e-07 to 0.027 m³")),
    (partial(by_volume, -150e-6), ("volume", "-0.00015", "2.7e-07 to 0.027 m³")),
    (partial(by_volume, "150 mL"), ("volume", "'150 mL'", "2.7e-07 to 0.027 m³")),
    (partial(by_volume, [1e-4, 2e-4]), ("volume", "[0.0001, 0.0002]", "2.7e-07 to 0.027 m³")),
    (partial(by_volume, 150e-6, board=27e-4), ("board", "0.0027", "Board")),
    (
        partial(by_volume, 150e-6, board=Board(area=[1e-3, 2e-3])),
        ("board: area", "(2,)", "one board"),
    ),
    (partial(planned, acid=PEROXIDE, peroxide=ACID), ("acid", "'H2O2'", "Bottle of HCl")),
    (partial(planned, place="eu"), ("place", "'eu'", "EU, GB, elsewhere")),
    (partial(planned, tray="still"), ("tray", "'still'", "Tray")),
    (partial(planned, draws=500), ("draws", "500", "1 to 400")),
    (partial(planned, second=(0.5, -1)), ("second: time", "-1", "5 to 7200 s")),
]


@pytest.mark.parametrize("number", range(len(IMPOSSIBLE)))
def test_impossible_input_is_refused_by_name_value_and_limits(number):
    attempt, words = IMPOSSIBLE[number]
    with pytest.raises(ValueError) as refusal:
        attempt()
    message = str(refusal.value)
    for word in words:
        # "12" must not be found in "0.12"
        whole_word = rf"(?<![\w.]){re.escape(word)}" if word[0].isalnum() else re.escape(word)
        assert re.search(whole_word, message), (word, message)
    assert len(message) < 500


@pytest.mark.parametrize(
    ("changes", "field", "low", "high", "unit"),
    [
        ({"bath_per_area": 20.0}, "bath_per_area", 1e-4, 10.0, "m³/m²"),
        ({"T_bottles": 20.0}, "T_bottles", 273.15, 313.15, "K"),
        ({"second": (0.5, 4.0)}, "second: time", 5.0, 7200.0, "s"),
        ({"parts": (1, 1, 1e7)}, "parts: peroxide", 0.0, 1e6, ""),
        ({"draws": 500}, "draws", 1, 400, ""),
        ({"parts": (0, 0, 0)}, "parts", 0.0, 1e6, ""),
    ],
)
def test_a_refusal_carries_its_parts(changes, field, low, high, unit):
    """So that a page can say it in its own words."""
    with pytest.raises(InputError) as refusal:
        inputs(**changes)
    error = refusal.value
    assert (error.field, error.low, error.high, error.unit) == (field, low, high, unit)


def test_inputs_hold_copies_and_cannot_be_changed():
    parts = [3.0, 1.0, 1.0]
    mild = inputs(parts=parts)
    parts[0] = -5.0
    assert mild.parts == (3.0, 1.0, 1.0)
    for thing, name in ((mild, "draws"), (ACID, "low"), (UsedBath(0.5, 1, 1), "share")):
        with pytest.raises(AttributeError):
            setattr(thing, name, -1)


def test_the_ends_of_what_a_plan_takes_are_taken():
    """Common practice, no source: bottles from 0 to 40 °C, at most nine tenths held back.

    And from 5 s to two hours.
    """
    for T in (0, 40):
        assert inputs(T_bottles=273.15 + T).T_bottles == 273.15 + T
    for second in ((0.9, 7200), (1e-6, 5), [0.5, 60]):
        assert inputs(second=second).second == tuple(second)


@pytest.mark.parametrize("nothing", [0, 0.0, -0.0, np.float64(0)])
def test_nothing_held_back_is_no_second_portion(nothing):
    assert inputs(second=(nothing, 60)).second is None
    assert inputs().replace(second=[nothing, 5]).second is None


# Bottles


@pytest.mark.parametrize(
    ("substance", "label", "low", "high"),
    [
        # acid within 1 % by weight of its label, peroxide at 85 to 100 % of it: common practice,
        # no source
        ("HCl", 0.10, 0.09, 0.11),
        ("HCl", 0.30, 0.29, 0.31),
        ("HCl", 0.005, 0.0, 0.015),
        ("HCl", 0.0, 0.0, 0.01),
        ("HCl", 0.45, 0.44, 0.45),
        ("H2O2", 0.12, 0.102, 0.12),
        ("H2O2", 0.03, 0.0255, 0.03),
        ("H2O2", 0.70, 0.595, 0.70),
        ("H2O2", 0.0, 0.0, 0.0),
    ],
)
def test_as_printed_the_doubt_of_a_label(substance, label, low, high):
    bottle = Bottle.labelled(substance, label)
    assert (bottle.low, bottle.high, bottle.label) == pytest.approx((low, high, label), abs=1e-12)


ENDS = st.tuples(st.floats(0, 0.45), st.floats(0, 0.45)).map(sorted)


@given(ends=ENDS, draws=st.integers(1, 400), seed=st.integers(0, 2**53))
@settings(max_examples=40, deadline=None)
def test_every_strength_lies_between_both_ends(ends, draws, seed):
    bottle = Bottle("HCl", *ends)
    strengths = np.asarray(bottle.strengths(draws, seed))
    assert strengths.shape == (draws,)
    assert bottle.low <= strengths.min() <= strengths.max() <= bottle.high
    assert bottle.low <= bottle.middle <= bottle.high
    assert np.array_equal(strengths, bottle.strengths(draws, seed))


def test_all_strengths_are_equally_likely():
    # a uniform spread has its mean in the middle and a standard deviation of its width over root 12
    strengths = np.asarray(Bottle("H2O2", 0.05, 0.11).strengths(400, 3))
    assert strengths.mean() == pytest.approx(0.08, abs=4 * 0.06 / np.sqrt(12 * 400))
    assert strengths.std() == pytest.approx(0.06 / np.sqrt(12), rel=0.15)


# A used bath


def test_what_a_kept_bath_holds_is_drawn_over_its_own_span():
    drawn = UsedBath(0.5, copper=(100, 300), acid=(1000, 2000), peroxide=50).contents(400, 11)
    assert list(drawn) == ["copper", "acid", "peroxide"]
    for name, low, high in (("copper", 100, 300), ("acid", 1000, 2000), ("peroxide", 50, 50)):
        assert low <= drawn[name].min() <= drawn[name].max() <= high
        assert np.ptp(drawn[name]) >= 0.9 * (high - low)
    # independent: the correlation of 400 pairs is within 4/sqrt(400) of none
    assert abs(np.corrcoef(drawn["copper"], drawn["acid"])[0, 1]) < 0.2


@given(
    T=st.floats(250, 400),
    copper=st.floats(0, MOST_USED["copper"]),
    acid=st.floats(0, MOST_USED["acid"]),
    peroxide=st.floats(0, MOST_USED["peroxide"]),
    volume=st.just(0.0) | st.floats(1e-7, 1.0),
)
@example(T=250.0, copper=3000.0, acid=8000.0, peroxide=5000.0, volume=1e-4)
@example(T=400.0, copper=3000.0, acid=8000.0, peroxide=5000.0, volume=1e-4)
@example(T=293.15, copper=0.0, acid=0.0, peroxide=0.0, volume=0.0)
@settings(max_examples=100, deadline=None)
def test_a_kept_bath_holds_what_was_said_of_it(T, copper, acid, peroxide, volume):
    # it says nothing of ranges: warnings are errors here
    bath = used_bath_solution(volume, T, copper, acid, peroxide)
    asked = {"CuCl2": copper, "HCl": acid, "H2O2": peroxide}
    for substance, concentration in asked.items():
        expected = pytest.approx(concentration * volume, rel=1e-9, abs=1e-15)
        assert float(bath.amount(substance)) == expected
    assert float(bath.T) == T and float(bath.mass) >= 0
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        found = [float(bath.concentration(substance)) for substance in asked]
        assert float(bath.volume) == pytest.approx(volume, rel=1e-9)
    assert found == pytest.approx(list(asked.values()), rel=1e-9, abs=1e-12)


def test_many_kept_baths_at_once_are_each_as_one_alone():
    copper, volume = as_draws([100.0, 2000.0, 3000.0]), np.array([[1e-4], [2e-4]])
    both = used_bath_solution(volume, 290.0, copper, 1500.0, 0.0)
    assert both.shape == (2, 3) and both.draws == 3
    for row in range(2):
        for column in range(3):
            alone = used_bath_solution(volume[row, 0], 290.0, float(copper[column]), 1500.0, 0.0)
            assert both.plain_mass[row, column] == pytest.approx(float(alone.plain_mass), rel=1e-11)


# Parts

PART = st.floats(1e-3, 1e3)


@given(
    water=st.just(0.0) | PART, acid=st.just(0.0) | PART, peroxide=PART, factor=st.floats(1e-3, 1e3)
)
@settings(max_examples=100, deadline=None)
def test_a_ratio_does_not_change_with_the_jug(water, acid, peroxide, factor):
    found = ratio((water, acid, peroxide))
    larger = ratio((factor * water, factor * acid, factor * peroxide))
    assert larger == pytest.approx(found, rel=1e-12)
    assert min(part for part in found[1:] if part) == 1.0
    assert found[0] * peroxide == pytest.approx(water * found[2], rel=1e-12)
    assert found[1] * peroxide == pytest.approx(acid * found[2], rel=1e-12)
    assert ratio(found) == found == inputs(parts=found).replace(seed=1).parts


@pytest.mark.parametrize(
    ("parts", "found"),
    [
        ((225, 75, 75), (3, 1, 1)),
        ((0, 2, 5), (0, 1, 2.5)),
        ((4, 0, 2), (2, 0, 1)),
        ((4, 2, 0), (2, 1, 0)),
        ((5, 0, 0), (1, 0, 0)),
        (np.array([1, 4, 2]), (0.5, 2, 1)),
        ([1e6, 1, 1], (1e6, 1, 1)),
    ],
)
def test_the_smaller_of_acid_and_peroxide_counts_one(parts, found):
    assert ratio(parts) == found
