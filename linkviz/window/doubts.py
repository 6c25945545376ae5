"""The measuring error of what the window shows: asked for when the document is still, kept until the next is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from linkviz.session.document import Document
from linkviz.session.doubt import Doubt, work_out
from linkviz.window.long_work import STILL_MS, LongWork

if TYPE_CHECKING:
    from linkviz.analysis.doubt.uncertainty import Uncertainty


class Doubts(QObject):
    """Works out the measuring error in a thread of its own.

    Parameters
    ----------
    still_ms : int
        How long a document must have been still; `STILL_MS` if None.
    """

    changed = Signal()
    """There is another answer, or the work began or ended."""
    progressed = Signal(float)
    """More of it is done: the share, 0 to 1. It moves one bar; a frame is not worked out for it."""

    def __init__(self, parent: QObject | None = None, still_ms: int | None = None) -> None:
        super().__init__(parent)
        self._work = LongWork(work_out, STILL_MS if still_ms is None else still_ms, self)
        self._work.came.connect(self._came)
        self._work.changed.connect(self.changed)
        self._work.progressed.connect(self.progressed)
        self._found: Uncertainty | None = None

    def ask(self, document: Document, on: bool) -> Doubt:
        """Want the measuring error of a document, or none; return what is known of it now."""
        wanted = (document.vehicle, document.setup)
        if on:
            self._work.ask(wanted, document)
        else:
            self._work.forget()
        found = self._found if on else None
        stale = found is not None and (found.vehicle, found.setup) != wanted
        return Doubt(found, stale, self._work.share, on)

    def cancel(self) -> None:
        """Stop; the same document does not begin it again."""
        self._work.cancel()

    @property
    def busy(self) -> bool:
        """Return whether something runs or is about to."""
        return self._work.busy

    def wait(self) -> None:
        """Stop, and wait for the thread (when the window closes)."""
        self._work.wait()

    def _came(self, key: object, found: Uncertainty) -> None:
        self._found = found
        self.changed.emit()
