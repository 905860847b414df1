"""What a reader can move on a panel, each with name, unit, limits and start; what a panel says."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from ...common.limits import InputError, check_choice, check_values
from .tables import Table as Table
from .texts import Text as Text
from .texts import TimeText as TimeText


@dataclasses.dataclass(frozen=True)
class Number:
    """What a slider and a field share: a number [unit] from `low` to `high`.

    Parameters
    ----------
    name : str
        What `show` calls its value.
    label : str
        What the page calls it.
    unit : str
        What it counts in, or "" where something beside it says that.
    low, high : float
        Its limits [unit]; both may be reached.
    step : float
        How far an arrow key goes [unit].
    start : float or None
        Where it stands at first [unit]; None: it may be left blank, and is.
    """

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    start: float | None

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work [unit], each once; None: left blank."""
        # no set: a sweep goes through them in this order
        return tuple(dict.fromkeys((self.low, self.start, self.high)))

    def check(self, value: Any) -> None:
        """Refuse a value outside the limits [unit], by name.

        Raises
        ------
        InputError
            Outside them, no number, or blank where it may not be left blank.
        """
        may_be_blank = self.start is None
        if value is None and may_be_blank:
            return
        check_values(self.name, value, self.low, self.high, self.unit)


@dataclasses.dataclass(frozen=True)
class Slider(Number):
    """A range with a number field beside it [unit], in `step`s; arguments as for `Number`."""

    start: float  # a slider always stands somewhere: never None


@dataclasses.dataclass(frozen=True)
class Field(Number):
    """A number field [unit]; arrow keys go in `step`s.

    Parameters
    ----------
    name, label, unit, low, high, step, start
        As for `Number`.
    when : tuple, optional
        The name of a choice and those of its values for which the field is shown.
    reads : dict of tuple
        What may be written after the number, in small letters: how many of the field's own unit
        one of it is, and what is added to that [unit].
    chooses : tuple, optional
        The name of a choice, and its value by what may be written after the number: "31 %" chooses
        the notation too.
    help : str
        What the field means, unfolded where it stands.
    """

    when: tuple[str, tuple[str, ...]] | None = None
    reads: Mapping[str, tuple[float, float]] = dataclasses.field(default_factory=dict)
    chooses: tuple[str, Mapping[str, str]] | None = None
    help: str = ""


@dataclasses.dataclass(frozen=True)
class Choice:
    """A choice of one among several, as radio buttons or as a list that opens.

    Parameters
    ----------
    name : str
        What `show` calls its value.
    label : str
        What the page calls it.
    options : dict of str
        Each value with its words on the page.
    start : str
        The value chosen at first.
    look : str
        "radio" or "list".
    beside : tuple of str
        Names of fields: the list stands as a unit beside the first of them that is shown.
    help : str
        What the choice means, unfolded where it stands.
    notes : dict of str
        What an option means, by its value: said while it is chosen.
    when : tuple, optional
        As for `Field`.
    """

    name: str
    label: str
    options: Mapping[str, str]
    start: str
    look: str = "radio"
    beside: tuple[str, ...] = ()
    help: str = ""
    notes: Mapping[str, str] = dataclasses.field(default_factory=dict)
    when: tuple[str, tuple[str, ...]] | None = None

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work."""
        return tuple(self.options)

    def check(self, value: Any) -> None:
        """Refuse a value that is not one of the options, by name.

        Raises
        ------
        InputError
            None of them, with all of them named.
        """
        check_choice(self.name, value, self.ends)


@dataclasses.dataclass(frozen=True)
class Carried:
    """What another page has handed over: it has a value, and nothing on the page to move it.

    Parameters
    ----------
    name : str
        What `show` calls its value: a dict of plain values, or None at first and after *Reset*.
    """

    name: str

    # no type: it is no field of its own
    start = None

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work: only nothing, for what is handed over hangs on it."""
        return (None,)

    def check(self, value: Any) -> None:
        """Refuse what no page hands over, by name.

        Raises
        ------
        InputError
            Neither a dict nor None.
        """
        if value is not None and not isinstance(value, Mapping):
            rule = "it must be a dict, or None"
            raise InputError(self.name, rule, value=value, wrong="is no dict")


@dataclasses.dataclass(frozen=True)
class Action:
    """A button that does something once; what it does stands in the panel's `works`, by its name.

    Parameters
    ----------
    name : str
        Of its work.
    label : str
        What stands on the button.
    help : str
        What it does, unfolded where it stands.
    when : tuple, optional
        As for `Field`.
    """

    name: str
    label: str
    help: str = ""
    when: tuple[str, tuple[str, ...]] | None = None


@dataclasses.dataclass(frozen=True)
class Upload:
    """A button, and a place to drop a file, whose bytes go to the panel's `works` by its name.

    Parameters
    ----------
    name, label, help, when
        As for `Action`.
    kinds : tuple of str
        Endings of a file's name that are taken, as ".png".
    most_bytes : int
        Largest file that is taken [B].
    """

    name: str
    label: str
    kinds: tuple[str, ...]
    most_bytes: int
    help: str = ""
    when: tuple[str, tuple[str, ...]] | None = None


Control = Slider | Field | Choice | Text | TimeText | Carried
Tool = Action | Upload
Item = Control | Tool


@dataclasses.dataclass(frozen=True)
class Group:
    """Controls under one heading; `folded`: shut until the reader opens it."""

    legend: str
    controls: Sequence[Item]
    folded: bool = False


class Link(NamedTuple):
    """A way on to another page, which is handed values.

    Parameters
    ----------
    words : str
        What the link says.
    page : str
        File name of the page, under which it receives values.
    handed : callable
        Takes all values by name; returns those that are handed over. None of them: no link.
    """

    words: str
    page: str
    handed: Callable[..., Mapping[str, Any]]


Progress = Callable[[float, str], None]
"""Tells the page how much of a work is done [-, 0 to 1], and in words what is being done."""


@dataclasses.dataclass(frozen=True)
class Done:
    """What a work of a button comes to.

    Parameters
    ----------
    values : dict
        Put into the controls, by name [their units].
    remark : str
        Words that stand beside the button, and are heard.
    html, offers
        Under the button: HTML, and buttons with words and the values that each puts in.
    page : str
        A whole HTML page, opened in a window of its own.
    file : tuple of str and (str or bytes), or None
        Name of a file to download, and what it holds; its type goes by the name's ending.
    redraws : bool
        Whether the panel is drawn again though no value changes.
    """

    values: Mapping[str, Any] = dataclasses.field(default_factory=dict)
    remark: str = ""
    html: str = ""
    offers: Sequence[tuple[str, Mapping[str, Any]]] = ()
    page: str = ""
    file: tuple[str, str | bytes] | None = None
    redraws: bool = False


@dataclasses.dataclass(frozen=True)
class PanelWords:
    """What a panel says with its picture, all from the same numbers.

    Parameters
    ----------
    readout : str
        One live sentence.
    alt : str
        The picture in words.
    head, notes : str
        HTML above the picture, and under it.
    wrong : str
        What is wrong with an input, in words: the picture is then of no use, and is not shown.
    guess : str
        Said of the reader's prediction in place of its reply, where these are not the values that
        it was about.
    headline : str
        Stands large before the live sentence, and is heard with it.
    looks : tuple of float, or None
        For a clock: when to look first, and how often from then on [s].
    coarse : bool
        A better answer to the same values takes longer: the page asks once more for it.
    offers : sequence of tuple
        Buttons: the words of each, and the values that it puts into the controls.
    row : dict, or None
        What is kept if the reader keeps this one beside others; None: nothing may be.
    table : Table, or None
        Stands under the words.
    beside_fields : dict of str
        What is wrong with what stands in a field, by the control's name: said beside it, and no
        button works until it is another.
    top : str
        HTML above everything, fields and picture: what is to be read first.
    under_fields : dict of str
        What is to be said under a line of words, by the control's name: it stops nothing.
    """

    readout: str
    alt: str
    head: str = ""
    notes: str = ""
    wrong: str = ""
    guess: str = ""
    headline: str = ""
    looks: tuple[float, float] | None = None
    coarse: bool = False
    offers: Sequence[tuple[str, Mapping[str, Any]]] = ()
    row: Mapping[str, Any] | None = None
    table: Table | None = None
    beside_fields: Mapping[str, str] = dataclasses.field(default_factory=dict)
    top: str = ""
    under_fields: Mapping[str, str] = dataclasses.field(default_factory=dict)


BLANK: dict[str, Any] = {
    "png": b"",
    "head": "",
    "readout": "",
    "alt": "",
    "notes": "",
    "wrong": "",
    "file": "",
    "headline": "",
    "predicted": "",
    "guess": "",
    "reply": "",
    "looks": None,
    "coarse": False,
    "handed": [],
    "row": None,
    "offers": [],
    "table": "",
    "top": "",
    "beside_fields": {},
    "read_as": {},
}
"""What is told with an answer, and what a page that keeps no words holds in its place."""


def state_of(words: PanelWords) -> dict[str, Any]:
    """Return what the page is told of a panel's words, by name, in plain values."""
    return {
        "head": words.head,
        "readout": words.readout,
        "alt": words.alt,
        "notes": words.notes,
        "wrong": words.wrong,
        "headline": words.headline,
        "guess": words.guess,
        "looks": list(words.looks) if words.looks else None,
        "coarse": words.coarse,
        "row": dict(words.row) if words.row else None,
        "offers": [[offer, dict(values)] for offer, values in words.offers],
        "table": words.table.html() if words.table else "",
        "top": words.top,
    }


def under_fields(read: Mapping[str, str], words: PanelWords) -> dict[str, str]:
    """Return what stands under each line of words: what it was read as, and what is said of it."""
    lines = {name: [text] for name, text in read.items()}
    for name, text in words.under_fields.items():
        lines.setdefault(name, []).append(text)
    return {name: ". ".join(texts) for name, texts in lines.items()}


def all_items(items: Sequence[Item | Group]) -> tuple[Item, ...]:
    """Return all that stands on a panel from top to bottom, what stands in groups among it.

    Parameters
    ----------
    items : sequence of Slider, Field, Choice, Text, TimeText, Carried, Action, Upload or Group
        What stands on a panel.

    Returns
    -------
    tuple
        The same without the groups.

    Raises
    ------
    ValueError
        Two controls share a name.

    Examples
    --------
    >>> width = Slider("width", "width", "mm", 0, 10, 0.1, 0)
    >>> print(len(all_items([Group("Size", [width, Action("usual", "Take the usual")])])))
    2
    """
    every: list[Item] = []
    for item in items:
        if isinstance(item, Group):
            every.extend(item.controls)
        else:
            every.append(item)
    names = [item.name for item in every]
    for name in names:
        if names.count(name) > 1:
            raise ValueError(
                f"controls: the name {name} stands {names.count(name)} times: it must stand once"
            )
    return tuple(every)


def all_controls(items: Sequence[Item | Group]) -> tuple[Control, ...]:
    """Return all that has a value, from top to bottom: see `all_items` [units there]."""
    return tuple(item for item in all_items(items) if not isinstance(item, Action | Upload))


def corners(controls: Sequence[Control], most: int) -> Iterator[dict[str, Any]]:
    """Yield values at every corner of the controls, or where there are too many a part.

    Then each control goes to its ends alone, and a fixed sample of the corners follows.

    Parameters
    ----------
    controls : sequence of Slider, Field, Choice, Text, TimeText or Carried
        All that have a value.
    most : int
        How many corners are not too many [-].

    Yields
    ------
    dict
        Values by name [units of the controls]; those that stand at their start may be left out.
    """
    ends = {control.name: control.ends for control in controls}
    if math.prod(len(values) for values in ends.values()) <= most:
        for corner in itertools.product(*ends.values()):
            yield dict(zip(ends, corner, strict=True))
        return
    yield {}
    for control in controls:
        for value in control.ends:
            if value != control.start:
                yield {control.name: value}
    # a fixed seed: a fault that a sweep finds is found again
    generator = np.random.default_rng(1)
    for _ in range(most // 8):
        yield {name: values[generator.integers(len(values))] for name, values in ends.items()}


def is_called_for(item: Any, values: Mapping[str, Any]) -> bool:
    """Tell whether a control or a button is shown beside these values [units of the controls].

    Examples
    --------
    >>> press = Action("usual", "Take the usual", when=("bottle", ("mild",)))
    >>> print(is_called_for(press, {"bottle": "mild"}), is_called_for(press, {"bottle": "other"}))
    True False
    """
    when = getattr(item, "when", None)
    if when is None:
        return True
    choice, calling = when
    return values[choice] in calling


def for_script(item: Item | Group) -> dict[str, Any]:
    """Return a control or a group as the page's script takes it: plain values, with its `kind`."""
    if isinstance(item, Group):
        return {
            "kind": "group",
            "legend": item.legend,
            "folded": item.folded,
            "controls": [for_script(control) for control in item.controls],
        }
    # its fields as they are called here: controls.js reads them by these names
    values = {field.name: getattr(item, field.name) for field in dataclasses.fields(item)}
    if isinstance(item, Choice):
        # pairs, because a mapping on its way to the page may lose its order
        values["options"] = [list(option) for option in item.options.items()]
    if isinstance(item, TimeText | Carried):
        values["start"] = item.start
    if isinstance(item, TimeText):
        values |= {"most": item.most, "hint": item.hint}
    return {"kind": type(item).__name__.lower(), **values}
