"""Pictures hold the plan's own numbers, and those of a refused plan no amount (laws)."""

import re

import numpy as np
import pytest
from workshop import INPUTS

from pcbchem.lesson import draw
from pcbchem.lesson.curves import frame
from pcbchem.lesson.fields import planned


def texts(axes):
    """Every word in a figure."""
    return [text.get_text() for a in axes for text in a.texts] + [axes[0].get_title(loc="left")]


def test_picture_says_its_numbers(mild):
    """Title, axes and text alternative hold the band's own numbers, on opaque white."""
    copper, warmth = draw.course(mild, "Bath")
    times, peak = mild.run.band("time_to_clear"), mild.run.band("peak_temperature")
    for text in (copper.get_title(loc="left"), draw.course_words(mild, "Bath")):
        for number in (f"{times.low / 60:.1f}", f"{times.high / 60:.1f} min", f"{peak.low - 273.15:.0f}",
                       f"{peak.high - 273.15:.0f} °C"):
            assert number in text, (number, text)
    assert f"{times.middle / 60:.1f} min" in draw.course_words(mild, "Bath")
    assert "µm" in copper.get_ylabel() and "°C" in warmth.get_ylabel() and "minutes" in warmth.get_xlabel()
    line = copper.lines[0]
    assert line.get_ydata()[0] == pytest.approx(34.06, abs=0.01)  # 305.15 g/m² over 8960 kg/m³ (IPC-4562, CRC Handbook)
    gone = np.asarray(line.get_xdata())[np.asarray(line.get_ydata()) > 1e-6].max() * 60
    assert gone == pytest.approx(times.middle, rel=0.02), "the middle line ends at the middle time"
    assert copper.get_figure().get_facecolor() == (1, 1, 1, 1)
    page = draw.picture([copper, warmth], 'so "said"')._repr_html_()
    assert 'alt="so &quot;said&quot;"' in page and "image/png" in page


def test_first_look_and_resist_stand_on_the_time_axis(mild):
    """The first look lies before the 10 % time; the resist stands 20 to 30 min (common practice, no source)."""
    slow = planned(**{**INPUTS, "peroxide": (3, "%"), "parts": (0, 1, 2), "draws": 60})
    for plan, count in ((mild, 1), (slow, 2)):
        copper, _ = draw.course(plan, "Bath")
        words = [t.get_text() for t in copper.texts]
        assert len(draw.marks(plan)) == count and all(mark[0] in words for mark in draw.marks(plan))
        assert all(mark[0] in draw.course_words(plan, "Bath") for mark in draw.marks(plan))
        look = next(line for line in copper.lines if line.get_marker() == "|")
        assert look.get_xdata()[0] == pytest.approx(plan.first_look / 60)
        assert look.get_xdata()[0] * 60 < plan.bands["time_to_clear"].low
        assert copper.get_ylim()[0] < look.get_ydata()[0] < 0 <= min(copper.get_yticks()), "below the copper"
    life = draw.course(slow, "Bath")[0].lines[-1].get_xdata()
    assert life[0] == pytest.approx(20) and life[1] == pytest.approx(min(30, frame(slow.run)[-1] / 60))
    assert "resist gives up: 20 to 30 min" in draw.marks(slow)[1][0]


def test_limits_of_warmth_are_drawn_where_the_picture_reaches_them(mild, refused):
    """45 and 60 °C while etching: the rules of the verdict (common practice, no source)."""
    assert not [t for t in texts(draw.course(mild, "Bath")) if "above it" in t]
    axes = draw.course(refused, "Bath")
    said = [t for t in texts(axes) if "above it" in t]
    assert sorted(t[:5] for t in said) == ["45 °C", "60 °C"], "one line of words on one line"
    assert "60 °C: 1 in 10 above it, do not mix" in said
    assert "45 °C: 1 in 10 above it, with cares; half above it, do not mix" in said
    assert {45.0, 60.0} <= {round(float(line.get_ydata()[0]), 6) for line in axes[1].lines}


def test_a_refused_plan_is_a_curve_to_learn_from(refused):
    assert refused.refused
    said = [*texts(draw.course(refused, "Bath")), draw.course_words(refused, "Bath")]
    for words in said[-2:]:
        assert words.startswith("Bath: do not mix. A curve to learn from")
    assert not [t for t in said if re.search(r"\d\s*m?L\b|oz\b|look first|resist", t)], "nothing to pour or to wait for"


@pytest.mark.parametrize("high", [0.3, 4.0])
def test_never_clearing_baths_are_drawn(high):
    """Law: a bath with hardly any peroxide never clears, and title and words say so without NaN."""
    plan = planned(**{**INPUTS, "peroxide": (0.2, high, "% by weight"), "total_mL": 40, "draws": 40})
    assert plan.bands["time_to_clear"].never > 0.1
    title = draw.course(plan, "Bath")[0].get_title(loc="left")
    assert "never" in title or "hardly ever" in title
    words = draw.course_words(plan, "Bath")
    assert "nan" not in words and "after never" not in words


def test_two_portions_have_no_picture():
    plan = planned(**{**INPUTS, "draws": 5, "second": (50, 1)})
    for drawn in (draw.course, draw.course_words):
        with pytest.raises(ValueError, match=r"plan = Plan\('mix it'\) has no picture: with the peroxide in two porti"):
            drawn(plan, "Bath")
    page = draw.pictured(plan, "Bath")._repr_html_()
    assert page.startswith("<p>No picture here: with the peroxide in two portions") and "<img" not in page


def test_a_page_gets_the_picture_with_its_words(mild):
    page = draw.pictured(mild, "Bath")._repr_html_()
    assert page.startswith("<img") and f'alt="{draw.course_words(mild, "Bath")}"' in page
