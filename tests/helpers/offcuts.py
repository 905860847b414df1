"""Offcuts of the workshop's two bottles, rows and files of a log, for the tests of calibration."""

import codecs
import csv
import io

import numpy as np

from pcbchem import Board, Bottle, Foil, Tray
from pcbchem.bench.offcut.likelihood import bottles_of
from pcbchem.bench.offcut.log_layout import COLUMNS, WORDS
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.bench.plan.inputs import Inputs

ACID, PEROXIDE = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
BOARD = Inputs(ACID, PEROXIDE, (0, 1, 1), Board(area=27e-4), Tray(), 150e-6 / 27e-4, "EU")


def offcut(water=0.0, time=None, **more):
    """An offcut of 4 cm² in 30 mL, with so many parts of water [-] and the time seen [s]."""
    return Offcut(
        ACID, PEROXIDE, (water, 1, 1), 30e-6, Board(area=4e-4), Tray(), 293.15, time, **more
    )


def strengths_of(offcuts, seed=0):
    """Strengths of the offcuts' bottles [kg/kg], 400 of each."""
    return {
        name: np.asarray(bottle.strengths(400, seed + number))
        for number, (name, bottle) in enumerate(bottles_of(offcuts).items())
    }


def width(band):
    """Width of a band of times, as a logarithm [-]."""
    return float(np.log(band.high / band.low))


# ---- offcuts and rows of a log

MILD = {
    "acid": Bottle("HCl", 0.09, 0.11),
    "peroxide": Bottle("H2O2", 0.085, 0.12),
    "parts": (1, 1, 1.5),
    "volume": 50e-6,
    "board": Board(area=5e-4),
    "tray": Tray(),
    "T_bottles": 293.15,
    "time": 240.0,
}


def mild(**changes):
    """An offcut as in the first row of a log, some of it changed."""
    return Offcut(**{**MILD, **changes})


def fields_of(offcut):
    """Every field to its last bit, taken apart without the modules under test."""
    tray = offcut.tray
    numbers = (
        offcut.acid.low,
        offcut.acid.high,
        offcut.peroxide.low,
        offcut.peroxide.high,
        *offcut.parts,
        offcut.volume,
        offcut.board.area,
        offcut.board.foil.areal_mass,
        tray.open_area,
        offcut.T_bottles,
        tray.T_air,
        offcut.time,
    )
    words = (tray.agitation, tray.facing, offcut.acid_bottle, offcut.peroxide_bottle, offcut.date)
    bits = ["" if number is None else float(number).hex() for number in numbers]
    return (*bits, offcut.clear, *words, offcut.note)


ROW = {
    "date": "25.11.",
    "acid_bottle": "acid",
    "acid_low_percent": "9",
    "acid_high_percent": "11",
    "peroxide_bottle": "peroxide",
    "peroxide_low_percent": "8.5",
    "peroxide_high_percent": "12",
    "water_parts": "1",
    "acid_parts": "1",
    "peroxide_parts": "1.5",
    "bath_mL": "50",
    "bare_cm2": "5",
    "foil_g_per_m2": "305",
    "agitation": "rocked",
    "facing": "up",
    "open_cm2": "30",
    "bottles_C": "20",
    "air_C": "21.5",
    "clear_after_s": "240",
    "not_clear_after_s": "",
    "note": "lamp on",
}
"""A good row, typed by hand."""


def text_of(*rows):
    """A log as the standard library writes one."""
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


# ---- files of a log as spreadsheets save them

ROWS = (
    Offcut(
        Bottle("HCl", 0.09, 0.115),
        Bottle("H2O2", 0.085, 0.12),
        (1, 1, 1.25),
        52.5e-6,
        Board(area=5.5e-4),
        Tray("rocked", "up", 30e-4, 294.65),
        293.15,
        240.5,
        date="2026-11-25",
        note="lamp on; warm, but slow",
    ),
    Offcut(
        Bottle("HCl", 0.09, 0.115),
        Bottle("H2O2", 0.02, 0.03),
        (0, 1, 2),
        101.25e-6,
        Board(area=5e-4),
        Tray("still", "upright"),
        288.15,
        600,
        False,
        peroxide_bottle="old, brown",
    ),
    Offcut(
        Bottle("HCl", 0.3, 0.32),
        Bottle("H2O2", 0.085, 0.12),
        (10, 1, 3),
        1 / 3 * 1e-4,
        Board(area=1e-4, foil=Foil(0.1525)),
        Tray("bubbled"),
        293.3,
        77,
        acid_bottle="Säure 30",
        note='a "burr" of 5", seen late',
    ),
)
"""Three rows with all that makes reading hard."""
NEW = Offcut(
    Bottle("HCl", 0.1, 0.1),
    Bottle("H2O2", 0.1, 0.1),
    (1, 1, 1),
    20.125e-6,
    Board(area=2.5e-4),
    Tray(),
    293.15,
    123.5,
    acid_bottle="new A",
    peroxide_bottle="new P",
    date="25.11.",
    note='new\nrow; with, all "signs"',
)
"""One more row, to be added."""


def layout(
    delimiter=",", mark=".", line_end="\n", encoding="utf-8", columns=COLUMNS, quoted=False, empty=0
):
    """How a program writes a file; `empty`: so many columns without a name at the end."""
    return {
        "delimiter": delimiter,
        "mark": mark,
        "line_end": line_end,
        "encoding": encoding,
        "columns": list(columns),
        "quoted": quoted,
        "empty": empty,
    }


TIME_LAST = [name for name in COLUMNS if name != "clear_after_s"] + ["clear_after_s"]
LAYOUTS = {
    "ours": layout(),
    "semicolons": layout(";", ",", "\r\n", "utf-8-sig"),
    "semicolons and points": layout(";", "."),
    "tabs": layout("\t", ",", "\r\n", "utf-16-le"),
    "tabs and points": layout("\t", ".", "\n", "utf-16-be"),
    "quoted commas": layout(",", ",", "\r\n", quoted=True),
    "old lines": layout(";", ",", "\r"),
    "other order": layout(columns=[*COLUMNS[5:], *COLUMNS[:5]]),
    "backwards": layout(";", ",", columns=COLUMNS[::-1], quoted=True),
    "time last": layout(";", ",", columns=TIME_LAST),
    "empty columns": layout(";", ",", "\r\n", empty=4),
    "all quoted": layout("\t", ".", quoted=True, empty=1),
}
BYTE_ORDER_MARKS = {
    "utf-8": b"",
    "utf-8-sig": codecs.BOM_UTF8,
    "utf-16-le": codecs.BOM_UTF16_LE,
    "utf-16-be": codecs.BOM_UTF16_BE,
}


def encoding_of(how):
    """The encoding of a layout without its byte-order mark."""
    return how["encoding"].replace("-sig", "")


def file_of(how, rows=ROWS, end=""):
    """A file as a program that writes like this would save it, made cell by cell."""
    lines = [how["delimiter"].join(how["columns"] + [""] * how["empty"])]
    for row in rows:
        cells = cells_in(how, cells_by_hand(row))
        cells = [quote(how, cells[name]) for name in how["columns"]]
        lines.append(how["delimiter"].join(cells) + how["delimiter"] * how["empty"])
    text = how["line_end"].join(lines) + how["line_end"] + end
    return BYTE_ORDER_MARKS[how["encoding"]] + text.encode(encoding_of(how))


def cells_in(how, cells):
    """The texts of a row with the decimal mark of a layout."""
    return {
        name: text if name in WORDS else text.replace(".", how["mark"])
        for name, text in cells.items()
    }


def quote(how, cell):
    """A cell in quotation marks where a layout wants or needs them."""
    if how["quoted"] or '"' in cell or how["delimiter"] in cell or "\n" in cell:
        return '"' + cell.replace('"', '""') + '"'
    return cell


def cells_by_hand(offcut):
    """The texts of a row by column in 15 digits, made without the modules under test."""
    tray = offcut.tray
    numbers = {
        "acid_low_percent": offcut.acid.low * 100,
        "acid_high_percent": offcut.acid.high * 100,
        "peroxide_low_percent": offcut.peroxide.low * 100,
        "peroxide_high_percent": offcut.peroxide.high * 100,
        "water_parts": offcut.parts[0],
        "acid_parts": offcut.parts[1],
        "peroxide_parts": offcut.parts[2],
        "bath_mL": offcut.volume * 1e6,
        "bare_cm2": offcut.board.area * 1e4,
        "foil_g_per_m2": offcut.board.foil.areal_mass * 1e3,
        "open_cm2": None if tray.open_area is None else tray.open_area * 1e4,
        "bottles_C": offcut.T_bottles - 273.15,
        "air_C": None if tray.T_air is None else tray.T_air - 273.15,
        "clear_after_s": offcut.time if offcut.clear else None,
        "not_clear_after_s": None if offcut.clear else offcut.time,
    }
    words = {
        "date": offcut.date,
        "acid_bottle": offcut.acid_bottle,
        "peroxide_bottle": offcut.peroxide_bottle,
        "agitation": tray.agitation,
        "facing": tray.facing,
        "note": offcut.note,
    }
    texts = {
        name: "" if number is None else f"{float(number):.15g}" for name, number in numbers.items()
    }
    return {name: {**texts, **words}[name] for name in COLUMNS}
