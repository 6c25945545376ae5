"""Write a job file: only what has changed, so that comments, order and layout of the old text survive."""

from __future__ import annotations

import json
import tomllib
from os import PathLike
from pathlib import Path
from typing import Any

from linkviz.book.model import FORMAT, SetupTable, Whole
from linkviz.book.read import EXPECTED, job_from_data
from linkviz.errors import FileRefused
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.tables import merge, plain_table, rewritten, same, text_there


def write_job(whole: Whole, path: str | PathLike[str]) -> str:
    """Save a job, atomically, and return the text of the file; an old one keeps its comments, order and layout.

    Raises
    ------
    LinkvizError
        If it cannot be saved; the old file is whole then.
    """
    text = dump_job(whole, text_there(Path(path), EXPECTED))
    save_text(path, text)
    return text


def dump_job(whole: Whole, old_text: str | None = None) -> str:
    """Return the text of a job file.

    Parameters
    ----------
    whole : Whole
        The job.
    old_text : str, optional
        Text to change no more than necessary; ignored if it is not a job file of the present format.

    Returns
    -------
    str
        TOML; reading it gives the job again, lengths to 1e-9 mm.
    """
    return rewritten(
        old_text, FORMAT, lambda document, new: _merge(document, whole, new), lambda text: _says(text, whole)
    )


def quick_text(whole: Whole) -> str:
    """Return the text of a job file made in a millisecond: no comments, no layout; for copies nobody edits."""
    data = plain_table(whole.job, whole.job.units)
    data["setup"] = plain_table(SetupTable.of(whole.setup), whole.job.units)
    data["vehicle"] = plain_table(whole.vehicle, whole.vehicle.units)
    lines: list[str] = []
    _emit(data, "", lines)
    return "\n".join(lines) + "\n"


def _merge(document: Any, whole: Whole, new: bool) -> None:
    import tomlkit

    merge(document, whole.job, whole.job.units, whole=new)
    for key, part, units in (
        ("setup", SetupTable.of(whole.setup), whole.job.units),
        ("vehicle", whole.vehicle, whole.vehicle.units),
    ):
        if key not in document:
            document[key] = tomlkit.table()
        merge(document[key], part, units, whole=new)


def _says(text: str, whole: Whole) -> bool:
    """Return whether a text, read back, is the job."""
    try:
        read = job_from_data(tomllib.loads(text))
    except (ValueError, FileRefused):
        return False
    return (
        same(read.job, whole.job)
        and same(SetupTable.of(read.setup), SetupTable.of(whole.setup))
        and same(read.vehicle, whole.vehicle)
    )


def _emit(data: dict[str, Any], path: str, lines: list[str]) -> None:
    """Add a table to lines of TOML: its values, then the tables in it."""
    inner = [(key, value) for key, value in data.items() if _tables(value)]
    lines += [f"{_key(key)} = {_value(value)}" for key, value in data.items() if not _tables(value)]
    for key, value in inner:
        name = f"{path}.{_key(key)}" if path else _key(key)
        if isinstance(value, dict):
            lines += ["", f"[{name}]"]
            _emit(value, name, lines)
            continue
        for item in value:
            lines += ["", f"[[{name}]]"]
            _emit(item, name, lines)


def _tables(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))


def _key(key: str) -> str:
    return key if key and all(c.isascii() and (c.isalnum() or c in "_-") for c in key) else _value(key)


def _value(value: Any) -> str:
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(_value(item) for item in value)}]"
    return repr(value)
