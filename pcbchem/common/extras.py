"""Say which part of the installation brings a library that is missing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def extra(name: str) -> Iterator[None]:
    """Say what to install where an import inside finds no such library.

    Parameters
    ----------
    name : str
        The extra of `pyproject.toml` that brings it: numpy and filelock are always there, all else
        is for pages, tables or many baths.

    Raises
    ------
    ModuleNotFoundError
        A library is missing: names it, and the line that installs it.

    Examples
    --------
    >>> with extra("lab"):
    ...     import no_such_library
    Traceback (most recent call last):
    ModuleNotFoundError: no_such_library is missing. In the folder of pcbchem: pip install ".[lab]"
    """
    try:
        yield
    except ModuleNotFoundError as error:
        missing = str(error.name)
        # a module of our own comes with no extra
        if missing.split(".")[0] == __name__.split(".")[0]:
            raise
        words = f'{missing} is missing. In the folder of pcbchem: pip install ".[{name}]"'
        raise ModuleNotFoundError(words, name=missing) from error
