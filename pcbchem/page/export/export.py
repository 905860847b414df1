"""A page run and written as one HTML file that anybody can read, without Jupyter and a kernel."""

import re
import sys
from pathlib import Path
from typing import Any

from ...common.extras import extra

FORMS = ["text/html", "image/svg+xml", "image/png", "text/markdown", "text/plain"]
"""What is shown of an output that comes in several forms: the first of these that it has.

Never the live widget, which would want a script from the web."""

LIVE_ONLY = re.compile(
    r"""<(\w+)\b[^>]*\sclass="[^">]*\bpcbchem-live-only\b[^>]*>.*?</\1>""", re.DOTALL
)
"""An element that only means something on a live page; none of the same kind may stand in it."""


def exported(notebook: str | Path, timeout: float = 300.0) -> str:
    """Run all cells of a page and return it as HTML, with pictures and styles inside.

    A live panel is shown as its still picture with its words. Left out is what points at something
    live: cells with the tag `live-only`, and elements of the class `pcbchem-live-only`. Only
    formulas would still be set by a script from the web; where there is none they stand as they
    are written.

    Parameters
    ----------
    notebook : str or Path
        The page, a notebook file. It is read, never written.
    timeout : float
        Longest time for one cell [s].

    Returns
    -------
    str
        The HTML.

    Raises
    ------
    nbclient.exceptions.CellExecutionError
        A cell failed: a page with an error in it is not for readers.
    """
    return as_html(notebook, {"enabled": True, "timeout": timeout, "store_widget_state": False})


def as_html(notebook: str | Path, execution: dict[str, Any]) -> str:
    """Return a notebook as HTML, run first with these settings; none: as it is stored."""
    with extra("lab"):
        import nbformat
        from nbconvert.exporters import HTMLExporter
        from traitlets.config import Config

    page: Any = nbformat.read(notebook, as_version=4)  # type: ignore[no-untyped-call]
    page.metadata.setdefault("title", heading(page, Path(notebook).stem))
    # by the names of nbconvert's own classes
    settings = {
        "NbConvertBase": {"display_data_priority": FORMS},
        "ExecutePreprocessor": execution,
        # numbers of cells mean nothing where most of the code is folded away
        "TemplateExporter": {"exclude_input_prompt": True, "exclude_output_prompt": True},
    }
    exporter: Any = HTMLExporter
    html, _ = exporter(
        template_name="export",
        # where the folder of this name lies, with its template
        extra_template_basedirs=[str(Path(__file__).parents[1])],
        config=Config(settings),
    ).from_notebook_node(page, {"metadata": {"path": str(Path(notebook).parent)}})
    still = re.sub(r"<p>\s*</p>", "", LIVE_ONLY.sub("", str(html)))
    # pages lead to other pages as they are written here
    return re.sub(r'href="([\w-]+)\.ipynb"', r'href="\1.html"', still)


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


def main() -> None:
    """Write each page named on the command line as a file in the present folder, where none is."""
    for name in sys.argv[1:]:
        path = Path(Path(name).stem + ".html")
        if path.exists():
            sys.exit(f"{path} is there already: move it away first")
        path.write_text(exported(name), encoding="utf-8")
        print(path)
