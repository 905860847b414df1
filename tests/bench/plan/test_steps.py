"""What to do, in words: pours in order and place, the tray, when to look, and afterwards. Laws."""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import MILD, mild_inputs, mild_plan
from helpers.second_reading import ZERO, cut
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Bottle, Tray, UsedBath
from pcbchem.bench.hazards.verdicts import WARM_AFTER, Reason
from pcbchem.bench.plan.outcome import Stage
from pcbchem.bench.plan.steps import (
    board_goes_in,
    how,
    in_all_words,
    later,
    looks,
    measured,
    peroxide_left,
    pours,
    tray,
)
from pcbchem.common.band import Band

FLUID_OUNCE = 29.5735295625e-6  # m³, by definition
ROCKED = "Rock it: 10 to 30 tilts a minute."
COOLED = ". First wait, or stand the jug in cold water, until it is at 25 °C or colder"


def numbered(plan):
    """The numbered lines of a plan."""
    return [line for line in str(plan).splitlines() if re.match(r"\d\. ", line)]


def test_each_pour_has_its_line_in_order(whole):
    lines = numbered(whole)
    assert [line[:3] for line in lines] == [f"{number}. " for number in range(1, 7)]
    for line, stage in zip(lines[:4], whole.stages[:4], strict=True):
        assert line[3:].startswith(f"{stage.what}, ")
    assert lines[4] == f"5. Then the board goes in. {ROCKED}", "a used bath is in the tray already"
    assert lines[5].startswith("6. 1 min 40 s after the board, peroxide, second portion, ")
    assert "not clear" in lines[5]


def test_a_fresh_bath_is_mixed_in_a_jug_and_poured_over(mild):
    lines = numbered(mild)
    assert lines[3] == f"4. From the jug into the tray at once, then the board. {ROCKED}"
    assert "1. water, first, in the jug: " in lines[0]


@pytest.mark.parametrize(
    "agitation, words",
    [
        ("still", "Leave it still."),
        ("shaken", "Shake it: briskly, a tilt a second and more."),
        ("bubbled", "Bubble air through it."),
        ("sprayed", "then the board."),
    ],
)
def test_law_how_the_bath_moves_is_said_with_the_board(agitation, words):
    """Every time rests on it."""
    assert board_goes_in(mild_inputs(tray=Tray(agitation))).endswith(words)


def test_a_kept_bath_is_topped_up_in_its_tray(whole):
    assert "1. water, first, in the tray: " in numbered(whole)[0]


def in_mL(words):
    """Read every volume out of what is poured [mL]."""
    return [float(number) for number in re.findall(r"([\d.]+) mL", words)]


@pytest.mark.parametrize(
    "volumes, words",
    [([75e-6, 75e-6], "In all **150 mL**."), ([66.6e-6, 133.4e-6], "In all **202 mL**, each")],
)
def test_a_total_that_nobody_asked_for_says_that_it_is_rounded(mild, volumes, words):
    """A syringe and a jug measure in steps of their own."""
    stages = tuple(Stage("acid", volume, None) for volume in volumes)
    plan = dataclasses.replace(mild, stages=stages)
    assert in_all_words(plan, measured(volumes)).startswith(words)


def test_the_pours_add_up_to_the_total_as_printed(whole, mild):
    for plan in (whole, mild):
        *volumes, total = in_mL(pours(plan))
        assert len(volumes) == len(plan.stages)
        assert total == pytest.approx(sum(volumes), abs=1e-9)
        exact = 1e6 * sum(stage.volume for stage in plan.stages)
        assert total == pytest.approx(exact, abs=0.5 + 2.5)


def test_fluid_ounces_are_said_in_the_us_alone(mild):
    assert "fl oz" not in pours(mild)
    american = pours(dataclasses.replace(mild, inputs=mild.inputs.replace(place="US")))
    pairs = re.findall(r"([\d.]+) mL\*\* \(([\d.]+) US fl oz\)", american)
    assert len(pairs) == len(mild.stages) + 1
    for millilitres, ounces in pairs:
        exact = float(millilitres) * 1e-6 / FLUID_OUNCE
        assert float(ounces) == pytest.approx(exact, rel=0.051)


@given(st.lists(st.floats(0.05, 3000), min_size=1, max_size=5))
@settings(max_examples=200, deadline=None)
def test_amounts_are_what_people_can_measure(volumes):
    """To 0.5 mL below 10 mL, to 1 mL below 100 mL, to 5 mL above; together to half a step."""
    rounded = measured([volume * 1e-6 for volume in volumes])
    for low, high, step in ((0, 10, 0.5), (10, 100, 1), (100, np.inf, 5)):
        group = [
            (exact, amount)
            for exact, amount in zip(volumes, rounded, strict=True)
            if low <= exact < high
        ]
        for exact, amount in group:
            assert amount > 0
            if amount % step:  # less than half a step: two figures of it
                assert amount == pytest.approx(exact, rel=0.051) and exact < step
            else:
                assert abs(amount - exact) < step + 1e-6
        total, shown = (sum(pair[k] for pair in group) for k in (0, 1))
        tiny = sum(amount for _, amount in group if amount % step)
        assert abs(total - shown) <= step / 2 + tiny + 1e-6


@pytest.mark.parametrize(
    ("volumes", "expected"),
    [
        ([90.0, 30.0, 30.0], [90, 30, 30]),
        ([75.0, 75.0], [75, 75]),
        # 41 + 40 + 40 by the largest remainder, not 40 + 40 + 40
        ([40.4, 40.3, 40.3], [41, 40, 40]),
        ([121.8, 40.6, 40.6], [120, 41, 40]),
        ([7.3, 151.0], [7.5, 150]),
        ([0.12, 50.0], [0.12, 50]),
    ],
)
def test_amounts_rounded_by_hand(volumes, expected):
    assert measured([volume * 1e-6 for volume in volumes]) == pytest.approx(expected)


def test_acid_goes_slowly_into_water_and_peroxide_last(mild):
    _, acid, peroxide, _ = numbered(mild)
    assert acid.startswith("2. acid, slowly into it, stirring: ")
    assert peroxide.startswith("3. peroxide, last and slowly: ")


def test_weak_peroxide_goes_in_before_the_acid():
    shop = mild_plan(peroxide=Bottle("H2O2", 0.02, 0.03), parts=(0, 1, 2), draws=10)
    first, second, _ = numbered(shop)
    assert first.startswith("1. peroxide, first, in the jug: weak enough to go before the acid: ")
    assert second.startswith("2. acid, slowly into it, stirring: ")
    after_water = mild_plan(peroxide=Bottle("H2O2", 0.02, 0.03), parts=(1, 1, 2), draws=10)
    assert (
        "2. peroxide, into it: weak enough to go before the acid: "
        in pours(after_water).splitlines()[1]
    )


@pytest.mark.parametrize(
    ("bottles", "mixed", "words"),
    [
        # our limit, no source: 25 °C, whatever the bench
        (16, 24.9, "last and slowly"),
        (16, 25.1, f"last and slowly{COOLED}"),
        (27, 25.1, f"last and slowly{COOLED}"),
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


def test_a_warm_jug_is_said_to_wait_or_to_stand_in_cold_water(mild):
    """Of the step of the peroxide alone, and only where what is there may be above 25 °C."""
    words = "First wait, or stand the jug in cold water, until it is at 25 °C or colder"
    water, acid, peroxide = mild.stages
    warm = dataclasses.replace(acid, temperature=steady(ZERO + 24, ZERO + 27))
    plan = dataclasses.replace(mild, stages=(water, warm, peroxide))
    assert words not in pours(mild)
    lines = pours(plan).splitlines()[:4]
    assert [words in line for line in lines] == [False, False, True, False]
    assert lines[2].endswith("mL**"), "after a wait nobody knows how warm it then is"


def test_a_plan_says_how_warm_it_was_worked_out_for():
    """Somebody who starts warmer than that has another plan."""
    words = tray(mild_inputs(T_bottles=ZERO + 17, tray=Tray(T_air=ZERO + 22)))
    assert words.endswith("Bottles 17 °C, air 22 °C: start no warmer.")
    assert "air 20 °C" in tray(mild_inputs(tray=Tray())), "a room, where nobody says"


@pytest.mark.parametrize(("bottles", "are_warm"), [(24.9, False), (25.1, True)])
def test_warm_bottles_stand_in_cold_water_first(mild, bottles, are_warm):
    plan = dataclasses.replace(mild, inputs=mild.inputs.replace(T_bottles=ZERO + bottles))
    words = "First stand the bottles in cold water until they are at 25 °C or colder."
    assert pours(plan).startswith(words) == are_warm


MEASURE = "°C and measure each. Warmer than that, this plan does not hold: do not pour."


@pytest.mark.parametrize(
    ("bottles", "air", "words"),
    [
        (14, 20, f"First cool water and bottles to 14 {MEASURE}\n\n1. "),
        (14.6, 20, f"First cool water and bottles to 14.6 {MEASURE}\n\n1. "),
        # so near to the air nobody has to cool anything: our limit, 2 K
        (18.1, 20, "1. water, first"),
        (22, 20, "1. water, first"),
        (20, None, "1. water, first"),
        (14, None, f"First cool water and bottles to 14 {MEASURE}"),
        # colder than a hot day, and still too warm for peroxide
        (30, 35, f"First cool water and bottles to 25 {MEASURE}\n\n1. "),
    ],
)
def test_law_a_colder_start_is_made_before_anything_is_poured(mild, bottles, air, words):
    tray_there = Tray() if air is None else Tray(T_air=ZERO + air)
    inputs = mild.inputs.replace(T_bottles=ZERO + bottles, tray=tray_there)
    assert pours(dataclasses.replace(mild, inputs=inputs)).startswith(words)


@pytest.mark.parametrize(
    ("parts", "used", "cooled"),
    [
        ((0, 1, 1), None, "the bottles"),
        ((1, 1, 1), UsedBath(0.4, 150, 2000), "water, bottles and the used bath"),
        ((1, 1, 1), UsedBath(1.0, 150, 2000), "the used bath"),
    ],
)
def test_law_all_that_the_plan_takes_for_cold_is_cooled(mild, parts, used, cooled):
    """A used bath too: the model starts it as cold as the bottles, and it stood in warmer air."""
    cold = {"T_bottles": ZERO + 14, "tray": Tray(T_air=ZERO + 20)}
    plan = dataclasses.replace(mild, inputs=mild_inputs(**cold, parts=parts, used_bath=used))
    assert f"First cool {cooled} to 14 {MEASURE}" in pours(plan).split("1. ")[0]


def test_second_source_a_used_bath_starts_as_cold_as_the_bottles():
    """All of it a used bath: nothing else is there that could be cold."""
    alone = {"used_bath": UsedBath(1.0, 150, 2000, 100), "tray": Tray(T_air=ZERO + 20)}
    plan = mild_plan(**alone, T_bottles=ZERO + 14, draws=5)
    assert plan.bands["mixing_temperature"].high == pytest.approx(ZERO + 14, abs=0.01)


@pytest.mark.parametrize(
    ("facing", "movement", "vessel"),
    [
        ("up", "rocked", "tray"),
        ("down", "rocked", "tray"),
        ("upright", "rocked", "tank"),
        ("upright", "bubbled", "tank"),
        ("upright", "sprayed", "machine"),
    ],
)
def test_law_the_bath_goes_where_the_board_stands(mild, whole, facing, movement, vessel):
    stands = Tray(movement, facing, open_area=81e-4)
    plan = dataclasses.replace(mild, inputs=mild.inputs.replace(tray=stands))
    assert f"From the jug into the {vessel} at once, then the board." in pours(plan)
    used = dataclasses.replace(whole, inputs=whole.inputs.replace(tray=stands))
    assert f"first, in the {vessel}" in pours(used)
    for words in (pours(plan), pours(used), tray(plan.inputs), tray(plan.inputs, school=True)):
        others = {"tray", "tank", "machine"} - {vessel}
        assert not any(re.search(rf"\b{other}\b", words) for other in others)


def test_there_is_one_temperature_to_pour_at_and_one_to_stop_at(whole):
    """Of what is said of pouring and stopping: 25 °C and 45 °C, whatever was computed."""
    words = f"{pours(whole)} {tray(whole.inputs)}"
    asked = set(re.findall(r"(?:at|below|under) (\d+) °C or colder|stop at (\d+)", words))
    assert asked == {("25", "")}
    assert "40 °C" not in words


def test_the_tray_is_the_one_it_was_worked_out_for():
    """27 cm² under 162 mL, 10 mm deep: 162 cm²; in a tray of 81 cm² it is 20 mm deep."""
    assert tray(mild_inputs()).startswith("Worked out for 160 cm² of open liquid, 10 mm deep:")
    deep = tray(mild_inputs(tray=Tray(open_area=81e-4)))
    assert deep.startswith("Worked out for 81 cm² of open liquid, 20 mm deep:")
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
    words = pours(mild_plan(used_bath=UsedBath(0.4, 150, 2000), draws=10))
    assert words.startswith("Top up only a bath that stood open for days"), "before any amount"
    assert "Its peroxide is what a test strip says, never a plan" in words
    assert "copper and acid may come from the last plan" in words


def test_a_sprayed_bath_is_in_no_tray(mild):
    sprayed = mild_inputs(tray=Tray("sprayed", "upright"))
    assert tray(sprayed).startswith("Worked out for a bath that is sprayed, in a closed machine. ")
    plan = dataclasses.replace(mild, inputs=sprayed)
    assert "tray" not in pours(plan) and "into the machine at once" in pours(plan)


def test_the_board_is_lifted_out_when_it_is_clear_all_over(mild):
    words = looks(mild)
    assert "Lift it out when clear all over; " in words
    later_look = looks(dataclasses.replace(mild, over_etch=(44.0, 132.0)))
    assert "44 s to 2.2 min more clears the corners." in later_look
    assert "Resist stands it 20 to 30 min (common practice)." in words


def test_the_looks_say_how_soon_to_look_again(mild):
    words = looks(dataclasses.replace(mild, first_look=75.0, look_every=20.0))
    assert words.startswith("Look first after **1 min 15 s**, then every 20 s. ")
    assert looks(dataclasses.replace(mild, look_every=None)) == ""


def test_how_long_resist_stands_a_strong_bath_is_not_known(mild):
    words = looks(dataclasses.replace(mild, resist_life=None))
    assert "nobody knows" in words and "Resist stands" not in words


def test_nothing_is_said_of_looking_where_nothing_clears():
    none = mild_plan(peroxide=Bottle("H2O2", 0, 0), draws=5)
    assert looks(none) == ""


@pytest.mark.parametrize(
    ("when", "words"), [(60.0, "1 min"), (90.0, "1 min 30 s"), (720.0, "12 min")]
)
def test_a_second_portion_says_when_it_is_due(when, words):
    late = mild_plan(second=(0.5, when), draws=10)
    assert f"{words} after the board, peroxide, second portion, slowly: " in str(late)


def test_a_second_portion_meets_a_bath_that_is_cold_enough():
    words = pours(mild_plan(second=(0.5, 90.0), draws=10))
    assert "Only if the board is not clear and the bath is at 25 °C or colder. " in words


# Afterwards


def steady(low, high):
    """Make a band with these ends [own unit], of ten draws."""
    return Band.of(np.linspace(low, high, 9), 9)


def standing_at(plan, hour, day):
    """Return a plan whose baths stand at these lowest and highest temperatures [°C]."""
    bands = {
        "hour_peak": steady(ZERO + hour[0], ZERO + hour[1]),
        "standing_peak": steady(ZERO + day[0], ZERO + day[1]),
    }
    return dataclasses.replace(plan, reasons=(), bands=plan.bands | bands)


def test_the_bath_afterwards_is_said_with_its_copper_and_acid(mild):
    """By hand: 27 cm² of one-ounce foil, 63.546 g/mol, in 162 mL."""
    grams, low, high = re.search(
        r"with ([\d.]+) g/L of copper and ([\d.]+) to ([\d.]+) mol/L of acid", later(mild)
    ).groups()
    foil = float(MILD["board"].copper) * 63.546
    assert float(grams) == pytest.approx(foil / 0.162, rel=0.02)
    acid = mild.bands["acid_used"].values
    expected = [cut(acid, tenths) / 1000 for tenths in (1, 9)]
    assert [float(low), float(high)] == pytest.approx(expected, abs=0.0051)


@pytest.mark.parametrize(
    ("peaks", "keep_back"),
    [
        # the trade's stop at 45 °C is common practice, 60 °C our limit: no source
        ((30, 44.9), False),
        ((30, 46), False),
        ((46, 59), False),
        ((46, 62), True),
    ],
)
def test_where_to_stand_by_how_warm_it_gets_afterwards(mild, peaks, keep_back):
    words = later(standing_at(mild, peaks, peaks))
    count = np.sum(np.linspace(*peaks, 9) > 45)
    exceed = {0: None, 9: "All plausible baths exceed 45 °C"}
    expected = exceed.get(count, f"{count} of 9 plausible baths exceed 45 °C")
    if expected is None:
        assert "cold water" not in words
    else:
        assert f"{expected}: have cold water ready." in words
    assert ("**Above 60 °C is expected: keep well back.**" in words) == keep_back


def test_a_care_that_has_said_it_is_not_said_again(mild):
    care = Reason("care", WARM_AFTER, "stay by it", "A book", "2026-11-29", 0.0, 0.0, "K")
    warm = dataclasses.replace(standing_at(mild, (30, 50), (30, 50)), reasons=(care,))
    assert "exceed 45 °C" not in later(warm)


@pytest.mark.parametrize(("day", "is_news"), [((20, 31), False), ((25, 47), True)])
def test_a_bath_that_gets_warmer_later_that_day_says_so(mild, day, is_news):
    words = later(standing_at(mild, (20, 31), day))
    low, high = (f"{end:.0f}" for end in cut_ends(day))
    assert (f"; later that day it reaches {low} to {high} °C." in words) == is_news


def cut_ends(pair):
    """Return low and high end of a steady band."""
    band = steady(*pair)
    return float(band.low), float(band.high)


@pytest.mark.parametrize(("high", "is_most"), [(0.4, False), (0.9, True)])
def test_how_much_peroxide_is_left_is_never_a_number(mild, high, is_most):
    bands = mild.bands | {"peroxide_left_day": Band.of(high, None)}
    words = peroxide_left(dataclasses.replace(mild, bands=bands))
    rest = "most of its peroxide" if is_most else "peroxide"
    assert words == f"It may still hold {rest} after a day; only a test strip knows."
    assert words in later(dataclasses.replace(mild, bands=bands))
