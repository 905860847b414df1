"""What gives gas off: a bath in its tray, an open bottle, a spill that weakens as it dries.

A source is a curve to look at and never an amount to pour. A refused plan has none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import MOST_DRAWS, common_shape
from ...common.limits import (
    InputError,
    RangeWarning,
    check_choice,
    check_kind,
    check_values,
    check_whole,
    collecting_warnings,
    warn_again,
)
from ...matter import vapour
from ...matter.properties import LIMITS, MOLAR_MASS, density_inside
from ...matter.solution import Solution
from ...reaction.bath.film_properties import PRESSURE, R
from ...reaction.bath.setup import AGITATIONS, MOST_AREA
from ..plan.outcome import Outcome
from .doubts import chance, factor
from .surface import TEMPERATURES, through_still_air, transfer
from .workplaces import Workplace

GASES = ("HCl", "H2O2", "H2O")
"""What is reckoned of a source; of chlorine there are only `bounds`."""
BREATHED = GASES[:2]
"""What there are limits of."""
SPILL_DEPTH = 2e-3
"""How deep a spill lies on a flat floor [m] (assumed); its doubt is "spill depth"."""
NECKS = (0.005, 0.2)
"""Inner width of a bottle's neck [m]."""
EMPTY = (0.0, 0.5)
"""How far below the rim of a bottle the liquid lies [m]."""
SPILLS = (1e-6, 5e-3)
"""How much is spilt [m³]: a millilitre to two bottles."""
MISTY = ("bubbled", "sprayed")
"""Trays that throw droplets whatever is in them: nobody has measured these."""
MOST_SPILT_PEROXIDE = 0.50
"""Strongest peroxide that is spilt here [kg/kg]."""
USUAL_DRAWS = 200
"""How many draws unless the source says otherwise [-]."""
WEAKEST = 1e-6
"""Acid of a spill that has given nearly all of it off [kg/kg]: no gas stands over it."""
TINY = 1e-9
"""Share of its gas that a spill gives off beside a room as full of it [-], so that none is 0/0."""
MOST_SHARE = 0.5
"""More gas than this share of the air over a liquid [mol/mol] is nearly a boil (our limit)."""
REFUSED_BATH = "a refused bath has no air: nobody mixes this"
"""What is said of a plan whose verdict is "do not mix"."""


@dataclass(frozen=True, eq=False)
class Source:
    """Something open that gives gas off. Make it by `tray`, `open_bottle` and their neighbours.

    Parameters
    ----------
    kind : str
        "bath", "bottle" or "spill".
    T : float or array
        Temperature of the liquid [K].
    HCl : float or array
        Mass fraction [kg/kg].
    area : float or array
        Liquid open to the air [m²]; of a spill if it lies `SPILL_DEPTH` deep.
    length : float or array
        Of it along the air [m].
    CuCl2 : float or array
        Mass fraction [kg/kg].
    H2O2 : float or array
        Concentration [mol/m³].
    still_air : float or array
        Most height of still air over it, as in the neck of a bottle [m].
    mass : float or array or None
        Of a spill [kg]; what is deep enough hardly weakens, and has None.
    mist_unknown : bool
        Whether it throws droplets that no number here counts and that may outweigh its vapour.
    draws : int or None
        Length of its draw axis [-].
    """

    kind: str
    T: Any
    HCl: Any
    area: Any
    length: Any
    CuCl2: Any = 0.0
    H2O2: Any = 0.0
    still_air: Any = 0.0
    mass: Any = None
    mist_unknown: bool = False
    draws: int | None = None

    def draw_count(self, draws: int | None) -> int:
        """Return how many draws there are [-]: those asked for, its own, or 200.

        Raises
        ------
        InputError
            Another number than the source has, or one that cannot be.
        ValueError
            Scenarios where the draws stand: they need a last axis of length 1.
        """
        if draws is None:
            draws = self.draws or USUAL_DRAWS
        draws = check_whole("draws", draws, 1, MOST_DRAWS)
        if self.draws not in (None, draws):
            rule = f"the source has {self.draws}, it must be as many"
            raise InputError("draws", rule, value=draws, low=self.draws, high=self.draws)
        values = {name: getattr(self, name) for name in ("T", "HCl", "CuCl2", "H2O2")}
        sizes = {"area": self.area, "empty": self.still_air}
        common_shape(**values, **sizes, draws=chance("film", draws))
        return draws

    @property
    def gases(self) -> tuple[str, ...]:
        """Name the gases that it holds and that there are limits of."""
        return tuple(gas for gas in BREATHED if np.any(np.asarray(getattr(self, gas)) > 0))

    def share(self, gas: str, draws: int) -> Any:
        """Draw the share of a gas right over the liquid [mol/mol], within its doubt."""
        check_choice("gas", gas, GASES)
        if gas == "H2O2":
            # what acid and its salts do to it nobody has measured
            doubt = "peroxide in acid" if "HCl" in self.gases else "peroxide"
            return vapour.peroxide(self.T, self.H2O2) * factor(doubt, draws) / PRESSURE
        with collecting_warnings():
            if gas == "H2O":
                return vapour.water(self.T, self.HCl) / PRESSURE
            # what copper chloride adds is known as two ends only: all of its chloride, and as much
            # less as copper may bind; salt never takes any away
            alone = vapour.hydrogen_chloride(self.T, self.HCl)
            most = vapour.hydrogen_chloride(self.T, self.HCl, self.CuCl2)
        least = np.maximum(alone, most / vapour.MOST_BOUND)
        pressure = least + (most - least) * chance("copper", draws)
        low, high = vapour.doubt(self.HCl)
        return pressure * (low + (high - low) * chance("vapour", draws)) / PRESSURE

    def stream(self, gas: str, workplace: Workplace, draws: int, T_air: float) -> Any:
        """Draw transfer times area [m³/s] in a workplace, with air of T_air [K]."""
        with collecting_warnings():
            activity = vapour.water(self.T, self.HCl) / vapour.saturation_pressure(self.T)
        area, length = self.area, self.length
        if self.mass is not None:
            wider = SPILL_DEPTH / factor("spill depth", draws)
            area, length = area * wider, length * np.sqrt(wider)
        k = factor("film", draws) * transfer(
            workplace.speed(draws), length, gas, self.T, T_air, np.minimum(activity, 1.0)
        )
        # a draught reaches into a neck about as far as it is wide
        shallow = np.maximum(self.still_air - self.length, 0.0)
        still_air = shallow + (self.still_air - shallow) * chance("still air", draws)
        return area * through_still_air(k, still_air, gas, (self.T + T_air) / 2)

    def weakening(self, share: Any, stream: Any) -> Any:
        """Return how fast its vapour weakens at first [1/s]: p falls to p/(1 + pace · t).

        Parameters
        ----------
        share : float or array
            Of acid gas right over it at first [mol/mol].
        stream : float or array
            Transfer times area [m³/s].
        """
        if self.mass is None:
            return 0.0
        # dm = −g p M/(R T) dt takes w down by (1 − w) dm/m, and ln p by d ln p/dw of that
        return _pace(self.T, self.HCl, self.mass, stream * share * self._gas_density)

    @property
    def _gas_density(self) -> Any:
        """Acid gas alone at 1 atm, as warm as the liquid [kg/m³]."""
        return PRESSURE * MOLAR_MASS["HCl"] / (R * self.T)

    def course(
        self,
        gas: str,
        share: Any,
        stream: Any,
        step: float,
        steps: int,
        room: Callable[[int, Any], Any] = lambda number, over: 0.0,
    ) -> Any:
        """Return the share of a gas over it as time goes [mol/mol].

        Of a spill acid gas alone weakens, by what has left it for the room; its water stays. For
        an hour it gives off within a fifth of what it would with its water leaving, too; in dry
        wind it stays strong longer, and over a shift gives off up to 2.5 times as much.

        Parameters
        ----------
        gas : str
            One of `GASES`.
        share : float or array
            At first [mol/mol].
        stream : float or array
            Transfer times area [m³/s].
        step : float
            How long a step is [s].
        steps : int
            How many [-].
        room : callable
            From the number of a step and the share over the liquid in it to what the room holds on
            average over that step [mol/mol]; of a large or airy one 0.

        Returns
        -------
        tuple of array
            At the beginning and after each step, and on average over each, time on the first axis
            [mol/mol].
        """
        shape = np.broadcast_shapes(np.shape(share), np.shape(stream))
        first = np.broadcast_to(np.asarray(share, dtype=float), shape)
        if self.mass is None or gas != "HCl" or gas not in self.gases:
            steady = np.broadcast_to(first, (steps + 1, *shape))
            for number in range(steps):
                room(number, first)
            return steady, steady[1:]
        T, fresh = np.asarray(self.T), np.asarray(self.HCl)
        mass = np.broadcast_to(np.asarray(self.mass), shape)
        acid = mass * fresh
        with collecting_warnings():
            fresh_pressure = np.asarray(vapour.hydrogen_chloride(T, fresh))
            at_end, on_average = [first], []
            for number in range(steps):
                w = np.maximum(acid / mass, WEAKEST)
                over = at_end[-1]
                # what the room holds goes back into the liquid
                leaving = np.maximum(over - room(number, over), TINY * over)
                loss = np.asarray(stream) * leaving * np.asarray(self._gas_density)
                # within the step as if the logarithm of p were straight in w: p/(1 + pace t)
                rise = _pace(T, w, mass, loss) * step
                average = np.log1p(rise) / rise
                gone = np.minimum(loss * average * step, acid)
                on_average.append(over * average)
                room(number, on_average[-1])
                acid, mass = acid - gone, mass - gone
                w = np.maximum(acid / mass, WEAKEST)
                at_end.append(first * np.asarray(vapour.hydrogen_chloride(T, w)) / fresh_pressure)
        return np.array(at_end), np.array(on_average)


def _pace(T: Any, HCl: Any, mass: Any, loss: Any) -> Any:
    """Return how fast the vapour of acid weakens [1/s] that loses so much gas [kg/s]."""
    return vapour.steepness(T, HCl) * (1 - HCl) * loss / mass


def _source(kind: str, *, mist_unknown: bool = False, **values: Any) -> Source:
    """Make a source of checked values, if it is not about to boil."""
    _, draws = common_shape(**values)
    source = Source(kind, mist_unknown=mist_unknown, draws=draws, **values)
    outside: list[RangeWarning] = []
    with collecting_warnings(outside):
        pressure = vapour.hydrogen_chloride(source.T, source.HCl, source.CuCl2)
    # said once, here: whoever asks for the air of this source knows it by then. The line named is
    # the one that calls `open_bottle` and its neighbours
    warn_again(outside, stacklevel=4)
    over = float(np.max(pressure) / PRESSURE)
    if over > MOST_SHARE:
        raise InputError(
            "HCl",
            f"acid gas over it must be at most {MOST_SHARE:g} of the air, cooler or weaker",
            value=float(np.max(source.HCl)),
            about=f" = {np.max(source.HCl):g} at T = {np.max(source.T):g} K",
            wrong=f"makes {over:.2g} of the air acid gas",
            high=MOST_SHARE,
            unit="mol/mol",
        )
    return source


def tray(
    bath: Solution, area: ArrayLike, T: ArrayLike | None = None, agitation: str = "rocked"
) -> Source:
    """Return the source that a bath in an open tray is.

    Parameters
    ----------
    bath : Solution
        What is in the tray; its copper(I) is not counted.
    area : float or array
        Liquid open to the air [m²], above 0 to 4.
    T : float or array, optional
        Temperature of the bath [K], 273.15 to 333.15; that of the solution unless given.
    agitation : str
        How it is moved, as in `Tray`: of a bubbled or sprayed bath the mist is unknown, and of one
        with peroxide, which fizzes by itself.

    Returns
    -------
    Source
        Of vapour only.

    Raises
    ------
    InputError
        A value outside its limits, a bath above 60 °C, or lye in it.
    ValueError
        Shapes that do not broadcast.

    Examples
    --------
    >>> bath = Solution.of(volume=150e-6, T=293.15, HCl=0.05, H2O2=0.06)
    >>> print(tray(bath, 0.015, T=301.15).kind)
    bath
    """
    check_kind("bath", bath, Solution)
    area = check_values("area", area, 0.0, MOST_AREA, "m²", above=True)
    check_choice("agitation", agitation, AGITATIONS)
    if T is None:
        T = bath.T
    T = check_values("T of the bath", T, *TEMPERATURES, "K")
    lye = float(np.max(bath.mass_fraction("NaOH")))
    if lye > 0:
        raise InputError(
            "bath", "it must hold 0 kg/kg of lye", value=lye, about=f": NaOH = {lye:g}"
        )
    fraction = bath.mass_fraction("H2O2")
    density = density_inside(bath.plain_T, bath.fractions)
    return _source(
        "bath",
        T=T,
        HCl=bath.mass_fraction("HCl"),
        CuCl2=bath.mass_fraction("CuCl2"),
        H2O2=fraction * density / MOLAR_MASS["H2O2"],
        area=area,
        length=np.sqrt(area),
        mist_unknown=agitation in MISTY or bool(np.any(np.asarray(fraction) > 0)),
    )


def bath_source(plan: Outcome) -> Source:
    """Return the source that a plan's bath in its tray is, as mixed and at its warmest.

    As copper dissolves acid goes with it, and so does its vapour: as mixed it is strongest.

    Parameters
    ----------
    plan : Plan
        Not refused.

    Returns
    -------
    Source
        Of vapour only, on the draws of the plan.

    Raises
    ------
    ValueError
        A refused plan: nobody mixes this.
    InputError
        No plan, or a bath that gets warmer than 60 °C in one of the draws.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> mild = plan(acid, peroxide, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    >>> print(bath_source(mild).kind)
    bath
    """
    check_kind("plan", plan, Outcome)
    if plan.refused:
        raise ValueError(REFUSED_BATH)
    inputs = plan.inputs
    copper = inputs.board.copper_area
    area = inputs.tray.surface(inputs.bath_per_area * copper, copper)
    return tray(plan.mixture, area, plan.run.peak_temperature, inputs.tray.agitation)


def open_bottle(
    HCl: ArrayLike, empty: ArrayLike = 0.025, neck: ArrayLike = 0.025, T: ArrayLike = 293.15
) -> Source:
    """Return the source that an open bottle of acid is: the air in its neck stands still.

    A draught may reach into the neck, at most as far as it is wide. What puffs out of a warm bottle
    as it is opened, and what pouring drives out, is not in it.

    Parameters
    ----------
    HCl : float or array
        Strength of the acid [kg/kg], 0 to 0.45; checked to 0.38.
    empty : float or array
        How far below the rim the acid lies [m], 0 to 0.5.
    neck : float or array
        Inner width of the neck [m], 5 to 200 mm.
    T : float or array
        Temperature [K], 273.15 to 333.15.

    Returns
    -------
    Source
        Of vapour only.

    Raises
    ------
    InputError
        A value outside its limits, or acid that gives gas off by itself.
    ValueError
        Shapes that do not broadcast.

    Examples
    --------
    >>> print(open_bottle(0.3145).kind)
    bottle
    """
    HCl = check_values("HCl", HCl, 0.0, LIMITS["HCl"], "kg/kg")
    empty = check_values("empty", empty, *EMPTY, "m")
    neck = check_values("neck", neck, *NECKS, "m")
    T = check_values("T", T, *TEMPERATURES, "K")
    area = np.pi / 4 * neck**2
    return _source("bottle", T=T, HCl=HCl, area=area, length=neck, still_air=empty)


def spill(
    volume: ArrayLike, HCl: ArrayLike, T: ArrayLike = 293.15, *, H2O2: ArrayLike = 0.0
) -> Source:
    """Return the source that spilt acid or peroxide is, 0.7 to 4 mm deep.

    Acid weakens as it gives gas off, see `Source.course`; peroxide gives off so little that it
    stays as it is, and its water leaves it faster.

    Parameters
    ----------
    volume : float or array
        How much is spilt [m³], 1 mL to 5 L.
    HCl : float or array
        Strength of the acid [kg/kg], above 0 to 0.45; checked to 0.38. 0 of peroxide.
    T : float or array
        Temperature [K], 273.15 to 333.15.
    H2O2 : float or array
        Strength of the peroxide [kg/kg], above 0 to 0.50; checked to 0.10. 0 of acid.

    Returns
    -------
    Source
        Of vapour only.

    Raises
    ------
    InputError
        A value outside its limits, acid and peroxide together, or acid that gives gas off by
        itself.
    ValueError
        Shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{spill(100e-6, 0.3145).area:.2f} m²")
    0.05 m²
    """
    volume = check_values("volume", volume, *SPILLS, "m³")
    H2O2 = check_values("H2O2", H2O2, 0.0, MOST_SPILT_PEROXIDE, "kg/kg")
    is_acid = not np.any(np.asarray(H2O2) > 0)
    HCl = check_values("HCl", HCl, 0.0, LIMITS["HCl"], "kg/kg", above=is_acid)
    if not is_acid and np.any(np.asarray(HCl) > 0):
        rule = "beside peroxide it must be 0 kg/kg: acid and peroxide together are a bath"
        raise InputError("HCl", rule, value=float(np.max(HCl)), low=0.0, high=0.0, unit="kg/kg")
    T = check_values("T", T, *TEMPERATURES, "K")
    common_shape(volume=volume, HCl=HCl, T=T, H2O2=H2O2)
    area = volume / SPILL_DEPTH
    density = density_inside(T, {"HCl": HCl, "H2O2": H2O2})
    return _source(
        "spill",
        T=T,
        HCl=HCl,
        H2O2=H2O2 * density / MOLAR_MASS["H2O2"],
        area=area,
        length=np.sqrt(area),
        mass=volume * density,
    )
