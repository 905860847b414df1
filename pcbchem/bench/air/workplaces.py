"""Where somebody works: how large the room is, how fast its air is renewed, and how fast it moves.

Four are named in workplaces.csv. A kitchen hood is none of them: steel and grease, and most only
blow the air round.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from ...common.limits import InputError, check_choice, check_number
from ...common.tables import read
from .doubts import chance, factor, spread
from .room import VOLUMES, fresh_air
from .surface import AIR_SPEEDS

NAMES = ("shut room", "shut garage", "window and fan", "open air")
"""The workplaces there are, the closest first."""
AIR_CHANGES = (0.0, 100.0)
"""Air changes of a room [1/h]: no more by a fan."""


@dataclass(frozen=True)
class Workplace:
    """A place to work in, with what is known of its air.

    Parameters
    ----------
    name : str
        What to call it.
    volume : float or None
        Of the room [m³], 0.1 to 100 000; None in the open air.
    air_changes : tuple of float
        Least and most [1/h], 0 to 100; a room with no fresh air at all has (0, 0).
    air_speed : tuple of float
        Least and most speed of the air over a bath [m/s], 0.01 to 3.
    words : str
        What it is, in words.
    outdoors : bool
        Whether it is the open air.

    Raises
    ------
    InputError
        A place without a volume that is not outdoors, one outdoors that has a volume, or a value
        outside its limits.

    Examples
    --------
    >>> print(Workplace("cellar", 40.0, (0.1, 0.5), (0.05, 0.1)).volume)
    40.0
    """

    name: str
    volume: float | None
    air_changes: tuple[float, float]
    air_speed: tuple[float, float]
    words: str = ""
    outdoors: bool = False

    def __post_init__(self) -> None:
        if self.outdoors and self.volume is not None:
            rule = "it must be None in the open air"
            raise InputError("volume", rule, value=self.volume, unit="m³")
        if not self.outdoors:
            if self.volume is None:
                least, most = VOLUMES
                rule = f"a place that is not outdoors has a volume, {least:g} to {most:g} m³"
                raise InputError("volume", rule, about=" = None", low=least, high=most, unit="m³")
            volume = check_number("volume", self.volume, *VOLUMES, "m³")
            object.__setattr__(self, "volume", volume)
        for name, limits, unit in (
            ("air_changes", AIR_CHANGES, "1/h"),
            ("air_speed", AIR_SPEEDS, "m/s"),
        ):
            ends = _least_and_most(name, getattr(self, name), *limits, unit)
            object.__setattr__(self, name, ends)

    def speed(self, draws: int) -> Any:
        """Draw the speed of its air [m/s]."""
        return spread(*self.air_speed, chance("draught", draws))

    def air(self, draws: int) -> Any:
        """Draw the fresh air that counts [m³/s]; infinite in the open air."""
        if self.volume is None:
            return np.full(draws, math.inf)
        least, most = self.air_changes
        if least > 0:
            changes = spread(least, most, chance("air changes", draws))
        else:
            changes = least + (most - least) * chance("air changes", draws)
        return fresh_air(self.volume, changes, factor("mixing", draws))


def _least_and_most(
    name: str, value: Any, low: float, high: float, unit: str
) -> tuple[float, float]:
    """Return the two ends of a range [unit], checked."""
    if not isinstance(value, tuple | list) or len(value) != 2:
        rule = f"it must be (least, most), {low:g} to {high:g} {unit}"
        raise InputError(name, rule, value=value, about=f" = {value!r:.80}", low=low, high=high)
    least, most = (check_number(name, end, low, high, unit) for end in value)
    if least > most:
        rule = f"the least must be at most the most, {low:g} to {high:g} {unit}"
        raise InputError(name, rule, value=value, about=f" = {value!r:.80}", low=low, high=high)
    return least, most


@cache
def _workplaces() -> dict[str, Workplace]:
    workplaces = {}
    for row in read("workplaces"):
        volume = float(row["volume_m3"])
        outdoors = math.isinf(volume)
        name = row["workplace"]
        workplaces[name] = Workplace(
            name,
            None if outdoors else volume,
            (float(row["least_air_changes_per_h"]), float(row["most_air_changes_per_h"])),
            (float(row["least_air_speed_m_s"]), float(row["most_air_speed_m_s"])),
            row["words"],
            outdoors,
        )
    return workplaces


def workplace(name: str | Workplace) -> Workplace:
    """Return a workplace by its name; one that is given as such is handed back.

    Parameters
    ----------
    name : str or Workplace
        One of `NAMES`, or a workplace of your own.

    Returns
    -------
    Workplace
        With its ranges [SI].

    Raises
    ------
    InputError
        Another name: names those there are.

    Examples
    --------
    >>> print(workplace("shut room").words)
    a room of 30 m³, door and window shut
    """
    if isinstance(name, Workplace):
        return name
    return _workplaces()[check_choice("workplace", name, NAMES)]
