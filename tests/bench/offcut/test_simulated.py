"""Simulated benches: the shipped table holds what a calibration must show, and the command counts rightly."""

import math

import numpy as np
import pytest

from pcbchem.bench.offcut import simulated
from pcbchem.common import tables
from pcbchem.reaction.bath.parameters import shipped_draws
from pcbchem.reaction.bath.plausible import FACTS, predictions

ROWS = {(row["noise_percent"], row["offcuts"]): row for row in tables.read("simulated_benches")}


def test_validation_the_band_holds_the_truth_about_as_often_as_it_says():
    # the truth is known because it was made: 8 of 10 bands should hold it; 300 benches are good to about 2 in 100
    whole = ROWS["15", "1-6"]
    assert int(whole["benches"]) == 300
    assert 72 <= float(whole["covered_percent"]) <= 88
    assert sum(int(ROWS["15", str(n)]["benches"]) for n in range(1, 7)) == 300
    by_number = [
        float(ROWS["15", str(n)]["covered_percent"]) * int(ROWS["15", str(n)]["benches"])
        for n in range(1, 7)
    ]
    assert sum(by_number) / 300 == pytest.approx(float(whole["covered_percent"]), abs=0.05)


def test_validation_six_offcuts_narrow_the_middle_band_at_least_twofold():
    assert float(ROWS["15", "6"]["narrower_times"]) >= 2
    narrower = [float(ROWS["15", str(n)]["narrower_times"]) for n in (1, 3, 6)]
    assert narrower == sorted(narrower)
    before, after = (
        math.log(float(ROWS["15", "6"][f"high_over_low_{when}"])) for when in ("before", "after")
    )
    assert before / after >= 2


def test_law_a_worse_hand_than_stated_is_shown_too():
    assert float(ROWS["25", "1-6"]["covered_percent"]) < float(ROWS["15", "1-6"]["covered_percent"])


def made(true, before, after, offcuts=2, anew=False):
    return simulated.Bench(offcuts, 0.15, true, before, after, anew)


def test_law_lines_are_counted_by_hand():
    benches = [
        made(100, (50, 200), (90, 110)),
        made(100, (50, 200), (110, 120), anew=True),
        made(math.inf, (50, math.inf), (400, math.inf)),
        made(122, (130, 260), (100, 121)),
    ]
    row = simulated.line(benches, "2")
    assert (row["covered_percent"], row["covered_before_percent"], row["made_percent"]) == (
        "50.0",
        "75.0",
        "25",
    )
    ratios = [
        math.log(4) / math.log(110 / 90),
        math.log(4) / math.log(120 / 110),
        math.log(14_400 / 50) / math.log(14_400 / 400),
        math.log(2) / math.log(1.21),
    ]
    assert float(row["narrower_times"]) == pytest.approx(np.median(ratios), abs=0.005)


def test_law_truths_are_fresh_and_meet_the_facts():
    fresh = simulated.truths(3, 5)
    assert len(fresh) == 3
    seen = predictions({name: np.array([true[name] for true in fresh]) for name in fresh[0]})
    assert all(np.all(fact.met(seen[fact.name])) for fact in FACTS)
    assert not {true["surface_rate"] for true in fresh} & set(shipped_draws()["surface_rate"])


def test_law_a_bench_is_the_same_each_time_and_its_offcuts_count():
    true = simulated.truths(1, 5)[0]
    first, again, third = (simulated.bench(true, number, 0.15) for number in (1, 1, 3))
    assert first == again and (first.offcuts, third.offcuts) == (2, 4)
    assert first.before[0] < first.before[1] and 0 < first.after[0] < first.after[1]


def test_law_times_seen_scatter_as_stated_and_bottles_differ(monkeypatch):
    # the same bench with and without noise, its log looked at and not calibrated: 40 benches of 1 to 6 offcuts
    class Seen(Exception):
        pass

    def look(log, seed):
        raise Seen(log)

    monkeypatch.setattr(simulated, "calibrate", look)
    true = simulated.truths(1, 5)[0]

    def times(number, noise):
        with pytest.raises(Seen) as found:
            simulated.bench(true, number, noise)
        return [(offcut.parts, offcut.time) for offcut in found.value.args[0].offcuts]

    quiet, noisy = ([times(number, noise) for number in range(40)] for noise in (0.0, 0.15))
    ratios = [
        np.log(b[1] / a[1])
        for one, other in zip(quiet, noisy, strict=True)
        for a, b in zip(one, other, strict=True)
        if max(a[1], b[1]) < 1800
    ]
    assert (
        len(ratios) > 80
        and np.std(ratios) == pytest.approx(0.15, rel=0.25)
        and abs(np.mean(ratios)) < 0.05
    )
    alike = [time for bench in quiet for parts, time in bench if parts == (1.0, 1.0, 1.0)]
    assert len(set(alike)) > 10  # bottles of one label are not all of one strength


def test_validation_benches_run_now_come_out_as_the_table_says():
    # twelve benches of the table's kind, a small sample: 8 of 10 bands should hold the truth
    benches = [
        simulated.bench(true, number, 0.15) for number, true in enumerate(simulated.truths(12, 99))
    ]
    row = simulated.line(benches, "1-6")
    assert float(row["covered_percent"]) >= 58  # 7 of 12: fewer by chance once in 50
    assert float(row["narrower_times"]) > 1.5


def test_law_too_few_draws_that_meet_the_facts_are_an_error(monkeypatch):
    monkeypatch.setattr(simulated, "PASS", 1.0)
    with pytest.raises(RuntimeError, match="draws meet the facts: 20 are needed"):
        simulated.truths(20, 5)
