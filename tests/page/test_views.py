"""Of several drawings one is shown, and its parts are the ones that are found."""

import pytest

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.views import Views


@pytest.fixture
def views():
    return Views(tall=Drawing(figure(2.0, 1.0), name="tall"), flat=Drawing(figure(1.0, 2.0)))


def test_law_the_first_is_shown_at_first(views):
    assert views.png() == views.drawings["tall"].png()
    assert views.parts["name"] == "tall"


def test_law_what_is_shown_is_what_is_painted(views):
    assert views.show("flat") is views.drawings["flat"]
    assert views.png() == views.drawings["flat"].png() != views.drawings["tall"].png()
    assert views.figure is views.drawings["flat"].figure and not views.parts


def test_a_name_that_is_not_there_is_refused(views):
    with pytest.raises(KeyError):
        views.show("round")
