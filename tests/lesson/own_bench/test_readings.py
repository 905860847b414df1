"""Readings of a bottle give the strength that a hand finds from molar masses; refusals are read.

Second source: densities that others printed, molar masses, the gas law. Laws: refusals.
"""

import re

import pytest
from helpers.expected import rows

from pcbchem.lesson.own_bench.readings import (
    FIELDS,
    GAS,
    LABELS,
    LYE,
    METHODS,
    SODA,
    WEIGHED_ACID,
    WEIGHED_PEROXIDE,
    expected_gas,
    missing,
    row_of,
    strength_of,
)

H, C, O, NA, CL = 1.008, 12.011, 15.999, 22.990, 35.453  # g/mol
HCL, H2O2, SODA_MASS = H + CL, 2 * (H + O), 2 * NA + C + 3 * O
R = 8.314  # J/mol/K
LABELLED = {"acid_label": 10, "peroxide_label": 12, "vessel": "flask"}
BLANK = dict.fromkeys(FIELDS) | LABELLED


def printed(table, share, T):
    """Mass fraction [-] nearest to a share, and its density [kg/m³], as others printed them."""
    found = [row for row in rows(table, T_C=T)]
    row = min(found, key=lambda row: abs(float(row["mass_fraction"]) - share))
    return float(row["mass_fraction"]), float(row["density_kg_m3"])


def on_balance(density):
    """What a balance shows of 100 mL [g]: the air bears a little of it, and of its weights."""
    return (density - 1.2) * 0.1 / (1 - 1.2 / 8000)


ACID, ACID_DENSITY = printed("hcl_density", 0.10, "25")
PEROXIDE, PEROXIDE_DENSITY = printed("h2o2_density", 0.12, "18")
ACID_MOLAR = ACID * ACID_DENSITY / HCL  # mol/L
PEROXIDE_MOLAR = PEROXIDE * PEROXIDE_DENSITY / H2O2  # mol/L
# pressure of water vapour at 20 °C
(VAPOUR,) = (float(row["p_sat_Pa"]) for row in rows("water_saturation", T_C="20"))
GAS_ML = 1e6 * (PEROXIDE_MOLAR / 5 * 1e-3 / 2) * R * 293.15 / (101300 - VAPOUR)
"""Of 1 mL of it, diluted five times, at 20 °C and 1013 hPa [mL]."""
READ = {
    WEIGHED_ACID: {"mass": on_balance(ACID_DENSITY), "volume": 100, "acid_warmth": 25},
    # 0.2 g of soda take two moles of acid each, which is ten times diluted
    SODA: {
        "soda": 0.2,
        "run_in": 2 * 0.2 / SODA_MASS / (ACID_MOLAR / 10) * 1000,
        "diluted": 10,
        "acid_warmth": 25,
    },
    # 10 mL of it take as many moles of lye
    LYE: {
        "lye": 0.5,
        "run_in": 10 * (ACID_MOLAR / 10) / 0.5,
        "acid_sample": 10,
        "diluted": 10,
        "acid_warmth": 25,
    },
    WEIGHED_PEROXIDE: {"mass": on_balance(PEROXIDE_DENSITY), "volume": 100, "peroxide_warmth": 18},
    GAS: {
        "sample": 1,
        "diluted": 5,
        "gas": GAS_ML + 1,  # and the sample pushes over its own volume
        "gas_warmth": 20,
        "pressure": 1013,
        "peroxide_warmth": 18,
    },
}
"""What is read of an acid and a peroxide whose strength others printed."""


def read(method, **changes):
    return BLANK | READ[method] | {"method": method} | changes


def test_law_every_method_is_read_here():
    assert set(READ) == set(METHODS)
    assert {method.substance for method in METHODS.values()} == set(LABELS)


@pytest.mark.parametrize("method", METHODS)
def test_second_source_a_reading_gives_the_strength(method):
    """Within a tenth of a per cent by weight; 0.3 where a density of 1 in 1000 decides it."""
    truth = ACID if METHODS[method].substance == "HCl" else PEROXIDE
    strength = strength_of(row_of(read(method)))
    slack = 0.003 if "weighed" in method else 0.001
    assert strength.middle == pytest.approx(truth, abs=slack)
    assert abs(strength.middle - truth) < strength.doubt


@pytest.mark.parametrize("method", METHODS)
def test_law_a_row_gives_its_reading_again(method):
    values = read(method)
    row = row_of(values)
    assert row["method"] == method and row[LABELS[METHODS[method].substance]]
    assert all(row[name] == values[name] for name in METHODS[method].needs)
    assert str(strength_of(row)) == str(METHODS[method].reads(values))


@pytest.mark.parametrize("method", METHODS)
def test_law_what_is_still_to_be_read_is_said_as_the_page_says_it(method):
    assert missing(BLANK | {"method": method}) == [
        FIELDS[name].label for name in METHODS[method].needs
    ]
    assert missing(read(method)) == []
    for name in METHODS[method].needs:
        assert missing(read(method, **{name: None})) == [FIELDS[name].label]


# ---- refusals

IN_SI = re.compile(r"kg/kg|kg\b(?! of soda)|m³|\d K\b|\bPa\b|mol/m|[A-Za-z]+_[a-z]+|e-\d\d|Error")
"""What no reader of the page may meet: SI, names of Python, tiny powers of ten."""


def refusal(values):
    """What the page says of a reading, or "" where it takes it."""
    try:
        expected_gas(values)
        strength = strength_of(row_of(values))
        strength.bottle(values[LABELS[strength.substance]] / 100)
    except ValueError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("method", METHODS)
def test_law_a_number_outside_its_field_is_refused_by_its_label(method):
    names = [*METHODS[method].needs, LABELS[METHODS[method].substance]]
    for name in names:
        field = FIELDS[name]
        for value in (field.low - 1, field.high + 1, "ten", float("nan"), True):
            said = refusal(read(method, **{name: value})) if name[-5:] != "label" else ""
            row = row_of(read(method)) | {name: value}
            with pytest.raises(ValueError) as error:
                strength_of(row)
            for words in (said or str(error.value), str(error.value)):
                assert words.startswith(field.label), words
                assert f"{field.low:g} to {field.high:g} {field.unit}" in words


@pytest.mark.parametrize("method", METHODS)
def test_law_no_refusal_speaks_in_si_or_in_python(method):
    """At the ends of every field, and at two of them together."""
    names = [*METHODS[method].needs, LABELS[METHODS[method].substance]]
    ends = [(name, end) for name in names for end in (FIELDS[name].low, FIELDS[name].high)]
    cases = [{name: end} for name, end in ends]
    cases += [{one: end, two: other} for one, end in ends for two, other in ends if one < two]
    refused = [said for case in cases if (said := refusal(read(method, **case)))]
    assert len(refused) > len(names), "some of them cannot be"
    assert [said for said in refused if IN_SI.search(said)] == []


def test_law_words_in_si_would_be_seen():
    for words in ("0.12 kg/kg", "1e-08 to 1e-06 m³", "T_gas = 3", "= 272.15 K", "60000 Pa"):
        assert IN_SI.search(words)
    assert not IN_SI.search("Label = 12 %: it must be 3 to 35 %, 0.2 g, 9 mL, 1013 hPa, 0.5 mol/L")


@pytest.mark.parametrize(
    "method, changes, words",
    [
        (WEIGHED_ACID, {"mass": 60}, "Liquid alone weighs = 60 g cannot be: it must be 9"),
        (
            WEIGHED_ACID,
            {"mass": 117, "acid_label": 34, "acid_warmth": 30},
            "bottle = 30 °C is too warm",
        ),
        (WEIGHED_PEROXIDE, {"mass": 118, "peroxide_label": 35}, "above that is not for this bench"),
        (WEIGHED_PEROXIDE, {"mass": 100.6}, "cannot tell: it reads"),
        (SODA, {"diluted": 1, "run_in": 1.3}, "acid as diluted = 2.9 mol/L is too strong"),
        (SODA, {"soda": 0.001}, "dilute the acid further"),
        (LYE, {"run_in": 0.1}, "use a weaker titrant"),
        (GAS, {"diluted": 3}, "label = 12 % diluted 3 times is 4"),
        (GAS, {"gas": 30}, "The sample was stronger than its label"),
        (GAS, {"gas": 11.9, "peroxide_label": 9}, "is too much for label = 9 %"),
        (GAS, {"gas": 1.2}, "wait until the gas is cool"),
        (GAS, {"gas": 0.9}, "must be above 1 mL, which the sample alone pushes over"),
        (GAS, {"peroxide_label": 30}, "projectile"),
        (WEIGHED_ACID, {"acid_label": 20}, "the label says 20 %"),
    ],
)
def test_law_what_cannot_be_of_a_bottle_says_what_to_do(method, changes, words):
    assert words in refusal(read(method, **changes))


@pytest.mark.parametrize(
    "row", [{}, {"method": "x"}, {"method": None}, {"method": SODA}, {"method": GAS, "gas": 1}]
)
def test_law_a_row_that_is_no_reading_is_said(row):
    with pytest.raises(ValueError, match="reading is none of this page: measure it again"):
        strength_of(row)


# ---- gas, before anything is poured


def test_second_source_gas_is_foretold_before_it_is_poured():
    """By hand: moles of peroxide, half as many of oxygen, at 20 °C over water."""
    words = expected_gas(read(GAS, gas=None))
    most = float(re.search(r"to read at most ([\d.]+) mL, 1 mL of it pushed over", words)[1])
    assert most == pytest.approx(GAS_ML + 1, abs=0.06)
    assert words.endswith("Never closed.")
    assert expected_gas(read(GAS, pressure=None)) == words, "1013 hPa, as at the sea"


def vessel_for(**changes):
    """What the vessel must hold [mL]."""
    return float(re.search(r"hold (\d+) mL", expected_gas(read(GAS, **changes)))[1])


def test_law_a_vessel_for_the_gas_is_never_small():
    """Five times what is to be expected and the sample, and no less than 50 mL."""
    assert vessel_for() == vessel_for(sample=0.1) == 50
    # under less air gas takes more room
    most = GAS_ML * (101300 - VAPOUR) / (70000 - VAPOUR)
    vessel = vessel_for(pressure=700)
    assert vessel == pytest.approx(5 * most + 1, abs=0.6) and vessel > 50


@pytest.mark.parametrize("name", ["sample", "diluted", "gas_warmth", "peroxide_warmth"])
def test_law_no_gas_is_foretold_as_long_as_it_cannot(name):
    assert expected_gas(read(GAS, **{name: None})) == ""


def test_law_of_another_method_no_gas_is_foretold():
    assert expected_gas(read(WEIGHED_PEROXIDE)) == ""


def test_law_a_sample_that_is_too_strong_is_refused_before_it_is_poured():
    for changes in ({"diluted": 4}, {"peroxide_label": 35}, {"diluted": 1}):
        with pytest.raises(ValueError, match="projectile"):
            expected_gas(read(GAS, gas=None, pressure=None, **changes))
