"""A plan's own numbers: what is poured and how warm, what a bench must have, what a plan promises.

Laws, except where another kind is said.
"""

import re
import threading
import warnings

import numpy as np
import pytest
from helpers.plans import (
    MILD,
    USED_BATH,
    ends_of,
    labelled,
    mild_inputs,
    mild_plan,
    rules_of,
    verdicts_alone,
)
from helpers.second_reading import PLACES, ZERO, cut, liquids_of

from pcbchem import (
    Board,
    Bottle,
    Foil,
    Plan,
    RangeWarning,
    RateParameters,
    Solution,
    Tray,
    UsedBath,
    etch,
    mix,
    plan,
    stand,
)
from pcbchem.bench.hazards.caution import cautions
from pcbchem.bench.hazards.law import above_limit
from pcbchem.bench.plan.files import save_inputs
from pcbchem.bench.plan.planning import handy
from pcbchem.common.band import between
from pcbchem.common.limits import collecting_warnings

VOLUME = MILD["bath_per_area"] * 27e-4  # m³: 75 mm by 60 mm, six tenths of it bare


@pytest.fixture
def no_advice():
    """Leave out what would help, for tests that do not read it."""
    with verdicts_alone():
        yield


def mild_liquids():
    """Pour the mild bath by hand, from bottles drawn as a page would: two bottles, two seeds."""
    water, acid, peroxide = VOLUME * np.array([1, 2, 3]) / 6
    return (
        Solution.of(volume=water, T=289.15),
        Solution.of(volume=acid, T=289.15, HCl=between(0.09, 0.11, 200, 0)),
        Solution.of(volume=peroxide, T=289.15, H2O2=between(0.102, 0.12, 200, 1)),
    )


def cuts(values):
    """Low end, middle and high end of draws, by sorting."""
    return [cut(values, tenths) for tenths in (1, 5, 9)]


# What is poured


def test_what_is_poured_stands_in_order(whole, mild):
    whats = [stage.what for stage in whole.stages]
    assert whats == ["water", "used bath", "acid", "peroxide", "peroxide, second portion"]
    assert [stage.when for stage in whole.stages] == [0, 0, 0, 0, 100]
    assert [stage.what for stage in mild.stages] == ["water", "acid", "peroxide"]


@pytest.mark.usefixtures("no_advice")
def test_nothing_is_poured_that_is_nothing():
    bath = mild_plan(parts=(0, 1, 1), draws=10)
    assert [stage.what for stage in bath.stages] == ["acid", "peroxide"]


@pytest.mark.usefixtures("no_advice")
@pytest.mark.parametrize(
    ("percent", "order"),
    [(3, ["peroxide", "acid"]), (6, ["peroxide", "acid"]), (6.1, ["acid", "peroxide"])],
)
def test_weak_peroxide_is_mostly_water_and_acid_goes_into_it(percent, order):
    shop = {"peroxide": Bottle("H2O2", 0.02, percent / 100), "draws": 10}
    bath = mild_plan(**shop, parts=(0, 1, 1))
    assert [stage.what for stage in bath.stages] == order
    used = mild_plan(**shop, used_bath=USED_BATH)
    assert [stage.what for stage in used.stages] == ["water", "used bath", *order]
    late = mild_plan(**shop, parts=(0, 1, 1), second=(0.9, 60.0))
    assert [stage.what for stage in late.stages] == [*order, "peroxide, second portion"]


@pytest.mark.usefixtures("no_advice")
def test_nine_tenths_held_back_are_nine_times_the_rest():
    first, last = mild_plan(second=(0.9, 60.0), draws=10).stages[-2:]
    assert last.volume == pytest.approx(9 * first.volume)


def test_volumes_are_parts_at_the_bottles_temperature(whole, mild):
    shares = np.array([1, 2, 3]) / 6
    assert [stage.volume for stage in mild.stages] == pytest.approx(list(shares * VOLUME), rel=1e-6)
    shares = np.array([0.1, 0.4, 0.2, 0.3 * 0.7, 0.3 * 0.3])
    volumes = [stage.volume for stage in whole.stages]
    assert volumes == pytest.approx(list(shares * VOLUME), rel=1e-6)
    assert sum(volumes) == pytest.approx(VOLUME, rel=1e-6)


@pytest.mark.usefixtures("no_advice")
def test_a_volume_asked_for_is_the_bath_over_the_copper(mild):
    names = ("acid", "peroxide", "parts", "board", "tray")
    bath = plan(*(MILD[name] for name in names), place="EU", volume=VOLUME, T_bottles=289.15)
    volumes = [stage.volume for stage in mild.stages]
    assert [stage.volume for stage in bath.stages] == pytest.approx(volumes, rel=1e-12)


@pytest.mark.parametrize("sizes", [{}, {"volume": 1e-4, "bath_per_area": 0.05}])
def test_a_plan_asks_for_its_bath_once(sizes):
    names = ("acid", "peroxide", "parts", "board")
    with pytest.raises(ValueError, match=r"volume = .* bath_per_area = .*give one of the two"):
        plan(*(MILD[name] for name in names), place="EU", **sizes)


def test_temperatures_after_pours_are_those_of_mixing(mild):
    """By `mix`, on bottles poured by hand."""
    water, acid, peroxide = mild_liquids()
    temperatures = [
        np.full(200, 289.15),
        np.asarray(mix(water, acid).T),
        np.asarray(mix(water, acid, peroxide).T),
    ]
    for stage, T in zip(mild.stages, temperatures, strict=True):
        assert ends_of(stage.temperature) == pytest.approx(cuts(T), abs=1e-9)
    assert mild.stages[1].temperature.low > 289.15, "acid warms water"
    mixing = mild.bands["mixing_temperature"]
    assert float(mixing.high) == pytest.approx(cut(temperatures[-1], 9), abs=1e-9)


def test_a_kept_bath_is_poured_cold_and_its_copper_counts(whole):
    water, used = whole.stages[0].temperature, whole.stages[1].temperature
    assert float(water.low) == float(water.high) == 289.15
    assert 289.15 <= float(used.low) <= float(used.high) < 289.5
    with collecting_warnings():
        copper = np.asarray(whole.mixture.concentration("CuCl2"))
    assert 0.39 * 100 < copper.min() < copper.max() < 0.41 * 200, "40 % of 0.1 to 0.2 mol/L"


# What the bath does


def test_the_bands_are_those_of_the_run(mild):
    """The same bath by the package's own front door: mix, etch, stand."""
    bath = mix(*mild_liquids())
    parameters = RateParameters.plausible(200)
    heat = parameters.for_heat_after()
    run = etch(bath, MILD["board"], MILD["tray"], heat)
    after, day, later = (
        stand(run.bath_after, MILD["tray"], seconds, draws)
        for seconds, draws in ((3600, heat), (86400, heat), (86400, parameters))
    )
    start = np.asarray(bath.amount("H2O2")) / np.asarray(run.volume)
    expected = {
        "time_to_clear": run.time_to_clear,
        "etching_peak": run.peak_temperature,
        "reserve": run.reserve,
        "hour_peak": after.peak_temperature,
        "oxygen": after.oxygen / run.volume,
    }
    for name, values in expected.items():
        assert ends_of(mild.bands[name]) == pytest.approx(cuts(values), rel=1e-6), name
    # the day is solved in two steps here: the solver's own error
    by_day = {"standing_peak": day.peak_temperature, "day_peak": day.peak_temperature}
    for name, values in by_day.items():
        assert ends_of(mild.bands[name]) == pytest.approx(cuts(values), abs=0.1), name
    left = mild.bands["peroxide_left_day"]
    assert ends_of(left) == pytest.approx(cuts(later.peroxide / start), abs=0.01)
    assert 0.5 < float(left.high) < 1, "it may still hold most of it"


def test_the_used_bath_holds_the_copper_and_the_acid_left(mild):
    """By hand: each copper(II) takes two of the acid, each copper(I) one."""
    volume, foil = np.asarray(mild.run.volume), float(MILD["board"].copper)
    assert np.isfinite(np.asarray(mild.run.time_to_clear)).all()
    copper, acid = (np.asarray(mild.bands[name].values) for name in ("copper_used", "acid_used"))
    assert copper * volume == pytest.approx(np.full(200, foil), rel=1e-4)
    gone = np.asarray(mild.mixture.amount("HCl")) - acid * volume
    assert np.all((gone >= foil * (1 - 1e-4)) & (gone <= 2 * foil * (1 + 1e-4)))


def test_the_mild_bath_is_ten_millimetres_deep(mild):
    cover = mild.bands["cover"]  # over the 3 mm that cover a board
    assert [float(cover.low), float(cover.high)] == pytest.approx([10 / 3, 10 / 3], rel=1e-3)
    assert float(mild.bands["volume"].high) == pytest.approx(VOLUME, rel=0.005)


@pytest.mark.usefixtures("no_advice")
def test_a_used_bath_holds_kept_copper_and_copper_of_both_kinds():
    kept = UsedBath(0.5, (300, 400), (1500, 2500))
    bath = mild_plan(parts=(0, 2, 0.3), bath_per_area=0.03, used_bath=kept, draws=50)
    run = bath.run
    assert np.isfinite(np.asarray(run.time_to_clear)).all()
    cuprous, cupric = np.asarray(run.end["CuCl"]), np.asarray(run.end["CuCl2"])
    assert (cuprous > 0.2 * cupric).any(), "some of it is copper(I)"
    poured = np.asarray(liquids_of(bath.inputs)["used bath"].amount("CuCl2"))
    copper = np.asarray(bath.bands["copper_used"].values) * np.asarray(run.volume)
    assert copper == pytest.approx(poured + float(MILD["board"].copper), rel=1e-4)


# What a bench must have: a board that is covered, no more than a person can deal with


@pytest.mark.parametrize(
    ("tray", "board", "least"),
    [
        # common practice, no source: 3 mm over a board that lies, its shorter side where it stands
        ({"open_area": 0.02}, Board(75e-3, 60e-3, 0.6), 3e-3),
        ({"open_area": 0.02, "facing": "down"}, Board(area=27e-4), 3e-3),
        ({"open_area": 20e-4, "facing": "upright"}, Board(75e-3, 60e-3, 0.6), 60e-3),
        ({"open_area": 20e-4, "facing": "upright"}, Board(60e-3, 75e-3, 0.6), 60e-3),
        ({"open_area": 20e-4, "facing": "upright"}, Board(area=25e-4), 50e-3),
    ],
)
def test_a_board_that_stays_dry_is_refused(tray, board, least):
    """2 % below and above; the mixture is a thousandth less than what is poured."""
    usual = {**labelled(10, 12), "parts": (3, 1, 1), "board": board, "place": "EU", "draws": 5}
    for depth, is_dry in ((0.98, True), (1.02, False)):
        bath = plan(**usual, tray=Tray(**tray), volume=depth * least * tray["open_area"])
        words = str(bath)
        assert ("board not covered" in rules_of(bath)) == is_dry
        dry = "98 % of the depth that covers this board: some copper stays dry"
        assert (dry in words) == is_dry
        assert "say how large yours is" not in words, "it was said"
        if is_dry:
            assert bath.refused and bath.stages == ()
            assert not re.search(r"\d mL\b(?! per cm²)", words)


@pytest.mark.usefixtures("no_advice")
def test_an_upright_board_in_the_usual_flat_tray_is_refused():
    """10 mm of liquid cover no board that stands in it."""
    bath = mild_plan(tray=Tray(facing="upright"), draws=10)
    assert "board not covered" in rules_of(bath) and "say how large yours is" in str(bath)


@pytest.mark.usefixtures("no_advice")
@pytest.mark.parametrize(
    ("litres", "is_much", "is_refused"),
    [(0.98, False, False), (1.02, True, False), (2.94, True, False), (3.06, False, True)],
)
def test_more_bath_than_a_person_can_deal_with(litres, is_much, is_refused):
    """Our limits, no source: a litre wants care, three are refused, and then no amount is said."""
    bath = plan(
        MILD["acid"],
        MILD["peroxide"],
        (0, 1, 1),
        Board(area=300e-4),
        Tray(open_area=0.15),
        place="EU",
        volume=litres * 1e-3,
        draws=10,
    )
    assert ("much bath" in rules_of(bath)) == is_much
    assert ("far too much bath" in rules_of(bath)) == is_refused == bath.refused
    words = " ".join(reason.words for reason in bath.reasons)
    assert ("more than 1 L of bath" in words.replace("1.0 L", "1 L")) == is_much
    assert not is_refused or not re.search(r"\d (L|mL|litres)\b", words)


@pytest.mark.usefixtures("no_advice")
@pytest.mark.parametrize(("depth", "is_hot"), [(0.015, True), (0.08, False)])
def test_nobody_is_handed_a_plan_whose_middle_must_be_stopped(depth, is_hot):
    """31 % and 12 %, 2 : 1 : 2: in a small bath half pass 45 °C, where the trade stops."""
    bottles = {"acid": Bottle.labelled("HCl", 0.31), "parts": (2, 1, 2)}
    bath = mild_plan(
        **bottles, board=Board(area=27e-4), tray=Tray(), T_bottles=293.15, bath_per_area=depth
    )
    assert (cut(bath.run.peak_temperature, 5) - ZERO > 45) == is_hot
    assert ("most must be stopped" in rules_of(bath)) == is_hot
    assert bath.refused or not is_hot


# A plan's own contract


@pytest.mark.usefixtures("no_advice")
def test_a_plan_says_all_the_cautions_of_its_bottles():
    for place, acid, peroxide in (("EU", 9, 3), ("GB", 31, 30), ("elsewhere", 31, 3)):
        bottles = labelled(acid, peroxide)
        bath = mild_plan(**bottles, parts=(3, 1, 1), place=place, draws=5)
        assert bath.cautions == cautions(*bottles.values(), place) and len(bath.cautions) > 20
        assert bath.law == above_limit(*bottles.values(), place)


COLD, USUAL = {"T_bottles": 274.0, "tray": Tray(T_air=263.15)}, {"T_bottles": 293.15}


@pytest.mark.usefixtures("no_advice")
def test_plans_in_threads_keep_their_warnings_apart():
    """Each plan has only what was said of it."""
    alone = {name: quantities(inputs) for name, inputs in (("cold", COLD), ("usual", USUAL))}
    assert alone["cold"] and not alone["usual"]
    start, heard = threading.Barrier(4), {}

    def work(number):
        start.wait()
        names = ("cold", "usual") if number % 2 else ("usual", "cold")
        inputs = {"cold": COLD, "usual": USUAL}
        heard[number] = [(name, quantities(inputs[name], seed=number)) for name in names]

    threads = [threading.Thread(target=work, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(heard) == list(range(4))
    for number, plans in heard.items():
        for name, found in plans:
            assert found == alone[name], number


def quantities(changes, seed=0):
    """What a plan was not checked for: the value farthest outside hangs on the seed, this does not.

    By what read it, what it is, and the range.
    """
    outside = mild_plan(**changes, draws=20, seed=seed).outside
    return {(said.reader, said.quantity, said.low, said.high) for said in outside}


def test_after_a_plan_a_warning_is_shown_as_before():
    mild_plan(**COLD, draws=5)
    with pytest.warns(RangeWarning, match="outside the range"):
        Solution.of(volume=1e-4, T=274.0, HCl=0.44).volume  # noqa: B018
    with pytest.warns(UserWarning, match="is this seen"):
        warnings.warn("is this seen?", UserWarning, stacklevel=1)


@pytest.mark.parametrize("place", PLACES)
def test_no_range_warning_escapes_and_what_it_said_is_kept(place):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        hot = mild_plan(
            acid=Bottle("HCl", 0.40, 0.45),
            peroxide=Bottle("H2O2", 0.6, 0.7),
            parts=(0, 1, 1),
            place=place,
            T_bottles=313.15,
            draws=5,
        )
        words = str(hot)
        _ = hot.to_frame(), hot.mixture
    texts = [str(warning) for warning in hot.outside]
    assert hot.refused and any("outside the range" in text for text in texts)
    assert "not checked this far" in words and len(set(texts)) == len(texts)


def test_nothing_is_said_of_a_bath_within_the_range(mild):
    assert mild.outside == () and "not checked" not in str(mild)


def test_the_same_inputs_give_the_same_plan(mild):
    again = mild_plan()
    assert str(mild) == str(again) and mild.to_frame().equals(again.to_frame())
    assert np.array_equal(mild.run.time_to_clear, again.run.time_to_clear)


@pytest.mark.usefixtures("no_advice")
def test_another_seed_changes_the_bottles_only():
    first, other = mild_plan(seed=3, draws=50), mild_plan(seed=4, draws=50)
    assert not np.array_equal(first.run.time_to_clear, other.run.time_to_clear)
    acids = [np.asarray(bath.mixture.fractions["HCl"]) for bath in (first, other)]
    assert not np.array_equal(*acids)
    exact = {"acid": Bottle("HCl", 0.1, 0.1), "peroxide": Bottle("H2O2", 0.11, 0.11), "draws": 50}
    times = [np.asarray(mild_plan(**exact, seed=seed).run.time_to_clear) for seed in (3, 4)]
    assert np.array_equal(*times), "the model's own doubt does not hang on the seed"


def test_acid_and_peroxide_are_drawn_apart(mild):
    shares = [np.asarray(mild.mixture.fractions[substance]) for substance in ("HCl", "H2O2")]
    assert abs(np.corrcoef(*shares)[0, 1]) < 0.2, "of 200 draws; tied together it would be 1"


@pytest.mark.parametrize(
    ("seconds", "handy_time"),
    [(3.7, 3), (19.99, 19), (20, 20), (119, 115), (120, 120), (599, 585), (600, 600), (3000, 3000)],
)
def test_a_time_is_rounded_down_to_one_that_people_can_keep(seconds, handy_time):
    """To 1 s, from 20 s to 5 s, from 2 min to quarter minutes, from 10 min to minutes."""
    assert handy(seconds) == handy_time


def test_nobody_has_to_look_again_before_five_seconds():
    thin = mild_plan(
        parts=(0, 1, 1), board=Board(75e-3, 60e-3, 0.6, foil=Foil.ounces(0.15)), draws=40
    )
    assert 0.1 * float(thin.bands["time_to_clear"].middle) < 5
    assert thin.look_every == 5


def test_a_plan_opened_from_its_file_is_the_same(tmp_path):
    bath = mild_plan(draws=20)
    bath.save(tmp_path / "plan.json")
    again = Plan.open(tmp_path / "plan.json")
    assert str(again) == str(bath) and repr(again) == repr(bath)
    with pytest.raises(FileExistsError):
        bath.save(tmp_path / "plan.json")


def test_an_error_in_opening_names_the_file(tmp_path):
    # a bath of a tenth of a drop: it can be saved, and is too little to be planned
    path = tmp_path / "drop.json"
    save_inputs(mild_inputs(board=Board(area=1e-8), bath_per_area=1e-4), path)
    with pytest.raises(ValueError, match=re.escape(str(path))):
        Plan.open(path)
