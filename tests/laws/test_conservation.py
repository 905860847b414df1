"""Laws: atoms, electrons and heat of a run close, and wild but possible baths stay possible."""

import warnings

import numpy as np
import pytest
from helpers.reference_model import (
    CU,
    DEFAULTS,
    decay,
    heat_capacity,
    heat_lost,
    make_surface,
    wall_area,
)

from pcbchem import EFFECTS, Board, Foil, RangeWarning, RateParameters, Tray, etch
from pcbchem.reaction.bath.film_properties import MOST
from pcbchem.reaction.bath.setup import AGITATIONS, FACINGS, LEAST_DEPTH, Start
from pcbchem.reaction.chemistry.heat import reaction_enthalpy

# "heat of mixing" acts before the etch: it is no switch of a bath whose temperature is given
SWITCHES = tuple(effect for effect in EFFECTS if effect != "heat of mixing")
REASONS = {"copper gone", "no chloride", "acid", "peroxide", "time"}
LOT = 60
# Movement, facing and effects left out, but not in every pair: what a run costs are its steps. All
# pairs of movement and facing are in `test_against_reference`.
LOTS = [
    ("still", "up", ()),
    ("rocked", "down", ("gas stirring",)),
    ("bubbled", "upright", ("cupric route", "bath heating")),
    ("sprayed", "up", ("surface heating",)),
    ("still", "upright", ("depletion", "gas stirring")),
    ("shaken", "up", ("gas stirring",)),
    ("sprayed", "down", ("surface heating", "bath heating", "depletion")),
]


def log_between(generator, low, high):
    """Draw a lot of numbers [own unit] evenly over the powers of ten."""
    return 10 ** generator.uniform(np.log10(low), np.log10(high), LOT)


def amounts(generator, most):
    """Draw concentrations [mol/m³]: of every ten two are none at all, and one is the most."""
    kind = generator.random(LOT)
    between = log_between(generator, 1e-3, most)
    return np.where(kind < 0.2, 0.0, np.where(kind < 0.3, most, between))


def wild_lot(number):
    """Draw a lot of baths over all that the arguments allow.

    Returns the arguments of `Start`, the board, and the temperature of the air [K].
    """
    generator = np.random.default_rng(number)
    area = log_between(generator, 1e-6, 0.1)
    volume = np.maximum(log_between(generator, 1e-7, 1.0), 1.31 * area * LEAST_DEPTH)
    bath = {name: amounts(generator, most) for name, most in MOST.items()}
    bath |= {"T": generator.uniform(260.0, 395.0, LOT), "volume": volume}
    ounces = log_between(generator, 0.05, 10.0)
    T_air = generator.uniform(274.0, 313.0, LOT)
    return bath, Board(area=area, foil=Foil.ounces(ounces)), T_air


@pytest.fixture(scope="module", params=range(len(LOTS)), ids=lambda n: "-".join(LOTS[n][:2]))
def wild(request):
    """A wild lot and its run."""
    bath, board, T_air = wild_lot(request.param)
    agitation, facing, without = LOTS[request.param]
    tray = Tray(agitation=agitation, facing=facing, T_air=T_air)
    with warnings.catch_warnings():
        # far outside what was checked: that is the point
        warnings.simplefilter("ignore", RangeWarning)
        run = etch(Start(**bath), board, tray, without=without)
    return bath, board, T_air, without, run


def test_law_nothing_is_impossible(wild):
    """360 baths in all: no NaN, nothing below zero, nothing hotter than boiling."""
    bath, _, T_air, _, run = wild
    for name, value in run.end.items():
        assert np.all(np.isfinite(value) & (value >= 0)), name
    clear = run.stopped_by == "copper gone"
    assert set(run.stopped_by) <= REASONS
    assert clear.any() and len(set(run.stopped_by)) >= 3  # they are wild indeed
    assert np.all(run.time_to_clear > 0) and np.all(run.reserve >= 0)
    assert np.array_equal(np.isfinite(run.time_to_clear), clear)
    peak, end = run.peak_temperature, run.end
    assert np.all(np.isfinite(peak) & (peak >= np.maximum(bath["T"], end["T"]) - 1e-9))
    assert np.all(peak <= np.maximum(376.0, bath["T"]) + 1e-6)
    # vapour cools an open bath below the air, but not far
    assert np.all(end["T"] >= np.minimum(bath["T"], T_air) - 25.0)
    assert np.all(run.oxygen_amount >= -1e-9 * bath["volume"] * (1 + bath["H2O2"]))


def test_law_atoms_close(wild):
    """Copper and chloride to 1e-9."""
    bath, board, _, without, run = wild
    end = run.end
    # areal weight, not thickness, is what a foil holds
    dissolved = (board.foil.areal_mass - end["thickness"] * 8960.0) / CU
    dissolved = dissolved * board.area / bath["volume"]
    copper = bath["CuCl2"] + bath["CuCl"] + dissolved
    assert end["CuCl2"] + end["CuCl"] == pytest.approx(copper, rel=1e-9, abs=1e-9)
    chloride = bath["HCl"] + 2 * bath["CuCl2"] + bath["CuCl"]
    if "depletion" in without:
        chloride = chloride + 2 * dissolved
    end_chloride = end["HCl"] + 2 * end["CuCl2"] + end["CuCl"]
    assert end_chloride == pytest.approx(chloride, rel=1e-9, abs=1e-9)


def test_law_wild_lots_hold_every_movement_facing_and_effect():
    assert {agitation for agitation, _, _ in LOTS} == set(AGITATIONS)
    assert {facing for _, facing, _ in LOTS} == set(FACINGS)
    assert {effect for _, _, without in LOTS for effect in without} == set(SWITCHES)


def test_law_copper_stops_where_chloride_ends():
    """With one copper to every chloride, as CuCl, nothing is left to carry more."""
    start = Start(HCl=0.0, H2O2=0.0, CuCl2=1.0, T=303.0, volume=1e-4)
    run = etch(start, Board(area=0.1), Tray(T_air=274.0), without=("bath heating",))
    assert float(run.end["CuCl"]) <= 2.0 * (1 + 1e-9)


def story_start(HCl, H2O2, T, millilitres, square_cm, CuCl2=0.0):
    """Name what a story starts from [mol/m³, K, m³, m²]."""
    amounts = {"HCl": HCl, "H2O2": H2O2, "CuCl2": CuCl2}
    return amounts | {"T": T, "volume": millilitres * 1e-6, "area": square_cm * 1e-4}


STORIES = {
    "3:1:1": story_start(1961.8, 2141.3, 298.69, 75, 40),
    "3:1:1 tight": story_start(1961.8, 2141.3, 298.69, 50, 60),
    "undiluted": story_start(5084.9, 4896.8, 305.64, 50, 4),
    "weak peroxide": story_start(4904.4, 370.1, 303.38, 75, 40),
    "mild": story_start(1400.0, 1800.0, 297.0, 150, 27),
    "used before": story_start(2392.4, 265.6, 299.4, 200, 30, CuCl2=800.0),
    "little acid": story_start(300.0, 2000.0, 296.0, 75, 40),
    "never": story_start(1000.0, 60.0, 295.0, 75, 40),
    "dilute": story_start(300.0, 150.0, 294.0, 500, 20),
}
"""Baths whose whole story is integrated: strong, weak, tight, used, hot, acid-poor."""


def all_stories(agitation="rocked", facing="up", **settings):
    """Run every story at once, with its history."""
    baths = list(STORIES.values())
    columns = {name: np.array([bath[name] for bath in baths]) for name in baths[0]}
    area = columns.pop("area")
    tray = Tray(agitation=agitation, facing=facing)
    return etch(Start(**columns), Board(area=area), tray, history=True, **settings)


def leaving(bath, track, agitation, facing):
    """Integrate what leaves a bath, along its history in the package.

    The rates are those of the scalar second model. Returns electrons and oxygen [mol/m³], heat lost
    and warming [J/m³].
    """
    area, volume = bath["area"], bath["volume"]
    a = area / volume
    open_area = max(volume / 0.010, 1.3 * area)
    wall = wall_area(volume, open_area)
    surface = make_surface(DEFAULTS, area, agitation, facing)
    rates = []
    for step in range(len(track["time"])):
        A, C_H, C_I, C_II, T = (float(track[name][step]) for name in CURVES)
        J, j_dec, _, _ = surface(C_H, A, C_II, C_I, T)
        decays = j_dec * a + decay(C_H, C_II, T, DEFAULTS)
        loss = heat_lost(T, A, C_H, 293.15, open_area, wall, DEFAULTS) / volume
        rates.append((2 * J * a + 2 * decays, decays / 2, loss, heat_capacity(A, C_H, C_II + C_I)))
    electrons, oxygen, loss, capacity = np.array(rates).T
    mean_capacity = 0.5 * (capacity[1:] + capacity[:-1])
    return {
        "electrons": float(np.trapezoid(electrons, track["time"])),
        "oxygen": float(np.trapezoid(oxygen, track["time"])),
        "loss": float(np.trapezoid(loss, track["time"])),
        "warming": float(np.sum(mean_capacity * np.diff(track["temperature"]))),
    }


CURVES = ("acid", "peroxide", "Cu(I)", "Cu(II)", "temperature")


def tracks(run):
    """Read the history of every story at its own steps."""
    for row in range(len(STORIES)):
        yield {name: np.asarray(run.steps[name])[row] for name in ("time", *CURVES)}


def fine_tracks(run):
    """Read the history of every story as `at` gives it, close together at first."""
    shares = np.unique(np.concatenate([np.linspace(0, 1, 801), np.geomspace(1e-5, 1, 200)]))
    for row in range(len(STORIES)):
        times = float(run.end["time"][row]) * shares
        curves = run.at(times)
        yield {"time": times} | {name: np.asarray(curves[name])[row] for name in CURVES}


@pytest.fixture(
    scope="module",
    params=[("rocked", "up"), ("still", "down"), ("bubbled", "upright")],
    ids="-".join,
)
def stories(request):
    """Every story: what it starts from, its end, and what left it.

    Steps ten times finer than usual, so that the solver's own error does not hide a wrong balance.
    """
    agitation, facing = request.param
    run = all_stories(agitation, facing, tolerance=1.5e-5)
    books = {}
    for row, (name, track) in enumerate(zip(STORIES, tracks(run), strict=True)):
        bath = STORIES[name]
        end = {key: float(values[row]) for key, values in run.end.items()}
        end["oxygen"] = float(run.oxygen_amount[row])
        end["peak"] = float(run.peak_temperature[row])
        books[name] = bath, end, leaving(bath, track, agitation, facing)
    return books


def electrons_used(bath, end):
    """Return the oxidant electrons by which start and end differ [mol/m³]."""
    return 2 * (bath["H2O2"] - end["H2O2"]) + end["CuCl"]


@pytest.mark.parametrize("name", STORIES)
def test_law_electrons_close(stories, name):
    """What leaves, integrated outside the solver, is what start and end differ by: 1e-3."""
    bath, end, total = stories[name]
    assert total["electrons"] == pytest.approx(electrons_used(bath, end), rel=1e-3)


@pytest.mark.parametrize("name", STORIES)
def test_law_oxygen_closes(stories, name):
    """To 1e-3 of itself, or of all the electrons where it is little."""
    bath, end, total = stories[name]
    doubt = 1e-3 * electrons_used(bath, end) / 4 * bath["volume"]
    oxygen = total["oxygen"] * bath["volume"]
    assert oxygen == pytest.approx(end["oxygen"], rel=1e-3, abs=doubt)


@pytest.mark.parametrize("name", STORIES)
def test_law_heat_closes(stories, name):
    """To 3 %."""
    bath, end, total = stories[name]
    if end["peak"] > 373.0:
        return  # boiling takes heat away as steam, which no balance here follows
    dissolved = end["CuCl"] + end["CuCl2"] - bath["CuCl2"]
    cupric = end["CuCl"] / 2  # Cu + Cu(II) -> 2 Cu(I); the rest went by the direct reaction
    heat = -(
        reaction_enthalpy("direct")[0] * (dissolved - cupric)
        + reaction_enthalpy("cupric")[0] * cupric
        + reaction_enthalpy("decomposition")[0] * 2 * total["oxygen"]
    )
    assert total["warming"] + total["loss"] == pytest.approx(heat, rel=0.03)


def test_law_usual_steps_close_nearly_as_well():
    """With the steps everybody uses, read by `at`, the same books close to a percent."""
    run = all_stories()
    for row, (name, track) in enumerate(zip(STORIES, fine_tracks(run), strict=True)):
        bath = STORIES[name]
        end = {key: float(values[row]) for key, values in run.end.items()}
        electrons = leaving(bath, track, "rocked", "up")["electrons"]
        assert electrons == pytest.approx(electrons_used(bath, end), rel=1e-2), name


def test_law_stories_differ():
    """One boils or nearly, some never clear, one clears in seconds."""
    run = all_stories()
    assert run.peak_temperature.max() > 350.0
    assert set(run.stopped_by) >= {"copper gone", "acid", "peroxide"}
    assert run.time_to_clear.min() < 10.0


def test_law_twice_the_foil_takes_twice_the_time():
    """In a cubic metre of bath that is not allowed to warm, the rate never changes."""
    start = Start(HCl=1961.8, H2O2=2141.3, T=298.69, volume=1.0)
    board = Board(area=40e-4, foil=Foil.ounces(np.array([1.0, 2.0])))
    single, double = etch(start, board, without=("bath heating",)).time_to_clear
    assert double / single == pytest.approx(2.0, abs=0.01)


def test_law_neighbours_do_not_matter():
    """A bath run among others ends as it does alone, wherever it stands on the axes."""
    generator = np.random.default_rng(1)
    HCl, H2O2 = 10 ** generator.uniform(2.5, 3.7, (5, 1)), 10 ** generator.uniform(1.5, 3.7, (1, 7))
    board, parameters = Board(area=30e-4), RateParameters()
    grid = etch(Start(HCl=HCl, H2O2=H2O2, T=297.0, volume=100e-6), board, parameters=parameters)
    assert np.shape(grid.time_to_clear) == (5, 7)
    for i, j in ((0, 0), (4, 6), (2, 3), (3, 1)):
        start = Start(HCl=HCl[i, 0], H2O2=H2O2[0, j], T=297.0, volume=100e-6)
        alone = etch(start, board, parameters=parameters)
        for name in ("time_to_clear", "peak_temperature"):
            value = float(getattr(alone, name))
            assert value == pytest.approx(float(getattr(grid, name)[i, j]), rel=1e-9), name
        assert str(alone.stopped_by) == str(grid.stopped_by[i, j])
