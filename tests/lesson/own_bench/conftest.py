"""What the tests of one's own bench share: panels that are open, and one without its slow time."""

import pytest
from helpers.own_bench import Tab

from pcbchem.lesson.own_bench import Bench, panel_of_offcuts
from pcbchem.page.picture import Drawing
from pcbchem.page.widget import panel as panels

NOT_ASKED = "nobody asks for a time here"


@pytest.fixture(autouse=True)
def no_panels(monkeypatch):
    """No panel takes the place of another test's."""
    monkeypatch.setattr(panels, "PANELS", {})


@pytest.fixture
def open_log(monkeypatch):
    """Open the panel of offcuts in a folder, or in none: no time, no picture: they take long."""

    def finding(*_):
        raise ValueError(NOT_ASKED)

    monkeypatch.setattr(Bench, "finding", finding)
    monkeypatch.setattr(Drawing, "png", lambda *_: b"")
    return lambda folder=None: Tab(panel_of_offcuts(Bench(folder)))
