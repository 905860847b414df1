"""What a room and the air near you hold of a gas: closed forms for one surface that gives it off.

A surface gives off g (x_s − x), with g its transfer times its area [m³/s] and x_s the share over
it; the room of volume V mixes, and fresh air F takes gas away. Shares are mol of gas per mol of
air. F = 0 is a room with no fresh air at all.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.limits import check_values
from ...common.units import hour
from .surface import AIR_SPEEDS

NEAR = 0.5
"""How far from the surface a head is [m]: half an arm."""
MOST_STREAM = 100.0
"""Most of g and F [m³/s]."""
VOLUMES = (0.1, 1e5)
"""Rooms [m³]."""
LONGEST = 1e7
"""Longest time [s]: four months."""
SERIES = 1e-4
"""Below this the exponent of a room is next to nothing [-], and a series takes its place."""


def exhausted(rate: ArrayLike, time: ArrayLike) -> Any:
    """Return (1 − e^(−a t))/a, which is t where nothing is taken away.

    Parameters
    ----------
    rate : float or array
        a, how fast the air of the room is renewed [1/s], 0 allowed.
    time : float or array
        t [s].

    Returns
    -------
    float or array
        [s].

    Examples
    --------
    >>> print(f"{exhausted(0.0, 900.0):.0f} {exhausted(0.01, 900.0):.0f}")
    900 100
    """
    rate, time = np.asanyarray(rate, dtype=float), np.asanyarray(time, dtype=float)
    # where the rate is 0 any other stands in for it: its result is not taken
    divisor = np.where(rate > 0, rate, 1.0)
    return np.where(rate > 0, -np.expm1(-divisor * time) / divisor, time)[()]


def exhausted_twice(rate: ArrayLike, time: ArrayLike) -> Any:
    """Return the integral of `exhausted` over time, (t − (1 − e^(−a t))/a)/a.

    Parameters
    ----------
    rate, time : float or array
        As in `exhausted` [1/s, s].

    Returns
    -------
    float or array
        [s²].

    Examples
    --------
    >>> print(f"{exhausted_twice(0.0, 900.0):.0f} {exhausted_twice(0.01, 900.0):.0f}")
    405000 80001
    """
    rate, time = np.asanyarray(rate, dtype=float), np.asanyarray(time, dtype=float)
    exponent = rate * time
    # a small difference of large numbers would be left of t − (1 − e^(−a t))/a
    series = time**2 / 2 * (1 - exponent / 3 + exponent**2 / 12)
    divisor = np.where(exponent > SERIES, rate, 1.0)
    exact = (time - exhausted(divisor, time)) / divisor
    return np.where(exponent > SERIES, exact, series)[()]


def fresh_air(volume: ArrayLike, air_changes: ArrayLike, mixing: ArrayLike = 1.0) -> Any:
    """Return the fresh air of a room that counts, m V n/3600.

    Parameters
    ----------
    volume : float or array
        Volume of the room [m³], 0.1 to 100 000.
    air_changes : float or array
        Air changes n [1/h], 0 to 1000.
    mixing : float or array
        Share m of it that mixes with the air of the room [-], above 0 to 1.

    Returns
    -------
    float or array
        Fresh air [m³/s].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{3600 * fresh_air(30, 0.35):.1f} m³/h")
    10.5 m³/h
    """
    volume = check_values("volume", volume, *VOLUMES, "m³")
    air_changes = check_values("air_changes", air_changes, 0.0, 1000.0, "1/h")
    mixing = check_values("mixing", mixing, 0.0, 1.0, above=True)
    return mixing * volume * air_changes / hour


def _surface(stream: Any, share: Any) -> tuple[Any, Any]:
    """Return the numbers of a surface, checked [m³/s, mol/mol]."""
    return (
        check_values("stream", stream, 0.0, MOST_STREAM, "m³/s"),
        check_values("share", share, 0.0, 1.0, "mol/mol"),
    )


def _checked(stream: Any, share: Any, air: Any, volume: Any, open_for: Any) -> tuple[Any, ...]:
    """Return the numbers of a room and its surface, checked [m³/s, mol/mol, m³/s, m³, s]."""
    return (
        *_surface(stream, share),
        check_values("air", air, 0.0, MOST_STREAM, "m³/s"),
        check_values("volume", volume, *VOLUMES, "m³"),
        check_values("open_for", open_for, 0.0, LONGEST, "s"),
    )


def room_share(
    time: ArrayLike,
    stream: ArrayLike,
    share: ArrayLike,
    air: ArrayLike,
    volume: ArrayLike,
    open_for: ArrayLike,
) -> Any:
    """Return what a room holds of a gas, at a time after a surface was opened in clean air.

    It rises to x_s g/(g + F), x = x_end (1 − e^(−(g + F) t/V)), and falls as e^(−F t/V) once the
    surface is covered.

    Parameters
    ----------
    time : float or array
        Since the surface was opened [s], 0 to 1e7.
    stream : float or array
        Transfer times area, g [m³/s], 0 to 100.
    share : float or array
        Right over the surface, x_s [mol/mol], 0 to 1.
    air : float or array
        Fresh air F [m³/s], 0 to 100.
    volume : float or array
        Volume of the room [m³], 0.1 to 100 000.
    open_for : float or array
        How long it is open [s], 0 to 1e7.

    Returns
    -------
    float or array
        Share in the room [mol/mol].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1e6 * room_share(600, 4e-5, 0.02, 0.003, 30, 900):.1f} ppm")
    15.5 ppm
    """
    time = check_values("time", time, 0.0, LONGEST, "s")
    g, x_s, F, V, T = _checked(stream, share, air, volume, open_for)
    risen = g * x_s / V * exhausted((g + F) / V, np.minimum(time, T))
    return risen * np.exp(-F / V * np.maximum(time - T, 0.0))


def _dose(time: Any, g: Any, x_s: Any, F: Any, V: Any, T: Any) -> Any:
    """Return the integral of the room's share from 0 to a time [s mol/mol]."""
    rising = g * x_s / V * exhausted_twice((g + F) / V, np.minimum(time, T))
    highest = g * x_s / V * exhausted((g + F) / V, T)
    return rising + highest * exhausted(F / V, np.maximum(time - T, 0.0))


def mean_share(
    begin: ArrayLike,
    end: ArrayLike,
    stream: ArrayLike,
    share: ArrayLike,
    air: ArrayLike,
    volume: ArrayLike,
    open_for: ArrayLike,
) -> Any:
    """Return what a room holds of a gas on average between two times.

    Parameters
    ----------
    begin, end : float or array
        Since the surface was opened [s], 0 to 1e7, the end after the beginning.
    stream, share, air, volume, open_for : float or array
        As in `room_share` [m³/s, mol/mol, m³/s, m³, s].

    Returns
    -------
    float or array
        Mean share in the room [mol/mol].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1e6 * mean_share(0, 900, 4e-5, 0.02, 0.003, 30, 900):.1f} ppm")
    11.6 ppm
    """
    begin = check_values("begin", begin, 0.0, LONGEST, "s")
    end = check_values("end", end, 0.0, LONGEST, "s")
    span = check_values("end − begin", end - begin, 0.0, LONGEST, "s", above=True)
    values = _checked(stream, share, air, volume, open_for)
    return (_dose(end, *values) - _dose(begin, *values)) / span


def time_above(
    limit: ArrayLike,
    stream: ArrayLike,
    share: ArrayLike,
    air: ArrayLike,
    volume: ArrayLike,
    open_for: ArrayLike,
) -> Any:
    """Return how long a room holds more of a gas than a limit.

    Parameters
    ----------
    limit : float or array
        Share that counts [mol/mol], above 0 to 1.
    stream, share, air, volume, open_for : float or array
        As in `room_share` [m³/s, mol/mol, m³/s, m³, s].

    Returns
    -------
    float or array
        Time above it [s]; infinite without fresh air, 0 where it is never reached.

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{time_above(5e-6, 4e-5, 0.02, 0.003, 30, 900) / 60:.0f} min")
    266 min
    """
    limit = check_values("limit", limit, 0.0, 1.0, "mol/mol", above=True)
    g, x_s, F, V, T = _checked(stream, share, air, volume, open_for)
    rate = (g + F) / V
    pace = g * x_s / V
    highest = pace * exhausted(rate, T)
    is_above = highest > limit
    # where it is never reached 1 stands in for what would have no logarithm
    pace_above = np.where(is_above, pace, 1.0)
    lack = np.where(is_above, limit * rate / pace_above, 0.0)
    rate_above = np.where(rate > 0, rate, 1.0)
    passed = np.where(rate > 0, -np.log1p(-lack) / rate_above, limit / pace_above)
    ratio = np.where(is_above, highest / limit, 1.0)
    air_above = np.where(F > 0, F, 1.0)
    falling = np.where(F > 0, V * np.log(ratio) / air_above, np.inf)
    return np.where(is_above, T - passed + falling, 0.0)[()]


def steady_share(stream: ArrayLike, share: ArrayLike, air: ArrayLike) -> Any:
    """Return what a room comes to hold of a gas if the surface is never covered, x_s g/(g + F).

    Parameters
    ----------
    stream, share, air : float or array
        As in `room_share` [m³/s, mol/mol, m³/s]; one of the streams above 0.

    Returns
    -------
    float or array
        Share in the room [mol/mol].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1e6 * steady_share(4e-5, 0.02, 0.003):.0f} ppm")
    263 ppm
    """
    g, x_s = _surface(stream, share)
    F = check_values("air", air, 0.0, MOST_STREAM, "m³/s")
    total = check_values("stream + air", g + F, 0.0, 2 * MOST_STREAM, "m³/s", above=True)
    return x_s * g / total


def beside_you(air_speed: ArrayLike) -> Any:
    """Return the air that passes by near a surface: half of a half sphere's surface times speed.

    Parameters
    ----------
    air_speed : float or array
        Speed of the air [m/s], 0.01 to 3.

    Returns
    -------
    float or array
        Air between near and far [m³/s].

    Raises
    ------
    InputError
        A speed outside its limits.

    Examples
    --------
    >>> print(f"{beside_you(0.1):.3f}")
    0.079
    """
    speed = check_values("air_speed", air_speed, *AIR_SPEEDS, "m/s")
    return 0.5 * 2 * np.pi * NEAR**2 * speed


def near_share(
    stream: ArrayLike, share: ArrayLike, room: ArrayLike, air_speed: ArrayLike = 0.1
) -> Any:
    """Return what there is of a gas half a metre from a surface: two zones, near and far.

    x_near = (g x_s + β x)/(g + β), with β of `beside_you`: never more than over the surface.

    Parameters
    ----------
    stream, share : float or array
        As in `room_share` [m³/s, mol/mol].
    room : float or array
        Share in the room [mol/mol], 0 to 1; 0 in the open air.
    air_speed : float or array
        Speed of the air [m/s], 0.01 to 3.

    Returns
    -------
    float or array
        Share where you breathe [mol/mol].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1e6 * near_share(4e-5, 0.02, 0.0):.1f} ppm")
    10.2 ppm
    """
    g, x_s = _surface(stream, share)
    x = check_values("room", room, 0.0, 1.0, "mol/mol")
    beside = beside_you(air_speed)
    return (g * x_s + beside * x) / (g + beside)


def air_needed(
    stream: ArrayLike, share: ArrayLike, limit: ArrayLike, beside: ArrayLike = np.inf
) -> Any:
    """Return the fresh air that would hold a room at a limit in the long run, by vapour alone.

    F = g (x_s − limit)/limit, and NaN where not even the air at the surface holds so much, for 0
    would read as no air being needed. Near the surface there is more than in the room, so the room
    has to hold less: limit − g (x_s − limit)/β in place of the limit. It is no permission:
    chlorine, mist and a spill are not in it.

    Parameters
    ----------
    stream, share : float or array
        As in `room_share` [m³/s, mol/mol].
    limit : float or array
        Share to hold [mol/mol], above 0 to 1.
    beside : float or array
        Air that passes by near you, β of `beside_you` [m³/s]; infinite: for the room alone.

    Returns
    -------
    float or array
        Fresh air [m³/s]; NaN where not even the air at the surface holds so much, infinite where no
        air of a room brings it down near you.

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{3600 * air_needed(4e-5, 0.02, 5e-6):.0f} m³/h")
    576 m³/h
    """
    g, x_s = _surface(stream, share)
    limit = check_values("limit", limit, 0.0, 1.0, "mol/mol", above=True)
    beyond = np.maximum(x_s - limit, 0.0)
    in_room = limit - g * beyond / beside
    within = np.where(in_room > 0, in_room, limit)
    needed = np.where(in_room > 0, g * (x_s - within) / within, np.inf)
    return np.where(beyond > 0, needed, np.nan)[()]
