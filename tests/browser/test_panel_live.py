"""Law: with a kernel behind it a panel of words, files and long answers does what it says.

Covers a page of JupyterLab that is written for it: words that are refused, an answer that tells how
far it is while another change waits, a file that is read, removed, and forgotten by a new load.
"""

import pytest
from playwright.sync_api import expect

from .eyes import no_errors
from .hands import run_all, start_run, wait_for_run
from .opening import planted

PANEL = """
import time
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import Action, Done, PanelWords, Table, Text, TimeText, Upload
from pcbchem.page.widget.panel import Panel

FILE, SHOWN = [], []

def show(drawing, note, clear, progress):
    SHOWN.append(note)
    if note.startswith("slow"):
        for step in range(30):
            progress(step / 30, "making new draws")
            time.sleep(0.1)
    rows = Table("Files", ["name", "size"], [[name, str(size)] for name, size in FILE])
    beside = {"note": "No such word."} if note == "no" else {}
    return PanelWords(f"{note!r} {clear!r} {SHOWN.count(note)}", "white", table=rows,
                      beside_fields=beside)

def take(values, came, progress):
    FILE.clear()
    if "removed" in came:
        return Done({"note": "gone"}, "Removed.")
    FILE.append((came["name"], len(came["data"])))
    return Done({"note": "read"}, "Read.")

def write(values, came, progress):
    if values["note"] == "full":
        raise OSError(28, "No space left on device", "/home/maker/log.csv")
    return Done(remark="Written.", file=("log.csv", "a,b\\r\\n"))

panel = Panel(
    "Bench",
    [
        Text("note", "Note", "", 12),
        TimeText("clear", "Clear after", 10, 3600),
        Action("write", "Write the log"),
        Upload("log", "Open a log", (".csv",), 5_000_000),
    ],
    lambda narrow: Drawing(figure(1.0)),
    show,
    works={"write": write, "log": take},
    progress=True,
)
panel
"""


@pytest.fixture(scope="module")
def page(server, opened_once):
    """The page, run."""
    page = opened_once(planted(server, "bench.ipynb", PANEL))
    run_all(page)
    return page


def panel_in(page):
    return page.get_by_role("region", name="Bench", exact=True)


def write(page, name, text):
    box = panel_in(page).get_by_role("textbox", name=name, exact=True)
    box.fill(text)
    box.press("Enter")
    return box


def answer(page):
    return panel_in(page).locator("output")


def test_law_what_python_refuses_stands_beside_its_field(page):
    write(page, "Note", "first")
    expect(answer(page)).to_contain_text("'first' ''")
    box = write(page, "Clear after", "4")
    expect(panel_in(page).get_by_role("alert")).to_contain_text("could be minutes or seconds")
    expect(box).to_have_value("4")
    expect(answer(page)).to_contain_text("'first' ''")
    panel_in(page).get_by_role("button", name="Write the log").click()
    expect(panel_in(page).get_by_text("First correct the field that is marked.")).to_be_visible()
    write(page, "Clear after", "4:10")
    expect(panel_in(page).get_by_text("= 250 s", exact=True)).to_be_visible()
    expect(answer(page)).to_contain_text("'first' '4:10'")
    write(page, "Note", "no")
    expect(panel_in(page).get_by_role("alert").filter(has_text="No such word.")).to_be_visible()
    write(page, "Note", "yes")
    expect(answer(page)).to_contain_text("'yes' '4:10'")
    no_errors(page)


def test_law_a_long_answer_says_how_far_it_is_and_the_latest_counts(page):
    """What is changed meanwhile waits, and only its last value is worked out."""
    write(page, "Note", "slow")
    state = panel_in(page).locator(".pcbchem-state")
    expect(state).to_contain_text("making new draws: ")
    expect(panel_in(page).get_by_role("progressbar")).to_be_visible()
    for text in ("a", "b", "last"):
        write(page, "Note", text)
    expect(answer(page)).to_contain_text("'last' '4:10' 1")
    expect(state).to_have_text("")
    expect(panel_in(page).get_by_role("progressbar")).to_have_count(0)
    no_errors(page)


def test_law_a_file_is_saved_and_what_cannot_be_written_is_said(page):
    button = panel_in(page).get_by_role("button", name="Write the log")
    with page.expect_download() as download:
        button.click()
    assert download.value.suggested_filename == "log.csv"
    assert download.value.path().read_bytes() == b"a,b\r\n"
    write(page, "Note", "full")
    button.click()
    words = "No space left on device (log.csv): nothing was written."
    expect(panel_in(page).get_by_text(words)).to_be_visible()
    expect(button).to_be_focused()
    no_errors(page)


def give(page, name, data):
    file = {"name": name, "mimeType": "text/csv", "buffer": data}
    panel_in(page).locator("input[type=file]").set_input_files(file)


def test_law_a_file_is_read_whole_removed_and_forgotten(page):
    give(page, "<b>log.csv", bytes(2_500_000))
    cell = panel_in(page).get_by_role("cell", name="2500000")
    expect(cell).to_be_visible()
    expect(panel_in(page).get_by_text("<b>log.csv, 2.50 MB")).to_be_visible()
    panel_in(page).get_by_role("button", name="Open a log: remove the file").click()
    expect(cell).to_have_count(0)
    expect(panel_in(page).get_by_text("Removed.")).to_be_visible()
    give(page, "log.csv", b"a,b")
    expect(panel_in(page).get_by_role("cell", name="3", exact=True)).to_be_visible()
    no_errors(page)
    page.keyboard.press("Control+s")
    page.reload()
    start_run(page)
    wait_for_run(page)
    expect(panel_in(page).get_by_text("remove the file")).to_have_count(0)
    expect(panel_in(page).get_by_role("cell")).to_have_count(0)
