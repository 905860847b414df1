"""Law: one's own bench loses nothing in a browser: log, readings, artwork, and the way on.

Covers, in JupyterLab with panels of its own page on one kernel: a log that is started, typed into,
loaded again in the middle, written by another program, taken along and taken away; a picture that
is dropped, refused and named in HTML; readings; a board that is handed over, and what goes on to
the planner. What its form makes of that, test_planner says, and the tests of each panel.
"""

import base64
import dataclasses
import io
import json

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

from pcbchem.bench.offcut import append_offcuts, read_log
from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench.bench import offcut_like, workshop_plan
from pcbchem.lesson.own_bench.log_book import FIRST_NAME
from pcbchem.lesson.pages import OFFCUT_PAGE, PLANNER_PAGE

from .eyes import nothing_wrong
from .hands import reset, run_all, start_run, wait_for_run
from .opening import planted

CELLS = (
    "from pcbchem.lesson import own_bench as own; bench = own.bench_of()",
    "own.panel_of_bottle(bench)",
    "own.panel_of_offcuts(bench)",
    # the one there is, when the cells are run again
    "artwork = globals().get('artwork') or own.panel_of_artwork(); artwork",
)
HAND_OVER = """([page, values]) => localStorage.setItem(
    `pcbchem ${page}`, JSON.stringify({ ...values, at: Date.now() }))"""
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


@pytest.fixture(scope="module")
def page(server, opened_once):
    page = opened_once(planted(server, "own_bench.ipynb", *CELLS))
    run_all(page)
    return page


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
    # who presses once more is told what became of the row
    button(region, "Add this row").press("Enter")
    says(region, f"Added: line 3 of {FIRST_NAME}. For one more, say after how long it was seen.")
    assert times(path) == [250, 260]


def test_law_a_time_too_quick_is_doubted_before_it_is_added(page, path):
    region = panel(page, "offcuts")
    enter(region, "after", "20 s")
    says(region, "If your time is right, a bottle is stronger than its label")
    enter(region, "after", "4 min")
    expect(region.get_by_text("If your time is right")).to_be_hidden()
    enter(region, "after", "")
    assert times(path) == [250, 260]


def test_law_a_number_that_could_be_either_is_refused_beside_its_field(page, path):
    region = panel(page, "offcuts")
    enter(region, "after", "4.1")
    says(region, "could be minutes or seconds")
    button(region, "Add this row").press("Enter")
    says(region, "First correct the field that is marked.")
    enter(region, "after", "")
    assert times(path) == [250, 260]


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


# ---- readings, and all of it after the page was loaded again


def test_law_a_reading_is_kept(page):
    region = panel(page, "the bottle")
    expect(region.get_by_text("What does the label say?").first).to_be_visible()
    region.get_by_role("combobox", name="measured").select_option(label="acid: weighed")
    enter(region, "label of the acid (%)", "10")
    enter(region, "liquid alone weighs (g)", "104.8")
    enter(region, "its volume (mL)", "100")
    says(region, "Weighing: ")
    button(region, "Keep this reading").press("Enter")
    expect(region.get_by_role("cell", name="104.8 g, 100 mL, 20 °C", exact=True)).to_be_visible()


@pytest.fixture(scope="module")
def again(page):
    """The page loaded again, its cells run as whoever comes back does, with a board handed over."""
    page.evaluate(HAND_OVER, [OFFCUT_PAGE, {"board": fields.STARTS}])
    page.reload()
    start_run(page)
    wait_for_run(page)
    return page


def test_law_after_a_reload_no_row_is_lost(again, path):
    region = panel(again, "offcuts")
    button(region, "Open it, or start it").press("Enter")
    says(region, f"{FIRST_NAME} is open: 2 offcuts.")
    says(region, "Two offcuts: ")
    add(region, "4 min 30 s", 4)
    assert times(path) == [250, 260, 270]


def test_law_after_a_reload_the_reading_is_there(again):
    region = panel(again, "the bottle")
    expect(region.get_by_role("cell", name="weighing", exact=True)).to_be_visible()


def test_law_after_a_reload_the_picture_stands_at_its_button(again):
    """Its kernel still holds it: it can be removed, too."""
    region = panel(again, "the artwork")
    says(region, "is bare. Measure your print")
    expect(region.locator(".pcbchem-file").filter(visible=True)).to_contain_text("front.png")
    button(region, "Choose a picture: remove the file").press("Enter")
    says(region, "No picture yet")


def test_law_a_reset_keeps_the_board_and_the_file_s_name(again):
    region = panel(again, "offcuts")
    says(region, "An offcut like your board: 13.5 cm² of bare copper")
    name = enter(region, "file here", "other.csv")
    note = enter(region, "note", "in the wind")
    reset(region)
    expect(note).to_have_value("")
    expect(name).to_have_value("other.csv")
    says(region, "An offcut like your board: 13.5 cm² of bare copper")
    says(region, "Three offcuts: ")
    enter(region, "file here", FIRST_NAME)


def test_law_a_row_of_another_program_is_seen_and_kept(again, path):
    append_offcuts(path, dataclasses.replace(offcut_like(workshop_plan()), time=280.0))
    add(panel(again, "offcuts"), "4 min 50 s", 6)
    assert times(path) == [250, 260, 270, 280, 290]
    rows = panel(again, "offcuts").get_by_role("row")
    expect(rows).to_have_count(6)  # a head and five rows


def test_law_what_is_taken_along_has_the_file_s_bytes(again, path):
    region = panel(again, "offcuts")
    marked = b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n")
    path.write_bytes(marked)  # as a spreadsheet saves it
    add(region, "5 min 10 s", 7)
    with again.expect_download() as download:
        button(region, "Take it with you (CSV)").press("Enter")
    assert download.value.suggested_filename == FIRST_NAME
    with open(download.value.path(), "rb") as saved:
        data = saved.read()
    assert data == path.read_bytes() and data.startswith(marked)


def test_law_a_file_that_is_taken_away_is_said_and_not_started_anew(again, path):
    region = panel(again, "offcuts")
    away = path.rename(path.with_name("away.txt"))
    enter(region, "after", "5 min 20 s")
    says(region, "is gone from the folder of this page")
    button(region, "Add this row").press("Enter")
    expect(region.get_by_role("status").filter(has_text="is gone from the folder")).to_be_visible()
    assert not path.exists()
    away.rename(path)
    button(region, "Add this row").press("Enter")
    says(region, f"Added: line 8 of {FIRST_NAME}.")
    nothing_wrong(again)


# ---- on to the planner


def handed_by(page, region, name):
    """What a link hands over to the planner, whose page is not waited for."""
    page.context.route(f"**/{PLANNER_PAGE}*", lambda route: route.abort())
    with page.context.expect_page() as opened:
        region.get_by_role("link", name=name).press("Enter")
    opened.value.close()
    page.context.unroute(f"**/{PLANNER_PAGE}*")
    return json.loads(page.evaluate("key => localStorage[key]", f"pcbchem {PLANNER_PAGE}"))


def test_law_strengths_go_to_the_planner(again):
    """Of the measured bottle alone; the ends are those that it says."""
    handed = handed_by(again, panel(again, "the bottle"), "Take these strengths to the planner")
    assert (handed["acid"], handed["acid_sure"]) == (10, "measured")
    ends = f"here between {handed['acid_low']:g} and {handed['acid_to']:g} %"
    assert ends in handed["why"] and "peroxide not measured" in handed["why"]
    assert not any(name.startswith("peroxide") for name in handed)


def test_law_an_offcut_goes_to_the_planner_as_half_the_board(again):
    handed = handed_by(again, panel(again, "offcuts"), "Plan an offcut like the board")
    assert (handed["bare"], handed["total"]) == (30, 75)
    assert handed["acid"] == fields.STARTS["acid"]
