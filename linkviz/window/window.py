"""The main window: puts the parts together and carries every change of the session to the screen, once a turn."""

from __future__ import annotations

import contextlib

from PySide6.QtCore import QByteArray, QEventLoop, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QVBoxLayout,
    QWidget,
)

from linkviz.errors import LinkvizError
from linkviz.session.live import Frame, Live, slow_work
from linkviz.session.session import Event, Session
from linkviz.session.view import PAGES
from linkviz.window import dialogs, looking, theme
from linkviz.window.actions import fill_menus, fill_toolbar, make_actions
from linkviz.window.controls import Controls
from linkviz.window.counter_view import CounterKeys, CounterView
from linkviz.window.doubts import Doubts
from linkviz.window.envelopes import Envelopes
from linkviz.window.files import Files, dropped_path
from linkviz.window.graph import Graph
from linkviz.window.graph_file import ask_graph
from linkviz.window.handles import Parts
from linkviz.window.icons import icon
from linkviz.window.keep import kept_layout, shown_layout
from linkviz.window.memory import give_back_holes
from linkviz.window.notice import Notice
from linkviz.window.pages.page import Moment
from linkviz.window.photos import Photos
from linkviz.window.reading_order import OrderedWindow, give_keys
from linkviz.window.running import Running
from linkviz.window.share import Share
from linkviz.window.shop.desk import Desk
from linkviz.window.showing import show_actions
from linkviz.window.side import WIDTH, Side
from linkviz.window.small_room import LARGE, LEAST, Across
from linkviz.window.stage import Stage
from linkviz.window.sweeps import Sweeps
from linkviz.window.title_line import TitleLine
from linkviz.window.work import LatestWork

REST_MS = 5000
"""After so long without a frame the window is at rest."""


class MainWindow(OrderedWindow):
    """The one window.

    Parameters
    ----------
    session : Session
        What it shows and changes.
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.live = Live(session)
        self.frame: Frame | None = None
        self.colours = theme.LIGHT
        self._theme = ""
        self._due = False
        self._closing = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(lambda: give_back_holes())
        self._counter_shown: bool | None = None
        self._tool_hint = ""
        self.setAcceptDrops(True)
        self.setMinimumSize(LEAST)
        self.files = Files(session, self)
        self.desk = Desk(self)
        self.counter_keys = CounterKeys(session, self)
        self.stage = Stage(session)
        self.share = Share(self)
        self.envelopes = Envelopes(session, self)
        self.photos = Photos(session, self.stage, self)
        self.controls = Controls(session)
        self.graph = Graph(session)
        self.side = Side(session)
        self.notice = Notice(self.stage)
        self.title = TitleLine()
        self.running = Running(session, self)
        self.running.moved.connect(self._turn)
        column = self._lay_out()
        self._make_actions()
        self.large = CounterView(self.actions_by_name)
        column.insertWidget(1, self.large)
        self._connect()
        self.work = LatestWork(lambda document: slow_work(document, session.stock), parent=self)
        self.work.done.connect(self._slow_came)
        self.sweeps = Sweeps(self.live, self)
        self.sweeps.changed.connect(lambda: self._told("view"))
        self.doubts = Doubts(self)
        self.doubts.changed.connect(lambda: self._told("view"))
        self.doubts.progressed.connect(self.side.show_progress)
        self._stop = session.subscribe(self._told)
        shown_layout(self, session.store.layout())
        session.set_view(large=self.fontMetrics().height() >= LARGE)
        self.refresh()

    # -- putting it together

    def _lay_out(self) -> QVBoxLayout:
        self._lower = Parts(Qt.Orientation.Vertical, "Height of the graph")
        top = QWidget()
        column = QVBoxLayout(top)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.stage, 1)
        column.addWidget(self.controls)
        self._lower.addWidget(top)
        self._lower.addWidget(self.graph)
        self._lower.setStretchFactor(0, 4)
        self._lower.setStretchFactor(1, 1)
        self._lower.setSizes([470, 165])
        self._across = Across(self._lower, self.side, WIDTH, self.controls.ample)
        self.side.turned.connect(self._across.reveal)
        self.setCentralWidget(self._across)
        self.resize(1280, 720)
        return column

    def _make_actions(self) -> None:
        session, view = self.session, self.session.set_view
        self.actions_by_name = make_actions(
            self,
            {
                **self.desk.deeds(),
                **self.counter_keys.deeds(),
                "open": self.files.ask_open,
                "sheet": self.files.ask_sheet,
                "blank": self.files.ask_blank,
                "save": self.files.save,
                "saveas": self.files.ask_save,
                **self.share.deeds(),
                "graph": lambda: ask_graph(self),
                "quit": self.close,
                "undo": self.stage.undo,
                "redo": session.redo,
                "draw": self.stage.take_pencil,
                **self.envelopes.deeds(),
                **self.photos.deeds(),
                "play": self.running.play,
                "calm": self.running.choose,
                "fit": self.stage.fit,
                "units": lambda on: view(unit="in" if on else "mm"),
                "theme": lambda on: view(theme="dark" if on else "light"),
                "doubt": lambda on: view(doubt=on),
                "stop_doubt": lambda: self.doubts.cancel(),
                "counter": lambda on: view(counter=on),
                "ghost_built": lambda on: view(ghost="as built"),
                "ghost_lifted": lambda on: view(ghost="lifted"),
                "ghost_none": lambda on: view(ghost="none"),
                **{f"page_{name}": lambda on, name=name: view(page=name) for name in PAGES},
                "next_pane": self.next_pane,
                "previous_pane": lambda: self.next_pane(-1),
                "equations": lambda: looking.open_equations(self),
                "limits": lambda: looking.open_limits(self),
                "signs": lambda: dialogs.run(dialogs.signs(self)),
                "cautions": lambda: dialogs.run(dialogs.cautions(self)),
                "about": lambda: dialogs.run(dialogs.about(self)),
            },
        )
        actions = self.actions_by_name
        # the menu bar is hidden in the counter view; the shortcuts go on
        for action in actions.of.values():
            self.addAction(action)
        fill_menus(self, actions)
        self.toolbar = fill_toolbar(self, actions, self.title)
        self.controls.play.setDefaultAction(actions["play"])
        self.controls.play.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        if actions.recent is not None and actions.demos is not None:
            recent, demos = actions.recent, actions.demos
            recent.aboutToShow.connect(lambda: self.files.fill_recent(recent))
            demos.aboutToShow.connect(lambda: self.files.fill_demos(demos))
            self.files.fill_demos(demos)

    def _connect(self) -> None:
        for part in (self.controls, self.side, self.stage, self.envelopes, self.photos):
            # what a drag refuses is still to be read when the drag ends at the last good place
            part.refused.connect(self.notice.say if part is self.stage else self.notice.refuse)
        for speaker in (self.files, self.envelopes, self.side):
            speaker.said.connect(lambda text: self.notice.say(text, "info"))
        self.files.opened.connect(self._opened)
        self.stage.hint.connect(self._hint)
        self.stage.drawing_changed.connect(self._drawing_changed)
        self.side.asked.connect(lambda name: self.actions_by_name[name].trigger())
        self.graph.save_asked.connect(lambda kind: ask_graph(self, kind))
        self.share.watch()

    # -- from the session to the screen

    def _told(self, event: Event) -> None:
        if event == "document":
            self.notice.settle()
        if not self._due and not self._closing:
            self._due = True
            QTimer.singleShot(0, self._turn)

    def _turn(self) -> None:
        if self._due and not self._closing:
            self.refresh()

    def refresh(self) -> None:
        """Show what the session holds: one solve, then every part that differs is painted in the same turn."""
        self._due = False
        self._rest.start()
        document, view = self.session.shown, self.session.view
        if view.theme != self._theme:
            self._show_theme(view.theme)
        if view.counter != self._counter_shown:
            self._show_counter(view.counter)
        frame = self.live.frame()
        self.frame = frame
        self.stage.show_scene(frame.scene)
        self.controls.show_state(document, view)
        live = frame.scene.live
        doubt = self.doubts.ask(document, view.doubt)
        if view.counter:
            self.large.show_state(frame, document, view, self.counter_keys.words())
        else:
            self.graph.show_state(frame, view)
            self.graph.show_doubt(doubt)
            self.side.show_state(Moment(document, view, frame, self.live.live_name(), self.stage.drawing, doubt))
        stopped = live.stopped_by[0] if not bool(live.reached[0]) else ""
        self.notice.stand(
            self._tool_hint or (f"The axle is at its limit: {stopped}." if stopped else ""),
            "info" if self._tool_hint else "hit",
        )
        show_actions(self)
        self.running.show(view.playing, view.calm)
        self.sweeps.ask(document)
        if not self.live.slow_done:
            self.work.ask(self.live.slow_key, document)

    def frame_now(self) -> None:
        """Show and paint everything that is due before returning, for whoever measures or looks at one frame."""
        self.refresh()
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)

    def _show_theme(self, name: str) -> None:
        app = QApplication.instance()
        self._theme = name
        if isinstance(app, QApplication):
            self.colours = theme.apply(app, name)
        self.stage.show_theme(name, self.colours)
        self.graph.show_theme(self.colours)
        self.side.show_theme(self.colours)
        self.large.show_theme(self.colours)
        self.notice.show_theme(self.colours)
        self.actions_by_name.show_theme(self.colours)
        playing = self.session.view.playing
        self.actions_by_name["play"].setIcon(icon("pause" if playing else "play", self.colours.text))

    def _show_counter(self, on: bool) -> None:
        self._counter_shown = on
        for part in (self.menuBar(), self.toolbar, self.controls, self.graph, self.side):
            part.setVisible(not on)
        self.large.setVisible(on)
        if on:
            self.counter_keys.prepare()
            self.stage.rear.setFocus(Qt.FocusReason.OtherFocusReason)
        self.stage.fit_later()

    def _slow_came(self, key: object, slow: object) -> None:
        self.live.take(key, slow)  # type: ignore[arg-type]
        self._told("view")

    def _opened(self) -> None:
        self.stage.take_pencil(False)
        self.stage.fit_later()
        self.notice.clear()

    def _hint(self, text: str) -> None:
        self._tool_hint = text
        self.notice.clear()
        self._told("view")

    def _drawing_changed(self, on: bool) -> None:
        if on:
            self.session.set_view(playing=False)
        elif self.session.view.envelope >= 0 and not self.session.view.counter:
            self.session.set_view(page="clearance")
        self._told("view")

    # -- keys and files

    def regions(self) -> tuple[tuple[QWidget, QWidget], ...]:
        """Return the parts F6 goes through: (part, where the keys go in it)."""
        return (
            (self.stage.rear, self.stage.rear),
            (self.stage.side, self.stage.side),
            (self.controls, self.controls.lift.slider),
            (self.graph, self.graph.choice),
            (self.side, self.side.first_widget()),
        )

    def next_pane(self, by: int = 1) -> None:
        """Put the keys into the next part of the window, or with -1 into the one before."""
        focus = QApplication.focusWidget()
        regions = [(part, goal) for part, goal in self.regions() if part.isVisible()]
        here = [focus is not None and (part is focus or part.isAncestorOf(focus)) for part, _ in regions]
        at = here.index(True) if True in here else min(-by, 0)
        give_keys(*regions[(at + by) % len(regions)])
        self.rings.show()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Play with the space bar where nothing else takes it; leave the counter view, or the pencil, with Esc."""
        if event.key() == Qt.Key.Key_Space:
            self.actions_by_name["play"].trigger()
            return
        if event.key() == Qt.Key.Key_Escape:
            if self.session.view.counter:
                self.session.set_view(counter=False)
            elif self.stage.drawing or self.stage.placing:
                (self.stage.pencil if self.stage.drawing else self.stage.placer).escape()
            else:
                self.desk.end_tour()
            return
        super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take one job, vehicle file or measuring sheet."""
        if dropped_path(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Open what was dropped."""
        path = dropped_path(event.mimeData())
        if path:
            event.acceptProposedAction()
            # the other program waits until this returns
            QTimer.singleShot(0, lambda: self.files.open_path(path))

    def restore_places(self, layout: dict[str, object]) -> None:
        """Put the splitters and the window where they were left."""
        for key, restore in (
            ("geometry", self.restoreGeometry),
            ("across", self._across.restore),
            ("lower", self._lower.restoreState),
        ):
            text = layout.get(key)
            if isinstance(text, str) and text:
                restore(QByteArray.fromBase64(text.encode("ascii", "ignore")))

    def places(self) -> dict[str, str]:
        """Return where the window and the splitters are, as text."""
        return {
            "geometry": bytes(self.saveGeometry().toBase64().data()).decode(),
            "across": bytes(self._across.places().toBase64().data()).decode(),
            "lower": bytes(self._lower.saveState().toBase64().data()).decode(),
        }

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Ask about unsaved work, remember how the window is left, stop everything that runs."""
        if not self.files.may_leave():
            event.ignore()
            return
        self._closing = True
        self.running.ticker.stop()
        self._stop()
        self.files.close()
        self.doubts.wait()
        for work in self.findChildren(LatestWork):
            work.wait()
        with contextlib.suppress(LinkvizError, OSError):
            if not self.session.view.counter:
                self.session.store.keep_layout(kept_layout(self))
            self.session.close()
        event.accept()
        super().closeEvent(event)
