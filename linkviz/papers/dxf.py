"""The cutting file of one plate: DXF R2010, true lines and arcs, audited; the same bytes for the same plate."""

from __future__ import annotations

import io
import math
from typing import Final

from linkviz.errors import LinkvizError
from linkviz.sheetmetal.plate import Plate
from linkviz.units import Unit, from_mm

VERSION: Final = "R2010"
LAYERS: Final = {"CUT": (7, "CONTINUOUS"), "DRILL": (1, "CONTINUOUS"), "BEND": (5, "CENTER"), "NOTE": (8, "CONTINUOUS")}
"""Layers with their colour (AutoCAD colour index) and linetype."""
_LETTER = 4.0
"""Height of the notes, mm."""


def dxf(plate: Plate, unit: Unit = "mm", notes: tuple[str, ...] = ()) -> bytes:
    """Return the flat pattern of a plate as a DXF file.

    Parameters
    ----------
    plate : Plate
        What to cut.
    unit : {"mm", "in"}
        Unit of the file; declared in it ($INSUNITS).
    notes : sequence of str
        Further lines on layer NOTE.

    Raises
    ------
    LinkvizError
        If the finished document does not pass the audit.

    References
    ----------
    DXF reference: $INSUNITS 1 is inches, 4 millimetres; AC1024 is R2010; the bulge of an arc is tan(turn / 4).
    """
    from ezdxf import options  # type: ignore[attr-defined]

    # no time and no number of chance in the file
    before, options.write_fixed_meta_data_for_testing = options.write_fixed_meta_data_for_testing, True
    try:
        return _dxf(plate, unit, notes)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _dxf(plate: Plate, unit: Unit, notes: tuple[str, ...]) -> bytes:
    from ezdxf import units
    from ezdxf.filemanagement import new

    document = new(VERSION, setup=["linetypes"], units=units.MM if unit == "mm" else units.IN)
    document.header["$MEASUREMENT"] = 1 if unit == "mm" else 0
    document.header["$LTSCALE"] = from_mm(1.0, unit)
    for name, (colour, linetype) in LAYERS.items():
        document.layers.add(name, color=colour, linetype=linetype)
    space = document.modelspace()
    scale = from_mm(1.0, unit)
    corners = [(node.x * scale, node.y * scale, node.bulge) for node in plate.blank.nodes]
    space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs={"layer": "CUT"})
    for hole in plate.holes:
        centre = (hole.x * scale, hole.y * scale)
        space.add_circle(centre, hole.diameter / 2.0 * scale, dxfattribs={"layer": "DRILL"})
    for line in plate.bend_lines:
        ends = ((line.x0 * scale, line.y * scale), (line.x1 * scale, line.y * scale))
        space.add_line(*ends, dxfattribs={"layer": "BEND"})
    _, low, right, top = plate.blank.extent
    for index, text in enumerate((*_words(plate, unit), *notes)):
        place = ((right + 15.0) * scale, (top - _LETTER - index * 1.7 * _LETTER) * scale)
        space.add_text(text, height=_LETTER * scale, dxfattribs={"layer": "NOTE"}).set_placement(place)
    document.header["$EXTMIN"] = (plate.blank.extent[0] * scale, low * scale, 0.0)
    document.header["$EXTMAX"] = (right * scale, top * scale, 0.0)
    auditor = document.audit()
    if auditor.has_errors or auditor.has_fixes:
        found = "; ".join(str(error.message) for error in (*auditor.errors, *auditor.fixes))
        raise LinkvizError(
            f"The cutting file of the {plate.name} does not pass its audit: {found}. Nothing is written."
        )
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _words(plate: Plate, unit: Unit) -> list[str]:
    def size(mm: float) -> str:
        return f"{from_mm(mm, unit):.{2 if unit == 'mm' else 4}f} {unit}"

    lines = [
        f"{plate.name}, {plate.count} off, {plate.steel.name}, {size(plate.thickness)} thick. Drawing unit: {unit}.",
        "CUT: outline. DRILL: holes, full size. BEND: middle of each bend.",
    ]
    for hole in plate.holes:
        drill = f", drill {hole.drill}" if hole.drill else ""
        lines.append(f"{hole.name}: dia {size(hole.diameter)}{drill}")
    for line in plate.bend_lines:
        way = "up" if line.up else "down"
        lines.append(f"Bend {line.number}: {math.degrees(line.angle):.1f} deg {way}, inside radius {size(line.inside)}")
    return lines
