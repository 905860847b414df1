"""What a plan says: what was asked, what would help, what it does and leaves, the table. Laws."""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import ends_of, is_shown, labelled, mild_inputs, mild_plan
from helpers.second_reading import ZERO
from helpers.sentences import long_sentences, words_in

from pcbchem import Board, Bottle, RangeWarning, Tray, UsedBath
from pcbchem.bench.hazards.caution import LAYERS
from pcbchem.bench.hazards.words import NO_FIGURE, NO_USE, OPENING, REMINDER, safety
from pcbchem.bench.plan.changes import Change, Doubt
from pcbchem.bench.plan.words import (
    asked,
    changed,
    clears_in,
    course,
    does,
    helps,
    numbers,
    one_line,
    sure,
    text,
    unchecked,
    warmth,
    why,
    widens,
)
from pcbchem.common.band import Band


def steady(low, high):
    """Make a band with these ends [own unit], of ten draws."""
    return Band.of(np.linspace(low, high, 9), 9)


@pytest.fixture(scope="module")
def refused():
    """Plan a bath of a millimetre, far too small for its board."""
    plan = mild_plan(bath_per_area=1e-3, draws=5)
    assert plan.refused
    return plan


# What was asked


def test_the_inputs_are_said_without_an_amount_of_liquid():
    words = asked(mild_inputs())
    assert words.startswith("Acid of 9 to 11 % and peroxide of 10.2 to 12 % by weight; a board of")
    assert "45 cm², 27 cm² bare: 0.82 g of copper." in words
    assert not re.search(r"\d mL|\d L\b", words)


def test_a_bottle_that_stays_shut_is_not_named():
    only_acid = asked(mild_inputs(parts=(1, 1, 0)))
    assert only_acid.startswith("Acid of 9 to 11 % by weight; ") and "peroxide" not in only_acid
    all_kept = asked(mild_inputs(used_bath=UsedBath(1.0, (200, 300), 1500, (0, 100))))
    assert all_kept.startswith("A board of ") and "by weight" not in all_kept


def test_a_used_bath_is_said_with_what_it_holds():
    """Copper by 63.546 g/mol: 100 to 200 mol/m³ are 6.35 to 12.7 g/L."""
    words = asked(mild_inputs(used_bath=UsedBath(0.4, (100, 200), 1500, (100, 400))))
    assert "40 % of it is a used bath: 6.35 to 12.7 g/L of copper, 1.5 mol/L of acid, " in words
    assert words.endswith("0.1 to 0.4 mol/L of peroxide.")


@pytest.mark.parametrize(("facing", "lies"), [("up", True), ("down", False), ("upright", False)])
def test_copper_on_the_back_is_said_with_what_it_does(facing, lies):
    """By hand: 27 cm² before and 45 behind, of 0.0305 g/cm² each; on the tray it clears later."""
    board = Board(75e-3, 60e-3, 0.6, back=1.0)
    tray = Tray("rocked", facing, 0.0108)
    words = asked(mild_inputs(board=board, tray=tray))
    front = "a board of 45 cm², on both sides 72 cm² bare, 45 cm² of it on the back (counted like "
    assert front in words and "): 2.2 g of copper." in words
    assert ("lies on the tray and clears later" in words) == lies
    assert "back" not in asked(mild_inputs(tray=tray))


@pytest.mark.parametrize(("bare", "is_odd"), [(0.021, True), (0.3, False)])
def test_a_board_with_hardly_any_bare_copper_is_questioned(bare, is_odd):
    """Less than 1 cm², or than one part in fifty of the board, may be a mistake."""
    words = asked(mild_inputs(board=Board(75e-3, 60e-3, bare)))
    assert ("Is that the board you mean?" in words) == is_odd


# What would help


@pytest.mark.parametrize(
    ("lever", "before", "after", "unit"),
    [
        ("start", 293.55, 293.15, "°C"),
        ("start", 293.2, 293.15, "°C"),
        ("start", 298.15, 283.15, "°C"),
        ("bath", 0.0396, 0.04, "mL per cm²"),
        ("bath", 0.0955, 0.096, "mL per cm²"),
        ("bath", 0.02, 0.05, "mL per cm²"),
        ("water", (50.0, 1, 100.04), 50.1, ":"),
        ("water", (1, 1, 3), 10.2, ":"),
        ("water", (3.96, 1, 1), 4.0, ":"),
        ("water", (0, 1, 1), 0.1, ":"),
        ("acid", (1, 1, 2), 0.8, ":"),
        ("acid", (2, 3.96, 1), 3.9, ":"),
    ],
)
def test_a_change_reads_as_a_change(lever, before, after, unit):
    """Both numbers, read back: they differ, the right way round, and are true to a half digit."""
    field = {"start": "T_bottles", "bath": "bath_per_area"}.get(lever, "parts")
    inputs = mild_inputs(**{field: before})
    value = after
    if lever == "water":
        value = (after, *inputs.parts[1:])
    if lever == "acid":
        value = (inputs.parts[0], after, inputs.parts[2])
    to = inputs.replace(**{field: value})
    words = changed(Change(lever, after, 0.1, "mix it", to), inputs)
    skip = rf"{inputs.parts[0]:.3g} : " if lever == "acid" else ""
    pattern = rf": {skip}([\d.]+) {unit}.* instead of {skip}(\d+(?:\.\d+)?)\b"
    new, old = re.search(pattern, words).groups()
    true = {
        "start": lambda plan: plan.T_bottles - ZERO,
        "bath": lambda plan: plan.bath_per_area * 100,
        "water": lambda plan: plan.parts[0],
        # parts beside as much water as before
        "acid": lambda plan: plan.parts[1] / plan.parts[0] * inputs.parts[0],
    }[lever]
    assert float(new) == pytest.approx(true(to), abs=1e-9)
    digits = len(old.split(".")[1]) if "." in old else 0
    assert float(old) == pytest.approx(true(inputs), abs=0.5001 * 10**-digits)
    is_less = lever in ("start", "acid")
    assert (float(new) < float(old)) if is_less else (float(new) > float(old))
    step = {
        "start": f"At {new} °C",
        "bath": f"With {new} mL per cm²",
    }.get(lever, f"With {new} parts of it")
    ending = rf" or (more of it|more water|colder|less acid)\. {step} the verdict is: mix it$"
    assert re.search(ending, words), words


WEAK = {**labelled(2, 1), "draws": 10}
LAST_STEPS = {"bath_per_area": 0.10, "T_bottles": 282.0}


@pytest.mark.parametrize(
    ("changes", "tried"),
    [
        (LAST_STEPS, "more water, less acid"),
        ({"used_bath": UsedBath(1.0, 300, 50, 5)}, "more bath for the copper, a colder start"),
    ],
)
def test_only_what_was_tried_is_said_to_have_been(changes, tried):
    """Coldest start, most bath, nothing poured: a lever that has no way to go is left out."""
    plan = mild_plan(**WEAK, **changes)
    assert plan.refused
    assert helps(plan) == [f"No single change that we tried is enough: {tried}."]


def test_nothing_is_said_of_changes_where_none_could_be_tried():
    plan = mild_plan(**WEAK, **LAST_STEPS, used_bath=UsedBath(1.0, 300, 50, 5))
    assert plan.refused and helps(plan) == []


def test_changes_are_said_with_the_smallest_first(mild, refused):
    assert helps(mild) == [], "no change is needed"
    first, *others, last, large = helps(refused)
    assert first == f"One change that helps: {changed(refused.changes[0], refused.inputs)}."
    for words, change in zip(others, refused.changes[1:], strict=True):
        assert words == f"Or: {changed(change, refused.inputs)}."
    assert last == "Enter it and read the verdict again."
    assert large.endswith("say how large yours is."), "the board was not covered"


def test_law_more_water_is_for_a_mixture_made_anew(mild, refused):
    """Once, whatever is offered beside it; nobody dilutes a refused mixture that stands."""
    words = "Mix anew: never pour water into a mixture that stands."
    for levers in (("water",), ("bath", "water"), ("water", "water", "acid"), ("bath", "start")):
        changes = []
        for lever in levers:
            changes.append(Change(lever, 1.5, 0.1, "mix it", refused.inputs))
        offered = helps(dataclasses.replace(refused, changes=tuple(changes)))
        assert "\n".join(offered).count(words) == ("water" in levers)
    assert words not in str(mild)


def test_a_colder_start_of_a_used_bath_cools_that_too():
    """The model takes it to be as cold as what is poured to it."""
    inputs = mild_inputs(used_bath=UsedBath(0.4, 150, 2000))
    colder = Change("start", ZERO + 12, 0.1, "mix it", inputs.replace(T_bottles=ZERO + 12))
    assert changed(colder, inputs).startswith("colder bottles, water and used bath: 12 °C instead")


def test_nobody_said_how_large_a_tank_is(refused):
    upright = refused.inputs.replace(tray=Tray(facing="upright"))
    *_, large = helps(dataclasses.replace(refused, inputs=upright))
    assert "as nobody said how large the tank is" in large


def test_a_reason_is_said_with_its_source(with_care):
    for line, reason in zip(why(with_care), with_care.reasons, strict=True):
        assert line == f"{reason.words[0].upper()}{reason.words[1:]}. ({reason.source})"


def test_the_law_is_a_line_beside_the_verdict_and_no_part_of_it():
    """A bottle above the limit of one place and not of another: one verdict."""
    plans = {
        place: mild_plan(acid=Bottle.labelled("HCl", 0.12), place=place, draws=10)
        for place in ("EU", "GB")
    }
    assert plans["EU"].verdict == plans["GB"].verdict
    assert plans["EU"].reasons == plans["GB"].reasons
    line = (
        "Your acid of 12 % is above the 10 % that members of the public may hold in Great Britain "
        "without a licence."
    )
    assert line in str(plans["GB"]) and line not in str(plans["EU"])
    # before anything that somebody could do
    assert str(plans["GB"]).index(line) < str(plans["GB"]).index(OPENING[False])


# What it does


@pytest.mark.parametrize(
    ("never", "of"), [(0, 200), (1, 200), (3, 200), (29, 200), (200, 200), (1, 8), (1, 1)]
)
def test_baths_that_never_clear_are_counted(mild, never, of):
    """Draws are whole: 1 of 200 is not 0 of 100."""
    times = Band.of(np.where(np.arange(of) < never, np.inf, 300.0 + np.arange(of)), of)
    words = str(dataclasses.replace(mild, bands=mild.bands | {"time_to_clear": times}))
    counts = re.findall(r"(\d+) of (\d+) plausible baths never clear this board", words)
    assert counts == ([(str(never), str(of))] if never else [])
    for wrong in ("0 of 100 plausible baths", "in **never", "in never"):
        assert wrong not in words
    assert ("8 of 10 plausible baths clear this board" in words) == (never <= of / 10)


@pytest.mark.parametrize("changes", [{"parts": (1, 1, 0)}, {"peroxide": Bottle("H2O2", 0.0, 0.0)}])
def test_a_bath_without_peroxide_is_said_to_hold_none(changes):
    words = str(mild_plan(**changes, draws=10))
    assert "there is no peroxide in it" in words and "run out of peroxide" not in words
    assert "No doubt matters to a bath that never clears the board." in words
    assert "band of times is never" not in words


def test_warmth_is_said_with_the_hour_after_it(mild):
    bands = mild.bands | {
        "etching_peak": steady(300.0, 310.0),
        "hour_peak": steady(305.0, 320.0),
    }
    words = warmth(dataclasses.replace(mild, bands=bands))
    assert words == "While etching they reach 27 to 37 °C; in the hour after, 32 to 47 °C."
    assert warmth(mild) in does(mild)


# How sure it is


def doubted(plan, *doubts):
    """Return a plan with these doubts: a name, and the factor that it widens the band by."""
    times = plan.bands["time_to_clear"]
    every = tuple(Doubt(name, float(np.log(factor)), times) for name, factor in doubts)
    return dataclasses.replace(plan, doubts=every)


def test_the_widest_doubt_is_named_with_what_narrows_it(mild):
    words = widens(doubted(mild, ("peroxide", 2.0), ("acid", 1.3), ("model", 1.01)))
    assert "most: **your peroxide's strength**. With that known:" in words
    assert "Measure it, or etch an offcut first; its cautions: notebooks/reference/" in words
    assert "acid" not in words


def test_a_doubt_that_hardly_widens_the_band_is_not_worth_a_word(mild):
    words = widens(doubted(mild, ("peroxide", 1.04), ("acid", 1.02)))
    assert "No single doubt widens it much." in words and "peroxide" not in words


def test_nobody_is_told_to_try_an_offcut_of_a_refused_bath(refused):
    words = widens(doubted(refused, ("peroxide", 2.0)))
    assert "offcut" not in words
    assert "never clears" in words or "your peroxide's strength" in words


def test_what_is_outside_the_range_is_said_in_lab_units():
    hot = RangeWarning("stand", "temperature", 371.15, 273.15, 333.15, "K")
    assert unchecked(hot) == "temperature of 98 °C when left standing, checked to 60 °C"
    cold = RangeWarning("etch", "temperature", 270.15, 273.15, 333.15, "K")
    assert unchecked(cold) == "temperature of -3 °C while etching, checked from 0 °C"
    strong = RangeWarning("density", "HCl", 12000.0, 0.0, 10000.0, "mol/m³")
    assert unchecked(strong) == "HCl of 12 mol/L, checked to 10 mol/L"
    share = RangeWarning("density", "mass fraction", 0.5, 0.0, 0.4, "kg/kg")
    assert unchecked(share) == "mass fraction of 0.5 kg/kg, checked to 0.4 kg/kg"


# The whole


@pytest.fixture(scope="module")
def with_care():
    """Plan a bath of bottles so strong that they want care."""
    plan = mild_plan(**labelled(31, 12.5), parts=(8, 1, 3), draws=10)
    assert plan.verdict == "with care"
    return plan


@pytest.fixture(scope="module")
def of_no_use():
    """Plan a bath without peroxide: it would not do the job, and does no harm that rules see."""
    plan = mild_plan(peroxide=Bottle("H2O2", 0.0, 0.0), draws=5)
    assert plan.refused and not plan.harmful
    return plan


def places_of(words, *headings):
    """Find where headings stand in a text: each once, on a line of its own."""
    lines = words.splitlines()
    assert [lines.count(heading) for heading in headings] == [1] * len(headings)
    return [lines.index(heading) for heading in headings]


def test_a_plan_is_said_in_the_order_in_which_it_is_needed(mild, with_care):
    for plan in (mild, with_care):
        order = places_of(
            text(plan),
            LAYERS[1],
            "What to pour, in this order",
            LAYERS[2],
            "What it does",
            LAYERS[3],
            LAYERS[4],
            "How sure is this?",
            LAYERS[5],
        )
        assert order == sorted(order)
        head, *rest = text(plan).split("\n\n")
        assert head == {"mix it": "Mix it.", "with care": "Mix it, with care:"}[plan.verdict]
        assert NO_FIGURE in "\n".join(rest[:4])
        assert all(caution.words in text(plan) for caution in plan.cautions)


def test_a_refused_plan_has_the_bottles_layers_and_no_pours(refused, of_no_use):
    for plan in (refused, of_no_use):
        words = text(plan)
        order = places_of(
            words,
            OPENING[True],
            "What it would do: to learn from, not to try",
            LAYERS[4],
            "How sure is this?",
            LAYERS[5],
        )
        assert order == sorted(order)
        for number in (2, 3):
            assert LAYERS[number] not in words.splitlines()
        shown = [caution for caution in plan.cautions if is_shown(caution, plan)]
        assert all(caution.words in words for caution in shown)


def test_harm_and_of_no_use_have_heads_of_their_own(refused, of_no_use):
    harm = mild_plan(**labelled(31, 30), parts=(0, 1, 1), draws=10)
    assert harm.harmful
    assert text(harm).startswith("Do not mix this.\n\nGoggles, open air or a fume cupboard do not")
    assert text(of_no_use).startswith(NO_USE) and "make it safe" not in text(of_no_use)


def test_what_goes_wrong_is_never_folded_and_look_up_is_last(mild, refused):
    for plan in (mild, refused):
        words = text(plan, markdown=True)
        before, folded = words.split("<details>")
        assert f"**{LAYERS[4]}**" in before and LAYERS[5] in folded
        assert folded.endswith("</details>")


def long_of(plan):
    """List the sentences of a plan that are too long, less the reasons: they have their own."""
    words = text(plan)
    for line in why(plan):
        words = words.replace(line, "")
    return long_sentences(words)


def test_no_sentence_of_a_plan_has_more_than_25_words(mild, whole, refused, with_care, of_no_use):
    for plan in (mild, whole, refused, with_care, of_no_use):
        assert long_of(plan) == []


def lengths(plan):
    """Count the words of a plan: without what goes wrong and look up, and in all."""
    words = text(plan)
    before, rest = words.split(f"\n\n{LAYERS[4]}\n\n")
    _, rest = rest.split("\n\nHow sure is this?\n\n")
    sure_words, _ = rest.split(f"\n\n{LAYERS[5]}\n\n")
    return words_in(f"{before} {sure_words}"), words_in(words)


def test_a_plan_is_short_enough_to_be_read(mild):
    without, in_all = lengths(mild)
    assert without <= 980 and in_all <= 1390


def test_the_cautions_may_be_said_once_for_several_plans(mild, refused):
    whole, short = text(mild), text(mild, cautions=False)
    assert REMINDER in short and REMINDER not in whole
    assert short.split("\n\n")[1] == safety(False, False), "right under the verdict"
    assert not any(caution.words in short for caution in mild.cautions)
    assert REMINDER not in text(refused, cautions=False)


def test_markdown_is_the_same_with_its_marks(mild):
    marked = text(mild, markdown=True, cautions=False)
    assert "**" in marked and marked.replace("**", "") == text(mild, cautions=False)


def test_what_to_pour_is_under_its_heading_only_where_it_may_be(mild, refused):
    assert course(mild)[0] == "**What to pour, in this order**"
    assert course(refused)[0] == "**What it would do: to learn from, not to try**"
    assert "**What to pour, in this order**" not in course(refused)


def test_an_offcut_is_offered_with_the_place_of_its_cautions(mild):
    (words,) = (block for block in sure(mild) if "offcut" in block)
    assert "its cautions: notebooks/reference/cautions.md" in words


def test_the_table_holds_the_bands(whole):
    table, bands = whole.to_frame(), whole.bands
    rows = {
        "acid in the mixture (mol/L)": ("acid", 1e3, 0),
        "peroxide in the mixture (% by weight)": ("peroxide", 0.01, 0),
        "temperature after mixing (°C)": ("mixing_temperature", 1, ZERO),
        "time until the board is clear (min)": ("time_to_clear", 60, 0),
        "reached while etching (°C)": ("etching_peak", 1, ZERO),
        "reached in the hour after (°C)": ("hour_peak", 1, ZERO),
        "reached in the day after (°C)": ("standing_peak", 1, ZERO),
        "reserve: times what this copper needs": ("reserve", 1, 0),
        "oxygen in the hour after (times its own volume)": ("oxygen", 1, 0),
    }
    for row, (name, scale, offset) in rows.items():
        expected = [(end - offset) / scale for end in ends_of(bands[name])]
        assert list(table.loc[row]) == pytest.approx(expected), row
    never = table.loc["baths that never clear (of 100)", "middle"]
    assert never == 100 * bands["time_to_clear"].never
    assert len(table) == len(rows) + 2 * len(whole.stages) + 1
    assert not any("left" in row for row in table.index), "how much is left is no number"
    assert table.attrs["verdict"] == whole.verdict


def test_law_the_table_is_the_numbers_of_a_page_in_their_order(whole, refused):
    for plan in (whole, refused):
        table, rows = plan.to_frame(), numbers(plan)
        assert list(table.index) == list(rows)
        for name, row in rows.items():
            assert list(row) == list(table.columns) == ["low end", "middle", "high end"]
            assert np.array_equal(table.loc[name], list(row.values()), equal_nan=True), name


def test_the_table_holds_the_pours(whole):
    table = whole.to_frame()
    for number, stage in enumerate(whole.stages, 1):
        row = table.loc[f"pour {number}: {stage.what} (mL)"]
        assert row["middle"] == pytest.approx(stage.volume * 1e6)
        assert row.drop("middle").isna().all(), "no doubt in it"
        expected = [end - ZERO for end in ends_of(stage.temperature)]
        row = table.loc[f"after pour {number}: temperature (°C)"]
        assert list(row) == pytest.approx(expected)


def test_law_a_class_is_not_told_how_much_more_bath_would_do():
    """A number of times is an amount too: a class finds by trying what is enough."""
    inputs = mild_inputs(bath_per_area=0.02)
    change = Change("bath", 0.05, 0.1, "with care", inputs.replace(bath_per_area=0.05))
    assert changed(change, inputs, school=True) == (
        "more of the same bath for the copper. With enough of it the verdict is: mix it, with care"
    )
    assert "5 mL per cm²" in changed(change, inputs)


@pytest.mark.parametrize(
    "times, words",
    [
        ([180.0, 240.0, 300.0], "8 of 10 clear in 3.0 to 5.0 min"),
        ([180.0, np.inf, np.inf, np.inf], "75 of 100 never clear"),
        ([np.inf, np.inf], "100 of 100 never clear"),
    ],
)
def test_few_words_say_when_it_is_clear(times, words):
    assert clears_in(Band.of(times, len(times))) == words


def test_one_line_says_what_matters_and_no_amount(mild, whole):
    refused = mild_plan(parts=(0, 1, 0), draws=5)
    for plan in (mild, whole, refused):
        line = one_line(plan)
        assert line.startswith(plan.verdict) and "\n" not in line
        assert "°C while etching" in line and "°C in the day after" in line
        assert not re.search(r"\d ?(mL|g|mol|L)\b", line)
        if plan.reasons:
            assert f"{plan.verdict}: {plan.reasons[0].rule}; " in line
    assert "; 1 : 1 : 2 (water : acid : peroxide); 8 of 10 clear in " in one_line(
        mild_plan(parts=(2, 2, 4), draws=5)
    )
    assert "never clear" in one_line(refused)
