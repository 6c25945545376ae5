"""A damaged job: what is lost, and what can still be read."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QListWidget, QPlainTextEdit, QVBoxLayout, QWidget

from linkviz.book.recover import Recovered


class Damage(QDialog):
    """Says what is damaged and offers what is left.

    Parameters
    ----------
    path : str
        The file.
    found : Recovered
        What could be read of it.
    """

    def __init__(self, path: str, found: Recovered, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("A damaged job")
        self.resize(680, 480)
        column = QVBoxLayout(self)
        head = QLabel(f"{Path(path).name} is damaged. The file is left as it is; this is what cannot be used:")
        head.setWordWrap(True)
        head.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(head)
        self.losses = QListWidget()
        self.losses.setAccessibleName("What is damaged")
        self.losses.setWordWrap(True)
        self.losses.addItems(list(found.losses))
        column.addWidget(self.losses, 1)
        kinds = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(kinds.Close)
        buttons.rejected.connect(self.reject)
        if found.whole is not None:
            words = "All the rest can be opened as a new job; save it under a name of its own."
            self.take = buttons.addButton("Open what is left", QDialogButtonBox.ButtonRole.AcceptRole)
            self.take.setDefault(True)
            buttons.accepted.connect(self.accept)
        else:
            words = (
                "The vehicle cannot be put together from it. Begin a new job on a vehicle of the shop and copy what "
                "is still there of the old one:"
            )
        foot = QLabel(words)
        foot.setWordWrap(True)
        column.addWidget(foot)
        if found.whole is None:
            self.rest = QPlainTextEdit(_rest(found))
            self.rest.setAccessibleName("What is still there")
            self.rest.setReadOnly(True)
            column.addWidget(self.rest, 1)
        column.addWidget(buttons)


def _rest(found: Recovered) -> str:
    job, setup = found.job, found.setup
    lines = {
        "number": job.number, "name": job.name, "customer": job.customer, "contact": job.contact,
        "status": job.status, "begun": job.opened, "lift": f"{setup.lift:g} mm" if setup.lift else "",
        "drop": f"{setup.drop:g} mm" if setup.drop else "", "notes": job.notes,
    }  # fmt: skip
    return "\n".join(f"{key}: {value}" for key, value in lines.items() if value)
