"""One mixture tried on one board, asked for in the units of a page, and whether it is too violent."""

from __future__ import annotations

import dataclasses
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np

from ..matter.arrays import RangeWarning, checked, chosen
from ..matter.solution import Solution, mix
from ..matter.strengths import NOTATIONS, mass_fraction_from
from ..matter.units import ZERO_C, L, between, celsius, hour, mL, mm, percent
from ..reaction.bath import etch, stand
from ..reaction.draws import FACTS
from ..reaction.parameters import RateParameters
from ..reaction.run import Band, EtchRun, Standing
from ..reaction.setup import Board, Foil, Tray

TOO_STRONG = ("undiluted",)
"""Mixtures that a page draws and never measures out."""
WRITTEN = {name.lower(): name for name in NOTATIONS} | {
    "%": "% by weight", "% w/w": "% by weight", "volume": "volume strength", "volumes": "volume strength",
    "vol": "volume strength", "degrees baumé": "degrees Baume", "°bé": "degrees Baume", "°be": "degrees Baume"}
"""How people write a notation, in small letters, and the package's word for it."""
VIOLENT = {"time": 30.0, "etching": 60.0 + ZERO_C, "standing": 75.0 + ZERO_C, "acid": 6000.0, "peroxide": 0.12}
"""Nobody pours past these [s, K, K, mol/m³, kg/kg] (common practice)."""
LITTLE = 0.03  # m³/m², 3 mL/cm²: less bath than this over 1 oz foil heats up (common practice)
POINT = "use a point for decimals: 10.2"


@dataclasses.dataclass(frozen=True, eq=False)
class Trial:
    """What one mixture does to one board: the bath, the run and the bath in the hour after, over all draws.

    `bath` as mixed [kg, K], `board` [m²], `run` the etch with its history [s, K], `after` the bath standing [K, m³],
    `acid` and `peroxide` in the bath [mol/m³], `poured` in all [m³], `T_air` of the room [K],
    `outside`: what the package warned of while mixing and etching [-].
    """

    bath: Solution
    board: Board
    run: EtchRun
    after: Standing
    acid: Any
    peroxide: Any
    poured: float
    T_air: float
    outside: tuple[str, ...] = ()


@contextmanager
def told(name: str) -> Iterator[None]:
    """Let every ValueError inside begin with the input it came from."""
    try:
        yield
    except ValueError as error:
        raise ValueError(f"{name}: {error}") from None


def items(name: str, given: Any, count: int, what: str) -> tuple[Any, ...]:
    """An input of several items, or ValueError that counts them: a decimal comma makes one too many."""
    found = tuple(given) if isinstance(given, tuple | list) else (given,)
    if len(found) != count:
        raise ValueError(f"{name} = {given!r} has {len(found)} item{'s' * (len(found) != 1)}: it must be {what}; "
                         f"{POINT}")
    return found


def number(name: str, value: Any, low: float, high: float, unit: str, *, above: bool = False) -> float:
    """One number of an input [unit], within its limits, or ValueError that names the input."""
    if isinstance(value, tuple | list) or np.ndim(value):
        raise ValueError(f"{name} = {value!r} is impossible: it must be one number; {POINT}")
    return float(checked(name, value, low, high, unit, above=above))


def bottle(name: str, given: Any, substance: str, T: Any, draws: int, seed: int) -> Any:
    """Mass fraction [kg/kg] over the draws in a bottle with a doubtful label, or ValueError that names the input."""
    low, high, notation = items(name, given, 3, "lowest, highest, notation")
    word = WRITTEN.get(notation.strip().lower(), notation) if isinstance(notation, str) else notation
    with told(name):
        low, high = (number(end, v, 0, 1e6, f"in {word}") for end, v in (("lowest", low), ("highest", high)))
        return mass_fraction_from(between(low, high, draws=draws, seed=seed), word, substance, T)


def trial(*, acid: tuple[float, float, str], peroxide: tuple[float, float, str], parts: tuple[float, float, float],
          total_mL: float, board_mm: tuple[float, float], bare_percent: float, foil_oz: float = 1.0,
          agitation: str = "rocked", facing: str = "up", bottles_C: float = 20.0, air_C: float = 20.0,
          draws: int = 200, seed: int = 0) -> Trial:
    """Mix two doubtful bottles, etch a board in the bath, and leave the bath standing for an hour.

    Parameters
    ----------
    acid, peroxide : tuple
        Lowest strength, highest strength and the notation of both [unit of the notation], such as "% by weight", or
        as people write it, such as "%", "vol" or "°Bé".
    parts : tuple
        Water, acid and peroxide, parts by volume [-].
    total_mL : float
        Volume poured in all [mL].
    board_mm : tuple
        Width and height of the board [mm].
    bare_percent : float
        How much of the board is to be etched [%].
    foil_oz : float
        Weight of the foil [oz/ft²].
    agitation, facing : str
        How the bath moves and which way the copper looks, as in `Tray`, in small or capital letters [-].
    bottles_C, air_C : float
        Temperature of bottles and water, and of the air [°C].
    draws, seed : int
        How many plausible baths, and the seed of the bottles' doubt [-].

    Returns
    -------
    Trial
        Everything in SI [K, s, m³], with the doubt on the draw axis.

    Raises
    ------
    ValueError
        A value that cannot be: names the input and its limits.

    Examples
    --------
    >>> mild = trial(acid=(9, 11, "% by weight"), peroxide=(10.2, 12, "% by weight"), parts=(0, 1, 1), total_mL=150,
    ...              board_mm=(75, 60), bare_percent=60)
    >>> print(f"{mild.board.area * 1e4:.0f} cm²")
    27 cm²
    """
    shares = np.asarray(checked("parts", parts, 0, 1000))
    if shares.shape != (3,) or not shares.sum() > 0:
        raise ValueError(f"parts = {parts!r} is impossible: it must be three numbers, water, acid and peroxide, "
                         f"from 0 to 1000 and not all 0; {POINT}")
    poured = number("total_mL", total_mL, 0, 1e6, "mL", above=True) * mL
    volumes = poured * shares / shares.sum()
    sides = [number("board_mm", side, 0, 2000, "mm", above=True) * mm
             for side in items("board_mm", board_mm, 2, "width, height")]
    bare = percent(number("bare_percent", bare_percent, 0, 100, "%", above=True))
    T, T_air = (float(celsius(number(name, value, -20, 100, "°C")))
                for name, value in (("bottles_C", bottles_C), ("air_C", air_C)))
    foil = Foil.ounces(number("foil_oz", foil_oz, 0, 16, "oz/ft²", above=True))
    moved, looks = (v.strip().lower() if isinstance(v, str) else v for v in (agitation, facing))
    tray, parameters = Tray(agitation=moved, facing=looks, T_air=T_air), RateParameters.plausible(draws)
    with warnings.catch_warnings(record=True) as caught:  # a page says these in words, not in a red box with file names
        warnings.simplefilter("always", RangeWarning)
        HCl, H2O2 = (bottle(*label, T, draws, seed + at)
                     for at, label in enumerate((("acid", acid, "HCl"), ("peroxide", peroxide, "H2O2"))))
        bath = mix(Solution.of(volume=volumes[0], T=T), Solution.of(volume=volumes[1], T=T, HCl=HCl),
                   Solution.of(volume=volumes[2], T=T, H2O2=H2O2))
        board = Board(width=sides[0], height=sides[1], bare=bare, foil=foil)
        run = etch(bath, board, tray, parameters, history=True)
        held = bath.concentration("HCl"), bath.concentration("H2O2")
    for other in caught:
        if not issubclass(other.category, RangeWarning):
            warnings.warn_explicit(other.message, other.category, other.filename, other.lineno)
    outside = tuple(dict.fromkeys(str(c.message) for c in caught if issubclass(c.category, RangeWarning)))
    with warnings.catch_warnings():
        # the bath after a hot etch lies outside the range: the page says so in words, from the temperatures themselves
        warnings.simplefilter("ignore", RangeWarning)
        after = stand(run.bath_after, tray, hour, parameters)
    return Trial(bath, board, run, after, *held, poured, T_air, outside)


def violence(tried: Trial) -> list[str]:
    """Why nobody should mix this, one clause a limit passed [s, °C, mol/L, % by weight]; empty if none is."""
    run, bath, limit = tried.run, tried.bath, VIOLENT
    acid, peroxide = (Band.of(v, run.draws).middle for v in (tried.acid, bath.mass_fraction("H2O2")))
    hot = run.band("peak_temperature").high > limit["etching"]
    boils = tried.after.band("peak_temperature").middle > limit["standing"]
    little = bool(hot or boils) and tried.poured / float(tried.board.area) < LITTLE  # type: ignore[arg-type]
    return [why for passed, why in (
        (run.band("time_to_clear").low < limit["time"],
         f"1 bath in 10 clears the board in under {limit['time']:.0f} s"),
        (hot, f"1 bath in 10 passes {limit['etching'] - ZERO_C:.0f} °C while etching"),
        (boils, f"the bath left standing passes {limit['standing'] - ZERO_C:.0f} °C"),
        (acid > limit["acid"], f"acid above {limit['acid'] * L:.0f} mol/L in the bath"),
        (peroxide > limit["peroxide"], f"peroxide above {100 * limit['peroxide']:.0f} % by weight in the bath"),
        (little, "too little bath for this much copper: it heats up")) if passed]


def curve_only(name: str = "undiluted", draws: int = 200) -> EtchRun:
    """The run of a mixture that is too strong to measure out, for a curve against the share of foil left.

    Parameters
    ----------
    name : str
        One of `TOO_STRONG`: the bottles as full as their labels, on the scrap of foil of the leave-one-out table.
    draws : int
        How many plausible baths [-].

    Returns
    -------
    EtchRun
        With history [s]; a page shows its times and shares of foil, and no amount.

    Raises
    ------
    ValueError
        An unknown name.

    Examples
    --------
    >>> print(bool(curve_only(draws=5).band("time_to_clear").high < 60))
    True
    """
    fact = next(f for f in FACTS if f.name == chosen("name", name, TOO_STRONG))
    return etch(fact.bath, fact.board, Tray(), RateParameters.plausible(draws), history=True)
