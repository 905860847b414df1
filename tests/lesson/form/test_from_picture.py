"""A picture of the artwork fills in what is bare, with its band and every doubt."""

import io

import numpy as np
import pytest
from helpers.artworks import page
from PIL import Image

from pcbchem.bench.artwork.artwork import ONE_SIDE, read_artwork
from pcbchem.lesson.form import fields
from pcbchem.lesson.form.from_picture import AS_READ, bare_from

# 800 × 600 pixels, of which 400 × 300 are black: 75 % of it is bare
HALF = page(800, 600, (100, 150, 500, 450))


def data_of(grey, kind="PNG", **options):
    """The bytes of a picture's file."""
    file = io.BytesIO()
    Image.fromarray(grey).save(file, kind, **options)
    return file.getvalue()


def test_a_picture_that_knows_its_size_fills_in_board_and_bare():
    """By hand: 800 × 600 pixels at 254 to the inch are 80 × 60 mm, a quarter of it black."""
    values, words = bare_from("clock.png", data_of(HALF, dpi=(254, 254)), fields.STARTS)
    assert values == {"bare": 75.0, "board_width": 80.0, "board_height": 60.0}
    assert words.startswith("clock.png: 75.0 % bare (74.")
    assert "80.0 × 60.0 mm: hold a ruler to it." in words


@pytest.mark.parametrize("options", [{}, {"dpi": (96, 96)}])
def test_a_picture_without_a_size_takes_the_boards_width(options):
    values, words = bare_from("clock.png", data_of(HALF, **options), fields.STARTS)
    assert values == {"bare": 75.0}
    assert "the picture was taken to be 75 mm wide" in words


def test_a_picture_of_another_shape_than_the_board_is_doubted():
    """By hand: 800 × 600 pixels of 75 mm are 56.2 mm high, and the workshop's board is 60 mm."""
    _, words = bare_from("clock.png", data_of(HALF), fields.STARTS)
    assert "A picture so wide would be 56.2 mm high, your board is 60 mm" in words
    _, words = bare_from("clock.png", data_of(HALF), fields.STARTS | {"board_height": 56.3})
    assert "so wide" not in words


def test_law_the_band_and_every_doubt_are_said():
    data = data_of(HALF, dpi=(254, 254))
    art = read_artwork(data, name="clock.png")
    values, words = bare_from("clock.png", data, fields.STARTS)
    assert f"({100 * art.bare_low:.1f} to {100 * art.bare_high:.1f} %)" in words
    assert 100 * art.bare_low <= values["bare"] <= 100 * art.bare_high
    assert len(art.doubts) > 1 and all(doubt in words for doubt in art.doubts)
    assert ONE_SIDE in words and AS_READ in words


def test_law_no_mass_and_no_amount_is_said():
    """A class is given neither."""
    _, words = bare_from("clock.png", data_of(HALF, dpi=(254, 254)), fields.STARTS)
    assert " g of copper" not in words and " mL" not in words


def test_law_the_forms_own_values_are_left_alone():
    before = dict(fields.STARTS)
    bare_from("clock.png", data_of(HALF, dpi=(254, 254)), fields.STARTS)
    assert before == fields.STARTS


def test_what_is_read_can_be_planned():
    values, _ = bare_from("clock.png", data_of(HALF, dpi=(254, 254)), fields.STARTS)
    board, _, _ = fields.read_bench(fields.STARTS | values)
    assert float(board.copper_area) == pytest.approx(0.75 * 48e-4)


def test_hardly_any_copper_is_still_some():
    dark = np.zeros((600, 800), np.uint8)
    dark[300:306, 300:306] = 255  # 36 of 480 000 pixels
    values, _ = bare_from("dark.png", data_of(dark, dpi=(254, 254)), fields.STARTS)
    assert values["bare"] == 0.1


@pytest.mark.parametrize("width", [None, 0, "wide"])
def test_without_any_width_the_file_is_asked_for_its_size(width):
    with pytest.raises(ValueError, match=r"^clock\.png: does not say how large it is"):
        bare_from("clock.png", data_of(HALF), fields.STARTS | {"board_width": width})


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "is empty"),
        (b"<svg>", "is none of these: it must be a PNG, a TIFF or a BMP"),
        (data_of(HALF, "JPEG"), "is a JPEG, which smears edges"),
        (data_of(HALF)[:200], "is damaged or cut short"),
        (data_of(np.full((50, 50), 255, np.uint8)), "shows nothing darker"),
    ],
)
def test_what_is_no_artwork_is_refused_by_its_name(data, reason):
    with pytest.raises(ValueError, match=f"^mine\\.png: {reason}"):
        bare_from("mine.png", data, fields.STARTS)
