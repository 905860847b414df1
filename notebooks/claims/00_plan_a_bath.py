"""Hold every number in the text of page 00 against the package, or against its source."""

from pcbchem.bench.hazards import rules
from pcbchem.common.tables import read
from pcbchem.common.units import ZERO_C, L, minute
from pcbchem.lesson.plan_a_bath import curve_only, planned
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.page import claim
from pcbchem.reaction.bath.plausible import FACTS

# the workshop's bottles and board, written out: a claim asks the bench, not the page's examples
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
claim("1 in 10 below and 1 in 10 above", below, 10, above, 10)
claim("At 45 °C", LIMITS["warm while etching"] - ZERO_C)

# with a doubtful bottle
doubtful = planned(**USUAL | {"peroxide": (4, 12, "% by weight")})
doubtful_times = doubtful.bands["time_to_clear"]
stretch = {doubt.name: doubt.high / doubt.low for doubt in doubtful.doubts}
worst = stretch["peroxide"] * stretch["model"]
claim("equal parts of 10 % acid and 12 % peroxide", source="input")
claim("between 4 and 12 %", source="input")
claim("Here that is 3.4 times", doubtful_times.high / doubtful_times.low)
claim("With the peroxide known exactly 1.7 times", stretch["peroxide"])
claim("numbers known exactly, 2.9 times", stretch["model"])
claim("1.7 times 2.9, about 4.8", stretch["peroxide"], stretch["model"], worst)

# refused
refused = planned(**SHOP, acid=(31, "%"), peroxide=(32.5, "%"), parts=(3, 1, 1), mL_per_cm2=0.83)
claim("clears in 1.7 min", refused.bands["time_to_clear"].middle / minute)

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
claim("for 3 : 1 : 1", 3, 1, 1)
