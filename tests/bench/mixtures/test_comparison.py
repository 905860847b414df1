"""Plans beside each other: their own numbers, and no amount of one that is refused. Laws."""

import html
import json
import math
import re

import numpy as np
import pytest
from helpers.amounts import amounts
from helpers.plans import USED_BATH, mild_plan

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.mixtures import Wanted, compare, mixtures, row
from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.plan.steps import measured
from pcbchem.common.limits import InputError
from pcbchem.common.number_words import watch

WINDOW, HOTTEST = (180, 480), 313.15
AMOUNT_COLUMN = re.compile(r"\((mL|mol)\)")


@pytest.fixture(scope="module")
def plans():
    refused = mild_plan(acid=Bottle.labelled("HCl", 0.37), parts=(0, 3, 1), draws=40)
    assert refused.refused
    mild = mild_plan(draws=40)
    return {
        "mild": mild,
        "used": mild_plan(used_bath=USED_BATH, second=(0.3, 300.0), draws=40),
        "refused": refused,
        "class": for_class(mild),
    }


@pytest.fixture(scope="module")
def compared(plans):
    return compare(plans, window=WINDOW, hottest=HOTTEST)


def test_law_a_row_has_the_numbers_of_its_plan(plans, compared):
    mild, numbers = plans["mild"], compared.rows["mild"]
    times, day = mild.bands["time_to_clear"], mild.bands["standing_peak"]
    assert numbers["clear, low end (min)"] == pytest.approx(float(times.low) / 60)
    assert numbers["clear, high end (min)"] == pytest.approx(float(times.high) / 60)
    assert numbers["in the day after, 1 in 10 above (°C)"] == pytest.approx(day.high - 273.15)
    assert 60 * numbers["look first (min)"] == pytest.approx(mild.first_look)
    assert 60 * numbers["then every (min)"] == pytest.approx(mild.look_every)
    share = Wanted.checked(WINDOW, HOTTEST).share(mild.bands)
    assert 0 < share < 1 and numbers["as wanted (of 100)"] == pytest.approx(100 * share)


def test_law_pours_and_moles_add_up_to_the_bath(plans, compared):
    for name in ("mild", "used"):
        plan, numbers = plans[name], compared.rows[name]
        pours = [numbers[f"{stage.what} (mL)"] for stage in plan.stages]
        assert pours == measured([stage.volume for stage in plan.stages])
    mild = plans["mild"].mixture
    for column, substance in (("acid (mol)", "HCl"), ("peroxide (mol)", "H2O2")):
        in_all = float(np.mean(mild.amount(substance)))
        assert compared.rows["mild"][column] == pytest.approx(in_all, rel=1e-9)


def test_law_moles_count_both_portions_and_no_used_bath(plans, compared):
    """By volume and strength of the bottle: concentration times volume."""
    used = plans["used"]
    assert {stage.what for stage in used.stages} >= {"used bath", "peroxide, second portion"}
    volume = sum(stage.volume for stage in used.stages if stage.what.startswith("peroxide"))
    whole = mild_plan(draws=40)
    (alone,) = (stage.volume for stage in whole.stages if stage.what == "peroxide")
    per_volume = compared.rows["mild"]["peroxide (mol)"] / alone
    assert compared.rows["used"]["peroxide (mol)"] == pytest.approx(volume * per_volume, rel=1e-6)


@pytest.mark.parametrize("name", ["refused", "class"])
def test_law_refused_and_class_rows_hold_no_amount(name, plans, compared):
    kept = row(plans[name], WINDOW, HOTTEST)
    for columns in (compared.rows[name], kept["texts"], kept["numbers"]):
        assert not [column for column in columns if AMOUNT_COLUMN.search(column)]
    alone = compare({name: plans[name]}, window=WINDOW, hottest=HOTTEST)
    assert alone.rows[name]
    texts = (alone._repr_html_(), str(alone), repr(alone), alone.to_frame().to_csv())
    assert [amounts(text) for text in (*texts, json.dumps(kept))] == [[]] * 5
    # beside others their cells stay blank
    cells = compared.cells
    blank = {column for column in cells["mild"] if AMOUNT_COLUMN.search(column)}
    assert len(blank) == 7 and all(cells["used"][column] for column in blank)
    assert not any(cells[name][column] for column in blank)
    frame = compared.to_frame()
    assert frame.loc[name, sorted(blank)].isna().all()


def test_law_a_refused_plan_is_not_looked_at(plans, compared):
    assert "look first (min)" not in compared.rows["refused"]
    assert compared.cells["refused"]["look first"] == ""
    (line,) = (line for line in str(compared).splitlines() if line.startswith("refused"))
    assert "look first" not in line and "do not mix" in line


def test_law_the_table_says_when_to_look_and_not_how_often_then(plans, compared):
    look = compared.cells["mild"]["look first"]
    assert re.fullmatch(r"(?:\d+ min)? ?(?:\d+ s)?", look) and look
    assert look == watch(plans["mild"].first_look)


def test_law_rows_say_their_own_board_and_used_bath(compared):
    mild, used = compared.rows["mild"], compared.rows["used"]
    assert mild["board (mm × mm)"] == "75 × 60" and mild["used bath"] == "none"
    assert used["used bath"].startswith("40 % of it is a used bath: ")
    assert (used["peroxide held back (%)"], used["held back until (min)"]) == (30, 5)
    assert compared.cells["mild"]["board"] == "75 × 60 mm, 60 % bare"
    by_area = compare([mild_plan(board=Board(area=27e-4), draws=5)])
    assert by_area.cells["bath 1"]["board"] == "27 cm² bare"
    assert "board (mm × mm)" not in by_area.rows["bath 1"]
    assert by_area.rows["bath 1"]["bare copper (cm²)"] == pytest.approx(27)
    two_sides = compare([mild_plan(board=Board(0.075, 0.06, 0.6, back=0.2), draws=5)])
    assert two_sides.cells["bath 1"]["board"] == "75 × 60 mm, 60 % bare, back 20 %"


def test_law_what_nobody_said_of_the_tray_is_not_worked_out_from_the_bath(plans):
    """A default depth would give away how much bath a refused plan has."""
    assert plans["refused"].inputs.tray.open_area is None
    assert row(plans["refused"])["numbers"]["vessel"] == "tray, size not said"
    asked = Tray(facing="upright", open_area=97e-4, perimeter=0.4)
    said = row(mild_plan(tray=asked, draws=5))["numbers"]
    assert said["vessel"] == "tank, 97 cm² open, 400 mm of wall around"


def test_law_rows_can_be_kept_as_json(plans):
    never = mild_plan(parts=(0, 1, 0), draws=5)
    for plan in (*plans.values(), never):
        kept = row(plan)
        assert json.loads(json.dumps(kept, allow_nan=False)) == kept
        assert all(isinstance(text, str) for text in kept["texts"].values())
        assert "as wanted (of 100)" not in kept["texts"] | kept["numbers"]
    assert kept["numbers"]["clear, middle (min)"] is None
    assert kept["numbers"]["never clear (of 100)"] == 100
    assert math.isinf(compare([never]).rows["bath 1"]["clear, middle (min)"])
    assert kept["texts"]["middle"] == "never"


def test_law_texts_say_verdict_rule_bottles_and_parts(plans):
    texts = row(plans["refused"])["texts"]
    assert texts["verdict"] == f"do not mix: {plans['refused'].reasons[0].rule}"
    assert texts["water : acid : peroxide"] == "0 : 3 : 1"
    assert "37" in texts["bottles"] or "38" in texts["bottles"]
    assert row(plans["mild"])["texts"]["verdict"].startswith(plans["mild"].verdict)


def test_law_the_table_has_scopes_and_every_cell(compared):
    table = compared._repr_html_()
    # of one bench: its board and bottles are said once, over the table
    first = next(iter(compared.cells.values()))
    alike = [
        name
        for name in ("board", "bottles")
        if len({cells[name] for cells in compared.cells.values()}) == 1
    ]
    columns = len(first) - len(alike)
    for name in alike:
        assert table.count(html.escape(first[name])[1:]) == 1
    assert table.count('scope="col"') == columns + 1
    assert table.count('scope="row"') == table.count("<tr>") - 1 == len(compared.plans)
    assert table.count("<td") == columns * len(compared.plans)
    for cells in compared.cells.values():
        for name, text in cells.items():
            assert name in alike or html.escape(text) in table
    assert "<caption" in table and compared.wanted.words in table


def test_law_names_are_escaped(plans):
    table = compare({"<b>me & you</b>": plans["mild"]})._repr_html_()
    assert "<b>" not in table and "&lt;b&gt;me &amp; you" in table


def test_law_a_list_is_numbered_and_a_mapping_keeps_its_order(plans):
    assert list(compare(list(plans.values())).rows) == ["bath 1", "bath 2", "bath 3", "bath 4"]
    turned = dict(reversed(plans.items()))
    assert list(compare(turned).rows) == list(turned) == list(compare(turned).to_frame().index)


@pytest.mark.parametrize(
    "wrong", [[], "plan", 3, None, ["mild"], {"a": None}], ids=lambda wrong: repr(wrong)
)
def test_law_what_is_no_plan_is_refused(wrong):
    with pytest.raises(InputError, match="1 to 6 plans"):
        compare(wrong)


def test_law_more_than_six_are_refused(plans):
    mild = plans["mild"]
    assert len(compare([mild] * 6).rows) == 6
    with pytest.raises(InputError, match="7 of them"):
        compare([mild] * 7)


def test_law_a_window_that_cannot_be_is_refused(plans):
    with pytest.raises(InputError, match="window"):
        compare(plans, window=(480, 180))
    with pytest.raises(InputError, match="hottest"):
        row(plans["mild"], hottest=40)


def test_law_a_map_and_a_row_count_the_same_moles():
    acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    every = mixtures(
        acid,
        peroxide,
        Board(75e-3, 60e-3, 0.6),
        place="EU",
        bath_per_area=0.055,
        steps=6,
        draws=40,
        window=WINDOW,
        hottest=HOTTEST,
    )
    index = every.nearest(1, 1, 1)
    numbers = row(every.plan(index), WINDOW, HOTTEST)["numbers"]
    assert numbers["acid (mol)"] == pytest.approx(every.acid_amount[index])
    assert numbers["peroxide (mol)"] == pytest.approx(every.peroxide_amount[index])
    assert numbers["as wanted (of 100)"] == pytest.approx(100 * every.within[index], abs=2.6)
