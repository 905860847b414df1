"""Questions that ask why: what their texts, answers and replies state holds in the model (law)."""

import re

import numpy as np
import pytest
from helpers.why_laws import WhyLaws

from pcbchem.bench.plan.dilution import film_at_start, times_without
from pcbchem.lesson.why_water_slows_it import why_questions
from pcbchem.lesson.why_water_slows_it.why_questions import (
    SETTINGS,
    WEAKER,
    cost,
    cost_without_bubbles,
    diluted,
    films,
)
from pcbchem.lesson.workshop import ROOMY, USUAL, bath
from pcbchem.reaction.bath.rate import flux
from pcbchem.reaction.bath.setup import Tray

AREA = 27e-4


class TestWhy(WhyLaws):
    settings = SETTINGS
    values = WEAKER


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_the_still_bath_slows_more_than_the_shaken(weaker):
    still = diluted("mild", "still", USUAL, weaker)
    shaken = diluted("mild", "shaken", USUAL, weaker)
    # in 8 of 10 plausible baths each, and not only in the middle
    assert still.ratio.low[1] > shaken.ratio.high[1]
    # neither takes as many times as the strength alone, or as its square
    for ratio in (still.ratio, shaken.ratio):
        assert ratio.middle[1] > 1.1 * weaker
    assert shaken.ratio.middle[1] < weaker**2 < still.ratio.middle[1]
    thin, thick = shaken.film["thickness"]
    assert thick < 1.2 * thin
    thin, thick = still.film["thickness"]
    assert thick > 1.7 * thin
    assert still.film["oxygen"][1] < 0.5 * still.film["oxygen"][0]


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_the_bubbling_bath_slows_more_than_the_quiet(weaker):
    bubbling = diluted("mild", "still", ROOMY, weaker)
    quiet = diluted("weak", "still", ROOMY, weaker)
    assert bubbling.ratio.middle[1] > 1.4 * quiet.ratio.middle[1]
    # most of the bubbles go, and the quiet bath hardly had any
    assert bubbling.film["oxygen"][1] < 0.5 * bubbling.film["oxygen"][0]
    assert quiet.film["oxygen"][0] < 0.05 * bubbling.film["oxygen"][0]
    # thick before, grows less
    assert quiet.film["thickness"][0] > bubbling.film["thickness"][1]
    growth = [case.film["thickness"][1] / case.film["thickness"][0] for case in (quiet, bubbling)]
    assert growth[0] < 1.35 < 1.7 < growth[1]


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_two_reagents_do_not_multiply(weaker):
    quiet = diluted("weak", "shaken", ROOMY, weaker)
    # "a little over"
    assert weaker < quiet.ratio.middle[1] < 1.15 * weaker
    assert quiet.ratio.high[1] < weaker**2
    assert quiet.film["thickness"][1] < 1.02 * quiet.film["thickness"][0]
    bubbling = diluted("mild", "shaken", ROOMY, weaker)
    assert quiet.film["oxygen"][0] < 0.1 * bubbling.film["oxygen"][0]


@pytest.mark.parametrize("bottles, scarce", [("weak", "peroxide"), ("mild", "acid")])
def test_law_the_scarcer_reagent_sets_the_pace(bottles, scarce):
    """Shaken, so that the film hardly changes: both twice as weak, or one of them alone."""
    case = diluted(bottles, "shaken", ROOMY, WEAKER[0])
    acid, peroxide, T = case.acid[0], case.peroxide[0], case.T[0]

    def direct(acid, peroxide):
        return flux(acid, peroxide, T, AREA, tray=Tray(agitation="shaken"))["direct"]

    whole = direct(acid, peroxide)
    both = whole / direct(acid / 2, peroxide / 2)
    acid_alone = whole / direct(acid / 2, peroxide)
    peroxide_alone = whole / direct(acid, peroxide / 2)
    assert 1.9 < both < 2.4
    if scarce == "peroxide":
        assert acid_alone < 1.1 < 1.8 < peroxide_alone
    else:
        # "where acid is the scarcer one, it sets the pace"
        assert acid_alone > 1.8


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_water_costs_less_without_bubbles(weaker):
    usual, quiet = cost("mild", "still", USUAL, weaker), cost_without_bubbles(weaker)
    assert weaker < quiet < 0.7 * usual
    # "mostly strength": more than half of the factor, on a scale of factors
    assert np.log(weaker) > 0.6 * np.log(quiet)
    case = diluted("mild", "still", USUAL, weaker)

    def film(place):
        reagents = (case.acid[place], case.peroxide[place], case.T[place])
        tray = Tray(agitation="still")
        return flux(*reagents, AREA, tray=tray, without="gas stirring")["film"]

    # water hardly changes it; it is as thick before as the usual one becomes
    assert film(1) < 1.3 * film(0)
    assert film(0) > 2 * case.film["thickness"][0]
    assert film(0) > 0.9 * case.film["thickness"][1]


@pytest.mark.parametrize("weaker", (1.0, WEAKER[-1]))
def test_law_a_bath_without_its_bubbles_is_slower(weaker):
    inputs = bath("mild", agitation="still", parts=2 * (weaker - 1))
    times = times_without(inputs.replace(draws=40))
    assert times["without gas stirring"].middle > times["all on"].middle


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_the_film_grows_as_printed(weaker):
    text = why_questions.thicker_film(weaker).text
    printed = [float(number) for number in re.findall(r"(\d+) µm", text)]
    case = diluted("mild", "still", USUAL, weaker)
    tray = Tray(agitation="still")
    for number, acid, peroxide, T in zip(printed, case.acid, case.peroxide, case.T, strict=True):
        film = film_at_start(acid, peroxide, T, AREA, tray)
        assert number == pytest.approx(1e6 * film["thickness"], abs=0.51)
    # "a tenth of a millimetre or a few"
    assert all(90 < number < 400 for number in printed)
    # "as much bath as you like over the copper leaves it the same"
    roomy = diluted("mild", "still", ROOMY, weaker).film["thickness"]
    assert list(roomy) == pytest.approx(films(weaker), rel=1e-6)


@pytest.mark.parametrize("weaker", WEAKER)
def test_law_the_shaken_quiet_bath_is_nearest_to_strength(weaker):
    quiet = cost("weak", "shaken", ROOMY, weaker)
    others = (cost("mild", "still", USUAL, weaker), cost("mild", "still", ROOMY, weaker), weaker**2)
    assert abs(quiet - weaker) < 0.5 * min(abs(other - weaker) for other in others)
    # "plenty of bath is not enough": it helps, but the film grows all the same
    assert others[1] > 1.5 * weaker
