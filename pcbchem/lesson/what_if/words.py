"""What the map and the mixture under its cursor are called and said, from the picture's numbers."""

from __future__ import annotations

import html
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...bench.hazards.verdicts import REFUSED, VERDICTS
from ...bench.mixtures import Mixtures
from ...bench.plan.words import strengths
from ...common.band import Band
from ...common.limits import IMPOSSIBLE, InputError
from ...common.number_words import clock, degrees, figures, of_draws, ratio_of, span
from ...common.units import ZERO_C, minute
from ...page.table import Table
from ..form import fields
from . import maps

REFUSALS = {
    "hot while etching": ("too hot", "it may get too hot while etching"),
    "most must be stopped": ("too hot", "most such baths get so hot that they must be stopped"),
    "too fast": ("too fast", "it may clear too fast to watch or to stop"),
    "hot when left standing": ("too hot later", "most such baths get too hot when left standing"),
    "may run away when left standing": (
        "may boil over",
        "it may run away when left standing, and boil over",
    ),
    "too much acid": (
        "too strong:\nacid",
        "it holds too much acid: it fumes strongly and, with peroxide, can give off chlorine",
    ),
    "too much peroxide": (
        "too strong:\nperoxide",
        "it holds too much peroxide: it decays hot and can boil",
    ),
    "peroxide poured into acid": (
        "too strong\nto pour",
        "too strong peroxide would be poured into too strong acid",
    ),
    "peroxide poured into strong acid": (
        "too strong\nto pour",
        "peroxide would be poured into acid that needs water first",
    ),
    "acid poured into peroxide": (
        "too strong\nto pour",
        "too strong acid would be poured into too strong peroxide",
    ),
    "strong acid poured into peroxide": (
        "too strong\nto pour",
        "strong acid would be poured into too strong peroxide",
    ),
    "used bath not yet quiet": ("not quiet", "the used bath is not yet quiet"),
    "hot bottles": ("bottles\ntoo warm", "the bottles are too warm"),
    "second portion too early": ("too early", "the second portion would come too early"),
    "second portion into a warm bath": (
        "too warm",
        "the second portion would meet a bath that is too warm",
    ),
    "far too much bath": ("too much\nbath", "it is more bath than people can deal with"),
    "never clears": ("never clears", "too many such baths never clear this board"),
    "board not covered": ("too shallow", "so little bath does not cover this board"),
}
"""Why a mixture is refused, by the name of the rule: on the map, and in a sentence."""
CARES = {
    "warm while etching": "keep cold water for the tub beside you: it may get warm while etching",
    "warm when left standing": "stay in sight, cold water ready: it may get warm when left",
    "very warm when left standing": "keep well back afterwards: it may get very warm when left",
    "acid fumes": "stay upwind and watch the resist: it holds so much acid that it fumes",
    "longer than resist stands": "watch the resist: it may not stand for so long",
    "little reserve": "look often: it weakens",
    "strong acid bottle": "pour the acid only where the steps say: its bottle fumes",
    "strong peroxide bottle": "keep water running beside you: its peroxide bottle whitens skin",
    "warm bottles": "stand the bottles in cold water first: they are warm",
    "much bath": "make less of it, or one board after another: it is much for one person",
    "mist": "keep your face away: bursting bubbles throw a mist of acid and copper",
    "spray": "spray only in a closed machine: elsewhere you would breathe a mist",
}
"""What to take care of first, by the name of the rule."""
NO_PERMISSION = "No permission: cautions, and any amounts, stand in the planner."
"""Stands under every verdict of the map."""
CLASS_PERMISSION = "No permission: the cautions stand in the planner."
"""The same for a class, that gets no amount anywhere."""
NOT_YET = "First look: the planner's verdict here comes with the full map"
"""Stands in place of a verdict while few plausible baths have been tried."""
QUICK_LOOK = "First look: {draws} of {full} plausible baths."
MARKS = {"0 : 1 : 1": (0, 1, 1), "0 : 1 : 2": (0, 1, 2), "3 : 1 : 1": (3, 1, 1)}
"""Water : acid : peroxide as people pass them on (common practice, no source)."""
EQUAL = "0 : 1 : 1"
CLEAR, ACID = "clear, 8 of 10", "acid, equal parts = 1"
LATER = "in the hour and day after 1 in 10 exceeds"
"""Heads of the table."""
LABELS = fields.LABELS | {
    maps.PER_CM2.name: "Bath for the copper",
    maps.TIMES.name: "Bath for the copper",
    "window": "Clear from and by",
    "hottest": "No warmer than",
}
"""What the page calls an entry that is wrong."""


class Layer(NamedTuple):
    """What may be drawn: its words, its values and lines, and how a line is called."""

    name: str  # as a choice
    title: str  # on the picture
    deeper: str  # what the deeper tint means
    values: Callable[[Mixtures], NDArray[np.float64]]
    levels: tuple[float, ...]
    line: Callable[[float], str]
    is_log: bool = False
    is_less_deeper: bool = False


def middle_minutes(every: Mixtures) -> NDArray[np.float64]:
    """Return the middle time of each mixture [min]; infinite where it never clears."""
    return np.asarray(every.bands["time_to_clear"].middle / minute)


def warmest_C(every: Mixtures) -> NDArray[np.float64]:
    """Return what 1 in 10 exceeds in the hour or day after [°C]."""
    return np.asarray(maps.warmest_after(every) - ZERO_C)


def never_of_100(every: Mixtures) -> NDArray[np.float64]:
    """Return how many baths of a hundred never clear [-]."""
    return np.asarray(100 * every.never)


LAYERS = {
    "time": Layer(
        "time until clear",
        "Lines: minutes until clear",
        "deeper tint: sooner",
        middle_minutes,
        (0.5, 1, 2, 3, 4, 5, 7, 10, 15, 20, 30, 60, 120),
        lambda level: f"{level:g} min",
        is_log=True,
        is_less_deeper=True,
    ),
    "warmth": Layer(
        "warmest in the hour and day",
        "Lines: °C that 1 in 10 exceeds\nin the hour or day after",
        "deeper tint: warmer",
        warmest_C,
        (22, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90),
        lambda level: f"{level:g} °C",
    ),
    "acid": Layer(
        "acid used",
        "Lines: acid used,\nequal parts = 1",
        "deeper tint: more",
        maps.acid_share,
        (0.2, 0.4, 0.6, 0.8, 1.0, 1.2, 1.4, 1.6, 1.8),
        lambda level: f"× {level:g}",
    ),
    "never": Layer(
        "share that never clears",
        "Lines: baths of 100\nthat never clear",
        "deeper tint: more",
        never_of_100,
        (0.5, 2, 4, 6, 8),
        lambda level: f"{level:g}",
    ),
}
"""What may be drawn."""


def corner_words(every: Mixtures) -> tuple[str, str, str]:
    """Return the names of the corners: water, and each bottle with its strength [%]."""
    acid, peroxide = every.inputs.acid, every.inputs.peroxide
    return "water", f"acid {bottle_words(acid)}", f"peroxide {bottle_words(peroxide)}"


def bottle_words(bottle: Any) -> str:
    """Say how strong a bottle is [%]: its label, or from where to where."""
    if bottle.label is not None:
        return f"{figures(100 * bottle.label, 4)} %"
    return strengths(bottle).replace(" by weight", "")


def map_reasons(every: Mixtures) -> list[str]:
    """Return why each mixture is refused, in words for the map; "" where it is not."""
    words = []
    for severity, reason in zip(every.severity, every.reason, strict=True):
        words.append(REFUSALS[str(reason)][0] if severity == REFUSED else "")
    return words


def title_words(every: Mixtures) -> str:
    """Say how many mixtures of the map have which verdict [-]."""
    counts = np.bincount(every.severity, minlength=len(VERDICTS))
    fine, care, refused = counts.tolist()
    return f"{len(every)} mixtures: {fine} mix it, {care} with care, {refused} do not mix"


def parts_words(parts: tuple[int, int, int]) -> str:
    """Say a mixture in parts [-].

    Examples
    --------
    >>> print(parts_words((2, 1, 1)), "|", parts_words((0, 1, 1)))
    2 water : 1 acid : 1 peroxide | 1 acid : 1 peroxide, no water
    """
    names = ("water", "acid", "peroxide")
    present = [f"{part} {name}" for part, name in zip(parts, names, strict=True) if part]
    missing = [name for part, name in zip(parts, names, strict=True) if not part]
    words = " : ".join(present)
    return f"{words}, no {' and no '.join(missing)}" if missing else words


def band_at(band: Band, place: int) -> Band:
    """Return the band of one mixture of a map [its unit]."""
    return Band(
        band.low[place],
        band.middle[place],
        band.high[place],
        band.never[place],
        band.values[place],
        band.weights,
    )


def under_cursor(every: Mixtures, place: int) -> str:
    """Say the mixture under the cursor: times and warmth, or why it is refused [s, K]."""
    reason = str(every.reason[place])
    if every.severity[place] == REFUSED:
        return f"{sentence(REFUSALS[reason][1])} Nothing of it is handed on."
    times = band_at(every.bands["time_to_clear"], place)
    never = of_draws(~np.isfinite(times.values))
    # the draws of a map tell how many they are: "2 of 200"
    rest = "" if never == "none" else f" {sentence(f'{never} never clear')}"
    hottest = figures(warmest_C(every)[place])
    care = f" First care: {CARES[reason]}." if reason else ""
    return (
        f"{sentence(parts_words(every.parts(place)))} Clear in {span(times)} (8 of 10), "
        f"middle {clock(times.middle)}.{rest} "
        f"While etching {degrees(band_at(every.bands['etching_peak'], place))}; in the hour and "
        f"day after 1 in 10 exceeds {hottest} °C.{care}"
    )


def verdict_line(every: Mixtures, place: int) -> str:
    """Say the verdict on a mixture of the map, or that it is too early for one."""
    if maps.is_quick(every):
        return NOT_YET
    # the planner's, in so many words: nothing on this page sends anybody to pour
    return f"The planner's verdict here: {every.verdict(place)}"


def sentence(words: str) -> str:
    """Return words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."


def marked(every: Mixtures) -> list[tuple[str, int]]:
    """List what is compared: the trade's ratios, and what the map offers instead [places]."""
    rows = []
    for words, parts in MARKS.items():
        place = every.nearest(*parts)
        nearest = ratio_of(every.parts(place))
        # a ratio between two mixtures of the map is judged as the nearest of them
        rows.append((words if nearest == words else f"{words} (here {nearest})", place))
    equal = every.nearest(*MARKS[EQUAL])
    instead = maps.least_acid_as_quick(every, equal)
    found = {
        "as quick as equal parts, least acid": None if instead == equal else instead,
        "quickest of those plainly “mix it”": maps.quickest(every),
        "leanest of those wanted": every.leanest,
    }
    for words, offered in found.items():
        if offered is not None:
            rows.append((f"{ratio_of(every.parts(offered))}, {words}", offered))
    return rows


def table_rows(every: Mixtures) -> dict[str, dict[str, str]]:
    """Return the table of what is marked: a mixture a row; of a refused one only why [s, K]."""
    rows = {}
    for name, place in marked(every):
        if every.severity[place] == REFUSED:
            why = REFUSALS[str(every.reason[place])][0].replace("\n", " ")
            rows[name] = {"verdict": f"do not mix: {why}", CLEAR: "–", ACID: "–", LATER: "–"}
            continue
        times = band_at(every.bands["time_to_clear"], place)
        rows[name] = {
            "verdict": every.verdict(place),
            CLEAR: f"{span(times)}, middle {clock(times.middle)}",
            ACID: figures(maps.acid_share(every)[place]),
            LATER: f"{figures(warmest_C(every)[place])} °C",
        }
    return rows


def finding(every: Mixtures) -> str:
    """Say what equal parts come to beside the rest of the map [s]."""
    equal = every.nearest(*MARKS[EQUAL])
    if every.severity[equal] == REFUSED:
        return f"Equal parts of these bottles: do not mix, {REFUSALS[str(every.reason[equal])][1]}."
    acid, times = maps.acid_share(every), every.bands["time_to_clear"].middle
    is_usable = every.severity < REFUSED
    leaner = int(np.sum(is_usable & (acid < acid[equal]) & (times <= times[equal])))
    total = int(np.sum(is_usable))
    more = int(np.sum(is_usable & (acid > acid[equal])))
    clear = f"Equal parts clear in {clock(times[equal])}, middle bath."
    as_quick = str(leaner) if leaner else "none"
    counts = (
        f"Of {total} mixtures that are not refused {as_quick} are as quick with less acid, and "
        f"{more} take more acid."
    )
    instead = maps.least_acid_as_quick(every, equal)
    if instead is None or acid[instead] >= acid[equal]:
        return f"{clear} {counts}"
    share = figures(acid[instead] / acid[equal])
    return (
        f"Equal parts spend more acid than they need: {parts_words(every.parts(instead))} "
        f"(planner: {every.verdict(instead)}) is as quick with {share} times as much. "
        f"{clear} {counts}"
    )


def none_leanest(every: Mixtures) -> str:
    """Say that no mixture keeps to what is wanted, where none does [s, K]."""
    if every.leanest is not None:
        return ""
    wanted = every.wanted
    return (
        f"No mixture is clear in {clock(wanted.shortest)} to {clock(wanted.longest)} at "
        f"{wanted.hottest - ZERO_C:g} °C or colder: change what is wanted, or the bottles."
    )


def notes(every: Mixtures) -> str:
    """Return what stands under the picture, as HTML: what is marked, beside each other."""
    lines = [finding(every), none_leanest(every)]
    paragraphs = "".join(f"<p>{html.escape(line, quote=False)}</p>" for line in lines if line)
    caption = (
        "Water : acid : peroxide: three ratios that people pass on (common practice, no source), "
        f"and what the map finds. {quick_words(every)}"
    )
    return paragraphs + Table(table_rows(every), caption=caption)._repr_html_()


def quick_words(every: Mixtures) -> str:
    """Say that a map is only a first look [-], where it is."""
    if not maps.is_quick(every):
        return ""
    return QUICK_LOOK.format(draws=every.inputs.draws, full=maps.FULL)


def alt_words(every: Mixtures, layer: Layer, place: int) -> str:
    """Say the picture: corners, verdicts and reasons, what is drawn, marks and cursor [s, K]."""
    water, acid, peroxide = corner_words(every)
    reasons = [words.replace("\n", " ") for words in map_reasons(every) if words]
    why = [f"{words} ({reasons.count(words)})" for words in dict.fromkeys(reasons)]
    blocks = [
        f"A triangle of mixtures by volume: {water} at the top, {acid} at the left, {peroxide} at "
        f"the right. {title_words(every)}.",
        f"Refused: {', '.join(why)}." if why else "",
        f"{layer.title}, {layer.deeper}.".replace("\n", " "),
    ]
    for name, row in table_rows(every).items():
        times = row[CLEAR]
        clear = "" if times == "–" else f", clear in {times}"
        blocks.append(f"{name}: {row['verdict']}{clear}.")
    blocks.append(f"{verdict_line(every, place)}. {under_cursor(every, place)}")
    blocks.append(quick_words(every))
    return " ".join(block for block in blocks if block)


def wrong_words(error: ValueError) -> str:
    """Return what is wrong with an input in the page's words: label, what cannot be, and the rule.

    Examples
    --------
    >>> print(wrong_words(InputError("hottest", "it must be 0 to 100 °C", value=200)))
    No warmer than = 200 cannot be: it must be 0 to 100 °C
    """
    # what is wrong with no single input has no label here
    if not isinstance(error, InputError):
        return str(error)
    label = LABELS.get(error.field, error.field)
    wrong = " cannot be" if error.wrong == IMPOSSIBLE else f" {error.wrong}".rstrip()
    return f"{label}{error.about}{wrong}: {error.rule}"
