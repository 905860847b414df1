"""How does it run? A board in a bath, second by second, and what the bath does afterwards."""

from .bath import LONGEST, etch, stand
from .parameters import RateParameters
from .rate import EFFECTS, flux, switched_off
from .run import EtchRun, Standing
from .setup import Board, Foil, Start, Tray, check_fits

__all__ = [
    "EFFECTS",
    "LONGEST",
    "Board",
    "EtchRun",
    "Foil",
    "RateParameters",
    "Standing",
    "Start",
    "Tray",
    "check_fits",
    "etch",
    "flux",
    "stand",
    "switched_off",
]
