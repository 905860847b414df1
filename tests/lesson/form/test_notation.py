"""A bottle's numbers mean the same when their unit is changed, and the page says so."""

import csv
import itertools
import re
from pathlib import Path

import pytest

from pcbchem.lesson.form import fields
from pcbchem.lesson.form.choices import NOTATIONS, SUBSTANCES
from pcbchem.lesson.form.notation import converted, settle, settled, shortened

T = 293.15
LABELS = {"acid": (1, 5, 9, 10, 30, 31.45, 33, 37), "peroxide": (1.5, 3, 6, 9, 11.9, 12, 30, 35)}
"""Strengths that bottles have on their labels [% by weight]."""


def after(changes, **start):
    """Values and remark after a change of a form that began with the workshop's bath."""
    old = fields.STARTS | start
    return settled(old, old | changes)


# What numbers become


@pytest.mark.parametrize("name", SUBSTANCES)
def test_law_every_label_comes_back_from_every_notation(name):
    for first, second in itertools.permutations(NOTATIONS[name], 2):
        for label in LABELS[name]:
            value = converted(label, ("% by weight", first), SUBSTANCES[name], T)
            there = converted(value, (first, second), SUBSTANCES[name], T)
            back = converted(there, (second, first), SUBSTANCES[name], T)
            # each way rounds by up to one part in a thousand, and a degree Baumé is a steep one
            assert back == pytest.approx(value, rel=3e-3), (label, first, second)


@pytest.mark.parametrize("name", SUBSTANCES)
def test_law_to_and_fro_a_label_keeps_its_figures(name):
    for notation in NOTATIONS[name]:
        for label in LABELS[name]:
            there = converted(label, ("% by weight", notation), SUBSTANCES[name], T)
            back = converted(there, (notation, "% by weight"), SUBSTANCES[name], T)
            # a label of two figures comes back as it was, a longer one to a part in a thousand
            assert back == pytest.approx(label, rel=1e-3), notation
            assert label in (31.45, 11.9) or back == label, notation


@pytest.mark.parametrize("name", SUBSTANCES)
def test_law_a_converted_number_has_at_most_four_figures(name):
    for notation in NOTATIONS[name]:
        for label in LABELS[name]:
            value = converted(label, ("% by weight", notation), SUBSTANCES[name], T)
            assert value == float(f"{value:.4g}")


def published(name, **wanted):
    """A row of a table of published figures."""

    folder = Path(__file__).parents[2] / "published"
    with open(folder / f"{name}.csv", encoding="utf-8") as table:
        for row in csv.DictReader(table):
            if all(float(row[key]) == value for key, value in wanted.items()):
                return {key: row[key] for key in row}
    raise LookupError(name)


@pytest.mark.parametrize("degrees", [18, 20, 21])
def test_second_source_degrees_baume_of_the_trade(degrees):
    """The makers' table of muriatic acid: share of acid, and mol/L at 60 °F."""
    row = published("hcl_baume", baume_degrees=degrees)
    by_weight = converted(degrees, ("degrees Baume", "% by weight"), "HCl", 288.706)
    assert by_weight == pytest.approx(100 * float(row["mass_fraction"]), rel=5e-3)
    moles = converted(degrees, ("degrees Baume", "mol/L"), "HCl", 288.706)
    assert moles == pytest.approx(float(row["concentration_mol_L_60F"]), rel=5e-3)


@pytest.mark.parametrize("volumes", [3, 10, 20])
def test_second_source_volumes_of_peroxide(volumes):
    """The definition of schools, with a handbook's density."""
    row = published("h2o2_volume_strength", volume_strength=volumes)
    by_weight = converted(volumes, ("volume strength", "% by weight"), "H2O2", T)
    assert by_weight == pytest.approx(float(row["percent_by_weight_20C"]), rel=3e-3)
    moles = converted(volumes, ("volume strength", "mol/L"), "H2O2", T)
    assert moles == pytest.approx(float(row["concentration_mol_L"]), rel=1e-3)


def test_second_source_moles_of_acid_by_a_handbooks_density():
    """10 % is 2.87 mol/L, as printed in handbooks: 1047.4 kg/m³ × 0.1 / 36.46 g/mol."""
    assert converted(10, ("% by weight", "mol/L"), "HCl", T) == pytest.approx(2.87, rel=3e-3)


def test_by_hand_a_rounded_number_is_never_more_than_there_is():
    assert shortened(15.078, 4, 15.08) == 15.08
    assert shortened(15.078, 4, 15.078) == 15.07
    assert shortened(15.08, 3, 15.08) == 15
    for name, most in (("HCl", 45), ("H2O2", 70)):
        there = converted(most, ("% by weight", "mol/L"), name, T)
        assert converted(there, ("mol/L", "% by weight"), name, T) <= most


# What happens in the form


def test_a_change_of_unit_converts_and_says_so():
    values, remark = after({"acid_in": "mol/L"})
    assert values["acid"] == 2.87 and values["acid_in"] == "mol/L"
    assert remark == "10 % by weight is 2.87 mol/L: converted."
    again, remark = settled(values, values | {"acid_in": "% by weight"})
    assert again["acid"] == pytest.approx(10, rel=1e-3) and remark.startswith("2.87 mol/L is 10")


def test_a_change_of_unit_converts_both_strengths():
    values, remark = after(
        {"peroxide_in": "volume strength"},
        peroxide_sure="between",
        peroxide_low=3.0,
        peroxide_to=6.0,
    )
    low = converted(3, ("% by weight", "volume strength"), "H2O2", T)
    high = converted(6, ("% by weight", "volume strength"), "H2O2", T)
    assert (values["peroxide_low"], values["peroxide_to"]) == (low, high)
    assert values["peroxide"] == converted(12, ("% by weight", "volume strength"), "H2O2", T)
    assert remark == f"3 to 6 % by weight is {low:g} to {high:g} volumes: converted."


def test_law_the_plan_stays_the_same_whatever_the_unit():
    """The plan of converted numbers has the same bottles, to the figures that were kept."""
    usual = fields.read_bottle(fields.STARTS, "acid", T)
    for notation in NOTATIONS["acid"]:
        values, _ = after({"acid_in": notation})
        bottle = fields.read_bottle(values, "acid", T)
        assert (bottle.low, bottle.high) == pytest.approx((usual.low, usual.high), rel=2e-3)


def test_volumes_count_at_the_temperature_of_the_bottles():
    """A litre of warm acid holds less: the same share is fewer moles."""
    cold, warm = (after({"acid_in": "mol/L"}, bottles=at, acid=35)[0]["acid"] for at in (0, 40))
    assert warm < cold


def test_a_number_written_with_its_unit_is_not_converted():
    values, remark = after({"acid": 20, "acid_in": "degrees Baume"})
    assert values["acid"] == 20 and remark == ""


def test_of_two_strengths_the_one_written_with_its_unit_stays():
    values, remark = after({"acid_low": 2.5, "acid_in": "mol/L"}, acid_sure="between")
    assert values["acid_low"] == 2.5
    assert values["acid_to"] == converted(11, ("% by weight", "mol/L"), "HCl", T)
    assert remark == f"11 % by weight is {values['acid_to']:g} mol/L: converted."


def test_nothing_is_said_where_nothing_of_the_bottles_changed():
    values, remark = after({"total": 200, "acid": 12})
    assert values == fields.STARTS | {"total": 200, "acid": 12} and remark == ""


@pytest.mark.parametrize(
    ("changes", "start", "said"),
    [
        (
            {"acid_in": "mol/L"},
            {"acid": 50},
            r"^50 % by weight cannot be converted: it must be 0 to 45 ",
        ),
        ({"acid_in": "mol/L"}, {"bottles": 300}, r"^10 % by weight cannot be converted: .*°C\. "),
        (
            {"peroxide_in": "mol/L"},
            {"peroxide": 400, "peroxide_in": "volume strength"},
            r"^400 volumes cannot be converted: it must be 0 to ",
        ),
        ({"acid_sure": "between"}, {"acid": 50}, r"^50 % by weight cannot be converted: "),
    ],
)
def test_what_cannot_be_converted_is_left_and_said(changes, start, said):
    values, remark = after(changes, **start)
    assert values == fields.STARTS | start | changes

    assert re.search(said, remark), remark
    assert remark.endswith("The numbers were left as they are.")


def test_a_blank_strength_stays_blank():
    values, remark = after({"acid_in": "mol/L"}, acid=None)
    assert values["acid"] is None and remark == ""
    assert after({"acid_sure": "between"}, acid=None)[1] == ""


# At least, at most


def test_two_strengths_start_from_the_labels_doubt():
    """As printed: acid within 1 % by weight; peroxide 85 to 100 % (common practice)."""
    values, remark = after({"acid_sure": "between"}, acid=31.45, acid_low=1, acid_to=2)
    assert (values["acid_low"], values["acid_to"]) == (30.45, 32.45)
    assert remark.startswith("A label of 31.45 % by weight may mean 30.45 to 32.45 % by weight: ")
    values, _ = after({"peroxide_sure": "between"}, peroxide=6)
    assert (values["peroxide_low"], values["peroxide_to"]) == (5.1, 6)


def test_a_measured_bottle_starts_from_its_label_and_keeps_what_it_has():
    """From a label both strengths start anew; from two strengths they stay, and label too."""
    values, remark = after({"acid_sure": "measured"}, acid=31.45, acid_low=1, acid_to=2)
    assert (values["acid_low"], values["acid_to"]) == (30.45, 32.45) and "start there" in remark
    start = {"acid_sure": "between", "acid_low": 5, "acid_to": 7}
    values, remark = after({"acid_sure": "measured"}, **start)
    assert (values["acid_low"], values["acid_to"], remark) == (5, 7, "")


def test_a_change_of_unit_converts_all_of_a_measured_bottle():
    """By the two strengths it is said."""
    start = {"acid_sure": "measured", "acid": 10, "acid_low": 9, "acid_to": 11}
    values, remark = after({"acid_in": "mol/L"}, **start)
    assert values["acid"] == pytest.approx(2.87, rel=0.002)
    assert remark.startswith("9 to 11 % by weight is 2.57") and " to 3.1" in remark


def test_two_strengths_start_in_the_present_notation():
    values, remark = after({"peroxide_sure": "between"}, peroxide=40, peroxide_in="volume strength")
    label = fields.read_bottle(values | {"peroxide_sure": "label"}, "peroxide", T)
    both = fields.read_bottle(values, "peroxide", T)
    assert (both.low, both.high) == pytest.approx((label.low, label.high), rel=1e-3)
    assert remark.endswith(" volumes: both start there. Change them to what you know.")


def test_back_to_the_label_nothing_changes():
    start = {"acid_sure": "between", "acid_low": 5, "acid_to": 7}
    values, remark = after({"acid_sure": "label"}, **start)
    assert values == fields.STARTS | start | {"acid_sure": "label"} and remark == ""


# What comes together


def test_law_a_unit_written_behind_a_number_is_its_own():
    """Whoever types 2.9 mol/L means that; whoever changes the list means the same bottle."""
    typed = fields.STARTS | {"acid": 2.9, "acid_in": "mol/L"}
    assert settle(fields.STARTS, typed, ["acid", "acid_in"]) == ({}, "")
    # the same figure with another unit behind it is a new number all the same
    chosen = fields.STARTS | {"acid_in": "mol/L"}
    assert settle(fields.STARTS, chosen, ["acid", "acid_in"]) == ({}, "")
    values, remark = settle(fields.STARTS, chosen, ["acid_in"])
    assert values["acid"] == pytest.approx(2.87, abs=0.01) and "converted" in remark


def test_law_two_strengths_that_come_with_their_doubt_stay():
    """As those of a kept row."""
    row = fields.STARTS | {"acid_sure": "between", "acid_low": 8, "acid_to": 9}
    assert settle(fields.STARTS, row, ["acid_sure", "acid_low", "acid_to"]) == ({}, "")


def test_law_settling_one_bottle_leaves_the_other():
    new = fields.STARTS | {"acid": 2.9, "acid_in": "mol/L", "peroxide_in": "volume strength"}
    values, _ = settle(fields.STARTS, new, ["acid", "acid_in", "peroxide_in"])
    assert "acid" not in values and values["peroxide"] != fields.STARTS["peroxide"]


def test_law_what_is_no_unit_changes_nothing_else():
    assert settle(fields.STARTS, fields.STARTS | {"total": 200}, ["total"]) == ({}, "")
