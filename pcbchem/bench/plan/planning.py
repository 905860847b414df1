"""A plan: what to pour in what order and what the bath will then do, or why not to and what would help."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from ...bench import hazards
from ...common.band import Band
from ...common.limits import RangeWarning, check_number, collecting_warnings, naming
from ...common.units import hour, minute
from ...matter.solution import Solution
from ...reaction.bath.bath import stand
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import Board, Tray
from ...reaction.chemistry.heat import temperatures_after_pours
from ..bottle.bottle import Bottle
from . import files
from .changes import doubts, helpful
from .inputs import BATH_PER_AREA, Inputs, Kept, single
from .outcome import Outcome, Stage
from .outlook import SECOND_PORTION, Outlook, outlook, still_there
from .words import frame, text

if TYPE_CHECKING:
    import pathlib

    import pandas

LOOK = 0.5
"""The first look, as a share of the 10 % time [-] (common practice: long before the quickest bath is done)."""
OVER_ETCH = (0.1, 0.3)
"""How long to etch on past the first full clearing, as shares of that time [-] (common practice)."""
RESIST_LIFE = (20 * minute, 30 * minute)
"""How long resist stands a bath that is neither strong nor warm [s] (common practice)."""
DAY = 24 * hour


@dataclasses.dataclass(frozen=True, eq=False)
class Plan(Outcome):
    """What a mixture will do to a board, and a verdict on it: made by `plan`; `print` says it in words."""

    def __str__(self) -> str:
        return text(self)

    def _repr_markdown_(self) -> str:
        return text(self, markdown=True)

    def __repr__(self) -> str:
        return f"Plan({self.verdict!r})"

    def to_frame(self) -> pandas.DataFrame:
        """One quantity a row [unit in its name]: low end, middle and high end; see `pcbchem.bench.wording.frame`."""
        return frame(self)

    def save(self, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
        """Write the plan's inputs to a file, all at once or not at all: see `pcbchem.bench.files.save`."""
        files.save_inputs(self.inputs, path, overwrite=overwrite)

    @classmethod
    def open(cls, path: str | pathlib.Path) -> Plan:
        """Read inputs that `save` wrote and plan again: see `pcbchem.bench.files.read`."""
        given = files.read_inputs(path)
        with naming(str(path)):
            return planned(given)


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
    kept: Kept | None = None,
    second: tuple[float, float] | None = None,
    draws: int = 200,
    seed: int = 0,
) -> Plan:
    """Plan a bath: what to pour, how warm, when to look, what comes after; or a refusal with its reasons.

    Parameters
    ----------
    acid, peroxide : Bottle
        What the bottles hold, and how sure that is.
    parts : tuple of float
        Water, acid and peroxide by volume [-]; with a bath kept, of what is poured to it.
    board : Board
        One board.
    tray : Tray
        How the bath moves, which way the board faces, open area and air; by default rocked, facing up.
    place : str
        Whose rules on who may hold what: "EU", "GB" or "elsewhere".
    volume : float
        The whole bath in the tray [m³], or
    bath_per_area : float
        the bath over the bare copper [m³/m²], 0.01 to 1000 mL per cm²: one of the two.
    T_bottles : float
        Temperature of bottles, water and a bath kept [K], 0 to 40 °C.
    kept : Kept, optional
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
    ValueError
        A value that cannot be: names it and its limits.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> mild = plan(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...             volume=150e-6, place="EU")
    >>> print(mild.verdict)
    mix it
    """
    if (volume is None) == (bath_per_area is None):
        raise ValueError(
            f"volume = {volume!r} with bath_per_area = {bath_per_area!r} is impossible: "
            "give one of the two, in m³ or in m³ per m²"
        )
    if not isinstance(board, Board):
        raise ValueError(f"board = {board!r} is impossible: it must be a Board")
    if volume is not None:
        single(board)
        area = float(board.copper_area)
        bath_per_area = (
            check_number("volume", volume, BATH_PER_AREA[0] * area, BATH_PER_AREA[1] * area, "m³")
            / area
        )
    return planned(
        Inputs(
            acid,
            peroxide,
            parts,
            board,
            Tray() if tray is None else tray,
            bath_per_area,  # type: ignore[arg-type]
            place,
            T_bottles,
            kept,
            second,
            draws,
            seed,
        )
    )


def planned(given: Inputs) -> Plan:
    """The plan of checked inputs [units there]."""
    outside: list[RangeWarning] = []
    with collecting_warnings(outside):
        seen = outlook(given, history=given.second is None)
        bands, run, after = seen.bands, seen.run, seen.after
        over_public = hazards.over_public(given.acid, given.peroxide, given.place)
        passed = hazards.passed(bands, over_public)
        level = int(hazards.severity(passed))
        reasons = hazards.reasons(bands, over_public, why_never(seen))
        refused = level == 2
        later = (
            None
            if refused
            else stand(seen.left, seen.tray, DAY, RateParameters.plausible(given.draws))
        )
    if later is None:
        del bands["volume"]
        unsaid = np.full_like(after.oxygen, np.nan)
        run = dataclasses.replace(run, volume=np.nan, mass=np.nan, oxygen_amount=unsaid)
        after = dataclasses.replace(after, oxygen=unsaid)
    else:
        used = {
            "peroxide_left_day": still_there(later, seen.mixture),
            "acid_used": run.end["HCl"],
            "copper_used": run.end["CuCl2"] + run.end["CuCl"],
        }
        bands |= {name: Band.of(np.asarray(values), given.draws) for name, values in used.items()}
    times = bands["time_to_clear"]
    clears = not refused and bool(np.isfinite(times.middle))
    strong = any(passed[name] for name in ("acid fumes", "warm while etching"))
    return Plan(
        inputs=given,
        reasons=reasons,
        cautions=hazards.cautions(given.acid, given.peroxide, given.place),
        mixture=a_kilogram(seen.mixture) if refused else seen.mixture,
        stages=() if refused else stages(given, seen),
        run=run,
        after=after,
        later=later,
        bands=bands,
        first_look=handy(LOOK * float(times.low)) if clears else None,
        over_etch=tuple(share * float(times.middle) for share in OVER_ETCH) if clears else None,  # type: ignore[arg-type]
        resist_life=None if refused or strong else RESIST_LIFE,
        changes=helpful(given, level, over_public),
        doubts=doubts(given, times),
        outside=tuple(outside),
    )


def why_never(seen: Outlook) -> str:
    """Why most of the draws that never clear stop, in the words of `hazards.WHY_STOPPED`; "" where all clear."""
    never = np.isinf(np.asarray(seen.run.time_to_clear))
    if never.any() and not np.any(seen.mixture.fractions["H2O2"]):
        return "no peroxide"
    found, counts = np.unique(np.asarray(seen.run.stopped_by)[never], return_counts=True)
    return str(found[counts.argmax()]) if found.size else ""


def handy(seconds: float) -> float:
    """A time [s] rounded down to one that people can keep: to 1 s, from 20 s to 5 s, then quarter minutes, minutes."""
    step = next(
        step for step, upto in ((1, 20), (5, 120), (15, 600), (60, np.inf)) if seconds < upto
    )
    return float(seconds // step * step)


def a_kilogram(mixture: Solution) -> Solution:
    """The same mixture, one kilogram of it [kg]: its strengths and temperature, and no amount."""
    return dataclasses.replace(mixture, plain_mass=np.ones(mixture.shape))


def stages(given: Inputs, seen: Outlook) -> tuple[Stage, ...]:
    """What is poured, in order, each with its volume at the bottles' temperature [m³] and the warmth after it [K]."""
    made = seen.poured
    with collecting_warnings():
        volumes = {name: float(np.mean(np.asarray(liquid.volume))) for name, liquid in made.items()}
    now = [name for name in made if name != SECOND_PORTION]
    warmth = temperatures_after_pours(*(made[name] for name in now))
    found = [
        Stage(name, volumes[name], Band.of(np.asarray(T), given.draws if np.ndim(T) else None))
        for name, T in zip(now, warmth, strict=True)
    ]
    if seen.due is not None and given.second is not None:
        due, T = seen.due
        found.append(
            Stage(
                SECOND_PORTION,
                volumes[SECOND_PORTION],
                Band.of(T[due], int(due.sum())) if due.any() else None,
                given.second[1],
                float(due.mean()),
            )
        )
    return tuple(found)
