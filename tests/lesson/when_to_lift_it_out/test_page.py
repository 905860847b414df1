"""What page 07 says: plain, short, nothing told before it is asked (laws)."""

from helpers.lesson_page import LessonPage, plain, words_of

from pcbchem.lesson import when_to_lift_it_out as page
from pcbchem.lesson.when_to_lift_it_out import texts


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "07_when_to_lift_it_out.ipynb"
    predictions = (page.trace_prediction, page.foil_prediction)
    told = (page.why, page.read_inspection, page.read_foils, page.say_now)
    answers = r"0\.155|0\.15 mm|sideways|as much as the last|thin foil|costs \d+ µm"
    cautions = (
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "45 °c",
        "never above your face",
        "drain",
    )

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.sources()))) <= 110
        assert len(words_of(plain(texts.etch_an_offcut()))) <= 105
        assert len(words_of(plain(page.read_inspection()))) <= 150

    def test_law_published_factors_stand_on_the_page(self, text):
        """Beside ours, with what differs, right under the first picture."""
        assert "etch factor" in text and page.why().count("published") == 2
        assert page.why().index("a guess") < page.why().index("published")

    def test_law_the_package_s_lines_are_seen(self, cells):
        package = next(cell for cell in cells if cell["id"] == "package")
        assert "widths(200e-6, foil.thickness, factor=1.5).top" in "".join(package["source"])
        assert "source_hidden" not in str(package["metadata"])

    def test_law_what_the_package_prints_waits_too(self, cells):
        """It is the answer: nothing may print it before the prediction."""
        code = "".join("".join(cell["source"]) for cell in cells)
        assert "print(" not in code and 'Afterwards(f"{width * 1e6:.0f} µm", first)' in code

    def test_law_what_film_means_elsewhere_is_not_said_here(self, text):
        """On other pages it is the liquid at the copper; a layer that is left is a haze."""
        assert "film" not in text.lower()

    def test_law_it_leads_on(self):
        assert "(00_plan_a_bath.ipynb)" in page.say_now() and "(00_plan_a_bath" in page.say_now(
            True
        )
