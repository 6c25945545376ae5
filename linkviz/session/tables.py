"""Edits of whole tables of a vehicle and of single values in them, by where they stand; values as people type them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from linkviz.conventions import MM_PER_INCH
from linkviz.errors import LinkvizError
from linkviz.letters import one_line
from linkviz.units import Unit, finest, format_length, parse_angle, parse_length, parse_lengths, parse_number
from linkviz.vehicle.described import Field, Path, fields_of, name_of
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import REQUIRED, Part, Unfit, default_of, names_of, values_of

_NEAR = 0.005


def value_at(vehicle: Vehicle, path: Path) -> Any:
    """Return what stands at a place; None if the table is not there."""
    found: Any = vehicle
    for step in path:
        if found is None:
            return None
        if isinstance(step, str):
            found = getattr(found, step)
            continue
        found = found[step] if step < len(found) else None
    return found


def put(vehicle: Vehicle, path: Path, value: Any) -> Vehicle:
    """Return the vehicle with something else at a place; a list of tables grows by its next index.

    Raises
    ------
    LinkvizError
        If a table does not take it.
    """
    made: Vehicle = _put(vehicle, path, value)
    return made


def add(vehicle: Vehicle, path: Path, values: Mapping[str, Any]) -> Vehicle:
    """Return the vehicle with one more table at a place, made of plain values.

    Raises
    ------
    LinkvizError
        If the table does not take them.
    """
    kind: Any = Vehicle
    for step in path:
        if not isinstance(step, int):
            kind = next(field.part for field in fields_of(kind) if field.name == step)
    return put(vehicle, path, made(kind, values))


def remove(vehicle: Vehicle, path: Path) -> Vehicle:
    """Return the vehicle without the table at a place."""
    gone = name_of(path)
    own = tuple((name, u) for name, u in vehicle.measuring.points if not name.startswith((f"{gone}.", f"{gone}[")))
    if own != vehicle.measuring.points:
        vehicle = put(vehicle, ("measuring", "points"), own)
    last = path[-1]
    if not isinstance(last, int):
        return put(vehicle, path, None)
    items = value_at(vehicle, path[:-1])
    return put(vehicle, path[:-1], items[:last] + items[last + 1 :])


def _put(there: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        items = tuple(there)
        new = _put(items[step] if step < len(items) else None, rest, value)
        return (*items[:step], new, *items[step + 1 :])
    if there is None:
        raise LinkvizError(f"There is no table for {step.replace('_', ' ')} yet. Add the table first.")
    return made(type(there), {**values_of(there), step: _put(getattr(there, step), rest, value)})


def made(part: type[Part], values: Mapping[str, Any]) -> Any:
    """Return a table of the model with some values.

    Raises
    ------
    LinkvizError
        If it does not take them.
    """
    for name in names_of(part):
        if name not in values and default_of(part, name) is REQUIRED:
            raise LinkvizError(f"{name.replace('_', ' ')}: a value is needed.")
    try:
        return part(**values)
    except Unfit as error:
        raise LinkvizError(f"{error}. Type another value.") from None


# -- values as typed


def shown(field: Field, value: Any, unit: Unit) -> str:
    """Return a value as it stands in a form."""
    if value is None:
        return ""
    if field.kind == "length":
        return length_shown(value, unit)
    if field.kind == "lengths":
        return ", ".join(length_shown(one, unit) for one in value)
    if field.kind == "number":
        text = f"{value:.6g}"
        return f"{text}\N{DEGREE SIGN}" if field.unit == "deg" else f"{text} {field.unit}".rstrip()
    return str(value)


def length_shown(mm: float, unit: Unit) -> str:
    """Return a length with all the digits it was typed with: whole mm or sixteenths where it is such, else decimals."""
    step = finest(unit)
    if abs(mm / step - round(mm / step)) * step < _NEAR:
        return format_length(mm, unit)
    return f"{round(mm, 2):g} mm" if unit == "mm" else f'{mm / MM_PER_INCH:.3f}"'


def read(field: Field, text: str, unit: Unit) -> Any:
    """Return the value a person typed; None for nothing typed into what may be left out.

    Raises
    ------
    LinkvizError
        If the text is no such value.
    """
    text = one_line(text)
    if not text and field.optional:
        return None
    try:
        if field.kind == "length":
            return parse_length(text, unit)
        if field.kind == "lengths":
            return parse_lengths(text, unit)
        if field.kind == "number":
            return _number(field, text)
    except LinkvizError as error:
        raise LinkvizError(f"{field.label}: {error}") from None
    if field.kind == "text" and not text:
        raise LinkvizError(f"{field.label}: nothing was typed. Type a name to tell it by.")
    return text


def _number(field: Field, text: str) -> float | int:
    if field.unit == "deg":
        return math.degrees(parse_angle(text))
    value = parse_number(text, field.unit)
    if not field.whole:
        return value
    if value != round(value):
        raise LinkvizError(f"{text!r} is not a whole number. Write one such as 3.")
    return int(value)


def needed(part: type[Part], values: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the labels of what a table still needs."""
    return tuple(f.label.lower() for f in fields_of(part) if not f.optional and values.get(f.name) is None)
