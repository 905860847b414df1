"""Questions that ask why: what they state holds in the package and the planner (laws)."""

import re

import numpy as np
import pytest
from helpers.why_laws import WhyLaws, words_of

from pcbchem import Bottle, Solution, mix
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.pours import poured
from pcbchem.lesson.acid_into_water import why_questions
from pcbchem.lesson.acid_into_water.numbers import ASKED, MILD, by_hand
from pcbchem.lesson.acid_into_water.why_questions import PARTS, SETTINGS, jug
from pcbchem.lesson.workshop import USUAL, tide_clock
from pcbchem.reaction.bath.setup import Tray


class TestWhy(WhyLaws):
    settings = SETTINGS
    values = PARTS


def text_of(setting):
    return " ".join(words_of(setting))


def mixed(acid, parts, T=293.15):
    """One part of acid [kg/kg] and parts of water, mixed a second time."""
    return mix(Solution.of(volume=1, T=T, HCl=acid), Solution.of(volume=parts, T=T))


@pytest.mark.parametrize("parts", PARTS)
def test_law_both_orders_end_as_printed(parts):
    ends = [float(jug(first, ASKED, parts, 1.0).T) for first in (False, True)]
    assert ends[0] == pytest.approx(ends[1], abs=1e-6)
    assert ends[0] == pytest.approx(float(mixed(0.3145, parts).T), abs=1e-6)
    text = why_questions.both_alike(parts).text
    assert f"they end at {ends[0] - 273.15:.0f} °C" in text


@pytest.mark.parametrize("parts", PARTS)
def test_law_after_the_top_it_is_cooler(parts):
    """And what the last water brings is less than it takes, but not below nothing."""
    some = [mixed(0.3145, part) for part in np.linspace(0.05, parts, 100)]
    T = [float(each.T) for each in some]
    text = text_of(why_questions.past_the_top(parts))
    assert f"to {max(T) - 273.15:.0f} °C" in text and f"down to {T[-1] - 273.15:.0f} °C" in text
    assert max(T) - T[-1] > 1
    # "it still sets some heat free": warmer than the same water without that heat
    share = 0.9 * parts
    before = mixed(0.3145, share)
    water = Solution.of(volume=parts - share, T=293.15)
    assert float(mix(before, water).T) > float(mix(before, water, heat=False).T)
    # "that is colder than the jug by then"
    assert min(T[50:]) > 294


@pytest.mark.parametrize("parts", PARTS)
def test_law_a_splash_is_as_strong_as_printed(parts):
    mine = mix(Solution.of(volume=parts, T=293.15), Solution.of(volume=0.25, T=293.15, HCl=0.3145))
    theirs = mixed(0.3145, parts / 4)
    times = float(theirs.concentration("HCl") / mine.concentration("HCl"))
    (printed,) = re.findall(r"it is ([\d.]+) times", why_questions.what_splashes(parts).right[0])
    assert float(printed) == pytest.approx(times, rel=0.05) and times > 4
    assert float(theirs.T) > float(mine.T) + 3, "and hotter"


@pytest.mark.parametrize("parts", PARTS)
def test_law_mild_acid_has_given_its_heat(parts):
    """Less acid and less heat of each particle make the factor, as the explanation says."""
    text = why_questions.hardly_warms(parts).text
    total, less = (float(text) for text in re.findall(r"([\d.]+) times less", text))
    strong, mild = by_hand(ASKED, parts), by_hand(MILD, parts)
    assert less == pytest.approx(strong.moles / mild.moles, rel=0.05)
    assert total == pytest.approx(less * strong.heat / mild.heat, rel=0.15)
    assert strong.heat > 3 * mild.heat
    # "most of its heat came out before": what is left is a small part of what the bottle had
    assert mild.heat < 0.4 * by_hand(ASKED, 30).heat
    # "a little more water": by weight, in a jug as full
    water = [
        float(each.mass * each.mass_fraction("H2O"))
        for each in (mixed(0.10, parts), mixed(0.3145, parts))
    ]
    assert 1 < water[0] / water[1] < 1.1


def order(peroxide, parts):
    """In which order the planner pours the same acid, peroxide [kg/kg] and water [parts]."""
    bottles = Bottle.labelled("HCl", ASKED / 100), Bottle.labelled("H2O2", peroxide)
    return list(poured(Inputs(*bottles, (*parts,), tide_clock(), Tray(), USUAL, "EU")))


@pytest.mark.parametrize("parts", PARTS)
def test_law_the_planner_pours_so(parts):
    assert order(0.12, (parts, 1, 1)) == ["water", "acid", "peroxide"]
    assert order(0.03, (0, 1, parts)) == ["peroxide", "acid"]


@pytest.mark.parametrize("parts", PARTS)
def test_law_peroxide_meets_what_is_printed(parts):
    met = float(mixed(0.3145, parts).concentration("HCl")) / 1000
    printed = re.findall(r"It meets ([\d.]+) mol/L", text_of(why_questions.peroxide_last(parts)))
    assert float(printed[0]) == pytest.approx(met, rel=0.05)
    shop = Solution.of(volume=parts, T=293.15, H2O2=0.03)
    mine = mix(shop, Solution.of(volume=0.5, T=293.15, HCl=0.3145))
    half = Solution.of(volume=parts / 2, T=293.15, H2O2=0.03)
    theirs = mix(Solution.of(volume=1, T=293.15, HCl=0.3145), half)
    said = re.findall(
        r"([\d.]+) mol/L", why_questions.peroxide_first(parts).explanation.splitlines()[1]
    )
    for text, each in zip(said, (mine, theirs), strict=True):
        assert float(text) == pytest.approx(float(each.concentration("HCl")) / 1000, rel=0.05)
    # "it is heavier than water", and the bottle is mostly that
    assert float(Solution.of(volume=1, T=293.15, H2O2=0.12).density) > 1010
