"""Over-etch: how long past clearing a board stays in, pulled blind or at the first look.

The model gives one time to clear a bath; here it is meant for the first place of the board to
clear, where the finest trace suffers most. After clearing the front goes on at the mean pace of the
run: seconds of over-etch over the time to clear are the over-etch in depth.

The other choice is the pace of the last tenth of the foil, from a run's history: the walls under
the resist meet the bath as it then is (but less stirred than open copper). In a roomy bath with
reagents to spare the two differ by a tenth or less, so the mean stands, which needs no history. A
bath nearly spent, as weak bottles make it, ends slower, and there the mean makes the undercut too
large. A small strong one warms up and ends faster, where the rules allow it mostly by up to a
quarter, and the mean is too small; refused ones go far past that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, as_draws, common_shape
from ...common.band import Band
from ...common.limits import InputError, check_choice, check_values
from ..bath.run import EtchRun
from .undercut import over_at_loss

LONGEST_TIME = 1e7
"""Longest time accepted [s] of a look; a time to clear has no limit."""
SHORTEST_TIME = 0.01
"""Shortest time accepted [s]."""
UNEVEN = (0.1, 0.3)
"""First place clear to last, over the time to clear [-] (common practice: foil, flow and resist
spread)."""
PACES = ("mean", "last")
"""How fast the front goes on after clearing: as on the mean of the run, or over `LAST_SHARE`."""
LAST_SHARE = 0.1
"""The last share of the foil [-], whose pace is the pace at the end."""
SAME_MOMENT = 1e-9
"""A look so little before the board is clear finds it clear [share of the time between looks]:
that is rounding."""


@dataclass(frozen=True, eq=False)
class Pulled:
    """When a board came out, and how long past the first place to clear that was.

    Parameters
    ----------
    time : float or array
        Out of the bath [s]; infinite where a look never finds it clear.
    seconds : float or array
        Over-etch [s].
    over : float or array
        The same as depth over the foil [-], what `widths` takes.
    clear : bool or array
        Whether the last place was clear too [-]. A board that is not goes back in: it is no board
        yet, and where not even its first place is clear, `seconds` and `over` are 0.
    not_clear : float or array
        Share of the draws where it was not [-].
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
        Pulled blind at this time [s], 0.01 to 1e7, such as the 90 % value of the band; None: by
        looks.
    looks_every : float or array, optional
        From one look to the next [s], 0.01 to 1e7.
    first_look : float or array, optional
        The first look [s], 0.01 to 1e7; `looks_every` unless given.
    uneven : float or array
        From the first place clear to the last, over the time to clear [-], 0 to 2; `UNEVEN` is
        common practice.
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
        Neither or both ways, a value outside its limits, a pace that the run does not tell, draws
        of two lengths.

    Examples
    --------
    >>> out = pulled(np.array([130.0, 170.0]), looks_every=30, first_look=60)
    >>> print(f"{out.seconds} {out.over.round(2)}")
    [20. 10.] [0.15 0.06]
    """
    clears = _times_to_clear(run)
    share = check_values("uneven", uneven, 0.0, 2.0)
    first_out, between_looks = _looks(at, looks_every, first_look)
    shape, draws = common_shape(run=clears, at=first_out, looks_every=between_looks, uneven=share)
    speed = _speed(run, check_choice("pace", pace, PACES), clears)

    # Reckon with plain arrays, all of one shape; the draw mark comes back at the end
    first_place = _spread(clears, shape)
    last_place = _spread(clears * (1 + share), shape)
    time = _spread(first_out, shape)
    if at is None:
        # The first look at or after the last place; where nothing ever clears, no look finds it
        step = _spread(between_looks, shape)
        wait = np.maximum(last_place - time, 0.0)
        time = time + step * np.ceil(wait / step - SAME_MOMENT)
        clear = np.isfinite(first_place)
    else:
        clear = time >= last_place

    # Subtracted only where it makes sense: infinity less infinity is no number
    seconds = np.zeros(shape)
    over_etched = np.isfinite(first_place) & (time > first_place)
    np.subtract(time, first_place, out=seconds, where=over_etched)
    over = seconds * _spread(speed, shape)

    # A board that is not clear counts as one that never is: so its band weighs the draws
    not_clear = Band.of(np.where(clear, 0.0, np.inf), draws, weights).never
    return Pulled(
        time=_marked(time, draws),
        seconds=_marked(seconds, draws),
        over=_marked(over, draws),
        clear=np.asarray(clear)[()],
        not_clear=not_clear,
    )


def _spread(values: ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    """Return values as a plain array of a shape."""
    return np.broadcast_to(np.asarray(values, dtype=float), shape)


def _marked(values: FloatArray, draws: int | None) -> Any:
    """Return values with their draw mark, or as a number where they are one."""
    if draws is None:
        return np.asarray(values)[()]
    return as_draws(values)


def time_at_loss(
    run: EtchRun | ArrayLike, drawn: ArrayLike, thickness: ArrayLike, factor: ArrayLike
) -> Any:
    """Return when a trace is lost: its two faces meet under the resist, at the run's mean pace.

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
        Time in the bath [s], infinite where it never clears; before the time to clear: lost before
        the board is clear.

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{time_at_loss(210.0, 100e-6, 35e-6, factor=1):.0f} s")
    300 s
    """
    clears = _times_to_clear(run)
    over = over_at_loss(drawn, thickness, factor)
    common_shape(run=clears, trace=over)
    # 1 is the depth of the foil itself; `over` may be below 0, then the trace goes first
    return clears * (1 + over)


def _looks(
    at: ArrayLike | None, looks_every: ArrayLike | None, first_look: ArrayLike | None
) -> tuple[FloatArray, FloatArray]:
    """Check how a board is pulled: when it may first come out, and the time between looks [s]."""
    blind = at is not None and looks_every is None and first_look is None
    by_looks = at is None and looks_every is not None
    if not blind and not by_looks:
        raise ValueError(
            f"at = {at!r}, looks_every = {looks_every!r}, first_look = {first_look!r} "
            "is impossible: it must be at alone, or looks_every with or without first_look"
        )
    if at is not None:
        only = check_values("at", at, SHORTEST_TIME, LONGEST_TIME, "s")
        return only, only  # the second is never looked at: there is no second look
    assert looks_every is not None
    every = check_values("looks_every", looks_every, SHORTEST_TIME, LONGEST_TIME, "s")
    # Who names no first look waits as long for it as for each one after it
    if first_look is None:
        return every, every
    return check_values("first_look", first_look, SHORTEST_TIME, LONGEST_TIME, "s"), every


def _times_to_clear(run: Any) -> FloatArray:
    """Return the times to clear of a run [s] as floats: above 0, infinite where it never clears."""
    if isinstance(run, EtchRun):
        run = run.time_to_clear
    # Not `check_values`, which refuses infinity; and "any" array, which keeps its draw mark
    values: FloatArray = np.asanyarray(run)
    try:
        values = values.astype(float)
    except (TypeError, ValueError):
        raise InputError(
            "run",
            "it must be above 0 s",
            value=run,
            about=f" = {run!r}",
            wrong="is not an EtchRun or times to clear",
        ) from None
    # Not "at most 0": that would let NaN pass
    bad = ~(np.asarray(values) > 0)
    if bad.any():
        worst = float(np.asarray(values)[bad].flat[0])
        raise InputError("run", "it must be above 0 s, or infinite", value=worst, unit="s")
    return values


def _speed(run: Any, pace: str, clears: FloatArray) -> FloatArray:
    """Return the foils a second [1/s] of the front after clearing; 0 where it never clears."""
    ever = np.isfinite(np.asarray(clears))
    speed: FloatArray = np.zeros(np.shape(clears))
    if pace == "mean":
        # One foil in the time to clear it
        return np.divide(1.0, clears, out=speed, where=ever)
    if not isinstance(run, EtchRun) or run.steps is None:
        raise InputError(
            "pace",
            "it must be 'mean', or run an EtchRun with history=True",
            value="last",
            wrong="is impossible here",
        )
    # Each bath has steps of its own: when was all but the last share of its foil gone?
    starts = []
    for time, left in zip(run.steps["time"], run.steps["thickness"], strict=True):
        foil = left[0]
        starts.append(np.interp((1 - LAST_SHARE) * foil, foil - left, time))
    # The steps stand in one row a bath, whatever the shape of the run
    seconds = np.asarray(clears) - np.reshape(starts, np.shape(clears))
    return np.divide(LAST_SHARE, seconds, out=speed, where=ever)
