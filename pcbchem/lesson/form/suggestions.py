"""What the form may fill in by itself: how much bath, and what a used one holds.

A suggestion is ours and no permission: the plan is made of it like of any other entry.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from ...bench.hazards.verdicts import MUCH_BATH, rule_named
from ...bench.plan.planning import Plan
from ...bench.plan.pours import COVER
from ...common.band import Band
from ...common.limits import InputError
from ...common.number_words import figures
from ...common.units import mL
from ...reaction.bath.setup import ROOMY, Board, Tray
from ..workshop import USUAL
from .fields import PARTS, read_bench, read_second
from .table import ROWS, USED

STEPS = {20.0: 1.0, 100.0: 5.0, 300.0: 10.0, math.inf: 50.0}
"""Up to so much liquid people measure in steps of so much [mL]."""
SHRINKS = 1.03
"""A bath fills less than what is poured into it, and is cold when poured [-] (assumed)."""
ENDS = 2
"""Figures of what a used bath holds [-]."""
NOT_MADE = "this bath is refused: nobody makes it, so it leaves nothing to top up"
OF_A_CLASS = "a class is given no amounts, and has no bath to top up"


def suggested_total(values: Mapping[str, Any]) -> tuple[float, str]:
    """Suggest how much bath to make, from the board and the tray of the form.

    As much for the copper as the workshop's usual bath, but at least what covers the board in its
    tray, and at most what one person may handle well; rounded up to what people measure.

    Parameters
    ----------
    values : mapping
        The form's values by the names of its controls.

    Returns
    -------
    tuple
        The bath in all [mL], and sentences that say why.

    Raises
    ------
    InputError
        A board or tray that cannot be, or one that takes more bath to cover than one person may
        handle well: names the entry, and no amount of bath.

    Examples
    --------
    >>> from pcbchem.lesson.form.fields import STARTS
    >>> print(*suggested_total(STARTS))
    150.0 Our suggestion: 150 mL, for each cm² of copper as much as in the workshop's usual bath. \
The verdict decides.
    """
    board, tray, _ = read_bench(values)
    usual = USUAL * float(board.copper_area)
    least = SHRINKS * covering(board, tray) / (1 - held_back(values))
    most = rule_named(MUCH_BATH).limit
    if least > most:
        rule = "to cover this board it takes much bath for one person: use one that fits closer"
        raise InputError("tray_mm", rule, about="", wrong="is too large")
    volume = handy(min(max(usual, least), most))
    first = f"Our suggestion: {figures(volume, 4)} mL"
    last = "The verdict decides."
    if usual > most:
        return volume, (
            f"{first}, the most that is not yet much for one person. The workshop's usual bath "
            "would be more for this copper: this one weakens and warms more than that. "
            f"{last}"
        )
    if least > usual:
        return volume, (
            f"{first}, which covers the board in its tray. For this copper the workshop's usual "
            f"bath would be less. {last}"
        )
    return volume, (
        f"{first}, for each cm² of copper as much as in the workshop's usual bath. {last}"
    )


def covering(board: Board, tray: Tray) -> float:
    """Return the least bath that covers a board in its tray [m³].

    Examples
    --------
    >>> print(f"{covering(Board(area=27e-4), Tray(open_area=0.0108)) / mL:.1f} mL")
    32.4 mL
    """
    if tray.open_area is None:
        # as large as the model takes a tray, and no smaller than the board that lies in it
        surface = max(ROOMY * float(board.copper_area), float(board.footprint))
        return COVER * surface
    surface = float(tray.surface(0.0, float(board.copper_area)))
    if tray.facing != "upright":
        return COVER * surface
    if board.width is None or board.height is None:
        return float(board.side) * surface
    # it is turned to have its shorter side upright
    return float(np.minimum(board.width, board.height)) * surface


def held_back(values: Mapping[str, Any]) -> float:
    """Return the share of the bath that is poured later [-]: without it the board is covered too.

    Examples
    --------
    >>> form = {"held_back": 50, "held_until": 2, "used_bath": 0,
    ...         "water_parts": 0, "acid_parts": 1, "peroxide_parts": 1}
    >>> print(held_back(form))
    0.25
    """
    second = read_second(values)
    parts = [float(values[name]) for name in PARTS]
    if second is None or not sum(parts):
        return 0.0
    fresh = 1.0
    if values["used_bath"]:
        fresh = 1 - ROWS["used_bath"].read(values["used_bath"])
    return second[0] * parts[-1] / sum(parts) * fresh


def handy(volume: float) -> float:
    """Round a volume up to what people measure [m³ in, mL out].

    Examples
    --------
    >>> print(handy(11.2e-6), handy(150e-6), handy(151e-6), handy(420e-6))
    12.0 150.0 160.0 450.0
    """
    amount = volume / mL
    step = min(step for end, step in STEPS.items() if amount < end)
    # but for the last bit: 150.00000000000003 is 150
    return math.ceil(amount / step - 1e-9) * step


def used_from(plan: Plan) -> dict[str, Any]:
    """Return what a used bath holds when this plan's board is out, as values of the form.

    Its peroxide stays blank: a test strip says that, never a plan.

    Parameters
    ----------
    plan : Plan
        A plan whose bath is made.

    Returns
    -------
    dict
        Lowest and highest copper [g/L] and acid [mol/L], outwards to two figures; peroxide None.

    Raises
    ------
    ValueError
        A refused plan, or one for a class.
    """
    if plan.school:
        raise ValueError(OF_A_CLASS)
    if plan.refused:
        raise ValueError(NOT_MADE)
    values: dict[str, Any] = {"used_peroxide": None, "used_peroxide_to": None}
    for name in ("copper", "acid"):
        band: Band = plan.bands[f"{name}_used"]
        low, high = (USED[name].write(float(end)) for end in (band.low, band.high))
        most = ROWS[f"used_{name}"].control.high
        values[f"used_{name}"] = outwards(low, math.floor)
        values[f"used_{name}_to"] = min(outwards(high, math.ceil), most)
    return values


def outwards(value: float, way: Any) -> float:
    """Round a number to two figures, down or up [any unit].

    Examples
    --------
    >>> print(outwards(5.46, math.floor), outwards(5.46, math.ceil), outwards(0.0, math.ceil))
    5.4 5.5 0.0
    """
    if value <= 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(value)) - ENDS + 1)
    # but for the last bit, which would push 1.1 to 1.2
    shift = 1e-9 if way is math.floor else -1e-9
    return float(figures(way(value / step + shift) * step, ENDS))
