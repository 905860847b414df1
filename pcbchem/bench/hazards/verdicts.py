"""Which bath must not be mixed, and which wants care: the rules, and what they say of a bath.

Every rule stands in verdict_rules.csv with its limit, its words and its source. One place decides:
plans, searches and pages all ask here.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...common import tables
from ...common.band import Band
from ...common.limits import InputError, check_choice, check_values
from ...common.number_words import SHORT_TIME, of_draws
from ...common.units import ZERO_C, L, hour, minute
from ...reaction.bath.bath import LONGEST

VERDICTS = ("mix it", "with cares", "do not mix")
"""In the order of severity: a severity is a place in this list."""
REFUSED = VERDICTS.index("do not mix")
"""Severity of a bath that must not be mixed."""
KINDS = ("harm", "will not finish", "care")
"""What a rule is about, the worst first. The first two refuse."""
WHY_STOPPED = {
    "acid": "most of those run out of acid",
    "peroxide": "most of those run out of peroxide",
    "no chloride": "most of those hold no chloride, and nothing starts without it",
    "no peroxide": "there is no peroxide in it",
    "time": f"most of those are still etching after {LONGEST / hour:.0f} hours",
    "": "",
}
"""Why baths that never clear stop, as a clause; by what stopped them, "" where nothing did."""

BOARD_NOT_COVERED, MUCH_BATH = "board not covered", "much bath"
ACID_FUMES, WARM_ETCH = "acid fumes", "warm while etching"
WARM_AFTER, BOILS_AFTER = "warm when left standing", "may boil when left standing"
"""Names of rules that other modules ask for."""


class Scale(NamedTuple):
    """How people write a quantity: `factor` times its value in SI, less `offset`, and a `word`.

    `decimals`: at least so many [-].
    """

    factor: float
    offset: float
    word: str
    decimals: int


SCALES = {
    "K": Scale(1.0, ZERO_C, " °C", 0),
    "s": Scale(1.0, 0.0, " s", 0),
    "min": Scale(1 / minute, 0.0, " min", 0),
    "mol/m3": Scale(L, 0.0, " mol/L", 1),
    "kg/kg": Scale(100.0, 0.0, " % by weight", 1),
    "-": Scale(1.0, 0.0, " times", 1),
    "share": Scale(100.0, 0.0, " %", 0),
    "m3": Scale(1 / L, 0.0, " L", 1),
    # no unit but an end of a band: a share of draws, whatever the quantity
    "never": Scale(100.0, 0.0, " in 100", 0),
}
MOST_DECIMALS = 5
"""More decimals than this are never written to tell a value from its limit."""
MOST_OVER_PUBLIC = 1e3
"""Most that a bottle may be over what the public may hold [-]: no bottle comes near it."""


@dataclasses.dataclass(frozen=True)
class Rule:
    """A verdict, and when it falls: one end of the band of a quantity strictly beyond a limit.

    Parameters
    ----------
    name : str
        What to call the rule.
    verdict : str
        What falls, from `VERDICTS`.
    kind : str
        What it is about, from `KINDS`.
    quantity : str
        Name of a band, or "over_public".
    end : str
        Which end of the band counts: "low", "middle", "high" or "never".
    side : str
        The side of the limit that is bad: "above" or "below".
    limit : float
        In SI [`unit`].
    unit : str
        Unit of the limit, a key of `SCALES`.
    words : str
        A clause with places for {value}, {limit} and {share} of the draws.
    source : str
        A citation or "common practice, no source".
    as_of : str
        When it was read.
    """

    name: str
    verdict: str
    kind: str
    quantity: str
    end: str
    side: str
    limit: float
    unit: str
    words: str
    source: str
    as_of: str

    @property
    def scale(self) -> Scale:
        """How people write what this rule looks at."""
        if self.end == "never":
            return SCALES["never"]
        # by the limit and not the value, so that both are said in one unit
        if self.unit == "s" and self.limit > SHORT_TIME:
            return SCALES["min"]
        return SCALES[self.unit]

    def beyond(self, values: ArrayLike) -> NDArray[np.bool_]:
        """Return whether values [SI] lie strictly beyond the limit, on its bad side."""
        array = np.asarray(values)
        if self.side == "above":
            return np.asarray(array > self.limit)
        return np.asarray(array < self.limit)

    def shown(self, value: float) -> str:
        """Write a value [SI] as people do [°C, min, mol/L, % by weight], apart from the limit.

        Examples
        --------
        >>> print(rules()[0].shown(345.15), "|", rules()[0].shown(333.25))
        72 °C | 60.1 °C
        """
        # only a time can be infinite: that of a board that was not clear when its run ended
        if np.isinf(value):
            return f"more than {LONGEST / hour:.0f} hours"
        factor, offset, word, decimals = self.scale
        # rounded to what it is in the unit of people, without the error of the conversion
        limit = round(self.limit * factor - offset, 6)
        if value == self.limit:
            return f"{limit:g}{word}"
        # a value beyond its limit must not be rounded to it: write more decimals until it differs
        number = ""
        for places in range(decimals, MOST_DECIMALS + 1):
            number = f"{value * factor - offset:.{places}f}"
            if float(number) != limit:
                break
        return number + word


@dataclasses.dataclass(frozen=True)
class Reason:
    """Why a verdict falls: a rule that is passed, in numbers and in words.

    Parameters
    ----------
    kind : str
        What it is about, from `KINDS`.
    rule : str
        Name of the rule.
    words : str
        A finished clause.
    source : str
        A citation or "common practice, no source".
    as_of : str
        When the rule was read.
    value : float
        What the rule looked at [SI, `unit`].
    limit : float
        What it is beyond [SI, `unit`].
    unit : str
        Unit of value and limit, a key of `SCALES`.
    """

    kind: str
    rule: str
    words: str
    source: str
    as_of: str
    value: float
    limit: float
    unit: str


@dataclasses.dataclass(frozen=True)
class Limit:
    """A limit of one quantity, and the verdict for each end of its band that is beyond it.

    Parameters
    ----------
    value : float
        The limit [SI, `unit`].
    unit : str
        Unit of the value, a key of `SCALES`.
    verdicts : tuple
        Pairs of the end ("high": 1 in 10, "middle": half, "low") and what then falls, the mildest
        first.
    """

    value: float
    unit: str
    verdicts: tuple[tuple[str, str], ...]


@cache
def rules() -> tuple[Rule, ...]:
    """Read every rule of verdict_rules.csv, those that refuse first, limits in SI [own unit].

    Examples
    --------
    >>> print(rules()[0].quantity, f"{rules()[0].limit:.2f}", rules()[0].source)
    etching_peak 333.15 common practice, no source
    """
    return tuple(
        Rule(
            name=row["name"],
            verdict=row["verdict"],
            kind=row["kind"],
            quantity=row["quantity"],
            end=row["end"],
            side=row["side"],
            limit=float(row["limit_SI"]),
            unit=row["unit"],
            words=row["words"],
            source=tables.cited(row),
            as_of=row["as_of"],
        )
        for row in tables.read("verdict_rules")
    )


def rule_named(name: str) -> Rule:
    """Find a rule by its name.

    Raises
    ------
    InputError
        No rule of that name: names those there are.

    Examples
    --------
    >>> print(rule_named("too fast").verdict)
    do not mix
    """
    by_name = {rule.name: rule for rule in rules()}
    return by_name[check_choice("rule", name, tuple(by_name))]


@cache
def limits_of(quantity: str) -> tuple[Limit, ...]:
    """Find every limit that the rules set on a quantity [SI], with its verdicts.

    Examples
    --------
    >>> print([f"{limit.value:.2f}" for limit in limits_of("etching_peak")])
    ['318.15', '333.15']
    """
    # one limit may count twice: what is a care in 1 bath of 10 refuses where half pass it
    verdicts: dict[tuple[float, str], list[tuple[str, str]]] = {}
    for rule in reversed(rules()):  # those that refuse come first in the table
        if rule.quantity == quantity:
            verdicts.setdefault((rule.limit, rule.unit), []).append((rule.end, rule.verdict))
    return tuple(Limit(value, unit, tuple(ends)) for (value, unit), ends in verdicts.items())


def value_of(rule: Rule, bands: Mapping[str, Band], over_public: ArrayLike) -> NDArray[np.float64]:
    """Return what a rule looks at: an end of a band [SI], or the strength over the public limit.

    Parameters
    ----------
    rule : Rule
        Whose quantity and end.
    bands : dict of Band
        As in `passed` [SI].
    over_public : float or array
        As in `passed` [-].

    Returns
    -------
    array
        Of the shape of the band without its draws [SI].

    Raises
    ------
    InputError
        A band that is missing, or an impossible `over_public`.
    """
    # the law looks at the bottles: there is one number for it, and no band
    if rule.quantity == "over_public":
        return np.asarray(check_values("over_public", over_public, 0.0, MOST_OVER_PUBLIC))
    # a band that is missing must not let its rule pass in silence
    if rule.quantity not in bands:
        raise InputError(
            "bands",
            f"it must hold {rule.quantity}",
            about=f" = {', '.join(bands) or 'none'}",
            wrong="is not enough",
        )
    return np.asarray(getattr(bands[rule.quantity], rule.end), dtype=float)


def passed(bands: Mapping[str, Band], over_public: ArrayLike) -> dict[str, NDArray[np.bool_]]:
    """Find which rules are passed, strictly beyond their limit, scenario by scenario.

    Parameters
    ----------
    bands : dict of Band
        "time_to_clear" [s], "etching_peak", "standing_peak" [K], "acid" in the mixture [mol/m³],
        "peroxide" in it and "acid_met" by strong peroxide as it is poured [kg/kg], "reserve",
        "cover" [-] and "volume" [m³].
    over_public : float or array
        Strength of the worst bottle over what the public may hold [-], from `over_public`.

    Returns
    -------
    dict
        By name of the rule: true where it is passed, of the shape of its band without the draws.

    Raises
    ------
    InputError
        A band that is missing, or an impossible `over_public`: names it.

    Examples
    --------
    >>> values = {
    ...     "time_to_clear": 300, "etching_peak": 310, "standing_peak": 340, "acid": 1500,
    ...     "peroxide": 0.06, "acid_met": 0, "reserve": 9, "cover": 3, "volume": 1e-4,
    ... }
    >>> bands = {name: Band.of(value, None) for name, value in values.items()}
    >>> print([name for name, is_passed in passed(bands, 1.0).items() if is_passed])
    ['warm when left standing']
    """
    return {rule.name: rule.beyond(value_of(rule, bands, over_public)) for rule in rules()}


def severity(passed: Mapping[str, NDArray[np.bool_]]) -> Any:
    """Return how bad it is: the severity of the worst rule that is passed.

    Parameters
    ----------
    passed : dict
        From `passed`: names of rules, and whether each is passed.

    Returns
    -------
    int or array
        0, 1 or 2, a place in `VERDICTS` [-], of the common shape.
    """
    # an unknown name is an error: a rule that is misspelt must not pass in silence
    severities = {rule.name: VERDICTS.index(rule.verdict) for rule in rules()}
    worst: Any = np.zeros((), dtype=int)
    for name, is_passed in passed.items():
        check_choice("passed", name, tuple(severities))
        worst = np.maximum(worst, np.where(is_passed, severities[name], 0))
    if np.ndim(worst):
        return worst
    return int(worst)


def reasons(
    bands: Mapping[str, Band], over_public: ArrayLike, stopped: str = ""
) -> tuple[Reason, ...]:
    """Say why one bath is refused, or what to take care of if it is not.

    Parameters
    ----------
    bands : dict of Band
        As in `passed`, of one scenario [SI].
    over_public : float
        As in `passed` [-].
    stopped : str
        Why most baths that never clear stop, a key of `WHY_STOPPED`.

    Returns
    -------
    tuple of Reason
        Only the rules that refuse, harm first, if any does; else the cares; empty where there is
        nothing to say.

    Raises
    ------
    InputError
        More than one scenario, or an unknown `stopped`: names it.

    Examples
    --------
    >>> values = {
    ...     "time_to_clear": 300, "etching_peak": 310, "standing_peak": 350, "acid": 1500,
    ...     "peroxide": 0.06, "acid_met": 0, "reserve": 2, "cover": 3, "volume": 1e-4,
    ... }
    >>> bands = {name: Band.of(value, None) for name, value in values.items()}
    >>> print(*(reason.words for reason in reasons(bands, 1.0)))
    all plausible baths pass 75 °C when left standing: half reach 77 °C
    """
    check_choice("stopped", stopped, tuple(WHY_STOPPED))
    is_passed = passed(bands, over_public)
    scenarios = {name: array.shape for name, array in is_passed.items() if array.ndim}
    if scenarios:
        raise InputError(
            "bands",
            "it must be one scenario",
            about=f" = shapes {scenarios}",
            wrong="are impossible",
        )
    # beside a refusal cares would only distract; no rule bears the mildest verdict
    verdict = VERDICTS[severity(is_passed)]
    worst = [
        _reason(rule, bands, over_public, stopped)
        for rule in rules()
        if is_passed[rule.name] and rule.verdict == verdict
    ]
    # within a kind the order of the table stays
    return tuple(sorted(worst, key=lambda reason: KINDS.index(reason.kind)))


def _reason(rule: Rule, bands: Mapping[str, Band], over_public: ArrayLike, stopped: str) -> Reason:
    """Say what one rule that is passed saw."""
    value = float(value_of(rule, bands, over_public))
    # counted in the draws themselves: the ends of a band only tell tenths
    share = ""
    if "{share}" in rule.words:
        share = of_draws(rule.beyond(bands[rule.quantity].values))
    words = rule.words.format(value=rule.shown(value), limit=rule.shown(rule.limit), share=share)
    if rule.end == "never" and WHY_STOPPED[stopped]:
        words += f"; {WHY_STOPPED[stopped]}"
    return Reason(
        kind=rule.kind,
        rule=rule.name,
        words=words,
        source=rule.source,
        as_of=rule.as_of,
        value=value,
        limit=rule.limit,
        unit=rule.unit,
    )
