"""A text waits for its predictions; the end of a page brings its reader up once (laws)."""

import pytest
from helpers.widgets import send, still_html

from pcbchem.page import Afterwards, PageEnd, Prediction
from pcbchem.page.widget import afterwards, quiz
from pcbchem.page.widget.afterwards import LATER

TEXT = "It took **12 min**, H<sub>2</sub>O.\n\n| a | b |\n|---|---|\n| 1 | 2 |\n"


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()


def test_law_a_text_waits_for_all_of_its_predictions():
    first = Prediction("first", "?", {"a": "one", "b": "two"})
    second = Prediction("second", "?", {"a": "one", "b": "two"}, {"x": "so", "y": "not so"})
    later = Afterwards(TEXT, first, second)
    for message in ({"choice": ""}, {"choice": "a"}):
        send(first, **message)
        assert later.html == "" and "12 min" not in str(later.get_state())
    send(second, choice="b", reason="")
    assert later.html == "", "without its reason it is not made"
    send(second, choice="b", reason="x")
    assert "<strong>12 min</strong>" in later.html and "H<sub>2</sub>O" in later.html
    assert "<td>2</td>" in later.html
    again = Afterwards(TEXT, first, second)
    assert again.html == later.html, "the cell run again"
    send(first, forget=True)
    assert later.html == "" and later.waits == LATER


def test_law_an_exported_text_is_folded():
    prediction = Prediction("first", "?", {"a": "one", "b": "two"})
    page = still_html(Afterwards(TEXT, prediction))
    assert page.startswith('<details class="pcbchem-predict-first"><summary>Predict first, then')
    assert "<strong>12 min</strong>" in page and page.endswith("</details>")
    assert still_html(Afterwards("Plain.")) == "<p>Plain.</p>\n"


def test_law_a_page_brings_its_reader_up_when_it_ran_as_a_whole(monkeypatch):
    prediction = Prediction("first", "?", {"a": "one", "b": "two"})
    assert PageEnd().fresh
    monkeypatch.setattr(afterwards, "WIDGETS", {prediction})
    prediction.birth -= 30.0
    assert PageEnd().fresh, "a search between them takes its time"
    prediction.birth -= 31.0
    assert not PageEnd().fresh, "the reader runs one cell after the other"
    monkeypatch.setattr(afterwards, "WIDGETS", set())
    assert not PageEnd().fresh, "there is nothing to go up to"


def test_law_the_link_says_where_it_leads():
    assert PageEnd().link_words == "Back up to the question"
    assert PageEnd("How long?").link_words == "Back up to the question: How long?"
    assert PageEnd(place="the planner").link_words == "Back up to the planner"
    assert still_html(PageEnd()) == ""
