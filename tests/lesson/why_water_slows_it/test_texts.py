"""What page 04 tells afterwards holds the bench's own numbers (laws)."""

import re

import pytest
from helpers.water_baths import PARTS

from pcbchem.lesson.why_water_slows_it import numbers, read_it, read_shaken, say_now, sources, why

NUMBER = re.compile(r"\d[\d.]*\d|\d")


def test_law_what_is_read_is_the_bench_s(bench):
    still, place = bench["still"], PARTS.index(numbers.QUESTION)
    ratio = still.ratio
    expected = [2, still.times.middle[place] / 60, ratio.middle[place], 2, 4, 200, 8, 10]
    expected += [ratio.low[place], ratio.high[place]]
    assert [float(text) for text in NUMBER.findall(read_it())] == pytest.approx(expected, rel=0.05)


def test_law_the_film_is_the_bench_s(bench):
    still, place = bench["still"], PARTS.index(numbers.QUESTION)
    thin, thick = (still.film["thickness"][where] * 1e6 for where in (0, place))
    whole = still.ratio.middle[place]
    expected = [thin, thick, thick / thin, 2, thick / thin, whole]
    assert [float(text) for text in NUMBER.findall(why())] == pytest.approx(expected, rel=0.05)
    # strength and film explain what leaves at first, to a twentieth
    less = still.film["copper"][0] / still.film["copper"][place]
    assert 2 * thick / thin == pytest.approx(less, rel=0.05)


def test_law_the_shaken_tray_is_read_beside_the_still_one(bench):
    place = PARTS.index(numbers.QUESTION)
    still, shaken = (bench[movement] for movement in ("still", "shaken"))
    minutes = [float(shaken.times.middle[where]) / 60 for where in (place, 0)]
    ratio = shaken.ratio.middle[place]
    expected = [still.ratio.middle[place], ratio, *minutes]
    said = [float(text) for text in NUMBER.findall(read_shaken())]
    assert said == pytest.approx(expected, rel=0.05)
    # the sentence about them: the printed ratio is not that of the printed times
    assert round(said[2] / said[3], 1) > said[1]
    # no power of the strength gives both
    assert ratio < 0.6 * still.ratio.middle[place]


def test_law_what_the_page_rests_on_is_said():
    less, more = (float(numbers.cost_with_gas(share).middle) for share in (1 / 3, 3.0))
    assert [float(text) for text in NUMBER.findall(sources())] == pytest.approx(
        [less, more], rel=0.05
    )
    for kind in ("Measured", "Said", "Guessed"):
        assert sources().count(kind) == 1


def test_law_the_end_says_both_trays(bench):
    place = PARTS.index(numbers.QUESTION)
    said = [float(text) for text in NUMBER.findall(re.sub(r"\(0\d.*?\)", "", say_now()))]
    ratios = [bench[movement].ratio.middle[place] for movement in ("still", "shaken")]
    assert said == pytest.approx(ratios, rel=0.05)
