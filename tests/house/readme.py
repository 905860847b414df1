"""What the README says of the model's honesty, from the package's tables: `python tests/house/readme.py` writes it."""

import pathlib
import re

from pcbchem import RateParameters
from pcbchem.matter import tables
from pcbchem.matter.units import minute

README = pathlib.Path(__file__).parents[2] / "README.md"
ORDER = ("published", "from memory", "derived", "fitted", "assumed")
READ = {  # what the comparison says, by fact; the test beside this file checks that each is still true
    "undiluted": "too slow two to four times and more: without this fact the model does not know it",
    "3 : 1 : 1": "most of the band is quicker than practice",
    "weak, 2.5 %": "half of the band is quicker than 20 minutes, the rest agrees",
    "strong film": "agrees",
    "weak film": "agrees; this film was used nowhere",
    "ratio of the films": "a little above what was recorded",
}


def said(value: str, unit: str) -> str:
    """A number of the table in the unit that people use."""
    number = float(value)
    if unit == "s" and number >= 300:
        return f"{number / minute:.0f} min"
    return f"{number:.2g} {unit}" if unit != "-" else f"{number:.1f}"


def leave_one_out() -> str:
    """The table of facts predicted without themselves."""
    lines = ["| fact left out | 10 / 50 / 90 % of the baths | on record | reading |", "|---|---|---|---|"]
    for row in tables.read("leave_one_out"):
        spread = " / ".join(said(row[name], row["unit"]) for name in ("low", "middle", "high"))
        origin = "common practice, no source" if row["source"] == "trade" else "homecmos open lab notes"
        lines.append(f"| {row['fact']} | {spread} | {row['practice']} ({origin}) | {READ[row['fact']]} |")
    return "\n".join(lines)


def parameter_counts() -> str:
    """How many parameters are known, and how."""
    status = RateParameters().table()["status"]
    counts = [f"{int((status == name).sum())} {name}" for name in ORDER]
    assert sum(int((status == name).sum()) for name in ORDER) == len(status)
    return f"{len(status)} in all: {', '.join(counts)}."


BLOCKS = {"leave-one-out": leave_one_out, "parameter counts": parameter_counts}


def filled(text: str) -> str:
    """The README with its computed blocks made anew."""
    for name, make in BLOCKS.items():
        mark, made = re.escape(name), make()
        text, found = re.subn(rf"(<!-- {mark} -->\n).*?(\n?<!-- /{mark} -->)",
                              lambda m, made=made: f"{m[1]}{made}\n{m[2].lstrip()}", text, flags=re.S)
        assert found == 1, f"README.md has no place marked {name}"
    return text


if __name__ == "__main__":
    README.write_text(filled(README.read_text(encoding="utf-8")), encoding="utf-8")
