"""Density and heat capacity against printed tables and against an independent code."""

import warnings

import numpy as np
import pytest
from helpers.expected import rows

from pcbchem import RangeWarning
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.units import celsius
from pcbchem.matter.properties import density, density_inside, heat_capacity, water_density


def worst(table: list[dict[str, str]], substance: str, tolerance: dict[str, float]) -> list[str]:
    """The rows of a density table that are missed by more than the tolerance [%] of their status."""
    missed = []
    for row in table:
        w, T = float(row["mass_fraction"]), celsius(float(row["T_C"]))
        off = 100 * (density(T, **{substance: w}) / float(row["density_kg_m3"]) - 1)
        if abs(off) > tolerance[row["status"]]:
            missed.append(f"{w:g} at {row['T_C']} C: {off:+.3f} % ({row['source']})")
    return missed


def test_density_of_hydrochloric_acid() -> None:
    # Validation: tables of several sources (named in the file) against the equation of Laliberte and Cooper 2004.
    table = [
        row
        for row in rows("hcl_density")
        if 5 <= float(row["T_C"]) <= 60 and float(row["mass_fraction"]) <= 0.38
    ]
    assert len(table) > 180
    assert worst(table, "HCl", {"published": 0.1, "from memory": 0.2}) == []


def test_density_of_peroxide() -> None:
    # Validation: Perry's Handbook (from memory) at 18 C, against the polynomial of Easton and others 1952.
    assert worst(rows("h2o2_density"), "H2O2", {"from memory": 0.1}) == []


def test_density_of_copper_chloride() -> None:
    # Validation: Pitzer's volumetric parameters (10.1021/je2009329). Two models, 1.3 % apart at 33 %: neither is known
    # to be right there.
    assert worst(rows("cucl2_density"), "CuCl2", {"published": 1.5}) == []


def test_density_of_lye() -> None:
    # Validation: CRC Handbook (from memory), and a web table that drifts from the handbook above 25 C, by 0.3 %.
    table = [row for row in rows("naoh_density") if 5 <= float(row["T_C"]) <= 60]
    cool = [row for row in table if float(row["T_C"]) <= 25]
    assert worst(cool, "NaOH", {"published": 0.3, "from memory": 0.1}) == []
    assert worst(table, "NaOH", {"published": 0.4, "from memory": 0.1}) == []


def test_density_of_water() -> None:
    # Validation: the IAPWS-95 standard (Wagner and Pruss 2002) by the open library `chemicals`.
    from chemicals.iapws import iapws95_properties

    for t in (1, 20, 25, 40, 59):
        assert water_density(celsius(t)) == pytest.approx(
            iapws95_properties(celsius(t), 101325)[0], abs=0.02
        )


@pytest.mark.parametrize(
    ("substance", "number"), [("HCl", "7647-01-0"), ("NaOH", "1310-73-2"), ("CuCl2", "7447-39-4")]
)
def test_densities_as_the_open_library_has_them(substance: str, number: str) -> None:
    # Transcription: Laliberte's published equation as `thermo` computes it, one number at a time.
    from thermo.electrochem import Laliberte_density

    for w in (0.02, 0.1, 0.3):
        for t in (5, 25, 55):
            found = density(celsius(t), **{substance: w})
            assert found == pytest.approx(Laliberte_density(celsius(t), [w], [number]), rel=1e-9)


@pytest.mark.parametrize(("substance", "number"), [("NaOH", "1310-73-2"), ("CuCl2", "7447-39-4")])
def test_heat_capacities_as_the_open_library_has_them(substance: str, number: str) -> None:
    # Transcription: Laliberte 2009 in `thermo`, at the one temperature where CuCl2 was measured; its water differs.
    from thermo.electrochem import Laliberte_heat_capacity, Laliberte_heat_capacity_w

    T = celsius(35)
    for w in (0.02, 0.1, 0.3):
        theirs = Laliberte_heat_capacity(T, [w], [number]) - (1 - w) * Laliberte_heat_capacity_w(T)
        assert heat_capacity(T, **{substance: w}) - (1 - w) * heat_capacity(T) == pytest.approx(
            theirs, abs=0.01
        )


def test_heat_capacity_of_water() -> None:
    # Transcription: our polynomial against IAPWS-95 (Wagner and Pruss 2002), from which it was made.
    from chemicals.iapws import iapws95_properties

    for t in (0.5, 20, 40, 59.5):
        assert heat_capacity(celsius(t)) == pytest.approx(
            iapws95_properties(celsius(t), 101325)[5], abs=3
        )


def test_heat_capacity_of_acid() -> None:
    # Transcription: Perry's Handbook, table 2-207, from which the quadratic was fitted (rms 0.7 %).
    # Validation: the encyclopaedia table, printed to three digits.
    table = [
        row for row in rows("specific_heat", substance="HCl") if float(row["mass_fraction"]) <= 0.40
    ]
    assert len(table) >= 19
    for row in table:
        found = heat_capacity(celsius(float(row["T_C"])), HCl=float(row["mass_fraction"]))
        assert found == pytest.approx(float(row["heat_capacity_J_kg_K"]), rel=0.02), row


def test_heat_capacity_of_peroxide() -> None:
    # Validation: a supplier's data sheet (from memory, low confidence), which lies 2 to 4 % lower.
    for row in rows("specific_heat", substance="H2O2", status="from memory"):
        if float(row["mass_fraction"]) <= 0.5:
            found = heat_capacity(celsius(25), H2O2=float(row["mass_fraction"]))
            assert found == pytest.approx(float(row["heat_capacity_J_kg_K"]), rel=0.05), row


def test_limits_of_the_mixing_rule() -> None:
    # Law: no solute is water; a trace changes nothing; apparent volumes of several solutes add at fixed shares.
    T = celsius(20)
    assert density(T) == water_density(T)
    for substance in ("HCl", "H2O2", "NaOH", "CuCl2", "CuCl"):
        assert density(T, **{substance: 1e-9}) == pytest.approx(water_density(T), rel=1e-8)
        assert heat_capacity(T, **{substance: 1e-9}) == pytest.approx(heat_capacity(T), rel=1e-7)
    water = 1 / water_density(T)
    acid, peroxide, both = (
        1 / density(T, **w) - water
        for w in ({"HCl": 0.15}, {"H2O2": 0.15}, {"HCl": 0.15, "H2O2": 0.15})
    )
    assert both == pytest.approx(acid + peroxide, rel=1e-12)
    assert density(T, CuCl=0.05) == density(T, CuCl2=0.05)  # assumed


def test_the_rules_of_arrays() -> None:
    # Law: any shape broadcasts, each element is what it is alone, and the mark of the draws stays.
    T, w = np.array([[280.0], [300.0], [320.0]]), as_draws([0.0, 0.1, 0.2, 0.3])
    found = density(T, HCl=w, H2O2=0.1)
    assert isinstance(found, Draws) and found.shape == (3, 4)
    assert float(found[1, 2]) == pytest.approx(density(300.0, HCl=0.2, H2O2=0.1), rel=1e-14)
    assert not isinstance(density(T, HCl=0.1), Draws)
    assert density(np.zeros((0,)) + 300).shape == (0,)


def test_one_warning_outside_the_range() -> None:
    # Law: one RangeWarning a call that names the worst value, raised at the caller's line, with a finite result.
    for call in (
        lambda: density(350.0, HCl=np.array([0.1, 0.44])),
        lambda: heat_capacity(260.0, H2O2=0.6),
        lambda: water_density(399.0),
    ):
        with warnings.catch_warnings(record=True) as said:
            warnings.simplefilter("always")
            assert np.all(np.isfinite(call()))
        assert [w.category for w in said] == [RangeWarning]
        assert said[0].filename == __file__
        assert "outside the range we checked" in str(said[0].message)
    with pytest.warns(RangeWarning, match=r"HCl = 0\.44.*0 to 0\.4"):
        density(293.15, HCl=0.44)


def test_finite_to_every_limit() -> None:
    # Law: inside the limits nothing is NaN, and density and heat capacity stay those of a liquid.
    T = np.linspace(250, 400, 16)[:, None]
    for most, substance in (
        (0.45, "HCl"),
        (0.70, "H2O2"),
        (0.50, "NaOH"),
        (0.40, "CuCl2"),
        (0.20, "CuCl"),
    ):
        w = {substance: np.linspace(0, most, 20)}
        with pytest.warns(RangeWarning):
            rho = density(T, **w)
        with pytest.warns(RangeWarning):
            cp = heat_capacity(T, **w)
        assert rho.min() > 900 and rho.max() < 1700 and cp.min() > 1500 and cp.max() < 4800
    assert np.all(density_inside(np.array(300.0), {"HCl": np.array([0.0, 0.45])}) > 990)
