"""The right side: one page at a time, chosen by a row of tabs."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from linkviz.session import view
from linkviz.session.session import Session
from linkviz.window.flow import Flow
from linkviz.window.pages.page import Moment, Page
from linkviz.window.pages.registry import ENTRIES
from linkviz.window.theme import LIGHT, Colours, scaled

WIDTH = 438
"""Width of the side in a small window, screen points."""


class Side(QWidget):
    """The pages, each made when it is first shown.

    Parameters
    ----------
    session : Session
        What they show and change.

    Notes
    -----
    `refused`, `said` and `asked` pass on what the pages say (see `linkviz.window.pages.page.Page`).
    """

    refused = Signal(str)
    said = Signal(str)
    asked = Signal(str)
    turned = Signal()
    """Another page is shown."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._colours: Colours = LIGHT
        self._pages: dict[view.Page, Page] = {}
        self._needed = 0
        tabs = QWidget()
        tabs.setObjectName("pages")
        row = Flow(tabs)
        group = QButtonGroup(self)
        group.setExclusive(True)
        self.tabs: dict[view.Page, QToolButton] = {}
        self._stack = QStackedWidget()
        for i, entry in enumerate(ENTRIES.values()):
            tab = QToolButton()
            tab.setFont(scaled(self.font(), 0.94))
            tab.setText(entry.tab)
            tab.setAccessibleName(f"{entry.tab} page")
            tab.setToolTip(f"{entry.tip} (Ctrl+{i + 1})")
            tab.setCheckable(True)
            tab.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            tab.clicked.connect(lambda _=False, name=entry.name: self._session.set_view(page=name))
            group.addButton(tab)
            row.addWidget(tab)
            self.tabs[entry.name] = tab
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(tabs)
        column.addWidget(self._stack, 1)

    def page(self, name: view.Page) -> Page:
        """Return a page, made now if it has not been shown before."""
        page = self._pages.get(name)
        if page is None:
            page = self._pages[name] = ENTRIES[name].make(self._session)
            page.show_theme(self._colours)
            page.refused.connect(self.refused)
            page.said.connect(self.said)
            page.asked.connect(self.asked)
            self._stack.addWidget(page)
        return page

    def show_theme(self, colours: Colours) -> None:
        """Take the colours of a theme."""
        self._colours = colours
        for page in self._pages.values():
            page.show_theme(colours)

    def show_state(self, moment: Moment) -> None:
        """Show the present page."""
        page = self.page(moment.view.page)
        if self._stack.currentWidget() is not page:
            self._stack.setCurrentWidget(page)
            self.turned.emit()
        tab = self.tabs[moment.view.page]
        if not tab.isChecked():
            tab.setChecked(True)
        page.show_state(moment)
        needed = page.minimumSizeHint().width()
        if needed != self._needed:
            self._needed = needed
            page.updateGeometry()

    def show_progress(self, share: float) -> None:
        """Show on the present page how much of the measuring error is worked out, 0 to 1, between two frames."""
        page = self._stack.currentWidget()
        if isinstance(page, Page):
            page.show_progress(share)

    def first_widget(self) -> QWidget:
        """Return where the keys go on the present page."""
        return self.page(self._session.view.page).first_widget()
