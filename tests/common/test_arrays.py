"""Draws keep their mark where they should, and shapes that do not go together are refused."""

import numpy as np
import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem.common.arrays import MOST_DRAWS, Draws, as_draws, common_shape, number_or_array

DRAWS = as_draws([1.0, 2.0, 3.0])


# ---- the mark


@pytest.mark.parametrize(
    "result",
    [DRAWS + 1, 2 * DRAWS, -DRAWS, np.exp(DRAWS), np.maximum(DRAWS, 2.0), DRAWS * np.ones((4, 3))],
    ids=["sum", "product", "minus", "exp", "maximum", "broadcast"],
)
def test_arithmetic_keeps_the_mark(result: object) -> None:
    # Law.
    assert isinstance(result, Draws)


@pytest.mark.parametrize(
    "result",
    [
        DRAWS > 2,
        np.isfinite(DRAWS),
        DRAWS[1:],
        DRAWS[0],
        DRAWS.sum(),
        as_draws(np.ones((2, 3))).sum(axis=-1),
    ],
    ids=["comparison", "truth", "slice", "element", "sum", "sums of scenarios"],
)
def test_what_is_no_quantity_of_draws_loses_the_mark(result: object) -> None:
    # Law.
    assert not isinstance(result, Draws)


def test_arithmetic_gives_what_plain_arrays_give() -> None:
    # Law.
    assert np.array_equal(DRAWS**2 + DRAWS, [2.0, 6.0, 12.0])
    target = as_draws([0.0, 0.0, 0.0])
    np.add(DRAWS, 1.0, out=target)
    assert np.array_equal(target, [2.0, 3.0, 4.0])


def test_a_number_is_one_draw() -> None:
    # Law.
    assert as_draws(5.0).shape == (1,)
    assert as_draws(np.ones(MOST_DRAWS)).shape == (MOST_DRAWS,)


def test_only_what_has_no_axes_becomes_a_number() -> None:
    # Law.
    assert number_or_array(DRAWS) is DRAWS
    assert np.ndim(number_or_array(np.array(5.0))) == 0 and not isinstance(
        number_or_array(np.array(5.0)), np.ndarray
    )
    assert number_or_array([1.0, 2.0]).shape == (2,)


# ---- shapes


def test_scenarios_stand_before_the_draw_axis() -> None:
    # Law.
    volumes = np.ones((2, 1))
    assert common_shape(volume=volumes, acid=DRAWS, T=293.15) == ((2, 3), 3)
    assert common_shape(volume=volumes, T=np.ones(4)) == ((2, 4), None)
    assert common_shape() == ((), None)


REFUSED: list[Case] = [
    ("no draws", lambda: as_draws([]), ("draws = 0", "1 and 400")),
    ("too many draws", lambda: as_draws(np.ones(401)), ("draws = 401", "1 and 400")),
    (
        "two lengths of draws",
        lambda: common_shape(acid=DRAWS, lye=as_draws([1.0, 2.0])),
        ("acid has 3, lye has 2", "same number"),
    ),
    (
        "shapes that do not broadcast",
        lambda: common_shape(T=293.15, acid=np.ones(2), lye=np.ones(3)),
        ("acid (2,), lye (3,)",),
    ),
    (
        "a list as long as the draws",
        lambda: common_shape(volume=np.ones(3), acid=DRAWS),
        ("volume has a plain last axis of 3 beside 3 draws", "length 1"),
    ),
]


@cases(REFUSED)
def test_shapes_that_do_not_go_together_are_refused(call, words) -> None:
    # Law: the error names the arguments and their shapes.
    assert_refused(call, words)
