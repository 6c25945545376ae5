"""The parts that belong to a lift, from the shop's own stock; loaded when it is first asked for."""

from __future__ import annotations

import contextlib
from pathlib import Path

from linkviz.errors import LinkvizError
from linkviz.job.catalogue import Catalogue, read_catalogue
from linkviz.job.fitting_parts import Fitting, fitting_parts
from linkviz.resources import demo_catalogue_path
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle

INVENTED = "(invented)"
"""Stands in the names of demo vehicles."""


def fitting_from(folder: Path, vehicle: Vehicle, lift: float, unit: Unit) -> Fitting:
    """Return the parts that belong to a lift (mm), of the stock in a folder if one fits."""
    return fitting_parts(vehicle, lift, stock(folder, vehicle), unit)


def stock(folder: Path, vehicle: Vehicle) -> Catalogue | None:
    """Return the shop's stock: the parts files of its folder; the invented one for an invented vehicle without them.

    A file that cannot be read is passed over here: `linkviz bracket --parts` says what is wrong with it.
    """
    found = []
    for path in sorted(folder.glob("*.parts.toml")):
        with contextlib.suppress(LinkvizError):
            found.append(read_catalogue(path))
    if not found and INVENTED in vehicle.name:
        found.append(read_catalogue(demo_catalogue_path()))
    if not found:
        return None
    return found[0].model_copy(update={"brackets": tuple(part for each in found for part in each.brackets)})
