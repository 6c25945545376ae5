"""Writes drawings as SVG: plain text, the same for the same drawing, needing nothing but Python."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.picture.camera import Camera, lay_out, mesh
from linkviz.picture.marks import BADGES, HATCHES, arrow
from linkviz.picture.placing import VEIL, Line, Placed, place_in_pane
from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Arrow, Circle, Drawing, Label, Path, Pt
from linkviz.picture.side import side_view
from linkviz.picture.style import SANS, Style, paint, styles

_NARROW = frozenset("iljtfr.,:;'|!()[] ")
_WIDE = frozenset("mwMW%@")


def escape(text: str) -> str:
    """Return text as it stands in XML; the standard library's own would bring its network modules into the start."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def measure(text: str, size: float, bold: bool) -> tuple[float, float, float]:
    """Return width, ascent and descent of a line of text in an ordinary sans-serif; a little on the wide side."""
    ems = sum(0.34 if c in _NARROW else 0.95 if c in _WIDE else 0.7 if c.isupper() else 0.61 for c in text)
    return ems * size * (1.07 if bold else 1.0), 0.93 * size, 0.25 * size


def svg(scene: Scene, theme: str, width: float, height: float) -> str:
    """Return both views of a scene side by side as an SVG document.

    Parameters
    ----------
    scene : Scene
        What is to be seen.
    theme : {"light", "dark"}
        The colours.
    width, height : float
        Size of the document, screen points.

    Raises
    ------
    LinkvizError
        If there is no such theme.
    """
    return svg_of((rear_view(scene), side_view(scene)), theme, width, height)


def svg_of(drawings: Sequence[Drawing], theme: str, width: float, height: float) -> str:
    """Return drawings side by side as an SVG document, on one scale and one ground; see `svg`."""
    title = " and ".join(d.title for d in drawings)
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{num(width)}" height="{num(height)}" '
        f'viewBox="0 0 {num(width)} {num(height)}" font-family="{SANS}">',
        f"<title>{escape(title)}</title>",
        "<defs>",
    ]
    panes = lay_out(drawings, width, height)
    for index, pane in enumerate(panes):
        size = f'width="{num(pane.camera.width)}" height="{num(pane.camera.height)}"'
        out.append(f'<clipPath id="pane{index}"><rect {size}/></clipPath>')
    out += [_hatch(name, style) for name, style in styles(theme).items() if style.hatch]
    out += ["</defs>", f'<rect width="{num(width)}" height="{num(height)}" fill="{paint(theme).paper}"/>']
    for index, pane in enumerate(panes):
        out.append(f'<g transform="translate({num(pane.left)} {num(pane.top)})" clip-path="url(#pane{index})">')
        out.append(f"<title>{escape(pane.drawing.title)}</title>")
        out += _view(pane.drawing, pane.camera, theme)
        out.append("</g>")
        if index:
            x = num(pane.left)
            out.append(f'<line x1="{x}" y1="0" x2="{x}" y2="{num(height)}" stroke="{styles(theme)["grid"].line}"/>')
    out.append("</svg>")
    return "\n".join(out) + "\n"


def _hatch(name: str, style: Style) -> str:
    """Return the pattern of a hatched style."""
    hatch = HATCHES[style.hatch]
    g = num(hatch.gap)
    start = f'<pattern id="hatch-{name}" patternUnits="userSpaceOnUse" width="{g}" height="{g}" '
    start += f'patternTransform="rotate({num(-hatch.degrees)})">'
    # half of a line on the edge of its tile is cut away
    w = num(2.0 * hatch.width)
    mark = f'<line x1="0" y1="0" x2="{g}" y2="0" stroke="{style.hatch_colour}" stroke-width="{w}"/>'
    return start + mark + "</pattern>"


def _view(drawing: Drawing, camera: Camera, theme: str) -> list[str]:
    upright, level = mesh(camera)
    lines = "".join(f"M{num(x)} 0V{num(camera.height)}" for x in upright)
    lines += "".join(f"M0 {num(y)}H{num(camera.width)}" for y in level)
    out = [f'<path d="{lines}" fill="none" stroke="{styles(theme)["grid"].line}"/>'] if lines else []
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            out += _path(shape, camera, theme)
        elif isinstance(shape, Circle):
            x, y = camera.to_screen(shape.centre)
            style = styles(theme)[shape.style]
            r = style.marker or shape.radius * camera.scale
            look = _look(style)
            out.append(f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(r)}" {look}/>')
        elif isinstance(shape, Arrow):
            out += _arrow(shape, camera, theme)
    labels, title = place_in_pane(drawing, camera, measure)
    for placed in labels:
        out += _label(placed, camera, theme)
    out += [_line(line, theme, (0.0, 0.0)) for line in title]
    return out


def _path(path: Path, camera: Camera, theme: str) -> list[str]:
    look = styles(theme)[path.style]
    loops = (path.points, *path.holes)
    text = " ".join(
        "M" + " L".join(f"{num(x)} {num(y)}" for x, y in map(camera.to_screen, loop)) + ("Z" if path.closed else "")
        for loop in loops
        if loop
    )
    filled = look if path.closed else Style(look.line, look.width, look.dash)
    out = [f'<path d="{text}" fill-rule="evenodd" {_look(filled)}/>']
    if look.hatch and path.closed:
        out.append(f'<path d="{text}" fill-rule="evenodd" fill="url(#hatch-{path.style})"/>')
    return out


def _arrow(shape: Arrow, camera: Camera, theme: str) -> list[str]:
    look = styles(theme)[shape.style]
    (a, b), head = arrow(camera.to_screen(shape.tail), camera.to_screen(shape.tip))
    tip = " ".join(f"{num(x)},{num(y)}" for x, y in head)
    ends = f'x1="{num(a[0])}" y1="{num(a[1])}" x2="{num(b[0])}" y2="{num(b[1])}"'
    return [
        f"<line {ends} {_look(Style(look.line, look.width))}/>",
        f'<polygon points="{tip}" fill="{look.line}"/>',
    ]


def _label(placed: Placed, camera: Camera, theme: str) -> list[str]:
    out: list[str] = []
    label: Label = placed.label
    left, top, right, bottom = placed.rect
    if placed.leader is not None:
        (a, b), (c, d) = placed.leader
        leader = styles(theme)["leader"]
        out.append(
            f'<line x1="{num(a + camera.x)}" y1="{num(b + camera.y)}" x2="{num(c + camera.x)}" '
            f'y2="{num(d + camera.y)}" stroke="{leader.line}" stroke-width="{num(leader.width)}"/>'
        )
    if placed.veiled:
        out.append(
            f'<rect x="{num(left + camera.x - 3)}" y="{num(top + camera.y - 1)}" width="{num(right - left + 6)}" '
            f'height="{num(bottom - top + 2)}" rx="3" fill="{paint(theme).paper}" fill-opacity="{num(VEIL)}"/>'
        )
    if placed.icon is not None and label.icon in BADGES:
        x, y, x1, _ = placed.icon
        side = x1 - x
        outline, strokes = BADGES[label.icon]

        def at(p: Pt) -> str:
            return f"{num(x + camera.x + p[0] * side)},{num(y + camera.y + p[1] * side)}"

        out.append(f'<polygon points="{" ".join(map(at, outline))}" fill="{styles(theme)[label.style].line}"/>')
        for stroke in strokes:
            out.append(
                f'<polyline points="{" ".join(map(at, stroke))}" fill="none" stroke="{paint(theme).paper}" '
                f'stroke-width="{num(0.13 * side)}" stroke-linecap="round" stroke-linejoin="round"/>'
            )
    out += [_line(line, theme, (camera.x, camera.y)) for line in placed.lines]
    return out


def _line(line: Line, theme: str, shift: Pt) -> str:
    look = styles(theme)[line.style]
    weight = ' font-weight="600"' if look.bold else ""
    return (
        f'<text x="{num(line.at[0] + shift[0])}" y="{num(line.at[1] + shift[1])}" font-size="{num(line.size)}"{weight} '
        f'fill="{look.line}">{escape(line.text)}</text>'
    )


def _look(look: Style) -> str:
    parts = [f'fill="{look.fill}"' if look.fill else 'fill="none"']
    if look.fill and look.alpha < 1.0:
        parts.append(f'fill-opacity="{num(look.alpha)}"')
    if look.line:
        parts.append(f'stroke="{look.line}" stroke-width="{num(look.width)}" stroke-linejoin="round"')
        if look.dash:
            parts.append(f'stroke-dasharray="{" ".join(map(num, look.dash))}"')
        else:
            parts.append('stroke-linecap="round"')
    return " ".join(parts)


def num(value: float) -> str:
    """Write a number shortly, the same everywhere."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
