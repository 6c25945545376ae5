"""Letters and signs stand out in both palettes (WCAG 2.2 AA: 1.4.3 text 4.5, 1.4.11 parts of the interface 3)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QMenu,
    QPushButton,
    QRadioButton,
    QWidget,
)

from linkviz.window.theme import THEMES, apply
from tests.contrast import contrast

GROUNDS = ("window", "base", "alternate", "button")
LETTERS = ("text", "soft", "built", "lifted", "corrected", "danger")


def test_the_ratio_is_that_of_the_guideline() -> None:
    # WCAG 2.2, understanding 1.4.3: black on white 21, #767676 on white just above 4.5, #777777 just below
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert 4.5 < contrast("#767676", "#ffffff") < 4.6
    assert contrast("#777777", "#ffffff") < 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("letters", LETTERS)
def test_letters_stand_out_from_every_ground(theme: str, ground: str, letters: str) -> None:
    colours = THEMES[theme]
    assert contrast(getattr(colours, letters), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
def test_letters_on_what_is_picked_stand_out(theme: str) -> None:
    colours = THEMES[theme]
    assert contrast(colours.on_accent, colours.accent) >= 4.5
    assert contrast(colours.accent, colours.paper) >= 4.5
    assert contrast(colours.text, colours.picked) >= 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("ground", GROUNDS)
def test_the_ring_around_what_has_the_keys_stands_out(theme: str, ground: str) -> None:
    colours = THEMES[theme]
    assert contrast(colours.accent, getattr(colours, ground)) >= 3.0


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("ground", (*GROUNDS, "picked"))
def test_signs_stand_out_from_every_ground_and_from_a_picked_row(theme: str, ground: str) -> None:
    colours = THEMES[theme]
    for sign, tint in colours.signs.items():
        assert contrast(tint, getattr(colours, ground)) >= 3.0, sign


@pytest.mark.parametrize("theme", sorted(THEMES))
def test_the_inks_of_the_charts_stand_out_from_their_paper(theme: str) -> None:
    colours = THEMES[theme]
    for tint in (*colours.states.values(), colours.soft, colours.accent, colours.danger, colours.text):
        assert contrast(tint, colours.base) >= 3.0
        assert contrast(tint, colours.paper) >= 3.0


def ticked() -> QListWidget:
    shown = QListWidget()
    item = QListWidgetItem("Cut list")
    item.setCheckState(item.checkState().Unchecked)
    shown.addItem(item)
    return shown


BOXES: dict[str, Callable[[], QWidget]] = {
    "tick": lambda: QCheckBox("Tick"),
    "one of several": lambda: QRadioButton("One"),
    "line": lambda: QLineEdit(),
    "list": lambda: QComboBox(),
    "button": lambda: QPushButton("Press"),
    "ticks in a list": ticked,
}


@pytest.fixture
def light_again() -> Any:
    yield
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    apply(app, "light")


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("kind", sorted(BOXES))
def test_the_edge_of_what_can_be_worked_is_seen_while_it_is_empty(
    qtbot: Any, light_again: None, theme: str, kind: str
) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    colours = apply(app, theme)
    window = QWidget()
    qtbot.addWidget(window)
    row = QHBoxLayout(window)
    control = BOXES[kind]()
    row.addWidget(control)
    other = QPushButton("Other")
    row.addWidget(other)
    window.show()
    other.setFocus()
    picture = control.grab().toImage()
    # from the left edge through the box: the ground, then the edge
    height = 13 if kind == "ticks in a list" else picture.height() // 2
    across = [picture.pixelColor(x, height).name() for x in range(24)]
    ground = colours.window if kind not in ("ticks in a list",) else colours.base
    assert max(contrast(colour, ground) for colour in across[:20]) >= 3.0, across


@pytest.mark.parametrize("theme", sorted(THEMES))
def test_letters_of_a_menu_stand_out_picked_and_not(qtbot: Any, light_again: None, theme: str) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    apply(app, theme)
    menu = QMenu()
    qtbot.addWidget(menu)
    first = menu.addAction("MMMMMM")
    menu.addAction("MMMMMM")
    menu.resize(menu.sizeHint())
    menu.setActiveAction(first)
    picture = menu.grab().toImage()
    for action in menu.actions():
        place = menu.actionGeometry(action)
        shown = [picture.pixelColor(x, place.center().y()).name() for x in range(place.left() + 2, place.right() - 2)]
        ground = max(set(shown), key=shown.count)
        assert max(contrast(colour, ground) for colour in shown) >= 4.5
