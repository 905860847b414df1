"""Every number that page 10 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.waste import Rest, closed_pressure, peroxide_after, rinse, time_gone
from pcbchem.bench.waste.rinsing import FILM
from pcbchem.bench.waste.where import ASK, waste_limit
from pcbchem.common import tables
from pcbchem.common.band import Band, between
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.after_the_last_board.numbers import FILM_SEED
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.chemistry import SALT, carbon_dioxide, copper_band, equivalents, heat_taken

HOUR, DAY = 3600.0, 86_400.0
H2O2, COPPER = 34.014, 63.546  # g/mol
inputs = bath("mild")
parameters = RateParameters.plausible(200)
with collecting_warnings():
    etching = etched(inputs, parameters=parameters)
    rest = Rest(etching.bath_after, etching.tray)
    gone = np.asarray(time_gone(rest))
    late = H2O2 * np.asarray(peroxide_after(rest, None, [12 * HOUR, 3 * DAY, 7 * DAY])) / 1000
# a strip reads nothing under 1 mg/L
STRIP = 1e-3


def middle(values):
    """Middle of 200 values."""
    return float(Band.of(np.asarray(values), 200).middle)


def ends(values, scale=1.0):
    """Low and high end of 200 values."""
    band = Band.of(np.asarray(values), 200)
    return float(band.low) / scale, float(band.high) / scale


low, high = ends(gone)

# the first question
claim("by then 177 of 200 plausible baths still hold peroxide", np.sum(late[0] >= STRIP), 200)
claim("No: 129 of 200 plausible baths still hold peroxide", np.sum(late[1] >= STRIP), 200)
claim(
    "in 93 of 200 plausible baths it is gone within a week", np.sum(late[2] < STRIP), late[2].size
)
claim("8 of 10 plausible baths take 12 hours to 15 weeks", 8, 10, low / HOUR, high / DAY / 7)
# "half a day or three months", "one in ten longer still"
assert 0.35 * DAY < low < 0.75 * DAY and 60 * DAY < high < 120 * DAY
# "most of the peroxide is left"
start = etching.mixture.amount("H2O2") / etching.mixture.volume
assert middle(rest.H2O2 / start) > 0.8

# why
claim("2 H₂O₂ → 2 H₂O + O₂", 2, 2)
claim("measured in sulfate at 67 °C (Mlasi 2015)", source="mlasi-2015")
factor = next(row for row in tables.read("parameters") if row["name"] == "decay_factor")
# "a guess a thousandfold wide"
assert float(factor["high"]) / float(factor["low"]) == 1000 and factor["status"] == "assumed"
claim("the page tries 200 plausible baths", gone.size)
claim(
    "Half are done within 8 days, one in ten within 12 hours, one in ten only after 15 weeks",
    middle(gone) / DAY,
    low / HOUR,
    high / DAY / 7,
)
for pair, parts in (("weak", 0.0), ("strong", 3.0)):
    with collecting_warnings():
        other = etched(bath(pair, parts=parts), parameters=parameters)
        times = np.asarray(time_gone(Rest(other.bath_after, other.tray)))
    # "other bottles hardly change that"
    assert 0.7 < middle(times) / middle(gone) < 1.3
    assert 0.7 < ends(times)[1] / high < 1.3
claim("first one drop of bath to 100 of water", source="etch-waste-alert")
claim("Under 1 mg/L it tells nothing", 1000 * STRIP)
used = middle(rest.H2O2) / 1000
claim("Each litre of bath still holds 1.57 mol of peroxide", used)
claim("1.57 ÷ 2 = 0.785 mol", 1.57, 2, 1.57 / 2)
mole = 8.314462618 * 293.15 / 101_325 * 1000
claim("A mole of gas takes 24.1 times the room of a litre", mole)
claim("0.785 × 24.1 = 18.9 times the bath", 0.785, mole, 0.785 * mole)
claim("7 ÷ 3 = 2.33 times the bath", 7, 3, 7 / 3)
pressure = float(closed_pressure(0.785, 7 / 3 * 1e-3)) / 101_325
claim("18.9 ÷ 2.33 = 8.1 times the pressure of the air", 0.785 * mole, 7 / 3, pressure)
claim("8.1 times the pressure of the air", pressure)

# the second question
copper = COPPER * middle(rest.copper)  # mg/L
deaths = waste_limit("water fleas, two days").value / 1000  # mg/L
little = [COPPER * float(end) for end in copper_band(8.0, carbonate=100.0)]
claim("pH 8, nothing fizzes any more", 8)
claim("0.024 mg/L of copper kill half of the water fleas in two days", deaths)
claim("0.52 to 98 mg/L, 22 times as much at least", *little, little[0] / deaths, rel=0.01)
claim("0.52 to 98 mg/L is left: 22 times as much at least", *little, little[0] / deaths, rel=0.01)
claim("over 10 times that", 10)
assert little[0] / deaths > 20
claim("nearly all of it, 5500 mg/L", copper, rel=0.01)
claim("Up to 99.99 % is not", 100 * (1 - little[0] / copper))

# why clear is not clean
much = [COPPER * float(copper_band(pH, carbonate=500.0)[0]) for pH in (8.0, 9.0)]
claim("at least 4.1 mg/L at pH 8 and 11 at pH 9", much[0], 8, much[1], 9)
claim("is 0.65 mg/L more", COPPER / (COPPER + 2 * 17.007))
claim("To come down to 0.024 mg/L", deaths)
claim("fill 229 000 times its room", 229, 0)
assert 228_500 < copper / deaths < 229_500
film = between(*FILM, 200, FILM_SEED)
board = tide_clock()
dish = COPPER * np.asarray(rinse(rest.copper, film, 2 * board.width * board.height, 200e-6))
claim("its first rinse dish 38 mg/L", middle(dish))
acid, mud = float(equivalents(1.0)), float(equivalents(0.0, 1.0))
heat, gas = float(heat_taken("NaHCO3", 1.0)), float(carbon_dioxide("NaHCO3", 1.0))
claim("Each mole of acid takes 1 of soda", acid)
claim("takes up 31 kJ of heat and gives 1 of gas", heat / 1000, gas)
claim("Each mole of copper takes 1.5 to 2", float(equivalents(0.0, 1.0, "basic chloride")), mud)
claim("Hidmi and Edwards 1999", source="hidmi-edwards-1999")
claim("IUPAC 2007", source="powell-2007")
claim("Salt makes it 1 to 2.5 times as much", *SALT)

# where it goes: as the table has it
for row in tables.read("waste_law"):
    claim(row["words"].removesuffix(ASK).strip(), source=row["source"])
    claim(f"{row['status']}, {row['as_of']}", source=row["source"])

# what would prove it wrong
claim(
    "of 200 plausible baths 1 is done within an hour, 1 not in a year",
    gone.size,
    np.sum(gone < HOUR),
    np.sum(gone > 365 * DAY),
)
# at one temperature what is left falls by the same factor in the same time: the decay is of the
# first order in peroxide
claim("from 10 to 1 g/L in the same time as from 1 to 0.1", 10, 1, 1, 0.1)
assert 10 / 1 == 1 / 0.1
claim("rinse dish of our board (200 mL) reads 27 to 46 mg/L", 200, *ends(dish))
claim("under 10 or over 100 is wrong", 10, 100)
assert dish.min() > 20 and dish.max() < 50
