"""Law: a table is read on a narrow page too, and kept rows are the same in two tabs."""

import json

import pytest
from playwright.sync_api import expect

from pcbchem.page.widget.works import Beside

from .bench_panel import (
    MARKED,
    answered,
    answered_alone,
    button,
    field,
    new_panel,
    open_alone,
    tell,
)


@pytest.fixture
def alone(tab):
    with answered_alone(tab) as page:
        yield page


class TestTables:
    """A table under the words."""

    def test_law_a_wide_table_scrolls_in_a_narrow_panel(self, alone):
        """3.9 in wide, by keyboard too."""
        alone.set_viewport_size({"width": 374, "height": 900})
        frame = alone.get_by_role("region", name="Offcuts")
        widths = frame.evaluate("e => [e.scrollWidth, e.clientWidth]")
        assert widths[0] > widths[1]
        page_width = alone.evaluate("document.documentElement.scrollWidth")
        assert page_width <= 374, "and the page does not"
        frame.focus()
        expect(frame).to_be_focused()
        frame.press("ArrowRight")
        alone.clock.run_for(1000)
        alone.wait_for_function("e => e.scrollLeft > 0", arg=frame.element_handle())
        alone.set_viewport_size({"width": 1366, "height": 768})

    def test_law_a_table_is_read_as_one(self, alone):
        table = alone.get_by_role("table", name="Offcuts")
        expect(table.get_by_role("columnheader")).to_have_count(9)
        expect(table.get_by_role("rowheader")).to_have_text(["1", "2bad row"])
        expect(table.locator("img")).to_have_count(0)
        bars = [
            row.evaluate("e => getComputedStyle(e).borderLeftWidth")
            for row in table.get_by_role("rowheader").all()
        ]
        assert bars == ["0px", "4px"]

    def test_law_a_table_is_dimmed_with_its_answer(self, alone):
        field(alone, "Note").fill("odd")
        dimmed = alone.locator(".pcbchem-table").evaluate("e => getComputedStyle(e).opacity")
        assert float(dimmed) < 0.5

    def test_law_a_reader_of_the_table_stays_there(self, alone):
        alone.get_by_role("region", name="Offcuts").focus()
        answered(alone, table=MARKED.html().replace("bad row", "good row"))
        expect(alone.get_by_role("region", name="Offcuts")).to_be_focused()
        answered(alone, table="")
        expect(alone.get_by_role("table")).to_have_count(0)


def rows_panel(**more):
    """A panel whose picture is of the rows."""
    wording = {"keep": "Add this offcut", "heading": "Offcuts so far", "file": "offcuts.csv"}
    return new_panel(beside=Beside("rows", None, redraws=True, **wording, **more))


def rows_asked(page):
    """The rows of which the page asked last."""
    return page.evaluate("sent.filter(message => message.beside).at(-1)?.beside")


class TestRows:
    """Rows that the browser keeps."""

    def test_law_rows_have_words_of_their_own(self, tab):
        page = open_alone(tab, rows_panel(), "localStorage.clear()", row={"note": "a"})
        answered(page)
        assert rows_asked(page) == [], "a picture of none is asked for too"
        button(page, "Add this offcut").press("Enter")
        assert rows_asked(page) == [{"note": "a"}]
        number = page.evaluate("sent.at(-1).number")
        html = "<table><tbody><tr><th>1</th></tr></tbody></table>"
        tell(page, beside=True, number=number, html=html, csv="a", lost=[])
        expect(page.get_by_role("region", name="Offcuts so far")).to_be_visible()
        with page.expect_download() as download:
            button(page, "As a table file (CSV)").press("Enter")
        assert download.value.suggested_filename == "offcuts.csv"

    def test_law_two_tabs_keep_the_same_rows_and_none_twice(self, browser, tab):
        tabs = tab, browser.new_page()
        for each in tabs:
            open_alone(each, rows_panel(), "localStorage.clear()", row={"note": "a"})
            answered(each)
        one, other = tabs
        button(one, "Add this offcut").press("Enter")
        other.wait_for_function("() => sent.at(-1).beside?.length === 1")
        button(other, "Add this offcut").press("Enter")
        expect(other.get_by_text("This one stands below already.")).to_be_visible()
        other.evaluate("model.put({ row: { note: 'b' } })")
        button(other, "Add this offcut").press("Enter")
        one.wait_for_function("() => sent.at(-1).beside?.length === 2")
        assert rows_asked(one) == rows_asked(other) == [{"note": "a"}, {"note": "b"}]
        one.evaluate("localStorage.clear()")
        other.wait_for_function("() => sent.at(-1).beside?.length === 0")
        other.close()

    def test_law_a_tab_that_has_not_heard_loses_no_row(self, tab):
        """Another page has kept a row, and its event is still on its way."""
        page = open_alone(tab, rows_panel(), "localStorage.clear()", row={"note": "a"})
        answered(page)
        stored = "localStorage.setItem('pcbchem rows beside', JSON.stringify([{ note: 'b' }]))"
        page.evaluate(stored)
        button(page, "Add this offcut").press("Enter")
        assert rows_asked(page) == [{"note": "b"}, {"note": "a"}]

    @pytest.mark.parametrize("fault", ["setItem", "getItem"])
    def test_law_a_browser_that_keeps_nothing_says_so(self, tab, fault):
        broken = f"""() => {{
            localStorage.clear();
            Storage.prototype.{fault} = () => {{ throw new Error('QuotaExceededError'); }};
            if ('{fault}' === 'getItem') Storage.prototype.setItem = Storage.prototype.getItem;
        }}"""
        page = open_alone(tab, rows_panel(), broken, row={"note": "a"})
        answered(page)
        button(page, "Add this offcut").press("Enter")
        expect(page.get_by_text("this browser keeps nothing: ")).to_be_visible()
        assert rows_asked(page) == [{"note": "a"}]
        button(page, "Add this offcut").press("Enter")
        expect(page.get_by_text("This one stands below already.")).to_be_visible()
        assert page.evaluate("window.failures") == []

    @pytest.mark.parametrize("junk", ["{", "3", "null", '{"a": 1}'])
    def test_law_what_is_no_list_of_rows_is_none(self, tab, junk):
        storage = f"localStorage.setItem('pcbchem rows beside', {json.dumps(junk)})"
        page = open_alone(tab, rows_panel(), storage, row={"note": "a"})
        answered(page)
        assert rows_asked(page) == []
        page.evaluate("localStorage.clear()")
