"""A calibration as a file: JSON with the rows it rests on, its draws and weights, and the hash of its log."""

from __future__ import annotations

import dataclasses
import pathlib
from typing import Any

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws
from ...common.json_file import Kind
from ...common.limits import check_number, check_values, naming
from ...matter.properties import LIMITS
from ...reaction.bath.parameters import RateParameters
from ..bottle.strength import Strength
from .calibration import SPREADS, Calibration
from .likelihood import bottles
from .log import Log
from .log_file import COLUMNS, Layout
from .offcut import cells_of, offcut_of

ENDS = [(float,)]
ROW = {
    "line": int,
    **dict.fromkeys(COLUMNS, str),
    "before_s": ENDS,
    "after_s": ENDS,
    "slip_share": float,
}
BOTTLE = {"substance": str, "name": str, "kg_per_kg": str}
BAD = {"line": int, "reason": str}
MEASURED = {
    "substance": str,
    "name": str,
    "middle_kg_per_kg": float,
    "doubt_kg_per_kg": float,
    "method": str,
}
KIND = Kind(
    "pcbchem calibration",
    1,
    "This file is checked by its sum, and a changed file is refused: "
    "change the log of offcuts and calibrate again.",
    "calibration",
    "calibration",
    {
        "log_sha256": str,
        "spread": float,
        "survived": float,
        "made": int,
        "rows": [ROW],
        "bad": [BAD],
        "bottles": [BOTTLE],
        "measured": [MEASURED],
        "parameters_si": {field.name: str for field in dataclasses.fields(RateParameters)},
        "weights": str,
    },
    20_000_000,
)
"""Every name with its kind; parameters are in the units of their table, an infinite time is null, and what has one
number a draw is a text of them with spaces between."""


def save(calibration: Calibration, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
    """Write a calibration to a file, all at once or not at all; a file that is no calibration is never touched.

    Parameters
    ----------
    calibration : Calibration
        What to write; its rows are written as in a log.
    path : str or Path
        Where to; its folder must exist.
    overwrite : bool
        Take the place of a calibration saved before.

    Raises
    ------
    FileExistsError
        Something of that name is there, and `overwrite` is false: names the path.
    ValueError
        `overwrite` is true and what is there is not an unchanged calibration: names the file and says why.
    OSError
        No such folder, or the system will not write there; what was there before is still there.
    """
    if not isinstance(calibration, Calibration):
        raise ValueError(
            f"calibration = {calibration!r:.80} is impossible: it must be a Calibration"
        )
    KIND.save(text_of(calibration), path, _built, overwrite)


def text_of(calibration: Calibration) -> str:
    """The text of the file: rows as in a log, times [s], and their sum."""
    c = calibration
    rows = [
        {
            "line": line,
            **cells_of(offcut),
            "before_s": _times(before),
            "after_s": _times(after),
            "slip_share": slip,
        }
        for line, offcut, before, after, slip in zip(
            c.lines, c.offcuts, c.before, c.after, c.slips.tolist(), strict=True
        )
    ]
    bottled = [
        {"substance": substance, "name": name, "kg_per_kg": _text(values)}
        for (substance, name), values in c.strengths.items()
    ]
    return KIND.text_of(
        {
            "log_sha256": c.log_sha256,
            "spread": c.spread,
            "survived": c.survived,
            "made": c.made,
            "rows": rows,
            "bad": [dict(zip(BAD, each, strict=True)) for each in c.bad],
            "measured": [
                dict(
                    zip(
                        MEASURED,
                        (*names, strength.middle, strength.doubt, strength.method),
                        strict=True,
                    )
                )
                for names, strength in c.measured.items()
            ],
            "bottles": bottled,
            "weights": _text(c.weights),
            "parameters_si": {name: _text(column) for name, column in c.draws.items()},
        }
    )


def read(path: str | pathlib.Path, log: Log | None = None) -> Calibration:
    """Read a calibration that `save` wrote; an edited or foreign file, or one of another log, is refused.

    Parameters
    ----------
    path : str or Path
        The file.
    log : Log, optional
        The log as it is now: a calibration of an older one is refused.

    Returns
    -------
    Calibration
        Equal to what was saved, number by number.

    Raises
    ------
    ValueError
        No file, not a calibration, another version, changed after it was saved, an impossible value, or another log:
        the file's name, then the reason.

    Examples
    --------
    >>> import tempfile
    >>> from pcbchem.bench.offcut.calibrating import calibrate
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     save(calibrate(Log.of([])), f"{folder}/bench.json")
    ...     print(f"{read(f'{folder}/bench.json').effective:.0f}")
    400
    """
    found: Calibration = KIND.read(path, _built)
    if log is not None and found.log_sha256 != log.sha256:
        raise ValueError(
            f"{pathlib.Path(path).name}: is not of this log as it is now: calibrate again "
            f"(sha256 {found.log_sha256:.12} there, {log.sha256:.12} of the log)"
        )
    return found


def _times(values: FloatArray) -> list[float | None]:
    return [float(value) if np.isfinite(value) else None for value in values]


def _built(held: dict[str, Any]) -> Calibration:
    """A calibration from what a file holds, every value checked."""
    offcuts, ends = [], []
    for row in held["rows"]:
        with naming(f"line {row['line']}"):
            offcuts.append(offcut_of({name: row[name] for name in COLUMNS}, Layout()))
            for name in ("before_s", "after_s"):
                if len(row[name]) != 3:
                    raise ValueError(
                        f"{name} = {row[name]!r:.80} is impossible: it must be 3 numbers"
                    )
                ends.append(
                    [
                        np.inf if value is None else check_number(name, value, 0.0, np.inf, "s")
                        for value in row[name]
                    ]
                )
            check_number("slip_share", row["slip_share"], 0.0, 1.0, "")
    draws = {
        name: _column(name, values, 0.0, 1e9) for name, values in held["parameters_si"].items()
    }
    RateParameters(**{name: as_draws(column) for name, column in draws.items()})
    strengths = {
        (each["substance"], each["name"]): _column(
            each["name"], each["kg_per_kg"], 0.0, max(LIMITS.values())
        )
        for each in held["bottles"]
    }
    if set(strengths) != set(bottles(offcuts)):
        raise ValueError(
            f"bottles = {', '.join(name for _, name in strengths)} is impossible: "
            "it must be those that the rows name"
        )
    measured = {
        (each["substance"], each["name"]): Strength(
            each["substance"], each["middle_kg_per_kg"], each["doubt_kg_per_kg"], each["method"]
        )
        for each in held["measured"]
    }
    weights = _column("weights", held["weights"], 0.0, 1.0)
    if not abs(weights.sum() - 1) < 1e-9:
        raise ValueError(f"weights = {weights.sum():g} in all is impossible: it must be 1")
    if held["made"] not in (0, MOST_DRAWS):
        raise ValueError(f"made = {held['made']} is impossible: it must be 0 or {MOST_DRAWS}")
    spread = check_number("spread", held["spread"], *SPREADS, "")
    survived = check_number("survived", held["survived"], 1.0 - 1e-9, MOST_DRAWS + 1e-9, "")
    return Calibration(
        tuple(offcuts),
        tuple(row["line"] for row in held["rows"]),
        spread,
        draws,
        strengths,
        weights,
        np.array(ends[::2]).reshape(-1, 3),
        np.array(ends[1::2]).reshape(-1, 3),
        np.array([row["slip_share"] for row in held["rows"]], dtype=float),
        survived,
        held["made"],
        held["log_sha256"],
        tuple((each["line"], each["reason"]) for each in held["bad"]),
        measured,
    )


def _text(column: FloatArray) -> str:
    return " ".join(map(repr, column.tolist()))


def _column(name: str, text: str, low: float, high: float) -> FloatArray:
    """One number a draw [unit as named], within its limits."""
    column = np.asarray(check_values(name, text.split(" "), low, high))
    if column.shape != (MOST_DRAWS,):
        raise ValueError(f"{name} of {column.size} numbers is impossible: it must be {MOST_DRAWS}")
    return column
