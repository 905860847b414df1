"""What would help and what is in doubt: single changes that lift a verdict, and what widens a band.

A *lever* is one thing that may be changed alone: more water, more bath for the copper, or a colder
start. Its *ladder* is every value that may be tried, the smallest change first.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import ZERO_C, mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.parameters import RateParameters
from ..hazards.verdicts import VERDICTS
from .inputs import Inputs
from .outlook import etched, judged
from .pours import USED_STRENGTHS, bottle_strengths

LEVERS = ("water", "bath", "start")
"""What may be changed: parts of water, bath over bare copper, temperature of the bottles."""
MOST_WATER = 10.0
"""Most water tried [parts to one of the larger of acid and peroxide]."""
MOST_BATH = 0.10
"""Most bath over bare copper tried [m³/m²]: 10 mL per cm²."""
COLDEST = 10.0 + ZERO_C
"""Coldest start tried [K]."""
TENTH_PER_CM2 = 0.1 * mL_per_cm2
"""Step of the bath over bare copper [m³/m²]: a tenth of a mL per cm²."""
FEW = 8
"""Steps of a ladder tried at first; then every one between the first that helps and the one
before it [-]."""
ROUNDING = 1e-9
"""A value so little off a step [-] is that step."""

Step = tuple[str, int]
"""A lever, and a place on its ladder."""


@dataclasses.dataclass(frozen=True, eq=False)
class Change:
    """One change that was tried and lifts the verdict.

    Parameters
    ----------
    lever : str
        One of `LEVERS`: "water" (parts), "bath" (more of the same for the copper) or "start"
        (colder bottles).
    value : float
        What it is changed to [parts, m³/m² or K].
    share : float
        Share of the way to the limit of what is tried [-].
    verdict : str
        What the verdict then is.
    inputs : Inputs
        The plan's inputs with the change made.
    """

    lever: str
    value: float
    share: float
    verdict: str
    inputs: Inputs


@dataclasses.dataclass(frozen=True)
class Doubt:
    """One doubt, and the band of times that would be left if it were set to its middle.

    Parameters
    ----------
    name : str
        "acid", "peroxide", "used bath" or "model".
    drop : float
        By how much log(90 %/10 %) of the time would fall, counted up to four hours [-].
    times : Band
        Times that would be left [s, infinite: never].
    """

    name: str
    drop: float
    times: Band

    @property
    def low(self) -> float:
        """Low end of the times that would be left [s]."""
        return float(self.times.low)

    @property
    def high(self) -> float:
        """High end of the times that would be left [s, infinite: never]."""
        return float(self.times.high)


def ladder(inputs: Inputs, lever: str) -> FloatArray:
    """List every value of a lever that may be tried, in figures that can be said as they are.

    Parameters
    ----------
    inputs : Inputs
        Where the lever stands.
    lever : str
        "water" [parts, by tenths], "bath" [m³/m², by tenths of a mL per cm²] or "start" [K, by
        whole °C].

    Returns
    -------
    array
        From the next round figure to the limit [parts, m³/m² or K], the smallest change first;
        empty where there is no way to go.
    """
    if lever == "water":
        if not inputs.fresh:  # nothing is poured that water could be added to
            return np.array([])
        water, acid, peroxide = inputs.parts
        # from the first whole tenth above; `arange` leaves its end out, hence one more
        tenths = np.floor(10 * water + ROUNDING)
        most_tenths = 10 * (MOST_WATER * max(acid, peroxide))
        return np.arange(tenths + 1, most_tenths + 1) / 10
    if lever == "bath":
        tenths = np.floor(inputs.bath_per_area / TENTH_PER_CM2 + ROUNDING)
        # the ratio may come out a bit above a whole number, and bring in a step too many
        most_tenths = MOST_BATH / TENTH_PER_CM2
        return np.arange(tenths + 1, most_tenths + 1 - ROUNDING) * TENTH_PER_CM2
    degrees = np.ceil(inputs.T_bottles - ZERO_C - ROUNDING)
    return np.arange(degrees - 1, COLDEST - ZERO_C - 1, -1) + ZERO_C


def moved(inputs: Inputs, lever: str, value: float) -> Inputs:
    """Return the inputs with one lever moved [parts, m³/m², K]."""
    if lever == "water":
        _, acid, peroxide = inputs.parts
        return inputs.replace(parts=(value, acid, peroxide))
    if lever == "bath":
        return inputs.replace(bath_per_area=value)
    return inputs.replace(T_bottles=value)


def helpful(inputs: Inputs, now: int, over_public: float) -> tuple[Change, ...]:
    """Find every single change that lifts the verdict.

    For each lever the smallest change that lifts it at all, and the smallest that lifts it wholly.

    Parameters
    ----------
    inputs : Inputs
        A plan's inputs.
    now : int
        How severe its verdict is [place in `VERDICTS`].
    over_public : float
        Strength of a bottle over what the public may hold [-]: no change of the mixture alters
        that.

    Returns
    -------
    tuple of Change
        The smallest share of the way first; empty where none is enough.
    """
    if now <= _least_severity(over_public):
        return ()
    ladders = {}
    for lever in LEVERS:
        values = ladder(inputs, lever)
        if values.size:
            ladders[lever] = values
    severities = _severities(inputs, ladders, now, over_public)

    # by the step, so that one which lifts it both at all and wholly is said once
    changes: dict[Step, Change] = {}
    for lever, values in ladders.items():
        for target in range(now - 1, -1, -1):
            place = _first_place(severities, lever, target)
            if place is None:
                continue
            value = float(values[place])
            changes[lever, place] = Change(
                lever=lever,
                value=value,
                share=(place + 1) / values.size,
                verdict=VERDICTS[severities[lever, place]],
                inputs=moved(inputs, lever, value),
            )
    return tuple(sorted(changes.values(), key=lambda change: change.share))


def _least_severity(over_public: float) -> int:
    """Return the severity that no change of the mixture betters [place in `VERDICTS`]."""
    # a bottle above the public limit leaves a care, whatever is mixed
    if over_public > 1:
        return VERDICTS.index("with cares")
    return VERDICTS.index("mix it")


def _severities(
    inputs: Inputs, ladders: Mapping[str, FloatArray], now: int, over_public: float
) -> dict[Step, int]:
    """Judge a few steps of each ladder, then each step just before one that helps.

    On a ladder a step is taken to help as long as a smaller one does. So of all its steps only
    those between the first that helps and the one tried before it need a closer look.
    """
    few: dict[str, list[int]] = {}
    for lever, values in ladders.items():
        # close together where the change is small: the smallest that helps is wanted
        numbers = np.geomspace(1, values.size, FEW).round()
        few[lever] = sorted({int(number) - 1 for number in numbers})
    rough_steps = [(lever, place) for lever, places in few.items() for place in places]
    best = _least_severity(over_public)
    with collecting_warnings():
        rough = _judged_steps(inputs, ladders, rough_steps, now, over_public)
        near_steps: dict[str, list[int]] = {}
        for lever, places in few.items():
            for target in range(best, now):
                helps = _first_place(rough, lever, target)
                if helps is None:
                    continue
                # no place before the first: then all from the start of the ladder
                before = max((place for place in places if place < helps), default=-1)
                near = near_steps.setdefault(lever, [])
                near.extend(place for place in range(before + 1, helps) if place not in near)
        close_steps = [(lever, place) for lever, places in near_steps.items() for place in places]
        return rough | _judged_steps(inputs, ladders, close_steps, now, over_public)


def _first_place(severities: Mapping[Step, int], lever: str, target: int) -> int | None:
    """Find the first place on a ladder where the verdict is no worse than a target severity."""
    places = [
        place
        for (name, place), severity in severities.items()
        if name == lever and severity <= target
    ]
    return min(places, default=None)


def _judged_steps(
    inputs: Inputs,
    ladders: Mapping[str, FloatArray],
    steps: Sequence[Step],
    now: int,
    over_public: float,
) -> dict[Step, int]:
    """Find how severe the verdict is at some steps of the ladders, all side by side."""
    if not steps:
        return {}
    # one call for all: hundreds of variants cost little more than one
    variants = [moved(inputs, lever, float(ladders[lever][place])) for lever, place in steps]
    severities, _ = judged(inputs, variants, over_public, now)
    return {step: int(severity) for step, severity in zip(steps, severities, strict=True)}


def spread(band: Band) -> float:
    """Return log(90 %/10 %) of a band of times [s], counted up to four hours [-]."""
    # by the ratio: a doubt makes times so many per cent longer, not so many seconds
    return float(np.log(np.minimum(band.high, LONGEST) / np.minimum(band.low, LONGEST)))


def doubts(
    inputs: Inputs, times: Band, parameters: RateParameters | None = None
) -> tuple[Doubt, ...]:
    """Find what widens the band of times most: each doubt in turn set to its middle.

    Parameters
    ----------
    inputs : Inputs
        A plan's inputs.
    times : Band
        Its times to clear [s].
    parameters : RateParameters, optional
        Plausible ones by default.

    Returns
    -------
    tuple of Doubt
        The one that widens it most first; a doubt that is none is left out.
    """
    if parameters is None:
        parameters = RateParameters.plausible(inputs.draws)
    strengths = bottle_strengths(inputs)
    bottles = _bottles_in_doubt(inputs, strengths)
    # one row for each doubt of the bottles at its middle; in the last row the bottles are as they
    # are, and the model is at its defaults
    at_middle = [*bottles.values(), ()]
    strength_rows = {}
    for name, values in strengths.items():
        rows = np.broadcast_to(values, (len(at_middle), inputs.draws)).copy()
        for k, names in enumerate(at_middle):
            if name in names:
                rows[k] = _middle(inputs, name)
        strength_rows[name] = as_draws(rows)
    parameter_rows = _last_at_defaults(parameters, len(at_middle), inputs.draws)
    with collecting_warnings():
        etching = etched(inputs, parameters=parameter_rows, strengths=strength_rows)
    left = etching.run.band("time_to_clear").values

    # each row is the band that would be left; what it is narrower by, its doubt makes
    doubts = []
    for name, values in zip((*bottles, "model"), left, strict=True):
        narrow = Band.of(values, inputs.draws)
        doubts.append(Doubt(name, spread(times) - spread(narrow), narrow))
    return tuple(sorted(doubts, key=lambda doubt: -doubt.drop))


def _bottles_in_doubt(
    inputs: Inputs, strengths: Mapping[str, FloatArray]
) -> dict[str, tuple[str, ...]]:
    """Find which bottles are in doubt, and by which of their strengths; unused ones are not."""
    # a bottle that stays shut is no doubt, and neither is one that is known exactly
    _, acid, peroxide = inputs.parts
    names: dict[str, tuple[str, ...]] = {}
    if acid * inputs.fresh:
        names["acid"] = ("acid",)
    if peroxide * inputs.fresh:
        names["peroxide"] = ("peroxide",)
    if inputs.used_bath is not None:
        names["used bath"] = tuple(USED_STRENGTHS)
    return {
        bottle: bottle_strengths
        for bottle, bottle_strengths in names.items()
        if any(np.ptp(np.asarray(strengths[name])) > 0 for name in bottle_strengths)
    }


def _last_at_defaults(parameters: RateParameters, count: int, draws: int) -> RateParameters:
    """Return the parameters in so many rows [-], all the same but the last: the defaults."""
    defaults = RateParameters().values()
    rows = {}
    for name, values in parameters.values().items():
        array = np.broadcast_to(values, (count, draws)).copy()
        array[-1] = defaults[name]
        rows[name] = as_draws(array)
    return RateParameters(**rows)


def _middle(inputs: Inputs, name: str) -> float:
    """Return the middle of a strength, by its name in `bottle_strengths` [kg/kg, mol/m³]."""
    if name == "acid":
        return inputs.acid.middle
    if name == "peroxide":
        return inputs.peroxide.middle
    return float(np.mean(getattr(inputs.used_bath, USED_STRENGTHS[name])))
