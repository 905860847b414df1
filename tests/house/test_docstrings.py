"""House rule of the docstrings: everything numeric carries its unit in brackets.

The rule. Every public function, method, property and class has a docstring. Where it has a section `Parameters`, that
names every argument; an entry whose type is a float or an array holds a [unit] in its text, and so does every such
entry under `Returns`. Where it has no such section, but an argument or the result is annotated as a number or an array,
the docstring holds a [unit] all the same.
"""

import ast
import re
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "pcbchem"
MODULES = sorted(PACKAGE.rglob("*.py"))
UNIT = re.compile(r"(?:^|[\s(±])\[[^\[\]]+\]")
NUMERIC = re.compile(r"\b(float|array|Draws)\b")
NUMERIC_HINT = re.compile(r"\b(float|ArrayLike|FloatArray|Draws)\b")


def sections(doc):
    """Split a numpydoc docstring at its underlined titles."""
    found, title, lines = {"": []}, "", doc.splitlines()
    for line, after in zip(lines, [*lines[1:], ""], strict=True):
        if re.fullmatch(r"-{3,}", after.strip()) and line.strip():
            title = line.strip()
            found[title] = []
        elif not re.fullmatch(r"-{3,}", line.strip()):
            found[title].append(line)
    return found


def entries(lines):
    """Take a section apart into (head, text): a head stands at the margin, its text is indented under it."""
    found = []
    for line in lines:
        if line.strip() and not line.startswith(" "):
            found.append([line.strip(), ""])
        elif found:
            found[-1][1] += " " + line.strip()
    return found


def arguments(node):
    args = node.args
    every = [
        *args.posonlyargs,
        *args.args,
        *args.kwonlyargs,
        *(a for a in (args.vararg, args.kwarg) if a),
    ]
    return [a for a in every if a.arg not in ("self", "cls")]


def complaints_of(where, node, doc):
    """What one docstring lacks."""
    if not doc:
        return [f"{where}: no docstring"]
    parts, found = sections(doc), []
    for title in ("Parameters", "Returns"):
        for head, text in entries(parts.get(title, [])):
            kind = head.split(" : ")[-1]
            if NUMERIC.search(kind) and not UNIT.search(text):
                found.append(f"{where}: {title.lower()} {head!r} has no [unit]")
    if isinstance(node, ast.ClassDef):
        return found
    if "Parameters" in parts:
        heads = [head.split(" : ")[0] for head, _ in entries(parts["Parameters"])]
        named = {name.strip(" *") for head in heads for name in head.split(",")}
        found += [
            f"{where}: argument {a.arg} is not documented"
            for a in arguments(node)
            if a.arg not in named
        ]
    else:
        hints = [ast.unparse(a.annotation) for a in arguments(node) if a.annotation]
        hints += [ast.unparse(node.returns)] if node.returns else []
        if any(NUMERIC_HINT.search(hint) for hint in hints) and not UNIT.search(doc):
            found.append(f"{where}: takes or gives numbers, and has no [unit]")
    return found


def complaints(source, name="module"):
    """What the docstrings of a module lack."""
    found = []

    def visit(body, prefix):
        for node in body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                where = f"{prefix}.{node.name}"
                found.extend(complaints_of(where, node, ast.get_docstring(node)))
                if isinstance(node, ast.ClassDef):
                    visit(node.body, where)

    visit(ast.parse(source).body, name)
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_law_every_documented_number_has_its_unit(path):
    assert complaints(path.read_text(encoding="utf-8"), path.stem) == []


GOOD = '''
def rate(depth: float, name: str) -> float:
    """Rate of going.

    Parameters
    ----------
    depth : float or array
        How deep [m].
    name : str
        What to call it.

    Returns
    -------
    float or array
        Rate [m/s].

    Examples
    --------
    >>> rate(1, "x")
    """
'''

BAD = {
    "no unit of an argument": (GOOD.replace(" [m].", " a[m]."), "'depth : float or array' has no"),
    "no unit of the result": (GOOD.replace(" [m/s]", ""), "returns 'float or array' has no"),
    "an argument left out": (
        GOOD.replace("name: str", "name: str, T: float"),
        "T is not documented",
    ),
    "no docstring": ("def rate(depth: float) -> float:\n    return depth", "no docstring"),
    "a line without a unit": ('def rate(depth: float) -> float:\n    """Rate."""', "has no [unit]"),
    "in a class": (
        'class A:\n    """A."""\n    @property\n    def T(self) -> float:\n        """Warmth."""',
        "has no [unit]",
    ),
}


def test_law_a_good_docstring_passes():
    assert complaints(GOOD) == []


@pytest.mark.parametrize("case", BAD)
def test_law_a_bad_docstring_is_seen(case):
    source, said = BAD[case]
    assert any(said in line for line in complaints(source)), complaints(source)
