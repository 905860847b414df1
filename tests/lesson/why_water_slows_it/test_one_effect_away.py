"""Rows of effects taken away and of facts left out, and the test that can fail: the bench's own numbers (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.water_baths import STRENGTHS, VOLUME, no_overlap, own, seen_words

from pcbchem.bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN, cost_without, offcuts, times_without
from pcbchem.common import tables
from pcbchem.common.limits import collecting_warnings
from pcbchem.common.number_words import clock, figures
from pcbchem.lesson.why_water_slows_it import evidence
from pcbchem.lesson.why_water_slows_it import one_effect_away as take_away


@pytest.fixture(scope="module")
def panel():
    return take_away.taken_away_panel()


@pytest.mark.parametrize(
    "bottles, parts", [*itertools.product(STRENGTHS, (0.0, 3.0)), ("mild", 1.2)]
)
def test_law_the_rows_are_the_bench_s_times(panel, bottles, parts):
    """Dots and bands in times the middle bath with all on; the words at a row hold its time and its factor."""
    with collecting_warnings():
        bench = times_without(own(bottles, parts=parts))
    drawing, said = panel.said(False, shown="time", bottles=bottles, water=parts)
    drawn, first = drawing.parts["rows"], float(bench[ALL_ON].middle)
    assert [label.get_text() for label in drawn.axes.get_yticklabels()] == list(bench)
    left, right = drawn.ends
    for k, (name, band) in enumerate(bench.items()):
        factor = float(band.middle) / first
        assert left < factor < right and drawn.dots[k].get_xdata()[0] == pytest.approx(factor)
        x = drawn.bands[k].get_xy()[:, 0]
        assert (x.min(), x.max()) == (
            pytest.approx(max(float(band.low) / first, left)),
            pytest.approx(min(float(band.high) / first, right)),
        )
        words = drawn.words[k].get_text()
        assert clock(band.middle) in words and clock(band.middle) in said.alt
        assert name == ALL_ON or float(words.split("×")[1]) == pytest.approx(factor, rel=0.05), (
            "two figures"
        )
    product = float(np.prod([float(bench[f"without {effect}"].middle) / first for effect in TAKEN]))
    whole = float(bench[ALL_OFF].middle) / first
    found = [float(number) for number in re.findall(r"×(\d[\d.]*\d|\d)", said.readout)]
    assert found == [pytest.approx(product, rel=0.05), pytest.approx(whole, rel=0.05)]
    apart = max(product / whole, whole / product)
    assert ("feed each other" in said.readout) == (apart > take_away.ALIKE)
    most = max(TAKEN, key=lambda effect: float(bench[f"without {effect}"].middle))
    title = drawing.parts["title"].get_text()
    assert f"{most.capitalize()} helps most" in title and title in said.alt


@pytest.mark.parametrize("bottles, parts", [*itertools.product(STRENGTHS, (1.2, 3.0))])
def test_law_the_rows_are_what_the_bench_says_water_costs(panel, bottles, parts):
    with collecting_warnings():
        bench = cost_without(own(bottles), parts)
    drawing, said = panel.said(False, shown="cost", bottles=bottles, water=parts)
    drawn = drawing.parts["rows"]
    for k, band in enumerate(bench.values()):
        assert drawn.dots[k].get_xdata()[0] == pytest.approx(float(band.middle))
        words = drawn.words[k].get_text()
        assert (
            float(words.removeprefix("×")) == pytest.approx(float(band.middle), rel=0.05)
            and words in said.alt
        )
    assert drawn.line.get_xdata()[0] == pytest.approx(1 + parts / 2), (
        "the dotted line is strength alone"
    )
    assert (
        "strength alone" in drawing.parts["axis"].get_text()
        and "without water" in drawing.parts["axis"].get_text()
    )
    most, least = (float(bench[name].middle) for name in (ALL_ON, ALL_OFF))
    found = [float(number) for number in re.findall(r"×(\d[\d.]*\d|\d)", said.readout)]
    nearest = min(float(bench[f"without {effect}"].middle) for effect in TAKEN)
    assert found == [
        pytest.approx(value, rel=0.05) for value in (most, nearest, least, 1 + parts / 2)
    ]
    title = drawing.parts["title"].get_text()
    assert (
        title in said.alt
        and [float(n) for n in re.findall(r"×(\d[\d.]*\d|\d)", title)] == found[:2]
    )


def test_law_no_water_costs_nothing(panel):
    drawing, said = panel.said(False, shown="cost", water=0.0)
    assert "Move the slider" in said.readout and {
        t.get_text() for t in drawing.parts["rows"].words
    } == {"×1.0"}


def test_law_strong_bottles_say_what_they_are_here_too(panel):
    drawing, said = panel.said(False, bottles="strong", water=0.0)
    for text in (drawing.parts["title"].get_text(), said.readout, said.alt):
        assert text.startswith("Drawn only, never mixed here. ")
    assert not [text for text in (said.readout, said.alt) if VOLUME.search(text)]


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_words_overlap_at_any_corner(panel, narrow):
    for corner in panel.corners():
        drawing, _ = panel.said(narrow, **corner)
        no_overlap(drawing, [*seen_words(drawing), *drawing.parts["rows"].axes.get_yticklabels()])


def test_law_facts_left_out_are_the_table_s():
    """Predicted over the middle of what was seen, row by row; misses are named in title and words."""
    picture, rows = evidence.left_out(), evidence.left_out_rows()
    table = tables.read("leave_one_out")
    seen = {
        "undiluted": (2, 2),
        "3 : 1 : 1": (60, 180),
        "weak, 2.5 %": (1200, np.inf),
        "strong film": (3.5, 4.0),
        "weak film": (0.35, 0.40),
        "ratio of the films": (8.8, 11.4),
    }
    assert [row.name for row in rows] == list(seen) == [row["fact"] for row in table]
    for row, line in zip(rows, table, strict=True):
        low, high = seen[row.name]
        scale = low if np.isinf(high) else np.sqrt(low * high)
        assert (row.low, row.middle, row.high) == tuple(
            pytest.approx(float(line[name]) / scale) for name in ("low", "middle", "high")
        )
        assert row.seen == (pytest.approx(low / scale), pytest.approx(high / scale))
        practice = line["practice"].replace("-", "–")
        ends = f"(×{figures(row.low)} to ×{figures(row.high)})"
        name = row.name.replace("film", "layer")
        assert f"{name}, {practice} seen: predicted ×{figures(row.middle)} {ends}" in picture.alt
        assert (evidence.missed([row]) == []) == (
            float(line["low"]) <= high and float(line["high"]) >= low
        )
    assert picture.alt.startswith("5 of 6 bands meet what was seen; missed: undiluted. ")
    assert picture.alt.count("missed") == 2 and "(×1.8 to ×7.5), missed" in picture.alt
    assert picture.png[:4] == picture.narrow[:4] == b"\x89PNG"


@pytest.mark.parametrize("narrow", [False, True])
def test_law_facts_left_out_are_drawn_where_they_are(narrow):
    rows = evidence.left_out_rows()
    drawing = evidence.drawn(rows, "Title", narrow)
    axes = drawing.figure.axes[0]
    dots = [line for line in axes.lines if line.get_marker() == "o"]
    brackets = [line for line in axes.lines if line.get_marker() == "|"]
    for row, dot, bracket in zip(rows, dots, brackets, strict=True):
        assert dot.get_xdata()[0] == pytest.approx(row.middle)
        assert bracket.get_xdata()[0] == pytest.approx(row.seen[0])
        assert bracket.get_xdata()[1] == pytest.approx(min(row.seen[1], evidence.RATIOS[1]))
        assert evidence.RATIOS[0] < row.low and row.high < evidence.RATIOS[1], "no band is cut off"
    drawing.png(1.0)
    no_overlap(
        drawing, [text for text in [*axes.texts, *axes.get_yticklabels()] if text.get_text()]
    )


def test_law_the_experiment_holds_the_bench_s_ratio():
    with collecting_warnings():
        ratio = offcuts(own("mild"), 2.0)
    words = evidence.offcut_words()
    low, high = figures(float(ratio.low)), figures(float(ratio.high))
    for said in (
        f"**{figures(float(ratio.middle))} times** as long",
        f"({low} to {high} in 8 of 10",
        "2 parts of water (2 times weaker)",
        f"**Between 2 and {low}**",
        f"**Above {high}**",
    ):
        assert said in words
    assert float(ratio.low) > 1.3 * 2, "an experiment that can tell the two apart"
