"""Changes offered keep what they promise, by their margins, and hardly any are missed.

Laws, over refused baths of random bottles, boards, parts, places, used baths and second portions.
"""

import pytest
from helpers.offers import broken_promises, changes_of, helping_steps, inputs_of
from helpers.plans import mild_inputs

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.plan.inputs import Inputs

REFUSED, DRAWS = 60, 8
WITHOUT = 10  # more of them in tests/benchmarks


@pytest.fixture(scope="module")
def refused():
    return inputs_of(2, REFUSED, DRAWS)


def check_promises(rows):
    """Hold each change to the verdict promised and its limits; return levers and verdicts."""
    levers, verdicts = set(), set()
    for inputs, changes in rows:
        assert broken_promises(inputs, changes) == []
        levers |= {change.lever for change in changes}
        verdicts |= {change.verdict for change in changes}
    return levers, verdicts


def test_every_change_planned_anew_keeps_its_promise(refused):
    """Every limit it is offered for is cleared by 5 °C or a tenth."""
    levers, verdicts = check_promises(refused)
    assert levers == {"water", "bath", "start", "acid"} and "with care" in verdicts


def test_a_change_that_spares_a_care_keeps_its_promise():
    """Of bottles at 27 °C."""
    inputs = mild_inputs(T_bottles=300.15, draws=20)
    severity, changes = changes_of(inputs)
    _, verdicts = check_promises([(inputs, changes)])
    assert severity == 1 and verdicts == {"mix it"}


def test_where_none_is_offered_no_step_of_a_lever_helps(refused):
    """By trying every step: at most 1 in 30 may be missed."""
    without = [inputs for inputs, changes in refused if not changes][:WITHOUT]
    assert len(without) == WITHOUT, "enough to say so"
    missed = [inputs for inputs in without if helping_steps(inputs)]
    assert len(missed) <= WITHOUT / 30


def test_the_change_offered_is_the_smallest_of_its_lever(refused):
    """By trying every step: no smaller one helps as much, but for 1 in 10 of them."""
    count, larger = 0, []
    for inputs, changes in [row for row in refused if row[1]][:6]:
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


@pytest.mark.parametrize("board", [(27e-4, 0.02), (60e-4, 0.0083)])
@pytest.mark.parametrize("parts", [(0, 1, 1), (1, 1, 1), (2, 1, 1), (3, 1, 1), (2, 3, 1)])
def test_strong_bottles_get_help_where_there_is_some(parts, board):
    """By trying every step; the care that the bottles are is never promised away."""
    area, bath = board
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
    if severity == 1:  # only the bottles are left, or what the mixture adds to them
        assert changes == ()
        return
    assert {change.verdict for change in changes} <= {"with care"}
    assert bool(changes) == bool(helping_steps(inputs)), parts
    assert broken_promises(inputs, changes) == []
