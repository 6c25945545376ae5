"""What is chosen and typed while a photo is laid: where its two points are, how strong it is, whether it is shown."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from linkviz.errors import LinkvizError
from linkviz.session.session import Session
from linkviz.units import length_number, parse_length
from linkviz.window.over_bar import OverBar
from linkviz.window.plain import plain_tip
from linkviz.window.tools.placer import Placer


class PhotoBar(OverBar):
    """A bar over the drawings, there while a photo is laid.

    Parameters
    ----------
    session : Session
        What has the photo.
    placer : Placer
        What it works.
    parent : QWidget
        What it lies on.
    """

    refused = Signal(str)
    another = Signal()
    """Another photo is wanted."""

    def __init__(self, session: Session, placer: Placer, parent: QWidget) -> None:
        super().__init__(session, parent)
        self._placer = placer
        self.title = QLabel()
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.opacity = QSlider(Qt.Orientation.Horizontal)
        self.opacity.setAccessibleName("How strong the photo is")
        self.opacity.setToolTip("How strong the photo is")
        self.opacity.setRange(5, 100)
        self.opacity.setFixedWidth(90)
        self.opacity.valueChanged.connect(lambda value: self._change("photo strength", opacity=value / 100.0))
        self.opacity.sliderReleased.connect(session.end_gesture)
        self.shown = QCheckBox("Show")
        self.shown.setAccessibleName("Show the photo")
        self.shown.toggled.connect(lambda on: self._change("show photo" if on else "hide photo", shown=on))
        first = QHBoxLayout()
        first.addWidget(self.title, 1)
        first.addSpacing(12)
        first.addWidget(QLabel("Strength"))
        first.addWidget(self.opacity)
        first.addWidget(self.shown)
        self.watch([QLineEdit() for _ in range(5)], 58)
        self.labels = [QLabel() for _ in range(4)]
        second = QHBoxLayout()
        for point in (0, 1):
            second.addSpacing(12 * point)
            second.addWidget(QLabel(f"Point {point + 1}"))
            for i in (2 * point, 2 * point + 1):
                second.addWidget(self.labels[i])
                second.addWidget(self.boxes[i])
        second.addSpacing(12)
        second.addWidget(QLabel("or apart"))
        second.addWidget(self.boxes[4])
        self.boxes[4].setAccessibleName("Distance of the two points")
        self.boxes[4].setToolTip("How far apart the two points are; point 1 stays where it is")
        self.place_button = self._button("Place", "Lay the photo by what was typed (Enter)", self._place)
        second.addWidget(self.place_button)
        second.addStretch(1)
        for words, tip, deed in (
            ("Another...", "Choose another photo", self.another.emit),
            ("Remove", "Take the photo away; Undo brings it back", self._remove),
            ("Done", "Go back to drawing (Esc)", placer.leave),
        ):
            first.addWidget(self._button(words, tip, deed))
        rows = QVBoxLayout(self)
        rows.setContentsMargins(8, 3, 8, 3)
        rows.setSpacing(3)
        rows.addLayout(first)
        rows.addLayout(second)
        placer.changed.connect(self.show_photo)

    def _button(self, words: str, tip: str, deed: object) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words.rstrip(".") + " photo" if words != "Done" else "Done with the photo")
        button.setToolTip(tip)
        button.clicked.connect(lambda: deed())  # type: ignore[operator]
        return button

    # -- what it shows

    def present(self) -> None:
        """Come with the placer."""
        for box in self.boxes:
            box.clear()
        self.show_photo()
        super().present()

    def show_photo(self) -> None:
        """Show the photo as it is, and faintly where its points lie now."""
        photo = self._placer.photo
        if photo is None:
            return
        across = "y" if photo.view == "rear" else "x"
        self.title.setText(f"Photo behind the {photo.view} view: {_short(Path(photo.path).name)}")
        self.title.setToolTip(plain_tip(photo.path))
        for widget, value in ((self.opacity, round(photo.opacity * 100)), (self.shown, photo.shown)):
            widget.blockSignals(True)
            if isinstance(widget, QSlider):
                widget.setValue(int(value))
            else:
                widget.setChecked(bool(value))
            widget.blockSignals(False)
        unit = self._session.view.unit
        for i, label in enumerate(self.labels):
            name = (across, "z")[i % 2]
            label.setText(name)
            self.boxes[i].setAccessibleName(f"{name} of point {i // 2 + 1}")
            plus = "up from the ground" if name == "z" else ("left is plus" if name == "y" else "forward is plus")
            self.boxes[i].setToolTip(f"{name} of point {i // 2 + 1} at design height, {plus}")
        values = [value for pixel in self._placer.pixels for value in photo.to_body(pixel)]
        for i in range(4):
            self.boxes[i].setPlaceholderText(length_number(values[i], unit) if i < len(values) else "")
        apart = ""
        if len(values) == 4:
            apart = length_number(abs(complex(*values[:2]) - complex(*values[2:])), unit)
        self.boxes[4].setPlaceholderText(apart)

    def show_unit(self) -> None:
        """Show where the points lie in the other unit."""
        self.show_photo()

    # -- what it does

    def _change(self, words: str, **changes: object) -> None:
        photo = self._placer.photo
        if photo is not None:
            changed = photo.replace(**changes)
            key = ("photo", photo.view, *changes) if "opacity" in changes else None
            self._session.edit(self._session.document.with_photo(photo.view, changed), words, key)

    def _remove(self) -> None:
        view = self._placer.view
        self._session.edit(self._session.document.with_photo(view, None), "remove photo")
        self._placer.leave()

    def _place(self) -> None:
        texts = [box.text().strip() for box in self.boxes]
        unit = self._session.view.unit
        try:
            if all(texts[:4]):
                one, other = ((parse_length(texts[i], unit), parse_length(texts[i + 1], unit)) for i in (0, 2))
                done = self._placer.place((one, other), None)
            elif texts[4] and not any(texts[:4]):
                done = self._placer.place(None, parse_length(texts[4], unit))
            else:
                raise LinkvizError("Type all four values of the two points, or only how far apart they are.")
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        if done:
            for box in self.boxes:
                box.clear()

    def key(self, box: QObject, event: QKeyEvent) -> bool:
        """Place the photo with Enter, go one step back with Esc."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._place()
            return True
        if event.key() == Qt.Key.Key_Escape:
            self._placer.escape()
            return True
        return False


def _short(name: str) -> str:
    return name if len(name) <= 22 else name[:10] + "..." + name[-9:]
