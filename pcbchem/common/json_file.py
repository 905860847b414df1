"""Keep a JSON file that nobody changed by hand: its layout, its sum, and a write all or nothing."""

from __future__ import annotations

import contextlib
import dataclasses
import hashlib
import json
import math
import os
import pathlib
from collections.abc import Callable
from typing import Any

from .limits import naming

KIND_WORDS: dict[type, str] = {str: "a text", int: "a whole number", float: "a number"}

Build = Callable[[dict[str, Any]], Any]
"""Makes something of the content of a file, or raises ValueError with the reason why not."""


@dataclasses.dataclass(frozen=True)
class Older:
    """An older version of a kind of file, that can still be read.

    Parameters
    ----------
    version : int
        Which one.
    note : str
        Its note to whoever opens the file.
    layout : dict
        Every name in its content with its kind, as in `Kind`.
    renew : callable
        Makes of its content the content that `Kind.content_of` gives.
    """

    version: int
    note: str
    layout: dict[str, Any]
    renew: Callable[[dict[str, Any]], dict[str, Any]]


@dataclasses.dataclass(frozen=True)
class Kind:
    """A kind of file, and how it is read and saved. All of it is part of the format.

    Parameters
    ----------
    what : str
        What the file says it is.
    version : int
        Version of the format: other names or other words are another version.
    note : str
        A note to whoever opens the file.
    word : str
        What errors call such a file: "plan".
    content : str
        Name of the content in the file.
    layout : dict
        Every name in the content with its kind (str, int, float, or another such dict), at every
        level. A kind alone in brackets may also be null; a list of one kind may be of any length,
        a list of several is of that length.
    most_bytes : int
        Largest file that is read or saved.
    older : tuple of Older
        Versions that are read too, and never saved.
    """

    what: str
    version: int
    note: str
    word: str
    content: str
    layout: dict[str, Any]
    most_bytes: int
    older: tuple[Older, ...] = ()

    def text_of(self, content: dict[str, Any]) -> str:
        """Return the text of a file with this content and its sum."""
        whole = {
            "what": self.what,
            "version": self.version,
            "note": self.note,
            self.content: content,
            "sha256": _sum(content),
        }
        return json.dumps(whole, indent=2, allow_nan=False) + "\n"

    def content_of(self, data: bytes) -> dict[str, Any]:
        """Return the content of a file after every check of the format.

        Parameters
        ----------
        data : bytes
            The whole file.

        Returns
        -------
        dict
            Its content, of the names and kinds of the layout; of an older file as it is renewed.

        Raises
        ------
        ValueError
            Too large, not JSON, of another kind or version, a name unknown, missing or twice, a
            value of another kind, or changed after it was saved: the reason.
        """
        whole = self._parsed(data)

        # First what the file says it is: of a foreign file, that is all there is to say
        if not isinstance(whole, dict) or whole.get("what") != self.what:
            raise ValueError(
                f"is not a {self.word} of this package: "
                f'it must be an object with "what": "{self.what}"'
            )
        version = whole.get("version")
        note, own_layout, renew = self.note, self.layout, None
        known = {self.version, *(older.version for older in self.older)}
        # By its type: to Python true and 1.0 are equal to 1
        if type(version) is not int or version not in known:
            versions = " or ".join(str(number) for number in sorted(known))
            raise ValueError(f"version = {version!r:.80} is not known: it must be {versions}")
        for older in self.older:
            if version == older.version:
                note, own_layout, renew = older.note, older.layout, older.renew

        layout = {
            "what": str,
            "version": int,
            "note": str,
            self.content: own_layout,
            "sha256": str,
        }
        _check_layout("the file", whole, layout)
        content: dict[str, Any] = whole[self.content]
        if whole["note"] != note or whole["sha256"] != _sum(content):
            raise ValueError("was changed after it was saved: its note or its sum does not fit")
        if renew is not None:
            return renew(content)
        return content

    def _parsed(self, data: bytes) -> Any:
        if len(data) > self.most_bytes:
            raise ValueError(
                f"is too large for a {self.word}: it must be at most {self.most_bytes} bytes"
            )
        try:
            # Python's reader takes NaN and Infinity as constants, 1e999 as infinite, and the last
            # of two values of one name: each of these is refused here
            return json.loads(
                data.decode("utf-8"),
                parse_constant=_finite_number,
                parse_float=_finite_number,
                object_pairs_hook=_without_twins,
            )
        except UnicodeDecodeError:
            raise ValueError("is not text in UTF-8") from None
        # Some thousand brackets, one inside the other, are JSON too: Python gives up on them
        except (json.JSONDecodeError, RecursionError) as error:
            raise ValueError(f"is not JSON that can be read: {error}") from None

    def read(self, path: str | pathlib.Path, build: Build) -> Any:
        """Build something from a file.

        Parameters
        ----------
        path : str or Path
            The file.
        build : callable
            Makes something of its content, or raises ValueError.

        Returns
        -------
        Any
            What `build` returns.

        Raises
        ------
        ValueError
            The file's name, then the reason why not.
        """
        file = pathlib.Path(path)
        with naming(file.name or str(file)):
            return build(self.content_of(self._bytes_of(file)))

    def _bytes_of(self, file: pathlib.Path) -> bytes:
        # A link to nowhere is there, though it is no file
        if not os.path.lexists(file):
            raise ValueError("there is no such file")
        if not file.is_file():
            raise ValueError("is not a file")
        try:
            with open(file, "rb") as stream:
                # One byte more than may be there says that it is too large, however large it is
                return stream.read(self.most_bytes + 1)
        except OSError as error:
            raise ValueError(f"cannot be read: {error.strerror}") from None

    def save(self, text: str, path: str | pathlib.Path, build: Build, overwrite: bool) -> None:
        """Write a file all at once or not at all; what is there and of another kind is left alone.

        The text goes into a new file beside the target, which then takes the target's name in one
        step. Whatever stops it, a reader finds the old file or the new one, never half of one.

        Parameters
        ----------
        text : str
            From `text_of`.
        path : str or Path
            Where to; its folder must exist. A link is followed.
        build : callable
            As in `read`: an old file is replaced only if it can be read.
        overwrite : bool
            Take the place of a file of this kind.

        Raises
        ------
        FileExistsError
            Something of that name is there, and `overwrite` is false: names the path.
        ValueError
            `overwrite` is true and what is there is not an unchanged file of this kind: names the
            file and says why; or a text that is too large.
        OSError
            No such folder, or the system will not write there; what was there is still there.
        """
        data = text.encode("utf-8")
        if len(data) > self.most_bytes:
            raise ValueError(
                f"{self.word} of {len(data)} bytes is too large to be read again: "
                f"it must be at most {self.most_bytes} bytes, nothing was saved"
            )
        # A link is followed: the file that it points to is replaced, and the link stays
        target = pathlib.Path(os.path.realpath(path))
        if not target.parent.is_dir():
            raise FileNotFoundError(
                f"{target.parent} is not a folder: make it first, nothing was saved"
            )
        self._check_replaceable(target, build, overwrite)

        # Beside the target, and so on the same disk: only there is a change of name one step. A
        # random name, so that two who save at once do not write into one draft
        draft = target.with_name(f".{os.urandom(8).hex()}.tmp")
        try:
            _write_to_disk(draft, data)
            self._put_in_place(draft, target, build, overwrite)
        finally:
            # A draft that cannot be removed is no reason to say that nothing was saved
            with contextlib.suppress(OSError):
                draft.unlink(missing_ok=True)

    def _check_replaceable(self, target: pathlib.Path, build: Build, overwrite: bool) -> bool:
        """Return whether there is a file to replace; raise where one must be left alone."""
        if not os.path.lexists(target):
            return False
        if not overwrite:
            raise FileExistsError(
                f"{target} is already there: choose another name, or overwrite=True for a "
                f"{self.word}"
            )
        # A file that cannot be read, or was changed by hand, may be somebody's work
        try:
            build(self.content_of(self._bytes_of(target)))
        except (ValueError, OverflowError) as error:
            raise ValueError(
                f"{target.name}: is not a {self.word} of this package, it is left alone: {error}"
            ) from None
        return True

    def _put_in_place(
        self, draft: pathlib.Path, target: pathlib.Path, build: Build, overwrite: bool
    ) -> None:
        """Give a finished draft the name of the target."""
        # Look again: somebody may have put another file there, or taken the old one away
        if self._check_replaceable(target, build, overwrite):
            os.replace(draft, target)
            return
        try:
            name_if_free(draft, target)
        except FileExistsError:
            # It came after that look: replace it only if it may be replaced
            if not self._check_replaceable(target, build, overwrite):
                raise
            os.replace(draft, target)


def _write_to_disk(path: pathlib.Path, data: bytes) -> None:
    """Write a new file, and wait until the disk has it."""
    with open(path, "xb") as file:
        file.write(data)
        file.flush()
        # Without this a loss of power could leave the new name with nothing in it
        os.fsync(file.fileno())


def name_if_free(draft: pathlib.Path, target: pathlib.Path) -> None:
    """Give a finished draft the target's name; raise FileExistsError if something has it."""
    try:
        # A link, because it fails where the name is taken: a change of name would overwrite
        os.link(draft, target)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError, AttributeError):
        # A memory stick, a shared folder or the system knows no links
        _reserve_and_fill(draft, target)


def _reserve_and_fill(draft: pathlib.Path, target: pathlib.Path) -> None:
    """Take the name with an empty file, then fill it: the way on a disk that knows no links."""
    open(target, "xb").close()
    try:
        os.replace(draft, target)
    except BaseException:
        # Leave no empty file behind, but keep what another program wrote under that name
        if target.stat().st_size == 0:
            target.unlink()
        raise


def _check_layout(where: str, value: Any, kind: Any) -> None:
    """Refuse an unknown or missing name, or a value of another kind, at every level."""
    if isinstance(kind, tuple):  # a kind in brackets may also be null
        if value is None:
            return
        (kind,) = kind
    if isinstance(kind, dict):
        _check_object(where, value, kind)
    elif isinstance(kind, list):
        _check_list(where, value, kind)
    elif not _is_of_kind(value, kind):
        raise ValueError(f"{where} = {value!r:.80} is impossible: it must be {KIND_WORDS[kind]}")


def _is_of_kind(value: Any, kind: type) -> bool:
    # To Python true is a whole number; and a whole number is a number
    if isinstance(value, bool):
        return False
    if kind is float:
        return isinstance(value, int | float)
    return isinstance(value, kind)


def _check_object(where: str, value: Any, layout: dict[str, Any]) -> None:
    names = ", ".join(layout)
    if not isinstance(value, dict):
        raise ValueError(f"{where} = {value!r:.80} is impossible: it must hold {names}")
    for name in layout:
        if name not in value:
            raise ValueError(
                f"{where}: {name!r:.80} is missing, it must hold {names} and nothing else"
            )
        _check_layout(name, value[name], layout[name])
    for name in value:
        if name not in layout:
            raise ValueError(
                f"{where}: {name!r:.80} is unknown, it must hold {names} and nothing else"
            )


def _check_list(where: str, value: Any, kinds: list[Any]) -> None:
    # One kind: any length; several, which are all alike: exactly as many values
    if not isinstance(value, list) or len(kinds) not in (1, len(value)):
        count = ""
        if len(kinds) > 1:
            count = f"{len(kinds)} "
        raise ValueError(
            f"{where} = {value!r:.80} is impossible: it must be a list of {count}numbers"
        )
    for item in value:
        _check_layout(where, item, kinds[0])


def _sum(content: Any) -> str:
    """SHA-256 of the content, written in the one way that the order of names does not change."""
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _finite_number(text: str) -> float:
    """Read a number of JSON, which knows no NaN and nothing infinite."""
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"{text:.80} is not a number: every number must be finite")
    return value


def _without_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Make an object of JSON, in which no name may come twice."""
    whole: dict[str, Any] = {}
    for name, value in pairs:
        if name in whole:
            raise ValueError(f"{name!r:.80} is there twice")
        whole[name] = value
    return whole
