"""Predictions and checks keep, judge and say; errors stay until who saw them goes on (laws)."""

import html
import itertools
import re

import pytest

from pcbchem.page import Check, Prediction
from pcbchem.page.answers import Question, answer_words
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import quiz
from pcbchem.page.widget.controls import PanelWords, Slider
from pcbchem.page.widget.panel import PANELS, Panel

COUNT = itertools.count()
ASKED = "How many times longer?"
OPTIONS = {"a": "×1.3", "b": "×1.6", "c": "×2–3", "d": "×6–7"}


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


def send(widget, **message):
    """Do what the page does: one message with its number and the error seen; it is answered."""
    number = f"number {next(COUNT)}"
    seed = {"seed": widget.seed} if isinstance(widget, Check) else {}
    content = {"number": number, "seen": widget.error, **seed, **message}
    data = {"method": "custom", "content": content}
    widget._handle_msg({"content": {"data": data}, "buffers": []})
    assert widget.done == number


def still_html(widget):
    return widget._repr_mimebundle_()[0]["text/html"]


def test_law_a_choice_is_kept_and_said():
    prediction = Prediction("water", ASKED, OPTIONS)
    choices = []
    prediction.observe(lambda change: choices.append(change["new"]), ["choice"])
    assert prediction.choice == prediction.words == prediction.kept_words == ""
    send(prediction, choice="b")
    assert prediction.choice == "b" and choices == ["b"]
    assert prediction.kept_words.startswith("Your prediction is kept: ×1.6.")
    assert prediction.words == "Your prediction: ×1.6."


def test_law_a_prediction_is_kept_when_its_cell_runs_again():
    send(Prediction("water", ASKED, OPTIONS), choice="b")
    again = Prediction("water", ASKED, OPTIONS)
    assert again.choice == "b" and again.kept_words.startswith("Your prediction is kept: ×1.6.")
    assert Prediction("another", "And now?", OPTIONS).choice == ""
    assert Prediction("water", ASKED, {"x": "one", "y": "two"}).choice == "", "no such answer now"


def test_law_who_looks_without_one_has_chosen_that():
    prediction = Prediction("water", ASKED, OPTIONS)
    send(prediction, choice="-")
    assert prediction.choice == "-" and prediction.words == ""
    assert "No prediction" in prediction.kept_words
    assert Prediction("water", ASKED, OPTIONS).choice == "-"


@pytest.mark.parametrize("choice", ["b", "-"])
def test_law_asked_again_a_panel_hides_its_answer(choice):
    prediction = Prediction("water", ASKED, OPTIONS)
    panel = Panel(
        "Answer",
        [Slider("x", "X", "m", 0, 1, 1, 0)],
        lambda narrow: Drawing(figure(1.0, 1.0), ()),
        lambda drawing, x, predicted: PanelWords(
            "waits" if predicted is None else "×2.5", "A picture."
        ),
        prediction=prediction,
    )
    PANELS.pop(panel.title)
    assert panel.readout == "waits"
    send(prediction, choice=choice)
    assert panel.readout == "×2.5" and quiz.KEPT["water"] == choice
    send(prediction, choice="")
    assert panel.readout == "waits" and not quiz.KEPT
    assert panel.predicted == prediction.words == prediction.choice == ""
    assert prediction.kept_words.startswith("Asked again") and prediction.failure is None
    again = Prediction("water", ASKED, OPTIONS)
    assert again.choice == again.kept_words == "", "the cell run again asks too"
    send(prediction, choice="c")
    assert panel.readout == "×2.5"
    assert prediction.kept_words.startswith("Your prediction is kept: ×2–3.")


def test_law_an_unknown_choice_is_kept_as_a_failure_and_shown():
    prediction = Prediction("water", ASKED, OPTIONS)
    send(prediction, choice="z")
    assert isinstance(prediction.failure, ValueError)
    assert "choice = 'z' is not known: choose from a, b, c, d" in prediction.error
    send(prediction, choice="a")
    assert prediction.failure is None and prediction.error == "" and prediction.choice == "a"
    with pytest.raises(ValueError, match="choice = 'z'"):
        prediction.choice = "z"


@pytest.mark.parametrize(
    "options", [{}, {"a": "one"}, {"a": "one", "-": "two"}, {"": "one", "b": "two"}]
)
def test_law_options_that_cannot_be_are_refused(options):
    with pytest.raises(ValueError, match="options = "):
        Prediction("water", "?", options)


def test_law_answers_are_judged_in_python():
    sheet = Check(questions, seed=3)
    right = answer_words(sheet.questions[0].answer, "ratio", "")
    send(sheet, key="ratio", text=right)
    send(sheet, key="time", text="soon")
    assert sheet.verdicts["ratio"]["grade"] == "right"
    assert sheet.verdicts["ratio"]["text"] == right
    assert sheet.verdicts["time"]["grade"] == "unread"


def test_law_new_numbers_are_those_of_the_next_seed():
    sheet = Check(questions, seed=3)
    send(sheet, key="ratio", text="3")
    send(sheet, new=True)
    assert sheet.seed == 4 and sheet.verdicts == {} and sheet.questions == questions(4)


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
    assert sheet.seed == 4, "two clicks are one"
    send(sheet, key="ratio", text="1", seed=3)
    assert sheet.verdicts == {} and sheet.error == ""


def test_law_an_exported_prediction_needs_no_script():
    prediction = Prediction("water", "Longer or <shorter>?", {**OPTIONS, "d": "<×1"})
    send(prediction, choice="c")
    page = still_html(prediction)
    assert page.count("<li>") == 4 and "<li>&lt;×1</li>" in page
    assert "Longer or &lt;shorter&gt;?" in page and "Your prediction: ×2–3." in page


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


def test_law_a_number_is_tied_to_its_unit():
    assert quiz.tied("7½ min, 2 mol/L of 10 % at 20 °C") == (
        "7½\u00a0min, 2\u00a0mol/L of 10\u00a0% at 20\u00a0°C"
    )
    assert quiz.tied("3 minutes and 2 more") == "3 minutes and 2 more"
