"""What every JSON file of this package shares: names with their kinds, a sum, and a write all at once or not at all."""

from __future__ import annotations

import contextlib
import dataclasses
import hashlib
import json
import os
import pathlib
import secrets
from collections.abc import Callable
from typing import Any

from .limits import naming


@dataclasses.dataclass(frozen=True)
class Kind:
    """One kind of file: `what` it says it is, its `version`, a `note` to whoever opens it, the `word` for it in errors.

    `holds`: the name of what it holds; `names`: every name in that with its kind, at every level, where a kind alone in
    brackets may also be null and a list of one kind may be of any length; `most_bytes` of a file. All of it is part of
    the format: other words are another version.
    """

    what: str
    version: int
    note: str
    word: str
    holds: str
    names: dict[str, Any]
    most_bytes: int

    def text_of(self, held: dict[str, Any]) -> str:
        """The text of a file that holds this, with its sum."""
        whole = {
            "what": self.what,
            "version": self.version,
            "note": self.note,
            self.holds: held,
            "sha256": _sum(held),
        }
        return json.dumps(whole, indent=2, allow_nan=False) + "\n"

    def held(self, data: bytes) -> dict[str, Any]:
        """What the bytes of a file hold after every check of the format, or ValueError with the reason why not."""
        if len(data) > self.most_bytes:
            raise ValueError(
                f"is too large for a {self.word}: it must be at most {self.most_bytes} bytes"
            )
        try:
            whole = json.loads(
                data.decode("utf-8"),
                parse_constant=_number_of,
                parse_float=_number_of,
                object_pairs_hook=_once,
            )
        except UnicodeDecodeError:
            raise ValueError("is not text in UTF-8") from None
        except (json.JSONDecodeError, RecursionError) as wrong:
            raise ValueError(f"is not JSON that can be read: {wrong}") from None
        if not isinstance(whole, dict) or whole.get("what") != self.what:
            raise ValueError(
                f'is not a {self.word} of this package: it must be an object with "what": "{self.what}"'
            )
        if type(whole.get("version")) is not int or whole["version"] != self.version:
            raise ValueError(
                f"version = {whole.get('version')!r:.80} is not known: it must be {self.version}"
            )
        _fits(
            "the file",
            whole,
            {"what": str, "version": int, "note": str, self.holds: self.names, "sha256": str},
        )
        if whole["note"] != self.note or whole["sha256"] != _sum(whole[self.holds]):
            raise ValueError("was changed after it was saved: its note or its sum does not fit")
        found: dict[str, Any] = whole[self.holds]
        return found

    def read(self, path: str | pathlib.Path, built: Callable[[dict[str, Any]], Any]) -> Any:
        """What is built from a file, or ValueError: the file's name, then the reason why not."""
        file = pathlib.Path(path)
        with naming(file.name or str(file)):
            if not file.is_file():
                raise ValueError(
                    "there is no such file" if not os.path.lexists(file) else "is not a file"
                )
            try:
                with open(file, "rb") as opened:
                    data = opened.read(self.most_bytes + 1)
            except OSError as wrong:
                raise ValueError(f"cannot be read: {wrong.strerror}") from None
            return built(self.held(data))

    def save(
        self,
        text: str,
        path: str | pathlib.Path,
        built: Callable[[dict[str, Any]], Any],
        overwrite: bool,
    ) -> None:
        """Write a file all at once or not at all; one that is there and not of this kind is never touched.

        Raises
        ------
        FileExistsError
            Something of that name is there, and `overwrite` is false: names the path.
        ValueError
            `overwrite` is true and what is there is not an unchanged file of this kind: names the file and says why;
            or a text that is too large.
        OSError
            No such folder, or the system will not write there; what was there before is still there.
        """
        data = text.encode("utf-8")
        if len(data) > self.most_bytes:
            raise ValueError(
                f"{self.word} of {len(data)} bytes is too large to be read again: it must be at most "
                f"{self.most_bytes} bytes, nothing was saved"
            )
        target = pathlib.Path(os.path.realpath(path))
        if not target.parent.is_dir():
            raise FileNotFoundError(
                f"{target.parent} is not a folder: make it first, nothing was saved"
            )

        def may_go() -> bool:
            """Whether there is a file of this kind to replace; what must be left alone raises."""
            if not os.path.lexists(target):
                return False
            if not overwrite:
                raise FileExistsError(
                    f"{target} is already there: choose another name, or overwrite=True for a "
                    f"{self.word}"
                )
            try:
                self.read(target, built)
            except ValueError as wrong:
                said = str(wrong).removeprefix(f"{target.name}: ")
                raise ValueError(
                    f"{target.name}: is not a {self.word} of this package, it is left alone: {said}"
                ) from None
            return True

        may_go()
        beside = target.with_name(f".{secrets.token_hex(8)}.tmp")
        try:
            with open(beside, "xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            if may_go():
                os.replace(beside, target)
            else:
                try:
                    _place_new(beside, target)
                except FileExistsError:  # it came while we wrote
                    if not may_go():
                        raise
                    os.replace(beside, target)
        finally:
            with contextlib.suppress(OSError):  # what is saved is saved
                beside.unlink(missing_ok=True)


def _place_new(beside: pathlib.Path, target: pathlib.Path) -> None:
    """Give a finished file its name, unless something has that name."""
    try:
        os.link(beside, target)
    except FileExistsError:
        raise
    except (
        OSError,
        NotImplementedError,
        AttributeError,
    ):  # no links here: take the name first, empty, then fill it
        open(target, "xb").close()
        try:
            os.replace(beside, target)
        except BaseException:
            if target.stat().st_size == 0:
                target.unlink()
            raise


def _fits(where: str, value: Any, kind: Any) -> None:
    """Refuse a name that is unknown or missing, or a value of another kind, at every level."""
    if isinstance(kind, tuple):
        if value is None:
            return
        kind = kind[0]
    if isinstance(kind, dict):
        if not isinstance(value, dict):
            raise ValueError(
                f"{where} = {value!r:.80} is impossible: it must hold {', '.join(kind)}"
            )
        for key in [*kind, *value]:
            if (key in kind) != (key in value):
                raise ValueError(
                    f"{where}: {key!r:.80} is {'missing' if key in kind else 'unknown'}, "
                    f"it must hold {', '.join(kind)} and nothing else"
                )
            _fits(key, value[key], kind[key])
    elif isinstance(kind, list):
        if not isinstance(value, list) or len(kind) not in (1, len(value)):
            raise ValueError(
                f"{where} = {value!r:.80} is impossible: it must be a list of "
                f"{f'{len(kind)} ' if len(kind) > 1 else ''}numbers"
            )
        for one in value:
            _fits(where, one, kind[0])
    elif isinstance(value, bool) or not isinstance(value, int | float if kind is float else kind):
        said = {str: "a text", int: "a whole number", float: "a number"}[kind]
        raise ValueError(f"{where} = {value!r:.80} is impossible: it must be {said}")


def _sum(held: Any) -> str:
    plain = json.dumps(held, sort_keys=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(plain.encode("ascii")).hexdigest()


def _number_of(text: str) -> float:
    """A number of JSON, which knows no NaN and nothing infinite."""
    value = float(text)
    if not value - value == 0:
        raise ValueError(f"{text:.80} is not a number: every number must be finite")
    return value


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object of JSON in which no name comes twice."""
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"{key!r:.80} is there twice")
        found[key] = value
    return found
