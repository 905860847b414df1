"""Words on two jugs hold the package's own numbers; the question tells nothing (laws)."""

import re

import pytest

from pcbchem.lesson.acid_into_water import words
from pcbchem.lesson.acid_into_water.numbers import ASKED, MILD, PEROXIDE, STRONGEST, WATER, hill

HILLS = [(ASKED, WATER), (STRONGEST, WATER), (MILD, WATER), (ASKED, PEROXIDE)]
POURED = (0, 5, 25, 50, 95, 100)


@pytest.mark.parametrize("acid, other", HILLS)
@pytest.mark.parametrize("poured", POURED)
def test_law_strengths_and_temperatures_are_the_jugs(acid, other, poured):
    pair = hill(acid, other)
    said = words.answer_words(pair, poured).readout
    drawn = "" if acid == MILD else "Drawn only. "
    match = re.fullmatch(
        rf"{drawn}{poured} % poured\. Acid into {other}: (\S+) mol/L, (\S+) °C\. "
        rf"{other.capitalize()} into acid: (\S+) mol/L, (\S+) °C(?:, (\S+) times stronger)?\. "
        r"Both end at (\S+) °C\.",
        said,
    )
    assert match, said
    (up, up_T), (over, over_T) = pair.up.at(poured), pair.over.at(poured)
    half = 0.051 if acid == MILD else 0.51
    assert float(match[1]) == pytest.approx(up / 1000, rel=0.05, abs=0.005)
    assert float(match[3]) == pytest.approx(over / 1000, rel=0.05)
    for text, T in ((match[2], up_T), (match[4], over_T), (match[6], pair.end[1])):
        assert float(text) == pytest.approx(T - 273.15, abs=half)
    assert bool(match[5]) == (0 < poured < 100)
    if match[5]:
        assert float(match[5]) == pytest.approx(over / up, rel=0.05)


@pytest.mark.parametrize("acid, other", HILLS)
def test_law_the_alternative_holds_title_and_sentence(acid, other):
    pair = hill(acid, other)
    for poured in POURED:
        said = words.answer_words(pair, poured)
        assert said.title in said.alt and said.readout in said.alt
        assert "solid line" in said.alt and "dashed line" in said.alt
        # at the end both jugs are what stands there
        assert bool(said.up) == bool(said.over) == (poured < 100)
        for beside in filter(None, (said.up, said.over)):
            assert " ".join(beside.split()).split(": ")[1] in said.readout


def test_law_a_low_hill_is_called_so():
    assert words.answer_words(hill(MILD), 25).title == "Acid of 10 %: both end 0.4 °C warmer"
    assert not words.answer_words(hill(MILD), 25).top
    for acid in (ASKED, STRONGEST):
        said = words.answer_words(hill(acid), 25)
        assert ". Water into acid: 7.4 times stronger now" in said.title
        assert words.degrees(hill(acid).top[1]) in said.top


@pytest.mark.parametrize("acid, other", HILLS)
def test_law_the_question_says_nothing_of_the_answer(acid, other):
    said = words.question_words(hill(acid, other))
    for text in (said.title, said.readout, said.alt):
        assert not re.search(r"\d °C|times|stronger|hill|both", text, re.I), text
    assert "Predict first" in said.readout
    assert not any((said.up, said.over, said.end, said.top))


def test_law_what_is_refused_says_the_rule_s_limit():
    assert words.OVER.startswith("over 6 mol/L: the planner refuses it")
    # it may not look as if less were allowed
    assert "weaker acid fumes too" in words.OVER


def test_law_a_guess_is_judged_where_it_was_asked():
    assert words.guess_words(ASKED) == ""
    assert words.guess_words(MILD) == "Your prediction was about acid of 31.45 %."
