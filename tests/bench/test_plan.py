"""A plan's own numbers: what is poured and how warm, when to look, peroxide in two portions, doubts, words and table.

Laws, except where validation or transcription is said.
"""

import warnings

import numpy as np
import pytest

from pcbchem import Board, Bottle, Foil, Kept, RateParameters, Solution, Tray, etch, mix, plan, stand
from pcbchem.bench.inputs import Inputs
from pcbchem.bench.outlook import etched, outlook
from pcbchem.bench.plan import planned
from pcbchem.matter.arrays import hushed
from pcbchem.matter.units import between

from .reading import PLACES, ZERO, arrays, cut

KEPT = Kept(0.4, copper=(100, 200), acid=(1500, 2500), peroxide=(100, 400))
MILD = {"acid": Bottle.labelled("HCl", 0.10), "peroxide": Bottle.labelled("H2O2", 0.12), "parts": (1, 2, 3),
        "board": Board(75e-3, 60e-3, 0.6), "tray": Tray("rocked", T_air=291.15), "bath_per_area": 0.06, "place": "EU",
        "T_bottles": 289.15}
FOUR_HOURS = 4 * 3600.0


def made_of(**changed):
    return planned(Inputs(**{**MILD, **changed}))


@pytest.fixture(scope="module")
def whole():
    """Everything at once: a bath kept, water, and peroxide in two portions."""
    return made_of(kept=KEPT, second=(0.3, 100.0))


@pytest.fixture(scope="module")
def mild():
    return made_of()


def test_poured_in_order_and_nothing_that_is_nothing(whole, mild):
    assert [stage.what for stage in whole.stages] == ["water", "kept bath", "acid", "peroxide",
                                                      "peroxide, second portion"]
    assert [stage.when for stage in whole.stages] == [0, 0, 0, 0, 100]
    assert [stage.what for stage in mild.stages] == ["water", "acid", "peroxide"]
    assert [stage.what for stage in made_of(parts=(0, 1, 1)).stages] == ["acid", "peroxide"]
    for percent, first in ((3, "peroxide"), (6, "peroxide"), (6.1, "acid")):
        shop = made_of(parts=(0, 1, 1), peroxide=Bottle("H2O2", 0.02, percent / 100), draws=20)
        assert shop.stages[0].what == first, "weak peroxide is mostly water: strong acid goes into it"
        assert made_of(peroxide=Bottle("H2O2", 0.02, percent / 100), draws=20).stages[0].what == "water"
    most = made_of(second=(0.9, 60.0), draws=20)
    assert most.stages[-1].volume == pytest.approx(9 * most.stages[-2].volume)


def test_volumes_are_the_parts_of_the_bath_at_the_bottles_temperature(whole, mild):
    volume = MILD["bath_per_area"] * 27e-4
    assert [stage.volume / volume for stage in mild.stages] == pytest.approx([1 / 6, 2 / 6, 3 / 6], rel=1e-6)
    shares = np.array([0.1, 0.4, 0.2, 0.3 * 0.7, 0.3 * 0.3])
    assert [stage.volume for stage in whole.stages] == pytest.approx(list(shares * volume), rel=1e-6)
    assert sum(stage.volume for stage in whole.stages) == pytest.approx(volume, rel=1e-6)
    same = plan(*(MILD[name] for name in ("acid", "peroxide", "parts", "board", "tray")), place="EU", volume=volume,
                T_bottles=289.15)
    assert [stage.volume for stage in same.stages] == pytest.approx([stage.volume for stage in mild.stages], rel=1e-12)


def test_temperatures_after_pours_are_those_of_mixing(mild):
    """By `mix` on bottles drawn as a page would draw them: two bottles, two seeds."""
    volumes = np.array([1, 2, 3]) / 6 * MILD["bath_per_area"] * 27e-4
    water, acid, peroxide = (Solution.of(volume=v, T=289.15, **held) for v, held in zip(volumes, (
        {}, {"HCl": between(0.09, 0.11, 200, 0)}, {"H2O2": between(0.102, 0.12, 200, 1)}), strict=True))
    after = [np.full(200, 289.15), np.asarray(mix(water, acid).T), np.asarray(mix(water, acid, peroxide).T)]
    for stage, T in zip(mild.stages, after, strict=True):
        ends = stage.temperature
        assert [float(end) for end in (ends.low, ends.middle, ends.high)] == pytest.approx(
            [cut(T, tenths) for tenths in (1, 5, 9)], abs=1e-9)
    assert mild.stages[1].temperature.low > 289.15, "acid warms water"
    assert float(mild.bands["mixing_temperature"].high) == pytest.approx(cut(after[-1], 9), abs=1e-9)


def test_a_kept_bath_is_poured_cold_and_its_copper_counts(whole):
    ends = whole.stages[0].temperature
    assert float(ends.low) == float(ends.high) == 289.15
    assert 289.15 <= float(whole.stages[1].temperature.low) <= float(whole.stages[1].temperature.high) < 289.5
    with hushed():
        held = np.asarray(whole.mixture.concentration("CuCl2"))
    assert 0.39 * 100 < held.min() < held.max() < 0.41 * 200, "40 % of a bath of 0.1 to 0.2 mol/L"


def test_the_bands_are_those_of_the_run(mild):
    """The same bath by the package's own front door: mix, etch, stand."""
    volumes = np.array([1, 2, 3]) / 6 * MILD["bath_per_area"] * 27e-4
    bath = mix(Solution.of(volume=volumes[0], T=289.15),
               Solution.of(volume=volumes[1], T=289.15, HCl=between(0.09, 0.11, 200, 0)),
               Solution.of(volume=volumes[2], T=289.15, H2O2=between(0.102, 0.12, 200, 1)))
    p = RateParameters.plausible(200)
    run = etch(bath, MILD["board"], MILD["tray"], p)
    after, day = (stand(run.bath_after, MILD["tray"], seconds, p) for seconds in (3600, 86400))
    began = np.asarray(bath.amount("H2O2")) / np.asarray(run.volume)
    expected = {"time_to_clear": run.time_to_clear, "etching_peak": run.peak_temperature, "reserve": run.reserve,
                "standing_peak": after.peak_temperature, "oxygen": after.oxygen / run.volume,
                "peroxide_left": after.peroxide / began, "peroxide_left_day": day.peroxide / began}
    for name, values in expected.items():
        band = mild.bands[name]
        assert [float(band.low), float(band.middle), float(band.high)] == pytest.approx(
            [cut(values, tenths) for tenths in (1, 5, 9)], rel=1e-6), name
    assert float(mild.bands["peroxide_left_day"].high) < float(mild.bands["peroxide_left"].high)
    left, = (value for value in [cut(expected["peroxide_left"], 5)])
    assert 0 < left < 1


def test_first_look_comes_before_one_bath_in_ten_is_clear(found, mild):
    plans = [made for made in [*found[1], mild] if made.first_look is not None]
    assert len(plans) >= 15
    for made in plans:
        soonest = float(cut(made.run.time_to_clear, 1))
        assert 0.35 * soonest < made.first_look <= 0.5 * soonest, "at half of the 10 % time, rounded down to be kept"
        middle = float(cut(made.run.time_to_clear, 5))
        assert made.over_etch == pytest.approx((0.1 * middle, 0.3 * middle))
        step = next(step for step, upto in ((1, 20), (5, 120), (15, 600), (60, np.inf)) if made.first_look < upto)
        assert made.first_look % step == 0
    assert made_of(peroxide=Bottle("H2O2", 0, 0), draws=20).first_look is None, "nothing clears"


def test_resist_life_is_for_baths_neither_strong_nor_warm(found, mild):
    """Transcription: 20 to 30 min, common practice, no source."""
    assert mild.resist_life == (20 * 60, 30 * 60)
    given = {True: 0, False: 0}
    for made in found[1]:
        if not made.refused:
            had = arrays(made.run, made.after, made.mixture)
            gentle = bool(cut(had["acid"], 9) <= 3 and cut(had["etching"], 9) <= 45)
            assert (made.resist_life is not None) == gentle
            given[gentle] += 1
    assert min(given.values()) >= 2, given


# Peroxide in two portions

STRONG = {"acid": Bottle.labelled("HCl", 0.31), "peroxide": Bottle.labelled("H2O2", 0.30), "parts": (6, 1, 1),
          "bath_per_area": 0.02}
WEAK = {**STRONG, "parts": (2, 1, 1), "board": Board(area=27e-4, foil=Foil.ounces(2))}


def two(share, when, **changed):
    with hushed():
        return etched(Inputs(**{**MILD, **STRONG, "second": (share, when), **changed}))


def one(**changed):
    with hushed():
        return etched(Inputs(**{**MILD, **STRONG, **changed}))


@pytest.mark.parametrize("when", [5.0, 60.0, 300.0])
def test_peroxide_is_conserved_over_both_portions(when):
    """What was poured where it was needed is used by copper, gone as oxygen, or left: by the amounts, draw by draw."""
    made, _, run, left = two(0.4, when)
    with hushed():
        first, second = (np.asarray(made[name].amount("H2O2")) for name in ("peroxide", "peroxide, second portion"))
    foil = MILD["board"].foil.amount * MILD["board"].area
    gone = np.asarray(left.amount("CuCl2")) + np.asarray(left.amount("CuCl"))
    # half of each peroxide's electrons: Cu(II) takes two, Cu(I) one; oxygen is one for two peroxides
    used = np.asarray(left.amount("CuCl2")) + 0.5 * np.asarray(left.amount("CuCl"))
    total = used + 2 * np.asarray(run.oxygen_amount) + np.asarray(left.amount("H2O2"))
    clear_before = np.asarray(run.time_to_clear) <= when
    poured = first + np.where(clear_before, 0.0, second)
    assert total == pytest.approx(poured, rel=2e-4)
    assert gone[np.isfinite(np.asarray(run.time_to_clear))] == pytest.approx(float(foil), rel=1e-6)


def test_copper_and_chloride_are_conserved_over_both_portions():
    made, _, run, left = two(0.5, 40.0, kept=KEPT)
    with hushed():
        chloride = sum(np.asarray(s.amount("HCl")) + 2 * np.asarray(s.amount("CuCl2")) for s in made.values())
        mass = sum(np.asarray(s.mass) for name, s in made.items())
    late = (np.asarray(run.time_to_clear) > 40) & np.isfinite(np.asarray(run.time_to_clear))
    held = np.asarray(left.amount("HCl")) + 2 * np.asarray(left.amount("CuCl2")) + np.asarray(left.amount("CuCl"))
    assert held == pytest.approx(chloride, rel=1e-6)
    foil = float(MILD["board"].copper) * 63.546e-3
    gone = np.asarray(left.mass) + 32e-3 * np.asarray(run.oxygen_amount)
    assert gone[late] == pytest.approx((mass + foil)[late], rel=1e-4)


def test_a_second_portion_after_all_is_done_is_one_portion_with_less_peroxide():
    """6 : 1 : 1 with its last 30 % held back is a bath with 0.7 parts of peroxide."""
    _, _, run, left = two(0.3, 3000.0)
    less_volume = 1 - 0.3 / 8
    alone = one(parts=(6, 1, 0.7), bath_per_area=STRONG["bath_per_area"] * less_volume)
    early = np.asarray(run.time_to_clear) < 3000
    assert early.mean() > 0.9
    for name in ("time_to_clear", "peak_temperature", "oxygen_amount"):
        assert np.asarray(getattr(run, name))[early] == pytest.approx(
            np.asarray(getattr(alone[2], name))[early], rel=1e-4), name
    rest = [np.asarray(bath.amount("H2O2"))[early] for bath in (left, alone[3])]
    assert rest[0] == pytest.approx(rest[1], rel=1e-4)
    assert np.asarray(run.reserve) == pytest.approx(np.asarray(one()[2].reserve), rel=1e-9), "of all that is at hand"


def test_a_second_portion_at_once_is_nearly_one_portion():
    run, alone = two(0.5, 0.01)[2], one()[2]
    for name, close in (("time_to_clear", 0.01), ("reserve", 1e-9), ("oxygen_amount", 0.02)):
        assert np.asarray(getattr(run, name)) == pytest.approx(np.asarray(getattr(alone, name)), rel=close), name
    assert np.asarray(run.peak_temperature) - ZERO == pytest.approx(np.asarray(alone.peak_temperature) - ZERO, abs=0.3)


@pytest.mark.parametrize("name", ["strong", "thick foil", "mild"])
def test_a_second_portion_does_not_warm_the_bath_more(name):
    """The warmest of all, board in or out, by its 90 % draw; a tenth of a degree is the solver's own error.

    While etching too, as long as the second portion comes before one bath in ten would have been clear. Later it may
    be warmer while etching: the board lies longer in it, and what came afterwards comes with the board still in.
    """
    given = Inputs(**{**MILD, **{"strong": STRONG, "thick foil": WEAK, "mild": {}}[name]})
    with hushed():
        alone = outlook(given)
        falls = {}
        for when in (20.0, 60.0, 200.0, 400.0):
            late = outlook(given.replace(second=(0.5, when)))
            warmest = [cut(np.maximum(seen.run.peak_temperature, seen.after.peak_temperature), 9)
                       for seen in (late, alone)]
            assert warmest[0] <= warmest[1] + 0.1, (when, warmest)
            falls[when] = cut(alone.run.peak_temperature, 9) - cut(late.run.peak_temperature, 9)
    early = [fall for when, fall in falls.items() if when < cut(alone.run.time_to_clear, 1)]
    assert early and min(early) > -0.1
    assert max(falls.values()) > 1, "it is worth the trouble"


def test_no_second_portion_is_none():
    zero, none = planned(Inputs(**{**MILD, "second": (0.0, 60.0)})), made_of()
    assert [stage.what for stage in zero.stages] == [stage.what for stage in none.stages]
    assert np.array_equal(np.asarray(zero.run.time_to_clear), np.asarray(none.run.time_to_clear))


# What is in doubt

def test_a_doubt_set_to_its_middle_by_hand(mild):
    """The drop of log(90 %/10 %), with peroxide known exactly: by `etch`, on a bath mixed here."""
    volumes = np.array([1, 2, 3]) / 6 * MILD["bath_per_area"] * 27e-4
    liquids = {"acid": Solution.of(volume=volumes[1], T=289.15, HCl=between(0.09, 0.11, 200, 0)),
               "peroxide": Solution.of(volume=volumes[2], T=289.15, H2O2=between(0.102, 0.12, 200, 1))}
    known = {"acid": Solution.of(volume=volumes[1], T=289.15, HCl=0.10),
             "peroxide": Solution.of(volume=volumes[2], T=289.15, H2O2=0.111)}
    water = Solution.of(volume=volumes[0], T=289.15)

    def ends(liquids, p):
        times = np.asarray(etch(mix(water, *liquids.values()), MILD["board"], MILD["tray"], p).time_to_clear)
        return cut(times, 1), cut(times, 9)

    p = RateParameters.plausible(200)
    low, high = ends(liquids, p)
    cases = {"peroxide": (known | {"acid": liquids["acid"]}, p), "acid": (known | {"peroxide": liquids["peroxide"]}, p),
             "model": (liquids, RateParameters())}
    assert {doubt.name for doubt in mild.doubts} == set(cases)
    for doubt in mild.doubts:
        left = ends(*cases[doubt.name])
        assert (doubt.low, doubt.high) == pytest.approx(left, rel=1e-6)
        assert doubt.drop == pytest.approx(np.log(high / low) - np.log(left[1] / left[0]), abs=1e-6)
    assert [doubt.drop for doubt in mild.doubts] == sorted((doubt.drop for doubt in mild.doubts), reverse=True)
    assert mild.doubts[0].name == "model", "bottles this well known are not the trouble"


def test_a_doubt_that_is_none_is_left_out():
    exact = {"acid": Bottle("HCl", 0.1, 0.1), "peroxide": Bottle("H2O2", 0.11, 0.11)}
    sure = Kept(0.4, copper=150, acid=2000)
    assert {doubt.name for doubt in made_of(**exact, draws=30).doubts} == {"model"}
    assert {doubt.name for doubt in made_of(**exact, kept=sure, draws=30).doubts} == {"model"}
    assert {doubt.name for doubt in made_of(**exact, kept=KEPT, draws=30).doubts} == {"model", "kept bath"}
    assert {doubt.name for doubt in made_of(kept=sure, draws=30).doubts} == {"model", "acid", "peroxide"}
    unsure = made_of(**exact | {"peroxide": Bottle("H2O2", 0.01, 0.20)}, draws=60)
    assert unsure.doubts[0].name == "peroxide"
    assert "measure it, or etch one offcut first" in str(unsure)


def test_four_hours_are_the_most_that_a_doubt_counts():
    made = made_of(peroxide=Bottle("H2O2", 0.0, 0.02), draws=60)
    low = float(cut(made.run.time_to_clear, 1))
    doubt, = (doubt for doubt in made.doubts if doubt.name == "peroxide")
    assert np.isinf(cut(made.run.time_to_clear, 9)), "some never clear"
    left = np.log(min(doubt.high, FOUR_HOURS) / min(doubt.low, FOUR_HOURS))
    assert doubt.drop == pytest.approx(np.log(FOUR_HOURS / low) - left, abs=1e-9)


# Words, table, repeatability

def test_the_table_holds_the_bands(whole):
    frame = whole.to_frame()
    bands = whole.bands
    rows = {"acid in the mixture (mol/L)": ("acid", 1e3, 0),
            "peroxide in the mixture (% by weight)": ("peroxide", 0.01, 0),
            "temperature after mixing (°C)": ("mixing_temperature", 1, ZERO),
            "time until the board is clear (min)": ("time_to_clear", 60, 0),
            "warmest while etching (°C)": ("etching_peak", 1, ZERO),
            "warmest in the hour after (°C)": ("standing_peak", 1, ZERO),
            "reserve: times what this copper needs": ("reserve", 1, 0),
            "oxygen in the hour after (times its own volume)": ("oxygen", 1, 0),
            "peroxide left after that hour (%)": ("peroxide_left", 0.01, 0),
            "peroxide left after a day (%)": ("peroxide_left_day", 0.01, 0)}
    for row, (name, scale, less) in rows.items():
        expected = [(float(end) - less) / scale for end in (bands[name].low, bands[name].middle, bands[name].high)]
        assert list(frame.loc[row]) == pytest.approx(expected), row
    for k, stage in enumerate(whole.stages, 1):
        row = frame.loc[f"pour {k}: {stage.what} (mL)"]
        assert row["middle"] == pytest.approx(stage.volume * 1e6) and row.drop("middle").isna().all(), "no doubt in it"
        ends = stage.temperature
        expected = [float(end) - ZERO for end in (ends.low, ends.middle, ends.high)]
        assert list(frame.loc[f"after pour {k}: temperature (°C)"]) == pytest.approx(expected)
    assert frame.loc["baths that never clear (of 100)", "middle"] == 100 * bands["time_to_clear"].never
    assert frame.attrs["verdict"] == whole.verdict and len(frame) == len(rows) + 2 * len(whole.stages) + 1


def test_print_says_the_verdict_first(found):
    heads = {"mix it": "Mix it.", "with cares": "Mix it with these cares.", "do not mix": "Do not mix."}
    for made in found[1][:60]:
        assert str(made).splitlines()[0] == heads[made.verdict]
        assert made._repr_markdown_().startswith(f"**{heads[made.verdict]}**")
        assert made.verdict in repr(made)
        for said in (str(made), made._repr_markdown_()):
            assert all(reason.words[1:] in said for reason in made.reasons)
            assert all(caution.words in said and caution.source in said for caution in made.cautions)


def test_print_says_what_to_pour_and_when(whole):
    said = str(whole)
    at = [said.index(f"{k}. {stage.what}") for k, stage in enumerate(whole.stages, 1)]
    assert at == sorted(at)
    for stage in whole.stages:
        assert f"{float(f'{stage.volume * 1e6:.3g}'):g} mL" in said
        assert f"{float(f'{stage.volume / 29.5735295625e-6:.2g}'):g} US fl oz" in said  # 29.5735295625 mL by definition
    late, = (line for line in said.splitlines() if "second portion" in line and "mL" in line)
    assert "1 min 40 s" in late and "not clear" in late


def test_the_same_again_and_another_seed_changes_the_bottles_only():
    first, again, other = made_of(seed=3), made_of(seed=3), made_of(seed=4)
    assert str(first) == str(again) and first.to_frame().equals(again.to_frame())
    times = [np.asarray(made.run.time_to_clear) for made in (first, again, other)]
    assert np.array_equal(times[0], times[1]) and not np.array_equal(times[0], times[2])
    exact = {"acid": Bottle("HCl", 0.1, 0.1), "peroxide": Bottle("H2O2", 0.11, 0.11)}
    sure = [np.asarray(made_of(**exact, seed=seed).run.time_to_clear) for seed in (3, 4)]
    assert np.array_equal(*sure), "the model's own doubt does not hang on the seed"
    drawn = [between(0.09, 0.11, 200, seed) for seed in (3, 4)]
    acids = [np.asarray(made.mixture.fractions["HCl"]) for made in (first, other)]
    assert not np.array_equal(*drawn) and not np.array_equal(*acids)


def test_acid_and_peroxide_are_drawn_apart(mild):
    shares = [np.asarray(mild.mixture.fractions[s]) for s in ("HCl", "H2O2")]
    assert abs(np.corrcoef(*shares)[0, 1]) < 0.2, "of 200 draws; tied together it would be 1"


@pytest.mark.parametrize("place", PLACES)
def test_no_range_warning_escapes_and_what_it_said_is_kept(place):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        hot = made_of(acid=Bottle("HCl", 0.40, 0.45), peroxide=Bottle("H2O2", 0.6, 0.7), parts=(0, 1, 1), place=place,
                      T_bottles=330.0, draws=10)
        mild = made_of(place=place, draws=10)
        str(hot), hot.to_frame(), hot.mixture
    assert hot.refused and any("outside the range" in said for said in hot.outside)
    assert "not checked this far" in str(hot) and len(set(hot.outside)) == len(hot.outside)
    assert mild.outside == () and "not checked" not in str(mild)


def test_a_plan_asks_for_its_bath_once():
    for sizes in ({}, {"volume": 1e-4, "bath_per_area": 0.05}):
        with pytest.raises(ValueError, match=r"volume = .* bath_per_area = .*give one of the two"):
            plan(*(MILD[name] for name in ("acid", "peroxide", "parts", "board")), place="EU", **sizes)


def test_outlook_of_variants_is_that_of_each(mild):
    waters = np.array([0.0, 1.0, 4.0])
    parts = np.stack([waters, np.full(3, 2.0), np.full(3, 3.0)], axis=-1)[:, None, :] / 2
    side_by_side = outlook(mild.inputs, parts=parts).bands
    for k, water in enumerate(waters):
        alone = outlook(mild.inputs.replace(parts=(water, 2, 3))).bands
        for name, band in alone.items():
            assert float(side_by_side[name].high[k]) == pytest.approx(float(band.high), rel=1e-9), name
