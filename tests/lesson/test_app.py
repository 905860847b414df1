"""The app of a class: what it is asked for, what it says, and that nothing of it is left behind.

A page of one line stands for the pages; tests/browser/test_app.py opens the pages themselves.
"""

import re
import signal
import time
import urllib.request

import nbformat
import pytest
from helpers.class_app import READY, class_app, free_port

from pcbchem.common.limits import InputError
from pcbchem.lesson import app
from pcbchem.page.school import NO_AMOUNTS

NAMES = ["00_plan_a_bath.ipynb", "04_why_water_slows_it.ipynb", "04b_how_sure_is_it.ipynb"]
SWITCH = """from pcbchem.page.folder import own_folder
from pcbchem.page.school import no_amounts
print("no amounts:", no_amounts(), "folder:", own_folder())"""
SLOW = "import time\ntime.sleep(60)"
SOON = 20.0  # longest for a page whose kernel has yet to start: one with a delay took 1800 [s]


def write_page(folder, source, name="01_short.ipynb"):
    """Write a page of one cell under a heading, and return its folder."""
    folder.mkdir(exist_ok=True)
    python = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    cells = [
        nbformat.v4.new_markdown_cell("# Is it <short>?"),
        nbformat.v4.new_code_cell(source, id="only"),
    ]
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=python), folder / name)
    return folder


def answer(address):
    with urllib.request.urlopen(address, timeout=60) as page:
        return page.read().decode()


def refusal(capsys, *arguments):
    """Start it in this process with arguments that it refuses; return what it says."""
    with pytest.raises(SystemExit) as ending:
        app.main(arguments)
    said = capsys.readouterr().err
    assert ending.value.code == 2 and "Traceback" not in said
    return said.partition("error: ")[2].strip()


@pytest.fixture
def folder(tmp_path):
    return write_page(tmp_path / "pages", SWITCH)


@pytest.fixture(scope="module")
def running(tmp_path_factory):
    """The app for two readers of a class, and a notebook in a folder within that of the pages."""
    folder = write_page(tmp_path_factory.mktemp("app") / "pages", SWITCH)
    write_page(folder / "private", SWITCH, "marks.ipynb")
    with class_app(folder, "--page=01", "--readers=2", "--no-amounts") as process:
        process.wait_for(READY)
        yield process


def test_law_it_says_how_far_it_is_and_where_the_class_finds_it(running):
    counts = [line for line in running.lines if line.endswith(" ready")]
    assert counts == ["1 of 2 ready", "2 of 2 ready"]
    assert f"Ready: {running.address}" in running.lines
    assert "Only this computer can open it." in running.lines
    assert any("no amounts to pour" in line for line in running.lines)
    assert not any("Traceback" in line or "WARNING" in line for line in running.lines)


def test_law_the_list_of_pages_says_their_titles(running):
    page = answer(running.address)
    (link,) = re.findall(r'<a [^>]*href="([^"]+)">Is it &lt;short&gt;\?</a>', page)
    assert link == "/voila/render/01_short.ipynb"
    assert "//" not in page.replace("</", ""), "no other host"


def test_law_the_switch_of_a_class_reaches_every_kernel(running):
    """Those that ran beforehand, and one that starts when they are all taken."""
    for _ in range(2):
        page = answer(f"{running.address}voila/render/01_short.ipynb")
        assert "no amounts: True folder: None" in page, "no reader's file stays on this computer"
    assert running.kernels()
    start = time.monotonic()
    assert "no amounts: True" in answer(f"{running.address}voila/render/01_short.ipynb")
    assert time.monotonic() - start < SOON, "who comes late waits for no kernel of a later lesson"
    assert len(running.kernels()) == 3, "none is run for readers who have not come"


@pytest.mark.parametrize("path", ["voila/render/private/marks.ipynb", "voila/files/01_short.ipynb"])
def test_law_nobody_reaches_what_else_lies_there(running, path):
    with pytest.raises(urllib.error.HTTPError) as refused:
        answer(running.address + path)
    refused.value.close()
    assert refused.value.code in (403, 404)


def test_law_ctrl_c_ends_it_with_all_of_its_kernels(running):
    assert running.kernels()
    last, left = running.stop(signal.SIGINT)
    assert last == "Stopped." and left == []
    assert running.process.returncode == 0


def test_law_a_closed_window_ends_it_while_pages_are_still_running(tmp_path):
    with class_app(write_page(tmp_path / "pages", SLOW), "--page=01", "--readers=2") as process:
        process.wait_for("Running the pages beforehand")
        while len(process.kernels()) < 2:
            time.sleep(0.05)
        last, left = process.stop(signal.SIGHUP)
    assert last == "Stopped." and left == []
    assert not any("Error" in line for line in process.lines)


def test_law_a_page_that_fails_is_said(tmp_path):
    folder = write_page(tmp_path / "pages", "1 / 0")
    with class_app(folder, "--page=01", "--readers=1") as process:
        process.wait_for("The cell only of a page has failed")


@pytest.mark.parametrize(
    "option, words",
    [
        (["--readers", "0"], "readers = 0 is impossible: it must be a whole number from 1 to 200"),
        (["--port", "80"], "port = 80 is impossible: it must be a whole number from 1024 to 65535"),
        (["--page", "99"], "page = '99' is not known: choose from 01_short"),
        (["--address", "school"], "address = 'school' is no address: give one as "),
        (["--address", "192.0.2.77"], "address = '192.0.2.77' is not this computer's: it has "),
    ],
)
def test_law_what_cannot_be_is_refused_in_words(folder, capsys, option, words):
    said = refusal(capsys, str(folder), "--page", "01", *option)
    assert said.startswith(words), said


def test_law_a_folder_without_pages_is_refused(tmp_path, capsys):
    said = refusal(capsys, str(tmp_path))
    assert said == (
        f"folder = '{tmp_path}' holds no page: start this in the folder that holds notebooks, or "
        "name their folder"
    )


def test_law_a_port_in_use_is_refused(folder, capsys):
    """Another one in its place would not be the address that the class has."""
    port = free_port()
    with app.socket.socket() as place:
        place.bind(("127.0.0.1", port))
        place.listen()
        said = refusal(capsys, str(folder), "--page", "01", "--port", str(port))
    assert said == f"port = {port} cannot be used here: choose another one, as --port 8867"


def test_law_a_switch_that_means_nothing_is_refused(folder, capsys, monkeypatch):
    monkeypatch.setenv(NO_AMOUNTS, "yes")
    assert refusal(capsys, str(folder), "--page", "01").startswith(f"{NO_AMOUNTS} = 'yes' is not")


def test_law_without_voila_it_says_which_extra_is_missing(folder, monkeypatch):
    monkeypatch.setattr(app, "find_spec", lambda name: None)
    with pytest.raises(SystemExit) as ending:
        app.main([str(folder), "--page", "01"])
    assert ending.value.code == 'The app needs voila: install it with pip install ".[app]".'


@pytest.mark.parametrize("page", ["04", "04_why_water_slows_it", "04_why_water_slows_it.ipynb"])
def test_a_page_is_called_by_number_or_name(page):
    assert app.page_called(page, NAMES) == "04_why_water_slows_it.ipynb"


def test_the_pages_that_the_class_reads_are_run_for_all():
    assert app.kernels_for(NAMES, ["04", "00"], 15) == dict(zip(NAMES, (15, 15, 1), strict=True))
    with pytest.raises(InputError, match="page = '4' is not known"):
        app.kernels_for(NAMES, ["4"], 15)


def test_a_class_is_told_where_others_find_this_computer(monkeypatch, capsys):
    monkeypatch.setattr(app, "own_addresses", lambda: ["192.168.1.5"])
    assert app.addresses_of("0.0.0.0", 8866) == ["http://192.168.1.5:8866/"]
    app.announce("127.0.0.1", 30)
    said = capsys.readouterr().out
    assert "For a class in the same network start it with --address 192.168.1.5" in said
    assert "30 kernels, up to 8 GB of memory" in said
    app.announce("192.168.1.5", 30)
    assert "Whoever is in the same network can open it" in capsys.readouterr().out


def test_no_address_of_its_own_is_only_its_own():
    assert not any(address.startswith("127.") for address in app.own_addresses())
