"""Server and browser for the tests; without Chromium they are skipped, or fail in CI."""

import os

import pytest

from pcbchem.page.export.export import as_html

from .hands import show_files, start_run, wait_for_run
from .opening import HEIGHTS, browsing, chromium, opening, serving

MISSING = "browser tests need Chromium: install it or set CHROMIUM"


def needed():
    """Skip where there is no browser."""
    if chromium():
        return
    if os.environ.get("CI"):
        pytest.fail(MISSING)
    pytest.skip(MISSING)


@pytest.fixture(scope="session")
def server(tmp_path_factory):
    """JupyterLab on a copy of the pages, in `server.pages`."""
    needed()
    with serving(tmp_path_factory.mktemp("jupyter")) as lab:
        yield lab


@pytest.fixture(scope="session")
def profile(tmp_path_factory):
    """A folder for what Chromium keeps: JupyterLab's scripts are read once."""
    return tmp_path_factory.mktemp("profile")


@pytest.fixture(scope="module")
def browser(profile):
    """Chromium. One for a file: while it is open, no other test can use an event loop."""
    needed()
    with browsing(profile) as context:
        yield context


@pytest.fixture
def opened(server, browser):
    """Open a page of the copy by its file name; it is gone when the test ends."""
    with opening(server, browser) as open_page:
        yield open_page


@pytest.fixture(scope="module")
def opened_once(server, browser):
    """Open a page of the copy by its file name; it stays for all tests of the file."""
    with opening(server, browser) as open_page:
        yield open_page


# What follows is for the laws of every page: `page` is a fixture of the page's own test file.


@pytest.fixture(scope="module")
def heights(page):
    """How high the boxes of its widgets are at first."""
    return page.evaluate(HEIGHTS)


@pytest.fixture(scope="module")
def again(page, heights):
    """The page loaded again while its kernel lives, with all of its cells run."""
    page.reload()
    start_run(page)
    show_files(page)
    wait_for_run(page)
    return page


@pytest.fixture(scope="class")
def file(again, server, browser, tmp_path_factory):
    """The page as a file to read, from what JupyterLab saved after that run."""
    again.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    name = again.evaluate("() => jupyterapp.shell.currentWidget.context.path")
    path = tmp_path_factory.mktemp("read") / "page.html"
    path.write_text(as_html(server.pages / name, {}), encoding="utf-8")
    tab = browser.new_page()
    tab.goto(path.as_uri())
    yield tab
    tab.close()
