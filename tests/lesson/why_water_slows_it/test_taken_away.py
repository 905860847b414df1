"""Three rows without one thing each; they wait for the prediction (laws)."""

import re

import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.lesson.why_water_slows_it import numbers, still_prediction, taken_away_panel


@pytest.mark.parametrize("narrow", [False, True])
def test_law_nothing_shows_before_a_prediction(narrow):
    panel = taken_away_panel(still_prediction())
    drawing, words = panel.picture_and_words(narrow, predicted=None)
    seen = " ".join(text.get_text() for text in seen_words(drawing))
    said = f"{words.readout} {words.alt} {words.notes} {seen}"
    # neither numbers nor what to think of; the ticks of the axis alone
    assert not re.search(r"\d|bubbles|warmth|running", said), said


@pytest.mark.parametrize("narrow", [False, True])
def test_law_each_row_is_what_the_bench_says(rows_panel, narrow):
    drawing, words = rows_panel.picture_and_words(narrow)
    rows = drawing.parts["rows"]
    for dot, name in zip(rows.dots, numbers.TAKEN_AWAY, strict=True):
        middle = float(numbers.cost(name).middle)
        assert dot.get_xdata()[0] == pytest.approx(middle)
        assert f"without {name} ×{middle:.1f}" in words.alt
    assert rows.line.get_xdata()[0] == pytest.approx(float(numbers.cost().middle))
    words = seen_words(drawing)
    assert sum("without" in text.get_text() for text in words) >= 3
    no_overlap(drawing, words)


def test_law_the_title_names_what_explains_most(rows_panel):
    drawing, _ = rows_panel.picture_and_words(False)
    costs = {name: float(numbers.cost(name).middle) for name in numbers.TAKEN_AWAY}
    assert min(costs, key=costs.get) == "bubbles"
    assert "Without bubbles" in drawing.parts["title"].get_text()
