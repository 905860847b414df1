"""Server and browser for the tests; without Chromium they are skipped, except in CI, which has to have it."""

import os

import pytest

from .opening import browsing, chromium, opening, serving

MISSING = "browser tests need Chromium: install it or set CHROMIUM"


def needed():
    """Skip where there is no browser."""
    if not chromium():
        (pytest.fail if os.environ.get("CI") else pytest.skip)(MISSING)


@pytest.fixture(scope="session")
def server(tmp_path_factory):
    """JupyterLab on a copy of the pages, in `server.pages`."""
    needed()
    with serving(tmp_path_factory.mktemp("jupyter")) as made:
        yield made


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    """Chromium. One for a file: while it is open, no other test can use an event loop."""
    needed()
    with browsing(tmp_path_factory.mktemp("profile")) as context:
        yield context


@pytest.fixture
def opened(server, browser):
    """Open a page of the copy by its file name; it is gone when the test ends."""
    with opening(server, browser) as open_page:
        yield open_page


@pytest.fixture(scope="module")
def opened_once(server, browser):
    """Open a page of the copy by its file name; it stays for all tests of the file, in their order."""
    with opening(server, browser) as open_page:
        yield open_page
