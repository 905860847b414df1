"""Several plans beside each other, a row each: verdict, times, warmth, and what they take.

Of a refused plan, and of one for a class, a row says neither how much to pour nor how many moles.
"""

from __future__ import annotations

import dataclasses
import html
import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.band import Band
from ...common.extras import extra
from ...common.limits import InputError, collecting_warnings
from ...common.number_words import capitalised, clock, degrees, figures, ratio_of, span, watch
from ...common.units import ZERO_C, minute, mm
from ...reaction.bath.setup import OUNCE_PER_SQUARE_FOOT, Board
from ..plan.inputs import Inputs
from ..plan.planning import Plan
from ..plan.pours import POURS, poured
from ..plan.search import REAGENTS
from ..plan.steps import air_of, bath_vessel, measured
from ..plan.words import clears_in, strengths, used_bath_words
from .wanted import Wanted

if TYPE_CHECKING:
    import pandas

MOST_PLANS = 6
"""Most plans beside each other [-]: more are not read at a glance."""
AS_WANTED = "as wanted (of 100)"
"""Column of the share of the plausible baths that are as wanted [of 100]."""
MOLES = {"HCl": "acid (mol)", "H2O2": "peroxide (mol)"}
"""Columns of what a bath takes of each substance [mol]."""
SAID_ONCE = ("board", "bottles")
"""Columns that stand over the table where all plans have the same."""
CELL = "text-align:left;padding:4px"


@dataclasses.dataclass(frozen=True, eq=False)
class Comparison:
    """Plans beside each other.

    Made by `compare`.

    Parameters
    ----------
    plans : dict of Plan
        By name.
    wanted : Wanted or None
        Window [s] and warmest [K] by which baths are counted as inside; None: neither was given.
    """

    plans: Mapping[str, Plan]
    wanted: Wanted | None = None

    @property
    def rows(self) -> dict[str, dict[str, Any]]:
        """The numbers of each plan by its name, without pandas [unit in the name of the number].

        An infinite time: never. What a row does not say, such as the amounts of a refused plan, is
        not in it.
        """
        return {name: _numbers(plan, self.wanted) for name, plan in self.plans.items()}

    @property
    def cells(self) -> dict[str, dict[str, str]]:
        """The same as people read it, a text for each cell [unit in the name or in the cell]."""
        texts = {name: _texts(plan, self.wanted) for name, plan in self.plans.items()}
        return {
            name: {column: row.get(column, "") for column in _columns(texts.values())}
            for name, row in texts.items()
        }

    @property
    def words(self) -> str:
        """What is wanted, and a line for each plan, for whoever cannot see the table [min, °C]."""
        lines = []
        if self.wanted is not None:
            lines.append(f"Wanted: {self.wanted.words}.")
        for name, plan in self.plans.items():
            peak, day = plan.bands["etching_peak"], plan.bands["standing_peak"]
            as_wanted = ""
            if self.wanted is not None:
                share = 100 * float(self.wanted.share(plan.bands))
                as_wanted = f" {share:.0f} of 100 are as wanted."
            look = ""
            if plan.first_look is not None:
                look = f", look first after {watch(plan.first_look)}"
            lines.append(
                f"{name}: {_verdict(plan)}. {clears_in(plan.bands['time_to_clear'])}{look}. "
                f"{degrees(peak)} while etching, {degrees(day)} in the day after.{as_wanted}"
            )
        return "\n".join(lines)

    def to_frame(self) -> pandas.DataFrame:
        """Return `rows` as a table, a plan a row [unit in the column's name]."""
        with extra("lab"):
            import pandas  # here, since it takes longer to load than a plan to make

        rows = self.rows
        return pandas.DataFrame.from_dict(rows, orient="index")[_columns(rows.values())]

    def __str__(self) -> str:
        return self.words

    def __repr__(self) -> str:
        verdicts = ", ".join(f"{name}: {plan.verdict}" for name, plan in self.plans.items())
        return f"Comparison({verdicts})"

    def _repr_html_(self) -> str:
        cells = self.cells
        # what is the same in all rows is said once, over them
        alike = {
            column: text
            for column, text in next(iter(cells.values())).items()
            if column in SAID_ONCE and all(row[column] == text for row in cells.values())
        }
        columns = [name for name in next(iter(cells.values())) if name not in alike]
        head = _row_of("plan", columns, "col")
        body = ""
        for name, row in cells.items():
            body += _row_of(name, [row[column] for column in columns], "row")
        title = ". ".join(["Plans beside each other", *map(capitalised, alike.values())])
        if self.wanted is not None:
            title += f". Wanted: {self.wanted.words}"
        caption = f'<caption style="{CELL};caption-side:top">{html.escape(title)}</caption>'
        # it scrolls by itself where a page is narrower
        return (
            f'<div style="overflow-x:auto"><table class="dataframe">{caption}'
            f"<thead>{head}</thead><tbody>{body}</tbody></table></div>"
        )


def compare(
    plans: Mapping[str, Plan] | Sequence[Plan],
    *,
    window: tuple[float, float] | None = None,
    hottest: float | None = None,
) -> Comparison:
    """Put plans beside each other.

    Parameters
    ----------
    plans : dict or list of Plan
        1 to 6 of them [-], by name; in a list they are called "bath 1", "bath 2", …
    window : tuple of float, optional
        Shortest and longest time wanted [s].
    hottest : float, optional
        Warmest that a bath is wanted to get, while etching and in the hour after [K].

    Returns
    -------
    Comparison
        In the order given.

    Raises
    ------
    InputError
        What is no plan, too many of them, or a window that cannot be.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> bath = {"board": Board(area=27e-4), "bath_per_area": 0.055, "place": "EU"}
    >>> plans = [plan(acid, peroxide, (water, 1, 1), **bath) for water in (0, 1)]
    >>> print(compare(plans))  # doctest: +ELLIPSIS
    bath 1: mix it. 8 of 10 clear in ...
    bath 2: ...
    """
    wanted = _checked_wanted(window, hottest)
    return Comparison(plans=_named(plans), wanted=wanted)


def row(
    plan: Plan,
    window: tuple[float, float] | None = None,
    hottest: float | None = None,
) -> dict[str, Any]:
    """Return a plan as one row, for a page that keeps it.

    Parameters
    ----------
    plan : Plan
        Refused or not.
    window, hottest : tuple of float and float, optional
        As for `compare` [s, K].

    Returns
    -------
    dict
        "texts": what stands in each cell, by the name of its column; "numbers": the same as numbers
        [unit in the name], None where a time is infinite. All of it can be written as JSON. Neither
        has a volume or an amount of a refused plan, or of one for a class.

    Raises
    ------
    InputError
        A window that cannot be.
    """
    wanted = _checked_wanted(window, hottest)
    # JSON knows no infinity
    numbers = {
        name: None if isinstance(value, float) and not math.isfinite(value) else value
        for name, value in _numbers(plan, wanted).items()
    }
    return {"texts": _texts(plan, wanted), "numbers": numbers}


def _checked_wanted(window: Any, hottest: Any) -> Wanted | None:
    """Return what is wanted [s, K], None where nobody said anything."""
    if window is None and hottest is None:
        return None
    return Wanted.checked(window, hottest)


def _named(plans: Any) -> dict[str, Plan]:
    """Return plans by name, or say what is wrong with them."""
    rule = f"it must be 1 to {MOST_PLANS} plans, in a list or by name"
    if isinstance(plans, Mapping):
        by_name = {str(name): plan for name, plan in plans.items()}
    elif isinstance(plans, Sequence) and not isinstance(plans, str):
        by_name = {f"bath {number}": plan for number, plan in enumerate(plans, 1)}
    else:
        raise InputError("plans", rule, value=plans, about=f" = {plans!r}")
    if not 1 <= len(by_name) <= MOST_PLANS:
        raise InputError("plans", rule, value=len(by_name), about=f": {len(by_name)} of them")
    for name, plan in by_name.items():
        if not isinstance(plan, Plan):
            raise InputError("plans", rule, value=plan, about=f": {name} = {plan!r}")
    return by_name


def _hands_over(plan: Plan) -> bool:
    """Return whether a plan may say how much: neither a refused one nor one for a class."""
    return not (plan.refused or plan.school)


def _volumes(plan: Plan) -> dict[str, float]:
    """Return each pour as people can measure it, by the name of its column [mL]."""
    if not _hands_over(plan):
        return {}
    millilitres = measured([stage.volume for stage in plan.stages])
    by_name = {stage.what: volume for stage, volume in zip(plan.stages, millilitres, strict=True)}
    return {f"{name} (mL)": by_name[name] for name in POURS if name in by_name}


def _moles(plan: Plan) -> dict[str, float]:
    """Return what is poured of acid and of peroxide, by the name of its column [mol]."""
    if not _hands_over(plan):
        return {}
    moles = dict.fromkeys(MOLES.values(), 0.0)
    # the plan has said where it was not checked
    with collecting_warnings():
        liquids = poured(plan.inputs)
        for name, substance in REAGENTS.items():
            if name in liquids:
                moles[MOLES[substance]] += float(np.mean(liquids[name].amount(substance)))
    return moles


def _verdict(plan: Plan) -> str:
    """Write the verdict, and the first rule that brings it."""
    if not plan.reasons:
        return plan.verdict
    return f"{plan.verdict}: {plan.reasons[0].rule}"


def _numbers(plan: Plan, wanted: Wanted | None) -> dict[str, Any]:
    """Return the numbers of a plan by name [unit in the name]; an infinite time is never."""
    bands, times = plan.bands, plan.bands["time_to_clear"]
    water, acid, peroxide = plan.inputs.parts
    numbers: dict[str, Any] = {
        "acid bottle, lowest (% by weight)": 100 * plan.inputs.acid.low,
        "acid bottle, highest (% by weight)": 100 * plan.inputs.acid.high,
        "peroxide bottle, lowest (% by weight)": 100 * plan.inputs.peroxide.low,
        "peroxide bottle, highest (% by weight)": 100 * plan.inputs.peroxide.high,
        "water (parts)": water,
        "acid (parts)": acid,
        "peroxide (parts)": peroxide,
        **_setting(plan.inputs),
        "verdict": plan.verdict,
        "first reason": plan.reasons[0].rule if plan.reasons else "",
        "clear, low end (min)": float(times.low) / minute,
        "clear, middle (min)": float(times.middle) / minute,
        "clear, high end (min)": float(times.high) / minute,
        "never clear (of 100)": 100 * float(times.never),
    }
    if plan.first_look is not None and plan.look_every is not None:
        numbers["look first (min)"] = plan.first_look / minute
        numbers["then every (min)"] = plan.look_every / minute
    for when, name in (
        ("while etching", "etching_peak"),
        ("in the hour after", "hour_peak"),
        ("in the day after", "standing_peak"),
    ):
        band = bands[name]
        numbers[f"{when}, low end (°C)"] = float(band.low) - ZERO_C
        numbers[f"{when}, middle (°C)"] = float(band.middle) - ZERO_C
        numbers[f"{when}, 1 in 10 above (°C)"] = float(band.high) - ZERO_C
    numbers |= _volumes(plan) | _moles(plan)
    if wanted is not None:
        numbers[AS_WANTED] = 100 * float(wanted.share(bands))
    return numbers


def _setting(inputs: Inputs) -> dict[str, Any]:
    """Return what else a plan starts from, by name [unit in the name]; no amount of liquid.

    A row is read without its page: its numbers hold for this board in this tray alone.
    """
    board, tray = inputs.board, inputs.tray
    setting: dict[str, Any] = {}
    if board.width is not None and board.height is not None and board.bare is not None:
        setting["board (mm × mm)"] = _sides(board)
        setting["bare (%)"] = 100 * float(np.asarray(board.bare))
        setting["back, bare (%)"] = 100 * float(np.asarray(board.back))
    setting["bare copper (cm²)"] = 1e4 * float(board.copper_area)
    setting["foil (oz)"] = float(np.asarray(board.foil.areal_mass)) / OUNCE_PER_SQUARE_FOOT
    setting["bottles (°C)"] = inputs.T_bottles - ZERO_C
    setting["air (°C)"] = air_of(inputs) - ZERO_C
    setting["vessel"] = _vessel(inputs)
    setting["movement"] = tray.agitation
    setting["copper faces"] = tray.facing
    setting["place"] = inputs.place
    setting["used bath"] = "none"
    if inputs.used_bath is not None:
        setting["used bath"] = used_bath_words(inputs.used_bath)
    if inputs.second is not None:
        share, time = inputs.second
        setting["peroxide held back (%)"] = 100 * share
        setting["held back until (min)"] = time / minute
    # as somebody typed it: 27, and not 26.999999999999996
    return {
        name: round(value, 9) if isinstance(value, float) else value
        for name, value in setting.items()
    }


def _vessel(inputs: Inputs) -> str:
    """Write what the board is etched in, and how large that is if somebody said it [cm², mm]."""
    tray = inputs.tray
    words = bath_vessel(inputs)
    if tray.open_area is not None:
        words += f", {figures(1e4 * float(np.asarray(tray.open_area)), 4)} cm² open"
    # else its size would follow from how much bath there is, and that is an amount
    else:
        words += ", size not said"
    if tray.perimeter is not None:
        words += f", {figures(float(np.asarray(tray.perimeter)) / mm, 4)} mm of wall around"
    return words


def _sides(board: Board) -> str:
    """Write the sides of a board whose sides are known [mm]."""
    width, height = (float(np.asarray(side)) / mm for side in (board.width, board.height))
    return f"{figures(width, 4)} × {figures(height, 4)}"


def _board(board: Board) -> str:
    """Write a board in a few words [mm, %], by its bare copper alone [cm²] where that is known."""
    if board.width is None or board.height is None or board.bare is None:
        return f"{figures(1e4 * float(board.copper_area), 3)} cm² bare"
    words = f"{_sides(board)} mm, {figures(100 * float(np.asarray(board.bare)), 3)} % bare"
    back = 100 * float(np.asarray(board.back))
    if back:
        words += f", back {figures(back, 3)} %"
    return words


def _texts(plan: Plan, wanted: Wanted | None) -> dict[str, str]:
    """Return the cells of a plan as people read them, by the name of the column."""
    bands, times = plan.bands, plan.bands["time_to_clear"]
    inputs = plan.inputs
    # a cell is narrow: how often to look after that stands with the plan
    look = ""
    if plan.first_look is not None:
        look = watch(plan.first_look)
    texts = {
        "board": _board(inputs.board),
        "bottles": f"acid {strengths(inputs.acid)}, peroxide {strengths(inputs.peroxide)}",
        "water : acid : peroxide": ratio_of(inputs.parts),
        "verdict": _verdict(plan),
        "board clear, 8 of 10": _clear(times),
        "middle": clock(times.middle),
        "look first": look,
        "warmest while etching": degrees(bands["etching_peak"]),
        "warmest in the day after": degrees(bands["standing_peak"]),
    }
    texts |= {name: figures(volume, 6) for name, volume in _volumes(plan).items()}
    texts |= {name: figures(amount) for name, amount in _moles(plan).items()}
    if wanted is not None:
        texts[AS_WANTED] = f"{100 * float(wanted.share(bands)):.0f}"
    return texts


def _clear(times: Band) -> str:
    """Write when 8 of 10 baths are clear [s], or how many never are."""
    if np.isfinite(times.high):
        return span(times)
    return clears_in(times)


def _columns(rows: Any) -> list[str]:
    """List the columns that any row has, in the order in which a full row has them."""
    # a used bath and a second portion stand in few plans: after the longest row, what it lacks
    longest_first = sorted(rows, key=len, reverse=True)
    return list(dict.fromkeys(name for row in longest_first for name in row))


def _row_of(name: str, cells: Any, scope: str) -> str:
    """Return a row of the table as HTML: its name, then a cell for each text, headings if "col"."""
    tag, kind = "td", ""
    if scope == "col":
        tag, kind = "th", ' scope="col"'
    text = f'<tr><th scope="{scope}" style="{CELL}">{html.escape(name)}</th>'
    for value in cells:
        text += f'<{tag}{kind} style="{CELL}">{html.escape(value)}</{tag}>'
    return f"{text}</tr>"
