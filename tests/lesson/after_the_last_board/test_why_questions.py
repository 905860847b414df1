"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import numpy as np
import pytest
from helpers.questions import numbers
from helpers.why_laws import WhyLaws, drawn
from helpers.workshop import POUR

from pcbchem.lesson.after_the_last_board import why_questions
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    LITTLE,
    MUCH,
    copper_left,
    peroxide_left,
    rinsed,
)
from pcbchem.lesson.after_the_last_board.why_questions import SETTINGS


class TestWhy(WhyLaws):
    settings = SETTINGS
    never = rf"{POUR.pattern}|\b(drain|sewer|sink|safe|harmless)\b"


def test_law_a_quiet_bath_is_counted():
    for setting in drawn(why_questions.quiet):
        still, total = numbers(r"In (\d+) of (\d+) plausible baths", setting.text)
        assert total == peroxide_left().total == 200
        counts = [np.sum(peroxide_left().at[time] >= 1e-3) for time in why_questions.QUIET]
        assert still in counts and still > 50


def test_law_quick_and_slow_make_the_same_oxygen():
    """Spans of the setting lie among the plausible baths: one is quick, one is slow."""
    for setting in drawn(why_questions.slow_bottle):
        days, weeks = numbers(r"gone in (\d+) days, in the other in (\d+) weeks", setting.text)
        gone = peroxide_left().gone.values / 86400
        assert gone.min() < days < 7 * weeks < gone.max()
        assert "never done" in setting.text


def test_law_clear_water_is_never_clean():
    for setting in drawn(why_questions.clear_water):
        pH, aged, fresh, whole = numbers(
            r"At pH ([\d.]+), .* holds ([\d.]+) to ([\d.]+) mg/L of copper, of (\d+)\.",
            setting.text,
        )
        left = [1000 * end for end in copper_left(LITTLE).at(pH)]
        assert [aged, fresh] == pytest.approx(left, rel=0.06)
        assert whole == pytest.approx(1000 * copper_left(LITTLE).total, rel=0.02)
        assert aged > 1000 * DEATHS
        # "more soda would keep even more copper dissolved", where there is enough to lose no gas
        if pH >= 8:
            assert copper_left(MUCH).at(pH)[0] > copper_left(LITTLE).at(pH)[0]


def test_law_more_soda_holds_more():
    for setting in drawn(why_questions.more_soda):
        pH, little, much = numbers(
            r"At pH ([\d.]+) .* over ([\d.]+) mg/L of copper .* deal ([\d.]+) mg/L", setting.text
        )
        assert little == pytest.approx(1000 * copper_left(LITTLE).at(pH)[0], rel=0.06)
        assert much == pytest.approx(1000 * copper_left(MUCH).at(pH)[0], rel=0.06)
        assert much > 2 * little


def test_law_rinse_water_is_as_the_page_says():
    for setting in drawn(why_questions.rinse_water):
        ends = numbers(r"holds (\d+) to (\d+) mg/L", setting.text)
        assert ends == pytest.approx(
            [1000 * float(rinsed().low), 1000 * float(rinsed().high)], abs=0.6
        )
