"""A calibration in a file comes back number by number, and what is no calibration is refused and left alone."""

import dataclasses
import hashlib
import json

import numpy as np
import pytest
from helpers.offcuts import BOARD, offcut

from pcbchem import RateParameters
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut import calibration_file
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan import files

MEASURED = {("H2O2", "peroxide"): Strength("H2O2", 0.111, 0.003, "oxygen over water")}
ROWS = [
    offcut(0, 150.0, date="2026-11-21", note='a "quoted", note\nof two lines'),
    offcut(1, 280.0, acid_bottle="A"),
    offcut(2, 300.0, clear=False),
]
LOG = Log.of(ROWS)
FOUND = calibrate(LOG, measured=MEASURED)  # so quick a bench that new draws are made
GOOD = calibration_file.text_of(FOUND)


@pytest.mark.parametrize(
    "log", [LOG, Log.of([offcut(0, 210.0)]), Log.of([])], ids=["made", "weighed", "nothing"]
)
def test_law_it_comes_back_number_by_number(log, tmp_path):
    found = (
        FOUND
        if log is LOG
        else calibrate(dataclasses.replace(log, bad=((7, "clear_after_s is blank"),)))
    )
    calibration_file.save(found, tmp_path / "bench.json")
    again = calibration_file.read(tmp_path / "bench.json", log)
    assert calibration_file.text_of(again) == calibration_file.text_of(found)
    for name, column in found.draws.items():
        assert np.array_equal(again.draws[name], column)
    assert np.array_equal(again.weights, found.weights) and np.array_equal(again.slips, found.slips)
    assert np.array_equal(again.before, found.before) and np.array_equal(again.after, found.after)
    assert list(again.strengths) == list(found.strengths)
    assert (again.bad, list(again.measured.items())) == (found.bad, list(found.measured.items()))
    assert again.words == found.words
    assert again.to_frame().equals(found.to_frame()) and again.effective == found.effective
    before, after = (RateParameters.plausible(200, calibration=c) for c in (found, again))
    assert np.array_equal(before.surface_rate, after.surface_rate)
    doubts = [c.doubt(BOARD, "acid", "peroxide")["drawn"]["acid"] for c in (found, again)]
    assert np.array_equal(*doubts)


def test_law_it_holds_the_hash_of_its_log_and_another_log_is_refused(tmp_path):
    calibration_file.save(FOUND, tmp_path / "bench.json")
    assert json.loads(GOOD)["calibration"]["log_sha256"] == LOG.sha256
    with pytest.raises(
        ValueError, match=r"bench\.json: is not of this log as it is now: calibrate again"
    ):
        calibration_file.read(tmp_path / "bench.json", Log.of(ROWS[:2]))


def test_law_a_file_that_is_no_calibration_is_left_alone(tmp_path):
    (tmp_path / "plan.json").write_text(files.text_of(BOARD), encoding="utf-8")
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    for name in ("plan.json", "notes.txt"):
        before = (tmp_path / name).read_bytes()
        with pytest.raises(
            ValueError, match=f"{name}: is not a calibration of this package, it is left alone"
        ):
            calibration_file.save(FOUND, tmp_path / name, overwrite=True)
        with pytest.raises(FileExistsError, match="already there"):
            calibration_file.save(FOUND, tmp_path / name)
        with pytest.raises(ValueError, match=f"^{name}: "):
            calibration_file.read(tmp_path / name)
        assert (tmp_path / name).read_bytes() == before
    calibration_file.save(FOUND, tmp_path / "bench.json")
    calibration_file.save(calibrate(Log.of([])), tmp_path / "bench.json", overwrite=True)
    assert calibration_file.read(tmp_path / "bench.json").offcuts == ()
    with pytest.raises(ValueError, match="calibration = 'x' is impossible"):
        calibration_file.save("x", tmp_path / "other.json")


def test_law_what_could_not_be_read_again_is_not_saved(tmp_path, monkeypatch):
    small = dataclasses.replace(calibration_file.KIND, most_bytes=len(GOOD) - 1)
    monkeypatch.setattr(calibration_file, "KIND", small)
    with pytest.raises(
        ValueError, match=f"calibration of .* too large .* at most {len(GOOD) - 1} bytes"
    ):
        calibration_file.save(FOUND, tmp_path / "bench.json")
    assert list(tmp_path.iterdir()) == []


def changed(where, value):
    """The good file with one value changed and its sum made to fit, as no editor would."""
    whole = json.loads(GOOD)
    *path, last = where
    at = whole["calibration"]
    for step in path:
        at = at[step]
    at[last] = value(at[last]) if callable(value) else value
    plain = json.dumps(whole["calibration"], sort_keys=True, separators=(",", ":"), allow_nan=False)
    return json.dumps(whole | {"sha256": hashlib.sha256(plain.encode("ascii")).hexdigest()})


def first(number):
    """Put another number in the first one's place."""
    return lambda text: f"{number} {text.split(' ', 1)[1]}"


def shorter(text):
    return text.rsplit(" ", 1)[0]


@pytest.mark.parametrize(
    "where, value, said",
    [
        (["weights"], shorter, r"weights of 399 numbers is impossible: it must be 400"),
        (["weights"], first("0.5"), r"weights = 1.4975 in all is impossible: it must be 1"),
        (["weights"], first("-1"), r"weights = -1 is impossible"),
        (["parameters_si", "surface_rate"], first("nan"), r"surface_rate = nan is impossible"),
        (["parameters_si", "surface_rate"], first("9"), r"surface_rate = 9 is impossible"),
        (["parameters_si", "surface_rate"], first("x"), r"surface_rate = .* is not a number"),
        (["bottles", 0, "name"], "other", r"bottles = other, .* is impossible"),
        (["bottles", 0, "kg_per_kg"], first("0.9"), r"acid = 0.9 is impossible"),
        (["rows", 0, "bath_mL"], "0", r"line 2: bath_mL = 0 is impossible"),
        (["rows", 0, "after_s"], [1.0, 2.0], r"line 2: after_s = .* must be 3 numbers"),
        (
            ["rows", 1, "slip_share"],
            1.5,
            r"line 5: slip_share = 1.5 is impossible|line 4: slip_share",
        ),
        (["rows", 1, "clear_after_s"], "", r"both blank"),
        (["spread"], 7.0, r"spread = 7 is impossible"),
        (["survived"], -1.0, r"survived = -1 is impossible"),
        (["made"], "many", r"made = 'many' is impossible"),
        (["made"], -7, r"made = -7 is impossible: it must be 0 or 400"),
        (["measured", 0, "doubt_kg_per_kg"], 0.0, r"doubt = 0 is impossible"),
        (["surprise"], 1, r"'surprise' is unknown"),
    ],
)
def test_law_a_value_that_cannot_be_is_refused_by_name(where, value, said, tmp_path):
    (tmp_path / "bench.json").write_text(changed(where, value), encoding="utf-8")
    with pytest.raises(ValueError, match=r"(?s)^bench.json: .*(" + said + ")"):
        calibration_file.read(tmp_path / "bench.json")


def test_law_an_edited_or_torn_file_is_refused(tmp_path):
    texts = {
        "edited": GOOD.replace('"spread": 0.15', '"spread": 0.25'),
        "empty": "",
        "list": "[]",
        **{f"cut at {k}": GOOD[:k] for k in range(1, len(GOOD) - 2, len(GOOD) // 40)},
    }
    for name, text in texts.items():
        assert text != GOOD
        (tmp_path / "bench.json").write_text(text, encoding="utf-8")
        with pytest.raises(ValueError, match=r"^bench\.json: "):
            calibration_file.read(tmp_path / "bench.json")
        assert (tmp_path / "bench.json").read_text(encoding="utf-8") == text, name
