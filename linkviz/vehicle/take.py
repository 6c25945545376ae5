"""Take raw data into the classes of the model, with every problem noted instead of stopping at the first.

The shape of a file is the shape of the classes in `linkviz.vehicle.model`: nothing here names a table.
"""

from __future__ import annotations

import math
from typing import Any, Final, Literal, get_args, get_origin

from linkviz.errors import MOST_PROBLEMS, Problem
from linkviz.letters import cut
from linkviz.units import Unit, to_mm
from linkviz.vehicle.model import Corner, Outline, Point
from linkviz.vehicle.part import REQUIRED, Part, default_of, is_length, is_pairs, kinds_of, marks_of
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
            if key not in data and default_of(part, key) is REQUIRED:
                inner = f"{where}.{key}" if where else key
                named = f"{words(inner)}: " if words(inner) != inner else ""
                self.problems.append(Problem(inner, "nothing", f"{named}{self._expected(kind, inner)}"))
        if len(self.problems) > before or BAD in values.values():
            return BAD
        made = part(**values)
        self.taken[where] = made
        return made

    def value(self, kind: Any, value: Any, where: str) -> Any:
        """Take one value of a given type; `BAD` if it is not of that type."""
        bare, length, least = marks_of(kind)
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
        bare, length, _ = marks_of(kind)
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
