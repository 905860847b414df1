"""Count on two hundred made-up benches how wide bands are, and how often they hold the truth.

`python -m pcbchem.lesson.test_an_offcut.benches` writes the table that the page reads: again after
a change of the model, the draws or the likelihood.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from importlib import resources
from pathlib import Path

import numpy as np

from ...common.band import Band
from .numbers import (
    BENCHES,
    CARE,
    MOST_OFFCUTS,
    SMALL,
    WAYS,
    after,
    bottles_known,
    by_labels,
    holds,
    truth,
    width,
)

MANY = 200
"""So many benches are counted [-]."""
LABELS, KNOWN = "labels alone", "both bottles known"
"""What the page calls knowing before any offcut."""

Counts = dict[tuple[str, int], tuple[bool, float, bool]]
"""By way and number of offcuts: whether the band holds the truth, its width [-], and whether the
board is clear before it begins."""


def run_bench(number: int) -> Counts:
    """Return what comes of a made-up bench in each way [-]."""
    bands: dict[tuple[str, int], Band] = {(LABELS, 0): by_labels()}
    bands[KNOWN, 0] = bottles_known(number)
    for way in WAYS:
        steps: Iterable[int] = (MOST_OFFCUTS,)
        if way in (CARE, SMALL):
            steps = range(1, MOST_OFFCUTS + 1)
        for offcuts in steps:
            bands[way, offcuts] = after(number, offcuts, way)
    true = truth(number)
    return {
        key: (holds(band, true), width(band), bool(true < band.low)) for key, band in bands.items()
    }


def count(benches: list[Counts]) -> list[dict[str, str]]:
    """Sum up benches, a row for each way and number of offcuts.

    Parameters
    ----------
    benches : list of dict
        From `run_bench`, the first of a class first.

    Returns
    -------
    list of dict
        Rows by column [-].
    """
    exact_widths = np.array([bench[KNOWN, 0][1] for bench in benches])
    rows = []
    for way, offcuts in benches[0]:
        flags = [bench[way, offcuts][0] for bench in benches]
        widths = np.array([bench[way, offcuts][1] for bench in benches])
        rows.append(
            {
                "way": way,
                "offcuts": f"{offcuts}",
                "benches": f"{len(benches)}",
                "held": f"{sum(flags)}",
                "held_of_first_30": f"{sum(flags[:BENCHES])}",
                "narrower_than_bottles_known": f"{int(np.sum(widths < exact_widths))}",
                "high_over_low": f"{np.median(widths):.3f}",
                "clear_before_the_band": f"{sum(bench[way, offcuts][2] for bench in benches)}",
            }
        )
    return rows


def main() -> None:
    """Print the table [-] and write it into the package's data folder."""
    with ProcessPoolExecutor() as executor:
        rows = count(list(executor.map(run_bench, range(1, MANY + 1), chunksize=5)))
    path = Path(str(resources.files("pcbchem"))) / "data" / "timed_benches.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        for stream in (file, sys.stdout):
            writer = csv.DictWriter(stream, rows[0].keys(), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)


if __name__ == "__main__":
    main()
