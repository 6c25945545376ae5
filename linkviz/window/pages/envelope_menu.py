"""The button of the Clearance page behind which the deeds on envelopes and photos are."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QToolButton

from linkviz.window.actions import DEEDS, ENVELOPE_DEEDS


class EnvelopeMenu(QToolButton):
    """A button with a menu; `asked` says the name of the deed that was chosen."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setText("More")
        self.setAccessibleName("More to do with envelopes")
        self.setToolTip("Duplicate, mirror, copy, take from another vehicle or a file; photos to trace over")
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        menu.setAccessibleName("More to do with envelopes")
        deeds = {deed.name: deed for deed in DEEDS}
        for group in ENVELOPE_DEEDS:
            for name in group:
                deed = deeds[name]
                text = f"{deed.text}\t{deed.keys[0]}" if deed.keys else deed.text
                action = menu.addAction(text)
                action.triggered.connect(lambda _=False, name=name: self.asked.emit(name))
            menu.addSeparator()
        self.setMenu(menu)
