"""The planner's panel: fields of a bench made into a plan, and the plan into picture, verdict and words."""

from __future__ import annotations

import functools
import html
import math
import re
from collections.abc import Mapping
from typing import Any

from ...bench.hazards.words import HEADS, OPENING, RULES, bullets, safety, warned
from ...bench.plan import files
from ...bench.plan.inputs import MOST_HELD_BACK, MOST_KEPT, Inputs
from ...bench.plan.planning import Plan
from ...bench.plan.words import asked, course, helps, why
from ...common.limits import collecting_warnings
from ...common.units import L
from ...matter.labels import strength
from ...matter.properties import LIMITS
from ...page.picture import Drawing
from ...page.table import Sheet
from ...page.widget.controls import Choice, Control, Field, Group, Said, flat
from ...page.widget.panel import Panel
from ..pages import PAGE
from ..plan_a_bath import fields as page
from .back_to_fields import fields_of
from .picture import build, show
from .words import words

NAME, SHOP = "This bath", "The workshop's bath"
STARTS = f"{SHOP}, as this page starts: not your inputs."
"""Stands first as long as nobody has entered anything: an exported page, or one reopened, shows nothing else."""
MOST_PARTS = 100
"""Most parts that a field of this page takes [-]."""
NOTATIONS = {
    "acid": {
        "% by weight": "% by weight",
        "degrees Baume": "°Baumé",
        "mol/L": "mol/L",
        "% w/v": "% w/v",
    },
    "peroxide": {
        "% by weight": "% by weight",
        "volume strength": "volumes",
        "mol/L": "mol/L",
        "% w/v": "% w/v",
    },
}
"""How a label may count, with its words on the page."""
SUBSTANCES = {"acid": "HCl", "peroxide": "H2O2"}
SURE = {"label": "as labelled", "between": "between two strengths"}
PLACES = {"EU": "European Union", "GB": "Great Britain", "elsewhere": "elsewhere: ask locally"}
MOVES = {
    "still": "left alone",
    "rocked": "tray rocked",
    "bubbled": "air bubbled through",
    "sprayed": "sprayed",
}
FACES = {"up": "up", "down": "down", "upright": "upright, in a tank"}
SAID = {
    "acid": "Acid",
    "peroxide": "Peroxide",
    "parts": "Parts",
    "total_mL": "Bath in all",
    "board_mm": "Board",
    "bare_percent": "Bare copper",
    "foil_oz": "Copper foil",
    "tray_mm": "Tray",
    "bottles_C": "Bottles and water",
    "air_C": "Air",
    "kept": "A used bath",
    "second": "Peroxide in two portions",
}
"""What the page calls an input that `fields.planned` names."""
WRONG = "No plan yet: one of the inputs cannot be."


def bottle(name: str, start: float, most: float) -> list[Control]:
    """The controls of a bottle: strength, how it is counted and how sure one is of it [unit of its notation]."""
    with collecting_warnings():
        high = max(
            math.ceil(float(strength(LIMITS[SUBSTANCES[name]], notation, SUBSTANCES[name])))
            for notation in NOTATIONS[name]
        )
    return [
        Field(name, f"{name}, strength", "", 0, high, 0.5, start),
        Field(
            f"{name}_to",
            f"{name}, at most",
            "",
            0,
            high,
            0.5,
            most,
            when=(f"{name}_sure", ("between",)),
        ),
        Choice(f"{name}_in", f"{name} in", NOTATIONS[name], "% by weight"),
        Choice(f"{name}_sure", f"{name} known", SURE, "label"),
    ]


def groups() -> list[Group]:
    """The planner's fields, from top to bottom; what is rarely used is folded; it starts with the workshop's bath."""
    part = {
        name: Field(f"{name}_parts", name, "parts", 0, MOST_PARTS, 0.5, start)
        for name, start in (("water", 0), ("acid", 1), ("peroxide", 1))
    }
    used = (
        ("copper", page.GRAM_PER_LITRE, "g/L"),
        ("acid", 1 / L, "mol/L"),
        ("peroxide", 1 / L, "mol/L"),
    )
    held = [
        Field(
            f"kept_{name}{end}",
            f"its {name}, at {word}",
            unit,
            0,
            round(MOST_KEPT[name] / scale, 6),
            0.1,
            None,
        )
        for name, scale, unit in used
        for end, word in (("", "least"), ("_to", "most"))
    ]
    return [
        Group(
            "On the bench: bottles",
            [
                Choice("place", "whose rules", PLACES, "EU"),
                *bottle("acid", 10, 11),
                *bottle("peroxide", 12, 12),
            ],
        ),
        Group(
            "The bath",
            [*part.values(), Field("total", "bath in all", "mL", 0, page.MOST_BATH, 5, 150)],
        ),
        Group(
            "The board",
            [
                Field(
                    "board_width",
                    "board, width",
                    "mm",
                    page.SHORTEST_SIDE,
                    page.LONGEST_SIDE,
                    1,
                    75,
                ),
                Field(
                    "board_height",
                    "board, height",
                    "mm",
                    page.SHORTEST_SIDE,
                    page.LONGEST_SIDE,
                    1,
                    60,
                ),
                Field("bare", "bare, to be etched", "%", 0, 100, 5, 60),
                Field("foil", "copper foil", "oz", 0, page.MOST_FOIL, 0.5, 1),
            ],
        ),
        Group(
            "Tray and warmth",
            [
                Field("air", "air", "°C", *page.AIR, 1, 20),
                Field("bottles", "bottles and water", "°C", *page.BOTTLES, 1, 20),
                Choice("agitation", "the bath is", MOVES, "rocked"),
                Choice("facing", "copper looks", FACES, "up"),
                Field("tray_width", "tray, width", "mm", 0, page.LONGEST_SIDE, 5, None),
                Field("tray_length", "tray, length", "mm", 0, page.LONGEST_SIDE, 5, None),
            ],
            folded=True,
        ),
        Group(
            "A used bath, topped up",
            [Field("kept", "used, share of the whole", "%", 0, 100, 5, 0), *held],
            folded=True,
        ),
        Group(
            "Peroxide in two portions",
            [
                Field("held_back", "peroxide held back", "%", 0, 100 * MOST_HELD_BACK, 5, 0),
                Field("held_until", "poured after", "min", *page.WAIT, 0.5, 3),
            ],
            folded=True,
        ),
    ]


def asked_of(values: Mapping[str, Any]) -> dict[str, Any]:
    """The controls' values as `fields.planned` takes them [units there], or ValueError where the page knows better."""
    v = values
    found = {
        name: (v[name], v[f"{name}_in"])
        if v[f"{name}_sure"] == "label"
        else (v[name], v[f"{name}_to"], v[f"{name}_in"])
        for name in SUBSTANCES
    }
    tray = (v["tray_width"], v["tray_length"])
    if (tray[0] is None) != (tray[1] is None):
        raise ValueError("tray_mm: give both its width and its length, or leave both blank")
    if tray[0] is None and v["facing"] == "upright":
        raise ValueError(
            "tray_mm: an upright board stands in a tank: give the tank's width and length"
        )
    kept = tuple(
        (v[f"kept_{name}"], v[f"kept_{name}_to"]) for name in ("copper", "acid", "peroxide")
    )
    blank = [
        f"its {name}, at {word}"
        for name, ends in zip(("copper", "acid", "peroxide"), kept, strict=True)
        for word, value in zip(("least", "most"), ends, strict=True)
        if value is None
    ]
    if v["kept"] and blank:
        raise ValueError(f"kept: fill in what yours holds: {'; '.join(blank)}")
    return {
        **found,
        "parts": (v["water_parts"], v["acid_parts"], v["peroxide_parts"]),
        "total_mL": v["total"],
        "place": v["place"],
        "board_mm": (v["board_width"], v["board_height"]),
        "bare_percent": v["bare"],
        "foil_oz": v["foil"],
        "agitation": v["agitation"],
        "facing": v["facing"],
        "tray_mm": None if tray[0] is None else tray,
        "bottles_C": v["bottles"],
        "air_C": v["air"],
        "kept": (v["kept"], *kept) if v["kept"] else None,
        "second": (v["held_back"], v["held_until"]) if v["held_back"] else None,
    }


def values_of(given: Inputs) -> dict[str, Any]:
    """The controls' values that make these inputs again, for a file that is opened or for a link from another page.

    Parameters
    ----------
    given : Inputs
        From a file, or from the package's own calls [SI].

    Returns
    -------
    dict
        Every control's value by name [% by weight, parts, mL, mm, %, oz, °C, g/L, mol/L, min].

    Raises
    ------
    ValueError
        Inputs that no field can say.
    """
    asked = fields_of(given)
    if max(asked["parts"]) > MOST_PARTS:
        raise ValueError(
            f"parts = {asked['parts']} have no field here, where each is at most {MOST_PARTS}: open this "
            "file in Python, with Plan.open"
        )
    found: dict[str, Any] = {control.name: control.start for control in flat(groups())}
    for name in SUBSTANCES:
        *ends, notation = asked[name]
        found |= {
            name: ends[0],
            f"{name}_in": notation,
            f"{name}_sure": "label" if len(ends) == 1 else "between",
        }
        found |= {f"{name}_to": ends[1]} if len(ends) == 2 else {}
    found |= dict(zip(("water_parts", "acid_parts", "peroxide_parts"), asked["parts"], strict=True))
    found |= dict(zip(("board_width", "board_height"), asked["board_mm"], strict=True))
    found |= {
        "total": asked["total_mL"],
        "bare": asked["bare_percent"],
        "foil": asked["foil_oz"],
        "bottles": asked["bottles_C"],
        "air": asked["air_C"],
    }
    found |= {name: asked[name] for name in ("place", "agitation", "facing")}
    if asked["tray_mm"]:
        found |= dict(zip(("tray_width", "tray_length"), asked["tray_mm"], strict=True))
    if asked["kept"]:
        share, *held = asked["kept"]
        found |= {"kept": share} | {
            f"kept_{name}{end}": value
            for name, ends in zip(("copper", "acid", "peroxide"), held, strict=True)
            for end, value in zip(("", "_to"), ends, strict=True)
        }
    if asked["second"]:
        found |= dict(zip(("held_back", "held_until"), asked["second"], strict=True))
    return found


def in_page_words(error: str) -> str:
    """What `fields.planned` says of an input, with the page's own names for it.

    Examples
    --------
    >>> print(in_page_words("total_mL = 0 is impossible: it must be above 0 to 1e+06 mL"))
    Bath in all = 0 cannot be: it must be above 0 to 1e+06 mL
    """
    said = error.split("; use a point")[0]
    said = re.sub(r"; (tray|board)_mm counts.*", "", said)
    return re.sub(rf"^({'|'.join(SAID)})\b", lambda found: SAID[found[1]], said).replace(
        " is impossible", " cannot be"
    )


@functools.lru_cache(maxsize=8)
def known(asked: tuple[tuple[str, Any], ...]) -> Plan:
    """The plan of those fields; the last few are kept, so that picture, words and file ask once."""
    return page.planned(**dict(asked))


def plan_of(values: Mapping[str, Any]) -> Plan:
    """The plan of the controls' values [units of the controls]; ValueError: an input that cannot be."""
    return known(tuple(asked_of(values).items()))


def html_of(markdown: str) -> str:
    """Markdown of the package's own words as HTML."""
    import mistune

    return str(mistune.create_markdown(escape=False)(markdown))


def head(plan: Plan) -> str:
    """The verdict as a heading, what to see to before anything is poured, the reasons, and what would help."""
    first = f"<p><strong>{safety(plan.refused).replace(' °C', '&nbsp;°C')}</strong></p>"
    reasons = (
        bullets(why(plan))
        or "No rule of ours is passed. That is no permission: your local rules come first."
    )
    said = html_of("\n\n".join([reasons, *helps(plan)]))
    verdict = f'<h3 style="margin:.2rem 0">{html.escape(HEADS[plan.verdict])}</h3>'
    return f'{verdict}{first}<div style="min-height:4rem">{said}</div>'


def notes(plan: Plan) -> str:
    """The plan's other words: cautions to read first, what to pour and what it does, a table, the other cautions."""
    first = [caution for caution in plan.cautions if caution.first]
    rest = [caution for caution in plan.cautions if not caution.first]
    before = warned(first, OPENING[plan.refused], True)
    body = html_of("\n\n".join([*before, RULES, asked(plan.inputs), *course(plan)]))
    table = Sheet(
        plan.to_frame(), caption="8 of 10 plausible baths lie between low end and high end"
    )._repr_html_()
    more = html_of("\n\n".join(warned(rest, "Cautions", True)))
    return (
        f"{body}<details><summary>The numbers in a table</summary>{table}</details>"
        f"<details><summary>The other {len(rest)} cautions for these bottles</summary>{more}</details>"
    )


def say(drawing: Drawing, **values: Any) -> Said:
    """The plan of the controls' values drawn and said; an input that cannot be is named in the page's words."""
    try:
        plan = plan_of(values)
    except ValueError as error:
        wrong = in_page_words(str(error))
        return Said(WRONG, f"{WRONG} {wrong}.", wrong=wrong)
    if all(values[control.name] == control.start for control in flat(groups())):
        show(drawing, plan, SHOP)
        readout, alt = words(plan, SHOP)
        return Said(
            f"{SHOP}. {readout}",
            alt,
            f"<p>{html.escape(STARTS, quote=False)}</p>{head(plan)}",
            notes(plan),
        )
    show(drawing, plan, NAME)
    readout, alt = words(plan, NAME)
    return Said(readout, alt, head(plan), notes(plan))


def planner() -> Panel:
    """The planner as a page shows it: fields, verdict, picture and words, and inputs kept in a file.

    Returns
    -------
    Panel
        It starts with the workshop's mild bath; a page that links to it may fill it in.
    """
    return Panel(
        "Planner: what this mixture does to my board",
        groups(),
        build,
        say,
        files=(
            lambda **values: files.text_of(plan_of(values).inputs),
            lambda text: values_of(files.inputs_from_text(text)),
        ),
        receives=PAGE,
    )
