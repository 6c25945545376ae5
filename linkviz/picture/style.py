"""What each named style looks like in each theme: colours, widths, dashes, hatches, letters.

Steel is grey and quiet. Strong colour is for what matters only: the lateral bar (blue), an envelope (purple),
what touches (vermilion, hatched) and what nearly touches (lighter, hatched the other way).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen


class Style(Frozen):
    """One style in one theme.

    Attributes
    ----------
    line, fill, hatch_colour : str
        ``#rrggbb``, or "" for none. Text is written in `line`.
    width : float
        Of the line, screen points.
    dash : tuple of float
        Lengths of dash and gap, screen points; empty for a solid line.
    alpha : float
        Of the fill, 0 to 1.
    hatch : str
        "", "rising" or "falling".
    size : float
        Of letters, screen points; 0 for a style of lines.
    bold : bool
        Letters in heavy weight.
    marker : float
        Radius of a circle in screen points whatever the scale; 0 to draw it in mm.
    key : bool
        Whether labels keep clear of what is drawn in it.
    """

    line: str = ""
    width: float = 1.0
    dash: tuple[float, ...] = ()
    fill: str = ""
    alpha: float = 1.0
    hatch: str = ""
    hatch_colour: str = ""
    size: float = 0.0
    bold: bool = False
    marker: float = 0.0
    key: bool = False


class Paint(Frozen):
    """The colours of one theme."""

    paper: str
    grid: str
    ink: str
    soft: str
    body: str
    body_line: str
    rail: str
    steel: str
    shade: str
    steel_line: str
    far: str
    far_line: str
    rubber: str
    rubber_far: str
    rubber_line: str
    ghost: str
    bar: str
    bar_line: str
    bar_text: str
    bracket: str
    envelope: str
    envelope_line: str
    touched: str
    touched_line: str
    near: str
    near_line: str
    ok: str
    warn: str
    pick: str


LIGHT = Paint(
    paper="#fcfbf7",
    grid="#efede4",
    ink="#1d262d",
    soft="#5a646b",
    body="#efede6",
    body_line="#8b9297",
    rail="#dcdfdf",
    steel="#d3dae0",
    shade="#aab6bf",
    steel_line="#3f4a53",
    far="#e6e9ea",
    far_line="#84909a",
    rubber="#59636b",
    rubber_far="#c9cdd0",
    rubber_line="#2f383f",
    ghost="#5d676e",
    bar="#0072b2",
    bar_line="#004a75",
    bar_text="#005f95",
    bracket="#5fa9d4",
    envelope="#cc79a7",
    envelope_line="#93356b",
    touched="#d55e00",
    touched_line="#b04400",
    near="#eda36a",
    near_line="#c0641f",
    ok="#00704f",
    warn="#9a4f00",
    pick="#005f95",
)
DARK = Paint(
    paper="#171c20",
    grid="#20272c",
    ink="#e6e9ea",
    soft="#9aa5ac",
    body="#1e252a",
    body_line="#6f7b83",
    rail="#2a333a",
    steel="#47535c",
    shade="#35404a",
    steel_line="#aebac2",
    far="#28313a",
    far_line="#73818b",
    rubber="#2b3238",
    rubber_far="#20262b",
    rubber_line="#8f9ba4",
    ghost="#a2acb3",
    bar="#2f93d1",
    bar_line="#a5d8f7",
    bar_text="#7cc4f0",
    bracket="#1f6592",
    envelope="#cc79a7",
    envelope_line="#e3a3c6",
    touched="#f07a2a",
    touched_line="#ffab73",
    near="#c9824b",
    near_line="#e0a06e",
    ok="#43d0a2",
    warn="#f2b15e",
    pick="#7cc4f0",
)
PAINTS: Mapping[str, Paint] = {"light": LIGHT, "dark": DARK}

SANS = "DejaVu Sans, Noto Sans, Liberation Sans, sans-serif"
"""Families of the letters, in the order in which they are tried."""


def _styles(p: Paint) -> dict[str, Style]:
    text = 11.0
    return {
        # the place it stands
        "grid": Style(p.grid, 1.0),
        "ground": Style(p.ink, 1.6),
        "soil": Style("", fill=p.grid, hatch="rising", hatch_colour=p.far_line),
        "centre_line": Style(p.soft, 0.9, (10.0, 3.0, 2.0, 3.0)),
        "ref": Style(p.soft, 0.9, (4.0, 3.0)),
        # the body
        "body": Style(p.body_line, 1.0, fill=p.body),
        "rail": Style(p.body_line, 1.1, fill=p.rail),
        "seat": Style(p.steel_line, 1.0, fill=p.shade),
        "hanger": Style(p.far_line, 1.0, fill=p.rail),
        # the axle
        "steel": Style(p.steel_line, 1.2, fill=p.steel),
        "shade": Style("", fill=p.shade),
        "detail": Style(p.steel_line, 0.8),
        "eye": Style(p.steel_line, 1.2, fill=p.paper),
        "bolt": Style(p.steel_line, 0.8, fill=p.shade),
        "far": Style(p.far_line, 1.0, fill=p.far),
        "link": Style(p.steel_line, 1.3, fill=p.steel),
        "spring_back": Style(p.far_line, 0.8, fill=p.shade),
        "spring": Style(p.steel_line, 0.9, fill=p.steel),
        "damper": Style(p.steel_line, 1.0, fill=p.shade),
        "rod": Style(p.steel_line, 0.9, fill=p.paper),
        "tyre": Style(p.rubber_line, 1.4, fill=p.rubber_far),
        "rubber": Style(p.rubber_line, 1.0, fill=p.rubber),
        "tyre_side": Style(p.rubber_line, 1.2, fill=p.rubber, alpha=0.13),
        "wheel_side": Style(p.far_line, 1.0),
        "shaft": Style(p.steel_line, 1.4, fill=p.shade),
        "shaft_hidden": Style(p.steel_line, 1.1, (5.0, 3.0), fill=p.shade, alpha=0.35),
        "ghost": Style(p.ghost, 1.1, (5.0, 3.5)),
        # what matters
        "bar": Style(p.bar_line, 1.3, fill=p.bar),
        "bar_hidden": Style(p.bar_line, 1.3, (5.0, 3.0), fill=p.bar, alpha=0.45),
        "bar_eye": Style(p.bar_line, 1.5, fill=p.paper),
        "bracket": Style(p.bar_line, 1.3, fill=p.bracket),
        "bracket_plate": Style(p.bar_line, 1.3, fill=p.bracket, alpha=0.62),
        "hole": Style(p.bar_line, 1.2, fill=p.paper),
        "hidden": Style(p.steel_line, 1.0, (4.0, 3.0)),
        "arc": Style(p.bar_text, 1.2),
        "pinion_arc": Style(p.ink, 1.2),
        "axis": Style(p.ink, 0.9, (8.0, 3.0, 2.0, 3.0)),
        "sway": Style(p.touched_line, 1.8, fill=p.touched_line),
        "sway_band": Style("", fill=p.touched, alpha=0.45),
        "envelope": Style(p.envelope_line, 1.5, fill=p.envelope, alpha=0.20),
        "envelope_picked": Style(p.envelope_line, 2.4, fill=p.envelope, alpha=0.30),
        "swept": Style(p.bar_line, 1.3, (9.0, 3.0, 2.0, 3.0), fill=p.bar, alpha=0.10),
        "touched": Style(p.touched_line, 1.4, fill=p.touched, alpha=0.30, hatch="rising", hatch_colour=p.touched_line),
        "near": Style(p.near_line, 0.9, fill=p.near, alpha=0.22, hatch="falling", hatch_colour=p.near_line),
        "touched_stale": Style(p.touched_line, 0.9, fill=p.touched, alpha=0.12),
        "near_stale": Style("", fill=p.near, alpha=0.14),
        "gap_line_hit": Style(p.touched_line, 2.4),
        "gap_line_warn": Style(p.warn, 2.0),
        "gap_line_ok": Style(p.ok, 2.0),
        "gap_end": Style(p.ink, 1.0, fill=p.paper, marker=2.6),
        "draft": Style(p.envelope_line, 1.8, (6.0, 3.0), fill=p.envelope, alpha=0.15),
        "handle": Style(p.envelope_line, 1.6, fill=p.paper, marker=4.5),
        "point": Style(p.pick, 1.2, fill=p.paper, marker=3.5),
        "point_picked": Style(p.pick, 2.4, marker=9.0),
        # letters
        "title": Style(p.ink, size=13.0, bold=True),
        "caption": Style(p.soft, size=text),
        "small": Style(p.soft, size=10.0),
        "text": Style(p.ink, size=text),
        "number": Style(p.ink, size=12.0, bold=True),
        "bar_text": Style(p.bar_text, size=12.0, bold=True),
        "envelope_text": Style(p.envelope_line, size=text),
        "sway_text": Style(p.touched_line, size=12.0, bold=True),
        "hit_text": Style(p.touched_line, size=12.0, bold=True),
        "warn_text": Style(p.warn, size=12.0, bold=True),
        "ok_text": Style(p.ok, size=12.0, bold=True),
        "pick_text": Style(p.pick, size=text, bold=True),
        "leader": Style(p.soft, 0.9),
        # how far the body has risen
        "lift": Style(p.ink, 1.3),
        "lift_level": Style(p.ghost, 1.1, (5.0, 3.5)),
    }


_LARGE = 1.5
_KEY = frozenset(
    {
        "bar",
        "bar_hidden",
        "bar_eye",
        "bracket",
        "bracket_plate",
        "hole",
        "arc",
        "pinion_arc",
        "axis",
        "sway",
        "shaft",
        "touched",
        "lift",
    }
    | {"handle", "gap_line_hit", "gap_line_warn", "gap_line_ok", "gap_end", "point_picked", "point", "draft"}
)


@lru_cache(maxsize=4)
def styles(theme: str) -> Mapping[str, Style]:
    """Return all styles of a theme ("light" or "dark") by name.

    A name with ``+`` behind it is the same style with large letters, for reading across a counter.

    Raises
    ------
    LinkvizError
        If there is no such theme.
    """
    found = {name: style.replace(key=name in _KEY) for name, style in _styles(paint(theme)).items()}
    for name, style in list(found.items()):
        if style.size:
            found[name + "+"] = Style(line=style.line, size=style.size * _LARGE, bold=style.bold)
    return found


def paint(theme: str) -> Paint:
    """Return the colours of a theme ("light" or "dark").

    Raises
    ------
    LinkvizError
        If there is no such theme.
    """
    try:
        return PAINTS[theme]
    except KeyError:
        raise LinkvizError(f"There is no theme {theme!r}. Choose light or dark.") from None
