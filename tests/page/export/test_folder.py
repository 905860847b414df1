"""A folder of copies: a list, each page once, nothing of anybody's written over (laws)."""

import subprocess
import sys

import nbformat
import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.export import folder
from pcbchem.page.export.folder import write_folder

OPENING = '<!DOCTYPE html>\n<html lang="en">\n<head><meta charset="utf-8"/>'
"""How a page begins that nbconvert has written."""


@pytest.fixture
def ran(monkeypatch):
    """Pages that are run, by name, with what they say; running takes no time here."""
    names = []

    def exported(source, **settings):
        names.append(source.name)
        settings["progress"](1, 2)
        return f"{OPENING}</head>\n{source.read_text(encoding='utf-8')} {settings['live']}"

    monkeypatch.setattr(folder, "exported", exported)
    return names


@pytest.fixture
def pages(tmp_path):
    """Two pages and their licences."""
    home = tmp_path / "home"
    (home / "notebooks").mkdir(parents=True)
    (home / "LICENSE").write_text("code: free", encoding="utf-8")
    (home / "notebooks" / "LICENSE").write_text("text: free", encoding="utf-8")
    made = []
    for name in ("01-a", "02-b"):
        path = home / "notebooks" / f"{name}.ipynb"
        cell = nbformat.v4.new_markdown_cell(f"# What is {name} < 3?")
        nbformat.write(nbformat.v4.new_notebook(cells=[cell]), path)
        made.append(path)
    return made


def test_law_there_is_a_list_and_a_file_for_each_page(ran, pages, tmp_path):
    said = []
    listed = write_folder(pages, tmp_path / "to", progress=lambda words, stays: said.append(words))
    names = {file.name for file in (tmp_path / "to").iterdir()}
    assert names == {
        "index.html",
        "01-a.html",
        "02-b.html",
        "LICENSE-text.txt",
        "LICENSE-code.txt",
    }
    text = listed.read_text(encoding="utf-8")
    assert '<a href="01-a.html">What is 01-a &lt; 3?</a>' in text
    assert '<a href="LICENSE-code.txt">' in text
    assert (tmp_path / "to" / "LICENSE-text.txt").read_text(encoding="utf-8") == "text: free"
    assert said[0] == "01-a.html, 1 of 2: 1 of 2 cells" and len(said) == 4


def test_law_only_what_has_changed_is_written_again(ran, pages, tmp_path):
    write_folder(pages, tmp_path / "to", live=True)
    before = (tmp_path / "to" / "01-a.html").stat().st_mtime_ns
    ran.clear()
    write_folder(pages, tmp_path / "to", live=True)
    assert ran == []
    pages[1].write_text(pages[1].read_text(encoding="utf-8").replace("< 3", "< 4"), "utf-8")
    write_folder(pages, tmp_path / "to", live=True)
    assert ran == ["02-b.ipynb"]
    assert (tmp_path / "to" / "01-a.html").stat().st_mtime_ns == before
    write_folder(pages, tmp_path / "to", live=False)
    assert ran == ["02-b.ipynb", "01-a.ipynb", "02-b.ipynb"], "another kind of copy"


def test_law_another_package_makes_other_files(ran, pages, tmp_path, monkeypatch):
    write_folder(pages, tmp_path / "to")
    package = tmp_path / "package"
    package.mkdir()
    (package / "a.py").write_text("1", encoding="utf-8")
    monkeypatch.setattr(folder, "PACKAGE", package)
    ran.clear()
    write_folder(pages, tmp_path / "to")
    (package / "a.py").write_text("2", encoding="utf-8")
    write_folder(pages, tmp_path / "to")
    assert len(ran) == 4


@pytest.mark.parametrize("name", ["01-a.html", "index.html", "LICENSE-code.txt"])
def test_law_a_file_that_is_not_ours_is_left_alone(ran, pages, tmp_path, name):
    to = tmp_path / "to"
    to.mkdir()
    (to / name).write_text("my own notes", encoding="utf-8")
    with pytest.raises(InputError, match="nothing of yours is written over") as refusal:
        write_folder(pages, to)
    assert refusal.value.field == "to" and name in str(refusal.value)
    assert [file.name for file in to.iterdir()] == [name], "before anything else is written"
    assert (to / name).read_text(encoding="utf-8") == "my own notes"
    assert ran == []


@pytest.mark.parametrize("name", ["02-b.html", "index.html"])
def test_law_what_somebody_has_written_into_ours_is_left_alone(ran, pages, tmp_path, name):
    to = tmp_path / "to"
    write_folder(pages, to)
    mine = (to / name).read_text(encoding="utf-8") + "<p>For table 3.</p>"
    (to / name).write_text(mine, encoding="utf-8")
    with pytest.raises(InputError, match="not as we wrote it"):
        write_folder(pages, to)
    assert (to / name).read_text(encoding="utf-8") == mine


def test_law_nothing_half_written_is_left(pages, tmp_path, monkeypatch):
    def failing(source, **settings):
        raise RuntimeError("planted")

    monkeypatch.setattr(folder, "exported", failing)
    with pytest.raises(RuntimeError, match="planted"):
        write_folder(pages, tmp_path / "to")
    assert not list((tmp_path / "to").glob("*.html")) and not list((tmp_path / "to").glob(".*"))


@pytest.mark.parametrize(
    "names, words",
    [
        ([], "name at least 1"),
        (["none.ipynb"], "none.ipynb"),
        (["home/notebooks/01-a.ipynb", "home/notebooks/../notebooks/01-a.ipynb"], "of its own"),
    ],
)
def test_law_pages_that_cannot_be_are_refused(ran, pages, tmp_path, names, words):
    with pytest.raises(InputError, match=words) as refusal:
        write_folder([tmp_path / name for name in names], tmp_path / "to")
    assert refusal.value.field == "pages"
    assert not (tmp_path / "to").exists()


def test_law_too_few_settings_are_refused(ran, pages, tmp_path):
    with pytest.raises(InputError, match="settings = 0"):
        write_folder(pages, tmp_path / "to", most=0)


def test_law_a_page_really_run_is_known_again(pages, tmp_path):
    command = [sys.executable, "-m", "pcbchem.page.export", str(pages[0]), "--to", str(tmp_path)]
    for said in ("MB", "is up to date"):
        process = subprocess.run(command, text=True, capture_output=True, timeout=120)
        assert process.returncode == 0, process.stderr
        first, last = process.stdout.splitlines()
        assert first.startswith("01-a.html, 1 of 1: ") and first.endswith(said)
        assert last == f"Open {tmp_path.resolve() / 'index.html'}"


def test_law_a_file_is_no_folder(ran, pages, tmp_path):
    (tmp_path / "notes").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="notes is a file: name a folder"):
        write_folder(pages, tmp_path / "notes")


def test_law_the_command_says_in_words_what_is_wrong(pages, tmp_path):
    (tmp_path / "index.html").write_text("my own notes", encoding="utf-8")
    command = [sys.executable, "-m", "pcbchem.page.export", str(pages[0]), "--to", str(tmp_path)]
    process = subprocess.run(command, text=True, capture_output=True, timeout=120)
    assert process.returncode != 0
    assert "index.html is there, and not as we wrote it: move it away" in process.stderr
    assert "Traceback" not in process.stderr
    process = subprocess.run(
        [*command[:3], "--to", "out"], text=True, capture_output=True, timeout=120, cwd=tmp_path
    )
    assert process.returncode != 0 and "no pages" in process.stderr
