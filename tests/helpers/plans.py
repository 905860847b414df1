"""The workshop's mild bath and a kept one, planned with some inputs changed."""

from contextlib import contextmanager

import pytest

from pcbchem import Board, Bottle, RateParameters, Tray, UsedBath
from pcbchem.bench.plan import planning
from pcbchem.bench.plan.changes import Doubt
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import etched
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


def read_etch(inputs, **changed):
    """Etch as a plan reads it: with the decay that heat is read with."""
    heat = RateParameters.plausible(inputs.draws).for_heat_after()
    return etched(inputs, parameters=heat, **changed)


def is_shown(caution, plan):
    """Return whether a plan shows a caution: of a refused bath, none on how to pour and what after.

    What to have ready and how to pour are lines 6 and 7 of what to do before opening a bottle.
    """
    to_pour = caution.layer in (2, 3) or (caution.layer == 1 and caution.number > 5)
    return not (plan.refused and to_pour)


@contextmanager
def verdicts_alone():
    """Plan without changes, and with a doubt that nobody works out.

    They take half of a plan's time, and its verdict, reasons and steps do not read them.
    """

    def no_changes(inputs, bands, severity):
        return ()

    def one_doubt(inputs, times, parameters):
        return (Doubt("model", 1.0, times),)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(planning, "helpful", no_changes)
        patch.setattr(planning, "doubts", one_doubt)
        yield


def rules_of(plan):
    """Return the names of the rules that a plan gives as reasons."""
    return {reason.rule for reason in plan.reasons}


def ends_of(band):
    """Return low end, middle and high end of a band [own unit]."""
    return [float(band.low), float(band.middle), float(band.high)]
