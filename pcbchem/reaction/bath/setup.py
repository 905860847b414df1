"""The things on the bench beside the liquid: the copper foil, the board to etch and the tray it lies in.

Every quantity may be an array and broadcasts as in NumPy; a draw axis (`pcbchem.matter.arrays.Draws`) is kept.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import check_choice, check_values
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import MOLAR_MASS

COPPER_MOLAR_MASS = MOLAR_MASS["Cu"]
"""Molar mass of copper [kg/mol] (IUPAC)."""
COPPER_DENSITY = 8960.0
"""Density of copper at 20 °C [kg/m³] (CRC Handbook, physical constants); plated foil is slightly lighter."""
OUNCE_PER_SQUARE_FOOT = 0.028349523125 / 0.09290304
"""One avoirdupois ounce on one square foot [kg/m²]: the "1 oz" of the board trade (both units by definition)."""

AGITATIONS = ("still", "rocked", "bubbled", "sprayed")
"""How the bath may be moved."""
FACINGS = ("up", "down", "upright")
"""Which way the copper may look."""

DEPTH = 0.010
"""How deep a bath lies in a tray that nobody described [m] (assumed)."""
ROOMY = 1.3
"""Least liquid surface of such a tray, over the bare copper [-] (assumed)."""
MOST_AREAL_MASS = 5.0
"""Heaviest foil accepted [kg/m²], about 16 oz."""
LONGEST_SIDE = 2.0
"""Longest board side accepted [m]."""
MOST_AREA = LONGEST_SIDE**2
"""Largest area accepted [m²], of copper or of open tray."""


@dataclass(frozen=True, eq=False)
class Foil:
    """A copper foil, known by its mass per area: that is what the trade sells and the etchant has to carry away.

    Parameters
    ----------
    areal_mass : float or array
        Copper per area [kg/m²], above 0 to 5.

    Raises
    ------
    ValueError
        `areal_mass` outside its limits.

    Examples
    --------
    >>> print(f"{Foil(areal_mass=0.305).amount:.3f} mol/m²")
    4.800 mol/m²
    """

    areal_mass: ArrayLike

    def __post_init__(self) -> None:
        object.__setattr__(
            self,
            "areal_mass",
            check_values("areal_mass", self.areal_mass, 0, MOST_AREAL_MASS, "kg/m²", above=True),
        )

    @classmethod
    def ounces(cls, weight: ArrayLike) -> Foil:
        """Make a foil from its trade weight.

        Parameters
        ----------
        weight : float or array
            Ounces per square foot [oz/ft²], above 0 to about 16; 1 is the usual foil.

        Returns
        -------
        Foil
            The same foil by its mass per area.

        Raises
        ------
        ValueError
            `weight` outside its limits.

        Examples
        --------
        >>> print(f"{Foil.ounces(1).areal_mass * 1000:.2f} g/m²")
        305.15 g/m²
        """
        most = MOST_AREAL_MASS / OUNCE_PER_SQUARE_FOOT
        return cls(
            areal_mass=check_values("weight", weight, 0, most, "oz/ft²", above=True)
            * OUNCE_PER_SQUARE_FOOT
        )

    @property
    def thickness(self) -> FloatArray:
        """Thickness at the density of solid copper [m]: 34 µm for 1 oz, not the "35 µm" of the label."""
        return self.thickness_at(COPPER_DENSITY)

    def thickness_at(self, density: ArrayLike) -> FloatArray:
        """Thickness of the same foil by another density, as some standards and shops count it.

        Parameters
        ----------
        density : float or array
            Density of the copper [kg/m³], above 0 to 20 000.

        Returns
        -------
        float or array
            Thickness [m].

        Raises
        ------
        ValueError
            `density` outside its limits.

        Examples
        --------
        >>> print(f"{Foil.ounces(1).thickness_at(8900) * 1e6:.2f} µm")
        34.29 µm
        """
        return self._mass / check_values("density", density, 0, 20e3, "kg/m³", above=True)

    @property
    def amount(self) -> FloatArray:
        """Copper per area [mol/m²]."""
        return self._mass / COPPER_MOLAR_MASS

    @property
    def _mass(self) -> FloatArray:
        """The checked mass per area [kg/m²], typed as an array."""
        return np.asanyarray(self.areal_mass, dtype=float)


@dataclass(frozen=True, eq=False)
class Board:
    """A single-sided board: its bare copper is what will be etched, the rest is under resist.

    Give `width`, `height` and `bare`, or `area` alone.

    Parameters
    ----------
    width, height : float or array
        Sides of the board [m], above 0 to 2.
    bare : float or array
        Share of the board not covered by resist [-], above 0 to 1.
    foil : Foil
        The copper on it; 1 oz unless given.
    area : float or array
        Bare copper [m²], above 0 to 4. After making a board it is always there.

    Raises
    ------
    ValueError
        A value outside its limits, a side missing, or `area` given beside sides that say something else.

    Examples
    --------
    >>> board = Board(width=0.075, height=0.060, bare=0.6, foil=Foil.ounces(1))
    >>> print(f"{board.area * 1e4:.1f} cm² holds {board.copper * 1000:.1f} mmol")
    27.0 cm² holds 13.0 mmol
    """

    width: ArrayLike | None = None
    height: ArrayLike | None = None
    bare: ArrayLike | None = None
    foil: Foil = field(default_factory=lambda: Foil.ounces(1.0))
    area: ArrayLike | None = field(default=None, kw_only=True)

    def __post_init__(self) -> None:
        if not isinstance(self.foil, Foil):
            raise ValueError(
                f"foil = {self.foil!r} is not a Foil: give Foil.ounces(…) or Foil(areal_mass=…)"
            )
        sides = {
            "width": (self.width, LONGEST_SIDE, "m"),
            "height": (self.height, LONGEST_SIDE, "m"),
            "bare": (self.bare, 1.0, ""),
        }
        missing = [name for name, (value, _, _) in sides.items() if value is None]
        area = (
            None
            if self.area is None
            else check_values("area", self.area, 0, MOST_AREA, "m²", above=True)
        )
        if not missing:
            width, height, bare = (
                check_values(name, value, 0, most, unit, above=True)  # type: ignore[arg-type]
                for name, (value, most, unit) in sides.items()
            )
            common_shape(width=width, height=height, bare=bare, areal_mass=self.foil.areal_mass)
            from_sides = width * height * bare
            if area is not None and not (
                np.shape(area) == np.shape(from_sides) and np.allclose(area, from_sides)
            ):
                raise ValueError(
                    f"area = {area} m² is impossible: it must be width × height × bare = {from_sides} m²"
                )
            for name, value in (
                ("width", width),
                ("height", height),
                ("bare", bare),
                ("area", from_sides),
            ):
                object.__setattr__(self, name, value)
        elif area is not None and len(missing) == len(sides):
            common_shape(area=area, areal_mass=self.foil.areal_mass)
            object.__setattr__(self, "area", area)
        else:
            raise ValueError(
                f"{missing[0]} = None is missing: a board needs width, height and bare, or area alone"
            )

    @property
    def side(self) -> FloatArray:
        """Side of a square of the bare area [m]: the length natural convection sees."""
        side: FloatArray = np.sqrt(self.copper_area)
        return side

    @property
    def copper(self) -> FloatArray:
        """Copper to be etched [mol]."""
        return self.copper_area * self.foil.amount

    @property
    def footprint(self) -> FloatArray:
        """Area of the whole board where its sides are known, else the bare area [m²]: what has to fit the tray."""
        if self.width is None or self.height is None:
            return self.copper_area
        footprint: FloatArray = np.asanyarray(self.width, dtype=float) * np.asanyarray(
            self.height, dtype=float
        )
        return footprint

    @property
    def copper_area(self) -> FloatArray:
        """The bare area [m²] as an array: always there, and checked."""
        return np.asanyarray(self.area, dtype=float)


@dataclass(frozen=True, eq=False)
class Tray:
    """The tray: how the bath is moved, which way the copper faces, and what the liquid loses heat through.

    Parameters
    ----------
    agitation : str
        "still", "rocked", "bubbled" or "sprayed".
    facing : str
        Which way the copper looks: "up", "down" or "upright".
    open_area : float or array, optional
        Liquid surface open to the air [m²], above 0 to 4; None leaves it to the model's default.
    T_air : float or array, optional
        Air temperature [K], 250 to 400; None leaves it to the model's default.

    Raises
    ------
    ValueError
        An unknown word, or a value outside its limits.

    Examples
    --------
    >>> print(Tray(agitation="still").facing)
    up
    """

    agitation: str = "rocked"
    facing: str = "up"
    open_area: ArrayLike | None = None
    T_air: ArrayLike | None = None

    def __post_init__(self) -> None:
        check_choice("agitation", self.agitation, AGITATIONS)
        check_choice("facing", self.facing, FACINGS)
        if self.open_area is not None:
            object.__setattr__(
                self,
                "open_area",
                check_values("open_area", self.open_area, 0, MOST_AREA, "m²", above=True),
            )
        if self.T_air is not None:
            object.__setattr__(self, "T_air", check_values("T_air", self.T_air, T_LOW, T_HIGH, "K"))

    def surface(self, volume: ArrayLike, area: ArrayLike) -> FloatArray:
        """Liquid open to the air [m²] over a bath [m³] and its bare copper [m²]: as given, or the bath 10 mm deep."""
        if self.open_area is not None:
            return np.asarray(self.open_area, dtype=float)
        return np.maximum(np.asarray(volume) / DEPTH, ROOMY * np.asarray(area))


def check_fits(board: Board, tray: Tray) -> None:
    """Refuse a board that lies flat and is larger than the open area of its tray.

    Parameters
    ----------
    board : Board
        The whole board [m²] is compared where its sides are known, else its bare copper [m²].
    tray : Tray
        A tray without `open_area` [m²] takes any board; an upright board may hang in a narrow one.

    Raises
    ------
    ValueError
        Names the board's area, and the open area it does not fit into.

    Examples
    --------
    >>> check_fits(Board(area=0.0027), Tray(open_area=0.0075))
    """
    if tray.open_area is None or tray.facing == "upright":
        return
    open_area = np.asanyarray(tray.open_area, dtype=float)
    common_shape(area=board.footprint, open_area=open_area)
    area, room = np.broadcast_arrays(np.asarray(board.footprint), np.asarray(open_area))
    over = area > room * (1 + 1e-9)
    if np.any(over):
        raise ValueError(
            f"board area = {area[over].flat[0]:g} m² is impossible facing {tray.facing}: "
            f"it must be above 0 to open_area = {room[over].flat[0]:g} m²"
        )
