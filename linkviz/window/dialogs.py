"""Dialogs: what is wrong with a file, about, signs and words, cautions, recovery."""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QMessageBox,
    QTableWidget,
    QTableWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

import linkviz
from linkviz.analysis.findings import CAUTIONS
from linkviz.book.lock import Held
from linkviz.errors import FileRefused, LinkvizError
from linkviz.letters import visible
from linkviz.resources import libraries
from linkviz.session.seen import Changed
from linkviz.session.unsaved import Leftover
from linkviz.window.paths import short_path
from linkviz.window.plain import plain_tip
from linkviz.window.small_room import bring_into_reach

SIGNS = """
<h3>Axes</h3>
<p>x forward, y to the left, z up from the ground (ISO 8855), fixed to the body. The zero point lies on the ground, on
the centre plane, under the axle centre at design height (stock, unladen).</p>
<h3>Moving</h3>
<table cellpadding="3">
<tr><td><b>Ride height</b></td><td>how much higher the body stands at rest than it did as built</td></tr>
<tr><td><b>Wheel travel</b></td><td>wheels up (jounce) is plus, down (rebound) is minus, from the present rest</td></tr>
<tr><td><b>Axle roll</b></td><td>left wheel up is plus; "crossed up" is an axle rolled against the body</td></tr>
<tr><td><b>Bracket drop</b></td><td>how far a bracket lowers the frame end of the lateral bar</td></tr>
</table>
<h3>Numbers</h3>
<table cellpadding="3">
<tr><td><b>Sway</b></td><td>the axle centre's sideways movement seen from the body, left is plus. The tyres hold the
road, so on the road it is the body that is pushed sideways.</td></tr>
<tr><td><b>Bar angle</b></td><td>of the lateral bar in rear view; plus with the frame end above the axle end</td></tr>
<tr><td><b>Pinion angle</b></td><td>nose up is plus</td></tr>
<tr><td><b>Roll centre</b></td><td>height about which the body leans over the axle, in the plane of the axle</td></tr>
<tr><td><b>Gap</b></td><td>smallest distance from the driveshaft tube to an envelope, minus is depth inside</td></tr>
<tr><td><b>Envelope</b></td><td>anything on the body to stay clear of: the points inside both its outlines</td></tr>
<tr><td><b>Margin</b></td><td>the gap you want to keep to an envelope</td></tr>
</table>
<h3>Mouse and keys</h3>
<p>Wheel zooms, middle or right button shifts the drawing, F shows all. Click a point (on the Vehicle page) or an
envelope to pick it, drag to move it, arrow keys to nudge it (Shift ten times as far, Ctrl by 1 mm or 1/16 in).
Double-click an
edge for a new corner, Delete removes the picked one; Page Down picks the next corner, with Ctrl the next envelope, on
the Vehicle page the next point; Insert puts a corner behind the picked one. With nothing picked the arrow keys shift
the drawing, plus and minus zoom. While dragging or drawing, Ctrl held lets a corner go anywhere, Shift keeps it level
or upright. While drawing, digits type the next corner, arrow keys move the pen, Space puts a corner, Enter closes, Esc
goes one corner back. Double-click a slider, or press Backspace on it, for its stock value. Space plays, F6 goes to the
next part of the window, Shift+F6 back. With Ctrl and Shift held, the mouse drags a picture out of the drawing into
another program.</p>
"""


class Reading(QDialog):
    """A page to read, with a button to close it.

    Parameters
    ----------
    title : str
        Heading.
    html : str
        What to read.
    """

    def __init__(self, title: str, html: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setMinimumSize(560, 420)
        column = QVBoxLayout(self)
        text = QTextBrowser()
        text.setAccessibleName(title)
        text.setHtml(html)
        text.setOpenLinks(False)
        column.addWidget(text)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)


def signs(parent: QWidget) -> Reading:
    """Return the page on signs and words."""
    return Reading("Signs and words", SIGNS, parent)


def cautions(parent: QWidget) -> Reading:
    """Return the page of cautions."""
    rows = "".join(f"<li style='margin-bottom:10px'>{text}</li>" for text in CAUTIONS)
    return Reading("Cautions", f"<h3>Before anything is made or fitted</h3><ul>{rows}</ul>", parent)


def licence_text() -> str:
    """Return the licence of the program, or a word on where it is."""
    package = Path(linkviz.__file__).parent
    for file in (package.parent / "LICENSE", package.parent / "LICENCE", package / "LICENSE"):
        if file.is_file():
            return file.read_text(encoding="utf-8")
    return "The licence is the file LICENSE that came with the program."


def about(parent: QWidget) -> Reading:
    """Return the page about the program."""
    version = getattr(linkviz, "__version__", "")
    licence = licence_text().replace("&", "&amp;").replace("<", "&lt;")
    rows = "".join(
        f"<tr><td>{library.name} {library.version}</td><td style='padding-left:14px'>{library.licence}</td></tr>"
        for library in libraries()
    )
    html = (
        f"<h2>Linkviz {version}</h2><p>Shows what a lift does to a five-link rear axle, and what a bracket on its "
        "lateral bar does about it.</p><p>Figures support a qualified person's judgement and replace nobody's.</p>"
        f"<h3>Licence</h3><pre style='white-space:pre-wrap'>{licence}</pre>"
        f"<h3>Libraries of others</h3><p>The program stands on these; each has its licence in its own package.</p>"
        f"<table>{rows}</table>"
    )
    return Reading("About Linkviz", html, parent)


class ProblemsDialog(QDialog):
    """Everything that is wrong with a file: where, what was found, what is expected.

    Parameters
    ----------
    error : LinkvizError
        What was raised.
    """

    def __init__(self, error: LinkvizError, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("This file cannot be taken")
        self.setMinimumWidth(640)
        column = QVBoxLayout(self)
        problems = error.problems if isinstance(error, FileRefused) else ()
        path = error.path if isinstance(error, FileRefused) else ""
        head = QLabel()
        head.setWordWrap(True)
        head.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(head)
        if problems:
            count = "One thing is" if len(problems) == 1 else f"{len(problems)} things are"
            head.setText(f"{visible(path)}\n\n{count} wrong with it. Nothing was changed; what was open is still open.")
            table = QTableWidget(len(problems), 3)
            table.setAccessibleName("Problems of the file")
            table.setHorizontalHeaderLabels(["Where", "Found", "Expected"])
            table.verticalHeader().hide()
            table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
            table.setWordWrap(True)
            table.setTabKeyNavigation(False)
            for i, problem in enumerate(problems):
                for j, text in enumerate(problem.cells):
                    item = QTableWidgetItem(text)
                    item.setToolTip(plain_tip(text))
                    table.setItem(i, j, item)
            table.setColumnWidth(0, 190)
            table.setColumnWidth(1, 140)
            table.horizontalHeader().setStretchLastSection(True)
            column.addWidget(table)
            self.resize(720, 380)
            self.table: QTableWidget | None = table
            table.resizeRowsToContents()
        else:
            head.setText(str(error))
            self.table = None
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Give long sentences the lines they need."""
        super().resizeEvent(event)
        if self.table is not None:
            self.table.resizeRowsToContents()


def run(dialog: QDialog) -> int:
    """Show a dialog until it is closed, and let go of it; return how it ended.

    Its parent would keep it for as long as the window is there.
    """
    bring_into_reach(dialog)
    ended: int = dialog.exec()
    dialog.deleteLater()
    return ended


def tell(error: LinkvizError, parent: QWidget) -> None:
    """Tell everything that is wrong with a file, or why something could not be done."""
    run(ProblemsDialog(error, parent))


def _ask(parent: QWidget, title: str, text: str, more: str, answers: dict[str, str]) -> str:
    """Ask, and return the answer.

    `answers` gives the word on each button by the answer it stands for: the one to go on with, which Enter takes, the
    one that throws something away, and the one that leaves all as it is, which Esc takes.
    """
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle(title)
    # names of files and jobs are shown as they are written
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setText(text)
    box.setInformativeText(more)
    # it wraps its text only once it is shown; before that, a long one would be thought to need a wide screen
    for label in box.findChildren(QLabel):
        label.setWordWrap(bool(label.text()))
    role = QMessageBox.ButtonRole
    roles = (role.AcceptRole, role.DestructiveRole, role.RejectRole)
    buttons = {answer: box.addButton(answers[answer], r) for answer, r in zip(answers, roles, strict=True)}
    go_on, _, leave = answers
    box.setDefaultButton(buttons[go_on])
    box.setEscapeButton(buttons[leave])
    run(box)
    clicked = box.clickedButton()
    return next((answer for answer, button in buttons.items() if button is clicked), leave)


def ask_unsaved(parent: QWidget, name: str) -> str:
    """Ask what to do with unsaved work; return "save", "discard" or "stay"."""
    answers = {"save": "Save", "discard": "Throw away", "stay": "Cancel"}
    text = f"{name} has changes that are not saved."
    return _ask(parent, "Unsaved changes", text, "Save them first?", answers)


def ask_overwrite(parent: QWidget, folder: Path, names: Sequence[str], other: str = "Another folder") -> str:
    """Ask what to do with files that are there; return "other" (whose words are given), "over" or "stay"."""
    shown = "\n".join([*names[:8], *([f"and {len(names) - 8} more"] if len(names) > 8 else [])])
    one = len(names) == 1
    answers = {"other": other, "over": "Write over it" if one else "Write over them", "stay": "Cancel"}
    text = f"{folder} has {'this file' if one else f'{len(names)} of these files'} already."
    return _ask(parent, "The file is there already" if one else "Files are there already", text, shown, answers)


def ask_held(parent: QWidget, held: Held) -> str:
    """Ask what to do with a job that is open elsewhere; return "copy", "look" or "stay"."""
    answers = {"copy": "Work on a copy", "look": "Only look", "stay": "Cancel"}
    text = f"{Path(held.path).name} is open elsewhere: {held.holder.words()}."
    more = (
        "Two people must not save one job. A copy is a job of its own; only looking changes nothing on the disk. "
        "If nobody is there, close it on that machine first."
    )
    return _ask(parent, "The job is open elsewhere", text, more, answers)


def _date(when: float) -> str:
    return time.strftime("%d %B %Y, %H:%M", time.localtime(when))


def ask_changed(parent: QWidget, changed: Changed) -> str:
    """Ask what to do with a file that others have changed meanwhile; return "other", "over" or "stay"."""
    answers = {"other": "Save as another file", "over": "Save over it", "stay": "Cancel"}
    name = visible(Path(changed.path).name)
    text = f"{name} was changed by another program or on another machine since it was opened or last saved here."
    when = f", changed on {_date(changed.when)}" if changed.when is not None else ""
    more = (
        f"{short_path(changed.path)}{when}\nSaved as another file, yours stands beside it. Saved over, what is there "
        "now is kept beside it under a new name. Cancel leaves the file as it is, and yours unsaved."
    )
    return _ask(parent, "The file was changed elsewhere", text, more, answers)


def ask_recover(parent: QWidget, leftovers: Sequence[Leftover]) -> tuple[str, Leftover | None]:
    """Ask what to do with work that an ended session left; return "recover", "discard" or "later" and which."""
    latest = leftovers[0]
    where = f"\n{short_path(latest.document.path)}" if latest.document.path else ""
    several = f"\nThere are {len(leftovers)} of them; this is the latest." if len(leftovers) > 1 else ""
    text = f"The program ended without saving {latest.document.title}.{where}"
    if latest.saved_later:
        newer = "\nThe file itself was saved later than that."
    else:
        newer = "\nThe file itself was changed elsewhere before that." if latest.file_changed else ""
    more = f"A copy was kept on {_date(latest.when)}.{newer}{several}\nRecovering it does not overwrite any file."
    answers = {"recover": "Recover", "discard": "Throw away", "later": "Later"}
    answer = _ask(parent, "Unsaved work was found", text, more, answers)
    return answer, None if answer == "later" else latest
