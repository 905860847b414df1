"""Rows of effects taken away hold the bench's own numbers, in picture and words (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.water_baths import STRENGTHS, VOLUME, no_overlap, own, seen_words

from pcbchem.bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN, cost_without, times_without
from pcbchem.common.limits import collecting_warnings
from pcbchem.common.number_words import clock
from pcbchem.lesson.why_water_slows_it.one_effect_away import ALIKE, factors, times

SETTINGS = [*itertools.product(STRENGTHS, (0.0, 3.0)), ("mild", 1.2)]
FACTOR = re.compile(r"×(\d[\d.]*\d|\d)")


def numbers(text):
    """Every factor in a text."""
    return [float(number) for number in FACTOR.findall(text)]


def near(*values):
    """As near as two figures are."""
    return [pytest.approx(float(value), rel=0.05) for value in values]


@pytest.fixture(scope="module")
def bench():
    """Times without one effect after the other, worked out apart from the page."""
    with collecting_warnings():
        return {
            (bottles, parts): times_without(own(bottles, parts=parts))
            for bottles, parts in SETTINGS
        }


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_rows_are_the_bench_s_times(rows_panel, bench, bottles, parts):
    """Dots and bands in times the middle bath with all on, cut off at the ends of the axis."""
    bands = bench[bottles, parts]
    drawing, _ = rows_panel.picture_and_words(False, shown="time", bottles=bottles, water=parts)
    rows = drawing.parts["rows"]
    assert [label.get_text() for label in rows.axes.get_yticklabels()] == list(bands)
    first, (left, right) = float(bands[ALL_ON].middle), rows.ends
    for number, band in enumerate(bands.values()):
        low, middle, high = (float(end) / first for end in (band.low, band.middle, band.high))
        assert left < middle < right
        assert rows.dots[number].get_xdata()[0] == pytest.approx(middle)
        x = rows.bands[number].get_xy()[:, 0]
        assert (x.min(), x.max()) == pytest.approx((max(low, left), min(high, right)))


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_words_at_a_row_are_its_time_and_factor(rows_panel, bench, bottles, parts):
    bands = bench[bottles, parts]
    drawing, said = rows_panel.picture_and_words(False, shown="time", bottles=bottles, water=parts)
    for text, (name, band) in zip(drawing.parts["rows"].words, bands.items(), strict=True):
        assert clock(band.middle) in text.get_text() and clock(band.middle) in said.alt
        if name != ALL_ON:
            assert numbers(text.get_text()) == near(band.middle / bands[ALL_ON].middle)


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_sentence_says_whether_factors_multiply(rows_panel, bench, bottles, parts):
    bands = bench[bottles, parts]
    first = float(bands[ALL_ON].middle)
    product = np.prod([float(bands[f"without {effect}"].middle) / first for effect in TAKEN])
    whole = float(bands[ALL_OFF].middle) / first
    drawing, said = rows_panel.picture_and_words(False, shown="time", bottles=bottles, water=parts)
    assert numbers(said.readout) == near(product, whole)
    apart = max(product / whole, whole / product)
    assert ("feed each other" in said.readout) == (apart > ALIKE)
    most = max(TAKEN, key=lambda effect: float(bands[f"without {effect}"].middle))
    title = drawing.parts["title"].get_text()
    assert f"{most.capitalize()} helps most" in title and title in said.alt


@pytest.mark.parametrize("bottles, parts", [*itertools.product(STRENGTHS, (1.2, 3.0))])
def test_law_the_rows_are_what_the_bench_says_water_costs(rows_panel, bottles, parts):
    with collecting_warnings():
        bands = cost_without(own(bottles), parts)
    drawing, said = rows_panel.picture_and_words(False, shown="cost", bottles=bottles, water=parts)
    rows, axis = drawing.parts["rows"], drawing.parts["axis"].get_text()
    for number, band in enumerate(bands.values()):
        assert rows.dots[number].get_xdata()[0] == pytest.approx(float(band.middle))
        words = rows.words[number].get_text()
        assert numbers(words) == near(band.middle) and words in said.alt
    assert rows.line.get_xdata()[0] == pytest.approx(1 + parts / 2), "strength alone is dotted"
    assert "strength alone" in axis and "without water" in axis
    nearest = min(float(bands[f"without {effect}"].middle) for effect in TAKEN)
    most, least = bands[ALL_ON].middle, bands[ALL_OFF].middle
    assert numbers(said.readout) == near(most, nearest, least, 1 + parts / 2)
    title = drawing.parts["title"].get_text()
    assert title in said.alt and numbers(title) == near(most, nearest)
    assert float(most) > 1 and "Slower ×" in title, "water never quickens these baths"


def test_law_no_water_costs_nothing(rows_panel):
    drawing, said = rows_panel.picture_and_words(False, shown="cost", water=0.0)
    assert "Move the slider" in said.readout
    assert {text.get_text() for text in drawing.parts["rows"].words} == {"×1.0"}


@pytest.mark.parametrize("shown", ["time", "cost"])
@pytest.mark.parametrize("parts", [0.0, 3.0])
def test_law_strong_bottles_say_what_they_are_here_too(rows_panel, shown, parts):
    drawing, said = rows_panel.picture_and_words(False, shown=shown, bottles="strong", water=parts)
    for text in (drawing.parts["title"].get_text(), said.readout, said.alt):
        assert text.startswith("Drawn only, never mixed here. ") and not VOLUME.search(text)


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_words_overlap_at_any_corner(rows_panel, narrow):
    for corner in rows_panel.corners():
        drawing, _ = rows_panel.picture_and_words(narrow, **corner)
        no_overlap(drawing, [*seen_words(drawing), *drawing.parts["rows"].axes.get_yticklabels()])


def test_law_factors_are_over_the_bath_with_all_on(bench):
    """As the page's text takes them."""
    found = factors(bench["mild", 0.0])
    assert found[ALL_ON] == 1 and found["without depletion"] < 1 < found["without gas stirring"]


def test_a_bath_that_never_clears_has_no_factor():
    assert times(float("inf")) == "never" and times(9.96) == "×10"
