"""How much copper stays dissolved over a solid: second models, laws, and what is refused."""

import numpy as np
import pytest
from helpers.expected import rows
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import between
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.reaction.chemistry.precipitate import (
    ATMOSPHERE,
    HENRY,
    SALT,
    SOLIDS,
    constants,
    copper_band,
    copper_left,
    dissolved_carbonate,
    hydrogen_ion,
    hydroxide_ion,
    onset,
    sludge,
)

COPPER = 1000 * MOLAR_MASS["Cu"]
WITHIN = 4.0
"""The formula promises a factor of so much over a solid that is known, at pH 7 to 11 [-]."""
MADE_OF = {"malachite": {"carbonate": 100.0}, "basic chloride": {"chloride": 100.0}}


def left(pH, solid, **dissolved):
    """Copper left over a solid with what it is made of [mol/m³]."""
    return copper_left(pH, solid, **{**MADE_OF.get(solid, {}), **dissolved})


# ---- second sources


@pytest.mark.parametrize("row", rows("copper_solubility"), ids=lambda row: f"{row['solid']}")
def test_second_source_arithmetic_on_the_same_constants(row):
    # the rows are written to three figures
    here = COPPER * copper_left(float(row["pH"]), row["solid"], 0.0, float(row["carbonate_mol_m3"]))
    assert here == pytest.approx(float(row["copper_mg_L"]), rel=0.012)


SPECIATED = [row for row in rows("copper_over_solids") if row["solid"] != "hydroxide"]
"""Three databases with constants of their own, and with activities at 0.1 mol/L of salt."""


@pytest.mark.parametrize("row", SPECIATED, ids=lambda row: f"{row['solid']} {row['pH']}")
def test_second_source_within_a_factor_of_four(row):
    here = copper_left(
        float(row["pH"]),
        row["solid"],
        float(row["chloride_mol_m3"]),
        float(row["carbonate_mol_m3"]),
    )
    assert 1 / WITHIN < here / float(row["copper_mol_m3"]) < WITHIN, row["source"]


@pytest.mark.parametrize("row", rows("copper_over_solids", solid="hydroxide"))
def test_second_source_hydroxide_lies_between_aged_and_fresh(row):
    aged, fresh = copper_band(float(row["pH"]), float(row["chloride_mol_m3"]))
    assert aged < float(row["copper_mol_m3"]) < SALT[1] * fresh


def test_second_source_there_are_rows_of_each_solid():
    assert {row["solid"] for row in SPECIATED} == {"oxide", "malachite", "basic chloride"}
    assert len(SPECIATED) == 40 and len(rows("copper_solubility")) == 60


def test_second_source_carbonic_acid_as_a_handbook_has_it():
    # pH of pure water under air of 400 ppm: 5.6 (textbook); there acid and bicarbonate are alike
    _, bicarbonate, _ = dissolved_carbonate(5.6, 400e-6 * ATMOSPHERE)
    assert bicarbonate == pytest.approx(hydrogen_ion(5.6), rel=0.2)


def test_as_printed_constants_are_those_of_the_table():
    assert constants()["fresh"] == 9.36 and constants()["ammine 4"] == 12.35
    # Ksp 2.2e-20 (CRC), as the constant with H+
    assert constants()["aged"] == pytest.approx(28 + np.log10(2.2e-20), abs=5e-4)


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        *(("hydroxo 1", -7.951), ("hydroxo 2", -16.201), ("hydroxo 3", -26.602)),
        *(("hydroxo 4", -39.742), ("dimer", -10.432), ("chloro 1", 0.83), ("chloro 2", 0.60)),
    ],
)
def test_second_source_what_binds_copper_is_of_one_set(name, printed):
    # Thermoddem V1.10, all after Powell 2007; to two decimals here
    assert constants()[name] == pytest.approx(printed, abs=0.005)
    row = next(row for row in tables.read("copper_constants") if row["name"] == name)
    assert "IUPAC Technical Report" in tables.cited(row)
    # nobody read the report itself
    assert "as read in two databases" in tables.cited(row)


def test_second_source_chloride_binds_as_another_set_has_it():
    # by hand, 1 + β1 [Cl] + β2 [Cl]²: WATEQ4F has 0.43 and 0.16, half as much
    bound = copper_left(4.0, "oxide", chloride=1000.0) / copper_left(4.0, "oxide")
    assert bound == pytest.approx(1 + 10**0.83 + 10**0.60, rel=1e-2)
    assert 1 < bound / (1 + 10**0.43 + 10**0.16) < 2.5


# ---- laws


def test_law_fresh_keeps_ten_times_as_much_as_aged_and_aged_more_than_oxide():
    pH = np.linspace(4.5, 12, 40)
    fresh, aged, oxide = (np.asarray(copper_left(pH, solid)) for solid in SOLIDS[:3])
    assert np.all(fresh > aged) and np.all(aged > oxide)
    # all but the dimer are in proportion to free copper
    assert np.allclose((fresh / aged)[pH > 9], 10 ** (9.36 - 8.342), rtol=0.02)


@pytest.mark.parametrize("solid", ["fresh", "aged", "oxide"])
def test_law_it_falls_to_a_least_and_rises_again_in_lye(solid):
    curve = np.asarray(copper_left(np.linspace(0, 14, 400), solid))
    least = int(curve.argmin())
    assert 0 < least < 399
    assert np.all(np.diff(curve[: least + 1]) < 0) and np.all(np.diff(curve[least:]) > 0)


@pytest.mark.parametrize("pH", [3.0, 7.0, 9.0])
@pytest.mark.parametrize("what", ["chloride", "carbonate", "ammonia"])
def test_law_what_binds_copper_only_ever_raises_it(what, pH):
    amounts = np.array([0.0, 1.0, 10.0, 100.0, 1000.0])
    curve = np.asarray(copper_left(pH, **{what: amounts}))
    assert np.all(np.diff(curve) >= 0)
    assert curve[0] == copper_left(pH)


def test_law_copper_is_the_sum_of_its_forms():
    # by hand at pH 9 over fresh hydroxide: every term by itself, in mol/L
    free = 10 ** (9.36 - 18)
    hydroxo = sum(
        free * 10 ** (log + count * 9)
        for count, log in enumerate((-7.95, -16.2, -26.6, -39.74), start=1)
    )
    dimer = 2 * free**2 * 10 ** (-10.43 + 18)
    assert copper_left(9.0) == pytest.approx(1000 * (free + hydroxo + dimer), rel=1e-12)


def test_law_malachite_and_basic_chloride_are_in_balance_with_their_ions():
    # nothing binds copper at pH 5 but chloride: the product of the ions is the constant
    free = left(5.0, "basic chloride", chloride=1.0) / 1000
    assert np.log10(free**2 * 1e-3 / 1e-15) == pytest.approx(7.34, abs=0.02)
    # of malachite in mol/L: CO3 from its share of the carbonate that is left
    _, _, ion = dissolved_carbonate(6.0, ATMOSPHERE)
    whole = sum(dissolved_carbonate(6.0, ATMOSPHERE))
    few = left(6.0, "malachite", carbonate=1.0)
    free = few / 1000 / (1 + 10 ** (6.75) * ion / whole * 1e-3 + 10**-1.95)
    product = free**2 * 1e-16 * ion / whole * 1e-3
    assert np.log10(product) == pytest.approx(-33.16, abs=0.02)


@given(st.floats(0, 7), st.floats(1, 2000))
def test_law_no_more_carbonate_than_an_atmosphere_dissolves(pH, carbonate):
    most = sum(dissolved_carbonate(pH, ATMOSPHERE))
    capped = copper_left(pH, "malachite", carbonate=min(carbonate, float(most)))
    assert copper_left(pH, "malachite", carbonate=carbonate) == pytest.approx(capped, rel=1e-9)


def test_law_below_pH_6_more_soda_changes_nothing():
    # of 0.5 mol/L 0.05 stay at pH 6, and 0.034 at pH 4
    assert sum(dissolved_carbonate(4.0, ATMOSPHERE)) == pytest.approx(HENRY * ATMOSPHERE, rel=0.01)
    for pH in (4.0, 5.0, 6.0):
        assert left(pH, "malachite", carbonate=500.0) == left(pH, "malachite", carbonate=1500.0)
    assert left(9.0, "malachite", carbonate=500.0) > left(9.0, "malachite", carbonate=100.0)


def test_law_water_is_neutral_at_seven():
    assert hydrogen_ion(7.0) == hydroxide_ion(7.0) == pytest.approx(1e-4, rel=1e-12)


def test_law_the_band_holds_hydroxide_and_malachite():
    low, high = copper_band(8.0, carbonate=100.0)
    assert low == left(8.0, "malachite") < copper_left(8.0, "aged", carbonate=100.0) < high
    low, high = copper_band(8.0)
    assert (low, high) == (copper_left(8.0, "aged"), copper_left(8.0))
    # with and without side by side
    pair, _ = copper_band(8.0, carbonate=[0.0, 100.0])
    assert list(pair) == [copper_left(8.0, "aged"), left(8.0, "malachite")]


@pytest.mark.parametrize("chloride", [1000.0, 3000.0])
def test_law_the_band_is_over_hydroxide_or_malachite_and_over_basic_chloride_less_may_stay(
    chloride,
):
    # by hand, without what binds copper: 10^((7.34 − 3 pH)/2) [Cl−]^−½ over 10^(8.342 − 2 pH)
    pH = np.array([4.0, 5.0, 6.0])
    low, _ = copper_band(pH, chloride)
    under = np.asarray(copper_left(pH, "basic chloride", chloride) / low)
    by_hand = 10 ** (0.5 * 7.34 - 8.342 + 0.5 * pH) / np.sqrt(chloride / 1000)
    assert under == pytest.approx(by_hand, rel=0.02) and np.all(under < 0.05)
    # where carbonate stays, malachite keeps less than it: there the low end is a least one
    pH = np.linspace(6.0, 10.0, 30)
    for carbonate in (100.0, 500.0):
        low, _ = copper_band(pH, 0.0, carbonate)
        assert np.all(low < np.asarray(copper_left(pH, "basic chloride", chloride, carbonate)))
    assert "over hydroxide or malachite" in copper_band.__doc__


@pytest.mark.parametrize("solid", SOLIDS)
@pytest.mark.parametrize("copper", [500.0, 86.0, 1.0, 0.01])
def test_law_at_its_onset_just_so_much_stays_dissolved(solid, copper):
    dissolved = MADE_OF.get(solid, {})
    pH = onset(copper, solid, **dissolved)
    assert copper_left(pH, solid, **dissolved) == pytest.approx(copper, rel=2e-3)


def test_law_less_copper_begins_to_fall_later_and_next_to_none_never():
    starts = onset([500.0, 86.0, 1.0, 0.01, 1e-5])
    assert np.all(np.diff(starts[:4]) > 0) and np.isinf(starts[4])
    assert onset(500.0, "aged") < onset(500.0, "fresh")


def test_law_mud_is_by_its_formula():
    # Cu(OH)2, CuO, half of Cu2(OH)2CO3 and of Cu2(OH)3Cl, from atomic weights [g/mol]
    Cu, O, H, C, Cl = 63.546, 15.999, 1.008, 12.011, 35.45
    grams = {
        "fresh": Cu + 2 * (O + H),
        "aged": Cu + 2 * (O + H),
        "oxide": Cu + O,
        "malachite": (2 * Cu + 5 * O + 2 * H + C) / 2,
        "basic chloride": (2 * Cu + 3 * (O + H) + Cl) / 2,
    }
    assert {solid: sludge(1.0, solid) for solid in SOLIDS} == pytest.approx(
        {solid: mass / 1000 for solid, mass in grams.items()}, rel=1e-4
    )


def test_law_draws_stay_draws_and_single_numbers_single():
    pH = between(7.0, 9.0, 20, seed=1)
    assert isinstance(copper_left(pH), Draws) and isinstance(sludge(as_draws([1.0, 2.0])), Draws)
    assert isinstance(onset(between(1.0, 500.0, 20, seed=2)), Draws)
    assert np.shape(copper_left(7.0)) == () == np.shape(onset(1.0))
    assert np.shape(copper_left([[7.0], [8.0]], chloride=[0.0, 1.0, 2.0])) == (2, 3)


REFUSED: list[Case] = [
    ("pH below", lambda: copper_left(-0.1), ("pH = -0.1", "0 to 14")),
    ("pH above", lambda: copper_left(14.5), ("pH = 14.5", "0 to 14")),
    ("pH nan", lambda: copper_left(NAN), ("pH = nan", "0 to 14")),
    ("pH infinite", lambda: copper_left([7.0, INF]), ("pH = inf", "0 to 14")),
    ("pH words", lambda: copper_left("neutral"), ("pH", "not a number")),
    ("solid", lambda: copper_left(7.0, "rust"), ("solid", "'rust'", "fresh", "malachite")),
    ("chloride", lambda: copper_left(7.0, chloride=-1), ("chloride = -1", "0 to 20000 mol/m³")),
    ("carbonate", lambda: copper_left(7.0, carbonate=3e3), ("carbonate = 3000", "0 to 2000")),
    ("ammonia", lambda: copper_left(7.0, ammonia=5e3), ("ammonia = 5000", "0 to 1000")),
    ("no carbonate", lambda: copper_left(7.0, "malachite"), ("carbonate = 0", "malachite")),
    ("no chloride", lambda: copper_left(7.0, "basic chloride"), ("chloride = 0", "above 0")),
    (
        "thiourea",
        lambda: copper_left(7.0, beside=("thiourea",)),
        ("beside", "'thiourea'", "no amount is given", "hazardous-waste site"),
    ),
    ("unknown keeper", lambda: copper_left(7.0, beside=("tea",)), ("beside", "'tea'", "EDTA")),
    ("shapes", lambda: copper_left([7.0, 8.0], chloride=[1.0, 2.0, 3.0]), ("pH", "chloride")),
    ("onset of nothing", lambda: onset(0.0), ("copper = 0", "above 0 to 6000")),
    ("onset solid", lambda: onset(1.0, "mud"), ("solid", "'mud'")),
    ("onset of malachite", lambda: onset(1.0, "malachite"), ("carbonate", "above 0")),
    ("band", lambda: copper_band(15.0), ("pH = 15", "0 to 14")),
    ("sludge", lambda: sludge(-1.0), ("copper = -1", "0 to 1000 mol")),
    ("sludge solid", lambda: sludge(1.0, "wet"), ("solid", "'wet'")),
    (
        "draws of two lengths",
        lambda: copper_left(as_draws([7.0, 8.0]), chloride=as_draws([1.0, 2.0, 3.0])),
        ("pH has 2", "chloride has 3"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
