"""The pairs of bottles of page 04, put together a second time, and how words are judged."""

import itertools
import re

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.plan.inputs import Inputs

STRENGTHS = {"mild": (0.10, 0.12), "strong": (0.31, 0.30), "weak": (0.10, 0.03)}
PARTS = (0.0, 0.1, 1.2, 2.0, 6.0, 10.0)
"""Parts of water at which the page is held against the bench."""
SETTINGS = list(itertools.product(STRENGTHS, PARTS))
VOLUME = re.compile(r"(?<!mol/)\bm?L\b|litre|cm³|\bm³|fl oz|ounce")


def own(bottles, per_area=150 / 27 / 100, parts=0.0, agitation="rocked"):
    """The bath of a pair of bottles for 27 cm² in 150 mL, or per area, with parts of water."""
    acid, peroxide = STRENGTHS[bottles]
    return Inputs(
        Bottle.labelled("HCl", acid),
        Bottle.labelled("H2O2", peroxide),
        (parts, 1, 1),
        Board(area=27e-4),
        Tray(agitation=agitation),
        per_area,
        "EU",
    )


def seen_words(drawing):
    """Every word that can be seen in a panel's picture, but for those at ticks."""
    texts = [drawing.parts["title"]]
    for axes in drawing.figure.axes:
        texts += [*axes.texts, axes.title, axes._left_title, axes.xaxis.label, axes.yaxis.label]
    return [text for text in texts if text.get_visible() and text.get_text().strip()]


def no_overlap(drawing, words):
    """No two words overlap by more than a hair, and none leaves the picture."""
    boxes = [(text.get_text(), text.get_window_extent()) for text in words]
    frame = drawing.figure.bbox
    for text, box in boxes:
        assert (
            frame.x0 <= box.x0
            and box.x1 <= frame.x1
            and frame.y0 <= box.y0
            and box.y1 <= frame.y1 + 1
        ), text
    for (one, a), (two, b) in itertools.combinations(boxes, 2):
        across, down = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        assert across <= 1 or down <= 2, (one, two)
