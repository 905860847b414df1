"""What page 06 says: plain, short, nothing told before it is asked (laws)."""

from helpers.lesson_page import NOTEBOOKS, LessonPage, plain, words_of

from pcbchem.lesson import weak_peroxide as page
from pcbchem.lesson.weak_peroxide import texts


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "06_weak_peroxide.ipynb"
    predictions = (page.enough_prediction, page.strong_prediction)
    told = (page.why, page.read_strong, page.say_now)
    answers = r"brown|into oxygen|chloride|97|145|copper\(I\)"
    cautions = (
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "never closed",
        "down the drain",
        "drawn only",
    )

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.sources()))) <= 90
        assert len(words_of(plain(texts.two_offcuts()))) <= 120

    def test_law_the_first_screen_says_which_acid(self, asked):
        assert "hydrochloric acid" in asked[0].question and "drawn only" in asked[0].question

    def test_law_offcuts_are_etchings_and_of_a_class_the_teacher_s(self, cells):
        """First the cautions, then what is etched; a class sees neither bath nor way."""
        told, of_class = page.say_now(), page.say_now(school=True)
        order = ["(reference/cautions.md)", "the planner", "teacher alone", "two offcuts"]
        assert sorted(order, key=told.index) == order
        assert (NOTEBOOKS / "reference" / "cautions.md").exists()
        assert "cm²" not in of_class and "1 oz" not in of_class and "10 %" not in of_class
        assert "A class tries nothing here" in of_class and "What you can now say" in of_class
        source = {cell["id"]: "".join(cell["source"]) for cell in cells}
        assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]

    def test_law_the_package_s_lines_are_seen(self, cells):
        seen = [cell for cell in cells if cell["cell_type"] == "code" and not cell["metadata"]]
        assert len(seen) == 1 and "cuprous_held(" in "".join(seen[0]["source"])

    def test_law_first_uses_are_explained(self):
        text = plain(" ".join(tell() for tell in type(self).told))
        assert text.index("mol/L (moles in a litre)") == text.index("mol/L")
        assert "Nobody knows every number of a bath" in text[: text.index("plausible baths")]

    def test_law_the_planner_is_linked_and_cautions_before_the_trial(self, cells):
        assert "(00_plan_a_bath.ipynb)" in "".join(cells[0]["source"])
        assert "(00_plan_a_bath.ipynb)" in page.say_now()
