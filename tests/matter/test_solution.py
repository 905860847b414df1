"""Solutions: what they are made of and tell, and what mixing must conserve."""

import dataclasses
import itertools
import warnings
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from helpers.expected import printed_figure
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from pcbchem import RangeWarning, Solution, mix
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import between
from pcbchem.common.limits import InputError
from pcbchem.common.units import celsius, mL
from pcbchem.matter.properties import MOLAR_MASS, SOLUTES
from pcbchem.matter.solution import SPECIES, enthalpy

T20 = celsius(20)
BOTTLE = st.builds(
    lambda volume, T, acid, peroxide, cupric, cuprous: Solution.of(
        volume=volume, T=T, HCl=acid, H2O2=peroxide, CuCl2=cupric, CuCl=cuprous
    ),
    st.floats(1e-6, 1e-2),
    st.floats(278.15, 323.15),
    st.floats(0, 0.35),
    st.floats(0, 0.3),
    st.floats(0, 0.2),
    st.floats(0, 0.05),
)
EXAMPLES = settings(max_examples=60, deadline=None)


def bottle(**arguments: Any) -> Solution:
    return Solution.of(**{"volume": 1e-4, "T": 293.15, **arguments})


def whole(**arguments: Any) -> Solution:
    return Solution.from_amounts(**{"mass": 0.1, "T": 293.15, **arguments})


# ---- mixing


@EXAMPLES
@given(st.tuples(BOTTLE, BOTTLE, BOTTLE))
def test_mixing_conserves(bottles: tuple[Solution, ...]) -> None:
    # Law: mass, every amount and enthalpy.
    bath = mix(*bottles)
    assert bath.mass == pytest.approx(sum(part.mass for part in bottles), rel=1e-12)
    for substance in SPECIES:
        amount = float(sum(part.amount(substance) for part in bottles))
        assert bath.amount(substance) == pytest.approx(amount, rel=1e-9, abs=1e-12)
    before = sum(enthalpy(part) for part in bottles)
    assert enthalpy(bath) == pytest.approx(before, rel=1e-8, abs=1e-6 * bath.mass * 4000)
    assert np.isfinite(bath.T)


@EXAMPLES
@given(st.tuples(BOTTLE, BOTTLE, BOTTLE))
def test_order_does_not_matter(bottles: tuple[Solution, ...]) -> None:
    # Law: any order, and any pouring in steps, ends at one bath.
    bath = mix(*bottles)
    first, second, third = bottles
    others = [mix(*order) for order in itertools.permutations(bottles)]
    others.append(mix(mix(first, second), third))
    others.append(mix(first, mix(second, third)))
    acid = bath.mass_fraction("HCl")
    for other in others:
        assert pytest.approx(bath.T, abs=1e-6) == other.T
        assert other.mass_fraction("HCl") == pytest.approx(acid, rel=1e-9, abs=1e-15)


@EXAMPLES
@given(BOTTLE, st.booleans())
def test_mixing_with_nothing_or_itself(bottle: Solution, heat: bool) -> None:
    # Law: no volume adds nothing, and the same again gives twice as much at one temperature.
    nothing = Solution.of(volume=0.0, T=300.0, HCl=0.3)
    for parts, times in (((bottle,), 1), ((bottle, nothing), 1), ((bottle, bottle), 2)):
        bath = mix(*parts, heat=heat)
        assert pytest.approx(bottle.T, abs=1e-6) == bath.T
        assert bath.mass == pytest.approx(times * bottle.mass, rel=1e-12)


def test_hot_and_cold_water_meet_half_way() -> None:
    # Law: nearly, of equal mass.
    hot = Solution.from_amounts(mass=1.0, T=celsius(50))
    cold = Solution.from_amounts(mass=1.0, T=celsius(10))
    assert pytest.approx(celsius(30), abs=0.05) == mix(hot, cold).T


def test_heat_of_mixing_can_be_left_out() -> None:
    # Law.
    acid = Solution.of(volume=75 * mL, T=T20, HCl=0.32)
    water = Solution.of(volume=75 * mL, T=T20)
    assert pytest.approx(T20, abs=1e-9) == mix(acid, water, heat=False).T
    assert celsius(25) < mix(acid, water).T


def test_without_heat_of_mixing_the_temperature_is_the_mean() -> None:
    # Law: weighted by heat capacity.
    acid = Solution.of(volume=75 * mL, T=celsius(40), HCl=0.32)
    water = Solution.of(volume=150 * mL, T=celsius(10))
    warm, cool = acid.mass * acid.heat_capacity, water.mass * water.heat_capacity
    mean = (warm * celsius(40) + cool * celsius(10)) / (warm + cool)
    assert pytest.approx(mean, abs=1e-9) == mix(acid, water, heat=False).T


def test_enthalpy_is_zero_where_it_is_counted_from() -> None:
    # Law: of water at 25 C; warm water has its heat capacity's worth.
    assert enthalpy(Solution.of(volume=1.0, T=celsius(25))) == 0
    warm = Solution.from_amounts(mass=1.0, T=celsius(35))
    assert enthalpy(warm) == pytest.approx(4180 * 10, rel=1e-3)


def test_lye_stays_apart() -> None:
    # Law: lye may be diluted, and may meet acid of which there is nothing.
    lye = bottle(NaOH=0.1)
    water = bottle()
    diluted = mix(lye, water).mass_fraction("NaOH")
    assert diluted == pytest.approx(0.1 * lye.mass / (lye.mass + water.mass))
    assert mix(lye, bottle(volume=0.0, HCl=0.1)).mass == lye.mass


# ---- what a solution tells


def test_volume_in_and_volume_out() -> None:
    # Law: and mass is volume times density.
    acid = Solution.of(volume=2e-4, T=300.0, HCl=0.2, CuCl2=0.1)
    assert acid.volume == pytest.approx(2e-4, rel=1e-14)
    assert acid.mass == pytest.approx(2e-4 * acid.density, rel=1e-14)
    assert 2500 < acid.heat_capacity < 3500


def test_fractions_amounts_and_concentrations_agree() -> None:
    # Law: water is the rest.
    acid = Solution.of(volume=2e-4, T=300.0, HCl=0.2, CuCl2=0.1)
    assert acid.amount("HCl") == pytest.approx(acid.mass * 0.2 / 0.036461)
    assert acid.concentration("CuCl2") == pytest.approx(acid.amount("CuCl2") / acid.volume)
    assert acid.mass_fraction("H2O") == pytest.approx(0.7)
    assert sum(acid.amount(s) * MOLAR_MASS[s] for s in SPECIES) == pytest.approx(acid.mass)
    assert set(acid.fractions) == set(SOLUTES)


def test_one_solution_gives_numbers() -> None:
    # Law: and an array of them arrays.
    acid = bottle(HCl=0.2)
    assert acid.shape == () and acid.draws is None
    assert f"{acid.T:.1f}" == "293.1"
    acids = bottle(HCl=[0.1, 0.2])
    assert acids.shape == acids.T.shape == acids.amount("H2O2").shape == (2,)


def test_a_solution_says_what_is_in_it() -> None:
    # Law: and nothing of what is not.
    assert repr(whole(HCl=0.2)) == "Solution(0.1 kg, 293.15 K, HCl 7.29 %)"
    assert repr(bottle(T=[290.0, 300.0], volume=0)) == "Solution(0 kg, 290.00 to 300.00 K)"
    assert repr(bottle(volume=np.zeros((0, 2)))) == "Solution(shape (0, 2))"


def test_nobody_can_change_a_solution() -> None:
    # Law: solutions share their arrays, so a change would be of others too.
    acids = bottle(HCl=np.array([0.1, 0.2]))
    with pytest.raises(dataclasses.FrozenInstanceError):
        acids.plain_T = np.zeros(2)
    baths = mix(acids, bottle())
    for array in (acids.mass, acids.T, acids.fractions["HCl"], acids.density, baths.T, baths.mass):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 9.0


def test_what_the_caller_changes_changes_no_solution() -> None:
    # Law.
    strengths = np.array([0.1, 0.2])
    acids = bottle(HCl=strengths)
    strengths[0] = 0.4
    assert acids.mass_fraction("HCl").tolist() == [0.1, 0.2]


def test_nothing_poured() -> None:
    # Law: a volume of 0 is a solution with a strength and no mass.
    nothing = bottle(volume=0.0, HCl=0.1)
    assert nothing.mass == nothing.volume == nothing.amount("HCl") == 0
    assert nothing.concentration("HCl") > 2800


# ---- from amounts


def test_amounts_come_back() -> None:
    # Law: rounding below zero is nothing.
    amounts = {"HCl": 0.1, "H2O2": -1e-18, "CuCl2": 0.02, "CuCl": 0.001}
    bath = Solution.from_amounts(mass=0.1, T=300.0, **amounts)
    for solute, moles in {**amounts, "H2O2": 0.0, "NaOH": 0.0}.items():
        assert bath.amount(solute) == pytest.approx(moles, rel=1e-12, abs=1e-15), solute
    assert bath.mass_fraction("H2O2") == 0


def test_no_mass_has_no_fractions() -> None:
    # Law: one empty tray among others is legal.
    trays = Solution.from_amounts(mass=[0.0, 0.1], T=300.0, HCl=[0.0, 0.1])
    assert trays.mass_fraction("HCl").tolist() == pytest.approx([0, 0.036461])


def test_a_bath_may_hold_more_copper_than_anybody_mixes() -> None:
    # Law.
    assert whole(CuCl2=0.05 / MOLAR_MASS["CuCl2"]).mass_fraction("CuCl2") == pytest.approx(0.5)


# ---- doubt


def doubtful_baths() -> tuple[Solution, Solution, Solution, Solution]:
    """25 amounts of water with acid and doubtful peroxide, and their three bottles."""
    strengths = between(0.09, 0.12, draws=200, seed=1)
    water = Solution.of(volume=np.linspace(0, 3e-4, 25)[:, None], T=T20)
    acid = Solution.of(volume=75 * mL, T=T20, HCl=0.1)
    peroxide = Solution.of(volume=75 * mL, T=T20, H2O2=strengths)
    return mix(acid, peroxide, water), water, acid, peroxide


def test_doubt_is_the_last_axis_of_all_that_a_bath_tells() -> None:
    # Law.
    bath, water, acid, peroxide = doubtful_baths()
    assert bath.shape == (25, 200) and bath.draws == peroxide.draws == 200
    assert acid.draws is None and water.draws is None
    readings = [bath.T, bath.mass, bath.volume, bath.density, bath.heat_capacity]
    readings += [bath.concentration("HCl"), bath.mass_fraction("H2O2"), bath.amount("H2O")]
    for values in readings:
        assert isinstance(values, Draws) and values.shape == (25, 200)


def test_each_cell_is_the_bath_of_its_own_values() -> None:
    # Law.
    bath, water, acid, peroxide = doubtful_baths()
    strength = float(peroxide.mass_fraction("H2O2")[7])
    alone = mix(
        acid,
        Solution.of(volume=75 * mL, T=T20, H2O2=strength),
        Solution.of(volume=float(water.volume[4, 0]), T=T20),
    )
    assert bath.T[4, 7] == pytest.approx(alone.T, abs=1e-7)
    assert bath.concentration("H2O2")[4, 7] == pytest.approx(alone.concentration("H2O2"), rel=1e-10)


# ---- published checks


def molarity(w: float, substance: str = "HCl") -> float:
    solution = Solution.of(volume=1e-3, T=T20, **{substance: w})
    return float(solution.concentration(substance)) / 1000


def strong_acid_needed() -> float:
    """Mass of 30 % acid in 32 of 20 %, in one unit of mass."""

    def miss(mass: float) -> float:
        strong = Solution.from_amounts(mass=mass, T=T20, HCl=0.30 * mass / MOLAR_MASS["HCl"])
        water = Solution.from_amounts(mass=32 - mass, T=T20)
        return float(mix(strong, water).mass_fraction("HCl")) - 0.20

    return float(brentq(miss, 1, 31))


def mole_fraction(w: float) -> float:
    acid = Solution.of(volume=1e-3, T=T20, HCl=w)
    return float(acid.amount("HCl") / (acid.amount("HCl") + acid.amount("H2O")))


PUBLISHED: dict[str, Callable[[], float]] = {
    "C01a": lambda: molarity(0.10),
    "C01b": lambda: molarity(0.20),
    "C01d": lambda: molarity(0.32),
    "C01e": lambda: molarity(0.34),
    "C01g": lambda: molarity(0.38),
    "C03": lambda: molarity(0.372),
    "C04": lambda: molarity(0.37),
    "C08a": lambda: molarity(0.30, "H2O2"),
    "C08b": lambda: molarity(0.03, "H2O2"),
    "C08d": lambda: molarity(0.06, "H2O2"),
    "C11": lambda: Solution.of(volume=100 * mL, T=T20, H2O2=0.30).amount("H2O2") / 2 * 24.465,
    "C22b": lambda: mole_fraction(0.22),
    "C32a": strong_acid_needed,
    "C32c": lambda: 32 - strong_acid_needed(),
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id: str) -> None:
    # Second source: named in tests/published/checks_solutions.csv.
    assert PUBLISHED[id]() == printed_figure(id)


# ---- warnings and refusals


def hot_solution() -> Solution:
    return Solution.of(volume=1e-4, T=celsius(80), HCl=0.42)


def test_making_and_mixing_are_silent() -> None:
    # Law: so are mass, temperature and amount, which read no property. Warnings are errors here.
    hot = mix(hot_solution(), hot_solution())
    assert hot.mass > 0 and hot.T > 350 and hot.amount("HCl") > 0


@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("density", lambda hot: hot.density),
        ("volume", lambda hot: hot.volume),
        ("heat capacity", lambda hot: hot.heat_capacity),
        ("concentration", lambda hot: hot.concentration("HCl")),
    ],
)
def test_one_warning_a_reading(name: str, read: Callable[[Solution], Any]) -> None:
    # Law: outside the checked range each reading warns once, says which, and where.
    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        assert np.isfinite(read(hot_solution()))
    (record,) = records
    assert isinstance(record.message, RangeWarning)
    assert record.message.reader == name
    assert record.filename == __file__


REFUSED: list[Case] = [
    ("negative acid", lambda: bottle(HCl=-0.1), ("HCl", "-0.1", "0 to 0.45")),
    ("per cent as a fraction", lambda: bottle(HCl=32), ("HCl", "32", "0.45")),
    ("acid not a number", lambda: bottle(HCl=NAN), ("HCl", "nan", "0.45")),
    ("acid infinite", lambda: bottle(HCl=INF), ("HCl", "inf", "0.45")),
    ("acid as a word", lambda: bottle(HCl="strong"), ("HCl", "strong", "0.45")),
    ("one bad element", lambda: bottle(HCl=np.array([0.1, 0.5])), ("HCl", "0.5", "0.45")),
    ("peroxide over its limit", lambda: bottle(H2O2=0.71), ("H2O2", "0.71", "0.7")),
    ("lye over its limit", lambda: bottle(NaOH=0.6), ("NaOH", "0.6", "0.5")),
    ("cupric over its limit", lambda: bottle(CuCl2=0.5), ("CuCl2", "0.5", "0.4")),
    ("cuprous over its limit", lambda: bottle(CuCl=0.3), ("CuCl", "0.3", "0.2")),
    ("no water left", lambda: bottle(HCl=0.45, H2O2=0.6), ("HCl", "H2O2", "1.05", "below 1")),
    ("unknown substance", lambda: bottle(KCl=0.1), ("substance KCl = 0.1", "HCl, H2O2")),
    ("lye in acid", lambda: bottle(HCl=0.1, NaOH=0.2), ("NaOH", "0.2", "HCl", "0.1", "must be 0")),
    ("celsius as kelvin", lambda: bottle(T=20), ("T", "20", "250 to 400")),
    ("negative volume", lambda: bottle(volume=-1e-4), ("volume", "-0.0001", "0 to 1000")),
    ("millilitres as cubic metres", lambda: bottle(volume=7500), ("volume", "7500", "1000")),
    (
        "two lengths of draws",
        lambda: bottle(HCl=as_draws([0.1, 0.2]), H2O2=as_draws([0.1] * 3)),
        ("HCl has 2", "H2O2 has 3"),
    ),
    (
        "shapes that do not broadcast",
        lambda: bottle(HCl=np.full(2, 0.1), H2O2=np.full(3, 0.1)),
        ("HCl (2,)", "H2O2 (3,)"),
    ),
    (
        "list beside draws",
        lambda: bottle(volume=np.full(3, 1e-4), HCl=as_draws([0.1] * 4)),
        ("volume (3,)", "HCl (4,)"),
    ),
    ("amount of the unknown", lambda: bottle().amount("salt"), ("substance", "salt", "HCl")),
    (
        "fraction of the unknown",
        lambda: bottle().mass_fraction("NaCl"),
        ("substance", "NaCl", "H2O2"),
    ),
    (
        "concentration of the unknown",
        lambda: bottle().concentration("hcl"),
        ("substance", "hcl", "HCl"),
    ),
    ("negative mass", lambda: whole(mass=-1), ("mass", "-1", "0 to")),
    ("negative amount", lambda: whole(HCl=-0.1), ("HCl", "-0.1", "1e+09")),
    ("heavier than the whole", lambda: whole(CuCl2=1.0), ("CuCl2", "1", "0.1 kg")),
    (
        "together heavier than the whole",
        lambda: whole(CuCl2=0.5, HCl=1.5),
        ("CuCl2 + HCl", "1.219", "at most 1"),
    ),
    ("too strong an acid", lambda: whole(HCl=1.5), ("HCl", "0.5469", "0 to 0.45")),
    ("lye and acid in one", lambda: whole(HCl=0.1, NaOH=0.1), ("NaOH", "HCl", "must be 0")),
    ("an unknown of so much", lambda: whole(Cu=0.1), ("substance Cu = 0.1", "HCl, H2O2")),
    ("nothing to mix", lambda: mix(), ("solutions", "()", "at least 1")),
    (
        "only empty bottles",
        lambda: mix(bottle(volume=0), bottle(volume=0)),
        ("mass", "0 kg", "above 0"),
    ),
    (
        "one empty mixture among many",
        lambda: mix(bottle(volume=np.array([0, 1e-4]))),
        ("mass", "0 kg", "above 0"),
    ),
    ("mixing a number", lambda: mix(bottle(), 3), ("solutions", "3", "Solution.of")),
    ("lye into acid", lambda: mix(bottle(HCl=0.1), bottle(NaOH=0.1)), ("NaOH", "HCl", "must be 0")),
    (
        "lye into peroxide",
        lambda: mix(bottle(H2O2=0.1), bottle(NaOH=0.1)),
        ("NaOH", "H2O2", "must be 0"),
    ),
    (
        "a mixture that would boil",
        lambda: mix(bottle(HCl=0.45, T=399.0), bottle(T=399.0)),
        ("temperature of mixing", "250 to 400 K"),
    ),
    (
        "mixing two lengths of draws",
        lambda: mix(bottle(HCl=as_draws([0.1] * 2)), bottle(H2O2=as_draws([0.1] * 3))),
        ("solution 1 has 2", "solution 2 has 3"),
    ),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)


@pytest.mark.parametrize(
    ("call", "field", "value"),
    [
        (lambda: bottle(HCl=0.5), "HCl", 0.5),
        (lambda: bottle(KCl=0.1), "substance KCl", 0.1),
        (lambda: whole(mass=-1.0), "mass", -1.0),
        (lambda: mix(), "solutions", ()),
        (lambda: mix(bottle(volume=0)), "mass", 0.0),
        (lambda: bottle().amount("salt"), "substance", "salt"),
    ],
)
def test_an_error_about_one_argument_carries_it(
    call: Callable[[], object], field: str, value: object
) -> None:
    # Law.
    with pytest.raises(InputError) as caught:
        call()
    assert (caught.value.field, caught.value.value) == (field, value)


def test_lye_and_acid_in_different_scenarios_do_not_meet() -> None:
    # Law: each scenario is a jug of its own.
    lye = Solution.of(volume=1e-4, T=293.15, NaOH=[0.1, 0.0])
    acid = Solution.of(volume=1e-4, T=293.15, HCl=[0.0, 0.1])
    assert mix(lye, acid).shape == (2,)
    with pytest.raises(ValueError, match="is not mixed here"):
        mix(lye, Solution.of(volume=1e-4, T=293.15, HCl=[0.1, 0.0]))
