"""What the tub is called. Published checks (another implementation, examples worked by hand), laws.

Limits as printed in CLP Annex VI; the examples A to E are worked by hand with them.
"""

import dataclasses
from itertools import pairwise

import numpy as np
import pytest
from helpers.expected import rows
from helpers.refusals import assert_refused, cases
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Bottle, Solution, mix, plan
from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.waste.label import (
    GIVES_OFF_GAS,
    PICTOGRAMS,
    REVISION,
    SIGNALS,
    TOXIC_NOTE,
    classes,
    label,
    label_of,
    limit_sums,
    mass_fractions,
    pictograms,
    signal,
    stand_ins,
)
from pcbchem.bench.waste.rest import Rest, rest_of
from pcbchem.common import tables
from pcbchem.matter.properties import MOLAR_MASS

PRINTED = {row["id"]: row for row in rows("checks_label")}
SUBSTANCES = ("HCl", "H2O2", "CuCl2", "NaOH")
LITRE = 1e-3


def shares_of(row):
    """Mass fractions [kg/kg] of a check; what it does not name is 0."""
    percents = {name: row[f"{name}_percent"] for name in SUBSTANCES}
    return {name: 0.0 if text == "-" else float(text) / 100 for name, text in percents.items()}


def words_of(row):
    """What the package answers to a check, as the check is written."""
    if row["call"] == "pictograms":
        return ", ".join(pictograms(row["codes"].split()))
    if row["call"] == "signal":
        return signal(row["codes"].split())
    pH = None if row["pH"] == "-" else float(row["pH"])
    return " ".join(classes(**shares_of(row), pH=pH, route=row["route"]))


CHECKS = [
    *("l01", "l02", "l03", "l04", "l05", "l06", "l07", "l08", "l09"),
    *("lA_limits", "lA_pH", "lB_limits", "lB_pH", "lC_limits", "lC_pH", "lD_limits"),
    *("lE_limits", "lE_pH", "lA_H314", "lA_H315", "lA_H318", "lA_H319", "lB_H314", "lB_H315"),
    *("lB_H318", "lC_H314", "lC_H315", "lC_H318", "lC_H319", "lD_H314", "lD_H318", "lE_H314"),
    "lE_H318",
]


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    # Second source: another implementation of the rules, and examples worked by hand.
    row = PRINTED[check]
    if row["call"] == "limit_sums":
        # percents of three figures were put in: that is half of the last one, 0.3 %
        expected = pytest.approx(float(row["expected"]), rel=0.003)
        assert limit_sums(shares_of(row))[row["codes"]] == expected, row["source"]
    else:
        assert words_of(row) == row["expected"], row["source"]


def test_every_check_of_the_file_is_run():
    assert sorted(CHECKS) == sorted(PRINTED)


@pytest.mark.parametrize(
    ("parts", "strengths", "expected"),
    [
        # water, acid, peroxide by volume; strengths of acid and peroxide; acid and peroxide in it
        ((0, 1, 2), (0.3145, 0.03), (11.46, 1.91)),
        ((3, 2, 1), (0.3145, 0.12), (11.46, 1.97)),
        ((10, 2, 1), (0.36, 0.30), (6.31, 2.48)),
        ((0, 1, 1), (0.36, 0.30), (18.5, 14.6)),
        ((3, 3, 1), (0.36, 0.30), (16.7, 4.36)),
    ],
    ids="ABCDE",
)
def test_the_worked_examples_from_their_bottles(parts, strengths, expected):
    # Second source: parts by volume turned into per cent by weight, with densities of its own.
    water, acid, peroxide = parts
    liquids = [
        Solution.of(volume=acid * LITRE, T=293.15, HCl=strengths[0]),
        Solution.of(volume=peroxide * LITRE, T=293.15, H2O2=strengths[1]),
    ]
    if water:
        liquids.insert(0, Solution.of(volume=water * LITRE, T=293.15))
    mixture = mix(*liquids)
    percents = [100 * float(mixture.mass_fraction(name)) for name in ("HCl", "H2O2")]
    # the last figure but one: the example took densities of three and four figures
    assert percents == pytest.approx(expected, rel=0.005)


# ---- limits


@pytest.mark.parametrize(
    ("substance", "limits"),
    [
        ("HCl", {"H314": 25, "H315": 10, "H318": 25, "H319": 10, "H335": 10}),
        (
            "H2O2",
            {"H271": 70, "H272": 50, "H302": 25, "H314": 50, "H315": 35, "H318": 8, "H319": 5}
            | {"H332": 30, "H335": 35},
        ),
        ("NaOH", {"H314": 2, "H315": 0.5, "H318": 2, "H319": 0.5}),
    ],
)
def test_as_printed_the_specific_limits_of_annex_VI(substance, limits):
    printed = {
        row["code"]: float(row["limit_percent_by_weight"])
        for row in tables.read("class_limits")
        if row["substance"] == substance
    }
    assert printed == limits


@pytest.mark.parametrize(
    ("just_below", "at", "code"),
    [
        ({"HCl": 0.0999}, {"HCl": 0.10}, "H335"),
        ({"HCl": 0.2499}, {"HCl": 0.25}, "H314"),
        ({"H2O2": 0.0799}, {"H2O2": 0.08}, "H318"),
        ({"H2O2": 0.2999}, {"H2O2": 0.30}, "H332"),
        ({"H2O2": 0.4999}, {"H2O2": 0.50}, "H272"),
        ({"H2O2": 0.6999}, {"H2O2": 0.70}, "H271"),
        ({"CuCl2": 0.0024}, {"CuCl2": 0.0025}, "H411"),
        ({"CuCl2": 0.0249}, {"CuCl2": 0.025}, "H410"),
        ({"NaOH": 0.0199}, {"NaOH": 0.02}, "H314"),
    ],
)
def test_law_a_limit_counts_from_itself_on(just_below, at, code):
    assert code not in classes(**just_below)
    assert code in classes(**at)


def test_law_a_limit_as_a_sum_of_parts_is_reached():
    # 0.35 - 0.10 is 0.25 but for its last bit, and 0.1 + 0.7 tenths likewise
    assert 0.35 - 0.10 < 0.25 and "H314" in classes(HCl=0.35 - 0.10)
    assert 0.01 + 0.07 == pytest.approx(0.08) and "H318" in classes(H2O2=0.01 + 0.07)
    # two halves of a limit are a whole one
    assert "H318" in classes(HCl=0.125, H2O2=0.04)


def test_second_source_irritated_airways_are_summed():
    # CLP Annex I, 3.8.3.4.5: additive, for nobody showed that acid and peroxide are not
    assert "H335" in classes(HCl=0.08, H2O2=0.12)
    assert limit_sums({"HCl": 0.08, "H2O2": 0.12, "CuCl2": 0, "NaOH": 0})["H335"] == (
        pytest.approx(8 / 10 + 12 / 35)
    )
    assert "H335" not in classes(HCl=0.08, H2O2=0.069)
    # copper and lye add nothing to it
    assert "H335" not in classes(HCl=0.08, H2O2=0.069, CuCl2=0.2)


def test_law_both_copper_salts_count_as_copper():
    # as much copper is more of the second by weight
    as_chloride = 0.025 * MOLAR_MASS["CuCl"] / MOLAR_MASS["CuCl2"]
    assert classes(CuCl=as_chloride) == classes(CuCl2=0.025)
    assert "H410" in classes(CuCl=as_chloride) and "H410" not in classes(CuCl=0.98 * as_chloride)


@pytest.mark.parametrize(("pH", "is_corrosive"), [(2, True), (2.01, False), (11.49, False)])
def test_law_the_pH_counts_from_2_down_and_from_11_5_up(pH, is_corrosive):
    assert ("H314" in classes(HCl=0.001, pH=pH)) == is_corrosive
    assert ("H290" in classes(HCl=0.001, pH=pH)) == is_corrosive
    assert classes(NaOH=0.001, pH=11.5) == ("H314",)  # of lye nobody says the metals


# ---- laws of more and of both routes

SHARES = st.fixed_dictionaries(
    {},
    optional={
        "HCl": st.floats(0, 0.3),
        "H2O2": st.floats(0, 0.3),
        "CuCl2": st.floats(0, 0.2),
        "CuCl": st.floats(0, 0.1),
    },
)
PH = st.one_of(st.none(), st.floats(-1, 14))


def covered(code, codes):
    """Tell whether a label of some codes says one, itself or by a graver one."""
    return code in codes or bool(stand_ins(code) & set(codes))


@given(SHARES, st.sampled_from(("HCl", "H2O2", "CuCl2", "CuCl")), st.floats(0, 0.1), PH)
@settings(max_examples=200, deadline=None)
def test_law_more_of_a_substance_never_loses_a_class(shares, substance, more, pH):
    stronger = {**shares, substance: shares.get(substance, 0.0) + more}
    for route in ("limits", "stricter"):
        before, after = (classes(**each, pH=pH, route=route) for each in (shares, stronger))
        assert all(covered(code, after) for code in before)
        # nor does the signal word get milder, and no pictogram goes but the one that gives way
        ranks = [(*SIGNALS, "").index(signal(codes)) for codes in (before, after)]
        assert ranks[1] <= ranks[0]
        lost = set(pictograms(before)) - set(pictograms(after))
        assert not lost or (lost == {"exclamation mark"} and "corrosion" in pictograms(after))


@given(SHARES, st.floats(-1, 14))
@settings(max_examples=100, deadline=None)
def test_law_the_stricter_route_says_what_either_says(shares, pH):
    stricter = classes(**shares, pH=pH)
    for route in ("limits", "pH"):
        assert all(covered(code, stricter) for code in classes(**shares, pH=pH, route=route))


@given(SHARES, PH)
@settings(max_examples=100, deadline=None)
def test_law_no_code_stands_beside_one_that_stands_for_it(shares, pH):
    codes = classes(**shares, pH=pH)
    assert list(codes) == sorted(set(codes))
    assert not any(stand_ins(code) & set(codes) for code in codes)


def test_law_stand_ins_chain_to_the_gravest():
    # what stands for a stand-in stands for the code itself: nothing is lost between two
    for row in tables.read("hazard_statements"):
        for graver in stand_ins(row["code"]):
            assert stand_ins(graver) <= stand_ins(row["code"])


# ---- pictograms, signal words, labels


@pytest.mark.parametrize(
    ("codes", "names"),
    [
        ("H315 H319", "exclamation mark"),
        ("H290 H319", "corrosion"),
        ("H302 H318", "corrosion, exclamation mark"),
        ("H314 H332", "corrosion, exclamation mark"),
        ("H314 H335", "corrosion, exclamation mark"),
        ("H271 H314 H410", "flame over circle, corrosion, environment"),
        ("H290 H412", "corrosion"),
        ("H412", ""),
        ("", ""),
    ],
)
def test_law_the_exclamation_mark_gives_way_for_skin_and_eyes_alone(codes, names):
    # CLP Article 26: where corrosion is shown no exclamation mark for irritated skin or eyes
    assert ", ".join(pictograms(codes.split())) == names


def test_as_printed_statements_have_known_pictograms_and_signals():
    for row in tables.read("hazard_statements"):
        assert row["pictogram"] in (*PICTOGRAMS, "none")
        assert row["signal_word"] in (*SIGNALS, "none")
        assert row["class_words"] and row["statement"][0].isupper()
    codes = {row["code"] for row in tables.read("hazard_statements")}
    assert {row["code"] for row in tables.read("class_limits")} | {"H290"} == codes


@pytest.mark.parametrize(
    ("codes", "word"), [("H314 H411", "Danger"), ("H319", "Warning"), ("H411", ""), ("", "")]
)
def test_the_stronger_signal_word_counts(codes, word):
    assert signal(codes.split()) == word


def test_a_label_says_it_all_in_words():
    tub = label(("H290", "H314", "H411"))
    assert tub.head == "Danger: corrosion, environment"
    assert tub.class_words == (
        "corrosive to metals",
        "corrosive to skin and eyes",
        "toxic to water life, for long",
    )
    assert "H314 Causes severe skin burns and eye damage" in str(tub)
    assert tub.as_of in str(tub) and REVISION in tub.notes
    assert label(("H411",)).head == "Environment"
    for codes in ((), ("H412",)):
        assert label(codes).head == "Hazardous waste"


@pytest.mark.parametrize("codes", [(), ("H412",), ("H290", "H314")])
def test_law_every_label_says_that_it_gives_off_gas_and_that_it_is_hazardous(codes):
    tub = label(codes)
    assert GIVES_OFF_GAS == tub.notes[0] and GIVES_OFF_GAS in str(tub)
    assert "never closed up" in GIVES_OFF_GAS
    assert ("No class by these limits: hazardous waste all the same." in str(tub)) == (not codes)
    assert "no pictogram" not in str(tub).lower() and ". ." not in str(tub)


@pytest.mark.parametrize(
    ("copper", "codes", "is_noted"),
    [(0.049, (), False), (0.05, (), True), (0.05, ("H302",), False)],
)
def test_where_sheets_disagree_the_stricter_is_told(copper, codes, is_noted):
    assert (TOXIC_NOTE in label(codes, copper).notes) == is_noted


def test_every_limit_and_statement_is_dated_and_has_a_status():
    for row in tables.read("class_limits"):
        assert row["as_of"].startswith("20") and row["status"] in ("published", "from memory")
        # how strongly the salt acts on water is recalled
        if row["code"].startswith("H4"):
            assert row["status"] == "from memory"


# ---- of a plan


def workshop(parts=(0, 1, 1), acid=0.10, peroxide=0.12, volume=150e-6):
    """A plan for the tide clock."""
    board = Board(width=0.075, height=0.06, bare=0.6)
    bottles = Bottle.labelled("HCl", acid), Bottle.labelled("H2O2", peroxide)
    return plan(*bottles, parts, board, volume=volume, place="EU")


@pytest.fixture(scope="module")
def mild():
    return workshop()


def test_the_spent_mild_bath_is_called_as_by_hand(mild):
    # Second source: the codes of check l06, whose strengths another implementation found
    tub = label_of(mild)
    assert " ".join(tub.codes) == PRINTED["l06"]["expected"]
    assert ", ".join(tub.pictograms) == PRINTED["l08"]["expected"]
    assert tub.signal == "Danger"


def test_law_mass_fractions_agree_with_the_bath_after(mild):
    # the balance of the run against the concentrations alone: mass fractions by two ways
    bath, end = mild.run.bath_after, mild.run.end
    dissolved = {name: end[name] for name in ("HCl", "H2O2", "CuCl2", "CuCl")}
    for name, share in mass_fractions(dissolved, end["T"]).items():
        # the mass of the run counts no change of volume by warmth
        assert share == pytest.approx(np.asarray(bath.mass_fraction(name)), rel=0.01, abs=1e-9)


def test_law_mass_fractions_give_back_the_concentrations():
    bath = Solution.of(volume=LITRE, T=303.15, HCl=0.08, H2O2=0.06, CuCl2=0.05)
    dissolved = {name: bath.concentration(name) for name in ("HCl", "H2O2", "CuCl2")}
    shares = mass_fractions(dissolved, 303.15)
    assert shares == {
        "HCl": pytest.approx(0.08, rel=1e-6),
        "H2O2": pytest.approx(0.06, rel=1e-6),
        "CuCl2": pytest.approx(0.05, rel=1e-6),
    }


def test_what_is_left_is_called_as_its_plan(mild):
    # the rest is etched once more, by a decay as it is: the words are the same
    assert label_of(rest_of(mild)) == label_of(mild)


def test_a_rest_without_doubt_has_a_label_too():
    bath = Solution.of(volume=150e-6, T=293.15, HCl=0.0446, H2O2=0.0494, CuCl2=0.0111)
    assert " ".join(label_of(Rest(bath)).codes) == PRINTED["l06"]["expected"]
    # copper alone, no acid: nobody knows the pH
    used_up = Solution.of(volume=150e-6, T=293.15, CuCl2=0.0111, CuCl=0.001)
    assert label_of(Rest(used_up)).codes == ("H319", "H411")


def test_a_doubtful_bottle_makes_a_label_no_milder():
    # acid of 12 to 18 %: the middle bath holds less than 10 % of it afterwards, 1 in 10 holds more
    board = Board(width=0.075, height=0.06, bare=0.6)
    bottles = Bottle("HCl", 0.12, 0.18), Bottle("H2O2", 0.03, 0.03)
    doubtful = plan(*bottles, (1, 3, 1), board, volume=300e-6, place="EU")
    acid = mass_fractions({"HCl": doubtful.run.end["HCl"]}, doubtful.run.end["T"])["HCl"]
    assert np.median(acid) < 0.10 < np.quantile(acid, 0.9)
    assert "H335" in label_of(doubtful).codes


def test_a_label_for_a_class_is_the_same(mild):
    assert label_of(for_class(mild)) == label_of(mild)


def test_law_less_bath_for_a_board_never_loses_a_class():
    # the same copper in less and less bath: more of it in each litre
    labels = [label_of(workshop(volume=volume)) for volume in (300e-6, 150e-6, 100e-6)]
    for fuller, emptier in pairwise(labels):
        assert all(covered(code, emptier.codes) for code in fuller.codes)


REFUSED = workshop(acid=0.32, peroxide=0.30, volume=50e-6)


def test_a_refused_bath_has_no_label():
    assert REFUSED.refused
    with pytest.raises(ValueError, match="a refused bath has no label: nobody mixes this"):
        label_of(REFUSED)
    with pytest.raises(ValueError, match="nobody mixes this"):
        label_of(for_class(REFUSED))


@cases(
    [
        ("per cent", lambda: classes(HCl=11.46), ("HCl = 11.46", "0 to 1")),
        ("below nothing", lambda: classes(H2O2=-0.01), ("H2O2 = -0.01", "0 to 1")),
        ("not a number", lambda: classes(CuCl2=float("nan")), ("CuCl2 = nan",)),
        ("words", lambda: classes(HCl="10 %"), ("HCl = '10 %'", "one number")),
        ("draws", lambda: classes(HCl=[0.1, 0.2]), ("HCl", "one number")),
        ("more than all", lambda: classes(HCl=0.4, H2O2=0.7), ("HCl + H2O2", "parts of 1")),
        ("lye and acid", lambda: classes(HCl=0.1, NaOH=0.1), ("NaOH", "beside HCl")),
        ("pH", lambda: classes(pH=17), ("pH = 17", "-2 to 16")),
        ("no pH", lambda: classes(HCl=0.1, route="pH"), ("pH", "is missing")),
        ("route", lambda: classes(route="mildest"), ("route", "stricter, limits, pH")),
        ("code", lambda: signal(("H999",)), ("code = 'H999'", "H314")),
        ("codes in one text", lambda: pictograms("H290 H314"), ("code = 'H'", "H290")),
        ("a label of nothing", lambda: label_of(None), ("plan = None", "Outcome")),
        (
            "a label of codes",
            lambda: label_of(dataclasses.astuple(label(("H290",)))),
            ("plan", "Outcome"),
        ),
    ]
)
def test_what_cannot_be_is_refused_by_name(call, words):
    assert_refused(call, words)
