"""How long offcuts should take by each plausible draw, and how likely that makes the times that were seen."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...common.limits import collecting_warnings
from ...matter.solution import Solution, mix
from ...reaction.bath.bath import LONGEST, etch
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import ROOM, Board, Foil, Start, Tray
from ..bottle.bottle import Bottle
from ..bottle.strength import Strength
from .offcut import Offcut

SLIP = 0.05
"""One row in twenty is not what it says: another bottle, a wrong note (assumed) [-]."""
SLIP_TIMES, NEVER = (1.0, LONGEST), 0.5
"""By a slip every time between these is as likely, counted in powers [s]; half of all slips never clear [-]."""
STATE = ("HCl", "H2O2", "T", "volume")
Names = tuple[str, str]
"""A bottle in the log: its substance and its name."""
Row = tuple[Start, Board, Tray]


def bottles(offcuts: Sequence[Offcut]) -> dict[Names, Bottle]:
    """Every bottle that offcuts are etched from, by substance and name; ValueError where one name is two strengths."""
    found: dict[Names, Bottle] = {}
    for offcut in offcuts:
        for bottle, name in (
            (offcut.acid, offcut.acid_bottle),
            (offcut.peroxide, offcut.peroxide_bottle),
        ):
            if found.setdefault((bottle.substance, name), bottle) != bottle:
                raise ValueError(
                    f"bottle {name!r} of {bottle.substance} is impossible with two strengths: "
                    "it must have one, or the other another name"
                )
    return found


def expected(
    offcuts: Sequence[Offcut],
    draws: dict[str, FloatArray],
    strengths: dict[Names, FloatArray],
    others: Sequence[Row] = (),
) -> FloatArray:
    """Times to clear of offcuts, and of other baths, by draws that belong together.

    Parameters
    ----------
    offcuts : sequence of Offcut
        R of them.
    draws : dict of array
        By parameter [its unit], each (N,).
    strengths : dict of array
        Of each bottle that the offcuts name [kg/kg], each (N,).
    others : sequence of (Start, Board, Tray)
        F more baths.

    Returns
    -------
    array
        Times [s], (R + F, N), infinite where it never clears.

    Raises
    ------
    ValueError
        An offcut whose bath cannot be computed: too strong, too hot, too shallow.
    """
    distinct = {_bath(offcut): offcut for offcut in offcuts}
    rows = [*_mixed(list(distinct.values()), strengths), *others]
    parameters = RateParameters(**{name: as_draws(column) for name, column in draws.items()})
    moved = [(tray.agitation, tray.facing) for _, _, tray in rows]
    found = np.empty((len(rows), next(iter(draws.values())).size))
    for words in set(moved):
        some = [k for k, its in enumerate(moved) if its == words]
        found[some] = _together([rows[k] for k in some], parameters)
    place = {bath: k for k, bath in enumerate(distinct)}
    return found[[*(place[_bath(offcut)] for offcut in offcuts), *range(len(distinct), len(rows))]]


def _bath(offcut: Offcut) -> tuple[Any, ...]:
    """All that an offcut's time rests on: offcuts etched alike are computed once."""
    board, tray = offcut.board, offcut.tray
    return (
        offcut.acid_bottle,
        offcut.peroxide_bottle,
        offcut.parts,
        offcut.volume,
        offcut.T_bottles,
        float(board.copper_area),
        float(board.copper),
        tray.agitation,
        tray.facing,
        *(None if value is None else float(value) for value in (tray.open_area, tray.T_air)),  # type: ignore[arg-type]
    )


def _mixed(offcuts: list[Offcut], strengths: dict[Names, FloatArray]) -> list[Row]:
    """What each board goes into, by draw: all baths mixed in one call."""
    if not offcuts:
        return []
    water, acid, peroxide = np.array([offcut.parts for offcut in offcuts]).T[:, :, None]
    unit = np.array([[offcut.volume] for offcut in offcuts]) / (water + acid + peroxide)
    T = np.array([[offcut.T_bottles] for offcut in offcuts])
    HCl = as_draws([strengths["HCl", offcut.acid_bottle] for offcut in offcuts])
    H2O2 = as_draws([strengths["H2O2", offcut.peroxide_bottle] for offcut in offcuts])
    bath = Start.of(
        mix(
            Solution.of(volume=unit * water, T=T),
            Solution.of(volume=unit * acid, T=T, HCl=HCl),
            Solution.of(volume=unit * peroxide, T=T, H2O2=H2O2),
        )
    )
    return [
        (
            Start(**{name: as_draws(np.asarray(getattr(bath, name))[k]) for name in STATE}),
            offcut.board,
            offcut.tray,
        )
        for k, offcut in enumerate(offcuts)
    ]


def _together(rows: list[Row], parameters: RateParameters) -> FloatArray:
    """Times [s] of baths that are moved alike, (rows, draws), in one call of `etch`."""
    count = parameters.rate_factor.size

    def stacked(values: list[Any]) -> Any:
        return as_draws([np.broadcast_to(value, (count,)) for value in values])

    def column(values: list[Any]) -> FloatArray:
        return np.array([[float(value)] for value in values])

    bath = Start(
        **{name: stacked([getattr(start, name) for start, _, _ in rows]) for name in STATE}
    )
    board = Board(
        area=column([board.area for _, board, _ in rows]),
        foil=Foil(areal_mass=column([board.foil.areal_mass for _, board, _ in rows])),
    )
    surface = stacked(
        [tray.surface(start.volume, board.copper_area) for start, board, tray in rows]
    )
    air = column([ROOM if tray.T_air is None else tray.T_air for _, _, tray in rows])
    with collecting_warnings():
        tray = dataclasses.replace(rows[0][2], open_area=surface, T_air=air)
        return np.asarray(etch(bath, board, tray, parameters).time_to_clear)


def likelihood(time: float, clear: bool, times: FloatArray, spread: float) -> FloatArray:
    """How likely what was seen of an offcut is, where its row is what it says.

    Parameters
    ----------
    time : float
        When it was clear, or until when it was not [s].
    clear : bool
        False: it was not clear after `time`.
    times : array
        Times that are expected [s], infinite where it never clears.
    spread : float
        Standard deviation of the logarithm of a seen time [-].

    Returns
    -------
    array
        Density of the logarithm of the time, or the chance to be later [-], of the shape of `times`.

    Examples
    --------
    >>> print(f"{likelihood(100.0, False, np.array([100.0]), 0.15)[0]:.2f}")
    0.50
    """
    with np.errstate(divide="ignore"):
        off = np.where(np.isfinite(times), (np.log(time) - np.log(times)) / spread, -np.inf)
    if not clear:
        return 0.5 * np.asarray(_erfc(off / math.sqrt(2)))
    return np.exp(-0.5 * off**2) / (spread * math.sqrt(2 * math.pi))


_erfc = np.vectorize(math.erfc, otypes=[float])


def by_slip(time: float, clear: bool) -> float:
    """How likely the same is where the row is not what it says [-]: any time from 1 s to 4 h [s], or never clear."""
    first, last = np.log(SLIP_TIMES)
    later = float(np.clip((last - np.log(time)) / (last - first), 0.0, 1.0))
    return float((1 - NEVER) / (last - first)) if clear else NEVER + (1 - NEVER) * later


def fit(
    offcuts: Sequence[Offcut], times: FloatArray, spread: float
) -> tuple[FloatArray, FloatArray]:
    """How well draws meet all that was seen, and how likely each row is a slip by each draw.

    Parameters
    ----------
    offcuts : sequence of Offcut
        R rows with a time.
    times : array
        What is expected of them [s], (R, N).
    spread : float
        Standard deviation of the logarithm of a seen time [-].

    Returns
    -------
    tuple of array
        Logarithm of the likelihood of all rows, (N,), and chance of a slip [-], (R, N).
    """
    total = np.zeros(times.shape[-1])
    slips = np.zeros(times.shape)
    for k, offcut in enumerate(offcuts):
        assert offcut.time is not None
        slip = SLIP * by_slip(offcut.time, offcut.clear)
        whole = slip + (1 - SLIP) * likelihood(offcut.time, offcut.clear, times[k], spread)
        total += np.log(whole)
        slips[k] = slip / whole
    return total, slips


def sure(measured: Mapping[Names, Strength], strengths: dict[Names, FloatArray]) -> Any:
    """Logarithm of how likely what was measured of some bottles is by each draw of their strengths [-], (N,) or 0."""
    return sum(
        -0.5 * ((strengths[names] - strength.middle) / strength.doubt) ** 2
        for names, strength in measured.items()
    )
