from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from PySide6.QtGui import QColor, QFont, QImage, QPainter
from PySide6.QtWidgets import QApplication

from linkviz.linkage.shown_equations import STEPS
from linkviz.window.equations import Equations
from linkviz.window.formula import Setter, number_text, symbol_parts, text_of
from linkviz.window.window import MainWindow


@pytest.fixture
def dialog(window: MainWindow, qtbot: Any) -> Iterator[Equations]:
    assert window.frame is not None
    made = Equations(window.frame.scene.live, window.colours, window)
    made.show()
    yield made
    made.close()


def test_the_pages_end_at_the_numbers_of_the_drawing(window: MainWindow, dialog: Equations) -> None:
    assert window.frame is not None
    live = window.frame.scene.live
    angle = float(np.degrees(live.bar_angle[0]))
    dialog.tabs.setCurrentIndex(3)
    text = dialog.text_of_page()
    assert f"= {angle:.2f}\N{DEGREE SIGN}" in text
    assert f"bar {angle:.1f}\N{DEGREE SIGN}" in text
    dialog._copy()
    assert QApplication.clipboard().text() == text


def test_the_theory_is_there_in_words(dialog: Equations) -> None:
    dialog.tabs.setCurrentIndex(4)
    assert "Least bushing energy" in dialog.text_of_page()


def drawn(step_tree: Any, values: dict[str, float] | None = None) -> tuple[np.ndarray, float, float]:
    font = QFont("DejaVu Serif")
    font.setPixelSize(15)
    box = Setter(font, values).set(step_tree)
    image = QImage(round(box.wide) + 40, round(box.up + box.down) + 40, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    painter.setPen(QColor("#000000"))
    box.draw(painter, 20.0, 20.0 + box.up)
    painter.end()
    grid = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())[:, : image.width()]
    return grid < 128, box.wide, box.up + box.down


@pytest.mark.parametrize("step", STEPS, ids=[f"{step.section}-{step.symbol}" for step in STEPS])
def test_an_equation_stays_inside_its_box(step: Any, qapp: Any) -> None:
    for values in ({}, {name: -(3.0 + 111.0 * i) for i, name in enumerate(step.takes)}):
        ink, wide, tall = drawn(step.tree, values)
        rows, columns = np.nonzero(ink)
        assert columns.min() >= 17 and columns.max() <= 20 + wide + 3
        assert rows.min() >= 16 and rows.max() <= 20 + tall + 4


def test_a_fraction_stands_over_a_line_and_a_root_has_a_roof(qapp: Any) -> None:
    ink, wide, _ = drawn(("frac", ("sym", "a"), ("num", "2")))
    assert ink.sum(axis=1).max() >= wide - 4
    ink, wide, _ = drawn(("sqrt", ("sym", "a")))
    assert ink[: ink.shape[0] // 2].sum(axis=1).max() >= wide - 14


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-12.3456, "\N{MINUS SIGN}12.346"),
        (123456.7, "123457"),
        (0.00030367, "0.00030367"),
        (-1e-15, "0"),
        (math.nan, "no real number"),
        (-math.inf, "\N{MINUS SIGN}\N{INFINITY}"),
    ],
)
def test_numbers_have_five_digits(value: float, text: str) -> None:
    assert number_text(value) == text


def test_symbols_and_equations_are_read_out() -> None:
    assert symbol_parts("a_lx") == ("a", "lx")
    assert symbol_parts("alpha") == ("\N{GREEK SMALL LETTER ALPHA}", "")
    assert symbol_parts("y_phi") == ("y", "\N{GREEK SMALL LETTER PHI}")
    step = next(step for step in STEPS if step.symbol == "d")
    assert text_of(step.tree) == "sqrt(g_x^2 + g_z^2)"


def test_a_negative_number_stands_in_brackets_where_it_must(qapp: Any) -> None:
    wide = [drawn(("pow", ("sym", "a"), ("num", "2")), {"a": value})[1] for value in (12.0, -12.0)]
    minus = drawn(("sym", "a"), {"a": -12.0})[1] - drawn(("sym", "a"), {"a": 12.0})[1]
    assert wide[1] - wide[0] > minus + 4


def test_the_menu_opens_it(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Equations] = []
    monkeypatch.setattr(Equations, "exec", lambda self: opened.append(self))
    window.actions_by_name["equations"].trigger()
    assert len(opened) == 1


def test_nothing_of_it_is_loaded_with_the_window_and_no_sympy_ever() -> None:
    code = (
        "import sys, linkviz.window.main; "
        "names = ('linkviz.window.equations', 'linkviz.linkage.shown_equations', 'linkviz.window.lift_limits'); "
        "print([n for n in names if n in sys.modules]); import linkviz.window.equations; print('sympy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["[]", "False"]
