"""Every number that page 08 prints, held against the bench, apart from the page's own words."""

import dataclasses
import math

from pcbchem import Bottle
from pcbchem.bench import hazards
from pcbchem.bench.offcut import Log, calibrate
from pcbchem.bench.offcut.board_time import WIDER, wider
from pcbchem.bench.offcut.calibrating import SPREAD
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.offcut import OTHER_TRAY
from pcbchem.bench.offcut.simulated import CASES, LIKE_THE_BOARD, made_up
from pcbchem.bench.plan.outlook import etched
from pcbchem.common import tables
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import tide_clock
from pcbchem.page import claim

MINUTE = 60.0
ROWS = {(row["way"], int(row["offcuts"])): row for row in tables.read("timed_benches")}


def width(way, offcuts):
    """High end over low end, the middle one of two hundred benches."""
    return float(ROWS[way, offcuts]["high_over_low"])


def held(way, offcuts=6, column="held"):
    """Benches on which a band held the truth."""
    return int(ROWS[way, offcuts][column])


def band(inputs, log=None):
    """When a board is clear by a log of the same hand, or by none: every band made alike."""
    with collecting_warnings():
        if log is None:
            doubt = calibrate(Log.of([])).doubt(inputs, None, None)
        else:
            doubt = calibrate(log).doubt(inputs, same_hand=True)
        return wider(etched(inputs, **doubt).run.band("time_to_clear"))


board = made_up(7, 6).board
labels = band(board.inputs)
low, high = float(labels.low), float(labels.high)
benches = int(ROWS["labels alone", 0]["benches"])

# the first question
claim("takes 3.1 to 5.7 min: 8 of 10 plausible baths", low / MINUTE, high / MINUTE, 8, 10)
claim("The high end is 1.8 times the low", high / low)
claim("six offcuts of 4 cm²", 1e4 * CASES[0].area)
middle = "(on 200 made-up benches, the middle one)"
one, known = width("care", 1), width("both bottles known", 0)
claim(f"one large offcut makes it 1.54 times {middle}", one, benches)
claim("It helps: 1.67 times instead of 1.80", known, high / low)
claim(f"One large offcut makes it 1.54 {middle}", one, benches)
claim(f"1.69 times instead of 1.80 {middle}", width("small", 6), high / low, benches)
claim(f"Yes: 1.54 times {middle}", one, benches)
claim("Exact bottles make it 1.67", known)
narrower = "narrower_than_bottles_known"
claim("The offcut was narrower on 181 of 200", held("care", 1, narrower), benches)
claim("with exact bottles the band is still 1.67", known)
# "one offcut, half the board, timed once in the board's tray"; "same bottles, tray and hand"
assert LIKE_THE_BOARD.area == board.board.area / 2 and LIKE_THE_BOARD.bath == board.volume / 2
assert LIKE_THE_BOARD.tray == board.tray and LIKE_THE_BOARD.same_hand
assert math.isclose(float(tide_clock().area), board.board.area)

# why
same, other = LIKE_THE_BOARD.transfer, CASES[0].transfer
claim("as good to 15 %, from a small offcut in another dish to 30 %", 100 * same, 100 * other)
wider_by = 100 * (WIDER - 1)
claim("on 200 made-up benches, each band 7 % wider than its draws", benches, wider_by)
assert math.isclose(high / low, float(ROWS["labels alone", 0]["high_over_low"]), rel_tol=1e-3)
for phrase, key in {
    "labels alone | 1.80 | 162": ("labels alone", 0),
    "both bottles known | 1.67 | 156": ("both bottles known", 0),
    "six small offcuts, each in a dish | 1.69 | 166": ("small", 6),
    "one large offcut, half the board | 1.54 | 159": ("care", 1),
    "two | 1.49 | 163": ("care", 2),
    "three | 1.47 | 163": ("care", 3),
    "six | 1.45 | 161": ("care", 6),
    "six, by another hand or in another tray | 1.66 | 165": ("other hand", 6),
}.items():
    claim(phrase.replace(" | ", "\n  "), width(*key), held(*key))
# "with 30 % six large offcuts teach no more than both bottles"
claim("with 30 % six large offcuts", 100 * OTHER_TRAY)
assert math.isclose(width("other hand", 6), known, rel_tol=0.02)

# by hand
claim("One time is good to 15 %", 100 * SPREAD)
for words, offcuts, chance, both in (
    ("One offcut", 1, 15, 21.2),
    ("Six", 6, 6.1, 16.2),
    ("A hundred", 100, 1.5, 15.1),
):
    claim(
        f"{words}: 15 ÷ √{offcuts} = {chance}, with the step √({chance}² + 15²) = {both} %",
        100 * SPREAD,
        offcuts,
        100 * SPREAD / math.sqrt(offcuts),
        chance,
        100 * same,
        math.hypot(chance, 100 * same),
    )
claim("15 % for a time, 15 and 30 % for the step", 100 * SPREAD, 100 * same, 100 * other)

# by the package
bench = made_up(11, 6)
after = band(bench.board.inputs, Log.of(bench.log.offcuts[:1]))
claim("3.3 to 5.0 min", float(after.low) / MINUTE, float(after.high) / MINUTE)

# the second question
claim(
    f"high over low 1.45, watched 1.45 {middle}",
    width("looks", 6),
    width("care", 6),
    benches,
)
claim("held the truth on 125, watched on 161", held("looks"), held("care"))
sooner = "clear_before_the_band"
claim("On all 75 that it missed", held("looks", 6, sooner))
assert held("looks", 6, sooner) == benches - held("looks")

# late times
claim("holds the truth, of 200", benches)
for phrase, way in {
    "watched all the time | 1.45 | 161": "care",
    "watched, but a quarter or so too soon or too late | 1.45 | 157": "a quarter off",
    "a look every 2 min, and that time written down | 1.45 | 125": "looks",
    "a look every 2 min, and half-way to the look before written down | 1.44 | 163": "half-way",
    "a look every 2 min, and that time written down, as good to 35 % only | 1.56 | 163": "told",
    "a look every half minute, and that time written down | 1.45 | 168": "often",
}.items():
    numbers = [width(way, 6), held(way)]
    if "2 min" in phrase:
        numbers.insert(0, 2)
    if "35 %" in phrase:
        numbers.insert(1, 35)
    claim(phrase.replace(" | ", "\n  "), *numbers)
claim(
    "8 in 10 would be 160, give or take 6: only 125 is beyond chance",
    8,
    10,
    0.8 * benches,
    math.sqrt(benches * 0.8 * 0.2),
    held("looks"),
)
for way in ("a quarter off", "half-way", "told", "often", "care"):
    assert abs(held(way) - 0.8 * benches) <= 2 * math.sqrt(benches * 0.8 * 0.2)
claim("In a class of 30", 30)
claim(
    "on average 24 if watched, 19 if not", 30 * held("care") / benches, 30 * held("looks") / benches
)
in_class = "held_of_first_30"
claim(
    "Benches 1 to 30 make it 26 and 17",
    1,
    30,
    held("care", 6, in_class),
    held("looks", 6, in_class),
)
stop = hazards.rule_named("warm while etching").limit - 273.15
claim("the stop at 45 °C", stop)
assert "the stop at 45 °C" in ABOUT_TIME
claim("At 45 °C lift the copper out at once", stop)
old = [
    band(dataclasses.replace(board.inputs, peroxide=Bottle("H2O2", *ends)))
    for ends in ((0.03, 0.12), (0.06, 0.06))
]
claim(
    "peroxide of 3 to 12 % makes it 4.1 times, of exactly 6 % 1.9",
    3,
    12,
    old[0].high / old[0].low,
    6,
    old[1].high / old[1].low,
)

# what would prove it wrong
chance = sum(math.comb(10, inside) * 0.8**inside * 0.2 ** (10 - inside) for inside in range(6))
claim("Of 10 offcuts that you etch anyway", 10)
claim("About 8 should lie inside", 8)
claim("5 or fewer is chance on 3 of 100 benches", 5, 100 * chance, 100)
