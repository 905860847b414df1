"""Law: a page exported as one HTML file can be read without a kernel, by everybody, on a telephone too."""

import pytest

from pcbchem.page.export.export import exported

from .hands import axe_clean, fits_across, issues, no_errors
from .opening import PAGES, ROOT


@pytest.fixture(scope="module", params=PAGES)
def file(request, tmp_path_factory):
    """A page as a file. It is made before the browser starts, which would hold the event loop."""
    made = tmp_path_factory.mktemp("read") / "page.html"
    made.write_text(exported(ROOT / "notebooks" / request.param), encoding="utf-8")
    return made


@pytest.fixture
def read(file, browser):
    page = browser.new_page()
    page.goto(file.as_uri())
    yield page
    page.close()


def test_law_anybody_can_read_it(read):
    no_errors(read)
    axe_clean(read)
    assert read.locator("img").count() > 0
    assert read.evaluate(
        "() => [...document.images].every(i => i.complete && i.naturalWidth && i.alt)"
    )


def test_law_it_fits_a_telephone(read):
    read.set_viewport_size({"width": 390, "height": 844})
    fits_across(read)
    axe_clean(read)


def test_law_the_checks_see_what_they_should(browser):
    page = browser.new_page()
    page.set_content(
        "<html lang=en><title>x</title><main><h1>x</h1><button></button><p style='width:5000px'>x</p>"
    )
    with pytest.raises(AssertionError, match="critical: button-name"):
        axe_clean(page)
    with pytest.raises(AssertionError, match="px of page"):
        fits_across(page)
    axe_clean(page, "p")
    page.close()
    assert (
        issues([{"impact": "minor", "id": "x", "help": "x", "nodes": [{"target": [], "html": ""}]}])
        == []
    )
