"""Many small baths side by side: adaptive Runge-Kutta 3(2), each scenario with its own step, leaving when done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from ...common.arrays import FloatArray

POOL = 8000  # scenarios stepped together: more no longer fits the cache
HOTTEST_BATH = 376.0  # K
POINTS = 8  # a kept step's cubic is read at so many points
STATES = (
    "t",
    "s",
    "X",
    "T",
)  # time [s], foil gone [share], oxidant [mol/m³ of electrons], temperature [K]
Rates = Callable[[dict[str, Any], FloatArray, FloatArray], tuple[FloatArray, FloatArray]]


def cubic(theta: Any, y0: Any, y1: Any, d0: Any, d1: Any) -> Any:
    """Hermite cubic at share theta of a step, from both ends and both slopes times the step."""
    gap = y1 - y0
    return y0 + theta * (d0 + theta * (3 * gap - 2 * d0 - d1 + theta * (d0 + d1 - 2 * gap)))


def solve(
    c: dict[str, Any],
    start: FloatArray,
    warmth: FloatArray,
    rates: Rates,
    t_max: float,
    tolerance: float,
    keep: list[Any] | None = None,
) -> tuple[FloatArray, FloatArray]:
    """Step every scenario to the end of its foil or to t_max, whichever comes first.

    Parameters
    ----------
    c : dict
        Constants of the run: floats, or arrays with one value a scenario [SI]; "most" limits the share of foil gone.
    start : array
        States `STATES` by scenario, shape (4, N) [s, share, mol/m³, K].
    warmth : array
        Film warmth of each scenario at the start [K m³/mol].
    rates : callable
        Slopes of the states per unit of clock [s, share, mol/m³, K], and the new warmth.
    t_max : float
        Longest time [s].
    tolerance : float
        Error allowed a step, as a share of each state's scale [-].
    keep : list or None
        Where given, each step's (scenario, t, s, X, T at both ends, slopes times step) is appended.

    Returns
    -------
    tuple of arrays
        States at the end, shape (4, N) [s, share, mol/m³, K], and the peak temperature [K].
    """
    count = start.shape[1]
    ends, peaks = np.empty_like(start), start[3].copy()
    for first in range(0, count, POOL):
        part = np.arange(first, min(first + POOL, count))
        _solve_pool(
            {k: v[part] if np.ndim(v) else v for k, v in c.items()},
            part,
            start[:, part],
            warmth[part],
            rates,
            t_max,
            tolerance,
            ends,
            peaks,
            keep,
        )
    return ends, peaks


def _solve_pool(
    c: dict[str, Any],
    who: Any,
    y: FloatArray,
    warmth: FloatArray,
    rates: Rates,
    t_max: float,
    tolerance: float,
    ends: FloatArray,
    peaks: FloatArray,
    keep: list[Any] | None,
) -> None:
    c["most"] = np.broadcast_to(c["most"], who.shape)
    h = 0.05 * np.minimum(1.0, c["most"] + 1e-6)
    k1, warmth = rates(c, y, warmth)
    done = np.zeros(who.size, bool)
    scale = np.empty_like(y)
    for _ in range(20_000):
        left = 1 - y[1]
        # a clearing bath lands on s = 1, one whose clock is time on t_max
        step = np.minimum(h, np.minimum(left / np.maximum(k1[1], 1e-30), (t_max - y[0]) / k1[0]))
        falling = k1[2] * step
        crossing = (y[2] > 0) & (y[2] + falling < 0)
        if crossing.any():  # aim just past the kink where the peroxide is spent
            step = np.where(
                crossing,
                np.minimum(step, -1.02 * y[2] / np.where(crossing, k1[2], -1.0) + 1e-7),
                step,
            )
        k2, w2 = rates(c, y + 0.5 * step * k1, warmth)
        k3, w3 = rates(c, y + 0.75 * step * k2, w2)
        new = y + step * ((2 / 9) * k1 + (1 / 3) * k2 + (4 / 9) * k3)
        k4, w4 = rates(c, new, w3)
        wrong = np.abs(step * ((5 / 72) * k1 - (1 / 12) * k2 - (1 / 9) * k3 + (1 / 8) * k4))
        ahead = y[0] + left * k1[0] / np.maximum(k1[1], 1e-30)
        scale[0], scale[1], scale[3] = (
            np.minimum(ahead, t_max) + 1e-12,
            np.minimum(c["most"], 1.0) + 1e-6,
            30.0,
        )
        scale[2] = np.maximum(np.abs(y[2]), np.abs(new[2])) + 100.0
        error = (wrong / scale).max(axis=0) / tolerance
        if np.isnan(error).any():
            raise RuntimeError(
                f"{np.isnan(error).sum()} baths became NaN: a fault of the solver, please report it"
            )
        accept = error <= 1
        h = step * np.clip(0.6 * np.maximum(error, 1e-6) ** (-1 / 3), 0.2, 4.0)

        ending = accept & ~done & ((new[1] >= 1 - 1e-9) | (new[0] >= t_max * (1 - 1e-9)))
        going = accept & ~done
        d0, d1 = step * k1, step * k4
        share = np.ones(who.size)
        if ending.any():
            at = np.flatnonzero(ending)
            share[at] = _end_of_step(y[:, at], new[:, at], d0[:, at], d1[:, at], t_max)
            final = cubic(share[at], y[:, at], new[:, at], d0[:, at], d1[:, at])
            final[1] = np.minimum(np.where(final[1] >= 1 - 1e-9, 1.0, final[1]), c["most"][at])
            final[3] = np.minimum(final[3], HOTTEST_BATH)
            ends[:, who[at]] = final
            peaks[who[at]] = np.maximum(peaks[who[at]], final[3])
        hill = going & ~ending & (d0[3] > 0) & (d1[3] < 0)
        if hill.any():
            at = np.flatnonzero(hill)
            inside = cubic(
                np.linspace(0.1, 0.9, 9)[:, None], y[3, at], new[3, at], d0[3, at], d1[3, at]
            )
            peaks[who[at]] = np.maximum(
                peaks[who[at]], np.minimum(inside.max(axis=0), HOTTEST_BATH)
            )
        if keep is not None and going.any():
            at = np.flatnonzero(going)
            keep.append((who[at], share[at], y[:, at], new[:, at], d0[:, at], d1[:, at]))
        done |= ending
        y = np.where(accept, new, y)
        y[3] = np.minimum(y[3], HOTTEST_BATH)
        y[1] = np.minimum(y[1], np.minimum(c["most"], 1.0))
        k1, warmth = np.where(accept, k4, k1), np.where(accept, w4, warmth)
        still = who[~done]
        peaks[still] = np.maximum(peaks[still], y[3, ~done])
        if done.all():
            return
        if done.sum() * 4 >= done.size:
            on = ~done
            c = {k: v[on] if np.ndim(v) else v for k, v in c.items()}
            who, y, h, k1, warmth, scale = (
                who[on],
                y[:, on],
                h[on],
                k1[:, on],
                warmth[on],
                scale[:, on],
            )
            done = np.zeros(who.size, bool)
    raise RuntimeError(f"{np.sum(~done)} baths did not finish in 20 000 steps")


def _end_of_step(
    y: FloatArray, new: FloatArray, d0: FloatArray, d1: FloatArray, t_max: float
) -> FloatArray:
    """Share of the step [-] at which t_max or the end of the foil is reached: 1, or by bisection on the cubic."""
    share = np.ones(y.shape[1])
    at = np.flatnonzero((new[0] > t_max * (1 + 1e-9)) | (new[1] > 1 + 1e-9))
    if at.size:
        ends = [v[:2, at] for v in (y, new, d0, d1)]
        low, high = np.zeros(at.size), np.ones(at.size)
        for _ in range(30):
            middle = 0.5 * (low + high)
            t, s = cubic(middle, *ends)
            over = (t >= t_max) | (s >= 1)
            low, high = np.where(over, low, middle), np.where(over, middle, high)
        share[at] = high
    return share


def curves(keep: list[Any], count: int) -> FloatArray:
    """The kept steps as curves of the states, shape (4, count, points) [s, share, mol/m³, K]; the end is held."""
    who = np.concatenate([k[0] for k in keep])
    share = np.concatenate([k[1] for k in keep])
    y, new, d0, d1 = (np.concatenate([k[i] for k in keep], axis=1) for i in (2, 3, 4, 5))
    order = np.argsort(who, kind="stable")
    who, share, y, new, d0, d1 = (
        who[order],
        share[order],
        y[:, order],
        new[:, order],
        d0[:, order],
        d1[:, order],
    )
    most = int(np.bincount(who, minlength=count).max())
    place = np.arange(who.size) - np.searchsorted(who, who)
    theta = share[:, None] * np.arange(1, POINTS + 1) / POINTS
    laid = np.full((4, count, most, POINTS), np.nan)
    laid[:, who, place] = cubic(theta, *(v[:, :, None] for v in (y, new, d0, d1)))
    start = y[:, np.searchsorted(who, np.arange(count))][:, :, None]
    table = np.concatenate([start, laid.reshape(4, count, -1)], axis=2)
    last = np.where(np.isnan(table[0]), 0, np.arange(table.shape[2])).max(axis=1)
    held = np.take_along_axis(table, np.broadcast_to(last[None, :, None], (4, count, 1)), axis=2)
    return np.where(np.isnan(table), held, table)
