"""Hold every number in the text of page 00 against the package, or against its source."""

import numpy as np

from pcbchem.bench.bottle.bottle import LABEL_DOUBT, LEAST_SHARE_OF_LABEL
from pcbchem.bench.hazards import rules
from pcbchem.common.tables import read
from pcbchem.common.units import ZERO_C, L, minute
from pcbchem.lesson.plan_a_bath import curve_only, planned
from pcbchem.lesson.trust import times_with
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.bath.plausible import FACTS
from pcbchem.reaction.bath.setup import DEPTH, Foil

# the workshop's bottles and board, as the cell "the workshop's example" has them
SHOP = {"place": "elsewhere", "board_mm": (75, 60), "bare_percent": 60}
USUAL = {
    **SHOP,
    "acid": (10, "% by weight"),
    "peroxide": (12, "% by weight"),
    "parts": (0, 1, 1),
    "total_mL": 150,
}
LIMITS = {rule.name: rule.limit for rule in rules()}

mild = planned(**USUAL)
times = mild.bands["time_to_clear"]

# what stands first
year, month, day = max(rule.as_of for rule in rules()).split("-")
claim("as of 29 November 2026", int(day), int(year))

# how to read it
below = 10 * (times.values < times.low).mean()
above = 10 * (times.values > times.high).mean()
claim("tries 200", times.values.size)
claim("8 of 10 lie inside", 10 - below - above, 10)
claim("1 in 10 below it and 1 in 10 above", below, 10, above, 10)
claim("At 45 °C", LIMITS["warm while etching"] - ZERO_C)

# what the fields mean
baume = planned(**USUAL | {"acid": (20, "°Bé")})
volumes = planned(**USUAL | {"peroxide": (10, "vol")})
deep = planned(**USUAL | {"tray_mm": (80, 65)})
claim("acid within 1 % by weight of its label", 100 * LABEL_DOUBT)
claim("peroxide at 85 to 100 % of it", 100 * LEAST_SHARE_OF_LABEL, 100)
claim("20 °Baumé is 31 %", 20, 100 * baume.inputs.acid.label)
claim("10 volumes is 3 %", 10, 100 * volumes.inputs.peroxide.label)
claim("grams in 100 mL", source="definition")
claim("1 oz is about 35 µm", 1, float(Foil.ounces(1).thickness) * 1e6, rel=0.03)
claim("at 10 to 30 tilts a minute", source="definition")
claim("10 mm deep", 1000 * DEPTH)
claim("In a tray of 80 × 65 mm", source="input")
claim("58 °C in the day after", deep.bands["standing_peak"].high - ZERO_C)
claim("not 48 °C", mild.bands["standing_peak"].high - ZERO_C)
claim("0 % is none", source="definition")

# with a doubtful bottle
doubtful = planned(**USUAL | {"peroxide": (4, 12, "% by weight")})
doubtful_times = doubtful.bands["time_to_clear"]
stretch = {doubt.name: doubt.high / doubt.low for doubt in doubtful.doubts}
worst = stretch["peroxide"] * stretch["model"]
claim("between 4 and 12 %", source="input")
claim("Here that is 3.4 times", doubtful_times.high / doubtful_times.low)
claim("With the peroxide known exactly 1.7 times", stretch["peroxide"])
claim("numbers known exactly, 2.9 times", stretch["model"])
claim("1.7 times 2.9, about 4.8", stretch["peroxide"], stretch["model"], worst)

# refused
refused = planned(**SHOP, acid=(31, "%"), peroxide=(32.5, "%"), parts=(3, 1, 1), mL_per_cm2=0.83)
claim("clears in 1.7 min", refused.bands["time_to_clear"].middle / minute)

# the other way round
claim("clear in 3 to 8 minutes. In 9 of 10", source="input")
claim("it stays below 40 °C while etching", source="input")
hour_after = mild.bands["hour_peak"].high - ZERO_C
claim("in it 1 in 10 of the usual baths exceeds 48 °C", 1, 10, hour_after)
claim("labelled 3 % and is old: it may hold 1 to 3 %", source="input")

# two portions
LESS = USUAL | {"total_mL": 75}
once = planned(**LESS)
two = planned(**LESS, second=(50, 1))
cooler = once.bands["etching_peak"].high - two.bands["etching_peak"].high
claim("for at least 60 s", LIMITS["second portion too early"])
claim("the bath is at 25 °C", LIMITS["second portion into a warm bath"] - ZERO_C)
claim("less than 1 °C at the warm end", 1 if 0 < cooler < 1 else cooler)
claim("After 3 minutes", source="input")

# a bath already used
quiet = LIMITS["used bath not yet quiet"]
acid_left = mild.bands["acid_used"]
copper_left = mild.bands["copper_used"]
claim("0.5 mol/L of peroxide, 17 g/L", quiet * L, quiet * MOLAR_MASS["H2O2"])
claim("5.5 g/L of copper", copper_left.middle * MOLAR_MASS["Cu"])
claim("1.1 to 1.4 mol/L of acid", acid_left.low * L, acid_left.high * L)
claim("up to 0.2 mol/L of peroxide", source="input")

# undiluted: what people report, what the model says, and what it says if it is not told
facts = {row["fact"]: row for row in read("leave_one_out")}
reported = FACTS[0].seen[0]
told = curve_only("undiluted").band("time_to_clear")
untold = float(facts["undiluted"]["low"]), float(facts["undiluted"]["high"])
claim("about 2 s, violently", reported)
claim("in 1 to 4 s were kept", FACTS[0].low, FACTS[0].high)
claim("2.5 to 3.8 s against about 2 s", told.low, told.high, reported)
claim("3.4 to 14 s where people report about 2 s", *untold, reported)

# where the numbers come from
warm = LIMITS["warm while etching"] - ZERO_C
claim("are 45 °C, 3 mol/L", warm, LIMITS["acid fumes"] * L)
claim("the 20 to 30 min that", *(end / minute for end in mild.resist_life))
claim("For 3 : 1 : 1", 3, 1, 1)
claim("47 s where people see 60–180 s", float(facts["3 : 1 : 1"]["middle"]), *FACTS[1].seen)

# what one number of the model does
gas = RateParameters.plausible(200).gas_share
usual_times = times_with(mild)
claim(
    "make this bath take 1.6 times as long",
    np.median(times_with(mild, gas_share=gas / 3) / usual_times),
)
claim("three times of it 0.4 times", np.median(times_with(mild, gas_share=3 * gas) / usual_times))


# what offcuts would tell
def offcut(side, bath):
    """Plan a square offcut [mm] with as much bath for its copper as the workshop's board has."""
    size = {"board_mm": (side, side), "bare_percent": 100, "total_mL": 0.056 * side**2}
    return planned(**USUAL | bath | size)


def longer(large, small):
    """Return how many times as long a large offcut takes as a small one, by size exponent [-]."""
    return [
        np.median(
            times_with(large, size_exponent=exponent) / times_with(small, size_exponent=exponent)
        )
        for exponent in (0, 0.25, 0.5)
    ]


WEAK = {"peroxide": (3, "%"), "parts": (0, 1, 2)}
weak_large = offcut(40, WEAK)
weak_small = offcut(20, WEAK)
claim("two parts of 3 % to one of acid 10 %", source="input")
claim("an offcut of 16 cm² takes", weak_large.inputs.board.copper_area * 1e4)
claim("1.0, 1.2 or 1.4 times as long", *longer(weak_large, weak_small))
claim("as one of 4 cm²", weak_small.inputs.board.copper_area * 1e4)
claim("for a size exponent of 0, ¼ or ½", 0, 0.25, 0.5)
claim("it is at most 1.1 times", max(longer(offcut(40, {}), offcut(20, {}))))
