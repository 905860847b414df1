"""Which ventilation would do, by vapour alone: never an answer to where the work may be done.

Every answer begins with "By vapour alone" and ends with the rule. What sends the work outdoors is
what no number here counts: chlorine, mist, and the spill that is not planned.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ...common.band import Band
from ...common.limits import RangeWarning, check_kind, check_number, collecting_warnings, warn_again
from .air import Air, breathe
from .doubts import factor
from .exposure import AT_WORK, MEASURES, Limit, limits
from .room import air_needed
from .sources import Source
from .surface import TEMPERATURES
from .workplaces import NAMES, workplace

RULE = (
    "Whatever the vapour: work in the open air, upwind, your head out of it, or in a working fume "
    "cupboard. A kitchen hood counts as none."
)
"""What stands behind every answer."""
WHY = (
    "Chlorine, mist and a spill of the strongest bottle are not counted here: they are why no room "
    "will do."
)
"""Why a room is out, whatever the vapour."""
MIST_UNKNOWN = "Droplets of a bubbled or sprayed bath are not in this: nobody has measured them."
"""What is said of a tray that throws droplets."""
TENTHS = 10


@dataclass(frozen=True, eq=False)
class Ventilation:
    """What the vapour alone of a source does to the limits in one workplace.

    Parameters
    ----------
    name : str
        The workplace.
    air : Air
        What is breathed there.
    passed : dict
        Share of the draws in which each limit at work is passed [-], by `Limit`.
    any_passed : float or array
        Share of the draws in which one of them is [-].
    words : str
        "By vapour alone …", then why, and the rule.
    """

    name: str
    air: Air
    passed: dict[Limit, Any]
    any_passed: Any
    words: str


def fresh_air_needed(
    source: Source, limit: Limit, draws: int | None = None, *, T_air: float = 293.15
) -> Band:
    """Return the fresh air that would hold a room at a limit in the long run, by vapour alone.

    Of what a fan brings only part mixes with the room: it is counted. The air over the liquid moves
    as in the workplace with window and fan.

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
        Fresh air [m³/s]; 0 where not even the air at the surface holds so much.

    Raises
    ------
    InputError
        A value that cannot be.

    Examples
    --------
    >>> from pcbchem.bench.air import limits, open_bottle
    >>> (limit,) = [limit for limit in limits("GB", "HCl") if limit.kind == "15 min"]
    >>> band = fresh_air_needed(open_bottle(0.3145, empty=0.0), limit)
    >>> print(band.low < band.middle < band.high)
    True
    """
    check_kind("limit", limit, Limit)
    check_kind("source", source, Source)
    T_air = check_number("T_air", T_air, *TEMPERATURES, "K")
    draws = source.draw_count(draws)
    share = source.share(limit.substance, draws)
    stream = source.stream(limit.substance, workplace("window and fan"), draws, T_air)
    needed = air_needed(stream, share, limit.value) / factor("mixing", draws)
    return Band.of(needed, draws)


def which(
    source: Source,
    duration: float,
    place: str,
    draws: int | None = None,
    *,
    gas: str = "HCl",
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
    gas : str
        "HCl" or "H2O2".
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
    rows = [limit for limit in limits(place, gas) if limit.kind in AT_WORK]
    answers = []
    outside: list[RangeWarning] = []
    for name in NAMES:
        with collecting_warnings(outside):
            air = breathe(source, name, duration, draws, gas=gas, T_air=T_air)
        passed = {limit: air.over(limit) for limit in rows}
        is_over = np.zeros(np.shape(air.near), bool)
        for limit in rows:
            is_over |= np.asarray(getattr(air, MEASURES[limit.kind])) > limit.value
        any_passed = np.mean(is_over, axis=-1)[()]
        words = _words(air, any_passed, bool(rows))
        answers.append(Ventilation(name, air, passed, any_passed, words))
    warn_again(outside)  # once, and not for each place
    return tuple(answers)


def _words(air: Air, any_passed: Any, any_known: bool) -> str:
    """Say how often a limit is passed, then why that decides nothing, and the rule."""
    where = air.workplace.words or air.workplace.name
    if any_known:
        worst = float(np.max(any_passed))
        count = round(TENTHS * worst)
        if 0 < worst < 1:
            # hardly ever is not never
            count = min(max(count, 1), TENTHS - 1)
        vapour = f"a limit is passed in {count} of {TENTHS} plausible cases"
    else:
        vapour = "nothing can be said, no limit at work is known to us"
    words = f"By vapour alone {vapour}: {where}. "
    if air.source.mist_unknown:
        words += f"{MIST_UNKNOWN} "
    return f"{words}{WHY} {RULE}"
