"""A plan's picture holds the plan's own numbers, with words inside it and off each other (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.plan_pictures import corners, texts, words_in
from helpers.workshop import INPUTS, USED_BATH

from pcbchem.bench.hazards.verdicts import rules
from pcbchem.lesson.bath import picture as still_picture
from pcbchem.lesson.bath import plan_picture as picture
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_words import middle, rows, words

COPPER = 27e-4 * 0.305152 / 0.063546
"""Copper on the workshop's board [mol]: m², kg/m² of 1 oz, kg/mol."""


LONG_LABELS = {"parts": (2, 1, 1), "used_bath": USED_BATH, "second": (50, 1), "draws": 60}
"""Five pours: where they are measured in US ounces too, their labels are the longest."""


def dashed(axes):
    """Temperatures at which a limit is drawn [°C]."""
    lines = [line for line in axes.lines if line.get_linestyle() == "--"]
    return {round(float(line.get_ydata()[0]), 6) for line in lines}


def numbers(text):
    return set(re.findall(r"\d+\.?\d*", text))


def test_the_picture_is_white(pictures, narrow):
    assert pictures["mild", narrow].figure.get_facecolor() == (1, 1, 1, 1)


def test_law_both_widths_say_the_same_numbers(plans, pictures):
    """But for middles, which a narrow picture leaves out where there is no room."""
    for name, plan in plans.items():
        left_out = numbers("".join(middle(row) for row in rows(plan))) | {"1", "10"}
        wide, narrow = (numbers(words_in(pictures[name, width])) for width in (False, True))
        assert wide - left_out == narrow - left_out, name


def test_law_bars_are_shares_of_what_the_bath_holds(pictures, mild, narrow):
    """Length by acid counted by hand: two to a copper."""
    acid = 2 * COPPER / np.asarray(mild.mixture.amount("HCl"))
    axes = pictures["mild", narrow].parts["bars"]
    outline = next(line for line in axes.lines if len(line.get_xdata()) == 5)
    pale, dark = axes.collections[:2]
    whole = max(outline.get_xdata())
    assert corners(pale)[1][0] / whole == pytest.approx(np.quantile(acid, 0.9), rel=0.01)
    assert corners(dark)[1][0] / whole == pytest.approx(np.quantile(acid, 0.1), rel=0.01)


def test_law_the_first_look_lies_before_the_band(plans, pictures, narrow):
    for name, plan in plans.items():
        if plan.first_look is not None:
            mark = pictures[name, narrow].parts["times"].lines[0]
            scale = 1 if "seconds" in label(pictures[name, narrow]) else 60
            assert mark.get_xdata()[0] * scale == pytest.approx(plan.first_look)
            assert plan.first_look < plan.bands["time_to_clear"].low


def label(drawing):
    """What stands under the axis of time."""
    return drawing.parts["warmth"].get_xlabel()


def test_law_every_row_stands_on_the_axis_of_time(plans, pictures, narrow):
    for name, plan in plans.items():
        said = words_in(pictures[name, narrow])
        assert all(row.name in said for row in rows(plan))


def test_the_resist_stands_twenty_to_thirty_minutes(pictures, narrow):
    """As printed (common practice, no source); beyond the axis it is said."""
    resist = pictures["weak", narrow].parts["times"].collections[-1]
    low, high = corners(resist)
    assert (low[0], high[0]) == pytest.approx((20, 30))
    assert "20 to 30 min →" in words_in(pictures["mild", narrow])


def test_law_limits_are_drawn_where_the_picture_reaches_them(plans, pictures, narrow):
    """Every rule on a peak below the highest band has its line (common practice, no source)."""
    for name, plan in plans.items():
        peaks = [float(plan.bands[key].high) for key in ("etching_peak", "standing_peak")]
        for part, quantity in (("warmth", "etching_peak"), ("after", "standing_peak")):
            drawn = dashed(pictures[name, narrow].parts[part])
            every = {round(r.limit - 273.15, 6) for r in rules() if r.quantity == quantity}
            below = {T for T in every if max(peaks) - 273.15 >= T}
            assert below <= drawn <= every, (name, part)
        assert 45.0 in dashed(pictures[name, narrow].parts["warmth"]), name


@pytest.mark.parametrize("name", ["mild", "refused"])
def test_law_the_middle_line_is_the_middle_bath(plans, pictures, narrow, name):
    plan, line = plans[name], pictures[name, narrow].parts["warmth"].lines[0]
    x, y = np.asarray(line.get_xdata()), np.asarray(line.get_ydata())
    start = float(plan.bands["mixing_temperature"].middle) - 273.15
    assert y[0] == pytest.approx(start, abs=0.05)
    after_a_minute = np.quantile(np.asarray(plan.run.at([60.0])["temperature"])[0], 0.5)
    assert np.interp(1.0, x, y) == pytest.approx(after_a_minute - 273.15, abs=0.3)


def test_law_a_picture_drawn_anew_holds_nothing_of_the_last(plans, pictures, narrow):
    drawing = picture.build(narrow)
    for name in ("refused", "all five", "weak", "mild"):
        picture.show(drawing, plans[name], "Bath")
    assert words_in(drawing) == words_in(pictures["mild", narrow])


@pytest.fixture(scope="module")
def beside_words(plans):
    """Pictures of the planner, whose heading stands beside them, and of the longest labels."""
    longest = planned(**INPUTS | LONG_LABELS | {"place": "US"})
    return {
        (f"{name}, untitled", narrow): picture.show(picture.build(narrow, False), plan, "Bath")
        for name, plan in (plans | {"in the US": longest}).items()
        for narrow in (False, True)
    }


def test_law_untitled_it_says_no_time_and_no_verdict_over_it(plans, beside_words):
    """Both stand beside it, and are said once; nothing of a refused bath looks like a recipe."""
    for name, plan in plans.items():
        for narrow in (False, True):
            head = beside_words[f"{name}, untitled", narrow].parts["head"].get_text()
            assert " ".join(head.split()).endswith(picture.KEY)
            assert head.startswith(picture.TO_LEARN_FROM) == plan.refused
            assert "clear" not in head and "°C" not in head


def test_law_words_stay_in_the_picture_and_off_each_other(pictures, beside_words):
    for (name, narrow), drawing in (pictures | beside_words).items():
        drawing.figure.draw_without_rendering()
        renderer = drawing.figure.canvas.get_renderer()
        artists = [text for _, text in texts(drawing)]
        assert min(text.get_fontsize() for text in artists) >= 11
        artists += drawing.parts["warmth"].get_yticklabels()
        boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in artists]
        frame = drawing.figure.bbox
        for said, box in boxes:
            across = box.x0 > -2 and box.x1 < frame.width + 2
            assert across and box.y0 > -2 and box.y1 < frame.height + 2, (name, narrow, said)
        for (said, one), (other, two) in itertools.combinations(boxes, 2):
            across = min(one.x1, two.x1) - max(one.x0, two.x0)
            down = min(one.y1, two.y1) - max(one.y0, two.y0)
            assert across < 3 or down < 5, (name, narrow, said, other)


def test_a_page_gets_the_picture_with_its_words(mild):
    still = still_picture(mild, "Bath")
    html = still._repr_html_()
    assert html.startswith("<picture>") and f'alt="{words(mild, "Bath")[1]}"' in html
    assert html.count("image/png") == 2 and still.narrow
    # without a name it is called as a reader's own bath is
    assert still_picture(mild).alt == words(mild, "This bath")[1]
