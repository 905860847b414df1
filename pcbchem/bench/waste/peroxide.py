"""When the peroxide of a rest may be gone, what a strip can tell of it, and why it stays open.

Copper(II) goes on turning peroxide into oxygen after the board is out. How fast spans a factor of a
thousand, so nobody can say when it ends: only a strip tells.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray, as_draws, common_shape
from ...common.limits import InputError, check_number, check_values, collecting_warnings
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import MOLAR_MASS
from ...matter.solution import Solution
from ...reaction.bath.balances import decay_in_bath
from ...reaction.bath.bath import (
    checked_parameters,
    checked_start,
    checked_tray,
    run_shape,
    stand,
)
from ...reaction.bath.film_properties import MOST, Composition, R
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.run import EtchRun, marked
from ...reaction.bath.setup import Start, Tray
from ...reaction.bath.standing import rest_of as rest_after
from .rest import Rest

READS_NOTHING = 1e-3 / MOLAR_MASS["H2O2"]
"""Below so much a strip reads nothing [mol/m³]: 1 mg/L (common practice, no source)."""
END_OF_SCALE = 0.1
"""A usual strip's scale ends at so much peroxide [kg/m³]: 100 mg/L (common practice, no source)."""
LONGEST_LOOK = 60 * 86_400.0
"""Nobody looks later than after two months [s]."""
FIRST_LOOK = 60.0
"""The curve that is read between begins after so long [s]."""
FOLLOWED = 4e5
"""So long a bath is followed with its warmth [s]: by then it is at rest with its air."""
POINTS = 48
"""In so many steps, each longer than the one before and none longer than `stand` takes."""
LITTLE = 0.01
"""Below this share of its start peroxide makes hardly any heat [-]."""
LEAST_LIMIT = 1e-6
"""Least peroxide that is asked for [mol/m³]: a thirtieth of a microgram in a litre."""


def peroxide_after(
    bath: Rest | EtchRun | Solution | Start,
    tray: Tray | None,
    times: ArrayLike,
    parameters: RateParameters | None = None,
) -> FloatArray:
    """Return the peroxide that is left in a bath at some times after the board is out.

    For four days and some hours by one `stand` after the other; from there on, at the temperature
    that the bath has then and with the draws' own constants,

        c = c_end exp(−k (t − t_end)), k = f_Cl k3 C/(C + C3) exp(−E/R (1/T − 1/340.15 K))

    Parameters
    ----------
    bath : Rest, EtchRun, Solution or Start
        What is left.
    tray : Tray or None
        Where it stands [m², K]; None: the rest's own.
    times : float or array
        Since the board came out [s], 0 to 60 days; shape (M,) or one number.
    parameters : RateParameters, optional
        By default the draws as they are, as many as the bath has; what may be left never goes by
        the quicker decay that heat is read with.

    Returns
    -------
    array
        Peroxide [mol/m³], the times on an axis before the draw axis, or last where there is none.

    Raises
    ------
    InputError
        A time outside its limits, or what is no bath and no tray.
    ValueError
        Draws of two lengths.

    Examples
    --------
    >>> used = Solution.of(volume=150e-6, T=301.15, HCl=0.045, H2O2=0.05, CuCl2=0.011)
    >>> left = peroxide_after(used, None, [3600, 86400], RateParameters.plausible(100))
    >>> print(left.shape)
    (2, 100)
    """
    moments = np.asarray(check_values("times", times, 0.0, LONGEST_LOOK, "s"))
    start, tray, parameters = _checked(bath, tray, parameters)
    shape, draws = run_shape(start, tray, parameters)
    rows, end = _followed(start, tray, parameters, np.unique(moments[moments <= FOLLOWED]))
    if np.any(moments > FOLLOWED):
        pace = decay_pace(end.T, end.CuCl2 + end.CuCl, parameters)
        for moment in np.unique(moments[moments > FOLLOWED]):
            rows[float(moment)] = end.H2O2 * np.exp(-pace * (moment - FOLLOWED))

    # the times go before the draw axis, and behind the scenarios that a bath may have
    block = np.stack([np.broadcast_to(rows[moment], shape) for moment in moments.flat])
    before = shape if draws is None else shape[:-1]
    block = np.moveaxis(block, 0, len(before))
    block = block.reshape((*before, *moments.shape, *shape[len(before) :]))
    if draws is None:
        return block
    return block.view(Draws)


def time_gone(
    bath: Rest | EtchRun | Solution | Start,
    tray: Tray | None = None,
    limit: float = READS_NOTHING,
    parameters: RateParameters | None = None,
) -> FloatArray:
    """Return when the peroxide falls below a limit, draw by draw: never a time to wait.

    Parameters
    ----------
    bath : Rest, EtchRun, Solution or Start
        What is left.
    tray : Tray or None
        Where it stands [m², K]; None: the rest's own.
    limit : float
        Peroxide [mol/m³], 1e-6 to 30 000; by default that below which a strip reads nothing.
    parameters : RateParameters, optional
        By default the draws as they are, as many as the bath has.

    Returns
    -------
    float or array
        Time since the board came out [s]; infinite where no copper breaks the peroxide up.

    Raises
    ------
    InputError
        A limit outside its limits, or what is no bath and no tray.
    ValueError
        Draws of two lengths.

    Examples
    --------
    >>> used = Solution.of(volume=150e-6, T=301.15, HCl=0.045, H2O2=0.05, CuCl2=0.011)
    >>> print(f"{time_gone(used, parameters=RateParameters()) / 3600:.0f} h")
    17 h
    """
    limit = check_number("limit", limit, LEAST_LIMIT, MOST["H2O2"], "mol/m³")
    start, tray, parameters = _checked(bath, tray, parameters)
    shape, draws = run_shape(start, tray, parameters)
    rows, end = _followed(start, tray, parameters, ())
    late = FOLLOWED + decay_time(
        np.maximum(end.H2O2, limit), limit, end.T, end.CuCl2 + end.CuCl, parameters
    )
    times = np.array(sorted(rows))
    curve = np.stack([np.broadcast_to(rows[time], shape).reshape(-1) for time in times])
    logs = np.log(np.maximum(curve, LEAST_LIMIT / 10))
    gone = np.array(np.broadcast_to(late, shape), dtype=float).reshape(-1)
    for scenario in np.flatnonzero(logs[-1] < np.log(limit)):
        # falls all the way: read from its end, so that the axis of `interp` rises
        gone[scenario] = np.interp(np.log(limit), logs[::-1, scenario], times[::-1])
    return marked(gone, shape, draws)


def decay_pace(
    T: ArrayLike, copper: ArrayLike, parameters: RateParameters | None = None
) -> FloatArray:
    """Return the share of its peroxide that a bath loses in a second.

    Parameters
    ----------
    T : float or array
        How warm it is [K], 250 to 400.
    copper : float or array
        Dissolved Cu(II) [mol/m³], 0 to 6000.
    parameters : RateParameters, optional
        Those of the table by default.

    Returns
    -------
    float or array
        f_Cl k3 C/(C + C3) exp(−E/R (1/T − 1/340.15 K)) [1/s].

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths.

    Examples
    --------
    >>> print(f"{decay_pace(293.15, 86.0) * 3600:.2f} of it in an hour, at first")
    0.66 of it in an hour, at first
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    copper = check_values("copper", copper, 0, MOST["CuCl2"], "mol/m³")
    parameters = checked_parameters(parameters)
    common_shape(T=T, copper=copper, **parameters.values())
    constants = {
        "decay": parameters.decay_rate * parameters.decay_factor,
        "decay_temperature": parameters.decay_energy / R,
        "decay_half": parameters.decay_half,
    }
    one = Composition(acid=0.0, peroxide=1.0, cupric=copper, cuprous=0.0)
    pace: FloatArray = decay_in_bath(constants, one, T)
    return pace


def decay_time(
    concentration: ArrayLike,
    end: ArrayLike,
    T: ArrayLike,
    copper: ArrayLike,
    parameters: RateParameters | None = None,
) -> FloatArray:
    """Return how long peroxide takes from one concentration to another at one temperature.

    t = ln(c/c_end)/k, with k from `decay_pace`.

    Parameters
    ----------
    concentration, end : float or array
        Peroxide at first and at the end [mol/m³], 1e-6 to 30 000; no less at first than at the end.
    T : float or array
        How warm the bath is all the time [K], 250 to 400.
    copper : float or array
        Dissolved Cu(II) [mol/m³], 0 to 6000.
    parameters : RateParameters, optional
        Those of the table by default.

    Returns
    -------
    float or array
        Time [s]; infinite without copper.

    Raises
    ------
    InputError
        A value outside its limits, or more at the end than at first.
    ValueError
        Draws of two lengths.

    Examples
    --------
    >>> print(f"{decay_time(1520.0, 3.0, 293.15, 86.0) / 3600:.1f} h")
    9.4 h
    """
    first = check_values("concentration", concentration, LEAST_LIMIT, MOST["H2O2"], "mol/m³")
    last = check_values("end", end, LEAST_LIMIT, MOST["H2O2"], "mol/m³")
    pace = decay_pace(T, copper, parameters)
    common_shape(concentration=first, end=last, pace=pace)
    folds = np.log(first / last)
    if np.any(folds < 0):
        worst = float(np.broadcast_to(last, folds.shape)[folds < 0].flat[0])
        raise InputError(
            "end", "it must be at most what there is at first", value=worst, unit="mol/m³"
        )
    # without copper it never ends, unless there is nothing to do
    never = np.where(folds > 0, np.inf, 0.0)
    time: FloatArray = np.where(pace > 0, folds / np.where(pace > 0, pace, 1.0), never)
    if isinstance(folds, Draws) or isinstance(pace, Draws):
        return time.view(Draws)
    return time[()]


def strip_dilution(concentration: ArrayLike, end_of_scale: ArrayLike = END_OF_SCALE) -> FloatArray:
    """Return how far a bath has to be diluted before a strip can read its peroxide.

    Parameters
    ----------
    concentration : float or array
        Peroxide in the bath [mol/m³], 0 to 30 000.
    end_of_scale : float or array
        Where the scale of the strip ends [kg/m³], above 0 to 100.

    Returns
    -------
    float or array
        Times its volume [-]; 1 where the scale reaches as it is. Copper colours the strip: below
        1 mg/L it tells nothing.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{strip_dilution(1520.0):.0f} times")
    517 times
    """
    peroxide = check_values("concentration", concentration, 0, MOST["H2O2"], "mol/m³")
    scale = check_values("end_of_scale", end_of_scale, 0, 100, "kg/m³", above=True)
    common_shape(concentration=peroxide, end_of_scale=scale)
    times: FloatArray = np.maximum(peroxide * MOLAR_MASS["H2O2"] / scale, 1.0)
    return times


def closed_pressure(oxygen: ArrayLike, headspace: ArrayLike, T: ArrayLike = 293.15) -> FloatArray:
    """Return the pressure that oxygen would build up if a bath were closed up: why it never is.

    Parameters
    ----------
    oxygen : float or array
        Oxygen that is yet to come [mol], 0 to 1e6; half as much as there is peroxide.
    headspace : float or array
        Gas space over the liquid [m³], above 0 to 1000.
    T : float or array
        How warm it is [K], 250 to 400.

    Returns
    -------
    float or array
        Pressure over that of the air [Pa]: n R T / V.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{closed_pressure(0.114, 0.35e-3) / 101325:.1f} times the pressure of the air")
    7.8 times the pressure of the air
    """
    amount = check_values("oxygen", oxygen, 0, 1e6, "mol")
    space = check_values("headspace", headspace, 0, 1000, "m³", above=True)
    warmth = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(oxygen=amount, headspace=space, T=warmth)
    return amount * R * warmth / space


def _checked(
    bath: Any, tray: Tray | None, parameters: RateParameters | None
) -> tuple[Start, Tray, RateParameters]:
    """Return what a bath holds, where it stands, and by what it decays, or raise."""
    if isinstance(bath, Rest):
        start = bath.start
        tray = bath.tray if tray is None else tray
    elif isinstance(bath, EtchRun):
        start = Start.of(bath.bath_after)
    else:
        start = checked_start(bath)
    if parameters is None:
        _, draws = common_shape(**start.values())
        parameters = RateParameters() if draws is None else RateParameters.plausible(draws)
    return start, checked_tray(tray), checked_parameters(parameters)


def _followed(
    start: Start, tray: Tray, parameters: RateParameters, times: Any
) -> tuple[dict[float, Any], Start]:
    """Leave a bath standing to each of some times [s] and to `FOLLOWED`.

    Returns the peroxide [mol/m³] by time, and what the bath is at the end.
    """
    at_first = np.asarray(start.H2O2)
    rows: dict[float, Any] = {0.0: at_first}
    now, pace = 0.0, decay_pace(start.T, start.CuCl2 + start.CuCl, parameters)
    moments = np.union1d(times, np.geomspace(FIRST_LOOK, FOLLOWED, POINTS))
    with collecting_warnings():  # where the model ends was said of the etch
        for time in map(float, moments[moments > 0]):
            standing = stand(start, tray, time - now, parameters)
            before, pace_before = start.H2O2, pace
            start = rest_after(start, standing)
            pace = decay_pace(start.T, start.CuCl2 + start.CuCl, parameters)
            # the steps of `stand` are as exact as heat asks for: of the last hundredth, which makes
            # hardly any, the decay by itself tells more
            folds = 0.5 * (pace_before + pace) * (time - now)
            is_little = start.H2O2 < LITTLE * at_first
            left = np.where(is_little, before * np.exp(-folds), start.H2O2)
            start = dataclasses.replace(start, H2O2=_like(left, standing.peroxide))
            rows[time], now = left, time
    return rows, start


def _like(values: Any, model: Any) -> Any:
    """Return values [mol/m³] with the draw mark of a model that has one."""
    return as_draws(values) if isinstance(model, Draws) else values
