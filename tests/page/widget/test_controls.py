"""Controls have names of their own, refuse what cannot be, and reach the script whole (laws)."""

import pytest

from pcbchem.page.widget.controls import Choice, Field, Group, Slider, all_controls, for_script

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
        "beside": "",
        "help": "",
        "notes": {},
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
