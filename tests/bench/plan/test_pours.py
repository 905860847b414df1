"""What goes into the tray: strengths apart, volumes by parts, the order of pouring. Laws."""

import numpy as np
import pytest
from helpers.plans import USED_BATH, mild_inputs

from pcbchem import Bottle
from pcbchem.bench.plan.pours import acid_met, bottle_strengths, poured, side_by_side


def test_everything_in_doubt_is_drawn_apart():
    strengths = bottle_strengths(mild_inputs(used_bath=USED_BATH))
    names = ["acid", "peroxide", "used copper", "used acid", "used peroxide"]
    assert list(strengths) == names
    shares = np.corrcoef([np.asarray(strengths[name]) for name in names])
    assert np.all(np.abs(shares - np.eye(5)) < 0.25), "of 200 draws; tied together it would be 1"


def test_parts_are_volumes_at_the_bottles_temperature():
    """By hand: 2 + 1 + 1 parts of 0.02 m over 27 cm² are 27, 13.5 and 13.5 mL."""
    inputs = mild_inputs(parts=(2, 1, 1), bath_per_area=0.02)
    volumes = {name: np.asarray(liquid.volume) for name, liquid in poured(inputs).items()}
    assert list(volumes) == ["water", "acid", "peroxide"]
    assert volumes["water"] == pytest.approx(27e-6)
    assert volumes["acid"] == pytest.approx(13.5e-6)
    assert volumes["peroxide"] == pytest.approx(13.5e-6)


def test_two_portions_are_the_same_peroxide():
    """By hand: three quarters held back of 13.5 mL."""
    inputs = mild_inputs(parts=(2, 1, 1), bath_per_area=0.02, second=(0.75, 100.0))
    pours = poured(inputs)
    assert list(pours)[-1] == "peroxide, second portion"
    assert np.asarray(pours["peroxide"].volume) == pytest.approx(13.5e-6 / 4)
    assert np.asarray(pours["peroxide, second portion"].volume) == pytest.approx(13.5e-6 * 3 / 4)


def test_a_kept_bath_takes_its_share_of_the_tray():
    """By hand: what is fresh shares the rest in its parts."""
    pours = poured(mild_inputs(parts=(2, 1, 1), bath_per_area=0.02, used_bath=USED_BATH))
    whole = 54e-6
    assert np.asarray(pours["used bath"].volume) == pytest.approx(whole * USED_BATH.share)
    assert np.asarray(pours["water"].volume) == pytest.approx(whole * (1 - USED_BATH.share) / 2)


@pytest.mark.parametrize(("strength", "first"), [(0.06, "peroxide"), (0.061, "acid")])
def test_acid_goes_into_weak_peroxide(strength, first):
    """Peroxide of up to 6 % is mostly water: acid is poured into it, else peroxide comes last."""
    inputs = mild_inputs(parts=(1, 1, 1), peroxide=Bottle("H2O2", strength, strength))
    assert list(poured(inputs))[:2] == ["water", first]


def test_what_is_labelled_strong_is_poured_as_strong():
    """A reading may be wrong: 5 % found in a bottle of 12 % still goes in last."""
    bottle = Bottle("H2O2", 0.05, 0.05, label=0.12)
    pours = poured(mild_inputs(parts=(1, 1, 1), peroxide=bottle, draws=4))
    assert list(pours) == ["water", "acid", "peroxide"]


def test_variants_have_an_axis_of_their_own():
    variants = [mild_inputs(parts=(water, 1, 1), draws=4) for water in (0, 1, 2)]
    pours = poured(variants[0], **side_by_side(variants))
    assert np.shape(pours["acid"].volume) == (3, 4), "variants before draws"
    water = np.ravel(np.asarray(pours["water"].volume))
    alone = [float(poured(variant)["water"].volume) for variant in variants[1:]]
    assert list(water) == pytest.approx([0.0, *alone])


def test_peroxide_meets_the_acid_that_is_there_before_it():
    """By hand: as much water as acid of 20 %; and nothing where peroxide is poured first."""
    inputs = mild_inputs(acid=Bottle("HCl", 0.2, 0.2), parts=(1, 1, 2), draws=4)
    pours = poured(inputs)
    acid, water = (np.asarray(pours[name].mass) for name in ("acid", "water"))
    assert acid_met(pours) == pytest.approx(0.2 * acid / (acid + water))
    weak = inputs.replace(peroxide=Bottle("H2O2", 0.03, 0.03), parts=(0, 1, 2))
    assert acid_met(poured(weak)) == 0.0
    assert acid_met(poured(inputs.replace(parts=(1, 1, 0)))) == 0.0
