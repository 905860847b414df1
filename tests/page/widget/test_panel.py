"""A panel draws what it says, keeps the page's errors, lets a test's errors out and sweeps its corners (laws)."""

import io
import itertools
import json
import types

import numpy as np
import pytest
import traitlets
from PIL import Image

from pcbchem.page.picture import Drawing, Picture, figure, plain
from pcbchem.page.widget import panel as panels
from pcbchem.page.widget.controls import Choice, Field, Group, Said, Slider, flat, for_script
from pcbchem.page.widget.panel import Panel, sweep


@pytest.fixture(autouse=True)
def own_panels(monkeypatch):
    monkeypatch.setattr(panels, "PANELS", {})


def build(narrow):
    made = figure(2.0, 3.9 if narrow else 8.0)
    axes = plain(made.subplots())
    axes.set(xlim=(0, 10), ylim=(0, 10))
    return Drawing(made, axes.plot([], []), line=axes.lines[0], drawn=[])


def show(drawing, water, bottles, more, **guess):
    if water == 10 and bottles == "strong":
        raise RuntimeError("planted")
    drawing.parts["line"].set_data([0, 10], [water, water])
    drawing.parts["drawn"].append((water, bottles, more))
    wrong = "More: too much." if more == 9 else ""
    words = f"{water:g} parts of {bottles}{guess or ''}"
    return Said(words, f"a line at {water:g}", "<h4>Verdict</h4>", "<p>n</p>", wrong)


CONTROLS = (
    Slider("water", "Water", "parts", 0, 10, 0.1, 1),
    Choice("bottles", "Bottles", {"weak": "10 %", "strong": "31 %"}, "weak"),
    Group("More", (Field("more", "More", "mL", 0, 9, 1, None),), folded=True),
)


def made(**more):
    return Panel("Demo", CONTROLS, build, show, **more)


def ask(panel, **values):
    """What the page sends: values and one more question in one message."""
    panel.set_state({"values": {**panel.values, **values}, "asked": panel.asked + 1})


def pixels(png):
    return np.asarray(Image.open(io.BytesIO(png)))


def test_law_the_first_picture_is_there_with_its_words():
    panel = made()
    assert panel.values == {"water": 1, "bottles": "weak", "more": None}
    assert (
        panel.readout == "1 parts of weak"
        and panel.alt == "a line at 1"
        and panel.head
        and panel.notes
    )
    assert pixels(panel.png).shape == (192, 768, 3) and pixels(panel.png).min() < 200


def test_law_a_value_from_the_page_is_drawn_and_answered():
    panel = made()
    first = panel.png
    ask(panel, water=7.5)
    assert (
        panel.readout == "7.5 parts of weak"
        and panel.png != first
        and panel.done == panel.asked == 1
    )
    ask(panel, water=7.5)
    assert panel.done == 2, "the page waits for an answer though nothing changed"
    panel.set_state({"dpr": 2.0, "narrow": True, "asked": 3})
    assert pixels(panel.png).shape[:2] == (384, 748) or pixels(panel.png).shape[:2] == (384, 749)


def test_law_what_moves_is_the_same_as_a_whole_new_picture():
    moved, anew = made(), made()
    for water in (2, 9, 4):
        moved.redraw(water=water)
    anew.redraw(water=4)
    assert np.array_equal(pixels(moved.png), pixels(anew.png))


def test_law_the_pages_error_is_shown_and_kept_and_the_next_value_mends_it():
    panel = made()
    ask(panel, water=10, bottles="strong")
    assert isinstance(panel.failure, RuntimeError) and panel.error == "RuntimeError: planted\n"
    assert panel.done == panel.asked, "an answer, though a bad one"
    assert not any((panel.head, panel.readout, panel.alt, panel.notes, panel.file, panel.handed)), (
        "nothing of the last"
    )
    ask(panel, water=3)
    assert panel.failure is None and panel.error == "" and panel.readout == "3 parts of strong"


def test_law_a_tests_error_comes_out():
    with pytest.raises(RuntimeError, match="planted"):
        made().redraw(water=10, bottles="strong")
    with pytest.raises(RuntimeError, match="planted"):
        sweep()
    with pytest.raises(ValueError, match="acid is not a control: there are water, bottles, more"):
        made().redraw(acid=3)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ({"water": 50}, "water = 50 is impossible: it must be 0 to 10 parts"),
        ({"water": None}, "water = nan"),
        ({"water": "x"}, "water = 'x'"),
        ({"bottles": "none"}, "bottles = 'none'"),
        ({"more": -1}, "more = -1 .* 0 to 9 mL"),
    ],
)
def test_law_a_value_beyond_its_control_is_refused_by_name(value, words):
    panel = made()
    with pytest.raises(ValueError, match=words):
        panel.redraw(**value)
    assert panel.values["water"] == 1 and panel.redraw(more=None)


def test_law_a_cell_run_again_leaves_one_panel_that_listens():
    guess, seen = Guess(), []

    def noted(drawing, **values):
        seen.append(values["predicted"])
        return show(drawing, **values)

    for _ in range(3):
        panel = Panel("Demo", CONTROLS, build, noted, prediction=guess)
    assert list(panels.PANELS.values()) == [panel]
    seen.clear()
    guess.choice = "a"
    assert seen == ["a"], "drawn once"


def test_law_a_sweep_goes_to_every_corner(monkeypatch):
    panel = Panel(
        "Demo",
        CONTROLS,
        build,
        lambda drawing, water, bottles, more: show(drawing, min(water, 9.9), bottles, more),
    )
    panel.drawings.clear()
    assert sweep() == 2 * (3 * 2 * 3 + 1)
    corners = set(itertools.product((0, 1, 9.9), ("weak", "strong"), (0, None, 9)))
    for narrow in (False, True):
        assert set(panel.drawings[narrow].parts["drawn"]) == corners
    monkeypatch.setattr(panels, "MOST_CORNERS", 7)
    some = list(panel.corners())
    assert {(name, value) for corner in some for name, value in corner.items()} == {
        ("water", 0),
        ("water", 10),
        ("bottles", "strong"),
        ("more", 0),
        ("more", 9),
    } and {} in some


def test_law_a_silent_draw_fails_the_sweep():
    Panel(
        "Mute",
        CONTROLS[:1],
        build,
        lambda drawing, water: Said("", "", "") if water == 10 else Said("a", "b"),
    )
    with pytest.raises(AssertionError, match="Mute: nothing said at"):
        sweep()


def test_law_a_wrong_input_is_said_and_not_saved():
    panel = made(files=(lambda **values: json.dumps(values), json.loads))
    assert json.loads(panel.file) == panel.values
    ask(panel, more=9)
    assert panel.wrong == "More: too much." and panel.file == "" and panel.failure is None


def opening(text):
    if "water" not in text:
        raise ValueError("is no plan of ours")
    return json.loads(text)


def test_law_a_file_fills_the_controls_and_a_foreign_one_changes_nothing():
    panel = made(files=(lambda **values: json.dumps(values), opening))
    panel.set_state({"opened": '{"water": 4, "more": 2}', "asked": 1})
    assert panel.values == {"water": 4, "bottles": "weak", "more": 2} and panel.readout.startswith(
        "4 parts"
    )
    panel.set_state({"opened": '{"soup": 4}', "asked": 2})
    assert panel.error == "is no plan of ours" and panel.failure is None and panel.done == 2
    assert panel.values["water"] == 4 and panel.readout.startswith("4 parts") and panel.opened == ""


class Guess(traitlets.HasTraits):
    choice = traitlets.Unicode("")
    options = types.MappingProxyType({"a": "×1", "b": "×2"})

    @property
    def words(self):
        return (
            f"Your prediction: {self.options[self.choice]}." if self.choice in self.options else ""
        )


def test_law_a_prediction_is_drawn_when_it_is_made_and_stays():
    guess = Guess()
    panel = made(prediction=guess)
    assert panel.readout.endswith("{'predicted': None}") and panel.predicted == ""
    guess.choice = "b"
    assert (
        panel.readout.endswith("{'predicted': 'b'}") and panel.predicted == "Your prediction: ×2."
    )
    ask(panel, water=5)
    assert panel.predicted == "Your prediction: ×2." and "'b'" in panel.readout


def test_law_a_page_without_a_kernel_shows_all_of_it_to_who_made_no_prediction():
    panel = made(prediction=Guess())
    bundle = panel._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert 'alt="a line at 1"' in data["text/html"] and "'-'" in data["text/html"].replace(
        "&#x27;", "'"
    )
    assert "<h4>Verdict</h4>" in data["text/html"] and "<p>n</p>" in data["text/html"]
    assert panel.readout.endswith("{'predicted': None}"), "and the live one still waits"


def test_law_a_link_hands_over_what_the_controls_say():
    panel = made(link=("Take it", "x.ipynb", lambda water, **_: {"parts": water}))
    panel.redraw(water=3)
    assert panel.handed == {"parts": 3} and panel.link == ["Take it", "x.ipynb"]


def test_law_names_are_once_and_a_control_reaches_the_script_whole():
    with pytest.raises(ValueError, match="the name water stands 2 times"):
        flat([CONTROLS[0], CONTROLS[0]])
    assert for_script(CONTROLS[1])["options"] == [["weak", "10 %"], ["strong", "31 %"]]
    assert for_script(CONTROLS[2])["controls"][0] == {
        "kind": "field",
        "name": "more",
        "label": "More",
        "unit": "mL",
        "low": 0,
        "high": 9,
        "step": 1,
        "start": None,
        "when": None,
    }


def test_law_a_still_picture_has_words_and_a_narrow_twin():
    page = Picture(b"wide", 'so "said"', b"narrow")._repr_html_()
    assert (
        'alt="so &quot;said&quot;"' in page
        and page.count("data:image/png") == 2
        and "max-width: 600px" in page
    )
    assert Picture(b"", "only <words>")._repr_html_() == "<p>only &lt;words&gt;</p>"
