"""Curves to learn from hold the run's own numbers, in the picture and in words (laws)."""

import pytest

from pcbchem.common.limits import InputError
from pcbchem.common.tables import read
from pcbchem.lesson.plan_a_bath import curve_only, undiluted
from pcbchem.lesson.plan_a_bath.drawn_only import share, share_words, told_alone

ALONE = (3.6, 15.0)


@pytest.fixture(scope="module")
def run():
    return curve_only(draws=50)


def test_law_words_warn_and_say_the_miss(run):
    said = share_words(run, "Undiluted", ALONE)
    times = run.band("time_to_clear")
    assert "Do not mix" in said and f"{times.low:.1f} to {times.high:.1f} s" in said
    assert "3.6 s to 15 s" in said


@pytest.mark.parametrize("narrow", [False, True])
def test_law_the_picture_warns_and_shows_the_miss(run, narrow):
    axes = share(run, "Undiluted", ALONE, narrow).parts["axes"]
    title = axes.get_title(loc="left").replace("\n", " ")
    assert share_words(run, "Undiluted", ALONE).startswith(f"{title}.")
    assert list(axes.lines[-1].get_xdata()) == list(ALONE)


def test_law_the_bar_is_the_table_s_prediction():
    fact = next(row for row in read("leave_one_out") if row["fact"] == "undiluted")
    assert told_alone("undiluted") == (float(fact["low"]), float(fact["high"]))


def test_the_page_s_picture_says_its_own_numbers():
    assert undiluted().alt == share_words(curve_only(), "Undiluted", told_alone("undiluted"))


def test_only_what_a_page_draws_is_run():
    with pytest.raises(InputError, match="undiluted"):
        curve_only("stronger")
