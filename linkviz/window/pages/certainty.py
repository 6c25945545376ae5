"""How sure the figures are: what the measuring leaves open, in sentences, and the points to measure again."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from linkviz.session.doubt import Doubt
from linkviz.session.session import Session
from linkviz.session.view import View
from linkviz.window.pages.sentences import Sentences, put
from linkviz.window.pages.table import TypedTable
from linkviz.window.same import same
from linkviz.window.theme import LIGHT, Colours

MOST = 6
"""Points listed at most."""


class Certainty(QWidget):
    """The measuring error: switch, progress, sentences, ranked list of points.

    Parameters
    ----------
    session : Session
        Whose view says whether it is on, and takes the picked point.
    keys : tuple of str
        Results whose sentences are shown; all if empty.
    """

    asked = Signal(str)

    def __init__(self, session: Session, keys: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._session = session
        self._keys = keys
        self._colours: Colours = LIGHT
        self._seen: tuple[object, ...] = ()
        self._points: tuple[str, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(6)
        head = QHBoxLayout()
        head.setSpacing(8)
        self.switch = QCheckBox("Measuring error")
        self.switch.setToolTip(
            "Work out how far the figures may be off because every point was measured with a tape (E)"
        )
        self.switch.toggled.connect(lambda on: session.set_view(doubt=on))
        self.state = QLabel()
        self.state.setObjectName("soft")
        # it gives way where the page is narrow
        self.state.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the measuring error")
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 100)
        self.bar.setFixedSize(90, 10)
        self.stop = QToolButton()
        self.stop.setText("Stop")
        self.stop.setAccessibleName("Stop working out the measuring error")
        self.stop.setToolTip("Stop working it out until something changes")
        self.stop.clicked.connect(lambda: self.asked.emit("stop_doubt"))
        head.addWidget(self.switch)
        head.addWidget(self.state, 1)
        head.addWidget(self.bar)
        head.addWidget(self.stop)
        column.addLayout(head)
        self.sentences = Sentences()
        column.addWidget(self.sentences)
        self.why = QLabel()
        self.why.setWordWrap(True)
        self.why.setTextFormat(Qt.TextFormat.PlainText)
        self.why.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        column.addWidget(self.why)
        self.table = TypedTable("Measure these again", ("Point", "Its share", "Taken as"), 72)
        self.table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.table.picked.connect(self._pick)
        column.addWidget(self.table)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        self.sentences.show_theme(colours)
        self._seen = ()

    def show_doubt(self, doubt: Doubt, view: View) -> None:
        """Show what is known; only what differs is touched."""
        if self.switch.isChecked() != doubt.on:
            self.switch.blockSignals(True)
            self.switch.setChecked(doubt.on)
            self.switch.blockSignals(False)
        running = doubt.share is not None
        for widget in (self.bar, self.stop):
            if widget.isHidden() == running:
                widget.setVisible(running)
        if doubt.share is not None:
            self.show_progress(doubt.share)
        put(self.state, _state(doubt))
        self.state.setToolTip(self.state.text())
        seen = (doubt.found, doubt.stale, view.unit)
        if not same(seen, self._seen):
            self._seen = seen
            self._show_found(doubt, view)
        self.table.pick(self._points.index(view.point) if view.point in self._points else -1)

    def show_progress(self, share: float) -> None:
        """Move the bar to the share that is done, 0 to 1."""
        self.bar.setValue(round(100 * share))

    def _show_found(self, doubt: Doubt, view: View) -> None:
        found = doubt.found
        self._points = ()
        label = ""
        rows: list[tuple[str, str, str]] = []
        lines: tuple[tuple[str, str], ...] = ()
        if found is not None:
            from linkviz.analysis.doubt.certainty import blame_words, sentences

            lines = tuple((s.text, "" if doubt.stale else s.icon) for s in sentences(found, view.unit, self._keys))
            label, causes = found.measure_again(self._keys)
            self._points = tuple(cause.point for cause in causes[:MOST])
            rows = [blame_words(cause, view.unit) for cause in causes[:MOST]]
        self.sentences.show_sentences(lines)
        self.sentences.setEnabled(not doubt.stale)
        why = f"Measure these again; most of what is open comes from them ({label.lower()}). Click one to see it drawn."
        put(self.why, why if rows else "")
        self.why.setVisible(bool(rows))
        self.table.setVisible(bool(rows))
        self.table.show_rows(rows, (False, False, False))
        ink = QColor(self._colours.soft if doubt.stale else self._colours.text)
        for i in range(len(rows)):
            for j in range(3):
                self.table.item(i, j).setForeground(ink)
        height = self.table.horizontalHeader().sizeHint().height() + 2
        self.table.setFixedHeight(height + sum(self.table.rowHeight(i) for i in range(len(rows))))

    def _pick(self, row: int) -> None:
        if row < len(self._points):
            self._session.set_view(point=self._points[row], envelope=-1)


def _state(doubt: Doubt) -> str:
    if not doubt.on:
        return "off"
    if doubt.found is None:
        return "being worked out ..." if doubt.share is not None else ""
    if doubt.stale:
        return "before the last change"
    return "first look ..." if doubt.share is not None else f"from {doubt.found.trials} trials"
