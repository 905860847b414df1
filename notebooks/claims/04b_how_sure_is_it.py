"""Hold every number in the text of page 04b against the package, or against its source."""

import numpy as np

from pcbchem import Tray
from pcbchem.bench.plan.dilution import (
    ALL_OFF,
    ALL_ON,
    TAKEN,
    cost_without,
    dilution,
    film_at_start,
    offcuts,
    times_without,
)
from pcbchem.common.limits import collecting_warnings
from pcbchem.common.units import minute
from pcbchem.lesson.workshop import bath
from pcbchem.page import claim
from pcbchem.reaction.bath.plausible import FACTS, WEAK_LAYER

WATER = 2.0

with collecting_warnings():
    still = dilution(bath("mild", agitation="still"), [0, WATER])
    bands = times_without(bath("mild", agitation="still"))
    pairs = {name: offcuts(bath("mild", agitation=name), 2) for name in ("still", "shaken")}
    stirless = cost_without(bath("mild", agitation="still"), WATER)["without gas stirring"]
times, ratio = still.times, still.ratio
low, middle, high = (end / minute for end in (times.low, times.middle, times.high))
below, above = (
    10 * np.mean(which)
    for which in (times.values[0] < times.low[0], times.values[0] > times.high[0])
)

# what stands first, and how to read it
claim("tries 200 *plausible baths*", times.values.shape[-1])
claim("bands of 8 in 10", 10 - below - above, 10)

# how sure is the ratio?
mild = bath("mild")
claim(
    "10 % acid, 12 % peroxide, equal parts), tray still: 4.4 min without water, 28 min with 2",
    100 * mild.acid.label,
    100 * mild.peroxide.label,
    middle[0],
    middle[1],
    WATER,
)
claim("×6.4. Of 200", ratio.middle[1], times.values.shape[-1])
claim("×6.4 is the middle of the 200 ratios", ratio.middle[1], ratio.values.shape[-1])
every = np.outer(times.values[1], 1 / times.values[0])
chance = np.quantile(every, (0.1, 0.9), method="nearest")
claim("the ratio would be 3.9 to 10: both extremes", *chance)
claim("Then it would be 3.9 to 10: less wide too", *chance)
slower, slower_with = (times.values[where] > np.median(times.values[where]) for where in (0, 1))
half = int(slower.sum())
claim(
    "Of the 100 slower baths without water, 70 are among the slower with it; by chance it would "
    "be 50",
    half,
    int((slower & slower_with).sum()),
    half / 2,
)
claim("baths 8 in 10 take 3.3 to 6.3 min", 10 - below - above, 10, low[0], high[0])
claim("20 to 40 min with it", low[1], high[1])
claim("3.2 to 12, as the two", low[1] / high[0], high[1] / low[0])
claim("exactly ×6.4", ratio.middle[1])

# is it an order?
order = np.log(ratio.middle[1]) / np.log(still.weaker[1])
strong_layer = next(fact for fact in FACTS if fact.name == "strong layer")
slower = np.sqrt(np.prod(strong_layer.seen) / np.prod(WEAK_LAYER.seen))
weaker = np.sqrt(strong_layer.H2O2 / WEAK_LAYER.H2O2 * strong_layer.HCl / WEAK_LAYER.HCl)
claim("called order 1, four times as long order 2", np.log2(2), np.log2(4))
claim("is of order 2.7", order)
claim("layers are of order 1.1", np.log(slower) / np.log(weaker))
claim(
    "the mean of 9.6 and 8.0 times weaker",
    strong_layer.H2O2 / WEAK_LAYER.H2O2,
    strong_layer.HCl / WEAK_LAYER.HCl,
)
claim("stays 2.7", order)

# by hand
copper = still.film["copper"][0]
foil = bath("mild").board.foil.amount
claim("holds 4.80 moles of copper", foil)
claim("has 0.0159 moles leave each square metre", copper)
claim("4.80 ÷ 0.0159 = 302 s, or 5.0 min", foil, copper, 4.80 / 0.0159, 4.80 / 0.0159 / 60)

# do the effects multiply?
usual = float(bands[ALL_ON].middle)
factors = [float(bands[f"without {effect}"].middle) / usual for effect in TAKEN]
claim("without water (4.4 min)", usual / minute)
claim("multiplied they give ×4.5", np.prod(factors))
claim("×4.5 as long", np.prod(factors))
# what the words "less than that" and "a little quicker" say without a number
assert float(bands[ALL_OFF].middle) / usual < np.prod(factors) / 1.1
assert middle[0] < 4.80 / 0.0159 / 60


# measured, said, guessed
# which one falls short, of one peroxide and two acid for each copper: said without a number
def copper_leaving(acid: float, peroxide: float) -> float:
    """Return what leaves in a shaken tray, where bubbles stir least [mol/(m² s)]."""
    film = film_at_start(acid, peroxide, 293.15, 27e-4, Tray(agitation="shaken"))
    return float(film["copper"])


for bath_acid, bath_peroxide, short in (
    (strong_layer.HCl, strong_layer.H2O2, "peroxide"),
    (WEAK_LAYER.HCl, WEAK_LAYER.H2O2, "peroxide"),
    (still.acid[0], still.peroxide[0], "acid"),
):
    more_acid = copper_leaving(1.05 * bath_acid, bath_peroxide)
    more_peroxide = copper_leaving(bath_acid, 1.05 * bath_peroxide)
    assert (more_acid > more_peroxide) == (short == "acid")
claim("*3 : 1 : 1*", source="definition")
claim("*Weak, 2.5 %*", source="trade")

# what would prove it wrong
claim("with 2 parts of water. Each", WATER)
for name, band in pairs.items():
    page = f"**{band.middle:.1f}** ({band.low:.1f} to {band.high:.1f})"
    claim(f"| {name} | 2 | 4 | {page} |", 2, 2**2, band.middle, band.low, band.high)
claim("**3 or less when still", np.ceil(stirless.high))
claim("Without bubbles the model gives 2.8; about 2: strength alone", stirless.middle, 2)
passing = int(np.sum((pairs["still"].values > 4) & (pairs["shaken"].values < 4)))
baths = pairs["still"].values.shape[-1]
claim("Of its own 200 baths 18 would not pass", baths, baths - passing)
claim("About 4 in both", 2**2)
claim("Above 4 when still and below 4 when shaken", 4, 4)
assert pairs["still"].low > 4 > pairs["shaken"].high
