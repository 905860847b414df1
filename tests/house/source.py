"""Files of the repository as text: modules, what each imports, and the Python of a page."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "pcbchem"
MODULES = sorted(PACKAGE.rglob("*.py"))
FACE = "__init__"


def text_of(path):
    """Return the text of a file of the repository."""
    return path.read_text(encoding="utf-8")


def python_of(text):
    """Return the blocks of Python of a written page, one after the other.

    >>> print(python_of("Say:\\n```python\\nx = 1\\n```\\n"))
    ['x = 1\\n']
    """
    return re.findall(r"```python\n(.*?)```", text, flags=re.DOTALL)


def module_name(path):
    """Return the full name of a module; that of a face ends in `__init__`.

    >>> print(module_name(PACKAGE / "matter" / "__init__.py"))
    pcbchem.matter.__init__
    """
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)


def imports(source, module):
    """List every import of the package in a source text, wherever it stands, as pairs of names.

    The first name is what `from` names, the second that with the name imported from it; a plain
    `import` gives its name twice.

    >>> print(imports("from ..matter import labels", "pcbchem.bench.x"))
    [('pcbchem.matter', 'pcbchem.matter.labels')]
    """
    parts = module.split(".")
    pairs = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            pairs += [(alias.name, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = parts[: len(parts) - node.level] if node.level else []
            stem = ".".join([*base, node.module or ""]).strip(".")
            pairs += [(stem, f"{stem}.{alias.name}") for alias in node.names]
    return [pair for pair in pairs if pair[0].split(".")[0] == "pcbchem"]


def libraries(source):
    """Name the top-level packages that a source text imports by full name, wherever it does so.

    >>> print(sorted(libraries("import numpy.random\\nfrom anywidget import AnyWidget")))
    ['anywidget', 'numpy']
    """
    names = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and not node.level:
            names.append(node.module)
    return {name.split(".")[0] for name in names}
