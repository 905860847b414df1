"""The panel of an artwork: what is read, what is refused in words, what is handed over (laws)."""

import io
import re

import numpy as np
import pytest
from helpers.artworks import DPI, framed, page, photograph, share_of_page
from helpers.own_bench import Tab
from PIL import Image

from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench import panel_of_artwork
from pcbchem.lesson.own_bench.artwork_panel import (
    MOST_BYTES,
    NO_FRAME,
    NOTHING,
    ON_PAPER,
    read_pixels,
)

WIDTH, HEIGHT = 300 * 25.4 / DPI, 260 * 25.4 / DPI  # of the small page [mm]
LARGE = 12  # so many times the small page: a board that the planner takes


def picture(grey=None, dpi=DPI, kind="PNG", **options):
    """A file of an artwork, as bytes."""
    image = (
        grey if isinstance(grey, Image.Image) else Image.fromarray(page() if grey is None else grey)
    )
    file = io.BytesIO()
    if dpi is not None:
        options["dpi"] = (dpi, dpi)
    image.save(file, kind, **options)
    return file.getvalue()


@pytest.fixture
def tab():
    return Tab(panel_of_artwork())


def bring(tab, data=None, name="front.png"):
    return tab.bring("artwork", name, picture() if data is None else data)


def area(tab):
    """The bare copper that the headline says [cm²]."""
    return float(re.match(r"([\d.]+) cm² of", tab.panel.headline)[1])


@pytest.mark.parametrize(
    "kind, name", [("PNG", "a.png"), ("TIFF", "a.tif"), ("TIFF", "a.tiff"), ("BMP", "A.BMP")]
)
def test_law_black_copper_stays_and_white_goes_in_every_kind_of_file(kind, name, tab):
    """By hand: of 300 × 260 pixels at 1200 an inch 140 × 100 are black."""
    assert bring(tab, picture(kind=kind), name) == f"{name} is open."
    square = WIDTH * HEIGHT / 100
    assert area(tab) == pytest.approx(square * (1 - share_of_page()), rel=1e-3)
    assert f"{WIDTH:.2f} × {HEIGHT:.2f}"[:3] in tab.panel.headline
    tab.enter(black="etched")
    assert area(tab) == pytest.approx(square * share_of_page(), rel=2e-3)
    assert "Measure your print" in tab.panel.headline and tab.panel.png


def test_law_an_8_bit_grey_one_is_read_as_a_black_and_white_one(tab):
    bring(tab, picture(Image.fromarray(page()).convert("1")))
    sharp = area(tab)
    bring(tab, picture(Image.fromarray(page()).convert("L")))
    assert area(tab) == sharp


def test_law_as_long_as_there_is_none_it_says_so(tab):
    assert tab.panel.readout == NOTHING and tab.panel.handed == [{}]
    bring(tab)
    assert tab.press("artwork", removed=True) == "Removed."
    assert tab.panel.readout == NOTHING and tab.panel.handed == [{}]


@pytest.mark.parametrize("dpi", [72, 96, None])
def test_law_a_screen_s_size_is_refused_until_one_is_given(dpi, tab):
    bring(tab, picture(dpi=dpi))
    words = "does not say how large it is" if dpi is None else f"says {dpi} pixels per inch"
    assert words in tab.panel.wrong and tab.panel.wrong.startswith("front.png: ")
    assert not re.search(r"dpi = |width = |in m\b", tab.panel.wrong)
    assert tab.panel.headline == "" and tab.panel.handed == [{}]
    tab.enter(width=WIDTH)
    by_width = area(tab)
    tab.enter(width=None, dpi=DPI)
    assert area(tab) == pytest.approx(by_width, rel=2e-3)
    tab.enter(width=2 * WIDTH)
    assert "they must agree within 1%" in tab.panel.wrong


def test_law_a_size_is_of_one_picture_alone(tab):
    """Another picture has its own, and the fields are blank again; a refused one changes none."""
    bring(tab, picture(dpi=None))
    tab.enter(width=100, dpi=None)
    wide = area(tab)
    bring(tab, b"hello")
    assert tab.panel.values["width"] == 100 and area(tab) == wide
    bring(tab, picture(), "other.png")
    assert (tab.panel.values["dpi"], tab.panel.values["width"]) == (None, None)
    assert area(tab) == pytest.approx(WIDTH * HEIGHT / 100 * (1 - share_of_page()), rel=1e-3)
    assert tab.panel.handed == [{}], "under 10 mm: the planner knows no board so small"


def test_law_dark_is_always_copper_that_stays(tab):
    """Whichever of the two is black in the file; and the picture has no title of its own."""
    bring(tab)
    shares = []
    for black in ("kept", "etched"):
        drawing, _ = tab.panel.picture_and_words(black=black)
        axes = drawing.parts["axes"]
        (drawn,) = axes.images
        shares.append(float(np.mean(np.asarray(drawn.get_array()) < 128)))
        assert (drawn.get_cmap().name, drawn.get_clim()) == ("gray", (0, 255))
        assert axes.get_title() == "" and "dark is copper that stays" in axes.get_xlabel()
    assert shares == pytest.approx([share_of_page(), 1 - share_of_page()], abs=1e-3)


def test_law_a_width_is_that_of_the_whole_picture(tab):
    bring(tab, picture(dpi=None))
    tab.enter(width=100)
    assert f"100 × {100 * 260 / 300:.1f} mm" in tab.panel.headline
    assert area(tab) == pytest.approx(100 * 100 * 260 / 300 / 100 * (1 - share_of_page()), rel=1e-3)


def test_law_inside_its_frame_the_board_is_smaller(tab):
    bring(tab, picture(framed(8)))
    whole = area(tab)
    tab.enter(outline="frame")
    assert area(tab) < whole and tab.panel.wrong == ""
    bring(tab)
    assert tab.panel.wrong == f"{NO_FRAME}." and "whole picture" in NO_FRAME
    assert tab.panel.handed == [{}]


@pytest.mark.parametrize(
    "name, data, words",
    [
        ("big.png", b"x" * 60_000_000, "did not arrive whole|at most 40 MB"),
        ("some.gif", b"GIF89a", "is none of these: .png, .tif, .tiff, .bmp"),
        ("some.svg", b"<svg/>", "is none of these"),
        ("front.png", b"", "front.png is empty"),
        ("front.png", b"hello", "front.png is none of these: it must be a PNG"),
        ("front.png", picture(kind="GIF", dpi=None), "front.png is a GIF"),
        ("front.png", picture()[:200], "is damaged or cut short"),
        ("front.tif", picture(kind="TIFF")[:90], "is damaged"),
        ("front.png", picture()[:-40] + bytes(40), "is damaged"),
        ("", picture(), "A file without a name is none of these"),
    ],
)
def test_law_what_is_no_picture_is_refused_and_the_last_one_stays(name, data, words, tab):
    bring(tab)
    before = (tab.panel.headline, tab.panel.png, tab.panel.handed)
    assert re.search(words, bring(tab, data, name))
    assert tab.panel.failure is None
    tab.enter()
    assert (tab.panel.headline, tab.panel.png, tab.panel.handed) == before
    assert MOST_BYTES == 40_000_000


def test_law_what_is_no_drawing_is_said(tab):
    for grey, words in (
        (photograph(), "grey"),
        (np.full((260, 300), 255, np.uint8), "shows nothing darker"),
        (Image.new("RGB", (300, 260), (200, 20, 20)), "colours"),
        (np.zeros((4, 4), np.uint8), "makes a board"),
    ):
        bring(tab, picture(grey))
        assert words in tab.panel.wrong and tab.panel.handed == [{}]
        assert tab.panel.failure is None and tab.panel.headline == ""


def test_law_a_name_with_html_is_text_wherever_it_stands(tab):
    name = "<img src=x onerror=alert(1)>.png"
    assert bring(tab, name=name) == f"{name} is open."
    for text in (tab.panel.head, tab.panel.notes, tab.panel.top, tab.panel.table):
        assert "<img" not in text
    (handed,) = tab.panel.handed
    assert handed == {} or name in handed["why"]
    bring(tab, picture(dpi=72), name)
    assert tab.panel.wrong.startswith(f"{name}: says 72")
    assert "alert" not in tab.sent[-1][0]["html"]


def test_law_the_same_message_again_reads_nothing_again(tab):
    bring(tab)
    count = len(tab.sent)
    number = tab.sent[-1][0]["number"]
    assert tab.press("artwork", number=number, removed=True) == ""
    assert len(tab.sent) == count and area(tab)


def test_law_a_page_that_is_loaded_again_still_has_its_picture(tab):
    """And its button says so."""
    bring(tab)
    headline = tab.panel.headline
    tab.sent.clear()
    assert NOTHING not in tab.reload() and tab.panel.headline == headline
    taken = ["front.png", len(picture())]
    assert tab.panel.uploaded == {"artwork": taken}
    assert {"work": "artwork", "number": "", "taken": taken} in [content for content, _ in tab.sent]
    tab.press("artwork", removed=True)
    tab.sent.clear()
    tab.reload()
    assert not any("taken" in content for content, _ in tab.sent)


def test_law_nothing_is_written(tab, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    bring(tab, name="../up.png")
    assert not list(tmp_path.iterdir()) and not (tmp_path.parent / "up.png").exists()


# ---- handed over


def test_law_the_planner_s_form_takes_bare_copper_and_sides(tab):
    """To the printed figure: a tenth of a per cent, a tenth of a millimetre."""
    bring(tab, picture(dpi=DPI / LARGE))
    (handed,) = tab.panel.handed
    plan = fields.plan_from(fields.STARTS | {k: v for k, v in handed.items() if k != "why"})
    board = plan.inputs.board
    assert float(board.width) == pytest.approx(WIDTH * LARGE / 1000, abs=0.5e-4)
    assert float(board.height) == pytest.approx(HEIGHT * LARGE / 1000, abs=0.5e-4)
    assert float(board.bare) == pytest.approx(1 - share_of_page(), abs=0.5e-3)
    assert float(board.copper_area) * 1e4 == pytest.approx(area(tab), rel=5e-3)
    assert handed["why"].startswith("Filled in from your artwork front.png: ")
    assert f"{area(tab):g} cm² bare" in handed["why"]


def test_law_what_cannot_be_read_is_not_handed_over(tab):
    bring(tab, picture(dpi=72))
    assert tab.panel.handed == [{}]
    tab.enter(dpi=DPI / LARGE)
    assert tab.panel.handed != [{}]


def test_law_a_board_that_is_all_kept_is_handed_over_as_hardly_bare(tab):
    """The form knows no board without copper to etch."""
    grey = np.zeros((260, 300), np.uint8)
    grey[:2, :2] = 255
    bring(tab, picture(grey, dpi=DPI / LARGE))
    (handed,) = tab.panel.handed
    assert handed == {} or handed["bare"] == 0.1


# ---- the picture, and what is kept


def test_law_a_thin_line_is_not_lost_where_it_is_thinned_out():
    grey = np.full((2100, 2100), 255, np.uint8)
    grey[:, 1001] = 0
    drawn, step = read_pixels("line.png", picture(grey))
    assert step == 3 and drawn.shape == (700, 700)
    assert list(np.flatnonzero(drawn.min(axis=0) == 0)) == [333]
    with pytest.raises(ValueError, match=r"line\.png is empty"):
        read_pixels("line.png", b"")


def test_law_rings_are_where_the_narrowest_places_are(tab):
    grey = np.full((1200, 1200), 255, np.uint8)
    grey[300:900, 200:400] = 0
    grey[300:900, 500:514] = 0  # a trace of 14 pixels
    grey[300:900, 520:900] = 0  # and a gap of 6 beside it
    bring(tab, picture(grey))
    drawing, words = tab.panel.picture_and_words()
    rings = [line for line in drawing.parts["axes"].lines if line.get_marker() == "o"]
    pixel = 25.4 / DPI
    places = sorted(float(ring.get_xdata()[0]) / pixel for ring in rings)
    assert places == pytest.approx([507, 517], abs=4)
    trace = float(re.search(r"Narrowest trace: ([\d.]+)", words.readout)[1])
    assert trace == pytest.approx(14 * pixel, abs=pixel)
    assert "07_when_to_lift_it_out.ipynb" in words.notes


def test_law_every_corner_says_something(tab):
    for data in (None, picture(), picture(dpi=72)):
        if data:
            bring(tab, data)
        for corner in tab.panel.corners():
            _, words = tab.panel.picture_and_words(True, **corner)
            assert words.readout and words.alt and "Error" not in words.wrong


def test_law_nothing_of_it_is_kept_in_a_page_or_printed(tab):
    bring(tab)
    state = tab.panel.get_state()
    assert not any(state[name] for name in ("headline", "readout", "alt", "png", "notes", "handed"))
    assert repr(tab.panel) == ON_PAPER
    assert "no picture can be read: run the page" in tab.panel.still_forms()["text/html"]
