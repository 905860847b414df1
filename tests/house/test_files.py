"""House rules of the files: what lies at the top, clean notebooks, a README that works, tools that pass."""

import ast
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
AT_THE_TOP = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "notebooks",
    "pcbchem",
    "tests",
}
MADE_BY_TOOLS = re.compile(r"build|dist|.*\.egg-info|__pycache__")
LONGEST_CELL = 15


def test_law_only_known_things_lie_at_the_top():
    there = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert {name for name in there if not MADE_BY_TOOLS.fullmatch(name)} == AT_THE_TOP


def test_law_no_lock_file_and_no_package_host_is_named():
    files = [
        path
        for folder in ("pcbchem", "tests", "notebooks", ".ci")
        for path in (ROOT / folder).rglob("*")
    ]
    files += [path for path in ROOT.iterdir() if path.is_file()]
    files = [path for path in files if path.is_file() and path != Path(__file__)]
    texts = [path for path in files if path.suffix not in (".pyc", ".npy")]
    assert not [
        path
        for path in texts
        if path.suffix == ".lock" or path.name in ("requirements.txt", "Pipfile")
    ]
    host = re.compile(r"index[-]url|//[^\s\"']*/simple[/]")
    assert not [
        path for path in texts if host.search(path.read_text(encoding="utf-8", errors="replace"))
    ]


def notebook_complaints(text):
    """What is wrong with a stored notebook: outputs, long cells, widgets imported by hand."""
    found = []
    for number, cell in enumerate(json.loads(text)["cells"], 1):
        if cell["cell_type"] != "code":
            continue
        source = "".join(cell["source"])
        if cell.get("outputs") or cell.get("execution_count") is not None:
            found.append(f"cell {number} is stored with its output")
        if len(source.splitlines()) > LONGEST_CELL:
            found.append(f"cell {number} has more than {LONGEST_CELL} lines")
        for node in ast.walk(ast.parse(source)):
            names = (
                [a.name for a in node.names]
                if isinstance(node, ast.Import)
                else [node.module or ""]
                if isinstance(node, ast.ImportFrom)
                else []
            )
            if {name.split(".")[0] for name in names} & {"ipywidgets", "anywidget"}:
                found.append(f"cell {number} imports widgets")
            if isinstance(node, ast.Global):
                found.append(f"cell {number} uses global")
    return found


def test_law_notebooks_are_stored_clean():
    for path in (ROOT / "notebooks").rglob("*.ipynb"):
        if ".ipynb_checkpoints" not in path.parts:
            assert notebook_complaints(path.read_text(encoding="utf-8")) == [], path.name


@pytest.mark.parametrize(
    "source, extra, said",
    [
        ("1 + 1", {"outputs": [{"output_type": "stream"}]}, "output"),
        ("1 + 1", {"execution_count": 3}, "output"),
        ("x = 1\n" * 16, {}, "15 lines"),
        ("if True:\n    from ipywidgets import FloatSlider", {}, "imports widgets"),
        ("import anywidget.experimental", {}, "imports widgets"),
        ("def f():\n    global x\n    x = 1", {}, "global"),
    ],
)
def test_law_the_notebook_rule_sees_what_it_should(source, extra, said):
    cell = {"cell_type": "code", "source": source, "outputs": [], "execution_count": None, **extra}
    assert any(said in line for line in notebook_complaints(json.dumps({"cells": [cell]})))


def fenced(heading):
    """The fenced blocks under a heading of the README, up to the next heading."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    under = re.split(r"^#+ ", text.split(f"# {heading}\n", 1)[1], flags=re.MULTILINE)[0]
    return re.findall(r"^```\w*\n(.*?)^```", under, flags=re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize(
    "heading, word", [("Open the planner", "00_plan_a_bath.ipynb"), ("Pass the tests", "pytest")]
)
def test_law_the_readme_gives_each_command_on_one_line_for_both_systems(heading, word):
    posix, windows = fenced(heading)
    for command, folder in ((posix, ".venv/bin/"), (windows, ".venv\\Scripts\\")):
        assert command.count("\n") == 1 and word in command and folder in command


@pytest.mark.skipif(
    shutil.which("bash") is None or os.name == "nt", reason="the run script is for POSIX shells"
)
def test_law_the_run_script_runs_the_command_of_the_readme(tmp_path):
    # in a copy whose README gives a harmless command in its place
    (tmp_path / ".ci").mkdir()
    shutil.copy(ROOT / ".ci" / "run", tmp_path / ".ci" / "run")
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    (tmp_path / "README.md").write_text(
        readme.replace(fenced("Pass the tests")[0], "echo pytest ran here\n"), encoding="utf-8"
    )
    done = subprocess.run([tmp_path / ".ci" / "run"], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0 and done.stdout.splitlines()[-1] == "pytest ran here", done.stderr
    (tmp_path / "README.md").write_text("# nothing\n", encoding="utf-8")
    assert (
        subprocess.run([tmp_path / ".ci" / "run"], capture_output=True, timeout=60).returncode != 0
    )


def test_law_both_licences_are_named_where_they_belong():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "MIT" in readme and "CC BY 4.0" in readme
    assert (ROOT / "LICENSE").read_text(encoding="utf-8").startswith("MIT License")
    assert "creativecommons.org/licenses/by/4.0" in (ROOT / "notebooks" / "LICENSE").read_text(
        encoding="utf-8"
    )


@pytest.mark.parametrize(
    "tool", [["ruff", "check", "--no-cache", "."], ["mypy", "--cache-dir", os.devnull]]
)
def test_law_the_tools_pass(tool):
    done = subprocess.run(
        [sys.executable, "-m", *tool], cwd=ROOT, capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stdout + done.stderr
