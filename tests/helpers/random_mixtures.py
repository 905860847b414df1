"""Maps of random bottles, boards and trays, and some mixtures of each planned one by one."""

from typing import NamedTuple

import numpy as np

from helpers.many_plans import household
from helpers.plans import verdicts_alone
from helpers.second_reading import some_inputs
from pcbchem.bench.mixtures import mixtures
from pcbchem.common.limits import collecting_warnings


class Pair(NamedTuple):
    """What a map and a plan say of one mixture: verdict, whether for harm, first rule."""

    seed: int
    parts: tuple
    on_the_map: tuple
    planned: tuple


def random_map(seed, steps, draws):
    """Map the mixtures of random inputs of a seed; each second one of weak bottles."""
    random = np.random.default_rng(seed)
    inputs = some_inputs(random, draws)
    if seed % 2:
        inputs = household(random, inputs)
    with collecting_warnings():
        return mixtures(
            inputs.acid,
            inputs.peroxide,
            inputs.board,
            inputs.tray,
            place=inputs.place,
            bath_per_area=inputs.bath_per_area,
            T_bottles=inputs.T_bottles,
            steps=steps,
            draws=draws,
            seed=inputs.seed,
        )


def pairs(seed, steps, draws, count):
    """Compare some mixtures of a random map with their plans."""
    every = random_map(seed, steps, draws)
    found = []
    for index in _some_of_each_verdict(every, np.random.default_rng(seed), count):
        with collecting_warnings(), verdicts_alone():
            plan = every.plan(index)
        first = plan.reasons[0].rule if plan.reasons else ""
        found.append(
            Pair(
                seed=seed,
                parts=every.parts(index),
                on_the_map=(
                    every.verdict(index),
                    bool(every.harmful[index]),
                    str(every.reason[index]),
                ),
                planned=(plan.verdict, plan.harmful, first),
            )
        )
    return found


def _some_of_each_verdict(every, random, count):
    """Choose mixtures, one of each verdict in turn: most of what can be mixed is refused."""
    waiting = [random.permutation(np.flatnonzero(every.severity == k)).tolist() for k in range(3)]
    chosen = []
    while len(chosen) < count:
        for places in waiting:
            if places and len(chosen) < count:
                chosen.append(places.pop())
    return chosen
