"""A page run and written as one HTML file that anybody can read, without Jupyter and a kernel."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from ...common.extras import extra
from ..widget.base import joined
from ..widget.panel import Panel
from ..widget.quiz import Quiz
from .judging import judge_script
from .kept import MOST_SETTINGS

FORMS = ["text/html", "image/svg+xml", "image/png", "text/markdown", "text/plain"]
"""What is shown of an output that comes in several forms: the first of these that it has.

Never the live widget, which would want a script from the web."""

LIVE_ONLY = re.compile(
    r"""<(\w+)\b[^>]*\sclass="[^">]*\bpcbchem-live-only\b[^>]*>.*?</\1>""", re.DOTALL
)
"""An element that only means something on a live page; none of the same kind may stand in it."""
HERE = Path(__file__).parent


def exported(
    notebook: str | Path,
    timeout: float = 300.0,
    live: bool = False,
    most: int = MOST_SETTINGS,
    progress: Callable[[int, int], Any] | None = None,
) -> str:
    """Run all cells of a page and return it as HTML, with pictures, styles and scripts inside.

    Left out is what points at something that is not there: cells with the tag `live-only`, and
    elements of the class `pcbchem-live-only`. Formulas stand as they are written.

    Parameters
    ----------
    notebook : str or Path
        The page, a notebook file. It is read, never written.
    timeout : float
        Longest time for one cell [s].
    live : bool
        Whether panels and questions work: every answer is worked out beforehand. Then no amount to
        pour is in it, for fields that would need Python stay still, and a class reads it. Else each
        stands as its still picture with its words.
    most : int
        Most settings of a panel of a live copy [-]: with more of them it goes in longer steps.
    progress : callable, optional
        Is told after each cell how many have run and how many there are [-].

    Returns
    -------
    str
        The HTML: it asks for nothing from anywhere.

    Raises
    ------
    nbclient.exceptions.CellExecutionError
        A cell failed: a page with an error in it is not for readers.
    """
    # what the kernel has to say of its own is not for whoever wants a copy
    quiet = ["--IPKernelApp.log_level=ERROR"]
    settings = {
        "enabled": True,
        "timeout": timeout,
        "store_widget_state": False,
        "extra_arguments": quiet,
    }
    first = f"from pcbchem.page.export.kept import copy_widgets\ncopy_widgets({live}, {most})"
    return as_html(notebook, settings, first=first, live=live, progress=progress)


def as_html(
    notebook: str | Path,
    execution: dict[str, Any],
    first: str = "",
    live: bool = False,
    progress: Callable[[int, int], Any] | None = None,
) -> str:
    """Return a notebook as HTML, run first with these settings; none: as it is stored."""
    with extra("lab"):
        import nbformat
        from nbconvert.exporters import HTMLExporter
        from traitlets.config import Config

    page: Any = nbformat.read(notebook, as_version=4)  # type: ignore[no-untyped-call]
    page.metadata.setdefault("title", heading(page, Path(notebook).stem))
    if first:
        # run, and then left out
        tags = {"tags": ["live-only"]}
        page.cells.insert(0, nbformat.v4.new_code_cell(first, metadata=tags))  # type: ignore[no-untyped-call]
    if progress is not None:
        count = len(page.cells)
        execution["on_cell_executed"] = lambda cell_index, **_: progress(cell_index + 1, count)
    # by the names of nbconvert's own classes
    settings = {
        "NbConvertBase": {"display_data_priority": FORMS},
        "ExecutePreprocessor": execution,
        # numbers of cells mean nothing where most of the code is folded away
        "TemplateExporter": {"exclude_input_prompt": True, "exclude_output_prompt": True},
    }
    exporter: Any = HTMLExporter
    resources: dict[str, Any] = {"metadata": {"path": str(Path(notebook).parent)}}
    if live:
        resources |= {"copy_style": style(), "copy_script": script()}
    html, _ = exporter(
        template_name="export",
        # where the folder of this name lies, with its template
        extra_template_basedirs=[str(HERE.parent)],
        config=Config(settings),
    ).from_notebook_node(page, resources)
    still = re.sub(r"<p>\s*</p>", "", LIVE_ONLY.sub("", str(html)))
    # pages lead to other pages as they are written here
    return re.sub(r'href="([\w-]+)\.ipynb"', r'href="\1.html"', still)


def style() -> str:
    """Return the style sheets of all widgets."""
    return joined(tuple(dict.fromkeys((*Panel.styles, *Quiz.styles))))


def script() -> str:
    """Return the scripts of all widgets, and the models on which they run without Python."""
    texts = []
    for name, widget in (("panelScript", Panel), ("quizScript", Quiz)):
        # a module of its own each, as on a live page: they share names
        text = joined(widget.scripts).replace("export default {", "return {")
        texts.append(f"const {name} = (() => {{\n{text}\n}})();")
    texts += [judge_script(), (HERE / "kept.js").read_text(encoding="utf-8")]
    return "\n".join(texts)


def heading(page: Any, otherwise: str) -> str:
    """Return the words of a page's first heading, or other words where it has none.

    Examples
    --------
    >>> from nbformat.v4 import new_markdown_cell, new_notebook
    >>> page = new_notebook(cells=[new_markdown_cell("Words.\\n\\n# What *is* it?")])
    >>> print(heading(page, "01_water"), heading(new_notebook(), "01_water"))
    What is it? 01_water
    """
    for cell in page.cells:
        line = re.search(r"^#+ +(.+)$", cell.source, re.MULTILINE)
        if cell.cell_type == "markdown" and line:
            return re.sub(r"[*_`]", "", line[1]).strip()
    return otherwise
