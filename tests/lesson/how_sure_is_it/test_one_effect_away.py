"""Rows of effects taken away are the bench's; the last one waits, and words say the rest (laws)."""

import re

import numpy as np
import pytest
from helpers.tray_baths import undiluted
from helpers.water_baths import VOLUME, no_overlap, seen_words

from pcbchem.bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN
from pcbchem.bench.plan.outlook import etched
from pcbchem.lesson.how_sure_is_it import taken_away_panel
from pcbchem.lesson.how_sure_is_it.one_effect_away import ALIKE, BATHS, Product, factors

NAMES = {"mild": "still", "strong": "strong"}
FACTOR = re.compile(r"×(\d[\d.]*\d|\d)")


@pytest.fixture(scope="module")
def panel():
    return taken_away_panel()


def near(*values):
    """As near as two figures are."""
    return [pytest.approx(float(value), rel=0.05) for value in values]


@pytest.mark.parametrize("bath", BATHS)
def test_law_rows_are_the_bench_s_times(panel, bench_without, bath):
    """Dots and bands in times the middle bath with all on."""
    bands = bench_without[NAMES[bath]]
    drawing, said = panel.picture_and_words(False, bath=bath, predicted="-")
    rows, first = drawing.parts["rows"], float(bands[ALL_ON].middle)
    single = [float(bands[f"without {effect}"].middle) / first for effect in TAKEN]
    whole = float(bands[ALL_OFF].middle) / first
    dots = [dot.get_xdata()[0] for dot in rows.dots]
    assert dots == pytest.approx([*single, np.prod(single), whole])
    assert rows.ends[0] < min(dots) and max(dots) < rows.ends[1]
    for place, name in enumerate([*(f"without {effect}" for effect in TAKEN), None, ALL_OFF]):
        if name:
            x = rows.bands[place].get_xy()[:, 0] * first
            ends = max(float(bands[name].low), rows.ends[0] * first), float(bands[name].high)
            assert (x.min(), x.max()) == pytest.approx(ends)
    title = drawing.parts["title"].get_text()
    printed = [float(number) for number in FACTOR.findall(title)]
    assert printed == near(np.prod(single), whole) and title in said.alt
    apart = max(np.prod(single) / whole, whole / np.prod(single))
    assert ("do not multiply" in title) == (apart > ALIKE)


@pytest.mark.parametrize("bath", BATHS)
def test_law_all_five_wait_for_a_prediction(panel, bench_without, bath):
    bands = bench_without[NAMES[bath]]
    drawing, said = panel.picture_and_words(False, bath=bath, predicted=None)
    rows = drawing.parts["rows"]
    assert not rows.words[-1].get_text() and np.isnan(rows.dots[-1].get_xdata()[0])
    assert "Predict first" in said.readout and not said.notes
    whole = float(bands[ALL_OFF].middle / bands[ALL_ON].middle)
    shown = [float(number) for number in FACTOR.findall(f"{said.readout} {said.alt}")]
    assert not any(number == pytest.approx(whole, rel=0.02) for number in shown)


def test_law_strong_bottles_say_what_they_are_here_too(panel):
    for predicted in (None, "-"):
        drawing, said = panel.picture_and_words(False, bath="strong", predicted=predicted)
        for text in (drawing.parts["title"].get_text(), said.readout, said.alt):
            assert text.startswith("Drawn only, never mixed here. ") and not VOLUME.search(text)


@pytest.mark.parametrize("multiplied, words", [(4.5, "do not"), (3.6, "nearly"), (2.0, "do not")])
def test_law_words_say_whether_factors_multiply(multiplied, words):
    assert words in Product(multiplied, 3.5).words


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("bath", BATHS)
@pytest.mark.parametrize("predicted", [None, "-"])
def test_law_no_words_overlap(panel, narrow, bath, predicted):
    drawing, _ = panel.picture_and_words(narrow, bath=bath, predicted=predicted)
    drawing.png(1.0)
    no_overlap(drawing, [*seen_words(drawing), *drawing.parts["rows"].axes.get_yticklabels()])


@pytest.mark.parametrize("name", ["still", "strong"])
@pytest.mark.parametrize("effect", ["surface heating", "bath heating"])
def test_law_without_bubbles_warmth_has_less_to_do(bench_without, name, effect):
    """What the notes say: less than half of its factor is left where gas stirs nothing."""
    bands = bench_without[name]
    usual, away = (float(bands[row].middle) for row in (ALL_ON, f"without {effect}"))
    stirless = float(bands["without gas stirring"].middle)
    both = etched(undiluted(name), without=("gas stirring", effect)).run.band("time_to_clear")
    assert 1 < float(both.middle) / stirless < 1 + 0.5 * (away / usual - 1)


def test_law_factors_are_over_the_bath_with_all_on(bench_without):
    ratios = factors(bench_without["still"])
    assert ratios[ALL_ON] == 1
    assert ratios["without depletion"] < 1 < ratios["without gas stirring"]
