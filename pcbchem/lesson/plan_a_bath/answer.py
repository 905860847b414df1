"""What the planner says with a plan: pours and reasons beside the fields, the rest below."""

from __future__ import annotations

import html

from ...bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG
from ...bench.hazards.words import (
    RULES,
    bullets,
    layer,
    look_up,
    offcut_cautions,
    safety,
)
from ...bench.plan.planning import Plan
from ...bench.plan.steps import later, looks, pours, standing, tray
from ...bench.plan.words import asked, does, helps, numbers, sure, why
from ...common.extras import extra
from ...common.number_words import capitalised
from ...page.table import Table
from .around import around

NO_LIMIT = "No limit of ours is exceeded. That is no permission: your local rules come first."
"""Stands where a plan has no reasons."""
QUICKER = (
    "Less water, or another share of acid and peroxide, may do it: the map shows all mixtures of "
    "these bottles, and *Find the leanest*, under the fields, tries them. Read the verdict again."
)
"""Stands where a bath is refused because it would not finish."""
TO_LEARN_FROM = "**What it would do: to learn from, not to try**"
"""Heading of what a refused bath would do."""


def html_of(markdown: str) -> str:
    """Turn Markdown of the package's own words into HTML."""
    with extra("pages"):
        import mistune  # only here: a plan in Python needs none

    # not escaped: no word of a reader gets here, and ours fold sources away in <details>
    return str(mistune.create_markdown(escape=False)(markdown))


def live_words(plan: Plan) -> str:
    """Say when the board is clear and how warm it gets [s, °C]: the verdict stands before it.

    Of a refused bath the first reason: nobody may read a time before that.
    """
    if plan.refused:
        first, *others = plan.reasons
        words = f"{capitalised(first.words)}."
        if others:
            words += f" And more reasons, below: {len(others)}."
        return words
    return does(plan).replace("**", "")


def head(plan: Plan) -> str:
    """Say what to see to, pour and look for, reasons, what would help, law, air and waste."""
    # a limit in °C must not be read without its unit, at the end of a line
    first = safety(plan.refused, harm=plan.harmful).replace(" °C", "&nbsp;°C")
    reasons = bullets(why(plan)) or NO_LIMIT
    law = [line.words for line in plan.law]
    blocks = [f"**{first}**"]
    # of a refused bath nothing is poured
    if not plan.refused:
        blocks += [pours(plan), looks(plan)]
    blocks += [reasons, *helps(plan)]
    # changes are tried towards milder baths alone
    if plan.refused and not plan.harmful:
        blocks.append(QUICKER)
    blocks += [*law, *around(plan)]
    return html_of("\n\n".join(block for block in blocks if block))


def notes(plan: Plan) -> str:
    """Say the rest: cautions in layers, each where it is needed, and how sure it is."""
    blocks = [asked(plan.inputs, plan.school)]
    blocks += layer(plan.cautions, BEFORE, plan.refused)
    if plan.refused:
        blocks += [TO_LEARN_FROM, does(plan).replace("**", ""), standing(plan)]
    else:
        blocks += layer(plan.cautions, AT_THE_TRAY)
        blocks.append(tray(plan.inputs, plan.school))
        # what the bath does stands under the heading, before what to do about it
        heading, lines = layer(plan.cautions, AFTERWARDS)
        blocks += [heading, later(plan), lines]
    blocks += [*layer(plan.cautions, GOES_WRONG), *sure(plan), RULES]
    body = html_of("\n\n".join(blocks))
    caption = "8 of 10 plausible baths lie between low end and high end"
    table = Table(numbers(plan), caption=caption)._repr_html_()
    offcut = ""
    # nobody etches an offcut in a refused bath, nor a class that is given no amounts
    if not (plan.refused or plan.school):
        heading, *offcut_lines = offcut_cautions(True)
        offcut = folded(heading.replace("**", ""), html_of("\n\n".join(offcut_lines)))
    last = html_of("\n\n".join(look_up(plan.cautions, True, plan.refused)))
    return f"{body}{folded('The numbers in a table', table)}{offcut}{last}"


def folded(summary: str, inner: str) -> str:
    """Fold HTML away under a summary."""
    return f"<details><summary>{html.escape(summary, quote=False)}</summary>{inner}</details>"
