"""Laws: atoms, electrons and heat of a run close, whatever is poured; wild but possible input stays finite."""

import warnings

import numpy as np
import pytest
from helpers.reference_model import CU, DEFAULTS, OZ, bath_loss, decay, heat_capacity, make_surface
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pcbchem import EFFECTS, Board, Foil, RangeWarning, RateParameters, Tray, etch
from pcbchem.reaction.bath.film_properties import MOST
from pcbchem.reaction.bath.setup import LEAST_DEPTH, Start
from pcbchem.reaction.chemistry.heat import reaction_enthalpy

# "heat of mixing" acts before the etch: it is no switch of a bath whose temperature is given
SWITCHES = tuple(effect for effect in EFFECTS if effect != "heat of mixing")
REASONS = {"copper gone", "no chloride", "acid", "peroxide", "time"}
PER_OUNCE = OZ / CU  # mol/m²


def log_between(low, high):
    """Numbers spread evenly over the powers of ten, the two ends among them."""
    return st.floats(np.log10(low), np.log10(high)).map(
        lambda power: float(min(max(10**power, low), high))
    )


def amounts(low, high):
    """Concentrations [mol/m³]: none at all, or anything between."""
    return st.one_of(st.just(0.0), log_between(low, high))


baths = st.fixed_dictionaries(
    dict(
        HCl=amounts(1e-3, MOST["HCl"]),
        H2O2=amounts(1e-3, MOST["H2O2"]),
        CuCl2=amounts(1e-3, MOST["CuCl2"]),
        CuCl=amounts(1e-3, MOST["CuCl"]),
        T=st.floats(260.0, 395.0),
        volume=log_between(1e-7, 1.0),
    )
)
boards = st.tuples(log_between(1e-6, 0.1), log_between(0.05, 10.0))
trays = st.tuples(
    st.sampled_from(["still", "rocked", "bubbled", "sprayed"]),
    st.sampled_from(["up", "down", "upright"]),
    st.floats(274.0, 313.0),
)


@settings(
    max_examples=500,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(bath=baths, board=boards, tray=trays, without=st.sets(st.sampled_from(SWITCHES), max_size=3))
def test_law_atoms_close_and_nothing_is_impossible(bath, board, tray, without):
    """500 baths over all that the arguments allow: copper and chloride to 1e-9, no NaN, nothing below zero."""
    area, ounces = board
    agitation, facing, T_air = tray
    bath = {**bath, "volume": max(bath["volume"], 1.31 * area * LEAST_DEPTH)}
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore", RangeWarning
        )  # far outside what was checked: that is the point
        run = etch(
            Start(**bath),
            Board(area=area, foil=Foil.ounces(ounces)),
            Tray(agitation=agitation, facing=facing, T_air=T_air),
            without=tuple(without),
        )
    end = {name: float(value) for name, value in run.end.items()}
    assert all(np.isfinite(value) and value >= 0 for value in end.values()), end
    assert float(run.time_to_clear) > 0 and str(run.stopped_by) in REASONS
    assert np.isinf(run.time_to_clear) == (str(run.stopped_by) != "copper gone")
    assert (
        np.isfinite(run.peak_temperature)
        and float(run.peak_temperature) >= max(bath["T"], end["T"]) - 1e-9
    )
    assert float(run.peak_temperature) <= max(376.0, bath["T"]) + 1e-6 and float(run.reserve) >= 0
    assert (
        end["T"] >= min(bath["T"], T_air) - 25.0
    )  # vapour cools an open bath below the air, but not far
    assert float(run.oxygen_amount) >= -1e-9 * bath["volume"] * (1 + bath["H2O2"])

    # areal weight, not thickness, is what a foil holds
    whole = float(np.asarray(Foil.ounces(ounces).areal_mass))
    gone = (whole - end["thickness"] * 8960.0) / CU * area / bath["volume"]
    copper = bath["CuCl2"] + bath["CuCl"] + gone
    assert end["CuCl2"] + end["CuCl"] == pytest.approx(copper, rel=1e-9, abs=1e-9)
    chloride = bath["HCl"] + 2 * bath["CuCl2"] + bath["CuCl"] + ("depletion" in without) * 2 * gone
    assert end["HCl"] + 2 * end["CuCl2"] + end["CuCl"] == pytest.approx(
        chloride, rel=1e-9, abs=1e-9
    )


def test_law_copper_stops_where_chloride_ends():
    """With one copper to every chloride, as CuCl, nothing is left to carry more: a poor bath on a wide board."""
    start = dict(HCl=0.0, H2O2=0.0, CuCl2=1.0, T=303.0, volume=1e-4)
    run = etch(Start(**start), Board(area=0.1), Tray(T_air=274.0), without=("bath heating",))
    assert float(run.end["CuCl"]) <= 2.0 * (1 + 1e-9)


# Baths whose whole story is integrated: strong, weak, tight, kept, hot, acid-poor, still. [mol/m³,
# K, m³, m²]
STORIES = {
    "3:1:1": dict(HCl=1961.8, H2O2=2141.3, T=298.69, volume=75e-6, area=40e-4),
    "3:1:1 tight": dict(HCl=1961.8, H2O2=2141.3, T=298.69, volume=50e-6, area=60e-4),
    "undiluted": dict(HCl=5084.9, H2O2=4896.8, T=305.64, volume=50e-6, area=4e-4),
    "weak peroxide": dict(HCl=4904.4, H2O2=370.1, T=303.38, volume=75e-6, area=40e-4),
    "mild": dict(HCl=1400.0, H2O2=1800.0, T=297.0, volume=150e-6, area=27e-4),
    "kept": dict(HCl=2392.4, H2O2=265.6, CuCl2=800.0, T=299.4, volume=200e-6, area=30e-4),
    "little acid": dict(HCl=300.0, H2O2=2000.0, T=296.0, volume=75e-6, area=40e-4),
    "never": dict(HCl=1000.0, H2O2=60.0, T=295.0, volume=75e-6, area=40e-4),
    "dilute": dict(HCl=300.0, H2O2=150.0, T=294.0, volume=500e-6, area=20e-4),
}


def story(bath, agitation="rocked", facing="up", **settings):
    """Run a bath, and integrate beside it what leaves: electrons, oxygen [mol/m³], heat lost [J/m³] and warming.

    The rates are those of the scalar second model, read along the package's own history.
    """
    bath = {"CuCl2": 0.0, **bath}
    area = bath.pop("area")
    volume, a = bath["volume"], area / bath["volume"]
    run = etch(
        Start(**bath),
        Board(area=area),
        Tray(agitation=agitation, facing=facing),
        history=True,
        **settings,
    )
    t_end = float(run.end["time"])
    times = t_end * np.unique(np.concatenate([np.linspace(0, 1, 1501), np.geomspace(1e-5, 1, 300)]))
    track = {name: np.ravel(values) for name, values in run.at(times).items()}
    surface = make_surface(DEFAULTS, area, agitation, facing)
    opened = max(volume / 0.010, 1.3 * area) / volume
    electrons, oxygen, lost, capacity = (np.empty(len(times)) for _ in range(4))
    for i in range(len(times)):
        A, C_H, C_I, C_II, T = (
            float(track[key][i]) for key in ("acid", "peroxide", "Cu(I)", "Cu(II)", "temperature")
        )
        J, j_dec, _, _ = surface(C_H, A, C_II, C_I, T)
        spent = j_dec * a + decay(C_H, C_II, T, DEFAULTS)
        electrons[i], oxygen[i] = 2 * J * a + 2 * spent, spent / 2
        lost[i] = opened * bath_loss(T, A, C_H, 293.15)
        capacity[i] = heat_capacity(A, C_H, C_II + C_I)
    warmed = float(np.sum(0.5 * (capacity[1:] + capacity[:-1]) * np.diff(track["temperature"])))
    total = {
        name: float(np.trapezoid(rate, times))
        for name, rate in (("electrons", electrons), ("oxygen", oxygen), ("lost", lost))
    }
    return run, bath, {**total, "warmed": warmed}


@pytest.mark.parametrize("name", STORIES)
@pytest.mark.parametrize(
    "agitation, facing", [("rocked", "up"), ("still", "down"), ("bubbled", "upright")]
)
def test_law_electrons_oxygen_and_heat(name, agitation, facing):
    """What leaves, integrated outside the solver, is what the start and the end differ by: 1e-3, energy 3 %.

    Steps ten times finer than usual, so that the solver's own error does not hide a wrong balance.
    """
    run, bath, total = story(STORIES[name], agitation, facing, tolerance=1.5e-5)
    end, volume = {key: float(value) for key, value in run.end.items()}, bath["volume"]
    used = 2 * (bath["H2O2"] - end["H2O2"]) + end["CuCl"]
    assert total["electrons"] == pytest.approx(used, rel=1e-3)
    assert total["oxygen"] * volume == pytest.approx(
        float(run.oxygen_amount), rel=1e-3, abs=1e-3 * used / 4 * volume
    )

    if (
        float(run.peak_temperature) > 373.0
    ):  # boiling takes heat away as steam, which no balance here follows
        return
    gone = end["CuCl"] + end["CuCl2"] - bath["CuCl2"]
    cupric = end["CuCl"] / 2  # Cu + Cu(II) -> 2 Cu(I); the rest went by the direct reaction
    made = -(
        reaction_enthalpy("direct")[0] * (gone - cupric)
        + reaction_enthalpy("cupric")[0] * cupric
        + reaction_enthalpy("decomposition")[0] * 2 * total["oxygen"]
    )
    assert total["warmed"] + total["lost"] == pytest.approx(made, rel=0.03)


def test_law_usual_steps_close_nearly_as_well():
    """With the steps everybody uses the same books close to a percent."""
    for bath in STORIES.values():
        run, start, total = story(bath)
        used = 2 * (start["H2O2"] - float(run.end["H2O2"])) + float(run.end["CuCl"])
        assert total["electrons"] == pytest.approx(used, rel=1e-2)


def test_law_stories_differ():
    """One boils or nearly, some never clear, one clears in seconds: the balances are asked of different lives."""
    runs = [story(bath)[0] for bath in STORIES.values()]
    assert max(float(run.peak_temperature) for run in runs) > 350.0
    assert {str(run.stopped_by) for run in runs} >= {"copper gone", "acid", "peroxide"}
    assert min(float(run.time_to_clear) for run in runs) < 10.0


def test_law_twice_the_foil_takes_twice_the_time():
    """In a cubic metre of bath that is not allowed to warm, the rate never changes."""
    start = Start(HCl=1961.8, H2O2=2141.3, T=298.69, volume=1.0)
    one, two = (
        float(
            etch(
                start, Board(area=40e-4, foil=Foil.ounces(ounces)), without=("bath heating",)
            ).time_to_clear
        )
        for ounces in (1.0, 2.0)
    )
    assert two / one == pytest.approx(2.0, abs=0.01)


def test_law_neighbours_do_not_matter():
    """A bath run among others ends as it does alone, wherever it stands on the axes."""
    rng = np.random.default_rng(1)
    HCl, H2O2 = 10 ** rng.uniform(2.5, 3.7, (5, 1)), 10 ** rng.uniform(1.5, 3.7, (1, 7))
    board, parameters = Board(area=30e-4), RateParameters()
    grid = etch(Start(HCl=HCl, H2O2=H2O2, T=297.0, volume=100e-6), board, parameters=parameters)
    assert np.shape(grid.time_to_clear) == (5, 7)
    for i, j in ((0, 0), (4, 6), (2, 3), (3, 1)):
        alone = etch(
            Start(HCl=HCl[i, 0], H2O2=H2O2[0, j], T=297.0, volume=100e-6),
            board,
            parameters=parameters,
        )
        assert float(alone.time_to_clear) == pytest.approx(
            float(grid.time_to_clear[i, j]), rel=1e-9
        )
        assert float(alone.peak_temperature) == pytest.approx(
            float(grid.peak_temperature[i, j]), rel=1e-9
        )
        assert str(alone.stopped_by) == str(grid.stopped_by[i, j])
