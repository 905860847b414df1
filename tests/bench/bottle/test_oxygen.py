"""Peroxide by its oxygen: the gas law by hand, and the samples that are refused."""

import pytest
from helpers.bottles import ATMOSPHERE, T20, by_oxygen_with
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.bench.bottle import by_oxygen, oxygen_to_expect
from pcbchem.common.limits import InputError
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import density

MILLILITRE = 1e-6


def test_second_source_peroxide_by_oxygen_worked_by_hand():
    # 1 mL of 3.00 g in 100 mL: 0.88197 mmol give 0.44098 mmol O2; at 20 °C and 1 atm over water,
    # 101325 - 2339 Pa: 0.44098e-3 * 8.31446 * 293.15 / 98986 = 10.858 mL
    reading = by_oxygen_with(gas=10.858e-6)
    assert strength(reading.middle, "% w/v", "H2O2") == pytest.approx(3.00, rel=2e-4)


def test_second_source_a_table_of_home_tests_expects_as_much():
    # 1 mL of 3 % gives 10.7 mL, within 3 to 5 %
    gas = oxygen_to_expect(label=0.03, sample=1e-6, p=ATMOSPHERE)
    assert gas / MILLILITRE == pytest.approx(10.7, rel=0.03)


def test_second_source_ten_volume_gives_ten_times_its_volume():
    # of dry gas at 0 °C: 10 mL, 10 * 293.15/273.15 * 101325/98986 = 10.986 mL
    ten_volume = mass_fraction_from(10, "volume strength", "H2O2")
    gas = oxygen_to_expect(label=ten_volume, sample=1e-6, p=ATMOSPHERE)
    assert gas / MILLILITRE == pytest.approx(10.986, rel=2e-4)


def test_law_little_gas_tells_nothing():
    # 0.2 mL on the scale: a fifth of 1 mL, which is 0.27 % of peroxide; the 4 % for leaks beside it
    # is 0.04 mL
    little, enough = by_oxygen_with(gas=1.0e-6), by_oxygen_with(gas=1.1e-6)
    assert not little.tells and "leak" in little.words
    assert enough.tells and dict(enough.shares)["gas"] > 0.9


def test_law_what_is_not_diluted_has_no_doubt_of_it():
    assert dict(by_oxygen_with().shares)["dilution"] == 0
    diluted = by_oxygen_with(label=0.12, dilution=5)
    assert dict(diluted.shares)["dilution"] > 0.01


def test_law_on_a_mountain_the_same_oxygen_takes_more_room():
    # 84 kPa, about 1600 m up: (84000 - 2339) / (101325 - 2339) of the oxygen in the same volume
    share = by_oxygen_with(p=84000.0).middle / by_oxygen_with().middle
    assert share == pytest.approx(0.825, rel=0.002)


def test_law_in_a_warm_room_the_same_oxygen_takes_more_room():
    assert by_oxygen_with(T_gas=303.15).middle < 0.96 * by_oxygen_with(T_gas=T20).middle


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"sample": 1.01e-6}, ("sample", "1.01e-06", "1e-08 to 1e-06", "(1 mL)")),
        ({"sample": 10e-6}, ("sample", "1e-05", "(1 mL)")),
        (
            {"label": 0.031},
            ("label", "= 3.1 % diluted", "3.1 % by weight", "at most 3 %", "at least 2 times"),
        ),
        ({"label": 0.12, "dilution": 4}, ("label", "= 12 %", "diluted 4 times", "at most 3 %")),
        ({"label": 0.0303}, ("label", "= 3.03 %", "3.03 % by weight", "at least 2 times")),
        # 30 % holds 333 g in a litre, 3.02 % 30.5: 10.9 times, and three doubts of a syringe more,
        # 11.4 times
        ({"label": 0.30}, ("label", "= 30 %", "30 % by weight", "at least 11.5 times")),
        ({"label": 0.30, "dilution": 10}, ("label", "= 30 %", "diluted 10 times", "3.3")),
        (
            {"label": 0.30, "dilution": 11.3},
            ("label", "= 30 %", "diluted 11.3 times", "at least 11.5 times"),
        ),
        ({"gas": 13e-6}, ("gas", "13 mL from 1 mL", "at most 11 mL", "stronger than its label")),
        ({"gas": 100e-6}, ("gas", "100 mL from 1 mL", "at most 11 mL")),
    ],
)
def test_law_too_much_or_too_strong_is_a_projectile(changes, words):
    with pytest.raises(InputError, match="projectile") as error:
        by_oxygen_with(**changes)
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
    assert error.value.field == words[0]


@settings(max_examples=40, deadline=None)
@given(st.floats(0.03, 0.35), st.floats(1, 60), st.floats(1e-8, 1e-6), st.floats(274, 313))
def test_law_no_sample_that_may_be_poured_gives_over_13_mL(label, dilution, sample, T):
    # 1 mL of 3.02 % holds 0.45 mmol of oxygen: 11.0 mL at 20 °C and 1 atm, 12.4 mL at 40 °C
    grams = label * density(T20, H2O2=label) / dilution  # in a litre: 3.02 % are 30.46
    readings = {"label": label, "sample": sample, "T_gas": T, "p": ATMOSPHERE}
    try:
        gas = oxygen_to_expect(dilution=dilution, **readings)
    except ValueError as error:
        assert "projectile" in str(error) and grams > 30.4 / 1.045
        # what the message says is enough
        least = float(str(error).split("at least ")[1].split(" times")[0])
        oxygen_to_expect(dilution=least, **readings)
    else:
        assert 0 <= gas < 13 * MILLILITRE and grams < 30.5


def test_law_14_times_is_enough_for_35_percent():
    # as the caution of the method says; 13 times is not
    oxygen_to_expect(label=0.35, sample=1e-6, dilution=14)
    with pytest.raises(ValueError, match="projectile"):
        oxygen_to_expect(label=0.35, sample=1e-6, dilution=13)


def test_law_the_gas_is_never_shut_in():
    assert "Never in a closed vessel" in by_oxygen.__doc__


REFUSED = [
    ({"gas": 0}, ("gas", "0", "1e-08 to 0.001 m³")),
    ({"gas": None}, ("gas", "None", "1e-08 to 0.001 m³")),
    ({"label": 0.0}, ("label", "0", "0.03 to 0.35 kg/kg", "any doubt it is 0.35")),
    ({"label": 3}, ("label", "3", "0.03 to 0.35 kg/kg")),
    (
        {"label": 0.12, "gas": 11e-6, "dilution": 5},
        ("label = 12 %", "14.", "at most 9", "stronger than its label"),
    ),
    ({"p": 1013}, ("p", "1013", "60000 to 110000 Pa")),
    ({"T_gas": 20}, ("T_gas", "20", "273.15 to 313.15 K")),
    ({"T": -5}, ("T", "-5", "273.15 to 313.15 K")),
    ({"p_doubt": 2e4}, ("p_doubt", "20000", "0 to 10000 Pa")),
    ({"T_gas_doubt": 30}, ("T_gas_doubt", "30", "0 to 20 K")),
    ({"gas_scale": 1}, ("gas_scale", "1", "0 to 1e-05 m³")),
    ({"sample": 0}, ("sample", "0", "1e-08 to 1e-06")),
    ({"gas_doubt": 0.5}, ("gas_doubt", "0.5", "0 to 0.2")),
    ({"dilution": 0}, ("dilution", "0", "1 to 1000 times")),
]


@pytest.mark.parametrize("changes, words", REFUSED, ids=range(len(REFUSED)))
def test_law_what_cannot_be_is_refused_by_name_and_limits(changes, words):
    with pytest.raises(ValueError) as error:
        by_oxygen_with(**changes)
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
