"""A page run in this process: its cells one after the other, as a kernel would run them."""

import ast
import builtins
import contextlib
import html
import io
import json
import os
import re
from pathlib import Path
from types import SimpleNamespace
from unittest.mock import patch

import nbformat
from IPython.core.formatters import DisplayFormatter
from nbformat.v4 import new_output

from pcbchem.page.school import NO_AMOUNTS
from pcbchem.page.widget import quiz
from pcbchem.page.widget.base import WIDGETS
from pcbchem.page.widget.panel import PANELS, Panel

READER = {
    "Planner: what this mixture does to my board": {
        "tray_width": 300,
        "tray_length": 200,
        "foil": 0.5,
        "acid": 31,
        "place": "GB",
        "bottles": 30,
        "air": 5,
    }
}
"""What a reader does with a panel before the cells below it run."""
NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


@contextlib.contextmanager
def like_a_new_kernel():
    """Let this process hold no widget and no answer, and then again those that it held before."""
    widgets, panels, answers = list(WIDGETS), dict(PANELS), dict(quiz.KEPT)
    stores = (WIDGETS, PANELS, quiz.KEPT)
    for store in stores:
        store.clear()
    try:
        yield
    finally:
        for store, held in zip(stores, (widgets, panels, answers), strict=True):
            store.clear()
            store.update(held)


def run(name, names, school=False):
    """Run all cells of a page, whose reader changes a panel meanwhile; an error comes out.

    `names` are those of a kernel that has run it before.

    With `school` it runs where the variable of a class is set.
    """
    values = {NO_AMOUNTS: "1" if school else "0"}
    with watched_imports() as libraries, patch.dict(os.environ, values):
        page = run_cells(name, names)
    page.libraries = libraries
    return page


@contextlib.contextmanager
def watched_imports():
    """Collect the libraries that are imported meanwhile, also those that are loaded already."""
    asked_for, importing = set(), builtins.__import__

    def watching(name, globals=None, locals=None, fromlist=(), level=0):
        if not level:
            asked_for.add(name.split(".")[0])
        return importing(name, globals, locals, fromlist, level)

    builtins.__import__ = watching
    try:
        yield asked_for
    finally:
        builtins.__import__ = importing


def run_cells(name, names):
    """Run all cells of a page and return what they show, its names and its panels."""
    page = json.loads((NOTEBOOKS / name).read_text(encoding="utf-8"))
    before = dict(PANELS)
    quiz.KEPT.clear()
    cells = []
    for cell in page["cells"]:
        source = "".join(cell["source"])
        value, printed = None, ""
        if cell["cell_type"] == "code":
            value, printed = run_cell(source, names)
        cells.append(
            SimpleNamespace(
                id=cell["id"],
                kind=cell["cell_type"],
                folded=cell["metadata"].get("jupyter", {}).get("source_hidden", False),
                source=source,
                value=value,
                words=f"{printed}{words_of(value)}",
                printed=printed,
            )
        )
        if isinstance(value, Panel) and value.title in READER:
            value.redraw(**READER[value.title])
    panels = {title: panel for title, panel in PANELS.items() if before.get(title) is not panel}
    for title, panel in panels.items():
        if title in READER:
            panel.redraw(**{control.name: control.start for control in panel.controls})
    return SimpleNamespace(
        name=name,
        cells=cells,
        cell={cell.id: cell for cell in cells},
        names=names,
        panels=panels,
    )


def run_cell(source, names):
    """Run the source of a cell, and return the value of its last line and what it printed."""
    tree = ast.parse(source)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    printed, value = io.StringIO(), None
    with contextlib.redirect_stdout(printed):
        exec(compile(tree, "cell", "exec"), names)
        if last is not None:
            value = eval(compile(ast.Expression(last.value), "cell", "eval"), names)
    return value, printed.getvalue()


def words_of(value):
    """Everything that a reader of this value sees or hears, without the bytes of pictures."""
    if value is None:
        return ""
    if isinstance(value, Panel):
        told = (value.headline, value.readout, value.head, html.escape(value.alt), value.notes)
        return "\n".join(told)
    if isinstance(value, quiz.Quiz):
        return value.still()
    for way in ("_repr_html_", "_repr_markdown_"):
        shown = getattr(value, way, lambda: None)()
        if shown is not None:
            return re.sub(r"base64,[A-Za-z0-9+/=]+", "", shown)
    return str(value)


def outputs_of(cell):
    """Return what stands under a cell that has run, as a notebook keeps it."""
    outputs = []
    if cell.printed:
        outputs.append(new_output("stream", text=cell.printed))
    if cell.value is not None:
        data, _ = DisplayFormatter().format(cell.value)
        outputs.append(new_output("execute_result", data=data))
    return outputs


def write_as_run(page, path):
    """Write a page as it stands when it has run, with what its cells show, as a notebook file."""
    notebook = nbformat.read(NOTEBOOKS / page.name, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs = outputs_of(page.cell[cell.id])
    nbformat.write(notebook, path)
