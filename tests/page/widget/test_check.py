"""A check asks each table with numbers of its own, judges in Python, and forgets (laws)."""

import html
import re

import pytest
from helpers.widgets import send, still_html

from pcbchem.page import Check
from pcbchem.page.answers import Question, answer_words
from pcbchem.page.why import WhyQuestion
from pcbchem.page.widget import quiz
from pcbchem.page.widget.check import TABLES


def questions(seed):
    """A ratio, a time and a strength, with numbers of the seed."""
    return [
        Question("ratio", f"{seed} m to 1 m?", "ratio", "timesless", 1.0 * seed, 0.03, (), "3 ÷ 1"),
        Question("time", "How long,\nand why?", "time", "min", 60.0 * seed, 0.03, (), "1 min × 3"),
        Question(
            "strength",
            "<How strong?>",
            "concentration",
            "mol/L",
            1e3,
            0.02,
            (),
            "1 × 1\n= 1",
            "bottles",
        ),
    ]


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()


def test_law_answers_are_judged_in_python():
    sheet = Check(questions, seed=3)
    right = answer_words(sheet.questions[0].answer, "ratio", "")
    send(sheet, key="ratio", text=right)
    send(sheet, key="time", text="soon")
    assert sheet.verdicts["ratio"]["grade"] == "right"
    assert sheet.verdicts["ratio"]["text"] == right
    assert sheet.verdicts["time"]["grade"] == "unread"


def test_law_new_numbers_are_those_of_the_next_sheet():
    sheet = Check(questions, seed=3)
    assert (sheet.table, sheet.sheet) == (3, 1)
    send(sheet, key="ratio", text="3")
    send(sheet, new=True)
    assert sheet.seed == 43 and sheet.verdicts == {} and sheet.questions == questions(43)
    assert (sheet.table, sheet.sheet) == (3, 2)
    send(sheet, new=True)
    assert sheet.seed == 83 and (sheet.table, sheet.sheet) == (3, 3)


def test_law_each_table_has_numbers_of_its_own():
    sheet = Check(questions)
    for table in (1, 7, TABLES):
        send(sheet, table=table)
        assert sheet.questions == questions(table)
        assert (sheet.seed, sheet.table, sheet.sheet) == (table, table, 1)
    for table in (0, TABLES + 1, 2.5, "7"):
        send(sheet, table=table)
        assert "table" in sheet.error and sheet.table == TABLES, table


def test_law_table_sheet_and_answers_stay_when_the_cell_runs_again():
    sheet = Check(questions)
    send(sheet, table=7)
    send(sheet, new=True)
    send(sheet, key="ratio", text="47")
    again = Check(questions)
    assert (again.table, again.sheet, again.seed) == (7, 2, 47)
    assert again.verdicts == sheet.verdicts and again.verdicts["ratio"]["grade"] == "right"
    assert Check(questions, seed=3).table == 3, "another check of the page"


def why(seed):
    """A question that asks why."""
    options = (
        ("a", "It is <colder>.", "Is it?"),
        ("b", "It is wet.", "It is."),
        ("c", "Salt.", ""),
    )
    return [WhyQuestion("why", "Why?", options, "b", "Water is wet.", "bottles")]


def test_law_a_why_question_is_judged_by_its_reason():
    sheet = Check(why)
    assert sheet.asks == [
        {
            "key": "why",
            "text": "Why?",
            "from": "bottles",
            "steps": ["Water is wet."],
            "options": [["a", "It is <colder>."], ["b", "It is wet."], ["c", "Salt."]],
        }
    ]
    send(sheet, key="why", text="a")
    assert sheet.verdicts["why"] == {"text": "a", "grade": "slip", "words": "Not yet. Is it?"}
    send(sheet, key="why", text="b")
    assert sheet.verdicts["why"] == {"text": "b", "grade": "right", "words": "Right. It is."}


def test_law_an_exported_why_question_shows_its_answers():
    page = still_html(Check(why))
    assert page.count("<details>") == 1 and "<li>It is &lt;colder&gt;.</li>" in page
    assert "Is it?" not in page


def test_law_a_question_reaches_the_page_without_its_answer():
    asks = Check(questions).asks
    assert [ask["label"] for ask in asks] == [
        "Your answer: how many times less",
        "Your answer in minutes",
        "Your answer in mol/L",
    ]
    assert asks[2] == {
        "key": "strength",
        "text": "<How strong?>",
        "from": "bottles",
        "label": "Your answer in mol/L",
        "counts": "An answer within 2\u00a0% counts as right.",
        "steps": ["1 × 1", "= 1"],
    }


def test_law_an_error_of_the_sheet_is_kept_and_shown():
    def broken(seed):
        if seed > 1:
            raise RuntimeError("no more numbers")
        return questions(seed)

    sheet = Check(broken)
    send(sheet, new=True)
    assert isinstance(sheet.failure, RuntimeError) and "no more numbers" in sheet.error
    send(sheet, key="ratio", text="7")
    assert sheet.failure is None and sheet.error == ""
    assert sheet.verdicts["ratio"]["grade"] == "wrong"
    send(sheet, key="nothing", text="1")
    assert isinstance(sheet.failure, KeyError)


def test_law_three_answers_that_waited_are_all_judged():
    # the page sent them before Python had said a word
    sheet = Check(questions, seed=3)
    for key in ("ratio", "time", "strength"):
        send(sheet, key=key, text="1", seen="", seed=3)
    assert list(sheet.verdicts) == ["ratio", "time", "strength"]
    assert {verdict["text"] for verdict in sheet.verdicts.values()} == {"1"}


def test_law_no_error_is_passed_over():
    """It stays while answers come from who has not seen it; whoever has seen it goes on."""
    sheet = Check(questions)
    send(sheet, key="nothing", text="1", seen="")
    send(sheet, key="ratio", text="2", seen="")
    assert sheet.verdicts["ratio"]["text"] == "2"
    assert "KeyError: 'nothing'" in sheet.error and sheet.failure is not None
    send(sheet, key="ratio", text="3")
    assert sheet.error == "" and sheet.failure is None


def test_law_an_answer_to_numbers_that_are_gone_is_left():
    sheet = Check(questions, seed=3)
    send(sheet, new=True, seed=3)
    send(sheet, new=True, seed=3)
    assert sheet.seed == 43, "two clicks are one"
    send(sheet, key="ratio", text="1", seed=3)
    assert sheet.verdicts == {} and sheet.error == ""


def test_law_exported_questions_need_no_script():
    sheet = Check(questions)
    page = still_html(sheet)
    assert page.count("<details>") == 3 and "not an exam" in page and "<script" not in page
    text = html.unescape(re.sub("<[^>]+>", "", page.replace("<p>&lt;", "<p>‹")))
    text = text.replace("\u00a0", " ").replace("‹", "<")
    for question in sheet.questions:
        for line in (question.text + "\n" + question.explanation).splitlines():
            assert line in text
        assert f"An answer {question.tolerance_words()} counts as right." in text
