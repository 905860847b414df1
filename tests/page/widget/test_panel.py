"""A panel draws what it says, and says what it cannot; files, links, texts, progress (laws)."""

import dataclasses
import html
import io
import json

import numpy as np
import pytest
import traitlets as tr
from PIL import Image

from pcbchem.page import Option, Prediction
from pcbchem.page.picture import Drawing, figure, plain
from pcbchem.page.widget import panel as panels
from pcbchem.page.widget.controls import (
    Carried,
    Choice,
    Field,
    Group,
    Link,
    PanelWords,
    Slider,
    Table,
    Text,
    TimeText,
)
from pcbchem.page.widget.panel import Panel
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(autouse=True)
def own_panels(monkeypatch):
    monkeypatch.setattr(panels, "PANELS", {})


def build(narrow):
    white = figure(2.0, 3.9 if narrow else 8.0)
    axes = plain(white.subplots())
    axes.set(xlim=(0, 10), ylim=(0, 10))
    return Drawing(white, axes.plot([], []), line=axes.lines[0], drawn=[])


def show(drawing, water, bottles, more, **guess):
    if water == 10 and bottles == "strong":
        raise RuntimeError("planted")
    drawing.parts["line"].set_data([0, 10], [water, water])
    drawing.parts["drawn"].append((water, bottles, more))
    wrong = "More: too much." if more == 9 else ""
    words = f"{water:g} parts of {bottles}{guess or ''}"
    return PanelWords(words, f"a line at {water:g}", "<h4>Verdict</h4>", "<p>n</p>", wrong)


CONTROLS = (
    Slider("water", "Water", "parts", 0, 10, 0.1, 1),
    Choice("bottles", "Bottles", {"weak": "10 %", "strong": "31 %"}, "weak"),
    Group("More", (Field("more", "More", "mL", 0, 9, 1, None),), folded=True),
)


def new_panel(**more):
    return Panel("Demo", CONTROLS, build, show, **more)


def ask(panel, **values):
    """What the page sends: values and one more question in one message."""
    panel.set_state({"values": {**panel.values, **values}, "asked": panel.asked + 1})


def pixels(png):
    return np.asarray(Image.open(io.BytesIO(png)))


def test_law_the_first_picture_is_there_with_its_words():
    panel = new_panel()
    assert panel.values == {"water": 1, "bottles": "weak", "more": None}
    assert panel.readout == "1 parts of weak" and panel.alt == "a line at 1"
    assert panel.head == "<h4>Verdict</h4>" and panel.notes == "<p>n</p>"
    assert pixels(panel.png).shape == (192, 768, 3) and pixels(panel.png).min() < 200


def test_law_a_value_from_the_page_is_drawn_and_answered():
    panel = new_panel()
    first = panel.png
    ask(panel, water=7.5)
    assert panel.readout == "7.5 parts of weak" and panel.png != first
    assert panel.done == panel.asked == 1
    ask(panel, water=7.5)
    assert panel.done == 2, "the page waits for an answer though nothing changed"


def test_law_a_fine_narrow_screen_gets_its_own_picture():
    panel = new_panel()
    panel.set_state({"dpr": 2.0, "narrow": True, "asked": 1})
    height, width, _ = pixels(panel.png).shape
    assert height == 384 and abs(width - 2 * 96 * 3.9) < 1


def test_law_what_moves_is_the_same_as_a_whole_new_picture():
    moved, anew = new_panel(), new_panel()
    for water in (2, 9, 4):
        moved.redraw(water=water)
    anew.redraw(water=4)
    assert np.array_equal(pixels(moved.png), pixels(anew.png))


def test_law_a_page_s_error_is_kept_until_a_good_value():
    panel = new_panel()
    ask(panel, water=10, bottles="strong")
    assert isinstance(panel.failure, RuntimeError) and panel.error == "RuntimeError: planted\n"
    assert panel.done == panel.asked, "an answer, though a bad one"
    for part in (panel.head, panel.readout, panel.alt, panel.notes, panel.file, panel.handed):
        assert not part, "nothing of the last answer stays"
    ask(panel, water=3)
    assert panel.failure is None and panel.error == "" and panel.readout == "3 parts of strong"


def test_law_a_test_s_error_comes_out():
    with pytest.raises(RuntimeError, match="planted"):
        new_panel().redraw(water=10, bottles="strong")
    with pytest.raises(ValueError, match="acid is not a control: there are water, bottles, more"):
        new_panel().redraw(acid=3)


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
    panel = new_panel()
    with pytest.raises(ValueError, match=words):
        panel.redraw(**value)
    assert panel.values["water"] == 1 and panel.redraw(more=None)


def test_law_a_cell_run_again_leaves_one_panel_that_listens():
    guess, guesses = Prediction("listens", "?", {"a": "×1", "b": "×2"}), []

    def noting_show(drawing, **values):
        guesses.append(values["predicted"])
        return show(drawing, **values)

    for _ in range(3):
        panel = Panel("Demo", CONTROLS, build, noting_show, prediction=guess)
    assert list(panels.PANELS.values()) == [panel]
    guesses.clear()
    guess.choice = "a"
    assert guesses == ["a"], "drawn once"
    KEPT.clear()


def test_law_of_many_corners_each_control_goes_to_its_ends(monkeypatch):
    """Alone, with the others at their start; then a sample, the same each time."""
    monkeypatch.setattr(panels, "MOST_CORNERS", 16)
    panel = new_panel()
    alone = [{}, {"water": 0}, {"water": 10}, {"bottles": "strong"}, {"more": 0}, {"more": 9}]
    corners = list(panel.corners())
    assert corners[: len(alone)] == alone
    sample = corners[len(alone) :]
    assert len(sample) == 2 and all(len(corner) == 3 for corner in sample)
    assert list(panel.corners()) == corners


def test_law_a_wrong_input_is_said_and_not_saved():
    panel = new_panel(files=(lambda **values: json.dumps(values), json.loads))
    assert json.loads(panel.file) == panel.values
    ask(panel, more=9)
    assert panel.wrong == "More: too much." and panel.file == "" and panel.failure is None


def opening(text):
    if "water" not in text:
        raise ValueError("is no plan of ours")
    values = json.loads(text)
    return values, values.pop("remark", "")


def test_law_a_file_fills_the_controls():
    panel = new_panel(files=(lambda **values: json.dumps(values), opening))
    panel.set_state({"opened": '{"water": 4, "more": 2}', "asked": 1})
    assert panel.values == {"water": 4, "bottles": "weak", "more": 2}
    assert panel.readout.startswith("4 parts") and panel.opened == ""
    ask(panel, water=5)
    assert panel.readout.startswith("5 parts"), "the file is not opened again"


def test_law_a_remark_on_a_file_goes_with_the_next_value():
    """It stands beside the controls, with the values that it is about."""
    panel = new_panel(files=(lambda **values: json.dumps(values), opening))
    panel.set_state({"opened": '{"water": 4, "remark": "older & colder"}', "asked": 1})
    assert panel.remark == "older & colder" and panel.done == 1 and panel.values["water"] == 4
    ask(panel, water=4)
    assert panel.remark == ""


def test_law_a_foreign_file_changes_nothing():
    panel = new_panel(files=(lambda **values: json.dumps(values), opening))
    panel.redraw(water=4)
    panel.set_state({"opened": '{"soup": 4}', "asked": 1})
    assert panel.error == "is no plan of ours" and panel.failure is None and panel.done == 1
    assert panel.values["water"] == 4 and panel.readout.startswith("4 parts")
    assert panel.opened == ""


def test_law_a_file_that_breaks_its_reader_is_an_error():
    def broken(text):
        raise RuntimeError("broken")

    panel = new_panel(files=(lambda **values: json.dumps(values), broken))
    panel.set_state({"opened": "{}", "asked": 1})
    assert isinstance(panel.failure, RuntimeError) and panel.error == "RuntimeError: broken\n"
    assert panel.readout == panel.opened == "" and panel.done == 1


@pytest.fixture
def guess():
    KEPT.clear()
    answers = {"a": Option("×1", "Too little."), "b": "×2"}
    yield Prediction("panel", "?", answers, {"x": Option("so", "Not so."), "y": "why not"})
    KEPT.clear()


def test_law_a_prediction_is_drawn_when_it_is_made_and_stays(guess):
    panel = new_panel(prediction=guess)
    assert panel.readout.endswith("{'predicted': None}")
    assert panel.predicted == panel.reply == ""
    guess.choice = "a"
    assert panel.readout.endswith("{'predicted': None}"), "without a reason it waits"
    guess.reason = "x"
    assert panel.readout.endswith("{'predicted': 'a'}")
    assert panel.predicted == "Your prediction: ×1, because so."
    assert panel.reply == "Too little. Not so."
    ask(panel, water=5)
    assert panel.predicted == "Your prediction: ×1, because so." and "'a'" in panel.readout
    guess.reason = "y"
    assert panel.reply == "Too little."
    guess.choice = ""
    assert panel.readout.endswith("{'predicted': None}")
    assert panel.predicted == panel.reply == ""


def test_law_a_choice_is_drawn_once(guess):
    panel = new_panel(prediction=guess)
    start = len(panel.drawings[False].parts["drawn"])
    guess.choice = "a"
    guess.reason = "x"
    guess.choice = "b"
    assert len(panel.drawings[False].parts["drawn"]) == start + 2


def test_law_words_of_its_own_stand_in_place_of_the_reply(guess):
    def judging(drawing, predicted, **values):
        return dataclasses.replace(show(drawing, **values), guess="Right." if predicted else "")

    panel = Panel("Demo", CONTROLS, build, judging, prediction=guess)
    assert panel.predicted == panel.guess == ""
    guess.choice, guess.reason = "b", "x"
    assert panel.predicted == "Your prediction: ×2, because so."
    assert (panel.guess, panel.reply) == ("Right.", "")
    assert guess.reply == "Not so.", "which another panel says"
    ask(panel, water=10, bottles="strong")
    assert panel.error and panel.predicted == panel.guess == panel.reply == ""


def test_law_without_a_kernel_the_answer_is_folded(guess):
    panel = new_panel(prediction=guess)
    guess.choice, guess.reason = "b", "x"
    bundle = panel.still_forms()
    page = html.unescape(bundle["text/html"])
    folded = '<details class="pcbchem-predict-first"><summary>Predict first, then open</summary>'
    assert page.startswith(folded) and page.endswith("</details>")
    assert 'alt="a line at 1"' in page
    assert "'-'" in page and "'b'" not in page, "whoever reads there has made their own"
    assert "<h4>Verdict</h4>" in page and "<p>n</p>" in page
    assert bundle["text/plain"] == "Demo: predict first."
    assert panel.readout.endswith("{'predicted': 'b'}"), "and the live one stays"
    assert "<details" not in new_panel().still_forms()["text/html"]


def test_law_a_picture_without_controls_waits_for_a_prediction(guess):
    panel = Panel(
        "Bare",
        [],
        build,
        lambda drawing, predicted: PanelWords(f"{predicted}", "White."),
        prediction=guess,
    )
    assert panel.readout == "None"
    guess.choice = "-"
    assert panel.readout == "-" and panel.values == {}


def test_law_without_a_kernel_its_words_are_words():
    """What a panel says is no HTML, but for head and notes."""
    said = PanelWords("1 < 2 & 3", 'so "<said>"', "<h4>Verdict</h4>")
    panel = Panel("Demo", CONTROLS[:1], build, lambda drawing, water: said)
    page = panel.still_forms()["text/html"]
    assert ">1 &lt; 2 &amp; 3<" in page and 'alt="so &quot;&lt;said&gt;&quot;"' in page
    assert "<h4>Verdict</h4>" in page


def test_law_a_link_waits_for_the_prediction_too(guess):
    """Where it leads the answer may be read."""
    link = Link("Take it", "x.ipynb", lambda water, **_: {"parts": water})
    panel = new_panel(prediction=guess, links=[link])
    assert panel.handed == [{}]
    guess.choice = "-"
    assert panel.handed == [{"parts": 1}]
    guess.choice = ""
    assert panel.handed == [{}]


def test_law_a_link_hands_over_what_the_controls_say():
    links = [
        Link("Take it", "x.ipynb", lambda water, **_: {"parts": water}),
        Link("See it", "y.ipynb", lambda **_: {}),
    ]
    panel = new_panel(links=links)
    panel.redraw(water=3)
    assert panel.handed == [{"parts": 3}, {}]
    assert panel.links == [["Take it", "x.ipynb"], ["See it", "y.ipynb"]]


def test_law_a_picture_that_only_waits_says_nothing_to_the_prediction():
    """It is of something else than what was predicted."""
    prediction = Prediction("waits", "How many?", {"a": "one", "b": "two"})
    shown, silent = (
        Panel(f"replies {replies}", CONTROLS, build, show, prediction=prediction, replies=replies)
        for replies in (True, False)
    )
    prediction.choice = "a"
    assert (shown.predicted, silent.predicted) == ("Your prediction: one.", "")


def settle(old, new, entered):
    """Ten times the number in the strong unit, unless it was written there."""
    if old["bottles"] == new["bottles"] or "more" in entered:
        return {}, ""
    return {"more": 5}, "more is 5"


def enter(panel, *changes):
    """What the page sends: changes in the order of entering, each under its question's number."""
    steps = [[panel.asked + place, change] for place, change in enumerate(changes, 1)]
    panel.set_state({"entered": steps, "asked": panel.asked + len(changes)})


def test_law_a_unit_brings_its_number_along():
    panel = new_panel(settle=settle)
    enter(panel, {"bottles": "strong"})
    assert panel.values["more"] == 5 and panel.remark == "more is 5"
    enter(panel, {"bottles": "weak", "more": 3})
    assert (panel.values["more"], panel.remark) == (3, ""), "what was written is not converted"
    assert panel.entered == []


def test_law_what_is_entered_while_python_works_counts_in_order():
    panel = new_panel(settle=settle)
    enter(panel, {"more": 2}, {"bottles": "strong"}, {"water": 2})
    assert (panel.values["more"], panel.values["water"]) == (5, 2) and panel.remark == "more is 5"


def test_law_what_came_before_does_not_count_again():
    """A page sends all that it has no answer to, some of it twice."""
    panel = new_panel(settle=settle)
    steps = [[1, {"more": 2}], [2, {"bottles": "strong"}]]
    panel.set_state({"entered": steps, "asked": 2})
    panel.set_state({"entered": [*steps, [3, {"water": 4}]], "asked": 3})
    assert (panel.values["more"], panel.values["water"]) == (5, 4)


def test_law_a_press_on_the_picture_moves_the_cursor():
    panel = new_panel(points=lambda x, y, narrow: {"water": round(10 * x, 1)})
    panel.set_state({"pointed": [0.25, 0.5], "asked": 1})
    assert panel.values["water"] == 2.5 and panel.readout.startswith("2.5 parts")
    ask(panel, water=3)
    assert panel.values["water"] == 3 and panel.pointed == [], "once"


def last_of(panel):
    """What is sent to the page beside the state, last."""
    return panel.sent[-1]


@pytest.fixture
def fleeting(monkeypatch):
    """A panel of which nothing is kept in a saved page, and what it sends."""
    monkeypatch.setattr(Panel, "sent", [], raising=False)
    monkeypatch.setattr(Panel, "send", lambda panel, *message: panel.sent.append(message))
    return new_panel(on_paper="Not on paper.", copied=lambda drawing: PanelWords("safe", "nothing"))


def test_law_a_fleeting_panel_leaves_no_word_in_a_saved_page(fleeting):
    ask(fleeting, water=4)
    assert fleeting.readout == "4 parts of weak" and fleeting.png
    state = fleeting.get_state()
    for name in ("png", "head", "readout", "alt", "notes", "file", "headline", "row", "looks"):
        assert not state[name], name
    json.dumps({name: state[name] for name in panels.BLANK if name != "png"})
    assert state["on_paper"] == "Not on paper."
    assert "4 parts" not in str(new_panel().still_forms()) and repr(fleeting) == "Not on paper."


def test_law_a_fleeting_panel_sends_its_answer_instead(fleeting):
    ask(fleeting, water=4)
    answer, buffers = last_of(fleeting)
    assert answer["answer"]["readout"] == "4 parts of weak" and answer["answer"]["done"] == 1
    assert buffers == [fleeting.png]
    ask(fleeting, water=10, bottles="strong")
    answer, _ = last_of(fleeting)
    assert answer["answer"]["readout"] == "" and answer["answer"]["done"] == 2


def test_law_a_copy_of_a_fleeting_panel_shows_what_stands_for_it(fleeting):
    forms = fleeting.still_forms()
    assert "safe" in forms["text/html"] and "1 parts" not in str(forms)
    assert forms["text/plain"] == "Demo: safe"
    assert new_panel().get_state()["readout"] == "1 parts of weak", "any other panel keeps its own"


NOTE = Text("note", "Note", "tray", 6)
CLEAR = TimeText("clear", "Clear after", 10, 600, when=("bottles", ("weak",)))


def saying(drawing, note, clear, bottles, **more):
    return PanelWords(f"{note!r} {clear!r} {bottles}", "white", row={"note": note})


def worded(show=saying, **more):
    """A panel with a text, and a time that is there for weak bottles only."""
    return Panel("Demo", (NOTE, CLEAR, CONTROLS[1], Carried("offcut")), build, show, **more)


def test_law_a_text_that_cannot_be_is_said_beside_its_field():
    """It counts as blank, stays in its field, and nothing is saved or handed on beside it."""
    link = Link("Take it", "x.ipynb", lambda **values: values)
    files = (lambda **values: json.dumps(values), json.loads)
    panel = worded(links=[link], files=files)
    assert panel.readout == "'tray' '' weak" and panel.beside_fields == {} and panel.file
    ask(panel, note="a\nb", clear="4")
    assert panel.readout == "'' '' weak" and panel.error == "" and panel.failure is None
    assert set(panel.beside_fields) == {"note", "clear"}
    assert panel.beside_fields["note"].startswith("Note = 'a\\nb' holds a line end")
    assert "could be minutes or seconds" in panel.beside_fields["clear"]
    assert panel.values["note"] == "a\nb" and panel.values["clear"] == "4"
    assert panel.file == "" and panel.handed == [{}]
    ask(panel, note="b", clear="4 min")
    assert panel.beside_fields == {} and panel.readout == "'b' '4 min' weak"
    assert panel.handed[0]["note"] == "b" and panel.file


def test_law_a_text_that_is_not_seen_keeps_nobody_waiting():
    panel = worded()
    ask(panel, clear="soup", bottles="strong")
    assert panel.beside_fields == {} and panel.readout == "'tray' '' strong"
    ask(panel, bottles="weak")
    assert "'soup'" in panel.beside_fields["clear"]


def test_law_a_time_is_said_as_it_was_read():
    panel = worded()
    ask(panel, clear="4:10")
    assert panel.read_as == {"clear": "= 250 s"} and panel.readout == "'tray' '4:10' weak"
    ask(panel, clear="250 s")
    assert panel.read_as == {}


def test_law_an_answer_puts_words_beside_a_field_too():
    def refusing(drawing, note, **more):
        beside = {"bottles": "Not these."} if note == "no" else {}
        return PanelWords("so", "white", beside_fields=beside)

    panel = worded(refusing)
    ask(panel, note="no")
    assert panel.beside_fields == {"bottles": "Not these."} and panel.readout == "so"
    ask(panel, note="yes")
    assert panel.beside_fields == {}
    with pytest.raises(ValueError, match="soup is not a control: there are note, clear, bottles"):
        worded(lambda drawing, **_: PanelWords("a", "b", beside_fields={"soup": "x"}))


def test_law_a_test_s_text_that_cannot_be_comes_out():
    with pytest.raises(ValueError, match="Note = 'xxxxxxx'… is too long: it may have 6"):
        worded().redraw(note="x" * 7)
    assert worded().redraw(note="x" * 6)


def test_law_what_was_handed_over_is_carried_until_reset():
    seen = []

    def noting(drawing, offcut, **_):
        seen.append(offcut)
        return PanelWords("a", "b")

    panel = worded(noting)
    ask(panel, offcut={"label": "3"})
    ask(panel, offcut=None)
    assert seen == [None, {"label": "3"}, None]
    with pytest.raises(ValueError, match="offcut = 3 is impossible"):
        panel.redraw(offcut=3)


def test_law_what_is_entered_settles_with_texts_that_can_be():
    seen = []

    def noting(old, new, entered):
        seen.append((old["clear"], new["clear"], entered))
        return ({"note": "x" * 7}, "") if new["note"] == "long" else ({}, "")

    panel = worded(settle=noting)
    enter(panel, {"clear": "soup"}, {"clear": "4 min"})
    assert seen == [("", "", ["clear"]), ("", "4 min", ["clear"])]
    enter(panel, {"note": "long"})
    assert panel.error == "" and "too long" in panel.beside_fields["note"]


@pytest.fixture
def told(monkeypatch):
    """What is sent to the page beside the state."""
    messages = []
    monkeypatch.setattr(Panel, "send", lambda panel, content, *_: messages.append(content))
    return messages


def counting(drawing, water, progress, **_):
    for step in range(1000):
        progress(step / 1000, "making new draws")
    return PanelWords(f"{water:g} parts", "white")


def test_law_a_long_answer_tells_its_page_how_far_it_is(told):
    """Each per cent once, and nobody where no page waits."""
    panel = Panel("Demo", CONTROLS, build, counting, progress=True)
    panel.redraw(water=2)
    assert told == []
    ask(panel, water=3)
    assert [message["progress"] for message in told] == pytest.approx(
        [step / 100 for step in range(100)], abs=0.0011
    )
    assert {message["words"] for message in told} == {"making new draws"}
    assert {message["question"] for message in told} == {panel.asked}
    panel.picture_and_words(True, water=4)
    assert len(told) == 100


def test_law_a_table_is_told_with_its_answer():
    rows = Table("Offcuts", ["line"], [["<3>"]], ["bad row"])
    panel = Panel("Demo", [], build, lambda drawing: PanelWords("a", "b", table=rows))
    assert panel.table == rows.html() and rows.html() in panel.still_forms()["text/html"]
    hidden = Panel(
        "Demo",
        [],
        build,
        lambda drawing: PanelWords("a", "b", table=rows),
        on_paper="Not on paper.",
        copied=lambda drawing: PanelWords("safe", "nothing"),
    )
    assert hidden.table == rows.html() and hidden.get_state()["table"] == ""
    assert "bad row" not in hidden.still_forms()["text/html"]


def test_law_what_is_to_be_read_first_stands_above_all():
    """Also in a copy; and it goes with an answer that breaks, as everything else does."""

    def cautious(drawing, water, **_):
        if water == 10:
            raise RuntimeError("planted")
        return PanelWords("words", "white", headline="Large", top="<p>Care first.</p>")

    panel = Panel("Care", CONTROLS, build, cautious)
    assert panel.top == "<p>Care first.</p>"
    copy = panel.still_forms()["text/html"]
    assert copy.index("Care first.") < copy.index("Large") < copy.index("<img")
    panel.values, panel.asked = {**panel.values, "water": 10}, 1
    assert panel.top == "" and panel.error


class Shared(tr.HasTraits):
    """What several panels show."""

    settled = tr.Int(0)


def test_law_a_panel_follows_what_it_shows_besides_its_values():
    """Until another one takes its place; an error is shown, and comes out of nobody else's work."""
    shared, other = Shared(), Shared()

    def shows(drawing, **_):
        if shared.settled == 3:
            raise RuntimeError("planted")
        return PanelWords(f"{shared.settled} and {other.settled}", "white")

    panel = Panel("Follows", CONTROLS, build, shows, follows=(shared, other))
    shared.settled += 1
    other.settled += 1
    assert panel.readout == "1 and 1" and panel.asked == 0
    shared.settled = 3
    assert "planted" in panel.error and panel.readout == ""
    shared.settled = 4
    assert panel.readout == "4 and 1" and panel.error == ""
    again = Panel("Follows", CONTROLS, build, shows, follows=(shared, other))
    shared.settled = 5
    assert (again.readout, panel.readout) == ("5 and 1", "4 and 1"), "it has retired"
