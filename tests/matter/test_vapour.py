"""Pressures over acid, bath and peroxide: against other tables, another model, and the laws."""

import warnings
from collections.abc import Callable

import numpy as np
import pytest
from helpers.expected import figure_of, printed_figure, rows
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from scipy.optimize import brentq

from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.limits import RangeWarning, collecting_warnings
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.matter.vapour import (
    DOUBT_OF_STRONG,
    DOUBT_OF_WEAK,
    MERCURY,
    doubt,
    hydrogen_chloride,
    peroxide,
    saturation_pressure,
    steepness,
    water,
)

T20, T25 = 293.15, 298.15
ATMOSPHERE = 101_325.0
TABLE = "checks_vapour_air"


def total(T: float, w: float) -> float:
    """Pressure of acid gas and water together [Pa]."""
    return float(hydrogen_chloride(T, w) + water(T, w))


def azeotrope() -> tuple[float, float]:
    """Strength [kg/kg] and temperature [K] at which acid boils and stays as it is."""
    with collecting_warnings():

        def boiling(w: float) -> float:
            return float(brentq(lambda T: total(T, w) - ATMOSPHERE, 340.0, 399.0))

        def enrichment(w: float) -> float:
            T = boiling(w)
            acid = float(hydrogen_chloride(T, w)) * MOLAR_MASS["HCl"]
            steam = float(water(T, w)) * MOLAR_MASS["H2O"]
            return acid / (acid + steam) - w

        strength = float(brentq(enrichment, 0.15, 0.28))
        return strength, boiling(strength)


def over_molalities(T: float, acid: float, copper: float) -> float:
    """Pressure of acid gas [Pa] over so many moles of each to a kilogram of water."""
    acid_mass, copper_mass = acid * MOLAR_MASS["HCl"], copper * MOLAR_MASS["CuCl2"]
    mass = 1 + acid_mass + copper_mass
    return float(hydrogen_chloride(T, acid_mass / mass, copper_mass / mass))


# ---- published figures

PUBLISHED: dict[str, Callable[[], float]] = {
    "v01": lambda: hydrogen_chloride(T20, 0.1),
    "v02": lambda: hydrogen_chloride(T20, 0.3),
    "v03": lambda: hydrogen_chloride(T20, 0.32),
    "v04": lambda: total(T20, 0.1),
    "v05": lambda: total(T20, 0.2),
    "v06": lambda: total(T20, 0.34),
    "v07": lambda: total(T20, 0.38),
    "v08": lambda: hydrogen_chloride(T25, 0.02),
    "v09": lambda: hydrogen_chloride(T25, 0.14),
    "v10": lambda: hydrogen_chloride(T25, 0.22),
    "v11": lambda: water(T25, 0.1),
    "v12": lambda: azeotrope()[0],
    "v13": lambda: azeotrope()[1],
    "v14": lambda: hydrogen_chloride(T20, 0.3145),
    "v15": lambda: hydrogen_chloride(T20, 0.01),
    "v16": lambda: hydrogen_chloride(T20, 0.0446, 0.0111),
    "v17": lambda: over_molalities(T25, acid=3.0, copper=1.0),
    "v18": lambda: 1e6 * peroxide(T25, 890.0) / ATMOSPHERE,
    "C22c": lambda: hydrogen_chloride(303.15, 0.22) / (750 * MERCURY),
    "C23a": lambda: hydrogen_chloride(T20, 0.10),
    "C23b": lambda: hydrogen_chloride(T20, 0.20),
    "C23d": lambda: hydrogen_chloride(T20, 0.32),
    "C24a": lambda: total(T20, 0.10) / 1000,
    "C24b": lambda: total(T20, 0.20) / 1000,
    "C24c": lambda: total(T20, 0.30) / 1000,
    "C24e": lambda: total(T20, 0.34) / 1000,
    # as printed: the row of 36 % of the table was set to agree with this one
    "C24f": lambda: total(T20, 0.36) / 1000,
    "C24g": lambda: total(T20, 0.38) / 1000,
    "hcl_p22": lambda: hydrogen_chloride(303.15, 0.22) / MERCURY,
    "hcl_eq10": lambda: 1e6 * hydrogen_chloride(T20, 0.10) / ATMOSPHERE,
}


def expected(id: str) -> object:
    """The figure of a check, whichever table it stands in."""
    if id[0] == "v":
        return figure_of(TABLE, id)
    if id[0] == "C":
        return printed_figure(id)
    return figure_of("checks_safety", id)


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id: str) -> None:
    # Second source, but where the table says "reference": another implementation of the equations.
    assert PUBLISHED[id]() == expected(id)


def test_second_source_saturation_pressure_of_water() -> None:
    """The short form against the international equation of state of water: within 0.5 %."""
    table = rows("water_saturation")
    assert len(table) == 7
    for row in table:
        pressure = saturation_pressure(float(row["T_C"]) + 273.15)
        assert pressure == pytest.approx(float(row["p_sat_Pa"]), rel=0.005)
        # the topmost row of the public function, which is pure water
        assert water(float(row["T_C"]) + 273.15) == pytest.approx(pressure, rel=1e-12)


def test_second_source_pressures_of_the_international_tables() -> None:
    """Acid of 2 to 36 % from 10 to 110 °C within 3 %; perhaps of the same origin as the table.

    The row of 36 % was set to agree with a total pressure of these tables.
    """
    table = rows("hcl_pressure")
    assert len(table) == 47
    for row in table:
        acid = float(row["kg_HCl_per_100_kg_water"])
        with collecting_warnings():
            pressure = hydrogen_chloride(float(row["T_C"]) + 273.15, acid / (100 + acid))
        assert pressure == pytest.approx(float(row["p_HCl_mmHg"]) * MERCURY, rel=0.03), row


def test_second_source_pitzer_lies_inside_the_doubt() -> None:
    """Pitzer's model from 2 to 24 % at 25 °C lies between the ends of `doubt`."""
    table = rows("hcl_partial_pressure")
    pressures = [row for row in table if row["T_C"] == "25" and row["quantity"] == "p_HCl"]
    assert len(pressures) == 7
    for row in pressures:
        w = float(row["mass_frac"])
        low, high = doubt(w)
        ratio = float(row["other_Pa"]) / hydrogen_chloride(T25, w)
        assert low <= ratio <= high, row


def test_second_source_pitzer_over_water() -> None:
    table = [row for row in rows("hcl_partial_pressure") if row["quantity"] == "p_H2O"]
    assert len(table) == 7
    for row in table:
        pressure = water(T25, float(row["mass_frac"]))
        assert pressure == pytest.approx(float(row["other_Pa"]), rel=0.05), row


@pytest.mark.parametrize("gas", ["HCl", "H2O"])
def test_every_row_comes_in_as_printed(gas: str) -> None:
    # As printed.
    function = {"HCl": hydrogen_chloride, "H2O": water}[gas]
    table = [row for row in tables.read("hcl_vapour") if row["substance"] == gas]
    assert len(table) == {"HCl": 21, "H2O": 16}[gas]
    for row in table:
        A, B = float(row["A_log10_mmHg"]), float(row["B_K"])
        with collecting_warnings():
            pressure = function(303.15, float(row["mass_fraction"]))
        assert pressure == pytest.approx(133.322 * 10 ** (A - B / 303.15), rel=1e-9)


# ---- laws

STRENGTHS = np.linspace(0.0, 0.45, 91)
WARMTHS = np.linspace(273.15, 333.15, 13)[:, None]


def test_acid_gas_rises_with_strength_and_warmth() -> None:
    # Law.
    with collecting_warnings():
        pressure = hydrogen_chloride(WARMTHS, STRENGTHS)
    assert np.all(np.diff(pressure, axis=0)[:, 1:] > 0)
    assert np.all(np.diff(pressure, axis=1) > 0)
    assert np.all(pressure[:, 0] == 0)


def test_water_falls_with_strength_and_rises_with_warmth() -> None:
    # Law: nothing that is dissolved makes water more volatile.
    with collecting_warnings():
        pressure = water(WARMTHS, STRENGTHS)
    assert np.all(np.diff(pressure, axis=0) > 0)
    # recalled rows are smooth to half a per cent
    assert np.all(pressure[:, 1:] < 1.005 * pressure[:, :-1])
    assert np.all(pressure <= 1.0000001 * saturation_pressure(WARMTHS))


def test_no_step_at_the_ends_of_the_table() -> None:
    # Law: continuous where one form takes over from another.
    for w in (0.02, 0.06, 0.42):
        ends = np.array([w - 1e-9, w + 1e-9])
        with collecting_warnings():
            for function in (hydrogen_chloride, water):
                below, above = function(T20, ends)
                assert above == pytest.approx(below, rel=1e-6), (function, w)


def test_dilute_acid_goes_with_the_square_of_its_molality() -> None:
    # Law: two ions leave as one molecule.
    weak, weaker = 0.01, 0.005
    molalities = [w / (1 - w) for w in (weak, weaker)]
    ratio = hydrogen_chloride(T20, weak) / hydrogen_chloride(T20, weaker)
    assert ratio == pytest.approx((molalities[0] / molalities[1]) ** 2, rel=1e-12)


def test_copper_only_ever_adds() -> None:
    # Law: chloride pushes acid gas out; none is there without acid.
    salt = np.linspace(0.0, 0.2, 21)
    pressure = hydrogen_chloride(T20, 0.05, salt)
    assert np.all(np.diff(pressure) > 0)
    assert pressure[0] == hydrogen_chloride(T20, 0.05)
    assert np.all(hydrogen_chloride(T20, 0.0, salt) == 0)


def test_steepness_is_the_slope_of_the_logarithm() -> None:
    # Law: a difference quotient inside a segment.
    for w in (0.005, 0.015, 0.05, 0.11, 0.3145, 0.37, 0.43):
        with collecting_warnings():
            low, high = hydrogen_chloride(T20, np.array([w - 1e-6, w + 1e-6]))
        slope = np.log(high / low) / 2e-6
        assert steepness(T20, w) == pytest.approx(slope, rel=1e-4), w


def test_steepness_at_a_row_is_that_of_the_weaker_side() -> None:
    # As documented: acid only ever weakens.
    for w in (0.10, 0.30, 0.36):
        assert steepness(T20, w) == pytest.approx(steepness(T20, w - 0.01), rel=1e-12)
        assert steepness(T20, w) != pytest.approx(steepness(T20, w + 0.01), rel=1e-3)


def test_peroxide_doubles_with_its_strength() -> None:
    # Law: Henry's.
    assert peroxide(T20, 2000.0) == pytest.approx(2 * peroxide(T20, 1000.0), rel=1e-12)
    assert np.all(np.diff(peroxide(np.linspace(274, 333, 20), 1000.0)) > 0)
    assert peroxide(T20, 0.0) == 0


@pytest.mark.parametrize("read", [819.0, 1086.0])
def test_second_source_constants_of_peroxide_lie_in_its_doubt(read: float) -> None:
    # both as an atmospheric model has them after other works: 8.30e4 and 1.1e5 mol/(L atm), 7400 K
    ratio = 1000.0 / read / peroxide(T25, 1000.0)
    (most,) = tables.column("air_doubts", "high", doubt="peroxide")
    assert round(max(ratio, 1 / ratio), 1) <= most


def test_second_source_peroxide_triples_in_ten_kelvin() -> None:
    # the heat of vaporisation of peroxide from water is about 60 kJ/mol: 2.4 times in 10 K
    ratio = peroxide(303.15, 1000.0) / peroxide(293.15, 1000.0)
    assert ratio == pytest.approx(np.exp(60e3 / 8.314 * (1 / 293.15 - 1 / 303.15)), rel=0.05)


def test_doubt_is_wider_for_weak_acid() -> None:
    # As documented.
    assert doubt(0.10) == doubt(0.36) == DOUBT_OF_STRONG
    assert doubt(0.0) == doubt(0.08) == DOUBT_OF_WEAK
    low, high = doubt([0.05, 0.09, 0.2])
    assert np.all(np.diff(low) > 0) and np.all(high >= 1)


# ---- arrays and warnings


def test_draws_stay_marked_and_broadcast() -> None:
    # Law: each element is what it is alone.
    w = as_draws([0.1, 0.2, 0.3])
    for function in (hydrogen_chloride, water, steepness):
        pressure = function(np.array([[280.0], [300.0]]), w)
        assert isinstance(pressure, Draws) and pressure.shape == (2, 3)
        assert float(pressure[1, 2]) == pytest.approx(float(function(300.0, 0.3)), rel=1e-12)
    assert np.ndim(hydrogen_chloride(T20, 0.1)) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: hydrogen_chloride(340.0, [0.1, 0.44]),
        lambda: hydrogen_chloride(T20, 0.3, 0.15),
        lambda: water(T20, 0.40),
        lambda: peroxide(T20, 9000.0),
    ],
    ids=["acid", "copper", "water", "peroxide"],
)
def test_one_warning_outside_the_range(call: Callable[[], object]) -> None:
    # Law: once a call, at the caller's line, with a finite result.
    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        assert np.all(np.isfinite(call()))
    assert [record.category for record in records] == [RangeWarning]
    assert records[0].filename == __file__


def test_no_warning_inside_the_range() -> None:
    # Law: warnings are errors here.
    hydrogen_chloride([273.15, 333.15], 0.38)
    water([273.15, 333.15], 0.38)
    peroxide([273.15, 333.15], 3200.0)


REFUSED: list[Case] = [
    ("a temperature in °C", lambda: hydrogen_chloride(20, 0.1), ("T", "20", "250 to 400")),
    ("no temperature", lambda: hydrogen_chloride(NAN, 0.1), ("T", "nan", "250 to 400")),
    ("a percentage", lambda: hydrogen_chloride(T20, 31.45), ("HCl", "31.45", "0 to 0.45")),
    ("negative acid", lambda: hydrogen_chloride(T20, -0.1), ("HCl", "-0.1", "0 to 0.45")),
    ("acid in words", lambda: hydrogen_chloride(T20, "x"), ("HCl", "'x'", "0 to 0.45")),
    ("too much copper", lambda: hydrogen_chloride(T20, 0.1, 0.5), ("CuCl2", "0.5", "0 to 0.4")),
    ("negative copper", lambda: hydrogen_chloride(T20, 0.1, -1), ("CuCl2", "-1", "0 to 0.4")),
    (
        "chloride beyond the table",
        lambda: hydrogen_chloride(T20, 0.35, 0.3),
        ("HCl", "0.35 beside CuCl2 = 0.3", "0.45 kg/kg"),
    ),
    ("shapes", lambda: hydrogen_chloride([T20] * 3, [0.1, 0.2]), ("T (3,)", "HCl (2,)")),
    ("water at no warmth", lambda: water(INF), ("T", "inf", "250 to 400")),
    ("water over too much", lambda: water(T20, 0.5), ("HCl", "0.5", "0 to 0.45")),
    ("steepness of water", lambda: steepness(T20, 0.0), ("HCl", "0", "above 0 to 0.45")),
    ("steepness in °C", lambda: steepness(25, 0.1), ("T", "25", "250 to 400")),
    ("doubt of a percentage", lambda: doubt(10), ("HCl", "10", "0 to 0.45")),
    ("negative peroxide", lambda: peroxide(T20, -1), ("concentration", "-1", "0 to 30000")),
    ("too much peroxide", lambda: peroxide(T20, 1e5), ("concentration", "100000", "0 to 30000")),
    ("peroxide in °C", lambda: peroxide(25, 100), ("T", "25", "250 to 400")),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)
