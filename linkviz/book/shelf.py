"""The list of the jobs in a folder: read from the heads of the files, and only of those that changed."""

from __future__ import annotations

import contextlib
import json
import math
import os
import stat
from collections.abc import Iterable, Mapping
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import Any

from linkviz.book.form import form_of_name
from linkviz.book.model import STATUSES
from linkviz.book.read import read_job, units_of
from linkviz.errors import FileRefused, LinkvizError
from linkviz.frozen import Frozen, names_of
from linkviz.letters import hidden, visible
from linkviz.units import to_mm
from linkviz.vehicle.read import quick_toml
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.text import read_bytes

HEAD_BYTES = 6000
"""How much of a file is read at first: all that the list shows stands before the vehicle's tables."""
CACHE_VERSION = 1
MOST_CACHE = 200_000_000
"""No list of what was read before is larger, bytes."""
_ENDS = ("\n[vehicle.", "\n[[vehicle.")


class Entry(Frozen, dict=True):
    """One job in the list.

    Attributes
    ----------
    name : str
        Name of the file.
    number, title, customer, contact, status, opened, notes, vehicle : str
        As the file says; `title` is the job's name, `vehicle` the vehicle's.
    lift, drop : float
        mm.
    changed : float
        When the file was written, s since the epoch.
    damage : str
        Why the file cannot be read, or "".
    """

    name: str
    number: str = ""
    title: str = ""
    customer: str = ""
    contact: str = ""
    status: str = ""
    opened: str = ""
    notes: str = ""
    vehicle: str = ""
    lift: float = 0.0
    drop: float = 0.0
    changed: float = 0.0
    damage: str = ""

    @cached_property
    def words(self) -> str:
        """Return what a search looks through."""
        said = (
            self.number, self.title, self.customer, self.contact, self.status, self.vehicle, self.notes, self.opened,
            self.name,
        )  # fmt: skip
        return "\n".join(said).casefold()


_KEPT = [name for name in names_of(Entry) if name != "name"]


def list_jobs(folder: Path, cache: Path | None = None) -> list[Entry]:
    """Return the jobs of a folder, the latest number first.

    Parameters
    ----------
    folder : pathlib.Path
        The shop's folder; folders in it are not looked into.
    cache : pathlib.Path, optional
        Folder for what was read before; a file is read again when its time or its size is another. The cache holds
        nothing that is not in the jobs: without it, or with a spoilt one, the list is the same.

    Raises
    ------
    LinkvizError
        If the folder cannot be read.
    """
    try:
        with os.scandir(folder) as found:
            there = {entry.name: _stat(entry) for entry in found if _is_job(entry.name)}
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise LinkvizError(
            f"{visible(str(folder))} cannot be read ({reason}). Choose the folder the jobs are in."
        ) from error
    stats = {name: state for name, state in there.items() if state is not None}
    file = cache / f"{sha256(os.fsencode(os.path.realpath(folder))).hexdigest()[:16]}.json" if cache else None
    known = _cached(file)
    entries: list[Entry] = []
    fresh = False
    for name, state in stats.items():
        row = known.get(name)
        stamp = [state.st_mtime_ns, state.st_size]
        entry = _from_row(name, row, stamp)
        if entry is None:
            entry, fresh = scan(folder / name, state.st_mtime), True
        entries.append(entry)
    if file is not None and (fresh or len(known) != len(stats)):
        rows = {
            e.name: [stats[e.name].st_mtime_ns, stats[e.name].st_size, *(getattr(e, key) for key in _KEPT)]
            for e in entries
        }
        _keep(file, rows)
    return sorted(entries, key=_order, reverse=True)


def scan(path: Path, changed: float = 0.0) -> Entry:
    """Return the entry of one file; a damaged one says what is wrong."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise OSError("a pipe would be waited for")
        with path.open("rb") as stream:
            start = stream.read(HEAD_BYTES)
        return _entry(path.name, _head(start), changed)
    except (ValueError, KeyError, TypeError, AttributeError, OSError, ArithmeticError, RecursionError):
        pass
    try:
        whole = read_job(path)
    except FileRefused as refused:
        problem = refused.problems[0]
        where, found, _ = problem.cells
        return Entry(path.name, changed=changed, damage=f"{where}: found {found}")
    job = whole.job
    return Entry(
        path.name, job.number, job.name, job.customer, job.contact, job.status, job.opened, job.notes,
        whole.vehicle.name, whole.setup.lift, whole.setup.drop, changed,
    )  # fmt: skip


def search(entries: Iterable[Entry], text: str = "", status: str = "") -> list[Entry]:
    """Return the entries that hold every word of a text, in any case, and have a status if one is given."""
    words = text.casefold().split()
    return [
        entry
        for entry in entries
        if (not status or entry.status == status) and all(word in entry.words for word in words)
    ]


def statuses(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Return the words for how far a job is: the usual ones, then those the shop uses besides."""
    used = {entry.status for entry in entries if entry.status}
    return (*STATUSES, *sorted(used - set(STATUSES)))


def next_number(entries: Iterable[Entry], year: int) -> str:
    """Return the number after the highest of a year, such as ``2026-015``."""
    start = f"{year}-"
    tails = [e.number.removeprefix(start) for e in entries if e.number.startswith(start)]
    highest = max((int(tail) for tail in tails if tail.isascii() and tail.isdigit() and len(tail) <= 6), default=0)
    return f"{start}{highest + 1:03d}"


def vehicles(folder: Path) -> tuple[Path, ...]:
    """Return the vehicle files of the shop: those in the folder and in folders one below it."""
    found = [*folder.glob("*.*"), *folder.glob("*/*.*")]
    return tuple(sorted(path for path in found if form_of_name(path) == "vehicle" and os.path.isfile(path)))


def _stat(entry: os.DirEntry[str]) -> os.stat_result | None:
    """Return the state of a file; of a link that leads nowhere, its own; None if somebody took it away just now."""
    try:
        return entry.stat()
    except OSError:
        with contextlib.suppress(FileNotFoundError):
            return entry.stat(follow_symlinks=False)
    return None


def _is_job(name: str) -> bool:
    return form_of_name(name) == "job" and not name.startswith(".")


def _order(entry: Entry) -> tuple[str, float]:
    return (entry.number, entry.changed)


def _head(start: bytes) -> dict[str, Any]:
    """Return the tables that stand before the vehicle's own; raises ValueError where they do not end in it."""
    text = start.decode("utf-8-sig", errors="ignore").replace("\r\n", "\n")
    ends = [at for mark in _ENDS if (at := text.find(mark)) >= 0]
    if not ends:
        raise ValueError("the head does not end here")
    data = quick_toml(text[: min(ends)])
    if data["format"] != "linkviz-job/1":
        raise ValueError("another format")
    return data


def _entry(name: str, data: Mapping[str, Any], changed: float) -> Entry:
    said = {key: data.get(key, "") for key in ("number", "customer", "contact", "status", "opened", "notes")}
    said |= {"title": data.get("name", ""), "vehicle": data["vehicle"]["name"]}
    if not all(isinstance(value, str) for value in said.values()):
        raise ValueError("not text")
    if any(hidden(value, allowed="\n\r\t" if key == "notes" else "") for key, value in said.items()):
        raise ValueError("letters that are not shown")
    said["status"] = said["status"] or STATUSES[0]
    units = units_of(dict(data))
    setup = data.get("setup", {})
    lift, drop = (to_mm(float(setup.get(key, 0.0)), units) for key in ("lift", "drop"))
    if not (math.isfinite(lift) and math.isfinite(drop)):
        raise ValueError("no lengths")
    return Entry(name=name, lift=lift, drop=drop, changed=changed, **said)


def _cached(file: Path | None) -> dict[str, Any]:
    if file is None:
        return {}
    try:
        data = json.loads(read_bytes(file, "a list of jobs", MOST_CACHE))
        return data["jobs"] if data["version"] == CACHE_VERSION and isinstance(data["jobs"], dict) else {}
    except (LinkvizError, ValueError, TypeError, KeyError, RecursionError):
        return {}


def _from_row(name: str, row: Any, stamp: list[int]) -> Entry | None:
    if not isinstance(row, list) or row[:2] != stamp or len(row) != 2 + len(_KEPT):
        return None
    values = row[2:]
    for key, value in zip(_KEPT, values, strict=True):
        if not isinstance(value, (int, float) if key in ("lift", "drop", "changed") else str):
            return None
    return Entry(name, *values)


def _keep(file: Path, rows: dict[str, Any]) -> None:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        save_text(file, json.dumps({"version": CACHE_VERSION, "jobs": rows}))
    except (OSError, LinkvizError):
        return
