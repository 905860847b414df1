"""What a mixture would do, over all plausible draws: mix it, etch a board, leave it standing.

One call takes one mixture, or hundreds of variants of it side by side: an array has one axis for
the variants, S of them, before its draw axis (see `pcbchem.common.arrays`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from ...common.arrays import as_draws
from ...common.band import Band
from ...common.units import hour
from ...matter.solution import Solution, mix
from ...reaction.bath.bath import LONGEST, etch, stand
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.rate import switched_off
from ...reaction.bath.run import EtchRun, Standing
from ...reaction.bath.setup import Board, Foil, Start, Tray
from ...reaction.bath.standing import go_on, may_get_warmer, rest_of, row_of, stacked
from ...reaction.chemistry.stoichiometry import reserve
from ..hazards.verdicts import MARGIN_K, REFUSED, exceeded, rules, severity
from .inputs import Inputs
from .pours import (
    SECOND_PORTION,
    bulk,
    certain,
    cover,
    poured,
    side_by_side,
    where_needed,
    whole_tray,
)

SLIVER = 1e-9
"""Share of its foil [-] with which a board that is clear already goes on: it is clear again at
once, and needs no case of its own."""
LEFT_STANDING, DAY = hour, 24 * hour
"""How long every bath is left standing after the board is out, to be judged [s]: first an hour,
then on to a day."""


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
    before_second : array or None
        How warm the bath is before the second portion is poured [K]; None without one.
    changed : dict
        What differs between variants, as `pours.poured` takes it [units there].
    """

    inputs: Inputs
    pours: dict[str, Solution]
    first_bath: Solution
    mixture: Solution
    run: EtchRun
    bath_after: Solution
    tray: Tray
    second_due: tuple[Any, Any] | None
    before_second: Any
    changed: Mapping[str, Any]

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules read, a band each.

        Times [s], peak [K], acid [mol/m³], peroxide [kg/kg], volume [m³], reserve and depth over
        what covers the board [-]. With two portions acid and peroxide are those of the stronger of
        `first_bath` and `mixture`, and the depth is that of the shallower. Then what is certain
        before anything is poured, see `pours.certain`; and how warm the bath is before the second
        portion [K].
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
            "volume": bulk(self.mixture),
            "cover": np.minimum(*depth),
        }
        # what is the same in every draw is a band too, so that all rules read alike
        shape, draws = np.shape(self.run.time_to_clear), self.run.draws
        bands = {
            name: Band.of(np.broadcast_to(value, shape), draws) for name, value in values.items()
        }
        alike = certain(self.inputs, **self.changed)
        alike["second_bath_temperature"] = self._warmth_before_second()
        return bands | {name: one_value(value, shape) for name, value in alike.items()}

    def _warmth_before_second(self) -> Any:
        """Return how warm 1 in 10 of the baths that need the second portion is before it [K]."""
        if self.second_due is None:
            return 0.0
        is_needed, _ = self.second_due
        draws = is_needed.shape[-1]
        # those that need it come last, at their place among themselves
        warmth = np.sort(np.where(is_needed, np.asarray(self.before_second), 0.0), axis=-1)
        count = is_needed.sum(axis=-1, keepdims=True)
        place = draws - count + np.ceil(0.9 * count).astype(int) - 1
        return np.take_along_axis(warmth, np.maximum(place, 0), axis=-1)


@dataclasses.dataclass(frozen=True, eq=False)
class Outlook(Etched):
    """What mixtures do to a board, and left standing for a day afterwards.

    Parameters
    ----------
    after, day : Standing
        The bath in the hour after, and in the whole day after [K, m³, mol/m³]. Not knowing how
        slowly peroxide decays must not make it look cooler: see `RateParameters.for_heat_after`.
    later : Standing
        The same day by the draws as they are, for what may then be left [mol/m³].
    """

    after: Standing
    day: Standing
    later: Standing

    @property
    def bands(self) -> dict[str, Band]:
        """What the rules and the words read, a band each: `Etched.bands`, and the day after.

        Its peak, that of its first hour [K], and the oxygen of that hour in volumes of the
        bath [-].
        """
        draws = self.run.draws
        # the day holds the hour: its peak is the warmest of both
        warmest = Band.of(np.asarray(self.day.peak_temperature), draws)
        standing = {
            "standing_peak": warmest,
            "hour_peak": Band.of(np.asarray(self.after.peak_temperature), draws),
            "day_peak": warmest,
            "oxygen": Band.of(np.asarray(self.after.oxygen / bulk(self.mixture)), draws),
        }
        return super().bands | standing


class Judged(NamedTuple):
    """Verdicts on variants, S of them.

    `severity`: a place in `VERDICTS` each, shape (S,) [-]. `etching`: all of them etched. `bands`:
    all that the rules read of them; "standing_peak" and "hour_peak" are 0 K where a variant was not
    left standing. `stood`: which were, shape (S,).
    """

    severity: Any
    etching: Etched
    bands: dict[str, Band]
    stood: Any


def one_value(value: Any, shape: tuple[int, ...]) -> Band:
    """Return the band of a value that is the same in every draw [own unit], of a shape [-]."""
    values = np.broadcast_to(np.asarray(value, dtype=float), shape)
    end = values[..., 0]
    never = np.isinf(end).astype(float)
    return Band(low=end, middle=end, high=end, never=never, values=values)


def still_there(standing: Standing, mixture: Solution) -> Any:
    """Return the share of the peroxide mixed in that a standing bath holds [-]; 0 if none was."""
    # 1 where there was none: no 0 / 0
    start = np.asarray(mixture.amount("H2O2")) / bulk(mixture)
    share = np.asarray(standing.peroxide) / np.where(start > 0, start, 1.0)
    return np.where(start > 0, share, 0.0)


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
        return _in_two_portions(inputs, pours, bath, parameters, bath_effects_off, heat, changed)

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
        before_second=None,
        changed=changed,
    )


def _in_two_portions(
    inputs: Inputs,
    pours: dict[str, Solution],
    first_bath: Solution,
    parameters: RateParameters,
    without: tuple[str, ...],
    heat: bool,
    changed: Mapping[str, Any],
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
    portion = where_needed(~is_clear, pours[SECOND_PORTION], early_run.draws)
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
        before_second=np.asarray(early_run.end["T"]),
        changed=changed,
    )


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


def outlook(
    inputs: Inputs,
    *,
    parameters: RateParameters | None = None,
    history: bool = False,
    **changed: Any,
) -> Outlook:
    """Mix, etch and leave standing for a day, over all draws.

    Etching and standing go by the decay of `RateParameters.for_heat_after`; only what may be left
    after the day goes by the draws as they are.

    Parameters
    ----------
    inputs, parameters, history, **changed
        As for `etched` [units there]; the parameters as they are.

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
    # peroxide decays in the tray too: not knowing how slowly must not make it look cooler there
    heat = parameters.for_heat_after()
    etching = etched(inputs, parameters=heat, history=history, **changed)
    # the bath does not stop when the board is out: what it then does is part of the verdict
    after, day, later = left_standing(etching, parameters)
    # not `dataclasses.asdict`, which would take the runs and liquids apart too
    fields = {field.name: getattr(etching, field.name) for field in dataclasses.fields(Etched)}
    return Outlook(**fields, after=after, day=day, later=later)


def left_standing(
    etching: Etched, parameters: RateParameters
) -> tuple[Standing, Standing, Standing]:
    """Leave baths standing: an hour and a day to be judged, and a day by the draws as they are.

    Parameters
    ----------
    etching : Etched
        With its bath when the board comes out.
    parameters : RateParameters
        The draws as they are.

    Returns
    -------
    tuple of three Standing
        The hour and the day with the draws for heat after the board, and the day with the draws as
        they are [K, m³, mol/m³]. Of a bath that is refused by then the day is followed only where
        it may get warmer yet: the rest of it is NaN.
    """
    shape = np.shape(etching.run.time_to_clear)
    # both sets of draws side by side: many baths at once cost little more than few
    both = stacked(parameters.for_heat_after(), parameters, len(shape))
    start, tray = Start.of(etching.bath_after), etching.tray
    first = stand(start, tray, LEFT_STANDING, both)
    after = row_of(first, 0)
    levels = _levels(etching.bands, np.asarray(after.peak_temperature))
    goes_on = np.broadcast_to(levels[..., None] < REFUSED, first.peak_temperature.shape).copy()
    is_refused = ~goes_on[0]
    if is_refused.any():
        goes_on[0] |= may_get_warmer(rest_of(start, first), tray, both, first.peak_temperature)[0]
    whole = go_on(start, first, tray, DAY - LEFT_STANDING, both, goes_on)
    return after, row_of(whole, 0), row_of(whole, 1)


def judged(inputs: Inputs, variants: Sequence[Inputs], worst: int) -> Judged:
    """Find how severe the verdict on each variant is.

    A variant is left standing only if it is not already so bad that it need not be.

    Parameters
    ----------
    inputs : Inputs
        What the variants share.
    variants : sequence of Inputs
        They differ as `pours.side_by_side` says, and in nothing else.
    worst : int
        Severity [place in `VERDICTS`] from which on a bath need not be left standing.

    Returns
    -------
    Judged
        Severity of each [place in `VERDICTS`], the variants etched, and what the rules read.
    """
    # what does not differ between variants is read from `inputs` alone
    for variant in variants:
        assert variant.second == inputs.second
        assert variant.used_bath is inputs.used_bath and variant.acid is inputs.acid
    heat = RateParameters.plausible(inputs.draws).for_heat_after()
    etching = etched(inputs, parameters=heat, **side_by_side(variants))
    shape, bands = np.shape(etching.run.time_to_clear), etching.bands
    # first without the day of standing: at 0 K no rule on it falls
    hour_peak, peak = np.zeros(shape), np.zeros(shape)
    levels = _levels(bands, peak)
    stood = levels < worst

    # then an hour of it, and the rest of the day only where that may still matter
    which = np.flatnonzero(stood)
    if which.size:
        start, tray = _some_baths(etching, which)
        first = stand(start, tray, LEFT_STANDING, heat)
        hour_peak[which] = peak[which] = np.asarray(first.peak_temperature)
        goes_on = _levels(bands, peak)[which, None] < worst
        goes_on = goes_on & _may_exceed_more(rest_of(start, first), tray, heat, peak[which])
        day = go_on(start, first, tray, DAY - LEFT_STANDING, heat, goes_on)
        peak[which] = np.asarray(day.peak_temperature)
        levels = _levels(bands, peak)
    draws = etching.run.draws
    bands |= {"standing_peak": Band.of(peak, draws), "hour_peak": Band.of(hour_peak, draws)}
    return Judged(levels, etching, bands, stood)


def _may_exceed_more(rest: Start, tray: Tray, parameters: RateParameters, peak: Any) -> Any:
    """Return whether standing baths may yet exceed a limit that their peaks [K] do not.

    A limit counts with its margin and without.
    """
    ends = [rule.limit for rule in rules() if rule.quantity == "standing_peak"]
    limits = np.unique([*ends, *(end - MARGIN_K for end in ends)])
    # the next limit above each peak; there is none above the last
    places = np.searchsorted(limits, peak)
    next_limit = limits[np.minimum(places, len(limits) - 1)]
    gets_there = may_get_warmer(rest, tray, parameters, next_limit)
    return gets_there & may_get_warmer(rest, tray, parameters, peak) & (places < len(limits))


def _levels(bands: Mapping[str, Band], peak: Any) -> Any:
    """Return severities by bands and the peaks of standing baths [K]."""
    standing = {"standing_peak": Band.of(peak, peak.shape[-1])}
    return np.asarray(severity(exceeded({**bands, **standing})))


def _some_baths(etching: Etched, which: Any) -> tuple[Start, Tray]:
    """Return some of the variants when the board comes out, and their tray [m²]."""
    bath, tray = etching.bath_after, etching.tray
    fractions = {substance: fraction[which] for substance, fraction in bath.fractions.items()}
    some = Solution(bath.plain_mass[which], bath.plain_T[which], fractions, bath.draws)
    open_area = np.asarray(tray.open_area)
    if open_area.ndim == 2:  # each variant has a tray of its own: see `whole_tray`
        tray = dataclasses.replace(tray, open_area=open_area[which])
    return Start.of(some), tray


def part(band: Band, which: Any) -> Band:
    """Return a band of some of its scenarios [own unit]."""
    return Band(
        low=band.low[which],
        middle=band.middle[which],
        high=band.high[which],
        never=band.never[which],
        values=band.values[which],
    )
