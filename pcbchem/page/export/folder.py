"""Pages as a folder of HTML files with a list of them, each written only when it has changed."""

from __future__ import annotations

import argparse
import hashlib
import html
import os
import re
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any

from ...common.extras import extra
from ...common.limits import InputError, check_whole
from .export import exported, heading
from .kept import MOST_SETTINGS, STILL_HERE

PAGES = Path("notebooks")
"""Where the pages lie in a clone."""
PACKAGE = Path(__file__).parents[2]
DRAWN_BY = ("numpy", "matplotlib", "pillow", "nbconvert")
"""Libraries on which the look of a file depends."""
MADE_FROM = re.compile(r'<meta name="pcbchem-made-from" content="(\w+) (\w+)">')
"""What a file of ours was made from, and what was written then: who changed it since is left it."""
LIST = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>pcbchem: the pages</title>
<style>
body {{
  max-width: 44rem; margin: 2rem auto; padding: 0 1rem; font: 17px/1.5 system-ui, sans-serif;
  color-scheme: light dark;
  color: light-dark(#1a1a1a, #e2e2e2); background: light-dark(#fff, #121212);
}}
a {{ color: light-dark(#004b87, #8cc8ff) }}
li {{ margin: .5rem 0 }}
</style>
</head>
<body>
<main>
<h1>pcbchem: the pages</h1>
<ul>
{pages}
</ul>
<p>{about}</p>
{licence}
</main>
</body>
</html>
"""
MOST_CONCEIVABLE = 100_000
"""More settings than this [-] make a file that no browser opens (our limit)."""
AN_EXAMPLE = " (one example: its fields stand still here)"
LEAVE = "move it away, or name another folder: nothing of yours is written over"
ABOUT = {
    True: "Panels and questions work in the browser alone, without a network. What is chosen "
    "here is forgotten when a page is shut or loaded again.",
    False: "To read and to print: the panels stand still.",
}


def write_folder(
    pages: Sequence[str | Path],
    to: str | Path,
    live: bool = False,
    most: int = MOST_SETTINGS,
    progress: Callable[[str, bool], Any] = lambda words, stays: None,
) -> Path:
    """Write pages as HTML into a folder, with a list of them and the licences.

    What is there already from the same page and package stays as it is. A file that we did not
    write, or that somebody has changed, is never written over.

    Parameters
    ----------
    pages : sequence of str or Path
        Notebook files.
    to : str or Path
        The folder; it is made where there is none.
    live : bool
        Whether panels and questions work, as in `exported`.
    most : int
        Most settings of a panel that are drawn [-], as in `exported`.
    progress : callable
        Is told in words how far it is, and whether that stays true.

    Returns
    -------
    Path
        The list, `index.html`.

    Raises
    ------
    InputError
        No pages, one that is not there, two of one name, or a file in the folder that is not ours
        to change.
    """
    check_whole("settings", most, 1, MOST_CONCEIVABLE)
    folder = Path(to)
    if folder.exists() and not folder.is_dir():
        raise InputError("to", "name a folder", about=f": {to}", value=str(to), wrong="is a file")
    files = files_in(folder, pages)
    sources = list(files.values())
    licences = licences_beside(sources[0].parent)
    list_file = folder / "index.html"
    origins = leave_what_is_not_ours([*files, list_file], folder, licences)
    made_by = digest_of_package()
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in licences.items():
        place(folder / name, text)
    for number, (file, source) in enumerate(files.items(), 1):
        line = f"{file.name}, {number} of {len(files)}"
        origin = digest_of(source, live, most, made_by)
        if origins[file] == origin:
            progress(f"{line}: is up to date", True)
            continue
        page = exported(source, live=live, most=most, progress=cells_told(line, progress))
        place(file, with_origin(page, origin))
        progress(f"{line}: {file.stat().st_size / 1e6:.1f} MB", True)
    page = list_of(files, live, licences)
    place(list_file, with_origin(page, hashlib.sha256(page.encode()).hexdigest()))
    return list_file


def files_in(folder: Path, pages: Sequence[str | Path]) -> dict[Path, Path]:
    """Return the file that each page becomes, with the page; refuse those that cannot be."""
    sources = [Path(page) for page in pages]
    if not sources:
        raise InputError("pages", "name at least 1", value=[])
    for source in sources:
        if not source.is_file():
            rule = "each must be a notebook file"
            about = f": {source}"
            raise InputError("pages", rule, value=str(source), about=about, wrong="is not there")
    files = {folder / f"{source.stem}.html": source for source in sources}
    if len(files) < len(sources):
        rule = "each must have a name of its own"
        raise InputError("pages", rule, value=[str(source) for source in sources])
    return files


def leave_what_is_not_ours(
    files: Sequence[Path], folder: Path, licences: Mapping[str, str]
) -> dict[Path, str | None]:
    """Refuse a folder with a file that we would write over and did not write.

    Return what each file there was made from; None: it is not there.
    """
    origins = {file: made_from(file) for file in files}
    ours = {file: origin is not None for file, origin in origins.items()}
    for name, text in licences.items():
        file = folder / name
        ours[file] = file.is_file() and file.read_text(encoding="utf-8") == text
    for file, is_ours in ours.items():
        if file.exists() and not is_ours:
            wrong = "is there, and not as we wrote it"
            raise InputError("to", LEAVE, about=f": {file}", value=str(file), wrong=wrong)
    return origins


def list_of(files: Mapping[Path, Path], live: bool, licences: Mapping[str, str]) -> str:
    """Return the list of the pages as HTML."""
    lines = []
    for file, source in files.items():
        title = html.escape(title_of(source))
        note = AN_EXAMPLE if live and STILL_HERE in file.read_text(encoding="utf-8") else ""
        lines.append(f'<li><a href="{html.escape(file.name)}">{title}</a>{note}</li>')
    names = ", ".join(f'<a href="{name}">{name}</a>' for name in licences)
    licence = f"<p>Licences: {names}.</p>" if names else ""
    return LIST.format(pages="\n".join(lines), about=ABOUT[live], licence=licence)


def cells_told(line: str, progress: Callable[[str, bool], Any]) -> Callable[[int, int], Any]:
    """Return what tells in words how many cells of a page have run."""
    return lambda done, total: progress(f"{line}: {done} of {total} cells", False)


def licences_beside(pages: Path) -> dict[str, str]:
    """Return the licences of text and code that lie beside pages and above them, by file name."""
    found = {}
    for name, file in (("LICENSE-text.txt", pages), ("LICENSE-code.txt", pages.resolve().parent)):
        if (file / "LICENSE").is_file():
            found[name] = (file / "LICENSE").read_text(encoding="utf-8")
    return found


def title_of(source: Path) -> str:
    """Return the first heading of a page."""
    with extra("lab"):
        import nbformat

    page: Any = nbformat.read(source, as_version=4)  # type: ignore[no-untyped-call]
    return heading(page, source.stem)


def digest_of(source: Path, live: bool, most: int, made_by: str) -> str:
    """Return a digest of all that a file is made from: page, kind of copy, and what made it."""
    digest = hashlib.sha256(f"{live} {most} {made_by}".encode())
    digest.update(source.read_bytes())
    return digest.hexdigest()


def digest_of_package() -> str:
    """Return a digest of the package and of the libraries that it draws with."""
    digest = hashlib.sha256()
    for file in sorted(PACKAGE.rglob("*")):
        if file.is_file() and "__pycache__" not in file.parts:
            digest.update(file.read_bytes())
    for name in DRAWN_BY:
        digest.update(version(name).encode())
    return digest.hexdigest()


def with_origin(page: str, origin: str) -> str:
    """Return a page that says in its head what it was made from."""
    written = hashlib.sha256(page.encode()).hexdigest()
    mark = f'<meta name="pcbchem-made-from" content="{origin} {written}">'
    before, head, after = page.partition("<head>")
    return f"{before}{head}{mark}{after}"


def made_from(file: Path) -> str | None:
    """Return what a file was made from; None: we did not write it, or somebody has changed it."""
    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    mark = MADE_FROM.search(text)
    if mark is None:
        return None
    origin, written = mark.groups()
    as_written = text.replace(mark[0], "", 1)
    if hashlib.sha256(as_written.encode()).hexdigest() != written:
        return None
    return origin


def place(file: Path, text: str) -> None:
    """Write a file beside its place and then put it there: nobody finds half of one."""
    beside = file.with_name(f".{file.name}.part")
    try:
        beside.write_text(text, encoding="utf-8", newline="\n")
        os.replace(beside, file)
    finally:
        beside.unlink(missing_ok=True)


def main() -> None:
    """Write pages as the command line asks."""
    parser = argparse.ArgumentParser(
        prog="python -m pcbchem.page.export",
        description="Write pages as HTML files that need no Python, to read or (--live) to use.",
    )
    parser.add_argument("pages", nargs="*", help="notebook files; none: all in ./notebooks")
    parser.add_argument("--to", required=True, metavar="FOLDER", help="where they are written")
    parser.add_argument(
        "--live",
        action="store_true",
        help="panels and questions work, for a class: every answer is worked out now (minutes)",
    )
    parser.add_argument(
        "--settings",
        type=int,
        default=MOST_SETTINGS,
        metavar="N",
        help=f"most settings of a panel that is live ({MOST_SETTINGS}): fewer make a smaller file",
    )
    given = parser.parse_args()
    pages = given.pages or sorted(PAGES.glob("*.ipynb"))
    if not pages:
        parser.error("no pages: name them, or run this in the folder that holds notebooks/")
    try:
        list_file = write_folder(pages, given.to, given.live, given.settings, told)
    except InputError as error:
        sys.exit(str(error))
    except KeyboardInterrupt:
        sys.exit("\nStopped: the same line goes on where it was.")
    print(f"Open {list_file.resolve()}")


def told(words: str, stays: bool) -> None:
    """Print how far it is: on a screen, what will not stay is written over."""
    if sys.stdout.isatty():
        print(f"\r{words}\033[K", end="\n" if stays else "", flush=True)
    elif stays:
        print(words, flush=True)
