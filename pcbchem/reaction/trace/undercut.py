"""The profile under the resist: undercut, widths of trace and gap, and when a trace is lost.

The etch factor is the trade's (IPC-T-50, from memory): depth of etch over the undercut at the
resist, on each side. Here it is meant *at first clearing*. The front is a quarter ellipse about the
edge of the resist, as deep as the bath has etched and `factor` times less wide, a quarter circle at
1; it is cut off at the laminate. A gap is taken to etch as fast as open copper: one not much wider
than the foil is thick does not, and is outside this.

In the formulas h is the foil, F the factor, and R = h (1 + over) the *reach* of the front: how deep
it would be with no laminate in its way. At a depth y the undercut is sqrt(R² - y²) / F.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import Draws, FloatArray, common_shape
from ...common.band import between
from ...common.limits import InputError, check_choice, check_values, check_whole
from ..bath.setup import AGITATIONS, COPPER_DENSITY, LONGEST_SIDE, MOST_AREAL_MASS

LEAST_FACTOR, MOST_FACTOR = 0.5, 10.0
"""Etch factors accepted [-]."""
MOST_OVER = 1e6
"""Longest over-etch accepted, over the time to clear [-]."""
MOST_THICKNESS = MOST_AREAL_MASS / COPPER_DENSITY
"""Thickest foil accepted [m]."""
HEIGHTS = ("top", "mean", "foot")
"""Where a width is meant: under the resist, the mean of all heights (which carries the current), on
the laminate."""


def etch_factor(agitation: str, draws: int, seed: int) -> Draws:
    """Draw how much faster a bath etches down than sideways: only a range is known (assumed).

    Parameters
    ----------
    agitation : str
        "still", "rocked", "shaken", "bubbled" or "sprayed"; the ranges stand in `etch_factor`, with
        their status.
    draws : int
        How many draws [-], 1 to 400.
    seed : int
        Number [-] that makes the draws repeatable.

    Returns
    -------
    Draws
        Etch factors [-], uniform over the range.

    Raises
    ------
    ValueError
        An unknown word, or draws or seed that cannot be.

    Examples
    --------
    >>> print(f"{etch_factor('rocked', 200, seed=1).mean():.1f}")
    1.5
    """
    case = check_choice("agitation", agitation, AGITATIONS)
    # The table has one row for each way to move a bath
    low = tables.column("etch_factor", "low_depth_over_undercut", case=case)[0]
    high = tables.column("etch_factor", "high_depth_over_undercut", case=case)[0]
    return between(low, high, draws, seed)


def undercut_at(
    thickness: ArrayLike, factor: ArrayLike, over: ArrayLike = 0.0, depth: ArrayLike = 0.0
) -> Any:
    """Return how far the copper is eaten away sideways, from the edge of the resist inwards.

    Parameters
    ----------
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.
    over : float or array
        Over-etch over the time to clear [-], 0 to 1e6.
    depth : float or array
        How far below the resist [m]: 0 just under it, `thickness` on the laminate.

    Returns
    -------
    float or array
        Undercut of one side [m]; on the laminate 0 at first clearing.

    Raises
    ------
    ValueError
        A value outside its limits, or deeper than the foil; shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{undercut_at(35e-6, factor=1.5, over=0.2) * 1e6:.0f} µm")
    28 µm
    """
    h, F, R = _front(thickness, factor, over)
    y = check_values("depth", depth, 0.0, MOST_THICKNESS, "m")
    common_shape(thickness=h, factor=F, over=R, depth=y)
    # Each depth against the foil of its own scenario: no one limit holds for all of them
    depths, foils = np.broadcast_arrays(np.asarray(y), np.asarray(h))
    below = depths > foils
    if below.any():
        worst, most = float(depths[below].flat[0]), float(foils[below].flat[0])
        raise InputError(
            "depth",
            f"it must be 0 to thickness = {most:g} m",
            value=worst,
            about=f" = {worst:g} m",
            low=0.0,
            high=most,
            unit="m",
        )
    return _half_width(R, y) / F


@dataclass(frozen=True, eq=False)
class Front:
    """Where the bath stands beside one edge of a trace, from just under the resist downwards.

    Parameters
    ----------
    undercut : array
        How far in from the edge of the resist [m].
    depth : array
        How far below the resist [m]: as far as the bath has come, or down to the laminate.
    """

    undercut: Any
    depth: Any


def front(thickness: ArrayLike, factor: ArrayLike, share: ArrayLike, points: int = 33) -> Front:
    """Return the front beside a trace when a share of the time to clear has passed.

    Before the copper beside the trace is gone it is that of a foil as thin as the bath is deep by
    then; afterwards that of over-etch. Both are one quarter ellipse that grows, R = share × h.

    Parameters
    ----------
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.
    share : float or array
        Time in the bath over the time to clear [-], 0 to 1e6.
    points : int
        On the curve [-], 2 to 1000.

    Returns
    -------
    Front
        Points on a first axis, before those of the arguments [m].

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> half_way = front(34e-6, factor=1.5, share=0.5)
    >>> print(f"{half_way.undercut[0] * 1e6:.1f} µm in, {half_way.depth[-1] * 1e6:.0f} µm deep")
    11.3 µm in, 17 µm deep
    """
    h, F, _ = _front(thickness, factor, 0.0)
    passed = check_values("share", share, 0.0, MOST_OVER)
    count = check_whole("points", points, 2, 1000)
    shape, draws = common_shape(thickness=h, factor=F, share=passed)
    reach = np.broadcast_to(np.asarray(h * passed), shape)
    deepest = np.minimum(reach, np.asarray(h))
    # closer together below, where the curve of a clearing board runs out along the laminate
    steps = np.sin(np.linspace(0.0, np.pi / 2, count)).reshape((count,) + (1,) * len(shape))
    depth = steps * deepest
    undercut = _half_width(reach, depth) / np.asarray(F)
    if draws is None:
        return Front(undercut, depth)
    return Front(undercut.view(Draws), depth.view(Draws))


def allowance(
    thickness: ArrayLike, factor: ArrayLike, over: ArrayLike = 0.0, at: str = "top"
) -> Any:
    """Return what to add to a trace in the artwork, both sides together, to get the width wanted.

    Parameters
    ----------
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.
    over : float or array
        Over-etch over the time to clear [-], 0 to 1e6.
    at : str
        Where the width is wanted: "top" under the resist, "mean" of all heights, "foot" on the
        laminate.

    Returns
    -------
    float or array
        Add to each trace, take from each gap [m].

    Raises
    ------
    ValueError
        A value outside its limits, an unknown word, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{allowance(35e-6, factor=2) * 1e6:.0f} µm")
    35 µm
    """
    h, F, R = _front(thickness, factor, over)
    height = check_choice("at", at, HEIGHTS)
    foot = _half_width(R, h)
    if height == "top":
        half_width = R
    elif height == "foot":
        half_width = foot
    else:
        # Area of the quarter circle from 0 to h, over h: that of a triangle and a sector
        half_width = (foot + R**2 * np.arcsin(h / R) / h) / 2
    # Both sides of the trace; the front is F times less wide than the circle
    return 2 * half_width / F


def measured_factor(factor: ArrayLike, over: ArrayLike) -> Any:
    """Return the factor that somebody finds on the finished board: foil over undercut, F h / R.

    It is below the factor at first clearing: the undercut goes on growing when there is no depth
    left to go. So a bath that etches alike in all directions is found below 1, and a published
    factor, measured afterwards, is below the factor at first clearing too. Multiply by 1 + `over`
    to go back. It is the undercut under the resist that counts: twice the foil over foot minus top
    *grows* with over-etch, because the walls come upright.

    Parameters
    ----------
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.
    over : float or array
        Over-etch over the time to clear [-], 0 to 1e6.

    Returns
    -------
    float or array
        Foil over undercut [-].

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{measured_factor(1, over=0.25):.1f}")
    0.8
    """
    # h / R is 1 / (1 + over) for every foil: any will do
    h, F, R = _front(1e-6, factor, over)
    return F * h / R


@dataclass(frozen=True, eq=False)
class Widths:
    """What is left of a trace.

    Parameters
    ----------
    top : float or array
        Width under the resist [m].
    foot : float or array
        Width on the laminate [m].
    height : float or array
        Height in its middle [m].
    drawn : float or array
        Width of the resist over it [m].
    lost : bool or array
        Whether the two faces have met under the resist [-], which holds on to nothing there. Then
        `top` is 0, and `foot` and `height` are those of the ridge that is left; they are 0 once
        that is gone too.
    """

    top: Any
    foot: Any
    height: Any
    drawn: FloatArray
    lost: Any

    def gaps(self, gap: ArrayLike) -> tuple[Any, Any]:
        """Return the gap beside this trace: it gains what the trace loses.

        Parameters
        ----------
        gap : float or array
            Gap as it is drawn [m], above 0 to 2.

        Returns
        -------
        tuple of float or array
            The gap at the top, and on the laminate [m].

        Raises
        ------
        ValueError
            A gap outside its limits, or shapes that do not broadcast.
        """
        pitch = self.drawn + check_values("gap", gap, 0.0, LONGEST_SIDE, "m", above=True)
        common_shape(gap=pitch, width=self.top)
        return pitch - self.top, pitch - self.foot


def widths(
    drawn: ArrayLike, thickness: ArrayLike, factor: ArrayLike, over: ArrayLike = 0.0
) -> Widths:
    """Return what is left of a trace that was drawn so wide.

    Parameters
    ----------
    drawn : float or array
        Width of the resist over it [m], above 0 to 2.
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.
    over : float or array
        Over-etch over the time to clear [-], 0 to 1e6, such as `Pulled.over`.

    Returns
    -------
    Widths
        Arrays of the broadcast shape [m], and which traces are lost.

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> left = widths(200e-6, 35e-6, factor=1, over=0.2)
    >>> print(f"{left.top * 1e6:.0f} µm on {left.foot * 1e6:.0f} µm")
    116 µm on 154 µm
    """
    h, F, R = _front(thickness, factor, over)
    W = check_values("drawn", drawn, 0.0, LONGEST_SIDE, "m", above=True)
    common_shape(drawn=W, thickness=h, factor=F, over=R)
    top = np.maximum(W - 2 * R / F, 0.0)
    foot = np.maximum(W - 2 * _half_width(R, h) / F, 0.0)
    # Depth at which the two fronts cross, in the middle: F W / 2 is the half width of the trace on
    # the circle, and sqrt(R² - (F W / 2)²) the depth; 0 where they do not meet
    crossing = np.sqrt(np.maximum((R - F * W / 2) * (R + F * W / 2), 0.0))
    height = np.maximum(h - crossing, 0.0)
    return Widths(top, foot, height, W, np.asarray(top == 0)[()])


def over_at_loss(drawn: ArrayLike, thickness: ArrayLike, factor: ArrayLike) -> Any:
    """Return the over-etch at which a trace is lost, F W / (2 h) - 1, with W its width drawn.

    Its two faces then meet under the resist. `pcbchem.reaction.trace.overetch.time_at_loss` is the
    same in seconds.

    Parameters
    ----------
    drawn : float or array
        Width of the resist over it [m], above 0 to 2.
    thickness : float or array
        Foil [m], above 0 to 0.56 mm.
    factor : float or array
        Etch factor at first clearing [-], 0.5 to 10.

    Returns
    -------
    float or array
        Over the time to clear [-]; 0 or below: lost before the board is clear.

    Raises
    ------
    ValueError
        A value outside its limits, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{over_at_loss(100e-6, 35e-6, factor=1):.2f}")
    0.43
    """
    h, F, _ = _front(thickness, factor, 0.0)
    W = check_values("drawn", drawn, 0.0, LONGEST_SIDE, "m", above=True)
    common_shape(drawn=W, thickness=h, factor=F)
    return F * W / (2 * h) - 1


def _front(
    thickness: ArrayLike, factor: ArrayLike, over: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Check foil and factor, and return h [m], F [-] and the reach R of the front [m]."""
    h = check_values("thickness", thickness, 0.0, MOST_THICKNESS, "m", above=True)
    F = check_values("factor", factor, LEAST_FACTOR, MOST_FACTOR)
    over_etch = check_values("over", over, 0.0, MOST_OVER)
    common_shape(thickness=h, factor=F, over=over_etch)
    return h, F, h * (1 + over_etch)


def _half_width(R: FloatArray, y: FloatArray) -> Any:
    """Return how wide a quarter circle of radius R [m] is at a depth y [m]: sqrt(R² - y²)."""
    # As a product: where y is nearly R, the difference of their squares would lose its figures
    return np.sqrt((R - y) * (R + y))
