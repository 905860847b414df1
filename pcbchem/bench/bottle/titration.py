"""Strength of a bottle by titration: acid by washing soda or lye, stock peroxide by permanganate.

Read `hazards.method_cautions` of the method first. What is in the flask is weak and little, and
stronger is refused. A titration needs the bottle as it is sold: in a used bath copper takes base
too, and chloride and copper(I) take permanganate.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from ...common.arrays import FloatArray
from ...common.limits import check_number
from ...matter.labels import strength
from .bottle import BOTTLE_TEMPERATURES
from .strength import (
    MOST_APART,
    STRONGEST_SAMPLE,
    Reading,
    Strength,
    fraction_of,
    from_readings,
    volume_doubt_of,
)

SODA = 0.105988
"""Molar mass of Na2CO3 [kg/mol], from the IUPAC standard atomic weights."""
ACID_PER_SODA = 2
"""Acid that a mole of soda takes [mol]: Na2CO3 + 2 HCl → 2 NaCl + H2O + CO2."""
DROP = 5e-8
"""One drop [m³], 0.05 mL: doubt of an end point (common practice)."""
VOLUMES = (1e-8, 1e-3)
"""Volumes of a titration [m³]: less than 0.01 mL is not seen."""
MASSES = (1e-6, 1e-3)
"""Masses of soda [kg]: less than 1 mg is not seen, more than 1 g foams over."""
MOST_DILUTION = 1000.0
"""Most that a bottle is diluted [times]."""
MOST_ACID, ACID_IN_FLASK = 2000.0, 0.02
"""Strongest that acid may be as diluted [mol/m³], and most of it in the flask [mol].

Common practice.
"""
PEROXIDE_IN_FLASK = 0.002
"""Most peroxide in the flask [mol]: 2 mL of 3 % hold 1.8 mmol, and give 44 mL of oxygen."""
DILUTE_FURTHER = "dilute the acid further, so that more of it runs in"
WEAKER_TITRANT = "use a weaker titrant, so that more of it runs in"


class Titrant(NamedTuple):
    """A liquid of known concentration, and what it is run into.

    `takes` is how much of the substance a mole of it takes [mol]; `weakest` and `strongest` are the
    concentrations [mol/m³] that are used here (common practice). A number below the weakest is
    likely to be one in mol/L.
    """

    name: str
    substance: str
    takes: float
    weakest: float
    strongest: float

    @property
    def method(self) -> str:
        """What a strength that it gave is said to come from."""
        return f"titration with {self.name}"


# Lye of 1 mol/L, give or take; HCl + NaOH → NaCl + H2O
LYE = Titrant("lye", "HCl", takes=1.0, weakest=10.0, strongest=1100.0)
# At most 0.1 mol/L; 2 MnO4⁻ + 5 H2O2 + 6 H⁺ → 2 Mn²⁺ + 5 O2 + 8 H2O
PERMANGANATE = Titrant("permanganate", "H2O2", takes=2.5, weakest=5.0, strongest=100.0)


def by_carbonate(
    *,
    mass: float,
    volume: float,
    T: float = 293.15,
    dilution: float = 1.0,
    volume_doubt: str | float = "syringe",
    dilution_doubt: str | float = "syringe",
    end_point: float = DROP,
    mass_doubt: float = 1e-6,
    purity_doubt: float = 0.005,
) -> Strength:
    """Find the strength of acid from how much of it a weighed heap of washing soda takes.

    c = 2 m / (M v), for m of pure soda of molar mass M and v of acid.

    Bake washing soda or baking soda an hour at 200 °C to pure Na2CO3, dissolve about 0.2 g, run the
    diluted acid in until methyl orange turns and stays so after the carbon dioxide has left (swirl,
    or warm it). Phenolphthalein turns at half of the acid: this formula would then say twice the
    strength. An open flask: carbon dioxide comes off. Read `hazards.method_cautions("washing
    soda")` first.

    Parameters
    ----------
    mass : float
        Dry sodium carbonate [kg], at most 1 g.
    volume : float
        Acid run in, as diluted [m³].
    T : float
        Temperature of the acid when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 10 mL made up to 100 mL is 10; not diluted
        is 1.
    volume_doubt, dilution_doubt : str or float
        "flask", "syringe" or one standard deviation as a share [-]; a dilution of 1 has none.
    end_point : float
        One standard deviation of the end point [m³], a drop.
    mass_doubt : float
        One standard deviation of the mass [kg].
    purity_doubt : float
        How pure the soda is [-], one standard deviation of 1 (common practice).

    Returns
    -------
    Strength
        Mass fraction [kg/kg] of the acid in its bottle.

    Raises
    ------
    ValueError
        A value outside its limits, acid of more than 2 mol/L as diluted, or stronger than acid can
        be.

    Examples
    --------
    >>> print(by_carbonate(mass=0.2e-3, volume=3.71e-6, dilution=10, mass_doubt=1e-7).words)
    titration with washing soda: 32.0 ± 0.7 % by weight
    """
    T = check_number("T", T, *BOTTLE_TEMPERATURES, "K")
    mass = check_number("mass", mass, *MASSES, "kg of soda (1 g; more foams over)")
    mass_doubt = check_number("mass_doubt", mass_doubt, 0.0, MASSES[1], "kg")
    readings = {
        "mass": Reading(mass, mass_doubt),
        "volume": _volume("volume", volume, volume_doubt, end_point),
        "dilution": _dilution(dilution, dilution_doubt),
        # How pure the soda is: a factor of 1 that is in doubt
        "purity": Reading(1.0, check_number("purity_doubt", purity_doubt, 0.0, 0.2, "")),
        # It only turns mol/L into a mass fraction: a kelvin is 0.05 % at most, far below a drop
        "T": Reading(T, 0.0),
    }
    # By the soda: as much acid as it took has run into the flask
    _check_acid_in_flask(ACID_PER_SODA * mass / SODA, readings["volume"].value)

    def formula(
        mass: FloatArray,
        volume: FloatArray,
        dilution: FloatArray,
        purity: FloatArray,
        T: FloatArray,
    ) -> FloatArray:
        concentration = ACID_PER_SODA * purity * mass / (SODA * volume) * dilution
        return fraction_of("HCl", concentration, T)

    return from_readings("HCl", "titration with washing soda", formula, readings, DILUTE_FURTHER)


def by_lye(
    *,
    concentration: float,
    titrant: float,
    sample: float,
    T: float = 293.15,
    dilution: float = 1.0,
    concentration_doubt: float = 0.01,
    titrant_doubt: str | float = "syringe",
    sample_doubt: str | float = "syringe",
    dilution_doubt: str | float = "syringe",
    end_point: float = DROP,
) -> Strength:
    """Find the strength of acid from the sodium hydroxide of known strength that it takes.

    c = c(NaOH) v(NaOH) / v, for v of acid.

    Lye that stood open has drawn carbon dioxide: with methyl orange it still counts in full, with
    phenolphthalein it counts for less than its label. Read `hazards.method_cautions("lye")` first.

    Parameters
    ----------
    concentration : float
        NaOH in the lye [mol/m³], 10 to 1100: lye of 1 mol/L is 1000.
    titrant : float
        Lye run in until the colour turns [m³].
    sample : float
        Acid in the flask, as diluted [m³]: at most 2 mol/L of it, and 20 mmol.
    T : float
        Temperature of the acid when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 10 mL made up to 100 mL is 10; not diluted
        is 1.
    concentration_doubt : float
        One standard deviation of the lye's strength as a share [-].
    titrant_doubt, sample_doubt, dilution_doubt : str or float
        "flask", "syringe" or one standard deviation as a share [-]; a dilution of 1 has none.
    end_point : float
        One standard deviation of the end point [m³], a drop.

    Returns
    -------
    Strength
        Mass fraction [kg/kg] of the acid in its bottle.

    Raises
    ------
    ValueError
        A value outside its limits, too strong or too much acid in the flask, or stronger than acid
        can be.

    Examples
    --------
    >>> readings = {"titrant": 10.17e-6, "sample": 1e-5, "dilution": 10, "sample_doubt": "flask"}
    >>> print(by_lye(concentration=1000, **readings).words)
    titration with lye: 32.0 ± 0.7 % by weight
    """
    return _by_titrant(
        LYE,
        T=T,
        concentration=(concentration, concentration_doubt),
        titrant=(titrant, titrant_doubt),
        sample=(sample, sample_doubt),
        dilution=(dilution, dilution_doubt),
        end_point=end_point,
    )


def by_permanganate(
    *,
    concentration: float,
    titrant: float,
    sample: float,
    T: float = 293.15,
    dilution: float = 1.0,
    concentration_doubt: float = 0.01,
    titrant_doubt: str | float = "syringe",
    sample_doubt: str | float = "syringe",
    dilution_doubt: str | float = "syringe",
    end_point: float = DROP,
) -> Strength:
    """Find the strength of stock peroxide from the permanganate that it takes.

    In dilute sulfuric acid, 2 MnO4⁻ + 5 H2O2 + 6 H⁺ → 2 Mn²⁺ + 5 O2 + 8 H2O, until the first pink
    that lasts: c = 2.5 c(MnO4⁻) v(MnO4⁻) / v, for v of peroxide.

    **Never in a bath**, nor with hydrochloric acid in place of sulfuric: chloride and copper(I)
    take permanganate too, and chloride gives chlorine. It makes gas: an open flask. Strong peroxide
    never meets solid permanganate or its strong solution: dilute first. Read
    `hazards.method_cautions("permanganate")` first.

    Parameters
    ----------
    concentration : float
        Permanganate in the titrant [mol/m³], 5 to 100; 20 is usual, 0.02 mol/L.
    titrant : float
        Titrant run in [m³].
    sample : float
        Peroxide in the flask, as diluted [m³]: at most 3 % by weight, and 2 mmol, as in 2 mL of
        3 %.
    T : float
        Temperature of the peroxide when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 1 mL made up to 100 mL is 100; not diluted
        is 1.
    concentration_doubt : float
        One standard deviation of the titrant's strength as a share [-].
    titrant_doubt, sample_doubt, dilution_doubt : str or float
        "flask", "syringe" or one standard deviation as a share [-]; a dilution of 1 has none.
    end_point : float
        One standard deviation of the end point [m³], a drop.

    Returns
    -------
    Strength
        Mass fraction [kg/kg] of the peroxide in its bottle.

    Raises
    ------
    ValueError
        A value outside its limits, too strong or too much peroxide in the flask, or a bottle above
        35 %.

    Examples
    --------
    >>> readings = {"titrant": 17.85e-6, "sample": 1e-6, "titrant_doubt": "flask"}
    >>> print(by_permanganate(concentration=20, **readings).words)
    titration with permanganate: 3.01 ± 0.06 % by weight
    """
    return _by_titrant(
        PERMANGANATE,
        T=T,
        concentration=(concentration, concentration_doubt),
        titrant=(titrant, titrant_doubt),
        sample=(sample, sample_doubt),
        dilution=(dilution, dilution_doubt),
        end_point=end_point,
    )


def _by_titrant(
    kind: Titrant,
    *,
    T: float,
    concentration: tuple[float, float],
    titrant: tuple[float, str | float],
    sample: tuple[float, str | float],
    dilution: tuple[float, str | float],
    end_point: float,
) -> Strength:
    """Return the strength from how much of a titrant a sample takes: c = takes · c_t v_t / v.

    Concentration [mol/m³], volumes of titrant and sample [m³] and dilution [-] come with their
    doubts, as the two methods above take them.
    """
    T = check_number("T", T, *BOTTLE_TEMPERATURES, "K")
    readings = {
        "concentration": _concentration(kind, *concentration),
        # The colour turns a drop early or late: a doubt of the titrant, not of the sample
        "titrant": _volume("titrant", *titrant, end_point),
        "sample": _volume("sample", *sample, end_point=0.0),
        "dilution": _dilution(*dilution),
        "T": Reading(T, 0.0),
    }
    # What the titrant took was in the flask: so the reading itself shows what was too much
    amount = kind.takes * readings["concentration"].value * readings["titrant"].value
    if kind.substance == "HCl":
        _check_acid_in_flask(amount, readings["sample"].value)
    else:
        doubt = math.hypot(
            readings["concentration"].relative_doubt,
            readings["titrant"].relative_doubt,
            readings["sample"].relative_doubt,
        )
        _check_peroxide_in_flask(amount, readings["sample"].value, T, doubt)

    def formula(
        concentration: FloatArray,
        titrant: FloatArray,
        sample: FloatArray,
        dilution: FloatArray,
        T: FloatArray,
    ) -> FloatArray:
        in_bottle = kind.takes * concentration * titrant / sample * dilution
        return fraction_of(kind.substance, in_bottle, T)

    return from_readings(kind.substance, kind.method, formula, readings, WEAKER_TITRANT)


def _check_acid_in_flask(amount: float, volume: float) -> None:
    """Refuse acid [mol] in a volume as diluted [m³] that is too strong or too much to titrate."""
    # Stronger first: diluting cures both, a smaller sample only the second
    concentration = amount / volume
    if concentration > MOST_ACID:
        raise ValueError(
            f"the acid as diluted = {concentration / 1000:.3g} mol/L is too strong: it must be at "
            f"most {MOST_ACID / 1000:g} mol/L. Acid into water first: 10 mL made up to 100 mL"
        )
    if amount > ACID_IN_FLASK:
        raise ValueError(
            f"the acid in the flask = {1000 * amount:.3g} mmol is too much: it must be at most "
            f"{1000 * ACID_IN_FLASK:g} mmol: take a smaller sample, or dilute it further"
        )


def _check_peroxide_in_flask(amount: float, volume: float, T: float, doubt: float) -> None:
    """Refuse peroxide [mol] in a volume as diluted [m³] at T [K] that is too much or too strong.

    Too strong counts only beyond its doubt, a share [-]: fresh peroxide is filled a little above
    its label.
    """
    hot = "Strong peroxide and permanganate spray hot liquid: dilute the peroxide first"
    if amount > PEROXIDE_IN_FLASK:
        raise ValueError(
            f"the sample = {1000 * amount:.3g} mmol of peroxide is too much: it must be at most "
            f"{1000 * PEROXIDE_IN_FLASK:g} mmol. {hot}, and take less of it"
        )
    most = 1000 * float(strength(STRONGEST_SAMPLE, "mol/L", "H2O2", T))
    concentration = amount / volume
    if concentration > most * (1 + MOST_APART * doubt):
        raise ValueError(
            f"the sample = {concentration / 1000:.3g} mol/L of peroxide is too strong: it must be "
            f"at most {most / 1000:.2g} mol/L, 3 % by weight, beyond its doubt. {hot}"
        )


def _concentration(kind: Titrant, concentration: float, doubt: float) -> Reading:
    """Return the concentration of a titrant and its doubt [mol/m³], from a doubt as a share [-]."""
    unit = f"mol/m³ of {kind.name}: 1 mol/L is 1000"
    value = check_number("concentration", concentration, kind.weakest, kind.strongest, unit)
    return Reading(value, value * check_number("concentration_doubt", doubt, 0.0, 0.2, ""))


def _volume(name: str, volume: float, doubt: str | float, end_point: float) -> Reading:
    """Return a volume and its doubt [m³], from its vessel and from its end point."""
    volume = check_number(name, volume, *VOLUMES, "m³")
    drop = check_number("end_point", end_point, 0.0, VOLUMES[1], "m³")
    vessel = volume * volume_doubt_of(f"{name}_doubt", doubt)
    # Independent of each other: their squares add
    return Reading(volume, math.hypot(vessel, drop))


def _dilution(dilution: float, doubt: str | float) -> Reading:
    """Return a dilution and its doubt [-]: what is not diluted has none."""
    dilution = check_number("dilution", dilution, 1.0, MOST_DILUTION, "times")
    # Checked also where nothing was diluted: a vessel that is not known is a slip of the pen
    share = volume_doubt_of("dilution_doubt", doubt)
    if dilution > 1:
        return Reading(dilution, dilution * share)
    return Reading(dilution, 0.0)
