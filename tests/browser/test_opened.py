"""Law: a page opened in JupyterLab runs to its end, shows nothing that went wrong, and can be used by everybody."""

import pytest

from .hands import axe_clean_panels, complaints, no_errors, not_run, run_all, well_named
from .opening import PAGES, planted

THEME = "theme => { jupyterapp.commands.execute('apputils:change-theme', { theme }); }"


@pytest.fixture(scope="module", params=PAGES)
def page(request, opened_once):
    """A page, opened once, with all its cells run."""
    page = opened_once(request.param)
    run_all(page)
    yield page
    page.close()


def test_law_a_page_runs_to_its_end_without_an_error(page):
    no_errors(page)
    assert page.locator(".lesson-panel img").count() > 0


def test_law_everything_to_operate_has_a_name_and_gets_its_keys(page):
    well_named(page)


@pytest.mark.parametrize("theme", ["JupyterLab Light", "JupyterLab Dark"])
def test_law_anybody_can_use_its_panels(page, theme):
    """In both themes, with everything unfolded; the panels stay white."""
    page.evaluate(THEME, theme)
    page.locator(f"body[data-jp-theme-name='{theme}']").wait_for(state="attached")
    page.evaluate(
        "() => document.querySelectorAll('.lesson-panel details').forEach(e => { e.open = true; })"
    )
    axe_clean_panels(page)
    grounds = "() => [...document.querySelectorAll('.lesson-panel')].map(e => getComputedStyle(e).backgroundColor)"
    assert set(page.evaluate(grounds)) == {"rgb(255, 255, 255)"}


def test_law_pale_words_are_seen_in_every_panel(page):
    """The check of the test above, on each kind of control."""
    pale = page.add_style_tag(
        content=".lesson-panel :is(label, legend, h4, output) { color: #bbb !important; }"
    )
    with pytest.raises(AssertionError, match="serious: color-contrast") as seen:
        axe_clean_panels(page)
    assert (
        str(seen.value).count("color-contrast")
        >= page.locator(".lesson-panel label:visible").count() / 2
    )
    pale.evaluate("e => e.remove()")


def test_law_a_narrow_window_gets_the_narrow_picture(page):
    """Half a screen: no panel needs to be scrolled sideways."""
    img = page.locator(".lesson-panel img").first
    page.set_viewport_size({"width": 620, "height": 768})
    page.wait_for_function(
        "img => img.complete && img.naturalWidth < 500", arg=img.element_handle()
    )
    wide = "() => [...document.querySelectorAll('.lesson-panel')].filter(e => e.scrollWidth > e.clientWidth).length"
    assert page.evaluate(wide) == 0
    page.set_viewport_size({"width": 1366, "height": 768})
    page.wait_for_function(
        "img => img.complete && img.naturalWidth > 700", arg=img.element_handle()
    )
    no_errors(page)


def test_law_what_goes_wrong_is_seen(opened, server):
    """The checks of the tests above, on a page that goes wrong in every way; what is hidden or empty is no alert."""
    shown = "import IPython\nIPython.display.HTML('<p role=alert>red</p><p role=alert hidden>no</p><p role=alert></p>')"
    sources = [
        shown,
        "import sys; print('odd', file=sys.stderr)",
        "raise ValueError('bad')",
        "1 + 1",
    ]
    page = opened(planted(server, "planted.ipynb", *sources))
    run_all(page)
    assert [said.strip() for said in complaints(page)] == [
        "alert: red",
        "error: ValueError: bad",
        "stderr: odd",
    ]
    assert len(not_run(page)) == 1, "the cell after the error"
    page.evaluate("() => setTimeout(() => { throw Error('broken') })")
    page.wait_for_function("() => window.failures.length")
    assert "broken" in complaints(page)[-1]
    with pytest.raises(AssertionError):
        no_errors(page)


KEYS = "data-lm-suppress-shortcuts"


@pytest.mark.parametrize(
    "bad, said",
    [
        (f"<input {KEYS} type=range min=0 max=9>", "- slider"),
        (f"<input {KEYS}>", "- textbox"),
        (f"<button {KEYS}></button>", "- button"),
        (f"<label>3 %</label><input {KEYS} type=radio>", "- radio"),
        ("<img src='data:,' alt>", None),
        ("<input aria-label='Water (parts)'>", "takes the keys"),
        (f"<input {KEYS} aria-label='Water (parts)'>", None),
    ],
)
def test_law_a_control_without_a_name_or_its_keys_is_seen(browser, bad, said):
    page = browser.new_page()
    page.set_content(f"<div class=lesson-panel>{bad}</div>")
    if said:
        with pytest.raises(AssertionError, match=said):
            well_named(page)
    else:
        well_named(page)
    page.close()
