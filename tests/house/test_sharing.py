"""House rule of sharing: files that belong together exist, and long ones come first."""

import conftest

from house.source import ROOT


def test_law_files_kept_together_exist():
    for files in conftest.TOGETHER:
        assert [name for name in files if not (ROOT / name).is_file()] == []
    for folder in (*conftest.WAITING, *conftest.LONGEST_FIRST):
        assert (ROOT / folder).is_dir(), folder


def test_law_waiting_and_computing_take_turns_and_short_files_come_last():
    files = [
        "pcbchem/a.py",
        "tests/bench/test_a.py",
        "tests/browser/test_a.py",
        "tests/browser/test_b.py",
        "tests/laws/test_a.py",
        "tests/matter/test_a.py",
    ]
    assert conftest.in_order(files) == [
        "tests/browser/test_a.py",
        "tests/laws/test_a.py",
        "tests/browser/test_b.py",
        "tests/bench/test_a.py",
        "pcbchem/a.py",
        "tests/matter/test_a.py",
    ]
