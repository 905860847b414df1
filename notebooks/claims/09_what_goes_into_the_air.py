"""Every number that page 09 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench.air import (
    bath_source,
    breathe,
    chlorine_ceiling,
    limits,
    mass_per_air,
    open_bottle,
    spill,
    tray,
    water_lost,
    workplace,
)
from pcbchem.bench.plan.planning import planned
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.common.tables import read
from pcbchem.lesson.workshop import PAIRS, bath
from pcbchem.matter.solution import Solution
from pcbchem.matter.vapour import hydrogen_chloride
from pcbchem.page import claim

MINUTE, HOUR, PPM = 60.0, 3600.0, 1e-6
AIR = 101325.0
STRONG, MILD = PAIRS["strong"].acid, PAIRS["mild"].acid
ACIDS = (10, 15, 20, 25, 31, 36)
TWO_FIGURES = 0.051
"""How far a number of two figures may lie off, such as 10 for 10.5 [-]."""

with collecting_warnings():
    mild = planned(bath("mild"))


def near(source, place, minutes):
    """What is breathed near a source at most, in each plausible case [ppm]."""
    return np.asarray(breathe(source, place, minutes * MINUTE).peak) / PPM


def bottle(acid, place="shut room"):
    """The open bottle of the page, 40 mm of air in a neck of 25 mm [ppm]."""
    return near(open_bottle(acid / 100, 0.040, 0.025), place, 10)


def spilt(acid, place="shut room"):
    """The spill of the page, 100 mL [ppm]."""
    return near(spill(100e-6, acid / 100), place, 15)


def tub(place="shut room"):
    """The mild bath in its tray [ppm]."""
    return near(bath_source(mild), place, 15)


def ends(values):
    """Low, middle and high end of the plausible cases."""
    band = Band.of(np.asarray(values), 200)
    return float(band.low), float(band.middle), float(band.high)


def over(acid):
    """Acid gas right over acid of so many % at 20 °C [ppm]."""
    return float(hydrogen_chloride(293.15, acid / 100)) / AIR / PPM


def limit(kind, substance="HCl", place="GB"):
    """A limit of the table [ppm]."""
    return next(each.value for each in limits(place, substance) if each.kind == kind) / PPM


in_bath = 100 * float(np.median(mild.mixture.mass_fraction("HCl")))
times_bottle, times_spill = ends(bottle(STRONG) / tub())[1], ends(spilt(STRONG) / tub())[1]

# the cautions
claim("From 10 % on acid fumes", source="trade")

# the first question
claim("A shut room of 30 m³ at 20 °C", workplace("shut room").volume, 20)
width = 1e4 * float(bath_source(mild).area)
claim("the workshop's bath, warm, 5 % acid, 150 cm² wide", in_bath, width)
claim("open for 15 min", source="input")
claim("a bottle of 31 % acid, open for 10 min, 40 mm of air in its neck", STRONG, 10, 40)
claim("100 mL of that acid spilt, for 15 min", source="input")
claim("B 10 times A, C 100 times A", source="input")
claim("B 100 times A, C 30\u202f000 times A", times_bottle, times_spill, rel=0.2)
for start in ("No", "More", "Yes"):
    claim(
        f"{start}: B 100 times, C 27\u202f000 times A", times_bottle, times_spill, rel=TWO_FIGURES
    )
claim("In A the acid is mixed down to 5 %", in_bath)
claim("its acid is thin: 5 %", in_bath)
claim("though 31 % is only 6 times the acid of A", STRONG, STRONG / in_bath)
claim("5 % of it in the bath, 31 in the bottle", in_bath, STRONG)
each = (over(25) / over(10)) ** (1 / 3)
claim("about 7 times for each 5 % more", each, 5)

# why
claim("Right over acid at 20 °C the air holds", 20)
cells = ("0.57", "5.2", "38", "270", "2000", "21\u202f000", "140\u202f000")
for acid, cell in zip((5, *ACIDS), cells, strict=True):
    claim(f"{acid} %\n  {cell}\n", acid, over(acid), rel=TWO_FIGURES)
claim("Each 5 % more is about 7 times as much", 5, each)
# about the same at each step, and so for all of them
steps = [over(acid + 5) / over(acid) for acid in (10, 15, 20)]
assert 0.95 * each < min(steps) and max(steps) < 1.05 * each
claim("over 31 % 4000 times what is over 10 %", STRONG, over(STRONG) / over(MILD), MILD, rel=0.01)
# "not three times"
assert round(STRONG / MILD) == 3
claim("One breath over acid of 25 % and more can burn the lungs", source="trade")
less = ends(spilt(STRONG) / spilt(STRONG, "window and fan"))
claim("the page tries 200 cases", spilt(STRONG).size)
claim("1.5 times less (1.2 to 1.9)", less[1], less[0], less[2])
outdoors = spilt(STRONG, "open air")
less = ends(spilt(STRONG) / outdoors)
claim("7.2 times less (5 to 11)", less[1], less[0], less[2])
claim("downwind, near the ground, ten times and more", source="assumption")
little = ends(near(spill(10e-6, STRONG / 100), "shut room", 15))
claim("10 mL spilt give 7.8 (4.1 to 13)", 10, little[1], little[0], little[2])
peroxide = np.asarray(breathe(bath_source(mild), "shut room", 900.0, gas="H2O2").peak) / PPM
claim("21 times as much of it as of acid gas", ends(peroxide / tub())[1])
large = tray(mild.mixture, 0.2, mild.run.peak_temperature)
large = ends(np.asarray(breathe(large, "shut room", HOUR, gas="H2O2").peak) / PPM)
claim("A tray of 2000 cm², open for an hour", source="input")
claim("gives 1.4 (0.61 to 3.1)", large[1], large[0], large[2])
claim("Limits at work begin at 0.5", limit("8 h", "H2O2", "elsewhere"))
amounts = [np.median(mild.mixture.amount(name)) for name in ("HCl", "H2O2")]
one_ppm = mass_per_air(PPM, "Cl2") * 30 / 0.070906
claim(
    "87 ppm in 30 m³; dangerous at once from 10",
    chlorine_ceiling(*amounts) / one_ppm,
    30,
    limit("dangerous at once", "Cl2"),
)

# by hand
room = ends(breathe(spill(100e-6, 0.31), "shut room", 15 * MINUTE).room / PPM)[1]
milligrams = 1e6 * mass_per_air(PPM, "HCl")
claim("At the end of the spill the package finds 38 ppm", room)
claim("weighs 1.52 mg in a cubic metre", milligrams)
claim("38 × 1.52 = 58 mg", room, milligrams, 38 * 1.52)
claim("58 × 30 = 1740 mg, or 1.7 g", 58, 30, 58 * 30, 1.74)
HCl = Solution.of(volume=100e-6, T=293.15, HCl=0.31)
claim("Spilt were 115 g of acid, 31 % of it HCl: 36 g", 1000 * HCl.mass, 31, 310 * HCl.mass)
claim("1.7 g", 1000 * mass_per_air(room * PPM, "HCl") * 30)

# where the numbers come from
claim("within 3 % of another", source="perry_vapour")
for doubt in ("film", "draught", "still air", "spill depth"):
    assert next(row for row in read("air_doubts") if row["doubt"] == doubt)["status"] == "assumed"
claim("5 ppm: in Britain over 15 minutes, in the US never", limit("15 min"), 15)
by_law = [row for row in limits("US", "HCl") if row.kind == "ceiling" and "by law" in row.words]
assert [row.value / PPM for row in by_law] == [5]
# "others are stricter"
assert limit("8 h") < 5 and min(row.value for row in limits("US", "HCl")) / PPM < 5
claim("Dangerous at once, 45: NIOSH, a US office, 2025", limit("dangerous at once"), 2025)
smell = next(row for row in limits("GB", "HCl") if row.kind == "smell")
claim("Smell: 0.77 to 3 ppm", smell.low / PPM, smell.high / PPM)

# the second question
claim("The workshop buys acid of 10 % instead", MILD)
rows = ends(spilt(MILD))[1], ends(tub())[1], ends(bottle(MILD))[1]
for start in ("No", "Yes"):
    claim(f"{start}: spill 0.02 ppm, bath 0.0018, bottle 0.000044", *rows)
claim("The bottle gives 38 times less than the bath", 1 / ends(bottle(MILD) / tub())[1])
claim("The spill is still 12 times the bath", ends(spilt(MILD) / tub())[1])
claim("the bottle was only about 100 times the bath", times_bottle, rel=TWO_FIGURES)
share = over(STRONG) / over(MILD)
claim("21\u202f000 ÷ 5.2 is about 4000", over(STRONG), over(MILD), share, rel=TWO_FIGURES)
claim("100 ÷ 4000 is about 1/40", times_bottle, share, 1, share / times_bottle, rel=TWO_FIGURES)
# "twice as strong as the bath"
assert round(MILD / in_bath) == 2

# which bottle
for acid, cells in {
    10: ("0.000044", "0.02"),
    15: ("0.00032", "0.14"),
    20: ("0.0023", "0.91"),
    25: ("0.016", "6"),
    31: ("0.17", "50"),
    36: ("1.2", "170"),
}.items():
    values = acid, ends(bottle(acid))[1], ends(spilt(acid))[1]
    claim("\n  ".join((f"{acid} %", *cells)), *values, rel=TWO_FIGURES)
claim("With acid of 10 instead of 31 %", MILD, STRONG)
less = ends(spilt(STRONG) / spilt(MILD))
claim("2400 times less (1500 to 3300)", less[1], less[0], less[2], rel=TWO_FIGURES)
in_order = (spilt(MILD) > tub()) & (tub() > bottle(MILD))
claim("the order in 199 of 200 cases", np.sum(in_order), in_order.size)
claim(
    "up to 87 ppm in the shut room; 10 are dangerous at once",
    chlorine_ceiling(*amounts) / one_ppm,
    limit("dangerous at once", "Cl2"),
)
claim("Acid of 10 % burns eyes", MILD)

# what would prove it wrong
claim("150 mL in a flat dish of 150 cm²", source="input")
claim("water 40 mm down a neck 25 mm wide", source="input")
claim("Indoors, 20 °C", source="input")
pure = Solution.of(volume=150e-6, T=293.15)
dish = 1000 * water_lost(tray(pure, 150e-4), "shut room", 3 * HOUR)
neck = 1000 * water_lost(open_bottle(0.0, 0.040, 0.025), "shut room", 7 * 24 * HOUR)
low, middle, high = ends(dish)
claim("In 3 hours the dish should lose 3.1 g (1.7 to 5.8)", 3, middle, low, high)
low, middle, high = ends(neck)
claim("in a week the bottle 1.8 g (1.4 to 2.7)", middle, low, high)
