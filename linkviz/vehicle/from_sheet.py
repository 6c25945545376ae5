"""The vehicle that a measuring sheet makes."""

from __future__ import annotations

from dataclasses import replace
from os import PathLike, fspath
from typing import Any

from linkviz.errors import FileRefused
from linkviz.vehicle.model import Axle, Link, Links, Measuring, Vehicle
from linkviz.vehicle.points import LINK_NAMES
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.sheet import MeasuringSheet, read_measuring_sheet
from linkviz.vehicle.sheet_lines import WORDS


def vehicle_from_sheet(path: str | PathLike[str], name: str, mirror: bool = False) -> Vehicle:
    """Make a vehicle of a measuring sheet.

    Parameters
    ----------
    path : path
        The sheet.
    name : str
        Name of the vehicle.
    mirror : bool
        Whether a link measured on one side only is taken for the other side too, mirrored.

    Returns
    -------
    Vehicle
        In engine units; it declares the unit of the sheet.

    Raises
    ------
    FileRefused
        If anything is missing, doubled, unknown or makes no sense; all of it is told.
    """
    sheet = read_measuring_sheet(path)
    problems = [*sheet.problems, *sheet.missing(mirror)]
    if problems:
        raise FileRefused(fspath(path), problems)
    vehicle = _vehicle(sheet.mirrored() if mirror else sheet, name)
    if problems := problems_of(vehicle):
        raise FileRefused(fspath(path), [replace(p, where=WORDS.get(p.where, p.where)) for p in problems])
    return vehicle


def _vehicle(sheet: MeasuringSheet, name: str) -> Vehicle:
    points, numbers = sheet.points, sheet.quantities
    given = points | numbers

    def group(table: str) -> dict[str, Any]:
        start = f"{table}."
        inner = {key.removeprefix(start): v for key, v in given.items() if key.startswith(start)}
        return {key: v for key, v in inner.items() if "." not in key}

    links = {link: Link(frame=points[f"links.{link}.frame"], axle=points[f"links.{link}.axle"]) for link in LINK_NAMES}
    more: dict[str, object] = {table: group(table) for table in ("springs", "dampers", "bump_stops", "mass")}
    if "driveshaft.radius" in numbers:
        slip = group("driveshaft.slip")
        more["driveshaft"] = group("driveshaft") | ({"slip": slip} if slip else {})
    usual = Measuring()
    off = tuple((key, u) for key, u in sheet.uncertainty.items() if u != usual.u)
    parts: dict[str, Any] = {table: part for table, part in more.items() if part}
    return Vehicle(
        name=name,
        units=sheet.units,
        axle=Axle(**group("axle")),
        links=Links(**links),
        measuring=Measuring(points=off),
        **parts,
    )
