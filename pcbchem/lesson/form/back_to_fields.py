"""The way back: a plan's inputs, of a file or of another page, as values of the form's controls."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...bench.bottle.bottle import Bottle
from ...bench.plan.inputs import Inputs
from ...common.units import mm, percent
from ...reaction.bath.setup import ROOM
from .fields import DRAWS, PARTS, SEED, bottle_values
from .table import MOST_PARTS, PERCENT, ROWS, STARTS, USED

TRAY_SHAPE = 0.75
"""Short over long side of a tray of which the area alone is known [-] (assumed)."""
IN_PYTHON = "open this file in Python, with Plan.open"


def values_of(inputs: Inputs) -> dict[str, Any]:
    """Return the controls' values that make these inputs again, of a file or of another page.

    Parameters
    ----------
    inputs : Inputs
        From a file, or from the package's own calls [SI].

    Returns
    -------
    dict
        Every control's value by name [% by weight, parts, mL, mm, %, oz, °C, g/L, mol/L, min].

    Raises
    ------
    ValueError
        Inputs for which there is no field: another number of baths or seed, too many parts, a back
        that is bare in part.
    """
    # the page would silently plan another number of baths than the file says
    if (inputs.draws, inputs.seed) != (DRAWS, SEED):
        raise ValueError(
            f"draws = {inputs.draws}, seed = {inputs.seed} have no field here, where they are "
            f"{DRAWS} and {SEED}: {IN_PYTHON}"
        )
    values = STARTS | write_bottle("acid", inputs.acid) | write_bottle("peroxide", inputs.peroxide)
    if max(inputs.parts) > MOST_PARTS:
        raise ValueError(
            f"parts = {inputs.parts} have no field here, where each is at most {MOST_PARTS}: "
            f"{IN_PYTHON}"
        )
    values |= zip(PARTS, inputs.parts, strict=True)
    board, tray, used_bath = inputs.board, inputs.tray, inputs.used_bath
    # in SI first: the rows of the form know how to write them
    numbers: dict[str, Any] = {
        "total": inputs.bath_per_area * float(board.copper_area),
        "foil": board.foil.areal_mass,
        "bottles": inputs.T_bottles,
        "air": ROOM if tray.T_air is None else tray.T_air,  # None: as warm as a room
    }
    if board.width is None:
        # its bare area alone is known: a square, and all of it is bare
        side = float(board.side) / mm
        values |= {"board_width": side, "board_height": side, "bare": 100.0}
    else:
        numbers |= {
            "board_width": board.width,
            "board_height": board.height,
            "bare": board.bare,
        }
    if used_bath is not None:
        numbers["used_bath"] = used_bath.share
        for name in USED:
            numbers[f"used_{name}"], numbers[f"used_{name}_to"] = getattr(used_bath, name)
    if inputs.second is not None:
        numbers["held_back"], numbers["held_until"] = inputs.second
    values |= {name: ROWS[name].write(value) for name, value in numbers.items()}
    values |= {"place": inputs.place, "agitation": tray.agitation, "facing": tray.facing}
    values["back"] = write_back(float(np.asarray(board.back)))
    if tray.open_area is not None:
        # the file has an area, the form two sides: the board has to lie between them
        sides = (values["board_width"], values["board_height"])
        if tray.facing == "upright":
            sides = (0.0, 0.0)  # it hangs in a tank and needs no room
        area = float(np.asarray(tray.open_area))
        if tray.perimeter is None:
            width, length = tray_sides(area, sides)
        else:
            width, length = sides_of(area, float(np.asarray(tray.perimeter)))
        values["tray_width"], values["tray_length"] = width, length
    return values


def write_back(share: float) -> str:
    """Return what the form calls a back of which this share is bare [-]; raise where it cannot."""
    if share not in (0.0, 1.0):
        raise ValueError(
            f"board: back = {share:g} has no field here, where a back is bare or is not: "
            f"{IN_PYTHON}"
        )
    # under resist or without copper is one plan: the form begins with plastic
    return "bare" if share else "plastic"


def write_bottle(name: str, held: Bottle) -> dict[str, Any]:
    """Return the values of a bottle's controls [% by weight]."""
    low, high = PERCENT.shortest(held.low), PERCENT.shortest(held.high)
    if held.label is None:
        return bottle_values(name, (low, high, "% by weight"))
    label = PERCENT.shortest(held.label)
    labelled = bottle_values(name, (label, "% by weight"))
    # a label alone makes its own doubt; any other doubt beside it was measured
    usual = Bottle.labelled(held.substance, percent(label))
    if np.allclose((usual.low, usual.high), (held.low, held.high), rtol=1e-12, atol=0):
        return labelled
    return labelled | {f"{name}_sure": "measured", f"{name}_low": low, f"{name}_to": high}


def sides_of(area: float, perimeter: float) -> tuple[float, float]:
    """Return the sides [mm] of a tray of an open area [m²] and a wall around it [m].

    Raises
    ------
    ValueError
        No rectangle has that wall, as of a round vessel.

    Examples
    --------
    >>> print(sides_of(0.0108, 0.42))
    (120.0, 90.0)
    """
    middle = perimeter / 4
    # width and length are middle ± half: their product is the area
    half_square = middle**2 - area
    if half_square < -1e-9 * area:
        raise ValueError(
            f"tray: perimeter = {perimeter:g} m around {area:g} m² has no field here, where a tray "
            f"has two sides: {IN_PYTHON}"
        )
    # the root of a rest of the last bit would be a difference of a thousandth of a millimetre
    half = 0.0
    if half_square > 1e-12 * area:
        half = half_square**0.5
    sides = (middle + half) / mm, (middle - half) / mm
    # without the last bits of the root, where that is the same tray
    width, length = (round(side, 6) for side in sides)
    if np.isclose(width * length * mm**2, area, rtol=1e-13, atol=0):
        return width, length
    return sides


def tray_sides(area: float, board: tuple[float, float]) -> tuple[float, float]:
    """Return sides [mm] of a tray of an open area [m²] in which a board of these sides [mm] lies.

    Whole millimetres where there are some, as near as may be to the usual shape of a tray.

    Examples
    --------
    >>> print(tray_sides(0.0108, (75, 60)))
    (120.0, 90.0)
    """
    short, long = min(board), max(board)

    def oddness(pair: tuple[int, int]) -> float:
        return float(abs(np.log(pair[1] / pair[0] / TRAY_SHAPE)))

    # areas that people enter are products of whole millimetres: look for such a pair
    square = round(area / mm**2)
    if np.isclose(square * mm**2, area, rtol=1e-12, atol=0):
        pairs = []
        for tall in range(1, int(square**0.5) + 1):
            wide = square // tall
            fits = tall >= short and wide >= long
            # 1 × 10 800 mm is a pair too, and no tray
            is_a_tray = tall * tall / square > TRAY_SHAPE / 3
            if square % tall == 0 and fits and is_a_tray:
                pairs.append((wide, tall))
        if pairs:
            wide, tall = min(pairs, key=oddness)
            return float(wide), float(tall)
    # no narrower than the board, and not so wide that the other side gets too short for it
    most = np.inf
    if long:
        most = area / mm**2 / long
    height = max(short, min((TRAY_SHAPE * area) ** 0.5 / mm, most))
    return area / mm**2 / height, height
