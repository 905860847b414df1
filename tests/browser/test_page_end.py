"""Law: after Run All the reader stands at the first question, and is taken there only once.

Covers, on a long planted page with JupyterLab's own settings and the list of files open: Run All, a
reload, a reader who has scrolled, the link, and "New pupils" from there.
"""

import pytest
from playwright.sync_api import expect

from .eyes import axe_clean_widgets, nothing_wrong
from .hands import predict, run_all
from .opening import planted

TALL = "import IPython\nIPython.display.HTML('<div style=\"height: 900px\">tall</div>')"
FIRST = """from pcbchem.page import Check, Option, PageEnd, Prediction
from pcbchem.page.answers import Question
Prediction("first", "How many?", {"a": Option("one", "No."), "b": "two"},
    {"x": "so", "y": "not so"})"""
SECOND = 'Prediction("second", "And now?", {"a": "one", "b": "two"}, alone=True, told="Three.")'
CHECK = """Check(lambda seed: [
    Question("half", "Half of 2 g?", "mass", "g", 1e-3, 0.02, (), "/ 2")])"""
END = "PageEnd()"
CELLS = (TALL, FIRST, TALL, TALL, SECOND, TALL, CHECK, END)
IN_VIEW = """() => {
    const box = document.querySelector('.pcbchem-widget')?.getBoundingClientRect();
    return Boolean(box) && box.top > 0 && box.top < 400 && box.bottom < innerHeight;
}"""
AT_FIRST = "() => document.activeElement === document.querySelector('.pcbchem-widget')"
# JupyterLab builds cells when they come near, and what is in view moves: until it stays
TO_FOOT = """async () => {
    const outer = document.querySelector('.jp-WindowedPanel-outer');
    let stays = 0;
    for (let frame = 0; frame < 900 && stays < 10; frame += 1) {
        const end = document.querySelector('.pcbchem-end');
        const box = end?.getBoundingClientRect();
        const isInView = box && box.top > 0 && box.bottom < innerHeight;
        stays = isInView ? stays + 1 : 0;
        if (!end) outer.scrollTop = outer.scrollHeight;
        else if (!isInView) end.scrollIntoView({ block: 'center' });
        await new Promise(requestAnimationFrame);
    }
}"""
# what the page scrolls to by itself
NOTE_SCROLLS = """
window.scrolls = [];
const usual = Element.prototype.scrollIntoView;
Element.prototype.scrollIntoView = function (options) {
    scrolls.push(this.className);
    return usual.call(this, options);
};"""
# half a second in which a page that scrolls by itself would have done so
FRAMES = """async () => {
    for (let frame = 0; frame < 30; frame += 1) await new Promise(requestAnimationFrame);
}"""


@pytest.fixture(scope="module")
def page(server, opened_once):
    """The planted page, run as a whole."""
    page = opened_once(planted(server, "long.ipynb", *CELLS), among_others=True)
    run_all(page)
    return page


def at_foot(page):
    """Go to the foot of the page, as no reader's hand does it, and look for a while."""
    page.evaluate(TO_FOOT)
    page.evaluate(FRAMES)
    end = page.locator(".pcbchem-end")
    expect(end).to_be_in_viewport()
    return end


def test_law_after_run_all_the_first_question_is_in_view(page):
    page.wait_for_function(IN_VIEW)
    page.wait_for_function(AT_FIRST)  # when the page has come to rest
    assert page.evaluate(IN_VIEW)
    nothing_wrong(page)
    axe_clean_widgets(page)


def test_law_a_reader_who_scrolls_is_left_alone(page):
    run_all(page)
    page.wait_for_function(IN_VIEW)
    page.mouse.move(700, 400)
    page.mouse.wheel(0, 700)
    page.wait_for_function(f"() => !({IN_VIEW})()")
    page.evaluate(FRAMES)
    assert not page.evaluate(IN_VIEW)
    at_foot(page)


def test_law_the_link_leads_to_the_question(page):
    end = at_foot(page)
    end.get_by_role("link", name="Back up to the question").press("Enter")
    page.wait_for_function(AT_FIRST)
    assert page.evaluate(IN_VIEW)


def test_law_new_pupils_find_the_page_as_it_was(page):
    """One button at its end: no answer, no reason, no reply, no number in a field."""
    predict(page, "one", because="not so")
    predict(page, "two", 1)
    first, second, check = (page.locator(".pcbchem-quiz").nth(place) for place in range(3))
    expect(first.get_by_role("status").first).to_contain_text("one, because not so. You can")
    expect(second).to_contain_text("Three.")
    check.get_by_role("textbox", name="Your table").fill("7")
    check.get_by_role("textbox", name="Your table").press("Enter")
    expect(check).to_contain_text("Table 7, sheet 1")
    check.get_by_role("textbox", name="Your answer").fill("1 g")
    check.get_by_role("textbox", name="Your answer").press("Enter")
    expect(check.locator(".pcbchem-verdict")).to_contain_text("Right")
    end = page.locator(".pcbchem-end")
    end.get_by_role("button", name="New pupils").press("Enter")
    end.get_by_role("button", name="Press again").press("Enter")
    expect(end.get_by_role("status").last).to_contain_text("All answers are forgotten")
    page.wait_for_function(AT_FIRST)
    for quiz in (first, second, check):
        expect(quiz.get_by_role("button", name="New pupils")).to_have_count(0)
        expect(quiz.get_by_role("radio", checked=True)).to_have_count(0)
    expect(first.get_by_role("group", name="because")).to_be_hidden()
    expect(second).not_to_contain_text("Three.")
    expect(check.get_by_role("textbox", name="Your answer")).to_have_value("")
    expect(check.get_by_role("textbox", name="Your table")).to_have_value("1")
    expect(check.locator(".pcbchem-verdict")).to_be_empty()
    nothing_wrong(page)


def test_law_a_reload_shows_what_is_kept_and_leads_nowhere(page):
    predict(page, "one", because="not so")
    kept = page.locator(".pcbchem-quiz").first.get_by_role("status").first
    expect(kept).to_contain_text("one, because not so")
    page.evaluate("() => jupyterapp.commands.execute('docmanager:save')")
    page.add_init_script(NOTE_SCROLLS)
    page.reload()
    expect(kept).to_contain_text("one, because not so")
    quiz = page.locator(".pcbchem-quiz").first
    for name in ("one", "not so"):
        expect(quiz.get_by_role("radio", name=name, exact=True)).to_be_checked()
    at_foot(page)
    scrolls = set(page.evaluate("() => scrolls"))
    assert scrolls == {"pcbchem-widget pcbchem-end"}, "none but this test's own"
