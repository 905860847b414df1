"""Published check values of the tin bath, by functions of the package.

The kind of each stands in its row; "reference" is another implementation of the same equations, and
no evidence about nature: what is, stands in the tests of the modules.
"""

import pytest
from helpers.expected import figure_of, rows

from pcbchem.bench.tin import copper_potential, tin_area, tin_killed, tin_mass

CHECKS = {
    # a kilogram on a square metre is 100 mg on a square centimetre
    "t01": lambda: 100 * tin_mass(1e-6),
    "t02": lambda: tin_area(1e-3, 84.0, 1000.0, 1e-6),
    "t03": lambda: 1000 * tin_killed(1838.0, 1.5e-4, 0.009),
    "t04": lambda: copper_potential(1000.0),
}


def test_every_row_is_asked_for():
    assert [row["id"] for row in rows("checks_tin")] == list(CHECKS)


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    assert float(CHECKS[check]()) == figure_of("checks_tin", check)
