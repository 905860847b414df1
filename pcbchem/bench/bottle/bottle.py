"""A bottle: what is in it, and between which strengths it lies."""

from __future__ import annotations

import dataclasses

from ...common.arrays import FloatArray
from ...common.band import between
from ...common.limits import InputError, check_choice, check_number
from ...matter.properties import LIMITS

SUBSTANCES = ("HCl", "H2O2")
"""What the bottles of a bath hold: hydrochloric acid, and hydrogen peroxide."""
LABEL_DOUBT = 0.01
"""Acid is taken as its label says, give or take this [kg/kg] (common practice)."""
LEAST_SHARE_OF_LABEL = 0.85
"""Peroxide fades: a bottle holds this share of its label [-], up to all of it (common practice)."""
BOTTLE_TEMPERATURES = (273.15, 313.15)
"""Temperatures that a bottle may have [K]: colder freezes, warmer is no bench."""
DECIMALS = 12
"""Decimals of an end that is worked out from a label [-]: 9 %, not 9.000000000000001 %."""


@dataclasses.dataclass(frozen=True)
class Bottle:
    """A bottle and how sure one is of it: each strength from `low` to `high` is equally likely.

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
    InputError
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
        most = LIMITS[check_choice("substance", self.substance, SUBSTANCES)]
        for name in ("low", "high", "label"):
            strength = getattr(self, name)
            if name == "label" and strength is None:  # no label, or nobody can read it
                continue
            strength = check_number(name, strength, 0.0, most, "kg/kg")
            object.__setattr__(self, name, strength)  # the only way into a frozen dataclass
        if self.low > self.high:
            raise InputError(
                "low",
                f"it must be at most high = {self.high:g} kg/kg",
                value=self.low,
                low=0.0,
                high=self.high,
                unit="kg/kg",
            )

    @classmethod
    def labelled(cls, substance: str, strength: float) -> Bottle:
        """Return a bottle of which only the label is known.

        Acid lies within 1 % by weight of its label, peroxide at 85 to 100 % of it.

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
        InputError
            Another substance, or a strength outside its limits.

        Examples
        --------
        >>> print(f"{Bottle.labelled('H2O2', 0.12).low:.3f}")
        0.102
        """
        most = LIMITS[check_choice("substance", substance, SUBSTANCES)]
        label = check_number("strength", strength, 0.0, most, "kg/kg")
        # Peroxide fades, so it may only be weaker than its label; acid keeps, and was filled with
        # some care to both sides. Nothing is weaker than water, or stronger than there is
        if substance == "H2O2":
            return cls(substance, round(LEAST_SHARE_OF_LABEL * label, DECIMALS), label, label)
        low = max(round(label - LABEL_DOUBT, DECIMALS), 0.0)
        high = min(label + LABEL_DOUBT, most)
        return cls(substance, low, high, label)

    @property
    def middle(self) -> float:
        """Middle strength [kg/kg]."""
        return 0.5 * (self.low + self.high)

    def strengths(self, draws: int, seed: int) -> FloatArray:
        """Draw strengths [kg/kg] uniformly between both ends, on a draw axis of that length."""
        return between(self.low, self.high, draws=draws, seed=seed)
