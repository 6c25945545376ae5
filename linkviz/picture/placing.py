"""Where labels go: clear of one another and of what matters, near what they speak of.

Letters have a size in screen points, so a place depends on the scale. Each label tries a fixed set of places around
its point; the cheapest wins: near, on the side it asks for, inside the pane, over no other label and no key part.
Nothing is random: the same drawing at the same scale gives the same places.
"""

from __future__ import annotations

import math
from collections.abc import Callable, MutableMapping
from functools import lru_cache

import numpy as np

from linkviz.frozen import Frozen
from linkviz.picture.camera import Camera
from linkviz.picture.edges import Array, Rect, crossed, segments_of
from linkviz.picture.outlined import INSIDE, places
from linkviz.picture.shapes import Drawing, Label, Pt
from linkviz.picture.style import Style, styles

Measure = Callable[[str, float, bool], tuple[float, float, float]]
"""Width, ascent and descent of one line of text with a size and a weight, screen points."""

_FIRST = {"warn_text": 0, "hit_text": 0, "ok_text": 0, "envelope_text": 2, "pick_text": 3}
"""Styles placed before (0) or after (2, 3) all others (1)."""
VEIL = 0.82
"""How much of what lies behind a label the paper covers."""
_STEPS = (3.0, 13.0, 28.0, 48.0, 75.0, 110.0)
_WAYS = 12
_FAR, _FAR_OWN = 26.0, 55.0
"""From this far a label gets a line to what it speaks of; later if its own colour says so, screen points."""
_EDGE, _GAP = 7.0, 4.0
"""Room kept from the pane's edge and between labels, screen points."""
_FREE = 20.0
"""What a label may cost where it stood a moment ago and still be left there without looking further."""
_ON = -8.0
"""What it costs to lie on the very point."""
_KEEP = 26.0
"""What staying where it was is worth to a label."""
_KEEP_NAME = 45.0
"""The same for the name of an outline, whose places lie farther apart."""


class Line(Frozen):
    """One line of a label: text, style, left end of its base line (screen points), letter size."""

    text: str
    style: str
    at: Pt
    size: float


class Placed(Frozen):
    """A label with its place, in screen points from u = v = 0, y down.

    Attributes
    ----------
    label : Label
        The label.
    rect : Rect
        Its box.
    lines : tuple of Line
        What to write.
    icon : Rect or None
        Where its badge goes.
    leader : (Pt, Pt) or None
        Line to the part it speaks of, if it had to move away.
    """

    label: Label
    rect: Rect
    lines: tuple[Line, ...]
    icon: Rect | None
    leader: tuple[Pt, Pt] | None

    @property
    def veiled(self) -> bool:
        """Return whether what lies behind it is covered by `VEIL`; an outline's fill behind its name stays whole."""
        return not self.label.within


def place_in_pane(
    drawing: Drawing,
    camera: Camera,
    measure: Measure,
    memory: MutableMapping[str, int] | None = None,
    title: bool = True,
) -> tuple[list[Placed], tuple[Line, ...]]:
    """Find a place for every label of a drawing in its pane, as `place`, and return them with the lines of its title.

    With `title` the title takes the upper left corner; its lines are given from the corner of the pane.
    """
    x, y = camera.x, camera.y
    window = (-x, -y, camera.width - x, camera.height - y)
    taken: tuple[Rect, ...] = ()
    lines: tuple[Line, ...] = ()
    if title:
        (left, top, right, bottom), lines = heading(drawing, measure)
        taken = ((left - x, top - y, right - x, bottom - y),)
    return place(drawing, camera.scale, measure, window, memory, taken), lines


def place(
    drawing: Drawing,
    scale: float,
    measure: Measure,
    window: Rect | None = None,
    memory: MutableMapping[str, int] | None = None,
    taken: tuple[Rect, ...] = (),
) -> list[Placed]:
    """Find a place for every label of a drawing.

    Parameters
    ----------
    drawing : Drawing
        The drawing.
    scale : float
        Screen points per mm.
    measure : callable
        Measures one line of text: (text, size, bold) to (width, ascent, descent).
    window : Rect or None
        What is visible, screen points from u = v = 0, y down; by default the drawing's extent.
    memory : mapping or None
        Places of the moment before by label name, read and written, so that a label in motion does not jump.
    taken : tuple of Rect
        Boxes no label may cover, such as the title.

    Returns
    -------
    list of Placed
        In the order of the drawing.
    """
    if window is None:
        u0, v0, u1, v1 = drawing.extent
        window = (u0 * scale, -v1 * scale, u1 * scale, -v0 * scale)
    labels = [s for s in drawing.shapes if isinstance(s, Label)]
    if not labels:
        return []
    segments = segments_of(drawing, scale, window)
    boxes: list[Rect] = list(taken)
    done: dict[int, Placed] = {}
    for index in sorted(range(len(labels)), key=lambda i: _FIRST.get(labels[i].style.rstrip("+"), 1)):
        label = labels[index]
        lines, width, height, icon = _set(label, measure)
        key = label.name or label.text
        left, top, choice = _best(
            label, scale, width, height, window, boxes, segments, memory.get(key, -1) if memory is not None else -1
        )
        if memory is not None:
            memory[key] = choice
        rect = (left, top, left + width, top + height)
        boxes.append(rect)
        done[index] = Placed(
            label,
            rect,
            tuple(Line(t, s, (left + x, top + y), size) for t, s, x, y, size in lines),
            None if icon is None else (left, top + icon[0], left + icon[1], top + icon[0] + icon[1]),
            None if label.within and choice < INSIDE else _leader(label, scale, rect),
        )
    return [done[i] for i in range(len(labels))]


def look(style: str) -> Style:
    """Return how letters of a style are set; the same in both themes but for the colour."""
    return styles("light")[style]


def small(style: str) -> str:
    """Return the style of the lines below a label's own."""
    return "small+" if style.endswith("+") else "small"


def heading(drawing: Drawing, measure: Measure, corner: Pt = (14.0, 10.0)) -> tuple[Rect, tuple[Line, ...]]:
    """Return the box and the lines of a drawing's title and caption; `corner` is their upper left corner."""
    x, y = corner
    large = "+" if any(isinstance(s, Label) and s.style.endswith("+") for s in drawing.shapes) else ""
    title, soft = look("title" + large), look("caption" + large)
    width, up, down = measure(drawing.title, title.size, title.bold)
    lines = [Line(drawing.title, "title" + large, (x, y + up), title.size)]
    right = x + width
    if drawing.caption:
        start = right + 12.0
        lines.append(Line(drawing.caption, "caption" + large, (start, y + up), soft.size))
        right = start + measure(drawing.caption, soft.size, soft.bold)[0]
    return (x, y, right, y + up + down), tuple(lines)


_Set = tuple[list[tuple[str, str, float, float, float]], float, float, tuple[float, float] | None]


def _set(label: Label, measure: Measure) -> _Set:
    """Set a label in lines: (text, style, x, base line, size) from its own corner; its width, height and badge."""
    own = look(label.style)
    width, up, down = measure(label.text, own.size, own.bold)
    icon = None
    indent = 0.0
    if label.icon:
        side = round(1.15 * own.size)
        indent = side + 4.0
        icon = (max((up + down - side) / 2.0, 0.0), float(side))
    lines = [(label.text, label.style, indent, up, own.size)]
    wide = [width]
    height = up + down
    for text in label.more.split("\n") if label.more else ():
        style = small(label.style)
        less = look(style)
        across, above, below = measure(text, less.size, less.bold)
        lines.append((text, style, indent, height + above, less.size))
        height += above + below
        wide.append(across)
    width = max(wide)
    if label.anchor == "centre":
        lines = [(t, s, x + (width - w) / 2.0, y, z) for (t, s, x, y, z), w in zip(lines, wide, strict=True)]
    return lines, width + indent, height, icon


@lru_cache(maxsize=8)
def _ring(preferred: float) -> tuple[Array, Array, Array]:
    """Return candidate directions (cos, sin), distances and their cost, for a preferred direction (rad)."""
    ways = preferred + np.arange(_WAYS) * (2.0 * math.pi / _WAYS)
    way, step = np.meshgrid(ways, np.array(_STEPS), indexing="ij")
    way, step = way.ravel(), step.ravel()
    cost = 0.9 * step + 9.0 * (1.0 - np.cos(way - preferred))
    return np.stack([np.cos(way), np.sin(way)], axis=-1), step, cost


def _best(
    label: Label,
    scale: float,
    width: float,
    height: float,
    window: Rect,
    boxes: list[Rect],
    segments: Array,
    before: int,
) -> tuple[float, float, int]:
    x, y = label.at[0] * scale, -label.at[1] * scale
    half = np.array([width / 2.0, height / 2.0])
    if label.within:
        centres, start = places(label.within, scale, width, height)
        if 0 <= before < len(start) and math.isfinite(start[before]):
            at = (x + float(centres[before, 0]), y + float(centres[before, 1]))
            if _cost_at(label, at, width / 2.0, height / 2.0, window, boxes, segments) <= _FREE:
                return at[0] - width / 2.0, at[1] - height / 2.0, before
        return _cheapest(label, centres + np.array((x, y)), start, half, window, boxes, segments, before)
    if label.anchor == "centre":
        preferred = -math.pi / 2.0 if label.above else math.pi / 2.0
    else:
        preferred = 0.0 if label.anchor == "left" else math.pi
    ways, step, start = _ring(preferred)
    free = label.leader is None
    if 0 <= before < len(start) + free:
        # Where it was a moment ago, as long as that is still free: the eye follows it, and nothing is searched.
        at = (x, y)
        if before < len(start):
            c, n = float(ways[before, 0]), float(ways[before, 1])
            away = float(step[before]) + 3.0
            at = (
                x + c * away + min(max(c * 1.45, -1.0), 1.0) * (width / 2.0),
                y + n * away + min(max(n * 1.45, -1.0), 1.0) * (height / 2.0),
            )
        if _cost_at(label, at, width / 2.0, height / 2.0, window, boxes, segments) <= _FREE:
            return at[0] - width / 2.0, at[1] - height / 2.0, before
    # A box in some direction touches the point's ring of radius `step` with its near side.
    centres = np.array([x, y]) + ways * (step[:, None] + 3.0) + np.clip(ways * 1.45, -1.0, 1.0) * half
    if free:
        centres = np.vstack([centres, [[x, y]]])
        start = np.append(start, _ON)
    return _cheapest(label, centres, start, half, window, boxes, segments, before)


def _cheapest(
    label: Label,
    centres: Array,
    start: Array,
    half: Array,
    window: Rect,
    boxes: list[Rect],
    segments: Array,
    before: int,
) -> tuple[float, float, int]:
    """Return the corner of the cheapest place and its number; where the label was is worth something."""
    cost = _costs(label, centres, half, start, window, boxes, segments)
    if 0 <= before < len(cost):
        cost[before] -= _KEEP_NAME if label.within else _KEEP
    choice = int(np.argmin(cost))
    return float(centres[choice, 0] - half[0]), float(centres[choice, 1] - half[1]), choice


def _cost_at(
    label: Label,
    at: Pt,
    wide: float,
    high: float,
    window: Rect,
    boxes: list[Rect],
    segments: Array,
) -> float:
    """Return what one place costs beyond its distance; the same as `_costs` finds for many."""
    x, y = at
    left, top, right, bottom = x - wide, y - high, x + wide, y + high
    out = max(window[0] + _EDGE - left, 0.0) + max(right - window[2] + _EDGE, 0.0)
    out += max(window[1] + _EDGE - top, 0.0) + max(bottom - window[3] + _EDGE, 0.0)
    cost = 14.0 * out
    for x0, y0, x1, y1 in boxes:
        if min(right, x1 + _GAP) > max(left, x0 - _GAP) and min(bottom, y1 + _GAP) > max(top, y0 - _GAP):
            cost += 4000.0
    if cost > _FREE or not len(segments):
        return cost
    weight = 2.0 if label.within else 1.0
    over = float(crossed(np.array([at]), np.array([wide + 2.0, high + 2.0]), segments)[0])
    return cost + min(weight * over, 260.0)


def _costs(
    label: Label,
    centres: Array,
    half: Array,
    start: Array,
    window: Rect,
    boxes: list[Rect],
    segments: Array,
) -> Array:
    """Return what each place costs: out of the pane, over other labels, over key parts."""
    cost = start.copy()
    low, high = centres - half, centres + half
    out = (
        np.maximum(window[0] + _EDGE - low[:, 0], 0.0)
        + np.maximum(high[:, 0] - window[2] + _EDGE, 0.0)
        + np.maximum(window[1] + _EDGE - low[:, 1], 0.0)
        + np.maximum(high[:, 1] - window[3] + _EDGE, 0.0)
    )
    cost += 14.0 * out
    if boxes:
        b = np.array(boxes)
        over_x = np.minimum(high[:, 0, None], b[:, 2] + _GAP) - np.maximum(low[:, 0, None], b[:, 0] - _GAP)
        over_y = np.minimum(high[:, 1, None], b[:, 3] + _GAP) - np.maximum(low[:, 1, None], b[:, 1] - _GAP)
        cost += 4000.0 * ((over_x > 0) & (over_y > 0)).sum(axis=1)
    if len(segments):
        # Only what some place could touch.
        (left, top), (right, bottom) = low.min(axis=0) - 2.0, high.max(axis=0) + 2.0
        close = (np.abs(2.0 * segments[:, 0] - left - right) - 2.0 * np.abs(segments[:, 2]) < right - left) & (
            np.abs(2.0 * segments[:, 1] - top - bottom) - 2.0 * np.abs(segments[:, 3]) < bottom - top
        )
        weight = 2.0 if label.within else 1.0
        cost += np.minimum(weight * crossed(centres, half + 2.0, segments[close]), 260.0)
    return cost


def _leader(label: Label, scale: float, rect: Rect) -> tuple[Pt, Pt] | None:
    if label.leader is None:
        return None
    x, y = label.leader[0] * scale, -label.leader[1] * scale
    nearest = (min(max(x, rect[0]), rect[2]), min(max(y, rect[1]), rect[3]))
    far = _FAR_OWN if label.name in ("bar", "sway", "lift") else _FAR
    return (nearest, (x, y)) if math.dist(nearest, (x, y)) > far else None
