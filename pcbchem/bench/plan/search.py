"""The other way round: the leanest mixture that clears a board in time and stays cool enough.

Leanest is least acid and peroxide: such a bath may get hotter than one with more of both. Mixtures
of `SHARES` × `WATERS` × `BATHS` are run with few draws, the leanest of those that come near with
all, and then ever smaller steps around the best.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from itertools import product
from typing import Any, NamedTuple

import numpy as np

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import InputError, check_number, collecting_warnings
from ...common.units import mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Tray
from ..bottle.bottle import Bottle
from ..hazards.verdicts import REFUSED, VERDICTS
from .changes import MOST_BATH, MOST_WATER, ROUNDING, TENTH_PER_CM2
from .inputs import BATH_PER_AREA, WAIT, Inputs
from .outlook import Etched, judged
from .planning import planned
from .pours import ACID, PEROXIDE, SECOND_PORTION
from .search_result import Aim, Ends, NearMiss, SearchResult, miss_words

SHARES = ((1, 1), (1, 2), (1, 3), (1, 4), (1, 6), (2, 1), (3, 1), (4, 1))
"""Parts of acid and of peroxide tried."""
WATERS = (0.0, 0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)
"""Parts of water tried to one of the larger of acid and peroxide."""
BATHS = tuple(depth * mL_per_cm2 for depth in (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0))
"""Bath over bare copper tried [m³/m²]."""
FEW = 40
"""Draws for a first look at every mixture; those that come near are run with all [-]."""
CLOSEST = 40
"""Mixtures run with all draws in a round [-]."""
ROUNDS = 3
"""Rounds of ever smaller steps around the best [-]."""
SMALLER = 0.4
"""Each round's step as a share of the one before [-]."""
HELD_BACK = 0.5
"""Share of the peroxide in the second portion [-]."""
WHEN = (0.5, 1.0)
"""When it is poured, as shares of the shortest time wanted [-], within `WAIT`."""
ROUNDER = 1.1
"""So many times more acid and peroxide is a mixture worth that is easier to say and to measure."""
ROUND_PARTS = (1.0, 0.5)
"""Rounder parts are whole, or else halves [parts]."""
ROUND_BATHS = 5
"""Tenths of a mL per cm² by which the bath may change to go with rounder parts [-]."""
LOWER = 0.5
"""Two portions count where they lower the peak by more than this [K]."""
MOST_TENTHS = round(MOST_BATH / TENTH_PER_CM2)
"""Most bath tried, in tenths of a mL per cm² [-]."""
TENS, NEVER, FORBIDDEN, IN_VAIN = 10.0, 2.0, 100.0, 1000.0
"""A miss is 1 where the peak is so much too warm [K], or a time e times wrong; it is so much more
[-] where the slow end never clears, a mixture is refused, or two portions are for nothing."""
LEAST_SHARE, MOST_SHARE = 0.5, 0.9
"""Least and most share of the plausible baths [-] that can be asked to keep each limit."""
NEAREST = 5
"""Most near misses that are offered [-]."""
REAGENTS = {ACID: "HCl", PEROXIDE: "H2O2", SECOND_PORTION: "H2O2"}
Progress = Callable[[int, int], Any]


class _Rank(NamedTuple):
    """How good a mixture is: the smaller the better, in the order of the fields."""

    miss: float  # how far it misses the aim [-], 0 where it does not
    severity: int  # of its verdict
    moles: float  # acid and peroxide in it [mol]

    @property
    def meets(self) -> bool:
        """Whether the mixture does all that was asked."""
        return self.miss == 0


class _Candidate(NamedTuple):
    """A mixture, its rank, the acid in it [mol] and its ends."""

    rank: _Rank
    mixture: Inputs
    acid: float
    ends: Ends


def leanest(
    acid: Bottle,
    peroxide: Bottle,
    board: Board,
    tray: Tray | None = None,
    *,
    place: str,
    window: tuple[float, float] = (180.0, 480.0),
    hottest: float = 313.15,
    share: float = MOST_SHARE,
    volume: float | None = None,
    T_bottles: float = 293.15,
    portions: int = 1,
    draws: int = 200,
    seed: int = 0,
    progress: Progress | None = None,
) -> SearchResult:
    """Find the leanest mixture whose times lie in a window and whose peak stays under a limit.

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
    window : tuple of float
        Shortest and longest time [s].
    hottest : float
        Warmest that a bath may get, while etching and in the hour after [K].
    share : float
        Share of the plausible baths that has to keep each of these three limits, 0.5 to 0.9 [-].
        With 0.9 at most 1 bath in 10 is sooner, 1 in 10 later and 1 in 10 warmer: 8 of 10 lie in
        the window. With 0.5 it is the middle bath that has to, and nearly half of them may not.
    volume : float, optional
        Most bath in the tray [m³]; there may be less.
    T_bottles : float
        Temperature of bottles and water [K].
    portions : int
        2: also try to hold half of the peroxide back for half of the shortest time, or all of it;
        taken where that lowers the peak of the same mixture.
    draws, seed : int
        As for `plan` [-].
    progress : callable, optional
        Called as progress(done, total) with the number of mixtures.

    Returns
    -------
    SearchResult
        The plan with the least severe verdict, and of those with the least acid and peroxide, in
        moles; rounder parts may cost a tenth more. Or the nearest that is not refused, and others
        as near.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        A board that does not fit its tray.
    """
    shortest, longest = checked_window(window)
    _check_portions(portions)
    inputs = Inputs(
        acid=acid,
        peroxide=peroxide,
        parts=(1, 1, 1),
        board=board,
        tray=Tray() if tray is None else tray,
        bath_per_area=BATHS[0],
        place=place,
        T_bottles=T_bottles,
        draws=draws,
        seed=seed,
    )
    hottest = checked_hottest(hottest)
    share = check_number("share", share, LEAST_SHARE, MOST_SHARE, "")
    most_tenths = _most_tenths(inputs, volume)
    baths = [bath for bath in _baths(most_tenths) if _deep_enough(inputs, bath)]
    if not baths:
        raise _too_shallow(inputs, volume, most_tenths)
    aim = Aim(shortest, longest, hottest, share, most_tenths, inputs)
    best, near, tried = _search(aim, baths, _due(shortest, portions), progress)
    nearest = planned(best.mixture)
    if best.rank.meets:
        return SearchResult(nearest, True, (), tried)
    misses = miss_words(_ends(nearest.bands, share), aim, nearest.refused)
    return SearchResult(nearest, False, misses, tried, _near_misses(aim, [best, *near]))


def _most_tenths(inputs: Inputs, volume: Any) -> int:
    """Return the most bath to try, in tenths of a mL per cm² [-], by the most there may be [m³]."""
    if volume is None:
        return MOST_TENTHS
    area = float(inputs.board.copper_area)
    least, most = (end * area for end in BATH_PER_AREA)
    per_area = check_number("volume", volume, least, most, "m³") / area
    return min(MOST_TENTHS, int(per_area / TENTH_PER_CM2 + ROUNDING))


def _baths(most_tenths: int) -> list[float]:
    """List the baths over bare copper to try [m³/m²], with the most there may be."""
    most = most_tenths * TENTH_PER_CM2
    baths = [bath for bath in BATHS if bath < most * (1 - ROUNDING)]
    if most_tenths < 1:
        return baths
    if most_tenths == MOST_TENTHS:
        most = BATHS[-1]
    return [*baths, most]


def _search(
    aim: Aim, baths: list[float], due: list[float], progress: Progress | None
) -> tuple[_Candidate, list[_Candidate], int]:
    """Find the mixture of the smallest rank in baths [m³/m²].

    Also return those of the first look that were run closely, and how many were tried [-].
    """
    # the total that progress counts to: the last rounds may be shorter, then it ends at once
    grid, close = len(SHARES) * len(WATERS) * len(baths), (ROUNDS + 1) * CLOSEST
    count = _Count(progress, grid + close * (1 + len(due)))
    near = _roughly(aim, baths, count)
    best, others = _closely(aim, near, count)
    # the leanest with one portion, held against those with two: the first of equals stays
    for time in due:
        late_aim = dataclasses.replace(aim, inputs=aim.inputs.replace(second=(HELD_BACK, time)))
        late, late_others = _closely(late_aim, near, count)
        best, others = _best([best, late]), others + late_others
    aim_of_best = dataclasses.replace(aim, inputs=aim.inputs.replace(second=best.mixture.second))
    best = _rounder(aim_of_best, best)
    tried = count.done
    count.add(count.total)
    return best, others, tried


def checked_window(window: Any) -> tuple[float, float]:
    """Return the shortest and the longest time [s], or say what is impossible."""
    about = f" = {window!r}"
    if not isinstance(window, tuple | list) or len(window) != 2:
        rule = f"it must be (shortest, longest) in s, 1 to {LONGEST:g}"
        raise InputError("window", rule, value=window, about=about)
    shortest = check_number("window: shortest", window[0], 1.0, LONGEST, "s")
    longest = check_number("window: longest", window[1], 1.0, LONGEST, "s")
    if shortest >= longest:
        rule = "its shortest must be below its longest, in s"
        raise InputError("window", rule, value=window, about=about)
    return shortest, longest


def checked_hottest(hottest: Any) -> float:
    """Return the warmest that a bath may get [K], or say what is impossible."""
    return check_number("hottest", hottest, 273.15, 373.15, "K")  # 0 to 100 °C


def _check_portions(portions: Any) -> None:
    """Refuse another number of portions than one or two [-]."""
    is_whole = isinstance(portions, int | np.integer) and not isinstance(portions, bool)
    if not is_whole or portions not in (1, 2):
        raise InputError("portions", "it must be 1 or 2", value=portions, about=f" = {portions!r}")


def _due(shortest: float, portions: int) -> list[float]:
    """Return when a second portion may be due [s], by the shortest time wanted [s]."""
    if portions == 1:
        return []
    times = [share * shortest for share in WHEN]
    # no plan takes a second portion at another time: the search then goes without it
    return [time for time in times if WAIT[0] <= time <= WAIT[1]]


def _deep_enough(inputs: Inputs, bath_per_area: float) -> bool:
    """Return whether even a third of so much bath over the copper [m³/m²] is one in this tray."""
    # with half of the peroxide held back a first portion is still more than half of the bath
    area = float(inputs.board.copper_area)
    volume = bath_per_area * area
    third = volume / 3
    # in the tray of the whole bath: it has to take the second portion too
    depth = third / float(inputs.tray.surface(volume, area))
    return third > LEAST_VOLUME and depth > LEAST_DEPTH


def _too_shallow(inputs: Inputs, volume: Any, most_tenths: int) -> InputError:
    """Say that no bath tried is one in this tray with this little copper, or this volume [m³]."""
    area, open_area = float(inputs.board.copper_area), inputs.tray.open_area
    rule = (
        f"with {most_tenths / 10:g} mL per cm² a third of the bath must be deeper than "
        f"{LEAST_DEPTH * 1e3:g} mm and more than {LEAST_VOLUME * 1e6:g} mL"
    )
    wrong = f"is impossible with open_area = {open_area}"
    if volume is not None:
        about = f" = {volume!r} m³"
        return InputError("volume", rule, value=volume, about=about, wrong=wrong, unit="m³")
    about = f": area = {area:g} m²"
    return InputError("board", rule, value=area, about=about, wrong=wrong, unit="m²")


class _Count:
    """Counts mixtures [-] and tells whoever wants to know."""

    def __init__(self, progress: Progress | None, total: int) -> None:
        self.progress, self.total, self.done = progress, total, 0

    def add(self, more: int) -> None:
        """Count so many more [-]."""
        self.done = min(self.done + more, self.total)
        if self.progress is not None:
            self.progress(self.done, self.total)


def _best(candidates: Iterable[_Candidate]) -> _Candidate:
    """Return the candidate of the smallest rank; the first of those that are equal."""
    return min(candidates, key=lambda candidate: candidate.rank)


def _roughly(aim: Aim, baths: list[float], count: _Count) -> list[Inputs]:
    """Run all mixtures with few draws, and return those that come nearest to the aim."""
    # some 800 mixtures: with all draws that would take five times as long
    few = min(FEW, aim.inputs.draws)
    rough_aim = dataclasses.replace(aim, inputs=aim.inputs.replace(draws=few))
    candidates: list[_Candidate] = []
    for bath in baths:
        batch = [
            aim.inputs.replace(parts=(water * max(shares), *shares), bath_per_area=bath)
            for shares, water in product(SHARES, WATERS)
        ]
        candidates += _ranked(rough_aim, batch)
        count.add(len(batch))

    def roughly(candidate: _Candidate) -> _Rank:
        # with few draws the miss is known to a tenth: finer than that leaner mixtures go first
        return candidate.rank._replace(miss=round(candidate.rank.miss, 1))

    candidates.sort(key=roughly)
    return [candidate.mixture for candidate in candidates[:CLOSEST]]


def _closely(aim: Aim, near: list[Inputs], count: _Count) -> tuple[_Candidate, list[_Candidate]]:
    """Find the best of some mixtures and of what lies around it, run with all draws.

    Also return those mixtures, as they rank.
    """
    batch = [mixture.replace(second=aim.inputs.second) for mixture in near]
    candidates = _ranked(aim, batch)
    best = _best(candidates)
    count.add(len(batch))
    # steps of 40, 16 and 6 %; the best stays a candidate, so a round never makes it worse
    for turn in range(ROUNDS):
        batch = _around(best.mixture, SMALLER ** (turn + 1), aim.most_tenths)
        best = _best([best, *_ranked(aim, batch)])
        count.add(len(batch))
    return best, candidates


def _around(mixture: Inputs, step: float, most_tenths: int) -> list[Inputs]:
    """List mixtures near one, a step [-] away, in figures that can be said.

    Parts go by tenths, and the bath by tenths of a mL per cm², to the most there may be [-].
    """
    water, acid, peroxide = mixture.parts
    # by its figures: small steps may round to the same mixture, and that is run once
    near: dict[tuple[float, ...], Inputs] = {}
    for water_step, tilt_step, bath_step in product((-1, 0, 1), repeat=3):
        tilt = acid / peroxide * (1 + step) ** tilt_step
        # the smaller of acid and peroxide counts 1
        if tilt >= 1:
            shares = (round(tilt, 1), 1.0)
        else:
            shares = (1.0, round(1 / tilt, 1))
        # a tenth of a part is added first, so that a mixture without water can get some
        wetter = (water + 0.1 * water_step) * (1 + step) ** water_step
        parts_water = round(min(max(wetter, 0.0), MOST_WATER * max(shares)), 1)
        tenths = round(mixture.bath_per_area / TENTH_PER_CM2 * (1 + step / 2) ** bath_step)
        bath = tenths * TENTH_PER_CM2
        if 1 <= tenths <= most_tenths and _deep_enough(mixture, bath):
            parts = (parts_water, *shares)
            near[(*parts, tenths)] = mixture.replace(parts=parts, bath_per_area=bath)
    return list(near.values())


def _rounder(aim: Aim, best: _Candidate) -> _Candidate:
    """Return the same in whole or half parts, where that does it too and costs hardly more."""
    if not best.rank.meets:
        return best
    # rounder parts are weaker or stronger: the bath over the copper may have to make up for it
    tenths = round(best.mixture.bath_per_area / TENTH_PER_CM2)
    fewest = max(tenths - ROUND_BATHS, 1)
    most = min(tenths + ROUND_BATHS, aim.most_tenths)
    baths = [number * TENTH_PER_CM2 for number in range(fewest, most + 1)]
    # whole parts first: halves are the second best
    for unit in ROUND_PARTS:
        # the smaller of acid and peroxide is 1, so neither is rounded away
        parts = tuple(round(part / unit) * unit for part in best.mixture.parts)
        batch = [
            best.mixture.replace(parts=parts, bath_per_area=bath)
            for bath in baths
            if _deep_enough(best.mixture, bath)
        ]
        rounder = _best(_ranked(aim, batch))
        is_no_worse = rounder.rank.meets and rounder.rank.severity <= best.rank.severity
        if is_no_worse and rounder.rank.moles <= ROUNDER * best.rank.moles:
            return rounder
    return best


def _ends(bands: Mapping[str, Band], share: float) -> Ends:
    """Read the ends of bands [s, K] beyond which no more than the rest of a share [-] lies."""
    times, etching = bands["time_to_clear"], bands["etching_peak"]
    return Ends(
        low=_cut(times, round(1 - share, 9)),  # so that 1 - 0.9 is 0.1, to the last bit
        high=_cut(times, share),
        etching=_cut(etching, share),
        after=_cut(bands["hour_peak"], share),
    )


def _cut(band: Band, share: float) -> FloatArray:
    """Return the smallest draw that a share [-] of the draws does not exceed [unit of the band]."""
    return np.asarray(np.quantile(band.values, share, axis=-1, method="inverted_cdf"))


def _ranked(aim: Aim, batch: list[Inputs]) -> list[_Candidate]:
    """Rank mixtures, all side by side."""
    with collecting_warnings():
        verdicts = judged(aim.inputs, batch, REFUSED)
        ends = _ends(verdicts.bands, aim.share)
        lowering = _lowering(aim, batch, verdicts.bands["etching_peak"].high)
    # times by the logarithm of their ratio, with four hours for never: a miss is a finite number
    misses = (
        np.maximum(np.log(aim.shortest / np.minimum(ends.low, LONGEST)), 0)
        + np.maximum(np.log(np.minimum(ends.high, LONGEST) / aim.longest), 0)
        + NEVER * np.isinf(ends.high)
        + np.maximum(np.maximum(ends.etching, ends.after) - aim.hottest, 0) / TENS
        + FORBIDDEN * (verdicts.severity == REFUSED)
        + IN_VAIN * (lowering < LOWER)
    )
    moles = moles_of(verdicts.etching)
    acid, every = moles[ACID], np.sum(list(moles.values()), axis=0)
    return [
        _Candidate(
            rank=_Rank(float(misses[k]), int(verdicts.severity[k]), float(every[k])),
            mixture=mixture,
            acid=float(acid[k]),
            ends=Ends(*(float(end[k]) for end in ends)),
        )
        for k, mixture in enumerate(batch)
    ]


def moles_of(etching: Etched) -> dict[str, FloatArray]:
    """Return each of `REAGENTS` in each mixture [mol], the mean of its draws: 0 without it."""
    shape = np.shape(etching.run.time_to_clear)
    moles = {}
    for name, substance in REAGENTS.items():
        moles[name] = np.zeros(shape[0])
        # where no mixture has any of it, it is not among the pours
        if name in etching.pours:
            amount = etching.pours[name].amount(substance)
            moles[name] = np.mean(np.broadcast_to(amount, shape), axis=-1)
    return moles


def _near_misses(aim: Aim, candidates: list[_Candidate]) -> tuple[NearMiss, ...]:
    """Choose the nearest that may be mixed, the best first in the list and always among them."""
    near: dict[tuple[Any, ...], _Candidate] = {}
    best, *others = candidates
    for candidate in (best, *sorted(others, key=lambda candidate: candidate.rank)):
        mixture, rank = candidate.mixture, candidate.rank
        # neither what is refused nor two portions in vain
        if len(near) < NEAREST and rank.miss < FORBIDDEN:
            # those with one portion stand for those with two
            near.setdefault((*mixture.parts, mixture.bath_per_area), candidate)
    return tuple(
        NearMiss(
            inputs=candidate.mixture,
            verdict=VERDICTS[candidate.rank.severity],
            misses=miss_words(candidate.ends, aim, is_refused=False),
            acid=candidate.acid,
        )
        for candidate in sorted(near.values(), key=lambda candidate: candidate.acid)
    )


def _lowering(aim: Aim, batch: list[Inputs], peak: Any) -> Any:
    """Return by how much two portions lower the 90 % peak [K]; enough if there is one."""
    if aim.inputs.second is None:
        return LOWER
    at_once = [mixture.replace(second=None) for mixture in batch]
    # nothing has to be judged here: at the severity 0 no bath is left standing
    verdicts = judged(aim.inputs.replace(second=None), at_once, 0)
    return verdicts.bands["etching_peak"].high - peak
