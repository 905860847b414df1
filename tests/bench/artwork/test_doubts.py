"""What may be wrong with an artwork is said once it is so, and not before."""

import numpy as np
import pytest

from pcbchem.bench.artwork import doubts
from pcbchem.bench.artwork.picture_file import GreyPicture

PIXEL = 1e-4


@pytest.mark.parametrize(("share", "count"), [(0.0, 0), (0.01, 1)])
def test_a_little_colour_is_doubted(share, count):
    said = []
    doubts.doubt_colours(GreyPicture(np.zeros((3, 3), np.uint8), None, share), said)
    assert len(said) == count


def test_much_colour_is_refused():
    with pytest.raises(ValueError, match=r"has colours on 50% of it, at most 3% are read"):
        doubts.doubt_colours(GreyPicture(np.zeros((3, 3), np.uint8), None, 0.5), [])


@pytest.mark.parametrize(("width", "count"), [(None, 0), (3.9 * PIXEL, 1), (4.1 * PIXEL, 0)])
def test_a_place_of_few_pixels_is_doubted(width, count):
    """By hand: under four pixels a place is hardly drawn."""
    said = []
    doubts.doubt_narrow("trace", width, PIXEL, said)
    assert len(said) == count
    if said:
        assert said[0].startswith("The narrowest trace is 3.9 pixels wide")


@pytest.mark.parametrize(("dark_stays", "other"), [(True, "goes"), (False, "stays")])
def test_copper_all_round_may_be_a_negative(dark_stays, other):
    """The rim is copper that stays: black under toner, white of a negative."""
    grey = np.full((60, 60), 0 if dark_stays else 255, np.uint8)
    grey[20:40, 20:40] = 255 - grey[0, 0]
    said = []
    doubts.doubt_outline(grey, 127.5, PIXEL, (0, 0, 1, 1), dark_stays, said)
    assert len(said) == 1 and said[0].endswith(f"black is copper that {other}.")


def test_an_empty_rim_may_be_no_board():
    grey = np.full((100, 100), 255, np.uint8)
    grey[40:60, 40:60] = 0
    said = []
    doubts.doubt_outline(grey, 127.5, PIXEL, None, True, said)
    assert len(said) == 1 and said[0].startswith("The drawing fills 4% of the picture.")
