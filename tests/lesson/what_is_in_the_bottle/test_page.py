"""What page 01 says: plain, short, nothing told before it is asked (laws)."""

import pytest
from helpers.lesson_page import LessonPage

from pcbchem.lesson import what_is_in_the_bottle as page


class TestPage(LessonPage):
    """The laws of a lesson's text."""

    name = "01_what_is_in_the_bottle.ipynb"
    predictions = (page.water_prediction, page.recipe_prediction)
    told = (
        page.read_it,
        page.why,
        page.read_recipes,
        page.sources,
        page.prove_wrong,
        page.say_now,
    )
    answers = r"49 min|as watery|97 % of this|as much as A"
    cautions = ("never open it in a room", "goggles", "outdoors", "local rules", "planner")


@pytest.mark.parametrize("other", ["muriatic", "battery", "film", "kept bath", "open air"])
def test_law_one_thing_has_one_name(other):
    texts = [text() for text in TestPage.told]
    assert other not in " ".join(texts)
