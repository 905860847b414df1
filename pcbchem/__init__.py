"""Etching baths of hydrochloric acid, hydrogen peroxide and water: what a mixture will do before it is poured."""

from .bench.inputs import Bottle, Kept
from .bench.plan import Plan, plan
from .matter.arrays import RangeWarning
from .matter.solution import Solution, mix
from .reaction.bath import etch, stand
from .reaction.parameters import RateParameters
from .reaction.rate import EFFECTS
from .reaction.run import Band, EtchRun
from .reaction.setup import Board, Foil, Tray

__all__ = ["EFFECTS", "Band", "Board", "Bottle", "EtchRun", "Foil", "Kept", "Plan", "RangeWarning", "RateParameters",
           "Solution", "Tray", "etch", "mix", "plan", "stand"]
