"""The bars of less bath are drawn to scale; before the prediction there is none (laws)."""

import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.lesson.where_the_copper_goes import boards_prediction, heat_panel
from pcbchem.lesson.where_the_copper_goes.heat import ENDS
from pcbchem.lesson.where_the_copper_goes.numbers import warmths
from pcbchem.page.widget.quiz import KEPT


def test_law_bars_and_bands_are_to_scale(heat):
    bars = heat.picture_and_words(False, predicted="-")[0].parts["bars"]
    assert bars.axes.get_xscale() == "linear" and bars.line.get_xdata()[0] == pytest.approx(45)
    for row, bar, band in zip(warmths(), bars.bars, bars.bands, strict=True):
        middle = float(row.warmest.middle) - 273.15
        assert (bar.get_xy()[:, 0].min(), bar.get_xy()[:, 0].max()) == pytest.approx(
            (ENDS[0], middle)
        )
        ends = [float(row.warmest.low) - 273.15, float(row.warmest.high) - 273.15]
        assert [band.get_xy()[:, 0].min(), band.get_xy()[:, 0].max()] == pytest.approx(ends)
        # never by colour alone
        assert bool(bar.get_hatch()) == row.refused
        assert ENDS[0] <= ends[0] and ends[1] < ENDS[1]


def test_law_it_waits_for_the_first_prediction():
    KEPT.clear()
    first = boards_prediction()
    panel = heat_panel(first)
    drawing, said = panel.picture_and_words(False)
    assert "Predict first" in said.readout and "°C" not in said.alt and not said.notes
    assert not any(artist.get_visible() for artist in drawing.parts["bars"].moving)
    first.choice = "-"
    assert "63 °C" in panel.readout and "Where the numbers come from" in panel.notes


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_words_overlap_or_leave_the_picture(heat, narrow):
    for guess in (None, "-"):
        drawing, _ = heat.picture_and_words(narrow, predicted=guess)
        no_overlap(drawing, seen_words(drawing))


def test_law_the_usual_bath_is_named_by_its_count(heat):
    bars = heat.picture_and_words(False, predicted="-")[0].parts["bars"]
    assert [name.get_text() for name in bars.names] == [
        "just enough by count, about an eighth of the workshop's bath",
        "3 times that, the planner's least",
        "the workshop's bath: 8 times that",
    ]
    assert bars.line_words.get_text() == "45 °C: lift the board out"
    ends = ("refused", "can get too warm", "left standing maybe far hotter")
    for text, end in zip(bars.words, ends, strict=True):
        assert text.get_text().endswith(end)


def test_law_a_bath_that_is_refused_shows_no_volume(heat):
    for narrow in (False, True):
        drawing, said = heat.picture_and_words(narrow, predicted="-")
        texts = [said.readout, said.alt, said.notes]
        texts += [text.get_text() for text in seen_words(drawing)]
        assert not any("mL" in text for text in texts)
