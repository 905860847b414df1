"""House rules of the imports: which room may use which, no circles, a light `import pcbchem`."""

import ast
import functools
import graphlib
import json
import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions

import pytest

from house.source import FACE, MODULES, PACKAGE, ROOT, imports, libraries, module_name, text_of

ROOMS = {
    "common": (),
    "matter": ("common",),
    "reaction": ("common", "matter"),
    "bench": ("common", "matter", "reaction"),
    "page": ("common",),
    "lesson": ("common", "matter", "reaction", "bench", "page"),
}
"""Each room, and the rooms that it may use beside itself."""
TOPICS = {
    "bench": {
        "bottle": (),
        "hazards": ("bottle",),
        "plan": ("bottle", "hazards"),
        "mixtures": ("bottle", "hazards", "plan"),
        "offcut": ("bottle", "hazards", "plan"),
        "waste": ("bottle", "hazards", "plan"),
        "tin": ("waste",),
        "artwork": (),
        "air": ("bottle", "hazards", "plan"),
    },
}
"""Each topic of a room that has an order of topics, and those that it may use beside itself."""
SHARED_BY_LESSONS = {"form": (), "bath": ("form",)}
"""Folders that are no page's own, and those of them that each may use beside itself."""
COMPUTING = ("common", "matter", "reaction", "bench")
DRAWING = {"matplotlib", "ipywidgets", "anywidget", "IPython"}
INSIDE = [path for path in MODULES if path.parent != PACKAGE]


def places(names):
    """Split full names into room and topic; where there is none of them it is blank."""
    split = [[*name.split("."), "", ""] for name in names]
    return {(parts[1], parts[2]) for parts in split}


def wrong_rooms(source, module):
    """Name the rooms that a module imports and may not."""
    room = module.split(".")[1]
    targets = {target for target, _ in places(stem for _, stem in imports(source, module))}
    wrong = (targets & set(ROOMS)) - {room, *ROOMS[room]}
    if targets - set(ROOMS):
        wrong.add("pcbchem")  # its face hands on names of several rooms: no room uses it
    return sorted(wrong)


def wrong_topics(source, module):
    """Name the topics of its own room that a module imports and may not."""
    _, room, topic, *_ = module.split(".")
    pairs = places(name for _, name in imports(source, module))
    neighbours = {target for target_room, target in pairs if target_room == room}
    folders = {path.name for path in (PACKAGE / room).iterdir() if path.is_dir()}
    if room in TOPICS:
        open_topics = TOPICS[room].get(topic, ())
    elif room == "lesson":
        # no lesson uses another one, but what pages about a bath share
        open_topics = SHARED_BY_LESSONS.get(topic, tuple(SHARED_BY_LESSONS))
        if topic not in folders:
            open_topics = ()
    else:
        open_topics = folders
    return sorted((neighbours & folders) - {topic, *open_topics})


@pytest.mark.parametrize("path", INSIDE, ids=module_name)
def test_law_imports_point_one_way(path):
    assert wrong_rooms(text_of(path), module_name(path)) == []
    assert wrong_topics(text_of(path), module_name(path)) == []


@pytest.mark.parametrize(
    "line",
    [
        "from ..reaction import chemistry",
        "from ..reaction.chemistry.heat import x",
        "import pcbchem.bench.plan",
        "from pcbchem.lesson import workshop",
        "from .. import reaction",
        "def f():\n    from ..bench import plan",
    ],
)
def test_law_the_rule_of_rooms_sees_every_import(line):
    assert wrong_rooms(line, "pcbchem.matter.labels")
    assert not wrong_rooms(line, "pcbchem.lesson.workshop")


@pytest.mark.parametrize(
    "line", ["from pcbchem import plan", "import pcbchem", "from .. import Tray"]
)
def test_law_the_rule_of_rooms_sees_the_face_of_the_package(line):
    assert wrong_rooms(line, "pcbchem.page.claims") == ["pcbchem"]


@pytest.mark.parametrize(
    "line, module",
    [
        ("from ..plan import Inputs", "pcbchem.bench.hazards.verdicts"),
        ("from ..plan.inputs import Inputs", "pcbchem.bench.bottle.bottle"),
        ("from .. import offcut", "pcbchem.bench.plan.words"),
        ("import pcbchem.bench.bottle.bottle", "pcbchem.bench.artwork.artwork"),
        ("def f():\n    from ..artwork import Artwork", "pcbchem.bench.plan.inputs"),
        ("from ..plan_a_bath import planner", "pcbchem.lesson.why_water_slows_it.panel"),
        ("from .plan_a_bath.panel import planner", "pcbchem.lesson.workshop"),
        ("from ..plan_a_bath import planner", "pcbchem.lesson.form.fields"),
        ("from .bath import planned", "pcbchem.lesson.workshop"),
        ("from ..bath import card", "pcbchem.lesson.form.fields"),
    ],
)
def test_law_the_rule_of_topics_sees_every_import(line, module):
    assert wrong_topics(line, module)


def test_law_every_module_is_in_a_known_room():
    assert {path.relative_to(PACKAGE).parts[0] for path in INSIDE} == set(ROOMS)
    for room, topics in TOPICS.items():
        folders = {path.parent.name for path in (PACKAGE / room).glob("*/*.py")}
        assert folders == set(topics), f"say in TOPICS what each topic of {room} may use"


def runs(source, module, names):
    """List the modules that the imports of a module run, by name, a face without `__init__`.

    To import `a.b.c` runs the faces `a` and `a.b` first: they count, unless the module itself lies
    under them and they are running already.
    """
    above = {module.rsplit(".", depth)[0] for depth in range(1, module.count(".") + 1)}
    targets = set()
    for stem, name in imports(source, module):
        target = name if name in names else stem
        faces = {target.rsplit(".", depth)[0] for depth in range(1, target.count(".") + 1)}
        targets |= {target} | (faces - above)
    return targets


def circle(sources):
    """Return modules that import each other in a circle; `sources` holds texts by name."""
    names = {name.removesuffix(f".{FACE}") for name in sources}
    graph = {
        name.removesuffix(f".{FACE}"): runs(source, name, names) & names
        for name, source in sources.items()
    }
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        return error.args[1]
    return []


def test_law_no_imports_go_in_a_circle():
    assert circle({module_name(path): text_of(path) for path in MODULES}) == []


HOUSE = {
    "pcbchem.__init__": "from .a.one import x",
    "pcbchem.a.__init__": "from .one import x",
    "pcbchem.a.one": "from .two import x",
    "pcbchem.a.two": "import numpy",
    "pcbchem.b.__init__": "from .three import y",
    "pcbchem.b.three": "from ..a import x",
}


@pytest.mark.parametrize(
    "module, line",
    [
        ("pcbchem.a.two", "from .one import x"),
        ("pcbchem.a.two", "from . import two"),
        ("pcbchem.a.two", "def f():\n    from . import one"),
        ("pcbchem.a.two", "from . import x"),
        ("pcbchem.a.two", "from pcbchem import x"),
        ("pcbchem.a.two", "from ..b.four import z"),  # runs the face of b, and that runs a
        ("pcbchem.a.two", "import pcbchem.b"),
    ],
)
def test_law_the_rule_of_circles_sees_every_circle(module, line):
    assert circle(HOUSE) == []
    assert circle({**HOUSE, "pcbchem.b.four": "", module: line})


def test_law_no_computing_room_touches_the_page():
    for path in INSIDE:
        if path.relative_to(PACKAGE).parts[0] in COMPUTING:
            assert not libraries(text_of(path)) & DRAWING, path
    assert libraries("def f():\n    import matplotlib.pyplot") & DRAWING


def test_law_no_page_loads_pandas():
    for path in INSIDE:
        if path.relative_to(PACKAGE).parts[0] in ("page", "lesson"):
            assert "pandas" not in libraries(text_of(path)), path


WITH_THE_PACKAGE = {"pcbchem", "numpy", "filelock", *sys.stdlib_module_names}
PROJECT = tomllib.loads(text_of(ROOT / "pyproject.toml"))["project"]


@functools.cache
def installed():
    """Name the distributions that bring each library."""
    return packages_distributions()


def brought_by(extra):
    """Name what an extra installs, one that it takes over included."""
    names = set()
    for line in PROJECT["optional-dependencies"][extra]:
        name, others = re.match(r"([\w-]+)(?:\[(.*?)\])?", line).groups()
        if name == PROJECT["name"]:
            names |= set().union(*map(brought_by, others.split(",")))
        else:
            names.add(name)
    return names


def unnamed(source, room=""):
    """List libraries that may be missing and are imported without the extra that brings them.

    The face of the page names the extra for what its modules import when they are loaded.
    """
    wrong, distributions = [], installed()

    def look(node, extra):
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            return
        if isinstance(node, ast.FunctionDef):
            extra = ""
        if isinstance(node, ast.With):
            named = re.fullmatch(r"extra\('(\w+)'\)", ast.unparse(node.items[0].context_expr))
            extra = named[1] if named else extra
        if isinstance(node, ast.Import | ast.ImportFrom):
            brought = brought_by(extra) if extra else set()
            for library in libraries(ast.unparse(node)) - WITH_THE_PACKAGE:
                if not brought & set(distributions.get(library, ())):
                    wrong.append(library)
        for child in ast.iter_child_nodes(node):
            look(child, extra)

    look(ast.parse(source), "pages" if room == "page" else "")
    return wrong


@pytest.mark.parametrize("path", INSIDE, ids=module_name)
def test_law_what_may_be_missing_is_imported_with_its_extra(path):
    assert unnamed(text_of(path), path.relative_to(PACKAGE).parts[0]) == []


@pytest.mark.parametrize(
    "source, room",
    [
        ("import pandas", "bench"),
        ("def f():\n    import pandas", "bench"),
        ("def f():\n    with open('x'):\n        import pandas", "bench"),
        ("def f():\n    with extra('pages'):\n        import pandas", "bench"),
        ("import mistune", "lesson"),
        ("import pandas", "page"),
        ("def f():\n    from matplotlib.figure import Figure", "page"),
    ],
)
def test_law_an_import_without_its_extra_is_seen(source, room):
    assert unnamed(source, room) in (["pandas"], ["mistune"], ["matplotlib"])


@pytest.mark.parametrize(
    "source, room",
    [
        ("import json, numpy\nfrom filelock import FileLock\nfrom ..common import tables", "bench"),
        ("def f():\n    with extra('lab'):\n        import pandas", "bench"),
        ("def f():\n    with extra('lab'):\n        from PIL import Image", "bench"),
        ("if TYPE_CHECKING:\n    import pandas", "bench"),
        ("import traitlets as tr", "page"),
    ],
)
def test_law_an_import_with_its_extra_is_let_pass(source, room):
    assert unnamed(source, room) == []


LOOK = """
import json, sys, warnings
import numpy                              # the one thing that may come along, with its settings
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
HEAVY = {"pandas", "scipy", "matplotlib", "PIL", "thermo", "chemicals"} | DRAWING


def test_law_import_is_light_and_reads_no_data():
    process = subprocess.run(
        [sys.executable, "-W", "error", "-c", LOOK], capture_output=True, text=True, timeout=60
    )
    assert process.returncode == 0, process.stderr
    report = json.loads(process.stdout)
    assert "pcbchem" in report["top"]
    assert set(report["third"]) <= {"pcbchem", "numpy"}
    assert not set(report["top"]) & HEAVY
    assert report["data"] == []
    assert report["settings"] == [True, True]
