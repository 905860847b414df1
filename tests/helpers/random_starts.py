"""Random permitted starts of an etch, far wider than people mix, for whatever must never break."""

import numpy as np

from pcbchem import Board, Foil, Tray
from pcbchem.reaction.bath.setup import AGITATIONS, FACINGS, Start


def spread(generator, low, high, count):
    """Draw numbers [own unit] evenly over the powers of ten, shape (count, 1)."""
    return 10 ** generator.uniform(np.log10(low), np.log10(high), (count, 1))


def random_lot(number, count):
    """Draw so many starts on an axis before the draw axis, and the tray of the lot."""
    generator = np.random.default_rng(number)
    area = spread(generator, 4e-4, 0.05, count)  # m²
    holds_copper = generator.random((count, 1)) < 0.7
    start = Start(
        HCl=spread(generator, 10, 9000, count),
        H2O2=spread(generator, 1, 9000, count),
        CuCl2=np.where(holds_copper, generator.uniform(0, 800, (count, 1)), 0.0),
        CuCl=np.where(holds_copper, generator.uniform(0, 100, (count, 1)), 0.0),
        T=generator.uniform(273, 330, (count, 1)),
        volume=area * spread(generator, 0.002, 0.3, count),
    )
    board = Board(area=area, foil=Foil.ounces(spread(generator, 0.5, 3, count)))
    agitation = AGITATIONS[number % len(AGITATIONS)]
    facing = FACINGS[number // len(AGITATIONS) % len(FACINGS)]
    return start, board, Tray(agitation=agitation, facing=facing)
