"""A plan: what to pour and what the bath will then do, or why not to and what would help."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.band import Band
from ...common.limits import (
    InputError,
    RangeWarning,
    check_kind,
    check_number,
    collecting_warnings,
    naming,
)
from ...common.units import minute
from ...matter.solution import Solution
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.run import EtchRun, Standing
from ...reaction.bath.setup import Board, Tray
from ...reaction.chemistry.heat import temperatures_after_pours
from .. import hazards
from ..bottle.bottle import Bottle
from ..hazards.verdicts import ACID_FUMES, REFUSED, WARM_ETCH
from . import files
from .changes import doubts, helpful
from .inputs import BATH_PER_AREA, Inputs, UsedBath, single
from .outcome import Outcome, Stage
from .outlook import Outlook, outlook, still_there
from .pours import SECOND_PORTION
from .words import frame, one_line, text

if TYPE_CHECKING:
    import pathlib
    from collections.abc import Mapping

    import pandas

LOOK = 0.5
"""The first look, as a share of the 10 % time [-] (common practice: long before the quickest bath
is done)."""
LOOK_EVERY, LEAST_LOOK = 0.1, 5.0
"""At most this share of the middle time [-] is lost between two looks, no more than the least
over-etch; and nobody has to look again sooner than after so long [s] (our choice)."""
OVER_ETCH = (0.1, 0.3)
"""How long to etch on past the first full clearing, as shares of that [-] (common practice)."""
RESIST_LIFE = (20 * minute, 30 * minute)
"""How long resist stands a bath that is neither strong nor warm [s] (common practice)."""
HANDY_STEPS = {20.0: 1.0, 120.0: 5.0, 600.0: 15.0, np.inf: 60.0}
"""Steps of times that people can keep [s], by the time below which they go [s]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Plan(Outcome):
    """What a mixture will do to a board, and a verdict on it.

    Made by `plan`; `print` says it in words. Its parameters are those of `Outcome`.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> acid, peroxide = Bottle("HCl", 0.10, 0.10), Bottle("H2O2", 0.12, 0.12)
    >>> mild = plan(acid, peroxide, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    >>> print(repr(mild)[:48])
    Plan(mix it; 0 : 1 : 1 (water : acid : peroxide)
    """

    def __str__(self) -> str:
        return text(self)

    def _repr_markdown_(self) -> str:
        return text(self, markdown=True)

    def __repr__(self) -> str:
        return f"Plan({one_line(self)})"

    def to_frame(self) -> pandas.DataFrame:
        """Return the plan as a table of numbers: see `pcbchem.bench.plan.words.frame`."""
        return frame(self)

    def save(self, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
        """Write the plan's inputs to a file: see `pcbchem.bench.plan.files.save_inputs`."""
        files.save_inputs(self.inputs, path, overwrite=overwrite)

    @classmethod
    def open(cls, path: str | pathlib.Path) -> Plan:
        """Read inputs that `save` wrote and plan again, by today's rules.

        `inputs.edition` of the plan says which edition of the package saved them.
        See `pcbchem.bench.plan.files.read_inputs`.
        """
        inputs = files.read_inputs(path)
        with naming(str(path)):
            return planned(inputs)


def plan(
    acid: Bottle,
    peroxide: Bottle,
    parts: tuple[float, float, float],
    board: Board,
    tray: Tray | None = None,
    *,
    place: str,
    volume: float | None = None,
    bath_per_area: float | None = None,
    T_bottles: float = 293.15,
    used_bath: UsedBath | None = None,
    second: tuple[float, float] | None = None,
    draws: int = 200,
    seed: int = 0,
) -> Plan:
    """Plan a bath: what to pour, how warm, when to look, what comes after; or a refusal.

    Parameters
    ----------
    acid, peroxide : Bottle
        What the bottles hold, and how sure that is.
    parts : tuple of float
        Water, acid and peroxide by volume [-]; with a used bath, of what is poured to it.
    board : Board
        One board.
    tray : Tray
        How the bath moves, which way the board faces, open area and air; by default rocked,
        facing up.
    place : str
        Whose rules on who may hold what: "EU", "GB", "US" or "elsewhere".
    volume : float
        The whole bath in the tray [m³], or
    bath_per_area : float
        the bath over the bare copper [m³/m²], 0.01 to 1000 mL per cm²: one of the two.
    T_bottles : float
        Temperature of bottles, water and a used bath [K], 0 to 40 °C.
    used_bath : UsedBath, optional
        A bath already used, that is topped up.
    second : tuple of float, optional
        Share of the peroxide held back [-], and when it is poured [s after the board goes in].
    draws : int
        How many plausible baths [-], 1 to 400.
    seed : int
        Number that makes the doubt of the bottles repeatable [-].

    Returns
    -------
    Plan
        With its verdict; `print` it, or take `to_frame()`.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        A board, tray or bath that cannot be.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> board = Board(area=27e-4)
    >>> print(plan(acid, peroxide, (0, 1, 1), board, volume=150e-6, place="EU").verdict)
    mix it
    """
    if (volume is None) == (bath_per_area is None):
        raise InputError(
            "volume",
            "give one of the two, in m³ or in m³ per m²",
            value=volume,
            about=f" = {volume!r} with bath_per_area = {bath_per_area!r}",
        )
    check_kind("board", board, Board)
    # a volume becomes a depth over the copper at once: a plan's inputs hold no amount to pour
    per_area: Any = bath_per_area
    if volume is not None:
        single(board)
        area = float(board.copper_area)
        least, most = BATH_PER_AREA[0] * area, BATH_PER_AREA[1] * area
        per_area = check_number("volume", volume, least, most, "m³") / area
    if tray is None:
        tray = Tray()
    inputs = Inputs(
        acid=acid,
        peroxide=peroxide,
        parts=parts,
        board=board,
        tray=tray,
        bath_per_area=per_area,
        place=place,
        T_bottles=T_bottles,
        used_bath=used_bath,
        second=second,
        draws=draws,
        seed=seed,
    )
    return planned(inputs)


def planned(inputs: Inputs) -> Plan:
    """Plan a bath from checked inputs [units there]."""
    # drawn once: etch, standing and doubts all go by the same plausible baths
    parameters = RateParameters.plausible(inputs.draws)
    outside: list[RangeWarning] = []
    with collecting_warnings(outside):
        # peroxide in two portions is two runs, and no history goes through both
        prospect = outlook(inputs, parameters=parameters, history=inputs.second is None)
        bands = prospect.bands
        exceeded = hazards.exceeded(bands)
        severity = int(hazards.severity(exceeded))
        reasons = hazards.reasons(bands, why_never(prospect))

    # the two sides share no line: what a refused plan may hold is all in the first
    if severity == REFUSED:
        course = _refused_course(prospect, bands)
    else:
        is_gentle = not (exceeded[ACID_FUMES] or exceeded[WARM_ETCH])
        course = _course(prospect, bands, is_gentle)
    return Plan(
        inputs=inputs,
        reasons=reasons,
        cautions=hazards.cautions(inputs.acid, inputs.peroxide, inputs.place),
        law=hazards.above_limit(inputs.acid, inputs.peroxide, inputs.place),
        changes=helpful(inputs, bands, severity),
        doubts=doubts(inputs, bands["time_to_clear"], parameters.for_heat_after()),
        outside=tuple(outside),
        **course,
    )


def _refused_course(prospect: Outlook, bands: Mapping[str, Band]) -> dict[str, Any]:
    """Return what a refused plan holds of a bath, by field [units there]: no amount of it."""
    return {
        "mixture": a_kilogram(prospect.mixture),
        "stages": (),
        "run": without_amounts(prospect.run),
        "after": without_oxygen(prospect.after),
        "day": without_oxygen(prospect.day),
        "later": None,
        "bands": {name: band for name, band in bands.items() if name != "volume"},
        "first_look": None,
        "look_every": None,
        "over_etch": None,
        "resist_life": None,
    }


def _course(prospect: Outlook, bands: Mapping[str, Band], is_gentle: bool) -> dict[str, Any]:
    """Return what a plan holds of a bath that may be mixed, by field [units there]."""
    times = bands["time_to_clear"]
    first_look = look_every = over_etch = resist_life = None
    # where most baths never clear there is nothing to look out for
    if np.isfinite(times.middle):
        first_look = handy(LOOK * float(times.low))
        look_every = max(handy(LOOK_EVERY * float(times.middle)), LEAST_LOOK)
        least, most = OVER_ETCH
        over_etch = (least * float(times.middle), most * float(times.middle))
    # the figure is for baths neither strong nor warm, and of others nobody knows
    if is_gentle:
        resist_life = RESIST_LIFE
    return {
        "mixture": prospect.mixture,
        "stages": stages(prospect.inputs, prospect),
        "run": prospect.run,
        "after": prospect.after,
        "day": prospect.day,
        "later": prospect.later,
        "bands": {**bands, **used_bath_bands(prospect)},
        "first_look": first_look,
        "look_every": look_every,
        "over_etch": over_etch,
        "resist_life": resist_life,
    }


def for_class(plan: Plan) -> Plan:
    """Return a plan for a class: verdict, bands and cautions as they are, and no amount anywhere.

    Parameters
    ----------
    plan : Plan
        Refused or not.

    Returns
    -------
    Plan
        With `school` set; of its bath it holds what a refused plan holds, and of each pour its
        place, time and warmth [s, K].

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> board = Board(area=27e-4)
    >>> mild = plan(acid, peroxide, (0, 1, 1), board, volume=150e-6, place="EU")
    >>> print(for_class(mild).verdict, "mL" in str(mild), "mL" in str(for_class(mild)))
    mix it True False
    """
    # taken out of the plan itself: no word, picture or table can then show it
    stages = tuple(dataclasses.replace(stage, volume=np.nan) for stage in plan.stages)
    reasons = tuple(
        dataclasses.replace(reason, value=np.nan) if reason.unit == "m3" else reason
        for reason in plan.reasons
    )
    later = None
    if plan.later is not None:
        later = without_oxygen(plan.later)
    return dataclasses.replace(
        plan,
        school=True,
        reasons=reasons,
        mixture=a_kilogram(plan.mixture),
        stages=stages,
        run=without_amounts(plan.run),
        after=without_oxygen(plan.after),
        day=without_oxygen(plan.day),
        later=later,
        bands={name: band for name, band in plan.bands.items() if name != "volume"},
    )


def why_never(prospect: Outlook) -> str:
    """Find why most draws that never clear stop, a key of `WHY_STOPPED`; "" where all clear."""
    never = np.isinf(np.asarray(prospect.run.time_to_clear))
    if not never.any():
        return ""
    # what was never there did not run out
    if not np.any(prospect.mixture.fractions["H2O2"]):
        return "no peroxide"
    causes, counts = np.unique(np.asarray(prospect.run.stopped_by)[never], return_counts=True)
    return str(causes[counts.argmax()])


def used_bath_bands(prospect: Outlook) -> dict[str, Band]:
    """Find what the bath holds when the board is out, and a day later, a band each [mol/m³, -]."""
    end, draws = prospect.run.end, prospect.inputs.draws
    values = {
        "acid_used": end["HCl"],
        "copper_used": end["CuCl2"] + end["CuCl"],
        "peroxide_left_day": still_there(prospect.later, prospect.mixture),
    }
    return {name: Band.of(np.asarray(value), draws) for name, value in values.items()}


def without_amounts(run: EtchRun) -> EtchRun:
    """Return a run [s, K] of no known volume and mass: no amount can be worked out from it."""
    unknown = np.full_like(run.oxygen_amount, np.nan)
    return dataclasses.replace(run, volume=np.nan, mass=np.nan, oxygen_amount=unknown)


def without_oxygen(after: Standing) -> Standing:
    """Return a standing bath [K, mol/m³] of which nobody knows how much gas it gave off."""
    return dataclasses.replace(after, oxygen=np.full_like(after.oxygen, np.nan))


def a_kilogram(mixture: Solution) -> Solution:
    """Return one kilogram of a mixture [kg]: its strengths and temperature, and no amount."""
    return dataclasses.replace(mixture, plain_mass=np.ones(mixture.shape))


def handy(seconds: float) -> float:
    """Round a time [s] down to one that people can keep.

    To 1 s, from 20 s to 5 s, then to quarter minutes, then to minutes.

    Examples
    --------
    >>> print(f"{handy(19.9):.0f} {handy(119):.0f} {handy(290):.0f} {handy(1000):.0f}")
    19 115 285 960
    """
    # always down: a look too early costs a moment, a look too late may cost the board
    # of the steps that go at all the smallest: they grow with the times
    step = min(step for end, step in HANDY_STEPS.items() if seconds < end)
    return float(seconds // step * step)


def stages(inputs: Inputs, prospect: Outlook) -> tuple[Stage, ...]:
    """List what is poured, in order.

    Parameters
    ----------
    inputs : Inputs
        What was planned.
    prospect : Outlook
        What it does.

    Returns
    -------
    tuple of Stage
        Each with its volume at the bottles' temperature [m³] and the warmth after it [K].
    """
    pours = prospect.pours
    volumes = {}
    # a plan tells where its bath was not checked, and says nothing of each bottle
    with collecting_warnings():
        for name, liquid in pours.items():
            # a part is as large in every draw: the mean only takes its last bits together
            volumes[name] = float(np.mean(np.asarray(liquid.volume)))
    at_once = [name for name in pours if name != SECOND_PORTION]
    temperatures = temperatures_after_pours(*(pours[name] for name in at_once))
    every = []
    for name, temperature in zip(at_once, temperatures, strict=True):
        draws = None  # water is as warm in every draw
        if np.ndim(temperature):
            draws = inputs.draws
        band = Band.of(np.asarray(temperature), draws)
        every.append(Stage(name, volumes[name], band))
    if prospect.second_due is not None and inputs.second is not None:
        # its warmth is that of the baths that need it: the others never get it
        is_needed, temperature = prospect.second_due
        warmth = None
        if is_needed.any():
            warmth = Band.of(temperature[is_needed], int(is_needed.sum()))
        _, time = inputs.second
        volume, share = volumes[SECOND_PORTION], float(is_needed.mean())
        every.append(Stage(SECOND_PORTION, volume, warmth, time, share))
    return tuple(every)
