"""A calibration in words and as a table: what it rests on, what it is worth, and which rows look like slips."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..matter.arrays import MOST_DRAWS
from .spoken import clock

if TYPE_CHECKING:
    import pandas

    from .calibration import Calibration

ABOUT_TIME = ("This is about time only: verdict, cautions and the stop at 45 °C stay those of the plan, for offcuts "
              "say nothing of a bath left standing. A refused bath stays refused.")
"""To be said beside every calibrated time."""
SCATTER = 1.6
"""Times that scatter by more than so many times the spread that was stated are worth a word [-]."""
ENOUGH = 3
"""Offcuts from which scatter can be seen."""


def words(found: Calibration) -> str:
    """What a calibration rests on and what it is worth, in words [%, min].

    Examples
    --------
    >>> from pcbchem.bench.calibration import calibrate
    >>> from pcbchem.bench.coupons import Log
    >>> print(words(calibrate(Log.of([]))))
    No offcut yet: all 400 plausible draws count alike.
    """
    count = len(found.offcuts)
    said = [f"{count} offcut{'s' * (count > 1)}; a time seen is taken to be good to {100 * found.spread:.0f} %.",
            f"Of {MOST_DRAWS} plausible draws they leave as many as {found.survived:.0f}."]
    if not count:
        said = [f"No offcut yet: all {MOST_DRAWS} plausible draws count alike."]
    if found.made:
        said[1] = said[1][:-1] + f": too few, so {found.effective:.0f} new ones were made around them."
    for (substance, name), measured in found.measured.items():
        said.append(f"Bottle {name!r} of {substance} was measured: {measured.words}.")
    if found.bad:
        rows = "; ".join(f"line {line}: {reason}" for line, reason in found.bad)
        said.append(f"{len(found.bad)} row{'s' * (len(found.bad) > 1)} of the log cannot be used and "
                    f"do{'es' * (len(found.bad) == 1)} not count: {rows}.")
    for offcut, line, (low, _, high) in zip(found.offcuts, found.lines, found.after, strict=True):
        if line in found.flagged and offcut.time is not None:
            seen = clock(offcut.time) if offcut.clear else f"not clear after {clock(offcut.time)}"
            wanted = f"{clock(low)} to {clock(high)}" if np.isfinite(low) else "never to clear"
            said.append(f"Line {line} does not fit and hardly counts: seen {seen}, expected {wanted}. Look at its time "
                        "(in seconds?), its area and foil, its bottles, its parts and its note.")
            if offcut.clear and offcut.time < low:
                said.append("If it is right, a bottle is stronger than the log says: do not mix it until it is "
                            "measured.")
    if count and len(found.flagged) == count:
        said.append("No offcut fits: a bottle may be quite another than the log says. Measure it before you mix again.")
    wide = scatter(found)
    if wide is not None and wide > SCATTER * found.spread:
        said.append(f"The times scatter by about {100 * wide:.0f} %, more than the {100 * found.spread:.0f} % that was "
                    f"taken: calibrate with spread={wide:.2g}, or the band is too narrow.")
    return " ".join([*said, ABOUT_TIME] if count else said)


def scatter(found: Calibration) -> float | None:
    """How far the times seen scatter about the middle now expected, as a logarithm [-]; None where too few tell."""
    off = [np.log(offcut.time / middle) for offcut, line, (_, middle, _)
           in zip(found.offcuts, found.lines, found.after, strict=True)
           if offcut.clear and offcut.time is not None and line not in found.flagged and np.isfinite(middle)]
    return float(np.sqrt(np.mean(np.square(off)))) if len(off) >= ENOUGH else None


def frame(found: Calibration) -> pandas.DataFrame:
    """One row an offcut: what was seen, what was expected of it before and after [s], and the chance of a slip.

    Returns
    -------
    DataFrame
        Indexed by line of the log, units in the column names.
    """
    import pandas

    bands = {f"{when}, {end} (s)": column for when, band in (("before", found.before), ("after", found.after))
             for end, column in zip(("low", "middle", "high"), band.T, strict=True)}
    return pandas.DataFrame(
        {"date": [offcut.date for offcut in found.offcuts], "seen (s)": [offcut.time for offcut in found.offcuts],
         "clear": [offcut.clear for offcut in found.offcuts], **bands, "slip (%)": 100 * found.slips},
        index=pandas.Index(found.lines, name="line"))
