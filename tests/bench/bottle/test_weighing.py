"""Strengths by weighing: printed densities, the doubt by hand, and what weighing cannot tell."""

import numpy as np
import pytest
from helpers.bottles import AIR, FLASK, T20, WEIGHTS, on_balance, weighed

from pcbchem import RangeWarning
from pcbchem.bench.bottle import Strength, by_weighing, combined
from pcbchem.common.arrays import as_draws
from pcbchem.matter.properties import density

# kg/L at 20 °C, printed to the last digit shown: an encyclopaedia's table of acid; a model and a
# handbook for peroxide
PRINTED = [
    ("HCl", 0.10, 1.048, 1.048),
    ("HCl", 0.20, 1.098, 1.098),
    ("HCl", 0.30, 1.149, 1.149),
    ("HCl", 0.32, 1.159, 1.159),
    ("HCl", 0.34, 1.169, 1.169),
    ("HCl", 0.36, 1.179, 1.179),
    ("HCl", 0.38, 1.189, 1.189),
    ("H2O2", 0.03, 1.009, 1.009),
    ("H2O2", 0.06, 1.020, 1.020),
    ("H2O2", 0.12, 1.043, 1.043),
    ("H2O2", 0.30, 1.111, 1.113),
    ("H2O2", 0.35, 1.131, 1.133),
]


@pytest.mark.parametrize("substance, strength, low, high", PRINTED)
def test_second_source_a_printed_density_gives_its_strength(substance, strength, low, high):
    # half the last digit and the 0.1 % of the equation, as a strength: 1.5 and 1.6 kg/m³ of 4.9
    # (acid), 3.5 (peroxide)
    slack = (0.0005 + 0.001 * high) / (0.49 if substance == "HCl" else 0.35)
    for kg_per_litre, side in ((low, -1), (high, 1)):
        mass = FLASK * (1000 * kg_per_litre - AIR) / (1 - AIR / WEIGHTS)
        reading = by_weighing(substance, mass=mass, volume=FLASK, T=T20)
        assert side * (strength - reading.middle) <= slack


@pytest.mark.parametrize("substance, strength, percent", [("HCl", 0.32, 1.0), ("H2O2", 0.20, 1.3)])
def test_second_source_5_g_in_a_litre_are_so_many_percent(substance, strength, percent):
    # 0.5 g more in 100 mL: printed 1.0 % of acid, 1.3 % of peroxide (for 3 to 35 %), to half the
    # last digit
    mass = on_balance(substance, strength) + 0.5e-3
    reading = by_weighing(substance, mass=mass, volume=FLASK, T=T20)
    assert 100 * (reading.middle - strength) == pytest.approx(percent, abs=0.05)


@pytest.mark.parametrize(
    "substance, strength, T",
    [
        ("HCl", 0.05, 303.15),
        ("HCl", 0.24, 313.15),
        ("HCl", 0.32, 278.15),
        ("H2O2", 0.12, 303.15),
        ("H2O2", 0.35, 278.15),
        ("H2O2", 0.35, 303.15),
    ],
)
def test_law_weighing_gives_back_the_strength_at_any_T(substance, strength, T):
    mass = on_balance(substance, strength, T)
    reading = by_weighing(substance, mass=mass, volume=FLASK, T=T)
    assert reading.middle == pytest.approx(strength, abs=1e-9)
    # and a temperature left out would show: 10 to 15 K are 0.2 to 0.8 % of density
    at_20 = by_weighing(substance, mass=mass, volume=FLASK, T=T20)
    assert abs(at_20.middle - strength) > 0.004


def test_law_warm_strong_acid_is_not_weighed():
    at_the_limit = by_weighing("HCl", mass=on_balance("HCl", 0.32, 298.15), volume=FLASK, T=298.15)
    assert at_the_limit.middle == pytest.approx(0.32)
    for strength, T in ((0.32, 298.2), (0.26, 313.15)):
        acid, warmth = f"{100 * strength:.0f} %", f"{T - 273.15:.4g} °C"
        words = f"T = {warmth} is too warm for acid of {acid}: it must be at most 25 °C"
        with pytest.raises(ValueError, match=words):
            by_weighing("HCl", mass=on_balance("HCl", strength, T), volume=FLASK, T=T)


def test_law_the_air_that_is_pushed_aside_is_put_right():
    # 100 mL of 1.159 kg/L: 115.900 g; air bears 0.120 g of it and 0.015 % of the weights: the
    # balance shows 115.797 g
    reading = by_weighing("HCl", mass=0.115797, volume=FLASK, T=T20)
    assert density(T20, HCl=reading.middle) == pytest.approx(1000 * 1.159, abs=0.01)


def test_law_the_doubt_of_a_weighing_by_hand():
    # 32 % acid: volume 0.3 %, equation 0.1 %, 10 mg of 116 g 0.01 %, 1 K near 0.05 %: the root of
    # squares is 0.32 % of 1159, 3.71 kg/m³. From 30 to 34 % the table rises by 20 kg/m³, 5.0 each
    # per cent (to 5 %: rounded): 0.74 %
    reading = weighed("HCl", 0.32)
    assert 100 * reading.doubt == pytest.approx(0.74, rel=0.05)
    shares = dict(reading.shares)
    assert max(shares, key=shares.get) == "volume"
    assert sum(shares.values()) == pytest.approx(1)
    # a cylinder of 1 %: with the equation 1.005 % of 1159, 11.65 kg/m³, over 4.97 each per cent
    in_cylinder = weighed("HCl", 0.32, volume_doubt="cylinder")
    assert 100 * in_cylinder.doubt == pytest.approx(2.34, rel=0.05)
    # a syringe of 1.5 % and the equation: 17.4 kg/m³, 3.5 % by weight
    in_syringe = weighed("HCl", 0.32, volume_doubt="syringe")
    assert 100 * in_syringe.doubt == pytest.approx(3.5, rel=0.05)


WEAK = weighed("H2O2", 0.03)


def test_law_weighing_cannot_tell_weak_peroxide():
    assert not WEAK.tells
    assert "cannot tell" in WEAK.words and "oxygen" in WEAK.words
    assert weighed("H2O2", 0.30).tells and weighed("HCl", 0.10).tells
    assert not weighed("HCl", 0.10, volume_doubt="syringe").tells
    # as it says, from about 5 % in a good flask: 0.3 % of 1.016 kg/L and the equation, 0.32 % of
    # 1016 over 3.5 kg/m³ each per cent are 0.93 %, a fifth of 4.6 %
    assert weighed("H2O2", 0.05).tells and not weighed("H2O2", 0.043).tells
    assert "about 5 %" in by_weighing.__doc__


@pytest.mark.parametrize(
    "use",
    [
        lambda: WEAK.draws(10, 1),
        lambda: WEAK.bottle(None),
        lambda: combined(WEAK),
        lambda: combined(Strength("H2O2", 0.03, 0.001, "oxygen"), WEAK),
    ],
)
def test_law_nothing_takes_a_weighing_that_cannot_tell(use):
    with pytest.raises(ValueError, match=r"weighing cannot tell: it reads 3.0 ± 0.9"):
        use()


def test_law_water_in_the_bottle_is_a_strength_of_nothing():
    light = by_weighing("H2O2", mass=on_balance("H2O2", 0.0) - 0.2e-3, volume=FLASK, T=T20)
    assert light.middle == 0 and not light.tells
    assert light.doubt == pytest.approx(weighed("H2O2", 0.0).doubt, rel=0.01)


@pytest.mark.parametrize("mass", [0.09, 0.13])
def test_law_lead_or_cork_in_the_bottle_is_a_mistake(mass):
    words = rf"mass = {mass:g} is impossible: it must be 0.0987\d* to 0.122"
    with pytest.raises(ValueError, match=words):
        by_weighing("HCl", mass=mass, volume=FLASK, T=T20)


def test_law_a_strength_that_was_not_checked_warns_once():
    words = r"mass fraction of HCl = 0.4\d+.*0 to 0.4"
    with pytest.warns(RangeWarning, match=words) as warnings:
        by_weighing("HCl", mass=on_balance("HCl", 0.40) + 1.0e-3, volume=FLASK, T=T20)
    assert len(warnings) == 1 and warnings[0].filename == __file__


def weigh(substance="HCl", **changes):
    return lambda: by_weighing(substance, **{"mass": 0.11, "volume": 1e-4, "T": T20, **changes})


def weigh_acid(**changes):
    return lambda: weighed("HCl", 0.3, **changes)


REFUSED = [
    (weigh("bleach"), ("substance", "'bleach'", "HCl, H2O2")),
    (weigh(volume=0), ("volume", "0", "1e-07 to 0.00025 m³")),
    (weigh(volume=100), ("volume", "100", "1e-07 to 0.00025 m³ (250 mL)")),
    (weigh(volume=2.6e-4, mass=0.3), ("volume", "0.00026", "0.00025 m³")),
    (weigh(mass=110), ("mass", "110", "kg for 100 mL of HCl")),
    (weigh(mass=np.nan), ("mass", "nan", "kg for 100 mL of HCl")),
    (weigh(mass="0.11"), ("mass", "'0.11'", "kg for 100 mL of HCl")),
    (weigh(mass=as_draws([0.11, 0.12])), ("mass", "0.11", "one number")),
    (weigh(T=20), ("T", "20", "273.15 to 313.15 K")),
    (weigh_acid(volume_doubt="bucket"), ("volume_doubt", "'bucket'", "flask, syringe")),
    (weigh_acid(volume_doubt=1.5), ("volume_doubt", "1.5", "0 to 0.2")),
    (weigh_acid(volume_doubt=None), ("volume_doubt", "None", "0 to 0.2")),
    (
        weigh_acid(mass_doubt=0.1),
        ("mass_doubt", "mass in doubt by 0.1", "1.9", "above 0 to 1 kg/kg"),
    ),
    (weigh_acid(mass_doubt=-1), ("mass_doubt", "-1", "0 to 0.1 kg")),
    (weigh_acid(T_doubt=np.inf), ("T_doubt", "inf", "0 to 10 K")),
]


@pytest.mark.parametrize("weighing, words", REFUSED, ids=range(len(REFUSED)))
def test_law_what_cannot_be_is_refused_by_name_and_limits(weighing, words):
    with pytest.raises(ValueError) as error:
        weighing()
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
