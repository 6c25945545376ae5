"""What the model says of itself: tables and their fields with words, units and kinds, for forms that name none of them.

The words are the docstrings below the fields in `linkviz.vehicle.model` and beside it, as `linkviz.book.describe` has
printed them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from types import NoneType
from typing import Annotated, Any, Literal, get_args, get_origin

from linkviz.frozen import Frozen
from linkviz.vehicle.field_words import WORDS
from linkviz.vehicle.model import Point, Vehicle
from linkviz.vehicle.part import REQUIRED, Part, bare_kind, default_of, is_length, kinds_of
from linkviz.vehicle.points import words

Kind = Literal["length", "lengths", "number", "point", "text", "choice", "yes", "part", "parts", "other"]
Step = str | int
Path = tuple[Step, ...]
"""Where a value stands in a vehicle: ``("hoses", 0, "length")``."""
OTHER_PAGES = {"envelopes": "Clearance"}
"""Tables that are typed on a page of their own and not under Vehicle, and the name of that page."""

_UNIT = re.compile(r"\b(N/mm|MPa per deg|MPa|kg|deg|kN|N)\b")


class Field(Frozen):
    """One field of a table.

    Attributes
    ----------
    name : str
        Its key in the file.
    label : str
        Words for people, without the unit.
    kind : str
        What is typed: "other" cannot be typed in a form.
    unit : str
        Unit of a "number", "" if it has none; a "length" goes in the unit of the screen.
    tip : str
        What it is and how it is counted.
    optional : bool
        Whether it may be left out.
    part : type of Part or None
        Class of a "part" or of the items of "parts".
    choices : tuple of str
        What a "choice" may be.
    whole : bool
        Whether a "number" is a whole one.
    """

    name: str
    label: str
    kind: Kind
    unit: str = ""
    tip: str = ""
    optional: bool = False
    part: type[Part] | None = None
    choices: tuple[str, ...] = ()
    whole: bool = False


def key_of(part: type[Part]) -> str:
    """Return what a class is called among the printed words."""
    return f"{part.__module__.removeprefix('linkviz.')}.{part.__name__}"


def descriptions(part: type[Part]) -> dict[str, str]:
    """Return what a class says of its fields, those of its bases included."""
    found: dict[str, str] = {}
    for kind in reversed(part.__mro__):
        if issubclass(kind, Part):
            found |= WORDS.get(key_of(kind), {})
    return found


@cache
def fields_of(part: type[Part]) -> tuple[Field, ...]:
    """Return the fields of a table, in the order of the class."""
    said = descriptions(part)
    return tuple(_field(part, name, kind, said.get(name, "")) for name, kind in kinds_of(part).items())


def _field(part: type[Part], name: str, kind: Any, said: str) -> Field:
    tip = said
    optional = default_of(part, name) is not REQUIRED
    bare = bare_kind(kind)
    angle = name.endswith("_deg") and "per deg" not in tip
    label = re.sub(r"^cg\b", "centre of gravity,", (name.removesuffix("_deg") if angle else name).replace("_", " "))
    label = part.LABELS.get(name, label[:1].upper() + label[1:])
    if bare == Point:
        return Field(name, label, "point", tip=tip, optional=optional)
    if isinstance(bare, type) and issubclass(bare, Part):
        return Field(name, label, "part", tip=tip or _first_line(bare), optional=optional, part=bare)
    if get_origin(bare) is tuple:
        item = bare_kind(get_args(bare)[0])
        if isinstance(item, type) and issubclass(item, Part):
            return Field(name, label, "parts", tip=tip or _first_line(item), optional=optional, part=item)
        kind_of_it: Kind = "lengths" if is_length(get_args(bare)[0]) and get_args(bare)[-1] is Ellipsis else "other"
        return Field(name, label, kind_of_it, tip=tip, optional=optional)
    if get_origin(bare) is Literal:
        return Field(name, label, "choice", tip=tip, optional=optional, choices=tuple(map(str, get_args(bare))))
    if bare is str:
        return Field(name, label, "text", tip=tip, optional=optional)
    if bare is bool:
        return Field(name, label, "yes", tip=tip, optional=optional)
    if is_length(kind):
        return Field(name, label, "length", tip=tip, optional=optional)
    units = _UNIT.findall(tip)
    unit = "deg" if angle else (units[-1] if units else "")
    return Field(name, label, "number", unit, tip, optional, whole=bare is int)


def _first_line(part: type[Part]) -> str:
    return (part.__doc__ or "").strip().split("\n")[0]


def tables() -> tuple[Field, ...]:
    """Return the tables of a vehicle that may be left out, single ones and lists."""
    return tuple(
        field
        for field in fields_of(Vehicle)
        if field.kind == "parts" or (field.kind == "part" and optional_part(Vehicle, field.name))
    )


@cache
def typed_at(name: str) -> str:
    """Return where people find a table or a value of one, in the window and in the file.

    ``mass``: "Vehicle, Mass ([mass] of the file)"; ``driveshaft.output_angle_deg``: "Vehicle, Driveshaft, Output angle
    (output_angle_deg of [driveshaft] in the file)".

    Raises
    ------
    StopIteration
        If a vehicle has no such table or value.
    """
    steps = name.split(".")
    part: type[Part] = Vehicle
    way = [OTHER_PAGES.get(steps[0], "Vehicle")]
    for step in steps:
        field = next(field for field in fields_of(part) if field.name == step)
        way.append(field.label)
        part = field.part or part
    if field.part is None:
        mark = f"{field.name} of [{'.'.join(steps[:-1])}] in the file"
    else:
        mark = f"[[{name}]] of the file" if field.kind == "parts" else f"[{name}] of the file"
    return f"{', '.join(way)} ({mark})"


def optional_part(part: type[Part], name: str) -> bool:
    """Return whether a field is a table that can be taken away (None is among its types)."""
    kind = kinds_of(part)[name]
    while get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    return NoneType in get_args(kind)


# -- points of all tables


def path_of(name: str) -> Path:
    """Return where a dotted key stands: ``hoses[0].body`` is ``("hoses", 0, "body")``."""
    steps: list[Step] = []
    for piece in name.split("."):
        key, _, index = piece.partition("[")
        steps.append(key)
        if index:
            steps.append(int(index.rstrip("]")))
    return tuple(steps)


def name_of(path: Path) -> str:
    """Return the dotted key of a place."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else (f".{step}" if text else step)
    return text


def table_points(vehicle: Vehicle) -> dict[str, Point]:
    """Return the points of all tables a vehicle may or may not have, by dotted key, at design height, mm.

    Those of the links and the axle are no such tables; envelopes have outlines and no points.
    """
    return dict(_points((), vehicle, tables()))


def _points(path: Path, part: Part, fields: tuple[Field, ...]) -> Iterator[tuple[str, Point]]:
    for field in fields:
        value = getattr(part, field.name)
        if value is None:
            continue
        here = (*path, field.name)
        if field.kind == "point":
            yield name_of(here), value
        elif field.kind == "part" and field.part is not None:
            yield from _points(here, value, fields_of(field.part))
        elif field.kind == "parts" and field.part is not None:
            for i, item in enumerate(value):
                yield from _points((*here, i), item, fields_of(field.part))


def on_axle(name: str) -> bool:
    """Return whether a point moves with the axle; one of a table does if its key is ``axle``."""
    return name.endswith(".axle") or name in ("axle.centre", "driveshaft.pinion_joint")


def point_words(vehicle: Vehicle, name: str) -> str:
    """Return a point in words, of whatever table it is."""
    known = words(name)
    if known != name:
        return known
    path = path_of(name)
    part: Any = vehicle
    said: list[str] = []
    for step in path[:-1]:
        part = part[step] if isinstance(step, int) else getattr(part, step, None)
        if isinstance(step, int):
            said[-1] = getattr(part, "name", "") or f"{said[-1]} {step + 1}"
        else:
            said.append(step.replace("_", " "))
    return f"{' '.join(said)}, {str(path[-1]).replace('_', ' ')}"
