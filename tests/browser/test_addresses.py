"""Law: from one page to another the way is right wherever pages stand, and else there is none.

Covers the shipped script, given each place's own address and what its server says of itself; a
panel and a text that waits in an empty page, with and without a way to the other page.
"""

from urllib.parse import urljoin

import pytest
from playwright.sync_api import expect

from pcbchem.page import Afterwards
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.base import joined
from pcbchem.page.widget.controls import Link, PanelWords
from pcbchem.page.widget.panel import PANELS, Panel

from .alone import MODEL, state_of

HERE, OTHER = "04_why_water_slows_it.ipynb", "00_plan_a_bath.ipynb"
LAB, APP = {"baseUrl": "/", "appName": "JupyterLab"}, {"baseUrl": "/"}
HUB = {**LAB, "baseUrl": "/user/p1/"}
FOLDER = "user/p1/doc/workspaces/auto-d/tree/pcbchem/notebooks"
PLACES = {
    "JupyterLab by the README": (f"doc/tree/{HERE}", LAB, f"doc/tree/{OTHER}"),
    "a hub, in a folder": (f"{FOLDER}/{HERE}", HUB, f"{FOLDER}/{OTHER}"),
    "JupyterLab at its start": ("lab", LAB, f"doc/tree/{OTHER}"),
    "a hub at its start": ("user/p1/lab", HUB, f"user/p1/doc/tree/{OTHER}"),
    "an app of a folder": (f"voila/render/{HERE}", APP, f"voila/render/{OTHER}"),
    "an app of one page": ("", APP, None),
    "a site without a server": (
        f"lab/index.html?path=notebooks%2F{HERE}",
        {"baseUrl": "./", "appName": "JupyterLite"},
        f"lab/index.html?path=notebooks%2F{OTHER}",
    ),
    "copies on a disk": ("x/04_why_water_slows_it.html", None, "x/00_plan_a_bath.html"),
}
"""Where a page stands, what its server says of itself, and where the other page is."""
ADDRESS = """([script, place, config, name]) =>
    new Function(script + '; return pageAddress')()(name, new URL(place), config)"""
HEAD = '<p>More on <a href="{}">the planner</a>.</p>'
"""Words of a panel that lead to the other page."""
CONFIG = """config => {
    const told = document.createElement('script');
    Object.assign(told, { id: 'jupyter-config-data', type: 'application/json' });
    told.textContent = JSON.stringify(config);
    document.body.append(told);
}"""


@pytest.fixture
def empty(tab):
    """An empty page."""
    tab.goto("about:blank")
    return tab


@pytest.mark.parametrize("path, config, other", PLACES.values(), ids=PLACES)
def test_law_a_page_finds_the_other_one(empty, path, config, other):
    root = "http://127.0.0.1:8888/" if config else "file:///"
    address = empty.evaluate(ADDRESS, [joined(["shared.js"]), root + path, config, OTHER])
    if other is None:
        assert address == ""
    else:
        assert urljoin(root + path, address) == root + other


@pytest.fixture
def panel():
    """A panel that hands its values to the other page."""
    panel = Panel(
        "Alone",
        [],
        lambda narrow: Drawing(figure(1.0)),
        lambda drawing: PanelWords("So it is.", "White."),
        links=[Link("Take it there", OTHER, lambda: {"water": 1})],
    )
    return PANELS.pop(panel.title)


@pytest.mark.parametrize("config, address", [(APP, None), (LAB, f"/doc/tree/{OTHER}")])
def test_law_a_panel_leads_only_where_there_is_a_way(empty, panel, config, address):
    empty.evaluate(CONFIG, config)
    empty.evaluate(MODEL, [panel._esm, state_of(panel)])
    expect(empty.locator("output")).to_have_text("So it is.")
    links = empty.get_by_role("link")
    if address is None:
        expect(links).to_have_count(0)
        expect(empty.get_by_text("Take it there")).to_have_count(0)
    else:
        expect(links).to_have_attribute("href", address)


@pytest.mark.parametrize("config, address", [(APP, None), (LAB, f"/doc/tree/{OTHER}")])
def test_law_words_of_a_panel_lead_on_where_there_is_a_way(empty, config, address):
    """In its head and its notes, as in a text; the words stay."""
    said = PanelWords("So it is.", "White.", HEAD.format(OTHER), HEAD.format(OTHER))
    panel = Panel("Alone", [], lambda narrow: Drawing(figure(1.0)), lambda drawing: said)
    panel = PANELS.pop(panel.title)
    empty.evaluate(CONFIG, config)
    empty.evaluate(MODEL, [panel._esm, state_of(panel)])
    expect(empty.locator(".pcbchem-head p")).to_have_text("More on the planner.")
    links = empty.get_by_role("link", name="the planner")
    if address is None:
        expect(links).to_have_count(0)
    else:
        expect(links).to_have_count(2)
        for place in range(2):
            expect(links.nth(place)).to_have_attribute("href", address)
            expect(links.nth(place)).to_have_attribute("data-lm-suppress-shortcuts", "true")


@pytest.mark.parametrize("config, address", [(APP, None), (LAB, f"/doc/tree/{OTHER}")])
def test_law_words_of_a_text_stay_where_there_is_no_way(empty, config, address):
    """And a link out of the library is left as it is."""
    text = Afterwards(f"Go on to [*the* planner]({OTHER}), or [read](https://host.example/).")
    empty.evaluate(CONFIG, config)
    empty.evaluate(MODEL, [text._esm, state_of(text)])
    expect(empty.locator("p")).to_have_text("Go on to the planner, or read.")
    expect(empty.locator("p em")).to_have_text("the")
    expect(empty.get_by_role("link", name="read")).to_have_attribute(
        "href", "https://host.example/"
    )
    planner = empty.get_by_role("link", name="the planner")
    if address is None:
        expect(planner).to_have_count(0)
    else:
        expect(planner).to_have_attribute("href", address)
