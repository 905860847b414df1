"""What a copper takes of each reagent, and when the peroxide is spent, against amounts and the course itself (laws)."""

import numpy as np
import pytest

from pcbchem import Board, Foil, RateParameters, etch
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.plan.budget import spent, uses
from pcbchem.bench.plan.inputs import Kept
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.bench.plan.planning import plan
from pcbchem.common.limits import collecting_warnings

ASKED = {
    "acid": Bottle.labelled("HCl", 0.10),
    "peroxide": Bottle.labelled("H2O2", 0.12),
    "parts": (0, 1, 1),
    "board": Board(area=27e-4, foil=Foil.ounces(1)),
    "bath_per_area": 0.05,
    "place": "EU",
    "draws": 40,
}
REFUSED = {
    "acid": Bottle.labelled("HCl", 0.31),
    "peroxide": Bottle.labelled("H2O2", 0.325),
    "parts": (3, 1, 1),
    "bath_per_area": 0.0083,
}


@pytest.mark.parametrize(
    "changed",
    [
        {},
        REFUSED,
        {"kept": Kept(0.5, 90, 1200, (0, 200))},
        {"second": (0.5, 60.0)},
        {"bath_per_area": 0.002},
    ],
)
def test_law_uses_are_amounts_over_amounts(changed):
    """Two HCl and one H2O2 to a copper (2 HCl + H2O2 + Cu = CuCl2 + 2 H2O), by the amounts that are poured."""
    made = plan(**ASKED | changed)
    with collecting_warnings():
        mixture = outlook(made.inputs).mixture
    copper = 27e-4 * 0.305152 / 0.063546  # mol: m², kg/m² of 1 oz/ft², kg/mol (IUPAC)
    found = uses(made)
    for name, substance, each in (("acid", "HCl", 2), ("peroxide", "H2O2", 1)):
        by_hand = each * copper / np.broadcast_to(np.asarray(mixture.amount(substance)), (40,))
        assert np.allclose(found[name].values, by_hand, rtol=1e-5), name
    larger = np.maximum(found["acid"].values, found["peroxide"].values)
    assert np.allclose(1 / larger, made.bands["reserve"].values, rtol=1e-12), (
        "the reserve is one over the larger"
    )


def test_what_is_not_there_is_needed_without_end():
    found = uses(plan(**ASKED | {"parts": (1, 1, 0)}))
    assert list(found) == ["peroxide"] and np.isinf(found["peroxide"].low)


def test_law_peroxide_is_gone_when_it_is_spent():
    """A board taken out before the quick end came out in time; left to the slow end, each bath ran out of peroxide."""
    little = plan(**ASKED | {"bath_per_area": 0.005, "peroxide": Bottle.labelled("H2O2", 0.03)})
    count, when = spent(little)
    out = np.asarray(little.run.stopped_by) == "peroxide"
    assert count == out.sum() > 4
    assert when.values.shape == (count,) and np.all(when.values > 0)
    assert np.all(when.values <= np.asarray(little.run.end["time"])[out])
    given = little.inputs
    stopped = [
        np.asarray(
            etch(
                etched(given).first_bath,
                given.board,
                given.tray,
                RateParameters.plausible(40),
                longest=seconds,
            ).stopped_by
        )
        for seconds in (0.9 * when.values.min(), 1.01 * when.values.max())
    ]
    assert np.all(stopped[0] == "time") and np.all(stopped[1][out] == "peroxide")


def test_nothing_is_said_of_peroxide_that_lasts_or_was_never_there():
    for changed in ({}, {"parts": (1, 1, 0)}, {"second": (0.5, 60.0)}):
        assert spent(plan(**ASKED | changed)) is None
