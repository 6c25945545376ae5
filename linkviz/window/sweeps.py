"""What a part sweeps, worked out beside the drawing while a page wants it drawn."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from linkviz.session.document import Document
from linkviz.session.live import Live, swept_work
from linkviz.window.work import LatestWork


class Sweeps(QObject):
    """Works out the swept zone in a thread of its own.

    Parameters
    ----------
    live : Live
        Which says what is wanted, and takes the answer.
    """

    changed = Signal()
    """There is another answer."""

    def __init__(self, live: Live, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._live = live
        self._work = LatestWork(swept_work, parent=self)
        self._work.done.connect(self._came)

    def ask(self, document: Document) -> None:
        """Want what the part sweeps in a document, if one is to be drawn."""
        name = self._live.sweeps
        if name:
            self._work.ask((document.vehicle, document.setup, name), (document, name))

    def _came(self, key: object, swept: object) -> None:
        self._live.take_swept(swept)  # type: ignore[arg-type]
        self.changed.emit()
