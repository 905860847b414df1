"""Curves to learn from hold the run's own numbers, in the picture and in words (laws)."""

import pytest

from pcbchem.lesson.plan_a_bath import drawn_only as curves


@pytest.mark.parametrize("narrow", [False, True])
def test_undiluted_picture_warns_and_shows_the_miss(narrow):
    run, alone = curves.curve_only(draws=50), (3.6, 15.0)
    axes = curves.share(run, "Undiluted", alone, narrow).parts["axes"]
    times = run.band("time_to_clear")
    for text in (
        axes.get_title(loc="left").replace("\n", " "),
        curves.share_words(run, "Undiluted", alone),
    ):
        assert "Do not mix" in text and f"{times.low:.1f} to {times.high:.1f} s" in text
    assert "3.6 s to 15 s" in curves.share_words(run, "Undiluted", alone)
    assert list(axes.lines[-1].get_xdata()) == [3.6, 15.0]
    with pytest.raises(ValueError, match="undiluted"):
        curves.curve_only("stronger")
