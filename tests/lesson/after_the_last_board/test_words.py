"""What is said of the rest is what is counted; a question tells nothing (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.after_the_last_board import words
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    PH_AXIS,
    SODA,
    TIMES,
    WATER,
    copper_left,
    peroxide_left,
)

PLACES = (2.0, 3.5, 4.5, 6.0, 7.5, 8.0, 9.0, 10.0)


@pytest.mark.parametrize("bottles", WATER)
@pytest.mark.parametrize("time", TIMES)
def test_law_a_sentence_holds_the_counts(bottles, time):
    said = words.peroxide_words(peroxide_left(bottles), time)
    # a strip reads nothing under 1 mg/L
    nothing = int(np.sum(np.asarray(peroxide_left(bottles).at[time]) < 1e-3))
    told = re.search(r"gone in (\d+) of 200 plausible baths; (\d+) still hold", said.readout)
    assert [int(count) for count in told.groups()] == [nothing, 200 - nothing]
    assert f"still peroxide in {200 - nothing} of 200" in said.title
    assert f"{nothing} hollow" in said.alt and f"{200 - nothing} filled" in said.alt
    assert said.title in said.alt and said.readout in said.alt
    assert said.readout.endswith("It is never closed up, whatever a strip reads.")
    assert said.lines.replace("\n", " ") == said.title


@pytest.mark.parametrize("bottles", WATER)
def test_law_the_alternative_says_when_the_lines_fall(bottles):
    alt = words.peroxide_words(peroxide_left(bottles), "1d").alt
    gone = peroxide_left(bottles).gone
    spans = re.search(
        r"one in ten within (.+), half within (.+), one in ten only after (.+?)\.", alt
    )
    units = {"hours": 3600, "days": 86_400, "weeks": 7 * 86_400}
    for text, end in zip(spans.groups(), (gone.low, gone.middle, gone.high), strict=True):
        number, unit = text.split()
        assert float(number) * units[unit] == pytest.approx(float(end), rel=0.08)


@pytest.mark.parametrize("soda", SODA)
@pytest.mark.parametrize("pH", PLACES)
def test_law_copper_is_said_with_its_ends(soda, pH):
    left = copper_left(soda)
    place = int(np.argmin(abs(PH_AXIS - pH)))
    assert PH_AXIS[place] == pytest.approx(pH)
    aged, fresh = 1000 * left.aged[place], 1000 * left.fresh[place]
    said = words.copper_words(left, pH)
    assert said.readout.endswith("It is waste for the site, whatever limit you read.")
    assert said.title.startswith(f"pH {pH:g}") and said.title in said.alt
    if left.aged[place] >= left.total:
        assert "nothing has fallen out" in said.title
        return
    told = re.search(r"copper ([\d.]+) stay .* aged mud, ([\d.]+) over fresh mud", said.readout)
    assert [float(end) for end in told.groups()] == pytest.approx([aged, fresh], rel=0.06)
    least, most = re.search(r"That is ([\d.]+) to ([\d.]+) times", said.readout).groups()
    deaths = 1000 * DEATHS
    assert [float(least), float(most)] == pytest.approx([aged / deaths, fresh / deaths], rel=0.06)
    assert f"at least {least} times" in said.title


def test_law_a_question_tells_nothing():
    for said in (words.peroxide_question(), words.copper_question()):
        text = f"{said.title} {said.readout} {said.alt}"
        assert "Predict first" in text
        assert not re.search(r"still peroxide|mud|weeks|at least|\btimes\b", text)
        assert said.alt.startswith(said.title)
