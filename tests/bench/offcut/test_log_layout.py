"""Law: a log reads however a spreadsheet saved it, and no row of a damaged one is lost unseen."""

import codecs
import os
import random
import re

import pytest
from helpers.damaged_logs import read_damaged
from helpers.offcuts import (
    LAYOUTS,
    NEW,
    ROWS,
    cells_by_hand,
    cells_in,
    encoding_of,
    fields_of,
    file_of,
    layout,
    quote,
)

from pcbchem.bench.offcut.log import append_offcuts, read_log
from pcbchem.bench.offcut.log_file import MOST_BYTES
from pcbchem.bench.offcut.log_layout import COLUMNS, WORDS

GOOD = file_of(LAYOUTS["ours"])


def nearly(offcut):
    """The fields of an offcut to 12 digits: a spreadsheet writes 15."""
    fields = []
    for field in fields_of(offcut):
        if isinstance(field, str) and field.startswith("0x"):
            field = f"{float.fromhex(field):.12g}"
        fields.append(field)
    return fields


@pytest.mark.parametrize("name", LAYOUTS)
def test_law_a_file_reads_however_it_was_saved(name, path):
    path.write_bytes(file_of(LAYOUTS[name]))
    log = read_log(path)
    assert log.bad == () and log.lines == (2, 3, 4), log.bad
    assert [nearly(each) for each in log.offcuts] == [nearly(each) for each in ROWS]


@pytest.mark.parametrize("name", LAYOUTS)
def test_law_a_file_is_added_to_in_its_own_way(name, path):
    how = LAYOUTS[name]
    path.write_bytes(file_of(how))
    before, log = path.read_bytes(), read_log(path)
    append_offcuts(path, NEW)
    after, again = path.read_bytes(), read_log(path)
    assert after.startswith(before) and again.bad == ()
    assert [fields_of(each) for each in again.offcuts[:3]] == [
        fields_of(each) for each in log.offcuts
    ]
    assert fields_of(again.offcuts[-1]) == fields_of(NEW)
    added = after[len(before) :].decode(encoding_of(how))
    assert added.endswith(how["line_end"]) and not added.startswith("\ufeff")
    assert f"20{how['mark']}1250" in added
    assert added.count(how["delimiter"]) >= 20 + how["empty"]


@pytest.mark.parametrize(
    "blank", ["\r\n", ";;;;;;\r\n", '"";"";""\r\n', ";" * 20 + "\r\n", "  \r\n"]
)
def test_law_blank_lines_at_the_end_are_no_rows(blank, path):
    path.write_bytes(file_of(LAYOUTS["semicolons"], end=blank * 3))
    assert read_log(path).bad == () and read_log(path).lines == (2, 3, 4)
    append_offcuts(path, NEW)
    assert read_log(path).lines == (2, 3, 4, 8) and read_log(path).bad == ()


SEPARATORS = {"semicolons": ("sep=;", 3), "tabs": ("sep=\t", 2), "ours": ('"SEP=,"', 0)}
"""A first line that names the separator, and the bytes of the byte-order mark before it."""


@pytest.mark.parametrize("name", SEPARATORS)
def test_law_a_first_line_that_names_the_separator_is_no_header(name, path):
    how = LAYOUTS[name]
    text, mark_bytes = SEPARATORS[name]
    line = (text + how["line_end"]).encode(encoding_of(how))
    mark, rest = file_of(how)[:mark_bytes], file_of(how)[mark_bytes:]
    path.write_bytes(mark + line + rest)
    assert read_log(path).bad == () and read_log(path).lines == (3, 4, 5)
    append_offcuts(path, NEW)
    assert path.read_bytes().startswith(mark + line + rest)
    assert read_log(path).bad == () and read_log(path).lines == (3, 4, 5, 6)
    for alone, message in ((line, "is empty"), (line * 2, "has no header")):
        path.write_bytes(mark + alone)
        with pytest.raises(ValueError, match=message):
            read_log(path)


def test_law_names_of_columns_and_words_may_be_in_capitals(path):
    data = GOOD.replace(b"acid_low_percent", b" Acid_Low_PERCENT ").replace(b"rocked", b"Rocked")
    path.write_bytes(data)
    assert read_log(path).bad == () and read_log(path).offcuts[0].tray.agitation == "rocked"


# ---- numbers


def edited(how, changes):
    """A file in which some cells of its one row stand as given."""
    cells = {**cells_in(how, cells_by_hand(ROWS[0])), **changes}
    line = how["delimiter"].join(quote(how, cell) for cell in cells.values())
    return how["delimiter"].join(COLUMNS) + "\n" + line + "\n"


NUMBERS = {  # delimiter, mark, bath and copper as they stand, and the bath read [mL]
    "decimal comma": (";", ",", "12,5", "5,25", 12.5),
    "decimal point": (";", ".", "12.5", "5.25", 12.5),
    "three places, the mark is known": (";", ",", "12,125", "5,25", 12.125),
    "three places, ours": (",", ".", "12.125", "5", 12.125),
    "no thousand": (";", ",", "12,125", "0,525", 12.125),
    "exponent": (";", ",", "1,25E+01", "5,25", 12.5),
    "plus": (",", ".", "+12.5", "5", 12.5),
}


@pytest.mark.parametrize("name", NUMBERS)
def test_law_a_number_is_read_rightly(name, path):
    delimiter, mark, bath, bare, volume = NUMBERS[name]
    path.write_text(edited(layout(delimiter, mark), {"bath_mL": bath, "bare_cm2": bare}))
    log = read_log(path)
    assert log.bad == () and log.offcuts[0].volume == pytest.approx(volume * 1e-6, rel=1e-14)


NO_NUMBERS = {  # delimiter, mark, bath and copper as they stand, and what is said
    "thousands in English": (",", ".", "1,234.5", "5.25", "is not a number"),
    "thousands in German": (";", ",", "1.234,5", "5,25", "is not a number"),
    "a comma between points": (
        ",",
        ".",
        "12,5",
        "5.25",
        "is not clear: this file writes decimals with '.'",
    ),
    "a point between commas": (
        ";",
        ",",
        "12.5",
        "5,25",
        "is not clear: this file writes decimals with ','",
    ),
    "spaced": (";", ",", "1 234", "5,25", "is not a number"),
    "apostrophe": (",", ".", "1'234", "5", "is not"),
    "two marks": (";", ",", "1,234,567", "5,25", "is not a number"),
    "percent": (",", ".", "12 %", "5", "is not a num"),
    "a date made of it": (";", ",", "12. Mai", "5,25", "is not a number"),
}


@pytest.mark.parametrize("name", NO_NUMBERS)
def test_law_a_number_that_is_not_clear_is_refused(name, path, refused):
    delimiter, mark, bath, bare, reason = NO_NUMBERS[name]
    path.write_text(edited(layout(delimiter, mark), {"bath_mL": bath, "bare_cm2": bare}))
    log = read_log(path)
    assert log.offcuts == () and reason in log.bad[0][1], log.bad


WHOLE = {
    name: "" if name in ("open_cm2", "air_C", "not_clear_after_s") else "5"
    for name in COLUMNS
    if name not in WORDS
}
"""Numbers none of which tells what the file's decimal mark is."""


@pytest.mark.parametrize("delimiter", [";", "\t"])
@pytest.mark.parametrize("number", ["1.234", "1,234", "12,500"])
def test_law_where_nothing_tells_thousands_nothing_is_guessed(delimiter, number, path, refused):
    path.write_text(edited(layout(delimiter), {**WHOLE, "bath_mL": number, "note": ""}))
    log = read_log(path)
    assert log.offcuts == () and "bath_mL" in log.bad[0][1], log.bad
    # one more row would make a guess of it
    message = r"^log.csv: line 2 has a number that could be thousands or decimals"
    refused(message, NEW)


def test_law_the_mark_of_most_numbers_is_the_mark(path):
    rows = [edited(layout(";", "."), {"date": date}).split("\n")[1] for date in ("a", "b")]
    path.write_text(edited(layout(";", ","), {"bath_mL": "12,125"}) + "\n".join(rows))
    log = read_log(path)
    assert len(log.offcuts) == 2 and "is not clear" in log.bad[0][1]
    append_offcuts(path, NEW)  # the mark is settled: a new row changes the meaning of none
    assert len(read_log(path).offcuts) == 3 and read_log(path).bad == log.bad


# ---- what is no log

NO_LOG = {
    "empty": (b"", "is empty: its first line must name the columns date, acid_bottle"),
    "blank": (b"\n \r\n", "is empty"),
    "no header": (GOOD.split(b"\n", 1)[1], "has no header"),
    "prose": (b"Dear diary,\nnothing today", "has no header"),
    "a column missing": (GOOD.replace(b"bath_mL,", b""), "column 'bath_mL' is missing"),
    "unknown": (
        GOOD.replace(b"bath_mL", b"bath_L"),
        "column 'bath_mL' is missing, and 'bath_L' is unknown: its first",
    ),
    "one too many": (GOOD.replace(b",note", b",note,lamp"), "column 'lamp' is unknown"),
    "twice": (
        GOOD.replace(b"air_C", b"open_cm2", 1).replace(b",note", b",note,air_C"),
        "column 'open_cm2' is there twice",
    ),
    "unnamed between": (GOOD.replace(b",note", b",,note"), "column '' is unknown"),
    "workbook": (
        b"PK\x03\x04" + bytes(range(256)) * 9,
        "is a workbook and no text: save it as CSV in UTF-8",
    ),
    "picture": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is not text in UTF-8"),
    "wide": (GOOD.decode().encode("utf-16-le"), "is not"),
    "wider": (codecs.BOM_UTF32_LE + GOOD.decode().encode("utf-32-le"), "is not text in UTF-8"),
    "too large": (
        GOOD + b"\n" * MOST_BYTES,
        "is too large for a log: it must be at most 2000000 bytes",
    ),
    "random": (random.Random(1).randbytes(5000), "log.csv: "),
    "quote": (b'"' + GOOD, "has no header"),
    "mark alone": (codecs.BOM_UTF8, "is empty"),
    "a plan": (b'{\n  "what": "a plan"\n}', "has no header"),
}


@pytest.mark.parametrize("name", NO_LOG)
def test_law_what_is_no_log_is_refused_and_left_alone(name, path, refused):
    data, reason = NO_LOG[name]
    path.write_bytes(data)
    with pytest.raises(ValueError, match="^" + re.escape("log.csv: ")) as refusal:
        read_log(path)
    message = str(refusal.value)
    assert reason in message and len(message) < 600
    if data:  # an empty file is filled
        refused("^" + re.escape(message) + "$", NEW)
    assert path.read_bytes() == data
    assert {*os.listdir(path.parent)} <= {"log.csv", ".log.csv.lock"}


def test_law_letters_of_another_encoding_spoil_only_their_row(path):
    path.write_bytes(file_of(layout(";", ",")).decode().encode("cp1252"))
    log = read_log(path)
    assert log.lines == (2, 3)
    assert log.bad[0][0] == 4 and "save it as CSV in UTF-8" in log.bad[0][1]


# ---- line breaks and quotation marks

HEADER, *LINES = GOOD.decode().split("\n")[:4]


def write(path, *lines):
    path.write_bytes("\n".join([HEADER, *lines, ""]).encode())


def test_law_line_breaks_in_cells_count(path):
    several = LINES[0].replace("lamp on; warm, but slow", "one\r\ntwo\n\nfour")
    assert several.count('"') == 2
    write(path, several, LINES[1], LINES[2].replace(",77,", ",0,"))
    log = read_log(path)
    assert log.lines == (2, 6) and [line for line, _ in log.bad] == [7]
    assert log.offcuts[0].note == "one\ntwo\n\nfour"


@pytest.mark.parametrize("stray", ['"open', 'x\n"', '"a"b', '"' + "y\n" * 60])
def test_law_a_stray_quotation_mark_spoils_only_its_own_row(stray, path):
    write(path, *LINES)
    good = [fields_of(each) for each in read_log(path).offcuts]
    write(path, LINES[1] + stray, *LINES)
    log, below = read_log(path), 3 + stray.count("\n")
    assert [fields_of(each) for each in log.offcuts][-3:] == good
    assert log.lines[-3:] == (below, below + 1, below + 2)
    assert len(log.lines + log.bad) >= 4


PLAIN = LINES[0].split('"')[0] + "lamp on"


@pytest.mark.parametrize("between", [PLAIN, "short"])
@pytest.mark.parametrize(
    "stray, below",
    [
        (LINES[1] + '"open', PLAIN + ' 5"'),
        ('x,"acid', PLAIN.replace("2026-11-25", '5"')),
    ],
)
def test_law_two_stray_marks_swallow_no_row_between(stray, between, below, path):
    # with the rows between them they look like one row, or like none
    write(path, stray, between, below)
    log = read_log(path)
    assert log.lines[-1] == 4 and {*log.lines, *dict(log.bad)} == {2, 3, 4}, log.bad


# ---- damaged logs

DAMAGED = 400
"""So many here; `tests/benchmarks/test_own_bench.py` reads more."""


def test_law_damaged_logs_lose_no_row_and_raise_nothing_else(path):
    count = read_damaged(path, range(DAMAGED))
    assert min(count.values()) > DAMAGED / 6, count
