"""The base of all tables of a file: a frozen value whose fields are known by name, kind and default.

A class says its fields as a dataclass does, and they are given by name. What is given is checked when the value is
made, so that a part that exists holds what its class says: numbers are finite and floats, lists are tuples. Nothing
is looked up or compiled for a class before its first value: some forty classes are loaded at the start of the
program, and most vehicles have few of them.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Mapping
from dataclasses import FrozenInstanceError
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    ClassVar,
    Final,
    Literal,
    Self,
    Union,
    dataclass_transform,
    get_args,
    get_origin,
    get_type_hints,
)


class Unfit(ValueError):
    """A value that a field does not take; says which and what it needs."""


class Least(int):
    """Marks the least number of items of a tuple."""


class _Required:
    """Stands for the default of a field that has none."""


REQUIRED: Final = _Required()
"""The default of a field that must be given."""


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Part:
    """Base of all tables: frozen, strict about its fields, finite numbers only.

    Raises
    ------
    Unfit
        If a value is not of its field's kind, is missing, or belongs to no field.
    """

    LABELS: ClassVar[Mapping[str, str]] = {}
    """Words for people by the key of a field, where the key by itself says too little."""
    _defaults: ClassVar[dict[str, Any]] = {}

    def __init_subclass__(cls) -> None:
        said = inspect.get_annotations(cls)
        fields = [name for name, kind in said.items() if not str(kind).startswith("ClassVar")]
        cls._defaults = cls._defaults | {name: getattr(cls, name, REQUIRED) for name in fields}

    def __init__(self, **values: Any) -> None:
        kind = type(self)
        held, fits = vars(self), _fits(kind)
        for name, default in kind._defaults.items():
            if name in values:
                held[name] = _fitted(name, fits[name], values.pop(name))
            elif default is REQUIRED:
                raise Unfit(f"{name}: a value is needed")
            else:
                held[name] = default
        _none_left(kind, values)

    def replace(self, **changes: Any) -> Self:
        """Return a copy with other values; only these are checked.

        Raises
        ------
        Unfit
            If one is not of its field's kind or belongs to no field.
        """
        kind = type(self)
        copy = kind.__new__(kind)
        held, fits = vars(copy), _fits(kind)
        held.update(vars(self))
        for name in changes.keys() & fits.keys():
            held[name] = _fitted(name, fits[name], changes.pop(name))
        _none_left(kind, changes)
        return copy

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and vars(self) == vars(other)

    def __hash__(self) -> int:
        return hash((type(self), *vars(self).values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in vars(self).items())})"


def names_of(part: type[Part]) -> tuple[str, ...]:
    """Return the names of a class' fields, in order, those of its bases first."""
    return tuple(part._defaults)


def default_of(part: type[Part], name: str) -> Any:
    """Return what a field holds if nothing is given; `REQUIRED` if something must be."""
    return part._defaults[name]


def kinds_of(part: type[Part]) -> dict[str, Any]:
    """Return the types of a class' fields, in order, marks such as `Length` included."""
    if part not in _KINDS:
        hints = get_type_hints(part, include_extras=True)
        _KINDS[part] = {name: hints[name] for name in part._defaults}
    return _KINDS[part]


_KINDS: dict[type[Part], dict[str, Any]] = {}


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
            least = max([least, *(mark for mark in marks if isinstance(mark, Least))])
        elif get_origin(kind) in (Union, UnionType):
            kind = next(one for one in get_args(kind) if one is not NoneType)
        else:
            return kind, length, least


# -- checks of values

_Fit = Callable[[Any], Any]
"""Returns a value as its field holds it, or raises `Unfit`."""


def _fits(part: type[Part]) -> dict[str, _Fit]:
    if part not in _FITS:
        _FITS[part] = {name: _fit(kind) for name, kind in kinds_of(part).items()}
    return _FITS[part]


_FITS: dict[type[Part], dict[str, _Fit]] = {}


def _fitted(name: str, fit: _Fit, value: Any) -> Any:
    try:
        return fit(value)
    except Unfit as error:
        raise Unfit(f"{name}: {error}" if ": " not in str(error) else f"{name}.{error}") from None


def _none_left(part: type[Part], values: dict[str, Any]) -> None:
    if values:
        raise Unfit(f"{next(iter(values))}: {part.__name__} has no such field")


def _fit(kind: Any) -> _Fit:
    bare, _, least = marks_of(kind)
    fit = _bare_fit(bare, least)
    while get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    if NoneType in get_args(kind):
        return lambda value: None if value is None else fit(value)
    return fit


def _bare_fit(bare: Any, least: int) -> _Fit:
    if bare is float:
        return _float
    if get_origin(bare) is tuple:
        return _tuple_fit(get_args(bare), least)
    if get_origin(bare) is Literal:
        choices = get_args(bare)
        return lambda value: value if value in choices else _refuse(f"one of {', '.join(map(str, choices))}")
    if issubclass(bare, Part):
        return lambda value: _part(bare, value)
    named = {str: "text", bool: "True or False", int: "a whole number"}[bare]
    return lambda value: (
        value if isinstance(value, bare) and (bare is bool or not isinstance(value, bool)) else _refuse(named)
    )


def _float(value: Any) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if math.isfinite(number):
            return number
    raise Unfit("a finite number is needed")


def _tuple_fit(kinds: tuple[Any, ...], least: int) -> _Fit:
    if kinds[-1] is Ellipsis:
        one = _fit(kinds[0])

        def many(value: Any) -> Any:
            if not isinstance(value, tuple | list) or len(value) < least:
                return _refuse(f"a list of {least} or more" if least else "a list")
            return tuple([one(item) for item in value])

        return many
    each = [_fit(kind) for kind in kinds]

    def these(value: Any) -> Any:
        if not isinstance(value, tuple | list) or len(value) != len(each):
            return _refuse(f"a list of {len(each)}")
        return tuple([fit(item) for fit, item in zip(each, value, strict=True)])

    return these


def _part(kind: type[Part], value: Any) -> Part:
    if isinstance(value, kind):
        return value
    if isinstance(value, Mapping):
        return kind(**value)
    part: Part = _refuse(f"a table ({kind.__name__})")
    return part


def _refuse(needed: str) -> Any:
    raise Unfit(f"{needed} is needed")
