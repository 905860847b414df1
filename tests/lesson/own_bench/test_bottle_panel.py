"""The panel of a bottle: reading and label side by side, readings kept, strengths handed over.

Laws: nothing of a contradiction goes to the planner; its own form takes what is handed over.
"""

import html
import itertools
import re

import pytest
from helpers.own_bench import Tab

from pcbchem.bench.hazards.caution import method_cautions
from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench import Bench, panel_of_bottle
from pcbchem.lesson.own_bench.bottle_panel import FADED, FRESH, ON_PAPER, ends_words, label_row
from pcbchem.lesson.own_bench.readings import (
    GAS,
    LYE,
    METHODS,
    SODA,
    WEIGHED_ACID,
    WEIGHED_PEROXIDE,
    row_of,
    strength_of,
)
from pcbchem.page.picture import Drawing

from .test_readings import ACID, PEROXIDE, READ, read


@pytest.fixture
def bench():
    return Bench()


@pytest.fixture
def fresh(bench, monkeypatch):
    """The panel as it starts; how its rows are drawn, test_rows_picture says."""
    monkeypatch.setattr(Drawing, "png", lambda *_: b"")
    return Tab(panel_of_bottle(bench))


@pytest.fixture
def tab(fresh):
    """The panel with its labels filled in."""
    fresh.enter(acid_label=10, peroxide_label=12)
    return fresh


def rows_of(*methods, **changes):
    return [row_of(read(method, **changes)) for method in methods]


@pytest.mark.parametrize("method", METHODS)
def test_law_nothing_is_said_of_a_bottle_without_its_label(method, fresh):
    """Nobody may take our numbers for those of a bottle."""
    numbers = [value for name, value in fresh.panel.values.items() if "warmth" not in name]
    assert {value for value in numbers if not isinstance(value, str)} == {None}
    other = "peroxide_label" if METHODS[method].substance == "HCl" else "acid_label"
    blank = "acid_label" if other == "peroxide_label" else "peroxide_label"
    fresh.enter(method=method, **{other: 10}, **READ[method])
    assert fresh.panel.headline == "What does the label say?" and fresh.panel.row is None
    assert not re.search(r"\d+ %", fresh.panel.readout + fresh.panel.alt)
    label = "label of the acid" if blank == "acid_label" else "label of the peroxide"
    assert fresh.panel.readout == f"Fill in what you measured: {label}."
    assert fresh.panel.handed == [{}]
    drawing, _ = fresh.panel.picture_and_words(method=method, **{blank: None})
    assert not drawing.parts["axes"].patches


def test_law_it_starts_with_the_way_that_tells_most():
    """A titration is good to a fiftieth; the density of acid says little of its strength."""
    (choice,) = (
        item for item in Tab(panel_of_bottle(Bench())).panel.controls if item.name == "method"
    )
    assert choice.start == SODA == next(iter(choice.options))
    assert list(choice.options) == list(METHODS)
    for better, worse in ((SODA, WEIGHED_ACID), (LYE, WEIGHED_ACID), (GAS, WEIGHED_PEROXIDE)):
        assert list(METHODS).index(better) < list(METHODS).index(worse)


@pytest.mark.parametrize("method", METHODS)
def test_second_source_the_headline_says_what_was_read(method, tab):
    """Its ends lie about the strength that others printed, and no wider than 8 of 10 doubts."""
    tab.enter(method=method, **READ[method])
    low, high = map(float, re.search(r": ([\d.]+) to ([\d.]+) %\.", tab.panel.headline).groups())
    truth = 100 * (ACID if METHODS[method].substance == "HCl" else PEROXIDE)
    strength = strength_of(row_of(read(method)))
    assert low < truth < high
    assert high - low == pytest.approx(2 * 1.28 * 100 * strength.doubt, abs=0.12)
    assert tab.panel.row == row_of(tab.panel.values), "and may be kept"


def test_as_printed_a_label_alone_is_within_one_in_ten(tab):
    """8 in 10 of 9 to 11 %: 9.2 to 10.8 %."""
    assert tab.panel.headline == "The label, 10 %, may mean 9.2 to 10.8 %."
    assert tab.panel.row is None
    lacking = "washing soda, dry; run in until it turned; diluted"
    assert f"Fill in what you measured: {lacking}." in tab.seen()
    assert label_row("HCl", 0.10).words == "9.2 to 10.8 %"


def test_law_gas_is_foretold_as_soon_as_it_can_be(tab):
    sample = {"sample": 1, "diluted": 5}
    assert "Expect to read at most 10.0 mL" in tab.enter(method=GAS, **sample)
    assert "Fill in what you measured: all that the vessel shows; air pressure" in tab.seen()
    said = tab.enter(diluted=2)
    assert "projectile" in said and "Expect" not in said and tab.panel.row is None


@pytest.mark.parametrize("method", METHODS)
def test_law_cautions_of_each_way_stand_above_all(method, tab):
    tab.enter(method=method)
    words = html.unescape(re.sub(r"<[^>]+>", "", tab.panel.top))
    for caution in method_cautions(METHODS[method].cautions):
        assert caution.words in words
    assert "<details" not in tab.panel.top, "none is folded away"
    # what is done is said after what to take care of, and that nobody has to
    assert METHODS[method].how in tab.panel.head and FRESH in tab.panel.head


def test_law_a_reading_that_cannot_be_has_no_picture_and_no_row(tab):
    said = tab.enter(method=WEIGHED_ACID, **READ[WEIGHED_ACID] | {"mass": 60})
    assert "Liquid alone weighs = 60 g cannot be" in said and tab.panel.wrong
    assert tab.panel.row is None and tab.panel.handed == [{}]


# ---- readings that are kept


def test_law_kept_readings_count_and_are_listed(tab, bench):
    shown = tab.keep(*rows_of(SODA, LYE, GAS))
    assert shown["lost"] == [] and shown["html"].count("<tr>") == 4
    head, *lines = shown["csv"].splitlines()
    assert head == 'bottle,measured,read,"8 in 10, % by weight","label, %"'
    assert [line.split(",")[:2] for line in lines] == [
        ["acid", "washing soda"],
        ["acid", "lye"],
        ["peroxide", "gas"],
    ]
    numbers = [row.split('"')[1] for row in lines]
    # what was read, in the order of the fields: soda, run in, diluted, the acid's temperature
    assert numbers[0] == f"0.2 g, {READ[SODA]['run_in']:g} mL, 10 times, 25 °C"
    assert all(words in html.unescape(shown["html"]) for words in numbers)
    assert "Kept:" in tab.panel.headline and "kept ones together" in tab.panel.alt
    assert bench.strength("HCl").methods == (
        "titration with washing soda",
        "titration with lye",
    )
    assert bench.strength("HCl").middle == pytest.approx(ACID, abs=0.001)
    assert bench.settled == 1


def test_law_rows_of_two_tabs_and_of_a_reload_are_the_same(tab, bench):
    """The browser keeps them: a page that is loaded again sends what stands there."""
    rows = rows_of(SODA, LYE)
    first = tab.keep(*rows)
    again = tab.keep(*rows)
    assert {**first, "number": ""} == {**again, "number": ""} and bench.settled == 1
    tab.reload()
    assert len(bench.readings["HCl"]) == 2
    other = Tab(panel_of_bottle(bench))
    assert other.keep(*rows)["html"] == first["html"] and bench.settled == 1
    tab.keep()
    assert bench.readings == {"HCl": (), "H2O2": ()} and bench.settled == 2
    assert tab.panel.handed == [{}], "taken away it is handed on no more"


JUNK = [
    {},
    {"method": "x"},
    {"method": ["acid soda"]},
    {"method": SODA, "soda": "<b>1</b>", "run_in": 1, "diluted": 1, "acid_warmth": 20},
    {**row_of(read(SODA)), "acid_label": None},
    {**row_of(read(SODA)), "acid_label": 1e9},
    {**row_of(read(SODA)), "vessel": "bucket"},
    {name: value for name, value in row_of(read(SODA)).items() if name != "vessel"},
    {**row_of(read(GAS)), "gas": [1]},
    {"water": 1},
]


def test_law_a_row_that_is_no_reading_is_lost_and_the_others_stay(tab, bench):
    good = rows_of(SODA)
    shown = tab.keep(*JUNK, *good)
    assert shown["lost"] == list(range(len(JUNK))) and tab.panel.failure is None
    assert len(bench.readings["HCl"]) == 1 and "<b>" not in shown["html"]
    tab.send(beside=["text", 5, None, *good], number="junk")
    assert tab.sent[-1][0]["lost"] == [0, 1, 2] and tab.panel.failure is None


# ---- handing over

CONTRADICTION = [
    *rows_of(SODA),
    *rows_of(LYE, run_in=READ[LYE]["run_in"] * 1.3, acid_label=13),
]
"""Two readings of one acid, a third apart."""


@pytest.mark.parametrize(
    "methods", [pair for n in (1, 2) for pair in itertools.combinations(METHODS, n)]
)
def test_law_the_planner_s_form_takes_what_is_handed_over(tab, methods):
    """Label and bottle stay what they are; the ends are those that are said.

    Of a bottle that was not measured nothing is handed over, above all no number of ours.
    """
    tab.keep(*rows_of(*methods))
    (handed,) = tab.panel.handed
    names = {"acid" if METHODS[method].substance == "HCl" else "peroxide" for method in methods}
    ends = ("", "_in", "_sure", "_low", "_to")
    assert set(handed) - {"why"} == {f"{name}{end}" for name in names for end in ends}
    assert {handed[f"{name}_sure"] for name in names} == {"measured"}
    for name in {"acid", "peroxide"} - names:
        assert f"{name} not measured, as it stands below" in handed["why"]
    values = fields.STARTS | {name: handed[name] for name in handed if name != "why"}
    for name in names:
        bottle = fields.read_bottle(values, name, 293.15)
        assert bottle.label == pytest.approx(0.10 if name == "acid" else 0.12)
        assert bottle.low < (ACID if name == "acid" else PEROXIDE) < bottle.high
        assert (
            f"here between {handed[f'{name}_low']:g} and {handed[f'{name}_to']:g} %"
            in (handed["why"])
        )
    assert handed["why"].startswith("Filled in from your own bench: ")


def test_law_what_is_handed_over_is_planned(tab, bench):
    tab.keep(*rows_of(SODA, LYE, GAS))
    (handed,) = tab.panel.handed
    plan = fields.plan_from(fields.STARTS | {k: v for k, v in handed.items() if k != "why"})
    for name, substance in (("acid", "HCl"), ("peroxide", "H2O2")):
        bottle = getattr(plan.inputs, name)
        whole = bench.strength(substance).bottle(bench.labels[substance])
        # to the printed figure: a hundredth of a per cent
        assert bottle.low == pytest.approx(whole.low, abs=0.5e-4 + 1e-9)
        assert bottle.high == pytest.approx(whole.high, abs=0.5e-4 + 1e-9)
        assert bottle.label == whole.label
    assert not plan.refused


def test_law_nothing_of_a_contradiction_is_handed_over(tab):
    said = tab.keep(*CONTRADICTION) and tab.seen()
    assert "doubts apart" in said and "do not take the mean" in said
    assert tab.panel.handed == [{}] and tab.panel.wrong
    tab.keep(*CONTRADICTION, *rows_of(GAS))
    (handed,) = tab.panel.handed
    assert {name for name in handed if name.startswith("acid")} == set()
    assert "acid as it stands below, for its readings do not settle it" in handed["why"]
    assert handed["peroxide_sure"] == "measured", "the other bottle is no part of it"


def test_law_a_label_that_two_readings_belie_is_not_handed_over(tab, bench):
    """Kept under its own label each of them fits; together they are surer than that."""
    tab.keep(*rows_of(WEIGHED_ACID, acid_label=12.5), *rows_of(SODA, acid_label=11.2))
    assert len(bench.readings["HCl"]) == 2
    bench.labels["HCl"] = 0.15
    tab.enter()
    assert tab.panel.handed == [{}]


def test_law_of_a_bottle_taken_away_the_label_goes_over(tab, bench):
    """A planner may still hold what was read of it: nothing but the label may stay of that."""
    tab.keep(*rows_of(SODA, GAS))
    tab.keep(*rows_of(GAS))
    (handed,) = tab.panel.handed
    acid = {name: value for name, value in handed.items() if name.startswith("acid")}
    assert acid == {"acid": 10, "acid_in": "% by weight", "acid_sure": "label"}
    assert handed["peroxide_sure"] == "measured"
    assert bench.last_labels == {"HCl": pytest.approx(0.10), "H2O2": pytest.approx(0.12)}
    tab.keep()
    assert tab.panel.handed == [{}]


# ---- as it is kept, printed and swept


def test_law_nothing_of_it_is_kept_in_a_page_or_printed(tab):
    tab.enter(method=WEIGHED_ACID, **READ[WEIGHED_ACID])
    assert tab.panel.row, "it has an answer"
    state = tab.panel.get_state()
    assert not any(state[name] for name in ("headline", "readout", "alt", "row", "handed"))
    assert repr(tab.panel) == ON_PAPER
    still = tab.panel.still_forms()
    assert "In this copy nothing can be measured" in still["text/html"]


def test_law_every_corner_says_something(tab):
    """Also with readings kept; never a Python error."""
    assert not tab.panel.beside["puts_back"], "what was read of one bottle is not of another"
    for rows in ((), rows_of(SODA, WEIGHED_PEROXIDE)):
        tab.keep(*rows)
        for corner in tab.panel.corners():
            for narrow in (False, True):
                _, words = tab.panel.picture_and_words(narrow, **corner)
                assert words.readout and words.alt and words.top
                assert "Error" not in words.wrong and "kg/kg" not in words.wrong


def test_as_printed_ends_have_decimals_that_tell_them_apart():
    assert ends_words(9.77, 10.31) == "9.8 to 10.3 %"
    assert ends_words(10.0, 10.02) == "10.00 to 10.02 %"
    assert ends_words(3.0, 3.0) == "3.000 to 3.000 %"


def test_law_faded_peroxide_is_kept_and_believed_by_two_ways(tab, bench):
    """One way alone may have left a dilution out: nothing of it is handed over."""
    faded = {"gas": 6.6, "mass": 101.9, "volume": 100}
    tab.enter(method=GAS, **{**READ[GAS], "gas": faded["gas"]})
    assert not tab.panel.wrong and FADED in tab.panel.readout
    gas = dict(tab.panel.row)
    tab.panel.rows.show([gas], tab.panel.values)
    tab.panel.redraw()
    assert "peroxide" not in tab.panel.handed[0] and len(bench.readings["H2O2"]) == 1
    tab.enter(method=WEIGHED_PEROXIDE, mass=faded["mass"], volume=faded["volume"])
    _, _, lost = tab.panel.rows.show([gas, dict(tab.panel.row)], tab.panel.values)
    tab.panel.redraw()
    assert lost == [] and tab.panel.handed[0]["peroxide_sure"] == "measured"
    assert 5.5 < tab.panel.handed[0]["peroxide_to"] < 8
