"""The panel: its cursor by sliders and by pointer, what it hands on, a class, a copy (laws)."""

import html
import re

import pytest
from helpers.workshop import POUR

from pcbchem.bench.hazards.verdicts import REFUSED
from pcbchem.lesson.form import fields
from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.what_if import maps, panel, picture, triangle, words
from pcbchem.page.widget.panel import PANELS

REFUSED_PLACE = {"water": 100}


@pytest.fixture
def shown(small):
    widget = panel.what_if()
    yield widget
    PANELS.pop(widget.title, None)


@pytest.fixture
def of_class(small):
    widget = panel.what_if(school=True)
    yield widget
    PANELS.pop(widget.title, None)


def test_law_it_asks_once_more_until_the_map_is_full(shown):
    assert shown.coarse and "First look: 8 of 12 plausible baths." in shown.readout
    shown.redraw()
    assert not shown.coarse and "First look" not in shown.readout
    shown.redraw(water=20)
    assert not shown.coarse


def test_law_the_panel_says_the_mixture_under_its_cursor(shown):
    shown.redraw()
    every = maps.shown_map(shown.values)
    for water, acid in ((0, 50), (60, 50), (100, 0), (30, 10)):
        said = shown.redraw(water=water, acid_of_rest=acid)
        place = every.nearest(*maps.counts_at(water, acid))
        assert said.readout == words.under_cursor(every, place)
        assert shown.headline == words.verdict_line(every, place)
        is_refused = every.severity[place] == REFUSED
        assert (shown.row is None) == is_refused == (not any(shown.handed))


def test_law_no_headline_tells_anybody_to_mix(shown, of_class):
    """A verdict is the planner's, and is no permission: under each of them stands that."""
    seen = set()
    for widget, permission in (
        (shown, words.NO_PERMISSION),
        (of_class, words.CLASS_PERMISSION),
    ):
        widget.redraw()
        for water, acid in ((0, 50), (60, 50), (100, 0)):
            widget.redraw(water=water, acid_of_rest=acid)
            assert widget.headline.startswith("The planner's verdict here: ")
            assert permission in widget.head and permission.startswith("No permission: ")
            seen.add(widget.headline.removeprefix("The planner's verdict here: "))
    assert seen == {"mix it", "with care", "do not mix"}


@pytest.mark.parametrize("acid", [50, 0])
def test_law_a_first_look_gives_no_verdict_and_hands_nothing_on(small, shown, acid):
    maps.SHOWN.clear()
    shown.redraw(acid_of_rest=acid)
    assert shown.coarse and shown.headline == words.NOT_YET
    assert "mix" not in shown.headline.lower() and words.NOT_YET in shown.alt
    assert shown.row is None and shown.handed == [{}]
    shown.redraw()
    assert not shown.coarse and "verdict here: " in shown.headline
    assert bool(shown.row) == any(shown.handed) == (acid == 50)


def test_law_what_is_handed_on_is_kept_and_planned(shown):
    shown.redraw(water=20)
    row, handed = dict(shown.row), dict(shown.handed[0])
    assert "acid 10 %, peroxide 12 %; 1 water : 2 acid : 2 peroxide" in handed.pop("why")
    assert handed == row and shown.links == [[panel.TO_PLANNER, PLANNER_PAGE]]
    assert panel.plan_of(row).inputs.parts == pytest.approx((0.5, 1, 1))


def test_law_kept_rows_are_those_of_the_planner(shown):
    shown.redraw(water=20)
    markup, csv, lost = shown.rows.show([dict(shown.row), {"acid": 1}], shown.values)
    assert "<table" in markup and len(csv.splitlines()) == 2 and lost == [1]
    # the page gives no amounts; letters of the picture's own bytes are no words
    said = re.sub(r'src="[^"]*"', "", html.unescape(markup)) + csv
    assert not POUR.search(said) and panel.ROWS_WORDS in said
    assert not any(unit in said for unit in ("mL", "mol"))
    assert not shown.beside["puts_back"]


def test_law_an_impossible_bath_has_no_map_and_hands_on_nothing(shown):
    said = shown.redraw(tray_width=10, tray_length=10)
    assert "does not lie in it" in said.wrong and said.wrong.startswith("Tray")
    assert shown.handed == [{}] and shown.row is None and not shown.coarse


@pytest.mark.parametrize("narrow", [False, True])
def test_law_a_press_on_the_picture_moves_both_sliders(narrow):
    for counts in ((0, 10, 10), (12, 4, 4), (3, 2, 15), (19, 1, 0)):
        shares = [count / 20 for count in counts]
        x, y = triangle.place_on_picture(shares, narrow)
        moved = panel.pointed(x + 0.004, y - 0.004, narrow)
        assert maps.counts_at(**moved) == counts


@pytest.mark.parametrize("x, y, counts", [(0, 1, (0, 20, 0)), (1, 1, (0, 0, 20))])
def test_law_beside_the_triangle_the_nearest_inside_is_meant(x, y, counts):
    assert maps.counts_at(**panel.pointed(x, y, False)) == counts


def test_law_a_press_at_the_top_leaves_the_acid_as_it_is():
    assert panel.pointed(0.5, 0.1, False) == {"water": 100}


def test_law_a_change_of_unit_converts(shown):
    old = dict(shown.values)
    values, remark = panel.settle(old, old | {"acid_in": "mol/L"}, ["acid_in"])
    assert 2.8 < values["acid"] < 3.0 and remark
    # written with its unit, the number is that unit's own
    new = old | {"acid_in": "mol/L", "acid": 3.0}
    assert panel.settle(old, new, ["acid", "acid_in"])[0].get("acid", 3.0) == 3.0


def test_law_a_press_is_not_undone_by_what_settles(shown):
    """The page asks with a place on the picture: the sliders follow it."""
    shown.redraw()
    shown.pointed = [*triangle.place_on_picture((0.4, 0.3, 0.3), False)]
    shown.asked += 1
    assert shown.failure is None
    assert (shown.values["water"], shown.values["acid_of_rest"]) == (40, 50)


def test_law_the_form_is_the_planner_s():
    names = {control.name for control in panel.all_controls(panel.groups())}
    left_out = {*fields.PARTS, "total", "held_back", "held_until"}
    left_out |= {name for name in fields.STARTS if name.startswith("used_")}
    assert set(fields.STARTS) - names == left_out


def test_law_no_saved_page_holds_the_map(shown):
    state = shown.get_state()
    assert not any(state[name] for name in ("png", "readout", "notes", "handed", "row"))
    assert repr(shown) == panel.ON_PAPER


def test_law_a_class_reads_no_amount_and_gets_none(of_class):
    of_class.redraw(water=20)
    said = " ".join((of_class.head, of_class.readout, of_class.alt, of_class.notes))
    assert not POUR.search(html.unescape(said)) and "mL" not in said
    assert of_class.row is None and not of_class.handed
    assert not of_class.links and not of_class.beside
    assert not any(
        control.unit == "mL per cm²"
        for control in of_class.controls[:9]
        if hasattr(control, "unit")
    )


def test_law_a_copy_has_the_workshop_s_map_whole(shown):
    shown.redraw(acid=20)
    still, said = shown.still()
    assert "acid 10 % at the left" in still.alt and "First look" not in still.alt
    assert said.row is None and not POUR.search(said.notes)


def test_law_all_is_drawn_into_one_picture(shown):
    assert shown.png.startswith(b"\x89PNG") and shown.points
    assert shown.drawings[False].parts["narrow"] is False
    assert isinstance(shown.drawings[False].parts["ground"], picture.Ground)
