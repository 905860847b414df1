"""What is said of a used bath is what the package computes; a question tells nothing (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.warm_baths import words
from pcbchem.lesson.warm_baths.numbers import DEPTHS, FLAT, JAR, MILD, STRONG, WEAK, hour_after

BOTTLES = (MILD, STRONG, WEAK)


@pytest.mark.parametrize("bottles", BOTTLES)
def test_law_a_sentence_holds_what_is_computed(bottles):
    hour = hour_after(bottles)
    for place, depth in enumerate(DEPTHS):
        said = words.answer_words(hour, depth)
        peaks = np.sort(hour.warmest[place]) - 273.15
        told = re.search(
            r"gets to (\d+) °C \(8 of 10: (\d+) to (\d+) °C\); (\d+) of 200", said.readout
        )
        middle, low, high, count = (float(each) for each in told.groups())
        # 10, 50 and 90 of 100 in the row of all draws
        for value, share in ((low, 0.1), (middle, 0.5), (high, 0.9)):
            rank = share * 200
            assert peaks[int(rank) - 2] - 0.51 <= value <= peaks[int(rank) + 1] + 0.51
        assert count == np.sum(peaks > 45.0)
        assert said.title in said.alt and said.readout in said.alt
        if bottles == WEAK:
            assert "only cools from 24 °C" in said.title and "gas" in said.title
        else:
            assert f"{middle:.0f} °C" in said.title
        assert ("Flat tray:" in said.readout) == (depth != FLAT)
        assert said.title.startswith("Drawn only.") == (bottles == STRONG)
        point = hour.parts_at(depth)
        assert ("gives off gas" in said.readout) == (bottles == WEAK)
        assert ("on it would warm itself" in said.readout) == (point is not None)
        for text in (said.title, said.readout, said.alt):
            assert "mL" not in text and "passes" not in text


@pytest.mark.parametrize("bottles", BOTTLES)
def test_law_a_question_tells_no_temperature(bottles):
    for depth in (6, FLAT, JAR):
        said = words.question_words(hour_after(bottles), depth)
        text = f"{said.title} {said.readout} {said.alt}"
        assert "°C" not in text and "redict first" in text
        assert re.findall(r"\d+", said.title) == [str(depth)]


def test_law_curves_in_words_end_where_the_bath_can_get_no_warmer():
    for bottles in BOTTLES:
        hour = hour_after(bottles)
        said = words.answer_words(hour, JAR).alt
        warm, first, last = re.search(
            r"from 20 to (\d+) °C, in °C a minute: heat made ([\d.]+) to ([\d.]+);", said
        ).groups()
        end = min(40.0, hour.highest - 273.15)
        assert float(warm) == pytest.approx(end, abs=0.51)
        assert float(first) == pytest.approx(60 * hour.made_at(293.15), abs=0.0051)
        assert float(last) == pytest.approx(60 * hour.made_at(end + 273.15), abs=0.0051)


def test_law_paces_have_two_decimals():
    assert words.per_minute(0.01) == "0.60 °C a minute"
