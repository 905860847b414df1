"""Sources: what each is, how a spill weakens against a solver, and what is refused."""

import warnings

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.plans import mild_plan
from helpers.refusals import NAN, Case, assert_refused, cases
from scipy.integrate import solve_ivp

from pcbchem import Board, Bottle, Solution, Tray, plan
from pcbchem.bench.air import REFUSED_BATH, bath_source, open_bottle, spill, tray, workplace
from pcbchem.bench.air.sources import MISTY, SPILL_DEPTH
from pcbchem.bench.air.surface import transfer
from pcbchem.bench.plan import planning
from pcbchem.common.limits import InputError, RangeWarning
from pcbchem.matter.vapour import hydrogen_chloride, peroxide
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


def test_law_a_spill_is_two_millimetres_deep():
    source = spill(100e-6, 0.3145)
    assert float(source.area) * SPILL_DEPTH == pytest.approx(100e-6, rel=1e-12)
    assert source.kind == "spill" and float(source.length) == pytest.approx(0.05**0.5, rel=1e-12)


def test_law_a_neck_holds_its_gas_back():
    room = workplace("shut room")
    brim, low = (open_bottle(0.3145, empty=empty) for empty in (0.0, 0.025))
    deep = open_bottle(0.3145, empty=0.1)
    streams = [np.asarray(each.stream("HCl", room, 200, T20)) for each in (brim, low, deep)]
    assert np.all(streams[0] > streams[1]) and np.all(streams[1] > streams[2])
    # 100 mm: nothing but diffusion through the neck, D A/h
    assert np.median(streams[2]) == pytest.approx(1.69e-5 * np.pi / 4 * 0.025**2 / 0.1, rel=0.05)


def test_law_a_share_is_the_vapour_within_its_doubt():
    share = np.asarray(open_bottle(0.3145).share("HCl", 400))
    assert 0.95 * share_at(0.3145) <= share.min() < share.max() <= 1.05 * share_at(0.3145)
    weak = np.asarray(open_bottle(0.05).share("HCl", 400))
    assert 0.79 * share_at(0.05) <= weak.min() and weak.max() <= 1.05 * share_at(0.05)
    assert weak.min() < 0.85 * share_at(0.05)


def test_law_copper_widens_the_share_between_its_two_ends():
    bath = Solution.of(volume=150e-6, T=T20, HCl=0.0446, CuCl2=0.0111)
    share = np.asarray(tray(bath, 0.015).share("HCl", 400))
    least = 0.79 * hydrogen_chloride(T20, 0.0446) / ATMOSPHERE
    most = 1.05 * hydrogen_chloride(T20, 0.0446, 0.0111) / ATMOSPHERE
    assert least <= share.min() and share.max() <= most
    assert share.max() > 1.05 * share_at(0.0446)


def test_law_peroxide_within_its_doubt():
    source = tray(MILD, 0.015, T=301.15)
    share = np.asarray(source.share("H2O2", 400)) * ATMOSPHERE
    middle = float(peroxide(301.15, float(source.H2O2)))
    assert middle / 1.31 <= share.min() and share.max() <= 1.3 * middle
    assert np.all(np.asarray(open_bottle(0.1).share("H2O2", 5)) == 0)


def test_law_the_bath_of_a_plan_is_the_tray_of_its_warmest_moment():
    mild = mild_plan()
    source = bath_source(mild)
    assert source.kind == "bath" and source.draws == mild.inputs.draws
    assert np.array_equal(source.T, mild.run.peak_temperature)
    assert np.array_equal(source.HCl, mild.mixture.mass_fraction("HCl"))
    assert not source.mist_unknown
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
    assert tray(MILD, 0.015, agitation=agitation).mist_unknown == (agitation in MISTY)
    assert set(MISTY) == {"bubbled", "sprayed"}
    moved = mild_plan(tray=Tray(agitation, T_air=291.15))
    if not moved.refused:
        assert bath_source(moved).mist_unknown == (agitation in MISTY)


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
