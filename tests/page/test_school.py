"""The school switch: what the variable says, and what it may not say."""

import os

import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.school import NO_AMOUNTS, no_amounts


@pytest.mark.parametrize("value, switch", [("1", True), ("0", False), ("", False)])
def test_the_variable_is_read_when_it_is_asked_for(monkeypatch, value, switch):
    monkeypatch.setenv(NO_AMOUNTS, value)
    assert no_amounts() is switch
    monkeypatch.delenv(NO_AMOUNTS)
    assert no_amounts() is False and NO_AMOUNTS not in os.environ


@pytest.mark.parametrize("value", ["yes", "true", "2", " 1"])
def test_law_a_value_that_may_mean_either_is_refused_by_name(monkeypatch, value):
    monkeypatch.setenv(NO_AMOUNTS, value)
    with pytest.raises(InputError, match=f"PCBCHEM_NO_AMOUNTS = '{value}' is not known: 1 takes"):
        no_amounts()
