"""What stands before anything is poured: the verdict's words, what to see to, and the cautions as a list."""

from __future__ import annotations

from collections.abc import Iterable

from .caution import Caution

HEADS = {"mix it": "Mix it.", "with cares": "Mix it with these cares.", "do not mix": "Do not mix."}
"""A verdict as a page says it."""
RULES = "These rules are common practice: not law, and no permission. Your local rules come first."
REMINDER = (
    "Under 18 only with an adult who knows these chemicals; never alone. Goggles, gloves, apron; in the open "
    "air or a working fume cupboard; in the order shown; stop at 45 °C; never closed; nothing down the drain. "
    "All the cautions for these bottles go with this plan."
)
"""Stands where a page has said the cautions already."""
FIRST = (
    "Under 18 only with an adult who knows these chemicals; never alone. Sealed goggles, gloves, apron. In the "
    "open air or a working fume cupboard."
)
"""Stands before anything that may be poured, with `STOP` after it; the cautions say each in full."""
STOP = "Pour only in the order shown, slowly. At 45 °C take the board out."
NOBODY = "Nobody mixes this: no adult, goggles, open air or fume cupboard makes it safe."
"""Stands in their place where a plan is refused, with `BOTTLES` after it where cautions follow."""
BOTTLES = "The cautions below are for the bottles alone."
OPENING = {False: "Before you open a bottle", True: "For the bottles you hold"}
"""Heading of the cautions to be read first, by whether the plan is refused."""


def safety(refused: bool, cautions: bool = True) -> str:
    """What stands right under the verdict, before any amount: what to see to, or that nobody mixes this."""
    if refused:
        return f"{NOBODY} {BOTTLES}" if cautions else NOBODY
    return f"{FIRST} {STOP}"


def bullets(lines: Iterable[str]) -> str:
    """Lines as a list."""
    return "\n".join(f"- {line}" for line in lines)


def warned(cautions: Iterable[Caution], head: str, markdown: bool) -> list[str]:
    """Cautions under a heading with their date, a line each, and then whom they are from, folded where it may be."""
    listed = tuple(cautions)
    sources: dict[str, list[str]] = {}
    for caution in listed:
        sources.setdefault(caution.source, []).append(caution.topic)
    return [
        f"**{head}** (as of {', '.join(sorted({caution.as_of for caution in listed}))})",
        bullets(f"**{caution.topic}**: {caution.words}" for caution in listed),
        "<details><summary>Where these are from</summary>" if markdown else "Where these are from:",
        bullets(f"{'; '.join(topics)}: {source}" for source, topics in sources.items()),
        "</details>" if markdown else "",
    ]
