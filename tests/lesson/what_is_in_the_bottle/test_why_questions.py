"""Numbers in the questions that ask why hold in the package (law)."""

import pytest
from helpers.why_laws import WhyLaws, words_of

from pcbchem.lesson.what_is_in_the_bottle.why_questions import SETTINGS
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import density
from pcbchem.matter.solution import Solution, mix

ROOM = 293.15


class TestWhy(WhyLaws):
    settings = SETTINGS


def said(phrase):
    """Whether a phrase stands in one of the questions, word for word."""
    return any(phrase in words for setting in SETTINGS for words in words_of(setting))


def test_law_half_the_acid_of_equal_parts():
    bath = mix(
        Solution.of(volume=1e-3, T=ROOM, HCl=0.10), Solution.of(volume=1e-3, T=ROOM, H2O2=0.03)
    )
    assert said("about 5 % acid") and bath.mass_fraction("HCl") == pytest.approx(0.05, abs=0.002)


def test_law_twenty_volumes():
    share = float(mass_fraction_from(20, "volume strength", "H2O2", ROOM))
    moles = float(strength(share, "mol/L", "H2O2", ROOM))
    weighs = float(density(ROOM, H2O2=share))
    assert said("20 L of oxygen are 0.9 mol") and 20 / 22.414 == pytest.approx(0.9, abs=0.01)
    assert said("1.8 mol in a litre") and moles == pytest.approx(1.8, abs=0.05)
    assert said("1.8 mol weigh 61 g") and moles * 34.0147 == pytest.approx(61, abs=0.5)
    assert said("a litre weighs 1019 g: about 6 %") and weighs == pytest.approx(1019, abs=0.5)
    assert share == pytest.approx(0.06, abs=0.001) and said("Nearly 94 % of it are water")


def test_law_by_weight_and_by_volume():
    weighs = float(density(ROOM, HCl=0.10))
    assert said("weighs 1047 g, so 100 mL hold 10.5 g") and weighs == pytest.approx(1047, abs=0.5)
    by_volume = float(mass_fraction_from(10, "% w/v", "HCl", ROOM))
    assert said("it is 9.6 % by weight") and by_volume == pytest.approx(0.096, abs=0.0005)


def test_law_a_part_of_shop_peroxide_dilutes_as_a_part_of_water_does():
    """1 : 1 : 1 of mild bottles, and without the water with one part more of 3 % peroxide."""
    acid = Solution.of(volume=1e-3, T=ROOM, HCl=0.10)
    shop, water = (Solution.of(volume=1e-3, T=ROOM, H2O2=share) for share in (0.03, 0.0))
    before, after = mix(acid, shop, water), mix(acid, shop, shop)
    assert after.concentration("HCl") == pytest.approx(float(before.concentration("HCl")), rel=0.01)


def test_law_shop_peroxide_is_water():
    assert said("97 % of it by weight")
    bottle = Solution.of(volume=2e-3, T=ROOM, H2O2=0.03)
    assert 1.9 < bottle.mass * 0.97 / Solution.of(volume=1e-3, T=ROOM).mass < 2
