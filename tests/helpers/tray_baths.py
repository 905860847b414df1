"""The pairs of baths of page 04b, put together a second time."""

from helpers.water_baths import own
from pcbchem import Tray

PAIRS = {
    "still": ("mild", 150 / 27 / 100, "still"),
    "rocked": ("mild", 150 / 27 / 100, "rocked"),
    "shaken": ("mild", 150 / 27 / 100, "shaken"),
    "roomy": ("weak", 0.2, "rocked"),
    "strong": ("strong", 150 / 27 / 100, "still"),
}
"""Bottles, bath over the copper [m³/m²] and movement, by the name of the pair."""


def undiluted(name):
    """The bath of a pair without water."""
    bottles, room, movement = PAIRS[name]
    return own(bottles, room).replace(tray=Tray(agitation=movement))
