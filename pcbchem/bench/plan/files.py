"""A plan's inputs as a file: JSON without any amount to pour, opened with checks.

A file is saved all at once or not at all, and an edited one is refused. A file of the first edition
is opened too and never changed by that; its verdict is made anew. So is one of the first format of
the second edition, which did not know the back of a board.
"""

from __future__ import annotations

import pathlib
from collections.abc import Callable
from typing import Any

from ...common.json_file import Kind, Older
from ...common.limits import InputError, naming
from ...reaction.bath.setup import Board, Foil, Tray
from ..bottle.bottle import Bottle
from .inputs import EDITION, Inputs, UsedBath

BOTTLE = {
    "substance": str,
    "low_kg_per_kg": float,
    "high_kg_per_kg": float,
    "label_kg_per_kg": (float,),
}
BOARD = {
    "width_m": (float,),
    "height_m": (float,),
    "bare_share": (float,),
    "bare_area_m2": (float,),
    "foil_kg_per_m2": float,
    "bare_back_share": float,
}
TRAY = {
    "agitation": str,
    "facing": str,
    "open_area_m2": (float,),
    "T_air_K": (float,),
    "perimeter_m": (float,),
}
USED_BATH = {
    "share_of_bath": float,
    "copper_mol_per_m3": [float] * 2,
    "acid_mol_per_m3": [float] * 2,
    "peroxide_mol_per_m3": [float] * 2,
}
SECOND = {"share_of_peroxide": float, "after_s": float}
"""Every name in a file with its kind, in the order of the arguments; in brackets: may be null."""
INPUTS = {
    "acid": BOTTLE,
    "peroxide": BOTTLE,
    "parts_water_acid_peroxide": [float] * 3,
    "board": BOARD,
    "tray": TRAY,
    "bath_per_area_m": float,
    "place": str,
    "T_bottles_K": float,
    "used_bath": (USED_BATH,),
    "second": (SECOND,),
    "draws": int,
    "seed": int,
}
FORMAT = 3
"""Format of a file: editions 1 and 2 began with formats 1 and 2; 3 knows the back of a board."""
SECOND_BOARD = {name: kind for name, kind in BOARD.items() if name != "bare_back_share"}
SECOND_INPUTS = {**INPUTS, "board": SECOND_BOARD}
"""The same in the second format."""
FIRST_TRAY = {name: kind for name, kind in TRAY.items() if name != "perimeter_m"}
FIRST_INPUTS = {
    # the used bath had another name, and stood at the same place
    {"used_bath": "kept"}.get(name, name): kind
    for name, kind in {**SECOND_INPUTS, "tray": FIRST_TRAY}.items()
}
"""The same in the first format, of the first edition."""
NOTE = (
    "This file is checked by its sum, and a changed file is refused: "
    "open it, change the inputs on the page and save them again."
)
FROM_FIRST_EDITION = (
    "This file is from the first edition: its verdict was made anew by today's rules."
)
"""What a page says of inputs whose `edition` is 1."""


def _with_a_back(content: dict[str, Any]) -> dict[str, Any]:
    """Return the content of a file of the second format, whose boards have no copper behind."""
    return {**content, "board": {**content["board"], "bare_back_share": 0.0}}


def _renewed(content: dict[str, Any]) -> dict[str, Any]:
    """Return the content of a file of the first edition with the names of today."""
    tray = {**content["tray"], "perimeter_m": None}
    rest = {name: value for name, value in content.items() if name != "kept"}
    return _with_a_back({**rest, "used_bath": content["kept"], "tray": tray, "edition": 1})


KIND = Kind(
    what="pcbchem plan inputs",
    version=FORMAT,
    note=NOTE,
    word="plan",
    content="inputs",
    layout=INPUTS,
    most_bytes=100_000,  # a hundred times what any plan takes
    older=(
        Older(version=1, note=NOTE, layout=FIRST_INPUTS, renew=_renewed),
        Older(version=2, note=NOTE, layout=SECOND_INPUTS, renew=_with_a_back),
    ),
)
"""The format; any other word of it is another version."""


def save_inputs(inputs: Inputs, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
    """Write a plan's inputs to a file; a file that is no plan is never touched.

    Parameters
    ----------
    inputs : Inputs
        What to write, every number with its unit in its name; how much bath there is for the
        copper, and no amount.
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
        raise InputError("inputs", "it must be Inputs", value=inputs, about=f" = {inputs!r}")
    KIND.save(text_of(inputs), path, _inputs_of, overwrite)


def read_inputs(path: str | pathlib.Path) -> Inputs:
    """Read inputs that `save_inputs` wrote; an edited or foreign file is refused.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    Inputs
        Equal to what was saved, number by number; `edition` says which edition saved it. Where that
        is the first, say `FROM_FIRST_EDITION`.

    Raises
    ------
    ValueError
        No file, not a plan, another version, a name unknown or missing, changed after it was saved,
        or an impossible value: the file's name, then the reason.

    Examples
    --------
    >>> import tempfile
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> mild = Inputs(acid, peroxide, (0, 1, 1), Board(area=27e-4), Tray(), 0.05, "EU")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     save_inputs(mild, f"{folder}/mild.json")
    ...     again = read_inputs(f"{folder}/mild.json")
    >>> print(f"{again.bath_per_area:.2f} m")
    0.05 m
    """
    inputs: Inputs = KIND.read(path, _inputs_of)
    return inputs


def inputs_from_text(text: str, name: str = "this file") -> Inputs:
    """Read inputs from the text of a file, with the same checks as `read_inputs`.

    Parameters
    ----------
    text : str
        All that the file holds.
    name : str
        What to call it in an error.

    Returns
    -------
    Inputs
        Equal to what was saved, number by number; `edition` says which edition saved it. Where that
        is the first, say `FROM_FIRST_EDITION`.

    Raises
    ------
    ValueError
        As `read_inputs`: the name, then the reason.

    Examples
    --------
    >>> try: inputs_from_text("[", "mild.json")
    ... except ValueError as error: print(str(error)[:39])
    mild.json: is not JSON that can be read
    """
    with naming(name):
        return _inputs_of(KIND.content_of(text.encode("utf-8")))


def text_of(inputs: Inputs) -> str:
    """Write the text of the file: inputs with units in their names, and their sum."""
    # what a plan does not have is null in its file
    used_bath = second = None
    if inputs.used_bath is not None:
        used_bath = _used_bath_values(inputs.used_bath)
    if inputs.second is not None:
        second = dict(zip(SECOND, inputs.second, strict=True))
    values: dict[str, Any] = {
        "acid": _bottle_values(inputs.acid),
        "peroxide": _bottle_values(inputs.peroxide),
        "parts_water_acid_peroxide": inputs.parts,
        "board": _board_values(inputs.board),
        "tray": _tray_values(inputs.tray),
        "bath_per_area_m": inputs.bath_per_area,
        "place": inputs.place,
        "T_bottles_K": inputs.T_bottles,
        "used_bath": used_bath,
        "second": second,
        "draws": inputs.draws,
        "seed": inputs.seed,
    }
    return KIND.text_of(values)


def _bottle_values(bottle: Bottle) -> dict[str, Any]:
    values = (bottle.substance, bottle.low, bottle.high, bottle.label)
    return dict(zip(BOTTLE, values, strict=True))


def _board_values(board: Board) -> dict[str, Any]:
    # where the sides are known the area follows from them, and is not written a second time
    area = None
    if board.width is None:
        area = board.area
    sizes = (board.width, board.height, board.bare, area, board.foil.areal_mass, board.back)
    return dict(zip(BOARD, map(_number, sizes), strict=True))


def _tray_values(tray: Tray) -> dict[str, Any]:
    sizes = (_number(size) for size in (tray.open_area, tray.T_air, tray.perimeter))
    return dict(zip(TRAY, (tray.agitation, tray.facing, *sizes), strict=True))


def _used_bath_values(used_bath: UsedBath) -> dict[str, Any]:
    values = (used_bath.share, used_bath.copper, used_bath.acid, used_bath.peroxide)
    return dict(zip(USED_BATH, values, strict=True))


def _number(value: Any) -> float | None:
    """Return a size as a plain number [own unit]; None where it is not known."""
    if value is None:
        return None
    return float(value)


def _inputs_of(values: dict[str, Any]) -> Inputs:
    """Make inputs of what a file holds; their own checks judge the values."""
    objects = {
        "acid": _object_of("acid", BOTTLE, Bottle, values),
        "peroxide": _object_of("peroxide", BOTTLE, Bottle, values),
        "board": _object_of("board", BOARD, _board, values),
        "tray": _object_of("tray", TRAY, Tray, values),
        "used_bath": _object_of("used_bath", USED_BATH, UsedBath, values),
        "second": _object_of("second", SECOND, _second, values),
    }
    # the names of `INPUTS` stand in the order of the arguments
    inputs = Inputs(*(objects.get(name, values[name]) for name in INPUTS))
    return inputs.replace(edition=values.get("edition", EDITION))


def _object_of(name: str, names: dict[str, Any], kind: Callable[..., Any], values: Any) -> Any:
    """Make one of the objects in a file; None where it is null."""
    if values[name] is None:
        return None
    with naming(name):  # an impossible value is told by the object it is in
        return kind(*(values[name][key] for key in names))


def _board(width: Any, height: Any, bare: Any, area: Any, foil: float, back: float) -> Board:
    # a file holds the foil as a plain number
    return Board(width, height, bare, Foil(foil), area=area, back=back)


def _second(share: float, time: float) -> tuple[float, float]:
    # a pair in the code, with names in a file
    return share, time
