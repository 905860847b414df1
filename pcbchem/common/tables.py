"""The published tables that ship with the package: read at first use, each row with its source."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import numpy as np

from ..common import tables
from .arrays import FloatArray


@cache
def read(name: str) -> tuple[Mapping[str, str], ...]:
    """Read one table of the package, as it is printed.

    Parameters
    ----------
    name : str
        Name of a file in pcbchem/data, without its ending.

    Returns
    -------
    tuple of mapping
        One mapping a row, not to be changed (`dict(row)` copies it); values as printed [unit in the column name].

    Raises
    ------
    ValueError
        No such table: names it and the tables there are.

    Examples
    --------
    >>> print(read("hcl_apparent_enthalpy")[-1]["relative_apparent_enthalpy_kJ_mol"])
    45.61
    """
    folder = files("pcbchem").joinpath("data")
    known = sorted(entry.name[:-4] for entry in folder.iterdir() if entry.name.endswith(".csv"))
    if name not in known:
        raise ValueError(f"name = {name!r} is not a table: choose from {', '.join(known)}")
    with folder.joinpath(f"{name}.csv").open(encoding="utf-8") as file:
        return tuple(MappingProxyType(row) for row in csv.DictReader(file))


def column(name: str, field: str, **where: str) -> FloatArray:
    """Take one column of a table as numbers.

    Parameters
    ----------
    name : str
        Name of a file in pcbchem/data, without its ending.
    field : str
        Name of the column; its unit is in its name.
    **where : str
        Keep only rows whose named column holds this text.

    Returns
    -------
    array
        The numbers [unit in the column name], in the order of the file.

    Raises
    ------
    ValueError
        No such table or column: names what was asked for and the choices.

    Examples
    --------
    >>> print(f"{column('hcl_apparent_enthalpy', 'molality_mol_kg').max():.1f}")
    55.5
    """
    rows = read(name)
    for asked in (field, *where):
        if asked not in rows[0]:
            raise ValueError(
                f"{asked!r} is not a column of {name}: choose from {', '.join(rows[0])}"
            )
    kept = (row for row in rows if all(row[key] == text for key, text in where.items()))
    return np.array([float(row[field]) for row in kept])


def source(key: str) -> str:
    """Look up the work that a row of a table cites.

    Parameters
    ----------
    key : str
        What stands in the column `source` of a table.

    Returns
    -------
    str
        The citation, from sources.csv.

    Raises
    ------
    ValueError
        Unknown key: names it.

    Examples
    --------
    >>> print(source("kell1975").split(",")[0])
    G. S. Kell
    """
    for row in read("sources"):
        if row["key"] == key:
            return row["citation"]
    raise ValueError(
        f"key = {key!r} is not in sources.csv: choose from {', '.join(r['key'] for r in read('sources'))}"
    )


def cited(row: Mapping[str, str]) -> str:
    """Where a row of a table comes from: a citation, "from memory: ...", or "common practice, no source"."""
    citation = tables.source(row["source"])
    plain = citation[0].lower() + citation[1:] if row["status"] == "common practice" else citation
    return f"from memory: {citation}" if row["status"] == "from memory" else plain
