"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import numpy as np
import pytest
from helpers.why_laws import WhyLaws

from pcbchem.lesson.test_an_offcut import why_questions
from pcbchem.lesson.test_an_offcut.benches import KNOWN, LABELS
from pcbchem.lesson.test_an_offcut.numbers import (
    CARE,
    HALF_WAY,
    MOST_OFFCUTS,
    SEEN_LATE,
    SMALL,
    counted,
)
from pcbchem.lesson.test_an_offcut.why_questions import SETTINGS


class TestWhy(WhyLaws):
    settings = SETTINGS


def test_law_what_they_say_of_widths_was_counted():
    """Small ones and one more hardly narrow; known bottles leave most; late ones are narrow."""
    logs = {
        key: np.log(counted(*key).width)
        for key in (
            (LABELS, 0),
            (KNOWN, 0),
            (SMALL, 1),
            (SMALL, MOST_OFFCUTS),
            (CARE, 5),
            (CARE, MOST_OFFCUTS),
            (HALF_WAY, MOST_OFFCUTS),
        )
    }
    labels = logs[LABELS, 0]
    assert logs[SMALL, MOST_OFFCUTS] > 0.85 * labels
    assert logs[CARE, MOST_OFFCUTS] > 0.98 * logs[CARE, 5]
    # "most of the doubt is in other things": doubts add as squares
    assert logs[KNOWN, 0] ** 2 > 0.6 * labels**2
    assert logs[HALF_WAY, MOST_OFFCUTS] == pytest.approx(logs[CARE, MOST_OFFCUTS], rel=0.05)
    late, half_way = counted(SEEN_LATE, MOST_OFFCUTS), counted(HALF_WAY, MOST_OFFCUTS)
    assert half_way.held > 1.2 * late.held


def test_law_numbers_differ_from_the_page_s_own():
    assert 2 not in why_questions.EVERY and 4 not in why_questions.AREAS
    assert MOST_OFFCUTS not in why_questions.MANY
