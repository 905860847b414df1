"""A plan's inputs as a file: JSON without any amount to pour, saved all at once or not at all, opened with checks."""

from __future__ import annotations

import pathlib
from typing import Any

from ...common.json_file import Kind
from ...common.limits import naming
from ...reaction.bath.setup import Board, Foil, Tray
from ..bottle.bottle import Bottle
from .inputs import Inputs, Kept

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
}
TRAY = {"agitation": str, "facing": str, "open_area_m2": (float,), "T_air_K": (float,)}
KEPT = {
    "share_of_bath": float,
    "copper_mol_per_m3": [float] * 2,
    "acid_mol_per_m3": [float] * 2,
    "peroxide_mol_per_m3": [float] * 2,
}
SECOND = {"share_of_peroxide": float, "after_s": float}
INPUTS = {
    "acid": BOTTLE,
    "peroxide": BOTTLE,
    "parts_water_acid_peroxide": [float] * 3,
    "board": BOARD,
    "tray": TRAY,
    "bath_per_area_m": float,
    "place": str,
    "T_bottles_K": float,
    "kept": (KEPT,),
    "second": (SECOND,),
    "draws": int,
    "seed": int,
}
KIND = Kind(
    "pcbchem plan inputs",
    1,
    "This file is checked by its sum, and a changed file is refused: "
    "open it, change the inputs on the page and save them again.",
    "plan",
    "inputs",
    INPUTS,
    100_000,
)
"""Every name with its kind, in the order of the arguments."""


def save_inputs(inputs: Inputs, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
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
    KIND.save(text_of(inputs), path, _built, overwrite)


def read_inputs(path: str | pathlib.Path) -> Inputs:
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
    ...     save_inputs(Inputs(*bottles, (0, 1, 1), Board(area=27e-4), Tray(), 0.05, "EU"), f"{folder}/mild.json")
    ...     print(f"{read_inputs(f'{folder}/mild.json').bath_per_area:.2f} m")
    0.05 m
    """
    found: Inputs = KIND.read(path, _built)
    return found


def inputs_from_text(text: str, name: str = "this file") -> Inputs:
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
    >>> try: inputs_from_text("{}")
    ... except ValueError as error: print(error)
    this file: is not a plan of this package: it must be an object with "what": "pcbchem plan inputs"
    """
    with naming(name):
        return _built(KIND.held(text.encode("utf-8")))


def text_of(inputs: Inputs) -> str:
    """The text of the file: inputs with units in their names, and their sum."""
    board, tray, kept, second = inputs.board, inputs.tray, inputs.kept, inputs.second
    area = board.area if board.width is None else None  # from the sides, where they are known
    sizes: tuple[Any, ...] = (board.width, board.height, board.bare, area, board.foil.areal_mass)
    airs: tuple[Any, ...] = (tray.open_area, tray.T_air)
    held = {
        **{
            name: _object(BOTTLE, bottle.substance, bottle.low, bottle.high, bottle.label)
            for name, bottle in (("acid", inputs.acid), ("peroxide", inputs.peroxide))
        },
        "parts_water_acid_peroxide": inputs.parts,
        "board": _object(BOARD, *(None if size is None else float(size) for size in sizes)),
        "tray": _object(
            TRAY,
            tray.agitation,
            tray.facing,
            *(None if air is None else float(air) for air in airs),
        ),
        "bath_per_area_m": inputs.bath_per_area,
        "place": inputs.place,
        "T_bottles_K": inputs.T_bottles,
        "kept": kept and _object(KEPT, kept.share, kept.copper, kept.acid, kept.peroxide),
        "second": second and _object(SECOND, *second),
        "draws": inputs.draws,
        "seed": inputs.seed,
    }
    return KIND.text_of(held)


def _built(held: dict[str, Any]) -> Inputs:
    """Inputs from what a file holds; their own checks judge the values."""
    made: dict[str, Any] = {}
    for name, names, kind in (
        ("acid", BOTTLE, Bottle),
        ("peroxide", BOTTLE, Bottle),
        ("board", BOARD, _board),
        ("tray", TRAY, Tray),
        ("kept", KEPT, Kept),
        ("second", SECOND, lambda *both: both),
    ):
        with naming(name):
            made[name] = None if held[name] is None else kind(*(held[name][key] for key in names))
    return Inputs(*(made.get(name, held[name]) for name in INPUTS))


def _board(width: Any, height: Any, bare: Any, area: Any, foil: float) -> Board:
    return Board(width, height, bare, Foil(foil), area=area)


def _object(names: dict[str, Any], *values: Any) -> dict[str, Any]:
    return dict(zip(names, values, strict=True))
