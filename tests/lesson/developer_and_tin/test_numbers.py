"""What page 11 counts is the bench's, and a second reckoning agrees (laws)."""

import itertools

import numpy as np
import pytest

from pcbchem.bench.resist import lye_after
from pcbchem.lesson.developer_and_tin import numbers
from pcbchem.lesson.developer_and_tin.numbers import BEAKER, BOTTLE, DISH, MOST_HOURS, lye_left


def test_law_what_is_left_is_the_bench_s_in_every_case():
    for vessel in (DISH, BEAKER, BOTTLE):
        for hours in (0, 1, 6, 12):
            bench = np.asarray(lye_after(numbers.fresh(), 3600.0 * hours, vessel))
            assert lye_left(vessel, hours).lye.values == pytest.approx(bench * 0.039997, rel=1e-4)


def test_second_source_the_dish_by_two_resistances():
    """Marched apart: 0.6 to 3 mm/s through the air, and √(k D) in water, with 420 to 1400 ppm.

    k 5748 L/mol/s at 20 °C (Pinsent 1956), D 1.67e-9 m²/s and 3.9e-4 mol/m³/Pa (CRC, Sander).
    """
    left = lye_left().lye.values / 0.039997
    marched = []
    for ppm, air in ((420, 0.6e-3), (700, 1.5e-3), (1400, 3e-3)):
        lye, step = 312.5, 60.0
        for _ in range(6 * 60):
            skin = np.sqrt(5.748 * lye * 1.67e-9) * 3.9e-4 * 8.314 * 293.15
            flux = ppm * 1e-6 * 101_325 / 8.314 / 293.15 / (1 / air + 1 / skin)
            lye = max(lye - 2 * flux * 0.02 / 120e-6 * step, 0.0)
        marched.append(lye)
    most, middle, least = marched
    assert np.percentile(left, 1) < middle < np.percentile(left, 99)
    assert middle == pytest.approx(float(np.median(left)), rel=0.35)
    assert least <= left.min() and most >= np.percentile(left, 90)


def test_law_it_only_goes_down_and_the_deeper_lose_less():
    for vessel in (DISH, BEAKER, BOTTLE):
        values = np.array([lye_left(vessel, h).lye.values for h in range(MOST_HOURS + 1)])
        assert np.all(np.diff(values, axis=0) <= 0)
    for hours in range(1, MOST_HOURS + 1):
        dish, beaker, bottle = (lye_left(v, hours).lye.values for v in (DISH, BEAKER, BOTTLE))
        assert np.all(dish < beaker) and np.all(beaker < bottle)


def test_law_the_workshop_s_board_and_bath():
    """Both faces of 75 × 60 mm are wet; 40 % of one of them is copper."""
    assert numbers.FACES == pytest.approx(90e-4)
    assert numbers.traces() == pytest.approx(18e-4)
    # under what the bath began with: 1.8 mol/L before the etch
    assert 1200 < np.median(numbers.peroxide()) < 1840


def test_second_source_the_coating():
    """18 cm² of 1 µm of tin by hand: 7.29 g/cm³ and 118.71 g/mol (CRC): 0.11 mmol."""
    least, most = numbers.coating()
    assert most == pytest.approx(18 * 1e-4 * 7.29 / 118.71, rel=5e-3)
    assert least == pytest.approx(0.3 * most)


def test_law_more_dishes_carry_less_in_every_case():
    killed = [numbers.carried(dishes).killed.values for dishes in numbers.RINSES]
    for more, less in itertools.pairwise(killed):
        assert np.all(less < more / 50)
