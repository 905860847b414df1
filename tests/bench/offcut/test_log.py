"""Law: an offcut comes back from its log to the last bit, and a row that cannot be is named by line and reason."""

import csv
import io
import itertools
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Bottle, Foil, Solution, Tray, mix
from pcbchem.bench.offcut import log as coupons
from pcbchem.bench.offcut import log_file
from pcbchem.bench.offcut import offcut as offcuts
from pcbchem.bench.offcut.likelihood import bottles as bottles_of
from pcbchem.bench.offcut.likelihood import expected
from pcbchem.bench.offcut.log import Log, append, read_log
from pcbchem.bench.offcut.log_file import COLUMNS
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.common.limits import collecting_warnings
from pcbchem.reaction.bath.parameters import shipped_draws
from pcbchem.reaction.bath.setup import Start

MILD = dict(
    acid=Bottle("HCl", 0.09, 0.11),
    peroxide=Bottle("H2O2", 0.085, 0.12),
    parts=(1, 1, 1.5),
    volume=50e-6,
    board=Board(area=5e-4),
    tray=Tray(),
    T_bottles=293.15,
    time=240.0,
)


def mild(**changes):
    return Offcut(**{**MILD, **changes})


def taken(offcut):
    """Every field to its last bit, taken apart without the modules under test."""
    tray, floats = (
        offcut.tray,
        (
            offcut.acid.low,
            offcut.acid.high,
            offcut.peroxide.low,
            offcut.peroxide.high,
            *offcut.parts,
            offcut.volume,
            offcut.board.area,
            offcut.board.foil.areal_mass,
            offcut.tray.open_area,
            offcut.T_bottles,
            offcut.tray.T_air,
            offcut.time,
        ),
    )
    return (
        *("" if value is None else float(value).hex() for value in floats),
        offcut.clear,
        tray.agitation,
        tray.facing,
        offcut.acid_bottle,
        offcut.peroxide_bottle,
        offcut.date,
        offcut.note,
    )


def span(low, high, above=False):
    return st.floats(low, high, exclude_min=above).map(lambda value: value + 0.0)  # no minus zero


def bottles(substance, most):
    return (
        st.tuples(span(0, most), span(0, most))
        .map(sorted)
        .map(lambda ends: Bottle(substance, *ends))
    )


LETTERS = st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp"), exclude_characters="\ufffd")
NAMES = st.text(LETTERS, min_size=1, max_size=20).filter(
    lambda name: name.strip() and name.strip()[0] not in "=+-@"
)
NOTES = st.text(LETTERS | st.sampled_from('\n\t",;.='), max_size=60).filter(
    lambda note: note.count("\n") < 20 and not note.lstrip(" \t\n").startswith(tuple("=+-@"))
)
OFFCUTS = st.builds(
    lambda area, bath, **rest: Offcut(
        volume=min(area * bath, 1.0 if rest["tray"].open_area else 0.039),
        board=Board(area=area, foil=rest.pop("foil")),
        **rest,
    ),
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
    date=st.text(LETTERS, max_size=20).filter(lambda d: not d.strip().startswith(tuple("=+-@"))),
    note=NOTES,
)


@given(offcut=OFFCUTS)
@settings(max_examples=80, deadline=None)
def test_law_an_offcut_comes_back_to_the_last_bit(offcut, tmp_path_factory):
    path = tmp_path_factory.mktemp("log") / "a.csv"
    append(path, offcut)
    log = read_log(path)
    assert (
        [taken(each) for each in log.offcuts] == [taken(offcut)]
        and log.lines == (2,)
        and log.bad == ()
    )
    assert log.sha256 == Log.of([offcut]).sha256


@given(value=st.floats(0, 1e6), places=st.sampled_from([0, 2, 3, 4, 6, None]))
@settings(max_examples=200, deadline=None)
def test_law_a_lab_unit_is_a_shifted_point_and_never_looks_like_thousands(value, places):
    value = value + 0.0 if places is not None else 273.15 + value / 1e4
    text = offcuts.in_lab_units(value, places)
    assert offcuts.in_si(log_file.Layout().number("x", text), places) == value
    lab = value - 273.15 if places is None else value * 10.0**places
    assert float(text) == pytest.approx(lab, rel=1e-12, abs=1e-12)
    assert not re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text)


def test_law_a_new_log_says_its_units_and_reads_as_one_would_write_it_by_hand(tmp_path):
    append(
        tmp_path / "log.csv", mild(date="2026-11-25", note="lamp on"), mild(time=600, clear=False)
    )
    assert (tmp_path / "log.csv").read_bytes().decode() == (
        "date,acid_bottle,acid_low_percent,acid_high_percent,peroxide_bottle,peroxide_low_percent,"
        "peroxide_high_percent,water_parts,acid_parts,peroxide_parts,bath_mL,bare_cm2,foil_g_per_m2,agitation,facing,"
        "open_cm2,bottles_C,air_C,clear_after_s,not_clear_after_s,note\n"
        "2026-11-25,acid,9,11,peroxide,8.5,12,1,1,1.5,50,5,305.15172727394063,rocked,up,,20,,240,,lamp on\n"
        ",acid,9,11,peroxide,8.5,12,1,1,1.5,50,5,305.15172727394063,rocked,up,,20,,,600,\n"
    )


# ---- offcuts and logs in memory


def test_law_an_offcut_is_checked_as_a_plan_is_and_keeps_what_its_row_can_hold():
    offcut = mild(
        acid=Bottle.labelled("HCl", 0.10),
        board=Board(0.02, 0.03, 0.5, Foil(0.3)),
        acid_bottle=" old ",
    )
    assert (
        offcut.acid.label is None
        and offcut.board.width is None
        and float(offcut.board.area) == 3e-4
    )
    assert (
        offcut.acid_bottle == "old"
        and offcut.given.board is offcut.board
        and offcut.given.kept is None
    )
    assert (
        offcut.given.bath_per_area == pytest.approx(50e-6 / 3e-4)
        and offcut.given.place == "elsewhere"
    )
    assert (
        offcut.given.parts == (1, 1, 1.5)
        and offcut.given.draws == 200
        and offcut.given.second is None
    )


WRONG = {
    "acid": (Bottle("H2O2", 0.1, 0.1), "must be a Bottle of HCl"),
    "parts": ((1, 2), "three numbers"),
    "volume": (0, r"volume = 0 is impossible: it must be above 0 to 1 m³"),
    "board": ("5 cm²", "must be a Board"),
    "tray": (Tray(open_area=1e-4), "board area = 0.0005 m² is impossible facing up"),
    "T_bottles": (20, "T_bottles = 20 is impossible: it must be 273.15 to 313.15 K"),
    "time": (0, "time = 0 is impossible: it must be above 0 to 14400 s"),
    "clear": (1, "must be True, or False with"),
    "acid_bottle": (" ", "acid_bottle of 0 letters"),
    "peroxide_bottle": ("a\nb", "must hold no"),
    "date": (20261125, "must be a text"),
    "note": ("bell \a", r"must hold no '\\x07'"),
}


@pytest.mark.parametrize("name", WRONG)
def test_law_an_impossible_offcut_is_refused_by_name(name):
    value, said = WRONG[name]
    with pytest.raises(ValueError, match=said):
        mild(**{name: value})


def test_law_a_shallow_bath_and_a_candidate_seen_unclear_are_refused():
    with pytest.raises(ValueError, match="bath_per_area = 2000"):
        mild(volume=1.0)
    with pytest.raises(ValueError, match="clear = False is impossible"):
        mild(time=None, clear=False)
    assert mild(time=None).time is None


def plain(area=4e-4, volume=30e-6, open_area=None, strong=False, T=293.15):
    strengths = (
        (Bottle("HCl", 0.45, 0.45), Bottle("H2O2", 0.70, 0.70))
        if strong
        else (MILD["acid"], MILD["peroxide"])
    )
    return Offcut(
        *strengths,
        (0, 1, 1),
        volume,
        Board(area=area),
        Tray("rocked", "upright", open_area),
        T,
        100.0,
    )


def times(*rows):
    """What seven draws expect, as calibration reckons it: the offcut's own check is not asked."""
    draws = {name: np.asarray(values)[:7] for name, values in shipped_draws().items()}
    return expected(
        rows,
        draws,
        {
            name: np.linspace(bottle.low, bottle.high, 7)
            for name, bottle in bottles_of(rows).items()
        },
    )


EDGES = {  # copper [m²], open area [m²], then the end of the bath [m³] and which way is beyond it
    "least bath": (1e-5, None, 1.02e-7, 1),
    "shallow": (4e-4, 0.4, 1.02e-4 * 0.4, 1),
    "shallow in any tray": (1.0, None, 1.02e-4 * 1.3, 1),
    "wide": (0.1, None, 0.04 / 1.02, -1),
    "most bath": (0.5, 3.9, 1.0, -1),
    "a hair": (0.5, 4e-7, 0.4 / 1.02, -1),
}


@pytest.mark.parametrize("name", EDGES)
@pytest.mark.parametrize("T", [273.15, 313.15])
@pytest.mark.parametrize("strong", [False, True])
def test_law_the_time_of_every_offcut_that_is_taken_can_be_computed_up_to_the_edge(name, T, strong):
    area, open_area, edge, inside = EDGES[name]
    offcut = plain(area, edge * (1 + inside * 1e-9), open_area, strong, T)
    assert not np.isnan(times(offcut)).any()
    with pytest.raises(ValueError, match=r"^volume = .* is impossible: it must be .* m³"):
        plain(area, edge * (1 - inside * 1e-3), open_area, strong, T)


def test_law_what_is_refused_for_its_bath_could_not_be_computed():
    for area, volume, open_area in (
        (1e-5, 0.9e-7, None),
        (4e-4, 0.9e-4 * 0.4, 0.4),
        (0.1, 0.042, None),
    ):
        with pytest.raises(ValueError, match=r"^volume = "):
            plain(area, volume, open_area)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(offcuts, "bath_ends", lambda *_: (0.0, 1.0))
            offcut = plain(area, volume, open_area)
        with pytest.raises(ValueError, match="is impossible"):
            times(offcut)
    with pytest.raises(
        ValueError, match=r"^board: area = 3.1 is impossible: it must be above 0 to 3.07692 m²"
    ):
        plain(3.1, 0.03)


def test_law_a_bath_mixed_of_any_two_bottles_stays_within_what_an_offcut_spares():
    share = np.linspace(0, 1, 21)
    water, acid = (part.ravel() for part in np.meshgrid(share, share))
    water, acid = water[water + acid <= 1 + 1e-9], acid[water + acid <= 1 + 1e-9]
    for T in (273.15, 293.15, 313.15):
        for HCl, H2O2 in itertools.product((0, 0.1, 0.2, 0.3, 0.45), (0, 0.12, 0.35, 0.70)):
            mixed = mix(
                Solution.of(volume=water, T=T),
                Solution.of(volume=acid, T=T, HCl=HCl),
                Solution.of(volume=np.maximum(1 - water - acid, 0), T=T, H2O2=H2O2),
            )
            with collecting_warnings():
                assert mixed.volume.min() > 1 / offcuts.SPARE and mixed.volume.max() < offcuts.SPARE
                Start.of(mixed)  # and no two of them are too strong or too hot


def test_law_lines_and_offcuts_of_a_log_go_together():
    with pytest.raises(
        ValueError, match=r"lines = \(2,\) is impossible: it must be 0 numbers, one an offcut"
    ):
        Log((), (2,), (), "")
    assert repr(Log.of([mild()])) == "Log(good rows: 1, bad rows: 0)"


def test_law_a_log_that_is_printed_says_its_bad_rows(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(
        text_of(ROW, {**ROW, "bath_mL": ""}, {**ROW, "bottles_C": "293"}, {**ROW, "note": "more"})
    )
    assert str(read_log(path)).splitlines() == [
        "2 offcuts; 2 rows are bad and do not count:",
        "line 3: bath_mL is blank: it must be above 0 to 1e+06",
        "line 4: bottles_C = 293 is impossible: it must be 0 to 40",
    ]
    path.write_text(text_of(ROW, {**ROW, "bath_mL": ""}))
    assert str(read_log(path)).startswith("1 offcut; 1 row is bad and does not count:\nline 3: ")
    assert str(Log.of([mild()])) == "1 offcut, no bad rows"


def test_law_an_empty_log_is_made_to_be_typed_into(tmp_path):
    append(tmp_path / "log.csv")
    append(tmp_path / "log.csv")
    assert (tmp_path / "log.csv").read_text() == ",".join(COLUMNS) + "\n" and read_log(
        tmp_path / "log.csv"
    ).offcuts == ()


def test_law_a_log_from_memory_may_hold_what_a_file_may_not(tmp_path):
    assert len(Log.of([mild(note="=1"), mild(note="=1")]).offcuts) == 2
    with pytest.raises(ValueError, match="given twice"):
        append(tmp_path / "log.csv", mild(), mild())


def test_law_one_bottle_is_not_written_in_two_ways(tmp_path):
    path = tmp_path / "log.csv"
    append(path, mild())
    for name in ("Acid", "ACID"):
        refused(
            path,
            f"acid_bottle = '{name}' is 'acid' in line 2: write it alike, or",
            mild(acid_bottle=name),
        )
    with pytest.raises(ValueError, match=r"peroxide_bottle = 'old  B' is 'Old b' in line 2"):
        Log.of([mild(peroxide_bottle="Old b"), mild(peroxide_bottle="old  B")])
    path.write_text(
        text_of(ROW, {**ROW, "acid_bottle": "Acid", "note": ""}, {**ROW, "acid_bottle": "acids"})
    )
    assert read_log(path).lines == (2, 4) and read_log(path).bad[0][1].startswith(
        "acid_bottle = 'Acid' is 'acid' in line 2"
    )
    append(path, mild(acid_bottle="Old B"))
    refused(path, "acid_bottle = 'old b' is 'Old B' in line 5", mild(acid_bottle="old b"))
    append(path, mild(acid_bottle="Peroxide", peroxide_bottle="peroxide"))  # bottles of two kinds


def test_law_a_log_from_memory_has_the_lines_and_the_sum_of_its_file(tmp_path):
    rows = [
        mild(note="one\ntwo"),
        mild(time=100),
        mild(peroxide_bottle="B", peroxide=Bottle("H2O2", 0, 0.03)),
    ]
    append(tmp_path / "log.csv", *rows)
    made, log = Log.of(iter(rows)), read_log(str(tmp_path / "log.csv"))
    assert made.lines == log.lines == (2, 4, 5) and made.bad == () and made.sha256 == log.sha256
    with pytest.raises(
        ValueError,
        match=r"acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % in line 2: give anot",
    ):
        Log.of([mild(), mild(acid=Bottle("HCl", 0.09, 0.12))])
    for wrong, said in (
        (mild(time=None), "time = None is impossible"),
        ("a scrap", "must be an Offcut"),
    ):
        with pytest.raises(ValueError, match=said):
            Log.of([wrong])


# ---- bad rows

ROW = dict(
    zip(
        COLUMNS,
        (
            "25.11.",
            "acid",
            "9",
            "11",
            "peroxide",
            "8.5",
            "12",
            "1",
            "1",
            "1.5",
            "50",
            "5",
            "305",
            "rocked",
            "up",
            "30",
            "20",
            "21.5",
            "240",
            "",
            "lamp on",
        ),
        strict=True,
    )
)
ROWS = {
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
        "bath_mL = 39300 is impossible over bare_cm2 = 500 with open_cm2 blank: it must be 6.63 to 39215.7",
    ),
    "a wall": (
        {"bath_mL": "39000", "bare_cm2": "31000", "open_cm2": ""},
        "bare_cm2 with open_cm2 blank = 31000 is impossible: it must be above 0 to 30769.2",
    ),
    "agitation": (
        {"agitation": "shaken"},
        "agitation = 'shaken' is not known: choose from still, rocked",
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


def text_of(*rows, **how):
    """A file as the standard library writes one."""
    text = io.StringIO()
    out = csv.DictWriter(text, COLUMNS, lineterminator="\n", **how)
    out.writeheader()
    out.writerows(rows)
    return text.getvalue()


@pytest.mark.parametrize("name", ROWS)
def test_law_a_bad_row_is_named_by_line_and_reason_and_the_rest_loads(name, tmp_path):
    changes, said = ROWS[name]
    path = tmp_path / "log.csv"
    path.write_text(text_of(ROW, {**ROW, **changes}, {**ROW, "note": "three"}), encoding="utf-8")
    before, log = path.read_bytes(), read_log(path)
    assert log.lines == (2, 4) and [offcut.note for offcut in log.offcuts] == ["lamp on", "three"]
    assert [line for line, _ in log.bad] == [3] and said in log.bad[0][1], log.bad
    assert len(log.bad[0][1]) < 300 and path.read_bytes() == before


def test_law_the_first_good_row_says_what_is_in_a_bottle(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(
        text_of(
            {**ROW, "acid_high_percent": "12", "bath_mL": ""},
            ROW,
            {**ROW, "acid_high_percent": "12"},
            {**ROW, "acid_bottle": "B", "acid_high_percent": "12"},
        )
    )
    log = read_log(path)
    assert log.lines == (3, 5) and [line for line, _ in log.bad] == [2, 4]


# ---- what append refuses


def refused(path, said, *rows, kind=ValueError):
    before = path.read_bytes() if path.exists() else None
    with pytest.raises(kind, match=said):
        append(path, *rows)
    assert (path.read_bytes() if path.exists() else None) == before


def test_law_append_refuses_what_would_be_a_bad_row_and_writes_nothing(tmp_path):
    path, other = tmp_path / "log.csv", Bottle("HCl", 0.09, 0.12)
    for wrong, said in (
        (mild(time=None), "time = None is impossible in a log"),
        ("scrap", "must be an Offcut"),
    ):
        refused(path, said, mild(), wrong)
    refused(path, "given twice", mild(), mild())
    refused(path, "9 to 12 % here and 9 to 11 % in line 1", mild(), mild(acid=other))
    append(path, mild())
    refused(path, r"^log.csv: line 2 holds this offcut already", mild(time=1), mild())
    refused(
        path,
        r"^log.csv: acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % in line 2",
        mild(acid=other),
    )
    append(path, mild(acid=other, acid_bottle="B"), mild(note="again"))
    with path.open("a") as file:  # the same strength, written otherwise, is the same bottle
        file.write(
            text_of({**ROW, "acid_low_percent": "9.0", "acid_high_percent": "1.1E1"}).split("\n")[1]
            + "\n"
        )
    append(path, mild(note="third"))
    assert read_log(path).lines == (2, 3, 4, 5, 6)


@pytest.mark.parametrize(
    "note", ["=1+1", "+ 3 drops", "-cold", "@home", ' \n=HYPERLINK("x")', "\t=1"]
)
def test_law_no_text_is_written_that_a_spreadsheet_would_run(note, tmp_path):
    refused(
        tmp_path / "log.csv",
        "note = .* is impossible in a log: a spreadsheet would take it for a formula",
        mild(note=note),
    )
    (tmp_path / "by_hand.csv").write_text(
        text_of({**ROW, "note": note}), encoding="utf-8"
    )  # here it does no harm
    assert [offcut.note for offcut in read_log(tmp_path / "by_hand.csv").offcuts] == [note]


def test_law_a_note_that_looks_like_rows_is_refused(tmp_path):
    refused(tmp_path / "log.csv", "must not look like rows", mild(note="a\n" + "," * 20))
    append(tmp_path / "log.csv", mild(note="," * 20), mild(note='a\n,;"'))
    assert [offcut.note for offcut in read_log(tmp_path / "log.csv").offcuts] == [
        "," * 20,
        'a\n,;"',
    ]


def test_law_names_of_the_contract_stand_in_one_place():
    assert {*coupons.__all__} == {"COLUMNS", "Log", "Offcut", "append", "read_log"} and {*ROW} == {
        *COLUMNS
    }
