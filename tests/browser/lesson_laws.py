"""Laws of a lesson's page that predicts, shows and lets its reader move controls; and of its copy.

Such a page needs no JupyterLab to be tested: it stands on a bridge to its widgets in this process
(`bridge.py`). What is JupyterLab's own (its keys, its style sheets beside ours, cells that are
built when they come near, a reload, a second run) is the same for each page, for all share their
scripts: it is held on those that JupyterLab opens, of `page_laws.py`.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.page.widget.controls import Choice

from .bridge import bridged
from .copy_laws import LiveCopyLaws, numbers
from .eyes import named, no_errors, read_down, seen_text, shows
from .hands import choose, panel_of, predict, press, reset, write
from .page_laws import PageLaws


class LessonLaws(PageLaws):
    """What holds for a lesson's page: a file takes it over, says what follows, adds its own laws.

    The tests of the class come in this order, and go on where the last one left the page.
    """

    name: str
    """The page's file."""
    guesses: dict[str, tuple[str, str]]
    """By a panel's title the keys of an answer and of a reason to its question, in their order."""
    panels: int
    texts: int
    """How many panels there are, and how many texts that come afterwards."""
    hidden: tuple[str, ...] = ()
    """Words of panels that tell an answer."""

    @pytest.fixture(scope="class")
    @classmethod
    def page(cls, browser, tmp_path_factory):
        with bridged(browser, cls.name, tmp_path_factory.mktemp("page")) as tab:
            yield tab

    @pytest.fixture(scope="class")
    @classmethod
    def package(cls, page):
        """The page's panels in this process, by title."""
        return page.ran.panels

    def test_law_it_asks_and_says_the_rest_later(self, page):
        """Its predictions, then the questions: each waits; and one end."""
        quizzes = len(self.guesses) + 1
        kinds = {"quiz": quizzes, "panel": self.panels, "afterwards": self.texts, "end": 1}
        for name, number in kinds.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)

    def test_law_no_cell_tells_an_answer(self, page):
        """Its text as it is written, and its code that is not folded."""
        text = " ".join(cell.source for cell in page.ran.cells if not cell.folded)
        assert [answer for answer in self.answers if answer in text] == []

    def test_law_nothing_of_an_answer_shows_before(self, page, package):
        told = []
        for title, ours in package.items():
            panel = panel_of(page, title)
            heard = f"{seen_text(panel)} {panel.locator('img').get_attribute('alt')}"
            words = ours.picture_and_words(False, predicted="-")[1]
            assert "redict first" in heard
            assert words.readout not in heard
            assert [each for each in self.hidden if each in heard] == []
            told += [words.readout, words.alt, words.head, words.notes]
        assert [each for each in self.hidden if each not in " ".join(told)] == []

    def test_law_an_answer_with_a_reason_opens_its_panels(self, page, package):
        """By keyboard, with the reply to answer and reason; what waits for another goes on so."""
        for number, (title, (answer, reason)) in enumerate(self.guesses.items()):
            ours = package[title].prediction
            chosen = (ours.options[answer], ours.reasons[reason])
            predict(page, chosen[0].words, number, because=chosen[1].words)
            shows(panel_of(page, title), words_of(package[title], predicted=answer))
            assert (ours.choice, ours.reason) == (answer, reason), "what Python was sent"
            for other, panel in package.items():
                if panel.is_waiting():
                    assert "redict first" in seen_text(panel_of(page, other))
                elif panel.prediction is ours:
                    shows(panel_of(page, other), words_of(panel, predicted=answer))
            said = panel_of(page, title)
            expect(said.locator(".pcbchem-prediction")).to_contain_text(ours.words)
            if words_of(package[title], predicted=answer).guess:
                continue  # the panel has words of its own for that
            for each in chosen:
                expect(said).to_contain_text(each.reply)
        assert not any(panel.is_waiting() for panel in package.values())
        no_errors(page)

    def test_law_everything_is_told_afterwards(self, page):
        """So the law that nothing is told before looks for what this page says."""
        text = read_down(page)
        assert [answer for answer in self.answers if answer not in text] == []

    def test_law_each_control_moves_what_it_should(self, page, package):
        for title, ours in package.items():
            if not ours.controls:
                continue
            panel = panel_of(page, title)
            reset(panel)
            named(panel, ours.controls)
            values = {}
            for control in ours.controls:
                for value in moves(panel, control):
                    values[control.name] = value
                    words = words_of(ours, **values)
                    shows(panel, words, besides=numbers(values))
                    if words.guess:
                        expect(panel).to_contain_text(words.guess)
            reset(panel)
            shows(panel, words_of(ours))
        no_errors(page)


class LessonCopyLaws(LiveCopyLaws):
    """What holds for its live copy: a file's last class takes it over."""

    of: type[LessonLaws]
    """The class of the page itself."""

    def __init_subclass__(cls):
        cls.name, cls.answers = cls.of.name, cls.of.answers
        cls.predictions = tuple(cls.of.guesses.values())


def words_of(panel, **values):
    """Return what a panel says at its start, with some values changed."""
    starts = {control.name: control.start for control in panel.controls}
    return panel.picture_and_words(False, **{**starts, **values})[1]


def moves(panel, control):
    """Move a control by keyboard, and give each value that it then has."""
    if isinstance(control, Choice):
        for value in reversed(control.options):
            choose(panel, control, control.options[value])
            yield value
        return
    slider = panel.get_by_role("slider", name=control.label)
    slider.focus()
    way = 1 if control.start + 3 * control.step <= control.high else -1
    press(panel.page, "ArrowRight" if way > 0 else "ArrowLeft", 3)
    yield float(f"{control.start + way * 3 * control.step:.10g}")
    slider.press("End")
    yield float(control.high)
    written = float(f"{control.low + control.step:.10g}")
    write(panel, control, f"{written:g}".replace(".", ","))
    yield written
