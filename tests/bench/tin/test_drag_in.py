"""What a board that was not rinsed brings into a tin bath: conserved, less with each dish."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.bottle import Bottle
from pcbchem.bench.plan import plan
from pcbchem.bench.tin import boards_until_spent, tin_amount, tin_killed
from pcbchem.bench.tin.drag_in import DISH, PER_PEROXIDE
from pcbchem.bench.waste import FILM, Rest, carried, films, rest_of, rinse
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.reaction.bath.setup import Board
from pcbchem.reaction.chemistry import electrons

BOARD = 0.009
"""Both faces of 75 × 60 mm [m²]."""
TRACES = 18e-4
"""Copper that is left on it for the tin [m²]."""
FILM_MIDDLE = 1.5e-4
TIN = 8e-3
"""All the tin of a small bath [mol]."""


@pytest.fixture(scope="module")
def used() -> Rest:
    """The mild bath of 150 mL when the board of 27 cm² comes out, over its draws."""
    acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    mild = plan(acid, peroxide, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    return rest_of(mild)


def test_law_one_for_one_by_their_electrons():
    # tin(II) gives two electrons more, peroxide takes two
    assert electrons("peroxide") / electrons("tin") == PER_PEROXIDE


def test_second_source_an_unrinsed_board_by_hand():
    # 90 cm² times 0.15 mm are 1.35 mL; of 1.57 mol/L they hold 2.12 mmol
    assert tin_killed(1570.0, FILM_MIDDLE, BOARD) * 1000 == pytest.approx(1.35 * 1.57, rel=1e-9)


def test_second_source_rinsed_once_by_hand():
    # 2.12 mmol in 201.35 mL, of which 1.35 mL go on with the board: 0.0142 mmol
    killed = tin_killed(1570.0, FILM_MIDDLE, BOARD, dishes=1)
    assert killed * 1000 == pytest.approx(2.1195 / 201.35 * 1.35, rel=1e-4)


@given(st.floats(1, 5000), st.floats(1e-5, 1e-3), st.floats(1e-5, 0.1), st.floats(1e-5, 1e-2))
def test_law_what_the_dishes_keep_and_what_goes_on_is_what_came(peroxide, film, area, water):
    came = tin_killed(peroxide, film, area)
    kept = sum(rinse(peroxide, film, area, water, dish) * water for dish in (1, 2, 3))
    goes_on = tin_killed(peroxide, film, area, 3, water)
    assert kept + goes_on == pytest.approx(came, rel=1e-9)


@given(st.floats(1, 5000), st.floats(1e-5, 1e-3), st.floats(1e-4, 0.1), st.floats(1e-5, 1e-2))
def test_law_two_dishes_leave_less_than_one_and_one_less_than_none(peroxide, film, area, water):
    none, one, two = tin_killed(peroxide, film, area, [0, 1, 2], water)
    assert none > one > two > 0
    assert two / one == pytest.approx(one / none, rel=1e-9)


def test_law_two_dishes_are_better_than_one_of_twice_the_water():
    once = tin_killed(1570.0, FILM_MIDDLE, BOARD, 1, 2 * DISH)
    assert tin_killed(1570.0, FILM_MIDDLE, BOARD, 2, DISH) < once / 50


def test_law_a_stronger_bath_a_thicker_film_and_a_larger_board_bring_more():
    for peroxide in ([100.0, 500.0, 2000.0], [0.0, 1.0, 2.0]):
        assert np.all(np.diff(tin_killed(peroxide, FILM_MIDDLE, BOARD, 1)) > 0)
    assert np.all(np.diff(tin_killed(1570.0, [1e-4, 1.5e-4, 2e-4], BOARD, 1)) > 0)
    assert np.all(np.diff(tin_killed(1570.0, FILM_MIDDLE, [0.001, 0.01, 0.1], 1)) > 0)
    assert np.all(np.diff(tin_killed(1570.0, FILM_MIDDLE, BOARD, 1, [1e-4, 2e-4, 1e-3])) < 0)


def test_law_without_peroxide_or_film_nothing_is_killed():
    assert tin_killed(0.0, FILM_MIDDLE, BOARD) == tin_killed(1570.0, 0.0, BOARD) == 0


def test_law_the_used_bath_and_the_film_are_in_doubt_together(used):
    killed = tin_killed(used.H2O2, films(used.draws), BOARD)
    assert isinstance(killed, Draws) and killed.shape == (used.draws,)
    # each draw lies between what the thinnest and the thickest film would carry of it
    bounds = [used.H2O2 * carried(end, BOARD) for end in FILM]
    assert np.all((killed >= bounds[0]) & (killed <= bounds[1]))
    # the two doubts know nothing of each other
    assert abs(np.corrcoef(used.H2O2, films(used.draws))[0, 1]) < 0.2


def test_law_an_unrinsed_board_takes_more_than_its_own_coating_in_every_draw(used):
    killed = np.asarray(tin_killed(used.H2O2, films(used.draws), BOARD))
    coating = float(tin_amount(1e-6, TRACES))
    assert np.all(killed > 5 * coating)
    # by hand: 1.35 mL of about 1.57 mol/L are 2.1 mmol, 19 times 0.11
    assert np.median(killed) / coating == pytest.approx(19, rel=0.1)
    # and a quarter of all the tin in a small bath
    assert np.median(killed) / TIN == pytest.approx(0.26, abs=0.03)


def test_law_rinsed_once_it_is_less_than_the_coating_in_every_draw(used):
    killed = np.asarray(tin_killed(used.H2O2, films(used.draws), BOARD, 1))
    assert np.all(killed < tin_amount(1e-6, TRACES))


# ---- how many boards


@given(st.floats(1e-5, 1.0), st.floats(1e-7, 1e-2), st.floats(0, 1e-2))
def test_law_what_all_boards_take_is_all_the_tin(tin, killed, used_each):
    boards = boards_until_spent(tin, killed, used_each)
    assert boards * (killed + used_each) == pytest.approx(tin, rel=1e-12)
    assert boards_until_spent(tin, killed) >= boards


def test_second_source_boards_by_hand():
    # 8 mmol at 2.12 each: the fourth board finds too little
    assert boards_until_spent(TIN, 2.12e-3) == pytest.approx(3.77, abs=0.01)


def test_law_a_board_that_kills_nothing_still_takes_its_coating():
    assert boards_until_spent(TIN, 0.0, 0.11e-3) == pytest.approx(8 / 0.11, rel=1e-9)
    assert boards_until_spent(0.0, 1e-3) == 0


def test_law_draws_stay_draws():
    boards = boards_until_spent(TIN, as_draws([1e-3, 2e-3, 3e-3]), [[1e-4], [2e-4]])
    assert isinstance(boards, Draws) and boards.shape == (2, 3)


K = (1570.0, FILM_MIDDLE, BOARD)

REFUSED: list[Case] = [
    ("peroxide below 0", lambda: tin_killed(-1, 1e-4, BOARD), ("peroxide = -1", "0 to 30000")),
    ("peroxide nan", lambda: tin_killed(NAN, 1e-4, BOARD), ("peroxide = nan", "mol/m³")),
    ("too strong", lambda: tin_killed(4e4, 1e-4, BOARD), ("peroxide = 40000", "30000 mol/m³")),
    ("peroxide in words", lambda: tin_killed("12 %", 1e-4, BOARD), ("peroxide", "not a number")),
    ("film below 0", lambda: tin_killed(1e3, -1e-4, BOARD), ("film = -0.0001", "0 to 0.002 m")),
    ("film in mm", lambda: tin_killed(1e3, 0.15, BOARD), ("film = 0.15", "0 to 0.002 m")),
    ("area below 0", lambda: tin_killed(1e3, 1e-4, -1), ("area = -1", "0 to 4 m²")),
    ("area in cm²", lambda: tin_killed(1e3, 1e-4, 90), ("area = 90", "0 to 4 m²")),
    ("dishes below 0", lambda: tin_killed(*K, dishes=-1), ("dishes = -1", "0 to 20")),
    ("half a dish", lambda: tin_killed(*K, dishes=0.5), ("dishes = 0.5", "whole number")),
    ("many dishes", lambda: tin_killed(*K, dishes=21), ("dishes = 21", "0 to 20")),
    ("dry dish", lambda: tin_killed(*K, 1, 0.0), ("water = 0", "above 0 to 1 m³")),
    ("dry, unrinsed", lambda: tin_killed(*K, 0, -1.0), ("water = -1", "above 0 to 1 m³")),
    ("water in mL", lambda: tin_killed(*K, 1, 200), ("water = 200", "above 0 to 1 m³")),
    ("water infinite", lambda: tin_killed(*K, 1, INF), ("water = inf",)),
    ("shapes", lambda: tin_killed([1, 2], [1e-4, 1e-4, 2e-4], BOARD), ("film",)),
    ("tin below 0", lambda: boards_until_spent(-1, 1e-3), ("tin = -1", "0 to 1000 mol")),
    ("tin nan", lambda: boards_until_spent(NAN, 1e-3), ("tin = nan",)),
    ("killed below 0", lambda: boards_until_spent(1, -1e-3), ("killed = -0.001", "0 to 1000 mol")),
    ("used below 0", lambda: boards_until_spent(1, 1e-3, -1), ("used = -1", "0 to 1000 mol")),
    ("used infinite", lambda: boards_until_spent(1, 1e-3, INF), ("used = inf",)),
    ("takes nothing", lambda: boards_until_spent(1, 0.0), ("killed = 0", "for ever")),
    ("one takes nothing", lambda: boards_until_spent(1, [1e-3, 0.0]), ("killed = 0", "above 0")),
    (
        "two draws",
        lambda: boards_until_spent(1, as_draws([1e-3, 2e-3]), as_draws([1e-3, 1e-3, 1e-3])),
        ("killed", "used"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
