"""Strength of a bottle by titration: acid by washing soda or lye, stock peroxide by permanganate.

Read `bottles.cautions` of the method first. What is in the flask is weak and little, and stronger is refused. A
titration needs the bottle as it is sold: in a used bath copper takes base too, and chloride and copper(I) take
permanganate.
"""

from __future__ import annotations

import math

from ...common.arrays import FloatArray
from ...common.limits import check_number, collecting_warnings
from ...matter.labels import strength
from .bottle import BOTTLES
from .strength import APART, MOST_STRENGTH, Strength, fraction_of, measured, volume_doubt_of

SODA = 0.105988
"""Molar mass of Na2CO3 [kg/mol], from the IUPAC standard atomic weights."""
DROP = 5e-8
"""One drop [m³], 0.05 mL: doubt of an end point (common practice)."""
METHODS = ("titration with washing soda", "titration with lye", "titration with permanganate")
VOLUMES, MASSES, MOST_DILUTION = (
    (1e-8, 1e-3),
    (1e-6, 1e-3),
    1000.0,
)  # m³, kg, times: less is not seen
STRONGEST = {"lye": 1100.0, "permanganate": 100.0}
"""Strongest titrants that are used here [mol/m³]: lye of 1 mol/L, give or take, and 0.1 mol/L (common practice)."""
MOST_ACID, ACID_IN_FLASK = 2000.0, 0.02
"""Strongest that acid may be as diluted [mol/m³], and the most of it in the flask [mol] (common practice)."""
WEAKEST = {"lye": 10.0, "permanganate": 5.0}  # mol/m³: what is less is a figure in mol/L
PEROXIDE_IN_FLASK = 0.002
"""Most peroxide in the flask [mol]: 2 mL of 3 % hold 1.8 mmol, and give 44 mL of oxygen."""
WEAKER = "use a weaker titrant, so that more of it runs in"


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
    """Strength of acid from how much of it a weighed heap of pure washing soda takes: c = 2 m / (M v).

    Bake washing soda or baking soda an hour at 200 °C to pure Na2CO3, dissolve about 0.2 g, run the diluted acid in
    until methyl orange turns and stays so after the carbon dioxide has left (swirl, or warm it). Phenolphthalein turns
    at half of the acid: this formula would then say twice the strength. An open flask: carbon dioxide comes off. Read
    `cautions("washing soda")` first.

    Parameters
    ----------
    mass : float
        Dry sodium carbonate [kg], at most 1 g.
    volume : float
        Acid run in, as diluted [m³].
    T : float
        Temperature of the acid when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 10 mL made up to 100 mL is 10; not diluted is 1.
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
        A value outside its limits, acid of more than 2 mol/L as diluted, or stronger than acid can be.

    Examples
    --------
    >>> print(by_carbonate(mass=0.2e-3, volume=3.71e-6, dilution=10, mass_doubt=1e-7).words)
    titration with washing soda: 32.0 ± 0.7 % by weight
    """
    T = check_number("T", T, *BOTTLES, "K")
    mass = check_number("mass", mass, *MASSES, "kg of soda (1 g; more foams over)")
    readings = {
        "mass": (mass, check_number("mass_doubt", mass_doubt, 0.0, MASSES[1], "kg")),
        "volume": _volume("volume", volume, volume_doubt, end_point),
        "dilution": _dilution(dilution, dilution_doubt),
        "purity": (1.0, check_number("purity_doubt", purity_doubt, 0.0, 0.2, "")),
        "T": (T, 0.0),
    }
    _acid_in_flask(2 * mass / SODA, readings["volume"][0])

    def formula(
        mass: FloatArray,
        volume: FloatArray,
        dilution: FloatArray,
        purity: FloatArray,
        T: FloatArray,
    ) -> FloatArray:
        return fraction_of("HCl", 2 * purity * mass / (SODA * volume) * dilution, T)

    return measured(
        "HCl", METHODS[0], formula, readings, "dilute the acid further, so that more of it runs in"
    )


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
    """Strength of acid from the sodium hydroxide of known strength that it takes: c = c(NaOH) v(NaOH) / v.

    Lye that stood open has drawn carbon dioxide: with methyl orange it still counts in full, with phenolphthalein it
    counts for less than its label. Read `cautions("lye")` first.

    Parameters
    ----------
    concentration : float
        NaOH in the lye [mol/m³], 10 to 1100: lye of 1 mol/L is 1000.
    titrant : float
        Lye run in until the colour turns [m³].
    sample : float
        Acid taken, as diluted [m³]: at most 2 mol/L of it, and 20 mmol.
    T : float
        Temperature of the acid when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 10 mL made up to 100 mL is 10; not diluted is 1.
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
        A value outside its limits, too strong or too much acid in the flask, or stronger than acid can be.

    Examples
    --------
    >>> print(by_lye(concentration=1000, titrant=10.17e-6, sample=1e-5, dilution=10, sample_doubt="flask").words)
    titration with lye: 32.0 ± 0.7 % by weight
    """
    return _against(
        "HCl",
        1.0,
        "lye",
        METHODS[1],
        T,
        titrant,
        sample,
        dilution,
        concentration,
        concentration_doubt,
        titrant_doubt,
        sample_doubt,
        dilution_doubt,
        end_point,
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
    """Strength of stock peroxide from the permanganate that it takes in dilute sulfuric acid: c = 2.5 c v(MnO4⁻) / v.

    2 MnO4⁻ + 5 H2O2 + 6 H⁺ → 2 Mn²⁺ + 5 O2 + 8 H2O, until the first pink that lasts. **Never in a bath**, nor with
    hydrochloric acid in place of sulfuric: chloride and copper(I) take permanganate too, and chloride gives chlorine.
    It makes gas: an open flask. Strong peroxide never meets solid permanganate or its strong solution: dilute first.
    Read `cautions("permanganate")` first.

    Parameters
    ----------
    concentration : float
        Permanganate in the titrant [mol/m³], 5 to 100; 20 is usual, 0.02 mol/L.
    titrant : float
        Titrant run in [m³].
    sample : float
        Peroxide taken, as diluted [m³]: at most 3 % by weight, and 2 mmol, as in 2 mL of 3 %.
    T : float
        Temperature of the peroxide when it was measured out of its bottle [K].
    dilution : float
        How many times its volume it was diluted to [-]: 1 mL made up to 100 mL is 100; not diluted is 1.
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
        A value outside its limits, too strong or too much peroxide in the flask, or a bottle above 35 %.

    Examples
    --------
    >>> print(by_permanganate(concentration=20, titrant=17.85e-6, sample=1e-6, titrant_doubt="flask").words)
    titration with permanganate: 3.01 ± 0.06 % by weight
    """
    return _against(
        "H2O2",
        2.5,
        "permanganate",
        METHODS[2],
        T,
        titrant,
        sample,
        dilution,
        concentration,
        concentration_doubt,
        titrant_doubt,
        sample_doubt,
        dilution_doubt,
        end_point,
    )


def _against(
    substance: str,
    each: float,
    what: str,
    method: str,
    T: float,
    titrant: float,
    sample: float,
    dilution: float,
    concentration: float,
    concentration_doubt: float,
    titrant_doubt: str | float,
    sample_doubt: str | float,
    dilution_doubt: str | float,
    end_point: float,
) -> Strength:
    """Strength from a titrant of known concentration [mol/m³], each mole of which takes so many of the substance."""
    T = check_number("T", T, *BOTTLES, "K")
    known = check_number(
        "concentration",
        concentration,
        WEAKEST[what],
        STRONGEST[what],
        f"mol/m³ of {what}: 1 mol/L is 1000",
    )
    readings = {
        "concentration": (
            known,
            known * check_number("concentration_doubt", concentration_doubt, 0.0, 0.2, ""),
        ),
        "titrant": _volume("titrant", titrant, titrant_doubt, end_point),
        "sample": _volume("sample", sample, sample_doubt, 0.0),
        "dilution": _dilution(dilution, dilution_doubt),
        "T": (T, 0.0),
    }
    held, taken = each * known * readings["titrant"][0], readings["sample"][0]
    if substance == "HCl":
        _acid_in_flask(held, taken)
    else:
        _peroxide_in_flask(
            held,
            taken,
            T,
            math.hypot(
                *(
                    doubt / value
                    for value, doubt in (
                        readings[name] for name in ("concentration", "titrant", "sample")
                    )
                )
            ),
        )

    def formula(
        concentration: FloatArray,
        titrant: FloatArray,
        sample: FloatArray,
        dilution: FloatArray,
        T: FloatArray,
    ) -> FloatArray:
        return fraction_of(substance, each * concentration * titrant / sample * dilution, T)

    return measured(substance, method, formula, readings, WEAKER)


def _acid_in_flask(amount: float, volume: float) -> None:
    """Refuse acid [mol] in a volume as diluted [m³] that is too strong or too much to be titrated."""
    if amount / volume > MOST_ACID:
        raise ValueError(
            f"the acid as diluted = {amount / volume / 1000:.3g} mol/L is too strong: it must be at most "
            f"{MOST_ACID / 1000:g} mol/L. Acid into water first: 10 mL made up to 100 mL"
        )
    if amount > ACID_IN_FLASK:
        raise ValueError(
            f"the acid in the flask = {1000 * amount:.3g} mmol is too much: it must be at most "
            f"{1000 * ACID_IN_FLASK:g} mmol: take a smaller sample, or dilute it further"
        )


def _peroxide_in_flask(amount: float, volume: float, T: float, doubt: float) -> None:
    """Refuse peroxide [mol] in a volume as diluted [m³] at T [K] that is too much or, beyond its doubt [-], too strong."""
    hot = "Strong peroxide and permanganate spray hot liquid: dilute the peroxide first"
    if amount > PEROXIDE_IN_FLASK:
        raise ValueError(
            f"the sample = {1000 * amount:.3g} mmol of peroxide is too much: it must be at most "
            f"{1000 * PEROXIDE_IN_FLASK:g} mmol. {hot}, and take less of it"
        )
    with collecting_warnings():
        most = 1000 * float(strength(MOST_STRENGTH, "mol/L", "H2O2", T))
    if amount / volume > most * (1 + APART * doubt):
        raise ValueError(
            f"the sample = {amount / volume / 1000:.3g} mol/L of peroxide is too strong: it must be at "
            f"most {most / 1000:.2g} mol/L, 3 % by weight, beyond its doubt. {hot}"
        )


def _volume(name: str, volume: float, doubt: str | float, end_point: float) -> tuple[float, float]:
    """A volume and its doubt [m³], from its vessel and from its end point."""
    volume = check_number(name, volume, *VOLUMES, "m³")
    drop = check_number("end_point", end_point, 0.0, VOLUMES[1], "m³")
    return volume, math.hypot(volume * volume_doubt_of(f"{name}_doubt", doubt), drop)


def _dilution(dilution: float, doubt: str | float) -> tuple[float, float]:
    """A dilution and its doubt [-]: what is not diluted has none."""
    dilution = check_number("dilution", dilution, 1.0, MOST_DILUTION, "times")
    share = volume_doubt_of("dilution_doubt", doubt)
    return dilution, dilution * share if dilution > 1 else 0.0
