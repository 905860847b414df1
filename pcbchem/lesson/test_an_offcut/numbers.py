"""Made-up benches: what each knows of its board after so many offcuts. Worked out once a bench."""

from __future__ import annotations

import dataclasses
from functools import cache

from ...bench.bottle.bottle import Bottle
from ...bench.offcut import Log, calibrate
from ...bench.offcut.board_time import wider
from ...bench.offcut.calibrating import SPREAD
from ...bench.offcut.offcut import OTHER_TRAY
from ...bench.offcut.simulated import CASES, LIKE_THE_BOARD, Case, MadeUp, made_up
from ...bench.plan.inputs import Inputs
from ...bench.plan.outlook import etched
from ...common import tables
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import minute

MOST_OFFCUTS = 6
"""So many offcuts has a bench [-]."""
BENCHES = 30
"""A bench for each of a class [-]."""
START = 11
"""The bench that is there at first [-]: the only one of the thirty on which all goes as on most.

Each watched band holds the truth. By labels, six small offcuts, known bottles, and one, two and six
large offcuts each is narrower than the one before. Watched times lie on both sides of the truth.
Six late times miss it, in print too; half-way they hold it.
"""
OFFCUTS = 1
"""Offcuts at first [-]: as many as the first question is about."""
LOOKS, OFTEN = 2 * minute, 0.5 * minute
"""How often somebody looks who does not watch [s]."""
TOLD = 0.35
"""A spread that somebody tells the page who knows that the times are late [-]."""

OLD = (0.03, 0.06, 0.12)
"""Peroxide in an old bottle [kg/kg]: at least, as it is read, at most."""


@dataclasses.dataclass(frozen=True)
class Way:
    """One way to etch and time offcuts, and what the page takes the times for.

    Parameters
    ----------
    case : Case
        How they are etched and timed.
    half_way : bool
        What is written down lies half-way between the look that finds it clear and the one before.
    spread : float
        How good the page takes them to be: standard deviation of the logarithm [-].
    """

    case: Case
    half_way: bool = False
    spread: float = SPREAD


CARE, SMALL, SEEN_LATE, HALF_WAY, OTHER_HAND = "care", "small", "looks", "half-way", "other hand"
"""Keys of five ways."""
_LATE = LIKE_THE_BOARD._replace(looks_every=LOOKS)
WAYS = {
    CARE: Way(LIKE_THE_BOARD),
    SMALL: Way(CASES[0]),
    SEEN_LATE: Way(_LATE),
    HALF_WAY: Way(_LATE, half_way=True),
    "often": Way(LIKE_THE_BOARD._replace(looks_every=OFTEN)),
    "told": Way(_LATE, spread=TOLD),
    "a quarter off": Way(LIKE_THE_BOARD._replace(noise=0.25)),
    OTHER_HAND: Way(LIKE_THE_BOARD._replace(same_hand=False, transfer=OTHER_TRAY)),
}
"""Ways to time offcuts, by key: half as large as the board in its tray, but for the small ones."""


@cache
def bench(number: int, way: str = CARE) -> MadeUp:
    """Return a made-up bench [-]: its log of six offcuts, timed in one way, and the truth."""
    return made_up(number, MOST_OFFCUTS, WAYS[way].case)


@cache
def by_labels() -> Band:
    """Return when the board is clear by the labels alone [s]: on every bench alike."""
    return _without_offcuts(bench(START).board.inputs)


@cache
def bottles_known(number: int) -> Band:
    """Return it for somebody who knows exactly what is in both bottles of a bench [s]."""
    inputs = bench(number).board.inputs
    strengths = {name: float(values[0]) for (name, _), values in bench(number).strengths.items()}
    acid, peroxide = (Bottle(name, strengths[name], strengths[name]) for name in ("HCl", "H2O2"))
    return _without_offcuts(dataclasses.replace(inputs, acid=acid, peroxide=peroxide))


def _without_offcuts(inputs: Inputs) -> Band:
    """Return when a board is clear before any offcut [s], made as the bands after one: see `wider`.

    Only bands that are made alike can be compared.
    """
    with collecting_warnings():
        doubt = calibrate(Log.of([])).doubt(inputs, None, None)
        return wider(etched(inputs, **doubt).run.band("time_to_clear"))


@cache
def written_down(number: int, way: str = CARE) -> Log:
    """Return the log of a bench as whoever times in one way writes it."""
    log = bench(number, way).log
    if not WAYS[way].half_way:
        return log
    earlier = []
    for offcut in log.offcuts:
        assert offcut.time is not None
        earlier.append(dataclasses.replace(offcut, time=offcut.time - LOOKS / 2))
    return Log.of(earlier)


@cache
def after(number: int, offcuts: int, way: str = CARE) -> Band:
    """Return when the board of a bench is clear by so many of its offcuts [-, s out]."""
    board, log = bench(number, way).board.inputs, written_down(number, way)
    with collecting_warnings():
        # what is expected of an offcut may be rough: the board is what counts
        calibration = calibrate(Log.of(log.offcuts[:offcuts]), spread=WAYS[way].spread, few=0.0)
        doubt = calibration.doubt(board, same_hand=WAYS[way].case.same_hand)
        return wider(etched(board, **doubt).run.band("time_to_clear"))


def seen(number: int, way: str = CARE) -> tuple[float, ...]:
    """Return the times that are written down of the six offcuts of a bench [s]."""
    times = (offcut.time for offcut in written_down(number, way).offcuts)
    return tuple(float(time) for time in times if time is not None)


def truth(number: int) -> float:
    """Return when the board of a bench is truly clear [s]: nobody on it knows."""
    return bench(number).true


def holds(band: Band, time: float) -> bool:
    """Tell whether a time lies in a band [s]."""
    return bool(band.low <= time <= band.high)


def width(band: Band) -> float:
    """Return the high end of a band over its low end [-]."""
    return float(band.high / band.low)


@dataclasses.dataclass(frozen=True)
class Counted:
    """What was counted on made-up benches, in one way and with so many offcuts.

    Parameters
    ----------
    benches, held, narrower : int
        How many there were, on how many the band held the truth, and on how many it was narrower
        than with both bottles known exactly [-].
    in_class : int
        On how many of the first thirty it held the truth [-].
    width : float
        High end over low end: the middle one [-].
    sooner : int
        On how many the board was clear before the band began [-].
    """

    benches: int
    held: int
    in_class: int
    narrower: int
    width: float
    sooner: int


@cache
def counted(way: str, offcuts: int) -> Counted:
    """Return what `python -m pcbchem.lesson.test_an_offcut.benches` counted [-]."""
    (row,) = (
        row
        for row in tables.read("timed_benches")
        if row["way"] == way and row["offcuts"] == str(offcuts)
    )
    return Counted(
        int(row["benches"]),
        int(row["held"]),
        int(row["held_of_first_30"]),
        int(row["narrower_than_bottles_known"]),
        float(row["high_over_low"]),
        int(row["clear_before_the_band"]),
    )


@cache
def old_bottle() -> tuple[Band, Band]:
    """Return when the board is clear with an old bottle, read exactly and by its doubt [s]."""
    inputs = bench(START).board.inputs
    bands = []
    for low, high in ((OLD[1], OLD[1]), (OLD[0], OLD[2])):
        old = dataclasses.replace(inputs, peroxide=Bottle("H2O2", low, high))
        bands.append(_without_offcuts(old))
    return bands[0], bands[1]
