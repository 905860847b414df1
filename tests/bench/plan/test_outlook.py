"""What a mixture would do: variants side by side, and peroxide in two portions. Laws."""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import (
    MILD,
    USED_BATH,
    ends_of,
    labelled,
    mild_inputs,
    mild_plan,
    read_etch,
    rules_of,
)
from helpers.second_reading import cut, severities
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pcbchem import (
    Board,
    Bottle,
    Foil,
    RateParameters,
    Solution,
    Tray,
    UsedBath,
    mix,
    stand,
)
from pcbchem.bench.hazards.verdicts import exceeded, rules
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import etched, judged, outlook
from pcbchem.bench.plan.pours import side_by_side
from pcbchem.common.band import Band, between
from pcbchem.common.limits import collecting_warnings

MOLAR_MASS_CU, MOLAR_MASS_O2 = 63.546e-3, 32e-3  # kg/mol
COLD = 283.15  # K
STRONG = {**labelled(31, 30), "parts": (6, 1, 1), "bath_per_area": 0.02}
WEAK = {**STRONG, "parts": (2, 1, 1), "board": Board(area=27e-4, foil=Foil.ounces(2))}


def quiet(look, inputs, **options):
    """Look at a bath without a word of ranges."""
    with collecting_warnings():
        return look(inputs, **options)


def rules_beyond(bath):
    """Name every rule whose limit a bath exceeds."""
    return {name for name, is_exceeded in exceeded(bath.bands).items() if is_exceeded}


def times_of(bath):
    return np.asarray(bath.run.time_to_clear)


# Variants side by side


def test_variants_side_by_side_are_each_as_alone(mild):
    variants = [
        mild.inputs,
        mild.inputs.replace(parts=(2, 2, 3)),
        mild.inputs.replace(bath_per_area=0.03),
        mild.inputs.replace(T_bottles=285.0),
    ]
    together = outlook(mild.inputs, **side_by_side(variants)).bands
    for row, variant in enumerate(variants):
        for name, band in outlook(variant).bands.items():
            side = together[name]
            ends = [float(side.low[row]), float(side.middle[row]), float(side.high[row])]
            assert ends == pytest.approx(ends_of(band), rel=1e-9), name


STANDING_ENDS = [rule.limit for rule in rules() if rule.quantity == "standing_peak"]


@pytest.mark.parametrize("worst", [1, 2])
def test_a_variant_is_left_standing_only_where_that_may_matter(worst):
    """Judged so, verdicts less severe than asked for are those of a second reading."""
    inputs = mild_inputs(**labelled(10, 12), tray=Tray(open_area=60e-4), draws=20)
    every_parts = [(4, 1, 1), (3, 1, 2), (0, 1, 2), (0, 1, 4), (0, 4, 1), (0, 1, 8), (2, 1, 3)]
    variants = [inputs.replace(parts=parts) for parts in every_parts]
    with collecting_warnings():
        severity, etching, bands, stood = judged(inputs, variants, worst)
        baths = outlook(inputs, **side_by_side(variants))
        expected = severities(baths)
        before = severities(dataclasses.replace(baths, day=without_heat(baths.day)))
    assert list(np.minimum(severity, worst)) == list(np.minimum(expected, worst))
    assert set(expected) == {0, 1, 2}
    is_warm = cut(etching.run.peak_temperature, 9) > 318.15
    assert np.any((before == 0) & (expected > 0) & ~is_warm), "the day alone makes it worse"
    assert list(stood) == list(before < worst)
    hour, peak = bands["hour_peak"].values, bands["standing_peak"].values
    assert not hour[~stood].any() and not peak[~stood].any()
    true_hour = np.asarray(baths.after.peak_temperature)[stood]
    assert hour[stood] == pytest.approx(true_hour, abs=0.1), "the solver's own error"


def without_heat(standing):
    return dataclasses.replace(standing, peak_temperature=np.zeros_like(standing.peak_temperature))


def test_a_draw_followed_no_longer_exceeds_no_other_limit():
    """Peaks lie on the same side of every limit, with its margin too, as those of the whole day.

    Deep cold baths: some draws wake up hours later, others may not exceed anything any more.
    """
    inputs = mild_inputs(
        **labelled(10, 12),
        board=Board(75e-3, 60e-3, 0.6),
        tray=Tray("rocked", "upright", open_area=140e-4),
        bath_per_area=900e-6 / 27e-4,
        T_bottles=281.15,
        draws=40,
    )
    variants = [inputs.replace(parts=parts) for parts in [(0, 1, 4), (1, 1, 3), (6, 1, 1)]]
    with collecting_warnings():
        found = judged(inputs, variants, 2)
        day = np.asarray(outlook(inputs, **side_by_side(variants)).day.peak_temperature)
    goes_on = found.severity < 2
    peaks, hour = (found.bands[f"{name}_peak"].values for name in ("standing", "hour"))
    assert np.any((day > 318.15) & (hour < 308.15)), "some wake up after the hour"
    assert goes_on.sum() >= 2
    assert np.any(peaks[goes_on] < day[goes_on] - 0.5), "some were not followed"
    for end in (*STANDING_ENDS, *(end - 5 for end in STANDING_ENDS)):
        is_near = np.abs(day - end) < 0.1  # the solver's own error
        is_same = (peaks > end) == (day > end)
        assert np.all(is_same[goes_on] | is_near[goes_on]), end


# The day after


@pytest.mark.parametrize("name", ["mild", "strong", "refused"])
def test_the_day_after_is_one_long_stand_with_the_heat_of_its_draws(name):
    """By `stand` for a whole day at once: the hour is part of it, and no draw looks cooler."""
    changes = {"mild": {}, "strong": STRONG, "refused": {**STRONG, "parts": (0, 1, 1)}}[name]
    inputs = mild_inputs(**changes)
    bath = quiet(outlook, inputs)
    parameters = RateParameters.plausible(inputs.draws)
    heat = parameters.for_heat_after()
    with collecting_warnings():
        hour, day, later = (
            stand(bath.bath_after, bath.tray, duration, draws)
            for duration, draws in ((3600, heat), (86400, heat), (86400, parameters))
        )
    peaks = np.asarray(bath.day.peak_temperature)
    assert peaks == pytest.approx(np.asarray(day.peak_temperature), abs=0.3)
    after = np.asarray(bath.after.peak_temperature)
    assert after == pytest.approx(np.asarray(hour.peak_temperature), abs=1e-6)
    assert np.all(peaks >= after)
    if name == "refused":  # not followed where it may not get warmer
        assert np.isnan(np.asarray(bath.later.peroxide)).all()
        return
    for ours, whole in ((bath.day, day), (bath.later, later)):
        for field, error in (("peroxide", 10.0), ("temperature", 0.2)):
            expected = pytest.approx(np.asarray(getattr(whole, field)), abs=error)
            assert np.asarray(getattr(ours, field)) == expected, field
        assert np.asarray(ours.oxygen) == pytest.approx(np.asarray(whole.oxygen), rel=0.02)
    assert np.asarray(bath.later.peroxide).max() > np.asarray(bath.day.peroxide).max()


# Two portions: what is conserved


@pytest.mark.parametrize("when", [5.0, 60.0, 300.0])
def test_peroxide_is_conserved_over_both_portions(when):
    """What is poured where it is needed is used by copper, gone as oxygen, or left."""
    bath = quiet(etched, mild_inputs(**STRONG, second=(0.4, when)))
    run, used = bath.run, bath.bath_after
    with collecting_warnings():
        first, second = (
            np.asarray(bath.pours[name].amount("H2O2"))
            for name in ("peroxide", "peroxide, second portion")
        )
    cupric, cuprous = (np.asarray(used.amount(salt)) for salt in ("CuCl2", "CuCl"))
    # Cu(II) takes a whole peroxide, Cu(I) half of one; oxygen is one for two peroxides
    oxygen = 2 * np.asarray(run.oxygen_amount)
    total = cupric + 0.5 * cuprous + oxygen + np.asarray(used.amount("H2O2"))
    is_late = times_of(bath) > when
    expected = first + np.where(is_late, second, 0.0)
    assert total == pytest.approx(expected, rel=2e-4)
    assert np.asarray(bath.mixture.amount("H2O2")) == pytest.approx(expected, rel=1e-9)
    clears = np.isfinite(times_of(bath))
    assert (cupric + cuprous)[clears] == pytest.approx(float(MILD["board"].copper), rel=1e-6)


def test_copper_and_chloride_are_conserved_over_both_portions():
    bath = quiet(etched, mild_inputs(**STRONG, second=(0.5, 40.0), used_bath=USED_BATH))
    used = bath.bath_after

    def chloride(liquid):
        acid, cupric, cuprous = (
            np.asarray(liquid.amount(substance)) for substance in ("HCl", "CuCl2", "CuCl")
        )
        return acid + 2 * cupric + cuprous

    with collecting_warnings():
        poured_chloride = sum(chloride(liquid) for liquid in bath.pours.values())
        mass = sum(np.asarray(liquid.mass) for liquid in bath.pours.values())
    assert chloride(used) == pytest.approx(poured_chloride, rel=1e-6)
    is_late = (times_of(bath) > 40) & np.isfinite(times_of(bath))
    foil = float(MILD["board"].copper) * MOLAR_MASS_CU
    total = np.asarray(used.mass) + MOLAR_MASS_O2 * np.asarray(bath.run.oxygen_amount)
    assert total[is_late] == pytest.approx((mass + foil)[is_late], rel=1e-4)


# Two portions: what is judged


def all_figures(bath):
    """Read what the rules and the words read of a bath, draw by draw."""
    figures = {name: np.asarray(band.values) for name, band in bath.bands.items()}
    return figures | {
        "left": np.asarray(bath.bath_after.amount("H2O2")),
        "poured": np.asarray(bath.mixture.amount("H2O2")),
        "given off": np.asarray(bath.run.oxygen_amount),
        "ended": np.asarray(bath.run.end["time"]),
    }


def whole_tray_of(inputs):
    """The tray that nobody described, for a bath in two portions: 10 mm deep with all of it in."""
    volume = inputs.bath_per_area * float(inputs.board.area)
    tray = inputs.tray
    return Tray(tray.agitation, tray.facing, volume / 0.010, tray.T_air)


SHARP = ("time_to_clear", "reserve", "etching_peak", "acid", "peroxide", "volume", "poured")


@pytest.mark.parametrize("share", [0.3, 0.8])
def test_a_portion_that_is_never_poured_counts_for_nothing(share):
    """Due when half of the baths are clear: for these it is one portion with less peroxide.

    1 : 2 : 3 with its last 30 % held back is a bath with 2.1 parts of peroxide. The others hold all
    of it, by then.
    """
    inputs = mild_inputs()
    less_inputs = inputs.replace(
        parts=(1, 2, 3 * (1 - share)),
        bath_per_area=inputs.bath_per_area * (1 - share / 2),
        tray=whole_tray_of(inputs),
    )
    less, at_once = quiet(outlook, less_inputs), quiet(outlook, inputs)
    when = float(np.median(np.minimum(times_of(less), 7000)))
    late = quiet(outlook, inputs.replace(second=(share, when)))
    is_early = times_of(less) < when
    assert 0.3 < is_early.mean() < 0.7
    assert np.array_equal(is_early, times_of(late) < when)
    with collecting_warnings():
        both, alone, whole = (all_figures(bath) for bath in (late, less, at_once))
    for name, values in both.items():
        # the solver's own error; what depends on what is left of a decaying bath may differ more
        expected = pytest.approx(alone[name][is_early], rel=1e-2, abs=2e-4)
        if not name.startswith("second_"):  # one portion has none
            assert values[is_early] == expected, name
    for name in SHARP:
        assert both[name][is_early] == pytest.approx(alone[name][is_early], rel=3e-4), name
    for name in ("reserve", "volume", "poured"):
        assert both[name][~is_early] == pytest.approx(whole[name][~is_early], rel=1e-9), name


TWENTY = {"board": Board(area=27e-4), "tray": Tray(), "T_bottles": 293.15}


def test_one_portion_with_less_peroxide_has_the_same_verdict():
    """10 % and 12 %, all but a tenth held back for two hours: by then nearly all are clear."""
    usual = {**labelled(10, 12), **TWENTY, "draws": 40}
    depth = 0.15 / 2.7
    late_inputs = mild_inputs(**usual, bath_per_area=depth, parts=(0, 1, 1), second=(0.9, 7200.0))
    less_inputs = mild_inputs(
        **{**usual, "tray": Tray(open_area=0.015)}, parts=(0, 1, 0.1), bath_per_area=depth * 0.55
    )
    late, less = quiet(outlook, late_inputs), quiet(outlook, less_inputs)
    second = {"second portion into a warm bath"}  # one portion has none
    assert rules_beyond(late) - second == rules_beyond(less)
    assert "little reserve" in rules_beyond(less)
    is_needed, _ = late.second_due
    assert is_needed.mean() <= 0.1
    late_bands, less_bands = late.bands, less.bands
    for name in ("reserve", "hour_peak", "acid", "peroxide", "volume"):
        ends = [ends_of(bands[name]) for bands in (late_bands, less_bands)]
        assert ends[0] == pytest.approx(ends[1], rel=2e-2), name


ON_THE_MIXTURE = {
    "too much acid",
    "acid fumes",
    "too much peroxide",
    "peroxide poured into acid",
    "peroxide poured into strong acid",
    "acid poured into peroxide",
    "strong acid poured into peroxide",
}


@given(
    acid=st.floats(0.05, 0.37),
    peroxide=st.floats(0.01, 0.35),
    parts=st.tuples(*[st.floats(0.3, 4)] * 3),
    share=st.floats(0.05, 0.9),
    when=st.floats(5, 2000),
)
@example(acid=0.31, peroxide=0.03, parts=(0.0, 1.0, 1.0), share=0.9, when=300.0)
@settings(max_examples=15, deadline=None)
def test_a_second_portion_hides_nothing_of_what_was_there_first(acid, peroxide, parts, share, when):
    """What the rules on the mixture find in the first leg alone, they find in the whole plan."""
    water, acid_parts, peroxide_parts = parts
    inputs = mild_inputs(**labelled(100 * acid, 100 * peroxide), parts=parts, draws=10)
    first_parts = (water, acid_parts, (1 - share) * peroxide_parts)
    first_inputs = inputs.replace(
        parts=first_parts, bath_per_area=inputs.bath_per_area * sum(first_parts) / sum(parts)
    )
    with collecting_warnings():
        late = read_etch(inputs.replace(second=(share, when))).bands
        first = etched(first_inputs).bands
    standing = {"standing_peak": Band.of(np.zeros(10), 10)}
    rules = []
    for bands in (late, first):
        beyond = exceeded(bands | standing)
        rules.append({name for name in ON_THE_MIXTURE if beyond[name]})
    assert rules[0] >= rules[1]
    for name in ("acid", "peroxide", "acid_met"):
        whole, leg = np.asarray(late[name].values), np.asarray(first[name].values)
        assert np.all(whole >= leg * (1 - 1e-9)), name


def test_strong_acid_that_waits_for_its_peroxide_is_refused():
    """31 % and 3 %, a tenth of the peroxide at first: 9 mol/L of acid lies there for 5 min."""
    shop = {
        **TWENTY,
        "acid": Bottle.labelled("HCl", 0.31),
        "peroxide": Bottle("H2O2", 0.03, 0.03),
        "parts": (0, 1, 1),
        "bath_per_area": 0.15 / 2.7,
        "draws": 60,
    }
    late = mild_plan(**shop, second=(0.9, 300.0))
    assert late.refused and "too much acid" in rules_of(late)
    with collecting_warnings():
        first = mix(
            Solution.of(volume=75e-6, T=293.15, HCl=between(0.30, 0.32, 60, 0)),
            Solution.of(volume=7.5e-6, T=293.15, H2O2=0.03),
        )
        strength = np.asarray(first.concentration("HCl"))
    band = late.bands["acid"]
    expected = [cut(strength, 1), cut(strength, 9)]
    assert [float(band.low), float(band.high)] == pytest.approx(expected, rel=1e-6)
    at_once = quiet(outlook, mild_inputs(**shop))
    assert "too much acid" not in rules_beyond(at_once), "all at once it is thinner"


def test_the_stronger_of_what_lies_there_first_and_last_counts():
    """By hand: acid is strongest before the second portion, peroxide after it."""
    volumes = np.array([1, 2, 1.5, 1.5]) / 6 * MILD["bath_per_area"] * 27e-4
    acid, peroxide = between(0.09, 0.11, 200, 0), between(0.102, 0.12, 200, 1)
    with collecting_warnings():
        bath = etched(mild_inputs(second=(0.5, 500.0)))
        first = mix(
            Solution.of(volume=volumes[0], T=289.15),
            Solution.of(volume=volumes[1], T=289.15, HCl=acid),
            Solution.of(volume=volumes[2], T=289.15, H2O2=peroxide),
        )
        last = mix(first, Solution.of(volume=volumes[3], T=289.15, H2O2=peroxide))
        strength = np.asarray(first.concentration("HCl"))
        early, late = (np.asarray(liquid.mass_fraction("H2O2")) for liquid in (first, last))
        bands = bath.bands
    is_late = times_of(bath) > 500
    assert 0.1 < is_late.mean() < 0.9 and np.all(late > early)
    assert np.asarray(bands["acid"].values) == pytest.approx(strength, rel=1e-9)
    expected = np.where(is_late, late, early)
    assert np.asarray(bands["peroxide"].values) == pytest.approx(expected, rel=1e-9)


def test_a_second_portion_at_once_is_nearly_one_portion():
    """Five seconds later: no more than these later clear, and hardly sooner."""
    late, at_once = quiet(etched, mild_inputs(second=(0.5, 5.0))), quiet(etched, mild_inputs())
    delay = times_of(late) - times_of(at_once)
    # till the second comes acid is a third more
    assert delay.min() > -2.5 and delay.max() < 5.0, (delay.min(), delay.max())
    for name, error in (("reserve", 1e-9), ("oxygen_amount", 0.03)):
        expected = np.asarray(getattr(at_once.run, name))
        assert np.asarray(getattr(late.run, name)) == pytest.approx(expected, rel=error)
    peaks = [np.asarray(bath.run.peak_temperature) for bath in (late, at_once)]
    assert peaks[0] == pytest.approx(peaks[1], abs=0.3)


def test_a_run_in_two_portions_is_of_the_whole_board_and_time():
    bath = quiet(etched, mild_inputs(second=(0.5, 500.0)))
    run, times = bath.run, times_of(bath)
    assert (times < 500).sum() > 20 < (times > 500).sum() and np.isfinite(times).all()
    assert run.board is bath.inputs.board
    assert np.asarray(run.end["time"]) == pytest.approx(times, rel=1e-9), "it ends when clear"
    assert np.isnan(np.asarray(run.volume)).all() and np.isnan(np.asarray(run.mass)).all()
    with pytest.raises(ValueError, match="kept without its amounts"):
        run.bath_after  # noqa: B018 (reading it is the test)
    used = bath.bath_after
    dissolved = np.asarray(used.amount("CuCl2")) + np.asarray(used.amount("CuCl"))
    assert dissolved == pytest.approx(np.full(200, float(run.board.copper)), rel=1e-6)


def test_a_run_in_two_portions_ends_after_four_hours():
    """Both runs together: what has not cleared by then never does."""
    weak = mild_inputs(peroxide=Bottle("H2O2", 0.002, 0.004), second=(0.5, 3600.0), draws=10)
    bath = quiet(etched, weak)
    assert np.isinf(times_of(bath)).all()
    assert np.asarray(bath.run.end["time"]) == pytest.approx(np.full(10, 4 * 3600.0))


# Two portions: who needs the second


@pytest.mark.parametrize(("when", "needed"), [(7200.0, "none"), (60.0, "all"), (None, "some")])
def test_a_second_portion_says_how_many_need_it(when, needed):
    """And its warmth is theirs. From cold bottles: a warm bath gets no second portion."""
    inputs = mild_inputs(T_bottles=COLD)
    first = inputs.replace(
        parts=(1, 2, 1.5), bath_per_area=0.06 * 4.5 / 6, tray=whole_tray_of(inputs)
    )
    times = times_of(quiet(read_etch, first))
    when = float(np.median(times)) if when is None else when
    plan = mild_plan(T_bottles=COLD, second=(0.5, when))
    late, share = plan.stages[-1], float((times > when).mean())
    assert late.needed == pytest.approx(share, abs=0.006) and late.when == when
    assert {"none": share == 0, "all": share == 1, "some": 0.2 < share < 0.8}[needed]
    (line,) = (line for line in str(plan).splitlines() if "second portion" in line and "mL" in line)
    count = re.search(r"(\S+)(?: of 200)? of the plausible baths still need it then", line)[1]
    expected = {"none": "None", "all": "All", "some": f"{round(200 * late.needed)}"}
    assert count == expected[needed]
    has_warmth = needed != "none"
    assert ("then at" in line) == (late.temperature is not None) == has_warmth
    row = f"after pour {len(plan.stages)}: temperature (°C)"
    assert (row in plan.to_frame().index) == has_warmth
    if has_warmth:
        assert late.temperature.values.shape == (round(late.needed * 200),)
        assert float(late.temperature.high) <= np.max(plan.run.peak_temperature) + 1e-6


@pytest.mark.parametrize("name", ["strong", "thick foil", "mild"])
def test_a_second_portion_does_not_warm_the_bath_more(name):
    """The warmest of all, board in or out, by its 90 % draw; 0.1 K is the solver's own error.

    While etching too, as long as the second portion comes before one bath in ten would have been
    clear. Later it may be warmer while etching: the board lies longer in it, and what came
    afterwards comes with the board still in.
    """
    changes = {"strong": STRONG, "thick foil": WEAK, "mild": {}}[name]
    inputs = Inputs(**{**MILD, **changes, "draws": 30})
    at_once = quiet(outlook, inputs)
    soonest = cut(at_once.run.time_to_clear, 1)
    early_falls, most = [], -np.inf
    for when in (20.0, 60.0, 200.0, 400.0):
        late = quiet(outlook, inputs.replace(second=(0.5, when)))
        warmest = [
            cut(np.maximum(bath.run.peak_temperature, bath.after.peak_temperature), 9)
            for bath in (late, at_once)
        ]
        assert warmest[0] <= warmest[1] + 0.1, (when, warmest)
        fall = cut(at_once.run.peak_temperature, 9) - cut(late.run.peak_temperature, 9)
        most = max(most, fall)
        if when < soonest:
            early_falls.append(fall)
    assert early_falls and min(early_falls) > -0.1
    assert most > 0.2, "it helps, if little"


def test_no_second_portion_is_none():
    zero, none = mild_plan(second=(0.0, 60.0), draws=20), mild_plan(draws=20)
    assert [stage.what for stage in zero.stages] == [stage.what for stage in none.stages]
    assert np.array_equal(times_of(zero), times_of(none))
    assert str(zero) == str(none)
    assert zero.run.steps is not None, "with its history, as any bath of one portion"


def test_both_portions_lie_in_one_tray_and_must_cover_the_board():
    """3.2 mm deep when all of it is in, 1.8 mm before."""
    shallow = {
        "parts": (0, 1, 1),
        "bath_per_area": 150e-6 / 27e-4,
        "tray": Tray(open_area=150e-6 / 3.2e-3),
        "draws": 20,
    }
    late = quiet(outlook, mild_inputs(**shallow, second=(0.9, 900.0)))
    assert "board not covered" in rules_beyond(late)
    assert "board not covered" not in rules_beyond(quiet(outlook, mild_inputs(**shallow)))
    usual = {**shallow, "tray": MILD["tray"]}
    bath = quiet(etched, mild_inputs(**usual, second=(0.9, 900.0)))
    assert float(bath.tray.open_area) == pytest.approx(0.015, rel=1e-3)


@pytest.mark.parametrize(
    "changes",
    [
        {"used_bath": UsedBath(1.0, 300, 1500, 1000)},
        {"parts": (1, 1, 0), "used_bath": UsedBath(0.8, 300, 1500)},
    ],
)
def test_no_second_portion_where_no_peroxide_is_poured(changes):
    plain = mild_plan(**changes, draws=10)
    second = mild_plan(**changes, second=(0.5, 100.0), draws=10)
    assert str(plain) == str(second)
    assert second.inputs.second is None and second.run.steps is not None
