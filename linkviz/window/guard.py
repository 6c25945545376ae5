"""What happens when the program itself fails: the work is kept, a log is written, a sentence is shown."""

from __future__ import annotations

import contextlib
import logging
import sys
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import Qt, QtMsgType, qInstallMessageHandler
from PySide6.QtWidgets import QMessageBox, QWidget

from linkviz.errors import LinkvizError
from linkviz.session.session import Session

LOG = logging.getLogger("linkviz")
LOG_NAME = "linkviz.log"


def start_log(folder: Path) -> Path:
    """Write the log to a file in a folder; return the file."""
    file = folder / LOG_NAME
    with contextlib.suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(file, maxBytes=400_000, backupCount=1, encoding="utf-8", delay=True)
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        LOG.addHandler(handler)
        LOG.setLevel(logging.INFO)
    return file


def qt_to_log() -> None:
    """Send what Qt says to the log instead of the screen."""

    def qt_says(kind: QtMsgType, context: object, text: str) -> None:
        quiet = kind in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) or "propagateSizeHints" in text
        LOG.log(logging.DEBUG if quiet else logging.WARNING, "Qt: %s", text)

    qInstallMessageHandler(qt_says)


class Guard:
    """Takes exceptions that nobody caught.

    Parameters
    ----------
    session : Session
        Whose work is kept.
    log : Path
        Where the details go.
    parent : callable
        Returns the window the message belongs to, or None.
    """

    def __init__(self, session: Session, log: Path, parent: Callable[[], QWidget | None]) -> None:
        self._session = session
        self._log = log
        self._parent = parent
        self._busy = False
        self._said: set[str] = set()

    def install(self) -> None:
        """Take exceptions from now on."""
        sys.excepthook = self.caught

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Keep the work, write the log, tell the person, go on."""
        if issubclass(kind, KeyboardInterrupt):
            sys.exit(130)
        LOG.error("".join(traceback.format_exception(kind, error, trace)))
        with contextlib.suppress(Exception):
            self._session.autosave()
        if self._busy:
            return
        where = traceback.extract_tb(trace)[-1] if trace is not None else None
        key = f"{kind.__name__} {where.filename if where else ''} {where.lineno if where else 0}"
        if key in self._said:
            # the same fault in every frame must not bury the window in messages
            return
        self._said.add(key)
        self._busy = True
        try:
            self._tell(error)
        finally:
            self._busy = False

    def words(self, error: BaseException) -> str:
        """Return what is shown."""
        if isinstance(error, LinkvizError):
            return str(error)
        return (
            "The program made a mistake of its own and could not finish what you asked. Your work is still here, and a "
            "copy of unsaved changes was kept. Save under another name to be safe.\n\n"
            f"Details for a report are in {self._log}."
        )

    def _tell(self, error: BaseException) -> None:
        box = QMessageBox(self._parent())
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Something went wrong")
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(self.words(error))
        box.exec()
        box.deleteLater()
