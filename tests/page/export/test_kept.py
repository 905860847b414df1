"""What a live copy keeps is what the live page says: at every setting, to every answer (laws)."""

import base64
import functools
import io
import itertools
import json

import numpy as np
import pytest
from PIL import Image

from pcbchem.page import Afterwards, Check, Option, PageEnd, Prediction
from pcbchem.page.answers import Question
from pcbchem.page.export import kept
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.school import NO_AMOUNTS
from pcbchem.page.why import WhyQuestion
from pcbchem.page.widget import base, quiz
from pcbchem.page.widget.check import TABLES
from pcbchem.page.widget.controls import (
    Action,
    Carried,
    Choice,
    Field,
    PanelWords,
    Slider,
    Table,
    Text,
    TimeText,
    Upload,
)
from pcbchem.page.widget.panel import Panel

WATER = Slider("water", "Water", "parts", 0, 3, 0.1, 2)
VIEW = Choice("view", "Show", {"bars": "times", "film": "the film"}, "bars")
ANSWERS = {"half": Option("half as fast", "So one thinks."), "same": Option("the same", "No.")}
REASONS = {"less": Option("there is less", "Yes."), "enough": Option("there is enough", "Hm.")}


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()
    yield
    quiz.KEPT.clear()


@pytest.fixture
def asked():
    return Prediction("kept", "How fast?", ANSWERS, REASONS, told="It was a third.")


def build(narrow):
    """A line of ink that a setting moves, wide or narrow."""
    sheet = figure(1.0, 2.0 if narrow else 4.0)
    axes = sheet.subplots()
    axes.set(xlim=(0, 4), ylim=(0, 1))
    line = axes.axvline(0.0)
    return Drawing(sheet, (line,), line=line)


def show(drawing, water, view, predicted="-"):
    drawing.parts["line"].set_xdata([water, water])
    drawing.parts["line"].set_linewidth(5 if predicted == "half" and water == 2 else 1)
    said = f"{water:g} {view} {predicted}"
    guess = "Your prediction was of 2." if predicted in ANSWERS and water != 2 else ""
    alt, table = f"A line: {said} </script>", Table("Settings", ["view"], [[view]])
    return PanelWords(said, alt, "<b>h</b>", f"<p>{view}</p>", guess=guess, table=table)


def data_of(forms):
    """Return the data that a copy of a widget holds, as its script reads it."""
    html = forms["text/html"]
    start, end = '<div class="pcbchem-copy"><script type="application/json">', "</script></div>"
    assert html.startswith(start) and html.endswith(end)
    inside = html.removeprefix(start).removesuffix(end)
    assert "</" not in inside, "it would end the element"
    return json.loads(inside)


@pytest.mark.parametrize("most", [4, 12, 30, 200])
def test_law_steps_keep_start_and_low_end_and_stay_within_the_most(most):
    lists = kept.step_lists([WATER, VIEW], most)
    values = lists["water"]
    assert lists["view"] == ["bars", "film"]
    assert 2 * len(values) <= most
    assert values[0] == 0 and 2 in values and values[-1] <= 3
    steps = np.diff(values)
    assert np.allclose(steps, steps[0]) and np.isclose(steps[0] / 0.1, round(steps[0] / 0.1))
    # no shorter stride would do
    finer = [n for n in range(1, round(steps[0] / 0.1)) if 20 % n == 0]
    assert all(2 * len(range(0, 31, n)) > most for n in finer)


@pytest.mark.parametrize(
    "controls, most",
    [
        ([Field("x", "X", "m", 0, 1, 0.1, 0.5)], 200),
        ([Text("note", "Note", "", 9)], 200),
        ([TimeText("clear", "Clear after", 10, 600)], 200),
        ([VIEW], 1),
        ([WATER, VIEW], 1),
    ],
)
def test_law_what_cannot_be_drawn_beforehand_stays_still_and_says_so(controls, most):
    assert kept.step_lists(controls, most) is None
    panel = Panel("Still", controls, build, lambda drawing, **values: PanelWords("Said.", "Alt."))
    html = kept.kept_forms(panel, most)["text/html"]
    assert kept.STILL in html and html.endswith(panel.still_forms()["text/html"])


@pytest.mark.parametrize(
    "button", [Action("usual", "Take it"), Upload("artwork", "Artwork", (".png",), 9)]
)
@pytest.mark.parametrize("is_under_the_words", [True, False])
def test_law_what_a_button_does_takes_python(button, is_under_the_words):
    """And so its panel stays still, and says so."""
    places = {True: ([VIEW], [button]), False: ([VIEW, button], [])}
    controls, after_words = places[is_under_the_words]
    panel = Panel(
        "Still",
        controls,
        build,
        lambda drawing, **values: PanelWords("Said.", "Alt."),
        works={button.name: None},
        after_words=after_words,
    )
    assert kept.STILL in kept.kept_forms(panel)["text/html"]


def test_law_a_panel_may_be_drawn_at_fewer_settings_than_others():
    """Where its page gets too large: never at more than the copy allows."""
    small = Panel("Small", [WATER, VIEW], build, show, most_copied=12)
    for most in (4, 12, 200):
        steps = data_of(kept.kept_forms(small, most))["steps"]
        assert steps == kept.step_lists([WATER, VIEW], min(most, 12))


def test_law_what_no_page_hands_over_is_nothing_in_a_copy():
    assert kept.step_lists([VIEW, Carried("offcut")], 200) == {
        "view": ["bars", "film"],
        "offcut": [None],
    }
    assert kept.in_steps(Carried("offcut"), [None])["kind"] == "carried"


def test_law_a_panel_says_at_each_setting_what_it_says_live(asked):
    """And to each guess; before one, what it says where it starts."""
    panel = Panel("Kept", [WATER, VIEW], build, show, prediction=asked)
    data = data_of(kept.kept_forms(panel, 12))
    assert data["guesses"] == ["-", *ANSWERS] and data["predictions"] == ["kept"]
    names = ("readout", "alt", "head", "notes", "wrong", "guess")
    settings = itertools.product(*data["steps"].values())
    for values, states in zip(settings, data["states"], strict=True):
        setting = dict(zip(data["steps"], values, strict=True))
        for guess, (_, _, *places) in zip(data["guesses"], states, strict=True):
            _, words = panel.picture_and_words(False, **setting, predicted=guess)
            said = [data["texts"][place] for place in places]
            assert said == [*(getattr(words, name) for name in names), words.table.html()]
    _, words = panel.picture_and_words(False, water=2, view="bars", predicted=None)
    assert data["texts"][data["waiting"][2]] == words.readout
    slider, choice = data["groups"]
    assert slider["step"] == data["steps"]["water"][1] and slider["high"] == 3
    assert choice["options"] == [list(option) for option in VIEW.options.items()]


def test_law_a_guess_is_drawn_where_it_changes_the_picture(asked):
    """Nowhere else is there another one: twins would be three times as much."""
    panel = Panel("Kept", [WATER, VIEW], build, show, prediction=asked)
    data = data_of(kept.kept_forms(panel, 12))
    settings = list(itertools.product(*data["steps"].values()))
    for (water, _), states in zip(settings, data["states"], strict=True):
        without, half, same = (tuple(state[:2]) for state in states)
        assert same == without
        assert (half != without) == (water == 2)
    waters = len(data["steps"]["water"])
    assert len(data["pictures"]) == 2 * (waters + 1), "wide and narrow, and those of the guess"


def test_law_a_picture_looks_as_it_did_and_its_white_is_clear():
    panel = Panel("Kept", [WATER], build, functools.partial(show, view="bars"))
    data = data_of(kept.kept_forms(panel, 4))
    for place, narrow in enumerate((False, True)):
        drawing, _ = panel.picture_and_words(narrow, water=data["steps"]["water"][0])
        packed = base64.b64decode(data["pictures"][data["states"][0][0][place]])
        image = Image.open(io.BytesIO(packed))
        assert image.format == "WEBP"
        seen = np.asarray(image.convert("RGBA"), dtype=float)
        alpha = seen[..., 3:] / 255
        on_white = seen[..., :3] * alpha + 255 * (1 - alpha)
        meant = drawing.pixels(kept.SCALE).astype(float)
        assert on_white.shape == meant.shape
        # few colours: hardly a pixel at the edge of a line or letter is far off
        off = np.abs(on_white - meant).max(axis=-1)
        assert off.mean() < 1 and off.max() < 64
        assert seen[0, 0, 3] == 0 and (seen[..., 3] == 255).any()


def test_law_a_prediction_says_what_it_says_live(asked):
    data = data_of(kept.kept_forms(asked))
    assert not quiz.KEPT and asked.choice == "", "nothing was chosen for that"
    for choice, reason in (("", ""), ("-", ""), *itertools.product(ANSWERS, ("", *REASONS))):
        for first in ("", "-", *ANSWERS):
            asked.forget()
            asked.receive({"choice": "-", "reason": ""})
            asked.forget()
            asked.first = first
            if choice:
                asked.receive({"choice": choice, "reason": reason})
            elif first:
                asked.receive({"choice": first, "reason": ""})
                asked.receive({"choice": "", "reason": ""})
            else:
                continue  # nothing said yet
            made, *places = data["said"][f"{choice}|{reason}|{first}"]
            said = [data["texts"][place] for place in places]
            assert made == asked.made
            assert said == [asked.kept_words, asked.under, asked.words, asked.reply]


def half_of(seed):
    """Ask for half of a mass, and why."""
    options = (("a", "it is two", "No."), ("b", "it is one", "Yes."), ("c", "it is", "It is not."))
    half = Question("half", f"Half of {seed} g?", "mass", "g", seed / 2e3, 0.02, (), "Halve it.")
    return [half, WhyQuestion("why", "Why?", options, "b", "One is half of two.")]


def test_law_each_table_has_its_own_questions(asked):
    check = Check(half_of, after=(asked,))
    data = data_of(kept.kept_forms(check))
    assert data["predictions"] == ["kept"] and data["tables"] == 15
    assert {(sheet["table"], sheet["sheet"]) for sheet in data["sheets"]} == set(
        itertools.product(range(1, 16), (1, 2))
    )
    asked.choice = "-"
    for sheet in data["sheets"]:
        check.ask(sheet["seed"])
        assert (check.table, check.sheet) == (sheet["table"], sheet["sheet"])
        assert sheet["asks"] == check.asks
        assert sheet["judged"]["why"]["verdicts"]["b"] == {"grade": "right", "words": "Right. Yes."}
    assert data["sheets"][15]["seed"] == TABLES + 1


def test_law_a_text_waits_for_its_predictions(asked):
    data = data_of(kept.kept_forms(Afterwards("Twice *as long*.", asked)))
    assert data["html"] == "<p>Twice <em>as long</em>.</p>\n"
    assert data["predictions"] == ["kept"]
    assert data_of(kept.kept_forms(PageEnd("How?")))["link_words"].endswith("How?")


def test_law_what_has_no_answers_to_keep_says_so():
    with pytest.raises(TypeError, match="has no answers to keep"):
        kept.kept(object())


@pytest.mark.parametrize("live", [False, True])
def test_law_a_live_page_draws_no_copy_of_its_widgets(asked, monkeypatch, live):
    """Only where a copy is made does anything stand beside the widget."""
    monkeypatch.setattr(base, "copied_as", None)
    monkeypatch.setenv(NO_AMOUNTS, "")  # and what a live copy sets does not last
    assert "text/html" not in asked._repr_mimebundle_()[0]
    kept.copy_widgets(live)
    assert ("pcbchem-copy" in asked._repr_mimebundle_()[0]["text/html"]) == live


def test_law_the_end_of_a_slider_can_be_reached_in_its_steps():
    """1 + 1.2000000000000002 would lie beyond an end at 2.2, and a browser would stay at 1."""
    slider = Slider("parts", "Parts", "parts", 1.0, 3.0, 0.2, 1.0)
    for most in range(2, 12):
        values = kept.step_lists([slider], most)["parts"]
        settings = kept.in_steps(slider, values)
        steps = len(values) - 1
        assert settings["low"] + steps * settings["step"] <= settings["high"] + 1e-15, most
        assert f"{settings['step']:.12g}" == str(settings["step"])
