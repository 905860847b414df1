"""Check yourself: questions whose answers are computed, with numbers of its own for each table."""

from __future__ import annotations

import html
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import traitlets as tr

from ...common.limits import check_whole
from ..answers import Question, judge
from ..why import WhyQuestion, judge_why
from .prediction import Prediction
from .quiz import KEPT, Quiz, folded, keep, tied

TABLES = 40
"""How many tables of a class have numbers of their own [-]; each next sheet goes on from there."""
MOST_SHEETS = 1000
"""So many sheets has a table [-]: nobody gets to the end of them."""
HOW_TO_WRITE = (
    "Write an answer as you like: 7.5 min, 7½ min, 7:30 and 450 s are read alike, and so are "
    "2.1 mol/L and 2,1 M. A number alone counts in the unit asked for."
)
PRACTICE = (
    "This is practice, not an exam: the answers are worked out on this page, and whoever looks "
    "for them finds them."
)
LATER = "The questions come after your predictions."
IN_FULL = {
    "min": " in minutes",
    "g": " in grams",
    "s": " in seconds",
    "": ": how many times",
    "timesless": ": how many times less",
}
"""How the name of an answer field says its unit, where that is clearer."""

Asked = Question | WhyQuestion


class Check(Quiz):
    """Questions whose answers are computed, with a field for each.

    Each table of a class enters its number, and gets numbers of its own; "New numbers" asks with
    the next sheet of that table.

    Parameters
    ----------
    questions : callable
        Takes a seed and gives a list of `Question` and `WhyQuestion`.
    seed : int
        The first seed [-]: the number of the table, or of a later sheet of it.
    after : sequence of Prediction
        All of these must be made first: questions may tell what is to be predicted.

    Raises
    ------
    InputError
        A seed below 1, or beyond the last sheet.
    ValueError
        Whatever `questions` refuses.
    """

    intro = tr.Unicode().tag(sync=True)
    practice = tr.Unicode().tag(sync=True)
    asks: Any = tr.List().tag(sync=True)
    verdicts: Any = tr.Dict().tag(sync=True)
    seed = tr.Int().tag(sync=True)
    table = tr.Int().tag(sync=True)
    sheet = tr.Int().tag(sync=True)
    tables = tr.Int(TABLES).tag(sync=True)
    waits = tr.Unicode(LATER).tag(sync=True)
    starts = tr.Int().tag(sync=True)  # how often all was forgotten

    def __init__(
        self,
        questions: Callable[[int], Sequence[Asked]],
        seed: int = 1,
        after: Sequence[Prediction] = (),
    ) -> None:
        self.make, self.after = questions, after
        self.first = seed
        self.questions: list[Asked] = []
        name = getattr(questions, "__qualname__", repr(questions))
        self.key = f"check {getattr(questions, '__module__', '')} {name} {seed}"
        super().__init__(kind="check", intro=tied(HOW_TO_WRITE), practice=PRACTICE)
        self.ask(seed)
        kept_seed, answers = KEPT.get(self.key, (seed, {}))
        if kept_seed != seed:
            self.ask(kept_seed)
        for key, text in answers.items():
            # a cell that was changed meanwhile may no longer ask that
            if any(question.key == key for question in self.questions):
                self._judge(key, text)
        for prediction in after:
            prediction.observe(self._show_questions, ["made"])

    def ask(self, seed: int) -> None:
        """Ask with the numbers of a seed [-], and forget what was answered."""
        check_whole("seed", seed, 1, MOST_SHEETS * TABLES)
        # in one message: no verdict may stand beside a question that it is not for
        with self.hold_sync():
            self.questions, self.verdicts, self.seed = list(self.make(seed)), {}, seed
            self._show_questions()
            self.sheet, self.table = (seed - 1) // TABLES + 1, (seed - 1) % TABLES + 1

    def _show_questions(self, change: Any = None) -> None:
        """Show the questions, or none of them while a prediction is missing."""
        asks = []
        if all(prediction.made for prediction in self.after):
            asks = [for_page(question) for question in self.questions]
        self.asks = asks

    def receive(self, message: Mapping[str, Any]) -> None:
        """Judge an answer, or ask with new numbers or with those of another table."""
        if message["seed"] != self.seed:
            return  # sent before the numbers that it is about were gone
        if "table" in message:
            self.ask(check_whole("table", message["table"], 1, TABLES))
        elif message.get("new"):
            self.ask(self.seed + TABLES)
        else:
            self._judge(message["key"], message["text"])
        answers = {key: verdict["text"] for key, verdict in self.verdicts.items()}
        keep(self.key, (self.seed, answers))

    def _judge(self, key: str, text: str) -> None:
        """Judge an answer: the text of a field, or the key of the reason that was chosen."""
        question = {question.key: question for question in self.questions}[key]
        if isinstance(question, WhyQuestion):
            verdict = judge_why(question, text)
        else:
            verdict = judge(question, text)
        shown = {"text": text, "grade": verdict.grade, "words": tied(verdict.words)}
        # a new dictionary: one changed in place would not be sent to the page
        self.verdicts = {**self.verdicts, key: shown}

    def forget(self) -> None:
        """Go back to the first table, with empty fields."""
        with self.hold_sync():
            self.ask(self.first)
            self.starts += 1

    def still(self) -> str:
        """Return the questions, each with its explanation folded under it."""
        items = "".join(f"<li>{still_question(question)}</li>" for question in self.questions)
        body = f"<ol>{items}</ol><p>{html.escape(PRACTICE)}</p>"
        if self.after:
            body = folded(body)
        return f"<h2>Check yourself</h2>{body}"


def for_page(question: Asked) -> dict[str, Any]:
    """Return a question as the page's script takes it, without its answer."""
    shared = {
        "key": question.key,
        "text": tied(question.text),
        "from": question.from_lesson,
        "steps": tied(question.explanation).splitlines(),
    }
    if isinstance(question, WhyQuestion):
        options = [[key, tied(words)] for key, words, _ in question.options]
        return {**shared, "options": options}
    label = "Your answer" + IN_FULL.get(question.unit, f" in {question.unit}")
    counts = tied(f"An answer {question.tolerance_words()} counts as right.")
    return {**shared, "label": label, "counts": counts}


def still_question(question: Asked) -> str:
    """Return a question as HTML for a page without a kernel."""
    if isinstance(question, WhyQuestion):
        options = "".join(f"<li>{html.escape(words)}</li>" for _, words, _ in question.options)
        asked = f"<ul>{options}</ul>"
    else:
        asked = f"<p>An answer {question.tolerance_words()} counts as right.</p>"
    return (
        f"{lines_in(question.text, 'p')}{asked}"
        f"<details><summary>Show how it is worked out</summary>"
        f"<ol>{lines_in(question.explanation, 'li')}</ol></details>"
    )


def lines_in(text: str, tag: str) -> str:
    """Return each line of a text in an HTML element of its own."""
    return "".join(f"<{tag}>{html.escape(line)}</{tag}>" for line in tied(text).splitlines())
