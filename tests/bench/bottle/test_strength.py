"""Strengths with their doubt: how readings carry it, and what a strength may be used for."""

import functools
import math

import numpy as np
import pytest
from helpers.bottles import (
    ATMOSPHERE,
    FLASK,
    T20,
    by_lye_with,
    by_oxygen_with,
    by_permanganate_with,
    on_balance,
    weighed,
)

from pcbchem import Board, Solution, Tray
from pcbchem.bench.bottle import (
    Strength,
    by_carbonate,
    by_lye,
    by_oxygen,
    by_permanganate,
    by_weighing,
    combined,
    oxygen_to_expect,
)
from pcbchem.bench.bottle.strength import Reading, from_readings
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.common.arrays import Draws
from pcbchem.common.limits import InputError

# The usual readings of each method. 0.8 mL of oxygen's sample: with 1 mL half of the samples that
# are tried below would be refused as too large
SODA = {"mass": 0.212e-3, "volume": 3.93e-6, "dilution": 10.0}
LYE = {"concentration": 1000.0, "titrant": 9.45e-6, "sample": 1e-5, "dilution": 10.0}
PERMANGANATE = {"concentration": 20.0, "titrant": 17.64e-6, "sample": 1e-6}
OXYGEN = {"gas": 7.0e-6, "sample": 0.8e-6, "label": 0.12, "dilution": 5.0, "p": ATMOSPHERE}

SYRINGE, FLASK_DOUBT, EQUATION, DROP = 0.015, 0.003, 0.001, 5e-8


def off(value, share, z):
    """A value that is off by z times its doubt, a share of it."""
    return value * (1 + share * z)


# Each method with readings that are off by z of their doubts, told to the same function. Weighing:
# the equation's own doubt counts like a mass in doubt by 0.1 %
def weighing_off(z, substance="HCl", strength=0.32, volume_doubt=FLASK_DOUBT, T_doubt=1.0):
    return by_weighing(
        substance,
        mass=off(on_balance(substance, strength), EQUATION, z[3]) + 1e-5 * z[0],
        volume=off(FLASK, volume_doubt, z[1]),
        T=T20 + T_doubt * z[2],
        volume_doubt=volume_doubt,
        T_doubt=T_doubt,
    )


def weighing_in_a_poor_vessel_off(z):
    return weighing_off(z, "H2O2", 0.35, volume_doubt=0.01)


def weighing_at_a_guessed_temperature_off(z):
    return weighing_off(z, "HCl", 0.2, T_doubt=5.0)  # weak enough to be weighed warm


def soda_off(z):
    # the purity of the soda counts like its mass
    return by_carbonate(
        mass=off(SODA["mass"], 0.005, z[3]) + 1e-6 * z[0],
        volume=off(SODA["volume"], SYRINGE, z[1]) + DROP * z[4],
        dilution=off(SODA["dilution"], SYRINGE, z[2]),
    )


def lye_off(z):
    return by_lye(
        concentration=off(LYE["concentration"], 0.01, z[0]),
        titrant=off(LYE["titrant"], SYRINGE, z[1]) + DROP * z[4],
        sample=off(LYE["sample"], SYRINGE, z[2]),
        dilution=off(LYE["dilution"], SYRINGE, z[3]),
    )


def permanganate_off(z):
    return by_permanganate(
        concentration=off(PERMANGANATE["concentration"], 0.01, z[0]),
        titrant=off(PERMANGANATE["titrant"], SYRINGE, z[1]) + DROP * z[4],
        sample=off(PERMANGANATE["sample"], SYRINGE, z[2]),
    )


def oxygen_off(z):
    return by_oxygen(
        gas=off(OXYGEN["gas"], 0.04, z[0]) + 2e-7 * z[5],
        sample=off(OXYGEN["sample"], SYRINGE, z[1]),
        label=OXYGEN["label"],
        dilution=off(OXYGEN["dilution"], SYRINGE, z[2]),
        p=OXYGEN["p"] + 500 * z[3],
        T_gas=T20 + 2 * z[4],
    )


@functools.cache
def normal_draws():
    """Six readings, 128 times, spread evenly: randomised Sobol points, shape (128, 6)."""
    from scipy.stats import norm, qmc

    return norm.ppf(qmc.Sobol(6, seed=1).random(128))


@pytest.mark.parametrize(
    "method",
    [
        weighing_off,
        weighing_in_a_poor_vessel_off,
        weighing_at_a_guessed_temperature_off,
        soda_off,
        lye_off,
        permanganate_off,
        oxygen_off,
    ],
)
def test_law_linear_propagation_agrees_with_monte_carlo(method):
    reading = method(np.zeros(6))
    strengths = np.array([method(z).middle for z in normal_draws()])
    assert np.std(strengths) == pytest.approx(reading.doubt, rel=0.05)
    assert np.mean(strengths) == pytest.approx(reading.middle, abs=0.1 * reading.doubt)


# The readings that each doubt moves, and how far. A doubt that is no share of the reading of its
# name: the reading, how far it is moved, and the doubt that says so
READINGS = {
    by_weighing: {"substance": "HCl", "mass": on_balance("HCl", 0.32), "volume": FLASK, "T": T20},
    by_carbonate: SODA,
    by_lye: LYE,
    by_permanganate: {**PERMANGANATE, "dilution": 2.0},
    by_oxygen: {**OXYGEN, "T_gas": T20},
}
DOUBTS = {
    by_weighing: ("volume_doubt", "mass_doubt", "T_doubt"),
    by_carbonate: ("volume_doubt", "dilution_doubt", "end_point", "mass_doubt", "purity_doubt"),
    by_lye: (
        "concentration_doubt",
        "titrant_doubt",
        "sample_doubt",
        "dilution_doubt",
        "end_point",
    ),
    by_permanganate: (
        "concentration_doubt",
        "titrant_doubt",
        "sample_doubt",
        "dilution_doubt",
        "end_point",
    ),
    by_oxygen: (
        "gas_doubt",
        "gas_scale",
        "sample_doubt",
        "dilution_doubt",
        "p_doubt",
        "T_gas_doubt",
    ),
}
SHARE = 0.002
"""Doubt of a reading as a share of it [-]."""
ABSOLUTE = {
    "mass_doubt": ("mass", 1e-5, 1e-5),
    "T_doubt": ("T", 1.0, 1.0),
    "p_doubt": ("p", 500.0, 500.0),
    "T_gas_doubt": ("T_gas", 2.0, 2.0),
    "gas_scale": ("gas", 2e-7, 2e-7),
    "end_point": ("titrant", DROP, DROP),
    "purity_doubt": ("mass", SHARE * SODA["mass"], SHARE),
}


@pytest.mark.parametrize(
    "method, name",
    [(method, name) for method, names in DOUBTS.items() for name in names],
    ids=lambda value: getattr(value, "__name__", value),
)
def test_law_each_doubt_counts_as_its_reading_moved_by_it(method, name):
    # the reading moved up and down by one doubt, the same function asked each time
    readings = READINGS[method]
    if name in ABSOLUTE:
        reading, size, doubt = ABSOLUTE[name]
    else:
        reading = name.removesuffix("_doubt")
        size, doubt = SHARE * readings[reading], SHARE
    if reading not in readings:
        reading = "volume"  # of acid run in, in place of a titrant
    up = method(**{**readings, reading: readings[reading] + size}).middle
    down = method(**{**readings, reading: readings[reading] - size}).middle

    sure = {name: 0.0 for name in DOUBTS[method]}
    equation = 0.0
    if method is by_weighing:  # its equation is in doubt always
        equation = method(**readings, **sure).doubt
    alone = method(**readings, **{**sure, name: doubt}).doubt
    assert alone == pytest.approx(math.hypot(abs(up - down) / 2, equation), rel=1e-3)
    assert alone > equation


def test_law_a_doubt_of_a_fifth_is_the_last_that_tells():
    # which is where 0.005 g/mL or 1.3 % by weight comes to near 6 %
    assert Strength("H2O2", 0.065, 0.013, "").tells
    assert not Strength("H2O2", 0.0649, 0.013, "").tells


def test_law_what_is_printed_of_a_strength_is_its_words():
    reading = Strength("HCl", 0.3182, 0.0038, "titration")
    assert str(reading) == reading.words == "titration: 31.8 ± 0.4 % by weight"


READS_3_PERCENT = Strength("HCl", 0.0365, 0.001, "titration with lye")


def test_law_a_forgotten_dilution_does_not_fit_its_label():
    # 32 % acid whose tenfold dilution was forgotten; acid keeps its strength: 3 doubts and the
    # label's own 1 % are all
    words = (
        r"label = 32 %.*reads 3.6 ± 0.1 %.*label says 32 %.*2.35 to 4.95 %.*"
        r"a dilution left out.*plan with the label"
    )
    with pytest.raises(InputError, match=words) as error:
        READS_3_PERCENT.bottle(label=0.32)
    assert (error.value.field, error.value.value) == ("label", 0.32)
    assert (error.value.low, error.value.high) == pytest.approx((0.0235, 0.0495))


@pytest.mark.parametrize("label", [0.0494, 0.0236])
def test_law_acid_fits_a_label_within_3_doubts_and_1_percent(label):
    assert READS_3_PERCENT.bottle(label).label == label


@pytest.mark.parametrize("label", [0.0496, 0.0234])
def test_law_acid_fits_no_label_beyond_3_doubts_and_1_percent(label):
    with pytest.raises(InputError, match="one of them is a mistake"):
        READS_3_PERCENT.bottle(label)


def test_law_acid_above_its_label_is_planned_as_the_stronger():
    with pytest.raises(InputError, match="stronger of the two"):
        READS_3_PERCENT.bottle(0.01)


def test_law_peroxide_never_grows_beyond_its_label():
    # 3 doubts above its label, 0.12 + 3 * 0.004
    assert Strength("H2O2", 0.1319, 0.004, "oxygen").bottle(0.12).high > 0.12
    words = r"label = 12 %.*reads 13.2 ± 0.4 %.*12\.?\d* % or more.*stronger of the two"
    with pytest.raises(InputError, match=words):
        Strength("H2O2", 0.1321, 0.004, "oxygen").bottle(0.12)


FADED = Strength("H2O2", 0.20, 0.005, "oxygen over water")
FADED_AGAIN = Strength("H2O2", 0.201, 0.005, "oxygen over water")


@pytest.mark.parametrize("reading", [FADED, combined(FADED, FADED_AGAIN)])
def test_law_peroxide_far_below_its_label_needs_two_methods(reading):
    # 85 % of 0.25 is 0.2125; the bottle of this reading ends at 0.20 + 1.732 * 0.005 = 0.2087, for
    # a label of 0.2455
    assert reading.bottle(0.245).label == 0.245
    words = (
        r"label = 25 % .*reads 20.\d ± 0.5 %.*far below.*may have faded, or a dilution was left "
        r"out.*second way.*plan with the label"
    )
    with pytest.raises(InputError, match=words):
        reading.bottle(0.25)


def test_law_peroxide_that_two_methods_find_faded_is_taken():
    way = "titration with permanganate"
    two = combined(FADED, Strength("H2O2", 0.201, 0.006, way))
    assert two.methods == ("oxygen over water", way)
    assert two.bottle(0.25).high < 0.2125


@pytest.mark.parametrize(
    "measure",
    [
        lambda: weighed("H2O2", 0.45),
        lambda: oxygen_to_expect(label=0.36, sample=1e-6, dilution=100),
        lambda: by_oxygen_with(label=0.70, dilution=33),
        lambda: by_permanganate_with(dilution=20),
    ],
)
def test_law_peroxide_above_35_percent_is_not_measured(measure):
    words = (
        r"(label|strength) = [\d.]+ % is too strong: it must be at most 35 %.*unopened.*"
        r"hazardous-waste site"
    )
    with pytest.raises(InputError, match=words) as error:
        measure()
    assert error.value.high == 0.35


def test_law_what_is_within_its_doubt_of_35_percent_is_measured():
    assert weighed("H2O2", 0.36).middle > 0.35
    assert weighed("HCl", 0.38, volume_doubt=0.001).middle > 0.35  # acid by its own limits


def test_law_draws_go_into_a_solution():
    reading = Strength("HCl", 0.32, 0.01, "weighing")
    draws = reading.draws(400, seed=3)
    assert isinstance(draws, Draws) and draws.shape == (400,)
    assert np.array_equal(draws, reading.draws(400, seed=3))
    assert not np.array_equal(draws, reading.draws(400, seed=4))
    # mean to 4 standard errors, 4/√400; standard deviation to 4/√800 of itself
    assert np.mean(draws) == pytest.approx(0.32, abs=0.2 * 0.01)
    assert np.std(draws) == pytest.approx(0.01, rel=0.14)
    assert Solution.of(volume=1e-3, T=T20, HCl=draws).draws == 400


def test_law_no_draw_is_over_the_limit_and_none_piles_up_there():
    draws = np.asarray(Strength("HCl", 0.445, 0.01, "titration").draws(400, seed=3))
    assert draws.max() <= 0.45 and len(np.unique(draws)) == 400
    assert np.mean(draws > 0.449) < 0.1  # a normal cut off, not pushed back


def test_law_the_bottle_has_the_same_mean_and_doubt():
    reading = Strength("H2O2", 0.30, 0.01, "weighing")
    bottle = reading.bottle(label=0.30)
    assert bottle.middle == pytest.approx(0.30)
    assert (bottle.high - bottle.low) / math.sqrt(12) == pytest.approx(0.01)
    assert bottle.label == 0.30 and reading.bottle(None).label is None
    assert Strength("HCl", 0.445, 0.01, "").bottle(None).high == 0.45


def test_law_a_plan_takes_the_bottle_of_a_reading():
    acid = Strength("HCl", 0.10, 0.004, "lye").bottle(None)
    peroxide = Strength("H2O2", 0.30, 0.01, "weighing").bottle(label=0.30)
    board, tray = Board(area=27e-4), Tray()
    inputs = Inputs(acid, peroxide, (3, 1, 1), board, tray, 0.05, place="elsewhere")
    assert (inputs.acid, inputs.peroxide) == (acid, peroxide)


def straight(T, w):
    """A formula of which the answer is the reading."""
    return w + 0 * T


def guess(strength, doubt, T_doubt=0.0, substance="HCl"):
    readings = {"T": Reading(T20, T_doubt), "w": Reading(strength, doubt)}
    return from_readings(substance, "guess", straight, readings)


def test_law_a_reading_below_nothing_within_3_doubts_is_nothing():
    assert guess(-0.0299, 0.01).middle == 0
    with pytest.raises(InputError, match=r"guess: strength = -0.0301.*0 to 0.45 kg/kg"):
        guess(-0.0301, 0.01)


def test_law_a_doubt_of_nothing_or_of_more_than_all_is_refused():
    with pytest.raises(ValueError, match=r"guess: every doubt = 0 is impossible.*above 0 to 1"):
        guess(0.3, 0.0)
    with pytest.raises(InputError, match=r"guess: w_doubt is impossible: with w in doubt by 1.1"):
        guess(0.3, 1.1)


READING = Strength("H2O2", 0.1, 0.01, "oxygen")
REFUSED = [
    (lambda: Strength("NaOH", 0.1, 0.01, ""), ("substance", "'NaOH'", "HCl, H2O2")),
    (lambda: Strength("HCl", 0.46, 0.01, ""), ("middle", "0.46", "0 to 0.45 kg/kg")),
    (lambda: Strength("HCl", np.nan, 0.01, ""), ("middle", "nan", "0 to 0.45 kg/kg")),
    (lambda: Strength("HCl", 0.3, 0.0, ""), ("doubt", "0", "above 0 to 1 kg/kg")),
    (lambda: Strength("HCl", 0.3, [0.1], ""), ("doubt", "[0.1]", "above 0 to 1 kg/kg")),
    (lambda: READING.draws(401, 1), ("draws", "401", "1 to 400")),
    (lambda: READING.draws(10, -1), ("seed", "-1", "0 to")),
    (lambda: READING.bottle(label=0.9), ("label", "0.9", "0 to 0.7")),
    (
        lambda: by_lye_with(concentration_doubt=0, titrant_doubt=0, sample_doubt=0, end_point=0),
        ("every doubt", "0", "above 0 to 1 kg/kg"),
    ),
]


@pytest.mark.parametrize("use, words", REFUSED, ids=range(len(REFUSED)))
def test_law_what_cannot_be_is_refused_by_name_and_limits(use, words):
    with pytest.raises(ValueError) as error:
        use()
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
