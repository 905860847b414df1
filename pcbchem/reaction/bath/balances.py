"""The balances of a bath: copper, chloride, oxidant and heat, and how fast they change.

Four states tell all of a bath: time, share of the foil gone, oxidant and temperature. Copper and
chloride need none: they follow from the foil by algebra, and so close exactly.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray
from ...common.limits import check_values
from ...matter.vapour import saturation_pressure
from .film import film_constants, film_pass
from .film_properties import (
    CUPRIC_HEAT,
    DECAY_HEAT,
    ETCH_HEAT,
    Composition,
    R,
    water_activity,
)
from .parameters import RateParameters
from .setup import LEAST_DEPTH, ROOM, Board, Start, Tray
from .stepper import HOTTEST_BATH, OXIDANT, SHARE, TEMPERATURE, TIME

COLDEST_TRIAL, HOTTEST_TRIAL = 240.0, 390.0
"""A step that tries a bath outside [K] is judged at the edge, fails and is made shorter."""
BOILING = 2.0
"""So far below `HOTTEST_BATH` heat begins to boil the bath instead of warming it [K]."""
SLOWEST = 0.1
"""The clock is time once copper goes slower than this share of the foil in the longest time [-]."""
DECAY_REFERENCE = 340.15
"""Temperature at which the decay of peroxide is stated [K]."""
DIRECT_HALF = 0.2
"""Peroxide in the bath at which half of the copper goes by the direct reaction [mol/m³]."""
HUMIDITY = 0.5
"""Humidity of the room [-] (assumed)."""


def flat(value: ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    """Lay a value that broadcasts to the shape out in a row, one element a scenario [own unit]."""
    return np.broadcast_to(np.asarray(value, dtype=float), shape).reshape(-1)


def run_constants(
    start: Start,
    board: Board | None,
    tray: Tray,
    parameters: RateParameters,
    without: tuple[str, ...],
    longest: float,
    shape: tuple[int, ...],
) -> dict[str, Any]:
    """Collect everything that stays the same in a run.

    Parameters
    ----------
    start : Start
        What the bath holds.
    board : Board or None
        None where the bath is left standing.
    tray : Tray
        Its surface and air count here, and movement and facing where there is a board.
    parameters : RateParameters
        The rate model's parameters [units in their table].
    without : tuple of str
        Effects that are left out.
    longest : float
        When the run ends [s].
    shape : tuple of int
        Shape of the scenarios.

    Returns
    -------
    dict
        Constants by name [SI], as `slopes` and `composition` take them: numbers as arrays without
        axes, and arrays with one element a scenario.

    Raises
    ------
    ValueError
        A bath of hardly any depth.
    """
    area: Any = 0.0
    foil: Any = 1.0
    if board is not None:
        area, foil = board.area, board.foil.amount
    room = ROOM if tray.T_air is None else tray.T_air
    named = start.values() | parameters.values() | {"area": area, "foil": foil, "room": room}
    values = {name: _spread(value, shape) for name, value in named.items()}
    area, volume, foil, room = (values[name] for name in ("area", "volume", "foil", "room"))
    surface = tray.surface(volume, area)
    if tray.open_area is not None:
        surface = _spread(tray.open_area, shape)
    wall = tray.wall(surface)
    if tray.perimeter is not None:
        wall = _spread(tray.perimeter, shape)
    depth = volume / surface
    check_values("depth of the bath (volume over open area)", depth, LEAST_DEPTH, 1e6, "m")

    copper = values["CuCl2"] + values["CuCl"]
    chloride = values["HCl"] + 2 * values["CuCl2"] + values["CuCl"]
    depletes = "depletion" not in without
    constants: dict[str, Any] = {}
    most: Any = np.inf
    if board is not None:
        constants = film_constants(values, tray, area, without)
        if depletes:
            # each copper needs a chloride at the least: no more of the foil can go than that
            most = np.maximum(chloride - copper, 0.0) * volume / (foil * area)
    return constants | {
        "most": most,
        "copper": copper,
        "chloride": chloride,
        "foil": foil,
        "bare": area / volume,
        "slowest": SLOWEST * foil / longest,
        "loss": values["loss_factor"] * surface / volume,
        # the wetted wall, depth = volume / surface, over the volume
        "wall_loss": values["loss_factor"] * values["wall_loss"] * wall / surface,
        "room": room,
        "damp": HUMIDITY * saturation_pressure(room),
        "decay": values["decay_rate"] * values["decay_factor"],
        "decay_temperature": values["decay_energy"] / R,
        "decay_half": values["decay_half"],
        "etches": board is not None,
        "heats": "bath heating" not in without,
        "depletes": depletes,
    }


def _spread(value: Any, shape: tuple[int, ...]) -> FloatArray:
    """Lay an array out with one element a scenario; a single number stays one."""
    if np.ndim(value) == 0:
        return np.asarray(value, dtype=float)
    return flat(value, shape)


def composition(c: dict[str, Any], dissolved: Any, oxidant: Any) -> Composition:
    """Return what a bath holds, from what it has taken up and the oxidant that is left.

    The balances of copper and chloride are algebra here. Cu(I) is what the oxidant lacks, or what
    chloride does: two bind a Cu(II), one a Cu(I).

    Parameters
    ----------
    c : dict
        Constants, from `run_constants`.
    dissolved : float or array
        Copper of the foil that is in the bath [mol/m³].
    oxidant : float or array
        Oxidant in electrons, less than 0 where Cu(I) waits for it [mol/m³].

    Returns
    -------
    Composition
        What it holds [mol/m³].
    """
    # a step that is tried may take back more copper than there is: no density may turn negative
    copper = np.maximum(c["copper"] + dissolved, 0.0)
    chloride = c["chloride"]
    if not c["depletes"]:
        chloride = chloride + 2 * dissolved
    free = chloride - 2 * copper  # less than 0: too little chloride for so much Cu(II)
    cuprous = np.minimum(np.maximum(-np.minimum(oxidant, free), 0.0), copper)
    return Composition(
        acid=np.maximum(free + cuprous, 0.0),
        peroxide=0.5 * np.maximum(oxidant + cuprous, 0.0),
        cupric=copper - cuprous,
        cuprous=cuprous,
    )


def slopes(c: dict[str, Any], y: FloatArray, warmth: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return how fast the states of a bath change, by the clock of its run.

    Parameters
    ----------
    c : dict
        Constants, from `run_constants`.
    y : array
        Rows `STATES` [s, share, mol/m³, K], shape (4, M).
    warmth : array
        Warmth of the film [K m³/mol], shape (M,).

    Returns
    -------
    tuple of array
        Slopes per unit of the clock, shape (4, M) [s, share, mol/m³, K], and the new warmth
        [K m³/mol]. The clock is the foil while copper goes: 1 is all of it.
    """
    # a step that is tried and rejected may be far off: no exponential may overflow meanwhile
    T = y[TEMPERATURE].clip(COLDEST_TRIAL, HOTTEST_TRIAL)
    foil, bare = c["foil"], c["bare"]
    bath = composition(c, y[SHARE] * foil * bare, y[OXIDANT])
    peroxide_decay = decay_in_bath(c, bath, T)
    flux: Any = 0.0
    into_bath: Any = 0.0  # mol of copper a second and m³ of bath
    if c["etches"]:
        film = film_pass(c, bath, T, warmth)
        flux, warmth = film.copper, film.warmth
        into_bath = flux * bare
        peroxide_decay = film.decay * bare + peroxide_decay

    # s per unit of the clock: where copper hardly goes the clock is time
    pace = foil / np.maximum(flux, c["slowest"])
    change = np.empty_like(y)
    change[TIME] = pace
    change[SHARE] = flux / foil * pace
    change[OXIDANT] = 0.0
    change[TEMPERATURE] = 0.0
    if c["depletes"]:
        change[OXIDANT] = -2 * (into_bath + peroxide_decay) * pace
    if c["heats"]:
        heat = peroxide_decay * DECAY_HEAT
        if c["etches"]:
            heat = _etch_heat(bath, into_bath) + heat
        heat = _less_boiling(heat - heat_loss(c, bath, T), T)
        change[TEMPERATURE] = heat / bath.heat_capacity * pace
    return change, warmth


def _etch_heat(bath: Composition, into_bath: Any) -> Any:
    """Return the heat that etching makes [W/m³] where so much copper goes in [mol/(m³ s)]."""
    # with peroxide the copper goes by it, and once that is spent by Cu(II): each has its heat
    direct = bath.peroxide / (bath.peroxide + DIRECT_HALF)
    return into_bath * (direct * ETCH_HEAT - (1 - direct) * CUPRIC_HEAT)


def _less_boiling(heat: Any, T: Any) -> Any:
    """Return the heat that warms a bath [W/m³]: near boiling, what would warm it makes steam."""
    if T.size and T.max() <= HOTTEST_BATH - BOILING:
        return heat
    warming = ((HOTTEST_BATH - T) / BOILING).clip(0.0, 1.0)
    return heat * np.where(heat > 0, warming, 1.0)


def decay_in_bath(c: dict[str, Any], bath: Composition, T: Any) -> Any:
    """Return the peroxide that Cu(II) turns to oxygen in the bath.

    Parameters
    ----------
    c : dict
        Constants, from `run_constants`.
    bath : Composition
        What the bath holds [mol/m³].
    T : float or array
        Its temperature [K].

    Returns
    -------
    float or array
        Peroxide that decays [mol/(m³ s)].
    """
    pace = c["decay"] * np.exp(c["decay_temperature"] * (1 / DECAY_REFERENCE - 1 / T))
    return pace * bath.peroxide * bath.cupric / (bath.cupric + c["decay_half"])


def heat_loss(c: dict[str, Any], bath: Composition, T: Any) -> Any:
    """Return the heat that leaves through surface, floor and walls of the tray [W/m³ of bath].

    18 W/(m² K) of the surface are natural convection (McAdams), radiation, and 5 through the floor
    (assumed). Pool evaporation (Shah 1992) adds 198 (dp / 2925 Pa)**1.24 W/m², with dp the pressure
    of water over the bath above that in the room. The wetted wall loses the parameter `wall_loss`
    [W/(m² K)] by convection and radiation outside.

    Parameters
    ----------
    c : dict
        Constants, from `run_constants`.
    bath : Composition
        What the bath holds [mol/m³].
    T : float or array
        Its temperature [K].

    Returns
    -------
    float or array
        Heat lost [W/m³].
    """
    drive = water_activity(bath.acid, bath.peroxide) * saturation_pressure(T) - c["damp"]
    warmer = T - c["room"]
    loss = c["loss"] * (18.0 * warmer + evaporation_heat(drive))
    return loss + c["wall_loss"] * warmer


def evaporation_heat(drive: Any) -> Any:
    """Return the heat that water takes from an open surface into quiet air (Shah 1992) [W/m²].

    Parameters
    ----------
    drive : float or array
        Pressure of water over the liquid above that in the room [Pa]; below 0 nothing leaves.

    Returns
    -------
    float or array
        Heat [W/m²].

    Examples
    --------
    >>> print(f"{evaporation_heat(2925.0):.0f}")
    198
    """
    return 198.0 * (np.maximum(drive, 0.0) / 2925.0) ** 1.24


def oxygen_made(
    start: Start, shape: tuple[int, ...], oxidant: FloatArray, dissolved: Any
) -> FloatArray:
    """Return the oxygen given off, from oxidant that neither dissolved copper nor stayed.

    Parameters
    ----------
    start : Start
        What the bath held.
    shape : tuple of int
        Shape of the scenarios.
    oxidant : array
        Oxidant left by scenario, in electrons [mol/m³].
    dissolved : float or array
        Copper dissolved since the start [mol/m³].

    Returns
    -------
    array
        Oxygen by scenario [mol].
    """
    decay = np.maximum(0.5 * (flat(start.oxidant, shape) - oxidant) - dissolved, 0.0)
    oxygen: FloatArray = 0.5 * decay * flat(start.volume, shape)
    return oxygen


def is_spent(peroxide: Any, start: Any) -> Any:
    """Tell where peroxide is spent [both mol/m³]: at 1 % of its start, or next to nothing."""
    return peroxide <= 0.01 * start + 0.5
