"""What adding water costs: times and the film at the copper over parts of water, and each effect taken away."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import check_number, check_values
from ...matter.solution import mix
from ...reaction.bath.film_properties import PRESSURE, R
from ...reaction.bath.rate import flux
from ...reaction.bath.setup import Board, Start, Tray
from .inputs import Inputs
from .outlook import etched, poured

WATER = np.arange(101) / 10
"""Parts of water that are computed [-]: by tenths, as far as a plan tries."""
TAKEN = ("gas stirring", "surface heating", "bath heating", "heat of mixing", "depletion")
"""The effects taken away, in this order; the cupric route stays, since without it weak peroxide never clears."""
ALL_ON, ALL_OFF = "all on", "without all five"
ROWS: dict[str, tuple[str, ...]] = {
    ALL_ON: (),
    **{f"without {effect}": (effect,) for effect in TAKEN},
    ALL_OFF: TAKEN,
}
"""What is left out in each row, by the row's name."""
OFFCUT = 4e-4
"""Bare copper of an offcut [m²]: 4 cm²."""
MOST_WEAKER, MOST_PARTS = 100.0, 1000.0  # times, parts of water


@dataclasses.dataclass(frozen=True, eq=False)
class Dilution:
    """What water does to one bath, over W parts of water; the bath over the copper is the same at all of them.

    `given`: the bath without water; `water`: parts of it to the parts of acid and peroxide [-], shape (W,), 0 first;
    `weaker`: how many times weaker both reagents are than without water [-], (W,), by the volumes poured;
    `acid`, `peroxide`: concentration [mol/m³] and `T` of the bath when the board goes in [K], (W,), from bottles of
    middle strength; `times` to clear [s], a band over (W,); `ratio`: time over undiluted time, draw by draw [-], a band
    over (W,), infinite where either never clears; `film`: what `film_at_start` says of these baths, each (W,).
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
        """Which of the parts of water that were computed is nearest to so many [-]."""
        return int(np.argmin(abs(self.water - water)))


def dilution(given: Inputs, water: ArrayLike = WATER) -> Dilution:
    """Add water to a bath, part by part, over all draws: the same draws at each part.

    Parameters
    ----------
    given : Inputs
        The bath without water, fresh and in one portion.
    water : array
        Parts of water to `given.parts` of acid and peroxide [-], 0 to 1000, 0 first and rising.

    Returns
    -------
    Dilution
        Times [s], ratios [-], strengths [mol/m³] and the film [its own units], over the parts of water.

    Raises
    ------
    ValueError
        Water in `given` already, a kept bath or a second portion in it, or parts of water that do not rise from 0.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, Tray
    >>> mild = Inputs(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...               Tray(), bath_per_area=150e-6 / 27e-4, place="EU")
    >>> print(f"{dilution(mild, [0, 1.2]).weaker[1]:.1f}")
    1.6
    """
    added = np.asarray(check_values("water", water, 0.0, MOST_PARTS, "parts"))
    if added.ndim != 1 or not added.size or added[0] != 0 or np.any(np.diff(added) <= 0):
        raise ValueError(
            f"water = {water!r:.80} is impossible: it must be a list of parts that rise from 0, to 1000"
        )
    _plain(given, most_water=0.0)
    parts = np.stack([added, *(np.full(added.size, part) for part in given.parts[1:])], axis=-1)[
        :, None, :
    ]
    times = np.asarray(etched(given, parts=parts).run.time_to_clear)
    middle = {"acid": given.acid.middle, "peroxide": given.peroxide.middle}
    bath = Start.of(mix(*poured(given, parts=parts, drawn=middle).values()))
    acid, peroxide, T = (np.asarray(value)[:, 0] for value in (bath.HCl, bath.H2O2, bath.T))
    return Dilution(
        given,
        added,
        np.asarray(times_weaker(given, added)),
        acid,
        peroxide,
        T,
        Band.of(times, given.draws),
        Band.of(over(times, times[:1]), given.draws),
        film_at_start(acid, peroxide, T, given.board.copper_area, given.tray),
    )


def times_weaker(given: Inputs, water: Any) -> Any:
    """How many times weaker both reagents get by so many parts of water more [-], by the volumes poured."""
    return 1 + water / sum(given.parts)


def over(times: Any, undiluted: Any) -> Any:
    """Time over undiluted time [s both], draw by draw [-]; infinite where either is, since then nothing compares."""
    both = np.isfinite(times) & np.isfinite(undiluted)
    return np.where(both, times, np.inf) / np.where(both, undiluted, 1.0)


def film_at_start(
    acid: ArrayLike, peroxide: ArrayLike, T: ArrayLike, area: ArrayLike, tray: Tray
) -> dict[str, FloatArray]:
    """The liquid film at the copper when the board goes in, with the default parameters and no copper in the bath.

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
        "thickness" D/k_m [m]; "temperature" [K]; "copper" leaving, "peroxide" and "acid" arriving through the film
        [mol/(m² s)]; "oxygen" made at the copper [m³ of gas at the film's temperature and 1 atm per m² and s].

    Raises
    ------
    ValueError
        A value that cannot be.

    Notes
    -----
    Only part of the copper meets its peroxide inside the film: the direct share, the film's two-electron oxidant times
    transfer and surface in series. The rest leaves as Cu(I) and meets peroxide and acid in the bath. So the film
    carries in one peroxide and two acid for each copper of the direct share, and the peroxide that turns to oxygen at
    the copper; `copper` is all that leaves, once to twice the direct share. Chloride is left out of the count.

    Examples
    --------
    >>> film = film_at_start(1400, 1800, 295, 27e-4, Tray())
    >>> print(f"{film['thickness'] * 1e6:.0f} µm")
    75 µm
    """
    seen = flux(acid, peroxide, T, area, tray=tray)
    direct, Ts = seen["direct"], seen["film_temperature"]
    return {
        "thickness": seen["film"],
        "temperature": Ts,
        "copper": seen["copper"],
        "peroxide": direct + seen["decay"],
        "acid": 2 * direct,
        "oxygen": 0.5 * seen["decay"] * R * Ts / PRESSURE,
    }


def times_without(given: Inputs) -> dict[str, Band]:
    """Times to clear with everything on, and without one effect after the other.

    Parameters
    ----------
    given : Inputs
        The bath, with or without water.

    Returns
    -------
    dict of Band
        Times [s], each band a single one, by name: "all on", "without …" for each of `TAKEN`, "without all five".

    Raises
    ------
    ValueError
        A second portion of peroxide in `given`.

    Examples
    --------
    >>> from pcbchem import Board, Bottle
    >>> mild = Inputs(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...               Tray(), bath_per_area=150e-6 / 27e-4, place="EU", draws=40)
    >>> times = times_without(mild)
    >>> print(bool(times["without gas stirring"].middle > times["all on"].middle > times["without depletion"].middle))
    True
    """
    return {
        name: etched(given, without=off).run.band("time_to_clear") for name, off in ROWS.items()
    }


def cost_without(given: Inputs, water: float) -> dict[str, Band]:
    """What water costs with everything on, and without one effect after the other: time with it over time without.

    Parameters
    ----------
    given : Inputs
        The bath without water, fresh and in one portion.
    water : float
        Parts of water to add [-], 0 to 1000.

    Returns
    -------
    dict of Band
        Ratios of times, draw by draw [-], infinite where either never clears; named as for `times_without`.

    Raises
    ------
    ValueError
        Water in `given` already, a kept bath or a second portion in it, or so much water.

    Examples
    --------
    >>> from pcbchem import Board, Bottle
    >>> mild = Inputs(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...               Tray(), bath_per_area=150e-6 / 27e-4, place="EU", draws=40)
    >>> cost = cost_without(mild, 1.2)
    >>> print(bool(cost["all on"].middle > 2 > 1.9 > cost["without gas stirring"].middle))
    True
    """
    _plain(given, 0.0)
    both = with_water(given, check_number("water", water, 0.0, MOST_PARTS, "parts"))
    return {name: ratio(given, both, off) for name, off in ROWS.items()}


def offcuts(given: Inputs, weaker: float) -> Band:
    """The ratio of times to expect of two offcuts, each in a little bath of its own: an experiment that can fail.

    Both are of the board's foil, `OFFCUT` of copper each, and go into fresh baths from the same two bottles, as much
    for their copper as the board's and as deep; one bath is as given, the other has water in it that makes both
    reagents `weaker`.

    Parameters
    ----------
    given : Inputs
        The stronger bath, with or without water, fresh and in one portion.
    weaker : float
        How many times weaker the other bath is [-], 1 to 100.

    Returns
    -------
    Band
        Time in the weaker bath over time in the stronger, draw by draw [-]; infinite where either never clears.

    Raises
    ------
    ValueError
        `weaker` outside its limits, or a kept bath or a second portion in `given`.
    """
    _plain(given)
    times_weaker = check_number("weaker", weaker, 1.0, MOST_WEAKER, "times")
    tray = given.tray
    if tray.open_area is not None:
        shrunk = OFFCUT / float(given.board.copper_area)
        tray = dataclasses.replace(tray, open_area=np.asarray(tray.open_area) * shrunk)
    small = given.replace(board=Board(area=OFFCUT, foil=given.board.foil), tray=tray)
    return ratio(small, with_water(small, times_weaker * sum(given.parts) - sum(given.parts[1:])))


def with_water(given: Inputs, water: float) -> FloatArray:
    """Parts of a bath as given and with so much water, as `etched` takes two variants [-]."""
    return np.array([given.parts, (water, *given.parts[1:])])[:, None, :]


def ratio(given: Inputs, both: FloatArray, without: tuple[str, ...] = ()) -> Band:
    """Time of the second of two variants [parts] over that of the first, draw by draw [-], without some effects."""
    first, then = np.asarray(etched(given, parts=both, without=without).run.time_to_clear)
    return Band.of(over(then, first), given.draws)


def _plain(given: Inputs, most_water: float = np.inf) -> None:
    """Refuse what water cannot be reckoned against: a bath partly used, poured twice, or with more water [parts]."""
    if given.kept is not None or given.second is not None:
        name = "kept" if given.kept is not None else "second"
        raise ValueError(
            f"{name} = {getattr(given, name)!r} is impossible here: it must be None, "
            "both reagents get weaker by the same water only in a fresh bath poured at once"
        )
    if given.parts[0] > most_water:
        raise ValueError(
            f"parts: water = {given.parts[0]:g} is impossible here: it must be {most_water:g}, "
            "the bath before any water is added"
        )
