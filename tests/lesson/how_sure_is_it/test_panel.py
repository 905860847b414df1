"""The first panel: baths wait for a prediction, then all is the bench's (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.common.number_words import figures
from pcbchem.lesson.how_sure_is_it import ratio_panel
from pcbchem.lesson.how_sure_is_it.picture import MOST, MOST_RATIO
from pcbchem.lesson.how_sure_is_it.words import MOVED

SETTINGS = list(itertools.product(MOVED, (None, "-")))


@pytest.fixture(scope="module")
def panel():
    return ratio_panel()


@pytest.mark.parametrize("tray", MOVED)
def test_law_nothing_of_the_answer_shows_before(panel, bench, tray):
    drawing, said = panel.picture_and_words(False, tray=tray, predicted=None)
    pairs, ranges = drawing.parts["pairs"], drawing.parts["ranges"]
    for artist in (pairs.dots, *pairs.rays, *ranges.bars[1:], ranges.dot):
        assert not artist.get_visible()
    seen = " ".join([said.readout, said.alt, said.notes, *map(str, words(drawing))])
    ratio = bench[tray].ratio
    low, high = (figures(float(end[1])) for end in (ratio.low, ratio.high))
    assert "redict first" in seen and f"{low} to {high}" not in seen and "×" not in seen


def words(drawing):
    return [text.get_text() for text in seen_words(drawing)]


@pytest.mark.parametrize("tray", MOVED)
def test_law_dots_are_the_bench_s_baths(panel, bench, tray):
    drawing, _ = panel.picture_and_words(False, tray=tray, predicted="-")
    x, y = drawing.parts["pairs"].dots.get_data()
    without_water, with_water = bench[tray].times.values / 60
    inside = (without_water < MOST[0]) & (with_water < MOST[1])
    assert x == pytest.approx(without_water[inside]) and y == pytest.approx(with_water[inside])
    assert np.sum(inside) > 180, "few baths leave the picture"
    for ray, end in zip(drawing.parts["pairs"].rays, ("low", "middle", "high"), strict=True):
        slope = ray.get_ydata()[1] / ray.get_xdata()[1]
        assert slope == pytest.approx(float(getattr(bench[tray].ratio, end)[1]))


@pytest.mark.parametrize("tray", MOVED)
def test_law_bars_and_words_hold_the_bench_s_ratios(panel, bench, tray):
    drawing, said = panel.picture_and_words(False, tray=tray, predicted="narrower")
    times, ratio = bench[tray].times, bench[tray].ratio
    alone = (times.low[1] / times.high[0], times.high[1] / times.low[0])
    own = (float(ratio.low[1]), float(ratio.high[1]))
    # paired by chance, counted a second time: each time with it over each time without
    every = np.sort(np.outer(times.values[1], 1 / times.values[0]), axis=None)
    chance = every[len(every) // 10], every[len(every) * 9 // 10]
    bars = drawing.parts["ranges"].bars
    for bar, (low, high) in zip(bars, (alone, chance, own), strict=True):
        x = bar.get_xy()[:, 0]
        assert (x.min(), x.max()) == pytest.approx((low, high), rel=1e-3) and high < MOST_RATIO
        assert f"{figures(low)} to {figures(high)}" in said.alt
    assert drawing.parts["title"].get_text() in said.alt
    apart = [high / low for low, high in zip(times.low, times.high, strict=True)]
    apart.append(own[1] / own[0])
    printed = [
        float(number)
        for number in re.findall(r"(\d\.\d)", said.readout.partition("over low end")[2])
    ]
    assert printed == pytest.approx(apart, abs=0.051)
    # not always surer than the time without water: the page does not say so
    assert printed[2] < printed[1] and printed[2] < (alone[1] / alone[0]) / 1.5


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("tray, predicted", SETTINGS)
def test_law_no_words_overlap(panel, narrow, tray, predicted):
    drawing, _ = panel.picture_and_words(narrow, tray=tray, predicted=predicted)
    drawing.png(1.0)
    no_overlap(drawing, seen_words(drawing))
