"""Law: a log reads however a spreadsheet saved it, no row is lost and no byte changed, and rows are only ever added."""

import codecs
import itertools
import os
import random
import re
import subprocess
import sys
import types

import pytest

from pcbchem import Board, Bottle, Foil, Tray
from pcbchem.bench.offcut import log_file
from pcbchem.bench.offcut.log import Log, append, read_log
from pcbchem.bench.offcut.log_file import COLUMNS
from pcbchem.bench.offcut.offcut import Offcut

from .test_log import taken

ROWS = [
    Offcut(
        Bottle("HCl", 0.09, 0.115),
        Bottle("H2O2", 0.085, 0.12),
        (1, 1, 1.25),
        52.5e-6,
        Board(area=5.5e-4),
        Tray("rocked", "up", 30e-4, 294.65),
        293.15,
        240.5,
        date="2026-11-25",
        note="lamp on; warm, but slow",
    ),
    Offcut(
        Bottle("HCl", 0.09, 0.115),
        Bottle("H2O2", 0.02, 0.03),
        (0, 1, 2),
        101.25e-6,
        Board(area=5e-4),
        Tray("still", "upright"),
        288.15,
        600,
        False,
        peroxide_bottle="old, brown",
    ),
    Offcut(
        Bottle("HCl", 0.3, 0.32),
        Bottle("H2O2", 0.085, 0.12),
        (10, 1, 3),
        1 / 3 * 1e-4,
        Board(area=1e-4, foil=Foil(0.1525)),
        Tray("bubbled"),
        293.3,
        77,
        acid_bottle="Säure 30",
        note='a "burr" of 5", seen late',
    ),
]
NEW = Offcut(
    Bottle("HCl", 0.1, 0.1),
    Bottle("H2O2", 0.1, 0.1),
    (1, 1, 1),
    20.125e-6,
    Board(area=2.5e-4),
    Tray(),
    293.15,
    123.5,
    acid_bottle="new A",
    peroxide_bottle="new P",
    date="25.11.",
    note='new\nrow; with, all "signs"',
)


def write(layout, rows=ROWS, ends="", blank=""):
    """A file as a program that writes like this would, made cell by cell."""
    bom = {
        "utf-8": b"",
        "utf-8-sig": codecs.BOM_UTF8,
        "utf-16-le": codecs.BOM_UTF16_LE,
        "utf-16-be": codecs.BOM_UTF16_BE,
    }[layout["encoding"]]
    names, mark = layout["columns"], layout["mark"]
    lines = [layout["delimiter"].join(names + [""] * layout["empty"])]
    for offcut in rows:
        cells = cells_of(offcut)
        lines.append(
            layout["delimiter"].join(
                quote(
                    layout,
                    cells[name] if name in log_file.WORDS else cells[name].replace(".", mark),
                )
                for name in names
            )
            + layout["delimiter"] * layout["empty"]
        )
    text = layout["line_end"].join(lines) + layout["line_end"] + blank * 3 + ends
    return bom + text.encode(layout["encoding"].replace("-sig", ""))


def quote(layout, cell):
    doubled = '"' + cell.replace('"', '""') + '"'
    return (
        doubled
        if layout["quoted"] or '"' in cell or layout["delimiter"] in cell or "\n" in cell
        else cell
    )


def cells_of(offcut):
    """The texts of a row by name, made without the modules under test."""
    tray = offcut.tray
    number = {
        "acid_low_percent": offcut.acid.low * 100,
        "acid_high_percent": offcut.acid.high * 100,
        "peroxide_low_percent": offcut.peroxide.low * 100,
        "peroxide_high_percent": offcut.peroxide.high * 100,
        "water_parts": offcut.parts[0],
        "acid_parts": offcut.parts[1],
        "peroxide_parts": offcut.parts[2],
        "bath_mL": offcut.volume * 1e6,
        "bare_cm2": offcut.board.area * 1e4,
        "foil_g_per_m2": offcut.board.foil.areal_mass * 1e3,
        "open_cm2": None if tray.open_area is None else tray.open_area * 1e4,
        "bottles_C": offcut.T_bottles - 273.15,
        "air_C": None if tray.T_air is None else tray.T_air - 273.15,
        "clear_after_s": offcut.time if offcut.clear else None,
        "not_clear_after_s": None if offcut.clear else offcut.time,
    }
    return {
        name: "" if value is None else f"{float(value):.15g}" for name, value in number.items()
    } | {
        "agitation": tray.agitation,
        "facing": tray.facing,
        "date": offcut.date,
        "note": offcut.note,
        "acid_bottle": offcut.acid_bottle,
        "peroxide_bottle": offcut.peroxide_bottle,
    }


def layout(
    delimiter=",", mark=".", line_end="\n", encoding="utf-8", columns=COLUMNS, quoted=False, empty=0
):
    return dict(
        delimiter=delimiter,
        mark=mark,
        line_end=line_end,
        encoding=encoding,
        columns=list(columns),
        quoted=quoted,
        empty=empty,
    )


SHUFFLED = [*COLUMNS[5:], *COLUMNS[:5]]
LAYOUTS = {
    "ours": layout(),
    "semicolons": layout(";", ",", "\r\n", "utf-8-sig"),
    "semicolons and points": layout(";", "."),
    "tabs": layout("\t", ",", "\r\n", "utf-16-le"),
    "tabs and points": layout("\t", ".", "\n", "utf-16-be"),
    "quoted commas": layout(",", ",", "\r\n", quoted=True),
    "old lines": layout(";", ",", "\r"),
    "other order": layout(columns=SHUFFLED),
    "backwards": layout(";", ",", columns=COLUMNS[::-1], quoted=True),
    "time last": layout(
        ";", ",", columns=[name for name in COLUMNS if name != "clear_after_s"] + ["clear_after_s"]
    ),
    "empty columns": layout(";", ",", "\r\n", empty=4),
    "all quoted": layout("\t", ".", quoted=True, empty=1),
}


def near(offcut):
    """The fields of an offcut, to 12 digits: a spreadsheet writes 15."""
    return [
        f"{float.fromhex(value):.12g}"
        if isinstance(value, str) and value.startswith("0x")
        else value
        for value in taken(offcut)
    ]


@pytest.mark.parametrize("name", LAYOUTS)
def test_law_a_file_reads_however_it_was_saved_and_is_added_to_in_its_own_way(name, tmp_path):
    path, how = tmp_path / "log.csv", LAYOUTS[name]
    path.write_bytes(write(how))
    before, log = path.read_bytes(), read_log(path)
    assert log.bad == () and log.lines == (2, 3, 4), log.bad
    assert [near(each) for each in log.offcuts] == [near(each) for each in ROWS]
    append(path, NEW)
    after, again = path.read_bytes(), read_log(path)
    assert after.startswith(before) and again.bad == () and taken(again.offcuts[-1]) == taken(NEW)
    assert [taken(each) for each in again.offcuts[:3]] == [taken(each) for each in log.offcuts]
    added = after[len(before) :].decode(how["encoding"].replace("-sig", ""))
    assert added.endswith(how["line_end"]) and not added.startswith("\ufeff")
    assert f"20{how['mark']}1250" in added and added.count(how["delimiter"]) >= 20 + how["empty"]


@pytest.mark.parametrize(
    "blank", ["\r\n", ";;;;;;\r\n", '"";"";""\r\n', ";" * 20 + "\r\n", "  \r\n"]
)
def test_law_blank_lines_at_the_end_are_no_rows(blank, tmp_path):
    path = tmp_path / "log.csv"
    path.write_bytes(write(LAYOUTS["semicolons"], blank=blank))
    assert read_log(path).bad == () and read_log(path).lines == (2, 3, 4)
    append(path, NEW)
    assert read_log(path).lines == (2, 3, 4, 8) and read_log(path).bad == ()


@pytest.mark.parametrize("name", ["semicolons", "tabs", "ours"])
def test_law_a_first_line_that_names_the_separator_is_no_header(name, tmp_path):
    path, how = tmp_path / "log.csv", LAYOUTS[name]
    mark = {"semicolons": "sep=;", "tabs": "sep=\t", "ours": '"SEP=,"'}[name] + how["line_end"]
    mark = mark.encode(how["encoding"].replace("-sig", ""))
    bom = {"semicolons": 3, "tabs": 2, "ours": 0}[name]
    path.write_bytes(write(how)[:bom] + mark + write(how)[bom:])
    before, log = path.read_bytes(), read_log(path)
    assert log.bad == () and log.lines == (3, 4, 5)
    append(path, NEW)
    assert (
        path.read_bytes().startswith(before)
        and read_log(path).lines == (3, 4, 5, 6)
        and read_log(path).bad == ()
    )
    for alone, said in ((mark, "is empty"), (mark * 2, "has no header")):
        path.write_bytes(write(how)[:bom] + alone)
        with pytest.raises(ValueError, match=said):
            read_log(path)


def test_law_names_of_columns_and_words_may_be_in_capitals(tmp_path):
    path = tmp_path / "log.csv"
    path.write_bytes(
        write(layout())
        .replace(b"acid_low_percent", b" Acid_Low_PERCENT ")
        .replace(b"rocked", b"Rocked")
    )
    assert read_log(path).bad == () and read_log(path).offcuts[0].tray.agitation == "rocked"


def edited(how, changes, row=0):
    """A file in which some cells of one row stand as given."""
    cells = cells_of(ROWS[row])
    cells = {
        name: cells[name] if name in log_file.WORDS else cells[name].replace(".", how["mark"])
        for name in COLUMNS
    }
    line = how["delimiter"].join(quote(how, text) for text in {**cells, **changes}.values())
    return how["delimiter"].join(COLUMNS) + "\n" + line + "\n"


NUMBERS = {  # layout, what stands in two cells, the bath read [mL] or what is said
    "decimal comma": ((";", ","), "12,5", "5,25", 12.5),
    "decimal point": ((";", "."), "12.5", "5.25", 12.5),
    "thousands in English": ((",", "."), "1,234.5", "5.25", "is not a number"),
    "thousands in German": ((";", ","), "1.234,5", "5,25", "is not a number"),
    "a comma between points": (
        (",", "."),
        "12,5",
        "5.25",
        "is not clear: this file writes decimals with '.'",
    ),
    "a point between commas": (
        (";", ","),
        "12.5",
        "5,25",
        "is not clear: this file writes decimals with ','",
    ),
    "three places, the mark is known": ((";", ","), "12,125", "5,25", 12.125),
    "three places, ours": ((",", "."), "12.125", "5", 12.125),
    "no thousand": ((";", ","), "12,125", "0,525", 12.125),
    "spaced": ((";", ","), "1 234", "5,25", "is not a number"),
    "apostrophe": ((",", "."), "1'234", "5", "is not"),
    "exponent": ((";", ","), "1,25E+01", "5,25", 12.5),
    "plus": ((",", "."), "+12.5", "5", 12.5),
    "two marks": ((";", ","), "1,234,567", "5,25", "is not a number"),
    "percent": ((",", "."), "12 %", "5", "is not a num"),
    "a date made of it": ((";", ","), "12. Mai", "5,25", "is not a number"),
}


@pytest.mark.parametrize("name", NUMBERS)
def test_law_a_number_is_read_rightly_or_refused(name, tmp_path):
    (delimiter, mark), bath, bare, wanted = NUMBERS[name]
    (tmp_path / "log.csv").write_text(
        edited(layout(delimiter, mark), {"bath_mL": bath, "bare_cm2": bare})
    )
    log = read_log(tmp_path / "log.csv")
    if isinstance(wanted, str):
        assert log.offcuts == () and wanted in log.bad[0][1], log.bad
    else:
        assert log.bad == () and log.offcuts[0].volume == pytest.approx(wanted * 1e-6, rel=1e-14)


def test_law_where_nothing_tells_thousands_from_decimals_the_row_is_refused_and_nothing_added_that_would(
    tmp_path,
):
    path, whole = (
        tmp_path / "log.csv",
        {
            name: "" if name in ("open_cm2", "air_C") else "5"
            for name in COLUMNS
            if name not in log_file.WORDS and name != "not_clear_after_s"
        },
    )
    for delimiter in ";\t":
        for number in ("1.234", "1,234", "12,500"):
            path.write_text(edited(layout(delimiter), {**whole, "bath_mL": number, "note": ""}))
            before, log = path.read_bytes(), read_log(path)
            assert log.offcuts == () and "bath_mL" in log.bad[0][1], log.bad
            with pytest.raises(
                ValueError,
                match=r"^log.csv: line 2 has a number that could be thousands or decimals",
            ):
                append(path, NEW)
            assert path.read_bytes() == before
    path.write_text(
        edited(layout(";", ","), {"bath_mL": "12,125"})
        + "\n".join(edited(layout(";", "."), {"date": f"{k}"}).split("\n")[1] for k in range(2))
    )  # both marks, most of them points
    assert len(read_log(path).offcuts) == 2 and "is not clear" in read_log(path).bad[0][1]


# ---- what is no log

GOOD = write(layout())
HEAD = ",".join(COLUMNS)
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
        GOOD + b"\n" * log_file.MOST_BYTES,
        "is too large for a log: it must be at most 2000000 bytes",
    ),
    "random": (random.Random(1).randbytes(5000), "log.csv: "),
    "quote": (b'"' + GOOD, "has no header"),
    "mark alone": (codecs.BOM_UTF8, "is empty"),
    "a plan": (b'{\n  "what": "a plan"\n}', "has no header"),
}


@pytest.mark.parametrize("name", NO_LOG)
def test_law_what_is_no_log_is_refused_by_name_and_reason_and_left_alone(name, tmp_path):
    data, said = NO_LOG[name]
    path = tmp_path / "log.csv"
    path.write_bytes(data)
    with pytest.raises(ValueError, match="^" + re.escape("log.csv: ")) as refusal:
        read_log(path)
    assert said in str(refusal.value) and len(str(refusal.value)) < 600
    if data:  # append fills an empty file
        with pytest.raises(ValueError, match="^" + re.escape(str(refusal.value)) + "$"):
            append(path, NEW)
    assert path.read_bytes() == data and os.listdir(tmp_path) == ["log.csv"]


def test_law_a_folder_nothing_and_no_path_are_no_logs(tmp_path):
    for path, said in (
        (tmp_path / "none.csv", "none.csv: there is no such file"),
        (7, "path = 7 is impossible"),
        (tmp_path, f"{tmp_path.name}: is not a file"),
        ("a\0b", "a\0b: "),
    ):
        with pytest.raises(ValueError, match="^" + re.escape(said)):
            read_log(path)
    for path in (tmp_path, 7, "a\0b"):
        with pytest.raises(ValueError):
            append(path, NEW)
    with pytest.raises(FileNotFoundError):
        append(tmp_path / "nowhere" / "log.csv", NEW)


def test_law_letters_of_another_encoding_spoil_only_their_own_row(tmp_path):
    (tmp_path / "log.csv").write_bytes(write(layout(";", ",")).decode().encode("cp1252"))
    log = read_log(tmp_path / "log.csv")
    assert log.lines == (2, 3) and log.bad[0][0] == 4 and "save it as CSV in UTF-8" in log.bad[0][1]


def test_law_line_breaks_in_cells_count_and_a_stray_quotation_mark_spoils_only_its_own_row(
    tmp_path,
):
    path, first = tmp_path / "log.csv", GOOD.decode().split("\n")
    several = first[1].replace("lamp on; warm, but slow", "one\r\ntwo\n\nfour")
    assert several.count('"') == 2
    path.write_bytes(
        "\n".join([first[0], several, first[2], first[3].replace(",77,", ",0,"), ""]).encode()
    )
    log = read_log(path)
    assert (
        log.lines == (2, 6)
        and [line for line, _ in log.bad] == [7]
        and log.offcuts[0].note == "one\ntwo\n\nfour"
    )
    for stray in ('"open', 'x\n"', '"a"b', '"' + "y\n" * 60):
        torn = first[2] + stray
        path.write_bytes("\n".join([first[0], torn, *first[1:]]).encode())
        log, lines = read_log(path), torn.count("\n") + 1
        assert [taken(each) for each in log.offcuts][-3:] == [
            taken(each) for each in read_bytes(path, GOOD).offcuts
        ]
        assert log.lines[-3:] == (2 + lines, 3 + lines, 4 + lines) and len(log.lines + log.bad) >= 4
    plain = first[1].split('"')[0] + "lamp on"
    for stray, below in (
        (first[2] + '"open', plain + ' 5"'),
        ('x,"acid', plain.replace("2026-11-25", '5"')),
    ):
        for between in (plain, "short"):  # with the rows below it looks like one row, or like none
            path.write_bytes("\n".join([first[0], stray, between, below, ""]).encode())
            log = read_log(path)
            assert log.lines[-1] == 4 and {*log.lines, *dict(log.bad)} == {2, 3, 4}, log.bad


def read_bytes(path, data):
    other = path.with_name("other.csv")
    other.write_bytes(data)
    return read_log(other)


# ---- a thousand damaged logs


def damage(chance, data, how):
    """One thing that happens to files."""
    header = (data.find(b"\n") + 1) * (chance.random() < 0.9)  # most often below it
    at, kind = (
        chance.randrange(min(header, len(data) - 1), len(data)) if data else 0,
        chance.randrange(20) - 4,
    )
    lines = data.split(b"\n")
    if kind < 4:
        return (
            data[:at]
            + bytes([data[at] ^ 1 << chance.randrange(8)] if data else b"")
            + data[at + 1 :]
        )
    if kind == 4:
        return data[:at]
    if kind == 5:
        return data[:at] + data[at + chance.randrange(1, 40) :]
    if kind == 6:
        signs = [b'"', b";", b",", b"\t", b"\r", b"\n", b"\0" * 9, b"\xff", b'""', b"\xc3"]
        return data[:at] + chance.choice(signs) + data[at:]
    if kind == 7:
        return data.replace(
            *chance.choice(
                [
                    (b".", b","),
                    (b",", b";"),
                    (b";", b","),
                    (b",", b"."),
                    (b"\n", b"\r\n"),
                    (b"\r", b""),
                    (b'"', b""),
                    (b"\t", b"  "),
                ]
            )
        )
    if kind == 8:
        return (
            data[:at]
            + chance.choice([b"x", b"9", b'"', b","]) * chance.choice([300, 140_000])
            + data[at:]
        )
    if kind == 9:
        return data[:at] + chance.randbytes(chance.randrange(1, 300)) + data[at:]
    if kind == 10:
        chance.shuffle(lines)
        return b"\n".join(lines)
    if kind == 11:
        return data + chance.choice(lines) + chance.choice([b"", b"\n", b"\r\n"])
    if kind == 12:
        a, b = (name.encode() for name in chance.sample(COLUMNS, 2))
        return data.replace(a, b"\1", 1).replace(b, a, 1).replace(b"\1", b, 1)
    if kind == 13:
        return data.replace(
            chance.choice(COLUMNS).encode(), chance.choice([b"", b"Note", b"bath"]), 1
        )
    if kind == 14:
        words = [b"nan", b"1e999", b"-1", b"1.234,5", b"1,234", b"=1+1", b"\xe2\x88\x92"]
        return data[:at] + chance.choice(words) + data[at:]
    return chance.choice(
        [chance.randbytes(400), data[len(data) // 2 :] + data[: len(data) // 2], data * 2]
    )


def accounted(data, log):
    """The lines of a file that neither begin a row, good or bad, nor go on with one: none should be left."""
    marks = (
        (codecs.BOM_UTF8, "utf-8"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    )
    bom, encoding = next(
        ((bom, name) for bom, name in marks if data.startswith(bom)), (b"", "utf-8")
    )
    lines = re.split("\r\n|\r|\n", data[len(bom) :].decode(encoding, "replace"))
    held = [
        at
        for at, line in enumerate(lines, 1)
        if line.strip(' \t,;"\v\f\x1c\x1d\x1e\x1f\x85\xa0\u2028\u2029')
    ]
    named, goes_on, left = {*log.lines, *(line for line, _ in log.bad)}, False, []
    for at, line in enumerate(lines[held[0] :], held[0] + 1):
        if at in named:
            goes_on = line.count('"') % 2 == 1
        else:
            if at in held and not goes_on:
                left.append((at, line))
            goes_on ^= line.count('"') % 2 == 1
    assert len(named) == len(log.lines) + len(log.bad), "a row is both good and bad"
    return left


def test_law_a_thousand_damaged_logs_lose_no_row_and_raise_nothing_else(tmp_path):
    path, seen = tmp_path / "fuzz.csv", {"log": 0, "refused": 0, "bad": 0, "good": 0, "same": 0}
    files = []
    for how in LAYOUTS.values():
        for first in range(3):
            path.write_bytes(write(how, (ROWS[first], ROWS[first - 1])))
            files.append(
                (
                    how,
                    path.read_bytes(),
                    dict(zip((2, 3), map(taken, read_log(path).offcuts), strict=True)),
                )
            )
    for number in range(1100):
        chance = random.Random(number)
        how, clean, before = files[number % len(files)]
        data = clean
        for _ in range(chance.randrange(1, 4)):
            data = damage(chance, data, how)
        path.write_bytes(data)
        try:
            log = read_log(path)
        except ValueError as error:
            assert str(error).startswith("fuzz.csv: ") and len(str(error)) < 600, (number, error)
            seen["refused"] += 1
        else:
            assert accounted(data, log) == [], number
            assert log.lines == tuple(sorted(log.lines)) and all(
                len(reason) < 400 for _, reason in log.bad
            ), number
            was, now = clean.split(b"\n"), data.split(b"\n")
            breaks = [(each.count(b"\r"), each.count(b"\n")) for each in (data, clean)]
            if (
                len(data) == len(clean)
                and breaks[0] == breaks[1]
                and len(was) > 2
                and was[0] == now[0]
            ):
                for line, offcut in zip(
                    log.lines, log.offcuts, strict=True
                ):  # bytes changed below the header
                    assert was[line - 1] != now[line - 1] or taken(offcut) == before[line], number
                    seen["same"] += was[line - 1] == now[line - 1]
            seen["log"] += 1
            seen["bad"] += len(log.bad)
            seen["good"] += len(log.offcuts)
        assert path.read_bytes() == data, number
    assert min(seen.values()) > 200, seen


# ---- other writers, and an end in the middle

WORK = """
import os, random, signal, sys, time
from pcbchem import Board, Bottle, Tray
from pcbchem.bench.offcut.log import Offcut, append, read_log
how, path, who = sys.argv[1:]

def offcut(note):
    return Offcut(Bottle("HCl", 0.09, 0.11), Bottle("H2O2", 0.1, 0.1), (1, 1, 1), 5e-5, Board(area=5e-4), Tray(),
                  293.15, 240, note=note)

if how == "write":  # 500 rows in 100 calls
    rows = [offcut(f"{who} {number}") for number in range(500)]
    print("ready", flush=True)
    sys.stdin.readline()
    for first in range(0, 500, 5):
        append(path, *rows[first:first + 5])
else:  # killed 50 times
    torn = added = 0
    append(path, offcut("first"))
    for turn in range(50):
        with open(path, "rb") as file:
            before = file.read()
        child = os.fork()
        if not child:
            for number in range(1000):
                append(path, offcut(f"{turn} {number} " + "x" * 600 + "\\n, end"))
            os._exit(0)
        time.sleep(random.Random(turn).uniform(0.001, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with open(path, "rb") as file:
            after = file.read()
        assert after.startswith(before), turn
        log = read_log(path)
        assert len(log.bad) <= torn + 1, (turn, log.bad)
        assert len(log.offcuts) + len(log.bad) >= before.count(b"240"), turn
        torn, added = len(log.bad), added + after.count(b"240") - before.count(b"240")
        append(path, offcut(f"after {turn}"))
        assert read_log(path).offcuts[-1].note == f"after {turn}"
        if len(after) > 8_000:  # begin anew, so that it stays quick
            os.remove(path)
            torn = 0
            append(path, offcut("first"))
    assert added > 50, added
"""


def start(*args):
    return subprocess.Popen(
        [sys.executable, "-W", "error::Warning:pcbchem", "-c", WORK, *map(str, args)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_law_two_writers_at_once_lose_no_row(tmp_path):
    path = tmp_path / "log.csv"
    both = [start("write", path, who) for who in "ab"]
    for writer in both:
        assert writer.stdout.readline() == "ready\n", writer.stderr.read()
    for writer in both:
        writer.stdin.write("go\n")
        writer.stdin.flush()
    for writer in both:
        assert writer.communicate(timeout=120)[1] == "" and writer.returncode == 0
    log = read_log(path)
    notes = [offcut.note for offcut in log.offcuts]
    assert log.bad == () and len(notes) == 1000
    for who in "ab":  # each writer's rows, in its own order
        assert [note for note in notes if note[0] == who] == [
            f"{who} {number}" for number in range(500)
        ]
    turns = sum(a[0] != b[0] for a, b in itertools.pairwise(notes))
    assert turns >= 2, "they did not write at the same time"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks and kills")
def test_law_a_kill_while_rows_are_added_leaves_a_readable_log_fifty_times(tmp_path):
    done = start("kill", tmp_path / "log.csv", "")
    assert done.communicate(timeout=120)[1] == "" and done.returncode == 0


@pytest.mark.parametrize(
    "name",
    ["ours", "semicolons", "tabs", "tabs and points", "other order", "time last", "backwards"],
)
def test_law_a_row_torn_at_any_byte_spoils_nothing_else(name, tmp_path, monkeypatch):
    monkeypatch.setattr(log_file.os, "fsync", lambda handle: None)
    path, how = tmp_path / "log.csv", LAYOUTS[name]
    before = write(how, ROWS[:1])
    path.write_bytes(before)
    old = taken(read_log(path).offcuts[0])
    append(path, NEW)
    row, whole = path.read_bytes()[len(before) :], taken(NEW)
    for end in range(
        1, len(row), 1 if name in ("ours", "semicolons") else 3
    ):  # 3: both halves of a wide letter
        path.write_bytes(before + row[:end])
        log = read_log(path)
        assert taken(log.offcuts[0]) == old and len(log.lines) + len(log.bad) <= 3
        for torn in log.offcuts[1:]:  # only the note may be cut short
            assert taken(torn)[:-1] == whole[:-1] and whole[-1].startswith(taken(torn)[-1]), end
        try:
            append(path, ROWS[1])
        except ValueError as error:
            assert how["columns"][
                -1
            ] != "note" and "ends without a line break and may be cut short" in str(error)
            assert path.read_bytes() == before + row[:end] and len(log.offcuts) == 1
            continue
        again = read_log(path)
        assert path.read_bytes().startswith(before + row[:end])
        assert taken(again.offcuts[0]) == old and taken(again.offcuts[-1]) == taken(ROWS[1]), end
        assert again.lines[:-1] == log.lines  # what was bad stays bad


def test_law_a_header_torn_at_any_byte_is_written_to_its_end(tmp_path, monkeypatch):
    monkeypatch.setattr(log_file.os, "fsync", lambda handle: None)
    path = tmp_path / "log.csv"
    for end in range(len(HEAD) + 2):
        path.write_bytes((HEAD + "\n")[:end].encode())
        append(path, NEW)
        assert (
            path.read_bytes().startswith(HEAD.encode() + b"\n")
            and read_log(path).sha256 == Log.of([NEW]).sha256
        )


@pytest.mark.parametrize("how", ["half", "write", "fsync", "interrupted"])
def test_law_what_cannot_be_written_whole_is_taken_back(how, tmp_path, monkeypatch):
    path, real = tmp_path / "log.csv", os.write
    path.write_bytes(GOOD)

    def fail(handle, data=b""):
        raise KeyboardInterrupt if how == "interrupted" else OSError(5, "Input/output error")

    monkeypatch.setattr(
        log_file.os,
        "write" if how in ("half", "write") else "fsync",
        (lambda handle, data: real(handle, data[:40])) if how == "half" else fail,
    )
    with pytest.raises((OSError, KeyboardInterrupt)):
        append(path, NEW)
    assert path.read_bytes() == GOOD
    monkeypatch.undo()
    append(path, NEW)
    assert read_log(path).bad == ()


def test_law_a_locked_log_is_waited_for_and_given_up_with_nothing_written(tmp_path, monkeypatch):
    path = tmp_path / "log.csv"
    path.write_bytes(GOOD)
    monkeypatch.setattr(log_file, "LOCK_WAIT", 0.05)
    with (
        log_file.locked(path),
        pytest.raises(TimeoutError, match="another program keeps the log locked"),
    ):
        append(path, NEW)
    assert path.read_bytes() == GOOD and len(read_log(path).offcuts) == 3
    append(path, NEW)


def test_law_in_windows_a_log_is_freed_before_it_is_closed(tmp_path, monkeypatch):
    steps, path, close = [], tmp_path / "log.csv", os.close

    def locking(handle, how, count):
        steps.append((how, os.lseek(handle, 0, os.SEEK_CUR), count))

    theirs = types.SimpleNamespace(LK_NBLCK="lock", LK_UNLCK="free", locking=locking)
    monkeypatch.setitem(sys.modules, "msvcrt", theirs)
    monkeypatch.setattr(log_file, "sys", types.SimpleNamespace(platform="win32"))
    monkeypatch.setattr(log_file.os, "close", lambda handle: (steps.append("close"), close(handle)))
    with log_file.locked(path):
        steps.append("write")
    byte = log_file.LOCKED_BYTE
    assert (
        steps == [("lock", byte, 1), "write", ("free", byte, 1), "close"]
        and byte > log_file.MOST_BYTES
    )


def test_law_a_log_that_another_program_put_in_its_place_meanwhile_gets_the_row(
    tmp_path, monkeypatch
):
    path, other, real = tmp_path / "log.csv", tmp_path / "other.csv", log_file._lock
    path.write_bytes(GOOD)
    other.write_bytes(write(LAYOUTS["semicolons"]))

    def late(handle, **how):
        if other.exists():
            os.replace(other, path)
        return real(handle, **how)

    monkeypatch.setattr(log_file, "_lock", late)
    append(path, NEW)
    assert (
        path.read_bytes().startswith(write(LAYOUTS["semicolons"]))
        and len(read_log(path).offcuts) == 4
    )


def test_law_a_row_never_goes_into_a_file_that_was_taken_away_meanwhile(tmp_path, monkeypatch):
    path, real, gone = tmp_path / "log.csv", log_file._lock, []
    path.write_bytes(GOOD)

    def late(handle, **how):
        if not gone:
            gone.append(path.read_bytes())
            path.unlink()  # as an editor does that removes and renames
        return real(handle, **how)

    monkeypatch.setattr(log_file, "_lock", late)
    append(path, NEW)
    assert gone == [GOOD] and [offcut.note for offcut in read_log(path).offcuts] == [NEW.note]


def test_law_what_a_program_without_a_lock_adds_meanwhile_is_not_written_over(
    tmp_path, monkeypatch
):
    path, line = tmp_path / "log.csv", GOOD.split(b"\n")[1].replace(b"lamp on", b"lamp off") + b"\n"
    path.write_bytes(GOOD)

    def late(handle):
        data = log_file.held(handle)
        with path.open("ab") as file:
            file.write(line)
        return data

    monkeypatch.setattr("pcbchem.bench.offcut.log.held", late)
    append(path, NEW)
    monkeypatch.undo()
    assert path.read_bytes().startswith(GOOD + line) and read_log(path).lines == (2, 3, 4, 5, 6)


def test_law_a_full_log_takes_no_more(tmp_path, monkeypatch):
    path = tmp_path / "log.csv"
    path.write_bytes(GOOD)
    monkeypatch.setattr(log_file, "MOST_BYTES", len(GOOD) + 50)
    monkeypatch.setattr("pcbchem.bench.offcut.log.MOST_BYTES", len(GOOD) + 50)
    with pytest.raises(ValueError, match="is full: a log must be at most"):
        append(path, NEW)
    assert path.read_bytes() == GOOD
