"""Properties of the liquid in the film: short forms that the rate model can afford at every step.

The film is the layer of liquid at the copper. Its composition and temperature change from step to
step, so these forms are short: `pcbchem.matter` has the exact ones for a liquid in a bottle. They
take concentrations [mol/m³] and temperatures [K] without checking them; only `viscosity` checks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray
from ...common.limits import check_values
from ...common.units import T_HIGH, T_LOW

R = 8.314462618
"""Gas constant [J/(mol K)] (SI, by definition)."""
PRESSURE = 101_325.0
"""Pressure of the air [Pa]."""
REFERENCE = 298.15
"""Temperature at which the parameters of the rate model are stated [K]."""
THERMAL_DIFFUSIVITY = 1.45e-7
"""Thermal diffusivity of water near 25 °C [m²/s]."""
MOST = {"HCl": 20_000.0, "H2O2": 30_000.0, "CuCl2": 6000.0, "CuCl": 3000.0}
"""Most of each substance that a bath can hold [mol/m³]."""

# Heats of reaction, rounded; `pcbchem.reaction.chemistry.heat` holds where they come from
ETCH_HEAT = 315.7e3
"""Heat set free by Cu + H2O2 + 2 H+ [J/mol of copper]."""
DECAY_HEAT = 94.7e3
"""Heat set free by H2O2 -> H2O + 1/2 O2 [J/mol of peroxide]."""
CUPRIC_HEAT = 36e3
"""Heat taken up by Cu + Cu(II) -> 2 Cu(I) [J/mol of copper]; of low confidence."""

# Viscosity of water is A * 10**(B / (T - C)), here by its logarithm
LOG_WATER = np.log(2.414e-5)
WATER_SLOPE = 247.8 * np.log(10)
WATER_ZERO = 140.0
"""Where the viscosity of water would be infinite [K]."""


@dataclass
class Composition:
    """What a bath holds, and what film and balances both need to know of it.

    Parameters
    ----------
    acid, peroxide, cupric, cuprous : float or array
        HCl, H2O2, Cu(II) and Cu(I) [mol/m³].

    Attributes
    ----------
    copper : float or array
        All dissolved copper [mol/m³].
    chloride : float or array
        Chloride that is free to bind copper(I), as the film counts it [mol/m³].
    heat_capacity : float or array
        Heat capacity of a volume [J/(m³ K)].
    """

    acid: Any
    peroxide: Any
    cupric: Any
    cuprous: Any

    def __post_init__(self) -> None:
        self.copper = self.cupric + self.cuprous
        self.chloride = self.acid + self.cupric
        self.heat_capacity = volumetric_heat_capacity(self.acid, self.peroxide, self.copper)


def log_viscosity(T: Any, acid: Any, peroxide: Any, copper: Any) -> Any:
    """Return the logarithm of the viscosity [Pa s] at T [K], for concentrations [mol/m³]."""
    water = LOG_WATER + WATER_SLOPE / (T - WATER_ZERO)
    return water + 5.2e-5 * acid + 9e-6 * peroxide + 3.5e-4 * copper


def viscosity(
    T: ArrayLike, acid: ArrayLike = 0.0, peroxide: ArrayLike = 0.0, copper: ArrayLike = 0.0
) -> FloatArray:
    """Return the viscosity of a bath, from that of water and what is dissolved in it.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400.
    acid, peroxide, copper : float or array
        HCl, H2O2 and dissolved copper [mol/m³].

    Returns
    -------
    float or array
        Viscosity [Pa s]. Against handbooks HCl to 6 mol/L is −6 to +3 % off (−7 % at 40 °C),
        CuCl2 to 1.2 mol/L ±2 %, H2O2 to 5 mol/L ±3 %.

    Raises
    ------
    ValueError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * viscosity(298.15):.2f}")
    0.89
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    acid = check_values("acid", acid, 0, MOST["HCl"], "mol/m³")
    peroxide = check_values("peroxide", peroxide, 0, MOST["H2O2"], "mol/m³")
    copper = check_values("copper", copper, 0, MOST["CuCl2"], "mol/m³")
    result: FloatArray = np.exp(log_viscosity(T, acid, peroxide, copper))
    return result


def film_density(acid: Any, peroxide: Any, copper: Any) -> Any:
    """Return the density [kg/m³] for concentrations [mol/m³]."""
    return 998.0 + 0.0170 * acid + 0.0115 * peroxide + 0.118 * copper


def volumetric_heat_capacity(acid: Any, peroxide: Any, copper: Any) -> Any:
    """Return the heat capacity of a volume [J/(m³ K)] for concentrations [mol/m³], within 2 %."""
    return 4.17e6 - 200.0 * acid + 0.0075 * acid**2 - 5.0 * peroxide - 80.0 * copper


def water_activity(acid: Any, peroxide: Any) -> Any:
    """Return the activity of water [-] for concentrations [mol/m³]."""
    return np.exp((0.023 * acid + 9.7e-6 * acid**2 + 0.018 * peroxide) / -1000.0)


def cucl_saturation(chloride: Any, k2: Any, k3: Any) -> Any:
    """Return how much CuCl stays dissolved [mol/m³] at 25 °C, bound by chloride [mol/m³].

    CuCl + Cl- = CuCl2- has the constant `k2` [-], CuCl2- + Cl- = CuCl3-- `k3` [L/mol]. Of chloride
    c there stays x unbound [mol/L]: x + k2 x + 2 k2 k3 x² = c, and k2 x (1 + k3 x) is dissolved.
    """
    c = chloride * 1e-3
    x = 2 * c / (1 + k2 + np.sqrt((1 + k2) ** 2 + 8 * k2 * k3 * c))
    return 1000 * k2 * x * (1 + k3 * x)
