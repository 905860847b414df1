"""Laws of a lesson's panels: nothing before a prediction, no word over another, no amount.

A file of tests takes a class over, says which panels and questions are its page's, and adds what
only they have. Panels are fixtures of its folder, made once.
"""

import io
import re

import numpy as np
import pytest
from PIL import Image, ImageColor

from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR
from pcbchem.page.export.kept import MOST_SETTINGS, step_lists
from pcbchem.page.widget.quiz import KEPT, forget_all

FAR = 30
"""How far a point is from a colour that is not there [steps of red, green and blue together]."""


def pixels(drawing):
    """Return the points of a picture as red, green and blue, shape (N, 3)."""
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


def has_colour(drawing, colour):
    """Tell whether a point of a picture has just this colour."""
    return bool((pixels(drawing) == ImageColor.getrgb(colour)).all(axis=1).any())


def settings(panel, every=1):
    """List the settings of a panel in a live copy, or every so many of them."""
    places, most = [{}], min(MOST_SETTINGS, panel.most_copied)
    for name, values in step_lists(panel.controls, most).items():
        places = [{**place, name: value} for place in places for value in values]
    return places[::every]


def starts_of(panel):
    """Return the values of a panel's controls as it comes."""
    return {control.name: control.start for control in panel.controls}


def seen_text(drawing):
    """Return all words of a picture in one line."""
    return " ".join(text.get_text() for text in seen_words(drawing))


class LessonPanels:
    """What holds for the panels of a lesson that wait for its two questions."""

    guesses: dict[str, tuple]
    """By a panel's fixture the predictions that are drawn: None is none yet, "-" is no idea."""
    others: tuple[str, ...] = ()
    """Fixtures of panels that wait for nothing."""
    untold: str
    """Pattern of what only the answer tells, in words and picture."""
    few: int = 1
    """Every so many settings are looked at before a prediction."""
    spoken: int = 1
    """Every so many are searched for amounts."""
    looked_up: int = 1
    """Every so many are drawn where nothing may be counted anew."""
    no_amounts: str = r"(?!)"
    """Pattern of what looks like an amount and is none."""
    copied: dict[str, int]
    """How many settings of each a live copy holds."""
    numbers: object
    """The lesson's module of numbers."""
    slow: tuple[str, ...]
    """What takes its time in that module: not called where a control is moved."""
    leads_on: bool = False
    """Whether a panel leads to the planner."""
    first: tuple
    """What makes the first question and its panel."""
    second: tuple
    """What makes the second question and its panel."""
    answered: tuple[str, str]
    """An answer and a reason to the second question."""
    moved: dict[str, object]
    """Where the first panel's controls are moved to."""
    starts: dict[str, object]
    """Where they stand at first."""

    @pytest.fixture
    def waiting(self, request):
        """The panels that wait, by name."""
        return {name: request.getfixturevalue(name) for name in self.guesses}

    @pytest.fixture
    def every_panel(self, request):
        return [request.getfixturevalue(name) for name in (*self.guesses, *self.others)]

    def places(self, panel, every=1):
        """List where the controls may stand."""
        return settings(panel, every)

    def places_before(self, panel):
        """List where they stand while nothing is predicted."""
        return self.places(panel, self.few)

    def states(self, name, panel):
        """List where they stand and what was predicted while words are measured."""
        states = [(values, "-") for values in self.places(panel)]
        return [*states, *((starts_of(panel), guess) for guess in self.guesses[name])]

    def prepare(self, waiting):
        """Draw what is counted once, before a control is moved."""
        self.look_up(waiting)

    def look_up(self, waiting):
        """Draw what must not be counted anew."""
        for panel in waiting.values():
            for values in self.places(panel, self.looked_up):
                panel.picture_and_words(False, predicted="-", **values)

    def check_before(self, name, drawing, words):
        """Check what only this lesson shows while nothing is predicted."""

    @pytest.mark.parametrize("narrow", [False, True])
    def test_law_nothing_of_the_answer_shows_before(self, waiting, narrow):
        for name, panel in waiting.items():
            # first with the answer: nothing of it may stay in the ground of the picture
            told = panel.picture_and_words(narrow, predicted="-")
            told[0].png(1.0)
            for values in self.places_before(panel):
                drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
                assert "Predict first" in words.readout and not words.guess and not words.notes
                heard = f"{words.readout} {words.alt} {seen_text(drawing)}"
                assert not re.search(self.untold, heard), (name, values, heard)
                self.check_before(name, drawing, words)

    def test_law_what_is_not_told_before_is_told_afterwards(self, waiting):
        """So the pattern finds it."""
        told = ""
        for panel in waiting.values():
            drawing, words = panel.picture_and_words(False, predicted="-")
            told += f"{words.readout} {words.alt} {words.notes} {seen_text(drawing)}"
        assert re.search(self.untold, told)

    @pytest.mark.parametrize("narrow", [False, True])
    def test_law_no_words_overlap_or_leave_the_picture(self, waiting, narrow):
        for name, panel in waiting.items():
            for values, guess in self.states(name, panel):
                drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
                no_overlap(drawing, seen_words(drawing))

    def test_law_moving_a_control_only_looks_up(self, waiting, monkeypatch):
        self.prepare(waiting)
        for name in self.slow:
            monkeypatch.setattr(self.numbers, name, None)
        self.look_up(waiting)

    def test_law_all_have_few_settings(self, request):
        counts = {name: len(settings(request.getfixturevalue(name))) for name in self.copied}
        assert counts == self.copied

    def test_law_no_amount_is_said(self, every_panel):
        for panel in every_panel:
            for values in self.places(panel, self.spoken):
                drawing, words = panel.picture_and_words(False, predicted="-", **values)
                texts = [words.readout, words.alt, words.head, words.notes]
                texts += [text.get_text() for text in seen_words(drawing)]
                for text in texts:
                    rest = re.sub(self.no_amounts, "", text)
                    assert not VOLUME.search(rest) and not POUR.search(rest), text

    def test_law_no_panel_leads_to_the_planner(self, every_panel):
        assert any(panel.links for panel in every_panel) == self.leads_on

    def test_law_the_second_panel_waits_for_the_first_question_too(self):
        """It would tell the answer before that is asked."""
        KEPT.clear()
        first, second = self.first[0](), self.second[0]()
        panel = self.second[1](second, first)
        second.choice, second.reason = self.answered
        assert "Predict first" in panel.readout
        first.choice = "-"
        assert "Predict first" not in panel.readout

    def test_law_new_pupils_find_the_controls_as_they_were(self):
        KEPT.clear()
        first = self.first[0]()
        panel = self.first[1](first)
        first.choice = "-"
        panel.redraw(**self.moved)
        assert panel.values == {**self.starts, **self.moved}
        forget_all()
        assert panel.values == self.starts and "Predict first" in panel.readout


class ColouredPanels(LessonPanels):
    """Whose answer has colours of its own: not one point of them is there before."""

    colours: tuple[str, ...]

    def check_before(self, name, drawing, words):
        points = pixels(drawing)
        for colour in self.colours:
            distance = np.abs(points - ImageColor.getrgb(colour)).sum(axis=1)
            assert distance.min() > FAR, (name, colour)

    def test_the_same_colours_are_there_afterwards(self, waiting):
        for name, panel in waiting.items():
            drawing, _ = panel.picture_and_words(False, predicted="-")
            for colour in self.colours:
                assert has_colour(drawing, colour), (name, colour)
