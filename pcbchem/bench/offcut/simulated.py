"""Does a calibrated band hold the truth? Benches made up, and calibrated by offcuts etched on them.

Each bench gets fresh parameters and bottles that nobody on it knows.
`python -m pcbchem.bench.offcut.simulated` runs them again, from a fixed seed, prints the table and
writes it into the data folder.
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

from ...common.limits import collecting_warnings
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.plausible import FACTS, predictions, prior
from ...reaction.bath.setup import Board, Tray
from ..bottle.bottle import Bottle
from ..plan.outlook import etched
from .calibrating import SPREAD, calibrate
from .likelihood import bottles_of, expected_times
from .log import Log
from .next_offcut import AREA, BATH, PATIENCE
from .offcut import Offcut

SEED = 7
BENCHES = 300
"""Benches of each noise [-]: a share of them is good to about 2 in 100."""
MOST_OFFCUTS = 6
"""Offcuts on a bench: from 1 to so many, equally often."""
NOISES = (SPREAD, 0.25)
"""How far seen times scatter, as a standard deviation of their logarithm [-]: as stated, and by a
worse hand."""
LABELS = ((0.10, 0.12), (0.10, 0.06), (0.15, 0.09))
"""What the labels of acid and peroxide say on a bench, one pair of them [kg/kg]."""
# As `candidates` advises, with more water than the board at times
OFFCUT_WATERS = (0.0, 0.5, 1.0, 2.0)
BOARD_WATERS = (0.0, 0.5, 1.0)
"""Parts of water to one of acid and one of peroxide [-]."""
BOARD_AREA, BOARD_BATH = 27e-4, 150e-6
"""Bare copper of the board [m²] and its bath [m³]."""
PASS = 0.01
"""At least so many of all draws meet the facts [-]."""


@dataclasses.dataclass(frozen=True)
class Bench:
    """How one simulated bench came out.

    Parameters
    ----------
    offcuts : int
        How many were etched.
    noise : float
        Standard deviation of the logarithm of a seen time about the true one [-].
    true : float
        When the board is truly clear [s].
    before, after : tuple of float
        Low and high end of its band before and after the offcuts [s].
    new_draws : bool
        Whether draws were made anew.
    """

    offcuts: int
    noise: float
    true: float
    before: tuple[float, float]
    after: tuple[float, float]
    new_draws: bool


def fresh_parameters(count: int, seed: int) -> list[dict[str, float]]:
    """Draw parameters that meet the four facts, none of them a shipped set.

    Parameters
    ----------
    count, seed : int
        How many [-], and the seed.

    Returns
    -------
    list of dict
        Parameter sets [units of the parameters].

    Raises
    ------
    RuntimeError
        Too few draws meet the facts.
    """
    # Another seed than that of the shipped draws: a truth that is one of them would be too easy
    draws = prior(int(count / PASS), np.random.default_rng(seed))
    values = predictions(draws)
    meets_all = np.all([fact.met(values[fact.name]) for fact in FACTS], axis=0)
    good = np.flatnonzero(meets_all)[:count]
    if good.size < count:
        raise RuntimeError(f"only {good.size} draws meet the facts: {count} are needed")
    benches = []
    for index in good:
        benches.append({name: float(column[index]) for name, column in draws.items()})
    return benches


def run_bench(parameters: dict[str, float], number: int, noise: float) -> Bench:
    """Etch some offcuts on a made-up bench, calibrate by what is seen, and predict its board.

    Parameters
    ----------
    parameters : dict
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
    # By its number alone: whoever runs which bench, and in which order, it comes out the same.
    # With another noise it is the same bench with other readings
    generator = np.random.default_rng([SEED, number])
    acid_label, peroxide_label = LABELS[generator.integers(len(LABELS))]
    acid = Bottle.labelled("HCl", acid_label)
    peroxide = Bottle.labelled("H2O2", peroxide_label)

    def bath(water: float, area: float, volume: float) -> Offcut:
        return Offcut(
            acid, peroxide, (water, 1, 1), volume, Board(area=area), Tray(), T_bottles=293.15
        )

    offcuts = []
    for _ in range(1 + number % MOST_OFFCUTS):
        offcuts.append(bath(generator.choice(OFFCUT_WATERS), AREA, BATH))
    board = bath(generator.choice(BOARD_WATERS), BOARD_AREA, BOARD_BATH)
    # What is truly in the two bottles; the log says only what the labels do
    strengths = {}
    for name, bottle in bottles_of([board]).items():
        strengths[name] = generator.uniform(bottle.low, bottle.high, 1)
    draws = {name: np.array([value]) for name, value in parameters.items()}

    with collecting_warnings():
        *true_times, board_time = expected_times([*offcuts, board], draws, strengths)[:, 0]
        seen_times = true_times * np.exp(noise * generator.standard_normal(len(offcuts)))
        etched_offcuts = [
            _as_seen(offcut, time) for offcut, time in zip(offcuts, seen_times, strict=True)
        ]
        # Whatever the noise, the bench believes in the spread that `calibrate` takes
        calibration = calibrate(Log.of(etched_offcuts), seed=number)
        before = etched(board.inputs).run.band("time_to_clear")
        doubt = calibration.doubt(board.inputs)
        after = etched(board.inputs, **doubt).run.band("time_to_clear")
    return Bench(
        offcuts=len(offcuts),
        noise=noise,
        true=float(board_time),
        before=(float(before.low), float(before.high)),
        after=(float(after.low), float(after.high)),
        new_draws=calibration.new_draws > 0,
    )


def _as_seen(offcut: Offcut, time: float) -> Offcut:
    """Return an offcut with its time [s], taken out where it is not clear by then."""
    clear = bool(time <= PATIENCE)
    return dataclasses.replace(offcut, time=float(min(time, PATIENCE)), clear=clear)


def summary_row(benches: list[Bench], offcuts: str) -> dict[str, str]:
    """Sum up benches in a row: how often the band holds the truth [%], how wide it is [-].

    Parameters
    ----------
    benches : list of Bench
        Of one noise.
    offcuts : str
        What to write as their number of offcuts.

    Returns
    -------
    dict of str
        The row by column [units in the names].
    """
    widths_before = np.array([_width(bench.before) for bench in benches])
    widths_after = np.array([_width(bench.after) for bench in benches])
    held_before = [bench.before[0] <= bench.true <= bench.before[1] for bench in benches]
    held_after = [bench.after[0] <= bench.true <= bench.after[1] for bench in benches]
    new_draws = [bench.new_draws for bench in benches]
    return {
        "noise_percent": f"{100 * benches[0].noise:.0f}",
        "offcuts": offcuts,
        "benches": f"{len(benches)}",
        "covered_percent": f"{100 * np.mean(held_after):.1f}",
        "covered_before_percent": f"{100 * np.mean(held_before):.1f}",
        # Medians of logarithms: a few bands that end at never do not decide
        "high_over_low_before": f"{np.exp(np.median(widths_before)):.2f}",
        "high_over_low_after": f"{np.exp(np.median(widths_after)):.2f}",
        "narrower_times": f"{np.median(widths_before / widths_after):.2f}",
        "made_percent": f"{100 * np.mean(new_draws):.0f}",
    }


def _width(ends: tuple[float, float]) -> float:
    """Return the width of a band [s] as a logarithm [-], counted up to four hours."""
    low, high = np.minimum(ends, LONGEST)  # or one that ends at never were infinitely wide
    return float(np.log(high / low))


def summary_table(
    executor: Executor, count: int = BENCHES, noises: Iterable[float] = NOISES
) -> list[dict[str, str]]:
    """Run so many benches for each noise, and sum them up.

    Parameters
    ----------
    executor : Executor
        What runs them side by side.
    count : int
        How many benches [-].
    noises : iterable of float
        Standard deviations of the logarithm of a seen time [-].

    Returns
    -------
    list of dict
        For each noise a row for each number of offcuts, and one for all [units in the names].
    """
    parameters = fresh_parameters(count, SEED)
    rows = []
    for noise in noises:
        same_noise = [noise] * count
        benches = list(executor.map(run_bench, parameters, range(count), same_noise, chunksize=5))
        for offcuts in range(1, MOST_OFFCUTS + 1):
            of_number = [bench for bench in benches if bench.offcuts == offcuts]
            rows.append(summary_row(of_number, str(offcuts)))
        rows.append(summary_row(benches, f"1-{MOST_OFFCUTS}"))
    return rows


def main() -> None:
    """Print the table [%, -] and write it into the package's data folder."""
    with ProcessPoolExecutor() as executor:
        rows = summary_table(executor)
    folder = Path(str(resources.files("pcbchem"))) / "data"
    path = folder / "simulated_benches.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        for stream in (file, sys.stdout):
            writer = csv.DictWriter(stream, rows[0].keys(), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)


if __name__ == "__main__":
    main()
