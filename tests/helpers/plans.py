"""The workshop's mild bath and a kept one, planned with some inputs changed."""

from contextlib import contextmanager

import pytest

from pcbchem import Board, Bottle, Tray, UsedBath
from pcbchem.bench.plan import planning
from pcbchem.bench.plan.changes import Doubt
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.planning import planned

USED_BATH = UsedBath(0.4, copper=(100, 200), acid=(1500, 2500), peroxide=(100, 400))
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


def labelled(acid, peroxide):
    """Return two bottles by what their labels say [%], as inputs take them."""
    return {
        "acid": Bottle.labelled("HCl", acid / 100),
        "peroxide": Bottle.labelled("H2O2", peroxide / 100),
    }


def mild_inputs(**changes):
    """Return the inputs of the mild bath, some of them changed."""
    return Inputs(**{**MILD, **changes})


def mild_plan(**changes):
    """Plan the mild bath with some of its inputs changed."""
    return planned(mild_inputs(**changes))


@contextmanager
def verdicts_alone():
    """Plan without changes, with a doubt that nobody works out, and a minute in place of a day.

    They take two thirds of a plan's time, and its verdict, reasons and steps do not read them.
    """

    def no_changes(inputs, now, over_public):
        return ()

    def one_doubt(inputs, times, parameters):
        return (Doubt("model", 1.0, times),)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(planning, "helpful", no_changes)
        patch.setattr(planning, "doubts", one_doubt)
        patch.setattr(planning, "DAY", 60.0)
        yield


def rules_of(plan):
    """Return the names of the rules that a plan gives as reasons."""
    return {reason.rule for reason in plan.reasons}


def ends_of(band):
    """Return low end, middle and high end of a band [own unit]."""
    return [float(band.low), float(band.middle), float(band.high)]
