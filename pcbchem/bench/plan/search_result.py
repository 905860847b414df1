"""What a search found: the leanest mixture or the nearest ones, and what these miss, in words."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any, NamedTuple

from ...common.number_words import apart, capitalised, clock, figures, per_cm2, ratio_of, watch
from ...common.units import ZERO_C
from ..hazards.words import HEADS, bullets
from .inputs import Inputs
from .planning import Plan
from .words import text

LEFT_OUT = {0.9: "1 bath in 10", 0.5: "half of the baths"}
"""The baths that an end of a band leaves beyond it, by the share it does not [-]."""
LEAST_FIRST = ("the least", "the second least", "the third least", "the fourth least")
"""For a class: how three and more baths of one ratio differ, but for the last, which is most."""


class Ends(NamedTuple):
    """The ends of a mixture's bands that are held against what is asked, one of each or an array.

    They leave out as many baths as may miss.
    """

    low: Any  # of the times [s]
    high: Any  # of the times [s]
    etching: Any  # of the peak while etching [K]
    after: Any  # of the peak in the hour after [K]


@dataclasses.dataclass(frozen=True)
class Aim:
    """What is asked: times [s], peak [K], share of baths [-], most bath, and what all share."""

    shortest: float
    longest: float
    hottest: float
    share: float
    most_tenths: int  # of a mL per cm²
    inputs: Inputs


@dataclasses.dataclass(frozen=True, eq=False)
class NearMiss:
    """A mixture that comes near to what was asked, and may be mixed.

    Parameters
    ----------
    inputs : Inputs
        What it would be planned from.
    verdict : str
        The verdict on it.
    misses : tuple of str
        What it misses, in words [min, °C].
    acid : float
        The acid in it [mol].
    """

    inputs: Inputs
    verdict: str
    misses: tuple[str, ...]
    acid: float


@dataclasses.dataclass(frozen=True, eq=False)
class SearchResult:
    """What a search found.

    Parameters
    ----------
    plan : Plan
        Of the leanest mixture that does all that was asked, or of the nearest.
    meets : bool
        Whether it does all that was asked.
    misses : tuple of str
        What the nearest one misses, in words [min, °C]; empty where `meets`.
    tried : int
        How many mixtures were tried [-].
    near : tuple of NearMiss
        Where none meets, the nearest that may be mixed, five at most: that of the plan among them,
        the least acid first.
    """

    plan: Plan
    meets: bool
    misses: tuple[str, ...]
    tried: int
    near: tuple[NearMiss, ...] = ()

    def __str__(self) -> str:
        return search_words(self)

    def _repr_markdown_(self) -> str:
        return search_words(self, markdown=True)


def miss_words(ends: Ends, aim: Aim, is_refused: bool) -> tuple[str, ...]:
    """Write what ends miss [min, °C], with the figures that tell them from what was asked."""
    words = []
    if is_refused:
        words.append("every mixture of these bottles that was tried is refused")
    out = _left_out(aim.share)
    if ends.low < aim.shortest:
        limit, time = _clocks_apart(aim.shortest, float(ends.low))
        words.append(f"{out} would be clear sooner than {limit}, in {time}")
    if ends.high > aim.longest:
        limit, time = _clocks_apart(aim.longest, float(ends.high))
        words.append(f"{out} would take longer than {limit}: {time}")
    for peak, when in ((ends.etching, "while etching"), (ends.after, "in the hour after")):
        if peak > aim.hottest:
            limit, warmth = _degrees_apart(aim.hottest - ZERO_C, float(peak) - ZERO_C)
            words.append(f"{out} would get warmer than {limit} {when}: {warmth}")
    return tuple(words)


def _left_out(share: float) -> str:
    """Write how many baths [-] an end leaves beyond it.

    Examples
    --------
    >>> print(_left_out(0.9), "|", _left_out(0.75), "|", _left_out(0.5))
    1 bath in 10 | 25 baths in 100 | half of the baths
    """
    return LEFT_OUT.get(share, f"{figures(100 * (1 - share))} baths in 100")


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
        From `leanest`.
    markdown, cautions : bool
        As for `text`.

    Returns
    -------
    str
        On a refused plan no volume stands anywhere in it.
    """
    words = found_words(search, markdown)
    return f"{words}\n\n{text(search.plan, markdown, cautions)}"


def mixtures_by_name(search: SearchResult) -> dict[str, Inputs]:
    """Name what a search found [parts, mL per cm²]: its own mixture first, then the near misses.

    Only what may be mixed: nothing where the search found a refused one.
    """
    plan = search.plan
    every = [plan.inputs, *(near.inputs for near in _others(search))]
    named = dict(zip(_mixtures(every, plan.school), every, strict=True))
    if plan.refused:
        return {name: inputs for name, inputs in named.items() if inputs is not plan.inputs}
    return named


def _others(search: SearchResult) -> list[NearMiss]:
    """Return the near misses but for the search's own mixture."""
    return [near for near in search.near if near.inputs is not search.plan.inputs]


def found_words(search: SearchResult, markdown: bool = False) -> str:
    """Write what a search found [min, °C], or what the nearest misses: without its plan.

    Parameters
    ----------
    search : SearchResult
        From `leanest`.
    markdown : bool
        As for `text`.

    Returns
    -------
    str
        No volume stands in it.
    """
    plan = search.plan
    others = _others(search)
    every = [plan.inputs, *(near.inputs for near in others)]
    names = _mixtures(every, plan.school)
    mixture = names[0]
    if search.meets:
        words = (
            f"**The leanest that does it: {mixture}.** Of about {search.tried} mixtures tried, and "
            "of those with the best verdict, it takes the least acid and peroxide, to a tenth. "
            "More bath for the copper is cooler."
        )
    else:
        misses = "; ".join(search.misses)
        # no mixture is named of which the plan then says that nobody mixes it
        if not plan.refused:
            misses = f"The nearest is {mixture} ({_verdict_words(plan.verdict)}): {misses}"
        words = f"**None of about {search.tried} mixtures tried does it.** {capitalised(misses)}."
    if plan.inputs.second is not None and not plan.refused:
        _, time = plan.inputs.second
        words += (
            f" Half of the peroxide is held back for {watch(time)}: with all of it at once the "
            "same mixture gets warmer."
        )
    if others:
        lines = bullets(map(_near_words, others, names[1:]))
        words += f"\n\nOthers near, the least acid first:\n\n{lines}"
    if not markdown:
        words = words.replace("**", "")
    return words


def _mixtures(every: Sequence[Inputs], school: bool) -> list[str]:
    """Write parts [-] of each mixture, and the bath for the copper [mL per cm²].

    For a class that is no number: where two mixtures have one ratio, which of them has more bath.
    """
    ratios = [f"{ratio_of(inputs.parts)} (water : acid : peroxide)" for inputs in every]
    baths = [inputs.bath_per_area for inputs in every]
    if not school:
        pairs = zip(ratios, baths, strict=True)
        return [f"{ratio}, {figures(per_cm2(bath))} mL per cm²" for ratio, bath in pairs]
    names = []
    for ratio, bath in zip(ratios, baths, strict=True):
        alike = {other for name, other in zip(ratios, baths, strict=True) if name == ratio}
        names.append(f"{ratio}{_size_words(bath, sorted(alike))}")
    return names


def _size_words(bath: float, alike: Sequence[float]) -> str:
    """Write which of some baths [m³/m²] of one ratio this is, the smallest first; no number."""
    count, place = len(alike), alike.index(bath)
    if count == 1:
        return ""
    if count == 2:
        size = ("less", "more")[place]
    elif place == count - 1:
        size = "the most"
    else:
        size = LEAST_FIRST[place]
    return f" with {size} bath for the copper"


def _near_words(near: NearMiss, mixture: str) -> str:
    """Write one near miss, its verdict and what it misses [min, °C]."""
    late = ""
    if near.inputs.second is not None:
        late = f", half of the peroxide held back for {watch(near.inputs.second[1])}"
    return f"{mixture}{late} ({_verdict_words(near.verdict)}): {'; '.join(near.misses)}."


def _verdict_words(verdict: str) -> str:
    """Write a verdict inside a sentence."""
    return HEADS[verdict].rstrip(".:").lower()
