"""Words on a bath with water hold the bench's own numbers; the question tells nothing (laws)."""

import itertools
import re
from types import SimpleNamespace

import numpy as np
import pytest
from helpers.water_baths import PARTS

from pcbchem.common.number_words import clock, figures, span
from pcbchem.lesson.why_water_slows_it import words
from pcbchem.lesson.why_water_slows_it.numbers import SHAKEN, STILL
from pcbchem.lesson.why_water_slows_it.words import VIEWS

SETTINGS = list(itertools.product((STILL, SHAKEN), PARTS))
WITH_WATER = [setting for setting in SETTINGS if setting[1]]


def said_of(bench, movement, parts, view="bars"):
    """What the bench says of a setting, and what the page says of it."""
    dilution, place = bench[movement], PARTS.index(parts)
    return dilution, place, words.answer_words(dilution, place, view)


def never_words(times):
    """How many of some baths never clear, written out a second time."""
    never = int(np.sum(np.isinf(times)))
    count = "all" if never == 200 else f"{never} of 200"
    return f"{count} plausible baths do not clear within 4 hours"


@pytest.mark.parametrize("movement, parts", SETTINGS)
def test_law_times_are_the_bench_s(bench, movement, parts):
    dilution, place, said = said_of(bench, movement, parts)
    times = dilution.times
    if np.isfinite(times.middle[place]):
        ends = span(SimpleNamespace(low=times.low[place], high=times.high[place]))
        assert ends in said.readout and ends in said.alt
        assert clock(times.middle[place]) in said.readout
    else:
        never = never_words(times.values[place])
        assert never in said.title and never in said.readout


@pytest.mark.parametrize("movement, parts", WITH_WATER)
def test_law_ratios_are_the_bench_s(bench, movement, parts):
    """To two figures; "never" where they are infinite."""
    dilution, place, said = said_of(bench, movement, parts)
    ratio = dilution.ratio
    if not np.isfinite(ratio.middle[place]):
        assert "times as long as without (" not in said.readout
        return
    match = re.search(r", (\S+) times as long as without \((\S+) to (\S+)\)", said.readout)
    for text, ends in zip(match.groups(), (ratio.middle, ratio.low, ratio.high), strict=True):
        if np.isinf(ends[place]):
            assert text == "never"
        else:
            assert float(text) == pytest.approx(ends[place], rel=0.05)
    assert f"{match[1]} times as long" in said.title


@pytest.mark.parametrize("movement, parts", WITH_WATER)
def test_law_strength_is_parts_over_parts(bench, movement, parts):
    _, _, said = said_of(bench, movement, parts)
    times = figures(1 + parts / 2, 3)
    assert f"Strength alone would give {times} times" in said.alt
    weaker = "Half as strong" if parts == 2 else f"{times} times weaker"
    assert said.title.startswith(weaker)


@pytest.mark.parametrize("movement, parts", SETTINGS)
def test_law_the_film_and_the_strength_are_the_bench_s(bench, movement, parts):
    dilution, place, said = said_of(bench, movement, parts, "film")
    thickness = f"{dilution.film['thickness'][place] * 1e6:.0f} µm"
    assert f"{thickness} thick" in said.alt
    curve = said_of(bench, movement, parts, "curve")[2]
    assert f"{figures(dilution.peroxide[place] / 1000)} mol/L" in curve.alt


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("movement, parts", SETTINGS)
def test_law_the_alternative_holds_title_and_sentence(bench, movement, parts, view):
    _, _, said = said_of(bench, movement, parts, view)
    assert said.title in said.alt and said.readout.rstrip(".") in said.alt


@pytest.mark.parametrize("movement, parts", SETTINGS)
def test_law_baths_that_do_not_clear_are_counted(bench, movement, parts):
    """Wherever a bath of these does not clear, and nowhere else, with how long was computed."""
    dilution, place, said = said_of(bench, movement, parts)
    times = dilution.times.values[place]
    is_late = bool(np.isinf(times).any())
    assert ("do not clear" in said.alt) == is_late == ("do not clear" in said.readout)


@pytest.mark.parametrize("movement, parts", SETTINGS)
def test_law_the_question_says_nothing_of_the_answer(bench, movement, parts):
    dilution, place = bench[movement], PARTS.index(parts)
    said = words.question_words(dilution, place)
    undiluted = clock(dilution.times.middle[0])
    for text in (said.title, said.readout, said.alt):
        rest = text.replace(undiluted, "")
        assert not re.search(r"\d (s|min|h)\b|times as long|µm|do not clear", rest), text
    assert "Predict first" in said.readout


def test_what_people_say_is_said_as_they_do():
    """As printed (common practice, no source)."""
    marks = words.trade_marks()
    assert [mark.words for mark in marks] == ["about 2 s", "1 to 3 min", "more than 20 min"]
    assert [(mark.low, mark.high) for mark in marks] == [(2, 2), (60, 180), (1200, np.inf)]


def test_law_a_guess_is_judged_where_it_was_asked(bench):
    still, question = bench["still"], PARTS.index(2.0)
    for parts in (0.0, 1.2, 10.0):
        said = words.guess_words(still, PARTS.index(parts), question)
        assert said == "Your prediction was about 2 parts of water."
    assert words.guess_words(still, question, question) == ""
