"""A prediction keeps answer and reason, says so, and replies to each (laws)."""

import pytest
from helpers.widgets import send, still_html

from pcbchem.page import Afterwards, Option, Prediction
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import quiz
from pcbchem.page.widget.controls import PanelWords, Slider
from pcbchem.page.widget.panel import PANELS, Panel

ASKED = "How many times longer?"
REASONS = {"x": Option("half as much comes through", "It does."), "y": "it is colder"}
REPLIED = {"a": Option("9 min", "Twice as long."), "b": Option("18 min")}
OPTIONS = {"a": "×1.3", "b": "×1.6", "c": "×2–3", "d": "×6–7"}


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()


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
    assert panel.readout == "×2.5" and quiz.KEPT["water"] == (choice, "", choice)
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
    with pytest.raises(ValueError, match="answers = "):
        Prediction("water", "?", options)


def test_law_an_exported_prediction_needs_no_script():
    prediction = Prediction("water", "Longer or <shorter>?", {**OPTIONS, "d": "<×1"})
    send(prediction, choice="c")
    page = still_html(prediction)
    assert page.count("<li>") == 4 and "<li>&lt;×1</li>" in page
    assert "Longer or &lt;shorter&gt;?" in page and "Your prediction: ×2–3." in page


def test_law_an_answer_counts_with_its_reason_only():
    prediction = Prediction("time", ASKED, REPLIED, REASONS)
    changes = []
    prediction.observe(lambda change: changes.append(change["new"]), ["settled"])
    send(prediction, choice="a", reason="")
    assert not prediction.made and prediction.guess is None
    assert prediction.words == prediction.reply == ""
    assert prediction.kept_words.startswith("Choose a reason too")
    send(prediction, choice="a", reason="x")
    assert prediction.made and prediction.guess == "a"
    assert prediction.words == "Your prediction: 9 min, because half as much comes through."
    assert prediction.reply == "Twice as long. It does."
    send(prediction, choice="b", reason="x")
    assert prediction.reply == "It does.", "an answer without a reply"
    send(prediction, choice="b", reason="y")
    assert prediction.reply == ""
    send(prediction, choice="-", reason="")
    assert prediction.made and prediction.guess == "-" and prediction.reason == ""
    assert prediction.words == prediction.reply == ""
    assert changes == [("a", "x"), ("b", "x"), ("b", "y"), ("-", "")], "each of them once"


def test_law_a_reason_is_kept_when_its_cell_runs_again():
    send(Prediction("time", ASKED, REPLIED, REASONS), choice="a", reason="x")
    again = Prediction("time", ASKED, REPLIED, REASONS)
    assert again.made and again.words.endswith("because half as much comes through.")
    changed = Prediction("time", ASKED, REPLIED, {"u": "one", "v": "two"})
    assert changed.choice == "a" and not changed.made, "no such reason now"


def test_law_what_waits_for_the_first_hears_of_the_one_run_again():
    """The cell of the question is run again alone: the cells below know the old one only."""
    first = Prediction("time", ASKED, REPLIED, REASONS)
    settled = []
    first.observe(lambda change: settled.append(change["new"]), ["settled"])
    later = Afterwards("It took 12 min.", first)
    again = Prediction("time", ASKED, REPLIED, REASONS)
    send(again, choice="a", reason="x")
    assert first.made and first.words == again.words and "12 min" in later.html
    once_more = Prediction("time", ASKED, REPLIED, REASONS)
    assert once_more.made
    assert settled == [("a", "x")], "and nothing is drawn anew for that"
    send(once_more, choice="")
    assert first.guess is None and again.guess is None and later.html == ""
    changed = Prediction("time", ASKED, {"c": "7 min", "d": "8 min"})
    send(changed, choice="c")
    assert first.guess is None, "the old cell has no such answer"
    other = Prediction("strength", ASKED, REPLIED, REASONS)
    send(other, choice="a", reason="x")
    assert first.guess is None, "another question"


def test_law_what_was_said_at_first_is_not_lost():
    """Who changes a prediction has seen the answer; new pupils have said nothing yet."""
    prediction = Prediction("time", ASKED, REPLIED, REASONS)
    send(prediction, choice="a", reason="")
    send(prediction, choice="b", reason="")
    send(prediction, choice="b", reason="x")
    assert "At first" not in prediction.words, "the first one did not count yet"
    send(prediction, choice="a", reason="x")
    said = "9 min, because half as much comes through. At first you said: 18 min."
    assert said in prediction.words and said in prediction.kept_words
    assert Prediction("time", ASKED, REPLIED, REASONS).words == prediction.words
    send(prediction, choice="b", reason="x")
    assert "At first" not in prediction.words, "back to it"
    send(prediction, choice="")
    send(prediction, choice="-", reason="")
    assert prediction.words == ""
    send(prediction, forget=True)
    send(prediction, choice="-", reason="")
    send(prediction, choice="a", reason="x")
    assert prediction.words.endswith("comes through. At first you looked without one.")
    send(prediction, forget=True)
    send(prediction, choice="a", reason="x")
    assert "At first" not in prediction.words


def test_law_an_unknown_reason_is_shown_as_an_error():
    prediction = Prediction("time", ASKED, REPLIED, REASONS)
    send(prediction, choice="a", reason="z")
    assert "reason = 'z' is not known: choose from x, y" in prediction.error
    with pytest.raises(ValueError, match="reasons = "):
        Prediction("time", ASKED, REPLIED, {"x": "one"})


def test_law_the_page_gets_no_reply_before_it_is_due():
    """A reply tells the answer: nothing of it is sent with the question."""
    prediction = Prediction("time", ASKED, REPLIED, REASONS, alone=True, told="It was 12 min.")
    sent = str(prediction.get_state(["choices", "becauses", "under", "kept_words", "question"]))
    assert "9 min" in sent and "half as much" in sent
    for words in ("Twice as long", "It does", "It was 12"):
        assert words not in sent, words


def test_law_alone_it_says_reply_and_what_is_told_itself():
    prediction = Prediction("time", ASKED, REPLIED, REASONS, alone=True, told="It was 12 min.")
    send(prediction, choice="a", reason="")
    assert prediction.under == ""
    send(prediction, choice="a", reason="x")
    assert prediction.under == "Twice as long. It does.\nIt was 12\u00a0min."
    send(prediction, choice="-", reason="")
    assert prediction.under == "It was 12\u00a0min."
    send(prediction, choice="", reason="")
    assert prediction.under == ""
    beside_panel = Prediction("other", ASKED, REPLIED)
    send(beside_panel, choice="a")
    assert beside_panel.reply == "Twice as long." and beside_panel.under == ""


def test_law_an_exported_prediction_shows_its_reasons_and_no_reply():
    page = still_html(Prediction("time", ASKED, REPLIED, REASONS, told="It was 12 min."))
    assert page.count("<li>") == 4 and "<li>half as much comes through</li>" in page
    assert "because …" in page and "Twice as long" not in page
    assert "12 min" not in page.partition("pcbchem-predict-first")[0]


def test_law_a_page_without_a_kernel_tells_it_when_it_is_opened():
    """Under the fold that its reader opens after a prediction, and nowhere else."""
    still = Prediction("time", ASKED, REPLIED, alone=True, told="Ten times.").still()
    before, _, under = still.partition("pcbchem-predict-first")
    assert "Ten times." in under and "Ten times." not in before
