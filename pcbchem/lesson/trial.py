"""One mixture tried on one board, asked for in the lab's own units as a page's cell of inputs writes them."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ..matter.arrays import checked, chosen
from ..matter.solution import Solution, mix
from ..matter.strengths import mass_fraction_from
from ..matter.units import between, celsius, mL, mm, percent
from ..reaction.bath import Start, etch, stand
from ..reaction.draws import FACTS
from ..reaction.parameters import RateParameters
from ..reaction.run import EtchRun, Standing
from ..reaction.setup import Board, Foil, Tray

HOUR = 3600.0  # s
TOO_STRONG = ("undiluted",)
"""Mixtures that a page draws and never measures out."""


@dataclasses.dataclass(frozen=True, eq=False)
class Trial:
    """What one mixture does to one board: the bath, the run and the bath in the hour after, over all draws.

    `bath` as mixed [kg, K], `board` [m²], `run` the etch with its history [s, K], `after` the bath standing [K, m³].
    """

    bath: Solution
    board: Board
    run: EtchRun
    after: Standing


def trial(*, acid: tuple[float, float, str], peroxide: tuple[float, float, str], parts: tuple[float, float, float],
          total_mL: float, board_mm: tuple[float, float], bare_percent: float, foil_oz: float = 1.0,
          agitation: str = "rocked", facing: str = "up", bottles_C: float = 20.0, air_C: float = 20.0,
          draws: int = 200, seed: int = 0) -> Trial:
    """Mix two doubtful bottles, etch a board in the bath, and leave the bath standing for an hour.

    Parameters
    ----------
    acid, peroxide : tuple
        Lowest strength, highest strength and the notation of both [unit of the notation], such as "% by weight".
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
        How the bath moves and which way the copper looks, as in `Tray` [-].
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
        A value that cannot be: names it and its limits.

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
                         "from 0 to 1000 and not all 0")
    T = celsius(bottles_C)
    volumes = checked("total_mL", total_mL, 0, 1e6, "mL", above=True) * mL * shares / shares.sum()
    strengths = {}
    for at, (substance, (low, high, notation)) in enumerate((("HCl", acid), ("H2O2", peroxide))):
        value = between(low, high, draws=draws, seed=seed + at)
        strengths[substance] = mass_fraction_from(value, notation, substance, T)
    bath = mix(Solution.of(volume=volumes[0], T=T), Solution.of(volume=volumes[1], T=T, HCl=strengths["HCl"]),
               Solution.of(volume=volumes[2], T=T, H2O2=strengths["H2O2"]))
    board = Board(width=board_mm[0] * mm, height=board_mm[1] * mm, bare=percent(bare_percent),
                  foil=Foil.ounces(foil_oz))
    tray, parameters = Tray(agitation=agitation, facing=facing, T_air=celsius(air_C)), RateParameters.plausible(draws)
    run = etch(bath, board, tray, parameters, history=True)
    return Trial(bath, board, run, stand(run.bath_after, tray, HOUR, parameters))


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
    bath: dict[str, Any] = {field: np.float64(getattr(fact, field)) for field in ("HCl", "H2O2", "T", "volume")}
    return etch(Start(**bath), Board(area=fact.area, foil=Foil.ounces(1)), Tray(), RateParameters.plausible(draws),
                history=True)
