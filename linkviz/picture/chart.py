"""A graph as a picture of its own, in SVG: title, units, legend and what it was drawn for stand on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from msgspec import field

from linkviz.analysis.compare import NAMES
from linkviz.analysis.curve_table import Band, axis_words, value_heading
from linkviz.analysis.curves import Curves, broken
from linkviz.analysis.figures import LEAST, read_in
from linkviz.conventions import MM_PER_INCH
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.picture.scales import span, ticks
from linkviz.picture.shapes import Pt
from linkviz.picture.style import SANS, paint
from linkviz.picture.svg import escape, measure, num
from linkviz.units import Unit

MARKERS: Final[dict[str, tuple[Pt, ...]]] = {
    "as built": (),
    "lifted": ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)),
    "corrected": ((0.0, -1.3), (1.25, 0.9), (-1.25, 0.9)),
}
"""Corners of the marker on each state's line, y down, for a radius of 1; a circle where there are none."""
RADIUS: Final = 3.6
"""Of a marker, screen points."""
_DASH = {"as built": "7 4", "lifted": "", "corrected": "10 3 2 3"}
_LEFT, _RIGHT, _TOP, _BOTTOM = 92.0, 24.0, 96.0, 52.0
_SIZE = 13.0


def marked(offset: int, count: int) -> range:
    """Return which points of a line of `count` have a marker; those of different states do not stand together."""
    return range(2 + 4 * offset, count, 12)


class Chart(Frozen, eq=False):
    """What a picture of a graph shows.

    Attributes
    ----------
    curves : Curves
    unit : {"mm", "in"}
        What lengths are read in.
    tints : mapping of str to str
        Colour of each state, ``#rrggbb``.
    about : sequence of str
        Lines under the title: the vehicle, its lift and its bracket, how it stands.
    notes : str
        What must be said: why a line ends or is broken, or why there is none.
    bands : mapping of str to (x, low, high)
        95 % intervals, by state, in the quantity's own unit.
    theme : {"light", "dark"}
    """

    curves: Curves
    unit: Unit
    tints: Mapping[str, str]
    about: Sequence[str] = ()
    notes: str = ""
    bands: Mapping[str, Band] = field(default_factory=dict)
    theme: str = "light"


class _Frame:
    """Where values stand on the sheet."""

    def __init__(self, chart: Chart, width: float, height: float) -> None:
        curves, kind = chart.curves, chart.curves.quantity.unit
        self.lines: dict[str, tuple[Array, Array]] = {}
        for name in NAMES:
            if name in curves.values and np.isfinite(curves.values[name]).any():
                x, y = broken(curves.x, curves.values[name], curves.quantity)
                self.lines[name] = (x, read_in(y, kind, chart.unit))
        self.bands = {
            name: (band[0], *(read_in(end, kind, chart.unit) for end in band[1:]))
            for name, band in chart.bands.items()
            if name in self.lines
        }
        least = float(read_in(np.array(LEAST[kind]), kind, chart.unit))
        everything = [y for _, y in self.lines.values()] + [end for _, *ends in self.bands.values() for end in ends]
        self.low, self.high = span(everything, least, bool(curves.quantity.infinite))
        self.first, self.last = float(curves.x[0]), float(curves.x[-1])
        self.right, self.bottom = width - _RIGHT, height - _BOTTOM - (22.0 if chart.notes and self.lines else 0.0)

    def x(self, value: float) -> float:
        return _LEFT + (self.right - _LEFT) * (value - self.first) / (self.last - self.first)

    def y(self, value: float) -> float:
        return self.bottom - (self.bottom - _TOP) * (value - self.low) / (self.high - self.low)

    def inside(self, x: Array, y: Array) -> list[list[Pt]]:
        """Return the runs of a line inside the frame, cut where it leaves above or below."""
        runs: list[list[Pt]] = [[]]
        for i in range(len(x) - 1):
            a, b = (float(x[i]), float(y[i])), (float(x[i + 1]), float(y[i + 1]))
            if not (np.isfinite(a[1]) and np.isfinite(b[1])):
                runs.append([])
                continue
            ends = [0.0, 1.0]
            if a[1] != b[1]:
                crossed = sorted((edge - a[1]) / (b[1] - a[1]) for edge in (self.low, self.high))
                ends = [max(0.0, crossed[0]), min(1.0, crossed[1])]
            if ends[0] > ends[1] or not self.low <= a[1] + ends[0] * (b[1] - a[1]) <= self.high * (1 + 1e-12) + 1e-12:
                runs.append([])
                continue
            cut = [(self.x(a[0] + t * (b[0] - a[0])), self.y(a[1] + t * (b[1] - a[1]))) for t in ends]
            if ends[0] > 0.0:
                runs.append([])
            runs[-1] += cut[1:] if runs[-1] else cut
            if ends[1] < 1.0:
                runs.append([])
        return [run for run in runs if len(run) > 1]


def chart_svg(chart: Chart, width: float = 1000.0, height: float = 560.0) -> str:
    """Return a graph as an SVG document; the same for the same graph, and needing nothing else to be read."""
    ink = paint(chart.theme)
    frame = _Frame(chart, width, height)
    over = "over wheel travel" if chart.curves.axis == "travel" else "over axle roll"
    title = f"{chart.curves.quantity.label} {over}"
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{num(width)}" height="{num(height)}" '
        f'viewBox="0 0 {num(width)} {num(height)}" font-family="{SANS}" font-size="{num(_SIZE)}">',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape('. '.join(chart.about))}</desc>",
        f'<rect width="{num(width)}" height="{num(height)}" fill="{ink.paper}"/>',
        _text(_LEFT, 26.0, title, ink.ink, "start", 18.0, bold=True),
        _text(_LEFT, 47.0, " \N{MIDDLE DOT} ".join(chart.about), ink.soft),
        *_axes(chart, frame, ink.grid, ink.body_line, ink.soft),
    ]
    if not frame.lines:
        middle = (_LEFT + frame.right) / 2
        lines = _wrapped(chart.notes, frame.right - _LEFT - 40.0)
        out += [_text(middle, 240.0 + 20.0 * i, words, ink.ink, "middle") for i, words in enumerate(lines)]
    elif chart.notes:
        out.append(_text(_LEFT, height - 14.0, chart.notes, ink.ink))
    for name, (x, low, high) in frame.bands.items():
        out += [_band(frame, x, low, high, chart.tints[name])]
    left = _LEFT
    for offset, (name, (x, y)) in enumerate(frame.lines.items()):
        tint = chart.tints[name]
        out += [_polyline(run, tint, name) for run in frame.inside(x, y)]
        out += [
            _marker(name, frame.x(float(x[i])), frame.y(float(y[i])), tint, ink.paper)
            for i in marked(offset, len(x))
            if np.isfinite(y[i]) and frame.low <= y[i] <= frame.high
        ]
        words = f"{name}, with its 95 % interval" if name in frame.bands else name
        out += [
            _polyline([(left, 72.0), (left + 44.0, 72.0)], tint, name),
            _marker(name, left + 22.0, 72.0, tint, ink.paper),
            _text(left + 52.0, 76.5, words, ink.ink),
        ]
        left += 84.0 + measure(words, _SIZE, False)[0]
    return "\n".join([*out, "</svg>"]) + "\n"


def _axes(chart: Chart, frame: _Frame, grid: str, line: str, soft: str) -> list[str]:
    travel = chart.curves.axis == "travel"
    per = MM_PER_INCH if travel and chart.unit == "in" else 1.0
    out = []
    for value in ticks(frame.low, frame.high, 8):
        y = num(frame.y(value))
        colour = line if value == 0 else grid
        out.append(f'<line x1="{num(_LEFT)}" y1="{y}" x2="{num(frame.right)}" y2="{y}" stroke="{colour}"/>')
        out.append(_text(_LEFT - 8.0, frame.y(value) + 4.5, f"{value:g}", soft, "end"))
    for value in ticks(frame.first / per, frame.last / per, 10):
        x = num(frame.x(value * per))
        out.append(f'<line x1="{x}" y1="{num(_TOP)}" x2="{x}" y2="{num(frame.bottom)}" stroke="{grid}"/>')
        words = ("rest" if travel else "level") if value == 0 else f"{value:+g}"
        out.append(_text(frame.x(value * per), frame.bottom + 18.0, words, soft, "middle"))
    middle = (_TOP + frame.bottom) / 2
    out.append(
        _text((_LEFT + frame.right) / 2, frame.bottom + 38.0, axis_words(chart.curves, chart.unit), soft, "middle")
    )
    out.append(
        f'<g transform="translate(22 {num(middle)}) rotate(-90)">'
        f"{_text(0.0, 0.0, value_heading(chart.curves, chart.unit), soft, 'middle')}</g>"
    )
    return out


def _polyline(points: Sequence[Pt], tint: str, name: str) -> str:
    dash = f' stroke-dasharray="{_DASH[name]}"' if _DASH[name] else ""
    return f'<polyline points="{_points(points)}" fill="none" stroke="{tint}" stroke-width="2.2"{dash}/>'


def _marker(name: str, x: float, y: float, tint: str, paper: str) -> str:
    look = f'fill="{paper}" stroke="{tint}" stroke-width="1.6"'
    if not MARKERS[name]:
        return f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(RADIUS)}" {look}/>'
    return f'<polygon points="{_points([(x + RADIUS * a, y + RADIUS * b) for a, b in MARKERS[name]])}" {look}/>'


def _band(frame: _Frame, x: Array, low: Array, high: Array, tint: str) -> str:
    there = np.isfinite(low) & np.isfinite(high)
    low, high = (np.clip(end, frame.low, frame.high) for end in (low, high))
    around = [(frame.x(float(x[i])), frame.y(float(low[i]))) for i in np.flatnonzero(there)]
    around += [(frame.x(float(x[i])), frame.y(float(high[i]))) for i in np.flatnonzero(there)[::-1]]
    return (
        f'<polygon points="{_points(around)}" fill="{tint}" fill-opacity="0.16" stroke="{tint}" '
        'stroke-width="0.8" stroke-dasharray="1 2"/>'
    )


def _text(
    x: float, y: float, words: str, colour: str, anchor: str = "start", size: float = 0.0, bold: bool = False
) -> str:
    more = (f' font-size="{num(size)}"' if size else "") + (' font-weight="bold"' if bold else "")
    return f'<text x="{num(x)}" y="{num(y)}" fill="{colour}" text-anchor="{anchor}"{more}>{escape(words)}</text>'


def _wrapped(words: str, wide: float) -> list[str]:
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if measure(longer, _SIZE, False)[0] > wide:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _points(points: Sequence[Pt]) -> str:
    return " ".join(f"{num(x)},{num(y)}" for x, y in points)
