"""The bracket of the document, drawn at once, with the hole the bar hangs in to be chosen."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from linkviz.analysis.bracket.loads import bar_end_of, frame_bracket_of
from linkviz.bracket.defaults import USUAL_BAR, USUAL_FRAME, default_bracket
from linkviz.bracket.parts import DropBracket
from linkviz.bracket.plates import drop_plates, pressed
from linkviz.errors import LinkvizError
from linkviz.picture.bracket_views import BracketScene
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.units import Unit, format_length
from linkviz.window.pages import bracket_words as words
from linkviz.window.pages.bracket_sketch import BracketSketch
from linkviz.window.pages.sentences import Note, put
from linkviz.window.still import StillCombo


class BracketPicture(QWidget):
    """The drawing, where the bar hangs, and the holes to choose from.

    Parameters
    ----------
    session : Session
        What is changed.
    """

    refused = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._holes: tuple[float, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.sketch = BracketSketch()
        self.sketch.hole_picked.connect(self.hang)
        column.addWidget(self.sketch)
        row = QHBoxLayout()
        self.caption = Note()
        self.combo = StillCombo()
        self.combo.setAccessibleName("Hole the bar hangs in")
        self.combo.setToolTip("Hang the bar in a hole of the job's own bracket; a click on the hole does the same")
        self.combo.activated.connect(lambda i: self.hang(self._holes[i]) if 0 <= i < len(self._holes) else None)
        row.addWidget(self.caption, 1)
        row.addWidget(self.combo)
        column.addLayout(row)

    def hang(self, drop: float) -> None:
        """Hang the bar in a hole: its drop becomes the drop of the setup, its shift that of the bracket."""
        now = self._session.document
        own = now.job.bracket
        shift = own.shift if own is not None else now.setup.shift
        if (now.setup.drop, now.setup.shift) != (drop, shift):
            said = format_length(drop, self._session.view.unit)
            self._session.edit_setup(f"hang the bar in the hole at {said}", drop=drop, shift=shift)

    def show_document(self, document: Document, unit: Unit, angle: float, drop: float) -> None:
        """Show the bracket of a document.

        Parameters
        ----------
        document : Document
            Its own bracket, or the one proposed for its vehicle.
        unit : {"mm", "in"}
        angle : float
            Of the bar, rad.
        drop : float
            Where the bar hangs, mm.
        """
        frame, bar = frame_bracket_of(document.vehicle), bar_end_of(document.vehicle)
        made = bracket_of(document, drop)
        self._show_holes(made if document.job.bracket is not None else None, drop, unit)
        put(self.caption, words.hangs(made, drop, unit))
        try:
            plates = drop_plates(made, pressed(made.steel))
        except LinkvizError as error:
            self.refused.emit(str(error))
            return
        scene = BracketScene(made, plates, frame or USUAL_FRAME, bar or USUAL_BAR, drop, angle, unit)
        said = "measured" if frame and bar else "usual sizes: not measured"
        self.sketch.show_scene(
            scene,
            f"Drop {format_length(drop, unit)}, anchor bolt {format_length(made.anchor, unit)} below the original "
            f"bolt, plates {format_length(made.thickness, unit)} thick; frame bracket and eye {said}.",
        )

    def _show_holes(self, own: DropBracket | None, drop: float, unit: Unit) -> None:
        """Offer the holes of the job's own bracket; the one proposed has its hole wherever the drop is."""
        self._holes = own.holes if own is not None else ()
        self.combo.setVisible(bool(self._holes))
        texts = [f"hole {i + 1}, {format_length(hole, unit)}" for i, hole in enumerate(self._holes)]
        if self.combo.offer(texts):
            self.combo.setPlaceholderText("in no hole")
        self.combo.setCurrentIndex(next((i for i, hole in enumerate(self._holes) if abs(hole - drop) < 0.05), -1))


def bracket_of(document: Document, drop: float) -> DropBracket:
    """Return the bracket of a document: its own, or the one that is proposed for a drop."""
    own = document.job.bracket
    if own is not None:
        return own.bracket()
    frame, bar = frame_bracket_of(document.vehicle), bar_end_of(document.vehicle)
    return default_bracket(frame, bar, (drop,)).replace(shift=document.setup.shift)
