"""History: a list of documents and a place in it."""

from __future__ import annotations

from linkviz.book.form import Form
from linkviz.frozen import Frozen
from linkviz.session.document import Document

LIMIT = 200
"""Undo steps kept."""


class Step(Frozen):
    """One state of the history.

    Attributes
    ----------
    document : Document
        The state after the edit.
    text : str
        What the edit did, in the words of the menu ("move lower left frame end").
    key : object
        Gesture the edit belongs to; None for an edit of its own.
    """

    document: Document
    text: str
    key: object = None


class History:
    """Undo and redo over whole documents.

    Parameters
    ----------
    document : Document
        The state to begin with.
    limit : int
        How many steps can be undone.
    """

    def __init__(self, document: Document, limit: int = LIMIT) -> None:
        self._steps = [Step(document, "")]
        self._at = 0
        self._limit = limit

    @property
    def document(self) -> Document:
        """Return the present state."""
        return self._steps[self._at].document

    @property
    def undo_text(self) -> str:
        """Return what undo would take back, or "" if there is nothing."""
        return self._steps[self._at].text if self._at else ""

    @property
    def redo_text(self) -> str:
        """Return what redo would bring again, or "" if there is nothing."""
        return self._steps[self._at + 1].text if self._at + 1 < len(self._steps) else ""

    def __len__(self) -> int:
        """Return how many steps can be undone."""
        return self._at

    def push(self, document: Document, text: str, key: object = None) -> None:
        """Add a state; an edit with the same gesture key as the last one takes its place."""
        last = self._steps[self._at]
        del self._steps[self._at + 1 :]
        if key is not None and self._at and last.key == key:
            if document == self._steps[self._at - 1].document:
                del self._steps[self._at]
                self._at -= 1
                return
            self._steps[self._at] = Step(document, text, key)
            return
        if document == last.document:
            return
        self._steps.append(Step(document, text, key))
        if len(self._steps) > self._limit + 1:
            del self._steps[0]
        self._at = len(self._steps) - 1

    def move_to(self, path: str, form: Form) -> None:
        """Put one file on every state (after a save under another name)."""
        self._steps = [Step(step.document.kept_in(path, form), step.text, step.key) for step in self._steps]

    def seal(self) -> None:
        """End the present gesture: the next edit is a step of its own whatever its key."""
        step = self._steps[self._at]
        self._steps[self._at] = Step(step.document, step.text, None)

    def undo(self) -> bool:
        """Go one state back, which ends the gesture; return whether there was one."""
        if not self._at:
            return False
        self._at -= 1
        self.seal()
        return True

    def redo(self) -> bool:
        """Go one state forward, which ends the gesture; return whether there was one."""
        if self._at + 1 >= len(self._steps):
            return False
        self._at += 1
        self.seal()
        return True
