"""Do the texts of a part make sense? How long they are, and that nothing in them is acted on instead of shown."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.letters import hidden
from linkviz.vehicle.part import Part, values_of
from linkviz.vehicle.take import shown

LONGEST_LINE: Final = 200
"""Longest text of one line (name, number, customer), characters."""
LONGEST_PATH: Final = 4096
"""Longest path of a file, characters."""
LONGEST_TEXT: Final = 100_000
"""Longest text of many lines, characters."""
MANY_LINES: Final = ("note", "notes")
"""Keys whose texts have more than one line."""


def line_problems(where: str, text: str, longest: int = LONGEST_LINE) -> Iterator[Problem]:
    """Yield what is wrong with a text of one line: too long, or with letters that are not shown but acted on."""
    if len(text) > longest:
        yield Problem(where, f"{len(text)} characters", f"at most {longest} characters")
    elif hidden(text):
        yield Problem(where, f"a line break or a control character in {shown(text)}", "text on one line")


def lines_problems(where: str, text: str) -> Iterator[Problem]:
    """Yield what is wrong with a text of many lines."""
    if len(text) > LONGEST_TEXT:
        yield Problem(where, f"{len(text)} characters", f"at most {LONGEST_TEXT} characters")
    elif letter := hidden(text, allowed="\n\r\t"):
        yield Problem(where, f"the control character {ascii(letter)[1:-1]}", "text that is shown")


def text_problems(where: str, part: Part) -> Iterator[Problem]:
    """Yield what is wrong with the texts of a part and of the parts in it, whatever they say."""
    for key, value in values_of(part).items():
        at = f"{where}.{key}" if where else key
        if isinstance(value, Part):
            yield from text_problems(at, value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            for index, item in enumerate(value):
                yield from text_problems(f"{at}[{index}]", item)
        elif isinstance(value, tuple) and value and isinstance(value[0], str):
            for index, item in enumerate(value):
                yield from line_problems(f"{at}[{index}]", item)
        elif isinstance(value, str) and key not in MANY_LINES:
            yield from line_problems(at, value, LONGEST_PATH if key == "path" else LONGEST_LINE)
        elif isinstance(value, str):
            yield from lines_problems(at, value)
