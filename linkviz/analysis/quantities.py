"""Every number people ask about the axle, by name: what it is, its unit and sign, whether a vehicle's file tells it.

`QUANTITIES` is what graphs, the sweep and the explanation go through. Nothing here is worked out until it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

import numpy as np

from linkviz.analysis import fittings
from linkviz.analysis.build import Build
from linkviz.analysis.study import Study
from linkviz.driveline import joints
from linkviz.frozen import Frozen
from linkviz.linkage import articulation, measures, roll_axis, side_view
from linkviz.linkage.layout import LINKS, Array
from linkviz.linkage.pose import Poses
from linkviz.stance.ride import static_stability
from linkviz.vehicle.described import typed_at
from linkviz.vehicle.model import Vehicle

Unit = Literal["mm", "deg", "N", "%", ""]


def _nothing_missing(_: Vehicle) -> str:
    return ""


class Quantity(Frozen):
    """One number at each state of a study.

    Attributes
    ----------
    key : str
        Its name for programs; never changed.
    label : str
        Its name for people, without the unit.
    plain : str
        What it means and which way it is counted, a sentence.
    unit : {"mm", "deg", "N", "%", ""}
        Unit of what `of` returns.
    of : callable
        From a `Study` of n states to an array of shape (n,). Where the axle does not get to a state the value
        belongs to the limit it stands at. Finite, or infinite for the reason `infinite`.
    missing : callable
        From a `Vehicle` to the reason why it cannot be told, "" if it can.
    group : str
        Heading in lists.
    infinite : str
        What an infinite value means, "" if there is none.
    slow : bool
        Whether it takes many solves: not for every frame.
    not_over_roll : str
        Why it cannot be told over the roll of the axle, "" if it can.
    """

    key: str
    label: str
    plain: str
    unit: Unit
    of: Callable[[Study], Array]
    missing: Callable[[Vehicle], str] = _nothing_missing
    group: str = ""
    infinite: str = ""
    slow: bool = False
    not_over_roll: str = ""

    @property
    def column(self) -> str:
        """Return its name with its unit, for tables: ``slip_mm``, ``bind_n``, ``anti_squat_percent``."""
        ending = {"%": "percent", "N": "n"}.get(self.unit, self.unit)
        return f"{self.key}_{ending}" if ending else self.key


# -- what a file must tell


_MEASURE = {
    "driveshaft": "Measure both joints and the tube",
    "driveshaft.output_angle_deg": "Measure the slope of what drives the shaft",
    "driveshaft.slip": "Measure how far the joint slides out and in from design height",
    "mass": "Find wheelbase, axle loads and the height of the centre of gravity",
    "springs": "Measure both seats of the left coil, its free length and rate",
    "dampers": "Measure both eyes of the left damper, its shortest and its longest",
    "hoses": "Measure both ends of each hose and its length",
    "bump_stops": "Measure stop and pad on the left",
}
"""What each table or value asks for."""


def _lacks(name: str) -> str:
    return f"{_MEASURE[name]}, and type it under {typed_at(name)}."


def _needs_shaft(vehicle: Vehicle) -> str:
    return "" if vehicle.driveshaft else _lacks("driveshaft")


def _needs_output(vehicle: Vehicle) -> str:
    shaft = vehicle.driveshaft
    if shaft is None or shaft.output_angle_deg is not None:
        return _needs_shaft(vehicle)
    return _lacks("driveshaft.output_angle_deg")


def _needs_slip(vehicle: Vehicle) -> str:
    shaft = vehicle.driveshaft
    if shaft is None or shaft.slip is not None:
        return _needs_shaft(vehicle)
    return _lacks("driveshaft.slip")


def _needs_envelopes(vehicle: Vehicle) -> str:
    return _needs_shaft(vehicle) or (
        "" if vehicle.envelopes else f"Nothing is drawn beside the shaft: draw it, {typed_at('envelopes')}."
    )


def _needs(table: str) -> Callable[[Vehicle], str]:
    def missing(vehicle: Vehicle) -> str:
        return "" if getattr(vehicle, table) else _lacks(table)

    return missing


# -- how they are read off


def _degrees(of: Callable[[Study], Array]) -> Callable[[Study], Array]:
    return lambda study: np.degrees(of(study))


def _at(function: Callable[[Build, Poses], Array]) -> Callable[[Study], Array]:
    return lambda study: function(study.build, study.poses)


def _rates(study: Study) -> Array:
    return measures.motion_per_roll(study.build.layout, study.poses)


def _largest_force(study: Study) -> Array:
    largest: Array = np.abs(study.force).max(axis=-1)
    return largest


def free_articulation(study: Study, limit: float = articulation.FORCE_LIMIT) -> Array:
    """Return the roll at which a link force passes a limit at each height of a study, shape (n,), rad.

    See `linkviz.linkage.articulation.free_articulation`; the roll of the study does not matter. `limit` in N.
    """
    heave, back = np.unique(study.poses.heave, return_inverse=True)
    found: Array = articulation.free_articulation(study.build.layout, heave, limit)[back]
    return found


def _anti_squat(study: Study) -> Array:
    vehicle = study.build.vehicle
    if vehicle.mass is None:
        raise fittings.NotOnFile("mass")
    return side_view.anti_squat(
        study.build.layout, study.poses, vehicle.axle.tyre_radius, vehicle.mass.wheelbase, vehicle.mass.cg_height
    )


def _stability(study: Study) -> Array:
    """Return T / (2 h), the whole centre of gravity rising with the body over the axle; a little too low, then."""
    vehicle = study.build.vehicle
    if vehicle.mass is None:
        raise fittings.NotOnFile("mass")
    heights = vehicle.mass.cg_height - study.poses.heave
    return np.array([static_stability(vehicle.axle.track, float(h)) for h in heights])


def _instant_centre(which: int) -> Callable[[Study], Array]:
    def of(study: Study) -> Array:
        found = side_view.instant_centre(study.build.layout, study.poses, study.build.vehicle.axle.tyre_radius)
        return found[which]

    return of


def _link_angle(view: int, link: int) -> Callable[[Study], Array]:
    return _degrees(lambda study: side_view.link_angles(study.build.layout, study.poses)[view][:, link])


def _force(link: int) -> Callable[[Study], Array]:
    return lambda study: study.force[:, link]


def _column(function: Callable[[Build, Poses], Array], *which: int) -> Callable[[Study], Array]:
    def of(study: Study) -> Array:
        found = function(study.build, study.poses)
        for index in which:
            found = found[:, index]
        return found

    return of


def _mismatch(build: Build, poses: Poses) -> Array:
    return fittings.front_joint_angle(build, poses) - fittings.pinion_joint_angle(build, poses)


def _residual(build: Build, poses: Poses) -> Array:
    return joints.residual_angle(fittings.front_joint_angle(build, poses), fittings.pinion_joint_angle(build, poses))


_NAMES = tuple(name.replace("_", " ") for name in LINKS)

_AXLE = (
    Quantity("sway", "Sway", "Axle sideways from where this build rests, seen from the body; left is +.", "mm",
             lambda s: s.sway),
    Quantity("offset", "Sideways from design", "Axle sideways from the middle it was built at; left is +.", "mm",
             lambda s: s.poses.y),
    Quantity("wheelbase_change", "Wheelbase change", "How much longer (+) the wheelbase is than at design height.",
             "mm", lambda s: -s.poses.x),
    Quantity("yaw", "Axle yaw", "Axle turned in plan, steering to the left is +.", "deg",
             _degrees(lambda s: s.poses.yaw)),
    Quantity("pinion_angle", "Pinion angle", "How far the pinion points up (+).", "deg",
             _degrees(lambda s: s.pinion_angle)),
    Quantity("bar_angle", "Bar angle", "Lateral bar against level, seen from behind; + with the frame end higher.",
             "deg", _degrees(lambda s: s.bar_angle)),
)  # fmt: skip

_ROLL = (
    Quantity("roll_centre", "Roll centre", "Height above ground about which the body leans over the axle.", "mm",
             lambda s: s.roll_centre),
    Quantity("roll_axis_slope", "Roll axis slope",
             "Slope of the line the axle rolls about, from the lines of the links; + rising to the front.", "deg",
             _degrees(lambda s: np.arctan(roll_axis.roll_axis(s.build.layout, s.poses)[1]))),
    Quantity("roll_steer", "Roll steer",
             "Steer of the rear wheels in % of the roll; + points them out of the turn (oversteer).", "%",
             lambda s: 100.0 * roll_axis.roll_steer(s.poses, _rates(s))),
    Quantity("free_articulation", "Free articulation",
             f"Roll at which the first link force passes {articulation.FORCE_LIMIT / 1000:g} kN, either way.", "deg",
             _degrees(free_articulation), infinite=f"no force passes it up to "
             f"{np.degrees(articulation.MOST_ROLL):.0f} deg", slow=True,
             not_over_roll="It is itself a roll, the same at every roll: look at it over wheel travel."),
)  # fmt: skip

_SIDE = (
    Quantity("instant_centre_ahead", "Instant centre ahead",
             "Where the links' lines cross in side view, ahead of (+) the axle centre.", "mm", _instant_centre(0),
             infinite="the links are parallel: it is at infinity"),
    Quantity("instant_centre_height", "Instant centre height",
             "Height above ground where the links' lines cross in side view.", "mm", _instant_centre(1),
             infinite="the links are parallel: it is at infinity"),
    Quantity("anti_squat", "Anti-squat",
             "How far the links hold the rear up when the engine drives: 100 % neither sinks nor rises.", "%",
             _anti_squat, _needs("mass"), infinite="the links' lines cross straight above the tyre patch"),
)  # fmt: skip

_STANCE = (
    Quantity("static_stability", "Static stability factor",
             "Half the track over the height of the centre of gravity; smaller tips more easily.", "", _stability,
             _needs("mass")),
)  # fmt: skip

_LINKS = (
    *(
        Quantity(f"{LINKS[i]}_angle", f"{_NAMES[i].capitalize()} link, slope",
                 "Link against level in side view; + with the frame end higher.", "deg", _link_angle(0, i))
        for i in range(4)
    ),
    *(
        Quantity(f"{LINKS[i]}_plan_angle", f"{_NAMES[i].capitalize()} link, in plan",
                 "Link against straight ahead in plan; + with the frame end nearer the middle.", "deg",
                 _link_angle(1, i))
        for i in range(4)
    ),
    *(
        Quantity(f"{name}_force", f"{_NAMES[i].capitalize()}{' link' if i < 4 else ''}, force",
                 "What its bushings bear because the links bind; tension is +.", "N", _force(i))
        for i, name in enumerate(LINKS)
    ),
    Quantity("bind", "Largest link force", "Largest force of any link against its bushings, either way.", "N",
             _largest_force),
)  # fmt: skip

_SHAFT = (
    Quantity("gap", "Shaft gap", "Smallest gap between driveshaft and what was drawn; - is how deep it is in.", "mm",
             lambda s: s.gap, _needs_envelopes),
    Quantity("front_joint_angle", "Front joint angle", "Angle the front joint works at, in space.", "deg",
             _degrees(_at(fittings.front_joint_angle)), _needs_output),
    Quantity("pinion_joint_angle", "Pinion joint angle", "Angle the joint at the pinion works at, in space.", "deg",
             _degrees(_at(fittings.pinion_joint_angle)), _needs_shaft),
    Quantity("joint_mismatch", "Joint mismatch", "Front joint angle less pinion joint angle; 0 cancels.", "deg",
             _degrees(_at(_mismatch)), _needs_output),
    Quantity("residual_angle", "Residual joint angle",
             "Angle of the one joint that would turn as unevenly as both do together.", "deg",
             _degrees(_at(_residual)), _needs_output),
    Quantity("front_speed_variation", "Speed variation, front joint",
             "Greatest less least speed behind the front joint, in % of the speed.", "%",
             lambda s: 100.0 * joints.speed_variation(fittings.front_joint_angle(s.build, s.poses)), _needs_output),
    Quantity("pinion_speed_variation", "Speed variation, pinion joint",
             "Greatest less least speed behind the pinion joint alone, in % of the speed.", "%",
             lambda s: 100.0 * joints.speed_variation(fittings.pinion_joint_angle(s.build, s.poses)), _needs_shaft),
    Quantity("slip", "Shaft length change", "How much longer (+) the shaft is than at design height.", "mm",
             _at(fittings.slip), _needs_shaft),
    Quantity("slip_room", "Slip left", "How far the slip joint is from its nearer end; - is beyond it.", "mm",
             _at(fittings.slip_room), _needs_slip),
)  # fmt: skip

_HANGING = (
    Quantity("spring_left", "Left spring, seat to seat", "Distance between the seats of the left coil.", "mm",
             _column(fittings.spring_lengths, 0), _needs("springs")),
    Quantity("spring_right", "Right spring, seat to seat", "Distance between the seats of the right coil.", "mm",
             _column(fittings.spring_lengths, 1), _needs("springs")),
    Quantity("spring_looseness", "Coil loose by",
             "How far the looser coil is from its seat; - while it is still pressed.", "mm",
             _at(fittings.spring_looseness), _needs("springs")),
    Quantity("damper_left", "Left damper, length", "Eye to eye.", "mm",
             _column(fittings.damper_lengths, 0), _needs("dampers")),
    Quantity("damper_right", "Right damper, length", "Eye to eye.", "mm",
             _column(fittings.damper_lengths, 1), _needs("dampers")),
    Quantity("damper_room_in", "Damper stroke left, in", "Until the first damper is pushed right in; - is beyond.",
             "mm", lambda s: fittings.damper_room(s.build, s.poses)[0], _needs("dampers")),
    Quantity("damper_room_out", "Damper stroke left, out", "Until the first damper is pulled right out; - is beyond.",
             "mm", lambda s: fittings.damper_room(s.build, s.poses)[1], _needs("dampers")),
    Quantity("hose_slack", "Hose slack", "How much the tightest hose is longer than its way; - is too short.", "mm",
             lambda s: fittings.hose_slack(s.build, s.poses).min(axis=-1), _needs("hoses")),
    Quantity("bump_left", "Left bump stop gap", "Height between stop and pad; - while it is squeezed.", "mm",
             _column(fittings.bump_gaps, 0), _needs("bump_stops")),
    Quantity("bump_right", "Right bump stop gap", "Height between stop and pad; - while it is squeezed.", "mm",
             _column(fittings.bump_gaps, 1), _needs("bump_stops")),
)  # fmt: skip


def _inner(build: Build, poses: Poses) -> Array:
    return fittings.tyre_edges(build, poses)[0]


def _outer(build: Build, poses: Poses) -> Array:
    return fittings.tyre_edges(build, poses)[1]


_TYRES = (
    *(
        quantity
        for i, side in enumerate(("left", "right"))
        for quantity in (
            Quantity(f"patch_{side}_side", f"{side.capitalize()} tyre patch, sideways",
                     "Tyre patch sideways from design, seen from the body; left is +.", "mm",
                     _column(fittings.contact_patches, i, 1)),
            Quantity(f"patch_{side}_height", f"{side.capitalize()} tyre patch, height",
                     "Tyre patch above (+) its place under the body at design height.", "mm",
                     _column(fittings.contact_patches, i, 2)),
            Quantity(f"tyre_{side}_inner", f"{side.capitalize()} tyre, inner edge",
                     "Innermost edge of the tyre from the body's centre plane.", "mm", _column(_inner, i)),
            Quantity(f"tyre_{side}_outer", f"{side.capitalize()} tyre, outer edge",
                     "Outermost edge of the tyre from the body's centre plane.", "mm", _column(_outer, i)),
        )
    ),
)  # fmt: skip

QUANTITIES: tuple[Quantity, ...] = tuple(
    quantity.replace(group=group)
    for group, quantities in (
        ("Axle", _AXLE),
        ("Roll", _ROLL),
        ("Side view", _SIDE),
        ("Stance", _STANCE),
        ("Driveshaft", _SHAFT),
        ("Springs, dampers, hoses", _HANGING),
        ("Links", _LINKS),
        ("Tyres", _TYRES),
    )
    for quantity in quantities
)
"""All of them, in the order of lists."""

BY_KEY = {quantity.key: quantity for quantity in QUANTITIES}
"""The same by their keys."""
