"""Dimensions on a drawing: running ones from one origin, plain ones, and names on a leader (ISO 129-1, ISO 128)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from linkviz.papers import letters
from linkviz.papers.shapes import THIN, Polyline, Shape, Text, arrow_head, line
from linkviz.sheetmetal.outline import Pt

FIGURE: Final = 2.6
"""Size of figures, mm."""
STEP: Final = 4.2
"""Least distance between two figures one above the other, mm."""


def spread(wanted: Sequence[float], step: float = STEP) -> list[float]:
    """Return places as near as may be to those wanted, in the same order and at least `step` apart.

    Parameters
    ----------
    wanted : sequence of float
        Descending.
    """
    groups: list[tuple[float, int]] = []
    for place in wanted:
        groups.append((place, 1))
        while len(groups) > 1:
            (above, n), (below, m) = groups[-2], groups[-1]
            if above - (n - 1) * step / 2.0 - (below + (m - 1) * step / 2.0) >= step - 1e-9:
                break
            groups[-2:] = [((above * n + below * m) / (n + m), n + m)]
    return [middle + ((n - 1) / 2.0 - k) * step for middle, n in groups for k in range(n)]


def running(
    entries: Sequence[tuple[Pt, str]], x_bend: float, x_text: float, bold: Sequence[bool] | None = None
) -> list[Shape]:
    """Return figures in a column, each with a line from the feature it belongs to.

    Parameters
    ----------
    entries : sequence of ((x, y), text)
        Where the line of each begins, and its figure.
    x_bend, x_text : float
        Where lines leave their height, and where figures begin (to the right) or end (to the left), mm.
    bold : sequence of bool, optional
        Which figures are heavy.
    """
    order = sorted(range(len(entries)), key=lambda i: -entries[i][0][1])
    places = spread([entries[i][0][1] for i in order])
    left = x_text < x_bend
    shapes: list[Shape] = []
    for index, y in zip(order, places, strict=True):
        (x, high), text = entries[index]
        near = x_text + (1.0 if left else -1.0)
        shapes += [line((x, high), (x_bend, high), THIN), line((x_bend, high), (near, y), THIN)]
        heavy = bool(bold and bold[index])
        shapes.append(Text((x_text, y - 0.36 * FIGURE), text, FIGURE, heavy, "right" if left else "left"))
    return shapes


def level(a: Pt, b: Pt, y: float, text: str, before: bool = False) -> list[Shape]:
    """Return a dimension of the level distance between two points, its line at height y.

    A figure that has no room between the points stands to their right, or to their left if `before`.
    """
    (ax, ay), (bx, by) = sorted((a, b))
    beyond = 1.2 if y > max(ay, by) else -1.2
    near = math.copysign(0.8, beyond)
    shapes: list[Shape] = [line((x, v + near), (x, y + beyond), THIN) for x, v in ((ax, ay), (bx, by))]
    wide = letters.width(text, FIGURE)
    if bx - ax >= wide + 7.0:
        shapes += [line((ax, y), (bx, y), THIN), arrow_head((ax, y), (bx, y)), arrow_head((bx, y), (ax, y))]
        shapes.append(Text(((ax + bx) / 2.0, y + 0.9), text, FIGURE, anchor="centre"))
        return shapes
    # no room between: arrows from outside, the figure beside them
    shapes += [line((ax - 5.0, y), (bx + 5.0, y), THIN)]
    shapes += [arrow_head((ax, y), (ax - 5.0, y)), arrow_head((bx, y), (bx + 5.0, y))]
    beside = Text((ax - 6.0, y - 0.36 * FIGURE), text, FIGURE, anchor="right")
    shapes.append(beside if before else beside.replace(at=(bx + 6.0, beside.at[1]), anchor="left"))
    return shapes


def upright(a: Pt, b: Pt, x: float, text: str) -> list[Shape]:
    """Return a dimension of the upright distance between two points, its line at x, its figure read from the right."""
    lying = level((a[1], -a[0]), (b[1], -b[0]), -x, text)
    return [_stood_up(shape) for shape in lying]


def _stood_up(shape: Shape) -> Shape:
    """Turn a shape of a dimension a quarter counter-clockwise about the origin."""
    if isinstance(shape, Polyline):
        return shape.replace(points=tuple((-y, x) for x, y in shape.points))
    assert isinstance(shape, Text)
    return shape.replace(at=(-shape.at[1], shape.at[0]), degrees=90.0)
