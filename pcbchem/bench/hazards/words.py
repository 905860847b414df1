"""What stands before anything is poured: the verdict's words, what to see to, the cautions."""

from __future__ import annotations

from collections.abc import Iterable

from .caution import Caution

HEADS = {"mix it": "Mix it.", "with care": "Mix it, with care:", "do not mix": "Do not mix."}
"""A verdict as a page says it."""
RULES = "These rules are common practice: not law, and no permission. Your local rules come first."
REMINDER = (
    "Under 18 only with an adult who knows these chemicals; never alone. Goggles, gloves, apron; "
    "in the open air or a working fume cupboard; in the order shown; stop at 45 °C; never closed; "
    "nothing down the drain. All the cautions for these bottles go with this plan."
)
"""Stands where a page has said the cautions already."""
FIRST = (
    "Under 18 only with an adult who knows these chemicals; never alone. Sealed goggles, gloves, "
    "apron. In the open air or a working fume cupboard."
)
"""Stands before anything that may be poured, with `STOP` after it; cautions say each in full."""
STOP = "Pour only in the order shown, slowly. At 45 °C take the board out."
NOBODY = "Nobody mixes this: no adult, goggles, open air or fume cupboard makes it safe."
"""Stands in their place where a plan is refused, with `BOTTLES` after it where cautions follow."""
BOTTLES = "The cautions below are for the bottles alone."
OPENING = {False: "Before you open a bottle", True: "For the bottles you hold"}
"""Heading of the cautions to be read first, by whether the plan is refused."""


def safety(refused: bool, cautions: bool = True) -> str:
    """Say what stands right under the verdict, before any amount.

    Parameters
    ----------
    refused : bool
        Whether nobody may mix this.
    cautions : bool
        Whether the cautions for the bottles follow.
    """
    if not refused:
        return f"{FIRST} {STOP}"
    # what to wear would read as if that made a refused bath safe
    if cautions:
        return f"{NOBODY} {BOTTLES}"
    return NOBODY


def bullets(lines: Iterable[str]) -> str:
    """Write lines as a list."""
    return "\n".join(f"- {line}" for line in lines)


def warned(cautions: Iterable[Caution], head: str, markdown: bool) -> list[str]:
    """Write cautions under a heading with their date, a line each, and then whom they are from.

    Parameters
    ----------
    cautions : iterable of Caution
        In the order in which they are to be read.
    head : str
        The heading.
    markdown : bool
        True where the sources may be folded away.

    Returns
    -------
    list of str
        Paragraphs.
    """
    every = tuple(cautions)  # it is gone through three times
    dates = sorted({caution.as_of for caution in every})
    # a few sources stand behind many cautions: each is named once, with its topics
    topics_of: dict[str, list[str]] = {}
    for caution in every:
        topics_of.setdefault(caution.source, []).append(caution.topic)
    head_of_sources = "Where these are from:"
    end = ""  # an empty paragraph: whoever joins them leaves it out
    if markdown:
        head_of_sources = "<details><summary>Where these are from</summary>"
        end = "</details>"
    return [
        f"**{head}** (as of {', '.join(dates)})",
        bullets(f"**{caution.topic}**: {caution.words}" for caution in every),
        head_of_sources,
        bullets(f"{'; '.join(topics)}: {source}" for source, topics in topics_of.items()),
        end,
    ]
