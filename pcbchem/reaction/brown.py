"""What follows when the peroxide is spent? The bath turns brown, and its dissolved copper goes on.

Cu + Cu(II) -> 2 Cu(I): two brown copper(I) for each copper of the foil, as far as the chloride of
the bath holds them.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ..common.limits import InputError
from ..matter.solution import Solution
from .bath.balances import is_spent
from .bath.bath import checked_parameters, checked_start
from .bath.film_properties import REFERENCE, cucl_saturation
from .bath.parameters import RateParameters
from .bath.run import EtchRun, marked
from .bath.setup import Start

SLIVER = 1e-6
"""Share of the foil [-] that is no copper left: what rounding leaves of a board that is clear."""


@dataclasses.dataclass(frozen=True, eq=False)
class Stages:
    """How far peroxide carried an etch, and whether the copper in the bath carried it to the end.

    Parameters
    ----------
    spent_at : float or array
        When the peroxide was spent [s]; infinite where it lasted until the copper was gone, or to
        the end of the run.
    gone : float or array
        Share of the copper gone by then [-], or by the end where it lasted.
    clears : bool or array
        Whether the board clears in the end [-].
    """

    spent_at: Any
    gone: Any
    clears: Any

    @property
    def brown(self) -> Any:
        """Whether the peroxide was spent before the copper was gone [-]: the bath turns brown."""
        return np.isfinite(self.spent_at)


def stages(run: EtchRun) -> Stages:
    """Find when the peroxide of a run was spent, and how much of the copper was gone by then.

    Parameters
    ----------
    run : EtchRun
        With its history.

    Returns
    -------
    Stages
        Arrays of the run's shape [s, -].

    Raises
    ------
    InputError
        A run made without history.

    Examples
    --------
    >>> from pcbchem import Board, Solution, etch
    >>> bath = Solution.of(volume=36e-6, T=295, HCl=0.05, H2O2=0.015)
    >>> weak = stages(etch(bath, Board(area=27e-4), history=True))
    >>> print(f"{weak.spent_at / 60:.0f} min, {weak.gone:.2f} gone, clears: {weak.clears}")
    34 min, 0.81 gone, clears: False
    """
    if run.steps is None:
        raise InputError(
            "run",
            "it must be True when the board is etched",
            value=False,
            about=": history = False",
        )
    time, peroxide, foil = (run.steps[name] for name in ("time", "peroxide", "thickness"))
    gone = 1 - foil / foil[:, :1]
    is_out = is_spent(peroxide, peroxide[:, :1]) & (gone < 1 - SLIVER)
    rows = np.arange(len(time))
    turns_brown = is_out.any(axis=1)
    # where it lasts the last point of the course counts
    place = np.where(turns_brown, is_out.argmax(axis=1), time.shape[1] - 1)
    spent_at = np.where(turns_brown, time[rows, place], np.inf)
    shape = np.shape(run.time_to_clear)
    clears = np.isfinite(np.asarray(run.time_to_clear))
    return Stages(
        spent_at=marked(spent_at, shape, run.draws),
        gone=marked(gone[rows, place], shape, run.draws),
        clears=clears[()],
    )


def cuprous_held(bath: Solution | Start, parameters: RateParameters | None = None) -> Any:
    """Return how much copper(I) the chloride of a bath holds dissolved, at the bath's temperature.

    Parameters
    ----------
    bath : Solution or Start
        The bath.
    parameters : RateParameters, optional
        The rate model's parameters; by default those of the table.

    Returns
    -------
    float or array
        Most copper(I) [mol/m³].

    Raises
    ------
    ValueError
        What is no bath, or draws of two lengths.

    Examples
    --------
    >>> from pcbchem import Solution
    >>> acid = Solution.of(volume=1e-3, T=298.15, HCl=0.0357)
    >>> print(f"{cuprous_held(acid) / 1000:.2f} mol/L in {acid.concentration('HCl') / 1000:.1f}")
    0.12 mol/L in 1.0
    """
    start, parameters = checked_start(bath), checked_parameters(parameters)
    bound = cucl_saturation(
        start.HCl + start.CuCl2, parameters.cuprous_binding, parameters.cuprous_second
    )
    # as the film reckons it: the table's constants are those of 25 °C
    return bound * np.exp(parameters.cuprous_temperature * (1 / REFERENCE - 1 / start.T))
