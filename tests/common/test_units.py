"""Lab units and the notations of strength."""

import numpy as np
import pytest
from helpers.expected import rows
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.common import units
from pcbchem.common.arrays import Draws
from pcbchem.common.band import between
from pcbchem.common.units import celsius, fahrenheit, percent, to_celsius
from pcbchem.matter.labels import NOTATIONS, ONLY_FOR, T_60F, mass_fraction_from, strength
from pcbchem.matter.properties import MOLAR_MASS, RANGES

PAIRS = [
    (n, s)
    for n in NOTATIONS
    for s in ("HCl", "H2O2", "NaOH", "CuCl2", "CuCl")
    if ONLY_FOR.get(n, s) == s
]


def test_constants() -> None:
    # Law: definitions of the SI, and of the US fluid ounce (231 cubic inches to 128 ounces).
    assert units.us_fl_oz == pytest.approx(231 * 0.0254**3 / 128, rel=1e-12)
    assert (units.mL * 1000, units.mm * 10, units.um * 1000) == pytest.approx(
        (units.L, units.cm, units.mm)
    )
    assert units.hour == 60 * units.minute == 3600
    assert MOLAR_MASS["CuCl2"] - MOLAR_MASS["CuCl"] == pytest.approx(0.035453, abs=1e-6)


def test_temperatures() -> None:
    # Law: fixed points of the scales.
    assert (
        celsius(0) == 273.15
        and fahrenheit(32) == pytest.approx(273.15)
        and fahrenheit(212) == pytest.approx(373.15)
    )
    assert to_celsius(fahrenheit(68)) == pytest.approx(20) and units.to_fahrenheit(
        celsius(100)
    ) == pytest.approx(212)


def test_twenty_degrees_baume() -> None:
    # Validation: 20 Be = 31.45 wt% = 9.996 mol/L at 60 F (Manufacturing Chemists' Association table; ASTM E1146 grade),
    # from memory, within 0.5 %.
    w = mass_fraction_from(20, "degrees Baume", "HCl")
    assert w == pytest.approx(0.3145, rel=0.005)
    assert strength(w, "mol/L", "HCl", T=T_60F) == pytest.approx(9.996, rel=0.005)


def test_baume_table() -> None:
    # Validation: the whole table, from memory; 19, 21 and 23 Be are sure to 0.1 wt%, so 0.5 % and 1.5 % at 23.
    for row in rows("hcl_baume"):
        rel = 0.005 if float(row["baume_degrees"]) < 23 else 0.015
        w = mass_fraction_from(float(row["baume_degrees"]), "degrees Baume", "HCl")
        assert w == pytest.approx(float(row["mass_fraction"]), rel=rel), row
        assert strength(w, "mol/L", "HCl", T=T_60F) == pytest.approx(
            float(row["concentration_mol_L_60F"]), rel=rel
        )


def test_volume_strength_table() -> None:
    # Validation of the notation: arithmetic of the school definition (22.414 L/mol); wt% with the same density.
    for row in rows("h2o2_volume_strength"):
        value = float(row["volume_strength"])
        if value <= 140:
            w = mass_fraction_from(value, "volume strength", "H2O2")
            assert strength(w, "mol/L", "H2O2") == pytest.approx(
                float(row["concentration_mol_L"]), abs=6e-5
            )
            assert strength(w, "% w/v", "H2O2") == pytest.approx(
                float(row["percent_w_v"]), abs=6e-4
            )
            assert 100 * w == pytest.approx(float(row["percent_by_weight_20C"]), rel=1e-3)


@pytest.mark.parametrize(("notation", "substance"), PAIRS)
@settings(max_examples=30, deadline=None)
@given(share=st.floats(0, 1), T=st.floats(273.15, 333.15))
def test_round_trip(notation: str, substance: str, share: float, T: float) -> None:
    # Law: reading a label back gives the mass fraction that wrote it.
    w = share * RANGES[substance].high
    label = strength(w, notation, substance, T)
    assert mass_fraction_from(label, notation, substance, T) == pytest.approx(w, abs=1e-12)


def test_meaning_of_each_notation() -> None:
    # Law: the definitions, on a solution weighed by hand: 1 kg of 18 % acid.
    from pcbchem.matter.properties import density

    rho = density(293.15, HCl=0.18)
    assert strength(0.18, "% by weight", "HCl") == pytest.approx(18)
    assert strength(0.18, "% w/v", "HCl") == pytest.approx(180 / (1e6 / rho) * 100)
    assert strength(0.18, "mol/L", "HCl") == pytest.approx(180 / 36.461 / (1000 / rho))
    assert strength(0.18, "molality", "HCl") == pytest.approx(180 / 36.461 / 0.82)


def test_arrays_and_draws() -> None:
    # Law: shapes broadcast against T, the mark stays, each element is what it is alone.
    value = between(3.0, 9.0, draws=5, seed=2)
    w = mass_fraction_from(value, "mol/L", "H2O2", T=np.array([[283.15], [303.15]]))
    assert isinstance(w, Draws) and w.shape == (2, 5)
    assert w[1, 3] == pytest.approx(
        mass_fraction_from(value[3], "mol/L", "H2O2", T=303.15), abs=1e-13
    )
    assert isinstance(strength(w, "mol/L", "H2O2"), Draws)
    assert isinstance(percent(value), Draws) and isinstance(celsius(value), Draws)
    assert isinstance(units.to_fahrenheit(celsius(value)), Draws)
    assert strength(np.array([0.1, 0.2]), "molality", "HCl").shape == (2,)


def test_between() -> None:
    # Law: uniform between its limits, repeatable, other seeds give other draws.
    draws = between(0.09, 0.12, draws=400, seed=1)
    assert isinstance(draws, Draws) and draws.shape == (400,)
    assert 0.09 <= draws.min() < 0.0905 and 0.1195 < draws.max() <= 0.12
    assert np.asarray(draws).mean() == pytest.approx(0.105, abs=4 * 0.03 / np.sqrt(12 * 400))
    assert np.array_equal(draws, between(0.09, 0.12, draws=400, seed=1))
    assert not np.array_equal(draws, between(0.09, 0.12, draws=400, seed=2))
    assert np.all(between(0.45, 0.45, draws=9, seed=0) == 0.45)
    assert between(np.array([[0.1], [0.2]]), 0.3, draws=7, seed=0).shape == (2, 7)
    with pytest.raises(TypeError):
        between(0.0, 1.0, draws=3)  # type: ignore[call-arg]
