"""Hold every number in the text of page 04 against the package, or against its source."""

import numpy as np

from pcbchem.bench.plan.dilution import ALL_OFF, ALL_ON
from pcbchem.lesson.why_water_slows_it import (
    GUESSES,
    GUESSES_AGAIN,
    QUESTION,
    cost,
    course,
    factors,
    gas_shares,
    two_sizes,
    without,
)
from pcbchem.lesson.why_water_slows_it.numbers import LARGE, SMALL
from pcbchem.lesson.workshop import ROOMY, bath
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import rows
from pcbchem.reaction.bath.plausible import FACTS, WEAK_LAYER
from pcbchem.reaction.bath.setup import MOVEMENTS

mild = course("mild")

# claims

at, strong, weak, roomy = 12, course("strong"), course("weak"), course("weak", ROOMY)
low, middle, high = (ends / 60 for ends in (mild.times.low, mild.times.middle, mild.times.high))

# claims-read
claim("But the middle bath takes 2.8 times as long", mild.ratio.middle[at])
claim("3.1 to 5.4 min, with it 8.7 to 16 min", low[0], high[0], low[at], high[at])
least, most = low[at] / high[0], high[at] / low[0]
claim("be 1.6 (slow without, quick with) to 5.2", least, most)
claim("the ratio is 2.2 to 3.5", mild.ratio.low[at], mild.ratio.high[at])
claim("the same water makes it 5.9 times as long", strong.ratio.middle[at])
claim("3 % peroxide, it is 1.9 times", 100 * weak.given.peroxide.label, weak.ratio.middle[at])
claim("tries 200 *plausible baths*", mild.times.values.shape[-1])
under, over = (
    np.mean(which)
    for which in (
        mild.times.values[at] < mild.times.low[at],
        mild.times.values[at] > mild.times.high[at],
    )
)
claim("8 of 10 lie in the pale band", 10 * (1 - under - over), 10)
claim("1 in 10 above it and 1 in 10 below", 10 * over, 10, 10 * under, 10)

# claims-question
given, thin = bath("mild"), 100 * roomy.given.peroxide.label
claim(
    "One part of 10 % hydrochloric acid and one part of 12 % peroxide",
    100 * given.acid.label,
    100 * given.peroxide.label,
)
claim("in about 4 minutes", middle[0], rel=0.1)
claim(
    "Mix in 1.2 parts of water, but fill the tray no fuller: both are then 1.6 times",
    QUESTION,
    mild.weaker[at],
)
claim('with 1.2 parts of water. "Half', QUESTION)
claim("a bath 1.6 times weaker takes 1.6 times as long", mild.weaker[at], mild.weaker[at])
claim("with 1.2 parts of water too", QUESTION)
claim("10 % acid and one part of 3 % peroxide", 100 * roomy.given.acid.label, thin)
claim(
    "Again mix in 1.2 parts of water and fill the tray no fuller: both are 1.6",
    QUESTION,
    roomy.weaker[at],
)
claim("only 3 % peroxide", thin)
claim("3 % peroxide makes hardly any", thin)

# claims-why
film, thick = mild.film, mild.film["thickness"] * 1e6
less, thicker = mild.weaker[at], thick[at] / thick[0]
claim("136 µm in place of 90 µm, 1.51 times", thick[at], thick[0], thicker)
claim("1.6 × 1.51 = 2.4 times less comes through", less, thicker, less * thicker)
copper = film["copper"][0] / film["copper"][at]
claim("1.6 × 1.51 = 2.4 times less comes through", less, thicker, copper)
claim("1.6 times weaker, and 1.6 times less", less, less)
claim("What makes its 1.9 more than 1.6", weak.ratio.middle[at], less)
mild_rows, strong_rows = factors(without("mild", 0.0)), factors(without("strong", 0.0))
mild_five, strong_five = (np.prod(list(rows.values())[1:-1]) for rows in (mild_rows, strong_rows))
claim("2.7 times against 2.2 times", mild_five, mild_rows[ALL_OFF])
claim(
    "about 140 times, and without all five it is 40 times",
    strong_five,
    strong_rows[ALL_OFF],
    rel=0.05,
)
claim("so that one is below 1", np.ceil(mild_rows["without depletion"]))

# claims-take
water = cost("mild", QUESTION)
bubbles = water["without gas stirring"].middle
claim("1.2 parts of water make it 2.8 times as long", QUESTION, water[ALL_ON].middle)
claim("makes it only 1.8 times. Without all five it is 1.6 times", bubbles, water[ALL_OFF].middle)
claim("it is 1.5: water", cost("strong", QUESTION)[ALL_OFF].middle)
claim("the 1.9 from above", weak.ratio.middle[at])
claim("1.6 × 1.6 = 2.6? Then it would be 2.6", less, less, less**2, less**2)
claim(MOVEMENTS["rocked"], source="definition")

# claims-evidence
foil, layers, ratio = given.board.foil, (FACTS[3], WEAK_LAYER), roomy.ratio
claim("about 34 µm thick and holds 305 g of copper", foil.thickness * 1e6, foil.areal_mass * 1000)
claim("weighs 63.5 g. So there are 4.80 moles", MOLAR_MASS["Cu"] * 1000, foil.amount)
claim("0.0174 moles leave each square metre", film["copper"][0])
claim("4.80 ÷ 0.0174 = 276 s, or 4.6 min", 4.80, 0.0174, 4.80 / 0.0174, 4.80 / 0.0174 / 60)
peroxide_less, acid_less = layers[0].H2O2 / layers[1].H2O2, layers[0].HCl / layers[1].HCl
claim("9.6 times less peroxide and 8.0 times less acid", peroxide_less, acid_less)
claim("3.5–4.0 µm in a minute, and then at 0.35–0.40 µm", source="homecmos")
claim('"About 2 s", "1 to 3 min" and "more than 20 min"', source="trade")
roomy_film = roomy.film["thickness"] * 1e6
claim("*3 : 1 : 1*", source="definition")
claim("*weak, 2.5 %*", source="trade")
claim("167 µm with water and 162 µm without", roomy_film[at], roomy_film[0])
claim("1.8 times (1.7 to 1.9)", ratio.middle[at], ratio.low[at], ratio.high[at])

# claims-guessed

(longer, water_less), (shorter, water_more) = gas_shares(1 / 3), gas_shares(3)
claim(
    "takes 1.7 times as long, and the water makes it 2.0 times instead of 2.8",
    longer,
    water_less,
    mild.ratio.middle[at],
)
claim("takes 0.38 times as long, and the water makes it 4.0 times", shorter, water_more)
exponents = [float(rows()["size_exponent"][end]) for end in ("low", "high")]
claim("*x*, 0 to ½ (½: a smooth", *exponents, exponents[1])
claim("offcuts, 2 and 18 cm²", SMALL * 1e4, LARGE * 1e4)
ratios = [two_sizes(exponent).middle for exponent in (0, 0.25, 0.5)]
claim("1.0, 1.3 or 1.7 times as long for *x* = 0, ¼ or ½", *ratios, 0, 0.25, 0.5)
claim("9.6 × 8.0 = 77 times", peroxide_less, acid_less, peroxide_less * acid_less)
claim("about 10", np.divide(*(np.sqrt(np.prod(layer.seen)) for layer in layers)))

# the answers to both questions
for answer in {**GUESSES, **GUESSES_AGAIN}.values():
    claim(answer, source="input")
