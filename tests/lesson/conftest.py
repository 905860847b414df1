"""The three baths of the plain page, planned once, and each page run once, for all tests of the room."""

import copy
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import nbformat
import pytest
from helpers.workshop import DOUBTFUL, INPUTS, REFUSED
from nbclient import NotebookClient

from pcbchem.lesson.plan_a_bath.fields import planned

PAGES = Path(__file__).parents[2] / "notebooks"
SWEPT = """import json
from pcbchem.page.widget.panel import PANELS, sweep
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
LISTED = "import json\nfrom pcbchem.page.claims import CLAIMED\nprint(json.dumps(CLAIMED))"
PLANTED = """panel = list(PANELS.values())[0]
control, kept = panel.controls[0], panel.show
def show(drawing, **values):
    assert values[control.name] != control.ends[-1], "planted"
    return kept(drawing, **values)
panel.show = show
for title in list(PANELS)[1:]: PANELS.pop(title)
sweep()"""


@pytest.fixture(scope="session")
def mild():
    return planned(**INPUTS)


@pytest.fixture(scope="session")
def doubtful():
    return planned(**DOUBTFUL)


@pytest.fixture(scope="session")
def refused():
    return planned(**REFUSED)


@pytest.fixture(scope="session")
def run_page():
    """Run all cells of a page, and after them some more by name; what is named last is to fail.

    It gives back the page as it is then, with its own `cells`, and the outputs of those `more`.
    """

    def run(page, **more):
        page = copy.deepcopy(page)
        page.cells += [nbformat.v4.new_code_cell(source) for source in more.values()]
        page.cells[-1].metadata.tags = ["raises-exception"]
        NotebookClient(
            page,
            timeout=120,
            resources={"metadata": {"path": str(PAGES)}},
            store_widget_state=False,
        ).execute()
        own = len(page.cells) - len(more)
        return SimpleNamespace(
            cells=page.cells[:own],
            more={name: one.outputs for name, one in zip(more, page.cells[own:], strict=True)},
        )

    return run


@pytest.fixture(scope="session")
def ran_page(run_page):
    """A page by its file name, run once; then swept, its claims listed, and swept with a fault at one far end."""
    return cache(
        lambda name: run_page(
            nbformat.read(PAGES / name, as_version=4), swept=SWEPT, listed=LISTED, planted=PLANTED
        )
    )
