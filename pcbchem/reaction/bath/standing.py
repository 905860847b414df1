"""Leave baths standing for longer, where that tells more: from an hour on to a day, say."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...common.arrays import as_draws
from ...common.limits import collecting_warnings
from .balances import run_constants, slopes
from .bath import LONGEST_STAND, stand
from .parameters import RateParameters
from .run import Standing
from .setup import Start, Tray
from .stepper import OXIDANT, STATES, TEMPERATURE


def stacked(first: RateParameters, second: RateParameters, axes: int) -> RateParameters:
    """Return two sets of parameters on a first axis, before so many axes of the baths [-]."""
    rows = {}
    for name, values in first.values().items():
        missing = (1,) * (axes - np.ndim(values))
        pair = [np.asarray(each) for each in (values, getattr(second, name))]
        stack = np.stack([each.reshape(missing + each.shape) for each in pair])
        rows[name] = as_draws(stack)
    return RateParameters(**rows)


def row_of(standing: Standing, row: int) -> Standing:
    """Return one row of baths that were left standing side by side [K, m³, mol/m³]."""
    fields = {name: getattr(standing, name)[row] for name in Standing.numbers()}
    return Standing(**fields, draws=standing.draws)


def rest_of(start: Start, first: Standing) -> Start:
    """Return what a standing bath holds at the end of its first time [mol/m³, K]."""
    # without a board nothing changes but the peroxide and the temperature
    return dataclasses.replace(start, H2O2=first.peroxide, T=first.temperature)


def may_get_warmer(rest: Start, tray: Tray, parameters: RateParameters, T: Any) -> Any:
    """Return whether standing baths may get warmer than a temperature that is above theirs [K].

    They cannot where they would cool there with all the peroxide that they still hold: on the way
    they only lose some.
    """
    shape = np.shape(T)
    constants = run_constants(rest, None, tray, parameters, (), LONGEST_STAND, shape)
    states = np.zeros((len(STATES), np.size(T)))
    states[OXIDANT] = np.broadcast_to(np.asarray(rest.oxidant), shape).reshape(-1)
    states[TEMPERATURE] = np.asarray(T).reshape(-1)
    change, _ = slopes(constants, states, np.zeros(np.size(T)))
    return (change[TEMPERATURE] > 0).reshape(shape)


def go_on(
    start: Start,
    first: Standing,
    tray: Tray,
    duration: float,
    parameters: RateParameters,
    goes_on: Any,
) -> Standing:
    """Leave baths standing for longer, some of them.

    Parameters
    ----------
    start : Start
        The baths at their start.
    first : Standing
        What they did until now.
    tray : Tray
        Where they stand.
    duration : float
        How much longer [s].
    parameters : RateParameters
        The rate model's parameters.
    goes_on : array of bool
        Which of them go on [-], of the shape of `first`.

    Returns
    -------
    Standing
        Of the whole time [K, m³, mol/m³]; of those that do not go on the peak until now, and NaN.
    """
    shape = np.shape(goes_on)
    draws = first.draws
    whole = {name: np.full(shape, np.nan) for name in Standing.numbers()}
    whole["peak_temperature"] = np.array(first.peak_temperature)
    if goes_on.any():
        # one after the other, without an axis of draws: of each variant others go on
        def flat(value: Any) -> Any:
            return np.broadcast_to(np.asarray(value), shape)[goes_on]

        held = rest_of(start, first).values()
        rest = Start(**{name: flat(value) for name, value in held.items()})
        sizes = {name: getattr(tray, name) for name in ("open_area", "perimeter", "T_air")}
        known = {name: flat(size) for name, size in sizes.items() if size is not None}
        values = {name: flat(value) for name, value in parameters.values().items()}
        with collecting_warnings():  # where its range ends was said of the start
            last = stand(
                rest,
                dataclasses.replace(tray, **known),
                duration,
                RateParameters(**values),
            )
        peak = np.maximum(flat(first.peak_temperature), np.asarray(last.peak_temperature))
        whole["peak_temperature"][goes_on] = peak
        whole["oxygen"][goes_on] = flat(first.oxygen) + np.asarray(last.oxygen)
        whole["peroxide"][goes_on] = np.asarray(last.peroxide)
        whole["temperature"][goes_on] = np.asarray(last.temperature)
    return Standing(**{name: as_draws(values) for name, values in whole.items()}, draws=draws)
