"""The order in which Tab goes through a window: as its parts are read, whenever they were made."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QGridLayout,
    QLayout,
    QMainWindow,
    QScrollArea,
    QWidget,
)

from linkviz.window.focus_ring import Rings

_NEAR = 8
"""How much of the surroundings of what has the keys is brought into sight, screen points."""


def in_reading_order(part: QWidget) -> list[QWidget]:
    """Return what Tab reaches in a part, in the order of its layouts; what lies over them comes after."""
    found = [part] if part.focusPolicy() & Qt.FocusPolicy.TabFocus and part.focusProxy() is None else []
    # the line of a list is the list's own
    inside = () if isinstance(part, QComboBox) else _inside(part)
    return found + [widget for child in inside for widget in in_reading_order(child)]


def _inside(part: QWidget) -> Iterator[QWidget]:
    layout = part.layout()
    laid = [] if layout is None or isinstance(part, QMainWindow) else list(_laid(layout))
    rest = [child for child in part.children() if isinstance(child, QWidget) and child not in laid]
    for child in (*laid, *sorted(rest, key=lambda child: (child.y(), child.x()))):
        if not child.isHidden() and not child.isWindow():
            yield child


def _laid(layout: QLayout) -> Iterator[QWidget]:
    places = list(range(layout.count()))
    if isinstance(layout, QGridLayout):
        places.sort(key=lambda i: _row_and_column(layout, i))
    for i in places:
        item = layout.itemAt(i)
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            yield widget
        elif inner is not None:
            yield from _laid(inner)


def _row_and_column(grid: QGridLayout, index: int) -> tuple[int, int]:
    """Return where an item is read: one over several rows after the last of them."""
    row, column, rows, _ = cast(tuple[int, int, int, int], grid.getItemPosition(index))
    return (row + rows - 1, column)


def go_on(root: QWidget, forward: bool) -> bool:
    """Give the keys to what is read next in a window, or before; return whether there is such a thing."""
    order = in_reading_order(root)
    here = QApplication.focusWidget()
    while here is not None and here is not root and here not in order:
        here = here.parentWidget()
    if here in order:
        # what has just been switched off under the keys keeps its place
        at = order.index(here)
        order = order[at + 1 :] + order[: at + 1]
        if not forward:
            order = order[-2::-1] + order[-1:]
    elif not forward:
        order.reverse()
    goal = next((widget for widget in order if widget.isEnabled()), None)
    if goal is None:
        return False
    goal.setFocus(Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason)
    show_focus(root)
    return True


def give_keys(part: QWidget, goal: QWidget) -> None:
    """Give the keys to what a part is begun with; where that cannot take them, to what is read first in it."""
    if not (goal.isVisible() and goal.isEnabled()):
        goal = next((widget for widget in in_reading_order(part) if widget.isEnabled()), goal)
    goal.setFocus(Qt.FocusReason.TabFocusReason)
    show_focus(goal.window())


def show_focus(root: QWidget) -> None:
    """Scroll until what has the keys can be seen."""
    focus = QApplication.focusWidget()
    for area in _areas(focus):
        if focus is not None and root.isAncestorOf(area):
            area.ensureWidgetVisible(focus, _NEAR, _NEAR)


def show_current(table: QAbstractItemView) -> None:
    """Scroll what holds a table until the place of the keys in it can be seen; a table scrolls only itself."""
    if not table.hasFocus():
        return
    cell = table.visualRect(table.currentIndex())
    for area in _areas(table):
        inner = area.widget()
        if inner is None:
            continue
        place = QRect(table.viewport().mapTo(inner, cell.topLeft()), cell.size())
        # the end first: of what is larger than the room the beginning is seen
        for corner in (place.bottomRight(), place.topLeft()):
            area.ensureVisible(corner.x(), corner.y(), 0, _NEAR)


def _areas(widget: QWidget | None) -> Iterator[QScrollArea]:
    above = widget.parentWidget() if widget is not None else None
    while above is not None:
        if isinstance(above, QScrollArea):
            yield above
        above = above.parentWidget()


class OrderedWindow(QMainWindow):
    """A window whose parts come and go, and which Tab goes through as it is read.

    What has the keys in it or in a dialog of the program has a ring.
    """

    def __init__(self) -> None:
        super().__init__()
        self.rings = Rings(self)

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802
        """Go on to the next part, or back, and bring it into sight."""
        went = go_on(self, forward)
        self.rings.show()
        return went
