"""Time and memory for the artwork of a 200 × 150 mm board at 1200 pixels per inch, each in a process of its own.

Each picture is 67 million pixels. Asserted: under 5 s of processor time and under 1 GB at the peak, all of Python
counted. Everything is printed, pass or fail.
"""

import subprocess
import sys

import numpy as np
import pytest
from PIL import Image, ImageDraw

ACROSS, DOWN, MM = 9449, 7087, 1200 / 25.4

CHILD = """
import os, re, resource, sys
from pcbchem.bench.artwork import read_artwork
art = read_artwork(sys.argv[1], black="kept")
used = resource.getrusage(resource.RUSAGE_SELF)
peak = used.ru_maxrss / 1024  # where there is /proc, from there: this one starts at what the parent held
if os.path.exists("/proc/self/status"):
    peak = int(re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1]) / 1024
print(used.ru_utime + used.ru_stime, peak, art.bare, art.trace.width * 1e3, art.gap.width * 1e3)
"""


def fine():
    """Bus lines of 0.25 mm at an angle, pads with holes, a pour with gaps: narrow places all over."""
    picture = Image.new("L", (ACROSS, DOWN), 255)
    draw = ImageDraw.Draw(picture)
    for i in range(120):
        y = (5 + i * 0.55) * MM
        draw.line(
            [(5 * MM, y), (80 * MM, y), (125 * MM, y + 12 * MM)], 0, round(0.25 * MM), joint="curve"
        )
    for i in range(60):
        for j in range(20):
            x, y = (10 + i * 2.54) * MM, (95 + j * 2.54) * MM
            for radius, ink in ((0.95, 0), (0.4, 255)):
                draw.ellipse(
                    [x - radius * MM, y - radius * MM, x + radius * MM, y + radius * MM], ink
                )
    draw.rectangle([130 * MM, 10 * MM, 195 * MM, 80 * MM], 0)
    for i in range(8):
        draw.line(
            [(132 * MM, (15 + 8 * i) * MM), (190 * MM, (20 + 7 * i) * MM)], 255, round(0.4 * MM)
        )
    return picture


def coarse():
    """Nothing under a millimetre: all of it is looked through, then every second, fourth and eighth pixel."""
    picture = Image.new("L", (ACROSS, DOWN), 255)
    draw = ImageDraw.Draw(picture)
    for i in range(45):
        y = (5 + i * 3) * MM
        draw.line(
            [(5 * MM, y), (90 * MM, y), (190 * MM, y + 35 * MM)], 0, round(1.3 * MM), joint="curve"
        )
    return picture


def soft():
    """The fine one as a scanner sees it: grey edges and noise."""
    grey = np.asarray(fine().reduce(2).resize((ACROSS, DOWN), Image.Resampling.BILINEAR)).astype(
        np.int16
    )
    noise = np.random.default_rng(0).integers(-12, 13, (DOWN, 1024), np.int16)
    for left in range(0, ACROSS, 1024):
        grey[:, left : left + 1024] += noise[:, : ACROSS - left]
    return Image.fromarray(np.clip(grey * 0.75 + 40, 0, 255).astype(np.uint8))


@pytest.mark.parametrize(
    "drawn, mode, name",
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
def test_speed_and_memory(drawn, mode, name, tmp_path, capsys):
    path = tmp_path / name
    packed = {"compression": "group4"} if name == "fax.tif" else {}
    drawn().convert(mode).save(path, dpi=(1200, 1200), **packed)
    done = subprocess.run(
        [sys.executable, "-c", CHILD, path], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    seconds, megabytes, bare, trace, gap = (float(word) for word in done.stdout.split())
    with capsys.disabled():
        print(
            f"\n    {drawn.__name__:6} {mode:4} {name:10} {seconds:4.1f} s {megabytes:4.0f} MB   bare {bare:.4f}, "
            f"trace {trace:.3f} mm, gap {gap:.3f} mm",
            end="",
        )
    assert seconds < 5 and megabytes < 1000
