"""What page 03 says: plain, short, nothing told before it is asked (laws)."""

from helpers.lesson_page import NOTEBOOKS, LessonPage, plain, words_of

from pcbchem.lesson import where_the_copper_goes as page
from pcbchem.lesson.where_the_copper_goes import texts


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "03_where_the_copper_goes.ipynb"
    predictions = (page.boards_prediction, page.bottle_prediction)
    told = (page.why, page.read_warmth, page.read_weaker, page.say_now)
    answers = r"5½|two acid|left over|take room|runs out first decides|5\.5|green"
    cautions = (
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "mix for one board",
        "down the drain",
    )

    def test_law_parts_are_short(self):
        where = page.read_warmth()
        sources = where[where.index("**Where") :]
        assert len(words_of(sources)) <= 90
        assert len(words_of(plain(texts.weigh_an_offcut()))) <= 80
        assert len(words_of(plain(texts.in_the_kitchen()))) <= 40

    def test_law_the_first_screen_says_which_acid(self, asked):
        assert "hydrochloric acid" in asked[0].question

    def test_law_the_reaction_stands_at_the_top(self, written):
        assert "Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O" in written[0]

    def test_law_an_offcut_is_an_etching_and_of_a_class_the_teacher_s(self, cells):
        """First the cautions, then what is weighed; a class sees neither weight nor way."""
        told, of_class = page.say_now(), page.say_now(school=True)
        order = ["(reference/cautions.md)", "the planner", "teacher alone", "Weigh an offcut"]
        assert sorted(order, key=told.index) == order
        assert (NOTEBOOKS / "reference" / "cautions.md").exists()
        assert "cm²" not in of_class and "1 oz" not in of_class and "0.61" not in of_class
        assert "Weighing an offcut: the teacher." in of_class
        for text in (told, of_class):
            assert "Never soda into a bath" in text and "What you can now say" in text
        source = {cell["id"]: "".join(cell["source"]) for cell in cells}
        assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]

    def test_law_the_package_s_lines_are_seen(self, cells):
        seen = [cell for cell in cells if cell["cell_type"] == "code" and not cell["metadata"]]
        assert len(seen) == 1 and "reserve(" in "".join(seen[0]["source"])

    def test_law_first_uses_are_explained(self):
        text = plain(" ".join(tell() for tell in type(self).told))
        assert "mmol (thousandths of a mole)" in text
        # the text has no mol/L; the question that has one says what it is
        assert "mol/L" not in text
        assert "1 mol/L is 1 mmol in each mL" in page.copper_questions(1)[0].text
        first, *later = (text.index(word) for word in ("plausible baths", "baths so thin"))
        assert "Nobody knows every number of a bath" in text[:first] and first < later[0]

    def test_law_pages_before_and_after_are_linked(self, cells):
        source = "".join(cells[0]["source"])
        assert "(02_acid_into_water.ipynb)" in source and "(00_plan_a_bath.ipynb)" in source
        assert "(04_why_water_slows_it.ipynb)" in page.say_now()
        after = (NOTEBOOKS / "04_why_water_slows_it.ipynb").read_text(encoding="utf-8")
        assert f"({self.name})" in after

    def test_law_what_runs_out_is_asked_in_the_title_and_answered_nowhere(self, written, asked):
        before = " ".join([*written, *(prediction.question for prediction in asked)])
        assert before.count("runs out") == 1
