"""Every number that page 02 prints, held against the package, apart from the page's own words."""

import numpy as np

from pcbchem import Bottle, Solution, mix
from pcbchem.bench.hazards import rule_named
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.planning import planned
from pcbchem.bench.plan.pours import SOME_ACID, STRONG_ACID, WEAK, WEAK_FOR_STRONG_ACID, poured
from pcbchem.lesson.workshop import USUAL, tide_clock
from pcbchem.matter.heats import hcl_apparent_enthalpy
from pcbchem.page import claim
from pcbchem.reaction.bath.setup import Tray
from pcbchem.reaction.chemistry.heat import course_of_pour

COLD, TABLE = 293.15, 298.15  # K
STRONG, MILD = 0.3145, 0.10
WATER, PEROXIDE = 3.0, 2.0  # parts
SHARES = np.linspace(0, 1, 401)
QUARTER = 100  # place of a quarter among the shares
FUMES = rule_named("too much acid")


def acid_of(strength, T=COLD):
    """Return one part of acid [kg/kg]."""
    return Solution.of(volume=1, T=T, HCl=strength)


def water_of(parts, T=COLD, H2O2=0.0):
    """Return parts of water, or of peroxide [kg/kg]."""
    return Solution.of(volume=parts, T=T, H2O2=H2O2)


acid, water = acid_of(STRONG), water_of(WATER)
up, over = course_of_pour(water, acid, SHARES), course_of_pour(acid, water, SHARES)
end = up.T[-1] - 273.15
top = over.T.max() - 273.15
stronger = over.concentration("HCl")[QUARTER] / up.concentration("HCl")[QUARTER]
assert abs(up.T[-1] - over.T[-1]) < 1e-6, "both alike"

# the caution
claim(
    "Acid of 25 % and more never meets peroxide above 4 %",
    100 * STRONG_ACID,
    100 * WEAK_FOR_STRONG_ACID,
)
claim("acid above 12 % and peroxide above 6 % never", 100 * SOME_ACID, 100 * WEAK)

# the first question
claim("One part of 31.45 % hydrochloric acid (muriatic acid; drawn only)", 100 * STRONG)
claim("all at 20 °C", COLD - 273.15)
claim("theirs, by about 10 °C", source="input")
claim("yours, by about 10 °C", source="input")
claim("Both end at 26 °C", end)
claim("both stand at 26 °C", end)
claim("The page says so too: 26 °C", end)
claim("theirs is 7.4 times stronger (a quarter", stronger)
claim("theirs gets to 31 °C", top)

# what the first panel notes
claim("none is hotter than 31 °C", top)
claim(
    "acid of 5.7 mol/L, out of yours of 0.77 mol/L",
    over.concentration("HCl")[QUARTER] / 1000,
    up.concentration("HCl")[QUARTER] / 1000,
)
claim("the bottle's own acid, 10 mol/L", acid.concentration("HCl") / 1000)

# by hand, from the temperature of the table
warm_acid, warm_water = acid_of(STRONG, TABLE), water_of(WATER, TABLE)
mixture = mix(warm_acid, warm_water)


def heat_left(solution):
    """Return what each mole sets free if it is diluted without end [J/mol]."""
    fraction = solution.mass_fraction("HCl")
    return hcl_apparent_enthalpy(fraction / 0.036461 / (1 - fraction))


moles = mixture.concentration("HCl") / 1000
freed = (heat_left(warm_acid) - heat_left(mixture)) / 1000
per_degree = mixture.density * mixture.heat_capacity / 1e6
claim("From 25 °C, where such heats are listed", TABLE - 273.15)
claim("2.49 mol of acid × 9.80 kJ for each = 24.4 kJ", moles, freed, moles * freed)
claim(
    "For 1 °C a litre takes 3.71 kJ: 24.4 ÷ 3.71",
    1,
    per_degree,
    moles * freed,
    per_degree,
)
claim("6.6 °C warmer", moles * freed / per_degree)
claim("says 6.6", mixture.T - TABLE)
claim("(From 20 °C it is 6.4.)", COLD - 273.15, up.T[-1] - COLD)
# tests/lesson/acid_into_water/test_numbers.py works both out from that textbook
claim("within 0.5 °C", source="input")
claim(
    "6 mol/L, and bottles of at most 25 °C",
    FUMES.limit / 1000,
    rule_named("warm bottles").limit - 273.15,
)
assert "our limit" in FUMES.source and "our limit" in rule_named("warm bottles").source
# as `mix` says of its own result
assert "±1.5 K for two strong" in " ".join(mix.__doc__.split())
claim("strong bottles ±1.5 °C", 1.5)

# the second question
shop = water_of(PEROXIDE, H2O2=0.03)
up_peroxide, over_peroxide = course_of_pour(shop, acid, SHARES), course_of_pour(acid, shop, SHARES)
claim("one part of 31.45 % acid, two parts of shop peroxide of 3 %", 100 * STRONG, 3)
claim("for peroxide of at most 4 % alone", 100 * WEAK_FOR_STRONG_ACID)
claim("Look at the label: 3 % peroxide", 3)
claim("Then the jug starts with undiluted acid, far over 6 mol/L", FUMES.limit / 1000)
assert over_peroxide.concentration("HCl")[0] > 1.5 * FUMES.limit
claim("Only in the end: both at 28 °C", up_peroxide.T[-1] - 273.15)
claim("acid first starts far over 6 mol/L", FUMES.limit / 1000)
claim("97 % of its weight", 100 * shop.mass_fraction("H2O"))

# what the second panel notes
claim("Peroxide of 3 % is the water here", 3)
claim(
    "to 3.3 mol/L and 28 °C",
    up_peroxide.concentration("HCl")[-1] / 1000,
    up_peroxide.T[-1] - 273.15,
)
claim("goes over a top of 31 °C", over_peroxide.T.max() - 273.15)
claim("acid of 25 % and more into water", 100 * STRONG_ACID)
claim("peroxide of at most 4 %", 100 * WEAK_FOR_STRONG_ACID)


def plan_with(peroxide):
    """Return what is planned of the same acid and peroxide [kg/kg], without water."""
    bottles = Bottle.labelled("HCl", STRONG), Bottle.labelled("H2O2", peroxide)
    inputs = Inputs(*bottles, (0, 1, PEROXIDE), tide_clock(), Tray(), USUAL, "EU")
    return planned(inputs), list(poured(inputs))


for peroxide in (0.03, WEAK_FOR_STRONG_ACID):
    plan, order = plan_with(peroxide)
    assert plan.verdict == "with care" and order == ["peroxide", "acid"]
for peroxide in (WEAK_FOR_STRONG_ACID + 0.001, 0.06, 0.12):
    plan, order = plan_with(peroxide)
    assert plan.verdict == "do not mix" and order == ["acid", "peroxide"]
    assert "peroxide poured into strong acid" in [reason.rule for reason in plan.reasons]

# what would prove it wrong: one part into one part of water


def half_and_half(strength):
    """Return how much acid [kg/kg] warms with as much water [K]."""
    return mix(acid_of(strength), water_of(1.0)).T - COLD


bottle = Bottle.labelled("HCl", MILD)
claim("hydrochloric acid, 10 %,", 100 * MILD)
claim(
    "A thermometer with tenths shows 0.5 °C (0.4 to 0.6) more",
    *(half_and_half(strength) for strength in (MILD, bottle.low, bottle.high)),
)
# from memory: at 20 °C sugar solution of 35 % weighs 1.1513 kg/L, of 40 % 1.1764 kg/L
share = 150 / (150 + 250)
syrup = np.interp(share, (0.35, 0.40), (1.1513, 1.1764))
assert abs(syrup / (acid.density / 1000) - 1) < 0.01
claim("150 g of sugar in 250 g of water", source="input")
claim("as heavy as 31 % acid (1.16 kg/L", 100 * STRONG, acid.density / 1000)

# what one can say
claim(
    "31.45 % acid with three parts of water by 6.4 °C, 10 % acid by 0.4",
    100 * STRONG,
    up.T[-1] - COLD,
    100 * MILD,
    mix(acid_of(MILD), water).T - COLD,
)
claim("Shop peroxide of 3 % counts as the water", 3)
