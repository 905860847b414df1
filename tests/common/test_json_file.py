"""A JSON file is read with every check, and saved all at once or not at all.

Plans are saved so: tests/bench/plan/test_files.py tries the same with whole plans, several writers
at once among it.
"""

import dataclasses
import errno
import json
import os
import re
from pathlib import Path
from typing import Any

import pytest

from pcbchem.common import json_file
from pcbchem.common.json_file import Kind, Older

KIND = Kind(
    "a test's recipe",
    2,
    "Do not edit.",
    "recipe",
    "recipe",
    {
        "name": str,
        "parts": [float] * 3,
        "steps": [{"what": str, "after_s": (float,)}],
        "oven": ({"T_K": float},),
        "count": int,
    },
    1000,
)
RECIPE: dict[str, Any] = {
    "name": "dough",
    "parts": [3, 1, 0.5],
    "steps": [{"what": "mix", "after_s": None}, {"what": "bake", "after_s": 60.0}],
    "oven": {"T_K": 450.0},
    "count": 4,
}
TEXT = KIND.text_of(RECIPE)
OTHER = KIND.text_of({**RECIPE, "name": "bread", "oven": None, "steps": []})


def unchanged(content: dict[str, Any]) -> dict[str, Any]:
    return content


def impossible(content: dict[str, Any]) -> dict[str, Any]:
    raise ValueError("name = 'dough' is impossible")


def signed(change: dict[str, Any]) -> str:
    """A text whose sum fits, with some of the recipe changed."""
    return KIND.text_of({**RECIPE, **change})


def files_in(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text() for path in folder.iterdir()}


# ---- reading


def test_content_comes_back() -> None:
    # Law.
    assert KIND.content_of(TEXT.encode()) == RECIPE
    assert KIND.content_of(OTHER.encode())["oven"] is None


def test_the_text_names_what_it_is_in_this_order() -> None:
    # Law: people read it from the top.
    assert list(json.loads(TEXT)) == ["what", "version", "note", "recipe", "sha256"]
    assert TEXT.endswith("}\n")


def test_the_order_of_names_and_spaces_is_no_change() -> None:
    # Law: the sum is of the content.
    whole = json.loads(TEXT)
    whole["recipe"] = dict(reversed(whole["recipe"].items()))
    assert KIND.content_of(json.dumps(whole).encode()) == RECIPE


def test_what_is_built_of_a_file_comes_back(tmp_path: Path) -> None:
    # Law.
    (tmp_path / "a.json").write_text(TEXT)
    assert KIND.read(tmp_path / "a.json", lambda content: content["count"]) == 4


BAD = {
    "too large": (TEXT + " " * 1000, "is too large for a recipe: it must be at most 1000 bytes"),
    "not text": (b"\xff\xfe", "is not text in UTF-8"),
    "not JSON": ("{", "is not JSON that can be read"),
    "too deep": ("[" * 999, "is not JSON that can be read"),
    "a list": ("[]", 'is not a recipe of this package: it must be an object with "what"'),
    "foreign": (TEXT.replace("a test's", "another"), "is not a recipe of this package"),
    "a later version": (TEXT.replace('version": 2', 'version": 3'), "version = 3 is not known"),
    "a version in words": (TEXT.replace('version": 2', 'version": true'), "version = True is"),
    "another note": (TEXT.replace("Do not", "Do"), "was changed after it was saved"),
    "changed by hand": (TEXT.replace("dough", "bread"), "was changed after it was saved"),
    "a name twice": (
        TEXT.replace('"count": 4', '"count": 4, "count": 4'),
        "'count' is there twice",
    ),
    "a name more": (TEXT.replace('"version"', '"by": "me", "version"'), "'by' is unknown"),
    "no number": (TEXT.replace("450.0", "NaN"), "NaN is not a number: every number must be"),
    "no end": (TEXT.replace("450.0", "1e999"), "1e999 is not a number: every number must be"),
    "a name missing": (KIND.text_of({"name": "dough"}), "recipe: 'parts' is missing, it must hold"),
    "unknown inside": (signed({"oven": {"T_K": 4.0, "T_C": 1.0}}), "oven: 'T_C' is unknown"),
    "no object": (signed({"oven": 450.0}), "oven = 450.0 is impossible: it must hold T_K"),
    "null where none may be": (signed({"count": None}), "count = None is impossible"),
    "a text for a number": (signed({"oven": {"T_K": "450"}}), "T_K = '450' is impossible"),
    "a share for a whole number": (signed({"count": 4.5}), "it must be a whole number"),
    "true for a number": (signed({"count": True}), "count = True is impossible"),
    "a number for a text": (signed({"name": 3}), "name = 3 is impossible: it must be a text"),
    "two parts of three": (signed({"parts": [3, 1]}), "it must be a list of 3 numbers"),
    "no list": (signed({"steps": {}}), "steps = {} is impossible: it must be a list"),
    "a bad item": (signed({"steps": [{"what": "mix"}]}), "steps: 'after_s' is missing"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_refused_by_name_and_reason(name: str, tmp_path: Path) -> None:
    # Law: and the file stays as it is.
    text, reason = BAD[name]
    data = text if isinstance(text, bytes) else text.encode()
    (tmp_path / "a.json").write_bytes(data)
    with pytest.raises(ValueError) as caught:
        KIND.read(tmp_path / "a.json", unchanged)
    assert str(caught.value).startswith("a.json: ") and reason in str(caught.value)
    assert (tmp_path / "a.json").read_bytes() == data


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    # Law.
    with pytest.raises(ValueError, match=r"^a.json: there is no such file$"):
        KIND.read(tmp_path / "a.json", unchanged)
    with pytest.raises(ValueError, match=r": is not a file$"):
        KIND.read(tmp_path, unchanged)
    (tmp_path / "nowhere.json").symlink_to(tmp_path / "gone.json")
    with pytest.raises(ValueError, match=r"^nowhere.json: is not a file$"):
        KIND.read(tmp_path / "nowhere.json", unchanged)


def test_an_impossible_content_is_refused_by_name(tmp_path: Path) -> None:
    # Law.
    (tmp_path / "a.json").write_text(TEXT)
    with pytest.raises(ValueError, match=r"^a.json: name = 'dough' is impossible$"):
        KIND.read(tmp_path / "a.json", impossible)


# ---- older versions


def with_a_count(content: dict[str, Any]) -> dict[str, Any]:
    """The first version did not count."""
    return {**content, "steps": [], "oven": None, "count": 1}


FIRST = Older(1, "Old note.", {"name": str, "parts": [float] * 3}, with_a_count)
NEWER = dataclasses.replace(KIND, older=(FIRST,))
OLD_KIND = dataclasses.replace(KIND, version=1, note=FIRST.note, layout=FIRST.layout)
OLD_TEXT = OLD_KIND.text_of({"name": "dough", "parts": [3, 1, 0.5]})


def test_an_older_version_is_read_as_it_is_renewed(tmp_path: Path) -> None:
    # Law: by its own layout and note, and the file stays as it is.
    (tmp_path / "a.json").write_text(OLD_TEXT)
    content = NEWER.read(tmp_path / "a.json", unchanged)
    assert content == {"name": "dough", "parts": [3, 1, 0.5], "steps": [], "oven": None, "count": 1}
    assert files_in(tmp_path) == {"a.json": OLD_TEXT}
    assert NEWER.content_of(TEXT.encode()) == RECIPE
    assert NEWER.text_of(RECIPE) == TEXT, "only the newest is saved"


@pytest.mark.parametrize(
    ("kind", "text", "reason"),
    [
        (KIND, OLD_TEXT, "version = 1 is not known: it must be 2"),
        (NEWER, TEXT.replace('version": 2', 'version": 3'), "it must be 1 or 2"),
        (NEWER, TEXT.replace('version": 2', 'version": 1'), "'steps' is unknown"),
        (NEWER, OLD_TEXT.replace('version": 1', 'version": 2'), "'steps' is missing"),
        (NEWER, OLD_TEXT.replace("Old note", "New note"), "was changed after it was saved"),
        (NEWER, OLD_TEXT.replace("dough", "bread"), "was changed after it was saved"),
        (NEWER, OLD_TEXT.replace('version": 1', 'version": true'), "version = True"),
    ],
)
def test_an_older_version_is_checked_like_the_newest(kind: Kind, text: str, reason: str) -> None:
    # Law.
    with pytest.raises(ValueError, match=re.escape(reason)):
        kind.content_of(text.encode())


def test_an_older_file_may_be_replaced(tmp_path: Path) -> None:
    # Law: as any file of the kind.
    (tmp_path / "a.json").write_text(OLD_TEXT)
    NEWER.save(TEXT, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == {"a.json": TEXT}


# ---- saving


def test_a_saved_file_can_be_read_and_nothing_else_is_left(tmp_path: Path) -> None:
    # Law.
    KIND.save(TEXT, tmp_path / "a.json", unchanged, overwrite=False)
    assert files_in(tmp_path) == {"a.json": TEXT}


def test_a_file_is_replaced_only_with_leave(tmp_path: Path) -> None:
    # Law.
    (tmp_path / "a.json").write_text(TEXT)
    with pytest.raises(FileExistsError, match="already there: choose another name"):
        KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=False)
    assert files_in(tmp_path) == {"a.json": TEXT}
    KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == {"a.json": OTHER}


@pytest.mark.parametrize("text", ["my notes", TEXT.replace("dough", "bread")])
def test_what_is_no_whole_file_of_the_kind_is_left_alone(text: str, tmp_path: Path) -> None:
    # Law.
    (tmp_path / "a.json").write_text(text)
    with pytest.raises(ValueError, match=r"^a.json: is not a recipe .*, it is left alone: "):
        KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == {"a.json": text}


def test_what_cannot_be_built_again_is_left_alone(tmp_path: Path) -> None:
    # Law.
    (tmp_path / "a.json").write_text(TEXT)
    with pytest.raises(ValueError, match=r"it is left alone: name = 'dough' is impossible$"):
        KIND.save(OTHER, tmp_path / "a.json", impossible, overwrite=True)
    assert files_in(tmp_path) == {"a.json": TEXT}


def test_a_text_too_large_to_be_read_again_is_not_saved(tmp_path: Path) -> None:
    # Law.
    with pytest.raises(ValueError, match=r"^recipe of 1001 bytes is too large"):
        KIND.save("x" * 1001, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == {}


def test_a_file_of_the_largest_size_is_saved_and_read(tmp_path: Path) -> None:
    # Law: the limit itself is allowed, both ways.
    largest = TEXT + " " * (1000 - len(TEXT.encode()))
    KIND.save(largest, tmp_path / "a.json", unchanged, overwrite=False)
    assert KIND.read(tmp_path / "a.json", unchanged) == RECIPE


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    # Law.
    with pytest.raises(FileNotFoundError, match="is not a folder: make it first"):
        KIND.save(TEXT, tmp_path / "deep" / "a.json", unchanged, overwrite=False)
    assert files_in(tmp_path) == {}


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    # Law.
    (tmp_path / "real.json").write_text(TEXT)
    (tmp_path / "link.json").symlink_to(tmp_path / "real.json")
    KIND.save(OTHER, tmp_path / "link.json", unchanged, overwrite=True)
    assert (tmp_path / "link.json").is_symlink()
    assert files_in(tmp_path) == {"real.json": OTHER, "link.json": OTHER}


def test_the_data_is_on_the_disk_before_the_name(tmp_path: Path, monkeypatch) -> None:
    # Law: or a loss of power would leave a name with nothing in it.
    steps = []
    for step in ("fsync", "link", "replace"):
        real = getattr(os, step)

        def noted(*arguments: Any, step: str = step, real: Any = real) -> Any:
            steps.append(step)
            return real(*arguments)

        monkeypatch.setattr(os, step, noted)
    KIND.save(TEXT, tmp_path / "a.json", unchanged, overwrite=True)
    KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=True)
    assert steps == ["fsync", "link", "fsync", "replace"]


def without_links(monkeypatch) -> None:
    """A disk that knows no links."""

    def no_link(*arguments: Any) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)


ERRORS = [OSError(errno.EIO, "Input/output error"), KeyboardInterrupt()]


@pytest.mark.parametrize(
    ("step", "links", "before"),
    [
        ("fsync", True, None),
        ("fsync", True, TEXT),
        ("replace", True, TEXT),
        ("replace", False, None),
    ],
)
@pytest.mark.parametrize("error", ERRORS)
def test_a_save_that_fails_leaves_what_was_there(
    step: str, links: bool, before: str | None, error: BaseException, tmp_path: Path, monkeypatch
) -> None:
    # Law: the old file or none, and no draft beside it.
    if not links:
        without_links(monkeypatch)
    if before is not None:
        (tmp_path / "a.json").write_text(before)

    def failing(*arguments: Any) -> None:
        raise error

    monkeypatch.setattr(os, step, failing)
    with pytest.raises(type(error)):
        KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == ({} if before is None else {"a.json": before})


def test_an_interrupted_link_leaves_nothing(tmp_path: Path, monkeypatch) -> None:
    # Law: who wants to stop is not served in another way.
    def interrupted(*arguments: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "link", interrupted)
    with pytest.raises(KeyboardInterrupt):
        KIND.save(TEXT, tmp_path / "a.json", unchanged, overwrite=False)
    assert files_in(tmp_path) == {}


def test_a_disk_without_links_saves_all_the_same(tmp_path: Path, monkeypatch) -> None:
    # Law.
    without_links(monkeypatch)
    KIND.save(TEXT, tmp_path / "a.json", unchanged, overwrite=False)
    KIND.save(OTHER, tmp_path / "a.json", unchanged, overwrite=True)
    assert files_in(tmp_path) == {"a.json": OTHER}


@pytest.mark.parametrize("links", [True, False])
@pytest.mark.parametrize(
    ("text", "overwrite", "error"),
    [
        ("my notes", True, ValueError),
        ("my notes", False, FileExistsError),
        (TEXT, False, FileExistsError),
        (TEXT, True, None),
    ],
)
@pytest.mark.parametrize("moment", ["while we write", "after the last look"])
def test_a_file_that_comes_meanwhile_is_treated_like_any(
    links: bool, text: str, overwrite: bool, error: Any, moment: str, tmp_path: Path, monkeypatch
) -> None:
    # Law: what another program puts there is replaced only if it may be.
    target = tmp_path / "a.json"
    if not links:
        without_links(monkeypatch)
    name = "_write_to_disk" if moment == "while we write" else "name_if_free"
    real = getattr(json_file, name)

    def late(*arguments: Any) -> None:
        target.write_text(text)
        real(*arguments)

    monkeypatch.setattr(json_file, name, late)
    if error is None:
        KIND.save(OTHER, target, unchanged, overwrite)
        assert files_in(tmp_path) == {"a.json": OTHER}
    else:
        with pytest.raises(error):
            KIND.save(OTHER, target, unchanged, overwrite)
        assert files_in(tmp_path) == {"a.json": text}


def test_what_another_program_wrote_under_our_name_is_kept(tmp_path: Path, monkeypatch) -> None:
    # Law: without links the name is taken with an empty file, which is removed only while empty.
    without_links(monkeypatch)
    target = tmp_path / "a.json"

    def filled_by_another(*arguments: Any) -> None:
        target.write_text("my notes")
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "replace", filled_by_another)
    with pytest.raises(OSError, match="Input/output"):
        KIND.save(TEXT, target, unchanged, overwrite=False)
    assert files_in(tmp_path) == {"a.json": "my notes"}
