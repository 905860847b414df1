"""What the README says of the model's honesty, from the package's tables: `python tests/house/readme.py` writes it."""

import pathlib
import re

from pcbchem.bench import hazards
from pcbchem.bench.bottle.bottle import Bottle
from pcbchem.bench.hazards import caution
from pcbchem.common import tables
from pcbchem.lesson import trust as summary

README = pathlib.Path(__file__).parents[2] / "README.md"


def leave_one_out() -> str:
    """The table of facts predicted without themselves, as the page shows it."""
    table = summary.leave_one_out()
    lines = [
        f"| fact left out | {' | '.join(table.columns)} |",
        "|---" * (len(table.columns) + 1) + "|",
    ]
    return "\n".join(
        [*lines, *(f"| {fact} | {' | '.join(row)} |" for fact, *row in table.itertuples())]
    )


def parameter_counts() -> str:
    """How many parameters are known, and how."""
    table = summary.statuses()
    return f"{table['how many'].sum()} in all: {', '.join(f'{n} {s}' for s, n in table['how many'].items())}."


def cautions() -> str:
    """Every caution of the package, with its source, and the law of each place."""
    strongest = Bottle("HCl", 0.45, 0.45), Bottle("H2O2", 0.70, 0.70)
    every = [
        caution
        for place in caution.PLACES
        for caution in hazards.cautions(*strongest, place)
        if caution.topic != "law: your bottle"
    ]
    lines = dict.fromkeys(f"- **{c.topic}**: {c.words} ({c.source})" for c in every)
    return "\n".join([*lines, "", f"As of {', '.join(sorted({c.as_of for c in every}))}."])


def rules() -> str:
    """Every rule of the verdict, with its limit and its source."""
    lines = ["| verdict | for | when | source |", "|---" * 4 + "|"]
    for rule in hazards.rules():
        when = rule.words.format(value="…", limit=rule.shown(rule.limit), share="…")
        lines.append(f"| {rule.verdict} | {rule.kind} | {when} | {rule.source} |")
    return "\n".join(lines)


def simulated_benches() -> str:
    """How often a calibrated band holds the truth, and how much narrower it is."""
    heads = (
        "offcuts",
        "times seen scatter by",
        "benches",
        "the band held the true time, before → after",
        "its high end over its low end, before → after",
        "so much narrower",
    )
    lines = [f"| {' | '.join(heads)} |", "|---" * len(heads) + "|"]
    for row in tables.read("simulated_benches"):
        lines.append(
            f"| {row['offcuts'].replace('-', ' to ')} | {row['noise_percent']} % | {row['benches']} "
            f"| {float(row['covered_before_percent']):.0f} → {float(row['covered_percent']):.0f} % "
            f"| {row['high_over_low_before']} → "
            f"{row['high_over_low_after']} | {float(row['narrower_times']):.1f} times |"
        )
    return "\n".join(lines)


BLOCKS = {
    "leave-one-out": leave_one_out,
    "parameter counts": parameter_counts,
    "cautions": cautions,
    "rules": rules,
    "simulated benches": simulated_benches,
}


def filled(text: str) -> str:
    """The README with its computed blocks made anew."""
    for name, make in BLOCKS.items():
        mark, made = re.escape(name), make()
        text, found = re.subn(
            rf"(<!-- {mark} -->\n).*?(\n?<!-- /{mark} -->)",
            lambda m, made=made: f"{m[1]}{made}\n{m[2].lstrip()}",
            text,
            flags=re.S,
        )
        assert found == 1, f"README.md has no place marked {name}"
    return text


if __name__ == "__main__":
    README.write_text(filled(README.read_text(encoding="utf-8")), encoding="utf-8")
