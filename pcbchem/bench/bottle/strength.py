"""What a measurement says of a bottle: a strength with its doubt, propagated from readings; as draws, as a bottle."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Any

import numpy as np

from ...common import tables
from ...common.arrays import Draws, FloatArray, as_draws
from ...common.band import between
from ...common.limits import check_choice, check_number, check_values, collecting_warnings, naming
from ...matter.labels import mass_fraction_from, strength
from ...matter.properties import LIMITS, warn_properties
from .bottle import FADED, LABEL_DOUBT, Bottle

TELLS = 0.2
"""A reading tells something if its doubt is at most this share of it [-]: a fifth."""
APART = 3.0
"""Readings farther apart than this many of their doubts [-] disagree; so do a reading and a label."""
MOST_BELOW = 3.0  # doubts: a reading this far under nothing at all is still a reading of nothing
MOST_PEROXIDE = 0.35
"""Strongest peroxide that is measured here [kg/kg]: nobody of the public may hold more, even with a licence."""
MOST_STRENGTH = 0.0302
"""Strongest peroxide on a catalyst or under permanganate [kg/kg]: 3 %, and the 3.01 % of "10 volume", sold as 3 %."""
NOT_HERE = "Leave the bottle as it is, unopened, and ask your hazardous-waste site"
STEP = 0.01  # of a doubt: how far each reading is moved for its derivative


@dataclass(frozen=True)
class Strength:
    """What one measurement, or several together, say of the strength of a bottle.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    middle : float
        Mass fraction [kg/kg].
    doubt : float
        One standard deviation [kg/kg], above 0.
    method : str
        How it was measured, in words.
    shares : tuple of (str, float)
        Each reading and its share of the squared doubt [-]: the largest is the one to measure better. None where
        readings are put together or aged.
    caution : str
        What to do if the method cannot tell.
    methods : tuple of str
        The methods behind it, each once and without its age; `method` alone unless given.
    years : float
        How long before it was measured [years].

    Raises
    ------
    ValueError
        Another substance, or a value outside its limits.

    Examples
    --------
    >>> print(Strength("HCl", 0.318, 0.004, "titration").words)
    titration: 31.8 ± 0.4 % by weight
    """

    substance: str
    middle: float
    doubt: float
    method: str
    shares: tuple[tuple[str, float], ...] = ()
    caution: str = "measure it another way"
    methods: tuple[str, ...] = ()
    years: float = 0.0

    def __post_init__(self) -> None:
        most = LIMITS[check_choice("substance", self.substance, ("HCl", "H2O2"))]
        object.__setattr__(self, "middle", check_number("middle", self.middle, 0.0, most, "kg/kg"))
        object.__setattr__(
            self, "doubt", check_number("doubt", self.doubt, 0.0, 1.0, "kg/kg", above=True)
        )
        object.__setattr__(self, "methods", tuple(self.methods) or (self.method,))

    @property
    def tells(self) -> bool:
        """Whether the reading says anything: its doubt is at most a fifth of it."""
        return self.doubt <= TELLS * self.middle

    @property
    def words(self) -> str:
        """Method, strength and doubt [% by weight, one standard deviation], or why the method cannot tell."""
        if self.tells:
            return f"{self.method}: {self.figures}"
        return (
            f"{self.method} cannot tell: it reads {self.figures}, and a doubt of more than a fifth of the reading "
            f"is no measurement; {self.caution}"
        )

    def __str__(self) -> str:
        return self.words

    @property
    def figures(self) -> str:
        """Strength and doubt alone [% by weight, one standard deviation]."""
        decimals = min(max(0, -math.floor(math.log10(100 * self.doubt))), 6)
        return f"{100 * self.middle:.{decimals}f} ± {100 * self.doubt:.{decimals}f} % by weight"

    def draws(self, draws: int, seed: int) -> Draws:
        """Strengths on a draw axis, for `Solution.of`.

        Parameters
        ----------
        draws : int
            How many draws [-], 1 to 400.
        seed : int
            Number [-] that makes them repeatable; two bottles need two seeds.

        Returns
        -------
        Draws
            Mass fractions [kg/kg], normal, and only from the part of it between 0 and the limit of the substance.

        Raises
        ------
        ValueError
            A method that cannot tell; draws or seed that cannot be.

        Examples
        --------
        >>> print(Strength("HCl", 0.318, 0.004, "titration").draws(200, seed=1).shape)
        (200,)
        """
        self.must_tell()
        normal, most = NormalDist(self.middle, self.doubt), LIMITS[self.substance]
        tiny = 1e-15  # the quantile of 0 or 1 is infinite
        chances = between(max(normal.cdf(0.0), tiny), min(normal.cdf(most), 1 - tiny), draws, seed)
        found = np.array([normal.inv_cdf(chance) for chance in chances])
        return as_draws(np.clip(found, 0.0, most))  # rounding of the last digit, nothing more

    def bottle(self, label: float | None) -> Bottle:
        """The bottle as a plan takes it: every strength between two ends as likely, with this mean and doubt.

        Parameters
        ----------
        label : float or None
            Mass fraction on the label [kg/kg]; None only for a bottle that has none. Rules on who may hold what,
            cautions and the order of pouring go by it where it is the stronger, so that no reading makes them weaker.

        Returns
        -------
        Bottle
            Its ends lie √3 doubts from the middle; an end past the limit of the substance stands at the limit. The
            ends are hard: 1 true strength in 12 lies a little outside them, and no offcut can move it there.

        Raises
        ------
        ValueError
            A method that cannot tell, or a label outside its limits. A label that the reading cannot belong to: acid
            more than 3 doubts and the label's own 1 % away from it; peroxide more than 3 doubts above it; peroxide all
            below 85 % of it by one method alone (two that agree are taken, `combined`: it fades).

        Examples
        --------
        >>> bottle = Strength("HCl", 0.318, 0.004, "titration").bottle(label=0.32)
        >>> print(f"{bottle.low:.3f} to {bottle.high:.3f}")
        0.311 to 0.325
        """
        self.must_tell()
        most, half = LIMITS[self.substance], math.sqrt(3) * self.doubt
        bottle = Bottle(self.substance, self.middle - half, min(self.middle + half, most), label)
        if bottle.label is not None:
            self._must_fit(bottle.label, bottle.high)
        return bottle

    def _must_fit(self, label: float, high: float) -> None:
        """Refuse a label [kg/kg] that cannot be that of the bottle, if a plan would take it as at most `high` [kg/kg]."""
        far, own = APART * self.doubt, LABEL_DOUBT if self.substance == "HCl" else 0.0
        least, most = max(self.middle - far - own, 0.0), self.middle + far + own
        said = f"label = {label:g} kg/kg does not fit: it reads {self.figures}, the label says {100 * label:.3g} %"
        if label < least or (self.substance == "HCl" and label > most):
            upper = f" to {most:.3g} kg/kg" if self.substance == "HCl" else " kg/kg or more"
            raise ValueError(
                f"{said}, and it must be {least:.3g}{upper}: one of them is a mistake (a dilution left "
                "out, another bottle, a wrong unit). Until you know which, plan with the "
                f"{'label' if label > self.middle else 'stronger of the two'}"
            )
        if self.substance == "H2O2" and high < FADED * label - 1e-9 and len(self.methods) == 1:
            raise ValueError(
                f"{said}, and by one method it must be {least:.3g} to {high / FADED:.3g} kg/kg: it is far "
                "below its label. It may have faded, or a dilution was left out. Measure it a second way "
                "and put both together; until then plan with the label"
            )

    def must_tell(self) -> None:
        """Refuse a reading that cannot tell: ValueError names its doubt, the limit [kg/kg] and what to do instead."""
        if not self.tells:
            raise ValueError(
                f"doubt = {self.doubt:.2g} kg/kg is too large: it must be above 0 to "
                f"{TELLS * self.middle:.2g} kg/kg. {self.words}"
            )


def measured(
    substance: str,
    method: str,
    formula: Callable[..., FloatArray],
    readings: Mapping[str, tuple[float, float]],
    caution: str = "measure it another way",
) -> Strength:
    """Work out a strength from readings, and its doubt from theirs by linear propagation.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    method : str
        How it was measured, in words.
    formula : callable
        Takes the readings by name, each an array, and returns mass fractions [kg/kg]; may go below 0.
    readings : dict
        Each reading by name: (value, one standard deviation) [own unit], independent of each other. "T" is one of them.
    caution : str
        What to do if the method cannot tell.

    Returns
    -------
    Strength
        The formula at the readings. Below 0 by at most 3 doubts it is 0, which cannot tell.

    Raises
    ------
    ValueError
        No strength from 0 to the limit of the substance gives these readings; peroxide surely above 35 %; doubts that
        are all 0, or that come to more than everything.

    Examples
    --------
    >>> found = measured("HCl", "guess", lambda T, w: w + 0 * T, {"T": (293.15, 1.0), "w": (0.3, 0.01)})
    >>> print(f"{found.middle:.2f} ± {found.doubt:.2f}")
    0.30 ± 0.01
    """
    value, doubt = np.array(list(readings.values())).T
    moved = STEP * np.diag(doubt)
    points = value + np.vstack([np.zeros_like(value), moved, -moved])
    with naming(method), collecting_warnings():
        found = formula(**dict(zip(readings, points.T, strict=True)))
        middle, (up, down) = float(found[0]), np.split(found[1:], 2)
        effects = (up - down) / (2 * STEP)  # of one doubt of each reading [kg/kg]
        total = float(np.sqrt(np.sum(effects**2)))
        if -MOST_BELOW * total <= middle < 0:
            middle = 0.0
        check_number("strength", middle, 0.0, LIMITS[substance], "kg/kg")
        if not 0 < total <= 1:
            worst = list(readings)[int(np.argmax(np.abs(effects)))]
            said = f"{worst}_doubt" if total else "every doubt = 0"
            raise ValueError(
                f"{said} is impossible: with {worst} in doubt by {readings[worst][1]:g} the strength is "
                f"in doubt by {total:.3g} kg/kg, it must be above 0 to 1 kg/kg"
            )
        if substance == "H2O2":
            must_be_weak("strength", middle, APART * total)
    warn_properties(method, readings["T"][0], {substance: middle}, stacklevel=5)
    shares = tuple(zip(readings, ((effects / (total or 1.0)) ** 2).tolist(), strict=True))
    return Strength(substance, middle, total, method, shares, caution)


def must_be_weak(name: str, peroxide: float, slack: float = 0.0) -> None:
    """Refuse to measure peroxide of more than 35 % [kg/kg], give or take its slack [kg/kg]."""
    if peroxide - slack > MOST_PEROXIDE:
        raise ValueError(
            f"{name} = {peroxide:.3g} kg/kg is too strong: it must be at most {MOST_PEROXIDE:g} kg/kg, "
            f"above 35 % is not for this bench. {NOT_HERE}"
        )


def fraction_of(substance: str, concentration: Any, T: Any) -> FloatArray:
    """Mass fractions [kg/kg] of a bottle at T [K] from its concentration [mol/m³], refused past what dissolves."""
    most = float(np.min(strength(LIMITS[substance], "mol/L", substance, T)))
    found = check_values(
        f"concentration of {substance} in the bottle", concentration / 1000, 0, most, "mol/L"
    )
    return np.asarray(mass_fraction_from(found, "mol/L", substance, T))


def volume_doubt_of(name: str, doubt: Any) -> float:
    """Doubt of a volume as a share of it [-]: a vessel of the table `vessels` by name, or the share, 0 to 0.2."""
    if isinstance(doubt, str):
        percents = {
            row["vessel"]: float(row["doubt_percent_of_volume"]) for row in tables.read("vessels")
        }
        return percents[check_choice(name, doubt, tuple(percents))] / 100
    return check_number(name, doubt, 0.0, 0.2, "of the volume (or the name of a vessel)")
