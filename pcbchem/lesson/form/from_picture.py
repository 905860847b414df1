"""How much of the board is bare, read from the picture of its artwork into the form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...bench.artwork.artwork import Artwork, read_artwork
from ...common.limits import InputError
from ...common.units import mm
from .table import ROWS

LEAST_BARE = 0.1
"""Least bare share that is handed on [%]: the form knows no board without copper to etch."""
UNLIKE = 0.02
"""A picture whose shape is so far from the board's [-] may not be a picture of it."""
AS_READ = (
    "Read with black as copper that stays, and the whole picture as the board. If yours is "
    "otherwise, read it on your own bench, under Test an offcut."
)
"""How every picture is read here."""


def bare_from(name: str, data: bytes, values: Mapping[str, Any]) -> tuple[dict[str, float], str]:
    """Read the artwork that somebody chose: values for the form, and what is to be said of them.

    Parameters
    ----------
    name : str
        What the file is called.
    data : bytes
        All that it holds: a PNG, a BMP, or a TIFF of one page.
    values : mapping
        The form's values; the width of its board [mm] stands in where the picture gives no size
        that can be used.

    Returns
    -------
    tuple
        New values by the names of their controls: `bare` [%], and `board_width` and `board_height`
        [mm] if the picture says how large it is; and sentences with the band and every doubt.

    Raises
    ------
    ValueError
        The file's name, and why it cannot be read.

    Examples
    --------
    >>> import io
    >>> from PIL import Image
    >>> picture, file = Image.new("1", (600, 300), 1), io.BytesIO()
    >>> picture.paste(0, (100, 100, 500, 200))
    >>> picture.save(file, "PNG", dpi=(600, 600))
    >>> print(bare_from("strip.png", file.getvalue(), {})[0])
    {'bare': 77.8, 'board_width': 25.4, 'board_height': 12.7}
    """
    art = read_artwork(data, name=name, width_if_unknown=_board_side(values, "board_width"))
    fresh = {"bare": max(round(100 * art.bare, 1), LEAST_BARE)}
    doubts = list(art.doubts)
    if art.own_size:
        fresh |= {
            "board_width": round(art.width / mm, 1),
            "board_height": round(art.height / mm, 1),
        }
    else:
        doubts.insert(0, _shape(art, values))
    sentences = [_read(art, fresh), AS_READ, *doubts]
    return fresh, " ".join(sentence for sentence in sentences if sentence)


def _board_side(values: Mapping[str, Any], name: str) -> float | None:
    """Return a side of the form's board [m]; None where it has none that can be."""
    if values.get(name) is None:
        return None
    try:
        return ROWS[name].read(values[name])
    except InputError:
        return None  # the form says that itself; the picture may know its own size


def _read(art: Artwork, fresh: Mapping[str, float]) -> str:
    """Write how much is bare with its band [%], and how large the picture says it is [mm]."""
    words = (
        f"{art.name}: {fresh['bare']:.1f} % bare "
        f"({100 * art.bare_low:.1f} to {100 * art.bare_high:.1f} %)"
    )
    if not art.own_size:
        return f"{words}."
    size = f"{fresh['board_width']:.1f} × {fresh['board_height']:.1f} mm"
    return f"{words}, of {size}: hold a ruler to it."


def _shape(art: Artwork, values: Mapping[str, Any]) -> str:
    """Doubt a picture [m] whose shape is not that of the form's board [mm]; "" where it fits."""
    height = _board_side(values, "board_height")
    if height is None or abs(art.height / height - 1) <= UNLIKE:
        return ""
    return (
        f"A picture so wide would be {art.height / mm:.1f} mm high, your board is "
        f"{height / mm:.4g} mm: is it the picture of this board?"
    )
