"""Foil, board and tray: what they hold, what they refuse."""

import numpy as np
import pytest

from pcbchem.common.arrays import Draws, as_draws
from pcbchem.reaction.bath.setup import Board, Foil, Tray, check_fits


def test_transcription_one_ounce_is_one_avoirdupois_ounce_a_square_foot():
    # both units by definition: 28.349523125 g, 0.09290304 m2; the trade prints 305.15 g/m2
    assert float(Foil.ounces(1).areal_mass) == pytest.approx(0.30515, abs=5e-6)


def test_validation_foil_thicknesses_of_the_standard():
    # IPC-4562 table 1-1 nominal thickness at 8900 kg/m3, 1 oz confirmed, the rest from memory; half the last
    # printed digit (0.05 um)
    for weight, microns in ((0.5, 17.1), (1, 34.3), (2, 68.6), (3, 102.9)):
        assert float(Foil.ounces(weight).thickness_at(8900)) * 1e6 == pytest.approx(
            microns, abs=0.05
        )


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


def test_law_arrays_broadcast_and_draws_stay_draws():
    board = Board(width=np.array([[0.1], [0.2]]), height=0.1, bare=as_draws([0.4, 0.5, 0.6]))
    assert isinstance(board.area, Draws) and np.shape(board.area) == (2, 3)
    assert isinstance(board.side, Draws) and isinstance(board.copper, Draws)
    np.testing.assert_allclose(board.area[1], 2 * board.area[0])
    assert isinstance(Foil.ounces(as_draws([1.0, 2.0])).thickness, Draws)
    assert isinstance(Tray(open_area=as_draws([0.01, 0.02])).open_area, Draws)


def test_a_board_lying_flat_must_fit_and_a_hanging_one_need_not():
    tight = {"open_area": 0.004}
    whole = Board(0.075, 0.060, 0.6)  # 45 cm2, of which 27 cm2 are bare
    for facing in ("up", "down"):
        with pytest.raises(ValueError, match=r"board area = 0\.0045 m² .*open_area = 0\.004 m²"):
            check_fits(whole, Tray(facing=facing, **tight))
    check_fits(whole, Tray(facing="upright", **tight))
    check_fits(whole, Tray())
    check_fits(Board(area=0.0027), Tray(**tight))  # only the bare area is known
    check_fits(Board(area=0.004), Tray(**tight))  # just fits
    with pytest.raises(ValueError, match="open_area"):
        check_fits(Board(area=0.0027), Tray(open_area=np.array([0.004, 0.0026])))


IMPOSSIBLE = {
    "foil 0": (lambda: Foil(areal_mass=0), "areal_mass = 0 ", "0 to 5"),
    "foil negative": (lambda: Foil(areal_mass=-0.3), "areal_mass = -0.3", "0 to 5"),
    "foil in g/m2": (lambda: Foil(areal_mass=305), "areal_mass = 305", "0 to 5"),
    "foil NaN": (lambda: Foil(areal_mass=float("nan")), "areal_mass = nan", "0 to 5"),
    "foil a word": (lambda: Foil(areal_mass="1 oz"), "areal_mass = '1 oz'", "0 to 5"),
    "ounces 0": (lambda: Foil.ounces(0), "weight = 0", "0 to 16"),
    "ounces infinite": (lambda: Foil.ounces(float("inf")), "weight = inf", "0 to 16"),
    "one of many": (lambda: Foil.ounces([1, -2]), "weight = -2", "0 to 16"),
    "copper of no density": (lambda: Foil.ounces(1).thickness_at(0), "density = 0", "0 to 20000"),
    "width in mm": (lambda: Board(75, 0.06, 0.6), "width = 75", "0 to 2"),
    "height negative": (lambda: Board(0.075, -0.06, 0.6), "height = -0.06", "0 to 2"),
    "bare in percent": (lambda: Board(0.075, 0.06, 60), "bare = 60", "0 to 1"),
    "bare 0": (lambda: Board(0.075, 0.06, 0), "bare = 0", "0 to 1"),
    "area in cm2": (lambda: Board(area=27), "area = 27", "0 to 4"),
    "area 0": (lambda: Board(area=0), "area = 0", "0 to 4"),
    "no size": (lambda: Board(), "width = None", "area alone"),
    "a side missing": (lambda: Board(width=0.1, bare=0.5), "height = None", "area alone"),
    "two sizes": (lambda: Board(0.1, 0.1, 0.5, area=0.006), "area = 0.006", "0.005"),
    "foil a number": (lambda: Board(area=0.01, foil=1.0), "foil = 1.0", "Foil.ounces"),
    "draws of two lengths": (
        lambda: Board(as_draws([0.1, 0.2]), 0.1, as_draws([0.5, 0.6, 0.7])),
        "width has 2",
        "bare has 3",
    ),
    "agitation": (
        lambda: Tray(agitation="stirred"),
        "agitation = 'stirred'",
        "still, rocked, bubbled, sprayed",
    ),
    "facing": (lambda: Tray(facing="left"), "facing = 'left'", "up, down, upright"),
    "facing a number": (lambda: Tray(facing=1), "facing = 1", "up, down, upright"),
    "open area negative": (lambda: Tray(open_area=-0.01), "open_area = -0.01", "0 to 4"),
    "air in Celsius": (lambda: Tray(T_air=20), "T_air = 20", "250 to 400"),
}


@pytest.mark.parametrize("case", IMPOSSIBLE)
def test_law_the_impossible_is_refused_by_name_value_and_limits(case):
    make, name_and_value, limits = IMPOSSIBLE[case]
    with pytest.raises(ValueError) as refusal:
        make()
    assert name_and_value in str(refusal.value)
    assert limits in str(refusal.value)
