"""Hazards: which bath not to mix and why, what to take care of, and who may hold what. One place decides."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...common import tables
from ...common.band import Band
from ...common.limits import check_choice, check_values
from ...common.number_words import of_draws
from ...common.tables import cited
from ...common.units import ZERO_C, L, hour, minute
from ...reaction.bath.bath import LONGEST

VERDICTS = ("mix it", "with cares", "do not mix")  # in order of severity
KINDS = ("harm", "will not finish", "care")  # what a rule is about, the worst first
WHY_STOPPED = {
    "acid": "most of those run out of acid",
    "peroxide": "most of those run out of peroxide",
    "no chloride": "most of those hold no chloride, and nothing starts without it",
    "no peroxide": "there is no peroxide in it",
    "time": f"most of those are still etching after {LONGEST / hour:.0f} hours",
    "": "",
}  # why, as a clause
SCALES = {
    "K": (1.0, ZERO_C, " °C", 0),
    "s": (1.0, 0.0, " s", 0),
    "min": (1 / minute, 0.0, " min", 0),
    "mol/m3": (L, 0.0, " mol/L", 1),
    "kg/kg": (100.0, 0.0, " % by weight", 1),
    "-": (1.0, 0.0, " times", 1),
    "share": (100.0, 0.0, " %", 0),
    "m3": (1 / L, 0.0, " L", 1),
    "never": (100.0, 0.0, " in 100", 0),
}
"""For people: times this, less this, the word for the unit, and least decimals [-]."""


@dataclasses.dataclass(frozen=True)
class Rule:
    """A verdict and when it falls: the `end` of the band of a `quantity` strictly beyond `limit` [SI, `unit`].

    `kind` is one of `KINDS`, `side` the side of the limit that is bad, `words` a clause with places for value, limit
    and share of the draws, `source` a citation or "common practice, no source", `as_of` when it was read.
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

    def shown(self, value: float) -> str:
        """A value [SI] in words people use [°C, min, mol/L, % by weight], written so that it differs from the limit.

        Examples
        --------
        >>> print(rules()[0].shown(345.15), "|", rules()[0].shown(333.25))
        72 °C | 60.1 °C
        """
        if np.isinf(value):
            return f"more than {LONGEST / hour:.0f} hours"
        unit = "min" if self.unit == "s" and self.limit > 1.5 * minute else self.unit
        scale, less, unit, least = SCALES["never" if self.end == "never" else unit]
        limit = round(self.limit * scale - less, 6)
        if value == self.limit:
            return f"{limit:g}{unit}"
        written = [f"{value * scale - less:.{places}f}" for places in range(least, 6)]
        return next((w for w in written if float(w) != limit), written[-1]) + unit


@dataclasses.dataclass(frozen=True)
class Reason:
    """Why a verdict falls: the name of the `rule` and its kind, a finished clause, its source, when it was read."""

    kind: str
    rule: str
    words: str
    source: str
    as_of: str


@dataclasses.dataclass(frozen=True)
class Limit:
    """A limit of one quantity [SI], and the verdict for each end of its band that is beyond it.

    `verdicts`: pairs of the end ("high": 1 in 10, "middle": half, "low") and what then falls, the
    mildest first.
    """

    value: float
    unit: str
    verdicts: tuple[tuple[str, str], ...]


@cache
def limits_of(quantity: str) -> tuple[Limit, ...]:
    """Every limit that the rules set on a quantity [SI], with its verdicts.

    Examples
    --------
    >>> print([f"{limit.value:.2f}" for limit in limits_of("etching_peak")])
    ['318.15', '333.15']
    """
    verdicts: dict[tuple[float, str], list[tuple[str, str]]] = {}
    for rule in reversed(rules()):  # those that refuse come first in the table
        if rule.quantity == quantity:
            verdicts.setdefault((rule.limit, rule.unit), []).append((rule.end, rule.verdict))
    return tuple(Limit(value, unit, tuple(ends)) for (value, unit), ends in verdicts.items())


@cache
def rules() -> tuple[Rule, ...]:
    """Every verdict rule of verdict_rules.csv, those that refuse first, limits in SI [unit of the rule].

    Examples
    --------
    >>> print(rules()[0].quantity, f"{rules()[0].limit:.2f}", rules()[0].source)
    etching_peak 333.15 common practice, no source
    """
    return tuple(
        Rule(
            limit=float(row["limit_SI"]),
            source=cited(row),
            **{
                name: row[name]
                for name in (
                    "name",
                    "verdict",
                    "kind",
                    "quantity",
                    "end",
                    "side",
                    "unit",
                    "words",
                    "as_of",
                )
            },
        )
        for row in tables.read("verdict_rules")
    )


def measured(rule: Rule, bands: Mapping[str, Band], over_public: ArrayLike) -> NDArray[np.float64]:
    """What a rule looks at: one end of a band [SI], or the strength over what the public may hold [-]."""
    if rule.quantity == "over_public":
        return np.asarray(check_values("over_public", over_public, 0.0, 1e3))
    if rule.quantity not in bands:
        raise ValueError(
            f"bands = {', '.join(bands) or 'none'} is not enough: it must hold {rule.quantity}"
        )
    return np.asarray(getattr(bands[rule.quantity], rule.end), dtype=float)


def shared(rule: Rule, bands: Mapping[str, Band]) -> str:
    """How many draws pass a rule's limit [-], as people say it."""
    values = bands[rule.quantity].values
    return of_draws(values > rule.limit if rule.side == "above" else values < rule.limit)


def passed(bands: Mapping[str, Band], over_public: ArrayLike) -> dict[str, NDArray[np.bool_]]:
    """Which rules are passed, strictly beyond their limit, scenario by scenario.

    Parameters
    ----------
    bands : dict
        A `Band` each of "time_to_clear" [s], "etching_peak", "standing_peak" [K], "acid" in the mixture [mol/m³], in it
        "peroxide", and "acid_met" by strong peroxide as it is poured [kg/kg], "reserve", "cover" [-], "volume" [m³].
    over_public : float or array
        The worst bottle over what the public may hold, from `over_public` [-].

    Returns
    -------
    dict
        Name of the rule: True where it is passed, of the shape of its band without the draws.

    Raises
    ------
    ValueError
        A band that is missing, or an impossible `over_public`: names it.

    Examples
    --------
    >>> bands = {name: Band.of(v, None) for name, v in {"time_to_clear": 300, "etching_peak": 310, "standing_peak": 340,
    ...          "acid": 1500, "peroxide": 0.06, "acid_met": 0, "reserve": 9, "cover": 3, "volume": 1e-4}.items()}
    >>> print([name for name, beyond in passed(bands, 1.0).items() if beyond])
    ['warm when left standing']
    """
    seen = {rule: measured(rule, bands, over_public) for rule in rules()}
    return {
        rule.name: np.asarray(value > rule.limit if rule.side == "above" else value < rule.limit)
        for rule, value in seen.items()
    }


def severity(passed: Mapping[str, NDArray[np.bool_]]) -> Any:
    """How bad it is: the worst rule that is passed.

    Parameters
    ----------
    passed : dict
        From `passed`: rule names and whether each is passed.

    Returns
    -------
    int or array
        0, 1 or 2, a place in `VERDICTS` [-], of the common shape.
    """
    level = {rule.name: VERDICTS.index(rule.verdict) for rule in rules()}
    worst: Any = np.zeros((), dtype=int)
    for name, beyond in passed.items():
        worst = np.maximum(
            worst, np.where(beyond, level[check_choice("passed", name, tuple(level))], 0)
        )
    return worst if np.ndim(worst) else int(worst)


def reasons(
    bands: Mapping[str, Band], over_public: ArrayLike, stopped: str = ""
) -> tuple[Reason, ...]:
    """Why one bath is refused, or what to take care of if it is not; empty where there is nothing to say.

    Parameters
    ----------
    bands : dict
        As in `passed`, of one scenario [SI].
    over_public : float
        As in `passed` [-].
    stopped : str
        Why most baths that never clear stop, one of `WHY_STOPPED`.

    Returns
    -------
    tuple of Reason
        Only the rules that refuse, harm first, if any does; else the cares [°C, min, mol/L, % by weight].

    Raises
    ------
    ValueError
        More than one scenario, or an unknown `stopped`: names it.

    Examples
    --------
    >>> bands = {name: Band.of(v, None) for name, v in {"time_to_clear": 300, "etching_peak": 310, "standing_peak": 350,
    ...          "acid": 1500, "peroxide": 0.06, "acid_met": 0, "reserve": 2, "cover": 3, "volume": 1e-4}.items()}
    >>> print(*(reason.words for reason in reasons(bands, 1.0)))
    all plausible baths pass 75 °C when left standing: half reach 77 °C
    """
    why = WHY_STOPPED[check_choice("stopped", stopped, tuple(WHY_STOPPED))]
    beyond = passed(bands, over_public)
    if many := {name: found.shape for name, found in beyond.items() if found.ndim}:
        raise ValueError(f"bands = shapes {many} are impossible: it must be one scenario")
    worst = VERDICTS[severity(beyond)]
    said = []
    for rule in rules():
        if beyond[rule.name] and rule.verdict == worst:
            value = float(measured(rule, bands, over_public))
            words = rule.words.format(
                value=rule.shown(value),
                limit=rule.shown(rule.limit),
                share=shared(rule, bands) if "{share}" in rule.words else "",
            )
            words += f"; {why}" if why and rule.end == "never" else ""
            said.append(Reason(rule.kind, rule.name, words, rule.source, rule.as_of))
    return tuple(sorted(said, key=lambda reason: KINDS.index(reason.kind)))
