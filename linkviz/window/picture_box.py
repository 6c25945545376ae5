"""Shows a picture, as large as there is room."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget


class PictureBox(QWidget):
    """A picture that keeps its proportions.

    Parameters
    ----------
    size : (int, int)
        Width and height the pictures are made in, screen points.
    """

    def __init__(self, size: tuple[int, int]) -> None:
        super().__init__()
        self._size = size
        self._image = QImage()
        self.setMinimumHeight(150)

    @property
    def shown(self) -> bool:
        """Return whether there is a picture."""
        return not self._image.isNull()

    def show_image(self, image: QImage | None) -> None:
        """Show another picture; None for none."""
        self._image = QImage() if image is None else image
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Ask for the proportions of the picture."""
        return QSize(360, round(360 * self._size[1] / self._size[0]))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the picture at the top, in the middle."""
        if not self.shown:
            return
        scale = min(self.width() / self._size[0], self.height() / self._size[1])
        wide, high = self._size[0] * scale, self._size[1] * scale
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF((self.width() - wide) / 2, 0, wide, high), self._image)
        painter.end()
