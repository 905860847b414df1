"""The bare copper of an artwork: areas by geometry, the board in the picture, and its doubts.

What may be wrong is said, never guessed.
"""

import numpy as np
import pytest
from helpers.artworks import DPI, PIXEL, disc, framed, page, photograph, share_of_page
from PIL import Image

from pcbchem import Foil
from pcbchem.bench.artwork import read_artwork
from pcbchem.bench.artwork.artwork import ONE_SIDE, _share_below

OUNCE = 0.028349523125 / 0.3048**2
"""An ounce on a square foot [kg/m²], both by definition."""


def holds(doubts, words):
    """Whether one of the doubts holds these words."""
    return any(words in doubt for doubt in doubts)


# --- area and copper -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["art.png", "art.tif", "art.bmp"])
@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB"])
def test_law_a_rectangle_has_its_area_in_every_file(saved, name, mode):
    art = read_artwork(saved(Image.fromarray(page()).convert(mode), name), black="etched")
    assert art.pixel == pytest.approx(PIXEL, rel=2e-4)  # PNG and BMP store whole pixels per metre
    assert art.bare == share_of_page()
    assert art.area == pytest.approx(140 * 100 * PIXEL**2, rel=4e-4)
    assert art.board_area == pytest.approx(300 * 260 * PIXEL**2, rel=4e-4)


def test_law_a_plan_takes_the_board_of_an_artwork(saved):
    art = read_artwork(saved(page()), black="etched")
    board = art.board(Foil.ounces(2))
    assert (board.width, board.height, board.bare) == (art.width, art.height, art.bare)
    assert float(board.area) == pytest.approx(art.area, rel=1e-12)
    # of 63.546 g/mol
    assert float(board.copper) == pytest.approx(2 * OUNCE * art.area / 63.546e-3, rel=1e-5)
    assert float(art.board().foil.areal_mass) == pytest.approx(OUNCE, rel=1e-12)
    assert art.copper_mass() == pytest.approx(OUNCE * art.area, rel=1e-12)
    assert art.copper_mass(Foil.ounces(2)) == pytest.approx(2 * art.copper_mass())


def test_second_source_an_ounce_on_a_square_metre_is_305_g(saved):
    half_black = page(256, 256, (0, 0, 128, 256))
    art = read_artwork(saved(half_black), width=0.2, black="kept")
    assert art.area == pytest.approx(0.02)
    assert art.copper_mass() == pytest.approx(0.02 * 0.30515, rel=1e-5)


CENTRE = (127.3, 128.9)


@pytest.mark.parametrize("radius", [30.0, 70.3, 101.7])
def test_law_a_disc_has_the_area_of_a_circle(saved, radius):
    art = read_artwork(saved(disc(256, radius, CENTRE)), dpi=DPI, black="etched")
    assert art.area == pytest.approx(np.pi * (radius * PIXEL) ** 2, rel=3e-4)
    assert art.edge == pytest.approx(2 * np.pi * radius * PIXEL, rel=0.08)


@pytest.mark.parametrize("radius", [30.0, 70.3, 101.7])
def test_law_a_sharp_disc_is_in_doubt_by_half_a_pixel(saved, radius):
    sharp = np.where(disc(256, radius, CENTRE) < 128, 0, 255).astype(np.uint8)
    art = read_artwork(saved(sharp), dpi=DPI, black="etched")
    assert art.bare_low < np.pi * radius**2 / 256**2 < art.bare_high
    half_a_pixel = 0.5 * 2 * np.pi * radius / 256**2
    assert (art.bare_high - art.bare_low) / 2 == pytest.approx(half_a_pixel, rel=0.09)


def test_law_a_scan_with_grey_paper_and_noise_has_its_area(saved):
    noise = np.random.default_rng(1).normal(0, 8, (260, 300))
    scan = np.where(page() < 128, 60, 220) + noise
    art = read_artwork(saved(np.clip(scan, 0, 255).astype(np.uint8)), black="etched")
    assert art.bare == pytest.approx(share_of_page(), rel=1e-4)


def test_law_a_soft_edge_is_as_doubtful_as_its_greys(saved):
    greys = np.clip((np.arange(400) - 196.5) * 255 / 7, 0, 255)
    ramp = np.broadcast_to(greys, (400, 400)).astype(np.uint8)
    art = read_artwork(saved(ramp), black="etched")
    # half of a ramp of 7 pixels is grey, an edge alone is 1
    assert art.bare_high - art.bare_low > 2.5 / 400


# --- narrow places -------------------------------------------------------------------------------


def two_traces():
    """Traces 9 and 14 pixels wide with a gap of 7 between them, and a pad."""
    grey = np.full((300, 400), 255, np.uint8)
    grey[40:260, 50:59] = 0
    grey[40:260, 66:80] = 0
    grey[100:200, 150:350] = 0
    return grey


def test_law_trace_and_gap_with_their_places(saved):
    art = read_artwork(saved(two_traces()), black="kept")
    assert art.trace.width == pytest.approx(9 * PIXEL, rel=1e-3)
    assert art.gap.width == pytest.approx(7 * PIXEL, rel=1e-3)
    assert art.trace.x == pytest.approx(54.5 * PIXEL, rel=1e-3)
    assert art.gap.x == pytest.approx(62.5 * PIXEL, rel=1e-3)
    assert 40 * PIXEL < art.gap.y < 260 * PIXEL
    assert art.trace.doubt == pytest.approx(PIXEL, rel=1e-3)


def test_law_a_place_counts_from_the_corner_of_the_picture(saved):
    path = saved(two_traces())
    outline = (40 * PIXEL, 20 * PIXEL, 300 * PIXEL, 260 * PIXEL)
    inner = read_artwork(path, black="kept", outline=outline)
    assert inner.gap.x == pytest.approx(read_artwork(path, black="kept").gap.x, rel=1e-6)


# --- negatives, scale, shift ---------------------------------------------------------------------


def test_law_the_negative_is_the_complement(saved):
    grey = np.minimum(disc(300, 60, (100.2, 99.1)), disc(300, 63, (229.9, 120.4)))
    grey[220:228, 20:280] = 0
    positive = read_artwork(saved(grey), black="kept")
    negative = read_artwork(saved(255 - grey, "negative.png"), black="kept")
    assert positive.bare_low < positive.bare < positive.bare_high
    assert positive.bare + negative.bare == pytest.approx(1, abs=1e-12)
    ends = 1 - negative.bare_high, 1 - negative.bare_low
    assert (positive.bare_low, positive.bare_high) == pytest.approx(ends, abs=1e-12)
    assert positive.trace and positive.gap
    assert (positive.trace, positive.gap) == (negative.gap, negative.trace)
    etched = read_artwork(saved(grey), black="etched")
    assert (etched.trace, etched.gap) == (positive.gap, positive.trace)
    assert etched.bare == pytest.approx(negative.bare, abs=1e-12)


def with_trace():
    """A page with a trace 8 pixels wide."""
    grey = page()
    grey[210:218, 20:280] = 0
    return grey


def test_law_twice_the_resolution_is_half_the_size(saved):
    path = saved(with_trace())
    whole = read_artwork(path, dpi=600, black="kept")
    half = read_artwork(path, dpi=1200, black="kept")
    assert half.bare == whole.bare and half.area == pytest.approx(whole.area / 4)
    assert half.trace.width == pytest.approx(whole.trace.width / 2)


def test_law_a_drawing_that_is_moved_is_the_same(saved):
    here = read_artwork(saved(with_trace()), black="kept")
    there = read_artwork(saved(np.roll(with_trace(), (7, 3), (0, 1))), black="kept")
    assert there.bare == here.bare
    assert there.trace.width == pytest.approx(here.trace.width)


# --- the board in the picture --------------------------------------------------------------------


def ruled_page():
    """A page with a frame of 3 pixels, whose inside is 344 × 274 pixels."""
    grey = np.full((360, 400), 255, np.uint8)
    grey[40:320, 30:380] = 0
    grey[43:317, 33:377] = 255
    grey[110:190, 120:220] = 0
    return grey


BARE_INSIDE = 1 - 100 * 80 / (344 * 274)


def test_law_the_board_is_the_whole_picture_a_box_or_a_frame(saved):
    path = saved(ruled_page())
    outline = tuple(pixels * PIXEL for pixels in (33, 43, 344, 274))
    assert read_artwork(path, outline=outline, black="kept").bare == BARE_INSIDE
    in_frame = read_artwork(path, outline="frame", black="kept")
    assert in_frame.bare == BARE_INSIDE
    assert holds(in_frame.doubts, "inside of the frame; its line, 0.064 mm")
    whole = read_artwork(path, black="kept")
    assert holds(whole.doubts, "give the frame as its outline")
    black = 100 * 80 + 350 * 280 - 344 * 274
    assert whole.bare == 1 - black / (400 * 360)


def test_law_a_picture_larger_than_its_drawing_says_so(saved, refusal):
    path = saved(page(400, 360, (120, 110, 220, 190)))
    doubts = read_artwork(path, black="kept").doubts
    assert holds(doubts, "The drawing fills 6% of the picture")
    assert "no straight closed line" in refusal(path, outline="frame")
    doubts = read_artwork(saved(page(300, 260, (40, 30, 220, 200)))).doubts
    assert holds(doubts, "The drawing fills 39%")


@pytest.mark.parametrize(
    "outline, words",
    [
        ((0, 0, 1, 1), "outline: width = 1"),
        ((-1, 0, 0.005, 0.005), "outline: x = -1"),
        ("oval", "outline = 'oval'"),
        ((1, 2), "outline = (1, 2)"),
        ((0, 0, 0, 0), "outline: width = 0"),
    ],
)
def test_law_an_outline_that_cannot_be_is_refused(saved, refusal, outline, words):
    assert words in refusal(saved(ruled_page()), outline=outline)


@pytest.mark.parametrize("ink, paper, black", [(0, 255, "kept"), (255, 0, "etched")])
def test_law_the_frame_is_the_outermost_line_of_what_stays(saved, ink, paper, black):
    # a negative on black paper as well
    path = saved(framed(3, ink=ink, paper=paper))
    art = read_artwork(path, dpi=254, black=black, outline="frame")
    assert art.bare == pytest.approx(1 - 60 * 120 / (254 * 314), abs=1e-12)
    assert art.width == pytest.approx(31.4e-3)


def test_law_a_frame_that_is_too_thick_is_none(saved, refusal):
    words = refusal(saved(framed(15)), dpi=254, outline="frame")  # 1.5 mm
    assert "at most 1 mm thick and straight along 80%" in words


def test_law_the_border_of_a_scan_is_no_outline(saved, refusal):
    # a scanner's border round the real outline
    border = saved(np.minimum(framed(5, at=0), framed(2, at=40)))
    words = refusal(border, dpi=254, outline="frame")
    assert "0.5 mm thick, over 0.3 mm: the border of a scan" in words
    doubts = read_artwork(border, dpi=254, black="kept").doubts
    assert holds(doubts, "A border 0.5 mm thick")


def test_law_a_box_along_a_drawn_outline_says_so(saved):
    along_the_line = tuple(pixels * 1e-4 for pixels in (21, 21, 318, 258))
    doubts = read_artwork(saved(framed(2)), dpi=254, outline=along_the_line).doubts
    assert holds(doubts, "A line 0.1 mm thick runs along the outline")
    assert not holds(doubts, "the other way round")


def test_law_a_board_too_large_for_its_resolution_is_refused(saved, refusal):
    assert "mm wide at 2540" in refusal(saved(page(), dpi=2540))


# --- doubts --------------------------------------------------------------------------------------


@pytest.mark.parametrize("black, opposite", [(None, "goes"), ("kept", "goes")])
def test_law_white_on_black_is_noticed_where_black_stays(saved, black, opposite):
    words = f"the other way round: black is copper that {opposite}"
    assert holds(read_artwork(saved(255 - page()), black=black).doubts, words)
    assert not holds(read_artwork(saved(page()), black=black).doubts, "other way round")


def test_law_black_on_white_is_noticed_where_black_goes(saved):
    words = "the other way round: black is copper that stays"
    assert holds(read_artwork(saved(page()), black="etched").doubts, words)
    doubts = read_artwork(saved(255 - page()), black="etched").doubts
    assert not holds(doubts, "other way round")


def test_law_an_artwork_without_a_doubt_still_has_one_side(saved):
    art = read_artwork(saved(page()), black="kept", outline=(0, 0, 0.006, 0.0055))
    assert art.doubts == (ONE_SIDE,)
    assert read_artwork(saved(page())).doubts[-1] == ONE_SIDE


def test_law_a_trace_of_three_pixels_is_not_trusted(saved):
    grey = page()
    grey[210:213, 20:280] = 0
    doubts = read_artwork(saved(grey), black="kept").doubts
    assert holds(doubts, "3.0 pixels wide, too few to trust")


def test_law_what_so_few_pixels_may_miss_is_said(saved):
    doubts = read_artwork(saved(page()), dpi=600).doubts
    assert holds(doubts, "under 0.13 mm, 3 pixels")


def test_law_few_colours_are_doubted_and_many_refused(saved, refusal):
    green = np.stack([page()] * 3, axis=-1)
    green[210:214, 20:280] = 0, 255, 0
    assert holds(read_artwork(saved(green)).doubts, "is coloured and was read by its brightness")
    green[160:, :100] = 0, 255, 0  # 13 % of it
    assert "has colours on" in refusal(saved(green))
    photo = photograph()
    colours = np.stack([photo, 255 - photo, np.full_like(photo, 128)], axis=-1)
    assert "has colours on" in refusal(saved(colours))


def test_law_a_photograph_is_no_drawing(saved, refusal):
    assert "looks like a photograph" in refusal(saved(photograph()))


@pytest.mark.parametrize("grey, words", [(0, "nothing lighter"), (255, "nothing darker")])
def test_law_a_picture_of_one_colour_shows_nothing(saved, refusal, grey, words):
    assert words in refusal(saved(np.full((300, 300), grey, np.uint8)))


def test_law_the_words_are_the_numbers_and_every_doubt(saved):
    grey = page()
    grey[210:216, 20:280] = 0
    art = read_artwork(saved(grey))
    for words in (
        f"{art.width * 1e3:.1f} × {art.height * 1e3:.1f} mm (hold a ruler to it)",
        f"{art.area * 1e4:.2f} cm²",
        f"{100 * art.bare:.1f} %",
        f"{art.copper_mass() * 1e3:.2f} g of copper",
        f"Narrowest trace: {art.trace.width * 1e3:.2f} ± ",
        *art.doubts,
    ):
        assert words in art.words
    assert str(art) == art.words


def test_law_a_narrow_place_is_said_from_the_corner_of_the_picture(saved):
    # a line 8 pixels wide, whose middle lies 200 pixels down; the board begins 40 over and 100 down
    grey = page(width=400, height=360, box=(100, 196, 340, 204))
    art = read_artwork(saved(grey), outline=(40 * PIXEL, 100 * PIXEL, 350 * PIXEL, 250 * PIXEL))
    assert art.trace.width == pytest.approx(8 * PIXEL, rel=0.01)
    assert art.trace.y == pytest.approx(200 * PIXEL, abs=PIXEL)
    assert 100 * PIXEL < art.trace.x < 340 * PIXEL


def test_law_a_grey_just_under_a_level_is_below_it():
    # levels lie between whole greys: 127 is under 127.5, and so is all that is darker
    counts = np.zeros(256, np.int64)
    counts[[0, 127, 128, 255]] = 1
    assert _share_below(counts, 127.5) == 0.5
    assert _share_below(counts, 127.0) == 0.25


# --- arguments -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "argument",
    [{"dpi": 0}, {"dpi": float("nan")}, {"width": 3.0}, {"black": "copper"}, {"dpi": "1200"}],
)
def test_law_an_argument_that_cannot_be_is_refused_by_name(saved, argument):
    with pytest.raises(ValueError, match=next(iter(argument))):
        read_artwork(saved(page()), **argument)


@pytest.mark.parametrize("path", [5, bytearray(b"x"), ""])
def test_law_what_is_no_name_of_a_file_is_refused(path):
    with pytest.raises(ValueError, match=r"path = .* it must be the name of a file"):
        read_artwork(path)


def test_law_a_folder_and_a_file_that_is_missing_are_said(refusal, tmp_path):
    assert refusal(tmp_path) == "is a folder"
    assert refusal(tmp_path / "none.png") == "there is no such file"


# --- a file as bytes, as a page hands it over -----------------------------------------------------


@pytest.mark.parametrize("name", ["art.png", "art.tif", "art.bmp"])
def test_law_bytes_are_read_as_their_file_is(saved, name, monkeypatch):
    """Number by number, with the same words; and no file is opened for it."""
    path = saved(page(), name)
    of_file, data = read_artwork(path), path.read_bytes()
    monkeypatch.setattr("builtins.open", None)
    of_bytes = read_artwork(data, name=name)
    assert of_bytes == of_file and of_bytes.words == of_file.words


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "is empty: it must be a PNG"),
        (b"\xff\xd8\xff and more", "is a JPEG, which smears edges"),
        (b"\x89PNG\r\n\x1a\n and no more", "is damaged or cut short"),
    ],
)
def test_law_bytes_that_are_no_picture_are_refused_by_their_name(data, reason):
    with pytest.raises(ValueError, match=f"^mine: {reason}"):
        read_artwork(data, name="mine")


def test_law_bytes_need_a_name_and_a_file_has_its_own(saved):
    path = saved(page())
    for name in (None, "", 5):
        with pytest.raises(ValueError, match=r"^name = .* bytes need the name of their file"):
            read_artwork(path.read_bytes(), name=name)
    with pytest.raises(ValueError, match=r"^name = 'x' is impossible: a file has its own"):
        read_artwork(path, name="x")


# --- a size that somebody else knows --------------------------------------------------------------


@pytest.mark.parametrize("dpi", [None, 72, 96, 20])
def test_a_file_without_a_size_takes_the_one_that_is_offered(saved, dpi):
    """72 and 96 pixels per inch are a screen's, 20 are none of an artwork."""
    path = saved(page(), "bare.png", dpi=dpi)
    art = read_artwork(path, width_if_unknown=0.05)
    assert art.width == pytest.approx(0.05) and not art.own_size
    assert holds(art.doubts, "the picture was taken to be 50 mm wide")
    assert art.bare == read_artwork(path, width=0.05).bare


def test_a_size_that_is_offered_gives_way_to_the_files_own(saved):
    path = saved(page())
    art = read_artwork(path, width_if_unknown=0.05)
    assert art == read_artwork(path) and art.own_size
    given = read_artwork(path, width=300 * PIXEL, width_if_unknown=0.05)
    assert given.width == pytest.approx(300 * PIXEL) and not given.own_size


@pytest.mark.parametrize("width", [0.001, 75, "wide"])
def test_an_impossible_size_is_refused_though_nobody_needs_it(saved, width):
    with pytest.raises(ValueError, match=r"^width_if_unknown = "):
        read_artwork(saved(page()), width_if_unknown=width)
