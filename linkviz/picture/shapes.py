"""Plain shapes in millimetres: the one description of a drawing that every writer consumes.

Coordinates are (u, v) in mm, u to the right, v up. A style is a name; `linkviz.picture.style` gives it
colours, line widths and hatches for each theme. Shapes are drawn in the order they are listed.
"""

from __future__ import annotations

from linkviz.frozen import Frozen

Pt = tuple[float, float]


class Path(Frozen):
    """A polyline or polygon; `closed` ones are filled if their style has a fill. May have holes."""

    points: tuple[Pt, ...]
    style: str
    closed: bool = False
    holes: tuple[tuple[Pt, ...], ...] = ()


class Circle(Frozen):
    """A circle."""

    centre: Pt
    radius: float
    style: str


class Label(Frozen):
    """Text at a point. Its size is in screen points, not mm, and it keeps clear of other labels.

    Attributes
    ----------
    anchor : str
        Which side of the text sits at the point: "left", "right", "centre".
    leader : Pt or None
        A point on the part the label speaks of; a writer draws a thin line to it if the label moved away.
    icon : str
        "", "warn", "hit" or "ok": drawn before the text so that colour is never the only sign.
    above : bool
        Whether the label would rather stand above the point than below it.
    more : str
        Further lines below the text, smaller and softer.
    name : str
        What the label speaks of; the same from one moment to the next, so that it does not jump about.
    within : tuple of Pt
        The outline the label names, mm from `at`: it lies inside of it, else clear beside it.
    """

    at: Pt
    text: str
    style: str
    anchor: str = "left"
    leader: Pt | None = None
    icon: str = ""
    above: bool = True
    more: str = ""
    name: str = ""
    within: tuple[Pt, ...] = ()


class Arrow(Frozen):
    """An arrow from tail to tip."""

    tail: Pt
    tip: Pt
    style: str


Shape = Path | Circle | Label | Arrow


class Drawing(Frozen):
    """One view: its shapes and the part of the plane it wants shown.

    Attributes
    ----------
    extent : tuple of float
        (u_min, v_min, u_max, v_max), mm.
    caption : str
        Words beside the title, such as what the dashed lines are.
    letters : float
        Factor on the size of all letters.
    """

    title: str
    shapes: tuple[Shape, ...]
    extent: tuple[float, float, float, float]
    caption: str = ""
    letters: float = 1.0
