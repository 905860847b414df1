"""Calibrate: weigh the shipped draws by the offcuts of one bench, or make new ones."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray
from ...common.band import Band
from ...common.limits import InputError, check_number, naming
from ...reaction.bath.parameters import shipped_draws
from ..bottle.bottle import Bottle
from ..bottle.strength import MOST_APART, Strength
from .calibration import SPREADS, Calibration
from .likelihood import BottleName, bottles_of, expected_times
from .log import Log
from .new_draws import FEW, draws_left

SPREAD = 0.15
"""How far a seen time lies from the model's with every number known: standard deviation of its
logarithm [-]."""


def calibrate(
    log: Log,
    *,
    spread: float = SPREAD,
    measured: Mapping[BottleName, Strength] | None = None,
    seed: int = 0,
    few: float = FEW,
    progress: Callable[[int, int], None] | None = None,
) -> Calibration:
    """Weigh the shipped draws by how well each meets the times seen.

    Where too few are left, new ones are made around them.

    Parameters
    ----------
    log : Log
        Of offcuts that were etched, from `read_log` or `Log.of`.
    spread : float
        Standard deviation of the logarithm of a seen time about the model's [-], 0.02 to 1: 0.15 is
        about 15 % (assumed: stop-watch, foil, where on the offcut one looks).
    measured : dict of Strength, optional
        What measurements say of bottles that the log names, by ("HCl" or "H2O2", name): measured
        before or after their offcuts, it counts beside the limits in the log.
    seed : int
        For the strengths of the bottles and for new draws [-].
    few : float
        Where the offcuts leave fewer draws than this new ones are made [-]; 0: never, which is
        quicker, and the times expected of the offcuts are then rough. For a board they are made in
        any case.
    progress : callable, optional
        Called as progress(done, 100) while new draws are made, in per cent.

    Returns
    -------
    Calibration
        The draws with their weights, and what each row was and is expected to take [s].
        `own_time` makes a board's time of it.

    Raises
    ------
    ValueError
        Something that is no log, an offcut not yet etched, or a measurement of no bottle of the
        log, one that cannot tell, or one that its limits there contradict. A row whose bath cannot
        be computed is left out, and `bad`.

    Notes
    -----
    The likelihood of a time is log-normal; of "not clear after" the chance to be later. One row in
    twenty may be a slip, by which it never clears, or every time from 1 s to 4 h is as likely. What
    one hand always does alike (when it calls a board clear) is not told from the bath and never
    averages out. A bottle is one unknown, shared by all rows that name it: give peroxide that has
    stood open for months a new name. The ends of a bottle are walls that no offcut moves. New draws
    keep to the ranges of the table and to the four facts that the shipped ones meet.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, Tray
    >>> from pcbchem.bench.offcut import Offcut
    >>> offcut = Offcut(
    ...     acid=Bottle.labelled("HCl", 0.10),
    ...     peroxide=Bottle.labelled("H2O2", 0.12),
    ...     parts=(0, 1, 1),
    ...     volume=30e-6,
    ...     board=Board(area=4e-4),
    ...     tray=Tray(),
    ...     T_bottles=293.15,
    ...     time=230.0,
    ... )
    >>> calibration = calibrate(Log.of([offcut]))
    >>> low, middle, high = calibration.times_after[0]
    >>> print(bool(calibration.times_before[0, 0] < low < 230 < high))
    True
    """
    _check_log(log)
    spread = check_number("spread", spread, *SPREADS, "")
    draws = dict(shipped_draws())
    strengths = _draw_strengths(log, seed)
    log, times = _computable(log, draws, strengths)
    # A bottle of which no row is left says nothing and is told nothing
    bottles = bottles_of(log.offcuts)
    strengths = {name: strengths[name] for name in bottles}
    measured = _check_measured(measured or {}, bottles)
    left = draws_left(
        log.offcuts,
        draws,
        strengths,
        times,
        spread,
        measured,
        0.0,
        seed,
        _in_percent(progress),
        few,
    )
    return Calibration(
        offcuts=log.offcuts,
        lines=log.lines,
        spread=spread,
        draws=left.columns,
        strengths=left.strengths,
        weights=left.weights,
        times_before=_bands(times, np.ones(MOST_DRAWS)),
        times_after=_bands(left.times, left.weights),
        slips=left.slips,
        shipped_left=left.shipped_left,
        new_draws=left.new_draws,
        bad=log.bad,
        measured=measured,
        shipped_strengths=strengths,
        shipped_times=times,
        seed=seed,
    )


def _in_percent(progress: Callable[[int, int], None] | None) -> Callable[[float], None]:
    """Return what reports a share that is done [-] in whole per cent, where anybody asks."""

    def report(share: float) -> None:
        if progress is not None:
            progress(round(100 * share), 100)

    return report


def _draw_strengths(log: Log, seed: int) -> dict[BottleName, FloatArray]:
    """Draw the strengths [kg/kg] of every bottle in a log, each (N,)."""
    strengths = {}
    for number, (name, bottle) in enumerate(bottles_of(log.offcuts).items()):
        # Another seed for each bottle, or all of them would be strong or weak together
        strengths[name] = np.asarray(bottle.strengths(MOST_DRAWS, seed + number))
    return strengths


def _check_log(log: Log) -> None:
    """Refuse what is no log, and an offcut that was not etched."""
    if not isinstance(log, Log):
        raise InputError(
            "log",
            "give read_log(path) or Log.of(offcuts)",
            value=log,
            about=f" = {log!r:.80}",
            wrong="is not a log of offcuts",
        )
    for line, offcut in zip(log.lines, log.offcuts, strict=True):
        if offcut.time is None:
            raise InputError(
                f"line {line}", "it must be a time in s, above 0", about=": time = None"
            )


def _check_measured(
    measured: Mapping[BottleName, Strength], bottles: Mapping[BottleName, Bottle]
) -> dict[BottleName, Strength]:
    """Return measurements of bottles that the log names and whose limits they do not contradict."""
    for name, strength in measured.items():
        is_strength = isinstance(strength, Strength) and strength.substance == name[0]
        if name not in bottles or not is_strength:
            keys = ", ".join(repr(key) for key in bottles)
            raise InputError(
                "measured",
                f"it must be a Strength by one of the keys {keys}",
                value=strength,
                about=f": {name!r}: {strength!r:.80}",
            )
        # No draw is so far outside the walls: all weights would rest on the last few
        bottle = bottles[name]
        with naming(f"measured: {name[1]!r}"):
            strength.must_tell()
            check_number(
                "middle",
                strength.middle,
                bottle.low - MOST_APART * strength.doubt,
                bottle.high + MOST_APART * strength.doubt,
                "kg/kg, its limits in the log and 3 doubts: one of them is a mistake",
            )
    return dict(measured)


def _computable(
    log: Log, draws: dict[str, FloatArray], strengths: dict[BottleName, FloatArray]
) -> tuple[Log, FloatArray]:
    """Return the log of all rows whose bath can be computed, and their times [s], (R, N).

    The others are among its bad rows.
    """
    try:
        return log, expected_times(log.offcuts, draws, strengths)  # all in one call: much quicker
    except ValueError:
        offcuts, lines, bad = [], [], list(log.bad)
    # One of them cannot, and the error does not say which: each is tried alone
    for line, offcut in zip(log.lines, log.offcuts, strict=True):
        try:
            expected_times([offcut], draws, strengths)
        except ValueError as error:
            bad.append((line, str(error)))
        else:
            offcuts.append(offcut)
            lines.append(line)
    rest = dataclasses.replace(
        log, offcuts=tuple(offcuts), lines=tuple(lines), bad=tuple(sorted(bad))
    )
    return rest, expected_times(rest.offcuts, draws, strengths)


def _bands(times: FloatArray, weights: FloatArray) -> FloatArray:
    """Compute the 10, 50 and 90 % values [s] of each row of times, (R, 3)."""
    band = Band.of(times, MOST_DRAWS, weights)
    return np.stack([band.low, band.middle, band.high], axis=-1)
