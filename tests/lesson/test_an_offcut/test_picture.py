"""The rows of a bench: what is there is drawn to scale, what is to come is grey (laws)."""

import pytest

from pcbchem.lesson.test_an_offcut.numbers import (
    BENCHES,
    CARE,
    MOST_OFFCUTS,
    SEEN_LATE,
    after,
    by_labels,
    seen,
    truth,
)
from pcbchem.lesson.test_an_offcut.picture import ENDS, Funnel
from pcbchem.page.picture import FAINT, INK, figure

NAMES = ("labels alone", "1 large", "2 large")


@pytest.fixture(params=[False, True], ids=["wide", "narrow"])
def funnel(request):
    return Funnel(figure(4).add_subplot(), NAMES, 1, 11, request.param)


def test_law_a_row_stands_where_its_band_does(funnel):
    funnel.draw({"labels alone": by_labels()}, [240.0])
    x, _ = funnel.chart.bands[0].get_xy().T
    low, middle, high = (
        float(end) / 60 for end in (by_labels().low, by_labels().middle, by_labels().high)
    )
    assert (x.min(), x.max()) == pytest.approx((low, high))
    assert funnel.chart.dots[0].get_xydata()[0] == pytest.approx((middle, 0))


def test_law_a_row_to_come_is_grey_and_empty(funnel):
    funnel.draw({"labels alone": by_labels()}, [])
    assert not funnel.chart.bands[2].get_visible() and not funnel.chart.dots[2].get_visible()
    words = funnel.chart.words if funnel.narrow else funnel.labels
    assert [text.get_color() for text in words] == [INK, FAINT, FAINT]
    assert funnel.ranges[2].get_text() == funnel.widths[2].get_text() == ""
    # and is there when it comes
    funnel.draw({name: by_labels() for name in NAMES}, [])
    assert all(text.get_color() == INK for text in words)
    assert all(band.get_visible() for band in funnel.chart.bands)


def test_law_each_offcut_has_a_cross_on_its_own_row(funnel):
    funnel.draw({name: by_labels() for name in NAMES}, [240.0, 300.0])
    assert funnel.crosses.get_xydata().tolist() == [[4, 1], [5, 2]]
    funnel.draw({"labels alone": by_labels()}, [])
    assert len(funnel.crosses.get_xydata()) == 0


def test_law_the_truth_is_a_line_or_nothing(funnel):
    funnel.draw({"labels alone": by_labels()}, [], 270.0)
    assert set(funnel.truth.get_xdata()) == {4.5}
    assert funnel.truth_words.get_text() == "the truth: 4.5 min"
    funnel.draw({"labels alone": by_labels()}, [])
    assert len(funnel.truth.get_xdata()) == 0 and funnel.truth_words.get_text() == ""


def test_law_an_offcut_off_the_axis_points_there(funnel):
    funnel.draw({name: by_labels() for name in NAMES}, [60.0, 900.0])
    assert len(funnel.crosses.get_xydata()) == 0
    before, beyond = funnel.off
    assert before.get_xydata().tolist() == [[ENDS[0], 1]] and before.get_marker() == "<"
    assert beyond.get_xydata().tolist() == [[ENDS[1], 2]] and beyond.get_marker() == ">"


def test_law_every_bench_is_on_the_axis():
    for number in range(1, BENCHES + 1):
        for way in (CARE, SEEN_LATE):
            band = after(number, MOST_OFFCUTS, way)
            assert ENDS[0] < band.low / 60 and band.high / 60 < ENDS[1]
        assert ENDS[0] < truth(number) / 60 < ENDS[1]
        assert sum(ENDS[0] < time / 60 < ENDS[1] for time in seen(number)) >= MOST_OFFCUTS - 1
