"""Start the window."""

from __future__ import annotations

import gc
import linecache
import sys

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from linkviz.analysis.setup import Setup
from linkviz.errors import LinkvizError
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import DEMO_LIFT, Document
from linkviz.session.session import Session
from linkviz.session.store import Store
from linkviz.session.view import View
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.sheet import is_sheet
from linkviz.window import system_motion
from linkviz.window.guard import Guard, qt_to_log, start_log
from linkviz.window.memory import give_back
from linkviz.window.running import Running
from linkviz.window.window import MainWindow


def demo_document() -> Document:
    """Return what is shown when no file is named: a demo vehicle, lifted, no bracket."""
    return Document(read_vehicle(str(demo_vehicle_paths()[0])), Setup(lift=DEMO_LIFT))


def application() -> QApplication:
    """Return the one application, named and in our style."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        give_back()
        app = QApplication(sys.argv[:1])
    app.setApplicationName("linkviz")
    app.setApplicationDisplayName("Linkviz")
    app.setStyle("Fusion")
    return app


def first_session(path: str | None, store: Store) -> tuple[Session, LinkvizError | None]:
    """Return the session to begin with, and why the named file was refused, if it was."""
    session = Session(demo_document(), store, View(playing=path is None))
    if path is None:
        return session, None
    try:
        if is_sheet(path):
            session.import_sheet(path, mirror=True)
        else:
            session.open(path)
    except LinkvizError as error:
        session.set_view(playing=True)
        return session, error
    return session, None


def settle() -> None:
    """Put away what the start has left behind, once the window stands."""
    linecache.clearcache()  # the source of all our modules: PySide has looked through them
    # a full collection of a large heap would be seen as a hitch in the moving picture
    gc.collect()
    gc.freeze()
    gc.enable()


def run(path: str | None) -> int:
    """Open the window and stay until it is closed.

    Parameters
    ----------
    path : str or None
        A job file, a vehicle file or a measuring sheet; None for a demo vehicle, lifted and moving.

    Returns
    -------
    int
        Exit code: 0, or 1 if the window failed.
    """
    app = application()
    store = Store()
    log = start_log(store.folder)
    qt_to_log()
    wish = system_motion.ask()
    session, refused = first_session(path, store)
    windows: list[MainWindow] = []
    guard = Guard(session, log, lambda: windows[0] if windows else None)
    guard.install()
    window = MainWindow(session)
    windows.append(window)
    chosen = Running.chosen(session)
    session.set_view(calm=wish() if chosen is None else chosen)
    if store.layout().get("geometry"):
        window.show()
    else:
        window.showMaximized()

    def settled() -> None:
        settle()
        if refused is not None:
            window.files.tell(refused)
        window.files.offer_leftovers()
        if path is None:
            from linkviz.window.tour import toured

            if not toured(window):
                window.desk.tour()

    QTimer.singleShot(400, settled)
    code = app.exec()
    windows.clear()
    window.deleteLater()
    return int(code)
