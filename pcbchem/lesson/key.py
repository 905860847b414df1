"""The key for a class: what *check yourself* asks each table, on paper.

`python -m pcbchem.lesson.key 04 --tables 15` writes it as an HTML file, to print on A4.
"""

from __future__ import annotations

import argparse
import html
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

from ..common.limits import check_choice, check_whole
from ..page.answers import Question, answer_words
from ..page.why import WhyQuestion
from ..page.widget.check import TABLES, Asked

QUESTIONS = {
    "01_what_is_in_the_bottle": ".what_is_in_the_bottle.questions:bottle_questions",
    "02_acid_into_water": ".acid_into_water.questions:pouring_questions",
    "03_where_the_copper_goes": ".where_the_copper_goes.questions:copper_questions",
    "04_why_water_slows_it": ".why_water_slows_it.questions:water_questions",
    "04b_how_sure_is_it": ".how_sure_is_it.questions:sure_questions",
    "05_warm_baths": ".warm_baths.questions:warm_questions",
    "06_weak_peroxide": ".weak_peroxide.questions:weak_questions",
    "07_when_to_lift_it_out": ".when_to_lift_it_out.questions:trace_questions",
    "08_test_an_offcut": ".test_an_offcut.questions:offcut_questions",
    "09_what_goes_into_the_air": ".what_goes_into_the_air.questions:air_questions",
    "10_after_the_last_board": ".after_the_last_board.questions:rest_questions",
    "11_developer_and_tin": ".developer_and_tin.questions:bath_questions",
}
"""Of each page that has questions: the module here, and what asks them in it."""
LETTERS = "abcdefghijklmnopqrstuvwxyz"
"""How the hints of a question are named, in their order."""
NONE_HERE = "–"
"""Stands where a table's numbers do not allow a slip."""
SHORT = 20
"""A table of at most so many rows [-] is not broken between two pages."""
PRACTICE = "practice, not an exam"
# black on white alone, so that a copy of a copy can be read; a head of a table comes on each page
STYLE = """
@page { size: A4; margin: 14mm 15mm; }
body { color: #000; background: #fff; font: 9.5pt/1.3 sans-serif; max-width: 180mm; margin: auto; }
h1 { font-size: 15pt; margin: 0 0 2mm; }
table { border-collapse: collapse; width: 100%; margin: 0 0 8mm; }
thead { display: table-header-group; }
tr, table.short { break-inside: avoid; }
thead tr { break-after: avoid; }
th, td { border: 0.3mm solid #000; padding: 0.7mm 1.2mm; text-align: left; vertical-align: top; }
thead tr.title th { border: 0; border-bottom: 0.6mm solid #000; padding-left: 0; }
td.value, td.given, th.table { white-space: nowrap; font-variant-numeric: tabular-nums; }
td.answer { font-weight: bold; }
td.hints { padding-left: 0; border: 0; }
td.hints p { margin: 0 0 0.5mm; }
"""

Row = tuple[int, Asked]
"""A table's number, and what it is asked."""


def page_name(page: str) -> str:
    """Return the name of a page that has questions.

    Parameters
    ----------
    page : str
        Its notebook's name, with its ending or without, or only its number.

    Returns
    -------
    str
        The name, without its ending.

    Raises
    ------
    InputError
        No such page has questions; names those that have.

    Examples
    --------
    >>> print(page_name("04"), page_name("04_why_water_slows_it.ipynb"))
    04_why_water_slows_it 04_why_water_slows_it
    """
    name = page.removesuffix(".ipynb")
    numbers = {full.partition("_")[0]: full for full in QUESTIONS}
    return check_choice("page", numbers.get(name, name), tuple(QUESTIONS))


def asking(name: str) -> Callable[[int], Sequence[Asked]]:
    """Return what asks the questions of a page: it takes a seed [-]."""
    module, _, function = QUESTIONS[name].partition(":")
    # only the page that is wanted is loaded: each brings its model with it
    questions: Callable[[int], Sequence[Asked]] = getattr(
        import_module(module, __package__), function
    )
    return questions


def key_html(page: str, tables: int, sheet: int = 1) -> str:
    """Write the key of a page as HTML.

    Parameters
    ----------
    page : str
        As for `page_name`.
    tables : int
        How many tables there are [-], 1 to 40.
    sheet : int
        Which sheet [-]: the first, or what "New numbers" asks next, 1 to 100.

    Returns
    -------
    str
        First all answers, a line a table; then each question with its slips.

    Raises
    ------
    InputError
        A page without questions, or numbers outside their limits.

    Examples
    --------
    >>> print(key_html("04", 1).count("<table"))
    5
    """
    name = page_name(page)
    check_whole("tables", tables, 1, TABLES)
    check_whole("sheet", sheet, 1, 100)
    ask = asking(name)
    sheets = {table: ask(table + TABLES * (sheet - 1)) for table in range(1, tables + 1)}
    number, _, words = name.partition("_")
    title = f"Key to {number}, {words.replace('_', ' ')}: sheet {sheet}"
    # each kind of question, with the tables that are asked it
    kinds: dict[tuple[int, str], list[Row]] = {}
    for table, questions in sheets.items():
        for place, question in enumerate(questions, start=1):
            kinds.setdefault((place, question.key), []).append((table, question))
    parts = [overview(title, sheets)]
    for (place, kind), rows in sorted(kinds.items(), key=lambda pair: pair[0][0]):
        parts.append(section(title, f"question {place}, {kind}", kind, rows))
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{html.escape(title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f"<h1>{html.escape(title)}</h1>\n"
        f"<p>For the teacher. This is {PRACTICE}: the notebook holds these answers too. All "
        "numbers are worked out by the model of the page; none was measured in a class.</p>\n"
        f"{''.join(parts)}</body>\n</html>\n"
    )


def overview(title: str, sheets: dict[int, Sequence[Asked]]) -> str:
    """Return a table of all answers, by the number of the table."""
    most = max(len(questions) for questions in sheets.values())
    columns = ["table", *(f"question {place}" for place in range(1, most + 1))]
    rows = []
    for table, questions in sheets.items():
        cells = [cell(f"{question.key}: {short_answer(question)}") for question in questions]
        rows.append(row_of(table, cells))
    return table_of("all", f"{title} · all answers", columns, rows)


def short_answer(question: Asked) -> str:
    """Return the answer alone: with its unit, or its letter."""
    if isinstance(question, WhyQuestion):
        return question.right
    return value_words(question, question.answer)


def value_words(question: Question, value: float) -> str:
    """Write a value [SI] as a pupil would, in the unit that the question asks for."""
    return answer_words(value, question.kind, question.unit)


def section(title: str, heading: str, kind: str, rows: Sequence[Row]) -> str:
    """Return one kind of question as a table: what is right, and what each slip leads to."""
    lesson = rows[0][1].from_lesson
    if lesson:
        heading += f" (goes back to {lesson})"
    heading = f"{title} · {heading}"
    reasons = [(table, question) for table, question in rows if isinstance(question, WhyQuestion)]
    if reasons:
        return table_of(kind, heading, ["table", "right", "its words"], reason_rows(reasons))
    return slip_table(
        kind,
        heading,
        [(table, question) for table, question in rows if isinstance(question, Question)],
    )


def reason_rows(rows: Sequence[tuple[int, WhyQuestion]]) -> list[str]:
    """Return the right letter of each table, and the words that stand beside it on the page."""
    lines = []
    for table, question in rows:
        answers = {key: words for key, words, _ in question.options}
        cells = [cell(question.right, "value answer"), cell(answers[question.right], "words")]
        lines.append(row_of(table, cells))
    return lines


def slip_table(kind: str, heading: str, rows: Sequence[tuple[int, Question]]) -> str:
    """Return the answers and slips of one kind of question, with the hints by letter under them."""
    hints: list[str] = []
    for _, question in rows:
        hints += [hint for _, hint in question.slips if hint not in hints]
    letters = dict(zip(hints, LETTERS, strict=False))
    columns = ["table", "given", f"answer, {rows[0][1].tolerance_words()}", *letters.values()]
    lines = []
    for table, question in rows:
        values = dict.fromkeys(hints, NONE_HERE)
        for value, hint in question.slips:
            # without its unit, which stands beside the answer: eight slips have to fit
            values[hint] = value_words(question, value).removesuffix(f" {question.unit}")
        # so that a teacher sees at a glance which numbers a table has
        cells = [cell(question.given, "given")]
        cells += [cell(value_words(question, question.answer), "value answer")]
        cells += [cell(value) for value in values.values()]
        lines.append(row_of(table, cells))
    lines.append(legend(letters, len(columns)))
    return table_of(kind, heading, columns, lines)


def legend(letters: dict[str, str], columns: int) -> str:
    """Return a row that says once what the letters stand for: the hints that the page gives."""
    lines = [f"<p><b>{letter}</b> {html.escape(hint)}</p>" for hint, letter in letters.items()]
    return f'<tr><td class="hints" colspan="{columns}">{"".join(lines)}</td></tr>'


def cell(words: str, kind: str = "value") -> str:
    """Return a cell of a table."""
    return f'<td class="{kind}">{html.escape(words)}</td>'


def row_of(table: int, cells: Sequence[str]) -> str:
    """Return the row of one table of the class."""
    return f'<tr><th class="table">{table}</th>{"".join(cells)}</tr>'


def table_of(name: str, heading: str, columns: Sequence[str], rows: Sequence[str]) -> str:
    """Return a table whose head is printed on each page that it runs over."""
    heads = "".join(f"<th>{html.escape(column)}</th>" for column in columns)
    length = "short" if len(rows) <= SHORT else "long"
    return (
        f'<table id="{html.escape(name)}" class="{length}">\n<thead><tr class="title">'
        f'<th colspan="{len(columns)}">{html.escape(heading)} · {PRACTICE}</th></tr>'
        f"<tr>{heads}</tr></thead>\n<tbody>\n" + "\n".join(rows) + "\n</tbody>\n</table>\n"
    )


def write_key(page: str, tables: int, sheet: int = 1, folder: Path | None = None) -> Path:
    """Write the key of a page as a new file, never over another one.

    Parameters
    ----------
    page, tables, sheet : str and int
        As for `key_html` [-].
    folder : Path, optional
        Where it goes; else the present folder.

    Returns
    -------
    Path
        The file.
    """
    text = key_html(page, tables, sheet)
    stem = f"key_{page_name(page)}_sheet_{sheet}_tables_1_to_{tables}"
    path = (folder or Path()) / f"{stem}.html"
    number = 1
    while True:
        try:
            # "x": a file that is there already may hold a teacher's notes
            with path.open("x", encoding="utf-8") as file:
                file.write(text)
        except FileExistsError:
            number += 1
            path = path.with_name(f"{stem}_{number}.html")
        else:
            return path


def main(arguments: Sequence[str] | None = None) -> None:
    """Write the key that the command line asks for, and print where it is."""
    parser = argparse.ArgumentParser(
        prog="python -m pcbchem.lesson.key",
        description="Write the key of a page, by table number, as an HTML file to print on A4.",
    )
    pages = ", ".join(QUESTIONS)
    parser.add_argument("page", help=f"name or number of the notebook: {pages}")
    parser.add_argument("--tables", type=int, default=15, help=f"how many, 1 to {TABLES}")
    parser.add_argument("--sheet", type=int, default=1, help='1, or after "New numbers" 2, 3, …')
    options: Any = parser.parse_args(arguments)
    try:
        path = write_key(options.page, options.tables, options.sheet)
    except ValueError as error:
        parser.error(str(error))
    print(path)


if __name__ == "__main__":
    main()
