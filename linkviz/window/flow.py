"""A row of widgets that goes on in the next row where there is no more room."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class Flow(QLayout):
    """Lays widgets out from left to right, and in further rows if need be.

    Parameters
    ----------
    side : int
        Room at the left and the right, screen points.
    """

    def __init__(self, parent: QWidget, side: int = 4) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(side, 0, side, 0)

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802
        """Take one more item."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Return an item, None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Give an item back, None beyond the last."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802
        """Return that it takes no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802
        """Return that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """Return the height of all rows at a width."""
        return self._place(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802
        """Put every item into its place."""
        super().setGeometry(rect)
        self._place(rect, move=True)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Return the size in one row."""
        left, _, right, _ = self._margins()
        sizes = [item.sizeHint() for item in self._items]
        height = max((size.height() for size in sizes), default=0)
        return QSize(sum(size.width() for size in sizes) + left + right, height)

    def minimumSize(self) -> QSize:  # noqa: N802
        """Return the size of the widest item."""
        left, _, right, _ = self._margins()
        sizes = [item.minimumSize() for item in self._items]
        width = max((size.width() for size in sizes), default=0)
        return QSize(width + left + right, max((size.height() for size in sizes), default=0))

    def _margins(self) -> tuple[int, int, int, int]:
        margins = self.contentsMargins()
        return margins.left(), margins.top(), margins.right(), margins.bottom()

    def _place(self, rect: QRect, move: bool) -> int:
        left, top, right, bottom = self._margins()
        x, y, row = rect.x() + left, rect.y() + top, 0
        end = rect.right() + 1 - right
        for item in self._items:
            size = item.sizeHint()
            if x > rect.x() + left and x + size.width() > end:
                x, y, row = rect.x() + left, y + row, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x, row = x + size.width(), max(row, size.height())
        return y + row + bottom - rect.y()
