"""Law: each answer is judged however busy Python is; a verdict stands only beside the answer that it was given to."""

import json
from types import SimpleNamespace

import pytest
from playwright.sync_api import expect

from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.page.widget import quiz

from .hands import RUN, idle, no_errors
from .opening import planted

MADE = """from pcbchem.lesson.questions import water_questions
from pcbchem.page.widget.quiz import check
check(water_questions)"""
BUSY = "import os, time\nwhile not os.path.exists('enough'):\n    time.sleep(0.05)"
RUNNING = "The page is still running: your answer waits."
LOST = "No answer from Python. Choose Run, then Run All Cells."
# a widget's model whose Python answers when the test says so; the script is the one that pages load
MODEL = """async ([script, values]) => {
    const heard = {};
    window.sent = [];
    window.model = {
        get: name => values[name], send: message => sent.push(message),
        on: (names, work) => names.split(' ').forEach(name => (heard[name] ??= []).push(work)),
        put: news => {
            const changed = Object.keys(news).filter(
                name => JSON.stringify(values[name]) !== JSON.stringify(news[name]));
            Object.assign(values, news);
            for (const name of changed) for (const work of heard['change:' + name] ?? []) work();
        } };
    const whole = await import('data:text/javascript;charset=utf-8,' + encodeURIComponent(script));
    whole.default.render({ model, el: document.body });
}"""


@pytest.fixture
def alone(browser):
    """The script in an empty page, with Python here: `answer` hands over what waits, in order."""
    page = browser.new_page()
    page.clock.install()

    def show(widget):
        def state():
            return {
                name: value
                for name, value in widget.get_state().items()
                if name[0] != "_" and name != "layout"
            }

        def answer(count=1):
            for message in page.evaluate("count => sent.splice(0, count)", count):
                widget._handle_msg(
                    {"content": {"data": {"method": "custom", "content": message}}, "buffers": []}
                )
                # as the kernel does: what the message changed, then that it is answered
                after = state()
                page.evaluate(
                    "news => model.put(news)",
                    {**after, "done": page.evaluate("() => model.get('done')")},
                )
                page.evaluate("news => model.put(news)", {"done": after["done"]})

        script = quiz.HERE.with_name("quiz.js").read_text(encoding="utf-8")
        page.evaluate(MODEL, [script, json.loads(json.dumps(state()))])
        return SimpleNamespace(
            page=page,
            answer=answer,
            boxes=page.get_by_role("textbox"),
            verdicts=page.locator(".verdict"),
            lost=page.locator(".lost"),
        )

    yield show
    page.close()


def test_law_three_answers_sent_while_the_page_still_runs_are_all_judged(server, opened):
    page = opened(planted(server, "busy.ipynb", MADE, BUSY))
    page.wait_for_function(
        "() => window.jupyterapp?.shell?.currentWidget?.content?.model?.cells.length"
    )
    page.evaluate(RUN)  # and do not wait until the last cell has run
    boxes, verdicts = page.get_by_role("textbox", name="Your answer"), page.locator(".verdict")
    expect(boxes).to_have_count(3)
    for place in range(3):
        boxes.nth(place).fill(f"{place + 1}")
        boxes.nth(place).press("Enter")
    (server.pages / "enough").touch()
    for place in range(3):
        expect(verdicts.nth(place)).to_contain_text(f"read as {'×' * (place == 0)}{place + 1}.")
    idle(page)
    no_errors(page)


def test_law_a_verdict_goes_when_its_answer_is_changed_and_the_others_stay(alone):
    sheet = alone(quiz.check(water_questions))
    for place in range(3):
        sheet.boxes.nth(place).fill("1")
        sheet.boxes.nth(place).press("Enter")
    sheet.answer(3)
    expect(sheet.verdicts).to_contain_text(["read as", "read as", "read as"])
    sheet.page.evaluate("""() => {
        window.rewritten = [];
        document.querySelectorAll('.verdict').forEach((verdict, place) => new MutationObserver(
            () => rewritten.push(place)).observe(verdict, { childList: true, characterData: true, subtree: true }));
    }""")
    sheet.boxes.nth(0).fill("")
    expect(sheet.verdicts.nth(0)).to_be_empty()
    sheet.boxes.nth(1).fill("2")
    expect(sheet.verdicts.nth(1)).to_be_empty()
    sheet.boxes.nth(1).press("Enter")
    sheet.answer()
    expect(sheet.verdicts.nth(1)).to_contain_text("read as 2.00")
    expect(sheet.boxes.nth(0)).to_have_value("")
    expect(sheet.verdicts.nth(0)).to_be_empty()
    assert set(sheet.page.evaluate("() => rewritten")) == {0, 1}, "the third was not said again"


def test_law_a_verdict_that_comes_too_late_is_not_put_beside_the_new_answer(alone):
    sheet = alone(quiz.check(water_questions))
    sheet.boxes.nth(0).fill("1")
    sheet.boxes.nth(0).press("Enter")
    sheet.boxes.nth(0).fill("2")
    sheet.answer()
    expect(sheet.verdicts.nth(0)).to_be_empty()
    for _ in range(2):  # the same answer checked twice is judged twice
        sheet.boxes.nth(0).fill("1")
        sheet.boxes.nth(0).press("Enter")
        sheet.answer()
        expect(sheet.verdicts.nth(0)).to_contain_text("read as ×1.00")


def test_law_an_answer_that_waits_is_told_so_and_only_later_that_python_does_not_answer(alone):
    sheet = alone(quiz.check(water_questions))

    def asked():
        sheet.boxes.nth(0).fill("1")
        sheet.boxes.nth(0).press("Enter")

    asked()
    sheet.page.clock.run_for(7900)
    expect(sheet.lost).to_be_hidden()
    sheet.page.clock.run_for(200)
    expect(sheet.lost).to_have_text(RUNNING)
    sheet.page.clock.run_for(29_700)
    expect(sheet.lost).to_have_text(RUNNING)
    sheet.page.clock.run_for(300)
    expect(sheet.lost).to_have_text(LOST)
    sheet.answer()
    expect(sheet.lost).to_be_hidden()
    sheet.page.clock.run_for(60_000)
    expect(sheet.lost).to_be_hidden()
    asked()  # Python has answered before: this page is not still starting
    sheet.page.clock.run_for(8100)
    expect(sheet.lost).to_have_text(LOST)


def test_law_of_two_choices_that_wait_the_last_one_counts_and_stays_chosen(alone):
    made = quiz.predict("browser", "How many?", {"a": "one", "b": "two"})
    shown = alone(made)
    one, two = (shown.page.get_by_role("radio", name=name) for name in ("one", "two"))
    one.check()
    two.check()
    one.check()
    shown.answer()
    expect(one).to_be_checked()
    shown.answer()
    expect(one).to_be_checked()
    shown.answer()
    expect(one).to_be_checked()
    assert made.choice == "a"
    expect(shown.page.locator(".said")).to_contain_text("Your prediction is kept: one.")
    two.check()
    one.check()  # back to what is kept, while the other one is on its way
    shown.answer(2)
    expect(one).to_be_checked()
    assert made.choice == "a"
    quiz.KEPT.clear()
