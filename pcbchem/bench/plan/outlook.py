"""What a mixture would do, over all plausible draws: mix it, etch a board, leave it standing.

One call takes one mixture, or hundreds of variants of it side by side: an array has one axis for
the variants, S of them, before its draw axis (see `pcbchem.common.arrays`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
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
from ..hazards.verdicts import passed, severity
from .inputs import Inputs
from .pours import SECOND_PORTION, acid_met, poured, side_by_side

COVER = 0.003
"""Least depth of liquid that covers a board lying in it [m] (common practice: a board is 1.6 mm
thick)."""
SLIVER = 1e-9
"""Share of its foil [-] with which a board that is clear already goes on: it is clear again at
once, and needs no case of its own."""
LEFT_STANDING = hour
"""How long every bath is left standing after the board is out, to be judged [s]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Etched:
    """What mixtures do until the board comes out, over the draws.

    Parameters
    ----------
    inputs : Inputs
        What they are computed from.
    pours : dict of Solution
        Each of `POURS` that is more than nothing, in the order of pouring.
    first_bath : Solution
        What the board goes into.
    mixture : Solution
        All that is poured in the end, where a second portion is needed.
    run : EtchRun
        The etch [s, K].
    bath_after : Solution
        The bath when the board comes out.
    tray : Tray
        Where it all happens [m², K].
    second_due : tuple of two arrays, or None
        Which draws still need the second portion when it is due [true or false], and how warm the
        bath then is with it [K]; None without a second portion.
    """

    inputs: Inputs
    pours: dict[str, Solution]
    first_bath: Solution
    mixture: Solution
    run: EtchRun
    bath_after: Solution
    tray: Tray
    second_due: tuple[Any, Any] | None

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules read, a band each.

        Times [s], peak [K], acid [mol/m³], peroxide [kg/kg], volume [m³], reserve and depth over
        what covers the board [-]. With two portions acid and peroxide are those of the stronger of
        `first_bath` and `mixture`, and the depth is that of the shallower.
        """
        # till the second portion comes the board lies in the first alone: both are judged
        baths = (self.first_bath, self.mixture)
        acid = [np.asarray(bath.amount("HCl")) / bulk(bath) for bath in baths]
        peroxide = [np.asarray(bath.mass_fraction("H2O2")) for bath in baths]
        depth = [cover(self.inputs, self.tray, bulk(bath)) for bath in baths]
        values = {
            "time_to_clear": self.run.time_to_clear,
            "etching_peak": self.run.peak_temperature,
            "reserve": self.run.reserve,
            "mixing_temperature": self.first_bath.T,
            "acid": np.maximum(*acid),
            "peroxide": np.maximum(*peroxide),
            "acid_met": acid_met(self.pours),
            "volume": bulk(self.mixture),
            "cover": np.minimum(*depth),
        }
        # what is the same in every draw is a band too, so that all rules read alike
        shape, draws = np.shape(self.run.time_to_clear), self.run.draws
        return {
            name: Band.of(np.broadcast_to(value, shape), draws) for name, value in values.items()
        }


@dataclasses.dataclass(frozen=True, eq=False)
class Outlook(Etched):
    """What mixtures do to a board, and standing for an hour afterwards.

    Parameters
    ----------
    after : Standing
        The bath in that hour [K, m³, mol/m³].
    """

    after: Standing

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules and the words read, a band each: `Etched.bands`, and the hour after.

        Its peak [K], its oxygen in volumes of the bath [-], and the peroxide left over what went
        in [-].
        """
        values = {
            "standing_peak": self.after.peak_temperature,
            "oxygen": self.after.oxygen / bulk(self.mixture),
            "peroxide_left": still_there(self.after, self.mixture),
        }
        standing = {
            name: Band.of(np.asarray(value), self.run.draws) for name, value in values.items()
        }
        return super().bands | standing


def bulk(mixture: Solution) -> Any:
    """Return the volume of a mixture at its own temperature [m³], without a warning."""
    return np.asarray(mixture.plain_mass / density_inside(mixture.plain_T, mixture.fractions))


def still_there(standing: Standing, mixture: Solution) -> Any:
    """Return the share of the peroxide mixed in that a standing bath holds [-]; 0 if none was."""
    # 1 where there was none: no 0 / 0
    start = np.asarray(mixture.amount("H2O2")) / bulk(mixture)
    share = np.asarray(standing.peroxide) / np.where(start > 0, start, 1.0)
    return np.where(start > 0, share, 0.0)


def cover(inputs: Inputs, tray: Tray, volume: ArrayLike) -> Any:
    """Return the depth of a bath [m³] over what covers the board [-]: below 1 copper stays dry."""
    board = inputs.board
    depth = np.asarray(volume) / tray.surface(volume, float(board.copper_area))
    if inputs.tray.facing != "upright":
        return depth / COVER
    # a board whose sides nobody said counts as a square of its copper
    if board.width is None or board.height is None:
        return depth / float(board.side)
    # one that stands in the bath is turned to have its shorter side upright
    return depth / float(np.minimum(board.width, board.height))


def etched(
    inputs: Inputs,
    *,
    parameters: RateParameters | None = None,
    history: bool = False,
    without: str | tuple[str, ...] = (),
    **changed: Any,
) -> Etched:
    """Mix and etch, over all draws.

    Parameters
    ----------
    inputs : Inputs
        What is mixed and etched.
    parameters : RateParameters, optional
        Plausible ones by default.
    history : bool
        Keep the course of the etch; not kept where the peroxide comes in two portions.
    without : str or tuple of str
        Effects left out for teaching, from `EFFECTS`. Without depletion the peroxide is poured in
        one portion, and what is left is what was poured.
    **changed : array
        What differs between variants, as `pours.poured` takes it [units there].

    Returns
    -------
    Etched
        Shape (draws,), or (S, draws) for variants.

    Raises
    ------
    ValueError
        A bath too shallow or too small to be one, an unknown effect, or two portions without
        depletion.
    """
    effects_off = switched_off(without)
    # the heat of mixing is no effect of the bath: it is left out where the liquids are mixed
    heat = "heat of mixing" not in effects_off
    bath_effects_off = tuple(effect for effect in effects_off if effect != "heat of mixing")
    if parameters is None:
        parameters = RateParameters.plausible(inputs.draws)

    pours = poured(inputs, **changed)
    at_once = [pours[name] for name in pours if name != SECOND_PORTION]
    bath = mix(*at_once, heat=heat)
    if SECOND_PORTION in pours:
        return _in_two_portions(inputs, pours, bath, parameters, bath_effects_off, heat)

    run = etch(bath, inputs.board, inputs.tray, parameters, bath_effects_off, history)
    if "depletion" in bath_effects_off:
        bath_after = bath  # nothing is used up, and such a run has no bath of its own afterwards
    else:
        bath_after = run.bath_after
    return Etched(
        inputs=inputs,
        pours=pours,
        first_bath=bath,
        mixture=bath,
        run=run,
        bath_after=bath_after,
        tray=inputs.tray,
        second_due=None,
    )


def _in_two_portions(
    inputs: Inputs,
    pours: dict[str, Solution],
    first_bath: Solution,
    parameters: RateParameters,
    without: tuple[str, ...],
    heat: bool,
) -> Etched:
    """Etch in the first portion; where the board is not clear when the second is due, go on.

    The bath without the second portion runs to its time by the same equations. The second is then
    mixed in, with its heat, where the board is not yet clear, and the run goes on with the foil
    that is left.
    """
    assert inputs.second is not None
    board, due = inputs.board, inputs.second[1]
    tray = whole_tray(inputs, pours)
    # the bare copper alone: that the whole board fits the tray is checked with the inputs
    bare = Board(area=board.area, foil=board.foil)
    early_run = etch(first_bath, bare, tray, parameters, without, longest=due)
    is_clear = np.isfinite(np.asarray(early_run.time_to_clear))

    # one run serves all draws: where the board is clear, nothing is poured and hardly any foil left
    portion = _where(~is_clear, pours[SECOND_PORTION], early_run.draws)
    joined = mix(early_run.bath_after, portion, heat=heat)
    foil_left = np.asarray(early_run.end["thickness"] / board.foil.thickness)
    foil_left = np.maximum(foil_left, SLIVER)
    areal_mass = as_draws(foil_left * np.asarray(board.foil.areal_mass))
    # the same area, of a foil as thin as each draw has left
    rest = Board(area=board.area, foil=Foil(areal_mass=areal_mass))
    late_run = etch(joined, rest, tray, parameters, without, longest=LONGEST - due)

    # the reserve is that of the whole bath: the second run alone would show what is left of it
    mixture = mix(first_bath, portion, heat=heat)
    reserves = as_draws(np.asarray(reserve(mixture, board)))
    return Etched(
        inputs=inputs,
        pours=pours,
        first_bath=first_bath,
        mixture=mixture,
        run=_joined_run(early_run, late_run, board, due, reserves),
        bath_after=late_run.bath_after,
        tray=tray,
        second_due=(~is_clear, np.asarray(joined.T)),
    )


def _where(is_needed: Any, portion: Solution, draws: int | None) -> Solution:
    """Return a portion where it is needed, and nothing of it where it is not."""
    shape = is_needed.shape
    fractions = {
        substance: np.broadcast_to(fraction, shape)
        for substance, fraction in portion.fractions.items()
    }
    mass = np.where(is_needed, portion.plain_mass, 0.0)
    return Solution(mass, np.broadcast_to(portion.plain_T, shape), fractions, draws)


def _joined_run(
    early_run: EtchRun, late_run: EtchRun, board: Board, due: float, reserves: Any
) -> EtchRun:
    """Join two runs, the second from `due` [s] on; without amounts or history."""
    is_clear = np.isfinite(np.asarray(early_run.time_to_clear))

    def from_start(early: Any, late: Any) -> Any:
        return as_draws(np.where(is_clear, early, due + late))

    end_time = from_start(early_run.end["time"], late_run.end["time"])
    return dataclasses.replace(
        late_run,
        board=board,
        # the amounts of the second run alone would mislead
        volume=np.nan,
        mass=np.nan,
        reserve=reserves,
        time_to_clear=from_start(early_run.time_to_clear, late_run.time_to_clear),
        peak_temperature=np.maximum(early_run.peak_temperature, late_run.peak_temperature),
        oxygen_amount=early_run.oxygen_amount + late_run.oxygen_amount,
        end=late_run.end | {"time": end_time},
    )


def whole_tray(inputs: Inputs, pours: Mapping[str, Solution]) -> Tray:
    """Return the tray with room for all that is poured: as large [m²] for both portions."""
    # one tray for all draws, by the mean of their volumes: they hardly differ
    volume = sum(bulk(liquid) for liquid in pours.values())
    mean_volume = np.mean(volume, axis=-1, keepdims=True)
    surface = inputs.tray.surface(mean_volume, inputs.board.copper_area)
    open_area: Any = surface
    if surface.ndim < 2:  # no variants: a tray is then one number, not an array of one
        open_area = float(surface.flat[0])
    return dataclasses.replace(inputs.tray, open_area=open_area)


def outlook(
    inputs: Inputs,
    *,
    parameters: RateParameters | None = None,
    history: bool = False,
    **changed: Any,
) -> Outlook:
    """Mix, etch and leave standing for an hour, over all draws.

    Parameters
    ----------
    inputs, parameters, history, **changed
        As for `etched` [units there].

    Returns
    -------
    Outlook
        Shape (draws,), or (S, draws) for variants.

    Raises
    ------
    ValueError
        As `etched`.
    """
    if parameters is None:
        parameters = RateParameters.plausible(inputs.draws)
    etching = etched(inputs, parameters=parameters, history=history, **changed)
    # the bath does not stop when the board is out: what it then does is part of the verdict
    after = stand(etching.bath_after, etching.tray, LEFT_STANDING, parameters)
    # not `dataclasses.asdict`, which would take the runs and liquids apart too
    fields = {field.name: getattr(etching, field.name) for field in dataclasses.fields(Etched)}
    return Outlook(**fields, after=after)


def judged(
    inputs: Inputs, variants: Sequence[Inputs], over_public: float, worst: int
) -> tuple[Any, Etched]:
    """Find how severe the verdict on each variant is.

    A variant is left standing only if it is not already so bad that it need not be.

    Parameters
    ----------
    inputs : Inputs
        What the variants share.
    variants : sequence of Inputs
        They differ as `pours.side_by_side` says, and in nothing else.
    over_public : float
        Strength of the worse bottle over what the public may hold [-].
    worst : int
        Severity [place in `VERDICTS`] from which on a bath need not be left standing.

    Returns
    -------
    tuple
        Severity of each [place in `VERDICTS`], and the variants etched.
    """
    # what does not differ between variants is read from `inputs` alone
    for variant in variants:
        assert variant.second == inputs.second
        assert variant.used_bath is inputs.used_bath and variant.acid is inputs.acid
    parameters = RateParameters.plausible(inputs.draws)
    etching = etched(inputs, parameters=parameters, **side_by_side(variants))
    bands = etching.bands
    # first without the hour of standing: at 0 K no rule on it is passed
    cold = Band.of(np.zeros(np.shape(etching.run.time_to_clear)), etching.run.draws)
    levels = np.array(severity(passed(bands | {"standing_peak": cold}, over_public)))

    undecided = np.flatnonzero(levels < worst)
    if undecided.size:
        after = _some_left_standing(etching, undecided, parameters)
        some_bands = {name: part(band, undecided) for name, band in bands.items()}
        some_bands["standing_peak"] = after.band("peak_temperature")
        levels[undecided] = severity(passed(some_bands, over_public))
    return levels, etching


def _some_left_standing(etching: Etched, which: Any, parameters: RateParameters) -> Standing:
    """Leave some of the variants standing."""
    bath, tray = etching.bath_after, etching.tray
    fractions = {substance: fraction[which] for substance, fraction in bath.fractions.items()}
    some = Solution(bath.plain_mass[which], bath.plain_T[which], fractions, bath.draws)
    open_area = np.asarray(tray.open_area)
    if open_area.ndim == 2:  # each variant has a tray of its own: see `whole_tray`
        tray = dataclasses.replace(tray, open_area=open_area[which])
    return stand(some, tray, LEFT_STANDING, parameters)


def part(band: Band, which: Any) -> Band:
    """Return a band of some of its scenarios [own unit]."""
    return Band(
        low=band.low[which],
        middle=band.middle[which],
        high=band.high[which],
        never=band.never[which],
        values=band.values[which],
    )
