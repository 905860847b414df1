"""The parameters of the rate model: where they come from, what they refuse, shipped draws."""

import numpy as np
import pytest
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem import RateParameters
from pcbchem.common.arrays import Draws
from pcbchem.reaction.bath.parameters import rows, shipped_draws

STATUSES = {"published", "derived", "fitted", "assumed", "from memory"}


def test_law_the_table_says_where_each_comes_from():
    table = RateParameters().table()
    assert list(table.index) == list(rows()) == list(RateParameters().values())
    assert set(table["status"]) == STATUSES
    assert (table["source"].str.len() > 5).all()
    assert ((table["low"] <= table["value"]) & (table["value"] <= table["high"])).all()


def test_law_a_replaced_field_is_the_only_one_that_changes():
    usual = RateParameters()
    quick = usual.replace(rate_factor=2.0)
    assert quick.rate_factor == 2.0
    for name, value in usual.values().items():
        if name != "rate_factor":
            assert getattr(quick, name) == value, name


def test_law_plausible_sets_are_the_first_rows_of_the_table():
    few, many = RateParameters.plausible(3), RateParameters.plausible(400)
    assert isinstance(few.surface_rate, Draws)
    for name, column in shipped_draws().items():
        assert np.array_equal(getattr(few, name), column[:3]), name
        assert np.array_equal(getattr(many, name), column), name


def test_law_nobody_can_change_the_shipped_draws():
    with pytest.raises(ValueError, match="read-only"):
        shipped_draws()["surface_rate"][0] = 1.0


def test_law_parameters_hold_copies():
    factor = np.array([1.0, 2.0])
    parameters = RateParameters(rate_factor=factor)
    factor[0] = -1.0
    assert list(parameters.rate_factor) == [1.0, 2.0]


REFUSED: list[Case] = [
    ("no draws", lambda: RateParameters.plausible(0), ("draws = 0 ", "from 1 to 400")),
    ("too many", lambda: RateParameters.plausible(401), ("draws = 401 ", "from 1 to 400")),
    ("half a draw", lambda: RateParameters.plausible(2.5), ("draws = 2.5 ", "from 1 to 400")),
    ("true draws", lambda: RateParameters.plausible(True), ("draws = True ", "from 1 to 400")),
    ("negative", lambda: RateParameters(surface_rate=-1), ("surface_rate = -1 ", "above 0")),
    ("none of it", lambda: RateParameters(rate_factor=0), ("rate_factor = 0 ", "above 0")),
    ("nonsense", lambda: RateParameters(transfer_limit=1), ("transfer_limit = 1 ", "to 0.03")),
    (
        "not a number",
        lambda: RateParameters().replace(decay_rate=NAN),
        ("decay_rate = nan ", "above 0"),
    ),
    (
        "unknown",
        lambda: RateParameters().replace(speed=3),
        ("speed = 3 ", "is not a parameter", "surface_rate"),
    ),
    (
        "draws of two lengths",
        lambda: RateParameters.plausible(3).replace(
            surface_rate=RateParameters.plausible(4).surface_rate
        ),
        ("draws of two lengths", "surface_rate has 4"),
    ),
]


@cases(REFUSED)
def test_law_impossible_parameters_are_refused(call, words):
    assert_refused(call, words)


def test_law_the_gas_order_may_be_nothing():
    assert RateParameters(gas_order=0.0).gas_order == 0.0


def test_law_heat_after_is_read_with_a_decay_no_slower():
    draws = RateParameters.plausible(400)
    hot = draws.for_heat_after()
    assert np.all(hot.decay_factor >= draws.decay_factor)
    assert hot.decay_factor.min() >= 0.3 and hot.decay_factor.max() <= 10
    # by rank: who decayed slowest still does, and nothing else changes
    assert np.all(np.argsort(hot.decay_factor) == np.argsort(draws.decay_factor))
    for name, value in draws.values().items():
        if name != "decay_factor":
            assert np.array_equal(getattr(hot, name), value), name


@pytest.mark.parametrize(
    ("slow", "read_as"), [(0.001, 0.3), (0.01, 0.3), (10**-0.5, np.sqrt(3)), (10, 10), (50, 50)]
)
def test_law_the_range_of_decay_shrinks_by_its_logarithm(slow, read_as):
    # half way from 0.01 to 10 goes half way from 0.3 to 10; beyond the range nothing gets slower
    hot = RateParameters(decay_factor=slow).for_heat_after()
    assert hot.decay_factor == pytest.approx(read_as)
