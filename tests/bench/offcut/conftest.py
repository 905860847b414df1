"""What the tests of logs share."""

import pytest

from pcbchem.bench.offcut.log import append_offcuts


@pytest.fixture
def path(tmp_path):
    """Where a log may lie."""
    return tmp_path / "log.csv"


@pytest.fixture
def refused(path):
    """See that rows are refused with a message, and that the log stays as it was."""

    def check(message, *rows):
        before = path.read_bytes() if path.exists() else None
        with pytest.raises(ValueError, match=message):
            append_offcuts(path, *rows)
        assert (path.read_bytes() if path.exists() else None) == before

    return check
