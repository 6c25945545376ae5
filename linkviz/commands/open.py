"""The bare command: the window, or where there is no screen what `linkviz.commands.windowless` says instead."""

from __future__ import annotations

import gc
import os
import sys


def open_window(path: str | None) -> int:
    """Open the window, or say without it what there is to say."""
    why = no_screen()
    if not why:
        gc.disable()  # looking for garbage takes a tenth of the start; the window turns it on again when it has settled
        try:
            from linkviz.window.main import run
        except ImportError as error:
            gc.enable()
            why = _lacking(error)
        else:
            return run(path)
    from linkviz.commands.windowless import tell

    tell(path)
    print(why)
    return 0


def no_screen() -> str:
    """Return why no window can be shown here, as a sentence, or ""."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return ""
    if not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        return "The window needs a screen, and there is none here. Run the same command on a desktop to open it."
    from linkviz.bootstrap.qt_libraries import advice, missing_qt_libraries

    missing = missing_qt_libraries()
    return f"The window cannot be shown here. {advice(missing)}" if missing else ""


def _lacking(error: ImportError) -> str:
    return f"The window needs a system library that is missing here: {error}"
