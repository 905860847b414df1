"""Every number the package ships says where it comes from."""

import csv
from importlib.resources import files

import pytest

from pcbchem.common import tables

FOLDER = files("pcbchem").joinpath("data")
MADE_HERE = {"draws", "leave_one_out", "simulated_benches"}  # computed by commands of the package
NAMES = sorted(entry.name[:-4] for entry in FOLDER.iterdir() if entry.name.endswith(".csv"))
SOURCED = [name for name in NAMES if name not in MADE_HERE and name != "sources"]


def problems(header: list[str], rows: list[list[str]], keys: set[str]) -> list[str]:
    """What is wrong with the provenance of a table."""
    found = [f"column {name} is missing" for name in ("source", "status") if name not in header]
    if not found:
        at = header.index("source")
        found += [f"unknown key {row[at]}" for row in rows if row[at] not in keys]
    found += [
        f"blank cell in {row}"
        for row in rows
        if len(row) != len(header) or any(not c.strip() for c in row)
    ]
    found += [f"duplicate {row}" for k, row in enumerate(rows) if row in rows[:k]]
    return found


def raw(name: str) -> tuple[list[str], list[list[str]]]:
    with FOLDER.joinpath(f"{name}.csv").open(encoding="utf-8") as file:
        header, *rows = csv.reader(file)
    return header, rows


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


def test_a_bad_table_is_found() -> None:
    # Law: the check of provenance can fail, in each of its ways.
    header = ["x_m", "source", "status"]
    assert problems(header, [["1", "kell", "published"]], {"kell"}) == []
    assert problems(["x_m"], [["1"]], set())
    assert problems(header, [["1", "nobody", "published"]], {"kell"}) == ["unknown key nobody"]
    assert problems(header, [["", "kell", "published"]], {"kell"})
    assert problems(header, [["1", "kell", "published"]] * 2, {"kell"})


def test_reading() -> None:
    # Law: a table is read once, and what is not there is named.
    assert tables.read("water_density") is tables.read("water_density")
    assert tables.column("water_density", "power_of_t_C", part="denominator").tolist() == [0, 1]
    assert tables.source("kell1975").startswith("G. S. Kell")
    with pytest.raises(ValueError, match=r"nothing.*choose from.*water_density"):
        tables.read("nothing")
    with pytest.raises(ValueError, match=r"colour.*choose from.*part"):
        tables.column("water_density", "colour")
    with pytest.raises(ValueError, match=r"nobody.*kell1975"):
        tables.source("nobody")
