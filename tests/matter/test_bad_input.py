"""Impossible input to the room `matter`: each raises ValueError naming the argument, the value and the limits."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from pcbchem import Solution, mix
from pcbchem.common.arrays import as_draws
from pcbchem.common.band import between
from pcbchem.common.units import celsius, fahrenheit, percent, to_celsius
from pcbchem.matter.heats import hcl_apparent_enthalpy, peroxide_mixing_enthalpy
from pcbchem.matter.labels import mass_fraction_from, strength
from pcbchem.matter.properties import density, heat_capacity, water_density

NAN, INF = float("nan"), float("inf")


def bottle(**given: Any) -> Solution:
    return Solution.of(**{"volume": 1e-4, "T": 293.15, **given})


def whole(**given: Any) -> Solution:
    return Solution.from_amounts(**{"mass": 0.1, "T": 293.15, **given})


BAD: list[tuple[str, Callable[[], object], tuple[str, ...]]] = [
    ("negative acid", lambda: bottle(HCl=-0.1), ("HCl", "-0.1", "0 to 0.45")),
    ("per cent as a fraction", lambda: bottle(HCl=32), ("HCl", "32", "0.45")),
    ("acid not a number", lambda: bottle(HCl=NAN), ("HCl", "nan", "0.45")),
    ("acid infinite", lambda: bottle(HCl=INF), ("HCl", "inf", "0.45")),
    ("acid as a word", lambda: bottle(HCl="strong"), ("HCl", "strong", "0.45")),
    ("one bad element", lambda: bottle(HCl=np.array([0.1, 0.5])), ("HCl", "0.5", "0.45")),
    ("peroxide over its limit", lambda: bottle(H2O2=0.71), ("H2O2", "0.71", "0.7")),
    ("lye over its limit", lambda: bottle(NaOH=0.6), ("NaOH", "0.6", "0.5")),
    ("cupric over its limit", lambda: bottle(CuCl2=0.5), ("CuCl2", "0.5", "0.4")),
    ("cuprous over its limit", lambda: bottle(CuCl=0.3), ("CuCl", "0.3", "0.2")),
    ("no water left", lambda: bottle(HCl=0.45, H2O2=0.6), ("HCl", "H2O2", "1.05", "below 1")),
    ("unknown substance", lambda: bottle(KCl=0.1), ("KCl", "0.1", "HCl, H2O2")),
    ("lye in acid", lambda: bottle(HCl=0.1, NaOH=0.2), ("NaOH", "0.2", "HCl", "0.1", "must be 0")),
    ("celsius as kelvin", lambda: bottle(T=20), ("T", "20", "250 to 400")),
    ("negative volume", lambda: bottle(volume=-1e-4), ("volume", "-0.0001", "0 to 1000")),
    ("millilitres as cubic metres", lambda: bottle(volume=7500), ("volume", "7500", "1000")),
    (
        "two lengths of draws",
        lambda: bottle(HCl=as_draws([0.1, 0.2]), H2O2=as_draws([0.1] * 3)),
        ("HCl has 2", "H2O2 has 3"),
    ),
    (
        "shapes that do not broadcast",
        lambda: bottle(HCl=np.full(2, 0.1), H2O2=np.full(3, 0.1)),
        ("HCl (2,)", "H2O2 (3,)"),
    ),
    (
        "list beside draws",
        lambda: bottle(volume=np.full(3, 1e-4), HCl=as_draws([0.1] * 4)),
        ("volume (3,)", "HCl (4,)"),
    ),
    (
        "asked for an unknown substance",
        lambda: bottle().amount("salt"),
        ("substance", "salt", "HCl"),
    ),
    (
        "fraction of an unknown substance",
        lambda: bottle().mass_fraction("NaCl"),
        ("substance", "NaCl", "H2O2"),
    ),
    (
        "concentration of an unknown",
        lambda: bottle().concentration("hcl"),
        ("substance", "hcl", "HCl"),
    ),
    ("negative mass", lambda: whole(mass=-1), ("mass", "-1", "0 to")),
    ("negative amount", lambda: whole(HCl=-0.1), ("HCl", "-0.1", "1e+09")),
    ("heavier than the whole", lambda: whole(CuCl2=1.0), ("CuCl2", "1", "0.1 kg")),
    (
        "together heavier than the whole",
        lambda: whole(CuCl2=0.5, HCl=1.5),
        ("CuCl2 + HCl", "1.219", "at most 1"),
    ),
    ("amount of an unknown substance", lambda: whole(Cu=0.1), ("Cu", "0.1", "HCl, H2O2")),
    ("nothing to mix", lambda: mix(), ("solutions", "()", "at least 1")),
    (
        "only empty bottles",
        lambda: mix(bottle(volume=0), bottle(volume=0)),
        ("mass", "0 kg", "above 0"),
    ),
    (
        "one empty mixture among many",
        lambda: mix(bottle(volume=np.array([0, 1e-4]))),
        ("mass", "0 kg", "above 0"),
    ),
    ("mixing a number", lambda: mix(bottle(), 3), ("solutions", "3", "Solution.of")),  # type: ignore[arg-type]
    ("lye into acid", lambda: mix(bottle(HCl=0.1), bottle(NaOH=0.1)), ("NaOH", "HCl", "must be 0")),
    (
        "lye into peroxide",
        lambda: mix(bottle(H2O2=0.1), bottle(NaOH=0.1)),
        ("NaOH", "H2O2", "must be 0"),
    ),
    (
        "mixing two lengths of draws",
        lambda: mix(bottle(HCl=as_draws([0.1] * 2)), bottle(H2O2=as_draws([0.1] * 3))),
        ("solution 1 has 2", "solution 2 has 3"),
    ),
    ("density at 20 kelvin", lambda: density(20), ("T", "20", "250 to 400")),
    ("water at no temperature", lambda: water_density(NAN), ("T", "nan", "250 to 400")),
    ("heat capacity of too much acid", lambda: heat_capacity(300, HCl=0.5), ("HCl", "0.5", "0.45")),
    ("molality beyond the table", lambda: hcl_apparent_enthalpy(60), ("molality", "60", "55.506")),
    ("mole fraction above one", lambda: peroxide_mixing_enthalpy(1.1), ("x", "1.1", "0 to 1")),
    ("kelvin as celsius", lambda: celsius(293.15), ("celsius", "293.15", "126.85")),
    ("kelvin as fahrenheit", lambda: fahrenheit(293.15), ("fahrenheit", "293.15", "260.33")),
    ("celsius back from celsius", lambda: to_celsius(20), ("T", "20", "250 to 400")),
    ("per cent above a hundred", lambda: percent(101), ("percent", "101", "0 to 100")),
    ("negative per cent", lambda: percent(-1), ("percent", "-1", "0 to 100")),
    ("no draws", lambda: between(0.1, 0.2, draws=0, seed=1), ("draws", "0", "1 to 400")),
    ("too many draws", lambda: between(0.1, 0.2, draws=401, seed=1), ("draws", "401", "1 to 400")),
    ("half a draw", lambda: between(0.1, 0.2, draws=1.5, seed=1), ("draws", "1.5", "400")),  # type: ignore[arg-type]
    ("negative seed", lambda: between(0.1, 0.2, draws=2, seed=-1), ("seed", "-1", "from 0")),
    (
        "limits the wrong way round",
        lambda: between(0.2, 0.1, draws=2, seed=1),
        ("low", "0.2", "high = 0.1"),
    ),
    ("limit infinite", lambda: between(0.1, INF, draws=2, seed=1), ("high", "inf", "1e+300")),
    (
        "limit an array without room",
        lambda: between([0.1, 0.2], 0.3, draws=2, seed=1),
        ("low", "0.1", "length 1"),
    ),
    (
        "unknown notation",
        lambda: strength(0.1, "proof", "HCl"),
        ("notation", "proof", "% by weight, % w/v"),
    ),
    (
        "Baume of peroxide",
        lambda: strength(0.1, "degrees Baume", "H2O2"),
        ("notation", "degrees Baume", "volume strength"),
    ),
    (
        "volume strength of acid",
        lambda: mass_fraction_from(10, "volume strength", "HCl"),
        ("notation", "volume strength", "degrees Baume"),
    ),
    ("strength of an unknown", lambda: strength(0.1, "mol/L", "KOH"), ("substance", "KOH", "NaOH")),
    (
        "acid stronger than any",
        lambda: mass_fraction_from(20, "mol/L", "HCl"),
        ("value", "20", "mol/L", "15.1"),
    ),
    ("negative strength", lambda: mass_fraction_from(-1, "% w/v", "H2O2"), ("value", "-1", "0 to")),
    (
        "strength of a per cent",
        lambda: strength(31, "mol/L", "HCl"),
        ("mass_fraction", "31", "0.45"),
    ),
]


@pytest.mark.parametrize(("call", "words"), [row[1:] for row in BAD], ids=[row[0] for row in BAD])
def test_impossible(call: Callable[[], object], words: tuple[str, ...]) -> None:
    # Law: what cannot be raises, and the message says the name, the value and the limits.
    with pytest.raises(ValueError) as caught:
        call()
    for word in words:
        assert word in str(caught.value), f"{word!r} is not said in: {caught.value}"
