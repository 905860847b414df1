"""House rules of the layout: how full and deep folders are, faces, a test file for each module."""

import ast

import pytest

from house.source import FACE, MODULES, PACKAGE, ROOT, module_name, text_of

MOST_MODULES = 12
"""Modules in one folder, its face not counted."""
MOST_PARTS = 3
"""Room, topic, file."""
MOST_LINES = 500
"""A module that is longer has more than one topic."""
SHORTEST_TOPIC = 20
"""Letters in the first line of a module, which says its topic."""
TOPICS = [path for path in MODULES if not path.stem.startswith("__")]
"""Modules that have a topic of their own: faces and what `python -m` starts only hand on."""
FACES = [path for path in MODULES if path.stem == FACE]


def full_folders(paths):
    """Name the folders that hold more modules than a newcomer can take in."""
    count = {}
    for path in paths:
        if path.stem != FACE:
            count[path.parent] = count.get(path.parent, 0) + 1
    return sorted(str(folder) for folder, number in count.items() if number > MOST_MODULES)


def too_deep(path):
    """Tell whether a module lies deeper than room, topic, file."""
    return len(path.relative_to(PACKAGE).parts) > MOST_PARTS


def test_law_no_folder_is_too_full():
    assert full_folders(MODULES) == []


def test_law_a_full_folder_is_seen():
    names = [FACE, *(f"module_{number}" for number in range(MOST_MODULES))]
    folder = [PACKAGE / "matter" / f"{name}.py" for name in names]
    assert full_folders(folder) == []
    assert full_folders([*folder, PACKAGE / "matter" / "another.py"])


def test_law_no_module_lies_too_deep():
    assert [module_name(path) for path in MODULES if too_deep(path)] == []
    assert too_deep(PACKAGE / "bench" / "plan" / "words" / "later.py")


def mirrored(path):
    """Return where the tests of a module stand: at the mirrored place, under its name."""
    place = path.relative_to(PACKAGE)
    return ROOT / "tests" / place.parent / f"test_{place.name}"


@pytest.mark.parametrize("path", TOPICS, ids=module_name)
def test_law_every_module_has_a_test_file_of_its_name(path):
    file = mirrored(path)
    assert file.is_file(), file
    assert "def test_" in text_of(file), f"{file} holds no test"


def test_law_the_mirrored_place_is_where_it_should_be():
    module = PACKAGE / "bench" / "plan" / "search.py"
    assert mirrored(module) == ROOT / "tests" / "bench" / "plan" / "test_search.py"
    assert not mirrored(module.with_name("no_such_module.py")).is_file()


def complaints(text):
    """List what is wrong with the form of a module: its first line and its length."""
    wrong = []
    first = (ast.get_docstring(ast.parse(text)) or "").split("\n")[0]
    if not text.startswith('"""') or len(first) < SHORTEST_TOPIC:
        wrong.append("the first line does not say the topic")
    if not first.endswith((".", "?")):
        wrong.append("the first line is no whole sentence")
    if len(text.splitlines()) > MOST_LINES:
        wrong.append(f"more than {MOST_LINES} lines")
    return wrong


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_law_a_module_is_short_and_begins_with_its_topic(path):
    assert complaints(text_of(path)) == []


@pytest.mark.parametrize(
    "text, complaint",
    [
        ("import numpy\n", "topic"),
        ('"""Short."""\n', "topic"),
        ('"""Heat of mixing, of\nacid and water."""\n', "sentence"),
        ('"""Heat of mixing, of acid and water."""\n' + "x = 1\n" * MOST_LINES, "lines"),
    ],
)
def test_law_a_module_out_of_form_is_seen(text, complaint):
    assert any(complaint in line for line in complaints(text))
    assert complaints('"""Heat of mixing, of acid and water."""\n') == []


def hidden_modules(text, siblings):
    """Name what a face hands on that hides one of its modules, by having its name."""
    names = set()
    body = ast.parse(text).body
    # also what a face imports inside `with extra(...)`
    body += [inner for node in body if isinstance(node, ast.With) for inner in node.body]
    for node in body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            names |= {alias.asname or alias.name for alias in node.names}
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign):
            names |= {target.id for target in node.targets if isinstance(target, ast.Name)}
    return sorted(names & set(siblings))


@pytest.mark.parametrize("path", FACES, ids=module_name)
def test_law_a_face_hides_none_of_its_modules(path):
    siblings = {module.stem for module in path.parent.glob("*.py")}
    siblings |= {module.parent.name for module in path.parent.glob("*/__init__.py")}
    assert hidden_modules(text_of(path), siblings) == []


@pytest.mark.parametrize(
    "line",
    [
        "from .rate import rate",
        "from .run import flow as rate",
        "def rate(): ...",
        "rate = 1",
        "class rate: ...",
        'with extra("pages"):\n    from .rate import rate',
    ],
)
def test_law_a_hidden_module_is_seen(line):
    assert hidden_modules(line, {"rate", "run"}) == ["rate"]
    assert hidden_modules("from .rate import flux", {"rate", "run"}) == []
