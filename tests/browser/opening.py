"""A JupyterLab of its own on a copy of the pages, and a Chromium that sees this computer alone."""

import asyncio
import contextlib
import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from types import SimpleNamespace

import nbformat
from playwright.sync_api import sync_playwright

from .eyes import NOTE_FAILURES
from .hands import SHORT, show_files, wait_for_cells

ROOT = Path(__file__).parents[2]
PAGES = sorted(page.name for page in (ROOT / "notebooks").glob("*.ipynb"))
QUIET = [
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
]
SCREEN = {"width": 1366, "height": 768}  # of a usual laptop [px]
# JupyterLab as it comes, but that no question about news hides the page
SETTINGS = {"apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False}}
# predictions, questions, and the controls of panels
HEIGHTS = """() => [...document.querySelectorAll('.pcbchem-quiz, .pcbchem-rows')]
    .map(e => Math.round(e.getBoundingClientRect().height))"""
# a hub ends its pupils' servers first
START, STOPPING = 60.0, 60.0  # longest wait for the server to answer, and to end [s]


def chromium():
    """Return where Chromium is, or None."""
    return (
        os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    )


def as_root():
    """Return whether root runs this: server and browser want to be told."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def asked(server, path, method="GET"):
    """Return what the server answers."""
    request = urllib.request.Request(
        f"{server.address}{path}", method=method, headers={"Authorization": f"token {server.token}"}
    )
    with urllib.request.urlopen(request, timeout=30) as answer:
        return answer.read()


@contextlib.contextmanager
def serving(home):
    """Start JupyterLab on a copy of the pages, every folder of settings in a temporary place."""
    pages, settings = home / "pages", home / "settings"
    shutil.copytree(ROOT / "notebooks", pages, ignore=shutil.ignore_patterns(".*", "claims"))
    for name, values in SETTINGS.items():
        file = settings / "@jupyterlab" / f"{name}.jupyterlab-settings"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps(values), encoding="utf-8")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    lab = SimpleNamespace(
        address=f"http://127.0.0.1:{port}", token=secrets.token_hex(16), pages=pages
    )
    folders = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
        "IPYTHONDIR": "ipython",
    }
    environment = {
        **os.environ,
        **{name: str(home / folder) for name, folder in folders.items()},
        "PYTHONPATH": os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])),
    }
    command = [
        sys.executable,
        "-m",
        "jupyterlab",
        "--no-browser",
        "--expose-app-in-browser",
        "--ServerApp.ip=127.0.0.1",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",
        f"--IdentityProvider.token={lab.token}",
        f"--ServerApp.root_dir={pages}",
    ]
    if as_root():
        command.append("--allow-root")
    with running(command, environment, home, lambda: asked(lab, "/api")):
        yield lab


@contextlib.contextmanager
def running(command, environment, home, ask):
    """Start a server, wait until it answers when it is asked, and end it."""
    log = home / "log.txt"
    with (
        log.open("w", encoding="utf-8") as written,
        subprocess.Popen(
            command, env=environment, cwd=home, stdout=written, stderr=written
        ) as process,
    ):
        try:
            wait_for(ask, process, log, time.monotonic() + START)
            yield
        finally:
            process.terminate()
            try:
                process.wait(STOPPING)
            except subprocess.TimeoutExpired:
                process.kill()


def wait_for(ask, process, log, end):
    """Wait until a server answers; at the end of the time, or of its process, show its log."""
    while True:
        try:
            return ask()
        except OSError:
            if process.poll() is not None or time.monotonic() > end:
                written = log.read_text(encoding="utf-8")[-3000:]
                raise RuntimeError(f"The server did not start:\n{written}") from None
            time.sleep(0.1)


@contextlib.contextmanager
def running_chromium():
    """Start Chromium, for any number of windows; `loop` is the event loop that serves it."""
    with sync_playwright() as playwright:
        chrome = playwright.chromium.launch(
            executable_path=chromium(), args=QUIET + ["--no-sandbox"] * as_root()
        )
        chrome.loop = asyncio.get_running_loop()
        yield chrome
        chrome.close()


@contextlib.contextmanager
def window(chrome):
    """Open a window in Chromium, with a store and a clock of its own."""
    context = chrome.new_context(viewport=SCREEN)
    context.set_default_timeout(SHORT)
    context.add_init_script(NOTE_FAILURES)
    yield context
    context.close()


@contextlib.contextmanager
def browsing(profile):
    """Start Chromium with one window, whose profile is kept in this folder."""
    with sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            str(profile),
            executable_path=chromium(),
            args=QUIET + ["--no-sandbox"] * as_root(),
            viewport=SCREEN,
        )
        context.set_default_timeout(SHORT)
        context.add_init_script(NOTE_FAILURES)
        yield context
        context.close()


@contextlib.contextmanager
def opening(server, browser):
    """Give a way to open a page of the copy by its file name; in the end pages and kernels go.

    It opens as the README says, alone; or `among_others` in the whole of JupyterLab, with the list
    of files open beside it.
    """
    pages, before = [], sessions(server)

    def open_page(name, among_others=False, with_clock=False):
        page = browser.new_page()
        pages.append(page)
        if with_clock:  # runs as usual, and can be put forward
            page.clock.install()
        # a workspace of its own: else JupyterLab opens again what the last test file had open
        place = f"lab/workspaces/{Path(name).stem}" if among_others else "doc"
        page.goto(f"{server.address}/{place}/tree/{name}?token={server.token}")
        wait_for_cells(page)
        if among_others:
            show_files(page)
        return page

    yield open_page
    for page in pages:
        page.close()
    for session in sessions(server) - before:
        asked(server, f"/api/sessions/{session}", "DELETE")


def cut_after(name, last):
    """Return a page as text, cut after a cell: other tests look at what follows."""
    whole = nbformat.read(ROOT / "notebooks" / name, as_version=4)
    end = next(number for number, cell in enumerate(whole.cells) if cell.id == last)
    whole.cells = whole.cells[: end + 1]
    return nbformat.writes(whole)


def planted(server, name, *sources):
    """Write a page of code cells, cell-0 and so on, into the server's copy; return its name."""
    python = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    cells = []
    for number, source in enumerate(sources):
        cells.append(nbformat.v4.new_code_cell(source, id=f"cell-{number}"))
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=python), server.pages / name)
    return name


def sessions(server):
    """Return the names of the sessions there are, each with its kernel."""
    return {session["id"] for session in json.loads(asked(server, "/api/sessions"))}
