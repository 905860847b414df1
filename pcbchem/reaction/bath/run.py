"""What a run gives: arrays by scenario, bands over draws, histories, and the bath afterwards."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray
from ...common.band import Band
from ...common.extras import extra
from ...common.limits import InputError, check_choice, check_values
from ...matter.properties import MOLAR_MASS
from ...matter.solution import Solution
from .balances import composition, flat, is_spent, oxygen_made
from .setup import Board, Start
from .stepper import Course, curves

if TYPE_CHECKING:
    import pandas

NO_CHLORIDE = 5.0
"""Below so much chloride a bath does not etch [mol/m³]."""
ACID_SPENT = 0.05
"""Acid is spent at this share of its start [-]."""
LONGEST_LOOK = 1e9
"""Latest time at which a run can be read [s]."""


def marked(values: FloatArray, shape: tuple[int, ...], draws: int | None) -> FloatArray:
    """Put one value a scenario [own unit] back in shape, marked where there is a draw axis."""
    array = np.asarray(values).reshape(shape)
    if draws is None:
        return array[()]  # an array of no axes as a plain number, any other as it is
    return array.view(Draws)


class _Result:
    """What runs and standing baths share: a draw axis, and bands over it."""

    draws: int | None

    def band(self, name: str, weights: ArrayLike | None = None) -> Band:
        """Return what 8 of 10 plausible baths lie between.

        Parameters
        ----------
        name : str
            A field that holds numbers.
        weights : array or None
            Weight of each draw [-].

        Returns
        -------
        Band
            In the unit of the field.

        Raises
        ------
        ValueError
            An unknown name.
        """
        values = getattr(self, check_choice("name", name, self.numbers()))
        return Band.of(values, self.draws, weights)

    @classmethod
    def numbers(cls) -> tuple[str, ...]:
        """Return the names of the fields that hold numbers."""
        raise NotImplementedError


@dataclasses.dataclass(frozen=True, eq=False)
class Standing(_Result):
    """A bath that was left in its tray with no board.

    Parameters
    ----------
    peak_temperature, temperature : float or array
        The highest and the last temperature [K].
    oxygen : float or array
        Oxygen given off [m³ at 1 atm and the temperature of the air].
    peroxide : float or array
        Peroxide left [mol/m³].
    draws : int or None
        Length of the draw axis [-].
    """

    peak_temperature: FloatArray
    oxygen: FloatArray
    peroxide: FloatArray
    temperature: FloatArray
    draws: int | None

    @classmethod
    def numbers(cls) -> tuple[str, ...]:
        """Return the names of the fields that hold numbers."""
        return "peak_temperature", "oxygen", "peroxide", "temperature"


@dataclasses.dataclass(frozen=True, eq=False)
class EtchRun(_Result):
    """A board etched, in arrays of the broadcast shape.

    Parameters
    ----------
    time_to_clear : float or array
        When the bare copper is gone [s]; infinite where it never is.
    stopped_by : str or array of str
        Why the run ended [-]: "copper gone", "no chloride", "acid", "peroxide" or "time".
    peak_temperature : float or array
        Highest temperature [K].
    reserve : float or array
        What acid and peroxide can carry over what the foil needs, from the start alone [-].
    end : dict of array
        Concentrations [mol/m³], "T" [K], "thickness" of the foil left [m] and "time" [s].
    draws : int or None
        Length of the draw axis [-].
    volume, mass : float or array
        The bath at its start [m³, kg].
    board : Board
        What was etched.
    oxygen_amount : float or array
        Oxygen given off [mol].
    depletes : bool
        Whether the bath was used up as it etched.
    steps : dict of array or None
        The course of each scenario in points, shape (scenarios, points); None without history:
        "time" [s], "thickness" [m], "temperature" [K], "acid", "peroxide", "Cu(I)" and "Cu(II)"
        [mol/m³].
    """

    time_to_clear: FloatArray
    stopped_by: Any
    peak_temperature: FloatArray
    reserve: FloatArray
    end: dict[str, FloatArray]
    draws: int | None
    volume: Any = dataclasses.field(repr=False)
    mass: Any = dataclasses.field(repr=False)
    board: Board = dataclasses.field(repr=False)
    oxygen_amount: FloatArray = dataclasses.field(repr=False)
    depletes: bool = dataclasses.field(repr=False)
    steps: dict[str, FloatArray] | None = dataclasses.field(repr=False)

    @classmethod
    def numbers(cls) -> tuple[str, ...]:
        """Return the names of the fields that hold numbers."""
        return "time_to_clear", "peak_temperature", "reserve", "oxygen_amount"

    @classmethod
    def from_course(
        cls,
        c: dict[str, Any],
        start: Start,
        board: Board,
        shape: tuple[int, ...],
        draws: int | None,
        course: Course,
    ) -> EtchRun:
        """Make a run of what the solver gives, one value a scenario [SI].

        Parameters
        ----------
        c : dict
            Constants of the run [SI].
        start : Start
            What the bath held.
        board : Board
            What was etched.
        shape : tuple of int
            Shape of the scenarios.
        draws : int or None
            Length of the draw axis [-].
        course : Course
            Ends, peaks and steps by scenario.

        Returns
        -------
        EtchRun
            With the reason why each bath stopped, its arrays in shape.
        """
        time, share_gone, oxidant, T = course.ends
        # mol/m² of foil times m² of copper for each m³ of bath: mol/m³
        dissolved = share_gone * c["foil"] * c["bare"]
        bath = composition(c, dissolved, oxidant)
        clear = share_gone >= 1
        acid_start, peroxide_start = flat(start.HCl, shape), flat(start.H2O2, shape)
        reasons = {
            "copper gone": clear,
            "no chloride": np.broadcast_to(c["chloride"] < NO_CHLORIDE, time.shape),
            "acid": bath.acid < ACID_SPENT * acid_start,
            "peroxide": is_spent(bath.peroxide, peroxide_start),
        }
        # the first that holds is the reason: a clear board may also have spent its peroxide
        stopped_by = np.select(list(reasons.values()), list(reasons), "time")
        oxygen = np.zeros_like(time)
        if c["depletes"]:
            oxygen = oxygen_made(start, shape, oxidant, dissolved)
        # one copper takes one peroxide and two acid
        reserve = np.minimum(start.H2O2, start.HCl / 2) * start.volume / board.copper
        end = {
            "HCl": bath.acid,
            "H2O2": bath.peroxide,
            "CuCl2": bath.cupric,
            "CuCl": bath.cuprous,
            "T": T,
            "thickness": flat(board.foil.thickness, shape) * (1 - share_gone),
            "time": time,
        }

        def in_shape(values: FloatArray) -> FloatArray:
            return marked(values, shape, draws)

        return cls(
            time_to_clear=in_shape(np.where(clear, time, np.inf)),
            stopped_by=stopped_by.reshape(shape)[()],
            peak_temperature=in_shape(course.peaks),
            reserve=in_shape(flat(reserve, shape)),
            end={name: in_shape(values) for name, values in end.items()},
            draws=draws,
            volume=in_shape(flat(start.volume, shape)),
            mass=start.mass,
            board=board,
            oxygen_amount=in_shape(oxygen),
            depletes=c["depletes"],
            steps=_history(c, course, board, shape),
        )

    @property
    def bath_after(self) -> Solution:
        """The bath when the board comes out [kg, K].

        Its mass is that of the start, and the copper dissolved, less the oxygen given off.

        Raises
        ------
        ValueError
            A run without depletion: such a bath makes chloride from nothing.
        """
        if not self.depletes:
            raise InputError(
                "bath_after",
                "it must be run with depletion",
                value="depletion",
                about=": without = 'depletion'",
            )
        # a refused plan keeps its run so that no amount can be worked out from it
        if np.isnan(np.min(self.mass)):
            raise InputError(
                "bath_after",
                "this run is kept without its amounts",
                value=np.nan,
                about=": mass = nan",
            )
        dissolved = self.board.copper * (1 - self.end["thickness"] / self.board.foil.thickness)
        oxygen = self.oxygen_amount * MOLAR_MASS["O2"]
        mass = self.mass + dissolved * MOLAR_MASS["Cu"] - oxygen
        names = ("HCl", "H2O2", "CuCl2", "CuCl")
        amounts = {name: self.end[name] * self.volume for name in names}
        return Solution.from_amounts(mass=mass, T=self.end["T"], **amounts)

    def at(self, times: ArrayLike) -> dict[str, FloatArray]:
        """Read the run at some times; after its end it holds its last state.

        Parameters
        ----------
        times : array
            Times since the board went in [s], shape (M,) or one number.

        Returns
        -------
        dict
            "thickness" [m], "temperature" [K], "acid", "peroxide", "Cu(I)", "Cu(II)" [mol/m³], each
            of the run's shape with the times on an axis before the draw axis (last where there is
            none).

        Raises
        ------
        ValueError
            A negative or infinite time, or a run made without history.
        """
        if self.steps is None:
            raise InputError(
                "at",
                "it must be True when the board is etched",
                value=False,
                about=": history = False",
            )
        moments = np.asarray(check_values("times", times, 0.0, LONGEST_LOOK, "s"))
        shape = np.shape(self.time_to_clear)
        columns = {}
        for name in ("thickness", "temperature", "acid", "peroxide", "Cu(I)", "Cu(II)"):
            lines = [
                np.interp(moments.reshape(-1), time, values)
                for time, values in zip(self.steps["time"], self.steps[name], strict=True)
            ]
            block = np.array(lines).reshape((*shape, moments.size))
            if self.draws is None:
                in_shape = (*shape, *moments.shape)
            else:
                # the draw axis stays the last one: the times go before it
                block = np.moveaxis(block, -1, -2)
                in_shape = (*shape[:-1], *moments.shape, shape[-1])
            columns[name] = marked(block, in_shape, self.draws)
        return columns

    def to_frame(self) -> pandas.DataFrame:
        """Return a table of one row a scenario, axes as an index, units in the column names.

        Returns
        -------
        DataFrame
            Times [s], temperatures [°C], concentrations [mol/L], foil left [µm].
        """
        with extra("lab"):
            import pandas

        columns = {
            "time to clear (s)": self.time_to_clear,
            "stopped by": self.stopped_by,
            "peak (°C)": self.peak_temperature - 273.15,
            "reserve (-)": self.reserve,
            "foil left (µm)": self.end["thickness"] * 1e6,
        }
        for name in ("HCl", "H2O2", "CuCl2", "CuCl"):
            columns[f"{name} left (mol/L)"] = self.end[name] / 1000

        shape = np.shape(self.time_to_clear)
        index = pandas.Index([0], name="bath")
        if shape:
            axes = [f"axis {number}" for number in range(len(shape))]
            if self.draws is not None:
                axes[-1] = "draw"
            index = pandas.MultiIndex.from_product([range(n) for n in shape], names=axes)
        rows = {name: np.asarray(values).reshape(-1) for name, values in columns.items()}
        return pandas.DataFrame(rows, index=index)


def _history(
    c: dict[str, Any], course: Course, board: Board, shape: tuple[int, ...]
) -> dict[str, FloatArray] | None:
    """Return the steps as curves that a page reads, shape (scenarios, points) [SI], if any."""
    if course.steps is None:
        return None
    time, share_gone, oxidant, T = curves(course.steps, course.peaks.size)
    # the cubic of a step may swing past its ends by a rounding, and time may step back by one
    share_gone = np.clip(share_gone, 0.0, 1.0)
    # points are on a second axis
    wide = {name: value[:, None] if np.ndim(value) else value for name, value in c.items()}
    bath = composition(wide, share_gone * wide["foil"] * wide["bare"], oxidant)
    return {
        "time": np.maximum.accumulate(time, axis=1),
        "thickness": flat(board.foil.thickness, shape)[:, None] * (1 - share_gone),
        "temperature": T,
        "acid": bath.acid,
        "peroxide": bath.peroxide,
        "Cu(I)": bath.cuprous,
        "Cu(II)": bath.cupric,
    }
