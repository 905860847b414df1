"""Law: a plan's inputs come back from their file number by number, or not at all; no other file is ever touched."""

import copy
import hashlib
import json
import math
import os
import re
import stat
import threading
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Foil, Tray
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.plan import files
from pcbchem.bench.plan.inputs import Inputs, Kept
from pcbchem.common import json_file

FULL = dict(
    acid=Bottle.labelled("HCl", 0.10),
    peroxide=Bottle("H2O2", 0.05, 0.11, 0.12),
    parts=(3, 1, 1.5),
    board=Board(0.075, 0.060, 0.6, Foil.ounces(2)),
    tray=Tray("still", "down", 0.01, 295.15),
    bath_per_area=0.0555,
    place="GB",
    T_bottles=292.15,
    kept=Kept(0.3, copper=(100, 300), acid=1500.0),
    second=(0.5, 240.0),
    draws=150,
    seed=7,
)
BARE = dict(
    acid=Bottle("HCl", 0.1, 0.1),
    peroxide=Bottle("H2O2", 0.1, 0.1),
    parts=(0, 1, 1),
    board=Board(area=27e-4),
    tray=Tray(),
    bath_per_area=0.1 + 0.2,
    place="EU",
)


def span(low, high, above=False):
    return st.floats(low, high, exclude_min=above)


def pair(low, high):
    return st.tuples(span(low, high), span(low, high)).map(sorted).map(tuple)


def bottles(substance, most):
    return st.builds(
        lambda ends, label: Bottle(substance, *ends, label),
        pair(0, most),
        st.none() | span(0, most),
    )


FOILS = st.builds(Foil, span(0, 5, above=True))
BOARDS = st.builds(Board, span(1e-3, 2), span(1e-3, 2), span(1e-3, 1), FOILS) | st.builds(
    lambda area, foil: Board(area=area, foil=foil), span(1e-9, 4), FOILS
)
TRAYS = st.builds(
    Tray,
    st.sampled_from(["still", "rocked", "bubbled", "sprayed"]),
    st.sampled_from(["up", "down", "upright"]),
    st.none() | st.just(4.0),
    st.none() | span(250, 400),
)
KEPT = st.builds(Kept, span(0, 1, above=True), pair(0, 3000), span(0, 8000), pair(0, 5000))
INPUTS = st.builds(
    Inputs,
    bottles("HCl", 0.45),
    bottles("H2O2", 0.70),
    st.tuples(*[span(0.01, 1000)] * 3),
    BOARDS,
    TRAYS,
    span(1e-4, 10),
    st.sampled_from(["EU", "GB", "elsewhere"]),
    span(273.15, 313.15),
    st.none() | KEPT,
    st.none() | st.tuples(span(0, 0.9), span(5, 7200)),
    st.integers(1, 400),
    st.integers(0, 2**53),
)


def numbers(inputs):
    """Every field, taken apart without the module under test."""
    board, tray = inputs.board, inputs.tray
    return (
        inputs.acid,
        inputs.peroxide,
        inputs.parts,
        *map(
            repr,
            map(
                plain,
                (
                    board.width,
                    board.height,
                    board.bare,
                    board.area,
                    board.foil.areal_mass,
                    tray.open_area,
                    tray.T_air,
                ),
            ),
        ),
        tray.agitation,
        tray.facing,
        inputs.bath_per_area,
        inputs.place,
        inputs.T_bottles,
        inputs.kept,
        inputs.second,
        inputs.draws,
        inputs.seed,
    )


def plain(value):
    return None if value is None else float(value)


def there(folder):
    """Names and bytes of all that lies in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@given(inputs=INPUTS)
@settings(max_examples=60, deadline=None)
def test_law_what_comes_back_is_what_was_saved(inputs, tmp_path_factory):
    folder = tmp_path_factory.mktemp("saved")
    files.save_inputs(inputs, folder / "a.json")
    again = files.read_inputs(str(folder / "a.json"))
    assert numbers(again) == numbers(inputs)
    files.save_inputs(again, folder / "b.json")
    assert (folder / "a.json").read_bytes() == (folder / "b.json").read_bytes()


CASES = {
    "full": FULL,
    "bare": BARE,
    "no label": {**FULL, "peroxide": Bottle("H2O2", 0.05, 0.11)},
    "area alone": {**FULL, "board": Board(area=1 / 3 * 1e-2, foil=Foil(0.1))},
    "no kept": {**FULL, "kept": None},
    "no second": {**FULL, "second": None},
    "open to air unknown": {**FULL, "tray": Tray(T_air=300)},
    "air unknown": {**FULL, "tray": Tray(open_area=0.1)},
    "water only": {**BARE, "parts": (5, 0, 0)},
    "widest ratio": {**BARE, "parts": (1e6, 1, 3)},
    "a third": {**BARE, "parts": (1, 3, 7)},
    "nothing held back": {**FULL, "second": (0, 60)},
    "whole bath kept": {**FULL, "kept": Kept(1, 0, 0, 0)},
}


@pytest.mark.parametrize("name", CASES)
def test_law_every_kind_of_inputs_comes_back(name, tmp_path):
    inputs = Inputs(**CASES[name])
    files.save_inputs(inputs, tmp_path / "plan.json")
    assert numbers(files.read_inputs(tmp_path / "plan.json")) == numbers(inputs)
    assert list(there(tmp_path)) == ["plan.json"]


def test_law_the_file_is_readable_and_holds_nothing_to_pour(tmp_path):
    files.save_inputs(Inputs(**FULL), tmp_path / "plan.json")
    text = (tmp_path / "plan.json").read_text(encoding="utf-8")
    assert not re.search(r"mL|ml|litre|liter|volume|\bL\b|(?<!per_)m3|m³", text)
    # 0.0555 m on 27 cm² is 149.85 mL: the product stands in no unit anywhere
    assert not re.search(r"1498|149\.8", text.split('"sha256"')[0])
    assert text.count("\n") > 40 and text.isascii() and text.endswith("}\n")
    held = json.loads(text)["inputs"]
    assert held["bath_per_area_m"] == 0.0555 and held["kept"]["copper_mol_per_m3"] == [100, 300]
    unitless = {
        "substance",
        "parts_water_acid_peroxide",
        "bare_share",
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
        "kept",
        "second",
    }
    every = set(held) | {key for value in held.values() if isinstance(value, dict) for key in value}
    assert all(
        re.search(r"_(m|m2|K|s|kg_per_kg|kg_per_m2|mol_per_m3)$", key) for key in every - unitless
    )


def test_law_nothing_held_back_is_saved_as_no_second_portion(tmp_path):
    assert files.text_of(Inputs(**CASES["nothing held back"])) == files.text_of(
        Inputs(**CASES["no second"])
    )
    # a file that says it the long way, with the sum that fits it, comes back as the short one
    write(
        tmp_path / "plan.json",
        json.dumps(summed(edited(("inputs", "second"), "share_of_peroxide", 0.0))),
    )
    assert numbers(files.read_inputs(tmp_path / "plan.json")) == numbers(
        Inputs(**CASES["no second"])
    )


# ---- what is refused


def summed(whole):
    """The same file with the sum that fits it, as a forger would write it."""
    text = json.dumps(whole["inputs"], sort_keys=True, separators=(",", ":"))
    return {**whole, "sha256": hashlib.sha256(text.encode()).hexdigest()}


WHOLE = json.loads(files.text_of(Inputs(**FULL)))
PLACES = (
    [()]
    + [("inputs",)]
    + [("inputs", key) for key, value in WHOLE["inputs"].items() if isinstance(value, dict)]
)


def at(whole, place):
    for key in place:
        whole = whole[key]
    return whole


def edited(place, key, value=None, remove=False):
    whole = copy.deepcopy(WHOLE)
    if remove:
        del at(whole, place)[key]
    else:
        at(whole, place)[key] = value
    return whole


def other(value):
    """Another value of the same kind."""
    if isinstance(value, str):
        return value + "x"
    if isinstance(value, list):
        return [value[0] * 1.0001 + 0.01, *value[1:]]
    return value + 1 if isinstance(value, int) else math.nextafter(value, 10) if value else 1.0


def of_other_kind(value):
    return 5.5 if isinstance(value, str) else "5.5" if isinstance(value, int | float) else "text"


LEAVES = [
    (place, key)
    for place in PLACES
    for key, value in at(WHOLE, place).items()
    if not isinstance(value, dict)
]
ALL = [(place, key) for place in PLACES for key in at(WHOLE, place)]
NULL_TOO = {
    ("inputs", "acid", "label_kg_per_kg"),
    ("inputs", "peroxide", "label_kg_per_kg"),
    ("inputs", "kept"),
    ("inputs", "second"),
    ("inputs", "tray", "open_area_m2"),
    ("inputs", "tray", "T_air_K"),
    ("inputs", "board", "bare_area_m2"),
}
REFUSED = {}  # name: (text or bytes, words that the reason must hold)
for place, key in ALL:
    name, inside = ".".join((*place, key)), bool(place)
    fit = summed if inside else dict
    REFUSED[f"{name} removed"] = (
        json.dumps(edited(place, key, remove=True)),
        ("what" if key == "what" else "version" if key == "version" else f"'{key}' is missing"),
    )
    if inside:
        REFUSED[f"{name} removed, right sum"] = (
            json.dumps(summed(edited(place, key, remove=True))),
            f"'{key}' is missing",
        )
    REFUSED[f"{name} of another kind"] = (
        json.dumps(fit(edited(place, key, of_other_kind(at(WHOLE, (*place, key))))))
        if key != "inputs"
        else json.dumps({**WHOLE, "inputs": "text"}),
        key,
    )
    if (*place, key) not in NULL_TOO:
        null = edited(place, key, None)
        REFUSED[f"{name} null"] = json.dumps(fit(null)), key.split("_")[0]
for place, key in LEAVES:
    REFUSED[f"{'.'.join((*place, key))} changed"] = (
        json.dumps(edited(place, key, other(at(WHOLE, (*place, key))))),
        ({"what": '"what"', "version": "version = 2"}.get(key, "changed after it was saved")),
    )
for place in PLACES:
    REFUSED[f"{'.'.join(place) or 'file'} with more"] = (
        json.dumps(edited(place, "extra", 1)),
        "'extra' is unknown",
    )
    if place:
        REFUSED[f"{'.'.join(place)} with more, right sum"] = (
            json.dumps(summed(edited(place, "extra", 1))),
            "'extra' is unknown",
        )
GOOD = files.text_of(Inputs(**FULL))
for name, place, key, value, said in [
    ("acid too strong", ("inputs", "acid"), "high_kg_per_kg", 0.46, "acid: high = 0.46"),
    ("acid below nothing", ("inputs", "acid"), "low_kg_per_kg", -0.1, "acid: low = -0.1"),
    ("acid the wrong way round", ("inputs", "acid"), "low_kg_per_kg", 0.4, "acid: low = 0.4"),
    ("acid is lye", ("inputs", "acid"), "substance", "NaOH", "acid: substance = 'NaOH'"),
    ("acid is peroxide", ("inputs", "acid"), "substance", "H2O2", "must be a Bottle of HCl"),
    ("peroxide too strong", ("inputs", "peroxide"), "high_kg_per_kg", 0.9, "peroxide: high = 0.9"),
    (
        "parts below nothing",
        ("inputs",),
        "parts_water_acid_peroxide",
        [1, -1, 1],
        "parts: acid = -1",
    ),
    ("no parts", ("inputs",), "parts_water_acid_peroxide", [0, 0, 0], "nothing to pour"),
    ("two parts", ("inputs",), "parts_water_acid_peroxide", [1, 1], "list of 3"),
    ("parts of text", ("inputs",), "parts_water_acid_peroxide", [1, "1", 1], "must be a number"),
    ("parts of truth", ("inputs",), "parts_water_acid_peroxide", [True, 1, 1], "must be a number"),
    ("board too wide", ("inputs", "board"), "width_m", 75, "board: width = 75"),
    ("board without a side", ("inputs", "board"), "height_m", None, "board: height = None"),
    ("board of two sizes", ("inputs", "board"), "bare_area_m2", 1.0, "board: area"),
    ("foil of nothing", ("inputs", "board"), "foil_kg_per_m2", 0, "board: areal_mass = 0"),
    ("foil of 400 digits", ("inputs", "board"), "foil_kg_per_m2", 10**400, "board: "),
    ("acid of 400 digits", ("inputs", "acid"), "high_kg_per_kg", 10**400, "acid: high = 1000"),
    ("tray shaken", ("inputs", "tray"), "agitation", "shaken", "tray: agitation = 'shaken'"),
    ("tray too small", ("inputs", "tray"), "open_area_m2", 1e-4, "open_area = 0.0001"),
    ("air in Celsius", ("inputs", "tray"), "T_air_K", 21, "tray: T_air = 21"),
    ("no bath", ("inputs",), "bath_per_area_m", 0, "bath_per_area = 0"),
    ("place unknown", ("inputs",), "place", "Mars", "place = 'Mars'"),
    ("bottles in Celsius", ("inputs",), "T_bottles_K", 20, "T_bottles = 20"),
    ("kept too strong", ("inputs", "kept"), "acid_mol_per_m3", [1, 9000], "kept: acid = 9000"),
    (
        "kept the wrong way round",
        ("inputs", "kept"),
        "acid_mol_per_m3",
        [2, 1],
        "kept: acid = [2, 1]",
    ),
    ("kept of three", ("inputs", "kept"), "acid_mol_per_m3", [1, 2, 3], "list of 2"),
    ("kept share of nothing", ("inputs", "kept"), "share_of_bath", 0, "kept: share = 0"),
    (
        "second share above all",
        ("inputs", "second"),
        "share_of_peroxide",
        1.5,
        "second: share = 1.5",
    ),
    ("second too late", ("inputs", "second"), "after_s", 1e6, "second: time = 1e+06"),
    ("second after two hours", ("inputs", "second"), "after_s", 7201.0, "second: time = 7201"),
    ("second at once", ("inputs", "second"), "after_s", 0.2, "second: time = 0.2"),
    (
        "nearly all held back",
        ("inputs", "second"),
        "share_of_peroxide",
        0.95,
        "second: share = 0.95",
    ),
    ("bottles frozen", ("inputs",), "T_bottles_K", 250.0, "T_bottles = 250"),
    ("bottles hot", ("inputs",), "T_bottles_K", 321.0, "T_bottles = 321"),
    ("no draws", ("inputs",), "draws", 0, "draws = 0"),
    ("half a draw", ("inputs",), "draws", 1.5, "draws = 1.5"),
    ("draws of truth", ("inputs",), "draws", True, "draws = True"),
    ("seed", ("inputs",), "seed", -1, "seed = -1"),
    ("seed too large", ("inputs",), "seed", 2**53 + 1, "seed = 9007199254740993"),
]:
    REFUSED[f"{name}, right sum"] = json.dumps(summed(edited(place, key, value))), said
PNG = b"\x89PNG\r\n\x1a\n" + b"\0\0\0\rIHDR" + zlib.compress(b"\0" * 50)
DECOY = {"what": files.KIND.what, "version": 1}
REFUSED |= {
    "empty": ("", "not JSON"),
    "binary": (bytes(range(256)), "UTF-8"),
    "picture": (PNG, "UTF-8"),
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
        GOOD.replace('"version": 1', '"version": 1, "version": 1'),
        "'version' is there twice",
    ),
    "version 2": (GOOD.replace('"version": 1', '"version": 2'), "version = 2"),
    "version true": (GOOD.replace('"version": 1', '"version": true'), "version = True"),
    "version 1.0": (GOOD.replace('"version": 1', '"version": 1.0'), "version = 1.0"),
    "wrong sum": (json.dumps({**WHOLE, "sha256": "0" * 64}), "changed after it was saved"),
    "sum in capitals": (
        json.dumps({**WHOLE, "sha256": WHOLE["sha256"].upper()}),
        "changed after it was saved",
    ),
    "whole number for a float": (GOOD.replace("240.0", "240"), "changed after it was saved"),
    "head alone": (json.dumps(DECOY), "'note' is missing"),
}


def write(path, content):
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return path.read_bytes()


def test_law_the_file_that_all_these_differ_from_is_good(tmp_path):
    write(tmp_path / "good.json", json.dumps(summed(WHOLE)))
    assert numbers(files.read_inputs(tmp_path / "good.json")) == numbers(Inputs(**FULL))
    assert len(REFUSED) > 200


@pytest.mark.parametrize("name", REFUSED)
def test_law_an_edited_or_foreign_file_is_refused_by_name_and_reason_and_left_alone(name, tmp_path):
    content, said = REFUSED[name]
    before = write(tmp_path / "mine.json", content)
    with pytest.raises(ValueError) as refusal:
        files.read_inputs(tmp_path / "mine.json")
    assert str(refusal.value).startswith("mine.json: ") and said in str(refusal.value), (
        refusal.value
    )
    assert len(str(refusal.value)) < 600
    with pytest.raises(
        ValueError, match=r"^mine\.json: is not a plan of this package, it is left alone"
    ) as refusal:
        files.save_inputs(Inputs(**FULL), tmp_path / "mine.json", overwrite=True)
    assert said in str(refusal.value)
    assert there(tmp_path) == {"mine.json": before}


def test_law_a_folder_and_nothing_are_no_plans(tmp_path):
    for path, said in (
        (tmp_path / "none.json", "none.json: there is no such file"),
        (tmp_path, f"{tmp_path.name}: is not a file"),
    ):
        with pytest.raises(ValueError) as refusal:
            files.read_inputs(path)
        assert str(refusal.value) == said


def test_law_a_plan_that_one_may_not_read_is_refused_by_name(tmp_path, monkeypatch):
    write(tmp_path / "plan.json", GOOD)
    monkeypatch.setattr(
        json_file, "open", failing(PermissionError(13, "Permission denied")), raising=False
    )
    with pytest.raises(ValueError, match=r"^plan.json: cannot be read: Permission denied$"):
        files.read_inputs(tmp_path / "plan.json")


# ---- saving


def test_law_what_is_there_stays_unless_it_is_a_plan_and_one_says_so(tmp_path):
    path = tmp_path / "plan.json"
    for content in ("my notes", GOOD):
        before = write(path, content)
        with pytest.raises(FileExistsError, match=re.escape(str(path))):
            files.save_inputs(Inputs(**BARE), path)
        assert there(tmp_path) == {"plan.json": before}
    files.save_inputs(Inputs(**BARE), path, overwrite=True)
    assert numbers(files.read_inputs(path)) == numbers(Inputs(**BARE)) and list(
        there(tmp_path)
    ) == ["plan.json"]
    with pytest.raises(ValueError, match="left alone: is not a file"):
        files.save_inputs(Inputs(**BARE), tmp_path, overwrite=True)
    with pytest.raises(FileExistsError):
        files.save_inputs(Inputs(**BARE), tmp_path)
    with pytest.raises(FileNotFoundError, match=r"nowhere is not a folder"):
        files.save_inputs(Inputs(**BARE), tmp_path / "nowhere" / "plan.json")
    with pytest.raises(ValueError, match="inputs = 'mild' is impossible"):
        files.save_inputs("mild", tmp_path / "other.json")
    assert list(there(tmp_path)) == ["plan.json"]


def test_law_a_new_name_with_leave_to_overwrite(tmp_path):
    files.save_inputs(Inputs(**BARE), tmp_path / "plan.json", overwrite=True)
    assert numbers(files.read_inputs(tmp_path / "plan.json")) == numbers(Inputs(**BARE))


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_law_a_link_is_followed_and_stays_a_link(tmp_path):
    (tmp_path / "far").mkdir()
    (tmp_path / "plan.json").symlink_to(tmp_path / "far" / "real.json")
    files.save_inputs(Inputs(**FULL), tmp_path / "plan.json")  # a link to nothing yet
    files.save_inputs(Inputs(**BARE), tmp_path / "plan.json", overwrite=True)
    assert (tmp_path / "plan.json").is_symlink()
    assert numbers(files.read_inputs(tmp_path / "far" / "real.json")) == numbers(Inputs(**BARE))
    assert list(there(tmp_path / "far")) == ["real.json"]


@pytest.mark.skipif(os.name == "nt", reason="other rights there")
def test_law_others_may_read_it_as_any_new_file(tmp_path):
    files.save_inputs(Inputs(**BARE), tmp_path / "plan.json")
    (tmp_path / "any").write_text("")
    assert stat.S_IMODE((tmp_path / "plan.json").stat().st_mode) == stat.S_IMODE(
        (tmp_path / "any").stat().st_mode
    )


class Full:
    """A file on a full disk: it takes half of what it is given."""

    def __init__(self, file):
        self.file = file

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.file.close()

    def write(self, data):
        self.file.write(data[: len(data) // 2])
        self.file.flush()
        raise OSError(28, "No space left on device")


def half_open(path, mode):
    file = open(path, mode)  # noqa: SIM115 (closed by who asked)
    return Full(file) if mode == "xb" else file


def failing(error):
    def fail(*_, **__):
        raise error

    return fail


def no_links(*_, **__):
    raise PermissionError(1, "Operation not permitted")


def break_it(monkeypatch, how):
    """Make the next save fail at one step; reading goes on as before."""
    if how == "write":
        monkeypatch.setattr(json_file, "open", half_open, raising=False)
    else:
        error = (
            KeyboardInterrupt() if how.endswith("interrupted") else OSError(5, "Input/output error")
        )
        monkeypatch.setattr(os, how.split()[0], failing(error))


@pytest.mark.parametrize(
    "how", ["write", "fsync", "replace", "fsync interrupted", "replace interrupted"]
)
def test_law_an_interrupted_save_over_a_plan_leaves_the_plan_and_nothing_else(
    how, tmp_path, monkeypatch
):
    before = write(tmp_path / "plan.json", GOOD)
    break_it(monkeypatch, how)
    with pytest.raises((OSError, KeyboardInterrupt)):
        files.save_inputs(Inputs(**BARE), tmp_path / "plan.json", overwrite=True)
    assert there(tmp_path) == {"plan.json": before}


@pytest.mark.parametrize("how", ["write", "fsync", "link interrupted", "fsync interrupted"])
def test_law_an_interrupted_save_of_a_new_plan_leaves_nothing(how, tmp_path, monkeypatch):
    break_it(monkeypatch, how)
    with pytest.raises((OSError, KeyboardInterrupt)):
        files.save_inputs(Inputs(**BARE), tmp_path / "plan.json")
    assert there(tmp_path) == {}


@pytest.mark.parametrize("how", ["replace", "replace interrupted"])
def test_law_an_interrupted_save_where_there_are_no_links_leaves_nothing(
    how, tmp_path, monkeypatch
):
    monkeypatch.setattr(os, "link", no_links)
    break_it(monkeypatch, how)
    with pytest.raises((OSError, KeyboardInterrupt)):
        files.save_inputs(Inputs(**BARE), tmp_path / "plan.json")
    assert there(tmp_path) == {}


@pytest.mark.parametrize("links", [True, False])
def test_law_a_file_that_comes_while_we_write_is_left_alone(links, tmp_path, monkeypatch):
    path, real = tmp_path / "plan.json", os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (real(handle), path.write_text("my notes"))[0])
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    with pytest.raises(FileExistsError):
        files.save_inputs(Inputs(**BARE), path)
    assert there(tmp_path) == {"plan.json": b"my notes"}
    path.unlink()
    with pytest.raises(ValueError, match="left alone"):  # with leave to overwrite a plan, too
        files.save_inputs(Inputs(**BARE), path, overwrite=True)
    assert there(tmp_path) == {"plan.json": b"my notes"}


@pytest.mark.parametrize("links", [True, False])
def test_law_a_file_that_comes_between_the_last_look_and_the_placing_is_left_alone(
    links, tmp_path, monkeypatch
):
    path, real = tmp_path / "plan.json", os.link

    def late(beside, target):
        path.write_text("my notes")
        return real(beside, target) if links else no_links()

    monkeypatch.setattr(os, "link", late)
    with pytest.raises(FileExistsError):
        files.save_inputs(Inputs(**BARE), path)
    assert there(tmp_path) == {"plan.json": b"my notes"}


def test_law_a_file_that_comes_and_goes_while_we_write_is_not_written_over(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "link", failing(FileExistsError(17, "File exists")))
    for overwrite in (False, True):
        with pytest.raises(FileExistsError):
            files.save_inputs(Inputs(**BARE), tmp_path / "plan.json", overwrite=overwrite)
    assert there(tmp_path) == {}


def together(path, overwrite, writers=8):
    """Save from several threads at once, reading all the while: who did, what else was raised, what was seen."""
    start, stop = threading.Barrier(writers + 1), threading.Event()
    won, refused, seen = [], [], []

    def writer(number):
        inputs = Inputs(**{**FULL, "seed": number})
        start.wait()
        try:
            files.save_inputs(inputs, path, overwrite=overwrite)
            won.append(number)
        except Exception as error:
            refused.append(error)

    def reader():
        start.wait()
        while not stop.is_set():
            if path.exists():
                seen.append(path.read_bytes())

    threads = [threading.Thread(target=writer, args=(number,)) for number in range(writers)]
    watching = threading.Thread(target=reader)
    for thread in (*threads, watching):
        thread.start()
    for thread in threads:
        thread.join()
    stop.set()
    watching.join()
    return won, refused, set(seen)


WRITTEN = {files.text_of(Inputs(**{**FULL, "seed": number})).encode() for number in range(8)}


@pytest.mark.parametrize("links", [True, False])
def test_law_of_several_writers_at_once_one_wins_and_nobody_sees_half_a_file(
    links, tmp_path, monkeypatch
):
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    for turn in range(10):
        path = tmp_path / f"{turn}.json"
        won, refused, seen = together(path, overwrite=False)
        assert (
            len(won) == 1
            and len(refused) == 7
            and all(isinstance(error, FileExistsError) for error in refused)
        )
        assert files.read_inputs(path).seed == won[0]
        assert seen <= WRITTEN | (
            set() if links else {b""}
        )  # without links the name is taken first, empty
    assert len(there(tmp_path)) == 10


def test_law_writers_who_may_overwrite_all_do_and_nobody_sees_half_a_file(tmp_path):
    path = tmp_path / "plan.json"
    for _ in range(5):
        won, refused, seen = together(path, overwrite=True)
        assert sorted(won) == list(range(8)) and not refused and seen <= WRITTEN
    assert list(there(tmp_path)) == ["plan.json"]
