"""What is left of the workshop's baths is what the bench leaves of them (laws)."""

import numpy as np
import pytest

from pcbchem.bench.plan.outlook import etched
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.bath.used_bath import FACES, RINSE_WATER, used_bath
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.reaction.bath.parameters import RateParameters


@pytest.mark.parametrize(("bottles", "parts"), [("mild", 0.0), ("weak", 1.0)])
def test_law_it_is_the_bench_s_over_the_draws_as_they_are(bottles, parts):
    inputs = bath(bottles, parts=parts)
    with collecting_warnings():
        etching = etched(inputs, parameters=RateParameters.plausible(inputs.draws))
    rest = used_bath(bottles, parts)
    left = np.asarray(rest.H2O2)
    # some of a weak bath's draws have used it up
    assert left.shape == (int(inputs.draws),) and np.all(left >= 0) and np.median(left) > 0
    volume = np.asarray(etching.bath_after.volume)
    assert left == pytest.approx(np.asarray(etching.bath_after.amount("H2O2")) / volume)
    # counted once
    assert used_bath(bottles, parts) is rest


def test_law_all_of_the_board_is_wet_on_both_sides():
    board = tide_clock()
    assert pytest.approx(2 * float(board.width) * float(board.height)) == FACES
    assert pytest.approx(0.2e-3) == RINSE_WATER
