"""Take what is left of a damaged job, and say what is lost. Nothing is guessed: what cannot be read is left out."""

from __future__ import annotations

import re
from os import PathLike
from pathlib import Path
from typing import Any, get_args

from linkviz.analysis.setup import Setup
from linkviz.book.migrate import migrated
from linkviz.book.model import FORMAT, NO_JOB, Job, SetupTable, Whole
from linkviz.book.read import EXPECTED, read_job, take_job, take_setup, take_vehicle, units_of
from linkviz.errors import MOST_LETTERS, MOST_PROBLEMS, FileRefused, Problem
from linkviz.frozen import Frozen
from linkviz.letters import cut, visible
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import Part, bare_kind, is_length, kinds_of, names_of
from linkviz.vehicle.read import quick_toml
from linkviz.vehicle.text import MOST_WRITTEN, read_bytes

_HEADER = re.compile(r"^\s*\[")
_ENTRY = re.compile(r"^(vehicle\.\w+\[\d+\]).*", re.DOTALL)
_ROUNDS = 10
"""How often a vehicle is looked at again without its damaged parts."""
_PAIR = re.compile(r"^\s*[A-Za-z0-9_\-\"'.]+\s*=")


class Recovered(Frozen):
    """What could be read of a job.

    Attributes
    ----------
    job : Job
        All that could be read beside setup and vehicle; what could not is as in a new job.
    setup : Setup
        Lift and parts, mm; none where they could not be read.
    vehicle : Vehicle or None
        None if what makes it a vehicle (axle, links) could not be read whole.
    losses : tuple of str
        What is damaged and was left out, one sentence each; empty if nothing is wrong.
    """

    job: Job
    setup: Setup
    vehicle: Vehicle | None
    losses: tuple[str, ...]

    @property
    def whole(self) -> Whole | None:
        """Return the job, or None without its vehicle."""
        return None if self.vehicle is None else Whole(self.job, self.setup, self.vehicle)


def recover(path: str | PathLike[str]) -> Recovered:
    """Read what can be read of a job file.

    Parameters
    ----------
    path : path
        A file that `linkviz.book.read.read_job` refuses. It is not touched.

    Raises
    ------
    FileRefused
        If it cannot be opened at all, or holds nothing of a job.
    """
    try:
        whole = read_job(path)
    except FileRefused:
        pass
    else:
        return Recovered(whole.job, whole.setup, whole.vehicle, ())
    losses: list[str] = []
    raw = read_bytes(Path(path), EXPECTED, MOST_WRITTEN)
    text = raw.decode("utf-8-sig", errors="replace").replace("\x00", "\ufffd")
    if "\ufffd" in text:
        losses.append("Some characters are not text any more and were replaced.")
    data = migrated(_salvaged(text.replace("\r\n", "\n"), losses))
    if not data.keys() & set(names_of(Job)) and not isinstance(data.get("vehicle"), dict):
        raise FileRefused(str(path), [Problem("file", "nothing that belongs to a job", EXPECTED)])
    if data.get("units", "lost" if losses else "mm") not in ("mm", "in"):
        data = _without_lengths(data, losses)
    units = units_of(data)
    job = _job({key: value for key, value in data.items() if key not in ("setup", "vehicle")}, losses)
    setup = _setup(data.get("setup", {}), units, losses)
    vehicle = _vehicle(data.get("vehicle"), losses)
    return Recovered(job, setup, vehicle, _few(losses))


def _few(losses: list[str]) -> tuple[str, ...]:
    """Return losses for a screen: each once, cut short, no more than anybody reads."""
    told = [cut(visible(loss), MOST_LETTERS) for loss in dict.fromkeys(losses[: 2 * MOST_PROBLEMS])][:MOST_PROBLEMS]
    return (*told, f"And {len(losses) - len(told)} more.") if len(losses) > 2 * MOST_PROBLEMS else tuple(told)


def _salvaged(text: str, losses: list[str]) -> dict[str, Any]:
    """Return the tables that can be read: all at once, or else block by block and line by line."""
    try:
        return quick_toml(text)
    except (ValueError, RecursionError):
        pass
    data: dict[str, Any] = {}
    for first, block in _blocks(text):
        for number, piece in _readable(first, block, losses):
            try:
                _put(data, quick_toml(piece))
            except (ValueError, RecursionError, TypeError, AttributeError):
                losses.append(f"Line {number} and what belongs to it could not be read.")
    return data


def _blocks(text: str) -> list[tuple[int, list[str]]]:
    """Return the text cut at the headings of its tables, each block with the number of its first line."""
    blocks: list[tuple[int, list[str]]] = [(1, [])]
    for number, line in enumerate(text.split("\n"), 1):
        if _HEADER.match(line) and not line.rstrip().endswith(","):
            blocks.append((number, []))
        blocks[-1][1].append(line)
    return blocks


def _readable(first: int, block: list[str], losses: list[str]) -> list[tuple[int, str]]:
    """Return the block if it can be read, else its heading with each value that can."""
    whole = "\n".join(block)
    try:
        quick_toml(whole)
    except (ValueError, RecursionError):
        pass
    else:
        return [(first, whole)]
    head = block[0] if _HEADER.match(block[0]) else ""
    if head:
        try:
            quick_toml(head)
        except (ValueError, RecursionError):
            losses.append(f"Line {first}, the heading {head.strip()[:40]}, could not be read, nor what belongs to it.")
            return []
    kept = [head] if head else []
    said: dict[str, Any] = {}
    values: list[tuple[int, list[str]]] = []
    for number, line in enumerate(block[1:] if head else block, first + bool(head)):
        if _PAIR.match(line) or not values:
            values.append((number, []))
        values[-1][1].append(line)
    for number, lines in values:
        piece = "\n".join(lines)
        try:
            _add(said, quick_toml(piece))
        except (ValueError, RecursionError):
            losses.append(f"Line {number} could not be read: {piece.strip()[:60]}")
            continue
        kept.append(piece)
    return [(first, "\n".join(kept))]


def _add(into: dict[str, Any], more: dict[str, Any]) -> None:
    """Add values to those of the same table; raises ValueError where one stands for a second time."""
    for key, value in more.items():
        if key not in into:
            into[key] = value
        elif isinstance(value, dict) and isinstance(into[key], dict):
            _add(into[key], value)
        else:
            raise ValueError("for a second time")


def _put(into: dict[str, Any], more: dict[str, Any]) -> None:
    """Add tables to tables; arrays of tables grow, other values take the place of earlier ones."""
    for key, value in more.items():
        there = into.get(key)
        if isinstance(value, dict) and isinstance(there, dict):
            _put(there, value)
        elif isinstance(value, list) and isinstance(there, list) and value and isinstance(value[0], dict):
            there += value
        else:
            into[key] = value


def _without_lengths(data: dict[str, Any], losses: list[str]) -> dict[str, Any]:
    """Return the tables without those that hold lengths, whose unit is not known any more; the vehicle says its own."""
    kinds = kinds_of(Job) | {"setup": SetupTable}
    gone = [key for key in data if key in kinds and _holds_lengths(kinds[key])]
    if gone:
        losses.append(
            f"units: whether lengths are in mm or inches could not be read, so that {', '.join(gone)} had to be left "
            "out. Type them again."
        )
    return {key: value for key, value in data.items() if key not in gone}


def _holds_lengths(kind: Any) -> bool:
    """Return whether there is a length in values of a type."""
    bare = bare_kind(kind)
    if isinstance(bare, type) and issubclass(bare, Part):
        return any(map(_holds_lengths, kinds_of(bare).values()))
    return is_length(kind) or any(map(_holds_lengths, get_args(bare)))


def _job(data: dict[str, Any], losses: list[str]) -> Job:
    if data.get("format") != FORMAT:
        losses.append(f'format: the file does not say "{FORMAT}"; it was read as if it did.')
    data = {**data, "format": FORMAT}
    for _ in range(len(data) + 1):
        job, problems = take_job(data)
        if job is not None:
            return job
        spoilt = {re.split(r"[.\[]", problem.where)[0] for problem in problems} & data.keys()
        if not spoilt:
            break
        losses += [f"{problem}." for problem in problems]
        data = {key: value for key, value in data.items() if key not in spoilt}
    return NO_JOB


def _setup(data: Any, units: Any, losses: list[str]) -> Setup:
    if not isinstance(data, dict):
        losses.append("setup: lift and parts could not be read; the vehicle is shown as built.")
        return Setup()
    kept = {}
    for key, value in data.items():
        table, problems = take_setup({key: value}, units)
        if isinstance(table, SetupTable):
            kept[key] = value
        losses += [f"{problem}." for problem in problems]
    table, _ = take_setup(kept, units)
    return table.setup() if table is not None else Setup()


def _vehicle(data: Any, losses: list[str]) -> Vehicle | None:
    if not isinstance(data, dict):
        losses.append("vehicle: nothing of the vehicle could be read. Take one from the shop's files.")
        return None
    data = {"format": "linkviz-vehicle/1", "name": "Vehicle of a damaged job", **data}
    for _ in range(_ROUNDS):
        vehicle, problems = take_vehicle(data)
        if vehicle is not None:
            return vehicle
        # of each damaged part the first problem; the last parts first, so that the places of the others stay
        first = {_ENTRY.sub(r"\1", p.where): p for p in reversed(problems)}
        dropped = [p for p in first.values() if _drop(data, p.where.removeprefix("vehicle."))]
        if not dropped:
            losses += [f"{problem}." for problem in problems]
            break
        losses += [f"{problem}." for problem in reversed(dropped)]
    losses.append("vehicle: axle and links could not be read whole. Take the vehicle from the shop's files.")
    return None


def _drop(data: dict[str, Any], where: str) -> bool:
    """Take the damaged part of a vehicle out if a vehicle can be one without it; return whether it was there."""
    first = re.split(r"[.\[]", where)[0]
    if first in ("axle", "links", "name", "units", "format") or first not in data:
        if first == "name" and "name" in data:
            del data["name"]
            data["name"] = "Vehicle of a damaged job"
            return True
        stiff = re.fullmatch(r"links\.(\w+)\.(\w+)", where)
        link = data.get("links", {}).get(stiff[1]) if stiff else None
        if stiff and isinstance(link, dict) and stiff[2] in link and stiff[2] not in ("frame", "axle"):
            del link[stiff[2]]
            return True
        if where.startswith("axle.") and isinstance(data.get("axle"), dict):
            key = where.removeprefix("axle.")
            known = ("centre", "track", "tyre_radius", "tyre_width")
            if key in data["axle"] and key not in known:
                del data["axle"][key]
                return True
        return False
    entry = re.match(r"(\w+)\[(\d+)\]", where)
    if entry and isinstance(data[first], list) and int(entry[2]) < len(data[first]):
        data[first] = [item for i, item in enumerate(data[first]) if i != int(entry[2])]
        return True
    del data[first]
    return True
