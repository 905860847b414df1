"""What page 08 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import re

import pytest

from pcbchem.lesson.test_an_offcut import times_prediction, width_prediction
from pcbchem.lesson.test_an_offcut.benches import KNOWN, LABELS
from pcbchem.lesson.test_an_offcut.numbers import (
    CARE,
    MOST_OFFCUTS,
    SEEN_LATE,
    SMALL,
    START,
    counted,
    width,
)
from pcbchem.lesson.test_an_offcut.predictions import AS_NARROW, RIGHT
from pcbchem.lesson.test_an_offcut.words import SIX_SMALL, funnel_rows

MAKE = (width_prediction, times_prediction)
ANSWERS = {
    "model": counted(LABELS, 0),
    "bottles": counted(KNOWN, 0),
    "small": counted(SMALL, MOST_OFFCUTS),
    RIGHT: counted(CARE, 1),
}
"""What each first answer would leave."""


def test_law_no_other_answer_is_as_narrow_as_the_right_one():
    assert list(width_prediction().options) == list(ANSWERS)
    for key, counts in ANSWERS.items():
        assert (counts.width < 1.6) == (key == RIGHT)
        assert key == RIGHT or counts.width > 1.05 * ANSWERS[RIGHT].width


def test_law_on_the_bench_that_is_shown_it_is_so_too():
    rows = funnel_rows(START, 1, is_known=True)
    widths = {name: width(band) for name, band in rows.items()}
    assert min(widths, key=widths.get) == "1 large"
    assert min(widths[SIX_SMALL], widths["both bottles known"]) > 1.05 * widths["1 large"]


def test_law_replies_hold_what_was_counted():
    options = width_prediction().options
    for key in ("bottles", "small", RIGHT):
        first = float(re.search(r"([\d.]+) times", options[key].reply)[1])
        assert first == pytest.approx(ANSWERS[key].width, abs=0.005), key
    counts = re.search(r"narrower on (\d+) of (\d+)", options[RIGHT].reply).groups()
    assert [int(count) for count in counts] == [ANSWERS[RIGHT].narrower, ANSWERS[RIGHT].benches]
    assert ANSWERS[RIGHT].narrower > 0.85 * ANSWERS[RIGHT].benches


def test_law_late_times_are_as_narrow_and_wrong_more_often():
    late, watched = counted(SEEN_LATE, MOST_OFFCUTS), counted(CARE, MOST_OFFCUTS)
    assert abs(late.width - watched.width) < 0.03
    # more seldom than chance alone would have it, by far
    assert late.held < watched.held - 3 * (watched.benches * 0.8 * 0.2) ** 0.5
    for key, option in times_prediction().options.items():
        assert option.reply.startswith("Yes: " if key == AS_NARROW else "No: ")
        told = re.search(
            r"on (\d+) made-up.* truth on (\d+), watched on (\d+)\. On all", option.reply
        )
        assert [int(number) for number in told.groups()] == [late.benches, late.held, watched.held]


@pytest.mark.parametrize("make", MAKE)
def test_law_each_choice_has_a_reply(make):
    prediction = make()
    options = [*prediction.options.values(), *prediction.reasons.values()]
    assert all(option.reply for option in options)
    assert len({option.words for option in options}) == len(options)
    assert len(prediction.reasons) >= 3
    assert len({option.reply for option in prediction.reasons.values()}) == len(prediction.reasons)


def test_law_no_question_tells_an_answer():
    first, second = (make() for make in MAKE)
    for question in (first.question, second.question):
        assert not re.search(r"1\.[456]\d|like the board|late|narrower", question)
    replies = [option.reply for option in (*first.options.values(), *first.reasons.values())]
    assert not any("late" in reply or "look" in reply for reply in replies)


@pytest.mark.parametrize("make, right", [(MAKE[0], RIGHT), (MAKE[1], AS_NARROW)])
def test_law_the_right_answer_does_not_stand_out_by_its_length(make, right):
    lengths = {key: len(option.words) for key, option in make().options.items()}
    assert lengths[right] < max(lengths.values()) + 6
    assert right == AS_NARROW or max(lengths.values()) - min(lengths.values()) <= 10


@pytest.mark.parametrize("make", MAKE)
def test_law_a_reply_to_a_reason_names_what_it_is_about(make):
    """It may stand under the reply to an answer of another kind."""
    for option in make().reasons.values():
        assert not re.match(r"(They|It|That|Of|Only|Yes|No)\b", option.reply), option.reply
