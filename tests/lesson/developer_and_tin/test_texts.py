"""What page 11 tells afterwards holds the package's numbers, each step as printed (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem.bench.resist import practice
from pcbchem.bench.tin import STOPS, copper_lost
from pcbchem.lesson.developer_and_tin import read_tin, say_now, texts, why

STEP = re.compile(r"([\d.]+)(?: mg)? ([×÷]) ([\d.]+)(?: mg/mmol| mmol/mL)? = ([\d.]*\d)")


def test_law_each_step_by_hand_is_right_as_printed():
    lye, tin = STEP.findall(why()), STEP.findall(read_tin())
    assert len(lye) == 3 and len(tin) == 2
    right_as_printed([*lye, *tin])
    # each goes on with what was printed before
    assert lye[1][0] == lye[2][0] == lye[0][3] and tin[1][2] == tin[0][3]


def test_second_source_the_air_that_takes_half_of_it():
    """420 ppm (outdoors, NOAA) of 41.6 mol/m³ (gas law, 20 °C): 9.4 mmol are in 0.54 m³."""
    air = float(re.search(r"([\d.]+) m³ of outdoor air hold so much", why())[1])
    assert air == pytest.approx(9.4e-3 / (420e-6 * 101_325 / 8.314462618 / 293.15), abs=0.051)


def test_law_what_practice_says_is_said():
    develops = next(row for row in practice("positive") if row.word == "develops")
    assert f"{develops.low:g} to {develops.high:g} g/L develop film" in why()
    assert "What lye does to film is common practice." in texts.sources()


def test_law_where_tin_stops_and_what_it_costs():
    low, high, whole, cost = re.search(
        r"at ([\d.]+) to ([\d.]+) µm, .* ([\d.]+) µm of it costs ([\d.]+) µm of copper", read_tin()
    ).groups()
    assert [float(low), float(high)] == pytest.approx([1e6 * end for end in STOPS])
    assert float(cost) == pytest.approx(1e6 * float(copper_lost(1e-6 * float(whole))), abs=0.0051)


def test_second_source_the_vinegar():
    """5 g of acetic acid in 100 mL at 60.05 g/mol; 0.3125 mol/L in 10 mL: 3.75 mL of it."""
    fresh, low, high, most, least = re.search(
        r"Fresh developer takes ([\d.]+) mL of .* mark: ([\d.]+) to ([\d.]+) mL, .* Over "
        r"([\d.]+) or under ([\d.]+)",
        say_now(),
    ).groups()
    acid = 50 / 60.05
    assert float(fresh) == pytest.approx(0.3125 * 10 / acid, rel=0.02)
    # all of it soda counts half: no air does more
    assert float(least) == pytest.approx(float(fresh) / 2, abs=0.051)
    assert float(least) < float(low) < float(high) <= float(most) < float(fresh)


def test_law_it_is_not_tried_and_says_so():
    assert "Not tried by us" in texts.by_vinegar() and "sealed goggles" in texts.by_vinegar()
