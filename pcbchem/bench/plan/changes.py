"""What would help and what is in doubt: single changes that lift a verdict, and what widens a band.

A *lever* is one thing that may be changed alone: more water, more bath for the copper, a colder
start or less acid. Its *ladder* is every value that may be tried, the smallest change first.

A change *helps* where every limit that it is offered for is cleared by a margin: 5 °C or a tenth.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import ZERO_C, mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.parameters import RateParameters
from ..hazards.verdicts import MARGIN_K, MARGIN_SHARE, VERDICTS, Rule, rules, value_of
from .inputs import Inputs
from .outlook import etched, judged
from .pours import USED_STRENGTHS, bottle_strengths

LEVERS = ("water", "bath", "start", "acid")
"""What may be changed: parts of water, bath over bare copper, temperature of the bottles, parts of
acid."""
MOST_WATER = 10.0
"""Most water tried [parts to one of the larger of acid and peroxide]."""
MOST_BATH = 0.10
"""Most bath over bare copper tried [m³/m²]: 10 mL per cm²."""
COLDEST = 10.0 + ZERO_C
"""Coldest start tried [K]."""
TENTH_PER_CM2 = 0.1 * mL_per_cm2
"""Step of the bath over bare copper [m³/m²]: a tenth of a mL per cm²."""
FIXED = (
    *("acid_bottle", "peroxide_bottle", "bubbled", "sprayed"),
    *("used_peroxide", "second_time", "volume"),
)
"""Quantities of rules that no lever betters: the bottles' strength, how the bath moves, what a used
bath holds, when a second portion is due, and how much bath was asked for."""
FEW = 100
"""Draws for the few steps of each ladder that are tried at first [-]."""
AROUND = 6
"""So many steps around those that lines lead to are tried with them [-]."""
ROUNDS = 4
"""How often steps are tried, the first few among them [-]."""
ROUNDING = 1e-9
"""A value so little off a step, or beyond a limit by so little of its margin [-], is at it."""
HOPE = 0.5
"""Where a step misses a limit by less of its margin [-], those beside it are tried too."""
FAR = 50.0
"""More margins than this [-] are as good as this many: a time may be infinite."""


@dataclasses.dataclass(frozen=True, eq=False)
class Change:
    """One change that was tried and lifts the verdict.

    Parameters
    ----------
    lever : str
        One of `LEVERS`: "water" (parts), "bath" (more of the same for the copper), "start" (colder
        bottles) or "acid" (fewer parts, beside the same of water and peroxide).
    value : float
        What it is changed to [parts, m³/m² or K]; parts as the present plan counts them.
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


class _Aim(NamedTuple):
    """What a change has to keep of one rule."""

    rule: Rule
    severity: int  # of the rule's verdict
    limit: float  # no value may lie beyond it [SI]
    margin: float  # from the rule's limit to the safe side [SI]
    is_near: bool  # whether the present plan is nearer than the margin: it may stay as near


class _Step(NamedTuple):
    """What is known of one step of a ladder."""

    severity: int  # of its verdict
    level: int  # of the worst rule that is not cleared by its margin
    beyond: FloatArray  # each aim: how many margins beyond it [-], NaN where nobody looked
    is_rough: bool  # whether it was tried with few draws, and only leads on


def ladder(inputs: Inputs, lever: str) -> FloatArray:
    """List every value of a lever that may be tried, in figures that can be said as they are.

    Parameters
    ----------
    inputs : Inputs
        Where the lever stands.
    lever : str
        "water" or "acid" [parts, by tenths], "bath" [m³/m², by tenths of a mL per cm²] or "start"
        [K, by whole °C].

    Returns
    -------
    array
        From the next round figure to the limit [parts, m³/m² or K], the smallest change first;
        empty where there is no way to go.
    """
    if lever in ("water", "acid") and not inputs.fresh:
        return np.array([])  # nothing is poured that could be changed
    water, acid, peroxide = inputs.parts
    if lever == "water":
        # from the first whole tenth above; `arange` leaves its end out, hence one more
        tenths = np.floor(10 * water + ROUNDING)
        most_tenths = 10 * (MOST_WATER * max(acid, peroxide))
        return np.arange(tenths + 1, most_tenths + 1) / 10
    if lever == "acid":
        # to the last tenth: without any acid nothing is etched
        tenths = np.ceil(10 * acid - ROUNDING)
        return np.arange(tenths - 1, 0, -1) / 10
    if lever == "bath":
        tenths = np.floor(inputs.bath_per_area / TENTH_PER_CM2 + ROUNDING)
        # the ratio may come out a bit above a whole number, and bring in a step too many
        most_tenths = MOST_BATH / TENTH_PER_CM2
        return np.arange(tenths + 1, most_tenths + 1 - ROUNDING) * TENTH_PER_CM2
    degrees = np.ceil(inputs.T_bottles - ZERO_C - ROUNDING)
    return np.arange(degrees - 1, COLDEST - ZERO_C - 1, -1) + ZERO_C


def moved(inputs: Inputs, lever: str, value: float) -> Inputs:
    """Return the inputs with one lever moved [parts, m³/m², K]."""
    water, acid, peroxide = inputs.parts
    if lever == "water":
        return inputs.replace(parts=(value, acid, peroxide))
    if lever == "acid":
        return inputs.replace(parts=(water, value, peroxide))
    if lever == "bath":
        return inputs.replace(bath_per_area=value)
    return inputs.replace(T_bottles=value)


def out_of_reach(bands: Mapping[str, Band]) -> tuple[Rule, ...]:
    """Find the rules that a plan exceeds and no lever betters.

    Parameters
    ----------
    bands : dict of Band
        What the rules read of it [SI].
    """
    fixed = [rule for rule in rules() if rule.quantity in FIXED]
    return tuple(rule for rule in fixed if np.any(rule.beyond(value_of(rule, bands))))


def helpful(inputs: Inputs, bands: Mapping[str, Band], severity: int) -> tuple[Change, ...]:
    """Find every single change that lifts the verdict.

    For each lever the smallest change that lifts it at all, and the smallest that lifts it wholly.
    Each clears all limits of the verdicts it leaves behind, by 5 °C or a tenth. A limit that is
    kept already, but by less, comes no nearer.

    Parameters
    ----------
    inputs : Inputs
        A plan's inputs.
    bands : dict of Band
        What the rules read of it [SI].
    severity : int
        How severe its verdict is [place in `VERDICTS`].

    Returns
    -------
    tuple of Change
        The smallest share of the way first; empty where none is enough.
    """
    # a strong bottle leaves a care, whatever is mixed: help goes down to that, and no further
    fixed = [VERDICTS.index(rule.verdict) for rule in out_of_reach(bands)]
    targets = range(max(fixed, default=0), severity)
    ladders = {lever: ladder(inputs, lever) for lever in LEVERS}
    ladders = {lever: values for lever, values in ladders.items() if values.size}
    if not targets or not ladders:
        return ()
    steps = _steps(inputs, ladders, bands, severity, targets)

    # by the step, so that one which lifts it both at all and wholly is said once
    changes: dict[tuple[str, int], Change] = {}
    for lever, values in ladders.items():
        for target in targets:
            helping = [place for place, step in steps[lever].items() if _helps(step, target)]
            if not helping:
                continue
            place = min(helping)
            value = float(values[place])
            changes[lever, place] = Change(
                lever=lever,
                value=value,
                share=(place + 1) / values.size,
                verdict=VERDICTS[steps[lever][place].severity],
                inputs=moved(inputs, lever, value),
            )
    return tuple(sorted(changes.values(), key=lambda change: change.share))


def _helps(step: _Step, target: int) -> bool:
    """Return whether a step lifts the verdict to a target severity or a better one, by margins."""
    # a verdict that is reached by less than the margin is not promised
    return not step.is_rough and step.severity == step.level <= target


def _aims(bands: Mapping[str, Band]) -> list[_Aim]:
    """List what a change has to keep, rule by rule [SI], by the bands of the present plan."""
    aims = []
    for rule in rules():
        now, margin = float(value_of(rule, bands)), MARGIN_SHARE * rule.limit
        if rule.unit == "K":
            margin = MARGIN_K
        limit = rule.limit - margin
        if rule.side == "below":
            limit = rule.limit + margin
        # what is nearer than the margin already, and not beyond, may stay where it is
        is_near = bool(rule.beyond(now, margin=True)) and not rule.beyond(now)
        if is_near:
            limit = now
        aims.append(_Aim(rule, VERDICTS.index(rule.verdict), limit, margin, is_near))
    return aims


def _margins_beyond(aim: _Aim, values: FloatArray) -> FloatArray:
    """Return how many margins values [SI] lie beyond an aim [-], below 0 on its safe side."""
    margins = (values - aim.limit) / aim.margin
    if aim.rule.side == "below":
        margins = -margins
    # a rule may count from its limit on: then it has to be left behind, and not only reached
    if aim.rule.side == "from" and not aim.is_near:
        margins = margins + 2 * ROUNDING
    return np.clip(margins, -FAR, FAR)


def _steps(
    inputs: Inputs,
    ladders: Mapping[str, FloatArray],
    bands: Mapping[str, Band],
    severity: int,
    targets: Iterable[int],
) -> dict[str, dict[int, _Step]]:
    """Judge a few steps of each ladder, then those that these lead to."""
    aims = _aims(bands)
    present = _beyond(aims, bands)
    # the plan itself stands before the first step of every ladder
    steps = {lever: {-1: _Step(severity, severity, present, False)} for lever in ladders}
    wanted = {lever: _rungs(values.size) for lever, values in ladders.items()}
    few = inputs.replace(draws=min(FEW, inputs.draws))
    few_bands = {name: Band.of(band.values[: few.draws], few.draws) for name, band in bands.items()}
    # by how much the few draws are off for the plan itself, they are taken to be off elsewhere,
    # but for no more than a margin: a share that never clears is off by less where hardly any are
    off = np.clip(present - _beyond(aims, few_bands), -1.0, 1.0)
    for turn in range(ROUNDS):
        names = [(lever, place) for lever, places in wanted.items() for place in sorted(places)]
        source = few if turn == 0 else inputs
        # one call for all levers: many variants cost little more than one
        variants = [moved(source, lever, float(ladders[lever][place])) for lever, place in names]
        tried = _judged_steps(source, variants, aims, severity)
        for (lever, place), step in zip(names, tried, strict=True):
            if turn == 0:
                step = step._replace(beyond=step.beyond + off, is_rough=True)
            steps[lever][place] = step
        wanted = _around_leads(steps, ladders, aims, targets)
        if not any(wanted.values()):
            break
    return steps


def _around_leads(
    steps: Mapping[str, Mapping[int, _Step]],
    ladders: Mapping[str, FloatArray],
    aims: list[_Aim],
    targets: Iterable[int],
) -> dict[str, set[int]]:
    """Find the places to be tried next by lever: around those that known steps lead to."""
    leads = [
        (lever, place)
        for lever, values in ladders.items()
        for place in _leads(steps[lever], values.size, aims, targets)
    ]
    wanted: dict[str, set[int]] = {lever: set() for lever in ladders}
    for lever, place in leads:
        # the fewer there are, the wider around each
        beside = max(AROUND // (2 * len(leads)), 1)
        near = range(max(place - beside, 0), min(place + beside + 1, ladders[lever].size))
        wanted[lever] |= {
            step for step in near if step not in steps[lever] or steps[lever][step].is_rough
        }
    return wanted


def _rungs(count: int) -> set[int]:
    """List the places of a ladder tried at first: each twice as far as the last, and the end."""
    # close together where the change is small: the smallest that helps is wanted
    doubled = 2 ** np.arange(int(np.log2(count)) + 1)
    return {int(number) - 1 for number in (*doubled, count)}


def _beyond(aims: list[_Aim], bands: Mapping[str, Band]) -> FloatArray:
    """Return how many margins bands [SI] lie beyond each aim [-], a row an aim."""
    return np.array([_margins_beyond(aim, value_of(aim.rule, bands)) for aim in aims])


def _judged_steps(
    inputs: Inputs, variants: list[Inputs], aims: list[_Aim], severity: int
) -> list[_Step]:
    """Judge variants, all side by side."""
    with collecting_warnings():
        verdicts = judged(inputs, variants, severity)
    beyond = _beyond(aims, verdicts.bands)
    weights = np.array([aim.severity for aim in aims])
    levels = np.max(np.where(beyond > ROUNDING, weights[:, None], 0), axis=0)
    # what was not left standing is too bad already, and says nothing of how warm it would get
    stands = np.array([aim.rule.quantity == "standing_peak" for aim in aims])
    beyond[np.ix_(stands, ~verdicts.stood)] = np.nan
    rows = zip(verdicts.severity, levels, beyond.T, strict=True)
    return [_Step(int(now), int(level), row, False) for now, level, row in rows]


def _leads(
    steps: Mapping[int, _Step], count: int, aims: list[_Aim], targets: Iterable[int]
) -> set[int]:
    """Find the places of a ladder to be tried next: where lines between known steps lead to.

    More water cools a bath, and in the end leaves it too weak to clear the board: so the steps that
    help need not be the last, and may lie between two that do not.
    """
    known = [place for place, step in steps.items() if not step.is_rough]
    leads: set[int] = set()
    for target in targets:
        guess = _guess(steps, count, aims, target)
        helping = np.flatnonzero(guess <= 0)
        if helping.size:
            place = int(helping[0])
            # the smallest is known as such when the one before it is known too
            is_sure = place in known and place - 1 in known
        else:
            # else where the least is missed, and beside that where it is nearly nothing
            place = int(np.argmin(guess))
            is_sure = guess[place] > HOPE
        if not is_sure:
            leads.add(place)
    return leads


def _guess(steps: Mapping[int, _Step], count: int, aims: list[_Aim], target: int) -> FloatArray:
    """Draw lines between known steps: margins by which the worst rule is missed, at every place."""
    places = sorted(steps)
    # by the logarithm: the steps tried at first are the closer together the smaller they are
    known, every = np.log(np.array(places) + 2), np.log(np.arange(count) + 2)
    beyond = np.array([steps[place].beyond for place in places])
    rows = [k for k, aim in enumerate(aims) if aim.severity > target]
    lines = []
    for k in rows:
        is_known = ~np.isnan(beyond[:, k])
        lines.append(np.interp(every, known[is_known], beyond[is_known, k]))
    guess: FloatArray = np.max(lines, axis=0)
    # what is known needs no guess
    for place in places:
        if place >= 0 and not steps[place].is_rough:
            helps = _helps(steps[place], target)
            guess[place] = min(guess[place], 0.0) if helps else max(guess[place], ROUNDING)
    return guess


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
