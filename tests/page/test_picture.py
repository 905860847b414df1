"""Pictures become bytes without losing a pixel (law)."""

import io

import numpy as np
import pytest
from PIL import Image

from pcbchem.page.picture import Drawing, png_of, figure, plain


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
    made = figure(2.0)
    drawing = Drawing(made, plain(made.subplots()).plot([0, 1], [0, 1]))
    got = decoded(drawing.png(dpr))
    assert np.array_equal(got, np.asarray(made.canvas.buffer_rgba())[..., :3])
    assert got.shape == (192 * dpr, 768 * dpr, 3) and got.min() < 100 < got.max() == 255
