"""Every number the package ships says where it comes from, and tables are read as they stand."""

import csv

import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem.common import tables

MADE_HERE = {
    "draws",
    "leave_one_out",
    "simulated_benches",
    "misdescribed_benches",
    "timed_benches",
}  # computed by commands of the package
NAMES = sorted(path.stem for path in tables.FOLDER.glob("*.csv"))
SOURCED = [name for name in NAMES if name not in MADE_HERE and name != "sources"]


def problems(header: list[str], table: list[list[str]], keys: set[str]) -> list[str]:
    """What is wrong with the provenance of a table."""
    missing = [f"column {name} is missing" for name in ("source", "status") if name not in header]
    if missing:
        return missing
    faults = []
    place = header.index("source")
    for number, row in enumerate(table):
        # a line of cautions may rest on several works
        for key in row[place].split("; "):
            if key not in keys:
                faults.append(f"unknown key {key}")
        if len(row) != len(header) or not all(cell.strip() for cell in row):
            faults.append(f"blank cell in {row}")
        if row in table[:number]:
            faults.append(f"duplicate {row}")
    return faults


def raw(name: str) -> tuple[list[str], list[list[str]]]:
    """Header and rows of a file as it stands."""
    with (tables.FOLDER / f"{name}.csv").open(encoding="utf-8") as file:
        header, *table = csv.reader(file)
    return header, table


# ---- what the files hold


@pytest.mark.parametrize("name", SOURCED)
def test_provenance(name: str) -> None:
    # Law: source and status on every row, no blank cell, no duplicate.
    assert problems(*raw(name), {row["key"] for row in tables.read("sources")}) == []


def test_sources_are_unique_and_complete() -> None:
    # Law: each citation stands once, and says whether a copy was read.
    header, rows = raw("sources")
    assert header == ["key", "citation", "read_in_a_copy", "note"]
    assert len({row[0] for row in rows}) == len(rows)
    assert len({row[1] for row in rows}) == len(rows)
    assert all(cell.strip() for row in rows for cell in row)


HEADER = ["x_m", "source", "status"]
GOOD_ROW = ["1", "kell", "published"]


@pytest.mark.parametrize(
    ("header", "table", "fault"),
    [
        (["x_m"], [["1"]], "column source is missing"),
        (HEADER, [["1", "nobody", "published"]], "unknown key nobody"),
        (HEADER, [["", "kell", "published"]], "blank cell"),
        (HEADER, [["kell", "kell"]], "blank cell"),
        (HEADER, [GOOD_ROW, GOOD_ROW], "duplicate"),
    ],
)
def test_a_bad_table_is_found(header: list[str], table: list[list[str]], fault: str) -> None:
    # Law: the check of provenance can fail, in each of its ways.
    assert problems(HEADER, [GOOD_ROW], {"kell"}) == []
    assert fault in problems(header, table, {"kell"})[0]


# ---- reading


def test_a_table_is_read_once_and_cannot_be_changed() -> None:
    # Law: all who read it share its rows.
    table = tables.read("water_density")
    assert tables.read("water_density") is table
    with pytest.raises(TypeError):
        table[0]["part"] = "other"


@pytest.mark.parametrize("name", NAMES)
def test_rows_are_as_the_file_has_them(name: str) -> None:
    # As printed.
    header, table = raw(name)
    assert [list(row.values()) for row in tables.read(name)] == table
    assert all(list(row) == header for row in tables.read(name))


def test_a_column_is_numbers_of_the_rows_asked_for() -> None:
    # Law: in the order of the file.
    powers = tables.column("water_density", "power_of_t_C")
    assert powers.dtype == float and powers.size == len(tables.read("water_density"))
    assert tables.column("water_density", "power_of_t_C", part="denominator").tolist() == [0, 1]
    assert tables.column("water_density", "power_of_t_C", part="none").size == 0


def test_every_source_is_looked_up_by_its_key() -> None:
    # As printed.
    for row in tables.read("sources"):
        assert tables.source(row["key"]) == row["citation"]


def test_a_row_says_where_it_comes_from() -> None:
    # Law: what nobody looked up, and what has no source, is said so.
    kell = tables.source("kell1975")
    assert tables.cited({"source": "kell1975", "status": "published"}) == kell
    assert tables.cited({"source": "kell1975", "status": "from memory"}) == f"from memory: {kell}"
    common = tables.cited({"source": "trade", "status": "common practice"})
    assert common == "common practice, no source"
    # Law: of several works each has the status of its own, and none goes without.
    row = {"source": "kell1975; trade", "status": "from memory; common practice"}
    assert tables.works_cited(row) == [f"from memory: {kell}", common]
    with pytest.raises(ValueError, match="shorter"):
        tables.works_cited({**row, "status": "from memory"})


REFUSED: list[Case] = [
    ("no such table", lambda: tables.read("nothing"), ("'nothing'", "choose", "water_density")),
    ("a path", lambda: tables.read("../data/sources"), ("'../data/sources'", "choose from")),
    (
        "no such column",
        lambda: tables.column("water_density", "colour"),
        ("'colour' is not a column of water_density: choose from part",),
    ),
    (
        "no such column to choose rows by",
        lambda: tables.column("water_density", "power_of_t_C", colour="red"),
        ("'colour' is not a column of water_density: choose from part",),
    ),
    ("no such source", lambda: tables.source("nobody"), ("'nobody'", "choose from", "kell1975")),
    (
        "a row of no source",
        lambda: tables.cited({"source": "nobody", "status": "published"}),
        ("'nobody'", "kell1975"),
    ),
]


@cases(REFUSED)
def test_what_is_not_there_is_named(call, words) -> None:
    # Law: with what there is.
    assert_refused(call, words)
