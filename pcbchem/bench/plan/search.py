"""The other way round: the mildest mixture of these bottles that clears this board in time and stays cool enough."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from itertools import product
from typing import Any

import numpy as np

from ...common.limits import check_number, collecting_warnings
from ...common.number_words import apart, clock, figures, per_cm2, ratio_of, watch
from ...common.units import ZERO_C, mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Tray
from ..bottle.bottle import Bottle
from .changes import MOST_BATH, MOST_WATER, TENTH_PER_CM2
from .inputs import WAIT, Inputs
from .outlook import ACID, PEROXIDE, SECOND_PORTION, judged
from .planning import Plan, planned
from .words import text

SHARES = ((1, 1), (1, 2), (1, 3), (1, 4), (1, 6), (2, 1), (3, 1), (4, 1))
"""Parts of acid and of peroxide tried."""
WATERS = (0.0, 0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)
"""Parts of water tried to one of the larger of acid and peroxide."""
BATHS = tuple(d * mL_per_cm2 for d in (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0))
"""Bath over bare copper tried [m³/m²]."""
FEW = 40  # draws for a first look at every mixture; those that come near are run with all
CLOSEST = 40  # mixtures run with all draws in a round
ROUNDS = 3  # of ever smaller steps around the best
HELD_BACK = 0.5  # share of the peroxide in the second portion
WHEN = (0.5, 1.0)  # when it is poured, as shares of the shortest time wanted, within `WAIT`
ROUNDER = (
    1.1  # so much more acid and peroxide is a mixture worth that is easier to say and to measure
)
LOWER = 0.5  # K: two portions count where they lower the peak by more
Progress = Callable[[int, int], Any]
_Rank = tuple[float, int, float]


@dataclasses.dataclass(frozen=True, eq=False)
class SearchResult:
    """What a search found: the plan, whether it does all that was asked, and how many mixtures were tried.

    `misses`: in words, what the nearest one misses [min, °C]; empty where `meets`.
    """

    plan: Plan
    meets: bool
    misses: tuple[str, ...]
    tried: int

    def __str__(self) -> str:
        return search_words(self)

    def _repr_markdown_(self) -> str:
        return search_words(self, markdown=True)


@dataclasses.dataclass(frozen=True)
class _Aim:
    """The window [s], the hottest peak [K] and the inputs that all candidates share."""

    shortest: float
    longest: float
    hottest: float
    given: Inputs


def mildest(
    acid: Bottle,
    peroxide: Bottle,
    board: Board,
    tray: Tray | None = None,
    *,
    place: str,
    window: tuple[float, float] = (180.0, 480.0),
    hottest: float = 313.15,
    T_bottles: float = 293.15,
    portions: int = 1,
    draws: int = 200,
    seed: int = 0,
    progress: Progress | None = None,
) -> SearchResult:
    """Find the mildest mixture whose band of times lies in a window and whose 90 % peak stays under a limit.

    Parameters
    ----------
    acid, peroxide : Bottle
        What there is to mix with water.
    board : Board
        One board.
    tray : Tray
        By default rocked, facing up.
    place : str
        "EU", "GB" or "elsewhere".
    window : tuple of float
        Shortest and longest time [s]: 8 of 10 plausible baths have to lie between.
    hottest : float
        Warmest that 9 of 10 plausible baths may get while etching [K].
    T_bottles : float
        Temperature of bottles and water [K].
    portions : int
        2: also try to hold half of the peroxide back until half of the shortest time, or all of it; taken where that
        lowers the peak of the same mixture.
    draws, seed : int
        As for `plan` [-].
    progress : callable, optional
        Called as progress(done, total) with the number of mixtures.

    Returns
    -------
    Found
        The plan with the least severe verdict, and of those with the least acid and peroxide poured, counted in moles,
        in rounder parts where that costs at most a tenth more; or the nearest that is not refused, and what it misses.

    Raises
    ------
    ValueError
        A value that cannot be: names it and its limits.

    Notes
    -----
    Mixtures of `SHARES` × `WATERS` × `BATHS` are run with few draws, the mildest of those that come near with all, and
    then ever smaller steps around the best.
    """
    if not isinstance(window, tuple | list) or len(window) != 2:
        raise ValueError(
            f"window = {window!r} is impossible: it must be (shortest, longest) in s, 1 to {LONGEST:g}"
        )
    shortest, longest = (
        check_number(f"window: {end}", t, 1.0, LONGEST, "s")
        for end, t in zip(("shortest", "longest"), window, strict=True)
    )
    if shortest >= longest:
        raise ValueError(
            f"window = {window!r} is impossible: its shortest must be below its longest, in s"
        )
    if (
        not isinstance(portions, int | np.integer)
        or isinstance(portions, bool)
        or portions not in (1, 2)
    ):
        raise ValueError(f"portions = {portions!r} is impossible: it must be 1 or 2")
    given = Inputs(
        acid,
        peroxide,
        (1, 1, 1),
        board,
        Tray() if tray is None else tray,
        BATHS[0],
        place,
        T_bottles,
        draws=draws,
        seed=seed,
    )
    baths = [bath for bath in BATHS if _deep_enough(given, bath)]
    if not baths:
        area, open_area = float(board.copper_area), given.tray.open_area
        raise ValueError(
            f"board: area = {area:g} m² is impossible with open_area = {open_area}: "
            f"with {BATHS[-1] * 100:g} mL per cm² a third of the bath must be deeper than "
            f"{LEAST_DEPTH * 1e3:g} mm and more than {LEAST_VOLUME * 1e6:g} mL"
        )
    due = [
        share * shortest
        for share in WHEN
        if portions == 2 and WAIT[0] <= share * shortest <= WAIT[1]
    ]
    aim = _Aim(shortest, longest, check_number("hottest", hottest, 273.15, 373.15, "K"), given)
    count = _Count(
        progress, len(SHARES) * len(WATERS) * len(baths) + (ROUNDS + 1) * CLOSEST * (1 + len(due))
    )
    near = _roughly(aim, baths, count)
    rank, best = _closely(aim, near, count)
    for when in due:
        late = dataclasses.replace(aim, given=given.replace(second=(HELD_BACK, when)))
        rank, best = min((rank, best), _closely(late, near, count), key=lambda pair: pair[0])
    rank, best = _rounder(
        dataclasses.replace(aim, given=given.replace(second=best.second)), rank, best
    )
    tried = count.done
    count.add(count.total)
    nearest = planned(best)
    return SearchResult(nearest, rank[0] == 0, _missed(nearest, aim) if rank[0] else (), tried)


class _Count:
    """Counts mixtures [-] and tells whoever asked."""

    def __init__(self, progress: Progress | None, total: int) -> None:
        self.progress, self.total, self.done = progress, total, 0

    def add(self, more: int) -> None:
        """So many more have been tried [-]."""
        self.done = min(self.done + more, self.total)
        if self.progress is not None:
            self.progress(self.done, self.total)


def _deep_enough(given: Inputs, bath: float) -> bool:
    """Whether even a third of so much bath over the copper [m³/m²] is one in this tray: a first portion may be that."""
    area = float(given.board.copper_area)
    third = bath * area / 3
    return (
        third > LEAST_VOLUME and third / float(given.tray.surface(bath * area, area)) > LEAST_DEPTH
    )


def _roughly(aim: _Aim, baths: list[float], count: _Count) -> list[Inputs]:
    """Of all mixtures, run with few draws, those that come nearest to the aim."""
    rough = dataclasses.replace(aim, given=aim.given.replace(draws=min(FEW, aim.given.draws)))
    ranked: list[tuple[_Rank, Inputs]] = []
    for bath in baths:
        batch = [
            aim.given.replace(parts=(water * max(shares), *shares), bath_per_area=bath)
            for shares, water in product(SHARES, WATERS)
        ]
        ranked += zip(_ranks(rough, batch), batch, strict=True)
        count.add(len(batch))
    ranked.sort(key=lambda pair: (round(pair[0][0], 1), *pair[0][1:]))
    return [mixture for _, mixture in ranked[:CLOSEST]]


def _closely(aim: _Aim, near: list[Inputs], count: _Count) -> tuple[_Rank, Inputs]:
    """The best of some mixtures and of what lies around it, run with all draws."""
    batch = [mixture.replace(second=aim.given.second) for mixture in near]
    best = min(zip(_ranks(aim, batch), batch, strict=True), key=lambda pair: pair[0])
    count.add(len(batch))
    for step in range(ROUNDS):
        batch = _around(best[1], 0.4 ** (step + 1))
        best = min([best, *zip(_ranks(aim, batch), batch, strict=True)], key=lambda pair: pair[0])
        count.add(len(batch))
    return best


def _around(best: Inputs, step: float) -> list[Inputs]:
    """Mixtures near one, in figures that can be said: parts by tenths, bath by tenths of a mL per cm²."""
    water, acid, peroxide = best.parts
    near: dict[tuple[float, ...], Inputs] = {}
    for dw, ds, db in product((-1, 0, 1), repeat=3):
        tilt = acid / peroxide * (1 + step) ** ds
        pair = (round(tilt, 1), 1.0) if tilt >= 1 else (1.0, round(1 / tilt, 1))
        wet = round(min(max((water + 0.1 * dw) * (1 + step) ** dw, 0.0), MOST_WATER * max(pair)), 1)
        tenths = round(best.bath_per_area / TENTH_PER_CM2 * (1 + step / 2) ** db)
        if 1 <= tenths <= round(MOST_BATH / TENTH_PER_CM2) and _deep_enough(
            best, tenths * TENTH_PER_CM2
        ):
            near[(wet, *pair, tenths)] = best.replace(
                parts=(wet, *pair), bath_per_area=tenths * TENTH_PER_CM2
            )
    return list(near.values())


def _rounder(aim: _Aim, rank: _Rank, best: Inputs) -> tuple[_Rank, Inputs]:
    """The same in whole or half parts, where that does it too and costs hardly more."""
    tenths = round(best.bath_per_area / TENTH_PER_CM2)
    for whole in (1.0, 0.5) if rank[0] == 0 else ():
        parts = tuple(round(part / whole) * whole for part in best.parts)
        batch = [
            best.replace(parts=parts, bath_per_area=bath * TENTH_PER_CM2)
            for bath in range(
                max(tenths - 5, 1), min(tenths + 5, round(MOST_BATH / TENTH_PER_CM2)) + 1
            )
            if _deep_enough(best, bath * TENTH_PER_CM2)
        ]
        search_words = min(zip(_ranks(aim, batch), batch, strict=True), key=lambda pair: pair[0])
        if (
            search_words[0][0] == 0
            and search_words[0][1] <= rank[1]
            and search_words[0][2] <= ROUNDER * rank[2]
        ):
            return search_words
    return rank, best


def _ranks(aim: _Aim, batch: list[Inputs]) -> list[_Rank]:
    """How far each mixture misses the aim [-], how severe its verdict is, and moles of acid and peroxide [mol]."""
    with collecting_warnings():
        severity, seen = judged(aim.given, batch, 0.0, 2)
        made, bands = seen.poured, seen.bands
        lower: Any = LOWER
        if aim.given.second is not None:
            once = judged(
                aim.given.replace(second=None), [v.replace(second=None) for v in batch], 0.0, 0
            )[1].run
            lower = once.band("peak_temperature").high - bands["etching_peak"].high
    times, peak = bands["time_to_clear"], bands["etching_peak"].high
    miss = (
        np.maximum(np.log(aim.shortest / np.minimum(times.low, LONGEST)), 0)
        + np.maximum(np.log(np.minimum(times.high, LONGEST) / aim.longest), 0)
        + 2.0 * np.isinf(times.high)
        + np.maximum(peak - aim.hottest, 0) / 10
        + 100.0 * (severity == 2)
        + 1000.0 * (lower < LOWER)
    )
    moles = np.zeros(len(batch))
    for name, substance in ((ACID, "HCl"), (PEROXIDE, "H2O2"), (SECOND_PORTION, "H2O2")):
        if name in made:
            moles += np.mean(
                np.broadcast_to(made[name].amount(substance), times.values.shape), axis=-1
            )
    return [(float(m), int(s), float(n)) for m, s, n in zip(miss, severity, moles, strict=True)]


def _missed(nearest: Plan, aim: _Aim) -> tuple[str, ...]:
    """What a plan misses, in words [min, °C], with the figures that tell it from what was asked."""

    def told(write: Callable[[float], str], unit: str, asked: float, is_: float) -> tuple[str, str]:
        both = write(asked), write(is_)
        if both[0] == both[1]:
            first, second = apart(asked, is_)
            return f"{first} {unit}", f"{second} {unit}"
        return both

    times, peak = nearest.bands["time_to_clear"], nearest.bands["etching_peak"]
    short, first = told(clock, "s", aim.shortest, float(times.low))
    long, last = told(clock, "s", aim.longest, float(times.high))
    limit, hot = told("{:.0f} °C".format, "°C", aim.hottest - ZERO_C, float(peak.high) - ZERO_C)
    return tuple(
        words
        for missed, words in (
            (nearest.refused, "every mixture of these bottles that was tried is refused"),
            (times.low < aim.shortest, f"1 bath in 10 is clear sooner than {short}, in {first}"),
            (times.high > aim.longest, f"1 bath in 10 takes longer than {long}: {last}"),
            (peak.high > aim.hottest, f"1 bath in 10 gets warmer than {limit}: {hot}"),
        )
        if missed
    )


def search_words(search: SearchResult, markdown: bool = False, cautions: bool = True) -> str:
    """What a search found, in words: what it is, or what the nearest misses, and then its plan [min, °C].

    Parameters
    ----------
    search : Found
        From `mildest`.
    markdown, cautions : bool
        As for `text`.

    Returns
    -------
    str
        On a refused plan no volume stands anywhere in it.
    """
    plan = search.plan
    bath = figures(per_cm2(plan.inputs.bath_per_area))
    held = f"{ratio_of(plan.inputs.parts)} (water : acid : peroxide), {bath} mL per cm²"
    if search.meets:
        first = (
            f"**The mildest that does it: {held}.** Of about {search.tried} mixtures tried, and of those with the "
            "best verdict, it takes the least acid and peroxide, to a tenth. More bath for the copper is cooler."
        )
    else:
        said = f"{'' if plan.refused else f'The nearest is {held}: '}{'; '.join(search.misses)}."
        first = (
            f"**None of about {search.tried} mixtures tried does it.** {said[0].upper()}{said[1:]}"
        )
    if plan.inputs.second is not None and not plan.refused:
        first += (
            f" Half of the peroxide is held back for {watch(plan.inputs.second[1])}: with all of it at once the "
            "same mixture gets warmer."
        )
    return f"{first if markdown else first.replace('**', '')}\n\n{text(plan, markdown, cautions)}"
