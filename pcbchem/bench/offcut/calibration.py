"""What the offcuts of one bench say about the plausible draws: a weight for each."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws
from ...common.extras import extra
from ...common.limits import InputError, check_whole
from ...common.number_words import clock, figures
from ...reaction.bath.parameters import RateParameters, shipped_draws
from ..bottle.bottle import Bottle
from ..bottle.strength import Strength
from ..plan.inputs import Inputs
from .likelihood import BottleName, bottles_of, times_the_middle
from .new_draws import BenchDraws, draws_left, effective_number, picks
from .offcut import Offcut, Transfer, transfer

if TYPE_CHECKING:
    import pandas

ABOUT_TIME = (
    "This is about time only: verdict, cautions and the stop at 45 °C stay those of the plan, for "
    "offcuts say nothing of a bath left standing. A refused bath stays refused."
)
"""To be said beside every calibrated time."""
SPREADS = (0.02, 1.0)
"""Least and most spread of seen times, as a standard deviation of their logarithm [-]."""
FLAG = 0.5
"""A row that is more likely a slip than this does not fit [-]."""
SCATTER = 1.6
"""Times that scatter by more than so many times the spread that was stated are worth a word [-]."""
Report = Callable[[float], None]  # is told how much is done [-, 0 to 1]
ENOUGH = 3
"""Fewest offcuts that tell how far times scatter [-]."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class Calibration:
    """What a log of offcuts makes of the plausible draws: N draws, R offcuts.

    Draw i of parameters and strengths belongs together: `doubt` gives both.

    Parameters
    ----------
    offcuts, lines : tuple
        The rows it rests on, and their lines in the log.
    spread : float
        Of seen times, as a standard deviation of their logarithm [-].
    draws : dict of array
        By parameter [its unit], each (N,).
    strengths : dict of array
        Of every bottle in the log by substance and name [kg/kg], each (N,).
    weights : array
        Of the draws [-], (N,); their sum is 1.
    times_before, times_after : array
        10, 50 and 90 % of the time that each offcut was and is expected to take [s], (R, 3).
    slips : array
        How likely each row is not what it says [-], (R,).
    shipped_left : float
        How many of the shipped draws the offcuts leave, counted in draws of equal weight [-].
    new_draws : int
        How many draws were made around those left; 0 where the shipped ones do.
    bad : tuple of tuple
        Line and reason of every row of the log that does not count.
    measured : dict of Strength
        What measurements say of bottles, by substance and name.
    shipped_strengths, shipped_times : dict of array, array
        Strengths [kg/kg], each (N,), and times of the offcuts [s], (R, N), by the shipped draws.
    seed : int
        For new draws [-].
    """

    offcuts: tuple[Offcut, ...]
    lines: tuple[int, ...]
    spread: float
    draws: dict[str, FloatArray]
    strengths: dict[BottleName, FloatArray]
    weights: FloatArray
    times_before: FloatArray
    times_after: FloatArray
    slips: FloatArray
    shipped_left: float
    new_draws: int
    bad: tuple[tuple[int, str], ...]
    measured: dict[BottleName, Strength]
    shipped_strengths: dict[BottleName, FloatArray] = dataclasses.field(repr=False)
    shipped_times: FloatArray = dataclasses.field(repr=False)
    seed: int
    # By the doubt of transfer, so that they are made once: new draws take seconds
    _for_boards: dict[float, BenchDraws] = dataclasses.field(
        default_factory=dict, init=False, repr=False
    )

    @property
    def flagged(self) -> tuple[int, ...]:
        """Lines of the log that are more likely not what they say than that they are."""
        return tuple(line for line, slip in zip(self.lines, self.slips, strict=True) if slip > FLAG)

    @property
    def effective_draws(self) -> float:
        """How many draws of equal weight these count as [-]; equal ones count once."""
        # New draws may come twice or more, where no move parted them: they are not more of them
        columns = np.array([*self.draws.values(), *self.strengths.values()])
        _, group = np.unique(columns, axis=1, return_inverse=True)
        weights = np.bincount(group, self.weights)
        return effective_number(np.asarray(weights, dtype=float))

    @property
    def scatter(self) -> float | None:
        """How far the times seen scatter about the middles now expected [-].

        The root of the mean square of ln(time / middle); None where too few offcuts tell.
        """
        off = []
        for row, offcut in enumerate(self.offcuts):
            middle = self.times_after[row, 1]
            # A slip is no scatter, and "not clear" has no time about which it could lie
            tells = offcut.clear and np.isfinite(middle) and self.lines[row] not in self.flagged
            if tells and offcut.time is not None:
                off.append(np.log(offcut.time / middle))
        if len(off) < ENOUGH:
            return None
        return float(np.sqrt(np.mean(np.square(off))))

    @property
    def times_the_middle(self) -> float | None:
        """How many times the middle every offcut took, where that is too far to be chance [-].

        The middle is that of the plausible draws, before any offcut; None where all is well.
        """
        return times_the_middle(self.offcuts, self.times_before, self.spread)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What says that something is wrong with the log or a bottle, sentence by sentence."""
        remarks = _about_slips(self) + _about_all(self)
        scatter, spread = self.scatter, self.spread
        if scatter is not None and scatter > SCATTER * spread:
            remarks.append(
                f"The times scatter by about {100 * scatter:.0f} %, more than the "
                f"{100 * spread:.0f} % that was taken: calibrate with spread={scatter:.2g}, "
                "or the band is too narrow."
            )
        return tuple(remarks)

    @property
    def words(self) -> str:
        """What it rests on, what it is worth, and what to see to, in words [%, min].

        Examples
        --------
        >>> from pcbchem.bench.offcut import Log, calibrate
        >>> print(calibrate(Log.of([])).words)
        No offcut yet: all 400 plausible draws count alike.
        """
        return " ".join(_sentences(self))

    def __str__(self) -> str:
        return self.words

    def __repr__(self) -> str:
        effective = f"{self.effective_draws:.0f} draws in effect"
        return f"Calibration({len(self.offcuts)} offcuts, {effective})"

    def to_frame(self) -> pandas.DataFrame:
        """List the offcuts: what was seen, what was expected before and after, chance of a slip.

        Returns
        -------
        DataFrame
            Indexed by line of the log, units in the column names.
        """
        with extra("lab"):
            import pandas  # only here: it takes long to import, and few ask for a table

        columns: dict[str, Any] = {
            "date": [offcut.date for offcut in self.offcuts],
            "seen (s)": [offcut.time for offcut in self.offcuts],
            "clear": [offcut.clear for offcut in self.offcuts],
        }
        for label, times in (("before", self.times_before), ("after", self.times_after)):
            for end, name in enumerate(("low", "middle", "high")):
                columns[f"{label}, {name} (s)"] = times[:, end]
        columns["slip (%)"] = 100 * self.slips
        return pandas.DataFrame(columns, index=pandas.Index(self.lines, name="line"))

    def transfer(
        self, inputs: Inputs, same_hand: bool = False, test: Offcut | None = None
    ) -> Transfer:
        """Tell how far a board may lie from what the offcuts say of it.

        Parameters
        ----------
        inputs : Inputs
            The board and its bath.
        same_hand : bool
            Whether the hand that etched the offcuts etches the board, in the same tray.
        test : Offcut or None
            One that is still to be etched.

        Returns
        -------
        Transfer
            Its doubt [-], 0 where there is no offcut, and the reasons.
        """
        # A row that does not fit tells nothing, in whatever tray it was etched
        offcuts = [row for row, slip in zip(self.offcuts, self.slips, strict=True) if slip <= FLAG]
        if test is not None:
            offcuts.append(test)
        step = transfer(offcuts, inputs, same_hand)
        if not self.offcuts and test is None:
            step = Transfer(0.0, ())  # nothing was etched from which a step could lead
        return step

    def for_board(self, transfer_doubt: float, progress: Report = lambda share: None) -> BenchDraws:
        """Return the draws for a board that lies so far from the offcuts.

        Parameters
        ----------
        transfer_doubt : float
            Standard deviation of the logarithm of its time [-], from `transfer`.
        progress : callable, optional
            Told the share of new draws that is made [-].

        Returns
        -------
        BenchDraws
            New ones where the shipped ones do not do: that takes a few seconds, once.
        """
        if transfer_doubt not in self._for_boards:
            self._for_boards[transfer_doubt] = draws_left(
                self.offcuts,
                shipped_draws(),
                self.shipped_strengths,
                self.shipped_times,
                self.spread,
                self.measured,
                transfer_doubt,
                self.seed,
                progress,
            )
        return self._for_boards[transfer_doubt]

    def parameters(self, draws: int) -> RateParameters:
        """Return the calibrated rate parameters: each set as often as it fits the offcuts.

        They are of the offcuts, in their tray, and belong to the strengths of the bottles in the
        log: for a board, or where a bath is mixed from these bottles, take both from `doubt`.

        Parameters
        ----------
        draws : int
            How many sets [-], 1 to 400.

        Returns
        -------
        RateParameters
            Each field an array of that length on the draw axis [units in its `table()`].

        Raises
        ------
        InputError
            `draws` is not a whole number from 1 to 400.

        Examples
        --------
        >>> from pcbchem.bench.offcut import Log, calibrate
        >>> print(calibrate(Log.of([])).parameters(200).rate_factor.shape)
        (200,)
        """
        count = check_whole("draws", draws, 1, MOST_DRAWS)
        # No chance in it: the same weights always pick the same draws
        indices = picks(self.weights, count)
        columns = {name: as_draws(column[indices]) for name, column in self.draws.items()}
        return RateParameters(**columns)

    def check_name(self, substance: str, name: str | None) -> None:
        """Refuse a name that no bottle has in a log that names some; None is another bottle.

        Raises
        ------
        InputError
            The log names other bottles of the substance only.
        """
        names = [bottle for kind, bottle in self.strengths if kind == substance]
        if name is not None and names and name not in names:
            raise InputError(
                f"bottle {name!r} of {substance}",
                f"choose from {', '.join(names)}, or give None for another bottle",
                value=name,
                about="",
                wrong="is not in the log",
            )

    def strengths_of(
        self, bottle: Bottle, name: str | None, draws: int, seed: int, for_board: BenchDraws
    ) -> FloatArray:
        """Return strengths of a bottle: those that belong to draws where the log names it.

        Parameters
        ----------
        bottle : Bottle
            What is known of it without the offcuts.
        name : str or None
            Its name in the log; any other, or None, is another bottle.
        draws, seed : int
            How many [-], and the seed for another bottle.
        for_board : BenchDraws
            The draws for the board.

        Returns
        -------
        array
            Strengths [kg/kg], (draws,).

        Raises
        ------
        InputError
            A bottle of that name has other limits in the log.
        """
        in_log = None
        if name is not None:
            in_log = bottles_of(self.offcuts).get((bottle.substance, name))
        if name is None or in_log is None:
            return np.asarray(bottle.strengths(draws, seed))
        # Else the offcuts would have been calibrated by one doubt, and the board mixed by another
        if (in_log.low, in_log.high) != (bottle.low, bottle.high):
            ends = f"{100 * bottle.low:g} to {100 * bottle.high:g} %"
            ends_in_log = f"{100 * in_log.low:g} to {100 * in_log.high:g} %"
            raise InputError(
                f"bottle {name!r}",
                f"it must be {ends_in_log} as in the log "
                "(measured since? calibrate(log, measured=…)), or have another name",
                value=bottle,
                about=f" = {ends} of {bottle.substance}",
            )
        # The same picks as of the parameters, so that each strength stays with them
        indices = picks(for_board.weights, draws)
        return np.asarray(for_board.strengths[bottle.substance, name][indices])

    def doubt(
        self,
        inputs: Inputs,
        acid_bottle: str | None = "acid",
        peroxide_bottle: str | None = "peroxide",
        *,
        same_hand: bool = False,
    ) -> dict[str, Any]:
        """Return the doubt that is left of how long a bath takes, as `etched` takes it.

        The doubt of the step from offcut to board is in it. It says nothing of a bath left
        standing.

        Parameters
        ----------
        inputs : Inputs
            The bath: its bottles, and its number of draws.
        acid_bottle, peroxide_bottle : str or None
            What the log calls its bottles; None is another bottle, as strong as `inputs` says.
        same_hand : bool
            Whether the hand that etched the offcuts etches the board, in the same tray.

        Returns
        -------
        dict
            "parameters", and "strengths" [kg/kg], for `etched(inputs, **doubt)`.

        Raises
        ------
        InputError
            A used bath, a name that is not in the log, or a bottle that has other limits there.

        Examples
        --------
        >>> from pcbchem import Board, Bottle, Tray
        >>> from pcbchem.bench.offcut import Log, calibrate
        >>> from pcbchem.bench.plan.outlook import etched
        >>> mild = Inputs(
        ...     acid=Bottle.labelled("HCl", 0.10),
        ...     peroxide=Bottle.labelled("H2O2", 0.12),
        ...     parts=(0, 1, 1),
        ...     board=Board(area=27e-4),
        ...     tray=Tray(),
        ...     bath_per_area=0.05,
        ...     place="EU",
        ...     draws=100,
        ... )
        >>> run = etched(mild, **calibrate(Log.of([])).doubt(mild)).run
        >>> print(f"{float(run.band('time_to_clear').middle) / 60:.0f} min")
        4 min
        """
        # A used bath is as doubtful as its history, of which a log says nothing
        if inputs.used_bath is not None:
            raise InputError(
                "used_bath",
                "it must be None, a fresh bath",
                value=inputs.used_bath,
                about=f" = {inputs.used_bath!r}",
                wrong="is impossible here",
            )
        self.check_name("HCl", acid_bottle)
        self.check_name("H2O2", peroxide_bottle)
        for_board = self.for_board(self.transfer(inputs, same_hand).doubt)
        # Bottles of another name: seeds as a plan without a log takes them, one for each
        draws, seed = inputs.draws, inputs.seed
        acid = self.strengths_of(inputs.acid, acid_bottle, draws, seed, for_board)
        peroxide = self.strengths_of(inputs.peroxide, peroxide_bottle, draws, seed + 1, for_board)
        indices = picks(for_board.weights, draws)
        columns = {name: as_draws(column[indices]) for name, column in for_board.columns.items()}
        return {
            "parameters": RateParameters(**columns),
            "strengths": {"acid": as_draws(acid), "peroxide": as_draws(peroxide)},
        }


def _sentences(calibration: Calibration) -> list[str]:
    """Say what a calibration rests on and what it is worth, sentence by sentence."""
    sentences = _about_draws(calibration)
    for (substance, name), strength in calibration.measured.items():
        sentences.append(f"Bottle {name!r} of {substance} was measured: {strength.words}.")
    if calibration.bad:
        reasons = "; ".join(f"line {line}: {reason}" for line, reason in calibration.bad)
        rows = f"{len(calibration.bad)} rows of the log cannot be used and do not count"
        if len(calibration.bad) == 1:
            rows = "1 row of the log cannot be used and does not count"
        sentences.append(f"{rows}: {reasons}.")
    sentences += calibration.warnings
    if calibration.offcuts:
        sentences.append(ABOUT_TIME)
    return sentences


def _about_draws(calibration: Calibration) -> list[str]:
    """Say how many draws the offcuts leave."""
    count = len(calibration.offcuts)
    if not count:
        return [f"No offcut yet: all {MOST_DRAWS} plausible draws count alike."]
    offcuts = f"{count} offcuts"
    if count == 1:
        offcuts = "1 offcut"
    left = f"Of {MOST_DRAWS} plausible draws they leave as many as {calibration.shipped_left:.0f}"
    if calibration.new_draws:
        left += f": too few, so {calibration.effective_draws:.0f} new ones were made around them"
    times = f"{offcuts}; a time seen is taken to be good to {100 * calibration.spread:.0f} %."
    return [times, f"{left}."]


def _about_all(calibration: Calibration) -> list[str]:
    """Say that all offcuts lie far on one side of what was expected before, where they do."""
    times = calibration.times_the_middle
    if times is None:
        return []
    every = "every offcut"
    if len(calibration.offcuts) == 1:
        every = "the offcut"
    sentences = [
        f"{every.capitalize()} took about {figures(times)} times the middle of what was expected "
        "before: check the weight of the foil, and whose bottle it was."
    ]
    # Of the two ways to be far off, too quick is the dangerous one
    if times < 1:
        sentences.append("A bottle may be stronger than the log says: measure it before you mix.")
    return sentences


def _about_slips(calibration: Calibration) -> list[str]:
    """Say which rows do not fit, and what may be wrong."""
    sentences = []
    rows = zip(calibration.lines, calibration.offcuts, calibration.times_after, strict=True)
    for line, offcut, (low, _, high) in rows:
        if line not in calibration.flagged or offcut.time is None:
            continue
        seen_time = clock(offcut.time)
        if not offcut.clear:
            seen_time = f"not clear after {seen_time}"
        expected_time = f"{clock(low)} to {clock(high)}"
        if not np.isfinite(low):  # then the other end is not either
            expected_time = "never to clear"
        sentences.append(
            f"Line {line} does not fit and hardly counts: seen {seen_time}, "
            f"expected {expected_time}. Look at its time (in seconds?), its area and foil, "
            "its bottles, its parts and its note."
        )
        # Of the two ways not to fit, to be too quick is the dangerous one
        if offcut.clear and offcut.time < low:
            sentences.append(
                "If it is right, a bottle is stronger than the log says: do not mix it until it is "
                "measured."
            )
    if calibration.offcuts and len(calibration.flagged) == len(calibration.offcuts):
        sentences.append(
            "No offcut fits: a bottle may be quite another than the log says. "
            "Measure it before you mix again."
        )
    return sentences
