"""How strong is the bottle? Weighing a known volume; readings put together; what age does; and the other methods."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import numpy as np

from ..matter import tables
from ..matter.arrays import FloatArray, chosen, named
from ..matter.properties import LIMITS, density_inside, water_density
from ..matter.strengths import inverted
from .hazards import Caution, cited
from .inputs import BOTTLES, one
from .measured import APART, Strength, measured, volume_doubt_of
from .oxygen import by_oxygen, oxygen_to_expect
from .titrations import by_carbonate, by_lye, by_permanganate

__all__ = ["APART", "Strength", "aged", "by_carbonate", "by_lye", "by_oxygen", "by_permanganate", "by_weighing",
           "cautions", "combined", "oxygen_to_expect"]

EQUATION_DOUBT = 0.001
"""Doubt of the density equations of acid and of peroxide [-], as `matter.properties.density` says."""
MOST_WEIGHED = 2.5e-4
"""Most that is weighed [m³]: 250 mL."""
STRONG_ACID, COOL = 0.25, 298.15  # kg/kg and K: warmer than this, acid as strong as this is not weighed
SHARED, DILUTED = ("any", "dilution"), ("oxygen", "washing soda", "lye", "permanganate")
"""Rows of `method_cautions` that hold for several methods, and the methods for which diluting is one of them."""
AIR, WEIGHTS = 1.2, 8000.0
"""Density of air in a room, and of the weights a balance is set with, by convention [kg/m³]."""


def by_weighing(substance: str, *, mass: float, volume: float, T: float, volume_doubt: str | float = "flask",
                mass_doubt: float = 1e-5, T_doubt: float = 1.0) -> Strength:
    """Strength from the mass of a known volume: for acid, and for peroxide of about 5 % and more in a good flask.

    Read `cautions("weighing")` first. Weaker peroxide, or a poorer vessel, cannot tell, and `tells` says so. Only for
    a fresh bottle: copper and whatever else is dissolved in it counts as strength, and bubbles as its lack.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    mass : float
        What the balance shows for the liquid alone, full minus empty [kg].
    volume : float
        Its volume [m³] at T, at most 250 mL. Glass grows by 0.01 % and plastic by up to 0.5 % in 10 K: within the
        doubt, not counted.
    T : float
        Temperature of the liquid [K], 273.15 to 313.15, acid of 25 % and more at most 298.15: measure it, 10 K count
        as 0.4 % of density.
    volume_doubt : str or float
        "flask" (0.3 %), "syringe" (1.5 %), "cylinder" (1 %) or one standard deviation as a share of the volume [-].
    mass_doubt : float
        One standard deviation of the mass [kg].
    T_doubt : float
        One standard deviation of the temperature [K].

    Returns
    -------
    Strength
        Mass fraction [kg/kg] whose density is found. The air that the liquid pushes aside is put right (+0.1 %), and
        the density equation itself is in doubt by 0.1 %.

    Raises
    ------
    ValueError
        A value outside its limits, a mass that no such liquid of that volume has, peroxide above 35 %, or warm strong
        acid.

    Examples
    --------
    >>> print(by_weighing("HCl", mass=0.1158, volume=1e-4, T=293.15).words)
    weighing: 32.0 ± 0.7 % by weight
    >>> print(by_weighing("H2O2", mass=0.1008, volume=1e-4, T=293.15).tells)
    False
    """
    most = LIMITS[chosen("substance", substance, ("HCl", "H2O2"))]
    T = one("T", T, *BOTTLES, "K")
    volume = one("volume", volume, 1e-7, MOST_WEIGHED, "m³ (250 mL)")
    share = volume_doubt_of("volume_doubt", volume_doubt)
    doubts = {"mass": one("mass_doubt", mass_doubt, 0.0, 0.1, "kg"), "volume": share * volume,
              "T": one("T_doubt", T_doubt, 0.0, 10.0, "K"), "equation": EQUATION_DOUBT}
    slack = 1 - 3 * math.hypot(share, EQUATION_DOUBT)
    ends = float(water_density(T)) * slack, float(density_inside(T, {substance: np.asarray(most)}))
    shown = [volume * (end - AIR) / (1 - AIR / WEIGHTS) for end in ends]
    mass = one("mass", mass, shown[0] - 3 * mass_doubt, shown[1], f"kg for {1e6 * volume:g} mL of {substance}")

    def formula(mass: FloatArray, volume: FloatArray, T: FloatArray, equation: FloatArray) -> FloatArray:
        return _of_density(substance, equation * (mass * (1 - AIR / WEIGHTS) / volume + AIR), T)

    found = measured(substance, "weighing", formula,
                     {"mass": (mass, doubts["mass"]), "volume": (volume, doubts["volume"]), "T": (T, doubts["T"]),
                      "equation": (1.0, doubts["equation"])},
                     "use a better vessel, or titrate" if substance == "HCl" else "use the oxygen it gives")
    if substance == "HCl" and found.middle >= STRONG_ACID and T > COOL:
        raise ValueError(f"T = {T:g} K is too warm for acid of {100 * found.middle:.0f} %: it must be at most {COOL:g} "
                         "K (25 °C). Warm strong acid fumes more: let it cool in its bottle, and weigh it outdoors")
    return found


def _of_density(substance: str, density: FloatArray, T: FloatArray) -> FloatArray:
    """Mass fractions [kg/kg] at a density [kg/m³] and T [K]; lighter than water goes on below 0 in a straight line."""
    water, small = density_inside(T, {}), 1e-4

    def heavier(w: Any) -> Any:
        return density_inside(T, {substance: np.broadcast_to(w, np.shape(T))}) - water

    more = density - water
    found = inverted(heavier, np.maximum(more, 0.0), LIMITS[substance])
    return np.where(more < 0, more * small / heavier(small), found)


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
        raise ValueError(f"strengths = {strengths!r:.80} is impossible: it must be one Strength or more, one by one: "
                         "combined(first, second)")
    for s in strengths:
        if s.substance != strengths[0].substance:
            raise ValueError(f"strengths = {strengths[0].substance} and {s.substance} are two: it must be one")
        with named("strengths"):
            s.must_tell()
    for a, b in itertools.combinations(strengths, 2):
        apart = abs(a.middle - b.middle) / math.hypot(a.doubt, b.doubt)
        if apart > APART:
            raise ValueError(f"strengths = {a.words}, and {b.words}: {apart:.1f} doubts apart, it must be 0 to "
                             f"{APART:g}. One of them is a mistake (another bottle, a wrong unit, copper in the acid): "
                             "measure again, do not take the mean")
    groups: dict[tuple[str, ...], list[Strength]] = {}
    for s in strengths:
        for other in groups:
            if other != s.methods and set(other) & set(s.methods):
                raise ValueError(f"strengths = {s.words}, beside {' and '.join(other)}, is impossible: one of them is "
                                 "put together already and a method would count twice. Each reading must be given "
                                 "once, all in one call")
        groups.setdefault(s.methods, []).append(s)
    if len(strengths) == 1:
        return strengths[0]
    found = [_weighted([(s.middle, s.doubt) for s in same], independent=False) for same in groups.values()]
    middle, doubt = _weighted(found)
    named_once = dict.fromkeys(s.method for s in strengths)
    return Strength(strengths[0].substance, middle, doubt, " and ".join(named_once),
                    methods=tuple(method for methods in groups for method in methods))


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
    chosen("substance", strength.substance, ("H2O2",))
    rows = {row["kept"]: row for row in tables.read("peroxide_ageing")}
    row = rows[chosen("kept", kept, tuple(rows))]
    years = one("years", years, 0.0, float(row["longest_years"]), f"years ({kept}; after that measure again)")
    best, worst = (1 - float(row[f"{name}_loss_percent_per_year"]) / 100 for name in ("least", "most"))

    def moment(power: float) -> float:
        return float(best ** (power + 1) - worst ** (power + 1)) / ((power + 1) * (best - worst))

    left = moment(years)
    spread = math.sqrt(max(moment(2 * years) - left**2, 0.0))
    doubt = math.hypot(strength.doubt * left, spread * strength.middle, strength.doubt * spread)
    before = strength.years + years
    return replace(strength, middle=strength.middle * left, doubt=doubt, shares=(), caution="measure it again",
                   method=f"{' and '.join(strength.methods)}, {before:g} year{'' if before == 1 else 's'} before",
                   years=before)


def cautions(method: str) -> tuple[Caution, ...]:
    """What to take care of in measuring a bottle or etching an offcut, beside the cautions of the bottles themselves.

    Parameters
    ----------
    method : str
        "weighing", "oxygen", "washing soda", "lye", "permanganate" or "offcut".

    Returns
    -------
    tuple of Caution
        What holds for every method first, then what holds for diluting where it does, then the method's own.

    Raises
    ------
    ValueError
        Another method: names those there are.

    Examples
    --------
    >>> print(cautions("lye")[-1].words)
    A spill of lye: plenty of water and wet cloth, and no acid.
    """
    rows = tables.read("method_cautions")
    own = dict.fromkeys(row["method"] for row in rows if row["method"] not in SHARED)
    chosen("method", method, tuple(own))
    held = ("any", "dilution", method) if method in DILUTED else ("any", method)
    return tuple(Caution(row["topic"], row["words"], cited(row), row["as_of"], True)
                 for name in held for row in rows if row["method"] == name)
