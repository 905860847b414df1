"""Questions that ask why: bad ones refused, and each answer gets its own reply (law)."""

import numpy as np
import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.why import Setting, WhyQuestion, ask_in_turn, judge_why, shuffled

THREE = (("a", "It weighs less.", "More."), ("b", "It is cold.", "Is it?"), ("c", "Salt.", "Yes."))


def asked(options=THREE, right="c"):
    return WhyQuestion("sea", "Why does the sea freeze late?", options, right, "Salt does it.")


@pytest.mark.parametrize(
    "options, right, words",
    [
        (THREE[:2], "a", "give 3 to 5"),
        ((*THREE, ("d", "", ""), ("e", "", ""), ("f", "", "")), "a", "give 3 to 5"),
        ((*THREE, ("a", "Again.", "")), "a", "key of its own"),
        ((*THREE, ("", "Nothing.", "")), "a", "none may be ''"),
        (THREE, "d", "choose from a, b, c"),
        (THREE, "", "choose from a, b, c"),
    ],
)
def test_law_a_question_that_cannot_be_asked(options, right, words):
    with pytest.raises(InputError, match=words):
        asked(options, right)


def test_law_three_and_five_answers_can_be_asked():
    assert len(asked().options) == 3
    assert len(asked((*THREE, ("d", "", ""), ("e", "", ""))).options) == 5


def test_law_each_answer_has_its_reply():
    verdicts = [judge_why(asked(), key) for key in "abc"]
    assert [verdict.grade for verdict in verdicts] == ["slip", "slip", "right"]
    assert [verdict.words for verdict in verdicts] == [
        "Not yet. More.",
        "Not yet. Is it?",
        "Right. Yes.",
    ]


def test_law_nothing_chosen_is_not_judged():
    assert judge_why(asked(), "").grade == "unread"


def test_law_an_unknown_answer_is_refused():
    with pytest.raises(InputError, match="choose from a, b, c"):
        judge_why(asked(), "z")


SEA = Setting("Why?", ("Salt.", "Yes."), (("Waves.", "No."), ("Whales.", "Are there?")), "Salt.")


def test_law_a_shuffled_question_keeps_each_reply_with_its_answer():
    """Whatever the order: judged by its own key, the right answer is right and no other one."""
    places = set()
    for seed in range(30):
        question = shuffled(SEA, np.random.default_rng(seed), "sea")
        assert [key for key, _, _ in question.options] == list("abc") and question.key == "sea"
        verdicts = {words: judge_why(question, key).words for key, words, _ in question.options}
        assert verdicts == {
            "Salt.": "Right. Yes.",
            "Waves.": "Not yet. No.",
            "Whales.": "Not yet. Are there?",
        }
        places.add(question.right)
    assert places == set("abc")


def test_law_the_same_draw_gives_the_same_order():
    assert shuffled(SEA, np.random.default_rng(5)) == shuffled(SEA, np.random.default_rng(5))


def lake(rng):
    return Setting(f"Why {rng.integers(1000)}?", SEA.right, SEA.wrong, SEA.explanation)


def pond(depth):
    return Setting(f"Why {depth} m?", SEA.right, SEA.wrong, SEA.explanation)


def test_law_settings_come_in_turn_and_draw_before_their_answers_do():
    """The same as to draw by hand: first the numbers of the setting, then the order."""
    settings = (SEA, lake, pond)
    for turn in range(40):
        rng, by_hand = np.random.default_rng(turn), np.random.default_rng(turn)
        if turn % 3 == 2:
            values = (1.5, 2.5, 4.0)
            setting = pond(float(by_hand.choice(values)))
        else:
            values = ()
            setting = SEA if turn % 3 == 0 else lake(by_hand)
        assert ask_in_turn(settings, rng, turn, values) == shuffled(setting, by_hand)
        # what is asked next goes on from the same place
        assert rng.random() == by_hand.random()


def test_law_no_setting_is_refused():
    with pytest.raises(InputError, match="settings = none is impossible: give at least one"):
        ask_in_turn((), np.random.default_rng(1), 1)
