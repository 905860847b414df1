"""Standard potentials: as recalled, against free energies, and against a school's table."""

import numpy as np
import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem.common import tables
from pcbchem.reaction.chemistry import FARADAY, electrons, potential
from pcbchem.reaction.chemistry.stoichiometry import parse

DOUBT = {row["couple"]: float(row["uncertainty_V"]) for row in tables.read("electrode_potentials")}


def test_as_printed_peroxide_and_chlorine():
    assert [potential("peroxide"), potential("chlorine")] == [1.763, 1.358]


@pytest.mark.parametrize(
    ("couple", "energy"),
    [
        ("silver", 77.1),
        ("copper(I)", 50.0),
        ("copper", 65.5),
        ("tin", -27.2),
        ("nickel", -45.6),
        ("zinc", -147.1),
    ],
)
def test_second_source_free_energies_of_the_ions(couple, energy):
    # CRC Handbook, thermodynamic properties of aqueous ions [kJ/mol], as the open chemicals library
    # ships them: the metal itself has none
    by_energy = 1000 * energy / (electrons(couple) * FARADAY)
    assert potential(couple) == pytest.approx(by_energy, abs=DOUBT[couple] + 0.001)


@pytest.mark.parametrize(
    ("couple", "volts"),
    [
        ("silver", 0.80),
        ("copper(I)", 0.52),
        ("copper", 0.34),
        ("tin", -0.14),
        ("nickel", -0.23),
        ("zinc", -0.76),
        ("peroxide", 1.78),
    ],
)
def test_second_source_a_table_for_schools(couple, volts):
    # School Science Lessons, University of Queensland, two decimals
    assert potential(couple) == pytest.approx(volts, abs=DOUBT[couple] + 0.005)


def test_law_two_steps_of_copper_are_one_of_two():
    # Cu2+ -> Cu+ is 0.153 V (from memory): two electrons at the mean of the steps
    assert potential("copper") == pytest.approx((potential("copper(I)") + 0.153) / 2, abs=0.01)


def test_law_the_reactions_are_balanced_and_take_their_electrons():
    for row in tables.read("electrode_potentials"):
        ox, _, red = row["reaction"].partition(" -> ")
        given = "" if row["electrons"] == "1" else row["electrons"] + " "
        assert ox.endswith(f" + {given}e-"), row
        # without its electrons an equation is short of their charge, and of nothing else
        with pytest.raises(ValueError, match=f"it is charge -{row['electrons']}$"):
            parse(row["couple"], f"{ox.removesuffix(f' + {given}e-')} -> {red}")


REFUSED: list[Case] = [
    ("gold", lambda: potential("gold"), ("couple", "'gold'", "silver", "tin")),
    ("symbol", lambda: electrons("Sn"), ("couple", "'Sn'", "zinc")),
    ("number", lambda: potential(2), ("couple", "2")),  # type: ignore[arg-type]
]


@cases(REFUSED)
def test_law_an_unknown_couple_is_refused(call, words):
    assert_refused(call, words)


def test_law_a_doubt_stands_beside_each():
    assert set(DOUBT) >= {"silver", "copper", "tin"} and np.all(np.array([*DOUBT.values()]) > 0)
