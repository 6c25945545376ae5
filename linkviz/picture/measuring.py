"""Where a point is measured: both views of a vehicle as built, with the lengths to take as arrows."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Arrow, Circle, Drawing, Label, Path, Pt, Shape
from linkviz.picture.side import side_view
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Point, Vehicle

_SAID = ("sway", "gap", "arc", "pinion_arc", "lift")
"""Beginnings of the styles of what a drawing says about the axle: no matter while it is measured."""
_NEAR = 12.0
"""Lengths shorter than this are not drawn, mm."""


def measuring_views(
    vehicle: Vehicle, points: Sequence[tuple[str, Point]], unit: Unit = "mm", envelope: int = -1
) -> tuple[Drawing, Drawing]:
    """Return rear view and side view with measured points marked.

    Parameters
    ----------
    vehicle : Vehicle
        Shown as built, at design height.
    points : sequence of (str, point)
        Words and place (body frame, mm) of what is marked; the first has its lengths drawn: y and z in rear view,
        x and z in side view.
    unit : {"mm", "in"}
        Unit of the lengths.
    envelope : int
        The envelope that is picked, with its name; -1 for none.
    """
    scene = Scene(live=study(Build.of(vehicle, Setup()), 0.0, 0.0), unit=unit, envelope=envelope)
    rear, side = rear_view(scene), side_view(scene)
    return (
        _measured(rear, [(words, (-p[1], p[2])) for words, p in points], ("y", "z"), unit, envelope >= 0),
        _measured(side, [(words, (p[0], p[2])) for words, p in points], ("x", "z"), unit, envelope >= 0),
    )


def _measured(
    drawing: Drawing, points: Sequence[tuple[str, Pt]], axes: tuple[str, str], unit: Unit, named: bool
) -> Drawing:
    shapes: list[Shape] = [shape for shape in drawing.shapes if _kept(shape, named)]
    for i, (words, at) in enumerate(points):
        shapes += [Circle(at, 7.0, "point_picked"), Circle(at, 4.0, "point")]
        if i == 0:
            shapes += _lengths(at, axes, unit)
        shapes.append(Label(at, words, "number", "left", leader=at, name=f"point {i}"))
    return drawing.replace(shapes=tuple(shapes), caption="as built")


def _kept(shape: Shape, named: bool) -> bool:
    if isinstance(shape, Label):
        return named and shape.name.startswith("envelope")
    return not shape.style.startswith(_SAID)


def _lengths(at: Pt, axes: tuple[str, str], unit: Unit) -> list[Shape]:
    """Return the two lengths of a point: across from the zero line, and up from the ground."""
    u, v = at
    shapes: list[Shape] = [Path(((0.0, 0.0), (0.0, v + 60.0)), "axis")]
    if abs(u) > _NEAR:
        middle = (u / 2.0, v)
        shapes.append(Arrow((0.0, v), at, "sway"))
        shapes.append(
            Label(
                middle, f"{axes[0]} {format_length(abs(u), unit)}", "hit_text", "centre", leader=middle, name="across"
            )
        )
    if v > _NEAR:
        middle = (u, v / 2.0)
        shapes.append(Arrow((u, 0.0), at, "sway"))
        shapes.append(
            Label(middle, f"{axes[1]} {format_length(v, unit)}", "hit_text", "left", leader=middle, name="up")
        )
    return shapes
