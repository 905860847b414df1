"""The map of all mixtures of two bottles: verdict, times and warmth of each, on a triangular grid.

All have as much bath over the copper. The shares of water, acid and peroxide by volume go in equal
steps, and every mixture is judged as `plan` judges it: by the same outlook, many side by side.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.extras import extra
from ...common.limits import InputError, check_whole, collecting_warnings
from ...common.number_words import ratio_of
from ...common.units import ZERO_C, L, minute
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import Board, Tray
from ..bottle.bottle import Bottle
from ..hazards.verdicts import KINDS, REFUSED, VERDICTS, exceeded, rules, severity
from ..plan.inputs import Inputs, ratio
from ..plan.outlook import outlook
from ..plan.planning import Plan, planned
from ..plan.pours import ACID, PEROXIDE, side_by_side
from ..plan.search import moles_of
from ..plan.words import strengths
from .wanted import Wanted

if TYPE_CHECKING:
    import pandas

FEWEST_STEPS, MOST_STEPS = 2, 50
"""Fewest and most steps from none of a liquid to nothing else [-]."""
TOGETHER = 120
"""Mixtures that are run side by side [-]: more are no quicker, and progress would be seen less."""
KEPT = (
    "time_to_clear",
    "etching_peak",
    "hour_peak",
    "standing_peak",
    "mixing_temperature",
    "acid",
    "peroxide",
    "reserve",
    "oxygen",
)
"""Bands that a map holds: none of them is a volume, or the depth of one."""
Progress = Callable[[int, int], Any]


class _Judged(NamedTuple):
    """Some mixtures, judged: shape (S,) each."""

    severity: NDArray[np.intp]  # place in `VERDICTS` [-]
    harmful: NDArray[np.bool_]
    reason: NDArray[np.str_]
    acid: FloatArray  # [mol]
    peroxide: FloatArray  # [mol]
    bands: dict[str, Band]  # [SI]


@dataclasses.dataclass(frozen=True, eq=False)
class Mixtures:
    """All mixtures of two bottles and water in equal steps, N of them, and what each would do.

    Made by `mixtures`. No volume stands in it; of a refused mixture no amount either.

    Parameters
    ----------
    inputs : Inputs
        What all mixtures share; its own parts are those of none.
    steps : int
        Steps from none of a liquid to nothing else [-].
    wanted : Wanted
        The window [s] and the warmest [K] by which `within` and `leanest` go.
    shares : array
        Water, acid and peroxide by volume, shape (N, 3) [-]; each row adds up to 1.
    severity : array
        Verdict of each mixture, a place in `VERDICTS`, shape (N,) [-].
    harmful : array
        Which are refused for harm, and not only because they will not finish, shape (N,) [true or
        false].
    reason : array
        Name of the first rule by which each is refused, or else wants care, harm first; "" where
        there is none, shape (N,) [a name in verdict_rules.csv].
    bands : dict of Band
        Times [s], peaks while etching, in the hour and in the day after, and after mixing [K], acid
        [mol/m³], peroxide [kg/kg], reserve and oxygen of the hour in volumes of the bath [-]: N
        baths each.
    acid_amount, peroxide_amount : array
        HCl and H2O2 in the bath for this board [mol], shape (N,); NaN where it is refused.
    within : array
        Share of the plausible baths inside the window and not above the warmest, shape (N,) [-].
    leanest : int or None
        Which of those that keep to window and warmest in 8 of 10 baths has the best verdict, and of
        these the least acid and peroxide in moles; None where none does.

    Raises
    ------
    ValueError
        A refused mixture with an amount.
    """

    inputs: Inputs
    steps: int
    wanted: Wanted
    shares: FloatArray
    severity: NDArray[np.intp]
    harmful: NDArray[np.bool_]
    reason: NDArray[np.str_]
    bands: dict[str, Band]
    acid_amount: FloatArray
    peroxide_amount: FloatArray
    within: FloatArray
    leanest: int | None

    def __post_init__(self) -> None:
        # the last gate, whatever made it: nobody is handed what to weigh out of a refused mixture
        for amount in (self.acid_amount, self.peroxide_amount):
            if np.isfinite(amount[self.severity == REFUSED]).any():
                raise ValueError("a refused mixture has an amount: it must be NaN")

    def __len__(self) -> int:
        return len(self.shares)

    @property
    def never(self) -> FloatArray:
        """Share of the plausible baths of each mixture that never clear the board [-]."""
        return self.bands["time_to_clear"].never

    def verdict(self, index: int) -> str:
        """Return the verdict on a mixture, one of `VERDICTS`."""
        return VERDICTS[self.severity[self._checked(index)]]

    def parts(self, index: int) -> tuple[int, int, int]:
        """Return water, acid and peroxide of a mixture in the smallest whole parts [-]."""
        counts = np.rint(self.shares[self._checked(index)] * self.steps).astype(int)
        water, acid, peroxide = (counts // np.gcd.reduce(counts)).tolist()
        return water, acid, peroxide

    def inputs_of(self, index: int) -> Inputs:
        """Return what a plan of a mixture starts from."""
        return self.inputs.replace(parts=self.parts(index))

    def wanting(self, window: tuple[float, float], hottest: float) -> Mixtures:
        """Return the same map with another window of times [s] and another warmest [K].

        Raises
        ------
        InputError
            A value that cannot be: names it and its limits.
        """
        wanted = Wanted.checked(window, hottest)
        if wanted == self.wanted:
            return self
        judged = _Judged(
            severity=self.severity,
            harmful=self.harmful,
            reason=self.reason,
            acid=self.acid_amount,
            peroxide=self.peroxide_amount,
            bands=self.bands,
        )
        leanest = _leanest(wanted, judged)
        within = wanted.share(self.bands)
        return dataclasses.replace(self, wanted=wanted, within=within, leanest=leanest)

    def plan(self, index: int) -> Plan:
        """Plan a mixture: with its steps, cautions, and what would help."""
        return planned(self.inputs_of(index))

    def nearest(self, water: float, acid: float, peroxide: float) -> int:
        """Find the mixture nearest to some parts by volume [-].

        Raises
        ------
        InputError
            Parts that cannot be.
        """
        parts = np.array(ratio((water, acid, peroxide)))
        distance = np.sum((self.shares - parts / parts.sum()) ** 2, axis=1)
        return int(np.argmin(distance))

    def rows(self) -> list[dict[str, Any]]:
        """List the numbers of each mixture [unit in the name], without pandas: no volume."""
        times, bands = self.bands["time_to_clear"], self.bands
        columns: dict[str, Any] = {
            "water (share of the volume)": self.shares[:, 0],
            "acid (share of the volume)": self.shares[:, 1],
            "peroxide (share of the volume)": self.shares[:, 2],
            "verdict": [VERDICTS[place] for place in self.severity],
            "first reason": self.reason,
            "clear, low end (min)": times.low / minute,
            "clear, middle (min)": times.middle / minute,
            "clear, high end (min)": times.high / minute,
            "never clear (of 100)": 100 * times.never,
            "while etching, middle (°C)": bands["etching_peak"].middle - ZERO_C,
            "while etching, 1 in 10 above (°C)": bands["etching_peak"].high - ZERO_C,
            "in the hour after, middle (°C)": bands["hour_peak"].middle - ZERO_C,
            "in the hour after, 1 in 10 above (°C)": bands["hour_peak"].high - ZERO_C,
            "in the day after, middle (°C)": bands["standing_peak"].middle - ZERO_C,
            "in the day after, 1 in 10 above (°C)": bands["standing_peak"].high - ZERO_C,
            "acid in the mixture, 1 in 10 above (mol/L)": bands["acid"].high * L,
            "peroxide in the mixture, 1 in 10 above (% by weight)": 100 * bands["peroxide"].high,
            "acid (mol)": self.acid_amount,
            "peroxide (mol)": self.peroxide_amount,
            "as wanted (of 100)": 100 * self.within,
        }
        plain = [np.asarray(column).tolist() for column in columns.values()]
        return [dict(zip(columns, cells, strict=True)) for cells in zip(*plain, strict=True)]

    def to_frame(self) -> pandas.DataFrame:
        """Return `rows` as a table, a mixture a row [unit in the column's name]."""
        with extra("lab"):
            import pandas  # here, since it takes longer to load than a map to make

        return pandas.DataFrame(self.rows())

    def __repr__(self) -> str:
        counts = np.bincount(self.severity, minlength=len(VERDICTS))
        verdicts = ", ".join(
            f"{count} {verdict}" for count, verdict in zip(counts, VERDICTS, strict=True)
        )
        found = "none"
        if self.leanest is not None:
            found = f"{ratio_of(self.parts(self.leanest))} (water : acid : peroxide)"
        return (
            f"Mixtures of {strengths(self.inputs.acid)} acid and "
            f"{strengths(self.inputs.peroxide)} peroxide: {len(self)}, {verdicts}; wanted: "
            f"{self.wanted.words}; leanest that does it: {found}"
        )

    def _checked(self, index: Any) -> int:
        """Return the place of a mixture [-], or say which there are."""
        return check_whole("index", index, 0, len(self) - 1)


def mixtures(
    acid: Bottle,
    peroxide: Bottle,
    board: Board,
    tray: Tray | None = None,
    *,
    place: str,
    bath_per_area: float,
    T_bottles: float = 293.15,
    window: tuple[float, float] = (180.0, 480.0),
    hottest: float = 313.15,
    steps: int = 20,
    draws: int = 200,
    seed: int = 0,
    progress: Progress | None = None,
) -> Mixtures:
    """Judge every mixture of two bottles and water whose shares go in equal steps.

    Parameters
    ----------
    acid, peroxide : Bottle
        What there is to mix with water.
    board : Board
        One board.
    tray : Tray
        By default rocked, facing up.
    place : str
        Where: whose rules on who may hold what, one of `PLACES`.
    bath_per_area : float
        Bath over the bare copper [m³/m²], the same for every mixture.
    T_bottles : float
        Temperature of bottles and water [K].
    window : tuple of float
        Shortest and longest time that are wanted [s].
    hottest : float
        Warmest that a bath is wanted to get, while etching and in the hour after [K].
    steps : int
        Steps from none of a liquid to nothing else [-], 2 to 50; 20 give 231 mixtures.
    draws, seed : int
        As for `plan` [-]; 40 draws are enough for a first picture.
    progress : callable, optional
        Called as progress(done, total) with the number of mixtures.

    Returns
    -------
    Mixtures
        Those without acid or without peroxide among them, which never clear.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        A board, tray or bath that cannot be.

    Examples
    --------
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> every = mixtures(
    ...     acid, peroxide, Board(area=27e-4), place="EU", bath_per_area=0.055, steps=4, draws=40
    ... )
    >>> print(len(every), every.verdict(every.nearest(0, 1, 1)))
    15 mix it
    """
    wanted = Wanted.checked(window, hottest)
    steps = check_whole("steps", steps, FEWEST_STEPS, MOST_STEPS)
    if progress is not None and not callable(progress):
        raise InputError("progress", "it must be a function of two numbers", value=progress)
    inputs = Inputs(
        acid=acid,
        peroxide=peroxide,
        parts=(1, 1, 1),
        board=board,
        tray=Tray() if tray is None else tray,
        bath_per_area=bath_per_area,
        place=place,
        T_bottles=T_bottles,
        draws=draws,
        seed=seed,
    )
    counts = grid(steps)
    judged = _joined(list(_in_turn(inputs, counts, progress)))
    is_refused = judged.severity == REFUSED
    return Mixtures(
        inputs=inputs,
        steps=steps,
        wanted=wanted,
        shares=counts / steps,
        severity=judged.severity,
        harmful=judged.harmful,
        reason=judged.reason,
        bands=judged.bands,
        acid_amount=np.where(is_refused, np.nan, judged.acid),
        peroxide_amount=np.where(is_refused, np.nan, judged.peroxide),
        within=wanted.share(judged.bands),
        leanest=_leanest(wanted, judged),
    )


def grid(steps: int) -> NDArray[np.int64]:
    """Return every mixture of the map, in its order.

    Parameters
    ----------
    steps : int
        Steps from none of a liquid to nothing else [-].

    Returns
    -------
    array
        Steps of water, acid and peroxide, shape (N, 3) [-]; each row adds up to `steps`.

    Examples
    --------
    >>> print(len(grid(20)))
    231
    """
    counts = [
        (water, acid, steps - water - acid)
        for water in range(steps + 1)
        for acid in range(steps + 1 - water)
    ]
    return np.array(counts, dtype=np.int64)


def _in_turn(inputs: Inputs, counts: Any, progress: Progress | None) -> Iterator[_Judged]:
    """Judge mixtures given in steps [-], some side by side, and tell how many are done [-]."""
    # drawn once: every mixture meets the same plausible baths
    parameters = RateParameters.plausible(inputs.draws)
    total = len(counts)
    for first in range(0, total, TOGETHER):
        some = counts[first : first + TOGETHER]
        variants = [inputs.replace(parts=ratio(parts)) for parts in some]
        # where the package was not checked so far, the plan of a mixture says
        with collecting_warnings():
            yield _judged(inputs, variants, parameters)
        if progress is not None:
            progress(first + len(some), total)


def _judged(inputs: Inputs, variants: Sequence[Inputs], parameters: RateParameters) -> _Judged:
    """Judge variants side by side."""
    prospect = outlook(inputs, parameters=parameters, **side_by_side(variants))
    bands = prospect.bands
    is_exceeded = exceeded(bands)
    levels = np.asarray(severity(is_exceeded))
    harm = [
        np.broadcast_to(is_exceeded[rule.name], levels.shape)
        for rule in rules()
        if rule.kind == "harm"
    ]
    # one portion of peroxide: it is all in one pour
    moles = moles_of(prospect)
    return _Judged(
        severity=levels,
        harmful=np.any(harm, axis=0),
        reason=_first_reasons(is_exceeded, levels),
        acid=moles[ACID],
        peroxide=moles[PEROXIDE],
        bands={name: bands[name] for name in KEPT},
    )


def _first_reasons(is_exceeded: dict[str, Any], levels: Any) -> NDArray[np.str_]:
    """Return the name of the first rule that brings each verdict [place in `VERDICTS`], "" if none.

    In the order in which a plan gives its reasons: harm first, and then as in the table.
    """
    ordered = sorted(rules(), key=lambda rule: KINDS.index(rule.kind))
    longest = max(len(rule.name) for rule in ordered)
    names = np.full(levels.shape, "", dtype=f"<U{longest}")
    for rule in ordered:
        brings_it = is_exceeded[rule.name] & (levels == VERDICTS.index(rule.verdict))
        names[brings_it & (names == "")] = rule.name
    return names


def _joined(chunks: Sequence[_Judged]) -> _Judged:
    """Join mixtures that were judged in turn."""

    def joined(name: str) -> Any:
        return np.concatenate([getattr(chunk, name) for chunk in chunks])

    bands = {}
    for name in KEPT:
        some = [chunk.bands[name] for chunk in chunks]
        bands[name] = Band(
            low=np.concatenate([band.low for band in some]),
            middle=np.concatenate([band.middle for band in some]),
            high=np.concatenate([band.high for band in some]),
            never=np.concatenate([band.never for band in some]),
            values=np.concatenate([band.values for band in some]),
        )
    columns = {name: joined(name) for name in _Judged._fields if name != "bands"}
    return _Judged(**columns, bands=bands)


def _leanest(wanted: Wanted, judged: _Judged) -> int | None:
    """Find the leanest mixture that is wanted, as a search ranks: by verdict, then by moles."""
    meets = wanted.is_kept(judged.bands) & (judged.severity < REFUSED)
    places = np.flatnonzero(meets)
    if not places.size:
        return None
    moles = judged.acid + judged.peroxide
    return int(min(places, key=lambda place: (judged.severity[place], moles[place])))
