"""What etching baths of hydrochloric acid and hydrogen peroxide will do, before they are poured."""

from .bench.bottle.bottle import Bottle
from .bench.plan.inputs import UsedBath
from .bench.plan.planning import Plan, plan
from .common.band import Band
from .common.limits import RangeWarning
from .matter.solution import Solution, mix
from .reaction.bath.bath import etch, stand
from .reaction.bath.parameters import RateParameters
from .reaction.bath.rate import EFFECTS
from .reaction.bath.run import EtchRun
from .reaction.bath.setup import Board, Foil, Tray
from .reaction.sweep import sweep

__all__ = [
    "EFFECTS",
    "Band",
    "Board",
    "Bottle",
    "EtchRun",
    "Foil",
    "Plan",
    "RangeWarning",
    "RateParameters",
    "Solution",
    "Tray",
    "UsedBath",
    "etch",
    "mix",
    "plan",
    "stand",
    "sweep",
]
