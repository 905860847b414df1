"""How high words are on a card: letters as wide as the fonts have them, lines as browsers break."""

from pathlib import Path

import matplotlib
import pytest

from pcbchem.lesson.bath.card_paper import (
    LETTERS,
    LINE,
    POINT,
    WIDER,
    Block,
    Section,
    Setting,
    blank,
    columns,
    height_of,
    lines_high,
    marked,
    paragraph,
    ticks,
    width_of,
    widths,
)

SIZE = 9.0
SETTING = Setting(SIZE, 199.5)
ONE_LINE = LINE * SIZE * POINT
HELVETICA = Path(matplotlib.get_data_path()) / "fonts" / "pdfcorefonts" / "Helvetica.afm"


def lines(words, width, size=SIZE):
    """Return in how many lines words stand."""
    return round(lines_high(words, width, size) / (LINE * size * POINT))


def test_second_source_letters_are_as_wide_as_the_font_has_them():
    """The widths that a font's own file gives; those outside its first table have no code."""
    file_widths = {}
    for line in HELVETICA.read_text(encoding="latin-1").splitlines():
        if line.startswith("C "):
            code, width, name = (part.split()[-1] for part in line.split(";")[:3])
            file_widths[name] = int(width) / 1000
            if 32 <= int(code) < 127:
                file_widths[chr(int(code))] = int(width) / 1000
    checked = 0
    for letter, width in widths().items():
        if letter in file_widths:
            # a few in one group: to a fiftieth of the font's size
            assert width == pytest.approx(file_widths[letter], abs=0.05), letter
            checked += 1
    assert checked > 80 and len(widths()) == sum(len(letters) for letters in LETTERS.values())


def test_law_a_number_is_not_parted_from_its_unit():
    for quantity in ("75 mL", "25 °C", "12 %", "1 min 30 s", "3.4 US fl oz", "24 to 72 s"):
        assert " " not in marked(quantity), quantity
        # wherever a line ends, it is one word: never broken into two lines
        assert lines(quantity, 1.0) == 1, quantity
    assert marked("2 minutes") == "2 minutes"


def test_marks_of_bold_become_bold_and_nothing_else_becomes_a_mark():
    assert marked("a **b** <c> & d") == "a <strong>b</strong> &lt;c&gt; &amp; d"


def test_law_a_line_ends_where_no_word_finds_room():
    word = "water"
    room = 3 * width_of(word, SIZE) + 2 * width_of(" ", SIZE)
    text = " ".join([word] * 7)
    assert lines(text, room + 0.01) == 3
    assert lines(text, room - 0.01) == 4
    assert lines(text, 1000) == 1
    # marks of bold take no room, but letters that are all bold do
    assert lines("**water** water water", room + 0.01) == 1
    assert lines("**water water water**", room + 0.01) == 2


def test_law_narrower_or_larger_is_never_lower():
    text = "Stay until it is at air temperature, at least an hour: it may get hottest now."
    heights = [lines_high(text, width, SIZE) for width in range(20, 200, 7)]
    assert heights == sorted(heights, reverse=True)
    sizes = [lines_high(text, 60, size) for size in (9, 9.5, 10, 11, 12)]
    assert sizes == sorted(sizes)


def test_law_an_unknown_letter_counts_as_a_wide_one():
    assert width_of("水", SIZE) == pytest.approx(WIDER * SIZE * POINT)


def test_law_two_columns_are_as_high_as_the_higher_of_them():
    one = columns([Section("", ["a"])], SETTING).height
    two = columns([Section("", ["a", "b"])], SETTING).height
    three = columns([Section("", ["a", "b", "c"])], SETTING).height
    assert one == pytest.approx(two, abs=0.6) and three > two + ONE_LINE * 0.8
    # a long line stands whole in one column: no caution begins in one and ends in the other
    long = "Only water. " * 60
    whole = columns([Section("", [long])], SETTING).height
    assert whole > lines_high(long, SETTING.column, SIZE)


def test_a_heading_and_what_stands_under_a_list_take_their_room():
    plain = columns([Section("", ["a"])], SETTING).height
    headed = columns([Section("If it goes wrong", ["a"])], SETTING)
    assert headed.height > plain + ONE_LINE and "<h2>If it goes wrong</h2>" in headed.html
    under = columns([Section("", ["a"], Block("<div>label</div>", 30.0))], SETTING)
    assert under.height > 30 and under.html.endswith("<div>label</div></section></div>")


def test_law_each_thing_has_its_box_and_rows_are_counted():
    few, many = (
        ticks("Ready.", ["water"], SETTING),
        ticks("Ready.", ["plastic tongs"] * 30, SETTING),
    )
    assert many.html.count('class="tick"') == 30
    assert many.height > few.height + 3 * ONE_LINE


def test_nothing_takes_no_room():
    assert paragraph("", SETTING) == Block("", 0.0)
    assert height_of([]) == 0
    assert height_of([Block("", 1.0), Block("", 2.5)]) == 3.5


def test_a_blank_has_its_name():
    assert blank("Date") == '<span>Date <span class="blank"></span></span>'
