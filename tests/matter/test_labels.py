"""Labels write a strength, and a label gives the mass fraction back."""

import warnings
from collections.abc import Callable

import numpy as np
import pytest
from helpers.expected import printed_figure, rows
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import RangeWarning
from pcbchem.common.arrays import Draws
from pcbchem.common.band import between
from pcbchem.matter.labels import (
    NOTATIONS,
    ONLY_FOR,
    T_60F,
    mass_fraction_at,
    mass_fraction_from,
    strength,
)
from pcbchem.matter.properties import RANGES, SOLUTES, density, water_density

PAIRS = [
    (notation, substance)
    for notation in NOTATIONS
    for substance in SOLUTES
    if ONLY_FOR.get(notation, substance) == substance
]

# ---- what a notation means


def test_definitions_on_a_solution_weighed_by_hand() -> None:
    # Law: 1 kg of 18 % acid.
    rho = density(293.15, HCl=0.18)
    assert strength(0.18, "% by weight", "HCl") == pytest.approx(18)
    assert strength(0.18, "% w/v", "HCl") == pytest.approx(180 / (1e6 / rho) * 100)
    assert strength(0.18, "mol/L", "HCl") == pytest.approx(180 / 36.461 / (1000 / rho))
    assert strength(0.18, "molality", "HCl") == pytest.approx(180 / 36.461 / 0.82)


def test_volume_strength_is_the_oxygen_of_a_litre() -> None:
    # Law: two peroxide give one oxygen, of 22.414 L/mol.
    concentration = strength(0.1, "mol/L", "H2O2")
    assert strength(0.1, "volume strength", "H2O2") == pytest.approx(concentration / 2 * 22.414)


def test_the_scale_of_baume_begins_with_water() -> None:
    # Law: and does not ask for the temperature of the bottle.
    assert strength(0.0, "degrees Baume", "HCl") == 0
    assert strength(0.3, "degrees Baume", "HCl", T=300.0) == strength(0.3, "degrees Baume", "HCl")


# ---- printed figures


def test_twenty_degrees_baume() -> None:
    # Second source: 20 Be = 31.45 wt% = 9.996 mol/L at 60 F (Manufacturing Chemists' Association
    # table; ASTM E1146 grade), from memory, within 0.5 %.
    w = mass_fraction_from(20, "degrees Baume", "HCl")
    assert w == pytest.approx(0.3145, rel=0.005)
    assert strength(w, "mol/L", "HCl", T=T_60F) == pytest.approx(9.996, rel=0.005)


@pytest.mark.parametrize("row", rows("hcl_baume"), ids=lambda row: row["baume_degrees"])
def test_baume_table(row: dict[str, str]) -> None:
    # Second source: the whole table, from memory; 19, 21 and 23 Be are sure to 0.1 wt%, so 0.5 %
    # and 1.5 % at 23.
    baume = float(row["baume_degrees"])
    tolerance = 0.005 if baume < 23 else 0.015
    w = mass_fraction_from(baume, "degrees Baume", "HCl")
    assert w == pytest.approx(float(row["mass_fraction"]), rel=tolerance)
    concentration = float(row["concentration_mol_L_60F"])
    assert strength(w, "mol/L", "HCl", T=T_60F) == pytest.approx(concentration, rel=tolerance)


SCHOOL_VOLUMES = [
    row for row in rows("h2o2_volume_strength") if float(row["volume_strength"]) <= 140
]


@pytest.mark.parametrize("row", SCHOOL_VOLUMES, ids=lambda row: row["volume_strength"])
def test_volume_strength_table(row: dict[str, str]) -> None:
    # Second source: arithmetic of the school definition (22.414 L/mol); wt% with the same density.
    w = mass_fraction_from(float(row["volume_strength"]), "volume strength", "H2O2")
    concentration = float(row["concentration_mol_L"])
    assert strength(w, "mol/L", "H2O2") == pytest.approx(concentration, abs=6e-5)
    assert strength(w, "% w/v", "H2O2") == pytest.approx(float(row["percent_w_v"]), abs=6e-4)
    assert 100 * w == pytest.approx(float(row["percent_by_weight_20C"]), rel=1e-3)


def specific_gravity(baume: float) -> float:
    w = mass_fraction_from(baume, "degrees Baume", "HCl")
    return float(density(T_60F, HCl=w) / water_density(T_60F))


def of_volumes(volumes: float, notation: str) -> float:
    w = mass_fraction_from(volumes, "volume strength", "H2O2")
    return float(strength(w, notation, "H2O2"))


def moles_of_baume(baume: float) -> float:
    w = mass_fraction_from(baume, "degrees Baume", "HCl")
    return float(strength(w, "mol/L", "HCl", T=T_60F))


PUBLISHED: dict[str, Callable[[], float]] = {
    "C02a": lambda: 10 * strength(0.10, "% w/v", "HCl"),
    "C02c": lambda: 10 * strength(0.30, "% w/v", "HCl"),
    "C02d": lambda: 10 * strength(0.36, "% w/v", "HCl"),
    "C05": lambda: moles_of_baume(20),
    "C06a": lambda: specific_gravity(18),
    "C06b": lambda: specific_gravity(20),
    "C06c": lambda: specific_gravity(22),
    "C09a": lambda: of_volumes(10, "% w/v"),
    "C09b": lambda: of_volumes(10, "mol/L"),
    "C09c": lambda: 2 * of_volumes(10, "mol/L"),
    "C10a": lambda: of_volumes(30, "mol/L"),
    "C10b": lambda: of_volumes(30, "% w/v"),
    "C11b": lambda: strength(0.30, "volume strength", "H2O2"),
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id: str) -> None:
    # Second source: named in tests/published/checks_solutions.csv.
    assert PUBLISHED[id]() == printed_figure(id)


# ---- back from a label


@pytest.mark.parametrize(("notation", "substance"), PAIRS)
@settings(max_examples=30, deadline=None)
@given(share=st.floats(0, 1), T=st.floats(273.15, 333.15))
def test_round_trip(notation: str, substance: str, share: float, T: float) -> None:
    # Law: reading a label back gives the mass fraction that wrote it.
    w = share * RANGES[substance].high
    label = strength(w, notation, substance, T)
    assert mass_fraction_from(label, notation, substance, T) == pytest.approx(w, abs=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 1), st.floats(0.05, 20))
def test_a_curve_that_bends_is_inverted(share: float, bend: float) -> None:
    # Law: exact solutions, where Newton alone would leave the bracket.
    def curve(w):
        return np.expm1(bend * np.asarray(w)) + 1e-3 * np.asarray(w)

    w = 0.7 * share
    assert mass_fraction_at(curve, np.asarray(curve(w)), 0.7) == pytest.approx(w, abs=1e-12)


def test_shapes_broadcast_and_the_mark_stays() -> None:
    # Law: each element is what it is alone.
    value = between(3.0, 9.0, draws=5, seed=2)
    w = mass_fraction_from(value, "mol/L", "H2O2", T=np.array([[283.15], [303.15]]))
    assert isinstance(w, Draws) and w.shape == (2, 5)
    alone = mass_fraction_from(value[3], "mol/L", "H2O2", T=303.15)
    assert w[1, 3] == pytest.approx(alone, abs=1e-13)
    assert isinstance(strength(w, "mol/L", "H2O2"), Draws)
    assert strength(np.array([0.1, 0.2]), "molality", "HCl").shape == (2,)
    assert np.ndim(mass_fraction_from(10, "% by weight", "HCl")) == 0


# ---- warnings and refusals


@pytest.mark.parametrize(
    "call",
    [
        lambda: strength(0.1, "mol/L", "HCl", T=350.0),
        lambda: strength(0.42, "degrees Baume", "HCl"),
        lambda: mass_fraction_from(5.0, "% w/v", "H2O2", T=350.0),
    ],
)
def test_one_warning_where_a_density_was_not_checked(call: Callable[[], float]) -> None:
    # Law: at the caller's line.
    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        assert np.isfinite(call())
    assert [record.category for record in records] == [RangeWarning]
    assert records[0].filename == __file__


def test_no_warning_where_no_density_is_read() -> None:
    # Law: warnings are errors here. The density behind the Baumé scale is that at 60 °F.
    assert strength(0.3, "degrees Baume", "HCl", T=390.0) > 0
    assert strength(0.44, "% by weight", "HCl", T=390.0) == pytest.approx(44)
    assert mass_fraction_from(44, "% by weight", "HCl", T=390.0) == pytest.approx(0.44)


REFUSED: list[Case] = [
    (
        "unknown notation",
        lambda: strength(0.1, "proof", "HCl"),
        ("notation", "proof", "% by weight, % w/v"),
    ),
    (
        "Baume of peroxide",
        lambda: strength(0.1, "degrees Baume", "H2O2"),
        ("notation", "degrees Baume", "volume strength"),
    ),
    (
        "volume strength of acid",
        lambda: mass_fraction_from(10, "volume strength", "HCl"),
        ("notation", "volume strength", "degrees Baume"),
    ),
    ("strength of an unknown", lambda: strength(0.1, "mol/L", "KOH"), ("substance", "KOH", "NaOH")),
    (
        "acid stronger than any",
        lambda: mass_fraction_from(20, "mol/L", "HCl"),
        ("value", "20", "mol/L", "15.1"),
    ),
    (
        "acid stronger than any when warm",
        lambda: mass_fraction_from(15.1, "mol/L", "HCl", T=[293.15, 330.0]),
        ("value", "15.1", "mol/L", "0 to 14."),
    ),
    ("negative strength", lambda: mass_fraction_from(-1, "% w/v", "H2O2"), ("value", "-1", "0 to")),
    ("strength no number", lambda: mass_fraction_from(NAN, "% w/v", "HCl"), ("value", "nan")),
    (
        "strength of a per cent",
        lambda: strength(31, "mol/L", "HCl"),
        ("mass_fraction", "31", "0.45"),
    ),
    ("at no temperature", lambda: strength(0.1, "mol/L", "HCl", T=INF), ("T", "inf", "250 to 400")),
    (
        "at celsius",
        lambda: mass_fraction_from(1, "mol/L", "HCl", T=20),
        ("T", "20", "250 to 400 K"),
    ),
    (
        "shapes that do not broadcast",
        lambda: strength([0.1, 0.2], "mol/L", "HCl", T=[290.0, 291.0, 292.0]),
        ("value (2,)", "T (3,)"),
    ),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)
