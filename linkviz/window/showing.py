"""What actions, title and tool bar say about the session; only what differs is touched."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from linkviz.session.session import Session
from linkviz.session.view import PAGES
from linkviz.units import format_length
from linkviz.window.counter_view import show_keys
from linkviz.window.icons import icon
from linkviz.window.plain import plain_tip

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow


def title_words(session: Session) -> tuple[str, str]:
    """Return the line at the right end of the tool bar: the name, then lift and bracket."""
    document, unit = session.shown, session.view.unit
    setup = document.setup
    lift = f"lifted {format_length(setup.lift, unit)}" if setup.lift > 0 else "as built"
    parts = f"bracket {format_length(setup.drop, unit)}" if setup.drop else "no bracket"
    star = " *" if session.dirty else ""
    return f"{document.title}{star}", f"\N{MIDDLE DOT} {lift} \N{MIDDLE DOT} {parts}"


def show_actions(window: MainWindow) -> None:
    """Show the session on the actions, the title of the window and the line in the tool bar."""
    session, view, actions = window.session, window.session.view, window.actions_by_name
    for name, what in (("undo", window.stage.undo_text or session.undo_text), ("redo", session.redo_text)):
        # a name in it is shown as it is written: an ampersand is no letter to press, a bracket no markup
        text = f"&{name.capitalize()} {what.replace('&', '&&')}".rstrip()
        if actions[name].text() != text:
            tip = f"{name.capitalize()} {what}".rstrip()
            actions[name].setText(text)
            actions[name].setToolTip(plain_tip(f"{tip} ({actions[name].shortcut().toString()})"))
        if actions[name].isEnabled() != bool(what):
            actions[name].setEnabled(bool(what))
    on = {
        "play": view.playing,
        "units": view.unit == "in",
        "theme": view.theme == "dark",
        "doubt": view.doubt,
        "calm": view.calm,
        "counter": view.counter,
        "draw": window.stage.drawing,
        "ghost_built": view.ghost == "as built",
        "ghost_lifted": view.ghost == "lifted",
        "ghost_none": view.ghost == "none",
        **{f"page_{page}": view.page == page for page in PAGES},
    }
    for name, state in on.items():
        if actions[name].isChecked() != state:
            actions[name].setChecked(state)
    words = "Pause" if view.playing else ("Step travel" if view.calm else "Play travel")
    if actions["play"].iconText() != words:
        actions["play"].setText(f"&{words}\tSpace")
        actions["play"].setIconText(words)
        for button in (window.controls.play, window.large.buttons["play"]):
            button.setAccessibleName(words)
        actions["play"].setIcon(icon("pause" if view.playing else "play", window.colours.text))
    show_keys(actions, session.shown, view)
    window.title.show_title(*title_words(session))
    document = session.shown
    title = f"{Path(document.path).name if document.path else document.title}[*] - Linkviz"
    if window.windowTitle() != title:
        window.setWindowTitle(title)
    if window.isWindowModified() != session.dirty:
        window.setWindowModified(session.dirty)
