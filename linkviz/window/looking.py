"""Opens the dialogs that look closer; each is loaded when it is first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from linkviz.window import dialogs

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow


def open_limits(window: MainWindow) -> None:
    """Show how far the vehicle can be lifted."""
    from linkviz.window.lift_limits import LiftLimits

    dialog = LiftLimits(window.session, window.colours, window)
    dialogs.run(dialog)
    dialog.wait()
    window.refresh()  # the Bracket page goes by the same limits


def open_equations(window: MainWindow) -> None:
    """Show the equations with the numbers of what is on the screen."""
    from linkviz.window.equations import Equations

    if window.frame is None:
        return
    dialogs.run(Equations(window.frame.scene.live, window.colours, window))
