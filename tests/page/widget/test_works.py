"""A press does its work once and says so; files come in pieces; rows are worked out anew (laws)."""

import pytest

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import panel as panels
from pcbchem.page.widget.controls import Action, Done, PanelWords, Slider, Upload
from pcbchem.page.widget.panel import Panel
from pcbchem.page.widget.works import MOST_UPLOADS, Beside

ITEMS = (
    Slider("water", "Water", "parts", 0, 10, 1, 1),
    Action("usual", "Take the usual"),
    Upload("artwork", "Artwork", (".png",), 1000),
)


def usual(values, came_with, progress):
    progress(0.5, "half")
    return Done({"water": values["water"] + 1}, "One more.", "<p>so</p>", [("2", {"water": 2})])


def artwork(values, came_with, progress):
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


def test_law_a_piece_that_comes_again_is_not_taken_twice(panel):
    for _ in range(2):
        panel._heard(panel, {"upload": "7", "piece": 0, "count": 1}, [b"12"])
    assert b"".join(panel.pieces["7"]) == b"12"


def test_law_uploads_that_were_given_up_are_forgotten(panel):
    for number in range(MOST_UPLOADS + 2):
        panel._heard(panel, {"upload": number, "piece": 0, "count": 2}, [b"x"])
    assert len(panel.pieces) == MOST_UPLOADS


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
    assert Beside("x", rows, most=4, puts_back=False).for_script() == {
        "name": "x",
        "most": 4,
        "puts_back": False,
    }
