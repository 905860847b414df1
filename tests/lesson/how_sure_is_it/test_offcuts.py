"""Two pairs of offcuts have the bench's ratios and tell three ideas apart together (laws)."""

import pytest
from helpers.tray_baths import undiluted

from pcbchem.bench.plan.dilution import cost_without, offcuts
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.how_sure_is_it import offcut_words
from pcbchem.lesson.how_sure_is_it.offcuts import PAIRS, Expected, expected


@pytest.mark.parametrize("name", ["still", "shaken"])
def test_law_the_table_holds_the_bench_s_ratios(name):
    with collecting_warnings():
        ratio = offcuts(undiluted(name), 2.0)
    band = f"**{float(ratio.middle):.1f}** ({float(ratio.low):.1f} to {float(ratio.high):.1f})"
    assert f"| {name} | 2 | 4 | {band} |" in offcut_words()


def test_law_together_they_tell_three_ideas_apart():
    still, shaken = (expected(case) for case in PAIRS.values())
    for pair in (still, shaken):
        assert (pair.alone, pair.multiplied) == (2, 4)
        assert pair.low > 1.1 * pair.alone
    # the one above both multiply, the other below: no power of the strength gives both
    assert still.middle > 1.3 * still.multiplied and still.low > still.multiplied
    assert shaken.high < 0.8 * shaken.multiplied
    assert "**Above 4 when still and below 4 when shaken:**" in offcut_words()


@pytest.mark.parametrize(
    "low, high, side", [(4.1, 7, "above"), (2.4, 3, "below"), (3, 5, "on both sides of")]
)
def test_law_the_side_is_said_of_the_whole_band(low, high, side):
    assert Expected(2, 4, low, 4, high).side == side


def test_law_a_model_without_bubbles_fails_the_test():
    """The bath of the board says so too: 3 or less, and clear of what the page expects."""
    with collecting_warnings():
        cost = cost_without(undiluted("still"), 2.0)["without gas stirring"]
    assert 2.5 < cost.high < 3 < expected(PAIRS["still"]).low
    assert "**3 or less when still:** bubbles hardly matter" in offcut_words()
    assert f"Without bubbles the model gives {float(cost.middle):.1f};" in offcut_words()


def test_law_the_page_counts_its_own_baths_that_would_not_pass():
    with collecting_warnings():
        still, shaken = (offcuts(undiluted(name), 2.0).values for name in ("still", "shaken"))
    passing = sum(dry > 4 > moved for dry, moved in zip(still, shaken, strict=True))
    assert 0 < passing < len(still)
    assert f"Of its own {len(still)} baths {len(still) - passing} would not" in offcut_words()
