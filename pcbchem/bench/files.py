"""A plan's inputs as a file: JSON without any amount to pour, saved all at once or not at all, opened with checks."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import pathlib
import secrets
from typing import Any

from ..matter.arrays import named
from ..reaction.setup import Board, Foil, Tray
from .inputs import Bottle, Inputs, Kept

WHAT = "pcbchem plan inputs"
VERSION = 1
NOTE = ("This file is checked by its sum, and a changed file is refused: "
        "open it, change the inputs on the page and save them again.")
"""Part of the format, as is every name below: other words are another version."""
MOST_BYTES = 100_000

BOTTLE = {"substance": str, "low_kg_per_kg": float, "high_kg_per_kg": float, "label_kg_per_kg": (float,)}
BOARD = {"width_m": (float,), "height_m": (float,), "bare_share": (float,), "bare_area_m2": (float,),
         "foil_kg_per_m2": float}
TRAY = {"agitation": str, "facing": str, "open_area_m2": (float,), "T_air_K": (float,)}
KEPT = {"share_of_bath": float, "copper_mol_per_m3": [float] * 2, "acid_mol_per_m3": [float] * 2,
        "peroxide_mol_per_m3": [float] * 2}
SECOND = {"share_of_peroxide": float, "after_s": float}
INPUTS = {"acid": BOTTLE, "peroxide": BOTTLE, "parts_water_acid_peroxide": [float] * 3, "board": BOARD, "tray": TRAY,
          "bath_per_area_m": float, "place": str, "T_bottles_K": float, "kept": (KEPT,), "second": (SECOND,),
          "draws": int, "seed": int}
FILE = {"what": str, "version": int, "note": str, "inputs": INPUTS, "sha256": str}
"""Every name with its kind, in the order of the arguments; a kind alone in brackets may also be null."""


def save(inputs: Inputs, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
    """Write a plan's inputs to a file, all at once or not at all; a file that is no plan is never touched.

    Parameters
    ----------
    inputs : Inputs
        What to write, every number with its unit in its name; how much bath there is for the copper, and no amount.
    path : str or Path
        Where to; its folder must exist. A link is followed.
    overwrite : bool
        Take the place of a plan saved before.

    Raises
    ------
    FileExistsError
        Something of that name is there, and `overwrite` is false: names the path.
    ValueError
        `overwrite` is true and what is there is not an unchanged plan: names the file and says why.
    OSError
        No such folder, or the system will not write there; what was there before is still there.
    """
    if not isinstance(inputs, Inputs):
        raise ValueError(f"inputs = {inputs!r} is impossible: it must be Inputs")
    data = text_of(inputs).encode("utf-8")
    target = pathlib.Path(os.path.realpath(path))
    if not target.parent.is_dir():
        raise FileNotFoundError(f"{target.parent} is not a folder: make it first, nothing was saved")
    _may_go(target, overwrite)
    beside = target.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        with open(beside, "xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if _may_go(target, overwrite):
            os.replace(beside, target)
        else:
            try:
                _place_new(beside, target)
            except FileExistsError:  # it came while we wrote
                if not _may_go(target, overwrite):
                    raise
                os.replace(beside, target)
    finally:
        with contextlib.suppress(OSError):  # what is saved is saved
            beside.unlink(missing_ok=True)


def read(path: str | pathlib.Path) -> Inputs:
    """Read inputs that `save` wrote; an edited or foreign file is refused by name and reason.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    Inputs
        Equal to what was saved, number by number.

    Raises
    ------
    ValueError
        No file, not a plan, another version, a name unknown or missing, changed after it was saved, or an impossible
        value: the file's name, then the reason.

    Examples
    --------
    >>> import tempfile
    >>> bottles = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     save(Inputs(*bottles, (0, 1, 1), Board(area=27e-4), Tray(), 0.05, "EU"), f"{folder}/mild.json")
    ...     print(f"{read(f'{folder}/mild.json').bath_per_area:.2f} m")
    0.05 m
    """
    file = pathlib.Path(path)
    with named(file.name or str(file)):
        return _inputs(file)


def read_text(text: str, name: str = "this file") -> Inputs:
    """Read inputs from the text of a file that `save` or `text_of` wrote, with the same checks as `read`.

    Parameters
    ----------
    text : str
        All that the file holds.
    name : str
        What to call it in an error.

    Returns
    -------
    Inputs
        Equal to what was saved, number by number.

    Raises
    ------
    ValueError
        As `read`: the name, then the reason.

    Examples
    --------
    >>> try: read_text("{}")
    ... except ValueError as error: print(error)
    this file: is not a plan of this package: it must be an object with "what": "pcbchem plan inputs"
    """
    with named(name):
        return _checked(text.encode("utf-8"))


def text_of(inputs: Inputs) -> str:
    """The text of the file: inputs with units in their names, and their sum."""
    board, tray, kept, second = inputs.board, inputs.tray, inputs.kept, inputs.second
    area = board.area if board.width is None else None  # from the sides, where they are known
    sizes: tuple[Any, ...] = (board.width, board.height, board.bare, area, board.foil.areal_mass)
    airs: tuple[Any, ...] = (tray.open_area, tray.T_air)
    held = {**{name: _object(BOTTLE, bottle.substance, bottle.low, bottle.high, bottle.label)
               for name, bottle in (("acid", inputs.acid), ("peroxide", inputs.peroxide))},
            "parts_water_acid_peroxide": inputs.parts,
            "board": _object(BOARD, *(None if size is None else float(size) for size in sizes)),
            "tray": _object(TRAY, tray.agitation, tray.facing, *(None if air is None else float(air) for air in airs)),
            "bath_per_area_m": inputs.bath_per_area, "place": inputs.place, "T_bottles_K": inputs.T_bottles,
            "kept": kept and _object(KEPT, kept.share, kept.copper, kept.acid, kept.peroxide),
            "second": second and _object(SECOND, *second), "draws": inputs.draws, "seed": inputs.seed}
    return json.dumps(_object(FILE, WHAT, VERSION, NOTE, held, _sum(held)), indent=2, allow_nan=False) + "\n"


def _may_go(target: pathlib.Path, overwrite: bool) -> bool:
    """Whether there is a plan to replace; what must be left alone raises."""
    if not os.path.lexists(target):
        return False
    if not overwrite:
        raise FileExistsError(f"{target} is already there: choose another name, or overwrite=True for a plan")
    with named(f"{target.name}: is not a plan of this package, it is left alone"):
        _inputs(target)
    return True


def _place_new(beside: pathlib.Path, target: pathlib.Path) -> None:
    """Give a finished file its name, unless something has that name."""
    try:
        os.link(beside, target)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError, AttributeError):  # no links here: take the name first, empty, then fill it
        open(target, "xb").close()
        try:
            os.replace(beside, target)
        except BaseException:
            if target.stat().st_size == 0:
                target.unlink()
            raise


def _inputs(file: pathlib.Path) -> Inputs:
    """The inputs in a file after every check, or the reason why not."""
    if not file.is_file():
        raise ValueError("there is no such file" if not os.path.lexists(file) else "is not a file")
    with open(file, "rb") as opened:
        data = opened.read(MOST_BYTES + 1)
    return _checked(data)


def _checked(data: bytes) -> Inputs:
    """The inputs in what a file holds after every check, or the reason why not."""
    if len(data) > MOST_BYTES:
        raise ValueError(f"is too large for a plan: it must be at most {MOST_BYTES} bytes")
    try:
        whole = json.loads(data.decode("utf-8"), parse_constant=_number_of, parse_float=_number_of,
                           object_pairs_hook=_once)
    except UnicodeDecodeError:
        raise ValueError("is not text in UTF-8") from None
    except (json.JSONDecodeError, RecursionError) as wrong:
        raise ValueError(f"is not JSON that can be read: {wrong}") from None
    if not isinstance(whole, dict) or whole.get("what") != WHAT:
        raise ValueError(f'is not a plan of this package: it must be an object with "what": "{WHAT}"')
    if type(whole.get("version")) is not int or whole["version"] != VERSION:
        raise ValueError(f"version = {whole.get('version')!r:.80} is not known: it must be {VERSION}")
    _fits("the file", whole, FILE)
    if whole["note"] != NOTE or whole["sha256"] != _sum(whole["inputs"]):
        raise ValueError("was changed after it was saved: its note or its sum does not fit")
    return _built(whole["inputs"])


def _built(held: dict[str, Any]) -> Inputs:
    """Inputs from what a file holds; their own checks judge the values."""
    made: dict[str, Any] = {}
    for name, names, kind in (("acid", BOTTLE, Bottle), ("peroxide", BOTTLE, Bottle), ("board", BOARD, _board),
                              ("tray", TRAY, Tray), ("kept", KEPT, Kept), ("second", SECOND, lambda *both: both)):
        with named(name):
            made[name] = None if held[name] is None else kind(*(held[name][key] for key in names))
    return Inputs(*(made.get(name, held[name]) for name in INPUTS))


def _board(width: Any, height: Any, bare: Any, area: Any, foil: float) -> Board:
    return Board(width, height, bare, Foil(foil), area=area)


def _fits(where: str, value: Any, kind: Any) -> None:
    """Refuse a name that is unknown or missing, or a value of another kind, at every level."""
    if isinstance(kind, tuple):
        if value is None:
            return
        kind = kind[0]
    if isinstance(kind, dict):
        if not isinstance(value, dict):
            raise ValueError(f"{where} = {value!r:.80} is impossible: it must hold {', '.join(kind)}")
        for key in [*kind, *value]:
            if (key in kind) != (key in value):
                raise ValueError(f"{where}: {key!r:.80} is {'missing' if key in kind else 'unknown'}, "
                                 f"it must hold {', '.join(kind)} and nothing else")
            _fits(key, value[key], kind[key])
    elif isinstance(kind, list):
        if not isinstance(value, list) or len(value) != len(kind):
            raise ValueError(f"{where} = {value!r:.80} is impossible: it must be a list of {len(kind)} numbers")
        for one, each in zip(value, kind, strict=True):
            _fits(where, one, each)
    elif isinstance(value, bool) or not isinstance(value, int | float if kind is float else kind):
        said = {str: "a text", int: "a whole number", float: "a number"}[kind]
        raise ValueError(f"{where} = {value!r:.80} is impossible: it must be {said}")


def _object(names: dict[str, Any], *values: Any) -> dict[str, Any]:
    return dict(zip(names, values, strict=True))


def _sum(held: Any) -> str:
    plain = json.dumps(held, sort_keys=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(plain.encode("ascii")).hexdigest()


def _number_of(text: str) -> float:
    """A number of JSON, which knows no NaN and nothing infinite."""
    value = float(text)
    if not value - value == 0:
        raise ValueError(f"{text:.80} is not a number: every number must be finite")
    return value


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object of JSON in which no name comes twice."""
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"{key!r:.80} is there twice")
        found[key] = value
    return found
