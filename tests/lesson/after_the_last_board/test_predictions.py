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
from pcbchem.lesson.after_the_last_board.predictions import (
    DAYS,
    GONE,
    MONTHS,
    MORNING,
    MUCH_MORE,
    WIDE,
)

MAKE = (quiet_prediction, clear_prediction)
DAY = 86_400.0


@pytest.mark.parametrize("key", [MORNING, DAYS, MONTHS])
def test_law_each_narrow_answer_is_wrong_in_most_baths(key):
    gone, (first, last) = peroxide_left().gone.values, GONE[key]
    assert np.sum((gone >= first) & (gone <= last)) < 0.25 * gone.size


@pytest.mark.parametrize("bottles", WATER)
def test_law_half_a_day_to_three_months(bottles):
    """8 of 10 lie so, to a third, whatever the bottles."""
    gone = peroxide_left(bottles).gone
    assert [float(gone.low), float(gone.high)] == pytest.approx(GONE[WIDE], rel=0.34)
    values, (first, last) = gone.values, GONE[WIDE]
    assert np.sum((values >= first) & (values <= last)) > 0.7 * values.size


def test_law_the_right_answer_looks_like_the_others():
    """All are spans, and it is neither the longest nor the last one."""
    options = quiet_prediction().options
    assert all(re.fullmatch(r"\d+ \w+ to \d+ \w+", option.words) for option in options.values())
    assert list(options)[-1] != WIDE != next(iter(options))
    lengths = {key: len(option.words) for key, option in options.items()}
    assert lengths[WIDE] < 1.3 * min(lengths.values()) + 1


def test_law_the_words_of_an_answer_are_its_times():
    units = {"hour": 3600, "day": DAY, "month": 365.25 * DAY / 12}
    for key, option in quiet_prediction().options.items():
        told = re.fullmatch(r"(\d+) (\w+?)s? to (\d+) (\w+?)s?", option.words).groups()
        spans = [float(told[place]) * units[told[place + 1]] for place in (0, 2)]
        assert spans == pytest.approx(GONE[key], rel=0.09), key


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
            r"([\d.]+) to ([\d.]+) mg/L.*?at least (\d+) times what", option.reply
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
