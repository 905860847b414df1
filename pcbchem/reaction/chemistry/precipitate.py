"""How much copper stays dissolved over a solid of it, at a pH: neutral and clear is not clean.

Over a named solid, at 25 °C and without activities: salt raises the figures by a factor of `SALT`.
Which solid it is, and how far it has aged, is more in doubt than all the rest.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import Draws, FloatArray, as_draws, common_shape
from ...common.limits import InputError, check_choice, check_values
from ...common.units import mol_per_L

PH = (0.0, 14.0)
"""From the strongest acid to the strongest lye that the constants tell of [-]."""
SOLIDS = ("fresh", "aged", "oxide", "malachite", "basic chloride")
"""What copper stands over: hydroxide as it falls and aged, its oxide, basic carbonate, basic
chloride."""
SALT = (1.0, 2.5)
"""By what factor the salt of a neutralised bath raises what stays dissolved [-] (computed)."""
WET = (5.0, 10.0)
"""By what factor mud is heavier wet than dry [-] (common practice, no source)."""
MOST_IN_BATH = {"acid": 20_000.0, "copper": 6000.0, "chloride": 20_000.0, "carbonate": 2000.0}
"""Most of each that a bath and what was stirred into it can hold [mol/m³]."""
MOST_AMMONIA = 1000.0
"""Most ammonia that the curve is drawn for [mol/m³]."""
HENRY = 3.3e-4
"""Carbon dioxide that water dissolves at 25 °C [mol/(m³ Pa)] (Sander, from memory; 3.6e-4 was read
in the table of an air model)."""
ATMOSPHERE = 101_325.0
"""Pressure of carbon dioxide over a liquid that fizzes [Pa]."""
STEP = 0.002
"""Steps of pH in which the onset is looked for [-]."""
KEEPERS = ("thiourea", "ammonia", "EDTA")
"""What keeps copper dissolved: of waste with them no amount is told."""
MUD_MASS = {
    "fresh": 0.09756,
    "aged": 0.09756,
    "oxide": 0.079545,
    "malachite": 0.221116 / 2,
    "basic chloride": 0.213567 / 2,
}
"""Dry mud for each copper in it [kg/mol], from the IUPAC standard atomic weights."""


@cache
def constants() -> dict[str, float]:
    """Return the constants of copper in water at 25 °C by name [log10, in mol/L]."""
    return {row["name"]: float(row["log10_constant"]) for row in tables.read("copper_constants")}


def hydrogen_ion(pH: ArrayLike) -> Any:
    """Return [H+] [mol/m³] at a pH, without activities."""
    return mol_per_L * 10.0 ** -np.asanyarray(pH)


def hydroxide_ion(pH: ArrayLike) -> Any:
    """Return [OH−] [mol/m³] at a pH, without activities."""
    return mol_per_L * 10.0 ** (constants()["water"] + np.asanyarray(pH))


def dissolved_carbonate(pH: ArrayLike, pressure: ArrayLike) -> tuple[Any, Any, Any]:
    """Return what water holds under carbon dioxide: as CO2, HCO3− and CO3−− [mol/m³].

    Parameters
    ----------
    pH : float or array
        0 to 14 [-].
    pressure : float or array
        Of carbon dioxide over the liquid [Pa].

    Returns
    -------
    tuple of float or array
        Each of the three [mol/m³].

    Examples
    --------
    >>> print([f"{amount:.2f}" for amount in dissolved_carbonate(7.0, 40.0)])
    ['0.01', '0.06', '0.00']
    """
    first, second = _carbonate_steps(pH)
    gas = HENRY * np.asanyarray(pressure)
    return gas, gas * first, gas * first * second


def copper_left(
    pH: ArrayLike,
    solid: str = "fresh",
    chloride: ArrayLike = 0.0,
    carbonate: ArrayLike = 0.0,
    ammonia: ArrayLike = 0.0,
    *,
    beside: tuple[str, ...] = (),
) -> FloatArray:
    """Return the copper that stays dissolved over a solid of it, however much of that there is.

    Free copper, 10^(log *K − 2 pH) over a hydroxide, times 1 and what binds it: hydroxide,
    chloride, carbonate, ammonia; and twice the dimer.

    Parameters
    ----------
    pH : float or array
        0 to 14 [-].
    solid : str
        One of `SOLIDS`. Malachite needs carbonate, basic chloride chloride.
    chloride, carbonate, ammonia : float or array
        Dissolved in all [mol/m³], 0 to 20 000, 2000 and 1000. Carbonate counts as no more than
        water holds at that pH under 1 atm of carbon dioxide: the rest has fizzed away.
    beside : tuple of str
        What else keeps copper dissolved, of `KEEPERS`: then there is no figure.

    Returns
    -------
    float or array
        All dissolved copper [mol/m³], at pH 7 to 11 within a factor of 4 of other databases with
        0.1 mol/L of salt, over a solid that is known; fresh or aged is a factor of 10. Salt adds a
        factor of `SALT`. In acid the figure is what would dissolve, not what is there.

    Raises
    ------
    InputError
        An unknown solid, one that lacks what it is made of, a value outside its limits, or
        something beside it of which nothing is told.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    Table `copper_constants`: each with its source. Ammonia is in it so that a page can show why
    blue is not clean; waste with ammonia goes to the site, in a tub of its own.

    Examples
    --------
    >>> for pH in (6, 7, 8.5, 12):
    ...     print(f"pH {pH}: {63546 * copper_left(pH) / 1000:.2g} mg/L")
    pH 6: 1.7e+02 mg/L
    pH 7: 1.9 mg/L
    pH 8.5: 0.016 mg/L
    pH 12: 0.4 mg/L
    """
    pH = check_values("pH", pH, *PH)
    check_choice("solid", solid, SOLIDS)
    chloride = check_values("chloride", chloride, 0, MOST_IN_BATH["chloride"], "mol/m³")
    carbonate = check_values("carbonate", carbonate, 0, MOST_IN_BATH["carbonate"], "mol/m³")
    ammonia = check_values("ammonia", ammonia, 0, MOST_AMMONIA, "mol/m³")
    common_shape(pH=pH, chloride=chloride, carbonate=carbonate, ammonia=ammonia)
    check_alone(beside)
    _check_made_of(solid, "malachite", "carbonate", carbonate)
    _check_made_of(solid, "basic chloride", "chloride", chloride)
    # the constants are in mol/L
    ions = {
        "chloro": chloride / mol_per_L,
        "carbonato": _carbonate_ion(pH, carbonate) / mol_per_L,
        "ammine": _free_ammonia(pH, ammonia) / mol_per_L,
    }
    free = _free_copper(pH, solid, ions)
    total: FloatArray = mol_per_L * _with_all_that_binds(free, pH, ions)
    return total


def copper_band(
    pH: ArrayLike,
    chloride: ArrayLike = 0.0,
    carbonate: ArrayLike = 0.0,
    ammonia: ArrayLike = 0.0,
) -> tuple[FloatArray, FloatArray]:
    """Return the copper left over hydroxide or malachite: aged, and hydroxide as it falls.

    Parameters
    ----------
    pH : float or array
        0 to 14 [-].
    chloride, carbonate, ammonia : float or array
        Dissolved in all [mol/m³], as `copper_left` takes them.

    Returns
    -------
    tuple of float or array
        Low and high [mol/m³]. The low end is aged hydroxide, or malachite where there is carbonate
        and it keeps less. Salt adds a factor of `SALT` to both.
        Basic chloride, which falls first in a bath with so much chloride, is not in it: without
        carbonate far less than the low end stays over it below pH 8, with 0.1 mol/L more does.

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> low, high = copper_band(8.0, carbonate=100.0)
    >>> print(f"{63.546 * low:.2f} to {63.546 * high:.0f} mg/L")
    0.52 to 98 mg/L
    """
    fresh = copper_left(pH, "fresh", chloride, carbonate, ammonia)
    aged = copper_left(pH, "aged", chloride, carbonate, ammonia)
    held = np.asanyarray(carbonate) > 0
    if np.any(held):
        # where there is none, any carbonate at all stands in for it: the result is not used
        some = np.where(held, carbonate, 1.0)
        basic = copper_left(pH, "malachite", chloride, some, ammonia)
        aged = np.where(held, np.minimum(aged, basic), aged)
    return aged, fresh


def onset(
    copper: ArrayLike,
    solid: str = "fresh",
    chloride: float = 0.0,
    carbonate: float = 0.0,
) -> FloatArray:
    """Return the pH at which copper begins to fall out as base goes in.

    Parameters
    ----------
    copper : float or array
        Dissolved at the start [mol/m³], above 0 to 6000.
    solid : str
        As what it falls, of `SOLIDS`.
    chloride, carbonate : float
        Dissolved in all [mol/m³].

    Returns
    -------
    float or array
        pH [-]; infinite where so little copper stays dissolved at any pH.

    Raises
    ------
    InputError
        An unknown solid, one that lacks what it is made of, or a value outside its limits.

    Examples
    --------
    >>> print(f"{onset(500.0, 'aged'):.1f}")
    4.3
    """
    copper = check_values("copper", copper, 0, MOST_IN_BATH["copper"], "mol/m³", above=True)
    grid = np.arange(PH[0], PH[1] + STEP, STEP).clip(*PH)
    left = np.asarray(copper_left(grid, solid, chloride, carbonate))
    # what is left falls to a least and rises again in lye: base goes in from the acid side
    falling = slice(0, int(left.argmin()) + 1)
    # `interp` needs its axis to rise; copper spans twenty decades
    place = np.interp(
        -np.log(np.asarray(copper)), -np.log(left[falling]), grid[falling], right=np.inf
    )
    if isinstance(copper, Draws):
        return as_draws(place)
    return np.asarray(place)


def sludge(copper: ArrayLike, solid: str = "fresh") -> FloatArray:
    """Return the dry mud that copper makes.

    Parameters
    ----------
    copper : float or array
        Copper that falls [mol], 0 to 1000.
    solid : str
        As what it falls, of `SOLIDS`.

    Returns
    -------
    float or array
        Dry mud [kg]; wet it is `WET` times as much, and wet it stays: its dust is worse than the
        liquid.

    Raises
    ------
    InputError
        An unknown solid, or a value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * sludge(0.5):.1f} g")
    48.8 g
    """
    copper = check_values("copper", copper, 0, 1000, "mol")
    return copper * MUD_MASS[check_choice("solid", solid, SOLIDS)]


def check_alone(beside: tuple[str, ...]) -> None:
    """Refuse waste with something in it that keeps copper dissolved, by its name."""
    names = (beside,) if isinstance(beside, str) else tuple(beside)
    for name in names:
        check_choice("beside", name, KEEPERS)
        raise InputError(
            "beside",
            "it keeps copper dissolved, and no amount is given: kept apart, in a tub of its own, "
            "to your hazardous-waste site",
            value=name,
            wrong="is refused",
        )


def _check_made_of(solid: str, name: str, part: str, amount: FloatArray) -> None:
    """Refuse a solid without something that it is made of [mol/m³]."""
    if solid == name and np.any(np.asarray(amount) <= 0):
        least = float(np.min(amount))
        raise InputError(
            part,
            f"over {name} it must be above 0 to {MOST_IN_BATH[part]:g} mol/m³",
            value=least,
            low=0.0,
            high=MOST_IN_BATH[part],
            unit="mol/m³",
        )


def _carbonate_steps(pH: Any) -> tuple[Any, Any]:
    """Return HCO3− over CO2, and CO3−− over HCO3− [-]."""
    log_k = constants()
    return 10.0 ** (log_k["carbonic 1"] + pH), 10.0 ** (log_k["carbonic 2"] + pH)


def _carbonate_ion(pH: Any, carbonate: Any) -> Any:
    """Return CO3−− [mol/m³] of so much carbonate in all, no more than does not fizz away."""
    first, second = _carbonate_steps(pH)
    whole = 1 + first + first * second
    most = HENRY * ATMOSPHERE * whole
    return np.minimum(carbonate, most) * first * second / whole


def _free_ammonia(pH: Any, ammonia: Any) -> Any:
    """Return NH3 [mol/m³] of so much ammonia in all."""
    return ammonia / (1 + 10.0 ** (-constants()["ammonium"] - pH))


def _free_copper(pH: Any, solid: str, ions: dict[str, Any]) -> Any:
    """Return Cu++ over a solid [mol/L]."""
    log_k = constants()
    if solid == "malachite":
        hydroxide = 10.0 ** (log_k["water"] + pH)
        # in halves of the logarithm: the squares of such small numbers would vanish
        return 10.0 ** (log_k["malachite"] / 2) / (hydroxide * np.sqrt(ions["carbonato"]))
    if solid == "basic chloride":
        return 10.0 ** ((log_k["basic chloride"] - 3 * pH) / 2) / np.sqrt(ions["chloro"])
    return 10.0 ** (log_k[solid] - 2 * pH)


def _with_all_that_binds(free: Any, pH: Any, ions: dict[str, Any]) -> Any:
    """Return all dissolved copper [mol/L], of so much that is free."""
    log_k = constants()
    bound: Any = 1.0
    for count in (1, 2, 3, 4):
        bound = bound + 10.0 ** (log_k[f"hydroxo {count}"] + count * pH)
        for name, amount in ions.items():
            key = f"{name} {count}"
            if key in log_k:
                bound = bound + 10.0 ** log_k[key] * amount**count
    return free * bound + 2 * free**2 * 10.0 ** (log_k["dimer"] + 2 * pH)
