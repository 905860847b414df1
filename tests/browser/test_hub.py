"""Law: a class word lets each pupil into a folder of their own, and none takes the computer away.

Covers, with five pupils at once: their first panels, a wrong word, folders, the way to another
page, and one who asks for more memory than there may be.
"""

import re

import pytest
from playwright.sync_api import expect

from .eyes import nothing_wrong
from .hands import panel_of, predict, wait_for_cells, wait_for_run
from .school import FIRST_PANEL, NAMES, arriving, come_in, log_in, needed, run_code, teaching

PLANNER = "00_plan_a_bath.ipynb"
OPEN_PATH = "() => jupyterapp.shell.currentWidget.context.path"


@pytest.fixture(scope="module")
def hub(tmp_path_factory):
    needed()
    with teaching(tmp_path_factory.mktemp("school")) as hub:
        yield hub


@pytest.fixture(scope="module")
def new_page(hub):
    with arriving() as new_page:
        yield new_page


@pytest.fixture(scope="module")
def pages(hub, new_page):
    """The pages of all pupils, with all cells run."""
    pages, _ = come_in(hub, new_page)
    for page in pages.values():
        wait_for_run(page)
    return pages


@pytest.fixture(scope="module")
def predicted(pages):
    """The same with the first question answered: its panel shows its curve."""
    for page in pages.values():
        predict(page, "18 min")
        expect(panel_of(page, FIRST_PANEL)).to_contain_text("Your prediction")
    return pages


def test_law_a_wrong_word_opens_nothing(hub, new_page):
    page = new_page()
    log_in(hub, page, "ana", "copper and acid!")
    expect(page.get_by_text("Invalid username or password")).to_be_visible()
    answer = page.goto(f"{hub.address}/user/ana/doc")
    assert "/hub/login" in answer.url
    page.context.close()


def test_law_everybody_gets_to_the_first_panel(pages):
    assert set(pages) == set(NAMES)
    for page in pages.values():
        nothing_wrong(page)


def test_law_each_pupil_has_a_folder(hub, pages):
    for name, page in pages.items():
        assert run_code(page, f"open('mine.txt', 'w').write({name!r})") == ""
    for name in NAMES:
        assert (hub.pupils / name / "mine.txt").read_text() == name
        assert (hub.pupils / name / PLANNER).is_file()
        assert not list((hub.pupils / name).rglob("claims"))


def test_law_who_takes_too_much_is_stopped_alone(predicted):
    """Asked for and not filled: where nobody holds it, this test must not take it."""
    greedy, *others = predicted.values()
    assert run_code(greedy, "much = bytearray(8 * 10**9)") == "MemoryError"
    for page in (greedy, *others):
        panel = panel_of(page, FIRST_PANEL)
        before = panel.locator("output").inner_text()
        panel.get_by_role("slider").press("ArrowRight")
        expect(panel.locator("output")).not_to_have_text(before)
        nothing_wrong(page)


def test_law_a_panel_leads_to_the_pupil_s_own_planner(predicted):
    page = predicted["emil"]
    with page.context.expect_page() as opened:
        panel_of(page, FIRST_PANEL).get_by_role("link").press("Enter")
    other = opened.value
    other.wait_for_url(re.compile(rf"/user/emil/doc/(workspaces/[^/]+/)?tree/{PLANNER}$"))
    wait_for_cells(other)
    assert other.evaluate(OPEN_PATH) == PLANNER, "in the pupil's folder, whose root it is"
