"""Write a vehicle file: only what has changed, so that comments, order and layout of the old text survive.

tomlkit is imported when it is needed, not when the program starts.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from os import PathLike
from pathlib import Path
from typing import Any

from linkviz.units import Unit
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.read import EXPECTED, FORMAT
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.tables import merge, new_table, plain_table, rewritten, same, text_there
from linkviz.vehicle.take import BAD, Taker


def write_vehicle(vehicle: Vehicle, path: str | PathLike[str]) -> str:
    """Save a vehicle, atomically; an old file at the path keeps its comments, order and layout.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle.
    path : path
        Where to. The lengths are written in ``vehicle.units``.

    Returns
    -------
    str
        The text of the file as it is now.

    Raises
    ------
    LinkvizError
        If it cannot be saved; the old file is whole then.
    """
    text = dump_vehicle(vehicle, text_there(Path(path), EXPECTED))
    save_text(path, text)
    return text


def dump_vehicle(vehicle: Vehicle, old_text: str | None = None) -> str:
    """Return the text of a vehicle file.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle.
    old_text : str, optional
        Text to change no more than necessary; ignored if it is not a vehicle file.

    Returns
    -------
    str
        TOML in the unit the vehicle declares; reading it gives the vehicle again to 1e-9 mm.
    """
    return rewritten(
        old_text,
        FORMAT,
        lambda document, new: merge(document, vehicle, vehicle.units, whole=new),
        lambda text: _says(text, vehicle),
    )


def data_of(vehicle: Vehicle) -> dict[str, Any]:
    """Return the tables of a vehicle file as plain data, lengths in the declared unit, defaults included.

    A job file embeds this; `linkviz.vehicle.read.vehicle_from_data` takes it back.
    """
    return plain_table(vehicle, vehicle.units)


def envelope_tables(envelopes: Sequence[Envelope], units: Unit) -> Any:
    """Return envelopes as the array of tables of a vehicle file, lengths in a unit."""
    import tomlkit

    array = tomlkit.aot()
    for envelope in envelopes:
        table = new_table()
        merge(table, envelope, units, whole=True)
        array.append(table)
    return array


def _says(text: str, vehicle: Vehicle) -> bool:
    """Return whether a text, read back, is the vehicle."""
    try:
        taken = Taker(vehicle.units).table(Vehicle, tomllib.loads(text), "")
    except ValueError:
        return False
    return taken is not BAD and same(taken, vehicle)
