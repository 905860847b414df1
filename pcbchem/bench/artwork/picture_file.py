"""A black-and-white picture file, read with care: its head first, then its pixels as grey values.

PNG, TIFF (one page) and BMP. What the file says of itself is checked before a pixel is decoded, so
that a file that is cut short, damaged or far too large is refused in words. The file is only read.
A PNG proves its pixels by check sums; a TIFF or BMP has none, and may be damaged inside without a
sign. How large a pixel is comes from the file too, unless somebody knows better.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, BinaryIO, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...common.extras import extra
from ...common.limits import check_number

MOST_PIXELS = 89_000_000
"""Largest picture read [pixels]: 200 × 210 mm at 1200 pixels per inch."""
INCH = 0.0254
"""An inch [m], by definition."""
DPI = (50.0, 25_400.0)
"""Pixels per inch of an artwork [1/inch]."""
SCREENS = (72.0, 96.0)
"""Pixels per inch that programs write when they know nothing of paper [1/inch]."""
UNEVEN = 0.005
"""Pixels may be so far from square [-]; so near to a screen's, a resolution is the screen's."""
OFF = 0.01
"""Two statements of size may be so far apart [-]."""
STRIP = 1 << 20
"""Pixels that are decoded to grey at a time [pixels]."""
COLOURED = 64
"""Channels further apart than this are a colour [of 255]."""
SAMPLE_STEP = 3
"""One pixel in so many, each way, is looked at for colours [pixels]: enough for a share."""

# How a file begins that is read here, and one that people take for such a file
KINDS = {b"\x89PNG\r\n\x1a\n": "PNG", b"II*\0": "TIFF", b"MM\0*": "TIFF", b"BM": "BMP"}
OTHER_KINDS = {
    b"\xff\xd8\xff": "a JPEG, which smears edges",
    b"%PDF": "a PDF, not a picture of pixels",
    b"GIF8": "a GIF",
    b"II+\0": "a TIFF of the large kind",
    b"MM\0+": "a TIFF of the large kind",
    b"RIFF": "no picture known here",
}
BROKEN = "is damaged or cut short, and cannot be read as a"

# Numbers of the TIFF format: its tags, the packings that keep every pixel, and the bytes of a
# value by its type
WIDTH, HEIGHT, COMPRESSION, TILE_WIDTH, TILE_HEIGHT = 256, 257, 259, 322, 323
ORIENTATION, EXIF, POSITION, INTEROPERABILITY = 274, 34665, 34853, 40965
# none, three kinds of fax, LZW, Deflate by both of its numbers, and PackBits
LOSSLESS = {1, 2, 3, 4, 5, 8, 32773, 32946}
BYTE, TEXT, SHORT, LONG, UNDEFINED, DIRECTORY = 1, 2, 3, 4, 7, 13
TYPE_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4}
WHOLE_NUMBERS = {BYTE: "B", SHORT: "H", LONG: "I", DIRECTORY: "I"}
ENTRY = 12
"""Bytes of an entry of a TIFF directory: tag, type, count, and the value or where it stands."""

# What the tag of the orientation may say: turned or mirrored, and of those with rows as columns
UPRIGHT = 1
TURNED = range(2, 9)
ON_ITS_SIDE = range(5, 9)


@dataclass
class GreyPicture:
    """A picture as it is shown.

    `grey` from 0 black to 255 white, rows by columns; `resolution` across and down [1/m] where the
    file gives it; `colour_share`, that of coloured pixels [-]; and `notes`, sentences on how it
    was read.
    """

    grey: NDArray[np.uint8]
    resolution: tuple[float, float] | None
    colour_share: float = 0.0
    notes: list[str] = field(default_factory=list)


class Tag(NamedTuple):
    """A tag of a TIFF directory: the type of its values, their first bytes, and the byte order."""

    type: int
    data: bytes
    order: str


Tags = dict[int, Tag]


def read_picture(file: BinaryIO) -> GreyPicture:
    """Read a picture from an open file.

    Parameters
    ----------
    file : binary file
        Opened for reading; it is left open.

    Returns
    -------
    GreyPicture
        Grey values, turned as the file asks, pixels per metre [1/m] where the file gives them, and
        the share of coloured pixels [-].

    Raises
    ------
    ValueError
        Not a PNG, TIFF or BMP, damaged or cut short, too large, animated, or of several pages.

    Examples
    --------
    >>> from PIL import Image
    >>> file = io.BytesIO()
    >>> Image.new("1", (30, 20), 1).save(file, "PNG", dpi=(600, 600))
    >>> picture = read_picture(file)
    >>> print(picture.grey.shape, f"{picture.resolution[0] * INCH:.0f}")
    (20, 30) 600
    """
    file.seek(0)
    start = file.read(8)
    kind = _kind(start, KINDS)
    if kind is None:
        other_kind = _kind(start, OTHER_KINDS) or "none of these"
        if not start:
            other_kind = "empty"
        raise ValueError(f"is {other_kind}: it must be a PNG, a TIFF or a BMP")
    try:
        if kind == "TIFF":
            _check_tiff(file)
        return _decode(file, kind)
    except (struct.error, OSError) as error:
        raise ValueError(f"{BROKEN} {kind}: {error}") from None


def pixel_size(picture: GreyPicture, dpi: float | None = None, width: float | None = None) -> float:
    """Return the size of a pixel, from what is given, else from the file.

    Where the file says another size than what is given, a note of the picture says so.

    Parameters
    ----------
    picture : GreyPicture
        The picture.
    dpi : float, optional
        Pixels per inch [1/inch].
    width : float, optional
        Width of the whole picture [m].

    Returns
    -------
    float
        Side of a pixel [m].

    Raises
    ------
    ValueError
        The file does not say how large it is, or says what cannot be: names what to give. Or `dpi`
        and `width` do not agree.

    Examples
    --------
    >>> picture = GreyPicture(np.zeros((20, 30), np.uint8), resolution=None)
    >>> print(f"{pixel_size(picture, dpi=254):.4f}")
    0.0001
    """
    across = picture.grey.shape[1]
    if dpi is not None and width is not None and abs(across * INCH / dpi / width - 1) > OFF:
        raise ValueError(
            f"by {dpi:g} pixels per inch the picture is {across * INCH / dpi * 1000:.4g} mm wide, "
            f"and given as {width * 1000:.4g} mm: they must agree within {OFF:.0%}"
        )
    if dpi is not None:
        pixel = INCH / dpi
    elif width is not None:
        pixel = width / across
    else:
        return _pixel_size_of_file(picture.resolution)

    if picture.resolution is not None:
        dpi_of_file = picture.resolution[0] * INCH
        agrees = abs(dpi_of_file * pixel / INCH - 1) <= OFF
        if not agrees and not _is_of_screen(dpi_of_file):
            picture.notes.append(
                f"The file says {dpi_of_file:.4g} pixels per inch; it was read with "
                f"{INCH / pixel:.4g}, as given."
            )
    return pixel


def _pixel_size_of_file(resolution: tuple[float, float] | None) -> float:
    """Return the size of a pixel [m] by the resolution of the file [1/m], or ask for it."""
    ask = (
        f"give its pixels per inch (dpi, {DPI[0]:g} to {DPI[1]:g}), or how wide the whole picture "
        "is (width)"
    )
    if resolution is None:
        raise ValueError(f"does not say how large it is: {ask}")
    across, down = resolution
    dpi = across * INCH
    if abs(across / down - 1) > UNEVEN:
        raise ValueError(
            f"has {dpi:.4g} pixels per inch across and {down * INCH:.4g} down: they must be equal "
            f"within {UNEVEN:.1%}, or {ask}"
        )
    if _is_of_screen(dpi):
        raise ValueError(
            f"says {dpi:.0f} pixels per inch, which programs write for a screen when they know no "
            f"size: {ask}"
        )
    return INCH / check_number("its own pixels per inch", dpi, *DPI, "pixels per inch")


def _is_of_screen(dpi: float) -> bool:
    """Return whether a resolution [1/inch] is one that means nothing on paper."""
    return any(abs(dpi / screen - 1) < UNEVEN for screen in SCREENS)


def _kind(start: bytes, kinds: Mapping[bytes, str]) -> str | None:
    """Return the kind of file that begins so, if it is one of these."""
    for beginning, kind in kinds.items():
        if start.startswith(beginning):
            return kind
    return None


def _decode(file: BinaryIO, kind: str) -> GreyPicture:
    """Return a file as grey values, turned as it asks to be shown."""
    # Imported here and below, where it is used: most who import the package read no picture
    with extra("pages"):
        from PIL import ImageOps

    if kind == "PNG":
        # Every check sum first: to verify a picture spoils it, so it is opened again below
        _with_pillow(kind, _open(file, kind).verify)
    picture = _open(file, kind)
    orientation = _with_pillow(kind, picture.getexif).get(ORIENTATION, UPRIGHT)
    _with_pillow(kind, picture.load)

    resolution = None
    across, down = picture.info.get("dpi", (0.0, 0.0))
    if across > 0 and down > 0:
        resolution = float(across) / INCH, float(down) / INCH
        if orientation in ON_ITS_SIDE:
            resolution = resolution[::-1]  # across becomes down
    if kind != "TIFF":  # Pillow turns a TIFF itself
        _with_pillow(kind, ImageOps.exif_transpose, picture, in_place=True)

    grey, colour_share, transparent = _grey_values(picture)
    result = GreyPicture(grey, resolution, colour_share)
    if orientation in TURNED:
        result.notes.append("The file asks to be shown turned or mirrored: it was read as shown.")
    if transparent:
        result.notes.append("Parts of the picture are transparent: they were read as white paper.")
    return result


def _open(file: BinaryIO, kind: str) -> Any:
    """Open a picture with Pillow: its head alone, no pixel before its size is checked.

    It goes to the decoder of its kind directly, so that no setting of Pillow is changed or obeyed.
    """
    with extra("pages"):
        from PIL import BmpImagePlugin, PngImagePlugin, TiffImagePlugin

    decoders: dict[str, Any] = {
        "PNG": PngImagePlugin.PngImageFile,
        "TIFF": TiffImagePlugin.TiffImageFile,
        "BMP": BmpImagePlugin.BmpImageFile,
    }
    file.seek(0)
    picture = _with_pillow(kind, decoders[kind], file)
    if kind != "TIFF":  # its size was checked in its directory
        check_size(*picture.size)
    if getattr(picture, "is_animated", False):
        raise ValueError("is an animated PNG: it must be one picture")
    return picture


def _with_pillow(kind: str, work: Callable[..., Any], *arguments: Any, **options: Any) -> Any:
    """Return what Pillow gives; whatever it trips over in a broken file becomes one message."""
    try:
        return work(*arguments, **options)
    except Exception as error:
        words = str(error) or type(error).__name__
        raise ValueError(f"{BROKEN} {kind}: {words}") from None


def _grey_values(picture: Any) -> tuple[NDArray[np.uint8], float, bool]:
    """Return grey values, the share of coloured pixels [-], and whether any is transparent.

    In strips: a whole large picture in colour would take several times the memory.
    """
    width, height = picture.size
    grey = np.empty((height, width), np.uint8)
    has_opacity = picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info
    colour_count = sample_size = 0
    transparent = False
    rows = max(1, STRIP // width)
    for top in range(0, height, rows):
        strip = picture.crop((0, top, width, min(top + rows, height)))
        if has_opacity:
            strip = strip.convert("RGBA")
        elif strip.mode in ("P", "PA", "CMYK"):  # numbers of a palette, or inks, are no brightness
            strip = strip.convert("RGB")
        values = _grey_of_strip(strip)
        if strip.mode in ("RGB", "RGBA"):
            # Red, green and blue are equal in a grey; a scan makes them differ a little
            sample = np.asarray(strip)[::SAMPLE_STEP, ::SAMPLE_STEP, :3].astype(np.int16)
            colour_count += int(np.count_nonzero(np.ptp(sample, axis=2) > COLOURED))
            sample_size += sample.shape[0] * sample.shape[1]
        if has_opacity:
            opacity = np.asarray(strip.getchannel("A")).astype(np.uint16)
            transparent = transparent or bool(opacity.min() < 255)
            values = _on_white_paper(values, opacity)
        grey[top : top + rows] = values
    return grey, colour_count / max(sample_size, 1), transparent


def _grey_of_strip(strip: Any) -> NDArray[Any]:
    """Return grey values [0 to 255] of a strip, or refuse pixels that are no greys or colours."""
    if strip.mode == "L":
        return np.asarray(strip)
    if strip.mode == "RGBA":
        return np.asarray(strip.convert("RGB").convert("L"))
    if strip.mode in ("1", "RGB"):
        return np.asarray(strip.convert("L"))
    if strip.mode.startswith("I"):  # 16 bits a pixel
        deep = np.asarray(strip)
        # Some files hold 32 bits, of which nobody can say what is white
        if deep.min() >= 0 and deep.max() <= 65535:
            return (deep.astype(np.uint32) + 128) // 257  # 65535 is 257 * 255; rounded
    raise ValueError(
        f"holds pixels of a kind that is not read here ({strip.mode}): save it as 8-bit grey"
    )


def _on_white_paper(grey: NDArray[Any], opacity: NDArray[Any]) -> NDArray[np.uint8]:
    """Return the grey values [0 to 255] of ink of some opacity [0 to 255] on white paper."""
    # In 32 bits, for the product is larger than a byte holds; + 127 rounds
    ink = 255 - grey.astype(np.uint32)
    return np.asarray(255 - (ink * opacity + 127) // 255, np.uint8)


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
            f"is {width} × {height} = {width * height / 1e6:.3g} million pixels: it must be at "
            f"most {MOST_PIXELS / 1e6:g} million; cut it to the board, or save it with fewer "
            "pixels per inch"
        )


def _check_tiff(file: BinaryIO) -> None:
    """Refuse a TIFF whose directory is not sound.

    Pillow would read on with warnings, and a filter for those is one of the process: not ours to
    change, nor safe beside other threads.
    """
    file.seek(0)
    head = file.read(8)
    # Its numbers have their lowest byte first (II, "<") or last (MM, ">")
    order = {b"II": "<", b"MM": ">"}.get(head[:2], "")
    if not order or len(head) < 8:
        raise ValueError("is damaged: the head of its TIFF directory is not one")
    tags, next_page = _directory(file, order, struct.unpack(order + "I", head[4:])[0], None)
    if next_page:
        raise ValueError("holds several pages or layers: save the one you etch by itself")

    check_size(_whole_number(tags, WIDTH, 0), _whole_number(tags, HEIGHT, 0))
    # A tile is decoded whole, and may be larger than the picture; a size of 0 is no tile
    tile_width = max(1, _whole_number(tags, TILE_WIDTH, 1))
    check_size(tile_width, max(1, _whole_number(tags, TILE_HEIGHT, 1)))
    compression = _whole_number(tags, COMPRESSION, 1)
    if compression not in LOSSLESS:
        raise ValueError(
            f"is a TIFF packed in a way that may smear edges (compression {compression}): save it "
            "as LZW"
        )

    # Directories that a camera adds: Pillow reads them too
    for pointer in (EXIF, POSITION):
        if pointer in tags:
            inner, _ = _directory(file, order, _whole_number(tags, pointer, 0), pointer)
            if INTEROPERABILITY in inner:
                offset = _whole_number(inner, INTEROPERABILITY, 0)
                _directory(file, order, offset, INTEROPERABILITY)


def _directory(file: BinaryIO, order: str, offset: int, group: int | None) -> tuple[Tags, int]:
    """Return the tags of one directory of a TIFF, and where the next directory stands; 0: nowhere.

    Each tag is proved to lie inside the file, and to hold as many values as its kind allows.
    """
    end = file.seek(0, io.SEEK_END)
    file.seek(offset)
    head = file.read(2)
    number = 0
    if len(head) == 2:
        number = struct.unpack(order + "H", head)[0]
    entries = file.read(ENTRY * number)
    next_directory = file.read(4)
    if not number or len(next_directory) < 4:
        raise ValueError("is damaged or cut short: its TIFF directory does not lie inside the file")

    tags: Tags = {}
    total = 0  # bytes of all values: overlapping ones could unfold to far more than the file
    for start in range(0, len(entries), ENTRY):
        tag, kind, count = struct.unpack(order + "HHI", entries[start : start + 8])
        size = TYPE_SIZES.get(kind, 0) * count
        # Values of up to four bytes stand in the entry itself, longer ones elsewhere in the file
        if size <= 4:
            data = entries[start + 8 : start + 8 + size]
        else:
            total += size
            at = struct.unpack(order + "I", entries[start + 8 : start + 12])[0]
            if at + size > end or total > end:
                raise ValueError(
                    f"is damaged or cut short: its TIFF tag {tag} does not lie inside the file"
                )
            file.seek(at)
            data = file.read(min(size, 64))  # only single numbers are read from it
        if count != 1 and kind not in (BYTE, TEXT, UNDEFINED) and _holds_one(tag, group):
            raise ValueError(f"is damaged: its TIFF tag {tag} holds {count} values, it must hold 1")
        tags.setdefault(tag, Tag(kind, data, order))
    return tags, struct.unpack(order + "I", next_directory)[0]


def _holds_one(tag: int, group: int | None) -> bool:
    """Return whether a tag of a directory holds a single value, as Pillow knows it."""
    with extra("pages"):
        from PIL import TiffTags

    return bool(TiffTags.lookup(tag, group).length == 1)


def _whole_number(tags: Tags, number: int, missing: int) -> int:
    """Return a whole number of a directory; `missing` where it has none under that tag."""
    tag = tags.get(number)
    if tag is None or tag.type not in WHOLE_NUMBERS or not tag.data:
        return missing
    size = TYPE_SIZES[tag.type]
    return int(struct.unpack(tag.order + WHOLE_NUMBERS[tag.type], tag.data[:size])[0])
