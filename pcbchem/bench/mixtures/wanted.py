"""What is wanted of a bath: times inside a window, and no warmer than a limit.

A map, a comparison and a row all count the same plausible baths as inside.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.number_words import span
from ...common.units import ZERO_C
from ..plan.search import checked_hottest, checked_window

PEAKS = ("etching_peak", "hour_peak")
"""What has to stay below the warmest, as a search has it: while etching, and in the hour after."""


@dataclasses.dataclass(frozen=True)
class Wanted:
    """A window of times and a warmest.

    Parameters
    ----------
    shortest, longest : float
        Window of the times until the board is clear [s].
    hottest : float
        Warmest that a bath may get, while etching and in the hour after [K].
    """

    shortest: float = 0.0
    longest: float = np.inf
    hottest: float = np.inf

    @classmethod
    def checked(cls, window: Any, hottest: Any) -> Wanted:
        """Check a window [s] and a warmest [K]; what is None does not limit.

        Raises
        ------
        InputError
            A value that cannot be: names it and its limits.

        Examples
        --------
        >>> print(Wanted.checked((180, 480), None))
        Wanted(shortest=180.0, longest=480.0, hottest=inf)
        """
        shortest, longest, warmest = 0.0, np.inf, np.inf
        if window is not None:
            shortest, longest = checked_window(window)
        if hottest is not None:
            warmest = checked_hottest(hottest)
        return cls(shortest, longest, warmest)

    @property
    def words(self) -> str:
        """What is wanted, in words [min, °C]; "" where nothing is.

        Examples
        --------
        >>> print(Wanted.checked((180, 480), 313.15).words)
        clear in 3.0 to 8.0 min, 40 °C or colder while etching and in the hour after
        """
        wishes = []
        if np.isfinite(self.longest):
            # two ends as a band of two draws: `span` then writes the unit once
            wishes.append(f"clear in {span(Band.of((self.shortest, self.longest), 2))}")
        if np.isfinite(self.hottest):
            warmest = f"{self.hottest - ZERO_C:.0f} °C"
            wishes.append(f"{warmest} or colder while etching and in the hour after")
        return ", ".join(wishes)

    def share(self, bands: Mapping[str, Band]) -> FloatArray:
        """Return the share of the draws that are inside [-], of each bath of some bands [s, K]."""
        times = bands["time_to_clear"]
        # what never clears is inside no window, not even one without an end
        is_inside = np.isfinite(times.values) & (times.values <= self.longest)
        is_inside &= times.values >= self.shortest
        for name in PEAKS:
            is_inside &= bands[name].values <= self.hottest
        return np.asarray(np.average(is_inside, axis=-1, weights=times.weights))

    def is_kept(self, bands: Mapping[str, Band]) -> NDArray[np.bool_]:
        """Return whether both ends of the bands [s, K] keep the limits, of each bath of them.

        So 8 of 10 plausible baths lie in the window, and 9 of 10 stay cool: what a search asks.
        """
        times = bands["time_to_clear"]
        is_kept = np.isfinite(times.high) & (times.high <= self.longest)
        is_kept &= times.low >= self.shortest
        for name in PEAKS:
            is_kept &= bands[name].high <= self.hottest
        return np.asarray(is_kept)
