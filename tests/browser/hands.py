"""What a reader does with a page: open, run, move a control, write, choose. Nothing here sleeps."""

import re

from playwright.sync_api import expect

from pcbchem.page.widget.controls import Choice, Slider

LONG, SHORT = 120_000, 30_000  # longest wait for a page to run, for anything else [ms]
expect.set_options(timeout=SHORT)

# runs in the page; whoever waits for it looks at `window.ran`
RUN = """last => {
    const page = jupyterapp.shell.currentWidget;
    const run = async () => {
        await page.context.ready;
        await page.sessionContext.ready;
        await page.sessionContext.session.kernel.info;
        if (!last) return jupyterapp.commands.execute('notebook:run-all-cells');
        const place = page.content.widgets.findIndex(cell => cell.model.id === last);
        if (place < 0) throw Error('no cell ' + last);
        page.content.activeCellIndex = place + 1;
        return jupyterapp.commands.execute('notebook:run-all-above');
    };
    window.ran = '';
    run().then(() => { window.ran = 'ran'; }, failure => { window.ran = String(failure); });
}"""
# on a page without JupyterLab, what it then says on the body
THEME = """theme => {
    if (window.jupyterapp) jupyterapp.commands.execute('apputils:change-theme', { theme });
    else Object.assign(
        document.body.dataset, { jpThemeName: theme, jpThemeLight: /Light$/.test(theme) });
}"""


def idle(page):
    """Wait until the page's kernel has nothing to do."""
    page.locator(".jp-Notebook-ExecutionIndicator[data-status=idle]").wait_for(timeout=SHORT)


def wait_for_cells(page):
    """Wait until JupyterLab shows the page; its kernel may still be starting."""
    page.wait_for_function(
        "() => window.jupyterapp?.shell?.currentWidget?.content?.model?.cells.length", timeout=SHORT
    )


def start_run(page, last=None):
    """Choose Run, Run All Cells; or run the cells from the first to one of this id."""
    wait_for_cells(page)
    page.evaluate(RUN, last)


def wait_for_run(page):
    """Wait until the last of the cells has run or one has failed."""
    assert page.wait_for_function("() => window.ran", timeout=LONG).json_value() == "ran"
    idle(page)


def run_all(page):
    """Choose Run, Run All Cells, and wait until they have run."""
    start_run(page)
    wait_for_run(page)


def change_theme(page, theme):
    """Choose one of JupyterLab's themes, and wait until the page has it."""
    page.evaluate(THEME, theme)
    page.locator(f"body[data-jp-theme-name='{theme}']").wait_for(state="attached")


def show_files(page, shown=True):
    """Open or shut JupyterLab's side bar, with its list of files; a page without it has none."""
    way = "expandLeft" if shown else "collapseLeft"
    page.evaluate(f"() => window.jupyterapp?.shell.{way}()")


def panel_of(page, title):
    """Return the panel whose name begins so, up to its end or a colon."""
    return page.get_by_role("region", name=re.compile(rf"^{re.escape(title)}(:|$)"))


def parts_of(control):
    """Return role and name of each thing that stands on a page for a control of the package."""
    if isinstance(control, Choice):
        return [("combobox" if control.look == "list" else "group", control.label)]
    name = f"{control.label} ({control.unit})" if control.unit else control.label
    if isinstance(control, Slider):
        return [("slider", name), ("textbox", f"{name}, number")]
    return [("textbox", name)]


def number_field(panel, control):
    """Return the text field of a slider or of a field."""
    role, name = parts_of(control)[-1]
    return panel.get_by_role(role, name=name, exact=True)


def press(page, key, times=1):
    """Press a key so many times, wherever the focus is."""
    for _ in range(times):
        page.keyboard.press(key)


def reset(panel):
    """Press the panel's Reset button."""
    panel.get_by_role("button", name="Reset").press("Enter")


def write(panel, control, text):
    """Write into the number field of a control, as a reader does, and press Enter."""
    field = number_field(panel, control)
    field.focus()
    press(panel.page, "ControlOrMeta+a")
    press(panel.page, "Delete")
    panel.page.keyboard.type(text)
    press(panel.page, "Enter")
    return field


def choose(panel, control, words):
    """Go down a list or a group of radio buttons by arrow key, to these words."""
    if control.look == "list":
        # at once: by arrow keys each notation on the way would round the numbers again
        panel.get_by_role("combobox", name=control.label, exact=True).select_option(label=words)
        return
    group = panel.get_by_role("group", name=control.label, exact=True)
    group.locator("input:checked").focus()
    wanted = group.get_by_role("radio", name=words, exact=True)
    for _ in control.options:
        if wanted.is_checked():
            return
        press(panel.page, "ArrowDown")
    assert wanted.is_checked(), words


def predict(page, words, which=0, because=None):
    """Choose an answer of a question by keyboard alone, and a reason where one is asked for.

    Without `because` the first reason is taken.
    """
    quiz = page.locator(".pcbchem-quiz").nth(which)
    answers, reasons = quiz.locator("fieldset").first, quiz.locator(".pcbchem-because")
    go_to(answers, words)
    if reasons.count() and reasons.is_visible():
        go_to(reasons, because)


def go_to(group, words=None):
    """Choose one of a group of radio buttons by keyboard, from the first on; None: the first."""
    options = group.get_by_role("radio")
    options.first.focus()
    press(group.page, "Space")
    if words is not None:
        wanted = group.get_by_role("radio", name=words, exact=True)
        while not wanted.is_checked():
            press(group.page, "ArrowDown")
    press(group.page, "Enter")
