"""Server and browser for the tests; without Chromium they are skipped, or fail in CI."""

import asyncio
import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.solved_before import solved_before as solved_before

from .hands import show_files, start_run, wait_for_run
from .opening import HEIGHTS, ROOT, chromium, opening, running_chromium, serving, window

SETTINGS_COPIED = 8
"""Settings of each panel in a live copy that is tested: a whole one takes minutes."""
QUICKER = "from pcbchem.page.export import kept; kept.SCALE = 1.0"
"""What the kernel that writes such a copy does first: its pictures have half as many pixels, which
take most of the time, and are as large on the page. Sharp ones: tests/page/export."""
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
def chrome():
    """Chromium, for all the files of a process: to start it takes two seconds.

    Playwright says of its event loop that it runs, also between two calls: nobody else in this
    process could use one. So between two files it is said that it does not.
    """
    needed()
    with running_chromium() as chrome:
        asyncio._set_running_loop(None)
        yield chrome
        asyncio._set_running_loop(chrome.loop)


@pytest.fixture(scope="module")
def browser(chrome):
    """A window for one file: while it is open, no other test can use an event loop."""
    asyncio._set_running_loop(chrome.loop)
    with window(chrome) as context:
        yield context
    asyncio._set_running_loop(None)


@pytest.fixture(scope="module")
def tab(browser):
    """A tab for all the tests of a file that show one page after the other in it.

    A new tab takes half a second of work; a page that is left takes all of its scripts along.
    """
    return browser.new_page()


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


@pytest.fixture(scope="module")
def copying(request, tmp_path_factory):
    """The live copy of the page on its way, as the command writes it: a process, and its file.

    A process of its own: while a file uses the browser, nothing else can use an event loop.
    """
    needed()
    folder = tmp_path_factory.mktemp("copy")
    name = request.module.PAGE
    command = [sys.executable, "-m", "pcbchem.page.export", str(ROOT / "notebooks" / name)]
    options = ["--to", str(folder), "--live", "--settings", str(SETTINGS_COPIED)]
    startup = folder / "ipython" / "profile_default" / "startup"
    startup.mkdir(parents=True)
    (startup / "quicker.py").write_text(QUICKER, encoding="utf-8")
    environment = {**os.environ, "IPYTHONDIR": str(folder / "ipython")}
    with (
        (folder / "log.txt").open("w", encoding="utf-8") as log,
        subprocess.Popen([*command, *options], env=environment, stdout=log, stderr=log) as process,
    ):
        yield process, folder / f"{Path(name).stem}.html"
        process.kill()


@pytest.fixture(scope="module")
def written(copying, browser):
    """The copy that the command wrote, opened; `asked_for` lists what it asked for."""
    process, path = copying
    assert process.wait(180) == 0, (path.parent / "log.txt").read_text(encoding="utf-8")
    tab = browser.new_page()
    tab.asked_for = []
    tab.on("request", lambda request: tab.asked_for.append(request.url))
    tab.goto(path.as_uri())
    yield tab
    tab.close()


@pytest.fixture
def quizzes(file, package):
    """Each question of the copy that asks for a prediction, with the package's own."""
    predictions = {}
    for panel in package.values():
        for each in (panel.prediction, *panel.after):
            predictions[each.key] = each
    asked = file.locator(".pcbchem-quiz")
    return [(asked.filter(has_text=each.question), each) for each in predictions.values()]


@pytest.fixture(scope="class")
def forgotten(package):
    """Nothing is predicted in this process, as in a copy that is opened."""
    for panel in package.values():
        for each in (panel.prediction, *panel.after):
            each.forget()
