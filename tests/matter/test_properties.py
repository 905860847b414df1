"""Density and heat capacity against printed tables and against an independent code."""

import warnings
from collections.abc import Callable

import numpy as np
import pytest
from helpers.expected import printed_figure, rows
from helpers.refusals import NAN, Case, assert_refused, cases
from scipy.optimize import brentq

from pcbchem import RangeWarning
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.tables import column
from pcbchem.common.units import celsius
from pcbchem.matter.properties import (
    LIMITS,
    MOLAR_MASS,
    RANGES,
    SOLUTES,
    density,
    density_inside,
    heat_capacity,
    present,
    water_density,
)

T20 = celsius(20)


def missed(table: list[dict[str, str]], substance: str, tolerance: dict[str, float]) -> list[str]:
    """Rows of a density table missed by more than the tolerance [%] of their status."""
    misses = []
    for row in table:
        w = float(row["mass_fraction"])
        T = celsius(float(row["T_C"]))
        off = 100 * (density(T, **{substance: w}) / float(row["density_kg_m3"]) - 1)
        if abs(off) > tolerance[row["status"]]:
            misses.append(f"{w:g} at {row['T_C']} C: {off:+.3f} % ({row['source']})")
    return misses


def between(table: list[dict[str, str]], low: float, high: float) -> list[dict[str, str]]:
    """Rows at temperatures [°C] between two."""
    return [row for row in table if low <= float(row["T_C"]) <= high]


# ---- molar masses


def test_molar_masses_add_up() -> None:
    # Law: of atoms, by the IUPAC standard atomic weights (H 1.008, O 15.999, Cl 35.453, Na 22.990).
    H, O, Cl, Na, Cu = 1.008e-3, 15.999e-3, 35.453e-3, 22.990e-3, MOLAR_MASS["Cu"]
    sums = {
        "HCl": H + Cl,
        "H2O2": 2 * H + 2 * O,
        "H2O": 2 * H + O,
        "CuCl2": Cu + 2 * Cl,
        "CuCl": Cu + Cl,
        "NaOH": Na + O + H,
        "O2": 2 * O,
    }
    for name, molar_mass in sums.items():
        assert MOLAR_MASS[name] == pytest.approx(molar_mass, abs=2e-6), name
    assert Cu == pytest.approx(63.546e-3, abs=1e-6)


def test_every_solute_has_limits_that_hold_its_range() -> None:
    # Law.
    assert set(LIMITS) == set(SOLUTES) == set(RANGES) - {"T"}
    for solute in SOLUTES:
        assert RANGES[solute].high < LIMITS[solute] < 1


# ---- density


def test_density_of_hydrochloric_acid() -> None:
    # Second source: tables of several sources (named in the file) against the equation of Laliberte
    # and Cooper 2004: 0.1 % up to 40 C.
    table = [
        row for row in between(rows("hcl_density"), 5, 40) if float(row["mass_fraction"]) <= 0.38
    ]
    assert len(table) > 170
    assert missed(table, "HCl", {"published": 0.1, "from memory": 0.2}) == []


def test_density_of_warm_hydrochloric_acid() -> None:
    # Second source: all held rows above 40 C, to 18 % of acid: within the doubt of the table as far
    # as density is checked (60 C) and ten degrees on. At 85 C, where `density` warns, they part.
    held_rows = [row for row in rows("hcl_density") if float(row["T_C"]) > 40]
    assert len(held_rows) == 56
    (doubt,) = column("laliberte_density", "uncertainty_percent_above_40_C", substance="HCl")
    assert doubt == 0.15
    assert missed(between(held_rows, 40, 60), "HCl", {"published": doubt}) == []
    with pytest.warns(RangeWarning):
        beyond = missed(between(held_rows, 60, 70), "HCl", {"published": doubt})
        hottest = missed(between(held_rows, 85, 85), "HCl", {"published": doubt})
    assert beyond == [] and hottest != []
    with pytest.warns(RangeWarning):
        assert missed(between(held_rows, 85, 85), "HCl", {"published": 0.2}) == []


def test_warm_acid_is_in_more_doubt_than_cold() -> None:
    # Law: of one table, from 25 C up, the misses grow with temperature; that is why it is said.
    table = [row for row in rows("hcl_density") if row["source"].startswith("web table of elec")]
    worst = []
    for t in (25, 40, 55):
        misses = []
        for row in between(table, t, t):
            reckoned = density(celsius(t), HCl=float(row["mass_fraction"]))
            misses.append(abs(reckoned / float(row["density_kg_m3"]) - 1))
        worst.append(max(misses))
    assert worst == sorted(worst) and worst[2] > 2 * worst[0]


def test_density_of_peroxide() -> None:
    # Second source: Perry's Handbook (from memory) at 18 C, against Easton and others 1952.
    assert missed(rows("h2o2_density"), "H2O2", {"from memory": 0.1}) == []


def test_density_of_copper_chloride() -> None:
    # Second source: Pitzer's volumetric parameters (10.1021/je2009329). Two models, 1.3 % apart at
    # 33 %: neither is known to be right there.
    assert missed(rows("cucl2_density"), "CuCl2", {"published": 1.5}) == []


def test_density_of_lye() -> None:
    # Second source: CRC Handbook (from memory), and a web table that drifts from the handbook above
    # 25 C, by 0.3 %.
    table = rows("naoh_density")
    cool = between(table, 5, 25)
    assert missed(cool, "NaOH", {"published": 0.3, "from memory": 0.1}) == []
    assert missed(between(table, 5, 60), "NaOH", {"published": 0.4, "from memory": 0.1}) == []


@pytest.mark.parametrize("t", [1, 20, 25, 40, 59])
def test_density_of_water(t: float) -> None:
    # Second source: the IAPWS-95 standard (Wagner and Pruss 2002) by the open library `chemicals`.
    from chemicals.iapws import iapws95_properties

    T = celsius(t)
    assert water_density(T) == pytest.approx(iapws95_properties(T, 101325)[0], abs=0.02)


@pytest.mark.parametrize(
    ("substance", "number"), [("HCl", "7647-01-0"), ("NaOH", "1310-73-2"), ("CuCl2", "7447-39-4")]
)
def test_densities_as_the_open_library_has_them(substance: str, number: str) -> None:
    # As printed: Laliberte's published equation as `thermo` computes it, one number at a time.
    from thermo.electrochem import Laliberte_density

    for w in (0.02, 0.1, 0.3):
        for t in (5, 25, 55):
            theirs = Laliberte_density(celsius(t), [w], [number])
            assert density(celsius(t), **{substance: w}) == pytest.approx(theirs, rel=1e-9)


# ---- heat capacity


@pytest.mark.parametrize(("substance", "number"), [("NaOH", "1310-73-2"), ("CuCl2", "7447-39-4")])
def test_heat_capacities_as_the_open_library_has_them(substance: str, number: str) -> None:
    # As printed: Laliberte 2009 in `thermo`, at the one temperature where CuCl2 was measured. Its
    # water differs, and is taken off on both sides.
    from thermo.electrochem import Laliberte_heat_capacity, Laliberte_heat_capacity_w

    T = celsius(35)
    for w in (0.02, 0.1, 0.3):
        theirs = Laliberte_heat_capacity(T, [w], [number]) - (1 - w) * Laliberte_heat_capacity_w(T)
        ours = heat_capacity(T, **{substance: w}) - (1 - w) * heat_capacity(T)
        assert ours == pytest.approx(theirs, abs=0.01)


@pytest.mark.parametrize("t", [0.5, 20, 40, 59.5])
def test_heat_capacity_of_water(t: float) -> None:
    # As printed: our polynomial against IAPWS-95 (Wagner and Pruss 2002), from which it was made.
    from chemicals.iapws import iapws95_properties

    T = celsius(t)
    assert heat_capacity(T) == pytest.approx(iapws95_properties(T, 101325)[5], abs=3)


def test_heat_capacity_of_acid() -> None:
    # As printed: Perry's Handbook, table 2-207, from which the quadratic was fitted (rms 0.7 %).
    # Second source: the encyclopaedia table, printed to three digits.
    table = [
        row for row in rows("specific_heat", substance="HCl") if float(row["mass_fraction"]) <= 0.40
    ]
    assert len(table) >= 19
    for row in table:
        ours = heat_capacity(celsius(float(row["T_C"])), HCl=float(row["mass_fraction"]))
        assert ours == pytest.approx(float(row["heat_capacity_J_kg_K"]), rel=0.02), row


def test_heat_capacity_of_peroxide() -> None:
    # Second source: a supplier's data sheet (from memory, low confidence), 2 to 4 % lower.
    table = [
        row
        for row in rows("specific_heat", substance="H2O2", status="from memory")
        if float(row["mass_fraction"]) <= 0.5
    ]
    assert table
    for row in table:
        ours = heat_capacity(celsius(25), H2O2=float(row["mass_fraction"]))
        assert ours == pytest.approx(float(row["heat_capacity_J_kg_K"]), rel=0.05), row


def test_heat_capacity_of_pure_peroxide_is_the_liquids() -> None:
    # Law: weighted by mass with the pure liquid, whatever the mass fraction.
    c = [heat_capacity(celsius(25), H2O2=w) for w in (0.0, 0.2, 0.4)]
    assert c[1] - c[0] == pytest.approx(c[2] - c[1], rel=1e-12)


# ---- published checks


def acid_percent(d15_4: float) -> float:
    """Per cent by weight of the acid of a specific gravity, 15 °C to 4 °C."""

    def miss(w: float) -> float:
        return float(density(celsius(15), HCl=w)) - d15_4 * 999.97

    return 100 * float(brentq(miss, 0, 0.4))


PUBLISHED: dict[str, Callable[[], float]] = {
    "C07a": lambda: acid_percent(1.05),
    "C07b": lambda: acid_percent(1.10),
    "C07d": lambda: acid_percent(1.16),
    "C07e": lambda: acid_percent(1.18),
    "C21": lambda: heat_capacity(T20, HCl=0.1683),
    "C21c": lambda: heat_capacity(T20, HCl=0.30),
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id: str) -> None:
    # Second source: named in tests/published/checks_solutions.csv.
    assert PUBLISHED[id]() == printed_figure(id)


# ---- the mixing rule


def test_no_solute_is_water() -> None:
    # Law.
    assert density(T20) == water_density(T20)


@pytest.mark.parametrize("solute", SOLUTES)
def test_a_trace_changes_nothing(solute: str) -> None:
    # Law.
    assert density(T20, **{solute: 1e-9}) == pytest.approx(water_density(T20), rel=1e-8)
    assert heat_capacity(T20, **{solute: 1e-9}) == pytest.approx(heat_capacity(T20), rel=1e-7)


def test_apparent_volumes_of_several_solutes_add() -> None:
    # Law: at fixed mass fractions.
    water = 1 / water_density(T20)
    acid = 1 / density(T20, HCl=0.15) - water
    peroxide = 1 / density(T20, H2O2=0.15) - water
    both = 1 / density(T20, HCl=0.15, H2O2=0.15) - water
    assert both == pytest.approx(acid + peroxide, rel=1e-12)


def test_apparent_heat_capacities_of_several_solutes_add() -> None:
    # Law: at fixed mass fractions.
    water = heat_capacity(T20)
    acid = heat_capacity(T20, HCl=0.15) - water
    copper = heat_capacity(T20, CuCl2=0.15) - water
    both = heat_capacity(T20, HCl=0.15, CuCl2=0.15) - water
    assert both == pytest.approx(acid + copper, rel=1e-12)


def test_both_copper_salts_count_as_one() -> None:
    # Law: CuCl is taken for CuCl2 (assumed).
    assert density(T20, CuCl=0.05) == density(T20, CuCl2=0.05)
    for read in (density, heat_capacity):
        split = read(T20, CuCl=0.02, CuCl2=0.03)
        assert split == pytest.approx(read(T20, CuCl2=0.05), rel=1e-12)


def test_copper_keeps_the_heat_capacity_of_its_one_temperature() -> None:
    # Law: measured at 35 °C only, so its own share does not change with the temperature.
    own = [heat_capacity(celsius(t), CuCl2=0.2) - 0.8 * heat_capacity(celsius(t)) for t in (5, 55)]
    assert own[0] == pytest.approx(own[1], rel=1e-12)


# ---- arrays


def test_shapes_broadcast_and_the_mark_stays() -> None:
    # Law: each element is what it is alone.
    T = np.array([[280.0], [300.0], [320.0]])
    w = as_draws([0.0, 0.1, 0.2, 0.3])
    rho = density(T, HCl=w, H2O2=0.1)
    assert isinstance(rho, Draws) and rho.shape == (3, 4)
    assert float(rho[1, 2]) == pytest.approx(density(300.0, HCl=0.2, H2O2=0.1), rel=1e-14)
    assert not isinstance(density(T, HCl=0.1), Draws)
    assert density(np.zeros((0,)) + 300).shape == (0,)
    assert np.ndim(density(300.0)) == 0


def test_present_is_what_is_there_anywhere() -> None:
    # Law.
    fractions = {"HCl": np.zeros(2), "H2O2": np.array([0.0, 0.1]), "NaOH": np.asarray(0.0)}
    assert list(present(fractions)) == ["H2O2"]


def test_finite_to_every_limit() -> None:
    # Law: inside the limits nothing is NaN, and both stay those of a liquid.
    T = np.linspace(250, 400, 16)[:, None]
    for solute, most in LIMITS.items():
        w = {solute: np.linspace(0, most, 20)}
        with pytest.warns(RangeWarning):
            rho = density(T, **w)
        with pytest.warns(RangeWarning):
            c = heat_capacity(T, **w)
        assert rho.min() > 900 and rho.max() < 1700, solute
        assert c.min() > 1500 and c.max() < 4800, solute
    assert np.all(density_inside(np.array(300.0), {"HCl": np.array([0.0, 0.45])}) > 990)


# ---- warnings and refusals


@pytest.mark.parametrize(
    "call",
    [
        lambda: density(350.0, HCl=np.array([0.1, 0.44])),
        lambda: heat_capacity(260.0, H2O2=0.6),
        lambda: water_density(399.0),
    ],
    ids=["density", "heat capacity", "water"],
)
def test_one_warning_outside_the_range(call: Callable[[], object]) -> None:
    # Law: a call warns once, at the caller's line, and its result is finite.
    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        assert np.all(np.isfinite(call()))
    assert [record.category for record in records] == [RangeWarning]
    assert records[0].filename == __file__


def test_the_warning_names_the_worst_value() -> None:
    # Law.
    with pytest.warns(RangeWarning, match=r"HCl = 0\.44.*0 to 0\.4") as caught:
        density(335.0, HCl=[0.42, 0.44])
    warning = caught[0].message
    assert isinstance(warning, RangeWarning)
    assert (warning.reader, warning.quantity) == ("density", "mass fraction of HCl")
    assert (warning.value, warning.high) == (0.44, 0.40)


REFUSED: list[Case] = [
    ("density at 20 kelvin", lambda: density(20), ("T", "20", "250 to 400")),
    ("water at no temperature", lambda: water_density(NAN), ("T", "nan", "250 to 400")),
    ("heat capacity of too much acid", lambda: heat_capacity(300, HCl=0.5), ("HCl", "0.5", "0.45")),
    (
        "no water left",
        lambda: density(300, HCl=0.45, H2O2=0.6),
        ("HCl + H2O2 = 1.05", "below 1 kg/kg"),
    ),
    (
        "lye in acid",
        lambda: density(300, HCl=0.1, NaOH=0.2),
        ("NaOH = 0.2 beside HCl = 0.1", "must be 0"),
    ),
    (
        "lye in peroxide",
        lambda: heat_capacity(300, H2O2=[0.0, 0.1], NaOH=0.2),
        ("NaOH = 0.2 beside H2O2 = 0.1", "must be 0"),
    ),
    (
        "shapes that do not broadcast",
        lambda: density([290.0] * 3, HCl=[0.1, 0.2]),
        ("T (3,)", "HCl (2,)"),
    ),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)


def test_lye_beside_acid_in_other_scenarios_is_fine() -> None:
    # Law: only where both are there at once do they meet.
    assert density(300, HCl=[0.1, 0.0], NaOH=[0.0, 0.1]).shape == (2,)


def test_exactly_no_water_left_is_refused() -> None:
    # Law: these add to 1 without rounding.
    with pytest.raises(ValueError, match="leaves no water"):
        density(293.15, H2O2=0.625, HCl=0.375)
