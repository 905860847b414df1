"""Weigh the shipped draws by the offcuts of one bench, and make new ones where few are left."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray
from ...common.band import Band
from ...common.limits import check_number, naming
from ...reaction.bath.parameters import shipped_draws
from ..bottle.strength import APART, Strength
from .calibration import SPREADS, Calibration
from .likelihood import Names, bottles, expected, fit, sure
from .log import Log
from .new_draws import effective, made_around
from .offcut import Offcut

SPREAD = 0.15
"""How far a seen time lies from the model's with every number known: standard deviation of its logarithm [-]."""


FEW = 30.0
"""With fewer effective draws than this new ones are made around the survivors [-]."""


def calibrate(
    log: Log,
    *,
    spread: float = SPREAD,
    measured: Mapping[Names, Strength] | None = None,
    seed: int = 0,
    progress: Callable[[int, int], None] | None = None,
) -> Calibration:
    """Weigh the shipped draws by how well each meets the times seen, and make new ones where too few are left.

    Parameters
    ----------
    log : Log
        Of offcuts that were etched, from `coupons.read` or `Log.of`.
    spread : float
        Standard deviation of the logarithm of a seen time about the model's [-], 0.02 to 1: 0.15 is about 15 %
        (assumed: stop-watch, foil, where on the offcut one looks).
    measured : dict of Strength, optional
        What measurements say of bottles that the log names, by ("HCl" or "H2O2", name): measured before or after their
        offcuts, it counts beside the limits in the log.
    seed : int
        For the strengths of the bottles and for new draws [-].
    progress : callable, optional
        Called as progress(done, 100) while new draws are made, in per cent.

    Returns
    -------
    Calibration
        The draws with their weights, and what each row was and is expected to take [s]. `calibrated.own_time` makes a
        board's time of it, `calibration_file.save` and `read` keep it.

    Raises
    ------
    ValueError
        Something that is no log, an offcut not yet etched, or a measurement of no bottle of the log, one that cannot
        tell, or one that its limits there contradict. A row whose bath cannot be computed is left out, and `bad`.

    Notes
    -----
    The likelihood of a time is log-normal; of "not clear after" the chance to be later. One row in twenty may be a
    slip, by which it never clears, or every time from 1 s to 4 h is as likely. What one hand always does alike (when it
    calls a board clear) is not told from the bath and never averages out. A bottle is one unknown, shared by all rows
    that name it: give peroxide that has stood open for months a new name. The ends of a bottle are walls that no offcut
    moves. New draws keep to the ranges of the table and to the four facts that the shipped ones meet.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, Tray
    >>> seen = Offcut(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), 30e-6, Board(area=4e-4),
    ...               Tray(), 293.15, time=200.0)
    >>> found = calibrate(Log.of([seen]))
    >>> print(bool(found.before[0, 2] > found.after[0, 2] > 200 > found.after[0, 0] > found.before[0, 0]))
    True
    """
    if not isinstance(log, Log):
        raise ValueError(
            f"log = {log!r:.80} is not a log of offcuts: give coupons.read(path) or Log.of(offcuts)"
        )
    spread = check_number("spread", spread, *SPREADS, "")
    for line, offcut in zip(log.lines, log.offcuts, strict=True):
        if offcut.time is None:
            raise ValueError(
                f"line {line}: time = None is impossible: it must be a time in s, above 0"
            )
    draws = dict(shipped_draws())
    held = {
        names: np.asarray(bottle.strengths(MOST_DRAWS, seed + k))
        for k, (names, bottle) in enumerate(bottles(log.offcuts).items())
    }
    log, times = _computed(log, draws, held)
    rows, held = log.offcuts, {names: held[names] for names in bottles(log.offcuts)}
    known = _checked(measured or {}, rows)
    before = _ends(times, np.ones(MOST_DRAWS))
    fits, slips = fit(rows, times, spread)
    fits = fits + sure(known, held)
    weights = np.exp(fits - fits.max())
    weights /= weights.sum()
    survived, made = effective(weights), 0
    if survived < FEW:

        def tell(share: float) -> None:
            if progress is not None:
                progress(round(100 * share), 100)

        draws, held = made_around(
            rows, draws, held, spread, known, np.random.default_rng(seed), tell
        )
        times = expected(rows, draws, held)
        slips = fit(rows, times, spread)[1]
        weights, made = np.full(MOST_DRAWS, 1 / MOST_DRAWS), MOST_DRAWS
    return Calibration(
        rows,
        log.lines,
        spread,
        draws,
        held,
        weights,
        before,
        _ends(times, weights),
        np.average(slips, axis=1, weights=weights),
        survived,
        made,
        log.sha256,
        log.bad,
        known,
    )


def _checked(measured: Mapping[Names, Strength], rows: tuple[Offcut, ...]) -> dict[Names, Strength]:
    """Measurements of bottles that the log names and whose limits there they do not contradict."""
    there = bottles(rows)
    for names, strength in measured.items():
        if (
            names not in there
            or not isinstance(strength, Strength)
            or strength.substance != names[0]
        ):
            raise ValueError(
                f"measured: {names!r}: {strength!r:.80} is impossible: it must be a Strength by one of "
                f"the keys {', '.join(map(repr, there))}"
            )
        with naming(f"measured: {names[1]!r}"):
            strength.must_tell()
            bottle, far = there[names], APART * strength.doubt
            check_number(
                "middle",
                strength.middle,
                bottle.low - far,
                bottle.high + far,
                "kg/kg, its limits in the log and 3 doubts: one of them is a mistake",
            )
    return dict(measured)


def _ends(times: FloatArray, weights: FloatArray) -> FloatArray:
    """The 10, 50 and 90 % values [s] of each row of times, (R, 3)."""
    band = Band.of(times, MOST_DRAWS, weights)
    return np.stack([band.low, band.middle, band.high], axis=-1)


def _computed(
    log: Log, draws: dict[str, FloatArray], strengths: dict[Names, FloatArray]
) -> tuple[Log, FloatArray]:
    """The rows of a log whose bath can be computed, the others among the bad ones, and their times [s], (R, N)."""
    try:
        return log, expected(log.offcuts, draws, strengths)
    except ValueError:
        good, bad = [], list(log.bad)
        for line, offcut in zip(log.lines, log.offcuts, strict=True):
            try:
                expected([offcut], draws, strengths)
                good.append((line, offcut))
            except ValueError as wrong:
                bad.append((line, str(wrong)))
        rest = dataclasses.replace(
            log,
            offcuts=tuple(offcut for _, offcut in good),
            lines=tuple(line for line, _ in good),
            bad=tuple(sorted(bad)),
        )
        return rest, expected(rest.offcuts, draws, strengths)
