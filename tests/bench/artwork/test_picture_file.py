"""Picture files: what is read as it is shown, how large a pixel is, and files that are refused."""

import io
import re
import struct
import threading
import warnings
import zlib

import numpy as np
import pytest
from helpers.artworks import DPI, PIXEL, disc, page, share_of_page
from PIL import Image

from pcbchem.bench.artwork import read_artwork
from pcbchem.bench.artwork.picture_file import (
    MOST_PIXELS,
    GreyPicture,
    check_size,
    pixel_size,
    read_picture,
)

PNG_HEAD = b"\x89PNG\r\n\x1a\n"
TIFF_HEAD = b"II*\0\x08\0\0\0"


def picture_in(path):
    with open(path, "rb") as file:
        return read_picture(file)


# --- pixels --------------------------------------------------------------------------------------


def ink_on_nothing(grey):
    """Black ink on a transparent ground."""
    return Image.fromarray(np.stack([np.zeros_like(grey), 255 - grey], axis=-1), "LA")


KINDS_OF_PIXELS = {
    "deep.png": lambda: page().astype(np.uint16) * 257,
    "deep.tif": lambda: page().astype(np.uint16) * 257,
    "clear.png": lambda: ink_on_nothing(page()),
    "clear_colour.png": lambda: ink_on_nothing(page()).convert("RGBA"),
    "four_inks.tif": lambda: Image.fromarray(page()).convert("CMYK"),
}


@pytest.mark.parametrize("name", KINDS_OF_PIXELS)
def test_law_other_kinds_of_pixels_are_the_same_board(saved, name):
    path = saved(KINDS_OF_PIXELS[name](), name)
    assert read_artwork(path, dpi=DPI, black="etched").bare == share_of_page()


@pytest.mark.parametrize("name", ["deep.png", "deep.tif"])
def test_law_sixteen_bits_are_the_nearest_of_256_greys(saved, name):
    greys = np.arange(256).reshape(16, 16)
    # 65535 is white; half a step to either side is the same grey
    off = np.random.default_rng(2).integers(-128, 129, greys.shape)
    deep = np.clip(257 * greys + off, 0, 65535).astype(np.uint16)
    assert np.array_equal(picture_in(saved(deep, name)).grey, greys)


def test_law_what_is_transparent_is_white_paper_and_said(saved):
    picture = picture_in(saved(ink_on_nothing(page())))
    assert np.array_equal(picture.grey, page())
    assert any("transparent" in note for note in picture.notes)
    index = Image.fromarray(page()).convert("P")
    index.info["transparency"] = 255
    assert np.array_equal(picture_in(saved(index, transparency=255)).grey, page())


def test_law_half_transparent_ink_is_grey(saved):
    opacity = np.full((9, 9), 128, np.uint8)
    ink = Image.fromarray(np.stack([np.zeros_like(opacity), opacity], axis=-1), "LA")
    assert (picture_in(saved(ink)).grey == 255 - 128).all()


def test_law_the_share_of_colours_is_counted(saved):
    colour = np.stack([page()] * 3, axis=-1)
    colour[:26] = 0, 255, 0  # a tenth of the rows
    assert picture_in(saved(colour)).colour_share == pytest.approx(0.1, abs=0.01)
    assert picture_in(saved(page())).colour_share == 0


def test_law_pixels_that_are_no_greys_are_refused(saved, refusal):
    floats = Image.fromarray(page().astype(np.float32))
    assert "kind that is not read" in refusal(saved(floats, "float.tif"))


# What is stored, by the number of the turn, so that the page is shown
STORED = {
    1: lambda grey: grey,
    2: lambda grey: grey[:, ::-1],
    3: lambda grey: grey[::-1, ::-1],
    4: lambda grey: grey[::-1],
    5: lambda grey: grey.T,
    6: lambda grey: np.rot90(grey),
    7: lambda grey: np.rot90(grey, 2).T,
    8: lambda grey: np.rot90(grey, -1),
}


@pytest.mark.parametrize("turn", STORED)
@pytest.mark.parametrize("name", ["turned.png", "turned.tif"])
def test_law_it_is_read_as_it_is_shown(saved, turn, name):
    grey = page(300, 260, (10, 20, 90, 240))
    exif = Image.Exif()
    exif[274] = turn
    stored = Image.fromarray(np.ascontiguousarray(STORED[turn](grey)))
    picture = picture_in(saved(stored, name, dpi=None, exif=exif))
    assert np.array_equal(picture.grey, grey)
    assert any("turned or mirrored" in note for note in picture.notes) == (turn != 1)


@pytest.mark.parametrize("turn, across, down", [(3, 600, 300), (6, 300, 600)])
def test_law_a_picture_on_its_side_has_its_resolution_turned(tmp_path, turn, across, down):
    exif = Image.Exif()
    exif[274] = turn
    Image.fromarray(page()).save(tmp_path / "side.png", dpi=(600, 300), exif=exif)
    resolution = picture_in(tmp_path / "side.png").resolution
    dots = across / 0.0254, down / 0.0254
    assert resolution == pytest.approx(dots, rel=1e-3)


# --- size of a pixel -----------------------------------------------------------------------------


def test_law_the_size_of_a_pixel_is_the_file_s(saved):
    picture = picture_in(saved(page(), "art.tif"))
    assert pixel_size(picture) == pytest.approx(PIXEL)
    assert pixel_size(picture, dpi=DPI) == pytest.approx(PIXEL)
    assert picture.notes == []


def test_law_a_width_of_the_picture_gives_the_size_of_a_pixel(saved):
    picture = picture_in(saved(page(), dpi=None))
    assert pixel_size(picture, width=300 * PIXEL) == pytest.approx(PIXEL)


def test_law_a_size_that_nobody_says_is_asked_for(saved, refusal):
    path = saved(page(), dpi=None)
    assert "does not say how large it is: give its pixels per inch (dpi" in refusal(path)


@pytest.mark.parametrize("screen", [72, 96])
@pytest.mark.parametrize("name", ["art.png", "art.tif", "art.bmp"])
def test_law_the_resolution_of_a_screen_is_no_size(saved, refusal, screen, name):
    assert f"says {screen} pixels per inch" in refusal(saved(page(), name, dpi=screen))


def test_law_a_size_beside_that_of_a_screen_is_no_doubt(saved):
    doubts = read_artwork(saved(page(), dpi=96), dpi=DPI).doubts
    assert not any("inch" in doubt for doubt in doubts)


def test_law_two_statements_of_size_must_agree(saved, refusal):
    words = refusal(saved(page()), dpi=600, width=300 * PIXEL)
    assert "they must agree within 1%" in words


def test_law_a_file_that_says_another_size_is_a_doubt(saved):
    doubts = read_artwork(saved(page()), dpi=600).doubts
    assert any("The file says 1200" in doubt for doubt in doubts)


def test_law_pixels_that_are_not_square_are_refused(tmp_path, refusal):
    path = tmp_path / "uneven.png"
    Image.fromarray(page()).save(path, dpi=(1200, 600))
    assert "1200 pixels per inch across and 600 down" in refusal(path)


def test_law_a_resolution_that_no_artwork_has_is_refused(saved, refusal):
    assert "its own pixels per inch = 29.99" in refusal(saved(page(), dpi=30))


def test_law_a_note_of_size_is_written_once():
    picture = GreyPicture(page(), resolution=(600 / 0.0254, 600 / 0.0254))
    assert pixel_size(picture, dpi=300) == pytest.approx(0.0254 / 300)
    assert picture.notes == ["The file says 600 pixels per inch; it was read with 300, as given."]


# --- files that are refused ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "name, data, words",
    [
        ("empty.png", b"", "is empty"),
        ("text.png", b"copper\n" * 9, "is none of these"),
        ("head.png", PNG_HEAD, "cut short"),
        ("head.tif", b"II*\0", "damaged"),
        ("head.bmp", b"BM", "cannot be read as a BMP"),
        ("art.pdf", b"%PDF-1.7", "is a PDF"),
        ("big.tif", b"II+\0\x08\0\0\0", "large kind"),
    ],
)
def test_law_what_is_no_picture_is_refused_in_words(refusal, tmp_path, name, data, words):
    (tmp_path / name).write_bytes(data)
    assert words in refusal(tmp_path / name)


def test_law_what_smears_edges_is_refused(saved, refusal, tmp_path):
    Image.fromarray(page()).save(tmp_path / "lossy.png", "JPEG")
    assert "is a JPEG" in refusal(tmp_path / "lossy.png")
    lossy = saved(page(), "lossy.tif", compression="jpeg")
    assert "may smear edges (compression 7)" in refusal(lossy)


def test_law_several_pictures_in_a_file_are_refused(saved, refusal):
    first, second = Image.fromarray(page()), Image.fromarray(255 - page())
    several = {"save_all": True, "append_images": [second]}
    assert "several pages" in refusal(saved(first, "two.tif", **several))
    assert "animated PNG" in refusal(saved(first, "moving.png", **several))


@pytest.mark.parametrize(
    "tag, kind, count, words",
    [
        (256, 3, 2, "tag 256 holds 2 values"),
        (282, 5, 0, "tag 282 holds 0 values"),
        (282, 5, 2**29, "tag 282 does not lie inside"),
        (256, 4, 0, "tag 256 holds 0 values"),
    ],
)
def test_law_a_tag_of_a_tiff_that_cannot_be_is_named(saved, refusal, tag, kind, count, words):
    path = saved(page(), "art.tif")
    data = path.read_bytes()
    directory = struct.unpack("<I", data[4:8])[0]
    at = data.index(struct.pack("<H", tag), directory + 2)
    path.write_bytes(data[: at + 2] + struct.pack("<HI", kind, count) + data[at + 8 :])
    assert words in refusal(path)


def chunk(name, data):
    """One chunk of a PNG with its check sum."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(width, height, bits, *chunks):
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, bits, 0, 0, 0, 0))
    return PNG_HEAD + head + b"".join(chunks)


def tiff(sizes):
    """A TIFF of nothing but some whole numbers."""
    tags = b"".join(struct.pack("<HHII", tag, 4, 1, size) for tag, size in sizes.items())
    return TIFF_HEAD + struct.pack("<H", len(sizes)) + tags + bytes(4)


def bmp(width, height):
    dots = 47244  # per metre: 1200 per inch
    head = struct.pack("<IIiiHHIIiiII", 54, 40, width, height, 1, 1, 0, 0, dots, dots, 2, 0)
    return b"BM" + bytes(8) + head + bytes(8)


def old_bmp(width, height):
    return b"BM" + bytes(8) + struct.pack("<IIHHHH", 26, 12, width, height, 1, 1) + bytes(8)


HUGE = "20000 × 20000 = 400 million pixels: it must be at most 89 million"
LARGE_FILES = [
    ("huge.png", png(20_000, 20_000, 1, chunk(b"IDAT", zlib.compress(bytes(9)))), HUGE),
    ("huge.tif", tiff({256: 20_000, 257: 20_000}), HUGE),
    ("huge.bmp", bmp(20_000, 20_000), HUGE),
    ("old.bmp", old_bmp(65535, 65535), "4.29e+03 million pixels"),
    ("tile.tif", tiff({256: 99, 257: 99, 322: 2**16, 323: 2**16}), "65536 × 65536"),
]


@pytest.mark.parametrize("name, data, words", LARGE_FILES)
def test_law_hundreds_of_megapixels_are_refused_from_the_head(refusal, tmp_path, name, data, words):
    (tmp_path / name).write_bytes(data)
    assert words in refusal(tmp_path / name)


def test_law_a_text_that_unfolds_to_megabytes_is_refused(refusal, tmp_path):
    text = chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(3_000_000)))
    pixels = chunk(b"IDAT", zlib.compress(bytes(27)))
    (tmp_path / "text.png").write_bytes(png(9, 9, 1, text, pixels, chunk(b"IEND", b"")))
    assert "cannot be read as a PNG" in refusal(tmp_path / "text.png")


def test_law_no_setting_is_touched_by_four_readers_at_once(saved, refusal, tmp_path):
    before = Image.MAX_IMAGE_PIXELS, list(warnings.filters)
    path, shares = saved(page()), []
    readers = [
        threading.Thread(target=lambda: shares.append(read_artwork(path, black="kept").bare))
        for _ in range(4)
    ]
    for reader in readers:
        reader.start()
    for name, data, _ in LARGE_FILES:
        (tmp_path / name).write_bytes(data)
        refusal(tmp_path / name)
    for reader in readers:
        reader.join()
    assert len(shares) == 4 and len(set(shares)) == 1
    assert (Image.MAX_IMAGE_PIXELS, list(warnings.filters)) == before


def test_law_a_flipped_bit_of_a_png_is_never_silent(saved):
    path = saved(disc(256, 90, (120, 130)))
    whole, art = path.read_bytes(), read_artwork(path, black="kept")
    for at in np.random.default_rng(8).integers(8, len(whole), 40):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0x10]) + whole[at + 1 :])
        try:
            assert read_artwork(path, black="kept") == art
        except ValueError as error:
            assert re.search("damaged|cut short|must be at most", str(error)), error


def test_law_a_flipped_bit_among_the_pixels_breaks_the_sum(saved, refusal):
    path = saved(disc(256, 90, (120, 130)))
    whole = path.read_bytes()
    at = whole.index(b"IDAT") + 20
    path.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
    words = "cannot be read as a PNG: broken PNG file (bad header checksum in b'IDAT')"
    assert words in refusal(path)


# Kinds of files: how they are saved
FILES = {
    "png": {"mode": "L"},
    "bit.png": {"mode": "1"},
    "index.png": {"mode": "P"},
    "clear.png": {"mode": "LA"},
    "tif": {"mode": "L"},
    "lzw.tif": {"mode": "L", "compression": "tiff_lzw"},
    "fax.tif": {"mode": "1", "compression": "group4"},
    "bits.tif": {"mode": "1", "compression": "packbits"},
    "zip.tif": {"mode": "RGB", "compression": "tiff_adobe_deflate"},
    "bmp": {"mode": "L"},
    "bit.bmp": {"mode": "1"},
}
FORMATS = {"png": "PNG", "tif": "TIFF", "bmp": "BMP"}


def damaged(whole, number, random):
    """The number says how: cut, a few bytes of the head, or of the whole, changed.

    Every second PNG gets the check sum of its head put right again, so that it is read further.
    """
    data = bytearray(whole)
    way = number % 3
    if way == 0:
        del data[random.integers(len(data)) :]
    else:
        end = min(len(data), 64) if way == 1 else len(data)
        for at in random.integers(0, end, 1 + number % 4):
            data[at] = random.integers(256)
    if number % 2 and data[:4] == PNG_HEAD[:4] and len(data) > 33:
        data[29:33] = struct.pack(">I", zlib.crc32(data[12:29]))
    return bytes(data)


@pytest.mark.parametrize("kind", FILES)
def test_law_a_broken_file_is_a_message_or_a_result(kind, tmp_path):
    # 11 kinds, 30 broken files each: and no warning either
    options = dict(FILES[kind])
    picture = Image.fromarray(page(240, 230)).convert(options.pop("mode"))
    stream = io.BytesIO()
    picture.save(stream, FORMATS[kind.split(".")[-1]], dpi=(1000, 1000), **options)
    random = np.random.default_rng(len(kind))
    path = tmp_path / f"broken.{kind}"
    with warnings.catch_warnings(record=True) as leaks:
        warnings.simplefilter("always")
        for number in range(30):
            data = damaged(stream.getvalue(), number, random)
            path.write_bytes(data)
            try:
                art = read_artwork(path, black="kept")
                assert 0 <= art.bare_low <= art.bare <= art.bare_high <= 1
            except ValueError as error:
                words = str(error).removeprefix(f"broken.{kind}: ")
                assert words != str(error) and len(words) > 6
            assert path.read_bytes() == data
    assert not leaks


def test_law_a_file_is_only_read(saved):
    path = saved(page())
    before = path.read_bytes(), path.stat().st_mtime_ns
    read_artwork(path)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_law_the_largest_picture_is_read_and_no_larger():
    check_size(MOST_PIXELS // 1000, 1000)
    with pytest.raises(ValueError, match="million pixels: it must be at most 89 million"):
        check_size(MOST_PIXELS // 1000, 1001)


def test_law_tiff_values_that_overlap_do_not_unfold():
    # three tags of 40 bytes each, all of them the same 40 of a file of 50
    entries = b"".join(struct.pack("<HHII", tag, 1, 40, 0) for tag in (700, 701, 702))
    file = io.BytesIO(TIFF_HEAD + struct.pack("<H", 3) + entries + bytes(4))
    with pytest.raises(ValueError, match="TIFF tag 701 does not lie inside the file"):
        read_picture(file)
