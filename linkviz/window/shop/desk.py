"""What can be done with jobs from the window; the dialogs are loaded when they are first needed."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from linkviz.analysis.setup import Setup
from linkviz.book.shelf import next_number, statuses, vehicles
from linkviz.errors import LinkvizError
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import DEMO_LIFT
from linkviz.window import dialogs
from linkviz.window.shop.folder import shop_folder

if TYPE_CHECKING:
    from linkviz.book.shelf import Entry
    from linkviz.window.window import MainWindow


class Desk(QObject):
    """The shop's deeds.

    Parameters
    ----------
    window : MainWindow
        Whose session they change.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._session = window.session

    def deeds(self) -> dict[str, Callable[..., object]]:
        """Return what each action of the shop does."""
        return {
            "newjob": self.new_job,
            "book": self.open_book,
            "details": self.details,
            "duplicate": self.duplicate,
            "guide": self.guide,
            "tour": self.tour,
        }

    def guide(self) -> None:
        """Show what to measure and how."""
        from linkviz.window.guide import Guide

        view = self._session.view
        dialogs.run(Guide(view.theme, view.unit, self._window))

    def tour(self) -> None:
        """Show the window to a newcomer."""
        from linkviz.window.tour import Tour

        self.end_tour()
        Tour(self._window)

    def end_tour(self) -> None:
        """End the tour, if it is shown."""
        from linkviz.window.tour import Tour

        for there in self._window.findChildren(Tour):
            there.end()

    def new_job(self) -> None:
        """Ask for a vehicle and a customer and begin a job."""
        from linkviz.window.shop.new_job import NewJob

        session = self._session
        folder = shop_folder(session.store)
        dialog = NewJob(
            vehicles(folder) if folder.is_dir() else (),
            demo_vehicle_paths(),
            session.document.vehicle,
            next_number(self._entries(), time.localtime().tm_year),
            session.document.setup.lift or DEMO_LIFT,
            session.view.unit,
            self._window,
        )
        if dialogs.run(dialog) and dialog.document is not None:
            document = dialog.document
            if self._window.files.begin(document):
                self._say(f"Job {document.title} has begun. Save it to keep it.")

    def open_book(self) -> None:
        """Show the job book and do what was asked for in it."""
        from linkviz.window.shop.book import Book

        dialog = Book(self._session, self._window)
        answer, paths = (dialog.answer, dialog.paths) if dialogs.run(dialog) else ("", ())
        if answer == "open":
            self._window.files.open_path(str(paths[0]))
        elif answer == "new":
            self.new_job()
        elif answer == "duplicate":
            if self._window.files.open_copy(str(paths[0]), self._number()):
                self._say(f"Job {self._session.document.title} is a copy. Save it to keep it.")
        elif answer == "compare":
            self.compare(*paths)

    def details(self) -> None:
        """Edit the details of the job: one step of the history."""
        from linkviz.window.shop.details import Details

        session = self._session
        document = session.document
        words = statuses(self._entries())

        def take(changes: dict[str, object], setup: Setup) -> None:
            session.edit(document.with_job(**changes).replace(setup=setup), "job details")

        dialogs.run(Details(document.job, document.setup, session.view.unit, words, take, self._window))

    def duplicate(self) -> None:
        """Begin a new job like the one that is open."""
        session = self._session
        document = session.document
        job = document.job.replace(number=self._number(), printed=(), opened=time.strftime("%Y-%m-%d"))
        if self._window.files.begin(document.replace(job=job)):
            self._say(f"This is a new job, {session.document.title}, like the one before. Save it to keep it.")

    def compare(self, one: Path, other: Path) -> None:
        """Show two jobs side by side."""
        from linkviz.book.compare import side_by_side
        from linkviz.book.read import read_job
        from linkviz.session.document import Document
        from linkviz.window.shop.pair import Pair

        try:
            pair = (read_job(one), read_job(other))
        except LinkvizError as error:
            dialogs.tell(error, self._window)
            return
        lines = side_by_side(*pair, self._session.view.unit)
        titles = (Document.of(pair[0]).title, Document.of(pair[1]).title)
        dialogs.run(Pair(lines, titles, self._window.colours, self._window))

    def _entries(self) -> tuple[Entry, ...]:
        from linkviz.window.shop.book import read_shelf

        return read_shelf(shop_folder(self._session.store)).entries

    def _number(self) -> str:
        return next_number(self._entries(), time.localtime().tm_year)

    def _say(self, text: str) -> None:
        self._window.notice.say(text, "info")
