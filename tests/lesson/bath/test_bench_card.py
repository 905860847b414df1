"""A card holds its own plan, every caution that must be there, and no amount it must not (laws)."""

import copy
import html
import re

import pytest
from helpers.amounts import amounts
from helpers.cards import said_on
from helpers.workshop import INPUTS

from pcbchem.bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG
from pcbchem.bench.hazards.words import MIXED_ALREADY, TO_POUR
from pcbchem.bench.plan.steps import beforehand, board_goes_in, measured, tray
from pcbchem.bench.plan.words import helps, why
from pcbchem.common.limits import InputError
from pcbchem.lesson.bath import bench_card, card, planned
from pcbchem.lesson.bath.card_blocks import READY_LINES, STOP_LINE
from pcbchem.lesson.bath.card_paper import Setting, marked
from pcbchem.lesson.bath.plan_words import BATH_AFTER, BATH_BEFORE
from pcbchem.page.school import NO_AMOUNTS

MILLILITRES = re.compile(r"([\d.]+) mL")
ALWAYS = {
    *((AT_THE_TRAY, number) for number in (1, 2, 3, 6)),
    *((AFTERWARDS, number) for number in (1, 2, 6)),
    *((GOES_WRONG, number) for number in range(1, 8)),
}
"""Cautions on every card: watch, stop, leave, no stock, stay, never close up, no drain, first aid,
spills."""
LIMIT = re.compile(r"three litres is the most")
"""What a rule says to everybody: an amount that nobody pours."""


def pours_on(made):
    """Return what a card says of pouring, from its heading to the tray's."""
    text = said_on(made)
    start = re.search(r"Into the (jug|tray|tank|machine), in this order", text).start()
    return text[start : re.search(r"In the (tray|tank|machine)\.", text).start()]


def test_law_amounts_add_up_to_what_is_poured_in_all(poured):
    for name, plan in poured.items():
        said = pours_on(card(plan))
        if plan.school:
            assert MILLILITRES.findall(said) == [], name
            continue
        total, *volumes = (float(number) for number in MILLILITRES.findall(said))
        assert sum(volumes) == pytest.approx(total), name
        # each is the plan's own, as people can measure it
        assert volumes == measured([stage.volume for stage in plan.stages]), name
        # to the step of a measure: 5 mL in 100
        exact = sum(stage.volume for stage in plan.stages) * 1e6
        assert total == pytest.approx(exact, abs=3), name


def test_law_pours_stand_in_the_plans_order_and_the_board_after_them(poured):
    for name, plan in poured.items():
        said = pours_on(card(plan))
        at_once = [stage.what for stage in plan.stages if not stage.when]
        places = [said.index(f"{number}. {what},") for number, what in enumerate(at_once, 1)]
        board = said.index("board", places[-1])
        assert places == sorted(places) and board > places[-1], name
        for stage in plan.stages[len(at_once) :]:
            assert said.index(f"{stage.what}, slowly") > board, name
            assert "Only if the board is not clear and the bath is at 25 °C or colder." in said


def test_law_what_has_to_be_seen_to_first_stands_before_the_pours(poured):
    used = pours_on(card(poured["used before"]))
    assert used.index("Top up only a bath that stood open for days") < used.index("1. ")
    warm = pours_on(card(poured["with care"]))
    assert warm.index("First stand the bottles in cold water") < warm.index("1. ")
    assert "First wait, or stand the jug in cold water, until it is at 25 °C or colder" in warm


def test_law_what_to_do_beforehand_has_a_box_each_in_large_print(poured):
    """Bottles to cool or warm, a used bath to look at: each as large as the pours, before them."""
    several = 0
    for name, plan in poured.items():
        (section,) = re.findall(r'<section class="do"><h2>Into .*?</section>', card(plan).html)
        rows = re.findall(r"<tr>(.*?)</tr>", section)
        firsts = [words for words in beforehand(plan.inputs).split("\n\n") if words]
        for number, words in enumerate(firsts):
            several += 1
            assert rows[number] == (
                '<td class="box"></td><td colspan="3">' + marked(f"**{words}**") + "</td>"
            ), name
        assert ">1. " in rows[len(firsts)] and 'class="box"' in rows[len(firsts)], name
        assert 'class="plain"' not in section
    assert several >= 2


def test_law_a_second_portion_says_when_and_not_how_often(poured):
    plan = poured["two portions"]
    said = pours_on(card(plan))
    assert "Only if the board is not clear" in said and "still need it" not in said
    assert "plausible baths" not in said


def test_law_a_board_that_stands_upright_is_told_of_no_tray(poured):
    """But in the cautions, which are the same for all, and in the bench's own sentences."""
    plan = poured["upright"]
    text = said_on(card(plan))
    others = [each.words for each in plan.cautions]
    others += [board_goes_in(plan.inputs), tray(plan.inputs)]
    for words in others:
        text = text.replace(words, "")
    assert "tray" not in text.lower()
    for words in ("In the tank.", "At the tank", "this tank alone", "tank deeper than the board"):
        assert words in text, words


def test_law_a_class_is_shown_no_amount(poured):
    for name in ("for a class", "a class, two portions"):
        text = said_on(card(poured[name]))
        assert amounts(text) == [], name
        assert "For a class: the order, and no amounts." in text
        # surface and depth of the liquid, or grams of copper, would be a volume too
        assert "deep:" not in text and "of open liquid" not in text and "of copper" not in text
    assert amounts(said_on(card(poured["mild"]))), "any other has some"


def test_law_the_switch_of_a_class_takes_amounts_off_any_card(poured, monkeypatch):
    monkeypatch.setenv(NO_AMOUNTS, "1")
    for name, plan in poured.items():
        text = said_on(card(plan))
        assert amounts(text) == [] and "in this order" in text, name


def test_law_a_refused_card_has_no_amount_and_nothing_to_pour(refusals):
    for name, plan in refusals.items():
        made = card(plan)
        text = LIMIT.sub("", said_on(made))
        assert amounts(text) == [], name
        for word in ("in this order", "Have ready", "Look", "clear after", "label of the waste"):
            assert word not in text, (name, word)
        for words in (BATH_BEFORE, BATH_AFTER):
            assert words not in text, (name, words)
        for mark in ('class="tick"', 'class="box"', "<footer", 'class="do"', 'class="blank"'):
            assert mark not in made.html, (name, mark)


def test_law_a_refused_card_says_why_and_cautions_and_no_more(refusals):
    for name, plan in refusals.items():
        text = said_on(card(plan))
        for reason in plan.reasons:
            assert f"{reason.words[1:]}." in text, name
        for caution in plan.cautions:
            place = (caution.layer, caution.number)
            if caution.layer in (BEFORE, GOES_WRONG) and place not in TO_POUR:
                assert caution.words in text, (name, place)
            if place in TO_POUR or caution.layer in (AT_THE_TRAY, AFTERWARDS):
                assert caution.words not in text, (name, place)
        # no way to another bath: that is the page's
        for words in helps(plan):
            assert words not in text, name
        assert "change that helps" not in text
    assert any(helps(plan) for plan in refusals.values())
    harmful = said_on(card(refusals["harmful"]))
    assert "Goggles, open air or a fume cupboard do" in harmful
    wrong = harmful[harmful.index("If it goes wrong") :].splitlines()
    assert wrong[1] == MIXED_ALREADY and harmful.count(MIXED_ALREADY) == 1
    assert MIXED_ALREADY not in said_on(card(refusals["no use"]))
    assert "so no amounts are given" in said_on(card(refusals["no use"]))


def test_law_no_card_leaves_out_what_must_be_read(poured):
    for name, plan in poured.items():
        text = said_on(card(plan))
        for caution in plan.cautions:
            place = (caution.layer, caution.number)
            if place in ALWAYS or (caution.layer == BEFORE and place not in READY_LINES):
                assert caution.words in text, (name, place)
        for sentence in why(plan):
            assert sentence.rpartition(" (")[0] in text, name
        for line in plan.law:
            assert line.words in text, name
        assert "The verdict is no permission; local rules come first." in text
        assert "What you breathe: nobody has measured chlorine and mist." in text


def test_law_before_you_open_a_bottle_is_read_before_any_amount(poured):
    for name, plan in poured.items():
        text = said_on(card(plan))
        assert text.index("Before you open a bottle") < text.index("Have ready."), name
        assert text.index("Have ready.") < text.index("in this order"), name
        first = MILLILITRES.search(text)
        assert first is None or first.start() > text.index("Have ready."), name
        (stop,) = (each.words for each in plan.cautions if (each.layer, each.number) == STOP_LINE)
        assert f"<strong>{stop.replace(' °C', '&nbsp;°C')}" in card(plan).html, name


def test_law_a_full_card_says_that_the_page_has_more(poured):
    text = said_on(card(poured["with care"]))
    missing = [each for each in poured["with care"].cautions if each.words not in text]
    assert missing and "Not all of them fit on this card" in text


def test_the_plans_inputs_stand_on_its_card(poured):
    text = said_on(card(poured["with care"]))
    for words in (
        "Acid of 30.4 to 32.5 % and peroxide of 30 to 32.5 % by weight",
        "Labels: acid 31.45 %",
        "45 cm², 27 cm² bare",
        "board 75 × 60 mm, 60 % of it bare",
        "Foil 1 oz,",
        "water 6 : acid 1 : peroxide 1",
        "Bath rocked, copper up",
        "300 cm² of open liquid, 10 mm deep",
        "Bottles 27 °C, air 28 °C",
        "Place: GB",
    ):
        assert words in text, words
    assert "5.5 g/L of copper, 1.1 to 1.4 mol/L of acid" in said_on(card(poured["used before"]))


def test_law_looks_and_warmth_are_the_plans(poured):
    plan = poured["mild"]
    text = said_on(card(plan))
    minutes, seconds = divmod(round(plan.first_look), 60)
    every = f"{round(plan.look_every)} s"
    assert f"Look first after {minutes} min {seconds} s, then every {every}." in text
    warm = plan.stages[1].temperature
    assert f"then at {warm.low - 273.15:.0f} to {warm.high - 273.15:.0f} °C" in text
    peak = plan.bands["etching_peak"]
    assert f"While etching they reach {peak.low - 273.15:.0f} to" in text


def test_how_often_to_look_is_said_where_the_plan_knows_it(poured):
    plan = copy.copy(poured["mild"])
    object.__setattr__(plan, "look_every", 45.0)
    assert "then every 45 s." in said_on(card(plan))


def test_fluid_ounces_stand_on_cards_of_the_us_alone(poured):
    for name, plan in poured.items():
        is_there = "US fl oz" in said_on(card(plan))
        assert is_there == (plan.inputs.place == "US"), name
    assert "100 mL (3.4 US fl oz)" in said_on(card(poured["in the US"]))


def test_law_a_card_is_whole_and_asks_nothing_of_anybody(poured, refusals):
    for plan in (*poured.values(), *refusals.values()):
        text = card(plan).html
        assert text.startswith('<!doctype html>\n<html lang="en-GB">')
        assert text.count("<h1>") == text.count("<main>") == text.count("<title>") == 1
        assert text.count("<h2") >= 2
        for stranger in ("http", "src=", "url(", "@import", "<script", "<link", "onload"):
            assert stranger not in text, stranger
        # greys alone
        for colour in re.findall(r"#([0-9a-f]+)\b", text):
            assert colour in ("000", "fff", "666"), colour
        assert "$" not in text


def test_a_notebook_shows_it_in_a_frame_in_which_nothing_runs(poured):
    made = card(poured["mild"])
    frame = made._repr_html_()
    assert frame.startswith('<iframe sandbox="" title=')
    (inside,) = re.findall(r'srcdoc="([^"]*)"', frame)
    assert html.unescape(inside) == made.html
    assert repr(made) == "Card(verdict='mix it')"


def test_law_words_of_a_plan_never_become_marks_of_a_page(poured, monkeypatch):
    monkeypatch.setattr("pcbchem.lesson.bath.card_blocks.does", lambda plan: "1 < 2 & <b>3</b>")
    assert "1 &lt; 2 &amp; &lt;b&gt;3&lt;/b&gt;" in card(poured["mild"]).html


class TestSave:
    """A card is saved whole, and no file is lost by it."""

    @pytest.fixture
    def made(self, poured):
        return card(poured["mild"])

    def test_it_is_written_as_it_is(self, made, tmp_path):
        made.save(tmp_path / "card.html")
        assert (tmp_path / "card.html").read_text(encoding="utf-8") == made.html
        assert [path.name for path in tmp_path.iterdir()] == ["card.html"]

    def test_nothing_is_replaced_unasked(self, made, tmp_path):
        path = tmp_path / "card.html"
        path.write_text(made.html, encoding="utf-8")
        with pytest.raises(FileExistsError, match=r"card\.html is already there"):
            made.save(path)

    def test_a_card_may_be_replaced(self, made, poured, tmp_path):
        path = tmp_path / "card.html"
        made.save(path)
        other = card(poured["in the US"])
        other.save(path, overwrite=True)
        assert path.read_text(encoding="utf-8") == other.html

    def test_another_file_never(self, made, tmp_path):
        path = tmp_path / "thesis.html"
        path.write_text("<p>mine</p>", encoding="utf-8")
        with pytest.raises(ValueError, match=r"thesis\.html is no card"):
            made.save(path, overwrite=True)
        assert path.read_text(encoding="utf-8") == "<p>mine</p>"

    def test_a_folder_is_not_made(self, made, tmp_path):
        with pytest.raises(FileNotFoundError, match="make it first"):
            made.save(tmp_path / "none" / "card.html")

    def test_what_cannot_be_written_leaves_nothing(self, made, tmp_path, monkeypatch):
        def full(path, target):
            raise OSError("disk full")

        monkeypatch.setattr(bench_card.pathlib.Path, "replace", full)
        with pytest.raises(OSError, match="disk full"):
            made.save(tmp_path / "card.html")
        assert list(tmp_path.iterdir()) == []


def test_a_card_is_smaller_print_only_as_far_as_it_must(poured, refusals):
    for paper, (width, height) in bench_card.SHEETS.items():
        setting, _ = bench_card.fitted(refusals["no use"], paper)
        assert setting == Setting(max(bench_card.SIZES), width)
        setting, blocks = bench_card.fitted(poured["with care"], paper)
        # of strong bottles so much must be read that it is better small than gone
        assert setting.width == width
        assert setting.size in (min(bench_card.SIZES), *bench_card.LAST_SIZES)
        assert sum(block.height for block in blocks) <= height


def test_law_a_card_that_has_room_for_all_leaves_nothing_out(poured):
    """On its own paper: A4, of the US Letter."""
    for name in ("mild", "for a class"):
        text = said_on(card(poured[name]))
        for caution in poured[name].cautions:
            place = (caution.layer, caution.number)
            if caution.layer <= GOES_WRONG and place not in READY_LINES:
                assert caution.words in text, (name, place)
        for words in ("clear after, s", "label of the waste", "may still hold", "While etching"):
            assert words in text, (name, words)
        for words in (BATH_BEFORE, BATH_AFTER):
            assert text.count(words) == 1, (name, words)


def test_law_the_bath_before_is_read_before_a_bottle_and_the_one_after_at_the_tray(poured):
    """Beside a bath that is mixed nobody has time to rinse lye off a board."""
    for name in ("mild", "for a class"):
        text = said_on(card(poured[name]))
        order = [
            "Before you open a bottle",
            BATH_BEFORE,
            "Have ready.",
            "in this order",
            "Lift the board out with plastic tongs",
            BATH_AFTER,
            "If it goes wrong",
        ]
        assert sorted(order, key=text.index) == order, name


def test_law_a_bath_that_starts_cold_is_never_left_without_the_line_on_cold(poured):
    cold = [caution.words for caution in poured["cold start"].cautions if caution.topic == "cold"]
    assert cold and cold[0] in said_on(card(poured["cold start"]))


def test_law_a_card_is_for_the_paper_of_its_place_unless_asked(poured):
    for name, plan in poured.items():
        paper = "Letter" if plan.inputs.place == "US" else "A4"
        assert f"size: {paper};" in card(plan).html, name
    assert "size: Letter;" in card(poured["mild"], "Letter").html
    assert "size: A4;" in card(poured["in the US"], paper="A4").html
    with pytest.raises(InputError, match="paper"):
        card(poured["mild"], paper="A5")


def test_a_plan_of_the_bench_has_a_card_too():
    mild = planned(**INPUTS, draws=20)
    assert card(mild).verdict == mild.verdict
