"""A widget's script alone in an empty page: its Python answers when the test says so."""

import json

# a widget's model whose Python answers when the test says so; the script is the one that pages load
MODEL = """async ([script, values]) => {
    const heard = {};
    window.sent = [];
    window.model = {
        get: name => values[name],
        send: (message, callbacks, buffers) => {
            sent.push({ ...message, bytes: buffers?.[0]?.byteLength });
        },
        tell: content => { for (const work of heard['msg:custom'] ?? []) work(content, []); },
        set: (name, value) => { values[name] = value; },
        save_changes: () => {},
        on: (names, work) => {
            for (const name of names.split(' ')) (heard[name] ??= []).push(work);
        },
        put: news => {
            const differs = name => JSON.stringify(values[name]) !== JSON.stringify(news[name]);
            const changed = Object.keys(news).filter(differs);
            Object.assign(values, news);
            for (const name of changed) for (const work of heard['change:' + name] ?? []) work();
        } };
    const address = 'data:text/javascript;charset=utf-8,' + encodeURIComponent(script);
    const whole = await import(address);
    whole.default.render({ model, el: document.body });
}"""


def stop_clock(page):
    """Stop the clock of a page: time passes only where a test lets it, on a busy machine too."""
    page.clock.install(time="2026-01-01T00:00:00")
    page.clock.pause_at("2026-01-01T00:00:01")


def state_of(widget):
    """Return what the page knows of a widget; a picture in it is a text."""
    traits = widget.get_state()
    state = {name: traits[name] for name in traits if name[0] != "_" and name != "layout"}
    return json.loads(json.dumps(state, default=lambda png: "picture"))
