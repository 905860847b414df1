"""What stands ready when an etch begins: the foil, the board, the tray, and what the bath holds.

Every quantity may be an array and broadcasts as in NumPy; a draw axis
(`pcbchem.common.arrays.Draws`) is kept.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import InputError, check_choice, check_values
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import MOLAR_MASS, density_inside
from ...matter.solution import MOST_VOLUME, Solution
from .film_properties import MOST, film_density

COPPER_MOLAR_MASS = MOLAR_MASS["Cu"]
"""Molar mass of copper [kg/mol] (IUPAC)."""
COPPER_DENSITY = 8960.0
"""Density of copper at 20 °C [kg/m³] (CRC Handbook); plated foil is slightly lighter."""
OUNCE_PER_SQUARE_FOOT = 0.028349523125 / 0.09290304
"""One avoirdupois ounce on a square foot [kg/m²] (by definition): the "1 oz" of the board trade."""

AGITATIONS = ("still", "rocked", "shaken", "bubbled", "sprayed")
"""How the bath may be moved: `MOVEMENTS` says how briskly."""
MOVEMENTS = {
    "still": "not moved",
    "rocked": "10 to 30 tilts a minute",
    "shaken": "briskly, a tilt a second and more",
    "bubbled": "air bubbled through it",
    "sprayed": "sprayed, in a closed machine",
}
"""What each word for the movement means (our definitions): shown wherever one is chosen."""
FACINGS = ("up", "down", "upright")
"""Which way the copper may look."""

DEPTH = 0.010
"""How deep a bath lies in a tray that nobody described [m] (assumed)."""
ROOMY = 1.3
"""Least liquid surface of such a tray, over the bare copper [-] (assumed)."""
ROOM = 293.15
"""Air over a tray that nobody described [K]."""
LEAST_DEPTH = 1e-4
"""Least depth of liquid [m]: less wets a board and no more."""
LEAST_VOLUME = 1e-7
"""Least volume of a bath [m³]: a tenth of a millilitre."""
MOST_AREAL_MASS = 5.0
"""Heaviest foil accepted [kg/m²], about 16 oz."""
LONGEST_SIDE = 2.0
"""Longest board side accepted [m]."""
MOST_AREA = LONGEST_SIDE**2
"""Largest area accepted [m²], of copper or of open tray."""
MOST_PERIMETER = 4 * LONGEST_SIDE
"""Longest wall around the liquid accepted [m]: of a square tray of the largest area."""
LONGEST_WALL = 100.0
"""Longest wall accepted over that of a circle around the same area [-]."""


@dataclass(frozen=True, eq=False)
class Foil:
    """A copper foil, by its mass per area: that is what the trade sells and a bath must carry away.

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
        mass = check_values("areal_mass", self.areal_mass, 0, MOST_AREAL_MASS, "kg/m²", above=True)
        object.__setattr__(self, "areal_mass", mass)

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
        weight = check_values("weight", weight, 0, most, "oz/ft²", above=True)
        return cls(areal_mass=weight * OUNCE_PER_SQUARE_FOOT)

    @property
    def thickness(self) -> FloatArray:
        """Thickness at the density of solid copper [m]: 34 µm for 1 oz, not the 35 of a label."""
        return self.thickness_at(COPPER_DENSITY)

    def thickness_at(self, density: ArrayLike) -> FloatArray:
        """Return the thickness by another density, as some standards and shops count it.

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
        density = check_values("density", density, 0, 20e3, "kg/m³", above=True)
        return self._mass / density

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
    """A board: its bare copper is what will be etched, the rest is under resist.

    Give `width`, `height` and `bare`, or `area` alone. Bare copper on the back counts like that on
    the front; in a tray the back lies on the bottom, and clears later than the model says.

    Parameters
    ----------
    width, height : float or array
        Sides of the board [m], above 0 to 2.
    bare : float or array
        Share of the board not covered by resist [-], above 0 to 1.
    foil : Foil
        The copper on it; 1 oz unless given.
    area : float or array
        Bare copper of both sides [m²], above 0 to 4. After making a board it is always there.
    back : float or array
        Share of the back that is bare copper [-], 0 to 1; 0 unless given. It needs the sides.

    Raises
    ------
    ValueError
        A value outside its limits, a side missing, or an `area` beside sides that say something
        else.

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
    back: ArrayLike = field(default=0.0, kw_only=True)

    def __post_init__(self) -> None:
        if not isinstance(self.foil, Foil):
            raise InputError(
                "foil",
                "give Foil.ounces(…) or Foil(areal_mass=…)",
                value=self.foil,
                about=f" = {self.foil!r}",
                wrong="is not a Foil",
            )
        area = None
        if self.area is not None:
            area = check_values("area", self.area, 0, MOST_AREA, "m²", above=True)
        back = check_values("back", self.back, 0, 1.0)
        object.__setattr__(self, "back", back)
        sides = {"width": self.width, "height": self.height, "bare": self.bare}
        missing = [name for name, value in sides.items() if value is None]
        if not missing:
            area = self._area_by_sides(area)
        elif area is None or len(missing) < len(sides):
            raise InputError(
                missing[0],
                "a board needs width, height and bare, or area alone",
                about=" = None",
                wrong="is missing",
            )
        elif np.any(back > 0):
            raise InputError(
                "back",
                "a bare back needs width, height and bare; an area alone counts both sides",
                value=float(np.max(back)),
                wrong="is impossible beside an area alone",
            )
        else:
            common_shape(area=area, areal_mass=self.foil.areal_mass)
        # a frozen board is set once, here: its checked values take the place of what was given
        object.__setattr__(self, "area", area)

    def _area_by_sides(self, area: FloatArray | None) -> FloatArray:
        """Check the sides and return the bare area [m²], the same as `area` where that is there."""
        assert self.width is not None and self.height is not None and self.bare is not None
        width = check_values("width", self.width, 0, LONGEST_SIDE, "m", above=True)
        height = check_values("height", self.height, 0, LONGEST_SIDE, "m", above=True)
        bare = check_values("bare", self.bare, 0, 1.0, above=True)
        back = np.asanyarray(self.back, dtype=float)
        mass = self.foil.areal_mass
        common_shape(width=width, height=height, bare=bare, back=back, areal_mass=mass)
        product = check_values("area", width * height * (bare + back), 0, MOST_AREA, "m²")
        # `dataclasses.replace` gives the area of the old board along: it has to fit the new sides
        if area is not None:
            alike = np.shape(area) == np.shape(product) and np.allclose(area, product)
            if not alike:
                raise InputError(
                    "area",
                    f"it must be width × height × (bare + back) = {product} m²",
                    value=area,
                    about=f" = {area} m²",
                    unit="m²",
                )
        for name, side in (("width", width), ("height", height), ("bare", bare)):
            object.__setattr__(self, name, side)
        return product

    @property
    def side(self) -> FloatArray:
        """Side of a square of the bare area [m], of both sides: the length convection sees."""
        side: FloatArray = np.sqrt(self.copper_area)
        return side

    @property
    def copper(self) -> FloatArray:
        """Copper to be etched [mol]."""
        return self.copper_area * self.foil.amount

    @property
    def footprint(self) -> FloatArray:
        """Area that has to fit the tray [m²]: of the whole board if its sides are known."""
        if self.width is None or self.height is None:
            return self.copper_area
        width, height = np.asanyarray(self.width), np.asanyarray(self.height)
        footprint: FloatArray = width * height
        return footprint

    @property
    def copper_area(self) -> FloatArray:
        """The bare area of both sides [m²] as an array: always there, and checked."""
        return np.asanyarray(self.area, dtype=float)

    @property
    def back_area(self) -> FloatArray:
        """The bare area of the back [m²], part of `copper_area`: 0 where the sides are unknown."""
        back: FloatArray = self.footprint * np.asanyarray(self.back, dtype=float)
        return back


@dataclass(frozen=True, eq=False)
class Tray:
    """The tray: how the bath is moved, which way the copper faces, and where heat is lost.

    Parameters
    ----------
    agitation : str
        "still", "rocked", "shaken", "bubbled" or "sprayed"; `MOVEMENTS` says what each means.
    facing : str
        Which way the copper looks: "up", "down" or "upright".
    open_area : float or array, optional
        Liquid surface open to the air [m²], above 0 to 4; None leaves it to the model's default.
    T_air : float or array, optional
        Air temperature [K], 250 to 400; None leaves it to the model's default.
    perimeter : float or array, optional
        Wall of the vessel around the liquid [m], above 0 to 8; None takes a square vessel.

    Raises
    ------
    ValueError
        An unknown word, a value outside its limits, or a perimeter too short to go round the open
        area.

    Examples
    --------
    >>> print(Tray(agitation="still").facing)
    up
    """

    agitation: str = "rocked"
    facing: str = "up"
    open_area: ArrayLike | None = None
    T_air: ArrayLike | None = None
    perimeter: ArrayLike | None = None

    def __post_init__(self) -> None:
        check_choice("agitation", self.agitation, AGITATIONS)
        check_choice("facing", self.facing, FACINGS)
        if self.open_area is not None:
            area = check_values("open_area", self.open_area, 0, MOST_AREA, "m²", above=True)
            object.__setattr__(self, "open_area", area)
        if self.T_air is not None:
            T_air = check_values("T_air", self.T_air, T_LOW, T_HIGH, "K")
            object.__setattr__(self, "T_air", T_air)
        if self.perimeter is not None:
            wall = check_values("perimeter", self.perimeter, 0, MOST_PERIMETER, "m", above=True)
            object.__setattr__(self, "perimeter", wall)
            if self.open_area is not None:
                # no wall around an area is shorter than a circle's; but for rounding
                circle = np.sqrt(4 * np.pi * np.asarray(self.open_area))
                walls, circles = np.broadcast_arrays(np.asarray(wall), circle)
                wrong = (walls < (1 - 1e-6) * circles) | (walls > LONGEST_WALL * circles)
                if np.any(wrong):
                    least = circles[wrong][0]
                    check_values("perimeter", walls[wrong][0], least, LONGEST_WALL * least, "m")

    def wall(self, surface: ArrayLike) -> FloatArray:
        """Return the wall [m] around so much open liquid [m²]: a square's unless given."""
        if self.perimeter is None:
            return np.asarray(4 * np.sqrt(surface), dtype=float)
        return np.asarray(self.perimeter, dtype=float)

    def surface(self, volume: ArrayLike, area: ArrayLike) -> FloatArray:
        """Return the liquid open to the air [m²]: `open_area`, or what makes the bath 10 mm deep.

        Of a bath of some volume [m³] for some bare copper [m²].
        """
        if self.open_area is not None:
            return np.asarray(self.open_area, dtype=float)
        # a little bath over much copper lies shallower, for the board has to fit the tray
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
    over = area > room * (1 + 1e-9)  # a board as large as its tray fits, whatever rounding says
    if np.any(over):
        worst, most = float(area[over].flat[0]), float(room[over].flat[0])
        raise InputError(
            "board area",
            f"it must be above 0 to open_area = {most:g} m²",
            value=worst,
            about=f" = {worst:g} m²",
            wrong=f"is impossible facing {tray.facing}",
            high=most,
            unit="m²",
        )


@dataclass(frozen=True, eq=False)
class Start:
    """What a bath holds when the board goes in.

    `etch` takes one in place of a `Solution`, to start from concentrations.

    Parameters
    ----------
    HCl, H2O2 : float or array
        Concentrations [mol/m³], 0 to 20 000 and 30 000.
    T : float or array
        Temperature [K], 250 to 400.
    volume : float or array
        Bath [m³], 1e-7 to 1000.
    CuCl2, CuCl : float or array
        Copper in the bath [mol/m³], 0 to 6000 and 3000.
    mass : float or array, optional
        Bath [kg]; by the short form of its density unless given.

    Raises
    ------
    ValueError
        A negative, infinite or impossible value, or a bath of volume 0.

    Examples
    --------
    >>> print(f"{Start(HCl=2000, H2O2=2100, T=298.15, volume=75e-6).mass * 1000:.0f} g")
    79 g
    """

    HCl: Any
    H2O2: Any
    T: Any
    volume: Any
    CuCl2: Any = 0.0
    CuCl: Any = 0.0
    mass: Any = None

    def __post_init__(self) -> None:
        for name, most in MOST.items():
            amount = check_values(name, getattr(self, name), 0.0, most, "mol/m³")
            object.__setattr__(self, name, amount)
        T = check_values("T", self.T, T_LOW, T_HIGH, "K")
        volume = check_values("volume", self.volume, LEAST_VOLUME, MOST_VOLUME, "m³")
        object.__setattr__(self, "T", T)
        object.__setattr__(self, "volume", volume)
        if self.mass is None:
            density = film_density(self.HCl, self.H2O2, self.CuCl2 + self.CuCl)
            object.__setattr__(self, "mass", density * volume)

    @classmethod
    def of(cls, bath: Solution) -> Start:
        """Return the start that a mixed bath makes.

        Parameters
        ----------
        bath : Solution
            Without lye.

        Returns
        -------
        Start
            What it holds [mol/m³], at its own temperature [K].

        Raises
        ------
        ValueError
            Lye in the bath, or a volume outside its limits.
        """
        # lye and acid would neutralise each other, which this model does not know
        lye = bath.mass_fraction("NaOH")
        if np.any(lye > 0):
            most = float(np.max(lye))
            rule = "it must be 0, an etching bath holds no lye"
            raise InputError("bath", rule, value=most, about=f": NaOH = {most:g}")
        # reckoned without a warning: whoever etches the bath is warned of its range there
        volume = check_values(
            "bath volume",
            bath.mass / density_inside(bath.plain_T, bath.fractions),
            LEAST_VOLUME,
            MOST_VOLUME,
            "m³",
        )
        amounts = {name: bath.amount(name) / volume for name in MOST}
        return cls(**amounts, T=bath.T, volume=volume, mass=bath.mass)

    @property
    def oxidant(self) -> Any:
        """Oxidant in electrons [mol/m³]: two a peroxide, less the Cu(I) that waits for one."""
        return 2 * self.H2O2 - self.CuCl

    def values(self) -> dict[str, Any]:
        """Return every field by name [mol/m³, K, m³, kg]."""
        return {item.name: getattr(self, item.name) for item in dataclasses.fields(self)}
