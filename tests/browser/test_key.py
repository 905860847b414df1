"""The key for a class, printed: A4, as few pages as it needs, each with a head (law)."""

import re
import zlib

import pytest

from pcbchem.lesson.key import write_key

A4 = (595, 842)  # pt
FEW = 12
"""Figures in a PDF that name the first three letters of a page: "Key"."""
MOST_PAGES = {15: 4, 40: 8}


def first_letters(pdf):
    """Return how the text of each page of a PDF begins, in its font's own figures."""
    begins = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            texts = re.findall(rb"<([0-9A-Fa-f]+)> Tj", zlib.decompress(stream))
        except zlib.error:
            continue  # a font or the like
        if texts:
            begins.append(b"".join(texts)[:FEW])
    return begins


@pytest.mark.parametrize("tables", MOST_PAGES)
def test_law_the_key_prints_on_a4(tables, browser, tmp_path):
    page = browser.new_page()
    page.goto(write_key("04", tables, folder=tmp_path).as_uri())
    # no margin of the browser's own: what the file asks for
    pdf = page.pdf(prefer_css_page_size=True)
    # as wide as the paper between its margins [px]: nothing is cut off
    page.set_viewport_size({"width": 680, "height": 1000})
    page.emulate_media(media="print")
    assert page.evaluate("document.documentElement.scrollWidth") <= 680
    page.close()
    sizes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert {(round(float(width)), round(float(height))) for width, height in sizes} == {A4}
    assert 2 <= len(sizes) <= MOST_PAGES[tables]
    # the head of a table comes again on each page that it runs over
    begins = first_letters(pdf)
    assert len(begins) == len(sizes) and len(set(begins)) == 1
