"""Every published check is listed once, and has a test that exists or a reason why not."""

import ast
import csv
import re
from functools import cache
from pathlib import Path

HERE = Path(__file__).parent
TOP = HERE.parent.parent


def read(name: str) -> list[dict[str, str]]:
    """Read a table of this folder."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


INDEX = read("index")
TABLES = {
    "checks_solutions": 65,
    "checks_safety": 34,
    "checks_label": 33,
    "checks_vapour_air": 35,
    "checks_waste": 22,
    "checks_tin": 4,
}
"""Tables of checks, and how many of each have a test at the least."""
CHECKS = {name: read(name) for name in TABLES}
LATER = (
    "vapour",
    "evaporation",
    "heat loss",
    "dissolved gas",
    "two enthalpy scales",
    "air of the room",
)


@cache
def names_in(path: str) -> tuple[set[str], set[object]]:
    """Return the functions and the constants of a test file."""
    nodes = list(ast.walk(ast.parse((TOP / path).read_text(encoding="utf-8"))))
    functions = {node.name for node in nodes if isinstance(node, ast.FunctionDef)}
    constants = {node.value for node in nodes if isinstance(node, ast.Constant)}
    return functions, constants


def test_every_check_is_listed_once_with_its_value() -> None:
    # As printed: the index repeats the tables of checks, one after the other.
    checks = [row for table in CHECKS.values() for row in table]
    assert [row["id"] for row in INDEX] == [row["id"] for row in checks]
    assert len({row["id"] for row in INDEX}) == len(INDEX) >= 127
    for row, check in zip(INDEX, checks, strict=True):
        assert (row["expected"], row["unit"]) == (check["expected"], check["unit"] or "-")
        if check.get("rel_tol", "-") != "-":
            assert row["tolerance"] == f"±{100 * float(check['rel_tol']):g} %"
        elif "abs_tol" in check:
            assert row["tolerance"] == f"±{check['abs_tol']}"


def test_each_check_has_a_test_or_a_reason() -> None:
    # Law: one or the other, and few reasons beyond what later work will bring.
    for row in INDEX:
        assert (row["test"] == "-") != (row["reason"] == "-"), row["id"]
    reasons = [
        row["id"] for row in INDEX if row["reason"] != "-" and not row["reason"].startswith(LATER)
    ]
    assert len(reasons) <= 8, reasons
    for name, least in TABLES.items():
        ids = {row["id"] for row in CHECKS[name]}
        assert sum(row["id"] in ids and row["test"] != "-" for row in INDEX) >= least, name


def test_each_named_test_exists() -> None:
    # Law: the file defines the function, and holds the id among its constants.
    for row in INDEX:
        if row["test"] == "-":
            continue
        parts = re.fullmatch(r"(tests/[\w/]+\.py)::(\w+)\[(\w+)\]", row["test"])
        assert parts, row["test"]
        path, function, check = parts.groups()
        assert check == row["id"]
        functions, constants = names_in(path)
        assert function in functions and check in constants, row["test"]
