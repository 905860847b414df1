"""Balanced reactions, the limiting reagent and the capacity of a bath."""

from collections import Counter
from fractions import Fraction

import numpy as np
import pytest
from helpers.expected import printed_figure
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.solution import Solution
from pcbchem.reaction.bath.setup import Board
from pcbchem.reaction.chemistry.stoichiometry import (
    capacity,
    carried,
    composition,
    limiting_reagent,
    needed,
    parse,
    reactions,
    reserve,
)

# written by hand, not by the package's own parser
ATOMS = {
    "Cu(s)": {"Cu": 1},
    "H2O2(aq)": {"H": 2, "O": 2},
    "H+(aq)": {"H": 1, "charge": 1},
    "Cu2+(aq)": {"Cu": 1, "charge": 2},
    "H2O(l)": {"H": 2, "O": 1},
    "Cl-(aq)": {"Cl": 1, "charge": -1},
    "CuCl2-(aq)": {"Cu": 1, "Cl": 2, "charge": -1},
    "O2(g)": {"O": 2},
    "Cl2(g)": {"Cl": 2},
    "OH-(aq)": {"O": 1, "H": 1, "charge": -1},
    "NaHCO3(s)": {"Na": 1, "H": 1, "C": 1, "O": 3},
    "Na+(aq)": {"Na": 1, "charge": 1},
    "Na2CO3(s)": {"Na": 2, "C": 1, "O": 3},
    "CO2(g)": {"C": 1, "O": 2},
}
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
    total = Counter()
    for species, count in reactions()[name].coefficients.items():
        for part, number in ATOMS[species].items():
            total[part] += count * number
    assert total and not any(total.values())


def test_law_cupric_and_regeneration_add_up_to_direct():
    total: dict[str, Fraction] = {}
    for name in ("cupric", "regeneration"):
        for species, count in reactions()[name].coefficients.items():
            total[species] = total.get(species, Fraction(0)) + count
    total = {species: count for species, count in total.items() if count}
    assert total == reactions()["direct"].coefficients


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
def test_law_after_taking_its_capacity_one_reagent_is_gone(acid, peroxide):
    start = bath(acid, peroxide)
    takes = needed(capacity(start))
    left = {
        substance: float(start.amount(substance) - takes[substance])
        for substance in ("HCl", "H2O2")
    }
    assert min(left.values()) >= -1e-15
    assert left[limiting_reagent(start)] == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("check", ["C27c"])
def test_published(check):
    # Second source: mL of 30 % peroxide for the copper of 100 x 160 mm, 1 oz
    strength = bath(0.0, 0.30).concentration("H2O2")
    peroxide = needed(Board(0.100, 0.160, 1.0).copper)["H2O2"] / strength
    assert float(peroxide) * 1e6 == printed_figure(check)


def test_law_each_reagent_carries_what_uses_it_up():
    """By weight: a mole of copper takes two of 36.461 g HCl, and one of 34.0147 g H2O2."""
    start = bath(np.array([0.05, 0.1, 0.0]), np.array([0.06, 0.0, 0.03]))
    copper = carried(start)
    assert copper["HCl"] == pytest.approx(start.mass * [0.05, 0.1, 0.0] / (2 * 0.036461), rel=1e-4)
    assert copper["H2O2"] == pytest.approx(start.mass * [0.06, 0.0, 0.03] / 0.0340147, rel=1e-4)
    for substance, amount in copper.items():
        assert needed(amount)[substance] == pytest.approx(start.amount(substance))
    assert capacity(start) == pytest.approx(np.minimum(copper["HCl"], copper["H2O2"]))


def test_law_reserve_goes_with_bath_over_board():
    once = float(reserve(bath(0.1, 0.06), Board(area=0.0027)))
    assert float(reserve(bath(0.1, 0.06, 2e-4), Board(area=0.0027))) == pytest.approx(2 * once)
    assert float(reserve(bath(0.1, 0.06), Board(area=0.0054))) == pytest.approx(once / 2)


def test_law_draws_stay_draws_and_two_lengths_are_refused():
    doubtful = bath(0.1, as_draws([0.03, 0.06]))
    assert isinstance(capacity(doubtful), Draws)
    assert isinstance(carried(doubtful)["H2O2"], Draws)
    assert isinstance(reserve(doubtful, Board(area=0.0027)), Draws)
    with pytest.raises(ValueError, match="solution has 2, board has 3"):
        reserve(doubtful, Board(area=as_draws([1e-3, 2e-3, 3e-3])))


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf"), "much"])
def test_law_impossible_copper_is_refused(wrong):
    with pytest.raises(ValueError, match=r"copper = .*0 to 1e\+09 mol"):
        needed(wrong)


def test_law_an_equation_has_two_sides():
    for equation in ("H2O2(aq)", "H2O2(aq) -> H2O2(aq) -> H2O2(aq)"):
        with pytest.raises(ValueError, match="is not an equation"):
            parse("wrong", equation)


def test_law_where_both_end_together_it_is_peroxide():
    # Water holds neither: both can carry nothing
    assert limiting_reagent(Solution.of(volume=1e-3, T=293.15)) == "H2O2"
