"""What goes into the tray: how strong each liquid may be, how much of it, and in which order.

One call makes the liquids of one mixture, or of hundreds of variants of it side by side: an array
has one axis for the variants, S of them, before its draw axis (see `pcbchem.common.arrays`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...matter.solution import Solution
from ..hazards.caution import strongest
from .inputs import Inputs, used_bath_solution

WATER, USED_BATH, ACID, PEROXIDE = "water", "used bath", "acid", "peroxide"
SECOND_PORTION = "peroxide, second portion"
POURS = (WATER, USED_BATH, ACID, PEROXIDE, SECOND_PORTION)
"""What is poured, in this order: acid into water, and peroxide last."""
POURS_OF_WEAK_PEROXIDE = (WATER, USED_BATH, PEROXIDE, ACID, SECOND_PORTION)
"""Weak peroxide is mostly water: acid is poured into it."""
WEAK = 0.06
"""Peroxide of at most this strength is mostly water [kg/kg] (common practice)."""
USED_STRENGTHS = {"used copper": "copper", "used acid": "acid", "used peroxide": "peroxide"}
"""Names of what a used bath holds among the strengths of `bottle_strengths`, and in `UsedBath`."""


def bottle_strengths(inputs: Inputs) -> dict[str, Any]:
    """Draw everything in the bottles that is in doubt.

    Parameters
    ----------
    inputs : Inputs
        With its bottles, and the number and seed of its draws.

    Returns
    -------
    dict of array
        Strengths of "acid" and "peroxide" [kg/kg]; and "used copper", "used acid" and
        "used peroxide" [mol/m³] where a bath was used_bath.
    """
    # a seed for each bottle: with one seed strong acid would always meet strong peroxide
    strengths: dict[str, Any] = {
        "acid": inputs.acid.strengths(inputs.draws, inputs.seed),
        "peroxide": inputs.peroxide.strengths(inputs.draws, inputs.seed + 1),
    }
    if inputs.used_bath is not None:
        contents = inputs.used_bath.contents(inputs.draws, inputs.seed + 2)
        strengths |= {name: contents[field] for name, field in USED_STRENGTHS.items()}
    return strengths


def side_by_side(variants: Sequence[Inputs]) -> dict[str, Any]:
    """Collect what differs between variants, as `poured` takes it [units there].

    Only parts, bath over copper and the temperature of the bottles may.
    """
    # variants first; an axis of length 1 then stands where the draws go
    parts = np.array([variant.parts for variant in variants])
    bath_per_area = np.array([variant.bath_per_area for variant in variants])
    T_bottles = np.array([variant.T_bottles for variant in variants])
    return {
        "parts": parts[:, None, :],
        "bath_per_area": bath_per_area[:, None],
        "T_bottles": T_bottles[:, None],
    }


def poured(
    inputs: Inputs,
    *,
    parts: Any = None,
    bath_per_area: ArrayLike | None = None,
    T_bottles: ArrayLike | None = None,
    strengths: Mapping[str, Any] | None = None,
) -> dict[str, Solution]:
    """Make each liquid that goes into the tray, in the order of pouring.

    Parameters
    ----------
    inputs : Inputs
        Whatever is not given below is taken from here.
    parts : array, optional
        Water, acid and peroxide [-], shape (3,), or (S, 1, 3) for S variants.
    bath_per_area, T_bottles : float or array, optional
        Bath over bare copper [m³/m²] and bottles [K], shape (S, 1) for S variants.
    strengths : dict, optional
        Strengths as `bottle_strengths` gives them [kg/kg, mol/m³].

    Returns
    -------
    dict of Solution
        By names from `POURS`, volumes at the bottles' temperature; what is nothing everywhere is
        left out.
    """
    if parts is None:
        parts = inputs.parts
    if bath_per_area is None:
        bath_per_area = inputs.bath_per_area
    if T_bottles is None:
        T_bottles = inputs.T_bottles
    if strengths is None:
        strengths = bottle_strengths(inputs)

    T = T_bottles
    bath = np.asarray(bath_per_area) * float(inputs.board.copper_area)
    volumes = _fresh_volumes(inputs, bath, parts)
    acid, peroxide = strengths["acid"], strengths["peroxide"]
    liquids = {
        WATER: Solution.of(volume=volumes[WATER], T=T),
        ACID: Solution.of(volume=volumes[ACID], T=T, HCl=acid),
        PEROXIDE: Solution.of(volume=volumes[PEROXIDE], T=T, H2O2=peroxide),
        SECOND_PORTION: Solution.of(volume=volumes[SECOND_PORTION], T=T, H2O2=peroxide),
    }
    if inputs.used_bath is not None:
        liquids[USED_BATH] = used_bath_solution(
            bath * inputs.used_bath.share,
            T,
            copper=strengths["used copper"],
            acid=strengths["used acid"],
            peroxide=strengths["used peroxide"],
        )
    # by the strongest it may be: in doubt it is poured last, as strong peroxide is
    order = POURS
    if strongest(inputs.peroxide) <= WEAK:
        order = POURS_OF_WEAK_PEROXIDE
    # a liquid stays where any variant has some of it: all of them share one order
    return {
        name: liquids[name]
        for name in order
        if name in liquids and np.any(liquids[name].plain_mass > 0)
    }


def _fresh_volumes(inputs: Inputs, bath: Any, parts: Any) -> dict[str, Any]:
    """Share out what of a bath [m³] is poured fresh, by parts [-] at the bottles' temperature."""
    # the parts stand on the last axis
    water, acid, peroxide = np.moveaxis(np.asarray(parts, dtype=float), -1, 0)
    one_part = bath * inputs.fresh / (water + acid + peroxide)
    held_back = 0.0
    if inputs.second is not None:
        held_back, _ = inputs.second
    return {
        WATER: one_part * water,
        ACID: one_part * acid,
        PEROXIDE: one_part * peroxide * (1 - held_back),
        SECOND_PORTION: one_part * peroxide * held_back,
    }


def acid_met(pours: Mapping[str, Solution]) -> Any:
    """Return the acid in what the peroxide is poured into [kg/kg]; 0 where that is nothing."""
    names = list(pours)  # in the order of pouring
    if PEROXIDE not in names or names[0] == PEROXIDE:
        return 0.0
    before = [pours[name] for name in names[: names.index(PEROXIDE)]]
    acid = sum(np.asarray(liquid.plain_mass * liquid.fractions["HCl"]) for liquid in before)
    mass = np.asarray(sum(liquid.plain_mass for liquid in before))
    # a variant may have nothing there where others have: no 0 / 0
    return np.where(mass > 0, acid / np.where(mass > 0, mass, 1.0), 0.0)
