"""A page may use the folder it runs in, unless whoever serves it says that it may not (laws)."""

import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.folder import NO_FOLDER, own_folder


@pytest.fixture(autouse=True)
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv(NO_FOLDER, raising=False)
    return tmp_path


@pytest.mark.parametrize("value", [None, "", "0"])
def test_law_the_folder_of_the_kernel_is_its_reader_s(here, monkeypatch, value):
    if value is not None:
        monkeypatch.setenv(NO_FOLDER, value)
    assert own_folder() == here


def test_law_who_serves_many_readers_lends_no_folder(monkeypatch):
    monkeypatch.setenv(NO_FOLDER, "1")
    assert own_folder() is None


@pytest.mark.parametrize("value", ["yes", "2", "true", " 1"])
def test_law_what_means_nothing_is_refused_by_name(monkeypatch, value):
    """Taken for nothing it would let a page write where nobody wants it."""
    monkeypatch.setenv(NO_FOLDER, value)
    with pytest.raises(InputError, match="1 keeps every file off this computer") as error:
        own_folder()
    assert (error.value.field, error.value.value) == (NO_FOLDER, value)


def test_law_it_writes_nothing(here):
    own_folder()
    assert not list(here.iterdir())
