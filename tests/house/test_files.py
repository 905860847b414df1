"""House rules of the files: what lies at the top, words, clean notebooks, commands that work."""

import ast
import json
import os
import re
import shutil
import subprocess
import tomllib

import pytest

from house.source import ROOT, libraries, text_of

AT_THE_TOP = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "notebooks",
    "pcbchem",
    "tests",
}
MADE_BY_TOOLS = re.compile(r"build|dist|class|.*\.egg-info|__pycache__")
LONGEST_CELL = 15


def test_law_only_known_things_lie_at_the_top():
    names = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert {name for name in names if not MADE_BY_TOOLS.fullmatch(name)} == AT_THE_TOP


FOLDERS = ("pcbchem", "tests", "notebooks", ".ci", ".school")
BINARY = (".pyc", ".npy", ".png")
GONE = "transcri" + "ption"
"""A word that once named a kind of test, put together so that this file does not hold it."""
LEFT_BEHIND = re.compile(GONE, re.IGNORECASE)
HOST = re.compile(r"index[-]url|//[^\s\"']*/simple[/]")
LOCKS = ("requirements.txt", "Pipfile")


def files():
    """List the files of the repository that hold text."""
    paths = [path for folder in FOLDERS for path in (ROOT / folder).rglob("*")]
    paths += [path for path in ROOT.iterdir() if path.name not in FOLDERS]
    return [path for path in paths if path.is_file() and path.suffix not in BINARY]


def holding(pattern):
    """Name the files that hold what matches a pattern."""
    texts = {path: path.read_text(encoding="utf-8", errors="replace") for path in files()}
    return [str(path.relative_to(ROOT)) for path, text in texts.items() if pattern.search(text)]


def test_law_no_lock_file_and_no_package_host_is_named():
    assert [path for path in files() if path.suffix == ".lock" or path.name in LOCKS] == []
    assert holding(HOST) == []
    assert HOST.search("--index" + "-url x") and HOST.search("https://host.example" + "/simple/")


def test_law_a_hub_that_builds_from_the_clone_takes_the_readmes_install():
    """It installs from the top of the clone: what it reads names no library a second time."""
    folder = ROOT / ".binder"
    texts = {path.name: text_of(path) for path in folder.iterdir()}
    assert set(texts) == {"requirements.txt", "runtime.txt"}
    assert texts["requirements.txt"] == ".[lab]\n"
    assert 'pip install ".[lab]"' in text_of(ROOT / "README.md")
    least = tomllib.loads(text_of(ROOT / "pyproject.toml"))["project"]["requires-python"]
    python = re.fullmatch(r"python-3\.(\d+)\n", texts["runtime.txt"])
    assert int(python[1]) >= int(least.removeprefix(">=3."))


def test_law_no_file_says_what_the_kinds_of_tests_were_once_called():
    assert holding(LEFT_BEHIND) == []
    assert LEFT_BEHIND.search(f"# {GONE.capitalize()}: as printed")


def notebook_complaints(text):
    """List what is wrong with a stored notebook: outputs, long cells, widgets imported by hand."""
    wrong = []
    for number, cell in enumerate(json.loads(text)["cells"], 1):
        if cell["cell_type"] != "code":
            continue
        source = "".join(cell["source"])
        if cell.get("outputs") or cell.get("execution_count") is not None:
            wrong.append(f"cell {number} is stored with its output")
        if len(source.splitlines()) > LONGEST_CELL:
            wrong.append(f"cell {number} has more than {LONGEST_CELL} lines")
        if libraries(source) & {"ipywidgets", "anywidget"}:
            wrong.append(f"cell {number} imports widgets")
        if any(isinstance(node, ast.Global) for node in ast.walk(ast.parse(source))):
            wrong.append(f"cell {number} uses global")
    return wrong


def test_law_notebooks_are_stored_clean():
    for path in (ROOT / "notebooks").rglob("*.ipynb"):
        if ".ipynb_checkpoints" not in path.parts:
            assert notebook_complaints(text_of(path)) == [], path.name


@pytest.mark.parametrize(
    "source, extra, complaint",
    [
        ("1 + 1", {"outputs": [{"output_type": "stream"}]}, "output"),
        ("1 + 1", {"execution_count": 3}, "output"),
        ("x = 1\n" * 16, {}, "15 lines"),
        ("if True:\n    from ipywidgets import FloatSlider", {}, "imports widgets"),
        ("import anywidget.experimental", {}, "imports widgets"),
        ("def f():\n    global x\n    x = 1", {}, "global"),
    ],
)
def test_law_the_notebook_rule_sees_what_it_should(source, extra, complaint):
    cell = {"cell_type": "code", "source": source, "outputs": [], "execution_count": None, **extra}
    lines = notebook_complaints(json.dumps({"cells": [cell]}))
    assert any(complaint in line for line in lines)


def fenced(heading):
    """Return the fenced blocks under a heading of the README, up to the next heading."""
    text = text_of(ROOT / "README.md")
    under = re.split(r"^#+ ", text.split(f"# {heading}\n", 1)[1], flags=re.MULTILINE)[0]
    return re.findall(r"^```\w*\n(.*?)^```", under, flags=re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize(
    "heading, word", [("Open the planner", "00_plan_a_bath.ipynb"), ("Pass the tests", "pytest")]
)
def test_law_the_readme_gives_each_command_for_both_systems(heading, word):
    posix, windows = fenced(heading)
    for command, folder in ((posix, ".venv/bin/"), (windows, ".venv\\Scripts\\")):
        assert command.count("\n") == 1 and word in command and folder in command


STAND_IN = "mkdir -p .venv/bin && for name in ruff mypy; do cp tool .venv/bin/$name; done\n"
"""A harmless command in the place of the README's: it leaves tools that only say their names."""
CHECKS = ["ruff check .", "ruff format --check .", "mypy"]


@pytest.fixture
def ci_run(tmp_path):
    """Run a copy of the run script beside a README with another command; it returns the process."""
    if shutil.which("bash") is None or os.name == "nt":
        pytest.skip("the run script is for POSIX shells")
    (tmp_path / ".ci").mkdir()
    script = shutil.copy(ROOT / ".ci" / "run", tmp_path / ".ci" / "run")
    readme = text_of(ROOT / "README.md")

    def run(command, tool='echo "${0##*/} $*" | sed "s/ *$//"'):
        text = readme.replace(fenced("Pass the tests")[0], command) if command else "# nothing\n"
        (tmp_path / "README.md").write_text(text, encoding="utf-8")
        (tmp_path / "tool").write_text(f"#!/bin/sh\n{tool}\n", encoding="utf-8")
        (tmp_path / "tool").chmod(0o755)
        return subprocess.run([script], capture_output=True, text=True, timeout=60)

    return run


def test_law_the_run_script_runs_the_readme_and_the_checks(ci_run):
    process = ci_run(f"echo pytest ran here && {STAND_IN}")
    assert process.returncode == 0, process.stderr
    lines = [line for line in process.stdout.splitlines() if not line.startswith("+ ")]
    assert lines == ["pytest ran here", *CHECKS]


@pytest.mark.parametrize("check", CHECKS)
def test_law_the_run_script_fails_with_a_check(ci_run, check):
    # the tool fails when it is called as in this check, and only then
    process = ci_run(f": pytest; {STAND_IN}", f'case "${{0##*/}} $*" in "{check}"*) exit 1;; esac')
    assert process.returncode == 1


def test_law_the_run_script_fails_with_the_tests(ci_run):
    assert ci_run("echo pytest failed here && exit 1\n").returncode == 1
    assert ci_run("").returncode == 2


def test_law_both_licences_are_named_where_they_belong():
    readme = text_of(ROOT / "README.md")
    assert "MIT" in readme and "CC BY 4.0" in readme
    assert text_of(ROOT / "LICENSE").startswith("MIT License")
    assert "creativecommons.org/licenses/by/4.0" in text_of(ROOT / "notebooks" / "LICENSE")
