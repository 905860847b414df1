"""Titrations worked by hand, as they are done in a school, and the samples that are refused."""

import numpy as np
import pytest
from helpers.bottles import T20, by_lye_with, by_permanganate_with, by_soda_with

from pcbchem.bench.bottle import by_carbonate, by_lye, by_permanganate
from pcbchem.bench.bottle.titration import ACID_PER_SODA, LYE, PERMANGANATE, SODA
from pcbchem.matter.labels import strength
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.reaction.chemistry.stoichiometry import parse, reactions


def mol_per_litre(reading, T=T20):
    return strength(reading.middle, "mol/L", reading.substance, T)


def test_second_source_acid_by_washing_soda_worked_by_hand():
    # 0.2120 g / 105.988 g/mol = 2.0002 mmol Na2CO3, which take 4.0005 mmol of acid, that in
    # 3.93 mL: 1.01793 mol/L; it was 10 mL made up to 100 mL: 10.179 mol/L. An encyclopaedia gives
    # 10.17 mol/L for 32 %
    reading = by_carbonate(mass=0.2120e-3, volume=3.93e-6, dilution=10)
    assert mol_per_litre(reading) == pytest.approx(10.179, abs=0.0006)
    assert reading.middle == pytest.approx(0.32, rel=0.003)


def test_law_phenolphthalein_turns_at_half_of_the_acid():
    # CO3-- + H+ -> HCO3-: the first half of the acid; read as the whole it would be twice the
    # strength
    at_half = by_carbonate(mass=0.2e-3, volume=5e-6, dilution=5)
    at_end = by_carbonate(mass=0.2e-3, volume=10e-6, dilution=5)
    assert mol_per_litre(at_half) == pytest.approx(2 * mol_per_litre(at_end))
    assert "half" in by_carbonate.__doc__ and "methyl orange" in by_carbonate.__doc__


def test_second_source_acid_by_lye_worked_by_hand():
    # 9.45 mL of 1.000 mol/L, 9.45 mmol, for 10.00 mL of acid diluted tenfold: 9.45 mol/L, which is
    # 30 % in the encyclopaedia's table
    reading = by_lye_with(titrant=9.45e-6, dilution=10)
    assert mol_per_litre(reading) == pytest.approx(9.45, abs=1e-6)
    assert reading.middle == pytest.approx(0.30, rel=0.003)


def test_second_source_peroxide_by_permanganate_by_hand():
    # 1 mL of 3.00 g in 100 mL: 30.0 mg / 34.0147 g/mol = 0.88197 mmol, of which 2 MnO4- take 5:
    # 0.35279 mmol, 17.639 mL of 0.0200 mol/L
    reading = by_permanganate_with(titrant=17.639e-6)
    assert strength(reading.middle, "% w/v", "H2O2") == pytest.approx(3.00, abs=0.0005)


def test_law_a_diluted_sample_takes_as_much_titrant():
    # 10 mL of it made up to 100 mL, and 10 mL of that in the flask, as 1 mL as it is
    reading = by_permanganate_with(titrant=17.639e-6)
    diluted = by_permanganate_with(titrant=17.639e-6, sample=10e-6, dilution=10)
    assert diluted.middle == pytest.approx(reading.middle)
    assert diluted.doubt > reading.doubt


@pytest.mark.parametrize("T", [278.15, 308.15])
def test_law_a_concentration_is_that_of_the_bottle_s_temperature(T):
    readings = {"titrant": 10e-6, "sample": 10e-6, "dilution": 10}
    reading = by_lye_with(**readings, T=T)
    assert mol_per_litre(reading, T) == pytest.approx(10.0)
    assert reading.middle != by_lye_with(**readings).middle


def test_law_who_meets_whom_in_a_titration():
    # the equations, balanced by element and charge, give 2, 1 and 5 : 2
    soda = reactions()["neutralisation by soda"].coefficients
    assert soda["H+(aq)"] / soda["Na2CO3(s)"] == ACID_PER_SODA
    lye = parse("lye", "H+(aq) + OH-(aq) -> H2O(l)").coefficients
    assert lye["H+(aq)"] / lye["OH-(aq)"] == LYE.takes
    permanganate = parse(
        "permanganate",
        "2 MnO4-(aq) + 5 H2O2(aq) + 6 H+(aq) -> 2 Mn2+(aq) + 5 O2(g) + 8 H2O(l)",
    ).coefficients
    assert permanganate["H2O2(aq)"] / permanganate["MnO4-(aq)"] == PERMANGANATE.takes


def test_law_the_molar_mass_of_soda_is_that_of_its_atoms():
    # IUPAC atomic weights: 2 Na + C + 3 O, the sodium out of NaOH
    oxygen = MOLAR_MASS["O2"] / 2
    hydrogen = (MOLAR_MASS["H2O"] - oxygen) / 2
    sodium = MOLAR_MASS["NaOH"] - oxygen - hydrogen
    assert pytest.approx(2 * sodium + 0.012011 + 3 * oxygen, abs=2e-6) == SODA


def test_law_the_doubt_of_a_titration_by_hand():
    # 1 % of the lye; 9.45 mL by syringe 1.5 % and a drop of 0.05 mL, 0.53 %: 1.59 %; sample and
    # dilution 1.5 % each: the root of squares is 2.83 % of 9.45 mol/L. By weight it is a little
    # less: from 9.45 to 10.17 mol/L, 7.6 %, the table goes from 30 to 32 %, 6.7 %
    reading = by_lye_with(titrant=9.45e-6, dilution=10)
    assert reading.doubt / reading.middle == pytest.approx(0.0283 * 6.7 / 7.6, rel=0.02)


def test_law_what_is_not_diluted_has_no_doubt_of_it():
    reading = by_lye_with(titrant=9.45e-6, titrant_doubt="flask", sample_doubt="flask")
    assert dict(reading.shares)["dilution"] == 0


# Titrations by hand as they are done in a school: the readings, and between which strengths the
# bottle lies
SCHOOL_PERMANGANATE = [
    # shop peroxide of 3 %, 25 mL of it made up to 500 mL, 25 mL in the flask: 25 mL of 0.882 mol/L
    # over 20 are 1.10 mmol, 22.05 mL of 0.02 mol/L
    ({"titrant": 22.05e-6, "sample": 25e-6, "dilution": 20}, 0.0295, 0.0300),
    # 30 % (333 g/L, 9.79 mol/L), 1 mL made up to 100 mL, 10 mL in the flask: 0.979 mmol, 19.6 mL
    ({"titrant": 19.6e-6, "sample": 10e-6, "dilution": 100}, 0.297, 0.303),
    # "10 volume" as it is, 1 mL: 0.893 mmol, 17.9 mL
    ({"titrant": 17.9e-6, "sample": 1e-6}, 0.0300, 0.0303),
    # and a fresh one that is filled a little stronger
    ({"titrant": 19.0e-6, "sample": 1e-6}, 0.031, 0.033),
]


@pytest.mark.parametrize("readings, low, high", SCHOOL_PERMANGANATE)
def test_second_source_school_permanganate_passes(readings, low, high):
    reading = by_permanganate(concentration=20.0, **readings)
    assert low < reading.middle < high and reading.tells


SCHOOL_LYE = [
    # 36 % (11.64 mol/L), 10 mL made up to 100 mL, 10 mL in the flask: 11.64 mL of 1 mol/L
    ({"concentration": 1000.0, "titrant": 11.64e-6, "sample": 10e-6, "dilution": 10}, 0.36),
    # or 25 mL of it diluted a hundredfold, 29.1 mL of 0.1 mol/L
    ({"concentration": 100.0, "titrant": 29.1e-6, "sample": 25e-6, "dilution": 100}, 0.36),
    # 10 % (2.87 mol/L) diluted twofold: 10 mL of it takes 14.35 mL of 1 mol/L
    ({"concentration": 1000.0, "titrant": 14.35e-6, "sample": 10e-6, "dilution": 2}, 0.10),
]


@pytest.mark.parametrize("readings, acid", SCHOOL_LYE)
def test_second_source_school_titrations_with_lye_pass(readings, acid):
    reading = by_lye(**readings)
    assert reading.middle == pytest.approx(acid, abs=0.001) and reading.tells


def test_second_source_a_school_titration_with_soda_passes():
    # half a gram of soda, 9.435 mmol of acid: 8.11 mL of 1.164 mol/L
    reading = by_carbonate(mass=0.5e-3, volume=8.106e-6, dilution=10)
    assert reading.middle == pytest.approx(0.36, abs=0.001) and reading.tells


def test_law_what_is_under_permanganate_is_weak_at_the_ends():
    # 3.02 % is 0.90 mol/L: with no doubt of the readings this is the end; 2 mmol are 40 mL of
    # 0.02 mol/L
    sure = {"concentration_doubt": 0.0, "titrant_doubt": 0.0, "sample_doubt": 0.0}
    sure["end_point"] = 1e-9
    assert by_permanganate_with(titrant=17.9e-6, **sure).middle < 0.0303
    with pytest.raises(ValueError, match="spray hot liquid"):
        by_permanganate_with(titrant=18.1e-6, **sure)
    assert by_permanganate_with(titrant=39.9e-6, sample=5e-6).tells


def test_law_strong_permanganate_onto_strong_peroxide_is_refused():
    # 0.4 mol/L onto 10 mL of 30 %
    with pytest.raises(ValueError, match="concentration = 400"):
        by_permanganate_with(concentration=400.0, titrant=98e-6, sample=10e-6)


def test_law_too_little_titrant_asks_for_a_weaker_titrant():
    little = by_permanganate_with(concentration=5.0, titrant=0.1e-6)
    assert not little.tells and "use a weaker titrant" in little.words
    assert "more of the sample" not in little.words  # which is the way to a stronger flask


def test_law_permanganate_never_goes_into_a_bath():
    assert "Never in a bath" in by_permanganate.__doc__
    assert "chloride" in by_permanganate.__doc__


REFUSED = [
    # washing soda
    (by_soda_with, {"mass": 0}, ("mass", "0", "1e-06 to 0.001 kg")),
    (by_soda_with, {"mass": 0.2}, ("mass", "0.2", "1e-06 to 0.001 kg", "1 g")),
    (by_soda_with, {"volume": np.nan}, ("volume", "nan", "1e-08 to 0.001 m³")),
    (by_soda_with, {"T": 20}, ("T", "20", "273.15 to 313.15 K")),
    (by_soda_with, {"dilution": 0.5}, ("dilution", "0.5", "1 to 1000 times")),
    (by_soda_with, {"purity_doubt": 1}, ("purity_doubt", "1", "0 to 0.2")),
    (by_soda_with, {"volume_doubt": "spoon"}, ("volume_doubt", "'spoon'", "flask, syringe")),
    (by_soda_with, {"mass_doubt": -1e-6}, ("mass_doubt", "-1e-06", "0 to 0.001 kg")),
    (
        by_soda_with,
        {"dilution": 20},
        ("concentration of HCl in the bottle", "18.8", "0 to 15.1", "mol/L"),
    ),
    (
        by_soda_with,
        {"volume": 1.8e-6},
        ("acid as diluted", "2.1 mol/L", "at most 2 mol/L", "Acid into water first"),
    ),
    # lye
    (
        by_lye_with,
        {"titrant": 25e-6},
        ("acid as diluted", "2.5 mol/L", "at most 2 mol/L", "10 mL made up to 100 mL"),
    ),
    (
        by_lye_with,
        {"titrant": 21e-6, "sample": 2e-5},
        ("acid in the flask", "21 mmol", "at most 20 mmol"),
    ),
    (by_lye_with, {"concentration": 0}, ("concentration", "0", "10 to 1100 mol/m³ of lye")),
    (by_lye_with, {"concentration": 6000}, ("concentration", "6000", "10 to 1100 mol/m³ of lye")),
    # as the bottle says it, in mol/L
    (by_lye_with, {"concentration": 1}, ("concentration", "1", "1 mol/L is 1000")),
    (by_lye_with, {"concentration_doubt": 0.3}, ("concentration_doubt", "0.3", "0 to 0.2")),
    (by_lye_with, {"titrant": 9}, ("titrant", "9", "1e-08 to 0.001 m³")),
    (by_lye_with, {"sample": -1e-6}, ("sample", "-1e-06", "1e-08 to")),
    (by_lye_with, {"end_point": np.inf}, ("end_point", "inf", "0 to 0.001 m³")),
    (by_lye_with, {"sample": "1"}, ("sample", "'1'", "1e-08 to")),
    (by_lye_with, {"dilution_doubt": [0.1]}, ("dilution_doubt", "[0.1]", "0 to 0.2")),
    (
        by_lye_with,
        {"dilution": 100},
        ("concentration of HCl in the bottle", "90", "0 to 15.1", "mol/L"),
    ),
    # permanganate
    (
        by_permanganate_with,
        {"titrant": 41e-6, "sample": 3e-6},
        ("sample", "2.05 mmol", "at most 2 mmol", "spray hot liquid"),
    ),
    (
        by_permanganate_with,
        {"titrant": 21e-6},
        ("sample", "1.05 mol/L", "at most 0.9 mol/L", "dilute the peroxide first"),
    ),
    (by_permanganate_with, {"concentration": 0.02}, ("concentration", "0.02", "1 mol/L is 1000")),
    (
        by_permanganate_with,
        {"concentration": 500},
        ("concentration", "500", "5 to 100 mol/m³ of permanganate"),
    ),
    (by_permanganate_with, {"titrant_doubt": 2}, ("titrant_doubt", "2", "0 to 0.2")),
    (by_permanganate_with, {"sample_doubt": ""}, ("sample_doubt", "''", "flask")),
    (
        by_permanganate_with,
        {"dilution": 100},
        ("concentration of H2O2 in the bottle", "85", "0 to 26", "mol/L"),
    ),
]


@pytest.mark.parametrize("method, changes, words", REFUSED, ids=range(len(REFUSED)))
def test_law_what_cannot_be_is_refused_by_name_and_limits(method, changes, words):
    with pytest.raises(ValueError) as error:
        method(**changes)
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
