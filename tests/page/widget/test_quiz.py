"""Questions, predictions and checks: answers by hand from outside sources, slips kept apart, errors kept.

Validation and laws. The tests by hand read the numbers from the question as it is printed, as a learner does.
"""

import csv
import html
import itertools
import re
import warnings
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from pcbchem.bench.plan.dilution import film_at_start
from pcbchem.lesson import review_questions as earlier
from pcbchem.lesson.review_questions import TRIES, apart
from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.matter.solution import Solution, mix
from pcbchem.page.answers import Question, judge, read, written
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import quiz
from pcbchem.page.widget.controls import Said, Slider
from pcbchem.page.widget.panel import PANELS, Panel
from pcbchem.reaction.bath.setup import Tray

PUBLISHED = Path(__file__).parents[2] / "published"
SEEDS = range(500)
SOME = (1, 2, 3, 4, 5, 10, 47, 100)
# IUPAC 2021 standard atomic weights [g/mol]
CU, HCL = 63.546, 1.008 + 35.45
COUNT = itertools.count()
OPTIONS = {"a": "×1.3", "b": "×1.6", "c": "×2–3", "d": "×6–7"}


@pytest.fixture(scope="module")
def every():
    """Every question of the first 500 seeds; a RangeWarning in any would be an error."""
    return [question for seed in SEEDS for question in water_questions(seed)]


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()


def numbers(pattern, text):
    """The numbers that a question prints, by a pattern with one group each; ½ counts."""
    found = re.search(pattern, text)
    assert found, (pattern, text)
    return [float(re.sub("½", ".5", group)) if group else 0.0 for group in found.groups()]


@cache
def few():
    """Every question of the first 24 seeds."""
    return [question for seed in range(24) for question in water_questions(seed)]


def asked_of(key):
    """The questions of one key among those."""
    return [question for question in few() if question.key == key]


def test_law_two_questions_are_about_the_page_and_the_third_goes_back_in_turn(every):
    assert [q.from_lesson != "" for q in every] == [False, False, True] * len(SEEDS)
    assert [q.key for q in every[0::3]] == ["film"] * len(SEEDS) and {
        q.key for q in every[1::3]
    } == {"time"}
    assert not any("made 1.6 times weaker" in q.text for q in every), (
        "the page prints the answer for that one"
    )
    for first in SOME:
        assert {water_questions(first + more)[2].key for more in range(3)} == {
            "strength",
            "copper",
            "warmth",
        }
    assert {q.from_lesson for q in every if q.key == "strength"} == {"what is in the bottle"}
    assert not re.search(r"\d", "".join(q.from_lesson for q in every)), (
        "the earlier lessons are not in the folder yet"
    )
    assert water_questions(7) == water_questions(7)
    for key in {q.key for q in every}:
        assert len({q.text for q in every if q.key == key}) >= 20, "the numbers vary with the seed"


def test_law_slips_are_farther_than_the_tolerance_from_the_answer_and_from_one_another(every):
    for question in every:
        values = [question.answer, *(value for value, _ in question.slips)]
        for i, first in enumerate(values):
            for second in values[:i]:
                assert abs(first - second) > question.margin(first) + question.margin(second), (
                    question
                )


def test_law_no_learner_loses_a_hint(every):
    # every slip of each kind at every seed; without water the bottle is the same slip as the peroxide's water
    for key, words in (
        ("film", "strength alone. film alone. what is left"),
        ("time", "Strength alone. how many times longer. You divided. the strength as well"),
        ("strength", "By weight means. already in the peroxide. That is the bottle"),
        ("copper", "twice too much. the two round. That is half"),
        ("warmth", "shows °F. right in °F. forgot to subtract. the rise for °F. how much it gets"),
    ):
        for question in (q for q in every if q.key == key):
            wanted = words.split(". ")
            if key == "strength" and not re.search("parts? of water", question.text):
                wanted.pop()
            hints = [hint for _, hint in question.slips]
            assert len(hints) == len(wanted), question
            assert all(idea in hint for idea, hint in zip(wanted, hints, strict=True)), question


def test_law_each_answer_and_each_slip_is_recognised_as_it_would_be_written(every):
    for question in every[::7]:
        assert (
            judge(question, written(question.answer, question.kind, question.unit)).found == "right"
        )
        for value, hint in question.slips:
            verdict = judge(question, written(value, question.kind, question.unit))
            assert verdict.found == "slip" and hint in verdict.words


def test_law_numbers_are_drawn_until_the_slips_stand_apart():
    def asking(*slips):
        drawn = iter(slips)
        return apart(
            lambda rng: Question(
                "?", "?", "ratio", "", 1.0, 0.03, ((1.5, "one"), (next(drawn), "two")), "?"
            )
        )

    rng = np.random.default_rng(1)
    # 3 % of both: 1.02 lies at the answer, 1.51 and 1.59 at the first slip
    assert asking(1.02, 1.51, 1.59, 1.6, 3.0)(rng).slips[1][0] == 1.6
    with pytest.raises(RuntimeError, match="never stood apart"):
        asking(*[1.02] * TRIES, 3.0)(rng)


STEP = re.compile(
    r"([\d.]+)(?: [^\d\s=]+)? ([×÷+−]) ([\d.]+)(?: [^\d\s=]+)? = ([\d.]*\d)(?! \w+ [×÷])(?![\d.])"
)
DO = {
    "×": lambda a, b: a * b,
    "÷": lambda a, b: a / b,
    "+": lambda a, b: a + b,
    "−": lambda a, b: a - b,
}


def test_law_each_step_of_an_explanation_is_right_as_printed(every):
    found = {}
    for question in every:
        for first, way, second, result in STEP.findall(question.explanation):
            half = 0.5 * 10.0 ** -len(result.partition(".")[2])
            assert abs(DO[way](float(first), float(second)) - float(result)) <= half * 1.001, (
                question.explanation
            )
            found.setdefault(question.key, []).append(result)
    assert {
        key: len(results) / len([q for q in every if q.key == key])
        for key, results in found.items()
    } == {"film": 2, "time": 2, "warmth": 4, "strength": 2, "copper": 3}
    for question in every:
        last = STEP.findall(question.explanation)[1 if question.key in ("film", "time") else -1][3]
        assert judge(question, f"{last} s" if question.key == "time" else last).found == "right", (
            question
        )


def test_law_a_strength_is_shown_to_three_digits(every):
    shown = [re.search(r"= (\S+) mol/L\.$", q.explanation)[1] for q in every if q.key == "strength"]
    assert {len(text.replace(".", "").lstrip("0")) for text in shown} == {3} and any(
        text[0] == "0" for text in shown
    )


@pytest.mark.parametrize(
    "idea, words",
    [
        ("the water already in the peroxide", "water that is already in the peroxide"),
        ("weight taken as w/v", "By weight"),
        ("°F for °C", "shows °F"),
        ("a factor of two in acid", "two acid"),
        ("strength for time", "Strength alone"),
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
        said = question.text + question.explanation
        for strength in re.findall(r"([\d.]+) % (?:acid|peroxide)", said):
            assert float(strength) <= 12, said
        for strength in re.findall(r"([\d.]+) % acid", said):
            assert float(strength) == 10
        assert "nan" not in said and "inf" not in said


@pytest.mark.parametrize("seed", SOME)
def test_law_film_by_hand_from_what_the_question_prints(seed):
    question = water_questions(seed)[0]
    weaker, thin, thick = numbers(
        r"made ([\d.]+) times weaker .* from (\d+) µm to (\d+) µm", question.text
    )
    by_hand = weaker * thick / thin
    assert question.answer == pytest.approx(by_hand, rel=1e-12) and question.unit == "timesless"
    for text in (
        f"{by_hand:.2f}",
        f"×{by_hand:.2f}",
        f"{by_hand:.2f} times less",
        f"{by_hand:.2f} times as little",
    ):
        assert judge(question, text).found == "right"
    assert "strength alone" in judge(question, f"{weaker} times").words
    assert "film alone" in judge(question, f"{thick / thin:.2f}").words
    assert "what is left" in judge(question, f"{100 / by_hand:.0f} %").words
    assert "a time" in judge(question, "3 min").words


def test_law_the_film_is_the_models_own_and_what_it_says_of_the_copper_is_near():
    # dilution and flux worked apart from the page's own course: 10 % acid, 12 % peroxide faded to 85-100 %
    for question in asked_of("film"):
        weaker, thin, thick = numbers(
            r"made ([\d.]+) times weaker .* from (\d+) µm to (\d+) µm", question.text
        )
        films = []
        for water in (0.0, 2 * weaker - 2):
            bath = mix(
                *(
                    Solution.of(volume=part, T=293.15, **held)
                    for part, held in (
                        (water, {}),
                        (1.0, {"HCl": 0.10}),
                        (1.0, {"H2O2": 0.12 * 0.925}),
                    )
                    if part
                )
            )
            films.append(
                film_at_start(
                    bath.concentration("HCl"), bath.concentration("H2O2"), bath.T, 27e-4, Tray()
                )
            )
        # half a µm by rounding, and 1 % for what the middle of a faded bottle is
        for shown, film in zip((thin, thick), films, strict=True):
            assert shown == pytest.approx(1e6 * film["thickness"], abs=0.5 + 0.01 * shown)
        copper = films[0]["copper"] / films[1]["copper"]
        assert numbers(r"says ([\d.]+)\.", question.explanation)[0] == pytest.approx(
            copper, rel=0.01
        )
        assert (
            question.answer == pytest.approx(copper, rel=0.03) and copper > question.answer * 0.97
        )


@pytest.mark.parametrize("question", asked_of("strength"), ids=lambda q: q.text[20:60])
def test_validation_strength_by_hand_from_a_handbook_density(question):
    # hcl_density.csv, two tables at 20 °C and 10 %: 1048 and 1047.4 kg/m³; volumes of such weak mixtures add to 0.1 %
    with (PUBLISHED / "hcl_density.csv").open(encoding="utf-8") as file:
        density = [
            float(row["density_kg_m3"])
            for row in csv.DictReader(file)
            if float(row["mass_fraction"]) == 0.1 and row["T_C"] == "20"
        ]
    water, acid, peroxide = numbers(
        r"mixes (?:(\d*½?) parts? of water, )?(\d) part of 10 % acid and (\d*½?) parts? of",
        question.text,
    )
    by_hand = 0.10 * np.mean(density) / HCL * 1000 * acid / (water + acid + peroxide)
    assert len(density) >= 2 and question.answer == pytest.approx(by_hand, rel=0.002)
    assert judge(question, f"{by_hand / 1000:.3g} mol/L").found == "right"
    by_volume = 100 / HCL * acid / (water + acid + peroxide)
    assert "By weight" in judge(question, f"{by_volume:.3f}").words
    forgotten = 0.10 * np.mean(density) / HCL * acid / (water + acid)
    assert "already in the peroxide" in judge(question, f"{forgotten:.3f} M").words
    if water:
        assert "how many parts" in judge(question, f"{0.10 * np.mean(density) / HCL:.2f} M").words


@pytest.mark.parametrize("question", asked_of("copper"), ids=lambda q: q.text[:40])
def test_validation_copper_by_hand(question):
    # Cu + H2O2 + 2 H+ -> Cu2+ + 2 H2O: charge alone says two acid for a copper
    volume, strength = numbers(r"holds (\d+) mL of etching bath with ([\d.]+) mol/L", question.text)
    by_hand = volume / 1000 * strength / 2 * CU
    assert question.answer * 1000 == pytest.approx(by_hand, rel=0.008), (
        "the strength is printed to two decimals"
    )
    assert judge(question, f"{by_hand:.2f} g").found == "right"
    assert "twice too much" in judge(question, f"{2 * by_hand:.2f} g").words


def test_law_the_acid_is_what_limits_the_copper(monkeypatch):
    asked = []
    kept = earlier.capacity
    monkeypatch.setattr(earlier, "capacity", lambda bath: asked.append(bath) or kept(bath))
    for seed in range(100):
        earlier.copper_question(np.random.default_rng(seed))
    assert len(asked) == 100
    assert all(bath.amount("H2O2") > 1.2 * bath.amount("HCl") / 2 for bath in asked)


@pytest.mark.parametrize("question", asked_of("warmth"), ids=lambda q: q.text[11:60])
def test_validation_warmth_by_hand(question):
    # CODATA formation enthalpies [kJ/mol]: Cu2+ 64.9, H2O -285.83; NBS: H2O2 in water -191.17
    heat = -(64.9 + 2 * -285.83 - -191.17) / CU
    # specific_heat.csv: 10 % acid 3470 J/kg/K at 20 °C; peroxide by its own 2.6 J/g: 5 % acid and 6 % peroxide in water
    takes = 1.045 * (4.184 - (4.184 - 3.47) / 2 - 0.06 * (4.184 - 2.63))
    shown, volume, copper, per_gram, per_mL = numbers(
        r"shows (\d+) °F. In (\d+) mL .* loses ([\d.]+) g .*\n.* sets ([\d.]+) kJ free.* takes ([\d.]+) J",
        question.text,
    )
    assert per_gram == pytest.approx(heat, rel=0.005) and per_mL == pytest.approx(takes, rel=0.04)
    # the board: 75 mm × 60 mm, 60 % bare, one ounce a square foot is 305.15 g/m²
    assert copper == pytest.approx(0.075 * 0.060 * 0.6 * 305.15, abs=0.006)
    rise = copper * per_gram * 1000 / (volume * per_mL)
    by_hand = (shown - 32) * 5 / 9 + rise
    assert question.answer - 273.15 == pytest.approx(by_hand, abs=0.15)
    for text in (f"{by_hand:.1f} °C", f"{by_hand:.0f}", f"{by_hand * 1.8 + 32:.0f} °F"):
        assert judge(question, text).found == "right"
    assert "shows °F" in judge(question, f"{shown + rise:.1f}").words
    assert "right in °F" in judge(question, f"{by_hand * 1.8 + 32:.1f}").words


@pytest.mark.parametrize("seed", SOME)
def test_law_time_by_hand_from_what_the_question_prints(seed):
    question = water_questions(seed)[1]
    found = re.search(
        r"off a board in (.*?)\. .*of that kind: (.*?)\. .*are ([\d.]+) times weaker, .*takes (.*?)\. If",
        question.text,
    )
    board, before, after = (read(found[place], "time", "min") for place in (1, 2, 4))
    weaker = float(found[3])
    assert question.answer == pytest.approx(board * after / before, rel=1e-12)
    assert after / before > 1.15 * weaker, (
        "water costs more than its share here: that is what the question is about"
    )
    assert judge(question, f"{board * after / before:.0f} s").found == "right"
    assert "Strength alone" in judge(question, f"{board * weaker / 60:.1f} min").words
    assert "Times which time?" in judge(question, f"{after / before:.2f}").words


@pytest.mark.parametrize("seed", [-1, 1.5, True, "1"])
def test_law_a_seed_that_cannot_be_is_refused(seed):
    with pytest.raises(ValueError, match="seed = "):
        water_questions(seed)


def send(widget, **message):
    """What the page does: one message as it arrives from there, with its number and the error seen; it is answered."""
    number = f"number {next(COUNT)}"
    about = {"seed": widget.seed} if isinstance(widget, quiz.Check) else {}
    content = {"number": number, "seen": widget.error, **about, **message}
    widget._handle_msg(
        {"content": {"data": {"method": "custom", "content": content}}, "buffers": []}
    )
    assert widget.done == number


def test_law_a_prediction_is_kept_through_the_cell_run_again():
    made = quiz.predict("water", "How many times longer?", OPTIONS)
    seen = []
    made.observe(lambda change: seen.append(change["new"]), ["choice"])
    assert made.choice == made.words == made.said == ""
    send(made, choice="b")
    assert made.choice == "b" and seen == ["b"]
    assert (
        made.said.startswith("Your prediction is kept: ×1.6.")
        and made.words == "Your prediction: ×1.6."
    )
    again = quiz.predict("water", "How many times longer?", OPTIONS)
    assert again.choice == "b" and again.said == made.said
    assert quiz.predict("another", "And now?", OPTIONS).choice == ""
    send(again, choice="-")
    assert again.choice == "-" and again.words == "" and "No prediction" in again.said
    assert quiz.predict("water", "How many times longer?", {"x": "one", "y": "two"}).choice in (
        "",
        "-",
    )


@pytest.mark.parametrize("choice", ["b", "-"])
def test_law_asked_again_nothing_is_kept_and_a_panel_hides_its_answer(choice):
    made = quiz.predict("water", "How many times longer?", OPTIONS)
    panel = Panel(
        "Answer",
        [Slider("x", "X", "m", 0, 1, 1, 0)],
        lambda narrow: Drawing(figure(1.0, 1.0), ()),
        lambda drawing, x, predicted: Said("waits" if predicted is None else "×2.5", "A picture."),
        prediction=made,
    )
    PANELS.pop(panel.title)
    assert panel.readout == "waits"
    send(made, choice=choice)
    assert panel.readout == "×2.5" and quiz.KEPT.get("water") == choice
    send(made, choice="")
    assert (
        panel.readout == "waits"
        and panel.predicted == made.words == made.choice == ""
        and not quiz.KEPT
    )
    assert made.said.startswith("Asked again") and made.failure is None
    other = quiz.predict("water", "How many times longer?", OPTIONS)
    assert other.choice == other.said == "", "the cell run again asks too"
    send(made, choice="c")
    assert panel.readout == "×2.5" and made.said.startswith("Your prediction is kept: ×2–3.")


def test_law_an_unknown_choice_is_kept_as_a_failure_and_shown():
    made = quiz.predict("water", "How many times longer?", OPTIONS)
    send(made, choice="z")
    assert isinstance(made.failure, ValueError) and "choice = 'z'" in made.error
    send(made, choice="a")
    assert made.failure is None and made.error == "" and made.choice == "a"
    with pytest.raises(ValueError, match="choice = 'z'"):
        made.choice = "z"


@pytest.mark.parametrize(
    "options", [{}, {"a": "one"}, {"a": "one", "-": "two"}, {"": "one", "b": "two"}]
)
def test_law_options_that_cannot_be_are_refused(options):
    with pytest.raises(ValueError, match="options = "):
        quiz.predict("water", "?", options)


def test_law_the_sheet_judges_in_python_and_takes_new_numbers():
    sheet = quiz.check(water_questions, seed=3)
    right = written(sheet.questions[0].answer, "ratio", "")
    send(sheet, key="film", text=right)
    send(sheet, key="time", text="soon")
    assert (
        sheet.verdicts["film"]["found"] == "right" and sheet.verdicts["time"]["found"] == "unread"
    )
    assert sheet.verdicts["film"]["text"] == right
    send(sheet, new=True)
    assert sheet.seed == 4 and sheet.verdicts == {}
    assert sheet.questions == water_questions(4)
    assert [ask["key"] for ask in sheet.asks] == ["film", "time", "strength"]
    assert [ask["label"] for ask in sheet.asks] == [
        "Your answer: how many times less",
        "Your answer in minutes",
        "Your answer in mol/L",
    ]


def test_law_an_error_of_the_sheet_is_kept_and_shown():
    def broken(seed):
        if seed > 1:
            raise RuntimeError("no more numbers")
        return water_questions(seed)

    sheet = quiz.check(broken)
    send(sheet, new=True)
    assert isinstance(sheet.failure, RuntimeError) and "no more numbers" in sheet.error
    send(sheet, key="film", text="1")
    assert (
        sheet.failure is None and sheet.error == "" and sheet.verdicts["film"]["found"] == "wrong"
    )
    send(sheet, key="nothing", text="1")
    assert isinstance(sheet.failure, KeyError)


def test_law_three_answers_that_waited_for_a_busy_kernel_are_all_judged_and_no_error_is_passed_over():
    # the page sent them before Python had said a word
    sheet = quiz.check(water_questions, seed=3)
    for key in ("film", "time", "warmth"):
        send(sheet, key=key, text="1", seen="", seed=3)
    assert {key: verdict["text"] for key, verdict in sheet.verdicts.items()} == dict.fromkeys(
        ("film", "time", "warmth"), "1"
    )
    send(sheet, key="nothing", text="1", seen="")
    send(sheet, key="film", text="2", seen="")
    assert (
        sheet.verdicts["film"]["text"] == "2"
        and "KeyError: 'nothing'" in sheet.error
        and sheet.failure is not None
    )
    send(sheet, key="film", text="3")
    assert sheet.error == "" and sheet.failure is None, "whoever has seen it goes on"


def test_law_an_answer_to_numbers_that_are_gone_is_left_and_two_clicks_are_one():
    sheet = quiz.check(water_questions, seed=3)
    send(sheet, new=True, seed=3)
    send(sheet, new=True, seed=3)
    send(sheet, key="film", text="1", seed=3)
    assert sheet.seed == 4 and sheet.verdicts == {} and sheet.error == ""


def test_law_exported_pages_show_question_and_answers_without_a_script():
    made = quiz.predict("water", "Longer or <shorter>?", {**OPTIONS, "d": "<×1"})
    send(made, choice="c")
    said = made._repr_mimebundle_()[0]["text/html"]
    assert said.count("<li>") == 4 and "<li>&lt;×1</li>" in said
    assert "Longer or &lt;shorter&gt;?" in said and "Your prediction: ×2–3." in said
    sheet = quiz.check(water_questions)
    said = sheet._repr_mimebundle_()[0]["text/html"]
    assert said.count("<details>") == 3 and "not an exam" in said and "<script" not in said
    text = html.unescape(re.sub("<[^>]+>", "", said)).replace("\u00a0", " ")
    for question in sheet.questions:
        for line in (question.text + "\n" + question.explanation).splitlines():
            assert line in text
        assert f"An answer {question.tolerance_words()} counts as right." in text


def test_law_every_control_of_the_page_script_keeps_its_keys_from_the_notebook():
    script = Path(quiz.__file__).with_name("quiz.js").read_text(encoding="utf-8")
    made = re.findall(r'make\("(?:input|button|summary)", (.{7})', script)
    assert len(made) == 6 and all(
        start.startswith(("{ ...KEY", "{ ...KE", "KEYS")) for start in made
    )


def test_law_the_button_asks_again_and_what_is_said_keeps_its_place_from_the_start():
    script = Path(quiz.__file__).with_name("quiz.js").read_text(encoding="utf-8")
    look = Path(quiz.__file__).with_name("quiz.css").read_text(encoding="utf-8")
    assert 'model.get("choice") ? "Ask me again" : "Show me without a prediction"' in script
    assert 'keep(current() ? "" : "-")' in script and "set.append(skip, said)" in script
    kept = re.search(r"fieldset \.said, \.lesson-quiz fieldset \.said:empty \{([^}]*)\}", look)[1]
    assert "min-height: 2rem" in kept and re.search(r"\.skip \{[^}]*min-width", look)


def test_law_look_and_script_are_there_and_nothing_warns():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made = quiz.predict("water", "?", OPTIONS)
    assert (
        ".lesson-quiz" in made._css
        and ".lesson-panel" in made._css
        and "export default" in made._esm
    )
