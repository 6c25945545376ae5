"""The base of all tables of a file: a frozen value whose fields are known by name, kind and default.

A class says its fields as a dataclass does, and they are given by name. msgspec holds and converts them: what is given
is checked when the value is made, so that a part that exists holds what its class says. Numbers are finite and floats,
lists are tuples, a table of a file becomes its part.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, ClassVar, Union, dataclass_transform, get_args, get_origin

import msgspec
from msgspec.structs import FieldInfo, fields, force_setattr

from linkviz.frozen import Frozen, Kind
from linkviz.frozen import names_of as names_of
from linkviz.frozen import values_of as values_of

REQUIRED = msgspec.NODEFAULT
"""The default of a field that must be given."""


class Unfit(ValueError):
    """A value that a field does not take; says which and what it needs."""


class _Kind(Kind):
    """Has the fields of every part given by name; msgspec does not hand this on to subclasses."""

    def __new__(cls, name: str, bases: tuple[type, ...], there: dict[str, Any], **how: Any) -> Kind:
        return super().__new__(cls, name, bases, there, **{"kw_only": True, "forbid_unknown_fields": True, **how})


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Part(Frozen, metaclass=_Kind):
    """Base of all tables: frozen, strict about its fields, finite numbers only.

    Raises
    ------
    Unfit
        If a value is not of its field's kind.
    TypeError
        If one is missing or belongs to no field.
    """

    LABELS: ClassVar[Mapping[str, str]] = {}
    """Words for people by the key of a field, where the key by itself says too little."""

    def __post_init__(self) -> None:
        for field in _fields(type(self)):
            force_setattr(self, field.name, _fitted(field, getattr(self, field.name)))


def _fitted(field: FieldInfo, value: Any) -> Any:
    """Return a value as its field holds it."""
    try:
        return msgspec.convert(_plain(value), field.type)
    except (msgspec.ValidationError, Unfit) as error:
        what, _, where = str(error.__cause__ or error).partition(" - at `$")
        inside = "." if isinstance(error.__cause__, Unfit) else ": "
        raise Unfit(f"{field.name}{where.rstrip('`')}{inside}{what[0].lower()}{what[1:]}") from None


def _plain(value: Any) -> Any:
    """Return a value with the numbers of numpy, which msgspec does not take, as plain ones."""
    if isinstance(value, tuple | list):
        return tuple([_plain(item) for item in value])
    if isinstance(value, float):
        if not math.isfinite(value):
            raise Unfit("a finite number is needed")
        return float(value)
    return value


@cache
def _fields(part: type[Part]) -> tuple[FieldInfo, ...]:
    return fields(part)


def default_of(part: type[Part], name: str) -> Any:
    """Return what a field holds if nothing is given; `REQUIRED` if something must be."""
    return next(field.default for field in _fields(part) if field.name == name)


def kinds_of(part: type[Part]) -> dict[str, Any]:
    """Return the types of a class' fields, in order, marks such as `Length` included."""
    return {field.name: field.type for field in _fields(part)}


# -- kinds of fields


def bare_kind(kind: Any) -> Any:
    """Return a type without marks and without None."""
    return marks_of(kind)[0]


def is_length(kind: Any) -> bool:
    """Return whether a type is marked as a length."""
    return marks_of(kind)[1]


def is_pairs(kind: Any) -> bool:
    """Return whether a type is a tuple of (name, value) pairs: a table of names in a file."""
    bare = bare_kind(kind)
    if get_origin(bare) is not tuple or get_args(bare)[-1] is not Ellipsis:
        return False
    item = get_args(bare)[0]
    return get_origin(item) is tuple and get_args(item)[0] is str


def element_kind(kind: Any, index: int) -> Any:
    """Return the type of an item of a tuple type."""
    kinds = get_args(bare_kind(kind))
    return kinds[0] if kinds[-1] is Ellipsis else kinds[index]


def marks_of(kind: Any) -> tuple[Any, bool, int]:
    """Return a type without its marks, whether it is a length, and its least number of items."""
    length, least = False, 0
    while True:
        if get_origin(kind) is Annotated:
            kind, *marks = get_args(kind)
            length = length or "length" in [mark for mark in marks if isinstance(mark, str)]
            least = max([least, *(mark.min_length or 0 for mark in marks if isinstance(mark, msgspec.Meta))])
        elif get_origin(kind) in (Union, UnionType):
            kind = next(one for one in get_args(kind) if one is not NoneType)
        else:
            return kind, length, least
