"""Sources: what each is, how a spill weakens against a solver, and what is refused."""

import warnings

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.plans import mild_plan
from helpers.refusals import NAN, Case, assert_refused, cases
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from pcbchem import Board, Bottle, Solution, Tray, plan
from pcbchem.bench.air import (
    REFUSED_BATH,
    bath_source,
    breathe,
    mist,
    open_bottle,
    spill,
    tray,
    workplace,
)
from pcbchem.bench.air.doubts import factor
from pcbchem.bench.air.sources import MISTY, SPILL_DEPTH
from pcbchem.bench.air.surface import transfer
from pcbchem.bench.plan import planning
from pcbchem.common.limits import InputError, RangeWarning
from pcbchem.matter.vapour import hydrogen_chloride, peroxide, saturation_pressure, water
from pcbchem.reaction.bath.setup import AGITATIONS

T20, ATMOSPHERE, R = 293.15, 101_325.0, 8.314462618
MILD = Solution.of(volume=150e-6, T=T20, HCl=0.05, H2O2=0.06)
M_HCl = 0.036461


def share_at(w):
    """Share of acid gas over acid at 20 °C [mol/mol]."""
    return float(hydrogen_chloride(T20, w)) / ATMOSPHERE


def weakening_time():
    """When the vapour of 100 mL of 31.45 % over 0.05 m² is halved [s], as if it were water."""
    stream = float(transfer(0.1, 0.05**0.5, "HCl")) * 0.05
    source = spill(100e-6, 0.3145)
    pace = float(source.weakening(share_at(0.3145), stream))
    # the check takes 0.1156 kg for the 100 mL: the time goes with the mass
    return 0.1156 / float(source.mass) / pace


PUBLISHED = {"a13": weakening_time}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id):
    # Law: another implementation of the same equations
    assert PUBLISHED[id]() == figure_of("checks_vapour_air", id)


def weakened(w, stream, end):
    """Weaken a spill of 100 mL by its mass balance [s]: share of its vapour, and acid gone [kg]."""
    source = spill(100e-6, w)
    mass = float(source.mass)

    def balance(time, amounts):
        acid, whole = amounts
        lost = stream * hydrogen_chloride(T20, acid / whole) / (R * T20) * M_HCl
        return [-lost, -lost]

    solution = solve_ivp(balance, (0, end), [w * mass, mass], rtol=1e-9, atol=1e-15)
    assert solution.success
    acid, whole = solution.y[:, -1]
    share = hydrogen_chloride(T20, acid / whole) / hydrogen_chloride(T20, w)
    return float(share), w * mass - acid


SPILLS = [(w, stream) for w in (0.10, 0.20, 0.3145, 0.36) for stream in (5e-5, 2e-4)]


@pytest.mark.parametrize("w, stream", SPILLS)
def test_law_a_spill_begins_to_weaken_by_its_closed_form(w, stream):
    # down to about a half it is p/(1 + pace t), within 2 %
    pace = float(spill(100e-6, w).weakening(share_at(w), stream))
    end = min(900.0, 1 / pace)
    share, _ = weakened(w, stream, end)
    assert share < 1
    assert 1 / (1 + pace * end) == pytest.approx(share, rel=0.02)


@pytest.mark.parametrize("end", [60.0, 900.0, 7200.0])
@pytest.mark.parametrize("w, stream", SPILLS)
def test_law_a_spill_weakens_by_its_mass_balance(w, stream, end):
    # in steps of a minute: strength of the vapour and what has left within 2 %
    source = spill(100e-6, w)
    steps = int(end / 60)
    at_end, on_average = source.course("HCl", share_at(w), stream, 60.0, steps)
    share, gone = weakened(w, stream, end)
    assert at_end[-1] / share_at(w) == pytest.approx(share, rel=0.02)
    released = stream * np.sum(on_average, axis=0) * 60.0 * ATMOSPHERE / (R * T20) * M_HCl
    assert released == pytest.approx(gone, rel=0.02)
    assert len(at_end) == steps + 1 and len(on_average) == steps
    assert np.all(np.diff(at_end) < 0)


def test_law_nothing_else_weakens():
    for source, gas in ((open_bottle(0.3), "HCl"), (spill(1e-4, 0.3), "H2O")):
        at_end, on_average = source.course(gas, 0.02, 1e-4, 60.0, 5)
        assert np.all(at_end == 0.02) and np.all(on_average == 0.02)
        assert (len(at_end), len(on_average)) == (6, 5)


def test_law_what_is_deep_does_not_weaken():
    assert open_bottle(0.3145).weakening(0.02, 1e-5) == 0
    assert tray(MILD, 0.015).weakening(0.02, 1e-5) == 0


def test_law_a_spill_lies_as_deep_as_its_doubt_says():
    source = spill(100e-6, 0.3145)
    assert float(source.area) * SPILL_DEPTH == pytest.approx(100e-6, rel=1e-12)
    assert source.kind == "spill" and float(source.length) == pytest.approx(0.05**0.5, rel=1e-12)
    # 0.7 to 4 mm: the thinner, the wider; by hand, with the transfer of a pool as long
    room = workplace("open air")
    stream = np.asarray(source.stream("HCl", room, 200, T20))
    depth = np.asarray(factor("spill depth", 200))
    assert 0.7e-3 < depth.min() < 0.75e-3 and 3.7e-3 < depth.max() < 4e-3
    area = 100e-6 / depth
    k = transfer(room.speed(200), np.sqrt(area), "HCl", water_activity=0.3)
    assert stream == pytest.approx(np.asarray(factor("film", 200) * k * area), rel=1e-6)


def test_second_source_with_its_water_a_spill_gives_off_as_much_for_an_hour():
    """Against a balance of acid and of water, in damp air and dry: within 1.2; a shift 2.5."""
    source = spill(100e-6, 0.3145)
    mass = float(source.mass)
    for speed in (0.1, 1.0):
        g = {gas: 0.05 * float(transfer(speed, 0.05**0.5, gas)) for gas in ("HCl", "H2O")}
        for end, most in ((900.0, 1.2), (3600.0, 1.2), (8 * 3600.0, 2.5)):
            for humidity in (0.0, 0.5):

                def balance(time, amounts, g=g, humidity=humidity):
                    acid, whole = amounts
                    w = min(max(acid / whole, 1e-6), 0.44)
                    gas = g["HCl"] * float(hydrogen_chloride(T20, w)) / (R * T20) * M_HCl
                    drive = float(water(T20, w)) - humidity * saturation_pressure(T20)
                    steam = g["H2O"] * drive / (R * T20) * 0.018015
                    return [-gas, -gas - (steam if whole - acid > 1e-5 else max(steam, 0))]

                solution = solve_ivp(
                    balance, (0, end), [0.3145 * mass, mass], rtol=1e-6, method="LSODA"
                )
                with_water = 0.3145 * mass - solution.y[0, -1]
                steps = int(end / 60)
                _, over = source.course("HCl", share_at(0.3145), g["HCl"], 60.0, steps)
                ours = g["HCl"] * np.sum(over, axis=0) * 60 * ATMOSPHERE / (R * T20) * M_HCl
                assert 1 / most < with_water / ours < most, (speed, end, humidity)


def test_law_peroxide_that_is_spilt_stays_as_it_is():
    source = spill(1e-3, 0.0, H2O2=0.30)
    assert source.gases == ("H2O2",) and spill(1e-3, 0.3).gases == ("HCl",)
    # 1.11 kg/L (suppliers): 9.8 mol/L
    assert float(source.H2O2) == pytest.approx(1110 * 0.30 / 0.0340, rel=0.01)
    at_end, _ = source.course("H2O2", 1e-5, 1e-3, 60.0, 5)
    assert np.all(at_end == 1e-5)


def test_law_a_draught_reaches_into_a_neck_as_far_as_it_is_wide():
    """Between the whole height of still air and what is below the draught, draw by draw."""
    room = workplace("shut room")
    brim = np.asarray(open_bottle(0.3145, empty=0.0).stream("HCl", room, 200, T20))
    for empty in (0.01, 0.025, 0.04, 0.1):
        stream = np.asarray(open_bottle(0.3145, empty=empty).stream("HCl", room, 200, T20))
        # resistances to the gas add up: h/(D A) is what still air adds to the brim
        height = (1 / stream - 1 / brim) * 1.69e-5 * np.pi / 4 * 0.025**2
        least = max(0.0, empty - 0.025)
        assert least < 1.01 * height.min() and height.max() < 1.01 * empty
        assert np.ptp(height) > 0.9 * (empty - least)
    # the film as well as the neck, at most 1.3 times apart before
    low, high = np.quantile(
        np.asarray(open_bottle(0.3145).stream("HCl", room, 200, T20)), (0.1, 0.9)
    )
    assert high / low > 2


def test_law_a_neck_holds_its_gas_back():
    room = workplace("shut room")
    brim, low = (open_bottle(0.3145, empty=empty) for empty in (0.0, 0.025))
    deep = open_bottle(0.3145, empty=0.1)
    streams = [np.asarray(each.stream("HCl", room, 200, T20)) for each in (brim, low, deep)]
    assert np.all(streams[0] > streams[1]) and np.all(streams[1] > streams[2])
    # 100 mm: little but diffusion through the neck, D A/h, with h 75 to 100 mm
    still = 1.69e-5 * np.pi / 4 * 0.025**2 / 0.1
    assert 0.95 * still < np.median(streams[2]) < still / 0.75


def test_law_a_share_is_the_vapour_within_its_doubt():
    share = np.asarray(open_bottle(0.3145).share("HCl", 400))
    assert 0.95 * share_at(0.3145) <= share.min() < share.max() <= 1.05 * share_at(0.3145)
    weak = np.asarray(open_bottle(0.05).share("HCl", 400))
    assert 0.79 * share_at(0.05) <= weak.min() and weak.max() <= 1.05 * share_at(0.05)
    assert weak.min() < 0.85 * share_at(0.05)


@pytest.mark.parametrize("copper", [0.0111, 0.1])
def test_law_copper_widens_the_share_between_its_two_ends(copper):
    """Salt takes no gas away, and binds chloride to 1.6 times less at most."""
    bath = Solution.of(volume=150e-6, T=T20, HCl=0.0446, CuCl2=copper)
    share = np.asarray(tray(bath, 0.015).share("HCl", 400))
    alone = hydrogen_chloride(T20, 0.0446)
    upper = hydrogen_chloride(T20, 0.0446, copper)
    least = 0.79 * max(alone, upper / 1.6) / ATMOSPHERE
    most = 1.05 * upper / ATMOSPHERE
    assert least <= share.min() and share.max() <= most
    assert share.max() > 1.05 * share_at(0.0446) and share.min() < 1.15 * least


def test_second_source_copper_chloride_binds_no_more_than_its_complexes_do():
    """Acid and salt, a mole each to a kilogram: free chloride by two complexes (log β 0.83, 0.60).

    Pressure goes with acid and free chloride, as many ions around them as before.
    """

    def chloride(free):
        one, two = 10**0.83 * free, 10**0.60 * free**2
        return free + (one + 2 * two) / (1 + one + two)

    free = brentq(lambda free: chloride(free) - 3.0, 0.1, 3.0)
    mass = 1 + 0.036461 + 0.134452
    upper = float(hydrogen_chloride(T20, 0.036461 / mass, 0.134452 / mass))
    bound = upper * free / 3.0
    alone = float(hydrogen_chloride(T20, 0.036461 / mass))
    assert alone < bound and upper / bound == pytest.approx(1.6, rel=0.2)


def test_law_peroxide_within_its_doubt():
    source = tray(MILD, 0.015, T=301.15)
    share = np.asarray(source.share("H2O2", 400)) * ATMOSPHERE
    middle = float(peroxide(301.15, float(source.H2O2)))
    # salt drives it out, so that in a bath it may be twice as much; in water alone 1.3 times
    assert middle / 1.31 <= share.min() < 0.8 * middle
    assert 1.9 * middle < share.max() <= 2 * middle
    water_only = tray(Solution.of(volume=150e-6, T=T20, H2O2=0.06), 0.015, T=301.15)
    share = np.asarray(water_only.share("H2O2", 400)) * ATMOSPHERE
    middle = float(peroxide(301.15, float(water_only.H2O2)))
    assert middle / 1.31 <= share.min() and 1.25 * middle < share.max() <= 1.3 * middle


def test_law_the_bath_of_a_plan_is_the_tray_of_its_warmest_moment():
    mild = mild_plan()
    source = bath_source(mild)
    assert source.kind == "bath" and source.draws == mild.inputs.draws
    assert np.array_equal(source.T, mild.run.peak_temperature)
    assert np.array_equal(source.HCl, mild.mixture.mass_fraction("HCl"))
    # its peroxide fizzes
    assert source.mist_unknown
    # its open area, that of the tray: what makes the bath 10 mm deep
    volume = mild.inputs.bath_per_area * float(mild.inputs.board.copper_area)
    assert float(source.area) == pytest.approx(volume / 0.010, rel=1e-9)


def test_law_the_bath_of_a_plan_for_a_class_is_the_same():
    mild = mild_plan()
    whole, school = bath_source(mild), bath_source(planning.for_class(mild))
    for name in ("T", "HCl", "H2O2", "area"):
        assert np.array_equal(getattr(whole, name), getattr(school, name)), name


@pytest.mark.parametrize("acid, peroxide_bottle", [(0.37, 0.35), (0.10, 0.005)])
def test_law_a_refused_plan_has_no_air(acid, peroxide_bottle):
    # one refused for harm, one because it never finishes
    bottles = Bottle.labelled("HCl", acid), Bottle.labelled("H2O2", peroxide_bottle)
    refused = plan(*bottles, (0, 1, 1), Board(area=27e-4), volume=20e-6, place="EU", draws=40)
    assert refused.refused
    with pytest.raises(ValueError) as caught:
        bath_source(refused)
    assert str(caught.value) == REFUSED_BATH == "a refused bath has no air: nobody mixes this"


@pytest.mark.parametrize("agitation", AGITATIONS)
def test_law_bubbles_and_spray_make_a_mist_that_is_unknown(agitation):
    acid = Solution.of(volume=150e-6, T=T20, HCl=0.05)
    assert tray(acid, 0.015, agitation=agitation).mist_unknown == (agitation in MISTY)
    assert set(MISTY) == {"bubbled", "sprayed"}
    # and a bath that holds peroxide fizzes by itself
    assert tray(MILD, 0.015, agitation=agitation).mist_unknown
    moved = mild_plan(tray=Tray(agitation, T_air=291.15))
    if not moved.refused:
        assert bath_source(moved).mist_unknown


def test_second_source_a_bath_fizzes_out_more_acid_as_drops_than_as_gas():
    """0.1 L of oxygen while it etches (0.03 to 0.5), 1 to 100 mg of bath a litre, 5 % acid in it.

    The end of what is assumed is above the vapour that leaves it outdoors in a quarter of an hour.
    """
    bath = bath_source(mild_plan(draws=40))
    released = float(np.median(breathe(bath, "open air", 900.0).released))
    assert mist(0.5e-3)[1] * 0.05 > released


def test_law_a_source_warns_once_and_its_air_no_more():
    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        source = open_bottle(0.39)
        source.share("HCl", 5)
        source.share("H2O", 5)
        source.stream("HCl", workplace("shut room"), 5, T20)
    assert [record.category for record in records] == [RangeWarning]
    assert records[0].filename == __file__


REFUSED: list[Case] = [
    ("a bath above 60 °C", lambda: tray(MILD, 0.015, T=340), ("T of the bath", "340", "333.15")),
    ("a frozen bath", lambda: tray(MILD, 0.015, T=270), ("T of the bath", "270", "273.15")),
    ("a bath in °C", lambda: tray(MILD, 0.015, T=28), ("T of the bath", "28", "273.15")),
    ("no area", lambda: tray(MILD, 0), ("area", "0", "above 0 to 4 m²")),
    ("area in cm²", lambda: tray(MILD, 150), ("area", "150", "above 0 to 4 m²")),
    ("no bath", lambda: tray(0.05, 0.015), ("bath", "0.05", "Solution")),
    (
        "movement",
        lambda: tray(MILD, 0.015, agitation="stirred"),
        ("agitation", "stirred", "rocked"),
    ),
    (
        "lye",
        lambda: tray(Solution.of(volume=1e-4, T=T20, NaOH=0.01), 0.015),
        ("bath", "NaOH = 0.01", "0 kg/kg of lye"),
    ),
    ("no plan", lambda: bath_source(MILD), ("plan", "Solution", "Outcome")),
    ("acid in per cent", lambda: open_bottle(31.45), ("HCl", "31.45", "0 to 0.45 kg/kg")),
    ("a neck in mm", lambda: open_bottle(0.3, neck=25), ("neck", "25", "0.005 to 0.2 m")),
    ("above the rim", lambda: open_bottle(0.3, empty=-0.01), ("empty", "-0.01", "0 to 0.5 m")),
    ("a hot bottle", lambda: open_bottle(0.3, T=350), ("T", "350", "273.15 to 333.15 K")),
    ("a boiling bottle", lambda: open_bottle(0.36, T=333), ("HCl", "0.36 at T = 333", "0.5")),
    ("spilt mL", lambda: spill(100, 0.3), ("volume", "100", "1e-06 to 0.005 m³")),
    ("nothing spilt", lambda: spill(0, 0.3), ("volume", "0", "1e-06 to 0.005 m³")),
    ("water spilt", lambda: spill(1e-4, 0), ("HCl", "0", "above 0 to 0.45")),
    ("spilt nowhere", lambda: spill(NAN, 0.3), ("volume", "nan", "1e-06 to 0.005")),
    ("spilt in °C", lambda: spill(1e-4, 0.3, T=20), ("T", "20", "273.15 to 333.15 K")),
    (
        "spilt together",
        lambda: spill(1e-4, 0.3, H2O2=0.3),
        ("HCl", "0.3", "acid and peroxide together are a bath"),
    ),
    ("peroxide in per cent", lambda: spill(1e-4, 0, H2O2=30), ("H2O2", "30", "0 to 0.5 kg/kg")),
    ("spilt shapes", lambda: spill([1e-4] * 3, [0.1, 0.2]), ("volume (3,)", "HCl (2,)")),
    (
        "a gas of none",
        lambda: open_bottle(0.3).share("Cl2", 9),
        ("gas", "Cl2", "HCl, H2O2, H2O"),
    ),
    (
        "scenarios where draws stand",
        lambda: open_bottle([0.1, 0.2]).draw_count(200),
        ("HCl", "draws"),
    ),
    ("no draws", lambda: open_bottle(0.1).draw_count(0), ("draws", "0", "1 to 400")),
]


@cases(REFUSED)
def test_law_impossible_sources_are_refused(call, words):
    assert_refused(call, words)


def test_law_other_draws_than_the_source_has_are_refused():
    source = bath_source(mild_plan(draws=40))
    assert source.draw_count(None) == 40
    with pytest.raises(InputError, match="draws = 200 is impossible: the source has 40"):
        source.draw_count(200)
