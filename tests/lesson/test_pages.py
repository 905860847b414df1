"""Every page runs, its panels stand every corner of their controls, each number of its text is claimed (laws)."""

import ast
import copy
import json
import re
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

from pcbchem.lesson.claims import unclaimed

PAGES = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
SWEPT = """import json
from pcbchem.lesson.panel import PANELS, sweep
stood = {title: [] for title in PANELS}
def noting(title, usual):
    def said(narrow=False, /, **values):
        stood[title].append({name: value for name, value in values.items() if name != "predicted"})
        return usual(narrow, **values)
    return said
for title, panel in PANELS.items():
    panel.said = noting(title, panel.said)
sweep()
print(json.dumps({title: [corner not in stood[title] for corner in panel.corners()]
                  for title, panel in PANELS.items()}))"""
LISTED = "import json\nfrom pcbchem.lesson.claims import CLAIMED\nprint(json.dumps(CLAIMED))"


def run(page, *more):
    """A page after Run All Cells, with more cells at its end."""
    page = copy.deepcopy(page)
    page.cells += [nbformat.v4.new_code_cell(source) for source in more]
    client = NotebookClient(page, timeout=120, resources={"metadata": {"path": str(PAGES[0].parent)}},
                            store_widget_state=False)
    return client.execute()


@pytest.fixture(scope="module", params=PAGES, ids=[page.stem for page in PAGES])
def stored(request):
    return nbformat.read(request.param, as_version=4)


@pytest.fixture(scope="module")
def ran(stored):
    return run(stored, SWEPT, LISTED)


def printed(cell):
    return cell.outputs[0].text


def asked(source):
    """The questions that a cell asks: what `predict` is given, as one text."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return [call.args[1].value for call in calls if getattr(call.func, "id", "") == "predict"]


def prose(page):
    """All that a page's author has written for its reader: the text, and the questions."""
    text = [cell.source for cell in page.cells if cell.cell_type == "markdown"]
    text += [question for cell in page.cells if cell.cell_type == "code" for question in asked(cell.source)]
    return unlinked("\n".join(text).replace("\u00a0", " "))


def unlinked(text):
    """A text without the addresses of its links."""
    return re.sub(r"\]\([^)]*\)", "]", text)


def test_law_a_page_runs_without_an_error_or_a_warning(ran):
    outputs = [output for cell in ran.cells for output in cell.get("outputs", [])]
    assert len(outputs) >= 8
    assert not [output for output in outputs if output.output_type == "error" or output.get("name") == "stderr"]


def test_law_every_panel_stands_every_corner_of_its_controls(ran):
    """Each panel that the page shows, and no corner left out."""
    shown = [output.data["text/plain"] for cell in ran.cells for output in cell.get("outputs", [])
             if "<figure" in output.get("data", {}).get("text/html", "")]
    left_out = json.loads(printed(ran.cells[-2]))
    assert len(shown) == len(left_out) > 0
    assert all(any(words.startswith(f"{title}: ") for words in shown) for title in left_out)
    assert all(len(corners) > 1 and not any(corners) for corners in left_out.values())


def test_law_a_panel_that_raises_at_one_corner_fails_the_page(stored):
    """The planted fault: one control at its far end."""
    planted = """from pcbchem.lesson.panel import PANELS
panel = list(PANELS.values())[-1]
control, kept = panel.controls[0], panel.show
def show(drawing, **values):
    assert values[control.name] != control.ends[-1], "planted"
    return kept(drawing, **values)
panel.show = show
for title in list(PANELS)[:-1]: PANELS.pop(title)"""
    panel = next(i for i, cell in enumerate(stored.cells) if cell.id in ("panel", "planner"))
    short = copy.deepcopy(stored)
    short.cells = short.cells[:panel + 1]
    with pytest.raises(CellExecutionError, match="planted"):
        run(short, planted, SWEPT)


def test_law_every_number_of_the_text_is_claimed(ran, stored):
    text, claimed = prose(stored), [unlinked(phrase) for phrase in json.loads(printed(ran.cells[-1]))]
    assert [phrase for phrase in claimed if phrase not in text] == [], "claimed, but not on the page"
    assert unclaimed(text, claimed) == []
    assert unclaimed(f"{text} in 7 min", claimed), "a new number must be noticed"


def test_law_no_answer_is_stored(stored):
    """What the page asks is computed: no cell holds a number that answers a question."""
    for cell in stored.cells:
        if cell.cell_type == "code":
            assert not cell.outputs and "answer" not in cell.source, cell.id


def test_law_every_picture_of_a_page_has_its_words(ran):
    html = [output.data["text/html"] for cell in ran.cells for output in cell.get("outputs", [])
            if "text/html" in output.get("data", {})]
    pictures = [page for page in html if "<img" in page]
    assert pictures and all(page.count("<img") == page.count(' alt="') for page in pictures)
    assert all(len(page.split(' alt="')[1].split('"')[0]) > 60 for page in pictures)
