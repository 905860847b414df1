"""A file comes whole or not at all, under its plain name, and only of its kind and size (laws)."""

import itertools

import pytest

from pcbchem.page.widget.controls import Upload
from pcbchem.page.widget.uploads import (
    MOST_UPLOADS,
    NotTaken,
    Pieces,
    plain_name,
    put_together,
    take_piece,
)

ARTWORK = Upload("artwork", "Artwork", (".png", ".tif"), 6)


def sent(*pieces, count=3):
    """What has come of a file, of places and bytes in the order of coming."""
    uploads = {}
    for place, part in pieces:
        take_piece(uploads, {"upload": "7", "piece": place, "count": count}, [part], 6)
    return uploads["7"]


def test_law_in_whatever_order_pieces_come_the_file_is_the_same():
    parts = [(0, b"ab"), (1, b"cd"), (2, b"e")]
    for order in itertools.permutations(parts):
        assert put_together(sent(*order), ARTWORK, "a.png") == ("a.png", b"abcde")
        again = sent(*order, *order)
        assert put_together(again, ARTWORK, "a.png") == ("a.png", b"abcde")


@pytest.mark.parametrize(
    "pieces",
    [
        [(0, b"ab"), (2, b"e")],
        [(0, b"ab"), (1, b"cd")],
        [(0, b"ab"), (1, b"cd"), (1, b"XX"), (2, b"e")],
        [(0, b"ab"), (1, b"cd"), (2, b"e"), (3, b"f")],
        [(-1, b"ab"), (1, b"cd"), (2, b"e")],
        [(0, b"ab"), (1, b"cd"), (2, b"efg")],
    ],
)
def test_law_pieces_that_are_not_the_whole_make_no_file(pieces):
    with pytest.raises(NotTaken, match=r"a\.png did not arrive whole: choose it again"):
        put_together(sent(*pieces), ARTWORK, "a.png")


def test_law_a_file_of_which_nothing_came_is_none():
    with pytest.raises(NotTaken, match="did not arrive whole"):
        put_together(None, ARTWORK, "a.png")


def test_law_a_page_that_changes_its_count_sends_no_whole_file():
    pieces = Pieces(1)
    pieces.take({"piece": 0, "count": 1}, b"a", 6)
    assert pieces.is_whole()
    pieces.take({"piece": 0, "count": 2}, b"a", 6)
    assert not pieces.is_whole() and pieces.parts == {}


def test_law_what_is_more_than_any_file_may_be_is_not_kept():
    pieces = sent((0, b"123456"), (1, b"7"))
    assert pieces.is_spoiled and pieces.parts == {}


def test_law_a_file_of_another_kind_or_size_is_not_taken():
    whole = sent((0, b"ab"), (1, b"cd"), (2, b"e"))
    with pytest.raises(NotTaken, match=r"a\.gif is none of these: \.png, \.tif\."):
        put_together(whole, ARTWORK, "a.gif")
    small = Upload("artwork", "Artwork", (".png",), 4)
    with pytest.raises(NotTaken, match=r"A\.PNG is too large: at most 4e-06 MB"):
        put_together(whole, small, "A.PNG")
    with pytest.raises(NotTaken, match="A file without a name"):
        put_together(whole, ARTWORK, "a.png/")


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("../x.png", "x.png"),
        ("C:\\x.png", "x.png"),
        ("C:x.png", "x.png"),
        ("/etc/x.png", "x.png"),
        ("..\\..\\x.png", "x.png"),
        ("a\nb.png", "ab.png"),
        ("a\u202eb.png", "ab.png"),
        ("a\ud83d.png", "a.png"),
        ("<b>ü.png", "<b>ü.png"),
        ("..", ".."),
        ("", ""),
    ],
)
def test_law_of_a_name_only_its_last_part_is_taken(name, plain):
    assert plain_name(name) == plain


def test_law_uploads_that_were_given_up_are_forgotten():
    uploads = {}
    for number in range(MOST_UPLOADS + 2):
        take_piece(uploads, {"upload": number, "piece": 0, "count": 2}, [b"x"], 6)
    assert list(uploads) == [2, 3, 4]
