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
