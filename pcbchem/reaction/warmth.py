"""When does a bath warm itself? The heat its peroxide makes and the heat it loses, at one moment.

Heat is made all through the liquid, where Cu(II) turns peroxide into oxygen; it is lost through the
surface and the walls. This is the right-hand side of `stand`, taken apart.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..matter.solution import Solution
from .bath.balances import composition, decay_in_bath, flat, heat_loss, run_constants
from .bath.bath import (
    LONGEST_STAND,
    checked_parameters,
    checked_start,
    checked_tray,
    run_shape,
    warn_outside_checked,
)
from .bath.film_properties import DECAY_HEAT, Composition
from .bath.parameters import RateParameters
from .bath.run import marked
from .bath.setup import Start, Tray
from .bath.stepper import HOTTEST_BATH


@dataclasses.dataclass(frozen=True, eq=False)
class Balance:
    """What warms a bath and what cools it: it warms itself where `made` is the larger.

    Parameters
    ----------
    made, lost : float or array
        How fast the peroxide that decays would warm the bath if none were lost, and how fast the
        bath would cool if none were made [K/s].
    """

    made: Any
    lost: Any


def balance(
    bath: Solution | Start,
    tray: Tray | None = None,
    T: ArrayLike | None = None,
    parameters: RateParameters | None = None,
) -> Balance:
    """Return the heat that a bath without a board makes and loses at a temperature.

    Parameters
    ----------
    bath : Solution or Start
        The bath, for instance `EtchRun.bath_after`.
    tray : Tray, optional
        Open area, walls and air; by default 10 mm deep.
    T : float or array, optional
        Temperature [K], 250 to 400; the bath's own unless given.
    parameters : RateParameters, optional
        The rate model's parameters; by default those of the table.

    Returns
    -------
    Balance
        Arrays of the broadcast shape [K/s]. Near boiling what would warm a bath makes steam
        instead: that is not taken off here.

    Raises
    ------
    ValueError
        A bath of volume 0, of hardly any depth or with lye in it, an impossible temperature, draws
        of two lengths.

    Examples
    --------
    >>> from pcbchem import Solution
    >>> bath = Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06, CuCl2=0.01)
    >>> warm = balance(bath, T=313.15)
    >>> print(f"{60 * warm.made:.1f} made, {60 * warm.lost:.1f} lost, °C a minute")
    4.0 made, 1.3 lost, °C a minute
    """
    start = checked_start(bath)
    if T is not None:
        start = dataclasses.replace(start, T=T)
    tray, parameters = checked_tray(tray), checked_parameters(parameters)
    warn_outside_checked("balance", start)
    shape, draws = run_shape(start, tray, parameters)
    c = run_constants(start, None, tray, parameters, (), LONGEST_STAND, shape)
    held, temperature = composition(c, 0.0, flat(start.oxidant, shape)), flat(start.T, shape)
    made = decay_in_bath(c, held, temperature) * DECAY_HEAT / held.heat_capacity
    lost = heat_loss(c, held, temperature) / held.heat_capacity
    return Balance(marked(made, shape, draws), marked(lost, shape, draws))


def ceiling(bath: Solution | Start) -> Any:
    """Return how warm a bath gets if all its peroxide decays and no heat is lost: ΔH c / ρc_p more.

    No vessel gets the bath hotter, but a board that goes on etching in it does.

    Parameters
    ----------
    bath : Solution or Start
        The bath without a board.

    Returns
    -------
    float or array
        Temperature [K]; at most that of boiling.

    Raises
    ------
    ValueError
        What is no bath.

    Examples
    --------
    >>> from pcbchem import Solution
    >>> bath = Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06, CuCl2=0.01)
    >>> print(f"{ceiling(bath) - 273.15:.0f} °C")
    67 °C
    """
    start = checked_start(bath)
    held = Composition(start.HCl, start.H2O2, start.CuCl2, start.CuCl)
    # Cu(I) takes its half of a peroxide first, and makes no oxygen of it
    free = np.maximum(start.oxidant, 0.0) / 2
    return np.minimum(start.T + free * DECAY_HEAT / held.heat_capacity, HOTTEST_BATH)
