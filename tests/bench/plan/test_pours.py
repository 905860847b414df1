"""What goes into the tray: strengths apart, volumes by parts, the order of pouring. Laws."""

import numpy as np
import pytest
from helpers.plans import USED_BATH, mild_inputs

from pcbchem import Bottle, Tray, UsedBath
from pcbchem.bench.plan.pours import bottle_strengths, certain, meetings, poured, side_by_side


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


@pytest.mark.parametrize(
    ("acid", "peroxide", "first"),
    [
        (0.249, 0.06, "peroxide"),
        (0.25, 0.04, "peroxide"),
        (0.25, 0.041, "acid"),
        (0.35, 0.06, "acid"),
    ],
)
def test_strong_acid_goes_into_water_or_into_hardly_any_peroxide(acid, peroxide, first):
    """Acid of 25 % and more is poured into peroxide of at most 4 %, or into water before it."""
    bottles = {"acid": Bottle("HCl", acid, acid), "peroxide": Bottle("H2O2", peroxide, peroxide)}
    assert list(poured(mild_inputs(**bottles, parts=(1, 1, 1))))[:2] == ["water", first]


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


def bottles_of(acid, peroxide):
    """Return two bottles known exactly [kg/kg], as inputs take them."""
    return {
        "acid": Bottle("HCl", acid, acid),
        "peroxide": Bottle("H2O2", peroxide, peroxide),
        "draws": 4,
    }


def test_peroxide_meets_the_acid_that_is_there_before_it():
    """By hand: as much water as acid of 20 %; and nothing where peroxide is poured first."""
    inputs = mild_inputs(**bottles_of(0.2, 0.12), parts=(1, 1, 2))
    pours = poured(inputs)
    acid, water = (float(np.ravel(pours[name].mass)[0]) for name in ("acid", "water"))
    met = meetings(inputs)
    share = pytest.approx(0.2 * acid / (acid + water), abs=1e-9)
    assert met["acid_met"] == met["strong_acid_met"] == share
    assert met["peroxide_met"] == met["peroxide_met_by_strong"] == 0
    weak = meetings(inputs.replace(peroxide=Bottle("H2O2", 0.03, 0.03), parts=(0, 1, 2)))
    assert weak["acid_met"] == weak["strong_acid_met"] == 0
    assert weak["peroxide_met"] == pytest.approx(0.03), "acid of 20 % goes into it"
    assert not any(meetings(inputs.replace(parts=(1, 1, 0))).values()), "no peroxide, no meeting"


@pytest.mark.parametrize(
    ("peroxide", "acid_met", "strong_acid_met"),
    [(0.041, 0, 0.3), (0.06, 0, 0.3), (0.061, 0.3, 0.3)],
)
def test_peroxide_meets_acid_from_the_strength_that_matters(peroxide, acid_met, strong_acid_met):
    """Undiluted acid of 30 %: peroxide of up to 6 % counts only against strong acid."""
    met = meetings(mild_inputs(**bottles_of(0.3, peroxide), parts=(0, 1, 1)))
    assert float(met["acid_met"]) == pytest.approx(acid_met)
    assert float(met["strong_acid_met"]) == pytest.approx(strong_acid_met)


def test_fresh_acid_meets_what_a_used_bath_holds():
    """By hand: 1700 mol/m³ of 34.01 g/mol in 1.05 kg/L is 5.5 % by weight."""
    used = UsedBath(0.5, 100, 500, (0, 1700))
    for acid, some, strong in ((0.12, 0, 0), (0.2, 0.055, 0), (0.3, 0.055, 0.055)):
        met = meetings(mild_inputs(**bottles_of(acid, 0.12), parts=(0, 1, 1), used_bath=used))
        assert float(met["peroxide_met"]) == pytest.approx(some, rel=0.05)
        assert float(met["peroxide_met_by_strong"]) == pytest.approx(strong, rel=0.05)


def test_fresh_peroxide_meets_the_acid_of_a_used_bath():
    """By hand: 4500 mol/m³ of 36.46 g/mol in 1.08 kg/L is 15 %; no fresh acid is poured."""
    used = UsedBath(0.5, 100, (1000, 4500))
    met = meetings(mild_inputs(**bottles_of(0.1, 0.12), parts=(0, 0, 1), used_bath=used))
    assert float(met["acid_met"]) == pytest.approx(0.152, rel=0.03)


def test_meetings_of_variants_are_each_as_alone():
    variants = [mild_inputs(parts=(water, 1, 1), draws=4) for water in (0, 1, 2)]
    together = meetings(variants[0], **side_by_side(variants))
    for row, variant in enumerate(variants):
        for name, value in meetings(variant).items():
            assert np.ravel(together[name] + np.zeros((3, 1)))[row] == pytest.approx(value), name


def test_what_is_certain_before_anything_is_poured():
    used = UsedBath(0.5, 100, 500, (0, 400))
    inputs = mild_inputs(
        acid=Bottle("HCl", 0.05, 0.1, 0.31),
        used_bath=used,
        second=(0.5, 90.0),
        tray=Tray("bubbled"),
    )
    found = certain(inputs)
    assert found["acid_bottle"] == 0.31 and found["peroxide_bottle"] == 0.12
    assert found["used_peroxide"] == 400 and found["second_time"] == 90
    assert found["bottle_temperature"] == inputs.T_bottles
    assert (found["bubbled"], found["sprayed"]) == (1, 0)
    plain = certain(mild_inputs(tray=Tray("sprayed")))
    assert plain["used_peroxide"] == 0 and np.isinf(plain["second_time"])
    assert (plain["bubbled"], plain["sprayed"]) == (0, 1)
