"""Offcuts of the workshop's two bottles, for the tests of calibration."""

import numpy as np

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.bench.plan.inputs import Inputs

ACID, PEROXIDE = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
BOARD = Inputs(ACID, PEROXIDE, (0, 1, 1), Board(area=27e-4), Tray(), 150e-6 / 27e-4, "EU")


def offcut(water=0.0, time=None, **more):
    """An offcut of 4 cm² in 30 mL, with so many parts of water [-] and the time seen [s]."""
    return Offcut(
        ACID, PEROXIDE, (water, 1, 1), 30e-6, Board(area=4e-4), Tray(), 293.15, time, **more
    )


def width(band):
    """Width of a band of times, as a logarithm [-]."""
    return float(np.log(band.high / band.low))
