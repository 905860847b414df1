"""Published check values of bottles, their heat and the law on them, each asserted through a function of the package.

Kind of each: transcription where the package is built from the same figure, validation where it comes from another
source or from arithmetic with other numbers, law where it follows from a definition.
"""

import csv
from pathlib import Path

import pytest

from pcbchem import Board, Foil, Solution, mix
from pcbchem.bench.bottle.titration import SODA, by_lye, by_permanganate
from pcbchem.common import tables
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import MOLAR_MASS, heat_capacity
from pcbchem.reaction.chemistry.heat import reaction_enthalpy
from pcbchem.reaction.chemistry.stoichiometry import needed, reactions

with (Path(__file__).parents[1] / "published" / "checks_safety.csv").open(
    encoding="utf-8", newline=""
) as file:
    PRINTED = {row["id"]: row for row in csv.DictReader(file)}

T20, LITRE, MILLILITRE = 293.15, 1e-3, 1e-6


def volumes(grams_per_100_mL):
    """Volumes of oxygen at 0 °C that a peroxide of so many grams in 100 mL gives."""
    return strength(
        mass_fraction_from(grams_per_100_mL, "% w/v", "H2O2"), "volume strength", "H2O2"
    )


def titrated():
    """1 mL of peroxide that takes just 1 mL of 0.02 mol/L permanganate."""
    found = by_permanganate(
        concentration=20.0, titrant=MILLILITRE, sample=MILLILITRE, end_point=0.0
    )
    return Solution.of(volume=MILLILITRE, T=T20, H2O2=found.middle), found


def milligrams_for_permanganate():
    sample, _ = titrated()
    return sample.mass * sample.mass_fraction("H2O2") * 1e6


def millilitres_of_oxygen():
    _, found = titrated()
    return strength(found.middle, "volume strength", "H2O2")  # of 1 mL


def acid_by_lye(check, percent):
    """mol/L of an acid of so many per cent; and the printed mol/L, as the lye that it takes, is that per cent."""

    def found():
        printed = float(PRINTED[check]["expected"])
        titrated = by_lye(
            concentration=1000.0, titrant=printed * MILLILITRE, sample=10 * MILLILITRE, dilution=10
        )
        assert 100 * titrated.middle == pytest.approx(percent, rel=float(PRINTED[check]["rel_tol"]))
        return strength(percent / 100, "mol/L", "HCl")

    return found


def kilojoules(name):
    return reaction_enthalpy(name)[0] / 1e3


def warmer_for_one_percent():
    """K, if 1 % by weight of peroxide falls apart in a bath that keeps its heat and counts as water."""
    return -reaction_enthalpy("decomposition")[0] / MOLAR_MASS["H2O2"] * 0.01 / heat_capacity(T20)


def mixture_A():
    parts = (
        Solution.of(volume=2 * LITRE, T=T20, H2O2=0.03),
        Solution.of(volume=LITRE, T=T20, HCl=0.3145),
    )
    return 100 * mix(*parts).mass_fraction("HCl")


def peroxide_of_a_foil():
    """mmol for each cm² of a foil of 35 µm of copper at 8.96 g/cm³."""
    copper = Board(area=1e-4, foil=Foil(areal_mass=35e-6 * 8960)).copper
    return needed(copper)["H2O2"] * 1000


def public_limit(place, substance):
    return next(
        float(row["limit_percent_by_weight"])
        for row in tables.read("public_limits")
        if (row["place"], row["substance"]) == (place, substance)
    )


def grams_of_soda():
    each = reactions()["neutralisation by soda"].coefficients
    return SODA * 1000 * float(each["Na2CO3(s)"] / each["H+(aq)"])


CHECKS = {
    "vol_3pct": ("validation", lambda: volumes(3)),
    "vol_6pct": ("validation", lambda: volumes(6)),
    "vol_30pct": ("validation", lambda: strength(0.30, "volume strength", "H2O2")),
    "kmno4_mg": ("validation", milligrams_for_permanganate),
    "kmno4_o2": ("validation", millilitres_of_oxygen),
    "hcl_c10": ("validation", acid_by_lye("hcl_c10", 10)),
    "hcl_c20": ("validation", acid_by_lye("hcl_c20", 20)),
    "hcl_c30": ("validation", acid_by_lye("hcl_c30", 30)),
    "hcl_c36": ("validation", acid_by_lye("hcl_c36", 36)),
    "na2co3_1mol": ("law", grams_of_soda),
    "heat_nahco3": ("validation", lambda: kilojoules("neutralisation by bicarbonate")),
    "heat_decomp": ("validation", lambda: kilojoules("decomposition")),
    "dT_decomp": ("validation", warmer_for_one_percent),
    "dT_boil": ("validation", lambda: (100 - 20) / warmer_for_one_percent()),
    "heat_etch": ("validation", lambda: kilojoules("direct")),
    "scl_A_h": ("law", mixture_A),
    "foil": ("law", peroxide_of_a_foil),
    "eu_h2o2": ("transcription", lambda: public_limit("EU", "H2O2")),
    "gb_hcl": ("transcription", lambda: public_limit("GB", "HCl")),
}


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    row, (kind, value) = PRINTED[check], CHECKS[check]
    # the source and the tolerance stand in the row; 0 is the same number
    assert float(value()) == pytest.approx(
        float(row["expected"]), rel=float(row["rel_tol"]), abs=1e-12
    ), f"{kind}: {row['source']}"
