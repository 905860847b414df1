"""Words of the panel of offcuts are those of its numbers; its table has every row (laws)."""

import dataclasses
import types

import numpy as np
import pytest
from helpers.offcuts import mild

from pcbchem import Board
from pcbchem.bench.offcut import Log
from pcbchem.bench.offcut.board_time import WIDER
from pcbchem.common.band import Band
from pcbchem.common.number_words import span
from pcbchem.lesson.own_bench.bench import offcut_like, workshop_plan
from pcbchem.lesson.own_bench.log_book import LogBook
from pcbchem.lesson.own_bench.offcut_words import (
    BAD,
    HOPEFUL,
    UNFIT,
    as_seen,
    bath_words,
    left_of,
    log_table,
    next_words,
    offcuts_words,
    one_more,
    rows_of,
    seen_words,
    test_name,
)

PLAN = workshop_plan()
LABELS = PLAN.bands["time_to_clear"]
OWN = Band.of([200.0, 240.0, 290.0], 3)
test_name.__test__ = False  # a name of what is etched, and no test


def tried(share, parts=(0, 1, 1), area=None):
    """An offcut that is expected to leave a share of the width [-]."""
    offcut = dataclasses.replace(offcut_like(PLAN), parts=parts)
    if area is not None:
        offcut = dataclasses.replace(offcut, board=Board(area=area), volume=30e-6)
    return types.SimpleNamespace(share=share, offcut=offcut, time=OWN)


def finding(count, *tests):
    calibration = types.SimpleNamespace(offcuts=[mild()] * count)
    return types.SimpleNamespace(
        calibration=calibration, own=types.SimpleNamespace(time=OWN), tests=tests
    )


def test_as_printed_offcuts_are_counted_in_words():
    assert [offcuts_words(count) for count in (1, 2, 6, 7)] == [
        "One offcut",
        "Two offcuts",
        "Six offcuts",
        "7 offcuts",
    ]


def test_as_printed_an_offcut_is_called_by_what_is_special():
    assert test_name(tried(0.5).offcut, PLAN) == "like the board"
    assert test_name(tried(0.5, (1, 1, 1)).offcut, PLAN) == "with 1 part more water"
    assert test_name(tried(0.5, (2, 1, 1)).offcut, PLAN) == "with 2 parts more water"
    assert test_name(tried(0.5, area=4e-4).offcut, PLAN) == "of 4 cm² in a dish"


def test_law_the_first_offcut_is_one_and_any_other_one_more():
    assert (one_more(LABELS, PLAN), one_more(OWN, PLAN)) == ("one", "one more")
    assert next_words(tried(0.5), PLAN, OWN).startswith("One more like the board would leave")
    assert next_words(tried(0.5), PLAN, LABELS).startswith("One like the board would leave")


def test_law_what_is_left_is_never_more_than_all():
    """With the first offcut ends are drawn farther apart; a share is good to 5 %."""
    assert left_of(tried(0.5), PLAN, OWN) == pytest.approx(0.5 * HOPEFUL, abs=0.026)
    assert left_of(tried(0.5), PLAN, LABELS) == pytest.approx(0.5 * HOPEFUL * WIDER, abs=0.026)
    assert left_of(tried(1.2), PLAN, OWN) <= 1 and left_of(tried(0.99), PLAN, LABELS) <= 1
    assert "hardly worth it" in next_words(tried(0.97), PLAN, OWN)
    assert "hardly worth it" not in next_words(tried(0.5), PLAN, OWN)


def test_law_rows_of_the_picture_are_before_now_and_what_would_be_left():
    assert [row.name for row in rows_of(PLAN, None)] == ["labels alone"]
    first = rows_of(PLAN, finding(0, tried(0.5)))
    assert [row.name for row in first] == ["labels alone", "one like the board"]
    rows = rows_of(PLAN, finding(2, tried(0.5), tried(0.9, (1, 1, 1))))
    assert [row.dashed for row in rows] == [False, False, True, True]
    assert rows[1].name == "your two offcuts"
    ends = (rows[1].low, rows[1].middle, rows[1].high)
    assert ends == pytest.approx([float(end) / 60 for end in (OWN.low, OWN.middle, OWN.high)])
    # a share of the width is one of its logarithm, about the same middle
    share = left_of(tried(0.5), PLAN, OWN)
    assert rows[2].high / rows[2].middle == pytest.approx((OWN.high / OWN.middle) ** share)
    assert rows[2].middle == rows[1].middle


def test_as_printed_a_row_says_bath_and_time():
    row = mild()
    assert bath_words(row) == "5 cm² in 1 : 1 : 1.5, 50 mL; acid, peroxide"
    assert seen_words(row) == "4 min"
    assert seen_words(mild(time=250)) == "4 min 10 s"
    assert seen_words(mild(time=0.5)) == "0.5 s"
    assert seen_words(mild(time=600, clear=False)) == "not clear after 10 min"


def test_law_what_is_seen_scatters_more_than_what_is():
    """By hand: ln(1.3) and 1.2816 times 0.15 added square to square; and 8 of 10 are seen in it."""
    true = 200 * np.exp(0.2 * np.random.default_rng(1).standard_normal(4000))
    seen = true * np.exp(0.15 * np.random.default_rng(2).standard_normal(4000))
    band = as_seen(Band.of(true, true.size), 0.15)
    inside = np.mean((band.low <= seen) & (seen <= band.high))
    assert 0.78 < inside < 0.82
    ends = as_seen(Band.of([200 / 1.3, 200.0, 260.0], 3), 0.15)
    way = np.hypot(np.log(1.3), 1.2816 * 0.15)
    assert float(ends.high) == pytest.approx(200 * np.exp(way))
    assert float(ends.low) == pytest.approx(200 * np.exp(-way))
    never = Band.of([200.0, 300.0, np.inf], 3)
    assert as_seen(never, 0.15) is never


def book_of(*offcuts, bad=()):
    book = LogBook(None)
    book.name = "x.csv"
    log = Log.of(offcuts)
    book.log = dataclasses.replace(log, bad=tuple(bad))
    return book


def test_law_a_table_has_every_row_in_its_place():
    book = book_of(mild(), mild(note="two"), bad=[(5, "bath_mL is blank")])
    table = log_table(book, None)
    assert [row[0] for row in table.rows] == ["2", "3", "5"]
    assert table.marks == ("", "", BAD) and table.rows[2][2] == "bath_mL is blank"
    assert table.caption == "x.csv: 2 offcuts, and 1 row that does not count"
    assert table.head == (
        "line",
        "date",
        "offcut",
        "seen",
        "expected before",
        "expected now",
        "fits",
    )
    assert table.rows[0][1] == mild().date and table.rows[0][3] == "4 min"
    bare = log_table(book, None, has_amounts=False)
    assert "mL" in table.rows[0][2] and "mL" not in bare.rows[0][2]
    assert bare.marks == table.marks, "beside no time none of them is a refused one"
    assert log_table(LogBook(None), None) is None


def test_law_a_row_that_cannot_be_computed_or_does_not_fit_is_marked():
    book = book_of(mild(), mild(note="two"), mild(note="three"))
    times = np.array([[180.0, 240.0, 330.0]] * 2)
    calibration = types.SimpleNamespace(
        lines=(2, 3),
        bad=[(4, "cannot be computed")],
        times_before=times,
        times_after=times,
        slips=[0.5, 0.51],
        spread=0.15,
    )
    table = log_table(book, types.SimpleNamespace(calibration=calibration))
    assert table.marks == ("", UNFIT, BAD)
    assert [row[6] for row in table.rows] == ["yes", "no", "does not count"]
    assert table.rows[0][2] == bath_words(mild()) and table.rows[0][4] == span(
        as_seen(Band.of(times[0], 3), 0.15)
    )
