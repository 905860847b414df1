"""What planning found, without words: numbers, reasons and verdict.

The words, the steps and the budget of a plan read this; `planning.Plan` adds how it says itself.
"""

from __future__ import annotations

import dataclasses

from ...common.band import Band
from ...common.limits import RangeWarning
from ...matter.solution import Solution
from ...reaction.bath.run import EtchRun, Standing
from ..hazards.caution import Caution
from ..hazards.verdicts import Reason
from .changes import Change, Doubt
from .inputs import Inputs


@dataclasses.dataclass(frozen=True)
class Stage:
    """One pour: what, how much of it, how warm it all is afterwards, and when.

    Parameters
    ----------
    what : str
        One of `pours.POURS`.
    volume : float
        At the bottles' temperature [m³]; NaN in a plan for a class.
    temperature : Band or None
        Of all that is poured by then [K]; of a second portion that of the draws that need it, None
        where none does.
    when : float
        From the board going in [s]: 0 before that.
    needed : float
        Share of the draws that need it [-].
    """

    what: str
    volume: float
    temperature: Band | None
    when: float = 0.0
    needed: float = 1.0


@dataclasses.dataclass(frozen=True, eq=False)
class Outcome:
    """What planning found of a mixture and a board, and the verdict on it: a `Plan` without words.

    Parameters
    ----------
    inputs : Inputs
        What it was computed from: no volume stands in it, though one could be worked out.
    reasons : tuple of Reason
        Why it is refused (*harm*, *will not finish*), or else what to take care of (*care*).
    cautions : tuple of Caution
        What goes for these bottles in this place whatever the verdict.
    law : tuple of Caution
        A line for each bottle above what the public may hold there; no part of the verdict.
    mixture : Solution
        As mixed [kg]; refused: one kilogram of it, to read its strengths and its temperature.
    stages : tuple of Stage
        What is poured, in order [m³, K]; refused: nothing.
    run : EtchRun
        The etch over the draws, with its history [s, K]; refused: without its amounts, so without
        `bath_after`; with the peroxide in two portions without both.
    after, day : Standing
        The bath standing for an hour and for a day, with a decay quick enough to be read for heat
        [K, m³, mol/m³]; refused: without its oxygen.
    later : Standing or None
        That day by the draws as they are, for what may be left [mol/m³]; refused: None.
    bands : dict of Band
        Times [s], peaks and temperature of mixing [K], acid [mol/m³], peroxide [kg/kg], reserve
        [-], oxygen in the hour after, in volumes of the bath [-], and what else the rules read; not
        refused: volume [m³], copper and acid in the bath afterwards [mol/m³], and the share of the
        peroxide that may be left after a day [-].
    first_look : float or None
        When to look first [s], before even 1 in 10 plausible baths is clear; None if refused or
        most never clear.
    look_every : float or None
        How soon to look again from then on [s], by the middle time; None where `first_look` is.
    over_etch : tuple of float, or None
        How long to etch on past the first full clearing [s], by the middle time.
    resist_life : tuple of float, or None
        How long resist stands this bath [s]; None where the bath is stronger or warmer than that
        figure is for.
    changes : tuple of Change
        Each single change that was tried and lifts the verdict, the smallest step first.
    doubts : tuple of Doubt
        What widens the band of times, most first.
    outside : tuple of RangeWarning
        Where the package warned that it was not checked so far.
    school : bool
        Made for a class: what is poured and in which order, but no volume and no mass.

    Raises
    ------
    ValueError
        Refusing reasons beside something to pour, or neither.
    """

    inputs: Inputs
    reasons: tuple[Reason, ...]
    cautions: tuple[Caution, ...]
    law: tuple[Caution, ...]
    mixture: Solution
    stages: tuple[Stage, ...]
    run: EtchRun
    after: Standing
    day: Standing
    later: Standing | None
    bands: dict[str, Band]
    first_look: float | None
    look_every: float | None
    over_etch: tuple[float, float] | None
    resist_life: tuple[float, float] | None
    changes: tuple[Change, ...]
    doubts: tuple[Doubt, ...]
    outside: tuple[RangeWarning, ...]
    school: bool = False

    def __post_init__(self) -> None:
        # the last gate, whatever made it: a refused plan has nothing to pour
        if self.refused == bool(self.stages):
            raise ValueError(
                f"stages = {len(self.stages)} is impossible: "
                "a refused plan has 0, any other at least 1"
            )

    @property
    def verdict(self) -> str:
        """What the reasons come to: "mix it", "with care" or "do not mix"."""
        # worked out and never stored: so it cannot say anything but its reasons
        if self.refused:
            return "do not mix"
        if self.reasons:
            return "with care"
        return "mix it"

    @property
    def refused(self) -> bool:
        """Whether the verdict is "do not mix"."""
        return any(reason.kind != "care" for reason in self.reasons)

    @property
    def harmful(self) -> bool:
        """Whether it is refused for harm, and not only because it will not finish."""
        return any(reason.kind == "harm" for reason in self.reasons)

    @property
    def change(self) -> Change | None:
        """The smallest single change that lifts the verdict; None if there is none, or no need."""
        if not self.changes:
            return None
        return self.changes[0]  # they stand with the smallest step first
