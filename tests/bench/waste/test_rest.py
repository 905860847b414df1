"""What is left of a planned bath: copper and chlorine are conserved; a refused one has none."""

import numpy as np
import pytest
from helpers.plans import mild_inputs, mild_plan, verdicts_alone
from helpers.refusals import Case, assert_refused, cases

from pcbchem import Solution, Tray
from pcbchem.bench.plan.planning import for_class, planned
from pcbchem.bench.waste import Rest, rest_of
from pcbchem.matter.properties import MOLAR_MASS

USED = Solution.of(volume=150e-6, T=301.15, HCl=0.045, H2O2=0.05, CuCl2=0.011)


@pytest.fixture(scope="module")
def plan():
    """Plan the mild bath."""
    with verdicts_alone():
        return mild_plan()


@pytest.fixture(scope="module")
def rest(plan):
    """Return what is left of it."""
    return rest_of(plan)


def class_plan():
    """Plan the mild bath for a class."""
    with verdicts_alone():
        return for_class(mild_plan(draws=5))


def refused_plan():
    """Plan a bath that nobody mixes."""
    with verdicts_alone():
        plan = planned(mild_inputs(bath_per_area=0.001))
    assert plan.refused
    return plan


# ---- laws


def test_law_all_copper_of_the_board_is_in_the_rest(plan, rest):
    copper = np.asarray(rest.copper * rest.volume)
    # every draw clears its board: what it holds is what the foil held
    assert np.all(np.isfinite(plan.run.time_to_clear))
    assert copper == pytest.approx(float(plan.inputs.board.copper), rel=1e-3)


def test_law_chlorine_is_neither_made_nor_lost(plan, rest):
    held = np.asarray(rest.HCl + 2 * rest.CuCl2 + rest.CuCl) * np.asarray(rest.volume)
    poured = np.asarray(plan.mixture.amount("HCl"))
    assert np.allclose(held, poured, rtol=0.02)


def test_law_oxygen_is_half_of_the_peroxide_left(rest):
    moles = np.asarray(rest.bath.amount("H2O2"))
    assert np.allclose(rest.oxygen_to_come, moles / 2, rtol=1e-12)


def test_law_no_less_peroxide_is_left_than_by_the_decay_that_heat_is_read_with(plan, rest):
    hot = np.asarray(plan.run.end["H2O2"])
    assert np.all(np.asarray(rest.H2O2) >= hot * (1 - 1e-2))
    assert np.mean(rest.H2O2) > np.mean(hot)


def test_law_it_holds_the_draws_of_the_plan_and_a_band_of_each(plan, rest):
    assert rest.draws == plan.inputs.draws
    for name in ("volume", "HCl", "H2O2", "CuCl2", "CuCl", "copper", "T", "oxygen_to_come"):
        band = rest.band(name)
        assert band.low <= band.middle <= band.high, name
    assert rest.tray is plan.inputs.tray


def test_law_a_rest_without_draws_is_plain_numbers():
    rest = Rest(USED)
    assert rest.draws is None and np.shape(rest.copper) == ()
    assert rest.copper == rest.CuCl2 and rest.CuCl == 0
    grams = rest.copper * MOLAR_MASS["Cu"] * 1000
    mass_fraction = 0.011 * MOLAR_MASS["Cu"] / MOLAR_MASS["CuCl2"]
    assert grams == pytest.approx(mass_fraction * USED.mass / rest.volume * 1000, rel=1e-9)


def test_law_with_peroxide_in_two_portions_there_is_a_rest_too():
    with verdicts_alone():
        plan = planned(mild_inputs(second=(0.4, 120.0), draws=20))
    assert not plan.refused
    rest = rest_of(plan)
    assert np.asarray(rest.copper * rest.volume) == pytest.approx(
        float(plan.inputs.board.copper), rel=1e-3
    )


# ---- refusals


def test_law_a_refused_bath_leaves_nothing():
    with pytest.raises(ValueError, match=r"^a refused bath leaves nothing: nobody mixes this$"):
        rest_of(refused_plan())


REFUSED: list[Case] = [
    ("no plan", lambda: rest_of(USED), ("plan", "it must be a Outcome")),
    ("inputs", lambda: rest_of(mild_inputs()), ("plan", "it must be a Outcome")),
    ("for a class", lambda: rest_of(class_plan()), ("plan", "for a class")),
    ("no liquid", lambda: Rest("bath"), ("bath", "'bath'", "Solution")),
    ("no tray", lambda: Rest(USED, "dish"), ("tray", "'dish'", "Tray")),
    ("open area for tray", lambda: Rest(USED, 0.0075), ("tray", "0.0075", "Tray")),
    ("band", lambda: Rest(USED).band("peroxide"), ("name", "'peroxide'", "H2O2", "copper")),
    ("lye", lambda: Rest(Solution.of(volume=1e-4, T=293.15, NaOH=0.01)), ("NaOH = 0.01",)),
    (
        "nothing",
        lambda: Rest(Solution.of(volume=1e-9, T=293.15), Tray()),
        ("bath volume", "1e-07 to"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
