"""The card for the bench: one page to print, made from one plan, with that plan's own inputs on it.

On a refused plan it holds the cautions, the reasons and what would help: no amount and no pour. For
a class it holds the order of pouring, and no amount.
"""

from __future__ import annotations

import dataclasses
import functools
import html
import os
import pathlib
import string

from ...bench.hazards.words import head
from ...bench.plan.planning import Plan, for_class
from ...page.school import no_amounts
from .card_blocks import CAN_WAIT, blocks_of, large
from .card_paper import Block, height_of

TEMPLATE = pathlib.Path(__file__).with_name("bench_card.html")
"""The page around the card: its style, and where its words go."""
MARK = '<meta name="generator" content="pcbchem bench card">'
"""Stands in each card: no other file is ever replaced by one."""
HEIGHT = 266.0
"""How high a card may be by our estimate [mm]: Letter less its margins, and some to spare."""
SIZES = (12.5, 12.0, 11.5, 11.0, 10.5, 10.0, 9.5, 9.0)
"""Sizes of the small print [pt], the largest first: below 9 nobody reads it beside a tray."""


@dataclasses.dataclass(frozen=True)
class Card:
    """One page to print and pin up: made by `card`.

    Parameters
    ----------
    verdict : str
        The plan's.
    html : str
        A whole HTML document, which asks nothing of anybody.
    """

    verdict: str
    html: str = dataclasses.field(repr=False)

    def _repr_html_(self) -> str:
        """Return the card in a frame of its own, for a notebook: no script runs in it."""
        document = html.escape(self.html)
        return (
            '<iframe sandbox="" title="Card for the bench" srcdoc="'
            f'{document}" style="width:100%;height:70rem;border:1px solid #767676"></iframe>'
        )

    def save(self, path: str | pathlib.Path, *, overwrite: bool = False) -> None:
        """Write the card to a file; a file that is no card is never touched.

        Parameters
        ----------
        path : str or Path
            Where to; its folder must exist.
        overwrite : bool
            Take the place of a card saved before.

        Raises
        ------
        FileExistsError
            Something of that name is there, and `overwrite` is false: names the path.
        ValueError
            `overwrite` is true and what is there is no card: names the file.
        OSError
            No such folder, or the system will not write there.
        """
        target = pathlib.Path(os.path.realpath(path))
        if not target.parent.is_dir():
            raise FileNotFoundError(
                f"{target.parent} is not a folder: make it first, nothing was saved"
            )
        if os.path.lexists(target):
            if not overwrite:
                raise FileExistsError(
                    f"{target} is already there: choose another name, or overwrite=True for a card"
                )
            if not target.is_file() or MARK.encode() not in target.read_bytes():
                raise ValueError(f"{target} is no card: it is left as it is, choose another name")
        # beside the target and then renamed: a reader never finds half a card
        draft = target.with_name(f".{os.urandom(8).hex()}.tmp")
        try:
            draft.write_text(self.html, encoding="utf-8")
            draft.replace(target)
        finally:
            draft.unlink(missing_ok=True)


def card(plan: Plan) -> Card:
    """Make the card of a plan: one side of A4 or Letter, to print and pin up.

    Parameters
    ----------
    plan : Plan
        From `planned` of this room or of the bench.

    Returns
    -------
    Card
        With the plan's own inputs on it. Refused: cautions, reasons and what would help, no amount.
        For a class, by the plan or by the school switch: the order and no amount.

    Examples
    --------
    >>> from pcbchem.lesson.bath import planned
    >>> mild = planned(acid=(10, "%"), peroxide=(12, "%"), parts=(0, 1, 1), total_mL=150,
    ...                board_mm=(75, 60), bare_percent=60, place="EU")
    >>> print("<strong>75&nbsp;mL</strong>" in card(mild).html)
    True
    """
    # a refused plan without amounts in its words too: of its copper, of more bath that would help
    if plan.refused or no_amounts():
        plan = for_class(plan)
    title = f"Card for the bench: {head(plan.verdict, plan.harmful).rstrip(':')}"
    size, blocks = fitted(plan)
    document = template().substitute(
        title=html.escape(title),
        size=f"{size:g}",
        large=f"{large(size):g}",
        body="\n".join(block.html for block in blocks),
    )
    return Card(plan.verdict, document)


@functools.cache
def template() -> string.Template:
    """Read the page around a card."""
    return string.Template(TEMPLATE.read_text(encoding="utf-8"))


def fitted(plan: Plan) -> tuple[float, list[Block]]:
    """Lay a card out as large as it goes on one page: size of its small print [pt], its blocks.

    First the letters get smaller, then what can wait is left to the page.
    """
    for size in SIZES:
        blocks = blocks_of(plan, size, ())
        if height_of(blocks) <= HEIGHT:
            return size, blocks
    size = SIZES[-1]
    left_out: list[tuple[int, int]] = []
    for place in CAN_WAIT:
        left_out.append(place)
        blocks = blocks_of(plan, size, left_out)
        if height_of(blocks) <= HEIGHT:
            break
    # the last to go may have left room for some of the others: what matters most comes back first
    for place in reversed(left_out[:-1]):
        without = [other for other in left_out if other != place]
        fuller = blocks_of(plan, size, without)
        if height_of(fuller) <= HEIGHT:
            left_out, blocks = without, fuller
    return size, blocks
