"""What a base does to acid and copper: how much meets them, what gas and heat come, and what pH.

For whoever asks what neutralising would take: it is chemistry to look at, counted by the mole, and
no way to treat a bath. What is left goes to a hazardous-waste site as it is:
the site does what is needed.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import FloatArray, common_shape
from ...common.limits import InputError, check_choice, check_values
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import MOLAR_MASS
from .heat import reaction_enthalpy
from .precipitate import (
    MOST_IN_BATH,
    PH,
    SOLIDS,
    check_alone,
    copper_left,
    dissolved_carbonate,
    hydrogen_ion,
    hydroxide_ion,
)
from .stoichiometry import Reaction, reactions

BASES = ("NaHCO3", "Na2CO3", "Ca(OH)2", "NaOH")
"""Bases whose chemistry is told: "NaHCO3" baking soda, "Na2CO3" washing soda free of water,
"Ca(OH)2" slaked lime, and "NaOH" lye, of which no amount is given. Washing soda is also sold as
crystals with ten waters, 2.7 times as heavy for each mole: they cool where the dry soda warms."""
MUD = ("malachite", "hydroxide", "basic chloride")
"""As what copper may fall out: which of them it is, is not known beforehand."""
MOST_ACID, MOST_COPPER = 12.0, 6.0
"""Acid and copper [mol] that a litre of the strongest bath holds: nothing is told of more (our
limit)."""
MOST_VOLUME = 1e-3
"""Nothing is told of more waste than a litre [m³] (our limit)."""
MOST_PEROXIDE = 0.1 / MOLAR_MASS["H2O2"]
"""Nor while more peroxide is left than 0.1 g/L [mol/m³] (our limit): in alkali, with copper mud in
it, it decays fast and foams over."""
HOTTEST = 313.15
"""Nor of anything warmer than 40 °C [K] (our limit)."""
MOST_GAS = 101_325.0
"""Carbon dioxide over the liquid is at most the whole air's pressure [Pa]."""
COPPER_HEAT_DOUBT = 10e3
"""How unsure the heat of a mole of copper that falls out is [J/mol]: nobody knows as what it
falls, and two schools of measurement differ by 8 for malachite. It adds to that of its species."""
LYE = "NaOH"
NO_LYE = (
    "no amount of lye is given: it spits and gets so hot that it may boil, and it overshoots at "
    "once. Never lye into a bath or its waste"
)


@cache
def _rows() -> dict[str, Mapping[str, str]]:
    return {row["base"]: row for row in tables.read("bases")}


def base_mass(
    base: str,
    acid: ArrayLike,
    copper: ArrayLike = 0.0,
    solid: str | None = None,
    *,
    peroxide: ArrayLike,
    volume: ArrayLike | None = None,
    T: ArrayLike = 293.15,
    beside: tuple[str, ...] = (),
) -> FloatArray:
    """Return how much base meets acid and copper, by stoichiometry.

    Parameters
    ----------
    base : str
        One of `BASES`, but not lye.
    acid : float or array
        Free acid [mol], 0 to 12.
    copper : float or array
        Dissolved copper, counted as Cu(II) [mol], 0 to 6.
    solid : str, optional
        As what it falls out, of `MUD`; malachite with a carbonate, hydroxide with lime by default.
    peroxide : float or array
        Peroxide that is left [mol/m³], 0 to 2.94 (0.1 g/L). It has to be said.
    volume : float or array, optional
        The waste [m³], at most a litre.
    T : float or array
        How warm it is [K], 250 to 313.15 (40 °C).
    beside : tuple of str
        What else is in it: of thiourea, ammonia and their like no amount is told.

    Returns
    -------
    float or array
        Base [kg], dry and pure: of washing soda free of water, not of its crystals.

    Raises
    ------
    InputError
        Lye, peroxide above 0.1 g/L, more than a litre, more than 40 °C, thiourea or ammonia beside
        it, an unknown base or solid, or a value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    Equations of the table `reactions`, molar masses of the table `bases`.

    Examples
    --------
    >>> print(f"{1000 * base_mass('NaHCO3', 1.0, peroxide=0.0):.1f} g for a mole of acid")
    84.0 g for a mole of acid
    """
    check_choice("base", base, BASES)
    if base == LYE:
        raise InputError("base", NO_LYE, value=base, wrong="is refused")
    check_quiet(peroxide, volume, T)
    check_alone(beside)
    molar_mass = float(_rows()[base]["molar_mass_kg_mol"])
    return -molar_mass * _total(base, f"{base}(s)", acid, copper, solid)


def equivalents(acid: ArrayLike, copper: ArrayLike = 0.0, solid: str = "hydroxide") -> FloatArray:
    """Return how much base acid and copper ask for, counted as what takes up one H+ a mole.

    n = n(acid) + q n(Cu), with q = 2, or 1.5 where copper falls as basic chloride.

    Parameters
    ----------
    acid, copper : float or array
        Free acid and dissolved copper [mol], 0 to 12 and 0 to 6.
    solid : str
        As what copper falls out, of `MUD`.

    Returns
    -------
    float or array
        Equivalents [mol].

    Raises
    ------
    InputError
        An unknown solid, or a value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{equivalents(1.0, 0.5):.2f} {equivalents(1.0, 0.5, 'basic chloride'):.2f}")
    2.00 1.75
    """
    acid, copper = _checked(acid, copper)
    return acid + _per_copper(check_choice("solid", solid, MUD)) * copper


def carbon_dioxide(
    base: str, acid: ArrayLike, copper: ArrayLike = 0.0, solid: str | None = None
) -> FloatArray:
    """Return the carbon dioxide that comes in the end, when all of it has left the liquid.

    Parameters
    ----------
    base : str
        One of `BASES`; lime and lye give none.
    acid, copper : float or array
        Free acid and dissolved copper [mol], 0 to 12 and 0 to 6.
    solid : str, optional
        As what copper falls out, of `MUD`.

    Returns
    -------
    float or array
        Gas [mol]. Much of it first stays dissolved, and foam outlives it.

    Raises
    ------
    InputError
        An unknown base or solid, or a value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{carbon_dioxide('Na2CO3', 1.0, 0.5):.2f} mol")
    0.75 mol
    """
    check_choice("base", base, BASES)
    return _total(base, "CO2(g)", acid, copper, solid)


def heat_taken(
    base: str, acid: ArrayLike, copper: ArrayLike = 0.0, solid: str | None = None
) -> FloatArray:
    """Return the heat that acid and copper take up when a solid base meets them, its gas gone.

    Parameters
    ----------
    base : str
        One of `BASES`, as the dry solid.
    acid, copper : float or array
        Free acid and dissolved copper [mol], 0 to 12 and 0 to 6.
    solid : str, optional
        As what copper falls out, of `MUD`.

    Returns
    -------
    float or array
        Heat [J]: above 0 the liquid cools, below 0 it warms. Baking soda cools, washing soda free
        of water warms (its crystals cool), and lye boils. A mole of copper adds a doubt of 10 kJ:
        of washing soda and copper not even the sign is known.

    Raises
    ------
    InputError
        An unknown base or solid, or a value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    Table `formation_enthalpies`, of ions at infinite dilution. While carbon dioxide still stays
    dissolved baking soda takes up a third as much, and a thermometer read early misleads.

    Examples
    --------
    >>> print([f"{heat_taken(base, 1.0) / 1000:.0f} kJ" for base in ("NaHCO3", "NaOH")])
    ['31 kJ', '-100 kJ']
    """
    acid, copper = _checked(acid, copper)
    check_choice("base", base, BASES)
    heat: FloatArray = acid * _heat_each(_by_acid(base), "H+(aq)")
    return heat + copper * _heat_each(_by_copper(base, solid), "Cu2+(aq)")


def base_at(
    pH: ArrayLike,
    acid: ArrayLike,
    copper: ArrayLike = 0.0,
    solid: str = "fresh",
    carbon_dioxide: ArrayLike = 0.0,
    *,
    chloride: ArrayLike = 0.0,
    carbonate: ArrayLike = 0.0,
) -> FloatArray:
    """Return how much base has gone in when a bath stands at a pH: to be drawn as pH over base.

    base = acid − [H+] + [OH−] + q (copper − min(copper, left)) + H p (K1/[H+] + 2 K1 K2/[H+]²)

    Parameters
    ----------
    pH : float or array
        0 to 14 [-].
    acid, copper : float or array
        Free acid and dissolved copper at the start [mol/m³], 0 to 20 000 and 0 to 6000.
    solid : str
        What copper stands over, of `SOLIDS`.
    carbon_dioxide : float or array
        Its pressure over the liquid [Pa], 0 to 101 325: 0 when it has aired, all while it fizzes.
    chloride, carbonate : float or array
        Dissolved [mol/m³], as `copper_left` takes them.

    Returns
    -------
    float or array
        Equivalents of base gone in [mol/m³ of the bath at its start]; below 0 it is more acid
        still than its acid.

    Raises
    ------
    InputError
        An unknown solid, or a value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    Without activities, at 25 °C, and no volume of base is counted. Constants: `copper_constants`.

    Examples
    --------
    >>> print(f"{base_at(7.0, 1000.0, 500.0):.1f} mol/m³")
    1999.9 mol/m³
    """
    pH = check_values("pH", pH, *PH)
    acid = check_values("acid", acid, 0, MOST_IN_BATH["acid"], "mol/m³")
    copper = check_values("copper", copper, 0, MOST_IN_BATH["copper"], "mol/m³")
    gas = check_values("carbon_dioxide", carbon_dioxide, 0, MOST_GAS, "Pa")
    common_shape(pH=pH, acid=acid, copper=copper, carbon_dioxide=gas)
    check_choice("solid", solid, SOLIDS)
    mud = "basic chloride" if solid == "basic chloride" else "hydroxide"
    left = copper_left(pH, solid, chloride, carbonate)
    fallen = copper - np.minimum(copper, left)
    _, bicarbonate, carbonate_ion = dissolved_carbonate(pH, gas)
    total: FloatArray = (
        acid
        - hydrogen_ion(pH)
        + hydroxide_ion(pH)
        + _per_copper(mud) * fallen
        + bicarbonate
        + 2 * carbonate_ion
    )
    return total


def check_quiet(
    peroxide: ArrayLike = 0.0, volume: ArrayLike | None = None, T: ArrayLike = 293.15
) -> None:
    """Refuse waste of which no amount of base is told: still at work, too much, or too warm.

    Parameters
    ----------
    peroxide : float or array
        Peroxide that is left [mol/m³].
    volume : float or array, optional
        The waste [m³].
    T : float or array
        How warm it is [K].

    Raises
    ------
    InputError
        Names what it is, its limit, and why.
    """
    peroxide = check_values("peroxide", peroxide, 0, 30_000, "mol/m³")
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    rule = (
        f"it must be 0 to {MOST_PEROXIDE:.3g} mol/m³ (0.1 g/L) before anything is told of a base: "
        "with base and copper mud it decays fast and foams over"
    )
    _refuse_above("peroxide", peroxide, 0.0, MOST_PEROXIDE, "mol/m³", "is too much", rule)
    rule = f"it must be {T_LOW:g} to {HOTTEST:g} K: cold first"
    _refuse_above("T", T, T_LOW, HOTTEST, "K", "is too warm for a base", rule)
    if volume is not None:
        volume = check_values("volume", volume, 0, 1000, "m³")
        rule = (
            f"it must be 0 to {MOST_VOLUME:g} m³ (1 L): of more nothing is told but where it goes, "
            "your hazardous-waste site"
        )
        _refuse_above("volume", volume, 0.0, MOST_VOLUME, "m³", "is too much", rule)


def _refuse_above(
    field: str, values: Any, low: float, high: float, unit: str, wrong: str, rule: str
) -> None:
    """Raise InputError where a value [unit] is more than its limit, but for rounding."""
    most = float(np.max(values, initial=low))
    if most > high * (1 + 1e-9):
        about = f" = {most:g} {unit}"
        raise InputError(
            field, rule, value=most, about=about, wrong=wrong, low=low, high=high, unit=unit
        )


def _checked(acid: ArrayLike, copper: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return acid and copper [mol] within a litre of bath, or raise InputError."""
    acid = check_values("acid", acid, 0, MOST_ACID, "mol")
    copper = check_values("copper", copper, 0, MOST_COPPER, "mol")
    common_shape(acid=acid, copper=copper)
    return acid, copper


def _by_acid(base: str) -> Reaction:
    return reactions()[f"neutralisation by {_rows()[base]['word']}"]


def _by_copper(base: str, solid: str | None) -> Reaction:
    """Return how copper falls with a base, or say as what it may."""
    if solid is None:
        solid = _rows()[base]["usual_solid"]
    word = _rows()[base]["word"]
    # no malachite without carbonate, and no equation that the table does not hold
    choices = tuple(name for name in MUD if f"{name} by {word}" in reactions())
    return reactions()[f"{check_choice('solid', solid, choices)} by {word}"]


def _total(
    base: str, species: str, acid: ArrayLike, copper: ArrayLike, solid: str | None
) -> FloatArray:
    """Return how much of a species the two reactions of a base make together [mol]."""
    acid, copper = _checked(acid, copper)
    by_acid, by_copper = _by_acid(base), _by_copper(base, solid)
    total: FloatArray = acid * _each(by_acid, species, "H+(aq)")
    return total + copper * _each(by_copper, species, "Cu2+(aq)")


def _each(reaction: Reaction, species: str, reactant: str) -> float:
    """Return how much of a species comes for each mole of a reactant [mol/mol]."""
    return float(reaction.coefficients.get(species, 0) / -reaction.coefficients[reactant])


def _heat_each(reaction: Reaction, reactant: str) -> float:
    """Return the heat that a reaction takes up for each mole of a reactant [J/mol]."""
    enthalpy, _ = reaction_enthalpy(reaction.name)
    return enthalpy / float(-reaction.coefficients[reactant])


def _per_copper(solid: str) -> float:
    """Return the H+ that base takes up for each copper that falls [mol/mol]."""
    # of bicarbonate each mole takes up one
    return -_each(_by_copper("NaHCO3", solid), "NaHCO3(s)", "Cu2+(aq)")
