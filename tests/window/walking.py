"""Goes through a window by Tab, as a person without a mouse does, and says what was met on the way."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QApplication,
    QComboBox,
    QLineEdit,
    QTabBar,
    QWidget,
)

MOST = 200
ROW = 36
"""How far up Tab may go on its way to the right, screen points: controls of one row need not be equally high."""


def name_of(widget: QWidget) -> str:
    """Return what a screen reader calls a widget."""
    found = QAccessible.queryAccessibleInterface(widget)
    return str(found.text(QAccessible.Text.Name)) if found is not None else ""


def called(widget: QWidget) -> str:
    """Return a widget in words, for what a test says when it fails."""
    return f"{type(widget).__name__} {name_of(widget)!r}"


def operable(root: QWidget) -> list[QWidget]:
    """Return what can be worked in a window: it is there, enabled, and takes the keys or is of a kind that must."""
    kinds = (QAbstractButton, QAbstractItemView, QAbstractSlider, QComboBox, QLineEdit, QTabBar)
    found = []
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or not widget.isEnabled() or widget.window() is not root:
            continue
        inside = widget.parentWidget()
        # the line of a list and the surface of a table belong to these, bars of a scroll area to what they scroll
        owned = isinstance(
            inside, QComboBox | QAbstractItemView | QLineEdit | QTabBar
        ) or widget.objectName().startswith(("qt_scrollarea", "qt_spinbox"))
        bar = isinstance(inside, QWidget) and inside.objectName().endswith("container")
        surface = inside is not None and getattr(inside, "viewport", lambda: None)() is widget
        tab = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None
        if not (owned or bar or surface) and (tab or isinstance(widget, kinds)):
            found.append(widget)
    return found


def in_a_group(widget: QWidget) -> bool:
    """Return whether a button is one of several of which one is down: Tab takes that one, arrows the others."""
    if not isinstance(widget, QAbstractButton) or widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
        return False
    group = widget.group()
    return widget.autoExclusive() or (group is not None and group.exclusive())


def walked(first: QWidget, key: Qt.Key = Qt.Key.Key_Tab) -> list[QWidget]:
    """Return what Tab reaches from a widget until it is there again, each in sight when it has the keys."""
    first.setFocus(Qt.FocusReason.TabFocusReason)
    met: list[QWidget] = []
    here = first
    while len(met) < MOST:
        met.append(here)
        assert not in_sight(here).isEmpty(), f"{called(here)} has the keys and is out of sight"
        QTest.keyClick(here, key)
        went = QApplication.focusWidget()
        assert went is not None and went is not here, f"{called(here)} does not let go of the keys"
        if went is first:
            return met
        assert went not in met, f"{called(went)} is reached again before the round is done"
        here = went
    raise AssertionError("the round has no end")


def in_sight(widget: QWidget) -> QRect:
    """Return how much of a widget is inside everything that holds and scrolls it."""
    seen, at = widget.rect(), widget
    while not at.isWindow():
        above = at.parentWidget()
        seen = seen.translated(at.pos()).intersected(above.rect())
        at = above
    return seen


def assert_read(met: Iterable[QWidget], part: QWidget) -> None:
    """Check that what was met in a part comes from the top to the bottom, and from left to right in a row."""
    inside = [widget for widget in met if part.isAncestorOf(widget)]
    places = [QRect(widget.mapTo(part, QPoint(0, 0)), widget.size()) for widget in inside]
    for before, after, here, there in zip(places, places[1:], inside, inside[1:], strict=False):
        if there.isAncestorOf(here):
            continue
        below, right = after.center().y() > before.center().y() - ROW, after.left() >= before.right() - 2
        same_row = abs(after.center().y() - before.center().y()) < 8
        good = right or (below and not same_row and after.center().y() > before.center().y())
        assert good, f"from {called(here)} at {before} Tab jumps back to {called(there)} at {after}"
