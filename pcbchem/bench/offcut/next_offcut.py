"""Which offcut to etch next: how much each of some tests is expected to narrow the band of one's own board."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray
from ...common.band import Band
from ...common.limits import check_choice, check_number, collecting_warnings, naming
from ...common.number_words import clock, ratio_of
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import DEPTH, ROOM, Board
from ..plan.inputs import Inputs
from ..plan.planning import Plan
from .board_time import judged, must_fit
from .calibration import Calibration
from .likelihood import bottles, expected, likelihood
from .offcut import Offcut

PATIENCE = 1800.0
"""An offcut that is not clear by then is taken out [s]: half an hour (common practice)."""
OUTCOMES = 60
"""How many of the times that a test may take are tried [-]."""
AREA, BATH = 4e-4, 30e-6
"""Bare copper of an offcut [m²] and its bath [m³], where nobody says: 4 cm² in 30 mL."""
LITTLE = 100e-6
"""A test may always have so much bath [m³]: 100 mL."""
WATER = (0.0, 0.5, 1.0, 2.0)
"""Parts of water more than the board's bath that are tried [-]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Narrowing:
    """What a test is expected to teach about a board.

    `offcut`: the test; `time`: when it is expected to be clear, a single band [s]; `share`: how wide the board's band
    is expected to be afterwards, over how wide it is now, both as powers of the time [-]: 0.5 is half as wide.
    """

    offcut: Offcut
    time: Band
    share: float

    @property
    def words(self) -> str:
        """The test and what it would teach, in words [parts, min, %]."""
        return (
            f"{ratio_of(self.offcut.parts)} (water : acid : peroxide), {clock(self.time.low)} to "
            f"{clock(self.time.high)}: would leave {100 * self.share:.0f} % of the width of the board's band"
        )


def candidates(
    board: Plan, acid_bottle: str = "acid", peroxide_bottle: str = "peroxide"
) -> list[Offcut]:
    """Tests worth a thought for a board: offcuts in little baths like its own, and in weaker ones.

    Parameters
    ----------
    board : Plan
        Of a fresh bath in one portion; of a refused one there is no test.
    acid_bottle, peroxide_bottle : str
        What the log calls the two bottles.

    Returns
    -------
    list of Offcut
        Not etched yet: 4 cm² of the board's foil, face up, each with at least as much bath for its copper as the board,
        and 30 mL or more; with the board's water or more, never with less. In a flat dish the bath is 10 mm deep:
        beside a wider, shallower tray it may get some 10 K warmer when left standing.

    Raises
    ------
    ValueError
        A refused plan, a kept bath or a second portion.
    """
    given = judged(board)
    water, acid, peroxide = given.parts
    volume = max(BATH, AREA * given.bath_per_area)
    scrap, dish = (
        Board(area=AREA, foil=given.board.foil),
        dataclasses.replace(given.tray, open_area=None, facing="up"),
    )
    return [
        Offcut(
            given.acid,
            given.peroxide,
            (water + more * (acid + peroxide) / 2, acid, peroxide),
            volume,
            scrap,
            dish,
            given.T_bottles,
            acid_bottle=acid_bottle,
            peroxide_bottle=peroxide_bottle,
        )
        for more in WATER
    ]


def narrowing(
    tests: Sequence[Offcut],
    board: Plan,
    calibration: Calibration,
    acid_bottle: str = "acid",
    peroxide_bottle: str = "peroxide",
    *,
    patience: float = PATIENCE,
) -> list[Narrowing]:
    """How much each test is expected to narrow the band of a board, the most telling first.

    Parameters
    ----------
    tests : sequence of Offcut
        Tests that are thought of, `time` None; from `candidates`, or one's own. None may have stronger bottles, be
        stronger, warmer, deeper or brisker moved than the board's bath, or have less bath for its copper: only the
        board's was judged.
    board : Plan
        Of a fresh bath in one portion, not refused.
    calibration : Calibration
        What is known already; `calibrate(Log.of([]))` where nothing is.
    acid_bottle, peroxide_bottle : str
        What log and tests call the two bottles of the board.
    patience : float
        When an offcut that is not clear is taken out [s], above 0 to 14 400.

    Returns
    -------
    list of Narrowing
        As many as tests, by expected share [-].

    Raises
    ------
    ValueError
        A refused plan, a kept bath or a second portion, no test, a test that might be fiercer than the board, or one
        name for two bottles.

    Notes
    -----
    Each time that a test may come out with, by the draws and the spread of `calibration`, would weigh the same draws
    anew: the share is the mean of what is then left of the width, counted in powers up to four hours. That the row may
    be a slip is left out of it. With 400 draws a share is good to about 0.05: near 1 the test teaches nothing.
    """
    given = judged(board)
    must_fit(calibration)
    calibration.must_know("HCl", acid_bottle)
    calibration.must_know("H2O2", peroxide_bottle)
    if not tests or not all(isinstance(test, Offcut) for test in tests):
        raise ValueError(
            f"tests = {tests!r:.80} is impossible: it must be a list of at least 1 Offcut"
        )
    for k, test in enumerate(tests, 1):
        with naming(f"test {k}"):
            _no_fiercer(test.given, given)
    patience = check_number("patience", patience, 0.0, LONGEST, "s", above=True)
    own = Offcut(
        given.acid,
        given.peroxide,
        given.parts,
        given.bath_per_area * float(given.board.copper_area),
        given.board,
        given.tray,
        given.T_bottles,
        acid_bottle=acid_bottle,
        peroxide_bottle=peroxide_bottle,
    )
    baths = [own, *tests]
    held = {
        names: calibration.strength(bottle, names[1], MOST_DRAWS, given.seed + k)
        for k, (names, bottle) in enumerate(bottles(baths).items())
    }
    with collecting_warnings():
        clear, *times = expected(baths, calibration.columns(MOST_DRAWS), held)
    wide = np.log(np.minimum(clear, LONGEST))
    order = np.argsort(wide)
    now = _width(wide[order], np.ones((1, MOST_DRAWS)))[0]
    found = []
    for test, its in zip(tests, times, strict=True):
        weights = _weights(its, calibration.spread, patience, given.seed)
        after = float(np.mean(_width(wide[order], weights[:, order])))
        found.append(Narrowing(test, Band.of(its, MOST_DRAWS), after / now if now > 0 else 1.0))
    return sorted(found, key=lambda test: test.share)


def _no_fiercer(test: Inputs, board: Inputs) -> None:
    """Refuse a test that may be stronger, warmer, brisker or less open than the board's bath: only that was judged."""

    def bath(given: Inputs) -> dict[str, tuple[float, str]]:
        bare, poured = float(given.board.copper_area), sum(given.parts)
        volume = bare * given.bath_per_area
        return {
            "acid": (given.acid.high, "kg/kg"),
            "peroxide": (given.peroxide.high, "kg/kg"),
            "acid in the bath": (given.acid.high * given.parts[1] / poured, "of its volume, pure"),
            "peroxide in the bath": (
                given.peroxide.high * given.parts[2] / poured,
                "of its volume, pure",
            ),
            "copper over bath": (float(given.board.copper) / volume, "mol/m³"),
            "volume": (volume, "m³"),
            "bath over its surface": (volume / float(given.tray.surface(volume, bare)), "m"),
            "T_bottles": (given.T_bottles, "K"),
            "T_air": (float(given.tray.T_air or ROOM), "K"),  # type: ignore[arg-type]
        }  # type: ignore

    least = {"volume": LITTLE, "bath over its surface": DEPTH}
    most = bath(board)
    for name, (value, unit) in bath(test).items():
        check_number(name, value, 0.0, max(most[name][0], least.get(name, 0.0)) * (1 + 1e-9), unit)
    for name, mild in (("agitation", "still"), ("facing", "up")):
        check_choice(name, getattr(test.tray, name), (getattr(board.tray, name), mild))


def _weights(times: FloatArray, spread: float, patience: float, seed: int) -> FloatArray:
    """Weights of the draws [-], (OUTCOMES, draws), after each time that a test may come out with [s]."""
    generator = np.random.default_rng(seed)
    true = np.sort(times)[((np.arange(OUTCOMES) + 0.5) / OUTCOMES * times.size).astype(int)]
    off = np.quantile(
        generator.standard_normal(1000),
        generator.permutation((np.arange(OUTCOMES) + 0.5) / OUTCOMES),
    )
    seen = true * np.exp(spread * off)
    weights = np.array(
        [likelihood(float(min(t, patience)), bool(t <= patience), times, spread) for t in seen]
    )
    return np.asarray(weights / np.maximum(weights.sum(axis=1, keepdims=True), 1e-300))


def _width(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Width between the 10 and 90 % values [of their unit] of rising values, (N,), for each row of weights (M, N)."""
    middles = (np.cumsum(weights, axis=1) - 0.5 * weights) / weights.sum(axis=1, keepdims=True)
    return np.array([np.subtract(*np.interp((0.9, 0.1), row, values)) for row in middles])
