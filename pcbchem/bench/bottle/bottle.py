"""A bottle and how sure one is of it."""

from __future__ import annotations

import dataclasses

from ...common.arrays import FloatArray
from ...common.band import between
from ...common.limits import check_choice, check_number
from ...matter.properties import LIMITS

LABEL_DOUBT = 0.01  # kg/kg: acid is taken as its label says, give or take this (common practice)


FADED = 0.85  # peroxide fades: a bottle holds this share of its label, up to all of it (common practice)


BOTTLES = (273.15, 313.15)  # K: colder freezes, warmer is no bench


@dataclasses.dataclass(frozen=True)
class Bottle:
    """A bottle and how sure one is of it: every strength between `low` and `high` counts as equally likely.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    low, high : float
        Mass fractions [kg/kg], at most 0.45 for acid and 0.70 for peroxide.
    label : float, optional
        Mass fraction on the label [kg/kg], where there is one: rules on who may hold what go by it.

    Raises
    ------
    ValueError
        Another substance, a strength outside its limits, or `low` above `high`.

    Examples
    --------
    >>> old = Bottle("H2O2", 0.05, 0.12)
    >>> print(f"{old.low:.2f} to {old.high:.2f}")
    0.05 to 0.12
    """

    substance: str
    low: float
    high: float
    label: float | None = None

    def __post_init__(self) -> None:
        most = LIMITS[check_choice("substance", self.substance, ("HCl", "H2O2"))]
        for name in ("low", "high", "label"):
            if name != "label" or self.label is not None:
                object.__setattr__(
                    self, name, check_number(name, getattr(self, name), 0.0, most, "kg/kg")
                )
        if self.low > self.high:
            raise ValueError(
                f"low = {self.low:g} is impossible: it must be at most high = {self.high:g} kg/kg"
            )

    @classmethod
    def labelled(cls, substance: str, strength: float) -> Bottle:
        """A bottle known by its label alone: acid within 1 % by weight of it, peroxide at 85 to 100 % of it.

        Parameters
        ----------
        substance : str
            "HCl" or "H2O2".
        strength : float
            Mass fraction on the label [kg/kg].

        Returns
        -------
        Bottle
            With the doubt of the label (common practice, no source).

        Raises
        ------
        ValueError
            Another substance, or a strength outside its limits.

        Examples
        --------
        >>> print(f"{Bottle.labelled('H2O2', 0.12).low:.3f}")
        0.102
        """
        most = LIMITS[check_choice("substance", substance, ("HCl", "H2O2"))]
        label = check_number("strength", strength, 0.0, most, "kg/kg")
        if substance == "H2O2":
            return cls(
                substance, round(FADED * label, 12), label, label
            )  # 9 %, not 9.000000000000001 %
        return cls(
            substance,
            max(round(label - LABEL_DOUBT, 12), 0.0),
            min(label + LABEL_DOUBT, most),
            label,
        )

    @property
    def middle(self) -> float:
        """Middle strength [kg/kg]."""
        return 0.5 * (self.low + self.high)

    def strengths(self, draws: int, seed: int) -> FloatArray:
        """Strengths [kg/kg] on a draw axis of that length, uniform between both ends."""
        return between(self.low, self.high, draws=draws, seed=seed)
