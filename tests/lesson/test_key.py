"""The key for a class: what stands in it is what the page accepts, for every table (law)."""

import re
from functools import cache
from html.parser import HTMLParser

import pytest

from pcbchem.common.limits import InputError
from pcbchem.lesson.key import NONE_HERE, PRACTICE, QUESTIONS, TABLES, asking, key_html, main
from pcbchem.page.answers import Question, judge
from pcbchem.page.why import judge_why

PAGE = "04_why_water_slows_it"
SHEETS = (1, 2, 3)
NUMBER = re.compile(r"[\d.]*[\d½]")


class Tables(HTMLParser):
    """Collects every table of a key: its rows, each a list of cells, by its id."""

    def __init__(self, text):
        super().__init__()
        self.tables, self.rows, self.inside = {}, [], False
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        if tag == "table":
            self.rows = self.tables.setdefault(dict(attributes)["id"], [])
        elif tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self.rows[-1].append("")
            self.inside = True
        elif tag == "p" and self.inside:
            self.rows[-1][-1] += "\n"

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self.inside = False

    def handle_data(self, data):
        if self.inside:
            self.rows[-1][-1] += data


@cache
def key(sheet):
    """Return the tables of the whole class's key."""
    return Tables(key_html("04", TABLES, sheet)).tables


@cache
def sheet_of(table, sheet):
    """Return what the page asks a table, by the question's key."""
    return {question.key: question for question in asking(PAGE)(table + TABLES * (sheet - 1))}


def rows_of(kind, sheet):
    """Return the rows of the tables of the class, by their number."""
    return {int(row[0]): row[1:] for row in key(sheet)[kind] if row[0].isdigit()}


def hints_of(kind, sheet):
    """Return the hint of each letter, as the key says it once."""
    lines = key(sheet)[kind][-1][0].split("\n")[1:]
    return dict(line.split(" ", 1) for line in lines)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("kind", ("film", "time", "strength"))
def test_law_what_the_key_says_is_what_the_page_says(kind, sheet):
    hints = hints_of(kind, sheet)
    columns = key(sheet)[kind][1]
    assert columns[1] == "given" and columns[3:] == list(hints)
    for table, (given, answer, *slips) in rows_of(kind, sheet).items():
        question = sheet_of(table, sheet)[kind]
        numbers = NUMBER.findall(given)
        assert numbers and set(numbers) <= set(NUMBER.findall(question.text))
        assert judge(question, answer).grade == "right"
        assert columns[2] == f"answer, {question.tolerance_words()}"
        judged = 0
        for letter, slip in zip(hints, slips, strict=True):
            if slip == NONE_HERE:
                continue
            verdict = judge(question, slip)
            assert verdict.grade == "slip" and verdict.words.endswith(hints[letter])
            judged += 1
        assert judged == len(question.slips), "each slip of the question stands in the key"


@pytest.mark.parametrize("sheet", SHEETS)
def test_law_the_right_reason_is_right_on_the_page(sheet):
    rows = rows_of("why", sheet)
    assert list(rows) == list(range(1, TABLES + 1))
    for table, (letter, words) in rows.items():
        question = sheet_of(table, sheet)["why"]
        assert judge_why(question, letter).grade == "right"
        assert words in [option[1] for option in question.options if option[0] == letter]


@pytest.mark.parametrize("sheet", SHEETS)
def test_law_every_table_finds_all_its_questions(sheet):
    overview = rows_of("all", sheet)
    assert list(overview) == list(range(1, TABLES + 1))
    for table, cells in overview.items():
        questions = sheet_of(table, sheet)
        pairs = [line.split(": ") for line in cells]
        # in the page's order, so that the last names the question that goes back
        assert [kind for kind, _ in pairs] == list(questions)
        for kind, answer in pairs:
            # after what is given, or at once for a reason
            assert answer in rows_of(kind, sheet)[table][:2]
        for kind in set(key(sheet)) - set(questions) - {"all"}:
            assert table not in rows_of(kind, sheet)


def test_law_each_table_has_a_head_for_every_page():
    text = key_html("04", 2)
    heads = re.findall(r"<thead>(.*?)</thead>", text, re.DOTALL)
    assert len(heads) == text.count("<table") and all(PRACTICE in head for head in heads)
    assert "@page { size: A4" in text and "thead { display: table-header-group" in text
    assert "(goes back to what is in the bottle)" in text


def test_law_black_on_white_and_nothing_from_elsewhere():
    text = key_html("04", 1)
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", text)) == {"#000", "#fff"}
    assert not re.search(r"url\(|src=|href=|<script|rgb", text)


def test_law_hints_have_no_numbers_of_one_table():
    """Else each table would have a letter of its own for the same slip."""
    for sheet in SHEETS:
        for kind in ("film", "time", "strength"):
            most = max(
                len(question.slips)
                for table in rows_of(kind, sheet)
                if isinstance(question := sheet_of(table, sheet)[kind], Question)
            )
            assert len(hints_of(kind, sheet)) == most


def test_law_a_file_that_is_there_is_never_lost(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    for page in ("04", PAGE, f"{PAGE}.ipynb"):
        main([page, "--tables", "2"])
    names = capsys.readouterr().out.split()
    assert len(set(names)) == 3 and sorted(names) == sorted(p.name for p in tmp_path.iterdir())
    assert {(tmp_path / name).read_text(encoding="utf-8") for name in names} == {key_html("04", 2)}
    (tmp_path / names[0]).write_text("my notes", encoding="utf-8")
    main(["04", "--tables", "2"])
    assert (tmp_path / names[0]).read_text(encoding="utf-8") == "my notes"


@pytest.mark.parametrize(
    "arguments, words",
    [
        (["12"], PAGE),
        (["4"], PAGE),
        (["04", "--tables", "0"], "from 1 to 40"),
        (["04", "--tables", "41"], "from 1 to 40"),
        (["04", "--tables", "many"], "many"),
        (["04", "--sheet", "0"], "from 1 to 100"),
    ],
)
def test_law_an_error_names_the_choices(arguments, words, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(SystemExit):
        main(arguments)
    assert words in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_law_python_gets_the_same_errors():
    with pytest.raises(InputError, match="choose from"):
        key_html("12", 1)
    with pytest.raises(InputError, match="from 1 to 40"):
        key_html("04", 1.5)


@pytest.mark.parametrize("name", QUESTIONS)
def test_law_every_page_named_asks_questions(name):
    questions = asking(name)(1)
    keys = [question.key for question in questions]
    assert len(set(keys)) == len(keys) >= 3
    assert f"Key to {name.partition('_')[0]}" in key_html(name, 1)
