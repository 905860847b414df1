"""What an amount to pour looks like: a page that is set for a class shows none."""

import html
import re

AMOUNT = re.compile(
    r"\d\s*(m[lL]|[lL]|µ[lL]|cm3|cm³|m?g|kg|mol)\b(?!/)"
    r"|\b(millilit|litre|gram|US fl|fl oz|drops?\b|spoon|cups?\b)|\bmL\b",
    re.IGNORECASE,
)
"""An amount of anything, in letters or in words: a strength, such as 5 g/L, is none."""
OF_ALL = re.compile(
    r"in one drop of bath to 100 of water|looks like a drink|more than 1 L of bath|above [13] L\b"
)
"""What cautions and rules of every plan say, a limit among them: nothing that is poured."""


def amounts(text):
    """Each amount of a text with a little of what stands around it."""
    text = OF_ALL.sub("", html.unescape(re.sub(r"<[^>]+>", " ", text)))
    return [text[max(0, hit.start() - 30) : hit.end() + 10] for hit in AMOUNT.finditer(text)]


NOT_TOLD = ("_esm", "_css", "groups", "values")
"""Of a widget's state: its code, its fields, and what its reader has typed into them."""


def told_in(state):
    """All that the saved state of a page's widgets tells, and the names of what holds bytes."""
    told, bytes_of = [], []
    for model in state.values():
        told += [str(value) for name, value in model["state"].items() if name not in NOT_TOLD]
        buffers = model.get("buffers", ())
        bytes_of += [buffer["path"][0] for buffer in buffers if buffer["data"]]
    return "\n".join(told), bytes_of
