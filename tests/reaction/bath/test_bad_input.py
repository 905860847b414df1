"""Law: impossible input is refused, by a ValueError that holds the argument's name, the value and the limits."""

import re
import warnings

import numpy as np
import pytest

from pcbchem import (
    Band,
    Board,
    Foil,
    RangeWarning,
    RateParameters,
    Solution,
    Tray,
    etch,
    mix,
    stand,
)
from pcbchem.common.band import between
from pcbchem.common.units import celsius, percent
from pcbchem.reaction.bath.film_properties import viscosity
from pcbchem.reaction.bath.rate import flux
from pcbchem.reaction.bath.setup import Start

BATH = Solution.of(volume=150e-6, T=celsius(21), HCl=0.05, H2O2=0.06)
BOARD = Board(area=27e-4, foil=Foil.ounces(1))
ROOMY = dict(HCl=1000.0, H2O2=1000.0, T=295.0, volume=1e-4)

CASES = [  # what is tried, and the words that the message must hold: name, value, limit
    (lambda: Solution.of(volume=-1e-6, T=293), ("volume", "-1e-06", "1000")),
    (lambda: Solution.of(volume=np.nan, T=293), ("volume", "nan", "0 to 1000")),
    (lambda: Solution.of(volume=1e-3, T=20), ("T", "20", "250 to 400")),
    (lambda: Solution.of(volume=1e-3, T=np.inf), ("T", "inf", "400")),
    (lambda: Solution.of(volume=1e-3, T=293, HCl=31.45), ("HCl", "31.45", "0.45")),
    (lambda: Solution.of(volume=1e-3, T=293, HCl=-0.1), ("HCl", "-0.1", "0 to")),
    (lambda: Solution.of(volume=1e-3, T=293, H2O2=0.71), ("H2O2", "0.71", "0.7")),
    (lambda: Solution.of(volume=1e-3, T=293, H2O2=0.7, HCl=0.4), ("H2O2", "1.1", "below 1")),
    (lambda: Solution.of(volume=1e-3, T=293, HNO3=0.1), ("HNO3", "0.1", "HCl")),
    (lambda: Solution.of(volume=1e-3, T=293, NaOH=0.1, HCl=0.1), ("NaOH", "0.1", "0")),
    (lambda: BATH.concentration("FeCl3"), ("substance", "FeCl3", "HCl")),
    (lambda: mix(), ("solutions", "()", "1")),
    (lambda: mix(Solution.of(volume=0, T=293)), ("mass", "0", "above 0")),
    (lambda: celsius(293.15), ("celsius", "293.15", "-23.15")),
    (lambda: percent(101), ("percent", "101", "0 to 100")),
    (lambda: between(0.1, 0.2, draws=0, seed=1), ("draws", "0", "400")),
    (lambda: between(0.1, 0.2, draws=401, seed=1), ("draws", "401", "400")),
    (lambda: between(0.2, 0.1, draws=10, seed=1), ("low", "0.2", "0.1")),
    (lambda: Foil(areal_mass=0), ("areal_mass", "0", "above 0")),
    (lambda: Foil.ounces(-1), ("weight", "-1", "0")),
    (lambda: Board(area=-1e-4), ("area", "-0.0001", "0")),
    (lambda: Board(width=0.1, height=0.1, bare=1.2), ("bare", "1.2", "1")),
    (lambda: Board(width=75, height=0.06, bare=0.6), ("width", "75", "2")),
    (lambda: Tray(agitation="shaken"), ("agitation", "shaken", "rocked")),
    (lambda: Tray(facing="sideways"), ("facing", "sideways", "upright")),
    (lambda: Tray(open_area=0), ("open_area", "0", "above 0")),
    (lambda: Tray(T_air=20), ("T_air", "20", "250 to 400")),
    (lambda: RateParameters.plausible(0), ("draws", "0", "1 to 400")),
    (lambda: RateParameters.plausible(401), ("draws", "401", "1 to 400")),
    (lambda: RateParameters.plausible(2.5), ("draws", "2.5", "1 to 400")),
    (lambda: RateParameters(surface_rate=-1), ("surface_rate", "-1", "above 0")),
    (lambda: RateParameters().replace(decay_rate=np.nan), ("decay_rate", "nan", "above 0")),
    (lambda: RateParameters().replace(speed=3), ("speed", "3", "surface_rate")),
    (lambda: Start(**{**ROOMY, "HCl": -1.0}), ("HCl", "-1", "0 to 20000")),
    (lambda: Start(**{**ROOMY, "H2O2": np.inf}), ("H2O2", "inf", "30000")),
    (lambda: Start(**{**ROOMY, "volume": 0.0}), ("volume", "0", "1e-07 to 1000")),
    (lambda: Start(**{**ROOMY, "T": 22.0}), ("T", "22", "250 to 400")),
    (
        lambda: etch(Solution.of(volume=0, T=293, HCl=0.1, H2O2=0.1), BOARD),
        ("bath volume", "0", "1e-07 to 1000"),
    ),
    (
        lambda: etch(Solution.of(volume=1e-4, T=293, NaOH=0.01), BOARD),
        ("NaOH", "0.01", "must be 0"),
    ),
    (lambda: etch(BATH, Board(area=2.0)), ("depth of the bath", "5.7", "0.0001 to")),
    (lambda: etch("bath", BOARD), ("bath", "'bath'", "Solution")),
    (lambda: etch(BATH, 27e-4), ("board", "0.0027", "Board(")),
    (lambda: etch(BATH, BOARD, "rocked"), ("tray", "'rocked'", "Tray(")),
    (lambda: etch(BATH, BOARD, parameters=1.0), ("parameters", "1.0", "RateParameters()")),
    (lambda: etch(BATH, BOARD, without=("gravity",)), ("without", "gravity", "gas stirring")),
    (
        lambda: etch(BATH, BOARD, without="heat of mixing"),
        ("without", "heat of mixing", "gas stirring"),
    ),
    (lambda: etch(BATH, BOARD, tolerance=0), ("tolerance", "0", "0.1")),
    (lambda: etch(BATH, Board(area=100e-4), Tray(open_area=50e-4)), ("board", "0.01", "0.005")),
    (
        lambda: etch(
            Solution.of(volume=1e-4, T=293, HCl=between(0.04, 0.05, draws=50, seed=1), H2O2=0.06),
            BOARD,
            parameters=RateParameters.plausible(60),
        ),
        ("draws", "50", "60"),
    ),
    (
        lambda: etch(
            Solution.of(volume=np.array([1e-4, 2e-4, 3e-4]), T=293, HCl=0.05, H2O2=0.06),
            BOARD,
            parameters=RateParameters.plausible(60),
        ),
        ("draws", "60", "3"),
    ),
    (lambda: etch(BATH, BOARD).at([1.0]), ("history", "False", "True")),
    (lambda: etch(BATH, BOARD, history=True).at([-1.0]), ("times", "-1", "0 to")),
    (lambda: etch(BATH, BOARD).band("colour"), ("name", "colour", "time_to_clear")),
    (lambda: Band.of([1.0, 2.0], 2, weights=[0.0, -1.0]), ("weights", "-1", "0 to")),
    (lambda: Band.of([1.0, 2.0], 2, weights=[0.0, 0.0]), ("weights", "0", "above 0")),
    (lambda: stand(BATH, duration=0), ("duration", "0", "above 0")),
    (lambda: stand(BATH, duration=-60), ("duration", "-60", "above 0")),
    (lambda: flux(1000, 1000, 20, 1e-3), ("T", "20", "250 to 400")),
    (lambda: flux(1000, 1000, 293, 0), ("area", "0", "above 0")),
    (lambda: flux(1000, 1000, 293, 1e-3, without=("luck",)), ("without", "luck", "gas stirring")),
    (
        lambda: flux(1000, 1000, 293, 1e-3, without="depletion"),
        ("without", "depletion", "gas stirring"),
    ),
    (lambda: viscosity(300, np.nan), ("acid", "nan", "0 to 20000")),
    (lambda: stand(BATH, tolerance=0), ("tolerance", "0", "0.1")),
    (
        lambda: mix(
            Solution.of(volume=1e-4, T=400, HCl=0.45), Solution.of(volume=1e-4, T=400, H2O2=0.7)
        ),
        ("temperature of mixing", "44", "250 to 400"),
    ),
    (lambda: Solution.from_amounts(mass=1.0, T=293, HCl=27.4), ("HCl", "0.999", "0 to 0.45")),
    (
        lambda: Solution.from_amounts(mass=[1.0, 2.0], T=293, HCl=[1, 2, 3]),
        ("mass", "(2,)", "HCl (3,)"),
    ),
    (
        lambda: etch(
            Solution.of(volume=np.full(60, 1e-4), T=293, HCl=0.05, H2O2=0.06),
            BOARD,
            parameters=RateParameters.plausible(60),
        ),
        ("plain last axis", "60", "draw axis"),
    ),
    (lambda: Band.of([np.nan, 1.0], 2), ("values", "nan", "numbers")),
]


@pytest.mark.parametrize("number", range(len(CASES)))
def test_impossible_input_is_refused_by_name_value_and_limits(number):
    attempt, words = CASES[number]
    with pytest.raises(ValueError) as refusal:
        attempt()
    for word in words:
        assert re.search(
            rf"(?<![\w.]){re.escape(word)}" if word[0].isalnum() else re.escape(word),
            str(refusal.value),
        ), f"{word!r} is not in: {refusal.value}"


def test_what_was_given_may_change_afterwards():
    # law: a bath, a board and a parameter set hold copies
    T, area = np.array([290.0, 300.0]), np.array([1e-3, 2e-3])
    bath, board = Solution.of(volume=1e-4, T=T, HCl=0.05), Board(area=area)
    T[0], area[0] = 5000.0, -5.0
    assert list(bath.T) == [290.0, 300.0] and list(board.area) == [1e-3, 2e-3]


@pytest.mark.parametrize(
    ("bath", "worst"),
    [
        (Start(**{**ROOMY, "T": 340.0}), "340"),
        (Start(**{**ROOMY, "HCl": 7000.0, "H2O2": 5100.0}), "7000"),
        (Solution.of(volume=1e-4, T=340.0, HCl=0.1, H2O2=0.1), "340"),
    ],
)
def test_one_warning_outside_the_range_naming_the_worst(bath, worst):
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        run = etch(bath, BOARD)
    assert [w.category for w in said] == [RangeWarning]
    assert worst in str(said[0].message)
    assert said[0].filename == __file__
    assert np.isfinite(run.peak_temperature)


def test_a_band_with_draws_that_never_clear_is_free_of_nan():
    weak = Start(HCl=4904.0, H2O2=200.0, T=300.0, volume=60e-6)
    band = etch(weak, Board(area=40e-4), Tray("still"), RateParameters.plausible(100)).band(
        "time_to_clear"
    )
    assert band.never > 0.5
    assert np.isinf(band.high)
    assert not np.isnan([band.low, band.middle, band.high, band.over(60.0), band.never]).any()
    assert band.over(60.0) >= band.never
