"""The lines a measuring sheet can have, which of them are needed, what goes together, and the empty sheet they make."""

from __future__ import annotations

import csv
import io
from typing import Final

from linkviz.frozen import Frozen
from linkviz.units import Unit
from linkviz.vehicle.points import FITTING_POINTS, LINK_NAMES, POINTS

SHEET_POINTS: Final = POINTS | FITTING_POINTS
"""Every point of a sheet, keyed as in a vehicle file."""


class Quantity(Frozen):
    """Something on the sheet that is one number.

    Attributes
    ----------
    words, how : str
        What it is and how to measure it.
    length : bool
        Whether it is a length (else kg or deg, as its words say).
    """

    words: str
    how: str
    length: bool = True


QUANTITIES: Final[dict[str, Quantity]] = {
    "axle.track": Quantity("track", "centre of the left tyre to centre of the right tyre, on the ground"),
    "axle.tyre_radius": Quantity("tyre radius", "ground to the wheel centre, vehicle standing"),
    "axle.tyre_width": Quantity("tyre width", "widest part of the tyre"),
    "axle.pinion_angle_deg": Quantity("pinion angle in degrees", "nose up is plus; leave empty for 0", False),
    "driveshaft.radius": Quantity("driveshaft, radius of the tube", "half its outer diameter"),
    "driveshaft.output_angle_deg": Quantity(
        "slope in degrees of the shaft that drives the front joint", "plus when it falls towards the rear", False
    ),
    "driveshaft.slip.extend": Quantity("slip joint, how far it can still pull out", "at standing height"),
    "driveshaft.slip.compress": Quantity("slip joint, how far it can still push in", "at standing height"),
    "springs.free_length": Quantity("spring, free length", "of the loose coil, seat to seat"),
    "springs.rate": Quantity("spring rate in N/mm", "from its maker or a press", False),
    "dampers.shortest": Quantity("damper, shortest", "eye to eye, pushed right in"),
    "dampers.longest": Quantity("damper, longest", "eye to eye, pulled right out"),
    "bump_stops.free_height": Quantity("bump stop, height", "of the stop with nothing on it"),
    "mass.wheelbase": Quantity("wheelbase", "front to rear wheel centre"),
    "mass.total": Quantity("total mass in kg", "from a weighbridge, unladen", False),
    "mass.rear_axle": Quantity("mass on the rear axle in kg", "from a weighbridge, rear wheels only", False),
    "mass.cg_height": Quantity("height of the centre of gravity", "above the ground, unladen"),
}
"""Simple quantities of a sheet, keyed as in a vehicle file."""

NEEDED: Final = (
    "axle.centre",
    "axle.track",
    "axle.tyre_radius",
    "axle.tyre_width",
    *(f"links.{link}.{end}" for link in LINK_NAMES for end in ("frame", "axle")),
)
"""What every vehicle needs, keyed as in a vehicle file."""

TOGETHER: Final = (
    ("driveshaft.front_joint", "driveshaft.pinion_joint", "driveshaft.radius"),
    ("driveshaft.slip.extend", "driveshaft.slip.compress"),
    ("springs.body", "springs.axle", "springs.free_length", "springs.rate"),
    ("dampers.body", "dampers.axle", "dampers.shortest", "dampers.longest"),
    ("bump_stops.body", "bump_stops.axle", "bump_stops.free_height"),
    ("brake_valve.pivot", "brake_valve.tip", "brake_valve.axle"),
    ("mass.wheelbase", "mass.total", "mass.rear_axle", "mass.cg_height"),
)
"""What may be left out, but only whole."""

WORDS: Final = {key: point.words for key, point in SHEET_POINTS.items()} | {
    key: q.words for key, q in QUANTITIES.items()
}
"""Every line of a sheet in words, keyed as in a vehicle file."""

_FULL = ("driveshaft.", "springs.", "dampers.", "bump_stops.", "brake_valve.")
_FULL_NAMES = ("mass.total", "mass.rear_axle")


def sheet_name(key: str) -> str:
    """Return what a line is called on a sheet: the key of the file, as short as it is clear."""
    if key in POINTS or key in _FULL_NAMES or (key.startswith(_FULL) and key != "driveshaft.output_angle_deg"):
        return key.removeprefix("links.")
    return key.partition(".")[2]


def blank_measuring_sheet(units: Unit = "mm") -> str:
    """Return an empty sheet to print or fill in, with a column that says how to measure each point."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(["units", units])
    writer.writerow(["point", "x", "y", "z", "+-", "what it is and how to measure it"])
    for key, point in SHEET_POINTS.items():
        writer.writerow([sheet_name(key), "", "", "", "", f"{point.words}: {point.how}"])
    for key, quantity in QUANTITIES.items():
        writer.writerow([sheet_name(key), "", "", "", "", f"{quantity.words}, in column x: {quantity.how}"])
    return stream.getvalue()
