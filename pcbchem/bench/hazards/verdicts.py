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
from ...common.limits import InputError, check_choice
from ...common.number_words import SHORT_TIME, of_draws
from ...common.units import ZERO_C, L, hour, minute
from ...reaction.bath.bath import LONGEST

VERDICTS = ("mix it", "with care", "do not mix")
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
WARM_AFTER, VERY_WARM_AFTER = "warm when left standing", "very warm when left standing"
BOILS_AFTER = "may run away when left standing"
"""Names of rules that other modules ask for."""
UPPER_QUARTER = "upper quarter"
"""End of a band that 1 plausible bath in 4 exceeds; a band itself does not hold it."""
MARGIN_SHARE, MARGIN_K = 0.1, 5.0
"""How far a limit is moved to the safe side for a margin [share of the limit], of a temperature
[K]."""


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


@dataclasses.dataclass(frozen=True)
class Rule:
    """A verdict, and when it falls: one end of the band of a quantity beyond a limit.

    Parameters
    ----------
    name : str
        What to call the rule.
    verdict : str
        What falls, from `VERDICTS`.
    kind : str
        What it is about, from `KINDS`.
    quantity : str
        Name of a band.
    end : str
        Which end of the band counts: "low", "middle", "upper quarter", "high" or "never".
    side : str
        The side of the limit that is bad: "above" or "below" it, or "from" it on.
    limit : float
        In SI [`unit`].
    unit : str
        Unit of the limit, a key of `SCALES`.
    words : str
        A clause with places for {value}, {limit} and {share} of the draws; of a care it begins with
        what to do.
    source : str
        A citation, "common practice, no source" or "our limit, no source".
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

    def beyond(self, values: ArrayLike, margin: bool = False) -> NDArray[np.bool_]:
        """Return whether values [SI] lie beyond the limit, on its bad side.

        With `margin` the limit is moved to its safe side first: by 5 K, or by a tenth of it.
        """
        array, limit = np.asarray(values), self.limit
        if margin:
            limit = self._with_margin()
        if self.side == "below":
            return np.asarray(array < limit)
        if self.side == "from":
            return np.asarray(array >= limit)
        return np.asarray(array > limit)

    def _with_margin(self) -> float:
        """Return the limit, moved to its safe side [own unit]."""
        step = MARGIN_SHARE * self.limit
        if self.unit == "K":
            step = MARGIN_K
        if self.side == "below":
            return self.limit + step
        return self.limit - step

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
    """Why a verdict falls: a rule whose limit is exceeded, in numbers and in words.

    Parameters
    ----------
    kind : str
        What it is about, from `KINDS`.
    rule : str
        Name of the rule.
    words : str
        A finished clause.
    source : str
        A citation, "common practice, no source" or "our limit, no source".
    as_of : str
        When the rule was read.
    value : float
        What the rule looked at [SI, `unit`]; NaN where it would be the amount of a refused bath.
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
        Pairs of the end ("high": 1 in 10, "upper quarter": 1 in 4, "middle": half, "low") and what
        then falls, the mildest first.
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
    etching_peak 333.15 our limit, no source
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
    # one limit may count twice: what is a care in 1 bath of 10 refuses where half exceed it
    verdicts: dict[tuple[float, str], list[tuple[str, str]]] = {}
    for rule in reversed(rules()):  # those that refuse come first in the table
        if rule.quantity == quantity:
            verdicts.setdefault((rule.limit, rule.unit), []).append((rule.end, rule.verdict))
    return tuple(Limit(value, unit, tuple(ends)) for (value, unit), ends in verdicts.items())


def value_of(rule: Rule, bands: Mapping[str, Band]) -> NDArray[np.float64]:
    """Return what a rule looks at: an end of a band [SI].

    Parameters
    ----------
    rule : Rule
        Whose quantity and end.
    bands : dict of Band
        As in `exceeded` [SI].

    Returns
    -------
    array
        Of the shape of the band without its draws [SI].

    Raises
    ------
    InputError
        A band that is missing.
    """
    # a band that is missing must not let its rule pass in silence
    if rule.quantity not in bands:
        raise InputError(
            "bands",
            f"it must hold {rule.quantity}",
            about=f" = {', '.join(bands) or 'none'}",
            wrong="is not enough",
        )
    band = bands[rule.quantity]
    if rule.end == UPPER_QUARTER:
        # one of the draws, as the other ends are
        return np.asarray(np.quantile(band.values, 0.75, axis=-1, method="inverted_cdf"))
    return np.asarray(getattr(band, rule.end), dtype=float)


def exceeded(bands: Mapping[str, Band], margin: bool = False) -> dict[str, NDArray[np.bool_]]:
    """Find which rules have their limit exceeded, scenario by scenario.

    Parameters
    ----------
    bands : dict of Band
        Every quantity of the rules, as `Outlook.bands` has them [SI].
    margin : bool
        Count a limit as exceeded already 5 K or a tenth before it.

    Returns
    -------
    dict
        By name of the rule: true where it is exceeded, of the shape of its band without the draws.

    Raises
    ------
    InputError
        A band that is missing: names it.

    Examples
    --------
    >>> values = dict.fromkeys((rule.quantity for rule in rules()), 0.0) | {
    ...     "time_to_clear": 300, "reserve": 9, "cover": 3, "second_time": 600,
    ...     "standing_peak": 320,
    ... }
    >>> bands = {name: Band.of(value, None) for name, value in values.items()}
    >>> print([name for name, is_exceeded in exceeded(bands).items() if is_exceeded])
    ['warm when left standing']
    """
    return {rule.name: rule.beyond(value_of(rule, bands), margin) for rule in rules()}


def severity(exceeded: Mapping[str, NDArray[np.bool_]]) -> Any:
    """Return how bad it is: the severity of the worst rule that is exceeded.

    Parameters
    ----------
    exceeded : dict
        From `exceeded`: names of rules, and whether each is exceeded.

    Returns
    -------
    int or array
        0, 1 or 2, a place in `VERDICTS` [-], of the common shape.
    """
    # an unknown name is an error: a rule that is misspelt must not pass in silence
    severities = {rule.name: VERDICTS.index(rule.verdict) for rule in rules()}
    worst: Any = np.zeros((), dtype=int)
    for name, is_exceeded in exceeded.items():
        check_choice("exceeded", name, tuple(severities))
        worst = np.maximum(worst, np.where(is_exceeded, severities[name], 0))
    if np.ndim(worst):
        return worst
    return int(worst)


def reasons(bands: Mapping[str, Band], stopped: str = "") -> tuple[Reason, ...]:
    """Say why one bath is refused, or what to take care of if it is not.

    Parameters
    ----------
    bands : dict of Band
        As in `exceeded`, of one scenario [SI].
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
    >>> values = dict.fromkeys((rule.quantity for rule in rules()), 0.0) | {
    ...     "time_to_clear": 300, "reserve": 2, "cover": 3, "second_time": 600,
    ...     "standing_peak": 334,
    ... }
    >>> bands = {name: Band.of(value, None) for name, value in values.items()}
    >>> print(*(reason.words for reason in reasons(bands)))
    all plausible baths exceed 60 °C in the day after, when left standing: half reach 61 °C
    """
    check_choice("stopped", stopped, tuple(WHY_STOPPED))
    is_exceeded = exceeded(bands)
    scenarios = {name: array.shape for name, array in is_exceeded.items() if array.ndim}
    if scenarios:
        raise InputError(
            "bands",
            "it must be one scenario",
            about=f" = shapes {scenarios}",
            wrong="are impossible",
        )
    # beside a refusal cares would only distract; no rule bears the mildest verdict
    verdict = VERDICTS[severity(is_exceeded)]
    worst = [
        _reason(rule, bands, stopped)
        for rule in rules()
        if is_exceeded[rule.name] and rule.verdict == verdict
    ]
    # within a kind the order of the table stays
    return tuple(sorted(worst, key=lambda reason: KINDS.index(reason.kind)))


def _reason(rule: Rule, bands: Mapping[str, Band], stopped: str) -> Reason:
    """Say what one rule that is exceeded saw."""
    value = float(value_of(rule, bands))
    # counted in the draws themselves: the ends of a band only tell tenths
    share = ""
    if "{share}" in rule.words:
        share = of_draws(rule.beyond(bands[rule.quantity].values))
    words = rule.words.format(value=rule.shown(value), limit=rule.shown(rule.limit), share=share)
    if rule.end == "never" and WHY_STOPPED[stopped]:
        words += f"; {WHY_STOPPED[stopped]}"
    # a refused plan holds no amount, and a reason goes with it
    if rule.unit == "m3" and rule.verdict == VERDICTS[REFUSED]:
        value = np.nan
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
