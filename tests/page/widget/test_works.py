"""A press does its work once and says so; files come in pieces; rows are worked out anew (laws)."""

import pytest

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import panel as panels
from pcbchem.page.widget.controls import Action, Done, PanelWords, Slider, Upload
from pcbchem.page.widget.panel import Panel
from pcbchem.page.widget.works import CORRECT_FIRST, PRESSES, Beside, refusal_in_words

ITEMS = (
    Slider("water", "Water", "parts", 0, 10, 1, 1),
    Action("usual", "Take the usual"),
    Upload("artwork", "Artwork", (".png",), 1000),
)


def usual(values, came_with, progress):
    progress(0.5, "half")
    return Done({"water": values["water"] + 1}, "One more.", "<p>so</p>", [("2", {"water": 2})])


def artwork(values, came_with, progress):
    if "removed" in came_with:
        return Done({"water": 0}, "Gone.")
    if came_with["data"] == b"boom":
        raise RuntimeError("planted")
    if not came_with["data"]:
        raise ValueError("is empty")
    return Done(remark=f"{came_with['name']}: {len(came_with['data'])} B")


def rows(kept, values):
    if kept == [{"water": 13}]:
        raise RuntimeError("planted")
    return f"<p>{len(kept)} beside {values['water']}</p>", "a,b", [1] if len(kept) > 1 else []


@pytest.fixture
def panel(monkeypatch):
    monkeypatch.setattr(panels, "PANELS", {})
    monkeypatch.setattr(Panel, "sent", [], raising=False)
    monkeypatch.setattr(Panel, "send", lambda panel, *message: panel.sent.append(message[0]))
    return Panel(
        "Buttons",
        ITEMS,
        lambda narrow: Drawing(figure(1.0)),
        lambda drawing, water: PanelWords(f"{water:g} parts", "white"),
        works={"usual": usual, "artwork": artwork},
        refusal_words=lambda error: f"Artwork {error}",
        beside=Beside("rows", rows),
    )


def say(panel, buffers=(), **content):
    """What the page sends."""
    panel._heard(panel, content, list(buffers))
    return panel.sent[-1]


def upload(panel, data, number, size=2):
    """Send a file in pieces, and press."""
    pieces = [data[start : start + size] for start in range(0, len(data), size)] or [b""]
    for place, piece in enumerate(pieces):
        panel._heard(panel, {"upload": number, "piece": place, "count": len(pieces)}, [piece])
    return say(panel, press="artwork", number=number, upload_of=number, file_name="a.png")


def test_law_a_press_tells_how_far_it_is_and_what_came_of_it(panel):
    result = say(panel, press="usual", number="1")
    assert panel.sent[0] == {"work": "usual", "number": "1", "progress": 0.5, "words": "half"}
    assert (result["remark"], result["html"]) == ("One more.", "<p>so</p>")
    assert result["offers"] == [["2", {"water": 2}]] and result["file"] is None
    assert panel.values["water"] == 2 and panel.readout == "2 parts"


def test_law_a_press_that_comes_twice_counts_once(panel):
    for number in ("1", "1", "2"):
        say(panel, press="usual", number=number)
    assert panel.values["water"] == 3


def test_law_a_file_is_put_together_from_its_pieces(panel):
    assert upload(panel, b"12345", "7")["remark"] == "a.png: 5 B"
    assert panel.pieces == {}, "and not kept"


def test_law_a_press_of_a_while_ago_counts_once_too(panel):
    for number in range(PRESSES):
        say(panel, press="usual", number=str(number))
    count = len(panel.sent)
    for number in range(PRESSES):
        say(panel, press="usual", number=str(number))
    assert len(panel.sent) == count and PRESSES == 50


def test_law_a_file_that_did_not_come_whole_is_not_worked_on(panel):
    panel._heard(panel, {"upload": "7", "piece": 1, "count": 2}, [b"12"])
    result = say(panel, press="artwork", number="7", upload_of="7", file_name="a.png")
    assert result["remark"] == "a.png did not arrive whole: choose it again."
    assert result["taken"] is None and panel.failure is None and panel.uploaded == {}


def test_law_what_an_old_page_lets_through_is_refused_here(panel):
    for name, size, words in (("a.gif", 5, "none of these"), ("a.png", 1001, "not arrive whole")):
        panel._heard(panel, {"upload": name, "piece": 0, "count": 1}, [b"x" * size])
        result = say(panel, press="artwork", number=name, upload_of=name, file_name=name)
        assert words in result["remark"] and result["taken"] is None


def test_law_a_file_is_called_by_its_name_alone(panel, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel._heard(panel, {"upload": "7", "piece": 0, "count": 1}, [b"12"])
    result = say(panel, press="artwork", number="7", upload_of="7", file_name="../up/<b>.png")
    assert result["remark"] == "<b>.png: 2 B" and result["taken"] == ["<b>.png", 2]
    assert not list(tmp_path.iterdir()) and not (tmp_path.parent / "up").exists(), "not written"


def test_law_a_file_is_removed_by_its_work(panel):
    upload(panel, b"12345", "7")
    assert panel.uploaded == {"artwork": ["a.png", 5]}
    result = say(panel, press="artwork", number="8", removed=True)
    assert (result["remark"], result["taken"]) == ("Gone.", []) and panel.uploaded == {}


def test_law_a_page_that_is_loaded_again_is_told_its_files(panel):
    say_nothing = len(panel.sent)
    panel._heard(panel, {"fresh": True}, [])
    assert len(panel.sent) == say_nothing and panel.values["water"] == 1
    upload(panel, b"12345", "7")
    panel.redraw(water=5)
    panel._heard(panel, {"fresh": True}, [])
    assert panel.sent[-1] == {"work": "artwork", "number": "", "taken": ["a.png", 5]}
    assert panel.values["water"] == 5


def test_law_nothing_is_pressed_beside_a_field_that_holds_what_cannot_be(panel):
    panel.beside_fields = {"water": "Not this."}
    result = say(panel, press="usual", number="1")
    assert result["remark"] == CORRECT_FIRST and panel.values["water"] == 1
    assert upload(panel, b"12", "7")["remark"] == CORRECT_FIRST and panel.pieces == {}


def test_law_what_cannot_be_written_is_said(panel):
    def full(*_):
        raise OSError(28, "No space", "x")

    panel.works["usual"] = full
    assert say(panel, press="usual", number="1")["remark"].startswith("Artwork [Errno 28]")
    assert panel.failure is None
    assert refusal_in_words(ValueError("is empty")) == "is empty"
    assert refusal_in_words(OSError(13, "Permission denied", "/home/maker/log.csv")) == (
        "Permission denied (log.csv): nothing was written."
    )
    assert refusal_in_words(TimeoutError()) == "TimeoutError: nothing was written."


def test_law_a_refusal_is_said_in_the_page_s_words(panel):
    assert upload(panel, b"", "7")["remark"] == "Artwork is empty"
    assert panel.failure is None


def test_law_a_work_that_fails_says_so_and_keeps_it(panel):
    assert upload(panel, b"boom", "7")["remark"] == "RuntimeError: planted\n"
    assert isinstance(panel.failure, RuntimeError)


def test_law_rows_are_shown_with_those_that_are_lost(panel):
    shown = say(panel, beside=[{"water": 1}, {"water": 2}], number="3")
    assert shown == {
        "beside": True,
        "number": "3",
        "html": "<p>2 beside 1</p>",
        "csv": "a,b",
        "lost": [1],
    }
    assert say(panel, beside=[], number="4")["html"] == "", "none is nothing to work out"


def test_law_rows_that_break_are_said(panel):
    assert say(panel, beside=[{"water": 13}], number="3")["html"] == "RuntimeError: planted\n"
    assert isinstance(panel.failure, RuntimeError)


def test_law_the_page_knows_how_many_rows_there_may_be():
    assert Beside("x", rows, most=4, puts_back=False, keep="Add").for_script() == {
        "name": "x",
        "most": 4,
        "puts_back": False,
        "keep": "Add",
        "heading": "Kept beside",
        "file": "beside.csv",
        "redraws": False,
    }


def test_law_a_picture_of_the_rows_is_drawn_with_them(monkeypatch):
    """In the same turn, and when there are none any more."""
    monkeypatch.setattr(panels, "PANELS", {})
    monkeypatch.setattr(Panel, "send", lambda panel, *message: None)
    kept = []

    def keep(rows, values):
        if rows == [{"water": 13}]:
            raise RuntimeError("planted")
        kept[:] = rows
        return "", "", []

    panel = Panel(
        "Rows",
        ITEMS[:1],
        lambda narrow: Drawing(figure(1.0)),
        lambda drawing, water: PanelWords(f"{len(kept)} rows", "white"),
        beside=Beside("rows", keep, redraws=True),
    )
    for number in (2, 1, 0):
        panel._heard(panel, {"beside": [{"water": 1}] * number, "number": "1"}, [])
        assert panel.readout == f"{number} rows"
    panel._heard(panel, {"beside": [{"water": 13}], "number": "2"}, [])
    assert isinstance(panel.failure, RuntimeError) and panel.readout == "0 rows"


def test_law_a_file_of_bytes_goes_beside_its_words(panel):
    """Byte for byte: as a text it would lose what is none."""
    sent = []
    panel.send = lambda *message: sent.append(message)
    for data, stands in ((b"\xff\x00a", ["a.csv", None]), ("text", ["a.csv", "text"])):
        panel.works["usual"] = lambda *_, data=data: Done(file=("a.csv", data))
        panel._heard(panel, {"press": "usual", "number": str(data)}, [])
        content, buffers = sent[-1]
        assert content["file"] == stands
        assert buffers == ([data] if isinstance(data, bytes) else [])


def test_law_a_work_may_have_the_panel_drawn_again(panel):
    """Though it changes no value: what it has read is shown."""
    count = []
    panel.show = lambda drawing, water: PanelWords(f"{len(count)} drawn", "white")
    for redraws, words in ((False, "1 parts"), (True, "1 drawn")):
        panel.works["usual"] = lambda *_, redraws=redraws: (
            count.append(1) or Done(remark="Read.", redraws=redraws)
        )
        count.clear()
        say(panel, press="usual", number=f"redraws {redraws}")
        assert panel.readout == words and panel.values["water"] == 1
