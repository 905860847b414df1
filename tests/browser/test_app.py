"""Law: served as an app the pages do what they do in JupyterLab, and say nothing of running cells.

One app for the whole file, with page 04 and the planner, in this order: the list of pages, page 04
in light and dark, a prediction, a move, the hand-over, a file saved and opened, the planner's own
words; a kernel that is killed; and that no other host was asked.
"""

import json
import re
import shutil
import signal
from urllib.parse import urlsplit

import pytest
from helpers.class_app import END, READY, class_app
from playwright.sync_api import expect

from pcbchem.lesson import why_water_slows_it as water
from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.why_water_slows_it.panel import TO_PLANNER, planner_values

from .eyes import axe_clean, fits_across, has_ground, loaded, shows, swapped, watch_swaps
from .hands import number_field, panel_of, predict, reset, write
from .opening import ROOT, SCREEN, cut_after

WATER_PAGE = "04_why_water_slows_it.ipynb"
TITLES = {
    PLANNER_PAGE: "What will this mixture do to my board?",
    WATER_PAGE: "Why does adding water slow it?",
}
GROUNDS = {"dark": (18, 18, 18), "light": (255, 255, 255)}
"""Each wish of a reader, and the red, green and blue of the page, of a panel and of its picture."""
ON_GROUND = """ground => [document.body, document.querySelector('.pcbchem-panel')]
    .every(e => getComputedStyle(e).backgroundColor === `rgb(${ground.join(', ')})`)"""
OF_CELLS = re.compile(r"\bRun\b|\bstill running\b|\bcells?\b|\bfolded\b")
"""What only means something where a reader runs cells."""
LOST = (
    "No answer from Python. Write down what you have entered and load this page again, or ask "
    "your teacher."
)
PATIENCE = 10_000  # a page says so at the latest after so long [ms]
KERNEL = "() => JSON.parse(document.getElementById('jupyter-config-data').textContent).kernelId"


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    """The app for one reader, on copies of two pages."""
    folder = tmp_path_factory.mktemp("app") / "pages"
    folder.mkdir()
    shutil.copy(ROOT / "notebooks" / WATER_PAGE, folder)
    # what follows the planner's panel would be computed for seconds, and is tried elsewhere
    (folder / PLANNER_PAGE).write_text(cut_after(PLANNER_PAGE, "planner"), encoding="utf-8")
    with class_app(folder, "--readers=1") as process:
        process.wait_for(READY)
        yield process


@pytest.fixture(scope="module")
def requests(browser):
    """The address of everything that any page asks for."""
    addresses = []
    browser.on("request", lambda request: addresses.append(request.url))
    return addresses


@pytest.fixture(scope="module")
def page(app, browser, requests):
    """Page 04, opened from the list of pages by a reader who wishes a dark screen."""
    page = browser.new_page()
    page.emulate_media(color_scheme="dark")
    page.goto(app.address)
    links = page.get_by_role("link")
    assert links.all_inner_texts() == list(TITLES.values())
    axe_clean(page)
    page.get_by_role("link", name=TITLES[WATER_PAGE]).click()
    loaded(page.locator(".pcbchem-panel img").first)
    yield page
    page.close()


@pytest.fixture(scope="module")
def package():
    """The first panel of page 04 in this process."""
    return water.water_panel(water.still_prediction())


@pytest.fixture(scope="module")
def curve(page, package):
    """The first panel on the page, after a prediction with its reason."""
    package.prediction.choice, package.prediction.reason = "page", "more"
    answers, reasons = package.prediction.options, package.prediction.reasons
    predict(page, answers["page"].words, because=reasons["more"].words)
    return panel_of(page, package.title)


@pytest.fixture(scope="module")
def plan(curve, browser, package):
    """The planner, opened from page 04 with the bath of its slider."""
    write(curve, water_control(), "1.5")
    # while Python works, the link leads nowhere
    shows(curve, package.picture_and_words(False, water=1.5)[1])
    with browser.expect_page() as opened:
        curve.get_by_role("link", name=TO_PLANNER).press("Enter")
    loaded(opened.value.locator(".pcbchem-panel img").first)
    yield opened.value
    opened.value.close()


def water_control():
    """The slider of water."""
    return water.water_panel().controls[0]


def wish(page, scheme):
    """Be a reader who wishes a light or a dark screen: page and panel go by it."""
    page.emulate_media(color_scheme=scheme)
    page.wait_for_function(ON_GROUND, arg=GROUNDS[scheme])


def read(page):
    """All that can be read or heard on a page."""
    pictures = page.locator("img").evaluate_all("images => images.map(e => e.alt)")
    return " ".join([page.locator("body").inner_text(), *pictures])


def test_law_a_page_says_its_title_and_nothing_of_cells(page):
    assert page.title() == TITLES[WATER_PAGE]
    assert page.get_by_role("heading", level=1).inner_text().startswith(TITLES[WATER_PAGE])
    text = read(page)
    assert len(text) > 1000 and not OF_CELLS.search(text), OF_CELLS.search(text)


@pytest.mark.parametrize("scheme", GROUNDS)
def test_law_it_is_light_or_dark_as_its_reader_wishes(page, scheme):
    wish(page, scheme)
    has_ground(page.locator(".pcbchem-panel img").first, GROUNDS[scheme])
    axe_clean(page)


def test_law_it_can_be_read_on_a_telephone(page):
    page.set_viewport_size({"width": 390, "height": 844})
    fits_across(page)
    page.set_viewport_size(SCREEN)


def test_law_paper_is_white_and_holds_the_whole_page(page):
    """In a window of its own a page would end with the first sheet."""
    wish(page, "dark")
    sheets = re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4"))
    page.emulate_media(media="print")
    is_white = page.evaluate(ON_GROUND, GROUNDS["light"])
    page.emulate_media(media="screen")
    wish(page, "light")
    assert is_white and len(sheets) > 2


def test_law_a_prediction_opens_the_panel_and_a_move_redraws_it(page, curve, package):
    """Sentence, picture in words and notes are those of the package."""
    watch_swaps(curve)
    for count, value in enumerate((1.2, 0.4), start=1):
        write(curve, water_control(), f"{value:g}")
        shows(curve, package.picture_and_words(False, water=value)[1])
        swapped(curve, count)
    curve.get_by_role("slider").press("ArrowRight")
    shows(curve, package.picture_and_words(False, water=0.5)[1])


def test_law_a_bath_is_taken_to_the_planner(plan):
    """Beside page 04, which keeps its answers."""
    filled = panel_of(plan, "Planner")
    handed = planner_values(water=1.5, view="bars")
    expect(filled.locator(".pcbchem-filled")).to_have_text(handed["why"])
    ours = planner.planner()
    control = next(control for control in ours.controls if control.name == "water_parts")
    expect(number_field(filled, control)).to_have_value("1.5")
    assert plan.url.endswith(f"/voila/render/{PLANNER_PAGE}")
    assert plan.title() == TITLES[PLANNER_PAGE]


def test_law_a_link_to_another_page_leaves_this_one(page):
    """A page that is left loses its kernel, and with it all answers."""
    link = page.locator("blockquote a[href='00_plan_a_bath.ipynb']")
    assert link.evaluate("e => e.target || document.querySelector('base').target") == "_blank"


def test_law_inputs_of_the_planner_go_into_a_file_and_come_back(plan, tmp_path):
    panel = panel_of(plan, "Planner")
    air = next(control for control in planner.planner().controls if control.name == "air")
    panel.locator("details.pcbchem-group").evaluate_all("all => all.forEach(e => e.open = true)")
    write(panel, air, "25")
    save = panel.get_by_role("button", name="Save these inputs as a file")
    expect(save).to_be_enabled()
    with plan.expect_download() as download:
        save.press("Enter")
    assert download.value.suggested_filename == "bath.json"
    file = tmp_path / "bath.json"
    download.value.save_as(file)
    assert json.loads(file.read_text(encoding="utf-8"))
    reset(panel)
    expect(number_field(panel, air)).to_have_value("20")
    with plan.expect_file_chooser() as chooser:
        panel.get_by_role("button", name="Open a saved file").press("Enter")
    chooser.value.set_files(file)
    expect(number_field(panel, air)).to_have_value("25")
    expect(panel.locator(".pcbchem-lost")).to_be_hidden()


@pytest.mark.parametrize("scheme", GROUNDS)
def test_law_the_planner_can_be_used_in_light_and_dark(plan, scheme):
    wish(plan, scheme)
    axe_clean(plan)


def test_law_the_planner_says_nothing_of_cells(plan):
    text = read(plan)
    assert "Say what is in your bottles" in text, "what holds on a live page is said"
    assert not OF_CELLS.search(text), OF_CELLS.search(text)


def test_law_a_page_that_is_left_ends_its_kernel(app, plan, browser):
    """Else each page that is loaded again would take as much memory once more."""
    kernel = app.kernel_of(plan.evaluate(KERNEL))
    browser.clear_cookies()  # who opens a page by its own address gets none
    plan.goto("about:blank")
    kernel.wait(END)


def test_law_a_kernel_that_is_gone_is_said_and_what_was_typed_stays(app, page, curve):
    lost = curve.get_by_text(LOST)
    expect(lost).to_be_hidden()
    page.clock.install()  # runs as usual, and can be put forward
    app.kernel_of(page.evaluate(KERNEL)).send_signal(signal.SIGKILL)
    field = write(curve, water_control(), "2.3")
    page.clock.fast_forward(PATIENCE)
    expect(lost).to_be_visible()
    expect(field).to_have_value("2.3")
    assert not OF_CELLS.search(read(page))
    # of a question too
    page.get_by_role("button", name="Ask me again").first.press("Enter")
    page.clock.fast_forward(PATIENCE)
    expect(page.locator(".pcbchem-quiz").first.get_by_text(LOST)).to_be_visible()


def test_law_no_other_host_is_asked(requests, page):
    hosts = {urlsplit(address).hostname for address in requests if address.startswith("http")}
    assert len(requests) > 50 and hosts == {"127.0.0.1"}


def test_law_it_ends_with_all_of_its_kernels(app, page):
    assert app.kernels()
    last, left = app.stop(signal.SIGTERM)
    assert last == "Stopped." and left == []
    assert not any("Traceback" in line for line in app.lines)
