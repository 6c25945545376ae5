"""Old forms of a job, brought to the present one step at a time.

Each step takes the tables of one format and returns those of a later one; steps are taken until the format is the
present one. A sample of every old form is kept in ``tests/book/old``. To change the format: raise `FORMAT`, add the
step from the one before, keep a sample of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from linkviz.analysis.setup import Setup
from linkviz.book.model import FORMAT
from linkviz.frozen import names_of
from linkviz.vehicle.read import FORMAT as VEHICLE_FORMAT

Data = dict[str, Any]


def from_vehicle(data: Data) -> Data:
    """Make a job of the tables of a vehicle file: as built, nothing known of the customer."""
    return {"format": "linkviz-job/1", "units": data.get("units", "mm"), "vehicle": data}


def from_note(vehicle: Data, note: Mapping[str, Any]) -> Data:
    """Make a job of a vehicle and the note that lay beside it where unsaved work was kept before there were jobs.

    Parameters
    ----------
    vehicle : dict
        Tables of the vehicle file.
    note : mapping
        Its ``setup`` gives lift and parts, mm; what is not a number of a setup is left out.
    """
    data = from_vehicle(vehicle)
    setup = note.get("setup")
    if isinstance(setup, dict):
        data["units"] = "mm"
        known = names_of(Setup)
        data["setup"] = {name: setup[name] for name in known if isinstance(setup.get(name), int | float)}
    return data


MIGRATIONS: Final[dict[str, Callable[[Data], Data]]] = {VEHICLE_FORMAT: from_vehicle}
"""Step from each old format, by its name."""


def migrated(data: Data) -> Data:
    """Return tables in the present format; those of an unknown format as they are."""
    seen = set()
    while (found := data.get("format")) != FORMAT and isinstance(found, str) and found in MIGRATIONS:
        if found in seen:
            break
        seen.add(found)
        data = MIGRATIONS[found](data)
    return data
