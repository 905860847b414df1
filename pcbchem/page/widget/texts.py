"""Entries of a panel that hold words: one line of text, or a time as people write it."""

from __future__ import annotations

import dataclasses
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any

from ...common.limits import InputError, limits_in_words
from ..answers import MOST_CHARACTERS, read_answer

NOT_IN_A_LINE = ("Cc", "Cs", "Zl", "Zp")
"""Kinds of characters that no line of words holds: control letters, halves of a pair, line ends."""
MOST_QUOTED = 40
"""So many letters of a text are said again where it is refused [-]."""


@dataclasses.dataclass(frozen=True)
class Text:
    """One line of words; its value is always a str.

    Parameters
    ----------
    name : str
        What `show` calls its value.
    label : str
        What the page calls it.
    start : str
        What stands there at first.
    most : int
        How many letters it may have [-].
    hint : str
        Stands under it, as an example of what may be written.
    when : tuple, optional
        The name of a choice and those of its values for which it is shown.
    help : str
        What it means, unfolded where it stands.
    kinds : str
        The only letters that it takes, as "0123456789-" for a date; "": any.
    stays : bool
        Whether *Reset* leaves it as it is.
    """

    name: str
    label: str
    start: str
    most: int
    hint: str = ""
    when: tuple[str, tuple[str, ...]] | None = None
    help: str = ""
    kinds: str = ""
    stays: bool = False

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work: as it starts, blank, and as long as may be."""
        letter = self.kinds[:1] or "x"
        return tuple(dict.fromkeys((self.start, "", letter * self.most)))

    def check(self, value: Any) -> None:
        """Refuse what is no line of words, or longer than it may be, by the label.

        Raises
        ------
        InputError
            No text, too long, or with letters that it does not take.
        """
        check_line(self.label, value, self.most, self.kinds)


@dataclasses.dataclass(frozen=True)
class TimeText:
    """A line in which a time is written as people write it: "4 min 10 s", "250 s", "4:10".

    Parameters
    ----------
    name, label, when, help
        As for `Text`.
    low, high : float
        The time's limits [s]; both may be reached.
    start : str
        What stands there at first; "": left blank, as it always may be.
    """

    name: str
    label: str
    low: float
    high: float
    start: str = ""
    when: tuple[str, tuple[str, ...]] | None = None
    help: str = ""

    # no types: these are no fields of their own, and the same for every time
    most = MOST_CHARACTERS
    hint = "as 4 min 10 s, 250 s or 4:10"

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work: as it starts, blank, and a good time."""
        return tuple(dict.fromkeys((self.start, "", f"{self.low:.12g} s")))

    def check(self, value: Any) -> None:
        """Refuse what is no time within the limits [s]; blank is none, and is taken.

        Raises
        ------
        InputError
            As for `seconds`.
        """
        self.seconds(value)

    def seconds(self, text: str) -> float | None:
        """Read the time [s].

        Parameters
        ----------
        text : str
            What was written.

        Returns
        -------
        float or None
            The time [s]; None: left blank.

        Raises
        ------
        InputError
            No time, a number without a unit, or outside the limits: with label, text and limits.

        Examples
        --------
        >>> print(TimeText("clear", "Clear after", 10, 3600).seconds("4 min 10 s"))
        250.0
        """
        check_line(self.label, text, self.most)
        if not text.strip():
            return None
        limits = f"it must be {limits_in_words(self.low, self.high, 's')}"
        try:
            seconds = read_answer(text, "time", "s")
            seconds_if_minutes = read_answer(text, "time", "min")
        except ValueError as error:
            rule = f"{str(error).rstrip('.')}; {limits}"
            raise self._refusal(text, rule, about="", wrong="") from None
        # where it depends on what a bare number counts in, there is one
        if seconds != seconds_if_minutes:
            rule = f"write min or s behind the number; {limits}"
            raise self._refusal(text, rule, wrong="could be minutes or seconds")
        if not self.low <= seconds <= self.high:
            raise self._refusal(text, limits)
        return seconds

    def read_as(self, text: str) -> str:
        """Return what a text is taken for, "250 s"; "" where it is written so, or is no time [s].

        Examples
        --------
        >>> print(TimeText("clear", "Clear after", 10, 3600).read_as("4:10"))
        250 s
        """
        try:
            seconds = self.seconds(text)
        except InputError:
            return ""
        if seconds is None:
            return ""
        words = f"{seconds:.6g} s"
        return "" if words == text.strip() else words

    def _refusal(self, text: str, rule: str, **parts: str) -> InputError:
        return InputError(
            self.label, rule, value=text, low=self.low, high=self.high, unit="s", **parts
        )


def check_line(label: str, value: Any, most: int, kinds: str = "") -> None:
    """Refuse what is no line of at most so many letters [-], by its label; `kinds` as for `Text`.

    Raises
    ------
    InputError
        No text, too long, or with a letter that it does not take.
    """
    if not isinstance(value, str):
        raise InputError(label, "it must be a line of words", value=value, wrong="is no text")
    if len(value) > most:
        rule = f"it may have {most} letters, and has {len(value)}"
        about = f" = {value[:MOST_QUOTED]!r}…"
        raise InputError(label, rule, value=value, about=about, wrong="is too long")
    if any(unicodedata.category(letter) in NOT_IN_A_LINE for letter in value):
        rule = "write one line of plain words"
        wrong = "holds a line end, or a letter that cannot be seen"
        raise InputError(label, rule, value=value, wrong=wrong)
    # a set would lose the order in which they are said
    others = [letter for letter in value if kinds and letter not in kinds]
    if others:
        rule = f"it takes only these: {kinds}"
        raise InputError(label, rule, value=value, wrong=f"holds {others[0]!r}")


def refusals(controls: Iterable[Any], values: Mapping[str, Any]) -> dict[str, str]:
    """Return the words of refusal for each text, or time in words, that cannot be, by its name.

    Parameters
    ----------
    controls : iterable of Slider, Field, Choice, Text, TimeText or Carried
        All that have a value; only texts and times are looked at.
    values : dict
        Their values by name [units of the controls].

    Returns
    -------
    dict of str
        Nothing where all of them can be.
    """
    words = {}
    for control in controls:
        if isinstance(control, Text | TimeText):
            try:
                control.check(values[control.name])
            except InputError as error:
                words[control.name] = str(error)
    return words


def times_read(controls: Iterable[Any], values: Mapping[str, Any]) -> dict[str, str]:
    """Return what each time is taken for [s], by its name, where it is written otherwise."""
    times = [control for control in controls if isinstance(control, TimeText)]
    words = {control.name: control.read_as(values[control.name]) for control in times}
    return {name: f"= {text}" for name, text in words.items() if text}
