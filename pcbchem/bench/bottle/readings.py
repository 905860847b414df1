"""Readings of a bottle put together, and what its age does to them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ...common import tables
from ...common.limits import InputError, check_choice, check_number, naming
from .strength import MOST_APART, Strength


def combined(*strengths: Strength) -> Strength:
    """Put several readings of one bottle together, the surer one counting for more.

    Parameters
    ----------
    *strengths : Strength
        At least one, all of the same substance.

    Returns
    -------
    Strength
        Weighted by one over the squared doubt [kg/kg]. Different methods count as independent,
        though lye and washing soda share the flask and the syringe that the acid was diluted with.
        Readings by the same method share its vessel and its solutions, so that repeating one
        averages the hand and leaves its doubt; an aged reading and a fresh one by the same method
        likewise.

    Raises
    ------
    InputError
        Nothing at all, two substances, a method that cannot tell, or two readings more than 3
        doubts apart: their mean would be a strength that neither of them says, and one of them is
        a mistake to look for. So it is no warning. Readings put together before, with another by
        one of the same methods: it would count twice.

    Examples
    --------
    >>> weighing = Strength("HCl", 0.31, 0.006, "weighing")
    >>> print(combined(weighing, Strength("HCl", 0.32, 0.003, "titration")).words)
    weighing and titration: 31.8 ± 0.3 % by weight
    """
    _check_one_bottle(strengths)
    _check_agreement(strengths)
    by_methods = _by_methods(strengths)
    first = strengths[0]
    if len(strengths) == 1:
        return first

    # First what shares its vessels, then the groups, which do not
    groups = [_averaged(readings) for readings in by_methods.values()]
    middle, doubt = _weighted(groups)
    # Each method once, in the order in which they came: that is how a dict keeps its names
    different = dict.fromkeys(strength.method for strength in strengths)
    return Strength(
        first.substance,
        middle,
        doubt,
        " and ".join(different),
        methods=tuple(itertools.chain.from_iterable(by_methods)),
    )


def _check_one_bottle(strengths: Sequence[Strength]) -> None:
    """Refuse what is no reading, readings of two substances, and one that cannot tell."""
    if not strengths or not all(isinstance(strength, Strength) for strength in strengths):
        raise InputError(
            "strengths",
            "it must be one Strength or more, one by one: combined(first, second)",
            value=strengths,
            about=f" = {strengths!r:.80}",
        )
    first = strengths[0].substance
    for strength in strengths:
        if strength.substance != first:
            raise InputError(
                "strengths",
                "it must be one",
                value=strengths,
                about=f" = {first} and {strength.substance}",
                wrong="are two",
            )
        with naming("strengths"):
            strength.must_tell()


def _check_agreement(strengths: Sequence[Strength]) -> None:
    """Refuse two readings that are too far apart: (x₁ − x₂) / √(doubt₁² + doubt₂²) over 3."""
    for first, second in itertools.combinations(strengths, 2):
        apart = abs(first.middle - second.middle) / math.hypot(first.doubt, second.doubt)
        if apart > MOST_APART:
            raise InputError(
                "strengths",
                f"{apart:.1f} doubts apart, it must be 0 to {MOST_APART:g}. One of them is a "
                "mistake (another bottle, a wrong unit, copper in the acid): measure again, do not "
                "take the mean",
                value=apart,
                about=f" = {first.words}, and {second.words}",
                wrong="",
                low=0.0,
                high=MOST_APART,
                unit="doubts",
            )


def _by_methods(strengths: Sequence[Strength]) -> dict[tuple[str, ...], list[Strength]]:
    """Return the readings by the methods behind them, or refuse a method that counts twice."""
    groups: dict[tuple[str, ...], list[Strength]] = {}
    for strength in strengths:
        # All the methods alike: one more reading that way. Some of them: the others would count
        # once, and these twice
        for methods in groups:
            if methods != strength.methods and set(methods) & set(strength.methods):
                raise InputError(
                    "strengths",
                    "one of them is put together already and a method would count twice. Each "
                    "reading must be given once, all in one call",
                    value=strengths,
                    about=f" = {strength.words}, beside {' and '.join(methods)},",
                )
        groups.setdefault(strength.methods, []).append(strength)
    return groups


def _averaged(readings: Sequence[Strength]) -> tuple[float, float]:
    """Return mean and doubt [kg/kg] of readings by one method.

    They share its vessels: the mean counts each by 1/doubt², but its doubt does not shrink.
    """
    doubts = np.array([reading.doubt for reading in readings])
    middles = np.array([reading.middle for reading in readings])
    weights = doubts**-2 / np.sum(doubts**-2)
    return float(np.sum(weights * middles)), float(np.sum(weights * doubts))


def _weighted(groups: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return mean and doubt [kg/kg] of independent groups, each a mean and a doubt [kg/kg].

    Weights 1/doubt², doubt 1 / √(Σ 1/doubt²).
    """
    middles, doubts = np.array(groups).T
    weights = doubts**-2 / np.sum(doubts**-2)
    return float(np.sum(weights * middles)), float(np.sum(doubts**-2) ** -0.5)


def aged(strength: Strength, years: float, kept: str = "opened") -> Strength:
    """Return the strength of a peroxide bottle some time after it was measured.

    It as good as never gains, so the doubt grows downwards: w (1 − loss)^years, every yearly loss
    in the range of the table equally likely.

    A bottle that bulges, hisses or is warm: do not open or move it; leave, keep others out, call
    for help.

    Parameters
    ----------
    strength : Strength
        As it was measured, of H2O2.
    years : float
        How long ago [years]; at most 10 if closed, 2 if opened: after that measure again.
    kept : str
        "closed": stabilised, its own vented bottle, cool and dark, 0 to 1 % of its strength lost in
        a year. "opened", or weak from a shop: 0 to 30 % in a year, an assumption; nobody can say.

    Returns
    -------
    Strength
        Mean and standard deviation [kg/kg].

    Raises
    ------
    InputError
        Acid (we know no rate), or a time outside its limits.

    Notes
    -----
    Table `peroxide_ageing`, which names source and status of each row.

    Examples
    --------
    >>> print(aged(Strength("H2O2", 0.30, 0.003, "permanganate"), 2, "closed").words)
    permanganate, 2 years before: 29.7 ± 0.3 % by weight
    """
    if not isinstance(strength, Strength):
        raise InputError(
            "strength", "it must be a Strength", value=strength, about=f" = {strength!r:.80}"
        )
    check_choice("substance", strength.substance, ("H2O2",))
    rows = {row["kept"]: row for row in tables.read("peroxide_ageing")}
    row = rows[check_choice("kept", kept, tuple(rows))]
    longest = float(row["longest_years"])
    unit = f"years ({kept}; after that measure again)"
    years = check_number("years", years, 0.0, longest, unit)

    # The share left lies anywhere between two ends. Its variance is the mean of its square less the
    # square of its mean, which rounding may bring below 0
    most_left = 1 - float(row["least_loss_percent_per_year"]) / 100
    least_left = 1 - float(row["most_loss_percent_per_year"]) / 100
    left = _mean_power(least_left, most_left, years)
    square = _mean_power(least_left, most_left, 2 * years)
    spread = math.sqrt(max(square - left**2, 0.0))

    # Variance of a product of two independent things: the strength then, and the share left now
    doubt = math.hypot(strength.doubt * left, spread * strength.middle, strength.doubt * spread)
    age = strength.years + years
    plural = "s"
    if age == 1:
        plural = ""
    # Not its old shares: the largest doubt may now be its age
    return replace(
        strength,
        middle=strength.middle * left,
        doubt=doubt,
        shares=(),
        caution="measure it again",
        method=f"{' and '.join(strength.methods)}, {age:g} year{plural} before",
        years=age,
    )


def _mean_power(low: float, high: float, power: float) -> float:
    """Return the mean of x**power [-], x uniform between low and high [-].

    (high^(n+1) − low^(n+1)) / ((n + 1) (high − low)), for n the power.
    """
    whole = high ** (power + 1) - low ** (power + 1)
    return float(whole) / ((power + 1) * (high - low))
