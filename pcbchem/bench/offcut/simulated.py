"""Does a calibrated band hold the truth? Benches made up, and calibrated by offcuts etched on them.

Each bench gets fresh parameters and bottles that nobody on it knows; on some something is
described wrongly too. `python -m pcbchem.bench.offcut.simulated` runs them again, from a fixed
seed, prints both tables and writes them into the data folder.
"""

from __future__ import annotations

import csv
import dataclasses
import functools
import sys
from collections.abc import Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from importlib import resources
from pathlib import Path
from typing import NamedTuple

import numpy as np

from ...common import tables
from ...common.arrays import FloatArray
from ...common.limits import InputError, collecting_warnings
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.parameters import rows as parameter_rows
from ...reaction.bath.plausible import FACTS, predictions, prior
from ...reaction.bath.setup import Board, Foil, Tray
from ..bottle.bottle import Bottle
from ..plan.outlook import etched
from .board_time import check_calibration, wider
from .calibrating import SPREAD, calibrate
from .likelihood import BottleName, alike_and_rest, bottles_of, expected_times
from .log import Log
from .next_offcut import AREA, BATH, PATIENCE
from .offcut import LARGE, OTHER_TRAY, SAME_TRAY, Offcut

SEED = 7
BENCHES = 1200
"""Benches of each case [-]: a share of them is good to about 1 in 100."""
MISTAKEN_BENCHES = 100
"""Benches of each mistake [-]: a share of them is good to about 5 in 100."""
MOST_OFFCUTS = 3
"""Offcuts on a bench: from 1 to so many, equally often."""
LABELS = ((0.10, 0.12), (0.10, 0.06), (0.15, 0.09))
"""What the labels of acid and peroxide say on a bench, one pair of them [kg/kg]."""
# As `candidates` advises, with more water than the board at times
OFFCUT_WATERS = (0.0, 0.5, 1.0, 2.0)
BOARD_WATERS = (0.0, 0.5, 1.0)
"""Parts of water to one of acid and one of peroxide [-]."""
BOARD_AREA, BOARD_BATH = 27e-4, 150e-6
"""Bare copper of the board [m²] and its bath [m³]."""
BOARD_TRAY = Tray(open_area=150e-4)
"""The tray of the board: its bath lies 10 mm deep."""
EDITION = "second"
"""Edition of the package that runs now, in the table of mistakes."""
PASS = 0.01
"""At least so many of all draws meet the facts [-]."""
LOT = 4000
"""So many draws are tried at a time [-]."""
FIRST_SEED = 9000
"""Seed of number 0 of the benches made up alone [-]: the first thirty are like two hundred."""


class Case(NamedTuple):
    """What benches of one kind have in common: how they are, and what their log says wrongly.

    `area`, `bath`, `tray`: of an offcut [m², m³]. `same_hand`: what is said of hand and tray.
    `transfer`: how far the rate at the board truly lies from that at its offcuts; `stirring_apart`:
    the same of the stirring alone; `noise`: of seen times about the true ones: standard deviations
    of logarithms [-]. `looks_every`: whoever times looks every so often, and writes down when that
    was [s]; 0: sees it at once. `drawn_anew`: parameters drawn from their whole range, whatever the
    facts say. All others are the truth over what the log or the plan says [-]; of the stopwatch it
    is what it shows over the true time.
    """

    name: str
    area: float = AREA
    bath: float = BATH
    tray: Tray = Tray()
    same_hand: bool = False
    transfer: float = OTHER_TRAY
    stirring_apart: float = 0.0
    noise: float = SPREAD
    looks_every: float = 0.0
    drawn_anew: tuple[str, ...] = ()
    offcut_foil: float = 1.0
    board_foil: float = 1.0
    stopwatch: float = 1.0
    peroxide: float = 1.0
    acid: float = 1.0
    offcut_stirring: float = 1.0
    stirring: float = 1.0


CASES = (
    Case("small offcuts in another tray"),
    Case("the same, any size law", drawn_anew=("size_exponent",)),
    Case("a beaker rocked unlike the tray", transfer=0.0, stirring_apart=0.4),
    Case(
        "offcuts of half the board, same tray and hand",
        area=LARGE * BOARD_AREA,
        bath=LARGE * BOARD_BATH,
        tray=BOARD_TRAY,
        same_hand=True,
        transfer=SAME_TRAY,
    ),
)
"""Benches that are described rightly."""
LIKE_THE_BOARD = CASES[3]
# But for the mistake the board is as its offcuts are: no other doubt hides it
RIGHT = LIKE_THE_BOARD._replace(transfer=0.0)
MISTAKES = (
    RIGHT._replace(name="nothing is wrong"),
    RIGHT._replace(name="2 oz foil typed as 1 oz, offcuts", offcut_foil=2.0),
    RIGHT._replace(name="2 oz foil typed as 1 oz, board", board_foil=2.0),
    RIGHT._replace(name="2 oz foil typed as 1 oz, both", offcut_foil=2.0, board_foil=2.0),
    RIGHT._replace(name="stopwatch 20 % fast", stopwatch=1.2),
    RIGHT._replace(name="stopwatch 20 % slow", stopwatch=0.8),
    RIGHT._replace(name="peroxide 30 % above its label", peroxide=1.3),
    RIGHT._replace(name="peroxide 30 % below its label", peroxide=0.7),
    RIGHT._replace(name="acid 30 % below its label", acid=0.7),
    RIGHT._replace(name="offcuts stirred 1.5 times as well", offcut_stirring=1.5),
    RIGHT._replace(name="board stirred 1.5 times as well", offcut_stirring=1 / 1.5),
    RIGHT._replace(name="all stirred 1.5 times as well", stirring=1.5),
    RIGHT._replace(name="all stirred 1.5 times less", stirring=1 / 1.5),
)
"""Benches of which something is described wrongly, and the same without a mistake."""


class MadeUp(NamedTuple):
    """A bench that was made up: `board` not etched yet, `log` of its offcuts as they were seen.

    `strengths`: what is truly in its bottles [kg/kg]; `true`: when the board is truly clear [s].
    """

    board: Offcut
    log: Log
    strengths: dict[BottleName, FloatArray]
    true: float


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
        Whether draws were made anew for the board.
    warned : bool
        Whether anything says that something is wrong.
    """

    offcuts: int
    noise: float
    true: float
    before: tuple[float, float]
    after: tuple[float, float]
    new_draws: bool
    warned: bool

    @property
    def holds(self) -> bool:
        """Whether the calibrated band holds the true time."""
        return self.after[0] <= self.true <= self.after[1]

    @property
    def held_before(self) -> bool:
        """Whether the band before the offcuts holds it."""
        return self.before[0] <= self.true <= self.before[1]


def fresh_parameters(count: int, seed: int, tried: int | None = None) -> list[dict[str, float]]:
    """Draw parameters that meet the four facts, none of them a shipped set.

    Parameters
    ----------
    count, seed, tried : int
        How many [-], the seed, and of how many they are taken: for few of them more than usual.

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
    tried = tried or int(count / PASS)
    draws = prior(tried, np.random.default_rng(seed))
    good: list[int] = []
    # Lot by lot, until there are enough: to try them all would take minutes
    for first in range(0, tried, LOT):
        lot = {name: column[first : first + LOT] for name, column in draws.items()}
        values = predictions(lot)
        meets_all = np.all([fact.met(values[fact.name]) for fact in FACTS], axis=0)
        good += (first + np.flatnonzero(meets_all)).tolist()
        if len(good) >= count:
            break
    if len(good) < count:
        raise RuntimeError(f"only {len(good)} draws meet the facts: {count} are needed")
    benches = []
    for index in good[:count]:
        benches.append({name: float(column[index]) for name, column in draws.items()})
    return benches


def run_bench(parameters: dict[str, float], number: int, case: Case) -> Bench:
    """Etch some offcuts on a made-up bench, calibrate by what is seen, and predict its board.

    Parameters
    ----------
    parameters : dict
        The bench's own parameters [units of the parameters]: nobody on it knows them.
    number : int
        Which bench, for its seed and its number of offcuts.
    case : Case
        What it has in common with others.

    Returns
    -------
    Bench
        True time of the board and its bands [s].
    """
    # By its number alone: whoever runs which bench, and in which order, it comes out the same
    generator = np.random.default_rng([SEED, number])
    labels = LABELS[generator.integers(len(LABELS))]
    waters = [generator.choice(OFFCUT_WATERS) for _ in range(1 + number % MOST_OFFCUTS)]
    water = generator.choice(BOARD_WATERS)
    board, log, _, board_time = _etch_made_up(parameters, generator, case, labels, waters, water)
    with collecting_warnings():
        # Whatever the noise, the bench believes in the spread that `calibrate` takes. What the
        # offcuts themselves are expected to take may be rough here: the board is what counts
        calibration = calibrate(log, few=0.0)
        doubt = calibration.doubt(board.inputs, same_hand=case.same_hand)
        after = wider(etched(board.inputs, **doubt).run.band("time_to_clear"))
    transfer = calibration.transfer(board.inputs, case.same_hand)
    warned = bool(calibration.warnings)
    ends = (float(after.low), float(after.high))
    try:
        check_calibration(calibration)
    except InputError:
        warned, ends = True, (np.inf, 0.0)  # no time is said: no band that holds anything
    return Bench(
        offcuts=len(log.offcuts),
        noise=case.noise,
        true=board_time,
        before=_before(labels, board.parts),
        after=ends,
        new_draws=calibration.for_board(transfer.doubt).new_draws > 0,
        warned=warned,
    )


def made_up(number: int, offcuts: int, case: Case = LIKE_THE_BOARD) -> MadeUp:
    """Make up a bench whose offcuts are etched in the same mixture as its board.

    Parameters
    ----------
    number, offcuts : int
        Which bench, its seed; how many are etched [-]. Of another number of them each differs.
    case : Case
        How they are etched and timed: in another one it is the same bench with other readings.

    Returns
    -------
    MadeUp
        Its log, and the truth [s, kg/kg].

    Examples
    --------
    >>> bench = made_up(1, 2)
    >>> print(len(bench.log.offcuts), bench.board.time)
    2 None
    """
    generator = np.random.default_rng([SEED, number])
    waters = [0.0] * offcuts
    return _etch_made_up(_parameters_of(number), generator, case, LABELS[0], waters, 0.0)


@functools.cache
def _parameters_of(number: int) -> dict[str, float]:
    """Return the parameters of a bench that is made up alone [units of the parameters]."""
    # Of a hundred, once in 200 benches none would meet the facts
    return fresh_parameters(1, FIRST_SEED + number, tried=300)[0]


def _etch_made_up(
    parameters: dict[str, float],
    generator: np.random.Generator,
    case: Case,
    labels: tuple[float, float],
    waters: Sequence[float],
    water: float,
) -> MadeUp:
    """Etch offcuts on a bench of such labels, each with so many parts of water [-]."""
    board = _board(labels, (water, 1, 1))
    like = dataclasses.replace(board, volume=case.bath, board=Board(area=case.area), tray=case.tray)
    offcuts = [dataclasses.replace(like, parts=(parts, 1, 1)) for parts in waters]
    # What is truly in the two bottles; the log says only what the labels do
    strengths = {}
    for name, bottle in bottles_of([board]).items():
        strengths[name] = generator.uniform(bottle.low, bottle.high, 1)
        strengths[name] *= {"HCl": case.acid, "H2O2": case.peroxide}[bottle.substance]
    noises = generator.standard_normal(len(offcuts))
    board_truth, offcut_truth = _truths(parameters, case, generator)
    with collecting_warnings():
        true_times = _true_times(offcuts, offcut_truth, strengths, case.offcut_foil)
        (board_time,) = _true_times([board], board_truth, strengths, case.board_foil)
    seen_times = case.stopwatch * true_times * np.exp(case.noise * noises)
    if case.looks_every:
        # The first look that finds it clear; what was clear long before is not told from it
        seen_times = case.looks_every * np.ceil(seen_times / case.looks_every)
    log = Log.of(map(_as_seen, offcuts, seen_times))
    return MadeUp(board, log, strengths, float(board_time))


def _board(labels: tuple[float, float], parts: tuple[float, float, float]) -> Offcut:
    """Return a board by labels of its bottles [kg/kg] and parts [-], not etched yet."""
    bottles = Bottle.labelled("HCl", labels[0]), Bottle.labelled("H2O2", labels[1])
    board = Board(area=BOARD_AREA)
    return Offcut(*bottles, parts, BOARD_BATH, board, BOARD_TRAY, T_bottles=293.15)


def _truths(
    parameters: dict[str, float], case: Case, generator: np.random.Generator
) -> tuple[dict[str, float], dict[str, float]]:
    """Return the parameters at the board and at its offcuts [units of the parameters]."""
    # All are drawn in every case, so that a bench stays the same bench
    rate_step, stirring_step = generator.standard_normal(2)
    board = dict(parameters)
    for name in case.drawn_anew:
        row = parameter_rows()[name]
        board[name] = generator.uniform(float(row["low"]), float(row["high"]))
    stirring = f"stirring_{BOARD_TRAY.agitation}"
    board[stirring] *= case.stirring
    offcut = dict(board)
    offcut[stirring] *= case.offcut_stirring * np.exp(case.stirring_apart * stirring_step)
    alike, rest = alike_and_rest(case.transfer)
    offcut["rate_factor"] = board["rate_factor"] ** alike * np.exp(rest * rate_step)
    return board, offcut


def _true_times(
    offcuts: Sequence[Offcut],
    parameters: dict[str, float],
    strengths: dict[BottleName, FloatArray],
    foil: float,
) -> FloatArray:
    """Compute when offcuts are truly clear [s], their foil so many times that of the log [-]."""
    truth = []
    for offcut in offcuts:
        areal_mass = np.asarray(offcut.board.foil.areal_mass, dtype=float)
        board = Board(area=offcut.board.area, foil=Foil(areal_mass=foil * areal_mass))
        truth.append(dataclasses.replace(offcut, board=board))
    draws = {name: np.array([value]) for name, value in parameters.items()}
    return expected_times(truth, draws, strengths)[:, 0]


@functools.cache
def _before(labels: tuple[float, float], parts: tuple[float, float, float]) -> tuple[float, float]:
    """Return the band of the board by its labels alone [s]; benches with the same ones share it."""
    with collecting_warnings():
        band = etched(_board(labels, parts).inputs).run.band("time_to_clear")
    return float(band.low), float(band.high)


def _as_seen(offcut: Offcut, time: float) -> Offcut:
    """Return an offcut with its time [s], taken out where it is not clear by then."""
    clear = bool(time <= PATIENCE)
    return dataclasses.replace(offcut, time=float(min(time, PATIENCE)), clear=clear)


def summary_row(benches: list[Bench], case: str, offcuts: str) -> dict[str, str]:
    """Sum up benches of one case, in a row by column.

    It says how often the band holds the truth [%] and how wide it is [-].
    """
    with_time = [bench for bench in benches if bench.after[0] < bench.after[1]]
    widths_before = np.array([_width(bench.before) for bench in with_time])
    widths_after = np.array([_width(bench.after) for bench in with_time])
    return {
        "case": case,
        "noise_percent": f"{100 * benches[0].noise:.0f}",
        "offcuts": offcuts,
        "benches": f"{len(benches)}",
        "covered_percent": _percent([bench.holds for bench in benches]),
        "covered_before_percent": _percent([bench.held_before for bench in benches]),
        # Medians of logarithms: a few bands that end at never do not decide
        "high_over_low_before": f"{np.exp(np.median(widths_before)):.2f}",
        "high_over_low_after": f"{np.exp(np.median(widths_after)):.2f}",
        "narrower_times": f"{np.median(widths_before / widths_after):.2f}",
        "made_percent": _percent([bench.new_draws for bench in benches]),
        "warned_percent": _percent([bench.warned for bench in benches]),
    }


def mistake_row(benches: list[Bench], mistake: str) -> dict[str, str]:
    """Sum up benches with one mistake, in a row by column.

    It says how often the band held the truth, how often a sentence warned, and neither [%].
    """
    return {
        "edition": EDITION,
        "mistake": mistake,
        "benches": f"{len(benches)}",
        "held_percent": _percent([bench.holds for bench in benches]),
        "warned_percent": _percent([bench.warned for bench in benches]),
        "missed_percent": _percent([not bench.holds and not bench.warned for bench in benches]),
    }


def _percent(flags: list[bool]) -> str:
    """Write the share of the true ones [%]."""
    return f"{100 * np.mean(flags):.1f}"


def _width(ends: tuple[float, float]) -> float:
    """Return the width of a band [s] as a logarithm [-], counted up to four hours."""
    low, high = np.minimum(ends, LONGEST)  # or one that ends at never were infinitely wide
    return float(np.log(high / low))


def summary_rows(
    executor: Executor, case: Case, parameters: list[dict[str, float]]
) -> list[dict[str, str]]:
    """Run benches of one case, and sum them up.

    Parameters
    ----------
    executor : Executor
        What runs them side by side.
    case : Case
        What they have in common.
    parameters : list of dict
        One bench for each [units of the parameters].

    Returns
    -------
    list of dict
        A row for each number of offcuts, and one for all [units in the names].
    """
    benches = _run(executor, case, parameters)
    rows = []
    for offcuts in range(1, MOST_OFFCUTS + 1):
        of_number = [bench for bench in benches if bench.offcuts == offcuts]
        rows.append(summary_row(of_number, case.name, str(offcuts)))
    rows.append(summary_row(benches, case.name, f"1-{MOST_OFFCUTS}"))
    return rows


def _run(executor: Executor, case: Case, parameters: list[dict[str, float]]) -> list[Bench]:
    """Run a bench for each set of parameters [units of the parameters]."""
    count = len(parameters)
    return list(executor.map(run_bench, parameters, range(count), [case] * count, chunksize=5))


def main() -> None:
    """Print both tables [%, -] and write them into the package's data folder."""
    parameters = fresh_parameters(BENCHES, SEED)
    # The first edition cannot be run again by this one: its rows stay
    mistakes = [row for row in tables.read("misdescribed_benches") if row["edition"] != EDITION]
    summary: list[dict[str, str]] = []
    with ProcessPoolExecutor() as executor:
        for mistake in MISTAKES:
            benches = _run(executor, mistake, parameters[:MISTAKEN_BENCHES])
            mistakes.append(mistake_row(benches, mistake.name))
        _write("misdescribed_benches", mistakes)
        for case in CASES:
            summary += summary_rows(executor, case, parameters)
        _write("simulated_benches", summary)


def _write(name: str, rows: Sequence[Mapping[str, str]]) -> None:
    """Print a table and write it into the data folder."""
    path = Path(str(resources.files("pcbchem"))) / "data" / f"{name}.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        for stream in (file, sys.stdout):
            writer = csv.DictWriter(stream, rows[0].keys(), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
        sys.stdout.flush()


if __name__ == "__main__":
    main()
