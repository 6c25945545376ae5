"""Deals with whatever comes up before the window: does something in a dialog, then takes it or leaves it."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QFileDialog,
    QLineEdit,
    QMenu,
    QMessageBox,
    QWidget,
)

EVERY_MS = 12
PATIENCE = 6
"""How many things are done in one dialog at most."""
TEXTS = ("", "J-7", "abc", "90mm", "<i>y</i>", "4in", "Panel 3", "nan")
ENDINGS = {
    "Save as": (".job.toml", ".job.toml", ".vehicle.toml", ""),
    "Save picture": (".png", ".svg", ".gif", ""),
    "Save graph": (".png", ".svg", ".csv", ""),
    "Save outlines": (".dxf", ".csv"),
    "Save a blank measuring sheet": (".csv",),
}
"""What a file is called that is asked for under a title."""


class Attend(QObject):
    """An attendant of dialogs and menus.

    Parameters
    ----------
    seed : int
    files : list of Path
        What it opens when asked for a file to open.
    folder : Path
        Where it saves.

    Attributes
    ----------
    seen : Counter
        How often each kind of dialog ended, by its name and "taken" or "left"; asked-for files by title.
    """

    def __init__(self, seed: int, files: list[Path], folder: Path) -> None:
        super().__init__()  # a timer that calls what is no QObject leaves something behind each time
        self.random, self.files, self.folder = random.Random(seed), files, folder
        self.seen: Counter[str] = Counter()
        self.on = True
        self._at: QWidget | None = None
        self._left = 0
        folder.mkdir(parents=True, exist_ok=True)

    def begin(self) -> None:
        """Look after what comes up from now on."""
        self.on = True
        self._soon()

    def _soon(self) -> None:
        # a timer does not fire while its own slot waits in a dialog: each time another one
        if self.on:
            QTimer.singleShot(EVERY_MS, self._look)

    def _look(self) -> None:
        self._soon()
        popup = QApplication.activePopupWidget()
        waiting = popup or QApplication.activeModalWidget()
        if waiting is None:
            self._at = None
            return
        if waiting is not self._at:
            self._at, self._left = waiting, self.random.randrange(PATIENCE)
        if isinstance(waiting, QMenu):
            self._choose(waiting)
        elif popup is not None:
            QTest.keyClick(popup, self.random.choice([Qt.Key.Key_Escape, Qt.Key.Key_Down, Qt.Key.Key_Return]))
            popup.close()
        elif self._left > 0:
            self._left -= 1
            self._do(waiting)
        elif isinstance(waiting, QMessageBox):
            self._end(waiting, lambda: self.random.choice(waiting.buttons()).click())
        elif isinstance(waiting, QDialog):
            self._end(waiting, self.random.choice([waiting.accept, waiting.reject]))
        else:
            waiting.close()

    def _end(self, dialog: QDialog, how: Callable[[], None]) -> None:
        name = type(dialog).__name__
        if isinstance(dialog, QMessageBox) or name == "QDialog":
            name += f" {dialog.windowTitle()}"
        how()
        self.seen[f"{name} {'taken' if dialog.result() else 'left'}"] += 1

    def _choose(self, menu: QMenu) -> None:
        actions = [a for a in menu.actions() if a.isEnabled() and not a.isSeparator() and a.menu() is None]
        menu.close()
        if actions and self.random.random() < 0.5:
            self.seen["menu"] += 1
            self.random.choice(actions).trigger()

    def _do(self, dialog: QWidget) -> None:
        """Do one thing in a dialog."""
        kinds = (QAbstractButton, QLineEdit, QComboBox, QAbstractItemView)
        found = [w for kind in kinds for w in dialog.findChildren(kind) if w.isVisible() and w.isEnabled()]
        # a text is not to be opened by its own window of the system
        found = [w for w in found if not isinstance(dialog, QMessageBox) or not isinstance(w, QAbstractButton)]
        if not found:
            return
        widget = self.random.choice(found)
        if isinstance(widget, QLineEdit):
            widget.setFocus()
            widget.setText(self.random.choice(TEXTS))
            widget.setModified(True)
            QTest.keyClick(widget, Qt.Key.Key_Tab)
        elif isinstance(widget, QComboBox):
            if widget.count():
                widget.setCurrentIndex(self.random.randrange(widget.count()))
                widget.activated.emit(widget.currentIndex())
        elif isinstance(widget, QAbstractButton):
            widget.click()
        else:
            at = QPoint(self.random.randrange(max(widget.width(), 1)), self.random.randrange(max(widget.height(), 1)))
            do = QTest.mouseClick if self.random.random() < 0.7 else QTest.mouseDClick
            keys = self.random.choice([Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier])
            do(widget.viewport(), Qt.MouseButton.LeftButton, keys, at)

    # -- files

    def answer_files(self, put: Callable[[object, str, Any], None]) -> None:
        """Answer every question for a file as a user would: with one that fits, with any, or with none.

        Parameters
        ----------
        put : callable
            Puts a function in the place of one of a class: ``monkeypatch.setattr`` or ``setattr``.
        """
        put(QFileDialog, "getOpenFileName", self._opened)
        put(QFileDialog, "getSaveFileName", self._saved)
        put(QFileDialog, "getExistingDirectory", self._chosen)

    def _opened(self, parent: object, title: str, start: str = "", kinds: str = "") -> tuple[str, str]:
        self.seen[title] += 1
        if self.random.random() < 0.15:
            return "", ""
        fits = [file for file in self.files if any(f"*{end}" in kinds for end in (file.suffix, *_double(file)))]
        return str(self.random.choice(fits if fits and self.random.random() < 0.8 else self.files)), ""

    def _saved(self, parent: object, title: str, *_: str) -> tuple[str, str]:
        self.seen[title] += 1
        if self.random.random() < 0.2:
            return "", ""
        ending = self.random.choice(ENDINGS[title])
        return str(self.folder / f"saved{self.random.randrange(4)}{ending}"), ""

    def _chosen(self, parent: object, title: str, *_: str) -> str:
        self.seen[title] += 1
        return str(self.folder) if self.random.random() < 0.8 else ""


def _double(file: Path) -> tuple[str, ...]:
    return ("".join(file.suffixes[-2:]),)
