"""What a reader sees and hears of a page, and what must not be there."""

import html
import io
import re
import time

from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import TimeoutError as TookTooLong

from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.hazards.words import HEADS, NO_USE

from .hands import SHORT, parts_of

COMPLAINTS = """() => {
    const alerts = [...document.querySelectorAll('[role=alert]')].filter(e => e.checkVisibility());
    const page = window.jupyterapp?.shell.currentWidget.content.model;
    const code = page ? [...page.cells].filter(cell => cell.type === 'code') : [];
    const outputs = code.flatMap(cell => cell.outputs.toJSON());
    const errors = outputs.filter(output => output.output_type === 'error');
    const warnings = outputs.filter(output => output.name === 'stderr');
    return [
        ...alerts.map(e => e.innerText.trim()).filter(words => words).map(w => 'alert: ' + w),
        ...errors.map(error => `error: ${error.ename}: ${error.evalue}`),
        ...warnings.map(warning => 'stderr: ' + warning.text),
        ...window.failures.map(words => 'script: ' + words)];
}"""
# put into each page before its own scripts; the browser's note about a busy observer is no failure
NOTE_FAILURES = """window.failures = [];
addEventListener('error', event => {
    if (!/^ResizeObserver loop/.test(event.message)) window.failures.push(event.message);
});"""
NOT_RUN = """() => !window.jupyterapp ? [] :
    [...jupyterapp.shell.currentWidget.content.model.cells]
        .filter(cell => cell.type === 'code' && cell.sharedModel.source.trim())
        .filter(cell => !cell.executionCount).map(cell => cell.id)"""
NAMELESS = re.compile(
    r"^\s*- (?:slider|textbox|radio|button|link|region)(?: \[[^\]]*\])*(?::.*)?$", re.MULTILINE
)
DEAF = """() => [...document.querySelectorAll(
    '.pcbchem-widget :is(input, button, select, textarea, summary)'
    + ':not([data-lm-suppress-shortcuts])')].map(e => e.outerHTML.slice(0, 100))"""
HIGH_WINDOW = "html, body { height: 100%; width: 100%; overflow: visible !important; }"
TO_TOP = """() => {
    (document.querySelector('.jp-WindowedPanel-outer') ?? document.documentElement).scrollTop = 0;
}"""
LOWEST_EDGE = f"""() => {{
    ({TO_TOP})();
    const widgets = [...document.querySelectorAll('.pcbchem-widget')];
    return Math.ceil(Math.max(...widgets.map(e => e.getBoundingClientRect().bottom)));
}}"""
# as when a reader turns the wheel: a page that has just run goes back up to its first question,
# again and again for three seconds, until its reader does something
TAKE_OVER = "() => { window.dispatchEvent(new WheelEvent('wheel')); }"
SEEN = f"""panel => {{
    if (!panel.innerText.trim()) {{
        ({TAKE_OVER})();
        panel.scrollIntoView({{ block: 'center' }});
    }}
    return panel.innerText.trim();
}}"""
TWO_FRAMES = """() => new Promise(done => {
    requestAnimationFrame(() => requestAnimationFrame(done));
})"""
READ = """() => [...document.querySelectorAll('.jp-Notebook .jp-Cell')].map(cell => {
    const copy = cell.cloneNode(true);
    copy.querySelectorAll('.pcbchem-quiz label, style, script').forEach(e => e.remove());
    const pictures = [...copy.querySelectorAll('img')].map(e => e.alt);
    return [copy.textContent, ...pictures].join(' ');
}).join(' ')"""
SCROLL = """() => {
    const outer = document.querySelector('.jp-WindowedPanel-outer');
    if (!outer) return true; // without JupyterLab all of the page is there at once
    outer.scrollTop += 0.7 * outer.clientHeight;
    return outer.scrollTop + outer.clientHeight >= outer.scrollHeight - 2;
}"""
WIDTHS = """() => [
    Math.max(document.documentElement.scrollWidth, document.body.scrollWidth),
    document.documentElement.clientWidth]"""
# a panel's table scrolls in a frame of its own, and its file pickers are never seen
CUT_OFF = """() => [...document.querySelectorAll('body *')]
    .filter(e => getComputedStyle(e).overflowX !== 'visible')
    .filter(e => e.clientWidth && e.scrollWidth > e.clientWidth)
    .filter(e => !e.matches('.pcbchem-sheet, .pcbchem-away'))
    .map(e => e.outerHTML.slice(0, 100))"""
LONGEST_LINE = 75  # letters and spaces
# a word that begins left of the last one begins a line; tables have columns
LINES = """() => {
    const texts = ':is(p, li, dd, figcaption, summary, h1, h2, h3, h4, h5, h6):not(table *)';
    const lines = [];
    const range = document.createRange();
    for (const text of document.querySelectorAll(texts)) {
        const nodes = document.createTreeWalker(text, NodeFilter.SHOW_TEXT);
        let left = Infinity;
        while (text.checkVisibility() && nodes.nextNode()) {
            const node = nodes.currentNode;
            if (node.parentElement.closest(texts) !== text) continue;
            for (const { index, 0: word } of node.data.matchAll(/\\s*\\S+/g)) {
                range.setStart(node, index + word.search(/\\S/));
                range.setEnd(node, index + word.length);
                const box = range.getBoundingClientRect();
                if (box.left <= left) lines.push('');
                lines.push(lines.pop() + word.replace(/^\\s+/, ' '));
                left = box.left;
            }
        }
    }
    return lines.map(line => line.trim());
}"""
PICTURES_END = (
    "() => Math.max(0, ...[...document.images].map(i => i.getBoundingClientRect().right))"
)
WORDS = """panel => {
    const text = where => panel.querySelector(where).textContent.replace(/\\s+/g, ' ').trim();
    return {
        headline: text('.pcbchem-headline'), readout: text('output > span'),
        head: text('.pcbchem-head'), notes: text('.pcbchem-notes'),
        wrong: text('p.pcbchem-wrong:not([aria-hidden])'),
        alt: panel.querySelector('.pcbchem-picture').alt };
}"""
# and its picture is there, unless something is wrong
SAYS = f"""([panel, words]) => {{
    if (JSON.stringify(({WORDS})(panel)) !== JSON.stringify(words)) return false;
    const img = panel.querySelector('img.pcbchem-picture');
    return words.wrong !== '' || (img.complete && img.naturalWidth > 0 && img.checkVisibility());
}}"""
COLOURS = ["color-contrast", "link-in-text-block"]
"""The rules of accessibility that go by colours, of those that are on: no other needs to be tried
again where colours alone are others."""


def complaints(page):
    """Return what a reader would see go wrong: alerts, errors, warnings, failed scripts."""
    return page.evaluate(COMPLAINTS)


def not_run(page):
    """Return the code cells of a page in JupyterLab that have not run; of an exported page none."""
    return page.evaluate(NOT_RUN)


def nothing_wrong(page):
    """Nothing went wrong in what has run."""
    assert not complaints(page), "\n".join(complaints(page))


def no_errors(page):
    """Nothing went wrong, and in JupyterLab every code cell has run."""
    nothing_wrong(page)
    assert not not_run(page), f"not run: {not_run(page)}"


def axe_clean(page, selector=None, rules=None):
    """No serious or critical issue of accessibility, in the whole page or under a selector.

    By all rules that are on, or by some alone.
    """
    if selector:
        page.locator(selector).first.wait_for(timeout=SHORT)
    # details of what passes would take half as long again
    options = {"resultTypes": ["violations"]}
    if rules:
        options["runOnly"] = {"type": "rule", "values": rules}
    violations = Axe().run(page, context=selector, options=options).response["violations"]
    assert not issues(violations), "\n".join(issues(violations))


def axe_clean_widgets(page, rules=None):
    """No such issue in any widget in JupyterLab: in a window so high that all can be seen."""
    usual = page.viewport_size
    page.add_style_tag(content=HIGH_WINDOW)
    # again and again: what JupyterLab had not drawn yet is another height than it thought
    deadline = time.monotonic() + SHORT / 1000
    while (edge := page.evaluate(LOWEST_EDGE)) > page.viewport_size["height"]:
        assert time.monotonic() < deadline, f"widgets down to {edge} px, and still growing"
        page.set_viewport_size({**usual, "height": edge + 200})
        page.evaluate(TWO_FRAMES)
    axe_clean(page, ".pcbchem-widget", rules)
    page.set_viewport_size(usual)


def issues(violations):
    """Return serious and critical issues, one line a place: how bad, the rule, its wish, where."""
    lines = []
    for violation in violations:
        if violation["impact"] not in ("serious", "critical"):
            continue
        rule = f"{violation['impact']}: {violation['id']}: {violation['help']}"
        for node in violation["nodes"]:
            lines.append(f"{rule}: {node['target']} {node['html'][:200]}")
    return lines


def read_down(page):
    """Return all that can be read and heard from top to foot in JupyterLab, without choices.

    Folded parts and folded cells are in it, and the alternatives of pictures.
    """
    page.evaluate(TAKE_OVER)  # else it would be taken back to the top at each step
    page.evaluate(TO_TOP)
    texts, at_foot = [], False
    while not at_foot:
        page.evaluate(TWO_FRAMES)
        texts.append(page.evaluate(READ))
        at_foot = page.evaluate(SCROLL)
    page.evaluate(TWO_FRAMES)
    return " ".join([*texts, page.evaluate(READ)])


def fits_across(page):
    """The page need not be scrolled sideways, nor a part of it, at its present width."""
    wide, window = page.evaluate(WIDTHS)
    assert wide <= window, f"{wide} px of page in {window} px of window"
    right = page.evaluate(PICTURES_END)
    assert right <= window, f"a picture up to {right} px in {window} px of window"
    assert not page.evaluate(CUT_OFF), page.evaluate(CUT_OFF)


def lines_of(page):
    """Return the lines of text of a file as the browser breaks them, tables left out."""
    return page.evaluate(LINES)


def has_ground(img, ground):
    """Wait until a picture's corner is seen in a colour: red, green, blue of 255.

    The browser rounds a turned colour up in one picture and down in another.
    """
    deadline = time.monotonic() + SHORT / 1000
    # again and again: JupyterLab may move what it has just scrolled to
    while any(abs(part - wish) > 1 for part, wish in zip(corner_of(img), ground, strict=True)):
        assert time.monotonic() < deadline, f"a ground of {corner_of(img)}, not {ground}"


def corner_of(img):
    """Return the colour of a picture's corner as it is seen: red, green, blue of 255."""
    # its upper edge: a picture may be higher than the window
    img.evaluate("img => img.scrollIntoView({ block: 'start' })")
    img.page.evaluate(TWO_FRAMES)
    box = img.bounding_box()
    pixel = {"x": box["x"] + 2, "y": box["y"] + 2, "width": 1, "height": 1}
    with Image.open(io.BytesIO(img.page.screenshot(clip=pixel))) as seen:
        return seen.convert("RGB").getpixel((0, 0))


def well_named(page):
    """Everything to operate has a name for those who only hear it, and gets its own keys."""
    for widget in page.locator(".pcbchem-widget").all():
        heard = widget.aria_snapshot()
        nameless = [line.strip() for line in NAMELESS.findall(heard)]
        assert not nameless, f"{nameless} in {heard[:200]}"
    deaf = page.evaluate(DEAF)
    assert not deaf, f"JupyterLab takes the keys from {deaf}"


def named(panel, controls):
    """Each control of the package is there once, by its name; a slider with a number field."""
    for control in controls:
        for role, name in parts_of(control):
            count = panel.get_by_role(role, name=name, exact=True).count()
            assert count == 1, f"{count} times {role} {name}"


def loaded(img):
    """Wait until a picture is there and can be seen."""
    img.wait_for(timeout=SHORT)
    img.page.wait_for_function(
        "img => img.complete && img.naturalWidth > 0", arg=img.element_handle(), timeout=SHORT
    )


def watch_swaps(panel):
    """Count from now on how often the panel's picture is swapped."""
    panel.locator("img").evaluate("""img => {
        if (img.swaps === undefined) new MutationObserver(() => { img.swaps += 1; }).observe(
            img, { attributeFilter: ['src'] });
        img.swaps = 0;
    }""")


def swaps(panel):
    """Return how often it has been swapped."""
    return panel.locator("img").evaluate("img => img.swaps")


def swapped(panel, count):
    """Wait until the panel's picture has been swapped so many times."""
    panel.page.wait_for_function(
        "([img, count]) => img.swaps >= count",
        arg=[panel.locator("img").element_handle(), count],
        timeout=SHORT,
    )


def seen_text(panel):
    """Return the words of a panel that can be seen: off the screen JupyterLab shows none."""
    panel.scroll_into_view_if_needed()
    handle = panel.element_handle()
    # again and again: a page that has just run may scroll away from it; and the words that were
    # waited for, for a moment later it may show none again
    seen = panel.page.wait_for_function(SEEN, arg=handle, timeout=SHORT)
    return seen.json_value()


def plain(text):
    """Return the words of a piece of HTML as the page holds them, with single spaces."""
    return single_spaced(html.unescape(re.sub(r"<[^>]+>", "", text)))


def single_spaced(text):
    """Return a text with single spaces, as a browser shows it."""
    return " ".join(text.split())


def numbers_in(text):
    """Return every number of a text, as it is printed."""
    return set(re.findall(r"[\d.]*\d", text))


def not_drawn(words):
    """Figures of a planner's sentence that its picture need not say.

    Of a refused bath the sentence is its reason; that some never clear the picture says as "never".
    """
    if words.headline in (HEADS[VERDICTS[-1]], NO_USE):
        return numbers_in(words.readout)
    never = re.findall(r"(\d+) of 200", words.readout)
    return {"200", *never, *re.findall(r"cleared it by (\d+)", words.readout)}


def shows(panel, words, besides=()):
    """Wait until the panel shows what the package says: sentence, picture in words, verdict, notes.

    The picture's words hold every figure of the sentence, but for those of "8 of 10" or "in 100",
    and some `besides`.
    """
    expected = {
        "headline": single_spaced(words.headline),
        "readout": single_spaced(words.readout),
        "head": plain(words.head),
        "notes": plain(words.notes),
        "wrong": single_spaced(words.wrong),
        "alt": words.alt,
    }
    handle = panel.element_handle()
    try:
        # looks at each frame: waiting by trials would take longer than the panel itself
        panel.page.wait_for_function(SAYS, arg=[handle, expected], timeout=SHORT)
    except TookTooLong:
        seen = handle.evaluate(WORDS)
        assert seen == expected, {name: seen[name] for name in seen if seen[name] != expected[name]}
        raise
    if words.wrong:
        return
    missing = numbers_in(words.readout) - numbers_in(words.alt)
    assert missing <= {"8", "10", "100", *besides}, f"{missing} not in the picture's words"
