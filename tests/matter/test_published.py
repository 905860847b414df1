"""Published figures about solutions, each asserted through a function of the package: validation."""

from collections.abc import Callable

import pytest
from helpers.expected import rows
from scipy.optimize import brentq

from pcbchem import Solution, mix
from pcbchem.common.units import celsius, mL
from pcbchem.matter.labels import T_60F, mass_fraction_from, strength
from pcbchem.matter.properties import MOLAR_MASS, density, heat_capacity, water_density

T20 = celsius(20)
EXPECTED = {row["id"]: row for row in rows("checks_solutions")}


def molarity(w: float, substance: str = "HCl", T: float = T20) -> float:
    return float(Solution.of(volume=1e-3, T=T, **{substance: w}).concentration(substance)) / 1000


def specific_gravity(baume: float) -> float:
    return float(
        density(T_60F, HCl=mass_fraction_from(baume, "degrees Baume", "HCl")) / water_density(T_60F)
    )


def acid_percent(d15_4: float) -> float:
    return 100 * float(brentq(lambda w: density(celsius(15), HCl=w) - d15_4 * 999.97, 0, 0.4))


def from_volumes(volumes: float, notation: str) -> float:
    return float(strength(mass_fraction_from(volumes, "volume strength", "H2O2"), notation, "H2O2"))


def strong_acid_needed() -> float:
    def miss(mass: float) -> float:
        strong = Solution.from_amounts(mass=mass, T=T20, HCl=0.30 * mass / MOLAR_MASS["HCl"])
        return (
            float(mix(strong, Solution.from_amounts(mass=32 - mass, T=T20)).mass_fraction("HCl"))
            - 0.20
        )

    return float(brentq(miss, 1, 31))


def mole_fraction(w: float) -> float:
    acid = Solution.of(volume=1e-3, T=T20, HCl=w)
    return float(acid.amount("HCl") / (acid.amount("HCl") + acid.amount("H2O")))


CHECKS: dict[str, Callable[[], float]] = {
    "C01a": lambda: molarity(0.10),
    "C01b": lambda: molarity(0.20),
    "C01d": lambda: molarity(0.32),
    "C01e": lambda: molarity(0.34),
    "C01g": lambda: molarity(0.38),
    "C02a": lambda: 10 * strength(0.10, "% w/v", "HCl"),
    "C02c": lambda: 10 * strength(0.30, "% w/v", "HCl"),
    "C02d": lambda: 10 * strength(0.36, "% w/v", "HCl"),
    "C03": lambda: molarity(0.372),
    "C04": lambda: molarity(0.37),
    "C05": lambda: strength(
        mass_fraction_from(20, "degrees Baume", "HCl"), "mol/L", "HCl", T=T_60F
    ),
    "C06a": lambda: specific_gravity(18),
    "C06b": lambda: specific_gravity(20),
    "C06c": lambda: specific_gravity(22),
    "C07a": lambda: acid_percent(1.05),
    "C07b": lambda: acid_percent(1.10),
    "C07d": lambda: acid_percent(1.16),
    "C07e": lambda: acid_percent(1.18),
    "C08a": lambda: molarity(0.30, "H2O2"),
    "C08b": lambda: molarity(0.03, "H2O2"),
    "C08d": lambda: molarity(0.06, "H2O2"),
    "C09a": lambda: from_volumes(10, "% w/v"),
    "C09b": lambda: from_volumes(10, "mol/L"),
    "C09c": lambda: 2 * from_volumes(10, "mol/L"),
    "C10a": lambda: from_volumes(30, "mol/L"),
    "C10b": lambda: from_volumes(30, "% w/v"),
    "C11": lambda: Solution.of(volume=100 * mL, T=T20, H2O2=0.30).amount("H2O2") / 2 * 24.465,
    "C11b": lambda: strength(0.30, "volume strength", "H2O2"),
    "C21": lambda: heat_capacity(T20, HCl=0.1683),
    "C21c": lambda: heat_capacity(T20, HCl=0.30),
    "C22b": lambda: mole_fraction(0.22),
    "C32a": strong_acid_needed,
    "C32c": lambda: 32 - strong_acid_needed(),
}


@pytest.mark.parametrize("id", CHECKS)
def test_published(id: str) -> None:
    # Validation against the printed figure; its source stands in tests/published/checks_solutions.csv.
    row = EXPECTED[id]
    absolute, relative = (
        None if row[f"{kind}_tolerance"] == "-" else float(row[f"{kind}_tolerance"])
        for kind in ("absolute", "relative")
    )
    assert absolute or relative
    assert CHECKS[id]() == pytest.approx(
        float(row["expected"]), abs=absolute or 0.0, rel=relative or 0.0
    )
