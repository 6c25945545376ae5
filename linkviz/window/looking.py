"""Opens the dialogs that look closer; each is loaded when it is first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow


def open_limits(window: MainWindow) -> None:
    """Show how far the vehicle can be lifted."""
    from linkviz.window.lift_limits import LiftLimits

    dialog = LiftLimits(window.session, window.colours, window)
    dialog.exec()
    dialog.wait()
    dialog.deleteLater()
