"""What page 10 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.after_the_last_board import clear_prediction, quiet_prediction
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    LITTLE,
    NEUTRAL,
    WATER,
    copper_left,
    peroxide_left,
    total_copper,
)
from pcbchem.lesson.after_the_last_board.predictions import MUCH_MORE, NOBODY

MAKE = (quiet_prediction, clear_prediction)
DAY = 86_400.0


def test_law_no_time_is_right():
    """Neither the next morning nor three days nor months: each is wrong in many baths."""
    gone = peroxide_left().gone.values
    for time in (12 * 3600, 3 * DAY):
        assert np.sum(gone > time) > 0.5 * gone.size
    # "not for months": half are done in a week or so, and a quarter and more are not in a month
    assert np.sum(gone < 60 * DAY) > 0.6 * gone.size
    assert np.sum(gone > 28 * DAY) > 0.25 * gone.size


@pytest.mark.parametrize("bottles", WATER)
def test_law_half_a_day_or_three_months(bottles):
    """8 of 10 lie so, to a third, whatever the bottles: the right answer says it in words."""
    gone = peroxide_left(bottles).gone
    assert float(gone.low) == pytest.approx(0.5 * DAY, rel=0.34)
    assert float(gone.high) == pytest.approx(90 * DAY, rel=0.34)
    assert quiet_prediction().options[NOBODY].words == "nobody can say: half a day or three months"


def test_law_replies_count_the_baths():
    options = quiet_prediction().options
    left = peroxide_left().at
    for key, time in (("morning", "12h"), ("days", "3d")):
        still, total = re.search(r"(\d+) of (\d+) plausible", options[key].reply).groups()
        assert (int(still), int(total)) == (np.sum(left[time] >= 1e-3), 200)
    early = re.search(
        r"in (\d+) of 200 plausible baths it is gone within a week", options["months"].reply
    )
    assert int(early[1]) == np.sum(left["1w"] < 1e-3)


def test_law_clear_water_holds_over_ten_times_as_much():
    """With room for what is in doubt: constants are known to a factor of two."""
    aged, fresh = copper_left(LITTLE).at(NEUTRAL)
    assert aged > 2 * MUCH_MORE * DEATHS
    assert fresh < total_copper() / 10, "nor is it nearly all"
    for option in clear_prediction().options.values():
        low, high, times = re.search(
            r"([\d.]+) to ([\d.]+) mg/L.*?(\d+) times as much", option.reply
        ).groups()
        assert float(low) == pytest.approx(1000 * aged, rel=0.06)
        assert float(high) == pytest.approx(1000 * fresh, rel=0.06)
        assert float(times) == pytest.approx(aged / DEATHS, rel=0.06)


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply(make):
    prediction = make()
    options = [*prediction.options.values(), *prediction.reasons.values()]
    assert all(option.reply for option in options)
    assert len({option.words for option in options}) == len(options)
    assert len(prediction.reasons) >= 3


def test_law_no_question_tells_an_answer():
    first, second = (make() for make in MAKE)
    for word in ("never", "week", "month", "nobody", "dissolved", "balance"):
        assert word not in first.question.lower() + second.question.lower()
    # nor does the first prediction tell the second
    options = [*first.options.values(), *first.reasons.values()]
    assert not any("mud" in option.reply or "mg/L" in option.reply for option in options)
