"""What a mixture would do, over all plausible draws: one mixture, or hundreds of variants of it side by side."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import as_draws
from ...common.band import Band
from ...common.units import hour
from ...matter.properties import density_inside
from ...matter.solution import Solution, mix
from ...reaction.bath.bath import LONGEST, etch, stand
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.rate import switched_off
from ...reaction.bath.run import EtchRun, Standing
from ...reaction.bath.setup import Board, Foil, Tray
from ...reaction.chemistry.stoichiometry import reserve
from ..hazards.caution import strongest
from ..hazards.verdicts import passed, severity
from .inputs import Inputs, kept_solution

WATER, KEPT_BATH, ACID, PEROXIDE = "water", "kept bath", "acid", "peroxide"
SECOND_PORTION = "peroxide, second portion"
POURS = (WATER, KEPT_BATH, ACID, PEROXIDE, SECOND_PORTION)
"""What is poured, in this order: acid into water, and peroxide last."""
POURS_OF_WEAK_PEROXIDE = (WATER, KEPT_BATH, PEROXIDE, ACID, SECOND_PORTION)
"""Weak peroxide is mostly water: acid is poured into it."""
WEAK = 0.06
"""Peroxide of at most this strength is mostly water [kg/kg] (common practice)."""
COVER = 0.003
"""Least depth of liquid that covers a board lying in it [m] (common practice: a board is 1.6 mm thick)."""
SLIVER = (
    1e-9  # share of a foil: a cleared board is carried on as so much, and is clear again at once
)


@dataclasses.dataclass(frozen=True, eq=False)
class Etched:
    """What mixtures do until the board comes out, over the draws.

    `given`: from what; `poured`: each of `POURS` that is more than nothing, in order, as a `Solution`; `first`: what
    the board goes into; `mixture`: all that is poured in the end, where a second portion is needed; `run`: the etch
    [s, K]; `left`: the bath when the board comes out; `tray`: it all happens in [m², K]; `due`: which draws still need
    the second portion when it is due [true or false], and how warm the bath then is with it [K]; None without one.
    """

    given: Inputs
    poured: dict[str, Solution]
    first: Solution
    mixture: Solution
    run: EtchRun
    left: Solution
    tray: Tray
    due: tuple[Any, Any] | None

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules read of it, each a band: times [s], peak [K], acid [mol/m³], peroxide [kg/kg], volume [m³].

        With two portions acid and peroxide are those of the stronger of `first` and `mixture`.
        """
        whole = (self.first, self.mixture)
        values = {
            "time_to_clear": self.run.time_to_clear,
            "etching_peak": self.run.peak_temperature,
            "reserve": self.run.reserve,
            "mixing_temperature": self.first.T,
            "acid": np.maximum(*(np.asarray(bath.amount("HCl")) / bulk(bath) for bath in whole)),
            "peroxide": np.maximum(*(np.asarray(bath.mass_fraction("H2O2")) for bath in whole)),
            "acid_met": acid_met(self.poured),
            "volume": bulk(self.mixture),
            "cover": np.minimum(*(cover(self.given, self.tray, bulk(bath)) for bath in whole)),
        }
        return {
            name: Band.of(np.broadcast_to(value, np.shape(self.run.time_to_clear)), self.run.draws)
            for name, value in values.items()
        }


@dataclasses.dataclass(frozen=True, eq=False)
class Outlook(Etched):
    """What mixtures do to a board, and standing for an hour afterwards: `after` [K, m³, mol/m³]."""

    after: Standing

    @property
    def bands(self) -> dict[str, Band]:
        """As `Etched.bands`, with the peak when left standing [K], oxygen and peroxide left over what went in [-]."""
        standing = {
            "standing_peak": self.after.peak_temperature,
            "oxygen": self.after.oxygen / bulk(self.mixture),
            "peroxide_left": still_there(self.after, self.mixture),
        }
        return super().bands | {
            name: Band.of(np.asarray(value), self.run.draws) for name, value in standing.items()
        }


def bulk(mixture: Solution) -> Any:
    """Volume of a mixture at its own temperature [m³], without a warning."""
    return np.asarray(mixture.plain_mass / density_inside(mixture.plain_T, mixture.fractions))


def still_there(standing: Standing, mixture: Solution) -> Any:
    """Share of the peroxide mixed in [-] that a standing bath still holds; 0 where none was mixed in."""
    began = np.asarray(mixture.amount("H2O2")) / bulk(mixture)
    return np.where(began > 0, np.asarray(standing.peroxide) / np.where(began > 0, began, 1.0), 0.0)


def cover(given: Inputs, tray: Tray, volume: ArrayLike) -> Any:
    """How deep a bath [m³] lies in a tray, over what covers the board: below 1 some copper stays dry [-]."""
    board, area = given.board, float(given.board.copper_area)
    standing = board.side if board.width is None else np.minimum(board.width, board.height)  # type: ignore[arg-type]
    needed = float(standing) if given.tray.facing == "upright" else COVER
    return np.asarray(volume) / tray.surface(volume, area) / needed


def doubtful(given: Inputs) -> dict[str, Any]:
    """Everything in the bottles that is drawn, by name: strengths [kg/kg], and a kept bath's contents [mol/m³]."""
    drawn: dict[str, Any] = {
        "acid": given.acid.strengths(given.draws, given.seed),
        "peroxide": given.peroxide.strengths(given.draws, given.seed + 1),
    }
    if given.kept is not None:
        held = given.kept.held(given.draws, given.seed + 2)
        drawn |= {f"kept {name}": values for name, values in held.items()}
    return drawn


def side_by_side(variants: Sequence[Inputs]) -> dict[str, Any]:
    """What differs between variants, as `poured` takes it: only parts, bath over copper and the bottles' T may."""
    return {
        "parts": np.array([v.parts for v in variants])[:, None, :],
        "bath_per_area": np.array([v.bath_per_area for v in variants])[:, None],
        "T_bottles": np.array([v.T_bottles for v in variants])[:, None],
    }


def poured(
    given: Inputs,
    *,
    parts: Any = None,
    bath_per_area: ArrayLike | None = None,
    T_bottles: ArrayLike | None = None,
    drawn: dict[str, Any] | None = None,
) -> dict[str, Solution]:
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
    water, acid, peroxide = np.moveaxis(
        np.asarray(given.parts if parts is None else parts, dtype=float), -1, 0
    )
    whole = np.asarray(given.bath_per_area if bath_per_area is None else bath_per_area) * float(
        given.board.copper_area
    )
    T = given.T_bottles if T_bottles is None else T_bottles
    drawn = doubtful(given) if drawn is None else drawn
    unit = whole * given.fresh / (water + acid + peroxide)
    back = 0.0 if given.second is None else given.second[0]
    made = {WATER: Solution.of(volume=unit * water, T=T)}
    if given.kept is not None:
        made[KEPT_BATH] = kept_solution(
            whole * given.kept.share,
            T,
            **{name: drawn[f"kept {name}"] for name in ("copper", "acid", "peroxide")},
        )
    made |= {
        ACID: Solution.of(volume=unit * acid, T=T, HCl=drawn["acid"]),
        PEROXIDE: Solution.of(volume=unit * peroxide * (1 - back), T=T, H2O2=drawn["peroxide"]),
        SECOND_PORTION: Solution.of(volume=unit * peroxide * back, T=T, H2O2=drawn["peroxide"]),
    }
    made = {name: solution for name, solution in made.items() if np.any(solution.plain_mass > 0)}
    order = POURS if strongest(given.peroxide) > WEAK else POURS_OF_WEAK_PEROXIDE
    return {name: made[name] for name in order if name in made}


def acid_met(made: dict[str, Solution]) -> Any:
    """Mass fraction of acid [kg/kg] in what the peroxide is poured into; 0 where that is nothing."""
    names = list(made)
    before = [made[name] for name in names[: names.index(PEROXIDE)]] if PEROXIDE in names else []
    if not before:
        return 0.0
    acid = sum(np.asarray(liquid.plain_mass * liquid.fractions["HCl"]) for liquid in before)
    whole = np.asarray(sum(liquid.plain_mass for liquid in before))
    return np.where(whole > 0, acid / np.where(whole > 0, whole, 1.0), 0.0)


def etched(
    given: Inputs,
    *,
    parameters: RateParameters | None = None,
    history: bool = False,
    without: str | tuple[str, ...] = (),
    **changed: Any,
) -> Etched:
    """Mix and etch, over all draws.

    Parameters
    ----------
    given : Inputs
        What is mixed and etched.
    parameters : RateParameters, optional
        Plausible ones unless given.
    history : bool
        Keep the course of the etch; not kept where the peroxide comes in two portions.
    without : str or tuple of str
        Effects left out for teaching, from `EFFECTS`. Without depletion the peroxide is poured in one portion, and
        what is left is what was poured.
    **changed : array
        What differs between variants, as `poured` takes it [units there].

    Returns
    -------
    Etched
        Shape (draws,), or (S, draws) for variants.

    Raises
    ------
    ValueError
        A bath too shallow or too small to be one, an unknown effect, or two portions without depletion.

    Notes
    -----
    Two portions of peroxide: the bath without the second runs to its time by the same equations; the second is then
    mixed in, with its heat, where the board is not yet clear, and the run goes on with the foil that is left.
    """
    p = RateParameters.plausible(given.draws) if parameters is None else parameters
    named = switched_off(without)
    heat, off = (
        "heat of mixing" not in named,
        tuple(effect for effect in named if effect != "heat of mixing"),
    )
    made = poured(given, **changed)
    first = mix(*(made[name] for name in made if name != SECOND_PORTION), heat=heat)
    if SECOND_PORTION not in made or given.second is None:
        run = etch(first, given.board, given.tray, p, off, history)
        left = first if "depletion" in off else run.bath_after
        return Etched(given, made, first, first, run, left, given.tray, None)
    board, when, second = given.board, given.second[1], made[SECOND_PORTION]
    tray = whole_tray(given, made)
    run = etch(first, Board(area=board.area, foil=board.foil), tray, p, off, longest=when)
    clear = np.isfinite(np.asarray(run.time_to_clear))
    late = Solution(
        np.where(clear, 0.0, second.plain_mass),
        np.broadcast_to(second.plain_T, clear.shape),
        {s: np.broadcast_to(w, clear.shape) for s, w in second.fractions.items()},
        run.draws,
    )
    foil = np.maximum(np.asarray(run.end["thickness"] / board.foil.thickness), SLIVER)
    rest = Board(
        area=board.area, foil=Foil(areal_mass=as_draws(foil * np.asarray(board.foil.areal_mass)))
    )
    joined = mix(run.bath_after, late, heat=heat)
    on = etch(joined, rest, tray, p, off, longest=LONGEST - when)
    mixture = mix(first, late, heat=heat)
    whole = dataclasses.replace(  # no amounts: they are those of the second leg
        on,
        board=board,
        volume=np.nan,
        mass=np.nan,
        reserve=as_draws(np.asarray(reserve(mixture, board))),
        time_to_clear=as_draws(np.where(clear, run.time_to_clear, when + on.time_to_clear)),
        peak_temperature=np.maximum(run.peak_temperature, on.peak_temperature),
        oxygen_amount=run.oxygen_amount + on.oxygen_amount,
        end=on.end | {"time": as_draws(np.where(clear, run.end["time"], when + on.end["time"]))},
    )
    return Etched(
        given, made, first, mixture, whole, on.bath_after, tray, (~clear, np.asarray(joined.T))
    )


def whole_tray(given: Inputs, made: dict[str, Solution]) -> Tray:
    """The tray with room for all that is poured, as large for the first portion as for the second [m²]."""
    volume = sum(bulk(liquid) for liquid in made.values())
    surface = given.tray.surface(
        np.mean(volume, axis=-1, keepdims=True)[()], given.board.copper_area
    )
    return dataclasses.replace(
        given.tray, open_area=surface if surface.ndim > 1 else float(surface.flat[0])
    )


def outlook(
    given: Inputs,
    *,
    parameters: RateParameters | None = None,
    history: bool = False,
    **changed: Any,
) -> Outlook:
    """Mix, etch and leave standing for an hour, over all draws: arguments and errors as for `etched` [units there]."""
    p = RateParameters.plausible(given.draws) if parameters is None else parameters
    seen = etched(given, parameters=p, history=history, **changed)
    fields = {field.name: getattr(seen, field.name) for field in dataclasses.fields(Etched)}
    return Outlook(**fields, after=stand(seen.left, seen.tray, hour, p))


def judged(
    given: Inputs, variants: Sequence[Inputs], over_public: float, worst: int
) -> tuple[Any, Etched]:
    """How severe the verdict on each variant is, left standing only where it is not already so bad without.

    Parameters
    ----------
    given : Inputs
        What the variants share.
    variants : sequence of Inputs
        They differ as `side_by_side` says, and in nothing else.
    over_public : float
        Strength of the worse bottle over what the public may hold [-].
    worst : int
        Severity [index into `VERDICTS`] from which on a bath need not be left standing to be judged.

    Returns
    -------
    tuple
        Severity of each [index into `VERDICTS`], and the variants etched.
    """
    assert all(
        v.second == given.second and v.kept is given.kept and v.acid is given.acid for v in variants
    )
    seen = etched(given, **side_by_side(variants))
    bands, run, left = seen.bands, seen.run, seen.left
    nothing = {"standing_peak": Band.of(np.zeros(np.shape(run.time_to_clear)), run.draws)}
    levels = np.array(severity(passed(bands | nothing, over_public)))
    on = np.flatnonzero(levels < worst)
    if on.size:
        held = {s: w[on] for s, w in left.fractions.items()}
        some = Solution(left.plain_mass[on], left.plain_T[on], held, left.draws)
        open_area = seen.tray.open_area
        tray = (
            seen.tray
            if np.ndim(open_area) < 2  # type: ignore[arg-type]
            else dataclasses.replace(seen.tray, open_area=np.asarray(open_area)[on])
        )
        after = stand(some, tray, hour, RateParameters.plausible(given.draws))
        warm = passed(
            {name: part(band, on) for name, band in bands.items()}
            | {"standing_peak": after.band("peak_temperature")},
            over_public,
        )
        levels[on] = severity(warm)
    return levels, seen


def part(band: Band, which: Any) -> Band:
    """A band of some of its scenarios [own unit]."""
    return Band(
        band.low[which], band.middle[which], band.high[which], band.never[which], band.values[which]
    )
