"""A hub as a class has it, on ports and in a folder of its own, and pupils who come at once."""

import contextlib
import importlib.util
import os
import re
import shutil
import socket
import sys
import time
import urllib.request
from types import SimpleNamespace

import pytest
from playwright.sync_api import sync_playwright

from .eyes import NOTE_FAILURES, loaded
from .hands import LONG, SHORT, panel_of, start_run
from .opening import QUIET, ROOT, SCREEN, as_root, chromium, running

CONFIG = ROOT / ".school" / "jupyterhub_config.py"
WORD = "copper and water"
NAMES = ("ana", "ben", "chloé", "dina", "emil")
FIRST_PANEL = "Water and time"
PACKAGES = ("jupyterhub", "jupyterhub_idle_culler")
PROXY = "configurable-http-proxy"
# what a cell of a page comes to: its kind of error, or ""
RUN_CODE = """async code => {
    const kernel = jupyterapp.shell.currentWidget.sessionContext.session.kernel;
    const reply = await kernel.requestExecute({ code }).done;
    return reply.content.ename ?? '';
}"""


def needed():
    """Skip where something is missing that a hub needs, and say how to get it."""
    missing = [name for name in PACKAGES if importlib.util.find_spec(name) is None]
    path = os.pathsep.join([f"{sys.prefix}/node_modules/.bin", os.environ.get("PATH", "")])
    if shutil.which(PROXY, path=path) is None:
        missing.append(PROXY)
    if chromium() is None:
        missing.append("Chromium")
    if missing:
        pytest.skip(
            f"no {', '.join(missing)}: .venv/bin/pip install jupyterhub jupyterhub-idle-culler, "
            f"npm install --prefix .venv {PROXY}"
        )


def free_ports(count):
    """Return so many ports that nobody uses."""
    with contextlib.ExitStack() as stack:
        sockets = [stack.enter_context(socket.socket()) for _ in range(count)]
        for each in sockets:
            each.bind(("127.0.0.1", 0))
        return [each.getsockname()[1] for each in sockets]


@contextlib.contextmanager
def teaching(home):
    """Start the hub, pupils' folders in `hub.pupils`; in the end all servers are stopped."""
    port, inner, proxy = free_ports(3)
    hub = SimpleNamespace(address=f"http://127.0.0.1:{port}", pupils=home / "class" / "pupils")
    command = [
        *(sys.executable, "-m", "jupyterhub", "-f", str(CONFIG)),
        f"--JupyterHub.bind_url={hub.address}",
        f"--JupyterHub.hub_port={inner}",
        f"--ConfigurableHTTPProxy.api_url=http://127.0.0.1:{proxy}",
        "--Spawner.args=--LabApp.expose_app_in_browser=True",
    ]
    if as_root():
        command.append("--Spawner.args=--allow-root")
    environment = {
        **os.environ,
        "CLASS_WORD": WORD,
        "CLASS_FOLDER": str(home / "class"),
        "PYTHONPATH": os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])),
    }
    with running(command, environment, home, lambda: log_in_page(hub)):
        yield hub


def log_in_page(hub):
    """Return the page on which pupils log in."""
    with urllib.request.urlopen(f"{hub.address}/hub/login", timeout=10) as answer:
        return answer.read()


@contextlib.contextmanager
def arriving():
    """Give a way to a page in a browser of its own, as each pupil has one."""
    with sync_playwright() as playwright:
        chrome = playwright.chromium.launch(
            executable_path=chromium(), args=QUIET + ["--no-sandbox"] * as_root()
        )

        def new_page():
            context = chrome.new_context(viewport=SCREEN)
            context.set_default_timeout(SHORT)
            context.add_init_script(NOTE_FAILURES)
            return context.new_page()

        yield new_page
        chrome.close()


def log_in(hub, page, name, word=WORD):
    """Give name and word to the hub; nothing is waited for."""
    page.goto(f"{hub.address}/hub/login")
    page.get_by_label("Username").fill(name)
    page.get_by_label("Password").fill(word)
    page.get_by_role("button", name="Sign in").click(no_wait_after=True)


def come_in(hub, new_page, names=NAMES):
    """Let pupils log in at once, each run all cells, and each get to the first panel.

    Returns each one's page by name, and how long the first panel took from the first log-in [s].
    """
    begin = time.monotonic()
    pages, times = {}, {}
    for name in names:
        pages[name] = new_page()
        log_in(hub, pages[name], name)
    for page in pages.values():
        page.wait_for_url(re.compile(r"\.ipynb"), timeout=LONG)
    for page in pages.values():
        page.wait_for_function("() => window.jupyterapp?.shell?.currentWidget", timeout=LONG)
        start_run(page)
    for name, page in pages.items():
        panel = panel_of(page, FIRST_PANEL)
        panel.wait_for(timeout=LONG)
        loaded(panel.locator("img"))
        times[name] = time.monotonic() - begin
    return pages, times


def run_code(page, code):
    """Run code in the kernel of a page; return the kind of its error, or ""."""
    return page.evaluate(RUN_CODE, code)
