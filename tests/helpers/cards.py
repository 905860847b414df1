"""What stands on a card for the bench: its words, and the letters of a printed page."""

import html
import io
import re
import unicodedata

from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage

BODY = re.compile(r"<main>(.*)</main>", re.DOTALL)


def said_on(card):
    """Return all that a card says, without its marks."""
    (body,) = BODY.findall(card.html)
    # a cell or a line ends what stands in it
    body = re.sub(r"</(td|li|p|h1|h2|div|section)>|<br>", "\n", body)
    return html.unescape(re.sub(r"<[^>]+>", "", body)).replace("\N{NO-BREAK SPACE}", " ")


def letters_of(words):
    """Return the letters of words, sorted: joined ones apart, spaces left out."""
    return sorted(re.sub(r"\s", "", unicodedata.normalize("NFKC", words)))


def printed(pdf):
    """Return each page of a PDF: its size, and its letters with their places [pt]."""
    resources = PDFResourceManager()
    # as they are drawn: to look for lines and columns among them would take as long again
    reader = PDFPageAggregator(resources, laparams=None)
    interpreter = PDFPageInterpreter(resources, reader)
    pages = []
    for each in PDFPage.get_pages(io.BytesIO(pdf)):
        interpreter.process_page(each)
        page = reader.get_result()
        pages.append(((page.width, page.height), list(letters_in(page))))
    return pages


def letters_in(item):
    """Go through the letters of a page, however deep they lie."""
    if isinstance(item, LTChar):
        yield item.get_text(), item.bbox, item.size
        return
    try:
        parts = iter(item)
    except TypeError:
        return  # a line or a frame
    for part in parts:
        yield from letters_in(part)
