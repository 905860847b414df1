"""Bottles by weighing: known densities, the doubt carried through, readings put together, and what cannot tell."""

import functools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, RangeWarning, Solution, Tray
from pcbchem.bench import hazards
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.bottle.oxygen import by_oxygen, oxygen_to_expect
from pcbchem.bench.bottle.readings import aged, combined
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.bottle.titration import by_carbonate, by_lye, by_permanganate
from pcbchem.bench.bottle.weighing import by_weighing
from pcbchem.bench.hazards.caution import method_cautions
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import poured
from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.properties import density

T20, FLASK = 293.15, 1e-4  # K; m³, a good flask of 100 mL


def shown(substance, w, T=T20, volume=FLASK):
    """What a balance set with steel shows [kg] for a volume of a liquid: air bears 1.2 g of each litre."""
    return volume * (density(T, **{substance: w}) - 1.2) / (1 - 1.2 / 8000)


def weighed(substance, w, **more):
    return by_weighing(substance, mass=shown(substance, w), volume=FLASK, T=T20, **more)


# kg/L at 20 °C, printed to the last digit shown: an encyclopaedia's table of acid, a model and a handbook for peroxide
PRINTED = [
    ("HCl", 0.10, 1.048, 1.048),
    ("HCl", 0.20, 1.098, 1.098),
    ("HCl", 0.30, 1.149, 1.149),
    ("HCl", 0.32, 1.159, 1.159),
    ("HCl", 0.34, 1.169, 1.169),
    ("HCl", 0.36, 1.179, 1.179),
    ("HCl", 0.38, 1.189, 1.189),
    ("H2O2", 0.03, 1.009, 1.009),
    ("H2O2", 0.06, 1.020, 1.020),
    ("H2O2", 0.12, 1.043, 1.043),
    ("H2O2", 0.30, 1.111, 1.113),
    ("H2O2", 0.35, 1.131, 1.133),
]


@pytest.mark.parametrize("substance, w, low, high", PRINTED)
def test_validation_a_printed_density_gives_its_strength(substance, w, low, high):
    # half the last digit and the 0.1 % of the equation, as a strength: 1.5 and 1.6 kg/m³ of 4.9 (acid), 3.5 (peroxide)
    slack = (0.0005 + 0.001 * high) / (0.49 if substance == "HCl" else 0.35)
    for kg_per_litre, side in ((low, -1), (high, 1)):
        mass = FLASK * (1000 * kg_per_litre - 1.2) / (1 - 1.2 / 8000)
        found = by_weighing(substance, mass=mass, volume=FLASK, T=T20).middle
        assert side * (w - found) <= slack, found


@pytest.mark.parametrize("substance, w, percent", [("HCl", 0.32, 1.0), ("H2O2", 0.20, 1.3)])
def test_validation_five_grams_in_a_litre_are_the_printed_strength(substance, w, percent):
    # 0.5 g more in 100 mL: printed 1.0 % of acid, 1.3 % of peroxide (for 3 to 35 %), to half the last digit
    more = by_weighing(substance, mass=shown(substance, w) + 0.5e-3, volume=FLASK, T=T20).middle
    assert 100 * (more - w) == pytest.approx(percent, abs=0.05)


@pytest.mark.parametrize(
    "substance, w, T",
    [
        ("HCl", 0.05, 303.15),
        ("HCl", 0.24, 313.15),
        ("HCl", 0.32, 278.15),
        ("H2O2", 0.12, 303.15),
        ("H2O2", 0.35, 278.15),
        ("H2O2", 0.35, 303.15),
    ],
)
def test_law_weighing_gives_back_the_strength_at_any_temperature(substance, w, T):
    found = by_weighing(substance, mass=shown(substance, w, T), volume=FLASK, T=T)
    assert found.middle == pytest.approx(w, abs=1e-9)
    # and a temperature left out would show: 10 to 15 K are 0.2 to 0.8 % of density
    assert (
        abs(by_weighing(substance, mass=shown(substance, w, T), volume=FLASK, T=T20).middle - w)
        > 0.004
    )


def test_law_warm_strong_acid_is_not_weighed():
    assert by_weighing(
        "HCl", mass=shown("HCl", 0.32, 298.15), volume=FLASK, T=298.15
    ).middle == pytest.approx(0.32)
    for w, T in ((0.32, 298.2), (0.26, 313.15)):
        with pytest.raises(
            ValueError,
            match=rf"T = {T:g} K is too warm for acid of {100 * w:.0f} %.*at most 298.15",
        ):
            by_weighing("HCl", mass=shown("HCl", w, T), volume=FLASK, T=T)


def test_law_the_air_that_is_pushed_aside_is_put_right():
    # 100 mL of 1.159 kg/L: 115.900 g; air bears 0.120 g of it and 0.015 % of the weights: the balance shows 115.797 g
    w = by_weighing("HCl", mass=0.115797, volume=FLASK, T=T20).middle
    assert density(T20, HCl=w) == pytest.approx(1000 * 1.159, abs=0.01)


def test_law_the_doubt_of_a_weighing_by_hand():
    # 32 % acid: volume 0.3 %, equation 0.1 %, 10 mg of 116 g 0.01 %, 1 K near 0.05 %: the root of squares is 0.32 % of
    # 1159, 3.71 kg/m³. From 30 to 34 % the table rises by 20 kg/m³, 5.0 each per cent (to 5 %: rounded): 0.74 %
    found = weighed("HCl", 0.32)
    assert 100 * found.doubt == pytest.approx(0.74, rel=0.05)
    assert max(found.shares, key=lambda share: share[1])[0] == "volume"
    assert sum(share for _, share in found.shares) == pytest.approx(1) and str(found) == found.words
    # a cylinder of 1 %: with the equation 1.005 % of 1159, 11.65 kg/m³, over 4.97 each per cent
    assert 100 * weighed("HCl", 0.32, volume_doubt="cylinder").doubt == pytest.approx(
        2.34, rel=0.05
    )
    # a syringe of 1.5 % and the equation: 17.4 kg/m³, 3.5 % by weight
    assert 100 * weighed("HCl", 0.32, volume_doubt="syringe").doubt == pytest.approx(3.5, rel=0.05)


@functools.cache
def normal():
    """Six readings, 128 times, spread evenly: randomised Sobol points."""
    from scipy.stats import norm, qmc

    return norm.ppf(qmc.Sobol(6, seed=1).random(128))


# each method with its usual readings, and how the tried reading z doubts off is told to the same function
WEIGHING = dict(mass=shown("HCl", 0.32), T=T20)
SODA = dict(mass=0.212e-3, volume=3.93e-6, dilution=10.0)
LYE = dict(concentration=1000.0, titrant=9.45e-6, sample=1e-5, dilution=10.0)
PINK = dict(concentration=20.0, titrant=17.64e-6, sample=1e-6)
GAS = dict(gas=9.0e-6, sample=1e-6, dilution=5.0, p=101325.0, T_gas=293.15)


def times(value, share, z):
    return value * (1 + share * z)


SYRINGE = 0.015
MONTE_CARLO = {
    # the equation's own doubt counts like a mass in doubt by 0.1 %
    "weighing": lambda z: by_weighing(
        "HCl",
        mass=times(WEIGHING["mass"], 0.001, z[3]) + 1e-5 * z[0],
        volume=times(FLASK, 0.003, z[1]),
        T=T20 + z[2],
    ),
    "weighing, syringe": lambda z: by_weighing(
        "H2O2",
        mass=times(shown("H2O2", 0.35), 0.001, z[3]) + 1e-5 * z[0],
        volume=times(FLASK, 0.01, z[1]),
        T=T20 + z[2],
        volume_doubt=0.01,
    ),
    # weak enough to be weighed warm
    "weighing, T guessed": lambda z: by_weighing(
        "HCl",
        mass=times(shown("HCl", 0.2), 0.001, z[3]) + 1e-5 * z[0],
        volume=times(FLASK, 0.003, z[1]),
        T=T20 + 5 * z[2],
        T_doubt=5.0,
    ),
    # purity of the soda counts like its mass
    "soda": lambda z: by_carbonate(
        mass=times(SODA["mass"], 0.005, z[3]) + 1e-6 * z[0],
        volume=times(SODA["volume"], SYRINGE, z[1]) + 5e-8 * z[4],
        dilution=times(10.0, SYRINGE, z[2]),
    ),
    "lye": lambda z: by_lye(
        concentration=times(1000.0, 0.01, z[0]),
        dilution=times(10.0, SYRINGE, z[3]),
        titrant=times(LYE["titrant"], SYRINGE, z[1]) + 5e-8 * z[4],
        sample=times(1e-5, SYRINGE, z[2]),
    ),
    "permanganate": lambda z: by_permanganate(
        concentration=times(20.0, 0.01, z[0]),
        sample=times(1e-6, SYRINGE, z[2]),
        titrant=times(PINK["titrant"], SYRINGE, z[1]) + 5e-8 * z[4],
    ),
    # 0.8 mL: with 1 mL half of the tried samples would be refused as too large
    "oxygen": lambda z: by_oxygen(
        gas=times(7.0e-6, 0.04, z[0]) + 2e-7 * z[5],
        label=0.12,
        sample=times(0.8e-6, SYRINGE, z[1]),
        dilution=times(5.0, SYRINGE, z[2]),
        p=101325 + 500 * z[3],
        T_gas=293.15 + 2 * z[4],
    ),
}


@pytest.mark.parametrize("method", MONTE_CARLO)
def test_law_linear_propagation_and_monte_carlo_agree_within_5_percent(method):
    tried = MONTE_CARLO[method]
    linear = tried(np.zeros(6))
    found = np.array([tried(z).middle for z in normal()])
    assert np.std(found) == pytest.approx(linear.doubt, rel=0.05)
    assert np.mean(found) == pytest.approx(linear.middle, abs=0.1 * linear.doubt)


NO_DOUBT = {
    by_weighing: dict(volume_doubt=0.0, mass_doubt=0.0, T_doubt=0.0),
    by_carbonate: dict(
        volume_doubt=0.0, dilution_doubt=0.0, end_point=0.0, mass_doubt=0.0, purity_doubt=0.0
    ),
    by_lye: dict(
        concentration_doubt=0.0,
        titrant_doubt=0.0,
        sample_doubt=0.0,
        dilution_doubt=0.0,
        end_point=0.0,
    ),
    by_permanganate: dict(
        concentration_doubt=0.0,
        titrant_doubt=0.0,
        sample_doubt=0.0,
        dilution_doubt=0.0,
        end_point=0.0,
    ),
    by_oxygen: dict(
        gas_doubt=0.0,
        gas_scale=0.0,
        sample_doubt=0.0,
        dilution_doubt=0.0,
        p_doubt=0.0,
        T_gas_doubt=0.0,
    ),
}
AT = {
    by_weighing: dict(WEIGHING, substance="HCl", volume=FLASK),
    by_carbonate: SODA,
    by_lye: LYE,
    by_permanganate: dict(PINK, dilution=2.0),
    by_oxygen: dict(GAS, sample=0.8e-6, gas=7e-6, label=0.12),
}
# doubts not given as a share of the reading of their name: the reading, how far it is moved, and the doubt that says so
OTHERS = {
    "mass_doubt": ("mass", 1e-5, 1e-5),
    "T_doubt": ("T", 1.0, 1.0),
    "p_doubt": ("p", 500.0, 500.0),
    "T_gas_doubt": ("T_gas", 2.0, 2.0),
    "gas_scale": ("gas", 2e-7, 2e-7),
    "end_point": ("titrant", 5e-8, 5e-8),
    "purity_doubt": ("mass", 0.002 * SODA["mass"], 0.002),
}


@pytest.mark.parametrize(
    "method, doubt",
    [(method, doubt) for method, doubts in NO_DOUBT.items() for doubt in doubts],
    ids=lambda value: getattr(value, "__name__", value),
)
def test_law_each_doubt_alone_counts_as_its_reading_moved_by_it(method, doubt):
    # the reading moved up and down by one doubt, the same function asked each time
    at, name = AT[method], doubt.removesuffix("_doubt")
    reading, size, given = OTHERS[doubt] if doubt in OTHERS else (name, 0.002 * at[name], 0.002)
    if reading not in at:
        reading = "volume"  # of acid run in, in place of a titrant
    up, down = (method(**{**at, reading: at[reading] + side * size}).middle for side in (1, -1))
    always = (
        method(**{**at, **NO_DOUBT[method]}).doubt if method is by_weighing else 0.0
    )  # the equation's own
    found = method(**{**at, **NO_DOUBT[method], doubt: given}).doubt
    assert (
        found == pytest.approx(math.hypot(abs(up - down) / 2, always), rel=1e-3) and found > always
    )


def test_law_weighing_cannot_tell_weak_peroxide():
    three = weighed("H2O2", 0.03)
    assert not three.tells and "cannot tell" in three.words and "oxygen" in three.words
    for used in (
        lambda: three.draws(10, 1),
        lambda: three.bottle(None),
        lambda: combined(three),
        lambda: combined(Strength("H2O2", 0.03, 0.001, "oxygen"), three),
    ):
        with pytest.raises(ValueError, match=r"weighing cannot tell: it reads 3.0 ± 0.9"):
            used()
    # the rule: a doubt of a fifth of the reading, which is where 0.005 g/mL or 1.3 % by weight comes to near 6 %
    assert (
        Strength("H2O2", 0.065, 0.013, "").tells and not Strength("H2O2", 0.0649, 0.013, "").tells
    )
    assert weighed("H2O2", 0.30).tells and weighed("HCl", 0.10).tells
    assert not weighed("HCl", 0.10, volume_doubt="syringe").tells
    # as it says, from about 5 % in a good flask: 0.3 % of 1.016 kg/L and the equation, 0.32 % of 1016 over 3.5 kg/m³
    # each per cent are 0.93 %, a fifth of 4.6 %
    assert (
        weighed("H2O2", 0.05).tells
        and not weighed("H2O2", 0.043).tells
        and "about 5 %" in by_weighing.__doc__
    )


def test_law_water_in_the_bottle_is_nothing_and_lead_or_cork_is_a_mistake():
    light = by_weighing("H2O2", mass=shown("H2O2", 0.0) - 0.2e-3, volume=FLASK, T=T20)
    assert (
        light.middle == 0
        and not light.tells
        and light.doubt == pytest.approx(weighed("H2O2", 0.0).doubt, rel=0.01)
    )
    for mass in (0.09, 0.13):
        with pytest.raises(
            ValueError, match=rf"mass = {mass:g} is impossible: it must be 0.0987\d* to 0.122"
        ):
            by_weighing("HCl", mass=mass, volume=FLASK, T=T20)


ACID_READS = Strength("HCl", 0.0365, 0.001, "titration with lye")


def test_law_a_reading_that_the_label_rules_out_is_no_bottle():
    # 32 % acid whose tenfold dilution was forgotten; acid keeps its strength: 3 doubts and the label's own 1 % are all
    with pytest.raises(
        ValueError,
        match=r"label = 0.32.*reads 3.6 ± 0.1 %.*label says 32 %.*0.0235 to 0.0495 kg/kg.*"
        r"a dilution left out.*plan with the label",
    ):
        ACID_READS.bottle(label=0.32)
    for label, fits in ((0.0494, True), (0.0496, False), (0.0236, True), (0.0234, False)):
        if fits:
            assert ACID_READS.bottle(label).label == label
        else:
            with pytest.raises(ValueError, match="one of them is a mistake"):
                ACID_READS.bottle(label)
    with pytest.raises(ValueError, match="stronger of the two"):
        ACID_READS.bottle(0.01)
    # peroxide never grows: 3 doubts above its label, 0.12 + 3 * 0.004
    assert Strength("H2O2", 0.1319, 0.004, "oxygen").bottle(0.12).high > 0.12
    with pytest.raises(
        ValueError,
        match=r"label = 0.12.*reads 13.2 ± 0.4 %.*0.12\d* kg/kg or more.*"
        "stronger of the two",
    ):
        Strength("H2O2", 0.1321, 0.004, "oxygen").bottle(0.12)


def test_law_peroxide_far_below_its_label_needs_a_second_method():
    faded, way = Strength("H2O2", 0.20, 0.005, "oxygen over water"), "titration with permanganate"
    # 85 % of 0.25 is 0.2125; the bottle of this reading ends at 0.20 + 1.732 * 0.005 = 0.2087, for a label of 0.2455
    assert faded.bottle(0.245).label == 0.245
    for single in (faded, combined(faded, Strength("H2O2", 0.201, 0.005, "oxygen over water"))):
        with pytest.raises(
            ValueError,
            match=r"label = 0.25 .*reads 20.\d ± 0.5 %.*far below.*may have faded, or a "
            r"dilution was left out.*second way.*plan with the label",
        ):
            single.bottle(0.25)
    two = combined(faded, Strength("H2O2", 0.201, 0.006, way))
    assert two.methods == ("oxygen over water", way) and two.bottle(0.25).high < 0.2125


@pytest.mark.parametrize(
    "substance, label", [("HCl", 0.10), ("HCl", 0.32), ("H2O2", 0.12), ("H2O2", 0.35)]
)
def test_law_no_reading_under_a_label_takes_a_caution_away_or_turns_the_pouring_round(
    substance, label
):
    def bottles(one):
        other = Bottle.labelled(*(("H2O2", 0.12) if substance == "HCl" else ("HCl", 0.20)))
        return (one, other) if substance == "HCl" else (other, one)

    def pours(pair):
        return list(
            poured(
                Inputs(
                    *pair,
                    parts=(3, 1, 1),
                    board=Board(area=27e-4),
                    tray=Tray(),
                    bath_per_area=0.05,
                    place="elsewhere",
                )
            )
        )

    known = bottles(Bottle(substance, label, label, label))  # its label and nothing else
    said, order = set(hazards.cautions(*known, "GB")), pours(known)
    for share in (0.02, 0.3, 0.8, 0.95):
        read = bottles(Bottle(substance, 0.99 * share * label, share * label, label))
        assert said <= set(hazards.cautions(*read, "GB")) and pours(read) == order
    # and what is stronger than its label counts with its strength
    strong = Bottle(substance, label, 1.2 * label, label)
    assert set(hazards.cautions(*bottles(Bottle(substance, label, 1.2 * label)), "GB")) <= set(
        hazards.cautions(*bottles(strong), "GB")
    )


def test_law_peroxide_above_35_percent_is_not_measured():
    assert weighed("H2O2", 0.36).middle > 0.35  # within its doubt of 35 %
    for tried in (
        lambda: weighed("H2O2", 0.45),
        lambda: oxygen_to_expect(label=0.36, sample=1e-6, dilution=100),
        lambda: by_oxygen(gas=8e-6, sample=1e-6, label=0.70, p=101325, dilution=33),
        lambda: by_permanganate(concentration=20, titrant=17e-6, sample=1e-6, dilution=20),
    ):
        with pytest.raises(
            ValueError,
            match=r"(label|strength) = 0.\d+ kg/kg is too strong: it must be at most 0.35 "
            r"kg/kg.*unopened.*hazardous-waste site",
        ):
            tried()
    assert weighed("HCl", 0.38, volume_doubt=0.001).middle > 0.35  # acid by its own limits


def test_law_two_methods_count_by_their_doubts():
    # weights 1/6² : 1/3² = 1 : 4, mean 0.31 + 4/5 of 0.01 = 0.318; doubt 1/√(1/6² + 1/3²) = 2.6833 thousandths
    both = combined(
        Strength("HCl", 0.31, 0.006, "weighing"), Strength("HCl", 0.32, 0.003, "titration")
    )
    assert both.middle == pytest.approx(0.318) and both.doubt == pytest.approx(0.0026833, rel=1e-4)
    assert both.method == "weighing and titration"


def test_law_one_method_twice_keeps_the_doubt_of_its_vessel():
    once, again = Strength("HCl", 0.31, 0.006, "weighing"), Strength("HCl", 0.32, 0.006, "weighing")
    twice = combined(once, again)
    assert (twice.middle, twice.doubt) == pytest.approx(
        (0.315, 0.006)
    ) and twice.method == "weighing"
    assert combined(once) == once


def test_law_no_method_counts_twice_however_it_is_put_together():
    w, lye = (
        Strength("HCl", 0.31, 0.006, "weighing"),
        Strength("HCl", 0.32, 0.004, "titration with lye"),
    )
    soda = Strength("HCl", 0.315, 0.005, "titration with washing soda")
    pair = combined(w, lye)
    for readings in ((pair, w), (w, pair), (pair, combined(lye, soda))):
        with pytest.raises(
            ValueError, match=r"put together already.*would count twice.*all in one call"
        ):
            combined(*readings)
    # other methods beside a pair are as if all were given at once; the same pair twice keeps its doubt
    assert combined(pair, soda).doubt == pytest.approx(combined(w, lye, soda).doubt)
    assert combined(pair, pair).doubt == pytest.approx(pair.doubt)
    # a reading and its aged copy are one method: no surer than the fresh one
    fresh = Strength("H2O2", 0.30, 0.003, "oxygen over water")
    old = aged(fresh, 1, "closed")
    assert combined(old, fresh).doubt >= min(old.doubt, fresh.doubt)
    assert old.methods == fresh.methods and (old.years, fresh.years) == (1, 0)


def test_law_age_adds_up_in_words():
    twice = aged(
        aged(Strength("H2O2", 0.30, 0.003, "oxygen over water"), 0.5, "closed"), 1, "closed"
    )
    assert twice.method == "oxygen over water, 1.5 years before" and twice.years == 1.5


def test_law_the_doubt_of_an_aged_bottle_to_every_term():
    # moments of a yearly loss, any from 0 to 30 % as likely, by a fine sum; reading and loss are independent
    left = (1 - 0.30 * (np.arange(100_000) + 0.5) / 100_000) ** 1.5
    mean, square = left.mean(), (left**2).mean()
    fresh = Strength("H2O2", 0.10, 0.02, "oxygen")
    exact = math.sqrt((0.10**2 + 0.02**2) * square - (0.10 * mean) ** 2)
    assert aged(fresh, 1.5).doubt == pytest.approx(exact, rel=1e-6)


METHODS = ("weighing", "oxygen", "washing soda", "lye", "permanganate", "offcut")


@pytest.mark.parametrize("method", METHODS)
def test_law_each_method_has_its_cautions_sourced_and_dated(method):
    said = method_cautions(method)
    assert all(c.source and c.as_of >= "2026-11-25" and c.words.endswith(".") for c in said)
    words = " ".join(c.words for c in said)
    assert "Goggles" in words and "never goes back" in words
    assert ("Write the dilution down" in words) == (
        method in ("oxygen", "washing soda", "lye", "permanganate")
    )


@pytest.mark.parametrize(
    "method, needed",
    [
        (
            "oxygen",
            ("Never in a closed vessel", "at least five times", "chlorine", "35 %", "14 times"),
        ),
        ("lye", ("1 mol/L", "eye", "30 minutes", "no acid", "aluminium")),
        ("washing soda", ("foams", "boil", "open flask")),
        (
            "permanganate",
            (
                "hydrochloric acid or a bath: they give off chlorine",
                "concentrated sulfuric acid",
                "explodes",
                "0.02 mol/L",
                "fire",
                "For a teacher",
            ),
        ),
        ("weighing", ("outdoors", "never stopper peroxide")),
        ("offcut", ("flat wide dish", "Plan it first", "both sides", "half an hour")),
    ],
)
def test_law_what_a_method_must_warn_of_is_said(method, needed):
    words = " ".join(c.words for c in method_cautions(method))
    assert all(each in words for each in needed), words


def test_law_the_numbers_of_the_cautions_are_those_of_the_code():
    # 14 times is enough for 35 %, 13 is not; every table row belongs to a method that can be asked for
    oxygen_to_expect(label=0.35, sample=1e-6, dilution=14)
    with pytest.raises(ValueError, match="projectile"):
        oxygen_to_expect(label=0.35, sample=1e-6, dilution=13)
    assert {row["method"] for row in tables.read("method_cautions")} == {
        *METHODS,
        "any",
        "dilution",
    }


def test_law_readings_three_doubts_apart_are_refused_by_name():
    # one standard deviation of the difference is √(4² + 3²) = 5 thousandths: 3 of them are 0.015
    weighing = Strength("HCl", 0.300, 0.004, "weighing")
    assert combined(weighing, Strength("HCl", 0.3149, 0.003, "titration")).middle < 0.3149
    with pytest.raises(
        ValueError,
        match=r"weighing: 30.0 ± 0.4 %.*titration: 31.5 ± 0.3 %.*3.0 doubts apart.*0 to 3",
    ):
        combined(weighing, Strength("HCl", 0.3151, 0.003, "titration"))
    with pytest.raises(ValueError, match=r"weighing: 30.0 ± 0.4 %.*weighing: 33.0 ± 0.4 %"):
        combined(
            weighing, Strength("HCl", 0.31, 0.004, "lye"), Strength("HCl", 0.33, 0.004, "weighing")
        )


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(0.29, 0.31), st.floats(0.007, 0.05)), min_size=1, max_size=5))
def test_law_together_they_lie_between_and_are_surer(pairs):
    each = [Strength("H2O2", w, doubt, f"way {k}") for k, (w, doubt) in enumerate(pairs)]
    both = combined(*each)
    assert min(w for w, _ in pairs) - 1e-12 <= both.middle <= max(w for w, _ in pairs) + 1e-12
    assert both.doubt <= min(doubt for _, doubt in pairs) + 1e-12
    assert combined(*each[::-1]).middle == pytest.approx(both.middle)


def test_validation_stock_peroxide_loses_half_a_percent_of_its_strength_in_a_year():
    # a science service for schools: about 0.5 % of its strength in a year; stabilised under 1 %
    fresh = Strength("H2O2", 0.30, 0.001, "permanganate")
    year = aged(fresh, 1, "closed")
    assert year.middle / fresh.middle == pytest.approx(0.995, abs=1e-9)
    # 0 to 1 %, uniform: 1/√12 = 0.289 % of 0.30 is 0.87 thousandths, with the 0.995 of the reading's own: √(0.87² + 1²)
    assert 1000 * year.doubt == pytest.approx(math.hypot(0.866, 0.995), abs=0.001)
    assert year.words == "permanganate, 1 year before: 29.9 ± 0.1 % by weight"


def test_law_age_takes_away_and_never_adds():
    fresh = Strength("H2O2", 0.10, 0.002, "oxygen")
    same = aged(fresh, 0)
    assert (same.middle, same.doubt) == pytest.approx((fresh.middle, fresh.doubt))
    random = np.random.default_rng(2)
    for kept, most, years in (("closed", 0.01, 10), ("opened", 0.30, 1), ("opened", 0.30, 0.5)):
        old = aged(fresh, years, kept)
        # Monte Carlo of the same: a yearly loss, any in the range as likely, on a strength in doubt
        left = random.normal(0.10, 0.002, 200_000) * (1 - random.uniform(0, most, 200_000)) ** years
        assert old.middle == pytest.approx(left.mean(), rel=0.002) and old.doubt == pytest.approx(
            left.std(), rel=0.02
        )
        assert old.middle < fresh.middle and old.doubt > 0.9 * fresh.doubt
        assert old.bottle(None).high <= fresh.bottle(None).high + 0.001  # the doubt grows downwards
    assert not aged(fresh, 2).tells  # nobody can say: measure again


def test_law_draws_go_into_a_solution():
    strength = Strength("HCl", 0.32, 0.01, "weighing")
    draws = strength.draws(400, seed=3)
    assert isinstance(draws, Draws) and draws.shape == (400,)
    assert np.array_equal(draws, strength.draws(400, seed=3)) and not np.array_equal(
        draws, strength.draws(400, seed=4)
    )
    # mean to 4 standard errors, 4/√400; standard deviation to 4/√800 of itself
    assert np.mean(draws) == pytest.approx(0.32, abs=0.2 * 0.01)
    assert np.std(draws) == pytest.approx(0.01, rel=0.14)
    assert Solution.of(volume=1e-3, T=T20, HCl=draws).draws == 400


def test_law_no_draw_is_stronger_than_the_limit_and_none_piles_up_there():
    draws = np.asarray(Strength("HCl", 0.445, 0.01, "titration").draws(400, seed=3))
    assert draws.max() <= 0.45 and len(np.unique(draws)) == 400
    assert np.mean(draws > 0.449) < 0.1  # a normal cut off, not pushed back


def test_law_the_bottle_has_the_same_mean_and_doubt():
    strength = Strength("H2O2", 0.30, 0.01, "weighing")
    bottle = strength.bottle(label=0.30)
    assert bottle.middle == pytest.approx(0.30) and (bottle.high - bottle.low) / math.sqrt(
        12
    ) == pytest.approx(0.01)
    assert bottle.label == 0.30 and strength.bottle(None).label is None
    assert Strength("HCl", 0.445, 0.01, "").bottle(None).high == 0.45
    Inputs(
        acid=Strength("HCl", 0.10, 0.004, "lye").bottle(None),
        peroxide=bottle,
        parts=(3, 1, 1),
        board=Board(area=27e-4),
        tray=Tray(),
        bath_per_area=0.05,
        place="elsewhere",
    )


def test_law_what_was_not_checked_warns_once():
    with pytest.warns(RangeWarning, match=r"mass fraction of HCl = 0.4\d+.*0 to 0.4") as heard:
        by_weighing("HCl", mass=shown("HCl", 0.40) + 1.0e-3, volume=FLASK, T=T20)
    assert len(heard) == 1 and heard[0].filename == __file__


OLD = Strength("H2O2", 0.1, 0.01, "oxygen")
CASES = [
    (lambda: Strength("NaOH", 0.1, 0.01, ""), ("substance", "'NaOH'", "HCl, H2O2")),
    (lambda: Strength("HCl", 0.46, 0.01, ""), ("middle", "0.46", "0 to 0.45 kg/kg")),
    (lambda: Strength("HCl", np.nan, 0.01, ""), ("middle", "nan", "0 to 0.45 kg/kg")),
    (lambda: Strength("HCl", 0.3, 0.0, ""), ("doubt", "0", "above 0 to 1 kg/kg")),
    (lambda: Strength("HCl", 0.3, [0.1], ""), ("doubt", "[0.1]", "above 0 to 1 kg/kg")),
    (lambda: OLD.draws(401, 1), ("draws", "401", "1 to 400")),
    (lambda: OLD.draws(10, -1), ("seed", "-1", "0 to")),
    (lambda: OLD.bottle(label=0.9), ("label", "0.9", "0 to 0.7")),
    (
        lambda: by_weighing("bleach", mass=0.1, volume=1e-4, T=T20),
        ("substance", "'bleach'", "HCl, H2O2"),
    ),
    (
        lambda: by_weighing("HCl", mass=0.11, volume=0, T=T20),
        ("volume", "0", "1e-07 to 0.00025 m³"),
    ),
    (
        lambda: by_weighing("HCl", mass=0.11, volume=100, T=T20),
        ("volume", "100", "1e-07 to 0.00025 m³ (250 mL)"),
    ),
    (
        lambda: by_weighing("HCl", mass=110, volume=1e-4, T=T20),
        ("mass", "110", "kg for 100 mL of HCl"),
    ),
    (
        lambda: by_weighing("HCl", mass=np.nan, volume=1e-4, T=T20),
        ("mass", "nan", "kg for 100 mL of HCl"),
    ),
    (
        lambda: by_weighing("HCl", mass="0.11", volume=1e-4, T=T20),
        ("mass", "'0.11'", "kg for 100 mL of HCl"),
    ),
    (
        lambda: by_weighing("HCl", mass=as_draws([0.11, 0.12]), volume=1e-4, T=T20),
        ("mass", "0.11", "one number"),
    ),
    (lambda: by_weighing("HCl", mass=0.11, volume=1e-4, T=20), ("T", "20", "273.15 to 313.15 K")),
    (
        lambda: weighed("HCl", 0.3, volume_doubt="bucket"),
        ("volume_doubt", "'bucket'", "flask, syringe"),
    ),
    (lambda: weighed("HCl", 0.3, volume_doubt=1.5), ("volume_doubt", "1.5", "0 to 0.2")),
    (lambda: weighed("HCl", 0.3, volume_doubt=None), ("volume_doubt", "None", "0 to 0.2")),
    (
        lambda: by_weighing("HCl", mass=0.3, volume=2.6e-4, T=T20),
        ("volume", "0.00026", "0.00025 m³"),
    ),
    (
        lambda: weighed("HCl", 0.3, mass_doubt=0.1),
        ("mass_doubt", "mass in doubt by 0.1", "1.9", "above 0 to 1 kg/kg"),
    ),
    (lambda: weighed("HCl", 0.3, mass_doubt=-1), ("mass_doubt", "-1", "0 to 0.1 kg")),
    (lambda: weighed("HCl", 0.3, T_doubt=np.inf), ("T_doubt", "inf", "0 to 10 K")),
    (lambda: combined(), ("strengths", "()", "one Strength or more")),
    (lambda: combined(0.3), ("strengths", "0.3", "one Strength or more")),
    (
        lambda: combined(OLD, Strength("HCl", 0.1, 0.01, "")),
        ("strengths", "H2O2 and HCl are two", "must be one"),
    ),
    (lambda: combined([OLD, OLD]), ("strengths", "one by one")),
    (lambda: aged(0.3, 1), ("strength", "0.3", "a Strength")),
    (lambda: aged(Strength("HCl", 0.3, 0.01, ""), 1), ("substance", "'HCl'", "H2O2")),
    (lambda: aged(OLD, -1), ("years", "-1", "0 to 2 years")),
    (lambda: aged(OLD, 2.1), ("years", "2.1", "0 to 2 years")),
    (
        lambda: method_cautions("spoon"),
        ("method", "'spoon'", "weighing, oxygen, washing soda, lye, permanganate, offcut"),
    ),
    (lambda: aged(OLD, 11, "closed"), ("years", "11", "0 to 10 years")),
    (lambda: aged(OLD, 1, "frozen"), ("kept", "'frozen'", "closed, opened")),
]


@pytest.mark.parametrize("case", CASES, ids=range(len(CASES)))
def test_law_what_cannot_be_is_refused_by_name_value_and_limits(case):
    tried, said = case
    with pytest.raises(ValueError) as error:
        tried()
    assert all(words in str(error.value) for words in said), str(error.value)
