"""House rule: the stored pictures are those of pages that are there, small, and of one width."""

import importlib.util
import io
import pathlib

import pytest
from PIL import Image

SPEC = importlib.util.spec_from_file_location(
    "pictures", pathlib.Path(__file__).with_name("pictures.py")
)
pictures = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(pictures)
FOLDER, SCREENS, WIDTH = pictures.FOLDER, pictures.SCREENS, pictures.WIDTH


def test_law_every_stored_picture_belongs_to_a_page():
    names = {f"{name}.png" for name in SCREENS}
    assert {path.name for path in FOLDER.iterdir()} == names
    for name in SCREENS:
        assert (FOLDER.parent / f"{name}.ipynb").is_file(), name


@pytest.mark.parametrize("name", SCREENS)
def test_law_a_stored_picture_is_small(name):
    path = FOLDER / f"{name}.png"
    with Image.open(path) as picture:
        assert picture.width == WIDTH
        assert len(picture.convert("RGB").getcolors()) > 5, "not blank"
    assert path.stat().st_size <= pictures.MOST


def test_law_a_screen_keeps_its_shape_and_its_words_dark():
    screen = Image.new("RGB", (2 * WIDTH, WIDTH), "white")
    screen.paste((26, 26, 26), (600, 400, 900, 500))
    out = io.BytesIO()
    screen.save(out, "PNG")
    with Image.open(io.BytesIO(pictures.small(out.getvalue()))) as stored:
        pixels = stored.convert("RGB")
    assert pixels.size == (WIDTH, WIDTH // 2)
    assert max(pixels.getpixel((375, 225))) < 40
    assert pixels.getpixel((10, 10)) == (255, 255, 255)
