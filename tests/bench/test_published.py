"""Published check values of bottles, their heat and the law on them, by functions of the package.

Kind of each: as printed where the package is built from the same figure, second source where it
comes from another source or from arithmetic with other numbers, law where it follows from a
definition.
"""

import pytest
from helpers.expected import rows

from pcbchem import Board, Foil, Solution, mix
from pcbchem.bench.bottle import by_lye, by_permanganate
from pcbchem.bench.bottle.titration import SODA
from pcbchem.bench.waste import gas_volume
from pcbchem.bench.waste.label import limit_sums
from pcbchem.common import tables
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import MOLAR_MASS, heat_capacity
from pcbchem.reaction.chemistry.heat import reaction_enthalpy
from pcbchem.reaction.chemistry.neutralise import base_mass, carbon_dioxide
from pcbchem.reaction.chemistry.precipitate import constants, onset
from pcbchem.reaction.chemistry.stoichiometry import needed, reactions

PRINTED = {row["id"]: row for row in rows("checks_safety")}
T20, LITRE, MILLILITRE = 293.15, 1e-3, 1e-6
AS_PRINTED, SECOND_SOURCE, LAW = "as printed", "second source", "law"


def volumes(grams_per_100_mL):
    """Volumes of oxygen at 0 °C that a peroxide of so many grams in 100 mL gives."""
    mass_fraction = mass_fraction_from(grams_per_100_mL, "% w/v", "H2O2")
    return strength(mass_fraction, "volume strength", "H2O2")


def volumes_of_30_percent():
    return strength(0.30, "volume strength", "H2O2")


def one_mL_by_permanganate():
    """The strength of peroxide of which 1 mL takes just 1 mL of 0.02 mol/L permanganate."""
    return by_permanganate(concentration=20.0, titrant=MILLILITRE, sample=MILLILITRE, end_point=0.0)


def milligrams_for_permanganate():
    """Peroxide in that millilitre [mg]."""
    sample = Solution.of(volume=MILLILITRE, T=T20, H2O2=one_mL_by_permanganate().middle)
    return sample.mass * sample.mass_fraction("H2O2") * 1e6


def millilitres_of_oxygen():
    """Oxygen that the millilitre gives [mL]."""
    return strength(one_mL_by_permanganate().middle, "volume strength", "H2O2")


def acid_of(check, percent):
    """Concentration of an acid of so many per cent [mol/L].

    And the other way: the printed concentration, as the lye that it takes, is that per cent.
    """
    row = PRINTED[check]
    # 1 mol/L of lye, for 10 mL of the acid diluted tenfold: as many mL as there are mol/L
    reading = by_lye(
        concentration=1000.0,
        titrant=float(row["expected"]) * MILLILITRE,
        sample=10 * MILLILITRE,
        dilution=10,
    )
    assert 100 * reading.middle == pytest.approx(percent, rel=float(row["rel_tol"]))
    return strength(percent / 100, "mol/L", "HCl")


def kilojoules(name):
    return reaction_enthalpy(name)[0] / 1e3


def warmer_for_one_percent():
    """By how much 1 % by weight of peroxide that falls apart warms a bath of water [K]."""
    heat_per_kg = -reaction_enthalpy("decomposition")[0] / MOLAR_MASS["H2O2"]
    return heat_per_kg * 0.01 / heat_capacity(T20)


def percent_that_boils():
    """Peroxide [% by weight] that warms a bath from 20 to 100 °C."""
    return (100 - 20) / warmer_for_one_percent()


def mixture_A():
    """Two litres of 3 % peroxide and one of 31.45 % acid."""
    peroxide = Solution.of(volume=2 * LITRE, T=T20, H2O2=0.03)
    acid = Solution.of(volume=LITRE, T=T20, HCl=0.3145)
    return mix(peroxide, acid)


def acid_in_mixture_A():
    """Acid in it [% by weight]."""
    return 100 * mixture_A().mass_fraction("HCl")


def limit_sum_of_mixture_A(code):
    """How far it is to the limits of a class, added up [-]."""
    shares = {name: float(share) for name, share in mixture_A().fractions.items()}
    return limit_sums(shares)[code]


def peroxide_of_a_foil():
    """Peroxide for each cm² of a foil of 35 µm of copper at 8.96 g/cm³ [mmol]."""
    copper = Board(area=1e-4, foil=Foil(areal_mass=35e-6 * 8960)).copper
    return needed(copper)["H2O2"] * 1000


def public_limit(place, substance):
    """Strongest that the public may hold [% by weight]."""
    for row in tables.read("public_limits"):
        if (row["place"], row["substance"]) == (place, substance):
            return float(row["limit_percent_by_weight"])
    raise AssertionError(f"no limit for {substance} in {place}")


def grams_of_soda():
    """Soda for a mole of acid [g]."""
    soda = reactions()["neutralisation by soda"].coefficients
    return SODA * 1000 * float(soda["Na2CO3(s)"] / soda["H+(aq)"])


def litres_of_carbon_dioxide():
    """Gas of a mole of acid with baking soda, at 20 °C [L]."""
    return 1000 * gas_volume(carbon_dioxide("NaHCO3", 1.0), T20)


def free_copper():
    """Copper at pH 7 over aged hydroxide that nothing binds [mg/L]."""
    return 10 ** (constants()["aged"] - 2 * 7) * MOLAR_MASS["Cu"] * 1e6


def litres_of_water():
    """Water that brings half a mole of copper to 2.07 mg/L [L]."""
    return 0.5 * MOLAR_MASS["Cu"] * 1e6 / 2.07


CHECKS = {
    "vol_3pct": (SECOND_SOURCE, lambda: volumes(3)),
    "vol_6pct": (SECOND_SOURCE, lambda: volumes(6)),
    "vol_30pct": (SECOND_SOURCE, volumes_of_30_percent),
    "kmno4_mg": (SECOND_SOURCE, milligrams_for_permanganate),
    "kmno4_o2": (SECOND_SOURCE, millilitres_of_oxygen),
    "hcl_c10": (SECOND_SOURCE, lambda: acid_of("hcl_c10", 10)),
    "hcl_c20": (SECOND_SOURCE, lambda: acid_of("hcl_c20", 20)),
    "hcl_c30": (SECOND_SOURCE, lambda: acid_of("hcl_c30", 30)),
    "hcl_c36": (SECOND_SOURCE, lambda: acid_of("hcl_c36", 36)),
    "nahco3_1mol": (LAW, lambda: 1000 * base_mass("NaHCO3", 1.0, peroxide=0.0)),
    "na2co3_1mol": (LAW, grams_of_soda),
    "co2_1mol": (LAW, litres_of_carbon_dioxide),
    "bath_nahco3": (LAW, lambda: 1000 * base_mass("NaHCO3", 1.0, 0.5, peroxide=0.0)),
    "dilute": (LAW, litres_of_water),
    "ph_onset": (AS_PRINTED, lambda: onset(500.0, "aged")),
    "cu_pH7": (AS_PRINTED, free_copper),
    "heat_nahco3": (SECOND_SOURCE, lambda: kilojoules("neutralisation by bicarbonate")),
    "heat_decomp": (SECOND_SOURCE, lambda: kilojoules("decomposition")),
    "dT_decomp": (SECOND_SOURCE, warmer_for_one_percent),
    "dT_boil": (SECOND_SOURCE, percent_that_boils),
    "heat_etch": (SECOND_SOURCE, lambda: kilojoules("direct")),
    "scl_A_h": (LAW, acid_in_mixture_A),
    "scl_A_irr": (SECOND_SOURCE, lambda: limit_sum_of_mixture_A("H315")),
    "scl_A_corr": (SECOND_SOURCE, lambda: limit_sum_of_mixture_A("H314")),
    "foil": (LAW, peroxide_of_a_foil),
    "eu_h2o2": (AS_PRINTED, lambda: public_limit("EU", "H2O2")),
    "gb_hcl": (AS_PRINTED, lambda: public_limit("GB", "HCl")),
}


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    row = PRINTED[check]
    kind, value = CHECKS[check]
    # the source and the tolerance stand in the row; 0 is the same number
    expected = pytest.approx(float(row["expected"]), rel=float(row["rel_tol"]), abs=1e-12)
    assert float(value()) == expected, f"{kind}: {row['source']}"
