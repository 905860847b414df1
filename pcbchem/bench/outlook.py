"""What a mixture would do, over all plausible draws: one mixture, or hundreds of variants of it side by side."""

from __future__ import annotations

import dataclasses
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..matter.arrays import RangeWarning, as_draws
from ..matter.properties import density_inside
from ..matter.solution import Solution, mix
from ..matter.units import hour
from ..reaction.bath import LONGEST, etch, stand
from ..reaction.parameters import RateParameters
from ..reaction.run import Band, EtchRun, Standing
from ..reaction.setup import Board, Foil
from ..reaction.stoichiometry import reserve
from .hazards import passed, severity
from .inputs import Inputs, kept_solution

POURS = ("water", "kept bath", "acid", "peroxide", "peroxide, second portion")
"""What is poured, in this order: acid into water, peroxide last; without water, weak peroxide stands for it."""
WEAK = 0.06
"""Peroxide of at most this strength is mostly water [kg/kg] (common practice)."""
SLIVER = 1e-9  # share of a foil: a cleared board is carried on as so much, and is clear again at once


@dataclasses.dataclass(frozen=True, eq=False)
class Outlook:
    """What mixtures do to a board, and standing for an hour afterwards, over the draws.

    `given`: from what; `poured`: each of `POURS` that is more than nothing, as a `Solution`; `mixture` of them all;
    `run` the etch [s, K], `left` the bath when the board comes out, `after` that bath standing [K, m³].
    """

    given: Inputs
    poured: dict[str, Solution]
    mixture: Solution
    run: EtchRun
    left: Solution
    after: Standing

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules read, each a band: times [s], peaks [K], acid [mol/m³], peroxide [kg/kg], the others [-]."""
        standing = {"standing_peak": self.after.peak_temperature, "oxygen": self.after.oxygen / bulk(self.mixture),
                    "peroxide_left": still_there(self.after, self.mixture)}
        return before_standing(self.given, self.poured, self.mixture, self.run) | {
            name: Band.of(np.asarray(value), self.run.draws) for name, value in standing.items()}


def before_standing(given: Inputs, made: dict[str, Solution], mixture: Solution, run: EtchRun) -> dict[str, Band]:
    """Those bands that are known when the board comes out [s, K, mol/m³, kg/kg, -]."""
    values = {"time_to_clear": run.time_to_clear, "etching_peak": run.peak_temperature, "reserve": run.reserve,
              "mixing_temperature": mixture.T, "acid": np.asarray(mixture.amount("HCl")) / bulk(mixture),
              "peroxide": mixture.mass_fraction("H2O2"), "acid_met": acid_met(given, made)}
    return {name: Band.of(np.broadcast_to(value, np.shape(run.time_to_clear)), run.draws)
            for name, value in values.items()}


def bulk(mixture: Solution) -> Any:
    """Volume of a mixture at its own temperature [m³], without a warning."""
    return np.asarray(mixture.plain_mass / density_inside(mixture.plain_T, mixture.fractions))


def still_there(standing: Standing, mixture: Solution) -> Any:
    """Share of the peroxide mixed in [-] that a standing bath still holds; 0 where none was mixed in."""
    began = np.asarray(mixture.amount("H2O2")) / bulk(mixture)
    return np.where(began > 0, np.asarray(standing.peroxide) / np.where(began > 0, began, 1.0), 0.0)


@contextmanager
def hushed(kept: list[str] | None = None) -> Iterator[None]:
    """Keep RangeWarnings off the screen, in a list where one is given; any other warning goes on."""
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", RangeWarning)
        yield
    for other in caught:
        if not issubclass(other.category, RangeWarning):
            warnings.warn_explicit(other.message, other.category, other.filename, other.lineno)
        elif kept is not None and str(other.message) not in kept:
            kept.append(str(other.message))


def doubtful(given: Inputs) -> dict[str, Any]:
    """Everything in the bottles that is drawn, by name: strengths [kg/kg], and a kept bath's contents [mol/m³]."""
    drawn: dict[str, Any] = {"acid": given.acid.strengths(given.draws, given.seed),
                             "peroxide": given.peroxide.strengths(given.draws, given.seed + 1)}
    if given.kept is not None:
        held = given.kept.held(given.draws, given.seed + 2)
        drawn |= {f"kept {name}": values for name, values in held.items()}
    return drawn


def side_by_side(variants: Sequence[Inputs]) -> dict[str, Any]:
    """What differs between variants, as `poured` takes it: only parts, bath over copper and the bottles' T may."""
    return {"parts": np.array([v.parts for v in variants])[:, None, :],
            "bath_per_area": np.array([v.bath_per_area for v in variants])[:, None],
            "T_bottles": np.array([v.T_bottles for v in variants])[:, None]}


def poured(given: Inputs, *, parts: Any = None, bath_per_area: ArrayLike | None = None,
           T_bottles: ArrayLike | None = None, drawn: dict[str, Any] | None = None) -> dict[str, Solution]:
    """What goes into the tray, in order, by the names of `POURS`; what is nothing everywhere is left out.

    Parameters
    ----------
    given : Inputs
        Whatever is not given below is taken from here.
    parts : array, optional
        Water, acid and peroxide [-], shape (3,) or (S, 1, 3) for S variants.
    bath_per_area, T_bottles : float or array, optional
        Bath over bare copper [m³/m²] and bottles [K]; variants have shape (S, 1).
    drawn : dict, optional
        Strengths as `doubtful` gives them [kg/kg, mol/m³].

    Returns
    -------
    dict of Solution
        Volumes at the bottles' temperature.
    """
    water, acid, peroxide = np.moveaxis(np.asarray(given.parts if parts is None else parts, dtype=float), -1, 0)
    whole = np.asarray(given.bath_per_area if bath_per_area is None else bath_per_area) * float(given.board.area)  # type: ignore[arg-type]
    T = given.T_bottles if T_bottles is None else T_bottles
    drawn = doubtful(given) if drawn is None else drawn
    share = 0.0 if given.kept is None else given.kept.share
    unit = whole * (1 - share) / (water + acid + peroxide)
    back = 0.0 if given.second is None else given.second[0]
    made = {POURS[0]: Solution.of(volume=unit * water, T=T)}
    if given.kept is not None:
        made[POURS[1]] = kept_solution(whole * share, T, **{name: drawn[f"kept {name}"]
                                                            for name in ("copper", "acid", "peroxide")})
    made |= {POURS[2]: Solution.of(volume=unit * acid, T=T, HCl=drawn["acid"]),
             POURS[3]: Solution.of(volume=unit * peroxide * (1 - back), T=T, H2O2=drawn["peroxide"]),
             POURS[4]: Solution.of(volume=unit * peroxide * back, T=T, H2O2=drawn["peroxide"])}
    made = {name: solution for name, solution in made.items() if np.any(solution.plain_mass > 0)}
    if POURS[0] not in made and given.peroxide.high <= WEAK:
        made = {name: made[name] for name in (POURS[3], POURS[1], POURS[2], POURS[4]) if name in made}
    return made


def acid_met(given: Inputs, made: dict[str, Solution]) -> Any:
    """Mass fraction of acid [kg/kg] in what strong peroxide is poured into; 0 where none meets it undiluted."""
    names = list(made)
    before = [made[name] for name in names[:names.index(POURS[3])]] if POURS[3] in names else []
    if not before or given.peroxide.high <= WEAK:
        return 0.0
    acid = sum(np.asarray(liquid.plain_mass * liquid.fractions["HCl"]) for liquid in before)
    whole = np.asarray(sum(liquid.plain_mass for liquid in before))
    return np.where(whole > 0, acid / np.where(whole > 0, whole, 1.0), 0.0)


def etched(given: Inputs, *, parameters: RateParameters | None = None, history: bool = False,
           **changed: Any) -> tuple[dict[str, Solution], Solution, EtchRun, Solution]:
    """Mix and etch, over all draws: what was poured, the mixture of it all, the run, and the bath after it.

    Parameters
    ----------
    given : Inputs
        What is mixed and etched.
    parameters : RateParameters, optional
        Plausible ones unless given.
    history : bool
        Keep the course of the etch; not kept where the peroxide comes in two portions.
    **changed : array
        What differs between variants, as `poured` takes it [units there].

    Returns
    -------
    tuple
        By names of `POURS`, Solution, EtchRun, Solution; shape (draws,), or (S, draws) for variants.

    Raises
    ------
    ValueError
        A bath too shallow or too small to be one.

    Notes
    -----
    Two portions of peroxide: the bath without the second runs to its time by the same equations; the second is then
    mixed in, with its heat, where the board is not yet clear, and the run goes on with the foil that is left.
    """
    p = RateParameters.plausible(given.draws) if parameters is None else parameters
    made = poured(given, **changed)
    mixture = mix(*made.values())
    if POURS[4] not in made or given.second is None:
        run = etch(mixture, given.board, given.tray, p, history=history)
        return made, mixture, run, run.bath_after
    run, joined = first_leg(given, made, p)
    when, clear = given.second[1], np.isfinite(np.asarray(run.time_to_clear))
    left = np.maximum(np.asarray(run.end["thickness"] / given.board.foil.thickness), SLIVER)
    rest = Board(area=given.board.area, foil=Foil(areal_mass=as_draws(left * np.asarray(given.board.foil.areal_mass))))
    on = etch(joined, rest, given.tray, p, longest=LONGEST - when)
    whole = dataclasses.replace(
        on, time_to_clear=as_draws(np.where(clear, run.time_to_clear, when + on.time_to_clear)),
        peak_temperature=np.maximum(run.peak_temperature, on.peak_temperature),
        reserve=as_draws(np.asarray(reserve(mixture, given.board))),
        oxygen_amount=run.oxygen_amount + on.oxygen_amount)
    return made, mixture, whole, on.bath_after


def first_leg(given: Inputs, made: dict[str, Solution], p: RateParameters) -> tuple[EtchRun, Solution]:
    """The run until the second portion of peroxide is due, and the bath with it mixed in, where not yet clear [K]."""
    assert given.second is not None
    run = etch(mix(*(made[name] for name in made if name != POURS[4])), given.board, given.tray, p,
               longest=given.second[1])
    clear, late = np.isfinite(np.asarray(run.time_to_clear)), made[POURS[4]]
    poured_in = Solution(np.where(clear, 0.0, late.plain_mass), np.broadcast_to(late.plain_T, clear.shape),
                         {s: np.broadcast_to(w, clear.shape) for s, w in late.fractions.items()}, run.draws)
    return run, mix(run.bath_after, poured_in)


def outlook(given: Inputs, *, parameters: RateParameters | None = None, history: bool = False,
            **changed: Any) -> Outlook:
    """Mix, etch and leave standing for an hour, over all draws: arguments and errors as for `etched` [units there]."""
    p = RateParameters.plausible(given.draws) if parameters is None else parameters
    made, mixture, run, left = etched(given, parameters=p, history=history, **changed)
    return Outlook(given, made, mixture, run, left, stand(left, given.tray, hour, p))


def judged(given: Inputs, variants: Sequence[Inputs], over_public: float,
           worst: int) -> tuple[Any, dict[str, Solution], dict[str, Band]]:
    """How severe the verdict on each variant is, left standing only where it is not already so bad without.

    Parameters
    ----------
    given : Inputs
        What the variants share.
    variants : sequence of Inputs
        They differ as `side_by_side` says.
    over_public : float
        Strength of the worse bottle over what the public may hold [-].
    worst : int
        Severity [index into `VERDICTS`] from which on a bath need not be left standing to be judged.

    Returns
    -------
    tuple
        Severity of each [index into `VERDICTS`], what is poured, and the bands of before standing [SI].
    """
    made, mixture, run, left = etched(given, **side_by_side(variants))
    bands = before_standing(given, made, mixture, run)
    nothing = {"standing_peak": Band.of(np.zeros(np.shape(run.time_to_clear)), run.draws)}
    levels = np.array(severity(passed(bands | nothing, over_public)))
    on = np.flatnonzero(levels < worst)
    if on.size:
        held = {s: w[on] for s, w in left.fractions.items()}
        some = Solution(left.plain_mass[on], left.plain_T[on], held, left.draws)
        after = stand(some, given.tray, hour, RateParameters.plausible(given.draws))
        warm = passed({name: part(band, on) for name, band in bands.items()} | {
            "standing_peak": after.band("peak_temperature")}, over_public)
        levels[on] = severity(warm)
    return levels, made, bands


def part(band: Band, which: Any) -> Band:
    """A band of some of its scenarios [own unit]."""
    return Band(band.low[which], band.middle[which], band.high[which], band.never[which], band.values[which])
