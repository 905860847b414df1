"""The reader's own bench: one object that the three panels share, and what they make of it."""

from __future__ import annotations

import dataclasses
import functools
import math
import pathlib
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ...bench.bottle import MOST_APART, Bottle, Strength, combined
from ...bench.offcut import (
    Calibration,
    Narrowing,
    Offcut,
    OwnTime,
    calibrate,
    candidates,
    narrowing,
    own_time,
)
from ...bench.offcut.board_time import judged_inputs
from ...bench.offcut.likelihood import BottleName, bottles_of
from ...bench.offcut.log_row import cells_of
from ...bench.offcut.offcut import LARGE
from ...bench.plan.planning import Plan, planned
from ...common.limits import InputError, collecting_warnings
from ...common.units import mL
from ...page.widget.base import Shared
from ...reaction.bath.setup import Board
from ..form import fields

NAMES = {"HCl": "acid", "H2O2": "peroxide"}
"""Which bottle holds what."""
cm2 = 1e-4  # m²
MOST_OFFERED = 250 * mL
"""A larger bath is offered for no offcut [m³] (our limit): it is waste when the offcut is clear."""
MOST_KEPT = 8
"""So many calibrations are remembered [-]: going back to a choice is then at once."""

OPEN_AGAIN = "open the planner and press its link again"
"""What helps where a browser hands over what is no plan."""

Progress = Callable[[float], None]
"""Is told how much is done [-, 0 to 1]."""


@dataclasses.dataclass(frozen=True)
class Terms:
    """What a reader says about a log.

    Parameters
    ----------
    acid_bottle, peroxide_bottle : str
        What the log calls the board's bottles.
    same_hand : bool
        Whether the hand that etched the offcuts etches the board, in the same tray.
    spread : float
        How good a time seen is, as a standard deviation of its logarithm [-].
    """

    acid_bottle: str
    peroxide_bottle: str
    same_hand: bool
    spread: float

    def name_of(self, substance: str) -> str:
        """Return what the log calls the board's bottle of a substance."""
        return {"HCl": self.acid_bottle, "H2O2": self.peroxide_bottle}[substance]


@dataclasses.dataclass(frozen=True)
class Finding:
    """What a log says of the board.

    Parameters
    ----------
    calibration : Calibration
        Of the log.
    own : OwnTime
        The board's band [s].
    tests : sequence of Narrowing
        Offcuts to etch next, the most telling first.
    remarks : sequence of str
        What was taken otherwise than it was entered, in sentences.
    has_like : bool
        Whether an offcut like the board may be offered.
    """

    calibration: Calibration
    own: OwnTime
    tests: Sequence[Narrowing]
    remarks: Sequence[str]
    has_like: bool


class Bench(Shared):
    """Readings of the two bottles and the board's plan; a log is handed in by whoever keeps it.

    Parameters
    ----------
    folder : Path or None
        Where the reader's files lie; None: the page has no folder of its reader.
    """

    def __init__(self, folder: pathlib.Path | None = None) -> None:
        super().__init__()
        self.folder = folder
        self.readings: dict[str, tuple[Strength, ...]] = {"HCl": (), "H2O2": ()}
        self.labels: dict[str, float] = {}
        self.last_labels: dict[str, float] = {}
        """Labels of all bottles of which a reading was ever kept [kg/kg]."""
        self.offers_like = False
        """Whether the page's last answer offers an offcut like the board."""
        self._calibrations: dict[Any, Calibration] = {}
        self._last: tuple[Plan, Any, Finding] | None = None
        """The board that was asked for last, what else was asked, and the answer."""

    def keep(self, readings: Mapping[str, Sequence[Strength]], labels: Mapping[str, float]) -> None:
        """Take the readings that are kept, by substance, in place of those before.

        Parameters
        ----------
        readings : mapping of Strength
            Of each substance.
        labels : mapping of float
            What the label of each measured bottle says [kg/kg].
        """
        fresh = {substance: tuple(readings.get(substance, ())) for substance in NAMES}
        if (fresh, dict(labels)) == (self.readings, self.labels):
            return
        self.readings, self.labels = fresh, dict(labels)
        self.last_labels |= labels
        self.settled += 1

    def strength(self, substance: str) -> Strength | None:
        """Return what all kept readings of a bottle say together; None where there are none.

        Raises
        ------
        InputError
            They contradict one another, or one cannot tell.
        """
        readings = self.readings[substance]
        if not readings:
            return None
        return combined(*readings)

    def finding(
        self, plan: Plan, digest: str, log: Any, terms: Terms, progress: Progress
    ) -> Finding:
        """Return what a log says of a board, worked out once while nothing but a new row changes.

        Parameters
        ----------
        plan : Plan
            Of the board: judged, fresh and in one portion.
        digest : str
            Of the log's bytes: the same log is calibrated once.
        log : Log
            Its rows.
        terms : Terms
            What the reader says about it.
        progress : callable
            Told how much of new draws is made [-].

        Returns
        -------
        Finding
            Times [s].

        Raises
        ------
        ValueError
            A refused plan, a row that is dangerously quick, readings that contradict the log: in
            the package's words.
        """
        asked = (digest, terms, str(self.readings))
        if self._last is not None and self._last[0] is plan and self._last[1] == asked:
            return self._last[2]
        found = self._worked_out(plan, digest, log, terms, progress)
        self._last = (plan, asked, found)
        return found

    def _worked_out(
        self, plan: Plan, digest: str, log: Any, terms: Terms, progress: Progress
    ) -> Finding:
        """Work out what a log says of a board, of which nothing is known yet."""
        remarks: list[str] = []
        judged_inputs(plan)
        plan = _as_in_log(plan, log, terms, remarks)
        if plan.refused:
            raise ValueError(f"{' '.join(remarks)} {unfit_words(plan)}".rstrip("."))
        acid, peroxide = (_name_in_log(log, terms, substance, remarks) for substance in NAMES)
        calibration = self._calibration(digest, log, terms, progress)
        inputs = plan.inputs
        # here the page is told how far they are: they can take half a minute
        transfer = calibration.transfer(inputs, terms.same_hand)
        calibration.for_board(transfer.doubt, progress)
        own = own_time(plan, calibration, acid, peroxide, same_hand=terms.same_hand)
        offcuts = tests_for(plan, terms.acid_bottle, terms.peroxide_bottle)
        tests: list[Narrowing] = []
        # of bottles that the log does not name nothing is foretold
        if offcuts and acid is not None and peroxide is not None:
            for test in offcuts:
                with_test = calibration.transfer(inputs, terms.same_hand, test)
                calibration.for_board(with_test.doubt, progress)
            hand = terms.same_hand
            tests = narrowing(offcuts, plan, calibration, acid, peroxide, same_hand=hand)
        return Finding(calibration, own, tests, remarks, has_offcut(plan))

    def _calibration(self, digest: str, log: Any, terms: Terms, progress: Progress) -> Calibration:
        """Return the calibration of a log, made once for the same readings."""
        measured: dict[BottleName, Strength] = {}
        bottles = bottles_of(log.offcuts)
        for substance in NAMES:
            name = (substance, terms.name_of(substance))
            strength = self.strength(substance)
            if strength is not None and name in bottles:
                measured[name] = strength
        key = (digest, terms.spread, tuple(sorted((name, str(s)) for name, s in measured.items())))
        if key not in self._calibrations:
            calibration = calibrate(
                log,
                spread=terms.spread,
                measured=measured,
                progress=lambda done, total: progress(done / total),
            )
            self._calibrations[key] = calibration
            while len(self._calibrations) > MOST_KEPT:
                self._calibrations.pop(next(iter(self._calibrations)))
        return self._calibrations[key]


UNLIKE_AN_OFFCUT = (
    "An offcut is etched in a fresh bath in one portion, and tells of such a board alone: plan "
    "yours without a used bath and without a second portion, and hand it over again"
)


def unfit_words(plan: Plan) -> str:
    """Say why there is no offcut to mix, and no time of one's own; "" where there is."""
    if plan.refused:
        reasons = "; ".join(reason.words for reason in plan.reasons if reason.kind != "care")
        return f"This bath is refused, and so is an offcut of it: {reasons}."
    if plan.inputs.used_bath is not None or plan.inputs.second is not None:
        return f"{UNLIKE_AN_OFFCUT}."
    return ""


@functools.cache
def workshop_plan() -> Plan:
    """Return the plan of the workshop's tide clock in its mild bath, as the planner starts."""
    return fields.plan_from(fields.STARTS)


def plan_of(handed: Mapping[str, Any] | None) -> Plan:
    """Return the plan of what the planner handed over; None: the workshop's.

    Raises
    ------
    ValueError
        Values that are no plan's.
    """
    if handed is None:
        return workshop_plan()
    if not isinstance(handed, Mapping) or not all(map(_is_plain, handed.values())):
        raise InputError("board", OPEN_AGAIN, about="", wrong="is none of the planner's")
    return _plan_once(tuple(handed.items()))


def _is_plain(value: Any) -> bool:
    """Tell whether the planner may have handed over such a value."""
    return value is None or isinstance(value, str | int | float)


@functools.lru_cache(maxsize=4)
def _plan_once(values: tuple[tuple[str, Any], ...]) -> Plan:
    """Plan the planner's values; the last few are remembered."""
    try:
        return fields.plan_from(dict(values))
    except KeyError as error:
        about = f": {error} is missing"
        raise InputError("board", OPEN_AGAIN, about=about, wrong="") from None


def own_tray(plan: Plan) -> Any:
    """Return the board's tray with its open area said [m²], as its bath lies in it."""
    inputs = plan.inputs
    area = float(inputs.board.copper_area)
    surface = float(inputs.tray.surface(inputs.bath_per_area * area, area))
    return dataclasses.replace(inputs.tray, open_area=_rounded_up(surface, cm2), perimeter=None)


def _rounded_up(value: float, unit: float) -> float:
    """Return a size [SI] as one writes it, to a thousandth of a unit [SI]; it is never less."""
    # a millionth more is rounding, and no reason to go up
    thousandths = math.ceil(1000 * value / unit - 1e-3)
    return round(thousandths * unit / 1000, 15)


def offcut_like(plan: Plan, acid: str = "acid", peroxide: str = "peroxide") -> Offcut:
    """Return an offcut that is etched as the board will be: half its copper, in its own tray.

    Parameters
    ----------
    plan : Plan
        Of the board, not refused.
    acid, peroxide : str
        What the log calls its bottles.

    Returns
    -------
    Offcut
        Not etched yet; as much bath for its copper as the board has [m²; m³].
    """
    inputs = plan.inputs
    area = _rounded_up(LARGE * float(inputs.board.copper_area), cm2)
    return Offcut(
        inputs.acid,
        inputs.peroxide,
        inputs.parts,
        _rounded_up(area * inputs.bath_per_area, mL),
        Board(area=area, foil=inputs.board.foil),
        own_tray(plan),
        inputs.T_bottles,
        acid_bottle=acid,
        peroxide_bottle=peroxide,
    )


def tests_for(plan: Plan, acid: str, peroxide: str) -> list[Offcut]:
    """Return offcuts worth a thought: one like the board, that with more water, and a small one."""
    like = offcut_like(plan, acid, peroxide)
    small, *_, most_water = candidates(plan, acid, peroxide)
    thinner = dataclasses.replace(like, parts=most_water.parts)
    tests = [test for test in (like, thinner) if test.volume <= MOST_OFFERED]
    if small.board.copper_area < like.board.copper_area:
        tests.append(small)
    # half of a bath may be too shallow in the same tray: then nobody is told to mix it
    return [test for test in tests if not is_refused(test)]


def has_offcut(plan: Plan) -> bool:
    """Tell whether an offcut like the board may be offered: no waste to speak of, not refused."""
    like = offcut_like(plan)
    return bool(like.volume <= MOST_OFFERED) and not is_refused(like)


def is_refused(offcut: Offcut) -> bool:
    """Tell whether a plan of this offcut as a board of its own would be refused."""
    # what its bath and tray are, not when it was etched nor what its bottles are called
    cells = cells_of(dataclasses.replace(offcut, time=1.0, clear=True, date="", note=""))
    bath = tuple(text for column, text in cells.items() if not column.endswith("_bottle"))
    if bath not in _VERDICTS:
        try:
            with collecting_warnings():
                _VERDICTS[bath] = planned(offcut.inputs).refused
        except ValueError:
            _VERDICTS[bath] = True  # what cannot even be computed is no bath to mix
    return _VERDICTS[bath]


_VERDICTS: dict[tuple[str, ...], bool] = {}
"""Verdicts on offcuts' baths that were judged before: a log often has one bath many times."""


def readings_disagree(bench: Bench, plan: Plan) -> bool:
    """Tell whether a kept reading lies outside what the plan takes a bottle for."""
    for substance, name in NAMES.items():
        try:
            strength = bench.strength(substance)
        except InputError:
            return True
        if strength is None:
            continue
        bottle: Bottle = getattr(plan.inputs, name)
        far = MOST_APART * strength.doubt
        if not bottle.low - far <= strength.middle <= bottle.high + far:
            return True
    return False


def _as_in_log(plan: Plan, log: Any, terms: Terms, remarks: list[str]) -> Plan:
    """Return the plan with its bottles between the limits that the log has for them.

    A bottle that was measured since is narrower in the plan than in the log: there it keeps its
    limits, and the reading counts beside them.
    """
    inputs, bottles = plan.inputs, bottles_of(log.offcuts)
    for substance, name in NAMES.items():
        bottle: Bottle = getattr(inputs, name)
        in_log = bottles.get((substance, terms.name_of(substance)))
        if in_log is None or (in_log.low, in_log.high) == (bottle.low, bottle.high):
            continue
        bottle_in_log = Bottle(substance, in_log.low, in_log.high, bottle.label)
        inputs = inputs.replace(**{name: bottle_in_log})
        remarks.append(
            f"Your log has the {name} between {100 * in_log.low:.3g} and {100 * in_log.high:.3g} "
            f"%, the planner between {100 * bottle.low:.3g} and {100 * bottle.high:.3g} %: here it "
            "counts as in the log, and readings that you keep count beside that."
        )
    if not remarks:
        return plan
    return planned(inputs)


def _name_in_log(log: Any, terms: Terms, substance: str, remarks: list[str]) -> str | None:
    """Return what the log calls the board's bottle; None where it names others only."""
    name = terms.name_of(substance)
    bottles = [bottle for kind, bottle in bottles_of(log.offcuts) if kind == substance]
    if not bottles or name in bottles:
        return name
    remarks.append(
        f"Your log names no {NAMES[substance]} bottle “{name}” (it has "
        f"{', '.join(f'“{bottle}”' for bottle in bottles)}): the board's counts as another "
        "bottle, as strong as the planner says."
    )
    return None
