"""Law: the map's cursor goes by slider and by pointer, and what it says is what the package says.

Covers the page `what_if`: the laws of every page; a refused mixture hands nothing on; a mixture is
kept as a row, and goes to the planner; in a copy the workshop's map stands still.
"""

import json

import pytest
from helpers.amounts import amounts
from playwright.sync_api import expect

from pcbchem.lesson.what_if import panel as what_if
from pcbchem.lesson.what_if.triangle import place_on_picture

from .copy_laws import CopyLaws
from .eyes import named, nothing_wrong, shows
from .hands import number_field, panel_of, press, reset, start_run, wait_for_run, write
from .page_laws import PageLawsInFull

PAGE = "what_if.ipynb"
HANDED = "() => JSON.parse(localStorage.getItem('pcbchem 00_plan_a_bath.ipynb'))"


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its panel: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page, last="map")
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panel in this process, with the full map, made while the page is busy."""
    widget = what_if.what_if()
    widget.redraw()
    assert not widget.coarse
    return widget


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    # the full map comes by itself after the first look
    shows(panel_of(running, "What if"), words_of(package))
    return running


class TestPage(PageLawsInFull):
    """The laws of every page, in full: it is run to its end when it is loaded again."""


@pytest.fixture
def panel(page, package):
    """The panel after Reset, with the full map."""
    panel = panel_of(page, "What if")
    reset(panel)
    shows(panel, words_of(package))
    return panel


def words_of(package, **changes):
    return package.picture_and_words(False, **changes)[1]


def control(package, name):
    return next(control for control in package.controls if control.name == name)


def point_at(panel, shares):
    """Press on the picture where a mixture stands."""
    box = panel.locator("img.pcbchem-picture").bounding_box()
    x, y = place_on_picture(shares, False)
    panel.page.mouse.click(box["x"] + x * box["width"], box["y"] + y * box["height"])


def test_law_every_field_is_named_with_its_unit(panel, package):
    named(panel, [what_if.WATER, what_if.ACID])
    expect(panel.get_by_role("combobox", name="lines show")).to_have_count(1)


def test_law_the_cursor_goes_by_slider_and_number(page, panel, package):
    name = f"{what_if.WATER.label} ({what_if.WATER.unit})"
    slider = panel.get_by_role("slider", name=name, exact=True)
    slider.focus()
    press(page, "ArrowRight", 4)
    shows(panel, words_of(package, water=20))
    write(panel, what_if.ACID, "75")
    shows(panel, words_of(package, water=20, acid_of_rest=75))
    nothing_wrong(page)


def test_law_the_cursor_goes_where_the_pointer_is(page, panel, package):
    """And the sliders go with it, to the mixture of the map that is nearest."""
    panel.locator("img.pcbchem-picture").scroll_into_view_if_needed()
    point_at(panel, (0.41, 0.29, 0.30))
    shows(panel, words_of(package, water=40, acid_of_rest=50))
    expect(number_field(panel, what_if.WATER)).to_have_value("40")
    expect(number_field(panel, what_if.ACID)).to_have_value("50")
    nothing_wrong(page)


def test_law_another_quantity_is_drawn_by_choice(panel, package):
    panel.get_by_role("combobox", name="lines show").select_option("warmth")
    words = words_of(package, drawn="warmth")
    shows(panel, words)
    assert "°C that 1 in 10 exceeds" in words.alt


def test_law_a_refused_mixture_hands_nothing_on(page, panel, package):
    link = panel.get_by_role("link", name=what_if.TO_PLANNER)
    expect(link).to_be_visible()
    write(panel, what_if.WATER, "95")
    words = words_of(package, water=95)
    shows(panel, words)
    assert words.row is None
    expect(link).to_be_hidden()
    panel.get_by_role("button", name="Keep this one beside").press("Enter")
    expect(panel.get_by_text("Nothing here that could be kept.")).to_be_visible()
    nothing_wrong(page)


@pytest.fixture
def forgotten(page):
    """What the browser keeps is taken away afterwards: other files of tests share it."""
    yield
    page.evaluate("() => localStorage.clear()")


@pytest.mark.usefixtures("forgotten")
def test_law_a_mixture_goes_to_the_planner_and_is_kept(page, panel, package):
    write(panel, what_if.WATER, "20")
    words = words_of(package, water=20)
    shows(panel, words)
    with page.expect_popup() as popup:
        panel.get_by_role("link", name=what_if.TO_PLANNER).press("Enter")
    handed = page.evaluate(HANDED)
    popup.value.close()
    assert {name: handed[name] for name in words.row} == json.loads(json.dumps(words.row))
    assert "1 water : 2 acid : 2 peroxide" in handed["why"]
    panel.get_by_role("button", name="Keep this one beside").press("Enter")
    beside = panel.get_by_role("region", name="Kept beside")
    expect(beside.locator("table").first).to_be_visible()
    expect(beside.get_by_role("img").first).to_be_visible()
    nothing_wrong(page)


def test_law_other_bottles_get_a_first_look_and_then_the_map(page, panel, package):
    """Last, for the page stays with them: Enter, and all comes by itself."""
    write(panel, control(package, "peroxide"), "3")
    quick = words_of(package, peroxide=3)
    whole = words_of(package, peroxide=3)
    assert quick.coarse and not whole.coarse
    shows(panel, whole)
    nothing_wrong(page)


class TestCopy(CopyLaws):
    """The laws of every live copy."""

    name = PAGE

    def test_law_its_map_stands_still_and_holds_no_amount(self, file):
        expect(file.locator(".pcbchem-copy-note")).to_contain_text("nothing can be entered here")
        assert file.get_by_role("textbox").count() == 0
        text = file.locator("body").inner_text()
        assert "231 mixtures" in file.locator("img").first.get_attribute("alt")
        assert amounts(text) == []
