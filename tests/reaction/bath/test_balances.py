"""The balances of a bath: copper and chloride by algebra, oxidant, heat, and spent reagents."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Foil, RateParameters, Tray
from pcbchem.reaction.bath.balances import (
    composition,
    heat_loss,
    is_spent,
    oxygen_made,
    run_constants,
    slopes,
)
from pcbchem.reaction.bath.film_properties import Composition, volumetric_heat_capacity
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.bath.stepper import OXIDANT, SHARE, TEMPERATURE, TIME

BOARD = Board(area=27e-4, foil=Foil.ounces(1))
LONGEST = 14_400.0
amounts = st.floats(0, 3000)


def constants_of(start, board=BOARD, without=(), tray=None):
    return run_constants(
        start, board, tray or Tray(), RateParameters(), without, LONGEST, np.shape(start.HCl)
    )


@settings(max_examples=100, deadline=None)
@given(acid=amounts, peroxide=amounts, cupric=amounts, cuprous=amounts, share=st.floats(0, 1))
def test_law_copper_and_chloride_close_exactly(acid, peroxide, cupric, cuprous, share):
    start = Start(acid, peroxide, 300.0, 1e-4, cupric, cuprous)
    c = constants_of(start)
    dissolved = min(share * c["foil"] * c["bare"], float(c["most"]) * c["foil"] * c["bare"])
    bath = composition(c, dissolved, start.oxidant - 2 * dissolved)
    whole = acid + peroxide + 10 * (cupric + cuprous) + 1
    assert bath.copper == pytest.approx(cupric + cuprous + dissolved, abs=1e-12 * whole)
    chloride = bath.acid + 2 * bath.cupric + bath.cuprous
    assert chloride == pytest.approx(acid + 2 * cupric + cuprous, abs=1e-12 * whole)
    assert min(bath.acid, bath.peroxide, bath.cupric, bath.cuprous) >= 0


def test_law_copper_one_waits_for_oxidant_that_is_lacking():
    c = constants_of(Start(HCl=3000.0, H2O2=0.0, T=300.0, volume=1e-4, CuCl2=100.0, CuCl=20.0))
    bath = composition(c, 0.0, -20.0)
    assert (bath.peroxide, bath.cupric, bath.cuprous) == (0.0, 100.0, 20.0)
    bath = composition(c, 0.0, 50.0)  # peroxide has come: no Cu(I) beside it
    assert (bath.peroxide, bath.cupric, bath.cuprous) == (25.0, 120.0, 0.0)


def test_law_copper_one_is_all_that_scarce_chloride_can_bind():
    # two chloride to a Cu(II), one to a Cu(I)
    c = constants_of(Start(HCl=100.0, H2O2=1000.0, T=300.0, volume=1e-4))
    bath = composition(c, 80.0, 1800.0)
    assert (bath.acid, bath.cupric, bath.cuprous) == (0.0, 20.0, 60.0)


def test_law_without_depletion_each_copper_brings_its_chloride():
    c = constants_of(Start(HCl=100.0, H2O2=10.0, T=300.0, volume=1e-4), without=("depletion",))
    assert composition(c, 80.0, 20.0).acid == 100.0
    assert c["most"] == np.inf


def test_law_no_more_foil_can_go_than_there_is_chloride():
    start = Start(HCl=100.0, H2O2=10.0, T=300.0, volume=1e-4, CuCl=30.0)
    most = float(constants_of(start)["most"])
    copper = most * float(BOARD.copper)
    assert copper == pytest.approx(100.0 * 1e-4)


def test_law_heat_lost_to_air_and_by_vapour():
    start = Start(HCl=2000.0, H2O2=1000.0, T=320.0, volume=1.5e-4)
    c = constants_of(start, tray=Tray(open_area=0.02, T_air=295.0))
    bath = composition(c, 0.0, start.oxidant)
    # written afresh: Magnus, the bath's activity of water, half of the room's pressure, Shah
    pressure = {T: 610.94 * np.exp(17.625 * (T - 273.15) / (T - 30.11)) for T in (295.0, 320.0)}
    activity = np.exp(-(0.023 * 2000 + 9.7e-6 * 2000**2 + 0.018 * 1000) / 1000)
    drive = activity * pressure[320.0] - 0.5 * pressure[295.0]
    surface = 18 * 25.0 + 198 * (drive / 2925) ** 1.24
    # four walls of a square of 200 cm², each as high as the bath is deep, 10 W/(m² K)
    walls = 4 * np.sqrt(0.02) * (1.5e-4 / 0.02)
    lost = surface * 0.02 + 10 * walls * 25.0
    assert heat_loss(c, bath, 320.0) == pytest.approx(lost / 1.5e-4)
    # a cold bath takes heat up, but no vapour
    taken_up = (18 * 0.02 + 10 * walls) * 25.0
    assert heat_loss(c, bath, 270.0) == pytest.approx(-taken_up / 1.5e-4)


def test_law_the_walls_lose_by_the_perimeter_that_is_said():
    start = Start(HCl=2000.0, H2O2=1000.0, T=320.0, volume=1.5e-4)
    losses = []
    for perimeter in (None, 0.6, 1.2):
        tray = Tray(open_area=0.02, T_air=295.0, perimeter=perimeter)
        c = constants_of(start, tray=tray)
        losses.append(float(heat_loss(c, composition(c, 0.0, start.oxidant), 320.0)))
    assert losses[2] - losses[1] == pytest.approx(10 * 0.6 * (1.5e-4 / 0.02) * 25.0 / 1.5e-4)
    square = losses[1] + (losses[2] - losses[1]) * (4 * np.sqrt(0.02) - 0.6) / 0.6
    assert losses[0] == pytest.approx(square)


def test_law_a_standing_bath_turns_peroxide_to_oxygen_and_heat():
    start = Start(HCl=1000.0, H2O2=1500.0, T=330.0, volume=1e-4, CuCl2=300.0)
    c = constants_of(start, board=None)
    state = np.array([[0.0], [0.0], [3000.0], [330.0]])
    change, _ = slopes(c, state, np.zeros(1))
    p = RateParameters()
    warmer = np.exp(p.decay_energy / 8.314462618 * (1 / 340.15 - 1 / 330.0))
    decay = p.decay_factor * p.decay_rate * warmer * 1500.0 * 300.0 / (300.0 + p.decay_half)
    seconds = float(change[TIME, 0])  # a unit of the clock
    assert change[SHARE, 0] == 0
    assert change[OXIDANT, 0] / seconds == pytest.approx(-2 * decay)
    bath = Composition(1000.0, 1500.0, 300.0, 0.0)
    heat = 94.7e3 * decay - heat_loss(c, bath, 330.0)
    warming = heat / volumetric_heat_capacity(1000.0, 1500.0, 300.0)
    assert change[TEMPERATURE, 0] / seconds == pytest.approx(warming)


@pytest.mark.parametrize(("T", "share"), [(373.9, 1.0), (375.0, 0.5), (375.9, 0.05), (380.0, 0.0)])
def test_law_near_boiling_heat_makes_steam(T, share):
    start = Start(HCl=1000.0, H2O2=1500.0, T=330.0, volume=1e-4, CuCl2=300.0)
    c = constants_of(start, board=None) | {"loss": np.asarray(0.0), "wall_loss": np.asarray(0.0)}
    state = np.array([[0.0], [0.0], [3000.0], [T]])
    change, _ = slopes(c, state, np.zeros(1))
    made = 94.7e3 * -0.5 * change[OXIDANT, 0]
    warmed = change[TEMPERATURE, 0] * volumetric_heat_capacity(1000.0, 1500.0, 300.0)
    assert warmed / made == pytest.approx(share, abs=1e-9)


@pytest.mark.parametrize("effect", ["bath heating", "depletion"])
def test_law_an_effect_left_out_stands_still(effect):
    start = Start(HCl=2000.0, H2O2=2000.0, T=300.0, volume=1e-4)
    c = constants_of(start, without=(effect,))
    state = np.array([[0.0], [0.0], [4000.0], [300.0]])
    change, _ = slopes(c, state, np.zeros(1))
    row = {"bath heating": TEMPERATURE, "depletion": OXIDANT}[effect]
    assert change[row, 0] == 0 and np.all(change[[TIME, SHARE], 0] > 0)


def test_law_oxygen_is_what_dissolved_no_copper():
    start = Start(HCl=2000.0, H2O2=1000.0, T=300.0, volume=2e-4, CuCl=10.0)
    # 1990 electrons: 600 stay, 2 for each of 300 copper, the rest is oxygen of four
    oxygen = oxygen_made(start, (), np.array([600.0]), 300.0)
    assert oxygen == pytest.approx((1990 - 600 - 600) / 4 * 2e-4)
    assert oxygen_made(start, (), np.array([1990.0]), 0.0) == 0


def test_law_peroxide_is_spent_at_a_hundredth_or_next_to_nothing():
    assert is_spent(10.4, 1000.0) and not is_spent(10.6, 1000.0)
    assert is_spent(0.5, 0.0) and not is_spent(0.6, 0.0)


def test_law_a_bath_that_hardly_wets_the_board_is_refused():
    with pytest.raises(ValueError, match=r"depth of the bath .* = 5\.7\d*e-05 .*0\.0001 to"):
        constants_of(Start(HCl=1.0, H2O2=1.0, T=300.0, volume=1.5e-4), board=Board(area=2.0))
