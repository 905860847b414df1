"""Titrations worked by hand, oxygen by the gas law, and the samples that are refused."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.bench.bottle.oxygen import by_oxygen, oxygen_to_expect
from pcbchem.bench.bottle.titration import SODA, by_carbonate, by_lye, by_permanganate
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import MOLAR_MASS, density
from pcbchem.reaction.bath.film_properties import saturation_pressure
from pcbchem.reaction.chemistry.stoichiometry import parse, reactions

T20, MILLILITRE, ATM = 293.15, 1e-6, 101325.0


def mol_per_litre(found, T=T20):
    return strength(found.middle, "mol/L", found.substance, T)


def test_validation_acid_by_washing_soda_worked_by_hand():
    # 0.2120 g / 105.988 g/mol = 2.0002 mmol Na2CO3, which take 4.0005 mmol of acid, found in 3.93 mL: 1.01793 mol/L;
    # it was 10 mL made up to 100 mL: 10.179 mol/L. An encyclopaedia gives 10.17 mol/L for 32 %
    found = by_carbonate(mass=0.2120e-3, volume=3.93e-6, dilution=10)
    assert mol_per_litre(found) == pytest.approx(10.179, abs=0.0006)
    assert found.middle == pytest.approx(0.32, rel=0.003)


def test_law_phenolphthalein_turns_at_half_of_the_acid():
    # CO3-- + H+ -> HCO3-: the first half of the acid; read as the whole it would be twice the strength
    half, whole = (
        mol_per_litre(by_carbonate(mass=0.2e-3, volume=v, dilution=5)) for v in (5e-6, 10e-6)
    )
    assert half == pytest.approx(2 * whole)
    assert "half" in by_carbonate.__doc__ and "methyl orange" in by_carbonate.__doc__


def test_validation_acid_by_lye_worked_by_hand():
    # 9.45 mL of 1.000 mol/L, 9.45 mmol, for 10.00 mL of acid diluted tenfold: 9.45 mol/L, which is 30 % in the
    # encyclopaedia's table
    found = by_lye(concentration=1000.0, titrant=9.45e-6, sample=10e-6, dilution=10)
    assert mol_per_litre(found) == pytest.approx(9.45, abs=1e-6)
    assert found.middle == pytest.approx(0.30, rel=0.003)


def test_validation_peroxide_by_permanganate_worked_by_hand():
    # 1 mL of 3.00 g in 100 mL: 30.0 mg / 34.0147 g/mol = 0.88197 mmol, of which 2 MnO4- take 5: 0.35279 mmol,
    # 17.639 mL of 0.0200 mol/L
    found = by_permanganate(concentration=20.0, titrant=17.639e-6, sample=1e-6)
    assert strength(found.middle, "% w/v", "H2O2") == pytest.approx(3.00, abs=0.0005)
    # 10 mL of the same made up to 100 mL, 10 mL of it taken: as much titrant
    again = by_permanganate(concentration=20.0, titrant=17.639e-6, sample=10e-6, dilution=10)
    assert again.middle == pytest.approx(found.middle) and again.doubt > found.doubt


@pytest.mark.parametrize("T", [278.15, 308.15])
def test_law_the_bottle_s_temperature_is_that_of_its_concentration(T):
    found = by_lye(concentration=1000.0, titrant=10e-6, sample=10e-6, dilution=10, T=T)
    assert (
        mol_per_litre(found, T) == pytest.approx(10.0)
        and found.middle
        != by_lye(concentration=1000.0, titrant=10e-6, sample=10e-6, dilution=10).middle
    )


def test_law_who_meets_whom_in_a_titration():
    # the equations, balanced by element and charge, give 2, 1 and 5 : 2
    soda = reactions()["neutralisation by soda"].coefficients
    assert soda["H+(aq)"] / soda["Na2CO3(s)"] == 2
    pink = parse(
        "permanganate", "2 MnO4-(aq) + 5 H2O2(aq) + 6 H+(aq) -> 2 Mn2+(aq) + 5 O2(g) + 8 H2O(l)"
    ).coefficients
    assert pink["H2O2(aq)"] / pink["MnO4-(aq)"] == 2.5
    # IUPAC atomic weights: 2 Na + C + 3 O, the sodium out of NaOH
    oxygen = MOLAR_MASS["O2"] / 2
    hydrogen = (MOLAR_MASS["H2O"] - oxygen) / 2
    assert (
        pytest.approx(
            2 * (MOLAR_MASS["NaOH"] - oxygen - hydrogen) + 0.012011 + 3 * oxygen, abs=2e-6
        )
        == SODA
    )


def test_law_the_doubt_of_a_titration_by_hand():
    # 1 % of the lye; 9.45 mL by syringe 1.5 % and a drop of 0.05 mL, 0.53 %: 1.59 %; sample and dilution 1.5 % each:
    # the root of squares is 2.83 % of 9.45 mol/L. By weight it is a little less: from 9.45 to 10.17 mol/L, 7.6 %, the
    # table goes from 30 to 32 %, 6.7 %
    found = by_lye(concentration=1000.0, titrant=9.45e-6, sample=10e-6, dilution=10)
    assert found.doubt / found.middle == pytest.approx(0.0283 * 6.7 / 7.6, rel=0.02)
    sure = by_lye(
        concentration=1000.0,
        titrant=9.45e-6,
        sample=10e-6,
        titrant_doubt="flask",
        sample_doubt="flask",
    )
    assert dict(sure.shares)["dilution"] == 0  # what is not diluted has no doubt of it


def test_validation_peroxide_by_oxygen_worked_by_hand():
    # 1 mL of 3.00 g in 100 mL: 0.88197 mmol give 0.44098 mmol O2; at 20 °C and 1 atm over water, 101325 - 2339 Pa:
    # 0.44098e-3 * 8.31446 * 293.15 / 98986 = 10.858 mL
    found = by_oxygen(gas=10.858e-6, sample=1e-6, label=0.03, p=ATM)
    assert strength(found.middle, "% w/v", "H2O2") == pytest.approx(3.00, rel=2e-4)
    # a table of home tests: 1 mL of 3 % gives 10.7 mL, within 3 to 5 %
    assert 1e6 * oxygen_to_expect(label=0.03, sample=1e-6, p=ATM) == pytest.approx(10.7, rel=0.03)
    # "10 volume" gives ten times its volume of dry gas at 0 °C: 10 mL, 10 * 293.15/273.15 * 101325/98986 = 10.986 mL
    ten = mass_fraction_from(10, "volume strength", "H2O2")
    assert 1e6 * oxygen_to_expect(label=ten, sample=1e-6, p=ATM) == pytest.approx(10.986, rel=2e-4)


def test_law_little_gas_tells_nothing():
    # 0.2 mL on the scale: a fifth of 1 mL, which is 0.27 % of peroxide; the 4 % for leaks beside it is 0.04 mL
    little, enough = (
        by_oxygen(gas=gas, sample=1e-6, label=0.03, p=ATM) for gas in (1.0e-6, 1.1e-6)
    )
    assert not little.tells and enough.tells and "leak" in little.words
    assert dict(enough.shares)["gas"] > 0.9


def test_law_a_mountain_and_a_warm_room_give_more_gas():
    low, high = (by_oxygen(gas=8e-6, sample=1e-6, label=0.03, p=p).middle for p in (ATM, 84000.0))
    # 84 kPa, about 1600 m up: (84000 - 2339) / (101325 - 2339) of the oxygen in the same volume
    assert high / low == pytest.approx(0.825, rel=0.002)
    cold, warm = (
        by_oxygen(gas=8e-6, sample=1e-6, label=0.03, p=ATM, T_gas=T).middle for T in (T20, 303.15)
    )
    assert warm < 0.96 * cold


def test_validation_water_vapour_over_water():
    # the international equation of state of water; the package's short form is within 0.5 %
    with (Path(__file__).parents[2] / "published" / "water_saturation.csv").open(
        encoding="utf-8", newline=""
    ) as file:
        printed = list(csv.DictReader(file))
    assert len(printed) == 7
    for row in printed:
        assert saturation_pressure(float(row["T_C"]) + 273.15) == pytest.approx(
            float(row["p_sat_Pa"]), rel=0.005
        )


@pytest.mark.parametrize(
    "changed, said",
    [
        (dict(sample=1.01e-6), ("sample", "1.01e-06", "1e-08 to 1e-06", "(1 mL)")),
        (dict(sample=10e-6), ("sample", "1e-05", "(1 mL)")),
        (
            dict(label=0.031),
            ("label", "0.031", "3.1 % by weight", "at most 3 %", "at least 2 times"),
        ),
        (dict(label=0.12, dilution=4), ("label", "0.12", "diluted 4 times", "at most 3 %")),
        (dict(label=0.0303), ("label", "0.0303", "3.03 % by weight", "at least 2 times")),
        # 30 % holds 333 g in a litre, 3.02 % 30.5: 10.9 times, and three doubts of a syringe more, 11.4 times
        (dict(label=0.30), ("label", "0.3", "30 % by weight", "at least 11.5 times")),
        (dict(label=0.30, dilution=10), ("label", "0.3", "diluted 10 times", "3.3")),
        (
            dict(label=0.30, dilution=11.3),
            ("label", "0.3", "diluted 11.3 times", "at least 11.5 times"),
        ),
        (dict(gas=13e-6), ("gas", "13 mL from 1 mL", "at most 11 mL", "stronger than its label")),
        (dict(gas=100e-6), ("gas", "100 mL from 1 mL", "at most 11 mL")),
    ],
)
def test_law_too_much_or_too_strong_is_refused_as_a_projectile(changed, said):
    with pytest.raises(ValueError, match="projectile") as error:
        by_oxygen(**{**dict(gas=8e-6, sample=1e-6, label=0.03, p=ATM), **changed})
    assert all(words in str(error.value) for words in said), str(error.value)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.03, 0.35), st.floats(1, 60), st.floats(1e-8, 1e-6), st.floats(274, 313))
def test_law_no_sample_that_is_let_through_gives_more_than_13_millilitres(
    label, dilution, sample, T
):
    # 1 mL of 3.02 % holds 0.45 mmol of oxygen: 11.0 mL at 20 °C and 1 atm, 12.4 mL at 40 °C
    grams = label * density(T20, H2O2=label) / dilution  # in a litre: 3.02 % are 30.46
    try:
        gas = oxygen_to_expect(label=label, sample=sample, dilution=dilution, T_gas=T, p=ATM)
    except ValueError as error:
        assert "projectile" in str(error) and grams > 30.4 / 1.045
        least = float(str(error).split("at least ")[1].split(" times")[0])
        oxygen_to_expect(
            label=label, sample=sample, dilution=least, T_gas=T, p=ATM
        )  # what the message says is enough
    else:
        assert 0 <= gas < 13 * MILLILITRE and grams < 30.5


def test_law_the_gas_is_never_shut_in():
    assert "Never in a closed vessel" in by_oxygen.__doc__
    assert "Never in a bath" in by_permanganate.__doc__ and "chloride" in by_permanganate.__doc__


@pytest.mark.parametrize(
    "what, low, high",
    [
        # school titrations by hand. Shop peroxide of 3 %, 25 mL of it made up to 500 mL, 25 mL taken: 25 mL of 0.882 mol/L
        # over 20 are 1.10 mmol, 22.05 mL of 0.02 mol/L
        (
            lambda: by_permanganate(
                concentration=20.0, titrant=22.05e-6, sample=25e-6, dilution=20
            ),
            0.0295,
            0.0300,
        ),
        # 30 % (333 g/L, 9.79 mol/L), 1 mL made up to 100 mL, 10 mL taken: 0.979 mmol, 19.6 mL of 0.02 mol/L
        (
            lambda: by_permanganate(
                concentration=20.0, titrant=19.6e-6, sample=10e-6, dilution=100
            ),
            0.297,
            0.303,
        ),
        # "10 volume" as it is, 1 mL: 0.893 mmol, 17.9 mL; and a fresh one that is filled a little stronger
        (lambda: by_permanganate(concentration=20.0, titrant=17.9e-6, sample=1e-6), 0.0300, 0.0303),
        (lambda: by_permanganate(concentration=20.0, titrant=19.0e-6, sample=1e-6), 0.031, 0.033),
        # 36 % (11.64 mol/L), 10 mL made up to 100 mL, 10 mL taken: 11.64 mL of 1 mol/L; or 25 mL of it diluted a
        # hundredfold, 29.1 mL of 0.1 mol/L
        (
            lambda: by_lye(concentration=1000.0, titrant=11.64e-6, sample=10e-6, dilution=10),
            0.359,
            0.361,
        ),
        (
            lambda: by_lye(concentration=100.0, titrant=29.1e-6, sample=25e-6, dilution=100),
            0.359,
            0.361,
        ),
        # 10 % (2.87 mol/L) diluted twofold: 10 mL of it takes 14.35 mL of 1 mol/L
        (
            lambda: by_lye(concentration=1000.0, titrant=14.35e-6, sample=10e-6, dilution=2),
            0.099,
            0.101,
        ),
        # half a gram of soda, 9.435 mmol of acid: 8.11 mL of 1.164 mol/L
        (lambda: by_carbonate(mass=0.5e-3, volume=8.106e-6, dilution=10), 0.359, 0.361),
    ],
)
def test_validation_titrations_as_they_are_done_in_a_school_pass(what, low, high):
    found = what()
    assert low < found.middle < high and found.tells


def test_law_what_is_under_permanganate_is_weak_at_the_ends():
    # 3.02 % is 0.90 mol/L: with no doubt of the readings this is the end; 2 mmol are 40 mL of 0.02 mol/L
    sure = dict(concentration_doubt=0.0, titrant_doubt=0.0, sample_doubt=0.0, end_point=1e-9)
    assert by_permanganate(concentration=20.0, titrant=17.9e-6, sample=1e-6, **sure).middle < 0.0303
    with pytest.raises(ValueError, match="spray hot liquid"):
        by_permanganate(concentration=20.0, titrant=18.1e-6, sample=1e-6, **sure)
    assert by_permanganate(concentration=20.0, titrant=39.9e-6, sample=5e-6).tells
    # what once passed: 0.4 mol/L onto 10 mL of 30 %
    with pytest.raises(ValueError, match="concentration = 400"):
        by_permanganate(concentration=400.0, titrant=98e-6, sample=10e-6)
    weak = by_permanganate(concentration=5.0, titrant=0.1e-6, sample=1e-6)
    assert (
        not weak.tells
        and "use a weaker titrant" in weak.words
        and "more of the sample" not in weak.words
    )


def lye(**changed):
    return lambda: by_lye(**{**dict(concentration=1000.0, titrant=9e-6, sample=1e-5), **changed})


def soda(**changed):
    return lambda: by_carbonate(**{**dict(mass=0.2e-3, volume=4e-6), **changed})


def pink(**changed):
    return lambda: by_permanganate(
        **{**dict(concentration=20.0, titrant=17e-6, sample=1e-6), **changed}
    )


def gas(**changed):
    return lambda: by_oxygen(**{**dict(gas=8e-6, sample=1e-6, label=0.03, p=ATM), **changed})


CASES = [
    (soda(mass=0), ("mass", "0", "1e-06 to 0.001 kg")),
    (soda(mass=0.2), ("mass", "0.2", "1e-06 to 0.001 kg", "1 g")),
    (soda(volume=np.nan), ("volume", "nan", "1e-08 to 0.001 m³")),
    (soda(T=20), ("T", "20", "273.15 to 313.15 K")),
    (soda(dilution=0.5), ("dilution", "0.5", "1 to 1000 times")),
    (soda(purity_doubt=1), ("purity_doubt", "1", "0 to 0.2")),
    (soda(volume_doubt="spoon"), ("volume_doubt", "'spoon'", "flask, syringe")),
    (soda(mass_doubt=-1e-6), ("mass_doubt", "-1e-06", "0 to 0.001 kg")),
    (soda(dilution=20), ("concentration of HCl in the bottle", "18.8", "0 to 15.1", "mol/L")),
    (
        soda(volume=1.8e-6),
        ("acid as diluted", "2.1 mol/L", "at most 2 mol/L", "Acid into water first"),
    ),
    (
        lye(titrant=25e-6),
        ("acid as diluted", "2.5 mol/L", "at most 2 mol/L", "10 mL made up to 100 mL"),
    ),
    (lye(titrant=21e-6, sample=2e-5), ("acid in the flask", "21 mmol", "at most 20 mmol")),
    (
        pink(titrant=41e-6, sample=3e-6),
        ("sample", "2.05 mmol", "at most 2 mmol", "spray hot liquid"),
    ),
    (
        pink(titrant=21e-6),
        ("sample", "1.05 mol/L", "at most 0.9 mol/L", "dilute the peroxide first"),
    ),
    (gas(label=0.0), ("label", "0", "0.03 to 0.35 kg/kg", "any doubt it is 0.35")),
    (
        gas(label=0.12, gas=11e-6, dilution=5),
        ("label = 0.12", "14.", "at most 9", "stronger than its label"),
    ),
    (lye(concentration=0), ("concentration", "0", "10 to 1100 mol/m³ of lye")),
    (lye(concentration=6000), ("concentration", "6000", "10 to 1100 mol/m³ of lye")),
    (lye(concentration=1), ("concentration", "1", "1 mol/L is 1000")),  # as the bottle says
    (pink(concentration=0.02), ("concentration", "0.02", "1 mol/L is 1000")),
    (lye(concentration_doubt=0.3), ("concentration_doubt", "0.3", "0 to 0.2")),
    (lye(titrant=9), ("titrant", "9", "1e-08 to 0.001 m³")),
    (lye(sample=-1e-6), ("sample", "-1e-06", "1e-08 to")),
    (lye(end_point=np.inf), ("end_point", "inf", "0 to 0.001 m³")),
    (lye(sample="1"), ("sample", "'1'", "1e-08 to")),
    (lye(dilution_doubt=[0.1]), ("dilution_doubt", "[0.1]", "0 to 0.2")),
    (lye(dilution=100), ("concentration of HCl in the bottle", "90", "0 to 15.1", "mol/L")),
    (
        lye(concentration_doubt=0, titrant_doubt=0, sample_doubt=0, end_point=0),
        ("every doubt", "0", "above 0 to 1 kg/kg"),
    ),
    (pink(concentration=500), ("concentration", "500", "5 to 100 mol/m³ of permanganate")),
    (pink(titrant_doubt=2), ("titrant_doubt", "2", "0 to 0.2")),
    (pink(sample_doubt=""), ("sample_doubt", "''", "flask")),
    (pink(dilution=100), ("concentration of H2O2 in the bottle", "85", "0 to 26", "mol/L")),
    (gas(gas=0), ("gas", "0", "1e-08 to 0.001 m³")),
    (gas(gas=None), ("gas", "None", "1e-08 to 0.001 m³")),
    (gas(label=3), ("label", "3", "0.03 to 0.35 kg/kg")),
    (gas(p=1013), ("p", "1013", "60000 to 110000 Pa")),
    (gas(T_gas=20), ("T_gas", "20", "273.15 to 313.15 K")),
    (gas(T=-5), ("T", "-5", "273.15 to 313.15 K")),
    (gas(p_doubt=2e4), ("p_doubt", "20000", "0 to 10000 Pa")),
    (gas(T_gas_doubt=30), ("T_gas_doubt", "30", "0 to 20 K")),
    (gas(gas_scale=1), ("gas_scale", "1", "0 to 1e-05 m³")),
    (gas(sample=0), ("sample", "0", "1e-08 to 1e-06")),
    (gas(gas_doubt=0.5), ("gas_doubt", "0.5", "0 to 0.2")),
    (gas(dilution=0), ("dilution", "0", "1 to 1000 times")),
]


@pytest.mark.parametrize("case", CASES, ids=range(len(CASES)))
def test_law_what_cannot_be_is_refused_by_name_value_and_limits(case):
    tried, said = case
    with pytest.raises(ValueError) as error:
        tried()
    assert all(words in str(error.value) for words in said), str(error.value)
