"""A plan's inputs back in the fields they came from: lab units, strengths in % by weight, the same numbers again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from ...bench.bottle.bottle import Bottle
from ...bench.plan.inputs import Inputs
from ...common.units import ZERO_C, L, celsius, minute, mL, mm, percent
from ...reaction.bath.setup import OUNCE_PER_SQUARE_FOOT, ROOM, Board, Tray
from .fields import DRAWS, GRAM_PER_LITRE, SEED

SHAPE = 0.75
"""Short over long side of a tray of which the area alone is known [-] (assumed)."""


def plain(value: float, back: Callable[[float], Any]) -> float:
    """A number as people would write it, if it means exactly the same when it is read back [any unit].

    Examples
    --------
    >>> print(plain(0.102 * 100, percent))
    10.2
    """
    short = round(value, 9)
    return (
        short
        if float(back(short)) == float(back(value))
        or np.isclose(float(back(short)), float(back(value)), rtol=1e-14, atol=0)
        else value
    )


def bottle(held: Bottle) -> tuple[Any, ...]:
    """A bottle as a field takes it [% by weight]: its label, or lowest and highest; ValueError where it is neither."""
    low, high = (plain(100 * end, percent) for end in (held.low, held.high))
    if held.label is None:
        return low, high, "% by weight"
    label = plain(100 * held.label, percent)
    usual = Bottle.labelled(held.substance, float(percent(label)))
    if not np.allclose((usual.low, usual.high), (held.low, held.high), rtol=1e-12, atol=0):
        raise ValueError(
            f"{held.substance}: a label of {label:g} % beside strengths of {low:g} to {high:g} % has no "
            "field here: open this file in Python, with Plan.open"
        )
    return label, "% by weight"


def board(held: Board) -> dict[str, Any]:
    """A board as fields take it [mm, %, oz/ft²]; where its area alone is known, a square that is all bare."""
    ounces = plain(
        float(held.foil.areal_mass) / OUNCE_PER_SQUARE_FOOT,
        lambda x: x * OUNCE_PER_SQUARE_FOOT,  # type: ignore[arg-type]
    )
    if held.width is None or held.height is None or held.bare is None:
        side = float(held.side) / mm
        return {"board_mm": (side, side), "bare_percent": 100.0, "foil_oz": ounces}
    sides = tuple(plain(float(side) / mm, lambda x: x * mm) for side in (held.width, held.height))  # type: ignore[arg-type]
    return {
        "board_mm": sides,
        "bare_percent": plain(100 * float(held.bare), percent),  # type: ignore[arg-type]
        "foil_oz": ounces,
    }


def tray_sides(area: float, least: tuple[float, float]) -> tuple[float, float]:
    """Sides of a tray of that open area [m² in, mm out] in which a board of these sides lies [mm].

    Whole millimetres where there are some, as near as may be to the shape of a tray.

    Examples
    --------
    >>> print(tray_sides(0.0108, (75, 60)))
    (120.0, 90.0)
    """
    square = round(area / mm**2)
    short, long = min(least), max(least)
    if np.isclose(square * mm**2, area, rtol=1e-12, atol=0):
        found = [
            (square // k, k)
            for k in range(1, int(square**0.5) + 1)
            if square % k == 0 and k >= short and square // k >= long and k * k / square > SHAPE / 3
        ]
        if found:
            wide, tall = min(found, key=lambda pair: abs(np.log(pair[1] / pair[0] / SHAPE)))
            return float(wide), float(tall)
    tall = max(short, min((SHAPE * area) ** 0.5 / mm, area / mm**2 / long if long else np.inf))
    return area / mm**2 / tall, tall


def fields_of(given: Inputs) -> dict[str, Any]:
    """The fields from which `pcbchem.lesson.fields.planned` makes these inputs again.

    Parameters
    ----------
    given : Inputs
        From a file, or from the package's own calls [SI].

    Returns
    -------
    dict
        Keyword arguments of `planned` [% by weight, mm, mL, °C, min, g/L, mol/L].

    Raises
    ------
    ValueError
        Inputs that no field can say: another number of baths or seed, a label beside a doubt of its own.

    Examples
    --------
    >>> from pcbchem.lesson.plan_a_bath.fields import planned
    >>> asked = dict(acid=(10, "% by weight"), peroxide=(12, "% by weight"), parts=(0, 1, 1), total_mL=150,
    ...              board_mm=(75, 60), bare_percent=60, place="EU")
    >>> got = fields_of(planned(**asked).inputs)
    >>> print({name: got[name] for name in ("acid", "total_mL", "board_mm")})
    {'acid': (10.0, '% by weight'), 'total_mL': 150.0, 'board_mm': (75.0, 60.0)}
    """
    if (given.draws, given.seed) != (DRAWS, SEED):
        raise ValueError(
            f"draws = {given.draws}, seed = {given.seed} have no field here, where they are {DRAWS} and "
            f"{SEED}: open this file in Python, with Plan.open"
        )
    laid, tray, kept, second = board(given.board), given.tray, given.kept, given.second
    area = float(given.board.area)  # type: ignore[arg-type]
    found = {
        "acid": bottle(given.acid),
        "peroxide": bottle(given.peroxide),
        "parts": given.parts,
        **laid,
        "total_mL": plain(given.bath_per_area * area / mL, lambda x: x * mL / area),
        "place": given.place,
        "agitation": tray.agitation,
        "facing": tray.facing,
        "tray_mm": None
        if tray.open_area is None
        else tray_sides(
            float(tray.open_area),
            (0.0, 0.0) if tray.facing == "upright" else laid["board_mm"],  # type: ignore[arg-type]
        ),
        "bottles_C": plain(given.T_bottles - ZERO_C, celsius),
        "air_C": air(tray),
        "kept": None,
        "second": None,
    }
    if kept is not None:
        held = [
            tuple(plain(end / scale, lambda x, scale=scale: x * scale) for end in ends)  # type: ignore[misc]
            for ends, scale in (
                (kept.copper, GRAM_PER_LITRE),
                (kept.acid, 1 / L),
                (kept.peroxide, 1 / L),
            )
        ]
        found["kept"] = (plain(100 * kept.share, percent), *held)
    if second is not None:
        found["second"] = (
            plain(100 * second[0], percent),
            plain(second[1] / minute, lambda x: x * minute),
        )
    return found


def air(tray: Tray) -> float:
    """Air over a tray as a field takes it [°C]; the model's own where nobody said."""
    return plain(float(ROOM if tray.T_air is None else tray.T_air) - ZERO_C, celsius)  # type: ignore[arg-type]
