"""The parameters of the rate model: one frozen object, read from one table with range, status and source."""

from __future__ import annotations

import dataclasses
import functools
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from ...common import tables
from ...common.arrays import MOST_DRAWS, FloatArray, as_draws, common_shape
from ...common.limits import check_values

if TYPE_CHECKING:
    import pandas


class Calibrated(Protocol):
    """What a bench's own offcuts make of the plausible sets, as `pcbchem.bench.calibration` gives it."""

    def columns(self, draws: int) -> dict[str, FloatArray]:
        """So many sets, resampled by how well each fits the offcuts [units of the parameters], each (draws,)."""


@functools.cache
def rows() -> dict[str, Mapping[str, str]]:
    """The table of parameters by name [units in its `unit` column]."""
    return {row["name"]: row for row in tables.read("parameters")}


@dataclasses.dataclass(frozen=True, eq=False)
class RateParameters:
    """Everything the rate model takes from nature, each with a range, a status and a source in `table()`.

    Values are floats or arrays [units in `table()`], None for the default of the table; an array from `plausible`
    carries the draw axis.

    Raises
    ------
    ValueError
        A value that is not above 0 (the gas order may be 0), or 20 times over its range; draws of two lengths.

    Examples
    --------
    >>> print(f"{RateParameters().peroxide_diffusivity:.2e}")
    1.43e-09
    """

    peroxide_diffusivity: Any = None
    cupric_diffusivity: Any = None
    cuprous_diffusivity: Any = None
    acid_diffusivity: Any = None
    surface_rate: Any = None
    surface_energy: Any = None
    chloride_half: Any = None
    stirring_rocked: Any = None
    stirring_bubbled: Any = None
    stirring_sprayed: Any = None
    gas_share: Any = None
    bubble_diameter: Any = None
    gas_order: Any = None
    gas_energy: Any = None
    transfer_limit: Any = None
    lewis_exponent: Any = None
    decay_rate: Any = None
    decay_energy: Any = None
    decay_half: Any = None
    decay_factor: Any = None
    cuprous_binding: Any = None
    cuprous_second: Any = None
    cuprous_temperature: Any = None
    loss_factor: Any = None
    convection_factor: Any = None
    rate_factor: Any = None

    def __post_init__(self) -> None:
        for name, value in self.values().items():
            row = rows()[name]
            most = 20 * float(row["high"])  # far outside what is plausible, still short of nonsense
            value = np.float64(row["default"]) if value is None else value
            good = check_values(name, value, 0.0, most, row["unit"], above=name != "gas_order")
            object.__setattr__(self, name, good)
        common_shape(**self.values())

    def values(self) -> dict[str, FloatArray]:
        """Every field by name [units in `table()`]."""
        return {f.name: getattr(self, f.name) for f in dataclasses.fields(self)}

    @classmethod
    def plausible(
        cls, draws: int = 200, *, calibration: Calibrated | None = None
    ) -> RateParameters:
        """The first `draws` of the shipped plausible parameter sets: together they are the doubt of the model.

        Parameters
        ----------
        draws : int
            How many sets, 1 to 400.
        calibration : Calibration, optional
            From `pcbchem.bench.calibration`: sets are then drawn again by how well they fit the offcuts of a bench.

        Returns
        -------
        RateParameters
            Each field an array of that length on the draw axis [units in `table()`].

        Raises
        ------
        ValueError
            `draws` is not a whole number from 1 to 400, or `calibration` is not one.
        """
        if (
            isinstance(draws, bool)
            or not isinstance(draws, int | np.integer)
            or not 1 <= draws <= MOST_DRAWS
        ):
            raise ValueError(
                f"draws = {draws!r} is impossible: it must be a whole number from 1 to {MOST_DRAWS}"
            )
        if calibration is None:
            return cls(
                **{name: as_draws(column[:draws]) for name, column in shipped_draws().items()}
            )
        if not callable(getattr(calibration, "columns", None)):
            raise ValueError(
                f"calibration = {calibration!r:.80} is not one: give what calibrate(log) returns, or None"
            )
        return cls(
            **{name: as_draws(column) for name, column in calibration.columns(int(draws)).items()}
        )

    def replace(self, **changes: Any) -> RateParameters:
        """The same parameters with some fields changed [units in `table()`].

        Raises
        ------
        ValueError
            An unknown field, or a value that is impossible.
        """
        for name, value in changes.items():
            if name not in rows():
                raise ValueError(
                    f"{name} = {value!r} is not a parameter: choose from {', '.join(rows())}"
                )
        return dataclasses.replace(self, **changes)

    def table(self) -> pandas.DataFrame:
        """One row a parameter: value, range, unit, what pins it, status, source and symbol.

        Returns
        -------
        DataFrame
            Indexed by name; a value on a draw axis is shown by its middle [unit in its own column].
        """
        import pandas

        return pandas.DataFrame.from_records(
            [
                {
                    "name": name,
                    "symbol": row["symbol"],
                    "value": float(np.median(getattr(self, name))),
                    "low": float(row["low"]),
                    "high": float(row["high"]),
                    "unit": row["unit"],
                    "pinned by": row["pinned_by"],
                    "status": row["status"],
                    "source": tables.source(row["source"]),
                }
                for name, row in rows().items()
            ],
            index="name",
        )


@functools.cache
def shipped_draws() -> dict[str, FloatArray]:
    """The shipped plausible draws, a column a drawn parameter [units in the table of parameters]."""
    lines = tables.read("draws")
    found = {name: np.array([float(line[name]) for line in lines]) for name in lines[0]}
    for column in found.values():
        column.setflags(write=False)  # every caller gets the same
    return found
