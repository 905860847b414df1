"""The card for the bench: one page to print, made from one plan, with that plan's own inputs on it.

On a refused plan it holds the cautions and the reasons: no amount, no pour and no other bath. For a
class it holds the order of pouring, and no amount.
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
from ...common.limits import check_choice
from ...page.school import no_amounts
from .card_blocks import CAN_WAIT, blocks_of, large
from .card_paper import LINE, TIGHT, Block, Setting, height_of

TEMPLATE = pathlib.Path(__file__).with_name("bench_card.html")
"""The page around the card: its style, and where its words go."""
MARK = '<meta name="generator" content="pcbchem bench card">'
"""Stands in each card: no other file is ever replaced by one."""
SHEETS = {"A4": (199.5, 286.0), "Letter": (205.4, 268.4)}
"""How wide and high a card is, by paper [mm]: less its margins, and some of its height to spare."""
PAPERS = tuple(SHEETS)
"""Papers that a card is made for."""
SIZES = (12.5, 12.0, 11.5, 11.0, 10.5, 10.0, 9.75, 9.5, 9.25, 9.0)
"""Sizes of the small print [pt], the largest first: below 9 hardly anybody reads it by a tray."""
LAST_SIZES = (8.75, 8.5, 8.25, 8.0, 7.75)
"""Sizes of what must stand on a card [pt] where all that can wait is left out and it is still too
much: better small than gone."""


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


def card(plan: Plan, paper: str | None = None) -> Card:
    """Make the card of a plan: one side of A4 or Letter, to print and pin up.

    Parameters
    ----------
    plan : Plan
        From `planned` of this room or of the bench.
    paper : str, optional
        One of `PAPERS`. Left out: Letter in the US, A4 anywhere else.

    Returns
    -------
    Card
        With the plan's own inputs on it. Refused: cautions and reasons, no amount.
        For a class, by the plan or by the school switch: the order and no amount.

    Raises
    ------
    InputError
        No such paper: names it.

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
    sheet = check_choice("paper", paper or usual_paper(plan), PAPERS)
    title = f"Card for the bench: {head(plan.verdict, plan.harmful).rstrip(':')}"
    setting, blocks = fitted(plan, sheet)
    width, height = SHEETS[sheet]
    document = template().substitute(
        title=html.escape(title),
        size=f"{setting.size:g}",
        large=f"{large(setting.size):g}",
        # in fonts wider than those that heights are reckoned with it would take a second page
        line=f"{TIGHT if setting.size < SIZES[-1] else LINE:g}",
        paper=sheet,
        width=f"{width:g}",
        height=f"{height:g}",
        body="\n".join(block.html for block in blocks),
    )
    return Card(plan.verdict, document)


@functools.cache
def template() -> string.Template:
    """Read the page around a card."""
    return string.Template(TEMPLATE.read_text(encoding="utf-8"))


def usual_paper(plan: Plan) -> str:
    """Return what people print on where a plan is for."""
    if plan.inputs.place == "US":
        return "Letter"
    return "A4"


def fitted(plan: Plan, paper: str) -> tuple[Setting, list[Block]]:
    """Lay a card out as large as it goes on a paper: how it is set, and its blocks.

    First the letters get smaller, then what can wait is left to the page.
    """
    width, height = SHEETS[paper]
    for size in SIZES:
        setting = Setting(size, width)
        blocks = blocks_of(plan, setting, ())
        if height_of(blocks) <= height:
            return setting, blocks
    left_out: list[tuple[int, int]] = []
    for place in CAN_WAIT:
        left_out.append(place)
        blocks = blocks_of(plan, setting, left_out)
        if height_of(blocks) <= height:
            break
    # the last to go may have left room for some of the others: what matters most comes back first
    for place in reversed(left_out[:-1]):
        without = [other for other in left_out if other != place]
        fuller = blocks_of(plan, setting, without)
        if height_of(fuller) <= height:
            left_out, blocks = without, fuller
    for size in LAST_SIZES:
        if height_of(blocks) <= height:
            break
        setting = Setting(size, width)
        blocks = blocks_of(plan, setting, left_out)
    return setting, blocks
