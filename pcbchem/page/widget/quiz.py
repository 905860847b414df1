"""Predict before you look, and check yourself afterwards: two small widgets of a page."""

from __future__ import annotations

import html
import pathlib
import re
import threading
import traceback
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import anywidget
import traitlets as tr

from ..answers import Question, judge

KEPT: dict[str, str] = {}
"""The prediction made under each key in this kernel: it outlives a cell that is run again."""
WITHOUT = "-"
"""The choice of who looks without a prediction."""
HOW_TO_WRITE = (
    "Write an answer as you like: 7.5 min, 7½ min, 7:30 and 450 s are read alike, and so are 2.1 mol/L and "
    "2,1 M. A number alone counts in the unit asked for."
)
PRACTICE = (
    "This is practice, not an exam: the answers are worked out in this notebook, and whoever looks for them "
    "finds them."
)
IN_FULL = {
    "min": " in minutes",
    "g": " in grams",
    "s": " in seconds",
    "": ": how many times",
    "timesless": ": how many times less",
}
"""How the name of an answer field says its unit, where that is clearer."""
HERE = pathlib.Path(__file__)


def tied(text: str) -> str:
    """The text with each number held to its unit, so that no line ends between them."""
    return re.sub(r"(?<=[\d½]) (?=(?:min|s|h|m?L|g|k?J|K|mol|part|parts)\b|[%°])", "\u00a0", text)


class Quiz(anywidget.AnyWidget):
    """What both widgets share: messages of the page, none of them ever merged with another; errors shown and kept.

    `done` is the number of the message answered last; `failure` keeps what `error` says, for tests.
    """

    _esm = HERE.with_name("quiz.js")
    kind = tr.Unicode().tag(sync=True)
    done = tr.Unicode().tag(sync=True)
    error = tr.Unicode().tag(sync=True)

    @property
    def _css(self) -> str:
        return "\n".join(
            HERE.with_name(name).read_text(encoding="utf-8") for name in ("panel.css", "quiz.css")
        )

    def __init__(self, **given: Any) -> None:
        self.failure: Exception | None = None
        self.one_by_one = threading.Lock()
        super().__init__(**given)
        self.on_msg(self._received)

    def receive(self, message: Mapping[str, Any]) -> None:
        """Do what a message of the page asks for; an error comes out."""
        raise NotImplementedError

    def _received(self, widget: Any, message: Mapping[str, Any], buffers: Any) -> None:
        """What the page calls. An error stays until whoever has `seen` it sends something that works."""
        with self.one_by_one:
            words = "" if message.get("seen", "") == self.error else self.error
            try:
                self.receive(message)
            except Exception as failure:
                self.failure, words = (
                    failure,
                    words + "".join(traceback.format_exception_only(failure)),
                )
            if not words:
                self.failure = None
            with self.hold_sync():
                self.error, self.done = words, message["number"]

    def still(self) -> str:
        """The widget for a page without a kernel, as HTML."""
        raise NotImplementedError

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle: Any = super()._repr_mimebundle_(**kwargs)
        data: dict[str, Any] = bundle[0] if isinstance(bundle, tuple) else bundle
        data["text/html"] = self.still()
        return bundle


class Prediction(Quiz):
    """A question with answers to choose from; `choice` is "" until one is chosen, then its key, or "-" for none.

    Parameters
    ----------
    key : str
        The name under which the choice is kept in this kernel.
    question : str
        What to predict.
    options : dict of str
        Each answer in words, by key.
    """

    question = tr.Unicode().tag(sync=True)
    choices: Any = tr.List().tag(sync=True)
    choice = tr.Unicode().tag(sync=True)
    said = tr.Unicode().tag(sync=True)

    def __init__(self, key: str, question: str, options: Mapping[str, str]) -> None:
        if len(options) < 2 or {"", WITHOUT} & set(options):
            raise ValueError(
                f"options = {list(options)} is impossible: give at least 2, with keys other than "
                f"'' and {WITHOUT!r}"
            )
        self.key, self.options = key, dict(options)
        super().__init__(
            kind="predict", question=question, choices=[list(pair) for pair in options.items()]
        )
        self.observe(self._chosen, ["choice"])
        kept = KEPT.get(key, "")
        self.choice = kept if kept in (WITHOUT, *options) else ""

    @property
    def words(self) -> str:
        """The prediction as a panel shows it beside the result; "" when there is none."""
        return (
            f"Your prediction: {self.options[self.choice]}." if self.choice in self.options else ""
        )

    @tr.validate("choice")
    def _checked(self, proposal: Any) -> str:
        choice: str = proposal["value"]
        if choice not in ("", WITHOUT, *self.options):
            raise ValueError(
                f"choice = {choice!r} is not known: choose from {', '.join(self.options)}"
            )
        return choice

    def _chosen(self, change: Any) -> None:
        KEPT[self.key] = self.choice
        self.said = f"Your prediction is kept: {self.options.get(self.choice)}. You can still change it here."
        if self.choice == WITHOUT:
            self.said = "No prediction made. You can still make one here."
        if not self.choice:
            del KEPT[self.key]
            self.said = "Asked again: the answer waits for you."

    def receive(self, message: Mapping[str, Any]) -> None:
        """Keep the choice that the page sends, or ask again where it sends ""."""
        self.choice = message["choice"]

    def still(self) -> str:
        """The question and its answers as a list, and the prediction if one is made."""
        answers = "".join(f"<li>{html.escape(words)}</li>" for words in self.options.values())
        made = f"<p>{html.escape(self.words)}</p>" if self.words else ""
        return f"<p><strong>{html.escape(self.question)}</strong></p><ul>{answers}</ul>{made}"


class Check(Quiz):
    """Questions with a field for each answer; "New numbers" asks them with the next seed.

    Parameters
    ----------
    questions : callable
        Takes a seed and gives a list of `Question`.
    seed : int
        The first seed [-].
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
        asks = [
            {
                "key": q.key,
                "text": tied(q.text),
                "from": q.from_lesson,
                "label": "Your answer" + IN_FULL.get(q.unit, f" in {q.unit}"),
                "counts": tied(f"An answer {q.tolerance_words()} counts as right."),
                "steps": tied(q.explanation).splitlines(),
            }
            for q in questions
        ]
        with self.hold_sync():
            self.questions, self.asks, self.verdicts, self.seed = questions, asks, {}, seed

    def receive(self, message: Mapping[str, Any]) -> None:
        """Judge an answer, or ask with new numbers; what was sent about numbers that are gone by now is left."""
        if message["seed"] != self.seed:
            return
        if message.get("new"):
            self.ask(self.seed + 1)
            return
        question = {q.key: q for q in self.questions}[message["key"]]
        verdict = judge(question, message["text"])
        self.verdicts = {
            **self.verdicts,
            question.key: {
                "text": message["text"],
                "found": verdict.found,
                "words": tied(verdict.words),
            },
        }

    def still(self) -> str:
        """The questions, each with its explanation folded under it."""

        def lines(text: str, tag: str) -> str:
            return "".join(
                f"<{tag}>{html.escape(line)}</{tag}>" for line in tied(text).splitlines()
            )

        items = "".join(
            f"<li>{lines(q.text, 'p')}<p>An answer {q.tolerance_words()} counts as right.</p>"
            f"<details><summary>Show how it is worked out</summary><ol>{lines(q.explanation, 'li')}</ol></details></li>"
            for q in self.questions
        )
        return f"<ol>{items}</ol><p>{html.escape(PRACTICE)}</p>"


def predict(key: str, question: str, options: Mapping[str, str]) -> Prediction:
    """Ask for a prediction before the picture is seen.

    Parameters
    ----------
    key : str
        The name under which the choice is kept in this kernel, so that running the cell again keeps it.
    question : str
        What to predict.
    options : dict of str
        Each answer in words, by key.

    Returns
    -------
    Prediction
        A widget; its `choice` is "" until one is chosen, then the key, or "-" for "show me without".

    Raises
    ------
    ValueError
        Fewer than two answers, or a key that has a meaning of its own.
    """
    return Prediction(key, question, options)


def check(questions: Callable[[int], Sequence[Question]], seed: int = 1) -> Check:
    """Ask questions whose answers are computed, and judge what is written.

    Parameters
    ----------
    questions : callable
        Takes a seed and gives a list of `Question`.
    seed : int
        The first seed [-]; "New numbers" takes the next.

    Returns
    -------
    Check
        A widget.

    Raises
    ------
    ValueError
        Whatever `questions` refuses.
    """
    return Check(questions, seed)
