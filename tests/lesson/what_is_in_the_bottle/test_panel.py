"""The first panel draws what its words say, waits, and hands over mild mixtures alone (laws)."""

import itertools

import pytest
from helpers.water_baths import no_overlap, seen_words

from pcbchem.lesson.what_is_in_the_bottle import mixtures_panel, water_prediction
from pcbchem.lesson.what_is_in_the_bottle.numbers import content, plan_of, second
from pcbchem.lesson.what_is_in_the_bottle.predictions import guesses

PEROXIDES, ACIDS = ("3", "6", "12", "30"), ("31.45", "10")
SETTINGS = list(itertools.product(ACIDS, PEROXIDES))
HANDED = {("10", "3"), ("10", "6"), ("10", "12")}


@pytest.fixture(scope="module")
def panel():
    return mixtures_panel(water_prediction())


def share_drawn(picture):
    """The share of water in the second vessel of a mixture, as drawn [-]."""
    corners = picture.inside.layers[0].get_xy()[:, 1]
    return (corners.max() - corners.min()) / picture.frame.height


@pytest.mark.parametrize("acid, peroxide", SETTINGS)
def test_law_what_is_in_b_is_drawn_as_it_is(panel, acid, peroxide):
    drawing, _ = panel.picture_and_words(acid=acid, peroxide=peroxide, predicted="-")
    mixture = second(float(acid), float(peroxide))
    _, other = drawing.parts["mixtures"]
    assert share_drawn(other) == pytest.approx(content(mixture).shares["H2O"])
    poured = [layer for layer in other.poured.layers if layer.get_visible()]
    assert bool(poured) != plan_of(mixture).refused
    # an empty vessel says why it is empty
    instead = other.poured.words[-1]
    assert instead.get_visible() == plan_of(mixture).refused
    assert other.poured.wall.get_linestyle() == (":" if plan_of(mixture).refused else "-")
    words = "would be in it" if plan_of(mixture).refused else "is in it"
    assert other.inside_words.get_text().endswith(words)


def test_law_layers_stand_in_the_planner_s_order(panel):
    """Weak peroxide is mostly water: acid is poured into it; water first, peroxide last, else."""
    drawing, _ = panel.picture_and_words(acid="31.45", peroxide="3", predicted="-")
    first, other = drawing.parts["mixtures"]
    words = [[text.get_text() for text in each.poured.words[:3]] for each in (first, other)]
    assert words[0] == ["3 water", "1 acid", "1 peroxide"]
    assert words[1][:2] == ["2 peroxide", "1 acid"]
    drawing, _ = panel.picture_and_words(acid="10", peroxide="12", predicted="-")
    _, other = drawing.parts["mixtures"]
    assert [text.get_text() for text in other.poured.words[:2]] == ["1 acid", "2 peroxide"]


def test_law_a_never_changes(panel):
    shares = set()
    for acid, peroxide in SETTINGS:
        drawing, _ = panel.picture_and_words(acid=acid, peroxide=peroxide, predicted="-")
        shares.add(round(share_drawn(drawing.parts["mixtures"][0]), 9))
    assert len(shares) == 1


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("acid, peroxide", SETTINGS)
@pytest.mark.parametrize("predicted", [None, "none", "two thirds", "label"])
def test_law_no_words_overlap_or_leave_the_picture(panel, narrow, acid, peroxide, predicted):
    drawing, _ = panel.picture_and_words(narrow, acid=acid, peroxide=peroxide, predicted=predicted)
    drawing.png(1.0)
    no_overlap(drawing, seen_words(drawing))


@pytest.mark.parametrize("narrow", [False, True])
def test_law_nothing_of_the_answer_shows_before(panel, narrow):
    """The same pixels whatever is in B."""
    pictures = set()
    drawing, said = panel.picture_and_words(narrow, acid="31.45", peroxide="3", predicted=None)
    pictures.add(drawing.png())
    assert not said.notes and "Predict first" in said.readout
    other = panel.picture_and_words(narrow, acid="31.45", peroxide="3", predicted="none")[0].png()
    assert other not in pictures
    again = panel.picture_and_words(narrow, acid="31.45", peroxide="3", predicted=None)[0].png()
    assert again in pictures, "nothing of an answer stays"


@pytest.mark.parametrize("key", guesses())
def test_law_a_guess_is_drawn_where_it_was_asked(panel, key):
    drawing, said = panel.picture_and_words(acid="31.45", peroxide="3", predicted=key)
    _, other = drawing.parts["mixtures"]
    frame = other.frame
    drawn = (other.guess.get_ydata()[0] - frame.foot) / frame.height
    assert drawn == pytest.approx(guesses()[key]) and other.guess.get_visible() and not said.guess
    drawing, said = panel.picture_and_words(acid="10", peroxide="3", predicted=key)
    assert not drawing.parts["mixtures"][1].guess.get_visible()
    assert "bottles of the question" in said.guess


@pytest.mark.parametrize("acid, peroxide", SETTINGS)
def test_law_only_mild_mixtures_lead_to_the_planner(acid, peroxide):
    panel = mixtures_panel()
    panel.redraw(acid=acid, peroxide=peroxide)
    [handed] = panel.handed
    assert bool(handed) == ((acid, peroxide) in HANDED)
    if handed:
        assert (handed["acid"], handed["peroxide"]) == (float(acid), float(peroxide))
        parts = [handed[f"{name}_parts"] for name in ("water", "acid", "peroxide")]
        assert parts == [0, 1, 2]


def test_law_a_class_has_no_way_to_the_planner():
    panel = mixtures_panel(school=True)
    panel.redraw(acid="10", peroxide="12")
    assert not panel.links and not panel.handed
