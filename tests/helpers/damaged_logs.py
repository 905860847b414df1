"""Logs as broken disks and careless editors leave them, and what reading them must give."""

import codecs
import random
import re

from helpers.offcuts import LAYOUTS, ROWS, fields_of, file_of
from pcbchem.bench.offcut.log import read_log
from pcbchem.bench.offcut.log_layout import COLUMNS

SIGNS = (b'"', b";", b",", b"\t", b"\r", b"\n", b"\0" * 9, b"\xff", b'""', b"\xc3")
SWAPS = (
    (b".", b","),
    (b",", b";"),
    (b";", b","),
    (b",", b"."),
    (b"\n", b"\r\n"),
    (b"\r", b""),
    (b'"', b""),
    (b"\t", b"  "),
)
NO_CELLS = (b"nan", b"1e999", b"-1", b"1.234,5", b"1,234", b"=1+1", b"\xe2\x88\x92")


def damaged(chance, data):
    """A file after one of the things that happen to files."""
    header = (data.find(b"\n") + 1) * (chance.random() < 0.9)  # most often below it
    at = chance.randrange(min(header, len(data) - 1), len(data)) if data else 0
    before, after = data[:at], data[at:]
    lines = data.split(b"\n")
    kind = chance.randrange(20) - 4
    if kind < 4:  # a bit is turned
        bit = bytes([data[at] ^ 1 << chance.randrange(8)]) if data else b""
        return before + bit + after[1:]
    if kind == 4:  # the rest is lost
        return before
    if kind == 5:  # a piece is lost
        return before + after[chance.randrange(1, 40) :]
    if kind == 6:
        return before + chance.choice(SIGNS) + after
    if kind == 7:
        return data.replace(*chance.choice(SWAPS))
    if kind == 8:
        letter = chance.choice([b"x", b"9", b'"', b","])
        return before + letter * chance.choice([300, 140_000]) + after
    if kind == 9:
        return before + chance.randbytes(chance.randrange(1, 300)) + after
    if kind == 10:
        chance.shuffle(lines)
        return b"\n".join(lines)
    if kind == 11:
        return data + chance.choice(lines) + chance.choice([b"", b"\n", b"\r\n"])
    if kind == 12:  # two columns change their names
        first, second = (name.encode() for name in chance.sample(COLUMNS, 2))
        without = data.replace(first, b"\1", 1).replace(second, first, 1)
        return without.replace(b"\1", second, 1)
    if kind == 13:
        name = chance.choice(COLUMNS).encode()
        return data.replace(name, chance.choice([b"", b"Note", b"bath"]), 1)
    if kind == 14:
        return before + chance.choice(NO_CELLS) + after
    middle = len(data) // 2
    return chance.choice([chance.randbytes(400), data[middle:] + data[:middle], data * 2])


def lines_unaccounted(data, log):
    """Lines of a file that neither begin a row, good or bad, nor go on with one."""
    mark, encoding = b"", "utf-8"
    for each, name in (
        (codecs.BOM_UTF8, "utf-8"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    ):
        if data.startswith(each):
            mark, encoding = each, name
    lines = re.split("\r\n|\r|\n", data[len(mark) :].decode(encoding, "replace"))
    filled = [
        number
        for number, line in enumerate(lines, 1)
        if line.strip(' \t,;"\v\f\x1c\x1d\x1e\x1f\x85\xa0\u2028\u2029')
    ]
    named = {*log.lines, *(line for line, _ in log.bad)}
    assert len(named) == len(log.lines) + len(log.bad), "a row is both good and bad"
    goes_on, left = False, []
    header = filled[0]
    for number, line in enumerate(lines[header:], header + 1):
        if number in named:
            goes_on = line.count('"') % 2 == 1
        else:
            if number in filled and not goes_on:
                left.append((number, line))
            goes_on ^= line.count('"') % 2 == 1
    return left


def rows_unchanged(clean, data, log):
    """Of a file in which bytes were changed below the header: line and fields of untouched rows."""
    old, new = clean.split(b"\n"), data.split(b"\n")
    line_ends = [(each.count(b"\r"), each.count(b"\n")) for each in (data, clean)]
    if len(data) != len(clean) or line_ends[0] != line_ends[1]:
        return []
    if len(old) <= 2 or old[0] != new[0]:
        return []
    return [
        (line, fields_of(offcut))
        for line, offcut in zip(log.lines, log.offcuts, strict=True)
        if old[line - 1] == new[line - 1]
    ]


def read_damaged(path, numbers):
    """Read damaged logs, check each, and count what came out."""
    count = dict.fromkeys(("log", "refused", "bad", "good", "unchanged"), 0)
    files = []
    for how in LAYOUTS.values():
        for first in range(3):
            clean = file_of(how, (ROWS[first], ROWS[first - 1]))
            path.write_bytes(clean)
            fields = [fields_of(each) for each in read_log(path).offcuts]
            files.append((clean, dict(zip((2, 3), fields, strict=True))))
    for number in numbers:
        chance = random.Random(number)
        clean, fields = files[number % len(files)]
        data = clean
        for _ in range(chance.randrange(1, 4)):
            data = damaged(chance, data)
        path.write_bytes(data)
        try:
            log = read_log(path)
        except ValueError as error:
            assert str(error).startswith("log.csv: ") and len(str(error)) < 600, (number, error)
            count["refused"] += 1
            continue
        assert lines_unaccounted(data, log) == [], number
        assert log.lines == tuple(sorted(log.lines)), number
        assert all(len(reason) < 400 for _, reason in log.bad), number
        unchanged = rows_unchanged(clean, data, log)
        assert all(fields[line] == now for line, now in unchanged), number
        assert path.read_bytes() == data, number
        count["log"] += 1
        count["bad"] += len(log.bad)
        count["good"] += len(log.offcuts)
        count["unchanged"] += len(unchanged)
    return count
