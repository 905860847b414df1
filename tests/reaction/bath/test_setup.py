"""Foil, board, tray and start: what they hold, what they refuse."""

import dataclasses
import re

import numpy as np
import pytest
from helpers.expected import printed_figure
from helpers.refusals import INF, NAN, Case, assert_refused, cases

from pcbchem import Solution
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.limits import InputError
from pcbchem.matter.properties import density
from pcbchem.reaction.bath.setup import (
    AGITATIONS,
    COPPER_MOLAR_MASS,
    MOVEMENTS,
    Board,
    Foil,
    Start,
    Tray,
    check_fits,
)

EUROCARD = Board(0.100, 0.160, 1.0)  # 100 x 160 mm, one side, all copper, 1 oz
ROOMY = {"HCl": 1000.0, "H2O2": 1000.0, "T": 295.0, "volume": 1e-4}


def test_as_printed_one_ounce_is_an_ounce_a_square_foot():
    # both units by definition: 28.349523125 g, 0.09290304 m2; the trade prints 305.15 g/m2
    assert float(Foil.ounces(1).areal_mass) == pytest.approx(0.30515, abs=5e-6)


@pytest.mark.parametrize(("weight", "microns"), [(0.5, 17.1), (1, 34.3), (2, 68.6), (3, 102.9)])
def test_second_source_foil_thicknesses_of_the_standard(weight, microns):
    # IPC-4562 table 1-1 nominal thickness at 8900 kg/m3, 1 oz confirmed, the rest from memory;
    # half the last printed digit
    thickness = float(Foil.ounces(weight).thickness_at(8900))
    assert thickness * 1e6 == pytest.approx(microns, abs=0.05)


PRINTED = {
    "C26": lambda: Foil.ounces(1).areal_mass * 1e3,
    "C26b": lambda: Foil(areal_mass=0.305).thickness_at(8930) * 1e6,
    "C26e": lambda: Foil(areal_mass=0.3355).thickness_at(8930) * 1e6,
    "C26d": lambda: Foil.ounces(1).thickness_at(8900) * 1e6,
    "C27": lambda: EUROCARD.copper * COPPER_MOLAR_MASS * 1e3,
    "C27b": lambda: EUROCARD.copper * 1e3,
}


@pytest.mark.parametrize("check", PRINTED)
def test_published(check):
    # Law: each follows from a definition
    assert float(PRINTED[check]()) == printed_figure(check)


def test_law_thickness_times_density_is_areal_mass():
    foil = Foil(areal_mass=0.5)
    assert float(foil.thickness) * 8960 == pytest.approx(0.5)
    assert float(foil.amount) * 0.063546 == pytest.approx(0.5)


def test_law_area_alone_and_sides_say_the_same():
    sides, alone = Board(0.1, 0.05, 0.5), Board(area=0.0025)
    assert float(sides.area) == pytest.approx(float(alone.area))
    assert float(sides.copper) == pytest.approx(float(alone.copper))
    assert float(sides.side) == pytest.approx(0.05)
    assert float(sides.footprint) == pytest.approx(0.005)
    assert float(alone.footprint) == pytest.approx(0.0025)


def test_law_sides_and_their_own_area_go_together():
    board = Board(0.1, 0.1, 0.5, area=0.005)
    assert float(board.area) == pytest.approx(0.005)
    assert float(board.footprint) == pytest.approx(0.01)


def test_law_a_bare_back_adds_its_share_of_the_board():
    """By hand: 100 × 50 mm, half of it bare before and a quarter behind."""
    board = Board(0.1, 0.05, 0.5, back=0.25)
    assert float(board.area) == pytest.approx(0.00375)
    assert float(board.back_area) == pytest.approx(0.00125)
    assert float(board.copper) == pytest.approx(1.5 * float(Board(0.1, 0.05, 0.5).copper))
    assert float(board.footprint) == pytest.approx(0.005), "the tray is no larger for it"
    assert float(Board(area=0.005).back_area) == 0


def test_law_a_back_goes_along_when_the_foil_is_changed():
    board = dataclasses.replace(Board(0.1, 0.05, 0.5, back=1), foil=Foil.ounces(2))
    assert float(board.area) == pytest.approx(0.0075)


def test_law_a_back_may_be_an_array():
    board = Board(0.1, 0.05, 0.5, back=as_draws([0.0, 0.5, 1.0]))
    assert isinstance(board.area, Draws)
    np.testing.assert_allclose(board.area, [0.0025, 0.005, 0.0075])


def test_law_arrays_broadcast_and_draws_stay_draws():
    board = Board(width=np.array([[0.1], [0.2]]), height=0.1, bare=as_draws([0.4, 0.5, 0.6]))
    assert isinstance(board.area, Draws) and np.shape(board.area) == (2, 3)
    assert isinstance(board.side, Draws) and isinstance(board.copper, Draws)
    np.testing.assert_allclose(board.area[1], 2 * board.area[0])
    assert isinstance(Foil.ounces(as_draws([1.0, 2.0])).thickness, Draws)
    assert isinstance(Tray(open_area=as_draws([0.01, 0.02])).open_area, Draws)


def test_law_a_board_holds_a_copy_of_what_was_given():
    area = np.array([1e-3, 2e-3])
    board = Board(area=area)
    area[0] = -5.0
    assert list(board.area) == [1e-3, 2e-3]


@pytest.mark.parametrize("facing", ["up", "down"])
def test_law_a_board_lying_flat_must_fit(facing):
    whole = Board(0.075, 0.060, 0.6)  # 45 cm2, of which 27 cm2 are bare
    with pytest.raises(ValueError, match=r"board area = 0\.0045 m² .*open_area = 0\.004 m²"):
        check_fits(whole, Tray(facing=facing, open_area=0.004))
    with pytest.raises(ValueError, match="open_area"):
        check_fits(Board(area=0.0027), Tray(open_area=np.array([0.004, 0.0026])))


def test_law_a_board_that_fits_is_let_in():
    tight = {"open_area": 0.004}
    whole = Board(0.075, 0.060, 0.6)
    check_fits(whole, Tray(facing="upright", **tight))  # it hangs
    check_fits(whole, Tray())
    check_fits(Board(area=0.0027), Tray(**tight))  # only the bare area is known
    check_fits(Board(area=0.004), Tray(**tight))  # just fits


def test_law_a_tray_that_nobody_described_has_a_bath_of_10_mm():
    assert Tray().surface(150e-6, 27e-4) == pytest.approx(150e-4)
    assert Tray().surface(10e-6, 27e-4) == pytest.approx(1.3 * 27e-4)  # the board must lie in it
    assert Tray(open_area=0.02).surface(150e-6, 27e-4) == 0.02


def test_law_a_start_holds_what_the_mixed_bath_holds():
    bath = Solution.of(volume=1e-4, T=300.0, HCl=0.07, H2O2=0.05, CuCl2=0.02)
    start = Start.of(bath)
    assert start.volume == pytest.approx(1e-4)
    assert start.mass == bath.mass
    assert start.T == 300.0
    for name in ("HCl", "H2O2", "CuCl2", "CuCl"):
        amount = float(getattr(start, name) * start.volume)
        assert amount == pytest.approx(float(bath.amount(name)), rel=1e-12), name


def test_law_a_start_without_a_mass_weighs_as_its_liquid():
    start = Start(**ROOMY)
    whole = float(density(295.0, HCl=0.036, H2O2=0.034))
    assert float(start.mass) == pytest.approx(whole * 1e-4, rel=0.01)


def test_law_peroxide_holds_two_electrons_and_copper_lacks_one():
    assert Start(**ROOMY, CuCl=30.0).oxidant == 1970.0


REFUSED: list[Case] = [
    ("foil 0", lambda: Foil(areal_mass=0), ("areal_mass = 0 ", "0 to 5")),
    ("foil negative", lambda: Foil(areal_mass=-0.3), ("areal_mass = -0.3", "0 to 5")),
    ("foil in g/m2", lambda: Foil(areal_mass=305), ("areal_mass = 305", "0 to 5")),
    ("foil NaN", lambda: Foil(areal_mass=NAN), ("areal_mass = nan", "0 to 5")),
    ("foil a word", lambda: Foil(areal_mass="1 oz"), ("areal_mass = '1 oz'", "0 to 5")),
    ("ounces 0", lambda: Foil.ounces(0), ("weight = 0", "0 to 16")),
    ("ounces infinite", lambda: Foil.ounces(INF), ("weight = inf", "0 to 16")),
    ("one of many", lambda: Foil.ounces([1, -2]), ("weight = -2", "0 to 16")),
    ("no density", lambda: Foil.ounces(1).thickness_at(0), ("density = 0", "0 to 20000")),
    ("width in mm", lambda: Board(75, 0.06, 0.6), ("width = 75", "0 to 2")),
    ("height negative", lambda: Board(0.075, -0.06, 0.6), ("height = -0.06", "0 to 2")),
    ("bare in percent", lambda: Board(0.075, 0.06, 60), ("bare = 60", "0 to 1")),
    ("bare 0", lambda: Board(0.075, 0.06, 0), ("bare = 0", "0 to 1")),
    ("area in cm2", lambda: Board(area=27), ("area = 27", "0 to 4")),
    ("area 0", lambda: Board(area=0), ("area = 0", "0 to 4")),
    ("back in percent", lambda: Board(0.075, 0.06, 0.6, back=50), ("back = 50", "0 to 1")),
    ("less than no back", lambda: Board(0.1, 0.1, 0.5, back=-0.1), ("back = -0.1", "0 to 1")),
    ("a back of no sides", lambda: Board(area=0.01, back=1), ("back = 1 ", "width, height")),
    ("more copper than there is", lambda: Board(2, 2, 1, back=1), ("area = 8", "0 to 4")),
    ("no size", lambda: Board(), ("width = None", "area alone")),
    ("a side missing", lambda: Board(width=0.1, bare=0.5), ("height = None", "area alone")),
    (
        "a side beside the area",
        lambda: Board(width=0.1, area=0.005),
        ("height = None", "area alone"),
    ),
    ("two sizes", lambda: Board(0.1, 0.1, 0.5, area=0.006), ("area = 0.006", "0.005")),
    ("foil a number", lambda: Board(area=0.01, foil=1.0), ("foil = 1.0", "Foil.ounces")),
    (
        "draws of two lengths",
        lambda: Board(as_draws([0.1, 0.2]), 0.1, as_draws([0.5, 0.6, 0.7])),
        ("width has 2", "bare has 3"),
    ),
    (
        "agitation",
        lambda: Tray(agitation="stirred"),
        ("agitation = 'stirred'", "still, rocked, shaken, bubbled, sprayed"),
    ),
    ("facing", lambda: Tray(facing="left"), ("facing = 'left'", "up, down, upright")),
    ("facing a number", lambda: Tray(facing=1), ("facing = 1", "up, down, upright")),
    ("no open area", lambda: Tray(open_area=0), ("open_area = 0", "above 0 to 4")),
    ("open area negative", lambda: Tray(open_area=-0.01), ("open_area = -0.01", "0 to 4")),
    ("air in Celsius", lambda: Tray(T_air=20), ("T_air = 20", "250 to 400")),
    ("less than no acid", lambda: Start(**ROOMY | {"HCl": -1.0}), ("HCl = -1 ", "0 to 20000")),
    ("endless peroxide", lambda: Start(**ROOMY | {"H2O2": INF}), ("H2O2 = inf ", "30000")),
    ("no bath", lambda: Start(**ROOMY | {"volume": 0.0}), ("volume = 0 ", "1e-07 to 1000")),
    ("bath in Celsius", lambda: Start(**ROOMY | {"T": 22.0}), ("T = 22 ", "250 to 400")),
    (
        "nothing mixed",
        lambda: Start.of(Solution.of(volume=0, T=293, HCl=0.1, H2O2=0.1)),
        ("bath volume = 0 ", "1e-07 to 1000"),
    ),
    (
        "lye",
        lambda: Start.of(Solution.of(volume=1e-4, T=293, NaOH=0.01)),
        ("bath: NaOH = 0.01 ", "must be 0"),
    ),
]


@cases(REFUSED)
def test_law_the_impossible_is_refused(call, words):
    assert_refused(call, words)


def test_law_a_vessel_is_square_unless_its_wall_is_said():
    assert Tray().wall(0.01) == pytest.approx(0.4)
    assert Tray(open_area=0.01, perimeter=0.5).wall(0.01) == 0.5


@pytest.mark.parametrize("perimeter", [0.35, 0.0, -1.0, 9.0, float("nan")])
def test_law_no_wall_is_shorter_than_a_circle(perimeter):
    # a round vessel of 100 cm² has a wall of 35.4 cm
    with pytest.raises(ValueError, match="perimeter"):
        Tray(open_area=0.01, perimeter=perimeter)
    assert Tray(open_area=0.01, perimeter=0.3545).perimeter == pytest.approx(0.3545)


@pytest.mark.parametrize(
    ("open_area", "perimeter", "words"),
    [
        (0.01, 0.35, "perimeter = 0.35 is impossible: it must be 0.354491 to 35.4491 m"),
        ([0.01, 1e-6], 0.36, "perimeter = 0.36 is impossible: it must be 0.00354491 to 0.354491 m"),
        (0.01, [0.36, 0.1], "perimeter = 0.1 is impossible: it must be 0.354491 to 35.4491 m"),
    ],
)
def test_a_wall_is_refused_with_its_length_and_the_least(open_area, perimeter, words):
    """By hand: the circle of 100 cm² is 0.354491 m around, that of 1 mm² a hundredth of it."""
    with pytest.raises(InputError, match=f"^{re.escape(words)}$"):
        Tray(open_area=open_area, perimeter=perimeter)


def test_every_movement_is_defined():
    assert tuple(MOVEMENTS) == AGITATIONS
    assert "10 to 30 tilts a minute" in MOVEMENTS["rocked"]
    assert "a tilt a second" in MOVEMENTS["shaken"]
