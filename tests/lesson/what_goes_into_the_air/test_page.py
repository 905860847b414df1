"""What page 09 says: plain, short, nothing told before it is asked, no permission (laws)."""

import re

from helpers.lesson_page import LessonPage, plain, words_of

from pcbchem.lesson import test_an_offcut, what_goes_into_the_air
from pcbchem.lesson.what_goes_into_the_air import texts

page = what_goes_into_the_air
PERMISSION = re.compile(
    r"\b(is|are|be) (safe|fine|enough|harmless|allowed|permitted)\b|no danger|below the limit"
    r"|within the limit|\bsafely\b",
    re.IGNORECASE,
)


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "09_what_goes_into_the_air.ipynb"
    predictions = (page.air_prediction, page.mild_prediction)
    told = (page.why, page.read_acids, page.say_now)
    answers = r"27\u202f000|about 7 times|strong and wide|0\.016|less bad|times less"
    cautions = (
        "goggles",
        "upwind, never lean over it",
        "open air or in a working fume cupboard",
        "local rules",
        "healthy grown workers",
        "no number permits a room",
        "no kitchen hood, open window or garage is one",
        "acid of any strength and every bath: only there",
        "leave, keep others out, call for help",
        "emergency number",
        "even if well",
    )

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.by_hand()))) <= 65
        assert len(words_of(plain(texts.sources()))) <= 95
        assert len(words_of(plain(texts.weigh_water()))) <= 90

    def test_law_nothing_becomes_a_permission(self, text):
        assert not PERMISSION.search(text), PERMISSION.search(text)
        for planted in ("A garage is enough.", "It is safe", "Both are below the limit."):
            assert PERMISSION.search(planted)
        assert "no number permits anything" in page.why()
        assert "It changes nothing about where: outdoors." in page.read_acids()

    def test_law_what_has_no_number_is_said(self):
        for words in ("chlorine", "mist", "nobody has measured"):
            assert words in page.why()

    def test_law_only_water_is_weighed(self):
        told = page.say_now()
        assert told.index("**water only**, never acid or peroxide") < told.index("mL")
        assert told.count("mL") == 1

    def test_law_the_package_s_lines_are_seen_and_wait(self, cells):
        (package,) = (cell for cell in cells if cell["id"] == "package")
        source = "".join(package["source"])
        assert "source_hidden" not in str(package["metadata"])
        assert 'breathe(spill(100e-6, HCl=0.31), "shut room"' in source
        assert "print(" not in source and 'Afterwards(f"{gas * 1000:.1f} g", first)' in source

    def test_law_pages_before_and_after_are_linked(self, cells):
        source = "".join(cells[0]["source"])
        assert "(08_test_an_offcut.ipynb)" in source and "(00_plan_a_bath.ipynb)" in source
        assert "(10_after_the_last_board.ipynb)" in page.say_now()
        for school in (False, True):
            assert "(09_what_goes_into_the_air.ipynb)" in test_an_offcut.say_now(school)

    def test_law_the_unit_is_explained_at_its_first_use(self, cells):
        before = "".join(cells[0]["source"]) + "".join(cells[1]["source"])
        assert before.index("ppm") == before.index("*ppm*: litres of gas in a million litres") + 1
