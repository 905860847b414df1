"""Which ventilation would do, by vapour alone: never an answer to where the work may be done.

Every answer begins with "By vapour alone" and ends with the rule; that of a spill is to leave it.
What sends the work outdoors is what no number here counts: chlorine, mist, and the spill that is
not planned.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...common.band import Band
from ...common.limits import (
    RangeWarning,
    check_choice,
    check_kind,
    check_number,
    collecting_warnings,
    warn_again,
)
from .air import Air, breathe
from .doubts import factor
from .exposure import AT_WORK, MEASURES, Limit, limits
from .room import air_needed, beside_you
from .sources import BREATHED, Source
from .surface import TEMPERATURES
from .workplaces import NAMES, Workplace, workplace

RULE = (
    "Whatever the vapour: work in the open air, upwind, or in a working fume cupboard, and never "
    "lean over it. A kitchen hood counts as none."
)
"""What stands behind every answer but that of a spill."""
RULE_OF_SPILL = (
    "Whatever the vapour: leave a spill that fumes, and any of acid of 25 % and more. Go upwind, "
    "keep others out, call for help."
)
"""What stands behind that of a spill: nobody goes on working beside it."""
WHY = (
    "Chlorine, mist and a spill of the strongest bottle are not counted here: they are why no room "
    "will do."
)
"""Why a room is out, whatever the vapour."""
WHY_OF_SPILL = (
    "Chlorine, mist and a larger spill are not counted here: they are why no room will do."
)
"""The same of a source that is a spill itself."""
MIST_UNKNOWN = "Its droplets are not in this, and may outweigh it: nobody has measured them."
"""What is said of a tray that throws droplets: one that fizzes, is bubbled or sprayed."""
OPENING_UNKNOWN = "Opening it warm and pouring are not counted here: cap on at once."
"""What is said of a bottle: its figure is of one that stands."""
BURNS_LUNGS = 0.25
"""Acid from here on burns the lungs in one breath right over it [kg/kg], as the cautions say."""
ONE_BREATH = "One breath right over it can burn the lungs."
"""What is said of such acid."""
DOWNWIND = "Downwind, near the ground, it is ten times as much and more."
"""What is said of the open air: a figure is a mean of the air around."""
GAS_WORDS = {"HCl": "acid gas", "H2O2": "peroxide"}
"""What a sentence calls a gas."""
TENTHS = 10


@dataclass(frozen=True, eq=False)
class Ventilation:
    """What the vapour alone of a source does to the limits in one workplace.

    Parameters
    ----------
    name : str
        The workplace.
    airs : dict
        What is breathed there, an `Air` for each gas that counts.
    passed : dict
        Share of the draws in which each limit at work is passed [-], by `Limit`.
    any_passed : float or array
        Share of the draws in which one of them is, or the gases together: what they are of their
        limits adds up, for both burn eyes and airways [-]. NaN where no limit is known.
    words : str
        "By vapour alone …", then why, and the rule.
    """

    name: str
    airs: dict[str, Air]
    passed: dict[Limit, Any]
    any_passed: Any
    words: str


def fresh_air_needed(
    source: Source, limit: Limit, draws: int | None = None, *, T_air: float = 293.15
) -> Band:
    """Return the fresh air that vapour alone would ask for: never an answer to where work is done.

    It would hold a room at the limit in the long run, half a metre away, where there is more than
    in the room. Of what a fan brings only part mixes with the room: it is counted. The air over the
    liquid moves as in the workplace with window and fan.

    Parameters
    ----------
    source : Source
        One that stays as it is: no spill weakens here.
    limit : Limit
        Of acid gas or of peroxide.
    draws : int, optional
        How many draws [-], 1 to 400.
    T_air : float
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    Band
        Fresh air [m³/s]. NaN where not even the air at the surface holds so much: no fresh air of
        any size answers this, for chlorine and mist are not counted. Infinite where what comes
        straight from the surface is too much near you.

    Raises
    ------
    InputError
        A value that cannot be.

    Notes
    -----
    Whatever comes out, work is done in the open air or in a working fume cupboard: see `RULE`.

    Examples
    --------
    >>> from pcbchem.bench.air import limits, open_bottle
    >>> (limit,) = [limit for limit in limits("GB", "HCl") if limit.kind == "15 min"]
    >>> band = fresh_air_needed(open_bottle(0.3145), limit)
    >>> print(band.low < band.middle < band.high)
    True
    """
    check_kind("limit", limit, Limit)
    check_kind("source", source, Source)
    T_air = check_number("T_air", T_air, *TEMPERATURES, "K")
    draws = source.draw_count(draws)
    if limit.substance in BREATHED:
        check_choice("substance of the limit", limit.substance, source.gases)
    fan = workplace("window and fan")
    share = source.share(limit.substance, draws)
    stream = source.stream(limit.substance, fan, draws, T_air)
    beside = beside_you(fan.speed(draws))
    needed = air_needed(stream, share, limit.value, beside) / factor("mixing", draws)
    # draws in which there is nothing to bring down ask for the least; no end of the band says 0
    band = Band.of(np.where(np.isnan(needed), 0.0, needed), draws)
    ends = {name: getattr(band, name) for name in ("low", "middle", "high", "values")}
    return dataclasses.replace(
        band, **{name: np.where(end > 0, end, np.nan) for name, end in ends.items()}
    )


def which(
    source: Source,
    duration: float,
    place: str,
    draws: int | None = None,
    *,
    gas: str | None = None,
    T_air: float = 293.15,
) -> tuple[Ventilation, ...]:
    """Tell of each workplace how often vapour alone passes a limit that goes for work.

    Parameters
    ----------
    source : Source
        What gives the gas off.
    duration : float
        How long it is open [s], 1 s to 8 h.
    place : str
        Whose limits: "EU", "GB", "US" or "elsewhere".
    draws : int, optional
        How many draws [-], 1 to 400.
    gas : str, optional
        "HCl" or "H2O2", one that the source holds; all of them together unless given.
    T_air : float
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    tuple of Ventilation
        One a workplace, the closest first; none of them is a permission.

    Raises
    ------
    InputError
        A value that cannot be.

    Examples
    --------
    >>> from pcbchem.bench.air import spill
    >>> shut, *_ = which(spill(100e-6, 0.3145), 900, "GB")
    >>> print(shut.words.split(": ")[0])
    By vapour alone a limit is passed in 10 of 10 plausible cases
    """
    check_kind("source", source, Source)
    gases = source.gases if gas is None else (check_choice("gas", gas, source.gases),)
    rows = {
        each: [limit for limit in limits(place, each) if limit.kind in AT_WORK] for each in gases
    }
    answers = []
    outside: list[RangeWarning] = []
    for name in NAMES:
        with collecting_warnings(outside):
            airs = {
                each: breathe(source, name, duration, draws, gas=each, T_air=T_air)
                for each in gases
            }
        passed = {limit: airs[each].over(limit) for each in gases for limit in rows[each]}
        any_passed = _any_passed(airs, rows)
        unknown = [GAS_WORDS[each] for each in gases if not rows[each]]
        words = _words(source, workplace(name), any_passed, unknown)
        answers.append(Ventilation(name, airs, passed, any_passed, words))
    warn_again(outside)  # once, and not for each place
    return tuple(answers)


def _any_passed(airs: dict[str, Air], rows: dict[str, list[Limit]]) -> Any:
    """Return the share of draws in which the gases together pass the limits of a kind [-]."""
    if not any(rows.values()):
        return math.nan
    is_over: Any = False
    for kind in AT_WORK:
        together: Any = 0.0
        for gas, air in airs.items():
            values = [limit.value for limit in rows[gas] if limit.kind == kind]
            if values:
                together = together + np.asarray(getattr(air, MEASURES[kind])) / min(values)
        is_over = is_over | (np.asarray(together) > 1)
    return np.mean(is_over, axis=-1)[()]


def _words(source: Source, there: Workplace, any_passed: Any, unknown: list[str]) -> str:
    """Say how often a limit is passed, then why that decides nothing, and the rule."""
    where = there.words or there.name
    worst = float(np.max(any_passed))
    if math.isnan(worst):
        words = f"By vapour alone nothing can be said, no limit at work is known to us: {where}. "
        return words + _why(source, there)
    count = round(TENTHS * worst)
    if 0 < worst < 1:
        # hardly ever is not never
        count = min(max(count, 1), TENTHS - 1)
    words = f"By vapour alone a limit is passed in {count} of {TENTHS} plausible cases: {where}. "
    if count == 0:
        # "0 of 10" would read as leave
        words = (
            "By vapour alone nothing is decided here, though no limit is passed in these cases: "
            f"{where}. "
        )
    if unknown:
        words += f"Of {' and '.join(unknown)} no limit at work is known to us here. "
    return words + _why(source, there)


def _why(source: Source, there: Workplace) -> str:
    """Say what no number counts, and the rule."""
    words = [WHY_OF_SPILL, RULE_OF_SPILL] if source.kind == "spill" else [WHY, RULE]
    if source.kind == "bottle":
        words.insert(0, OPENING_UNKNOWN)
    if np.max(source.HCl) >= BURNS_LUNGS:
        words.insert(0, ONE_BREATH)
    if source.mist_unknown:
        words.insert(0, MIST_UNKNOWN)
    if there.outdoors:
        words.insert(0, DOWNWIND)
    return " ".join(words)
