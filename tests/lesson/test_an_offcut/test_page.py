"""What page 08 says: plain, short, nothing told before it is asked (laws)."""

from helpers.lesson_page import LessonPage, plain, words_of

from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.lesson import test_an_offcut as page
from pcbchem.lesson.test_an_offcut import texts
from pcbchem.lesson.test_an_offcut.numbers import MOST_OFFCUTS, START


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "08_test_an_offcut.ipynb"
    predictions = (page.width_prediction, page.times_prediction)
    told = (page.why, page.read_times, page.say_now)
    answers = r"1\.[45]\d|like the board|half-way|the step stays|evens out"
    cautions = (
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "45 °c",
        "never above your face",
        "drain",
        "never closed",
        "nothing is mixed in the lesson",
        "a bath that the planner refuses has no offcut",
        "the board gets a fresh one too, never an offcut's",
        "one offcut at a time",
    )

    def test_law_sentences_are_short(self, text):
        """But for what is said of every calibrated time, word for word."""
        super().test_law_sentences_are_short(text.replace(ABOUT_TIME, ""))

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.by_hand()))) <= 80
        assert len(words_of(plain(texts.sources()))) <= 90
        assert len(words_of(plain(texts.prove_it()))) <= 90

    def test_law_there_is_room_for_a_bench_of_one_s_own(self, cells):
        """One cell more before the way back up."""
        assert len(cells) - 1 <= 9

    def test_law_the_package_s_lines_are_seen(self, cells):
        package = next(cell for cell in cells if cell["id"] == "package")
        assert "calibrate(Log.of(bench.log.offcuts[:1]))" in "".join(package["source"])
        assert "source_hidden" not in str(package["metadata"])

    def test_law_what_the_package_prints_waits_too(self, cells):
        code = "".join("".join(cell["source"]) for cell in cells)
        assert "print(" not in code and 'time.high / 60:.1f} min", first)' in code

    def test_law_what_is_assumed_is_said(self, text):
        assert "*assumed*" in page.why() and "made up" in text

    def test_law_it_leads_on(self):
        for school in (False, True):
            assert "(00_plan_a_bath.ipynb)" in page.say_now(school)

    def test_law_the_package_s_bench_is_the_first_one(self, cells):
        package = next(cell for cell in cells if cell["id"] == "package")
        assert f"made_up({START}, offcuts={MOST_OFFCUTS})" in "".join(package["source"])

    def test_law_a_class_gets_the_words_for_a_class(self, cells):
        code = "".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
        assert "funnel_panel(first, school=SCHOOL)" in code
        assert "times_panel(second, first, school=SCHOOL)" in code
        assert "say_now(SCHOOL)" in code

    def test_law_the_bath_is_watched_all_the_time(self, asked):
        """Whoever only looks at the copper must not learn to leave a tray alone."""
        assert "watches bath and thermometer all the time" in asked[1].question
