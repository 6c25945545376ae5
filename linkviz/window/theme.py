"""Two complete palettes of our own, on Qt's Fusion style."""

from __future__ import annotations

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

from linkviz.frozen import Frozen, values_of
from linkviz.picture.style import paint


class Colours(Frozen):
    """Colours of one theme, by use; ``#rrggbb``."""

    window: str
    base: str
    alternate: str
    text: str
    soft: str
    line: str
    button: str
    accent: str
    on_accent: str
    built: str
    lifted: str
    corrected: str
    paper: str
    grid: str
    danger: str
    picked: str
    edge: str

    @property
    def states(self) -> dict[str, str]:
        """Return the colour of each of the compared states."""
        return {"as built": self.built, "lifted": self.lifted, "corrected": self.corrected}

    @property
    def signs(self) -> dict[str, str]:
        """Return the colour of each sign: good, look at this, touches."""
        return {"ok": self.corrected, "warn": self.lifted, "hit": self.danger}


_PAPER, _NIGHT = paint("light"), paint("dark")
"""Colours of the drawings, which the window shares."""

LIGHT = Colours(
    window="#eceae4",
    base=_PAPER.paper,
    alternate="#f3f1ea",
    text=_PAPER.ink,
    soft=_PAPER.soft,
    line="#cbc8be",
    button="#f7f5ef",
    accent=_PAPER.bar,
    on_accent="#ffffff",
    built=_PAPER.ghost,
    lifted="#ad4700",
    corrected="#00735a",
    paper=_PAPER.paper,
    grid="#e6e3d9",
    danger="#b3261e",
    picked="#cfe3ee",
    edge="#6a7279",
)
DARK = Colours(
    window="#20262b",
    base=_NIGHT.paper,
    alternate="#1d2328",
    text=_NIGHT.ink,
    soft=_NIGHT.soft,
    line="#3c464d",
    button="#2b333a",
    accent="#4aa8e0",
    on_accent="#0b1115",
    built=_NIGHT.ghost,
    lifted="#f08a3c",
    corrected="#35c596",
    paper=_NIGHT.paper,
    grid="#283036",
    danger="#ff8a80",
    picked="#24475c",
    edge="#8b979f",
)
THEMES = {"light": LIGHT, "dark": DARK}


def palette(colours: Colours) -> QPalette:
    """Return the palette of a theme, every role set by hand."""
    result = QPalette()
    role = QPalette.ColorRole
    roles = {
        role.Window: colours.window,
        role.WindowText: colours.text,
        role.Base: colours.base,
        role.AlternateBase: colours.alternate,
        role.Text: colours.text,
        role.PlaceholderText: colours.soft,
        role.Button: colours.button,
        role.ButtonText: colours.text,
        role.BrightText: colours.danger,
        role.ToolTipBase: colours.base,
        role.ToolTipText: colours.text,
        role.Highlight: colours.accent,
        role.HighlightedText: colours.on_accent,
        role.Link: colours.accent,
        role.LinkVisited: colours.accent,
        role.Light: colours.base,
        role.Midlight: colours.alternate,
        role.Mid: colours.line,
        role.Dark: colours.line,
        role.Shadow: "#000000",
        role.Accent: colours.accent,
    }
    for key, value in roles.items():
        result.setColor(key, QColor(value))
    for key in (role.WindowText, role.Text, role.ButtonText):
        result.setColor(QPalette.ColorGroup.Disabled, key, QColor(colours.soft))
    return result


SHEET = """
QToolTip {{ background: {base}; color: {text}; border: 1px solid {line}; padding: 3px; }}
QMenu {{ border: 1px solid {line}; }}
QToolBar {{ background: {window}; border: none; border-bottom: 1px solid {line}; spacing: 1px; padding: 2px 4px; }}
QToolBar QToolButton {{ padding: 3px 5px; border-radius: 5px; border: 1px solid transparent; }}
QToolBar QToolButton:hover {{ background: {button}; border-color: {line}; }}
QToolBar QToolButton:checked {{ background: {base}; border-color: {accent}; }}
QToolBar QToolButton:focus {{ border-color: {accent}; }}
QStatusBar {{ background: {window}; color: {soft}; }}
#page {{ background: {window}; }}
#pages QToolButton {{ padding: 5px 3px; border: 1px solid transparent; border-bottom: 3px solid transparent;
    color: {soft}; }}
#pages QToolButton:hover {{ color: {text}; }}
#pages QToolButton:focus {{ border-color: {accent}; }}
#pages QToolButton:checked {{ color: {text}; border-bottom-color: {accent}; }}
#card {{ background: {base}; border: 1px solid {line}; border-radius: 8px; }}
#ring {{ background: transparent; border: 3px solid {accent}; border-radius: 8px; }}
#over {{ background: {window}; border: 1px solid {line}; border-radius: 8px; }}
#over QLineEdit {{ background: {base}; border: 1px solid {line}; border-radius: 3px; padding: 2px 3px; }}
#over QLineEdit:focus {{ border-color: {accent}; }}
#card QToolButton {{ background: {button}; border: 1px solid {line}; border-radius: 6px; padding: 4px 10px; }}
#card QToolButton:hover {{ border-color: {accent}; }}
#card QToolButton:focus {{ border: 2px solid {accent}; }}
#card QToolButton:checked {{ background: {accent}; color: {on_accent}; border-color: {accent}; }}
#card QToolButton:disabled {{ color: {soft}; }}
#columns {{ background: transparent; border: none; }}
#columns QHeaderView {{ background: {base}; border: none; }}
#columns QHeaderView::section {{ background: {base}; border: none; border-bottom: 1px solid {line};
    padding: 2px 3px 4px 3px; }}
QHeaderView::section {{ background: {alternate}; border: none; border-bottom: 1px solid {line}; padding: 3px 4px; }}
QTableWidget::item:selected {{ background: {picked}; color: {text}; }}
QSplitter::handle {{ background: {window}; }}
#notice {{ background: {base}; }}
#soft {{ color: {soft}; }}
#message {{ color: {text}; background: {base}; }}
#problem {{ color: {danger}; }}
#lifted {{ color: {lifted}; font-weight: 600; }}
#corrected {{ color: {corrected}; font-weight: 600; }}
#built {{ color: {text}; }}
#value[refused="true"] {{ border: 2px solid {danger}; border-radius: 4px; }}
"""


EDGED = ("QAbstractButton", "QLineEdit", "QComboBox", "QAbstractItemView", "QPlainTextEdit")
"""What is known by its edge: an empty box must be seen (WCAG 2.2, 1.4.11)."""


def apply(app: QApplication, name: str) -> Colours:
    """Give the program one of the two themes ("light" or "dark"); return its colours."""
    colours = THEMES[name]
    if app.style().objectName().lower() != "fusion":
        app.setStyle("Fusion")
    usual = palette(colours)
    app.setPalette(usual)
    # Fusion has no role for edges: it draws them in the colour of the window darkened by 140 %
    usual.setColor(QPalette.ColorRole.Window, QColor(colours.edge).lighter(140))
    for kind in EDGED:
        app.setPalette(usual, kind)  # type: ignore[arg-type]
    app.setStyleSheet(SHEET.format(**values_of(colours)))
    return colours


def scaled(font: QFont, factor: float, bold: bool = False) -> QFont:
    """Return a font at a multiple of its size, whether that was given in points or in pixels."""
    result = QFont(font)
    if font.pointSizeF() > 0:
        result.setPointSizeF(font.pointSizeF() * factor)
    else:
        result.setPixelSize(max(1, round(font.pixelSize() * factor)))
    result.setBold(bold)
    return result
