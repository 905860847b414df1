"""Law: a press is one press, and a file is taken, shown and removed once."""

import pytest
from playwright.sync_api import expect

from .bench_panel import (
    HOSTILE,
    answered,
    answered_alone,
    button,
    field,
    presses,
    refuse,
    status_of,
    tell,
)


@pytest.fixture
def alone(tab):
    with answered_alone(tab) as page:
        yield page


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
