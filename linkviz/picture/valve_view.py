"""The load-sensing brake valve from the right, front to the right: valve, arm, rod, axle, and the bracket between."""

from __future__ import annotations

import math

import numpy as np

from linkviz.analysis.fittings import placed
from linkviz.analysis.stance.brake_valve import arm, lever_of, rod_ends, valve_of
from linkviz.analysis.study import Study
from linkviz.brakes.linkage import Lever
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array
from linkviz.picture import parts
from linkviz.picture.shapes import Circle, Drawing, Label, Path, Pt, Shape
from linkviz.units import Unit, format_angle, format_length

_ROD, _ARM, _EYE = 4.5, 6.5, 9.0
_TUBE = 40.0
_ROOM = 26.0


def valve_view(live: Study, ghost: Study | None, ghost_name: str, unit: Unit) -> Drawing:
    """Return the valve and its lever, body frame, mm.

    Parameters
    ----------
    live : Study
        The axle as it stands, one state; its build has the rise of the rod.
    ghost : Study or None
        What it is compared with, drawn dashed.
    ghost_name : str
        What that is called.
    unit : {"mm", "in"}
        Of lengths in the text.
    """
    now = _Arm.of(live)
    lever, turn = now.lever, now.turn
    pivot = lever.pivot
    shapes: list[Shape] = [*_body(pivot)]
    if ghost is not None:
        shapes += _Arm.of(ghost).shapes("ghost", "ghost", "ghost")
        shapes.append(Circle(_axle(ghost), _TUBE, "ghost"))
    shapes += _on_axle(live, now.end, unit)
    shapes += now.shapes("bar", "link", "bar_eye")
    shapes += [Circle(pivot, 15.0, "steel"), Circle(pivot, 5.0, "bolt")]
    if abs(turn) > math.radians(0.5):
        shapes.append(parts.arc(pivot, 0.62 * lever.arm, lever.angle, now.angle, "arc"))
    if now.reached:
        way = "as measured" if abs(turn) < math.radians(0.25) else f"towards {'laden' if turn > 0 else 'empty'}"
        words, style, icon = f"arm {format_angle(abs(turn), 0)} {way}", "bar_text", ""
    else:
        words, style, icon = "rod pulls the arm straight", "hit_text", "hit"
    above = (pivot[0] - 0.3 * lever.arm, pivot[1] + 86.0)
    shapes.append(Label(above, words, style, "centre", name="arm", icon=icon))
    caption = f"front to the right; dashed: {ghost_name}" if ghost is not None else "front to the right"
    return Drawing("Brake valve", tuple(shapes), _extent(live), caption)


def _extent(live: Study) -> tuple[float, float, float, float]:
    """Return what is to be seen over the whole travel, so that the picture stands still as the axle moves."""
    build = live.build
    lever, valve = lever_of(valve_of(build.vehicle)), valve_of(build.vehicle)
    centre = build.vehicle.axle.centre
    low = -build.setup.lift + build.window[0]
    us = (
        lever.pivot[0] - lever.arm,
        lever.pivot[0] + 0.6 * lever.arm,
        valve.axle[0],
        centre[0] - _TUBE,
        centre[0] + _TUBE,
    )
    top = lever.pivot[1] + 86.0 + max(build.setup.valve_rise - build.setup.lift, 0.0)
    bottom = min(centre[2] - _TUBE, valve.axle[2]) + low
    return (min(us) - _ROOM, bottom - _ROOM, max(us) + _ROOM, top + _ROOM)


def _body(pivot: Pt) -> list[Shape]:
    u, v = pivot
    rail = ((u - 1500.0, v + 18.0), (u + 1500.0, v + 18.0), (u + 1500.0, v + 66.0), (u - 1500.0, v + 66.0))
    valve = parts.rounded(((u - 22.0, v - 20.0), (u + 58.0, v - 20.0), (u + 58.0, v + 18.0), (u - 22.0, v + 18.0)), 6.0)
    return [
        parts.polygon(rail, "rail"),
        parts.polygon(valve, "steel"),
        Path(((u + 58.0, v - 4.0), (u + 84.0, v - 4.0), (u + 84.0, v + 18.0)), "detail"),
        Label((u + 62.0, v - 14.0), "valve", "small", name="valve"),
    ]


class _Arm(Frozen):
    """The lever as it stands, worked out once: turn and angle of its arm, rad, its tip and the rod's end, mm."""

    lever: Lever
    turn: float
    angle: float
    reached: bool
    end: Pt

    @classmethod
    def of(cls, study: Study) -> _Arm:
        """Solve the lever of one state."""
        found = arm(study.build, study.poses)
        end = rod_ends(study.build, study.poses)[0]
        lever = lever_of(valve_of(study.build.vehicle))
        reached = bool(found.reached[0])
        return cls(lever, float(found.turn[0]), float(found.angle[0]), reached, (float(end[0]), float(end[1])))

    def shapes(self, arm_style: str, rod_style: str, eye: str) -> list[Shape]:
        """Return rod and arm."""
        u, v = self.lever.pivot
        tip = (u + self.lever.arm * math.cos(self.angle), v + self.lever.arm * math.sin(self.angle))
        return [
            parts.capsule(tip, self.end, _ROD, rod_style),
            Circle(self.end, _EYE, eye),
            parts.capsule(self.lever.pivot, tip, _ARM, arm_style),
            Circle(tip, _EYE, eye),
        ]


def _place(study: Study, point: tuple[float, float, float]) -> Pt:
    at: Array = placed(study.build, study.poses, np.array([point]))[0, 0]
    return (float(at[0]), float(at[2]))


def _axle(study: Study) -> Pt:
    return _place(study, study.build.vehicle.axle.centre)


def _on_axle(study: Study, end: Pt, unit: Unit) -> list[Shape]:
    valve, setup = valve_of(study.build.vehicle), study.build.setup
    centre, foot = _axle(study), _place(study, valve.axle)
    shapes: list[Shape] = [
        parts.capsule(centre, foot, 7.0, "hanger"),
        Circle(centre, _TUBE, "steel"),
        Circle(centre, 0.86 * _TUBE, "detail"),
        Label((centre[0], centre[1]), "axle", "small", "centre", name="axle"),
    ]
    if setup.valve_rise:
        words = f"rod raised {format_length(setup.valve_rise, unit)}"
        beside = ((foot[0] + end[0]) / 2.0 - 14.0, (foot[1] + end[1]) / 2.0)
        shapes += [
            parts.capsule(foot, end, 10.0, "bracket"),
            Circle(foot, 5.0, "hole"),
            Label(beside, words, "bar_text", "right", name="rise"),
        ]
    return shapes
