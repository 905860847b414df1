"""What a page does with a widget of Python: it sends messages, and shows its still form."""

import itertools

from pcbchem.page import Check

COUNT = itertools.count()


def send(widget, **message):
    """Do what the page does: one message with its number and the error seen; it is answered."""
    number = f"number {next(COUNT)}"
    seed = {"seed": widget.seed} if isinstance(widget, Check) else {}
    content = {"number": number, "seen": widget.error, **seed, **message}
    data = {"method": "custom", "content": content}
    widget._handle_msg({"content": {"data": data}, "buffers": []})
    assert widget.done == number


def still_html(widget):
    return widget.still_forms()["text/html"]
