"""Errors and warnings carry their parts, and arguments are checked against their limits."""

import copy
import pickle
import threading
import warnings

import numpy as np
import pytest
from helpers.refusals import INF, NAN

from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.limits import (
    InputError,
    Range,
    RangeWarning,
    check_choice,
    check_kind,
    check_number,
    check_values,
    check_whole,
    collecting_warnings,
    limits_in_words,
    naming,
    value_in_words,
    warn_again,
    warn_outside,
)

PARTS = ("field", "rule", "value", "wrong", "about", "low", "high", "unit", "hint")
TEMPERATURE = Range("temperature", 273.15, 333.15, "K")
SHARE = Range("share", 0.0, 0.4)


def too_deep() -> InputError:
    return InputError(
        "depth", "it must be 0 to 1 m", value=2.0, low=0.0, high=1.0, unit="m", hint="use `mm`"
    )


def refusal(call, *arguments: object, **named: object) -> InputError:
    """The error of a call that must be refused."""
    with pytest.raises(InputError) as caught:
        call(*arguments, **named)
    return caught.value


# ---- errors


def test_an_error_is_a_value_error_with_its_parts() -> None:
    # Law.
    error = too_deep()
    assert isinstance(error, ValueError)
    assert (error.field, error.value, error.low, error.high, error.unit) == (
        "depth",
        2.0,
        0.0,
        1.0,
        "m",
    )


def test_words_of_an_error_are_put_together_of_its_parts() -> None:
    # Law.
    assert str(too_deep()) == "depth = 2 is impossible: it must be 0 to 1 m; use `mm`"
    error = InputError("paint", "choose from red, blue", value="green", wrong="is not known")
    assert str(error) == "paint = 'green' is not known: choose from red, blue"
    assert str(InputError("parts", "give three", about=" (two)")) == (
        "parts (two) is impossible: give three"
    )
    assert str(InputError("parts", "give three", about="", wrong="")) == "parts: give three"


def test_a_long_value_is_cut() -> None:
    # Law.
    assert len(value_in_words("x" * 1000)) == 80
    assert (
        value_in_words(0.1 + 0.2) == "0.3"
        and value_in_words(np.float64(1e-5)) == "1e-05"
        and value_in_words(7) == "7"
    )


def test_an_error_inside_something_keeps_its_parts() -> None:
    # Law: only the name in front and the words behind it change.
    inside = too_deep().inside("tray")
    assert str(inside) == "tray: depth = 2 is impossible: it must be 0 to 1 m; use `mm`"
    assert inside.field == "tray"
    for part in ("rule", "value", "wrong", "low", "high", "unit", "hint"):
        assert getattr(inside, part) == getattr(too_deep(), part), part


@pytest.mark.parametrize("again", [copy.copy, lambda error: pickle.loads(pickle.dumps(error))])
def test_an_error_comes_whole_from_another_process(again) -> None:
    # Law: a pickle is how it comes.
    error = again(too_deep().inside("tray"))
    assert str(error) == str(too_deep().inside("tray"))
    for part in PARTS:
        assert getattr(error, part) == getattr(too_deep().inside("tray"), part), part


# ---- naming


def test_naming_nests_and_keeps_the_parts() -> None:
    # Law.
    with pytest.raises(InputError) as caught, naming("plan.json"), naming("acid"):
        check_values("low", 0.6, 0.0, 0.45, "kg/kg")
    error = caught.value
    assert str(error) == ("plan.json: acid: low = 0.6 is impossible: it must be 0 to 0.45 kg/kg")
    assert (error.field, error.value, error.high, error.unit) == ("plan.json", 0.6, 0.45, "kg/kg")


def test_naming_takes_every_other_error_about_a_value() -> None:
    # Law.
    for error in (ValueError("too many"), OverflowError("too many")):
        with pytest.raises(ValueError, match=r"^acid: too many$") as caught, naming("acid"):
            raise error
        assert not isinstance(caught.value, InputError)


def test_naming_leaves_what_is_not_about_a_value() -> None:
    # Law.
    for error in (TypeError("a fault"), FileNotFoundError("gone"), KeyboardInterrupt()):
        with pytest.raises(type(error)) as caught, naming("acid"):
            raise error
        assert caught.value is error
    with naming("acid"):
        pass


# ---- checks of arguments


@pytest.mark.parametrize("value", [0.0, 1.0, 0.25, 1, np.float32(0.5), [0.0, 1.0], [[0.5]], []])
def test_values_inside_come_back_as_floats(value: object) -> None:
    # Law: both limits may be reached.
    array = check_values("depth", value, 0.0, 1.0, "m")
    assert array.dtype == float and np.array_equal(array, value)
    assert not isinstance(array, Draws)


def test_values_are_copied_with_their_mark() -> None:
    # Law: what the caller changes afterwards changes nothing here.
    for value in (as_draws([0.1, 0.2]), np.array([0.1, 0.2])):
        array = check_values("acid", value, 0.0, 1.0)
        assert isinstance(array, Draws) == isinstance(value, Draws)
        value[0] = 9.0
        assert array[0] == 0.1


@pytest.mark.parametrize(
    ("value", "worst"),
    [
        (-0.1, "-0.1"),
        (1.001, "1.001"),
        (NAN, "nan"),
        (INF, "inf"),
        (-INF, "-inf"),
        ([0.5, 7.0, -3.0], "7"),
        (as_draws([0.5, 7.0]), "7"),
    ],
)
def test_values_outside_are_refused(value: object, worst: str) -> None:
    # Law: the first bad one is named, with name, limits and unit.
    error = refusal(check_values, "depth", value, 0.0, 1.0, "m")
    assert str(error) == f"depth = {worst} is impossible: it must be 0 to 1 m"
    assert (error.field, error.low, error.high, error.unit) == ("depth", 0.0, 1.0, "m")
    assert f"{error.value:g}" == worst


def test_no_end_is_no_leave_for_infinity() -> None:
    # Law.
    refusal(check_values, "time", INF, 0.0, INF, "s")


def test_a_lower_limit_may_be_out_of_reach() -> None:
    # Law.
    error = refusal(check_values, "depth", 0.0, 0.0, 1.0, "m", above=True)
    assert str(error) == "depth = 0 is impossible: it must be above 0 to 1 m"
    assert check_values("depth", 1e-300, 0.0, 1.0, above=True) == 1e-300
    assert check_values("depth", 1.0, 0.0, 1.0, above=True) == 1.0


@pytest.mark.parametrize("value", ["deep", None, [[1.0], [1.0, 2.0]], object()])
def test_what_is_not_a_number_is_said_so(value: object) -> None:
    # Law.
    if value is None:
        # To numpy nothing is NaN, which is refused as such
        assert refusal(check_values, "depth", None, 0.0, 1.0).wrong == "is impossible"
        return
    error = refusal(check_values, "depth", value, 0.0, 1.0, "m")
    assert (error.value, error.wrong) == (value, "is not a number")


@pytest.mark.parametrize("value", [0.5, 1, np.float64(0.5), np.array(0.5)])
def test_one_number_comes_back_as_a_float(value: object) -> None:
    # Law.
    number = check_number("depth", value, 0.0, 1.0, "m")
    assert type(number) is float and number == value


@pytest.mark.parametrize("value", [True, "0.5", None, [0.5], np.array([0.5]), 10**400])
def test_what_is_not_one_number_is_refused(value: object) -> None:
    # Law: a list is for `etch`; true is no depth.
    error = refusal(check_number, "depth", value, 0.0, 1.0, "m")
    assert "a plan takes one number, 0 to 1 m" in str(error)
    assert (error.low, error.high, error.unit) == (0.0, 1.0, "m")


def test_one_number_outside_is_refused_like_values() -> None:
    # Law.
    error = refusal(check_number, "depth", 2, 0.0, 1.0, "m")
    assert str(error) == "depth = 2 is impossible: it must be 0 to 1 m"
    refusal(check_number, "depth", 0.0, 0.0, 1.0, "m", above=True)
    refusal(check_number, "depth", NAN, 0.0, 1.0, "m")


def test_a_whole_number_is_neither_true_nor_a_float() -> None:
    # Law.
    assert check_whole("draws", 1, 1, 400) == 1
    assert type(check_whole("draws", np.int64(400), 1, 400)) is int
    for value in (0, 401, 2.0, True, "3", None):
        error = refusal(check_whole, "draws", value, 1, 400)
        assert str(error) == (
            f"draws = {value!r} is impossible: it must be a whole number from 1 to 400"
        )
        assert (error.low, error.high) == (1, 400)


def test_a_choice_is_one_of_its_words() -> None:
    # Law.
    assert check_choice("facing", "up", ("up", "down")) == "up"
    for value in ("Up", "", None, 3, ["up"]):
        error = refusal(check_choice, "facing", value, ("up", "down"))
        assert str(error) == f"facing = {value!r} is not known: choose from up, down"


def test_a_value_is_of_its_kind() -> None:
    # Law.
    check_kind("limits", SHARE, Range)
    for value in (0.4, None, "share", Range):
        error = refusal(check_kind, "limits", value, Range)
        assert str(error) == f"limits = {value!r} is impossible: it must be a Range"
        assert error.field == "limits" and error.value is value


def test_limits_in_words() -> None:
    # Law.
    assert limits_in_words(0, 1, "m") == "0 to 1 m"
    assert limits_in_words(0.05, 1e9) == "0.05 to 1e+09"
    assert limits_in_words(0, 1, "m", above=True) == "above 0 to 1 m"


# ---- ranges and their warnings


def test_the_value_farthest_outside_is_found_on_both_sides() -> None:
    # Law: as a share of the width; below 0 inside.
    assert TEMPERATURE.overshoot([280.0, 363.15]) == pytest.approx((0.5, 363.15))
    assert TEMPERATURE.overshoot([243.15, 340.0]) == pytest.approx((0.5, 243.15))
    assert TEMPERATURE.overshoot(303.15)[0] == pytest.approx(-0.5)
    assert TEMPERATURE.overshoot([])[0] == 0


def test_a_warning_carries_its_parts() -> None:
    # Law.
    with pytest.warns(RangeWarning) as caught:
        warn_outside("density", (TEMPERATURE, [300.0, 350.0]), stacklevel=2)
    (warning,) = [record.message for record in caught]
    assert isinstance(warning, RangeWarning)
    assert (warning.reader, warning.quantity, warning.value) == ("density", "temperature", 350.0)
    assert (warning.low, warning.high, warning.unit) == (273.15, 333.15, "K")
    assert str(warning) == (
        "density: temperature = 350 K is outside the range we checked, 273.15 to 333.15 K"
    )
    assert str(pickle.loads(pickle.dumps(warning))) == str(warning)


@pytest.mark.parametrize(
    "pairs",
    [((TEMPERATURE, 353.15), (SHARE, 0.6)), ((SHARE, 0.6), (TEMPERATURE, 353.15))],
)
def test_one_call_gives_one_warning_of_the_farthest(pairs) -> None:
    # Law: half a width of shares is more than a third of temperatures, in any order.
    with pytest.warns(RangeWarning) as caught:
        warn_outside("density", *pairs, stacklevel=2)
    (record,) = caught
    assert record.message.quantity == "share"
    assert record.filename == __file__


def test_rounding_gives_no_warning() -> None:
    # Law: warnings are errors here.
    warn_outside("density", (SHARE, 0.4 * (1 + 1e-10)), (TEMPERATURE, [273.15, 333.15]))


def test_collected_warnings_are_kept_once_and_off_the_screen() -> None:
    # Law.
    collected: list[RangeWarning] = []
    with collecting_warnings(collected):
        for share in (0.5, 0.5, 0.6):
            warn_outside("density", (SHARE, share))
    assert [warning.value for warning in collected] == [0.5, 0.6]


def test_collecting_ends_with_its_block() -> None:
    # Law: also after an error, and the block around it goes on collecting.
    outer: list[RangeWarning] = []
    with collecting_warnings(outer):
        with pytest.raises(ZeroDivisionError), collecting_warnings():
            warn_outside("density", (SHARE, 0.5))
            raise ZeroDivisionError
        warn_outside("density", (SHARE, 0.6))
    assert [warning.value for warning in outer] == [0.6]
    with pytest.warns(RangeWarning):
        warn_outside("density", (SHARE, 0.7))


def test_each_thread_collects_its_own_warnings() -> None:
    # Law: while one collects, the warning of another is seen.
    collected: list[RangeWarning] = []

    def in_another_thread() -> None:
        warn_outside("density", (SHARE, 0.9))

    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        with collecting_warnings(collected):
            warn_outside("density", (SHARE, 0.5))
            thread = threading.Thread(target=in_another_thread)
            thread.start()
            thread.join()
    assert [warning.value for warning in collected] == [0.5]
    assert [record.message.value for record in records] == [0.9]


def test_what_was_collected_is_given_again_once() -> None:
    # Law: at the caller's line, with its parts, for whoever collected it to find out more first.
    def reader(value: float) -> None:
        outside: list[RangeWarning] = []
        with collecting_warnings(outside):
            warn_outside("reader", (Range("T", 0, 1, "K"), value))
            warn_outside("reader", (Range("T", 0, 1, "K"), value))
        warn_again(outside)

    with warnings.catch_warnings(record=True) as records:
        warnings.simplefilter("always")
        reader(2.0)
        reader(0.5)
    assert [str(record.message) for record in records] == [
        str(RangeWarning("reader", "T", 2, 0, 1, "K"))
    ]
    assert records[0].filename == __file__
    # and goes to whoever collects around it
    collected: list[RangeWarning] = []
    with collecting_warnings(collected):
        reader(3.0)
    assert [warning.value for warning in collected] == [3.0]
