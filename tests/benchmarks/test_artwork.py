"""Time and memory for the artwork of a 200 × 150 mm board at 1200 pixels per inch.

Each picture is 67 million pixels, and read in a process of its own. Asserted: under 5 s of
processor time and under 1 GB at the peak, all of Python counted. Everything is printed, pass or
fail.
"""

import subprocess
import sys

import numpy as np
import pytest
from PIL import Image, ImageDraw

COLUMNS, ROWS = 9449, 7087
MM = 1200 / 25.4
"""Pixels in a millimetre."""
BLACK, WHITE = 0, 255
MOST_SECONDS, MOST_MEGABYTES = 5, 1000

CHILD = """
import os, re, resource, sys
from pcbchem.bench.artwork import read_artwork
art = read_artwork(sys.argv[1], black="used_bath")
used = resource.getrusage(resource.RUSAGE_SELF)
peak = used.ru_maxrss / 1024  # where there is /proc, from there: this starts at the parent's
if os.path.exists("/proc/self/status"):
    peak = int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1]) / 1024
print(used.ru_utime + used.ru_stime, peak)
print(art.bare, art.trace.width * 1e3, art.gap.width * 1e3)
"""


def blank():
    picture = Image.new("L", (COLUMNS, ROWS), WHITE)
    return picture, ImageDraw.Draw(picture)


def draw_line(draw, points, width, colour=BLACK):
    """A line through points, all in mm."""
    pixels = [(x * MM, y * MM) for x, y in points]
    draw.line(pixels, colour, round(width * MM), joint="curve")


def draw_disc(draw, x, y, radius, colour):
    """A disc, all in mm."""
    ends = (x - radius, y - radius, x + radius, y + radius)
    draw.ellipse([end * MM for end in ends], colour)


def fine():
    """Bus lines of 0.25 mm at an angle, pads with holes, a pour with gaps: narrow everywhere."""
    picture, draw = blank()
    for number in range(120):
        y = 5 + number * 0.55
        draw_line(draw, [(5, y), (80, y), (125, y + 12)], 0.25)
    for column in range(60):
        for row in range(20):
            x, y = 10 + column * 2.54, 95 + row * 2.54
            draw_disc(draw, x, y, 0.95, BLACK)
            draw_disc(draw, x, y, 0.4, WHITE)
    draw.rectangle([130 * MM, 10 * MM, 195 * MM, 80 * MM], BLACK)
    for number in range(8):
        draw_line(draw, [(132, 15 + 8 * number), (190, 20 + 7 * number)], 0.4, WHITE)
    return picture


def coarse():
    """Nothing under a millimetre: all pixels are looked at, then every second, fourth … one."""
    picture, draw = blank()
    for number in range(45):
        y = 5 + number * 3
        draw_line(draw, [(5, y), (90, y), (190, y + 35)], 1.3)
    return picture


def soft():
    """The fine one as a scanner sees it: grey edges and noise."""
    blurred = fine().reduce(2).resize((COLUMNS, ROWS), Image.Resampling.BILINEAR)
    grey = np.asarray(blurred).astype(np.int16)
    noise = np.random.default_rng(0).integers(-12, 13, (ROWS, 1024), np.int16)
    for left in range(0, COLUMNS, 1024):
        grey[:, left : left + 1024] += noise[:, : COLUMNS - left]
    return Image.fromarray(np.clip(grey * 0.75 + 40, 0, 255).astype(np.uint8))


@pytest.mark.parametrize(
    "artwork, mode, name",
    [
        (fine, "1", "bit.png"),
        (fine, "L", "grey.png"),
        (fine, "RGB", "colour.png"),
        (fine, "RGBA", "clear.png"),
        (fine, "1", "fax.tif"),
        (coarse, "L", "coarse.png"),
        (coarse, "RGB", "coarse.tif"),
        (soft, "L", "scan.png"),
    ],
)
def test_speed_and_memory(artwork, mode, name, tmp_path, capsys):
    path = tmp_path / name
    options = {"compression": "group4"} if name == "fax.tif" else {}
    artwork().convert(mode).save(path, dpi=(1200, 1200), **options)
    child = subprocess.run(
        [sys.executable, "-c", CHILD, path], capture_output=True, text=True, check=False
    )
    assert child.returncode == 0, child.stderr
    seconds, megabytes, bare, trace, gap = (float(word) for word in child.stdout.split())
    with capsys.disabled():
        print(
            f"\n    {artwork.__name__:6} {mode:4} {name:10} {seconds:4.1f} s {megabytes:4.0f} MB"
            f"   bare {bare:.4f}, trace {trace:.3f} mm, gap {gap:.3f} mm",
            end="",
        )
    assert seconds < MOST_SECONDS and megabytes < MOST_MEGABYTES
