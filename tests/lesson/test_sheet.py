"""What a page asks a table: the same by the same seed, in its order, slips apart (laws)."""

import itertools

import numpy as np
import pytest
from helpers.questions import first_reviews

from pcbchem.common.limits import InputError
from pcbchem.lesson.key import QUESTIONS, asking
from pcbchem.lesson.sheet import TRIES, apart, ask_sheet, in_turn
from pcbchem.page.answers import Question, answer_words, judge
from pcbchem.page.why import Setting

SEEDS = range(300)
ICE = Setting("Why?", ("Salt.", ""), (("Waves.", ""), ("Whales.", "")), "Salt does it.")


def test_law_numbers_are_drawn_until_the_slips_stand_apart():
    def slipping(*slips):
        values = iter(slips)

        def ask(rng):
            pair = ((1.5, "one"), (next(values), "two"))
            return Question("?", "?", "ratio", "", 1.0, 0.03, pair, "?")

        return apart(ask)

    rng = np.random.default_rng(1)
    # 3 % of both: 1.02 lies at the answer, 1.51 and 1.59 at the first slip
    assert slipping(1.02, 1.51, 1.59, 1.6, 3.0)(rng).slips[1][0] == 1.6
    with pytest.raises(RuntimeError, match="never stood apart"):
        slipping(*[1.02] * TRIES, 3.0)(rng)


def test_law_questions_come_in_their_order_by_one_generator():
    drawn = []

    def asking_of(key):
        def ask(rng):
            drawn.append(float(rng.random()))
            return Question(key, "?", "ratio", "", 1.0, 0.03, (), "?")

        return ask

    first, second, earlier = map(asking_of, ("first", "second", "earlier"))
    sheet = ask_sheet(7, (first, second), (ICE,), earlier)
    assert [question.key for question in sheet] == ["first", "second", "why", "earlier"]
    # what one draws is no other's: numbers of a generator that goes on
    rng = np.random.default_rng(7)
    of_one = [rng.random(), rng.random()]
    rng.permutation(3)
    assert drawn == [*of_one, rng.random()]
    assert [question.key for question in ask_sheet(7, (first,), (ICE,))] == ["first", "why"]


def test_law_each_setting_meets_each_question():
    """Two rounds bring every pair, and neighbours within a round differ."""
    turns = [(seed % 6, in_turn("ab", seed, round_of=6)) for seed in range(12)]
    assert len(set(turns)) == 12
    assert all(turns[seed][1] != turns[seed + 1][1] for seed in range(5))
    assert [in_turn("ab", seed) for seed in range(4)] == list("abab")


@pytest.mark.parametrize("page", QUESTIONS)
def test_law_the_same_seed_asks_the_same_and_the_next_another(page):
    ask = asking(page)
    assert ask(7) == ask(7) == ask(np.int64(7)) != ask(8)


@pytest.mark.parametrize("seed", [-1, 1.5, True, "1", None])
@pytest.mark.parametrize("page", QUESTIONS)
def test_law_a_seed_that_cannot_be_is_refused(page, seed):
    with pytest.raises(InputError, match="seed = "):
        asking(page)(seed)


@pytest.fixture(scope="module", params=[*QUESTIONS, "earlier lessons"])
def with_numbers(request):
    """All questions of a page whose answer is a number, of 300 seeds; and all that go back."""
    if request.param not in QUESTIONS:
        return first_reviews()
    asked = [question for seed in SEEDS for question in asking(request.param)(seed)]
    return [question for question in asked if isinstance(question, Question)]


def test_law_slips_are_apart_by_more_than_the_tolerance(with_numbers):
    """From the answer and from one another: an answer can mean only one of them."""
    for question in with_numbers:
        values = [question.answer, *(value for value, _ in question.slips)]
        for first, second in itertools.combinations(values, 2):
            margins = question.margin(first) + question.margin(second)
            assert abs(first - second) > margins, question


def test_law_each_answer_and_slip_is_recognised_as_written(with_numbers):
    for question in with_numbers[::5]:
        written = answer_words(question.answer, question.kind, question.unit)
        assert judge(question, written).grade == "right", (question, written)
        for value, hint in question.slips:
            verdict = judge(question, answer_words(value, question.kind, question.unit))
            assert verdict.grade == "slip" and hint in verdict.words, (question, value)
