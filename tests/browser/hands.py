"""What a reader does with a page, and what must not be seen on it. Every wait is for something; nothing sleeps."""

from axe_playwright_python.sync_playwright import Axe

LONG, SHORT = 120_000, 30_000  # longest wait for a page to run, for anything else [ms]
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


def run_all(page):
    """Choose Run, Run All Cells, and wait until the last cell has run or one has failed."""
    page.wait_for_function("() => window.jupyterapp?.shell?.currentWidget?.content?.model?.cells.length",
                           timeout=SHORT)
    page.evaluate(RUN)
    assert page.wait_for_function("() => window.ran", timeout=LONG).json_value() == "ran"
    page.locator(".jp-Notebook-ExecutionIndicator[data-status=idle]").wait_for(timeout=SHORT)


def complaints(page):
    """What a reader would see go wrong: alerts, errors and warnings under cells, scripts that failed."""
    return page.evaluate(SEEN)


def not_run(page):
    """Code cells of a page in JupyterLab that have not run; of an exported page none."""
    return page.evaluate("""() => !window.jupyterapp ? [] : [...jupyterapp.shell.currentWidget.content.model.cells]
        .filter(c => c.type === 'code' && c.sharedModel.source.trim() && !c.executionCount).map(c => c.id)""")


def no_errors(page):
    """Nothing went wrong, and in JupyterLab every code cell has run."""
    assert complaints(page) == []
    assert not_run(page) == []


def axe_clean(page, selector=None):
    """No serious or critical issue of accessibility, in the whole page or under a selector."""
    if selector:
        page.locator(selector).first.wait_for(timeout=SHORT)
    found = Axe().run(page, context=selector).response["violations"]
    assert not issues(found), "\n".join(issues(found))


def issues(violations):
    """Serious and critical issues, one line a place: how bad, the rule, what it wants, where."""
    return [f"{one['impact']}: {one['id']}: {one['help']}: {node['target']} {node['html'][:200]}"
            for one in violations if one["impact"] in ("serious", "critical") for node in one["nodes"]]


def fits_across(page):
    """The page need not be scrolled sideways, at its present width."""
    wide, seen = page.evaluate("""() => [Math.max(document.documentElement.scrollWidth, document.body.scrollWidth),
                                         document.documentElement.clientWidth]""")
    assert wide <= seen, f"{wide} px of page in {seen} px of window"
