"""What adding water costs: times and the film at the copper over parts of water.

And what it would cost with one effect after the other taken away, for teaching.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import InputError, check_number, check_values
from ...matter.solution import mix
from ...reaction.bath.film_properties import PRESSURE, R
from ...reaction.bath.rate import flux
from ...reaction.bath.setup import Board, Start, Tray
from .inputs import Inputs
from .outlook import etched
from .pours import poured

WATER = np.arange(101) / 10
"""Parts of water that are computed [-]: by tenths, as far as a plan tries."""
TAKEN = ("gas stirring", "surface heating", "bath heating", "heat of mixing", "depletion")
"""The effects taken away, in this order; the cupric route stays, since without it weak peroxide
never clears."""
ALL_ON, ALL_OFF = "all on", "without all five"
ROWS: dict[str, tuple[str, ...]] = {
    ALL_ON: (),
    **{f"without {effect}": (effect,) for effect in TAKEN},
    ALL_OFF: TAKEN,
}
"""What is left out in each row, by the row's name."""
OFFCUT = 4e-4
"""Bare copper of an offcut [m²]: 4 cm²."""
MOST_WEAKER = 100.0
"""Most times that the weaker of two baths is weaker [-]."""
MOST_PARTS = 1000.0
"""Most parts of water [-]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Dilution:
    """What water does to one bath, over W parts of water, with as much bath over the copper.

    Parameters
    ----------
    given : Inputs
        The bath without water.
    water : array
        Parts of it to the parts of acid and peroxide [-], shape (W,), 0 first.
    weaker : array
        How many times weaker both reagents are than without water, by the volumes poured [-], (W,).
    acid, peroxide : array
        In the bath when the board goes in [mol/m³], (W,), from bottles of middle strength.
    T : array
        Of that bath [K], (W,).
    times : Band
        Times to clear [s], over (W,).
    ratio : Band
        Time over undiluted time, draw by draw [-], over (W,); infinite where either never clears.
    film : dict of array
        What `film_at_start` says of these baths [units there], each (W,).
    """

    given: Inputs
    water: FloatArray
    weaker: FloatArray
    acid: FloatArray
    peroxide: FloatArray
    T: FloatArray
    times: Band
    ratio: Band
    film: dict[str, FloatArray]

    def at(self, water: float) -> int:
        """Return which of the parts of water that were computed is nearest to so many [-]."""
        return int(np.argmin(abs(self.water - water)))


def dilution(inputs: Inputs, water: ArrayLike = WATER) -> Dilution:
    """Add water to a bath, part by part, over all draws: the same draws at each part.

    Parameters
    ----------
    inputs : Inputs
        The bath without water, fresh and in one portion.
    water : array
        Parts of water to the parts of acid and peroxide [-], 0 to 1000, 0 first and rising.

    Returns
    -------
    Dilution
        Times [s], ratios [-], strengths [mol/m³] and the film [its own units], over the parts of
        water.

    Raises
    ------
    InputError
        Water in `inputs` already, a used bath or a second portion in it, or parts of water that do
        not rise from 0.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, Tray
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> mild = Inputs(acid, peroxide, (0, 1, 1), Board(area=27e-4), Tray(), 0.05, place="EU")
    >>> print(f"{dilution(mild, [0, 1.2]).weaker[1]:.1f}")
    1.6
    """
    # the first is the undiluted bath, to which all others are compared
    added = np.asarray(check_values("water", water, 0.0, MOST_PARTS, "parts"))
    if added.ndim != 1 or not added.size or added[0] != 0 or np.any(np.diff(added) <= 0):
        raise InputError(
            "water",
            "it must be a list of parts that rise from 0, to 1000",
            value=water,
            about=f" = {water!r:.80}",
            low=0.0,
            high=MOST_PARTS,
            unit="parts",
        )
    _check_plain(inputs, most_water=0.0)
    parts = with_water(inputs, added)
    times = np.asarray(etched(inputs, parts=parts).run.time_to_clear)
    # strengths and the film are those of one bath: from bottles of middle strength, and so with a
    # draw axis of length 1
    middle = {"acid": inputs.acid.middle, "peroxide": inputs.peroxide.middle}
    bath = Start.of(mix(*poured(inputs, parts=parts, strengths=middle).values()))
    acid, peroxide, T = (np.asarray(value)[:, 0] for value in (bath.HCl, bath.H2O2, bath.T))
    # draw by draw, as a bottle that is strong without water is strong with it
    ratios = over(times, times[:1])
    return Dilution(
        given=inputs,
        water=added,
        weaker=np.asarray(times_weaker(inputs, added)),
        acid=acid,
        peroxide=peroxide,
        T=T,
        times=Band.of(times, inputs.draws),
        ratio=Band.of(ratios, inputs.draws),
        film=film_at_start(acid, peroxide, T, inputs.board.copper_area, inputs.tray),
    )


def times_weaker(inputs: Inputs, water: Any) -> Any:
    """Return how many times weaker both reagents get by so many parts of water more [-].

    By the volumes poured: 1 + water / parts.
    """
    return 1 + water / sum(inputs.parts)


def over(times: Any, undiluted: Any) -> Any:
    """Return time over undiluted time [s both], draw by draw [-].

    Infinite where either is, since then nothing compares.
    """
    is_finite = np.isfinite(times) & np.isfinite(undiluted)
    # over 1 where it is infinite anyway: no inf / inf
    return np.where(is_finite, times, np.inf) / np.where(is_finite, undiluted, 1.0)


def film_at_start(
    acid: ArrayLike, peroxide: ArrayLike, T: ArrayLike, area: ArrayLike, tray: Tray
) -> dict[str, FloatArray]:
    """Find the liquid film at the copper when the board goes in.

    With the default parameters and no copper in the bath.

    Parameters
    ----------
    acid, peroxide : float or array
        HCl and H2O2 in the bath [mol/m³].
    T : float or array
        Temperature of the bath [K].
    area : float or array
        Bare copper [m²].
    tray : Tray
        How the bath moves and which way the copper faces.

    Returns
    -------
    dict of float or array
        "thickness" D/k_m [m]; "temperature" [K]; "copper" leaving, "peroxide" and "acid" arriving
        through the film [mol/(m² s)]; "oxygen" made at the copper [m³ of gas at the film's
        temperature and 1 atm per m² and s].

    Raises
    ------
    InputError
        A value that cannot be.

    Notes
    -----
    Only part of the copper meets its peroxide inside the film: the direct share, the film's
    two-electron oxidant times transfer and surface in series. The rest leaves as Cu(I) and meets
    peroxide and acid in the bath. So the film carries in one peroxide and two acid for each copper
    of the direct share, and the peroxide that turns to oxygen at the copper; `copper` is all that
    leaves, once to twice the direct share. Chloride is left out of the count.

    Examples
    --------
    >>> film = film_at_start(1400, 1800, 295, 27e-4, Tray())
    >>> print(f"{film['thickness'] * 1e6:.0f} µm")
    81 µm
    """
    film = flux(acid, peroxide, T, area, tray=tray)
    direct, decay, temperature = film["direct"], film["decay"], film["film_temperature"]
    return {
        "thickness": film["film"],
        "temperature": temperature,
        "copper": film["copper"],
        "peroxide": direct + decay,
        "acid": 2 * direct,  # Cu + H2O2 + 2 H+
        # two peroxide give one oxygen, a gas of the volume R T / p per mole
        "oxygen": 0.5 * decay * R * temperature / PRESSURE,
    }


def times_without(inputs: Inputs) -> dict[str, Band]:
    """Find times to clear with everything on, and without one effect after the other.

    Parameters
    ----------
    inputs : Inputs
        The bath, with or without water.

    Returns
    -------
    dict of Band
        Times [s], each band a single one, by name: "all on", "without …" for each of `TAKEN`,
        "without all five".

    Raises
    ------
    ValueError
        A second portion of peroxide in `inputs`.

    Examples
    --------
    >>> from pcbchem import Board, Bottle
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> board = Board(area=27e-4)
    >>> mild = Inputs(acid, peroxide, (0, 1, 1), board, Tray(), 0.05, place="EU", draws=40)
    >>> times = times_without(mild)
    >>> rows = ("without gas stirring", "all on", "without depletion")
    >>> slow, usual, quick = (float(times[row].middle) for row in rows)
    >>> print(slow > usual > quick)
    True
    """
    times = {}
    for name, effects in ROWS.items():
        times[name] = etched(inputs, without=effects).run.band("time_to_clear")
    return times


def cost_without(inputs: Inputs, water: float) -> dict[str, Band]:
    """Find what water costs with everything on, and without one effect after the other.

    Parameters
    ----------
    inputs : Inputs
        The bath without water, fresh and in one portion.
    water : float
        Parts of water to add [-], 0 to 1000.

    Returns
    -------
    dict of Band
        Time with the water over time without, draw by draw [-], infinite where either never
        clears; named as for `times_without`.

    Raises
    ------
    InputError
        Water in `inputs` already, a used bath or a second portion in it, or so much water.

    Examples
    --------
    >>> from pcbchem import Board, Bottle
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> board = Board(area=27e-4)
    >>> mild = Inputs(acid, peroxide, (0, 1, 1), board, Tray(), 0.05, place="EU", draws=40)
    >>> cost = cost_without(mild, 1.2)
    >>> print(bool(cost["all on"].middle > 2 > 1.9 > cost["without gas stirring"].middle))
    True
    """
    _check_plain(inputs, most_water=0.0)
    parts = check_number("water", water, 0.0, MOST_PARTS, "parts")
    return {name: ratio(inputs, parts, effects) for name, effects in ROWS.items()}


def offcuts(inputs: Inputs, weaker: float) -> Band:
    """Find the ratio of times to expect of two offcuts: an experiment that can fail.

    Both are of the board's foil, `OFFCUT` of copper each. Each goes into a little fresh bath of its
    own from the same two bottles, as much for its copper as the board's and as deep. One bath is as
    asked, the other has water in it that makes both reagents `weaker`.

    Parameters
    ----------
    inputs : Inputs
        The stronger bath, with or without water, fresh and in one portion.
    weaker : float
        How many times weaker the other bath is [-], 1 to 100.

    Returns
    -------
    Band
        Time in the weaker bath over time in the stronger, draw by draw [-]; infinite where either
        never clears.

    Raises
    ------
    InputError
        `weaker` outside its limits, or a used bath or a second portion in `inputs`.
    """
    _check_plain(inputs)
    times_weaker = check_number("weaker", weaker, 1.0, MOST_WEAKER, "times")
    tray = inputs.tray
    if tray.open_area is not None:  # as deep: the open area shrinks with the copper
        shrunk = OFFCUT / float(inputs.board.copper_area)
        tray = dataclasses.replace(tray, open_area=np.asarray(tray.open_area) * shrunk)
    small = inputs.replace(board=Board(area=OFFCUT, foil=inputs.board.foil), tray=tray)
    # all parts together grow by the factor that both reagents are to get weaker
    _, acid, peroxide = inputs.parts
    water = times_weaker * sum(inputs.parts) - (acid + peroxide)
    return ratio(small, water)


def with_water(inputs: Inputs, water: ArrayLike) -> FloatArray:
    """Return parts of a bath with so much water instead, as `etched` takes variants [-].

    Parameters
    ----------
    inputs : Inputs
        With its parts of acid and peroxide.
    water : array
        Parts of water [-], shape (S,).

    Returns
    -------
    array
        Parts of water, acid and peroxide [-], shape (S, 1, 3).
    """
    _, acid, peroxide = inputs.parts
    amounts = np.asarray(water, dtype=float)
    columns = [amounts, np.full(amounts.size, acid), np.full(amounts.size, peroxide)]
    # the axis in the middle is for the draws
    return np.stack(columns, axis=-1)[:, None, :]


def ratio(inputs: Inputs, water: float, without: tuple[str, ...] = ()) -> Band:
    """Return the time with so much water instead [parts] over the time as asked, draw by draw [-].

    Parameters
    ----------
    inputs : Inputs
        The bath to compare with.
    water : float
        Parts of water in the other [-].
    without : tuple of str
        Effects left out of both.
    """
    # both baths side by side, of the same draws
    parts = with_water(inputs, [inputs.parts[0], water])
    undiluted, times = np.asarray(etched(inputs, parts=parts, without=without).run.time_to_clear)
    return Band.of(over(times, undiluted), inputs.draws)


def _check_plain(inputs: Inputs, most_water: float = np.inf) -> None:
    """Refuse what water cannot be reckoned against: used, poured twice, or with more water [-]."""
    rule = (
        "it must be None, both reagents get weaker by the same water only in a fresh bath "
        "poured at once"
    )
    for name in ("used_bath", "second"):
        value = getattr(inputs, name)
        if value is not None:
            about, wrong = f" = {value!r}", "is impossible here"
            raise InputError(name, rule, value=value, about=about, wrong=wrong)
    water = inputs.parts[0]
    if water > most_water:
        raise InputError(
            "parts",
            f"it must be {most_water:g}, the bath before any water is added",
            value=water,
            about=f": water = {water:g}",
            wrong="is impossible here",
            high=most_water,
        )
