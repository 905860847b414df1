"""How much copper the workshop's tray can carry, and how warm less of it gets: computed once."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from ...bench import hazards
from ...bench.plan.outlook import outlook
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import celsius, cm, gram, percent
from ...matter.solution import Solution, mix
from ...reaction.chemistry import carried, limiting_reagent, reserve
from ..review_questions import ACID, ROOM
from ..workshop import PAIRS, USUAL, bath, tide_clock

BOTTLES = "mild"
"""The pair of bottles of the first question."""
USUAL_PEROXIDE = PAIRS[BOTTLES].peroxide
"""Its peroxide [% by weight]."""
EQUAL, ASKED = 1.0, 2.0
"""Parts of peroxide to one of acid [-]: as the workshop pours, and what is asked about."""
WEAKER = (9.0, 6.0, 3.0)
"""Peroxide of the second question [% by weight]."""
LEAST, MOST, STEP = 0.1, 5.0, 0.1
"""Ends of the slider of peroxide to one part of acid, and its step [parts]."""
PARTS = np.round(np.arange(LEAST, MOST + STEP / 2, STEP), 6)
"""Every place of that slider [parts]."""
BOTH = 0.03
"""Nearer than this to each other both reagents end together [share of the larger]."""
TOO_HOT = celsius(60)
"""What a bath at the asked ratio is counted against, left standing [K]."""
OFFCUT = 20 * cm**2
"""Bare copper of the offcut that is weighed [m²]."""
SODA, VINEGAR = 5 * gram, 0.05
"""Baking soda of the kitchen's trial [kg], and strength of its vinegar by weight [kg/kg]."""
SODA_WEIGHS, ACETIC_WEIGHS = 0.084007, 0.060052
"""NaHCO3 and CH3COOH [kg/mol], from the IUPAC standard atomic weights."""
BATH = USUAL * float(tide_clock().copper_area)
"""The workshop's tray [m³]: counted in boards here, never said."""


def tray_bath(parts: ArrayLike, peroxide: float = USUAL_PEROXIDE) -> Solution:
    """Return the workshop's tray, always as full, of bottles exactly as labelled.

    Parameters
    ----------
    parts : float or array
        Parts of peroxide to one of 10 % acid by volume [-].
    peroxide : float
        Its strength [% by weight].

    Returns
    -------
    Solution
        Mixed at 20 °C [kg, K].

    Examples
    --------
    >>> print(f"{tray_bath(1).concentration('HCl') / 1000:.2f} mol/L")
    1.44 mol/L
    """
    share = share_of(parts)
    return mix(
        Solution.of(volume=BATH * (1 - share), T=ROOM, HCl=ACID),
        Solution.of(volume=BATH * share, T=ROOM, H2O2=percent(peroxide)),
    )


def share_of(parts: ArrayLike) -> FloatArray:
    """Return the share of peroxide in a tray of so many parts to one of acid [-]."""
    poured = np.asarray(parts, dtype=float)
    return np.asarray(poured / (1 + poured))


@dataclasses.dataclass(frozen=True, eq=False)
class Tent:
    """What a full tray can carry, in boards, over the parts of peroxide to one of acid.

    Parameters
    ----------
    bottle : float
        Strength of the peroxide [% by weight].
    parts : array
        Parts of peroxide to one of acid [-].
    share : array
        The same as a share of the tray [-].
    acid, peroxide : array
        Boards whose copper each could carry by itself [-].
    first : array of str
        What runs out first: "HCl" or "H2O2" [name].
    acid_only, peroxide_only : float
        Boards for a tray of the one bottle alone, if the other were there without taking room [-].
    """

    bottle: float
    parts: FloatArray
    share: FloatArray
    acid: FloatArray
    peroxide: FloatArray
    first: np.ndarray
    acid_only: float
    peroxide_only: float

    @property
    def carried(self) -> FloatArray:
        """Boards whose copper the tray can carry away [-]: the scarcer of the two decides."""
        return np.minimum(self.acid, self.peroxide)

    @property
    def top(self) -> tuple[float, float]:
        """Where both end together: share of peroxide, and boards [-]."""
        # acid falls in a straight line from one end, peroxide rises in one to the other
        share = self.acid_only / (self.acid_only + self.peroxide_only)
        return share, self.acid_only * (1 - share)

    @property
    def top_parts(self) -> float:
        """Parts of peroxide to one of acid at the top [-]."""
        share, _ = self.top
        return share / (1 - share)

    def at(self, parts: float) -> int:
        """Return the place of so many parts of peroxide [-]."""
        return int(np.argmin(np.abs(self.parts - parts)))

    def together(self, place: int) -> bool:
        """Tell whether both end together at a place, near enough [-]."""
        more = max(self.acid[place], self.peroxide[place])
        return bool(more - self.carried[place] < BOTH * more)

    def left(self, place: int) -> float:
        """Return the share of the other that is left when the first has run out [-]."""
        more = max(self.acid[place], self.peroxide[place])
        return float(1 - self.carried[place] / more)


@cache
def tent(bottle: float = USUAL_PEROXIDE) -> Tent:
    """Return what the tray can carry with peroxide so strong [% by weight], at every place."""
    board = float(tide_clock().copper)
    baths = tray_bath(PARTS, bottle)
    copper = carried(baths)
    acid_bottle = Solution.of(volume=BATH, T=ROOM, HCl=ACID)
    peroxide_bottle = Solution.of(volume=BATH, T=ROOM, H2O2=percent(bottle))
    return Tent(
        bottle=bottle,
        parts=PARTS,
        share=share_of(PARTS),
        acid=np.asarray(copper["HCl"]) / board,
        peroxide=np.asarray(copper["H2O2"]) / board,
        first=np.asarray(limiting_reagent(baths)),
        acid_only=float(carried(acid_bottle)["HCl"]) / board,
        peroxide_only=float(carried(peroxide_bottle)["H2O2"]) / board,
    )


@cache
def turning_point() -> float:
    """Return the peroxide with which equal parts run out of both at once [% by weight]."""
    low, high = 0.0, USUAL_PEROXIDE
    # halved until no digit that is said can change
    while high - low > 1e-6:
        middle = (low + high) / 2
        if str(limiting_reagent(tray_bath(EQUAL, middle))) == "HCl":
            high = middle
        else:
            low = middle
    return (low + high) / 2


def vinegar_for(soda: float) -> float:
    """Return the vinegar that an amount of baking soda uses up, one acid for each [kg]."""
    return soda / SODA_WEIGHS * ACETIC_WEIGHS / VINEGAR


def wanted() -> float:
    """Return how many times over the planner wants a bath to carry the copper [-]."""
    return hazards.rule_named("little reserve").limit


def too_warm() -> float:
    """Return where the board is lifted out [K]."""
    return hazards.rule_named("warm while etching").limit


@dataclasses.dataclass(frozen=True, eq=False)
class Warmth:
    """How warm the workshop's bath gets while it etches, where there is so much of it.

    Parameters
    ----------
    times : float
        How many times over it could carry the copper, bottles as labelled [-].
    room : float
        Bath over bare copper [m³/m²].
    warmest : Band
        Warmest while the board is in it, over the plausible baths [K].
    after : Band
        Warmest in the day after, left standing [K].
    never : int
        How many of them never clear the board [-].
    refused : bool
        Whether the planner refuses it.
    """

    times: float
    room: float
    warmest: Band
    after: Band
    never: int
    refused: bool


@cache
def warmths() -> tuple[Warmth, ...]:
    """Return the workshop's bath just enough by count, as the planner wants it, and as it is."""
    usual = float(reserve(tray_bath(EQUAL), tide_clock()))
    rows = []
    for times in (1.0, wanted(), usual):
        room = USUAL * times / usual
        # a page says its doubts in words
        with collecting_warnings():
            bands = outlook(bath(BOTTLES, room)).bands
        severity = int(hazards.severity(hazards.exceeded(bands)))
        never = int(np.isinf(np.asarray(bands["time_to_clear"].values)).sum())
        refused = severity == hazards.REFUSED
        warmest, after = bands["etching_peak"], bands["standing_peak"]
        rows.append(Warmth(times, room, warmest, after, never, refused))
    return tuple(rows)


@cache
def hot_when_asked() -> tuple[int, int]:
    """Count the plausible baths at the asked ratio that get too hot in the day after.

    Returns
    -------
    tuple of int
        How many exceed `TOO_HOT`, and of how many [-].
    """
    asked = dataclasses.replace(bath(BOTTLES), parts=(0.0, EQUAL, ASKED))
    # a page says its doubts in words
    with collecting_warnings():
        after = np.asarray(outlook(asked).bands["standing_peak"].values)
    return int(np.sum(after > TOO_HOT)), after.size
