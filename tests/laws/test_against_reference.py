"""Second source: the package's array solver against the scalar second model run by LSODA."""

from dataclasses import fields
from itertools import product

import numpy as np
import pytest
from helpers.reference_model import (
    CU,
    DEFAULTS,
    FIRST_EDITION,
    OZ,
    SWITCHES,
    case,
    make_surface,
    published_baths,
    solve,
)
from helpers.reference_model import stand as stand_again

from pcbchem import EFFECTS, Board, Foil, RateParameters, Tray, etch, stand
from pcbchem.reaction.bath.rate import flux
from pcbchem.reaction.bath.setup import AGITATIONS, FACINGS, Start

T_MAX = 14_400.0
FINE = 2e-4
"""A tenth of the usual steps: where the equations are compared, and baths are harder to step than
most. How exact the usual steps are is held by the benchmarks."""
ENDS = {
    "HCl": "end_acid_mol_m3",
    "H2O2": "end_peroxide_mol_m3",
    "CuCl2": "end_CuII_mol_m3",
    "CuCl": "end_CuI_mol_m3",
}
"""Columns of the worked cases."""


def package(bath, agitation="rocked", facing="up", without=(), parameters=None, **settings):
    """Run the package on baths, one or arrays of them, in the form that the reference takes."""
    start = Start(
        HCl=bath["HCl"],
        H2O2=bath["H2O2"],
        CuCl2=bath["CuII"],
        CuCl=bath["CuI"],
        T=bath["T"],
        volume=bath["volume"],
    )
    board = Board(area=bath["area"], foil=Foil.ounces(bath["foil_ounces"]))
    tray = Tray(
        agitation=agitation,
        facing=facing,
        open_area=bath["open_area"],
        perimeter=bath.get("perimeter"),
        T_air=bath["T_air"],
    )
    return etch(start, board, tray, parameters or RateParameters(), without=without, **settings)


def random_baths(generator, count):
    """Draw baths over all that people might mix [SI].

    Strong and weak, tight and roomy (0.6 to 8 mL/cm²), small and large (1 to 400 cm²), fresh and
    used.
    """

    def log_between(low, high):
        return 10 ** generator.uniform(np.log10(low), np.log10(high), count)

    area = log_between(1e-4, 400e-4)
    volume = area * log_between(0.006, 0.08)
    used_before = generator.random(count) < 0.5
    return dict(
        HCl=log_between(300, 5000),
        H2O2=log_between(50, 4900),
        T=generator.uniform(285, 310, count),
        CuII=np.where(used_before, generator.uniform(0, 800, count), 0.0),
        CuI=np.zeros(count),
        volume=volume,
        area=area,
        foil_ounces=generator.choice([0.5, 1.0, 2.0], count),
        open_area=np.maximum(volume / 0.010, 1.3 * area) * generator.uniform(1, 2, count),
        T_air=generator.uniform(285, 303, count),
    )


def deep_baths(generator, count):
    """Draw baths in narrow jars, 4 to 15 cm deep, round or with up to twice a square's sides."""
    baths = random_baths(generator, count)
    depth = generator.uniform(0.04, 0.15, count)
    baths["open_area"] = baths["volume"] / depth
    # A circle has 0.886 of a square's perimeter
    sides = 4 * generator.uniform(0.89, 2.0, count)
    baths["perimeter"] = sides * np.sqrt(baths["open_area"])
    return baths


def rows_of(arrays):
    """Take a dictionary of arrays apart into dictionaries of numbers, one for each row."""
    count = len(next(iter(arrays.values())))
    return [{name: float(column[row]) for name, column in arrays.items()} for row in range(count)]


def differences(run, row, reference, bath):
    """Find what differs too much between a row of a run and the reference.

    Times 0.6 %, temperatures 0.5 K, amounts 1 %. For peroxide that is left 0.5 % of its start is
    allowed as well: a boiling bath burns most of it in seconds. Returns words by what differs.
    """
    off = {}

    def compare(name, values, exact, tolerance):
        value = float(np.asarray(values)[row])
        if abs(value - exact) > tolerance:
            off[name] = f"{value:.6g}, reference {exact:.6g}"

    time, exact_time = float(run.time_to_clear[row]), reference.time_to_clear
    if np.isinf(time) != np.isinf(exact_time):
        # Near the end of the time either may be right, and then the ends say nothing
        if min(time, exact_time) < 0.99 * T_MAX:
            off["time"] = f"{time:.6g} s, reference {exact_time:.6g} s"
        return off
    if np.isfinite(time):
        compare("time", run.time_to_clear, exact_time, 0.006 * exact_time)
    compare("reserve", run.reserve, reference.reserve, 1e-5 * reference.reserve)
    compare("peak", run.peak_temperature, reference.peak_temperature, 0.5)
    compare("end temperature", run.end["T"], reference.end["T"], 0.5)
    for name in ENDS:
        tolerance = 0.01 * reference.end[name] + 2.0
        if name == "H2O2":
            tolerance += 0.005 * bath["H2O2"]
        compare(name, run.end[name], reference.end[name], tolerance)
    reason = str(run.stopped_by[row])
    if reason != reference.stopped_by and not is_near_a_limit(reference, bath):
        off["stopped by"] = f"{reason}, reference {reference.stopped_by}"
    return off


def is_near_a_limit(reference, bath):
    """Tell whether the reason for stopping hangs on less than the solver's own error."""
    acid = reference.end["HCl"] / bath["HCl"]
    peroxide = reference.end["H2O2"] - 0.01 * bath["H2O2"]
    near_acid = abs(acid - 0.05) < 0.001
    near_peroxide = abs(peroxide - 0.5) < 0.01 * (1 + bath["H2O2"] / 100)
    return near_acid or near_peroxide


def all_differences(run, baths, **settings):
    """Run the reference on every bath, and list where it differs from the package's run."""
    wrong = []
    for row, bath in enumerate(rows_of(baths)):
        off = differences(run, row, solve(**bath, **settings), bath)
        if off:
            wrong.append((bath, off))
    return wrong


@pytest.mark.parametrize(("agitation", "facing"), list(product(AGITATIONS, FACINGS)))
def test_second_source_varied_baths(agitation, facing):
    generator = np.random.default_rng([7, *agitation.encode(), *facing.encode()])
    baths = random_baths(generator, 5)
    run = package(baths, agitation, facing)
    assert all_differences(run, baths, agitation=agitation, facing=facing) == []


@pytest.mark.parametrize("agitation", ["rocked", "shaken"])
def test_second_source_deep_vessels(agitation):
    """Upright boards in jars whose perimeter is given: the wall loses as much as the surface."""
    baths = deep_baths(np.random.default_rng([17, *agitation.encode()]), 8)
    run = package(baths, agitation, "upright", tolerance=FINE)
    assert all_differences(run, baths, agitation=agitation, facing="upright") == []


def test_law_the_wall_of_a_deep_vessel_matters():
    """Else the test above could not tell a model with walls from one without."""
    baths = deep_baths(np.random.default_rng([17, *b"rocked"]), 8)
    bare = RateParameters().replace(wall_loss=0.0)
    run = package(baths, "rocked", "upright", parameters=bare, tolerance=FINE)
    assert all_differences(run, baths, agitation="rocked", facing="upright") != []


@pytest.mark.parametrize("area", [1e-4, 400e-4], ids=["1 cm2", "400 cm2"])
@pytest.mark.parametrize("agitation", ["rocked", "shaken"])
def test_second_source_from_offcut_to_large_board(agitation, area):
    """The mild bath over the smallest and the largest board, rocked and shaken."""
    bath = dict(HCl=1400.0, H2O2=1800.0, CuII=0.0, CuI=0.0, T=296.0, T_air=293.15)
    bath |= dict(volume=area * 0.055, area=area, foil_ounces=1.0, open_area=5.5 * area)
    run = package({name: np.array([value]) for name, value in bath.items()}, agitation)
    assert differences(run, 0, solve(**bath, agitation=agitation), bath) == {}


@pytest.mark.parametrize("perimeter", [None, 0.20])
def test_second_source_standing(perimeter):
    """A used bath left in a jar for five hours: peak, end, peroxide and oxygen."""
    generator = np.random.default_rng(23)
    count = 6
    baths = dict(
        HCl=generator.uniform(500, 3000, count),
        H2O2=generator.uniform(200, 2500, count),
        CuII=generator.uniform(20, 400, count),
        T=generator.uniform(288, 310, count),
    )
    volume, open_area, duration = 100e-6, 16e-4, 18_000.0
    start = Start(
        HCl=baths["HCl"], H2O2=baths["H2O2"], CuCl2=baths["CuII"], T=baths["T"], volume=volume
    )
    rest = stand(start, Tray(open_area=open_area, perimeter=perimeter), duration)
    vessel = dict(volume=volume, open_area=open_area, perimeter=perimeter, duration=duration)
    for row, bath in enumerate(rows_of(baths)):
        exact = stand_again(**bath, **vessel)
        assert rest.peak_temperature[row] == pytest.approx(exact.peak_temperature, abs=0.5)
        assert rest.temperature[row] == pytest.approx(exact.temperature, abs=0.5)
        left = pytest.approx(exact.peroxide, rel=0.01, abs=0.005 * bath["H2O2"] + 2)
        assert rest.peroxide[row] == left


def test_law_varied_baths_are_varied():
    """They hold clearing and never clearing ones, and more than two reasons for stopping."""
    run = package(random_baths(np.random.default_rng(0), 60), "still")
    assert {"copper gone", "acid", "peroxide", "time"} <= set(run.stopped_by)


@pytest.mark.parametrize("row", published_baths(), ids=lambda row: row["id"])
def test_second_source_worked_cases(row):
    """The eight cases computed earlier by another program from the same equations: 2 %, 1 K.

    They are of the first edition: no walls, and a stirring that knows no size.
    """
    bath = {"CuI": 0.0, **case(row)}
    agitation, facing = bath.pop("agitation"), bath.pop("facing")
    run = package(bath, agitation, facing, parameters=RateParameters().replace(**FIRST_EDITION))
    peak = float(run.peak_temperature) - 273.15
    assert float(run.time_to_clear) == pytest.approx(float(row["time_to_clear_s"]), rel=0.02)
    assert peak == pytest.approx(float(row["peak_T_C"]), abs=1.0)
    for name, column in ENDS.items():
        exact = float(row[column])
        assert float(run.end[name]) == pytest.approx(exact, rel=0.02, abs=1.0), name


@pytest.mark.parametrize("effect", SWITCHES)
def test_second_source_with_one_effect_removed(effect):
    assert effect in EFFECTS
    baths = random_baths(np.random.default_rng(11), 6)
    run = package(baths, without=(effect,), tolerance=FINE)
    assert all_differences(run, baths, without=(effect,)) == []


SPREADS = {
    "size_exponent": (0, 0.5),
    "gas_order": (0, 1),
    "lewis_exponent": (0.5, 0.67),
    "surface_energy": (3e4, 6e4),
    "decay_energy": (6e4, 9e4),
    "gas_energy": (1e4, 3e4),
    "cuprous_temperature": (1500, 2600),
}
"""Parameters of which half or twice would be too much: between what they are drawn."""


@pytest.mark.parametrize("agitation", ["rocked", "shaken", "bubbled"])
def test_second_source_with_other_parameters(agitation):
    """Half to twice every default: no constant may be hidden anywhere else in the code."""
    count = 8
    generator = np.random.default_rng([5, *agitation.encode()])
    parameters = {}
    for name, default in DEFAULTS.items():
        # Stirring of a still bath is 0, and no parameter of the package
        if default > 0:
            parameters[name] = default * 2 ** generator.uniform(-1, 1, count)
    for name, (low, high) in SPREADS.items():
        parameters[name] = generator.uniform(low, high, count)
    baths = random_baths(generator, count)
    run = package(baths, agitation, parameters=RateParameters().replace(**parameters))
    wrong = []
    for row, (bath, values) in enumerate(zip(rows_of(baths), rows_of(parameters), strict=True)):
        reference = solve(**bath, agitation=agitation, parameters=values)
        off = differences(run, row, reference, bath)
        if off:
            wrong.append((bath, values, off))
    assert wrong == []


def test_as_printed_default_parameters():
    """Two hands wrote the defaults down from the same table."""
    parameters = RateParameters()
    positive = {name for name, default in DEFAULTS.items() if default > 0}
    assert {field.name for field in fields(parameters)} == positive
    for name in positive:
        default = float(getattr(parameters, name))
        assert default == pytest.approx(DEFAULTS[name], rel=1e-12), name


@pytest.mark.parametrize(
    ("volume", "area", "H2O2"),
    [(75e-6, 40e-4, 2141.3), (50e-6, 60e-4, 2141.3), (75e-6, 40e-4, 370.0)],
    ids=["strong", "tight", "weak"],
)
def test_second_source_history(volume, area, H2O2):
    """Between the ends too: foil to 0.5 % of its start, 0.3 K, amounts to 1 % of what there is."""
    strengths = {"HCl": 1961.8, "H2O2": H2O2, "T": 298.69, "volume": volume}
    reference = solve(**strengths, area=area)
    run = etch(Start(**strengths), Board(area=area), Tray(), history=True)
    times = np.linspace(0.0, 1.1 * reference.t_end, 60)
    track = run.at(times)
    points = [reference.at(time) for time in times]
    most = {
        "thickness": 0.005 * OZ / 8960,
        "temperature": 0.3,
        "acid": 20.0,
        "peroxide": 0.01 * H2O2 + 2,
        "Cu(I)": 3.0,
        "Cu(II)": 3.0,
    }
    for name, limit in most.items():
        off = np.abs(np.ravel(track[name]) - [point[name] for point in points])
        assert off.max() < limit, (name, off.max(), times[off.argmax()])


@pytest.mark.parametrize(
    ("agitation", "facing", "without"),
    [
        ("still", "up", ()),
        ("rocked", "down", ("gas stirring",)),
        ("bubbled", "upright", ("surface heating",)),
        ("sprayed", "up", ("cupric route",)),
        ("shaken", "down", ()),
    ],
)
@pytest.mark.parametrize("area", [1e-4, 400e-4], ids=["1 cm2", "400 cm2"])
def test_second_source_flux(agitation, facing, without, area):
    """At the copper alone, the temperature of the surface converged, over strengths."""
    count = 40
    generator = np.random.default_rng([3, *agitation.encode()])
    HCl = generator.uniform(0, 5000, count)
    H2O2 = 10 ** generator.uniform(0, 3.7, count)
    CuCl2 = generator.uniform(0, 900, count)
    CuCl = generator.choice([0.0, 30.0], count)
    T = generator.uniform(285, 350, count)
    tray = Tray(agitation=agitation, facing=facing)
    film = flux(HCl, H2O2, T, area, CuCl2=CuCl2, CuCl=CuCl, tray=tray, without=without)
    surface = make_surface(DEFAULTS, area, agitation, facing, without)
    exact = [surface(*bath)[0] for bath in zip(H2O2, HCl, CuCl2, CuCl, T, strict=True)]
    np.testing.assert_allclose(np.asarray(film["copper"]), exact, rtol=1e-3, atol=1e-9)


# Limits of the film: with a fast surface and no gas, what arrives is what leaves

FAST = {"surface_rate": 0.04, "gas_share": 1e-9}
# How much more easily acid and Cu(II) cross the film than peroxide does
ACID_EASE = (3.0 / 1.43) ** (2 / 3)
CUPRIC_EASE = (1.0 / 1.43) ** (2 / 3)


def copper_and_transfer(acid, peroxide, cupric=0.0, **changes):
    """Return the copper that leaves [mol/(m² s)] and the transfer through the film [m/s]."""
    parameters = RateParameters().replace(**FAST, **changes)
    film = flux(acid, peroxide, 300.0, 40e-4, CuCl2=cupric, parameters=parameters)
    return float(film["copper"]), float(film["transfer"])


def test_law_little_peroxide_sets_the_flux():
    """Every peroxide takes two copper away, every Cu(II) one more."""
    copper, transfer = copper_and_transfer(3000.0, 50.0, 20.0)
    assert copper == pytest.approx(transfer * (2 * 50.0 + CUPRIC_EASE * 20.0), rel=1e-3)


def test_law_acid_sets_the_flux_where_cuprous_leaves_easily():
    copper, transfer = copper_and_transfer(
        200.0, 4000.0, 20.0, cuprous_diffusivity=3e-8, cuprous_binding=1.0
    )
    arriving = ACID_EASE * 200.0 + CUPRIC_EASE * 20.0
    assert copper == pytest.approx(transfer * arriving, rel=1e-3)


def test_law_cuprous_chloride_that_stays_leaves_the_direct_step():
    copper, transfer = copper_and_transfer(200.0, 4000.0, 20.0, cuprous_binding=1e-9)
    assert copper == pytest.approx(transfer * ACID_EASE * 200.0 / 2, rel=1e-3)


def test_law_without_acid_no_copper_leaves():
    copper, _ = copper_and_transfer(0.0, 4000.0)
    assert copper == pytest.approx(0.0, abs=1e-12)


def test_as_printed_foil_weight():
    """One ounce a square foot is 0.305152 kg/m², and copper weighs 63.546 g/mol."""
    assert float(np.asarray(Foil.ounces(1.0).areal_mass)) / CU == pytest.approx(4.802, abs=5e-4)


def test_as_printed_foil_weight_of_the_second_model():
    assert pytest.approx(4.802, abs=5e-4) == OZ / CU
