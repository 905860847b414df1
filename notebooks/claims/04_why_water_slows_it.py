"""Every number that page 04 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench.plan.dilution import cost_without, dilution, film_at_start, over, ratio
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.band import Band
from pcbchem.lesson.workshop import bath
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.bath.plausible import FACTS, WEAK_LAYER

WATER = 2.0
still, shaken = (bath("mild", agitation=movement) for movement in ("still", "shaken"))
without, with_water = 0, 1
slow = dilution(still, [0.0, WATER])
quick = dilution(shaken, [0.0, WATER])
minutes = slow.times.middle / 60
shaken_minutes = quick.times.middle / 60
weaker = slow.weaker[with_water]

# the first question
claim("Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O", source="definition")
claim(
    "One part of 10 % hydrochloric acid and one of 12 % peroxide",
    100 * still.acid.label,
    100 * still.peroxide.label,
)
claim("clear our board in 4.4 min", minutes[without])
claim("With 2 parts of water (the tray no fuller than before)", WATER)
claim("4.4 min", minutes[without])
claim("8.9 min", weaker * minutes[without])
claim("18 min", weaker**2 * minutes[without])
claim("28 min", minutes[with_water])
claim("2 × 2 is 4", weaker, weaker, weaker**2)

# what the page says
claim(
    "With 2 parts of water the page says 28 min: 6.4 times as long",
    WATER,
    minutes[with_water],
    slow.ratio.middle[with_water],
)
claim("alone would give 2 times, both strengths multiplied 4", weaker, weaker**2)
claim("tries 200 plausible baths", slow.times.values.shape[-1])
inside = (slow.ratio.values[with_water] >= slow.ratio.low[with_water]) & (
    slow.ratio.values[with_water] <= slow.ratio.high[with_water]
)
claim(
    "8 of 10 take 4.6 to 8.2 times",
    10 * np.mean(inside),
    10,
    slow.ratio.low[with_water],
    slow.ratio.high[with_water],
)

# two measured layers
strong_layer = next(fact for fact in FACTS if fact.name == "strong layer")
less_peroxide = strong_layer.H2O2 / WEAK_LAYER.H2O2
less_acid = strong_layer.HCl / WEAK_LAYER.HCl
slower = sum(strong_layer.seen) / sum(WEAK_LAYER.seen)
claim("had 9.6 times less peroxide and 8.0 times less acid", less_peroxide, less_acid)
claim("about 18: 9.6 + 8.0", less_peroxide + less_acid, less_peroxide, less_acid)
claim("about 77: 9.6 × 8.0", less_peroxide * less_acid, less_peroxide, less_acid)
claim("about 614: 9.6 × 8.0 × 8.0", 9.6 * 8.0 * 8.0, less_peroxide, less_acid, less_acid)
claim("about 10: 9.6 alone", slower, less_peroxide)
claim(
    "3.5–4.0 µm (thousandths of a millimetre) of copper a minute, then 0.35–0.40",
    *strong_layer.seen,
    *WEAK_LAYER.seen,
)
claim("about 10 times slower, not 77", slower, less_peroxide * less_acid)

# why
film = film_at_start(slow.acid, slow.peroxide, slow.T, still.board.copper_area, still.tray)
thickness = 1e6 * film["thickness"]
less_gas = film["oxygen"][without] / film["oxygen"][with_water]
thicker = thickness[with_water] / thickness[without]
claim(
    "grows from 98 to 229 µm: 2.3 times",
    *thickness,
    thicker,
)
claim("film once: 2 × 2.3 times less", weaker, thicker)
claim("In all it takes 6.4 times as long", slow.ratio.middle[with_water])
# the two of them together, to a twentieth; what is left is running down and warmth
assert abs(film["copper"][without] / film["copper"][with_water] / (weaker * thicker) - 1) < 0.05

# how far the page rests on its guess
plausible = RateParameters.plausible()


def with_gas(factor):
    """What the water costs where every plausible bath makes so many times the gas [-]."""
    changed = plausible.replace(gas_share=plausible.gas_share * factor)
    times = [
        etched(bath("mild", parts=parts, agitation="still"), parameters=changed).run.time_to_clear
        for parts in (0.0, WATER)
    ]
    return Band.of(over(times[1], times[0]), still.draws).middle


claim("would say 3.7 times, with three times of it 8.3", with_gas(1 / 3), with_gas(3))

# the shaken tray
claim("then takes 2.8 min", shaken_minutes[without])
claim("How long with the 2 parts of water?", WATER)
claim("2.8 min", shaken_minutes[without])
claim("5.7 min", weaker * shaken_minutes[without])
claim("7.9 min", shaken_minutes[with_water])
claim("11 min", weaker**2 * shaken_minutes[without])
claim("(6.4 times as long in a still tray)", slow.ratio.middle[with_water])
claim("(2.7 times)", quick.ratio.middle[with_water])
claim(
    "The same water: 6.4 times as long in the still tray, 2.7 times in the shaken",
    slow.ratio.middle[with_water],
    quick.ratio.middle[with_water],
)
claim(
    "The middle of the ratios, bath by bath; 7.9 ÷ 2.8 is a little more",
    shaken_minutes[with_water],
    shaken_minutes[without],
)

# the rows of the third picture: said by its panel
costs = cost_without(still, WATER)
assert costs["without gas stirring"].middle < costs["without depletion"].middle
assert ratio(still, WATER, ("surface heating", "bath heating", "heat of mixing")).middle < 5
