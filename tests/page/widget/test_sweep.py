"""A sweep draws every panel of a page at every corner, and lets the first error out (laws)."""

import itertools

import pytest

from pcbchem.page import Option, Prediction
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import panel as panels
from pcbchem.page.widget import sweep as sweeping
from pcbchem.page.widget.controls import Carried, Choice, Field, PanelWords, Slider, Text, TimeText
from pcbchem.page.widget.panel import Panel
from pcbchem.page.widget.quiz import KEPT
from pcbchem.page.widget.sweep import sweep

CONTROLS = (
    Slider("water", "Water", "parts", 0, 10, 0.1, 1),
    Choice("bottles", "Bottles", {"weak": "10 %", "strong": "31 %"}, "weak"),
    Field("more", "More", "mL", 0, 9, 1, None),
)


@pytest.fixture(autouse=True)
def own_panels(monkeypatch):
    monkeypatch.setattr(panels, "PANELS", {})


def build(narrow):
    return Drawing(figure(1.0), drawn=[])


def noting(drawing, **values):
    drawing.parts["drawn"].append(tuple(values.values()))
    return PanelWords("a", "b")


def test_law_a_sweep_goes_to_every_corner():
    panel = Panel("Demo", CONTROLS, build, noting)
    panel.drawings.clear()
    assert sweep() == 2 * (3 * 2 * 3 + 1)
    corners = set(itertools.product((0, 1, 10), ("weak", "strong"), (0, None, 9)))
    for narrow in (False, True):
        assert set(panel.drawings[narrow].parts["drawn"]) == corners


def test_law_a_sweep_writes_texts_as_long_as_may_be():
    controls = (Text("note", "Note", "tray", 6), TimeText("clear", "Clear", 10, 600), Carried("x"))
    panel = Panel("Demo", controls, build, noting)
    panel.drawings.clear()
    assert sweep() == 2 * (3 * 2 + 1)
    corners = set(itertools.product(("tray", "", "xxxxxx"), ("", "10 s"), (None,)))
    assert set(panel.drawings[False].parts["drawn"]) == corners


def test_law_an_error_comes_out_of_a_sweep():
    def show(drawing, water, **values):
        if water == 10:
            raise RuntimeError("planted")
        return PanelWords("a", "b")

    Panel("Demo", CONTROLS, build, show)
    with pytest.raises(RuntimeError, match="planted"):
        sweep()


def test_law_each_prediction_is_swept():
    KEPT.clear()
    guess = Prediction("swept", "?", {"a": Option("×1", "Too little."), "b": "×2"})
    Panel("Bare", [], build, lambda drawing, predicted: PanelWords("a", "b"), prediction=guess)
    assert sweep() == 2 * (1 + 1 + 3), "its one corner, and each thing that can be predicted"
    KEPT.clear()


def test_law_a_big_sweep_is_narrow_at_every_fourth(monkeypatch):
    monkeypatch.setattr(sweeping, "MANY", 2)
    panel = Panel("Demo", CONTROLS[:1], build, lambda drawing, water: PanelWords("a", "b"))
    panel.drawings.clear()
    assert sweep() == 4 + 1, "three corners and the start; narrow at the first"


def test_law_a_silent_draw_fails_the_sweep():
    Panel(
        "Mute",
        CONTROLS[:1],
        build,
        lambda drawing, water: PanelWords("", "", "") if water == 10 else PanelWords("a", "b"),
    )
    with pytest.raises(AssertionError, match="Mute: nothing said at"):
        sweep()
