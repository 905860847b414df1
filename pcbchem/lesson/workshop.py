"""The workshop of every page: its board, pairs of bottles to choose from, and a bath of each."""

from __future__ import annotations

import dataclasses

from ..bench.bottle.bottle import Bottle
from ..bench.plan.inputs import Inputs
from ..common.limits import check_choice
from ..common.units import mL_per_cm2, mm, percent
from ..reaction.bath.setup import Board, Foil, Tray

USUAL = 150 / 27 * mL_per_cm2  # 150 mL over the 27 cm² of bare copper of the board below
"""The workshop's usual bath over the bare copper [m³/m²]."""
ROOMY = 20 * mL_per_cm2
"""So much bath over the bare copper that it hardly weakens [m³/m²]."""


@dataclasses.dataclass(frozen=True)
class Pair:
    """Two bottles to choose [% by weight]; `only_drawn`: too strong to be mixed on a page."""

    acid: float
    peroxide: float
    words: str
    only_drawn: bool = False


# by weight, as shops sell them; the first one is where every page starts
PAIRS = {
    "mild": Pair(10, 12, "mild: 10 %, 12 %"),
    "strong": Pair(31, 30, "strong: 31 %, 30 %: drawn only, never mixed here", True),
    "weak": Pair(10, 3, "weak: 10 %, 3 %"),
}
"""The bottles there are to choose from."""
UNTIL_CLEAR = "minutes until the board is clear"
"""What an axis of times says."""
BOTTLES = "Acid, peroxide"
"""What that choice is called."""


def tide_clock(ounces: float = 1.0) -> Board:
    """Return the workshop's tide-clock board, with foil of so many ounces [oz/ft²]."""
    return Board(width=75 * mm, height=60 * mm, bare=0.6, foil=Foil.ounces(ounces))


def bath(
    bottles: str, room: float = USUAL, parts: float = 0.0, agitation: str = "rocked"
) -> Inputs:
    """Return a bath for the workshop's board from one pair of bottles in equal parts.

    Parameters
    ----------
    bottles : str
        One of `PAIRS`.
    room : float
        Bath over the bare copper [m³/m²].
    parts : float
        Parts of water to one of acid and one of peroxide [-].
    agitation : str
        How the bath moves: one of `MOVEMENTS`.

    Returns
    -------
    Inputs
        Facing up, 1 oz of copper, bottles and air at 20 °C, strengths as labelled.

    Raises
    ------
    InputError
        Bottles that are not among `PAIRS`.

    Examples
    --------
    >>> print(f"{bath('mild').bath_per_area * 100:.2f} mL per cm²")
    5.56 mL per cm²
    """
    pair = PAIRS[check_choice("bottles", bottles, tuple(PAIRS))]
    return Inputs(
        Bottle.labelled("HCl", percent(pair.acid)),
        Bottle.labelled("H2O2", percent(pair.peroxide)),
        (parts, 1, 1),
        tide_clock(),
        Tray(agitation=agitation),
        room,
        "EU",  # whose rules: the curves of a lesson do not depend on it
    )
