"""Speed of what a page asks of one's own bench: each call in milliseconds, best of several, alone on the machine."""

import itertools

import pytest
from helpers.timing import best

from pcbchem import Board, Bottle, Foil, RateParameters, Tray, etch, plan
from pcbchem.bench import bottle as bottles
from pcbchem.bench.offcut import calibration_file, next_offcut
from pcbchem.bench.offcut import log as coupons
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.bench.plan.outlook import etched, poured
from pcbchem.matter.solution import mix
from pcbchem.reaction.trace.overetch import pulled
from pcbchem.reaction.trace.undercut import etch_factor, widths

ACID, PEROXIDE = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
USUAL = [(0, 215.0), (0, 230.0), (0.5, 350.0), (1, 470.0), (1, 500.0), (2, 800.0)]
QUICK = [(0, 150.0), (0, 160.0), (1, 250.0), (1, 280.0), (2, 450.0), (2, 480.0)]
"""Parts of water and times [s] of six offcuts: as most benches are, and so quick that new draws have to be made."""


NUMBER = itertools.count(1)


def offcuts(seen):
    """Offcuts of 4 cm² in 30 mL, each with a number in its note: the same row twice is refused."""
    return [
        Offcut(
            ACID,
            PEROXIDE,
            (water, 1, 1),
            30e-6,
            Board(area=4e-4),
            Tray(),
            293.15,
            time,
            note=f"offcut {next(NUMBER)}",
        )
        for water, time in seen
    ]


@pytest.mark.parametrize(
    "name, seen, made", [("the shipped draws do", USUAL, 0), ("new draws are made", QUICK, 400)]
)
def test_six_offcuts_calibrate(say, name, seen, made):
    log = coupons.Log.of(offcuts(seen))
    assert calibrate(log).made == made
    took = best(lambda: calibrate(log), 3)
    say(f"six offcuts, {name}: {1e3 * took:.0f} ms (under 2000)")
    assert took < 2.0


def calls(folder):
    """Every call on the way of a page, by name, without arguments."""
    log = coupons.Log.of(offcuts(USUAL))
    board = plan(ACID, PEROXIDE, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    found, given = calibrate(log), board.inputs
    tests = next_offcut.candidates(board)
    coupons.append(folder / "log.csv", *offcuts(USUAL * 8))
    calibration_file.save(found, folder / "bench.json")
    bath = mix(*poured(given).values())
    run = etch(bath, Board(area=27e-4, foil=Foil.ounces(1)), Tray(), RateParameters.plausible(200))
    weighed = bottles.by_weighing("HCl", mass=0.1158, volume=1e-4, T=293.15)
    titrated = bottles.by_lye(
        concentration=500.0, titrant=10e-6, sample=5e-6, T=293.15, dilution=10
    )
    return {
        "strength by weighing": lambda: bottles.by_weighing(
            "HCl", mass=0.1158, volume=1e-4, T=293.15
        ),
        "strength by oxygen": lambda: bottles.by_oxygen(
            gas=9e-6, sample=1e-6, label=0.12, p=101325.0, dilution=5.0, T=293.15, T_gas=293.15
        ),
        "strength by titration": lambda: bottles.by_lye(
            concentration=500.0, titrant=10e-6, sample=5e-6, T=293.15, dilution=10
        ),
        "two readings combined": lambda: bottles.combined(weighed, titrated),
        "a log of 48 offcuts read": lambda: coupons.read_log(folder / "log.csv"),
        "a row appended to it": lambda: coupons.append(folder / "log.csv", offcuts(USUAL)[0]),
        "which of four offcuts next": lambda: next_offcut.narrowing(tests, board, found),
        "200 sets resampled": lambda: RateParameters.plausible(200, calibration=found),
        "the board's calibrated band": lambda: etched(
            given, **found.doubt(given, "acid", "peroxide")
        ),
        "a calibration read": lambda: calibration_file.read(folder / "bench.json"),
        "a calibration saved": lambda: calibration_file.save(
            found, folder / "bench.json", overwrite=True
        ),
        "over-etch and widths of a trace": lambda: widths(
            150e-6,
            34e-6,
            etch_factor("rocked", 200, 1),
            pulled(run, looks_every=30.0, first_look=120.0).over,
        ),
    }


def test_a_long_log_is_read(say, tmp_path):
    coupons.append(tmp_path / "log.csv", *offcuts(USUAL * 167)[:1000])
    assert len(coupons.read_log(tmp_path / "log.csv").offcuts) == 1000
    took = best(lambda: coupons.read_log(tmp_path / "log.csv"), 3)
    say(f"a log of 1000 offcuts read: {1e3 * took:.0f} ms (under 1000)")
    assert took < 1.0


def test_each_call_of_a_page(say, tmp_path):
    took = {name: best(call, 7) for name, call in calls(tmp_path).items()}
    for name, seconds in took.items():
        say(f"{name}: {1e3 * seconds:.1f} ms (under 50)")
    assert max(took.values()) < 0.050
