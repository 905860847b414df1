"""What page 11 says: plain, short, no minutes, no thickness to wait for, no recipe (laws)."""

import re

import numpy as np
from helpers.lesson_page import LessonPage
from helpers.permissions import permissions

from pcbchem.bench.resist import MOST_STRENGTH, NO_MINUTES, lye_mass
from pcbchem.lesson import developer_and_tin as page
from pcbchem.lesson.developer_and_tin.numbers import LYE, WATER, fresh
from pcbchem.lesson.developer_and_tin.why_questions import SETTINGS


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "11_developer_and_tin.ipynb"
    predictions = (page.lye_prediction, page.tin_prediction)
    told = (page.why, page.read_tin, page.say_now)
    answers = r"carbon dioxide|soda|6\.3|clings|peroxide kills|boards at the latest"
    cautions = (
        "sealed goggles",
        "lye into cold water",
        "never water onto lye",
        "no aluminium",
        "never near acid",
        "lenses out while you rinse",
        "never vinegar",
        "board rinsed and dry",
        "no drink bottle",
        "30 minutes",
        "emergency number",
        "under 18",
        "acetone",
        "explosive",
        "thiourea",
        "unborn child",
        "nobody who is or could be pregnant",
        "a labelled tub of its own",
        "nothing down the drain",
        "local rules",
    )

    def test_law_eyes_come_first(self, cells):
        """What blinds stands before what smells, and first help before acetone and tin."""
        before = "".join(cells[1]["source"])
        places = [before.index(word) for word in ("Lye blinds", "In an eye", "Acetone", "thiourea")]
        assert places == sorted(places)

    def test_law_nothing_that_is_told_permits_or_promises(self, text, asked):
        """No minutes for a film, no tin to wait for, in replies and questions too."""
        texts = [text]
        for prediction in asked:
            options = [*prediction.options.values(), *prediction.reasons.values()]
            texts += [words for option in options for words in (option.words, option.reply)]
        for seed in range(12):
            for question in page.bath_questions(seed):
                texts += [question.text, question.explanation]
        for setting in SETTINGS:
            made = setting(np.random.default_rng(1))
            texts += [words for pair in (made.right, *made.wrong) for words in pair]
        found = [each for words in texts for each in permissions(words)]
        assert found == []
        # and the laws see what they should
        assert permissions("Develop the film for 2 minutes in lye.")
        assert permissions("The tin bath gives 2 µm of tin.")

    def test_law_no_minutes_and_no_recipe_are_said(self, text):
        assert NO_MINUTES in page.why()
        assert "No recipe stands here" in text and "your bath's label counts" in text
        assert not re.search(r"\d\s*(g|grams) of (thiourea|tin)", text)

    def test_law_the_developer_is_far_from_what_is_refused(self):
        assert float(lye_mass(fresh())) < MOST_STRENGTH / 3
        assert LYE / WATER * 1000 < 15, "as practice has it"

    def test_law_a_class_touches_no_lye(self, cells):
        told, of_class = page.say_now(), page.say_now(school=True)
        assert "(reference/cautions.md)" in told and "vinegar" in told
        assert "vinegar" not in of_class and "A class tries nothing here" in of_class
        source = {cell["id"]: "".join(cell["source"]) for cell in cells}
        assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]

    def test_law_the_package_s_lines_are_seen(self, cells):
        package = next(cell for cell in cells if cell["id"] == "package")
        assert "lye_strength(" in "".join(package["source"])
        assert "source_hidden" not in str(package["metadata"])
        assert "Afterwards(" in "".join(package["source"])

    def test_law_it_leads_back_to_the_planner(self, cells):
        assert re.findall(r"\w+\.ipynb", page.say_now(True)) == ["00_plan_a_bath.ipynb"]
        assert "(10_after_the_last_board.ipynb)" in "".join(cells[0]["source"])
