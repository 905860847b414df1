"""Bars are as long as their times, on an axis that begins at nothing (laws)."""

import numpy as np
import pytest

from pcbchem.page.minute_bars import Bar, MinuteBars
from pcbchem.page.picture import Drawing, figure

MINUTES = 60.0
ROWS = [
    Bar("first", 4 * MINUTES, "4 min"),
    Bar("second", 30 * MINUTES, "30 min", 20 * MINUTES, 90 * MINUTES),
    Bar("third", 0.0, "?", known=False),
    Bar("fourth", 10 * MINUTES, "10 min", hollow=True),
]


@pytest.fixture(params=[False, True])
def bars(request):
    sheet = figure(3)
    bars = MinuteBars(sheet.subplots(), len(ROWS), 80 * MINUTES, 11, above=request.param)
    Drawing(sheet, bars.moving)
    bars.draw(ROWS)
    return bars


def test_law_a_bar_is_as_long_as_its_time(bars):
    assert bars.axes.get_xscale() == "linear" and bars.axes.get_xlim() == (0, 80)
    lengths = [np.ptp(bar.get_xy()[:, 0]) for bar in bars.bars]
    assert lengths == pytest.approx([4, 30, 0, 10])


def test_law_the_band_ends_at_the_axis(bars):
    band = bars.bands[1].get_xy()[:, 0]
    assert (band.min(), band.max()) == (20, 80)
    assert np.ptp(bars.bands[0].get_xy()) == 0


def test_law_a_guess_is_hollow(bars):
    assert bars.bars[3].get_facecolor()[3] == 0 and bars.bars[1].get_facecolor()[3] == 1


def test_law_rows_that_are_not_given_are_not_seen(bars):
    bars.draw(ROWS[:2])
    assert [words.get_visible() for words in bars.words] == [True, True, False, False]
