"""Predict before you look, and check yourself afterwards: two small widgets of a page."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import traitlets as tr

from ...common.limits import InputError
from ..answers import Question, judge
from .base import PageWidget, error_words

KEPT: dict[str, str] = {}
"""The prediction made under each key in this kernel: it outlives a cell that is run again."""
WITHOUT = "-"
"""The choice of who looks without a prediction."""
HOW_TO_WRITE = (
    "Write an answer as you like: 7.5 min, 7½ min, 7:30 and 450 s are read alike, and so are "
    "2.1 mol/L and 2,1 M. A number alone counts in the unit asked for."
)
PRACTICE = (
    "This is practice, not an exam: the answers are worked out in this notebook, and whoever looks "
    "for them finds them."
)
IN_FULL = {
    "min": " in minutes",
    "g": " in grams",
    "s": " in seconds",
    "": ": how many times",
    "timesless": ": how many times less",
}
"""How the name of an answer field says its unit, where that is clearer."""
# not before other words: "3 minutes and 2 more" may end a line anywhere
BEFORE_UNIT = re.compile(r"(?<=[\d½]) (?=(?:min|s|h|m?L|g|k?J|K|mol|part|parts)\b|[%°])")
"""A space between a number and its unit."""


def tied(text: str) -> str:
    """Return the text with each number held to its unit, so that no line ends between them."""
    return BEFORE_UNIT.sub("\u00a0", text)


class Quiz(PageWidget):
    """What both widgets share: messages of the page, none of them ever merged with another.

    `done` is the number of the message answered last.
    """

    scripts = ("shared.js", "quiz.js")
    styles = ("shared.css", "quiz.css")
    kind = tr.Unicode().tag(sync=True)
    done = tr.Unicode().tag(sync=True)

    def __init__(self, **traits: Any) -> None:
        super().__init__(**traits)
        self.on_msg(self._received)

    def receive(self, message: Mapping[str, Any]) -> None:
        """Do what a message of the page asks for; an error comes out."""
        raise NotImplementedError

    def _received(self, widget: Any, message: Mapping[str, Any], buffers: Any) -> None:
        """Answer the page; an error stays until who has `seen` it sends something that works."""
        with self.turn:
            # an error that came while this message was on its way has not been read yet
            words = self.error
            if message.get("seen", "") == words:
                words = ""
            try:
                self.receive(message)
            except Exception as error:
                self.failure = error
                words += error_words(error)
            if not words:
                self.failure = None
            # in one message: the page must not take an old error for the answer
            with self.hold_sync():
                self.error, self.done = words, message["number"]

    def still(self) -> str:
        """Return the widget for a page without a kernel, as HTML."""
        raise NotImplementedError

    def still_forms(self) -> dict[str, str]:
        """Return it by its media type."""
        return {"text/html": self.still()}


class Prediction(Quiz):
    """A question to answer before the picture is seen.

    Its `choice` is "" until an answer is chosen, then the key of the answer; "-" is the choice of
    who looks without a prediction.

    Parameters
    ----------
    key : str
        The name under which the choice is kept in this kernel: running the cell again keeps it.
    question : str
        What to predict.
    options : dict of str
        Each answer in words, by key.

    Raises
    ------
    InputError
        Fewer than two answers, or a key that has a meaning of its own.
    """

    question = tr.Unicode().tag(sync=True)
    choices: Any = tr.List().tag(sync=True)
    choice = tr.Unicode().tag(sync=True)
    kept_words = tr.Unicode().tag(sync=True)

    def __init__(self, key: str, question: str, options: Mapping[str, str]) -> None:
        if len(options) < 2 or {"", WITHOUT} & set(options):
            rule = f"give at least 2, with keys other than '' and {WITHOUT!r}"
            raise InputError("options", rule, value=options, about=f" = {list(options)}")
        self.key, self.options = key, dict(options)
        pairs = [list(pair) for pair in options.items()]
        super().__init__(kind="predict", question=question, choices=pairs)
        self.observe(self._chosen, ["choice"])  # before a kept choice is set: it is said too
        kept = KEPT.get(key, "")
        # a cell that was changed meanwhile may no longer have that answer
        if kept in (WITHOUT, *options):
            self.choice = kept

    @property
    def words(self) -> str:
        """The prediction as a panel shows it beside the result; "" when there is none."""
        if self.choice not in self.options:
            return ""
        return f"Your prediction: {self.options[self.choice]}."

    # for an author who sets it in a cell, as for the page
    @tr.validate("choice")
    def _checked(self, proposal: Any) -> str:
        choice: str = proposal["value"]
        if choice not in ("", WITHOUT, *self.options):
            rule = f"choose from {', '.join(self.options)}"
            raise InputError("choice", rule, value=choice, wrong="is not known")
        return choice

    def _chosen(self, change: Any) -> None:
        """Keep the choice, and say on the page that it is kept."""
        if not self.choice:
            KEPT.pop(self.key, None)
            self.kept_words = "Asked again: the answer waits for you."
            return
        KEPT[self.key] = self.choice
        if self.choice == WITHOUT:
            self.kept_words = "No prediction made. You can still make one here."
        else:
            answer = self.options[self.choice]
            self.kept_words = f"Your prediction is kept: {answer}. You can still change it here."

    def receive(self, message: Mapping[str, Any]) -> None:
        """Keep the choice that the page sends, or ask again where it sends ""."""
        self.choice = message["choice"]

    def still(self) -> str:
        """Return the question and its answers as a list, and the prediction if one is made."""
        answers = "".join(f"<li>{html.escape(words)}</li>" for words in self.options.values())
        prediction = f"<p>{html.escape(self.words)}</p>" if self.words else ""
        question = f"<p><strong>{html.escape(self.question)}</strong></p>"
        return f"{question}<ul>{answers}</ul>{prediction}"


class Check(Quiz):
    """Questions whose answers are computed, with a field for each.

    "New numbers" asks them with the next seed.

    Parameters
    ----------
    questions : callable
        Takes a seed and gives a list of `Question`.
    seed : int
        The first seed [-].

    Raises
    ------
    ValueError
        Whatever `questions` refuses.
    """

    intro = tr.Unicode().tag(sync=True)
    practice = tr.Unicode().tag(sync=True)
    asks: Any = tr.List().tag(sync=True)
    verdicts: Any = tr.Dict().tag(sync=True)
    seed = tr.Int().tag(sync=True)

    def __init__(self, questions: Callable[[int], Sequence[Question]], seed: int = 1) -> None:
        self.make = questions
        self.questions: list[Question] = []
        super().__init__(kind="check", intro=tied(HOW_TO_WRITE), practice=PRACTICE)
        self.ask(seed)

    def ask(self, seed: int) -> None:
        """Ask with the numbers of a seed [-], and forget what was answered."""
        questions = list(self.make(seed))
        asks = [for_page(question) for question in questions]
        # in one message: no verdict may stand beside a question that it is not for
        with self.hold_sync():
            self.questions, self.asks, self.verdicts, self.seed = questions, asks, {}, seed

    def receive(self, message: Mapping[str, Any]) -> None:
        """Judge an answer, or ask with new numbers."""
        if message["seed"] != self.seed:
            return  # sent before the numbers that it is about were gone
        if message.get("new"):
            self.ask(self.seed + 1)
            return
        question = {question.key: question for question in self.questions}[message["key"]]
        verdict = judge(question, message["text"])
        shown = {
            "text": message["text"],
            "grade": verdict.grade,
            "words": tied(verdict.words),
        }
        # a new dictionary: one changed in place would not be sent to the page
        self.verdicts = {**self.verdicts, question.key: shown}

    def still(self) -> str:
        """Return the questions, each with its explanation folded under it."""
        items = "".join(f"<li>{still_question(question)}</li>" for question in self.questions)
        return f"<ol>{items}</ol><p>{html.escape(PRACTICE)}</p>"


def for_page(question: Question) -> dict[str, Any]:
    """Return a question as the page's script takes it, without its answer."""
    return {
        "key": question.key,
        "text": tied(question.text),
        "from": question.from_lesson,
        "label": "Your answer" + IN_FULL.get(question.unit, f" in {question.unit}"),
        "counts": tied(f"An answer {question.tolerance_words()} counts as right."),
        "steps": tied(question.explanation).splitlines(),
    }


def still_question(question: Question) -> str:
    """Return a question as HTML for a page without a kernel."""
    return (
        f"{lines_in(question.text, 'p')}"
        f"<p>An answer {question.tolerance_words()} counts as right.</p>"
        f"<details><summary>Show how it is worked out</summary>"
        f"<ol>{lines_in(question.explanation, 'li')}</ol></details>"
    )


def lines_in(text: str, tag: str) -> str:
    """Return each line of a text in an HTML element of its own."""
    return "".join(f"<{tag}>{html.escape(line)}</{tag}>" for line in tied(text).splitlines())
