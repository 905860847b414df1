"""Every page runs, its panels stand every corner of their controls, each number of its text is claimed (laws)."""

import ast
import json
import re
from pathlib import Path

import nbformat
import pytest

from pcbchem.page.claims import unclaimed

PAGES = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


@pytest.fixture(scope="module", params=PAGES, ids=[page.stem for page in PAGES])
def page(request):
    return request.param


@pytest.fixture(scope="module")
def stored(page):
    return nbformat.read(page, as_version=4)


@pytest.fixture(scope="module")
def ran(page, ran_page):
    return ran_page(page.name)


def printed(outputs):
    return outputs[0].text


def asked(source):
    """The questions that a cell asks: what `predict` is given, as one text."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return [call.args[1].value for call in calls if getattr(call.func, "id", "") == "predict"]


def prose(page):
    """All that a page's author has written for its reader: the text, and the questions."""
    text = [cell.source for cell in page.cells if cell.cell_type == "markdown"]
    text += [
        question
        for cell in page.cells
        if cell.cell_type == "code"
        for question in asked(cell.source)
    ]
    return unlinked("\n".join(text).replace("\u00a0", " "))


def unlinked(text):
    """A text without the addresses of its links."""
    return re.sub(r"\]\([^)]*\)", "]", text)


def test_law_a_page_runs_without_an_error_or_a_warning(ran):
    outputs = [output for cell in ran.cells for output in cell.get("outputs", [])]
    assert len(outputs) >= 8
    outputs += ran.more["swept"] + ran.more["listed"]
    assert not [
        output
        for output in outputs
        if output.output_type == "error" or output.get("name") == "stderr"
    ]


def test_law_every_panel_stands_every_corner_of_its_controls(ran):
    """Each panel that the page shows, and no corner left out."""
    shown = [
        output.data["text/plain"]
        for cell in ran.cells
        for output in cell.get("outputs", [])
        if "<figure" in output.get("data", {}).get("text/html", "")
    ]
    left_out = json.loads(printed(ran.more["swept"]))
    assert len(shown) == len(left_out) > 0
    assert all(any(words.startswith(f"{title}: ") for words in shown) for title in left_out)
    assert all(len(corners) > 1 and not any(corners) for corners in left_out.values())


def test_law_a_panel_that_raises_at_one_corner_fails_the_page(ran):
    """The planted fault: the first panel's first control at its far end."""
    (error,) = (output for output in ran.more["planted"] if output.output_type == "error")
    assert (error.ename, error.evalue) == ("AssertionError", "planted")


def test_law_every_number_of_the_text_is_claimed(ran, stored):
    text, claimed = (
        prose(stored),
        [unlinked(phrase) for phrase in json.loads(printed(ran.more["listed"]))],
    )
    assert [phrase for phrase in claimed if phrase not in text] == [], (
        "claimed, but not on the page"
    )
    assert unclaimed(text, claimed) == []
    assert unclaimed(f"{text} in 7 min", claimed), "a new number must be noticed"


def test_law_no_answer_is_stored(stored):
    """What the page asks is computed: no cell holds a number that answers a question."""
    for cell in stored.cells:
        if cell.cell_type == "code":
            assert not cell.outputs and "answer" not in cell.source, cell.id


def test_law_every_picture_of_a_page_has_its_words(ran):
    html = [
        output.data["text/html"]
        for cell in ran.cells
        for output in cell.get("outputs", [])
        if "text/html" in output.get("data", {})
    ]
    pictures = [page for page in html if "<img" in page]
    assert pictures and all(page.count("<img") == page.count(' alt="') for page in pictures)
    assert all(len(page.split(' alt="')[1].split('"')[0]) > 60 for page in pictures)
