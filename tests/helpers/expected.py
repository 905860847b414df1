"""Reads the expected values in tests/published, which the package does not ship."""

import csv
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "published"


def rows(name: str, **where: str) -> list[dict[str, str]]:
    """Rows of tests/published/<name>.csv whose columns hold the given text."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [
            row
            for row in csv.DictReader(file)
            if all(row[key] == text for key, text in where.items())
        ]
