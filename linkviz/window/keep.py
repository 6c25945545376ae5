"""The window as it was left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from linkviz.session.snapping import GRIDS
from linkviz.session.view import AXES, GHOSTS, GRAPHS, PAGES

if TYPE_CHECKING:
    from linkviz.window.window import MainWindow

KEPT = {
    "unit": ("mm", "in"),
    "theme": ("light", "dark"),
    "ghost": GHOSTS,
    "page": PAGES,
    "graph": GRAPHS,
    "graph_axis": AXES,
    "mirrored": (True, False),
    "doubt": (True, False),
    "grid": tuple(range(len(GRIDS["mm"]))),
}
"""View values that are remembered, and what they may be."""


def kept_layout(window: MainWindow) -> dict[str, Any]:
    """Return what is to be remembered of a window."""
    view = window.session.view
    return {**{name: getattr(view, name) for name in KEPT}, **window.places()}


def view_values(layout: dict[str, Any]) -> dict[str, Any]:
    """Return the remembered view values that make sense."""
    return {name: layout[name] for name, allowed in KEPT.items() if layout.get(name) in allowed and name in layout}


def shown_layout(window: MainWindow, layout: dict[str, Any]) -> None:
    """Bring a window back as it was left."""
    values = view_values(layout)
    if values:
        window.session.set_view(**values)
    window.restore_places(layout)
