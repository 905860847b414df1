"""Limits: as printed, dated, each with its source; and the mass of a gas in air."""

import re

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem.bench.air import PPM, limits, mass_per_air
from pcbchem.bench.air.exposure import AT_WORK, MEASURES, SUBSTANCES
from pcbchem.bench.hazards import PLACES
from pcbchem.common import tables

T25 = 298.15
PUBLISHED = {
    "v19": lambda: 1e6 * mass_per_air(1e-6, "HCl", T25),
    "ppm_hcl": lambda: 1e6 * mass_per_air(1e-6, "HCl", T25),
    "ppm_cl2": lambda: 1e6 * mass_per_air(0.5e-6, "Cl2", T25),
    "idlh_hcl_mg": lambda: 1e6 * mass_per_air(45e-6, "HCl", T25),
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id):
    # Second source: named in the tables of checks
    table = "checks_vapour_air" if id == "v19" else "checks_safety"
    assert PUBLISHED[id]() == figure_of(table, id)


def kinds(place, substance):
    """Limits of a place in ppm, by kind, the strictest of each."""
    strictest = {}
    for limit in limits(place, substance):
        ppm = limit.value / PPM
        strictest[limit.kind] = min(ppm, strictest.get(limit.kind, np.inf))
    return {kind: round(ppm, 6) for kind, ppm in strictest.items()}


ANY_HCL = {"dangerous at once": 45, "discomfort": 1.8, "smell": 0.77}


def test_as_printed_limits_of_acid_gas():
    assert kinds("EU", "HCl") == {"8 h": 5, "15 min": 10, **ANY_HCL}
    assert kinds("GB", "HCl") == {"8 h": 1, "15 min": 5, **ANY_HCL}
    assert kinds("US", "HCl") == {"ceiling": 2, **ANY_HCL}
    us = [limit.value / PPM for limit in limits("US", "HCl") if limit.kind == "ceiling"]
    assert us == pytest.approx([5, 2])


def test_law_elsewhere_the_strictest_goes():
    assert kinds("elsewhere", "HCl") == {"8 h": 1, "15 min": 5, "ceiling": 2, **ANY_HCL}
    for substance in SUBSTANCES:
        there = kinds("elsewhere", substance)
        for place in PLACES[:3]:
            for kind, ppm in kinds(place, substance).items():
                assert there[kind] <= ppm
        assert len(limits("elsewhere", substance)) == len(there)
    # stricter ones of single countries count, too
    assert kinds("elsewhere", "H2O2")["8 h"] == 0.5
    strictest = {limit.kind: limit.value for limit in limits("elsewhere", "copper mist")}
    assert strictest == pytest.approx({"8 h": 0.01e-6, "15 min": 2e-6})


def test_law_of_equal_limits_elsewhere_takes_one_that_was_read():
    (limit,) = [limit for limit in limits("elsewhere", "CO2") if limit.kind == "8 h"]
    assert limit.value == pytest.approx(5000e-6) and limit.status == "published"


def test_law_a_limit_of_another_country_goes_for_no_named_place():
    for place in PLACES[:3]:
        assert {limit.place for limit in limits(place)} == {place, "any"}


def test_as_printed_limits_of_peroxide_and_chlorine():
    assert kinds("EU", "H2O2") == {"dangerous at once": 75}
    assert kinds("US", "H2O2") == {"8 h": 1, "dangerous at once": 75}
    assert kinds("US", "Cl2")["15 min"] == 0.4 and kinds("US", "Cl2")["dangerous at once"] == 10


def test_law_every_row_of_the_table_has_a_year_a_source_and_a_status():
    keys = {row["key"] for row in tables.read("sources")}
    for row in tables.read("air_limits"):
        assert re.fullmatch(r"19[89]\d|20[012]\d", row["year"]), row
        assert row["source"] in keys and row["status"] in ("published", "from memory"), row
        # the year in which a page was read is not passed off as that of its figure
        assert (row["year"] == "2026") == row["words"].endswith(", as read"), row


def test_law_every_limit_of_a_place_says_whose_it_is():
    every = [limit for place in PLACES for limit in limits(place)]
    assert {limit.status for limit in every} == {"published", "from memory"}
    for limit in every:
        assert limit.kind in MEASURES and limit.substance in SUBSTANCES
        assert limit.as_of.startswith("20") and limit.words and limit.source
        assert limit.low <= limit.value <= limit.high
        assert limit.source.startswith("from memory") == (limit.status == "from memory")


def test_as_printed_a_place_prints_its_limits_one_a_line():
    for place in PLACES:
        rows = {
            (row["substance"], row["kind"], row["words"]): row for row in tables.read("air_limits")
        }
        for limit in limits(place):
            row = rows[limit.substance, limit.kind, limit.words]
            value = (
                row["limit"] if row["limit"] == row["high"] else f"{row['low']} to {row['high']}"
            )
            whose = f"{value} {row['unit']}; {row['words']}, {row['year']} ("
            assert str(limit).startswith(
                f"{limit.substance}, {limit.kind}: {whose}{row['status']}: "
            )
            assert str(limit).endswith(f": {tables.source(row['source'])})")


def test_law_a_solid_has_no_ppm():
    # copper mist by mass alone: ppm of a solid mean nothing
    for row in tables.read("air_limits"):
        assert (row["unit"] == "mg/m³") == (row["substance"] == "copper mist")
    printed = {limit.kind: limit.value for limit in limits("GB", "copper mist")}
    assert printed == pytest.approx({"8 h": 1e-6, "15 min": 2e-6})
    assert {limit.unit for limit in limits("elsewhere", "copper mist")} == {"kg/m³"}


def test_as_printed_discomfort_is_where_it_begins_and_no_dose_that_anybody_may_have():
    # AEGL-1: above it the general population, susceptible people too, could feel discomfort
    above = [limit for limit in limits("EU") if limit.kind == "discomfort"]
    assert [limit.substance for limit in above] == ["HCl", "Cl2"]
    for limit in above:
        assert limit.words.startswith("AEGL-1: above this anybody, children and asthmatics too, ")
        assert "may feel it" in limit.words
    assert "most people" not in MEASURES


def test_law_what_hurts_before_its_line_says_so():
    for limit in limits("EU"):
        if limit.kind == "dangerous at once":
            assert "hurts long before that" in limit.words
        if (limit.substance, limit.kind) == ("Cl2", "smell"):
            assert limit.words.startswith("who smells it leaves")


def test_law_mean_limits_are_stricter_the_longer():
    for place in PLACES:
        for substance in SUBSTANCES:
            there = kinds(place, substance)
            if "8 h" in there and "15 min" in there:
                assert there["8 h"] < there["15 min"] < there.get("dangerous at once", np.inf)
    assert AT_WORK == tuple(MEASURES)[:3]


def test_law_mass_goes_with_share_and_cold():
    assert mass_per_air(2e-6, "HCl") == pytest.approx(2 * mass_per_air(1e-6, "HCl"), rel=1e-12)
    assert mass_per_air(PPM, "HCl", 280.0) > mass_per_air(PPM, "HCl", 300.0)


REFUSED: list[Case] = [
    ("a place", lambda: limits("Mars"), ("place", "Mars", "EU, GB, US, elsewhere")),
    ("any", lambda: limits("any"), ("place", "any", "EU, GB, US, elsewhere")),
    ("a number", lambda: limits(1), ("place", "1", "EU, GB")),
    ("a substance", lambda: limits("EU", "argon"), ("substance", "argon", "HCl, Cl2")),
    ("ppm as they are", lambda: mass_per_air(5.0, "HCl"), ("share", "5", "0 to 1 mol/mol")),
    ("below 0", lambda: mass_per_air(-1e-6, "HCl"), ("share", "-1e-06", "0 to 1 mol/mol")),
    ("no share", lambda: mass_per_air(NAN, "HCl"), ("share", "nan", "0 to 1 mol/mol")),
    ("a solid", lambda: mass_per_air(1e-6, "NaOH"), ("gas", "NaOH", "HCl, H2O2")),
    ("mass in °C", lambda: mass_per_air(1e-6, "HCl", 25), ("T", "25", "273.15 to 333.15")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
