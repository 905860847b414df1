"""What a bath, an open bottle and a spill put into the air near somebody: computed once.

Each row is the most that is breathed, for "dangerous at once" stands against that: outdoors a
spill is worst at first, and weakens.
"""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np

from ...bench.air import (
    PPM,
    Limit,
    bath_source,
    breathe,
    chlorine_ceiling,
    limits,
    mass_per_air,
    open_bottle,
    spill,
    tray,
    water_lost,
    workplace,
)
from ...bench.air.exposure import AT_WORK
from ...bench.plan.planning import Plan, planned
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import celsius, cm, hour, minute, mL, mm, percent
from ...matter.solution import Solution
from ...matter.vapour import hydrogen_chloride
from ...reaction.bath.film_properties import PRESSURE, R
from ..workshop import PAIRS, bath

ROOM = celsius(20)
"""Air, bottle and spill are as warm [K]."""
ACIDS = (10.0, 15.0, 20.0, 25.0, 31.0, 36.0)
"""Acid in the bottle, to choose from [% by weight]."""
MILD, STRONG_PAIR = "mild", "strong"
STRONG, MILD_ACID = PAIRS[STRONG_PAIR].acid, PAIRS[MILD].acid
"""The workshop's strong acid and its mild one [% by weight]: first and second question."""
OVER_ACIDS = (5.0, *ACIDS)
"""Acid in the table of what stands right over it [% by weight]: the first is about the bath's."""
SHUT_ROOM, GARAGE, FAN, OPEN_AIR = "shut room", "shut garage", "window and fan", "open air"
PLACES = (SHUT_ROOM, GARAGE, FAN, OPEN_AIR)
"""Where somebody may stand."""
BATH_PERCENT = 5
"""Acid of the mild bath as it is mixed, as it is told [% by weight]; tests hold it to the plan."""
BATH_TIME, BOTTLE_TIME, SPILL_TIME = 15 * minute, 10 * minute, 15 * minute
"""How long each has been there [s]."""
EMPTY, NECK = 40 * mm, 25 * mm
"""Air over the acid in the bottle's neck, and how wide the neck is [m]."""
USUAL_TRAY = 150 * cm**2
"""How wide the mild bath is, as it is told [m²]; tests hold it to the plan."""
SPILT, LITTLE_SPILT = 100 * mL, 10 * mL
"""What is spilt, and a little of it [m³]."""
WATER, DISH = 150 * mL, 150 * cm**2
"""Water in a dish that would prove the page wrong [m³], and how wide the dish is [m²]."""
SMELL, MOMENT, DANGER = "smell", "15 min", "dangerous at once"
"""Kinds of limit that are drawn; the second is GB's over a quarter of an hour and US law's ever."""
LARGE_TRAY, LARGE_TIME = 2000 * cm**2, 1 * hour
"""A tray for a large board [m²], and how long it stands open [s]."""
DISH_TIME, NECK_TIME = 3 * hour, 7 * 24 * hour
"""How long the dish stands, and how long the bottle of water [s]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Breathed:
    """What is in the air half a metre from a bath, an open bottle and a spill, each alone.

    Parameters
    ----------
    acid : float
        In the bottle, and spilt [% by weight]; the bath is always the mild one.
    place : str
        One of `PLACES`.
    bath, bottle, spill : Band
        Most acid gas where somebody breathes in that time [mol/mol].
    bottle_times, spill_times : Band
        The same over that of the bath, draw by draw [-].
    peroxide : Band
        Most peroxide of the bath where somebody breathes [mol/mol].
    peroxide_times : Band
        The same over its acid gas, draw by draw [-].
    room : Band
        Acid gas in the room as a whole at the end of the spill [mol/mol]: 0 outdoors.
    """

    acid: float
    place: str
    bath: Band
    bottle: Band
    spill: Band
    bottle_times: Band
    spill_times: Band
    peroxide: Band
    peroxide_times: Band
    room: Band

    @property
    def rows(self) -> tuple[Band, Band, Band]:
        """Return bath, bottle and spill, in the order of the picture [mol/mol]."""
        return self.bath, self.bottle, self.spill

    @property
    def cases(self) -> int:
        """How many plausible cases there are [-]."""
        return int(self.spill.values.size)

    def spill_over(self, share: float) -> int:
        """Count the plausible cases in which the spill gives more than a share [mol/mol]."""
        return int(np.sum(self.spill.values > share))


@cache
def breathed(acid: float = STRONG, place: str = SHUT_ROOM) -> Breathed:
    """Return what is breathed beside each thing, acid so strong [% by weight], at a place."""
    strength = percent(acid)
    plan = mild_plan()
    tub = breathe(bath_source(plan), place, BATH_TIME)
    peroxide = breathe(bath_source(plan), place, BATH_TIME, gas="H2O2")
    bottle = breathe(open_bottle(strength, EMPTY, NECK, ROOM), place, BOTTLE_TIME)
    puddle = breathe(spill(SPILT, strength, ROOM), place, SPILL_TIME)
    return Breathed(
        acid,
        place,
        tub.band("peak"),
        bottle.band("peak"),
        puddle.band("peak"),
        _band(bottle.peak / tub.peak),
        _band(puddle.peak / tub.peak),
        peroxide.band("peak"),
        _band(peroxide.peak / tub.peak),
        puddle.band("room"),
    )


@cache
def mild_plan() -> Plan:
    """Return the workshop's mild bath over its board: the bath of the page."""
    with collecting_warnings():
        return planned(bath(MILD))


def bath_acid() -> float:
    """Return the acid of that bath as it is mixed, in the middle [kg/kg]."""
    return float(np.median(mild_plan().mixture.mass_fraction("HCl")))


def bath_warmth() -> Band:
    """Return how warm that bath gets while it etches [K]."""
    return _band(mild_plan().run.peak_temperature)


@cache
def large_tray() -> Band:
    """Return the most peroxide near a large tray of that bath in the shut room [mol/mol]."""
    plan = mild_plan()
    source = tray(plan.mixture, LARGE_TRAY, plan.run.peak_temperature)
    return breathe(source, SHUT_ROOM, LARGE_TIME, gas="H2O2").band("peak")


@cache
def little_spill() -> Band:
    """Return the most acid gas near a little of the strong acid, spilt in the shut room [-]."""
    return breathe(spill(LITTLE_SPILT, percent(STRONG), ROOM), SHUT_ROOM, SPILL_TIME).band("peak")


@cache
def over_liquid(acid: float) -> float:
    """Return the acid gas right over acid so strong [% by weight], as a share of the air [-]."""
    return float(hydrogen_chloride(ROOM, percent(acid)) / PRESSURE)


def each_step() -> float:
    """Return how many times as much each 5 % more gives, from 10 to 25 % on average [-]."""
    return float((over_liquid(25.0) / over_liquid(10.0)) ** (1 / 3))


@cache
def less_than_at_first(place: str, acid: float = STRONG) -> Band:
    """Return how many times less the spill gives at a place than in the shut room [-]."""
    return _band(breathed(acid).spill.values / breathed(acid, place).spill.values)


@cache
def less_with_mild_acid() -> Band:
    """Return how many times less a spill of the mild acid gives than of the strong one [-]."""
    return _band(breathed(STRONG).spill.values / breathed(MILD_ACID).spill.values)


@cache
def in_this_order(place: str = SHUT_ROOM) -> int:
    """Count the plausible cases with mild acid in which spill, bath, bottle is the order [-]."""
    air = breathed(MILD_ACID, place)
    is_so = (air.spill.values > air.bath.values) & (air.bath.values > air.bottle.values)
    return int(np.sum(is_so))


def room_volume(place: str = SHUT_ROOM) -> float:
    """Return the volume of a room [m³]; of the shut room where a place has no walls."""
    volume = workplace(place).volume or workplace(SHUT_ROOM).volume
    assert volume is not None, "a room has walls"
    return volume


def weight_of_ppm() -> float:
    """Return what one ppm of acid gas weighs in a cubic metre of air [kg/m³]."""
    return float(mass_per_air(PPM, "HCl", ROOM))


def spilt_acid() -> float:
    """Return the HCl in what is spilt of the strong acid [kg]."""
    spilt = Solution.of(volume=SPILT, T=ROOM, HCl=percent(STRONG))
    return float(spilt.mass * percent(STRONG))


@cache
def chlorine_at_most(place: str = SHUT_ROOM) -> float:
    """Return the chlorine in a room's air if all acid of the bath became it [mol/mol].

    It is a mean over the room, and near the bath there is more. The open air has no volume: what
    is returned there is that of the shut room.
    """
    mixture = mild_plan().mixture
    acid, peroxide = (float(np.median(mixture.amount(name))) for name in ("HCl", "H2O2"))
    air = PRESSURE * room_volume(place) / (R * ROOM)
    return float(chlorine_ceiling(acid, peroxide) / air)


@cache
def limit(kind: str, substance: str = "HCl", place: str = "GB") -> Limit:
    """Return the first limit of a kind of a substance [mol/mol] that goes for a place."""
    return next(each for each in limits(place, substance) if each.kind == kind)


@cache
def least_at_work(substance: str) -> float:
    """Return the lowest limit at work of a substance, wherever it goes [mol/mol]."""
    # elsewhere the strictest that is known goes
    return min(row.value for row in limits("elsewhere", substance) if row.kind in AT_WORK)


@cache
def weighed() -> tuple[Band, Band]:
    """Return what water loses from the dish and from the bottle [kg], by the steps of acid gas."""
    pure = Solution.of(volume=WATER, T=ROOM)
    dish = water_lost(tray(pure, DISH), SHUT_ROOM, DISH_TIME)
    bottle = water_lost(open_bottle(0.0, EMPTY, NECK, ROOM), SHUT_ROOM, NECK_TIME)
    return _band(dish), _band(bottle)


def _band(values: Any) -> Band:
    """Return the band of one value for each draw [any unit]."""
    plain = np.asarray(values)
    return Band.of(plain, plain.size)
