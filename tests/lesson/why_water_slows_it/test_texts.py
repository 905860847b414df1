"""What page 04 tells afterwards holds the bench's own numbers (laws)."""

import re

import pytest
from helpers.water_baths import PARTS

from pcbchem.lesson.why_water_slows_it import numbers, read_it, say_now, sources, why

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
    expected = [thin, thick, thick / thin, 2, thick / thin, 2 * thick / thin]
    assert [float(text) for text in NUMBER.findall(why())] == pytest.approx(expected, rel=0.05)
    # strength and film explain what leaves at first, to a twentieth
    less = still.film["copper"][0] / still.film["copper"][place]
    assert 2 * thick / thin == pytest.approx(less, rel=0.05)


def test_law_what_the_page_rests_on_is_said():
    less, more = (float(numbers.cost_with_gas(share).middle) for share in (1 / 3, 3.0))
    assert [float(text) for text in NUMBER.findall(sources())] == pytest.approx(
        [less, more], rel=0.05
    )
    for kind in ("Measured", "Said", "Guessed"):
        assert sources().count(kind) == 1


def test_law_the_end_says_both_trays(bench):
    place = PARTS.index(numbers.QUESTION)
    said = [float(text) for text in NUMBER.findall(re.sub(r"\(04b.*?\)", "", say_now()))]
    ratios = [bench[movement].ratio.middle[place] for movement in ("still", "shaken")]
    assert said == pytest.approx(ratios, rel=0.05)
