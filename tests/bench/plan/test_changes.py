"""What would help and what is in doubt: ladders of round figures, and each doubt at its middle.

Laws. That a change keeps its promise, and that none is missed: `laws/test_changes`.
"""

import numpy as np
import pytest
from helpers.plans import MILD, USED_BATH, ends_of, mild_inputs, mild_plan
from helpers.second_reading import ZERO, cut

from pcbchem import Board, Bottle, RateParameters, Solution, Tray, UsedBath, etch, mix
from pcbchem.bench.hazards.verdicts import Rule
from pcbchem.bench.plan import changes
from pcbchem.bench.plan.changes import Doubt, helpful, ladder, moved, out_of_reach, spread
from pcbchem.bench.plan.outlook import outlook
from pcbchem.common.band import Band, between
from pcbchem.common.limits import collecting_warnings

FOUR_HOURS = 4 * 3600.0
EXACT = {"acid": Bottle("HCl", 0.1, 0.1), "peroxide": Bottle("H2O2", 0.11, 0.11)}
SURE = UsedBath(0.4, copper=150, acid=2000)


# Ladders


@pytest.mark.parametrize(
    ("lever", "changes", "first", "last", "count"),
    [
        ("water", {"parts": (0, 1, 1)}, 0.1, 10.0, 100),
        ("water", {"parts": (2.35, 1, 3)}, 2.4, 30.0, 277),
        ("bath", {"bath_per_area": 0.05}, 0.051, 0.1, 50),
        ("bath", {"bath_per_area": 0.0505}, 0.051, 0.1, 50),
        ("start", {"T_bottles": ZERO + 16}, ZERO + 15, ZERO + 10, 6),
        ("start", {"T_bottles": ZERO + 15.5}, ZERO + 15, ZERO + 10, 6),
        ("acid", {"parts": (3, 1, 1)}, 0.9, 0.1, 9),
        ("acid", {"parts": (0, 2.35, 1)}, 2.3, 0.1, 23),
    ],
)
def test_a_ladder_goes_in_round_figures_to_its_limit(lever, changes, first, last, count):
    """By hand: tenths of a part, tenths of a mL per cm² (a millimetre), whole °C."""
    values = ladder(mild_inputs(**changes), lever)
    assert [values[0], values[-1], values.size] == pytest.approx([first, last, count], abs=1e-9)
    step = {"water": 0.1, "bath": 1e-3, "start": -1.0, "acid": -0.1}[lever]
    assert np.diff(values) == pytest.approx(np.full(count - 1, step), abs=1e-9)


@pytest.mark.parametrize(
    ("lever", "changes"),
    [
        ("water", {"parts": (10, 1, 1)}),
        ("water", {"used_bath": UsedBath(1.0, 300, 50, 5)}),
        ("bath", {"bath_per_area": 0.1}),
        ("acid", {"used_bath": UsedBath(1.0, 300, 50, 5)}),
        ("acid", {"parts": (1, 0, 1)}),
        ("start", {"T_bottles": ZERO + 10}),
        ("start", {"T_bottles": ZERO + 4}),
    ],
)
def test_a_ladder_is_empty_where_there_is_no_way_to_go(lever, changes):
    assert ladder(mild_inputs(**changes), lever).size == 0


def test_one_lever_is_moved_and_nothing_else():
    inputs = mild_inputs()
    assert moved(inputs, "water", 4.0).parts == (4.0, *inputs.parts[1:])
    assert moved(inputs, "bath", 0.08).bath_per_area == 0.08
    assert moved(inputs, "start", 285.0).T_bottles == 285.0
    assert moved(inputs, "start", 285.0).parts == inputs.parts
    less_acid = moved(inputs, "acid", 0.8)
    assert inputs.parts == pytest.approx((0.5, 1, 1.5))
    assert less_acid.parts == pytest.approx((0.625, 1, 1.875)), "beside as much of the rest"
    assert less_acid.bath_per_area == inputs.bath_per_area


def bands_of(inputs):
    with collecting_warnings():
        return outlook(inputs).bands


def test_nothing_is_tried_where_nothing_is_better(monkeypatch):
    """A bath that may be mixed as it is, or whose care or refusal no lever betters."""
    strong = {"acid": Bottle.labelled("HCl", 0.31), "peroxide": Bottle.labelled("H2O2", 0.06)}
    cases = [
        ({}, 0, set()),
        ({**strong, "parts": (8, 1, 1)}, 1, {"strong acid bottle"}),
        ({"tray": Tray("bubbled")}, 1, {"mist"}),
        ({"used_bath": UsedBath(0.5, 200, 1500, 900)}, 2, {"used bath not yet quiet"}),
        ({"second": (0.5, 30.0)}, 2, {"second portion too early"}),
        ({"board": Board(area=0.06)}, 2, {"much bath", "far too much bath"}),
    ]

    def tried(*_):
        raise AssertionError("a step was tried")

    monkeypatch.setattr(changes, "judged", tried)
    for inputs_changed, severity, names in cases:
        inputs = mild_inputs(**inputs_changed, draws=6)
        bands = bands_of(inputs)
        assert {rule.name for rule in out_of_reach(bands)} == names
        assert helpful(inputs, bands, severity) == ()
    with pytest.raises(AssertionError, match="a step was tried"):
        helpful(mild_inputs(draws=6), bands_of(mild_inputs(draws=6)), 1)


def test_help_goes_down_to_the_care_that_a_bottle_is():
    strong = {"acid": Bottle.labelled("HCl", 0.31), "peroxide": Bottle.labelled("H2O2", 0.30)}
    inputs = mild_inputs(**strong, parts=(3, 1, 1), bath_per_area=0.01, draws=20)
    offers = helpful(inputs, bands_of(inputs), 2)
    assert offers and {change.verdict for change in offers} == {"with care"}


def test_colder_bottles_are_offered_by_their_margin():
    """Bottles at 27 °C are a care above 25: 20 clears it by 5 °C, and 21 to 25 do not."""
    inputs = mild_inputs(T_bottles=ZERO + 27, draws=20)
    (colder,) = (c for c in helpful(inputs, bands_of(inputs), 1) if c.lever == "start")
    assert (colder.value, colder.verdict) == (pytest.approx(ZERO + 20), "mix it")


def fake_rule(limit, unit="mol/m3", side="above"):
    return Rule("r", "with care", "care", "q", "high", side, limit, unit, "", "", "")


@pytest.mark.parametrize(
    ("rule", "now", "kept", "missed"),
    [
        (fake_rule(3000), 4000, 2700, 2701),  # exceeded: by a tenth
        (fake_rule(3000), 1000, 2700, 2701),  # far: it may come as near as the margin
        (fake_rule(3000), 2800, 2800, 2801),  # nearer than the margin: no nearer
        (fake_rule(3000), 3000, 3000, 3001),
        (fake_rule(318.15, "K"), 330, 313.15, 313.2),  # a temperature: by 5 °C
        (fake_rule(318.15, "K"), 315, 315, 315.1),
        (fake_rule(3, "-", "below"), 2, 3.3, 3.29),
        (fake_rule(3, "-", "below"), 3.1, 3.1, 3.09),
        (fake_rule(0.25, "kg/kg", "from"), 0.3, 0.2249, 0.225),  # reached is too near
        (fake_rule(0.25, "kg/kg", "from"), 0.23, 0.23, 0.2301),
    ],
)
def test_a_limit_is_cleared_by_its_margin(rule, now, kept, missed, monkeypatch):
    """By hand; a plan that is nearer than the margin may stay where it is."""
    monkeypatch.setattr(changes, "rules", lambda: (rule,))
    (aim,) = changes._aims({"q": Band.of(now, None)})
    beyond = changes._margins_beyond(aim, np.array([kept, missed]))
    assert (beyond > changes.ROUNDING).tolist() == [False, True]


# What is in doubt


def test_a_doubt_set_to_its_middle_by_hand(mild):
    """The drop of log(90 %/10 %), with one thing known exactly: by `etch`, on a bath mixed here."""
    water, acid, peroxide = MILD["bath_per_area"] * 27e-4 * np.array([1, 2, 3]) / 6
    drawn = {
        "water": Solution.of(volume=water, T=289.15),
        "acid": Solution.of(volume=acid, T=289.15, HCl=between(0.09, 0.11, 200, 0)),
        "peroxide": Solution.of(volume=peroxide, T=289.15, H2O2=between(0.102, 0.12, 200, 1)),
    }
    known_acid = Solution.of(volume=acid, T=289.15, HCl=0.10)
    known_peroxide = Solution.of(volume=peroxide, T=289.15, H2O2=0.111)

    def ends(liquids, parameters):
        bath = mix(*liquids.values())
        run = etch(bath, MILD["board"], MILD["tray"], parameters)
        times = np.asarray(run.time_to_clear)
        return cut(times, 1), cut(times, 9)

    # a plan reads its etch with the decay that heat is read with
    plausible = RateParameters.plausible(200).for_heat_after()
    low, high = ends(drawn, plausible)
    cases = {
        "acid": ends(drawn | {"acid": known_acid}, plausible),
        "peroxide": ends(drawn | {"peroxide": known_peroxide}, plausible),
        "model": ends(drawn, RateParameters()),
    }
    assert {doubt.name for doubt in mild.doubts} == set(cases)
    for doubt in mild.doubts:
        left = cases[doubt.name]
        assert (doubt.low, doubt.high) == pytest.approx(left, rel=1e-6)
        drop = np.log(high / low) - np.log(left[1] / left[0])
        assert doubt.drop == pytest.approx(drop, abs=1e-6)


def test_doubts_stand_with_the_widest_first(mild):
    drops = [doubt.drop for doubt in mild.doubts]
    assert drops == sorted(drops, reverse=True)
    assert mild.doubts[0].name == "model", "bottles this well known are not the trouble"
    unsure = mild_plan(**EXACT | {"peroxide": Bottle("H2O2", 0.01, 0.20)}, draws=60)
    assert unsure.doubts[0].name == "peroxide"


@pytest.mark.parametrize(
    ("changes", "names"),
    [
        (EXACT, {"model"}),
        (EXACT | {"used_bath": SURE}, {"model"}),
        (EXACT | {"used_bath": USED_BATH}, {"model", "used bath"}),
        ({"used_bath": SURE}, {"model", "acid", "peroxide"}),
        # bottles that stay shut
        (
            {"used_bath": UsedBath(1.0, (200, 300), (1500, 2500), (1500, 2500))},
            {"model", "used bath"},
        ),
        ({"parts": (1, 1, 0)}, {"model", "acid"}),
    ],
)
def test_a_doubt_that_is_none_is_left_out(changes, names):
    plan = mild_plan(**changes, draws=15)
    assert {doubt.name for doubt in plan.doubts} == names


def test_four_hours_are_the_most_that_a_doubt_counts():
    plan = mild_plan(peroxide=Bottle("H2O2", 0.0, 0.02), draws=60)
    assert np.isinf(cut(plan.run.time_to_clear, 9)), "some never clear"
    low = float(cut(plan.run.time_to_clear, 1))
    (doubt,) = (doubt for doubt in plan.doubts if doubt.name == "peroxide")
    left = np.log(min(doubt.high, FOUR_HOURS) / min(doubt.low, FOUR_HOURS))
    assert doubt.drop == pytest.approx(np.log(FOUR_HOURS / low) - left, abs=1e-9)


def test_a_spread_is_the_logarithm_of_the_ends():
    assert spread(Band.of([100.0, 200.0], 2)) == pytest.approx(np.log(2))
    assert spread(Band.of([3600.0, np.inf], 2)) == pytest.approx(np.log(4))


def test_a_doubt_reads_its_ends_from_its_times():
    doubt = Doubt("acid", 0.1, Band.of([100.0, 200.0, np.inf], 3))
    assert [doubt.low, doubt.high] == [100.0, np.inf] and ends_of(doubt.times)[1] == 200.0
