"""Parts of the model as tables of a TOML file: plain data, and old text brought up to date with comments kept.

The tables follow the classes: nothing here names one. tomlkit is imported when it is needed, not when the program
starts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, MutableMapping
from pathlib import Path
from typing import Any

from linkviz.errors import FileRefused
from linkviz.units import Unit, from_mm, to_mm
from linkviz.vehicle.part import Part, default_of, element_kind, is_length, is_pairs, kinds_of, names_of, values_of
from linkviz.vehicle.read import quick_toml
from linkviz.vehicle.text import MOST_WRITTEN, decode_utf8, read_bytes

CLOSE = 1e-10
"""Numbers are written with the fewest digits that keep a length to this, mm."""

SAME = 1e-9
"""A number that stands in the file is left as it is typed if it is this near, mm (or unit of the value)."""

_MOST_ON_A_LINE = 4
_MOST_LINES = 50_000
"""Text of more lines was not laid out by anybody, and takes many seconds to change in its place."""


def text_there(path: Path, expected: str) -> str | None:
    """Return the text of a file that is to be changed, or None if there is none that can be read."""
    try:
        return decode_utf8(read_bytes(path, expected, MOST_WRITTEN), str(path), expected)
    except FileRefused:
        return None


def rewritten(old_text: str | None, form: str, fill: Callable[[Any, bool], None], says: Callable[[str], bool]) -> str:
    """Return the text of a file, changed no more than necessary.

    Parameters
    ----------
    old_text : str or None
        Text to keep the layout of; ignored if it does not declare `form`, has very many lines, or cannot be edited to
        say what it must and still be read again.
    form : str
        The format the file declares.
    fill : callable
        Puts the values into a tomlkit document; told whether it is a new one.
    says : callable
        Whether a text, read back, is what was to be written.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    if old_text is not None and old_text.count("\n") <= _MOST_LINES and _declares(old_text, form):
        try:
            document = tomlkit.parse(old_text)
            fill(document, False)
            text = tomlkit.dumps(document)
        except (TOMLKitError, KeyError, TypeError, ValueError, AttributeError, RecursionError):
            text = ""  # a layout that cannot be edited in place; the values matter more
        if text and len(text.encode(errors="replace")) <= MOST_WRITTEN and says(text):
            return text
    document = tomlkit.document()
    fill(document, True)
    return tomlkit.dumps(document)


def _declares(text: str, form: str) -> bool:
    try:
        return bool(quick_toml(text).get("format") == form)
    except (ValueError, RecursionError):
        return False


def same(one: Any, other: Any) -> bool:
    """Return whether two values are the same, numbers to `SAME`."""
    if isinstance(one, Part) and isinstance(other, Part):
        return all(same(getattr(one, key), getattr(other, key)) for key in names_of(type(one)))
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(same(a, b) for a, b in zip(one, other, strict=True))
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
        return plain_table(value, units)
    if isinstance(value, tuple) and is_pairs(kind):
        return {name: _number(v, element_kind(element_kind(kind, 0), 1), units) for name, v in value}
    if isinstance(value, tuple):
        return [_plain(v, element_kind(kind, i), units) for i, v in enumerate(value)]
    return _number(value, kind, units) if isinstance(value, float) else value


def plain_table(part: Part, units: Unit) -> dict[str, Any]:
    """Return a part as the plain data of its table, lengths in a unit, defaults included."""
    kinds = kinds_of(type(part))
    return {
        key: _plain(value, kinds[key], units)
        for key, value in values_of(part).items()
        if not (value is None or value == () or (value == "" and default_of(type(part), key) == ""))
    }


def merge(old: MutableMapping[str, Any], part: Part, units: Unit, whole: bool) -> None:
    """Bring a table up to date with a part, touching only what differs.

    Parameters
    ----------
    old : mutable mapping
        The table, of tomlkit.
    part : Part
        What it is to say.
    units : {"mm", "in"}
        Unit of the lengths in the file.
    whole : bool
        Whether defaults are written too (a new table).
    """
    for key, kind in kinds_of(type(part)).items():
        value, default = getattr(part, key), default_of(type(part), key)
        if key not in old and value == default and not whole and key != "format":
            continue
        if value is None or value == () or (value == default == ""):
            old.pop(key, None)
        elif isinstance(value, Part):
            if key not in old:
                old[key] = new_table()
            merge(old[key], value, units, whole)
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
            table = new_table() if source is None else there[source]
            merge(table, part, units, whole=source is None)
            array.append(table)
        old.pop(key, None)
        old[key] = array
        return
    array = old[key]
    for gone in sorted(set(range(len(there))) - set(kept), reverse=True):
        del array[gone]
    for place, part in enumerate(parts):
        if place < len(kept):
            merge(array[place], part, units, whole=False)
        else:
            table = new_table()
            merge(table, part, units, whole=True)
            array.append(table)


def _merge_pairs(old: MutableMapping[str, Any], key: str, values: dict[str, float], units: Unit) -> None:
    if key not in old:
        old[key] = new_table()
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
        old[key] = _lines(value) if isinstance(value, str) and "\n" in value else value


def _as_typed(there: Any, value: float, units: Unit) -> bool:
    if isinstance(there, bool) or not isinstance(there, int | float):
        return False
    return to_mm(abs(float(there) - value), units) <= SAME


def new_table() -> Any:
    """Return an empty table."""
    import tomlkit

    return tomlkit.table()


def _lines(text: str) -> Any:
    """Return text of several lines as it is read best in a file; what cannot stand so keeps to one line."""
    import tomlkit

    plain = all(c == "\n" or (c >= " " and c != "\x7f") for c in text) and "\\" not in text and '"""' not in text
    return tomlkit.string(text, multiline=True) if plain and not text.endswith('"') else text


def _array(value: list[Any]) -> Any:
    import tomlkit

    array = tomlkit.array()
    for item in value:
        array.append(_array(item) if isinstance(item, list) else item)
    if len(value) > _MOST_ON_A_LINE:
        array.multiline(True)
    return array
