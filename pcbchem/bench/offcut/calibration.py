"""What the offcuts of one bench say about the plausible draws: a weight for each, and new draws where few are left."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws
from ...common.number_words import clock
from ...reaction.bath.parameters import RateParameters
from ..bottle.bottle import Bottle
from ..bottle.strength import Strength
from ..plan.inputs import Inputs
from .likelihood import Names, bottles
from .new_draws import effective, resampled
from .offcut import Offcut

if TYPE_CHECKING:
    import pandas

ABOUT_TIME = (
    "This is about time only: verdict, cautions and the stop at 45 °C stay those of the plan, for offcuts "
    "say nothing of a bath left standing. A refused bath stays refused."
)
"""To be said beside every calibrated time."""
SCATTER = 1.6
"""Times that scatter by more than so many times the spread that was stated are worth a word [-]."""
ENOUGH = 3
"""Offcuts from which scatter can be seen."""
SPREADS = (0.02, 1.0)
"""Least and most spread [-]."""


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
            raise ValueError(
                f"bottle {name!r} of {substance} is not in the log: choose from {', '.join(known)}, "
                "or give None for another bottle"
            )

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
            raise ValueError(
                f"bottle {name!r} = {100 * bottle.low:g} to {100 * bottle.high:g} % of {bottle.substance} "
                f"is impossible: it must be {100 * known.low:g} to {100 * known.high:g} % as in the log "
                "(measured since? calibrate(log, measured=…)), or have another name"
            )
        return np.asarray(self.strengths[bottle.substance, name][resampled(self.weights, draws)])

    def doubt(
        self,
        given: Inputs,
        acid_bottle: str | None = "acid",
        peroxide_bottle: str | None = "peroxide",
    ) -> dict[str, Any]:
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
        >>> from pcbchem.bench.offcut import Log, calibrate
        >>> from pcbchem.bench.plan.outlook import etched
        >>> mild = Inputs(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
        ...               Tray(), bath_per_area=0.05, place="EU", draws=100)
        >>> seen = etched(mild, **calibrate(Log.of([])).doubt(mild))
        >>> print(f"{float(seen.run.band('time_to_clear').middle) / 60:.0f} min")
        4 min
        """
        if given.kept is not None:
            raise ValueError(
                f"kept = {given.kept!r} is impossible here: it must be None, a fresh bath"
            )
        self.must_know("HCl", acid_bottle)
        self.must_know("H2O2", peroxide_bottle)
        drawn = {
            "acid": self.strength(given.acid, acid_bottle, given.draws, given.seed),
            "peroxide": self.strength(given.peroxide, peroxide_bottle, given.draws, given.seed + 1),
        }
        return {
            "parameters": RateParameters.plausible(given.draws, calibration=self),
            "drawn": {what: as_draws(values) for what, values in drawn.items()},
        }


def words(found: Calibration) -> str:
    """What a calibration rests on and what it is worth, in words [%, min].

    Examples
    --------
    >>> from pcbchem.bench.offcut.calibrating import calibrate
    >>> from pcbchem.bench.offcut.calibrating import calibrate
    >>> from pcbchem.bench.offcut.log import Log
    >>> print(words(calibrate(Log.of([]))))
    No offcut yet: all 400 plausible draws count alike.
    """
    count = len(found.offcuts)
    said = [
        f"{count} offcut{'s' * (count > 1)}; a time seen is taken to be good to {100 * found.spread:.0f} %.",
        f"Of {MOST_DRAWS} plausible draws they leave as many as {found.survived:.0f}.",
    ]
    if not count:
        said = [f"No offcut yet: all {MOST_DRAWS} plausible draws count alike."]
    if found.made:
        said[1] = (
            said[1][:-1] + f": too few, so {found.effective:.0f} new ones were made around them."
        )
    for (substance, name), measured in found.measured.items():
        said.append(f"Bottle {name!r} of {substance} was measured: {measured.words}.")
    if found.bad:
        rows = "; ".join(f"line {line}: {reason}" for line, reason in found.bad)
        said.append(
            f"{len(found.bad)} row{'s' * (len(found.bad) > 1)} of the log cannot be used and "
            f"do{'es' * (len(found.bad) == 1)} not count: {rows}."
        )
    for offcut, line, (low, _, high) in zip(found.offcuts, found.lines, found.after, strict=True):
        if line in found.flagged and offcut.time is not None:
            seen = clock(offcut.time) if offcut.clear else f"not clear after {clock(offcut.time)}"
            wanted = f"{clock(low)} to {clock(high)}" if np.isfinite(low) else "never to clear"
            said.append(
                f"Line {line} does not fit and hardly counts: seen {seen}, expected {wanted}. Look at its time "
                "(in seconds?), its area and foil, its bottles, its parts and its note."
            )
            if offcut.clear and offcut.time < low:
                said.append(
                    "If it is right, a bottle is stronger than the log says: do not mix it until it is "
                    "measured."
                )
    if count and len(found.flagged) == count:
        said.append(
            "No offcut fits: a bottle may be quite another than the log says. Measure it before you mix again."
        )
    wide = scatter(found)
    if wide is not None and wide > SCATTER * found.spread:
        said.append(
            f"The times scatter by about {100 * wide:.0f} %, more than the {100 * found.spread:.0f} % that was "
            f"taken: calibrate with spread={wide:.2g}, or the band is too narrow."
        )
    return " ".join([*said, ABOUT_TIME] if count else said)


def scatter(found: Calibration) -> float | None:
    """How far the times seen scatter about the middle now expected, as a logarithm [-]; None where too few tell."""
    off = [
        np.log(offcut.time / middle)
        for offcut, line, (_, middle, _) in zip(
            found.offcuts, found.lines, found.after, strict=True
        )
        if offcut.clear
        and offcut.time is not None
        and line not in found.flagged
        and np.isfinite(middle)
    ]
    return float(np.sqrt(np.mean(np.square(off)))) if len(off) >= ENOUGH else None


def frame(found: Calibration) -> pandas.DataFrame:
    """One row an offcut: what was seen, what was expected of it before and after [s], and the chance of a slip.

    Returns
    -------
    DataFrame
        Indexed by line of the log, units in the column names.
    """
    import pandas

    bands = {
        f"{when}, {end} (s)": column
        for when, band in (("before", found.before), ("after", found.after))
        for end, column in zip(("low", "middle", "high"), band.T, strict=True)
    }
    return pandas.DataFrame(
        {
            "date": [offcut.date for offcut in found.offcuts],
            "seen (s)": [offcut.time for offcut in found.offcuts],
            "clear": [offcut.clear for offcut in found.offcuts],
            **bands,
            "slip (%)": 100 * found.slips,
        },
        index=pandas.Index(found.lines, name="line"),
    )
