"""Damaged files: text that was cut, patched, doubled, put in another order, or filled with what nobody expects."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

NUMBERS = (
    *(
        "0",
        "-0.0",
        "-1",
        "1e308",
        "-1e308",
        "1e-308",
        "nan",
        "inf",
        "-inf",
        "9" * 400,
        "0x1F",
        "1_000",
        "1e5",
        "12.",
        ".5",
    ),
    *("true", '"word"', "[]", "{}", "1979-05-27", "1,5", "1/2", "''"),
)
WORDS = (
    *(
        "\x00",
        "\x1b[31m",
        "\u202e",
        "../../etc/passwd",
        "C:\\con",
        "/dev/full",
        "~root",
        "a" * 5000,
        "\ud7ff",
        "\N{GRINNING FACE}",
    ),
    *("\u2028", "'; drop", "<script>", "%s%n", "${HOME}", "\t", '"""', "#"),
)
Change = Callable[[str, random.Random], str]


def _cut(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + text[at + chance.randrange(1, 60) :]


def _patch(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice(WORDS) + text[at:]


def _end(text: str, chance: random.Random) -> str:
    return text[: chance.randrange(len(text) + 1)]


def _number(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"-?\d+(?:\.\d+)?", text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice(NUMBERS) + text[one.end() :]


def _scale(text: str, chance: random.Random) -> str:
    factor = chance.choice([0.0, -1.0, 1e-3, 25.4, 1e3, 1e6, 1e12])
    found = list(re.finditer(r"-?\d+\.\d+", text))
    if not found:
        return text
    one = chance.choice(found)
    return f"{text[: one.start()]}{float(one.group()) * factor!r}{text[one.end() :]}"


def _lines(text: str, chance: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if len(lines) < 2:
        return text
    i, j = chance.randrange(len(lines)), chance.randrange(len(lines))
    way = chance.randrange(4)
    if way == 0:
        del lines[i]
    elif way == 1:
        lines.insert(j, lines[i])
    elif way == 2:
        lines[i], lines[j] = lines[j], lines[i]
    else:
        lines = lines[: min(i, j)] + lines[max(i, j) :]
    return "".join(lines)


def _key(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"[A-Za-z_]{3,}", text))
    if not found:
        return text
    one = chance.choice(found)
    word = one.group()
    other = chance.choice([word.upper(), word[:-1], word + "s", chance.choice(found).group(), "__class__", ""])
    return text[: one.start()] + other + text[one.end() :]


def _nest(text: str, chance: random.Random) -> str:
    deep = chance.choice([3, 50, 2000, 100_000])
    found = list(re.finditer(r"\[[^\[\]\n]*\]", text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + "[" * deep + one.group() + "]" * deep + text[one.end() :]


def _grow(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"\[[^\[\]\n]*,[^\[\]\n]*\]", text))
    if not found:
        return text
    one = chance.choice(found)
    many = ", ".join([one.group()] * chance.choice([5, 100, 3000]))
    return f"{text[: one.start()]}{many}{text[one.end() :]}"


CHANGES: tuple[Change, ...] = (
    _cut,
    _patch,
    _end,
    _number,
    _number,
    _scale,
    _scale,
    _lines,
    _lines,
    _key,
    _key,
    _nest,
    _grow,
)


def mutated(text: str, chance: random.Random) -> bytes:
    """Return a file with one to four changes; now and then with broken encoding."""
    for _ in range(chance.choice([1, 1, 1, 2, 2, 3, 4])):
        text = chance.choice(CHANGES)(text, chance)
    data = text.encode("utf-8", "surrogatepass")
    if chance.random() < 0.05:
        at = chance.randrange(len(data) + 1)
        data = data[:at] + bytes(chance.randrange(256) for _ in range(4)) + data[at:]
    return data
