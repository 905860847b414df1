"""A prediction: an answer, and a reason for it, before anything is seen."""

from __future__ import annotations

import html
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import traitlets as tr

from ...common.limits import InputError
from .base import WIDGETS
from .quiz import KEPT, Quiz, folded, keep, tied

WITHOUT = "-"
"""The choice of who looks without a prediction."""


@dataclass(frozen=True)
class Option:
    """An answer or a reason.

    Parameters
    ----------
    words : str
        What stands beside its radio button.
    reply : str
        What is said to whoever chose it, or "".
    """

    words: str
    reply: str = ""


class Prediction(Quiz):
    """A question to answer, with a reason, before the picture is seen.

    Its `choice` is "" until an answer is chosen, then the key of the answer; "-" is the choice of
    who looks without a prediction. Its `reason` is "" or the key of a reason. It is `made` when
    both are there, or when somebody looks without.

    Parameters
    ----------
    key : str
        The name under which the choice is kept in this kernel: running the cell again keeps it,
        and what waits for the prediction of before is told of each new choice.
    question : str
        What to predict.
    answers : dict of Option or str
        Each answer by key, with or without a reply.
    reasons : dict of Option or str, optional
        Each reason by key; its words follow "because". None: the answer counts alone.
    alone : bool
        No panel follows: the reply stands under the answers.
    told : str
        What is said under the answers after any reply, and to whoever looks without.

    Raises
    ------
    InputError
        Fewer than two answers or reasons, or a key that has a meaning of its own.
    """

    question = tr.Unicode().tag(sync=True)
    choices: Any = tr.List().tag(sync=True)
    becauses: Any = tr.List().tag(sync=True)
    choice = tr.Unicode().tag(sync=True)
    reason = tr.Unicode().tag(sync=True)
    kept_words = tr.Unicode().tag(sync=True)
    under = tr.Unicode().tag(sync=True)
    made = tr.Bool()
    # choice and reason once they count, else nothing: one change of it for each change of both
    settled: Any = tr.Tuple()

    def __init__(
        self,
        key: str,
        question: str,
        answers: Mapping[str, Option | str],
        reasons: Mapping[str, Option | str] | None = None,
        *,
        alone: bool = False,
        told: str = "",
    ) -> None:
        self.key, self.alone, self.told = key, alone, told
        self.options = options_of("answers", answers)
        self.first = ""
        self.reasons: dict[str, Option] = {}
        if reasons is not None:
            self.reasons = options_of("reasons", reasons)
        super().__init__(
            kind="predict",
            question=question,
            choices=pairs_of(self.options),
            becauses=pairs_of(self.reasons),
            settled=(),  # nothing is new as long as nothing counts
        )
        self.observe(self.chosen, ["choice", "reason"])  # before kept ones are set: said too
        # what counted first: who changes it has seen the answer
        choice, reason, self.first = KEPT.get(key, ("", "", ""))
        # a cell that was changed meanwhile may no longer have that answer, or that reason
        if choice in (WITHOUT, *self.options):
            with self.hold_trait_notifications():
                self.choice = choice
                if reason in self.reasons:
                    self.reason = reason

    @property
    def guess(self) -> str | None:
        """What a panel draws for: None waits, "-" looks without, else the key of the answer."""
        if not self.made:
            return None
        return self.choice

    @property
    def words(self) -> str:
        """The prediction as a panel shows it beside the result; "" when there is none."""
        if self.guess not in self.options:
            return ""
        return f"Your prediction: {self._in_words()}.{self._at_first()}"

    @property
    def reply(self) -> str:
        """The reply to the answer, then that to the reason; "" for who looks without."""
        if self.guess not in self.options:
            return ""
        replies = [self.options[self.choice].reply]
        if self.reasons:
            replies.append(self.reasons[self.reason].reply)
        return " ".join(reply for reply in replies if reply)

    def _in_words(self) -> str:
        """Return the answer that is chosen, and the reason if there is one."""
        words = self.options[self.choice].words
        if not self.reason:
            return words
        return f"{words}, because {self.reasons[self.reason].words}"

    def _at_first(self) -> str:
        """Say what was predicted before the answer was seen, where that was something else."""
        if self.first == WITHOUT != self.choice:
            return " At first you looked without one."
        if self.first in self.options and self.first != self.choice:
            return f" At first you said: {self.options[self.first].words}."
        return ""

    # for an author who sets them in a cell, as for the page
    @tr.validate("choice")
    def _checked(self, proposal: Any) -> str:
        choice: str = proposal["value"]
        if choice not in ("", WITHOUT, *self.options):
            rule = f"choose from {', '.join(self.options)}"
            raise InputError("choice", rule, value=choice, wrong="is not known")
        return choice

    @tr.validate("reason")
    def _reason_checked(self, proposal: Any) -> str:
        reason: str = proposal["value"]
        if reason not in ("", *self.reasons):
            rule = f"choose from {', '.join(self.reasons)}"
            raise InputError("reason", rule, value=reason, wrong="is not known")
        return reason

    def chosen(self, change: Any = None) -> None:
        """Keep answer and reason, say so on the page, and tell who waits for them."""
        if self.choice in ("", WITHOUT) and self.reason:
            self.reason = ""  # a reason for nothing; this comes here again
            return
        needs_reason = self.choice in self.options and bool(self.reasons) and not self.reason
        made = bool(self.choice) and not needs_reason
        if made and not self.first:
            self.first = self.choice
        # in one message: no reply may stand beside a choice that it is not for
        with self.hold_sync():
            self.made = made
            self.kept_words = self._what_is_kept(needs_reason)
            self.under = "\n".join(self._lines_under())
        keep(self.key, self.choice and (self.choice, self.reason, self.first))
        self.settled = (self.choice, self.reason) if made else ()
        self._tell_others()

    def _tell_others(self) -> None:
        """Give every other one of this key the same choice.

        A cell that is run again makes a new one, while the cells below still wait for the old.
        """
        for other in list(WIDGETS):
            if other is self or not isinstance(other, Prediction) or other.key != self.key:
                continue
            # the cell may have been changed in between: then its answers are others
            if self.choice in ("", WITHOUT, *other.options) and self.reason in ("", *other.reasons):
                other.first = self.first
                # both at once: a new answer does not count with the old reason in between
                with other.hold_trait_notifications():
                    other.choice, other.reason = self.choice, self.reason

    def _what_is_kept(self, needs_reason: bool) -> str:
        """Return what the page says under the answers about what is chosen."""
        if not self.choice:
            return "Asked again: the answer waits for you."
        if self.choice == WITHOUT:
            return "No prediction made. You can still make one here."
        if needs_reason:
            return "Choose a reason too: then your prediction counts."
        kept = f"Your prediction is kept: {self._in_words()}.{self._at_first()}"
        return f"{kept} You can still change it here."

    def _lines_under(self) -> list[str]:
        """Return what stands under the answers: a reply that no panel says, and what is told."""
        if not self.made:
            return []
        lines = [self.told]
        if self.alone:
            lines.insert(0, self.reply)
        return [tied(line) for line in lines if line]

    def receive(self, message: Mapping[str, Any]) -> None:
        """Keep the choice and the reason that the page sends, or ask again where it sends ""."""
        self.choice = message["choice"]
        if self.choice in self.options:
            self.reason = message.get("reason", self.reason)

    def forget(self) -> None:
        """Wait for a prediction again."""
        self.choice = self.first = ""
        self.kept_words = ""

    def still(self) -> str:
        """Return the question, its answers and its reasons as lists, for a page without kernel."""
        parts = [f"<p><strong>{html.escape(self.question)}</strong></p>", list_of(self.options)]
        if self.reasons:
            parts.append(f"<p>because …</p>{list_of(self.reasons)}")
        if self.words:
            parts.append(f"<p>{html.escape(self.words)}</p>")
        # where no panel follows, what is told is to be found here
        if self.told:
            parts.append(folded(f"<p>{html.escape(self.told)}</p>"))
        return "".join(parts)


def options_of(name: str, given: Mapping[str, Option | str]) -> dict[str, Option]:
    """Return answers or reasons, each as an `Option`; refuse too few, or a key that is taken."""
    if len(given) < 2 or {"", WITHOUT} & set(given):
        rule = f"give at least 2, with keys other than '' and {WITHOUT!r}"
        raise InputError(name, rule, value=given, about=f" = {list(given)}")
    options = {}
    for key, option in given.items():
        if isinstance(option, str):
            option = Option(option)
        options[key] = option
    return options


def pairs_of(options: Mapping[str, Option]) -> list[list[str]]:
    """Return key and words of each option, for the page: the replies stay here until then."""
    return [[key, option.words] for key, option in options.items()]


def list_of(options: Mapping[str, Option]) -> str:
    """Return the words of options as a list, as HTML."""
    items = "".join(f"<li>{html.escape(option.words)}</li>" for option in options.values())
    return f"<ul>{items}</ul>"
