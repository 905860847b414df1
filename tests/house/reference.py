"""Computed parts of the written pages: `python tests/house/reference.py` fills them in.

README.md, DEVELOPERS.md and the pages in notebooks/reference hold places between two marks,
`<!-- name -->` and `<!-- /name -->`. Each place is made from tables or modules of the package, all
words unchanged; a test compares.
"""

import ast
import dataclasses
import re
import sys
import textwrap
from functools import partial
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from house.source import FACE, PACKAGE, text_of  # noqa: E402
from pcbchem import Bottle  # noqa: E402
from pcbchem.bench import hazards  # noqa: E402
from pcbchem.bench.hazards.caution import STRENGTHS_LINE  # noqa: E402
from pcbchem.bench.hazards.law import LAW, LOOK_UP  # noqa: E402
from pcbchem.common import tables  # noqa: E402
from pcbchem.common.units import ZERO_C  # noqa: E402
from pcbchem.lesson import trust  # noqa: E402
from pcbchem.lesson.bath import planned  # noqa: E402
from pcbchem.lesson.plan_a_bath.examples import USUAL  # noqa: E402
from pcbchem.reaction.bath.parameters import RateParameters  # noqa: E402
from pcbchem.reaction.bath.setup import DEPTH  # noqa: E402

REFERENCE = ROOT / "notebooks" / "reference"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(REFERENCE.glob("*.md"))]
STRONGEST = Bottle("HCl", 0.45, 0.45), Bottle("H2O2", 0.70, 0.70)
"""Bottles so strong that every caution holds for them."""
PLACES = {
    "EU": "European Union",
    "GB": "Great Britain",
    "US": "United States",
    "elsewhere": "Elsewhere",
}
README_LINES = (*((1, number) for number in (1, 2, 3, 4, 5, 7)), (2, 2), (2, 3))
README_LINES += ((3, 2), (3, 6), (4, 1), (4, 4), (4, 6))
"""What nobody may open a bottle without having read: layer and line.

All of the first layer, and from the others what stops a bath, what bursts, what goes down no drain,
an eye, a choking breath, and a spill to run from.
"""
README_LEFT = "what is left over"
"""The caution that alone stands for its line."""
WIDTH = 96
"""Width of the drawing of the house [letters]."""
NAME_WIDTH = 12
"""Width of a folder's name in it, where the name is no longer [letters]."""
READERS = ("read", "column", "_row", "_coefficients", "_write")
"""Functions of the package that take the name of a table first."""
README_WIDTH = 164
"""Width of a line of the README [letters]."""
OFFCUT = {"bare_percent": 100}
"""An offcut is bare all over, as a form is filled in."""
NARROW_TRAY = (80, 65)
"""A tray in which the workshop's board just lies [mm]."""
SIZE_EXPONENTS = (0, 0.25, 0.5)
"""How much slower a larger board may etch: both ends of what is plausible, and between [-]."""


def markdown_table(heads, rows):
    """Write a table: heads and rows of texts."""
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)


def wrapped(line, indent=""):
    """Break a line into lines of the README's width."""
    return textwrap.fill(
        line, README_WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def general_cautions():
    """Return the cautions of the bottles and the bath, by layer and line, without the law."""
    cautions = hazards.cautions(*STRONGEST, "elsewhere")
    return [caution for caution in cautions if caution.topic != LAW]


def bullet(caution):
    """Write a caution with its source, for a list."""
    return f"- {caution.words} ({caution.source}; {caution.as_of})"


def layer(number):
    """List the lines of one layer, with everything that the strongest bottles add."""
    return "\n".join(bullet(line) for line in general_cautions() if line.layer == number)


def strengths():
    """Write what each strength means by the law of labels, and what else is looked up."""
    look_up = [line for line in general_cautions() if line.layer == LOOK_UP]
    sentence, *rest = [line for line in look_up if line.number == STRENGTHS_LINE]
    others = [line for line in look_up if line.number != STRENGTHS_LINE]
    rows = [[line.topic, line.words, f"{line.source} ({line.as_of})"] for line in rest]
    table = markdown_table(["what", "by law of labels", "source"], rows)
    return "\n\n".join([sentence.words, table, "\n".join(bullet(line) for line in others)])


def law():
    """List the law of each place: what it says to all, and of a bottle above its limit."""
    blocks = []
    for place, words in PLACES.items():
        lines = [bullet(line) for line in hazards.law_of(place)]
        # the strongest bottles are above every limit: their own number is left open
        lines += [
            bullet(
                dataclasses.replace(line, words=re.sub(r"of 45 %|of 70 %", "of … %", line.words))
            )
            for line in hazards.above_limit(*STRONGEST, place)
        ]
        blocks.append("\n".join([f"### {words}", "", *lines]))
    return "\n\n".join(blocks)


def method_cautions():
    """List the cautions of each way to measure a bottle and of etching an offcut."""
    headings = {"any": "All of them", "dilution": "Where a sample is diluted"}
    return grouped("method_cautions", "method", headings)


def bath_cautions():
    """List the cautions of the baths before and after the etch."""
    return grouped("bath_cautions", "bath", {"any": "All of them"})


def grouped(table, column, headings):
    """List the rows of a table of cautions under a heading for each group."""
    blocks = {}
    for row in tables.read(table):
        cited = "; ".join(tables.works_cited(row))
        line = f"- **{row['topic']}**: {row['words']} ({cited})"
        heading = headings.get(row[column], row[column].capitalize())
        blocks.setdefault(heading, []).append(line)
    return "\n\n".join(f"### {heading}\n\n" + "\n".join(lines) for heading, lines in blocks.items())


def limits_of_air():
    """Write every limit of what is breathed, with whose it is, its year, its source and status."""
    rows = []
    for row in tables.read("air_limits"):
        value = row["limit"]
        if row["high"] != value:
            value = f"{row['low']} to {row['high']}"
        cells = [row["substance"], row["place"], row["kind"], f"{value} {row['unit']}"]
        rows.append(
            [*cells, row["words"], row["year"], tables.source(row["source"]), row["status"]]
        )
    heads = ["substance", "place", "kind", "value", "whose", "year", "source", "status"]
    return markdown_table(heads, rows)


def dates():
    """Say on which dates cautions and limits were read or written down."""
    names = ("cautions", "public_limits", "method_cautions", "bath_cautions", "air_limits")
    days = {row["as_of"] for name in names for row in tables.read(name)}
    return f"As of {', '.join(sorted(days))}."


def first_cautions():
    """List the cautions that the README shows, word for word."""
    lines = {(line.layer, line.number): line.words for line in general_cautions()}
    # of what is left the README says the first thing: page and card say how it leaves
    left = next(row for row in tables.read("cautions") if row["topic"] == README_LEFT)
    lines[int(left["layer"]), int(left["no"])] = left["words"]
    bullets = [f"- {lines[line]}" for line in README_LINES]
    return "\n".join(wrapped(line, "  ") for line in bullets)


def rules():
    """Write every rule of the verdict with its limit, its words, its source and its date."""
    limits = trust.verdict_rules()
    rows = []
    for rule in hazards.rules():
        short = limits[rule.name]
        clause = rule.words.format(value="…", limit=rule.shown(rule.limit), share="…")
        cells = [rule.name, rule.verdict, rule.kind, short["falls when it is"], clause]
        rows.append([*cells, short["source"]])
    heads = ["rule", "verdict", "for", "falls when it is", "in its words", "source"]
    return markdown_table(heads, rows)


def leave_one_out():
    """Write the facts, each predicted without itself, as the page on water shows them."""
    return table_by_name("fact left out", trust.leave_one_out())


def reports():
    """Write what people report of baths that chose no number, beside what the model says."""
    return table_by_name("report", trust.reported())


def usual_with(**numbers):
    """Return how long the workshop's usual baths take [s], with other numbers in the model."""
    return trust.times_with(planned(**USUAL), **numbers)


def warmest_day_after(**tray):
    """Return how warm the workshop's usual bath may get in the day after [°C]."""
    return planned(**USUAL | tray).bands["standing_peak"].high - ZERO_C


def tray_in_words():
    """Say what the tray does to the day after, in a narrow one and where nothing is said of it."""
    width, length = NARROW_TRAY
    narrow, usual = warmest_day_after(tray_mm=NARROW_TRAY), warmest_day_after()
    return wrapped(
        f"Where nothing is said of the tray, the bath is taken to be {DEPTH * 1000:.0f} mm deep. "
        "Surface and walls lose heat: deeper and narrower it gets hotter. "
        f"In a tray of {width} × {length} mm the workshop's bath may reach {narrow:.0f} °C in the "
        f"day after, not {usual:.0f} °C."
    )


def gas_share_in_words():
    """Say what the number does on which the workshop's mild bath rests, a third and three times."""
    share, times = RateParameters.plausible(200).gas_share, usual_with()
    less, more = (np.median(usual_with(gas_share=share * by) / times) for by in (1 / 3, 3))
    return wrapped(
        "Nobody has measured the workshop's mild bath. It rests on the *gas share*: how much "
        "peroxide becomes bubbles at the copper, which stir. A third of it would make this bath "
        f"take {less:.1f} times as long, three times of it {more:.1f} times."
    )


def longer_by_size(**bath):
    """Return how many times as long 16 cm² take as 4 cm² with as much bath, by size exponent."""
    sides = (40, 20)  # mm
    large, small = (
        planned(**USUAL | bath | OFFCUT | {"board_mm": (side, side), "total_mL": 0.056 * side**2})
        for side in sides
    )
    return [
        np.median(
            trust.times_with(large, size_exponent=exponent)
            / trust.times_with(small, size_exponent=exponent)
        )
        for exponent in SIZE_EXPONENTS
    ]


def size_in_words():
    """Say which offcuts would tell whether a large board etches slower, and which would not."""
    first, second, third = longer_by_size(peroxide=(3, "%"), parts=(0, 1, 2))
    most = max(longer_by_size())
    return wrapped(
        "Does a large board etch slower? Only weak peroxide tells, such as two parts of 3 % to one "
        "of acid 10 %, rocked. There an offcut of 16 cm² takes "
        f"{first:.1f}, {second:.1f} or {third:.1f} times as long as one of 4 cm². "
        "That is for a size exponent of 0, ¼ or ½. In the mild bath it is at most "
        f"{most:.1f} times."
    )


def parameter_counts():
    """Write how many parameters are known how well, and which."""
    return table_by_name("status", trust.statuses())


def table_by_name(heading, table):
    """Write rows that have a name each, under a heading for the names."""
    columns = list(next(iter(table.values())))
    rows = [[name, *map(str, row.values())] for name, row in table.items()]
    return markdown_table([heading, *columns], rows)


def counts_in_words():
    """Say how many parameters are known, and how."""
    counts = {status: row["how many"] for status, row in trust.statuses().items()}
    parts = ", ".join(f"{status} {number}" for status, number in counts.items())
    return f"The rate model has {sum(counts.values())} numbers: {parts}."


def misses_in_words():
    """Say which facts the model misses when they are left out, and by how much."""
    outcomes = {fact: row["how it came out"] for fact, row in trust.leave_one_out().items()}
    misses = [f"*{fact}* ({words})" for fact, words in outcomes.items() if "miss" in words]
    edge = sum("at the edge" in words for words in outcomes.values())
    return (
        f"Each of {len(outcomes)} facts was left out and predicted from the others: "
        f"{len(misses)} miss, {', '.join(misses)}; "
        f"{len(outcomes) - len(misses)} agree, of them {edge} only at the edge."
    )


def coverage_in_words():
    """Say how often the calibrated band of a made-up bench holds the truth."""
    rows = [row for row in tables.read("simulated_benches") if "-" in row["offcuts"]]
    shares = [float(row["covered_percent"]) for row in rows]
    return (
        f"A calibrated band is meant to hold the true time in 80 %: of {len(rows)} kinds of "
        f"made-up benches, {rows[0]['benches']} each, it held it in {min(shares):.0f} to "
        f"{max(shares):.0f} %."
    )


def trust_in_words():
    """Say in three sentences how far to trust the model."""
    return wrapped(f"{counts_in_words()} {misses_in_words()} {coverage_in_words()}")


def simulated_benches():
    """Write how often a calibrated band holds the truth, and how much narrower it is."""
    heads = [
        "made-up benches",
        "offcuts",
        "benches",
        "the band held the true time, before → after",
        "its high end over its low end, before → after",
        "something was said to be wrong",
    ]
    rows = []
    for row in tables.read("simulated_benches"):
        before, after = float(row["covered_before_percent"]), float(row["covered_percent"])
        cells = [
            row["case"],
            row["offcuts"].replace("-", " to "),
            row["benches"],
            f"{before:.0f} → {after:.0f} %",
            f"{row['high_over_low_before']} → {row['high_over_low_after']}",
            f"{float(row['warned_percent']):.0f} %",
        ]
        rows.append(cells)
    return markdown_table(heads, rows)


def misdescribed_benches():
    """Write what a calibration makes of benches described wrongly, in the first edition and now."""
    shares = ("held", "warned", "missed")
    by_mistake = {}
    for row in tables.read("misdescribed_benches"):
        numbers = [f"{float(row[f'{share}_percent']):.0f}" for share in shares]
        by_mistake.setdefault(row["mistake"], {})[row["edition"]] = numbers
    heads = ["what is wrong", "band holds the truth", "a word says so", "missed in silence"]
    rows = []
    for mistake, editions in by_mistake.items():
        pairs = zip(editions["first"], editions["second"], strict=True)
        rows.append([mistake, *(f"{before} → {after} %" for before, after in pairs)])
    return markdown_table(heads, rows)


def question(folder):
    """Return the first sentence of a face: the question of its room or topic."""
    words = ast.get_docstring(ast.parse(text_of(folder / f"{FACE}.py")))
    return re.match(r".*?[?.](?=\s|$)", words, re.DOTALL)[0].rstrip(".")


def tables_of(folder):
    """List the tables of `pcbchem/data` that modules of a folder read or make."""
    names = set()
    for module in folder.glob("*.py"):
        for node in ast.walk(ast.parse(text_of(module))):
            if isinstance(node, ast.Constant) and str(node.value).endswith(".csv"):
                names.add(node.value.removesuffix(".csv"))
            if isinstance(node, ast.Call) and ast.unparse(node.func).endswith(READERS):
                names |= {arg.value for arg in node.args[:1] if isinstance(arg, ast.Constant)}
    return names & {path.stem for path in tables.FOLDER.glob("*.csv")}


def drawing():
    """Draw the house: every room and topic with its question, its modules and its tables."""
    folders = [path.parent for path in PACKAGE.rglob(f"{FACE}.py") if path.parent != PACKAGE]
    order = ("common", "matter", "reaction", "bench", "page", "lesson")
    places = [folder.relative_to(PACKAGE).parts for folder in folders]
    places.sort(key=lambda parts: (order.index(parts[0]), parts))
    lines, shown = [], set()
    for parts in places:
        folder = PACKAGE.joinpath(*parts)
        indent = "    " * len(parts)
        modules = sorted(path.stem for path in folder.glob("*.py") if path.stem[0] != "_")
        # a table stands with the room that comes first in the order of imports
        names = sorted(tables_of(folder) - shown)
        shown.update(names)
        lines.append(f"{indent[4:]}{parts[-1] + '/ ':{NAME_WIDTH}}{question(folder)}")
        lines += textwrap.wrap(
            "  ".join(modules), WIDTH, initial_indent=indent, subsequent_indent=indent
        )
        lines += textwrap.wrap(
            "  ".join(names), WIDTH, initial_indent=f"{indent}data: ", subsequent_indent=indent
        )
    return "\n".join(["```text", *lines, "```"])


BLOCKS = {
    "first cautions": first_cautions,
    "how far to trust it": trust_in_words,
    "cautions before": partial(layer, 1),
    "cautions at the tray": partial(layer, 2),
    "cautions afterwards": partial(layer, 3),
    "cautions if it goes wrong": partial(layer, 4),
    "cautions by strength": strengths,
    "law": law,
    "limits of air": limits_of_air,
    "cautions of methods": method_cautions,
    "cautions of baths": bath_cautions,
    "dates": dates,
    "rules": rules,
    "leave-one-out": leave_one_out,
    "parameter counts": parameter_counts,
    "reports": reports,
    "tray in words": tray_in_words,
    "gas share in words": gas_share_in_words,
    "size in words": size_in_words,
    "simulated benches": simulated_benches,
    "misdescribed benches": misdescribed_benches,
    "drawing of the house": drawing,
}
"""What stands between two marks, by the name in the marks."""
MARKED = re.compile(
    r"(?P<open><!-- (?P<name>[\w -]+) -->\n).*?(?P<close><!-- /(?P=name) -->)", re.S
)


def marks(text):
    """List the names of the marked places of a page, in their order."""
    return [place["name"] for place in MARKED.finditer(text)]


def filled(text):
    """Return a page with every marked place made anew."""

    def anew(place):
        return f"{place['open']}{BLOCKS[place['name']]()}\n{place['close']}"

    return MARKED.sub(anew, text)


if __name__ == "__main__":
    for page in PAGES:
        page.write_text(filled(text_of(page)), encoding="utf-8")
