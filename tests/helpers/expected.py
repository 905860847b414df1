"""Read the expected values in tests/published, which the package does not ship."""

import csv
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).parents[1] / "published"


def rows(name: str, **where: str) -> list[dict[str, str]]:
    """Rows of tests/published/<name>.csv whose columns hold these texts."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        table = list(csv.DictReader(file))
    return [row for row in table if all(row[title] == text for title, text in where.items())]


def printed_figure(id: str) -> Any:
    """The figure of a check in checks_solutions.csv, equal to what agrees within its tolerance."""
    (row,) = rows("checks_solutions", id=id)
    absolute, relative = row["absolute_tolerance"], row["relative_tolerance"]
    tolerances = {}
    if absolute != "-":
        tolerances["abs"] = float(absolute)
    if relative != "-":
        tolerances["rel"] = float(relative)
    # A tolerance left out would be a default of pytest's, and not what the file says
    assert any(tolerances.values()), id
    tolerances.setdefault("abs", 0.0)
    return pytest.approx(float(row["expected"]), **tolerances)


def figure_of(name: str, id: str) -> Any:
    """The figure of a check in a table of `rel_tol` and `abs_tol`, equal to what agrees with it."""
    (row,) = rows(name, id=id)
    tolerances = {}
    for column, kind in (("rel_tol", "rel"), ("abs_tol", "abs")):
        if row.get(column, "-") != "-":
            tolerances[kind] = float(row[column])
    assert any(tolerances.values()), id
    tolerances.setdefault("abs", 0.0)
    return pytest.approx(float(row["expected"]), **tolerances)
