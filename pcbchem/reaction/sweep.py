"""How do very many baths go? A table of what-if baths, in chunks, on as many workers as there are.

A lot of baths is no recipe: nothing here has a volume to pour, and nothing has a verdict.
"""

from __future__ import annotations

import contextlib
import importlib
import itertools
import json
import os
import pathlib
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping
from concurrent.futures import BrokenExecutor, Executor, Future
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..common.arrays import Draws, FloatArray, common_shape
from ..common.extras import extra
from ..common.json_file import name_if_free
from ..common.limits import (
    InputError,
    Range,
    RangeWarning,
    check_kind,
    check_values,
    check_whole,
    collecting_warnings,
    warn_outside,
)
from .bath.bath import etch
from .bath.parameters import RateParameters
from .bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Start, Tray, check_fits

if TYPE_CHECKING:
    import pandas

CHUNK = 20_000
"""Baths in a chunk, each draw counted [-]: part of the result, for the last bits of a bath depend
on how many are computed with it."""
MOST_CHUNK = 1_000_000
"""Most baths in a chunk [-]: a worker takes a third of a kilobyte for each."""
AHEAD = 8
"""Chunks under way at once [-]: what waits for its turn stays in memory."""
ROW_GROUP = 20_000
"""Rows that are written together at the least [-]: many little groups make a file slow to read."""
MOST_BATH = 10.0
"""Most bath over bare copper [m³/m²]: a litre on each cm²."""
SPARE = 1 + 1e-9
"""So far above the least bath [-] no rounding leads below it."""
NEEDED = {"HCl": "mol/m³", "H2O2": "mol/m³", "T": "K", "bath_per_area": "m³/m²"}
"""Columns that tell a bath, with their units: bath over bare copper, never a volume."""
OPTIONAL = {"CuCl2": "mol/m³", "CuCl": "mol/m³"}
"""Columns of a bath that has etched before, with their units."""
RESULTS = {"time_to_clear": "s", "peak_temperature": "K", "reserve": "-", "oxygen_amount": "mol"}
"""Columns that are computed, with their units."""
ENDS = ("low", "middle", "high")
"""Ends of a band, as columns are called by them."""
UNITS = (
    NEEDED
    | OPTIONAL
    | RESULTS
    | {f"{name}_{end}": unit for name, unit in RESULTS.items() for end in ENDS}
    | {"never": "-"}
)
"""Unit of each column of numbers."""
ATTRIBUTES = "PANDAS_ATTRS"
"""Where pandas looks for the `attrs` of a table in its file."""
NOTE = (
    "What-if baths, computed and not tried: no recipe, no volumes, no verdict. "
    "Plan each bath that you mean to mix."
)
"""Goes along with a table and a file, for whoever gets them without these pages."""

Part = dict[str, NDArray[Any]]
"""Columns of some baths, by name [own unit]."""
_Result = tuple[Part, list[RangeWarning]]


class _Lot(NamedTuple):
    """Baths by their columns [units of `NEEDED` and `OPTIONAL`], and what they have in common."""

    columns: Part
    board: Board
    tray: Tray
    parameters: RateParameters
    draws: int | None
    size: int

    @property
    def baths(self) -> int:
        """How many they are [-]."""
        return len(self.columns["T"])

    def chunks(self) -> Iterator[_Lot]:
        """Cut it into lots of `size` baths; the last one may be smaller."""
        for first in range(0, self.baths, self.size):
            rows = slice(first, first + self.size)
            columns = {name: column[rows] for name, column in self.columns.items()}
            yield self._replace(columns=columns)

    def start(self) -> Start:
        """Return what the baths hold, on an axis before the draw axis if there is one."""
        values: dict[str, Any] = dict(self.columns)
        if self.draws is not None:
            values = {name: column[:, None] for name, column in values.items()}
        return Start(volume=values.pop("bath_per_area") * self.board.copper_area, **values)


def sweep(
    baths: Mapping[str, ArrayLike] | pandas.DataFrame,
    board: Board,
    tray: Tray | None = None,
    parameters: RateParameters | None = None,
    *,
    executor: Executor | None = None,
    progress: Callable[[int, int], Any] | None = None,
    to: str | pathlib.Path | None = None,
    chunk: int = CHUNK,
) -> pandas.DataFrame | pathlib.Path:
    """Etch one board in each of very many baths, and give a table: one row a bath, in their order.

    A lot of baths is no recipe. The table has no volumes to pour and no verdict: many of its baths
    may burn, fume or boil. Plan each bath that you mean to mix with `pcbchem.plan`.

    Parameters
    ----------
    baths : mapping or DataFrame
        Columns "HCl" and "H2O2" [mol/m³], "T" [K] and "bath_per_area" [m³ of bath for each m² of
        bare copper], and if there is copper in the bath "CuCl2" and "CuCl" [mol/m³]. Each has one
        value a bath, or is one number for all.
    board : Board
        One board.
    tray : Tray
        One tray; by default rocked, facing up.
    parameters : RateParameters
        The rate model's parameters; of `RateParameters.plausible(200)` each result is a band.
    executor : Executor
        What computes the chunks: of `concurrent.futures`, or `client.get_executor()` of
        dask.distributed. By default they run here, one after the other.
    progress : callable
        Called after each chunk with how many baths are done, and how many there are [-].
    to : str or Path
        A new file, `.parquet`, that takes the table row by row; what is there is never overwritten.
    chunk : int
        Baths computed together, each draw counted [-], 1 to 1 000 000. It is part of the result:
        with the same chunks every executor gives the same bits.

    Returns
    -------
    DataFrame or Path
        The columns of the baths, and "time_to_clear" [s], infinite where it never clears,
        "peak_temperature" [K], "reserve" [-], "oxygen_amount" [mol] and "stopped_by"; of draws each
        number as "_low", "_middle" and "_high", between which 8 of 10 plausible baths lie, and
        "never", the share of them that never clears [-]. A DataFrame keeps its index, a file has
        none. With `to` the path of the file. `attrs` holds the units.

    Raises
    ------
    InputError
        A column unknown, missing, of another length or with an impossible value; several boards;
        a chunk or a file name that cannot be. Nothing was run.
    FileExistsError, FileNotFoundError
        Something has the file's name already, or its folder is not there: what is there stays.
    BrokenExecutor
        A worker died. No error of a worker, the disk or `progress` leaves anything written.
    ModuleNotFoundError
        pandas, or pyarrow for a file, is missing.

    Examples
    --------
    >>> from pcbchem import Board
    >>> lot = {"HCl": [600, 1200], "H2O2": 600, "T": 293.15, "bath_per_area": 0.05}
    >>> table = sweep(lot, Board(area=27e-4))
    >>> print(table[["HCl", "stopped_by"]].to_string(index=False))
       HCl  stopped_by
     600.0 copper gone
    1200.0 copper gone
    """
    lot = _checked_lot(baths, board, tray, parameters, chunk)
    if executor is not None:
        check_kind("executor", executor, Executor)
    if progress is not None and not callable(progress):
        raise InputError("progress", "it must be a function of two numbers", value=progress)
    outside: list[RangeWarning] = []
    parts = _parts(lot, executor, progress, outside)

    if to is None:
        frames = _library("pandas")
        # closed at once whatever happens, so that no chunk runs on for nobody
        with contextlib.closing(parts):
            columns = _joined(list(parts))
        _warn_once(outside)
        index = baths.index if isinstance(baths, frames.DataFrame) else None
        table: pandas.DataFrame = frames.DataFrame(columns, index=index)
        table.attrs |= _attributes(columns)
        return table

    path = _checked_path(to)
    arrow, parquet = _library("pyarrow"), _library("pyarrow.parquet")
    with _new_file(path) as draft:
        with contextlib.closing(parts):
            _write(draft, lot, parts, arrow, parquet)
        # before the file has its name: where warnings are errors there is none
        _warn_once(outside)
    return path


def _checked_lot(baths: Any, board: Any, tray: Any, parameters: Any, chunk: Any) -> _Lot:
    """Return the baths with all that goes into a run, every value checked."""
    check_kind("board", board, Board)
    tray = Tray() if tray is None else tray
    check_kind("tray", tray, Tray)
    parameters = RateParameters() if parameters is None else parameters
    check_kind("parameters", parameters, RateParameters)
    _check_single("board", np.shape(board.footprint), np.shape(board.copper))
    _check_single("tray", *map(np.shape, (tray.open_area, tray.T_air, tray.perimeter)))
    check_fits(board, tray)
    shape, draws = common_shape(**parameters.values())
    _check_single("parameters", shape if draws is None else shape[:-1])
    size = max(1, check_whole("chunk", chunk, 1, MOST_CHUNK) // (draws or 1))

    lot = _Lot(_checked_columns(baths), board, tray, parameters, draws, size)
    area = float(board.copper_area)
    # less does not cover the bottom of the tray
    least = SPARE * max(LEAST_VOLUME, LEAST_DEPTH * float(tray.surface(0.0, area))) / area
    for part in lot.chunks():
        check_values("bath_per_area", part.columns["bath_per_area"], least, MOST_BATH, "m³/m²")
        part.start()
    return lot


def _check_single(name: str, *shapes: tuple[int, ...]) -> None:
    """Refuse what stands for several boards, trays or scenarios of parameters, by its shapes."""
    if any(shapes):
        raise InputError(name, "give each a sweep of its own", about=": an array in it")


def _checked_columns(baths: Any) -> Part:
    """Return the columns as arrays of one length [own unit], not yet their values checked."""
    if not callable(getattr(baths, "items", None)):
        raise InputError("baths", "it must be a table, or a dict of columns", value=baths)
    known = NEEDED | OPTIONAL
    columns: Part = {}
    for name, values in baths.items():
        if name not in known:
            raise InputError(
                "baths",
                f"choose from {', '.join(known)}",
                value=name,
                about=f": column {name!r:.80}",
                wrong="is not known",
                hint="how much bath there is stands in bath_per_area, never as a volume",
            )
        if name in columns:
            raise InputError(
                "baths", "give each once", value=name, about=f": column {name!r}", wrong="is twice"
            )
        columns[name] = _column(name, values)
    for name in NEEDED:
        if name not in columns:
            raise InputError(
                "baths",
                f"it must hold {', '.join(NEEDED)}",
                value=name,
                about=f": column {name!r}",
                wrong="is missing",
            )
    return _of_one_length(columns)


def _column(name: str, values: Any) -> FloatArray:
    """Return a column as floats [own unit]: the same array where it is one of them."""
    if isinstance(values, Draws):
        rule = "it must be one value a bath, draws stand in parameters"
        raise InputError(name, rule, value=values, about=" of draws")
    try:
        column = np.asarray(values, dtype=float)
    except (TypeError, ValueError):
        rule = "it must be one value a bath"
        raise InputError(name, rule, value=values, wrong="is not a number") from None
    if column.ndim > 1:
        rule = "it must be one value a bath"
        raise InputError(name, rule, value=values, about=f" of shape {column.shape}")
    return column


def _of_one_length(columns: Part) -> Part:
    """Give every bath the numbers that count for all, and refuse columns of several lengths."""
    lengths = {name: column.size for name, column in columns.items() if column.ndim}
    first, count = next(iter(lengths.items()), ("", 1))
    if not count:
        raise InputError("baths", "it must hold a bath at the least", about=" of no baths")
    for name, length in lengths.items():
        if length != count:
            rule = f"it must be one number, or {count} as {first}"
            raise InputError(name, rule, value=length, about=f" of {length} values")
    return {name: np.broadcast_to(column, count) for name, column in columns.items()}


def _checked_path(to: Any) -> pathlib.Path:
    """Return where a new file is to be, or say why it cannot be."""
    if not isinstance(to, str | pathlib.Path):
        raise InputError("to", "it must be a path that ends in .parquet", value=to)
    # in full: somebody may change the folder while it runs
    path = pathlib.Path(to).absolute()
    if path.suffix.lower() != ".parquet":
        raise InputError("to", "it must end in .parquet", value=str(to))
    if not path.parent.is_dir():
        raise FileNotFoundError(f"to = {str(to)!r}: {path.parent} is not a folder, make it first")
    # a link to nowhere is there too
    if os.path.lexists(path):
        raise _is_there(path)
    return path


def _library(name: str) -> Any:
    """Load a library of the extra, or say how to get it."""
    with extra("sweep"):
        return importlib.import_module(name)


def _etched(lot: _Lot) -> _Result:
    """Etch one chunk; return its results [own unit] and its warnings, which a worker would lose."""
    outside: list[RangeWarning] = []
    with collecting_warnings(outside):
        run = etch(lot.start(), lot.board, lot.tray, lot.parameters)
    if lot.draws is None:
        columns = {name: np.asarray(getattr(run, name)) for name in RESULTS}
        return columns | {"stopped_by": np.asarray(run.stopped_by)}, outside
    # draws become a band here: there is so much less to send back
    columns = {}
    for name in RESULTS:
        band = run.band(name)
        columns |= {f"{name}_{end}": getattr(band, end) for end in ENDS}
    return columns | {"never": run.band("time_to_clear").never}, outside


def _results(lot: _Lot, executor: Executor | None) -> Generator[_Result]:
    """Etch chunk by chunk, in their order; none of those that wait runs after an error."""
    if executor is None:
        yield from map(_etched, lot.chunks())
        return
    under_way: deque[Future[_Result]] = deque()
    try:
        for part in lot.chunks():
            if len(under_way) == AHEAD:
                yield _first_of(under_way)
            under_way.append(executor.submit(_etched, part))
        while under_way:
            yield _first_of(under_way)
    except BrokenExecutor as error:
        error.add_note("sweep: a worker died, of too little memory perhaps; nothing is written.")
        raise
    finally:
        for future in under_way:
            future.cancel()


def _first_of(under_way: deque[Future[Any]]) -> Any:
    """Wait for the chunk whose turn it is, and take it off the list only then."""
    result = under_way[0].result()
    under_way.popleft()
    return result


def _parts(
    lot: _Lot,
    executor: Executor | None,
    progress: Callable[[int, int], Any] | None,
    outside: list[RangeWarning],
) -> Generator[Part]:
    """Give the columns of each chunk with its results [own unit], and tell of progress."""
    done = 0
    with contextlib.closing(_results(lot, executor)) as results:
        for part, (columns, warnings) in zip(lot.chunks(), results, strict=True):
            outside += warnings
            yield part.columns | columns
            done += part.baths
            if progress is not None:
                progress(done, lot.baths)


def _warn_once(outside: list[RangeWarning]) -> None:
    """Give the one warning that a single call of `etch` would give: of the farthest value."""
    pairs = ((Range(w.quantity, w.low, w.high, w.unit), w.value) for w in outside)
    warn_outside("etch", *pairs, stacklevel=4)


def _joined(parts: list[Part]) -> Part:
    """Put chunks together, column by column [own unit]."""
    return {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}


def _attributes(names: Iterable[str]) -> dict[str, Any]:
    """Return what goes along with a table: the note, and the unit of each column of numbers."""
    return {"note": NOTE, "units": {name: UNITS[name] for name in names if name in UNITS}}


@contextlib.contextmanager
def _new_file(path: pathlib.Path) -> Iterator[pathlib.Path]:
    """Lend a draft beside a new file: it takes the file's name if all went well, or is removed."""
    # beside it, and so on the same disk; a random name, so that two who save do not meet
    draft = path.with_name(f".{os.urandom(8).hex()}.tmp")
    try:
        yield draft
        try:
            name_if_free(draft, path)
        except FileExistsError:
            raise _is_there(path) from None
    finally:
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)


def _is_there(path: pathlib.Path) -> FileExistsError:
    return FileExistsError(f"to = {str(path)!r} is already there: choose another name")


def _write(draft: pathlib.Path, lot: _Lot, parts: Iterator[Part], arrow: Any, parquet: Any) -> None:
    """Write chunks as they come, some together, and wait until the disk has them."""
    together = max(1, ROW_GROUP // lot.size)
    rows = arrow.table(_joined(list(itertools.islice(parts, together))))
    schema = rows.schema.with_metadata({ATTRIBUTES: json.dumps(_attributes(rows.column_names))})
    with open(draft, "xb") as stream:
        with parquet.ParquetWriter(stream, schema) as writer:
            writer.write_table(rows)
            while group := list(itertools.islice(parts, together)):
                writer.write_table(arrow.table(_joined(group)))
        stream.flush()
        os.fsync(stream.fileno())
