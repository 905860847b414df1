"""Layers are to scale, from the bottom up, and nothing is poured of what is refused (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.what_is_in_the_bottle.picture import Beside, Frame, Vessel
from pcbchem.page.picture import Drawing, figure

FRAME = Frame(0.2, 0.4, 2.0, 1.0, 0.5)


@pytest.fixture
def axes():
    sheet = figure(3)
    sheet.set_layout_engine("none")
    axes = sheet.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 8), ylim=(0, 3))
    return axes


def heights(vessel):
    return [np.ptp(layer.get_xy()[:, 1]) for layer in vessel.layers if layer.get_visible()]


def test_law_layers_are_to_scale_and_stand_on_each_other(axes):
    vessel = Vessel(axes, 0.2, FRAME, 11)
    middles = vessel.draw([(0.5, "white", "a"), (0.3, "0.5", "b"), (0.2, "0.8", "c")])
    assert heights(vessel) == pytest.approx([1.0, 0.6, 0.4])
    assert middles == pytest.approx([0.9, 1.7, 2.2])
    assert [text.get_text() for text in vessel.words[:3]] == ["a", "b", "c"]
    vessel.draw([(0.4, "white", "a")])
    assert heights(vessel) == pytest.approx([0.8]), "the others are gone"


def test_law_a_vessel_of_what_is_refused_is_dotted_and_empty(axes):
    vessel = Vessel(axes, 0.2, FRAME, 11)
    vessel.draw([], "refused", empty=True)
    assert heights(vessel) == [] and vessel.wall.get_linestyle() == ":"
    assert vessel.words[-1].get_text() == "refused"
    vessel.draw([(1.0, "white", "a")])
    assert vessel.wall.get_linestyle() == "-" and not vessel.words[-1].get_visible()


@pytest.mark.parametrize("shares", [(0.87, 0.11, 0.02), (0.7, 0.1, 0.2), (0.95, 0.03, 0.02)])
def test_law_labels_stand_apart_beside_their_shares(axes, shares):
    picture = Beside(axes, FRAME, "A", 11)
    picture.draw_inside(dict(zip(("H2O", "HCl", "H2O2"), shares, strict=True)), ("a", "p"))
    acid, peroxide = (label.get_position()[1] for label in picture.labels)
    assert peroxide - acid >= 0.42 - 1e-9 and peroxide <= FRAME.foot + FRAME.height + 1e-9
    ends = [leader.get_ydata()[0] for leader in picture.leaders]
    top = FRAME.foot + FRAME.height
    water, _, of_peroxide = (share * FRAME.height for share in shares)
    assert FRAME.foot + water < ends[0] < top - of_peroxide < ends[1] < top


def test_law_what_is_not_known_is_not_drawn(axes):
    picture = Beside(axes, FRAME, "B", 11)
    picture.draw_inside({"H2O": 0.9, "HCl": 0.05, "H2O2": 0.05}, ("a", "p"))
    picture.draw_question()
    assert heights(picture.inside) == []
    hidden = (*picture.labels, *picture.leaders)
    assert not any(artist.get_visible() for artist in hidden)


def test_law_a_guess_lies_where_it_says(axes):
    picture = Beside(axes, FRAME, "B", 11)
    picture.draw_guess(0.25)
    assert list(picture.guess.get_ydata()) == pytest.approx([0.9, 0.9])
    assert picture.guess_words.get_visible() and picture.guess.get_linestyle() != "-"
    picture.draw_guess(None)
    assert not picture.guess.get_visible() and not picture.guess_words.get_visible()


def test_law_parts_are_poured_to_scale(axes):
    picture = Beside(axes, FRAME, "B", 11)
    Drawing(axes.figure, picture.moving)
    picture.draw_poured("x", "y", [(2, "peroxide"), (1, "acid")], refused=False)
    assert heights(picture.poured) == pytest.approx([4 / 3, 2 / 3])
    assert picture.poured.words[0].get_text() == "2 peroxide"
