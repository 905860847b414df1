"""What a bath leaves of a trace, minute by minute, over the plausible baths: computed once."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np

from ...bench.plan.outlook import etched, outlook
from ...common import tables
from ...common.arrays import Draws, FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import minute, mm
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import Foil
from ...reaction.trace import allowance, etch_factor, measured_factor, pulled, widths
from ..workshop import bath, tide_clock

DRAWN = 0.20 * mm
"""Trace of the questions, as wide as it is drawn [m]."""
FACTOR = 1.5
"""Factor of what is reckoned by hand [-]: the middle of a rocked tray's range."""
BATHS = {
    "mild": bath("mild"),
    "water": bath("mild", parts=1.2),
    "strong": bath("strong", parts=3),
    "weak": bath("weak"),
}
"""Baths to choose from, by key."""
ONLY_DRAWN = "strong"
"""That of them which no page mixes."""
MILD = "mild"
"""The bath of the questions."""
OUNCES = (0.5, 1.0, 2.0)
"""Foils of the second panel [oz/ft²]."""
FACTOR_SEED = 55
"""Makes the factors repeatable [-].

Not 0 or 1, which draw what is in the bottles: a strong bottle would then always go with a high
factor. Of the seeds up to a hundred, these draws are tied least to the times of the four baths.
"""
LONGEST, STEP, ASKED = 12.0, 1.0, 4.0
"""End of the slider of time in the bath, its step, and its start: the time to clear [min].

In finer steps the live copy gets too large.
"""
NEARLY = 0.01
"""A board so near to clear counts as clear in a picture [share of its time]."""
LATEST, LATE_STEP, LATE = 5.0, 0.5, 1.0
"""End of the slider of time too long, its step, and what the second question is about [min]."""
FIRST_LOOK, LOOKS_EVERY = 1.5 * minute, 0.5 * minute
"""How the board is pulled [s]: half the low end, then a tenth of the time that is expected."""
UNEVEN_BOARD = 0.2
"""From the first place clear to the last, over the time to clear [-]: middle of common practice."""
LINES = (0.15 * mm, 0.20 * mm, 0.30 * mm, 0.50 * mm)
"""Lines of the offcut that would prove the page wrong [m]."""
LEFT_IN = 15 * minute
"""How long that offcut stays in the bath [s]."""
LONG, TOO_LONG = 20 * minute, 30 * minute
"""How long resist stands a cool mild bath [s] (common practice)."""
SUM_FACTOR = 3.0
"""A published factor for a sum [-]: the middle of general boards."""


@dataclasses.dataclass(frozen=True, eq=False)
class Course:
    """One bath on one foil: how fast the trace gets narrower, and when the board is clear.

    Parameters
    ----------
    foil : float
        Thickness of the copper [m].
    clear : Band
        When the copper beside the trace is gone [s].
    loss : Band
        What the trace loses just under the resist by then, both edges together [m].
    pace : Band
        The same in each second of the bath, from the first to the last [m/s].
    """

    foil: float
    clear: Band
    loss: Band
    pace: Band

    @property
    def factor(self) -> float:
        """Factor of the bath in the middle [-], with which it leaves the middle width."""
        # what is lost in one second, as in any other
        pace = DRAWN - float(self.left(1.0).middle)
        return 2 * self.foil / (pace * float(self.clear.middle))

    def left(self, time: float) -> Band:
        """Return the width under the resist after a time in the bath [s in, m out]."""
        # the front grows evenly from the first second, before the board is clear and after
        return _band(np.maximum(DRAWN - self.pace.values * time, 0.0))

    def late(self, seconds: float) -> Band:
        """Return it for a board that stays in so long after its own moment of clearing [s, m]."""
        return _band(np.maximum(DRAWN - self.loss.values - self.pace.values * seconds, 0.0))

    def not_clear(self, time: float) -> int:
        """Count the plausible baths in which the board is not clear after a time [s]."""
        return int(np.sum(self.clear.values > time))

    def lost(self, time: float, drawn: float = DRAWN) -> int:
        """Count those in which a trace drawn so wide [m] is lost after a time [s]."""
        return int(np.sum(self.pace.values * time >= drawn))

    def foot(self, time: float) -> float:
        """Return the width on the board in the middle bath after a time [s in, m out]."""
        if not self.is_clear(time):
            # the bath has not come down to the board yet
            return DRAWN
        over = max(time / float(self.clear.middle) - 1, 0.0)
        return float(widths(DRAWN, self.foil, self.factor, over).foot)

    def is_clear(self, time: float) -> bool:
        """Tell whether the board is clear in the middle bath after a time [s], to a hundredth."""
        return bool(time > (1 - NEARLY) * self.clear.middle)


@cache
def factors() -> Draws:
    """Return how many times faster each plausible bath etches down than sideways [-]: a guess."""
    draws = BATHS[MILD].draws
    return etch_factor(BATHS[MILD].tray.agitation, draws, FACTOR_SEED)


@cache
def course(name: str = MILD, ounces: float = 1.0) -> Course:
    """Return the course of one of the baths on a foil of so many ounces [oz/ft²]."""
    inputs = dataclasses.replace(BATHS[name], board=tide_clock(ounces))
    with collecting_warnings():
        # strengths and the model's numbers as the planner reads them
        clear = outlook(inputs).bands["time_to_clear"]
    foil = thickness(ounces)
    loss = 2 * foil / np.asarray(factors())
    # in a bath that never clears the board nobody knows how far the front comes: counted as still
    return Course(foil, clear, _band(loss), _band(loss / clear.values))


def thickness(ounces: float = 1.0) -> float:
    """Return the thickness of a foil [m] from its ounces [oz/ft²]."""
    foil: Foil = tide_clock(ounces).foil
    return float(foil.thickness)


@cache
def on_time(ounces: float = 1.0) -> Band:
    """Return the width under the resist the very second the board is clear [m]: in any bath."""
    return _band(widths(DRAWN, thickness(ounces), factors()).top)


@cache
def mean_width() -> Band:
    """Return the mean of all heights at that second [m]: it carries the current."""
    return _band(DRAWN - allowance(thickness(), factors(), at="mean"))


@dataclasses.dataclass(frozen=True, eq=False)
class Looks:
    """What comes of a board that is looked at every so often.

    Parameters
    ----------
    seconds : Band
        How much too long it was in [s].
    time : Band
        When it came out [s].
    left : Band
        Width under the resist [m].
    """

    seconds: Band
    time: Band
    left: Band


@cache
def looked_at(uneven: float = 0.0) -> Looks:
    """Return what comes of looks at a board, as uneven as said [-]."""
    mild = course()
    board = pulled(mild.clear.values, looks_every=LOOKS_EVERY, first_look=FIRST_LOOK, uneven=uneven)
    left = widths(DRAWN, mild.foil, np.asarray(factors()), board.over).top
    return Looks(_band(board.seconds), _band(board.time), _band(left))


@cache
def to_draw() -> Band:
    """Return how wide to draw a trace that has to be so wide half a minute late [m]."""
    mild = course()
    over = LOOKS_EVERY / mild.clear.values
    return _band(DRAWN + allowance(mild.foil, np.asarray(factors()), over))


def lost_lines() -> dict[float, int]:
    """Count the plausible baths in which each line of the offcut is lost when it is left in [m]."""
    return {drawn: course().lost(LEFT_IN, drawn) for drawn in LINES}


def over_resist(time: float) -> int:
    """Count the plausible weak baths that need longer than a time [s]."""
    return course("weak").not_clear(time)


@cache
def half_way() -> Band:
    """Return the share of the foil that is gone after half the time to clear, mild bath [-]."""
    inputs = BATHS[MILD]
    plausible = RateParameters.plausible(inputs.draws).for_heat_after()
    with collecting_warnings():
        steps = etched(inputs, parameters=plausible, history=True).run.steps
    assert steps is not None
    share = []
    clears = course().clear.values
    for time, copper, clear in zip(steps["time"], steps["thickness"], clears, strict=True):
        share.append(1 - np.interp(clear / 2, time, copper) / copper[0])
    return _band(np.array(share))


@dataclasses.dataclass(frozen=True)
class Reported:
    """Etch factors of one kind of work, and the trace they would leave.

    Parameters
    ----------
    case : str
        Key of its row in the table.
    low, high : float
        Depth over sideways [-].
    left_low, left_high : float
        What they leave of the trace, taken as at first clearing [m].
    status : str
        Published, assumed or common practice.
    """

    case: str
    low: float
    high: float
    left_low: float
    left_high: float
    status: str


@cache
def reported(case: str) -> Reported:
    """Return the etch factors of one row of the table."""
    low = float(tables.column("etch_factor", "low_depth_over_undercut", case=case)[0])
    high = float(tables.column("etch_factor", "high_depth_over_undercut", case=case)[0])
    status = next(row["status"] for row in tables.read("etch_factor") if row["case"] == case)
    left_low, left_high = (float(widths(DRAWN, thickness(), factor).top) for factor in (low, high))
    return Reported(case, low, high, left_low, left_high, status)


def found_later(over: float) -> float:
    """Return what our middle factor would be read as on a board over-etched by so much [-]."""
    return float(measured_factor(FACTOR, over))


def _band(values: FloatArray) -> Band:
    """Return the band of one value for each plausible bath [any unit]."""
    plain = np.asarray(values)
    return Band.of(plain, plain.size)
