"""What is in a mixture, by weights and densities of handbooks (second source, laws)."""

import csv
from pathlib import Path

import pytest

from pcbchem.lesson.what_is_in_the_bottle.numbers import (
    FIRST,
    MILD,
    PEROXIDES,
    STRONG,
    Mixture,
    bottles,
    content,
    plan_of,
    recipe,
    second,
)

PUBLISHED = Path(__file__).parents[2] / "published"
HCL, H2O2 = 36.461, 34.0147
"""IUPAC molar masses [g/mol]."""
REFUSED = {(31.45, 6), (31.45, 12), (31.45, 30), (10, 30)}
"""Bottles of which B is refused [% by weight]: read from the table of rules, as below."""


def handbook_density(name, work, **columns):
    """The one density [kg/m³] that a work prints for these columns, in a table of ours."""
    with (PUBLISHED / name).open(encoding="utf-8") as file:
        rows = [
            float(row["density_kg_m3"])
            for row in csv.DictReader(file)
            if work in row["source"]
            and all(row[column] == value for column, value in columns.items())
        ]
    assert len(rows) == 1, (name, columns)
    return rows[0]


def by_weight(mixture, acid_density, peroxide_density):
    """Shares by weight and moles in a litre, from the weight of each part; volumes add."""
    water, acid, peroxide = mixture.parts
    weights = (998.2 * water, acid_density * acid, peroxide_density * peroxide)
    in_acid, in_peroxide = weights[1] * mixture.acid / 100, weights[2] * mixture.peroxide / 100
    whole, litres = sum(weights), sum(mixture.parts)
    return (
        1 - (in_acid + in_peroxide) / whole,
        in_acid / HCL / litres * 1000,
        in_peroxide / H2O2 / litres * 1000,
    )


@pytest.mark.parametrize("mixture", [FIRST, second(31.45, 3), second(10, 12)])
def test_second_source_both_mixtures_from_handbook_densities(mixture):
    """Acid 31.45 % by the trade's Baumé table, 10 % by CRC, peroxide by Perry: all from memory."""
    acid = {
        31.45: 1158.9,
        10: handbook_density("hcl_density.csv", "CRC", mass_fraction="0.1", T_C="20"),
    }
    peroxide = {3: 1009.4, 12: 1042.5, 30: 1112.2}  # 3 and 30 % between Perry's rows
    water, HCl, peroxide_mol = by_weight(mixture, acid[mixture.acid], peroxide[mixture.peroxide])
    inside = content(mixture)
    assert inside.shares["H2O"] == pytest.approx(water, abs=0.002)
    # volumes shrink by a few parts in a thousand, which the sum of volumes leaves out
    assert inside.acid == pytest.approx(HCl, rel=0.006)
    assert inside.peroxide == pytest.approx(peroxide_mol, rel=0.006)


def test_law_no_water_poured_in_and_as_watery():
    """The surprise of the page."""
    first, other = content(FIRST).shares["H2O"], content(second(STRONG, 3)).shares["H2O"]
    assert abs(first - other) < 0.005
    assert second(STRONG, 3).parts[0] == 0 and FIRST.parts[0] == 3


@pytest.mark.parametrize("peroxide", PEROXIDES)
@pytest.mark.parametrize("acid", [STRONG, MILD])
def test_law_the_planner_refuses_what_its_rules_say(acid, peroxide):
    assert plan_of(second(acid, peroxide)).refused == ((acid, peroxide) in REFUSED)


def test_law_shares_are_all_there_is():
    for peroxide in PEROXIDES:
        shares = content(second(MILD, peroxide)).shares
        assert sum(shares.values()) == pytest.approx(1)


def test_law_what_is_poured_is_a_litre_a_part():
    volumes = [float(bottle.volume) * 1000 for bottle in bottles(FIRST)]
    assert volumes == pytest.approx([3, 1, 1])
    assert len(bottles(second(10, 3))) == 2, "no water is poured"


@pytest.mark.parametrize(
    "acid, peroxide, drawn", [(24.9, 12, False), (25, 3, True), (10, 12.1, True), (10, 3, False)]
)
def test_law_strong_bottles_are_drawn_only(acid, peroxide, drawn):
    assert Mixture((0, 1, 1), acid, peroxide).only_drawn == drawn


def test_law_one_recipe_is_many_baths():
    """Peroxide of the label's share of the strong one, whatever the acid."""
    for acid in (STRONG, MILD):
        strong, weak = (content(recipe(acid, peroxide)).peroxide for peroxide in (30, 3))
        # 30 % weighs a tenth more a litre
        assert strong / weak == pytest.approx(10 * 1112.2 / 1009.4, rel=0.01)
