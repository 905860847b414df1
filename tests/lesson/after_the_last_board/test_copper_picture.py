"""The band of copper is the package's own, and so is a guess in it (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.after_the_last_board import numbers
from pcbchem.lesson.after_the_last_board.numbers import DEATHS, LITTLE, MUCH, PH_AXIS
from pcbchem.lesson.after_the_last_board.predictions import guessed_copper


@pytest.mark.parametrize("soda", [LITTLE, MUCH])
def test_law_curves_are_the_package_s(copper_panel_drawn, soda):
    band, left = copper_panel_drawn(soda=soda), numbers.copper_left(soda)
    for line, amount in ((band.aged, left.aged), (band.fresh, left.fresh)):
        x, y = line.get_data()
        assert x == pytest.approx(PH_AXIS) and y == pytest.approx(1000 * amount)
    # the band lies between the two
    _, y = band.band.get_xy().T
    assert y.min() == pytest.approx(1000 * left.aged.min())
    assert y.max() == pytest.approx(1000 * left.total)


@pytest.mark.parametrize("pH", [2.0, 4.5, 8.0, 10.0])
def test_law_dots_stand_at_both_ends(copper_panel_drawn, pH):
    band = copper_panel_drawn(pH=pH)
    assert band.dots.get_xdata() == pytest.approx([pH, pH])
    assert band.dots.get_ydata() == pytest.approx(
        [1000 * end for end in numbers.copper_left(LITTLE).at(pH)]
    )


def test_law_the_dashed_line_is_what_kills(copper_panel_drawn):
    lines = copper_panel_drawn().axes.lines
    dashed = [line for line in lines if line.get_linestyle() == "--"]
    assert [set(line.get_ydata()) for line in dashed] == [{1000 * DEATHS}]


@pytest.mark.parametrize("guess", ["less", "alike", "more", "all"])
def test_law_the_guess_is_a_hollow_mark(copper, guess):
    drawing, words = copper.picture_and_words(False, predicted=guess)
    mark = drawing.parts["band"].guess
    assert mark.get_visible() and mark.get_markerfacecolor() == "white"
    assert mark.get_xydata()[0] == pytest.approx([8.0, 1000 * guessed_copper(guess)])
    assert copper.prediction.options[guess].words in words.alt


def test_law_guesses_stand_in_their_order():
    amounts = [guessed_copper(guess) for guess in ("less", "alike", "more", "all")]
    assert (np.diff(amounts) > 0).all() and amounts[1] == DEATHS
    assert guessed_copper("-") is None
