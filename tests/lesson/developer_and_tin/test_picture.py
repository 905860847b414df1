"""Lye and boxes are drawn from the package's numbers; no line crosses words (laws)."""

import numpy as np
import pytest
from helpers.lesson_panels import settings

from pcbchem.bench.resist import FILMS, practice
from pcbchem.lesson.developer_and_tin.numbers import ENDS, fresh_grams, lye_left
from pcbchem.lesson.developer_and_tin.picture import BOX, BOXES_AT, USED_FOR, between_boxes


def drawn(panel, narrow=False, **values):
    return panel.picture_and_words(narrow, **{"predicted": "-", **values})[0].parts["rows"]


@pytest.mark.parametrize("narrow", [False, True])
def test_law_the_bar_is_eight_in_ten_and_the_line_its_middle(lye, narrow):
    for values in settings(lye, 4):
        rows = drawn(lye, narrow, **values)
        band = lye_left(values["vessel"], int(values["hours"])).lye
        x = rows.bar.get_xy()[:, 0]
        assert (x.min(), x.max()) == pytest.approx((float(band.low), float(band.high)))
        assert rows.dot.get_xdata() == pytest.approx([float(band.middle)])
        assert np.nanmax(rows.now.get_xdata()) == pytest.approx(float(band.middle))
        assert f"now {float(band.middle):.1f}" == rows.now_words.get_text()
        # nothing is cut off at an end of the axis
        assert ENDS[0] <= band.low <= band.high < ENDS[1]


@pytest.mark.parametrize("narrow", [False, True])
def test_law_boxes_are_what_practice_says(lye, narrow):
    boxes = [patch for patch in drawn(lye, narrow).axes.patches if len(patch.get_xy()) == 5]
    boxes = [(patch.get_xy()[:, 0], patch.get_xy()[:, 1].mean(), patch) for patch in boxes]
    for film in FILMS:
        for row in practice(film):
            here = [
                patch
                for x, y, patch in boxes
                if x.min() == row.low and abs(y - BOXES_AT[film]) < BOX and x.max() <= ENDS[1]
            ]
            (box,) = (patch for patch in here if patch.get_xy()[:, 0].max() >= min(row.high, 26))
            is_white = sum(box.get_facecolor()[:3]) == 3
            assert is_white == (row.word != USED_FOR[film])


def test_law_the_same_lye_is_grey_for_one_film_alone():
    """What is mixed this morning develops one film, and spoils the other."""
    words = {
        film: next(row.word for row in practice(film) if row.low <= fresh_grams() < row.high)
        for film in FILMS
    }
    assert words["positive"] == USED_FOR["positive"] and words["negative"] != USED_FOR["negative"]


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_line_stands_in_a_box(narrow):
    _, y = between_boxes(12.5, -0.8, narrow)
    heights = np.array(y)
    breaks = np.flatnonzero(np.isnan(heights))
    for middle, place in zip(BOXES_AT.values(), breaks, strict=True):
        assert heights[place - 1] <= middle - BOX and heights[place + 1] >= middle + BOX


@pytest.mark.parametrize("narrow", [False, True])
def test_law_this_morning_stands_still(lye, narrow):
    rows = drawn(lye, narrow, hours=12)
    dashed = [line for line in rows.axes.lines if line.get_linestyle() == "--"]
    assert len(dashed) == 1 and dashed[0] not in rows.moving
    assert np.nanmax(dashed[0].get_xdata()) == pytest.approx(fresh_grams())
