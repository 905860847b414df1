"""What goes into the tray: how strong each liquid may be, how much of it, and in which order.

One call makes the liquids of one mixture, or of hundreds of variants of it side by side: an array
has one axis for the variants, S of them, before its draw axis (see `pcbchem.common.arrays`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from functools import reduce
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...matter.properties import density_inside
from ...matter.solution import Solution
from ...reaction.bath.setup import Tray
from ..bottle.bottle import Bottle
from ..hazards.caution import strongest
from .inputs import Inputs, used_bath_solution

WATER, USED_BATH, ACID, PEROXIDE = "water", "used bath", "acid", "peroxide"
SECOND_PORTION = "peroxide, second portion"
POURS = (WATER, USED_BATH, ACID, PEROXIDE, SECOND_PORTION)
"""What is poured, in this order: acid into water, and peroxide last."""
POURS_OF_WEAK_PEROXIDE = (WATER, USED_BATH, PEROXIDE, ACID, SECOND_PORTION)
"""Weak peroxide is mostly water: acid is poured into it."""
STRONG_ACID, SOME_ACID = 0.25, 0.12
"""Acid from the first strength on is strong, above the second it is not weak [kg/kg] (our
limits)."""
WEAK, WEAK_FOR_STRONG_ACID = 0.06, 0.04
"""Peroxide of at most this strength is mostly water, and where the acid is strong [kg/kg] (our
limits)."""
COVER = 0.003
"""Least depth of liquid that covers a board lying in it [m] (common practice: a board is 1.6 mm
thick)."""
DIGITS = 12
"""Decimals of a strength that is held against these [kg/kg]: 0.35 - 0.1 is 25 %, not a bit less."""
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
    order = POURS
    if is_mostly_water(inputs):
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


def strongest_of(bottle: Bottle) -> float:
    """Return the strongest that a bottle may be [kg/kg], without the last bit of a sum."""
    return round(strongest(bottle), DIGITS)


def is_mostly_water(inputs: Inputs) -> bool:
    """Return whether the peroxide is so weak that the acid is poured into it."""
    # by the strongest they may be: in doubt it is poured last, as strong peroxide is
    weak = WEAK
    if strongest_of(inputs.acid) >= STRONG_ACID:
        weak = WEAK_FOR_STRONG_ACID
    return strongest_of(inputs.peroxide) <= weak


def strongest_strengths(inputs: Inputs) -> dict[str, Any]:
    """Return the most that everything may hold, by name in `bottle_strengths` [same units]."""
    strengths: dict[str, Any] = {
        "acid": strongest_of(inputs.acid),
        "peroxide": strongest_of(inputs.peroxide),
    }
    if inputs.used_bath is not None:
        for name, field in USED_STRENGTHS.items():
            _, strengths[name] = getattr(inputs.used_bath, field)
        # copper only makes it heavier, and so its acid and peroxide fewer per cent
        strengths["used copper"], _ = inputs.used_bath.copper
    return strengths


def meetings(inputs: Inputs, **changed: Any) -> dict[str, Any]:
    """Find how strong acid and peroxide may be where they meet, pour by pour.

    Both count by the strongest they may be: a used bath, too, by the highest it may hold.

    Parameters
    ----------
    inputs : Inputs
        What is poured.
    **changed : array
        What differs between variants, as `poured` takes it [units there].

    Returns
    -------
    dict
        [kg/kg], 0 where nothing meets, of shape () or (S, 1) for S variants. "acid_met": the acid
        in what peroxide of more than 6 % is poured into, "strong_acid_met": of more than 4 %.
        "peroxide_met": the peroxide in what acid of more than 12 % is poured into,
        "peroxide_met_by_strong": acid of 25 % and more.
    """
    pours = poured(inputs, **{**changed, "strengths": strongest_strengths(inputs)})
    acid, peroxide = strongest_of(inputs.acid), strongest_of(inputs.peroxide)
    into_acid: list[Any] = [0.0]
    into_peroxide: list[Any] = [0.0]
    mass: Any = 0.0
    masses: dict[str, Any] = {"HCl": 0.0, "H2O2": 0.0}
    for name, liquid in pours.items():
        # what is nothing in a variant meets nothing there: no 0 / 0
        is_meeting = (np.asarray(liquid.plain_mass) > 0) & (np.asarray(mass) > 0)
        whole = np.where(np.asarray(mass) > 0, mass, 1.0)
        if name in (PEROXIDE, SECOND_PORTION):
            into_acid.append(np.where(is_meeting, masses["HCl"] / whole, 0.0))
        if name == ACID:
            into_peroxide.append(np.where(is_meeting, masses["H2O2"] / whole, 0.0))
        for substance in masses:
            masses[substance] = masses[substance] + np.asarray(
                liquid.plain_mass * liquid.fractions[substance]
            )
        mass = mass + np.asarray(liquid.plain_mass)
    most_acid = np.round(reduce(np.maximum, into_acid), DIGITS)
    most_peroxide = np.round(reduce(np.maximum, into_peroxide), DIGITS)
    return {
        "acid_met": most_acid * (peroxide > WEAK),
        "strong_acid_met": most_acid * (peroxide > WEAK_FOR_STRONG_ACID),
        "peroxide_met": most_peroxide * (acid > SOME_ACID),
        "peroxide_met_by_strong": most_peroxide * (acid >= STRONG_ACID),
    }


def certain(inputs: Inputs, **changed: Any) -> dict[str, Any]:
    """Find what the rules read of bottles, tray and order alone, the same in every draw.

    Parameters
    ----------
    inputs : Inputs
        What is poured.
    **changed : array
        What differs between variants, as `poured` takes it [units there].

    Returns
    -------
    dict
        `meetings`, and how strong the bottles may be [kg/kg]; the peroxide that a used bath may
        hold [mol/m³]; the bottles' temperature [K]; when a second portion is due [s], infinite
        without one; whether the bath is bubbled or sprayed [0 or 1].
    """
    used_peroxide, second_time = 0.0, np.inf
    if inputs.used_bath is not None:
        _, used_peroxide = inputs.used_bath.peroxide
    if inputs.second is not None:
        _, second_time = inputs.second
    return {
        **meetings(inputs, **changed),
        "used_peroxide": used_peroxide,
        "acid_bottle": strongest_of(inputs.acid),
        "peroxide_bottle": strongest_of(inputs.peroxide),
        "bottle_temperature": changed.get("T_bottles", inputs.T_bottles),
        "second_time": second_time,
        "bubbled": float(inputs.tray.agitation == "bubbled"),
        "sprayed": float(inputs.tray.agitation == "sprayed"),
    }


def bulk(mixture: Solution) -> Any:
    """Return the volume of a mixture at its own temperature [m³], without a warning."""
    return np.asarray(mixture.plain_mass / density_inside(mixture.plain_T, mixture.fractions))


def cover(inputs: Inputs, tray: Tray, volume: ArrayLike) -> Any:
    """Return the depth of a bath [m³] over what covers the board [-]: below 1 copper stays dry."""
    board = inputs.board
    depth = np.asarray(volume) / tray.surface(volume, float(board.copper_area))
    if inputs.tray.facing != "upright":
        return depth / COVER
    # a board whose sides nobody said counts as a square of its copper
    if board.width is None or board.height is None:
        return depth / float(board.side)
    # one that stands in the bath is turned to have its shorter side upright
    return depth / float(np.minimum(board.width, board.height))


def where_needed(is_needed: Any, portion: Solution, draws: int | None) -> Solution:
    """Return a portion where it is needed, and nothing of it where it is not."""
    shape = is_needed.shape
    fractions = {
        substance: np.broadcast_to(fraction, shape)
        for substance, fraction in portion.fractions.items()
    }
    mass = np.where(is_needed, portion.plain_mass, 0.0)
    return Solution(mass, np.broadcast_to(portion.plain_T, shape), fractions, draws)


def whole_tray(inputs: Inputs, pours: Mapping[str, Solution]) -> Tray:
    """Return the tray with room for all that is poured: as large [m²] for both portions."""
    # one tray for all draws, by the mean of their volumes: they hardly differ
    volume = sum(bulk(liquid) for liquid in pours.values())
    mean_volume = np.mean(volume, axis=-1, keepdims=True)
    surface = inputs.tray.surface(mean_volume, inputs.board.copper_area)
    open_area: Any = surface
    if surface.ndim < 2:  # no variants: a tray is then one number, not an array of one
        open_area = float(surface.flat[0])
    return dataclasses.replace(inputs.tray, open_area=open_area)
