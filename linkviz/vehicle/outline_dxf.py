"""Outlines as a DXF drawing, read and written with ezdxf, which is loaded only when it is needed.

Lines, arcs, circles, polylines, ellipses and splines are read; the ends of open ones are joined where they meet. Arcs
become straight edges that stand off them by no more than a tolerance, on the inner side.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterable, Iterator
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import Any

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import FileRefused, LinkvizError, Problem
from linkviz.units import Unit, from_mm
from linkviz.vehicle.joining import JOIN, joined
from linkviz.vehicle.outline_files import (
    EXPECTED,
    FARTHEST,
    MOST_CORNERS_IN_ALL,
    MOST_OUTLINES,
    Corners,
    Named,
    UnitWanted,
)
from linkviz.vehicle.outlines import Corner
from linkviz.vehicle.text import read_bytes

MM_PER = {1: MM_PER_INCH, 2: 12.0 * MM_PER_INCH, 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}
"""Length of the unit behind a code of $INSUNITS, mm (DXF Reference, header variables)."""
CODE: dict[Unit, int] = {"mm": 4, "in": 1}

_DRAWN = {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE", "INSERT"}
_NO_LAYER = re.compile(r"[<>/\\\":;?*=`|,]")
DEEPEST = 4
"""Blocks inside blocks are followed this far."""
MOST_BYTES = 2_000_000
"""A larger drawing holds more than outlines."""
MOST_PIECES = 20_000
"""So does one of more lines, arcs and blocks, each block counted as often as it is used."""
MOST_ENTRIES = 30_000
"""And one of more entries of any kind, layers and styles too."""
MOST_ON_ONE = 10_000
"""Nor has one line, arc or spline more corners."""


class _Endless(Exception):
    """A drawing of more than outlines."""


def dump_dxf(outlines: Named, unit: Unit) -> str:
    """Return a DXF with one closed LWPOLYLINE per outline, on a layer of its name; always the same text, for UTF-8."""
    ezdxf: Any = import_module("ezdxf")  # it does not tell a type checker what it offers
    # without this the text would hold the moment it was made
    fixed = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        drawing = ezdxf.new("R2010", units=CODE[unit])  # the forms before R2007 are not in UTF-8
        drawing.header["$INSUNITS"] = CODE[unit]
        drawing.header["$MEASUREMENT"] = 1 if unit == "mm" else 0
        space = drawing.modelspace()
        for name, group in outlines.items():
            layer = _NO_LAYER.sub("-", name).strip() or "outline"
            if layer not in drawing.layers:
                drawing.layers.add(layer)
            for outline in group:
                points = [(from_mm(u, unit), from_mm(v, unit)) for u, v in outline]
                space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})
        text = io.StringIO()
        drawing.write(text)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = fixed
    return text.getvalue()


def read_dxf(path: Path, unit: Unit | None, tolerance: float) -> Named:
    """Read the closed outlines of a DXF; see `linkviz.vehicle.outline_files.read_outlines`."""
    where = str(path)
    data = read_bytes(path, EXPECTED, MOST_BYTES)
    try:
        strokes = _strokes(data, where, unit, tolerance)
    except LinkvizError:
        raise
    except _Endless as endless:
        problem = Problem("file", str(endless), "outlines alone; save them by themselves")
        raise FileRefused(where, [problem]) from None
    except Exception:  # a damaged drawing makes the reader raise what it likes, from assertions to endless recursion
        problem = Problem("file", "no DXF drawing that can be read", f"{EXPECTED}; save it again as DXF")
        raise FileRefused(where, [problem]) from None
    if not strokes:
        raise FileRefused(where, [Problem("file", "a drawing without lines, arcs or polylines", EXPECTED)])
    found: Named = {}
    problems: list[Problem] = []
    for layer, lines in strokes.items():
        closed_ones, ends = joined(lines)
        found[layer] = tuple(closed_ones)
        problems += [
            Problem(
                f"layer {layer}",
                f"a line that ends in mid-air at u = {u:.2f}, v = {v:.2f} mm",
                f"closed outlines, their ends no more than {JOIN} mm apart; join it or delete it",
            )
            for u, v in ends
        ]
    found = {layer: group for layer, group in found.items() if group}
    if not found and not problems:
        problems.append(Problem("file", "lines that enclose nothing", EXPECTED))
    if sum(map(len, found.values())) > MOST_OUTLINES:
        problems.append(Problem("file", f"more than {MOST_OUTLINES} outlines", "fewer; save them by themselves"))
    if problems:
        raise FileRefused(where, problems)
    return found


def _strokes(data: bytes, where: str, unit: Unit | None, tolerance: float) -> dict[str, list[Corners]]:
    """Return what is drawn as lines through corners, mm, by layer; a closed one ends where it begins."""
    from ezdxf import recover

    entries = sum(1 for code in data.split(b"\n")[::2] if code.strip() == b"0")
    if entries > MOST_ENTRIES:
        raise FileRefused(where, [Problem("file", f"{entries} entries", "outlines alone; save them by themselves")])
    drawing, _ = recover.read(io.BytesIO(data))
    factor = MM_PER.get(int(drawing.header.get("$INSUNITS", 0)))
    if factor is None:
        if unit is None:
            raise UnitWanted(where)
        factor = 1.0 if unit == "mm" else MM_PER_INCH
    strokes: dict[str, list[Corners]] = {}
    count = 0
    for entity in _entities(drawing.modelspace(), 0, iter(range(MOST_PIECES))):
        layer = f"layer {entity.dxf.layer}"
        size = max((abs(float(value)) for value in _sizes(entity)), default=0.0) * factor
        if not size <= FARTHEST:
            raise FileRefused(where, [Problem(layer, f"an arc of {size:g} mm", f"at most {FARTHEST:g} mm")])
        line, closed = _stroke(entity, tolerance / factor)
        corners = tuple((u * factor, v * factor) for u, v in line)
        count += len(corners)
        if count > MOST_CORNERS_IN_ALL:
            raise _Endless(f"more than {MOST_CORNERS_IN_ALL} corners")
        if not all(abs(value) <= FARTHEST for corner in corners for value in corner):
            far = f"finite lengths, at most {FARTHEST:g} mm"
            raise FileRefused(where, [Problem(layer, "a corner that is no number or too far away", far)])
        if closed and len(corners) > 1:
            corners = (*corners, corners[0])
        if len(corners) > 1:
            strokes.setdefault(str(entity.dxf.layer), []).append(corners)
    return strokes


def _entities(space: Any, depth: int, left: Iterator[int]) -> Iterator[Any]:
    for entity in space:
        if next(left, None) is None:
            raise _Endless(f"more than {MOST_PIECES} pieces")
        kind = entity.dxftype()
        if kind not in _DRAWN:
            continue
        if kind != "INSERT":
            yield entity
        elif depth < DEEPEST:
            yield from _entities(entity.virtual_entities(), depth + 1, left)


def _sizes(entity: Any) -> Iterable[float]:
    """Return what the number of straight edges of an entity goes with, in its own unit."""
    kind = entity.dxftype()
    if kind in ("CIRCLE", "ARC"):
        return (entity.dxf.radius,)
    if kind == "ELLIPSE":
        return tuple(entity.dxf.major_axis)
    if kind == "SPLINE":
        return (value for point in (*entity.control_points, *entity.fit_points) for value in point)
    return ()


def _stroke(entity: Any, tolerance: float) -> tuple[list[Corner], bool]:
    """Return an entity as corners in its own unit, and whether it is closed."""
    kind = entity.dxftype()
    if kind == "LINE":
        return [_flat(entity.dxf.start), _flat(entity.dxf.end)], False
    if kind == "CIRCLE":
        return _open(_few(entity.flattening(tolerance))), True
    if kind in ("ARC", "ELLIPSE", "SPLINE"):
        return _few(entity.flattening(tolerance)), False
    line: list[Corner] = []
    for piece in entity.virtual_entities():
        more, _ = _stroke(piece, tolerance)
        # an arc that bulges to the right is drawn from its other end
        astray = math.dist(line[-1], more[-1]) < math.dist(line[-1], more[0]) if line else _astray(entity, more[0])
        if astray:
            more.reverse()
        line += more[1:] if line else more
    closed = bool(entity.is_closed)
    return (_open(line) if closed else line), closed


def _astray(entity: Any, at: Corner) -> bool:
    """Return whether a polyline begins elsewhere: nearer to its first corner than to its second."""
    points = [_flat(p) for p in entity.vertices_in_wcs()] if entity.dxftype() == "LWPOLYLINE" else []
    if not points:
        points = [_flat(vertex.dxf.location) for vertex in entity.vertices]
    return math.dist(points[0], at) > math.dist(points[1], at)


def _few(points: Iterable[Any]) -> list[Corner]:
    line = [_flat(point) for point in islice(points, MOST_ON_ONE)]
    if len(line) == MOST_ON_ONE:
        raise _Endless(f"a line of more than {MOST_ON_ONE} corners")
    return line


def _flat(point: Any) -> Corner:
    return (float(point[0]), float(point[1]))


def _open(corners: list[Corner]) -> list[Corner]:
    """Return corners without a last one that repeats the first."""
    return corners[:-1] if len(corners) > 1 and math.dist(corners[0], corners[-1]) < 1e-9 else corners
