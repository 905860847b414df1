"""Bars of one recipe are the bench's times, and wait for their prediction (laws)."""

import re

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import etched
from pcbchem.lesson.what_is_in_the_bottle import (
    recipe_prediction,
    recipes_panel,
    water_prediction,
)
from pcbchem.lesson.what_is_in_the_bottle.recipes import LONGEST

PEROXIDES = (0.30, 0.12, 0.06, 0.03)


@pytest.fixture(scope="module")
def panel():
    return recipes_panel(recipe_prediction(), water_prediction())


def bench_time(acid, peroxide):
    """3 : 1 : 1 on 27 cm² in 5.56 mL per cm², put together apart from the page [s]."""
    inputs = Inputs(
        Bottle.labelled("HCl", acid),
        Bottle.labelled("H2O2", peroxide),
        (3, 1, 1),
        Board(area=27e-4),
        Tray(),
        150 / 27 / 100,
        "elsewhere",
    )
    return etched(inputs).run.band("time_to_clear")


@pytest.mark.parametrize("acid", [0.3145, 0.10])
def test_law_bars_are_the_bench_s_times(panel, acid):
    drawing, said = panel.picture_and_words(acid=f"{100 * acid:g}", predicted="-")
    bars = drawing.parts["bars"]
    for place, peroxide in enumerate(PEROXIDES):
        band = bench_time(acid, peroxide)
        length = np.ptp(bars.bars[place].get_xy()[:, 0]) * 60
        assert length == pytest.approx(float(band.middle), rel=1e-6)
        drawn = ": foams hot" if peroxide > 0.12 else ""
        assert bars.names[place].get_text() == f"{100 * peroxide:g} % peroxide{drawn}"
    times = [float(bench_time(acid, peroxide).middle) for peroxide in PEROXIDES]
    assert times == sorted(times) and times[-1] < LONGEST
    assert len(re.findall(r" % peroxide(?:: foams hot)? \d", said.alt)) == len(PEROXIDES)


def test_law_the_words_give_every_bar_and_its_band(panel):
    drawing, said = panel.picture_and_words(acid="31.45", predicted="-")
    for words in drawing.parts["bars"].words[: len(PEROXIDES)]:
        assert words.get_text() in said.readout and words.get_text() in said.alt


def test_law_what_the_planner_refuses_is_said(panel):
    """10 % acid with 3 % peroxide: too many plausible baths never clear."""
    drawing, said = panel.picture_and_words(acid="10", predicted="-")
    assert drawing.parts["bars"].words[3].get_text().endswith("refused")
    assert "never clear" in said.readout
    _, said = panel.picture_and_words(acid="31.45", predicted="-")
    assert "refused" not in said.readout.lower()


@pytest.mark.parametrize("narrow", [False, True])
def test_law_nothing_of_the_answer_shows_before(panel, narrow):
    drawing, said = panel.picture_and_words(narrow, acid="31.45", predicted=None)
    bars = drawing.parts["bars"]
    lengths = [np.ptp(bar.get_xy()[:, 0]) for bar in bars.bars if bar.get_visible()]
    assert len(lengths) == 2 and lengths[1] == 0
    assert "49" not in f"{said.readout} {said.alt}" and not said.notes
    assert drawing.parts["title"].get_text().endswith("how long?")


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("acid", ["31.45", "10"])
@pytest.mark.parametrize("predicted", [None, "-", "alone", "page"])
def test_law_no_words_overlap_or_leave_the_picture(panel, narrow, acid, predicted):
    drawing, _ = panel.picture_and_words(narrow, acid=acid, predicted=predicted)
    drawing.png(1.0)
    no_overlap(drawing, seen_words(drawing))


def test_law_a_guess_is_a_hollow_bar_where_it_was_asked(panel):
    drawing, said = panel.picture_and_words(acid="31.45", predicted="recipe")
    bars = drawing.parts["bars"]
    assert bars.bars[4].get_visible() and bars.bars[4].get_facecolor()[3] == 0 and not said.guess
    drawing, said = panel.picture_and_words(acid="10", predicted="recipe")
    assert not bars.bars[4].get_visible() and "acid of 31.45 %" in said.guess


def test_law_it_waits_for_the_first_question_too():
    first, second = water_prediction(), recipe_prediction()
    first.forget()
    second.forget()
    panel = recipes_panel(second, first)
    second.choice, second.reason = "page", "water"
    assert panel.is_waiting()
    first.choice = "-"
    assert not panel.is_waiting()
