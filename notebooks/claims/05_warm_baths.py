"""Every number that page 05 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import PAIRS, bath, tide_clock
from pcbchem.matter.solution import Solution
from pcbchem.page import claim
from pcbchem.reaction.bath import RateParameters, Tray, stand
from pcbchem.reaction.chemistry.heat import heat_of_etching, reaction_enthalpy
from pcbchem.reaction.warmth import balance, ceiling

HEAT = RateParameters.plausible().for_heat_after()
FLAT, JAR = 10, 60
STOP = hazards.rule_named("warm while etching").limit
mild = bath("mild")


def used(bottles, rates=HEAT):
    """The workshop's bath when its board comes out."""
    return etched(bath(bottles), parameters=rates).bath_after


def tray(depth):
    """A square vessel in which 150 mL stand so deep [mm]."""
    return Tray(open_area=150e-6 / (depth / 1000))


def warmest(after, depth, rates=HEAT):
    """The warmest of the hour after, of each plausible bath [°C]."""
    return np.asarray(stand(after, tray(depth), 3600.0, rates).peak_temperature) - 273.15


def paces(after, depth, T):
    """Heat made and lost by the middle bath [°C a minute]."""
    both = balance(after, tray(depth), T, HEAT)
    return 60 * np.median(both.made), 60 * np.median(both.lost)


with collecting_warnings():
    after, weak = used("mild"), used("weak")
    out, weak_out = (float(np.median(each.T)) for each in (after, weak))
    flat, jar = warmest(after, FLAT), warmest(after, JAR)
    made, lost_flat = paces(after, FLAT, out)
    _, lost_jar = paces(after, JAR, out)
    plain = RateParameters.plausible()
    slow = warmest(used("mild", plain), JAR, plain)
    weak_made, weak_flat = paces(weak, FLAT, weak_out)
    _, weak_jar = paces(weak, JAR, weak_out)
    weak_rise = np.median(warmest(weak, JAR)) - np.median(warmest(weak, FLAT))

# the first question
claim(
    "(10 % hydrochloric acid, 12 % peroxide, equal parts), at 28 °C",
    PAIRS["mild"].acid,
    PAIRS["mild"].peroxide,
    out - 273.15,
)
claim("In the flat tray, 10 mm deep", FLAT)
claim("the page tries 200 plausible baths", flat.size)
claim("the middle one stays near 28 °C", np.median(flat))
claim("into a jar, 60 mm deep", JAR)
claim("about 28 °C, as in the tray", np.median(flat))
claim("about 42 °C", np.median(jar))
claim("About 42 °C. At first it makes as much heat", np.median(jar))
claim("about 30 °C", source="input")
claim("about 35 °C", source="input")
claim("warmed by 0.55 °C a minute, cooled by 0.17 °C a minute", made, lost_jar)
# "it loses a third of what it makes"
assert 0.28 < lost_jar / made < 0.38

# why
claim("2 H₂O₂ → 2 H₂O + O₂", source="element_and_charge")
claim("At 28 °C that warms the middle bath by 0.55 °C a minute", out - 273.15, made)
claim("The flat tray takes 0.49 °C a minute away", lost_flat)
claim("60 mm deep the bath loses 0.17 °C a minute", JAR, lost_jar)
# made falls in proportion to what is left: the picture draws half of it
shares = [100 * (1 - lost / made) for lost in (lost_flat, lost_jar)]
shares.insert(1, JAR)
middle = {name: float(np.median(after.amount(name))) for name in ("HCl", "H2O2", "CuCl2")}
mass = float(np.median(after.mass))
whole, half = (
    balance(Solution.from_amounts(mass=mass, T=out, **(middle | {"H2O2": share})), T=out).made
    for share in (middle["H2O2"], middle["H2O2"] / 2)
)
assert abs(half / whole - 0.5) < 0.01

claim("once 12 % of it is gone, 60 mm deep only after 69 %", *shares)

# by hand
held = np.asarray(after.amount("H2O2")) / np.asarray(after.volume) / 1000
left, each = float(np.median(held)), -reaction_enthalpy("decomposition")[0] / 1000
rises = np.asarray(ceiling(after)) - np.asarray(after.T)
# what warms a litre by a degree, of each bath
takes = float(np.median(held * each / rises))
highest, rise = float(np.median(ceiling(after))) - 273.15, left * each / takes
claim("The middle bath still holds 1.52 mol/L of peroxide", left, rel=0.005)
claim("1.52 mol × 94.7 kJ each = 144 kJ", left, each, left * each, rel=0.005)
claim(
    "One degree takes 3.91 kJ: 144 ÷ 3.91 = 37 °C",
    takes,
    left * each,
    takes,
    highest - out + 273.15,
    rel=0.01,
)
claim(
    "From 28 °C: 28 + 37 = 65 °C",
    out - 273.15,
    out - 273.15,
    rise,
    highest,
)
claim("by the package 65", highest)
claim("Each mol/L left is worth 24 °C", each / takes)
board = float(heat_of_etching(float(tide_clock().copper)))
claim(
    "All of it makes 5 times the heat that etching the board made",
    left * each * 1000 * 0.150 / board,
)

# how sure
claim("measured in sulfate at 67 °C (Mlasi 2015)", source="mlasi-2015")
claim("one in ten still gets to 51 °C", np.quantile(slow, 0.9))
# "the middle jar would only cool": from what it comes out with
assert np.median(slow) < float(np.median(used("mild", plain).T)) - 273.15 + 0.5
limit = STOP - 273.15
claim("27 of 200 exceed 45 °C", np.sum(flat > limit), flat.size, limit)
# a thousandfold, and its quicker half: by the logarithm
factor = np.asarray(RateParameters.plausible(400).decay_factor)
assert 500 < factor.max() / factor.min() <= 1000
assert np.asarray(HEAT.decay_factor).min() >= 0.3

# the second question
claim("weak bottles: 10 % acid, 3 % peroxide", PAIRS["weak"].acid, PAIRS["weak"].peroxide)
for more in (20, 10, 3):
    claim(f"about {more} °C", source="input")
weak_left = float(np.median(np.asarray(weak.amount("H2O2")) / np.asarray(weak.volume))) / 1000
claim("Less than 1 °C. Only 0.27 mol/L of peroxide is left", 1, weak_left)
claim("less than 1 °C", 1)
assert abs(weak_rise) < 1
claim("it only cools from 24 °C", weak_out - 273.15)
claim(
    "0.27 mol/L of peroxide is left: even with no loss it could not exceed 30 °C",
    weak_left,
    float(np.median(ceiling(weak))) - 273.15,
)
claim("At 24 °C it is warmed by 0.05 °C a minute", weak_out - 273.15, weak_made)
# the page reads its curves, this the baths: their last figure may differ
claim(
    "The flat tray takes 0.26 °C a minute away; 60 mm deep it loses 0.09 °C a minute",
    weak_flat,
    JAR,
    weak_jar,
    rel=0.03,
)

# what would prove it wrong
ends = {}
for name, (width, depth) in {"dish": (12, 10), "glass": (5, 60)}.items():
    area = (width / 100) ** 2
    water = Solution.of(volume=area * depth / 1000, T=323.15)
    cooled = stand(water, Tray(open_area=area, T_air=293.15), 1200.0, plain)
    ends[name] = np.quantile(np.asarray(cooled.temperature) - 273.15, [0.1, 0.5, 0.9])
claim(
    "water of 50 °C: 10 mm deep in the dish (12 cm square), 60 mm in the glass (5 cm square)",
    source="input",
)
claim("Room 20 °C. After 20 minutes", source="input")
low, middle_end, high = ends["dish"]
claim("28 °C in the dish (23 to 34 °C)", middle_end, low, high)
low, middle_end, high = ends["glass"]
claim("39 °C in the glass (34 to 43 °C)", middle_end, low, high)
low, middle_end, high = np.quantile(flat, [0.1, 0.5, 0.9])
claim("The page says 28 °C (8 of 10: 27 to 48 °C)", middle_end, 8, 10, low, high)

claim("At 45 °C: cold water into the tub", limit)
claim("45 °C is the stop, and no forecast", limit)
# "the wall lets out more than half of what the jar loses", and together a third of the tray's
with collecting_warnings():
    bare = 60 * np.median(balance(after, tray(JAR), out, HEAT.replace(wall_loss=0.0)).lost)
assert bare < 0.5 * lost_jar and 0.28 < lost_jar / lost_flat < 0.4

# the planner says the same of the flat tray
with collecting_warnings():
    hour = np.asarray(outlook(mild).bands["hour_peak"].values) - 273.15
assert np.allclose(hour, flat, atol=0.05)
