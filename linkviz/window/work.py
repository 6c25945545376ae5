"""Long work off the painting thread: the latest request wins, the last answer stays until the new one is there."""

from __future__ import annotations

import logging
import sys
import threading
from collections.abc import Callable, Hashable
from typing import Any

from PySide6.QtCore import QObject, Qt, QTimer, Signal

LOG = logging.getLogger("linkviz")
PAUSE_MS = 120
"""How long the requests must have been still before the work begins: a drag is not slowed by it."""
SWITCH_S = 0.0005
"""How long one thread may keep the interpreter from another, s."""


class LatestWork(QObject):
    """Runs one function at a time in a thread of its own.

    Parameters
    ----------
    work : callable
        Called with what was asked for, off the painting thread; it must not touch a widget.
    pause_ms : int
        How long requests must have been still.
    """

    done = Signal(object, object)
    """(key, answer) of a request that was finished and is still the latest."""
    _came = Signal(object, object)

    def __init__(self, work: Callable[[Any], Any], pause_ms: int = PAUSE_MS, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._wanted: tuple[Hashable, Any] | None = None
        self._running: Hashable | None = None
        self._answered: Hashable | None = None
        self._latest: Hashable | None = None
        self._thread: threading.Thread | None = None
        # the painting thread lets go of the interpreter at many calls of Qt and must have it back at once
        sys.setswitchinterval(SWITCH_S)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(pause_ms)
        self._timer.timeout.connect(self._start)
        self._came.connect(self._finish, Qt.ConnectionType.QueuedConnection)

    @property
    def busy(self) -> bool:
        """Return whether an answer is still to come."""
        return self._wanted is not None or self._running is not None

    def ask(self, key: Hashable, what: Any) -> bool:
        """Ask for work on `what`; return whether the answer told last is the one to it, so that none will come."""
        self._latest = key
        if key == self._answered:
            self._wanted = None
            return True
        if self._wanted is not None and self._wanted[0] == key:
            return False
        if self._running == key:
            self._wanted = None
            return False
        self._wanted = (key, what)
        self._timer.start()
        return False

    def forget(self) -> None:
        """Forget the last answer: the same request is worked on again."""
        self._answered = None

    def _start(self) -> None:
        if self._wanted is None or self._running is not None:
            return
        key, what = self._wanted
        self._wanted = None
        self._running = key

        def run() -> None:
            answer: Any = None
            try:
                answer = self._work(what)
            except Exception:  # a thread has no other way out
                LOG.exception("work off the painting thread failed")
            try:
                self._came.emit(key, answer)
            except RuntimeError:
                return  # the window is gone

        self._thread = threading.Thread(target=run, name="linkviz-work", daemon=True)
        self._thread.start()

    def _finish(self, key: Hashable, answer: object) -> None:
        self._running = None
        if self._wanted is not None:
            self._timer.start()
        elif key == self._latest:
            self._answered = key
            self.done.emit(key, answer)

    def wait(self, seconds: float = 10.0) -> None:
        """Wait for the thread to end (when the window closes)."""
        self._timer.stop()
        self._wanted = None
        if self._thread is not None:
            self._thread.join(seconds)
