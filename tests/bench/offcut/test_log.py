"""Law: a log says what counts and what does not, and takes no row that would spoil it."""

import pytest
from helpers.offcuts import LAYOUTS, NEW, ROW, ROWS, fields_of, file_of, mild, text_of

from pcbchem import Board, Bottle, Foil
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.log import Log, append_offcuts, read_log, with_offcuts
from pcbchem.bench.offcut.log_layout import COLUMNS
from pcbchem.bench.offcut.offcut import FOIL_DECIMALS

FOIL = "305.15"


def test_law_a_new_log_reads_as_one_would_write_it_by_hand(path):
    append_offcuts(path, mild(date="2026-11-25", note="lamp on"), mild(time=600, clear=False))
    assert path.read_bytes().decode() == (
        "date,acid_bottle,acid_low_percent,acid_high_percent,"
        "peroxide_bottle,peroxide_low_percent,peroxide_high_percent,"
        "water_parts,acid_parts,peroxide_parts,bath_mL,bare_cm2,foil_g_per_m2,agitation,facing,"
        "open_cm2,bottles_C,air_C,clear_after_s,not_clear_after_s,note\n"
        f"2026-11-25,acid,9,11,peroxide,8.5,12,1,1,1.5,50,5,{FOIL},rocked,up,,20,,240,,lamp on\n"
        f",acid,9,11,peroxide,8.5,12,1,1,1.5,50,5,{FOIL},rocked,up,,20,,,600,\n"
    )


def test_law_an_empty_log_is_made_to_be_typed_into(path):
    append_offcuts(path)
    append_offcuts(path)
    assert path.read_text() == ",".join(COLUMNS) + "\n"
    assert read_log(path).offcuts == ()


FIRST_EDITION = (
    "date,acid_bottle,acid_low_percent,acid_high_percent,"
    "peroxide_bottle,peroxide_low_percent,peroxide_high_percent,"
    "water_parts,acid_parts,peroxide_parts,bath_mL,bare_cm2,foil_g_per_m2,agitation,facing,"
    "open_cm2,bottles_C,air_C,clear_after_s,not_clear_after_s,note\n"
    "25.11.,acid,9,11,peroxide,10.2,13.8,0,1,1,30,4,305.15,rocked,up,,20,,215,,\n"
    "25.11.,acid,9,11,peroxide,10.2,13.8,1,1,1,30,4,610.3,still,down,30,40,21.5,,900,cold\n"
    "26.11.,acid,9,11,old,2,3,0,1,2,150,27,305.15,bubbled,upright,150,0,18,640,,\n"
    "26.11.,strong,30,32,old,2,3,2,1,2,1000,300,152.5,sprayed,up,,20,,77,,\n"
)
"""A log as the first edition wrote it."""


def test_law_a_log_of_the_first_edition_opens_and_stays(path):
    path.write_text(FIRST_EDITION)
    log = read_log(path)
    assert log.bad == () and log.lines == (2, 3, 4, 5)
    assert [offcut.tray.agitation for offcut in log.offcuts] == [
        "rocked",
        "still",
        "bubbled",
        "sprayed",
    ]
    assert [offcut.time for offcut in log.offcuts] == [215, 900, 640, 77]
    assert [offcut.clear for offcut in log.offcuts] == [True, False, True, True]
    assert calibrate(log, few=0.0).bad == ()
    append_offcuts(path, mild(acid_bottle="new", peroxide_bottle="new too"))
    assert path.read_text().startswith(FIRST_EDITION)
    assert len(read_log(path).offcuts) == 5


# ---- what a log says


def test_law_a_log_that_is_printed_says_its_bad_rows(path):
    no_bath, kelvin = {**ROW, "bath_mL": ""}, {**ROW, "bottles_C": "293"}
    path.write_text(text_of(ROW, no_bath, kelvin, {**ROW, "note": "more"}))
    assert str(read_log(path)).splitlines() == [
        "2 offcuts; 2 rows are bad and do not count:",
        "line 3: bath_mL is blank: it must be above 0 to 1e+06",
        "line 4: bottles_C = 293 is impossible: it must be 0 to 40",
    ]
    path.write_text(text_of(ROW, no_bath))
    assert str(read_log(path)).startswith("1 offcut; 1 row is bad and does not count:\nline 3: ")


def test_law_a_good_log_says_how_much_it_holds():
    log = Log.of([mild()])
    assert str(log) == "1 offcut, no bad rows"
    assert repr(log) == "Log(good rows: 1, bad rows: 0)"


def test_law_lines_and_offcuts_of_a_log_go_together():
    message = r"lines = \(2,\) is impossible: it must be 0 numbers, one an offcut"
    with pytest.raises(ValueError, match=message):
        Log((), (2,), ())


def test_law_the_first_good_row_says_what_is_in_a_bottle(path):
    stronger = {**ROW, "acid_high_percent": "12"}
    other_bottle = {**stronger, "acid_bottle": "B"}
    path.write_text(text_of({**stronger, "bath_mL": ""}, ROW, stronger, other_bottle))
    log = read_log(path)
    assert log.lines == (3, 5) and [line for line, _ in log.bad] == [2, 4]


def test_law_a_bad_row_does_not_say_what_is_in_its_other_bottle(path):
    weaker = {**ROW, "peroxide_high_percent": "11", "acid_bottle": "B"}  # another "peroxide"
    stronger = {**ROW, "acid_bottle": "B", "acid_high_percent": "12"}
    path.write_text(text_of(ROW, weaker, stronger))
    log = read_log(path)
    assert log.lines == (2, 4) and [line for line, _ in log.bad] == [3]


def test_law_a_row_written_otherwise_is_the_same_row_again(path):
    otherwise = {**ROW, "bath_mL": "50.0", "acid_low_percent": "09", "clear_after_s": "2.4E2"}
    path.write_text(text_of(ROW, otherwise))
    log = read_log(path)
    assert log.lines == (2,) and log.bad[0][1].startswith("is line 2 again in every column")


# ---- a log from memory


def test_law_a_log_from_memory_has_the_lines_of_its_file(path):
    other = mild(peroxide_bottle="B", peroxide=Bottle("H2O2", 0, 0.03))
    rows = [mild(note="one\ntwo"), mild(time=100), other]
    append_offcuts(path, *rows)
    log = Log.of(iter(rows))
    assert log.lines == read_log(str(path)).lines == (2, 4, 5)
    assert log.offcuts == tuple(rows) and log.bad == ()


def test_law_a_log_from_memory_may_hold_what_a_file_may_not(path, refused):
    assert len(Log.of([mild(note="=1"), mild(note="=1")]).offcuts) == 2
    refused("given twice", mild(), mild())


@pytest.mark.parametrize(
    "rows, message",
    [
        (
            [mild(), mild(acid=Bottle("HCl", 0.09, 0.12))],
            r"acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % in line 2: give another bottle",
        ),
        (
            [mild(peroxide_bottle="Old b"), mild(peroxide_bottle="old  B")],
            r"peroxide_bottle = 'old  B' is 'Old b' in line 2: write it alike, or",
        ),
        ([mild(time=None)], "time = None is impossible"),
        (["a scrap"], "must be an Offcut"),
    ],
)
def test_law_a_log_from_memory_is_refused_by_name(rows, message):
    with pytest.raises(ValueError, match=message):
        Log.of(rows)


# ---- what is not added


def test_law_a_row_that_would_be_bad_is_refused(path, refused):
    other = Bottle("HCl", 0.09, 0.12)
    refused("time = None is impossible in a log", mild(), mild(time=None))
    refused("must be an Offcut", mild(), "scrap")
    refused("9 to 12 % here and 9 to 11 % in line 1", mild(), mild(acid=other))
    append_offcuts(path, mild())
    refused(r"^log.csv: line 2 holds this offcut already", mild(time=1), mild())
    message = r"^log.csv: acid_bottle = 'acid' is 9 to 12 % here and 9 to 11 % in line 2"
    refused(message, mild(acid=other))
    append_offcuts(path, mild(acid=other, acid_bottle="B"), mild(note="again"))
    assert read_log(path).lines == (2, 3, 4)


def test_law_a_strength_written_otherwise_is_the_same_bottle(path):
    otherwise = {**ROW, "acid_low_percent": "9.0", "acid_high_percent": "1.1E1"}
    path.write_text(text_of(otherwise))
    append_offcuts(path, mild())
    assert read_log(path).lines == (2, 3)


def test_law_one_bottle_is_not_written_in_two_ways(path, refused):
    append_offcuts(path, mild())
    for name in ("Acid", "ACID"):
        message = f"acid_bottle = '{name}' is 'acid' in line 2: write it alike, or"
        refused(message, mild(acid_bottle=name))
    capitals = {**ROW, "acid_bottle": "Acid", "note": ""}
    path.write_text(text_of(ROW, capitals, {**ROW, "acid_bottle": "acids"}))
    log = read_log(path)
    assert log.lines == (2, 4)
    assert log.bad[0][1].startswith("acid_bottle = 'Acid' is 'acid' in line 2")
    append_offcuts(path, mild(acid_bottle="Old B"))
    refused("acid_bottle = 'old b' is 'Old B' in line 5", mild(acid_bottle="old b"))


def test_law_acid_and_peroxide_may_share_a_name(path):
    append_offcuts(path, mild(acid_bottle="Peroxide", peroxide_bottle="peroxide"))
    append_offcuts(path, mild(acid_bottle="left", peroxide_bottle="left"))
    assert read_log(path).bad == ()


@pytest.mark.parametrize(
    "note", ["=1+1", "+ 3 drops", "-cold", "@home", ' \n=HYPERLINK("x")', "\t=1"]
)
def test_law_no_text_is_written_that_a_spreadsheet_would_run(note, path, refused):
    message = "note = .* is impossible in a log: a spreadsheet would take it for a formula"
    refused(message, mild(note=note))
    path.write_text(text_of({**ROW, "note": note}), encoding="utf-8")  # read, it does no harm
    assert [offcut.note for offcut in read_log(path).offcuts] == [note]


def test_law_a_note_that_looks_like_rows_is_refused(path, refused):
    refused("must not look like rows", mild(note="a\n" + "," * 20))
    append_offcuts(path, mild(note="," * 20), mild(note='a\n,;"'))
    assert [offcut.note for offcut in read_log(path).offcuts] == ["," * 20, 'a\n,;"']


def test_law_a_full_log_takes_no_more(path, monkeypatch, refused):
    append_offcuts(path, mild())
    size = path.stat().st_size + 50
    monkeypatch.setattr("pcbchem.bench.offcut.log.MOST_BYTES", size)
    refused(f"^log.csv: is full: a log must be at most {size} bytes", mild(note="more"))


# ---- a log that is no file


def test_law_bytes_are_read_as_their_file_is(path):
    for text in (FIRST_EDITION, text_of(ROW, {**ROW, "bath_mL": ""}), ",".join(COLUMNS)):
        for encoding in ("utf-8", "utf-8-sig", "utf-16"):
            path.write_bytes(text.encode(encoding))
            of_file, of_bytes = read_log(path), read_log(path.read_bytes(), name="log.csv")
            assert (of_bytes.lines, of_bytes.bad) == (of_file.lines, of_file.bad)
            fields = [[fields_of(row) for row in log.offcuts] for log in (of_file, of_bytes)]
            assert fields[0] == fields[1]


@pytest.mark.parametrize("data", [b"", b"a,b", b"PK", b"\n" * 2_000_001])
def test_law_bytes_that_are_no_log_are_refused_by_their_name(data, path):
    path.write_bytes(data)
    with pytest.raises(ValueError) as of_file:
        read_log(path)
    with pytest.raises(ValueError) as of_bytes:
        read_log(data, name="log.csv")
    assert str(of_bytes.value) == str(of_file.value)


@pytest.mark.parametrize("arguments", [{"path": b""}, {"path": "log.csv", "name": "log.csv"}])
def test_law_bytes_have_a_name_and_a_file_has_its_own(arguments):
    with pytest.raises(ValueError, match="give it with bytes, and only with them"):
        read_log(**arguments)


@pytest.mark.parametrize("how", LAYOUTS)
def test_law_rows_are_added_to_bytes_as_to_their_file(how, path):
    data = file_of(LAYOUTS[how], ROWS)
    path.write_bytes(data)
    append_offcuts(path, NEW)
    assert with_offcuts(data, NEW) == path.read_bytes()
    assert with_offcuts(data) == data


def test_law_what_a_file_refuses_bytes_refuse(path):
    append_offcuts(path, mild())
    data = path.read_bytes()
    for row in (mild(), mild(time=None), mild(acid=Bottle("HCl", 0.09, 0.12)), mild(note="=1")):
        with pytest.raises(ValueError):
            with_offcuts(data, row)
    assert with_offcuts(b"", mild()) == data, "nothing begins a new log"
    assert with_offcuts(data[:20], mild()) == data, "so does the first half of its first line"


@pytest.mark.parametrize("ounces, written", [(1, "305.15"), (0.5, "152.58"), (2, "610.3")])
def test_as_printed_foil_is_written_to_a_hundredth_of_a_gram(ounces, written, path):
    """1 oz/ft² is 305.15 g/m²: the tail of a binary number is no measurement."""
    append_offcuts(path, mild(board=Board(area=5e-4, foil=Foil.ounces(ounces))))
    header, row = path.read_text().splitlines()
    assert row.split(",")[header.split(",").index("foil_g_per_m2")] == written
    assert FOIL_DECIMALS == 5  # of kg/m²
    (again,) = read_log(path).offcuts
    assert f"{1000 * float(again.board.foil.areal_mass):.6g}" == written
