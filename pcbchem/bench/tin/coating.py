"""How much tin is on the copper, and for how much copper a tin bath could do at the most.

Copper goes into a complex with thiourea and tin comes out in its place,

    2 Cu + Sn(II) + 8 thiourea -> Sn + 2 Cu(thiourea)4(I),

so each tin costs two copper, and a layer of tin costs a layer of copper 0.87 times as thick. It
stops by itself once the copper is covered (`STOPS`): no function here returns a thickness, and one
that does not grow is refused. What a bath holds is the reader's, from its label: no recipe.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import InputError, check_choice, check_values
from ...common.tables import read
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import COPPER_DENSITY

COPPER_PER_TIN = 2
"""Copper that dissolves for each tin that comes out [mol/mol]: one takes two electrons, the other
gives one."""
THIOUREA_PER_TIN = 8
"""Thiourea that the copper of one tin takes with it [mol/mol], four each."""
STOPS = (0.3e-6, 1e-6)
"""Where tin stops by itself on a board at home [m] (common practice, no source)."""
MOST_THICKNESS = 1.5e-6
"""Above it no layer is reckoned with [m] (our limit): plants are said to reach 1.3 µm."""
USABLE = (0.10, 0.20)
"""Share of its tin that a bath gives before it is given up [-] (assumed)."""
MOST_BATH = 1.0
"""No tin bath is larger [m³]."""
MOST_TIN = 3000.0
"""No tin bath is stronger in tin [mol/m³]."""
MOST_THIOUREA = 2500.0
"""More thiourea does not dissolve [mol/m³]."""


@cache
def constant(name: str) -> tuple[float, float, float]:
    """Return a constant of `tin_constants` and the ends of its doubt [unit in the table].

    Examples
    --------
    >>> print(f"{constant('density')[0]:.0f} kg/m³")
    7287 kg/m³
    """
    rows = {row["constant"]: row for row in read("tin_constants")}
    row = rows[check_choice("name", name, tuple(rows))]
    return float(row["value"]), float(row["low"]), float(row["high"])


def tin_density() -> float:
    """Return the density of white tin [kg/m³].

    Examples
    --------
    >>> print(f"{tin_density():.0f}")
    7287
    """
    return constant("density")[0]


def checked_thickness(thickness: ArrayLike, *, above: bool = False) -> FloatArray:
    """Return a thickness of tin [m], or say that it does not grow.

    Parameters
    ----------
    thickness : float or array
        Of tin [m], to 1.5e-6.
    above : bool
        True where no tin at all is impossible.

    Returns
    -------
    array
        The thickness [m].

    Raises
    ------
    InputError
        No thickness, or one that does not grow.

    Examples
    --------
    >>> print(f"{1e6 * checked_thickness(5e-7):.1f}")
    0.5
    """
    try:
        return check_values("thickness", thickness, 0.0, MOST_THICKNESS, "m", above=above)
    except InputError as error:
        if isinstance(error.value, float) and error.value > MOST_THICKNESS:
            raise _does_not_grow(error.value) from None
        raise


def _does_not_grow(thickness: float) -> InputError:
    """Return the error for more tin [m] than ever grows, in words."""
    return InputError(
        "thickness",
        "tin stops by itself once the copper is covered, at 0.3 to 1 µm at home: this does not "
        f"grow, and more than {MOST_THICKNESS:g} m is not reckoned with",
        value=thickness,
        low=0.0,
        high=MOST_THICKNESS,
        unit="m",
    )


def tin_mass(thickness: ArrayLike) -> Any:
    """Return the mass of a layer of tin.

    Parameters
    ----------
    thickness : float or array
        Of the tin [m], 0 to 1.5e-6.

    Returns
    -------
    float or array
        Mass for each area [kg/m²]: 7.29 g/m² for a micrometre.

    Raises
    ------
    InputError
        Below 0, or more than grows.

    Notes
    -----
    Density: CRC Handbook, table `tin_constants`.

    Examples
    --------
    >>> print(f"{1000 * tin_mass(1e-6):.2f} g/m²")
    7.29 g/m²
    """
    return checked_thickness(thickness) * tin_density()


def tin_amount(thickness: ArrayLike, area: ArrayLike) -> Any:
    """Return how much tin the bath has given to a layer.

    Parameters
    ----------
    thickness : float or array
        Of the tin [m], 0 to 1.5e-6.
    area : float or array
        Copper that it covers [m²], 0 to 100.

    Returns
    -------
    float or array
        Tin [mol].

    Raises
    ------
    InputError
        A value outside its limits, or a thickness that does not grow.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{1000 * tin_amount(1e-6, 18e-4):.2f} mmol")
    0.11 mmol
    """
    mass = tin_mass(thickness)
    covered = check_values("area", area, 0.0, 100.0, "m²")
    common_shape(thickness=mass, area=covered)
    return mass * covered / MOLAR_MASS["Sn"]


def copper_lost(thickness: ArrayLike) -> Any:
    """Return how deep a layer of tin has eaten into the copper.

    Two copper for each tin: 2 (M/density of copper)/(M/density of tin) = 0.871 times the layer.

    Parameters
    ----------
    thickness : float or array
        Of the tin [m], 0 to 1.5e-6.

    Returns
    -------
    float or array
        Copper that is gone [m].

    Raises
    ------
    InputError
        Below 0, or more than grows.

    Examples
    --------
    >>> print(f"{1e6 * copper_lost(1e-6):.3f} µm")
    0.871 µm
    """
    amount = tin_mass(thickness) / MOLAR_MASS["Sn"]
    return COPPER_PER_TIN * amount * MOLAR_MASS["Cu"] / COPPER_DENSITY


def tin_capacity(volume: ArrayLike, tin: ArrayLike, thiourea: ArrayLike) -> FloatArray:
    """Return the most tin that a bath could give, whichever of tin and thiourea ends first.

    Parameters
    ----------
    volume : float or array
        Of the bath [m³], above 0 to 1.
    tin : float or array
        Tin(II) in it, from its label [mol/m³], 0 to 3000.
    thiourea : float or array
        Thiourea in it, from its label [mol/m³], 0 to 2500.

    Returns
    -------
    float or array
        Tin [mol]: a bound. Only a tenth to a fifth of it is usable (assumed).

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{1000 * tin_capacity(1e-4, 84.0, 1000.0):.1f} mmol")
    8.4 mmol
    """
    bath = check_values("volume", volume, 0.0, MOST_BATH, "m³", above=True)
    metal = check_values("tin", tin, 0.0, MOST_TIN, "mol/m³")
    ligand = check_values("thiourea", thiourea, 0.0, MOST_THIOUREA, "mol/m³")
    common_shape(volume=bath, tin=metal, thiourea=ligand)
    most: FloatArray = bath * np.minimum(metal, ligand / THIOUREA_PER_TIN)
    return most


def tin_area(
    volume: ArrayLike,
    tin: ArrayLike,
    thiourea: ArrayLike,
    thickness: ArrayLike,
    usable: ArrayLike = 1.0,
) -> FloatArray:
    """Return how much copper the tin of a bath would cover at the most.

    Parameters
    ----------
    volume : float or array
        Of the bath [m³], above 0 to 1.
    tin, thiourea : float or array
        Tin(II) and thiourea in it, from its label [mol/m³], 0 to 3000 and 0 to 2500.
    thickness : float or array
        Of the layer that is reckoned with [m], above 0 to 1.5e-6: no promise of it.
    usable : float or array
        Share of the tin that is used before the bath is given up [-], 0 to 1. The 1 of the bound is
        never reached; `USABLE` is 0.10 to 0.20 (assumed).

    Returns
    -------
    float or array
        Copper [m²]. A bath that was spoilt by what boards carried into it covers less.

    Raises
    ------
    InputError
        A value outside its limits, or a thickness that does not grow.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> most = tin_area(1e-3, 84.0, 1000.0, 1e-6)
    >>> print(f"at the most {most:.2f} m², by a tenth of the tin {0.1 * most:.2f}")
    at the most 1.37 m², by a tenth of the tin 0.14
    """
    most = tin_capacity(volume, tin, thiourea)
    layer = checked_thickness(thickness, above=True)
    share = check_values("usable", usable, 0.0, 1.0)
    common_shape(capacity=most, thickness=layer, usable=share)
    area: FloatArray = share * most * MOLAR_MASS["Sn"] / (tin_density() * layer)
    return area
