"""The fields of one more offcut, and the offcut that they describe: the columns of a log's row.

What is left blank is as the board's own bath has it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...bench.offcut import Offcut
from ...bench.offcut.log_layout import Layout
from ...bench.offcut.log_row import cells_of, offcut_of
from ...bench.plan.planning import Plan
from ...common.limits import InputError
from ...common.number_words import capitalised
from ...page.widget.controls import Choice, Field, Group, Text, TimeText, is_called_for
from ...reaction.bath.bath import LONGEST
from ..form.choices import MOVES, READS
from .bench import offcut_like

LIKE, OTHER = "like", "other"
OWN, DISH = "own", "dish"
CLEAR, NOT_CLEAR, HOT = "clear", "not clear", "hot"
AS_BOARD = "board"
LIFTED_HOT = "lifted out at 45 °C"
"""Values of choices."""
OUTCOMES = {CLEAR: "clear", NOT_CLEAR: "not clear", HOT: LIFTED_HOT}
"""What was seen of an offcut."""
IN_OTHER = ("recipe", (OTHER,))
"""When a field of another bath is shown."""


def _blank(
    name: str,
    label: str,
    unit: str,
    low: float,
    high: float,
    step: float,
    help: str = "",
    **more: Any,
) -> Field:
    """Return a field [unit] that starts blank: as the board's bath has it."""
    return Field(
        name, label, unit, low, high, step, None, help=help, reads=READS.get(unit, {}), **more
    )


FIRST = (
    Text("date", "date", "", 40, hint="blank: today"),
    Choice("recipe", "its bath", {LIKE: "my board's", OTHER: "another recipe"}, LIKE),
    _blank("acid_low", "acid, at least", "%", 0, 37, 0.5, when=IN_OTHER),
    _blank("acid_to", "acid, at most", "%", 0, 37, 0.5, when=IN_OTHER),
    _blank("peroxide_low", "peroxide, at least", "%", 0, 35, 0.5, when=IN_OTHER),
    _blank("peroxide_to", "peroxide, at most", "%", 0, 35, 0.5, when=IN_OTHER),
    _blank("water", "water", "parts", 0, 100, 0.5, when=IN_OTHER),
    _blank("acid", "acid", "parts", 0, 100, 0.5, when=IN_OTHER),
    _blank("peroxide", "peroxide", "parts", 0, 100, 0.5, when=IN_OTHER),
    _blank(
        "bare",
        "bare copper on it",
        "cm²",
        0.05,
        1000,
        1,
        "Of both sides. Blank: half your board's.",
    ),
    _blank("bath", "bath", "mL", 0.1, 5000, 5, "Blank: as much for its copper as your board has."),
    Choice(
        "dish",
        "etched in",
        {OWN: "the board's own tray", DISH: "a dish of its own"},
        OWN,
        help="An offcut in a dish of its own tells little of the board.",
    ),
    _blank(
        "open",
        "open area of the dish",
        "cm²",
        0.5,
        10000,
        5,
        "Blank: so wide that the bath lies 10 mm deep.",
        when=("dish", (DISH,)),
    ),
    Choice(
        "outcome",
        "it was",
        {CLEAR: "clear", NOT_CLEAR: "not clear", HOT: "lifted out at 45 °C"},
        CLEAR,
    ),
    TimeText(
        "seen",
        "after",
        0.5,
        LONGEST,
        help="From the moment it went in: 4 min 10 s, 4:10 or 250 s.",
    ),
    Text("acid_bottle", "its acid bottle", "acid", 60, hint="another bottle, another name"),
    Text("peroxide_bottle", "its peroxide bottle", "peroxide", 60),
    Text("note", "note", "", 200, hint="what was special, such as: in the wind"),
)
"""What is asked of every offcut."""
MORE = (
    _blank("foil", "copper foil", "oz", 0.05, 16, 0.5),
    _blank("bottles", "bottles and water", "°C", 0, 40, 1),
    _blank("air", "air", "°C", -10, 45, 1),
    Choice(
        "moved", "the bath was", {AS_BOARD: "moved as the board's"} | MOVES, AS_BOARD, look="list"
    ),
    Choice(
        "faced",
        "copper looked",
        {AS_BOARD: "as the board's", "up": "up", "down": "down", "upright": "upright"},
        AS_BOARD,
        look="list",
    ),
)
"""What most offcuts share with their board."""
ROW = Group("What you have etched", FIRST)
REST = Group("What was unlike the board", MORE, folded=True)
COLUMN_OF = {
    "bare": ("bare_cm2", 1.0),
    "bath": ("bath_mL", 1.0),
    "open": ("open_cm2", 1.0),
    "acid_low": ("acid_low_percent", 1.0),
    "acid_to": ("acid_high_percent", 1.0),
    "peroxide_low": ("peroxide_low_percent", 1.0),
    "peroxide_to": ("peroxide_high_percent", 1.0),
    "water": ("water_parts", 1.0),
    "acid": ("acid_parts", 1.0),
    "peroxide": ("peroxide_parts", 1.0),
    "foil": ("foil_g_per_m2", 305.15),  # 1 oz/ft² [g/m²]
    "bottles": ("bottles_C", 1.0),
    "air": ("air_C", 1.0),
}
"""Column of a log that a field of numbers fills, and one of its unit in that of the column."""
WORDS_OF = {
    "date": "date",
    "note": "note",
    "acid_bottle": "acid_bottle",
    "peroxide_bottle": "peroxide_bottle",
}
"""Column of a log that a field of words fills."""
CONTROLS = {control.name: control for control in (*FIRST, *MORE)}
LABEL_OF = {column: CONTROLS[name].label for name, (column, _) in COLUMN_OF.items()} | {
    column: CONTROLS[name].label for name, column in WORDS_OF.items()
}
"""What the page calls a column."""
SEEN: TimeText = next(control for control in FIRST if isinstance(control, TimeText))


def offcut_from(values: Mapping[str, Any], plan: Plan, today: str) -> Offcut:
    """Return the offcut that the fields describe.

    Parameters
    ----------
    values : mapping
        Of `CONTROLS` by name [units of the fields]; None and "": as the board's bath.
    plan : Plan
        Of the board, not refused.
    today : str
        The date of an offcut of which none is said.

    Returns
    -------
    Offcut
        Etched, with its time [s].

    Raises
    ------
    ValueError
        No time, or a value that cannot be: in the page's words.
    """
    seconds = SEEN.seconds(values["seen"])
    if seconds is None:
        raise ValueError("After: say how long it was in, such as 4 min 10 s. Nothing was added.")
    try:
        return offcut_of(_cells(values, plan, seconds, today), Layout())
    except InputError as error:
        raise ValueError(page_words(error)) from None


def _cells(values: Mapping[str, Any], plan: Plan, seconds: float, today: str) -> dict[str, str]:
    """Return the row of the offcut, texts by column; `seconds` [s] until it was seen so."""
    like = offcut_like(plan, values["acid_bottle"], values["peroxide_bottle"])
    cells = cells_of(_etched(like))
    for name, (column, size) in COLUMN_OF.items():
        # a field that is hidden keeps what was entered before
        if values[name] is not None and is_called_for(CONTROLS[name], values):
            cells[column] = _text(values[name] * size)
    if values["bath"] is None and values["bare"] is not None:
        # as much for its copper as the board has [mL for each cm²]
        cells["bath_mL"] = _text(100 * plan.inputs.bath_per_area * values["bare"])
    if values["dish"] == DISH and values["open"] is None:
        cells["open_cm2"] = ""
    if values["moved"] != AS_BOARD:
        cells["agitation"] = values["moved"]
    if values["faced"] != AS_BOARD:
        cells["facing"] = values["faced"]
    for name, column in WORDS_OF.items():
        cells[column] = values[name].strip()
    if values["outcome"] == HOT:
        cells["note"] = "; ".join(text for text in (LIFTED_HOT, cells["note"]) if text)
    cells["date"] = cells["date"] or today
    cells["clear_after_s"] = cells["not_clear_after_s"] = ""
    time = "clear_after_s" if values["outcome"] == CLEAR else "not_clear_after_s"
    cells[time] = _text(seconds)
    return cells


def _etched(offcut: Offcut) -> Offcut:
    """Return an offcut with some time [s], which the row then replaces."""
    return Offcut(
        **{
            name: getattr(offcut, name)
            for name in ("acid", "peroxide", "parts", "volume", "board", "tray", "T_bottles")
        },
        time=1.0,
        acid_bottle=offcut.acid_bottle,
        peroxide_bottle=offcut.peroxide_bottle,
    )


def _text(value: float) -> str:
    """Write a number [unit of its column] as a log has it, without the tail of a binary one."""
    text = f"{value:.6g}"
    # three decimals after one to three digits could be thousands
    whole, _, decimals = text.partition(".")
    if len(decimals) == 3 and len(whole) <= 3:
        text += "0"
    return text


def page_words(error: InputError) -> str:
    """Write what is wrong with a row by the labels of the page's fields.

    Examples
    --------
    >>> error = InputError("bath_mL", "it must be above 0", value=0)
    >>> print(page_words(error))
    Bath = 0 cannot be: it must be above 0 mL. Nothing was added.
    """
    unit = ""
    for name, (column, _) in COLUMN_OF.items():
        if column == error.field:
            field = CONTROLS[name]
            assert isinstance(field, Field)
            unit = field.unit
    rule = error.rule
    if unit and unit not in rule:
        rule = f"{rule} {unit}"
    wrong = error.wrong.replace("is impossible", "cannot be")
    words = f"{error.field}{error.about} {wrong}: {rule}. Nothing was added."
    for column, label in LABEL_OF.items():
        words = words.replace(column, label)
    return capitalised(words)
