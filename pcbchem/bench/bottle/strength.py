"""What measuring says of a bottle: a strength, and the doubt of it that its readings leave."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Any, NamedTuple

import numpy as np

from ...common import tables
from ...common.arrays import Draws, FloatArray, as_draws
from ...common.band import between
from ...common.limits import (
    InputError,
    check_choice,
    check_number,
    check_values,
    collecting_warnings,
    naming,
)
from ...matter.labels import mass_fraction_from, strength
from ...matter.properties import LIMITS, warn_properties
from .bottle import LABEL_DOUBT, LEAST_SHARE_OF_LABEL, SUBSTANCES, Bottle

LARGEST_DOUBT = 0.2
"""A reading tells something if its doubt is at most this share of it [-]: a fifth."""
MOST_APART = 3.0
"""Readings farther apart than so many of their doubts [-] disagree, as do reading and label."""
MOST_BELOW = 3.0
"""A reading at most this many doubts [-] under nothing at all is still a reading of nothing."""
MOST_PEROXIDE = 0.35
"""Strongest peroxide that is measured here [kg/kg]: the public may hold no more, even licensed."""
STRONGEST_SAMPLE = 0.0302
"""Strongest peroxide on a catalyst or under permanganate [kg/kg].

That is 3 %, and the 3.01 % of "10 volume", which is sold as 3 %.
"""
LEAVE_UNOPENED = "Leave the bottle as it is, unopened, and ask your hazardous-waste site"
STEP = 0.01
"""How far each reading is moved for its derivative, as a share of its doubt [-]."""
MOST_DECIMALS = 6
"""Decimals of a strength in words at most [-]."""
LEAST_CHANCE = 1e-15
"""Smallest chance that is drawn [-], and as far from 1 the largest: their quantiles are finite."""
ANOTHER_WAY = "measure it another way"


class Reading(NamedTuple):
    """What was read, and one standard deviation of it [own unit]."""

    value: float
    doubt: float

    @property
    def relative_doubt(self) -> float:
        """Doubt as a share of the value [-]."""
        return self.doubt / self.value


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
        Each reading and its share of the squared doubt [-]: the largest is the one to measure
        better. None where readings are put together or aged.
    caution : str
        What to do if the method cannot tell.
    methods : tuple of str
        The methods behind it, each once and without its age; `method` alone unless given.
    years : float
        How long before it was measured [years].

    Raises
    ------
    InputError
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
    caution: str = ANOTHER_WAY
    methods: tuple[str, ...] = ()
    years: float = 0.0

    def __post_init__(self) -> None:
        most = LIMITS[check_choice("substance", self.substance, SUBSTANCES)]
        middle = check_number("middle", self.middle, 0.0, most, "kg/kg")
        doubt = check_number("doubt", self.doubt, 0.0, 1.0, "kg/kg", above=True)
        object.__setattr__(self, "middle", middle)
        object.__setattr__(self, "doubt", doubt)
        object.__setattr__(self, "methods", tuple(self.methods) or (self.method,))

    @property
    def tells(self) -> bool:
        """Whether the reading says anything: its doubt is at most a fifth of it."""
        return self.doubt <= LARGEST_DOUBT * self.middle

    @property
    def words(self) -> str:
        """Method, strength and doubt, or why the method cannot tell.

        In [% by weight], with one standard deviation.
        """
        if self.tells:
            return f"{self.method}: {self.figures}"
        return (
            f"{self.method} cannot tell: it reads {self.figures}, and a doubt of more than a fifth "
            f"of the reading is no measurement; {self.caution}"
        )

    def __str__(self) -> str:
        return self.words

    @property
    def figures(self) -> str:
        """Strength and doubt alone [% by weight, one standard deviation]."""
        # As many decimals as the first figure of the doubt needs
        first_figure = math.floor(math.log10(100 * self.doubt))
        decimals = min(max(0, -first_figure), MOST_DECIMALS)
        return f"{100 * self.middle:.{decimals}f} ± {100 * self.doubt:.{decimals}f} % by weight"

    def draws(self, draws: int, seed: int) -> Draws:
        """Draw strengths on a draw axis, for `Solution.of`.

        Parameters
        ----------
        draws : int
            How many draws [-], 1 to 400.
        seed : int
            Number [-] that makes them repeatable; two bottles need two seeds.

        Returns
        -------
        Draws
            Mass fractions [kg/kg], normal, and only from the part of the normal distribution
            between 0 and the limit of the substance.

        Raises
        ------
        InputError
            A method that cannot tell.
        ValueError
            Draws or a seed that cannot be.

        Examples
        --------
        >>> print(Strength("HCl", 0.318, 0.004, "titration").draws(200, seed=1).shape)
        (200,)
        """
        self.must_tell()
        normal, most = NormalDist(self.middle, self.doubt), LIMITS[self.substance]
        # A chance that is uniform gives a normal strength, by the inverse of the distribution; from
        # the chance of 0 to that of the limit it gives none outside
        lowest = max(normal.cdf(0.0), LEAST_CHANCE)
        highest = min(normal.cdf(most), 1 - LEAST_CHANCE)
        chances = between(lowest, highest, draws, seed)
        strengths = np.array([normal.inv_cdf(chance) for chance in chances])
        return as_draws(np.clip(strengths, 0.0, most))  # what rounding adds, nothing more

    def bottle(self, label: float | None) -> Bottle:
        """Return the bottle as a plan takes it: between two ends, with this mean and this doubt.

        Parameters
        ----------
        label : float or None
            Mass fraction on the label [kg/kg]; None only for a bottle that has none. Rules on who
            may hold what, cautions and the order of pouring go by it where it is the stronger, so
            that no reading makes them weaker.

        Returns
        -------
        Bottle
            Its ends lie √3 doubts from the middle; an end past the limit of the substance stands at
            the limit. The ends are hard: 1 true strength in 12 lies a little outside them, and no
            offcut can move it there.

        Raises
        ------
        InputError
            A method that cannot tell, or a label outside its limits. A label that the reading
            cannot belong to: acid more than 3 doubts and the label's own 1 % away from it; peroxide
            more than 3 doubts above it; peroxide all below 85 % of it by one method alone (two that
            agree are taken, `combined`: it fades).

        Examples
        --------
        >>> bottle = Strength("HCl", 0.318, 0.004, "titration").bottle(label=0.32)
        >>> print(f"{bottle.low:.3f} to {bottle.high:.3f}")
        0.311 to 0.325
        """
        self.must_tell()
        # A uniform distribution has this standard deviation if its ends lie √3 of them away
        half_width = math.sqrt(3) * self.doubt
        # A doubt of a fifth at most keeps the lower end above 0; the upper one may pass the limit
        high = min(self.middle + half_width, LIMITS[self.substance])
        bottle = Bottle(self.substance, self.middle - half_width, high, label)
        if bottle.label is not None and self.substance == "HCl":
            self._check_acid_label(bottle.label)
        elif bottle.label is not None:
            self._check_peroxide_label(bottle.label, bottle.high)
        return bottle

    def _check_acid_label(self, label: float) -> None:
        """Refuse a label [kg/kg] that cannot be that of the bottle: acid keeps its strength."""
        far = MOST_APART * self.doubt
        lowest = max(self.middle - far - LABEL_DOUBT, 0.0)
        highest = self.middle + far + LABEL_DOUBT
        if not lowest <= label <= highest:
            limits = f"{100 * lowest:.3g} to {100 * highest:.3g} %"
            raise self._two_strengths(label, limits, lowest, highest)

    def _check_peroxide_label(self, label: float, high: float) -> None:
        """Refuse a label [kg/kg] that cannot be that of the bottle.

        Peroxide fades, so it may say much more than is in the bottle; but one method alone is not
        believed if even `high`, the strongest that a plan would take it for [kg/kg], is far below.
        """
        lowest = max(self.middle - MOST_APART * self.doubt, 0.0)
        if label < lowest:
            raise self._two_strengths(label, f"{100 * lowest:.3g} % or more", lowest, None)

        # A dilution that was forgotten looks like this too: a second method would show it
        highest = high / LEAST_SHARE_OF_LABEL
        far_below = high < LEAST_SHARE_OF_LABEL * label - 1e-9
        if far_below and len(self.methods) == 1:
            raise self._misfit(
                label,
                f"by one method it must be {100 * lowest:.3g} to {100 * highest:.3g} %: it is far "
                "below its label. It may have faded, or a dilution was left out. Measure it a "
                "second way and put both together; until then plan with the label",
                lowest,
                highest,
            )

    def _two_strengths(
        self, label: float, limits: str, lowest: float, highest: float | None
    ) -> InputError:
        """Return the error of a label and a reading that cannot be of one bottle [kg/kg]."""
        # The cautious one of the two: never the weaker
        stronger = "stronger of the two"
        if label > self.middle:
            stronger = "label"
        return self._misfit(
            label,
            f"it must be {limits}: one of them is a mistake (a dilution left out, another "
            f"bottle, a wrong unit). Until you know which, plan with the {stronger}",
            lowest,
            highest,
        )

    def _misfit(self, label: float, rule: str, lowest: float, highest: float | None) -> InputError:
        return InputError(
            "label",
            f"it reads {self.figures}, the label says {100 * label:.3g} %, and {rule}",
            value=label,
            about=f" = {100 * label:.3g} %",
            wrong="does not fit",
            low=lowest,
            high=highest,
            unit="kg/kg",
        )

    def must_tell(self) -> None:
        """Refuse a reading that cannot tell.

        Raises
        ------
        InputError
            Names its doubt, the limit [kg/kg] and what to do instead.
        """
        if self.tells:
            return
        most = LARGEST_DOUBT * self.middle
        raise InputError(
            "doubt",
            f"it must be above 0 to {most:.2g} kg/kg. {self.words}",
            value=self.doubt,
            about=f" = {self.doubt:.2g} kg/kg",
            wrong="is too large",
            low=0.0,
            high=most,
            unit="kg/kg",
        )


def from_readings(
    substance: str,
    method: str,
    formula: Callable[..., FloatArray],
    readings: Mapping[str, Reading],
    caution: str = ANOTHER_WAY,
) -> Strength:
    """Work out a strength from readings, and its doubt from theirs by linear propagation.

    doubt² = Σ (∂w/∂x · doubt of x)², over all readings x.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    method : str
        How it was measured, in words.
    formula : callable
        Takes the readings by name, each an array, and returns mass fractions [kg/kg]; may go below
        0.
    readings : dict of Reading
        Each reading by name, with its doubt [own unit], independent of each other. "T" is one of
        them.
    caution : str
        What to do if the method cannot tell.

    Returns
    -------
    Strength
        The formula at the readings. Below 0 by at most 3 doubts it is 0, which cannot tell.

    Raises
    ------
    InputError
        No strength from 0 to the limit of the substance gives these readings; peroxide surely above
        35 %; doubts that come to more than everything.
    ValueError
        Doubts that are all 0.

    Examples
    --------
    >>> readings = {"T": Reading(293.15, 1.0), "w": Reading(0.3, 0.01)}
    >>> guess = from_readings("HCl", "guess", lambda T, w: w + 0 * T, readings)
    >>> print(f"{guess.middle:.2f} ± {guess.doubt:.2f}")
    0.30 ± 0.01
    """
    with naming(method), collecting_warnings():
        middle, effects = _propagate(formula, readings)
        doubt = float(np.sqrt(np.sum(effects**2)))
        # Plain water may well read a little less than nothing
        if -MOST_BELOW * doubt <= middle < 0:
            middle = 0.0
        check_number("strength", middle, 0.0, LIMITS[substance], "kg/kg")
        _check_doubt(doubt, effects, readings)
        if substance == "H2O2":
            must_be_weak("strength", middle, MOST_APART * doubt)
    # One warning for all the points at which the formula was read: at the strength itself
    warn_properties(method, readings["T"].value, {substance: middle}, stacklevel=5)
    # Squares of independent doubts add, so that these shares make 1
    shares = tuple(zip(readings, ((effects / doubt) ** 2).tolist(), strict=True))
    return Strength(substance, middle, doubt, method, shares, caution)


def _propagate(
    formula: Callable[..., FloatArray], readings: Mapping[str, Reading]
) -> tuple[float, FloatArray]:
    """Return the strength at the readings, and what one doubt of each adds to it [kg/kg]."""
    values, doubts = np.array(list(readings.values())).T
    moves = STEP * np.diag(doubts)
    # One call for all: as read, then each reading moved a little up, then each a little down
    points = values + np.vstack([np.zeros_like(values), moves, -moves])
    strengths = formula(**dict(zip(readings, points.T, strict=True)))
    # From down to up each reading moved by twice STEP of its doubt
    up, down = np.split(strengths[1:], 2)
    return float(strengths[0]), (up - down) / (2 * STEP)


def _check_doubt(doubt: float, effects: FloatArray, readings: Mapping[str, Reading]) -> None:
    """Refuse a doubt [kg/kg] that is nothing, or more than everything; name the worst reading."""
    if 0 < doubt <= 1:
        return
    worst = list(readings)[int(np.argmax(np.abs(effects)))]
    rule = (
        f"with {worst} in doubt by {readings[worst].doubt:g} the strength is in doubt by "
        f"{doubt:.3g} kg/kg, it must be above 0 to 1 kg/kg"
    )
    if not doubt:  # all of them are to blame, and so no single argument
        raise ValueError(f"every doubt = 0 is impossible: {rule}")
    raise InputError(f"{worst}_doubt", rule, value=readings[worst].doubt, about="")


def must_be_weak(name: str, peroxide: float, slack: float = 0.0) -> None:
    """Refuse to measure peroxide of more than 35 % [kg/kg], give or take its slack [kg/kg]."""
    if peroxide - slack <= MOST_PEROXIDE:
        return
    raise InputError(
        name,
        f"it must be at most {100 * MOST_PEROXIDE:g} %, above that is not for this bench. "
        f"{LEAVE_UNOPENED}",
        value=peroxide,
        about=f" = {100 * peroxide:.3g} %",
        wrong="is too strong",
        high=MOST_PEROXIDE,
        unit="kg/kg",
    )


def fraction_of(substance: str, concentration: Any, T: Any) -> FloatArray:
    """Return the mass fractions in a bottle of some concentrations.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    concentration : array
        Concentrations in the bottle [mol/m³].
    T : array
        Temperatures of the bottle [K].

    Returns
    -------
    array
        Mass fractions [kg/kg].

    Raises
    ------
    InputError
        More than what dissolves.
    """
    # Checked here, so that the error names the bottle and not the `value` of a label
    most = float(np.min(strength(LIMITS[substance], "mol/L", substance, T)))
    name = f"concentration of {substance} in the bottle"
    mol_per_litre = check_values(name, concentration / 1000, 0, most, "mol/L")
    return np.asarray(mass_fraction_from(mol_per_litre, "mol/L", substance, T))


def volume_doubt_of(name: str, doubt: Any) -> float:
    """Return the doubt of a volume as a share of it [-].

    It is a vessel of the table `vessels` by name, or the share itself, 0 to 0.2.
    """
    if isinstance(doubt, str):
        percents = {
            row["vessel"]: float(row["doubt_percent_of_volume"]) for row in tables.read("vessels")
        }
        return percents[check_choice(name, doubt, tuple(percents))] / 100
    return check_number(name, doubt, 0.0, 0.2, "of the volume (or the name of a vessel)")
