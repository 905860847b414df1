"""What stands before anything is poured: the verdict's words, what to see to, the cautions."""

from __future__ import annotations

from collections.abc import Iterable

from ...common import tables
from .caution import AT_THE_TRAY, BEFORE, LAYERS, STRENGTHS_LINE, Caution, method_cautions
from .law import LAW_LINE, LOOK_UP
from .verdicts import VERDICTS

HEADS = dict(zip(VERDICTS, ("Mix it.", "Mix it, with care:", "Do not mix this."), strict=True))
"""A verdict as a page says it; see `head` for a bath that only would not do the job."""
NO_USE = "This bath would not do the job, so no amounts are given."
"""Head of a refused bath that harms nobody by what the rules see."""
NOBODY = "Goggles, open air or a fume cupboard do not make it safe."
"""Stands under the head of a bath that is refused for harm, before `MIXED_ALREADY`, `BOTTLES`."""
MIXED_ALREADY = (
    "Mixed already? Pour nothing more, no water either. "
    "Leave upwind, keep others out, call your emergency number."
)
"""Stands right under the verdict: who is in trouble looks there first."""
MIX_ANEW = "Mix anew: never pour water into a mixture that stands."
"""Stands wherever more water is offered as a change."""
BOTTLES = "The cautions below are for the bottles alone."
RULES = "Our rules are no law and no permission: local rules come first."
NO_FIGURE = "What you breathe: nobody has measured chlorine and mist."
"""Stands beside every verdict."""
FIRST = (
    "Under 18 only with an adult who knows these chemicals; never alone. Sealed goggles, gloves, "
    "apron. Outdoors or in a working fume cupboard."
)
"""Stands before anything that may be poured, with `STOP` after it; cautions say each in full."""
STOP = "Pour only in the order shown, slowly. At 45 °C lift the board out."
REMINDER = (
    f"{FIRST} {STOP} Never close the bath up. Nothing down the drain. "
    "All the cautions for these bottles go with this plan."
)
"""Stands where a page has said the cautions already."""
TO_POUR = ((BEFORE, 6), (BEFORE, 7))
"""Lines of what to have ready and how to pour: nobody is told to pour a refused bath."""
OPENING = {False: LAYERS[BEFORE], True: "For the bottles you hold"}
"""Heading of the cautions to be read first, by whether the plan is refused."""
PRACTICE = {"source": "trade", "status": "common practice"}
"""What a row says of where it is from that has no source."""
CAUTIONS_PAGE = "notebooks/reference/cautions.md"
"""The page with all cautions, those of an offcut and each source."""
OFFCUT_FIRST = "Before you etch an offcut"
"""Heading of the cautions of an offcut, wherever one is offered."""


def head(verdict: str, harm: bool = True) -> str:
    """Say a verdict.

    Parameters
    ----------
    verdict : str
        One of `VERDICTS`.
    harm : bool
        Of a refused bath: whether it is refused for harm, or only because it would not finish.
    """
    if verdict == VERDICTS[-1] and not harm:
        return NO_USE
    return HEADS[verdict]


def safety(refused: bool, cautions: bool = True, harm: bool = True) -> str:
    """Say what stands right under the verdict, before any amount.

    Parameters
    ----------
    refused : bool
        Whether nobody may mix this.
    cautions : bool
        Whether the cautions for the bottles follow.
    harm : bool
        Of a refused bath: whether it is refused for harm.
    """
    if not refused:
        return f"{FIRST} {STOP}"
    sentences = []
    # what to wear would read as if that made a refused bath safe
    if harm:
        sentences += [NOBODY, MIXED_ALREADY]
    if cautions:
        sentences.append(BOTTLES)
    return " ".join(sentences)


def bullets(lines: Iterable[str]) -> str:
    """Write lines as a list."""
    return "\n".join(f"- {line}" for line in lines)


def layer(cautions: Iterable[Caution], number: int, refused: bool = False) -> list[str]:
    """Write one layer of cautions under its heading, a line each; `look_up` writes the last.

    Parameters
    ----------
    cautions : iterable of Caution
        From `caution.cautions`.
    number : int
        A key of `LAYERS` [-].
    refused : bool
        Whether the plan is refused: then nobody is told to open a bottle.

    Returns
    -------
    list of str
        Paragraphs.
    """
    heading = LAYERS[number]
    if number == BEFORE:
        heading = OPENING[refused]
    lines = [
        caution.words
        for caution in cautions
        if caution.layer == number and not (refused and (number, caution.number) in TO_POUR)
    ]
    return [f"**{heading}**", bullets(lines)]


def look_up(cautions: Iterable[Caution], markdown: bool, refused: bool = False) -> list[str]:
    """Write the last layer: what a strength means by law of labels, the law, heat, sources.

    Parameters
    ----------
    cautions : iterable of Caution
        All of them, from `caution.cautions`.
    markdown : bool
        True where it may be folded away.
    refused : bool
        Whether the plan is refused: then nothing is said of what is not shown.

    Returns
    -------
    list of str
        Paragraphs.
    """
    every = tuple(cautions)  # it is gone through more than once
    last = [caution for caution in every if caution.layer == LOOK_UP]
    sentence, *strengths = [caution for caution in last if caution.number == STRENGTHS_LINE]
    laws = [caution for caution in last if caution.number == LAW_LINE]
    others = [caution for caution in last if caution.number > LAW_LINE]
    blocks = [f"**{LAYERS[LOOK_UP]}**"]
    if markdown:
        blocks = [f"<details><summary>{LAYERS[LOOK_UP]}</summary>"]
    blocks += [f"{sentence.words} By law of labels:", bullets(table_rows(strengths))]
    dates = sorted({law.as_of for law in laws})
    blocks += [f"Law, as of {', '.join(dates)}:", bullets(law.words for law in laws)]
    blocks += [caution.words for caution in others]
    shown = every
    if refused:  # nothing is poured: there is no layer at the tray, and none afterwards
        shown = tuple(
            caution
            for caution in every
            if caution.layer not in range(AT_THE_TRAY, AT_THE_TRAY + 2)
            and (caution.layer, caution.number) not in TO_POUR
        )
    # on paper the page of all cautions says it: nobody looks up a source beside a tray
    if markdown:
        sources = bullets(sources_by_line(shown))
        return [*blocks, "Sources, by layer and line:", sources, "</details>"]
    return [*blocks, f"Sources, by line: {CAUTIONS_PAGE}."]


def table_rows(strengths: Iterable[Caution]) -> list[str]:
    """Write what each strength means by law of labels, a row each."""
    return [f"{caution.topic}: {caution.words}" for caution in strengths]


def sources_by_line(cautions: Iterable[Caution]) -> list[str]:
    """Write each source once, with the lines that are from it: layer, point, line.

    Common practice stands behind most lines: it is named last, without them.
    """
    lines_of: dict[str, dict[str, None]] = {}  # a dict holds each line once, in order
    for caution in cautions:
        for work in caution.works:
            lines_of.setdefault(work, {})[f"{caution.layer}.{caution.number}"] = None
    practice = tables.cited(PRACTICE)
    lines_of.pop(practice, None)
    lines = [f"{', '.join(lines)}: {work}" for work, lines in lines_of.items()]
    return [*lines, f"all else: {practice}"]


def offcut_cautions(markdown: bool) -> list[str]:
    """Write what to take care of with an offcut: stands wherever one is offered.

    Parameters
    ----------
    markdown : bool
        True where the sources may be folded away.

    Returns
    -------
    list of str
        Paragraphs.
    """
    return warned(method_cautions("offcut"), OFFCUT_FIRST, markdown)


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
