"""Pictures of the pages' first panels, made anew from the running pages: `python tests/house/pictures.py`."""

import io
import sys
import tempfile
from pathlib import Path

from PIL import Image, ImageColor
from playwright.sync_api import expect

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from browser.hands import loaded, no_errors, predict, run_all  # noqa: E402
from browser.opening import browsing, chromium, opening, serving  # noqa: E402

from pcbchem.page.picture import LINE, SHADE  # noqa: E402

FOLDER = ROOT / "notebooks" / "pictures"
WIDE = 900  # of a stored picture [px]
MOST = 60_000  # of a stored picture [bytes]
WINDOW = {"width": 1366, "height": 1600}
SHORT, MARGIN = 600, 10  # a panel so high is shown whole; else so much under its drawing [px]
PALE = (0.0, 0.33, 0.67)  # how far the pictures' two blues go to white where an edge is soft [-]
PALETTE = [
    *([grey] * 3 for grey in (26, 52, 78, 104, 130, 156, 182, 208, 234, 255)),
    *(
        [round(tone + pale * (255 - tone)) for tone in ImageColor.getrgb(blue)]
        for blue in (LINE, SHADE)
        for pale in PALE
    ),
]


def planned(page):
    """The planner as it opens: the workshop's bath."""


def predicted(page):
    """The page on water after a prediction, with so much water on the slider as the question asks about."""
    predict(page, "×2–3")
    panel = page.locator(".lesson-panel:has(img)").first
    expect(panel.locator(".guess")).to_be_visible()
    water = panel.get_by_role("textbox", name="Water (parts), number", exact=True)
    water.fill("1.2")
    water.press("Enter")
    expect(panel.locator("output")).to_contain_text("1.2 parts of water")


SCREENS = {"00_plan_a_bath": planned, "04_why_water_slows_it": predicted}


def small(png):
    """A screen [PNG] of a stored picture's width and colours."""
    with Image.open(io.BytesIO(png)) as shot:
        whole = shot.convert("RGB")
    whole = whole.resize((WIDE, round(WIDE * whole.height / whole.width)), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    palette = Image.new("P", (1, 1))
    palette.putpalette([tone for colour in PALETTE for tone in colour])
    whole.quantize(palette=palette, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def taken(page):
    """The first panel of a page [PNG], down to the foot of its drawing and of its words."""
    panel = page.locator(".lesson-panel:has(img)").first
    img = panel.locator("img")
    loaded(img)
    panel.evaluate("e => { document.activeElement.blur(); e.scrollIntoView({ block: 'start' }); }")
    no_errors(page)
    box, drawn = panel.bounding_box(), img.bounding_box()
    low = max(
        drawn["y"] + drawn["height"] + MARGIN, min(box["y"] + box["height"], box["y"] + SHORT)
    )
    return page.screenshot(clip={**box, "height": low - box["y"]}, animations="disabled")


def main():
    """Make each picture again and say how large it is."""
    if not chromium():
        raise SystemExit("pictures need Chromium: install it or set CHROMIUM")
    FOLDER.mkdir(exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as home,
        serving(Path(home)) as server,
        browsing(Path(home) / "profile") as browser,
        opening(server, browser) as open_page,
    ):
        for name, done in SCREENS.items():
            page = open_page(f"{name}.ipynb")
            page.set_viewport_size(WINDOW)
            run_all(page)
            done(page)
            made = small(taken(page))
            if len(made) > MOST:
                raise SystemExit(f"{name}: {len(made)} bytes are too many: at most {MOST}")
            (FOLDER / f"{name}.png").write_bytes(made)
            print(f"notebooks/pictures/{name}.png", f"{len(made) / 1000:.0f} kB")


if __name__ == "__main__":
    main()
