"""Heat made and lost at one moment: the slope of a standing bath, and the ceiling. Laws.

Against `stand`, which steps through the hour; what surface and walls lose is held against textbooks
in `tests/laws/test_kitchen.py`.
"""

import numpy as np
import pytest

from pcbchem import RateParameters, Tray, stand
from pcbchem.common.limits import collecting_warnings
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.chemistry.heat import reaction_enthalpy
from pcbchem.reaction.warmth import Balance, balance, ceiling

DRAWS = 60
PLAUSIBLE = RateParameters.plausible(DRAWS)
TRAYS = {
    "flat": Tray(),
    "jar": Tray(open_area=25e-4),
    "long, in the sun": Tray(open_area=60e-4, perimeter=0.6, T_air=303.15),
}


def used_bath(T=301.15, peroxide=1525.0, copper=86.0):
    """Return the workshop's bath as it is when the board comes out."""
    return Start(HCl=1260.0, H2O2=peroxide, T=T, volume=150e-6, CuCl2=copper)


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
@pytest.mark.parametrize("T", [288.15, 301.15, 318.15, 343.15])
@pytest.mark.parametrize("parameters", [PLAUSIBLE, PLAUSIBLE.for_heat_after()])
def test_law_made_less_lost_is_the_slope_of_a_standing_bath_at_its_start(T, tray, parameters):
    """Within 1 % of the larger of the two, from so short a stand that nothing else changes."""
    with collecting_warnings():
        now = balance(used_bath(), tray, T, parameters)
        seconds = 0.05
        later = stand(used_bath(T), tray, seconds, parameters, tolerance=1e-9)
    slope = (np.asarray(later.temperature) - T) / seconds
    larger = np.maximum(np.abs(now.made), np.abs(now.lost))
    off = np.abs(now.made - now.lost - slope) / larger
    assert float(np.max(off)) <= 0.01
    assert np.shape(now.made) == (DRAWS,)


def test_law_nothing_is_made_without_peroxide_or_copper_and_nothing_lost_at_rest():
    assert balance(used_bath(peroxide=0.0)).made == 0
    assert balance(used_bath(copper=0.0)).made == 0
    # room and bath alike: only water leaves, for the air is half dry
    cold, damp = balance(used_bath(), T=293.15), balance(used_bath(), T=283.15)
    assert 0 < cold.lost < balance(used_bath(), T=295.15).lost and damp.lost < 0


def test_law_twice_as_deep_loses_half_through_its_surface_and_makes_the_same():
    bare = RateParameters().replace(wall_loss=0.0)
    flat, deep = (
        balance(used_bath(), Tray(open_area=area), 313.15, bare) for area in (150e-4, 75e-4)
    )
    assert deep.made == flat.made and deep.lost == pytest.approx(flat.lost / 2, rel=1e-12)


@pytest.mark.parametrize("T", [283.15, 301.15])
@pytest.mark.parametrize("peroxide", [0.0, 300.0, 1525.0])
def test_law_no_bath_gets_over_its_ceiling_and_one_that_loses_nothing_reaches_it(T, peroxide):
    start = used_bath(T, peroxide)
    highest = float(ceiling(start))
    with collecting_warnings():
        for tray in TRAYS.values():
            peak = stand(start, tray, 86_400.0, PLAUSIBLE.for_heat_after()).peak_temperature
            assert float(np.max(peak)) <= max(highest, 303.15) + 0.05
        closed = RateParameters().replace(loss_factor=1e-9, decay_factor=200.0)
        reached = stand(start, Tray(), 1e5, closed, tolerance=1e-6).peak_temperature
    assert reached == pytest.approx(highest, abs=0.2)


def test_second_source_the_ceiling_by_hand_from_tabulated_heats():
    """1.52 mol/L of peroxide, 94.7 kJ each (NBS), in water's 4.18 kJ a litre and °C less 6 %."""
    heat = -reaction_enthalpy("decomposition")[0] / 1000
    by_hand = 28.0 + 1.525 * heat / 3.91
    assert ceiling(used_bath()) - 273.15 == pytest.approx(by_hand, abs=1.0)


def test_law_copper_one_takes_its_peroxide_before_any_is_left_to_decay():
    mixed = Start(HCl=1260.0, H2O2=100.0, T=300.0, volume=150e-6, CuCl2=40.0, CuCl=200.0)
    assert ceiling(mixed) == 300.0
    assert balance(mixed).made == 0


def test_law_a_bath_so_strong_boils():
    assert ceiling(used_bath(peroxide=6000.0)) == pytest.approx(376.0)


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"bath": "tray"}, "bath"),
        ({"T": 500.0}, "T"),
        ({"T": np.nan}, "T"),
        ({"tray": "flat"}, "tray"),
        ({"parameters": {}}, "parameters"),
        ({"tray": Tray(open_area=3.9)}, "depth"),
    ],
)
def test_bad_input_is_named(changes, name):
    with pytest.raises(ValueError, match=name):
        balance(**{"bath": used_bath()} | changes)


def test_law_a_bath_outside_the_model_is_said_once():
    with pytest.warns(UserWarning, match="balance"):
        balance(used_bath(), T=345.15)


def test_law_temperatures_stand_before_the_draws():
    many = balance(used_bath(), T=np.linspace(293.15, 323.15, 7)[:, None], parameters=PLAUSIBLE)
    assert isinstance(many, Balance) and np.shape(many.made) == (7, DRAWS)
    assert np.all(np.diff(np.asarray(many.made), axis=0) > 0)
