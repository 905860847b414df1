"""The film: heat at rest, fluxes corrected along a step, and starts that once became NaN."""

import warnings

import numpy as np
import pytest
from helpers.random_starts import random_lot

from pcbchem import Board, Bottle, Foil, RangeWarning, RateParameters, Solution, Tray, etch, mix
from pcbchem.reaction.bath.film import (
    COLDEST_FILM,
    converge,
    film_constants,
    film_pass,
    warmth_scale,
)
from pcbchem.reaction.bath.film_properties import Composition, R, volumetric_heat_capacity
from pcbchem.reaction.bath.rate import flux
from pcbchem.reaction.bath.setup import Start


def test_law_a_film_at_rest_loses_the_heat_that_it_makes():
    # worked here afresh: heat made at the copper, and carried off into the bath
    acid, peroxide, T, p = 2000.0, 2100.0, 300.0, RateParameters()
    film = flux(acid, peroxide, T, 40e-4)
    T_film, transfer, gas_share = film["film_temperature"], film["transfer"], film["gas_share"]
    warmer = np.exp(p.surface_energy / R * (1 / 298.15 - 1 / T_film))
    surface = p.surface_rate * warmer * acid / (acid + p.chloride_half)
    acid_ratio = (p.acid_diffusivity / p.peroxide_diffusivity) ** (2 / 3)
    oxidant = min((1 - gas_share) * peroxide, acid_ratio * acid / 2)
    heat = 315.7e3 * oxidant * transfer * surface / (transfer + surface)
    heat += 94.7e3 * gas_share * transfer * peroxide
    lewis = (1.45e-7 / (film["film"] * transfer)) ** p.lewis_exponent
    capacity = volumetric_heat_capacity(acid, peroxide, 0.0)
    assert heat == pytest.approx(transfer * capacity * lewis * (T_film - T), rel=1e-4)


def test_law_without_surface_heating_the_film_is_no_warmer():
    film = flux(2000.0, 2100.0, 300.0, 40e-4, without=("surface heating",))
    assert film["film_temperature"] == 300.0


def random_films(facing, agitation, count=200):
    """Draw films at rest: constants, what they meet, bath temperature and warmth."""
    generator = np.random.default_rng([len(facing), len(agitation)])
    values = {name: np.asarray(value) for name, value in RateParameters().values().items()}
    tray = Tray(agitation=agitation, facing=facing)
    c = film_constants(values, tray, 10 ** generator.uniform(-3.5, -2, count))
    bath = Composition(
        acid=10 ** generator.uniform(2, 3.8, count),
        peroxide=10 ** generator.uniform(1.5, 3.7, count),
        cupric=generator.uniform(0, 800, count),
        cuprous=np.zeros(count),
    )
    T = generator.uniform(280, 330, count)
    (warmth,) = converge([(c, bath, T)])
    return c, bath, T, warmth


@pytest.mark.parametrize(
    ("agitation", "flux_error"), [("still", 8e-4), ("rocked", 8e-4), ("sprayed", 2e-5)]
)
@pytest.mark.parametrize("facing", ["up", "down", "upright"])
def test_law_one_pass_finds_the_film_again(facing, agitation, flux_error):
    """From 0.1 K off, the film comes back to its temperature within 5e-5 K, the fluxes to theirs.

    A wrong slope leaves some of the 0.1 K. The slopes leave out that the oxidant, too, drives
    natural convection: so only under a spray are the fluxes right to first order.
    """
    c, bath, T, warmth = random_films(facing, agitation)
    scale = warmth_scale(c, bath)
    rest = film_pass(c, bath, T, warmth)
    for shift in (-0.1, 0.1):
        film = film_pass(c, bath, T, warmth + shift / scale)
        assert film.warmth * scale == pytest.approx(rest.warmth * scale, abs=5e-5)
        assert film.copper == pytest.approx(rest.copper, rel=flux_error)
        assert film.decay == pytest.approx(rest.decay, rel=flux_error)


def test_law_it_does_not_matter_how_lots_are_cut():
    c, bath, T, _ = random_films("down", "rocked", count=90)
    peroxide = bath.peroxide.copy()
    peroxide[60:] = 0.01  # such films are at rest after fewer passes
    fields = (bath.acid, peroxide, bath.cupric, bath.cuprous)
    (whole,) = converge([(c, Composition(*fields), T)])
    lots = []
    for part in (slice(0, 40), slice(40, 41), slice(41, 60), slice(60, 90)):
        some = {name: value[part] if np.ndim(value) else value for name, value in c.items()}
        lots.append((some, Composition(*(field[part] for field in fields)), T[part]))
    assert np.array_equal(np.concatenate(converge(lots)), whole)


# A Newton step too long once left these films colder than the equations allow, and the run was NaN.


@pytest.mark.filterwarnings("ignore::pcbchem.RangeWarning")
@pytest.mark.parametrize("draws", [200, 400])
def test_law_a_little_acid_in_much_peroxide_stays_finite(draws):
    start = Start(
        HCl=72.85048745160783,
        H2O2=2550.073181913282,
        CuCl2=205.63920939057084,
        CuCl=40.84566368124105,
        T=314.71976355529364,
        volume=1.5217396102797394e-4,
    )
    board = Board(area=27e-4, foil=Foil.ounces(1))
    run = etch(start, board, Tray("rocked", "upright"), RateParameters.plausible(draws))
    assert np.isfinite(run.peak_temperature).all()
    assert set(run.stopped_by) == {"acid", "peroxide"}


def test_law_a_heavy_foil_in_a_narrow_tank_stays_finite():
    # a plan of 20 % acid and 12 % peroxide, 1 : 4, bottles at 30 °C, mixed as the plan mixes it
    area = 0.075 * 0.06 * 0.6
    volume = area * 0.025544796826722553
    peroxide = Bottle.labelled("H2O2", 0.12).strengths(200, 1)
    bath = mix(
        Solution.of(volume=volume / 5, T=303.15, HCl=0.20),
        Solution.of(volume=volume * 4 / 5, T=303.15, H2O2=peroxide),
    )
    board = Board(area=area, foil=Foil(areal_mass=0.915))
    tray = Tray("bubbled", "upright", open_area=20.98e-4, T_air=308.15)
    run = etch(bath, board, tray, RateParameters.plausible(200))
    assert np.isfinite(run.peak_temperature).all()


@pytest.mark.parametrize("without", [(), ("gas stirring",)])
def test_law_random_permitted_starts_stay_finite(without):
    # one small lot; the benchmarks run forty of 40 000 baths each
    start, board, tray = random_lot(4, 20)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        run = etch(start, board, tray, RateParameters.plausible(100), without)
    assert np.isfinite(run.peak_temperature).all()
    assert all(np.isfinite(value).all() for value in run.end.values())


def test_law_a_film_is_never_colder_than_its_floor():
    c, bath, T, _ = random_films("up", "rocked", count=5)
    far_too_cold = film_pass(c, bath, T, -500.0 / warmth_scale(c, bath))
    at_floor = film_pass(c, bath, T, (COLDEST_FILM - T) / warmth_scale(c, bath))
    for value, expected in zip(far_too_cold, at_floor, strict=True):
        assert value == pytest.approx(expected, rel=1e-9)
