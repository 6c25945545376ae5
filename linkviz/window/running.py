"""The running axle: through its travel by the clock, or stop by stop where nothing is to move by itself."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication

from linkviz.session.motion import next_stop, time_of, travel_at
from linkviz.session.session import Session

TICK_MS = 16
KEY = "motion.json"
"""File of the state folder with what was chosen."""


class Running(QObject):
    """Moves the axle of a session while it plays.

    Parameters
    ----------
    session : Session
        Whose travel it changes.
    parent : QObject
        Its owner.
    """

    moved = Signal()
    """The axle was moved: it is to be painted now."""

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._start = 0.0
        self._stop = 0
        self._calm = False
        self._usual = {effect: QApplication.isEffectEnabled(effect) for effect in Qt.UIEffect}
        self._usual_flash = QApplication.cursorFlashTime()
        self.clock = QElapsedTimer()
        self.ticker = QTimer(self)
        self.ticker.setTimerType(Qt.TimerType.PreciseTimer)
        self.ticker.setInterval(TICK_MS)
        self.ticker.timeout.connect(self.tick)

    def play(self, on: bool) -> None:
        """Run or stand; in calm motion go on to the next stop, and stand there."""
        view = self._session.view
        if view.calm:
            self._stop, travel = next_stop(self._stop, view.travel, self._session.shown.window)
            self._session.set_view(travel=round(travel, 2))
        self._session.set_view(playing=on)

    def show(self, playing: bool, calm: bool) -> None:
        """Run while the session plays; in calm motion nothing else moves by itself either."""
        if playing and not self.ticker.isActive():
            self._start = time_of(self._session.view.travel, self._session.shown.window)
            self.clock.start()
            self.ticker.start()
        elif not playing and self.ticker.isActive():
            self.ticker.stop()
        if calm != self._calm:
            self._calm = calm
            for effect, usual in self._usual.items():
                QApplication.setEffectEnabled(effect, usual and not calm)
            QApplication.setCursorFlashTime(0 if calm else self._usual_flash)

    def tick(self) -> None:
        """Go to where the axle is by now."""
        elapsed = self._start + self.clock.elapsed() / 1000.0
        self._session.set_view(travel=round(travel_at(elapsed, self._session.shown.window), 2))
        self.moved.emit()

    # -- what was chosen

    def choose(self, calm: bool) -> None:
        """Take calm motion or leave it, and remember that."""
        self._session.store.remember(KEY, {"calm": calm})
        self._session.set_view(calm=calm)

    @staticmethod
    def chosen(session: Session) -> bool | None:
        """Return what was chosen before, None if nothing ever was."""
        found = session.store.remembered(KEY).get("calm")
        return found if isinstance(found, bool) else None
