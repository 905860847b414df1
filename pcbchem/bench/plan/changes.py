"""What would help and what is in doubt: one change at a time that lifts a verdict, and what widens the band."""

from __future__ import annotations

import dataclasses
from itertools import product

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import ZERO_C, mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.parameters import RateParameters
from ..hazards.verdicts import VERDICTS
from .inputs import Inputs
from .outlook import doubtful, etched, judged

MOST_WATER = 10.0
"""Most water tried [parts to one of the larger of acid and peroxide]."""
MOST_BATH = 0.10
"""Most bath over bare copper tried [m³/m²]: 10 mL per cm²."""
COLDEST = 10.0 + ZERO_C
"""Coldest start tried [K]."""
TENTH_PER_CM2 = 0.1 * mL_per_cm2  # m³/m²
FEW = 8  # tries of a lever at first; then every step between the first that helps and the one before it


@dataclasses.dataclass(frozen=True, eq=False)
class Change:
    """One change that was tried and lifts the verdict: `inputs` hold it, `verdict` is what it then is.

    `lever`: "water" (parts), "bath" (more of the same for the copper) or "start" (colder bottles);
    `value` of it [parts, m³/m² or K]; `share` of the way to the limit of what is tried [-].
    """

    lever: str
    value: float
    share: float
    verdict: str
    inputs: Inputs


@dataclasses.dataclass(frozen=True)
class Doubt:
    """One doubt, and the band of times that would be left if it were set to its middle.

    `low` and `high` [s, infinite: never]; `drop` of log(90 %/10 %) of the time, counted up to four hours [-].
    """

    name: str
    drop: float
    low: float
    high: float


def ladder(given: Inputs, lever: str) -> FloatArray:
    """Every value of a lever that may be tried, the smallest change first, in figures that can be said as they are.

    Parameters
    ----------
    given : Inputs
        Where the lever stands.
    lever : str
        "water" [parts, by tenths], "bath" [m³/m², by tenths of a mL per cm²] or "start" [K, by whole °C].

    Returns
    -------
    array
        From the next round figure to the limit [parts, m³/m² or K]; empty where there is no way to go.
    """
    water, acid, peroxide = given.parts
    if lever == "water":
        most = MOST_WATER * max(acid, peroxide) if given.fresh else 0.0
        return np.arange(np.floor(10 * water + 1e-9) + 1, 10 * most + 1) / 10
    if lever == "bath":
        return (
            np.arange(
                np.floor(given.bath_per_area / TENTH_PER_CM2 + 1e-9) + 1,
                MOST_BATH / TENTH_PER_CM2 + 1 - 1e-9,
            )
            * TENTH_PER_CM2
        )
    return (
        np.arange(np.ceil(given.T_bottles - ZERO_C - 1e-9) - 1, COLDEST - ZERO_C - 1, -1) + ZERO_C
    )


def moved(given: Inputs, lever: str, value: float) -> Inputs:
    """The inputs with one lever moved [parts, m³/m², K]."""
    if lever == "water":
        return given.replace(parts=(value, *given.parts[1:]))
    return given.replace(**{"bath": {"bath_per_area": value}, "start": {"T_bottles": value}}[lever])


def helpful(given: Inputs, now: int, over_public: float) -> tuple[Change, ...]:
    """Every single change that lifts the verdict: the smallest of its kind, and the smallest that lifts it wholly.

    Parameters
    ----------
    given : Inputs
        A plan's inputs.
    now : int
        How severe its verdict is [index into `VERDICTS`].
    over_public : float
        Strength of a bottle over what the public may hold [-]: no change of the mixture alters that.

    Returns
    -------
    tuple of Change
        The smallest share of the way first; empty where none is enough.
    """
    if now == 0 or (now == 1 and over_public > 1):
        return ()
    ladders = {
        lever: values
        for lever in ("water", "bath", "start")
        if (values := ladder(given, lever)).size
    }
    few = {
        lever: sorted({int(k) - 1 for k in np.geomspace(1, values.size, FEW).round()})
        for lever, values in ladders.items()
    }
    with collecting_warnings():
        rough = verdicts(given, ladders, few, now, over_public)
        near: dict[str, list[int]] = {}
        for lever, target in product(ladders, range(over_public > 1, now)):
            at = first(rough, lever, target)
            if at is not None:
                before = max((k for k in few[lever] if k < at), default=-1)
                near.setdefault(lever, []).extend(
                    k for k in range(before + 1, at) if k not in near.get(lever, ())
                )
        known = rough | verdicts(given, ladders, near, now, over_public)
    found = {}
    for lever, values in ladders.items():
        for target in range(now - 1, -1, -1):
            at = first(known, lever, target)
            if at is not None:
                level = known[lever, at]
                found[lever, at] = Change(
                    lever,
                    float(values[at]),
                    (at + 1) / values.size,
                    VERDICTS[level],
                    moved(given, lever, float(values[at])),
                )
    return tuple(sorted(found.values(), key=lambda change: change.share))


def first(known: dict[tuple[str, int], int], lever: str, target: int) -> int | None:
    """The first place on a lever's ladder where the verdict is no worse than a target [index into `VERDICTS`]."""
    return min(
        (at for (name, at), level in known.items() if name == lever and level <= target),
        default=None,
    )


def verdicts(
    given: Inputs,
    ladders: dict[str, FloatArray],
    which: dict[str, list[int]],
    now: int,
    over_public: float,
) -> dict[tuple[str, int], int]:
    """How severe the verdict is at those places of each lever's ladder [parts, m³/m², K] that are to be tried."""
    tries = [(lever, k) for lever, places in which.items() for k in places]
    if not tries:
        return {}
    variants = [moved(given, lever, float(ladders[lever][k])) for lever, k in tries]
    return {
        one: int(level)
        for one, level in zip(tries, judged(given, variants, over_public, now)[0], strict=True)
    }


def spread(band: Band) -> float:
    """log(90 %/10 %) of a band of times [s], counted up to four hours [-]."""
    return float(np.log(np.minimum(band.high, LONGEST) / np.minimum(band.low, LONGEST)))


def doubts(given: Inputs, times: Band) -> tuple[Doubt, ...]:
    """What widens the band of times most: each doubt in turn set to its middle.

    Parameters
    ----------
    given : Inputs
        A plan's inputs.
    times : Band
        Its times to clear [s].

    Returns
    -------
    tuple of Doubt
        The one that widens it most first; a doubt that is none is left out.
    """
    drawn = doubtful(given)
    names = {
        "acid": ("acid",),
        "peroxide": ("peroxide",),
        "kept bath": tuple(name for name in drawn if name.startswith("kept ")),
    }
    unused = {
        name
        for name, part in zip(("acid", "peroxide"), given.parts[1:], strict=True)
        if not part * given.fresh
    }
    wide = {
        name: keys
        for name, keys in names.items()
        if name not in unused and any(np.ptp(np.asarray(drawn[key])) > 0 for key in keys)
    }
    rows = (*wide.values(), ())  # last: the bottles as they are, and the model at its defaults
    strengths = {
        key: as_draws(
            np.array(
                [
                    np.full(given.draws, middle(given, key)) if key in keys else values
                    for keys in rows
                ]
            )
        )
        for key, values in drawn.items()
    }
    plausible, usual = RateParameters.plausible(given.draws).values(), RateParameters().values()
    parameters = RateParameters(
        **{
            name: as_draws(
                np.array(
                    [np.broadcast_to(values, given.draws)] * len(wide)
                    + [np.full(given.draws, usual[name])]
                )
            )
            for name, values in plausible.items()
        }
    )
    with collecting_warnings():
        band = etched(given, parameters=parameters, drawn=strengths).run.band("time_to_clear")
    left = {
        name: Band.of(values, given.draws)
        for name, values in zip((*wide, "model"), band.values, strict=True)
    }
    rated = [
        Doubt(name, spread(times) - spread(narrow), float(narrow.low), float(narrow.high))
        for name, narrow in left.items()
    ]
    return tuple(sorted(rated, key=lambda doubt: -doubt.drop))


def middle(given: Inputs, key: str) -> float:
    """Middle of one doubtful thing, by its name in `doubtful` [kg/kg, mol/m³]."""
    if key in ("acid", "peroxide"):
        return float(getattr(given, key).middle)
    return float(np.mean(getattr(given.kept, key.removeprefix("kept "))))
