"""What the tests of artworks share: a picture saved as a file."""

import pytest
from helpers.artworks import save


@pytest.fixture
def saved(tmp_path):
    """Save grey values or a picture as a file, and say where."""

    def save_as(grey, name="art.png", **options):
        return save(tmp_path / name, grey, **options)

    return save_as


@pytest.fixture
def refusal():
    """Read a file that is refused: the message without the file's name, which it begins with."""
    from pcbchem.bench.artwork import read_artwork

    def words_of(path, **arguments):
        with pytest.raises(ValueError) as error:
            read_artwork(path, **arguments)
        words = str(error.value)
        assert words.startswith(f"{path.name}: ") and error.value.__cause__ is None, words
        return words.removeprefix(f"{path.name}: ")

    return words_of
