"""Pictures of the pages' first panels, from the running pages: `python tests/house/pictures.py`."""

import io
import os
import sys
import tempfile
from pathlib import Path

from PIL import Image, ImageColor

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from browser.eyes import loaded, no_errors  # noqa: E402
from browser.hands import run_all  # noqa: E402
from browser.opening import browsing, chromium, opening, serving  # noqa: E402

from pcbchem.page.picture import LINE, SHADE  # noqa: E402
from pcbchem.page.school import NO_AMOUNTS  # noqa: E402

FOLDER = ROOT / "notebooks" / "pictures"
WIDTH = 900  # of a stored picture [px]
MOST = 60_000  # of a stored picture [bytes]
WINDOW = {"width": 1366, "height": 1600}
SHORT, MARGIN = 600, 10  # a panel so high is shown whole; else so much under its drawing [px]
GREYS = (26, 52, 78, 104, 130, 156, 182, 208, 234, 255)
PALE = (0.0, 0.33, 0.67)  # how far the pictures' two blues go to white where an edge is soft [-]


def tones():
    """Return every tone of a stored picture, red, green and blue of each: so few make it small."""
    values = [tone for grey in GREYS for tone in (grey, grey, grey)]
    for blue in (LINE, SHADE):
        for pale in PALE:
            values += [round(tone + pale * (255 - tone)) for tone in ImageColor.getrgb(blue)]
    return values


SCREENS = ("00_plan_a_bath", "04_why_water_slows_it")
"""Pages whose first panel is shown as it opens: a picture in the README tells no answer."""


def small(png):
    """Return a screen [PNG] in a stored picture's width and colours."""
    with Image.open(io.BytesIO(png)) as shot:
        whole = shot.convert("RGB")
    size = (WIDTH, round(WIDTH * whole.height / whole.width))
    whole = whole.resize(size, Image.Resampling.LANCZOS)
    out = io.BytesIO()
    palette = Image.new("P", (1, 1))
    palette.putpalette(tones())
    whole.quantize(palette=palette, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def first_panel(page):
    """Return the first panel of a page [PNG], down to the foot of its drawing and of its words."""
    panel = page.locator(".pcbchem-panel").first
    img = panel.locator("img")
    loaded(img)
    panel.evaluate("e => { document.activeElement.blur(); e.scrollIntoView({ block: 'start' }); }")
    no_errors(page)
    box, drawing = panel.bounding_box(), img.bounding_box()
    foot_of_drawing = drawing["y"] + drawing["height"] + MARGIN
    foot_of_words = box["y"] + min(box["height"], SHORT)
    height = max(foot_of_drawing, foot_of_words) - box["y"]
    return page.screenshot(clip={**box, "height": height}, animations="disabled")


def main():
    """Make each picture again and say how large it is."""
    if not chromium():
        raise SystemExit("pictures need Chromium: install it or set CHROMIUM")
    FOLDER.mkdir(exist_ok=True)
    os.environ[NO_AMOUNTS] = "1"  # a picture in the README is no place for a bath's amounts
    with (
        tempfile.TemporaryDirectory() as home,
        serving(Path(home)) as server,
        browsing(Path(home) / "profile") as browser,
        opening(server, browser) as open_page,
    ):
        for name in SCREENS:
            page = open_page(f"{name}.ipynb")
            page.set_viewport_size(WINDOW)
            run_all(page)
            png = small(first_panel(page))
            if len(png) > MOST:
                raise SystemExit(f"{name}: {len(png)} bytes are too many: at most {MOST}")
            (FOLDER / f"{name}.png").write_bytes(png)
            print(f"notebooks/pictures/{name}.png", f"{len(png) / 1000:.0f} kB")


if __name__ == "__main__":
    main()
