"""Laws of every page: seen live; and of some in JupyterLab, loaded again while the kernel lives.

A page has a test file of its own. That begins with a class that takes over these laws, on a fixture
`page`: the page run down to its last panel, in a window of 1366 × 768. A lesson that asks, shows
and has controls to move takes `LessonLaws` (`lesson_laws.py`), which need no JupyterLab. A page
with more to it takes `PageLawsInFull`, on a `page` in JupyterLab as it comes, with the list of
files open beside it: a page of fields, its map, and a page of questions. What comes of the
package's scripts and style sheets alone is the same on each page that shares them, and of
JupyterLab too. The file's own tests go on from there.
"""

import pytest
from playwright.sync_api import TimeoutError as TookTooLong

from .eyes import (
    COLOURS,
    axe_clean_widgets,
    has_ground,
    no_errors,
    nothing_wrong,
    read_down,
    well_named,
)
from .hands import change_theme, show_files
from .opening import HEIGHTS, SCREEN

OPENED_BY = {
    "00_plan_a_bath.ipynb": "test_planner.py",
    "01_what_is_in_the_bottle.ipynb": "test_bottle.py",
    "02_acid_into_water.ipynb": "test_acid.py",
    "03_where_the_copper_goes.ipynb": "test_copper.py",
    "04_why_water_slows_it.ipynb": "test_water.py",
    "04b_how_sure_is_it.ipynb": "test_how_sure.py",
    "05_warm_baths.ipynb": "test_warm.py",
    "06_weak_peroxide.ipynb": "test_weak.py",
    "07_when_to_lift_it_out.ipynb": "test_lift.py",
    "08_test_an_offcut.ipynb": "test_offcut.py",
    "09_what_goes_into_the_air.ipynb": "test_air.py",
    "10_after_the_last_board.ipynb": "test_after.py",
    "11_developer_and_tin.ipynb": "test_developer.py",
    "what_if.ipynb": "test_what_if.py",
}
"""Each page, and the file with its tests."""
PICTURES_LOADED = "() => [...document.images].every(i => i.complete && i.naturalWidth && i.alt)"
UNFOLD = """() => {
    document.querySelectorAll('details').forEach(e => { e.open = true; });
}"""
THEMES = {"JupyterLab Dark": (18, 18, 18), "JupyterLab Light": (255, 255, 255)}
"""Each theme, and the red, green and blue of a panel and of its picture's ground."""
FIRST_THEME = next(iter(THEMES))
GROUNDS = """() => [...document.querySelectorAll('.pcbchem-widget')]
    .map(e => getComputedStyle(e).backgroundColor)"""
FILTERS = """() => [...document.querySelectorAll('.pcbchem-widget img, .jp-OutputArea img')]
    .map(e => getComputedStyle(e).filter)"""
TOO_WIDE = """() => [...document.querySelectorAll('.pcbchem-widget')]
    .filter(e => e.scrollWidth > e.clientWidth).map(e => e.ariaLabel)"""
LOOK = "e => [getComputedStyle(e).textDecorationLine, getComputedStyle(e).color]"
SIZES = """() => [...document.querySelectorAll('.pcbchem-widget, .pcbchem-widget *')]
    .map(e => e.getBoundingClientRect()).map(box => [box.width, box.height])"""
# what is measured under each order of our style sheets; JupyterLab may bring them in any
IN_EACH_ORDER = """() => {
    const sheets = [...document.querySelectorAll('style')]
        .filter(sheet => sheet.textContent.includes('.pcbchem-widget'));
    // each widget brings its own: of those that say the same the last counts
    const ours = [...new Map(sheets.map(sheet => [sheet.textContent, sheet])).values()];
    const orders = rest => rest.length < 2 ? [rest] : rest.flatMap(
        first => orders(rest.filter(other => other !== first)).map(order => [first, ...order]));
    return orders(ours).map(order => {
        document.head.append(...order);
        return String((MEASURE)());
    });
}"""


class PageLaws:
    """What holds for every page; `page` is opened once, and run down to its last panel."""

    answers: tuple[str, ...] = ()
    """What its predictions are about, as the page says it afterwards; none: it asks nothing."""
    in_full = False

    def test_law_nothing_tells_an_answer_before_it_is_asked(self, page):
        """After Run All, from top to foot, pictures and folded parts among it; choices left out."""
        text = read_down(page)
        assert len(text) > 1000
        assert [answer for answer in self.answers if answer in text] == []

    def test_law_a_page_shows_a_picture_and_nothing_wrong(self, page):
        nothing_wrong(page)
        assert page.locator(".pcbchem-panel img").count() > 0

    def test_law_all_has_a_name_and_gets_its_keys(self, page):
        well_named(page)

    @pytest.mark.parametrize("theme, ground", THEMES.items())
    def test_law_anybody_can_use_its_panels(self, page, theme, ground):
        """In both themes, with everything unfolded; its pictures have the theme's ground.

        Those without a panel too; and on paper all is white in any theme. In the second theme only
        colours are others: they are those of the live copy, where `CopyLaws` looks at them by day.
        """
        change_theme(page, theme)
        has_ground(page.locator(".pcbchem-panel img").first, ground)
        assert len(set(page.evaluate(FILTERS))) == 1, "some pictures are turned, some are not"
        page.emulate_media(media="print")
        assert set(page.evaluate(GROUNDS)) == {"rgb(255, 255, 255)"}
        assert set(page.evaluate(FILTERS)) == {"none"}
        page.emulate_media(media="screen")
        page.evaluate(UNFOLD)
        assert set(page.evaluate(GROUNDS)) == {f"rgb{ground}"}
        if theme == FIRST_THEME:
            axe_clean_widgets(page)
        elif self.in_full:
            axe_clean_widgets(page, COLOURS)

    def test_law_a_link_looks_the_same_under_the_pointer(self, page):
        for link in page.locator(".pcbchem-widget a:visible").all():
            look = link.evaluate(LOOK)
            assert look[0] == "underline"
            link.hover()
            assert link.evaluate(LOOK) == look

    def test_law_the_order_of_style_sheets_is_nothing(self, page):
        """Everything in a widget has the same size in each."""
        sizes = page.evaluate(IN_EACH_ORDER.replace("MEASURE", SIZES))
        assert len(set(sizes)) == 1, f"{len(set(sizes))} looks in {len(sizes)} orders"

    def test_law_a_narrow_window_gets_the_narrow_picture(self, page):
        """Half a screen: no panel needs to be scrolled sideways."""
        img = page.locator(".pcbchem-panel img").first
        img.scroll_into_view_if_needed()
        show_files(page, False)
        for width, pixels in ((620, "< 500"), (SCREEN["width"], "> 550")):
            page.set_viewport_size({**SCREEN, "width": width})
            page.wait_for_function(
                f"img => img.complete && img.naturalWidth {pixels}", arg=img.element_handle()
            )
            assert page.evaluate(TOO_WIDE) == []
        show_files(page)
        nothing_wrong(page)


@pytest.mark.usefixtures("heights")  # before anything is touched
class PageLawsInFull(PageLaws):
    """The same, and what holds for every page that has the same scripts.

    Its last laws load the page again while its kernel lives, and run all of it: that every page can
    be run a second time is held by tests/lesson/test_pages.py, without a browser.
    """

    in_full = True

    def test_law_it_runs_to_its_end_when_loaded_again(self, again):
        no_errors(again)

    def test_law_loaded_again_it_looks_as_before(self, again, heights):
        """With the list of files beside it again: nothing is higher or lower than at first."""
        same = f"heights => String(({HEIGHTS})()) === String(heights)"
        try:
            again.wait_for_function(same, arg=heights)
        except TookTooLong:
            now = again.evaluate(HEIGHTS)
            raise AssertionError(f"{now} px high, at first {heights}") from None
        in_each_order = again.evaluate(IN_EACH_ORDER.replace("MEASURE", HEIGHTS))
        assert set(in_each_order) == {",".join(map(str, heights))}, in_each_order
