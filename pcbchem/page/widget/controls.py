"""What a reader can move on a panel, and what a panel says: each control with its name, unit, limits and start."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from ...common.limits import check_choice, check_values


@dataclasses.dataclass(frozen=True)
class Number:
    """What a slider and a field share: a number [unit] from `low` to `high`; `start` None: it may be left blank."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    start: float | None

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work [unit]; None: left blank."""
        return tuple(dict.fromkeys((self.low, self.start, self.high)))

    def check(self, value: Any) -> None:
        """Refuse a value outside the limits [unit], by name; blank where it may be left blank is none."""
        if not (value is None and self.start is None):
            check_values(self.name, value, self.low, self.high, self.unit)


@dataclasses.dataclass(frozen=True)
class Slider(Number):
    """A range with a number field beside it [unit], in `step`s."""

    start: float


@dataclasses.dataclass(frozen=True)
class Field(Number):
    """A number field [unit]; arrow keys go in `step`s.

    `when`: the name of a choice and the values of it for which the field is shown.
    """

    when: tuple[str, tuple[str, ...]] | None = None


@dataclasses.dataclass(frozen=True)
class Choice:
    """One of several, as radio buttons: `options` are values with their words."""

    name: str
    label: str
    options: Mapping[str, str]
    start: str

    @property
    def ends(self) -> tuple[Any, ...]:
        """Values at which a panel must work."""
        return tuple(self.options)

    def check(self, value: Any) -> None:
        """Refuse a value that is not one of the options, by name."""
        check_choice(self.name, value, self.ends)


Control = Slider | Field | Choice


@dataclasses.dataclass(frozen=True)
class Group:
    """Controls under one heading; `folded`: shut until the reader opens it."""

    legend: str
    controls: Sequence[Control]
    folded: bool = False


@dataclasses.dataclass(frozen=True)
class Said:
    """What a panel says with its picture, all from the same numbers.

    `readout`: one live sentence; `alt`: the picture in words; `head` and `notes`: HTML above and under the picture;
    `wrong`: what is wrong with an input, in words (the picture is then of no use, and is not shown); `guess`: the
    reader's prediction beside the result, where there is more to say than what it was.
    """

    readout: str
    alt: str
    head: str = ""
    notes: str = ""
    wrong: str = ""
    guess: str = ""


def flat(controls: Sequence[Control | Group]) -> tuple[Control, ...]:
    """All controls from top to bottom, or ValueError where two share a name.

    Examples
    --------
    >>> print(len(flat([Group("In the jug", [Slider("water", "water", "parts", 0, 10, 0.1, 0)])])))
    1
    """
    found = [
        c for given in controls for c in (given.controls if isinstance(given, Group) else (given,))
    ]
    names = [c.name for c in found]
    for name in names:
        if names.count(name) > 1:
            raise ValueError(
                f"controls: the name {name} stands {names.count(name)} times: it must stand once"
            )
    return tuple(found)


def front(given: Control | Group) -> dict[str, Any]:
    """A control or a group as the page's script takes it."""
    if isinstance(given, Group):
        return {
            "kind": "group",
            "legend": given.legend,
            "folded": given.folded,
            "controls": [front(control) for control in given.controls],
        }
    kind = type(given).__name__.lower()
    held = {field.name: getattr(given, field.name) for field in dataclasses.fields(given)}
    if isinstance(given, Choice):
        held["options"] = [list(option) for option in given.options.items()]
    return {"kind": kind, **held}
