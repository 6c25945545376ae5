"""Take raw data into the classes of the model, with every problem noted instead of stopping at the first.

The shape of a file is the shape of the classes in `linkviz.vehicle.model`: nothing here names a table.
"""

from __future__ import annotations

import math
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from pydantic_core import PydanticUndefined

from linkviz.errors import MOST_PROBLEMS, Problem
from linkviz.letters import cut
from linkviz.units import Unit, to_mm
from linkviz.vehicle.model import Corner, Outline, Part, Point
from linkviz.vehicle.points import nearest, words


class _Bad:
    """Stands where a value could not be taken."""


BAD: Final = _Bad()
"""Returned for a value that could not be taken; its problem has been noted."""

_MIN_CORNERS = 3
MOST_ITEMS: Final = 2000
"""No list of a file is longer."""


class Taker:
    """Takes values out of one file.

    Parameters
    ----------
    units : {"mm", "in"}
        Unit in which the file gives its lengths.

    Attributes
    ----------
    problems : list of Problem
        What was wrong, in the order of the file; of endless problems the first.
    taken : dict
        Every part that could be taken whole, by its dotted key.
    """

    def __init__(self, units: Unit) -> None:
        self.units = units
        self.problems: list[Problem] = []
        self.taken: dict[str, Part] = {}

    def table(self, part: type[Part], data: Any, where: str) -> Any:
        """Take a table as a part of the model; `BAD` if anything in it is wrong."""
        if not isinstance(data, dict):
            self._note(where, data, f"a table [{where}]")
            return BAD
        kinds = kinds_of(part)
        before = len(self.problems)
        values: dict[str, Any] = {}
        for key, value in data.items():
            if self._enough:
                return BAD
            inner = f"{where}.{key}" if where else key
            if key not in kinds:
                self._unknown(inner, key, list(kinds))
                continue
            values[key] = self.value(kinds[key], value, inner)
        for key, kind in kinds.items():
            if key not in data and part.model_fields[key].default is PydanticUndefined:
                inner = f"{where}.{key}" if where else key
                named = f"{words(inner)}: " if words(inner) != inner else ""
                self.problems.append(Problem(inner, "nothing", f"{named}{self._expected(kind, inner)}"))
        if len(self.problems) > before or BAD in values.values():
            return BAD
        made = part.model_validate(values)
        self.taken[where] = made
        return made

    def value(self, kind: Any, value: Any, where: str) -> Any:
        """Take one value of a given type; `BAD` if it is not of that type."""
        bare, length, least = _bare(kind)
        if isinstance(bare, type) and issubclass(bare, Part):
            return self.table(bare, value, where)
        if get_origin(bare) is tuple:
            return self._tuple(bare, kind, value, where, least)
        if get_origin(bare) is Literal:
            if value in get_args(bare) and isinstance(value, str):
                return value
        elif bare is str:
            if isinstance(value, str):
                return value
        elif bare is bool:
            if isinstance(value, bool):
                return value
        elif bare is int:
            if isinstance(value, int) and not isinstance(value, bool) and abs(value) < 10**15:
                return value
        elif bare is float and isinstance(value, int | float) and not isinstance(value, bool):
            return self._number(value, length, where)
        self._note(where, value, self._expected(kind, where))
        return BAD

    def _number(self, value: float, length: bool, where: str) -> Any:
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        number = to_mm(number, self.units) if length else number
        if math.isfinite(number):
            return number
        self._note(where, value, "a finite number; measure it, or leave the key out if it is optional")
        return BAD

    def _tuple(self, bare: Any, kind: Any, value: Any, where: str, least: int) -> Any:
        kinds = get_args(bare)
        many = kinds[-1] is Ellipsis
        if is_pairs(kind):
            return self._pairs(get_args(kinds[0])[1], value, where)
        if not isinstance(value, list):
            self._note(where, value, self._expected(kind, where))
            return BAD
        if (many and len(value) < least) or (not many and len(value) != len(kinds)):
            self.problems.append(Problem(where, f"a list of {len(value)}", self._expected(kind, where)))
            return BAD
        if len(value) > MOST_ITEMS:
            self.problems.append(Problem(where, f"a list of {len(value)}", f"a list of at most {MOST_ITEMS}"))
            return BAD
        each = [kinds[0]] * len(value) if many else list(kinds)
        got = []
        for i, (k, v) in enumerate(zip(each, value, strict=True)):
            if self._enough:
                return BAD
            got.append(self.value(k, v, f"{where}[{i}]"))
        return BAD if any(v is BAD for v in got) else tuple(got)

    @property
    def _enough(self) -> bool:
        """Return whether there are more problems than anybody reads."""
        return len(self.problems) > MOST_PROBLEMS

    def _pairs(self, kind: Any, value: Any, where: str) -> Any:
        if not isinstance(value, dict):
            self._note(where, value, f"a table [{where}] with one line for each name")
            return BAD
        if len(value) > MOST_ITEMS:
            self.problems.append(Problem(where, f"{len(value)} names", f"at most {MOST_ITEMS}"))
            return BAD
        got = tuple((name, self.value(kind, v, f'{where}."{name}"')) for name, v in value.items())
        return BAD if any(v is BAD for _, v in got) else got

    def _unknown(self, where: str, key: str, allowed: list[str]) -> None:
        near = nearest(cut(key, 60), allowed)
        hint = f'"{near}", if that is meant' if near else f"one of {', '.join(allowed)}"
        self.problems.append(Problem(where, f'the unknown key "{key}"', hint))

    def _note(self, where: str, value: Any, expected: str) -> None:
        self.problems.append(Problem(where, shown(value), expected))

    def _expected(self, kind: Any, where: str) -> str:
        bare, length, _ = _bare(kind)
        if bare == Point:
            return f"a point [x, y, z] of three numbers in {self.units}"
        if kind == Outline:
            axes = "[x, z]" if where.endswith("side") else "[y, z]"
            return f"an outline of at least {_MIN_CORNERS} corners, [{axes}, {axes}, ...], in {self.units}"
        if bare == Corner:
            return f"a corner of two numbers in {self.units}"
        if isinstance(bare, type) and issubclass(bare, Part):
            return f"a table [{where}]"
        if get_origin(bare) is Literal:
            return " or ".join(f'"{choice}"' for choice in get_args(bare))
        if get_origin(bare) is tuple:
            return f"a list of numbers in {self.units}" if is_length(get_args(bare)[0]) else f"tables [[{where}]]"
        if bare is str:
            return "text in quotes"
        if bare is bool:
            return "true or false"
        if bare is int:
            return "a whole number, without quotes"
        return f"a number in {self.units}, without quotes" if length else "a number, without quotes"


@cache
def kinds_of(part: type[Part]) -> dict[str, Any]:
    """Return the types of a part's fields, in order, marks such as `Length` included."""
    hints = get_type_hints(part, include_extras=True)
    return {name: hints[name] for name in part.model_fields}


def bare_kind(kind: Any) -> Any:
    """Return a type without marks and without None."""
    return _bare(kind)[0]


def is_length(kind: Any) -> bool:
    """Return whether a type is marked as a length."""
    return _bare(kind)[1]


def shown(value: Any) -> str:
    """Return a value of a file as a person would see it there, cut short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int | float):
        if isinstance(value, int) and abs(value) >= 10**15:
            return "a number too large"
        return repr(value)
    if not isinstance(value, str):
        return f"the date or time {value}"
    return f'the text "{cut(value, 40)}"'


def is_pairs(kind: Any) -> bool:
    """Return whether a type is a tuple of (name, value) pairs: a table of names in a file."""
    bare = _bare(kind)[0]
    if get_origin(bare) is not tuple or get_args(bare)[-1] is not Ellipsis:
        return False
    item = get_args(bare)[0]
    return get_origin(item) is tuple and get_args(item)[0] is str


def element_kind(kind: Any, index: int) -> Any:
    """Return the type of an item of a tuple type."""
    kinds = get_args(_bare(kind)[0])
    return kinds[0] if kinds[-1] is Ellipsis else kinds[index]


def _bare(kind: Any) -> tuple[Any, bool, int]:
    """Return a type without its marks, whether it is a length, and its least number of items."""
    length, least = False, 0
    while True:
        if get_origin(kind) is Annotated:
            kind, *marks = get_args(kind)
            length = length or "length" in [m for m in marks if isinstance(m, str)]
            for mark in marks:
                for rule in getattr(mark, "metadata", [mark]):
                    least = max(least, getattr(rule, "min_length", 0) or 0)
        elif get_origin(kind) in (Union, UnionType):
            kind = next(k for k in get_args(kind) if k is not NoneType)
        else:
            return kind, length, least
