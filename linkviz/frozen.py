"""The base of all values: frozen, compared by what they hold, and cheap to make.

A class says its fields as a dataclass does; msgspec holds them. A class of msgspec is made fifty times as fast as a
data class, of which there are many when the program starts, and its values five times as fast.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, Self, dataclass_transform

import msgspec
from msgspec.structs import asdict, fields


class Kind(msgspec.StructMeta):
    """Makes every value frozen; msgspec does not hand this on to subclasses."""

    def __new__(cls, name: str, bases: tuple[type, ...], there: dict[str, Any], **how: Any) -> Kind:  # noqa: D102
        return super().__new__(cls, name, bases, there, **{"frozen": True, **how})


@dataclass_transform(frozen_default=True)
class Frozen(msgspec.Struct, metaclass=Kind, frozen=True):
    """Base of all values.

    A subclass may say ``eq=False``, where what it holds cannot be compared and each is itself only, and ``dict=True``,
    where something worked out is kept in it.
    """

    def replace(self, **changes: Any) -> Self:
        """Return a copy with other values.

        Raises
        ------
        TypeError
            If one belongs to no field.
        """
        return msgspec.structs.replace(self, **changes)


def names_of(kind: type[msgspec.Struct]) -> tuple[str, ...]:
    """Return the names of a class' fields, in order, those of its bases first."""
    return kind.__struct_fields__


def usual(kind: type[msgspec.Struct]) -> Any:
    """Return what fields hold if nothing is given, as attributes: ``usual(Joggle).angle``."""
    given = {field.name: field.default for field in fields(kind)}
    return SimpleNamespace(**{name: default for name, default in given.items() if default is not msgspec.NODEFAULT})


def values_of(value: msgspec.Struct) -> dict[str, Any]:
    """Return what the fields of a value hold, by name; values inside of it as they are."""
    return asdict(value)
