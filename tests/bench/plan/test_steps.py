"""What to do, in words: pours in order and place, the tray, when to look and to pull. Laws."""

import dataclasses
import re

import pytest
from helpers.plans import mild_inputs, mild_plan
from helpers.second_reading import ZERO

from pcbchem import Board, Bottle, Tray, UsedBath
from pcbchem.bench.plan.outcome import Stage
from pcbchem.bench.plan.steps import how, looks, pours, tray
from pcbchem.common.band import Band

FLUID_OUNCE = 29.5735295625e-6  # m³, by definition


def numbered(plan):
    """The numbered lines of a plan."""
    return [line for line in str(plan).splitlines() if re.match(r"\d\. ", line)]


def test_each_pour_has_its_line_in_order(whole):
    lines = numbered(whole)
    assert [line[:3] for line in lines] == [f"{number}. " for number in range(1, 7)]
    for line, stage in zip(lines[:4], whole.stages[:4], strict=True):
        assert line[3:].startswith(f"{stage.what}, ")
    assert lines[4] == "5. Then the board goes in.", "a used bath is in the tray already"
    assert lines[5].startswith("6. 1 min 40 s after the board, peroxide, second portion, ")
    assert "not clear" in lines[5]


def test_a_fresh_bath_is_mixed_in_a_jug_and_poured_over(mild):
    lines = numbered(mild)
    assert lines[-1] == "4. Pour it from the jug into the tray at once. Then the board goes in."
    assert "1. water, first, in the jug: " in lines[0]


def test_a_kept_bath_is_topped_up_in_its_tray(whole):
    assert "1. water, first, in the tray: " in numbered(whole)[0]


def test_every_volume_is_said_in_both_units(whole):
    words = str(whole)
    for stage in whole.stages:
        assert f"{float(f'{stage.volume * 1e6:.3g}'):g} mL" in words
        assert f"{float(f'{stage.volume / FLUID_OUNCE:.2g}'):g} US fl oz" in words


def test_acid_goes_slowly_into_water_and_peroxide_last(mild):
    _, acid, peroxide, _ = numbered(mild)
    assert acid.startswith("2. acid, slowly into it, stirring: ")
    assert peroxide.startswith("3. peroxide, last and slowly: ")


def test_weak_peroxide_goes_in_before_the_acid():
    shop = mild_plan(peroxide=Bottle("H2O2", 0.02, 0.03), parts=(0, 1, 2), draws=10)
    first, second, _ = numbered(shop)
    assert first.startswith("1. peroxide, first, in the jug: so weak, it is mostly water: ")
    assert second.startswith("2. acid, slowly into it, stirring: ")
    after_water = mild_plan(peroxide=Bottle("H2O2", 0.02, 0.03), parts=(1, 1, 2), draws=10)
    assert (
        "2. peroxide, into it: so weak, it is mostly water: " in pours(after_water).splitlines()[1]
    )


@pytest.mark.parametrize(
    ("bottles", "mixed", "words"),
    [
        # common practice, no source: 25 °C, or 2 °C above the bottles if they are warmer
        (16, 24.9, "last and slowly"),
        (16, 25.1, "last and slowly, when it has cooled to 25 °C (worked out without)"),
        (27, 28.9, "last and slowly"),
        (27, 29.1, "last and slowly, when it has cooled to 29 °C (worked out without)"),
    ],
)
def test_what_is_warm_cools_before_the_peroxide_goes_in(bottles, mixed, words):
    inputs = mild_inputs(T_bottles=ZERO + bottles)
    stages = [
        Stage("water", 1e-4, Band.of(ZERO + bottles, None)),
        Stage("acid", 1e-4, Band.of(ZERO + mixed, None)),
        Stage("peroxide", 1e-4, Band.of(ZERO + mixed, None)),
    ]
    assert how(stages, 3, inputs) == words


def test_the_tray_is_the_one_it_was_worked_out_for():
    """27 cm² under 162 mL, 10 mm deep: 162 cm²; in a tray of 81 cm² it is 20 mm deep."""
    assert tray(mild_inputs()).startswith("Worked out for 160 cm² of open liquid, 10 mm deep.")
    deep = tray(mild_inputs(tray=Tray(open_area=81e-4)))
    assert deep.startswith("Worked out for 81 cm² of open liquid, 20 mm deep.")
    assert "Use again only" not in deep and "smaller than the board" not in deep


def test_a_tray_smaller_than_the_board_is_questioned():
    """45 cm² of board, a tenth of it bare, in 10 mm of bath over 4.5 cm² and a rim."""
    small = {"board": Board(75e-3, 60e-3, 0.1), "bath_per_area": 0.01}
    assert "**That is smaller than the board: say how large your tray is.**" in tray(
        mild_inputs(**small)
    )
    upright = mild_inputs(**small, tray=Tray(facing="upright"))
    assert "smaller than the board" not in tray(upright), "a board may stand in a narrow jar"


def test_a_used_bath_is_used_again_only_when_it_is_quiet():
    words = tray(mild_inputs(used_bath=UsedBath(0.4, 150, 2000)))
    assert "Use again only a bath that has stood open for days" in words


def test_the_board_is_pulled_when_it_is_clear_all_over(mild):
    words = looks(mild)
    assert "Pull the board, with plastic tongs and low over the tray, when it is clear" in words
    later = looks(dataclasses.replace(mild, over_etch=(44.0, 132.0)))
    assert "44 s to 2.2 min more clears the last corners (10 to 30 % of the time;" in later
    assert "Resist stands such a bath 20 to 30 min (common practice)." in words


def test_how_long_resist_stands_a_strong_bath_is_not_known(mild):
    words = looks(dataclasses.replace(mild, resist_life=None))
    assert "we do not know" in words and "Resist stands" not in words


def test_nothing_is_said_of_looking_where_nothing_clears():
    none = mild_plan(peroxide=Bottle("H2O2", 0, 0), draws=5)
    assert looks(none) == ""


@pytest.mark.parametrize(
    ("when", "words"), [(45.0, "45 s"), (90.0, "1 min 30 s"), (720.0, "12 min")]
)
def test_a_second_portion_says_when_it_is_due(when, words):
    late = mild_plan(second=(0.5, when), draws=10)
    assert f"{words} after the board, peroxide, second portion, slowly, only if" in str(late)
