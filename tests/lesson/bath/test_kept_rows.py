"""Kept rows are `compare`'s, worked out anew; none hands over what its plan may not (laws)."""

import csv
import io
import re

import pytest
from helpers.amounts import amounts
from helpers.workshop import POUR

from pcbchem.bench.mixtures import compare
from pcbchem.bench.plan.planning import for_class
from pcbchem.lesson.bath import kept_rows
from pcbchem.lesson.form import fields

FEW = 30
WINDOW, HOTTEST = (180.0, 480.0), 313.15
MILD = dict(fields.STARTS)
STRONG = MILD | {"acid": 31, "peroxide": 32.5, "water_parts": 3, "total": 22.4}
NEVER = MILD | {"peroxide_parts": 0}
PORTIONS = MILD | {"held_back": 50, "held_until": 1}
LOST = ({"acid": 10}, MILD | {"foil": 0}, MILD | {"acid": "ten"})
"""Of an older edition, of what cannot be, and changed by hand."""
VOLUME = re.compile(r"\(mL\)|\(mol\)|\d\s*mL")


def plan_of(row):
    return fields.plan_from(row, draws=FEW)


def class_plan_of(row):
    return for_class(plan_of(row))


def shown(*rows, plan_of=plan_of):
    """HTML without the bytes of its picture, CSV, and lost places of some rows."""
    page, text, lost = kept_rows.rows_shown(rows, plan_of, WINDOW, HOTTEST)
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", page), text, lost


def table_of(text):
    """Rows of comma-separated values, as any program reads them."""
    return list(csv.DictReader(io.StringIO(text)))


@pytest.fixture(scope="module")
def plans():
    rows = {"1": MILD, "2": STRONG, "3": NEVER, "4": PORTIONS}
    return {name: plan_of(row) for name, row in rows.items()}


@pytest.fixture(scope="module")
def comparison(plans):
    return compare(plans, window=WINDOW, hottest=HOTTEST)


def test_law_the_table_is_the_one_that_python_gives(comparison):
    page, text, lost = shown(MILD, STRONG, NEVER, PORTIONS)
    assert page.startswith(comparison._repr_html_()) and page.count("<img") == 1
    assert text == kept_rows.csv_of(comparison) and lost == []


def test_law_the_file_holds_every_number_of_every_row(comparison):
    """Read back by a reader of such files; what a row does not say is blank."""
    rows = table_of(kept_rows.csv_of(comparison))
    assert [row["row"] for row in rows] == ["1", "2", "3", "4"]
    for row, (_, numbers) in zip(rows, comparison.rows.items(), strict=True):
        for name, value in numbers.items():
            kept = row[name] if isinstance(value, str) else float(row[name])
            assert kept == value, name
        said = {name for name, text in row.items() if text} - {"row"}
        assert said <= set(numbers), said - set(numbers)


OWN_INPUTS = {
    "board (mm × mm)": "75 × 60",
    "bare (%)": 60.0,
    "back, bare (%)": 0.0,
    "foil (oz)": 1.0,
    "bottles (°C)": 20.0,
    "air (°C)": 20.0,
    "movement": "rocked",
    "copper faces": "up",
    "vessel": "tray, size not said",
    "used bath": "none",
}


def test_law_every_line_of_the_file_holds_its_own_inputs(comparison):
    """Also of a refused row, and of one from another board; the table tells boards apart."""
    first, strong, *_ = table_of(kept_rows.csv_of(comparison))
    for row in (first, strong):
        for name, value in OWN_INPUTS.items():
            own = row[name] if isinstance(value, str) else pytest.approx(float(row[name]))
            assert own == value, name
        assert row["place"] and float(row["bare copper (cm²)"]) == pytest.approx(27)
    other = MILD | {"board_width": 100, "bare": 30, "bottles": 17, "facing": "down"}
    page, text, _ = shown(MILD, other)
    _, row = table_of(text)
    names = ("board (mm × mm)", "bare (%)", "bottles (°C)", "copper faces")
    assert [row[name] for name in names] == ["100 × 60", "30.0", "17.0", "down"]
    assert "75 × 60 mm, 60 % bare" in page and "100 × 60 mm, 30 % bare" in page


def test_law_lost_rows_are_named_and_the_others_stay():
    page, text, lost = shown(LOST[0], MILD, *LOST[1:], NEVER)
    assert lost == [0, 2, 3]
    assert [row["row"] for row in table_of(text)] == ["1", "2"]
    assert "Row 1, mix it" in page and "Row 2, do not mix" in page and "Row 3" not in page


def test_law_nothing_is_shown_where_every_row_is_lost():
    assert shown(*LOST) == ("", "", [0, 1, 2])
    assert shown() == ("", "", [])


def test_law_a_fault_of_the_program_comes_out():
    """Only what a row says may be wrong with it."""

    def broken(row):
        raise ZeroDivisionError("planted")

    with pytest.raises(ZeroDivisionError):
        shown(MILD, plan_of=broken)


def test_law_a_refused_row_has_no_amount():
    page, text, _ = shown(STRONG, NEVER)
    assert not VOLUME.search(page) and not VOLUME.search(text)
    assert not POUR.search(page)


def test_law_beside_a_row_with_amounts_a_refused_one_is_blank(comparison):
    mild, strong, never, _ = table_of(kept_rows.csv_of(comparison))
    columns = [name for name in mild if VOLUME.search(name)]
    assert len(columns) >= 4 and all(mild[name] for name in columns if "second" not in name)
    assert not any(row[name] for row in (strong, never) for name in columns)


def test_law_a_class_s_row_has_no_amount_though_it_was_kept_with_one():
    page, text, _ = shown(MILD, PORTIONS, plan_of=class_plan_of)
    assert amounts(page) == [] and not VOLUME.search(text)
    with_amounts, _, _ = shown(MILD)
    assert VOLUME.search(with_amounts), "an amount would be found"


def test_law_the_picture_in_words_holds_the_plans_numbers(plans):
    said = kept_rows.picture_words(plans)
    for name, plan in plans.items():
        part = said[said.index(f"Row {name}, {plan.verdict}: ") :].split(". ")[0]
        for band in (plan.bands["etching_peak"], plan.bands["standing_peak"]):
            ends = dict.fromkeys(f"{float(end) - 273.15:.0f}" for end in (band.low, band.high))
            assert f"{' to '.join(ends)} °C" in part, name
    times = plans["1"].bands["time_to_clear"]
    assert f"clear in {times.low / 60:.1f} to {times.high / 60:.1f} min" in said
    assert "45 °C" in said and not POUR.search(said)


def bands(axes):
    """Filled shapes of a picture: hatched, low and high x."""
    listed = []
    for shape in axes.collections:
        x = shape.get_paths()[0].vertices[:, 0]
        listed.append((bool(shape.get_hatch()), x.min(), x.max()))
    return listed


def test_law_a_refused_row_is_hatched_and_no_other(plans):
    times, warmth = kept_rows.drawn(plans).figure.axes
    assert [hatched for hatched, *_ in bands(times)] == [plan.refused for plan in plans.values()]
    twice = [plan.refused for plan in plans.values() for _ in range(2)]
    assert [hatched for hatched, *_ in bands(warmth)] == twice
    # one is refused for harm and one would not do the job: both are refused
    assert {plan.harmful for plan in plans.values() if plan.refused} == {True, False}
    assert "Hatched: refused." in kept_rows.picture_words(plans)
    assert times.get_title(loc="left") == "Hatched: refused"
    alone = {"1": plans["1"]}
    assert "Hatched" not in kept_rows.picture_words(alone)
    assert kept_rows.drawn(alone).figure.axes[0].get_title(loc="left") == ""


def test_law_bands_are_the_plans(plans):
    times, warmth = kept_rows.drawn(plans).figure.axes
    band = plans["1"].bands["time_to_clear"]
    assert bands(times)[0][1:] == pytest.approx((band.low / 60, band.high / 60))
    # never clear: up to the end of the axis
    assert bands(times)[2][2] == pytest.approx(kept_rows.LONGEST)
    peak, day = (plans["1"].bands[name] for name in ("etching_peak", "standing_peak"))
    assert bands(warmth)[0][1:] == pytest.approx((peak.low - 273.15, peak.high - 273.15))
    assert bands(warmth)[1][1:] == pytest.approx((day.low - 273.15, day.high - 273.15))
    low, high = warmth.get_xlim()
    assert all(low <= left and right <= high for _, left, right in bands(warmth))
    assert [line.get_xdata()[0] for line in warmth.lines] == [45.0]


def test_law_words_of_the_picture_stay_in_it(plans):
    six = {str(number): plans["2"] for number in range(1, 7)}
    for some in (six, {"1": plans["1"]}):
        sheet = kept_rows.drawn(some).figure
        sheet.draw_without_rendering()
        renderer = sheet.canvas.get_renderer()
        for axes in sheet.axes:
            low, high = axes.get_xlim()
            ticks = [
                tick.label1
                for tick in axes.xaxis.get_major_ticks()
                if low <= tick.get_loc() <= high
            ]
            for text in (*ticks, *axes.get_yticklabels(), axes.xaxis.label):
                box = text.get_window_extent(renderer)
                assert box.x0 > -2 and box.x1 < sheet.bbox.width + 2, text.get_text()
                assert box.y0 > -2 and box.y1 < sheet.bbox.height + 2, text.get_text()
        left, right = (axes.xaxis.label.get_window_extent(renderer) for axes in sheet.axes)
        assert left.x1 < right.x0
