"""Six apparent orders, drawn as powers; those that tell the answer wait (laws)."""

import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.lesson.how_sure_is_it import orders_panel
from pcbchem.lesson.how_sure_is_it.orders import KNOWN, orders

ROWS = (None, "roomy", "shaken", "rocked", "still", "strong")


@pytest.fixture(scope="module")
def panel():
    return orders_panel()


def test_law_rows_are_the_bench_s_ratios_on_an_axis_of_orders(panel, bench):
    drawing, said = panel.picture_and_words(False, predicted="-")
    rows = drawing.parts["rows"]
    for place, name in list(enumerate(ROWS))[1:]:
        ratio = bench[name].ratio
        assert rows.dots[place].get_xdata()[0] == pytest.approx(float(ratio.middle[1]))
        x = rows.bands[place].get_xy()[:, 0]
        assert (x.min(), x.max()) == pytest.approx((float(ratio.low[1]), float(ratio.high[1])))
        assert rows.words[place].get_text() in said.alt
    assert rows.line.get_xdata()[0] == 2, "order 1 is strength alone"
    assert [tick.get_text().split("\n") for tick in rows.axes.get_xticklabels()] == [
        ["1", "×2"],
        ["2", "×4"],
        ["3", "×8"],
        ["4", "×16"],
    ]


def test_law_only_what_was_said_shows_before(panel):
    drawing, said = panel.picture_and_words(False, predicted=None)
    written = [text.get_text() for text in drawing.parts["rows"].words]
    known = [name in KNOWN for name in orders()]
    assert [bool(text) for text in written] == known
    assert said.alt.count("predict first") == known.count(False) and not said.notes


def test_the_layers_ends_are_not_called_a_band_of_baths(panel):
    _, said = panel.picture_and_words(False, predicted="-")
    assert "8 in 10 plausible baths; for the layers, the ends of what was seen: two" in said.alt


def test_law_strong_bottles_say_what_they_are(panel):
    drawing, _ = panel.picture_and_words(False, predicted="-")
    last = drawing.parts["rows"].axes.get_yticklabels()[-1].get_text()
    assert "strong" in last and "never mixed" in last


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("predicted", [None, "-"])
def test_law_no_words_overlap(panel, narrow, predicted):
    drawing, _ = panel.picture_and_words(narrow, predicted=predicted)
    drawing.png(1.0)
    no_overlap(drawing, [*seen_words(drawing), *drawing.parts["rows"].axes.get_yticklabels()])
