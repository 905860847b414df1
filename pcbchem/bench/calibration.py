"""What the offcuts of one bench say about the plausible draws: a weight for each, and new draws where few are left."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from ..matter.arrays import MOST_DRAWS, FloatArray, as_draws, named
from ..reaction.parameters import RateParameters, shipped_draws
from ..reaction.run import Band
from .bottles import APART, Strength
from .calibration_words import frame, words
from .coupons import Log
from .inputs import Bottle, Inputs, one
from .offcuts import Offcut
from .seen import Names, bottles, expected, fit, sure
from .survivors import effective, made_around, resampled

if TYPE_CHECKING:
    import pandas

SPREAD = 0.15
"""How far a seen time lies from the model's with every number known: standard deviation of its logarithm [-]."""
SPREADS = (0.02, 1.0)
"""Least and most spread [-]."""
FEW = 30.0
"""With fewer effective draws than this new ones are made around the survivors [-]."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class Calibration:
    """What a log of offcuts makes of the plausible draws: N draws, R offcuts.

    `offcuts`: the rows it rests on, and their `lines` in the log; `spread`: of seen times, as a logarithm [-];
    `draws`: by parameter [its unit], each (N,); `strengths`: of every bottle in the log [kg/kg], by substance and name,
    each (N,); `weights`: (N,), their sum is 1 [-]; `before`, `after`: 10, 50 and 90 % of the time that each offcut was
    and is expected to take [s], (R, 3); `slips`: how likely each row is not what it says [-], (R,); `survived`:
    effective number of the shipped draws [-]; `made`: number of draws made around them, 0 where the shipped ones do;
    `log_sha256`: of the log; `bad`: lines that could not be read, and why; `measured`: bottles that were.

    Draw i of parameters and strengths belongs together: `doubt` gives both.
    """

    offcuts: tuple[Offcut, ...]
    lines: tuple[int, ...]
    spread: float
    draws: dict[str, FloatArray]
    strengths: dict[Names, FloatArray]
    weights: FloatArray
    before: FloatArray
    after: FloatArray
    slips: FloatArray
    survived: float
    made: int
    log_sha256: str
    bad: tuple[tuple[int, str], ...]
    measured: dict[Names, Strength]

    @property
    def flagged(self) -> tuple[int, ...]:
        """Lines of the log that are more likely not what they say than that they are [lines, from 1]."""
        return tuple(line for line, slip in zip(self.lines, self.slips, strict=True) if slip > 0.5)

    @property
    def effective(self) -> float:
        """How many draws of equal weight these count as [-]; equal ones count once."""
        every = np.array([*self.draws.values(), *self.strengths.values()])
        _, same = np.unique(every, axis=1, return_inverse=True)
        return effective(np.asarray(np.bincount(same, self.weights), dtype=float))

    @property
    def words(self) -> str:
        """What it rests on, what it is worth, and what to see to, in words [%, min]."""
        return words(self)

    def to_frame(self) -> pandas.DataFrame:
        """One row an offcut: what was seen, what was expected before and after [s], and the chance of a slip."""
        return frame(self)

    def __str__(self) -> str:
        return self.words

    def __repr__(self) -> str:
        return f"Calibration({len(self.offcuts)} offcuts, {self.effective:.0f} draws in effect)"

    def columns(self, draws: int) -> dict[str, FloatArray]:
        """So many sets of parameters, each as often as its weight says [units of the parameters], each (draws,)."""
        kept = resampled(self.weights, draws)
        return {name: column[kept] for name, column in self.draws.items()}

    def must_know(self, substance: str, name: str | None) -> None:
        """Refuse a name that no bottle of a substance has in a log that names some; None is another bottle."""
        known = [there for kind, there in self.strengths if kind == substance]
        if name is not None and known and name not in known:
            raise ValueError(f"bottle {name!r} of {substance} is not in the log: choose from {', '.join(known)}, "
                             "or give None for another bottle")

    def strength(self, bottle: Bottle, name: str | None, draws: int, seed: int) -> FloatArray:
        """Strengths of a bottle, those that belong to `columns` where the log names it.

        Parameters
        ----------
        bottle : Bottle
            What is known of it without the offcuts.
        name : str or None
            Its name in the log; any other, or None, is another bottle.
        draws, seed : int
            How many [-], and the seed for another bottle.

        Returns
        -------
        array
            Strengths [kg/kg], (draws,).

        Raises
        ------
        ValueError
            A bottle of that name has other limits in the log.
        """
        known = bottles(self.offcuts).get((bottle.substance, name or ""))
        if name is None or known is None:
            return np.asarray(bottle.strengths(draws, seed))
        if (known.low, known.high) != (bottle.low, bottle.high):
            raise ValueError(f"bottle {name!r} = {100 * bottle.low:g} to {100 * bottle.high:g} % of {bottle.substance} "
                             f"is impossible: it must be {100 * known.low:g} to {100 * known.high:g} % as in the log "
                             "(measured since? calibrate(log, measured=…)), or have another name")
        return np.asarray(self.strengths[bottle.substance, name][resampled(self.weights, draws)])

    def doubt(self, given: Inputs, acid_bottle: str | None = "acid",
              peroxide_bottle: str | None = "peroxide") -> dict[str, Any]:
        """The doubt that is left of how long a bath takes, as `outlook.etched` takes it; not for a bath left standing.

        Parameters
        ----------
        given : Inputs
            The bath: its bottles, and its number of draws.
        acid_bottle, peroxide_bottle : str or None
            What the log calls its bottles; None is another bottle, as strong as `given` says.

        Returns
        -------
        dict
            "parameters", and "drawn" strengths [kg/kg], for `etched(given, **doubt)`.

        Raises
        ------
        ValueError
            A kept bath, a name that is not in the log, or a bottle that has other limits there.

        Examples
        --------
        >>> from pcbchem import Board, Bottle, Tray
        >>> from pcbchem.bench.outlook import etched
        >>> mild = Inputs(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
        ...               Tray(), bath_per_area=0.05, place="EU", draws=100)
        >>> seen = etched(mild, **calibrate(Log.of([])).doubt(mild))
        >>> print(f"{float(seen.run.band('time_to_clear').middle) / 60:.0f} min")
        4 min
        """
        if given.kept is not None:
            raise ValueError(f"kept = {given.kept!r} is impossible here: it must be None, a fresh bath")
        self.must_know("HCl", acid_bottle)
        self.must_know("H2O2", peroxide_bottle)
        drawn = {"acid": self.strength(given.acid, acid_bottle, given.draws, given.seed),
                 "peroxide": self.strength(given.peroxide, peroxide_bottle, given.draws, given.seed + 1)}
        return {"parameters": RateParameters.plausible(given.draws, calibration=self),
                "drawn": {what: as_draws(values) for what, values in drawn.items()}}


def calibrate(log: Log, *, spread: float = SPREAD, measured: Mapping[Names, Strength] | None = None, seed: int = 0,
              progress: Callable[[int, int], None] | None = None) -> Calibration:
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
        raise ValueError(f"log = {log!r:.80} is not a log of offcuts: give coupons.read(path) or Log.of(offcuts)")
    spread = one("spread", spread, *SPREADS, "")
    for line, offcut in zip(log.lines, log.offcuts, strict=True):
        if offcut.time is None:
            raise ValueError(f"line {line}: time = None is impossible: it must be a time in s, above 0")
    draws = dict(shipped_draws())
    held = {names: np.asarray(bottle.strengths(MOST_DRAWS, seed + k))
            for k, (names, bottle) in enumerate(bottles(log.offcuts).items())}
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

        draws, held = made_around(rows, draws, held, spread, known, np.random.default_rng(seed), tell)
        times = expected(rows, draws, held)
        slips = fit(rows, times, spread)[1]
        weights, made = np.full(MOST_DRAWS, 1 / MOST_DRAWS), MOST_DRAWS
    return Calibration(rows, log.lines, spread, draws, held, weights, before, _ends(times, weights),
                       np.average(slips, axis=1, weights=weights), survived, made, log.sha256, log.bad, known)


def _checked(measured: Mapping[Names, Strength], rows: tuple[Offcut, ...]) -> dict[Names, Strength]:
    """Measurements of bottles that the log names and whose limits there they do not contradict."""
    there = bottles(rows)
    for names, strength in measured.items():
        if names not in there or not isinstance(strength, Strength) or strength.substance != names[0]:
            raise ValueError(f"measured: {names!r}: {strength!r:.80} is impossible: it must be a Strength by one of "
                             f"the keys {', '.join(map(repr, there))}")
        with named(f"measured: {names[1]!r}"):
            strength.must_tell()
            bottle, far = there[names], APART * strength.doubt
            one("middle", strength.middle, bottle.low - far, bottle.high + far,
                "kg/kg, its limits in the log and 3 doubts: one of them is a mistake")
    return dict(measured)


def _ends(times: FloatArray, weights: FloatArray) -> FloatArray:
    """The 10, 50 and 90 % values [s] of each row of times, (R, 3)."""
    band = Band.of(times, MOST_DRAWS, weights)
    return np.stack([band.low, band.middle, band.high], axis=-1)


def _computed(log: Log, draws: dict[str, FloatArray], strengths: dict[Names, FloatArray]) -> tuple[Log, FloatArray]:
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
        rest = dataclasses.replace(log, offcuts=tuple(offcut for _, offcut in good),
                                   lines=tuple(line for line, _ in good), bad=tuple(sorted(bad)))
        return rest, expected(rest.offcuts, draws, strengths)
