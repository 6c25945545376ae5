"""Sees what must never happen: an exception nobody caught, a warning of Qt or of the program, work that is lost."""

from __future__ import annotations

import logging
import sys
import threading
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any

from PySide6.QtCore import QtMsgType, qInstallMessageHandler

from linkviz.book.model import SetupTable, Whole
from linkviz.book.read import parse_job
from linkviz.book.write import quick_text
from linkviz.session.document import Document
from linkviz.session.files import load
from linkviz.session.session import Session
from linkviz.vehicle.tables import same

QUIET = ("propagateSizeHints", "This plugin does not support", "QWindowsWindow::setGeometry")
"""What Qt says of a screen, not of the program."""


class Watch(logging.Handler):
    """Collects troubles for as long as it is entered.

    Attributes
    ----------
    troubles : list of str
        What went wrong, each with the place where.
    """

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.troubles: list[str] = []

    def __enter__(self) -> Watch:
        """Listen to everything that could complain."""
        self._hooks = sys.excepthook, threading.excepthook, sys.unraisablehook
        sys.excepthook = self._caught
        threading.excepthook = lambda args: self._caught(args.exc_type, args.exc_value, args.exc_traceback)
        sys.unraisablehook = lambda args: self._caught(args.exc_type, args.exc_value, args.exc_traceback)
        self._qt = qInstallMessageHandler(self._qt_says)
        logging.getLogger().addHandler(self)
        return self

    def __exit__(self, *_: object) -> None:
        """Stop listening."""
        sys.excepthook, threading.excepthook, sys.unraisablehook = self._hooks
        qInstallMessageHandler(self._qt)
        logging.getLogger().removeHandler(self)

    def _caught(
        self, kind: type[BaseException], error: BaseException | None, trace: TracebackType | None, *_: object
    ) -> None:
        self.troubles.append("".join(traceback.format_exception(kind, error, trace)))

    def _qt_says(self, kind: QtMsgType, _: object, text: str) -> None:
        if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) and not any(word in text for word in QUIET):
            self.troubles.append(f"Qt: {text}\n{''.join(traceback.format_stack(limit=12))}")

    def emit(self, record: logging.LogRecord) -> None:
        """Take a warning or an error of the program's log."""
        self.troubles.append(f"log: {record.getMessage()}\n{record.exc_text or record.exc_info or ''}")


class Jobs:
    """Follows what is saved and what is left, and knows when something is lost.

    Parameters
    ----------
    session : Session
        Whose work it is.

    Attributes
    ----------
    leave : str
        The answer given to the question about unsaved work since the last `begin`, "" for none.
    saves : int
        How many saves succeeded.
    """

    def __init__(self, session: Session) -> None:
        self.session = session
        self.leave = ""
        self.saves = 0
        self.kept: dict[str, Document] = {}
        self._checked: tuple[object, ...] = ()
        self._wrap("save_as", self._after_save)
        start = session._start

        def begin(document: Document, saved: Document | None) -> None:
            assert not session.dirty or self.leave == "discard", "unsaved work was left without a question"
            self.leave = ""
            start(document, saved)

        session._start = begin  # type: ignore[method-assign]

    def _wrap(self, name: str, after: Callable[[str], None]) -> None:
        do = getattr(self.session, name)

        def both(path: str, *rest: Any) -> None:
            do(path, *rest)
            after(path)

        setattr(self.session, name, both)

    def _after_save(self, path: str) -> None:
        self.saves += 1
        self.kept[str(Path(path).resolve())] = self.session.document

    def check_open(self) -> None:
        """Make sure that what calls itself saved is on the disk as it is on the screen."""
        session = self.session
        document, path = session.document, session.document.path
        if path is None or session.dirty or session.hold.read_only:
            return
        now = (document, Path(path).stat().st_mtime_ns)
        if self._checked and self._checked[0] is document and self._checked[1] == now[1]:
            return
        _same(document, path)
        self._checked = now

    def check_all(self) -> None:
        """Make sure that every file holds what was last saved to it, and that a copy of unsaved work is whole."""
        for path, document in self.kept.items():
            _same(document, path)
        document = self.session.document
        unsaved = self.session.store.unsaved
        unsaved.keep(document)
        kept = Document.of(parse_job(unsaved.file.read_text(encoding="utf-8"), "the copy"), document.path)
        assert _says_the_same(kept.whole, document.whole), "the copy of unsaved work is another"
        self.session.autosave()


def _same(document: Document, path: str) -> None:
    there = load(path, document.setup.lift)
    whole = there.whole if there.is_job else Document(there.vehicle, document.setup, path, document.job).whole
    assert _says_the_same(whole, document.whole), (
        f"{path} is not what was saved to it:\n{quick_text(whole)}\n-- on the screen --\n{quick_text(document.whole)}"
    )


def _says_the_same(one: Whole, other: Whole) -> bool:
    """Return whether two jobs are the same; inches come back from a file to the last digit written."""
    setups = (SetupTable.of(one.setup), SetupTable.of(other.setup))
    return same(one.job, other.job) and same(*setups) and same(one.vehicle, other.vehicle)
