"""Dialogs are let go of, and show names as they are written."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox, QScrollArea, QWidget

from linkviz.errors import LinkvizError
from linkviz.window import dialogs


@pytest.fixture
def parent(qtbot: Any) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    return widget


def left(parent: QWidget) -> list[QDialog]:
    """Return the dialogs the parent still keeps."""
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    return parent.findChildren(QDialog)


def test_a_dialog_is_gone_once_it_is_closed(parent: QWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dialogs.ProblemsDialog, "exec", lambda self: 0)
    monkeypatch.setattr(QMessageBox, "exec", lambda self: 0)
    dialogs.tell(LinkvizError("Nothing to be done."), parent)
    assert dialogs.ask_unsaved(parent, "a job") == "stay"
    assert left(parent) == []


def test_a_name_is_no_markup(parent: QWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = []
    monkeypatch.setattr(QMessageBox, "exec", lambda self: seen.append((self.textFormat(), self.text())) or 0)
    dialogs.ask_unsaved(parent, "<img src=x>")
    assert seen == [(Qt.TextFormat.PlainText, "<img src=x> has changes that are not saved.")]


def test_a_question_of_a_long_name_wraps_and_is_not_squeezed(parent: QWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    squeezed = []
    monkeypatch.setattr(QMessageBox, "exec", lambda self: squeezed.append(self.findChildren(QScrollArea)) or 0)
    dialogs.ask_unsaved(parent, "a job with a name of many words " * 8)
    assert squeezed == [[]]
