"""How long a board takes on one's own bench: the calibrated band of a plan that is not refused."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...common.band import Band
from ...common.limits import InputError
from ...common.number_words import clock, watch
from ..hazards.caution import Caution, method_cautions
from ..hazards.verdicts import rules
from ..plan.inputs import Inputs
from ..plan.outlook import etched
from ..plan.planning import Plan
from .calibration import ABOUT_TIME, FLAG, Calibration
from .offcut import Transfer

SOONER = 2.0
"""An offcut clear so many times sooner than the low end expected of it says that a bottle is not
what it should be [-]."""
WIDER = 1.07
"""The ends of a calibrated band lie so much farther from its middle, in the logarithm, than the
draws say (our choice: fixed so that made-up benches lie inside in 78 to 82 of 100)."""
LOOK = 0.5
"""First look at this share of the low end of a calibrated band [-], where the plan's is not
sooner."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class OwnTime:
    """What a calibration makes of a plan's time to clear.

    Parameters
    ----------
    board : Plan
        The plan.
    time : Band
        When the board is clear, a single band [s].
    first_look : float
        When to look first [s].
    transfer : Transfer
        How far the board may lie from the offcuts [-], and why.
    warnings : tuple of str
        What says that something is wrong with the log or a bottle.
    """

    board: Plan
    time: Band
    first_look: float
    transfer: Transfer
    warnings: tuple[str, ...]

    @property
    def words(self) -> str:
        """The band before and after, what it rests on, and when to look first, in words [min]."""
        before = self.board.bands["time_to_clear"]
        sentences = [
            f"On this bench 8 of 10 plausible baths clear this board in {clock(self.time.low)} to "
            f"{clock(self.time.high)} (before: {clock(before.low)} to {clock(before.high)}).",
            *self.transfer.sentences,
            *self.warnings,
            f"Look first after {watch(self.first_look)}.",
            ABOUT_TIME,
        ]
        return " ".join(sentences)

    @property
    def method_cautions(self) -> tuple[Caution, ...]:
        """What to take care of in etching one more offcut."""
        return method_cautions("offcut")

    def __str__(self) -> str:
        return self.words

    def __repr__(self) -> str:
        return f"OwnTime({clock(self.time.low)} to {clock(self.time.high)})"


def own_time(
    board: Plan,
    calibration: Calibration,
    acid_bottle: str | None = "acid",
    peroxide_bottle: str | None = "peroxide",
    *,
    same_hand: bool = False,
) -> OwnTime:
    """Compute the time to clear a board on the bench that a log is from.

    An offcut tells more than any model only in the same tray and hand, and where it is not too
    small: else the band is hardly narrower than the plan's.

    Parameters
    ----------
    board : Plan
        Of a fresh bath in one portion, not refused.
    calibration : Calibration
        Of the bench's log.
    acid_bottle, peroxide_bottle : str or None
        What the log calls the plan's bottles; None is another bottle, as strong as the plan says.
    same_hand : bool
        Whether the hand that etched the offcuts etches the board, in the same tray, moved as then.
        Movement, facing, open area and size are compared with the log all the same.

    Returns
    -------
    OwnTime
        Its band and first look [s].

    Raises
    ------
    ValueError
        A refused plan, a used bath or a second portion; a name that is not in the log; offcuts none
        of which fits, or one that was clear far sooner than any plausible bath; a band that by now
        falls under the rule for harm.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> from pcbchem.bench.offcut import Log, calibrate
    >>> mild = plan(
    ...     Bottle.labelled("HCl", 0.10),
    ...     Bottle.labelled("H2O2", 0.12),
    ...     (0, 1, 1),
    ...     Board(area=27e-4),
    ...     volume=150e-6,
    ...     place="EU",
    ... )
    >>> print(f"{own_time(mild, calibrate(Log.of([]))).time.middle / 60:.0f} min")
    4 min
    """
    # First of all what must not be: nothing is computed, and no time said, of a refused bath
    inputs = judged_inputs(board)
    check_calibration(calibration)
    doubt = calibration.doubt(inputs, acid_bottle, peroxide_bottle, same_hand=same_hand)
    time = etched(inputs, **doubt).run.band("time_to_clear")
    if calibration.offcuts:
        time = wider(time)
    # By its offcuts a bench may be so quick that its bath has to be refused after all
    # (with no such rule, or two, this line fails, and no time is said)
    (least_time,) = [rule.limit for rule in rules() if rule.name == "too fast"]
    if time.low < least_time:
        raise InputError(
            "calibrated time",
            f"it must be at least {clock(least_time)}. By your offcuts this bath is too violent "
            "to watch or to stop: do not mix it",
            value=float(time.low),
            about=f" = {clock(time.low)}",
            wrong="is impossible here",
        )
    # To look too late costs tracks, too soon a glance: the sooner of two. A plan that looks on all
    # the while has no first look
    first_look = LOOK * float(time.low)
    if board.first_look is not None:
        first_look = min(first_look, board.first_look)
    return OwnTime(
        board, time, first_look, calibration.transfer(inputs, same_hand), calibration.warnings
    )


def wider(time: Band) -> Band:
    """Return a band [s] with its ends `WIDER` from the middle.

    Some hundred draws are a finite sample, and so are the offcuts: as they are, their ends lie too
    close together.

    Examples
    --------
    >>> print(f"{wider(Band.of([100.0, 200.0, 400.0], draws=3)).high:.0f} s")
    420 s
    """
    # Most draws never clear: then there is no middle to measure from
    if not np.isfinite(time.middle):
        return time
    low = time.middle * (time.low / time.middle) ** WIDER
    high = time.middle * (time.high / time.middle) ** WIDER
    return dataclasses.replace(time, low=low, high=high)


def check_calibration(calibration: Any) -> None:
    """Refuse a calibration whose offcuts say that a bottle is not what the log takes it for.

    Raises
    ------
    InputError
        No calibration, an offcut that was clear far too soon, or offcuts none of which fits.
    """
    if not isinstance(calibration, Calibration):
        raise InputError(
            "calibration",
            "it must be a Calibration, calibrate(Log.of([])) where nothing is known",
            value=calibration,
            about=f" = {calibration!r:.80}",
        )
    # One row is enough: other rows that fit do not make a bottle that may be too strong a good one
    for row, offcut in enumerate(calibration.offcuts):
        # As expected before any offcut: what was expected after may have followed a wrong row
        low = calibration.times_before[row, 0]
        is_slip = calibration.slips[row] > FLAG
        if is_slip and offcut.clear and offcut.time is not None and offcut.time * SOONER < low:
            raise InputError(
                f"line {calibration.lines[row]}",
                f"it must be about {clock(low)} or more. Is the time in seconds, are area and foil "
                "right? If so, a bottle is stronger than the log says: do not mix it until it is "
                "measured",
                value=offcut.time,
                about=f": clear after {clock(offcut.time)}",
                wrong="is impossible for such a bath",
            )
    if calibration.lines and len(calibration.flagged) == len(calibration.lines):
        raise InputError(
            "flagged",
            "at least 1 offcut must fit. A bottle may be quite another than the log says: "
            "measure it before you mix it again",
            value=calibration.flagged,
            about=f" = {', '.join(str(line) for line in calibration.flagged)}",
        )


def judged_inputs(board: Any) -> Inputs:
    """Return the inputs of a plan that was judged and not refused, of a fresh bath in one portion.

    Raises
    ------
    InputError
        No plan, a refused one, a used bath or a second portion.
    """
    if not isinstance(board, Plan):
        raise InputError(
            "board",
            "it must be a Plan, the bath has to be judged first",
            value=board,
            about=f" = {board!r:.80}",
        )
    if board.refused:
        raise InputError(
            "board",
            "it must be a bath that is not refused, and neither is an offcut of it",
            value=board,
            about=": verdict = 'do not mix'",
            wrong="is impossible here",
        )
    # A log knows nothing of a used bath, and no offcut is etched in two portions
    inputs = board.inputs
    for name, value in (("used_bath", inputs.used_bath), ("second", inputs.second)):
        if value is not None:
            raise InputError(
                "board",
                "it must be None, a fresh bath in one portion",
                value=board,
                about=f": {name} = {value!r}",
                wrong="is impossible here",
            )
    return inputs
