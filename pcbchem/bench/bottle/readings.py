"""How strong is the bottle? Weighing a known volume; readings put together; what age does; and the other methods."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np

from ...common import tables
from ...common.limits import check_choice, check_number, naming
from .strength import APART, Strength


def combined(*strengths: Strength) -> Strength:
    """Put several readings of one bottle together, the surer one counting for more.

    Parameters
    ----------
    *strengths : Strength
        At least one, all of the same substance.

    Returns
    -------
    Strength
        Weighted by one over the squared doubt [kg/kg]. Different methods count as independent, though lye and washing
        soda share the flask and the syringe that the acid was diluted with. Readings by the same method share its
        vessel and its solutions, so that repeating one averages the hand and leaves its doubt; an aged reading and a
        fresh one by the same method likewise.

    Raises
    ------
    ValueError
        Nothing given, two substances, a method that cannot tell, or two readings more than 3 doubts apart: their mean
        would be a strength that neither of them found, and one of them is a mistake to look for. So it is no warning.
        Readings put together before, with another by one of the same methods: it would count twice.

    Examples
    --------
    >>> both = combined(Strength("HCl", 0.31, 0.006, "weighing"), Strength("HCl", 0.32, 0.003, "titration"))
    >>> print(both.words)
    weighing and titration: 31.8 ± 0.3 % by weight
    """
    if not strengths or not all(isinstance(s, Strength) for s in strengths):
        raise ValueError(
            f"strengths = {strengths!r:.80} is impossible: it must be one Strength or more, one by one: "
            "combined(first, second)"
        )
    for s in strengths:
        if s.substance != strengths[0].substance:
            raise ValueError(
                f"strengths = {strengths[0].substance} and {s.substance} are two: it must be one"
            )
        with naming("strengths"):
            s.must_tell()
    for a, b in itertools.combinations(strengths, 2):
        apart = abs(a.middle - b.middle) / math.hypot(a.doubt, b.doubt)
        if apart > APART:
            raise ValueError(
                f"strengths = {a.words}, and {b.words}: {apart:.1f} doubts apart, it must be 0 to "
                f"{APART:g}. One of them is a mistake (another bottle, a wrong unit, copper in the acid): "
                "measure again, do not take the mean"
            )
    groups: dict[tuple[str, ...], list[Strength]] = {}
    for s in strengths:
        for other in groups:
            if other != s.methods and set(other) & set(s.methods):
                raise ValueError(
                    f"strengths = {s.words}, beside {' and '.join(other)}, is impossible: one of them is "
                    "put together already and a method would count twice. Each reading must be given "
                    "once, all in one call"
                )
        groups.setdefault(s.methods, []).append(s)
    if len(strengths) == 1:
        return strengths[0]
    found = [
        _weighted([(s.middle, s.doubt) for s in same], independent=False)
        for same in groups.values()
    ]
    middle, doubt = _weighted(found)
    named_once = dict.fromkeys(s.method for s in strengths)
    return Strength(
        strengths[0].substance,
        middle,
        doubt,
        " and ".join(named_once),
        methods=tuple(method for methods in groups for method in methods),
    )


def _weighted(values: list[tuple[float, float]], independent: bool = True) -> tuple[float, float]:
    """Mean and doubt [kg/kg] of (value, doubt) pairs, by weight 1/doubt²; if not independent, one doubt in all."""
    value, doubt = np.array(values).T
    weight = doubt**-2 / np.sum(doubt**-2)
    spread = np.sum(doubt**-2) ** -0.5 if independent else np.sum(weight * doubt)
    return float(np.sum(weight * value)), float(spread)


def aged(strength: Strength, years: float, kept: str = "opened") -> Strength:
    """A peroxide bottle some time after it was measured: it as good as never gains, so the doubt grows downwards.

    A bottle that bulges, hisses or is warm: do not open or move it; leave, keep others out, call for help.

    Parameters
    ----------
    strength : Strength
        As it was measured, of H2O2.
    years : float
        How long ago [years]; at most 10 if closed, 2 if opened: after that measure again.
    kept : str
        "closed": stabilised, its own vented bottle, cool and dark, 0 to 1 % of its strength lost in a year.
        "opened", or weak from a shop: 0 to 30 % in a year, an assumption; nobody can say.

    Returns
    -------
    Strength
        Mean and standard deviation [kg/kg], every yearly loss in that range equally likely.

    Raises
    ------
    ValueError
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
        raise ValueError(f"strength = {strength!r:.80} is impossible: it must be a Strength")
    check_choice("substance", strength.substance, ("H2O2",))
    rows = {row["kept"]: row for row in tables.read("peroxide_ageing")}
    row = rows[check_choice("kept", kept, tuple(rows))]
    years = check_number(
        "years",
        years,
        0.0,
        float(row["longest_years"]),
        f"years ({kept}; after that measure again)",
    )
    best, worst = (
        1 - float(row[f"{name}_loss_percent_per_year"]) / 100 for name in ("least", "most")
    )

    def moment(power: float) -> float:
        return float(best ** (power + 1) - worst ** (power + 1)) / ((power + 1) * (best - worst))

    left = moment(years)
    spread = math.sqrt(max(moment(2 * years) - left**2, 0.0))
    doubt = math.hypot(strength.doubt * left, spread * strength.middle, strength.doubt * spread)
    before = strength.years + years
    return replace(
        strength,
        middle=strength.middle * left,
        doubt=doubt,
        shares=(),
        caution="measure it again",
        method=f"{' and '.join(strength.methods)}, {before:g} year{'' if before == 1 else 's'} before",
        years=before,
    )
