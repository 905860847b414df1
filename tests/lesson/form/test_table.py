"""Every field of the planner's form is explained, and understands what people write (laws)."""

import re

import pytest

from pcbchem.lesson.form import choices
from pcbchem.lesson.form import table as form
from pcbchem.page.widget.controls import Choice, Field, for_script

ALL = {control.name: control for controls in form.CONTROLS.values() for control in controls}
FIELDS = {name: control for name, control in ALL.items() if isinstance(control, Field)}
LISTS = ("place", "acid_in", "peroxide_in", "agitation", "facing", "back")


def test_law_every_control_is_explained_in_few_words():
    assert set(choices.HELP) == set(ALL)
    for name, control in ALL.items():
        assert control.help == choices.HELP[name]
        assert 3 < len(control.help.split()) <= 30, name


@pytest.mark.parametrize("name", LISTS)
def test_law_every_option_of_a_list_is_explained(name):
    control = ALL[name]
    assert control.look == "list" and set(control.notes) == set(control.options)
    assert all(3 <= len(note.split()) <= 30 for note in control.notes.values())


def test_a_unit_list_stands_beside_its_strength():
    for name in ("acid", "peroxide"):
        assert ALL[f"{name}_in"].beside == (name, f"{name}_low")
        assert ALL[name].when == (f"{name}_sure", ("label", "measured"))
        for end in ("low", "to"):
            assert ALL[f"{name}_{end}"].when == (f"{name}_sure", ("between", "measured"))


def test_two_strengths_start_with_the_doubt_of_the_label():
    """As printed: acid within 1 % by weight, peroxide at 85 to 100 % of it (common practice)."""
    starts = {name: control.start for name, control in ALL.items()}
    assert (starts["acid_low"], starts["acid"], starts["acid_to"]) == (9, 10, 11)
    assert starts["peroxide_low"] == pytest.approx(0.85 * starts["peroxide"])
    assert starts["peroxide_to"] == starts["peroxide"] == 12


def test_law_every_number_reads_its_own_unit():
    for name, control in FIELDS.items():
        if control.unit:
            assert control.reads[control.unit.lower()] == (1, 0), name
        else:
            assert control.chooses[0] in ALL, name


def test_law_a_unit_written_behind_a_strength_is_one_of_its_list():
    for name, control in FIELDS.items():
        if control.chooses:
            choice, spellings = control.chooses
            assert set(spellings.values()) == set(ALL[choice].options), name


def test_law_spellings_are_in_small_letters():
    for control in FIELDS.values():
        spellings = [*control.reads, *(control.chooses or ("", {}))[1]]
        assert all(spelling == spelling.lower().strip() for spelling in spellings)


def test_law_the_script_gets_plain_values():
    """What stands in the table reaches the page as it is."""
    sent = for_script(ALL["foil"])
    assert sent["reads"]["oz"] == (1, 0) and sent["help"] == choices.HELP["foil"]
    assert for_script(ALL["back"])["notes"] == choices.BACK_NOTES


def test_no_help_gives_an_amount_of_liquid():
    texts = [*choices.HELP.values(), *choices.BACK_NOTES.values(), *choices.MOVE_NOTES.values()]
    assert not re.search(r"\d (mL|L)\b", " ".join(texts))


def test_what_the_page_said_of_its_fields_stands_beside_them():
    """As printed in the planner's first edition, under "What the fields mean"."""
    texts = [*choices.HELP.values()]
    for control in ALL.values():
        texts += getattr(control, "notes", {}).values()
        texts += getattr(control, "options", {}).values()
    words = " ".join(texts)
    for said in (
        "within 1 % by weight of its label",
        "85 to 100 % of its label, as it fades",
        "common practice, no source",
        "equally likely",
        "20 °Baumé is 31 % by weight",
        "10 volumes is 3 % by weight",
        "Grams in 100 mL",
        "no part of it",
        "England, Wales and Scotland. In Northern Ireland ask locally",
        "1 oz is about 35 µm",
        "10 to 30 tilts a minute",
        "a tilt a second and more",
        "the bath is taken to be 10 mm deep",
        "narrower it gets hotter",
        "brings other cautions: read them again",
    ):
        assert said in words, said


def test_what_could_hurt_is_said_where_it_is_chosen():
    assert "mist" in choices.MOVE_NOTES["bubbled"] and "mist" in choices.MOVE_NOTES["sprayed"]
    assert "stood open for days" in choices.HELP["used_bath"]
    assert "never a plan" in choices.HELP["used_peroxide"]
    assert isinstance(ALL["back"], Choice)
