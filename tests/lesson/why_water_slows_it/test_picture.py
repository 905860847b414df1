"""The picture of what water costs is drawn to scale, from the bench's own numbers (laws)."""

import numpy as np
import pytest
from helpers.water_baths import PARTS, SETTINGS, STRENGTHS

from pcbchem import Tray
from pcbchem.bench.plan.dilution import film_at_start
from pcbchem.lesson.why_water_slows_it.picture import BUBBLE, NEVER, TIMES, WIDEST, arrow, spread
from pcbchem.reaction.bath.setup import Foil


def drawn(panel, part, **values):
    """A part of the panel's picture, with the answer."""
    return panel.picture_and_words(False, **values, predicted="-")[0].parts[part]


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_marker_lies_on_the_middle_line(panel, bench, bottles, parts):
    """Where the slider stands, with the band's ends at it."""
    dilution, place = bench[bottles], PARTS.index(parts)
    strengths = drawn(panel, "strengths", bottles=bottles, water=parts)
    (x,), (y,) = strengths.dot.get_data()
    line = np.column_stack(strengths.middle.get_data())
    assert (line == (x, y)).all(axis=1).sum() == 1
    times = dilution.times
    low, middle, high = (
        min(float(ends[place]), NEVER) for ends in (times.low, times.middle, times.high)
    )
    assert (x, y) == pytest.approx((dilution.peroxide[place] / 1000, middle))
    assert list(strengths.bar.get_ydata()) == pytest.approx([low, high])
    assert set(strengths.bar.get_xdata()) == {x}
    assert TIMES[0] < low and high <= NEVER < TIMES[1]


@pytest.mark.parametrize("bottles", STRENGTHS)
def test_law_the_dashed_line_is_strength_alone(panel, bench, bottles):
    """From the undiluted middle in inverse proportion to strength: slope −1 on scales of factors.

    1 %: strengths are the mixture's own, and mixed liquids take up a little less room.
    """
    strengths = drawn(panel, "strengths", bottles=bottles)
    x, y = strengths.alone.get_data()
    assert strengths.axes.get_xscale() == strengths.axes.get_yscale() == "log"
    start = (bench[bottles].peroxide[0] / 1000, float(bench[bottles].times.middle[0]))
    assert (x[0], y[0]) == pytest.approx(start)
    assert np.asarray(x) * y == pytest.approx(x[0] * y[0], rel=0.01)


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_the_film_is_drawn_to_scale(panel, bench, bottles, parts):
    """Its edge is as many pixels from the copper as its thickness on the axis."""
    dilution, place = bench[bottles], PARTS.index(parts)
    film = drawn(panel, "film", bottles=bottles, water=parts)

    def pixel(y):
        return film.axes.transData.transform((0, y))[1]

    per_um = (pixel(150) - pixel(0)) / 150
    thickness = float(dilution.film["thickness"][place]) * 1e6
    assert pixel(film.edge.get_ydata()[0]) - pixel(0) == pytest.approx(thickness * per_um)
    assert film.strip.get_xy()[:, 1].max() == film.edge.get_ydata()[0]


@pytest.mark.parametrize("bottles, parts", SETTINGS)
def test_law_arrows_and_bubbles_are_in_proportion(panel, bench, bottles, parts):
    """To what passes, the widest arrow being that of no water; copper leaves, the others arrive."""
    dilution, place = bench[bottles], PARTS.index(parts)
    film = drawn(panel, "film", bottles=bottles, water=parts)
    bath = (dilution.acid[place], dilution.peroxide[place], dilution.T[place])
    passing = film_at_start(*bath, 27e-4, Tray())
    undiluted = max(dilution.film[name][0] for name in ("peroxide", "acid", "copper"))
    for name, patch in film.arrows.items():
        corners = patch.get_xy()
        width = corners[1][0] - corners[0][0]
        assert width == pytest.approx(WIDEST * passing[name] / undiluted)
        assert (corners[4][1] < corners[0][1]) == (name != "copper")
    assert len(film.bubbles.get_xdata()) == round(float(passing["oxygen"]) / BUBBLE)


def test_law_what_was_measured_stands_where_it_was_measured(panel):
    """As printed: layers of a published test (µm in a minute) as times for 1 oz."""
    lines = drawn(panel, "strengths").axes.lines
    squares = [line.get_data() for line in lines if line.get_marker() == "s"]
    thick = float(Foil.ounces(1).thickness) * 1e6
    expected = ((0.7629, (3.5, 4.0)), (0.0795, (0.35, 0.40)))
    for (x, y), (strength, rates) in zip(squares, expected, strict=True):
        assert float(x[0]) == pytest.approx(strength)
        assert thick / rates[1] * 60 <= float(y[0]) <= thick / rates[0] * 60


def test_what_people_say_stands_as_open_marks(panel):
    axes = drawn(panel, "strengths").axes
    opened = [
        line.get_ydata()
        for line in axes.lines
        if line.get_marker() == "o" and line.get_markerfacecolor() == "white"
    ]
    assert [list(y) for y in opened] == [[2, 2], [60, 180], [1200]]
    texts = [text.get_text() for text in axes.texts]
    for words in ("measured here: two thin layers", "about 2 s", "1 to 3 min", "more than 20 min"):
        assert sum(words in text for text in texts) == 1


@pytest.mark.parametrize(
    ("guess", "factors"),
    [("1.3", (1.3, 1.3)), ("1.6", (1.6, 1.6)), ("2-4", (2, 4)), ("6-7", (6, 7))],
)
@pytest.mark.parametrize("parts", [0.0, 6.0])
def test_law_the_guess_is_a_hollow_mark_at_its_factor(panel, bench, guess, factors, parts):
    mild = bench["mild"]
    drawing, said = panel.picture_and_words(False, water=parts, predicted=guess)
    strengths = drawing.parts["strengths"]
    x, y = strengths.guess.get_xy().T
    ends = np.array([y.min(), y.max()]) / float(mild.times.middle[0])
    question = mild.peroxide[PARTS.index(1.2)] / 1000
    assert np.sqrt(x.min() * x.max()) == pytest.approx(question)
    assert np.sqrt(np.prod(ends)) == pytest.approx(np.sqrt(np.prod(factors)))
    assert factors[0] == factors[1] or ends == pytest.approx(factors)
    assert strengths.guess.get_visible() and strengths.guess.get_facecolor()[3] == 0, "hollow"
    words = panel.prediction.options[guess]
    assert strengths.guess_words.get_text() == f"your {words}" and words in said.alt


@pytest.mark.parametrize("other", [{"predicted": "-"}, {"predicted": "1.6", "bottles": "weak"}])
def test_no_guess_is_drawn_where_nobody_guessed(panel, other):
    assert not panel.picture_and_words(False, **other)[0].parts["strengths"].guess.get_visible()


def test_law_an_arrow_is_as_wide_and_long_as_it_should():
    corners = arrow(50, 10, 100, 2)
    assert corners[1][0] - corners[0][0] == 10 and corners[0][1] == 100
    assert tuple(corners[4]) == (50, 2), "the tip"


def test_law_bubbles_lie_in_the_strip_and_are_always_the_same():
    x, y = spread(50)
    assert x.min() > 0 and x.max() < 100 and y.min() > 0
    assert np.array_equal(spread(50)[0], x)
