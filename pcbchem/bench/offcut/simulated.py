"""Does a calibrated band hold the truth? Benches made up from fresh draws, calibrated by offcuts etched on them.

`python -m pcbchem.bench.simulated` runs them again, from a fixed seed, prints the table and writes it into the data
folder.
"""

from __future__ import annotations

import csv
import dataclasses
import sys
from collections.abc import Iterable
from concurrent.futures import Executor, ProcessPoolExecutor
from importlib import resources
from pathlib import Path

import numpy as np

from ...common.arrays import FloatArray
from ...common.limits import collecting_warnings
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.plausible import FACTS, predictions, prior
from ...reaction.bath.setup import Board, Tray
from ..bottle.bottle import Bottle
from ..plan.outlook import etched
from .calibrating import SPREAD, calibrate
from .likelihood import Names, bottles, expected
from .log import Log
from .next_offcut import AREA, BATH, PATIENCE
from .offcut import Offcut

SEED = 7
BENCHES = 300
MOST = 6
"""Offcuts on a bench: from 1 to so many, equally often."""
NOISES = (SPREAD, 0.25)
"""How far seen times scatter, as a standard deviation of their logarithm [-]: as stated, and by a worse hand."""
PAIRS = ((0.10, 0.12), (0.10, 0.06), (0.15, 0.09))
"""What the labels of acid and peroxide say on a bench, one pair of them [kg/kg]."""
WATERS, BOARD_WATERS = (0.0, 0.5, 1.0, 2.0), (0.0, 0.5, 1.0)
"""Parts of water to one of acid and one of peroxide [-], for an offcut and for the board."""
BOARD = 27e-4, 150e-6
"""Bare copper of the board [m²] and its bath [m³]."""
PASS = 0.01  # at least so many of all draws meet the facts [-]


@dataclasses.dataclass(frozen=True)
class Bench:
    """How one simulated bench came out: the board's true time [s] and its bands before and after [s].

    `offcuts` etched, `noise` in their times [log, -], `true` time of the board, `before` and `after`: low and high end
    of its band; `made`: whether draws were made anew.
    """

    offcuts: int
    noise: float
    true: float
    before: tuple[float, float]
    after: tuple[float, float]
    made: bool


def truths(count: int, seed: int) -> list[dict[str, float]]:
    """Fresh parameter sets [units of the parameters] that meet the four facts, none of them a shipped one."""
    drawn = prior(int(count / PASS), np.random.default_rng(seed))
    seen = predictions(drawn)
    met = np.flatnonzero(np.all([fact.met(seen[fact.name]) for fact in FACTS], axis=0))[:count]
    if met.size < count:
        raise RuntimeError(f"only {met.size} draws meet the facts: {count} are needed")
    return [{name: float(column[k]) for name, column in drawn.items()} for k in met]


def bench(true: dict[str, float], number: int, noise: float) -> Bench:
    """Etch some offcuts on a made-up bench, calibrate by what is seen, and predict its board.

    Parameters
    ----------
    true : dict
        The bench's own parameters [units of the parameters]: nobody on it knows them.
    number : int
        Which bench, for its seed and its number of offcuts.
    noise : float
        Standard deviation of the logarithm of a seen time about the true one [-].

    Returns
    -------
    Bench
        True time of the board and its bands [s].
    """
    generator = np.random.default_rng([SEED, number])
    labels = PAIRS[generator.integers(len(PAIRS))]
    acid, peroxide = Bottle.labelled("HCl", labels[0]), Bottle.labelled("H2O2", labels[1])

    def bath(water: float, area: float, volume: float) -> Offcut:
        return Offcut(acid, peroxide, (water, 1, 1), volume, Board(area=area), Tray(), 293.15)

    tests = [bath(generator.choice(WATERS), AREA, BATH) for _ in range(1 + number % MOST)]
    board = bath(generator.choice(BOARD_WATERS), *BOARD)
    held: dict[Names, FloatArray] = {
        names: generator.uniform(bottle.low, bottle.high, 1)
        for names, bottle in bottles([board]).items()
    }
    with collecting_warnings():
        *times, real = expected(
            [*tests, board], {name: np.array([value]) for name, value in true.items()}, held
        )[:, 0]
        seen = np.array(times) * np.exp(noise * generator.standard_normal(len(tests)))
        log = Log.of(
            dataclasses.replace(test, time=float(min(time, PATIENCE)), clear=bool(time <= PATIENCE))
            for test, time in zip(tests, seen, strict=True)
        )
        found = calibrate(log, seed=number)
        bands = [
            etched(board.given, **doubt).run.band("time_to_clear")
            for doubt in ({}, found.doubt(board.given))
        ]
    before, after = ((float(band.low), float(band.high)) for band in bands)
    return Bench(len(tests), noise, float(real), before, after, found.made > 0)


def line(benches: list[Bench], offcuts: str) -> dict[str, str]:
    """One row of the table: how often the band holds the truth [%], and how wide it is [-]."""

    def width(ends: tuple[float, float]) -> float:
        low, high = np.minimum(ends, LONGEST)
        return float(np.log(high / low))

    covered, first = (
        100
        * np.mean([band[0] <= b.true <= band[1] for b, band in zip(benches, bands, strict=True)])
        for bands in ([b.after for b in benches], [b.before for b in benches])
    )
    times = np.median([width(b.before) / width(b.after) for b in benches])
    wide, narrow = (
        np.exp(np.median([width(ends) for ends in every]))
        for every in ([b.before for b in benches], [b.after for b in benches])
    )
    return {
        "noise_percent": f"{100 * benches[0].noise:.0f}",
        "offcuts": offcuts,
        "benches": f"{len(benches)}",
        "covered_percent": f"{covered:.1f}",
        "covered_before_percent": f"{first:.1f}",
        "high_over_low_before": f"{wide:.2f}",
        "high_over_low_after": f"{narrow:.2f}",
        "narrower_times": f"{times:.2f}",
        "made_percent": f"{100 * np.mean([b.made for b in benches]):.0f}",
    }


def table(
    executor: Executor, count: int = BENCHES, noises: Iterable[float] = NOISES
) -> list[dict[str, str]]:
    """Run so many benches for each noise [-] and sum them up, a row for each number of offcuts and one for all."""
    drawn = truths(count, SEED)
    rows = []
    for noise in noises:
        every = list(executor.map(bench, drawn, range(count), [noise] * count, chunksize=5))
        rows += [line([b for b in every if b.offcuts == n], str(n)) for n in range(1, MOST + 1)]
        rows.append(line(every, f"1-{MOST}"))
    return rows


def main() -> None:
    """Print the table [%, -] and write it into the package's data folder."""
    with ProcessPoolExecutor() as executor:
        rows = table(executor)
    with (Path(str(resources.files("pcbchem"))) / "data" / "simulated_benches.csv").open(
        "w", newline="", encoding="utf-8"
    ) as file:
        for out in (file, sys.stdout):
            sheet = csv.DictWriter(out, rows[0].keys(), lineterminator="\n")
            sheet.writeheader()
            sheet.writerows(rows)


if __name__ == "__main__":
    main()
