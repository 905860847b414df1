"""The workshop's mild bath and a kept one, planned with some inputs changed."""

from pcbchem import Board, Bottle, Kept, Tray
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.planning import planned

KEPT = Kept(0.4, copper=(100, 200), acid=(1500, 2500), peroxide=(100, 400))
MILD = {
    "acid": Bottle.labelled("HCl", 0.10),
    "peroxide": Bottle.labelled("H2O2", 0.12),
    "parts": (1, 2, 3),
    "board": Board(75e-3, 60e-3, 0.6),
    "tray": Tray("rocked", T_air=291.15),
    "bath_per_area": 0.06,
    "place": "EU",
    "T_bottles": 289.15,
}


def made_of(**changed):
    return planned(Inputs(**{**MILD, **changed}))


def named(made):
    return {reason.rule for reason in made.reasons}
