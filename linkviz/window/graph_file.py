"""What the graph strip shows, saved as a picture, a drawing or a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from linkviz.analysis.curves import Curves
from linkviz.analysis.setup import Setup
from linkviz.errors import LinkvizError
from linkviz.painter.image import png_bytes
from linkviz.units import Unit, format_length
from linkviz.vehicle.saving import save_bytes, save_text
from linkviz.window import dialogs
from linkviz.window.files import file_stem
from linkviz.window.paths import beside
from linkviz.window.save_name import ask_name

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow

FILTERS = {"png": "Pictures (*.png)", "svg": "Drawings (*.svg)", "csv": "Tables (*.csv)"}
"""What a graph is saved as, by the ending of the file."""
SCALE = 2.0
"""Resolution of a picture, as a multiple of its size in points."""


def setup_words(setup: Setup, unit: Unit) -> str:
    """Return a lift and its parts in words: "lifted 100 mm, bracket drop 75 mm"."""
    said = [f"lifted {format_length(setup.lift, unit)}" if setup.lift else "not lifted"]
    for words, value in (
        ("bracket drop", setup.drop),
        ("bracket shift", setup.shift),
        ("bar longer by", setup.bar_longer),
        ("bar raised at the axle by", setup.axle_raise),
    ):
        if value:
            said.append(f"{words} {format_length(value, unit)}")
    return ", ".join(said) if setup.corrected else f"{said[0]}, no bracket"


def graph_svg(window: MainWindow) -> str:
    """Return the shown graph as an SVG document in light colours, whatever the theme of the window.

    Raises
    ------
    LinkvizError
        If nothing is shown yet.
    """
    from linkviz.picture.chart import Chart, chart_svg
    from linkviz.window.graph import held_words, message_words
    from linkviz.window.theme import LIGHT

    curves, unit = _shown(window), window.graph.unit
    document = window.session.shown
    about = [document.vehicle.name, setup_words(document.setup, unit), held_words(curves, unit)]
    return chart_svg(
        Chart(curves, unit, LIGHT.states, [a for a in about if a], message_words(curves), dict(window.graph.bands))
    )


def graph_csv(window: MainWindow) -> str:
    """Return the numbers of the shown graph as CSV.

    Raises
    ------
    LinkvizError
        If there are none.
    """
    from linkviz.analysis.curve_table import curve_table

    curves = _shown(window)
    if not curves.values:
        raise LinkvizError(f"{curves.quantity.label} has no numbers to save. {curves.missing}".rstrip())
    return curve_table(curves, window.graph.unit, window.graph.bands)


def _shown(window: MainWindow) -> Curves:
    curves = window.graph.curves
    if curves is None or curves.stale:
        raise LinkvizError("The graph is still being worked out. Save it when its lines are no longer dimmed.")
    return curves


def png_of(svg: str, scale: float = SCALE) -> bytes:
    """Return an SVG document as a PNG picture at a multiple of its size."""
    renderer = QSvgRenderer(QByteArray(svg.encode("utf-8")))
    image = QImage(renderer.defaultSize() * scale, QImage.Format.Format_RGB32)
    image.fill(0xFFFFFF)
    painter = QPainter(image)
    try:
        renderer.render(painter)
    finally:
        painter.end()
    return png_bytes(image)


def save_graph(window: MainWindow, path: str) -> None:
    """Save the shown graph as what the name ends in: .png, .svg or .csv.

    Raises
    ------
    LinkvizError
        If it cannot be written or there is nothing to write; an old file stays whole.
    """
    kind = Path(path).suffix.lower()
    if kind == ".csv":
        save_text(path, graph_csv(window))
    elif kind == ".svg":
        save_text(path, graph_svg(window))
    elif kind == ".png":
        save_bytes(path, png_of(graph_svg(window)))
    else:
        raise LinkvizError(f"{path} could not be saved: its name must end in .png, .svg or .csv.")


def ask_graph(window: MainWindow, kind: str = "") -> None:
    """Ask for a file and save the graph to it; without a kind its ending decides."""
    kinds = {kind: FILTERS[kind]} if kind else FILTERS
    place = beside(window.session) / f"{file_stem(window.session.view.graph)}.{kind or 'png'}"
    path = ask_name(window, "Save graph", place, kinds)
    if not path:
        return
    try:
        save_graph(window, path)
    except LinkvizError as error:
        dialogs.tell(error, window)
    else:
        window.notice.say(f"Saved {path}.", "info")
