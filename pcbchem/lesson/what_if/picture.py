"""The triangle: tints and lines of what is drawn, hatched with care, blank where refused, a cursor.

The ground is drawn anew for other bottles or another quantity only; the cursor moves over it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from ...bench.hazards.verdicts import REFUSED, VERDICTS
from ...bench.mixtures import Mixtures
from ...common.extras import extra
from ...page.picture import FAINT, INK, LINE, Drawing, figure
from .triangle import FRAMES, HEIGHT, ROOM, Box, Frame, Region, points, regions, share_inside
from .words import MARKS, Layer, corner_words, map_reasons, quick_words, title_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.path import Path

PALE, DEEP = (0.93, 0.95, 0.975), (0.60, 0.73, 0.86)
"""Tints of the one blue, from the least to the most: lines and words stay readable on both."""
HATCH = "////"
CARE = VERDICTS.index("with care")
WATER_LINES = (0.25, 0.5, 0.75)
"""Shares of water at which a faint line crosses [-]."""
KEY = "The planner says\n(no permission):"
"""Stands over the key."""
FAR = 1e3
"""Minutes for never: above every line [min]."""


def build(narrow: bool) -> Drawing:
    """Make the empty picture: the ground comes with the first map."""
    frame = FRAMES[narrow]
    sheet = figure(frame.height, frame.width)
    sheet.set_layout_engine("none")
    corner = (frame.left / frame.width, frame.bottom / frame.height)
    size = (frame.side / frame.width, frame.side * HEIGHT / frame.height)
    axes = sheet.add_axes((*corner, *size))
    axes.set(xlim=(0, 1), ylim=(0, HEIGHT))
    axes.set_axis_off()
    cursor = Cursor(axes)
    ground = Ground(axes, frame, narrow)
    return Drawing(sheet, cursor.moving, cursor=cursor, ground=ground, narrow=narrow)


def show(drawing: Drawing, every: Mixtures, layer: Layer, place: int) -> None:
    """Draw a map with the cursor on one of its mixtures [place on the map]."""
    if drawing.parts["ground"].draw(every, layer):
        drawing.forget_ground()
    drawing.parts["cursor"].draw(points(every.shares[[place]])[0], every.severity[place])


class Cursor:
    """A ring with a cross through it; broken where the mixture is refused."""

    def __init__(self, axes: Axes) -> None:
        shape: dict[str, Any] = {"linestyle": "none", "clip_on": False, "fillstyle": "none"}
        (self.halo,) = axes.plot([], [], "o", ms=15, mew=5, mec="white", **shape)
        (self.ring,) = axes.plot([], [], "o", ms=15, mew=2.2, mec=LINE, **shape)
        (self.dot,) = axes.plot([], [], "+", ms=23, mew=1.6, mec=LINE, **shape)
        self.moving = (self.halo, self.ring, self.dot)

    def draw(self, point: NDArray[np.float64], severity: int) -> None:
        """Put the ring on a place in the triangle [-], as the verdict there wants it."""
        for line in self.moving:
            line.set_data([point[0]], [point[1]])
        self.dot.set_marker("x" if severity == REFUSED else "+")


class Ground:
    """All but the cursor."""

    def __init__(self, axes: Axes, frame: Frame, narrow: bool) -> None:
        self.axes, self.frame, self.narrow = axes, frame, narrow
        self.drawn: tuple[Any, ...] = ()
        self.artists: list[Any] = []
        self.taken: list[Box] = []

    def draw(self, every: Mixtures, layer: Layer) -> bool:
        """Draw a map, and tell whether anything had to be drawn."""
        # a map with another window is another object: its leanest may be another too
        if self.drawn == (every, layer):
            return False
        self.drawn = (every, layer)
        for artist in self.artists:
            artist.remove()
        self.artists = []
        self.taken = []
        self.draw_frame(every)
        self.draw_marks(every)
        self.draw_fields(every, layer, Mesh(every))
        for region in regions(every.shares, every.steps, map_reasons(every)):
            self.draw_reason(every, region)
        self.draw_key(every, layer)
        return True

    def text(self, x: float, y: float, words: str, **look: Any) -> None:
        """Write words at a place in the triangle [-], on a white edge so that lines pass behind."""
        with extra("pages"):
            from matplotlib.patheffects import withStroke

        style: dict[str, Any] = {"fontsize": self.frame.size, "color": INK, "ha": "center"}
        style |= {"va": "center", "zorder": 6, "linespacing": 1.15}
        artist = self.axes.text(x, y, words, **style | look)
        artist.set_path_effects([withStroke(linewidth=2.5, foreground="white")])
        self.artists.append(artist)

    def box(self, x: float, y: float, words: str, side: float = 0.0) -> Box:
        """Return what words cover around a place [-]; `side`: 1 they begin there, -1 they end."""
        # of a letter of this type, its width is about 0.58 of its size
        letter = self.frame.size / 72 / self.frame.side
        lines = words.split("\n")
        width = 0.58 * letter * max(len(line) for line in lines)
        half = 0.65 * letter * len(lines)
        middle = x + side * width / 2
        return Box(middle - width / 2, y - half, middle + width / 2, y + half)

    def is_free(self, box: Box) -> bool:
        """Tell whether no words stand there yet."""
        return not any(box.meets(other) for other in self.taken)

    def draw_fields(self, every: Mixtures, layer: Layer, mesh: Mesh) -> None:
        """Draw tints and lines where nothing is refused, and hatch what wants care."""
        with extra("pages"):
            from matplotlib.patches import PathPatch

        usable = mesh.path(self.axes, every.severity < REFUSED)
        if usable is None:
            return
        values = layer.values(every)
        levels = np.array(layer.levels)
        if layer.is_log:
            values, levels = np.log(np.minimum(values, FAR)), np.log(levels)
        seen = values[every.severity < REFUSED]
        inside = levels[(levels > seen.min()) & (levels < seen.max())]
        edges = np.array([-1e9, *inside, 1e9])
        tints = tints_of(len(edges) - 1, layer.is_less_deeper)
        clip = PathPatch(usable, transform=self.axes.transData)
        fine = (mesh.grid, values)
        bands = self.axes.tricontourf(*fine, levels=edges, colors=tints, zorder=1)
        self.artists.append(bands)
        bands.set_clip_path(clip)
        care = mesh.path(self.axes, every.severity == CARE)
        if care is not None:
            look: dict[str, Any] = {"facecolor": "none", "edgecolor": FAINT, "linewidth": 0.9}
            patch = PathPatch(care, hatch=HATCH, zorder=2, **look)
            self.artists.append(self.axes.add_patch(patch))
        if inside.size:
            lines = self.axes.tricontour(
                *fine, levels=inside, colors=INK, linewidths=1.1, linestyles="solid", zorder=3
            )
            lines.set_clip_path(clip)
            self.artists.append(lines)
            self.label_lines(lines, every, layer)
        edge = PathPatch(usable, facecolor="none", edgecolor=INK, linewidth=1.2, zorder=4)
        self.artists.append(self.axes.add_patch(edge))

    def label_lines(self, lines: Any, every: Mixtures, layer: Layer) -> None:
        """Name each line once, where nothing is refused and no other words stand."""
        where = points(every.shares)
        is_usable = every.severity < REFUSED
        for level, path in zip(lines.levels, lines.get_paths(), strict=True):
            value = float(np.exp(level)) if layer.is_log else float(level)
            words = layer.line(round(value, 6))
            spots = np.concatenate([np.empty((0, 2)), *path.to_polygons(closed_only=False)])
            # away from the ends of the region, as far as words need
            depth = np.full(len(spots), np.inf)
            if not is_usable.all() and len(spots):
                away = np.linalg.norm(spots[:, None, :] - where[None, ~is_usable, :], axis=2)
                depth = away.min(axis=1)
            # and then near the middle of the line
            off = np.abs(np.arange(len(spots)) - len(spots) / 2)
            for number in np.lexsort((off, -np.minimum(depth, 0.1))):
                x, y = spots[number]
                box = self.box(x, y, words)
                if self.is_free(box) and share_inside(box, every.shares, is_usable) >= ROOM:
                    self.taken.append(box)
                    self.text(x, y, words, fontsize=self.frame.size - 0.5)
                    break

    def draw_frame(self, every: Mixtures) -> None:
        """Draw the sides and faint lines of equal water, and name the corners."""
        corners = np.array([[0, 0], [1, 0], [0.5, HEIGHT], [0, 0]])
        look: dict[str, Any] = {"clip_on": False, "zorder": 4}
        self.artists += self.axes.plot(*corners.T, color=INK, linewidth=1.4, **look)
        water, acid, peroxide = corner_words(every)
        size = self.frame.size
        pad = 0.035
        bold: dict[str, Any] = {"fontweight": "bold", "fontsize": size + 0.5}
        self.text(0.5, HEIGHT + pad, water, **bold)
        # no name of a corner may reach beyond the picture
        edge = 0.4 / self.frame.side
        self.text(-edge, -pad, acid, va="top", ha="left", **bold)
        self.text(1 + edge, -pad, peroxide, va="top", ha="right", **bold)
        for share in WATER_LINES:
            ends = points([[share, 1 - share, 0], [share, 0, 1 - share]])
            faint: dict[str, Any] = {"color": FAINT, "linewidth": 0.7, "linestyle": (0, (1, 3))}
            self.artists += self.axes.plot(*ends.T, **faint, clip_on=False, zorder=2.5)
            words = f"{100 * share:g} %" if self.narrow else f"{100 * share:g} % water"
            x, y = ends[1]
            self.taken.append(self.box(x + 0.02, y, words, 1))
            self.text(x + 0.02, y, words, ha="left", color=FAINT, fontsize=size - 1)

    def draw_reason(self, every: Mixtures, region: Region) -> None:
        """Say why a region is refused: in it, else beside the triangle, else not on the picture."""
        members = np.array(region.members) / every.steps
        is_member = np.zeros(len(every), dtype=bool)
        for member in region.members:
            is_member[every.nearest(*member)] = True
        look: dict[str, Any] = {"style": "italic", "fontsize": self.frame.size - 0.5}
        best, most = None, ROOM
        for x, y in points(members):
            box = self.box(x, y, region.reason)
            inside = share_inside(box, every.shares, is_member)
            # of those with room for all words the middle one would be best; the last is as good
            if inside >= most and self.is_free(box):
                best, most = (x, y), inside
        if best is not None:
            self.taken.append(self.box(*best, region.reason))
            self.text(*best, region.reason, **look)
            return
        # shares of peroxide at the left side, of acid at the right one
        for other, side in ((2, -1), (1, 1)):
            beside = members[(members[:, other] == 0) & (members[:, 0] < 0.85)]
            order = np.argsort(np.abs(beside[:, 0] - 0.38), kind="stable")
            for x, y in points(beside[order]) if len(beside) else ():
                box = self.box(x + 0.03 * side, y, region.reason, side)
                if self.is_free(box):
                    self.taken.append(box)
                    ha = "left" if side > 0 else "right"
                    self.text(x + 0.03 * side, y, region.reason, ha=ha, **look)
                    return

    def draw_marks(self, every: Mixtures) -> None:
        """Mark the trade's ratios, crossed where refused, and the leanest."""
        for words, parts in MARKS.items():
            place = every.nearest(*parts)
            shares = np.array(parts) / sum(parts)
            is_refused = every.severity[place] == REFUSED
            self.mark(shares, "x" if is_refused else "o", words.replace(" ", ""))
        if every.leanest is not None:
            self.mark(every.shares[every.leanest], "D", "leanest")

    def mark(self, shares: NDArray[np.float64], shape: str, words: str) -> None:
        """Put a mark and its words on a mixture of these shares [-]."""
        ((x, y),) = points([shares])
        self.taken += [self.box(x, y + 0.06, words), self.box(x, y, "oo")]
        look: dict[str, Any] = {"ms": 7, "mec": INK, "mfc": "white", "mew": 1.5, "zorder": 5}
        self.artists += self.axes.plot(x, y, shape, clip_on=False, **look)
        self.text(x, y + 0.035, words, va="bottom", fontsize=self.frame.size - 1)

    def draw_key(self, every: Mixtures, layer: Layer) -> None:
        """Say over the corners of the picture what plain, hatched and blank are, and the lines."""
        with extra("pages"):
            from matplotlib.patches import Rectangle

        frame = self.frame
        inch = 1 / frame.side
        left, right = (
            -frame.left * inch + 0.06 * inch,
            1 + (frame.width - frame.side - frame.left) * inch,
        )
        top = (frame.height - frame.bottom) * inch
        line = 1.5 * frame.size / 72 * inch
        looks: dict[str, dict[str, Any]] = {
            "mix it": {"facecolor": DEEP},
            "with care": {"facecolor": DEEP, "hatch": HATCH},
            "do not mix": {"facecolor": "white"},
        }
        self.text(
            left, top - line, title_words(every), ha="left", fontweight="bold", fontsize=frame.size
        )
        y = top - 2.4 * line
        self.text(left, y, KEY, ha="left")
        y -= 1.45 * line  # it has two lines
        for words, fill in looks.items():
            box = Rectangle(
                (left, y - 0.35 * line),
                1.8 * line,
                0.75 * line,
                edgecolor=INK,
                linewidth=0.8,
                clip_on=False,
                **fill,
            )
            self.artists.append(self.axes.add_patch(box))
            self.text(left + 2.2 * line, y, words, ha="left")
            y -= 1.05 * line
        look: dict[str, Any] = {"ms": 7, "mec": INK, "mfc": "white", "mew": 1.5, "clip_on": False}
        self.artists += self.axes.plot(left + 0.9 * line, y, "o", **look)
        self.text(left + 2.2 * line, y, "people's ratio", ha="left")
        y -= 1.05 * line
        words = f"{layer.title}\n{layer.deeper}"
        self.text(right - 0.06 * inch, top - 1.95 * line, words, ha="right", va="top")
        quick = quick_words(every).replace(": ", ":\n")
        if quick:
            self.text(left, y - 0.3 * line, quick, ha="left", va="top", color=FAINT)


class Mesh:
    """The map's grid as small triangles."""

    def __init__(self, every: Mixtures) -> None:
        with extra("pages"):
            from matplotlib.tri import Triangulation

        self.grid = Triangulation(*points(every.shares).T)

    def path(self, axes: Axes, which: NDArray[np.bool_]) -> Path | None:
        """Return the outline of some mixtures of the map, half way to the others, or None."""
        if not which.any():
            return None
        shapes = axes.tricontourf(self.grid, which.astype(float), levels=[0.5, 2.0])
        path = shapes.get_paths()[0]
        shapes.remove()
        return path


def tints_of(count: int, is_less_deeper: bool) -> list[tuple[float, ...]]:
    """Return so many tints from pale to deep [red, green, blue: 0 to 1]."""
    shares = np.linspace(0, 1, count) if count > 1 else np.array([0.5])
    if is_less_deeper:
        shares = shares[::-1]
    return [tuple(np.array(PALE) + share * (np.array(DEEP) - np.array(PALE))) for share in shares]
