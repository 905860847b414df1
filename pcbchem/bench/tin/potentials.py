"""Why tin comes out on copper at all: thiourea pulls copper below tin.

Beside its own ions copper lies half a volt above tin, and nothing happens. Thiourea takes copper(I)
into a complex, Cu+ + 4 thiourea -> Cu(thiourea)4+, so little of it is left free that copper falls
below tin. By Nernst's equation at 25 °C, without activities:

    E = E0(Cu+/Cu) + (R T/F) ln([complex]/(beta4 [thiourea]^4)),  concentrations in mol/L
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.band import between
from ...common.limits import check_values
from ...common.units import mol_per_L
from ...reaction.bath.film_properties import REFERENCE, R
from ...reaction.chemistry.potentials import FARADAY, electrons, potential
from .coating import MOST_THIOUREA, MOST_TIN, constant

LEAST_THIOUREA = 10.0
"""With less of it other complexes hold more, and the formula says nothing [mol/m³]."""
LEAST_ION = 1e-3
"""Less of an ion than this is none to reckon with [mol/m³]."""
BETA = (10.0, 20.0)
"""Between these lies log10 beta4, whoever measured it [-]."""
BETA_SEED = 110_401


def log_beta4(draws: int | None = None) -> FloatArray:
    """Return how firmly four thiourea hold copper(I), log10 beta4 in mol/L at 25 °C.

    Parameters
    ----------
    draws : int, optional
        How many draws of its doubt [-], 1 to 400; None: the middle value alone.

    Returns
    -------
    float or Draws
        log10 beta4 [-]: 15.4, from memory; over draws 13.0 to 16.4.

    Raises
    ------
    InputError
        Draws that cannot be.

    Examples
    --------
    >>> print(f"{log_beta4():.1f}")
    15.4
    """
    value, low, high = constant("log beta4")
    if draws is None:
        return np.array(value)
    return between(low, high, draws, BETA_SEED)


def copper_potential(
    thiourea: ArrayLike, copper: ArrayLike | None = None, log_beta: ArrayLike | None = None
) -> FloatArray:
    """Return the potential of copper in thiourea at 25 °C.

    Parameters
    ----------
    thiourea : float or array
        Free thiourea [mol/m³], 10 to 2500.
    copper : float or array, optional
        Copper(I) that is dissolved beside it [mol/m³], 0.001 to 2500; 1 unless given (assumed).
    log_beta : float or array, optional
        log10 beta4 [-], 10 to 20; `log_beta4()` unless given, its draws for the doubt.

    Returns
    -------
    float or array
        Against the hydrogen electrode [V]. The constant was recalled: a factor of ten in it is
        0.06 V. A bath of 1960 had copper 0.2 V below tin, where this gives 0.35.

    Raises
    ------
    InputError
        A value outside its limits. Without thiourea ask for `potential("copper")`.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{copper_potential(1000.0):.2f} V, tin {tin_potential(84.0):.2f} V")
    -0.57 V, tin -0.17 V
    """
    if copper is None:
        copper = constant("dissolved copper")[0]
    if log_beta is None:
        log_beta = log_beta4()
    ligand = check_values("thiourea", thiourea, LEAST_THIOUREA, MOST_THIOUREA, "mol/m³")
    complexed = check_values("copper", copper, LEAST_ION, MOST_THIOUREA, "mol/m³")
    firmness = check_values("log_beta", log_beta, *BETA)
    common_shape(thiourea=ligand, copper=complexed, log_beta=firmness)
    log_free = np.log10(complexed / mol_per_L) - firmness - 4 * np.log10(ligand / mol_per_L)
    return _nernst("copper(I)", log_free)


def tin_potential(tin: ArrayLike) -> FloatArray:
    """Return the potential of tin beside its ions at 25 °C, with nothing that holds them.

    Parameters
    ----------
    tin : float or array
        Tin(II) [mol/m³], 0.001 to 3000.

    Returns
    -------
    float or array
        Against the hydrogen electrode [V]; chloride and organic acids hold tin and bring it lower.

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{tin_potential(1000.0):.2f} V")
    -0.14 V
    """
    ion = check_values("tin", tin, LEAST_ION, MOST_TIN, "mol/m³")
    return _nernst("tin", np.log10(ion / mol_per_L))


def _nernst(couple: str, log_ion: FloatArray) -> FloatArray:
    """Return the potential of a metal [V] beside so much of its free ion [log10 in mol/L]."""
    step = np.log(10) * R * REFERENCE / (electrons(couple) * FARADAY)
    volts: FloatArray = potential(couple) + step * log_ion
    return volts
