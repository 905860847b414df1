"""Check that what cannot be is refused in words that help."""

from collections.abc import Callable

import pytest

NAN, INF = float("nan"), float("inf")
Case = tuple[str, Callable[[], object], tuple[str, ...]]
"""A name, a call that must be refused, and words that the error must hold."""


def cases(table: list[Case]) -> pytest.MarkDecorator:
    """A test of `call` and `words` for every case in a table."""
    values = [(call, words) for _, call, words in table]
    return pytest.mark.parametrize(("call", "words"), values, ids=[name for name, _, _ in table])


def assert_refused(call: Callable[[], object], words: tuple[str, ...]) -> None:
    """Fail unless the call raises a ValueError that holds every one of the words."""
    with pytest.raises(ValueError) as caught:
        call()
    for word in words:
        assert word in str(caught.value), f"{word!r} is missing in: {caught.value}"
