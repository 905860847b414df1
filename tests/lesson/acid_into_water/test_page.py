"""What page 02 says: plain, short, nothing told before it is asked, one name for a thing (laws)."""

import re

import pytest
from helpers.lesson_page import LONGEST, NOTEBOOKS, SENTENCE, LessonPage

from pcbchem.lesson import acid_into_water as page
from pcbchem.lesson.acid_into_water.texts import read_it, read_peroxide


def why():
    """The text with a rise of the package."""
    return page.why(6.6)


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "02_acid_into_water.ipynb"
    predictions = (page.jug_prediction, page.first_prediction)
    told = (read_it, why, read_peroxide, page.prove_it_wrong, page.say_now)
    answers = r"26 °C|31 °C|6\.4|6\.6|same heat free|is the water here"
    cautions = ("goggles", "outdoors or in a working fume cupboard", "local rules", "lungs")

    def test_law_the_package_s_lines_are_seen(self, cells):
        """Two or three of them, unfolded, and what they compute is handed to what waits."""
        (cell,) = [cell for cell in cells if "mix(acid, water)" in "".join(cell["source"])]
        assert not cell["metadata"].get("jupyter", {}).get("source_hidden", False)
        assert len("".join(cell["source"]).splitlines()) <= 4
        assert "Afterwards(" in "".join(cell["source"])

    def test_law_strong_acid_is_drawn_only(self, asked):
        """Wherever it can be chosen or is asked about, and no way leads from it to the planner."""
        panel = page.water_panel(asked[0])
        for words in panel.controls[1].options.values():
            assert words.endswith("(drawn only)") or words == "10 %"
        for each in (panel, page.peroxide_panel(asked[1])):
            assert not each.links and not each.handed and not each.file

    def test_law_the_reader_finds_the_pages_beside(self):
        source = (NOTEBOOKS / self.name).read_text(encoding="utf-8")
        assert "01_what_is_in_the_bottle.ipynb" in source and "00_plan_a_bath.ipynb" in source
        assert "03_where_the_copper_goes.ipynb" in page.say_now()

    @pytest.mark.parametrize("other", ["beaker", "hydrogen chloride", "muriatic bottle", "film"])
    def test_law_one_thing_has_one_name(self, text, other):
        assert other not in text

    def test_law_replies_are_short(self, asked):
        replies = [
            option.reply
            for prediction in asked
            for option in [*prediction.options.values(), *prediction.reasons.values()]
        ]
        parts = SENTENCE.split("\n\n".join(replies))
        assert [part for part in parts if len(part.split()) > LONGEST] == []

    def test_law_neither_code_nor_a_later_question_tells(self, asked, cells):
        """What the later question offers is read before the first one is answered."""
        before = " ".join(option.words for option in asked[1].options.values())
        before += " ".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
        assert not re.search(rf"{self.answers}|both (end )?alike|equally warm|as warm", before)
        # no cell prints: what is computed waits in a text
        assert "print" not in before
