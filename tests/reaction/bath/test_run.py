"""What a run gives: read at any time, stopped early, gone on with, in bands and in a table."""

import numpy as np
import pytest

from pcbchem import Board, Foil, RateParameters, Solution, Tray, etch, stand
from pcbchem.common.arrays import Draws
from pcbchem.reaction.bath.bath import LONGEST
from pcbchem.reaction.bath.setup import Start

COPPER, OXYGEN = 63.546e-3, 31.998e-3  # kg/mol (IUPAC)
BOARD = Board(area=40e-4)
BATHS = {
    "fresh": ({"volume": 150e-6, "T": 298.15, "HCl": 0.07, "H2O2": 0.05}, Tray()),
    "weak and still": (
        {"volume": 80e-6, "T": 293.15, "HCl": 0.04, "H2O2": 0.025},
        Tray("still", open_area=0.012),
    ),
    "used before": (
        {"volume": 150e-6, "T": 295.15, "HCl": 0.08, "H2O2": 0.03, "CuCl2": 0.05},
        Tray(open_area=0.012),
    ),
}
SHARES = (0.05, 0.2, 0.5, 0.8, 0.95)
FRESH = Solution.of(**BATHS["fresh"][0])
NAMES = {"HCl": "acid", "H2O2": "peroxide", "CuCl2": "Cu(II)", "CuCl": "Cu(I)"}


@pytest.fixture(scope="module", params=BATHS)
def whole(request):
    """A bath, its tray and the whole course of the etch."""
    mixture, tray = BATHS[request.param]
    bath = Solution.of(**mixture)
    run = etch(bath, BOARD, tray, history=True)
    assert str(run.stopped_by) == "copper gone"
    return bath, tray, run


@pytest.mark.parametrize("share", SHARES)
def test_law_stopped_early_is_the_whole_course_up_to_then(whole, share):
    """To 0.1 % of the foil, 0.02 K (the peak 0.05 K) and 0.1 % of what was there.

    They differ by their steps alone.
    """
    bath, tray, run = whole
    t = share * float(run.time_to_clear)
    leg, then = etch(bath, BOARD, tray, longest=t), run.at(t)
    assert np.isinf(leg.time_to_clear) and str(leg.stopped_by) == "time"
    assert float(leg.end["time"]) == pytest.approx(t, rel=1e-6)
    foil = BOARD.foil.thickness
    assert 0 < leg.end["thickness"] < foil
    assert leg.end["thickness"] == pytest.approx(then["thickness"], abs=1e-3 * foil)
    assert leg.end["T"] == pytest.approx(then["temperature"], abs=0.02)
    for name, label in NAMES.items():
        scale = 1.0 if name.startswith("Cu") else 1e-3 * then[label]
        assert leg.end[name] == pytest.approx(then[label], abs=scale), name
    until_then = run.at(np.linspace(0, t, 200))["temperature"]
    assert float(leg.peak_temperature) == pytest.approx(until_then.max(), abs=0.05)
    # from the start alone
    assert float(leg.reserve) == pytest.approx(float(run.reserve), rel=1e-12)


def amounts_of(bath):
    """Return copper, chloride and peroxide of a bath [mol]."""
    cupric, cuprous = float(bath.amount("CuCl2")), float(bath.amount("CuCl"))
    chloride = float(bath.amount("HCl")) + 2 * cupric + cuprous
    return cupric + cuprous, chloride, float(bath.amount("H2O2"))


@pytest.mark.parametrize("share", SHARES)
def test_law_bath_after_holds_what_went_in(whole, share):
    """Copper, chloride and mass to 1e-9: start and foil dissolved, less the oxygen given off."""
    bath, tray, run = whole
    leg = etch(bath, BOARD, tray, longest=share * float(run.time_to_clear))
    after = leg.bath_after
    copper, chloride, peroxide = amounts_of(bath)
    copper_after, chloride_after, peroxide_after = amounts_of(after)
    areal_mass = BOARD.foil.areal_mass - leg.end["thickness"] * 8960.0
    dissolved = float(BOARD.area * areal_mass) / COPPER
    assert dissolved > 0
    assert copper_after - copper == pytest.approx(dissolved, rel=1e-9)
    assert chloride_after == pytest.approx(chloride, rel=1e-9)
    oxygen = float(leg.oxygen_amount)
    mass = float(bath.mass) + dissolved * COPPER - oxygen * OXYGEN
    assert float(after.mass) == pytest.approx(mass, rel=1e-9)
    assert float(after.T) == pytest.approx(float(leg.end["T"]), abs=1e-12)
    # each peroxide took two electrons: a copper gives two, less what waits as Cu(I); the rest
    # became oxygen
    used = peroxide - peroxide_after
    waiting = 0.5 * float(after.amount("CuCl"))
    assert used == pytest.approx(dissolved - waiting + 2 * oxygen, rel=1e-6)


@pytest.mark.parametrize("share", SHARES)
def test_law_two_legs_are_one_run(whole, share):
    """Out at t, in again with the foil that is left: the same time to 0.5 %, peak to 0.1 K."""
    bath, tray, run = whole
    t = share * float(run.time_to_clear)
    leg = etch(bath, BOARD, tray, longest=t)
    foil_left = leg.end["thickness"] / BOARD.foil.thickness
    rest = Board(area=BOARD.area, foil=Foil(areal_mass=foil_left * BOARD.foil.areal_mass))
    later = etch(leg.bath_after, rest, tray, longest=LONGEST - t)
    time = t + float(later.time_to_clear)
    assert time == pytest.approx(float(run.time_to_clear), rel=5e-3)
    peak = max(float(leg.peak_temperature), float(later.peak_temperature))
    assert peak == pytest.approx(float(run.peak_temperature), abs=0.1)
    oxygen = float(leg.oxygen_amount) + float(later.oxygen_amount)
    assert oxygen == pytest.approx(float(run.oxygen_amount), rel=0.02)


def test_law_longest_later_than_clear_alters_nothing(whole):
    bath, tray, run = whole
    late = etch(bath, BOARD, tray, longest=1.5 * float(run.time_to_clear))
    assert str(late.stopped_by) == "copper gone"
    assert float(late.time_to_clear) == pytest.approx(float(run.time_to_clear), rel=2e-3)
    assert float(late.peak_temperature) == pytest.approx(float(run.peak_temperature), abs=0.05)


def test_law_each_bath_of_many_stops_at_its_own_end():
    """Those clear before keep their times, the others are at `longest` and never clear."""
    p = RateParameters.plausible(30)
    times = np.asarray(etch(FRESH, BOARD, None, p).time_to_clear)
    t = float(np.median(times))
    leg = etch(FRESH, BOARD, None, p, longest=t)
    clear = np.isfinite(np.asarray(leg.time_to_clear))
    sure = np.abs(times / t - 1) > 0.01
    assert 10 < clear.sum() < 20 and np.array_equal(clear[sure], times[sure] < t)
    assert np.asarray(leg.time_to_clear)[clear] == pytest.approx(times[clear], rel=5e-3)
    assert np.asarray(leg.end["time"])[~clear] == pytest.approx(t, rel=1e-6)
    assert np.all(np.asarray(leg.end["thickness"])[~clear] > 0)
    assert set(np.asarray(leg.stopped_by)[~clear]) == {"time"}


def test_law_a_run_is_read_on_the_axis_before_the_draws():
    p, times = RateParameters.plausible(3), [0.0, 50.0, 5000.0]
    many = etch(
        Start(HCl=[[2000.0], [1000.0]], H2O2=1500.0, T=298.0, volume=1e-4),
        BOARD,
        None,
        p,
        history=True,
    )
    track = many.at(times)
    for values in track.values():
        assert isinstance(values, Draws) and values.shape == (2, 3, 3)
    assert track["thickness"][:, 0] == pytest.approx(float(BOARD.foil.thickness))
    assert track["temperature"][:, 0] == pytest.approx(298.0)
    assert track["acid"][:, 2] == pytest.approx(np.asarray(many.end["HCl"]))  # the end is held
    one = etch(Start(HCl=1000.0, H2O2=1500.0, T=298.0, volume=1e-4), BOARD, history=True)
    assert one.at(50.0)["acid"].shape == () and one.at(times)["acid"].shape == (3,)


def test_law_a_table_has_one_row_a_bath():
    p = RateParameters.plausible(3)
    run = etch(Start(HCl=[[2000.0], [1000.0]], H2O2=1500.0, T=298.0, volume=1e-4), BOARD, None, p)
    table = run.to_frame()
    assert list(table.index.names) == ["axis 0", "draw"] and len(table) == 6
    assert table["peak (°C)"].to_numpy() == pytest.approx(
        np.asarray(run.peak_temperature).ravel() - 273.15
    )
    assert table["HCl left (mol/L)"][1, 2] == pytest.approx(float(run.end["HCl"][1, 2]) / 1000)
    single = etch(FRESH, BOARD).to_frame()
    assert list(single.index) == [0] and single.index.name == "bath"
    assert single["stopped by"][0] == "copper gone"


def test_law_a_band_of_draws_that_never_clear_is_free_of_nan():
    weak = Start(HCl=4904.0, H2O2=200.0, T=300.0, volume=60e-6)
    run = etch(weak, Board(area=40e-4), Tray("still"), RateParameters.plausible(100))
    band = run.band("time_to_clear")
    assert band.never > 0.5
    assert np.isinf(band.high)
    assert not np.isnan([band.low, band.middle, band.high, band.over(60.0), band.never]).any()
    assert band.over(60.0) >= band.never


def test_law_bands_of_a_standing_bath():
    after = stand(FRESH, parameters=RateParameters.plausible(20))
    for name in ("peak_temperature", "oxygen", "peroxide", "temperature"):
        band = after.band(name)
        assert band.low <= band.middle <= band.high, name
    with pytest.raises(ValueError, match="name = 'reserve' is not known: choose from peak_temp"):
        after.band("reserve")


REFUSED = {
    "no history": (
        lambda: etch(FRESH, BOARD).at([1.0]),
        "at: history = False is impossible: it must be True",
    ),
    "before the start": (
        lambda: etch(FRESH, BOARD, history=True).at([-1.0]),
        r"times = -1 is impossible: it must be 0 to 1e\+09 s",
    ),
    "a field that is none": (
        lambda: etch(FRESH, BOARD).band("colour"),
        "name = 'colour' is not known: choose from time_to_clear",
    ),
    "a bath of chloride from nothing": (
        lambda: etch(FRESH, BOARD, without="depletion").bath_after,
        "bath_after: without = 'depletion' is impossible",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_law_what_a_run_does_not_know_is_refused(case):
    call, words = REFUSED[case]
    with pytest.raises(ValueError, match=words):
        call()


@pytest.mark.parametrize(
    ("acid", "peroxide", "limit"), [(900.0, 4000.0, 450.0), (4e3, 300.0, 300.0)]
)
def test_law_reserve_is_what_the_scarcer_reagent_can_carry(acid, peroxide, limit):
    # two acid and one peroxide to a copper
    run = etch(Start(HCl=acid, H2O2=peroxide, T=298.0, volume=1e-4), BOARD)
    assert float(run.reserve) == pytest.approx(limit * 1e-4 / float(BOARD.copper), rel=1e-12)


def test_law_the_reason_of_an_end_is_the_first_that_holds():
    small = {"T": 298.0, "volume": 30e-6}
    runs = {
        "copper gone": etch(FRESH, BOARD),
        "no chloride": etch(Start(HCl=4.0, H2O2=1000.0, **small), BOARD, longest=60.0),
        "acid": etch(Start(HCl=600.0, H2O2=3000.0, **small), BOARD),
        "peroxide": etch(Start(HCl=4000.0, H2O2=100.0, **small), BOARD),
        "time": etch(FRESH, BOARD, longest=20.0),
    }
    for reason, run in runs.items():
        assert str(run.stopped_by) == reason
    assert runs["acid"].end["HCl"] < 0.05 * 600.0
    assert runs["peroxide"].end["H2O2"] <= 0.01 * 100.0 + 0.5
    # a third of its acid left is no reason yet
    early = etch(Start(HCl=600.0, H2O2=3000.0, **small), BOARD, longest=90.0)
    assert 0.05 < early.end["HCl"] / 600.0 < 0.5 and str(early.stopped_by) == "time"
