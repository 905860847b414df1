"""Law: a calibration says how many rows it rests on, which do not count, and which do not fit."""

import dataclasses

from helpers.offcuts import mild

from pcbchem.bench.offcut import Log, calibrate
from pcbchem.bench.offcut.calibration_words import ABOUT_TIME, about_all, about_slips, sentences


def test_law_without_an_offcut_only_that_is_said():
    words = sentences(calibrate(Log.of([])))
    assert len(words) == 1 and words[0].startswith("No offcut yet")


def test_law_rows_that_do_not_count_are_named_by_their_line():
    log = dataclasses.replace(Log.of([mild()]), bad=((7, "is blank"),))
    words = " ".join(sentences(calibrate(log)))
    assert "1 row of the log cannot be used and does not count: line 7: is blank." in words
    assert words.endswith(ABOUT_TIME)


def test_law_a_row_that_does_not_fit_is_named_and_what_to_look_at():
    slow = mild(time=3600.0)
    calibration = calibrate(Log.of([mild(time=260.0), mild(time=270.0, note="2"), slow]))
    assert [calibration.lines[2]] == list(calibration.flagged)
    (words,) = about_slips(calibration)
    assert words.startswith(f"Line {calibration.lines[2]} does not fit") and "its time" in words


def test_law_offcuts_that_are_alike_far_off_are_said_to_be():
    offcuts = [mild(time=40.0 + number, note=str(number)) for number in range(3)]
    words = " ".join(about_all(calibrate(Log.of(offcuts))))
    assert words.startswith("Every offcut took about 0.") and "stronger than the log says" in words
