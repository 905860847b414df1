"""Law: whoever else writes, and whenever a program is stopped, no row of a log is lost."""

import errno
import os
import re
import threading
import time

import pytest
from helpers.log_writers import (
    append_all,
    check_kills,
    check_rows,
    check_two_writers,
    slow_reading,
)
from helpers.offcuts import LAYOUTS, NEW, ROWS, fields_of, file_of

from pcbchem.bench.offcut import log, log_file
from pcbchem.bench.offcut.log import append_offcuts, read_log
from pcbchem.bench.offcut.log_layout import HEADER

GOOD = file_of(LAYOUTS["ours"])
OTHER = file_of(LAYOUTS["semicolons"])
LOCK = ".log.csv.lock"


@pytest.fixture
def good(path):
    """A log of three rows."""
    path.write_bytes(GOOD)
    return path


@pytest.fixture
def quick_disk(monkeypatch):
    """Not waiting until every row is on the disk."""
    monkeypatch.setattr(log_file.os, "fsync", lambda handle: None)


def notes(path):
    return [offcut.note for offcut in read_log(path).offcuts]


# ---- what is no file


@pytest.mark.parametrize(
    "name, message", [("none.csv", "none.csv: there is no such file"), ("a\0b", "a\0b: ")]
)
def test_law_what_is_not_there_is_not_read(name, message, tmp_path):
    with pytest.raises(ValueError, match="^" + re.escape(message)):
        read_log(tmp_path / name)


def test_law_a_folder_is_no_log(tmp_path):
    message = "^" + re.escape(f"{tmp_path.name}: is not a file")
    with pytest.raises(ValueError, match=message):
        read_log(tmp_path)
    with pytest.raises(ValueError, match=message):
        append_offcuts(tmp_path, NEW)


def test_law_a_number_is_no_path():
    for call in (read_log, append_offcuts):
        with pytest.raises(ValueError, match="path = 7 is impossible"):
            call(7)


def test_law_nothing_is_made_where_there_is_no_folder(tmp_path):
    with pytest.raises(FileNotFoundError, match=re.escape("nowhere/log.csv")):
        append_offcuts(tmp_path / "nowhere" / "log.csv", NEW)
    with pytest.raises(ValueError):
        append_offcuts(tmp_path / "a\0b", NEW)
    assert list(tmp_path.iterdir()) == []


# ---- other writers


def test_law_two_writers_at_once_lose_no_row(path):
    check_two_writers(path, 20)


def test_law_two_threads_at_once_lose_no_row(path, monkeypatch):
    monkeypatch.setattr(log, "read_handle", slow_reading(log.read_handle))
    threads = [threading.Thread(target=append_all, args=(path, who, 10)) for who in "ab"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    check_rows(path, 10)


def test_law_a_locked_log_is_given_up_with_nothing_written(good, monkeypatch):
    monkeypatch.setattr(log_file, "LOCK_WAIT", 0.05)
    message = "another program keeps the log locked, nothing was written: .*log.csv'"
    with log_file.lock(good), pytest.raises(TimeoutError, match=message):
        append_offcuts(good, NEW)
    assert good.read_bytes() == GOOD
    append_offcuts(good, NEW)
    assert len(notes(good)) == 4


def test_law_a_locked_log_is_waited_for(good):
    with log_file.lock(good):
        thread = threading.Thread(target=append_offcuts, args=(good, NEW))
        thread.start()
        time.sleep(0.05)
        assert good.read_bytes() == GOOD
    thread.join()
    assert len(notes(good)) == 4


def test_law_a_locked_log_can_be_read(good):
    with log_file.lock(good):
        assert len(notes(good)) == 3


def test_law_nothing_but_one_hidden_file_stays_beside_the_log(good):
    append_offcuts(good, NEW)
    assert {*os.listdir(good.parent)} <= {"log.csv", LOCK}
    lock = good.with_name(LOCK)
    assert not lock.exists() or lock.read_bytes() == b""


def test_law_a_log_has_one_lock_through_every_link(good, monkeypatch):
    link = good.parent / "elsewhere" / "mine.csv"
    link.parent.mkdir()
    link.symlink_to(good)
    monkeypatch.setattr(log_file, "LOCK_WAIT", 0.05)
    with log_file.lock(good), pytest.raises(TimeoutError):
        append_offcuts(link, NEW)
    append_offcuts(link, NEW)
    assert link.is_symlink() and len(notes(good)) == 4
    assert os.listdir(link.parent) == ["mine.csv"]


def test_law_a_lock_that_cannot_be_made_is_named_with_the_log(good):
    good.with_name(LOCK).mkdir()  # no file of that name can be written, whoever one is
    message = f"cannot be locked by a file {LOCK} beside it, nothing was written: .*log.csv'"
    with pytest.raises(OSError, match=message):
        append_offcuts(good, NEW)
    assert good.read_bytes() == GOOD


@pytest.mark.skipif(getattr(os, "geteuid", int)() == 0, reason="everything may be written by root")
def test_law_a_folder_that_is_only_to_be_read_is_named(good):
    good.parent.chmod(0o555)
    try:
        with pytest.raises(PermissionError, match=r"the log cannot be locked .*log\.csv'"):
            append_offcuts(good, NEW)
    finally:
        good.parent.chmod(0o755)
    assert good.read_bytes() == GOOD


@pytest.mark.parametrize("error", [PermissionError(errno.EACCES, "Permission denied"), None])
def test_law_a_system_that_does_not_lock_is_told(error, good, monkeypatch):
    def acquire(*_, **__):
        raise error or NotImplementedError

    monkeypatch.setattr(log_file.FileLock, "acquire", acquire)
    kind = PermissionError if error else OSError
    with pytest.raises(kind, match=r"nothing was written.*log\.csv'"):
        append_offcuts(good, NEW)
    assert good.read_bytes() == GOOD


# ---- an editor knows no lock


def meanwhile(monkeypatch, function, deed):
    """Do something once, right after a function of the module was called."""
    real, done = getattr(log_file, function), []

    def late(*arguments):
        result = real(*arguments)
        if not done:
            done.append(deed())
        return result

    monkeypatch.setattr(f"pcbchem.bench.offcut.log.{function}", late)


@pytest.mark.parametrize("function", ["read_handle", "add_bytes"])
def test_law_a_log_put_in_its_place_meanwhile_gets_the_row(function, good, monkeypatch):
    other = good.with_name("other.csv")
    other.write_bytes(OTHER)
    meanwhile(monkeypatch, function, lambda: os.replace(other, good))
    append_offcuts(good, NEW)
    assert good.read_bytes().startswith(OTHER) and len(notes(good)) == 4


@pytest.mark.parametrize("function", ["read_handle", "add_bytes"])
def test_law_a_row_is_not_lost_with_a_log_taken_away(function, good, monkeypatch):
    meanwhile(monkeypatch, function, good.unlink)  # as an editor does that removes and renames
    append_offcuts(good, NEW)
    assert notes(good) == [NEW.note]


def test_law_what_is_added_without_a_lock_is_not_written_over(good, monkeypatch):
    line = GOOD.split(b"\n")[1].replace(b"lamp on", b"lamp off") + b"\n"

    def add():
        with good.open("ab") as file:
            file.write(line)

    meanwhile(monkeypatch, "read_handle", add)
    append_offcuts(good, NEW)
    assert good.read_bytes().startswith(GOOD + line)
    assert read_log(good).lines == (2, 3, 4, 5, 6)


# ---- an end in the middle


@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks and kills")
def test_law_a_kill_while_rows_are_added_leaves_a_readable_log(path):
    check_kills(path, 15)


TORN = ["ours", "semicolons", "tabs", "tabs and points", "other order", "time last", "backwards"]


@pytest.mark.parametrize("name", TORN)
def test_law_a_row_torn_at_any_byte_spoils_nothing_else(name, path, quick_disk):
    how = LAYOUTS[name]
    before = file_of(how, ROWS[:1])
    path.write_bytes(before)
    old = fields_of(read_log(path).offcuts[0])
    append_offcuts(path, NEW)
    row, whole = path.read_bytes()[len(before) :], fields_of(NEW)
    step = 1 if name in ("ours", "semicolons") else 3  # 3: both halves of a wide letter
    for end in range(1, len(row), step):
        torn = before + row[:end]
        path.write_bytes(torn)
        first = read_log(path)
        assert fields_of(first.offcuts[0]) == old and len(first.lines) + len(first.bad) <= 3
        for offcut in first.offcuts[1:]:  # only the note may be cut short
            *fields, note = fields_of(offcut)
            assert tuple(fields) == whole[:-1] and whole[-1].startswith(note), end
        try:
            append_offcuts(path, ROWS[1])
        except ValueError as error:
            assert "ends without a line break and may be cut short" in str(error)
            assert how["columns"][-1] != "note" and len(first.offcuts) == 1
            assert path.read_bytes() == torn
            continue
        again = read_log(path)
        assert path.read_bytes().startswith(torn)
        assert fields_of(again.offcuts[0]) == old
        assert fields_of(again.offcuts[-1]) == fields_of(ROWS[1]), end
        assert again.lines[:-1] == first.lines  # what was bad stays bad


def test_law_a_header_torn_at_any_byte_is_written_to_its_end(path, quick_disk):
    append_offcuts(path, NEW)
    whole = path.read_bytes()
    assert whole.startswith(HEADER.encode())
    for end in range(len(HEADER) + 1):
        path.write_bytes(whole[:end])
        append_offcuts(path, NEW)
        assert path.read_bytes() == whole, end


def cannot_write(handle, data=b""):
    raise OSError(errno.EIO, "Input/output error")


def is_interrupted(handle, data=b""):
    raise KeyboardInterrupt


def writes_half(handle, data, write=os.write):
    return write(handle, data[:40])


@pytest.mark.parametrize(
    "function, fault",
    [
        ("write", writes_half),
        ("write", cannot_write),
        ("fsync", cannot_write),
        ("fsync", is_interrupted),
    ],
)
def test_law_what_cannot_be_written_whole_is_taken_back(function, fault, good, monkeypatch):
    monkeypatch.setattr(log_file.os, function, fault)
    with pytest.raises((OSError, KeyboardInterrupt)):
        append_offcuts(good, NEW)
    assert good.read_bytes() == GOOD
    monkeypatch.undo()
    append_offcuts(good, NEW)  # and the lock is free again
    assert read_log(good).bad == ()
