"""Artworks for the tests: rectangles, discs and frames, drawn so that their size is known."""

import numpy as np
from PIL import Image

DPI = 1200
PIXEL = 0.0254 / DPI


def page(width=300, height=260, box=(60, 50, 200, 150)):
    """White paper with one black rectangle."""
    left, top, right, bottom = box
    grey = np.full((height, width), 255, np.uint8)
    grey[top:bottom, left:right] = 0
    return grey


def share_of_page():
    """Black share of the page above: 140 × 100 of 300 × 260 pixels."""
    return 140 * 100 / (300 * 260)


def grid(size):
    """Middles of pixels, x and y."""
    return np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5)


def disc_distance(size, radius, centre):
    """Distance of each pixel from the edge of a disc, negative inside."""
    x, y = grid(size)
    return np.hypot(x - centre[0], y - centre[1]) - radius


def inked(distance, sharp=False):
    """Black where the distance from an edge is negative, grey where the edge cuts a pixel.

    Or no grey at all, where it is to be sharp.
    """
    cover = np.clip(0.5 - distance, 0, 1)
    if sharp:
        cover = cover > 0.5
    return np.round(255 * (1 - cover)).astype(np.uint8)


def disc(size, radius, centre):
    """A black disc, grey along its edge as each pixel is covered."""
    return inked(disc_distance(size, radius, centre))


def framed(thickness, at=20, size=(300, 360), ink=0, paper=255):
    """Paper with a frame so thick and so far from the rim, and a block inside it."""
    rows, columns = size
    inside = at + thickness
    grey = np.full(size, paper, np.uint8)
    grey[at : rows - at, at : columns - at] = ink
    grey[inside : rows - inside, inside : columns - inside] = paper
    grey[120:180, 120:240] = ink
    return grey


def photograph(rows=260, columns=300):
    """A picture that is grey all over."""
    x, y = np.meshgrid(np.linspace(0, 6, columns), np.linspace(0, 6, rows))
    noise = np.random.default_rng(0).normal(0, 12, x.shape)
    return (127 + 90 * np.sin(x) * np.cos(y) + noise).clip(0, 255).astype(np.uint8)


def save(path, grey, dpi=DPI, **options):
    """Save grey values or a picture as a file, with or without a resolution; say where."""
    picture = grey if isinstance(grey, Image.Image) else Image.fromarray(grey)
    if dpi is not None:
        options["dpi"] = (dpi, dpi)
    picture.save(path, **options)
    return path
