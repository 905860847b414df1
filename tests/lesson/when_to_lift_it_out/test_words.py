"""What is said of a trace is what is counted; a question tells nothing (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.when_to_lift_it_out import words
from pcbchem.lesson.when_to_lift_it_out.numbers import BATHS, DRAWN, OUNCES, course, factors

MINUTES = (0.0, 2.0, 4.0, 6.0, 9.0, 12.0)


def counted(name, time):
    """Width in each plausible bath [mm], a second time."""
    case = course(name)
    loss = 2 * case.foil / np.asarray(factors()) * 60 * time / case.clear.values
    return np.sort(np.maximum(1000 * (DRAWN - loss), 0))


@pytest.mark.parametrize("name", BATHS)
@pytest.mark.parametrize("time", MINUTES)
def test_law_a_sentence_holds_width_band_and_counts(name, time):
    said, left = words.answer_words(name, time), counted(name, time)
    assert said.title in said.alt and said.readout in said.alt
    assert said.title.startswith("Strong, drawn only. ") == (name == "strong")
    if time == 0:
        assert said.readout.startswith("Not in the") and "0.20 mm wide, as drawn" in said.readout
        return
    if left[100] <= 0:
        assert "the trace is lost" in said.title and "nothing is left" in said.readout
        return
    low, high = re.search(r"\((\d\.\d+) to (\d\.\d+)", said.readout).groups()
    assert float(low) == pytest.approx(left[19:21].mean(), abs=0.0056)
    assert float(high) == pytest.approx(left[179:181].mean(), abs=0.0056)
    width = re.search(r"mm (\d\.\d{3}) is left", said.readout)[1]
    assert float(width) == pytest.approx(left[99:101].mean(), abs=6e-4)
    assert width in said.title
    unclear = int(np.sum(course(name).clear.values > 60 * time))
    expected = {0: "clear in all 200", 200: "In none of 200"}.get(unclear, f"In {unclear} of 200")
    # it tells and does not command: a board goes back under 45 °C and in time alone
    assert expected in said.readout and "back in" not in said.readout
    lost = int(np.sum(left == 0))
    assert (f"In {lost} the trace is lost." in said.readout) == (lost > 0)


def test_law_a_title_says_whether_the_board_is_clear():
    titles = {time: words.answer_words("mild", time).title for time in MINUTES}
    assert "not clear yet" in titles[2.0] and "about when it clears" in titles[4.0]
    assert "clear" not in titles[6.0] and titles[0.0].startswith("Not in the bath yet")
    assert "not clear yet" in words.answer_words("weak", 12.0).title


def test_law_the_alternative_tells_the_cut():
    early, late = (words.answer_words("mild", time).alt for time in (2.0, 8.0))
    assert "beside it copper still covers the board" in early
    assert re.search(r"0\.12 mm at its foot on the board", late)
    for alt in (early, late):
        assert "clear after 3.1 to 5.4 min, and the line does not bend there" in alt


@pytest.mark.parametrize("ounces", OUNCES)
@pytest.mark.parametrize("late", [0.0, 1.0, 5.0])
def test_law_a_foil_is_said_with_its_width(ounces, late):
    case, said = course("mild", ounces), words.foil_words(ounces, late)
    loss = case.loss.values * (1 + 60 * late / case.clear.values)
    left = 1000 * (DRAWN - np.sort(loss)[::-1])
    width = re.search(r": (\d\.\d{3}) mm", said.title)[1]
    assert float(width) == pytest.approx(left[99:101].mean(), abs=8e-4)
    assert said.title.startswith(words.OUNCE_WORDS[ounces])
    # nothing is compared with itself
    assert said.title.count("to the second") == 2 - (late > 0) - (ounces == 1 and late == 0)
    assert "½ oz 0.177 mm, 1 oz 0.155 mm, 2 oz 0.110 mm" in said.readout


@pytest.mark.parametrize("is_foil", [False, True])
def test_law_a_question_tells_no_width(is_foil):
    said = words.question_words(is_foil)
    text = f"{said.title} {said.readout} {said.alt}"
    assert "redict first" in text
    assert set(re.findall(r"\d\.\d+", text)) == {"0.20"}
    assert "sideways" not in text and "straight" not in text
