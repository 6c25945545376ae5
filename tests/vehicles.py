"""Whole vehicles for tests: random plausible ones with every optional table, none of them symmetric. All invented."""

from __future__ import annotations

import numpy as np
from hypothesis import strategies as st

from linkviz.linkage.layout import LINKS
from linkviz.vehicle.model import Vehicle
from tests.layouts import random_layout

SHOWN = st.characters(exclude_categories=("Cs", "Cc", "Cf", "Zl", "Zp"))
"""Letters that a text of a file may have."""


def _point(values: np.ndarray) -> tuple[float, ...]:
    return tuple(float(v) for v in values)


def random_vehicle(random: np.random.Generator, bare: float = 0.0) -> Vehicle:
    """Return a plausible vehicle; each optional table is left out with the chance `bare`."""
    layout = random_layout(random)
    height = float(layout.centre[2])
    u = random.uniform

    def near(x: float, y: float, z: float, by: float = 15.0) -> tuple[float, ...]:
        return _point(np.array([x, y, height + z]) + u(-by, by, 3))

    links = {
        name: {"frame": _point(f), "axle": _point(a + layout.centre), "stiffness": float(k)}
        for name, f, a, k in zip(LINKS, layout.frame, layout.axle, layout.stiffness, strict=True)
    }
    jounce, rebound = u(40.0, 120.0), u(40.0, 120.0)
    data: dict[str, object] = {
        "name": "Random",
        "axle": {
            "centre": _point(layout.centre),
            "track": u(1350.0, 1750.0),
            "tyre_radius": height,
            "tyre_width": u(180.0, 320.0),
            "pinion_angle_deg": u(-2.0, 8.0),
        },
        "links": links,
        "travel": {"jounce": jounce, "rebound": rebound},
    }
    shaft: dict[str, object] = {
        "front_joint": near(u(700.0, 1500.0), 0.0, 150.0),
        "pinion_joint": near(240.0, 0.0, 15.0),
        "radius": u(25.0, 50.0),
    }
    more: dict[str, object] = {}
    if random.random() >= bare:
        shaft["output_angle_deg"] = u(-2.0, 8.0)
    if random.random() >= bare:
        shaft["slip"] = {"extend": u(5.0, 60.0), "compress": u(5.0, 60.0)}
    more["driveshaft"] = shaft
    across, along = u(80.0, 150.0), u(300.0, 500.0)
    low, high = height - 140.0, height + 170.0
    more["envelopes"] = (
        {
            "name": "tank",
            "rear": [(across, low), (across + 180.0, low), (across + 180.0, high), (across, high)],
            "side": [(along, low), (along + 400.0, low), (along + 400.0, high), (along, high)],
        },
    )
    more["springs"] = {
        "body": near(0.0, 430.0, 240.0),
        "axle": near(0.0, 440.0, 15.0),
        "free_length": u(300.0, 420.0),
        "rate": u(15.0, 50.0),
    }
    more["dampers"] = {
        "body": near(-100.0, 370.0, 350.0),
        "axle": near(-130.0, 470.0, -40.0),
        "shortest": u(250.0, 340.0),
        "longest": u(480.0, 600.0),
    }
    more["hoses"] = ({"name": "hose", "body": near(200.0, 60.0, 200.0), "axle": near(20.0, 80.0, 100.0),
                      "length": u(300.0, 450.0)},)  # fmt: skip
    more["bump_stops"] = {
        "body": near(40.0, 390.0, 240.0),
        "axle": near(40.0, 400.0, 70.0),
        "free_height": u(30.0, 90.0),
    }
    inside = u(40.0, 60.0)
    more["frame_bracket"] = {
        "inside_width": inside,
        "thickness": u(4.0, 7.0),
        "lip": u(46.0, 65.0),
        "width": u(70.0, 100.0),
        "bolt": "M12",
        "steel": "S275",
    }
    more["bar_end"] = {"eye_width": inside - u(0.0, 1.0), "eye_diameter": u(34.0, 48.0), "bolt": "M12"}
    total = u(1500.0, 2800.0)
    more["mass"] = {
        "wheelbase": u(2300.0, 3400.0),
        "total": total,
        "rear_axle": total * u(0.38, 0.55),
        "cg_height": u(550.0, 900.0),
    }
    data |= {key: value for key, value in more.items() if random.random() >= bare}
    return Vehicle(**data)


def mirrored_vehicle(vehicle: Vehicle) -> Vehicle:
    """Return the mirror image of a vehicle: left and right exchanged.

    Springs, dampers and bump stops stay as they are, being measured on the left and mirrored anyway.
    """

    def flip(point: tuple[float, ...]) -> tuple[float, ...]:
        return (point[0], -point[1], point[2])

    def link(name: str) -> object:
        part = getattr(vehicle.links, name)
        return part.replace(frame=flip(part.frame), axle=flip(part.axle))

    swap = {"lower_left": "lower_right", "upper_left": "upper_right", "lateral_bar": "lateral_bar"}
    swap |= {right: left for left, right in swap.items()}
    shaft = vehicle.driveshaft
    if shaft is not None:
        shaft = shaft.replace(front_joint=flip(shaft.front_joint), pinion_joint=flip(shaft.pinion_joint))
    return vehicle.replace(
        axle=vehicle.axle.replace(centre=flip(vehicle.axle.centre)),
        links=vehicle.links.replace(**{name: link(swap[name]) for name in swap}),
        driveshaft=shaft,
        envelopes=tuple(e.replace(rear=tuple((-y, z) for y, z in e.rear)) for e in vehicle.envelopes),
        hoses=tuple(h.replace(body=flip(h.body), axle=flip(h.axle)) for h in vehicle.hoses),
    )
