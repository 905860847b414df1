"""What a bath gives to the air, what it leaves and what adjoins it: never a permission.

Laws.
"""

import re
import time

import numpy as np
import pytest
from helpers.amounts import amounts
from helpers.workshop import INPUTS, REFUSED

from pcbchem import Board, Bottle, Tray, plan
from pcbchem.bench.air import bath_source, breathe
from pcbchem.bench.hazards.caution import strongest
from pcbchem.bench.hazards.words import NO_FIGURE
from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.waste.label import label_of
from pcbchem.common.band import Band
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_words import BATH_AFTER, BATH_BEFORE
from pcbchem.lesson.pages import AIR_PAGE, DEVELOPER_PAGE, WASTE_PAGE
from pcbchem.lesson.plan_a_bath import answer
from pcbchem.lesson.plan_a_bath.around import (
    BOTTLE,
    LEAST,
    MORE,
    NOBODY_MIXES,
    NOT_WORKED_OUT,
    OPEN,
    SITE,
    WHERE,
    around,
    parts_per_million,
    vapour_line,
    waste_line,
)
from pcbchem.lesson.what_goes_into_the_air import numbers as page_09

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


def breathed(plan, T_air=None):
    """Write acid and peroxide half a metre from a plan's bath in the open air [ppm]."""
    if T_air is None:
        T_air = float(plan.inputs.tray.T_air)
    source = bath_source(plan)
    airs = [breathe(source, "open air", 600, gas=gas, T_air=T_air) for gas in ("HCl", "H2O2")]
    return [parts_per_million(air.band("near")) for air in airs]


def in_python(tray, volume=150e-6):
    """Plan the mild bath as in Python, where a tray need not say how warm its air is."""
    bottles = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    board = Board(area=27e-4)
    return plan(*bottles, (0, 1, 1), board, volume=volume, place="EU", tray=tray, draws=60)


def numbers(line):
    """Read the four ends of a line's two bands [ppm]."""
    return [float(end) for pair in re.findall(r"([\d.]+) to ([\d.]+) ppm", line) for end in pair]


@pytest.mark.parametrize("name", NAMES)
def test_law_the_vapour_is_that_of_the_bath_outdoors(plans, name):
    for ppm, words in zip(breathed(plans[name]), ("acid", "no smell,"), strict=True):
        assert f"{words} {ppm}" in vapour_line(plans[name])


@pytest.mark.parametrize("name", NAMES)
def test_law_where_to_work_stands_before_each_ppm_and_the_site_after_each_volume(plans, name):
    vapour, waste, _ = around(plans[name])
    assert vapour.startswith(NO_FIGURE)
    assert vapour.index(WHERE) < vapour.index(" ppm") and vapour.count(" ppm") == 2
    assert "Vapour alone, outdoors" in vapour and "nobody has measured chlorine" in vapour
    assert "peroxide, which has no smell, " in vapour and "\n" not in vapour
    assert waste.index("g/L of copper") < waste.index(OPEN) < waste.index(SITE)
    assert vapour.endswith(f"({AIR_PAGE}).") and waste.endswith(f"({WASTE_PAGE}).")


@pytest.mark.parametrize("name", NAMES)
def test_law_the_baths_before_and_after_are_named_as_on_the_card(plans, name):
    *_, beside = around(plans[name])
    assert beside.index(BATH_BEFORE) < beside.index(BATH_AFTER)
    assert beside.endswith(f"[page 11]({DEVELOPER_PAGE}).") and "\n" not in beside
    # short: both sentences of the card and where to read on, and no figure but the page's own
    assert len(re.findall(r"\w+", BATH_BEFORE + BATH_AFTER)) < 40
    assert not re.search(r"\d", beside.replace("page 11", "").replace(DEVELOPER_PAGE, ""))


@pytest.mark.parametrize(
    ("acid", "is_said"), [(5.0, False), (10.0, False), (10.5, True), (31.0, True)]
)
def test_law_strong_acid_is_said_to_matter_more_than_the_tray(acid, is_said):
    plan = planned(**INPUTS | {"acid": (acid, "%"), "parts": (3, 1, 1)}, draws=60)
    assert (BOTTLE in around(plan)[0]) == is_said
    weakest = planned(**REFUSED, draws=60)
    assert (BOTTLE in around(weakest)[0]) == (strongest(weakest.inputs.acid) > 0.11)


def test_law_page_09_says_why_the_bottle_matters_more():
    """Spilt, it gives more than the workshop's bath in every case; not so a bottle of 10 %."""
    assert page_09.breathed(10.0).bottle_times.high < 1
    for acid in (15.0, 31.0):
        air = page_09.breathed(acid)
        assert np.all(air.spill.values > air.bath.values)


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


def test_every_bath_fizzes_and_says_that_droplets_are_not_counted(plans):
    for name in NAMES:
        assert MORE in vapour_line(plans[name]), name
    assert MORE.startswith("Droplets may outweigh both")


def test_law_a_large_tray_gives_more_and_all_words_stay():
    small, large = (vapour_line(in_python(Tray(open_area=area), 2e-3)) for area in (0.05, 0.5))
    # the gas of ten times the surface: nearly ten times as much, and one figure rounds it
    for less, more in zip(numbers(small), numbers(large), strict=True):
        assert 2.5 < more / less < 20
    assert re.sub(r"[\d.]+ to [\d.]+", "", small) == re.sub(r"[\d.]+ to [\d.]+", "", large)
    # nothing is told of which is more, or that either is little
    assert not re.search(r"\b(largest|little|only|hardly|less|no more)\b", large)


def test_air_that_nobody_described_is_that_of_a_room():
    # None is the default of a tray in Python: 20 °C
    undescribed = in_python(Tray())
    assert undescribed.inputs.tray.T_air is None
    assert breathed(undescribed, 293.15) == breathed(in_python(Tray(T_air=293.15)))
    for ppm in breathed(undescribed, 293.15):
        assert ppm in vapour_line(undescribed)


def test_law_air_as_an_array_is_refused_with_the_plan():
    # so the line never meets one
    with pytest.raises(ValueError, match=r"tray: T_air.*1 number each"):
        in_python(Tray(T_air=[283.15, 293.15]))


def test_law_a_refused_plan_has_no_number_and_looks_no_milder():
    for changed in (REFUSED, {**INPUTS, "parts": (1, 1, 0)}):
        plan = planned(**changed, draws=60)
        assert plan.refused
        for each in (plan, for_class(plan)):
            (line,) = around(each)
            assert line.startswith(f"{NO_FIGURE} {WHERE} {NOBODY_MIXES}")
            assert "the more chlorine" in line and line.endswith(f"({AIR_PAGE}).")
            # but for the page's own number
            assert not re.search(r"\d", line.replace("page 09", "").replace(AIR_PAGE, ""))
            page = answer.head(each)
            assert "ppm" not in page and "Waste:" not in page
            # nothing goes into a bath that nobody mixes, and nothing comes out of it
            for words in (BATH_BEFORE, BATH_AFTER, DEVELOPER_PAGE):
                assert words not in line and words not in page
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
    assert line.startswith(f"{WHERE} {NOT_WORKED_OUT} {MORE}") and "ppm" not in line


@pytest.mark.parametrize(
    ("shares", "words"),
    [
        ((1e-9, 3e-9), "0.001 to 0.003 ppm"),
        ((1e-6, 1e-6), "1 ppm"),
        ((1e-13, 3e-10), "0.00001 to 0.0003 ppm"),
        # outwards: neither end says less than there is
        ((6.9e-11, 3.37e-10), "0.00006 to 0.0004 ppm"),
        ((9.9e-7, 1.04e-6), "0.9 to 2 ppm"),
        ((2e-11, 2e-11), "0.00002 ppm"),
        ((1e-14, 1e-13), f"below {LEAST:.5f} ppm"),
    ],
)
def test_a_share_of_the_air_is_written_to_one_figure(shares, words):
    assert parts_per_million(Band.of(shares, 2)) == words


def test_the_page_says_every_line_after_reasons_and_before_its_end(plans):
    page = answer.head(plans["mild"])
    assert page.index(answer.NO_LIMIT) < page.index("What you breathe") < page.index("Waste:")
    assert page.index("Waste:") < page.index(BATH_BEFORE) < page.index(BATH_AFTER)
    for address in (AIR_PAGE, WASTE_PAGE, DEVELOPER_PAGE):
        assert f'<a href="{address}">' in page, address
    assert page.endswith("</p>\n")


def test_law_the_lines_cost_a_move_of_the_planner_little(plans):
    around(plans["mild"])  # tables are read once
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        around(plans["mild"])
        times.append(time.perf_counter() - begin)
    assert min(times) < LONGEST
