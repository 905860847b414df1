"""What a made-up bench knows of its board, bench by bench (laws)."""

import dataclasses

import numpy as np
import pytest

from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.offcut import Log, calibrate
from pcbchem.bench.offcut.board_time import wider
from pcbchem.bench.plan.outlook import etched
from pcbchem.common import tables
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.test_an_offcut import numbers
from pcbchem.lesson.test_an_offcut.numbers import (
    BENCHES,
    CARE,
    HALF_WAY,
    LOOKS,
    MOST_OFFCUTS,
    OFTEN,
    SEEN_LATE,
    SMALL,
    START,
    WAYS,
    after,
    bench,
    bottles_known,
    by_labels,
    counted,
    holds,
    seen,
    truth,
    width,
)
from pcbchem.lesson.workshop import bath

NUMBERS = (1, 7, 12, 30)


def test_second_source_the_labels_are_those_of_the_workshop():
    """Bench and workshop write the same bath down on their own."""
    with collecting_warnings():
        band = wider(etched(bath("mild")).run.band("time_to_clear"))
    # the workshop's tray has no sides of its own: the bench's is a little wider
    assert by_labels().low == pytest.approx(float(band.low), rel=0.03)
    assert by_labels().high == pytest.approx(float(band.high), rel=0.03)


@pytest.mark.parametrize("number", NUMBERS)
def test_second_source_a_row_is_what_a_reader_gets_by_the_package(number):
    """In the few lines that stand on the page."""
    log = Log.of(bench(number).log.offcuts[:2])
    with collecting_warnings():
        doubt = calibrate(log).doubt(bench(number).board.inputs, same_hand=True)
        band = wider(etched(bench(number).board.inputs, **doubt).run.band("time_to_clear"))
    row = after(number, 2)
    assert (row.low, row.high) == pytest.approx((float(band.low), float(band.high)))


@pytest.mark.parametrize("number", NUMBERS)
def test_law_known_bottles_hold_what_is_truly_in_them(number):
    inputs = bench(number).board.inputs
    strengths = {key[0]: float(value[0]) for key, value in bench(number).strengths.items()}
    for bottle in (inputs.acid, inputs.peroxide):
        assert bottle.low <= strengths[bottle.substance] <= bottle.high
    assert width(bottles_known(number)) < width(by_labels())
    # stronger bottles, a shorter time
    stronger = dataclasses.replace(
        inputs,
        acid=Bottle("HCl", inputs.acid.high, inputs.acid.high),
        peroxide=Bottle("H2O2", inputs.peroxide.high, inputs.peroxide.high),
    )
    with collecting_warnings():
        quickest = etched(stronger).run.band("time_to_clear")
    assert quickest.middle < bottles_known(number).middle


@pytest.mark.parametrize("number", NUMBERS)
def test_law_however_it_is_timed_it_is_the_same_bench(number):
    for way in WAYS:
        assert bench(number, way).true == truth(number)
        assert bench(number, way).strengths == bench(number).strengths


@pytest.mark.parametrize("number", NUMBERS)
def test_law_a_look_is_late_and_half_way_is_a_look_too_soon(number):
    watched, looked, between = (np.array(seen(number, way)) for way in (CARE, SEEN_LATE, HALF_WAY))
    late = looked - watched
    assert np.all((late >= 0) & (late < LOOKS))
    assert looked % LOOKS == pytest.approx(0)
    assert looked - between == pytest.approx(LOOKS / 2)
    often = np.array(seen(number, "often")) - watched
    assert np.all((often >= 0) & (often < OFTEN))


def test_law_an_offcut_like_the_board_takes_as_long_as_the_board():
    """So its own time may stand on the axis of the board's: to the doubt of step and stopwatch."""
    off = []
    for number in range(1, 31):
        off.append(np.log(np.array(seen(number)) / truth(number)))
    assert abs(np.mean(off)) < 0.06
    assert 0.15 < np.std(off) < 0.3


def test_law_small_offcuts_are_another_matter():
    """Half a board in its own tray and hand is like it; 4 cm² in a dish is not."""
    assert WAYS[CARE].case.same_hand and not WAYS[SMALL].case.same_hand
    assert bench(START).log.offcuts[0].board.area == pytest.approx(13.5e-4)
    assert bench(START, SMALL).log.offcuts[0].board.area == pytest.approx(4e-4)


def goes_as_on_most(number):
    """Whether a bench shows what the lesson teaches: the rule by which the first is chosen.

    What takes longest is looked at last, where few benches come.
    """
    true = truth(number)
    if not min(seen(number)) < true < max(seen(number)):
        return False
    late, half_way = (after(number, MOST_OFFCUTS, way) for way in (SEEN_LATE, HALF_WAY))
    # in print: a tenth of a minute
    misses = round(late.low / 60, 1) > round(true / 60, 1)
    if not (misses and holds(half_way, true)):
        return False
    watched = [after(number, count) for count in range(1, MOST_OFFCUTS + 1)]
    if not all(holds(band, true) for band in watched):
        return False
    bands = [by_labels(), after(number, MOST_OFFCUTS, SMALL), bottles_known(number)]
    widths = [width(band) for band in (*bands, watched[0], watched[1], watched[-1])]
    return widths == sorted(widths, reverse=True)


def test_law_the_first_bench_is_the_one_that_goes_as_on_most():
    assert [number for number in range(1, BENCHES + 1) if goes_as_on_most(number)] == [START]


def test_law_a_bench_is_made_up_once(monkeypatch):
    """Moving a slider only looks up."""
    row = after(START, 3, SEEN_LATE)
    for name in ("made_up", "calibrate", "etched"):
        monkeypatch.setattr(numbers, name, None)
    assert after(START, 3, SEEN_LATE) is row and seen(START, SEEN_LATE)


def test_law_a_band_holds_what_lies_between_its_ends():
    band = by_labels()
    low, high = float(band.low), float(band.high)
    assert holds(band, low) and holds(band, high)
    assert not holds(band, 0.99 * low) and not holds(band, 1.01 * high)


def test_as_printed_counts_are_those_of_the_table():
    rows = tables.read("timed_benches")
    assert len(rows) == len({(row["way"], row["offcuts"]) for row in rows})
    for row in rows:
        counts = counted(row["way"], int(row["offcuts"]))
        assert f"{counts.width:.3f}" == row["high_over_low"]
        assert (counts.held, counts.benches) == (int(row["held"]), int(row["benches"]))


def test_law_the_old_bottle_is_wider_in_doubt_than_read():
    exact, doubtful = numbers.old_bottle()
    assert doubtful.low < exact.low and exact.high < doubtful.high
