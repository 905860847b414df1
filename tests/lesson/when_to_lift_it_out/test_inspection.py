"""Each made-up board has a cut, a bridge and a haze, in three fields, all to be seen (laws)."""

import numpy as np
import pytest
from scipy import ndimage

from pcbchem.lesson.when_to_lift_it_out.inspection import (
    FAULTS,
    FIELD,
    HEIGHT,
    PIXEL,
    TRACES,
    WIDTH,
    made_up,
)

BOARDS = range(1, 21)
ACROSS, DOWN = round(WIDTH / PIXEL), round(HEIGHT / PIXEL)


def pieces(copper):
    """How many pieces of copper hang together."""
    return ndimage.label(copper, structure=np.ones((3, 3)))[1]


def where(points):
    """Where points lie: their ends across and down [mm]."""
    rows, columns = np.nonzero(points)
    ends = np.array([columns.min(), columns.max() + 1, rows.min(), rows.max() + 1])
    return PIXEL * ends


@pytest.mark.parametrize("seed", BOARDS)
def test_law_three_faults_lie_in_three_fields(seed):
    board = made_up(seed)
    assert tuple(fault.name for fault in board.faults) == FAULTS
    assert len(set(board.fields.values())) == 3
    for fault in board.faults:
        assert fault.field == "ABCDE"[int(fault.x / FIELD)] + "1234"[int(fault.y / FIELD)]


@pytest.mark.parametrize("seed", BOARDS)
def test_law_each_fault_is_what_it_is_called(seed):
    """A cut leaves one piece more, a bridge one less, a haze touches none."""
    board, whole = made_up(seed), made_up(seed, has_faults=False)
    assert pieces(whole.copper) == TRACES and not whole.haze.any() and not whole.faults
    places = {fault.name: fault for fault in board.faults}
    gone, more = whole.copper & ~board.copper, board.copper & ~whole.copper
    assert pieces(whole.copper & ~gone) == TRACES + 1
    assert pieces(whole.copper | more) == TRACES - 1
    assert pieces(board.haze) == 1 and not (board.haze & board.copper).any()
    for name, points in {"cut": gone, "bridge": more, "haze": board.haze}.items():
        assert pieces(points) == 1
        left, right, upper, lower = where(points)
        fault = places[name]
        assert (left + right) / 2 == pytest.approx(fault.x, abs=PIXEL)
        assert (upper + lower) / 2 == pytest.approx(fault.y, abs=1.01 * PIXEL)
        # a hair is two points wide, and all of a fault lies in its field
        if name != "haze":
            assert right - left == pytest.approx(2 * PIXEL)
        for low, middle, end in ((left, fault.x, right), (upper, fault.y, lower)):
            assert low // FIELD == middle // FIELD == (end - PIXEL) // FIELD


@pytest.mark.parametrize("seed", BOARDS)
def test_law_what_hangs_together_is_a_path(seed):
    """Traces keep away from each other and from the edge of the board."""
    whole = made_up(seed, has_faults=False).copper
    assert whole.shape == (DOWN, ACROSS)
    assert pieces(ndimage.binary_dilation(whole, iterations=2)) == TRACES
    assert not whole[[0, -1], :].any() and not whole[:, [0, -1]].any()


def test_law_boards_differ_and_a_number_makes_the_same_one():
    fields = [tuple(made_up(seed).fields.values()) for seed in BOARDS]
    assert len(set(fields)) >= 18
    # no field is where everything is
    assert len({field for each in fields for field in each}) >= 12
    first, again = made_up(3), made_up.__wrapped__(3)
    assert np.array_equal(first.copper, again.copper) and first.faults == again.faults
