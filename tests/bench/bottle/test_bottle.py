"""Bottles by their labels, and what must not change when one is measured."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Tray
from pcbchem.bench import hazards
from pcbchem.bench.bottle import Bottle
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.pours import poured
from pcbchem.common.limits import InputError
from pcbchem.matter.properties import LIMITS


@pytest.mark.parametrize(
    "substance, label, low, high",
    [
        ("HCl", 0.10, 0.09, 0.11),
        ("HCl", 0.005, 0.0, 0.015),  # nothing is weaker than water
        ("HCl", 0.445, 0.435, 0.45),  # nor stronger than acid can be
        ("H2O2", 0.12, 0.102, 0.12),
        ("H2O2", 0.03, 0.0255, 0.03),
    ],
)
def test_law_a_label_leaves_1_percent_of_acid_and_fading(substance, label, low, high):
    bottle = Bottle.labelled(substance, label)
    assert (bottle.low, bottle.high) == pytest.approx((low, high), abs=1e-12)
    assert bottle.label == label
    assert bottle.middle == pytest.approx((low + high) / 2)


def test_law_an_end_from_a_label_is_a_round_number():
    # 0.10 - 0.01 in binary is 0.09000000000000001
    assert Bottle.labelled("HCl", 0.10).low == 0.09
    assert Bottle.labelled("H2O2", 0.06).low == 0.051


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(["HCl", "H2O2"]), st.floats(0, 1), st.integers(0, 1000))
def test_law_draws_lie_within_a_bottle_of_a_possible_label(substance, share, seed):
    bottle = Bottle.labelled(substance, share * LIMITS[substance])
    assert 0 <= bottle.low <= bottle.high <= LIMITS[substance]
    draws = np.asarray(bottle.strengths(20, seed))
    assert draws.shape == (20,)
    assert (draws >= bottle.low).all() and (draws <= bottle.high).all()


def two_bottles(bottle):
    """Acid and peroxide, of which this bottle is one."""
    if bottle.substance == "HCl":
        return bottle, Bottle.labelled("H2O2", 0.12)
    return Bottle.labelled("HCl", 0.20), bottle


def cautions(bottle):
    return set(hazards.cautions(*two_bottles(bottle), "GB"))


def order_of_pouring(bottle):
    inputs = Inputs(
        *two_bottles(bottle),
        parts=(3, 1, 1),
        board=Board(area=27e-4),
        tray=Tray(),
        bath_per_area=0.05,
        place="elsewhere",
    )
    return list(poured(inputs))


@pytest.mark.parametrize(
    "substance, label", [("HCl", 0.10), ("HCl", 0.32), ("H2O2", 0.12), ("H2O2", 0.35)]
)
def test_law_no_weak_reading_under_a_label_takes_a_caution_away(substance, label):
    by_label = Bottle(substance, label, label, label)
    for share in (0.02, 0.3, 0.8, 0.95):
        weaker = Bottle(substance, 0.99 * share * label, share * label, label)
        assert cautions(by_label) <= cautions(weaker)
        assert order_of_pouring(weaker) == order_of_pouring(by_label)
    # what is stronger than its label counts with its strength
    stronger = Bottle(substance, label, 1.2 * label, label)
    assert cautions(Bottle(substance, label, 1.2 * label)) <= cautions(stronger)


REFUSED = [
    (lambda: Bottle("NaOH", 0.1, 0.2), "substance", "choose from HCl, H2O2"),
    (lambda: Bottle("HCl", -0.01, 0.2), "low", "0 to 0.45 kg/kg"),
    (lambda: Bottle("HCl", np.nan, 0.2), "low", "0 to 0.45 kg/kg"),
    (lambda: Bottle("H2O2", 0.1, 0.71), "high", "0 to 0.7 kg/kg"),
    (lambda: Bottle("H2O2", 0.1, 0.2, label=12), "label", "0 to 0.7 kg/kg"),
    (lambda: Bottle.labelled("bleach", 0.1), "substance", "choose from HCl, H2O2"),
    (lambda: Bottle.labelled("HCl", 0.46), "strength", "0 to 0.45 kg/kg"),
    (lambda: Bottle("H2O2", 0.2, 0.1), "low", "at most high = 0.1 kg/kg"),
]


@pytest.mark.parametrize("bottle, field, rule", REFUSED)
def test_law_what_is_no_bottle_is_refused_by_its_field(bottle, field, rule):
    with pytest.raises(InputError) as error:
        bottle()
    assert error.value.field == field and rule in str(error.value)
