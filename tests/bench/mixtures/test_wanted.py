"""What is wanted: counted by hand over four baths, and what cannot be wanted is refused."""

import numpy as np
import pytest

from pcbchem.bench.mixtures.wanted import Wanted
from pcbchem.common.band import Band
from pcbchem.common.limits import InputError


def bands(times, etching, hour):
    """Return bands of one bath whose draws are these [s, K]."""
    values = {"time_to_clear": times, "etching_peak": etching, "hour_peak": hour}
    return {name: Band.of(value, len(times)) for name, value in values.items()}


COOL = (300.0, 300.0, 300.0, 300.0)
TIMES = (100.0, 200.0, 300.0, np.inf)


@pytest.mark.parametrize(
    "window, hottest, etching, hour, share",
    [
        (None, None, COOL, COOL, 0.75),  # what never clears is inside nothing
        ((150, 400), None, COOL, COOL, 0.5),
        ((200, 300), None, COOL, COOL, 0.5),  # the ends belong to the window
        (None, 310, (311.0, 300.0, 300.0, 300.0), COOL, 0.5),
        (None, 310, COOL, (300.0, 311.0, 310.0, 300.0), 0.5),
        ((150, 400), 310, (300.0, 311.0, 300.0, 300.0), COOL, 0.25),
    ],
)
def test_law_share_is_counted_draw_by_draw(window, hottest, etching, hour, share):
    wanted = Wanted.checked(window, hottest)
    assert wanted.share(bands(TIMES, etching, hour)) == share


@pytest.mark.parametrize("late, kept", [(1, True), (2, False)])
def test_law_one_bath_in_ten_may_miss_each_limit(late, kept):
    times = [200.0] * (10 - late) + [900.0] * late
    cool = [300.0] * 10
    assert Wanted.checked((180, 480), 313).is_kept(bands(times, cool, cool)) == kept
    assert Wanted.checked((180, 480), 313).is_kept(bands([250.0] * 10, cool, cool))
    warm = [300.0] * (10 - late) + [320.0] * late
    for peaks in ((warm, cool), (cool, warm)):
        assert Wanted.checked((180, 480), 313).is_kept(bands([200.0] * 10, *peaks)) == kept


@pytest.mark.parametrize("early, kept", [(1, True), (2, False)])
def test_law_fewer_than_one_bath_in_ten_may_be_early(early, kept):
    """The low end is one of the draws: with 2 of 20 it is the second of the early ones."""
    times = [100.0] * early + [200.0] * (20 - early)
    cool = [300.0] * 20
    assert Wanted.checked((180, 480), 313).is_kept(bands(times, cool, cool)) == kept


def test_law_never_is_in_no_window_without_end():
    never = [np.inf] * 10
    cool = [300.0] * 10
    assert not Wanted.checked(None, None).is_kept(bands(never, cool, cool))


@pytest.mark.parametrize(
    "window, hottest, field",
    [((480, 180), None, "window"), ((0, 60), None, "window: shortest"), (None, 500, "hottest")],
)
def test_law_what_cannot_be_wanted_is_refused(window, hottest, field):
    with pytest.raises(InputError) as error:
        Wanted.checked(window, hottest)
    assert error.value.field == field


@pytest.mark.parametrize(
    "window, hottest, words",
    [
        (None, None, ""),
        ((180, 480), None, "clear in 3.0 to 8.0 min"),
        (None, 318.15, "45 °C or colder while etching and in the hour after"),
    ],
)
def test_law_words_say_only_what_is_wanted(window, hottest, words):
    assert Wanted.checked(window, hottest).words == words
