"""What a reader does with a page, and what must not be seen on it. Every wait is for something; nothing sleeps."""

import html
import re

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from pcbchem.page.widget.controls import Choice, Slider

LONG, SHORT = 120_000, 30_000  # longest wait for a page to run, for anything else [ms]
expect.set_options(timeout=SHORT)
SEEN = """() => {
    const alerts = [...document.querySelectorAll('[role=alert]')].filter(e => e.checkVisibility());
    const cells = window.jupyterapp ? jupyterapp.shell.currentWidget.content.model.cells : [];
    const outputs = [...cells].filter(c => c.type === 'code').flatMap(c => c.outputs.toJSON());
    return [
        ...alerts.map(e => e.innerText.trim()).filter(said => said).map(said => 'alert: ' + said),
        ...outputs.filter(o => o.output_type === 'error').map(o => `error: ${o.ename}: ${o.evalue}`),
        ...outputs.filter(o => o.name === 'stderr').map(o => 'stderr: ' + o.text),
        ...window.failures.map(said => 'script: ' + said)];
}"""
NOTED = """window.failures = [];
addEventListener('error', e => { if (!/^ResizeObserver loop/.test(e.message)) window.failures.push(e.message); });"""
RUN = """() => {
    const page = jupyterapp.shell.currentWidget;
    const run = async () => {
        await page.context.ready; await page.sessionContext.ready; await page.sessionContext.session.kernel.info;
        await jupyterapp.commands.execute('notebook:run-all-cells');
    };
    window.ran = '';
    run().then(() => { window.ran = 'ran'; }, failure => { window.ran = String(failure); });
}"""
NAMELESS = re.compile(
    r"^\s*- (?:slider|textbox|radio|button|link|region)(?: \[[^\]]*\])*(?::.*)?$", re.MULTILINE
)
DEAF = """() => [...document.querySelectorAll(
    '.lesson-panel :is(input, button, select, textarea, summary):not([data-lm-suppress-shortcuts])'
    )].map(e => e.outerHTML.slice(0, 100))"""


def idle(page):
    """Wait until the page's kernel has nothing to do."""
    page.locator(".jp-Notebook-ExecutionIndicator[data-status=idle]").wait_for(timeout=SHORT)


def run_all(page):
    """Choose Run, Run All Cells, and wait until the last cell has run or one has failed."""
    page.wait_for_function(
        "() => window.jupyterapp?.shell?.currentWidget?.content?.model?.cells.length", timeout=SHORT
    )
    page.evaluate(RUN)
    assert page.wait_for_function("() => window.ran", timeout=LONG).json_value() == "ran"
    idle(page)


def run_alone(server, opened, name, text):
    """A page made for one test file, put beside the others, opened and run; nothing may go wrong."""
    (server.pages / name).write_text(text, encoding="utf-8")
    page = opened(name)
    run_all(page)
    no_errors(page)
    return page


def complaints(page):
    """What a reader would see go wrong: alerts, errors and warnings under cells, scripts that failed."""
    return page.evaluate(SEEN)


def not_run(page):
    """Code cells of a page in JupyterLab that have not run; of an exported page none."""
    return page.evaluate("""() => !window.jupyterapp ? [] : [...jupyterapp.shell.currentWidget.content.model.cells]
        .filter(c => c.type === 'code' && c.sharedModel.source.trim() && !c.executionCount).map(c => c.id)""")


def no_errors(page):
    """Nothing went wrong, and in JupyterLab every code cell has run."""
    found = complaints(page) + [f"not run: {name}" for name in not_run(page)]
    assert not found, "\n".join(found)


def axe_clean(page, selector=None):
    """No serious or critical issue of accessibility, in the whole page or under a selector."""
    if selector:
        page.locator(selector).first.wait_for(timeout=SHORT)
    found = Axe().run(page, context=selector).response["violations"]
    assert not issues(found), "\n".join(issues(found))


def axe_clean_panels(page):
    """No such issue in any panel in JupyterLab: all in one high window, for colours count only on the screen."""
    usual, panels = page.viewport_size, "[...document.querySelectorAll('.lesson-panel')]"
    page.add_style_tag(
        content="html, body { height: 100%; width: 100%; overflow: visible !important; }"
    )
    page.set_viewport_size({**usual, "height": 12_000})
    page.wait_for_function(
        f"""() => {{
        document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0;
        return {panels}.map(e => e.getBoundingClientRect()).every(r => r.top >= 0 && r.bottom <= innerHeight);
    }}""",
        timeout=SHORT,
    )
    axe_clean(page, ".lesson-panel")
    page.set_viewport_size(usual)


def issues(violations):
    """Serious and critical issues, one line a place: how bad, the rule, what it wants, where."""
    return [
        f"{one['impact']}: {one['id']}: {one['help']}: {node['target']} {node['html'][:200]}"
        for one in violations
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"]
    ]


def fits_across(page):
    """The page need not be scrolled sideways, at its present width."""
    wide, seen = (
        page.evaluate("""() => [Math.max(document.documentElement.scrollWidth, document.body.scrollWidth),
                                         document.documentElement.clientWidth]""")
    )
    assert wide <= seen, f"{wide} px of page in {seen} px of window"
    right = page.evaluate(
        "() => Math.max(0, ...[...document.images].map(i => i.getBoundingClientRect().right))"
    )
    assert right <= seen, f"a picture up to {right} px in {seen} px of window"


def well_named(page):
    """Everything to operate in the page's panels has a name for those who only hear it, and gets its own keys."""
    for panel in page.locator(".lesson-panel").all():
        heard = panel.aria_snapshot()
        nameless = [found.strip() for found in NAMELESS.findall(heard)]
        assert not nameless, f"{nameless} in {heard[:200]}"
    deaf = page.evaluate(DEAF)
    assert not deaf, f"JupyterLab takes the keys from {deaf}"


def named(panel, controls):
    """Each control of the package is there once, under its own name with its unit; a slider has a number field, too."""
    for control in controls:
        for role, name in parts_of(control):
            found = panel.get_by_role(role, name=name, exact=True)
            assert found.count() == 1, f"{found.count()} times {role} {name}"


def parts_of(control):
    """Role and name of what stands on a page for a control of the package."""
    if isinstance(control, Choice):
        return [("group", control.label)]
    name = f"{control.label} ({control.unit})" if control.unit else control.label
    return (
        [("slider", name), ("textbox", f"{name}, number")]
        if isinstance(control, Slider)
        else [("textbox", name)]
    )


def panel_of(page, title):
    """The panel whose name begins so, up to its end or a colon."""
    return page.get_by_role("region", name=re.compile(rf"^{re.escape(title)}(:|$)"))


def loaded(img):
    """Wait until a picture is there and can be seen."""
    img.wait_for(timeout=SHORT)
    img.page.wait_for_function(
        "img => img.complete && img.naturalWidth > 0", arg=img.element_handle(), timeout=SHORT
    )


def predict(page, words, which=0):
    """Choose an answer of a question by keyboard alone, from its first answer on."""
    answers = page.locator(".lesson-quiz").nth(which).get_by_role("radio")
    answers.first.focus()
    page.keyboard.press("Space")
    while not answers.and_(page.get_by_role("radio", name=words, exact=True)).is_checked():
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")


def watched(panel):
    """Count from now on how often the panel's picture is swapped."""
    panel.locator("img").evaluate("""img => {
        if (img.swaps === undefined) new MutationObserver(() => { img.swaps += 1; }).observe(
            img, { attributeFilter: ['src'] });
        img.swaps = 0;
    }""")


def swaps(panel):
    """How often it has been swapped."""
    return panel.locator("img").evaluate("img => img.swaps")


def plain(text):
    """The words of a piece of HTML, as the page holds them."""
    return html.unescape(re.sub(r"<[^>]+>", "", text))


def shows(panel, said, besides=()):
    """Wait until the panel shows what the package says: sentence, picture in words, verdict and notes.

    The picture's words hold every figure of the sentence, but for those of "8 of 10" or "in 100", and some `besides`.
    """
    expect(panel.locator("output")).to_have_text(said.readout)
    expect(panel.locator(".head")).to_have_text(plain(said.head))
    expect(panel.locator(".notes")).to_have_text(plain(said.notes))
    expect(panel.locator("p.wrong:not([aria-hidden])")).to_have_text(said.wrong)
    expect(panel.locator("img")).to_have_attribute("alt", said.alt)
    if not said.wrong:
        loaded(panel.locator("img"))
        missing = set(re.findall(r"[\d.]*\d", said.readout)) - set(
            re.findall(r"[\d.]*\d", said.alt)
        )
        assert missing <= {"8", "10", "100", *besides}, (
            f"{missing} of the sentence not in the picture's words"
        )


def swapped(panel, count):
    """Wait until the panel's picture has been swapped so many times."""
    panel.page.wait_for_function(
        "([img, count]) => img.swaps >= count",
        arg=[panel.locator("img").element_handle(), count],
        timeout=SHORT,
    )


def write(panel, control, text):
    """Write into the number field of a control, as a reader does, and press Enter."""
    role, name = parts_of(control)[-1]
    field = panel.get_by_role(role, name=name, exact=True)
    field.focus()
    panel.page.keyboard.press("ControlOrMeta+a")
    panel.page.keyboard.press("Delete")
    panel.page.keyboard.type(text)
    panel.page.keyboard.press("Enter")
    return field


def choose(panel, control, words):
    """Go down a group of radio buttons by arrow key, from the one that is chosen, until these words are chosen."""
    group = panel.get_by_role("group", name=control.label, exact=True)
    group.locator("input:checked").focus()
    wanted = group.get_by_role("radio", name=words, exact=True)
    for _ in control.options:
        if wanted.is_checked():
            return
        panel.page.keyboard.press("ArrowDown")
    assert wanted.is_checked(), words
