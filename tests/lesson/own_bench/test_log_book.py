"""The log of one's own bench: nothing is lost, nothing written twice, all of it is said (laws).

By the panel of offcuts, as a reader presses its buttons and reads its words.
"""

import errno
import os
import re
import subprocess
import sys

import pytest
from filelock import FileLock
from helpers.log_writers import TESTS
from helpers.offcuts import LAYOUTS, ROW, ROWS, file_of, mild, text_of

from pcbchem.bench.offcut import append_offcuts, log, log_file, read_log
from pcbchem.bench.offcut.log_layout import HEADER
from pcbchem.common.limits import InputError
from pcbchem.lesson.own_bench.log_book import FIRST_NAME, NOT_SAVED, LogBook, check_name, counted


@pytest.fixture
def tab(open_log, tmp_path):
    """The panel on a folder in which nothing lies yet."""
    return open_log(tmp_path)


@pytest.fixture
def path(tmp_path):
    """Where its log lies."""
    return tmp_path / FIRST_NAME


def add(tab, seen, **values):
    """Write a time and press Add."""
    tab.enter(seen=seen, **values)
    return tab.press("add_row")


# ---- opened, started, added to


def test_law_a_log_is_started_once_and_then_opened(tab, path):
    assert "There is no log yet" in tab.press("take_log")
    assert not path.exists(), "nobody has asked for one"
    assert tab.press("open_log") == f"{FIRST_NAME} is started, in the folder of this page."
    assert path.read_text() == HEADER
    assert tab.press("open_log") == f"{FIRST_NAME} is open: no offcut yet."
    assert path.read_text() == HEADER


def test_law_an_empty_file_is_a_log_that_was_not_begun(tab, path):
    path.touch()
    assert "is started" in tab.press("open_log") and path.read_text() == HEADER


def test_law_a_row_needs_a_log_and_a_time(tab, path):
    assert "There is no log yet" in add(tab, "4 min")
    tab.press("open_log")
    assert "say how long it was in" in add(tab, "")
    assert path.read_text() == HEADER


def test_law_a_double_press_adds_one_row(tab, path):
    tab.press("open_log")
    assert add(tab, "4 min 10 s") == f"Added: line 2 of {FIRST_NAME}."
    # the time is gone from its field, and what was said of the row is said again
    assert tab.press("add_row").startswith(f"Added: line 2 of {FIRST_NAME}. For one more, say")
    assert "holds this offcut already" in add(tab, "4:10")
    assert [offcut.time for offcut in read_log(path).offcuts] == [250]


def test_law_a_message_that_comes_again_does_nothing(tab, path):
    tab.press("open_log")
    for time in ("4 min", "5 min"):
        tab.enter(seen=time)
        tab.press("add_row", number=time)
    before, count = path.read_bytes(), len(tab.sent)
    tab.enter(seen="6 min")
    for number in ("5 min", "4 min"):
        assert tab.press("add_row", number=number) == "", "also one of a while ago"
    assert path.read_bytes() == before and len(tab.rows()) == 2
    assert len(tab.sent) > count


def test_law_a_reload_in_the_middle_loses_no_row(tab, path):
    tab.press("open_log")
    add(tab, "4 min")
    tab.enter(seen="5 min", note="half written")
    seen = tab.reload()
    assert f"{FIRST_NAME}: 1 offcut" in seen and len(tab.rows()) == 1
    assert (tab.panel.values["seen"], tab.panel.values["note"]) == ("5 min", "half written")
    assert "line 3" in tab.press("add_row")


def test_law_two_offcuts_alike_are_told_apart_by_a_note(tab, path):
    tab.press("open_log")
    add(tab, "4 min")
    assert "say so in its note" in add(tab, "4 min")
    assert "line 3" in add(tab, "4 min", note="a second look")
    assert tab.panel.values["note"] == "", "it is of one offcut"


# ---- others write, too


def test_law_two_tabs_add_in_turn(open_log, tmp_path, path):
    one, other = open_log(tmp_path), open_log(tmp_path)
    for tab in (one, other):
        tab.press("open_log")
    for number, tab in enumerate((one, other, one, one, other), 2):
        assert add(tab, f"{number} min") == f"Added: line {number} of {FIRST_NAME}."
    assert [offcut.time for offcut in read_log(path).offcuts] == [120, 180, 240, 300, 360]
    one.enter()
    assert one.rows() == other.rows() and len(one.rows()) == 5


def test_law_two_programs_add_at_once(tmp_path, path):
    """Each says of its own row which line it has become, though the other one adds as well."""
    code = "import sys; from helpers.own_bench import add_rows; add_rows(*sys.argv[1:])"
    places = os.pathsep.join([str(TESTS), str(TESTS.parent)])
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", code, str(tmp_path), who, "12"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": places},
        )
        for who in "ab"
    ]
    for writer in writers:
        assert writer.stdout.readline() == "ready\n", writer.stderr.read()
    for writer in writers:
        writer.stdin.write("go\n")
        writer.stdin.flush()
    for writer in writers:
        assert writer.communicate(timeout=60)[1] == "" and writer.returncode == 0
    notes = [offcut.note for offcut in read_log(path).offcuts]
    for who in "ab":
        assert [note for note in notes if note[0] == who] == [f"{who} {n}" for n in range(12)]
    assert len(notes) == 24


def test_law_the_line_is_that_of_the_row_not_of_the_last(tab, path, monkeypatch):
    tab.press("open_log")

    def beside(file, *offcuts):
        append_offcuts(file, *offcuts)
        append_offcuts(file, mild(acid_bottle="another", peroxide_bottle="another"))

    monkeypatch.setattr("pcbchem.lesson.own_bench.log_book.append_offcuts", beside)
    assert add(tab, "4 min") == f"Added: line 2 of {FIRST_NAME}." and len(tab.rows()) == 2


@pytest.mark.parametrize("how", LAYOUTS)
def test_law_a_spreadsheet_may_save_it_meanwhile(how, tab, path):
    """Semicolons, decimal commas, UTF-16, a byte order mark: rows are added in its own way."""
    tab.press("open_log")
    saved = file_of(LAYOUTS[how], ROWS)
    path.write_bytes(saved)
    assert "3 offcuts" in tab.enter()
    names = {"acid_bottle": "mine", "peroxide_bottle": "mine too"}
    assert add(tab, "4 min", **names).startswith("Added")
    whole = read_log(path)
    assert path.read_bytes().startswith(saved) and whole.bad == ()
    assert len(whole.offcuts) == 4 and whole.offcuts[-1].time == 240
    assert tab.take("take_log") == (FIRST_NAME, path.read_bytes()), "byte for byte"


# ---- what happens to files


def gone(tab, path, before):
    """See that nothing is added and nothing started, and that what was read can be taken along."""
    said = add(tab, "5 min")
    assert said == tab.panel.wrong.partition(" nobody")[0].strip() or said in tab.seen()
    assert tab.take("take_log") == (FIRST_NAME, before)
    assert len(tab.rows()) == 1, "what was read last is still seen"
    return said


def started(tab, path):
    """Start a log with one row, and return its bytes."""
    tab.press("open_log")
    add(tab, "4 min")
    return path.read_bytes()


def test_law_a_file_that_is_taken_away_is_not_started_anew(tab, path):
    before = started(tab, path)
    path.unlink()
    assert "is gone from the folder of this page" in gone(tab, path, before)
    assert not path.exists()
    path.write_bytes(before)
    assert "line 3" in tab.press("add_row"), "put back it goes on"


def test_law_a_file_that_is_renamed_is_found_by_its_new_name(tab, path):
    before = started(tab, path)
    path.rename(path.with_name("autumn.csv"))
    assert "is gone from the folder" in gone(tab, path, before)
    assert not path.exists()
    tab.enter(log="autumn.csv")
    assert tab.press("open_log") == "autumn.csv is open: 1 offcut."
    assert "line 3 of autumn.csv" in tab.press("add_row")


def test_law_a_folder_in_its_place_is_no_log(tab, path):
    before = started(tab, path)
    path.unlink()
    path.mkdir()
    said = gone(tab, path, before)
    assert "is not a file" in said and "spreadsheet" not in said and not list(path.iterdir())
    assert "is not a file" in tab.press("open_log")


def test_law_another_table_in_its_place_is_refused(tab, path):
    before = started(tab, path)
    path.write_text("a,b\n1,2\n")
    assert "has no header" in gone(tab, path, before) and path.read_text() == "a,b\n1,2\n"


DENIED = PermissionError(errno.EACCES, "Permission denied")


def refuse(error, *refused):
    """Refuse to open files of these names, as the system does: root may open every one."""
    opening = os.open

    def open_file(file, *rest, **more):
        if os.path.basename(file) in refused:
            raise error
        return opening(file, *rest, **more)

    return open_file


@pytest.mark.parametrize("name", [FIRST_NAME, f".{FIRST_NAME}.lock"])
def test_law_a_file_or_folder_that_cannot_be_written_is_said(tab, path, monkeypatch, name):
    before = started(tab, path)
    monkeypatch.setattr(log_file.os, "open", refuse(DENIED, name))
    said = add(tab, "5 min")
    assert said.startswith(f"{FIRST_NAME} could not be written: ") and "Permission denied" in said
    assert "spreadsheet" in said and said.endswith("Nothing was added.")
    assert path.read_bytes() == before and tab.panel.values["seen"] == "5 min"
    monkeypatch.undo()


def test_law_a_log_cannot_be_started_where_nothing_may_be_written(tab, path, monkeypatch):
    monkeypatch.setattr(log_file.os, "open", refuse(DENIED, FIRST_NAME, f".{FIRST_NAME}.lock"))
    assert "could not be written" in tab.press("open_log") and not path.exists()
    assert "There is no log yet" in tab.press("take_log")


def test_law_a_file_that_cannot_be_read_is_said(tab, path, monkeypatch):
    before = started(tab, path)

    def open_file(*_):
        raise DENIED

    monkeypatch.setattr("builtins.open", open_file)
    said = tab.press("add_row") if tab.panel.values["seen"] else add(tab, "5 min")
    monkeypatch.undo()
    assert "cannot be read: Permission denied. Is it open in a spreadsheet?" in said
    assert path.read_bytes() == before


def test_law_a_log_that_is_locked_is_said(tab, path, monkeypatch):
    before = started(tab, path)
    monkeypatch.setattr(log_file, "LOCK_WAIT", 0.02)
    with FileLock(path.with_name(f".{FIRST_NAME}.lock")):
        assert "another program keeps the log locked" in add(tab, "5 min")
    assert path.read_bytes() == before
    assert "line 3" in tab.press("add_row")


@pytest.mark.parametrize("room", [0, 17])
def test_law_on_a_full_disk_the_file_stays_byte_for_byte(tab, path, monkeypatch, room):
    """A disk that takes nothing, or a part of the row."""
    before = started(tab, path)
    write = os.write

    def full(handle, data):
        if not room:
            raise OSError(errno.ENOSPC, "No space left on device")
        return write(handle, data[:room])

    monkeypatch.setattr(log_file.os, "write", full)
    said = add(tab, "5 min")
    monkeypatch.undo()
    assert said.endswith("Nothing was added.") and re.search("No space left|no room for all", said)
    assert path.read_bytes() == before and len(tab.rows()) == 1
    assert "line 3" in tab.press("add_row"), "the time still stands in its field"


def test_law_a_log_that_is_too_large_is_refused(tab, path):
    before = started(tab, path)
    path.write_bytes(before + b"\n" * log_file.MOST_BYTES)
    assert "is larger than 2 MB" in gone(tab, path, before)


def test_law_a_full_log_takes_no_more(tab, path, monkeypatch):
    before = started(tab, path)
    monkeypatch.setattr(log, "MOST_BYTES", len(before) + 9)
    assert "is full" in add(tab, "5 min") and path.read_bytes() == before


# ---- names


@pytest.mark.parametrize(
    "name",
    [
        "../log.csv",
        r"..\log.csv",
        "sub/log.csv",
        "/tmp/log.csv",
        r"C:\log.csv",
        "C:log.csv",
        "<img src=x onerror=alert(1)>.csv",
        f"{57 * 'x'}.csv",
        "log",
        "log.txt",
        "log.csv.exe",
        ".log.csv",
        ".csv",
        "",
        "..",
        "con.csv",
        "NUL.csv",
        "lpt1.csv",
        "a\x00.csv",
        "a\n.csv",
        "a?.csv",
        "a|b.csv",
    ],
)
def test_law_a_name_that_leads_elsewhere_is_refused(name, tab, tmp_path, path):
    before = sorted(tmp_path.parent.rglob("*"))
    if tab.enter(log=name) and tab.panel.beside_fields:
        assert "log" in tab.panel.beside_fields, "refused beside its field, and by every button"
        assert tab.press("open_log") == "First correct the field that is marked."
    else:
        said = tab.press("open_log")
        assert "a plain name that ends in .csv, at most 60 letters" in said
    assert sorted(tmp_path.parent.rglob("*")) == before
    with pytest.raises(InputError, match="a plain name that ends in"):
        LogBook(None).take_in(name, HEADER.encode())


def test_law_plain_names_are_taken(tab, tmp_path):
    for name in ("März 2027.csv", f"{56 * 'x'}.csv", "LOG.CSV", "console.csv", "a.b.csv"):
        check_name(name)
        tab.enter(log=name)
        assert tab.press("open_log") == f"{name} is started, in the folder of this page."
        assert (tmp_path / name).is_file()
    with pytest.raises(InputError, match="a plain name"):
        check_name(None)


# ---- bad rows


def test_law_bad_rows_stand_in_their_place_with_column_and_reason(tab, path):
    """The third row is good, the others say what is wrong with them."""
    other = {**ROW, "acid_high_percent": "12"}
    typed = {**ROW, "clear_after_s": "4 min"}
    path.write_text(text_of(ROW, typed, {**ROW, "note": "good"}, ROW, other, {**ROW, "air_C": "x"}))
    assert (
        tab.press("open_log") == f"{FIRST_NAME} is open: 2 offcuts, and 4 rows that do not count."
    )
    rows = tab.rows()
    assert [row[0].split()[0] for row in rows] == ["2", "3", "4", "5", "6", "7"]
    reasons = {row[0].split()[0]: row[2] for row in rows if "does not count" in row}
    assert sorted(reasons) == ["3", "5", "6", "7"]
    assert "clear_after_s = '4 min' is not a number" in reasons["3"]
    assert "is line 2 again in every column" in reasons["5"]
    assert "acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % in line 2" in reasons["6"]
    assert "air_C" in reasons["7"] and "calibrate(" not in tab.seen()


def test_law_a_row_with_html_is_text(tab, path):
    path.write_text(text_of({**ROW, "bath_mL": "<img src=x onerror=alert(1)>"}))
    tab.press("open_log")
    assert "<img" not in tab.panel.table and "<img src=x" in tab.rows()[0][2]


def test_as_printed_a_log_is_counted():
    assert [counted(LogBook(None).log)] == ["no offcut yet"]
    book = LogBook(None)
    bad = {**ROW, "bath_mL": ""}
    for rows, words in (
        ((ROW,), "1 offcut"),
        ((ROW, bad), "1 offcut, and 1 row that does not count"),
        ((bad, bad), "no offcut yet, and 2 rows that do not count"),
        ((ROW, {**ROW, "note": "more"}), "2 offcuts"),
    ):
        assert (
            book.take_in("x.csv", text_of(*rows).encode()) == f"x.csv is open: {words}. {NOT_SAVED}"
        )


# ---- without a folder


@pytest.fixture
def alone(open_log, tmp_path, monkeypatch):
    """The panel where no folder is its reader's."""
    monkeypatch.chdir(tmp_path)
    return open_log(None)


def test_law_without_a_folder_nothing_is_written(alone, tmp_path):
    assert alone.press("open_log") == f"{FIRST_NAME} is started. {NOT_SAVED}"
    assert add(alone, "4 min") == f"Added: line 2 of {FIRST_NAME}. {NOT_SAVED}"
    assert "holds this offcut already" in add(alone, "4 min")
    name, data = alone.take("take_log")
    assert [offcut.time for offcut in read_log(data, name=name).offcuts] == [240]
    assert "1 offcut" in alone.bring("bring_log", "mine.csv", data)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("how", LAYOUTS)
def test_law_what_is_brought_is_taken_along_byte_for_byte(how, alone):
    data = file_of(LAYOUTS[how], ROWS)
    assert alone.bring("bring_log", "mine.csv", data) == f"mine.csv is open: 3 offcuts. {NOT_SAVED}"
    assert alone.take("take_log") == ("mine.csv", data)
    add(alone, "4 min", acid_bottle="mine", peroxide_bottle="mine too")
    name, longer = alone.take("take_log")
    assert longer.startswith(data) and read_log(longer, name=name).offcuts[-1].time == 240


def test_law_letters_of_another_encoding_come_back(alone):
    """Of a program that writes no UTF-8: its row is bad, and its bytes are not lost."""
    data = text_of(ROW, {**ROW, "note": "Säure"}).encode("latin-1")
    assert "1 offcut, and 1 row that does not count" in alone.bring("bring_log", "a.csv", data)
    assert alone.take("take_log") == ("a.csv", data)


def test_law_neither_a_reload_nor_removing_the_file_loses_rows(alone):
    data = text_of(ROW).encode()
    alone.bring("bring_log", "mine.csv", data)
    assert alone.panel.uploaded == {"bring_log": ["mine.csv", len(data)]}
    assert alone.panel.values["log"] == "mine.csv" and "mine.csv: 1 offcut" in alone.reload()
    assert alone.press("bring_log", removed=True) == f"The rows stay here. {NOT_SAVED}"
    assert alone.take("take_log") == ("mine.csv", data)


@pytest.mark.parametrize(
    "name, data, words",
    [
        ("mine.csv", b"", "is empty"),
        ("mine.csv", b"a,b\n1,2\n", "has no header"),
        ("mine.csv", b"PK\x03\x04 and more", "is a workbook and no text"),
        ("mine.csv", b"\xff\xfe\x00", "no header|not text"),
        ("mine.csv", HEADER.encode().replace(b"bath_mL", b"bath_L"), "'bath_mL' is missing"),
        ("mine.csv", b"\n" * 2_000_001, "did not arrive whole|at most 2 MB"),
        ("mine.xlsx", b"PK", "is none of these: .csv"),
        ("../../mine?.csv", HEADER.encode(), "a plain name that ends in .csv"),
        (".csv", HEADER.encode(), "a plain name|none of these"),
    ],
)
def test_law_what_is_no_log_is_refused_and_the_last_one_stays(name, data, words, alone):
    alone.press("open_log")
    add(alone, "4 min")
    before = alone.take("take_log")
    assert re.search(words, alone.bring("bring_log", name, data))
    assert alone.take("take_log") == before and len(alone.rows()) == 1
    assert alone.panel.failure is None


def test_law_in_a_folder_what_is_no_log_is_refused_and_stays(tab, path):
    before = started(tab, path)
    for number, data in enumerate((b"a,b\n", b" \n", b"PK\x03\x04", b"\xff\xfe\x00\x01")):
        other = path.with_name(f"other {number}.csv")
        other.write_bytes(data)
        tab.enter(log=other.name)
        assert other.name in tab.press("open_log")
        assert other.read_bytes() == data and tab.take("take_log") == (FIRST_NAME, before)
