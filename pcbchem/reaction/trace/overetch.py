"""Over-etch: how long past clearing a board stays in, pulled blind at one time or at the first look to find it clear.

The model gives one time to clear a bath; here it is meant for the first place of the board to clear, where the finest
trace suffers most. After clearing the front goes on at the mean pace of the run: seconds of over-etch over the time to
clear are the over-etch in depth. The other choice is the pace of the last tenth of the foil, from a run's history: the
walls under the resist meet the bath as it then is (but less stirred than open copper). In a roomy bath with reagents
to spare the two differ by a tenth or less, so the mean stands, which needs no history. A bath nearly spent, as weak
bottles make it, ends slower, and there the mean makes the undercut too large. A small strong one warms up and ends
faster, where the rules allow it mostly by up to a quarter, and the mean is too small; refused ones go far past that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, as_draws, common_shape
from ...common.band import Band
from ...common.limits import check_choice, check_values
from ..bath.run import EtchRun
from .undercut import over_at_loss

LONGEST_TIME = 1e7
"""Longest time accepted [s] of a look; a time to clear has no limit."""
SHORTEST_TIME = 0.01
"""Shortest time accepted [s]."""
UNEVEN = (0.1, 0.3)
"""First place clear to last, over the time to clear [-] (common practice: spread of foil, flow and resist)."""
PACES = ("mean", "last")
"""How fast the front goes on after clearing: as on the mean of the run, or as over the last tenth of the foil."""


@dataclass(frozen=True, eq=False)
class Pulled:
    """When a board came out, and how long past the first place to clear that was.

    `time` out of the bath [s], infinite where a look never finds it clear; `seconds` of over-etch [s]; `over`, the
    same as depth over the foil [-], what `widths` takes; `clear`: the last place was clear too; `not_clear`:
    share of the draws where it was not [-]. Such a board goes back in: it is no board yet, and where not even
    its first place is clear, `seconds` and `over` are 0.
    """

    time: FloatArray
    seconds: FloatArray
    over: FloatArray
    clear: Any
    not_clear: FloatArray


def pulled(
    run: EtchRun | ArrayLike,
    at: ArrayLike | None = None,
    *,
    looks_every: ArrayLike | None = None,
    first_look: ArrayLike | None = None,
    uneven: ArrayLike = 0.0,
    pace: str = "mean",
    weights: ArrayLike | None = None,
) -> Pulled:
    """Take the board out blind `at` one time, or at the first look that finds all of it clear.

    Parameters
    ----------
    run : EtchRun or array
        A run, or its times to clear [s], above 0, infinite where it never clears.
    at : float or array, optional
        Pulled blind at this time [s], 0.01 to 1e7, such as the 90 % value of the band; None: by looks.
    looks_every : float or array, optional
        From one look to the next [s], 0.01 to 1e7.
    first_look : float or array, optional
        The first look [s], 0.01 to 1e7; `looks_every` unless given.
    uneven : float or array
        From the first place clear to the last, over the time to clear [-], 0 to 2; `UNEVEN` is common practice.
    pace : str
        How the front goes on after clearing: "mean", or "last" for a run with history.
    weights : array, optional
        Weight of each draw [-], for `not_clear`.

    Returns
    -------
    Pulled
        Arrays of the broadcast shape [s, -], with the draws of the run.

    Raises
    ------
    ValueError
        Neither or both ways, a value outside its limits, a pace that the run does not tell, draws of two lengths.

    Examples
    --------
    >>> out = pulled(np.array([130.0, 170.0]), looks_every=30, first_look=60)
    >>> print(f"{out.seconds} {out.over.round(2)}")
    [20. 10.] [0.15 0.06]
    """
    clears = _times("run", run.time_to_clear if isinstance(run, EtchRun) else run)
    share = check_values("uneven", uneven, 0.0, 2.0)
    if (at is None) == (looks_every is None) or (at is not None and first_look is not None):
        raise ValueError(
            f"at = {at!r}, looks_every = {looks_every!r}, first_look = {first_look!r} is impossible: "
            "it must be at alone, or looks_every with or without first_look"
        )
    if at is not None:
        out = check_values("at", at, SHORTEST_TIME, LONGEST_TIME, "s")
        every = out
    else:
        every = check_values("looks_every", looks_every, SHORTEST_TIME, LONGEST_TIME, "s")  # type: ignore[arg-type]
        out = (
            every
            if first_look is None
            else check_values("first_look", first_look, SHORTEST_TIME, LONGEST_TIME, "s")
        )
    shape, draws = common_shape(run=clears, at=out, looks_every=every, uneven=share)
    speed = _speed(run, check_choice("pace", pace, PACES), clears)
    first, full, out, step, speed = (
        np.broadcast_to(np.asarray(v, dtype=float), shape)
        for v in (clears, clears * (1 + share), out, every, speed)
    )
    ever = np.isfinite(first)
    if at is None:
        # a billionth of a look forgives the rounding where a board clears at the very moment of one
        more = np.ceil(np.maximum(full - out, 0.0) / step - 1e-9)
        out = out + step * more
        clear = ever
    else:
        clear = out >= full
    late = np.zeros(shape)
    np.subtract(out, first, out=late, where=ever & (out > first))
    not_clear = Band.of(np.where(clear, 0.0, np.inf), draws, weights).never

    def put(values: Any) -> Any:
        return as_draws(values) if draws is not None else np.asarray(values)[()]

    return Pulled(put(out), put(late), put(late * speed), np.asarray(clear)[()], not_clear)


def time_at_loss(
    run: EtchRun | ArrayLike, drawn: ArrayLike, thickness: ArrayLike, factor: ArrayLike
) -> Any:
    """When a trace is lost: its two faces meet under the resist, at the mean pace of the run.

    Parameters
    ----------
    run : EtchRun or array
        A run, or its times to clear [s], above 0, infinite where it never clears.
    drawn : float or array
        Width of the resist over it [m], above 0 to 2.
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.

    Returns
    -------
    float or array
        Time in the bath [s], infinite where it never clears; before the time to clear: lost before the board is.

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{time_at_loss(210.0, 100e-6, 35e-6, factor=1):.0f} s")
    300 s
    """
    clears = _times("run", run.time_to_clear if isinstance(run, EtchRun) else run)
    over = over_at_loss(drawn, thickness, factor)
    common_shape(run=clears, trace=over)
    return clears * (1 + over)


def _times(name: str, values: ArrayLike) -> FloatArray:
    """Times to clear [s] as floats: above 0, infinite where it never clears."""
    array = np.asanyarray(values)
    try:
        array = array.astype(float)
    except (TypeError, ValueError):
        raise ValueError(
            f"{name} = {values!r} is not an EtchRun or times to clear: it must be above 0 s"
        ) from None
    bad = ~(np.asarray(array) > 0)
    if bad.any():
        raise ValueError(
            f"{name} = {np.asarray(array)[bad].flat[0]:g} is impossible: "
            "it must be above 0 s, or infinite"
        )
    return array


def _speed(run: Any, pace: str, clears: FloatArray) -> FloatArray:
    """Foils a second [1/s] that the front goes on after clearing; 0 where it never clears."""
    ever = np.isfinite(clears)
    speed = np.zeros(np.shape(clears))
    if pace == "mean":
        return np.divide(1.0, clears, out=speed, where=np.asarray(ever))
    if not isinstance(run, EtchRun) or run.steps is None:
        raise ValueError(
            "pace = 'last' is impossible here: it must be 'mean', or run an EtchRun with history=True"
        )
    times, left = run.steps["time"], run.steps["thickness"]
    whole = left[:, 0]
    tenth = [np.interp(0.9 * h, h - foil, t) for h, foil, t in zip(whole, left, times, strict=True)]
    last = np.asarray(clears) - np.reshape(tenth, np.shape(clears))
    return np.divide(0.1, last, out=speed, where=ever)
