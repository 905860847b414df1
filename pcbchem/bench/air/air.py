"""What is breathed beside an open bath, bottle or spill: near it, in the room, and on average.

By vapour alone: chlorine, mist and fog are in no number here, see `bounds.unknowns`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...common.arrays import as_draws
from ...common.band import Band
from ...common.limits import (
    RangeWarning,
    check_choice,
    check_kind,
    check_number,
    collecting_warnings,
    warn_again,
)
from ...common.units import hour, minute
from ...matter.vapour import saturation_pressure
from ...reaction.bath.balances import HUMIDITY
from ...reaction.bath.film_properties import PRESSURE
from .exposure import MEASURES, Limit, mass_per_air
from .room import beside_you, exhausted, exhausted_twice
from .sources import BREATHED, GASES, Source
from .surface import TEMPERATURES
from .workplaces import Workplace
from .workplaces import workplace as workplace_of

QUARTER, SHIFT = 15 * minute, 8 * hour
"""What limits are averages over [s]."""
DURATIONS = (1.0, SHIFT)
"""How long a source is open [s]."""
STEP = minute
"""A spill weakens in steps of at most so long [s]; within one it is as strong as on average."""
NUMBERS = ("near", "room", "peak", "worst_quarter", "eight_hours", "released")
"""Fields of an `Air` that hold numbers."""


@dataclass(frozen=True, eq=False)
class Air:
    """What a source makes of the air in a workplace, by vapour alone; draws on the last axis.

    Parameters
    ----------
    source : Source
        What gives the gas off.
    workplace : Workplace
        Where.
    gas : str
        Which gas.
    duration : float
        How long it is open [s].
    near, room : array
        Half a metre away, and in the room, when it is covered [mol/mol]; outdoors the room is 0.
    peak : array
        Most there is near [mol/mol].
    worst_quarter : array
        Worst quarter of an hour, near it and then in the room [mol/mol].
    eight_hours : array
        The same over eight hours from the beginning, spent there, with nothing else [mol/mol].
    released : array
        Gas that has left the liquid [kg].
    draws : int
        Length of the draw axis [-].
    """

    source: Source
    workplace: Workplace
    gas: str
    duration: float
    near: Any
    room: Any
    peak: Any
    worst_quarter: Any
    eight_hours: Any
    released: Any
    draws: int

    def band(self, name: str) -> Band:
        """Return what 8 of 10 plausible cases lie between [mol/mol; kg of what is released].

        Raises
        ------
        InputError
            Another name than those of `NUMBERS`.
        """
        return Band.of(getattr(self, check_choice("name", name, NUMBERS)), self.draws)

    def over(self, limit: Limit) -> Any:
        """Return the share of draws in which a limit of this gas is passed [-].

        Each kind of limit stands against its own measure.

        Raises
        ------
        InputError
            A limit of another substance.
        """
        check_choice("substance of the limit", limit.substance, (self.gas,))
        return self.band(MEASURES[limit.kind]).over(limit.value)


def breathe(
    source: Source,
    workplace: str | Workplace,
    duration: float,
    draws: int | None = None,
    *,
    gas: str = "HCl",
    T_air: float = 293.15,
) -> Air:
    """Return what is breathed beside a source that is open for some time, in clean air before.

    Parameters
    ----------
    source : Source
        From `tray`, `bath_source`, `open_bottle` or `spill`; may be an array.
    workplace : str or Workplace
        One of `workplaces.NAMES`, or a place of your own.
    duration : float
        How long it is open [s], 1 s to 8 h.
    draws : int, optional
        How many draws [-], 1 to 400: 200, or as many as the source has.
    gas : str
        "HCl" or "H2O2", if the source holds it, or "H2O" (as if the air held no water before).
    T_air : float
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    Air
        Arrays over draws, every one by vapour alone.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        Scenarios where the draws stand.

    Examples
    --------
    >>> from pcbchem.bench.air import open_bottle
    >>> air = breathe(open_bottle(0.3145), "shut room", duration=600)
    >>> print(f"{1e6 * air.band('near').middle:.1f} ppm")
    0.4 ppm
    """
    check_kind("source", source, Source)
    place = workplace_of(workplace)
    duration = check_number("duration", duration, *DURATIONS, "s")
    T_air = check_number("T_air", T_air, *TEMPERATURES, "K")
    check_choice("gas", gas, GASES)
    if gas in BREATHED:
        # what it does not hold would read as air without any
        check_choice("gas", gas, source.gases)
    draws = source.draw_count(draws)

    outside: list[RangeWarning] = []
    with collecting_warnings(outside):
        share = source.share(gas, draws)
    warn_again(outside)
    stream = source.stream(gas, place, draws, T_air)
    course = _course(source, gas, (share, stream), place, duration, draws)
    course["released"] = mass_per_air(1.0, gas, T_air) * course["released"]
    shape = np.broadcast_shapes(np.shape(share), np.shape(stream), (draws,))
    numbers = {name: as_draws(np.broadcast_to(value, shape)) for name, value in course.items()}
    return Air(source, place, gas, duration, draws=draws, **numbers)


def _course(
    source: Source,
    gas: str,
    surface: tuple[Any, Any],
    place: Workplace,
    duration: float,
    draws: int,
) -> dict[str, Any]:
    """Follow a source and its room: shares [mol/mol], and what is released [m³ of gas].

    In each step the source is as strong as on average over it, and the room is exact. A surface is
    the share over it at first, and transfer times area.
    """
    share, stream = surface
    g = np.asarray(stream)
    beside = np.asarray(beside_you(place.speed(draws)))
    steps = math.ceil(duration / STEP)
    step = duration / steps
    times = step * np.arange(steps + 1)
    shape = np.broadcast_shapes(np.shape(share), g.shape, beside.shape)

    room = np.zeros((steps + 1, *shape))
    room_mean = np.zeros((steps, *shape))
    renewal = np.zeros(shape)
    if place.volume is None:
        at_end, on_average = source.course(gas, share, stream, step, steps)
    else:
        volume = place.volume
        fresh = np.asarray(place.air(draws))
        renewal = fresh / volume
        rate = (g + fresh) / volume
        once, twice = exhausted(rate, step), exhausted_twice(rate, step)
        kept = np.exp(-rate * step)

        def fill(number: int, over: Any) -> Any:
            inflow = g * over / volume
            room[number + 1] = room[number] * kept + inflow * once
            room_mean[number] = (room[number] * once + inflow * twice) / step
            return room_mean[number]

        at_end, on_average = source.course(gas, share, stream, step, steps, fill)
    near = (g * at_end + beside * room) / (g + beside)
    near_mean = (g * on_average + beside * room_mean) / (g + beside)

    dose = np.concatenate([np.zeros((1, *shape)), np.cumsum(near_mean * step, axis=0)])

    def dose_until(moment: float) -> Any:
        # once the source is covered its room is all that is left of it
        if moment >= duration:
            return dose[-1] + room[-1] * exhausted(renewal, moment - duration)
        k = min(int(moment / step), steps - 1)
        return dose[k] + (dose[k + 1] - dose[k]) * (moment - times[k]) / step

    begins = list(times)
    if duration > QUARTER:
        begins.append(duration - QUARTER)
    quarters = [(dose_until(begin + QUARTER) - dose_until(begin)) / QUARTER for begin in begins]
    return {
        "near": near[-1],
        "room": room[-1],
        "peak": np.max(near, axis=0),
        "worst_quarter": np.max(quarters, axis=0),
        "eight_hours": dose_until(SHIFT) / SHIFT,
        "released": np.sum(g * (on_average - room_mean) * step, axis=0),
    }


def water_lost(
    source: Source,
    workplace: str | Workplace,
    duration: float,
    draws: int | None = None,
    *,
    humidity: float = HUMIDITY,
    T_air: float = 293.15,
) -> Any:
    """Return how much water leaves a source: what a kitchen scale can prove wrong.

    The room is so large that its humidity stays.

    Parameters
    ----------
    source : Source
        A tray, or a bottle.
    workplace : str or Workplace
        One of `workplaces.NAMES`, or a place of your own.
    duration : float
        How long [s], 1 s to 7 days.
    draws : int, optional
        How many draws [-], 1 to 400: 200, or as many as the source has.
    humidity : float
        Of the air [-], 0 to 1.
    T_air : float
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    Draws
        Water [kg]; 0 where the air is moister than the liquid.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        Scenarios where the draws stand.

    Examples
    --------
    >>> from pcbchem.bench.air import open_bottle
    >>> lost = water_lost(open_bottle(0.0), "shut room", 86_400)
    >>> print(f"{1000 * np.median(lost):.1f} g")
    0.5 g
    """
    check_kind("source", source, Source)
    place = workplace_of(workplace)
    duration = check_number("duration", duration, 1.0, 7 * 24 * hour, "s")
    humidity = check_number("humidity", humidity, 0.0, 1.0, "")
    T_air = check_number("T_air", T_air, *TEMPERATURES, "K")
    draws = source.draw_count(draws)
    in_room = humidity * saturation_pressure(T_air) / PRESSURE
    excess = np.maximum(source.share("H2O", draws) - in_room, 0.0)
    stream = source.stream("H2O", place, draws, T_air)
    return as_draws(mass_per_air(1.0, "H2O", T_air) * stream * excess * duration)
