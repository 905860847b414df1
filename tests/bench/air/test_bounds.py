"""Bounds: the most chlorine, and mist; no rate of chlorine stands anywhere."""

import re

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem.bench.air import (
    bounds,
    chlorine_ceiling,
    chlorine_equilibrium,
    mist,
    unknowns,
)
from pcbchem.common import tables

PUBLISHED = {
    "a15": lambda: chlorine_ceiling(HCl=0.2155, H2O2=0.2757),
    "a16": chlorine_equilibrium,
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id):
    # Second source: another implementation of the same equations
    assert PUBLISHED[id]() == figure_of("checks_vapour_air", id)


def test_law_what_there_is_less_of_ends_the_chlorine():
    assert chlorine_ceiling(2.0, 5.0) == 1.0
    assert chlorine_ceiling(20.0, 5.0) == 5.0
    assert chlorine_ceiling([0.0, 4.0], 1.0).tolist() == [0.0, 1.0]


def test_law_no_figure_of_a_rate_of_chlorine_stands_anywhere():
    # nobody has read it: neither words nor tables hold a number that could be one
    for unknown in unknowns():
        if unknown.topic == "chlorine":
            assert not re.search(r"\d", unknown.words)
    names = [name for name in vars(bounds) if "chlorine" in name.lower()]
    assert set(names) == {"chlorine_ceiling", "chlorine_equilibrium"}


def test_law_what_is_unknown_has_a_source_and_no_permission():
    topics = [unknown.topic for unknown in unknowns()]
    assert set(topics) == {"chlorine", "mist", "fog", "your head"}
    for unknown in unknowns():
        assert unknown.source and unknown.as_of
        words = unknown.words.lower()
        assert not re.search(r"\b(safe|fine|enough|harmless|allowed|permitted)\b", words)


def test_as_printed_mist():
    low, high = mist(1e-3)  # a litre
    assert (low, high) == pytest.approx((1e-6, 1e-4))
    least, most = mist([1e-3, 2e-3])
    assert least[1] == 2 * least[0] and most[1] == 2 * most[0]


def test_as_printed_potentials():
    volts = tables.column("electrode_potentials", "potential_V")
    assert np.array_equal(volts, [1.763, 1.358])


REFUSED: list[Case] = [
    ("acid", lambda: chlorine_ceiling(-1, 1), ("HCl", "-1", "0 to 1e+06 mol")),
    ("no acid", lambda: chlorine_ceiling(NAN, 1), ("HCl", "nan", "0 to 1e+06 mol")),
    ("peroxide", lambda: chlorine_ceiling(1, 1e9), ("H2O2", "1e+09", "0 to 1e+06 mol")),
    ("words", lambda: chlorine_ceiling(1, "x"), ("H2O2", "'x'", "0 to 1e+06 mol")),
    ("no gas", lambda: mist(0), ("gas", "0", "1e-09 to 1000 m³")),
    ("gas below 0", lambda: mist(-1), ("gas", "-1", "1e-09 to 1000 m³")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
