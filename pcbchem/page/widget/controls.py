"""What a reader can move on a panel, each with name, unit, limits and start; what a panel says."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from ...common.limits import check_choice, check_values


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

    Arguments as for `Number`, and `when`: the name of a choice and those of its values for which
    the field is shown; `reads`: other units that it understands, each in small letters with scale
    and offset into its own; `chooses`: a choice, and which of its values a unit written behind the
    number chooses; `help`: what the field means.
    """

    when: tuple[str, tuple[str, ...]] | None = None
    reads: Mapping[str, tuple[float, float]] = dataclasses.field(default_factory=dict)
    chooses: tuple[str, Mapping[str, str]] | None = None
    help: str = ""


@dataclasses.dataclass(frozen=True)
class Choice:
    """A choice of one among several, as radio buttons or as a list.

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
        "radio" for buttons, "list" for a list that opens.
    beside : str
        Name of the field beside which its list stands.
    help : str
        What the choice means.
    notes : dict of str
        What each option means, shown where it stands.
    """

    name: str
    label: str
    options: Mapping[str, str]
    start: str
    look: str = "radio"
    beside: str = ""
    help: str = ""
    notes: Mapping[str, str] = dataclasses.field(default_factory=dict)

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


Control = Slider | Field | Choice


@dataclasses.dataclass(frozen=True)
class Group:
    """Controls under one heading; `folded`: shut until the reader opens it."""

    legend: str
    controls: Sequence[Control]
    folded: bool = False


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
    """

    readout: str
    alt: str
    head: str = ""
    notes: str = ""
    wrong: str = ""
    guess: str = ""


def all_controls(items: Sequence[Control | Group]) -> tuple[Control, ...]:
    """Return all controls from top to bottom, those of groups among them.

    Parameters
    ----------
    items : sequence of Slider, Field, Choice or Group
        What stands on a panel.

    Returns
    -------
    tuple of Slider, Field or Choice
        Without the groups.

    Raises
    ------
    ValueError
        Two controls share a name.

    Examples
    --------
    >>> width = Slider("width", "width", "mm", 0, 10, 0.1, 0)
    >>> print(len(all_controls([Group("Size", [width])])))
    1
    """
    controls: list[Control] = []
    for item in items:
        if isinstance(item, Group):
            controls.extend(item.controls)
        else:
            controls.append(item)
    names = [control.name for control in controls]
    for name in names:
        if names.count(name) > 1:
            raise ValueError(
                f"controls: the name {name} stands {names.count(name)} times: it must stand once"
            )
    return tuple(controls)


def for_script(item: Control | Group) -> dict[str, Any]:
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
    return {"kind": type(item).__name__.lower(), **values}
