"""Where a mixture stands in the triangle of the page, and which regions a map falls into."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

HEIGHT = 3**0.5 / 2
"""Height of a triangle whose sides are 1 [-]."""
ROOM = 0.9
"""How much of their words a region has to have room for [-]."""


class Frame(NamedTuple):
    """A picture and the triangle in it [inch]."""

    width: float
    height: float
    left: float
    bottom: float
    side: float
    size: float  # of its words [pt]


FRAMES = {
    False: Frame(width=6.2, height=5.1, left=0.8, bottom=0.5, side=4.6, size=10),
    True: Frame(width=3.9, height=3.95, left=0.45, bottom=0.42, side=3.0, size=8.5),
}
"""Of a page, and of a narrow one."""


class Region(NamedTuple):
    """Mixtures beside each other that are refused for one reason [steps]."""

    reason: str
    members: list[tuple[int, ...]]


class Box(NamedTuple):
    """What words cover, in the triangle whose sides are 1 [-]."""

    left: float
    low: float
    right: float
    high: float

    def meets(self, other: Box) -> bool:
        """Tell whether two boxes cover some place together."""
        is_beside = self.right <= other.left or other.right <= self.left
        is_above = self.high <= other.low or other.high <= self.low
        return not (is_beside or is_above)

    def spots(self) -> NDArray[np.float64]:
        """Return places all over the box [-]."""
        across = np.linspace(self.left, self.right, 7)
        up = np.linspace(self.low, self.high, 5)
        return np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)


def points(shares: Any) -> NDArray[np.float64]:
    """Return places in the triangle, whose sides are 1, of shares of water, acid, peroxide [-].

    Water stands at the top, acid at the left and peroxide at the right.

    Examples
    --------
    >>> print(points([[0, 0, 1], [0, 0.5, 0.5]]))
    [[1.  0. ]
     [0.5 0. ]]
    """
    water, _, peroxide = np.asarray(shares, dtype=float).T
    return np.column_stack([peroxide + water / 2, HEIGHT * water])


def shares_at(x: float, y: float, narrow: bool) -> NDArray[np.float64]:
    """Return water, acid and peroxide [-] at a place of the picture; outside some are below 0.

    Parameters
    ----------
    x, y : float
        Shares of its width and height, from the top left [-].
    narrow : bool
        Of the narrow picture.
    """
    frame = FRAMES[narrow]
    across = (x * frame.width - frame.left) / frame.side
    up = ((1 - y) * frame.height - frame.bottom) / frame.side
    water = up / HEIGHT
    peroxide = across - water / 2
    return np.array([water, 1 - water - peroxide, peroxide])


def place_on_picture(shares: Sequence[float], narrow: bool) -> tuple[float, float]:
    """Return where a mixture stands on the picture, as `shares_at` takes it [-]."""
    frame = FRAMES[narrow]
    ((across, up),) = points([shares])
    x = (frame.left + across * frame.side) / frame.width
    y = 1 - (frame.bottom + up * frame.side) / frame.height
    return float(x), float(y)


def regions(shares: Any, steps: int, reasons: Sequence[str]) -> list[Region]:
    """Find regions of one reason, the largest first.

    Parameters
    ----------
    shares : array
        Water, acid and peroxide of each mixture [-].
    steps : int
        Of the map [-].
    reasons : sequence of str
        Why each is refused, in words for the map; "": it is not.
    """
    left = reasons_by_count(shares, steps, reasons)
    found = []
    while left:
        first = next(iter(left))
        members = together(first, left)
        found.append(Region(left[first], members))
        for member in members:
            del left[member]
    return sorted(found, key=lambda region: -len(region.members))


def reasons_by_count(shares: Any, steps: int, reasons: Sequence[str]) -> dict[tuple[int, ...], str]:
    """Return the words of each refused mixture by its steps of water, acid and peroxide [-]."""
    counts = [tuple(row) for row in np.rint(np.asarray(shares) * steps).astype(int).tolist()]
    return {count: words for count, words in zip(counts, reasons, strict=True) if words}


def together(first: tuple[int, ...], left: dict[tuple[int, ...], str]) -> list[tuple[int, ...]]:
    """Return all mixtures of one reason that hang together with the first [steps]."""
    members, waiting = {first}, [first]
    while waiting:
        for neighbour in neighbours(waiting.pop()):
            if neighbour not in members and left.get(neighbour) == left[first]:
                members.add(neighbour)
                waiting.append(neighbour)
    return sorted(members)


def neighbours(count: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Return the six mixtures around one, whether on the map or not [steps]."""
    around = []
    for more in range(3):
        for less in range(3):
            if more != less:
                moved = list(count)
                moved[more] += 1
                moved[less] -= 1
                around.append(tuple(moved))
    return around


def share_inside(box: Box, shares: Any, is_member: NDArray[np.bool_]) -> float:
    """Return how much of a box lies over some mixtures of a map, and inside the triangle [-]."""
    spots = box.spots()
    water = spots[:, 1] / HEIGHT
    peroxide = spots[:, 0] - water / 2
    least = np.minimum.reduce([water, peroxide, 1 - water - peroxide])
    distance = np.linalg.norm(spots[:, None, :] - points(shares)[None, :, :], axis=2)
    return float(np.mean(is_member[distance.argmin(axis=1)] & (least >= 0)))
