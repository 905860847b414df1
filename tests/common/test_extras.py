"""What is missing is said with what brings it, and nothing else is hidden by that (laws)."""

import sys

import pytest

from pcbchem.common.extras import extra


def test_law_a_missing_library_is_named_with_what_brings_it():
    with pytest.raises(ModuleNotFoundError) as caught, extra("sweep"):
        import no_such_library.inside  # noqa: F401
    words = str(caught.value)
    assert "no_such_library is missing" in words and 'pip install ".[sweep]"' in words
    assert caught.value.name == "no_such_library"
    assert isinstance(caught.value.__cause__, ModuleNotFoundError), "where it was missed"


def test_law_a_library_that_is_there_is_imported():
    with extra("sweep"):
        import sys as again
    assert again is sys


def test_law_a_module_of_our_own_comes_with_no_extra():
    with pytest.raises(ModuleNotFoundError) as caught, extra("pages"):
        import pcbchem.no_such_module  # noqa: F401
    assert "pip" not in str(caught.value)


def test_law_another_error_of_an_import_stays_what_it_is():
    with pytest.raises(ImportError) as caught, extra("pages"):
        from math import no_such_function  # noqa: F401
    assert "pip" not in str(caught.value)
