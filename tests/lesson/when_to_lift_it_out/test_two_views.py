"""A board from above and with light behind: faults can be seen, fields are told later (laws)."""

import re

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.lesson.when_to_lift_it_out import inspection_panel, trace_prediction
from pcbchem.lesson.when_to_lift_it_out.inspection import FIELD, made_up
from pcbchem.lesson.when_to_lift_it_out.two_views import (
    FROM_ABOVE,
    LIGHT_BEHIND,
    MARKS,
    pixels_of,
)
from pcbchem.page.widget.quiz import KEPT

BOARDS = range(1, 21)
FIELDS = re.compile(r"\b[A-E][1-4]\b")


def grey(colour):
    red, green, blue = colour
    return 0.299 * red + 0.587 * green + 0.114 * blue


@pytest.mark.parametrize("seed", [1, 4, 9, 20])
def test_law_each_fault_can_be_seen_with_light_behind(inspected, seed):
    """As the page shows it, at one pixel of the screen: only where a fault is, and there."""
    drawing, _ = inspected.picture_and_words(False, board=seed, faults="hidden")
    views = drawing.parts["views"]
    axes = views.images[1].axes
    board = drawing.pixels(1.0).astype(int)
    views.images[1].set_data(pixels_of(made_up(seed, has_faults=False), LIGHT_BEHIND))
    whole = drawing.pixels(1.0).astype(int)
    rows, columns = np.nonzero(np.abs(board - whole).sum(axis=2) > 100)
    # from pixels, counted from above, to mm
    points = np.column_stack([columns + 0.5, board.shape[0] - rows - 0.5])
    x, y = axes.transData.inverted().transform(points).T
    is_there = (x > 0) & (x < 75) & (y > 0) & (y < 60)
    assert is_there.any()
    columns, lines = (x[is_there] // FIELD).astype(int), (y[is_there] // FIELD).astype(int)
    seen = {f"{'ABCDE'[column]}{line + 1}" for column, line in zip(columns, lines, strict=True)}
    assert seen == set(made_up(seed).fields.values())


def test_law_the_two_views_differ_in_what_they_show_of_a_haze():
    """Hardly seen from above, plain with light behind; each kind differs in grey too."""
    board, _, haze, copper = (grey(colour) for colour in FROM_ABOVE)
    assert abs(board - haze) < 12 and abs(board - copper) > 45
    board, _, haze, copper = (grey(colour) for colour in LIGHT_BEHIND)
    assert board - haze > 80 and haze - copper > 80


def test_law_no_line_of_a_field_crosses_copper():
    board = made_up(5)
    for colours in (FROM_ABOVE, LIGHT_BEHIND):
        points = pixels_of(board, colours)
        assert (points[board.copper] == colours[3]).all()
        assert (points[board.haze & ~board.copper] == colours[2]).all()
        assert (points == colours[1]).all(axis=2).any()


@pytest.mark.parametrize("seed", BOARDS)
def test_law_fields_are_told_only_when_they_are_shown(inspected, seed):
    hidden = inspected.picture_and_words(False, board=seed, faults="hidden")[1]
    # the grid is named A to E, 1 to 4, in any case
    for text in (hidden.readout, hidden.alt):
        assert not FIELDS.search(text) and "a cut, a bridge and a haze" in text
    drawing, shown = inspected.picture_and_words(False, board=seed, faults="shown")
    views = drawing.parts["views"]
    for name, field in made_up(seed).fields.items():
        for text in (shown.readout, shown.alt, drawing.parts["title"].get_text()):
            assert f"{name} in {field}" in text
    # each fault in a shape of its own, that the title names
    by_name = {fault.name: fault for fault in made_up(seed).faults}
    assert set(by_name) == set(MARKS) and len({mark for mark, _ in MARKS.values()}) == 3
    for ring, name in zip(views.rings, (*MARKS, *MARKS), strict=True):
        assert ring.get_visible() and ring.get_marker() == MARKS[name][0]
        assert ring.get_xydata()[0].tolist() == [by_name[name].x, by_name[name].y]
        assert ring.get_markerfacecolor() == "none"
        assert f"{MARKS[name][1]} {name} in" in drawing.parts["title"].get_text()


def test_law_hidden_means_that_no_ring_is_drawn(inspected):
    drawing, _ = inspected.picture_and_words(False, faults="hidden")
    views = drawing.parts["views"]
    assert not any(artist.get_visible() for artist in views.rings)


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_words_overlap_or_leave_the_picture(inspected, narrow):
    for seed in BOARDS:
        drawing, _ = inspected.picture_and_words(narrow, board=seed, faults="shown")
        no_overlap(drawing, seen_words(drawing))


def test_law_it_waits_for_the_first_prediction():
    KEPT.clear()
    first = trace_prediction()
    panel = inspection_panel(first)
    drawing, said = panel.picture_and_words(False)
    assert "Predict first" in said.readout and not said.notes and "cut" not in said.alt
    assert not any(artist.get_visible() for artist in drawing.parts["views"].moving)
    first.choice = "-"
    assert panel.readout.startswith("Board 1") and "How to pull it" in panel.notes
