"""A page becomes one file for everybody, still or live, that asks for nothing (laws)."""

import re

import nbformat
import pytest
from nbclient.exceptions import CellExecutionError

from pcbchem.page.export.export import as_html, exported

PANEL = """from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import PanelWords, Slider
from pcbchem.page.widget.panel import Panel
Panel(
    "Small",
    [Slider("x", "X", "m", 0, 1, 1, 0)],
    lambda narrow: Drawing(figure(1.0)),
    lambda drawing, x: PanelWords("Nothing yet.", "All white.", "<h3>Head</h3>", "<p>Note</p>"),
)"""


def page_of(folder, *cells):
    """Write a page of these cells, and return where."""
    python = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    path = folder / "small.ipynb"
    nbformat.write(nbformat.v4.new_notebook(cells=list(cells), metadata=python), path)
    return path


def test_law_a_panel_stands_as_its_still_picture(tmp_path):
    """With its words; code that is folded away is left out, and links lead to files."""
    folded = {"jupyter": {"source_hidden": True}}
    path = page_of(
        tmp_path,
        nbformat.v4.new_markdown_cell("# Small\n\n[on](01_other.ipynb)"),
        nbformat.v4.new_code_cell(PANEL, metadata=folded),
        nbformat.v4.new_code_cell("1 + 41"),
    )
    before = path.read_bytes()
    html = exported(path)
    assert path.read_bytes() == before, "the page itself is only read"
    for words in ("<h3>Head</h3>", 'alt="All white."', "Nothing yet.", "<p>Note</p>", "42"):
        assert words in html, words
    assert html.count("<picture><source media") == 1, "wide and narrow"
    assert "Drawing" not in html and 'href="01_other.html"' in html
    assert "widget-view" not in html


def test_law_nothing_points_at_what_is_not_there(tmp_path):
    """What needs a live page is left out, but run; the first heading is the title."""
    live = {"tags": ["live-only"], "jupyter": {"source_hidden": True}}
    path = page_of(
        tmp_path,
        nbformat.v4.new_code_cell("print('back up'); n = 41", metadata=live),
        nbformat.v4.new_markdown_cell("Move *it*.", metadata={"tags": ["live-only"]}),
        nbformat.v4.new_markdown_cell(
            "Now.\n\n## What *is* `it` & why?\n\n"
            'Left. <span class="pcbchem-live-only">Move the *slider* or [run](02_x.ipynb).</span> '
            "Right.\n\n"
            '<span class="of pcbchem-live-only">Choose Run.</span>\n\n<span class="x">Stay.</span>'
        ),
        nbformat.v4.new_code_cell("1 + n"),
    )
    html = exported(path)
    text = html[html.index("<main>") :]
    for words in ("back up", "Move", "slider", "02_x", "Choose Run", "live-only", "<p></p>"):
        assert words not in text, words
    for words in ("<p>Left.  Right.</p>", '<span class="x">Stay.</span>', "42"):
        assert words in text, words
    assert "<title>What is it &amp; why?</title>" in html
    assert "[1]" not in text, "no cell has a number"


def test_law_a_page_without_a_heading_has_its_name(tmp_path):
    path = page_of(tmp_path, nbformat.v4.new_code_cell("# no heading\n1"))
    assert "<title>small</title>" in as_html(path, {})


def test_law_a_page_with_an_error_is_no_file(tmp_path):
    path = page_of(tmp_path, nbformat.v4.new_code_cell("raise ValueError('bad')"))
    with pytest.raises(CellExecutionError, match="bad"):
        exported(path)


def test_law_a_live_copy_holds_its_scripts_once_and_asks_for_nothing(tmp_path):
    """The widgets' own, on models that look answers up; no address of anything is in it."""
    path = page_of(
        tmp_path,
        nbformat.v4.new_markdown_cell("# Small $1 + 1$"),
        nbformat.v4.new_code_cell(PANEL),
    )
    seen = []
    html = exported(
        path, live=True, most=5, progress=lambda done, total: seen.append((done, total))
    )
    assert html.count("class PanelView") == html.count("class PredictionView") == 1
    assert html.count("class KeptPanel") == 1 and "export default" not in html
    assert html.count('<div class="pcbchem-copy">') == 1
    assert "<picture>" not in html and "widget-view" not in html
    assert not re.findall(r"""(?:src|href)=["'](?!data:|#)""", html)
    assert "<script src" not in html and "$1 + 1$" in html
    assert seen[-1] == (3, 3), "with the cell that says what kind of copy it is"
