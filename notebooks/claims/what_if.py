"""Hold every number in the text of `what_if` against the package, or against its source."""

from pcbchem.bench.mixtures import mixtures
from pcbchem.lesson.form import planned
from pcbchem.lesson.what_if import maps
from pcbchem.lesson.what_if.panel import ACID, starts
from pcbchem.page import claim

start = starts()
usual = planned(
    acid=(10, "%"),
    peroxide=(12, "%"),
    parts=(0, 1, 1),
    total_mL=151.2,
    board_mm=(75, 60),
    bare_percent=60,
    place="elsewhere",
).inputs
every = mixtures(
    usual.acid,
    usual.peroxide,
    usual.board,
    usual.tray,
    place=usual.place,
    bath_per_area=usual.bath_per_area,
    draws=10,
)
step = 100 / every.steps

# how many, and how far apart
claim("This map takes 231", len(every))
claim("in steps of 5 %", step)
claim("the nearest of the 231", len(every))
claim("The first look tries 40 plausible baths", maps.QUICK)
claim("the full map 200", maps.FULL)

# what is tried
claim("31.45 % acid and 3 % peroxide", source="input")
claim("From the circle 0:1:1", 0, 1, 1)
claim("clear by 25 minutes", source="input")
claim("leave the acid at 50 % of the rest", start[ACID.name])

# in Python
claim('Bottle.labelled("HCl", 0.3145)', source="input")
claim('Bottle.labelled("H2O2", 0.03)', source="input")
claim(
    "width=0.075, height=0.060, bare=0.6",
    start["board_width"] / 1000,
    start["board_height"] / 1000,
    start["bare"] / 100,
)
