"""Density and heat capacity of the solutions, on arrays of any shape.

One mixing rule for both. Of mass fractions w_s, and w_water = 1 - sum of w_s,

    1 / density   = w_water / density of water + sum of w_s v_s(w_s, T)
    heat capacity = w_water c of water         + sum of w_s c_s(w_s, T)

where each solute keeps the specific volume v_s and heat capacity c_s that it has in water at its
own mass fraction: everything else in the solution counts as water. (Heats of mixing: `heats`.)
Doubt: nobody has published the mixtures; we assume 0.5 % in density and 5 % in heat capacity. What
is known of single solutes stands at `density` and `heat_capacity`.
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
from ..common.units import T_HIGH, T_LOW, ZERO_C

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
    "Sn": 0.118710,
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
"""Mass fractions [kg/kg] by solute; the rest is water."""
Coefficients = tuple[float, ...]
"""Coefficients of a polynomial, the constant first."""


# The tables are read at every step of a mixture: kept as numbers, each is looked up once
@cache
def _coefficients(table: str, title: str, **where: str) -> Coefficients:
    return tuple(column(table, title, **where).tolist())


@cache
def _row(table: str, substance: str, *titles: str) -> Coefficients:
    for row in read(table):
        if row["substance"] == substance:
            return tuple(float(row[title]) for title in titles)
    raise KeyError(f"{substance} is not in {table}")


def _polynomial(x: Any, coefficients: Coefficients) -> Any:
    # By Horner's rule, from the highest power down: ((d x + c) x + b) x + a
    *lower, total = coefficients
    for coefficient in reversed(lower):
        total = total * x + coefficient
    return total


def present(fractions: Fractions) -> dict[str, FloatArray]:
    """Return the mass fractions [kg/kg] of what is there at all, in the order of the solutes."""
    # A bath seldom holds more than two or three of the five: nothing is reckoned for the others
    return {solute: w for solute, w in fractions.items() if np.asarray(w).any()}


def _copper_salts(fractions: Fractions) -> Any:
    """Mass fraction of both copper salts [kg/kg]: CuCl is taken for CuCl2 (assumed)."""
    return sum(fractions.get(salt, 0.0) for salt in ("CuCl2", "CuCl"))


# ---- density


def _density_of_water(t: Any) -> Any:
    """Density of water [kg/m³] at t [°C]: one polynomial over another (Kell)."""
    title = "coefficient_kg_m3_per_C_power"
    numerator = _polynomial(t, _coefficients("water_density", title, part="numerator"))
    return numerator / _polynomial(t, _coefficients("water_density", title, part="denominator"))


def _laliberte_volume(solute: str, w: Any, t: Any) -> Any:
    """Specific volume of a solute [m³/kg] at its mass fraction w [kg/kg] and t [°C].

    v = (w + c2 + c3 t) / ((c0 w + c1) exp(1e-6 (t + c4)²))
    """
    titles = ("c0_kg_m3", "c1_kg_m3", "c2", "c3_per_C", "c4_C")
    c0, c1, c2, c3, c4 = _row("laliberte_density", solute, *titles)
    return (w + c2 + c3 * t) / ((c0 * w + c1) * np.exp(1e-6 * (t + c4) ** 2))


@cache
def _peroxide_polynomials() -> tuple[Coefficients, ...]:
    """Coefficients in t of the three powers of the mass fraction, in g/cm³ as printed."""
    titles = ("J_g_cm3", "K_g_cm3_per_C", "L_g_cm3_per_C2", "M_g_cm3_per_C3")
    powers_of_t = [_coefficients("h2o2_density", title) for title in titles]
    # The table has a column for each power of t; a polynomial in t is one of its rows
    return tuple(zip(*powers_of_t, strict=True))


def _peroxide_volume(w: Any, t: Any, water: Any) -> Any:
    """Specific volume of peroxide [m³/kg] at w [kg/kg], t [°C] and the density of water [kg/m³].

    The table gives the density of peroxide in water as water + b w + c w² + d w³. The volume that
    is left for the peroxide, (1/density - (1 - w)/water) / w, would be 0/0 at w = 0. With
    slope = b + c w + d w² it is (1 - slope / (water + w slope)) / water, at every w.
    """
    # 1000: from g/cm³, as printed, to kg/m³
    b, c, d = (1000 * _polynomial(t, coefficients) for coefficients in _peroxide_polynomials())
    slope = b + c * w + d * w**2
    return (1 - slope / (water + w * slope)) / water


def density_inside(T: Any, fractions: Fractions) -> Any:
    """Reckon the density of checked values, for inner steps: it never warns.

    Parameters
    ----------
    T : float or array
        Temperature [K].
    fractions : mapping
        Mass fraction [kg/kg] of each solute; those that are left out are 0.

    Returns
    -------
    float or array
        Density [kg/m³].
    """
    t = np.asarray(T) - ZERO_C
    water = _density_of_water(t)
    solutes = present(fractions)
    # The volume of a kilogram: that of its water, and what each solute adds
    volume = (1 - sum(solutes.values())) / water
    # Beside each other both copper salts count as so much more of one
    copper = _copper_salts(solutes)
    for solute, w in solutes.items():
        if solute == "H2O2":
            volume = volume + w * _peroxide_volume(w, t, water)
        elif solute in ("HCl", "NaOH"):
            volume = volume + w * _laliberte_volume(solute, w, t)
        else:
            volume = volume + w * _laliberte_volume("CuCl2", copper, t)
    return 1 / volume


# ---- heat capacity


def _laliberte_heat(solute: str, w: Any, t: Any) -> Any:
    """Specific heat capacity of a solute [J/kg/K] at its mass fraction w [kg/kg] and t [°C].

    c = a1 exp(a2 t + a3 exp(0.01 t) + a4 w) + a5 w^a6 [kJ/kg/K]
    """
    parameters = ("a1_kJ_kg_K", "a2_per_C", "a3", "a4", "a5_kJ_kg_K", "a6")
    limits = ("lowest_T_C", "highest_T_C")
    a1, a2, a3, a4, a5, a6, low, high = _row(
        "laliberte_heat_capacity", solute, *parameters, *limits
    )
    # CuCl2 was measured at 35 °C only, and the exponentials run away outside what was measured
    t = np.minimum(np.maximum(t, low), high)
    return 1000 * (a1 * np.exp(a2 * t + a3 * np.exp(0.01 * t) + a4 * w) + a5 * w**a6)


def _heat_coefficients(substance: str, **where: str) -> Coefficients:
    title = "coefficient_J_kg_K_per_C_power"
    return _coefficients("heat_capacity", title, substance=substance, **where)


def heat_capacity_inside(T: Any, fractions: Fractions) -> Any:
    """Reckon the heat capacity of checked values, for inner steps: it never warns.

    Parameters
    ----------
    T : float or array
        Temperature [K].
    fractions : mapping
        Mass fraction [kg/kg] of each solute; those that are left out are 0.

    Returns
    -------
    float or array
        Heat capacity [J/kg/K].
    """
    t = np.asarray(T) - ZERO_C
    water = _polynomial(t, _heat_coefficients("H2O"))
    solutes = present(fractions)
    total = water * (1 - sum(solutes.values()))
    copper = _copper_salts(solutes)
    for solute, w in solutes.items():
        if solute == "HCl":
            # Perry's solution has water + first w + second w²: over w, less the water in it, this
            # is what one kilogram of HCl brings
            first = _polynomial(t - 20, _heat_coefficients("HCl", power_of_mass_fraction="1"))
            second = _polynomial(t - 20, _heat_coefficients("HCl", power_of_mass_fraction="2"))
            capacity = water + first + second * w
        elif solute == "H2O2":
            (capacity,) = _heat_coefficients("H2O2")  # of the pure liquid, at every temperature
        elif solute == "NaOH":
            capacity = _laliberte_heat(solute, w, t)
        else:
            capacity = _laliberte_heat("CuCl2", copper, t)
        total = total + w * capacity
    return total


# ---- what a caller gives


def check_fractions(fractions: Mapping[str, ArrayLike]) -> dict[str, FloatArray]:
    """Return mass fractions as arrays, or say which cannot be.

    Parameters
    ----------
    fractions : mapping
        Mass fraction of each solute [kg/kg].

    Returns
    -------
    dict
        The same as arrays [kg/kg], with their draw marks.

    Raises
    ------
    InputError
        A mass fraction outside its limits.
    ValueError
        No water left, lye beside acid or peroxide, or shapes that do not broadcast.
    """
    arrays = {
        solute: check_values(solute, w, 0, LIMITS[solute], "kg/kg")
        for solute, w in fractions.items()
    }
    solutes = present(arrays)
    # One solute alone leaves water by its own limit, and has nothing to react with
    if len(solutes) > 1:
        common_shape(**solutes)
        total = np.asarray(sum(solutes.values()))
        if np.any(total >= 1):
            raise ValueError(
                f"{' + '.join(solutes)} = {total.max():g} leaves no water: it must be below 1 kg/kg"
            )
        _check_lye(solutes)
    return arrays


def _check_lye(solutes: Fractions) -> None:
    """Refuse lye in acid, which would react with heat, and in peroxide, which would foam over."""
    lye = solutes.get("NaOH")
    if lye is None:
        return
    for name in ("HCl", "H2O2"):
        # The lesser of two is above 0 only where both are there, in one and the same scenario
        if name in solutes and np.any(np.minimum(lye, solutes[name]) > 0):
            raise ValueError(
                f"NaOH = {np.max(lye):g} beside {name} = {np.max(solutes[name]):g} kg/kg: "
                "lye does not go into acid or peroxide here, one of them must be 0"
            )


def warn_properties(
    reader: str, T: ArrayLike, fractions: Mapping[str, ArrayLike], stacklevel: int = 4
) -> None:
    """Give one RangeWarning if density and heat capacity were not checked for a solution.

    Parameters
    ----------
    reader : str
        What reads them, for the words of the warning.
    T : float or array
        Temperature [K].
    fractions : mapping
        Mass fraction [kg/kg] of each solute.
    stacklevel : int
        As in `warnings.warn` [-].
    """
    pairs = [(RANGES["T"], T)]
    for solute, w in fractions.items():
        pairs.append((RANGES[solute], w))
    warn_outside(reader, *pairs, stacklevel=stacklevel)


def _read(
    reader: str,
    inside: Callable[[Any, Fractions], Any],
    T: ArrayLike,
    fractions: Mapping[str, ArrayLike],
) -> Any:
    """Check, warn, and read a property of the solutions."""
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    solutes = check_fractions(fractions)
    shape, draws = common_shape(T=T, **solutes)
    # The warning names the line that called `density`, two calls above this one
    warn_properties(reader, T, solutes, stacklevel=5)

    # Reckon with plain arrays, which are quicker than marked ones; mark the result
    unmarked = {solute: np.asarray(w) for solute, w in solutes.items()}
    result = np.broadcast_to(inside(np.asarray(T), unmarked), shape)
    if draws is None:
        return result[()]
    return as_draws(result)


def water_density(T: ArrayLike) -> Any:
    """Return the density of water.

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
    InputError
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
    """Return the density of a solution, from apparent specific volumes that add.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    HCl, H2O2, NaOH, CuCl2, CuCl : float or array
        Mass fractions [kg/kg]; checked to 0.40, 0.50, 0.40, 0.33, 0.10.

    Returns
    -------
    float or array
        Density [kg/m³]; in doubt by 0.1 % (HCl to 40 °C, H2O2), 0.15 % (HCl above 40 °C), 0.3 %
        (NaOH), 1.5 % (CuCl2), 0.5 % (mixtures, assumed).

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        No water left, lye beside acid or peroxide, shapes that do not broadcast.

    Notes
    -----
    laliberte2004 (HCl, NaOH, CuCl2), easton1952 (H2O2); CuCl has the volume per kg of CuCl2
    (assumed). Warm acid is less well known: above 40 °C other tables of HCl expand otherwise than
    laliberte2004, and the difference grows with temperature.

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
    """Return the specific heat capacity of a solution, from apparent heat capacities that add.

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
    InputError
        A value outside its limits.
    ValueError
        No water left, lye beside acid or peroxide, shapes that do not broadcast.

    Notes
    -----
    iapws95 (water), perry_heat (HCl, rms 0.7 %), giguere1955 (H2O2: weighted by mass with the pure
    liquid), laliberte2009 (NaOH; CuCl2 from ten points at 35 °C, held at that temperature); CuCl
    like CuCl2 (assumed).

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
