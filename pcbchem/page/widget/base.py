"""What every widget of a page has: script and style, errors kept, a form without a kernel."""

from __future__ import annotations

import pathlib
import threading
import time
import traceback
import weakref
from collections.abc import Callable
from typing import Any, ClassVar

import anywidget
import traitlets as tr

FOLDER = pathlib.Path(__file__).parent
WIDGETS: weakref.WeakSet[PageWidget] = weakref.WeakSet()
"""Every widget of this kernel, for what all of them are to do."""


class Shared(tr.HasTraits):
    """What several panels show: they are drawn again when its `settled` goes up."""

    settled = tr.Int(0)


class PageWidget(anywidget.AnyWidget):
    """A widget of a page: `error` is what the page shows of an error, `failure` keeps it for tests.

    The page's messages may come in a thread of their own: whoever answers one holds `turn`.
    """

    scripts: ClassVar[tuple[str, ...]]
    styles: ClassVar[tuple[str, ...]]
    error = tr.Unicode().tag(sync=True)

    def __init__(self, **traits: Any) -> None:
        # before the widget is made: what listens may be called while it is
        self.failure: Exception | None = None
        self.turn = threading.RLock()
        self.birth = time.time()  # [s]
        super().__init__(**traits)
        WIDGETS.add(self)

    def forget(self) -> None:
        """Forget what a reader has answered; a widget that keeps no answers has nothing to do."""

    # Read anew for each widget, not at import: whoever changes a file sees it in the next one made.

    @property
    def _esm(self) -> str:
        return joined(self.scripts)

    @property
    def _css(self) -> str:
        return joined(self.styles)

    def still_forms(self) -> dict[str, str]:
        """Return what stands in place of the widget where there is no kernel, by media type."""
        raise NotImplementedError

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle: Any = super()._repr_mimebundle_(**kwargs)
        if copied_as is not None:
            # data, or data with metadata: as the version of anywidget likes it
            data: dict[str, Any] = bundle[0] if isinstance(bundle, tuple) else bundle
            data.update(copied_as(self))
        return bundle


copied_as: Callable[[PageWidget], dict[str, str]] | None = None
"""What stands for a widget, by media type, in a copy of its page without a kernel.

None on a live page: nobody would see it, and its pictures take as long to draw as the live ones."""


def joined(names: tuple[str, ...]) -> str:
    """Return the texts of files that lie here, one after the other, as one script or one style."""
    return "\n".join((FOLDER / name).read_text(encoding="utf-8") for name in names)


def error_words(error: Exception) -> str:
    """Return an error as the page shows it: its kind and its words.

    Examples
    --------
    >>> print(error_words(ValueError("too much")), end="")
    ValueError: too much
    """
    return "".join(traceback.format_exception_only(error))
