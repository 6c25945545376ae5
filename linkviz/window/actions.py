"""Everything that can be done, as actions: menus, toolbar and shortcuts are made from one list."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from PySide6.QtCore import QObject, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QToolBar, QToolButton, QWidget

from linkviz.frozen import Frozen
from linkviz.window.icons import icon
from linkviz.window.pages.registry import ENTRIES
from linkviz.window.theme import Colours


class Deed(Frozen):
    """One thing to do.

    Attributes
    ----------
    name : str
        Key, and name of its icon.
    text : str
        Words in the menu.
    tip : str
        Tool tip; the shortcut is added.
    keys : tuple of str
        Shortcuts, in Qt's portable form.
    check : bool
        Whether it is on or off.
    """

    name: str
    text: str
    tip: str
    keys: tuple[str, ...] = ()
    check: bool = False


DEEDS: tuple[Deed, ...] = (
    Deed("newjob", "&New job...", "Begin a job: a vehicle of the shop, a customer, a lift", ("Ctrl+N",)),
    Deed("open", "&Open...", "Open a job or a vehicle file", ("Ctrl+O",)),
    Deed("book", "&Job book...", "All jobs of the shop: search, open, compare", ("Ctrl+B",)),
    Deed("details", "Job de&tails...", "Number, customer, status, notes", ("Ctrl+J",)),
    Deed("duplicate", "D&uplicate job", "Begin a new job like this one", ("Ctrl+Shift+N",)),
    Deed("sheet", "Vehicle from &measuring sheet...", "Make a vehicle from a filled-in measuring sheet (CSV)"),
    Deed("blank", "&Blank measuring sheet...", "Save an empty measuring sheet to fill in with a tape", ()),
    Deed("save", "&Save", "Save the job or the vehicle to its file", ("Ctrl+S",)),
    Deed("saveas", "Save &as...", "Save under another name, as a job or as a vehicle", ("Ctrl+Shift+S",)),
    Deed("picture", "Save &picture...", "Save the drawings: PNG, SVG, or a moving GIF", ("Ctrl+P",)),
    Deed("copy", "&Copy picture", "Copy the drawings for a letter or a message", ("Ctrl+Shift+C",)),
    Deed("graph", "Save &graph...", "Save what the graph shows as a picture or a table", ("Ctrl+Shift+G",)),
    Deed("quit", "&Quit", "Leave the program", ("Ctrl+Q",)),
    Deed("undo", "&Undo", "Take the last edit back", ("Ctrl+Z",)),
    Deed("redo", "&Redo", "Bring the edit again that was taken back", ("Ctrl+Shift+Z", "Ctrl+Y")),
    Deed("draw", "&Draw envelope", "Draw what the shaft must stay clear of: click its corners", ("D",), True),
    Deed("env_duplicate", "D&uplicate envelope", "Put a copy of the picked envelope beside it", ("Ctrl+D",)),
    Deed("env_mirror", "&Mirror left-right", "Put the picked envelope on the other side", ("Ctrl+M",)),
    Deed("env_copy", "&Copy envelope", "Copy the picked envelope as text, for this or another vehicle", ("Ctrl+C",)),
    Deed("env_paste", "&Paste envelope", "Add the envelopes on the clipboard", ("Ctrl+V",)),
    Deed("env_take", "&Take envelopes from another vehicle file...", "Choose envelopes of another vehicle"),
    Deed("env_import", "&Import outlines (DXF, CSV)...", "Take outlines from a drawing or a table"),
    Deed("env_export", "&Export outlines (DXF, CSV)...", "Write the outlines of the picked envelope, or of all"),
    Deed("photo_rear", "Photo behind the &rear view...", "Put a photo behind the rear view, to trace over"),
    Deed("photo_side", "Photo behind the &side view...", "Put a photo behind the side view, to trace over"),
    Deed("play", "&Play travel", "Run the axle through its travel", ("Space",), True),
    Deed("fit", "&Fit drawings", "Show all of both drawings", ("F",)),
    Deed("units", "&Inches", "Lengths in inches or millimetres", ("I",), True),
    Deed("theme", "&Dark", "Dark or light colours", ("Ctrl+T",), True),
    Deed("calm", "C&alm motion", "Nothing moves by itself; playing goes on one step each time", (), True),
    Deed("counter", "&Counter view", "Drawings and three columns only, in large letters", ("F11",), True),
    Deed("lift2", "2 in", "Counter view: lifted 2 inches", ("2",), True),
    Deed("lift3", "3 in", "Counter view: lifted 3 inches", ("3",), True),
    Deed("lift4", "4 in", "Counter view: lifted 4 inches", ("4",), True),
    Deed("lift6", "6 in", "Counter view: lifted 6 inches", ("6",), True),
    Deed("parts", "Parts on (P)", "Counter view: the parts that belong to the lift, on or off", ("P",), True),
    Deed("ghost_built", "Ghost: as &built", "Draw the vehicle as built, dashed, behind the live one", ("G",), True),
    Deed("ghost_lifted", "Ghost: &lifted, no bracket", "The lift without parts, dashed, behind", ("Shift+G",), True),
    Deed("ghost_none", "&No ghost", "Draw the live state alone", ("Ctrl+G",), True),
    *(
        Deed(f"page_{entry.name}", entry.menu, entry.tip, (f"Ctrl+{i + 1}",), True)
        for i, entry in enumerate(ENTRIES.values())
    ),
    Deed("doubt", "Measuring &error", "Work out how far the figures may be off because of the tape", ("E",), True),
    Deed("stop_doubt", "S&top working it out", "Stop working out the measuring error until something changes"),
    Deed("next_pane", "Next &pane", "Go on to the next part of the window", ("F6",)),
    Deed("previous_pane", "P&revious pane", "Go back to the part of the window before", ("Shift+F6",)),
    Deed("limits", "How far can it be &lifted?", "The trailing links over lift, against limits of your own", ("L",)),
    Deed("equations", "Show the &equations", "How the figures come about, with the numbers of this vehicle", ("Q",)),
    Deed("guide", "&Measuring guide", "What to measure on a vehicle, and how, with pictures", ("F2",)),
    Deed("tour", "Short &tour", "What is where in this window", ()),
    Deed("signs", "&Signs and words", "Which way is plus, and what the words mean", ("F1",)),
    Deed("cautions", "&Cautions", "What must be kept in mind", ()),
    Deed("about", "&About Linkviz", "Version and licence", ()),
)


ENVELOPE_DEEDS: tuple[tuple[str, ...], ...] = (
    ("env_duplicate", "env_mirror", "env_copy", "env_paste"),
    ("env_take", "env_import", "env_export"),
    ("photo_rear", "photo_side"),
)
"""Deeds on envelopes and photos, in the groups of their menu."""


@dataclass
class Actions:
    """The actions of a window by name.

    Attributes
    ----------
    of : dict of str to QAction
    recent, demos : QMenu
        Menus filled by the window.
    """

    of: dict[str, QAction] = field(default_factory=dict)
    recent: QMenu | None = None
    demos: QMenu | None = None

    def __getitem__(self, name: str) -> QAction:
        """Return an action by name."""
        return self.of[name]

    def show_theme(self, colours: Colours) -> None:
        """Tint the icons for a theme."""
        for name, action in self.of.items():
            if not name.startswith(("ghost_", "page_", "env_", "photo_", "calm")):
                action.setIcon(icon(name, colours.text, colours.soft if name in ("undo", "redo") else ""))


def make_actions(parent: QObject, do: dict[str, Callable[..., object]]) -> Actions:
    """Make all actions.

    Parameters
    ----------
    parent : QObject
        Their owner.
    do : dict
        What each one calls; the on/off ones are called with their state.
    """
    actions = Actions()
    groups: dict[str, QActionGroup] = {}
    for deed in DEEDS:
        action = QAction(deed.text, parent)
        action.setObjectName(deed.name)
        action.setCheckable(deed.check)
        # a button that has the focus takes the space bar first, so this key is the window's and no shortcut
        action.setShortcuts([QKeySequence(key) for key in deed.keys if key != "Space"])
        shown = ", ".join(QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText) for key in deed.keys[:1])
        action.setToolTip(f"{deed.tip} ({shown})" if shown else deed.tip)
        action.setStatusTip(deed.tip)
        action.triggered.connect(do[deed.name] if deed.check else _plain(do[deed.name]))
        kind = deed.name.split("_")[0]
        if kind in ("ghost", "page") and "_" in deed.name:
            if kind not in groups:
                groups[kind] = QActionGroup(parent)
            groups[kind].addAction(action)
        actions.of[deed.name] = action
    return actions


def _plain(call: Callable[..., object]) -> Callable[[], object]:
    def run() -> object:
        return call()

    return run


def fill_menus(window: QMainWindow, actions: Actions) -> None:
    """Put the actions into the menu bar."""
    bar = window.menuBar()
    bar.setAccessibleName("Menu bar")
    file = bar.addMenu("&File")
    for name in ("newjob", "book", "open"):
        file.addAction(actions[name])
    actions.recent = file.addMenu("Open &recent")
    actions.demos = file.addMenu("Open &demo vehicle")
    file.addSeparator()
    for name in ("details", "duplicate"):
        file.addAction(actions[name])
    file.addSeparator()
    file.addAction(actions["sheet"])
    file.addAction(actions["blank"])
    file.addSeparator()
    for name in ("save", "saveas", "picture", "copy", "graph"):
        file.addAction(actions[name])
    file.addSeparator()
    file.addAction(actions["quit"])
    edit = bar.addMenu("&Edit")
    for name in ("undo", "redo"):
        edit.addAction(actions[name])
    edit.addSeparator()
    edit.addAction(actions["draw"])
    for group in ENVELOPE_DEEDS:
        edit.addSeparator()
        for name in group:
            edit.addAction(actions[name])
    view = bar.addMenu("&View")
    for group in (
        ("play", "calm", "fit"),
        ("units", "theme"),
        ("doubt", "stop_doubt", "limits"),
        ("ghost_built", "ghost_lifted", "ghost_none"),
        (*(f"page_{name}" for name in ENTRIES), "next_pane", "previous_pane"),
        ("counter", "lift2", "lift3", "lift4", "lift6", "parts"),
    ):
        for name in group:
            view.addAction(actions[name])
        view.addSeparator()
    help_menu = bar.addMenu("&Help")
    for name in ("guide", "tour", "signs", "equations", "cautions", "about"):
        help_menu.addAction(actions[name])


def fill_toolbar(window: QMainWindow, actions: Actions, title: QWidget) -> QToolBar:
    """Make the toolbar; the title stands at its right end."""
    bar = QToolBar("Tools")
    bar.setObjectName("tools")
    bar.setAccessibleName("Tools")
    bar.setMovable(False)
    bar.setFloatable(False)
    bar.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
    bar.setIconSize(QSize(20, 20))
    bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
    groups = (("book", "open", "save"), ("undo", "redo"), ("draw",), ("fit", "units", "theme", "picture"), ("counter",))
    for group in groups:
        for name in group:
            bar.addAction(actions[name])
            button = bar.widgetForAction(actions[name])
            if isinstance(button, QToolButton):
                button.setAccessibleName(actions[name].text().replace("&", "").rstrip("."))
                button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
                if name in ("draw", "counter", "units", "book", "open", "save"):
                    button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        if group is not groups[-1]:
            bar.addSeparator()
    bar.addWidget(title)
    for extension in bar.findChildren(QToolButton, "qt_toolbar_ext_button"):
        extension.setAccessibleName("More tools")
        extension.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    window.addToolBar(bar)
    return bar
