"""The planner's words stand in the order of the bench, cautions first, and hold the plan (laws)."""

import html
import re

import pytest
from helpers.workshop import INPUTS, POUR, USED_BATH

from pcbchem.bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG, LAYERS
from pcbchem.bench.hazards.words import MIXED_ALREADY, NO_FIGURE, RULES, safety
from pcbchem.bench.plan.planning import for_class
from pcbchem.lesson.bath import planned
from pcbchem.lesson.plan_a_bath import answer


@pytest.fixture(scope="module")
def plans(mild, refused):
    """Plans of each kind."""
    careful = INPUTS | {"acid": (31, "%"), "parts": (3, 1, 1), "place": "GB", "draws": 60}
    return {
        "mild": mild,
        "refused": refused,
        "careful": planned(**careful),
        "used": planned(**INPUTS, used_bath=USED_BATH, draws=60),
        "no use": planned(**INPUTS | {"parts": (1, 1, 0), "draws": 60}),
    }


def plain(text):
    """Words of HTML."""
    return html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u00a0", " ")


def in_order(text, *words):
    """Tell whether words stand in a text in this order."""
    places = [text.index(word) for word in words]
    return places == sorted(places)


def test_law_the_sentence_holds_time_and_warmth_and_no_verdict(plans):
    """The verdict stands before it, and is said once."""
    times, peak = (plans["mild"].bands[name] for name in ("time_to_clear", "etching_peak"))
    said = answer.live_words(plans["mild"])
    assert f"{times.low / 60:.1f} to {times.high / 60:.1f} min" in said
    assert f"{peak.low - 273.15:.0f} to {peak.high - 273.15:.0f} °C" in said
    for plan in plans.values():
        said = answer.live_words(plan)
        assert "**" not in said and not POUR.search(said)
        assert "Mix it" not in said and "Do not mix" not in said


def test_law_see_to_pour_look_reasons_law(plans):
    plan = plans["careful"]
    assert plan.verdict == "with care" and plan.law
    first = plan.reasons[0].words[1:20]
    said = plain(answer.head(plan))
    line = safety(False)
    assert in_order(said, line, "In all", "Look first", first, plan.law[0].words, NO_FIGURE)
    assert said.count(line) == 1 and POUR.search(said)


def test_law_conditions_of_a_used_bath_stand_before_its_pours(plans):
    said = plain(answer.head(plans["used"]))
    assert in_order(said, "Under 18", "Top up only a bath that stood open for days", "In all")


def test_law_a_colder_start_stands_before_its_pours(plans):
    cold = planned(**INPUTS | {"bottles_C": 14, "air_C": 20}, draws=60)
    words = "First cool the bottles to 14 °C and measure each."
    assert in_order(plain(answer.head(cold)), words, "do not pour.", "first, in the jug", "In all")
    assert "First cool" not in plain(answer.head(plans["mild"]))


def test_law_who_has_mixed_it_already_reads_it_first_and_once(plans):
    page = plain(answer.head(plans["refused"]) + answer.notes(plans["refused"]))
    assert plans["refused"].harmful and page.count(MIXED_ALREADY) == 1
    assert MIXED_ALREADY in re.search("<strong>(.*?)</strong>", answer.head(plans["refused"]))[1]
    assert str(plans["refused"]).split("\n\n")[1].count(MIXED_ALREADY) == 1
    for name in ("mild", "careful", "no use"):
        assert "Mixed already?" not in answer.head(plans[name])


@pytest.mark.parametrize("name", ["refused", "no use"])
def test_law_of_a_refused_plan_only_reasons_and_what_helps(plans, name):
    plan = plans[name]
    said = plain(answer.head(plan))
    assert not POUR.search(said) and "Look first" not in said and "<ol>" not in answer.head(plan)
    assert "instead of" in said or "No single change" in said
    help_begins = "One change that helps" if plan.changes else "No single change"
    law = [line.words for line in plan.law]
    reason = plan.reasons[0].words[1:20]
    assert in_order(said, safety(True, harm=plan.harmful), reason, help_begins, *law, NO_FIGURE)


def test_a_plan_without_reasons_says_that_this_is_no_permission(plans):
    assert not plans["mild"].reasons
    assert answer.NO_LIMIT in plain(answer.head(plans["mild"]))
    for name in ("careful", "refused"):
        assert answer.NO_LIMIT not in plain(answer.head(plans[name]))


def test_law_a_limit_keeps_its_unit_on_the_line(plans):
    line = re.search("<strong>(.*?)</strong>", answer.head(plans["mild"]))[1]
    assert "45\u00a0°C" in html.unescape(line) and " °C" not in line


def test_law_layers_stand_where_they_are_needed(plans):
    layers = [
        f"<strong>{LAYERS[number]}</strong>"
        for number in (BEFORE, AT_THE_TRAY, AFTERWARDS, GOES_WRONG)
    ]
    assert in_order(answer.notes(plans["mild"]), *layers, RULES)
    refused = plain(answer.notes(plans["refused"]))
    assert "to learn from, not to try" in refused and "offcut" not in refused
    assert LAYERS[AT_THE_TRAY] not in refused and LAYERS[AFTERWARDS] not in refused
    assert LAYERS[GOES_WRONG] in refused and not POUR.search(refused)


def test_law_only_the_bench_is_offered_an_offcut(plans):
    """Not a class, which is given no amounts."""
    mild = plans["mild"]
    assert "Before you etch an offcut" in answer.notes(mild)
    assert "offcut</summary>" not in answer.notes(for_class(mild))


def test_the_numbers_stand_in_a_table(plans):
    for plan in plans.values():
        notes = answer.notes(plan)
        assert notes.count("<table") == 1 and "The numbers in a table</summary>" in notes


def test_what_is_folded_has_its_summary_in_words():
    folded = answer.folded("acid < 10 % & more", "<p>so</p>")
    assert folded == "<details><summary>acid &lt; 10 % &amp; more</summary><p>so</p></details>"


def test_law_a_bath_that_is_too_weak_is_shown_the_other_way(plans):
    """Nobody who is refused for harm is told to leave water out."""
    assert "Less water" in answer.head(plans["no use"])
    for name in ("mild", "refused", "careful", "used"):
        assert "Less water" not in answer.head(plans[name]), name
