"""The scalar second model itself: worked cases, effects removed one at a time, limits of the film, atoms and energy."""

from math import inf

import pytest
from helpers.reference_model import (
    CU,
    DEFAULTS,
    OZ,
    SWITCHES,
    Reference,
    case,
    make_surface,
    published_baths,
    solve,
)

UNDILUTED = dict(HCl=5084.9, H2O2=4896.8, T=305.64, volume=50e-6, area=4e-4)
STRONG = dict(HCl=1961.8, H2O2=2141.3, T=298.69, volume=75e-6, area=40e-4)
# equal parts of 31 % acid and 2.5 % peroxide: half way between the worked cases with 2 % and 3 %
WEAK = dict(
    HCl=4904.44, H2O2=(295.5 + 444.79) / 2, T=(303.367 + 303.387) / 2, volume=75e-6, area=40e-4
)
BATHS = (UNDILUTED, STRONG, WEAK)

# Time to clear [s] of the three baths with one effect removed. Source: a computation made before
# this model was written, from the same equations, with figures kept to two to four digits.
REMOVED = {
    "none": (3.64, 76.3, 1241.0),
    "gas stirring": (57.0, 205.0, 1247.0),
    "bath heating": (4.1, 143.0, 1106.0),
    "surface heating": (10.9, 105.0, 1256.0),
    "heat of mixing": (8.1, 103.0, 1063.0),
    "depletion": (3.6, 57.0, 468.0),
    "cupric route": (4.6, 87.0, inf),
}


@pytest.mark.parametrize("row", published_baths(), ids=lambda row: row["id"])
def test_validation_worked_cases(row):
    """Eight full cases computed earlier by another program from the same equations (status column of the table)."""
    got = solve(**case(row))
    assert got.time_to_clear == pytest.approx(float(row["time_to_clear_s"]), rel=0.003)
    assert got.peak_temperature - 273.15 == pytest.approx(float(row["peak_T_C"]), abs=0.1)
    for key, column in (
        ("HCl", "end_acid_mol_m3"),
        ("H2O2", "end_peroxide_mol_m3"),
        ("CuCl", "end_CuI_mol_m3"),
        ("CuCl2", "end_CuII_mol_m3"),
    ):
        assert got.end[key] == pytest.approx(float(row[column]), rel=0.003, abs=0.2), key


@pytest.mark.parametrize("effect", REMOVED)
def test_validation_effects_removed_one_at_a_time(effect):
    """Within 3 %: half of the last digit of the shortest figures is already 1.4 %."""
    for bath, expected in zip(BATHS, REMOVED[effect], strict=True):
        changed = {**bath, "T": 293.15} if effect == "heat of mixing" else bath
        got = solve(**changed, without=(effect,) if effect in SWITCHES else ())
        assert got.time_to_clear == pytest.approx(expected, rel=0.03)


def test_validation_all_removed_but_the_cupric_route():
    """115 : 308 : 758 s, from the same earlier computation as the table above."""
    off = tuple(effect for effect in SWITCHES if effect != "cupric route")
    got = [solve(**{**bath, "T": 293.15}, without=off).time_to_clear for bath in BATHS]
    assert got == pytest.approx([115.0, 308.0, 758.0], rel=0.01)


def film(area=4e-3, agitation="rocked", facing="up", without=(), **parameters):
    return make_surface(DEFAULTS | parameters, area, agitation, facing, without)


FAST = dict(surface_rate=1e9, gas_share=0.0)
r_A, r_II, r_I = ((D / 1.43) ** (2 / 3) for D in (3.0, 1.0, 1.2))


def test_law_little_peroxide_in_strong_acid():
    """Every peroxide that arrives takes two copper away, every Cu(II) one more."""
    J, _, _, k_m = film(**FAST)(50.0, 3000.0, 20.0, 0.0, 300.0)
    assert pytest.approx(k_m * (2 * 50.0 + r_II * 20.0), rel=1e-6) == J


def test_law_excess_peroxide_is_capped_by_acid():
    """Acid carries the etch: half direct, half from the Cu(I) it carries off, if that leaves easily."""
    J, _, _, k_m = film(**FAST, cuprous_diffusivity=1e-6)(4000.0, 200.0, 20.0, 0.0, 300.0)
    assert pytest.approx(k_m * (r_A * 200.0 + r_II * 20.0), rel=1e-6) == J


def test_law_excess_peroxide_is_capped_by_cuprous_chloride():
    """With a tiny solubility nothing but the direct step is left; a bath full of Cu(I) does the same."""
    J, _, _, k_m = film(**FAST, cuprous_binding=1e-9)(4000.0, 200.0, 20.0, 0.0, 300.0)
    assert pytest.approx(k_m * r_A * 200.0 / 2, rel=1e-4) == J
    J, _, _, k_m = film(**FAST)(0.0, 200.0, 500.0, 900.0, 300.0)
    assert J == 0.0


@pytest.mark.parametrize("chloride", [0.0, 1e-6])
def test_law_no_chloride_no_etch(chloride):
    assert film()(2000.0, chloride, 0.0, 0.0, 300.0)[0] < 1e-9


def test_law_gas_root():
    """k_m solves k³ = k0³ + k_gas³ with the gas made at that very k_m, whatever the strength."""
    without_gas = film(without=("gas stirring", "surface heating"))
    with_gas = film(without=("surface heating",))
    for C_H in (100.0, 1000.0, 4000.0):
        k0, k = (
            without_gas(C_H, 3000.0, 0.0, 0.0, 305.0)[3],
            with_gas(C_H, 3000.0, 0.0, 0.0, 305.0)[3],
        )
        mu = 2.414e-5 * 10 ** (247.8 / 165.0) * 2.718281828459045 ** (5.2e-5 * 3000 + 9e-6 * C_H)
        nu = mu / (998 + 0.017 * 3000 + 0.0115 * C_H)
        D = 1.43e-9 * 305.0 / 298.15 * 0.890e-3 / mu
        share = (
            0.08
            * (C_H / 5000) ** 0.7
            * 2.718281828459045 ** (-20e3 / 8.314462618 * (1 / 305.0 - 1 / 298.15))
        )
        gas = 0.5 * share * k * C_H * 8.314462618 * 305.0 / 101_325
        k_gas = 0.93 * (gas * D**2 / (6e-5 * nu) * (nu / D) ** 0.974) ** 0.5
        assert k**3 == pytest.approx(k0**3 + k_gas**3, rel=1e-6)


@pytest.mark.parametrize(
    "bath", [UNDILUTED, STRONG, WEAK, {**STRONG, "area": 60e-4, "volume": 50e-6}]
)
def test_law_atoms_electrons_and_energy(bath):
    """Chloride, copper, electrons, and heat against the warming of a bath whose heat capacity hardly changes."""
    got: Reference = solve(**bath)
    end, volume = got.end, bath["volume"]
    gone = (OZ / CU - end["n"]) * bath["area"] / volume
    assert end["CuCl"] + end["CuCl2"] == pytest.approx(gone, rel=1e-9)
    assert end["HCl"] + 2 * end["CuCl2"] + end["CuCl"] == pytest.approx(bath["HCl"], rel=1e-9)
    left = 2 * end["H2O2"] - end["CuCl"]
    assert got.electrons_used / volume == pytest.approx(2 * bath["H2O2"] - left, rel=1e-5)
    # electrons end in copper (two each) or in oxygen (four per O2, two per peroxide decomposed)
    assert got.electrons_used / volume == pytest.approx(
        2 * gone + 4 * got.oxygen / volume, rel=1e-5
    )
    stored = got.heat_made - got.heat_lost - got.steam
    assert stored / volume / (end["T"] - bath["T"]) == pytest.approx(3.6e6, rel=0.15)


def test_law_twice_the_foil_takes_twice_the_time():
    """In a bath too large to change, and without heating it, the rate is constant."""
    large = {**STRONG, "volume": 1.0, "without": ("bath heating",)}
    one, two = solve(**large).time_to_clear, solve(**large, foil_ounces=2.0).time_to_clear
    assert two / one == pytest.approx(2.0, abs=0.01)


def test_law_tolerance_is_tight_enough():
    """A hundred times tighter changes a time by less than a thousandth of what the tests allow."""
    for bath in BATHS:
        assert solve(**bath).time_to_clear == pytest.approx(
            solve(**bath, rtol=1e-10).time_to_clear, rel=1e-5
        )


def test_law_history_is_held_after_the_end():
    got = solve(**STRONG)
    assert got.at(2 * got.time_to_clear) == got.at(got.time_to_clear)
    assert got.at(0.0)["thickness"] == pytest.approx(OZ / 8960.0)
