"""A plan's inputs come back from their file number by number, or not at all.

Laws. How a file is saved all at once or not at all: `common/test_json_file`.
"""

import copy
import hashlib
import json
import math
import re
import threading
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Bottle, Foil, Plan, Tray, UsedBath
from pcbchem.bench.plan import files
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.planning import planned
from pcbchem.common import json_file

FULL = {
    "acid": Bottle.labelled("HCl", 0.10),
    "peroxide": Bottle("H2O2", 0.05, 0.11, 0.12),
    "parts": (3, 1, 1.5),
    "board": Board(0.075, 0.060, 0.6, Foil.ounces(2), back=0.25),
    "tray": Tray("still", "down", 0.01, 295.15, 0.42),
    "bath_per_area": 0.0555,
    "place": "GB",
    "T_bottles": 292.15,
    "used_bath": UsedBath(0.3, copper=(100, 300), acid=1500.0),
    "second": (0.5, 240.0),
    "draws": 150,
    "seed": 7,
}
BARE = {
    "acid": Bottle("HCl", 0.1, 0.1),
    "peroxide": Bottle("H2O2", 0.1, 0.1),
    "parts": (0, 1, 1),
    "board": Board(area=27e-4),
    "tray": Tray(),
    "bath_per_area": 0.1 + 0.2,
    "place": "EU",
}
KINDS = {
    "full": FULL,
    "bare": BARE,
    "no label": {**FULL, "peroxide": Bottle("H2O2", 0.05, 0.11)},
    "area alone": {**FULL, "board": Board(area=1 / 3 * 1e-2, foil=Foil(0.1))},
    "no kept": {**FULL, "used_bath": None},
    "no second": {**FULL, "second": None},
    "open to air unknown": {**FULL, "tray": Tray(T_air=300)},
    "wall alone known": {**FULL, "tray": Tray("shaken", perimeter=0.5)},
    "in the US": {**BARE, "place": "US"},
    "air unknown": {**FULL, "tray": Tray(open_area=0.1)},
    "water only": {**BARE, "parts": (5, 0, 0)},
    "widest ratio": {**BARE, "parts": (1e6, 1, 3)},
    "a third": {**BARE, "parts": (1, 3, 7)},
    "nothing held back": {**FULL, "second": (0, 60)},
    "whole used bath": {**FULL, "used_bath": UsedBath(1, 0, 0, 0)},
}


def number(low, high, above=False):
    return st.floats(low, high, exclude_min=above)


def low_and_high(low, high):
    return st.tuples(number(low, high), number(low, high)).map(sorted).map(tuple)


def bottles(substance, most):
    labels = st.none() | number(0, most)
    ends = low_and_high(0, most)
    return st.builds(lambda ends, label: Bottle(substance, *ends, label), ends, labels)


FOILS = st.builds(Foil, number(0, 5, above=True))
SIDES = number(1e-3, 2)
BOARDS = st.builds(
    lambda width, height, bare, foil, back: Board(width, height, bare, foil, back=back),
    SIDES.map(lambda side: 0.7 * side),  # both sides together: at most 4 m² of copper
    SIDES,
    number(1e-3, 1),
    FOILS,
    st.just(0.0) | number(0, 1),
) | st.builds(lambda area, foil: Board(area=area, foil=foil), number(1e-9, 4), FOILS)
TRAYS = st.builds(
    Tray,
    st.sampled_from(["still", "rocked", "shaken", "bubbled", "sprayed"]),
    st.sampled_from(["up", "down", "upright"]),
    st.none() | st.just(4.0),
    st.none() | number(250, 400),
    st.none() | number(7.1, 8),  # a circle of 4 m² has 7.09 m
)
USED_BATH = st.builds(
    UsedBath,
    number(0, 1, above=True),
    low_and_high(0, 3000),
    number(0, 8000),
    low_and_high(0, 5000),
)
INPUTS = st.builds(
    Inputs,
    bottles("HCl", 0.45),
    bottles("H2O2", 0.70),
    st.tuples(*[number(0.01, 1000)] * 3),
    BOARDS,
    TRAYS,
    number(1e-4, 10),
    st.sampled_from(["EU", "GB", "US", "elsewhere"]),
    number(273.15, 313.15),
    st.none() | USED_BATH,
    st.none() | st.tuples(number(0, 0.9), number(5, 7200)),
    st.integers(1, 400),
    st.integers(0, 2**53),
)


def numbers(inputs):
    """Take every field apart, without the module under test."""
    board, tray = inputs.board, inputs.tray
    sizes = (board.width, board.height, board.bare, board.back, board.area, board.foil.areal_mass)
    airs = (tray.open_area, tray.T_air, tray.perimeter)
    plain = [None if value is None else float(value) for value in (*sizes, *airs)]
    return (
        inputs.acid,
        inputs.peroxide,
        inputs.parts,
        plain,
        tray.agitation,
        tray.facing,
        inputs.bath_per_area,
        inputs.place,
        inputs.T_bottles,
        inputs.used_bath,
        inputs.second,
        inputs.draws,
        inputs.seed,
    )


def contents(folder):
    """Names and bytes of all that lies in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def write(path, text):
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path.read_bytes()


# What comes back


@given(inputs=INPUTS)
@settings(max_examples=60, deadline=None)
def test_what_comes_back_is_what_was_saved(inputs, tmp_path_factory):
    folder = tmp_path_factory.mktemp("saved")
    files.save_inputs(inputs, folder / "a.json")
    again = files.read_inputs(str(folder / "a.json"))
    assert numbers(again) == numbers(inputs)
    files.save_inputs(again, folder / "b.json")
    assert (folder / "a.json").read_bytes() == (folder / "b.json").read_bytes()


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_of_inputs_comes_back(name, tmp_path):
    inputs = Inputs(**KINDS[name])
    files.save_inputs(inputs, tmp_path / "plan.json")
    assert numbers(files.read_inputs(tmp_path / "plan.json")) == numbers(inputs)
    assert list(contents(tmp_path)) == ["plan.json"]


def test_the_text_of_a_file_is_read_like_the_file():
    inputs = Inputs(**FULL)
    assert numbers(files.inputs_from_text(files.text_of(inputs))) == numbers(inputs)
    with pytest.raises(ValueError, match=r"^pasted: is not JSON"):
        files.inputs_from_text("rubbish", "pasted")
    with pytest.raises(ValueError, match=r"^this file: is not a plan of this package"):
        files.inputs_from_text("{}")


def test_the_file_holds_nothing_to_pour():
    text = files.text_of(Inputs(**FULL))
    assert not re.search(r"mL|ml|litre|liter|volume|\bL\b|(?<!per_)m3|m³", text)
    # 0.0555 m on 27 cm² is 149.85 mL: the product stands in no unit anywhere
    assert not re.search(r"1498|149\.8", text.split('"sha256"')[0])


WITHOUT_UNIT = {
    "substance",
    "parts_water_acid_peroxide",
    "bare_share",
    "bare_back_share",
    "agitation",
    "facing",
    "place",
    "share_of_bath",
    "share_of_peroxide",
    "draws",
    "seed",
    "acid",
    "peroxide",
    "board",
    "tray",
    "used_bath",
    "second",
}


def test_the_file_is_readable_with_every_unit_in_its_name():
    text = files.text_of(Inputs(**FULL))
    assert text.count("\n") > 40 and text.isascii() and text.endswith("}\n")
    values = json.loads(text)["inputs"]
    assert values["bath_per_area_m"] == 0.0555
    assert values["used_bath"]["copper_mol_per_m3"] == [100, 300]
    names = set(values)
    for value in values.values():
        names |= set(value) if isinstance(value, dict) else set()
    for name in names - WITHOUT_UNIT:
        assert re.search(r"_(m|m2|K|s|kg_per_kg|kg_per_m2|mol_per_m3)$", name), name


def test_nothing_held_back_is_saved_as_no_second_portion(tmp_path):
    none = Inputs(**KINDS["no second"])
    assert files.text_of(Inputs(**KINDS["nothing held back"])) == files.text_of(none)
    # a file that says it the long way, with the sum that fits it, comes back as the short one
    long = with_sum(edited(("inputs", "second"), "share_of_peroxide", 0.0))
    write(tmp_path / "plan.json", json.dumps(long))
    assert numbers(files.read_inputs(tmp_path / "plan.json")) == numbers(none)


# What is refused

GOOD = files.text_of(Inputs(**FULL))
WHOLE = json.loads(GOOD)


def with_sum(whole):
    """Return the same file with the sum that fits it, as a forger would write it."""
    text = json.dumps(whole["inputs"], sort_keys=True, separators=(",", ":"))
    return {**whole, "sha256": hashlib.sha256(text.encode()).hexdigest()}


def at(whole, place):
    """Return what stands at a place in a file, by the names that lead there."""
    for name in place:
        whole = whole[name]
    return whole


def edited(place, name, value):
    """Return the whole file with one value changed."""
    whole = copy.deepcopy(WHOLE)
    at(whole, place)[name] = value
    return whole


def shortened(place, name):
    """Return the whole file with one name removed."""
    whole = copy.deepcopy(WHOLE)
    del at(whole, place)[name]
    return whole


def another(value):
    """Return another value of the same kind."""
    if isinstance(value, str):
        return value + "x"
    if isinstance(value, list):
        return [value[0] * 1.0001 + 0.01, *value[1:]]
    if isinstance(value, int):
        return value + 1
    return math.nextafter(value, 10) if value else 1.0


def of_another_kind(value):
    """Return a value of another kind."""
    if isinstance(value, str):
        return 5.5
    return "5.5" if isinstance(value, int | float) else "text"


OBJECTS = [("inputs", name) for name, value in WHOLE["inputs"].items() if isinstance(value, dict)]
PLACES = [(), ("inputs",), *OBJECTS]
NULL_TOO = {
    ("inputs", "acid", "label_kg_per_kg"),
    ("inputs", "peroxide", "label_kg_per_kg"),
    ("inputs", "used_bath"),
    ("inputs", "second"),
    ("inputs", "tray", "open_area_m2"),
    ("inputs", "tray", "T_air_K"),
    ("inputs", "tray", "perimeter_m"),
    ("inputs", "board", "bare_area_m2"),
}
ON_TOP = {"what": '"what"', "version": "version = 4"}  # what is refused by a reason of its own


def edits_of_names():
    """List every edit of a name: what it is called, the file, and words of the reason."""
    for place in PLACES:
        title = ".".join(place) or "file"
        more = edited(place, "extra", 1)
        yield f"{title} with more", more, "'extra' is unknown"
        if place:
            yield f"{title} with more, right sum", with_sum(more), "'extra' is unknown"
        for name, value in at(WHOLE, place).items():
            yield from edits_of(place, name, value)


def edits_of(place, name, value):
    """List every edit of one name."""
    title = ".".join((*place, name))
    missing = f"'{name}' is missing"
    less, null = shortened(place, name), edited(place, name, None)
    other_kind = edited(place, name, of_another_kind(value))
    if not place:
        yield f"{title} removed", less, name if name in ON_TOP else missing
        yield f"{title} of another kind", other_kind, name
        yield f"{title} null", null, name
    else:
        yield f"{title} removed", less, missing
        yield f"{title} removed, right sum", with_sum(less), missing
        yield f"{title} of another kind", with_sum(other_kind), name
        if (*place, name) not in NULL_TOO:
            yield f"{title} null", with_sum(null), name.split("_")[0]
    if not isinstance(value, dict):
        changed = edited(place, name, another(value))
        yield f"{title} changed", changed, ON_TOP.get(name, "changed after it was saved")


REFUSED = {name: (json.dumps(whole), words) for name, whole, words in edits_of_names()}
ACID, PEROXIDE, BOARD = ("inputs", "acid"), ("inputs", "peroxide"), ("inputs", "board")
TRAY, USED_BATH, SECOND = ("inputs", "tray"), ("inputs", "used_bath"), ("inputs", "second")
TOP, PARTS = ("inputs",), "parts_water_acid_peroxide"
for title, place, name, value, words in [
    ("acid too strong", ACID, "high_kg_per_kg", 0.46, "acid: high = 0.46"),
    ("acid below nothing", ACID, "low_kg_per_kg", -0.1, "acid: low = -0.1"),
    ("acid the wrong way round", ACID, "low_kg_per_kg", 0.4, "acid: low = 0.4"),
    ("acid is lye", ACID, "substance", "NaOH", "acid: substance = 'NaOH'"),
    ("acid is peroxide", ACID, "substance", "H2O2", "must be a Bottle of HCl"),
    ("acid of 400 digits", ACID, "high_kg_per_kg", 10**400, "acid: high = 1000"),
    ("peroxide too strong", PEROXIDE, "high_kg_per_kg", 0.9, "peroxide: high = 0.9"),
    ("parts below nothing", TOP, PARTS, [1, -1, 1], "parts: acid = -1"),
    ("no parts", TOP, PARTS, [0, 0, 0], "nothing to pour"),
    ("two parts", TOP, PARTS, [1, 1], "list of 3"),
    ("parts of text", TOP, PARTS, [1, "1", 1], "must be a number"),
    ("parts of truth", TOP, PARTS, [True, 1, 1], "must be a number"),
    ("board too wide", BOARD, "width_m", 75, "board: width = 75"),
    ("board without a side", BOARD, "height_m", None, "board: height = None"),
    ("board with half a back", BOARD, "bare_back_share", 1.5, "board: back = 1.5"),
    ("board of two sizes", BOARD, "bare_area_m2", 1.0, "board: area"),
    ("foil of nothing", BOARD, "foil_kg_per_m2", 0, "board: areal_mass = 0"),
    ("foil of 400 digits", BOARD, "foil_kg_per_m2", 10**400, "board: "),
    ("tray stirred", TRAY, "agitation", "stirred", "tray: agitation = 'stirred'"),
    ("wall too short", TRAY, "perimeter_m", 0.1, "tray: perimeter = 0.1"),
    ("tray too small", TRAY, "open_area_m2", 1e-4, "open_area = 0.0001"),
    ("air in Celsius", TRAY, "T_air_K", 21, "tray: T_air = 21"),
    ("no bath", TOP, "bath_per_area_m", 0, "bath_per_area = 0"),
    ("place unknown", TOP, "place", "Mars", "place = 'Mars'"),
    ("bottles in Celsius", TOP, "T_bottles_K", 20, "T_bottles = 20"),
    ("bottles frozen", TOP, "T_bottles_K", 250.0, "T_bottles = 250"),
    ("bottles hot", TOP, "T_bottles_K", 321.0, "T_bottles = 321"),
    ("kept too strong", USED_BATH, "acid_mol_per_m3", [1, 9000], "used_bath: acid = 9000"),
    ("kept the wrong way round", USED_BATH, "acid_mol_per_m3", [2, 1], "used_bath: acid = [2, 1]"),
    ("kept of three", USED_BATH, "acid_mol_per_m3", [1, 2, 3], "list of 2"),
    ("kept share of nothing", USED_BATH, "share_of_bath", 0, "used_bath: share = 0"),
    ("second share above all", SECOND, "share_of_peroxide", 1.5, "second: share = 1.5"),
    ("nearly all held back", SECOND, "share_of_peroxide", 0.95, "second: share = 0.95"),
    ("second too late", SECOND, "after_s", 1e6, "second: time = 1e+06"),
    ("second after two hours", SECOND, "after_s", 7201.0, "second: time = 7201"),
    ("second at once", SECOND, "after_s", 0.2, "second: time = 0.2"),
    ("no draws", TOP, "draws", 0, "draws = 0"),
    ("half a draw", TOP, "draws", 1.5, "draws = 1.5"),
    ("draws of truth", TOP, "draws", True, "draws = True"),
    ("seed", TOP, "seed", -1, "seed = -1"),
    ("seed too large", TOP, "seed", 2**53 + 1, "seed = 9007199254740993"),
]:
    REFUSED[f"{title}, right sum"] = json.dumps(with_sum(edited(place, name, value))), words
CHANGED = "changed after it was saved"
REFUSED |= {
    "empty": ("", "not JSON"),
    "binary": (bytes(range(256)), "UTF-8"),
    "table": ("area,time\n1,2\n", "not JSON"),
    "UTF-16": (GOOD.encode("utf-16"), "UTF-8"),
    "UTF-16 without its mark": (GOOD.encode("utf-16-le"), "not JSON"),
    "mark first": (b"\xef\xbb\xbf" + GOOD.encode(), "BOM"),
    "Latin": (GOOD.replace("GB", "G\xc9").encode("latin-1"), "UTF-8"),
    "cut short": (GOOD[:-30], "not JSON"),
    "half": (GOOD[: len(GOOD) // 2], "not JSON"),
    "twice": (GOOD * 2, "not JSON"),
    "huge": (GOOD + " " * 100_000, "too large"),
    "a list": ("[1, 2]", '"what"'),
    "a number": ("7", '"what"'),
    "null": ("null", '"what"'),
    "other JSON": ('{"cells": [], "nbformat": 4}', '"what"'),
    "nested": ("[" * 50_000, "not JSON"),
    "NaN": (GOOD.replace("0.0555", "NaN"), "NaN is not a number"),
    "infinite": (GOOD.replace("0.0555", "-Infinity"), "-Infinity is not a number"),
    "beyond floats": (GOOD.replace("0.0555", "1e999"), "1e999 is not a number"),
    "5000 digits": (GOOD.replace("0.0555", "1" * 5000), "digits"),
    "a name twice": (GOOD.replace('"seed": 7', '"seed": 7, "seed": 7'), "'seed' is there twice"),
    "a name twice above": (
        GOOD.replace('"version": 3', '"version": 3, "version": 3'),
        "'version' is there twice",
    ),
    "version 4": (GOOD.replace('"version": 3', '"version": 4'), "version = 4"),
    "version 1 with names of 3": (
        GOOD.replace('"version": 3', '"version": 1'),
        "'bare_back_share'",
    ),
    "version 2 with names of 3": (
        GOOD.replace('"version": 3', '"version": 2'),
        "'bare_back_share'",
    ),
    "version true": (GOOD.replace('"version": 3', '"version": true'), "version = True"),
    "version 3.0": (GOOD.replace('"version": 3', '"version": 3.0'), "version = 3.0"),
    "wrong sum": (json.dumps({**WHOLE, "sha256": "0" * 64}), CHANGED),
    "sum in capitals": (json.dumps({**WHOLE, "sha256": WHOLE["sha256"].upper()}), CHANGED),
    "whole number for a float": (GOOD.replace("240.0", "240"), CHANGED),
    "head alone": (json.dumps({"what": files.KIND.what, "version": 3}), "'note' is missing"),
}


def test_the_file_that_all_these_differ_from_is_good(tmp_path):
    write(tmp_path / "good.json", json.dumps(with_sum(WHOLE)))
    assert numbers(files.read_inputs(tmp_path / "good.json")) == numbers(Inputs(**FULL))
    assert len(REFUSED) > 200


@pytest.mark.parametrize("name", REFUSED)
def test_an_edited_or_foreign_file_is_refused_and_left_alone(name, tmp_path):
    text, words = REFUSED[name]
    before = write(tmp_path / "mine.json", text)
    with pytest.raises(ValueError) as refusal:
        files.read_inputs(tmp_path / "mine.json")
    message = str(refusal.value)
    assert message.startswith("mine.json: ") and words in message
    assert len(message) < 600
    alone = r"^mine\.json: is not a plan of this package, it is left alone"
    with pytest.raises(ValueError, match=alone) as refusal:
        files.save_inputs(Inputs(**FULL), tmp_path / "mine.json", overwrite=True)
    assert words in str(refusal.value)
    assert contents(tmp_path) == {"mine.json": before}


def test_a_folder_and_nothing_are_no_plans(tmp_path):
    with pytest.raises(ValueError, match=r"^none\.json: there is no such file$"):
        files.read_inputs(tmp_path / "none.json")
    with pytest.raises(ValueError, match=rf"^{re.escape(tmp_path.name)}: is not a file$"):
        files.read_inputs(tmp_path)


def test_a_plan_that_may_not_be_read_is_refused_by_name(tmp_path, monkeypatch):
    def denied(*_, **__):
        raise PermissionError(13, "Permission denied")

    write(tmp_path / "plan.json", GOOD)
    monkeypatch.setattr(json_file, "open", denied, raising=False)
    with pytest.raises(ValueError, match=r"^plan.json: cannot be read: Permission denied$"):
        files.read_inputs(tmp_path / "plan.json")


# Files of the first edition, saved by it

FIRST_EDITION = Path(__file__).parent / "first_edition"
FIRST_PLAIN = {
    "acid": Bottle.labelled("HCl", 0.10),
    "peroxide": Bottle.labelled("H2O2", 0.12),
    "parts": (0, 1, 1),
    "board": Board(area=27e-4),
    "tray": Tray(),
    "bath_per_area": 0.0555,
    "place": "EU",
}
FIRST = {  # what was saved there, in the words of today
    "plain": FIRST_PLAIN,
    "used_bath": {
        **FIRST_PLAIN,
        "parts": (1, 2, 3),
        "used_bath": UsedBath(0.4, copper=(100, 200), acid=(1500, 2500), peroxide=(100, 400)),
    },
    "second_portion": {**FIRST_PLAIN, "second": (0.5, 20.0)},
    "all": {
        **FULL,
        "board": Board(0.075, 0.060, 0.6, Foil.ounces(2)),
        "tray": Tray("still", "down", 0.01, 295.15),
    },
}


@pytest.mark.parametrize("name", FIRST)
def test_a_file_of_the_first_edition_opens_and_stays(name, tmp_path):
    """Number by number, by its path and by its text; it says its edition, and is not changed."""
    path = tmp_path / "bath.json"
    before = write(path, (FIRST_EDITION / f"{name}.json").read_bytes())
    expected = Inputs(**FIRST[name])
    for inputs in (files.read_inputs(path), files.inputs_from_text(before.decode())):
        assert numbers(inputs) == numbers(expected)
        assert inputs.edition == 1 and inputs.replace(seed=3).edition == 2
    assert contents(tmp_path) == {"bath.json": before}


def test_every_file_of_the_first_edition_is_tried():
    assert {path.stem for path in FIRST_EDITION.glob("*.json")} == set(FIRST)


@pytest.mark.parametrize(
    ("name", "verdict"), [("plain", "mix it"), ("second_portion", "do not mix")]
)
def test_the_verdict_on_an_older_file_is_made_anew(name, verdict):
    """A second portion after 20 s was let pass by the first edition."""
    plan = Plan.open(FIRST_EDITION / f"{name}.json")
    assert plan.verdict == verdict and plan.inputs.edition == 1
    assert planned(Inputs(**FIRST[name])).reasons == plan.reasons
    assert "first edition" in files.FROM_FIRST_EDITION and "anew" in files.FROM_FIRST_EDITION


def test_what_is_saved_today_is_of_today(tmp_path):
    files.save_inputs(Inputs(**FULL), tmp_path / "plan.json")
    assert files.read_inputs(tmp_path / "plan.json").edition == 2
    assert json.loads((tmp_path / "plan.json").read_text())["version"] == 3


# Files of the second format, which knew no back; saved by it

SECOND_FORMAT = Path(__file__).parent / "second_format"
SECOND = {"plain": BARE, "full": {**FULL, "board": Board(0.075, 0.060, 0.6, Foil.ounces(2))}}


@pytest.mark.parametrize("name", SECOND)
def test_a_file_of_the_second_format_opens_without_a_back(name, tmp_path):
    """Number by number; its rules are today's, and saved anew it is of today's format."""
    path = tmp_path / "bath.json"
    before = write(path, (SECOND_FORMAT / f"{name}.json").read_bytes())
    assert json.loads(before)["version"] == 2
    inputs = files.read_inputs(path)
    assert numbers(inputs) == numbers(Inputs(**SECOND[name])) and inputs.board.back == 0
    assert inputs.edition == 2 and contents(tmp_path) == {"bath.json": before}
    files.save_inputs(inputs, path, overwrite=True)
    assert json.loads(path.read_text())["version"] == 3
    assert numbers(files.read_inputs(path)) == numbers(inputs)


def test_an_edited_file_of_the_second_format_is_refused(tmp_path):
    text = (SECOND_FORMAT / "full.json").read_text()
    write(tmp_path / "mine.json", text.replace('"seed": 7', '"seed": 8'))
    with pytest.raises(ValueError, match=CHANGED):
        files.read_inputs(tmp_path / "mine.json")


def test_an_older_file_is_replaced_with_leave_to_overwrite(tmp_path):
    path = tmp_path / "bath.json"
    before = write(path, (FIRST_EDITION / "all.json").read_bytes())
    inputs = files.read_inputs(path)
    with pytest.raises(FileExistsError):
        files.save_inputs(inputs, path)
    assert path.read_bytes() == before
    files.save_inputs(inputs, path, overwrite=True)
    again = files.read_inputs(path)
    assert numbers(again) == numbers(inputs) and again.edition == 2


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"seed": 7', '"seed": 8'),
        ('"after_s": 240.0', '"after_s": 250.0'),
        ('"place": "GB"', '"place": "EU"'),
    ],
)
def test_an_edited_older_file_is_refused_and_left_alone(old, new, tmp_path):
    text = (FIRST_EDITION / "all.json").read_text()
    assert old in text
    before = write(tmp_path / "mine.json", text.replace(old, new))
    with pytest.raises(ValueError, match=CHANGED):
        files.read_inputs(tmp_path / "mine.json")
    with pytest.raises(ValueError, match="left alone"):
        files.save_inputs(Inputs(**FULL), tmp_path / "mine.json", overwrite=True)
    assert contents(tmp_path) == {"mine.json": before}


# Saving


@pytest.mark.parametrize("text", ["my notes", GOOD])
def test_what_is_there_stays_unless_one_may_overwrite(text, tmp_path):
    path = tmp_path / "plan.json"
    before = write(path, text)
    with pytest.raises(FileExistsError, match=re.escape(str(path))):
        files.save_inputs(Inputs(**BARE), path)
    assert contents(tmp_path) == {"plan.json": before}


def test_a_plan_is_replaced_with_leave_to_overwrite(tmp_path):
    path = tmp_path / "plan.json"
    files.save_inputs(Inputs(**FULL), path, overwrite=True)
    files.save_inputs(Inputs(**BARE), path, overwrite=True)
    assert numbers(files.read_inputs(path)) == numbers(Inputs(**BARE))
    assert list(contents(tmp_path)) == ["plan.json"]


def test_nothing_is_saved_where_there_is_no_place_for_it(tmp_path):
    with pytest.raises(ValueError, match="left alone: is not a file"):
        files.save_inputs(Inputs(**BARE), tmp_path, overwrite=True)
    with pytest.raises(FileExistsError):
        files.save_inputs(Inputs(**BARE), tmp_path)
    with pytest.raises(FileNotFoundError, match=r"nowhere is not a folder"):
        files.save_inputs(Inputs(**BARE), tmp_path / "nowhere" / "plan.json")
    with pytest.raises(ValueError, match="inputs = 'mild' is impossible"):
        files.save_inputs("mild", tmp_path / "other.json")
    assert contents(tmp_path) == {}


WRITERS = 8
TEXTS = {files.text_of(Inputs(**{**FULL, "seed": seed})).encode() for seed in range(WRITERS)}


def save_together(path, overwrite):
    """Save from several threads at once, reading all the while.

    Returns whose was saved, what else was raised, and what could be read.
    """
    start, stop = threading.Barrier(WRITERS + 1), threading.Event()
    winners, errors, read = [], [], []

    def writer(seed):
        inputs = Inputs(**{**FULL, "seed": seed})
        start.wait()
        try:
            files.save_inputs(inputs, path, overwrite=overwrite)
            winners.append(seed)
        except Exception as error:
            errors.append(error)

    def reader():
        start.wait()
        while not stop.is_set():
            if path.exists():
                read.append(path.read_bytes())

    threads = [threading.Thread(target=writer, args=(seed,)) for seed in range(WRITERS)]
    watching = threading.Thread(target=reader)
    for thread in (*threads, watching):
        thread.start()
    for thread in threads:
        thread.join()
    stop.set()
    watching.join()
    return winners, errors, set(read)


@pytest.mark.parametrize("has_links", [True, False])
def test_of_several_writers_one_wins_and_nobody_sees_half_a_file(has_links, tmp_path, monkeypatch):
    def no_links(*_, **__):
        raise PermissionError(1, "Operation not permitted")

    readable = TEXTS
    if not has_links:
        monkeypatch.setattr(json_file.os, "link", no_links)
        readable = TEXTS | {b""}  # without links the name is taken first, empty
    for turn in range(5):
        path = tmp_path / f"{turn}.json"
        winners, errors, read = save_together(path, overwrite=False)
        assert len(winners) == 1 and len(errors) == WRITERS - 1
        assert all(isinstance(error, FileExistsError) for error in errors)
        assert files.read_inputs(path).seed == winners[0]
        assert read <= readable
    assert len(contents(tmp_path)) == 5


def test_writers_who_may_overwrite_all_do(tmp_path):
    path = tmp_path / "plan.json"
    for _ in range(3):
        winners, errors, read = save_together(path, overwrite=True)
        assert sorted(winners) == list(range(WRITERS)) and not errors and read <= TEXTS
    assert list(contents(tmp_path)) == ["plan.json"]
