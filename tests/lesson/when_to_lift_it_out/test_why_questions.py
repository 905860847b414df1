"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import re

import numpy as np
import pytest
from helpers.questions import numbers
from helpers.why_laws import SEEDS, WhyLaws, drawn

from pcbchem.lesson.when_to_lift_it_out import why_questions
from pcbchem.lesson.when_to_lift_it_out.numbers import DRAWN, course, thickness
from pcbchem.lesson.when_to_lift_it_out.why_questions import SETTINGS


class TestWhy(WhyLaws):
    settings = SETTINGS


def test_law_widths_to_the_second_are_by_hand_s():
    patterns = {
        "punctual": r"drawn ([\d.]+) mm wide is ([\d.]+) mm wide",
        "from_above": r"drawn ([\d.]+) mm wide measures .* it is ([\d.]+) mm",
    }
    for name, pattern in patterns.items():
        for seed in SEEDS:
            rng = np.random.default_rng(seed)
            drawn, left = numbers(pattern, getattr(why_questions, name)(rng).text)
            rng = np.random.default_rng(seed)
            rng.choice(why_questions.DRAWN_WIDTHS)
            factor = float(rng.choice(why_questions.FACTORS))
            assert left == pytest.approx(drawn - 2000 * thickness() / factor, abs=0.0051)


def test_law_the_strong_bath_takes_half_the_time():
    """And costs more only when it is late."""
    strong, mild = course("strong"), course()
    assert strong.clear.middle / mild.clear.middle == pytest.approx(0.5, abs=0.05)
    assert strong.late(60.0).middle < mild.late(60.0).middle
    assert strong.late(0.0).middle == pytest.approx(mild.late(0.0).middle)
    assert all("only drawn here" in each.text for each in drawn(why_questions.strong_bath))


def test_law_thin_foil_late_is_wider_at_each_lateness():
    for setting in drawn(why_questions.thin_and_late):
        width, late, late_width = numbers(
            r"second, ([\d.]+) mm is left.* foil, ([\d.]+) min too late, ([\d.]+) mm", setting.text
        )
        thin, thick = course(), course("mild", 2.0)
        assert late_width == pytest.approx(1000 * float(thin.late(60 * late).middle), abs=0.005)
        assert width == pytest.approx(1000 * float(thick.late(0.0).middle), abs=0.005)
        assert late_width > width
        # "less time in all", in every plausible bath
        assert np.all(thin.clear.values + 60 * late < thick.clear.values)
        assert thin.pace.middle == pytest.approx(thick.pace.middle, rel=0.05)


def test_law_a_fine_line_still_stands_and_is_next():
    for setting in drawn(why_questions.fine_lines):
        wide, lost, fine = numbers(
            r"drawn ([\d.]+) mm wide has lost (\d+) µm .* one drawn ([\d.]+)", setting.text
        )
        assert 1000 * wide > 1000 * fine > lost
        left = float(re.search(r"only (\d+) µm", setting.right[0])[1])
        assert left == pytest.approx(1000 * fine - lost)


def test_law_a_factor_read_later_is_lower():
    for setting in drawn(why_questions.measured_later):
        factor, over, found = numbers(
            r"eaten ([\d.]+) times .* in (\d+) % longer.* undercut is (\d\.\d+)", setting.text
        )
        undercut = 34 / factor * (1 + over / 100)
        assert found == pytest.approx(34 / undercut, abs=0.0051) and found < factor


def test_law_the_trace_of_the_page_is_said_as_drawn():
    assert f"{1000 * DRAWN:.2f} mm wide" in drawn(why_questions.thin_and_late)[0].text
