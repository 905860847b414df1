"""A panel of a page: named controls, one picture redrawn in place, a live sentence, errors kept."""

from __future__ import annotations

import copy
import html
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import traitlets as tr

from ...common.limits import InputError
from ..picture import Drawing, Picture
from .base import PageWidget, error_words
from .controls import (
    BLANK,
    Action,
    Group,
    Item,
    Link,
    PanelWords,
    Tool,
    Upload,
    all_controls,
    all_items,
    corners,
    for_script,
    is_called_for,
    state_of,
)
from .quiz import folded
from .texts import Text, TimeText, refusals, times_read, under_fields
from .works import PRESSES, Beside, Telling, Work, heard, refusal_in_words

if TYPE_CHECKING:
    from .prediction import Prediction
    from .uploads import Pieces

PANELS: dict[str, Panel] = {}
"""Every panel of this kernel by its title, for `sweep.py`: a cell run again replaces its own."""
MOST_CORNERS = 120
"""With more corners than this, each control goes to its ends alone, and a sample follows."""


Opened = tuple[Mapping[str, Any], str]
"""What an opened file, or a change of unit, comes to: controls' values, and a remark, or ""."""
Settle = Callable[[Mapping[str, Any], Mapping[str, Any], Sequence[str]], Opened]
"""Takes values before and after a change, and the names of what was entered."""


class Panel(PageWidget):
    """Controls, a picture and its words: `build` makes a drawing, `show` draws and says values.

    Parameters
    ----------
    title : str
        The panel's name, for those who cannot see it.
    controls : sequence of Slider, Field, Choice, Text, TimeText, Carried, Action, Upload or Group
        From top to bottom; none: a picture that only waits for a prediction.
    build : callable
        Takes whether the page is narrow; returns a `Drawing`.
    show : callable
        Takes the drawing and each control's value by name (and `predicted`, with a prediction; and
        `progress`); returns `PanelWords`. A text that cannot be comes to it as blank.
    prediction : Prediction, optional
        The reader's own guess: the panel shows it, and is drawn again when it is made.
    files : tuple of two callables, optional
        For Save and Open: values to the text of a file, and such a text to values (ValueError: not
        a file of ours).
    file_name : str
        What a saved file is called.
    receives : str
        The name under which another page hands values over.
    links : sequence of Link
        Ways on to other pages.
    after : sequence of Prediction
        Others that have to be made as well before anything is shown.
    replies : bool
        Whether the prediction and what is said to it stand beside the picture: not where the
        picture is of something else, and only waits.
    settle : callable, optional
        Takes the values before and after one change, and the names of what was entered; returns
        values that change with it, as a strength with its unit, and a remark.
    works : dict of callable
        What each `Action` and `Upload` does, by name: takes all values, what the page sent with it
        (of an upload the file's name and bytes, or that it is removed) and a `Progress`; returns
        `Done`. ValueError, OSError: said beside the button.
    beside : Beside, optional
        Rows that a reader keeps beside each other.
    points : callable, optional
        From a place on the picture, as shares of its width and height from the top left [-], and
        whether it is narrow, to values: a press on the picture moves a cursor.
    on_paper : str
        What a printed page says in place of all this: words, picture and notes are then kept
        nowhere, neither in a saved page nor in a copy of it, for they may hold amounts.
    after_words : sequence of Action or Upload
        What can be done with an answer: stands right under its words.
    has_clock : bool
        Whether a clock for `PanelWords.looks` stands there too.
    copied : callable, optional
        Draws and says what stands for the panel in a copy without Python: without amounts.
    most_copied : float
        Most settings that are drawn in a live copy [-], however many the copy allows.
    refusal_words : callable
        Says a ValueError or an OSError of a work in the page's words.
    progress : bool
        Whether `show` takes a `Progress`, for an answer of more than a second.
    follows : sequence of HasTraits
        What else it shows: drawn again when the `settled` of one of them changes.
    """

    scripts = (
        "shared.js",
        "handover.js",
        "entries.js",
        "controls.js",
        "works.js",
        "beside.js",
        "clock.js",
        "panel.js",
    )
    styles = ("shared.css", "panel.css")
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
    # the reader's prediction, what the panel has to say to it, and the replies to its choices
    predicted = tr.Unicode().tag(sync=True)
    guess = tr.Unicode().tag(sync=True)
    reply = tr.Unicode().tag(sync=True)
    dpr = tr.Float(1.0).tag(sync=True)
    narrow = tr.Bool(False).tag(sync=True)
    # the page counts its questions in `asked`; `done` is the number of the one that is answered
    asked = tr.Int(0).tag(sync=True)
    done = tr.Int(0).tag(sync=True)
    file = tr.Unicode().tag(sync=True)
    file_name = tr.Unicode().tag(sync=True)
    keeps = tr.Bool(False).tag(sync=True)
    opened = tr.Unicode().tag(sync=True)
    receives = tr.Unicode().tag(sync=True)
    links: Any = tr.List().tag(sync=True)
    handed: Any = tr.List().tag(sync=True)
    headline = tr.Unicode().tag(sync=True)
    looks: Any = tr.List(None, allow_none=True).tag(sync=True)
    coarse = tr.Bool(False).tag(sync=True)
    row: Any = tr.Dict(None, allow_none=True).tag(sync=True)
    offers: Any = tr.List().tag(sync=True)
    table = tr.Unicode().tag(sync=True)
    top = tr.Unicode().tag(sync=True)
    beside_fields: Any = tr.Dict().tag(sync=True)
    read_as: Any = tr.Dict().tag(sync=True)
    remark = tr.Unicode().tag(sync=True)
    # what was entered, in order, each with its number; and a place on the picture that was pressed
    entered: Any = tr.List().tag(sync=True)
    pointed: Any = tr.List().tag(sync=True)
    points = tr.Bool(False).tag(sync=True)
    fleeting = tr.Bool(False).tag(sync=True)
    on_paper = tr.Unicode().tag(sync=True)
    has_clock = tr.Bool(False).tag(sync=True)
    next: Any = tr.List().tag(sync=True)
    beside: Any = tr.Dict().tag(sync=True)

    def __init__(
        self,
        title: str,
        controls: Sequence[Item | Group],
        build: Callable[[bool], Drawing],
        show: Callable[..., PanelWords],
        *,
        prediction: Prediction | None = None,
        files: tuple[Callable[..., str], Callable[[str], Opened]] | None = None,
        file_name: str = "inputs.json",
        receives: str = "",
        links: Sequence[Link] = (),
        after: Sequence[Prediction] = (),
        replies: bool = True,
        settle: Settle | None = None,
        works: Mapping[str, Work] | None = None,
        beside: Beside | None = None,
        points: Callable[[float, float, bool], Mapping[str, Any]] | None = None,
        on_paper: str = "",
        after_words: Sequence[Tool] = (),
        has_clock: bool = False,
        copied: Callable[[Drawing], PanelWords] | None = None,
        most_copied: float = float("inf"),
        refusal_words: Callable[[Any], str] = refusal_in_words,
        progress: bool = False,
        follows: Sequence[tr.HasTraits] = (),
    ) -> None:
        self.controls = all_controls(controls)
        items = (*all_items(controls), *after_words)
        self.tools = {item.name: item for item in items if isinstance(item, Action | Upload)}
        self.settle, self.place_values, self.rows = settle, points, beside
        self.works = dict(works or {})
        self.pieces: dict[str, Pieces] = {}
        self.uploaded: dict[str, list[Any]] = {}
        self.presses: deque[str] = deque(maxlen=PRESSES)
        self.last_step = 0
        self.has_progress, self.telling = progress, Telling()
        self.copied, self.most_copied, self.refusal_words = copied, most_copied, refusal_words
        self.build, self.show = build, show
        self.prediction, self.files, self.replies = prediction, files, replies
        self.after = tuple(after)
        self.follows = tuple(follows)
        self.ways_on = tuple(links)
        self.drawings: dict[bool, Drawing] = {}
        has_groups = any(isinstance(item, Group) for item in controls)
        super().__init__(
            title=title,
            groups=[for_script(item) for item in controls],
            keeps=files is not None,
            file_name=file_name,
            values={control.name: control.start for control in self.controls},
            receives=receives,
            layout_of="fields" if has_groups else "sliders",
            links=[[link.words, link.page] for link in self.ways_on],
            points=points is not None,
            fleeting=bool(on_paper),
            on_paper=on_paper,
            has_clock=has_clock,
            next=[for_script(tool) for tool in after_words],
            beside=beside.for_script() if beside else {},
        )
        self.answered_values = dict(self.values)
        # before anything listens: an error in the first picture comes out of the author's cell
        self.redraw()
        self.on_msg(self._heard)
        # the page sends its values and `asked` in one message: here all of them are set already
        self.observe(self._asked, ["asked"])
        if prediction is not None:
            self.follows = (prediction, *self.after, *self.follows)
        for each in self.follows:
            each.observe(self._asked, ["settled"])
        if title in PANELS:
            PANELS[title].retire()
        PANELS[title] = self

    def picture_and_words(self, narrow: bool = False, **values: Any) -> tuple[Drawing, PanelWords]:
        """Draw with some values changed [units of the controls], without showing it on the page.

        Parameters
        ----------
        narrow : bool
            The picture for a telephone.
        **values : Any
            Values of controls by name, and `predicted`; the others stay as they are on the page.

        Returns
        -------
        tuple of Drawing and PanelWords
            The drawing with the values drawn into it, and its words.

        Raises
        ------
        InputError
            No control of this name, a value that the control does not take, or words beside a
            field that there is not.
        """
        names = [control.name for control in self.controls]
        for name in sorted(values):
            if name not in (*names, "predicted"):
                rule = f"there are {', '.join(names)}"
                raise InputError(name, rule, about="", wrong="is not a control")
        for control in self.controls:
            if control.name in values:
                control.check(values[control.name])
        # built when it is first wanted: most pages are never seen narrow
        if narrow not in self.drawings:
            self.drawings[narrow] = self.build(narrow)
        drawing = self.drawings[narrow]
        everything = self.usable_values()
        if self.prediction is not None:
            everything["predicted"] = None if self.is_waiting() else self.prediction.guess
        everything.update(values)
        if self.has_progress:
            everything["progress"] = self.telling.tell
        words = self.show(drawing, **everything)
        for name in words.beside_fields:
            if name not in names:
                rule = f"there are {', '.join(names)}"
                raise InputError(name, rule, about="", wrong="is not a control")
        return drawing, words

    def usable_values(self) -> dict[str, Any]:
        """Return all values [units of the controls]; a text that cannot be counts as left blank."""
        return self._usable(self.values)

    def _usable(self, values: Mapping[str, Any]) -> dict[str, Any]:
        return {**values, **dict.fromkeys(refusals(self.controls, values), "")}

    def is_waiting(self) -> bool:
        """Tell whether a prediction is missing: the panel then shows no answer."""
        if self.prediction is None:
            return False
        return not all(each.made for each in (self.prediction, *self.after))

    def redraw(self, **values: Any) -> PanelWords:
        """Draw some values anew [units of the controls] and show it all; an error comes out."""
        # a still picture, for a page that is saved meanwhile, is drawn into the same drawing
        with self.turn:
            drawing, words = self.picture_and_words(self.narrow, **values)
            png = drawing.png(self.dpr)
        values.pop("predicted", None)  # it is no control's value
        everything = {**self.values, **values}
        beside = {**self._refused(everything), **words.beside_fields}
        file = ""
        # inputs that cannot be are not saved, and not handed on
        if self.files and not words.wrong and not beside:
            file = self.files[0](**everything)
        handed: list[dict[str, Any]] = [{} for _ in self.ways_on]
        # no way onward while the answer waits: it would tell it
        if not beside and not self.is_waiting():
            handed = [dict(link.handed(**self._usable(everything))) for link in self.ways_on]
        predicted = reply = ""
        # the reply tells the answer: it waits with the picture
        if self.prediction is not None and self.replies and not self.is_waiting():
            predicted, reply = self.prediction.words, self.prediction.reply
        if words.guess:
            reply = ""
        with self.hold_sync():  # all of it reaches the page in one message
            for name, value in state_of(words).items():
                setattr(self, name, value)
            self.values, self.png, self.file, self.handed = everything, png, file, handed
            self.beside_fields = beside
            self.read_as = under_fields(times_read(self.controls, everything), words.under_fields)
            self.predicted, self.reply = predicted, reply
            self.error, self.done = "", self.asked
        self.answered_values = everything
        self._tell()
        return words

    def _refused(self, values: Mapping[str, Any]) -> dict[str, str]:
        """Return what is wrong with texts that can be seen, by name."""
        seen = [control for control in self.controls if is_called_for(control, values)]
        return refusals(seen, values)

    # What holds amounts is kept in no saved page: it is sent, and Python alone remembers it.

    def __repr__(self) -> str:
        # what stands for a widget where a page is printed or written without it
        return self.on_paper or f"{self.title}: run this page to use it."

    def get_state(self, key: Any = None, drop_defaults: bool = False) -> Any:
        """Return what is kept of the panel in a saved page, by name: of a fleeting one no words."""
        state = super().get_state(key, drop_defaults)
        if self.fleeting:
            for name, blank in BLANK.items():
                if name in state:
                    state[name] = blank
        return state

    def _should_send_property(self, key: str, value: Any) -> bool:
        if self.fleeting and key in BLANK:
            return False
        return bool(super()._should_send_property(key, value))

    def _tell(self) -> None:
        """Send the answer of a fleeting panel to the page, if one is there."""
        if not self.fleeting:
            return
        # the picture's bytes go beside the words
        answer = {name: getattr(self, name) for name in BLANK if name != "png"}
        self.send({"answer": {**answer, "done": self.done}}, [self.png])

    def _heard(self, _: Any, content: Mapping[str, Any], buffers: Sequence[Any]) -> None:
        """Answer a message of the page that is no change of a value: see `works`."""
        heard(self, content, buffers)

    def _asked(self, change: Any) -> None:
        """Answer the page: an error goes onto it and is kept in `failure`."""
        try:
            with self.telling.to(self._tell_page):
                self._answer()
        except Exception as error:
            self.show_failure(error)

    def _tell_page(self, share: float, words: str) -> None:
        self.send({"progress": share, "words": words, "question": self.asked})

    def _answer(self) -> None:
        """Draw the values of the page, or of the file that it has opened; an error comes out."""
        values: dict[str, Any] = {}
        remark = ""
        if self.settle and self.entered and not self.opened:
            settled, remark = self._settled(self.settle)
            values |= settled
        if self.place_values and self.pointed:
            x, y = self.pointed
            values |= self.place_values(x, y, self.narrow)
        if self.files and self.opened:
            try:
                opened, remark = self.files[1](self.opened)
                values = dict(opened)
            except ValueError as refusal:
                self._refuse_file(refusal)
                return
        self.opened = ""  # else the next question would open it again
        self.pointed, self.entered = [], []
        with self.hold_sync():  # the remark comes with the picture, and goes with the next one
            self.remark = remark
            # a text that cannot be is said beside its field, wherever it comes from
            texts = {
                control.name for control in self.controls if isinstance(control, Text | TimeText)
            }
            self.values = {**self.values, **{name: values[name] for name in texts & set(values)}}
            self.redraw(**{name: value for name, value in values.items() if name not in texts})
        self.failure = None

    def _settled(self, settle: Settle) -> Opened:
        """Return the values after all that was entered, one by one, and what to say of the last."""
        values, remark = dict(self.answered_values), ""
        for number, changes in self.entered:
            if number <= self.last_step:
                continue  # it came with an earlier question, too
            new = {**values, **changes}
            more, words = settle(self._usable(values), self._usable(new), list(changes))
            values, remark, self.last_step = {**new, **more}, words or remark, number
        # also where they turn out to be impossible: the next change starts from here
        self.answered_values = values
        return values, remark

    def _refuse_file(self, refusal: ValueError) -> None:
        """Say why a file is none of ours: what stands on the page still holds, and stays."""
        self.failure = None  # the reader's file is at fault, not the page
        with self.hold_sync():
            self.opened, self.error, self.done = "", str(refusal), self.asked
        self._tell()

    def show_failure(self, error: Exception) -> None:
        """Show an error: nothing of the last answer may stand beside inputs that it is not for."""
        self.failure = error
        with self.hold_sync():
            for name, blank in BLANK.items():
                if name != "png":  # without words it is not shown
                    setattr(self, name, copy.copy(blank))
            self.opened = self.remark = ""
            self.pointed, self.entered = [], []
            self.error, self.done = error_words(error), self.asked
        self._tell()

    def corners(self) -> Iterator[dict[str, Any]]:
        """Return values at corners of the controls, by name [units of the controls]."""
        return corners(self.controls, MOST_CORNERS)

    def forget(self) -> None:
        """Go back to the values of the start, where something was predicted: for new pupils."""
        if self.prediction is not None:
            self.redraw(**{control.name: control.start for control in self.controls})

    def retire(self) -> None:
        """Stop listening and leave the page: another panel has taken this one's place."""
        for each in self.follows:
            each.unobserve(self._asked, ["settled"])
        self.close()

    def still(self) -> tuple[Picture, PanelWords]:
        """Return picture and words for a page without a kernel, where nothing waits for a guess."""
        # "-": looks without a prediction; whoever reads there has made one for themselves
        guess = {}
        if self.prediction is not None:
            guess = {"predicted": "-"}
        with self.turn:
            drawing, words = self._copy(False, guess)
            # before the narrow one is drawn: both may draw into what they share
            png = drawing.png(2.0)  # fit for fine screens and for paper
            narrow, _ = self._copy(True, guess)
            return Picture(png, words.alt, narrow.png(2.0)), words

    def _copy(self, narrow: bool, guess: Mapping[str, Any]) -> tuple[Drawing, PanelWords]:
        """Draw and say what a copy shows: this, or what stands for it."""
        if self.copied is None:
            return self.picture_and_words(narrow, **guess)
        # a drawing of its own: the page's keeps what it shows
        drawing = self.build(narrow)
        return drawing, self.copied(drawing)

    def still_forms(self) -> dict[str, str]:
        """Return picture and words as HTML, and the live sentence as text.

        With a prediction both stay folded until the reader has made one.
        """
        picture, words = self.still()
        table = words.table.html() if words.table else ""
        headline = f"<h3>{html.escape(words.headline)}</h3>" if words.headline else ""
        figure = (
            f'<figure style="margin:0">{words.top}{headline}{words.head}{picture._repr_html_()}'
            f"<figcaption>"
            f'{html.escape(words.readout)}</figcaption><div class="pcbchem-words">{table}'
            f"{words.notes}</div></figure>"
        )
        if self.prediction is not None:
            return {"text/html": folded(figure), "text/plain": f"{self.title}: predict first."}
        return {"text/html": figure, "text/plain": f"{self.title}: {words.readout}"}
