"""Changes offered keep what they promise, by their margins, and hardly any are missed.

Laws, over refused baths of random bottles, boards, parts, places, used baths and second portions.
"""

import numpy as np
import pytest
from helpers.offers import broken_promises, changes_of, helping_steps
from helpers.plans import mild_inputs
from helpers.second_reading import some_inputs

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.plan.inputs import Inputs

DRAWS = 8
# Seeds of random refused baths, so that each lever, a second portion and a used bath are there.
# Many more, in the order of their seeds, are tried in tests/benchmarks.
WITH = (3, 14, 37, 44, 11, 22, 46, 12)
WITHOUT = (4, 9, 19, 20, 33, 38)


def offers_of(seeds):
    """Draw refused baths by their seeds, with the changes offered for each."""
    rows = []
    for seed in seeds:
        inputs = some_inputs(np.random.default_rng(seed), DRAWS)
        severity, changes = changes_of(inputs)
        assert severity == 2, f"the bath of seed {seed} is not refused: choose another"
        rows.append((inputs, changes))
    return rows


@pytest.fixture(scope="module")
def helped():
    return offers_of(WITH)


def check_promises(rows):
    """Hold each change to the verdict promised and its limits; return levers and verdicts."""
    levers, verdicts = set(), set()
    for inputs, changes in rows:
        assert broken_promises(inputs, changes) == []
        levers |= {change.lever for change in changes}
        verdicts |= {change.verdict for change in changes}
    return levers, verdicts


def test_every_change_planned_anew_keeps_its_promise(helped):
    """Every limit it is offered for is cleared by 5 °C or a tenth."""
    assert all(changes for _, changes in helped)
    levers, verdicts = check_promises(helped)
    assert levers == {"water", "bath", "start", "acid"} and "with care" in verdicts


def test_a_change_that_spares_a_care_keeps_its_promise():
    """Of bottles at 27 °C."""
    inputs = mild_inputs(T_bottles=300.15, draws=20)
    severity, changes = changes_of(inputs)
    _, verdicts = check_promises([(inputs, changes)])
    assert severity == 1 and verdicts == {"mix it"}


def test_where_none_is_offered_no_step_of_a_lever_helps():
    """By trying every step. (In 60 baths up to 2 may be missed: see tests/benchmarks.)"""
    for inputs, changes in offers_of(WITHOUT):
        assert changes == ()
        assert helping_steps(inputs) == []


def test_the_change_offered_is_the_smallest_of_its_lever(helped):
    """By trying every step: no smaller one helps as much, but for 1 in 10 of them."""
    count, larger = 0, []
    for inputs, changes in helped[:4]:
        steps = helping_steps(inputs)
        for change in changes:
            promised = VERDICTS.index(change.verdict)
            # the steps of a lever stand in order, the smallest first
            first = next(
                value
                for lever, value, severity in steps
                if lever == change.lever and severity <= promised
            )
            count += 1
            if first != pytest.approx(change.value):
                larger.append((change.lever, change.value, first))
    assert count >= 6 and len(larger) <= count / 10, larger


STRONG = {"acid": Bottle.labelled("HCl", 0.31), "peroxide": Bottle.labelled("H2O2", 0.325)}


@pytest.mark.parametrize(
    ("parts", "area", "bath", "is_helped"),
    [
        ((0, 1, 1), 27e-4, 0.02, True),
        ((2, 1, 1), 27e-4, 0.02, True),
        ((2, 3, 1), 27e-4, 0.02, True),
        ((3, 1, 1), 60e-4, 0.0083, True),
        ((0, 1, 1), 60e-4, 0.0083, False),
        ((2, 3, 1), 60e-4, 0.0083, False),
        ((8, 1, 1), 27e-4, 0.02, False),  # only the bottles are left
    ],
)
def test_strong_bottles_get_help_where_there_is_some(parts, area, bath, is_helped):
    """Where none is offered, by trying every step; the care of the bottles stays."""
    inputs = Inputs(
        **STRONG,
        parts=parts,
        board=Board(area=area),
        tray=Tray(),
        bath_per_area=bath,
        place="GB",
        draws=DRAWS,
    )
    severity, changes = changes_of(inputs)
    assert bool(changes) == is_helped
    assert {change.verdict for change in changes} <= {"with care"}
    assert broken_promises(inputs, changes) == []
    if not changes and severity == 2:
        assert helping_steps(inputs) == []
