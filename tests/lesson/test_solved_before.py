"""Law: what tests of pages remember of a bath is what the solver says of it, and of no other."""

from unittest.mock import patch

import numpy as np
import pytest
from helpers.solved_before import SOLVED, SolvedBefore

import pcbchem.reaction.bath.bath as solving
from pcbchem import Board, RateParameters, Solution, Tray, etch

BATH = Solution.of(volume=150e-6, T=295.0, HCl=0.1, H2O2=0.04)
NEXT = Solution.of(volume=150e-6, T=295.0 * (1 + 1e-14), HCl=0.1, H2O2=0.04)


def run(bath=BATH, tolerance=1e-3, tray=None):
    parameters = RateParameters.plausible(20)
    return etch(bath, Board(area=27e-4), tray or Tray(), parameters, tolerance=tolerance)


@pytest.fixture
def asked():
    """What the solver itself is asked, with nothing remembered yet."""
    remembered, calls = SolvedBefore(), []
    solve = SOLVED.solve
    remembered.solve = lambda *given: calls.append(given) or solve(*given)
    with patch.object(solving, "solve", remembered):
        yield calls


def test_law_the_same_bath_is_solved_once_and_any_other_anew(asked):
    with patch.object(solving, "solve", SOLVED.solve):
        by_solver = run().time_to_clear
    for _ in range(2):
        assert np.array_equal(run().time_to_clear, by_solver)
    assert len(asked) == 1
    others = {"bath": NEXT}, {"tolerance": 2e-3}, {"tray": Tray(agitation="still")}
    for other in others:
        run(**other)
    assert len(asked) == 1 + len(others), "the last digits count"


def test_law_nobody_changes_what_is_remembered(asked):
    course = solving.solve(*asked[0]) if run() and asked else None
    with pytest.raises(ValueError, match="read-only"):
        course.ends[0] = 0.0
