"""The two panels: nothing of the answer before a prediction, the truth after the second (laws)."""

import re
from typing import ClassVar

import numpy as np
import pytest
from helpers.lesson_panels import (
    LessonPanels,
    settings,
)

from pcbchem.lesson.test_an_offcut import (
    funnel_panel,
    numbers,
    times_panel,
    times_prediction,
    width_prediction,
)
from pcbchem.lesson.test_an_offcut.numbers import START, WAYS, seen, truth
from pcbchem.lesson.test_an_offcut.words import HOW
from pcbchem.page.widget.quiz import KEPT


class TestPanels(LessonPanels):
    guesses: ClassVar = {"funnel": (None, "-"), "timed": (None, "-")}
    untold = "truth"
    few, spoken = 11, 13
    copied: ClassVar = {"funnel": 45, "timed": 45}
    numbers, slow = numbers, ("made_up", "calibrate", "etched")
    first, second = (width_prediction, funnel_panel), (times_prediction, times_panel)
    answered = ("wide", "worse")
    moved: ClassVar = {"offcuts": 5.0, "number": 9.0}
    starts: ClassVar = {"offcuts": 1, "number": START}

    def check_before(self, name, drawing, words):
        """Whatever the controls: the rows that are known, all others grey and empty."""
        funnel = drawing.parts["funnel"]
        assert [band.get_visible() for band in funnel.chart.bands].count(True) == 1
        assert len(funnel.crosses.get_xydata()) == 0 and not funnel.truth_words.get_text()

    def states(self, name, panel):
        places = settings(panel, 7)
        return [(values, guess) for guess in self.guesses[name] for values in places]

    def look_up(self, waiting):
        """On one bench: another one is made up and counted."""
        for panel in waiting.values():
            for values in settings(panel):
                panel.picture_and_words(False, predicted="-", **{**values, "number": 7.0})


@pytest.mark.parametrize("offcuts", range(1, 7))
def test_law_so_many_rows_as_offcuts_and_the_truth(funnel, offcuts):
    drawing, words = funnel.picture_and_words(False, predicted="-", offcuts=float(offcuts))
    parts = drawing.parts["funnel"]
    assert [band.get_visible() for band in parts.chart.bands].count(True) == 3 + offcuts
    crosses = parts.crosses.get_xydata()
    assert [60 * time for time, _ in crosses] == pytest.approx(list(seen(START)[:offcuts]))
    assert [place for _, place in crosses] == list(range(3, 3 + offcuts))
    assert set(parts.truth.get_xdata()) == {truth(START) / 60}
    assert f"The truth, {truth(START) / 60:.1f} min" in words.readout


@pytest.mark.parametrize("way", HOW)
@pytest.mark.parametrize("number", [1, START, 12])
def test_law_the_truth_stands_in_the_second_panel(timed, way, number):
    drawing, words = timed.picture_and_words(False, predicted="-", timed=way, number=float(number))
    funnel = drawing.parts["funnel"]
    assert set(funnel.truth.get_xdata()) == {truth(number) / 60}
    assert funnel.crosses.get_xydata()[:, 0] == pytest.approx(np.array(seen(number, way)) / 60)
    assert f"The truth, {truth(number) / 60:.1f} min" in words.readout


def test_law_a_prediction_is_judged_where_it_was_asked(timed):
    assert timed.picture_and_words(False, predicted="wide", timed="looks")[1].guess == ""
    assert "two minutes" in timed.picture_and_words(False, predicted="wide", timed="care")[1].guess
    assert timed.picture_and_words(False, predicted="-", timed="care")[1].guess == ""


def test_law_a_copy_has_benches_enough_and_not_too_many(funnel, timed):
    """Every second bench and offcut: the same benches in both."""
    assert [len(settings(panel)) for panel in (funnel, timed)] == [45, 45]
    numbers_of = [{values["number"] for values in settings(panel)} for panel in (funnel, timed)]
    assert numbers_of[0] == numbers_of[1] and START in numbers_of[0]


def test_law_each_way_to_choose_is_one_that_was_counted():
    assert set(HOW) < set(WAYS)


def test_law_the_first_panel_tells_nothing_of_the_second_question():
    KEPT.clear()
    first = width_prediction()
    words = funnel_panel(first).picture_and_words(False, predicted="-")[1]
    told = f"{words.notes} {words.readout} {words.alt}"
    assert "look" not in told and "late" not in told.replace("plate", "")


@pytest.mark.parametrize("make", [funnel_panel, times_panel])
def test_law_nothing_leads_a_pupil_to_an_offcut(make):
    KEPT.clear()
    invites = re.compile(r"[Yy]our own|Stop at two|planner")
    for school in (True, False):
        panel = make(school=school)
        notes = panel.picture_and_words(False, predicted="-")[1].notes
        assert bool(invites.search(notes)) != school
