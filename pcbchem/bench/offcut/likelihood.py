"""How likely the times seen of offcuts are by each plausible draw."""

from __future__ import annotations

import dataclasses
import math
import statistics
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...common.limits import collecting_warnings
from ...matter.solution import Solution, mix
from ...reaction.bath.bath import LONGEST, etch
from ...reaction.bath.parameters import RateParameters, rows
from ...reaction.bath.setup import ROOM, Board, Foil, Start, Tray
from ..bottle.bottle import Bottle
from ..bottle.strength import Strength
from .offcut import Offcut

SLIP = 0.05
"""One row in twenty is not what it says: another bottle, a wrong note (assumed) [-]."""
FIRST_SLIP, LAST_SLIP = 1.0, LONGEST
"""By a slip every time between these is as likely, counted in powers [s]."""
NEVER = 0.5
"""Share of all slips that never clear [-]."""
MANY = 15
"""So many steps from a board to its offcuts are tried, all equally likely [-]."""
STEPS = np.array([statistics.NormalDist().inv_cdf((step + 0.5) / MANY) for step in range(MANY)])
"""These steps, in standard deviations of the logarithm [-]."""
GOLDEN = 0.5 * (math.sqrt(5) - 1)
"""The golden section [-]."""
TENTH = 1.2816
"""So many standard deviations above the middle lies the upper end of a band [-]."""
FAR_SLOW, FAR_QUICK = 1.1, 1.7
"""All offcuts are too far on one side beyond so many half widths of what was expected before [-]
(our choice: of right benches about 1 in 10 is warned, of 2 oz foil typed as 1 oz more than 8 in 10;
an offcut that is dangerously quick has a rule of its own)."""

BottleName = tuple[str, str]
"""A bottle in the log: its substance, "HCl" or "H2O2", and its name."""


class Bath(NamedTuple):
    """A bath to etch: what the board goes into, the board, and the tray."""

    start: Start
    board: Board
    tray: Tray


def bottles_of(offcuts: Iterable[Offcut]) -> dict[BottleName, Bottle]:
    """Collect every bottle that offcuts are etched from, by substance and name.

    Raises
    ------
    ValueError
        One name stands for two strengths.
    """
    bottles: dict[BottleName, Bottle] = {}
    for offcut in offcuts:
        _add_bottle(bottles, offcut.acid, offcut.acid_bottle)
        _add_bottle(bottles, offcut.peroxide, offcut.peroxide_bottle)
    return bottles


def _add_bottle(bottles: dict[BottleName, Bottle], bottle: Bottle, name: str) -> None:
    """Add a bottle, or refuse its name where that stands for another strength already."""
    if bottles.setdefault((bottle.substance, name), bottle) != bottle:
        raise ValueError(
            f"bottle {name!r} of {bottle.substance} is impossible with two strengths: "
            "it must have one, or the other another name"
        )


def expected_times(
    offcuts: Sequence[Offcut],
    draws: Mapping[str, FloatArray],
    strengths: Mapping[BottleName, FloatArray],
    others: Sequence[Bath] = (),
) -> FloatArray:
    """Compute times to clear of offcuts, and of other baths, by draws that belong together.

    Parameters
    ----------
    offcuts : sequence of Offcut
        R of them.
    draws : dict of array
        By parameter [its unit], each (N,).
    strengths : dict of array
        Of each bottle that the offcuts name [kg/kg], each (N,).
    others : sequence of Bath
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
    # Offcuts etched alike are computed once
    distinct = {_etching(offcut): offcut for offcut in offcuts}
    baths = [*_baths(list(distinct.values()), strengths), *others]
    parameters = RateParameters(**{name: as_draws(column) for name, column in draws.items()})

    # One call of `etch` takes all baths that are moved alike: far quicker than a call for each
    times = np.empty((len(baths), parameters.rate_factor.size))
    movements = [(bath.tray.agitation, bath.tray.facing) for bath in baths]
    for movement in set(movements):
        alike = [row for row, each in enumerate(movements) if each == movement]
        times[alike] = _etch_together([baths[row] for row in alike], parameters)

    # Back to a row for every offcut, and below them the other baths
    row_of = {etching: row for row, etching in enumerate(distinct)}
    places = [row_of[_etching(offcut)] for offcut in offcuts]
    places += range(len(distinct), len(baths))
    return times[places]


def _etching(offcut: Offcut) -> tuple[Any, ...]:
    """Return all that an offcut's time rests on, to tell which offcuts were etched alike."""
    # Bottles by name: of one name all offcuts have the same strength, by draw too
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
        _number_or_none(tray.open_area),
        _number_or_none(tray.T_air),
    )


def _number_or_none(value: Any) -> float | None:
    """Return a tray's value as a plain number, which can be compared; None stays None."""
    if value is None:
        return None
    return float(np.asarray(value))


def _baths(offcuts: list[Offcut], strengths: Mapping[BottleName, FloatArray]) -> list[Bath]:
    """Mix what each board goes into, by draw: all baths in one call."""
    if not offcuts:
        return []
    # A bath a row; the last axis is left to the draws
    parts = np.array([offcut.parts for offcut in offcuts])
    water, acid, peroxide = parts.T[:, :, None]
    volume = np.array([[offcut.volume] for offcut in offcuts])
    one_part = volume / (water + acid + peroxide)
    T = np.array([[offcut.T_bottles] for offcut in offcuts])
    HCl = as_draws([strengths["HCl", offcut.acid_bottle] for offcut in offcuts])
    H2O2 = as_draws([strengths["H2O2", offcut.peroxide_bottle] for offcut in offcuts])
    starts = Start.of(
        mix(
            Solution.of(volume=one_part * water, T=T),
            Solution.of(volume=one_part * acid, T=T, HCl=HCl),
            Solution.of(volume=one_part * peroxide, T=T, H2O2=H2O2),
        )
    )
    # Apart again: the baths may be moved in different ways
    baths = []
    for row, offcut in enumerate(offcuts):
        start = Start(
            HCl=as_draws(np.asarray(starts.HCl)[row]),
            H2O2=as_draws(np.asarray(starts.H2O2)[row]),
            T=as_draws(np.asarray(starts.T)[row]),
            volume=as_draws(np.asarray(starts.volume)[row]),
        )
        baths.append(Bath(start, offcut.board, offcut.tray))
    return baths


def _etch_together(baths: list[Bath], parameters: RateParameters) -> FloatArray:
    """Compute times [s] of baths that are moved alike, (baths, draws), in one call of `etch`."""
    count = parameters.rate_factor.size

    def by_draw(values: list[Any]) -> Any:
        return as_draws([np.broadcast_to(value, (count,)) for value in values])

    def column(values: list[Any]) -> FloatArray:
        return np.array([[float(value)] for value in values])

    # What hangs on the strengths has a value a draw, what the log says outright one for all draws
    start = Start(
        HCl=by_draw([bath.start.HCl for bath in baths]),
        H2O2=by_draw([bath.start.H2O2 for bath in baths]),
        T=by_draw([bath.start.T for bath in baths]),
        volume=by_draw([bath.start.volume for bath in baths]),
    )
    board = Board(
        area=column([bath.board.area for bath in baths]),
        foil=Foil(areal_mass=column([bath.board.foil.areal_mass for bath in baths])),
    )
    surfaces = [bath.tray.surface(bath.start.volume, bath.board.copper_area) for bath in baths]
    air = []
    for bath in baths:
        T_air = bath.tray.T_air
        if T_air is None:
            T_air = ROOM
        air.append(T_air)
    # A warning was due when the bath was planned: here it would only come again
    with collecting_warnings():
        tray = dataclasses.replace(baths[0].tray, open_area=by_draw(surfaces), T_air=column(air))
        return np.asarray(etch(start, board, tray, parameters).time_to_clear)


def likelihood_of_time(time: float, clear: bool, times: FloatArray, spread: float) -> FloatArray:
    """Compute how likely what was seen of an offcut is, where its row is what it says.

    With z = ln(time / times) / spread it is exp(-z²/2) / (spread √(2π)) where the offcut was clear,
    and the chance to be later, erfc(z / √2) / 2, where it was not.

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
        Density of the logarithm of the time, or the chance to be later [-], of the shape of
        `times`.

    Examples
    --------
    >>> print(f"{likelihood_of_time(100.0, False, np.array([100.0]), 0.15)[0]:.2f}")
    0.50
    """
    off = (np.log(time) - np.log(times)) / spread  # minus infinity where it never clears
    if not clear:
        return 0.5 * np.asarray(_erfc(off / math.sqrt(2)))
    return np.asarray(np.exp(-0.5 * off**2) / (spread * math.sqrt(2 * math.pi)))


# The chance to be later is exact far out, where 1 - erf would be 0; NumPy has no erfc
_erfc = np.vectorize(math.erfc, otypes=[float])


def likelihood_of_slip(time: float, clear: bool) -> float:
    """Compute how likely a time [s] is where its row is not what it says [-].

    By a slip an offcut never clears, or any time from 1 s to 4 h is as likely. Density and chance
    as for `likelihood_of_time`.
    """
    first, last = np.log((FIRST_SLIP, LAST_SLIP))
    # Half of the slips are spread evenly over the logarithm of the time
    if clear:
        return float((1 - NEVER) / (last - first))
    # A time before 1 s or after 4 h lies outside that range
    later = float(np.clip((last - np.log(time)) / (last - first), 0.0, 1.0))
    return float(NEVER + (1 - NEVER) * later)


def steps_to_offcuts(transfer: float, rate_factor: FloatArray) -> FloatArray:
    """Compute how much longer offcuts may take than draws say of a board in its own tray.

    What the equations leave out, the rate factor, is another in another tray. Of board and offcuts
    each is as doubtful as the table of parameters says, with the deviation s, and they are alike by
    the correlation c: so the one lies about the other with the deviation s √(2 (1 - c)), which is
    the transfer.

    Parameters
    ----------
    transfer : float
        How far a board lies from its offcuts, as a standard deviation of the logarithm [-].
    rate_factor : array
        Of each draw, for the board [-], (N,).

    Returns
    -------
    array
        Factors of the time, all equally likely [-], (K, N).

    Examples
    --------
    >>> print(f"{np.log(steps_to_offcuts(0.3, np.ones(1))).std():.2f}")
    0.23
    """
    if transfer == 0.0:
        return np.ones((1, rate_factor.size))
    alike, rest = alike_and_rest(transfer)
    # A bath that is quick for its tray is most likely less so in another
    return np.asarray(rate_factor ** (1 - alike) * np.exp(rest * STEPS[:, None]))


def alike_and_rest(transfer: float) -> tuple[float, float]:
    """Split what the equations leave out into what two trays share and what they do not.

    Parameters
    ----------
    transfer : float
        How far the one lies from the other, as a standard deviation of the logarithm [-].

    Returns
    -------
    tuple of float
        Share of the one's logarithm that the other has too, and the standard deviation of the rest
        [-].

    Examples
    --------
    >>> alike, rest = alike_and_rest(0.3)
    >>> print(f"{alike:.2f} {rest:.2f}")
    0.28 0.24
    """
    deviation = float(rows()["rate_factor"]["drawn"].split()[-1])
    alike = 1 - transfer**2 / (2 * deviation**2)
    return alike, deviation * math.sqrt(1 - alike**2)


def fit_of_draws(
    offcuts: Sequence[Offcut], times: FloatArray, spread: float, steps: FloatArray | None = None
) -> tuple[FloatArray, FloatArray]:
    """Compute how well draws meet all that was seen, and how likely each row is a slip.

    Parameters
    ----------
    offcuts : sequence of Offcut
        R rows with a time.
    times : array
        What is expected of them [s], (R, N).
    spread : float
        Standard deviation of the logarithm of a seen time [-].
    steps : array or None
        How much longer all offcuts together may take, from `steps_to_offcuts` [-], (K, N).

    Returns
    -------
    tuple of array
        Logarithm of the likelihood of all rows, (N,), and chance of a slip by each draw [-],
        (R, N).
    """
    fits, slips = _fits_by_step(offcuts, times, spread, steps)
    # The mean of the likelihoods, not of their logarithms: one step holds for all rows
    best = fits.max(axis=0)
    shares = np.exp(fits - best)
    fit = best + np.log(shares.mean(axis=0))
    shares /= shares.sum(axis=0)
    return fit, np.asarray((shares[:, None] * slips).sum(axis=0))


def _fits_by_step(
    offcuts: Sequence[Offcut], times: FloatArray, spread: float, steps: FloatArray | None
) -> tuple[FloatArray, FloatArray]:
    """Return fits [-], (K, N), and chances of a slip [-], (K, R, N), for each of K steps."""
    if steps is None:
        steps = np.ones((1, times.shape[-1]))
    fits = np.zeros(steps.shape)
    slips = np.zeros((len(steps), *times.shape))
    for row, offcut in enumerate(offcuts):
        assert offcut.time is not None
        # Two ways to this row; with a slip among them, no row can make a draw impossible
        slip = SLIP * likelihood_of_slip(offcut.time, offcut.clear)
        expected = steps * times[row]
        true = (1 - SLIP) * likelihood_of_time(offcut.time, offcut.clear, expected, spread)
        fits += np.log(slip + true)
        slips[:, row] = slip / (slip + true)  # Bayes: its share of the two ways
    return fits, slips


def likely_steps(
    offcuts: Sequence[Offcut], times: FloatArray, spread: float, steps: FloatArray
) -> FloatArray:
    """Choose a step to the offcuts for each draw, as likely as the times seen make it.

    Parameters
    ----------
    offcuts, times, spread, steps
        As for `fit_of_draws`.

    Returns
    -------
    array
        A factor of the times for each draw [-], (N,): no chance in it.
    """
    fits, _ = _fits_by_step(offcuts, times, spread, steps)
    shares = np.exp(fits - fits.max(axis=0))
    along = np.cumsum(shares / shares.sum(axis=0), axis=0)
    # Golden steps lie evenly between 0 and 1, and neighbours, often the same draw, far apart
    levels = (0.5 + GOLDEN * np.arange(steps.shape[1])) % 1.0
    places = np.minimum((along < levels).sum(axis=0), len(steps) - 1)
    return np.asarray(np.take_along_axis(steps, places[None], axis=0)[0])


def fit_of_measurements(
    measured: Mapping[BottleName, Strength], strengths: Mapping[BottleName, FloatArray], draws: int
) -> FloatArray:
    """Compute how well draws of strengths meet what was measured of some bottles.

    Parameters
    ----------
    measured : dict of Strength
        By substance and name of the bottle.
    strengths : dict of array
        Strengths of these bottles, and of others [kg/kg], each (N,).
    draws : int
        N [-].

    Returns
    -------
    array
        Logarithm of the likelihood, less a constant [-], (N,).
    """
    fit = np.zeros(draws)
    for name, strength in measured.items():
        # The logarithm of a normal density; its factor is the same for all draws
        fit += -0.5 * ((strengths[name] - strength.middle) / strength.doubt) ** 2
    return fit


def times_the_middle(offcuts: Sequence[Offcut], bands: FloatArray, spread: float) -> float | None:
    """Compute how many times the middle every offcut took, where that is too far to be chance.

    Parameters
    ----------
    offcuts : sequence of Offcut
        R rows with a time.
    bands : array
        Low end, middle and high end of what was expected of them before any offcut [s], (R, 3).
    spread : float
        Standard deviation of the logarithm of a seen time [-].

    Returns
    -------
    float or None
        Geometric mean of the times over their middles [-]; None where they are not all on one side,
        or not far enough.

    Examples
    --------
    >>> print(times_the_middle([], np.zeros((0, 3)), 0.15))
    None
    """
    logs, widths = [], []
    for offcut, (low, middle, high) in zip(offcuts, bands, strict=True):
        if offcut.time is None or not np.isfinite(middle):
            continue
        log = float(np.log(offcut.time / middle))
        if log < 0 and not offcut.clear:
            continue  # taken out before its time: it may have been slow or quick
        end = low
        if log > 0:
            end = high
        logs.append(log)
        widths.append(abs(float(np.log(end / middle))))
    if not logs or min(logs) < 0 < max(logs):
        return None
    mean = float(np.mean(logs))
    far = FAR_QUICK
    if mean > 0:
        far = FAR_SLOW
    # The doubt of the plausible draws is shared by all rows, that of reading them is not
    reading = TENTH * spread / np.sqrt(len(logs))
    if abs(mean) < far * np.hypot(np.mean(widths), reading):
        return None
    return float(np.exp(mean))
