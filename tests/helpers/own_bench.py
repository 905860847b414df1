"""What a page does with a panel of one's own bench: it enters, presses, sends files, is read."""

import html
import itertools
import re

from pcbchem.page.widget import panel as panels

PIECE = 1_000_000  # bytes of a file that a page sends at once
NUMBERS = itertools.count(1)


class Tab:
    """A page that is open on a panel: all that it sends, and all that its reader sees."""

    def __init__(self, panel):
        # another tab has a panel of its own, which must not take this one's place
        panels.PANELS.pop(panel.title, None)
        self.panel, self.sent = panel, []
        panel.send = lambda content, buffers=None: self.sent.append((content, buffers or []))

    def enter(self, **values):
        """Enter values into fields, and see the answer."""
        self.panel.values = {**self.panel.values, **values}
        self.panel.asked += 1
        return self.seen()

    def press(self, name, **more):
        """Press a button; return what stands beside it then, "" where the press was one before."""
        before = len(self.sent)
        self.send(press=name, **{"number": f"press {next(NUMBERS)}", **more})
        news = [content for content, _ in self.sent[before:] if "remark" in content]
        return news[-1]["remark"] if news else ""

    def send(self, /, buffers=(), **content):
        """Send a message."""
        self.panel._heard(self.panel, content, list(buffers))

    def bring(self, name, file_name, data):
        """Choose a file for a button, which sends it in pieces; return what stands beside it."""
        upload = f"upload {next(NUMBERS)}"
        pieces = [data[start : start + PIECE] for start in range(0, len(data), PIECE)] or [b""]
        for place, piece in enumerate(pieces):
            self.send([piece], upload=upload, piece=place, count=len(pieces))
        return self.press(name, upload_of=upload, file_name=file_name)

    def take(self, name):
        """Press a button that saves a file: return its name, and its bytes in a browser."""
        self.press(name)
        content, buffers = self.sent[-1]
        file_name, text = content["file"]
        return file_name, bytes(buffers[0]) if text is None else text.encode()

    def reload(self):
        """Load the page again, while its kernel lives."""
        self.send(fresh=True)
        return self.enter()

    def keep(self, *rows):
        """Keep rows beside each other, in place of those before; return their table."""
        self.send(beside=[dict(row) for row in rows], number=f"rows {next(NUMBERS)}")
        return self.sent[-1][0]

    def seen(self):
        """Everything that a reader sees or hears of the panel, without tags."""
        panel = self.panel
        whole = " ".join((panel.top, panel.head, panel.notes, panel.table))
        words = html.unescape(re.sub(r"<[^>]+>", " ", whole))
        told = (panel.headline, panel.readout, panel.alt, panel.wrong, panel.error)
        return " ".join((words, *told, *panel.beside_fields.values(), *panel.read_as.values()))

    def rows(self):
        """The cells of the panel's table, row by row, without its head."""
        rows = re.findall(r"<tr>(.*?)</tr>", self.panel.table)[1:]
        cells = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in rows]
        return [[html.unescape(re.sub(r"<[^>]+>", " ", cell)) for cell in row] for row in cells]


def add_rows(folder, who, count):
    """Add rows by a panel's own log when told to; each says who added it."""
    import pathlib
    import sys

    from helpers.offcuts import mild
    from pcbchem.lesson.own_bench.log_book import FIRST_NAME, LogBook

    book = LogBook(pathlib.Path(folder))
    book.open_or_start(FIRST_NAME)
    print("ready", flush=True)
    sys.stdin.readline()
    for number in range(int(count)):
        said = book.add(mild(note=f"{who} {number}"))
        line = int(re.search(r"line (\d+)", said)[1])
        place = book.log.lines.index(line)
        assert book.log.offcuts[place].note == f"{who} {number}", said
