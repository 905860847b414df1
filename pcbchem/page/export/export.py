"""A page run and written as one HTML file that anybody can read, without Jupyter and a kernel."""

import re
import sys
from pathlib import Path
from typing import Any

FORMS = ["text/html", "image/svg+xml", "image/png", "text/markdown", "text/plain"]
"""What is shown of an output that comes in several forms: the first of these that it has.

Never the live widget, which would want a script from the web."""


def exported(notebook: str | Path, timeout: float = 300.0) -> str:
    """Run all cells of a page and return it as HTML, with pictures and styles inside.

    A live panel is shown as its still picture with its words. Only formulas would still be set by a
    script from the web; where there is none they stand as they are written.

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
    from nbconvert.exporters import HTMLExporter
    from traitlets.config import Config

    # by the names of nbconvert's own classes
    settings = {
        "NbConvertBase": {"display_data_priority": FORMS},
        "ExecutePreprocessor": execution,
    }
    exporter: Any = HTMLExporter
    html, _ = exporter(
        template_name="export",
        # where the folder of this name lies, with its template
        extra_template_basedirs=[str(Path(__file__).parents[1])],
        config=Config(settings),
    ).from_filename(str(notebook))
    # pages lead to other pages as they are written here
    return re.sub(r'href="([\w-]+)\.ipynb"', r'href="\1.html"', str(html))


def main() -> None:
    """Write each page named on the command line as a file in the present folder, where none is."""
    for name in sys.argv[1:]:
        path = Path(Path(name).stem + ".html")
        if path.exists():
            sys.exit(f"{path} is there already: move it away first")
        path.write_text(exported(name), encoding="utf-8")
        print(path)
