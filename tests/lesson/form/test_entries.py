"""One entry of a person: as people write it, and what is wrong named with advice (laws)."""

import pytest

from pcbchem.common.limits import InputError
from pcbchem.lesson.form import entries
from pcbchem.lesson.form.entries import Row, bottle, items, number, place, scaled, word
from pcbchem.page.widget.controls import Field

WIDTH = Row("board_mm", Field("width", "width", "mm", 10, 2000, 1, 75), scaled("mm", 1e-3))
SHARE = Row(
    "used_bath", Field("used_bath", "used", "%", 0, 100, 5, 0), scaled("%", 0.01), True, "share"
)


@pytest.mark.parametrize(
    ("ends", "notation", "meant"),
    [
        ((8.5, 10), "vol", "volume strength"),
        ((10,), "Volume", "volume strength"),
        ((9, 11), "%", "% by weight"),
        ((12,), "% W/W", "% by weight"),
    ],
)
def test_notations_of_peroxide_as_people_write_them(ends, notation, meant):
    short, full = (bottle("peroxide", "H2O2", ends, way, 293.15) for way in (notation, meant))
    assert short == full


@pytest.mark.parametrize("notation", ["°Bé", "°be", "degrees Baumé"])
def test_notations_of_acid_as_people_write_them(notation):
    short, full = (bottle("acid", "HCl", (20,), way, 293.15) for way in (notation, "degrees Baume"))
    assert short == full


@pytest.mark.parametrize(
    ("text", "meant"),
    [("eu", "EU"), ("Great Britain", "GB"), (" Elsewhere", "elsewhere"), ("USA", "US")],
)
def test_places_as_people_write_them(text, meant):
    assert place(text) == meant


def test_other_words_are_left_to_be_refused_by_name():
    assert word("Rocked ") == "rocked" and word("Shaken") == "shaken" and word(3) == 3


def test_every_word_of_people_is_one_of_the_package():
    assert set(entries.NOTATION_WORDS.values()) <= set(entries.NOTATIONS)
    assert set(entries.PLACE_WORDS.values()) == set(entries.PLACES)


def test_a_label_keeps_its_figure():
    """As printed: peroxide at 85 to 100 % of it, acid within 1 % by weight (common practice)."""
    acid = bottle("acid", "HCl", (10,), "%", 293.15)
    peroxide = bottle("peroxide", "H2O2", (12,), "%", 293.15)
    assert (acid.low, acid.high, acid.label) == pytest.approx((0.09, 0.11, 0.10))
    assert (peroxide.low, peroxide.high, peroxide.label) == pytest.approx((0.102, 0.12, 0.12))


@pytest.mark.parametrize("ends", [(10.2, 12), (12, 12)])
def test_two_strengths_are_no_label(ends):
    between = bottle("peroxide", "H2O2", ends, "%", 293.15)
    assert (between.low, between.high) == pytest.approx([end / 100 for end in ends])
    assert between.label is None


def test_items_are_counted():
    assert items("parts", [1, 2], (2,), "two") == (1, 2) and items("used_bath", 5, (1, 2), "x") == (
        5,
    )
    with pytest.raises(InputError, match=r"^parts = 5 has 1 item: it must be two$"):
        items("parts", 5, (2,), "two")
    with pytest.raises(InputError, match=r"has 3 items: it must be two; use a point for decimals"):
        items("parts", (1, 2, 3), (2,), "two")


@pytest.mark.parametrize(
    ("entry", "high", "unit", "advice"),
    [
        (68, 40, "°C", "; degrees Celsius: 68 °F is 20 °C"),
        (-1, 40, "°C", ""),
        (35, 16, "oz/ft²", "; 1 oz is about 35 µm"),
        (70, 40, "%", ""),
    ],
)
def test_advice_is_part_of_the_rule(entry, high, unit, advice):
    """A page says it too; what is only for Python is the hint."""
    with pytest.raises(InputError) as error:
        number("air_C", entry, 0, high, unit, hint="in Python")
    assert error.value.rule == f"it must be 0 to {high} {unit}{advice}"
    assert error.value.hint == "in Python"


@pytest.mark.parametrize("entry", ["150,5", (150, 5), [150, 5]])
def test_a_decimal_comma_is_suspected(entry):
    with pytest.raises(InputError, match="use a point for decimals") as error:
        number("total_mL", entry, 0, 1000, "mL")
    assert "point" in error.value.hint and "point" not in error.value.rule


def test_a_row_reads_its_number_within_the_limits_of_its_control():
    assert WIDTH.read(75) == pytest.approx(0.075)
    with pytest.raises(InputError, match=r"^board_mm = 9 is impossible: it must be 10 to 2000 mm$"):
        WIDTH.read(9)


def test_a_row_that_is_one_of_several_is_named_inside_its_entry():
    with pytest.raises(
        InputError, match=r"^used_bath: share = 0 is impossible: it must be above 0"
    ):
        SHARE.read(0)


@pytest.mark.parametrize("value", [75, 10.2, 0.1 + 0.2, 1 / 3 * 100])
def test_law_what_a_row_writes_it_reads_again(value):
    SI = WIDTH.unit.read(value)
    assert WIDTH.unit.read(WIDTH.write(SI)) == pytest.approx(SI, rel=1e-14)
    assert len(repr(WIDTH.write(WIDTH.unit.read(10.2)))) == 4, "as people write it"
