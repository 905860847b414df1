"""A page as a file to read: short lines, by night, a picture folded, an answer overleaf (laws)."""

import re

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from pcbchem.page.export.export import as_html
from pcbchem.page.picture import Drawing, figure, picture_of

from .eyes import LONGEST_LINE, axe_clean, fits_across, has_ground, lines_of

TEXT = (
    "Right at the copper the liquid hardly moves. Acid and peroxide cross it on their own, "
    "molecule by molecule. In a thin film this is quick; until it is thin, little comes through. "
) * 2
FOLDED = (
    '<details class="pcbchem-predict-first"><summary>Predict first, then open</summary>{}</details>'
)
PICTURE = picture_of(Drawing(figure(2.0)), "An empty picture.")._repr_html_()


def cell_showing(html):
    """Return a cell that has run, with its code folded away, and shows a piece of HTML."""
    output = new_output("display_data", data={"text/html": html})
    return new_code_cell("1", metadata={"jupyter": {"source_hidden": True}}, outputs=[output])


@pytest.fixture(scope="module")
def copy(browser, tmp_path_factory):
    """A small page as a file: a question, its picture, what follows from it, and a list."""
    cells = [
        new_markdown_cell(f"# How long?\n\n{TEXT}"),
        cell_showing("<p>A question.</p>"),
        cell_showing(FOLDED.format(f"<figure>{PICTURE}<figcaption>{TEXT}</figcaption></figure>")),
        cell_showing(FOLDED.format(f"<p>{TEXT}</p>")),
        cell_showing("<details><summary>Explanation</summary><p>To a question.</p></details>"),
        new_markdown_cell(f"- {TEXT}\n\n> {TEXT}"),
        new_code_cell(f"# {TEXT[:95]}\nfor name in 'ab':\n    print(name, 1 + 2)"),
    ]
    folder = tmp_path_factory.mktemp("copy")
    nbformat.write(new_notebook(cells=cells), folder / "small.ipynb")
    path = folder / "small.html"
    path.write_text(as_html(folder / "small.ipynb", {}), encoding="utf-8")
    tab = browser.new_page()
    tab.goto(path.as_uri())
    yield tab
    tab.close()


def fold(copy, shown):
    """Open or shut all that is folded."""
    copy.evaluate(
        "shown => document.querySelectorAll('details').forEach(e => { e.open = shown; })", shown
    )


def test_law_no_line_is_too_long_nor_much_too_short(copy):
    """In any of its texts."""
    assert copy.title() == "How long?"
    fold(copy, True)
    lines = lines_of(copy)
    assert " ".join(lines).count("molecule by") == 5 * 2, "all of the five texts"
    assert LONGEST_LINE - 25 < max(map(len, lines)) <= LONGEST_LINE, max(lines, key=len)


def test_law_a_picture_waits_until_it_is_opened(copy):
    fold(copy, False)
    img = copy.locator("img")
    assert not img.is_visible()
    copy.locator("summary").first.click()
    assert img.is_visible()


@pytest.mark.parametrize("scheme, ground", [("dark", (18, 18, 18)), ("light", (255, 255, 255))])
def test_law_by_night_page_and_picture_are_dark(copy, scheme, ground):
    """With code, a fold and its words that anybody can read."""
    copy.emulate_media(color_scheme=scheme)
    fold(copy, True)
    has_ground(copy.locator("img"), ground)
    assert copy.evaluate("() => getComputedStyle(document.body).backgroundColor") == f"rgb{ground}"
    for width in (1366, 320):
        copy.set_viewport_size({"width": width, "height": 768})
        axe_clean(copy)
        fits_across(copy)


def test_law_on_paper_an_answer_is_white_and_overleaf(copy):
    """Folded or not, by night too: the question on one sheet, all the rest on the next."""
    copy.emulate_media(color_scheme="dark", media="print")
    fold(copy, False)
    img = copy.locator("img")
    assert img.evaluate("img => img.checkVisibility() && getComputedStyle(img).filter") == "none"
    assert copy.evaluate("() => getComputedStyle(document.body).backgroundColor") == (
        "rgb(255, 255, 255)"
    )
    assert not copy.locator("summary").first.is_visible()
    assert not copy.get_by_text("To a question.").is_visible(), "stays folded under its question"
    # sheets so high that nothing else could make two of it
    pdf = copy.pdf(width="8in", height="60in")
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 2
    copy.emulate_media(media="screen")
