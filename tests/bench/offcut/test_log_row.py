"""Law: an offcut comes back from its row to the last bit, and a row that cannot be says why."""

import re

import pytest
from helpers.offcuts import ROW, fields_of, mild, text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Bottle, Foil, Tray
from pcbchem.bench.offcut.log import read_log
from pcbchem.bench.offcut.log_layout import COLUMNS, WORDS, Layout
from pcbchem.bench.offcut.log_row import NUMBERS, cells_of, in_lab_units, in_si, offcut_of
from pcbchem.bench.offcut.offcut import Offcut


def test_law_every_column_holds_words_or_a_number():
    assert [name for name in COLUMNS if name not in WORDS] == list(NUMBERS)
    assert set(cells_of(mild())) == set(COLUMNS) == set(ROW)


# ---- back to the last bit


def span(low, high, above=False):
    return st.floats(low, high, exclude_min=above).map(lambda value: value + 0.0)  # no minus zero


def bottles(substance, most):
    ends = st.tuples(span(0, most), span(0, most)).map(sorted)
    return ends.map(lambda ends: Bottle(substance, *ends))


LETTERS = st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp"), exclude_characters="\ufffd")
NAMES = st.text(LETTERS, min_size=1, max_size=20).filter(str.strip)
NOTES = st.text(LETTERS | st.sampled_from('\n\t",;.='), max_size=60).filter(
    lambda note: note.count("\n") < 20
)


def offcut_with(area, bath, foil, tray, **rest):
    volume = min(area * bath, 1.0 if tray.open_area else 0.039)
    return Offcut(volume=volume, board=Board(area=area, foil=foil), tray=tray, **rest)


OFFCUTS = st.builds(
    offcut_with,
    acid=bottles("HCl", 0.45),
    peroxide=bottles("H2O2", 0.70),
    parts=st.tuples(*[span(0.01, 1000)] * 3),
    area=span(1e-4, 0.1),
    bath=span(4.2, 9),
    foil=st.builds(Foil, span(0, 5, above=True)),
    tray=st.builds(
        Tray,
        st.sampled_from(["still", "rocked", "bubbled", "sprayed"]),
        st.sampled_from(["up", "down", "upright"]),
        st.none() | span(0.1, 4),
        st.none() | span(250, 400),
    ),
    T_bottles=span(273.15, 313.15),
    time=span(0, 14400, above=True),
    clear=st.booleans(),
    acid_bottle=NAMES,
    peroxide_bottle=NAMES,
    date=st.text(LETTERS, max_size=20),
    note=NOTES,
)


@given(offcut=OFFCUTS, mark=st.sampled_from(".,"))
@settings(max_examples=60, deadline=None)
def test_law_an_offcut_comes_back_to_the_last_bit(offcut, mark):
    layout = Layout(decimal_mark=mark)
    cells = dict(zip(COLUMNS, layout.cells(cells_of(offcut)), strict=True))
    assert fields_of(offcut_of(cells, layout)) == fields_of(offcut)


@given(value=st.floats(0, 1e6), places=st.sampled_from([0, 2, 3, 4, 6, None]))
@settings(max_examples=200, deadline=None)
def test_law_a_lab_unit_is_a_shifted_point(value, places):
    value = value + 0.0 if places is not None else 273.15 + value / 1e4
    text = in_lab_units(value, places)
    assert in_si(Layout().number("x", text), places) == value
    lab = value - 273.15 if places is None else value * 10.0**places
    assert float(text) == pytest.approx(lab, rel=1e-12, abs=1e-12)
    assert not re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text), "it looks like thousands"


@pytest.mark.parametrize(
    "wrong, message",
    [
        (mild(time=None), "time = None is impossible in a log: it must be above 0, of an offcut"),
        ("a piece of board", "offcut = 'a piece of board' is impossible: it must be an Offcut"),
    ],
)
def test_law_only_an_etched_offcut_has_a_row(wrong, message):
    with pytest.raises(ValueError, match=message):
        cells_of(wrong)


# ---- bad rows

BAD = {  # what is changed in a good row, and what is said of it
    "too strong": (
        {"acid_low_percent": "120"},
        "acid_low_percent = 120 is impossible: it must be 0 to 45",
    ),
    "wrong way round": (
        {"acid_low_percent": "12"},
        "acid_low_percent = 12 is impossible: it must be at most acid_high_percent = 11",
    ),
    "peroxide": (
        {"peroxide_high_percent": "71"},
        "peroxide_high_percent = 71 is impossible: it must be 0 to 70",
    ),
    "blank": ({"bath_mL": " "}, "bath_mL is blank: it must be above 0 to 1e+06"),
    "no bath": ({"bath_mL": "0"}, "bath_mL = 0 is impossible: it must be above 0"),
    "nothing to pour": (
        {"water_parts": "0", "acid_parts": "0", "peroxide_parts": "0"},
        "is nothing to pour",
    ),
    "lake": (
        {"bath_mL": "9000", "bare_cm2": "5"},
        "bath_mL = 9000 is impossible over bare_cm2 = 5: it must be 0.01 to 1000 mL per cm²",
    ),
    "foil": (
        {"foil_g_per_m2": "5001"},
        "foil_g_per_m2 = 5001 is impossible: it must be above 0 to 5000",
    ),
    "kelvin": ({"bottles_C": "293"}, "bottles_C = 293 is impossible: it must be 0 to 40"),
    "air": ({"air_C": "-30"}, "air_C = -30 is impossible: it must be -23.15 to 126.85"),
    "a film": (
        {"open_cm2": "4000", "bath_mL": "40"},
        "bath_mL = 40 is impossible over open_cm2 = 4000: it must be 40.8 to",
    ),
    "a drop": (
        {"bath_mL": "0.1", "bare_cm2": "0.1"},
        "bath_mL = 0.1 is impossible over open_cm2 = 30: it must be 0.306",
    ),
    "a trough": (
        {"bath_mL": "39300", "bare_cm2": "500", "open_cm2": ""},
        "bath_mL = 39300 is impossible over bare_cm2 = 500 with open_cm2 blank: "
        "it must be 6.63 to 39215.7",
    ),
    "a wall": (
        {"bath_mL": "39000", "bare_cm2": "31000", "open_cm2": ""},
        "bare_cm2 with open_cm2 blank = 31000 is impossible: it must be above 0 to 30769.2",
    ),
    "agitation": (
        {"agitation": "stirred"},
        "agitation = 'stirred' is not known: choose from still, rocked",
    ),
    "long word": ({"agitation": "x" * 500}, "agitation = 'xxx"),
    "facing": ({"facing": ""}, "facing = '' is not known"),
    "tray": (
        {"open_cm2": "4"},
        "bare_cm2 = 5 is impossible facing up: it must be above 0 to open_cm2 = 4",
    ),
    "both times": ({"not_clear_after_s": "100"}, "are both given: exactly one"),
    "no time": ({"clear_after_s": ""}, "are both blank: exactly one"),
    "a day": (
        {"clear_after_s": "86400"},
        "clear_after_s = 86400 is impossible: it must be above 0 to 14400",
    ),
    "unit": ({"bath_mL": "50 mL"}, "bath_mL = '50 mL' is not a number"),
    "nan": ({"bath_mL": "nan"}, "bath_mL = 'nan' is not a number"),
    "infinite": ({"bath_mL": "1e999"}, "bath_mL = inf is impossible"),
    "thousands": (
        {"bath_mL": "1,234.5"},
        "bath_mL = '1,234.5' is not a number: it must be a number like 12.5",
    ),
    "perhaps thousands": ({"bath_mL": "1,234"}, "is not clear: this file writes decimals with '.'"),
    "other digits": ({"bath_mL": "٥٠"}, "is not a number"),
    "many digits": ({"bath_mL": "1" * 61}, "is not a number"),
    "nameless": (
        {"acid_bottle": " "},
        "acid_bottle of 0 letters is impossible: it must have 1 to 60",
    ),
    "long note": (
        {"note": "x" * 1001},
        "note of 1001 letters is impossible: it must have at most 1000",
    ),
    "other limits": (
        {"acid_high_percent": "12", "date": "x"},
        "acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % "
        "in line 2: give another bottle another name",
    ),
    "again": ({}, "is line 2 again in every column: if it is another test, say so in its note"),
    "lost letters": ({"note": "caf\ufffd"}, "holds bytes that are not text in UTF-8"),
    "zero": ({"date": "\0"}, "holds bytes"),
}


@pytest.mark.parametrize("name", BAD)
def test_law_a_bad_row_says_why_and_the_rest_loads(name, tmp_path):
    changes, reason = BAD[name]
    path = tmp_path / "log.csv"
    path.write_text(text_of(ROW, {**ROW, **changes}, {**ROW, "note": "three"}), encoding="utf-8")
    before, log = path.read_bytes(), read_log(path)
    assert log.lines == (2, 4) and [offcut.note for offcut in log.offcuts] == ["lamp on", "three"]
    assert [line for line, _ in log.bad] == [3] and reason in log.bad[0][1], log.bad
    assert len(log.bad[0][1]) < 300 and path.read_bytes() == before
