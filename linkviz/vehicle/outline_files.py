"""Outlines in files that other programs read and cutters cut: DXF and CSV, by name.

A file holds any number of outlines, each under a name: the layer in a DXF, a column in a CSV. Coordinates are (u, v):
u to the right and v up on the drawing's paper, in one unit for the whole file. Inside the program they are mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from os import PathLike, fspath
from pathlib import Path

from linkviz.errors import FileRefused, LinkvizError, Problem
from linkviz.units import Unit
from linkviz.vehicle.outlines import Corner

Corners = tuple[Corner, ...]
Named = dict[str, tuple[Corners, ...]]
"""Closed outlines by name, mm; the last corner joins the first and is not repeated."""

TOLERANCE = 0.1
"""How far a straight edge may stand off the arc it stands for, mm: the sagitta."""

FARTHEST = 1.0e6
"""No corner of a drawing is farther from its origin than this, mm."""
MOST_OUTLINES = 2000
"""No file holds more outlines."""
MOST_CORNERS_IN_ALL = 50_000
"""Nor more corners, arcs drawn as straight edges."""

ENDINGS = (".dxf", ".csv", ".txt")
EXPECTED = "a drawing of outlines (DXF), or a table of corners (CSV: outline, u, v)"


class UnitWanted(LinkvizError):
    """A file that does not say what unit its lengths are in."""

    def __init__(self, path: str) -> None:
        self.path = path
        super().__init__(
            f"{path} does not say whether its lengths are in mm or inches. Say which, "
            "or write the unit into the file ($INSUNITS in a DXF, a heading such as u_mm in a CSV)."
        )


def read_outlines(path: str | PathLike[str], unit: Unit | None = None, tolerance: float = TOLERANCE) -> Named:
    """Read the closed outlines of a DXF or CSV file.

    Parameters
    ----------
    path : path
        The file; its ending says which kind it is.
    unit : {"mm", "in"}, optional
        Unit of a file that does not say. A file that does is believed.
    tolerance : float
        Greatest distance of a straight edge from the arc, circle, ellipse or spline it stands for, mm.

    Returns
    -------
    dict of str to tuple of outlines
        Corners in mm, in the order of the file.

    Raises
    ------
    UnitWanted
        If neither the file nor `unit` says what the lengths are in.
    FileRefused
        If it is no such file, holds no closed outline, or a line in it ends in mid-air.
    """
    ending = Path(path).suffix.lower()
    if ending == ".dxf":
        from linkviz.vehicle.outline_dxf import read_dxf

        return read_dxf(Path(path), unit, tolerance)
    if ending in (".csv", ".txt"):
        from linkviz.vehicle.outline_csv import read_csv

        return read_csv(Path(path), unit)
    raise FileRefused(fspath(path), [Problem("file", f"a name that ends in {ending or 'nothing'}", EXPECTED)])


def write_outlines(
    path: str | PathLike[str], outlines: Mapping[str, Sequence[Sequence[Corner]]], unit: Unit = "mm"
) -> None:
    """Write closed outlines to a DXF or CSV file, atomically.

    Parameters
    ----------
    path : path
        Where to; its ending, ``.dxf`` or ``.csv``, says as what.
    outlines : mapping of str to outlines
        Any number of outlines under each name, mm; holes are outlines too.
    unit : {"mm", "in"}
        Unit of the file, which says so itself.

    Raises
    ------
    LinkvizError
        If there is nothing to write, a corner is no number, the ending is another, or the file cannot be written.

    Notes
    -----
    A DXF has one closed LWPOLYLINE for each outline, on a layer of its name. The same outlines always make the same
    file. Read back, the corners are the same to 1e-6 mm.
    """
    from linkviz.vehicle.saving import save_text

    wanted = {
        name: tuple(tuple((float(u), float(v)) for u, v in outline) for outline in group)
        for name, group in outlines.items()
    }
    _check(wanted)
    ending = Path(path).suffix.lower()
    if ending == ".dxf":
        from linkviz.vehicle.outline_dxf import dump_dxf

        save_text(path, dump_dxf(wanted, unit))
    elif ending in (".csv", ".txt"):
        from linkviz.vehicle.outline_csv import dump_csv

        save_text(path, dump_csv(wanted, unit))
    else:
        raise LinkvizError(f"{fspath(path)}: outlines are saved as .dxf or .csv. Give the file one of these endings.")


def _check(outlines: Named) -> None:
    if not any(outlines.values()):
        raise LinkvizError("There is no outline to write. Draw one first.")
    for name, group in outlines.items():
        for outline in group:
            if len(outline) < 3:
                raise LinkvizError(f"An outline of {name} has {len(outline)} corners. It needs at least 3.")
            if not all(abs(value) <= FARTHEST for corner in outline for value in corner):
                raise LinkvizError(f"A corner of {name} is no number or lies too far away. Correct it first.")
