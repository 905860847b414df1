"""Validation: the array solver of the package against the scalar second model run by LSODA at 1e-8."""

from dataclasses import fields
from itertools import product

import numpy as np
import pytest
from helpers.reference_model import (
    CU,
    DEFAULTS,
    OZ,
    SWITCHES,
    case,
    make_surface,
    published_baths,
    solve,
)

from pcbchem import EFFECTS, Board, Foil, RateParameters, Tray, etch
from pcbchem.reaction.bath.rate import flux
from pcbchem.reaction.bath.setup import Start

T_MAX = 14_400.0
END = ("HCl", "H2O2", "CuCl2", "CuCl")


def run(bath, agitation="rocked", facing="up", without=(), parameters=None, **settings):
    """The package on arrays of baths given as the reference takes them."""
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
        agitation=agitation, facing=facing, open_area=bath["open_area"], T_air=bath["T_air"]
    )
    return etch(start, board, tray, parameters or RateParameters(), without=without, **settings)


def random_baths(rng, count):
    """Baths over all that people might mix [SI]: strong and weak, tight and roomy, fresh and kept."""
    area = 10 ** rng.uniform(np.log10(4e-4), np.log10(120e-4), count)
    volume = area * 10 ** rng.uniform(np.log10(0.006), np.log10(0.08), count)  # 0.6 to 8 mL/cm²
    kept = rng.random(count) < 0.5
    return dict(
        HCl=10 ** rng.uniform(np.log10(300), np.log10(5000), count),
        H2O2=10 ** rng.uniform(np.log10(50), np.log10(4900), count),
        T=rng.uniform(285, 310, count),
        CuII=np.where(kept, rng.uniform(0, 800, count), 0.0),
        CuI=np.zeros(count),
        volume=volume,
        area=area,
        foil_ounces=rng.choice([0.5, 1.0, 2.0], count),
        open_area=np.maximum(volume / 0.010, 1.3 * area) * rng.uniform(1, 2, count),
        T_air=rng.uniform(285, 303, count),
    )


def each(baths):
    """One dictionary a bath."""
    names = list(baths)
    return [
        dict(zip(names, map(float, row), strict=True)) for row in zip(*baths.values(), strict=True)
    ]


def differences(got, index, reference, bath):
    """What differs by more than is allowed between scenario `index` of a run and the reference: words."""
    said = []
    time, exact = float(got.time_to_clear[index]), reference.time_to_clear
    if np.isinf(time) != np.isinf(exact):
        if min(time, exact) < 0.99 * T_MAX:
            said.append(f"clears at {time:.6g} s, reference {exact:.6g} s")
        return said
    if np.isfinite(time) and abs(time / exact - 1) > 0.006:
        said.append(f"time {time:.6g} s, reference {exact:.6g} s ({time / exact - 1:+.2%})")
    if str(got.stopped_by[index]) != reference.stopped_by:
        said.append(f"stopped by {got.stopped_by[index]}, reference {reference.stopped_by}")
    peak = float(got.peak_temperature[index])
    if abs(peak - reference.peak_temperature) > 0.5:
        said.append(f"peak {peak:.2f} K, reference {reference.peak_temperature:.2f} K")
    for name in END:
        value, right = float(np.asarray(got.end[name])[index]), reference.end[name]
        if abs(value - right) > 0.01 * right + 2.0 + (
            0.005 * bath["H2O2"] if name == "H2O2" else 0.0
        ):
            said.append(f"{name} left {value:.2f}, reference {right:.2f} mol/m³")
    if abs(float(np.asarray(got.end["T"])[index]) - reference.end["T"]) > 0.5:
        said.append(
            f"end T {float(np.asarray(got.end['T'])[index]):.2f} K, reference {reference.end['T']:.2f} K"
        )
    assert float(got.reserve[index]) == pytest.approx(reference.reserve, rel=1e-5)
    return said


def near_a_limit(reference, bath):
    """True where the reason for stopping hangs on less than the solver's own error."""
    acid, peroxide = reference.end["HCl"] / bath["HCl"], reference.end["H2O2"] - 0.01 * bath["H2O2"]
    return abs(acid - 0.05) < 0.001 or abs(peroxide - 0.5) < 0.01 * (1 + bath["H2O2"] / 100)


@pytest.mark.parametrize(
    "agitation, facing",
    list(product(("still", "rocked", "bubbled", "sprayed"), ("up", "down", "upright"))),
)
def test_validation_varied_baths(agitation, facing):
    """Times to 0.6 %, clear or never alike, reasons alike, peaks and end temperatures to 0.5 K, amounts to 1 %.

    Peroxide left is held to 0.5 % of its start as well, since a boiling bath burns most of it in seconds.
    """
    baths = random_baths(np.random.default_rng([7, *agitation.encode(), *facing.encode()]), 8)
    got = run(baths, agitation, facing)
    wrong = {}
    for i, bath in enumerate(each(baths)):
        reference = solve(**bath, agitation=agitation, facing=facing)
        said = differences(got, i, reference, bath)
        if near_a_limit(reference, bath):
            said = [words for words in said if not words.startswith("stopped by")]
        if said:
            wrong[i] = (said, bath)
    assert not wrong


def test_validation_varied_baths_are_varied():
    """The baths above hold clearing and never clearing ones, and more than two reasons for stopping."""
    reasons = [
        str(reason)
        for seed in range(12)
        for reason in run(random_baths(np.random.default_rng(seed), 8), "still").stopped_by
    ]
    assert {"copper gone", "acid", "peroxide", "time"} <= set(reasons)


@pytest.mark.parametrize("row", published_baths(), ids=lambda row: row["id"])
def test_validation_worked_cases(row):
    """The eight cases computed earlier by another program on the same equations: 2 %, peaks to 1 K."""
    bath = {"CuI": 0.0, **case(row)}
    got = run(bath, bath.pop("agitation"), bath.pop("facing"))
    assert float(got.time_to_clear) == pytest.approx(float(row["time_to_clear_s"]), rel=0.02)
    assert float(got.peak_temperature) - 273.15 == pytest.approx(float(row["peak_T_C"]), abs=1.0)
    for name, column in (
        ("HCl", "end_acid_mol_m3"),
        ("H2O2", "end_peroxide_mol_m3"),
        ("CuCl2", "end_CuII_mol_m3"),
        ("CuCl", "end_CuI_mol_m3"),
    ):
        assert float(got.end[name]) == pytest.approx(float(row[column]), rel=0.02, abs=1.0), name


@pytest.mark.parametrize("effect", SWITCHES)
def test_validation_with_one_effect_removed(effect):
    assert effect in EFFECTS
    baths = random_baths(np.random.default_rng(11), 8)
    got = run(baths, without=(effect,))
    references = [solve(**bath, without=(effect,)) for bath in each(baths)]
    wrong = {
        i: said
        for i, (bath, reference) in enumerate(zip(each(baths), references, strict=True))
        if (said := differences(got, i, reference, bath)) and not near_a_limit(reference, bath)
    }
    assert not wrong


def test_validation_with_other_parameters():
    """Sets drawn over half to twice every default: no constant may be hidden anywhere else in the code."""
    rng = np.random.default_rng(5)
    spread = {
        name: value * 2 ** rng.uniform(-1, 1, 16) for name, value in DEFAULTS.items() if value > 0
    }
    for name, low, high in (
        ("gas_order", 0, 1),
        ("lewis_exponent", 0.5, 0.67),
        ("surface_energy", 3e4, 6e4),
        ("decay_energy", 6e4, 9e4),
        ("gas_energy", 1e4, 3e4),
        ("cuprous_temperature", 1500, 2600),
    ):
        spread[name] = rng.uniform(low, high, 16)
    baths = random_baths(rng, 16)
    got = run(baths, parameters=RateParameters().replace(**spread))
    wrong = {}
    for i, bath in enumerate(each(baths)):
        reference = solve(
            **bath, parameters={name: float(values[i]) for name, values in spread.items()}
        )
        if (said := differences(got, i, reference, bath)) and not near_a_limit(reference, bath):
            wrong[i] = said
    assert not wrong


def test_transcription_default_parameters():
    """Two hands wrote the defaults down from the same table."""
    ours = RateParameters()
    assert {field.name for field in fields(ours)} == {
        name for name, value in DEFAULTS.items() if value > 0
    }
    for field in fields(ours):
        assert float(getattr(ours, field.name)) == pytest.approx(DEFAULTS[field.name], rel=1e-12), (
            field.name
        )


def test_validation_history():
    """Between the ends: foil to 0.5 % of the start, temperature to 0.3 K, amounts to 1 % of what there is."""
    for volume, area, H2O2 in (
        (75e-6, 40e-4, 2141.3),
        (50e-6, 60e-4, 2141.3),
        (75e-6, 40e-4, 370.0),
    ):
        reference = solve(HCl=1961.8, H2O2=H2O2, T=298.69, volume=volume, area=area)
        got = etch(
            Start(HCl=1961.8, H2O2=H2O2, T=298.69, volume=volume),
            Board(area=area),
            Tray(),
            history=True,
        )
        times = np.linspace(0.0, 1.1 * reference.t_end, 60)
        track = got.at(times)
        exact = [reference.at(t) for t in times]
        allowed = {
            "thickness": 0.005 * OZ / 8960,
            "temperature": 0.3,
            "acid": 20.0,
            "peroxide": 0.01 * H2O2 + 2,
            "Cu(I)": 3.0,
            "Cu(II)": 3.0,
        }
        for name, limit in allowed.items():
            off = np.abs(np.ravel(track[name]) - [point[name] for point in exact])
            assert off.max() < limit, (name, off.max(), times[off.argmax()])


def test_validation_flux():
    """The flux at the copper alone, surface temperature converged, over strengths, kinds of bath and effects."""
    rng = np.random.default_rng(3)
    for agitation, facing, without in (
        ("still", "up", ()),
        ("rocked", "down", ("gas stirring",)),
        ("bubbled", "upright", ("surface heating",)),
        ("sprayed", "up", ("cupric route",)),
    ):
        HCl, H2O2 = rng.uniform(0, 5000, 40), 10 ** rng.uniform(0, 3.7, 40)
        CuCl2, CuCl, T = (
            rng.uniform(0, 900, 40),
            rng.choice([0.0, 30.0], 40),
            rng.uniform(285, 350, 40),
        )
        got = flux(
            HCl,
            H2O2,
            T,
            40e-4,
            CuCl2=CuCl2,
            CuCl=CuCl,
            tray=Tray(agitation=agitation, facing=facing),
            without=without,
        )
        exact = make_surface(DEFAULTS, 40e-4, agitation, facing, without)
        right = np.array([exact(H2O2[i], HCl[i], CuCl2[i], CuCl[i], T[i])[0] for i in range(40)])
        np.testing.assert_allclose(np.asarray(got["copper"]), right, rtol=1e-3, atol=1e-9)


def test_law_limits_of_the_flux():
    """A fast surface and no gas: what arrives is what leaves (the four limits of the film)."""
    fast = RateParameters().replace(surface_rate=0.04, gas_share=1e-9)
    r_A, r_II = ((D / 1.43) ** (2 / 3) for D in (3.0, 1.0))

    def J(acid, peroxide, cupric=0.0, cuprous=0.0, **changed):
        p = fast.replace(**changed)
        found = flux(acid, peroxide, 300.0, 40e-4, CuCl2=cupric, CuCl=cuprous, parameters=p)
        return float(found["copper"]), float(found["transfer"])

    got, k_m = J(3000.0, 50.0, 20.0)
    assert got == pytest.approx(k_m * (2 * 50.0 + r_II * 20.0), rel=1e-3)
    got, k_m = J(200.0, 4000.0, 20.0, cuprous_diffusivity=3e-8, cuprous_binding=1.0)
    assert got == pytest.approx(k_m * (r_A * 200.0 + r_II * 20.0), rel=1e-3)
    got, k_m = J(200.0, 4000.0, 20.0, cuprous_binding=1e-9)
    assert got == pytest.approx(k_m * r_A * 200.0 / 2, rel=1e-3)
    assert J(0.0, 4000.0)[0] == pytest.approx(0.0, abs=1e-12)


def test_law_foil_weight():
    """One ounce a square foot is 0.305152 kg/m², and copper weighs 63.546 g/mol."""
    assert float(np.asarray(Foil.ounces(1.0).areal_mass)) / CU == pytest.approx(4.802, abs=5e-4)
    assert pytest.approx(4.802, abs=5e-4) == OZ / CU
