"""How long a board takes on one's own bench: the calibrated band of a plan that is not refused, and when to look."""

from __future__ import annotations

import dataclasses
from typing import Any

from ...common.band import Band
from ...common.number_words import clock, watch
from ..hazards.verdicts import rules
from ..plan.inputs import Inputs
from ..plan.outlook import etched
from ..plan.planning import Plan
from .calibration import ABOUT_TIME, Calibration

SOONER = 2.0
"""An offcut clear so many times sooner than the low end expected of it says that a bottle is not what it should be."""
LOOK = 0.5
"""First look at this share of the low end of a calibrated band [-], where the plan's is not sooner."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class OwnTime:
    """What a calibration makes of a plan's time to clear: a single band [s], and when to look first [s]."""

    board: Plan
    time: Band
    first_look: float

    @property
    def words(self) -> str:
        """The band before and after, and when to look first, in words [min]."""
        before = self.board.bands["time_to_clear"]
        return (
            f"On this bench 8 of 10 plausible baths clear this board in {clock(self.time.low)} to "
            f"{clock(self.time.high)} (before: {clock(before.low)} to {clock(before.high)}). Look first after "
            f"{watch(self.first_look)}. {ABOUT_TIME}"
        )

    def __str__(self) -> str:
        return self.words

    def __repr__(self) -> str:
        return f"OwnTime({clock(self.time.low)} to {clock(self.time.high)})"


def own_time(
    board: Plan,
    calibration: Calibration,
    acid_bottle: str | None = "acid",
    peroxide_bottle: str | None = "peroxide",
) -> OwnTime:
    """The time to clear a board on the bench that a log is from.

    Parameters
    ----------
    board : Plan
        Of a fresh bath in one portion, not refused.
    calibration : Calibration
        Of the bench's log.
    acid_bottle, peroxide_bottle : str or None
        What the log calls the plan's bottles; None is another bottle, as strong as the plan says.

    Returns
    -------
    OwnTime
        Its band and first look [s].

    Raises
    ------
    ValueError
        A refused plan, a kept bath or a second portion; a name that is not in the log; offcuts none of which fits, or
        one that was clear far sooner than any plausible bath; a band that by now falls under the rule for harm.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> from pcbchem.bench.offcut.calibrating import calibrate
    >>> from pcbchem.bench.offcut.log import Log
    >>> mild = plan(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...             volume=150e-6, place="EU")
    >>> print(f"{own_time(mild, calibrate(Log.of([]))).time.middle / 60:.0f} min")
    4 min
    """
    given = judged(board)
    must_fit(calibration)
    band = etched(given, **calibration.doubt(given, acid_bottle, peroxide_bottle)).run.band(
        "time_to_clear"
    )
    (limit,) = (rule.limit for rule in rules() if rule.name == "too fast")
    if band.low < limit:
        raise ValueError(
            f"calibrated time = {clock(band.low)} is impossible here: it must be at least {clock(limit)}. "
            "By your offcuts this bath is too violent to watch or to stop: do not mix it"
        )
    looks = [LOOK * float(band.low), *([] if board.first_look is None else [board.first_look])]
    return OwnTime(board, band, min(looks))


def must_fit(calibration: Any) -> None:
    """Refuse a calibration whose offcuts say that a bottle is not what the log takes it for."""
    if not isinstance(calibration, Calibration):
        raise ValueError(
            f"calibration = {calibration!r:.80} is impossible: it must be a Calibration, "
            "calibrate(Log.of([])) where nothing is known"
        )
    for line, offcut, (low, *_), slip in zip(
        calibration.lines, calibration.offcuts, calibration.before, calibration.slips, strict=True
    ):
        if slip > 0.5 and offcut.clear and offcut.time is not None and offcut.time * SOONER < low:
            raise ValueError(
                f"line {line}: clear after {clock(offcut.time)} is impossible for such a bath: it must be "
                f"about {clock(low)} or more. Is the time in seconds, are area and foil right? If so, a "
                "bottle is stronger than the log says: do not mix it until it is measured"
            )
    if calibration.lines and len(calibration.flagged) == len(calibration.lines):
        raise ValueError(
            f"flagged = {', '.join(map(str, calibration.flagged))} is impossible: at least 1 offcut must "
            "fit. A bottle may be quite another than the log says: measure it before you mix it again"
        )


def judged(board: Any) -> Inputs:
    """The inputs of a plan that was judged and not refused, of a fresh bath in one portion."""
    if not isinstance(board, Plan):
        raise ValueError(
            f"board = {board!r:.80} is impossible: it must be a Plan, the bath has to be judged first"
        )
    if board.refused:
        raise ValueError(
            "board: verdict = 'do not mix' is impossible here: it must be a bath that is not refused, "
            "and neither is an offcut of it"
        )
    given = board.inputs
    for name in ("kept", "second"):
        if getattr(given, name) is not None:
            raise ValueError(
                f"board: {name} = {getattr(given, name)!r} is impossible here: it must be None, "
                "a fresh bath in one portion"
            )
    return given
