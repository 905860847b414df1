"""Laws of a board that is taken out before it is clear: the same course, closed balances, and on from there."""

import numpy as np
import pytest

from pcbchem import Board, Foil, RateParameters, Solution, Tray, etch
from pcbchem.reaction.bath.bath import LONGEST

COPPER, OXYGEN = 63.546e-3, 31.998e-3  # kg/mol (IUPAC)
BOARD = Board(area=40e-4)
BATHS = {  # mixed bath, tray: fresh and quick; weak, slow and still; one that holds copper already
    "fresh": (dict(volume=150e-6, T=298.15, HCl=0.07, H2O2=0.05), Tray()),
    "weak": (dict(volume=80e-6, T=293.15, HCl=0.04, H2O2=0.025), Tray("still", open_area=0.012)),
    "kept": (dict(volume=150e-6, T=295.15, HCl=0.08, H2O2=0.03, CuCl2=0.05), Tray(open_area=0.012)),
}
SHARES = (0.05, 0.2, 0.5, 0.8, 0.95)


@pytest.fixture(scope="module", params=BATHS)
def whole(request):
    """A bath, its tray and the whole course of the etch."""
    held, tray = BATHS[request.param]
    bath = Solution.of(**held)
    run = etch(bath, BOARD, tray, history=True)
    assert str(run.stopped_by) == "copper gone"
    return bath, tray, run


@pytest.mark.parametrize("share", SHARES)
def test_law_stopped_early_is_the_whole_course_up_to_then(whole, share):
    """To 0.1 % of the foil, 0.02 K (the peak 0.05 K) and 0.1 % of what was there: they differ by their steps alone."""
    bath, tray, run = whole
    t = share * float(run.time_to_clear)
    leg, then = etch(bath, BOARD, tray, longest=t), run.at(t)
    assert np.isinf(leg.time_to_clear) and str(leg.stopped_by) == "time"
    assert float(leg.end["time"]) == pytest.approx(t, rel=1e-6)
    assert 0 < leg.end["thickness"] < BOARD.foil.thickness
    assert leg.end["thickness"] == pytest.approx(then["thickness"], abs=1e-3 * BOARD.foil.thickness)
    assert leg.end["T"] == pytest.approx(then["temperature"], abs=0.02)
    for name, other, scale in (
        ("HCl", "acid", 1e-3 * then["acid"]),
        ("H2O2", "peroxide", 1e-3 * then["peroxide"]),
        ("CuCl2", "Cu(II)", 1.0),
        ("CuCl", "Cu(I)", 1.0),
    ):
        assert leg.end[name] == pytest.approx(then[other], abs=scale), name
    begun = run.at(np.linspace(0, t, 200))["temperature"]
    assert float(leg.peak_temperature) == pytest.approx(begun.max(), abs=0.05)
    assert float(leg.reserve) == pytest.approx(float(run.reserve), rel=1e-12), (
        "from the start alone"
    )


@pytest.mark.parametrize("share", SHARES)
def test_law_bath_after_holds_what_went_in(whole, share):
    """Copper, chloride and mass to 1e-9: start and foil dissolved, less the oxygen given off."""
    bath, tray, run = whole
    leg = etch(bath, BOARD, tray, longest=share * float(run.time_to_clear))
    after, amount = leg.bath_after, {}
    for when, solution in (("before", bath), ("after", after)):
        held = {name: float(solution.amount(name)) for name in ("HCl", "H2O2", "CuCl2", "CuCl")}
        amount[when] = (
            held["CuCl2"] + held["CuCl"],
            held["HCl"] + 2 * held["CuCl2"] + held["CuCl"],
            held["H2O2"],
        )
    gone = float(BOARD.area * (BOARD.foil.areal_mass - leg.end["thickness"] * 8960.0)) / COPPER
    assert gone > 0
    assert amount["after"][0] - amount["before"][0] == pytest.approx(gone, rel=1e-9)
    assert amount["after"][1] == pytest.approx(amount["before"][1], rel=1e-9)
    oxygen = float(leg.oxygen_amount)
    assert float(after.mass) == pytest.approx(
        float(bath.mass) + gone * COPPER - oxygen * OXYGEN, rel=1e-9
    )
    assert float(after.T) == pytest.approx(float(leg.end["T"]), abs=1e-12)
    # each peroxide took up two electrons: a copper gives two, less what waits as Cu(I); the rest became oxygen
    used = amount["before"][2] - amount["after"][2]
    assert used == pytest.approx(gone - 0.5 * float(after.amount("CuCl")) + 2 * oxygen, rel=1e-6)


@pytest.mark.parametrize("share", SHARES)
def test_law_two_legs_are_one_run(whole, share):
    """Out at t, in again with the foil that is left: the same time within 0.5 %, the same peak within 0.1 K."""
    bath, tray, run = whole
    t = share * float(run.time_to_clear)
    leg = etch(bath, BOARD, tray, longest=t)
    left = Foil(areal_mass=leg.end["thickness"] / BOARD.foil.thickness * BOARD.foil.areal_mass)
    on = etch(leg.bath_after, Board(area=BOARD.area, foil=left), tray, longest=LONGEST - t)
    assert t + float(on.time_to_clear) == pytest.approx(float(run.time_to_clear), rel=5e-3)
    peak = max(float(leg.peak_temperature), float(on.peak_temperature))
    assert peak == pytest.approx(float(run.peak_temperature), abs=0.1)
    oxygen = float(leg.oxygen_amount) + float(on.oxygen_amount)
    assert oxygen == pytest.approx(float(run.oxygen_amount), rel=0.02)


def test_law_longest_later_than_clear_alters_nothing(whole):
    bath, tray, run = whole
    late = etch(bath, BOARD, tray, longest=1.5 * float(run.time_to_clear))
    assert str(late.stopped_by) == "copper gone"
    assert float(late.time_to_clear) == pytest.approx(float(run.time_to_clear), rel=2e-3)
    assert float(late.peak_temperature) == pytest.approx(float(run.peak_temperature), abs=0.05)


def test_law_each_bath_of_many_stops_at_its_own_end():
    """On a draw axis: those clear before keep their times, the others are at `longest` and never clear."""
    bath, p = Solution.of(**BATHS["fresh"][0]), RateParameters.plausible(30)
    run = etch(bath, BOARD, None, p)
    times = np.asarray(run.time_to_clear)
    t = float(np.median(times))
    leg = etch(bath, BOARD, None, p, longest=t)
    clear = np.isfinite(np.asarray(leg.time_to_clear))
    sure = np.abs(times / t - 1) > 0.01
    assert 10 < clear.sum() < 20 and np.array_equal(clear[sure], times[sure] < t)
    assert np.asarray(leg.time_to_clear)[clear] == pytest.approx(times[clear], rel=5e-3)
    assert np.asarray(leg.end["time"])[~clear] == pytest.approx(t, rel=1e-6)
    assert np.all(np.asarray(leg.end["thickness"])[~clear] > 0)
    assert set(np.asarray(leg.stopped_by)[~clear]) == {"time"}


@pytest.mark.parametrize(
    "longest, said",
    [
        (0.0, "0"),
        (-1.0, "-1"),
        (LONGEST + 1, "14401"),
        (np.nan, "nan"),
        (np.inf, "inf"),
        ("long", "long"),
        (None, "nan"),
    ],
)
def test_law_impossible_longest_is_named(longest, said):
    with pytest.raises(ValueError) as refusal:
        etch(Solution.of(**BATHS["fresh"][0]), BOARD, longest=longest)
    message = str(refusal.value)
    assert message.startswith("longest") and said in message and "above 0 to 14400 s" in message, (
        message
    )


@pytest.mark.parametrize("longest", [np.array([10.0, 20.0]), [10.0, 20.0]])
def test_law_many_longests_are_refused_by_name(longest):
    with pytest.raises(ValueError, match=r"longest = .*one number, above 0 to 14400 s"):
        etch(Solution.of(**BATHS["fresh"][0]), BOARD, longest=longest)
