"""The rate at one moment: draws, effects left out, and what is refused."""

import numpy as np
import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem import EFFECTS, RateParameters, Tray
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.reaction.bath.rate import IN_THE_FILM, flux, switched_off
from pcbchem.reaction.bath.setup import AGITATIONS

BATH = {"HCl": 2000.0, "H2O2": 2100.0, "T": 300.0, "area": 40e-4}


def test_law_draws_stay_on_their_axis():
    parameters = RateParameters.plausible(7)
    film = flux(np.array([[1000.0], [2000.0]]), 2100.0, 300.0, 40e-4, parameters=parameters)
    for name, value in film.items():
        assert isinstance(value, Draws) and value.shape == (2, 7), name
    one = flux(2000.0, 2100.0, 300.0, 40e-4, parameters=RateParameters.plausible(1))
    assert float(film["copper"][1, 0]) == pytest.approx(float(one["copper"][0]), rel=1e-9)


def test_law_a_single_moment_gives_numbers():
    film = flux(**BATH)
    assert all(np.ndim(value) == 0 and not isinstance(value, Draws) for value in film.values())


@pytest.mark.parametrize(
    ("effect", "slower"), [("gas stirring", 1.3), ("surface heating", 1.2), ("cupric route", 1.05)]
)
def test_law_each_effect_speeds_a_strong_bath_up(effect, slower):
    whole, without = flux(**BATH), flux(**BATH, without=effect)
    assert whole["copper"] > slower * without["copper"]


def test_law_movement_and_copper_in_the_bath_speed_it_up():
    still, rocked, sprayed = (
        flux(**BATH, tray=Tray(agitation=agitation))["copper"]
        for agitation in ("still", "rocked", "sprayed")
    )
    assert still < rocked < sprayed
    fresh = flux(HCl=3000.0, H2O2=100.0, T=300.0, area=40e-4)["copper"]
    used = flux(HCl=3000.0, H2O2=100.0, T=300.0, area=40e-4, CuCl2=500.0)["copper"]
    assert used > 1.5 * fresh


def test_law_what_is_direct_is_part_of_the_copper():
    film = flux(**BATH)
    assert 0 < film["direct"] < film["copper"] <= 2 * film["direct"] * (1 + 1e-12)


def test_law_film_thickness_is_of_a_few_micrometres():
    # diffusivity over transfer coefficient, the latter at most 8e-4 m/s
    film = flux(**BATH)
    assert film["transfer"] <= 8e-4
    assert 1e-6 < film["film"] < 1e-3


def test_law_one_effect_may_come_without_its_brackets():
    assert switched_off("depletion") == ("depletion",)
    assert switched_off(()) == ()
    assert switched_off(EFFECTS) == EFFECTS
    assert set(IN_THE_FILM) < set(EFFECTS)


REFUSED: list[Case] = [
    ("Celsius", lambda: flux(**BATH | {"T": 20}), ("T = 20 ", "250 to 400")),
    ("no copper", lambda: flux(**BATH | {"area": 0}), ("area = 0 ", "above 0")),
    ("too strong", lambda: flux(**BATH, CuCl=4000.0), ("CuCl = 4000 ", "0 to 3000")),
    ("unknown effect", lambda: flux(**BATH, without=("luck",)), ("without = 'luck'", "gas stirr")),
    (
        "an effect of another place",
        lambda: flux(**BATH, without="depletion"),
        ("without = 'depletion'", "choose from gas stirring"),
    ),
    (
        "draws of two lengths",
        lambda: flux(
            **BATH | {"T": as_draws([300.0, 301.0])}, parameters=RateParameters.plausible(3)
        ),
        ("draws of two lengths", "T has 2"),
    ),
    ("nothing known", lambda: switched_off("gravity"), ("without = 'gravity'", "heat of mixing")),
]


@cases(REFUSED)
def test_law_the_impossible_is_refused(call, words):
    assert_refused(call, words)


@pytest.mark.parametrize("agitation", ["rocked", "shaken"])
def test_law_a_long_board_is_stirred_less_by_the_power(agitation):
    # the surface is quick, nothing fizzes, and natural convection is off: the film alone is left
    alone = {"surface_rate": 0.04, "gas_share": 1e-9, "convection_factor": 1e-6}
    fluxes = []
    for area in (1.41e-2**2, 16 * 1.41e-2**2):
        for power in (0.0, 0.5):
            parameters = RateParameters(size_exponent=power, **alone)
            tray = Tray(agitation=agitation)
            film = flux(100.0, 50.0, 298.15, area, tray=tray, parameters=parameters)
            fluxes.append(float(film["transfer"]))
    small, small_half, large, large_half = fluxes
    assert small == pytest.approx(small_half) == pytest.approx(large)
    # four times as long, to the power of a half
    assert small_half / large_half == pytest.approx(2.0, rel=1e-3)


@pytest.mark.parametrize("agitation", ["still", "bubbled", "sprayed"])
def test_law_only_rocked_and_shaken_have_a_size(agitation):
    tray = Tray(agitation=agitation)
    transfers = []
    for power in (0.0, 0.5):
        parameters = RateParameters(size_exponent=power)
        film = flux(2000.0, 1500.0, 298.15, 40e-4, tray=tray, parameters=parameters)
        transfers.append(float(film["transfer"]))
    assert transfers[0] == transfers[1]


def test_law_more_movement_brings_more_through_the_film():
    transfers = [
        float(flux(100.0, 50.0, 298.15, 27e-4, tray=Tray(agitation=word))["transfer"])
        for word in AGITATIONS
    ]
    assert transfers == sorted(transfers) and len(set(transfers)) == len(transfers)
