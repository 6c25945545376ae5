"""Values of the command line: lengths, angles, ranges, and the setup they make."""

from __future__ import annotations

import argparse
import math
import re

import numpy as np
from numpy.typing import NDArray

from linkviz.analysis.setup import Setup
from linkviz.errors import LinkvizError
from linkviz.marks import TwoMeanings
from linkviz.units import list_parts, parse_angle, parse_length, parse_number

NEGATIVE = re.compile(r"^-\.?\d.*$")
"""What starts with a minus and is a value all the same."""

MOST_STATES = 2_000_000
"""More states than this in one sweep are taken for a slip of the pen."""
_MOST_LENGTH = 1000.0


class BadValue(LinkvizError):
    """A value of the command line that cannot be taken."""


def length(option: str, text: str) -> float:
    """Return a length in mm; a bare number is mm."""
    try:
        value = parse_length(text)
    except LinkvizError as error:
        raise BadValue(f"--{option}: {error}") from None
    if not abs(value) <= _MOST_LENGTH:
        raise BadValue(f"--{option}: found {text}; expected a length within {_MOST_LENGTH:g} mm of zero")
    return value


def angle(option: str, text: str, most: float = 30.0) -> float:
    """Return an angle in rad, at most `most` deg either way; a bare number is deg."""
    try:
        value = parse_angle(text)
    except LinkvizError as error:
        raise BadValue(f"--{option}: {error}") from None
    if not abs(value) <= math.radians(most):
        raise BadValue(f"--{option}: found {text}; expected at most {most:g} deg either way")
    return value


def force(option: str, text: str) -> float:
    """Return a force in N, above 0; ``8kN`` and ``8000 N`` are taken too."""
    kilo = text.strip().lower().endswith("kn")
    value = number(option, text, "10kN or 10000", "kN" if kilo else "N") * (1000.0 if kilo else 1.0)
    if not 0 < value <= 1e6:
        raise BadValue(f"--{option}: found {text}; expected a force above 0, such as 10kN or 10000")
    return value


def number(option: str, text: str, such_as: str, unit: str = "") -> float:
    """Return a plain number, in `unit` where it has one; infinite ones and what is none are refused."""
    try:
        return parse_number(text, unit)
    except TwoMeanings as error:
        raise BadValue(f"--{option}: {error}") from None
    except LinkvizError:
        raise BadValue(f"--{option}: found {text}; expected a number, such as {such_as}") from None


def items(option: str, text: str) -> list[str]:
    """Return the items of a list such as ``40mm,50mm``, ``0,3`` or ``38,51,76``; see `linkviz.units.list_parts`."""
    try:
        return list_parts(text, glued=True)
    except LinkvizError as error:
        raise BadValue(f"--{option}: {error}") from None


def setup_of(options: argparse.Namespace, base: Setup = Setup()) -> Setup:  # noqa: B008
    """Return the setup the options describe; what they leave open is as in `base`."""
    given = {
        name: length(name, text)
        for name in ("lift", "drop", "shift", "longer", "axle-raise", "valve-rise")
        if (text := getattr(options, name.replace("-", "_"))) is not None
    }
    if given.get("lift", 0.0) < 0:
        raise BadValue(f"--lift: found {options.lift}; expected 0 or more (the body above its design height)")
    names = {"longer": "bar_longer", "axle-raise": "axle_raise", "valve-rise": "valve_rise"}
    return base.with_(**{names.get(name, name): value for name, value in given.items()})


def travels(text: str) -> NDArray[np.float64]:
    """Return the travels of ``A:B:STEP``, ends included, or of a list ``A,B,C``, mm."""
    parts = text.split(":")
    if len(parts) == 1:
        return np.array([length("travel", part) for part in items("travel", text)])
    if len(parts) not in (2, 3):
        raise BadValue(f"--travel: found {text}; expected A:B:STEP, such as -100:100:5")
    low, high = length("travel", parts[0]), length("travel", parts[1])
    step = length("travel", parts[2]) if len(parts) == 3 else 5.0
    if step <= 0 or high < low:
        raise BadValue(f"--travel: found {text}; expected A:B:STEP with A below B and a step above 0")
    count = math.floor((high - low) / step + 1e-9) + 1
    if count > MOST_STATES:
        raise BadValue(f"--travel: {text} makes {count} states; at most {MOST_STATES} are taken")
    found: NDArray[np.float64] = low + step * np.arange(count, dtype=float)
    return found


def rolls(text: str) -> NDArray[np.float64]:
    """Return the rolls of a list ``0,3``, rad."""
    return np.array([angle("roll", part) for part in items("roll", text)])
