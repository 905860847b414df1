"""Every number that page 03 prints, held against the bench, apart from the page's own words."""

import dataclasses

import numpy as np

from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import USUAL, bath, tide_clock
from pcbchem.matter.solution import Solution, mix
from pcbchem.page import claim
from pcbchem.reaction.bath.setup import Foil
from pcbchem.reaction.chemistry import limiting_reagent, needed, reserve

ROOM, VOLUME, COPPER = 293.15, 150e-6, 63.546
board = tide_clock()
mild = bath("mild")
ACID, PEROXIDE = 100 * mild.acid.label, 100 * mild.peroxide.label


def poured(parts, peroxide, acid_part=1.0):
    """A full tray of so many parts of acid and peroxide [% by weight]."""
    part = VOLUME / (acid_part + parts)
    return mix(
        Solution.of(volume=part * acid_part, T=ROOM, HCl=ACID / 100),
        Solution.of(volume=part * parts, T=ROOM, H2O2=peroxide / 100),
    )


def boards(parts, peroxide):
    """Boards by the acid and by the peroxide of a full tray."""
    tray, one = poured(parts, peroxide), needed(board.copper)
    return [float(tray.amount(name) / one[name]) for name in ("HCl", "H2O2")]


acid, peroxide = boards(1, PEROXIDE)
acid_asked, _ = boards(2, PEROXIDE)
equal, asked = (reserve(poured(parts, PEROXIDE), board) for parts in (1, 2))

# the first question
claim("Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O", source="element_and_charge")
claim("mix 1 part of 10 % hydrochloric acid and 1 part of 12 % peroxide", 1, ACID, 1, PEROXIDE)
claim("about 8 tide-clock boards", equal)
claim("pour 2 parts of peroxide to 1 of acid", 2, 1)
claim("about 17", 2 * equal)
claim("about 11", equal * (2 / 3) / (1 / 2))
claim("about 8", equal)
claim("about 5½", asked)
# a third more peroxide in the tray, said in words
stronger = poured(2, PEROXIDE).concentration("H2O2") / poured(1, PEROXIDE).concentration("H2O2")
assert abs(stronger - 4 / 3) < 0.01

# why, and by hand
claim("At 1 : 1 the acid is enough for 8.3 boards, the peroxide for 21", 1, 1, acid, peroxide)
claim("At 1 : 2 a third of the tray is acid, not a half: enough for 5.5", 1, 2, acid_asked)
foil = Foil.ounces(1)
milligrams = 100 * foil.areal_mass
claim("A foil of 1 oz has 30.5 mg there", 1, milligrams)
claim("30.5 ÷ 63.5 = 0.480 mmol", milligrams, COPPER, milligrams / COPPER)
claim("2 × 0.480 = 0.960 mmol", 2, milligrams / COPPER, 2 * milligrams / COPPER)
# mol/L is mmol/mL, over so many mL per cm²
acid_there, peroxide_there = (
    float(poured(1, PEROXIDE).concentration(name)) / 1000 * 100 * USUAL for name in ("HCl", "H2O2")
)
claim("bath holds 7.98 mmol of acid there", acid_there)
claim("7.98 ÷ 0.960 = 8.3 boards", acid_there, 2 * milligrams / COPPER, acid)
claim("10.2 ÷ 0.480 = 21 boards", peroxide_there, milligrams / COPPER, peroxide)

# the day after with twice the peroxide
asked_bath = dataclasses.replace(mild, parts=(0, 1, 2))
with collecting_warnings():
    day = np.asarray(outlook(asked_bath).bands["standing_peak"].values) - 273.15
claim("the planner tries 200 *plausible baths*".replace("*", ""), day.size)
claim("With 2 parts of peroxide, 22 of them get above 60 °C", 2, np.sum(day > 60), 60)

# less bath
WANTED = hazards.rule_named("little reserve").limit
least, enough = (100 * USUAL * times / equal for times in (1, WANTED))
with collecting_warnings():
    thin, wanted, usual = (
        outlook(bath("mild", room / 100)).bands for room in (least, enough, 100 * USUAL)
    )
# "about an eighth of the workshop's bath" and "about a third"
assert 7.5 < 100 * USUAL / least < 8.5 and 2.5 < 100 * USUAL / enough < 3.5
claim("Of 200 plausible baths so thin", thin["time_to_clear"].values.size)
claim("116 never clear the board", np.isinf(thin["time_to_clear"].values).sum())
claim("28 °C while it etches", usual["etching_peak"].middle - 273.15)
# "left standing it may get far hotter"
assert usual["standing_peak"].high > usual["etching_peak"].high + 10
assert hazards.severity(hazards.exceeded(thin)) == hazards.REFUSED
# "most get too warm", and "even that can get too warm" without being refused
TOO_WARM = hazards.rule_named("warm while etching").limit
assert np.mean(thin["etching_peak"].values > TOO_WARM) > 0.9
assert 0.1 < np.mean(wanted["etching_peak"].values > TOO_WARM) < 0.5
assert hazards.severity(hazards.exceeded(wanted)) == 1
claim("at least 3 times the copper", WANTED)
claim("1 oz on a square foot is 305 g/m²", 1, 1000 * foil.areal_mass)
claim("*General Chemistry*, 3.4".replace("*", ""), source="averill-general-chemistry")
claim("“3 times” is our limit", WANTED)

# the second question
claim("with the same 10 % acid", ACID)
for strong in (9.0, 6.0, 3.0):
    claim(f"{strong:g} %", strong)
by_acid, by_peroxide = boards(1, 9.0)
claim("It holds 1.9 times what the acid can use", by_peroxide / by_acid)
by_acid, by_peroxide = boards(1, 6.0)
claim("still 1.25 times what the acid can use", by_peroxide / by_acid)
by_acid, by_peroxide = boards(1, 3.0)
claim("peroxide for 5.1 boards, and acid for 8.3", by_peroxide, by_acid)
claim("With 3 % the peroxide does", 3.0)
claim("At 1 : 1 peroxide runs out first, so more of it helps", 1, 1)
parts = np.linspace(0.5, 3.0, 2501)
top = parts[np.argmax(reserve(poured(parts, 3.0), board))]
claim("With 3 % the top lies right of 1 : 1", 3.0, 1, 1)
claim("up to about 1 : 1.6", 1, top)
strengths = np.linspace(3.0, 12.0, 901)
first = [limiting_reagent(poured(1, strength)) for strength in strengths]
change = strengths[first.index("HCl")]
claim("With 10 % acid in equal parts the scarce one changes near 4.8 % peroxide", ACID, change)
for share in (0.09, 0.06, 0.12):
    assert limiting_reagent(poured(1, 100 * share)) == "HCl"

# what would prove it wrong
lost = [1000 * Foil.ounces(ounces).areal_mass * 20e-4 for ounces in (1, 0.5, 2)]
claim("an offcut with 20 cm² of bare 1 oz copper", source="input")
claim(
    "lose about 0.61 g, a tenth more or less (½ oz: 0.31 g; 2 oz: 1.22 g)",
    lost[0],
    0.5,
    lost[1],
    2,
    lost[2],
)
# NaHCO3 and CH3COOH from their elements
SODA = 22.98977 + 1.008 + 12.011 + 3 * 15.999
ACETIC = 2 * 12.011 + 4 * 1.008 + 2 * 15.999
claim("5 g of baking soda takes about 71 g of 5 % vinegar", 5, 5 / SODA * ACETIC / 0.05, 5)
