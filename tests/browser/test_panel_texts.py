"""Law: words, times, tables, files, links and kept rows do in a browser what they say.

Covers, in an empty page where Python answers when the test says so: what is typed, pasted, too long
or refused; words as words and never as HTML; a file and how it goes away; how far an answer is; a
table on a narrow page; ways on; rows in two tabs; all of it by keyboard, and read by axe.
"""

import json

import pytest
from playwright.sync_api import expect

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import (
    Action,
    Carried,
    Choice,
    Field,
    Group,
    Link,
    PanelWords,
    Slider,
    Table,
    Text,
    TimeText,
    Upload,
)
from pcbchem.page.widget.panel import PANELS, Panel
from pcbchem.page.widget.works import Beside

from .alone import MODEL, state_of, stop_clock
from .eyes import axe_clean

HOSTILE = '<img src=x onerror="window.failures.push(1)">'
WITH_BAD = ("tray", ("bad",))
ITEMS = [
    Group(
        "Offcut",
        (
            Text("note", "Note", "", 12, "a word or two", help="What was odd."),
            TimeText("clear", "Clear after", 10, 3600, help="From board in."),
            Choice("tray", "Tray", {"good": "good", "bad": "bad"}, "good", look="list"),
            Text("why", "Why bad", "", 20, when=WITH_BAD),
            Carried("offcut"),
            Action("add", "Add this row"),
            Action("mend", "Mend the tray", when=WITH_BAD),
            Upload("log", "Open a log", (".csv",), 50_000_000),
        ),
    ),
    Group("More", (Field("width", "width", "mm", 10, 90, 1, 75),), folded=True),
    Group("Cursor", (Slider("at", "At", "min", 0, 9, 1, 0),)),
]
MARKED = Table(
    f"Offcuts {HOSTILE}",
    ["line", *(f"a long name of column {number}" for number in range(8))],
    [[f"{row}", HOSTILE, *["some words that are wide"] * 7] for row in (1, 2)],
    ["", "bad row"],
)
LINKS = [
    Link("On to the planner", "00_plan_a_bath.ipynb", lambda **_: {"water": 1}),
    Link("On to this page", "page.ipynb", lambda **_: {"offcut": {"label": HOSTILE}}),
    Link("Nowhere", "other.ipynb", lambda **_: {}),
]


def build(narrow):
    return Drawing(figure(1.0))


def words(drawing, **values):
    return PanelWords("8 of 10", "white", row={"note": values["note"]}, table=MARKED)


def new_panel(**more):
    panel = Panel(
        "Bench",
        ITEMS,
        build,
        words,
        works=dict.fromkeys(("add", "mend", "log")),
        links=LINKS,
        receives="page.ipynb",
        **more,
    )
    return PANELS.pop(panel.title)


def open_alone(page, panel=None, storage="", **state):
    """Open the panel in a page that stands where a server would; `storage` is done before."""
    panel = panel or new_panel()
    body = '<!DOCTYPE html><html lang="en"><head><title>t</title></head><body></body></html>'
    page.route("http://demo/**", lambda route: route.fulfill(body=body, content_type="text/html"))
    page.goto("http://demo/page.ipynb")
    page.evaluate("() => { window.failures = []; }")
    if storage:
        page.evaluate(storage)
    stop_clock(page)
    page.evaluate(MODEL, [panel._esm, {**state_of(panel), **state}])
    page.add_style_tag(content=panel._css)
    return page


@pytest.fixture
def alone(tab):
    """The panel in an empty page, answered."""
    page = open_alone(tab, storage="localStorage.clear()")
    answered(page)
    yield page
    assert page.evaluate("window.failures") == []


def answered(page, **news):
    """Python answers the last question."""
    page.evaluate("news => model.put({ ...news, done: model.get('asked') })", news)


def tell(tab, /, **content):
    """Python sends a message."""
    tab.evaluate("content => model.tell(content)", content)


def value(page, name):
    return page.evaluate("name => model.get('values')[name]", name)


def presses(page):
    """What was pressed, by name, in order."""
    return page.evaluate("sent.filter(message => message.press).map(message => message.press)")


def field(page, name):
    return page.get_by_role("textbox", name=name, exact=True)


def button(page, name):
    return page.get_by_role("button", name=name, exact=True)


def status_of(page, name):
    """Return what is said beside a button."""
    work = page.locator(".pcbchem-work").filter(has=button(page, name))
    return work.get_by_role("status").first


def alert_of(page, name):
    row = page.locator(".pcbchem-text, .pcbchem-field, .pcbchem-list").filter(has_text=name)
    return row.locator(".pcbchem-note").first  # hidden where it says nothing


def reading_of(page):
    """Return what says how the time was read."""
    row = page.locator(".pcbchem-text").filter(has_text="Clear after")
    return row.locator(".pcbchem-meaning[role=status]")


def refuse(page, **beside):
    """Python refuses what stands in fields."""
    answered(page, beside_fields=beside)


class TestWords:
    """What is typed into a line of words."""

    def test_law_enter_confirms_once(self, alone):
        asked = alone.evaluate("model.get('asked')")
        box = field(alone, "Note")
        box.press_sequentially("odd")
        state = alone.locator(".pcbchem-state")
        expect(state).to_have_text("Not worked out yet for what stands in the fields: press Enter.")
        assert value(alone, "note") == ""
        box.press("Enter")
        assert value(alone, "note") == "odd"
        assert alone.evaluate("model.get('entered')") == [[asked + 1, {"note": "odd"}]]
        box.press("Enter")
        box.blur()
        assert alone.evaluate("model.get('asked')") == asked + 1
        answered(alone)
        expect(state).to_have_text("")

    def test_law_leaving_confirms(self, alone):
        field(alone, "Note").press_sequentially("odd")
        field(alone, "Note").press("Tab")
        assert value(alone, "note") == "odd"

    def test_law_what_is_put_back_is_in_no_doubt(self, alone):
        box = field(alone, "Note")
        box.press_sequentially("o")
        box.press("Backspace")
        expect(alone.locator(".pcbchem-state")).to_have_text("")

    def test_law_no_more_letters_than_may_be(self, alone):
        box = field(alone, "Note")
        box.press_sequentially("x" * 15)
        expect(box).to_have_value("x" * 12)
        expect(box).to_have_attribute("maxlength", "12")

    @pytest.mark.parametrize("pasted", ["a\nb", "a\r\nb", "a\n"])
    def test_law_pasted_line_ends_never_reach_python(self, alone, pasted):
        box = field(alone, "Note")
        box.focus()
        alone.keyboard.insert_text(pasted)
        box.press("Enter")
        assert value(alone, "note").startswith("a")
        assert not set("\r\n") & set(value(alone, "note"))

    def test_law_half_of_a_letter_never_reaches_python(self, alone):
        """No message could take it there."""
        box = field(alone, "Note")
        box.evaluate("""box => {
            box.value = 'a\\ud83d';
            box.dispatchEvent(new Event('input'));
        }""")
        box.press("Enter")
        assert value(alone, "note") == ""
        expect(alert_of(alone, "Note")).to_contain_text("Note holds half of a letter")
        expect(alone.locator(".pcbchem-state")).to_contain_text("first correct the field")
        box.fill("a")
        box.press("Enter")
        expect(alert_of(alone, "Note")).to_have_text("")
        expect(box).to_have_attribute("aria-invalid", "false")

    def test_law_words_are_words_and_no_html(self, alone):
        text = "<b>&\"'"
        field(alone, "Note").fill(text)
        field(alone, "Note").press("Enter")
        refuse(alone, note=f"Note = {HOSTILE} is wrong")
        expect(field(alone, "Note")).to_have_value(text)
        expect(alert_of(alone, "Note")).to_have_text(f"Note = {HOSTILE} is wrong")
        expect(alone.locator("img[src=x]")).to_have_count(0)

    def test_law_hint_and_help_belong_to_the_field(self, alone):
        expect(alone.get_by_text("a word or two")).to_be_visible()
        heard = field(alone, "Note").evaluate("""box => box.getAttribute('aria-describedby')
            .split(' ').map(id => document.getElementById(id).textContent).join('|')""")
        assert "a word or two" in heard and "What was odd." in heard
        expect(alone.get_by_text("What was odd.")).to_be_hidden()
        field(alone, "Note").press("F1")
        expect(alone.get_by_text("What was odd.")).to_be_visible()

    def test_law_keys_belong_to_the_field(self, alone):
        expect(field(alone, "Note")).to_have_attribute("data-lm-suppress-shortcuts", "true")
        expect(field(alone, "Note")).to_have_attribute("type", "text")

    def test_law_reset_and_an_offer_fill_the_field(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        refuse(alone, note="Not this.")
        alone.evaluate("() => model.put({ offers: [['Take it', { note: 'even' }]] })")
        button(alone, "Take it").press("Enter")
        assert value(alone, "note") == "even"
        expect(field(alone, "Note")).to_have_value("even")
        button(alone, "Reset").press("Enter")
        assert value(alone, "note") == "" and value(alone, "offcut") is None
        expect(field(alone, "Note")).to_have_value("")


class TestTimes:
    """What is typed as a time."""

    def test_law_how_a_time_was_read_stands_under_it(self, alone):
        expect(alone.get_by_text("as 4 min 10 s, 250 s or 4:10")).to_be_visible()
        field(alone, "Clear after").fill("4:10")
        field(alone, "Clear after").press("Enter")
        answered(alone, read_as={"clear": "= 250 s"})
        expect(reading_of(alone)).to_have_text("= 250 s")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "false")
        expect(alone.get_by_role("alert")).to_have_count(0)
        field(alone, "Clear after").press_sequentially("0")
        expect(reading_of(alone)).to_have_text("")

    def test_law_a_time_that_comes_from_elsewhere_is_said_too(self, alone):
        news = {"read_as": {"clear": "= 60 s"}}
        values = {**alone.evaluate("model.get('values')"), "clear": "1 min"}
        alone.evaluate("news => model.put(news)", {**news, "values": values})
        expect(field(alone, "Clear after")).to_have_value("1 min")
        expect(reading_of(alone)).to_have_text("= 60 s")


class TestRefusals:
    """What Python says beside a field."""

    def test_law_a_refusal_stands_beside_its_field_and_words_stay(self, alone):
        field(alone, "Clear after").fill("4")
        field(alone, "Clear after").press("Enter")
        refuse(alone, clear="It could be minutes or seconds.")
        expect(alert_of(alone, "Clear after")).to_have_text("It could be minutes or seconds.")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "true")
        expect(field(alone, "Clear after")).to_have_value("4")
        expect(alone.get_by_text("8 of 10")).to_be_visible()
        expect(alone.locator(".pcbchem-unsure, .pcbchem-stale")).to_have_count(0)
        refuse(alone)
        expect(alert_of(alone, "Clear after")).to_have_text("")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "false")

    def test_law_nothing_is_pressed_beside_what_cannot_be(self, alone):
        refuse(alone, note="Not this.")
        button(alone, "Add this row").press("Enter")
        assert presses(alone) == []
        expect(status_of(alone, "Add this row")).to_have_text(
            "First correct the field that is marked."
        )
        refuse(alone)
        button(alone, "Add this row").press("Enter")
        assert presses(alone) == ["add"]

    def test_law_nothing_is_pressed_while_something_is_typed(self, alone):
        field(alone, "Note").evaluate("""box => {
            box.value = 'odd';
            box.dispatchEvent(new Event('input'));
        }""")
        button(alone, "Add this row").evaluate("button => button.click()")
        assert presses(alone) == []
        expect(status_of(alone, "Add this row")).to_contain_text("press Enter")

    def test_law_a_press_waits_for_the_answer_and_goes_by_it(self, alone):
        """What is refused by then is not sent."""
        field(alone, "Note").fill("odd")
        button(alone, "Add this row").click()
        assert value(alone, "note") == "odd" and presses(alone) == []
        refuse(alone, note="Not this.")
        assert presses(alone) == []
        field(alone, "Note").fill("even")
        button(alone, "Add this row").click()
        refuse(alone)
        assert presses(alone) == ["add"]

    def test_law_a_refusal_in_a_folded_group_unfolds_it(self, alone):
        expect(field(alone, "width (mm)")).to_be_hidden()
        refuse(alone, width="Too wide for the tray.")
        expect(field(alone, "width (mm)")).to_be_visible()
        expect(alert_of(alone, "width")).to_have_text("Too wide for the tray.")
        expect(field(alone, "width (mm)")).to_have_attribute("aria-invalid", "true")

    def test_law_sliders_and_lists_are_refused_too(self, alone):
        refuse(alone, tray="No such tray.", at="Not then.")
        expect(alert_of(alone, "Tray")).to_have_text("No such tray.")
        expect(alone.locator(".pcbchem-slider").get_by_role("alert")).to_have_text("Not then.")

    def test_law_a_choice_of_few_is_refused_beside_it(self, tab):
        choice = Choice("at", "At", {"a": "first", "b": "last"}, "a")
        panel = Panel("Few", [choice], build, lambda drawing, at: PanelWords("so", "white"))
        page = open_alone(tab, PANELS.pop(panel.title))
        refuse(page, at="Not then.")
        expect(page.get_by_role("group").get_by_role("alert")).to_have_text("Not then.")

    def test_law_what_is_not_seen_is_said_with_the_words(self, alone):
        refuse(alone, offcut="That offcut is of another bottle.")
        expect(alone.locator(".pcbchem-words .pcbchem-wrong")).to_have_text(
            "That offcut is of another bottle."
        )
        refuse(alone)
        expect(alone.locator(".pcbchem-words .pcbchem-wrong")).to_be_hidden()


class TestPresses:
    """Buttons, once."""

    def test_law_two_quick_presses_are_one(self, alone):
        button(alone, "Add this row").dblclick()
        assert presses(alone) == ["add"]
        expect(button(alone, "Add this row")).to_have_attribute("aria-disabled", "true")
        expect(button(alone, "Add this row")).to_be_focused()

    def test_law_the_focus_stays_and_the_result_is_heard(self, alone):
        done = {"html": "", "page": "", "file": None, "offers": [], "taken": None}
        button(alone, "Add this row").press("Enter")
        number = alone.evaluate("sent.at(-1).number")
        tell(alone, work="add", number=number, remark=f"Row 3 {HOSTILE}", **done)
        expect(button(alone, "Add this row")).to_be_focused()
        expect(status_of(alone, "Add this row")).to_have_text(f"Row 3 {HOSTILE}")

    def test_law_a_button_is_there_when_a_choice_calls_for_it(self, alone):
        expect(button(alone, "Mend the tray")).to_be_hidden()
        expect(field(alone, "Why bad")).to_be_hidden()
        alone.get_by_role("combobox", name="Tray").select_option("bad")
        expect(button(alone, "Mend the tray")).to_be_visible()
        expect(field(alone, "Why bad")).to_be_visible()

    def test_law_a_doubt_that_is_not_seen_keeps_nobody_waiting(self, alone):
        tray = alone.get_by_role("combobox", name="Tray")
        tray.select_option("bad")
        answered(alone)
        field(alone, "Why bad").evaluate("""box => {
            box.value = 'a\\ud83d';
            box.dispatchEvent(new Event('input'));
        }""")
        expect(alone.locator(".pcbchem-unsure")).to_have_count(1)
        tray.select_option("good")
        expect(alone.locator(".pcbchem-unsure")).to_have_count(0)

    @pytest.mark.parametrize(
        "name, kind", [("log.csv", "text/csv"), ("a.json", "application/json")]
    )
    def test_law_a_file_is_saved_under_its_name_and_type(self, alone, name, kind):
        alone.evaluate("""() => {
            const make = URL.createObjectURL.bind(URL);
            URL.createObjectURL = blob => { window.kind = blob.type; return make(blob); };
        }""")
        button(alone, "Add this row").press("Enter")
        done = {"html": "", "page": "", "offers": [], "taken": None, "remark": ""}
        number = alone.evaluate("sent.at(-1).number")
        with alone.expect_download() as download:
            tell(alone, work="add", number=number, file=[name, "a,µ\r\n"], **done)
        assert download.value.suggested_filename == name
        assert download.value.path().read_bytes() == "a,µ\r\n".encode()
        assert alone.evaluate("window.kind") == kind


def give(page, name, size=5):
    """Choose a file of so many bytes, from memory or, where it is large, made in the page."""
    picker = page.locator("input[type=file]")
    if size < 1000:
        picker.set_input_files({"name": name, "mimeType": "text/csv", "buffer": b"x" * size})
        return
    picker.evaluate(
        """(picker, [name, size]) => {
            const file = new File([new Uint8Array(size)], name);
            const all = new DataTransfer();
            all.items.add(file);
            picker.files = all.files;
            picker.dispatchEvent(new Event('change'));
        }""",
        [name, size],
    )


class TestFiles:
    """A file that is uploaded, and taken away."""

    def take(self, page, name="log.csv", size=5, **more):
        """Python has taken the file."""
        page.wait_for_function("() => sent.at(-1).press")
        done = {"html": "", "page": "", "file": None, "offers": [], "remark": "Read."}
        number = page.evaluate("sent.at(-1).number")
        tell(page, **{"work": "log", "number": number, **done, "taken": [name, size], **more})

    @pytest.mark.parametrize(
        "name, size, said",
        [
            ("log.csv", 60_000_000, "log.csv is too large: at most 50 MB."),
            ("log.png", 5, "log.png is none of these: .csv."),
            (f"{HOSTILE}.png", 5, "is none of these: .csv."),
        ],
    )
    def test_law_what_is_not_taken_is_not_sent(self, alone, name, size, said):
        give(alone, name, size)
        expect(status_of(alone, "Open a log")).to_contain_text(said)
        assert not alone.evaluate("sent.some(message => message.upload || message.press)")

    def test_law_a_file_waits_for_no_field_in_doubt(self, alone):
        """Nothing of it is sent."""
        refuse(alone, note="Not this.")
        give(alone, "log.csv")
        expect(status_of(alone, "Open a log")).to_contain_text("First correct the field")
        assert not alone.evaluate("sent.some(message => message.upload || message.press)")

    def test_law_a_file_stands_there_until_it_is_removed(self, alone):
        give(alone, "log.csv")
        self.take(alone, f"{HOSTILE}.csv", 2_345_678)
        row = alone.locator(".pcbchem-file").filter(visible=True)
        expect(row).to_contain_text(f"{HOSTILE}.csv, 2.35 MB")
        remove = button(alone, "Open a log: remove the file")
        expect(remove).to_have_text("Remove")
        remove.press("Enter")
        remove.press("Enter")
        message = alone.evaluate("sent.at(-1)")
        assert (message["press"], message["removed"]) == ("log", True)
        assert presses(alone) == ["log", "log"]
        self.take(alone, taken=[], remark="Gone.")
        expect(row).to_have_count(0)
        expect(status_of(alone, "Open a log")).to_have_text("Gone.")
        expect(button(alone, "Open a log")).to_be_focused()

    def test_law_a_file_that_a_work_refuses_takes_no_place(self, alone):
        give(alone, "log.csv")
        self.take(alone, taken=None, remark="It is empty.")
        expect(alone.locator(".pcbchem-file").filter(visible=True)).to_have_count(0)

    def test_law_two_files_at_once_are_one(self, alone):
        give(alone, "log.csv", 2_000_000)
        give(alone, "other.csv", 2_000_000)
        alone.wait_for_function("() => sent.at(-1).press")
        assert alone.evaluate("sent.at(-1).file_name") == "log.csv"
        assert presses(alone) == ["log"]
        assert alone.evaluate("sent.filter(message => message.upload).length") == 2

    def test_law_a_page_that_is_loaded_says_that_it_has_no_file(self, alone):
        assert alone.evaluate("sent[0].fresh") is True
        expect(alone.locator(".pcbchem-file").filter(visible=True)).to_have_count(0)


class TestProgress:
    """How far a long answer is."""

    def test_law_a_second_after_a_change_no_page_is_silent(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        alone.clock.run_for(1000)
        expect(alone.locator(".pcbchem-state")).to_contain_text("Working it out")

    def test_law_what_python_tells_stands_over_the_dimmed_answer(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        question = alone.evaluate("model.get('asked')")
        tell(alone, progress=0.4, words=f"making {HOSTILE}", question=question)
        state, bar = alone.locator(".pcbchem-state"), alone.get_by_role("progressbar")
        expect(state).to_have_text(f"making {HOSTILE}: 40 %")
        expect(bar).to_have_attribute("value", "0.4")
        expect(bar).to_have_attribute("aria-label", f"making {HOSTILE}")
        expect(alone.locator(".pcbchem-stale")).to_have_count(1)
        text = state.evaluate_handle("state => state.firstChild")
        tell(alone, progress=0.5, words=f"making {HOSTILE}", question=question)
        expect(state).to_contain_text("50 %")
        assert text.evaluate("text => text.isConnected"), "heard once, not with each per cent"
        answered(alone)
        expect(state).to_have_text("")
        expect(bar).to_have_count(0)

    def test_law_a_page_gives_nothing_up_that_goes_on(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        question = alone.evaluate("model.get('asked')")
        for step in range(12):
            alone.clock.run_for(5000)
            tell(alone, progress=step / 12, words="making new draws", question=question)
            expect(alone.locator(".pcbchem-lost")).to_be_hidden()
        alone.clock.run_for(40_000)
        expect(alone.locator(".pcbchem-lost")).to_be_visible()
        tell(alone, progress=0.99, words="making new draws", question=question)
        expect(alone.locator(".pcbchem-lost")).to_be_hidden()

    def test_law_a_change_made_meanwhile_is_answered_afterwards(self, alone):
        for text in ("odd", "even"):
            field(alone, "Note").fill(text)
            field(alone, "Note").press("Enter")
        first, second = (entry[0] for entry in alone.evaluate("model.get('entered')"))
        tell(alone, progress=0.4, words="making new draws", question=first)
        alone.evaluate("done => model.put({ done, readout: 'of odd' })", first)
        expect(alone.locator(".pcbchem-stale")).to_have_count(1)
        expect(alone.get_by_role("progressbar")).to_have_count(0)
        tell(alone, progress=0.1, words="making new draws", question=second)
        expect(alone.locator(".pcbchem-state")).to_have_text("making new draws: 10 %")
        assert value(alone, "note") == "even"
        answered(alone, readout="of even")
        expect(alone.locator(".pcbchem-stale")).to_have_count(0)

    def test_law_what_comes_after_the_answer_is_not_said(self, alone):
        tell(alone, progress=0.4, words="making new draws", question=1)
        expect(alone.locator(".pcbchem-state")).to_have_text("")


class TestTables:
    """A table under the words."""

    def test_law_a_wide_table_scrolls_in_a_narrow_panel(self, alone):
        """3.9 in wide, by keyboard too."""
        alone.set_viewport_size({"width": 374, "height": 900})
        frame = alone.get_by_role("region", name="Offcuts")
        widths = frame.evaluate("e => [e.scrollWidth, e.clientWidth]")
        assert widths[0] > widths[1]
        page_width = alone.evaluate("document.documentElement.scrollWidth")
        assert page_width <= 374, "and the page does not"
        frame.focus()
        expect(frame).to_be_focused()
        frame.press("ArrowRight")
        alone.clock.run_for(1000)
        alone.wait_for_function("e => e.scrollLeft > 0", arg=frame.element_handle())
        alone.set_viewport_size({"width": 1366, "height": 768})

    def test_law_a_table_is_read_as_one(self, alone):
        table = alone.get_by_role("table", name="Offcuts")
        expect(table.get_by_role("columnheader")).to_have_count(9)
        expect(table.get_by_role("rowheader")).to_have_text(["1", "2bad row"])
        expect(table.locator("img")).to_have_count(0)
        bars = [
            row.evaluate("e => getComputedStyle(e).borderLeftWidth")
            for row in table.get_by_role("rowheader").all()
        ]
        assert bars == ["0px", "4px"]

    def test_law_a_table_is_dimmed_with_its_answer(self, alone):
        field(alone, "Note").fill("odd")
        dimmed = alone.locator(".pcbchem-table").evaluate("e => getComputedStyle(e).opacity")
        assert float(dimmed) < 0.5

    def test_law_a_reader_of_the_table_stays_there(self, alone):
        alone.get_by_role("region", name="Offcuts").focus()
        answered(alone, table=MARKED.html().replace("bad row", "good row"))
        expect(alone.get_by_role("region", name="Offcuts")).to_be_focused()
        answered(alone, table="")
        expect(alone.get_by_role("table")).to_have_count(0)


class TestLinks:
    """Ways on to other pages."""

    def test_law_each_link_hands_over_its_own(self, alone):
        expect(alone.get_by_role("link")).to_have_count(2)
        for name, key, handed in (
            ("On to the planner", "00_plan_a_bath.ipynb", {"water": 1}),
            ("On to this page", "page.ipynb", {"offcut": {"label": HOSTILE}}),
        ):
            link = alone.get_by_role("link", name=name)
            expect(link).to_have_attribute("target", "_blank")
            with alone.context.expect_page() as opened:
                link.click()
            opened.value.close()
            kept = json.loads(alone.evaluate("key => localStorage.getItem(key)", f"pcbchem {key}"))
            kept.pop("at")
            assert kept == handed

    def test_law_where_nothing_is_handed_there_is_no_link(self, alone):
        answered(alone, handed=[{}, {"offcut": {}}, {"x": 1}])
        names = [link.inner_text() for link in alone.get_by_role("link").all()]
        assert names == ["On to this page", "Nowhere"]

    def test_law_what_is_handed_over_is_carried_past_a_reset(self, tab):
        """Nobody has entered it here; a field goes back to its start."""
        handed = {"offcut": {"label": "3"}, "note": "odd", "unknown": 1, "why": "From a log."}
        storage = f"""localStorage.setItem('pcbchem page.ipynb',
            JSON.stringify({{...{json.dumps(handed)}, at: Date.now() - 1000}}))"""
        page = open_alone(tab, storage=storage)
        page.evaluate("localStorage.clear()")
        assert value(page, "offcut") == {"label": "3"} and value(page, "note") == "odd"
        expect(page.get_by_text("From a log.")).to_be_visible()
        expect(field(page, "Note")).to_have_value("odd")
        answered(page)
        button(page, "Reset").press("Enter")
        assert value(page, "offcut") == {"label": "3"}
        expect(field(page, "Note")).to_have_value("")


def rows_panel(**more):
    """A panel whose picture is of the rows."""
    wording = {"keep": "Add this offcut", "heading": "Offcuts so far", "file": "offcuts.csv"}
    return new_panel(beside=Beside("rows", None, redraws=True, **wording, **more))


def rows_asked(page):
    """The rows of which the page asked last."""
    return page.evaluate("sent.filter(message => message.beside).at(-1)?.beside")


class TestRows:
    """Rows that the browser keeps."""

    def test_law_rows_have_words_of_their_own(self, tab):
        page = open_alone(tab, rows_panel(), "localStorage.clear()", row={"note": "a"})
        answered(page)
        assert rows_asked(page) == [], "a picture of none is asked for too"
        button(page, "Add this offcut").press("Enter")
        assert rows_asked(page) == [{"note": "a"}]
        number = page.evaluate("sent.at(-1).number")
        html = "<table><tbody><tr><th>1</th></tr></tbody></table>"
        tell(page, beside=True, number=number, html=html, csv="a", lost=[])
        expect(page.get_by_role("region", name="Offcuts so far")).to_be_visible()
        with page.expect_download() as download:
            button(page, "As a table file (CSV)").press("Enter")
        assert download.value.suggested_filename == "offcuts.csv"

    def test_law_two_tabs_keep_the_same_rows_and_none_twice(self, browser, tab):
        tabs = tab, browser.new_page()
        for each in tabs:
            open_alone(each, rows_panel(), "localStorage.clear()", row={"note": "a"})
            answered(each)
        one, other = tabs
        button(one, "Add this offcut").press("Enter")
        other.wait_for_function("() => sent.at(-1).beside?.length === 1")
        button(other, "Add this offcut").press("Enter")
        expect(other.get_by_text("This one stands below already.")).to_be_visible()
        other.evaluate("model.put({ row: { note: 'b' } })")
        button(other, "Add this offcut").press("Enter")
        one.wait_for_function("() => sent.at(-1).beside?.length === 2")
        assert rows_asked(one) == rows_asked(other) == [{"note": "a"}, {"note": "b"}]
        one.evaluate("localStorage.clear()")
        other.wait_for_function("() => sent.at(-1).beside?.length === 0")
        other.close()

    def test_law_a_tab_that_has_not_heard_loses_no_row(self, tab):
        """Another page has kept a row, and its event is still on its way."""
        page = open_alone(tab, rows_panel(), "localStorage.clear()", row={"note": "a"})
        answered(page)
        stored = "localStorage.setItem('pcbchem rows beside', JSON.stringify([{ note: 'b' }]))"
        page.evaluate(stored)
        button(page, "Add this offcut").press("Enter")
        assert rows_asked(page) == [{"note": "b"}, {"note": "a"}]

    @pytest.mark.parametrize("fault", ["setItem", "getItem"])
    def test_law_a_browser_that_keeps_nothing_says_so(self, tab, fault):
        broken = f"""() => {{
            localStorage.clear();
            Storage.prototype.{fault} = () => {{ throw new Error('QuotaExceededError'); }};
            if ('{fault}' === 'getItem') Storage.prototype.setItem = Storage.prototype.getItem;
        }}"""
        page = open_alone(tab, rows_panel(), broken, row={"note": "a"})
        answered(page)
        button(page, "Add this offcut").press("Enter")
        expect(page.get_by_text("this browser keeps nothing: ")).to_be_visible()
        assert rows_asked(page) == [{"note": "a"}]
        button(page, "Add this offcut").press("Enter")
        expect(page.get_by_text("This one stands below already.")).to_be_visible()
        assert page.evaluate("window.failures") == []

    @pytest.mark.parametrize("junk", ["{", "3", "null", '{"a": 1}'])
    def test_law_what_is_no_list_of_rows_is_none(self, tab, junk):
        storage = f"localStorage.setItem('pcbchem rows beside', {json.dumps(junk)})"
        page = open_alone(tab, rows_panel(), storage, row={"note": "a"})
        answered(page)
        assert rows_asked(page) == []
        page.evaluate("localStorage.clear()")


def test_law_every_piece_is_reached_by_tab_in_order(alone):
    """From the first field to the table."""
    answered(alone, read_as={"clear": "= 250 s"})
    names = []
    field(alone, "Note").focus()
    for _ in range(14):
        name = alone.evaluate("""() => {
            const e = document.activeElement;
            return e.labels?.[0]?.textContent || e.ariaLabel || e.textContent;
        }""")
        names.append(name)
        alone.keyboard.press("Tab")
    order = ["Note", "Clear after", "Tray", "Add this row", "Open a log", "More"]
    places = [names.index(name) for name in order]
    assert places == sorted(places)
    assert any(name.startswith("Offcuts") for name in names)


@pytest.mark.parametrize("theme", ["true", "false"])
def test_law_axe_finds_nothing(alone, theme):
    """With a refusal, a reading, a file, a table and a bar on the page, by day and by night."""
    alone.clock.resume()  # axe waits now and then
    alone.evaluate("theme => { document.body.dataset.jpThemeLight = theme; }", theme)
    field(alone, "Note").fill("odd")
    field(alone, "Note").press("Enter")
    refused = {"note": "Not this.", "width": "Too wide.", "tray": "No such tray."}
    answered(alone, beside_fields=refused, read_as={"clear": "250 s"})
    alone.evaluate("""() => {
        for (const row of document.querySelectorAll('.pcbchem-file')) row.hidden = false;
    }""")
    axe_clean(alone, ".pcbchem-widget")
    field(alone, "Note").fill("even")
    field(alone, "Note").press("Enter")
    question = alone.evaluate("model.get('asked')")
    tell(alone, progress=0.4, words="making new draws", question=question)
    axe_clean(alone, ".pcbchem-widget .pcbchem-state")
