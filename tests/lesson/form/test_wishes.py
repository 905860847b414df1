"""What a reader wants of a bath is what they have entered, and nothing else."""

import pytest

from pcbchem.lesson.form.wishes import WISHES, wished

AT_FIRST = {field.name: field.start for field in WISHES}


def test_law_nobody_has_asked_for_what_stands_there_at_first():
    assert wished(AT_FIRST) == (None, None)


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({"window_to": 25}, ((180, 1500), 313.15)),
        ({"hottest": 35}, ((180, 480), 308.15)),
        ({"window_from": 0.5}, ((30, 480), 313.15)),
    ],
)
def test_law_one_wish_brings_the_others_along(changed, expected):
    """In seconds and kelvin."""
    window, hottest = wished(AT_FIRST | changed)
    assert (window, hottest) == (expected[0], pytest.approx(expected[1]))
