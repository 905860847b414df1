"""A panel of a page: controls with names, one picture redrawn in place, a live sentence, and errors that are kept."""

from __future__ import annotations

import html
import itertools
import pathlib
import threading
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import anywidget
import numpy as np
import traitlets as tr

from ..picture import Drawing, Picture
from .controls import Choice, Control, Field, Group, Said, Slider, flat, front

if TYPE_CHECKING:
    from .quiz import Prediction

PANELS: dict[str, Panel] = {}
"""Every panel of this kernel by its title, for `sweep`: a cell run again makes a new one in the place of the old."""
MOST_CORNERS = 120
"""Where the controls have more corners than this, each control goes to its ends alone and the rest is a sample."""
MANY = 50
"""A panel with so many settings is swept wide at each of them, and narrow at every fourth."""
HERE = pathlib.Path(__file__)


class Panel(anywidget.AnyWidget):
    """Controls, a picture and its words; `build` makes the drawing, `show` draws values into it and says them.

    Parameters
    ----------
    title : str
        The panel's name, for those who cannot see it.
    controls : sequence of Slider, Field, Choice or Group
        From top to bottom.
    build : callable
        Takes whether the page is narrow; returns a `Drawing`.
    show : callable
        Takes the drawing and each control's value by name (and `predicted`, with a prediction); returns `Said`.
    prediction : Prediction, optional
        The reader's own guess: the panel shows it, and is drawn again when it is made.
    files : tuple of two callables, optional
        Values to the text of a file, and such a text to values (ValueError: not a file of ours): Save and Open.
    receives : str
        The name under which another page hands values over.
    link : tuple, optional
        Words, page, and a callable from values to the values that are handed to that page; nothing handed, no link.
    """

    _esm, _css = HERE.with_name("panel.js"), HERE.with_name("panel.css")
    title = tr.Unicode().tag(sync=True)
    layout_of = tr.Unicode().tag(sync=True)
    groups: Any = tr.List().tag(sync=True)
    values = tr.Dict().tag(sync=True)
    png = tr.Bytes(b"").tag(sync=True)
    head = tr.Unicode().tag(sync=True)
    readout = tr.Unicode().tag(sync=True)
    alt = tr.Unicode().tag(sync=True)
    notes = tr.Unicode().tag(sync=True)
    wrong = tr.Unicode().tag(sync=True)
    error = tr.Unicode().tag(sync=True)
    predicted = tr.Unicode().tag(sync=True)
    dpr = tr.Float(1.0).tag(sync=True)
    narrow = tr.Bool(False).tag(sync=True)
    asked = tr.Int(0).tag(sync=True)
    done = tr.Int(0).tag(sync=True)
    file = tr.Unicode().tag(sync=True)
    keeps = tr.Bool(False).tag(sync=True)
    opened = tr.Unicode().tag(sync=True)
    receives = tr.Unicode().tag(sync=True)
    link: Any = tr.List().tag(sync=True)
    handed = tr.Dict().tag(sync=True)

    def __init__(
        self,
        title: str,
        controls: Sequence[Control | Group],
        build: Callable[[bool], Drawing],
        show: Callable[..., Said],
        *,
        prediction: Prediction | None = None,
        files: tuple[Callable[..., str], Callable[[str], Mapping[str, Any]]] | None = None,
        receives: str = "",
        link: tuple[str, str, Callable[..., Mapping[str, Any]]] | None = None,
    ) -> None:
        self.controls, self.build, self.show, self.files = flat(controls), build, show, files
        self.prediction, self.fill = prediction, link[2] if link else None
        self.failure: Exception | None = None
        self.drawings: dict[bool, Drawing] = {}
        self.turn = (
            threading.RLock()
        )  # the page's questions come in a thread of their own: one picture at a time
        super().__init__(
            title=title,
            groups=[front(control) for control in controls],
            keeps=files is not None,
            values={c.name: c.start for c in self.controls},
            receives=receives,
            layout_of="fields" if any(isinstance(c, Group) for c in controls) else "sliders",
            link=list(link[:2]) if link else [],
        )
        self.redraw()
        self.observe(self._asked, ["asked"])
        if prediction is not None:
            prediction.observe(self._asked, ["choice"])
        if title in PANELS:
            PANELS[title].retire()
        PANELS[title] = self

    def said(self, narrow: bool = False, **values: Any) -> tuple[Drawing, Said]:
        """The drawing with some values changed drawn into it, and its words; an error comes out."""
        unknown = set(values) - {c.name for c in self.controls} - {"predicted"}
        if unknown:
            known = ", ".join(c.name for c in self.controls)
            raise ValueError(f"{sorted(unknown)[0]} is not a control: there are {known}")
        for control in self.controls:
            if control.name in values:
                control.check(values[control.name])
        if narrow not in self.drawings:
            self.drawings[narrow] = self.build(narrow)
        guess = {} if self.prediction is None else {"predicted": self.prediction.choice or None}
        drawing = self.drawings[narrow]
        return drawing, self.show(drawing, **{**self.values, **guess, **values})

    def redraw(self, **values: Any) -> Said:
        """Draw with some values changed [units of the controls] and show it on the page; an error comes out."""
        with self.turn:
            drawing, said = self.said(self.narrow, **values)
            data = drawing.png(self.dpr)
        shown = {
            **self.values,
            **{name: value for name, value in values.items() if name != "predicted"},
        }
        kept = self.files[0](**shown) if self.files and not said.wrong else ""
        handed = dict(self.fill(**shown)) if self.fill else {}
        with self.hold_sync():
            self.values, self.png, self.file, self.handed = shown, data, kept, handed
            self.head, self.readout, self.alt, self.notes, self.wrong = (
                said.head,
                said.readout,
                said.alt,
                said.notes,
                said.wrong,
            )
            self.predicted = said.guess or (
                "" if self.prediction is None else self.prediction.words
            )
            self.error, self.done = "", self.asked
        return said

    def _asked(self, change: Any) -> None:
        """What the page calls: an error goes onto the page and is kept in `failure`."""
        try:
            given = dict(self.files[1](self.opened)) if self.files and self.opened else {}
            self.opened = ""
            self.redraw(**given)
            self.failure = None
        except Exception as failure:
            refused = isinstance(failure, ValueError) and bool(self.opened)
            self.failure = None if refused else failure
            words = str(failure) if refused else "".join(traceback.format_exception_only(failure))
            with self.hold_sync():
                if (
                    not refused
                ):  # nothing of the last answer may stand beside inputs that it is not for
                    self.head = self.readout = self.alt = self.notes = self.wrong = (
                        self.predicted
                    ) = self.file = ""
                    self.handed = {}
                self.opened, self.error, self.done = "", words, self.asked

    def corners(self) -> Iterator[dict[str, Any]]:
        """Values at every corner of the controls, or where there are too many each control alone and a fixed sample."""
        ends = {c.name: c.ends for c in self.controls}
        if np.prod([len(e) for e in ends.values()]) <= MOST_CORNERS:
            yield from (
                dict(zip(ends, corner, strict=True)) for corner in itertools.product(*ends.values())
            )
            return
        yield {}
        for c in self.controls:
            yield from ({c.name: value} for value in c.ends if value != c.start)
        generator = np.random.default_rng(1)
        for _ in range(MOST_CORNERS // 8):
            yield {name: values[generator.integers(len(values))] for name, values in ends.items()}

    def retire(self) -> None:
        """Stop listening and leave the page: another panel has taken this one's place."""
        if self.prediction is not None:
            self.prediction.unobserve(self._asked, ["choice"])
        self.close()

    def still(self) -> tuple[Picture, Said]:
        """Picture and words for a page without a kernel, in its wide and its narrow form: nothing waits for a guess."""
        shown = (
            {"predicted": "-"} if self.prediction is not None and not self.prediction.choice else {}
        )
        with self.turn:
            wide, said = self.said(False, **shown)
            data = wide.png(2.0)
            return Picture(data, said.alt, self.said(True, **shown)[0].png(2.0)), said

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """The widget, and for exported pages and a notebook reopened without a kernel its still picture."""
        bundle: Any = super()._repr_mimebundle_(**kwargs)
        data: dict[str, Any] = bundle[0] if isinstance(bundle, tuple) else bundle
        picture, said = self.still()
        data["text/html"] = (
            f'<figure style="margin:0">{said.head}{picture._repr_html_()}<figcaption>'
            f'{html.escape(said.readout)}</figcaption><div class="words">{said.notes}</div></figure>'
        )
        data["text/plain"] = f"{self.title}: {said.readout}"
        return bundle


def sweep() -> int:
    """Draw every panel of this kernel at every corner of its controls; the first error comes out.

    Returns
    -------
    int
        How many pictures were drawn [-].
    """
    count = 0
    for panel in PANELS.values():
        guesses: list[dict[str, Any]] = [{}]
        if panel.prediction is not None:
            guesses = [{"predicted": guess} for guess in (None, "-", *panel.prediction.options)]
        settings = [(corner, guesses[-1]) for corner in panel.corners()] + [
            ({}, guess) for guess in guesses
        ]
        for number, (corner, guess) in enumerate(settings):
            for narrow in {False, len(settings) < MANY or number % 4 == 0}:
                drawing, said = panel.said(narrow, **corner, **guess)
                if not (drawing.png() and said.readout and said.alt):
                    raise AssertionError(f"{panel.title}: nothing said at {corner}")
                count += 1
    return count


__all__ = ["PANELS", "Choice", "Field", "Group", "Panel", "Said", "Slider", "sweep"]
