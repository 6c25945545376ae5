"""Work of seconds off the painting thread: in stages, cheap ones first, with progress, given up once it is stale.

Unlike `linkviz.window.work.LatestWork`, which ends what it began, this stops at once when something else is asked for.
"""

from __future__ import annotations

import contextlib
import logging
import threading
from collections.abc import Callable, Hashable, Iterator
from typing import Any

from PySide6.QtCore import QObject, Qt, QTimer, Signal

LOG = logging.getLogger("linkviz")
STILL_MS = 1000
"""How long the requests must have been still before the work begins."""

Report = Callable[[float], None]
Cancelled = Callable[[], bool]
Work = Callable[[Any, Report, Cancelled], Iterator[Any]]
"""Called off the painting thread with what was asked for, whom to tell the share done (0 to 1), and whom to ask
whether it was cancelled; yields an answer for each stage."""


class LongWork(QObject):
    """Runs one piece of work at a time in a thread of its own; another request cancels it.

    Parameters
    ----------
    work : callable
        See `Work`; it must not touch a widget.
    still_ms : int
        How long requests must have been still.
    """

    came = Signal(object, object)
    """(key, answer) of a stage of the latest request."""
    changed = Signal()
    """The work began or ended."""
    progressed = Signal(float)
    """More of it is done: the share, 0 to 1."""
    _told = Signal(int, float)
    _found = Signal(int, object)
    _ended = Signal(int)

    def __init__(self, work: Work, still_ms: int = STILL_MS, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._key: Hashable = None
        self._what: Any = None
        self._turn = 0
        self._cancel = threading.Event()
        self._thread: threading.Thread | None = None
        self.share: float | None = None
        """Share done, 0 to 1; None while nothing runs."""
        self._still_ms = still_ms
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._start)
        queued = Qt.ConnectionType.QueuedConnection
        self._told.connect(self._tell, queued)
        self._found.connect(self._take, queued)
        self._ended.connect(self._end, queued)

    @property
    def busy(self) -> bool:
        """Return whether something runs or is about to."""
        return self.share is not None or self._timer.isActive()

    def ask(self, key: Hashable, what: Any) -> None:
        """Ask for work; what was asked for last is done, running, or was cancelled on purpose."""
        if key == self._key:
            return
        self.cancel()
        self._key, self._what = key, what
        self._timer.start(self._still_ms)

    def forget(self) -> None:
        """Stop, and take the next request for a new one whatever it is."""
        self.cancel()
        self._key = None

    def cancel(self) -> None:
        """Stop; the same request does not begin it again."""
        self._timer.stop()
        self._cancel.set()
        self._turn += 1
        if self.share is not None:
            self.share = None
            self.changed.emit()

    def wait(self, seconds: float = 10.0) -> None:
        """Stop, and wait for the thread to end (when the window closes)."""
        self.cancel()
        if self._thread is not None:
            self._thread.join(seconds)

    def _start(self) -> None:
        if self._thread is not None and self._thread.is_alive():
            # the one before was told to stop and looks several times a second
            self._timer.start(50)
            return
        turn, what = self._turn, self._what
        cancel = self._cancel = threading.Event()

        def run() -> None:
            try:
                for answer in self._work(what, lambda share: self._told.emit(turn, share), cancel.is_set):
                    self._found.emit(turn, answer)
            except Exception:  # a thread has no other way out
                LOG.exception("work off the painting thread failed")
            with contextlib.suppress(RuntimeError):  # the window may be gone
                self._ended.emit(turn)

        self.share = 0.0
        self.changed.emit()
        self._thread = threading.Thread(target=run, name="linkviz-long-work", daemon=True)
        self._thread.start()

    def _tell(self, turn: int, share: float) -> None:
        if turn == self._turn and self.share is not None:
            self.share = share
            self.progressed.emit(share)

    def _take(self, turn: int, answer: object) -> None:
        if turn == self._turn:
            self.came.emit(self._key, answer)

    def _end(self, turn: int) -> None:
        if turn == self._turn:
            self.share = None
            self.changed.emit()
