"""What a bath gives to the air and what it leaves: the plan's own numbers, and never a permission.

Laws.
"""

import re
import time

import pytest
from helpers.amounts import amounts
from helpers.workshop import INPUTS, REFUSED

from pcbchem.bench.air import bath_source, breathe
from pcbchem.bench.hazards.words import NO_FIGURE
from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.waste.label import label_of
from pcbchem.common.band import Band
from pcbchem.lesson.bath import planned
from pcbchem.lesson.pages import AIR_PAGE, WASTE_PAGE
from pcbchem.lesson.plan_a_bath import answer
from pcbchem.lesson.plan_a_bath.around import (
    LEAST,
    MIST,
    NOT_WORKED_OUT,
    SITE,
    WHERE,
    around,
    parts_per_million,
    vapour_line,
    waste_line,
)

LONGEST = 0.1
"""What a move of the planner may take longer for it [s]."""


@pytest.fixture(scope="module")
def plans(mild):
    """Plans that may be mixed, of several kinds."""
    changes = {
        "with care": {"acid": (31, "%"), "parts": (3, 1, 1), "total_mL": 300, "place": "GB"},
        "in the US": {"place": "US"},
        "bubbled": {"agitation": "bubbled"},
        "two portions": {"parts": (1, 1, 1), "second": (50, 1)},
        "cold": {"air_C": 2, "bottles_C": 5},
    }
    made = {name: planned(**INPUTS | changed, draws=60) for name, changed in changes.items()}
    return {"mild": mild, **made, "class": for_class(mild)}


NAMES = ("mild", "with care", "in the US", "bubbled", "two portions", "cold", "class")


@pytest.mark.parametrize("name", NAMES)
def test_law_the_vapour_is_that_of_the_bath_outdoors(plans, name):
    plan = plans[name]
    air = breathe(bath_source(plan), "open air", 600, T_air=float(plan.inputs.tray.T_air))
    assert f" {parts_per_million(air.band('near'))}. " in vapour_line(plan)


@pytest.mark.parametrize("name", NAMES)
def test_law_where_to_work_follows_each_ppm_and_the_site_each_volume(plans, name):
    vapour, waste = around(plans[name])
    assert vapour.startswith(NO_FIGURE)
    ppm = vapour.index(" ppm")
    assert ppm < vapour.index(WHERE) and vapour.count(" ppm") == 1
    assert "Acid vapour alone" in vapour and "chlorine and mist have no figure" in vapour
    assert waste.index("g/L of copper") < waste.index(SITE)
    assert vapour.endswith(f"({AIR_PAGE}).") and waste.endswith(f"({WASTE_PAGE}).")


@pytest.mark.parametrize("name", NAMES)
def test_law_nothing_is_called_safe(plans, name):
    words = " ".join(around(plans[name]))
    assert not re.search(r"\b(safe|harmless|fine|enough|allowed|may be|below a limit)\b", words)


@pytest.mark.parametrize("name", NAMES)
def test_law_the_waste_is_what_is_left_of_the_plan(plans, name):
    plan, line = plans[name], waste_line(plans[name])
    grams = plan.bands["copper_used"].middle * 63.546e-3
    low, *more = (float(number) for number in re.findall(r"([\d.]+)(?= g/L| to)", line))
    assert low * 0.95 <= grams <= max([low, *more]) * 1.05
    assert f"**{label_of(plan).head}**" in line
    volume = re.search(r"(\d+) mL", line)
    if plan.school:
        assert volume is None and amounts(line) == []
    else:
        total = sum(stage.volume for stage in plan.stages) * 1e6
        assert float(volume[1]) == pytest.approx(total, abs=3)


def test_the_us_reads_ounces_too(plans):
    assert "150 mL (5.1 US fl oz)" in waste_line(plans["in the US"])


def test_a_bath_that_throws_droplets_says_that_they_are_not_counted(plans):
    # each does that holds peroxide, by its own fizz
    for name in NAMES:
        assert MIST in vapour_line(plans[name]), name


def test_law_a_refused_plan_has_neither_line():
    for changed in (REFUSED, {**INPUTS, "parts": (1, 1, 0)}):
        plan = planned(**changed, draws=60)
        assert plan.refused
        for each in (plan, for_class(plan)):
            assert around(each) == [NO_FIGURE]
            page = answer.head(each)
            assert "ppm" not in page and "Waste:" not in page
        for line in (vapour_line, waste_line):
            with pytest.raises(ValueError, match="nobody mixes this"):
                line(plan)


def test_a_bath_too_warm_for_its_vapour_says_so_and_where_to_work(plans, monkeypatch):
    from pcbchem.common.limits import InputError
    from pcbchem.lesson.plan_a_bath import around as module

    def too_warm(plan):
        raise InputError("T of the bath", "it must be 0 to 60 °C", value=340.0)

    monkeypatch.setattr(module, "bath_source", too_warm)
    line = vapour_line(plans["mild"])
    assert line.startswith(NOT_WORKED_OUT) and WHERE in line and "ppm" not in line


@pytest.mark.parametrize(
    ("shares", "words"),
    [
        ((1e-9, 3e-9), "0.001 to 0.003 ppm"),
        ((1.2e-6, 1.4e-6), "1 ppm"),
        ((1e-13, 3e-10), "0.00001 to 0.0003 ppm"),
        ((1e-14, 1e-13), f"below {LEAST:.5f} ppm"),
    ],
)
def test_a_share_of_the_air_is_written_to_one_figure(shares, words):
    assert parts_per_million(Band.of(shares, 2)) == words


def test_the_page_says_both_lines_after_reasons_and_before_its_end(plans):
    page = answer.head(plans["mild"])
    assert page.index(answer.NO_LIMIT) < page.index("What you breathe") < page.index("Waste:")
    assert f'<a href="{AIR_PAGE}">' in page and f'<a href="{WASTE_PAGE}">' in page
    assert page.endswith("</p>\n")


def test_law_both_lines_cost_a_move_of_the_planner_little(plans):
    around(plans["mild"])  # tables are read once
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        around(plans["mild"])
        times.append(time.perf_counter() - begin)
    assert min(times) < LONGEST
