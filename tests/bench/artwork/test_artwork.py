"""The bare copper of an artwork: areas by geometry, sizes by what the file says, a message for what is no artwork.

Validation: areas drawn with a known size. Law: negatives, scales, shifts; what is wrong is said, never guessed.
"""

import io
import re
import struct
import threading
import warnings
import zlib

import numpy as np
import pytest
from PIL import Image

from pcbchem import Foil
from pcbchem.bench.artwork import artwork
from pcbchem.bench.artwork import picture_file
from pcbchem.bench.artwork.artwork import read_artwork

DPI = 1200
PIXEL = 0.0254 / DPI
OUNCE = 0.028349523125 / 0.3048**2  # kg/m², both units by definition


def page(width=300, height=260, box=(60, 50, 200, 150)):
    """White paper with one black rectangle."""
    grey = np.full((height, width), 255, np.uint8)
    grey[box[1] : box[3], box[0] : box[2]] = 0
    return grey


def disc(size, radius, centre):
    """A black disc, grey along its edge as each pixel is covered."""
    x, y = np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5)
    cover = np.clip(0.5 - (np.hypot(x - centre[0], y - centre[1]) - radius), 0, 1)
    return np.round(255 * (1 - cover)).astype(np.uint8)


@pytest.fixture
def saved(tmp_path):
    """Save grey values or a picture as a file, and say where."""

    def save(grey, name="art.png", dpi=DPI, **kwargs):
        picture = grey if isinstance(grey, Image.Image) else Image.fromarray(grey)
        picture.save(tmp_path / name, **({} if dpi is None else {"dpi": (dpi, dpi)}), **kwargs)
        return tmp_path / name

    return save


def refusal(path, **given):
    """The message of a file that is refused; it begins with the file's name."""
    with pytest.raises(ValueError) as caught:
        read_artwork(path, **given)
    said = str(caught.value)
    assert said.startswith(f"{path.name}: ") and caught.value.__cause__ is None, said
    return said.removeprefix(f"{path.name}: ")


# --- validation: area and copper ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["art.png", "art.tif", "art.bmp"])
@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB"])
def test_validation_a_rectangle_has_its_area_in_every_file(saved, name, mode):
    art = read_artwork(saved(Image.fromarray(page()).convert(mode), name), black="etched")
    assert art.pixel == pytest.approx(PIXEL, rel=2e-4)  # PNG and BMP store whole pixels per metre
    assert art.bare == 140 * 100 / (300 * 260)
    assert art.area == pytest.approx(140 * 100 * PIXEL**2, rel=4e-4)
    assert art.board_area == pytest.approx(300 * 260 * PIXEL**2, rel=4e-4)
    assert art.copper_mass() == pytest.approx(OUNCE * art.area, rel=1e-12)
    assert float(art.board(Foil.ounces(2)).copper) == pytest.approx(2 * OUNCE * art.area / 63.546e-3, rel=1e-5)
    board = art.board(Foil.ounces(2))
    assert (board.width, board.height, board.bare) == (art.width, art.height, art.bare)
    assert float(board.area) == pytest.approx(art.area, rel=1e-12)


def test_validation_an_ounce_on_a_square_metre_is_305_grams(saved):
    art = read_artwork(saved(page(256, 256, (0, 0, 128, 256))), width=0.2, black="kept")
    assert art.area == pytest.approx(0.02) and art.copper_mass() == pytest.approx(
        0.02 * 0.30515, rel=1e-5
    )


@pytest.mark.parametrize("radius", [30.0, 70.3, 101.7])
def test_validation_a_disc_has_the_area_of_a_circle(saved, radius):
    art = read_artwork(saved(disc(256, radius, (127.3, 128.9))), dpi=DPI, black="etched")
    assert art.area == pytest.approx(np.pi * (radius * PIXEL) ** 2, rel=3e-4)
    assert art.edge == pytest.approx(2 * np.pi * radius * PIXEL, rel=0.08)
    sharp = np.where(disc(256, radius, (127.3, 128.9)) < 128, 0, 255).astype(np.uint8)
    art = read_artwork(saved(sharp), dpi=DPI, black="etched")
    assert art.bare_low < np.pi * radius**2 / 256**2 < art.bare_high
    half = 0.5 * 2 * np.pi * radius / 256**2
    assert (art.bare_high - art.bare_low) / 2 == pytest.approx(half, rel=0.09)


def test_validation_a_scan_with_grey_paper_and_noise_has_its_area(saved):
    scan = np.where(page() < 128, 60, 220) + np.random.default_rng(1).normal(0, 8, (260, 300))
    art = read_artwork(saved(np.clip(scan, 0, 255).astype(np.uint8)), black="etched")
    assert art.bare == pytest.approx(140 * 100 / (300 * 260), rel=1e-4)


def test_validation_trace_and_gap_with_their_places(saved):
    grey = np.full((300, 400), 255, np.uint8)
    grey[40:260, 50:59] = grey[40:260, 66:80] = grey[100:200, 150:350] = 0
    art = read_artwork(saved(grey), black="kept")
    assert art.trace.width == pytest.approx(9 * PIXEL, rel=1e-3) and art.gap.width == pytest.approx(
        7 * PIXEL, rel=1e-3
    )
    assert art.trace.x == pytest.approx(54.5 * PIXEL, rel=1e-3) and art.gap.x == pytest.approx(
        62.5 * PIXEL, rel=1e-3
    )
    assert 40 * PIXEL < art.gap.y < 260 * PIXEL and art.trace.doubt == pytest.approx(
        PIXEL, rel=1e-3
    )
    inner = read_artwork(
        saved(grey), black="kept", outline=(40 * PIXEL, 20 * PIXEL, 300 * PIXEL, 260 * PIXEL)
    )
    assert inner.gap.x == pytest.approx(
        art.gap.x, rel=1e-6
    )  # from the corner of the picture, not of the board


# --- law: negatives, scale, shift -----------------------------------------------------------------------------------


def test_law_the_negative_is_the_complement(saved):
    grey = np.minimum(disc(300, 60, (100.2, 99.1)), disc(300, 63, (229.9, 120.4)))
    grey[220:228, 20:280] = 0
    first, other = (
        read_artwork(saved(grey), black="kept"),
        read_artwork(saved(255 - grey, "negative.png"), black="kept"),
    )
    assert first.bare + other.bare == pytest.approx(1, abs=1e-12)
    assert (first.bare_low, first.bare_high) == pytest.approx(
        (1 - other.bare_high, 1 - other.bare_low), abs=1e-12
    )
    assert (first.trace, first.gap) == (other.gap, other.trace) and first.trace and first.gap
    same = read_artwork(saved(grey), black="etched")
    assert (same.trace, same.gap) == (first.gap, first.trace) and same.bare == pytest.approx(
        other.bare, abs=1e-12
    )


def test_law_twice_the_resolution_is_half_the_size_and_a_shift_is_none(saved):
    grey = page()
    grey[210:218, 20:280] = 0
    path = saved(grey)
    whole, half = (
        read_artwork(path, dpi=600, black="kept"),
        read_artwork(path, dpi=1200, black="kept"),
    )
    assert half.bare == whole.bare and half.area == pytest.approx(whole.area / 4)
    assert half.trace.width == pytest.approx(whole.trace.width / 2)
    moved = read_artwork(saved(np.roll(grey, (7, 3), (0, 1))), dpi=1200, black="kept")
    assert moved.bare == half.bare and moved.trace.width == pytest.approx(half.trace.width)


# --- law: how large it is -------------------------------------------------------------------------------------------


def test_law_size_is_read_given_or_asked_for(saved):
    assert read_artwork(saved(page()), black="kept", outline=(0, 0, 0.006, 0.0055)).doubts == (
        artwork.ONE_SIDE,
    )
    assert read_artwork(saved(page(), dpi=None), width=300 * PIXEL).pixel == pytest.approx(PIXEL)
    assert "does not say how large it is: give dpi" in refusal(saved(page(), dpi=None))
    for screen in (72, 96):
        for name in ("art.png", "art.tif", "art.bmp"):
            assert f"says {screen} pixels per inch" in refusal(saved(page(), name, dpi=screen))
    assert not any("inch" in said for said in read_artwork(saved(page(), dpi=96), dpi=DPI).doubts)
    assert "they must agree within 1%" in refusal(saved(page()), dpi=600, width=300 * PIXEL)
    assert any("The file says 1200" in said for said in read_artwork(saved(page()), dpi=600).doubts)
    uneven = saved(page(), dpi=None)
    Image.fromarray(page()).save(uneven, dpi=(1200, 600))
    assert "1200 pixels per inch across and 600 down" in refusal(uneven)
    assert "mm wide at 2540" in refusal(saved(page(), dpi=2540))
    assert "its own pixels per inch = 29.99" in refusal(saved(page(), dpi=30))
    for wrong in (
        {"dpi": 0},
        {"dpi": float("nan")},
        {"width": 3.0},
        {"black": "copper"},
        {"dpi": "1200"},
    ):
        with pytest.raises(ValueError, match=next(iter(wrong))):
            read_artwork(saved(page()), **wrong)


def test_law_the_board_is_the_picture_a_box_or_a_frame(saved):
    grey = page(400, 360, (120, 110, 220, 190))
    grey[40:320, 30:380], grey[43:317, 33:377] = 0, np.where(grey[43:317, 33:377] < 128, 0, 255)
    path = saved(grey)
    box = read_artwork(path, outline=tuple(v * PIXEL for v in (33, 43, 344, 274)), black="kept")
    framed = read_artwork(path, outline="frame", black="kept")
    assert framed.bare == box.bare == 1 - 100 * 80 / (344 * 274)
    assert any("inside of the frame; its line, 0.064 mm" in said for said in framed.doubts)
    whole = read_artwork(path, black="kept")
    assert any('give outline="frame"' in said for said in whole.doubts)
    assert whole.bare == 1 - (100 * 80 + 350 * 280 - 344 * 274) / (400 * 360)
    small = page(400, 360, (120, 110, 220, 190))
    assert any(
        "The drawing fills 6% of the picture" in said
        for said in read_artwork(saved(small), black="kept").doubts
    )
    assert "no straight closed line" in refusal(saved(small), outline="frame")
    for wrong, said in (
        ((0, 0, 1, 1), "outline: width = 1"),
        ((-1, 0, 0.005, 0.005), "outline: x = -1"),
        ("oval", "outline = 'oval'"),
        ((1, 2), "outline = (1, 2)"),
        ((0, 0, 0, 0), "outline: width = 0"),
    ):
        assert said in refusal(path, outline=wrong)


def framed(thick, at=20, size=(300, 360), ink=0, paper=255):
    """Paper with a frame so thick and so far from the rim, and a block inside it, on pixels of 0.1 mm."""
    grey = np.full(size, paper, np.uint8)
    grey[at : size[0] - at, at : size[1] - at] = ink
    grey[at + thick : size[0] - at - thick, at + thick : size[1] - at - thick] = paper
    grey[120:180, 120:240] = ink
    return grey


def test_law_the_frame_is_the_outermost_line_of_what_is_kept(saved):
    inside = 1 - 60 * 120 / (254 * 314)
    for ink, paper, black in (
        (0, 255, "kept"),
        (255, 0, "etched"),
    ):  # a negative on black paper as well
        art = read_artwork(
            saved(framed(3, ink=ink, paper=paper)), dpi=254, black=black, outline="frame"
        )
        assert art.bare == pytest.approx(inside, abs=1e-12) and art.width == pytest.approx(31.4e-3)
    thick = saved(framed(15))  # 1.5 mm is no line
    assert "at most 1 mm thick and straight along 80%" in refusal(thick, dpi=254, outline="frame")
    border = saved(
        np.minimum(framed(5, at=0), framed(2, at=40))
    )  # a scanner's border round the real outline
    assert "0.5 mm thick, over 0.3 mm: the border of a scan" in refusal(
        border, dpi=254, outline="frame"
    )
    assert any(
        "A border 0.5 mm thick" in said
        for said in read_artwork(border, dpi=254, black="kept").doubts
    )
    round_off, broken = framed(2), framed(2)
    for corner in (
        round_off[18:40, 18:40],
        round_off[18:40, -40:-18],
        round_off[-40:-18, 18:40],
        round_off[-40:-18, -40:-18],
    ):
        corner[:] = 255
    assert read_artwork(saved(round_off), dpi=254, outline="frame").width == pytest.approx(31.6e-3)
    broken[:, 130:220] = 255  # 72 % of the upper side is left
    assert "no straight closed line" in refusal(saved(broken), dpi=254, outline="frame")


def test_law_a_box_along_a_drawn_outline_counts_its_line_and_says_so(saved):
    half = tuple(v * 1e-4 for v in (21, 21, 318, 258))
    doubts = read_artwork(saved(framed(2)), dpi=254, outline=half).doubts
    assert any("A line 0.1 mm thick runs along the outline" in said for said in doubts)
    assert not any("the other way round" in said for said in doubts)


@pytest.mark.parametrize("black, other", [(None, "etched"), ("kept", "etched"), ("etched", "kept")])
def test_law_a_picture_the_other_way_round_is_noticed_whatever_was_said(saved, black, other):
    plain = page()  # black on white: with black kept the rim goes, with black etched it stays
    inverted = plain if black == "etched" else 255 - plain
    assert any(
        f'the other way round: black="{other}"' in said
        for said in read_artwork(saved(inverted), black=black).doubts
    )
    right = 255 - plain if black == "etched" else plain
    assert not any(
        "other way round" in said for said in read_artwork(saved(right), black=black).doubts
    )


def test_law_the_words_are_the_numbers_and_every_doubt(saved):
    grey = page()
    grey[210:216, 20:280] = 0
    art = read_artwork(saved(grey))
    for said in (
        f"{art.width * 1e3:.1f} × {art.height * 1e3:.1f} mm (hold a ruler to it)",
        f"{art.area * 1e4:.2f} cm²",
        f"{100 * art.bare:.1f} %",
        f"{art.copper_mass() * 1e3:.2f} g of copper",
        f"Narrowest trace: {art.trace.width * 1e3:.2f} ± ",
        *art.doubts,
    ):
        assert said in art.words
    assert str(art) == art.words


def test_law_what_may_be_wrong_is_said(saved):
    grey = page()
    grey[210:213, 20:280] = 0  # 3 pixels
    assert any(
        "3.0 pixels wide, too few to trust" in said
        for said in read_artwork(saved(grey), black="kept").doubts
    )
    fills = page(300, 260, (40, 30, 220, 200))
    assert any("The drawing fills 39%" in said for said in read_artwork(saved(fills)).doubts)
    assert any(
        "under 0.13 mm, 3 pixels" in said for said in read_artwork(saved(page()), dpi=600).doubts
    )
    assert read_artwork(saved(page())).doubts[-1] == artwork.ONE_SIDE
    green = np.stack([page()] * 3, axis=-1)
    green[210:214, 20:280] = 0, 255, 0
    assert any(
        "is coloured and was read by its brightness" in said
        for said in read_artwork(saved(green)).doubts
    )
    green[160:, :100] = 0, 255, 0  # 13 % of it
    assert "has colours on" in refusal(saved(green))
    for wrong in (5, b"x", ""):
        with pytest.raises(ValueError, match=r"path = .* it must be the name of a file"):
            read_artwork(wrong)


def test_law_a_soft_edge_is_as_doubtful_as_its_greys(saved):
    ramp = np.broadcast_to(np.clip((np.arange(400) - 196.5) * 255 / 7, 0, 255), (400, 400)).astype(
        np.uint8
    )
    art = read_artwork(saved(ramp), black="etched")
    assert (
        art.bare_high - art.bare_low > 2.5 / 400
    )  # half of a ramp of 7 pixels is grey, an edge alone is 1


# --- law: kinds of pixels -------------------------------------------------------------------------------------------


def test_law_other_kinds_of_pixels_are_the_same_board(saved):
    grey = page()
    deep = saved(grey.astype(np.uint16) * 257, "deep.png")
    clear = Image.fromarray(
        np.stack([np.zeros_like(grey), 255 - grey], axis=-1), "LA"
    )  # black ink on nothing
    for path in (
        deep,
        saved(grey.astype(np.uint16) * 257, "deep.tif"),
        saved(clear),
        saved(clear.convert("RGBA")),
        saved(Image.fromarray(grey).convert("CMYK"), "four.tif"),
    ):
        art = read_artwork(path, dpi=DPI, black="etched")
        assert art.bare == 140 * 100 / (300 * 260), path.name
    assert any("transparent" in said for said in read_artwork(saved(clear)).doubts)
    index = Image.fromarray(grey).convert("P")
    index.info["transparency"] = 255
    assert read_artwork(saved(index, transparency=255), black="etched").bare == 140 * 100 / (
        300 * 260
    )
    assert "kind that is not read" in refusal(
        saved(Image.fromarray(grey.astype(np.float32)), "float.tif")
    )


@pytest.mark.parametrize("turn", range(1, 9))
def test_law_it_is_read_as_it_is_shown(saved, turn):
    grey = page(300, 260, (10, 20, 90, 240))
    exif = Image.Exif()
    exif[274] = turn
    back = {
        1: lambda g: g,
        2: lambda g: g[:, ::-1],
        3: lambda g: g[::-1, ::-1],
        4: lambda g: g[::-1],
        5: lambda g: g.T,
        6: lambda g: np.rot90(g),
        7: lambda g: np.rot90(g, 2).T,
        8: lambda g: np.rot90(g, -1),
    }[turn]
    stored = Image.fromarray(
        np.ascontiguousarray(back(grey))
    )  # what is stored so that `grey` is shown
    for path in (saved(stored, "a.png", exif=exif), saved(stored, "a.tif", exif=exif)):
        with open(path, "rb") as file:
            assert np.array_equal(picture_file.read_picture(file).grey, grey), path.name


# --- law: what is refused -------------------------------------------------------------------------------------------


def test_law_what_is_no_drawing_is_refused_in_words(saved, tmp_path):
    x, y = np.meshgrid(np.linspace(0, 6, 300), np.linspace(0, 6, 260))
    photo = (
        127 + 90 * np.sin(x) * np.cos(y) + np.random.default_rng(0).normal(0, 12, x.shape)
    ).clip(0, 255)
    assert "looks like a photograph" in refusal(saved(photo.astype(np.uint8)))
    colours = np.stack([photo, 255 - photo, np.full_like(photo, 128)], axis=-1).astype(np.uint8)
    assert "has colours on" in refusal(saved(colours))
    for flat, said in ((0, "nothing lighter"), (255, "nothing darker")):
        assert said in refusal(saved(np.full((300, 300), flat, np.uint8)))
    Image.fromarray(page()).save(tmp_path / "lossy.png", "JPEG")
    assert "is a JPEG" in refusal(tmp_path / "lossy.png")
    assert "may smear edges (compression 7)" in refusal(
        saved(page(), "lossy.tif", compression="jpeg")
    )
    pages = [Image.fromarray(page())] * 2
    assert "several pages" in refusal(
        saved(pages[0], "two.tif", save_all=True, append_images=pages[1:])
    )
    moving = [pages[0], Image.fromarray(255 - page())]
    assert "animated PNG" in refusal(
        saved(moving[0], "moving.png", save_all=True, append_images=moving[1:])
    )
    assert (
        refusal(tmp_path) == "is a folder"
        and refusal(tmp_path / "none.png") == "there is no such file"
    )
    for name, data, said in (
        ("empty.png", b"", "is empty"),
        ("text.png", b"copper\n" * 9, "is none of these"),
        ("head.png", b"\x89PNG\r\n\x1a\n", "cut short"),
        ("head.tif", b"II*\0", "damaged"),
        ("head.bmp", b"BM", "cannot be read as a BMP"),
        ("art.pdf", b"%PDF-1.7", "is a PDF"),
        ("big.tif", b"II+\0\x08\0\0\0", "large kind"),
    ):
        (tmp_path / name).write_bytes(data)
        assert said in refusal(tmp_path / name)


def test_law_a_tag_of_a_tiff_that_cannot_be_is_named(saved):
    path = saved(page(), "art.tif")
    whole = path.read_bytes()
    for tag, kind, many, said in (
        (256, 3, 2, "tag 256 holds 2 values"),
        (282, 5, 0, "tag 282 holds 0 values"),
        (282, 5, 2**29, "tag 282 does not lie inside"),
        (256, 4, 0, "tag 256 holds 0 values"),
    ):
        at = whole.index(struct.pack("<H", tag), struct.unpack("<I", whole[4:8])[0] + 2)
        path.write_bytes(whole[: at + 2] + struct.pack("<HI", kind, many) + whole[at + 8 :])
        assert said in refusal(path)


def chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def test_law_400_million_pixels_are_refused_from_the_head_and_no_setting_is_touched(
    tmp_path, saved
):
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 20_000, 20_000, 1, 0, 0, 0, 0))
    (tmp_path / "huge.png").write_bytes(
        b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(bytes(9)))
    )
    tags = b"".join(struct.pack("<HHII", tag, 4, 1, 20_000) for tag in (256, 257))
    (tmp_path / "huge.tif").write_bytes(b"II*\0\x08\0\0\0" + struct.pack("<H", 2) + tags + bytes(4))
    (tmp_path / "huge.bmp").write_bytes(
        b"BM"
        + bytes(8)
        + struct.pack("<IIiiHHIIiiII", 54, 40, 20_000, 20_000, 1, 1, 0, 0, 47244, 47244, 2, 0)
        + bytes(8)
    )
    before = Image.MAX_IMAGE_PIXELS, list(warnings.filters)
    (tmp_path / "old.bmp").write_bytes(
        b"BM" + bytes(8) + struct.pack("<IIHHHH", 26, 12, 65535, 65535, 1, 1) + bytes(8)
    )
    assert "4.29e+03 million pixels" in refusal(tmp_path / "old.bmp")
    sizes = ((256, 99), (257, 99), (322, 2**16), (323, 2**16))
    tags = b"".join(struct.pack("<HHII", tag, 4, 1, size) for tag, size in sizes)
    (tmp_path / "tile.tif").write_bytes(b"II*\0\x08\0\0\0" + struct.pack("<H", 4) + tags + bytes(4))
    assert "65536 × 65536" in refusal(tmp_path / "tile.tif")
    text = zlib.compress(bytes(3_000_000))
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 9, 9, 1, 0, 0, 0, 0)) + chunk(
        b"zTXt", b"Comment\0\0" + text
    )
    (tmp_path / "text.png").write_bytes(
        b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(bytes(27))) + chunk(b"IEND", b"")
    )
    assert "cannot be read as a PNG" in refusal(tmp_path / "text.png")
    for name in ("huge.png", "huge.tif", "huge.bmp"):
        assert "20000 × 20000 = 400 million pixels: it must be at most 89 million" in refusal(
            tmp_path / name
        )
    path, found = saved(page()), []
    readers = [
        threading.Thread(target=lambda: found.append(read_artwork(path, black="kept")))
        for _ in range(4)
    ]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join()
    assert len(found) == 4 and len({art.bare for art in found}) == 1
    assert (Image.MAX_IMAGE_PIXELS, list(warnings.filters)) == before


def test_law_one_flipped_bit_of_a_png_never_changes_the_area_in_silence(saved):
    grey = disc(256, 90, (120, 130))
    path = saved(grey)
    whole, right = path.read_bytes(), read_artwork(path, black="kept")
    for at in np.random.default_rng(8).integers(8, len(whole), 40):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0x10]) + whole[at + 1 :])
        try:
            assert read_artwork(path, black="kept") == right
        except ValueError as error:
            assert re.search("damaged|cut short|must be at most", str(error)), error
    at = whole.index(b"IDAT") + 20
    path.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
    assert "cannot be read as a PNG: broken PNG file (bad header checksum in b'IDAT')" in refusal(
        path
    )


SEEDS = {
    "png": dict(mode="L"),
    "bit.png": dict(mode="1"),
    "index.png": dict(mode="P"),
    "clear.png": dict(mode="LA"),
    "tif": dict(mode="L"),
    "lzw.tif": dict(mode="L", compression="tiff_lzw"),
    "fax.tif": dict(mode="1", compression="group4"),
    "bits.tif": dict(mode="1", compression="packbits"),
    "zip.tif": dict(mode="RGB", compression="tiff_adobe_deflate"),
    "bmp": dict(mode="L"),
    "bit.bmp": dict(mode="1"),
}


@pytest.mark.parametrize("kind", SEEDS)
def test_law_a_broken_file_is_a_message_or_a_result_and_nothing_else(kind, tmp_path):
    # 11 kinds, 30 broken files each: bytes flipped, cut, the head changed, check sums made right again
    settings = dict(SEEDS[kind])
    memory = io.BytesIO()
    Image.fromarray(page(240, 230)).convert(settings.pop("mode")).save(
        memory,
        {"png": "PNG", "tif": "TIFF", "bmp": "BMP"}[kind.split(".")[-1]],
        dpi=(1000, 1000),
        **settings,
    )
    whole, rng = memory.getvalue(), np.random.default_rng(len(kind))
    path = tmp_path / f"broken.{kind}"
    with warnings.catch_warnings(record=True) as leaked:
        warnings.simplefilter("always")
        for number in range(30):
            data = bytearray(whole)
            if number % 3 == 0:
                del data[rng.integers(len(data)) :]
            for at in (
                rng.integers(
                    0, min(len(data), 64) if number % 3 == 1 else len(data), 1 + number % 4
                )
                if data and number % 3
                else ()
            ):
                data[at] = rng.integers(256)
            if number % 2 and data[:4] == b"\x89PNG" and len(data) > 33:
                data[29:33] = struct.pack(">I", zlib.crc32(data[12:29]))
            path.write_bytes(data)
            try:
                art = read_artwork(path, black="kept")
                assert 0 <= art.bare_low <= art.bare <= art.bare_high <= 1
            except ValueError as error:
                assert (
                    str(error).startswith(f"broken.{kind}: ")
                    and len(str(error)) > len(path.name) + 8
                )
            assert path.read_bytes() == bytes(data)
    assert not leaked


def test_law_a_file_is_only_read(saved):
    path = saved(page())
    before = path.read_bytes(), path.stat().st_mtime_ns
    read_artwork(path)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
