"""The other way round: the mildest mixture that clears a board in time and stays cool enough.

Mixtures of `SHARES` × `WATERS` × `BATHS` are run with few draws, the mildest of those that come
near with all, and then ever smaller steps around the best.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable
from itertools import product
from typing import Any, NamedTuple

import numpy as np

from ...common.limits import InputError, check_number, collecting_warnings
from ...common.number_words import apart, clock, figures, per_cm2, ratio_of, watch
from ...common.units import ZERO_C, mL_per_cm2
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Tray
from ..bottle.bottle import Bottle
from ..hazards.verdicts import REFUSED
from .changes import MOST_BATH, MOST_WATER, TENTH_PER_CM2
from .inputs import WAIT, Inputs
from .outlook import Etched, judged
from .planning import Plan, planned
from .pours import ACID, PEROXIDE, SECOND_PORTION
from .words import capitalised, text

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
    """A mixture and its rank."""

    rank: _Rank
    mixture: Inputs


@dataclasses.dataclass(frozen=True)
class _Aim:
    """What is asked: a window of times [s], the hottest peak [K], and what all mixtures share."""

    shortest: float
    longest: float
    hottest: float
    inputs: Inputs


@dataclasses.dataclass(frozen=True, eq=False)
class SearchResult:
    """What a search found.

    Parameters
    ----------
    plan : Plan
        Of the mildest mixture that does all that was asked, or of the nearest.
    meets : bool
        Whether it does all that was asked.
    misses : tuple of str
        What the nearest one misses, in words [min, °C]; empty where `meets`.
    tried : int
        How many mixtures were tried [-].
    """

    plan: Plan
    meets: bool
    misses: tuple[str, ...]
    tried: int

    def __str__(self) -> str:
        return search_words(self)

    def _repr_markdown_(self) -> str:
        return search_words(self, markdown=True)


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
    """Find the mildest mixture whose times lie in a window and whose peak stays under a limit.

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
        moles; rounder parts may cost a tenth more. Or the nearest that is not refused.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    ValueError
        A board that does not fit its tray.
    """
    shortest, longest = _checked_window(window)
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
    baths = [bath for bath in BATHS if _deep_enough(inputs, bath)]
    if not baths:
        raise _too_shallow(inputs)
    hottest = check_number("hottest", hottest, 273.15, 373.15, "K")  # 0 to 100 °C
    aim = _Aim(shortest, longest, hottest, inputs)
    best, tried = _search(aim, baths, _due(shortest, portions), progress)
    nearest = planned(best.mixture)
    misses: tuple[str, ...] = ()
    if not best.rank.meets:
        misses = _misses(nearest, aim)
    return SearchResult(nearest, best.rank.meets, misses, tried)


def _search(
    aim: _Aim, baths: list[float], due: list[float], progress: Progress | None
) -> tuple[_Candidate, int]:
    """Find the mixture of the smallest rank in baths [m³/m²], and how many were tried [-]."""
    # the total that progress counts to: the last rounds may be shorter, then it ends at once
    grid, close = len(SHARES) * len(WATERS) * len(baths), (ROUNDS + 1) * CLOSEST
    count = _Count(progress, grid + close * (1 + len(due)))
    near = _roughly(aim, baths, count)
    best = _closely(aim, near, count)
    # the mildest with one portion, held against those with two: the first of equals stays
    for time in due:
        late_aim = dataclasses.replace(aim, inputs=aim.inputs.replace(second=(HELD_BACK, time)))
        best = _best([best, _closely(late_aim, near, count)])
    aim_of_best = dataclasses.replace(aim, inputs=aim.inputs.replace(second=best.mixture.second))
    best = _rounder(aim_of_best, best)
    tried = count.done
    count.add(count.total)
    return best, tried


def _checked_window(window: Any) -> tuple[float, float]:
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


def _too_shallow(inputs: Inputs) -> InputError:
    """Say that no bath tried is one in this tray with this little copper."""
    area, open_area = float(inputs.board.copper_area), inputs.tray.open_area
    rule = (
        f"with {BATHS[-1] * 100:g} mL per cm² a third of the bath must be deeper than "
        f"{LEAST_DEPTH * 1e3:g} mm and more than {LEAST_VOLUME * 1e6:g} mL"
    )
    about, wrong = f": area = {area:g} m²", f"is impossible with open_area = {open_area}"
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


def _roughly(aim: _Aim, baths: list[float], count: _Count) -> list[Inputs]:
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
        # with few draws the miss is known to a tenth: finer than that milder mixtures go first
        return candidate.rank._replace(miss=round(candidate.rank.miss, 1))

    candidates.sort(key=roughly)
    return [candidate.mixture for candidate in candidates[:CLOSEST]]


def _closely(aim: _Aim, near: list[Inputs], count: _Count) -> _Candidate:
    """Find the best of some mixtures and of what lies around it, run with all draws."""
    batch = [mixture.replace(second=aim.inputs.second) for mixture in near]
    best = _best(_ranked(aim, batch))
    count.add(len(batch))
    # steps of 40, 16 and 6 %; the best stays a candidate, so a round never makes it worse
    for turn in range(ROUNDS):
        batch = _around(best.mixture, SMALLER ** (turn + 1))
        best = _best([best, *_ranked(aim, batch)])
        count.add(len(batch))
    return best


def _around(mixture: Inputs, step: float) -> list[Inputs]:
    """List mixtures near one, a step [-] away, in figures that can be said.

    Parts go by tenths, and the bath by tenths of a mL per cm².
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
        if 1 <= tenths <= MOST_TENTHS and _deep_enough(mixture, bath):
            parts = (parts_water, *shares)
            near[(*parts, tenths)] = mixture.replace(parts=parts, bath_per_area=bath)
    return list(near.values())


def _rounder(aim: _Aim, best: _Candidate) -> _Candidate:
    """Return the same in whole or half parts, where that does it too and costs hardly more."""
    if not best.rank.meets:
        return best
    # rounder parts are weaker or stronger: the bath over the copper may have to make up for it
    tenths = round(best.mixture.bath_per_area / TENTH_PER_CM2)
    fewest = max(tenths - ROUND_BATHS, 1)
    most = min(tenths + ROUND_BATHS, MOST_TENTHS)
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


def _ranked(aim: _Aim, batch: list[Inputs]) -> list[_Candidate]:
    """Rank mixtures, all side by side."""
    # the law on a bottle is left out of the severity: no mixture alters it
    with collecting_warnings():
        severities, etching, _, _ = judged(aim.inputs, batch, REFUSED)
        bands = etching.bands
        lowering = _lowering(aim, batch, bands["etching_peak"].high)
    times, peak = bands["time_to_clear"], bands["etching_peak"].high
    # times by the logarithm of their ratio, with four hours for never: a miss is a finite number
    misses = (
        np.maximum(np.log(aim.shortest / np.minimum(times.low, LONGEST)), 0)
        + np.maximum(np.log(np.minimum(times.high, LONGEST) / aim.longest), 0)
        + NEVER * np.isinf(times.high)
        + np.maximum(peak - aim.hottest, 0) / TENS
        + FORBIDDEN * (severities == REFUSED)
        + IN_VAIN * (lowering < LOWER)
    )
    moles = _moles(etching)
    return [
        _Candidate(_Rank(float(misses[k]), int(severities[k]), float(moles[k])), mixture)
        for k, mixture in enumerate(batch)
    ]


def _moles(etching: Etched) -> Any:
    """Return the acid and peroxide in each mixture [mol], the mean of its draws."""
    shape = np.shape(etching.run.time_to_clear)
    moles = np.zeros(shape[0])
    for name, substance in REAGENTS.items():
        # where no mixture has any of it, it is not among the pours
        if name in etching.pours:
            amount = etching.pours[name].amount(substance)
            moles += np.mean(np.broadcast_to(amount, shape), axis=-1)
    return moles


def _lowering(aim: _Aim, batch: list[Inputs], peak: Any) -> Any:
    """Return by how much two portions lower the 90 % peak [K]; enough if there is one."""
    if aim.inputs.second is None:
        return LOWER
    at_once = [mixture.replace(second=None) for mixture in batch]
    # nothing has to be judged here: at the severity 0 no bath is left standing
    etching = judged(aim.inputs.replace(second=None), at_once, 0).etching
    return etching.run.band("peak_temperature").high - peak


def _misses(nearest: Plan, aim: _Aim) -> tuple[str, ...]:
    """Write what a plan misses [min, °C], with the figures that tell it from what was asked."""
    # 8 of 10 have to lie in the window: an end of a band outside is 1 bath in 10
    times, peak = nearest.bands["time_to_clear"], nearest.bands["etching_peak"]
    words = []
    if nearest.refused:
        words.append("every mixture of these bottles that was tried is refused")
    if times.low < aim.shortest:
        limit, time = _clocks_apart(aim.shortest, float(times.low))
        words.append(f"1 bath in 10 is clear sooner than {limit}, in {time}")
    if times.high > aim.longest:
        limit, time = _clocks_apart(aim.longest, float(times.high))
        words.append(f"1 bath in 10 takes longer than {limit}: {time}")
    if peak.high > aim.hottest:
        limit, warmth = _degrees_apart(aim.hottest - ZERO_C, float(peak.high) - ZERO_C)
        words.append(f"1 bath in 10 gets warmer than {limit}: {warmth}")
    return tuple(words)


def _clocks_apart(limit: float, time: float) -> tuple[str, str]:
    """Write two times [s] as a clock shows them; in seconds where that does not tell them apart."""
    if clock(limit) != clock(time):
        return clock(limit), clock(time)
    first, second = apart(limit, time)
    return f"{first} s", f"{second} s"


def _degrees_apart(limit: float, warmth: float) -> tuple[str, str]:
    """Write two temperatures [°C] in whole degrees; in more figures where they look the same."""
    if f"{limit:.0f}" != f"{warmth:.0f}":
        return f"{limit:.0f} °C", f"{warmth:.0f} °C"
    first, second = apart(limit, warmth)
    return f"{first} °C", f"{second} °C"


def search_words(search: SearchResult, markdown: bool = False, cautions: bool = True) -> str:
    """Write what a search found [min, °C]: what it is, or what the nearest misses; then its plan.

    Parameters
    ----------
    search : SearchResult
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
    parts = ratio_of(plan.inputs.parts)
    mixture = f"{parts} (water : acid : peroxide), {bath} mL per cm²"
    if search.meets:
        words = (
            f"**The mildest that does it: {mixture}.** Of about {search.tried} mixtures tried, and "
            "of those with the best verdict, it takes the least acid and peroxide, to a tenth. "
            "More bath for the copper is cooler."
        )
    else:
        misses = "; ".join(search.misses)
        # no mixture is named of which the plan then says that nobody mixes it
        if not plan.refused:
            misses = f"The nearest is {mixture}: {misses}"
        words = f"**None of about {search.tried} mixtures tried does it.** {capitalised(misses)}."
    if plan.inputs.second is not None and not plan.refused:
        _, time = plan.inputs.second
        words += (
            f" Half of the peroxide is held back for {watch(time)}: with all of it at once the "
            "same mixture gets warmer."
        )
    if not markdown:
        words = words.replace("**", "")
    return f"{words}\n\n{text(plan, markdown, cautions)}"
