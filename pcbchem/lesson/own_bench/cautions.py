"""What to take care of in measuring a bottle or etching an offcut, as a page shows it."""

from __future__ import annotations

import functools
import html

from ...bench.hazards.caution import method_cautions

FIRST_AID = "first aid"
"""How the topics begin of what is done when it went wrong."""
BOLD = ("planned", "at 45 °C", "how warm it got")
"""Other topics that nobody may pass over."""
OF_A_SAMPLE = ("taking a little", "what is left")
"""Topics of what is taken from a bottle: none of it is in an offcut."""
BEFORE = 'Local rules come first, then <a href="reference/cautions.md">all cautions</a>.'


HOW_MUCH = "the dish"
"""Topic of the caution that says how much bath there is."""


def heading_html(heading: str) -> str:
    """Return the heading of a panel as HTML."""
    return f"<h3>{html.escape(heading)}</h3>"


@functools.cache
def method_cautions_html(heading: str, method: str, is_etched: bool = True) -> str:
    """Return heading and cautions of a panel as HTML: all of them to be read, first aid bold.

    Parameters
    ----------
    heading : str
        What the panel is of.
    method : str
        As `method_cautions` names it: "weighing", "offcut" and others.
    is_etched : bool
        Whether there is an offcut to etch: of a refused bath there is none, and no amount.
    """
    lines = ""
    for caution in method_cautions(method):
        if caution.topic == HOW_MUCH and not is_etched:
            continue
        if caution.topic in OF_A_SAMPLE and method == "offcut":
            continue
        words = html.escape(caution.words, quote=False)
        if caution.topic.startswith(FIRST_AID) or caution.topic in BOLD:
            words = f"<strong>{words}</strong>"
        lines += f"<li>{words}</li>"
    return (
        f"{heading_html(heading)}"
        f'<div class="pcbchem-care"><p><strong>Caution.</strong> {BEFORE}</p><ul>{lines}</ul></div>'
    )
