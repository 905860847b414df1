"""A page in Chromium on its real widgets in this process: no JupyterLab, and no kernel.

The page's cells run here (`helpers/page_run`). What they show stands in one HTML file beside the
page's text, and each widget's own script runs there, as anywidget runs it. What a script changes or
sends goes to its widget through a function of the page that Playwright answers; what widgets then
have to say, all of them, is the answer. Playwright answers only while a test waits for something
in the page: nothing comes between two lines of a test.
"""

import base64
import contextlib
import functools
from unittest.mock import patch

import comm
from comm.base_comm import BaseComm
from helpers.page_run import like_a_new_kernel, run, write_as_run

from pcbchem.page.export import kept
from pcbchem.page.export.export import as_html
from pcbchem.page.export.kept import kept_forms
from pcbchem.page.picture import Drawing
from pcbchem.page.widget import base
from pcbchem.page.widget.base import WIDGETS
from pcbchem.page.widget.panel import Panel

PLACE = '<div class="pcbchem-bridge" data-model="{}"></div>'
# what JupyterLab and anywidget do for the scripts of widgets, and nothing else
FRONT = """<script type="module">
const models = {};
let turn = Promise.resolve(); // Python does one thing after the other

function withBytes({ state, content, paths, buffers }) {
    const bytes = (buffers ?? []).map(text =>
        new DataView(Uint8Array.from(atob(text), letter => letter.charCodeAt(0)).buffer));
    (paths ?? []).forEach(([name], place) => { state[name] = bytes[place]; });
    return { state, content, bytes };
}

// what the widgets have said, each in its turn
function take(news) {
    for (const each of news) {
        const { state, content, bytes } = withBytes(each);
        if (state) models[each.model].put(state);
        else models[each.model].trigger('msg:custom', content, bytes);
    }
}

function tell(message) {
    turn = turn.then(async () => take(await askPython(message)));
    turn.catch(failure => window.failures.push(String(failure)));
    return turn;
}

const isSame = (one, other) => one === other || (!(one instanceof DataView)
    && JSON.stringify(one) === JSON.stringify(other));

class Model {
    constructor(id, state) {
        Object.assign(this, { id, state, works: {}, changes: {}, isAsking: false });
    }
    get(name) { return this.state[name]; }
    on(events, work) {
        for (const event of events.split(' ')) (this.works[event] ??= []).push(work);
    }
    trigger(event, ...words) { for (const work of this.works[event] ?? []) work(...words); }
    put(news) {
        const changed = Object.keys(news).filter(name => !isSame(this.state[name], news[name]));
        Object.assign(this.state, news);
        for (const name of changed) this.trigger(`change:${name}`);
    }
    set(name, value) {
        this.changes[name] = value;
        this.put({ [name]: value });
    }
    // as JupyterLab does: what is changed while Python works goes with the next message, merged
    async save_changes() {
        if (this.isAsking) return;
        this.isAsking = true;
        while (Object.keys(this.changes).length) {
            const state = this.changes;
            this.changes = {};
            await tell({ model: this.id, data: { method: 'update', state } });
        }
        this.isAsking = false;
    }
    send(content) { tell({ model: this.id, data: { method: 'custom', content } }); }
}

for (const { model, ...sent } of await askPython({})) {
    models[model] = new Model(model, withBytes(sent).state);
}
const scripts = {};
for (const place of document.querySelectorAll('.pcbchem-bridge')) {
    const model = models[place.dataset.model];
    if (!scripts[model.get('_esm')]) {
        const sheet = document.createElement('style');
        sheet.textContent = model.get('_css');
        document.head.append(sheet);
        const script = new Blob([model.get('_esm')], { type: 'text/javascript' });
        scripts[model.get('_esm')] = await import(URL.createObjectURL(script));
    }
    scripts[model.get('_esm')].default.render({ model, el: place });
}
window.ran = 'ran';
</script>"""
BESIDE = """<style>
main { max-width: 74rem }
body.jp-Notebook { background: #fff; padding: 1rem 3rem; box-sizing: border-box }
body[data-jp-theme-light="false"] { background: #121212; color: #e2e2e2 }
</style>"""


class Line(BaseComm):
    """What a widget says to its page: kept in `said` until the page asks."""

    said = None

    def publish_msg(self, msg_type, data=None, metadata=None, buffers=None, **keys):
        method = data.get("method") if data else None
        if msg_type != "comm_msg" or method not in ("update", "custom"):
            return  # a page makes its models when it opens, and needs no echo
        self.said.append(news(self.comm_id, data, buffers))


def news(model, data, buffers):
    """Return what a widget says, as JSON keeps it: bytes in base 64, with their places."""
    return {
        "model": model,
        "state": data.get("state"),
        "content": data.get("content"),
        "paths": data.get("buffer_paths"),
        "buffers": [base64.b64encode(each).decode() for each in buffers or ()],
    }


class Bridge:
    """The widgets of this process as a page reaches them."""

    def __init__(self):
        self.said = []

    def line(self, **opened):
        """Make the line of a new widget, in place of that to a kernel's page."""
        line = Line(**opened)
        line.said = self.said
        return line

    def answer(self, message):
        """Give a widget what its page has sent, and return what widgets say: at first, all."""
        if message:
            lines = {widget.model_id: widget.comm for widget in WIDGETS}
            lines[message["model"]].handle_msg(
                {"content": {"data": message["data"]}, "buffers": []}
            )
        else:
            self.said.clear()  # nobody was there to hear it
            for widget in WIDGETS:
                widget.send_state()
        answer = list(self.said)
        self.said.clear()
        return answer


@contextlib.contextmanager
def bridged(browser, name, folder):
    """Open a page by its file name, run: give its tab, and in `tab.ran` what ran (`page_run`)."""
    bridge = Bridge()
    with like_a_new_kernel(), patch.object(comm, "create_comm", bridge.line):
        ran = run(name, {})
        with patch.object(base, "copied_as", place_of):
            write_as_run(ran, folder / name)
        html = as_html(folder / name, {})
        path = folder / "page.html"
        path.write_text(html.replace("</body>", f"{BESIDE}{FRONT}</body>"), encoding="utf-8")
        tab = browser.new_page()
        tab.ran = ran
        tab.expose_function("askPython", bridge.answer)
        tab.goto(path.as_uri())
        tab.wait_for_function("() => window.ran || window.failures.length")
        yield tab
        tab.close()


class FirstAlone:
    """Keeps of each drawing its first picture, in the place of `kept.place_of`."""

    def __init__(self):
        self.places, self.draw = {}, kept.place_of

    def __call__(self, drawing, pictures):
        if drawing not in self.places:
            self.places[drawing] = self.draw(drawing, pictures)
        return self.places[drawing]


def narrow_once(draw):
    """Let a way to draw a panel draw each of its narrow pictures only the first time.

    Their words are the same as of the wide one, and of their pictures `FirstAlone` keeps the first.
    """

    def drawn(panel, narrow=False, **values):
        if narrow and narrow in panel.drawings:
            return panel.drawings[narrow], None
        return draw(panel, narrow, **values)

    return drawn


def place_of(widget):
    """Return where a widget's script draws it."""
    return {"text/html": PLACE.format(widget.model_id)}


@contextlib.contextmanager
def live_copy(browser, name, folder, settings):
    """Open the live copy of a page, written in this process with few settings of each panel.

    It is what `pcbchem.page.export --live` writes from the same cells in a kernel: that way is held
    by the planner's copy and by tests/page/export. To draw takes most
    of the time, and here nobody looks at what is drawn: the first picture of each drawing stands
    for all of its settings. That each setting has its own is held by tests/page/export, too.
    """
    with like_a_new_kernel(), patch.object(kept, "SCALE", 1.0):
        ran = run(name, {}, school=True)
        forms = functools.partial(kept_forms, most=settings)
        draw = narrow_once(Panel.picture_and_words)
        with (
            patch.object(base, "copied_as", forms),
            patch.object(kept, "place_of", FirstAlone()),
            patch.object(Panel, "picture_and_words", draw),
        ):
            write_as_run(ran, folder / name)
        path = folder / f"{name}.html"
        path.write_text(as_html(folder / name, {}, live=True), encoding="utf-8")
        tab = browser.new_page()
        tab.ran = ran
        tab.asked_for = []
        tab.on("request", lambda request: tab.asked_for.append(request.url))
        tab.goto(path.as_uri())
        # its panels go on here, to say what the copy should: nobody looks at their pictures
        with patch.object(Drawing, "png", lambda *_: b""):
            yield tab
        tab.close()
