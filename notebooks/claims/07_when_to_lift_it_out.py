"""Every number that page 07 prints, held against the bench, apart from the page's own words."""

import dataclasses

import numpy as np

from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.common import tables
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.when_to_lift_it_out.numbers import FACTOR_SEED
from pcbchem.lesson.workshop import USUAL, bath, tide_clock
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.trace import (
    UNEVEN,
    allowance,
    etch_factor,
    measured_factor,
    over_at_loss,
    pulled,
    time_at_loss,
    widths,
)

DRAWN, MINUTE = 200e-6, 60.0
factor = np.asarray(etch_factor("rocked", 200, FACTOR_SEED))


def times(inputs, ounces=1.0):
    """Times to clear the tide-clock board [s], as the planner has them."""
    with collecting_warnings():
        board = tide_clock(ounces)
        return outlook(dataclasses.replace(inputs, board=board)).bands["time_to_clear"].values


def foil(ounces=1.0):
    """Thickness of a foil [m]."""
    return float(tide_clock(ounces).foil.thickness)


def middle(values):
    """Middle of 200 values, in thousands of their unit: mm of m."""
    return 1000 * float(Band.of(np.asarray(values), 200).middle)


def ends(values, scale=1000):
    """Low and high end of 200 values."""
    band = Band.of(np.asarray(values), 200)
    return scale * float(band.low), scale * float(band.high)


mild, thin, thick = (times(bath("mild"), ounces) for ounces in (1.0, 0.5, 2.0))
to_second = middle(widths(DRAWN, foil(), factor).top)

# the first question
claim("drawn 0.20 mm wide, on foil of 1 oz (34 µm thick)", 1000 * DRAWN, 1, 1e6 * foil())
claim("0.20 mm", 1000 * DRAWN)
claim("about 0.18 mm", 0.18)
claim("about 0.15 mm", to_second)
claim("about 0.10 mm", 0.10)
claim("No: 0.155. The resist", to_second)
claim("Less: 0.155. It is", to_second)
claim("Yes: 0.155", to_second)
claim("More: 0.155", to_second)
claim("23 µm from each edge", 1e6 * foil() / 1.5)
published = 1000 * float(widths(DRAWN, foil(), 3).top)
claim("With a factor of 3, as industry's sprayed boards, it would be 0.18", 3, published)
claim("0.20 to 0.10 would be 50 µm from each edge", 1000 * DRAWN, 0.10, 50)
# "faster sideways than down"
assert 50 > 1e6 * foil() > 1e6 * foil() / 1.5

# why, and by hand
pace = 2 * foil() / factor / (mild / MINUTE)
low, high = ends(pace, 1e6)
claim("costs 11 µm of width (8 to 16)", 1000 * middle(pace), low, high)
claim("To the second it is 0.155 mm", to_second)
claim("the perfect moment costs 45 µm", 1000 * (1000 * DRAWN - to_second))
claim("a minute too long 11 more", 1000 * middle(pace))
foot = 1000 * float(np.median(widths(DRAWN, foil(), factor).foot))
claim("the foot is still 0.20 mm wide then", foot)
claim("tries 200 plausible baths, and 8 of 10 lie in the band", mild.size, 8, 10)
claim("34 ÷ 1.5 = 22.7 µm at each edge", 1e6 * foil(), 1.5, 1e6 * foil() / 1.5)
claim("By hand, 1.5 times as fast down as sideways", 1.5)
claim("2 × 22.7 = 45.4 µm", 2, 1e6 * foil() / 1.5, 1e6 * float(allowance(foil(), 1.5)))
claim(
    "200 − 45.4 = 154.6 µm",
    1e6 * DRAWN,
    1e6 * float(allowance(foil(), 1.5)),
    1e6 * float(widths(DRAWN, foil(), 1.5).top),
)

claim("155 µm", 1e6 * float(widths(DRAWN, foil(), 1.5).top))

# where the numbers come from
claim("left of 0.20 mm", 1000 * DRAWN)
for case, lines in {
    "rocked": ("1 to 2", "0.132 to 0.166 mm"),
    "photo_etching": ("1.5 to 3.5", "0.155 to 0.181 mm"),
    "general_boards": ("2.5 to 3.5", "0.173 to 0.181 mm"),
}.items():
    reported = [
        float(tables.column("etch_factor", f"{end}_depth_over_undercut", case=case)[0])
        for end in ("low", "high")
    ]
    claim(lines[0], *reported)
    claim(lines[1], *(1000 * widths(DRAWN, foil(), number).top for number in reported))
claim("with 25 % of over-etch our 1.5 reads 1.2", 25, 1.5, measured_factor(1.5, 0.25))
plausible = RateParameters.plausible(200).for_heat_after()
with collecting_warnings():
    steps = etched(bath("mild"), parameters=plausible, history=True).run.steps
gone = [
    1 - np.interp(clear / 2, time, copper) / copper[0]
    for time, copper, clear in zip(steps["time"], steps["thickness"], mild, strict=True)
]
# "its pace taken as even": half the time takes about half of the foil
assert 45 < ends(gone, 100)[0] and ends(gone, 100)[1] < 55

# how to pull it
expected = float(Band.of(mild, 200).middle)
quick = ends(mild, 1 / MINUTE)[0]
claim("The quick end of board clear is 3.1 min", quick)
claim("look first at half of it, after 1½ min", quick / 2, rel=0.05)
claim("then every 30 s or so", expected / 10, rel=0.25)
board = pulled(mild, looks_every=30, first_look=90)
left = widths(DRAWN, foil(), factor, board.over).top
claim("comes out 4 to 26 s late, with 0.151 mm", *ends(board.seconds, 1), middle(left))
claim("the last place 10 to 30 % later", *(100 * share for share in UNEVEN))
uneven = pulled(mild, looks_every=30, first_look=90, uneven=0.2)
claim("With 20 % it comes out after 4.0 to 6.5 min", 20, *ends(uneven.time, 1 / MINUTE))
uneven_left = middle(widths(DRAWN, foil(), factor, uneven.over).top)
claim("0.144 mm is left where it cleared first", uneven_left)
assert 100 * UNEVEN[0] < 20 < 100 * UNEVEN[1]
claim("if below 45 °C and within 30 min; resist stands 20 to 30 min", source="trade")
claim("At 45 °C lift the board out", hazards.rule_named("warm while etching").limit - 273.15)

# the second question
claim("foil of 1 oz and comes out to the second", 1)
claim("1 oz", 1)
claim("foil of ½ oz and stays in a whole minute too long", 0.5)
late_thin = widths(DRAWN, foil(0.5), factor, MINUTE / thin).top
claim("½ oz 0.166 mm, 1 oz 0.155", 0.5, middle(late_thin), 1, to_second)
claim("½ oz, although late", 0.5)
claim("the ½ oz trace is gone", 0.5)
ratio = expected / float(Band.of(thin, 200).middle)
claim("Its thick foil took 1.9 times as long to clear", ratio)
claim("It is 49 % more for the thin foil", 100 * MINUTE / float(Band.of(thin, 200).middle))
claim("The thick foil needs 1.9 times as long", ratio)
minute_costs = middle(2 * foil(0.5) / factor / thin * MINUTE)
foil_costs = middle(widths(DRAWN, foil(0.5), factor).top) - to_second
claim("The minute costs 11 µm, the thicker foil 23", 1000 * minute_costs, 1000 * foil_costs)
losses = [1000 * (0.2 - middle(widths(DRAWN, foil(oz), factor).top)) for oz in (0.5, 1, 2)]
claim(
    "23 µm on ½ oz, 45 µm on 1 oz, 90 µm on 2 oz",
    *(number for pair in zip(losses, (0.5, 1, 2), strict=True) for number in pair),
)
wider = late_thin > widths(DRAWN, foil(), factor).top
claim("In all 200 plausible baths ½ oz is the wider one", np.sum(wider), 0.5)
# "a minute costs about the same on any foil"
paces = [
    middle(2 * foil(oz) / factor / clear) for oz, clear in ((0.5, thin), (1, mild), (2, thick))
]
assert max(paces) < 1.05 * min(paces)
# "whatever the factor is"
for other in (1.0, 1.5, 3.5):
    assert np.all(
        widths(DRAWN, foil(0.5), other, MINUTE / thin).top > widths(DRAWN, foil(), other).top
    )
draw = DRAWN + allowance(foil(), factor, 30 / mild)
claim("To get 0.20 mm on 1 oz, half a minute late", 1000 * DRAWN, 1)
claim("draw 0.25 mm (0.24 to 0.27)", middle(draw), *ends(draw))

# what would prove it wrong
claim("lines drawn 0.15, 0.20, 0.30 and 0.50 mm", 0.15, 0.20, 0.30, 0.50)
assert all(np.all(over_at_loss(line, foil(), factor) > 0) for line in (150e-6, 200e-6))
claim("all four must stand. After 15 min", 15)
claim("An offcut in the mild bath, 5.6 mL per cm²", 100 * USUAL)
cost = ends(15 * MINUTE * 2 * foil() / factor / mild)
claim("The 0.30 mm one has lost 0.11 to 0.24 mm (8 of 10)", 0.30, *cost, 8, 10)
lost = [
    int(np.sum(time_at_loss(mild, line / 1000, foil(), factor) <= 15 * MINUTE))
    for line in (0.15, 0.20, 0.30, 0.50)
]
claim("they are lost in 129, 67, 5 and none of 200 plausible baths", *lost[:3], mild.size)
assert lost[3] == 0
claim("or the 0.50 mm one at the end", 0.50)
