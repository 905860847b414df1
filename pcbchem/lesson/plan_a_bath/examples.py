"""The workshop's examples on page 00: verdicts and bands to learn from, without any amount.

Their sizes stand here and not on the page: no page that is saved, printed or exported holds an
amount, for its reader has other bottles and another board.
"""

from __future__ import annotations

import functools
from typing import Any

from ...bench.plan.planning import Plan
from ...common.limits import check_choice
from ..form.fields import DRAWS, planned

BENCH: dict[str, Any] = {
    "place": "elsewhere",
    "board_mm": (75, 60),
    "bare_percent": 60,
    "foil_oz": 1,
    "agitation": "rocked",
    "facing": "up",
    "tray_mm": None,
    "bottles_C": 20,
    "air_C": 20,
}
"""The workshop's board, place and tray, as a form is filled in."""
USUAL: dict[str, Any] = {
    **BENCH,
    "acid": (10, "% by weight"),
    "peroxide": (12, "% by weight"),
    "parts": (0, 1, 1),
    "total_mL": 150,
}
"""The workshop's mild bath for it."""
LESS = USUAL | {"total_mL": 75}
USED_BATH = (50, 5.5, (1.1, 1.4), (0, 0.2))
"""A used bath: percent of the whole [%], copper [g/L], acid and peroxide in it [mol/L]."""
STRONG: dict[str, Any] = {"acid": (31, "%"), "peroxide": (32.5, "%"), "parts": (3, 1, 1)}
OLD_BOTTLE, TOO_LITTLE = "an old bottle", "too little bath"
ONCE, TWICE = "all at once", "twice the bath, all at once"
ALL_FRESH = "all fresh"
EXAMPLES: dict[str, dict[str, Any]] = {
    OLD_BOTTLE: USUAL | {"peroxide": (4, 12, "% by weight")},
    TOO_LITTLE: {**BENCH, **STRONG, "mL_per_cm2": 0.83},
    ONCE: LESS,
    "half of it after 1 min": LESS | {"second": (50, 1)},
    "half of it after 3 min": LESS | {"second": (50, 3)},
    TWICE: USUAL,
    ALL_FRESH: USUAL,
    "half of it used": USUAL | {"used_bath": USED_BATH},
    "half of it used, no peroxide left in it": USUAL | {"used_bath": USED_BATH[:3]},
}
"""What each example is planned from."""
PORTIONS = (ONCE, "half of it after 1 min", "half of it after 3 min", TWICE)
"""Peroxide in one portion and in two, in half the usual bath; and the usual bath."""
REUSED = (ALL_FRESH, "half of it used", "half of it used, no peroxide left in it")
"""The usual bath, fresh and topped up."""


def example(name: str, draws: int = DRAWS) -> Plan:
    """Plan one of the page's examples as a class is shown it: without amounts.

    Parameters
    ----------
    name : str
        One of `EXAMPLES`.
    draws : int
        How many plausible baths [-].

    Returns
    -------
    Plan
        Its verdict, bands and cautions.

    Raises
    ------
    InputError
        No example of this name.

    Examples
    --------
    >>> print(example("too little bath", draws=20).verdict)
    do not mix
    """
    entries = EXAMPLES[check_choice("name", name, tuple(EXAMPLES))]
    return _planned_once(tuple(entries.items()), draws)


@functools.cache
def _planned_once(entries: tuple[tuple[str, Any], ...], draws: int) -> Plan:
    """Plan some entries with so many plausible baths [-]: who runs the page again waits for none.

    Two names may stand for the same bath.
    """
    return planned(**dict(entries), draws=draws, school=True)
