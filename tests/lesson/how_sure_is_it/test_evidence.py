"""Facts left out are the table's, and the misses are said with size and side (laws)."""

import re

import numpy as np
import pytest
from helpers.water_baths import no_overlap

from pcbchem.common import tables
from pcbchem.common.number_words import figures
from pcbchem.lesson.how_sure_is_it import evidence, left_out, missed_words

SEEN = {
    "undiluted": (2, 2),
    "3 : 1 : 1": (60, 180),
    "weak, 2.5 %": (1200, np.inf),
    "strong layer": (3.5, 4.0),
    "weak layer": (0.35, 0.40),
    "ratio of the layers": (8.8, 11.4),
}
"""What was seen, as printed [s, µm/min or -]."""


@pytest.fixture(scope="module")
def facts():
    return evidence.left_out_rows()


@pytest.fixture(scope="module")
def picture():
    return left_out()


def test_law_facts_left_out_are_the_tables(facts):
    """Predicted over the middle of what was seen, row by row."""
    table = tables.read("leave_one_out")
    assert [fact.name for fact in facts] == list(SEEN) == [row["fact"] for row in table]
    for fact, row in zip(facts, table, strict=True):
        low, high = SEEN[fact.name]
        scale = low if np.isinf(high) else np.sqrt(low * high)
        expected = [float(row[name]) / scale for name in ("low", "middle", "high")]
        assert [fact.low, fact.middle, fact.high] == pytest.approx(expected)
        assert (fact.seen_low, fact.seen_high) == pytest.approx((low / scale, high / scale))
        meets = float(row["low"]) <= high and float(row["high"]) >= low
        assert fact.missed != meets


def test_law_the_words_hold_every_fact(facts, picture):
    for fact in facts:
        ends = f"(×{figures(fact.low)} to ×{figures(fact.high)})"
        name = fact.name.replace("film", "layer")
        said = f"{name}, {fact.practice} seen: predicted ×{figures(fact.middle)} {ends}"
        assert said in picture.alt


def test_misses_are_named_in_title_and_words(picture):
    alt = picture.alt
    assert alt.startswith("5 of 6 bands meet what was seen; missed: undiluted. ")
    assert alt.count("missed") == 2
    assert re.search(r"\. undiluted, about 2 s seen: predicted [^;]*, missed;", alt)


def test_the_picture_has_its_narrow_twin(picture):
    assert picture.png[:4] == picture.narrow[:4] == b"\x89PNG"


@pytest.mark.parametrize("narrow", [False, True])
def test_law_facts_left_out_are_drawn_where_they_are(facts, narrow):
    drawing = evidence.draw_left_out(facts, "Title", narrow)
    axes = drawing.figure.axes[0]
    dots = [line for line in axes.lines if line.get_marker() == "o"]
    brackets = [line for line in axes.lines if line.get_marker() == "|"]
    for fact, dot, bracket in zip(facts, dots, brackets, strict=True):
        assert dot.get_xdata()[0] == pytest.approx(fact.middle)
        ends = (fact.seen_low, min(fact.seen_high, evidence.RATIOS[1]))
        assert tuple(bracket.get_xdata()) == pytest.approx(ends)
        assert evidence.RATIOS[0] < fact.low and fact.high < evidence.RATIOS[1], "none is cut off"
    drawing.png(1.0)
    texts = [*axes.texts, *axes.get_yticklabels()]
    no_overlap(drawing, [text for text in texts if text.get_text()])


def test_law_misses_are_said_plainly(facts):
    """Which, by how much and on which side, worked out from the table a second time."""
    (fact,) = [fact for fact in facts if fact.missed]
    row = next(row for row in tables.read("leave_one_out") if row["fact"] == fact.name)
    least = figures(float(row["low"]) / SEEN[fact.name][1])
    words = missed_words()
    assert f"**{fact.name}**" in words and f"at least {least} times what was seen" in words
    assert f"time predicted at least {least} times what was seen, too slow." in words
    assert "A strong bath may be faster than this page says" in words


def test_law_a_middle_outside_is_said_with_kind_and_side():
    """From the table a second time: a short time is quick, and so is a high rate."""
    words = missed_words()
    for row in tables.read("leave_one_out"):
        low, high = SEEN[row["fact"]]
        middle, kind = float(row["middle"]), {"s": "time", "µm/min": "rate"}.get(row["unit"])
        beside = words.partition("Covered")[2]
        if kind is None or low <= middle <= high or row["fact"] == "undiluted":
            assert row["fact"] not in beside
            continue
        quick = middle < low if kind == "time" else middle > high
        factor = figures(middle / np.sqrt(low * high))
        pace = "too quick" if quick else "too slow"
        assert f"{row['fact']} ({kind} ×{factor}, {pace})" in beside


@pytest.mark.parametrize(
    "kind, pace", [("rate", ", too slow"), ("time", ", too quick"), ("ratio", "")]
)
def test_what_was_predicted_too_low_is_said_so(kind, pace):
    low = evidence.LeftOut("a", "1", kind, 0.2, 0.3, 0.5, 1.0, 1.2)
    assert low.side == f"predicted at most 0.5 times what was seen{pace}"
