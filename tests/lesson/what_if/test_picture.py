"""The picture: the ground stays while the cursor moves, refused is blank, words do not collide."""

import numpy as np
import pytest

from pcbchem.bench.hazards.verdicts import REFUSED
from pcbchem.lesson.what_if import maps, picture, words
from pcbchem.lesson.what_if.triangle import place_on_picture

TIME = words.LAYERS["time"]


@pytest.fixture
def drawing():
    return picture.build(False)


def colour_at(drawing, shares):
    """The picture's colour at a mixture, as red, green, blue."""
    pixels = drawing.pixels()
    x, y = place_on_picture(shares, False)
    height, width, _ = pixels.shape
    return pixels[int(y * height), int(x * width)].astype(int)


def texts(drawing):
    """All words on the picture."""
    return [text.get_text() for text in drawing.figure.axes[0].texts]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("layer", words.LAYERS)
def test_law_every_layer_is_drawn_wide_and_narrow(coarse, layer, narrow):
    drawing = picture.build(narrow)
    for every in coarse.values():
        picture.show(drawing, every, words.LAYERS[layer], every.nearest(0, 1, 1))
        assert drawing.png().startswith(b"\x89PNG")


def test_law_the_cursor_moves_over_a_ground_that_stays(coarse, drawing):
    every = coarse["workshop"]
    picture.show(drawing, every, TIME, 0)
    before, ground = drawing.pixels().copy(), drawing._ground
    picture.show(drawing, every, TIME, every.nearest(1, 1, 1))
    after = drawing.pixels()
    assert drawing._ground is ground
    changed = np.any(before != after, axis=2)
    # a ring in its old place and in its new one
    assert 0 < changed.mean() < 0.02


def test_law_other_bottles_or_another_layer_draw_the_ground_anew(coarse, drawing):
    seen = set()
    for name, layer in (("workshop", "time"), ("maker", "time"), ("maker", "acid")):
        picture.show(drawing, coarse[name], words.LAYERS[layer], 0)
        seen.add(drawing.png())
    assert len(seen) == 3


def test_law_refused_is_blank_and_the_rest_is_not(whole, drawing):
    picture.show(drawing, whole, TIME, 0)
    for shares, is_blank in {(0.3, 0.62, 0.08): True, (0.2, 0.2, 0.6): False}.items():
        place = whole.nearest(*shares)
        assert (whole.severity[place] == REFUSED) == is_blank
        assert bool((colour_at(drawing, shares) == 255).all()) == is_blank


def test_law_hatched_where_care_is_wanted_alone(coarse, drawing):
    picture.show(drawing, coarse["workshop"], TIME, 0)
    hatches = [patch for patch in drawing.figure.axes[0].patches if patch.get_hatch()]
    # the map's, and the one of the key
    assert len(hatches) == 2


def test_law_a_refused_ratio_is_crossed_out(coarse, drawing):
    def marks(name):
        picture.show(drawing, coarse[name], TIME, coarse[name].nearest(3, 1, 1))
        return [line.get_marker() for line in drawing.figure.axes[0].lines]

    assert marks("workshop").count("x") == 0 and marks("workshop").count("o") >= len(words.MARKS)
    assert marks("strong").count("x") >= 2


def test_law_the_cursor_is_crossed_out_where_it_is_refused(coarse, drawing):
    every = coarse["workshop"]
    shapes = []
    for parts in ((0, 1, 1), (1, 0, 0)):
        picture.show(drawing, every, TIME, every.nearest(*parts))
        shapes.append(drawing.parts["cursor"].dot.get_marker())
    assert shapes == ["+", "x"]


def test_law_words_of_the_map_do_not_cover_each_other(whole, coarse):
    for narrow in (False, True):
        drawing = picture.build(narrow)
        for every in (whole, *coarse.values()):
            picture.show(drawing, every, TIME, 0)
            taken = drawing.parts["ground"].taken
            marks = 2 * len(words.MARKS) + 2 + len(picture.WATER_LINES)
            for number, box in enumerate(taken):
                # marks stand where they stand; what comes later gives way
                later = taken[max(number + 1, marks) :]
                assert not any(box.meets(other) for other in later)


def test_law_the_key_s_verdicts_are_the_planner_s_and_no_permission(coarse):
    for narrow in (False, True):
        drawing = picture.build(narrow)
        picture.show(drawing, coarse["workshop"], TIME, 0)
        written = texts(drawing)
        assert written.index(picture.KEY) == written.index("mix it") - 1
    assert "planner says" in picture.KEY and "no permission" in picture.KEY


def test_law_corners_and_reasons_are_named(whole, drawing):
    picture.show(drawing, whole, TIME, 0)
    written = texts(drawing)
    for name in ("water", "acid 31.45 %", "peroxide 3 %", "leanest", "never clears"):
        assert name in written
    assert "15 min" in written and "too strong:\nacid" in written


def test_law_tints_go_from_pale_to_deep():
    """They differ in grey too, and are all of the one blue."""
    tints = np.array(picture.tints_of(5, False))
    assert (np.diff(tints.sum(axis=1)) < 0).all()
    assert (tints[:, 2] >= tints[:, 0]).all()
    assert picture.tints_of(5, True) == picture.tints_of(5, False)[::-1]


def test_law_a_first_look_says_so_on_the_picture(coarse, whole, drawing):
    for every, is_quick in ((coarse["maker"], True), (whole, False)):
        picture.show(drawing, every, TIME, 0)
        assert any("First look" in text for text in texts(drawing)) == is_quick
    assert maps.is_quick(coarse["maker"])
