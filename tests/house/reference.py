"""Computed parts of the written pages: `python tests/house/reference.py` fills them in.

README.md, DEVELOPERS.md and the pages in notebooks/reference hold places between two marks,
`<!-- name -->` and `<!-- /name -->`. Each place is made from tables or modules of the package, all
words unchanged; a test compares.
"""

import ast
import re
import sys
import textwrap
from functools import partial
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from house.source import FACE, PACKAGE, text_of  # noqa: E402
from pcbchem import Bottle  # noqa: E402
from pcbchem.bench import hazards  # noqa: E402
from pcbchem.common import tables  # noqa: E402
from pcbchem.lesson import trust  # noqa: E402

REFERENCE = ROOT / "notebooks" / "reference"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(REFERENCE.glob("*.md"))]
STRONGEST = Bottle("HCl", 0.45, 0.45), Bottle("H2O2", 0.70, 0.70)
"""Bottles so strong that every caution holds for them."""
PLACES = {"EU": "European Union", "GB": "Great Britain", "elsewhere": "Elsewhere"}
README_CAUTIONS = {
    "Who": ["who"],
    "What to wear": ["what to wear"],
    "Air": ["air"],
    "Order of pouring": ["order of pouring"],
    "Too warm": ["too warm"],
    "Never closed": ["never closed"],
    "In the eye": ["first aid, acid in the eye", "first aid, peroxide in the eye"],
}
"""What nobody may open a bottle without having read, and the topics of the cautions that say it.

The two first aids stand together: what splashes into an eye may be bath, and that takes longer.
"""
README_SPEED = (
    "100 000 baths in one call",
    "a plan with its doubts",
    "in the browser: an arrow key on the slider",
)
"""How the rows of the table of speed begin that the README shows."""
WIDTH = 96
"""Width of the drawing of the house [letters]."""
NAME_WIDTH = 12
"""Width of a folder's name in it, where the name is no longer [letters]."""
READERS = ("read", "column", "_row", "_coefficients")
"""Functions of the package that take the name of a table first."""
README_WIDTH = 158
"""Width of a line of the README [letters]."""


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
    """Return the cautions of the bottles and the bath, in their order, without the law."""
    cautions = hazards.cautions(*STRONGEST, "elsewhere")
    return [caution for caution in cautions if not caution.topic.startswith("law")]


def section_of(caution):
    """Tell under which heading of the page of cautions a caution stands."""
    if re.search(r"\bclass\b|oxidiser", caution.topic):
        return "classes"
    if re.search(r"first aid|spill|on skin", caution.topic):
        return "wrong"
    return "before" if caution.first else "at the tray"


def bullet(caution):
    """Write a caution with its source, for a list."""
    return f"- **{caution.topic}**: {caution.words} ({caution.source})"


def cautions_in(section):
    """List the cautions of one section."""
    section_cautions = [caution for caution in general_cautions() if section_of(caution) == section]
    # who looks up a first aid has no time to read anything before it
    section_cautions.sort(key=lambda caution: not caution.topic.startswith("first aid"))
    return "\n".join(bullet(caution) for caution in section_cautions)


def law():
    """List the law of each place: of a bottle above its limit first, then what it says to all."""
    blocks = []
    for place, words in PLACES.items():
        rules = hazards.cautions(*STRONGEST, place)
        lines = [bullet(rule) for rule in rules if rule.topic.startswith("law")]
        blocks.append("\n".join([f"### {words}", "", *lines]))
    return "\n\n".join(blocks)


def method_cautions():
    """List the cautions of each way to measure a bottle and of etching an offcut."""
    headings = {"any": "All of them", "dilution": "Where a sample is diluted"}
    blocks = {}
    for row in tables.read("method_cautions"):
        line = f"- **{row['topic']}**: {row['words']} ({tables.cited(row)})"
        heading = headings.get(row["method"], row["method"].capitalize())
        blocks.setdefault(heading, []).append(line)
    return "\n\n".join(f"### {heading}\n\n" + "\n".join(lines) for heading, lines in blocks.items())


def dates():
    """Say on which dates the cautions were read or written down."""
    names = ("cautions", "public_limits", "method_cautions")
    days = {row["as_of"] for name in names for row in tables.read(name)}
    return f"As of {', '.join(sorted(days))}."


def seven_cautions():
    """List the cautions that the README shows, word for word."""
    words = {caution.topic: caution.words for caution in general_cautions()}
    bullets = [
        f"- **{title}.** {' '.join(words[topic] for topic in topics)}"
        for title, topics in README_CAUTIONS.items()
    ]
    return "\n".join(wrapped(line, "  ") for line in bullets)


def rules():
    """Write every rule of the verdict with its limit, its source and its date."""
    rows = []
    for rule in hazards.rules():
        clause = rule.words.format(value="…", limit=rule.shown(rule.limit), share="…")
        rows.append([rule.name, rule.verdict, rule.kind, clause, f"{rule.source} ({rule.as_of})"])
    return markdown_table(["rule", "verdict", "for", "when", "source"], rows)


def leave_one_out():
    """Write the facts, each predicted without itself, as the page on water shows them."""
    table = trust.leave_one_out()
    rows = [[str(cell) for cell in row] for row in table.itertuples()]
    return markdown_table(["fact left out", *table.columns], rows)


def parameter_counts():
    """Write how many parameters are known how well, and which."""
    table = trust.statuses()
    rows = [[str(cell) for cell in row] for row in table.itertuples()]
    return markdown_table(["status", *table.columns], rows)


def counts_in_words():
    """Say how many parameters are known, and how."""
    counts = trust.statuses()["how many"]
    parts = ", ".join(f"{status} {number}" for status, number in counts.items())
    return f"The rate model has {counts.sum()} numbers: {parts}."


def misses_in_words():
    """Say which facts the model misses when they are left out, and by how much."""
    outcomes = trust.leave_one_out()["how it came out"]
    misses = [f"*{fact}* ({words})" for fact, words in outcomes.items() if "miss" in words]
    edge = sum("at the edge" in words for words in outcomes)
    return (
        f"Each of {len(outcomes)} facts was left out and predicted from the others: "
        f"{len(misses)} miss, {', '.join(misses)}; "
        f"{len(outcomes) - len(misses)} agree, of them {edge} only at the edge."
    )


def coverage_in_words():
    """Say how often the calibrated band of a made-up bench holds the truth."""
    rows = [row for row in tables.read("simulated_benches") if "-" in row["offcuts"]]
    shares = [
        f"{float(row['covered_percent']):.0f} % where times scatter by {row['noise_percent']} %"
        for row in rows
    ]
    return (
        f"On {rows[0]['benches']} made-up benches a calibrated band should hold the true time "
        f"in 80 %: it held it in {' and '.join(shares)}."
    )


def trust_in_words():
    """Say in three sentences how far to trust the model."""
    return wrapped(f"{counts_in_words()} {misses_in_words()} {coverage_in_words()}")


def simulated_benches():
    """Write how often a calibrated band holds the truth, and how much narrower it is."""
    heads = [
        "offcuts",
        "times seen scatter by",
        "benches",
        "the band held the true time, before → after",
        "its high end over its low end, before → after",
        "so much narrower",
    ]
    rows = []
    for row in tables.read("simulated_benches"):
        before, after = float(row["covered_before_percent"]), float(row["covered_percent"])
        cells = [
            row["offcuts"].replace("-", " to "),
            f"{row['noise_percent']} %",
            row["benches"],
            f"{before:.0f} → {after:.0f} %",
            f"{row['high_over_low_before']} → {row['high_over_low_after']}",
            f"{float(row['narrower_times']):.1f} times",
        ]
        rows.append(cells)
    return markdown_table(heads, rows)


def speed_rows():
    """Write the rows of the table of speed that matter most."""
    lines = text_of(REFERENCE / "speed.md").splitlines()
    heads = next(line for line in lines if line.startswith("| what |"))
    rows = [line for line in lines if line.startswith(tuple(f"| {row}" for row in README_SPEED))]
    return "\n".join([heads, "|---" * heads.count(" | ") + "|---|", *rows])


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
    "seven cautions": seven_cautions,
    "how far to trust it": trust_in_words,
    "three rows of speed": speed_rows,
    "cautions before": partial(cautions_in, "before"),
    "cautions at the tray": partial(cautions_in, "at the tray"),
    "cautions if it goes wrong": partial(cautions_in, "wrong"),
    "cautions by class": partial(cautions_in, "classes"),
    "law": law,
    "cautions of methods": method_cautions,
    "dates": dates,
    "rules": rules,
    "leave-one-out": leave_one_out,
    "parameter counts": parameter_counts,
    "simulated benches": simulated_benches,
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
