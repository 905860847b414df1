"""Each button of the planner does what it says, and what it offers is that plan again (laws)."""

import dataclasses
import io

import pytest
from helpers.amounts import amounts
from helpers.artworks import page
from helpers.workshop import POUR, USED_CONTROLS
from PIL import Image

from pcbchem.bench.plan.changes import Change
from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.plan.search_result import mixtures_by_name
from pcbchem.common.limits import InputError
from pcbchem.lesson.bath.plan_picture import build
from pcbchem.lesson.form import fields
from pcbchem.lesson.plan_a_bath import buttons, panel
from pcbchem.page.widget.controls import Action, Done, Field, Upload

STRONG = {"acid": 31, "peroxide": 32.5, "water_parts": 3, "total": 22.4}


def tell_nothing(progress, words):
    """A page that does not listen."""


def press(name, came_with=None, progress=tell_nothing, **changed):
    """Press a button with some values changed."""
    work = buttons.works(panel.plan_of)[name]
    return work(panel.starts() | changed, came_with or {}, progress)


def planned_with(done, **changed):
    """The plan of the page when what a button comes to is in its fields."""
    return panel.plan_of(panel.starts() | changed | dict(done))


# What stands where


def test_law_every_button_has_its_work_and_every_work_its_button():
    listed = [*(item for group in panel.groups() for item in group.controls), buttons.CARD]
    tools = [item.name for item in listed if isinstance(item, Action | Upload)]
    assert len(tools) == len(set(tools))
    assert set(tools) == set(buttons.works(panel.plan_of))


def test_law_a_class_has_no_button():
    items = [item for group in panel.groups(school=True) for item in group.controls]
    assert not any(isinstance(item, Action | Upload) for item in items)
    assert not {control.name for control in items} & {item.name for item in buttons.SEARCHED}


def test_law_buttons_stand_under_headings_of_the_form():
    assert set(buttons.UNDER) <= set(fields.CONTROLS)
    for tools in (*buttons.UNDER.values(), (buttons.CARD,)):
        for tool in tools:
            assert tool.label and not POUR.search(tool.label + tool.help)


# An amount


def test_an_amount_is_put_into_its_field_and_said_once():
    """By hand: the workshop's usual bath for the workshop's board is 150 mL."""
    done = press("suggested", total=999)
    assert dict(done.values) == {"total": 150}
    assert done.remark.count("150 mL") == 1 and "The verdict decides." in done.remark


def test_what_cannot_be_covered_is_refused_in_the_pages_words():
    with pytest.raises(InputError) as error:
        press("suggested", tray_width=1000, tray_length=1000)
    said = panel.page_words(error.value)
    assert said.startswith("Tray is too large") and not POUR.search(said)


# An artwork


def artwork(kind="PNG", **options):
    """A file of 800 × 600 pixels, of which a quarter is black."""
    file = io.BytesIO()
    Image.fromarray(page(800, 600, (100, 150, 500, 450))).save(file, kind, **options)
    return {"name": "clock.png", "data": file.getvalue()}


def test_an_artwork_says_how_much_is_bare():
    """By hand: three quarters of it, and at 254 pixels to the inch 80 × 60 mm."""
    done = press("artwork", artwork(dpi=(254, 254)))
    assert dict(done.values) == {"bare": 75.0, "board_width": 80.0, "board_height": 60.0}
    assert "75.0 % bare" in done.remark and "hold a ruler to it" in done.remark
    board = planned_with(done.values).inputs.board
    assert float(board.copper_area) == pytest.approx(0.75 * 0.080 * 0.060)


def test_an_artwork_of_no_size_takes_the_boards_width():
    assert dict(press("artwork", artwork(), board_width=120).values) == {"bare": 75.0}


def test_law_what_is_no_picture_is_refused_by_its_name():
    with pytest.raises(ValueError, match=r"clock\.png"):
        press("artwork", {"name": "clock.png", "data": b"no picture"})


def test_law_endings_that_are_taken_can_be_read():
    (upload,) = (tool for tool in buttons.UNDER["The board"] if isinstance(tool, Upload))
    assert upload.kinds == buttons.ARTWORKS
    for ending, kind in zip(upload.kinds, ("PNG", "TIFF", "TIFF", "BMP"), strict=True):
        file = artwork(kind) | {"name": f"clock{ending}"}
        assert press("artwork", file).values["bare"] == 75.0


# A used bath


def test_law_a_used_bath_is_what_the_plan_leaves():
    done = press("used up")
    bands = panel.plan_of(panel.starts()).bands
    for name, unit in (("copper", 63.546e-3), ("acid", 1e-3)):
        low, high = done.values[f"used_{name}"], done.values[f"used_{name}_to"]
        band = bands[f"{name}_used"]
        assert low <= band.low * unit and band.high * unit <= high, "outwards"
        assert low == pytest.approx(band.low * unit, rel=0.1)
        assert high == pytest.approx(band.high * unit, rel=0.1)
    assert "a strip says" in done.remark


def test_law_its_peroxide_is_asked_for_by_its_name():
    """A test strip says that, never a plan."""
    done = press("used up", **USED_CONTROLS)
    assert done.values["used_peroxide"] is done.values["used_peroxide_to"] is None
    with pytest.raises(InputError, match="peroxide"):
        planned_with(done.values, used_bath=40)
    strip = {"used_peroxide": 0, "used_peroxide_to": 0.2}
    assert planned_with(done.values | strip, used_bath=40).inputs.used_bath.share == 0.4


def test_law_a_refused_bath_leaves_nothing():
    with pytest.raises(ValueError, match="nobody makes it"):
        press("used up", **STRONG)


# The leanest


def wishes_of(*minutes):
    """What a search in Python takes for the wishes of the page as it starts."""
    return {"minutes": minutes, "hottest_C": 40, "most_mL": None}


@pytest.fixture(scope="module")
def searched():
    """What a search comes to, how far it said it was, and what Python's own has found.

    That is asked with the fields as they are: made once, for it takes seconds.
    """
    told, made = [], []
    usual = fields.search_from

    def noting(values, *, progress, **wishes):
        made.append((values, wishes, usual(values, progress=progress, **wishes)))
        return made[-1][-1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(fields, "search_from", noting)
        done = press("leanest", progress=lambda share, words: told.append((share, words)))
    ((values, wishes, found),) = made
    assert values == panel.starts() and wishes == wishes_of(3, 8)
    return done, told, found


@pytest.fixture(scope="module")
def found(searched):
    """What Python's own search has found."""
    return searched[-1]


def found_by(monkeypatch, result, **changed):
    """What is said and offered of a search that came to this."""
    monkeypatch.setattr(fields, "search_from", lambda values, **wishes: result)
    return press("leanest", **changed)


def test_law_a_search_tells_how_far_it_is(searched):
    _, told, _ = searched
    shares = [share for share, _ in told]
    assert len(shares) > 1 and shares == sorted(shares)
    assert shares[-1] == 1 and all(0 <= share <= 1 for share in shares)
    assert all(words.startswith("Tried ") for _, words in told)


def test_law_an_offer_is_the_search_s_own_plan(searched):
    """Put into the fields it is that mixture, number by number."""
    done, _, result = searched
    mixtures = mixtures_by_name(result)
    for (words, values), name in zip(done.offers, mixtures, strict=True):
        assert words == f"Take {name}: {values['total']:.3g} mL in all"
    assert len(mixtures) >= 1
    for (_, values), inputs in zip(done.offers, mixtures.values(), strict=True):
        anew = planned_with(values).inputs
        assert anew.parts == pytest.approx(inputs.parts)
        assert anew.bath_per_area == pytest.approx(inputs.bath_per_area, rel=1e-3)
        assert (anew.second is None) == (inputs.second is None)
        for name in ("acid", "peroxide", "board", "tray"):
            assert repr(getattr(anew, name)) == repr(getattr(inputs, name)), name


def test_law_an_offer_changes_the_mixture_alone(searched):
    done, _, _ = searched
    for _, values in done.offers:
        assert set(values) == {*fields.PARTS, "total", "held_back", "held_until", "used_bath"}
    assert not done.values, "nothing is taken until it is chosen"
    assert not done.remark and "<p>" in done.html


def test_law_an_offer_is_of_a_fresh_bath(monkeypatch, found):
    """A search knows no used bath and no portion held back: whoever takes it has neither."""
    others = {"used_bath": 50, "held_back": 50, "held_until": 2} | USED_CONTROLS
    done = found_by(monkeypatch, found, **others)
    anew = planned_with(done.offers[0][1], **others).inputs
    assert anew.used_bath is None and anew.second is None
    assert anew.parts == pytest.approx(found.plan.inputs.parts)


def test_near_misses_are_offered_too(monkeypatch):
    """No bath of these bottles clears in 9 s."""
    result = fields.search_from(panel.starts(), **wishes_of(0.1, 0.15))
    done = found_by(monkeypatch, result)
    assert not result.meets and result.near
    names = mixtures_by_name(result)
    for (words, _), name in zip(done.offers, names, strict=True):
        assert words.startswith(f"Take {name}: ")
    for (_, values), inputs in zip(done.offers, names.values(), strict=True):
        assert planned_with(values).inputs.parts == pytest.approx(inputs.parts)
        assert not planned_with(values).refused


def test_law_a_refused_find_is_no_offer(monkeypatch, found):
    """Nor does it say any amount."""
    refused = panel.plan_of(panel.starts() | STRONG)
    only = dataclasses.replace(found, plan=refused, near=())
    done = found_by(monkeypatch, only)
    assert done.offers == [] and not POUR.search(done.html)


@pytest.mark.parametrize(
    ("changed", "named"),
    [({"window_from": 9}, "minutes"), ({"most": 0.001}, "most_mL")],
)
def test_a_wish_that_cannot_be_is_named(changed, named):
    with pytest.raises(InputError) as error:
        press("leanest", **changed)
    assert error.value.field == named


def test_law_every_field_of_a_search_is_one_of_the_panel():
    starts = {item.name: item.start for item in buttons.SEARCHED if isinstance(item, Field)}
    assert starts.items() <= panel.starts().items()


# What would help

WATERY = {"acid": 31, "peroxide": 32.5, "acid_parts": 50, "peroxide_parts": 1, "total": 2000}
"""Only more water than its field takes would help: 114 parts to 50 of acid."""


def test_law_a_change_is_entered_as_it_was_tried():
    """Planned anew it has the verdict that it was offered for, and its label no amount."""
    plan = panel.plan_of(panel.starts() | STRONG)
    offers = buttons.changes_offered(plan)
    assert plan.refused and len(offers) == len(plan.changes) >= 1
    for (words, values), change in zip(offers, plan.changes, strict=True):
        assert planned_with(values, **STRONG).verdict == change.verdict != "do not mix"
        assert words.startswith(("Enter it: ", "I will cool everything to "))
        assert f"(verdict: {change.verdict})" in words
        assert not POUR.search(words)
    assert buttons.changes_offered(for_class(plan)) == []


def test_law_a_colder_start_is_entered_by_who_means_to_make_it():
    """A number in a field cools nothing."""
    plan = panel.plan_of(panel.starts() | STRONG)
    colder = plan.inputs.replace(T_bottles=287.15)
    cold = dataclasses.replace(plan, changes=(Change("start", 287.15, 0.5, "with care", colder),))
    ((words, values),) = buttons.changes_offered(cold)
    assert words == "I will cool everything to 14 °C: enter it (verdict: with care)"
    assert values["bottles"] == pytest.approx(14)


def test_law_a_lever_that_stands_twice_has_two_buttons():
    """Each for a verdict of its own."""
    plan = panel.plan_of(panel.starts() | STRONG)
    more = dataclasses.replace(plan.changes[0], verdict="mix it")
    both = dataclasses.replace(plan, changes=(plan.changes[0], more))
    assert len({words for words, _ in buttons.changes_offered(both)}) == 2


def test_law_a_change_that_no_field_takes_has_no_button():
    """The page stands, and says it in words."""
    plan = panel.plan_of(panel.starts() | WATERY)
    assert max(plan.changes[0].inputs.parts) > 100
    assert buttons.changes_offered(plan) == []
    said = panel.say(build(), **panel.starts() | WATERY)
    assert said.headline == "Do not mix this." and "more water" in said.head
    assert said.offers == []


# The card


def test_law_the_card_is_made_of_the_plan_on_the_page(monkeypatch):
    made = []

    class Card:
        html = "<!doctype html><h1>card</h1>"

    monkeypatch.setattr(buttons, "card", lambda plan: made.append(plan) or Card())
    done = press("card", total=151)
    assert done == Done(page=Card.html, remark=done.remark) and done.remark
    assert made == [panel.plan_of(panel.starts() | {"total": 151})]


def test_law_the_card_of_a_refused_plan_has_no_amount():
    done = press("card", **STRONG)
    assert done.page and amounts(done.page.partition("<body")[2]) == []
