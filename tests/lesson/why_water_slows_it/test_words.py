"""Words on a bath with water hold the bench's own numbers; the question tells nothing (laws)."""

import re
from types import SimpleNamespace

import numpy as np
import pytest
from helpers.water_baths import PARTS, SETTINGS, VOLUME

from pcbchem.common.number_words import clock, figures, span
from pcbchem.lesson.why_water_slows_it import words
from pcbchem.reaction.bath.setup import Foil


def said_of(bench, bottles, parts):
    """What the bench says of a setting, and what the page says of it."""
    dilution, place = bench[bottles], PARTS.index(parts)
    return dilution, place, words.answer_words(dilution, place, words.first_words(bottles))


def never_words(times):
    """How many of some baths never clear, written out a second time."""
    never = int(np.sum(np.isinf(times)))
    return f"{'all' if never == 200 else f'{never} of 200'} plausible baths never clear"


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_times_are_the_bench_s(bench, bottles, parts):
    dilution, place, said = said_of(bench, bottles, parts)
    times = dilution.times
    if np.isfinite(times.middle[place]):
        ends = span(SimpleNamespace(low=times.low[place], high=times.high[place]))
        assert ends in said.readout and ends in said.alt
    else:
        never = never_words(times.values[place])
        assert never in said.title and never in said.readout
    if not parts:
        assert clock(times.middle[0]) in said.readout


@pytest.mark.parametrize("bottles, parts", [setting for setting in SETTINGS if setting[1]])
def test_law_ratios_are_the_bench_s(bench, bottles, parts):
    """To two figures; "never" where they are infinite."""
    dilution, place, said = said_of(bench, bottles, parts)
    ratio = dilution.ratio
    if not np.isfinite(ratio.middle[place]):
        assert "times the undiluted time (" not in said.readout
        return
    found = re.search(r"\. (\S+) times the undiluted time \((\S+) to (\S+)\)", said.readout)
    for text, ends in zip(found.groups(), (ratio.middle, ratio.low, ratio.high), strict=True):
        if np.isinf(ends[place]):
            assert text == "never"
        else:
            assert float(text) == pytest.approx(ends[place], rel=0.05)
    assert f"{found[1]} times longer" in said.title


@pytest.mark.parametrize("bottles, parts", [setting for setting in SETTINGS if setting[1]])
def test_law_strength_is_parts_over_parts(bench, bottles, parts):
    _, _, said = said_of(bench, bottles, parts)
    times = figures(1 + parts / 2, 3)
    assert f"strength alone would give {times}" in said.readout
    assert f"{times} times weaker" in said.title


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_film_and_the_strength_are_the_bench_s(bench, bottles, parts):
    dilution, place, said = said_of(bench, bottles, parts)
    thickness = f"{dilution.film['thickness'][place] * 1e6:.0f} µm"
    assert f"{thickness} thick" in said.alt and said.film == f"film at the copper: {thickness}"
    assert f"{figures(dilution.peroxide[place] / 1000)} mol/L" in said.alt


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_alternative_holds_title_and_sentence(bench, bottles, parts):
    _, _, said = said_of(bench, bottles, parts)
    assert said.title in said.alt and said.readout[:-1].split(". ")[-1] in said.alt


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_never_is_said_with_how_long_was_computed(bench, bottles, parts):
    """Wherever a bath of these does not clear, and nowhere else."""
    dilution, place, said = said_of(bench, bottles, parts)
    is_late = bool(np.isinf(dilution.times.values[place]).any())
    assert ("Never means not within 4 hours." in said.alt) == is_late


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_question_says_nothing_of_the_answer(bench, bottles, parts):
    dilution, place = bench[bottles], PARTS.index(parts)
    said = words.question_words(dilution, place, words.first_words(bottles))
    own = said.alt.replace(words.evidence_words(), "")
    for text in (said.title, said.film, said.readout, own):
        assert not re.search(
            r"\d (s|min|h)\b|times longer[^?]|undiluted time|µm|never clear", text
        ), text
    assert "Predict first" in said.readout


@pytest.mark.parametrize("parts", [0.0, 1.2, 2.0, 10.0])
def test_law_strong_bottles_are_drawn_only(bench, parts):
    """Whatever the water, first of all, and no amount anywhere."""
    dilution, place, said = said_of(bench, "strong", parts)
    question = words.question_words(dilution, place, words.first_words("strong"))
    for texts in (said, question):
        for text in (texts.title, texts.readout, texts.alt):
            assert text.startswith("Drawn only, never mixed here. ") and not VOLUME.search(text)


def test_the_pattern_of_amounts_sees_what_it_should():
    assert VOLUME.search("pour 75 mL") and not VOLUME.search("5.6 mol/L")


def test_other_bottles_have_no_such_words():
    assert words.first_words("mild") == words.first_words("weak") == ""


def test_measured_layers_are_times_for_the_boards_foil():
    """As printed: 3.5-4.0 and 0.35-0.40 µm/min, at 0.7629 and 0.0795 mol/L, for 34.06 µm."""
    thickness = float(Foil.ounces(1).thickness) * 1e6
    expected = ((762.9, (3.5, 4.0)), (79.5, (0.35, 0.40)))
    for mark, (strength, rates) in zip(words.measured_marks(), expected, strict=True):
        ends = tuple(thickness / rate * 60 for rate in reversed(rates))
        assert mark.strength == strength and (mark.low, mark.high) == pytest.approx(ends)


def test_what_people_say_is_said_as_they_do():
    """As printed (common practice, no source)."""
    marks = words.trade_marks()
    assert [mark.words for mark in marks] == ["about 2 s", "1 to 3 min", "more than 20 min"]
    assert [(mark.low, mark.high) for mark in marks] == [(2, 2), (60, 180), (1200, np.inf)]


def test_law_a_guess_is_judged_where_it_was_asked(bench):
    mild, question = bench["mild"], PARTS.index(1.2)
    for parts in (0.0, 2.0, 10.0):
        said = words.guess_words(mild, PARTS.index(parts), question, "×1.6")
        way = "Your prediction: ×1.6, with 1.2 parts of water. Slide the water to there."
        assert said == way
    said = words.guess_words(mild, question, question, "×1.6")
    guess, *ratios = (float(number) for number in re.findall(r"×(\d[\d.]*\d|\d)", said))
    ends = (mild.ratio.middle, mild.ratio.low, mild.ratio.high)
    assert guess == 1.6 and ratios == [pytest.approx(end[question], rel=0.03) for end in ends]
