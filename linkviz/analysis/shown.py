"""The equations with the numbers of one state put in: what each symbol is, each step, and what the drawing shows.

The steps are those printed by `linkviz.linkage.derive`; here they only get their numbers.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from linkviz.analysis.fittings import pinion_joint_angle
from linkviz.analysis.study import Study
from linkviz.frozen import Frozen
from linkviz.linkage.closed_form import bar_side, trailing
from linkviz.linkage.layout import BAR, LINKS
from linkviz.linkage.measures import link_force, motion_per_roll
from linkviz.linkage.shown_equations import STEPS, Step

_SIDE = ("f_lx", "f_lz", "L_l", "f_ux", "f_uz", "L_u", "a_lx", "a_lz", "a_ux", "a_uz", "c_x", "c_z")


class Given(Frozen):
    """A symbol that is given: its name, value, unit, words."""

    symbol: str
    value: float
    unit: str
    words: str = ""


class Line(Frozen):
    """One step with its numbers."""

    step: Step
    values: Mapping[str, float]
    result: float


class Section(Frozen):
    """Some steps that belong together.

    Attributes
    ----------
    title, words : str
    given : tuple of Given
    lines : tuple of Line
    notes : tuple of str
        What is to be compared with what, in sentences.
    """

    title: str
    words: str
    given: tuple[Given, ...]
    lines: tuple[Line, ...]
    notes: tuple[str, ...] = ()

    def result(self, symbol: str) -> float:
        """Return what a step gave."""
        return next(line.result for line in self.lines if line.step.symbol == symbol)


def _worked(section: str, given: tuple[Given, ...], without: tuple[str, ...] = ()) -> tuple[Line, ...]:
    values = {one.symbol: one.value for one in given}
    lines = []
    for step in STEPS:
        if step.section == section and step.symbol not in without:
            taken = {name: values[name] for name in step.takes}
            # where a closed form has no real answer it is nan: held stiff, the links do not reach
            with np.errstate(invalid="ignore", divide="ignore"):
                values[step.symbol] = float(step.of(**taken))
            lines.append(Line(step, taken, values[step.symbol]))
    return tuple(lines)


def sections(study: Study) -> tuple[Section, ...]:
    """Return the whole way from the measured points to what is read off the drawing.

    Parameters
    ----------
    study : Study
        What is on the screen; its first state is taken.
    """
    side = _side(study)
    rear = _rear(study, side)
    full = _full(study)
    return (side, rear, full, _read(study, full))


def _side(study: Study) -> Section:
    layout, heave = study.build.layout, float(study.poses.heave[0])
    links = trailing(layout)
    x, pitch = (float(v[0]) for v in links.at(np.array([heave])))
    numbers = dict(zip(_SIDE, links.numbers, strict=True))
    held = min(max(heave, links.low), links.high)
    along = numbers["c_x"] + x + math.cos(pitch) * numbers["a_lx"] + math.sin(pitch) * numbers["a_lz"]
    up = numbers["c_z"] + held - math.sin(pitch) * numbers["a_lx"] + math.cos(pitch) * numbers["a_lz"]
    alpha = math.atan2(up - numbers["f_lz"], along - numbers["f_lx"])
    words = {
        "f_lx": "frame joints of the lower links, mean of left and right", "L_l": "lower links in side view",
        "f_ux": "frame joints of the upper links", "L_u": "upper links in side view",
        "a_lx": "lower joints on the axle, from its centre", "a_ux": "upper joints on the axle, from its centre",
        "c_x": "axle centre as built",
    }  # fmt: skip
    given = (
        Given("alpha", alpha, "rad", "angle of the lower links, found so that h comes out as it stands"),
        Given("s", links.branch, "", "side of the line of centres on which the axle was built"),
        *(Given(name, numbers[name], "mm", words.get(name, "")) for name in _SIDE),
    )
    lines = _worked("side", given)
    section = Section(
        "Trailing links, in side view",
        "Each pair of links is taken by its middle. Two circles cross where the axle's upper joint is.",
        given,
        lines,
    )
    note = (
        f"Closed form: x = {section.result('x'):.2f} mm, pitch {math.degrees(pitch):.2f}\N{DEGREE SIGN}. The drawing, "
        f"solved in space with bushings: x = {study.poses.x[0]:.2f} mm, pitch "
        f"{math.degrees(study.poses.pitch[0]):.2f}\N{DEGREE SIGN}."
    )
    return Section(section.title, section.words, given, lines, (note,))


def _bar(study: Study) -> tuple[Given, ...]:
    layout = study.build.layout
    a, q = layout.axle[BAR], layout.centre - layout.frame[BAR]
    points = (
        ("a", a, "the bar's axle end, from the axle centre"),
        ("q", q, "axle centre as built, from the bar's frame end"),
    )
    return (
        *(
            Given(f"{letter}_{axis}", float(value), "mm", words if axis == "x" else "")
            for letter, point, words in points
            for axis, value in zip("xyz", point, strict=True)
        ),
        Given("L", float(layout.length[BAR]), "mm", "length of the bar"),
    )


def _rear(study: Study, side: Section) -> Section:
    poses = study.poses
    given = (
        Given("x", side.result("x"), "mm", "from the side view"),
        Given("h", side.result("h"), "mm", "height of the axle against design"),
        Given("theta", math.atan2(side.result("sin_theta"), side.result("cos_theta")), "rad", "from the side view"),
        Given("phi", float(poses.roll[0]), "rad", "roll of the axle"),
        *_bar(study),
        Given("t", bar_side(study.build.layout), "", "side of the frame end on which the axle end was built"),
    )
    lines = _worked("rear", given)
    values = {line.step.symbol: line.result for line in lines}
    if math.isnan(values["y"]):
        short = math.hypot(values["w_x"], values["w_z"]) - float(study.build.layout.length[BAR])
        found = (
            f"Closed form: no place; without its bushings the bar is {short:.2f} mm too short to reach the axle here."
        )
    else:
        found = f"Closed form: y = {values['y']:.2f} mm."
    note = f"{found} The drawing: y = {poses.y[0]:.2f} mm."
    return Section(
        "Lateral bar, from behind", "With no yaw the bar's length leaves one quadratic in y.", given, lines, (note,)
    )


def _full(study: Study) -> Section:
    layout, poses = study.build.layout, study.poses
    stiffness = float(layout.stiffness[BAR])
    given = (
        Given("x", float(poses.x[0]), "mm", "what the solve found"),
        Given("y", float(poses.y[0]), "mm"),
        Given("theta", float(poses.pitch[0]), "rad", "pitch"),
        Given("psi", float(poses.yaw[0]), "rad", "yaw"),
        Given("h", float(poses.heave[0]), "mm", "height and roll are given"),
        Given("phi", float(poses.roll[0]), "rad"),
        *_bar(study),
        Given("k", stiffness, "N/mm", "the bar with both its bushings"),
    )
    lines = _worked("full", given)
    forces = link_force(layout, poses)[0]
    named = ", ".join(f"{name.replace('_', ' ')} {force:.0f} N" for name, force in zip(LINKS, forces, strict=True))
    energy = float((0.5 * layout.stiffness * poses.stretch[0] ** 2).sum())
    notes = (f"Forces of all five: {named}. Energy of all five: {energy:.1f} N mm, the least there is at this height.",)
    return Section(
        "In space, with bushings",
        "What the drawing shows: the axle stands where the bushings of all five links hold the least energy. "
        "Here is the lateral bar; the trailing links go the same way.",
        given,
        lines,
        notes,
    )


def _read(study: Study, full: Section) -> Section:
    vehicle, poses = study.build.vehicle, study.poses
    y = float(poses.y[0])
    given = [
        Given("w_y", full.result("w_y"), "mm", "the bar, from frame end to axle end"),
        Given("w_z", full.result("w_z"), "mm"),
        Given("theta", float(poses.pitch[0]), "rad", "pitch"),
        Given("P_0", math.radians(vehicle.axle.pinion_angle_deg), "rad", "pinion angle as built"),
        Given("y", y, "mm", "axle sideways from design"),
        Given("y_0", y - float(study.sway[0]), "mm", "the same at rest"),
        Given("R", vehicle.axle.tyre_radius, "mm", "tyre radius"),
        Given("y_phi", float(motion_per_roll(study.build.layout, poses)[1, 0]), "mm/rad", "rate of y with roll"),
    ]
    without: tuple[str, ...] = ("U_v",)
    if vehicle.driveshaft is not None:
        angle = float(pinion_joint_angle(study.build, poses)[0])
        given.append(Given("gamma", angle, "rad", "angle of the joint at the pinion"))
        without = ()
    lines = _worked("read", tuple(given), without)
    notes = (
        f"The drawing shows: bar {math.degrees(study.bar_angle[0]):.1f}\N{DEGREE SIGN}, pinion "
        f"{math.degrees(study.pinion_angle[0]):.1f}\N{DEGREE SIGN}, sway {study.sway[0]:.1f} mm, roll centre "
        f"{study.roll_centre[0]:.0f} mm.",
    )
    return Section("What is read off", "The figures on the drawing and in the tables.", tuple(given), lines, notes)
