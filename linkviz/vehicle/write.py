"""Write a vehicle file: only what has changed, so that comments, order and layout of the old text survive.

The tables follow the classes of `linkviz.vehicle.model`; nothing here names a table. tomlkit is imported when
it is needed, not when the program starts.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import MutableMapping, Sequence
from os import PathLike
from pathlib import Path
from typing import Any

from linkviz.errors import FileRefused
from linkviz.units import Unit, from_mm, to_mm
from linkviz.vehicle.model import Envelope, Part, Vehicle
from linkviz.vehicle.read import EXPECTED, FORMAT
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.take import BAD, Taker, element_kind, is_length, is_pairs, kinds_of
from linkviz.vehicle.text import decode_utf8, read_bytes

CLOSE = 1e-10
"""Numbers are written with the fewest digits that keep a length to this, mm."""

SAME = 1e-9
"""A number that stands in the file is left as it is typed if it is this near, mm (or unit of the value)."""

_MOST_ON_A_LINE = 4


def write_vehicle(vehicle: Vehicle, path: str | PathLike[str]) -> None:
    """Save a vehicle, atomically; an old file at the path keeps its comments, order and layout.

    Parameters
    ----------
    vehicle : Vehicle
        The vehicle.
    path : path
        Where to. The lengths are written in ``vehicle.units``.

    Raises
    ------
    LinkvizError
        If it cannot be saved; the old file is whole then.
    """
    save_text(path, dump_vehicle(vehicle, _old_text(Path(path))))


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
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    if old_text is not None and _is_vehicle(old_text):
        try:
            document = tomlkit.parse(old_text)
            _merge(document, vehicle, vehicle.units, whole=False)
            text = tomlkit.dumps(document)
        except (TOMLKitError, KeyError, TypeError, ValueError, AttributeError):
            text = ""  # a layout that cannot be edited in place; the values matter more
        if text and _says(text, vehicle):
            return text
    document = tomlkit.document()
    _merge(document, vehicle, vehicle.units, whole=True)
    return tomlkit.dumps(document)


def data_of(vehicle: Vehicle) -> dict[str, Any]:
    """Return the tables of a vehicle file as plain data, lengths in the declared unit, defaults included.

    A job file embeds this; `linkviz.vehicle.read.vehicle_from_data` takes it back.
    """
    return _table(vehicle, vehicle.units)


def envelope_tables(envelopes: Sequence[Envelope], units: Unit) -> Any:
    """Return envelopes as the array of tables of a vehicle file, lengths in a unit."""
    import tomlkit

    array = tomlkit.aot()
    for envelope in envelopes:
        table = _new_table()
        _merge(table, envelope, units, whole=True)
        array.append(table)
    return array


def _old_text(path: Path) -> str | None:
    if not path.exists():
        return None
    try:
        return decode_utf8(read_bytes(path, EXPECTED), str(path), EXPECTED)
    except FileRefused:
        return None


def _is_vehicle(text: str) -> bool:
    try:
        return tomllib.loads(text).get("format") == FORMAT
    except (ValueError, RecursionError):
        return False


def _says(text: str, vehicle: Vehicle) -> bool:
    """Return whether a text, read back, is the vehicle."""
    try:
        taken = Taker(vehicle.units).table(Vehicle, tomllib.loads(text), "")
    except ValueError:
        return False
    return taken is not BAD and _same(taken, vehicle)


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, Part) and isinstance(other, Part):
        return all(_same(getattr(one, key), getattr(other, key)) for key in type(one).model_fields)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= SAME
    return bool(one == other)


def _number(value: float, kind: Any, units: Unit) -> float:
    """Return a number for the file: in its unit, with no more digits than it needs."""
    if not is_length(kind):
        return value
    typed = from_mm(value, units)
    for digits in range(3, 13):
        short = round(typed, digits)
        if math.fabs(to_mm(short, units) - value) <= CLOSE:
            return short + 0.0
    return typed


def _plain(value: Any, kind: Any, units: Unit) -> Any:
    if isinstance(value, Part):
        return _table(value, units)
    if isinstance(value, tuple) and is_pairs(kind):
        return {name: _number(v, element_kind(element_kind(kind, 0), 1), units) for name, v in value}
    if isinstance(value, tuple):
        return [_plain(v, element_kind(kind, i), units) for i, v in enumerate(value)]
    return _number(value, kind, units) if isinstance(value, float) else value


def _table(part: Part, units: Unit) -> dict[str, Any]:
    kinds = kinds_of(type(part))
    return {
        key: _plain(value, kinds[key], units)
        for key, value in part
        if not (value is None or value == () or (value == "" and part.__class__.model_fields[key].default == ""))
    }


def _merge(old: MutableMapping[str, Any], part: Part, units: Unit, whole: bool) -> None:
    """Bring a table up to date with a part, touching only what differs."""
    for key, kind in kinds_of(type(part)).items():
        value, default = getattr(part, key), type(part).model_fields[key].default
        if key not in old and value == default and not whole and key != "format":
            continue
        if value is None or value == () or (value == default == ""):
            old.pop(key, None)
        elif isinstance(value, Part):
            if key not in old:
                old[key] = _new_table()
            _merge(old[key], value, units, whole)
        elif isinstance(value, tuple) and isinstance(value[0], Part):
            _merge_tables(old, key, value, units)
        elif is_pairs(kind):
            _merge_pairs(old, key, _plain(value, kind, units), units)
        else:
            _put(old, key, _plain(value, kind, units), kind, units)


def _merge_tables(old: MutableMapping[str, Any], key: str, parts: tuple[Part, ...], units: Unit) -> None:
    """Bring an array of tables up to date; tables are told apart by name, else by place."""
    import tomlkit

    there = list(old.get(key, ()))
    names = [getattr(part, "name", index) for index, part in enumerate(parts)]
    found = {table.get("name", index): index for index, table in enumerate(there)}
    plan: list[int | None] = []
    for index, name in enumerate(names):
        renamed = index < len(there) and there[index].get("name", index) not in names
        plan.append(found.get(name, index if renamed else None))
    kept = [index for index in plan if index is not None]
    if len(set(kept)) < len(kept):  # names that stand twice: nothing to go by
        plan, kept = [None] * len(parts), []
    in_order = kept == sorted(kept) and plan[: len(kept)] == kept
    if not there or not in_order:
        array = tomlkit.aot()
        for source, part in zip(plan, parts, strict=True):
            table = _new_table() if source is None else there[source]
            _merge(table, part, units, whole=source is None)
            array.append(table)
        old.pop(key, None)
        old[key] = array
        return
    array = old[key]
    for gone in sorted(set(range(len(there))) - set(kept), reverse=True):
        del array[gone]
    for place, part in enumerate(parts):
        if place < len(kept):
            _merge(array[place], part, units, whole=False)
        else:
            table = _new_table()
            _merge(table, part, units, whole=True)
            array.append(table)


def _merge_pairs(old: MutableMapping[str, Any], key: str, values: dict[str, float], units: Unit) -> None:
    if key not in old:
        old[key] = _new_table()
    table = old[key]
    for name in [name for name in table if name not in values]:
        del table[name]
    for name, value in values.items():
        if not _as_typed(table.get(name), value, units):
            table[name] = value


def _put(old: Any, key: Any, value: Any, kind: Any, units: Unit) -> None:
    """Set one value or list in a table or list, leaving what is equal as it is typed."""
    there = old[key] if isinstance(key, int) or key in old else None
    if isinstance(value, list) and isinstance(there, list) and len(there) == len(value):
        for index, item in enumerate(value):
            _put(there, index, item, element_kind(kind, index), units)
    elif isinstance(value, list):
        old[key] = _array(value)
    elif not (_as_typed(there, value, units) if isinstance(value, float) else there == value):
        old[key] = value


def _as_typed(there: Any, value: float, units: Unit) -> bool:
    if isinstance(there, bool) or not isinstance(there, int | float):
        return False
    return to_mm(abs(float(there) - value), units) <= SAME


def _new_table() -> Any:
    import tomlkit

    return tomlkit.table()


def _array(value: list[Any]) -> Any:
    import tomlkit

    array = tomlkit.array()
    for item in value:
        array.append(_array(item) if isinstance(item, list) else item)
    if len(value) > _MOST_ON_A_LINE:
        array.multiline(True)
    return array
