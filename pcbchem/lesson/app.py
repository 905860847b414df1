"""The pages as an app for a class: no code, one address, the kernels of all readers run beforehand.

`python -m pcbchem.lesson.app --readers 30`, where the folder `notebooks` is, serves its pages.
"""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import ipaddress
import json
import logging
import math
import os
import shutil
import signal
import socket
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from ..common.extras import extra
from ..common.limits import InputError, check_choice, check_whole
from ..page.export.export import heading
from ..page.folder import NO_FOLDER
from ..page.school import NO_AMOUNTS, no_amounts

LOOK = Path(__file__).parents[1] / "page" / "app"
"""What the pages look like as an app: templates and a style."""
MISSING = 'The app needs voila: install it with pip install ".[app]".'
MOST_READERS = 200
"""More kernels than this no single computer runs [-]."""
MEMORY = 0.26
"""Of the kernel of one reader, at most [GB]: of page 00 257 MB were measured, of page 04 167."""
THIS_COMPUTER = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
"""Stands for every address of this computer."""
PATIENCE = 300
"""Longest wait [s] for a kernel to start, and for what a cell shows: thirty start at a time."""
IDLE = 3600
"""A kernel whose page is lost, not closed, is ended after so long [s]: a lesson, not a pause."""

SETTINGS: dict[str, dict[str, Any]] = {
    "Voila": {
        # the address that the class has is this one or none
        "port_retries": 0,
        "open_browser": False,
        # whoever starts it may have settings of their own, for another use
        "config_file_paths": [],
        "log_level": "ERROR",
        "tornado_settings": {
            # what passes these on takes ms for s: no pings, and no complaint of them
            "ws_ping_interval": 0,
            "ws_ping_timeout": 0,
            # else a page that is left cannot tell it, and its kernel stays; nobody has logged in
            # whose name could be misused
            "disable_check_xsrf": True,
        },
    },
    "VoilaConfiguration": {
        "preheat_kernel": True,
        # the list of pages that needs no script
        "classic_tree": True,
        # an address with another template or theme would take a page that has not run
        "allow_template_override": "NO",
        "allow_theme_override": "NO",
    },
    "VoilaExecutor": {"iopub_timeout": PATIENCE, "startup_timeout": PATIENCE},
    "MappingKernelManager": {"cull_idle_timeout": IDLE, "cull_interval": 60},
}
"""What the server is always told, by the names of its own classes."""


def say(words: str) -> None:
    """Print a line at once, also into a file or a pipe."""
    print(words, flush=True)


def counter(ends: set[str], kernels: int, addresses: Sequence[str]) -> Callable[..., None]:
    """Return what counts the kernels that have run their page, and says when all of them have.

    Parameters
    ----------
    ends : set of str
        The id of the last code cell of each page.
    kernels : int
        How many kernels there are [-].
    addresses : sequence of str
        Where the class finds the pages.

    Returns
    -------
    callable
        Is to be called with each cell that has run, as `cell`, and its `execute_reply`.
    """
    ready = 0

    # no method of an object: traitlets would copy it for each page, with its count
    def note(cell: Any, execute_reply: Any, **others: Any) -> None:
        nonlocal ready
        if execute_reply["content"]["status"] != "ok":
            say(f"The cell {cell.id} of a page has failed: that page is not fit for readers.")
            return
        if cell.id not in ends or ready == kernels:
            return
        ready += 1
        say(f"{ready} of {kernels} ready")
        if ready == kernels:
            say("Ready: " + " or ".join(addresses))
            say("To stop: Ctrl+C.")

    return note


def pages_in(folder: Path) -> dict[str, Any]:
    """Read the pages of a folder.

    Parameters
    ----------
    folder : Path
        Where they lie; pages in folders of its own are left out.

    Returns
    -------
    dict of str to notebook
        Each page by its file name, in order.

    Raises
    ------
    InputError
        There is no page.
    """
    with extra("app"):
        import nbformat

    pages: dict[str, Any] = {}
    for path in sorted(folder.glob("*.ipynb")):
        pages[path.name] = nbformat.read(path, as_version=4)  # type: ignore[no-untyped-call]
    if not pages:
        rule = "start this in the folder that holds notebooks, or name their folder"
        raise InputError("folder", rule, value=str(folder), wrong="holds no page")
    return pages


def page_called(page: str, names: Sequence[str]) -> str:
    """Return the file name of a page.

    Parameters
    ----------
    page : str
        Its file name, with its ending or without, or only its number.
    names : sequence of str
        The file names there are.

    Returns
    -------
    str
        The one that is meant.

    Raises
    ------
    InputError
        There is no such page; names those that there are.

    Examples
    --------
    >>> print(page_called("04", ["00_plan.ipynb", "04_water.ipynb"]))
    04_water.ipynb
    """
    stems = {name.removesuffix(".ipynb"): name for name in names}
    numbers = {stem.partition("_")[0]: stem for stem in stems}
    stem = page.removesuffix(".ipynb")
    return stems[check_choice("page", numbers.get(stem, stem), tuple(stems))]


def kernels_for(names: Sequence[str], pages: Sequence[str], readers: int) -> dict[str, int]:
    """Share kernels among pages: one for each reader of what the class reads, else one.

    Examples
    --------
    >>> kernels_for(["00_plan.ipynb", "04_water.ipynb"], ["04"], 30)
    {'00_plan.ipynb': 1, '04_water.ipynb': 30}
    """
    read = {page_called(page, names) for page in pages}
    return {name: readers if name in read else 1 for name in names}


def own_addresses() -> list[str]:
    """Return the addresses under which others in the network may find this computer."""
    candidates: set[str] = set()
    # a computer need not know its own name
    with contextlib.suppress(OSError):
        candidates.update(socket.gethostbyname_ex(socket.gethostname())[2])
    # nor have a network
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way, contextlib.suppress(OSError):
        # a test address that belongs to nobody: nothing is sent, the way out is only looked up
        way.connect(("192.0.2.1", 9))
        candidates.add(way.getsockname()[0])
    return sorted(
        address for address in candidates if not ipaddress.ip_address(address).is_loopback
    )


def check_free(address: str, port: int) -> None:
    """Refuse an address that is not this computer's, or a port that something else uses.

    Parameters
    ----------
    address : str
        Four numbers with points.
    port : int
        The port [-].

    Raises
    ------
    InputError
        Says which addresses there are, or asks for another port.
    """
    try:
        ipaddress.IPv4Address(address)
    except ValueError:
        rule = f"give one as {', '.join([*own_addresses(), THIS_COMPUTER])}"
        raise InputError("address", rule, value=address, wrong="is no address") from None
    if not can_listen(address, 0):
        rule = f"it has {', '.join([*own_addresses(), THIS_COMPUTER])}"
        raise InputError("address", rule, value=address, wrong="is not this computer's")
    if not can_listen(address, port):
        rule = "choose another one, as --port 8867"
        raise InputError("port", rule, value=port, wrong="cannot be used here")


def can_listen(address: str, port: int) -> bool:
    """Tell whether a server could listen there; the port 0 is any."""
    with socket.socket() as place:
        if os.name == "posix":
            # as the server does: a port that was just left is free again
            place.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            place.bind((address, port))
        except OSError:
            return False
    return True


def addresses_of(address: str, port: int) -> list[str]:
    """Return what a reader types to find the app.

    Examples
    --------
    >>> addresses_of("192.168.1.5", 8866)
    ['http://192.168.1.5:8866/']
    """
    hosts = [address]
    if address == EVERYWHERE:
        hosts = own_addresses() or [THIS_COMPUTER]
    return [f"http://{host}:{port}/" for host in hosts]


def announce(address: str, kernels: int) -> None:
    """Say who can open the app, what it takes, and whether it shows amounts."""
    if ipaddress.ip_address(address).is_loopback:
        say("Only this computer can open it.")
        for other in own_addresses():
            say(f"For a class in the same network start it with --address {other}")
    else:
        say("Whoever is in the same network can open it, without a password.")
    if no_amounts():
        say("The pages are set for a class: no amounts to pour.")
    memory = f"{math.ceil(kernels * MEMORY)} GB of memory"
    say(f"Running the pages beforehand: {kernels} kernels, up to {memory}")


def titles_of(pages: Mapping[str, Any]) -> dict[str, str]:
    """Return what each page is called in the list of pages, by its file name."""
    titles = {}
    for name, page in pages.items():
        titles[name] = page.metadata.get("title") or heading(page, Path(name).stem)
    return titles


def last_cells(pages: Mapping[str, Any]) -> set[str]:
    """Return the id of the last code cell of each page: a kernel that has run it is ready."""
    ends = set()
    for page in pages.values():
        ends.add([cell.id for cell in page.cells if cell.cell_type == "code"][-1])
    return ends


def settings(
    folder: Path, pages: Mapping[str, Any], kernels: Mapping[str, int], address: str, port: int
) -> dict[str, dict[str, Any]]:
    """Return the server's settings, by the names of its own classes.

    Parameters
    ----------
    folder : Path
        Its own: the pages that it serves lie in `pages` there.
    pages : mapping of str to notebook
        Each page by its file name.
    kernels : mapping of str to int
        How many kernels of each are run beforehand [-].
    address : str
        Where it listens.
    port : int
        The port there [-].

    Returns
    -------
    dict
        Settings by class and name.
    """
    titles = titles_of(pages)
    count = counter(last_cells(pages), sum(kernels.values()), addresses_of(address, port))

    def list_pages(page_config: dict[str, Any], **others: Any) -> dict[str, Any]:
        page_config["pages"] = titles
        return page_config

    place = {"root_dir": str(folder / "pages"), "connection_dir_root": str(folder)}
    pools = {name: {"pool_size": number} for name, number in kernels.items()}
    return {
        **SETTINGS,
        "Voila": {**SETTINGS["Voila"], **place, "ip": address, "port": port},
        "VoilaConfiguration": {**SETTINGS["VoilaConfiguration"], "page_config_hook": list_pages},
        "VoilaKernelManager": {"kernel_pools_config": {"default": {"pool_size": 0}, **pools}},
        "VoilaExecutor": {**SETTINGS["VoilaExecutor"], "on_cell_executed": count},
    }


def prepare(folder: Path, source: Path, names: Sequence[str]) -> None:
    """Put copies of pages into a folder, and settings for their kernels.

    Nobody in the network reaches what else lies beside the pages, and the kernels take no settings
    of the person who starts them.
    """
    (folder / "pages").mkdir()
    for name in names:
        shutil.copy(source / name, folder / "pages")
    profile = folder / "ipython" / "profile_default"
    profile.mkdir(parents=True)
    # its folder is not that of any one reader
    os.environ[NO_FOLDER] = "1"
    # thirty kernels would write one history, and each warn of a network that it does not use
    values = {"HistoryManager": {"enabled": False}, "IPKernelApp": {"log_level": "ERROR"}}
    (profile / "ipython_kernel_config.json").write_text(json.dumps(values), encoding="utf-8")
    os.environ["IPYTHONDIR"] = str(folder / "ipython")


def serve(options: dict[str, dict[str, Any]]) -> None:
    """Serve until Ctrl+C or until it is told to end; all kernels end with it."""
    with extra("app"):
        from traitlets.config import Config
        from voila.app import Voila  # type: ignore[import-untyped]

    app = Voila(config=Config(options))
    app.initialize([])
    end_as_ctrl_c()  # it has set a way of its own, which fails until it listens
    app.template_paths.insert(0, str(LOOK))

    def no_refill() -> None:
        # a kernel that is run anew while others read takes their seconds; and with a delay a reader
        # who comes when all are taken would be given one that has not begun
        app.kernel_manager.kernel_pools_config = {"default": {"pool_size": 0}}

    stop = app.stop

    def stop_at_once() -> None:
        # no page has anything to keep; and what the server says or raises of pages that were still
        # running is no error
        logging.disable()
        loop.set_exception_handler(lambda loop, context: None)
        end_kernels()
        with contextlib.suppress(Exception):
            stop()

    app.stop = stop_at_once
    loop = asyncio.new_event_loop()
    asyncio.set_event_loop(loop)
    loop.call_soon(no_refill)
    try:
        app.start()
    finally:
        end_kernels()


def end_as_ctrl_c() -> None:
    """Let the signal to end, or a window that is closed, do what Ctrl+C does, at any moment."""
    for name in ("SIGTERM", "SIGHUP"):
        # Windows has the first alone
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.default_int_handler)


def end_kernels() -> None:
    """End all kernels there are: the server alone would forget one that is only just starting."""
    with extra("app"):
        import psutil  # type: ignore[import-untyped]

    kernels = psutil.Process().children(recursive=True)
    for kernel in kernels:
        # it may have ended meanwhile
        with contextlib.suppress(psutil.NoSuchProcess):
            kernel.kill()
    psutil.wait_procs(kernels, timeout=PATIENCE)


def parser() -> argparse.ArgumentParser:
    """Return what reads the command line."""
    words = argparse.ArgumentParser(
        prog="python -m pcbchem.lesson.app",
        description="Serve the pages as an app without code, for a class in one network.",
    )
    words.add_argument(
        "folder", nargs="?", default="notebooks", help="where the pages lie; else notebooks"
    )
    words.add_argument(
        "--readers", type=int, default=30, help=f"how many at a time, 1 to {MOST_READERS}"
    )
    words.add_argument(
        "--page",
        nargs="+",
        default=["04"],
        help="number or name of what the class reads: run beforehand for all readers; every "
        "other page for one of them",
    )
    words.add_argument("--port", type=int, default=8866, help="1024 to 65535")
    words.add_argument(
        "--address",
        default=THIS_COMPUTER,
        help="this computer's address in the network, for a class; else this computer alone",
    )
    words.add_argument("--no-amounts", action="store_true", help="no amounts to pour on any page")
    return words


def main(arguments: Sequence[str] | None = None) -> None:
    """Serve the pages as the command line asks, until it is stopped."""
    words = parser()
    options: Any = words.parse_args(arguments)
    if find_spec("voila") is None:
        sys.exit(MISSING)
    if options.no_amounts:
        os.environ[NO_AMOUNTS] = "1"
    # thirty kernels on a few cores: threads of their own would be in each other's way
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    try:
        check_whole("readers", options.readers, 1, MOST_READERS)
        check_whole("port", options.port, 1024, 65535)
        no_amounts()
        pages = pages_in(Path(options.folder))
        kernels = kernels_for(list(pages), options.page, options.readers)
        check_free(options.address, options.port)
    except ValueError as error:
        words.error(str(error))
    end_as_ctrl_c()
    try:
        with tempfile.TemporaryDirectory(prefix="pcbchem-") as name:
            folder = Path(name)
            prepare(folder, Path(options.folder), list(pages))
            chosen = settings(folder, pages, kernels, options.address, options.port)
            announce(options.address, sum(kernels.values()))
            serve(chosen)
    except KeyboardInterrupt:
        pass
    say("Stopped.")


if __name__ == "__main__":
    main()
