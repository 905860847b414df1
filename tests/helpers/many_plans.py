"""Thousands of random plans for a benchmark: wider inputs than people try, and what comes of them.

What meets what is worked out by hand, draw by draw, from what is poured in which order. The limits
are those of `second_reading`.
"""

import dataclasses

import numpy as np

from helpers.plans import verdicts_alone
from helpers.second_reading import (
    SECOND,
    ZERO,
    cut,
    figures_in,
    liquids_of,
    log_uniform,
    some_inputs,
    verdict_of,
)
from pcbchem import Board, Bottle, Foil, Tray, UsedBath
from pcbchem.bench.plan.planning import planned
from pcbchem.common.limits import collecting_warnings

MEETINGS = {
    "acid > 12 % into peroxide > 6 %": ("acid", 12, 6),
    "acid from 25 % into peroxide > 4 %": ("acid", 25, 4),
    "peroxide > 6 % into acid > 12 %": ("peroxide", 6, 12),
    "peroxide > 4 % into acid from 25 %": ("peroxide", 4, 25),
}
"""What must not meet: what is poured, its strength and that of the other in the jug [%]."""
FROM_ON = 25  # this strength itself is too much; the others are still allowed
ROUNDING = 1e-9  # [%]: 0.35 - 0.1 is 25 %, not a bit less


def wide_inputs(seed, draws):
    """Draw random inputs of a seed: people's, and in most of them something widened."""
    random = np.random.default_rng(seed)
    inputs = some_inputs(random, draws)
    inputs = random.choice(WAYS)(random, inputs)
    if random.random() < 0.15:
        inputs = inputs.replace(T_bottles=ZERO + random.uniform(0, 40))
    if random.random() < 0.3:
        inputs = walled(random, inputs)
    return inputs


def as_people_try(random, inputs):
    """Leave inputs as they are."""
    return inputs


def household(random, inputs):
    """Take weak bottles, little water and room enough: what may come out as *mix it*."""
    return inputs.replace(
        acid=Bottle.labelled("HCl", random.uniform(0.05, 0.15)),
        peroxide=Bottle.labelled("H2O2", random.uniform(0.03, 0.12)),
        parts=(random.uniform(0, 1), *random.uniform(1, 3, 2)),
        board=Board(area=log_uniform(random, 1e-3, 3e-2), foil=Foil.ounces(1.0)),
        tray=Tray(str(random.choice(("rocked", "shaken"))), T_air=ZERO + random.uniform(12, 28)),
        bath_per_area=log_uniform(random, 0.02, 0.15),
        T_bottles=ZERO + random.uniform(8, 25),
        used_bath=None,
    )


def large(random, inputs):
    """Take a bath of 1 to 6 litres."""
    litres = random.uniform(1, 6)
    depth = litres / 1000 / float(inputs.board.copper_area)
    tray = dataclasses.replace(inputs.tray, open_area=None, facing="up")
    return inputs.replace(bath_per_area=min(depth, 9.0), tray=tray)


def stock(random, inputs):
    """Take the strongest bottles there are, with or without water."""
    return inputs.replace(
        acid=Bottle.labelled("HCl", random.uniform(0.2, 0.37)),
        peroxide=Bottle.labelled("H2O2", random.uniform(0.03, 0.35)),
        parts=(random.choice((0.0, random.uniform(0, 10))), *random.uniform(1, 4, 2)),
    )


def weak_peroxide(random, inputs):
    """Take acid of any strength and peroxide near the limits by which the order goes."""
    return inputs.replace(
        acid=Bottle("HCl", *np.sort(random.uniform(0.10, 0.37, 2))),
        peroxide=Bottle("H2O2", *np.sort(random.uniform(0.02, 0.08, 2))),
        parts=(random.choice((0.0, random.uniform(0, 2))), *random.uniform(1, 4, 2)),
    )


def topped_up(random, inputs):
    """Take a used bath that may hold anything, with much or little poured to it."""
    most = random.choice((450, 2500, 5000))
    ends = [np.sort(random.uniform(0, high, 2)) for high in (2500, 7000, most)]
    return inputs.replace(
        used_bath=UsedBath(random.uniform(0.05, 0.98), *(tuple(pair) for pair in ends)),
        acid=Bottle.labelled("HCl", random.uniform(0.05, 0.37)),
    )


def without_one(random, inputs):
    """Leave one liquid out."""
    parts = list(inputs.parts)
    parts[random.integers(3)] = 0.0
    return inputs.replace(parts=tuple(parts))


WAYS = (
    *(as_people_try, household, household, household),
    *(large, stock, weak_peroxide, topped_up, topped_up, without_one),
)


def walled(random, inputs):
    """Say how long the wall of the vessel is: near a circle's, or long and narrow."""
    tray, area = inputs.tray, float(inputs.board.copper_area)
    open_area = float(tray.surface(inputs.bath_per_area * area, area))
    perimeter = np.sqrt(open_area) * random.uniform(3.6, 6)
    return inputs.replace(tray=dataclasses.replace(tray, perimeter=perimeter))


def met(inputs, liquids):
    """Find which of `MEETINGS` any draw comes to, by what is poured in which order."""
    names = set()
    whole = {"HCl": 0.0, "H2O2": 0.0, "mass": 0.0}
    for name, liquid in liquids.items():
        mass = np.asarray(liquid.mass) + np.zeros(inputs.draws)
        percent = {
            substance: 100 * np.asarray(liquid.mass_fraction(substance))
            for substance in ("HCl", "H2O2")
        }
        if np.all(whole["mass"] > 0):
            for meeting, (what, poured, there) in MEETINGS.items():
                if what == "acid" and name == "acid":
                    fresh, jug = percent["HCl"], 100 * whole["H2O2"] / whole["mass"]
                elif what == "peroxide" and name in ("peroxide", SECOND):
                    fresh, jug = percent["H2O2"], 100 * whole["HCl"] / whole["mass"]
                else:
                    continue
                if np.any(is_too_strong(fresh, poured) & is_too_strong(jug, there)):
                    names.add(meeting)
        for substance in percent:
            whole[substance] = whole[substance] + mass * percent[substance] / 100
        whole["mass"] = whole["mass"] + mass
    return names


def is_too_strong(percent, limit):
    """Return where a strength [%] is above a limit, or from 25 % on."""
    if limit == FROM_ON:
        return percent >= limit - ROUNDING
    return percent > limit + ROUNDING


@dataclasses.dataclass(frozen=True)
class Reading:
    """What came of one random plan.

    `error`: what it raised. `verdict` and `second`: the package's and the second reading's, with
    the `rules` exceeded by the second. `meetings`: which of `MEETINGS` any draw comes to. `litres`:
    9 in 10 baths are at most so large. `used_peroxide`: the most that the used bath may hold
    [mol/L]. `is_poured_so`: the steps pour what the second reading does, in that order. `warmth`:
    half, 3 in 4 and 9 in 10 are at most so warm while etching, in the hour and in the day [°C].
    `worst`: 1 in 10 baths exceeds these.
    """

    seed: int
    inputs: str
    error: str = ""
    verdict: str = ""
    second: str = ""
    rules: tuple = ()
    meetings: tuple = ()
    litres: float = 0.0
    used_peroxide: float = 0.0
    is_poured_so: bool = True
    warmth: dict = dataclasses.field(default_factory=dict)
    worst: dict = dataclasses.field(default_factory=dict)


def reading(seed, draws):
    """Plan the random inputs of a seed, say the plan, and read it a second time."""
    inputs = wide_inputs(seed, draws)
    line = line_of(inputs)
    try:
        with verdicts_alone():
            plan = planned(inputs)
            assert str(plan)
    except Exception as error:  # whatever it is, its seed is wanted and the others go on
        return Reading(seed, line, error=f"{type(error).__name__}: {error}")

    with collecting_warnings():
        liquids = liquids_of(inputs)
        figures = figures_in(plan)
        rules, second = verdict_of(figures)
        # what people are told to pour, in the order they are told; refused plans tell nothing
        order = list(liquids)
        if not plan.refused:
            order = [stage.what for stage in plan.stages if stage.what in liquids]
        meetings = met(inputs, {name: liquids[name] for name in order})
    standing = {
        "etching": np.asarray(plan.run.peak_temperature) - ZERO,
        "hour": np.asarray(plan.after.peak_temperature) - ZERO,
        "day": np.asarray(plan.day.peak_temperature) - ZERO,
    }
    oxygen = float("nan") if plan.refused else float(plan.bands["oxygen"].high)
    return Reading(
        seed=seed,
        inputs=line,
        verdict=plan.verdict,
        second=second,
        rules=tuple(sorted(rules)),
        meetings=tuple(sorted(meetings)),
        litres=float(cut(figures["litres"], 9)),
        used_peroxide=0.0 if inputs.used_bath is None else inputs.used_bath.peroxide[1] / 1000,
        is_poured_so=plan.refused or is_poured_so(plan, liquids),
        warmth={
            name: tuple(float(cut(values, tenths)) for tenths in (5, 7.5, 9))
            for name, values in standing.items()
        },
        worst={
            "peak while etching, °C": float(cut(standing["etching"], 9)),
            "peak in the hour after, °C": float(cut(standing["hour"], 9)),
            "peak in the day after, °C": float(cut(standing["day"], 9)),
            "acid, mol/L": float(cut(figures["acid"], 9)),
            "peroxide, %": float(cut(figures["peroxide"], 9)),
            "oxygen in the hour, volumes": oxygen,
        },
    )


def is_poured_so(plan, liquids):
    """Whether the steps pour the same liquids in the same order, as much of each."""
    if [stage.what for stage in plan.stages] != list(liquids):
        return False
    with collecting_warnings():
        volumes = [float(np.mean(np.asarray(liquid.volume))) for liquid in liquids.values()]
    return bool(np.allclose([stage.volume for stage in plan.stages], volumes, rtol=1e-6))


def line_of(inputs):
    """Say inputs in a line."""
    water, acid, peroxide = inputs.parts
    tray, area = inputs.tray, float(inputs.board.copper_area)
    words = [
        f"acid {100 * inputs.acid.low:.1f}-{100 * inputs.acid.high:.1f} %",
        f"peroxide {100 * inputs.peroxide.low:.1f}-{100 * inputs.peroxide.high:.1f} %",
        f"{water:.2f} : {acid:.2f} : {peroxide:.2f}",
        f"{1e6 * inputs.bath_per_area * area:.0f} mL on {1e4 * area:.1f} cm²",
        f"{1e6 * float(inputs.board.foil.thickness):.0f} µm",
        f"{tray.agitation} {tray.facing}",
    ]
    if tray.open_area is not None:
        words.append(f"open {1e4 * float(tray.open_area):.1f} cm²")
    if tray.perimeter is not None:
        words.append(f"wall {100 * float(tray.perimeter):.0f} cm")
    words.append(f"bottles {inputs.T_bottles - ZERO:.0f} °C, air {float(tray.T_air) - ZERO:.0f} °C")
    used = inputs.used_bath
    if used is not None:
        acid_used, peroxide_used = (f"{ends[1] / 1000:.2f}" for ends in (used.acid, used.peroxide))
        words.append(
            f"{100 * used.share:.0f} % used bath of at most {acid_used} mol/L acid and "
            f"{peroxide_used} peroxide"
        )
    if inputs.second is not None:
        words.append(f"{100 * inputs.second[0]:.0f} % held back for {inputs.second[1]:.0f} s")
    return ", ".join(words) + f", {inputs.place}"
