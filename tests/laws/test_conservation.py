"""Laws: atoms, electrons and heat of a run close, and wild but possible baths stay possible."""

import itertools
import warnings

import numpy as np
import pytest
from helpers.reference_model import CU, DEFAULTS, bath_loss, decay, heat_capacity, make_surface

from pcbchem import EFFECTS, Board, Foil, RangeWarning, RateParameters, Tray, etch
from pcbchem.reaction.bath.film_properties import MOST
from pcbchem.reaction.bath.setup import AGITATIONS, FACINGS, LEAST_DEPTH, Start
from pcbchem.reaction.chemistry.heat import reaction_enthalpy

# "heat of mixing" acts before the etch: it is no switch of a bath whose temperature is given
SWITCHES = tuple(effect for effect in EFFECTS if effect != "heat of mixing")
REASONS = {"copper gone", "no chloride", "acid", "peroxide", "time"}
LOT = 60
MOVEMENTS = list(itertools.product(AGITATIONS, FACINGS))


def log_between(generator, low, high):
    """Draw a lot of numbers [own unit] evenly over the powers of ten."""
    return 10 ** generator.uniform(np.log10(low), np.log10(high), LOT)


def amounts(generator, most):
    """Draw concentrations [mol/m³]: of every ten two are none at all, and one is the most."""
    kind = generator.random(LOT)
    between = log_between(generator, 1e-3, most)
    return np.where(kind < 0.2, 0.0, np.where(kind < 0.3, most, between))


def wild_lot(number):
    """Draw a lot of baths over all that the arguments allow, as arguments of `Start` and more."""
    generator = np.random.default_rng(number)
    area = log_between(generator, 1e-6, 0.1)
    volume = np.maximum(log_between(generator, 1e-7, 1.0), 1.31 * area * LEAST_DEPTH)
    bath = {name: amounts(generator, most) for name, most in MOST.items()}
    bath |= {"T": generator.uniform(260.0, 395.0, LOT), "volume": volume}
    ounces = log_between(generator, 0.05, 10.0)
    T_air = generator.uniform(274.0, 313.0, LOT)
    count = generator.integers(0, 4)
    without = tuple(generator.choice(SWITCHES, count, replace=False))
    return bath, Board(area=area, foil=Foil.ounces(ounces)), T_air, without


@pytest.fixture(scope="module", params=range(len(MOVEMENTS)), ids=lambda n: "-".join(MOVEMENTS[n]))
def wild(request):
    """A wild lot, a lot for each movement and facing, and its run."""
    bath, board, T_air, without = wild_lot(request.param)
    agitation, facing = MOVEMENTS[request.param]
    tray = Tray(agitation=agitation, facing=facing, T_air=T_air)
    with warnings.catch_warnings():
        # far outside what was checked: that is the point
        warnings.simplefilter("ignore", RangeWarning)
        run = etch(Start(**bath), board, tray, without=without)
    return bath, board, T_air, without, run


def test_law_nothing_is_impossible(wild):
    """720 baths in all: no NaN, nothing below zero, nothing hotter than boiling."""
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


def test_law_wild_lots_leave_every_effect_out_somewhere():
    without = [wild_lot(number)[-1] for number in range(len(MOVEMENTS))]
    assert {effect for effects in without for effect in effects} == set(SWITCHES)
    assert () in without


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


def story(name, agitation="rocked", facing="up", **settings):
    """Run a bath, and integrate beside it what leaves.

    The rates are those of the scalar second model, read along the package's own history. Returns
    the run, what the bath held at the start, and the integrals of electrons and oxygen [mol/m³], of
    heat lost and of warming [J/m³].
    """
    bath = dict(STORIES[name])
    area, volume = bath.pop("area"), bath["volume"]
    a = area / volume
    tray = Tray(agitation=agitation, facing=facing)
    run = etch(Start(**bath), Board(area=area), tray, history=True, **settings)
    shares = np.unique(np.concatenate([np.linspace(0, 1, 1501), np.geomspace(1e-5, 1, 300)]))
    times = float(run.end["time"]) * shares
    track = {name: np.ravel(values) for name, values in run.at(times).items()}
    surface = make_surface(DEFAULTS, area, agitation, facing)
    open_area = max(volume / 0.010, 1.3 * area) / volume
    electrons, oxygen, loss, capacity = (np.empty(len(times)) for _ in range(4))
    rows = zip(
        track["acid"],
        track["peroxide"],
        track["Cu(I)"],
        track["Cu(II)"],
        track["temperature"],
        strict=True,
    )
    for i, row in enumerate(rows):
        A, C_H, C_I, C_II, T = map(float, row)
        J, j_dec, _, _ = surface(C_H, A, C_II, C_I, T)
        decayed = j_dec * a + decay(C_H, C_II, T, DEFAULTS)
        electrons[i] = 2 * J * a + 2 * decayed
        oxygen[i] = decayed / 2
        loss[i] = open_area * bath_loss(T, A, C_H, 293.15)
        capacity[i] = heat_capacity(A, C_H, C_II + C_I)
    mean_capacity = 0.5 * (capacity[1:] + capacity[:-1])
    total = {
        "electrons": float(np.trapezoid(electrons, times)),
        "oxygen": float(np.trapezoid(oxygen, times)),
        "loss": float(np.trapezoid(loss, times)),
        "warming": float(np.sum(mean_capacity * np.diff(track["temperature"]))),
    }
    return run, bath, total


@pytest.mark.parametrize("name", STORIES)
@pytest.mark.parametrize(
    ("agitation", "facing"), [("rocked", "up"), ("still", "down"), ("bubbled", "upright")]
)
def test_law_electrons_oxygen_and_heat(name, agitation, facing):
    """What leaves, integrated outside the solver, is what start and end differ by: 1e-3, heat 3 %.

    Steps ten times finer than usual, so that the solver's own error does not hide a wrong balance.
    """
    run, bath, total = story(name, agitation, facing, tolerance=1.5e-5)
    end, volume = {key: float(value) for key, value in run.end.items()}, bath["volume"]
    electrons = 2 * (bath["H2O2"] - end["H2O2"]) + end["CuCl"]
    assert total["electrons"] == pytest.approx(electrons, rel=1e-3)
    oxygen, doubt = float(run.oxygen_amount), 1e-3 * electrons / 4 * volume
    assert total["oxygen"] * volume == pytest.approx(oxygen, rel=1e-3, abs=doubt)

    if float(run.peak_temperature) > 373.0:
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
    """With the steps everybody uses the same books close to a percent."""
    for name in STORIES:
        run, start, total = story(name)
        electrons = 2 * (start["H2O2"] - float(run.end["H2O2"])) + float(run.end["CuCl"])
        assert total["electrons"] == pytest.approx(electrons, rel=1e-2), name


def test_law_stories_differ():
    """One boils or nearly, some never clear, one clears in seconds."""
    runs = []
    for bath in STORIES.values():
        start = {name: value for name, value in bath.items() if name != "area"}
        runs.append(etch(Start(**start), Board(area=bath["area"])))
    assert max(float(run.peak_temperature) for run in runs) > 350.0
    assert {str(run.stopped_by) for run in runs} >= {"copper gone", "acid", "peroxide"}
    assert min(float(run.time_to_clear) for run in runs) < 10.0


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
