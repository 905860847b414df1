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
FOLDER, SCREENS, WIDE = pictures.FOLDER, pictures.SCREENS, pictures.WIDE


def test_law_every_stored_picture_belongs_to_a_page():
    assert {path.name for path in FOLDER.iterdir()} == {f"{name}.png" for name in SCREENS}
    for name in SCREENS:
        assert (FOLDER.parent / f"{name}.ipynb").is_file(), name


@pytest.mark.parametrize("name", SCREENS)
def test_law_a_stored_picture_is_small(name):
    path = FOLDER / f"{name}.png"
    with Image.open(path) as picture:
        assert picture.width == WIDE and len(picture.convert("RGB").getcolors()) > 5, "not blank"
    assert path.stat().st_size <= pictures.MOST


def test_law_a_screen_keeps_its_shape_and_its_words_dark():
    screen = Image.new("RGB", (2 * WIDE, WIDE), "white")
    screen.paste((26, 26, 26), (600, 400, 900, 500))
    out = io.BytesIO()
    screen.save(out, "PNG")
    with Image.open(io.BytesIO(pictures.small(out.getvalue()))) as got:
        assert got.size == (WIDE, WIDE // 2)
        assert max(got.convert("RGB").getpixel((375, 225))) < 40
        assert got.convert("RGB").getpixel((10, 10)) == (255, 255, 255)
