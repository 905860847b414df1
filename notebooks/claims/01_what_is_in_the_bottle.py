"""Every number that page 01 prints, held against the package, apart from the page's own words.

Cells of a table stand in lines of their own here, two spaces before all but the first of a row.
"""

from pcbchem.bench.bottle import Bottle
from pcbchem.bench.bottle.oxygen import oxygen_to_expect
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import etched
from pcbchem.lesson.workshop import USUAL, tide_clock
from pcbchem.matter.labels import strength
from pcbchem.matter.properties import MOLAR_MASS, density
from pcbchem.matter.solution import Solution, mix
from pcbchem.page import claim
from pcbchem.reaction.bath.setup import Tray

ROOM = 293.15
L = 1e-3
strong_acid, mild_acid = 0.3145, 0.10


def poured(parts, acid, peroxide):
    """Parts of water, acid and peroxide poured together at 20 °C, a litre for each."""
    water, of_acid, of_peroxide = parts
    bottles = [
        Solution.of(volume=of_acid * L, T=ROOM, HCl=acid),
        Solution.of(volume=of_peroxide * L, T=ROOM, H2O2=peroxide),
    ]
    if water:
        bottles.append(Solution.of(volume=water * L, T=ROOM))
    return mix(*bottles)


first = poured((3, 1, 1), strong_acid, 0.30)
second = poured((0, 1, 2), strong_acid, 0.03)
water = 100 * second.mass_fraction("H2O")
of_peroxide, of_acid = 100 * (1 - 0.03), 100 * (1 - strong_acid)

# the first question
claim(
    "Mixture A: 3 parts water, 1 part 31.45 % hydrochloric acid, 1 part 30 % peroxide, by volume",
    source="input",
)
claim("Mixture B: no water, 1 part of the same acid, 2 parts of shop peroxide, 3 %", source="input")
claim("A is 87 % water by weight", 100 * first.mass_fraction("H2O"))
claim("It is 87 %: what comes out of a bottle", water)
claim("the peroxide is 2 of 3 parts. But B is 87 % water", 2, 3, water)
claim("about 87 %, as much as A", water)
assert abs(first.mass_fraction("H2O") - second.mass_fraction("H2O")) < 0.002
claim("about 97 %", of_peroxide)
claim("the bottle of peroxide alone. B is 87 % water", water)
claim("this peroxide is 97 % water, this acid 69 %", of_peroxide, of_acid)
claim("Shop peroxide is 97 % water, right. The acid is 69 % water too", of_peroxide, of_acid)
claim("Yes: 97 % of this peroxide, 69 % of this acid", of_peroxide, of_acid)
# "In acid it is, in peroxide it is weaker"
assert second.concentration("HCl") > 1.5 * first.concentration("HCl")
assert second.concentration("H2O2") < first.concentration("H2O2") / 3

# the caution
claim("Acid of 10 % and more fumes", 100 * mild_acid)
claim("Peroxide above 12 % foams hot", source="osha-peroxide")

# how to read it
claim("1 mol of HCl weighs 36.5 g", 1, 1000 * MOLAR_MASS["HCl"])
sold_as = {3: 10, 6: 20, 12: 40, 30: 110}
for percent, volumes in sold_as.items():
    moles = strength(percent / 100, "mol/L", "H2O2", ROOM)
    # what shops print is round: 12 % would be 41 volumes
    counted = strength(percent / 100, "volume strength", "H2O2", ROOM)
    assert abs(counted / volumes - 1) < 0.03
    claim(
        f"peroxide {percent} %\n  {volumes} volumes\n  {moles:#.3g}",
        percent,
        volumes,
        strength(percent / 100, "mol/L", "H2O2", ROOM),
    )
claim("acid 10 %\n  –\n  2.87", 10, strength(mild_acid, "mol/L", "HCl", ROOM))
claim(
    "acid 31.45 %\n  20 °Bé\n  9.97",
    31.45,
    strength(strong_acid, "degrees Baume", "HCl"),
    strength(strong_acid, "mol/L", "HCl", ROOM),
)


def water_in(parts, solution):
    """Parts of water that so many parts of a bottle bring."""
    plain = Solution.of(volume=L, T=ROOM).mass
    return parts * solution.mass * solution.mass_fraction("H2O") / plain


# why, and by hand
acid = Solution.of(volume=L, T=ROOM, HCl=strong_acid)
claim(
    "two parts of 3 % peroxide bring 1.96 parts of water, two of 30 % still 1.56",
    3,
    water_in(2, Solution.of(volume=L, T=ROOM, H2O2=0.03)),
    30,
    water_in(2, Solution.of(volume=L, T=ROOM, H2O2=0.30)),
)
claim("One part of 31.45 % acid brings 0.79", 31.45, water_in(1, acid))
of_weak = water_in(2, Solution.of(volume=L, T=ROOM, H2O2=0.03))
of_strong = water_in(1, Solution.of(volume=L, T=ROOM, H2O2=0.30))
claim(
    "So 2.75 of the 3 parts of B are water, and 4.57 of the 5 of A",
    water_in(1, acid) + of_weak,
    3,
    3 + water_in(1, acid) + of_strong,
    5,
)
weight = 1000 * acid.mass
claim(
    "weighs 1156 g at 20 °C, and 31.45 % of that is HCl: 363.6 g",
    weight,
    20,
    31.45,
    weight * strong_acid,
)
moles = weight * strong_acid / (1000 * MOLAR_MASS["HCl"])
claim("36.46 g for a mole: 9.97 mol", 1000 * MOLAR_MASS["HCl"], moles)
claim("9.97 ÷ 5 = **1.99 mol/L**", moles, 5, moles / 5)
# "a little more, for liquids shrink"
assert 1.994 < first.concentration("HCl") / 1000 < 2.004
assert moles / 5 < first.concentration("HCl") / 1000


def times(acid, peroxide, without=()):
    """How long 3 : 1 : 1 from two bottles takes for the workshop's board [min]."""
    inputs = Inputs(
        Bottle.labelled("HCl", acid),
        Bottle.labelled("H2O2", peroxide),
        (3, 1, 1),
        tide_clock(),
        Tray(),
        USUAL,
        "elsewhere",
    )
    return etched(inputs, without=without).run.band("time_to_clear").middle / 60


# the second question
usual, shop = times(strong_acid, 0.30), times(strong_acid, 0.03)
other = poured((3, 1, 1), strong_acid, 0.03)
weaker = float(first.concentration("H2O2") / other.concentration("H2O2"))
claim(
    "From 31.45 % acid and 30 % peroxide (drawn only) A clears the workshop's board in 1.9 min",
    31.45,
    30,
    usual,
)
claim("the same words, 3 : 1 : 1, and takes shop peroxide, 3 %", 3, 1, 1, 3)
claim("1.9 min", usual)
claim("3.8 min", 2 * usual)
claim("21 min", weaker * usual)
claim("49 min", shop)
claim("another bath: 49 min", shop)
claim("but by 11 times: 49 min", weaker, shop)
claim("by strength alone. The model says 49 min", shop)
claim("in the tray even 11 times", weaker)
claim("Peroxide 11 times weaker, and 26 times as long.", weaker, shop / usual)
quiet = [times(strong_acid, strength, ("gas stirring",)) for strength in (0.30, 0.03)]
claim("the model says 10 times; page 04", quiet[1] / quiet[0], 4)
claim("27 cm² of bare copper", 1e4 * tide_clock().copper_area)
claim("8 of 10 plausible baths", source="definition")

# where the numbers come from
claim("Kell 1975", source="kell1975")
claim("Cooper 2004", source="laliberte2004")
claim("Easton 1952", source="easton1952")
claim("Volumes (22.414 L of gas to a mole)", source="definition")
claim(
    "20 °Bé is 31.45 % is the trade's table, from memory. It is 1.160 times water at 60 °F: "
    "1158.9 g",
    20,
    31.45,
    density(288.7056, HCl=strong_acid) / density(288.7056),
    60,
    density(288.7056, HCl=strong_acid),
)
claim("for peroxide 85 to 100 % of its label", *(100 * end / 0.12 for end in (0.102, 0.12)))

# what would prove it wrong
gas = 1e6 * oxygen_to_expect(label=0.03, sample=1e-6)
claim("1 mL of shop peroxide, labelled 3 %", 1, 3)
claim("about 11 mL of gas at 20 °C", gas, 20)
claim("With 8 mL, and no leak, your bottle holds 2.2 %", 8, 3 * 8 / gas)
# half as strong again as the label says: none is sold so
claim("With 15 mL the page", source="input")
claim("3 % peroxide is nearly all water", 3)
