"""How commands lay out what they say: paragraphs, lists and tables of text, numbers of JSON."""

from __future__ import annotations

import json
import math
import textwrap
from collections.abc import Sequence
from typing import Any

import msgspec
import numpy as np

WIDE = 100
"""Longest line of text, letters."""
_DECIMALS = 6


def paragraph(text: str) -> list[str]:
    """Return a text in lines."""
    return textwrap.wrap(text, WIDE)


def bullet(text: str) -> list[str]:
    """Return a text in lines, a dash before the first."""
    return textwrap.wrap(text, WIDE, initial_indent="- ", subsequent_indent="  ")


def columns(rows: Sequence[Sequence[str]], between: int = 2) -> list[str]:
    """Return a table in lines: its first column on the left, the others on the right of their width."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    gap = " " * between
    return [
        gap.join([row[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))]).rstrip()
        for row in rows
    ]


def plain(value: float | None) -> float | None:
    """Return a number for JSON: rounded to 1e-6, no minus before a zero, None for what is not finite."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), _DECIMALS) + 0.0


def json_text(data: Any) -> str:
    """Return data as JSON in lines: values by their fields, numpy's numbers as numbers, null for what is not finite."""
    return json.dumps(msgspec.json.decode(msgspec.json.encode(data, enc_hook=_of_numpy)), indent=1)


def _of_numpy(value: Any) -> Any:
    if isinstance(value, np.generic | np.ndarray):
        return value.tolist()
    raise NotImplementedError(f"no JSON for {type(value)}")
