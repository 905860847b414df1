"""What page 02 asks: one answer is right, every choice is answered, and each reply warns (laws)."""

import re

import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own

from pcbchem.lesson.acid_into_water import first_prediction, jug_prediction, predictions
from pcbchem.lesson.acid_into_water.numbers import ASKED, PEROXIDE, hill
from pcbchem.lesson.acid_into_water.predictions import ALIKE, PEROXIDE_FIRST, guessed_end


@pytest.mark.parametrize("make", [jug_prediction, first_prediction])
def test_law_every_choice_has_a_reply_of_its_own(make):
    prediction = make()
    assert len(prediction.options) == len(prediction.reasons) == 4
    each_has_a_reply_of_its_own(prediction)


def test_law_no_reply_says_that_the_order_does_not_matter():
    """Whoever reads that both end alike reads in the same reply what differs."""
    for option in jug_prediction().options.values():
        assert re.search(r"26 °C", option.reply)
        assert "7.4 times stronger" in option.reply
        assert "starts with the bottle's acid" in option.reply


def test_law_the_answer_that_is_right_is_right():
    pair = hill(ASKED)
    assert pair.over.at(100)[1] == pytest.approx(pair.end[1], abs=1e-6)
    assert jug_prediction().options[ALIKE].words == "both alike"
    # the others lie far from it
    for key in ("boiling", "theirs", "yours"):
        assert guessed_end(key) > pair.end[1] + 5
    assert guessed_end(ALIKE) == pair.end[1]
    assert guessed_end(None) is guessed_end("-") is None


def test_law_a_guess_is_as_far_off_as_its_words_say():
    for key in ("theirs", "yours"):
        words = jug_prediction().options[key].words
        (degrees,) = re.findall(r"about (\d+) °C", words)
        assert guessed_end(key) - hill(ASKED).end[1] == pytest.approx(float(degrees))


def test_law_the_planner_pours_shop_peroxide_first():
    from pcbchem import Bottle
    from pcbchem.bench.plan.inputs import Inputs
    from pcbchem.bench.plan.pours import poured
    from pcbchem.lesson.workshop import USUAL, tide_clock
    from pcbchem.reaction.bath.setup import Tray

    bottles = Bottle.labelled("HCl", ASKED / 100), Bottle.labelled("H2O2", 0.03)
    inputs = Inputs(*bottles, (0, 1, 2), tide_clock(), Tray(), USUAL, "EU")
    assert next(iter(poured(inputs))) == PEROXIDE
    assert first_prediction().options[PEROXIDE_FIRST].words.startswith("the peroxide")


def test_law_the_questions_tell_no_answer():
    for prediction in (jug_prediction(), first_prediction()):
        assert not re.search(r"26|31 °C|28 °C|hill|alike", prediction.question)
    assert "hydrochloric acid" in jug_prediction().question
    assert first_prediction().question.startswith("Drawn only, never mixed here")


def test_law_words_of_parts_are_the_parts():
    assert predictions.words_of(2.0) == "two" and predictions.words_of(3.0) == "three"
