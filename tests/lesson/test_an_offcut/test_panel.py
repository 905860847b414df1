"""The two panels: nothing of the answer before a prediction, the truth after the second (laws)."""

import re

import numpy as np
import pytest
from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR

from pcbchem.lesson.test_an_offcut import (
    funnel_panel,
    numbers,
    times_panel,
    times_prediction,
    width_prediction,
)
from pcbchem.lesson.test_an_offcut.numbers import START, WAYS, seen, truth
from pcbchem.lesson.test_an_offcut.words import HOW
from pcbchem.page.export.kept import step_lists
from pcbchem.page.widget.quiz import KEPT, forget_all

WHICH = ("funnel", "timed")


def settings(panel, every=1):
    """The settings of a live copy, or every so many of them."""
    places = [{}]
    for name, values in step_lists(panel.controls, panel.most_copied).items():
        places = [{**place, name: value} for place in places for value in values]
    return places[::every]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", WHICH)
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """Whatever the controls: the rows that are known, all others grey and empty."""
    panel = request.getfixturevalue(which)
    for values in settings(panel, 11):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        funnel = drawing.parts["funnel"]
        assert [band.get_visible() for band in funnel.chart.bands].count(True) == 1
        assert len(funnel.crosses.get_xydata()) == 0 and not funnel.truth_words.get_text()
        texts = " ".join(text.get_text() for text in seen_words(drawing))
        assert "truth" not in f"{texts} {words.alt}"


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


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", WHICH)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    for guess in (None, "-"):
        for values in settings(panel, 7):
            drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
            no_overlap(drawing, seen_words(drawing))


def test_law_moving_a_slider_of_a_bench_only_looks_up(funnel, timed, monkeypatch):
    for panel in (funnel, timed):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **{**values, "number": 7.0})
    for name in ("made_up", "calibrate", "etched"):
        monkeypatch.setattr(numbers, name, None)
    for panel in (funnel, timed):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **{**values, "number": 7.0})


def test_law_a_copy_has_benches_enough_and_not_too_many(funnel, timed):
    """Every second bench and offcut: the same benches in both."""
    assert [len(settings(panel)) for panel in (funnel, timed)] == [45, 45]
    numbers_of = [{values["number"] for values in settings(panel)} for panel in (funnel, timed)]
    assert numbers_of[0] == numbers_of[1] and START in numbers_of[0]


def test_law_each_way_to_choose_is_one_that_was_counted():
    assert set(HOW) < set(WAYS)


def test_law_no_amount_is_said_and_nothing_leads_to_the_planner(funnel, timed):
    for panel in (funnel, timed):
        assert not panel.links
        for values in settings(panel, 13):
            drawing, words = panel.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            for text in texts:
                assert not VOLUME.search(text) and not POUR.search(text), text


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = width_prediction(), times_prediction()
    panel = times_panel(second, first)
    second.choice, second.reason = "wide", "worse"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


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


def test_law_new_pupils_find_the_controls_as_they_were():
    KEPT.clear()
    first = width_prediction()
    panel = funnel_panel(first)
    first.choice = "-"
    panel.redraw(offcuts=5.0, number=9.0)
    forget_all()
    assert panel.values == {"offcuts": 1, "number": START} and "Predict first" in panel.readout
