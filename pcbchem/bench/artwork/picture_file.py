"""A black-and-white picture file, read with care: its header first, then its pixels as grey values in strips.

PNG, TIFF (one page) and BMP. What the file says of itself is checked before a pixel is decoded, so that a file
that is cut short, damaged or far too large is refused in words. The file is only read. A PNG proves its pixels by
check sums; a TIFF or BMP has none, and may be damaged inside without a sign.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any, BinaryIO

import numpy as np
from numpy.typing import NDArray

MOST_PIXELS = 89_000_000
"""Largest picture read [pixels]: 200 × 210 mm at 1200 pixels per inch."""
INCH = 0.0254  # m, by definition
STRIP = 1 << 20  # pixels decoded to grey at a time
COLOURED = 64  # of 255: channels further apart than this are a colour
KINDS = {b"\x89PNG\r\n\x1a\n": "PNG", b"II*\0": "TIFF", b"MM\0*": "TIFF", b"BM": "BMP"}
KNOWN = {
    b"\xff\xd8\xff": "a JPEG, which smears edges",
    b"%PDF": "a PDF, not a picture of pixels",
    b"GIF8": "a GIF",
    b"II+\0": "a TIFF of the large kind",
    b"MM\0+": "a TIFF of the large kind",
    b"RIFF": "no picture known here",
}
BROKEN = "is damaged or cut short, and cannot be read as a"
LOSSLESS = {1, 2, 3, 4, 5, 8, 32773, 32946}  # TIFF compressions that keep every pixel
SIZES = {
    1: 1,
    2: 1,
    3: 2,
    4: 4,
    5: 8,
    6: 1,
    7: 1,
    8: 2,
    9: 4,
    10: 8,
    11: 4,
    12: 8,
    13: 4,
}  # bytes by TIFF type


@dataclass
class Sheet:
    """A picture as it is seen: grey from 0 black to 255 white, pixels per metre across and down, and what was said."""

    grey: NDArray[np.uint8]
    resolution: tuple[float, float] | None
    coloured: float = 0.0
    said: list[str] = field(default_factory=list)


def read_sheet(file: BinaryIO) -> Sheet:
    """Read a picture from an open file.

    Parameters
    ----------
    file : binary file
        Opened for reading; it is left open.

    Returns
    -------
    Sheet
        Grey values, turned as the file asks, pixels per metre [1/m] where the file gives them, and the share of
        coloured pixels [-].

    Raises
    ------
    ValueError
        Not a PNG, TIFF or BMP, damaged or cut short, too large, animated, or of several pages.

    Examples
    --------
    >>> from PIL import Image
    >>> saved = io.BytesIO()
    >>> Image.new("1", (30, 20), 1).save(saved, "PNG", dpi=(600, 600))
    >>> sheet = read_sheet(saved)
    >>> print(sheet.grey.shape, f"{sheet.resolution[0] * INCH:.0f}")
    (20, 30) 600
    """
    file.seek(0)
    start = file.read(8)
    kind = next((KINDS[key] for key in KINDS if start.startswith(key)), None)
    if kind is None:
        found = next(
            (KNOWN[key] for key in KNOWN if start.startswith(key)),
            "none of these" if start else "empty",
        )
        raise ValueError(f"is {found}: it must be a PNG, a TIFF or a BMP")
    try:
        if kind == "TIFF":
            _check_tiff(file)
        return _decoded(file, kind)
    except ValueError:
        raise
    except (struct.error, OSError) as wrong:
        raise ValueError(f"{BROKEN} {kind}: {wrong}") from None


def _decoded(file: BinaryIO, kind: str) -> Sheet:
    """Grey values by the decoder of this kind alone: no setting of Pillow is changed."""
    from PIL import BmpImagePlugin, ImageOps, PngImagePlugin, TiffImagePlugin

    decoder: Any = {
        "PNG": PngImagePlugin.PngImageFile,
        "TIFF": TiffImagePlugin.TiffImageFile,
        "BMP": BmpImagePlugin.BmpImageFile,
    }[kind]
    for work in ("verify", "load") if kind == "PNG" else ("load",):  # first every check sum
        file.seek(0)
        picture = _tried(
            kind, decoder, file
        )  # the head alone; no pixel is decoded before its size is checked
        if kind != "TIFF":
            check_size(*picture.size)
        if getattr(picture, "is_animated", False):
            raise ValueError("is an animated PNG: it must be one picture")
        turn = _tried(kind, picture.getexif).get(274, 1) if work == "load" else 1
        _tried(kind, getattr(picture, work))
    dpi = picture.info.get("dpi", (0.0, 0.0))
    resolution = (
        (float(dpi[0]) / INCH, float(dpi[1]) / INCH) if all(dots > 0 for dots in dpi) else None
    )
    if resolution and turn in (5, 6, 7, 8):
        resolution = resolution[::-1]
    if kind != "TIFF":  # Pillow turns a TIFF itself
        _tried(kind, partial(ImageOps.exif_transpose, in_place=True), picture)
    sheet = Sheet(np.empty(picture.size[::-1], np.uint8), resolution)
    if turn in range(2, 9):
        sheet.said.append("The file asks to be shown turned or mirrored: it was read as shown.")
    see_through = picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info
    height, width = sheet.grey.shape
    rows, coloured, seen, clear = max(1, STRIP // width), 0, 0, False
    for top in range(0, height, rows):
        strip = picture.crop((0, top, width, min(top + rows, height)))
        if strip.mode in ("P", "PA", "CMYK") or see_through:
            strip = strip.convert("RGBA" if see_through else "RGB")
        grey = _grey_of(strip)
        if strip.mode in ("RGB", "RGBA"):
            few = np.asarray(strip)[::3, ::3, :3].astype(np.int16)
            coloured += int(np.count_nonzero(np.ptp(few, axis=2) > COLOURED))
            seen += few.shape[0] * few.shape[1]
        if see_through:
            cover = np.asarray(strip.getchannel("A")).astype(np.uint16)
            clear = clear or bool(cover.min() < 255)
            grey = (255 - ((255 - grey.astype(np.uint32)) * cover + 127) // 255).astype(np.uint8)
        sheet.grey[top : top + rows] = grey
    sheet.coloured = coloured / max(seen, 1)
    if clear:
        sheet.said.append("Parts of the picture are transparent: they were read as white paper.")
    return sheet


def _tried(kind: str, work: Callable[..., Any], *given: Any) -> Any:
    """What Pillow gives; whatever it trips over in a broken file is one message."""
    try:
        return work(*given)
    except Exception as wrong:
        raise ValueError(f"{BROKEN} {kind}: {str(wrong) or type(wrong).__name__}") from None


def _grey_of(strip: Any) -> NDArray[Any]:
    """Grey values 0 to 255 of a strip, or ValueError for pixels that are no greys or colours."""
    if strip.mode == "L":
        return np.asarray(strip)
    if strip.mode in ("1", "RGB", "RGBA"):
        return np.asarray(
            strip.convert("RGB").convert("L") if strip.mode == "RGBA" else strip.convert("L")
        )
    if strip.mode.startswith("I"):
        deep = np.asarray(strip)
        if deep.min() >= 0 and deep.max() <= 65535:
            return (deep.astype(np.uint32) + 128) // 257
    raise ValueError(
        f"holds pixels of a kind that is not read here ({strip.mode}): save it as 8-bit grey"
    )


def check_size(width: int, height: int) -> None:
    """Refuse a picture that has no pixels or too many.

    Parameters
    ----------
    width, height : int
        Size [pixels].

    Raises
    ------
    ValueError
        Names both, and the limit.

    Examples
    --------
    >>> check_size(9449, 7087)
    """
    if width < 1 or height < 1:
        raise ValueError(
            f"is damaged: it says it is {width} × {height} pixels, it must be 1 × 1 at least"
        )
    if width * height > MOST_PIXELS:
        raise ValueError(
            f"is {width} × {height} = {width * height / 1e6:.3g} million pixels: it must be at most "
            f"{MOST_PIXELS / 1e6:g} million; cut it to the board, or save it with fewer pixels per inch"
        )


def _check_tiff(file: BinaryIO) -> None:
    """Refuse a TIFF whose directory is not sound.

    Pillow would read on with warnings, and a filter for those is one of the process: not ours to change, nor safe
    beside other threads.
    """
    tags, order, following = _tags(file)
    if following:
        raise ValueError("holds several pages or layers: save the one you etch by itself")
    width, height, packing = _one(tags, 256, 0), _one(tags, 257, 0), _one(tags, 259, 1)
    check_size(width, height)
    check_size(max(1, _one(tags, 322, 1)), max(1, _one(tags, 323, 1)))  # tiles
    if packing not in LOSSLESS:
        raise ValueError(
            f"is a TIFF packed in a way that may smear edges (compression {packing}): save it as LZW"
        )
    for pointer in (34665, 34853):  # what a camera adds; Pillow reads it too
        if pointer in tags:
            inner = _directory(file, order, _one(tags, pointer, 0), pointer)[0]
            if 40965 in inner:
                _directory(file, order, _one(inner, 40965, 0), 40965)


def _tags(file: BinaryIO) -> tuple[dict[int, tuple[int, bytes, str]], str, int]:
    """Tags of the first directory of a TIFF (or of EXIF), its byte order, and where the next one stands."""
    file.seek(0)
    head = file.read(8)
    order = {b"II": "<", b"MM": ">"}.get(head[:2], "")
    if not order or len(head) < 8:
        raise ValueError("is damaged: the head of its TIFF directory is not one")
    tags, following = _directory(file, order, struct.unpack(order + "I", head[4:])[0], None)
    return tags, order, following


def _directory(
    file: BinaryIO, order: str, where: int, group: int | None
) -> tuple[dict[int, tuple[int, bytes, str]], int]:
    """The tags of one directory, each proved to lie inside the file and to be as long as its kind allows."""
    from PIL import TiffTags

    tags: dict[int, tuple[int, bytes, str]] = {}
    end, total = file.seek(0, io.SEEK_END), 0
    file.seek(where)
    count = file.read(2)
    number = struct.unpack(order + "H", count)[0] if len(count) == 2 else 0
    entries = file.read(12 * number)
    following = file.read(4)
    if not number or len(following) < 4:
        raise ValueError("is damaged or cut short: its TIFF directory does not lie inside the file")
    for start in range(0, len(entries), 12):
        tag, kind, many = struct.unpack(order + "HHI", entries[start : start + 8])
        size = SIZES.get(kind, 0) * many
        data, total = (
            entries[start + 8 : start + 8 + min(size, 4)],
            total + (size if size > 4 else 0),
        )
        if size > 4:
            at = struct.unpack(order + "I", entries[start + 8 : start + 12])[0]
            if at + size > end or total > end:
                raise ValueError(
                    f"is damaged or cut short: its TIFF tag {tag} does not lie inside the file"
                )
            file.seek(at)
            data = file.read(min(size, 64))
        if many != 1 and kind not in (1, 2, 7) and TiffTags.lookup(tag, group).length == 1:
            raise ValueError(f"is damaged: its TIFF tag {tag} holds {many} values, it must hold 1")
        tags.setdefault(tag, (kind, data, order))
    return tags, struct.unpack(order + "I", following)[0]


def _one(tags: dict[int, tuple[int, bytes, str]], tag: int, missing: int) -> int:
    """A whole number of a directory."""
    kind, data, order = tags.get(tag, (0, b"", ""))
    code = {1: "B", 3: "H", 4: "I", 13: "I"}.get(kind)
    return int(struct.unpack(order + code, data[: SIZES[kind]])[0]) if code and data else missing
