"""A page run and written as one HTML file that anybody can read, without Jupyter and without a kernel."""

import re
import sys
from pathlib import Path
from typing import Any

# what is shown of an output that comes in several forms: never the live widget, which would want a script from the web
FORMS = ["text/html", "image/svg+xml", "image/png", "text/markdown", "text/plain"]


def exported(notebook: str | Path, timeout: float = 300.0) -> str:
    """Run all cells of a page and give it back as HTML; pictures and styles are inside.

    A live panel is shown as its still picture with its words. Only formulas would still be set by a script from the
    web; where there is none they stand as they are written.

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
    from nbconvert.exporters import HTMLExporter
    from traitlets.config import Config

    settings = {
        "NbConvertBase": {"display_data_priority": FORMS},
        "ExecutePreprocessor": {"enabled": True, "timeout": timeout, "store_widget_state": False},
    }
    exporter: Any = HTMLExporter
    html, _ = exporter(
        template_name="export",
        extra_template_basedirs=[str(Path(__file__).parents[1])],
        config=Config(settings),
    ).from_filename(str(notebook))
    return re.sub(
        r'href="([\w-]+)\.ipynb"', r'href="\1.html"', str(html)
    )  # pages lead to pages that can be read


def main() -> None:
    """Write each page named on the command line beside where one stands."""
    for name in sys.argv[1:]:
        written = Path(Path(name).stem + ".html")
        if written.exists():
            sys.exit(f"{written} is there already: move it away first")
        written.write_text(exported(name), encoding="utf-8")
        print(written)
