"""What page 05 says: plain, short, nothing told before it is asked (laws)."""

import re

from helpers.lesson_page import NOTEBOOKS, LessonPage, plain, words_of

from pcbchem.lesson import warm_baths as page
from pcbchem.lesson.warm_baths import texts
from pcbchem.lesson.warm_baths.numbers import MILD, hour_after


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "05_warm_baths.ipynb"
    predictions = (page.jar_prediction, page.weak_prediction)
    told = (page.read_it, page.read_weak, page.say_now)
    answers = r"to 42 °C|falling apart|falls apart|through its surface|65 °C|less than 1 °C"
    cautions = (
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "open in its flat tray",
        "never closed",
        "stay upwind and in sight",
        "nobody tries these curves",
        "at 45 °c",
        "swimming baths",
    )

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.how_sure(hour_after(MILD))))) <= 115
        assert len(words_of(plain(texts.in_the_kitchen()))) <= 90
        assert len(words_of(plain(texts.at_the_tray()))) <= 50

    def test_law_the_first_screen_says_which_acid(self, asked):
        assert "hydrochloric acid" in asked[0].question

    def test_law_what_is_not_known_is_said_with_what_it_does(self):
        told = texts.how_sure(hour_after(MILD))
        assert "a guess a thousandfold wide" in told and "must not make a bath look cooler" in told
        assert "No flat tray is safe by this" in told and "peroxide stays for days" in told

    def test_law_a_class_measures_water_alone(self, cells):
        told, of_class = page.say_now(), page.say_now(school=True)
        assert "(reference/cautions.md)" in told and "Never try the jar" in told
        assert (NOTEBOOKS / "reference" / "cautions.md").exists()
        assert "thermometer" not in of_class and "Never try the jar" in of_class
        for text in (told, of_class):
            assert "Water alone" in text and "Hot water scalds" in text
            assert "What you can now say" in text and "Not tried by us" in text
        source = {cell["id"]: "".join(cell["source"]) for cell in cells}
        assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]

    def test_law_the_package_s_lines_are_seen(self, cells):
        seen = [cell for cell in cells if cell["cell_type"] == "code" and not cell["metadata"]]
        assert len(seen) == 1 and "ceiling(" in "".join(seen[0]["source"])

    def test_law_first_uses_are_explained(self, asked):
        told = plain(" ".join(tell() for tell in type(self).told))
        first = told.index("mol/L")
        assert re.match(r"mol/L of peroxide +\( ?mol/L +counts", told[first:])
        assert "Nobody knows every number of a bath" in asked[0].question

    def test_law_pages_before_and_after_are_linked(self, cells):
        source = "".join(cells[0]["source"])
        assert "(04_why_water_slows_it.ipynb)" in source and "(00_plan_a_bath.ipynb)" in source
        assert "(06_weak_peroxide.ipynb)" in page.say_now()

    def test_law_no_text_calms(self, text):
        """A used bath is watched, whatever the numbers say."""
        assert not re.search(r"\bis safe\b(?! by this)|harmless|no danger|nothing to fear", text)
        assert "at least an hour, and until it is back at air temperature" in text
