"""The map behind the page: made quickly at first, in full when it is asked for again, then kept."""

from __future__ import annotations

import functools
from collections import OrderedDict
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...bench.hazards.verdicts import REFUSED, VERDICTS
from ...bench.mixtures import Mixtures, mixtures
from ...common.limits import InputError, collecting_warnings
from ...common.units import celsius, minute, mL, mL_per_cm2
from ...page.widget.controls import Field
from ..form import fields
from ..form.choices import SUBSTANCES
from ..form.entries import check_depth, place
from ..form.table import BATH_FOR_COPPER, CURSOR_STEP, LEAST_BATH, MOST_BATH
from ..workshop import USUAL

STEPS = 100 // CURSOR_STEP
"""Steps from none of a liquid to nothing else [-]: 231 mixtures."""
FULL, QUICK = 200, 40
"""Plausible baths of a map [-], and of the first look at it."""
MIX_IT = VERDICTS.index("mix it")
"""The mildest verdict [place among them]."""
MOST_KEPT = 8
"""Maps that are remembered [-]: who goes back to other bottles waits for none."""
PER_CM2 = Field(
    BATH_FOR_COPPER,
    "bath for the copper",
    "mL per cm²",
    LEAST_BATH,
    MOST_BATH,
    0.5,
    5.6,
    help="The same for every mixture, over each cm² of bare copper. More of it stays cooler.",
)
TIMES = Field("bath_times", "bath for the copper", "× usual", 0.1, 20, 0.1, 1)
"""What a class is asked instead of a volume."""
NOT_ON_THE_MAP = ("The bath", "A used bath, topped up", "Peroxide in two portions")
"""Groups of the planner's form that a mixture of two fresh bottles has no use for."""
SHARED = {
    heading: controls
    for heading, controls in fields.CONTROLS.items()
    if heading not in NOT_ON_THE_MAP
}
"""Groups of the planner's form that the map has too."""
NAMES = tuple(control.name for controls in SHARED.values() for control in controls)
NO_BATH = "that is too little to be a bath, or too shallow in its tray"
"""What is wrong with a bath of a class, whose limits are volumes."""
Key = tuple[tuple[str, Any], ...]
SHOWN: OrderedDict[Key, int] = OrderedDict()
"""Of what a map was shown last, and its plausible baths [-]."""


def key_of(values: Mapping[str, Any]) -> Key:
    """Return those values that a map is made of: no cursor and no window is among them."""
    names = (*NAMES, PER_CM2.name, TIMES.name)
    return tuple((name, values[name]) for name in names if name in values)


def bath_per_area(values: Mapping[str, Any]) -> float:
    """Return the bath over the bare copper [m³/m²]."""
    if TIMES.name in values:
        return float(values[TIMES.name]) * USUAL
    return float(values[PER_CM2.name]) * mL_per_cm2


def map_of(values: Mapping[str, Any]) -> Mixtures:
    """Return the map of the fields' values: a quick one first, a full one the second time.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    """
    key = key_of(values)
    draws = FULL if key in SHOWN else QUICK
    every = made(key, draws, STEPS)
    SHOWN[key] = draws
    SHOWN.move_to_end(key)
    while len(SHOWN) > MOST_KEPT:
        SHOWN.popitem(last=False)
    return wanting(every, values)


def shown_map(values: Mapping[str, Any]) -> Mixtures:
    """Return the map that was last shown of the fields' values: nothing better is asked for."""
    key = key_of(values)
    return wanting(made(key, SHOWN.get(key, QUICK), STEPS), values)


def full_map(values: Mapping[str, Any]) -> Mixtures:
    """Return the full map of the fields' values at once."""
    return wanting(made(key_of(values), FULL, STEPS), values)


def wanting(every: Mixtures, values: Mapping[str, Any]) -> Mixtures:
    """Return a map with the window and the warmest of the fields [min, °C]."""
    return wanted_of(every, values["window_from"], values["window_to"], values["hottest"])


@functools.lru_cache(maxsize=2 * MOST_KEPT)
def wanted_of(every: Mixtures, shortest: float, longest: float, hottest: float) -> Mixtures:
    """Return a map with a window [min] and a warmest [°C]: one and the same map each time.

    So a picture knows that nothing but its cursor has moved.
    """
    window = shortest * minute, longest * minute
    return every.wanting(window, float(celsius(hottest)))


def is_quick(every: Mixtures) -> bool:
    """Tell whether a map is only a first look."""
    return every.inputs.draws < FULL


@functools.lru_cache(maxsize=2 * MOST_KEPT)
def made(key: Key, draws: int, steps: int) -> Mixtures:
    """Make the map of some values with so many plausible baths and steps [-]."""
    values = dict(key)
    board, tray, T_bottles = fields.read_bench(values)
    per_area = bath_per_area(values)
    try:
        check_depth(PER_CM2.name, "tray_mm", board, tray, per_area)
    except InputError as error:
        # what is wrong with the size of a bath is said in mL, and no class is given any
        if TIMES.name not in values or error.unit not in ("mL", "mm"):
            raise
        raise InputError(TIMES.name, NO_BATH, about="", wrong="") from error
    with collecting_warnings():
        acid, peroxide = (fields.read_bottle(values, name, T_bottles) for name in SUBSTANCES)
    return mixtures(
        acid,
        peroxide,
        board,
        tray,
        place=place(values["place"]),
        bath_per_area=per_area,
        T_bottles=T_bottles,
        steps=steps,
        draws=draws,
    )


def counts_at(water: float, acid_of_rest: float) -> tuple[int, int, int]:
    """Return the nearest mixture of the map, in steps of water, acid and peroxide [-].

    Parameters
    ----------
    water, acid_of_rest : float
        Water of all, and acid of what is not water, by volume [%].

    Examples
    --------
    >>> print(counts_at(50, 50))
    (10, 5, 5)
    """
    waters = round(water / 100 * STEPS)
    rest = STEPS - waters
    acids = round(acid_of_rest / 100 * rest)
    return waters, acids, rest - acids


def sliders_at(counts: tuple[int, int, int]) -> dict[str, int]:
    """Return the sliders' values [%] of a mixture in steps [-]; of water alone only the water's.

    They go in twentieths, and that tells all mixtures of a map apart: of at most twenty steps half
    a twentieth is no half of a step.

    Examples
    --------
    >>> print(sliders_at((2, 6, 12)))
    {'water': 10, 'acid_of_rest': 35}
    """
    water, acid, peroxide = counts
    values = {"water": round(100 * water / STEPS)}
    if acid + peroxide:
        values["acid_of_rest"] = 5 * round(20 * acid / (acid + peroxide))
    return values


def place_of(every: Mixtures, counts: tuple[int, int, int]) -> int:
    """Return the place on the map of a mixture in steps [-]."""
    return every.nearest(*counts)


def planner_values(every: Mixtures, place: int, values: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return a mixture as values of the planner's fields, or None where it is refused.

    Parameters
    ----------
    every : Mixtures
        The map.
    place : int
        Of the mixture on it [-].
    values : dict
        Of the map's own fields [their units].

    Returns
    -------
    dict or None
        Every value of the planner's form [its units].
    """
    if every.severity[place] == REFUSED:
        return None
    total = every.inputs.bath_per_area * float(every.inputs.board.copper_area) / mL
    handed = dict(fields.STARTS)
    handed |= {name: values[name] for name in NAMES}
    handed |= zip(fields.PARTS, every.parts(place), strict=True)
    handed["total"] = float(f"{total:.4g}")  # 150, not 150.00000000000003: it stands in a field
    return handed


def acid_share(every: Mixtures) -> NDArray[np.float64]:
    """Return how much acid each mixture takes, in times that of equal parts without water [-]."""
    return every.shares[:, 1] / 0.5


def warmest_after(every: Mixtures) -> NDArray[np.float64]:
    """Return what 1 in 10 of each mixture's baths exceeds in the hour or the day after [K]."""
    return np.maximum(every.bands["hour_peak"].high, every.bands["standing_peak"].high)


def quickest(every: Mixtures) -> int | None:
    """Find the mixture that clears soonest, middle bath, of those that want no care.

    The quickest of all stands at the edge of what is refused: nobody is led there.
    """
    is_plain = every.severity == MIX_IT
    middle = np.where(is_plain, every.bands["time_to_clear"].middle, np.inf)
    place = int(np.argmin(middle))
    return place if np.isfinite(middle[place]) else None


def least_acid_as_quick(every: Mixtures, place: int) -> int | None:
    """Find the mixture with least acid that, not refused, clears no later than another, as a rule.

    Middle baths are compared, and the best verdict counts first.
    """
    middle = every.bands["time_to_clear"].middle
    is_as_quick = (every.severity < REFUSED) & (middle <= middle[place])
    places = np.flatnonzero(is_as_quick)
    if not places.size:
        return None
    acid = acid_share(every)
    return int(min(places, key=lambda each: (every.severity[each], acid[each], middle[each])))
