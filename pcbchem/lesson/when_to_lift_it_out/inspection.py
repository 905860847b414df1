"""A made-up board with three faults: a cut, a bridge and a haze of thin copper, from a seed."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np
from numpy.typing import NDArray

WIDTH, HEIGHT = 75.0, 60.0
"""Of the board [mm]."""
PIXEL = 0.2
"""Side of a point of the picture [mm]."""
FIELD = 15.0
"""Side of a field [mm]: five across, A to E, and four down, 1 to 4."""
COLUMNS = "ABCDE"
"""Names of the fields across."""
TRACES, PITCH, FIRST = 8, 6.4, 5.2
"""How many traces there are, from one to the next [mm], and where the first lies [mm]."""
TRACE, PAD = 0.8, 1.7
"""Width of a trace, and half of a pad at its end [mm]."""
LEFT_END, RIGHT_END = 6.0, 69.0
"""Where the pads are [mm]."""
DROP = 3.8
"""How far a trace goes down between its bends [mm]."""
HAIR = 0.4
"""Width of a cut and of a bridge [mm]."""
HAZE = (6.0, 3.4)
"""A haze's length and height [mm]: it fits between two traces."""
FROM_EDGE, FROM_BEND, FROM_EACH_OTHER = 3.4, 3.2, 20.0
"""How far a fault lies from the edge of its field, from bends and pads, and from others [mm]."""
TRIES = 10_000
"""How often places are drawn for the faults of one board [-]."""
FAULTS = ("cut", "bridge", "haze")
"""Names of the faults."""


@dataclasses.dataclass(frozen=True)
class Fault:
    """One fault of a board.

    Parameters
    ----------
    name : str
        One of `FAULTS`.
    x, y : float
        Its middle, from the upper left corner of the board [mm].
    """

    name: str
    x: float
    y: float

    @property
    def field(self) -> str:
        """Name of the field that it lies in: "D3"."""
        return f"{COLUMNS[int(self.x // FIELD)]}{int(self.y // FIELD) + 1}"


@dataclasses.dataclass(frozen=True, eq=False)
class Board:
    """A board after etching, its resist off.

    Parameters
    ----------
    copper, haze : array
        Where there is a trace, and where thin copper is left: rows from above, true or false [-].
    faults : tuple of Fault
        A cut, a bridge and a haze.
    """

    copper: NDArray[np.bool_]
    haze: NDArray[np.bool_]
    faults: tuple[Fault, ...]

    @property
    def fields(self) -> dict[str, str]:
        """Return the field of each fault, by its name."""
        return {fault.name: fault.field for fault in self.faults}


@dataclasses.dataclass(frozen=True)
class Layout:
    """Where the traces of a board bend [mm].

    Parameters
    ----------
    down, up : tuple of float
        Of each trace, where it goes down and where it comes up again [mm].
    """

    down: tuple[float, ...]
    up: tuple[float, ...]

    def height(self, trace: int, x: float) -> float:
        """Return how far from the upper edge a trace lies at a place across [mm]."""
        level = FIRST + PITCH * trace
        return level + DROP if self.down[trace] <= x <= self.up[trace] else level

    def is_straight(self, trace: int, x: float) -> bool:
        """Tell whether a trace runs straight at a place across [mm], far from bend and pad."""
        corners = (LEFT_END, self.down[trace], self.up[trace], RIGHT_END)
        return all(abs(x - corner) > FROM_BEND for corner in corners)


@cache
def made_up(seed: int, has_faults: bool = True) -> Board:
    """Make up a board: the same number makes the same one.

    Parameters
    ----------
    seed : int
        Its number [-], 0 or more.
    has_faults : bool
        Without: the same board as it should be.

    Returns
    -------
    Board
        With three faults in three fields.
    """
    rng = np.random.default_rng(seed)
    layout = layout_of(rng)
    faults = places(layout, rng)
    x, y = np.meshgrid(
        np.arange(PIXEL / 2, WIDTH, PIXEL), np.arange(PIXEL / 2, HEIGHT, PIXEL), sparse=True
    )
    copper = traces(layout, x, y)
    haze = np.zeros_like(copper)
    if not has_faults:
        return Board(copper, haze, ())
    for fault in faults:
        across, down = np.abs(x - fault.x), np.abs(y - fault.y)
        if fault.name == "cut":
            copper = copper & ~((across < HAIR / 2) & (down < TRACE))
        elif fault.name == "bridge":
            copper = copper | ((across < HAIR / 2) & (down < PITCH / 2))
        else:
            length, height = HAZE
            haze = (2 * across / length) ** 2 + (2 * down / height) ** 2 < 1
    return Board(copper, haze & ~copper, faults)


def layout_of(rng: np.random.Generator) -> Layout:
    """Draw where the traces bend: nested, so that none meets the next."""
    down = float(rng.uniform(15, 22)) + float(rng.uniform(0.5, 1.3)) * np.arange(TRACES)
    up = float(rng.uniform(53, 60)) - float(rng.uniform(0.5, 1.3)) * np.arange(TRACES)
    return Layout(tuple(down.tolist()), tuple(up.tolist()))


def places(layout: Layout, rng: np.random.Generator) -> tuple[Fault, ...]:
    """Draw a place for each fault until all lie well, in three fields far from each other."""
    for _ in range(TRIES):
        faults = tuple(place(name, layout, rng) for name in FAULTS)
        if lie_well(faults, layout):
            return faults
    raise RuntimeError(f"no place for three faults in {TRIES} draws")


def place(name: str, layout: Layout, rng: np.random.Generator) -> Fault:
    """Draw a place for one fault: a cut on a trace, the others between a trace and the next."""
    x = float(rng.uniform(LEFT_END, RIGHT_END))
    # on the grid of the points, so that a hair is as wide everywhere
    x = round(x / PIXEL) * PIXEL
    trace = int(rng.integers(TRACES - 1))
    y = layout.height(trace, x)
    if name != "cut":
        y += PITCH / 2
    return Fault(name, x, y)


def lie_well(faults: tuple[Fault, ...], layout: Layout) -> bool:
    """Tell whether faults lie on straight traces, each well inside a field, far from each other."""
    for number, fault in enumerate(faults):
        inside = (fault.x % FIELD, fault.y % FIELD)
        if not all(FROM_EDGE < part < FIELD - FROM_EDGE for part in inside):
            return False
        # a bend of any trace would be in the way of whoever looks for a hair
        if not all(layout.is_straight(trace, fault.x) for trace in range(TRACES)):
            return False
        for earlier in faults[:number]:
            if np.hypot(fault.x - earlier.x, fault.y - earlier.y) < FROM_EACH_OTHER:
                return False
    return len({fault.field for fault in faults}) == len(faults)


def traces(layout: Layout, x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return where copper should be: traces with a pad at each end [mm in]."""
    half = TRACE / 2
    copper = np.zeros(np.broadcast_shapes(x.shape, y.shape), dtype=bool)
    for trace in range(TRACES):
        level, low = FIRST + PITCH * trace, FIRST + PITCH * trace + DROP
        down, up = layout.down[trace], layout.up[trace]
        for left, right in ((LEFT_END, down), (up, RIGHT_END)):
            copper |= (x > left - half) & (x < right + half) & (np.abs(y - level) < half)
        copper |= (x > down - half) & (x < up + half) & (np.abs(y - low) < half)
        for bend in (down, up):
            copper |= (np.abs(x - bend) < half) & (y > level - half) & (y < low + half)
        for end in (LEFT_END, RIGHT_END):
            copper |= np.hypot(x - end, y - level) < PAD
    return copper
