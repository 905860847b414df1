"""Five thousand random plans, read a second time: `pytest tests/benchmarks`.

Seeds 0 to 4999, 200 draws, two processes; without changes and doubts, which no verdict reads.
Everything is printed, pass or fail, and then asserted. Laws, all of them.
"""

import multiprocessing
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from time import perf_counter

import pytest
from helpers.many_plans import MEETINGS, reading

PLANS, DRAWS, PROCESSES = 5000, 200, 2
SHOWN = 3  # of what is wrong
MIX_IT, REFUSED = "mix it", "do not mix"


@pytest.fixture(scope="module")
def readings():
    # a new process each: what the parent runs beside is not copied
    context = multiprocessing.get_context("spawn")
    begun = perf_counter()
    with ProcessPoolExecutor(PROCESSES, mp_context=context) as pool:
        rows = list(pool.map(partial(reading, draws=DRAWS), range(PLANS), chunksize=20))
    return rows, perf_counter() - begun


@pytest.fixture
def rows(readings):
    return [row for row in readings[0] if not row.error]


def check_none(wrong, what, say):
    """Say how many are wrong and show a few, then fail if there are any."""
    say(f"{what}: {len(wrong) or 'none'}")
    for row in wrong[:SHOWN]:
        say(f"  seed {row.seed}: {row.verdict} {row.error} {row.rules} {row.inputs}")
    assert not wrong


def test_no_plan_ends_in_an_exception(readings, say):
    every, seconds = readings
    say(f"{len(every)} plans in {seconds:.0f} s")
    assert len(every) == PLANS
    check_none([row for row in every if row.error], "exceptions", say)


def test_counts_and_the_worst_that_may_be_mixed(rows, say):
    """Enough of each verdict and each meeting that the other tests say something."""
    verdicts = Counter(row.verdict for row in rows)
    say(f"verdicts {dict(verdicts)}")
    rules = Counter(rule for row in rows for rule in row.rules)
    say(f"limits exceeded {dict(rules.most_common())}")
    meetings = Counter(meeting for row in rows for meeting in row.meetings)
    say(f"meetings {dict(meetings)}")
    mixed = [row for row in rows if row.verdict == MIX_IT]
    for name in mixed[0].worst:
        row = max(mixed, key=lambda row: row.worst[name])
        say(f"worst {MIX_IT} by {name}: {row.worst[name]:.2f}, seed {row.seed}: {row.inputs}")
    assert min(verdicts.values()) >= 300 and len(verdicts) == 3
    assert min(meetings[meeting] for meeting in MEETINGS) >= 100
    assert sum(row.litres > 3 for row in rows) >= 100
    assert sum(row.used_peroxide > 0.5 for row in rows) >= 100


def test_verdicts_are_those_of_the_second_reading(rows, say):
    wrong = [row for row in rows if row.verdict != row.second]
    check_none(wrong, "verdicts unlike the second reading's", say)


def test_mild_baths_keep_every_limit_in_the_hour_and_the_day(rows, say):
    """Half 60, 1 in 4 45, 1 in 10 60 °C, in the hour and in the day; while etching 45 °C."""
    wrong = []
    for row in rows:
        _, _, etching = row.warmth["etching"]
        standing = [
            middle > 60 or upper > 45 or high > 60
            for middle, upper, high in (row.warmth["hour"], row.warmth["day"])
        ]
        if row.verdict == MIX_IT and (any(standing) or etching > 45):
            wrong.append(row)
    check_none(wrong, f"{MIX_IT} above a limit of warmth", say)


def test_strong_acid_and_peroxide_never_meet_in_a_plan(rows, say):
    wrong = [row for row in rows if row.verdict != REFUSED and row.meetings]
    check_none(wrong, "not refused where strong acid and peroxide meet", say)


def test_steps_pour_in_the_order_of_the_second_reading(rows, say):
    wrong = [row for row in rows if not row.is_poured_so]
    check_none(wrong, "poured in another order, or more or less", say)


def test_no_plan_of_more_than_three_litres(rows, say):
    wrong = [row for row in rows if row.verdict != REFUSED and row.litres > 3]
    check_none(wrong, "not refused above 3 L", say)


def test_no_plan_with_a_used_bath_that_is_not_quiet(rows, say):
    wrong = [row for row in rows if row.verdict != REFUSED and row.used_peroxide > 0.5]
    check_none(wrong, "not refused with more than 0.5 mol/L of peroxide in the used bath", say)
