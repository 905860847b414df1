"""Questions of page 04: each answer and slip recognised, steps right as printed, by hand (law).

The tests by hand read the numbers from the question as it is printed, as a learner does. All
questions with numbers are looked at here, those that go back to earlier lessons among them.
"""

import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import few_of_the_page, numbers

from pcbchem.bench.plan.dilution import film_at_start
from pcbchem.lesson.review_questions import REVIEW_QUESTIONS, ROOM, MildBath
from pcbchem.lesson.why_water_slows_it import questions as asking
from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.matter.solution import Solution, mix
from pcbchem.page import Check
from pcbchem.page.answers import Question, judge, read_answer
from pcbchem.reaction.bath.bath import etch
from pcbchem.reaction.bath.setup import Tray

SEEDS = range(500)
TABLES = range(1, 41)
SHEETS = (0, 40, 80)
FEWEST_OF_40 = 25
SOME = (1, 2, 3, 4, 5, 10, 47, 100)
# an idea of the hint of each slip, in their order
HINTS = {
    "film": (
        "You added. ",
        "added the two losses",
        "strength alone",
        "film alone",
        "counted the strength twice",
        "divided by the film",
        "what is left",
    ),
    "time": (
        "is not 3.40 min",
        "added the minutes",
        "Strength alone",
        "counted the strength twice",
        "Those are seconds",
        "how many times longer",
        "You divided",
        "the strength as well",
    ),
    "strength": (
        "By weight means",
        "left out the peroxide",
        "That is the bottle",
        "water that is added",
        "one part of acid",
    ),
    "volumes": ("That is half", "Volumes are no %", "grams in 100 mL", "moles of oxygen"),
    "copper": ("twice too much", "the two round", "That is half"),
    "warmth": (
        "shows °F",
        "right in °F",
        "forgot to subtract",
        "the rise for °F",
        "how much it gets",
    ),
}
STEP = re.compile(
    r"([\d.]+)(?: [^\d\s=]+)? ([×÷+−]) ([\d.]+)(?: [^\d\s=]+)? = ([\d.]*\d)(?! \w+ [×÷])(?![\d.])"
)


@pytest.fixture(scope="module")
def every():
    """Every question of the first 500 seeds; a RangeWarning in any would be an error."""
    reviews = [ask(np.random.default_rng(seed)) for ask in REVIEW_QUESTIONS for seed in SEEDS]
    return [*of_the_page(SEEDS), *reviews]


def of_the_page(seeds):
    """The questions that want a number, of some seeds."""
    asked = [question for seed in seeds for question in water_questions(seed)]
    return [question for question in asked if isinstance(question, Question)]


def of_key(questions, key):
    return [question for question in questions if question.key == key]


def test_law_two_are_about_the_page_and_one_goes_back():
    """Back to the one that names no amount: a class sees none on this page."""
    asked = of_the_page(SEEDS)
    assert [question.from_lesson != "" for question in asked] == [False, False, True] * len(SEEDS)
    for first in SOME:
        keys = [question.key for question in water_questions(first)]
        assert keys == ["film", "time", "why", "strength"]
    for question in asked:
        # a litre in which something is counted is none that is poured
        shown = question.text.replace("1 L of", "").replace("weighs", "")
        assert not re.search(r"\d (?:mL|L|kg)\b(?!/)", shown), shown


def test_law_the_page_does_not_print_an_answer(every):
    films = asking.dilution(bath("mild", agitation="still"), [0, 2]).film
    before, after = films["thickness"]
    for question in of_key(every, "film"):
        weaker, _, thick = numbers(
            r"made ([\d.]+) times weaker .* from (\d+) µm to (\d+) µm", question.text
        )
        assert abs(weaker - 2) > 0.04 and abs(thick - 1e6 * after) > 2
        assert abs(question.answer - 2 * after / before) > question.margin(question.answer)
    # it could: nothing but the question's own choice keeps it out
    assert asking.PRINTED in asking.WEAKER


def test_law_an_earlier_lesson_is_named_by_its_words(every):
    assert {q.from_lesson for q in [*of_key(every, "strength"), *of_key(every, "volumes")]} == {
        "what is in the bottle"
    }
    # a number would name a page, and the earlier pages are not in the folder yet
    assert not re.search(r"\d", "".join(q.from_lesson for q in every))


def test_law_numbers_vary_with_the_seed_alone(every):
    for key in HINTS:
        assert len({q.text for q in of_key(every, key)}) >= 20


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("place", (0, 1))
def test_law_tables_differ(sheet, place):
    answers = {round(water_questions(table + sheet)[place].answer, 2) for table in TABLES}
    assert len(answers) >= FEWEST_OF_40


def test_law_a_table_gets_other_settings_on_each_sheet():
    for table in TABLES:
        texts = [water_questions(table + sheet)[2].text for sheet in SHEETS]
        assert len(set(texts)) == len(texts)


def test_law_the_fields_say_what_is_asked_for():
    def with_numbers(seed):
        return [question for question in water_questions(seed) if isinstance(question, Question)]

    asks = Check(with_numbers, seed=4).asks
    assert [ask["key"] for ask in asks] == ["film", "time", "strength"]
    assert [ask["label"] for ask in asks] == [
        "Your answer: how many times less",
        "Your answer in minutes",
        "Your answer in mol/L",
    ]


@pytest.mark.parametrize("key", HINTS)
def test_law_no_learner_loses_a_hint(every, key):
    """Every slip of each kind at every seed."""
    for question in of_key(every, key):
        ideas = list(HINTS[key])
        if key == "strength" and not re.search("parts? of water", question.text):
            del ideas[2:4]  # the bottle is then the slip with the peroxide's water; none is added
        if key == "strength" and "1 part of 10 % acid" in question.text:
            ideas.pop()  # there is one part of it
        hints = [hint for _, hint in question.slips]
        assert len(hints) == len(ideas), question
        for idea, hint in zip(ideas, hints, strict=True):
            assert idea in hint, question


def test_law_each_step_of_an_explanation_is_right_as_printed(every):
    steps = dict.fromkeys(HINTS, 0)
    for question in every:
        found = STEP.findall(question.explanation)
        right_as_printed(found)
        steps[question.key] += len(found)
    # more than one part of acid takes a step more
    steps["strength"] -= sum(
        "1 part of 10 %" not in each.text for each in of_key(every, "strength")
    )
    for key, count in {
        "film": 2,
        "time": 2,
        "warmth": 4,
        "strength": 2,
        "volumes": 4,
        "copper": 3,
    }.items():
        assert steps[key] == count * len(of_key(every, key)), key


def test_law_an_explanation_comes_to_the_answer(every):
    for question in every:
        place = 1 if question.key in ("film", "time") else -1
        result = STEP.findall(question.explanation)[place][3]
        text = f"{result} s" if question.key == "time" else result
        assert judge(question, text).grade == "right", question


def test_law_a_strength_is_shown_to_three_digits(every):
    results = [
        re.search(r"= (\S+) mol/L\.$", question.explanation)[1]
        for question in of_key(every, "strength")
    ]
    assert {len(text.replace(".", "").lstrip("0")) for text in results} == {3}
    assert any(text.startswith("0") for text in results)


@pytest.mark.parametrize(
    "idea, words",
    [
        ("the volume of the peroxide", "left out the peroxide"),
        ("weight taken as w/v", "By weight"),
        ("°F for °C", "shows °F"),
        ("a factor of two in acid", "two acid"),
        ("strength for time", "Strength alone"),
        ("added, not multiplied", "You added. "),
        ("seconds as hundredths", "is not 3.40 min"),
        ("strength alone", "strength alone"),
        ("the film alone", "film alone"),
        ("the ratio for a time", "Times which time"),
        ("the bottle, not diluted", "That is the bottle"),
    ],
)
def test_law_every_slip_is_in_the_pool(every, idea, words):
    assert any(words in hint for question in every for _, hint in question.slips), idea


def test_law_only_mild_mixtures_are_named(every):
    for question in every:
        text = question.text + question.explanation
        for strength in re.findall(r"([\d.]+) % (?:acid|peroxide)", text):
            assert float(strength) <= 12, text
        for strength in re.findall(r"([\d.]+) % acid", text):
            assert float(strength) == 10
        assert "nan" not in text and "inf" not in text


@pytest.mark.parametrize("seed", SOME)
def test_law_film_by_hand_from_what_is_printed(seed):
    question = water_questions(seed)[0]
    weaker, thin, thick = numbers(
        r"made ([\d.]+) times weaker .* from (\d+) µm to (\d+) µm", question.text
    )
    by_hand = weaker * thick / thin
    assert question.answer == pytest.approx(by_hand, rel=1e-12) and question.unit == "timesless"
    for way in ("{}", "×{}", "{} times less", "{} times less copper each second"):
        assert judge(question, way.format(f"{by_hand:.2f}")).grade == "right"
    assert "strength alone" in judge(question, f"{weaker} times").words
    assert "film alone" in judge(question, f"{thick / thin:.2f}").words
    assert "You added. " in judge(question, f"{weaker + thick / thin:.2f}").words
    lost = (weaker - 1) + (thick / thin - 1)
    assert "added the two losses" in judge(question, f"{1 + lost:.2f}").words
    assert "strength twice" in judge(question, f"{weaker * weaker:.2f}").words
    assert "divided by the film" in judge(question, f"{weaker * thin / thick:.3f}").words
    assert "what is left" in judge(question, f"{100 / by_hand:.1f} %").words
    assert "a time" in judge(question, "3 min").words


def mixed_by_hand(water):
    """One part of 10 % acid, one of 12 % peroxide that has faded to 85-100 %, and water."""
    acid = Solution.of(volume=1.0, T=293.15, HCl=0.10)
    peroxide = Solution.of(volume=1.0, T=293.15, H2O2=0.12 * 0.925)
    if not water:
        return mix(acid, peroxide)
    return mix(Solution.of(volume=water, T=293.15), acid, peroxide)


def test_law_the_film_is_the_models_own():
    """And what it says of the copper is near: dilution and flux apart from the page's course."""
    for question in few_of_the_page("film"):
        weaker, thin, thick = numbers(
            r"made ([\d.]+) times weaker .* from (\d+) µm to (\d+) µm", question.text
        )
        films = []
        for water in (0.0, 2 * weaker - 2):
            bath = mixed_by_hand(water)
            strengths = (bath.concentration("HCl"), bath.concentration("H2O2"))
            films.append(film_at_start(*strengths, bath.T, 27e-4, Tray(agitation="still")))
        # half a µm by rounding, and 1 % for what the middle of a faded bottle is
        for printed, film in zip((thin, thick), films, strict=True):
            thickness = 1e6 * film["thickness"]
            assert printed == pytest.approx(thickness, abs=0.5 + 0.01 * printed)
        copper = films[0]["copper"] / films[1]["copper"]
        (printed,) = numbers(r"says ([\d.]+)\.", question.explanation)
        assert printed == pytest.approx(copper, rel=0.01)
        assert question.answer == pytest.approx(copper, rel=0.03)
        assert copper > question.answer * 0.97


@pytest.mark.parametrize("seed", SOME)
def test_law_time_by_hand_from_what_is_printed(seed):
    question = water_questions(seed)[1]
    match = re.search(
        r"off a board in (.*?)\. .*thinner copper, takes (.*?)\. .*are ([\d.]+) times weaker, "
        r".*takes (.*?)\. If",
        question.text,
    )
    board, before, after = (read_answer(match[place], "time", "min") for place in (1, 2, 4))
    weaker = float(match[3])
    by_hand = board * after / before
    assert question.answer == pytest.approx(by_hand, rel=1e-12)
    (printed,) = numbers(r"itself the model says ([\d.]+) min", question.explanation)
    # without running down and warming less the offcuts would tell the board's time
    assert by_hand < 60 * printed < 1.25 * by_hand
    # water costs more than its share here: that is what the question is about
    assert after / before > 1.15 * weaker
    assert judge(question, f"{by_hand:.0f} s").grade == "right"
    assert "Strength alone" in judge(question, f"{board * weaker / 60:.1f} min").words
    assert "strength twice" in judge(question, f"{board * weaker**2 / 60:.2f} min").words
    # 4 min 50 s typed into a calculator as 4.50
    minutes, rest = re.fullmatch(r"(\d+) min (\d+) s", match[1]).groups()
    as_read = float(f"{minutes}.{rest:0>2}") * after / before
    assert "3.40" in judge(question, f"{as_read:.2f}").words
    assert "are seconds" in judge(question, f"{by_hand:.0f}").words, "as if they were minutes"
    assert "added the minutes" in judge(question, f"{board + after - before:.0f} s").words
    assert "Times which time?" in judge(question, f"{after / before:.2f}").words
    assert "You divided" in judge(question, f"{board * before / after:.1f} s").words
    assert "by the strength as well" in judge(question, f"{by_hand * weaker:.0f} s").words


def test_law_why_the_board_takes_longer_than_the_offcuts_say():
    """More copper warms the undiluted bath more and runs the diluted one down more: no more."""
    tray = Tray(agitation="still", T_air=ROOM)
    pair = [MildBath((water, 1.0, 1.0), 12.0, 150e-6).mixed() for water in (0.0, 1.2)]

    def longer(*without):
        times = []
        for ounces in (1.0, 0.5):
            strong, weak = (
                float(etch(mixture, tide_clock(ounces), tray, without=without).time_to_clear)
                for mixture in pair
            )
            times.append(weak / strong)
        board, offcut = times
        return board / offcut

    assert longer("depletion", "bath heating") == pytest.approx(1, abs=0.005)
    assert longer() > longer("bath heating") > 1.02
    assert longer() > longer("depletion") > 1.01
