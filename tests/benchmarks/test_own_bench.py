"""Speed of what a page asks of one's own bench, and the long versions of the tests of its log.

Each call in milliseconds, best of several, alone on the machine.
"""

import itertools
from time import perf_counter

import pytest
from helpers.damaged_logs import read_damaged
from helpers.log_writers import check_kills, check_two_writers
from helpers.offcuts import ACID, PEROXIDE, offcut
from helpers.timing import best

from pcbchem import Board, Foil, RateParameters, Tray, etch, plan
from pcbchem.bench import bottle
from pcbchem.bench.offcut import (
    Log,
    append_offcuts,
    calibrate,
    candidates,
    narrowing,
    own_time,
    read_log,
)
from pcbchem.bench.plan.pours import poured
from pcbchem.lesson.own_bench.bench import Asked, Bench, workshop_plan
from pcbchem.matter.solution import mix
from pcbchem.reaction.trace.overetch import pulled
from pcbchem.reaction.trace.undercut import etch_factor, widths

USUAL = [(0, 215.0), (0, 230.0), (0.5, 350.0), (1, 470.0), (1, 500.0), (2, 800.0)]
QUICK = [(0, 150.0), (0, 160.0), (1, 250.0), (1, 280.0), (2, 450.0), (2, 480.0)]
"""Parts of water and times [s] of six offcuts: as most benches are, and so quick that new draws
have to be made."""
NUMBER = itertools.count(1)


def offcuts(times):
    """Offcuts each with a number in its note: the same row twice is refused."""
    return [offcut(water, time, note=f"offcut {next(NUMBER)}") for water, time in times]


@pytest.mark.parametrize(
    "name, times, new_draws",
    [("the shipped draws do", USUAL, 0), ("new draws are made", QUICK, 400)],
)
def test_six_offcuts_calibrate(say, name, times, new_draws):
    log = Log.of(offcuts(times))
    assert calibrate(log).new_draws == new_draws
    took = best(lambda: calibrate(log), 3)
    say(f"six offcuts, {name}: {1e3 * took:.0f} ms (under 2000)")
    assert took < 2.0


def bottle_calls():
    """What measures a bottle, by name, without arguments."""
    weighing = {"mass": 0.1158, "volume": 1e-4, "T": 293.15}
    gas = {"gas": 9e-6, "sample": 1e-6, "label": 0.12, "p": 101325.0, "dilution": 5.0}
    lye = {"concentration": 500.0, "titrant": 10e-6, "sample": 5e-6, "T": 293.15, "dilution": 10}
    weighed, titrated = bottle.by_weighing("HCl", **weighing), bottle.by_lye(**lye)
    return {
        "strength by weighing": lambda: bottle.by_weighing("HCl", **weighing),
        "strength by oxygen": lambda: bottle.by_oxygen(**gas, T=293.15, T_gas=293.15),
        "strength by titration": lambda: bottle.by_lye(**lye),
        "two readings combined": lambda: bottle.combined(weighed, titrated),
    }


def log_calls(path):
    """What reads and writes a log, by name, without arguments."""
    append_offcuts(path, *offcuts(USUAL * 8))
    return {
        "a log of 48 offcuts read": lambda: read_log(path),
        "a row appended to it": lambda: append_offcuts(path, offcuts(USUAL)[0]),
    }


def board_calls():
    """What is asked of a board on a calibrated bench, by name, without arguments."""
    calibration = calibrate(Log.of(offcuts(USUAL)))
    board = plan(ACID, PEROXIDE, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    tests = candidates(board)
    bath = mix(*poured(board.inputs).values())
    foil = Foil.ounces(1)
    run = etch(bath, Board(area=27e-4, foil=foil), Tray(), RateParameters.plausible(200))

    def trace():
        over = pulled(run, looks_every=30.0, first_look=120.0).over
        return widths(150e-6, 34e-6, etch_factor("rocked", 200, 1), over)

    return {
        "which of four offcuts next": lambda: narrowing(tests, board, calibration),
        "200 calibrated sets": lambda: calibration.parameters(200),
        "the board's calibrated band": lambda: own_time(board, calibration),
        "over-etch and widths of a trace": trace,
    }


def test_each_call_of_a_page(say, tmp_path):
    calls = {**bottle_calls(), **log_calls(tmp_path / "log.csv"), **board_calls()}
    took = {name: best(call, 7) for name, call in calls.items()}
    for name, seconds in took.items():
        say(f"{name}: {1e3 * seconds:.1f} ms (under 50)")
    assert max(took.values()) < 0.050


def test_a_long_log_is_read(say, tmp_path):
    append_offcuts(tmp_path / "log.csv", *offcuts(USUAL * 167)[:1000])
    assert len(read_log(tmp_path / "log.csv").offcuts) == 1000
    took = best(lambda: read_log(tmp_path / "log.csv"), 3)
    say(f"a log of 1000 offcuts read: {1e3 * took:.0f} ms (under 1000)")
    assert took < 1.0


# ---- the tests of the log, many times over


def test_two_writers_lose_none_of_a_thousand_rows(tmp_path):
    check_two_writers(tmp_path / "log.csv", 100)


def test_fifty_kills_leave_a_readable_log(tmp_path):
    check_kills(tmp_path / "log.csv", 50)


def test_a_thousand_damaged_logs_lose_no_row(tmp_path):
    count = read_damaged(tmp_path / "log.csv", range(1100))
    assert min(count.values()) > 200, count


def test_a_page_that_waits_for_new_draws_hears_of_them_each_second(say):
    """Of six quick offcuts: for the log, for the board, and for each test."""
    news = []
    asked = Asked("acid", "peroxide", True, 0.15)
    log = Log.of(offcuts(QUICK))
    Bench().told(workshop_plan(), "quick", log, asked, lambda share: news.append(perf_counter()))
    longest = max(later - earlier for earlier, later in itertools.pairwise(news))
    say(f"longest silence while new draws are made: {1e3 * longest:.0f} ms (under 1000)")
    assert len(news) > 12 and longest < 1.0, "from the first of them on"
