"""The parameters of the rate model: one frozen object, read from one table.

The table says of each parameter its range, its status and its source.
"""

from __future__ import annotations

import dataclasses
import functools
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common import tables
from ...common.arrays import MOST_DRAWS, FloatArray, as_draws, common_shape
from ...common.extras import extra
from ...common.limits import InputError, check_values, check_whole

if TYPE_CHECKING:
    import pandas

NONSENSE_FACTOR = 20
"""A value of more than so many times the upper end of its range is nonsense [-]."""


MAY_BE_ZERO = ("gas_order", "size_exponent", "wall_loss")
"""Parameters whose effect may be left out: the others are above 0."""
LEAST_DECAY_AFTER = 0.3
"""Least `decay_factor` that heat after the board is read with [-] (our choice): below it a bath
would look cool only because nobody has measured how slowly it decays."""


@functools.cache
def rows() -> dict[str, Mapping[str, str]]:
    """Return the table of parameters by name [units in its `unit` column]."""
    return {row["name"]: row for row in tables.read("parameters")}


@dataclasses.dataclass(frozen=True, eq=False)
class RateParameters:
    """Everything the rate model takes from nature.

    Parameters
    ----------
    peroxide_diffusivity, cupric_diffusivity, cuprous_diffusivity, acid_diffusivity : float or array
        Diffusivities in water at 25 °C [m²/s].
    surface_rate, surface_energy : float or array
        Rate of the surface at 25 °C [m/s], and its activation energy [J/mol].
    chloride_half : float or array
        Free chloride at which the surface goes at half its rate [mol/m³].
    stirring_rocked, stirring_shaken, stirring_bubbled, stirring_sprayed : float or array
        Transfer through the film by the movement of the bath alone [m/s]; rocked and shaken on a
        board of 2 cm².
    size_exponent : float or array
        Power by which rocked and shaken stir a longer board less [-].
    gas_share, gas_order, gas_energy : float or array
        Share of the peroxide that becomes gas at the copper [-], the power of the strength that it
        grows with [-], and its activation energy [J/mol].
    bubble_diameter : float or array
        Diameter of the bubbles that stir the film [m].
    transfer_limit : float or array
        Fastest transfer through the film [m/s].
    lewis_exponent : float or array
        Power that makes a transfer of heat of a transfer of matter [-].
    decay_rate, decay_energy, decay_half, decay_factor : float or array
        Decay of peroxide by Cu(II): rate at 67 °C [1/s], activation energy [J/mol], Cu(II) at half
        the rate [mol/m³], and the effect of chloride on it [-].
    cuprous_binding, cuprous_second, cuprous_temperature : float or array
        How much Cu(I) chloride dissolves: first constant [-], second constant [L/mol], and its
        trend with temperature [K].
    loss_factor, convection_factor, rate_factor : float or array
        Factors of the heat loss, of the natural convection and of the whole rate [-].
    wall_loss : float or array
        Heat lost through the wetted wall of the vessel [W/(m² K)].

    Notes
    -----
    None is the default of the table. `table()` says range, status and source of each. An array from
    `plausible` carries the draw axis.

    Raises
    ------
    InputError
        A value that is not above 0 (`MAY_BE_ZERO` may be 0), or 20 times over its range.
    ValueError
        Draws of two lengths.

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
    stirring_shaken: Any = None
    stirring_bubbled: Any = None
    stirring_sprayed: Any = None
    size_exponent: Any = None
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
    wall_loss: Any = None
    convection_factor: Any = None
    rate_factor: Any = None

    def __post_init__(self) -> None:
        for name, value in self.values().items():
            row = rows()[name]
            if value is None:
                value = np.float64(row["default"])
            # Far outside what is plausible is allowed, so that somebody can ask "what if"
            most = NONSENSE_FACTOR * float(row["high"])
            is_above_zero = name not in MAY_BE_ZERO
            copy = check_values(name, value, 0.0, most, row["unit"], above=is_above_zero)
            # The object is frozen: its own making is the one time that a field is set
            object.__setattr__(self, name, copy)
        common_shape(**self.values())

    def values(self) -> dict[str, FloatArray]:
        """Return every field by name [units in `table()`]."""
        return {field.name: getattr(self, field.name) for field in dataclasses.fields(self)}

    @classmethod
    def plausible(cls, draws: int = 200) -> RateParameters:
        """Return the first of the shipped plausible sets: together they are the model's doubt.

        Parameters
        ----------
        draws : int
            How many sets [-], 1 to 400.

        Returns
        -------
        RateParameters
            Each field an array of that length on the draw axis [units in `table()`].

        Raises
        ------
        InputError
            `draws` is not a whole number from 1 to 400.

        Examples
        --------
        >>> print(RateParameters.plausible(3).rate_factor.shape)
        (3,)
        """
        count = check_whole("draws", draws, 1, MOST_DRAWS)
        columns = shipped_draws()
        return cls(**{name: as_draws(column[:count]) for name, column in columns.items()})

    def replace(self, **changes: Any) -> RateParameters:
        """Return the same parameters with some fields changed.

        Parameters
        ----------
        **changes : float or array
            New values by name [units in `table()`].

        Returns
        -------
        RateParameters
            New ones; these stay as they are.

        Raises
        ------
        InputError
            An unknown field, or a value that is impossible.
        ValueError
            Draws of two lengths.

        Examples
        --------
        >>> print(f"{RateParameters().replace(rate_factor=1.1).rate_factor:.1f}")
        1.1
        """
        for name, value in changes.items():
            if name not in rows():
                raise InputError(
                    name,
                    f"choose from {', '.join(rows())}",
                    value=value,
                    about=f" = {value!r}",
                    wrong="is not a parameter",
                )
        return dataclasses.replace(self, **changes)

    def for_heat_after(self) -> RateParameters:
        """Return the same parameters with a decay quick enough to be read for heat.

        Not knowing how slowly peroxide decays must not make a bath look cooler. So each
        `decay_factor` keeps its place in its range, by the logarithm, while the range shrinks from
        0.01-10 to 0.3-10: none gets smaller, and one beyond the range stays as it is.

        Returns
        -------
        RateParameters
            New ones; these stay as they are.

        Examples
        --------
        >>> slow = RateParameters(decay_factor=0.01).for_heat_after()
        >>> print(f"{slow.decay_factor:.1f}")
        0.3
        """
        row = rows()["decay_factor"]
        low, high = float(row["low"]), float(row["high"])
        place = np.log(self.decay_factor / low) / np.log(high / low)
        quicker = LEAST_DECAY_AFTER * (high / LEAST_DECAY_AFTER) ** np.maximum(place, 0.0)
        return self.replace(decay_factor=np.maximum(quicker, self.decay_factor))

    def table(self) -> pandas.DataFrame:
        """List the parameters, a row each: value, range, unit, what pins it, status and source.

        Returns
        -------
        DataFrame
            Indexed by name; a value on a draw axis is shown by its middle [unit in its own column].
        """
        with extra("lab"):
            import pandas

        records = []
        for name, row in rows().items():
            record = {
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
            records.append(record)
        return pandas.DataFrame.from_records(records, index="name")


@functools.cache
def shipped_draws() -> dict[str, FloatArray]:
    """Return the shipped plausible draws, a column a parameter [units in the parameters' table]."""
    lines = tables.read("draws")
    columns = {name: np.array([float(line[name]) for line in lines]) for name in lines[0]}
    # Every caller gets the same arrays, so they are made to be read only
    for column in columns.values():
        column.setflags(write=False)
    return columns
