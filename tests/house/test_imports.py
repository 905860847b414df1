"""House rules of the code: which room may import which, what `import pcbchem` loads, how long a module is."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "pcbchem"
ROOMS = ("common", "matter", "reaction", "bench", "page", "lesson")
USES = {
    "common": (),
    "matter": ("common",),
    "reaction": ("common", "matter"),
    "bench": ("common", "matter", "reaction"),
    "page": ("common",),
    "lesson": ("common", "matter", "reaction", "bench", "page"),
}
MODULES = sorted(PACKAGE.rglob("*.py"))


def imported(source, module):
    """Every module of pcbchem that a source file imports, by full name, wherever the import stands."""
    parts = module.split(".")
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = parts[: len(parts) - node.level] if node.level else []
            stem = ".".join([*base, *(node.module or "").split(".")]).strip(".")
            found |= {stem} | {f"{stem}.{alias.name}" for alias in node.names}
    return {name for name in found if name.split(".")[0] == "pcbchem"}


def wrong_way(source, module):
    """Imports that point to the right: a room may use itself and the rooms before it."""
    room = module.split(".")[1]
    allowed = (room, *USES[room])
    rooms = {name: [*name.split("."), ""][1] for name in imported(source, module)}
    return sorted(
        name for name, target in rooms.items() if target in ROOMS and target not in allowed
    )


def module_name(path):
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)


@pytest.mark.parametrize("path", [p for p in MODULES if p.parent != PACKAGE], ids=module_name)
def test_law_imports_point_one_way(path):
    assert wrong_way(path.read_text(encoding="utf-8"), module_name(path)) == []


@pytest.mark.parametrize(
    "line",
    [
        "from ..reaction import heat",
        "from ..reaction.heat import x",
        "import pcbchem.bench.plan",
        "from pcbchem.lesson import workshop",
        "from .. import reaction",
        "def f():\n    from ..bench import plan",
    ],
)
def test_law_the_import_rule_sees_every_way_to_write_one(line):
    assert wrong_way(line, "pcbchem.matter.labels")
    assert not wrong_way(line, "pcbchem.lesson.workshop")


def test_law_every_module_is_in_a_known_room():
    assert {p.relative_to(PACKAGE).parts[0] for p in MODULES if p.parent != PACKAGE} <= set(ROOMS)


def test_law_no_computing_room_touches_the_page():
    for path in MODULES:
        if path.relative_to(PACKAGE).parts[0] in ("common", "matter", "reaction", "bench"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                names = (
                    [a.name for a in node.names]
                    if isinstance(node, ast.Import)
                    else [node.module or ""]
                    if isinstance(node, ast.ImportFrom)
                    else []
                )
                assert not {n.split(".")[0] for n in names} & {
                    "matplotlib",
                    "ipywidgets",
                    "anywidget",
                }, path


LOOK = """
import json, sys, warnings
import numpy                                        # the one thing that may come along: its own settings are not ours
opened = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event == "open" else None)
where = lambda name: str(getattr(sys.modules[name], "__file__", ""))
before, errors, filters = set(sys.modules), numpy.geterr(), list(warnings.filters)
import pcbchem
new = set(sys.modules) - before
print(json.dumps({
    "top": sorted({name.split(".")[0] for name in new}),
    "third": sorted({name.split(".")[0] for name in new if "site-packages" in where(name)}),
    "data": [name for name in opened if name.endswith((".csv", ".npy", ".npz", ".json"))],
    "settings": [errors == numpy.geterr(), filters == list(warnings.filters)]}))
"""


def test_law_import_loads_numpy_and_nothing_else_heavy_and_reads_no_data():
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", LOOK], capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    seen = json.loads(done.stdout)
    assert "pcbchem" in seen["top"]
    assert set(seen["third"]) <= {"pcbchem", "numpy"}
    assert not set(seen["top"]) & {
        "pandas",
        "scipy",
        "matplotlib",
        "ipywidgets",
        "anywidget",
        "IPython",
        "thermo",
        "chemicals",
        "PIL",
    }
    assert seen["data"] == []
    assert seen["settings"] == [True, True]


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_law_a_module_is_short_and_says_its_topic_in_the_first_line(path):
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 500
    assert text.startswith('"""') and len(text.splitlines()[0]) > 20
