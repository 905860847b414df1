"""The map of all mixtures: how long it takes, and 200 random points of it planned one by one.

`pytest tests/benchmarks/test_mixtures.py -n 0 -s`. Everything is printed, pass or fail, and then
asserted.
"""

from collections import Counter
from time import perf_counter

import numpy as np
from helpers.plans import verdicts_alone
from helpers.random_mixtures import pairs
from helpers.timing import best

from pcbchem import Board, Bottle
from pcbchem.bench.mixtures import mixtures
from pcbchem.common.limits import collecting_warnings
from pcbchem.common.units import mL

BOARD = Board(75e-3, 60e-3, 0.6)
BATH = 150 * mL / 27e-4
BOTTLES = {
    "10 % and 12 %": (0.10, 0.12),
    "31.45 % and 3 %": (0.3145, 0.03),
    "37 % and 35 %": (0.37, 0.35),
}
RANDOM_MAPS, OF_EACH = 50, 4
MOST_SECONDS, MOST_FIRST_SECONDS = 5.0, 1.0


def mapped(strengths, draws):
    """Map the mixtures of two bottles [kg/kg] for the workshop's board."""
    acid, peroxide = strengths
    return mixtures(
        Bottle.labelled("HCl", acid),
        Bottle.labelled("H2O2", peroxide),
        BOARD,
        place="elsewhere",
        bath_per_area=BATH,
        draws=draws,
    )


def test_the_map_takes_its_time_and_no_more(say):
    """231 mixtures × 200 draws within 5 s; with 40 draws within 1 s; beside plans one by one."""
    for name, strengths in BOTTLES.items():
        first = best(lambda strengths=strengths: mapped(strengths, 40), 3)
        whole = best(lambda strengths=strengths: mapped(strengths, 200), 3)
        every = mapped(strengths, 200)
        some = np.random.default_rng(1).choice(len(every), 12, replace=False).tolist()
        with collecting_warnings(), verdicts_alone():
            begun = perf_counter()
            for index in some:
                every.plan(index)
            alone = (perf_counter() - begun) / len(some)
        say(
            f"{name}: {len(every)} mixtures × 200 draws {whole:.2f} s (at most {MOST_SECONDS:g}), "
            f"× 40 draws {first:.2f} s (at most {MOST_FIRST_SECONDS:g}); one by one "
            f"{1e3 * alone:.0f} ms each: the map is {alone * len(every) / whole:.0f} times quicker"
        )
        assert whole <= MOST_SECONDS and first <= MOST_FIRST_SECONDS
        assert alone * len(every) / whole >= 3


def test_verdicts_of_random_mixtures_are_those_of_plans(say):
    """200 mixtures of 50 random pairs of bottles, boards and trays, 200 draws."""
    begun = perf_counter()
    every = [
        pair
        for seed in range(1000, 1000 + RANDOM_MAPS)
        for pair in pairs(seed, steps=20, draws=200, count=OF_EACH)
    ]
    verdicts = Counter(pair.planned[0] for pair in every)
    wrong = [pair for pair in every if pair.on_the_map != pair.planned]
    say(
        f"{len(every)} random mixtures in {perf_counter() - begun:.0f} s, {dict(verdicts)}; "
        f"unlike their plan: {wrong or 'none'}"
    )
    assert len(every) == RANDOM_MAPS * OF_EACH and len(verdicts) == 3
    assert wrong == []
