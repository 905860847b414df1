"""Bounds: the most chlorine, and mist; no rate of chlorine stands anywhere."""

import re

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem.bench.air import (
    bounds,
    breathe,
    chlorine_ceiling,
    chlorine_equilibrium,
    mist,
    open_bottle,
    unknowns,
)
from pcbchem.bench.air.room import beside_you
from pcbchem.matter.vapour import hydrogen_chloride

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
    assert set(topics) == {"chlorine", "mist", "opening", "spill of peroxide", "fog", "your head"}
    for unknown in unknowns():
        assert unknown.source and unknown.as_of
        words = unknown.words.lower()
        assert not re.search(r"\b(safe|fine|enough|harmless|allowed|permitted)\b", words)


def test_law_chlorine_sends_to_a_doctor_and_peroxide_warns_nobody():
    words = {}
    for unknown in unknowns():
        words[unknown.topic] = words.get(unknown.topic, "") + f" {unknown.words}"
    assert "hours later" in words["chlorine"] and "see a doctor the same day" in words["chlorine"]
    assert "without smell" in words["spill of peroxide"]
    assert "catch fire as it dries" in words["spill of peroxide"]


def test_law_a_warm_bottle_gives_more_as_it_opens_than_as_it_stands():
    """Why opening is among what is unknown: air of a litre bottle, half full, 20 to 30 °C by hand.

    Its air swells by 10 K and by the gas that comes over the acid, and all of that is blown into
    the half sphere around it.
    """
    over = [hydrogen_chloride(T, 0.31) / 101_325.0 for T in (293.15, 303.15)]
    blown = 0.5e-3 * (10 / 293.15 + over[1] - over[0])
    in_half_sphere = blown * over[1] / (2 / 3 * np.pi * 0.5**3)
    stands = breathe(open_bottle(0.31, empty=0.04), "shut room", 600.0).band("peak")
    assert in_half_sphere > 5 * float(stands.middle)
    (opening,) = (each.words for each in unknowns() if each.topic == "opening")
    assert "pouring" in opening and "no figure of an open bottle counts them" in opening


def test_second_source_a_plume_along_the_ground_is_ten_times_as_much():
    """Gauss's plume over open country, in neutral air (Briggs: 0.08 x across, 0.06 x up).

    On its axis, at the ground, against air that mixes in a half sphere; a spill half a metre wide
    spreads it across from the beginning.
    """
    (words,) = (each.words for each in unknowns() if "Outdoors" in each.words)
    assert "downwind and near the ground, it is ten times as much and more" in words
    for away in (0.5, 1.0, 1.5):
        across, up = np.hypot(0.08 * away, 0.5 / np.sqrt(12)), 0.06 * away
        plume = 1 / (np.pi * 1.0 * across * up)
        assert plume * beside_you(1.0) > 10


def test_as_printed_mist():
    low, high = mist(1e-3)  # a litre
    assert (low, high) == pytest.approx((1e-6, 1e-4))
    least, most = mist([1e-3, 2e-3])
    assert least[1] == 2 * least[0] and most[1] == 2 * most[0]


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
