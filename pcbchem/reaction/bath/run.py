"""What a run gives: arrays by scenario, bands over the draw axis, histories, and the bath afterwards."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray
from ...common.band import Band
from ...common.limits import check_choice, check_values
from ...matter.properties import MOLAR_MASS
from ...matter.solution import Solution
from .setup import Board
from .stepper import curves

if TYPE_CHECKING:
    import pandas


def flat(value: ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    """One value a scenario [any unit] in a row, from anything that broadcasts to the shape."""
    return np.broadcast_to(np.asarray(value, dtype=float), shape).reshape(-1)


def oxygen_made(start: Any, shape: tuple[int, ...], oxidant: FloatArray, copper: Any) -> FloatArray:
    """Oxygen given off [mol] by scenario: oxidant that neither dissolved copper nor stayed [mol/m³]."""
    split = np.maximum(0.5 * (flat(start.oxidant, shape) - oxidant) - copper, 0.0)
    made: FloatArray = 0.5 * split * flat(start.volume, shape)
    return made


def is_spent(peroxide: Any, start: Any) -> Any:
    """Where a bath's peroxide counts as spent [both mol/m³]: down to 1 % of its start, or to next to nothing."""
    return peroxide <= 0.01 * start + 0.5


def marked(values: FloatArray, shape: tuple[int, ...], draws: int | None) -> FloatArray:
    """One value a scenario [any unit] back in its shape, with the draw mark where there is a draw axis."""
    array = np.asarray(values).reshape(shape)
    found: FloatArray = array.view(Draws) if draws is not None else array[()]
    return found


class _Result:
    """What runs and standing baths share: a draw axis, and bands over it."""

    draws: int | None

    def band(self, name: str, weights: ArrayLike | None = None) -> Band:
        """What 8 of 10 plausible baths lie between.

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
        return Band.of(
            getattr(self, check_choice("name", name, self.numbers())), self.draws, weights
        )

    @classmethod
    def numbers(cls) -> tuple[str, ...]:
        """Names of the fields that hold numbers."""
        raise NotImplementedError


@dataclasses.dataclass(frozen=True, eq=False)
class Standing(_Result):
    """A bath left in its tray with no board: peak and last temperature [K], oxygen [m³], peroxide left [mol/m³]."""

    peak_temperature: FloatArray
    oxygen: FloatArray
    peroxide: FloatArray
    temperature: FloatArray
    draws: int | None

    @classmethod
    def of(cls, shape: tuple[int, ...], draws: int | None, **values: FloatArray) -> Standing:
        """From one value a scenario [units of the fields]."""
        return cls(
            **{name: marked(value, shape, draws) for name, value in values.items()}, draws=draws
        )

    @classmethod
    def numbers(cls) -> tuple[str, ...]:
        """Names of the fields that hold numbers."""
        return "peak_temperature", "oxygen", "peroxide", "temperature"


@dataclasses.dataclass(frozen=True, eq=False)
class EtchRun(_Result):
    """A board etched: arrays of the broadcast shape; `time_to_clear` is infinite where it never clears.

    `time_to_clear` [s], `stopped_by`, `peak_temperature` [K], `reserve` [-] (what acid and peroxide can carry over
    what the foil needs, from the start alone), `oxygen_amount` given off [mol],
    `end` (concentrations [mol/m³], "T" [K], "thickness" [m], "time" [s]).
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
        """Names of the fields that hold numbers."""
        return "time_to_clear", "peak_temperature", "reserve", "oxygen_amount"

    @classmethod
    def of(
        cls,
        c: dict[str, Any],
        start: Any,
        board: Board,
        shape: tuple[int, ...],
        draws: int | None,
        solved: tuple[FloatArray, FloatArray, list[Any] | None],
        state: Callable[..., Any],
    ) -> EtchRun:
        """From the solver's flat states [SI]: names the reason each bath stopped and puts arrays back in shape."""
        (t, s, X, T), peaks, keep = solved
        copper = s * c["foil"] * c["bare"]
        acid, peroxide, cupric, cuprous = state(c, copper, X)
        reasons = np.select(
            [
                s >= 1,
                c["chloride"] + 0 * t < 5,
                acid < 0.05 * flat(start.HCl, shape),
                is_spent(peroxide, flat(start.H2O2, shape)),
            ],
            ["copper gone", "no chloride", "acid", "peroxide"],
            "time",
        )
        oxygen = oxygen_made(start, shape, X, copper) if c["depletes"] else 0.0 * t
        reserve = np.minimum(start.H2O2, start.HCl / 2) * start.volume / board.copper
        thickness = flat(board.foil.thickness, shape) * (1 - s)
        end = {
            "HCl": acid,
            "H2O2": peroxide,
            "CuCl2": cupric,
            "CuCl": cuprous,
            "T": T,
            "thickness": thickness,
            "time": t,
        }

        def put(values: Any) -> Any:
            return marked(values, shape, draws)

        steps = None if keep is None else _curves(keep, t.size, c, state, board, shape)
        return cls(
            put(np.where(s >= 1, t, np.inf)),
            reasons.reshape(shape)[()],
            put(peaks),
            put(flat(reserve, shape)),
            {k: put(v) for k, v in end.items()},
            draws,
            put(flat(start.volume, shape)),
            start.mass,
            board,
            put(oxygen),
            c["depletes"],
            steps,
        )

    @property
    def bath_after(self) -> Solution:
        """The bath when the board comes out: mass = start + copper dissolved − oxygen given off [kg, K].

        Raises
        ------
        ValueError
            A run without depletion: such a bath makes chloride from nothing.
        """
        if not self.depletes:
            raise ValueError(
                "bath_after: without = 'depletion' is impossible: it must be run with depletion"
            )
        if np.isnan(np.min(self.mass)):
            raise ValueError(
                "bath_after: mass = nan is impossible: this run is kept without its amounts"
            )
        gone = self.board.copper * (1 - self.end["thickness"] / self.board.foil.thickness)
        mass = self.mass + gone * MOLAR_MASS["Cu"] - self.oxygen_amount * MOLAR_MASS["O2"]
        held = {name: self.end[name] * self.volume for name in ("HCl", "H2O2", "CuCl2", "CuCl")}
        return Solution.from_amounts(mass=mass, T=self.end["T"], **held)

    def at(self, times: ArrayLike) -> dict[str, FloatArray]:
        """The run at given times; after its end the last state is held.

        Parameters
        ----------
        times : array
            Times since the board went in [s], shape (M,) or one number.

        Returns
        -------
        dict
            "thickness" [m], "temperature" [K], "acid", "peroxide", "Cu(I)", "Cu(II)" [mol/m³], each of the
            run's shape with the times on an axis before the draw axis (last where there is none).

        Raises
        ------
        ValueError
            A negative or infinite time, or a run made without history.
        """
        if self.steps is None:
            raise ValueError(
                "at: history = False is impossible: it must be True when the board is etched"
            )
        asked = np.asarray(check_values("times", times, 0.0, 1e9, "s"))
        shape = np.shape(self.time_to_clear)
        names = ("thickness", "temperature", "acid", "peroxide", "Cu(I)", "Cu(II)")
        grid = self.steps["time"]
        out = {}
        for name in names:
            lines = [
                np.interp(asked.reshape(-1), grid[i], self.steps[name][i])
                for i in range(grid.shape[0])
            ]
            block = np.array(lines).reshape((*shape, asked.size))
            if self.draws is not None:
                block = np.moveaxis(block, -1, -2)
            wanted = (
                (*shape[:-1], *asked.shape, shape[-1])
                if self.draws is not None
                else (*shape, *asked.shape)
            )
            out[name] = marked(block, wanted, self.draws)
        return out

    def to_frame(self) -> pandas.DataFrame:
        """One row a scenario, units in the column names, axes as an index.

        Returns
        -------
        DataFrame
            Times [s], temperatures [°C], concentrations [mol/L], foil left [µm].
        """
        import pandas

        shape = np.shape(self.time_to_clear)
        axes = [f"axis {i}" for i in range(len(shape))]
        if self.draws is not None:
            axes[-1] = "draw"
        index = (
            pandas.MultiIndex.from_product([range(n) for n in shape], names=axes)
            if shape
            else pandas.Index([0], name="bath")
        )
        columns = {
            "time to clear (s)": self.time_to_clear,
            "stopped by": self.stopped_by,
            "peak (°C)": self.peak_temperature - 273.15,
            "reserve (-)": self.reserve,
            "foil left (µm)": self.end["thickness"] * 1e6,
        }
        columns |= {
            f"{name} left (mol/L)": self.end[name] / 1000
            for name in ("HCl", "H2O2", "CuCl2", "CuCl")
        }
        return pandas.DataFrame(
            {name: np.asarray(v).reshape(-1) for name, v in columns.items()}, index=index
        )


def _curves(
    keep: list[Any],
    count: int,
    c: dict[str, Any],
    state: Callable[..., Any],
    board: Board,
    shape: tuple[int, ...],
) -> dict[str, FloatArray]:
    """The kept steps as curves that a page reads, shape (scenarios, points) [SI]."""
    t, s, X, T = curves(keep, count)
    wide = {k: (v[:, None] if np.ndim(v) else v) for k, v in c.items()}
    s = np.clip(s, 0.0, 1.0)
    acid, peroxide, cupric, cuprous = state(wide, s * wide["foil"] * wide["bare"], X)
    return {
        "time": np.maximum.accumulate(t, axis=1),
        "thickness": flat(board.foil.thickness, shape)[:, None] * (1 - s),
        "temperature": T,
        "acid": acid,
        "peroxide": peroxide,
        "Cu(I)": cuprous,
        "Cu(II)": cupric,
    }
