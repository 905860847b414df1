"""House rule of the docstrings: everything numeric carries its unit in brackets.

Every public function, method, property and class has a docstring. Where it has a section
`Parameters`, that names every argument; an entry whose type is a float or an array holds a [unit]
in its text, and so does every such entry under `Returns`. Where it has no such section, but an
argument or the result is annotated as a number or an array, the docstring holds a [unit] all the
same.
"""

import ast
import re

import pytest

from house.source import MODULES, module_name, text_of

UNIT = re.compile(r"(?:^|[\s(±])\[[^\[\]]+\]")
NUMERIC = re.compile(r"\b(float|array|Draws)\b")
NUMERIC_HINT = re.compile(r"\b(float|ArrayLike|FloatArray|Draws)\b")


def sections(doc):
    """Split a numpydoc docstring at its underlined titles."""
    lines = doc.splitlines()
    parts = {"": []}
    title = ""
    for line, after in zip(lines, [*lines[1:], ""], strict=True):
        if re.fullmatch(r"-{3,}", after.strip()) and line.strip():
            title = line.strip()
            parts[title] = []
        elif not re.fullmatch(r"-{3,}", line.strip()):
            parts[title].append(line)
    return parts


def entries(lines):
    """Take a section apart into (head, text): a head stands at the margin, its text under it."""
    pairs = []
    for line in lines:
        if line.strip() and not line.startswith(" "):
            pairs.append([line.strip(), ""])
        elif pairs:
            pairs[-1][1] += " " + line.strip()
    return pairs


def arguments(node):
    """List the arguments of a function, without the object itself."""
    args = node.args
    slots = [*args.posonlyargs, *args.args, *args.kwonlyargs, args.vararg, args.kwarg]
    return [slot for slot in slots if slot is not None and slot.arg not in ("self", "cls")]


def complaints_of(place, node, doc):
    """List what one docstring lacks."""
    if not doc:
        return [f"{place}: no docstring"]
    parts = sections(doc)
    lacks = []
    for title in ("Parameters", "Returns"):
        for head, text in entries(parts.get(title, [])):
            kind = head.split(" : ")[-1]
            if NUMERIC.search(kind) and not UNIT.search(text):
                lacks.append(f"{place}: {title.lower()} {head!r} has no [unit]")
    if isinstance(node, ast.ClassDef):
        return lacks
    if "Parameters" in parts:
        heads = [head.split(" : ")[0] for head, _ in entries(parts["Parameters"])]
        names = {name.strip(" *") for head in heads for name in head.split(",")}
        lacks += [
            f"{place}: argument {slot.arg} is not documented"
            for slot in arguments(node)
            if slot.arg not in names
        ]
    else:
        hints = [ast.unparse(slot.annotation) for slot in arguments(node) if slot.annotation]
        hints += [ast.unparse(node.returns)] if node.returns else []
        if any(NUMERIC_HINT.search(hint) for hint in hints) and not UNIT.search(doc):
            lacks.append(f"{place}: takes or gives numbers, and has no [unit]")
    return lacks


def complaints(source, name="module"):
    """List what the docstrings of a module lack."""
    lacks = []

    def visit(body, prefix):
        for node in body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                place = f"{prefix}.{node.name}"
                lacks.extend(complaints_of(place, node, ast.get_docstring(node)))
                if isinstance(node, ast.ClassDef):
                    visit(node.body, place)

    visit(ast.parse(source).body, name)
    return lacks


@pytest.mark.parametrize("path", MODULES, ids=module_name)
def test_law_every_documented_number_has_its_unit(path):
    assert complaints(text_of(path), path.stem) == []


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
    source, complaint = BAD[case]
    assert any(complaint in line for line in complaints(source)), complaints(source)
