"""Read the published tables that ship with the package: at first use, each row with its source."""

from __future__ import annotations

import csv
import pathlib
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import numpy as np

from .arrays import FloatArray
from .limits import InputError

# A path and not `importlib.resources`, which takes a tenth of the time of `import pcbchem`
FOLDER = pathlib.Path(__file__).parents[1] / "data"


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
        One mapping a row, not to be changed (`dict(row)` copies it); values as printed [unit in
        the column name].

    Raises
    ------
    InputError
        No such table: names it and the tables there are.

    Examples
    --------
    >>> print(read("hcl_apparent_enthalpy")[-1]["relative_apparent_enthalpy_kJ_mol"])
    45.61
    """
    tables = sorted(path.stem for path in FOLDER.glob("*.csv"))
    # The name is looked up and never part of a path before that: "../secret" is no table
    if name not in tables:
        raise InputError(
            "name", f"choose from {', '.join(tables)}", value=name, wrong="is not a table"
        )
    # Every caller gets the same rows, so they are made to be read only
    with (FOLDER / f"{name}.csv").open(encoding="utf-8") as file:
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
    InputError
        No such table or column: names it and those there are.

    Examples
    --------
    >>> print(f"{column('hcl_apparent_enthalpy', 'molality_mol_kg').max():.1f}")
    55.5
    """
    rows = read(name)
    # Every table has rows, all with the columns of the first
    for title in (field, *where):
        if title not in rows[0]:
            raise InputError(
                repr(title),
                f"choose from {', '.join(rows[0])}",
                value=title,
                wrong=f"is not a column of {name}",
                about="",
            )
    numbers = []
    for row in rows:
        if all(row[title] == text for title, text in where.items()):
            numbers.append(float(row[field]))
    return np.array(numbers)


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
    InputError
        Unknown key: names it and the keys there are.

    Examples
    --------
    >>> print(source("kell1975").split(",")[0])
    G. S. Kell
    """
    citations = _citations()
    if key not in citations:
        raise InputError(
            "key", f"choose from {', '.join(citations)}", value=key, wrong="is not in sources.csv"
        )
    return citations[key]


@cache
def _citations() -> dict[str, str]:
    return {row["key"]: row["citation"] for row in read("sources")}


def works_cited(row: Mapping[str, str]) -> list[str]:
    """List where a row comes from that may join what several works say.

    Parameters
    ----------
    row : mapping
        A row of a table with the columns `source` and `status`: as many of one as of the other,
        parted by "; ".

    Returns
    -------
    list of str
        Each as `cited` writes it.

    Raises
    ------
    ValueError
        More works than statuses, or fewer.

    Examples
    --------
    >>> row = {"source": "trade; kell1975", "status": "common practice; published"}
    >>> print(len(works_cited(row)))
    2
    """
    keys, statuses = row["source"].split("; "), row["status"].split("; ")
    pairs = zip(keys, statuses, strict=True)
    return [cited({"source": key, "status": status}) for key, status in pairs]


def cited(row: Mapping[str, str]) -> str:
    """Say where a row of a table comes from.

    Parameters
    ----------
    row : mapping
        A row of a table with the columns `source` and `status`.

    Returns
    -------
    str
        The citation; "from memory: ..." where nobody looked it up; where there is no source, what
        sources.csv says of common practice or of our limit, as the end of a sentence.

    Examples
    --------
    >>> print(cited({"source": "kell1975", "status": "from memory"}))  # doctest: +ELLIPSIS
    from memory: G. S. Kell, ...
    """
    citation = source(row["source"])
    if row["status"] == "from memory":
        return f"from memory: {citation}"
    if row["status"] in ("common practice", "our limit"):
        # What stands there is no work but a sentence, which goes on from one of the page
        return citation[0].lower() + citation[1:]
    return citation
