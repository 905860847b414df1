"""Solutions: what they say of themselves, and what mixing must conserve."""

import dataclasses
import itertools
import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import RangeWarning, Solution, mix
from pcbchem.common.arrays import Draws
from pcbchem.common.band import between
from pcbchem.common.units import celsius, mL
from pcbchem.matter.properties import MOLAR_MASS, SOLUTES
from pcbchem.matter.solution import SPECIES, enthalpy

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


def total(solutions: tuple[Solution, ...], substance: str) -> float:
    return float(sum(s.amount(substance) for s in solutions))


@EXAMPLES
@given(st.tuples(BOTTLE, BOTTLE, BOTTLE))
def test_mixing_conserves(bottles: tuple[Solution, ...]) -> None:
    # Law: mass, every amount and enthalpy.
    bath = mix(*bottles)
    assert bath.mass == pytest.approx(sum(b.mass for b in bottles), rel=1e-12)
    for substance in SPECIES:
        assert bath.amount(substance) == pytest.approx(
            total(bottles, substance), rel=1e-9, abs=1e-12
        )
    assert np.isfinite(bath.T)
    held = sum(enthalpy(b) for b in bottles)
    assert enthalpy(bath) == pytest.approx(held, rel=1e-8, abs=1e-6 * bath.mass * 4000)


@EXAMPLES
@given(st.tuples(BOTTLE, BOTTLE, BOTTLE))
def test_order_does_not_matter(bottles: tuple[Solution, ...]) -> None:
    # Law: any order, and any pouring in steps, ends at one bath.
    bath = mix(*bottles)
    others = [mix(*p) for p in itertools.permutations(bottles)]
    others += [
        mix(mix(bottles[0], bottles[1]), bottles[2]),
        mix(bottles[0], mix(bottles[1], bottles[2])),
    ]
    for other in others:
        assert pytest.approx(bath.T, abs=1e-6) == other.T
        assert other.mass_fraction("HCl") == pytest.approx(
            bath.mass_fraction("HCl"), rel=1e-9, abs=1e-15
        )


@EXAMPLES
@given(BOTTLE, st.booleans())
def test_mixing_with_nothing_or_itself(bottle: Solution, heat: bool) -> None:
    # Law: no volume adds nothing, and the same again gives twice as much at one temperature.
    nothing = Solution.of(volume=0.0, T=300.0, HCl=0.3)
    for poured, share in (((bottle,), 1), ((bottle, nothing), 1), ((bottle, bottle), 2)):
        bath = mix(*poured, heat=heat)
        assert pytest.approx(bottle.T, abs=1e-6) == bath.T
        assert bath.mass == pytest.approx(share * bottle.mass, rel=1e-12)


def test_water_and_water() -> None:
    # Law: hot and cold water of equal mass meet half way, nearly; without heat of mixing acid does as well.
    hot, cold = (Solution.from_amounts(mass=1.0, T=celsius(t)) for t in (50, 10))
    assert pytest.approx(celsius(30), abs=0.05) == mix(hot, cold).T
    acid = Solution.of(volume=75 * mL, T=celsius(20), HCl=0.32)
    water = Solution.of(volume=75 * mL, T=celsius(20))
    assert pytest.approx(celsius(20), abs=1e-9) == mix(acid, water, heat=False).T
    assert celsius(25) < mix(acid, water).T


def test_what_a_solution_says() -> None:
    # Law: volume in, volume out; concentrations, fractions and amounts agree; water is the rest.
    acid = Solution.of(volume=2e-4, T=300.0, HCl=0.2, CuCl2=0.1)
    assert acid.volume == pytest.approx(2e-4, rel=1e-14)
    assert acid.mass == pytest.approx(2e-4 * acid.density, rel=1e-14)
    assert acid.amount("HCl") == pytest.approx(acid.mass * 0.2 / 0.036461)
    assert acid.concentration("CuCl2") == pytest.approx(acid.amount("CuCl2") / acid.volume)
    assert acid.mass_fraction("H2O") == pytest.approx(0.7)
    assert sum(acid.amount(s) * MOLAR_MASS[s] for s in SPECIES) == pytest.approx(acid.mass)
    assert acid.shape == () and acid.draws is None and f"{acid.T:.1f}" == "300.0"
    assert 2500 < acid.heat_capacity < 3500
    assert "HCl 20 %" in repr(acid)
    with pytest.raises(dataclasses.FrozenInstanceError):
        acid.plain_T = 3  # type: ignore[misc, assignment]


def test_from_amounts() -> None:
    # Law: the amounts come back; rounding below zero is nothing; no mass is legal.
    bath = Solution.from_amounts(mass=0.1, T=300.0, HCl=0.1, H2O2=-1e-18, CuCl2=0.02, CuCl=0.001)
    for substance, moles in (
        ("HCl", 0.1),
        ("H2O2", 0.0),
        ("CuCl2", 0.02),
        ("CuCl", 0.001),
        ("NaOH", 0.0),
    ):
        assert bath.amount(substance) == pytest.approx(moles, rel=1e-12, abs=1e-15)
    assert bath.mass_fraction("H2O2") == 0
    empty = Solution.from_amounts(mass=np.array([0.0, 0.1]), T=300.0, HCl=np.array([0.0, 0.1]))
    assert empty.mass_fraction("HCl").tolist() == pytest.approx([0, 0.036461])


def test_nothing_poured() -> None:
    # Law: a volume of 0 is a solution with a strength and no mass.
    none = Solution.of(volume=0.0, T=293.15, HCl=0.1)
    assert none.mass == none.volume == none.amount("HCl") == 0 and none.concentration("HCl") > 2800


def test_doubt_is_an_axis() -> None:
    # Law: the draw axis is the last; each cell is the bath of its own values; two lengths raise (in test_bad_input).
    peroxide = Solution.of(
        volume=75 * mL, T=celsius(20), H2O2=between(0.09, 0.12, draws=200, seed=1)
    )
    acid = Solution.of(volume=75 * mL, T=celsius(20), HCl=0.1)
    water = Solution.of(volume=np.linspace(0, 3e-4, 25)[:, None], T=celsius(20))
    bath = mix(acid, peroxide, water)
    assert (
        bath.shape == (25, 200)
        and bath.draws == 200
        and peroxide.draws == 200
        and acid.draws is None
    )
    for values in (
        bath.T,
        bath.mass,
        bath.volume,
        bath.density,
        bath.heat_capacity,
        bath.concentration("HCl"),
        bath.mass_fraction("H2O2"),
        bath.amount("H2O"),
    ):
        assert isinstance(values, Draws) and values.shape == (25, 200)
    alone = mix(
        acid,
        Solution.of(volume=75 * mL, T=celsius(20), H2O2=peroxide.mass_fraction("H2O2")[7]),
        Solution.of(volume=np.linspace(0, 3e-4, 25)[4], T=celsius(20)),
    )
    assert bath.T[4, 7] == pytest.approx(alone.T, abs=1e-7)
    assert bath.concentration("H2O2")[4, 7] == pytest.approx(alone.concentration("H2O2"), rel=1e-10)


def test_one_warning_a_reading() -> None:
    # Law: making and mixing are silent; each reading outside the checked range warns once, and says where.
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        hot = Solution.of(volume=1e-4, T=celsius(80), HCl=0.42)
        hot = mix(hot, hot)
        assert hot.mass > 0 and hot.T > 350 and hot.amount("HCl") > 0
    for read in (
        lambda: hot.density,
        lambda: hot.volume,
        lambda: hot.heat_capacity,
        lambda: hot.concentration("HCl"),
    ):
        with warnings.catch_warnings(record=True) as said:
            warnings.simplefilter("always")
            assert np.isfinite(read())
        assert [w.category for w in said] == [RangeWarning]
        assert said[0].filename == __file__


def test_lye_stays_apart() -> None:
    # Law: lye may be diluted; with acid or peroxide it is refused, unless one of them is not there at all.
    lye = Solution.of(volume=1e-4, T=293.15, NaOH=0.1)
    water = Solution.of(volume=1e-4, T=293.15)
    assert mix(lye, water).mass_fraction("NaOH") == pytest.approx(
        0.1 * lye.mass / (lye.mass + water.mass)
    )
    assert mix(lye, Solution.of(volume=0.0, T=293.15, HCl=0.1)).mass == lye.mass
    assert set(lye.fractions) == set(SOLUTES)
