"""Which offcut to etch next: how much each test is expected to narrow the band of one's board."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray
from ...common.band import Band
from ...common.limits import (
    InputError,
    check_choice,
    check_number,
    collecting_warnings,
    naming,
)
from ...common.number_words import clock, ratio_of
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import DEPTH, ROOM, Board
from ..hazards.caution import Caution, method_cautions
from ..plan.inputs import Inputs
from ..plan.planning import Plan
from .board_time import check_calibration, judged_inputs
from .calibration import Calibration
from .likelihood import bottles_of, expected_times, likelihood_of_time
from .new_draws import picks
from .offcut import Offcut

PATIENCE = 1800.0
"""An offcut that is not clear by then is taken out [s]: half an hour (common practice)."""
OUTCOMES = 60
"""How many of the times that a test may take are tried [-]."""
NOISES = 1000
"""From so many random numbers the noise in these times is taken [-]."""
AREA, BATH = 4e-4, 30e-6
"""Bare copper of an offcut [m²] and its bath [m³], where nobody says: 4 cm² in 30 mL."""
LITTLE = 100e-6
"""A test may always have so much bath [m³]: 100 mL."""
WATER = (0.0, 0.5, 1.0, 2.0)
"""Parts of water more than the board's bath that are tried [-]."""
ROUNDING = 1e-9
"""A test may be fiercer by so little [-]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Narrowing:
    """What a test is expected to teach about a board.

    Parameters
    ----------
    offcut : Offcut
        The test.
    time : Band
        When it is expected to be clear, a single band [s].
    share : float
        How wide the board's band is expected to be afterwards, over how wide it is now, both as
        powers of the time [-]: 0.5 is half as wide.
    """

    offcut: Offcut
    time: Band
    share: float

    @property
    def words(self) -> str:
        """The test and what it would teach, in words [parts, min, %]."""
        return (
            f"{ratio_of(self.offcut.parts)} (water : acid : peroxide), {clock(self.time.low)} to "
            f"{clock(self.time.high)}: "
            f"would leave {100 * self.share:.0f} % of the width of the board's band"
        )

    @property
    def method_cautions(self) -> tuple[Caution, ...]:
        """What to take care of in etching it, beside the cautions of the plan."""
        return method_cautions("offcut")


def candidates(
    board: Plan, acid_bottle: str = "acid", peroxide_bottle: str = "peroxide"
) -> list[Offcut]:
    """List tests worth a thought for a board: offcuts in little baths like its own, and weaker.

    Parameters
    ----------
    board : Plan
        Of a fresh bath in one portion; of a refused one there is no test.
    acid_bottle, peroxide_bottle : str
        What the log calls the two bottles.

    Returns
    -------
    list of Offcut
        Not etched yet; how is said by `method_cautions("offcut")`. 4 cm² of the board's foil, face
        up, each with at least as much bath for its copper as the board, and 30 mL or more; with
        the board's water or more, never with less. In a flat dish the bath is 10 mm deep: beside a
        wider, shallower tray it may get some 10 K warmer when left standing. One of half the
        board's copper in the board's own tray tells more.

    Raises
    ------
    ValueError
        A refused plan, a used bath or a second portion.
    """
    inputs = judged_inputs(board)
    water, acid, peroxide = inputs.parts
    # Only weaker than the board's bath, never stronger: nothing stronger was judged
    tests = []
    for more_water in WATER:
        test = Offcut(
            acid=inputs.acid,
            peroxide=inputs.peroxide,
            parts=(water + more_water * (acid + peroxide) / 2, acid, peroxide),
            # At least the board's bath for its copper: the heat of etching warms it no more
            volume=max(BATH, AREA * inputs.bath_per_area),
            board=Board(area=AREA, foil=inputs.board.foil),
            tray=dataclasses.replace(inputs.tray, open_area=None, facing="up"),
            T_bottles=inputs.T_bottles,
            acid_bottle=acid_bottle,
            peroxide_bottle=peroxide_bottle,
        )
        tests.append(test)
    return tests


def narrowing(
    tests: Sequence[Offcut],
    board: Plan,
    calibration: Calibration,
    acid_bottle: str = "acid",
    peroxide_bottle: str = "peroxide",
    *,
    patience: float = PATIENCE,
    same_hand: bool = False,
) -> list[Narrowing]:
    """Estimate how much each test would narrow the band of a board, the most telling first.

    Parameters
    ----------
    tests : sequence of Offcut
        Tests that are thought of, `time` None; from `candidates`, or one's own. None may have
        stronger bottles, be stronger, warmer, deeper or brisker moved than the board's bath, or
        have less bath for its copper: only the board's was judged.
    board : Plan
        Of a fresh bath in one portion, not refused.
    calibration : Calibration
        What is known already; `calibrate(Log.of([]))` where nothing is.
    acid_bottle, peroxide_bottle : str
        What log and tests call the two bottles of the board.
    patience : float
        When an offcut that is not clear is taken out [s], above 0 to 14 400.
    same_hand : bool
        Whether the hand that etches the offcuts etches the board, in the same tray.

    Returns
    -------
    list of Narrowing
        As many as tests, by expected share [-].

    Raises
    ------
    ValueError
        A refused plan, a used bath or a second portion, no test, a test that might be fiercer than
        the board, or one name for two bottles.

    Notes
    -----
    Each time that a test may come out with, by the draws and the spread of `calibration`, would
    weigh the same draws anew: the share is the mean of what is then left of the width, counted in
    powers up to four hours. That the row may be a slip is left out of it, the step from offcut to
    board is not: a small offcut, or one in another tray, tells little of the board. With 400 draws
    a share is good to about 0.05: near 1 the test teaches nothing.
    """
    inputs = judged_inputs(board)
    check_calibration(calibration)
    calibration.check_name("HCl", acid_bottle)
    calibration.check_name("H2O2", peroxide_bottle)
    if not tests or not all(isinstance(test, Offcut) for test in tests):
        raise InputError(
            "tests",
            "it must be a list of at least 1 Offcut",
            value=tests,
            about=f" = {tests!r:.80}",
        )
    for number, test in enumerate(tests, 1):
        with naming(f"test {number}"):
            _check_no_fiercer(test.inputs, inputs)
    patience = check_number("patience", patience, 0.0, LONGEST, "s", above=True)

    # With the test the log may come nearer to the board than it is now
    transfer_now = calibration.transfer(inputs, same_hand).doubt
    transfers = [calibration.transfer(inputs, same_hand, test).doubt for test in tests]
    baths = [_board_bath(inputs, acid_bottle, peroxide_bottle), *tests]
    times_by_transfer = {
        transfer: _times_of(baths, calibration, transfer, inputs.seed)
        for transfer in {transfer_now, *transfers}
    }
    width_now = _widths(_in_order(times_by_transfer[transfer_now][0])[0], np.ones((1, MOST_DRAWS)))[
        0
    ]
    narrowings = []
    for row, (test, transfer) in enumerate(zip(tests, transfers, strict=True), 1):
        times = times_by_transfer[transfer]
        weights = _weights_after(times[row], calibration.spread, patience, inputs.seed)
        log_times, order = _in_order(times[0])
        width_after = float(np.mean(_widths(log_times, weights[:, order])))
        share = 1.0  # of a board that clears by no draw there is nothing to narrow
        if width_now > 0:
            share = width_after / width_now
        narrowings.append(Narrowing(test, Band.of(times[row], MOST_DRAWS), share))
    return sorted(narrowings, key=lambda narrowing: narrowing.share)


def _board_bath(inputs: Inputs, acid_bottle: str, peroxide_bottle: str) -> Offcut:
    """Return the board's own bath as one more test: its times are then of the same draws."""
    return Offcut(
        acid=inputs.acid,
        peroxide=inputs.peroxide,
        parts=inputs.parts,
        volume=inputs.bath_per_area * float(inputs.board.copper_area),
        board=inputs.board,
        tray=inputs.tray,
        T_bottles=inputs.T_bottles,
        acid_bottle=acid_bottle,
        peroxide_bottle=peroxide_bottle,
    )


def _times_of(
    baths: Sequence[Offcut], calibration: Calibration, transfer: float, seed: int
) -> FloatArray:
    """Compute the times [s] of a board and then of tests by what is known now.

    (baths, draws), all draws of equal weight.
    """
    bench = calibration.for_board(transfer)
    strengths = {}
    for number, (name, bottle) in enumerate(bottles_of(baths).items()):
        # Another seed for each bottle that the log does not name, or all would be strong together
        strengths[name] = calibration.strengths_of(
            bottle, name[1], MOST_DRAWS, seed + number, bench
        )
    indices = picks(bench.weights, MOST_DRAWS)
    columns = {name: column[indices] for name, column in bench.columns.items()}
    with collecting_warnings():
        times = expected_times(baths, columns, strengths)
    # The tests are etched where the offcuts were, and the board where it will be
    times[1:] *= bench.steps[indices]
    return times


def _in_order(times: FloatArray) -> tuple[FloatArray, Any]:
    """Return the rising logarithms of times [s], (draws,), and the order of the draws.

    Never is counted as four hours, or a band that ends there would be infinitely wide.
    """
    log_times = np.log(np.minimum(times, LONGEST))
    order = np.argsort(log_times)
    return log_times[order], order


def _check_no_fiercer(test: Inputs, board: Inputs) -> None:
    """Refuse a test that may be stronger, warmer, brisker or less open than the board's bath.

    Only the board's was judged.
    """
    # Or the candidates, 30 mL and 10 mm deep, would be refused beside a small or a shallow bath
    always_allowed = {"volume": LITTLE, "bath over its surface": DEPTH}
    board_values = _fierceness(board)
    for name, (value, unit) in _fierceness(test).items():
        most = max(board_values[name][0], always_allowed.get(name, 0.0))
        # A test made of the board's own numbers may lie above them by rounding
        check_number(name, value, 0.0, most * (1 + ROUNDING), unit)
    check_choice("agitation", test.tray.agitation, (board.tray.agitation, "still"))
    check_choice("facing", test.tray.facing, (board.tray.facing, "up"))


def _fierceness(inputs: Inputs) -> dict[str, tuple[float, str]]:
    """Return all that makes a bath fiercer where it is more, each with its unit."""
    bare = float(inputs.board.copper_area)
    volume = bare * inputs.bath_per_area
    surface = float(inputs.tray.surface(volume, bare))
    _, acid, peroxide = inputs.parts
    parts = sum(inputs.parts)
    T_air = ROOM
    if inputs.tray.T_air is not None:
        T_air = float(np.asarray(inputs.tray.T_air))
    pure = "of its volume, pure"
    # The strong ends of the bottles: nobody knows that they are weaker
    return {
        "acid": (inputs.acid.high, "kg/kg"),
        "peroxide": (inputs.peroxide.high, "kg/kg"),
        "acid in the bath": (inputs.acid.high * acid / parts, pure),
        "peroxide in the bath": (inputs.peroxide.high * peroxide / parts, pure),
        "copper over bath": (float(inputs.board.copper) / volume, "mol/m³"),
        "volume": (volume, "m³"),
        "bath over its surface": (volume / surface, "m"),
        "T_bottles": (inputs.T_bottles, "K"),
        "T_air": (T_air, "K"),
    }


def _weights_after(times: FloatArray, spread: float, patience: float, seed: int) -> FloatArray:
    """Weigh the draws [-], (OUTCOMES, draws), after each time [s] that a test may come out with."""
    generator = np.random.default_rng(seed)
    # True times in even steps through the draws, from quick to slow
    middles = (np.arange(OUTCOMES) + 0.5) / OUTCOMES
    true_times = np.sort(times)[(middles * times.size).astype(int)]
    # Even steps through the noise too, in random order: fewer outcomes do than by chance alone
    noise = np.quantile(generator.standard_normal(NOISES), generator.permutation(middles))
    outcomes = []
    for time in true_times * np.exp(spread * noise):
        clear = bool(time <= patience)  # else all that is seen is "not clear after `patience`"
        outcomes.append(likelihood_of_time(float(min(time, patience)), clear, times, spread))
    weights = np.array(outcomes)
    sums = weights.sum(axis=1, keepdims=True)
    return np.asarray(weights / np.maximum(sums, 1e-300))  # not 0 / 0 where no draw fits


def _widths(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Compute the width between the 10 and 90 % values [of their unit], for each row of weights.

    Rising values (N,), weights (M, N); widths (M,).
    """
    # A draw stands in the middle of its weight. Between draws the line is straight: steps from draw
    # to draw would hide how a little more knowledge narrows the band
    middles = (np.cumsum(weights, axis=1) - 0.5 * weights) / weights.sum(axis=1, keepdims=True)
    widths = []
    for row in middles:
        high, low = np.interp((0.9, 0.1), row, values)
        widths.append(high - low)
    return np.array(widths)
