"""The right side: one page at a time, chosen by a row of tabs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from linkviz.job.compare import Name
from linkviz.session.live import Frame
from linkviz.session.session import Session
from linkviz.session.view import PAGES, Page
from linkviz.window.pages.clearance import ClearancePage
from linkviz.window.pages.counter import CounterPage
from linkviz.window.pages.vehicle import VehiclePage
from linkviz.window.theme import Colours

TABS: dict[Page, str] = {"counter": "Counter", "vehicle": "Vehicle", "clearance": "Clearance"}
WIDTH = 438
"""Width of the side in a small window, screen points."""


class Side(QWidget):
    """The pages.

    Parameters
    ----------
    session : Session
        What they show and change.
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.setMinimumWidth(340)
        self.counter = CounterPage()
        self.vehicle = VehiclePage(session)
        self.clearance = ClearancePage(session)
        tabs = QWidget()
        tabs.setObjectName("pages")
        row = QHBoxLayout(tabs)
        row.setContentsMargins(6, 0, 6, 0)
        row.setSpacing(0)
        group = QButtonGroup(self)
        group.setExclusive(True)
        self.tabs: dict[Page, QToolButton] = {}
        self._stack = QStackedWidget()
        pages: dict[Page, QWidget] = {
            "counter": self.counter,
            "vehicle": self.vehicle,
            "clearance": self.clearance,
        }
        for i, page in enumerate(PAGES):
            tab = QToolButton()
            tab.setText(TABS[page])
            tab.setAccessibleName(f"{TABS[page]} page")
            tab.setToolTip(f"{TABS[page]} page (Ctrl+{i + 1})")
            tab.setCheckable(True)
            tab.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            tab.clicked.connect(lambda _=False, page=page: self._session.set_view(page=page))
            group.addButton(tab)
            row.addWidget(tab)
            self.tabs[page] = tab
            self._stack.addWidget(pages[page])
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(tabs)
        column.addWidget(self._stack, 1)

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self.counter.show_theme(colours)
        self.clearance.show_theme(colours)

    def show_state(self, frame: Frame, name: Name) -> None:
        """Show the present page; `name` is the state that is drawn."""
        document, view = self._session.shown, self._session.view
        at = PAGES.index(view.page)
        if self._stack.currentIndex() != at:
            self._stack.setCurrentIndex(at)
        if not self.tabs[view.page].isChecked():
            self.tabs[view.page].setChecked(True)
        if view.page == "counter":
            self.counter.show_state(document, frame.findings, view.unit)
        elif view.page == "vehicle":
            self.vehicle.show_state(document, view)
        else:
            self.clearance.show_state(document, view, frame, name)

    def first_widget(self) -> QWidget:
        """Return where the keys go on the present page."""
        page = self._session.view.page
        return {
            "counter": self.counter.columns,
            "vehicle": self.vehicle.table,
            "clearance": self.clearance.draw_button,
        }[page]
