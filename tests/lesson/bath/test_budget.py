"""What a copper takes of each reagent, and when the peroxide is spent. Laws.

Against amounts and the course itself.
"""

import numpy as np
import pytest
from helpers.plans import labelled

from pcbchem import Board, Foil, RateParameters, UsedBath, etch, plan
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.bath.budget import spent, uses

DRAWS = 40
MILD = {
    **labelled(10, 12),
    "parts": (0, 1, 1),
    "board": Board(area=27e-4, foil=Foil.ounces(1)),
    "bath_per_area": 0.05,
    "place": "EU",
    "draws": DRAWS,
}
REFUSED = {**labelled(31, 32.5), "parts": (3, 1, 1), "bath_per_area": 0.0083}


@pytest.mark.parametrize(
    "changes",
    [
        {},
        REFUSED,
        {"used_bath": UsedBath(0.5, 90, 1200, (0, 200))},
        {"second": (0.5, 60.0)},
        {"bath_per_area": 0.002},
    ],
)
def test_uses_are_amounts_over_amounts(changes):
    """By the amounts poured: 2 HCl + H2O2 + Cu = CuCl2 + 2 H2O."""
    bath = plan(**MILD | {"draws": 15} | changes)
    with collecting_warnings():
        mixture = outlook(bath.inputs).mixture
    copper = 27e-4 * 0.305152 / 0.063546  # mol: m², kg/m² of 1 oz/ft², kg/mol (IUPAC)
    found = uses(bath)
    for name, substance, each in (("acid", "HCl", 2), ("peroxide", "H2O2", 1)):
        by_hand = each * copper / np.broadcast_to(np.asarray(mixture.amount(substance)), (15,))
        assert np.allclose(found[name].values, by_hand, rtol=1e-5), name
    larger = np.maximum(found["acid"].values, found["peroxide"].values)
    reserve = bath.bands["reserve"].values
    assert np.allclose(1 / larger, reserve, rtol=1e-12), "the reserve is one over the larger"


def test_what_is_not_there_is_needed_without_end():
    found = uses(plan(**MILD | {"parts": (1, 1, 0), "draws": 5}))
    assert list(found) == ["peroxide"] and np.isinf(found["peroxide"].low)


def test_peroxide_is_gone_when_it_is_spent():
    """A board taken out before the quick end came out in time; at the slow end all had run out."""
    little = plan(**MILD | {**labelled(10, 3), "bath_per_area": 0.005})
    count, when = spent(little)
    is_out = np.asarray(little.run.stopped_by) == "peroxide"
    assert count == is_out.sum() > 4
    assert when.values.shape == (count,) and np.all(when.values > 0)
    assert np.all(when.values <= np.asarray(little.run.end["time"])[is_out])
    inputs = little.inputs
    bath, parameters = etched(inputs).first_bath, RateParameters.plausible(DRAWS)
    parameters = parameters.for_heat_after()  # as a plan reads the etch

    def stopped_by(seconds):
        run = etch(bath, inputs.board, inputs.tray, parameters, longest=seconds)
        return np.asarray(run.stopped_by)

    assert np.all(stopped_by(0.9 * when.values.min()) == "time")
    assert np.all(stopped_by(1.01 * when.values.max())[is_out] == "peroxide")


@pytest.mark.parametrize("changes", [{}, {"parts": (1, 1, 0)}, {"second": (0.5, 60.0)}])
def test_nothing_is_said_of_peroxide_that_lasts_or_never_was(changes):
    assert spent(plan(**MILD | {"draws": 10} | changes)) is None
