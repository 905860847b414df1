"""What a board carries into its rinse: conserved, less from dish to dish, and what is refused."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.waste import FILM, carried, films, rinse
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.properties import MOLAR_MASS

BOARD = 0.009
"""Both faces of 75 × 60 mm [m²]."""


def test_second_source_the_first_dish_by_hand():
    # 1.35 mL of 5.46 g/L into 200 mL: 7.4 mg, 37 mg in a litre
    copper = rinse(86.0, 1.5e-4, BOARD, 2e-4) * MOLAR_MASS["Cu"] * 1000
    assert copper == pytest.approx(7.378 / 0.20135, rel=1e-3)


@given(st.floats(1, 5000), st.floats(1e-5, 1e-3), st.floats(1e-5, 0.1), st.floats(1e-5, 1e-2))
def test_law_what_clings_is_in_the_dish_and_on_the_board(concentration, film, area, volume):
    clinging = carried(film, area)
    dish = rinse(concentration, film, area, volume)
    assert dish * (volume + clinging) == pytest.approx(concentration * clinging, rel=1e-9)


def test_law_each_dish_is_to_the_last_as_the_first_is_to_the_bath():
    dishes = np.asarray(rinse(86.0, 1.5e-4, BOARD, 1e-4, [1, 2, 3, 4]))
    shares = dishes / np.array([86.0, *dishes[:-1]])
    assert np.allclose(shares, shares[0], rtol=1e-12)
    assert np.all(dishes > 0)  # never none of it


def test_law_more_clings_more_is_carried_and_more_water_makes_it_weaker():
    assert np.all(np.diff(rinse(86.0, [1e-4, 1.5e-4, 2e-4], BOARD, 1e-4)) > 0)
    assert np.all(np.diff(rinse(86.0, 1.5e-4, BOARD, [1e-4, 2e-4, 4e-4])) < 0)
    assert rinse(86.0, 0.0, BOARD, 1e-4) == 0 == carried(1e-4, 0.0)


def test_law_no_dish_is_the_bath_itself():
    assert rinse(86.0, 1.5e-4, BOARD, 1e-4, 0) == 86.0


def test_law_the_film_lies_between_its_ends_and_is_the_same_each_time():
    film = films(200)
    assert np.all((film >= FILM[0]) & (film <= FILM[1])) and isinstance(film, Draws)
    assert np.array_equal(film, films(200))
    # both ends are tried, and the middle is no end
    assert np.quantile(film, [0.1, 0.5, 0.9]) == pytest.approx([1.1e-4, 1.5e-4, 1.9e-4], abs=8e-6)


def test_law_draws_stay_draws():
    copper = as_draws([80.0, 86.0, 90.0])
    assert isinstance(rinse(copper, 1.5e-4, BOARD, 1e-4), Draws)
    assert np.shape(rinse(copper, 1.5e-4, BOARD, 1e-4, [[1], [2]])) == (2, 3)


REFUSED: list[Case] = [
    ("concentration", lambda: rinse(-1, 1e-4, BOARD, 1e-4), ("concentration = -1", "0 to 30000")),
    ("concentration nan", lambda: rinse(NAN, 1e-4, BOARD, 1e-4), ("concentration = nan",)),
    ("too strong", lambda: rinse(4e4, 1e-4, BOARD, 1e-4), ("concentration = 40000", "mol/m³")),
    ("film", lambda: rinse(86, -1e-4, BOARD, 1e-4), ("film = -0.0001", "0 to 0.002 m")),
    ("film in mm", lambda: rinse(86, 0.15, BOARD, 1e-4), ("film = 0.15", "0 to 0.002 m")),
    ("area", lambda: rinse(86, 1e-4, -1.0, 1e-4), ("area = -1", "0 to 4 m²")),
    ("area in cm²", lambda: rinse(86, 1e-4, 90.0, 1e-4), ("area = 90", "0 to 4 m²")),
    ("no water", lambda: rinse(86, 1e-4, BOARD, 0.0), ("volume = 0", "above 0 to 1 m³")),
    ("water in mL", lambda: rinse(86, 1e-4, BOARD, 100.0), ("volume = 100", "above 0 to 1")),
    ("water infinite", lambda: rinse(86, 1e-4, BOARD, INF), ("volume = inf",)),
    ("less than no dish", lambda: rinse(86, 1e-4, BOARD, 1e-4, -1), ("dishes = -1", "0 to 20")),
    ("half a dish", lambda: rinse(86, 1e-4, BOARD, 1e-4, [1, 1.5]), ("dishes = 1.5", "whole")),
    ("many dishes", lambda: rinse(86, 1e-4, BOARD, 1e-4, 21), ("dishes = 21", "0 to 20")),
    ("words", lambda: rinse(86, "thin", BOARD, 1e-4), ("film", "'thin'", "not a number")),
    ("carried", lambda: carried(1.0, BOARD), ("film = 1", "0 to 0.002 m")),
    ("shapes", lambda: rinse([1, 2], 1e-4, BOARD, [1e-4, 2e-4, 3e-4]), ("concentration", "volume")),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
