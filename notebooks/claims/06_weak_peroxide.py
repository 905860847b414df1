"""Every number that page 06 prints, held against the bench, apart from the page's own words."""

import dataclasses

import numpy as np

from pcbchem import Board, Bottle, Tray
from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import USUAL, bath
from pcbchem.matter.solution import Solution, mix
from pcbchem.page import claim
from pcbchem.reaction.bath.bath import LONGEST
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.brown import cuprous_held, stages
from pcbchem.reaction.chemistry import carried

weak = bath("weak")
ACID, PEROXIDE = 100 * weak.acid.label, 100 * weak.peroxide.label
STRONG = 31
plausible = RateParameters.plausible(weak.draws)
HEAT = plausible.for_heat_after()

usual = etched(weak, parameters=HEAT)
# peroxide of the workshop's own bath, times its copper, in the middle
OVER = float(np.median(carried(usual.mixture)["H2O2"]) / weak.board.copper)


def inputs_of(times, acid=ACID):
    """A bath with peroxide for so many times the copper in the middle, acid in % by weight."""
    bottle = Bottle.labelled("HCl", acid / 100)
    return dataclasses.replace(weak, acid=bottle, bath_per_area=USUAL * times / OVER)


def baths(times, acid=ACID, parameters=HEAT):
    """What becomes of them: the run and its stages."""
    with collecting_warnings():
        run = etched(inputs_of(times, acid), parameters=parameters, history=True)
    return run, stages(run.run)


def refused(inputs):
    """Whether the planner refuses it."""
    with collecting_warnings():
        bands = outlook(inputs).bands
    return hazards.severity(hazards.exceeded(bands)) == hazards.REFUSED


asked, stage = baths(1.1)
brown = stage.brown & stage.clears
never = ~stage.clears
lasts = stage.clears & ~stage.brown
early = stage.brown
spent, gone = (np.percentile(values[early], (10, 90)) for values in (stage.spent_at, stage.gone))
lost = np.asarray(2 * asked.run.oxygen_amount / asked.mixture.amount("H2O2"))
low, middle, high = np.percentile(lost, (10, 50, 90))
assert not np.any(never & ~early), "each that never clears has run out of peroxide"
assert refused(inputs_of(1.1))

# the first question
claim("Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O", source="element_and_charge")
claim("10 % hydrochloric acid and 3 % peroxide in equal parts", ACID, PEROXIDE)
claim("peroxide for 1.1 times the copper", source="input")
claim("What happens in 200 such baths", never.size)
claim("Only 29 clear while peroxide lasts", lasts.sum())
claim("Not all: 74 do, brown and slow. But 97 never come", brown.sum(), never.sum())
claim("Yes: 97 of 200", never.sum(), never.size)
claim("53 to 96 % of the copper is gone", 100 * gone[0], 100 * gone[1])
claim("Of 200 baths 97 never clear", never.size, never.sum())
claim("3 % is too weak to etch copper", PEROXIDE)

# why, and by hand
claim("Why, at 1.1 times", source="input")
claim("the planner tries 200 plausible baths (ranges: 8 of 10)", never.size, 8, 10)
claim("takes no copper: 7 to 49 %", 100 * low, 100 * high)
claim("In 171 it is spent early, after 19 to 60 min", early.sum(), *spent / 60)
claim("with 53 to 96 % of the copper gone", *100 * gone)
claim("Cu + Cu²⁺ → 2 Cu⁺", source="element_and_charge")
slow, _ = baths(1.1, parameters=plausible)
claim(
    "42 instead of 97 never clear if slow decay is counted too",
    np.isinf(slow.run.time_to_clear).sum(),
    never.sum(),
)
claim("Never is: not in 4 hours, in the model", LONGEST / 3600)
STRENGTH = np.median(weak.peroxide.strengths(weak.draws, weak.seed + 1))


def mixture(acid):
    """Equal parts of acid [% by weight] and of the middle bottle of peroxide."""
    return mix(
        Solution.of(volume=1e-3, T=293.15, HCl=acid / 100),
        Solution.of(volume=1e-3, T=293.15, H2O2=STRENGTH),
    )


peroxide = float(mixture(ACID).concentration("H2O2")) / 1000
held = float(cuprous_held(mixture(ACID))) / 1000
claim("for the fresh bath at 20 °C", 20)
claim("It holds 0.41 mol/L", peroxide)
claim("can hold 0.18 of copper(I)", held)
claim("0.18 ÷ 0.41 = 0.44", held, peroxide, 0.18 / 0.41)
claim("For 1.1 times: 0.44 × 1.1 = 0.48", 1.1, 0.44, 1.1, 0.44 * 1.1)
claim("0.48 ÷ 2 = 0.24", 0.48, 2, 0.48 / 2)
copper_left = np.asarray(asked.run.end["thickness"]) / float(asked.run.board.foil.thickness)
claim("the package says 0.17", np.median((1 - copper_left - stage.gone)[never]))
claim("The middle bath: 0.22 is lost", middle)
claim("1.1 × 0.78 = 0.86; 0.86 + 0.24 = 1.10", 1.1, 1 - 0.22, 1.1 * 0.78, 0.86, 0.24, 0.86 + 0.24)
claim("One that loses much: 0.49 is lost", high)
claim("1.1 × 0.51 = 0.56; 0.56 + 0.24 = 0.80", 1.1, 1 - 0.49, 1.1 * 0.51, 0.56, 0.24, 0.56 + 0.24)

# the second question
_, strong = baths(0.8, STRONG)
_, weaker = baths(0.8)
assert not weaker.clears.any() and strong.brown.all()
claim("peroxide for only 0.8 times the copper", source="input")
claim("strong acid: 31 % (drawn only)", source="input")
claim("How many of 10 plausible baths clear", 10)
claim("about 2", source="input")
claim("about 5", source="input")
claim("about 7", 10 * strong.clears.mean())
CLEAR = (strong.clears.sum(), strong.clears.size)
NONE = (ACID, weaker.clears.sum())
claim("No: 145 of 200 clear. None is right for 10 % acid (0 clear)", *CLEAR, *NONE)
claim("Acid of 31 % fumes", STRONG)
claim("in shares of the copper (1 is all of it)", 1)
claim("More: 145 of 200 clear", *CLEAR)
claim("Yes: 145 of 200 clear", *CLEAR)
claim("0.8 times, 31 %: 145 of 200 clear; with 10 % acid none", 0.8, STRONG, *CLEAR, ACID)
strong_held = float(cuprous_held(mixture(STRONG))) / 1000
claim("that of 31 % acid holds 1.24 mol/L of copper(I)", STRONG, strong_held)
claim("1.24 ÷ 0.41 = 3.02", 1.24, 0.41, 1.24 / 0.41)
claim("3.02 × 0.8 ÷ 2 = 1.21", 3.02, 0.8, 2, 3.02 * 0.8 / 2)
WANTED = hazards.rule_named("little reserve").limit
_, enough = baths(WANTED)
claim(
    "with peroxide for 3 times the copper, 2 of 200 never clear",
    WANTED,
    (~enough.clears).sum(),
    enough.clears.size,
)
claim("4 hours and “3 times” are our limits", LONGEST / 3600, WANTED)

# what would prove it wrong
DISH, FILLED = 30e-4, 30e-6


def offcut(bottles, area):
    """The planner's times for an offcut of so many cm² [s], and not refused."""
    inputs = dataclasses.replace(
        bath(bottles, FILLED / (1e-4 * area)),
        board=Board(area=1e-4 * area),
        tray=Tray(agitation="rocked", open_area=DISH),
    )
    assert not refused(inputs)
    with collecting_warnings():
        return np.asarray(outlook(inputs).bands["time_to_clear"].values)


ratio = offcut("weak", 12) / offcut("weak", 5)
claim("two offcuts of 1 oz, 5 and 12 cm² bare", 1, 5, 12)
claim("gets a fresh bath: 10 % acid and 3 % peroxide", ACID, PEROXIDE)
claim("6 and 2.5 mL per cm²", 1e6 * FILLED / 5, 1e6 * FILLED / 12)
ends = [np.percentile(ratio, share, method="nearest") for share in (50, 10, 90)]
claim("should take 1.4 times as long (1.2 to 2.4)", *ends)
# never more than it is: the last digit is cut off
claim("in no plausible bath under 1.09 times", int(100 * ratio.min()) / 100)
claim("Clearly under 1 in three pairs", 1)
assert ratio.min() > 1
