"""What people report of baths that chose no draw: hearsay, beside what the model says of them.

The plausible draws meet four facts of practice (`plausible`). These reports are none of them: they
are held against the draws afterwards. Their boards, movements and temperatures are not stated, so
every one of them is taken for the same board in the same bath. Agreement is worth little here, and
a miss says that model, report or our reading of it is off.
"""

from __future__ import annotations

from typing import NamedTuple

from ...common.band import Band
from ...common.tables import read
from ...common.units import celsius, cm, mL
from ...matter.solution import Solution, mix
from .bath import etch
from .parameters import RateParameters
from .setup import Board, Foil, Tray


class Report(NamedTuple):
    """A bath that somebody told of.

    `bath`: as mixed, at its own temperature [K, m³]. `board`, `tray`: taken for it [m², K].
    `words`: what was told. `low`, `high`: our reading of that [s], and `reading` in words.
    `assumption`: what was not told. `status`, `source`: "hearsay", and its key in sources.csv.
    """

    name: str
    bath: Solution
    board: Board
    tray: Tray
    words: str
    low: float
    high: float
    reading: str
    assumption: str
    status: str
    source: str

    def band(self, parameters: RateParameters | None = None) -> Band:
        """Predict the time to clear.

        Parameters
        ----------
        parameters : RateParameters
            With draws; by default the 200 plausible ones.

        Returns
        -------
        Band
            Low end, middle and high end [s].
        """
        if parameters is None:
            parameters = RateParameters.plausible(200)
        return etch(self.bath, self.board, self.tray, parameters).band("time_to_clear")

    def is_met(self, band: Band) -> bool:
        """Tell whether a band [s] holds any of the times that we read from the words."""
        return bool(band.low <= self.high and band.high >= self.low)


def reports() -> tuple[Report, ...]:
    """Return the reports of baths, in the order of their table.

    Returns
    -------
    tuple of Report
        Each with its bath [m³, K] and what was told of it [s].

    Examples
    --------
    >>> for report in reports():
    ...     print(f"{report.name}: {report.words} ({report.status})")
    watered: a few minutes (hearsay)
    without water: tenths of seconds (hearsay)
    much weak peroxide: about 5 minutes (hearsay)
    """
    result = []
    for row in read("reported_baths"):
        T = celsius(float(row["T_C"]))
        water, acid, peroxide = (
            float(row[f"parts_{name}"]) for name in ("water", "acid", "peroxide")
        )
        part = float(row["volume_mL"]) * mL / (water + acid + peroxide)
        bath = mix(
            Solution.of(volume=water * part, T=T),
            Solution.of(volume=acid * part, T=T, HCl=float(row["acid_mass_fraction"])),
            Solution.of(volume=peroxide * part, T=T, H2O2=float(row["peroxide_mass_fraction"])),
        )
        report = Report(
            name=row["report"],
            bath=bath,
            board=Board(
                area=float(row["area_cm2"]) * cm**2, foil=Foil.ounces(float(row["foil_oz"]))
            ),
            tray=Tray(agitation=row["agitation"], T_air=T),
            words=row["in_words"],
            low=float(row["read_low_s"]),
            high=float(row["read_high_s"]),
            reading=row["our_reading"],
            assumption=row["what_we_assumed"],
            status=row["status"],
            source=row["source"],
        )
        result.append(report)
    return tuple(result)
