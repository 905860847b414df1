"""A page that is set for a class says all that any other says, but no amount anywhere (laws)."""

import functools
import itertools
import re

import pytest
from helpers.amounts import amounts
from helpers.workshop import DOUBTFUL, INPUTS, REFUSED, USED_BATH

from pcbchem.bench.hazards import words as hazards
from pcbchem.bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG
from pcbchem.bench.plan import words as bench_words
from pcbchem.bench.plan.planning import for_class
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_picture import build, show
from pcbchem.lesson.bath.plan_words import words
from pcbchem.lesson.form import fields
from pcbchem.lesson.plan_a_bath import answer, panel
from pcbchem.page.widget.panel import PANELS

PLANS = {
    "mild": INPUTS,
    "in the US": INPUTS | {"place": "US"},
    "with care": DOUBTFUL | {"acid": (25, "%"), "parts": (3, 1, 1)},
    "doubtful": DOUBTFUL,
    "refused": REFUSED,
    "no use": INPUTS | {"parts": (1, 1, 0)},
    "much": INPUTS | {"board_mm": (300, 300), "total_mL": 1500},
    "second portion": INPUTS | {"parts": (1, 1, 1), "second": (50, 1)},
    "used bath": INPUTS | {"used_bath": USED_BATH},
}
FORMS = {
    "mild": {},
    "strong": {"acid": 31, "peroxide": 32.5, "water_parts": 3, "bath_times": 0.15},
    "with care": {"acid": 25, "water_parts": 2},
    "second portion": {"water_parts": 1, "held_back": 50, "held_until": 1},
    "in the US": {"place": "US"},
}


@pytest.fixture(scope="module", params=PLANS)
def pair(request):
    """A plan, and what a class is shown of it."""
    plan = planned(**PLANS[request.param], draws=60)
    return plan, for_class(plan)


def drawn(plan, narrow):
    """All that is written into the picture of a plan."""
    sheet = show(build(narrow), plan).figure
    texts = [text for axes in sheet.axes for text in axes.texts] + list(sheet.texts)
    return "\n".join(text.get_text() for text in texts)


def everything(plan):
    """All that is said or drawn of a plan anywhere."""
    texts = [str(plan), plan._repr_markdown_(), plan.to_frame().to_string()]
    texts += [answer.head(plan), answer.notes(plan), answer.live_words(plan)]
    texts += words(plan, "This bath")
    texts += [drawn(plan, narrow) for narrow in (False, True)]
    return "\n".join(texts)


@pytest.mark.parametrize(
    "said",
    ["75 mL", "**1.5 L**", "5.1 US fl oz", "0.82 g of copper", "3 kg", "two litres", "per mL"],
)
def test_an_amount_is_recognised(said):
    assert amounts(said)


@pytest.mark.parametrize(
    "said", ["5.5 g/L of copper", "3 mol/L", "27 cm²", "11 %", "45 °C", "4.0 min", "1 : 1", "1 oz"]
)
def test_a_strength_a_share_or_a_time_is_no_amount(said):
    assert amounts(said) == []


def test_law_a_class_is_told_no_amount(pair):
    plan, of_class = pair
    assert amounts(everything(of_class)) == []
    assert amounts(everything(plan)), "the plan itself has some"


def test_law_a_class_is_told_verdict_bands_and_cautions_word_for_word(pair):
    plan, of_class = pair
    assert of_class.verdict == plan.verdict and of_class.cautions == plan.cautions
    bands = {name: band for name, band in plan.bands.items() if name != "volume"}
    assert of_class.bands == bands
    alike = [
        hazards.head(plan.verdict, plan.harmful),
        *bench_words.why(plan),
        *(line.words for line in plan.law),
        bench_words.does(plan),
        *hazards.layer(plan.cautions, BEFORE, plan.refused),
        *hazards.layer(plan.cautions, GOES_WRONG),
        *hazards.look_up(plan.cautions, False, plan.refused),
        hazards.RULES,
        hazards.NO_FIGURE,
    ]
    if not plan.refused:
        alike += hazards.layer(plan.cautions, AT_THE_TRAY)
        alike += hazards.layer(plan.cautions, AFTERWARDS)[1:]
    for said in alike:
        # printed, the marks of bold words are left out
        said = said.replace("**", "")
        assert said in str(plan) and said in str(of_class), said
    # on the page too, where the safety line leads, and each caution as often as the plan says it
    pages = [answer.head(each) for each in (plan, of_class)]
    first = [re.search(r"<strong>.*?</strong>", page)[0] for page in pages]
    assert first[0] == first[1] and all(page.startswith(f"<p>{first[0]}") for page in pages)
    reasons = answer.html_of("\n\n".join(reason.words for reason in plan.reasons))
    for paragraph in reasons.splitlines():
        said = re.sub("^<p>.|</p>$", "", paragraph)
        assert said in pages[0] and said in pages[1], said
    for caution in plan.cautions:
        counts = [answer.notes(each).count(caution.words) for each in (plan, of_class)]
        assert counts[0] == counts[1], caution.topic


def test_law_the_order_of_pouring_stays(pair):
    plan, of_class = pair
    assert [stage.what for stage in of_class.stages] == [stage.what for stage in plan.stages]
    assert all(stage.volume != stage.volume for stage in of_class.stages), "NaN: no volume at all"
    for before, after in itertools.pairwise(re.findall(r"(?m)^\d\. (\w+)", str(plan))):
        text = str(of_class)
        assert text.index(f". {before}") < text.index(f". {after}")


def test_law_a_class_finds_by_trying_how_much_more_bath_would_do():
    of_class = planned(**PLANS["refused"], draws=60, school=True)
    helping = "\n".join(bench_words.helps(of_class))
    assert of_class.changes[0].lever == "bath"
    assert "more of the same bath for the copper. With enough of it" in helping
    assert "Try it and read the verdict again." in helping and " times" not in helping


def test_conditions_of_a_used_bath_and_of_a_second_portion_stay():
    used = str(for_class(planned(**PLANS["used bath"], draws=20)))
    assert "Top up only a bath that stood open for days" in used and "5.5 g/L of copper" in used
    second = str(for_class(planned(**PLANS["second portion"], draws=20)))
    assert "Only if the board is not clear and the bath is at 25 °C or colder." in second


def test_an_amount_that_comes_back_is_seen(monkeypatch):
    """The planted fault: the steps of a class say how much."""
    of_class = planned(**INPUTS, draws=20, school=True)
    monkeypatch.setattr(bench_words, "pours", lambda plan: "1. acid: **75 mL**")
    assert amounts(str(of_class))


def test_law_the_form_of_a_class_shows_no_amount(monkeypatch):
    # an amount shows with any number of plausible baths
    monkeypatch.setattr(fields, "plan_from", functools.partial(fields.plan_from, draws=30))
    panel.plan_once.cache_clear()
    widget = panel.planner(school=True)
    try:
        for changed in FORMS.values():
            said = widget.redraw(**panel.starts(school=True) | changed)
            texts = (said.headline, said.head, said.readout, said.alt, said.notes, said.wrong)
            assert said.wrong == "" and amounts(" ".join(texts)) == []
            assert said.head.startswith(f"<p>{panel.SCHOOL}</p>")
        labels = [f"{control.label} {getattr(control, 'unit', '')}" for control in widget.controls]
        assert amounts("\n".join(labels)) == []
        assert not widget.keeps and not widget.file and not widget.receives
        still = re.sub(r"base64,[A-Za-z0-9+/=]+", "", widget.still_forms()["text/html"])
        assert amounts(still) == []
    finally:
        PANELS.pop(widget.title)
        panel.plan_once.cache_clear()


@pytest.mark.parametrize(
    "changed",
    [
        {"bare": 0.5, "board_width": 10, "board_height": 10},
        {"tray_width": 2000, "tray_length": 2000},
        {"held_back": 90, "peroxide_parts": 100, "tray_width": 150, "tray_length": 150},
    ],
)
def test_law_what_is_no_bath_is_said_without_an_amount(changed):
    """Its limits are volumes: a class is told that it is too little, and no more."""
    wrong = panel.say(None, **panel.starts(school=True) | {"bath_times": 0.1} | changed).wrong
    assert wrong == f"Bath for copper: {panel.NO_BATH}"


def test_a_class_starts_with_the_workshops_bath():
    of_class = panel.plan_of(panel.starts(school=True))
    plan = fields.plan_from(fields.STARTS)
    assert answer.live_words(of_class) == answer.live_words(plan)
    assert of_class.school and of_class.verdict == plan.verdict
