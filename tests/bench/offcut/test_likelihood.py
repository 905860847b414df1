"""What each draw expects of an offcut, and how likely that makes what was seen."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut

from pcbchem import Board, Foil, RateParameters, Tray
from pcbchem.bench.offcut import likelihood as seen
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.bench.plan.outlook import etched
from pcbchem.reaction.bath.parameters import shipped_draws
from pcbchem.reaction.bath.plausible import FACTS


@pytest.mark.parametrize(
    "tray, T_bottles, foil",
    [
        (Tray(), 293.15, 0.305),
        (Tray(agitation="still", facing="upright"), 285.0, 0.15),
        (Tray(agitation="bubbled", open_area=20e-4, T_air=300.0), 293.15, 0.305),
    ],
)
def test_law_expected_times_are_those_of_a_plan(tray, T_bottles, foil):
    # the same bath by the plan's own way: poured, mixed and etched alone
    one = Offcut(
        ACID, PEROXIDE, (0.5, 1, 1.2), 30e-6, Board(area=4e-4, foil=Foil(foil)), tray, T_bottles
    )
    held = {
        ("HCl", "acid"): ACID.strengths(400, 3),
        ("H2O2", "peroxide"): PEROXIDE.strengths(400, 4),
    }
    plain = {name: np.asarray(values) for name, values in held.items()}
    both = seen.expected([one, offcut(1)], shipped_draws(), plain)
    drawn = {"acid": held["HCl", "acid"], "peroxide": held["H2O2", "peroxide"]}
    alone = etched(
        one.given, parameters=RateParameters.plausible(400), drawn=drawn
    ).run.time_to_clear
    assert both.shape == (2, 400)
    assert both[0] == pytest.approx(np.asarray(alone), rel=1e-9)


def test_law_other_baths_stand_beside_offcuts():
    fact = FACTS[1]
    held = {("HCl", "acid"): np.full(400, 0.1), ("H2O2", "peroxide"): np.full(400, 0.12)}
    times = seen.expected([offcut()], shipped_draws(), held, [(fact.bath, fact.board, Tray())])
    assert times[1] == pytest.approx(fact.predict(RateParameters.plausible(400)), rel=1e-9)


def test_law_what_never_clears_cannot_have_been_clear_and_is_still_there_later():
    never = np.array([np.inf, 100.0])
    assert seen.likelihood(100.0, True, never, 0.15)[0] == 0
    assert seen.likelihood(14_000.0, False, never, 0.15) == pytest.approx([1.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("clear", [True, False])
@pytest.mark.parametrize("spread", [0.02, 1.0])
@pytest.mark.parametrize("time", [0.01, 1.0, 200.0, 14_399.9, 14_400.0])
def test_law_no_row_is_impossible_for_every_draw(time, spread, clear):
    fits, slips = seen.fit(
        [offcut(0, time, clear=clear)], np.array([[50.0, 300.0, np.inf]]), spread
    )
    assert np.all(np.isfinite(fits)) and np.all((slips >= 0) & (slips <= 1))


DIFFERENT = {
    "parts": {"parts": (0.2, 1, 1)},
    "volume": {"volume": 20e-6},
    "area": {"board": Board(area=6e-4)},
    "foil": {"board": Board(area=4e-4, foil=Foil.ounces(2))},
    "bottles": {"T_bottles": 285.0},
    "moved": {"tray": Tray("still")},
    "facing": {"tray": Tray(facing="down")},
    "dish": {"tray": Tray(open_area=6e-4)},
    "air": {"tray": Tray(T_air=310.0)},
    "acid": {"acid_bottle": "A"},
    "peroxide": {"peroxide_bottle": "P"},
}


def test_law_offcuts_that_differ_in_one_thing_are_told_apart():
    rows_ = [
        offcut(0),
        *(dataclasses.replace(offcut(0), **change) for change in DIFFERENT.values()),
    ]
    held = {
        names: np.asarray(bottle.strengths(400, k))
        for k, (names, bottle) in enumerate(seen.bottles(rows_).items())
    }
    base, *others = seen.expected(rows_, shipped_draws(), held)
    assert [
        name for name, times in zip(DIFFERENT, others, strict=True) if np.array_equal(times, base)
    ] == []
