"""Title, live sentence and text alternative say the same, and nothing before it is asked (laws)."""

import itertools
import re

import pytest
from helpers.workshop import POUR

from pcbchem.lesson.what_is_in_the_bottle import words
from pcbchem.lesson.what_is_in_the_bottle.numbers import (
    FIRST,
    MILD,
    PEROXIDES,
    STRONG,
    content,
    plan_of,
    second,
)

SETTINGS = list(itertools.product((STRONG, MILD), PEROXIDES))


@pytest.mark.parametrize("acid, peroxide", SETTINGS)
def test_law_all_three_say_the_same_share_of_water(acid, peroxide):
    mixture = second(acid, peroxide)
    said = words.answer_words(mixture)
    share = f"{100 * content(mixture).shares['H2O']:.0f} % water"
    assert share in said.readout and share in said.alt
    assert said.title in said.alt
    for text in (said.title, said.readout, said.alt):
        assert not POUR.search(text)


@pytest.mark.parametrize("acid, peroxide", SETTINGS)
def test_law_a_refused_mixture_is_said_so_everywhere(acid, peroxide):
    mixture = second(acid, peroxide)
    said = words.answer_words(mixture)
    refused = plan_of(mixture).refused
    assert ("refused" in said.title) == refused
    assert ("refuses" in said.readout) == refused
    assert ("nothing, it is refused" in said.alt) == refused
    assert not refused or plan_of(mixture).reasons[0].words in said.readout


@pytest.mark.parametrize("acid, peroxide", SETTINGS)
def test_law_before_a_prediction_nothing_is_said_of_what_is_in_b(acid, peroxide):
    said = words.question_words(second(acid, peroxide))
    text = f"{said.title} {said.readout} {said.alt}"
    of_first = re.sub(r"what is in it: 87 % water, 7 % HCl, 6 % peroxide by weight", "", text)
    assert of_first != text and "% water" not in of_first and "refuse" not in text


@pytest.mark.parametrize(
    "more, said",
    [(0.0, "as much as A"), (0.009, "as much as A"), (0.02, "more than A"), (-0.02, "less than A")],
)
def test_law_water_is_compared_with_a(more, said):
    assert words.compared(content(FIRST).shares["H2O"] + more) == said


def test_law_alike_is_said_once():
    inside = content(FIRST)
    assert words.both_words(inside) == "2.0 mol/L of each"
    assert words.both_words(content(second(10, 3))) == "0.96 mol/L and 0.59 mol/L"
