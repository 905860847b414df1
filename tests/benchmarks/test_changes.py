"""Changes offered, on many more plans than the laws try: `pytest tests/benchmarks`.

Promises of 300 refused plans, each planned anew; and 60 for which none is offered, with every step
of every lever tried. Everything is printed, pass or fail, and then asserted.
"""

import pytest
from helpers.offers import broken_promises, helping_steps, inputs_of

REFUSED, WITHOUT, DRAWS = 300, 60, 20


@pytest.fixture(scope="module")
def refused():
    return inputs_of(2, REFUSED, DRAWS)


def test_promises_of_many_changes(refused, say):
    offered, broken, levers = 0, [], {}
    for inputs, changes in refused:
        offered += len(changes)
        broken += broken_promises(inputs, changes)
        for change in changes:
            levers[change.lever] = levers.get(change.lever, 0) + 1
    with_help = sum(bool(changes) for _, changes in refused)
    say(f"{REFUSED} refused plans, {with_help} with help, {offered} changes by lever {levers}")
    say(f"broken promises: {broken or 'none'}")
    assert broken == []


def test_hardly_any_change_is_missed(refused, say):
    """At most 2 of 60."""
    without = [inputs for inputs, changes in refused if not changes][:WITHOUT]
    missed = [steps[:3] for steps in map(helping_steps, without) if steps]
    say(f"{len(without)} refused plans without help, missed in {len(missed)}: {missed or 'none'}")
    assert len(without) == WITHOUT and len(missed) <= 2
