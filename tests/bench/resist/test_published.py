"""Published check values of lye and acetone, by functions of the package.

The kind of each stands in its row; "reference" is another implementation of the same equations, and
no evidence about nature: what is, stands in the tests of the modules.
"""

import pytest
from helpers.expected import figure_of, rows

from pcbchem.bench.resist import heat_of_solution, lye_left, lye_strength, pH_of_lye, warming
from pcbchem.bench.resist.ageing import RATE_LOG, RATE_RISE
from pcbchem.bench.waste import gas_volume
from pcbchem.matter.properties import density

CHECKS = {
    "r01": lambda: lye_strength(1.5e-3, 0.1198),
    "r02": lambda: density(298.15, NaOH=0.011857),
    "r03": lambda: density(283.15, NaOH=0.015747),
    "r04": lambda: heat_of_solution(4.0) / 1000,
    "r05": lambda: warming(0.010, 1.0),
    "r06": lambda: pH_of_lye(312.5),
    # the row names no transfer: a plate of 14 cm in air of 0.1 m/s has 2.2 mm/s
    "r07": lambda: lye_left(312.8, 3 * 3600, 0.02, 1.2e-4, 2.2e-3),
    "r08": lambda: 10 ** (RATE_LOG - RATE_RISE / 298.15),
    # 20 mL of acetone, 15.8 g, in a cupboard of 0.1 m³: over its lower limit of 2.5 %
    "r09": lambda: 100 * gas_volume(0.0158 / 0.05808) / 0.1,
}


def test_every_row_is_asked_for():
    assert [row["id"] for row in rows("checks_resist")] == list(CHECKS)


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    assert float(CHECKS[check]()) == figure_of("checks_resist", check)
