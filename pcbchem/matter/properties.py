"""Density and heat capacity of the solutions, on arrays of any shape.

One mixing rule for both: each solute keeps the specific volume and heat capacity that it has at its own mass fraction
in water, with everything else in the solution counted as water (heats of mixing: `heats`). Doubt: nobody has
published the mixtures; we assume 0.5 % in density and 5 % in heat capacity.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import FloatArray, as_draws, common_shape
from ..common.limits import Range, check_values, warn_outside
from ..common.tables import column, read
from ..common.units import T_HIGH, T_LOW

SOLUTES = ("HCl", "H2O2", "NaOH", "CuCl2", "CuCl")
MOLAR_MASS = {
    "HCl": 0.036461,
    "H2O2": 0.0340147,
    "H2O": 0.0180153,
    "Cu": 0.063546,
    "CuCl2": 0.134452,
    "CuCl": 0.098999,
    "NaOH": 0.039997,
    "O2": 0.031998,
}
"""Molar masses [kg/mol], from the IUPAC standard atomic weights."""
LIMITS = {"HCl": 0.45, "H2O2": 0.70, "NaOH": 0.50, "CuCl2": 0.40, "CuCl": 0.20}
"""Largest possible mass fractions [kg/kg]: more is no bottle and no bath."""
RANGES = {
    "T": Range("T", 273.15, 333.15, "K"),
    "HCl": Range("mass fraction of HCl", 0, 0.40),
    "H2O2": Range("mass fraction of H2O2", 0, 0.50),
    "NaOH": Range("mass fraction of NaOH", 0, 0.40),
    "CuCl2": Range("mass fraction of CuCl2", 0, 0.33),
    "CuCl": Range("mass fraction of CuCl", 0, 0.10),
}
"""Where density and heat capacity were checked."""
Fractions = Mapping[str, FloatArray]


@cache
def _coefficients(name: str, field: str, **where: str) -> FloatArray:
    return column(name, field, **where)


@cache
def _row(name: str, substance: str, *fields: str) -> tuple[float, ...]:
    row = next(r for r in read(name) if r["substance"] == substance)
    return tuple(float(row[f]) for f in fields)


def _polynomial(x: Any, coefficients: FloatArray) -> Any:
    total = 0.0
    for c in coefficients[::-1]:
        total = total * x + c
    return total


def _water_density(t: Any) -> Any:
    field = "coefficient_kg_m3_per_C_power"
    return _polynomial(t, _coefficients("water_density", field, part="numerator")) / _polynomial(
        t, _coefficients("water_density", field, part="denominator")
    )


def _laliberte_volume(substance: str, w: Any, t: Any) -> Any:
    c0, c1, c2, c3, c4 = _row(
        "laliberte_density", substance, "c0_kg_m3", "c1_kg_m3", "c2", "c3_per_C", "c4_C"
    )
    return (w + c2 + c3 * t) / ((c0 * w + c1) * np.exp(1e-6 * (t + c4) ** 2))


def _peroxide_volume(w: Any, t: Any, water: Any) -> Any:
    rows = [
        _coefficients("h2o2_density", f)
        for f in ("J_g_cm3", "K_g_cm3_per_C", "L_g_cm3_per_C2", "M_g_cm3_per_C3")
    ]
    b, c, d = (1000 * _polynomial(t, np.array([column_[k] for column_ in rows])) for k in range(3))
    slope = b + c * w + d * w**2
    return (1 - slope / (water + w * slope)) / water


def density_inside(T: Any, fractions: Fractions) -> Any:
    """Density of checked values, for inner steps: T [K], mass fractions [kg/kg]; returns [kg/m³] and never warns."""
    t = np.asarray(T) - 273.15
    water = _water_density(t)
    present = {s: w for s, w in fractions.items() if np.any(w)}
    volume = (1 - sum(present.values())) / water
    copper = sum(present.get(s, 0.0) for s in ("CuCl2", "CuCl"))
    for s, w in present.items():
        if s == "H2O2":
            volume = volume + w * _peroxide_volume(w, t, water)
        elif s in ("HCl", "NaOH"):
            volume = volume + w * _laliberte_volume(s, w, t)
        else:  # CuCl is given the volume per kg of CuCl2: assumed
            volume = volume + w * _laliberte_volume("CuCl2", copper, t)
    return 1 / volume


def _laliberte_heat(substance: str, w: Any, t: Any) -> Any:
    a1, a2, a3, a4, a5, a6, low, high = _row(
        "laliberte_heat_capacity",
        substance,
        "a1_kJ_kg_K",
        "a2_per_C",
        "a3",
        "a4",
        "a5_kJ_kg_K",
        "a6",
        "lowest_T_C",
        "highest_T_C",
    )
    t = np.minimum(np.maximum(t, low), high)  # CuCl2 was measured at 35 °C only
    return 1000 * (a1 * np.exp(a2 * t + a3 * np.exp(0.01 * t) + a4 * w) + a5 * w**a6)


def heat_capacity_inside(T: Any, fractions: Fractions) -> Any:
    """Heat capacity of checked values: T [K], mass fractions [kg/kg]; returns [J/kg/K] and never warns."""
    field = "coefficient_J_kg_K_per_C_power"
    t = np.asarray(T) - 273.15
    present = {s: w for s, w in fractions.items() if np.any(w)}
    water = _polynomial(t, _coefficients("heat_capacity", field, substance="H2O"))
    total = water * (1 - sum(present.values()))
    copper = sum(present.get(s, 0.0) for s in ("CuCl2", "CuCl"))
    for s, w in present.items():
        if s == "HCl":
            a, b = (
                _polynomial(
                    t - 20,
                    _coefficients(
                        "heat_capacity", field, substance="HCl", power_of_mass_fraction=k
                    ),
                )
                for k in "12"
            )
            own = water + a + b * w
        elif s == "H2O2":
            own = _coefficients("heat_capacity", field, substance="H2O2")[0]
        elif s == "NaOH":
            own = _laliberte_heat(s, w, t)
        else:
            own = _laliberte_heat("CuCl2", copper, t)
        total = total + w * own
    return total


def check_fractions(fractions: Mapping[str, ArrayLike]) -> dict[str, FloatArray]:
    """Return mass fractions [kg/kg] as arrays, or raise ValueError naming what cannot be."""
    found = {s: check_values(s, w, 0, LIMITS[s], "kg/kg") for s, w in fractions.items()}
    given = {s: w for s, w in found.items() if np.any(w)}
    if len(given) > 1:
        common_shape(**given)
        total = np.asarray(sum(given.values()))
        if np.any(total >= 1):
            raise ValueError(
                f"{' + '.join(given)} = {total.max():g} leaves no water: it must be below 1 kg/kg"
            )
    base = given.get("NaOH")
    if base is not None:
        for s in ("HCl", "H2O2"):
            if s in given and np.any(np.minimum(base, given[s]) > 0):
                raise ValueError(
                    f"NaOH = {np.max(base):g} beside {s} = {np.max(given[s]):g} kg/kg: "
                    "lye does not go into acid or peroxide here, one of them must be 0"
                )
    return found


def warn_properties(
    what: str, T: ArrayLike, fractions: Mapping[str, ArrayLike], stacklevel: int = 4
) -> None:
    """Give one RangeWarning if T [K] or a mass fraction [kg/kg] was not checked for density and heat capacity."""
    warn_outside(
        what,
        (RANGES["T"], T),
        *((RANGES[s], w) for s, w in fractions.items()),
        stacklevel=stacklevel,
    )


def _read(
    what: str, inside: Callable[[Any, Fractions], Any], T: ArrayLike, given: dict[str, ArrayLike]
) -> Any:
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    found = check_fractions(given)
    shape, draws = common_shape(T=T, **found)
    warn_properties(what, T, found, stacklevel=5)
    plain = {s: np.asarray(w) for s, w in found.items()}
    result = np.broadcast_to(inside(np.asarray(T), plain), shape)
    return result[()] if draws is None else as_draws(result)


def water_density(T: ArrayLike) -> Any:
    """Density of water.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.

    Returns
    -------
    float or array
        Density [kg/m³] at 1 atm.

    Raises
    ------
    ValueError
        T outside its limits.

    Notes
    -----
    kell1975, equation for 0 to 150 °C, within 0.01 kg/m³.

    Examples
    --------
    >>> print(f"{water_density(298.15):.2f}")
    997.04
    """
    return _read("density of water", density_inside, T, {})


def density(
    T: ArrayLike,
    HCl: ArrayLike = 0.0,
    H2O2: ArrayLike = 0.0,
    NaOH: ArrayLike = 0.0,
    CuCl2: ArrayLike = 0.0,
    CuCl: ArrayLike = 0.0,
) -> Any:
    """Density of a solution, from apparent specific volumes that add.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    HCl, H2O2, NaOH, CuCl2, CuCl : float or array
        Mass fractions [kg/kg]; checked to 0.40, 0.50, 0.40, 0.33, 0.10.

    Returns
    -------
    float or array
        Density [kg/m³]; in doubt by 0.1 % (HCl, H2O2), 0.3 % (NaOH), 1.5 % (CuCl2), 0.5 % (mixtures, assumed).

    Raises
    ------
    ValueError
        A value outside its limits, no water left, lye beside acid or peroxide, shapes that do not broadcast.

    Notes
    -----
    laliberte2004 (HCl, NaOH, CuCl2), easton1952 (H2O2); CuCl is given the volume per kg of CuCl2 (assumed).

    Examples
    --------
    >>> print(f"{density(293.15, HCl=0.32):.0f}")
    1159
    """
    return _read(
        "density",
        density_inside,
        T,
        {"HCl": HCl, "H2O2": H2O2, "NaOH": NaOH, "CuCl2": CuCl2, "CuCl": CuCl},
    )


def heat_capacity(
    T: ArrayLike,
    HCl: ArrayLike = 0.0,
    H2O2: ArrayLike = 0.0,
    NaOH: ArrayLike = 0.0,
    CuCl2: ArrayLike = 0.0,
    CuCl: ArrayLike = 0.0,
) -> Any:
    """Specific heat capacity of a solution, from apparent heat capacities that add.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    HCl, H2O2, NaOH, CuCl2, CuCl : float or array
        Mass fractions [kg/kg]; checked to 0.40, 0.50, 0.40, 0.33, 0.10.

    Returns
    -------
    float or array
        Heat capacity [J/kg/K]; in doubt by 2 % (HCl), 3 % (H2O2, CuCl2), 5 % (mixtures, assumed).

    Raises
    ------
    ValueError
        A value outside its limits, no water left, lye beside acid or peroxide, shapes that do not broadcast.

    Notes
    -----
    iapws95 (water), perry_heat (HCl, rms 0.7 %), giguere1955 (H2O2: weighted by mass with the pure liquid),
    laliberte2009 (NaOH; CuCl2 from ten points at 35 °C, held at that temperature); CuCl like CuCl2 (assumed).

    Examples
    --------
    >>> print(f"{heat_capacity(298.15):.0f}")
    4181
    """
    return _read(
        "heat capacity",
        heat_capacity_inside,
        T,
        {"HCl": HCl, "H2O2": H2O2, "NaOH": NaOH, "CuCl2": CuCl2, "CuCl": CuCl},
    )
