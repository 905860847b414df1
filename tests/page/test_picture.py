"""Pictures become bytes without losing a pixel, and stand in a page with their words (laws)."""

import io

import numpy as np
import pytest
from PIL import Image

from pcbchem.page.picture import (
    NARROW,
    Drawing,
    Picture,
    figure,
    parted,
    picture_of,
    plain,
    png_of,
)


def decoded(png):
    with Image.open(io.BytesIO(png)) as image:
        assert image.format == "PNG"
        image.load()  # reads every checksum
        return np.asarray(image)


@pytest.mark.parametrize("shape", [(1, 1, 3), (7, 5, 3), (64, 301, 3)])
def test_law_the_bytes_decode_to_the_same_pixels(shape):
    pixels = np.random.default_rng(1).integers(0, 256, shape, dtype=np.uint8)
    assert np.array_equal(decoded(png_of(pixels)), pixels)


@pytest.mark.parametrize("dpr", [1.0, 1.5, 2.0])
def test_law_a_drawing_s_bytes_are_what_its_canvas_holds(dpr):
    white = figure(2.0)
    drawing = Drawing(white, plain(white.subplots()).plot([0, 1], [0, 1]))
    pixels = decoded(drawing.png(dpr))
    assert np.array_equal(pixels, np.asarray(white.canvas.buffer_rgba())[..., :3])
    assert pixels.shape == (192 * dpr, 768 * dpr, 3)
    assert pixels.min() < 100 < pixels.max() == 255


def test_law_what_stands_still_is_drawn_anew_with_its_limits():
    """Limits that change while something moves, and a picture of which nothing moves."""
    drawings = []
    for _ in range(2):
        white = figure(2.0)
        drawings.append(Drawing(white, plain(white.subplots(), "x").plot([0, 1], [0, 1])))
    drawing, anew = drawings
    first = drawing.png()
    assert drawing.png() == first
    for either in drawings:
        either.figure.axes[0].set_xlim(0, 5)
    assert drawing.png() == anew.png() != first, "grid and numbers too, not the line alone"
    still = figure(2.0)
    whole = Drawing(still)
    before = whole.png()
    still.suptitle("later")
    assert whole.png() != before


def test_law_a_picture_has_words_and_a_narrow_twin():
    page = Picture(b"wide", 'so "said"', b"narrow")._repr_html_()
    assert 'alt="so &quot;said&quot;"' in page
    assert page.count("data:image/png") == 2 and "max-width: 600px" in page


def test_law_words_alone_stand_as_a_paragraph():
    assert Picture(b"", "only <words>")._repr_html_() == "<p>only &lt;words&gt;</p>"


def test_law_a_page_s_picture_is_sharp_on_a_fine_screen():
    wide, narrow = Drawing(figure(1.0)), Drawing(figure(1.0, NARROW))
    shown = picture_of(wide, "white", narrow)
    assert decoded(shown.png).shape == (192, 1536, 3)
    assert decoded(shown.narrow).shape[1] == int(2 * 96 * NARROW)
    assert picture_of(wide, "white").narrow == b""


def test_law_a_title_is_parted_once_at_the_pause_that_comes_first_in_the_list():
    assert parted("6 hours, unused: 6.3, or less", ", ", ": ") == "6 hours,\nunused: 6.3, or less"
    assert parted("6 hours, unused: 6.3, or less", ": ", ", ") == "6 hours, unused:\n6.3, or less"
    assert parted("no pause", ". ", ": ") == "no pause"
