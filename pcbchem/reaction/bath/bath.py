"""The bath in time: `etch` a board in it, and let it `stand` afterwards."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...common.arrays import common_shape
from ...common.limits import InputError, Range, check_values, warn_outside
from ...matter.solution import Solution
from .balances import composition, flat, oxygen_made, run_constants, slopes
from .film import converge
from .film_properties import PRESSURE, R
from .parameters import RateParameters
from .rate import EFFECTS, switched_off
from .run import EtchRun, Standing, marked
from .setup import Board, Start, Tray, check_fits
from .stepper import OXIDANT, POOL, TEMPERATURE, Course, of_some, solve

LONGEST = 14_400.0
"""Longest run [s]: a bath that has not cleared by then is said never to."""
LONGEST_STAND = 1e5
"""Longest time that a bath can be left standing [s]: a day and more."""
TOLERANCE = 2e-3
"""Error allowed a step, as a share of each state's scale [-]: 99 % of baths within 0.5 %."""
CHECKED = (
    Range("temperature", 278.15, 333.15, "K"),
    Range("HCl", 0.0, 6000.0, "mol/m³"),
    Range("H2O2", 0.0, 5000.0, "mol/m³"),
    Range("dissolved copper", 0.0, 1500.0, "mol/m³"),
)
"""Where the model was checked."""


def etch(
    bath: Solution | Start,
    board: Board,
    tray: Tray | None = None,
    parameters: RateParameters | None = None,
    without: str | tuple[str, ...] = (),
    history: bool = False,
    *,
    longest: float = LONGEST,
    tolerance: float = TOLERANCE,
) -> EtchRun:
    """Etch a board in a bath until its copper is gone, or for four hours.

    Parameters
    ----------
    bath : Solution or Start
        What is in the tray when the board goes in; arrays make many baths at once.
    board : Board
        Bare copper and foil.
    tray : Tray
        How the bath moves, which way the board faces, open area and air; by default rocked, facing
        up.
    parameters : RateParameters
        The rate model's parameters; `RateParameters.plausible(200)` puts its doubt on the draw
        axis.
    without : str or tuple of str
        Effects left out for teaching, from `EFFECTS` ("heat of mixing" belongs to `mix`).
    history : bool
        Keep every step, so that the run can be read `at` any time.
    longest : float
        When to take the board out, clear or not [s], above 0 to 14 400.
    tolerance : float
        Error allowed a step [-], 1e-9 to 0.1: smaller is slower.

    Returns
    -------
    EtchRun
        Arrays of the broadcast shape.

    Raises
    ------
    ValueError
        A bath of volume 0, of hardly any depth or with lye in it, a board larger than the tray, an
        unknown effect, draws of two lengths.

    Examples
    --------
    >>> from pcbchem import Board, Foil, Solution, etch
    >>> bath = Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06)
    >>> run = etch(bath, Board(area=27e-4, foil=Foil.ounces(1)))
    >>> print(f"{run.stopped_by}")
    copper gone
    """
    start = checked_start(bath)
    tray, parameters = checked_tray(tray), checked_parameters(parameters)
    check_values("tolerance", tolerance, 1e-9, 0.1)
    warn_outside_checked("etch", start)
    names = switched_off(without)
    # a bath is mixed before it comes here: its heat of mixing is in its temperature already
    if "heat of mixing" in names:
        raise InputError(
            "without",
            "mix with heat=False instead",
            value="heat of mixing",
            wrong="is impossible here",
            hint=f"etch takes {', '.join(name for name in EFFECTS if name != 'heat of mixing')}",
        )
    if not isinstance(board, Board):
        raise InputError(
            "board",
            "give Board(width, height, bare) or Board(area=)",
            value=board,
            about=f" = {board!r}",
            wrong="is not a board",
        )
    check_fits(board, tray)
    # from here on a scenario is one number in a row; the result is put back in this shape
    shape, draws = run_shape(start, tray, parameters, area=board.area, foil=board.foil.amount)
    longest = _checked_time("longest", longest, LONGEST)
    constants = run_constants(start, board, tray, parameters, names, longest, shape)
    course = _solve(constants, start, shape, longest, tolerance, history)
    return EtchRun.from_course(constants, start, board, shape, draws, course)


def stand(
    bath: Solution | Start,
    tray: Tray | None = None,
    duration: Any = 3600.0,
    parameters: RateParameters | None = None,
    *,
    tolerance: float = TOLERANCE,
) -> Standing:
    """Leave a bath in its tray with no board: Cu(II) goes on turning its peroxide into oxygen.

    Parameters
    ----------
    bath : Solution or Start
        The bath, for instance `EtchRun.bath_after`.
    tray : Tray
        Open area and air.
    duration : float
        How long [s], above 0 to 100 000.
    parameters : RateParameters
        The rate model's parameters.
    tolerance : float
        Error allowed a step [-].

    Returns
    -------
    Standing
        Peak and last temperature [K], oxygen given off [m³ at 1 atm and the air's temperature],
        peroxide left [mol/m³].

    Raises
    ------
    ValueError
        A bath of volume 0 or with lye in it, an impossible duration, draws of two lengths.

    Examples
    --------
    >>> from pcbchem import Solution, stand
    >>> bath = Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06, CuCl2=0.01)
    >>> print(f"{stand(bath).oxygen * 1000:.1f} L of oxygen in an hour")
    2.8 L of oxygen in an hour
    """
    start = checked_start(bath)
    tray, parameters = checked_tray(tray), checked_parameters(parameters)
    check_values("tolerance", tolerance, 1e-9, 0.1)
    warn_outside_checked("stand", start)
    seconds = _checked_time("duration", duration, LONGEST_STAND)
    shape, draws = run_shape(start, tray, parameters)
    constants = run_constants(start, None, tray, parameters, (), seconds, shape)
    course = _solve(constants, start, shape, seconds, tolerance, False)
    oxidant = course.ends[OXIDANT]
    # no copper goes in: whatever oxidant is missing has become oxygen
    moles = oxygen_made(start, shape, oxidant, 0.0)
    return Standing(
        peak_temperature=marked(course.peaks, shape, draws),
        oxygen=marked(moles * R * constants["room"] / PRESSURE, shape, draws),
        peroxide=marked(composition(constants, 0.0, oxidant).peroxide, shape, draws),
        temperature=marked(course.ends[TEMPERATURE], shape, draws),
        draws=draws,
    )


def _solve(
    constants: dict[str, Any],
    start: Start,
    shape: tuple[int, ...],
    longest: float,
    tolerance: float,
    history: bool,
) -> Course:
    """Solve from the start, with the film at rest where there is a board."""
    count = int(np.prod(shape))
    states = np.zeros((4, count))
    states[OXIDANT], states[TEMPERATURE] = flat(start.oxidant, shape), flat(start.T, shape)
    warmth = np.zeros(count)
    if constants["etches"]:
        # the film is at rest at once, long before the bath changes: in lots that fit the cache
        lots = []
        for first in range(0, count, POOL):
            part = slice(first, first + POOL)
            c = of_some(constants, part)
            lots.append((c, composition(c, 0.0, states[OXIDANT, part]), states[TEMPERATURE, part]))
        # `warmth[:0]` is nothing, but stands for an array of no scenarios at all
        warmth = np.concatenate([warmth[:0], *converge(lots)])
    return solve(constants, states, warmth, slopes, longest, tolerance, history)


def run_shape(
    start: Start, tray: Tray, parameters: RateParameters, **more: Any
) -> tuple[tuple[int, ...], int | None]:
    """Return the shape of all that goes into a run, and the length of its draw axis."""
    named = start.values() | more | parameters.values()
    # what nobody gave has no shape of its own
    if tray.open_area is not None:
        named["open_area"] = tray.open_area
    if tray.T_air is not None:
        named["T_air"] = tray.T_air
    if tray.perimeter is not None:
        named["perimeter"] = tray.perimeter
    return common_shape(**named)


def checked_start(bath: Any) -> Start:
    """Return what a bath holds at the start, or raise for what is no bath."""
    if isinstance(bath, Solution):
        return Start.of(bath)
    if isinstance(bath, Start):
        return bath
    raise InputError(
        "bath",
        "give a Solution, from mix or Solution.of",
        value=bath,
        about=f" = {bath!r}",
        wrong="is not a bath",
    )


def checked_tray(tray: Any) -> Tray:
    """Return the tray, by default rocked and facing up."""
    if tray is None:
        return Tray()
    if isinstance(tray, Tray):
        return tray
    raise InputError(
        "tray",
        "give Tray(agitation=, facing=)",
        value=tray,
        about=f" = {tray!r}",
        wrong="is not a tray",
    )


def checked_parameters(parameters: Any) -> RateParameters:
    """Return the rate parameters, by default those of the table."""
    if parameters is None:
        return RateParameters()
    if isinstance(parameters, RateParameters):
        return parameters
    raise InputError(
        "parameters",
        "give RateParameters() or .plausible(200)",
        value=parameters,
        about=f" = {parameters!r}",
        wrong="is not known",
    )


def warn_outside_checked(reader: str, start: Start) -> None:
    """Give one warning where a bath is outside what the model was checked for [mol/m³, K]."""
    values = (start.T, start.HCl, start.H2O2, start.CuCl2 + start.CuCl)
    warn_outside(reader, *zip(CHECKED, values, strict=True), stacklevel=4)


def _checked_time(name: str, value: Any, most: float) -> float:
    """Return one time [s], above 0 to the most."""
    if np.ndim(value):
        raise InputError(
            name,
            f"it must be one number, above 0 to {most:g} s",
            value=value,
            about=f" = {value!r}",
            high=most,
            unit="s",
        )
    return float(check_values(name, value, 0.0, most, "s", above=True))
