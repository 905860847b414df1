"""The hill is the package's, and a textbook's heats of solution give the same one.

Second source, as printed and laws.
"""

import numpy as np
import pytest
from helpers.expected import printed_figure, rows
from scipy.interpolate import PchipInterpolator

from pcbchem import Solution, mix
from pcbchem.lesson.acid_into_water import numbers
from pcbchem.lesson.acid_into_water.numbers import ASKED, MILD, PEROXIDE, STRONGEST, WATER, hill

ROOM, TABLE = 20.0, 25.0  # °C
# molar masses [g/mol], and density of water at 20 °C [kg/L]
HCL, H2O = 36.461, 18.015
WATER_DENSITY = 0.9982
# Heats of solution of one HCl in so much water at 25 °C [mol, kJ/mol], on the scale of NBS Circular
# 500: Himmelblau, Basic Principles and Calculations in Chemical Engineering, table 5.4, as in
# Felder and Rousseau, table B.11. Those for 5, 10 and 15 were read in a copy, the others are from
# memory. The package stands on another scale (Parker 1965): only differences within one are used.
TEXTBOOK = {
    1: -26.225,
    2: -48.818,
    3: -56.852,
    4: -61.205,
    5: -64.047,
    8: -68.233,
    10: -69.486,
    15: -70.989,
    20: -71.78,
    25: -72.266,
    30: -72.59,
    40: -73.0,
    50: -73.261,
    100: -73.848,
    200: -74.203,
    500: -74.521,
    1000: -74.684,
}
HEAT = PchipInterpolator(np.log(list(TEXTBOOK)), list(TEXTBOOK.values()))
CLOSE = 0.5
"""How near the page says that the textbook comes [K]."""


def heat_capacity(fraction):
    """Specific heat of acid by the encyclopaedia's table, at 20 °C [kJ/kg/K]."""
    table = [
        (float(row["mass_fraction"]), float(row["heat_capacity_J_kg_K"]) / 1000)
        for row in rows("specific_heat", substance="HCl")
        if row["source"].startswith("encyclopaedia")
    ]
    curve = PchipInterpolator(*np.transpose([(0.0, 4.184), *sorted(table)]))
    return curve(fraction)


def density(fraction):
    """Density of acid by the CRC Handbook's table, at 20 °C [kg/L]."""
    table = [
        (float(row["mass_fraction"]), float(row["density_kg_m3"]) / 1000)
        for row in rows("hcl_density", T_C="20")
        if row["source"].startswith("CRC")
    ]
    return PchipInterpolator(*np.transpose(sorted(table)))(fraction)


def by_the_textbook(fraction, parts):
    """Temperature of one part of acid [kg/kg] in parts of water, both at 20 °C [°C].

    The bottles are brought to 25 °C, the heat is set free there, and the mixture takes it up.
    """
    acid, water = density(fraction), WATER_DENSITY * parts
    moles = acid * fraction / HCL
    before = (1 - fraction) / H2O / (fraction / HCL)
    after = before + water / H2O / moles
    freed = 1000 * moles * (HEAT(np.log(before)) - HEAT(np.log(after)))
    warming = (TABLE - ROOM) * (acid * heat_capacity(fraction) + water * 4.184)
    whole = acid + water
    return TABLE + (freed - warming) / (whole * heat_capacity(fraction * acid / whole))


@pytest.mark.parametrize("acid", [ASKED, STRONGEST, MILD])
def test_second_source_end_and_top_of_the_hill(acid):
    end, top = (T - 273.15 for _, T in (hill(acid).end, hill(acid).top))
    parts = np.linspace(0.05, 3, 400)
    temperatures = [by_the_textbook(acid / 100, part) for part in parts]
    assert end == pytest.approx(temperatures[-1], abs=CLOSE)
    assert top == pytest.approx(max(temperatures), abs=CLOSE)
    # the top lies where the textbook has it: so many parts of water in
    warmest = parts[np.argmax(temperatures)]
    poured = 3 * np.argmax(hill(acid).over.T) / (hill(acid).over.T.size - 1)
    assert poured == pytest.approx(warmest, abs=0.05)


def test_second_source_a_rise_without_heat_is_missed_by_the_textbook():
    """So the check above can fail: without heats of dilution it does, by far."""
    bottles = numbers.acid_bottle(ASKED), numbers.other_bottle(WATER)
    assert mix(*bottles, heat=False).T - 273.15 == pytest.approx(ROOM, abs=0.01)
    assert by_the_textbook(ASKED / 100, 3) > ROOM + 10 * CLOSE


def test_as_printed_the_heat_of_each_mole():
    """From 12.583 mol/kg to 1 (C14c), and on from 1 to what the mixture holds by CRC's table."""
    hand = numbers.by_hand(ASKED, 3.0)
    (check,) = rows("checks_solutions", id="C14c")
    # CRC Handbook 87th ed., 5-87: 1.695 kJ/mol at 1 mol/kg, 3.063 at 2.5, 3.506 at 3
    mixture = mix(numbers.acid_bottle(ASKED, 298.15), numbers.other_bottle(WATER, 298.15))
    at_mixture = np.interp(numbers.molality(mixture), (2.5, 3.0), (3.063, 3.506))
    assert hand.heat == pytest.approx(float(check["expected"]) + 1.695 - at_mixture, abs=0.15)
    assert hand.heat - 1.695 + at_mixture == printed_figure("C14c")


def test_as_printed_the_litre_of_acid():
    """Second source: 9.971 mol/L at 20 °C, as the note of check C05 says (from memory)."""
    (check,) = rows("checks_solutions", id="C05")
    assert "9.971" in check["note"]
    assert hill(ASKED).over.strength[0] / 1000 == pytest.approx(9.971, rel=0.002)


@pytest.mark.parametrize("other", [WATER, PEROXIDE])
@pytest.mark.parametrize("acid", [ASKED, STRONGEST, MILD])
def test_law_both_ways_end_at_one_point(acid, other):
    pair = hill(acid, other)
    assert pair.over.at(100) == pytest.approx(pair.end, rel=1e-9)
    # every mixture of two bottles lies on one line: the ways do not overlap but at the end
    assert np.all(np.diff(pair.up.strength) > 0) and np.all(np.diff(pair.over.strength) < 0)
    assert pair.up.strength.max() <= pair.over.strength.min() * (1 + 1e-9)
    # on the way acid into water is never warmer than at its end
    assert pair.up.T.max() == pytest.approx(pair.end[1])
    assert pair.top[1] > pair.end[1]


@pytest.mark.parametrize("poured", [0, 5, 25, 60, 100])
def test_law_a_place_of_the_slider_is_a_mixture(poured):
    """Mixed a second time, from the bottles, with water by volume."""
    share = poured / 100
    acid = Solution.of(volume=1.0, T=293.15, HCl=0.3145)
    water = Solution.of(volume=3.0, T=293.15)
    if poured:
        up = mix(water, Solution.of(volume=share, T=293.15, HCl=0.3145))
        over = mix(acid, Solution.of(volume=3.0 * share, T=293.15))
    else:
        up, over = water, acid
    for way, jug in ((hill(ASKED).up, up), (hill(ASKED).over, over)):
        strength, T = way.at(poured)
        assert strength == pytest.approx(float(jug.concentration("HCl")), rel=1e-9)
        assert pytest.approx(float(jug.T), abs=1e-6) == T


def test_law_a_hill_is_worked_out_once(monkeypatch):
    first = hill(ASKED)
    monkeypatch.setattr(numbers, "course_of_pour", None)
    assert hill(ASKED) is first


def test_law_what_fumes_is_the_planner_s_rule():
    """It is refused, it is our limit, and its words are those that the picture has."""
    assert numbers.FUMES.verdict == "do not mix" and numbers.FUMES.unit == "mol/m3"
    assert "fumes strongly" in numbers.FUMES.words and "our limit" in numbers.FUMES.source
    # the strong bottles stand beyond it, the mild one and all ends do not
    assert hill(ASKED).over.strength[0] > numbers.FUMES.limit
    assert hill(MILD).over.strength[0] < numbers.FUMES.limit
    assert all(hill(acid).end[0] < numbers.FUMES.limit for acid in (ASKED, STRONGEST, MILD))


def test_law_only_the_mild_acid_is_low():
    assert [hill(acid).is_low for acid in (ASKED, STRONGEST, MILD)] == [False, False, True]
