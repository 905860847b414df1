"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

from helpers.why_laws import WhyLaws, drawn
from helpers.workshop import POUR

from pcbchem.lesson.weak_peroxide.numbers import NEVER, STRONG_ACID, WEAK_ACID, at
from pcbchem.lesson.weak_peroxide.why_questions import (
    ENOUGH,
    PLENTY,
    SCARCE,
    SETTINGS,
)


class TestWhy(WhyLaws):
    settings = SETTINGS
    never = POUR.pattern

    def test_law_what_is_worse_than_refused_is_drawn_only(self):
        for setting in SETTINGS:
            for each in drawn(setting):
                assert "31 %" not in each.text or "drawn only" in each.text


def test_law_what_settings_count_is_so():
    for times in ENOUGH:
        assert times > 1 and at(times).counts[NEVER] > 20 and at(times).refused
        for many in PLENTY:
            assert at(many).counts[NEVER] < at(times).counts[NEVER] / 5
    for times in SCARCE:
        assert at(times, WEAK_ACID).clear < 10
        assert at(times, STRONG_ACID).clear > 10 * at(times, WEAK_ACID).clear
        # "both drawn only"
        assert at(times, WEAK_ACID).refused
