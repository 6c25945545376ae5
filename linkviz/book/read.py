"""Read a job file: as strictly as a vehicle file, with everything that is wrong told at once."""

from __future__ import annotations

from os import PathLike, fspath
from pathlib import Path
from typing import Any

from linkviz.book.migrate import migrated
from linkviz.book.model import FORMAT, Job, SetupTable, Whole
from linkviz.book.problems import job_problems, setup_problems
from linkviz.errors import FileRefused, Problem
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import toml_data, vehicle_from_data
from linkviz.vehicle.take import BAD, Taker, shown
from linkviz.vehicle.text import MOST_WRITTEN, decode_utf8, read_bytes
from linkviz.vehicle.wording import Words

EXPECTED = "a job file (*.job.toml)"
EITHER = "a vehicle file (*.vehicle.toml) or a job file (*.job.toml)"


def read_job(path: str | PathLike[str]) -> Whole:
    """Read a job file, or a vehicle file as a job that has just begun.

    Parameters
    ----------
    path : path
        A ``*.job.toml`` file of this format or an older one, or a ``*.vehicle.toml`` file.

    Returns
    -------
    Whole
        The job, its setup and its vehicle in engine units.

    Raises
    ------
    FileRefused
        If anything at all is wrong with it; every problem is told.
    """
    where = fspath(path)
    return parse_job(decode_utf8(read_bytes(Path(path), EXPECTED, MOST_WRITTEN), where, EXPECTED), where)


def read_either(path: str | PathLike[str]) -> Whole | Vehicle:
    """Read a job file as a job, or a vehicle file as a vehicle, whatever the file says it is.

    Raises
    ------
    FileRefused
        If anything at all is wrong with it; every problem is told.
    """
    where = fspath(path)
    data = toml_data(decode_utf8(read_bytes(Path(path), EITHER, MOST_WRITTEN), where, EITHER), where, EITHER)
    found = data.get("format")
    if isinstance(found, str) and found.startswith("linkviz-job/"):
        return job_from_data(data, where)
    return vehicle_from_data(data, where)


def parse_job(text: str, where: str = "job") -> Whole:
    """Read a job from the text of a job file.

    Raises
    ------
    FileRefused
        As `read_job`.
    """
    return job_from_data(toml_data(text, where, EXPECTED), where)


def job_from_data(data: dict[str, Any], where: str = "job") -> Whole:
    """Take a job from the tables of a job file.

    Raises
    ------
    FileRefused
        As `read_job`.
    """
    data = migrated(data)
    if data.get("format") != FORMAT:
        raise FileRefused(where, [_foreign(data)])
    rest = {key: value for key, value in data.items() if key not in ("setup", "vehicle")}
    job, problems = take_job(rest)
    setup, more = take_setup(data.get("setup", {}), units_of(data))
    problems += more
    vehicle, more = take_vehicle(data["vehicle"]) if "vehicle" in data else (None, [_no_vehicle()])
    problems += more
    if problems or job is None or setup is None or vehicle is None:
        raise FileRefused(where, problems)
    return Whole(job, setup.setup(), vehicle)


def units_of(data: dict[str, Any]) -> Unit:
    """Return the unit of the lengths of a job file outside the vehicle."""
    return "in" if data.get("units") == "in" else "mm"


def take_job(data: dict[str, Any]) -> tuple[Job | None, list[Problem]]:
    """Take the tables of a job without setup and vehicle; None and why if anything is wrong."""
    taker = Taker(units_of(data))
    job = taker.table(Job, data, "")
    problems = list(taker.problems)
    if isinstance(job, Job):
        problems += job_problems(job)
    return (None if problems or job is BAD else job), problems


def take_setup(data: Any, units: Unit) -> tuple[SetupTable | None, list[Problem]]:
    """Take the table of a setup; None and why if anything is wrong."""
    taker = Taker(units)
    setup = taker.table(SetupTable, data, "setup")
    problems = list(taker.problems)
    if isinstance(setup, SetupTable):
        problems += setup_problems(setup, Words(units))
    return (None if problems or setup is BAD else setup), problems


def take_vehicle(data: Any) -> tuple[Vehicle | None, list[Problem]]:
    """Take the embedded vehicle; None and why if anything is wrong, each place under ``vehicle.``."""
    if not isinstance(data, dict):
        return None, [Problem("vehicle", shown(data), "a table [vehicle]")]
    try:
        return vehicle_from_data(data), []
    except FileRefused as refused:
        return None, [Problem(f"vehicle.{p.where}", p.found, p.expected) for p in refused.problems]


def _no_vehicle() -> Problem:
    return Problem("vehicle", "nothing", "a table [vehicle] with the whole vehicle")


def _foreign(data: dict[str, Any]) -> Problem:
    found = data.get("format")
    if found is None:
        return Problem("format", "nothing", f'format = "{FORMAT}" as the first line; this is not {EXPECTED}')
    if isinstance(found, str) and found.startswith("linkviz-job/"):
        return Problem("format", f'"{found}", another version', f'"{FORMAT}"; a newer program may read it')
    return Problem("format", shown(found), f'"{FORMAT}"; is this another kind of file?')
