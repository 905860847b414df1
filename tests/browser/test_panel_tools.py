"""Law: a panel's buttons, files, units, clock and kept rows do in a browser what they say.

Covers, in an empty page where Python answers when the test says so: numbers with units, a list of
units, help, the line over a dimmed verdict, a press and its answer, files, a clock, kept rows.
"""

import json

import pytest
from playwright.sync_api import expect

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import (
    Action,
    Choice,
    Field,
    Group,
    PanelWords,
    Upload,
)
from pcbchem.page.widget.panel import PANELS, Panel
from pcbchem.page.widget.works import Beside

from .alone import MODEL, state_of, stop_clock

TABLE = "<table><tbody><tr><th>1</th><td>Table</td></tr></tbody></table>"
UNITS = {"% by weight": "% by weight", "mol/L": "mol/L"}
ITEMS = [
    Group(
        "Bottle",
        (
            Field(
                "acid",
                "acid, strength",
                "",
                0,
                40,
                0.5,
                10,
                when=("sure", ("label",)),
                chooses=("acid_in", {"%": "% by weight", "m": "mol/L"}),
                help="What the label says.",
            ),
            Field("acid_low", "acid, at least", "", 0, 40, 0.5, 9, when=("sure", ("between",))),
            Choice(
                "acid_in",
                "acid counted in",
                UNITS,
                "% by weight",
                look="list",
                beside=("acid", "acid_low"),
            ),
            Choice(
                "sure",
                "acid known",
                {"label": "as labelled", "between": "between two"},
                "label",
                look="list",
                notes={"label": "within 1 %", "between": "anything between"},
            ),
        ),
    ),
    Field("width", "width", "mm", 10, 2000, 1, 75, reads={"mm": (1, 0), "in": (25.4, 0)}),
    Action("usual", "Take the usual", help="As the workshop has it."),
    Upload("artwork", "Artwork", (".png",), 2_500_000),
]


def build(narrow):
    return Drawing(figure(1.0))


def words(drawing, **values):
    return PanelWords("8 of 10", "white", "<p>head</p>", "<p>notes</p>", looks=(75, 20))


def open_alone(page, **state):
    """Open the panel in an empty page with storage, in a state: what it sends is in `sent`."""
    panel = Panel(
        "Tools",
        ITEMS,
        build,
        words,
        works={"usual": None, "artwork": None},
        beside=Beside("demo", None),
        has_clock=True,
        points=lambda x, y, narrow: {},
    )
    PANELS.pop(panel.title)
    page.route("http://demo/**", lambda route: route.fulfill(body="<html><body></body></html>"))
    page.goto("http://demo/page")
    page.evaluate("localStorage.clear()")
    stop_clock(page)
    page.evaluate(MODEL, [panel._esm, {**state_of(panel), **state}])
    page.add_style_tag(content=panel._css)
    return page


@pytest.fixture
def alone(tab):
    """The panel in an empty page, answered."""
    page = open_alone(tab, row={"water": 1})
    answered(page)
    return page


def answered(page, **news):
    """Python answers the last question."""
    page.evaluate("news => model.put({ ...news, done: model.get('asked') })", news)


def tell(tab, /, **content):
    """Python sends a message."""
    tab.evaluate("content => model.tell(content)", content)


def last(page):
    """What the page sent last."""
    return page.evaluate("sent.at(-1)")


def value(page, name):
    return page.evaluate("name => model.get('values')[name]", name)


def write(page, name, text):
    box = page.get_by_role("textbox", name=name, exact=True)
    box.fill(text)
    box.press("Enter")
    return box


def test_law_a_unit_behind_a_number_is_understood_and_said(alone):
    box = write(alone, "width (mm)", "3 in")
    assert value(alone, "width") == pytest.approx(76.2)
    expect(box).to_have_value("76.2")
    expect(alone.get_by_text("3 in is 76.2 mm.")).to_be_visible()
    write(alone, "width (mm)", "3 ells")
    expect(alone.get_by_role("alert").filter(has_text="Units understood: mm, in.")).to_be_visible()
    assert value(alone, "width") == pytest.approx(76.2)


def test_law_a_unit_that_is_written_is_chosen_in_the_list(alone):
    write(alone, "acid, strength", "3.1 M")
    assert (value(alone, "acid"), value(alone, "acid_in")) == (3.1, "mol/L")
    [(number, changes)] = alone.evaluate("model.get('entered')")
    assert sorted(changes) == ["acid", "acid_in"]
    assert number == alone.evaluate("model.get('asked')")
    write(alone, "acid, strength", "31.45%")
    assert (value(alone, "acid"), value(alone, "acid_in")) == (31.45, "% by weight")


def test_law_the_list_of_units_stands_beside_the_field_that_is_seen(alone):
    units = alone.get_by_role("combobox", name="acid counted in")
    field = alone.locator(".pcbchem-field").filter(has=units)
    expect(field).to_contain_text("acid, strength")
    alone.get_by_role("combobox", name="acid known").select_option("between")
    expect(field).to_contain_text("acid, at least")
    expect(alone.get_by_text("anything between")).to_be_visible()
    assert value(alone, "sure") == "between"


def test_law_help_unfolds_where_it_stands(alone):
    button = alone.get_by_role("button", name="acid, strength: what is that?")
    expect(alone.get_by_text("What the label says.")).to_be_hidden()
    button.press("Enter")
    expect(alone.get_by_text("What the label says.")).to_be_visible()
    expect(button).to_have_attribute("aria-expanded", "true")
    button.press("Enter")
    expect(alone.get_by_text("What the label says.")).to_be_hidden()


def opacity(page):
    return page.locator(".pcbchem-head").evaluate("e => getComputedStyle(e).opacity")


def test_law_an_old_verdict_is_dimmed_until_its_own_inputs_are_answered(alone):
    """Under one line, which stands where it stood."""
    state = alone.locator(".pcbchem-state")
    assert opacity(alone) == "1" and state.inner_text() == ""
    box = alone.get_by_role("textbox", name="width (mm)", exact=True)
    box.fill("80")
    expect(state).to_contain_text("press Enter")
    assert float(opacity(alone)) < 0.5
    box.press("Enter")
    expect(state).to_contain_text("was worked out for others")
    alone.clock.run_for(1000)
    expect(state).to_contain_text("Working it out")
    assert float(opacity(alone)) < 0.5, "not for a moment does it come back"
    answered(alone)
    expect(state).to_have_text("")
    assert opacity(alone) == "1"


def test_law_a_press_is_sent_once_and_its_answer_stands_there(alone):
    button = alone.get_by_role("button", name="Take the usual", exact=True)
    button.press("Enter")
    button.press("Enter")
    assert alone.evaluate("sent.filter(message => message.press).length") == 1
    number = last(alone)["number"]
    status = alone.locator(".pcbchem-work").first.get_by_role("status").first
    tell(alone, work="usual", number=number, progress=0.5, words="half")
    expect(status).to_have_text("half")
    expect(alone.get_by_role("progressbar")).to_be_visible()
    done = {
        "html": "<p>Result</p>",
        "page": "",
        "file": None,
        "offers": [["Take 80", {"width": 80}]],
    }
    tell(alone, work="usual", number=number, remark="There.", **done)
    expect(status).to_have_text("There.")
    expect(alone.get_by_role("progressbar")).to_be_hidden()
    expect(alone.get_by_text("Result")).to_be_visible()
    alone.get_by_role("button", name="Take 80").press("Enter")
    assert value(alone, "width") == 80
    expect(alone.get_by_text("Result")).to_be_hidden()


def test_law_nothing_is_pressed_beside_a_number_in_doubt(alone):
    alone.get_by_role("textbox", name="width (mm)", exact=True).fill("80")
    alone.get_by_role("button", name="Take the usual", exact=True).press("Enter")
    assert not alone.evaluate("sent.some(message => message.press)")


def give(page, name, size):
    """Choose a file of so many bytes."""
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Artwork", exact=True).press("Enter")
    chooser.value.set_files({"name": name, "mimeType": "image/png", "buffer": b"x" * size})


def test_law_a_file_goes_in_pieces_of_one_megabyte(alone):
    give(alone, "Front.PNG", 2_100_000)
    alone.wait_for_function("() => sent.some(message => message.press)")
    pieces = alone.evaluate("sent.filter(message => message.upload).map(m => [m.piece, m.bytes])")
    assert pieces == [[0, 1_000_000], [1, 1_000_000], [2, 100_000]]
    assert last(alone)["file_name"] == "Front.PNG" and last(alone)["upload_of"]


@pytest.mark.parametrize(
    "name, size, words",
    [("front.pdf", 5, "is none of these: .png"), ("front.png", 2_600_000, "at most 2.5 MB")],
)
def test_law_a_file_that_is_not_taken_is_not_sent(alone, name, size, words):
    give(alone, name, size)
    expect(alone.get_by_text(words)).to_be_visible()
    assert not alone.evaluate("sent.some(message => message.upload)")


def test_law_the_clock_says_when_to_look(alone):
    alone.get_by_role("button", name="Board in: start the clock").press("Enter")
    face = alone.get_by_role("timer")
    alone.clock.run_for(30_000)
    expect(face).to_have_text("0:30 in. Look at the board at 1:15.")
    expect(alone.get_by_text("at 45 °C board out")).to_be_visible()
    alone.clock.run_for(46_000)
    expect(face).to_have_text("1:16 in. Look at the board at 1:35.")
    expect(alone.get_by_text("Look now, at 1:15. Watch the thermometer")).to_be_visible()
    answered(alone, looks=[10, 5])
    expect(alone.get_by_text("this clock goes by the bath it was started for")).to_be_visible()
    alone.get_by_role("button", name="Board out: stop the clock").press("Enter")
    expect(alone.get_by_text("The board was in for 1:16. Write it down. Stay")).to_be_visible()


def stored(page):
    return json.loads(page.evaluate("localStorage.getItem('pcbchem demo beside') ?? '[]'"))


def test_law_rows_live_in_the_browser_and_python_works_them_out(alone):
    alone.get_by_role("button", name="Keep this one beside").press("Enter")
    assert last(alone)["beside"] == stored(alone) == [{"water": 1}]
    tell(alone, beside=True, number=last(alone)["number"], html=TABLE, csv="a", lost=[])
    expect(alone.get_by_role("cell", name="Table", exact=True)).to_be_visible()
    alone.get_by_role("button", name="Keep this one beside").press("Enter")
    expect(alone.get_by_text("This one stands below already.")).to_be_visible()
    with alone.expect_download() as download:
        alone.get_by_role("button", name="As a table file (CSV)").press("Enter")
    assert download.value.suggested_filename == "beside.csv"
    alone.get_by_role("button", name="Take row 1 away").press("Enter")
    assert stored(alone) == []


def test_law_six_rows_are_all(alone):
    for water in range(2, 9):
        alone.evaluate("water => model.put({ row: { water } })", water)
        alone.get_by_role("button", name="Keep this one beside").press("Enter")
    expect(alone.get_by_text("There are 6 already: take one away first.")).to_be_visible()
    assert len(stored(alone)) == 6


def test_law_a_row_that_cannot_be_read_any_more_is_gone(alone):
    alone.get_by_role("button", name="Keep this one beside").press("Enter")
    tell(alone, beside=True, number=last(alone)["number"], html="", csv="", lost=[0])
    assert stored(alone) == []
    expect(alone.get_by_text("A row could not be read any more and is gone.")).to_be_visible()


def cursor(page):
    """Give the picture a size, and return a press on it at a share of its width."""
    page.locator("img").evaluate("img => { img.style.cssText = 'width:200px;height:100px'; }")
    return lambda x: page.locator("img").click(position={"x": x * 200, "y": 50})


def test_law_a_cursor_s_words_are_dimmed_after_200_ms(alone):
    put = cursor(alone)
    put(0.2)
    alone.clock.run_for(190)
    assert opacity(alone) == "1", "what is answered at once does not flicker"
    alone.clock.run_for(20)
    assert float(opacity(alone)) < 0.5
    answered(alone)
    assert opacity(alone) == "1"


def test_law_a_cursor_that_goes_on_delays_no_dimming(alone):
    """The time counts from the first step that is not answered, not from the last."""
    put = cursor(alone)
    for step in range(5):
        put(0.2 + 0.1 * step)
        alone.clock.run_for(45)
    assert float(opacity(alone)) < 0.5
    answered(alone)
    assert opacity(alone) == "1"


def test_law_an_answer_to_an_older_step_leaves_the_later_one_its_time(alone):
    put = cursor(alone)
    put(0.2)
    first = alone.evaluate("model.get('asked')")
    alone.clock.run_for(100)
    put(0.4)
    alone.clock.run_for(50)
    alone.evaluate("done => model.put({ done })", first)
    alone.clock.run_for(140)
    assert opacity(alone) == "1"
    alone.clock.run_for(20)
    assert float(opacity(alone)) < 0.5, "200 ms after the second step"


def test_law_a_press_on_the_picture_says_where(alone):
    alone.locator("img").evaluate("img => { img.style.cssText = 'width:200px;height:100px'; }")
    alone.locator("img").click(position={"x": 50, "y": 50})
    assert alone.evaluate("model.get('pointed')") == pytest.approx([0.25, 0.5], abs=0.02)


def test_law_an_offer_that_is_taken_keeps_the_reader_at_the_verdict(alone):
    """It goes with its answer, and what it has put in is said."""
    answered(alone, readout="8 of 10.", offers=[["more width", {"width": 90}]])
    alone.get_by_role("button", name="more width").press("Enter")
    assert value(alone, "width") == 90
    expect(alone.get_by_text("Put into the fields: more width.")).to_be_visible()
    answered(alone, readout="9 of 10.", offers=[])
    expect(alone.get_by_role("button", name="more width")).to_have_count(0)
    expect(alone.locator(".pcbchem-panel")).to_be_focused()


def test_law_a_first_look_is_followed_by_the_whole(alone):
    """Also where the panel was made with one, and nobody has asked for anything yet."""
    write(alone, "width (mm)", "80")
    answered(alone, readout="First look.", coarse=True)
    asked = alone.evaluate("model.get('asked')")
    alone.clock.run_for(100)
    assert alone.evaluate("model.get('asked')") == asked + 1
    first = open_alone(alone, coarse=True, dpr=1)
    assert first.evaluate("model.get('asked')") >= 1


def test_law_a_card_is_not_opened_again_beside_other_values(alone):
    """Which another view of the panel may have brought."""
    alone.get_by_role("button", name="Take the usual", exact=True).press("Enter")
    done = {"remark": "There.", "html": "", "page": "<p>card</p>", "file": None, "offers": []}
    with alone.context.expect_page() as opened:
        tell(alone, work="usual", number=last(alone)["number"], **done)
    opened.value.close()
    link = alone.get_by_role("link", name="Take the usual: open it again")
    expect(link).to_be_visible()
    answered(alone)
    alone.evaluate(
        "model.put({ asked: 1, done: 1, values: { ...model.get('values'), width: 90 } })"
    )
    expect(link).to_be_hidden()
