"""Every number that page 10 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.waste import Rest, closed_pressure, films, peroxide_after, rinse, time_gone
from pcbchem.bench.waste.label import label_of
from pcbchem.bench.waste.where import ASK, waste_limit
from pcbchem.common import tables
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.after_the_last_board.texts import PLACE_WORDS
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.chemistry import SALT, copper_band

HOUR, DAY = 3600.0, 86_400.0
H2O2, COPPER = 34.014, 63.546  # g/mol
inputs = bath("mild")
parameters = RateParameters.plausible(200)
with collecting_warnings():
    etching = etched(inputs, parameters=parameters)
    rest = Rest(etching.bath_after, etching.tray)
    gone = np.asarray(time_gone(rest))
    late = H2O2 * np.asarray(peroxide_after(rest, None, [12 * HOUR, 3 * DAY, 7 * DAY])) / 1000
# it counts as gone under 1 mg/L
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
claim("1 hour to 12 hours", 1, 12)
claim("1 day to 3 days", 1, 3)
claim("12 hours to 3 months", 12, 3)
claim("1 month to 3 months", 1, 3)
claim("after 12 hours 177 of 200 plausible baths still", 12, np.sum(late[0] >= STRIP), 200)
claim("after 3 days 129 of 200 plausible baths still", 3, np.sum(late[1] >= STRIP), 200)
claim(
    "in 93 of 200 plausible baths it is gone within a week", np.sum(late[2] < STRIP), late[2].size
)
claim("8 of 10 plausible baths take 12 hours to 15 weeks", 8, 10, low / HOUR, high / DAY / 7)
# "12 hours to 3 months", "one in ten longer still"
assert 0.35 * DAY < low < 0.75 * DAY and 60 * DAY < high < 120 * DAY

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
    # "12 hours to 3 months", whatever the bottles
    assert 0.7 < middle(times) / middle(gone) < 1.3
    assert 0.7 < ends(times)[1] / high < 1.3
claim("is its peroxide gone, under 1 mg/L", 1000 * STRIP)
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

# what to do now: the rule of the cautions, and the label of what is left
caution = next(row for row in tables.read("cautions") if "two days" in row["words"])
assert "in one drop of bath to 100 of water" in caution["words"]
claim("in one drop of bath to 100 of water", source="trade")
claim(f"as of {label_of(rest).as_of}", source="clp-ph")

# the second question
copper = COPPER * middle(rest.copper)  # mg/L
deaths = waste_limit("water fleas, two days").value / 1000  # mg/L
little = [COPPER * float(end) for end in copper_band(8.0, carbonate=100.0)]
claim("At pH 8 the copper lies as mud", 8)
claim("0.024 mg/L of copper kill half of the water fleas in two days", deaths)
claim("0.52 to 98 mg/L, at least 22 times what kills", *little, little[0] / deaths, rel=0.01)
claim("0.52 to 98 mg/L is left: at least 22 times", *little, little[0] / deaths, rel=0.01)
claim("less than 0.024 mg/L", deaths)
claim("about 0.024 mg/L", deaths)
claim("over 10 times 0.024 mg/L", 10, deaths)
assert little[0] / deaths > 20
claim("nearly all, 5500 mg/L", copper, rel=0.01)
claim("Up to 99.99 % is not", 100 * (1 - little[0] / copper))

# why clear is not clean
# "soda left over holds more"
assert float(copper_band(8.0, carbonate=500.0)[0]) * COPPER > 5 * little[0]
claim("For 0.024 mg/L the bath", deaths)
claim("fill 229 000 times its room", 229, 0)
assert 228_500 < copper / deaths < 229_500
film = films(200)
board = tide_clock()
dish = COPPER * np.asarray(rinse(rest.copper, film, 2 * board.width * board.height, 200e-6))
claim("Hidmi and Edwards 1999", source="hidmi-edwards-1999")
claim("IUPAC 2007", source="powell-2007")
claim("Salt keeps 1 to 2.5 times as much dissolved", *SALT)

# where it goes: as the table has it
for row in tables.read("waste_law"):
    place = PLACE_WORDS.get(row["place"], "")
    words = row["words"].removesuffix(ASK).strip().removeprefix(f"{place}: ")
    claim(words[1:], source=row["source"])
    claim(f"What we know, as of {row['as_of']}", source=row["source"])

claim("running water at once, 30 minutes", source="ansi-z358")
claim("Burns: water, 30 minutes", source="ansi-z358")
claim("Under 18", source="trade")

# what would prove it wrong
claim("rinse dish of our board (200 mL) reads 27 to 46 mg/L", 200, *ends(dish))
claim("under 10 or over 100 is wrong", 10, 100)
assert dish.min() > 20 and dish.max() < 50
