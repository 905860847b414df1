"""Balanced reactions, the limiting reagent and the capacity of a bath."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.solution import Solution
from pcbchem.reaction.bath.setup import Board
from pcbchem.reaction.chemistry.stoichiometry import (
    capacity,
    composition,
    limiting_reagent,
    needed,
    parse,
    reactions,
    reserve,
)

FORMULAS = {
    "Cu2+": ({"Cu": 1}, 2),
    "H+": ({"H": 1}, 1),
    "CuCl2-": ({"Cu": 1, "Cl": 2}, -1),
    "Cl-(aq)": ({"Cl": 1}, -1),
    "CO3--": ({"C": 1, "O": 3}, -2),
    "HCO3-": ({"H": 1, "C": 1, "O": 3}, -1),
    "Na+(aq)": ({"Na": 1}, 1),
    "NH4+": ({"N": 1, "H": 4}, 1),
    "H2O2(l)": ({"H": 2, "O": 2}, 0),
    "NaHCO3(s)": ({"Na": 1, "H": 1, "C": 1, "O": 3}, 0),
}


@pytest.mark.parametrize("species", FORMULAS)
def test_law_a_formula_is_taken_apart(species):
    assert composition(species) == FORMULAS[species]


@pytest.mark.parametrize("wrong", ["", "cu", "2+", "Cl+-", "H2O(x)", "CuCl2*"])
def test_law_what_is_no_formula_is_refused(wrong):
    with pytest.raises(ValueError, match="is not a formula"):
        composition(wrong)


@pytest.mark.parametrize(
    "name",
    [
        "direct",
        "cupric",
        "regeneration",
        "decomposition",
        "chlorine",
        "neutralisation",
        "neutralisation by bicarbonate",
        "neutralisation by soda",
    ],
)
def test_law_every_reaction_conserves_elements_and_charge(name):
    # counted again here, by a hand-written table of atoms, not by the package's own parser
    atoms = {
        "Cu(s)": "Cu",
        "H2O2(aq)": "HHOO",
        "H+(aq)": "H+",
        "Cu2+(aq)": "Cu++",
        "H2O(l)": "HHO",
        "Cl-(aq)": "L-",
        "CuCl2-(aq)": "CuLL-",
        "O2(g)": "OO",
        "Cl2(g)": "LL",
        "OH-(aq)": "OH-",
        "NaHCO3(s)": "NaHCOOO",
        "Na+(aq)": "Na+",
        "Na2CO3(s)": "NaNaCOOO",
        "CO2(g)": "COO",
    }
    parts = {"Cu": "Cu", "Na": "Na", "H": "H", "O": "O", "L": "L", "+": "+", "-": "-"}

    def count(text, part):
        bare = text.replace("Cu", "u").replace("Na", "n")
        return bare.count({"Cu": "u", "Na": "n"}.get(part, part))

    totals = {
        part: sum(
            many * count(atoms[species], part)
            for species, many in reactions()[name].coefficients.items()
        )
        for part in parts
    }
    charge = totals.pop("+") - totals.pop("-")
    carbon = sum(
        many * atoms[species].replace("Cu", "").count("C")
        for species, many in reactions()[name].coefficients.items()
    )
    assert charge == 0 and carbon == 0 and not any(totals.values())


def test_law_cupric_step_and_regeneration_add_up_to_the_direct_one():
    total: dict[str, Fraction] = {}
    for name in ("cupric", "regeneration"):
        for species, many in reactions()[name].coefficients.items():
            total[species] = total.get(species, Fraction(0)) + many
    assert {species: many for species, many in total.items() if many} == reactions()[
        "direct"
    ].coefficients


@pytest.mark.parametrize(
    "equation, left",
    [
        ("Cu(s) + H2O2(aq) + 2 H+(aq) -> Cu2+(aq) + H2O(l)", "H -2"),
        ("Cu(s) + Cu2+(aq) + 4 Cl-(aq) -> CuCl2-(aq)", "charge 1"),
        ("H2O2(aq) -> H2O(l) + O2(g)", "O 1"),
    ],
)
def test_law_an_unbalanced_equation_is_refused(equation, left):
    with pytest.raises(ValueError, match="is not balanced") as refusal:
        parse("wrong", equation)
    assert left in str(refusal.value)


@pytest.mark.parametrize(
    "wrong", ["Cu(s)", "Cu(s) = Cu2+(aq)", "x Cu(s) -> Cu(s)", "2  Cu(s) -> 2 Cu(s)"]
)
def test_law_what_is_no_equation_is_refused(wrong):
    with pytest.raises(ValueError, match="is not an equation"):
        parse("wrong", wrong)


def bath(acid, peroxide, volume=1e-4):
    return Solution.of(volume=volume, T=293.15, HCl=acid, H2O2=peroxide)


def test_law_the_limiting_reagent_by_weight():
    # equal moles of copper need 2 x 36.461 g HCl for each 34.0147 g H2O2
    even = 2 * 36.461 / 34.0147
    assert limiting_reagent(bath(0.01 * even * 0.999, 0.01)) == "HCl"
    assert limiting_reagent(bath(0.01 * even * 1.001, 0.01)) == "H2O2"
    assert list(limiting_reagent(bath(np.array([0.01, 0.1]), 0.01))) == ["HCl", "H2O2"]


@given(acid=st.floats(0, 0.3), peroxide=st.floats(0, 0.3))
def test_law_after_taking_its_capacity_nothing_is_negative_and_one_reagent_is_gone(acid, peroxide):
    start = bath(acid, peroxide)
    takes = needed(capacity(start))
    left = {
        substance: float(start.amount(substance) - takes[substance])
        for substance in ("HCl", "H2O2")
    }
    assert min(left.values()) >= -1e-15
    assert left[limiting_reagent(start)] == pytest.approx(0, abs=1e-12)


def test_law_reserve_doubles_with_the_bath_and_halves_with_the_board():
    once = float(reserve(bath(0.1, 0.06), Board(area=0.0027)))
    assert float(reserve(bath(0.1, 0.06, 2e-4), Board(area=0.0027))) == pytest.approx(2 * once)
    assert float(reserve(bath(0.1, 0.06), Board(area=0.0054))) == pytest.approx(once / 2)


def test_law_draws_stay_draws_and_two_lengths_are_refused():
    doubtful = bath(0.1, as_draws([0.03, 0.06]))
    assert isinstance(capacity(doubtful), Draws)
    assert isinstance(reserve(doubtful, Board(area=0.0027)), Draws)
    with pytest.raises(ValueError, match="solution has 2, board has 3"):
        reserve(doubtful, Board(area=as_draws([1e-3, 2e-3, 3e-3])))


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf"), "much"])
def test_law_impossible_copper_is_refused(wrong):
    with pytest.raises(ValueError, match=r"copper = .*0 to 1e\+09 mol"):
        needed(wrong)
