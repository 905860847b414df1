"""Law: one's own bench loses nothing in a browser: log, readings, artwork, and the way on.

Covers, in JupyterLab with panels of its own page on one kernel, and a second page on another one:
a log that is started, typed into, loaded again in the middle, written by two, taken along and taken
away; a picture that is dropped, refused and named in HTML; readings, and strengths for the planner.
"""

import base64
import io
import re

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

from pcbchem.bench.offcut import read_log
from pcbchem.lesson.own_bench.log_book import FIRST_NAME
from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.page.widget.controls import all_controls

from .eyes import no_errors, nothing_wrong
from .hands import number_field, panel_of, run_all, start_run, wait_for_run
from .opening import cut_after, planted

CELLS = (
    "from pcbchem.lesson import own_bench; bottle, offcuts, artwork = own_bench.panels(False)",
    "bottle",
    "offcuts",
    "artwork",
)
ALERT = "<img src=x onerror=alert(1)>.png"
DROP = """(zone, [name, text, size]) => {
    const bytes = text ? Uint8Array.from(atob(text), letter => letter.charCodeAt(0))
        : new Uint8Array(size);
    const transfer = new DataTransfer();
    transfer.items.add(new File([bytes], name, { type: 'image/png' }));
    for (const kind of ['dragover', 'drop']) {
        const options = { bubbles: true, cancelable: true, dataTransfer: transfer };
        zone.dispatchEvent(new DragEvent(kind, options));
    }
}"""


def open_bench(server, opened, name):
    page = opened(planted(server, name, *CELLS))
    run_all(page)
    return page


@pytest.fixture(scope="module")
def page(server, opened_once):
    return open_bench(server, opened_once, "own_bench.ipynb")


@pytest.fixture(scope="module")
def path(server):
    """Where the log lies: in the folder of the pages."""
    return server.pages / FIRST_NAME


def panel(page, name):
    """One of the panels, brought into view: JupyterLab builds cells when they come near."""
    title = f"Your own bench: {name}"
    region = page.get_by_role("region", name=title, exact=True)
    region.scroll_into_view_if_needed()
    return region


def button(region, name):
    return region.get_by_role("button", name=name, exact=True)


def enter(region, name, text):
    """Write into a field and press Enter."""
    field = region.get_by_role("textbox", name=name, exact=True)
    field.fill(text)
    field.press("Enter")
    return field


def says(region, words):
    expect(region.get_by_text(words).first).to_be_visible()


def times(path):
    return [offcut.time for offcut in read_log(path).offcuts]


def add(region, text, line):
    """Write a time and press Add, and wait until it says which line it has become."""
    enter(region, "after", text)
    button(region, "Add this row").press("Enter")
    says(region, f"Added: line {line} of {FIRST_NAME}.")


def test_law_a_log_is_started_where_the_page_lies(page, path):
    region = panel(page, "offcuts")
    assert not path.exists()
    button(region, "Open it, or start it").press("Enter")
    says(region, f"{FIRST_NAME} is started, in the folder of this page.")
    assert path.is_file()


def test_law_a_time_is_read_and_added_once_by_enter(page, path):
    region = panel(page, "offcuts")
    field = enter(region, "after", "4:10")
    says(region, "250 s")
    button(region, "Add this row").press("Enter")
    says(region, f"Added: line 2 of {FIRST_NAME}.")
    expect(field).to_have_value("")
    says(region, "One offcut: ")
    assert times(path) == [250]


def test_law_a_double_click_adds_one_row(page, path):
    region = panel(page, "offcuts")
    enter(region, "after", "4 min 20 s")
    button(region, "Add this row").dblclick()
    says(region, "Two offcuts: ")
    assert times(path) == [250, 260]


def test_law_a_number_that_could_be_either_is_refused_beside_its_field(page, path):
    region = panel(page, "offcuts")
    enter(region, "after", "4.1")
    says(region, "could be minutes or seconds")
    button(region, "Add this row").press("Enter")
    says(region, "First correct the field that is marked.")
    enter(region, "after", "")
    assert times(path) == [250, 260]


def test_law_a_reload_in_the_middle_loses_no_row(page, path):
    """Its kernel lives; the cells are run again as whoever comes back does."""
    page.reload()
    start_run(page)
    wait_for_run(page)
    region = panel(page, "offcuts")
    button(region, "Open it, or start it").press("Enter")
    says(region, f"{FIRST_NAME} is open: 2 offcuts.")
    says(region, "Two offcuts: ")
    add(region, "4 min 30 s", 4)
    assert times(path) == [250, 260, 270]


def test_law_two_tabs_write_one_log(page, path, server, opened_once):
    other = open_bench(server, opened_once, "own_bench_2.ipynb")
    second, first = panel(other, "offcuts"), panel(page, "offcuts")
    button(second, "Open it, or start it").press("Enter")
    says(second, f"{FIRST_NAME} is open: 3 offcuts.")
    add(second, "4 min 40 s", 5)
    add(first, "4 min 50 s", 6)
    add(second, "5 min", 7)
    assert times(path) == [250, 260, 270, 280, 290, 300]
    assert second.get_by_role("row").count() == 7, "a head and six rows"


def test_law_what_is_taken_along_has_the_file_s_bytes(page, path):
    region = panel(page, "offcuts")
    marked = b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n")
    path.write_bytes(marked)  # as a spreadsheet saves it
    add(region, "5 min 10 s", 8)
    with page.expect_download() as download:
        button(region, "Take it with you (CSV)").press("Enter")
    assert download.value.suggested_filename == FIRST_NAME
    with open(download.value.path(), "rb") as saved:
        data = saved.read()
    assert data == path.read_bytes() and data.startswith(marked)


def test_law_a_file_that_is_taken_away_is_said_and_not_started_anew(page, path):
    region = panel(page, "offcuts")
    away = path.rename(path.with_name("away.txt"))
    enter(region, "after", "5 min 20 s")
    says(region, "is gone from the folder of this page")
    button(region, "Add this row").press("Enter")
    expect(region.get_by_role("status").filter(has_text="is gone from the folder")).to_be_visible()
    assert not path.exists()
    away.rename(path)
    button(region, "Add this row").press("Enter")
    says(region, f"Added: line 9 of {FIRST_NAME}.")
    nothing_wrong(page)


# ---- artwork


def picture(dpi=100):
    """A board of 75 × 60 mm, of which 3 of 5 are white."""
    grey = np.full((236, 295), 255, np.uint8)
    grey[24:212, 24:171] = 0
    file = io.BytesIO()
    Image.fromarray(grey).save(file, "PNG", dpi=(dpi, dpi))
    return file.getvalue()


def drop(region, name, data=None, size=0):
    text = base64.b64encode(data).decode() if data else ""
    region.locator(".pcbchem-drop").evaluate(DROP, [name, text, size])


def test_law_a_picture_is_read_where_it_is_dropped(page):
    region = panel(page, "the artwork")
    drop(region, "front.png", picture())
    says(region, "front.png is open.")
    says(region, "is bare. Measure your print")


@pytest.mark.parametrize(
    "name, size, words",
    [
        ("huge.png", 60_000_000, "huge.png is too large: at most 40 MB."),
        ("front.pdf", 5, "front.pdf is none of these: .png, .tif, .tiff, .bmp."),
        ("noise.png", 50, "noise.png is none of these: it must be a PNG, a TIFF or a BMP"),
    ],
)
def test_law_what_is_no_picture_is_refused_and_the_last_one_stays(name, size, words, page):
    region = panel(page, "the artwork")
    drop(region, name, size=size)
    says(region, words)
    says(region, "is bare. Measure your print")


def test_law_a_name_in_html_is_shown_as_text(page):
    region = panel(page, "the artwork")
    shown = []

    def note(dialog):
        shown.append(dialog.message)
        dialog.accept()

    page.on("dialog", note)
    drop(region, ALERT, picture())
    says(region, f"{ALERT} is open.")
    drop(region, ALERT, picture(72))
    says(region, f"{ALERT}: says 72 pixels per inch")
    assert region.locator("img[src='x']").count() == 0 and shown == []
    page.remove_listener("dialog", note)
    drop(region, "front.png", picture())
    says(region, "front.png is open.")


# ---- readings, and the way on


def test_law_a_reading_is_kept_and_survives_a_reload(page):
    region = panel(page, "the bottle")
    enter(region, "liquid alone weighs (g)", "104.8")
    enter(region, "its volume (mL)", "100")
    says(region, "Weighing: ")
    button(region, "Keep this reading").press("Enter")
    expect(region.get_by_role("cell", name="weighing", exact=True)).to_be_visible()
    page.reload()
    start_run(page)
    wait_for_run(page)
    region = panel(page, "the bottle")
    expect(region.get_by_role("cell", name="weighing", exact=True)).to_be_visible()


@pytest.fixture
def short_planner(server):
    """The planner's page without what follows its panel, in its place in the copy."""
    copy = server.pages / PLANNER_PAGE
    whole = copy.read_text(encoding="utf-8")
    copy.write_text(cut_after(PLANNER_PAGE, "planner"), encoding="utf-8")
    yield
    copy.write_text(whole, encoding="utf-8")


def test_law_strengths_open_the_planner_filled_in(page, browser, short_planner):
    """The label stays; the ends are those that it says."""
    region = panel(page, "the bottle")
    link = region.get_by_role("link", name="Take these strengths to the planner")
    with browser.expect_page() as opened:
        link.press("Enter")
    other = opened.value
    run_all(other)
    region = panel_of(other, "Planner")
    filled = region.locator(".pcbchem-filled")
    expect(filled).to_contain_text("Filled in from your own bench: acid ")
    low, high = re.search(r"between ([\d.]+) and ([\d.]+) %", filled.inner_text()).groups()
    controls = {control.name: control for control in all_controls(planner.groups())}
    for name, text in (("acid", "10"), ("acid_low", low), ("acid_to", high)):
        expect(number_field(region, controls[name])).to_have_value(text)
    known = region.get_by_role("combobox", name=controls["acid_sure"].label, exact=True)
    expect(known).to_have_value("measured")
    no_errors(other)
    other.close()
