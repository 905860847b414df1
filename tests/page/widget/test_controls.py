"""Controls have names of their own, refuse what cannot be, and reach the script whole (laws)."""

import pytest

from pcbchem.page.widget.controls import (
    BLANK,
    Action,
    Carried,
    Choice,
    Field,
    Group,
    PanelWords,
    Slider,
    Table,
    Text,
    TimeText,
    Upload,
    all_controls,
    all_items,
    for_script,
    is_called_for,
    state_of,
)

WATER = Slider("water", "Water", "parts", 0, 10, 0.1, 1)
BOTTLES = Choice("bottles", "Bottles", {"weak": "10 %", "strong": "31 %"}, "weak")
WIDTH = Field("width", "Width", "mm", 0, 9, 1, None, when=("bottles", ("weak",)))


def test_law_controls_of_groups_stand_among_the_others():
    items = [WATER, Group("More", [BOTTLES, WIDTH], folded=True)]
    assert all_controls(items) == (WATER, BOTTLES, WIDTH)


def test_law_a_name_stands_once():
    with pytest.raises(ValueError, match="the name water stands 2 times: it must stand once"):
        all_controls([WATER, Group("Again", [WATER])])


def test_law_a_choice_reaches_the_script_in_its_order():
    assert for_script(BOTTLES) == {
        "kind": "choice",
        "name": "bottles",
        "label": "Bottles",
        "options": [["weak", "10 %"], ["strong", "31 %"]],
        "start": "weak",
        "look": "radio",
        "beside": (),
        "help": "",
        "notes": {},
        "when": None,
    }


def test_law_a_group_reaches_the_script_with_its_controls():
    group = for_script(Group("More", (WIDTH,), folded=True))
    assert (group["kind"], group["legend"], group["folded"]) == ("group", "More", True)
    assert group["controls"] == [
        {
            "kind": "field",
            "name": "width",
            "label": "Width",
            "unit": "mm",
            "low": 0,
            "high": 9,
            "step": 1,
            "start": None,
            "when": ("bottles", ("weak",)),
            "reads": {},
            "chooses": None,
            "help": "",
        }
    ]
    assert for_script(WATER)["kind"] == "slider"


@pytest.mark.parametrize(
    ("control", "ends"),
    [(WATER, (0, 1, 10)), (BOTTLES, ("weak", "strong")), (WIDTH, (0, None, 9))],
    ids=lambda value: getattr(value, "name", ""),
)
def test_law_a_control_works_at_each_of_its_ends(control, ends):
    assert control.ends == ends
    for value in ends:
        control.check(value)


def test_law_an_end_at_which_it_starts_stands_once():
    assert Slider("water", "Water", "parts", 0, 10, 0.1, 0).ends == (0, 10)


@pytest.mark.parametrize(
    ("control", "value", "words"),
    [
        (WATER, 50, "water = 50 is impossible: it must be 0 to 10 parts"),
        (WATER, None, "water = nan"),
        (WATER, "x", "water = 'x' is not a number"),
        (BOTTLES, "none", "bottles = 'none' is not known: choose from weak, strong"),
        (WIDTH, -1, "width = -1 is impossible: it must be 0 to 9 mm"),
    ],
)
def test_law_a_value_that_cannot_be_is_refused_by_name(control, value, words):
    with pytest.raises(ValueError, match=words):
        control.check(value)


def test_law_what_has_no_value_is_no_control():
    items = [WATER, Group("More", [Action("usual", "Take the usual"), WIDTH])]
    items.append(Upload("artwork", "Artwork", (".png",), 1000))
    assert all_controls(items) == (WATER, WIDTH)
    assert [item.name for item in all_items(items)] == ["water", "usual", "width", "artwork"]
    assert for_script(items[-1]) == {
        "kind": "upload",
        "name": "artwork",
        "label": "Artwork",
        "kinds": (".png",),
        "most_bytes": 1000,
        "help": "",
        "when": None,
    }


def test_law_texts_reach_the_script_with_what_holds_for_all_of_them():
    note = for_script(Text("note", "Note", "tray", 8, "as 3", kinds="abc"))
    assert (note["kind"], note["most"], note["hint"], note["kinds"]) == ("text", 8, "as 3", "abc")
    time = for_script(TimeText("clear", "Clear after", 10, 600, when=("bottles", ("weak",))))
    assert (time["kind"], time["start"], time["most"]) == ("timetext", "", 60)
    assert time["hint"] == "as 4 min 10 s, 250 s or 4:10"
    assert for_script(Carried("offcut")) == {"kind": "carried", "name": "offcut", "start": None}


def test_law_what_is_carried_starts_with_nothing():
    offcut = Carried("offcut")
    assert offcut.ends == (offcut.start,) == (None,)
    for value in (None, {}, {"label": "3"}):
        offcut.check(value)
    for value in (3, "x", [1]):
        with pytest.raises(ValueError, match=r"offcut = .*: it must be a dict, or None"):
            offcut.check(value)


def test_law_a_button_is_there_when_a_choice_calls_for_it():
    press = Action("usual", "Take the usual", when=("bottles", ("weak",)))
    for bottles, is_there in (("weak", True), ("strong", False)):
        assert is_called_for(press, {"bottles": bottles}) is is_there
        assert is_called_for(WIDTH, {"bottles": bottles}) is is_there
        assert is_called_for(WATER, {"bottles": bottles})


def test_law_an_answer_is_blank_before_it_is_told():
    """By name: what a panel tells of its words, and of a page that keeps none."""
    silent = state_of(PanelWords("", ""))
    assert set(silent) <= set(BLANK)
    assert silent == {name: BLANK[name] for name in silent}
    told = state_of(
        PanelWords("a", "b", looks=(1, 2), row={"x": 1}, table=Table("T", ["n"], [["1"]]))
    )
    assert told["looks"] == [1, 2] and told["row"] == {"x": 1} and "<table" in told["table"]


def test_law_a_button_may_not_share_a_name_either():
    with pytest.raises(ValueError, match="the name water stands 2 times"):
        all_items([WATER, Action("water", "Water")])
